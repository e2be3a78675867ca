/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"
#include "house.h"

#include <math.h>
#include <stdio.h>

#include "measure/measure_inside.h"
#include "numeric/numeric.h"

#define DEGREE 0.017453292519943295
#define FOOT_M 0.3048
#define INCH_M 0.0254

#define HEAD                                                                                       \
    "eavesmith: 1\njob: test\nunits: ft-in\n"                                                      \
    "place: {rain: {intensity: 6.6 in/h, minutes: 5, years: 10}}\n"
#define RUN(name, length, more)                                                                    \
    "  - {name: " name ", length: " length ", depth: 12', pitch: 6/12, overhang: 12\", " more      \
    "from: outside corner, to: outside corner}\n"
#define EDGE "taped on: roof edge, "
#define WALL "taped on: wall, "
#define RING(south)                                                                                \
    "runs:\n" RUN("south", south, EDGE) RUN("east", "24'", EDGE) RUN("north", "40'", EDGE)         \
        RUN("west", "22'", WALL)
#define DIAGONALS                                                                                  \
    "checks:\n"                                                                                    \
    "  - {name: long diagonal, from: south from, to: east to, length: 46' 7 3/4\"}\n"              \
    "  - {name: other diagonal, from: south to, to: west from, length: 46' 7 3/4\"}\n"
/* An open chain of two eaves round one corner. */
#define CHAIN                                                                                      \
    "runs:\n"                                                                                      \
    "  - {name: front, length: 40', taped on: roof edge, depth: 12', pitch: 6/12, "                \
    "from: end cap, to: outside corner, overhang: 12\"}\n"                                         \
    "  - {name: side, length: 30', taped on: roof edge, depth: 12', pitch: 6/12, "                 \
    "from: outside corner, to: end cap, overhang: 12\"}\n"
#define HALL                                                                                       \
    "wings:\n"                                                                                     \
    "  - {name: hall, corner: [0, 0], size: [44' 6\", 26'], eave height: 17', pitch: 9/12, "       \
    "edges: [eave, gable, eave, gable], overhang: 12\"}\n"

static const struct measure_item *item_of(const struct house *house, const char *name) {
    const struct measure *measure = &house->solution.measure;
    for (size_t i = 0; i < measure->item_count; i++) {
        if (base_text_is(measure->items[i].name, name)) {
            return &measure->items[i];
        }
    }
    fail_msg("no measurement %s", name);
    return NULL;
}

static double sum_of_redundancy(const struct house *house) {
    double sum = 0.0;
    for (size_t i = 0; i < house->solution.measure.item_count; i++) {
        sum += house->solution.measure.items[i].redundancy;
    }
    return sum;
}

/* ---- nets ---------------------------------------------------------------------------------- */

static void a_single_run_has_nothing_to_check(void **state) {
    (void)state;
    struct house house = house_solve(HEAD CHAIN, NULL, NULL);
    house_must_stand(&house);
    const struct measure *measure = &house.solution.measure;
    assert_int_equal(measure->verdict, MEASURE_UNCHECKED);
    assert_int_equal(measure->redundancy, 0);
    /* 1.96 standard deviations of what was said: 1/4 in and 1/2000, by hand */
    double sigma_m = hypot(0.25 * INCH_M, 40 * FOOT_M / 2000);
    check_near(measure->lengths[0].within_m, 1.959963985 * sigma_m, 1e-9);
    check_near(measure->lengths[0].adjusted_m, 40 * FOOT_M, 1e-9);
    house_free(&house);
}

/* By hand: the wall's 22 ft and two overhangs are the 24 ft of the roof edge opposite. */
static void a_ring_taped_on_two_lines_closes(void **state) {
    (void)state;
    struct house house = house_solve(HEAD RING("40'"), NULL, NULL);
    house_must_stand(&house);
    const struct measure *measure = &house.solution.measure;
    assert_true(measure->is_ring);
    check_near(measure->misclosure_m, 0.0, 1e-6);
    check_near(measure->turn_miss_rad, 0.0, 1e-12);
    assert_int_equal(measure->redundancy, 3); /* four lengths and four corners: three too many */
    assert_int_equal(measure->verdict, MEASURE_CLOSES);
    check_near(measure->chi, 0.0, 1e-9);
    check_near(sum_of_redundancy(&house), 3.0, 1e-9);
    house_free(&house);
}

