/* SPDX-License-Identifier: Apache-2.0 */
/* The plan path: wings, valleys and eaves. Check values: plane geometry worked
 * by hand (DERIVED) unless said otherwise. */
#include "roof_bench.h"

/* ---- one wing ------------------------------------------------------------------------------- */

/* 10 m x 6 m, equal pitches: two triangles 6 x 3 / 2 = 9 and two trapezoids (10 + 4) / 2 x 3 = 21;
 * ridge 4 m long at 5 + 0.75 x 3 = 7.25 m. */
static void hip_roof_drains_two_triangles_and_two_trapezoids(void **state) {
    (void)state;
    add_box("hall", 0, 0, 10000, 6000);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.roof.eave_count, 4);
    check_near(eave("hall.1")->plan_area_m2, 21, 1e-9);
    check_near(eave("hall.2")->plan_area_m2, 9, 1e-9);
    check_near(eave("hall.3")->plan_area_m2, 21, 1e-9);
    check_near(eave("hall.4")->plan_area_m2, 9, 1e-9);
    check_near(bench.roof.plan_area_m2, 60, 1e-9);
    assert_int_equal(bench.roof.pour_count, 0);
    assert_int_equal(bench.roof.face_count, 4);
    assert_int_equal(count_lines(ROOF_LINE_HIP), 4);
    assert_int_equal(count_lines(ROOF_LINE_RIDGE), 1);
    assert_int_equal(count_lines(ROOF_LINE_EAVE), 4);
    check_near(lines_length(ROOF_LINE_RIDGE), 4, 1e-9);
    check_near(lines_length(ROOF_LINE_HIP), 4 * sqrt(18), 1e-9);
    const struct roof_eave *south = eave("hall.1");
    assert_int_equal(south->length_tick, 10000 * UNITS_TICK_PER_MM);
    assert_int_equal(south->knot_count, 4);
    check_near(south->knots[1].x_m, 3, 1e-9);
    check_near(south->knots[1].width_m, 3, 1e-9);
    check_near(south->knots[0].width_m, 0, 1e-9);
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(bench.roof.eaves[i].next, (i + 1) % 4);
        assert_int_equal(bench.roof.eaves[i].to_end.kind, JOB_END_OUTSIDE);
        check_near(bench.roof.eaves[i].to_end.corner_rad, PI / 2, 1e-12);
    }
}

static void gable_roof_drains_half_to_each_side_and_its_ends_are_free(void **state) {
    (void)state;
    set_edges(add_box("barn", 0, 0, 12000, 8000), "egeg");
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.roof.eave_count, 2);
    check_near(eave("barn.1")->plan_area_m2, 48, 1e-9);
    check_near(eave("barn.3")->plan_area_m2, 48, 1e-9);
    assert_int_equal(eave("barn.1")->knot_count, 2);
    check_near(eave("barn.1")->knots[0].width_m, 4, 1e-9);
    assert_int_equal(eave("barn.1")->from_end.kind, JOB_END_CAP);
    assert_int_equal(eave("barn.3")->to_end.kind, JOB_END_CAP);
    assert_int_equal(count_lines(ROOF_LINE_GABLE), 4); /* each rake rises to the ridge and falls */
    assert_int_equal(count_lines(ROOF_LINE_RIDGE), 1);
}

static void shed_roof_drains_all_to_its_one_eave(void **state) {
    (void)state;
    set_edges(add_box("shed", 0, 0, 5000, 3000), "egwg");
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.roof.eave_count, 1);
    check_near(eave("shed.1")->plan_area_m2, 15, 1e-9);
    assert_int_equal(count_lines(ROOF_LINE_WALL), 1);
}

/* A gable between pitches 1 and 0.5 over 6 m: the ridge stands where x = 0.5 (6 - x): 2 m from the
 * steep eave. A hip between pitches 1 (south) and 0.5 (east) runs 1 in from the south for each 2 in
 * from the east. */
