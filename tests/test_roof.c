/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The tape path and single wings. Check values: plane geometry worked by hand (DERIVED) unless said
 * otherwise; jobs are filled by hand, as the reader would.
 */
#include "check.h"
#include "roof/roof.h"
#include "units/units.h"

#include <math.h>
#include <string.h>

#define PI 3.14159265358979323846

struct bench {
    struct base_arena *arena;
    struct base_issues issues;
    struct job job;
    struct roof roof;
};

static int set_bench(void **state) {
    static struct bench bench;
    memset(&bench, 0, sizeof bench);
    bench.arena = base_make_arena(0);
    bench.issues.arena = bench.arena;
    *state = &bench;
    return bench.arena == NULL;
}

static int clear_bench(void **state) {
    base_free_arena(((struct bench *)*state)->arena);
    return 0;
}

static struct job_length inches(double length_in) {
    return (struct job_length){.given = true,
                               .tick = (int64_t)llround(length_in * (double)UNITS_TICK_PER_INCH),
                               .reading_count = 1};
}

static struct job_number number(double value) {
    return (struct job_number){.given = true, .value = value};
}

static struct job_run make_run(const char *name, double length_in, double depth_in) {
    return (struct job_run){.name = base_text_of(name),
                            .length = inches(length_in),
                            .depth = inches(depth_in),
                            .pitch = number(4.0 / 12),
                            .from = {.kind = JOB_END_CAP, .corner_rad = PI / 2},
                            .to = {.kind = JOB_END_CAP, .corner_rad = PI / 2}};
}

static enum base_status find_runs(struct bench *bench, struct job_run *runs, size_t count) {
    bench->job.runs = runs;
    bench->job.run_count = count;
    return roof_find(bench->arena, &bench->issues, &bench->job, &bench->roof);
}

static size_t count_code(const struct bench *bench, enum base_issue_code code) {
    size_t count = 0;
    for (size_t i = 0; i < bench->issues.count; i++) {
        count += bench->issues.items[i].code == code;
    }
    return count;
}

/* Source: the design's porch, 28' 4 1/2" x 9' 2" = 260.1 sq ft (DERIVED: 340.5 x 110 / 144). */
static void porch_by_the_tape_is_one_eave_of_even_depth(void **state) {
    struct bench *bench = *state;
    struct job_run run = make_run("porch", 340.5, 110);
    run.eave_height = inches(115);
    run.overhang = inches(11.25);
    assert_int_equal(find_runs(bench, &run, 1), BASE_OK);
    assert_int_equal(bench->roof.eave_count, 1);
    const struct roof_eave *eave = &bench->roof.eaves[0];
    assert_int_equal(eave->length_tick, 2767584); /* 340.5 x 8128 */
    assert_int_equal(eave->knot_count, 2);
    check_near(eave->knots[0].width_m, 110 * 0.0254, 1e-12);
    check_near(eave->knots[1].width_m, 110 * 0.0254, 1e-12);
    check_near(eave->knots[1].x_m, 340.5 * 0.0254, 1e-12);
    check_near(eave->plan_area_m2 / 0.09290304, 340.5 * 110 / 144, 1e-9);
    check_near(bench->roof.plan_area_m2, eave->plan_area_m2, 1e-12);
    check_near(eave->eave_height_m, 115 * 0.0254, 1e-12);
    assert_true(eave->has_height && eave->has_overhang);
    assert_int_equal(eave->next, SIZE_MAX);
    assert_int_equal(bench->roof.pour_count, 0);
    assert_int_equal(bench->issues.count, 0);
    check_near(eave->to.x_m, 340.5 * 0.0254, 1e-12);
}

static void depth_taped_up_the_roof_is_made_level(void **state) {
    struct bench *bench = *state;
    struct job_run run = make_run("porch", 240, 125);
    run.depth_up_the_roof = true;
    run.pitch = number(9.0 / 12); /* 3-4-5: cos = 0.8 */
    assert_int_equal(find_runs(bench, &run, 1), BASE_OK);
    check_near(bench->roof.eaves[0].knots[0].width_m, 100 * 0.0254, 1e-12);
}

