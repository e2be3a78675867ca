/* SPDX-License-Identifier: Apache-2.0 */
/* Our least squares against GSL's, which is used in tests and benchmarks only. */
#include <math.h>
#include <stdlib.h>

#include "check.h"
#include "numeric/numeric.h"

#ifdef HAVE_GSL
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit.h>
#endif

enum { ROWS_MAX = 40, COLUMNS_MAX = 20, ROUNDS = 300 };

#ifdef HAVE_GSL

static uint64_t chance = 88172645463325252u;

static double next_value(void) {
    chance ^= chance << 13;
    chance ^= chance >> 7;
    chance ^= chance << 17;
    return (double)(chance >> 11) / 4503599627370496.0 - 1.0;
}

struct case_data {
    double design[ROWS_MAX * COLUMNS_MAX];
    double observed[ROWS_MAX];
    double solution[COLUMNS_MAX];
    double residuals[ROWS_MAX];
    double redundancy[ROWS_MAX];
    double cofactor[COLUMNS_MAX * COLUMNS_MAX];
    double residual_cofactor[ROWS_MAX * ROWS_MAX];
    double work[2 * ROWS_MAX * COLUMNS_MAX + 3 * COLUMNS_MAX + ROWS_MAX];
};

static struct numeric_fit fit_of(struct case_data *data, size_t rows, size_t columns) {
    assert_true(numeric_fit_work(rows, columns) <= sizeof data->work / sizeof data->work[0]);
    return (struct numeric_fit){.rows = rows,
                                .columns = columns,
                                .design = data->design,
                                .observed = data->observed,
                                .work = data->work,
                                .solution = data->solution,
                                .residuals = data->residuals,
                                .redundancy = data->redundancy,
                                .solution_cofactor = data->cofactor,
                                .residual_cofactor = data->residual_cofactor};
}

static void fill(struct case_data *data, size_t rows, size_t columns) {
    for (size_t i = 0; i < rows * columns; i++) {
        data->design[i] = next_value() * (i % columns == 0 ? 300.0 : 1.0);
    }
    for (size_t i = 0; i < rows; i++) {
        data->observed[i] = 10.0 * next_value();
    }
}

/* H = A (A'A)^-1 A' by GSL's covariance, entry by entry. */
static double gsl_hat(const struct case_data *data, const gsl_matrix *cofactor, size_t i,
                      size_t j) {
    size_t columns = cofactor->size1;
    double sum = 0.0;
    for (size_t k = 0; k < columns; k++) {
        for (size_t l = 0; l < columns; l++) {
            sum += data->design[i * columns + k] * gsl_matrix_get(cofactor, k, l) *
                   data->design[j * columns + l];
        }
    }
    return sum;
}

static void check_against_gsl(struct case_data *data, const struct numeric_fit *fit) {
    size_t rows = fit->rows;
    size_t columns = fit->columns;
    gsl_matrix_view design = gsl_matrix_view_array(data->design, rows, columns);
    gsl_vector_view observed = gsl_vector_view_array(data->observed, rows);
    gsl_vector *solution = gsl_vector_alloc(columns);
    gsl_matrix *covariance = gsl_matrix_alloc(columns, columns);
    gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(rows, columns);
    double sum = 0.0;
    assert_int_equal(
        gsl_multifit_linear(&design.matrix, &observed.vector, solution, covariance, &sum, work), 0);
    double own = 0.0;
    for (size_t i = 0; i < rows; i++) {
        own += fit->residuals[i] * fit->residuals[i];
    }
    check_near(own, sum, 1e-9 * (1.0 + sum));
    for (size_t j = 0; j < columns; j++) {
        check_near(fit->solution[j], gsl_vector_get(solution, j), 1e-8);
    }
    gsl_matrix_scale(covariance, (double)(rows - columns) / sum); /* GSL scales by s0 squared */
    for (size_t k = 0; k < columns * columns; k++) {
        double theirs = gsl_matrix_get(covariance, k / columns, k % columns);
        check_near(fit->solution_cofactor[k], theirs, 1e-8 * (1.0 + fabs(theirs)));
    }
    double total = 0.0;
    for (size_t i = 0; i < rows; i++) {
        total += fit->redundancy[i];
        check_near(fit->redundancy[i], 1.0 - gsl_hat(data, covariance, i, i), 1e-8);
        size_t j = (i * 7 + 3) % rows;
        double hat = gsl_hat(data, covariance, i, j);
        check_near(fit->residual_cofactor[i * rows + j], (i == j ? 1.0 : 0.0) - hat, 1e-8);
    }
    check_near(total, (double)(rows - columns), 1e-9);
    gsl_multifit_linear_free(work);
    gsl_matrix_free(covariance);
    gsl_vector_free(solution);
}