static void unequal_pitches_move_the_ridge_towards_the_steep_side(void **state) {
    (void)state;
    struct job_wing *wing = add_box("hall", 0, 0, 10000, 6000);
    set_edges(wing, "egeg");
    wing->edge_pitch[0] = number(1);
    wing->edge_pitch[2] = number(0.5);
    assert_int_equal(find(), BASE_OK);
    check_near(eave("hall.1")->plan_area_m2, 20, 1e-9);
    check_near(eave("hall.3")->plan_area_m2, 40, 1e-9);
    check_near(eave("hall.1")->pitch_1, 1, 0);
    set_edges(wing, "eegg");
    wing->edge_pitch[1] = number(0.5);
    assert_int_equal(find(), BASE_OK);
    for (size_t i = 0; i < bench.roof.line_count; i++) {
        const struct roof_line *line = &bench.roof.lines[i];
        if (line->kind == ROOF_LINE_HIP) {
            check_near(fabs(line->to.y_m - line->from.y_m) * 2, fabs(line->to.x_m - line->from.x_m),
                       1e-9);
        }
    }
    assert_int_equal(count_lines(ROOF_LINE_HIP), 1);
    check_near(eave("hall.1")->plan_area_m2, 25, 1e-9); /* 10 x 5 / 2 */
    check_near(eave("hall.2")->plan_area_m2, 35, 1e-9);
}

/* Source: LAYOUTS.md row 16 (FOUND): a Vienna gable of 47.92 degrees whose two sides have plan
 * areas 122.152 and 125.220 m2 and true areas 182.27 and 186.84 m2. Expressed as a wing 20 m long
 * whose ridge stands by the two depths, with pitches that meet there. The published true areas
 * follow from plan area and slope. */
static void published_gable_gives_its_published_areas(void **state) {
    (void)state;
    double pitch_1 = tan(47.92 * PI / 180);
    struct job_wing *wing = add_box("vienna", 0, 0, 20000, 12369);
    set_edges(wing, "egeg");
    wing->edge_pitch[0] = number(pitch_1);
    wing->edge_pitch[2] = number(pitch_1 * 122.152 / 125.220);
    assert_int_equal(find(), BASE_OK);
    check_near(eave("vienna.1")->plan_area_m2, 122.152, 0.02);
    check_near(eave("vienna.3")->plan_area_m2, 125.220, 0.02);
    check_near(eave("vienna.1")->plan_area_m2 * hypot(1, pitch_1), 182.27, 0.1);
}

/* Source: LAYOUTS.md row 19 (FOUND): a gable of 2 x 36.0 degrees, plan 51.89 m2, eave 11.380 m,
 * ridge 14.739 m. Its half depth is then 3.359 / tan(36) = 4.623 m. */
static void published_gable_has_its_published_ridge(void **state) {
    (void)state;
    double depth_m = 2 * (14.739 - 11.380) / tan(36 * PI / 180);
    struct job_wing *wing = add_box("hague", 0, 0, 1000, llround(depth_m * 1000));
    wing->width = millimetres(llround(51.89 / depth_m * 1000));
    wing->eave_height = millimetres(11380);
    wing->pitch = number(tan(36 * PI / 180));
    set_edges(wing, "egeg");
    assert_int_equal(find(), BASE_OK);
    check_near(bench.roof.plan_area_m2, 51.89, 0.01);
    check_near(bench.roof.plan_area_m2 * hypot(1, wing->pitch.value), 64.15, 0.02);
    for (size_t i = 0; i < bench.roof.line_count; i++) {
        if (bench.roof.lines[i].kind == ROOF_LINE_RIDGE) {
            check_near(bench.roof.lines[i].from_z_m, 14.739, 0.001);
        }
    }
}

/* ---- two wings ------------------------------------------------------------------------------ */

