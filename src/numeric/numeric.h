/* SPDX-License-Identifier: Apache-2.0 */
/*
 * numeric: roots, rounding to a quantum, compensated sums, least squares by small dense QR. Pure
 * functions; what they need to work in is handed in.
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

/* To so many figures, halves up: 8063.5 to four is 8064. 0, what is below it and infinity stay. */
double numeric_to_figures(double value, int figures);

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

/* ---- least squares ------------------------------------------------------------------------- */

/*
 * Observations that are linear in the unknowns, each row divided by its standard deviation so that
 * all weigh the same. Fewer rows than columns, or columns that depend on each other, are no fault:
 * rank says how many unknowns the rows fix. The residuals, redundancy numbers and the cofactor of
 * the residuals hold then too; of the solutions the one is given whose loose unknowns are 0.
 */
struct numeric_fit {
    size_t rows;
    size_t columns;
    const double *design;      /* [rows * columns], row after row */
    const double *observed;    /* [rows] */
    double *work;              /* [numeric_fit_work(rows, columns)] */
    double *solution;          /* [columns] out */
    double *residuals;         /* [rows] out: fitted less observed */
    double *redundancy;        /* [rows] out: share of an error that shows in its own residual */
    double *solution_cofactor; /* [columns * columns] out, 0 for loose unknowns; may be NULL */
    double *residual_cofactor; /* [rows * rows] out: I - A (A'A)^-1 A'; may be NULL */
    size_t rank;               /* out; the redundancy numbers sum to rows - rank */
};

size_t numeric_fit_work(size_t rows, size_t columns);

/*
 * Source: Businger and Golub 1965, Householder's reflections with the columns exchanged (MEMORY). A
 * column counts as dependent when less than 1e-8 of its length is left.
 */
void numeric_fit_least_squares(struct numeric_fit *fit);

#endif
