/* SPDX-License-Identifier: Apache-2.0 */
/* Least squares by Householder's reflections, columns exchanged so that the rank shows. */
#include "numeric/numeric.h"

#include <assert.h>
#include <math.h>

#define DEPENDENT_SHARE 1e-8

/*
 * a is stored column after column, because all work goes down columns. Below its diagonal a column
 * holds its reflection's vector; the vector's own head and the diagonal of R stand apart.
 */
struct factors {
    size_t rows;
    size_t columns;
    size_t rank;
    double *a;        /* [columns][rows] */
    double *diagonal; /* [columns] of R */
    double *length;   /* [columns] of each column before anything was done */
    double *order;    /* [columns] which column stands here; whole numbers */
    double *side;     /* [rows] */
    double *q;        /* [rank][rows] */
};

size_t numeric_fit_work(size_t rows, size_t columns) {
    return 2 * rows * columns + 3 * columns + rows;
}

static struct factors lay_out(const struct numeric_fit *fit) {
    struct factors f = {.rows = fit->rows, .columns = fit->columns, .a = fit->work};
    f.q = f.a + f.rows * f.columns;
    f.diagonal = f.q + f.rows * f.columns;
    f.length = f.diagonal + f.columns;
    f.order = f.length + f.columns;
    f.side = f.order + f.columns;
    return f;
}

static double *column_of(const struct factors *f, size_t column) {
    return f->a + column * f->rows;
}

/* Scaled by the greatest entry, so that no square is lost or overflows. */
static double find_length(const double *values, size_t from, size_t to) {
    double greatest = 0.0;
    for (size_t i = from; i < to; i++) {
        greatest = fmax(greatest, fabs(values[i]));
    }
    if (greatest == 0.0) {
        return 0.0;
    }
    double sum = 0.0;
    for (size_t i = from; i < to; i++) {
        double share = values[i] / greatest;
        sum += share * share;
    }
    return greatest * sqrt(sum);
}

static double find_dot(const double *a, const double *b, size_t from, size_t to) {
    double sum = 0.0;
    for (size_t i = from; i < to; i++) {
        sum += a[i] * b[i];
    }
    return sum;
}

/* values less twice their part along the vector; the vector is of length 1. */
static void reflect(const double *vector, double *values, size_t from, size_t to) {
    double twice = 2.0 * find_dot(vector, values, from, to);
    for (size_t i = from; i < to; i++) {
        values[i] -= twice * vector[i];
    }
}

static void exchange(double *a, double *b) {
    double kept = *a;
    *a = *b;
    *b = kept;
}

/* Brings the column with the greatest share of its length left to the front. */
static bool bring_pivot(struct factors *f, size_t step) {
    size_t best = step;
    double best_share = -1.0;
    for (size_t j = step; j < f->columns; j++) {
        double left = find_length(column_of(f, j), step, f->rows);
        double share = f->length[j] > 0.0 ? left / f->length[j] : 0.0;
        if (share > best_share) {
            best = j;
            best_share = share;
        }
    }
    if (!(best_share > DEPENDENT_SHARE)) {
        return false;
    }
    if (best != step) {
        for (size_t i = 0; i < f->rows; i++) {
            exchange(&column_of(f, best)[i], &column_of(f, step)[i]);
        }
        exchange(&f->length[best], &f->length[step]);
        exchange(&f->order[best], &f->order[step]);
    }
    return true;
}

static void factorise(struct factors *f) {
    size_t most = f->rows < f->columns ? f->rows : f->columns;
    for (f->rank = 0; f->rank < most; f->rank++) {
        size_t step = f->rank;
        if (!bring_pivot(f, step)) {
            return;
        }
        double *vector = column_of(f, step);
        double length = find_length(vector, step, f->rows);
        /* away from the head, so that nothing cancels */
        f->diagonal[step] = vector[step] > 0.0 ? -length : length;
        vector[step] -= f->diagonal[step];
        double own = find_length(vector, step, f->rows);
        for (size_t i = step; i < f->rows; i++) {
            vector[i] /= own;
        }
        for (size_t j = step + 1; j < f->columns; j++) {
            reflect(vector, column_of(f, j), step, f->rows);
        }
    }
}