/* A foot short in one side of a rectangle is a foot long in the other: nothing tells them apart. */
static void a_ring_alone_cannot_tell_opposite_sides_apart(void **state) {
    (void)state;
    struct house house = house_solve(HEAD RING("39'"), NULL, NULL);
    const struct measure *measure = &house.solution.measure;
    check_near(measure->misclosure_m, FOOT_M, 1e-9);
    assert_int_equal(measure->verdict, MEASURE_UNDECIDED);
    assert_true(measure->likely >= 2);
    assert_true(base_text_is(measure->items[measure->causes[0].item].name, "south"));
    assert_true(base_text_is(measure->items[measure->causes[1].item].name, "north"));
    assert_int_equal(measure->causes[0].slip, MEASURE_SLIP_FOOT_DROPPED);
    assert_int_equal(measure->causes[1].slip, MEASURE_SLIP_FOOT_ADDED);
    check_near(measure->causes[0].score, measure->causes[1].score, 0.2);
    assert_non_null(house_issue(&house, BASE_ISSUE_MEASUREMENTS_UNDECIDED));
    assert_non_null(house_issue(&house, BASE_ISSUE_RING_DOES_NOT_CLOSE));
    house_free(&house);
}

struct slip_case {
    const char *job;
    const char *item;
    enum measure_slip slip;
    int64_t meant_tick; /* 0: not looked at */
};

#define FEET(feet, inches) ((feet)*UNITS_TICK_PER_FOOT + (inches)*UNITS_TICK_PER_INCH)

static const struct slip_case SLIPS[] = {
    {HEAD RING("39'") DIAGONALS, "south", MEASURE_SLIP_FOOT_DROPPED, FEET(40, 0)},
    {HEAD RING("41'") DIAGONALS, "south", MEASURE_SLIP_FOOT_ADDED, FEET(40, 0)},
    {HEAD RING("04'") DIAGONALS, "south", MEASURE_SLIP_NONE, 0},
    {HEAD RING("40\"") DIAGONALS, "south", MEASURE_SLIP_INCHES_FOR_FEET, FEET(40, 0)},
    {HEAD RING("1219\"") DIAGONALS, "south", MEASURE_SLIP_METRIC_FOR_INCHES, 0},
    {HEAD RING("38'") DIAGONALS, "south", MEASURE_SLIP_OVERHANG_BOTH, FEET(40, 0)},
};

static void each_slip_of_a_length_is_named(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof SLIPS / sizeof SLIPS[0]; i++) {
        struct house house = house_solve(SLIPS[i].job, NULL, NULL);
        const struct measure *measure = &house.solution.measure;
        if (measure->verdict != MEASURE_ONE_WRONG || measure->causes[0].slip != SLIPS[i].slip) {
            print_error("case %zu: verdict %d\n", i, (int)measure->verdict);
        }
        assert_int_equal(measure->verdict, MEASURE_ONE_WRONG);
        assert_true(base_text_is(measure->items[measure->causes[0].item].name, SLIPS[i].item));
        assert_int_equal(measure->causes[0].slip, SLIPS[i].slip);
        if (SLIPS[i].meant_tick > 0) {
            assert_int_equal(measure->causes[0].meant.integer, SLIPS[i].meant_tick);
        }
        assert_non_null(house_issue(&house, BASE_ISSUE_MEASUREMENT_SUSPECT));
        house_free(&house);
    }
}

