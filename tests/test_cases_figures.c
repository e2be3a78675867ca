/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Situations of the trade that one formula answers: no house is needed. Figures and marks are of
 * the case's answer; the rest DERIVED.
 */
#include <math.h>

#include "check.h"
#include "hydraulics/hydraulics.h"
#include "section/section.h"
#include "thermal/thermal.h"

#define GPM          (3.785411784e-3 / 60)
#define FOOT_M       0.3048
#define INCH_M       0.0254
#define IN2_M2       (INCH_M * INCH_M)
#define FAHRENHEIT_K (5.0 / 9)
#define COPPER_1K    (9.8e-6 * 9 / 5) /* 9.8e-6 per F (FOUND) */

static double movement_in(double feet, double fahrenheit) {
    return thermal_movement(COPPER_1K, feet * FOOT_M, fahrenheit * FAHRENHEIT_K) / INCH_M;
}

/* C03: brim full a 5 in half-round holds 4.25 lb of water a foot, a 6 in 6.13. */
static void c03_what_the_water_in_a_full_gutter_weighs(void **state) {
    (void)state;
    static const double WANTED[][2] = {{5, 4.25}, {6, 6.13}};
    for (size_t i = 0; i < 2; i++) {
        struct section_gutter gutter = {.inside_diameter_m = WANTED[i][0] * INCH_M};
        double area_ft2 =
            section_find_wet(&gutter, gutter.inside_diameter_m / 2).area_m2 / (FOOT_M * FOOT_M);
        check_near(area_ft2 * 62.4, WANTED[i][1], 0.01);
    }
}

/* C05: by 150 ft2 of roof a square inch at 8 in/h a 3 in leader serves 1,060 ft2, a 4 in 1,885
 * (FOUND). */
static void c05_the_roof_a_leader_serves(void **state) {
    (void)state;
    static const double ROWS[][2] = {{1060, 3}, {1885, 4}};
    for (size_t i = 0; i < 2; i++) {
        double flow_m3s = ROWS[i][0] * 8 / 96.25 * GPM;
        double wanted_in2 = 3.14159265358979 * ROWS[i][1] * ROWS[i][1] / 4;
        check_near(hydraulics_leader_area(flow_m3s) / IN2_M2, wanted_in2, 0.01);
    }
}

/* C30: copper moves 0.29 in in 25 ft for 100 F, 0.44 for 150 F, and 0.53 in 30 ft; 1/4 in is used
 * up by 85 F. */
static void c30_a_quarter_inch_is_too_little(void **state) {
    (void)state;
    check_near(movement_in(25, 100), 0.29, 0.005);
    check_near(movement_in(25, 150), 0.44, 0.005);
    check_near(movement_in(30, 150), 0.53, 0.005);
    check_near(movement_in(25, 85), 0.25, 0.005);
}

/* C31: 36 ft between the middles of two lengths move 0.42 in for 100 F, 0.64 in for 150 F. */
static void c31_what_a_joint_of_a_long_eave_sees(void **state) {
    (void)state;
    check_near(movement_in(36, 100), 0.42, 0.005);
    check_near(movement_in(36, 150), 0.64, 0.005);
}

/* C36: a pipe of half the width has a quarter of the area and carries 1.76 l/s instead of 11.2, a
 * third full (MEMORY). */
static void c36_what_a_narrower_pipe_costs(void **state) {
    (void)state;
    check_near(hydraulics_stack_flow(0.33, 4 * INCH_M) * 1000, 11.2, 0.1);
    check_near(hydraulics_stack_flow(0.33, 2 * INCH_M) * 1000, 1.76, 0.02);
}

/* C65: 16 m over 80 K at 17e-6 a K move 21.8 mm (MEMORY). */
static void c65_what_sixteen_metres_move(void **state) {
    (void)state;
    check_near(thermal_movement(17e-6, 16, 80) * 1000, 21.8, 0.05);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(c03_what_the_water_in_a_full_gutter_weighs),
        cmocka_unit_test(c05_the_roof_a_leader_serves),
        cmocka_unit_test(c30_a_quarter_inch_is_too_little),
        cmocka_unit_test(c31_what_a_joint_of_a_long_eave_sees),
        cmocka_unit_test(c36_what_a_narrower_pipe_costs),
        cmocka_unit_test(c65_what_sixteen_metres_move),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