static void length_taped_on_the_wall_grows_by_the_overhang_at_outside_corners(void **state) {
    struct bench *bench = *state;
    struct job_run runs[] = {make_run("front", 240, 100), make_run("side", 200, 90)};
    for (int i = 0; i < 2; i++) {
        runs[i].taped_on = JOB_LINE_WALL;
        runs[i].overhang = inches(12);
    }
    runs[0].to.kind = JOB_END_OUTSIDE;
    runs[1].from.kind = JOB_END_OUTSIDE;
    assert_int_equal(find_runs(bench, runs, 2), BASE_OK);
    assert_int_equal(bench->roof.eaves[0].length_tick, 252 * UNITS_TICK_PER_INCH);
    assert_int_equal(bench->roof.eaves[1].length_tick, 212 * UNITS_TICK_PER_INCH);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_LENGTH_AT_GABLE), 2);
    assert_int_equal(bench->roof.eaves[0].next, 1);
    assert_int_equal(bench->roof.eaves[1].previous, 0);
}

/* 135 degrees: tan(22.5 deg) = 0.41421356 of the overhang; unequal overhangs at 90 degrees: each
 * grows by the other's. */
static void wall_length_minds_the_angle_and_the_neighbours_overhang(void **state) {
    struct bench *bench = *state;
    struct job_run runs[] = {make_run("a", 240, 100), make_run("b", 200, 90),
                             make_run("c", 90, 90)};
    for (int i = 0; i < 3; i++) {
        runs[i].taped_on = JOB_LINE_WALL;
        runs[i].overhang = inches(i == 2 ? 20 : 10);
    }
    runs[0].to = runs[1].from =
        (struct job_run_end){.kind = JOB_END_OUTSIDE, .corner_rad = 0.75 * PI};
    runs[1].to = runs[2].from = (struct job_run_end){.kind = JOB_END_INSIDE, .corner_rad = PI / 2};
    runs[0].from.kind = runs[2].to.kind = JOB_END_WALL;
    assert_int_equal(find_runs(bench, runs, 3), BASE_OK);
    int64_t grown = llround(10 * tan(PI / 8) * (double)UNITS_TICK_PER_INCH);
    assert_int_equal(bench->roof.eaves[0].length_tick, 240 * UNITS_TICK_PER_INCH + grown);
    assert_int_equal(bench->roof.eaves[1].length_tick, 180 * UNITS_TICK_PER_INCH + grown);
    assert_int_equal(bench->roof.eaves[2].length_tick, 80 * UNITS_TICK_PER_INCH);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_LENGTH_AT_GABLE), 0);
}

static void wall_length_without_an_overhang_is_refused_at_a_corner(void **state) {
    struct bench *bench = *state;
    struct job_run runs[] = {make_run("front", 240, 100), make_run("side", 200, 90)};
    runs[0].taped_on = JOB_LINE_WALL;
    runs[0].to.kind = JOB_END_OUTSIDE;
    runs[1].from.kind = JOB_END_OUTSIDE;
    assert_int_equal(find_runs(bench, runs, 2), BASE_STOPPED);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_OVERHANG_NEEDED), 1);
}

static void wood_face_is_taken_as_the_roof_edge_and_said(void **state) {
    struct bench *bench = *state;
    struct job_run run = make_run("porch", 240, 100);
    run.taped_on = JOB_LINE_WOOD_FACE;
    assert_int_equal(find_runs(bench, &run, 1), BASE_OK);
    assert_int_equal(bench->roof.eaves[0].length_tick, 240 * UNITS_TICK_PER_INCH);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_WOOD_FACE_TAKEN), 1);
}

static void corner_that_meets_no_like_corner_is_refused(void **state) {
    struct bench *bench = *state;
    struct job_run runs[] = {make_run("front", 240, 100), make_run("side", 200, 90)};
    runs[0].to.kind = JOB_END_OUTSIDE;
    assert_int_equal(find_runs(bench, runs, 2), BASE_STOPPED);
    runs[1].from.kind = JOB_END_INSIDE;
    assert_int_equal(find_runs(bench, runs, 2), BASE_STOPPED);
    runs[1].from.kind = JOB_END_OUTSIDE;
    runs[1].from.corner_rad = 2;
    assert_int_equal(find_runs(bench, runs, 2), BASE_STOPPED);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_CORNER_MISMATCH), 3);
}

static void last_corner_without_an_eave_beyond_is_said(void **state) {
    struct bench *bench = *state;
    struct job_run run = make_run("front", 240, 100);
    run.to.kind = JOB_END_OUTSIDE;
    assert_int_equal(find_runs(bench, &run, 1), BASE_OK);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_CORNER_OPEN), 1);
}