static void swapped_figures_and_tenths_of_feet_are_named(void **state) {
    (void)state;
    /* 42' for 24' and 24' 8" for 24.8 ft, on the east side of a house 24 or 24.8 ft deep */
    struct house house =
        house_solve(HEAD "runs:\n" RUN("south", "40'", EDGE) RUN("east", "42'", EDGE)
                        RUN("north", "40'", EDGE) RUN("west", "24'", EDGE) DIAGONALS,
                    NULL, NULL);
    const struct measure *measure = &house.solution.measure;
    assert_int_equal(measure->verdict, MEASURE_ONE_WRONG);
    assert_int_equal(measure->causes[0].slip, MEASURE_SLIP_DIGITS_SWAPPED);
    assert_true(base_text_is(measure->items[measure->causes[0].item].name, "east"));
    house_free(&house);
    house = house_solve(
        HEAD "runs:\n" RUN("south", "40'", EDGE) RUN("east", "24' 4\"", EDGE)
            RUN("north", "40'", EDGE)
                RUN("west", "24' 4 3/4\"", EDGE) "checks:\n"
                                                 "  - {name: long diagonal, from: south from, to: "
                                                 "east to, length: 46' 10 1/4\"}\n"
                                                 "  - {name: other diagonal, from: south to, to: "
                                                 "west from, length: 46' 10 1/4\"}\n",
        NULL, NULL);
    house_must_stand(&house);
    assert_int_equal(house.solution.measure.verdict, MEASURE_CLOSES); /* 0.8 in is within doubt */
    house_free(&house);
}

static void an_inside_corner_called_outside_is_named(void **state) {
    (void)state;
    static const char job[] =
        HEAD "runs:\n"
             "  - {name: a, length: 40', taped on: roof edge, depth: 9', pitch: 6/12, "
             "from: outside corner, to: outside corner}\n"
             "  - {name: b, length: 30', taped on: roof edge, depth: 9', pitch: 6/12, "
             "from: outside corner, to: outside corner}\n"
             "  - {name: c, length: 15', taped on: roof edge, depth: 9', pitch: 6/12, "
             "from: outside corner, to: outside corner}\n"
             "  - {name: d, length: 10', taped on: roof edge, depth: 9', pitch: 6/12, "
             "from: outside corner, to: outside corner}\n"
             "  - {name: e, length: 25', taped on: roof edge, depth: 9', pitch: 6/12, "
             "from: outside corner, to: outside corner}\n"
             "  - {name: f, length: 20', taped on: roof edge, depth: 9', pitch: 6/12, "
             "from: outside corner, to: outside corner}\n";
    struct house house = house_solve(job, NULL, NULL);
    const struct measure *measure = &house.solution.measure;
    check_near(measure->turn_miss_rad, 180 * DEGREE, 1e-9);
    assert_int_equal(measure->verdict, MEASURE_ONE_WRONG);
    assert_true(base_text_is(measure->items[measure->causes[0].item].name, "d.to"));
    assert_int_equal(measure->causes[0].slip, MEASURE_SLIP_INSIDE_OUTSIDE);
    house_free(&house);
}

/* ---- checks -------------------------------------------------------------------------------- */

static void one_check_more_than_needed_cannot_locate_a_blunder(void **state) {
    (void)state;
    struct house house = house_solve(
        HEAD CHAIN "checks: [{name: across, from: front from, to: side to, length: 50' 5\"}]\n",
        NULL, NULL);
    const struct measure *measure = &house.solution.measure;
    assert_int_equal(measure->redundancy, 1);
    check_near(sum_of_redundancy(&house), 1.0, 1e-9);
    double w = fabs(measure->items[0].w_1);
    for (size_t i = 1; i < measure->item_count; i++) {
        check_near(fabs(measure->items[i].w_1), w, 1e-2 * w); /* all alike, as in W5 */
    }
    assert_int_equal(measure->verdict, MEASURE_UNDECIDED);
    assert_true(measure->likely >= 3);
    house_free(&house);
}

/* By hand: a wing 44' 6" by 26' with gables: ridge 44' 6", rise 13' x 9/12 = 9' 9", diagonal
 * sqrt(44.5^2 + 26^2) = 51.5388 ft. DERIVED. */
