/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"
#include "numeric/numeric.h"

#include <math.h>

/* ---- roots --------------------------------------------------------------------------------- */

struct cubic {
    double constant;
    int *calls;
};

static double cubic_less(double x, const void *context) {
    const struct cubic *cubic = context;
    ++*cubic->calls;
    return x * x * x - cubic->constant;
}

static double cosine_less_x(double x, const void *context) {
    (void)context;
    return cos(x) - x;
}

static double step_at_third(double x, const void *context) {
    (void)context;
    return x < 1.0 / 3.0 ? -1.0 : 1.0;
}

static double ninth_power(double x, const void *context) {
    (void)context;
    return pow(x, 9);
}

static void root_of_a_cubic_is_found_in_few_calls(void **state) {
    (void)state;
    int calls = 0;
    struct cubic cubic = {2.0, &calls};
    double root = 0;
    assert_true(numeric_find_root(cubic_less, &cubic, 0, 100, 1e-13, &root));
    check_near(root, cbrt(2.0), 1e-13); /* DERIVED: the cube root itself */
    assert_in_range(calls, 3, 60);
}

static void root_does_not_mind_which_end_is_low_in_value(void **state) {
    (void)state;
    double root = 0;
    assert_true(numeric_find_root(cosine_less_x, NULL, 0, 1, 1e-14, &root));
    double fixed = 0; /* second way: cos repeated until it stands still */
    for (int i = 0; i < 200; i++) {
        fixed = cos(fixed);
    }
    check_near(root, fixed, 2e-14);
}

static void root_of_a_step_is_the_step(void **state) {
    (void)state;
    double root = 0;
    assert_true(numeric_find_root(step_at_third, NULL, -5, 7, 1e-12, &root));
    check_near(root, 1.0 / 3.0, 1e-12);
}

static void root_that_is_flat_is_still_enclosed(void **state) {
    (void)state;
    double root = 1;
    assert_true(numeric_find_root(ninth_power, NULL, -1, 4, 1e-9, &root));
    check_near(root, 0, 1e-9);
}

static void root_at_an_end_is_taken(void **state) {
    (void)state;
    int calls = 0;
    struct cubic cubic = {8.0, &calls};
    double root = 0;
    assert_true(numeric_find_root(cubic_less, &cubic, 2, 5, 1e-9, &root));
    assert_true(root == 2.0);
    assert_true(numeric_find_root(cubic_less, &cubic, 0, 2, 1e-9, &root));
    assert_true(root == 2.0);
}

static void ends_of_one_sign_give_the_nearer_end(void **state) {
    (void)state;
    int calls = 0;
    struct cubic cubic = {8.0, &calls};
    double root = 0;
    assert_false(numeric_find_root(cubic_less, &cubic, 3, 5, 1e-9, &root));
    assert_true(root == 3.0);
    assert_false(numeric_find_root(cubic_less, &cubic, -5, 1, 1e-9, &root));
    assert_true(root == 1.0);
}

/* Sweep: cube roots over nine decades, each within the promised error. */
static void promised_error_holds_over_a_sweep(void **state) {
    (void)state;
    for (int i = 1; i < 400; i++) {
        int calls = 0;
        struct cubic cubic = {pow(10.0, i / 40.0 - 5.0), &calls};
        double root = 0;
        assert_true(numeric_find_root(cubic_less, &cubic, -1, 1e4, 1e-10, &root));
        double truth = cbrt(cubic.constant);
        check_near(root, truth, 1e-10 + 6 * 2.3e-16 * truth);
    }
}

/* ---- rounding ------------------------------------------------------------------------------ */

static void halves_of_a_quantum_go_away_from_zero(void **state) {
    (void)state;
    assert_int_equal(numeric_round_quantum(2.5, 1), 3);
    assert_int_equal(numeric_round_quantum(-2.5, 1), -3);
    assert_int_equal(numeric_round_quantum(0.49999999999999994, 1), 0);
    assert_int_equal(numeric_round_quantum(1.25, 0.5), 3);
    assert_int_equal(numeric_round_quantum(8.6487, 1e-6), 8648700);
    assert_int_equal(numeric_round_quantum(-0.0000004, 1e-6), 0);
    assert_int_equal(numeric_round_quantum(100, 3), 33);
}

static void rounding_saturates_instead_of_wrapping(void **state) {
    (void)state;
    assert_true(numeric_round_quantum(1e300, 1e-6) == INT64_C(1) << 62);
    assert_true(numeric_round_quantum(-HUGE_VAL, 1) == -(INT64_C(1) << 62));
}

static void whole_division_rounds_halves_up(void **state) {
    (void)state;
    assert_int_equal(numeric_divide_half_up(5, 2), 3);
    assert_int_equal(numeric_divide_half_up(-5, 2), -2);
    assert_int_equal(numeric_divide_half_up(-7, 2), -3);
    assert_int_equal(numeric_divide_half_up(7, 3), 2);
    assert_int_equal(numeric_divide_half_up(8, 3), 3);
    assert_int_equal(numeric_divide_half_up(-8, 3), -3);
    assert_true(numeric_divide_half_up(INT64_MIN, 1) == INT64_MIN);
    assert_true(numeric_divide_half_up(INT64_MAX, INT64_MAX) == 1);
    assert_true(numeric_divide_half_up(INT64_MIN, INT64_MAX) == -1);
}

