/* SPDX-License-Identifier: Apache-2.0 */
/*
 * numeric: roots, rounding to a quantum, compensated sums. Pure functions, no memory.
 * (Small dense QR and integration join when measure needs them.)
 */
#ifndef EAVESMITH_NUMERIC_H
#define EAVESMITH_NUMERIC_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef double (*numeric_function)(double x, const void *context);

/*
 * Root of f in [low, high] where f changes sign; Brent's method, |error| <= tolerance + 4 eps |x|.
 * Returns false when the ends have the same sign; *root is then the end with the smaller |f|.
 */
/* many because a root needs its bracket and its context */
bool numeric_find_root(numeric_function f, const void *context, double low, double high,
                       double tolerance, double *root);

/* value / quantum to the nearest integer, halves away from zero; saturates at +-2^62. */
int64_t numeric_round_quantum(double value, double quantum);

/* Integer division to the nearest, halves up (towards +infinity); divisor > 0. */
int64_t numeric_divide_half_up(int64_t dividend, int64_t divisor);

/* a * b / c in 128 bits, rounded halves up; c > 0. The result must fit. */
int64_t numeric_multiply_divide(int64_t a, int64_t b, int64_t c);

/* Neumaier's compensated sum. */
struct numeric_sum {
    double total;
    double lost;
};
void numeric_add(struct numeric_sum *sum, double value);
double numeric_total(const struct numeric_sum *sum);

/* Sorts rising, in place; the same order on every machine. Shell's method: few values, no
 * recursion. */
void numeric_sort(double *values, size_t count);

#endif