static void a_wing_is_held_to_its_ridge_rise_and_diagonal(void **state) {
    (void)state;
    struct house house =
        house_solve(HEAD HALL "checks:\n"
                              "  - {ridge of: hall, length: 44' 6\"}\n"
                              "  - {rise of: hall, length: 9' 9\"}\n"
                              "  - {width of: hall, length: 44' 6 1/4\"}\n"
                              "  - {depth of: hall, length: 26'}\n"
                              "  - {name: diagonal, from: hall south from, to: hall north from, "
                              "length: 51' 6 1/2\"}\n",
                    NULL, NULL);
    house_must_stand(&house);
    const struct measure *measure = &house.solution.measure;
    assert_int_equal(measure->redundancy, 5);
    check_near(sum_of_redundancy(&house), 5.0, 1e-9);
    assert_int_equal(measure->verdict, MEASURE_CLOSES);
    check_near(item_of(&house, "hall ridge")->adjusted, item_of(&house, "hall.width")->adjusted,
               1e-7);
    check_near(item_of(&house, "hall rise")->adjusted,
               0.5 * item_of(&house, "hall.depth")->adjusted *
                   item_of(&house, "hall.pitch")->adjusted,
               1e-6);
    check_near(
        item_of(&house, "diagonal")->adjusted,
        hypot(item_of(&house, "hall.width")->adjusted, item_of(&house, "hall.depth")->adjusted),
        1e-7);
    house_free(&house);
}

/* A hip roof 40 by 24: its ridge is 16 ft, whatever the pitch. */
static void a_hip_roof_has_the_ridge_of_plane_geometry(void **state) {
    (void)state;
    struct house house = house_solve(
        HEAD "wings:\n  - {name: hall, corner: [3', -4'], size: [40', 24'], eave height: 17', "
             "pitch: 9/12, edges: [eave, eave, eave, eave], overhang: 12\"}\n"
             "checks:\n  - {ridge of: hall, length: 16'}\n  - {rise of: hall, length: 9'}\n",
        NULL, NULL);
    house_must_stand(&house);
    assert_int_equal(house.solution.measure.verdict, MEASURE_CLOSES);
    check_near(house.solution.measure.chi, 0.0, 1e-6);
    house_free(&house);
}

/* 40 ft by 30 ft by the tape, four corners called square: a quarter of a degree over 40 ft is 2 in
 * already. A miss of 30 mm is within that doubt, and no other room says otherwise; one of 2 ft is
 * said once. */
static void one_room_judges_whether_a_ring_closes(void **state) {
    (void)state;
    static const struct {
        const char *north;
        bool closes;
    } CASES[] = {{"40' 1 3/16\"", true}, {"42'", false}};
    for (size_t i = 0; i < 2; i++) {
        char text[1024];
        static const char *const REST = "taped on: roof edge, depth: 10', pitch: 6/12, "
                                        "from: outside corner, to: outside corner, "
                                        "eave height: 10', overhang: 12\"}\n";
        snprintf(text, sizeof text,
                 "%sruns:\n  - {name: south, length: 40', %s  - {name: east, length: 30', %s"
                 "  - {name: north, length: %s, %s  - {name: west, length: 30', %s",
                 HEAD, REST, REST, CASES[i].north, REST, REST);
        struct house house = house_solve(text, NULL, NULL);
        assert_int_equal(house_issue(&house, BASE_ISSUE_RING_DOES_NOT_CLOSE) == NULL,
                         CASES[i].closes);
        assert_null(house_issue(&house, BASE_ISSUE_ROOF_RING_OPEN));
        house_free(&house);
    }
}

/* Roofs that break: a mansard 24/12 for 4' and 6/12 for the 8' left, 8' + 4'; flared eaves 4/12 for
 * 3' and 12/12 for 9', 1' + 9'; flared to the south only: y - 2' meets 24' - y at 13', 11' up.
 * DERIVED. */
static void a_roof_that_breaks_is_held_to_its_own_rise(void **state) {
    (void)state;
    static const char *const HOUSES[] = {
        "pitch: 24/12, upper roof: {begins: 4', pitch: 6/12}, edges: [eave, eave, eave, eave], "
        "overhang: 12\"}\nchecks: [{ridge of: hall, length: 16'}, {rise of: hall, length: 12'}]\n",
        "pitch: 4/12, upper roof: {begins: 3', pitch: 12/12}, edges: [eave, gable, eave, gable], "
        "overhang: 12\"}\nchecks: [{ridge of: hall, length: 40'}, {rise of: hall, length: 10'}]\n",
        "pitches: [4/12, ~, 12/12, ~], upper roof: {begins: 3', pitch: 12/12}, edges: "
        "[eave, gable, eave, gable], overhang: 12\"}\nchecks: [{rise of: hall, length: 11'}]\n"};
    for (size_t i = 0; i < sizeof HOUSES / sizeof HOUSES[0]; i++) {
        char text[1024];
        snprintf(text, sizeof text, "%s%s%s", HEAD,
                 "wings:\n  - {name: hall, corner: [0, 0], size: [40', 24'], eave height: 17', ",
                 HOUSES[i]);
        struct house house = house_solve(text, NULL, NULL);
        house_must_stand(&house);
        check_near(house.solution.measure.chi, 0.0, 1e-6);
        house_free(&house);
    }
}