/* A hall 12 x 8 (gables east and west) and an ell 6 x 5 to the north of it from x = 3, same pitch
 * and height. The ell's ridge, 3 in, dies in the hall's north slope at y = 5; the valleys run from
 * there to (3, 8) and (9, 8). Behind the ell the hall's water above the ridge's end comes down
 * both valleys: each gets hall 3 x 4 - 3 x 3 / 2 = 7.5 and ell 3 x 3 / 2 = 4.5. */
static void make_l_house(void) {
    set_edges(add_box("hall", 0, 0, 12000, 8000), "egeg");
    set_edges(add_box("ell", 3000, 8000, 6000, 5000), "wege");
}

static void ell_of_the_same_pitch_makes_two_valleys_at_45_degrees(void **state) {
    (void)state;
    make_l_house();
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.issues.count, 0);
    assert_int_equal(count_lines(ROOF_LINE_VALLEY), 2);
    check_near(lines_length(ROOF_LINE_VALLEY), 2 * sqrt(18), 1e-9);
    assert_int_equal(bench.roof.pour_count, 2);
    check_near(bench.roof.pours[0].plan_area_m2, 12, 1e-9);
    check_near(bench.roof.pours[1].plan_area_m2, 12, 1e-9);
    check_near(bench.roof.plan_area_m2, 126, 1e-9);
    check_near(sum_drained(), 126, 1e-9);
    check_near(eave("hall.1")->plan_area_m2, 48, 1e-9);
    check_near(eave("hall.3a")->plan_area_m2, 12, 1e-9); /* 3 m from the east gable to the ell */
    check_near(eave("hall.3b")->plan_area_m2, 12, 1e-9);
    check_near(eave("ell.2")->plan_area_m2, 15, 1e-9);
    check_near(eave("ell.4")->plan_area_m2, 15, 1e-9);
}

static void
eaves_meet_at_the_inside_corners_and_the_valley_pours_on_the_one_that_follows(void **state) {
    (void)state;
    make_l_house();
    assert_int_equal(find(), BASE_OK);
    const struct roof_eave *north = eave("hall.3a");
    assert_int_equal(north->to_end.kind, JOB_END_INSIDE);
    check_near(north->to_end.corner_rad, PI / 2, 1e-12);
    assert_true(base_text_is(bench.roof.eaves[north->next].name, "ell.2"));
    assert_int_equal(north->from_end.kind, JOB_END_CAP);
    assert_int_equal(north->length_tick, 3000 * UNITS_TICK_PER_MM);
    const struct roof_eave *rest = eave("hall.3b");
    assert_true(base_text_is(bench.roof.eaves[rest->previous].name, "ell.4"));
    assert_int_equal(rest->tail_shift_tick, 9000 * UNITS_TICK_PER_MM);
    check_near(poured("ell.2"), 12, 1e-9);
    check_near(poured("hall.3b"), 12, 1e-9);
    assert_true(base_text_is(bench.roof.pours[0].from, "hall.valley.1"));
    check_near(bench.roof.pours[0].x_m, 0, 1e-9);
    check_near(bench.roof.pours[0].pitch_1, 0.75, 0);
}

/* The ell's eave 1 m lower: at the hall's eave line its roof is as high as the hall's eave 4/3 in
 * from its own eaves, and the hall's eave runs on above the ell's roof to there. */
static void lower_ell_lets_the_halls_eave_run_on_over_it(void **state) {
    (void)state;
    make_l_house();
    bench.wings[1].eave_height = millimetres(4000);
    assert_int_equal(find(), BASE_OK);
    const struct roof_eave *north = eave("hall.3a");
    check_near((double)north->length_tick / (double)UNITS_TICK_PER_M, 3 + 4.0 / 3, 1e-5);
    assert_int_equal(north->to_end.kind, JOB_END_WALL);
    assert_int_equal(eave("ell.2")->from_end.kind, JOB_END_WALL);
    assert_int_equal(count_lines(ROOF_LINE_VALLEY), 2);
    check_near(sum_drained(), 126, 1e-9);
    /* The valley ends where the ell's slope runs on down: its water comes down that slope. Above
     * each valley (5/3 in plan each way): hall 5/3 x 4 - (5/3)^2 / 2, ell (5/3)^2 / 2. */
    check_near(poured("ell.2"), 5.0 / 3 * 4, 1e-9);
    check_near(eave("ell.2")->plan_area_m2, 15, 1e-9);
    check_near(bench.roof.pours[0].x_m, 0, 1e-4);
}

