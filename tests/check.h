/* SPDX-License-Identifier: Apache-2.0 */
/* What every test program includes: cmocka with the headers it wants before it. */
#ifndef EAVESMITH_TESTS_CHECK_H
#define EAVESMITH_TESTS_CHECK_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* |a - b| <= tolerance, with the values in the failure. */
#define check_near(a, b, tolerance)                                                                \
    assert_float_equal_wide((a), (b), (tolerance), __FILE__, __LINE__)

void assert_float_equal_wide(double a, double b, double tolerance, const char *file, int line);

/*
 * Goes on when the file or folder is there. Otherwise the test is skipped, saying "no open data";
 * where the environment variable CI is set it fails, so that nothing is skipped unseen.
 */
void check_data_or_skip(const char *path);

/* The whole file with a NUL behind it, to be given to free(); fails the test when it is not there.
 */
char *check_read_file(const char *path, size_t *length);

#endif