static void a_width_taped_on_the_wall_is_seen_by_the_ridge(void **state) {
    (void)state;
    struct house house =
        house_solve(HEAD HALL "checks:\n"
                              "  - {ridge of: hall, length: 46' 6\"}\n"
                              "  - {name: diagonal, from: hall south from, to: hall north from, "
                              "length: 53' 3 1/4\"}\n",
                    NULL, NULL);
    const struct measure *measure = &house.solution.measure;
    assert_int_equal(measure->verdict, MEASURE_ONE_WRONG);
    assert_true(base_text_is(measure->items[measure->causes[0].item].name, "hall.width"));
    assert_int_equal(measure->causes[0].slip, MEASURE_SLIP_OVERHANG_BOTH);
    house_free(&house);
}

/* 3-4-5 is square; its doubt by the law of cosines: c / (a b) x 1/8 in across is 0.249 deg, the
 * legs' share (a - b cos)/(a b sin) = 1/b and 1/a. DERIVED. */
static void a_corner_is_found_from_three_lengths(void **state) {
    (void)state;
    struct measure_triangle triangle = {
        {36 * INCH_M, 48 * INCH_M}, {INCH_M / 8, INCH_M / 8}, 60 * INCH_M, INCH_M / 8};
    double angle = 0.0;
    double sigma = 0.0;
    assert_true(measure_find_corner(&triangle, &angle, &sigma));
    check_near(angle, 90 * DEGREE, 1e-12);
    double by_c = 60.0 / (36.0 * 48.0) / 8;
    check_near(sigma, sqrt(by_c * by_c + pow(1.0 / 48 / 8, 2) + pow(1.0 / 36 / 8, 2)), 1e-12);
    triangle.across_m = 85 * INCH_M;
    assert_false(measure_find_corner(&triangle, &angle, &sigma));
    triangle.across_m = 11 * INCH_M;
    assert_false(measure_find_corner(&triangle, &angle, &sigma));
}

/* The corner was called square; the tape says 87 degrees or so, and the across check agrees. */
static void a_corner_that_is_not_square_is_named(void **state) {
    (void)state;
    struct house house = house_solve(
        HEAD CHAIN "checks:\n"
                   "  - {corner: front to, legs: [3', 4'], across: 4' 11\"}\n"
                   "  - {name: across, from: front from, to: side to, length: 49' 1\"}\n",
        NULL, NULL);
    const struct measure *measure = &house.solution.measure;
    assert_int_equal(measure->redundancy, 2);
    assert_int_equal(measure->verdict, MEASURE_ONE_WRONG);
    assert_true(base_text_is(measure->items[measure->causes[0].item].name, "front.to"));
    house_free(&house);
}

/* ---- doubts -------------------------------------------------------------------------------- */

static void doubts_readings_and_guesses_have_their_deviations(void **state) {
    (void)state;
    bool assumed = false;
    struct job_length length = {.given = true, .tick = FEET(40, 0), .reading_count = 1};
    check_near(measure_length_sigma(&length, &assumed), hypot(0.00635, 40 * FOOT_M / 2000), 1e-12);
    assert_true(assumed);
    length.doubt_tick = FEET(0, 1);
    check_near(measure_length_sigma(&length, &assumed), INCH_M / 2, 1e-12);
    assert_false(assumed);
    length.reading_count = 2; /* half the spread of the readings */
    check_near(measure_length_sigma(&length, &assumed), INCH_M, 1e-12);
    length = (struct job_length){.given = true, .guess = true, .tick = FEET(40, 0)};
    check_near(measure_length_sigma(&length, &assumed), 0.8 * FOOT_M, 1e-12);
}