/* The ell's eave 1 m higher: its eaves run on 4/3 beyond the hall's edge to the hall's slope. */
static void higher_ell_runs_its_eaves_on_to_the_halls_slope(void **state) {
    (void)state;
    make_l_house();
    bench.wings[0].depth = millimetres(10000);
    bench.wings[1].corner_y_tick = 10000 * UNITS_TICK_PER_MM;
    bench.wings[1].eave_height = millimetres(6000);
    assert_int_equal(find(), BASE_OK);
    const struct roof_eave *east = eave("ell.2");
    check_near((double)east->length_tick / (double)UNITS_TICK_PER_M, 5 + 4.0 / 3, 1e-5);
    check_near(east->from.y_m, 10 - 4.0 / 3, 1e-9);
    assert_int_equal(east->from_end.kind, JOB_END_WALL);
    assert_int_equal(eave("hall.3a")->to_end.kind, JOB_END_WALL);
    check_near(sum_drained(), 150, 1e-9);
    assert_true(east->tail_shift_tick < 0);
}

/* Ell of pitch 1 against a hall of 0.5: along the valley 2 in from the hall's eave for each 1 in
 * from the ell's. */
static void other_pitch_turns_the_valley(void **state) {
    (void)state;
    make_l_house();
    bench.wings[0].pitch = number(0.75);
    bench.wings[1].pitch = number(0.375);
    assert_int_equal(find(), BASE_OK);
    for (size_t i = 0; i < bench.roof.line_count; i++) {
        const struct roof_line *line = &bench.roof.lines[i];
        if (line->kind == ROOF_LINE_VALLEY) {
            check_near(2 * fabs(line->to.y_m - line->from.y_m), fabs(line->to.x_m - line->from.x_m),
                       1e-9);
        }
    }
    assert_int_equal(count_lines(ROOF_LINE_VALLEY), 2);
    check_near(sum_drained(), 126, 1e-9);
    check_near(poured("ell.2"), 12, 1e-9); /* 3 x 4 as before: only the share between them moves */
}

static void porch_below_the_halls_eave_takes_only_its_own_rain(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 12000, 8000), "egeg");
    struct job_wing *porch = add_box("porch", 2000, -2500, 6000, 2500);
    set_edges(porch, "egwg");
    porch->eave_height = millimetres(2800);
    porch->pitch = number(1.0 / 3);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.issues.count, 0);
    check_near(eave("porch.1")->plan_area_m2, 15, 1e-9);
    check_near(eave("hall.1")->plan_area_m2, 48, 1e-9);
    assert_int_equal(eave("hall.1")->length_tick, 12000 * UNITS_TICK_PER_MM);
    assert_int_equal(eave("porch.1")->from_end.kind, JOB_END_CAP);
    assert_int_equal(bench.roof.pour_count, 0);
    struct geometry_point over = {5, -1};
    assert_int_equal(roof_find_below(&bench.roof, &bench.job, over, 5, 0), 1);
    assert_int_equal(roof_find_below(&bench.roof, &bench.job, over, 2, 0), SIZE_MAX);
    assert_int_equal(roof_find_below(&bench.roof, &bench.job, over, 5, 1), SIZE_MAX);
    assert_int_equal(roof_find_below(&bench.roof, &bench.job, (struct geometry_point){1, -1}, 5, 0),
                     SIZE_MAX);
}