static void least_squares_agree_with_gsl(void **state) {
    (void)state;
    static struct case_data data;
    for (int round = 0; round < ROUNDS; round++) {
        size_t columns = 1 + (size_t)round % COLUMNS_MAX;
        size_t rows = columns + 1 + (size_t)(round / 3) % (ROWS_MAX - COLUMNS_MAX);
        fill(&data, rows, columns);
        struct numeric_fit fit = fit_of(&data, rows, columns);
        numeric_fit_least_squares(&fit);
        assert_int_equal(fit.rank, columns);
        check_against_gsl(&data, &fit);
    }
}

/* A column that is a sum of others changes no residual: GSL is given the columns without it. */
static void loose_unknowns_leave_the_residuals_of_gsl(void **state) {
    (void)state;
    static struct case_data data;
    for (int round = 0; round < ROUNDS; round++) {
        size_t columns = 3 + (size_t)round % 10;
        size_t rows = columns + 4;
        fill(&data, rows, columns);
        for (size_t i = 0; i < rows; i++) {
            double *row = &data.design[i * columns];
            row[columns - 1] = row[0] - 2.0 * row[1];
        }
        struct numeric_fit fit = fit_of(&data, rows, columns);
        numeric_fit_least_squares(&fit);
        assert_int_equal(fit.rank, columns - 1);
        gsl_matrix_view design = gsl_matrix_view_array(data.design, rows, columns);
        gsl_vector_view observed = gsl_vector_view_array(data.observed, rows);
        gsl_matrix_view fixed = gsl_matrix_submatrix(&design.matrix, 0, 0, rows, columns - 1);
        gsl_vector *solution = gsl_vector_alloc(columns - 1);
        gsl_matrix *covariance = gsl_matrix_alloc(columns - 1, columns - 1);
        gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(rows, columns - 1);
        double sum = 0.0;
        assert_int_equal(
            gsl_multifit_linear(&fixed.matrix, &observed.vector, solution, covariance, &sum, work),
            0);
        double own = 0.0;
        double total = 0.0;
        for (size_t i = 0; i < rows; i++) {
            own += fit.residuals[i] * fit.residuals[i];
            total += fit.redundancy[i];
        }
        check_near(own, sum, 1e-7 * (1.0 + sum));
        check_near(total, (double)(rows - columns + 1), 1e-9);
        gsl_multifit_linear_free(work);
        gsl_matrix_free(covariance);
        gsl_vector_free(solution);
    }
}

#else

/* Where the environment variable CI is set nothing is skipped unseen. */
static void least_squares_agree_with_gsl(void **state) {
    (void)state;
    print_message("GSL is not installed (Debian: libgsl-dev)\n");
    assert_null(getenv("CI"));
    skip();
}

static void loose_unknowns_leave_the_residuals_of_gsl(void **state) {
    least_squares_agree_with_gsl(state);
}

#endif

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(least_squares_agree_with_gsl),
        cmocka_unit_test(loose_unknowns_leave_the_residuals_of_gsl),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