/* Chi squared, 99th percentile, by the usual tables: 1: 6.635, 2: 9.210, 3: 11.345, 5: 15.086,
 * 10: 23.209. MEMORY. Two-sided normal: 0.01/1: 2.576, 0.01/10: 3.291. MEMORY. */
static void limits_of_chance_agree_with_tables(void **state) {
    (void)state;
    static const double TABLE[][2] = {
        {1, 6.635}, {2, 9.210}, {3, 11.345}, {5, 15.086}, {10, 23.209}};
    for (size_t i = 0; i < 5; i++) {
        check_near(measure_chi_limit((size_t)TABLE[i][0]), TABLE[i][1], 0.01 * TABLE[i][1]);
    }
    check_near(measure_critical(1), 2.576, 5e-4);
    check_near(measure_critical(10), 3.291, 5e-4);
}

static void several_wrong_measurements_are_not_laid_on_one(void **state) {
    (void)state;
    struct house house =
        house_solve(HEAD "runs:\n" RUN("south", "40'", EDGE) RUN("east", "19'", EDGE)
                        RUN("north", "47'", EDGE) RUN("west", "24'", EDGE) DIAGONALS,
                    NULL, NULL);
    assert_int_equal(house.solution.measure.verdict, MEASURE_SEVERAL_WRONG);
    assert_non_null(house_issue(&house, BASE_ISSUE_MEASUREMENTS_DISAGREE));
    house_free(&house);
}

/* ---- what is refused ----------------------------------------------------------------------- */

struct refusal {
    enum base_issue_code code;
    const char *job;
};

#define PARTED                                                                                     \
    "runs:\n"                                                                                      \
    "  - {name: front, length: 40', taped on: roof edge, depth: 12', pitch: 6/12, "                \
    "from: end cap, to: end cap}\n"                                                                \
    "  - {name: back, length: 40', taped on: roof edge, depth: 12', pitch: 6/12, "                 \
    "from: end cap, to: end cap}\n"
#define CHECK(more) "checks: [{" more "}]\n"

static const struct refusal REFUSALS[] = {
    {BASE_ISSUE_CHECK_APART,
     HEAD PARTED CHECK("name: across, from: front from, to: back to, length: 30'")},
    {BASE_ISSUE_CHECK_LINE,
     HEAD HALL CHECK(
         "name: across, from: hall 1 from, to: hall 3 to, length: 30', taped on: wall")},
    {BASE_ISSUE_CHECK_NO_CORNER, HEAD PARTED CHECK("corner: front to, legs: [3', 4'], across: 5'")},
    {BASE_ISSUE_CHECK_NO_TRIANGLE,
     HEAD CHAIN CHECK("corner: front to, legs: [3', 4'], across: 8'")},
    {BASE_ISSUE_CHECK_NO_RIDGE,
     HEAD "wings: [{name: shed, corner: [0, 0], size: [20', 10'], eave height: 9', pitch: 4/12, "
          "edges: [eave, gable, wall, gable]}]\n" CHECK("ridge of: shed, length: 20'")},
    {BASE_ISSUE_NO_SUCH_EAVE, HEAD HALL CHECK("ridge of: hal, length: 20'")},
    {BASE_ISSUE_NO_SUCH_EAVE, HEAD CHAIN CHECK("ridge of: front, length: 20'")},
    {BASE_ISSUE_UNKNOWN_KEY, HEAD HALL CHECK("ridge of: hall, lenght: 20'")},
    {BASE_ISSUE_MISSING_KEY, HEAD HALL CHECK("ridge of: hall")},
    {BASE_ISSUE_MISSING_KEY, HEAD HALL CHECK("length: 20'")},
    {BASE_ISSUE_MISSING_KEY, HEAD CHAIN CHECK("from: front from, length: 20'")},
    {BASE_ISSUE_MISSING_KEY, HEAD CHAIN CHECK("corner: front to, across: 5'")},
    {BASE_ISSUE_TWO_KEYS, HEAD HALL CHECK("ridge of: hall, rise of: hall, length: 20'")},
    {BASE_ISSUE_NAME_TAKEN, HEAD HALL CHECK("name: hall, ridge of: hall, length: 20'")},
    {BASE_ISSUE_NAME_TAKEN,
     HEAD HALL "checks: [{ridge of: hall, length: 44'}, {ridge of: hall, length: 44'}]\n"},
    {BASE_ISSUE_BAD_NAME, HEAD HALL CHECK("name: a/b, ridge of: hall, length: 20'")},
    {BASE_ISSUE_OUT_OF_RANGE, HEAD CHAIN CHECK("corner: front at 3', legs: [3', 4'], across: 5'")},
    {BASE_ISSUE_WRONG_KIND, HEAD CHAIN CHECK("corner: front to, legs: 3', across: 5'")},
    {BASE_ISSUE_WRONG_KIND, HEAD HALL "checks: 12\n"},
};