/* The porch's roof reaches the hall's eave height exactly: the hall's rain runs on over it, spread
 * along its eave: 2.5 m of porch and 4 m of hall behind each metre. */
static void roof_that_runs_on_over_a_porch_is_spread_along_the_porchs_eave(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 12000, 8000), "egeg");
    struct job_wing *porch = add_box("porch", 2000, -2500, 6000, 2500);
    set_edges(porch, "egwg");
    porch->eave_height = millimetres(4000);
    porch->pitch = number(0.4);
    assert_int_equal(find(), BASE_OK);
    const struct roof_eave *front = eave("porch.1");
    check_near(front->plan_area_m2, 6 * 6.5, 1e-9);
    assert_int_equal(front->knot_count, 2);
    check_near(front->knots[0].width_m, 6.5, 1e-9);
    check_near(sum_catchments(front), 39, 1e-9);
    check_near(eave("hall.1a")->plan_area_m2, 2 * 4, 1e-9);
    check_near(eave("hall.1b")->plan_area_m2, 4 * 4, 1e-9);
    check_near(sum_drained(), 96 + 15, 1e-9);
}

static void wings_in_one_line_make_one_eave(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 6000, 8000), "egeg");
    set_edges(add_box("annex", 6000, 0, 4000, 8000), "egeg");
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.roof.eave_count, 2);
    assert_int_equal(eave("hall.1")->length_tick, 10000 * UNITS_TICK_PER_MM);
    check_near(eave("hall.1")->plan_area_m2, 40, 1e-9);
    assert_int_equal(eave("hall.1")->knot_count, 2);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_EAVE_MERGED), 2);
}

static void wing_laid_twice_counts_once(void **state) {
    (void)state;
    add_box("hall", 0, 0, 10000, 6000);
    add_box("again", 0, 0, 10000, 6000);
    assert_int_equal(find(), BASE_OK);
    check_near(bench.roof.plan_area_m2, 60, 1e-9);
    check_near(sum_drained(), 60, 1e-9);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_WING_HIDDEN), 1);
}

/* A tall block stands in the hall's north slope: its rain is caught behind the block's wall. */
static void roof_that_runs_against_a_wall_is_told(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 12000, 8000), "egeg");
    struct job_wing *tower = add_box("tower", 4000, 5500, 2000, 1500);
    tower->eave_height = millimetres(9000);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_TRAPPED), 1);
    check_near(sum_drained(), 96, 1e-9);
    /* 2 x 1.5 above the block: round its corner and down to the hall's eave. */
    check_near(poured("hall.3"), 3, 1e-9);
}

static void eave_that_stands_against_a_wall_is_told(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 12000, 8000), "egeg");
    struct job_wing *low = add_box("low", 0, -4000, 12000, 4000);
    set_edges(low, "egeg");
    low->eave_height = millimetres(2500);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_EAVE_AGAINST), 1);
}

static void roof_above_the_roof_at_its_wall_edge_stops_there(void **state) {
    (void)state;
    set_edges(add_box("block", 0, 0, 8000, 8000), "ewee");
    struct job_wing *low = add_box("low", 8000, 2000, 5000, 4000);
    set_edges(low, "egew");
    low->eave_height = millimetres(2500);
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_WALL_ABOVE), 1);
    check_near(sum_drained(), 84, 1e-9);
    check_near(eave("low.1")->plan_area_m2, 10, 1e-9);
    assert_int_equal(eave("low.1")->from_end.kind, JOB_END_WALL);
}

