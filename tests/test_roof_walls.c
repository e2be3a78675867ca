/* SPDX-License-Identifier: Apache-2.0 */
/* Rain that wind drives against walls above roofs. The shares: half of the wall (a US code's
 * sentence in a permit file's extract, FOUND), half of at most 10 m (a New Zealand code of
 * practice, FOUND), a quarter (a city's, FOUND); areas: plane geometry worked by hand (DERIVED). */
#include "roof_bench.h"

static void set_rule(enum job_wall_rain rule) {
    bench.job.wall_rain = rule;
}

static double sum_all(void) {
    return sum_drained() + bench.roof.ground_plan_area_m2;
}

static void check_law(void) {
    check_near(sum_all(), bench.roof.plan_area_m2 + bench.roof.wall_area_m2, 1e-9);
    double walls_m2 = 0;
    for (size_t i = 0; i < bench.roof.eave_count; i++) {
        const struct roof_eave *of = &bench.roof.eaves[i];
        check_near(sum_catchments(of), of->plan_area_m2 - of->wall_area_m2, 1e-9);
        double knots_m2 = 0;
        for (size_t k = 0; k + 1 < of->knot_count; k++) {
            knots_m2 += (of->knots[k + 1].x_m - of->knots[k].x_m) *
                        (of->knots[k + 1].width_m + of->knots[k].width_m) / 2;
        }
        check_near(knots_m2, of->plan_area_m2, 1e-3);
        walls_m2 += of->wall_area_m2;
    }
    for (size_t i = 0; i < bench.roof.pour_count; i++) {
        walls_m2 += bench.roof.pours[i].wall_area_m2;
    }
    check_near(walls_m2, bench.roof.wall_area_m2, 1e-9);
}

/* A lean-to of 6.667 x 6 m = 40 m2 below a wall 6 m wide. 3 m of it: 40 + 18 / 2 = 49 m2; 14 m of
 * it, 10 m counted: 40 + 60 / 2 = 70 m2. The case of a code of practice and a roof-plumbing guide
 * (FOUND). */
static void a_lean_to_below_a_wall_gets_half_of_it(void **state) {
    (void)state;
    struct job_wing *shed = add_wing("shed", (int64_t[]){0, 0, 6000, 6667}, "egwg");
    double roof_m2 = 6 * 6.667;
    shed->wall_above = millimetres(3000);
    set_rule(JOB_WALL_RAIN_HALF);
    assert_int_equal(find(), BASE_OK);
    check_near(eave("shed.1")->plan_area_m2, roof_m2 + 9, 1e-9);
    check_near(eave("shed.1")->wall_area_m2, 9, 1e-9);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_WALL_RAIN), 1);
    shed->wall_above = millimetres(14000);
    bench.job.wall_rain_given = true;
    set_rule(JOB_WALL_RAIN_HALF_10_M);
    assert_int_equal(find(), BASE_OK);
    check_near(eave("shed.1")->plan_area_m2, roof_m2 + 30, 1e-9);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_WALL_RAIN), 0);
    set_rule(JOB_WALL_RAIN_QUARTER);
    assert_int_equal(find(), BASE_OK);
    check_near(bench.roof.wall_area_m2, 21, 1e-9);
    set_rule(JOB_WALL_RAIN_NONE);
    assert_int_equal(find(), BASE_OK);
    check_near(bench.roof.wall_area_m2, 0, 1e-12);
    check_law();
}

/* The hall's eave stands 5 m up; the porch's roof reaches it at 2.5 + 2 x 0.25 = 3 m: 2 m of wall,
 * 4 m long. Spread along the porch's eave: 1 m more of width all along. */
static void a_porch_below_an_eave_gets_the_wall_between(void **state) {
    (void)state;
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg");
    struct job_wing *porch = add_wing("porch", (int64_t[]){2000, -2000, 4000, 2000}, "egwg");
    porch->eave_height = millimetres(2500);
    porch->pitch = number(0.25);
    set_rule(JOB_WALL_RAIN_HALF);
    assert_int_equal(find(), BASE_OK);
    check_law();
    check_near(eave("porch.1")->wall_area_m2, 4, 1e-9);
    for (size_t i = 0; i < eave("porch.1")->knot_count; i++) {
        check_near(eave("porch.1")->knots[i].width_m, 2 + 1, 1e-9);
    }
    check_near(bench.roof.wall_area_m2, 4, 1e-9);
}

/* A low wing against the hall's gable: 5 m to the eave, 8 m to the ridge; the low ridge runs into
 * the wall at 2.5 + 2 x 0.5 = 3.5 m. Over the low roof's 4 m the gable's rake stands at
 * 5 + 0.75 x 2 = 6.5 m and rises to 8 at the middle. Wall seen: mean of rake less mean of roof,
 * (7.25 - 3) x 4 = 17 m2. It runs down beside the wall to the two eaves' ends. */
static void a_gable_above_a_low_ridge_runs_down_both_sides(void **state) {
    (void)state;
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg");
    struct job_wing *low = add_wing("low", (int64_t[]){10000, 2000, 5000, 4000}, "egew");
    low->eave_height = millimetres(2500);
    low->pitch = number(0.5);
    set_rule(JOB_WALL_RAIN_HALF);
    assert_int_equal(find(), BASE_OK);
    check_law();
    check_near(bench.roof.wall_area_m2, 17.0 / 2, 1e-6);
    check_near(eave("low.1")->wall_area_m2, 17.0 / 4, 1e-6);
    check_near(eave("low.3")->wall_area_m2, 17.0 / 4, 1e-6);
    const struct roof_eave *south = eave("low.1");
    check_near(south->knots[south->knot_count - 1].width_m, 2, 1e-6); /* far from the wall */
    check_near(south->knots[0].width_m, 2 + 17.0 / 4 / 0.3, 1e-3);
}

/* The tape path: 4 m of wall above a roof 3 m deep, 9 m long. */
static void a_run_below_a_wall_is_deeper_by_half_the_wall(void **state) {
    (void)state;
    struct job_run run = {.name = base_text_of("porch"),
                          .length = millimetres(9000),
                          .depth = millimetres(3000),
                          .pitch = number(0.25),
                          .wall_above = millimetres(4000)};
    bench.job.runs = &run;
    bench.job.run_count = 1;
    set_rule(JOB_WALL_RAIN_HALF);
    assert_int_equal(find(), BASE_OK);
    check_near(bench.roof.eaves[0].plan_area_m2, 9 * (3 + 2), 1e-9);
    check_near(bench.roof.eaves[0].wall_area_m2, 9 * 2, 1e-9);
    check_near(bench.roof.plan_area_m2, 27, 1e-9);
    check_near(bench.roof.wall_area_m2, 18, 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_lean_to_below_a_wall_gets_half_of_it, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_porch_below_an_eave_gets_the_wall_between, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_gable_above_a_low_ridge_runs_down_both_sides, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_run_below_a_wall_is_deeper_by_half_the_wall, set_bench,
                                        clear_bench),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