static void a_check_that_cannot_be_is_refused(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof REFUSALS / sizeof REFUSALS[0]; i++) {
        struct house house = house_solve(REFUSALS[i].job, NULL, NULL);
        if (house_issue(&house, REFUSALS[i].code) == NULL) {
            print_error("case %zu should give %s, gave:\n", i, base_issue_name(REFUSALS[i].code));
            house_print_issues(&house);
        }
        assert_non_null(house_issue(&house, REFUSALS[i].code));
        assert_int_equal(house.status, BASE_STOPPED);
        house_free(&house);
    }
}

/* A wing whose plan has no width and depth, whatever its shape. */
static void a_check_on_a_wing_that_is_no_rectangle_is_refused(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    struct job_wing turret = {.name = base_text_of("turret"), .mark = {.line = 1}};
    struct job_check checks[] = {{.kind = JOB_CHECK_RISE, .name = base_text_of("rise")},
                                 {.kind = JOB_CHECK_BETWEEN,
                                  .name = base_text_of("across"),
                                  .from = {.eave = turret.name, .edge = 1},
                                  .to = {.eave = turret.name, .edge = 3}}};
    struct job job = {.wings = &turret, .wing_count = 1, .checks = checks, .check_count = 2};
    struct measure measure;
    assert_int_equal(measure_check(arena, &issues, &job, &measure), BASE_STOPPED);
    assert_int_equal(issues.count, 2);
    assert_int_equal(issues.items[0].code, BASE_ISSUE_CHECK_SHAPE);
    assert_int_equal(issues.items[1].code, BASE_ISSUE_CHECK_SHAPE);
    base_free_arena(arena);
}

static void a_house_of_very_many_runs_is_not_adjusted(void **state) {
    (void)state;
    static char text[60000];
    size_t at = (size_t)snprintf(text, sizeof text, "%sruns:\n", HEAD);
    for (int i = 0; i < 100; i++) {
        at += (size_t)snprintf(text + at, sizeof text - at,
                               "  - {name: r%d, length: 20', taped on: roof edge, depth: 9', "
                               "pitch: 6/12, from: end cap, to: end cap}\n",
                               i);
    }
    assert_true(at < sizeof text);
    struct house house = house_solve(text, NULL, NULL);
    assert_int_equal(house.solution.measure.verdict, MEASURE_TOO_MANY);
    assert_non_null(house_issue(&house, BASE_ISSUE_MEASURE_TOO_MANY));
    house_free(&house);
}

/* Any take that fails gives BASE_NO_MEMORY and nothing else. */
static void any_failed_take_gives_no_memory(void **state) {
    (void)state;
    struct house house = house_solve(HEAD RING("39'") DIAGONALS, NULL, NULL);
    for (size_t nth = 1;; nth++) {
        struct base_arena *arena = base_make_arena(0);
        struct base_issues issues = {.arena = arena};
        struct measure measure;
        base_fail_take(arena, nth);
        enum base_status status = measure_check(arena, &issues, &house.solution.job, &measure);
        bool failed = base_arena_failed(arena);
        base_free_arena(arena);
        assert_int_equal(status, failed ? BASE_NO_MEMORY : BASE_OK);
        if (!failed) {
            assert_true(nth > 10);
            break;
        }
    }
    house_free(&house);
}

/* ---- published and wrong (worked examples whose print is not to be believed) --------------- */