static void multiply_divide_agrees_with_short_arithmetic(void **state) {
    (void)state;
    for (int64_t a = -40; a <= 40; a++) {
        for (int64_t b = -40; b <= 40; b++) {
            for (int64_t c = 1; c <= 13; c++) {
                assert_int_equal(numeric_multiply_divide(a, b, c),
                                 numeric_divide_half_up(a * b, c));
            }
        }
    }
}

static void multiply_divide_holds_128_bits(void **state) {
    (void)state;
    const int64_t big = INT64_MAX;
    assert_true(numeric_multiply_divide(big, big, big) == big);
    assert_true(numeric_multiply_divide(-big, big, big) == -big);
    assert_true(numeric_multiply_divide(big, big - 1, big) == big - 1);
    /* DERIVED: 10^18 * 97536 / 320000 = 304,800,000,000,000,000 */
    assert_true(numeric_multiply_divide(INT64_C(1000000000000000000), 97536, 320000) ==
                INT64_C(304800000000000000));
    /* DERIVED: 2^62 * 3 / 4 = 3 * 2^60; 2^62 * 12 / 8 = 3 * 2^61 through a product of 66 bits */
    assert_true(numeric_multiply_divide(INT64_C(1) << 62, 3, 4) == INT64_C(3) << 60);
    assert_true(numeric_multiply_divide(INT64_C(1) << 62, 12, 8) == (INT64_C(1) << 61) * 3);
}

/* Second way: a * b / c with c = a must give b, for numbers all over the range. */
static void multiply_divide_undoes_itself_over_a_sweep(void **state) {
    (void)state;
    uint64_t seed = 88172645463325252u;
    for (int i = 0; i < 20000; i++) {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        int64_t a = (int64_t)(seed >> (1 + i % 50)) + 1;
        int64_t b = (int64_t)(seed * 6364136223846793005u >> (1 + i % 37));
        assert_true(numeric_multiply_divide(a, b, a) == b);
        assert_true(numeric_multiply_divide(-b, a, a) == -b);
    }
}

/* ---- sums ---------------------------------------------------------------------------------- */

static void small_terms_are_not_lost_beside_large_ones(void **state) {
    (void)state;
    struct numeric_sum sum = {0};
    numeric_add(&sum, 1.0);
    numeric_add(&sum, 1e100);
    numeric_add(&sum, 1.0);
    numeric_add(&sum, -1e100);
    assert_true(numeric_total(&sum) == 2.0); /* DERIVED; a plain sum gives 0 */
}

static void tenths_add_up(void **state) {
    (void)state;
    struct numeric_sum sum = {0};
    for (int i = 0; i < 1000000; i++) {
        numeric_add(&sum, 0.1);
    }
    check_near(numeric_total(&sum), 100000.0, 2e-11); /* one last bit; a plain sum is 1.3e-6 off */
}

static void sorting_keeps_every_value_and_rises(void **state) {
    (void)state;
    double values[200];
    double sum = 0.0;
    for (int i = 0; i < 200; i++) {
        values[i] = (double)((i * 7919) % 211) - 100.0;
        sum += values[i];
    }
    numeric_sort(values, 200);
    for (int i = 1; i < 200; i++) {
        assert_true(values[i - 1] <= values[i]);
        sum -= values[i];
    }
    check_near(sum, values[0], 1e-9);
    numeric_sort(values, 0);
}

static void figures_are_kept_whatever_the_size(void **state) {
    (void)state;
    check_near(numeric_to_figures(8063.5, 4), 8064, 0);
    check_near(numeric_to_figures(0.0012345, 3), 0.00123, 1e-18);
    check_near(numeric_to_figures(9.996, 3), 10, 1e-12);
    assert_true(numeric_to_figures(0, 3) == 0 && isinf(numeric_to_figures((double)INFINITY, 3)));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_kept_whatever_the_size),
        cmocka_unit_test(sorting_keeps_every_value_and_rises),
        cmocka_unit_test(root_of_a_cubic_is_found_in_few_calls),
        cmocka_unit_test(root_does_not_mind_which_end_is_low_in_value),
        cmocka_unit_test(root_of_a_step_is_the_step),
        cmocka_unit_test(root_that_is_flat_is_still_enclosed),
        cmocka_unit_test(root_at_an_end_is_taken),
        cmocka_unit_test(ends_of_one_sign_give_the_nearer_end),
        cmocka_unit_test(promised_error_holds_over_a_sweep),
        cmocka_unit_test(halves_of_a_quantum_go_away_from_zero),
        cmocka_unit_test(rounding_saturates_instead_of_wrapping),
        cmocka_unit_test(whole_division_rounds_halves_up),
        cmocka_unit_test(multiply_divide_agrees_with_short_arithmetic),
        cmocka_unit_test(multiply_divide_holds_128_bits),
        cmocka_unit_test(multiply_divide_undoes_itself_over_a_sweep),
        cmocka_unit_test(small_terms_are_not_lost_beside_large_ones),
        cmocka_unit_test(tenths_add_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