static void wings_that_make_no_roof_are_refused(void **state) {
    (void)state;
    struct job_wing *wing = add_box("hall", 0, 0, 10000, 6000);
    set_edges(wing, "gggg");
    assert_int_equal(find(), BASE_STOPPED);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_WING_NO_EAVE), 1);
    set_edges(wing, "egeg");
    wing->pitch = number(0);
    assert_int_equal(find(), BASE_STOPPED);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_WING_FLAT), 2);
    wing->pitch = (struct job_number){0};
    assert_int_equal(find(), BASE_STOPPED);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_WING_INCOMPLETE), 1);
    wing->pitch = number(0.5);
    struct job_wing *ell = add_box("ell", 3000, 6000, 4000, 4000);
    ell->eave_height.given = false;
    assert_int_equal(find(), BASE_STOPPED);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_HEIGHT_MISSING), 1);
    wing->eave_height.given = false;
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_HEIGHTS_ONE), 1);
    assert_false(eave("ell.3")->has_height);
}

static void too_many_wings_are_refused(void **state) {
    (void)state;
    struct job_wing *wings = base_take(bench.arena, 33, sizeof *wings);
    add_box("hall", 0, 0, 10000, 6000);
    for (int i = 0; i < 33; i++) {
        wings[i] = bench.wings[0];
    }
    bench.job.wings = wings;
    bench.job.wing_count = 33;
    assert_int_equal(find(), BASE_STOPPED);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_TOO_MANY_WINGS), 1);
}

static void wall_edge_that_hangs_in_the_air_strays_and_is_told(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 12000, 8000), "egeg");
    set_edges(add_box("ell", -1000, 8000, 6000, 5000), "wege"); /* 1 m beyond the hall's gable */
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_STRAY), 1);
    assert_true(bench.roof.stray_plan_area_m2 > 0.1 && bench.roof.stray_plan_area_m2 < 15);
    check_near(sum_drained(), 126, 1e-9);
}

/* ---- laws ----------------------------------------------------------------------------------- */

static void quarter_turns_and_shifts_change_no_tick(void **state) {
    (void)state;
    int64_t before_tick[8];
    double before_m2[8];
    make_l_house();
    bench.wings[1].eave_height = millimetres(4300);
    assert_int_equal(find(), BASE_OK);
    size_t count = bench.roof.eave_count;
    assert_int_equal(count, 5);
    for (size_t i = 0; i < count; i++) {
        before_tick[i] = bench.roof.eaves[i].length_tick;
        before_m2[i] = bench.roof.eaves[i].plan_area_m2;
    }
    for (int turn = 0; turn < 4; turn++) {
        for (int i = 0; i < 2; i++) {
            int64_t x_tick = (i == 0 ? 0 : 3000) * UNITS_TICK_PER_MM;
            int64_t y_tick = (i == 0 ? 0 : 8000) * UNITS_TICK_PER_MM;
            int64_t turned[4][2] = {
                {x_tick, y_tick}, {-y_tick, x_tick}, {-x_tick, -y_tick}, {y_tick, -x_tick}};
            bench.wings[i].corner_x_tick = turned[turn][0] + 1234567;
            bench.wings[i].corner_y_tick = turned[turn][1] - 7654321;
            bench.wings[i].turn_rad = turn * PI / 2;
        }
        assert_int_equal(find(), BASE_OK);
        assert_int_equal(bench.roof.eave_count, count);
        for (size_t i = 0; i < count; i++) {
            assert_int_equal(bench.roof.eaves[i].length_tick, before_tick[i]);
            check_near(bench.roof.eaves[i].plan_area_m2, before_m2[i], 1e-9);
        }
    }
}

static void house_turned_by_30_degrees_has_the_same_areas(void **state) {
    (void)state;
    make_l_house();
    double turn_rad = PI / 6;
    for (int i = 0; i < 2; i++) {
        double x = i == 0 ? 0 : 3;
        double y = i == 0 ? 0 : 8;
        bench.wings[i].corner_x_tick = units_tick_of_m(cos(turn_rad) * x - sin(turn_rad) * y);
        bench.wings[i].corner_y_tick = units_tick_of_m(sin(turn_rad) * x + cos(turn_rad) * y);
        bench.wings[i].turn_rad = turn_rad;
    }
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.issues.count, 0);
    assert_int_equal(bench.roof.eave_count, 5);
    assert_int_equal(bench.roof.pour_count, 2);
    check_near(poured("ell.2"), 12, 1e-4);
    check_near(eave("hall.3a")->plan_area_m2, 12, 1e-4);
    check_near(eave("ell.4")->plan_area_m2, 15, 1e-4);
    assert_int_equal(eave("hall.3a")->to_end.kind, JOB_END_INSIDE);
    check_near(sum_drained(), 126, 1e-4);
}

