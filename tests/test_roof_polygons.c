/* SPDX-License-Identifier: Apache-2.0 */
/* Bays and turrets: wings that are no rectangles. Check values: plane geometry worked by hand
 * (DERIVED). */
#include "roof_bench.h"

static struct job_wing *add_turret(int sides, int64_t across_mm, int64_t x_mm, int64_t y_mm) {
    struct job_wing *wing = add_box("turret", x_mm, y_mm, 1, 1);
    wing->width = (struct job_length){0};
    wing->depth = (struct job_length){0};
    wing->shape = JOB_SHAPE_POLYGON;
    wing->sides = sides;
    wing->across = millimetres(across_mm);
    for (int i = 0; i < JOB_EDGES_MAX; i++) {
        wing->edges[i] = JOB_EDGE_EAVE;
    }
    return wing;
}

static struct job_wing *add_bay(int edge, int64_t at_mm, int64_t across_mm) {
    struct job_wing *wing = add_turret(8, across_mm, 0, 0);
    wing->name = base_text_of("bay");
    wing->shape = JOB_SHAPE_BAY;
    wing->edges[5] = JOB_EDGE_WALL;
    wing->against = (struct job_outlet){.eave = base_text_of("hall"),
                                        .edge = edge,
                                        .at = JOB_AT_DISTANCE,
                                        .distance_tick = at_mm * UNITS_TICK_PER_MM};
    wing->eave_height = millimetres(3000);
    return wing;
}

static void assert_near(double found, double expected, double tolerance) {
    if (!(fabs(found - expected) <= tolerance)) {
        fail_msg("%.12g, expected %.12g", found, expected);
    }
}

static void find_roof(void) {
    assert_int_equal(find(), BASE_OK);
    assert_near(sum_drained(), bench.roof.plan_area_m2, 1e-9);
}

/* n triangles of the side 2 r tan(pi/n) and the height r, each to its own eave; every corner is
 * outside, with the angle (n - 2) / n of a half turn between the eaves. */
static void a_turret_sheds_one_triangle_to_each_eave(void **state) {
    (void)state;
    static const int SIDES[] = {3, 5, 6, 8, 12, 16};
    for (size_t n = 0; n < sizeof SIDES / sizeof SIDES[0]; n++) {
        bench.job.wing_count = 0;
        struct job_wing *wing = add_turret(SIDES[n], 3000, 4000, -2000);
        wing->turn_rad = 0.3;
        find_roof();
        assert_int_equal(bench.roof.eave_count, SIDES[n]);
        double side_m = 3 * tan(PI / SIDES[n]);
        for (size_t i = 0; i < bench.roof.eave_count; i++) {
            const struct roof_eave *eave = &bench.roof.eaves[i];
            assert_near(units_m_of_tick(eave->length_tick), side_m, 1e-5);
            assert_near(eave->plan_area_m2, side_m * 1.5 / 2, 1e-9);
            assert_int_equal(eave->to_end.kind, JOB_END_OUTSIDE);
            assert_near(eave->to_end.corner_rad, PI * (SIDES[n] - 2) / SIDES[n], 1e-9);
            assert_int_equal(eave->next, (i + 1) % bench.roof.eave_count);
        }
    }
}

/* Half an octagon stands at the wall, 300 mm inside the hall's roof edge and below it: its flanks'
 * gutters run on under the overhang to the wall, and the strip there gets no rain. */
static void a_bay_runs_to_the_wall_under_the_overhang(void **state) {
    (void)state;
    for (int edge = 1; edge <= 4; edge++) {
        bench.job.wing_count = 0;
        struct job_wing *hall = add_box("hall", 0, 0, 12000, 12000);
        hall->overhang = millimetres(300);
        add_bay(edge, 6000, 2700);
        find_roof();
        assert_int_equal(bench.roof.eave_count, 4 + 5);
        const struct roof_eave *bay = &bench.roof.eaves[4];
        double face_m = 2.7 * tan(PI / 8);
        double sum_m2 = 0;
        for (int i = 0; i < 5; i++) {
            bool flank = i == 0 || i == 4;
            assert_near(units_m_of_tick(bay[i].length_tick), flank ? face_m / 2 : face_m, 1e-5);
            sum_m2 += bay[i].plan_area_m2;
        }
        assert_near(sum_m2, 2.7 * 2.7 * tan(PI / 8) - 0.3 * 2.7, 1e-9);
        assert_int_equal(bay[0].from_end.kind, JOB_END_WALL);
        assert_int_equal(bay[0].to_end.kind, JOB_END_OUTSIDE);
        assert_near(bay[0].to_end.corner_rad, 0.75 * PI, 1e-9);
        assert_int_equal(bay[4].to_end.kind, JOB_END_WALL);
    }
}

/* Without an overhang said, the bay stands at the roof edge and all of it is rained on. */
static void a_bay_stands_at_the_roof_edge_when_no_overhang_is_said(void **state) {
    (void)state;
    add_box("hall", 0, 0, 12000, 8000);
    add_bay(1, 4000, 2700);
    find_roof();
    assert_near(bench.roof.plan_area_m2, 96 + 2.7 * 2.7 * tan(PI / 8), 1e-9);
    assert_near(bench.roof.eaves[4].from.x_m, 4 - 1.35, 1e-9);
    assert_near(bench.roof.eaves[4].from.y_m, 0, 1e-9);
    assert_near(bench.roof.eaves[6].from.y_m, -1.35, 1e-9);
}

/* Two pitches behind one eave: all of it still comes down to that eave, and the ridge stands at
 * 2 m x 1.5 + 2 m x 0.5 above it. The break is two lines of the house's length. */
