/* SPDX-License-Identifier: Apache-2.0 */
/* Flared eaves: near its edge a roof runs flatter than above. Check values: plane geometry worked
 * by hand (DERIVED) unless said otherwise. */
#include "roof_bench.h"

static struct job_wing *flare(struct job_wing *wing, double pitch_1, int64_t begins_mm,
                              double upper_1) {
    wing->pitch = number(pitch_1);
    wing->upper_begins = millimetres(begins_mm);
    wing->upper_pitch = number(upper_1);
    return wing;
}

/* Half a metre in twelve over the first metre, then 12 in 12: the ridge stands 0.5 + 3 m over the
 * eaves, each eave has its half of the plan, and what counts by pitch counts by the steep roof. */
static void a_flared_gable_roof_drains_its_half_to_each_eave(void **state) {
    (void)state;
    flare(add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg"), 0.5, 1000, 1);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.roof.eave_count, 2);
    assert_int_equal(bench.roof.face_count, 4);
    assert_int_equal(bench.roof.pour_count, 0);
    for (size_t i = 0; i < 2; i++) {
        const struct roof_eave *of = &bench.roof.eaves[i];
        check_near(of->plan_area_m2, 40, 1e-9);
        check_near(sum_catchments(of), 40, 1e-9);
        check_near(of->pitch_1, 0.5, 1e-12);
        check_near(of->area_pitch_1, 1, 1e-12);
        assert_int_equal(of->knot_count, 2);
        check_near(of->knots[0].width_m, 4, 1e-9);
    }
    check_near(lines_length(ROOF_LINE_BREAK), 20, 1e-9);
    double ridge_m = 0;
    for (size_t i = 0; i < bench.roof.line_count; i++) {
        const struct roof_line *line = &bench.roof.lines[i];
        ridge_m = line->kind == ROOF_LINE_RIDGE ? line->from_z_m : ridge_m;
    }
    check_near(ridge_m, 5 + 0.5 + 3, 1e-9);
}

/* Equal flares all round keep the hips over the diagonals: shares are those of a hip roof. */
static void a_flared_hip_roof_shares_its_plan_like_a_hip_roof(void **state) {
    (void)state;
    flare(add_box("hall", 0, 0, 12000, 8000), 0.25, 1000, 1);
    assert_int_equal(find(), BASE_OK);
    check_near(eave("hall.1")->plan_area_m2, (12 + 4) / 2.0 * 4, 1e-9);
    check_near(eave("hall.2")->plan_area_m2, 8 * 4 / 2.0, 1e-9);
    check_near(lines_length(ROOF_LINE_BREAK), 2.0 * (10 + 6), 1e-9);
    check_near(lines_length(ROOF_LINE_HIP), 4 * sqrt(32), 1e-6);
    assert_int_equal(bench.roof.pour_count, 0);
}

/* Only the south eave is flared: its own pitch is flatter, the others' own is the upper roof's. It
 * stands 0.75 m behind them from its break on: the hips bend at (0.25, 1) and end where 8 - y =
 * y - 0.75, at y = 4.375, 3.625 m over the eaves. */
static void one_flared_eave_moves_the_hips(void **state) {
    (void)state;
    struct job_wing *hall = flare(add_box("hall", 0, 0, 12000, 8000), 1, 1000, 1);
    hall->edge_pitch[0] = number(0.25);
    assert_int_equal(find(), BASE_OK);
    /* west face: (0, 0), (0.25, 1), (3.625, 4.375), (0, 8): (29 - 2.53125) / 2 */
    check_near(eave("hall.4")->plan_area_m2, 13.234375, 1e-9);
    check_near(eave("hall.2")->plan_area_m2, 13.234375, 1e-9);
    /* north: a trapezoid, 12 m at its eave, 12 - 2 x 3.625 at the ridge, 3.625 m deep */
    check_near(eave("hall.3")->plan_area_m2, (12 + 4.75) / 2 * 3.625, 1e-9);
    check_near(eave("hall.1")->plan_area_m2, 96 - 2 * 13.234375 - (12 + 4.75) / 2 * 3.625, 1e-9);
}

/* ---- a second way: the heights --------------------------------------------------------------- */

/* Height over the wing's eaves: the lowest of its edges' roofs, each with its break. */
static double height_of(const struct job_wing *wing, struct geometry_point at) {
    double width_m = units_m_of_tick(wing->width.tick);
    double depth_m = units_m_of_tick(wing->depth.tick);
    const double inside_m[4] = {at.y_m, width_m - at.x_m, depth_m - at.y_m, at.x_m};
    double begins_m = units_m_of_tick(wing->upper_begins.tick);
    double lowest_m = (double)INFINITY;
    for (int edge = 0; edge < 4; edge++) {
        double pitch_1 =
            wing->edge_pitch[edge].given ? wing->edge_pitch[edge].value : wing->pitch.value;
        double t_m = inside_m[edge];
        double z_m =
            pitch_1 * fmin(t_m, begins_m) + wing->upper_pitch.value * fmax(t_m - begins_m, 0);
        lowest_m = wing->edges[edge] == JOB_EDGE_EAVE ? fmin(lowest_m, z_m) : lowest_m;
    }
    return lowest_m;
}

static uint64_t seed;

static double pick(double low, double high) {
    seed = seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return low + (high - low) * (double)(seed >> 11) / 9007199254740992.0;
}

/* One roof at every place, as high as the formula says; all of it reaches an eave. */
static void check_house(const struct job_wing *wing) {
    double plan_m2 = units_m_of_tick(wing->width.tick) * units_m_of_tick(wing->depth.tick);
    check_near(bench.roof.plan_area_m2, plan_m2, 1e-6 * plan_m2);
    check_near(sum_drained(), plan_m2, 1e-6 * plan_m2);
    for (int i = 0; i < 200; i++) {
        struct geometry_point at = {pick(0, units_m_of_tick(wing->width.tick)),
                                    pick(0, units_m_of_tick(wing->depth.tick))};
        size_t holding = 0;
        for (size_t k = 0; k < bench.roof.face_count; k++) {
            const struct roof_face *face = &bench.roof.faces[k];
            if (geometry_contains(&face->outline, at)) {
                holding++;
                check_near(geometry_height(face->plane, at) - 5, height_of(wing, at), 1e-4);
            }
        }
        assert_true(holding > 0);
    }
}

static void flared_roofs_stand_as_high_as_their_edges_say(void **state) {
    (void)state;
    for (uint64_t house = 0; house < 500; house++) {
        clear_bench(NULL);
        set_bench(NULL);
        seed = 20261125 + house;
        struct job_wing *hall =
            add_box("hall", 0, 0, (int64_t)pick(4000, 14000), (int64_t)pick(4000, 10000));
        flare(hall, pick(0.2, 0.6), (int64_t)pick(200, 2500), pick(0.6, 1.6));
        for (int edge = 0; edge < 4; edge++) {
            if (pick(0, 1) < 0.4) {
                hall->edge_pitch[edge] = number(pick(0.2, 2)); /* some are gambrels then */
            }
            if (edge > 0 && pick(0, 1) < 0.2) {
                hall->edges[edge] = JOB_EDGE_GABLE;
            }
        }
        assert_int_equal(find(), BASE_OK);
        check_house(hall);
    }
}

/* Turned eaves of a turret, and an ell whose roof runs on over the hall's: not a drop is lost. */
static void flared_turrets_and_ells_lose_no_drop(void **state) {
    (void)state;
    flare(add_wing("hall", (int64_t[]){0, 0, 12000, 8000}, "egeg"), 0.4, 900, 1);
    flare(add_wing("ell", (int64_t[]){3000, 8000, 5000, 6000}, "wege"), 0.4, 900, 1);
    struct job_wing *turret = &bench.wings[bench.job.wing_count++];
    *turret = (struct job_wing){.name = base_text_of("turret"),
                                .shape = JOB_SHAPE_POLYGON,
                                .sides = 8,
                                .across = millimetres(4000),
                                .eave_height = millimetres(7000)};
    flare(turret, 0.5, 600, 2);
    assert_int_equal(find(), BASE_OK);
    check_near(sum_drained() + bench.roof.ground_plan_area_m2, bench.roof.plan_area_m2, 1e-6);
    check_near(bench.roof.stray_plan_area_m2, 0, 1e-9);
    assert_true(poured("hall.3a") + poured("hall.3b") + poured("ell.2") + poured("ell.4") > 1);
    for (size_t i = 0; i < bench.roof.eave_count; i++) {
        check_near(sum_catchments(&bench.roof.eaves[i]), bench.roof.eaves[i].plan_area_m2, 1e-6);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_flared_gable_roof_drains_its_half_to_each_eave, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_flared_hip_roof_shares_its_plan_like_a_hip_roof,
                                        set_bench, clear_bench),
        cmocka_unit_test_setup_teardown(one_flared_eave_moves_the_hips, set_bench, clear_bench),
        cmocka_unit_test_setup_teardown(flared_roofs_stand_as_high_as_their_edges_say, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(flared_turrets_and_ells_lose_no_drop, set_bench,
                                        clear_bench),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
