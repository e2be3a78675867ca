/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"
#include "material/material.h"
#include "thermal/thermal.h"

static const double INCH_M = 0.0254;
static const double FOOT_M = 0.3048;
static const double PSI_PA = 6894.757293168;

static double celsius(double fahrenheit) {
    return (fahrenheit - 32) / 1.8;
}

static double copper_expansion(void) {
    const struct material_metal *copper = material_find_metal(base_text_of("copper"));
    assert_non_null(copper);
    return copper->expansion_1k;
}

static void movement_is_that_of_the_published_examples(void **state) {
    (void)state;
    double alpha = copper_expansion();
    /* copper r25, r29, r30, DERIVED */
    check_near(thermal_movement(alpha, 10 * FOOT_M, 100 / 1.8) / INCH_M, 0.1176, 0.0005);
    check_near(thermal_movement(alpha, 48 * FOOT_M, 150 / 1.8) / INCH_M, 0.8467, 0.001);
    check_near(thermal_movement(alpha, 50 * FOOT_M, 170 / 1.8) / INCH_M, 0.9996, 0.001);
    /* copper r26, FOUND (9.4e-6); r27, FOUND (9.5e-6); r34, DERIVED */
    check_near(thermal_movement(9.4e-6 * 1.8, 10 * FOOT_M, 100 / 1.8) / INCH_M, 0.113, 0.0005);
    check_near(thermal_movement(9.5e-6 * 1.8, INCH_M, 60 / 1.8) / INCH_M, 0.00057, 1e-9);
    check_near(thermal_movement(17.6e-6, 10, 60) * 1000, 10.56, 0.01);
}

static void movement_adds_up_along_the_length(void **state) {
    (void)state;
    double alpha = copper_expansion();
    double whole = thermal_movement(alpha, 12.5, 40);
    check_near(thermal_movement(alpha, 4.5, 40) + thermal_movement(alpha, 8, 40), whole, 1e-15);
    check_near(thermal_movement(alpha, 12.5, 15) + thermal_movement(alpha, 12.5, 25), whole, 1e-15);
    check_near(thermal_movement(alpha, 12.5, -40), -whole, 0);
}

static void gap_is_set_for_the_day_and_opens_in_the_cold(void **state) {
    (void)state;
    double alpha = copper_expansion();
    double length_m = 40 * FOOT_M;
    double clearance_m = 0.125 * INCH_M;
    /* copper r31, r32, DERIVED */
    check_near(thermal_set_gap(alpha, length_m, celsius(150), celsius(60), clearance_m) / INCH_M,
               0.5484, 0.001);
    check_near(thermal_set_gap(alpha, length_m, celsius(150), celsius(-20), clearance_m) / INCH_M,
               0.9247, 0.001);
}

static void gap_never_falls_under_the_clearance(void **state) {
    (void)state;
    check_near(thermal_set_gap(copper_expansion(), 12, 60, 60, 0.003), 0.003, 0);
    check_near(thermal_set_gap(copper_expansion(), 12, 60, 80, 0.003), 0.003, 0);
    check_near(thermal_set_gap(copper_expansion(), 0, 60, 10, 0.003), 0.003, 0);
}

static void restrained_copper_yields_at_120_degrees(void **state) {
    (void)state;
    const struct material_metal *copper = material_find_metal(base_text_of("copper"));
    /* copper r28, FOUND: 18.3e6 x 9.5e-6 x 60 */
    check_near(thermal_restrained_stress(18.3e6 * PSI_PA, 9.5e-6 * 1.8, 60 / 1.8) / PSI_PA, 10431,
               1);
    /* copper r33, DERIVED */
    check_near(copper->yield_pa /
                   thermal_restrained_stress(copper->modulus_pa, copper->expansion_1k, 1 / 1.8),
               120.0, 0.1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(movement_is_that_of_the_published_examples),
        cmocka_unit_test(movement_adds_up_along_the_length),
        cmocka_unit_test(gap_is_set_for_the_day_and_opens_in_the_cold),
        cmocka_unit_test(gap_never_falls_under_the_clearance),
        cmocka_unit_test(restrained_copper_yields_at_120_degrees),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