/* East for west: the same areas at the other hand. */
static void mirror_image_drains_alike(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 12000, 8000), "egee");
    set_edges(add_box("ell", 2000, 8000, 5000, 5000), "wege");
    assert_int_equal(find(), BASE_OK);
    double west_m2 = eave("hall.4")->plan_area_m2;
    double ell_m2 = eave("ell.4")->plan_area_m2;
    int64_t short_tick = eave("hall.3b")->length_tick;
    double total_m2 = poured("ell.2") + poured("hall.3b");
    set_edges(&bench.wings[0], "eeeg");
    bench.wings[1].corner_x_tick = 5000 * UNITS_TICK_PER_MM;
    assert_int_equal(find(), BASE_OK);
    check_near(eave("hall.2")->plan_area_m2, west_m2, 1e-9);
    check_near(eave("ell.2")->plan_area_m2, ell_m2, 1e-9);
    assert_int_equal(eave("hall.3a")->length_tick, short_tick);
    check_near(poured("ell.2") + poured("hall.3b"), total_m2, 1e-9);
}

static void failing_takes_give_no_memory_each_time(void **state) {
    (void)state;
    make_l_house();
    size_t before = base_take_count(bench.arena);
    assert_int_equal(find(), BASE_OK);
    size_t takes = base_take_count(bench.arena) - before;
    for (size_t nth = 1; nth <= takes; nth += 1) {
        clear_bench(NULL);
        set_bench(NULL);
        make_l_house();
        base_fail_take(bench.arena, nth);
        assert_int_equal(find(), BASE_NO_MEMORY);
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, set_bench, clear_bench)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(hip_roof_drains_two_triangles_and_two_trapezoids),
        TEST(gable_roof_drains_half_to_each_side_and_its_ends_are_free),
        TEST(shed_roof_drains_all_to_its_one_eave),
        TEST(unequal_pitches_move_the_ridge_towards_the_steep_side),
        TEST(published_gable_gives_its_published_areas),
        TEST(published_gable_has_its_published_ridge),
        TEST(ell_of_the_same_pitch_makes_two_valleys_at_45_degrees),
        TEST(eaves_meet_at_the_inside_corners_and_the_valley_pours_on_the_one_that_follows),
        TEST(lower_ell_lets_the_halls_eave_run_on_over_it),
        TEST(higher_ell_runs_its_eaves_on_to_the_halls_slope),
        TEST(other_pitch_turns_the_valley),
        TEST(porch_below_the_halls_eave_takes_only_its_own_rain),
        TEST(roof_that_runs_on_over_a_porch_is_spread_along_the_porchs_eave),
        TEST(wings_in_one_line_make_one_eave),
        TEST(wing_laid_twice_counts_once),
        TEST(roof_that_runs_against_a_wall_is_told),
        TEST(eave_that_stands_against_a_wall_is_told),
        TEST(roof_above_the_roof_at_its_wall_edge_stops_there),
        TEST(wings_that_make_no_roof_are_refused),
        TEST(too_many_wings_are_refused),
        TEST(wall_edge_that_hangs_in_the_air_strays_and_is_told),
        TEST(quarter_turns_and_shifts_change_no_tick),
        TEST(house_turned_by_30_degrees_has_the_same_areas),
        TEST(mirror_image_drains_alike),
        TEST(failing_takes_give_no_memory_each_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
