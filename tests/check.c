/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

void assert_float_equal_wide(double a, double b, double tolerance, const char *file, int line) {
    if (!(fabs(a - b) <= tolerance)) {
        print_error("%.12g is not within %.3g of %.12g\n", a, tolerance, b);
        _fail(file, line);
    }
}

void check_data_or_skip(const char *path) {
    FILE *file = fopen(path, "rb");
    if (file != NULL) {
        fclose(file);
        return;
    }
    if (getenv("CI") != NULL) {
        fail_msg("no open data at %s, and CI is set", path);
    }
    print_message("skipped: no open data at %s\n", path);
    skip();
}

char *check_read_file(const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    char *bytes = NULL;
    size_t capacity = 0;
    *length = 0;
    if (file == NULL) {
        fail_msg("cannot open %s", path);
        return NULL;
    }
    do {
        capacity = capacity == 0 ? 65536 : capacity * 2;
        char *grown = realloc(bytes, capacity + 1);
        assert_non_null(grown);
        bytes = grown;
        *length += fread(bytes + *length, 1, capacity - *length, file);
    } while (*length == capacity);
    fclose(file);
    bytes[*length] = '\0';
    return bytes;
}