static void turn_forward(const struct factors *f, double *values) {
    for (size_t step = 0; step < f->rank; step++) {
        reflect(column_of(f, step), values, step, f->rows);
    }
}

static void turn_back(const struct factors *f, double *values) {
    for (size_t step = f->rank; step-- > 0;) {
        reflect(column_of(f, step), values, step, f->rows);
    }
}

/* R lies above the diagonal of a: entry (row, column), row <= column. */
static double find_r(const struct factors *f, size_t row, size_t column) {
    return row == column ? f->diagonal[row] : column_of(f, column)[row];
}

/* side[0, rank) becomes R^-1 side. */
static void solve_back(const struct factors *f, double *side) {
    for (size_t row = f->rank; row-- > 0;) {
        double sum = side[row];
        for (size_t column = row + 1; column < f->rank; column++) {
            sum -= find_r(f, row, column) * side[column];
        }
        side[row] = sum / f->diagonal[row];
    }
}

static size_t place_of(const struct factors *f, size_t column) {
    return (size_t)f->order[column];
}

/* Column k of R^-1 at a time: the cofactor is the sum of its outer products. */
static void find_solution_cofactor(const struct factors *f, double *cofactor) {
    for (size_t i = 0; i < f->columns * f->columns; i++) {
        cofactor[i] = 0.0;
    }
    for (size_t k = 0; k < f->rank; k++) {
        for (size_t i = 0; i < f->rank; i++) {
            f->side[i] = i == k ? 1.0 : 0.0;
        }
        solve_back(f, f->side);
        for (size_t i = 0; i <= k; i++) {
            for (size_t j = 0; j <= k; j++) {
                cofactor[place_of(f, i) * f->columns + place_of(f, j)] += f->side[i] * f->side[j];
            }
        }
    }
}

static void find_q(const struct factors *f) {
    for (size_t k = 0; k < f->rank; k++) {
        double *column = f->q + k * f->rows;
        for (size_t i = 0; i < f->rows; i++) {
            column[i] = i == k ? 1.0 : 0.0;
        }
        turn_back(f, column);
    }
}

static double find_hat(const struct factors *f, size_t i, size_t j) {
    double sum = 0.0;
    for (size_t k = 0; k < f->rank; k++) {
        sum += f->q[k * f->rows + i] * f->q[k * f->rows + j];
    }
    return sum;
}

static void find_redundancy(const struct factors *f, struct numeric_fit *fit) {
    find_q(f);
    for (size_t i = 0; i < f->rows; i++) {
        fit->redundancy[i] = fmax(1.0 - find_hat(f, i, i), 0.0);
    }
    if (fit->residual_cofactor == NULL) {
        return;
    }
    for (size_t i = 0; i < f->rows; i++) {
        for (size_t j = 0; j < f->rows; j++) {
            fit->residual_cofactor[i * f->rows + j] = (i == j ? 1.0 : 0.0) - find_hat(f, i, j);
        }
    }
}

static void find_solution(const struct factors *f, struct numeric_fit *fit) {
    for (size_t i = 0; i < f->rows; i++) {
        f->side[i] = fit->observed[i];
    }
    turn_forward(f, f->side);
    for (size_t i = 0; i < f->rows; i++) {
        fit->residuals[i] = i < f->rank ? 0.0 : -f->side[i];
    }
    turn_back(f, fit->residuals);
    solve_back(f, f->side);
    for (size_t j = 0; j < f->columns; j++) {
        fit->solution[place_of(f, j)] = j < f->rank ? f->side[j] : 0.0;
    }
}

void numeric_fit_least_squares(struct numeric_fit *fit) {
    assert(fit->rows > 0 && fit->columns > 0 && fit->work != NULL);
    struct factors f = lay_out(fit);
    for (size_t j = 0; j < f.columns; j++) {
        double *column = column_of(&f, j);
        for (size_t i = 0; i < f.rows; i++) {
            column[i] = fit->design[i * f.columns + j];
        }
        f.length[j] = find_length(column, 0, f.rows);
        f.order[j] = (double)j;
    }
    factorise(&f);
    fit->rank = f.rank;
    find_solution(&f, fit);
    find_redundancy(&f, fit);
    if (fit->solution_cofactor != NULL) {
        find_solution_cofactor(&f, fit->solution_cofactor);
    }
}