/* A tutorial's net of 4 points, 10 distances and 10 directions is said to have 10 degrees of
 * freedom; 8 coordinates and 4 orientations less 3 that are loose leave 11. */
static void a_published_count_of_freedom_is_not_ours(void **state) {
    (void)state;
    enum { POINTS = 4, SHOTS = 10, ROWS = 2 * SHOTS, COLUMNS = 3 * POINTS };
    static const double AT[POINTS][2] = {{0, 0}, {100, 10}, {90, 120}, {-10, 80}};
    double design[ROWS * COLUMNS] = {0};
    double observed[ROWS] = {0};
    for (size_t i = 0; i < SHOTS; i++) {
        size_t from = i / 3;
        size_t to = (from + 1 + i % 3) % POINTS;
        double x = AT[to][0] - AT[from][0];
        double y = AT[to][1] - AT[from][1];
        double length = hypot(x, y);
        double *distance = &design[2 * i * COLUMNS];
        double *direction = distance + COLUMNS;
        for (int k = 0; k < 2; k++) {
            double sign = k == 0 ? -1 : 1;
            size_t column = 2 * (k == 0 ? from : to);
            distance[column] = sign * x / length;
            distance[column + 1] = sign * y / length;
            direction[column] = -sign * y / (length * length);
            direction[column + 1] = sign * x / (length * length);
        }
        direction[2 * POINTS + from] = -1;
    }
    double work[2 * ROWS * COLUMNS + 3 * COLUMNS + ROWS];
    double solution[COLUMNS];
    double residuals[ROWS];
    double redundancy[ROWS];
    struct numeric_fit fit = {.rows = ROWS,
                              .columns = COLUMNS,
                              .design = design,
                              .observed = observed,
                              .work = work,
                              .solution = solution,
                              .residuals = residuals,
                              .redundancy = redundancy};
    numeric_fit_least_squares(&fit);
    assert_int_equal(fit.rows - fit.rank, 11);
}

/* A bearing is printed with 60 seconds: it is refused, not carried over in silence. */
static void a_published_angle_of_sixty_seconds_is_refused(void **state) {
    (void)state;
    assert_int_not_equal(units_read_angle(base_text_of("227 deg 09' 60\"")).fault, UNITS_FINE);
    assert_int_not_equal(units_read_angle(base_text_of("227\xC2\xB0"
                                                       "09'60\""))
                             .fault,
                         UNITS_FINE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_single_run_has_nothing_to_check),
        cmocka_unit_test(a_ring_taped_on_two_lines_closes),
        cmocka_unit_test(a_ring_alone_cannot_tell_opposite_sides_apart),
        cmocka_unit_test(each_slip_of_a_length_is_named),
        cmocka_unit_test(swapped_figures_and_tenths_of_feet_are_named),
        cmocka_unit_test(an_inside_corner_called_outside_is_named),
        cmocka_unit_test(one_check_more_than_needed_cannot_locate_a_blunder),
        cmocka_unit_test(a_wing_is_held_to_its_ridge_rise_and_diagonal),
        cmocka_unit_test(a_hip_roof_has_the_ridge_of_plane_geometry),
        cmocka_unit_test(one_room_judges_whether_a_ring_closes),
        cmocka_unit_test(a_roof_that_breaks_is_held_to_its_own_rise),
        cmocka_unit_test(a_width_taped_on_the_wall_is_seen_by_the_ridge),
        cmocka_unit_test(a_corner_is_found_from_three_lengths),
        cmocka_unit_test(a_corner_that_is_not_square_is_named),
        cmocka_unit_test(doubts_readings_and_guesses_have_their_deviations),
        cmocka_unit_test(limits_of_chance_agree_with_tables),
        cmocka_unit_test(several_wrong_measurements_are_not_laid_on_one),
        cmocka_unit_test(a_check_that_cannot_be_is_refused),
        cmocka_unit_test(a_check_on_a_wing_that_is_no_rectangle_is_refused),
        cmocka_unit_test(a_house_of_very_many_runs_is_not_adjusted),
        cmocka_unit_test(any_failed_take_gives_no_memory),
        cmocka_unit_test(a_published_count_of_freedom_is_not_ours),
        cmocka_unit_test(a_published_angle_of_sixty_seconds_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
