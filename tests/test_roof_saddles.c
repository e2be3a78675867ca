/* SPDX-License-Identifier: Apache-2.0 */
/* Saddles behind walls that stand across a slope. Check values: plane geometry worked by hand
 * (DERIVED). */
#include "roof_bench.h"

static void check_law(void) {
    check_near(sum_drained() + bench.roof.ground_plan_area_m2, bench.roof.plan_area_m2, 1e-9);
    check_near(bench.roof.stray_plan_area_m2, 0, 1e-9);
    check_near(bench.roof.plan_area_m2, 80, 1e-9);
}

/* A hall of 10 x 8 m at 0.75 with a chimney of 2 x 1 m in its south slope, 2 m up: the 1 m of slope
 * behind it, 2 m wide, stands still at its wall. */
static struct job_wing *add_chimney(void) {
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg");
    struct job_wing *chimney = add_wing("chimney", (int64_t[]){4000, 2000, 2000, 1000}, "gege");
    chimney->eave_height = millimetres(9000);
    chimney->pitch = number(0.1);
    chimney->no_gutter[1] = true;
    chimney->no_gutter[3] = true;
    return chimney;
}

static void a_saddle_parts_the_water_round_both_sides(void **state) {
    (void)state;
    struct job_wing *chimney = add_chimney();
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_TRAPPED), 1);
    check_law();
    chimney->saddle = number(0.5);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_TRAPPED), 0);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_SADDLE_NOWHERE), 0);
    check_law();
    /* ridge 0.5 x 1 m up; it dies 0.5 / 0.75 m behind the wall: two triangles of 1 x 0.667 / 2 */
    double saddle_m2 = 0;
    for (size_t i = 0; i < bench.roof.face_count; i++) {
        const struct roof_face *face = &bench.roof.faces[i];
        assert_true(face->wing < 2);
        saddle_m2 += face->wing == 1 ? face->plan_area_m2 : 0;
    }
    check_near(saddle_m2, 2 * 1 + 2.0 / 3, 1e-4);
    /* 2 m2 of slope and saddle come down behind, half to each side of the chimney, and each half
       meets the chimney's own half there */
    check_near(poured("hall.1"), 2 * 1 + 2 * 1, 1e-4);
    assert_true(bench.roof.pour_count >= 2);
    double left_m2 = 0;
    for (size_t i = 0; i < bench.roof.pour_count; i++) {
        const struct roof_pour *pour = &bench.roof.pours[i];
        assert_true(base_text_is(pour->onto, "hall.1"));
        assert_true(fabs(pour->x_m - 4) < 0.01 || fabs(pour->x_m - 6) < 0.01);
        left_m2 += pour->x_m < 5 ? pour->plan_area_m2 : 0;
    }
    check_near(left_m2, 2, 1e-4);
}

static void a_saddle_where_nothing_stands_across_is_told(void **state) {
    (void)state;
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg")->saddle = number(0.5);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_SADDLE_NOWHERE), 1);
    check_law();
}

/* A round-the-corner turret of eight sides: the one that looks up the slope gets a saddle. */
static void a_turret_in_a_slope_traps_nothing_behind_its_saddle(void **state) {
    (void)state;
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg");
    struct job_wing *turret = &bench.wings[bench.job.wing_count++];
    *turret = (struct job_wing){.name = base_text_of("turret"),
                                .shape = JOB_SHAPE_POLYGON,
                                .corner_x_tick = 5000 * UNITS_TICK_PER_MM,
                                .corner_y_tick = 0,
                                .sides = 8,
                                .across = millimetres(3000),
                                .eave_height = millimetres(9000),
                                .pitch = number(1)};
    for (size_t i = 0; i < 8; i++) {
        turret->no_gutter[i] = true;
    }
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_TRAPPED), 1);
    turret->saddle = number(0.4);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_TRAPPED), 0);
    check_near(sum_drained() + bench.roof.ground_plan_area_m2, bench.roof.plan_area_m2, 1e-9);
    check_near(bench.roof.stray_plan_area_m2, 0, 1e-6);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_saddle_parts_the_water_round_both_sides, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_saddle_where_nothing_stands_across_is_told, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_turret_in_a_slope_traps_nothing_behind_its_saddle,
                                        set_bench, clear_bench),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