static void a_gambrel_drains_both_slopes_to_one_eave(void **state) {
    (void)state;
    struct job_wing *hall = add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg");
    hall->pitch = number(1.5);
    hall->upper_begins = millimetres(2000);
    hall->upper_pitch = number(0.5);
    find_roof();
    assert_int_equal(bench.roof.eave_count, 2);
    assert_near(eave("hall.1")->plan_area_m2, 40, 1e-9);
    assert_near(eave("hall.3")->plan_area_m2, 40, 1e-9);
    assert_int_equal(bench.roof.pour_count, 0);
    assert_near(lines_length(ROOF_LINE_BREAK), 20, 1e-9);
    for (size_t i = 0; i < bench.roof.line_count; i++) {
        if (bench.roof.lines[i].kind == ROOF_LINE_RIDGE) {
            assert_near(bench.roof.lines[i].from_z_m, 5 + 2 * 1.5 + 2 * 0.5, 1e-9);
        }
    }
}

/* A mansard: each face is a trapezoid below and another above; together the hip roof's own share.
 */
static void a_mansard_shares_its_plan_like_a_hip_roof(void **state) {
    (void)state;
    struct job_wing *hall = add_box("hall", 0, 0, 12000, 8000);
    hall->pitch = number(2);
    hall->upper_begins = millimetres(1000);
    hall->upper_pitch = number(0.25);
    find_roof();
    assert_near(eave("hall.1")->plan_area_m2, (12 + 4) / 2.0 * 4, 1e-9);
    assert_near(eave("hall.2")->plan_area_m2, 8 * 4 / 2.0, 1e-9);
    assert_near(lines_length(ROOF_LINE_BREAK), 2 * (10 + 6), 1e-9);
}

/* A dormer 2 m wide without gutters on the south slope: what drips off its sides and what its
 * valleys bring come down at its two flanks. The slope reaches the dormer's eave at y = 1/0.75 and
 * its ridge, half a metre higher, at y = 2: what stands above the valleys' 2 m comes that way too.
 */
static void a_dormer_without_gutters_drips_onto_the_roof_below(void **state) {
    (void)state;
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg");
    struct job_wing *dormer = add_wing("dormer", (int64_t[]){4000, 500, 2000, 3000}, "gewe");
    dormer->eave_height = millimetres(6000);
    dormer->pitch = number(0.5);
    dormer->no_gutter[1] = true;
    dormer->no_gutter[3] = true;
    find_roof();
    assert_int_equal(bench.roof.eave_count, 2);
    assert_int_equal(bench.roof.pour_count, 2);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_DRIPS), 0);
    for (size_t i = 0; i < 2; i++) {
        const struct roof_pour *pour = &bench.roof.pours[i];
        assert_true(base_text_is(pour->onto, "hall.1"));
        assert_near(pour->x_m, i == 0 ? 4 : 6, 2e-4);   /* a probe's width outside the eave */
        assert_near(pour->plan_area_m2, 4 - 0.5, 1e-6); /* 1 m wide, from 0.5 m to the ridge */
    }
}

/* A lantern astride the ridge, its eaves along the fall of both slopes: four drips, nothing else.
 */
static void a_lantern_drips_at_four_places(void **state) {
    (void)state;
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg");
    struct job_wing *lantern = add_wing("lantern", (int64_t[]){4000, 3000, 2000, 2000}, "gege");
    lantern->eave_height = millimetres(20000);
    lantern->no_gutter[1] = true;
    lantern->no_gutter[3] = true;
    find_roof();
    assert_int_equal(bench.roof.pour_count, 4);
    for (size_t i = 0; i < 4; i++) {
        assert_true(bench.roof.pours[i].drip);
        assert_near(bench.roof.pours[i].plan_area_m2, 1, 1e-9);
    }
    assert_true(base_text_is(bench.roof.pours[0].from, "hall.drip.1"));
}

/* A porch roof under an upper eave without gutter gets its water spread along it; what meets no
 * roof goes to the ground and is said. */
static void bare_eaves_drip_onto_porches_and_the_ground(void **state) {
    (void)state;
    struct job_wing *hall = add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg");
    hall->no_gutter[0] = true;
    struct job_wing *porch = add_wing("porch", (int64_t[]){2000, -2000, 4000, 2000}, "egwg");
    porch->eave_height = millimetres(2500);
    porch->pitch = number(0.25);
    assert_int_equal(find(), BASE_OK);
    assert_near(eave("porch.1")->plan_area_m2, 4 * (2 + 4), 1e-9);
    assert_near(eave("hall.3")->plan_area_m2, 40, 1e-9);
    assert_near(bench.roof.ground_plan_area_m2, 6 * 4, 1e-9);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_DRIPS), 1);
    assert_near(sum_drained() + bench.roof.ground_plan_area_m2, bench.roof.plan_area_m2, 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_turret_sheds_one_triangle_to_each_eave, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_bay_runs_to_the_wall_under_the_overhang, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_bay_stands_at_the_roof_edge_when_no_overhang_is_said,
                                        set_bench, clear_bench),
        cmocka_unit_test_setup_teardown(a_gambrel_drains_both_slopes_to_one_eave, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_mansard_shares_its_plan_like_a_hip_roof, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_dormer_without_gutters_drips_onto_the_roof_below,
                                        set_bench, clear_bench),
        cmocka_unit_test_setup_teardown(a_lantern_drips_at_four_places, set_bench, clear_bench),
        cmocka_unit_test_setup_teardown(bare_eaves_drip_onto_porches_and_the_ground, set_bench,
                                        clear_bench),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