static void ring_of_four_closes_and_one_of_two_does_not(void **state) {
    struct bench *bench = *state;
    struct job_run runs[] = {make_run("s", 400, 100), make_run("e", 300, 100),
                             make_run("n", 400, 100), make_run("w", 300, 100)};
    for (int i = 0; i < 4; i++) {
        runs[i].from.kind = runs[i].to.kind = JOB_END_OUTSIDE;
    }
    assert_int_equal(find_runs(bench, runs, 4), BASE_OK);
    assert_int_equal(bench->roof.eaves[3].next, 0);
    assert_int_equal(bench->roof.eaves[0].previous, 3);
    check_near(bench->roof.eaves[2].from.x_m, 400 * 0.0254, 1e-9);
    check_near(bench->roof.eaves[2].from.y_m, 300 * 0.0254, 1e-9);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_RING_OPEN), 0);
    runs[2].length = inches(396); /* measure judges that */
    assert_int_equal(find_runs(bench, runs, 4), BASE_OK);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_RING_OPEN), 0);
    assert_int_equal(find_runs(bench, runs, 2), BASE_OK); /* 400 east, 300 north: 500 in off */
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_RING_OPEN), 1);
    for (size_t i = 0; i < bench->issues.count; i++) {
        if (bench->issues.items[i].code == BASE_ISSUE_ROOF_RING_OPEN) {
            check_near(bench->issues.items[i].value.number, 500 * 0.0254, 1e-9);
        }
    }
}

static void runs_that_do_not_meet_stand_apart_in_plan(void **state) {
    struct bench *bench = *state;
    struct job_run runs[] = {make_run("a", 240, 100), make_run("b", 200, 90)};
    assert_int_equal(find_runs(bench, runs, 2), BASE_OK);
    assert_true(bench->roof.eaves[1].from.y_m + 90 * 0.0254 < bench->roof.eaves[0].from.y_m);
    check_near(bench->roof.eaves[1].from.x_m, 0, 0);
}

/* An L of two eaves with depth 100 and 80 in behind an inside corner of 90 degrees: the rectangle
 * 100 x 80 in comes down the valley. */
static void inside_corner_brings_the_square_behind_it_down_the_valley(void **state) {
    struct bench *bench = *state;
    struct job_run runs[] = {make_run("a", 240, 100), make_run("b", 200, 80)};
    runs[0].to.kind = JOB_END_INSIDE;
    runs[1].from.kind = JOB_END_INSIDE;
    runs[1].pitch = number(0.75);
    assert_int_equal(find_runs(bench, runs, 2), BASE_OK);
    assert_int_equal(bench->roof.pour_count, 1);
    const struct roof_pour *pour = &bench->roof.pours[0];
    check_near(pour->plan_area_m2, 100 * 80 * 0.0254 * 0.0254, 1e-12);
    assert_true(base_text_is(pour->onto, "b"));
    assert_true(base_text_is(pour->from, "b.valley.1"));
    check_near(pour->x_m, 0, 0);
    check_near(pour->pitch_1, 0.75, 0);
    double sum_m2 = bench->roof.eaves[0].plan_area_m2 + bench->roof.eaves[1].plan_area_m2;
    check_near(bench->roof.plan_area_m2, sum_m2 + pour->plan_area_m2, 1e-12);
    check_near(bench->roof.eaves[1].to.y_m, -200 * 0.0254, 1e-12); /* turns to the right */
}

static void run_without_a_depth_is_refused(void **state) {
    struct bench *bench = *state;
    struct job_run run = make_run("porch", 240, 100);
    run.depth.given = false;
    assert_int_equal(find_runs(bench, &run, 1), BASE_STOPPED);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_RUN_INCOMPLETE), 1);
    run = make_run("porch", 240, 100);
    run.to = (struct job_run_end){.kind = JOB_END_OUTSIDE, .corner_rad = PI};
    assert_int_equal(find_runs(bench, &run, 1), BASE_STOPPED);
    assert_int_equal(count_code(bench, BASE_ISSUE_ROOF_CORNER_ANGLE), 1);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, set_bench, clear_bench)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(porch_by_the_tape_is_one_eave_of_even_depth),
        TEST(depth_taped_up_the_roof_is_made_level),
        TEST(length_taped_on_the_wall_grows_by_the_overhang_at_outside_corners),
        TEST(wall_length_minds_the_angle_and_the_neighbours_overhang),
        TEST(wall_length_without_an_overhang_is_refused_at_a_corner),
        TEST(wood_face_is_taken_as_the_roof_edge_and_said),
        TEST(corner_that_meets_no_like_corner_is_refused),
        TEST(last_corner_without_an_eave_beyond_is_said),
        TEST(ring_of_four_closes_and_one_of_two_does_not),
        TEST(runs_that_do_not_meet_stand_apart_in_plan),
        TEST(inside_corner_brings_the_square_behind_it_down_the_valley),
        TEST(run_without_a_depth_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
