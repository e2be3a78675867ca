/* SPDX-License-Identifier: Apache-2.0 */
/* result.json of what was measured at the eaves: the wood, the ways down, the gutters as found. */
#include <math.h>
#include <stdio.h>

#include "check.h"
#include "house.h"
#include "result/result.h"

static const int64_t inch_tick = UNITS_TICK_PER_INCH;

static const char *const JOB =
    "eavesmith: 1\njob: eaves\nunits: ft-in\n"
    "place: {rain: {intensity: 4 in/h, minutes: 5, years: 10}, ground snow: 20 psf}\n"
    "gutter: {size: 5 in}\n"
    "runs: [{name: r, length: 20', taped on: roof edge, depth: 6', pitch: 9/12, from: end cap, "
    "to: end cap, overhang: 12\", eave height: 14', eave section: {tails: {spacing: 24\", first: "
    "10\", width: 1 3/4\", depth: 5\", cut: square, mend: wedge}}}]\n"
    "outlets: {at: [r to], downspout: 3 in}\n"
    "survey: [{at: r to, ground: 14' 3\", soffit: 10\", wall: brick, foot: {kind: boot, inside: "
    "4\"}, water table: {height: 2', projection: 8\"}, near: [door, walk]}]\n"
    "as found: [{at: r, profile: half-round, size: 5 in, bead: 1/2\", metal: copper, levels: [1\", "
    "3\"], photos: [2, 5]}, {profile: ogee, size: 4 in}]\n";

struct answer {
    struct house house;
    struct result_leaves leaves;
    struct base_text text;
};

static struct answer solve(const char *job) {
    struct answer answer = {.house = house_solve(job, NULL, NULL)};
    house_must_stand(&answer.house);
    answer.text = result_write(answer.house.arena, &answer.house.solution, &answer.house.issues,
                               &answer.leaves);
    assert_true(answer.text.length > 0);
    return answer;
}

static const struct base_value *find(const struct answer *answer, const char *path) {
    for (size_t i = 0; i < answer->leaves.count; i++) {
        if (base_text_is(answer->leaves.items[i].path, path)) {
            return &answer->leaves.items[i].value;
        }
    }
    return NULL;
}

static void must_be_text(const struct answer *answer, const char *path, const char *text) {
    const struct base_value *value = find(answer, path);
    assert_non_null(value);
    assert_true(base_text_is(value->text, text));
}

static void must_be_tick(const struct answer *answer, const char *path, int64_t tick) {
    const struct base_value *value = find(answer, path);
    assert_non_null(value);
    assert_int_equal(value->integer, tick);
}

/* 9/12 leans by 36.87 degrees; a tail of 5 in gives a wedge of 5 x 0.6 = 3 in. DERIVED */
static void the_wood_and_its_wedge_are_written(void **state) {
    (void)state;
    struct answer answer = solve(JOB);
    must_be_text(&answer, "hang/r/wood", "tails");
    must_be_text(&answer, "hang/r/fixing", "wedge");
    check_near(find(&answer, "hang/r/tip_rad")->number, atan(0.75), 1e-12);
    must_be_tick(&answer, "hang/r/wedge_face_m", 5 * inch_tick);
    must_be_tick(&answer, "hang/r/wedge_thick_m", 3 * inch_tick);
    must_be_tick(&answer, "hang/r/wedge_wide_m", 7 * inch_tick / 4);
    house_free(&answer.house);
}

static void the_survey_is_written_under_its_outlet(void **state) {
    (void)state;
    struct answer answer = solve(JOB);
    must_be_text(&answer, "downspouts/r.outlet.1/surveyed", "yes");
    must_be_tick(&answer, "downspouts/r.outlet.1/ground_m", (14 * 12 + 3) * inch_tick);
    must_be_text(&answer, "downspouts/r.outlet.1/1/over", "water-table");
    must_be_tick(&answer, "downspouts/r.outlet.1/1/over_m", 24 * inch_tick);
    must_be_tick(&answer, "downspouts/r.outlet.1/1/stand_m", 9 * inch_tick); /* 8 and 1 clear */
    must_be_text(&answer, "surveys/r.outlet.1/wall", "brick");
    must_be_text(&answer, "surveys/r.outlet.1/foot", "boot");
    must_be_text(&answer, "surveys/r.outlet.1/near", "door, walk");
    must_be_tick(&answer, "surveys/r.outlet.1/boot_inside_m", 4 * inch_tick);
    must_be_tick(&answer, "surveys/r.outlet.1/1/height_m", 24 * inch_tick);
    must_be_tick(&answer, "surveys/r.outlet.1/1/projection_m", 8 * inch_tick);
    house_free(&answer.house);
}

/* 2 in over the gutter's 20 ft 2 in, down to the right. DERIVED */
static void what_was_found_is_written_as_it_was_said(void **state) {
    (void)state;
    struct answer answer = solve(JOB);
    must_be_text(&answer, "as_found/1/at", "r");
    must_be_text(&answer, "as_found/1/profile", "half-round");
    must_be_tick(&answer, "as_found/1/bead_m", inch_tick / 2);
    must_be_text(&answer, "as_found/1/photos", "2, 5");
    check_near(find(&answer, "as_found/1/fall_1")->number, 2.0 / 242, 1e-9);
    assert_non_null(find(&answer, "as_found/1/made_fall_1"));
    must_be_text(&answer, "as_found/2/at", "house");
    assert_null(find(&answer, "as_found/2/fall_1"));
    assert_null(find(&answer, "as_found/2/bead_m")); /* what was not said is absent */
    house_free(&answer.house);
}

static void what_was_not_measured_is_absent(void **state) {
    (void)state;
    struct answer answer = solve(
        "eavesmith: 1\njob: bare\nunits: ft-in\n"
        "place: {rain: {intensity: 4 in/h, minutes: 5, years: 10}}\n"
        "runs: [{name: r, length: 20', taped on: roof edge, depth: 6', pitch: 9/12, from: end "
        "cap, to: end cap, overhang: 12\", eave height: 14'}]\noutlets: {at: [r to]}\n");
    must_be_text(&answer, "downspouts/r.outlet.1/surveyed", "no");
    must_be_text(&answer, "hang/r/fixing", "plumb");
    assert_null(find(&answer, "hang/r/tip_rad"));
    for (size_t i = 0; i < answer.leaves.count; i++) {
        assert_false(base_text_starts(answer.leaves.items[i].path, "surveys/"));
        assert_false(base_text_starts(answer.leaves.items[i].path, "as_found/"));
    }
    house_free(&answer.house);
}

/* Two outlets share 20 ft x 6 ft; the deck, 10 ft x 12 ft, is drained by its scupper, 6 in wide:
 * 120 ft2 x 4 in/h = 40 ft3/h, h = (40/3600 / (3.33 x 0.5))^(2/3) = 0.03545 ft. DERIVED */
static void who_drains_to_whom_is_written(void **state) {
    (void)state;
    struct answer answer =
        solve("eavesmith: 1\njob: decked\nunits: ft-in\n"
              "place: {rain: {intensity: 4 in/h, minutes: 5, years: 10}}\nwater: {area: plan}\n"
              "wings:\n"
              "  - {name: shed, corner: [0, 0], size: [20', 6'], eave height: 8', pitch: 3/12, "
              "edges: [eave, gable, wall, gable], overhang: 12\"}\n"
              "  - {name: deck, corner: [30', 0], size: [10', 12'], eave height: 10', flat deck: "
              "{scupper edge: 1, at: 5', width: 6\", lowest edge: 1/4\"}}\n"
              "outlets: {at: [shed 1 from, shed 1 to]}\n");
    must_be_text(&answer, "links/shed.1.outlet.1/by", "outlet");
    must_be_text(&answer, "links/shed.1.outlet.1/end", "ground");
    check_near(find(&answer, "links/shed.1.outlet.1/plan_area_m2")->number, 60 * 0.09290304, 0.1);
    must_be_text(&answer, "links/deck.1.link.1/by", "scupper");
    must_be_text(&answer, "links/deck.1.link.1/end", "ground");
    check_near(find(&answer, "decks/deck/depth_m")->number, 0.03545 * 0.3048, 2e-6);
    must_be_tick(&answer, "decks/deck/edge_m", inch_tick / 4);
    const struct base_issue *over = house_issue(&answer.house, BASE_ISSUE_SCUPPER_TOO_NARROW);
    assert_non_null(over); /* 0.43 in over an edge of 1/4 in */
    assert_null(house_issue(&answer.house, BASE_ISSUE_ASSUMED_DECK_EDGE));
    house_free(&answer.house);
}

/* The lowest edge is assumed where nobody said it, and where the width is not said there is no
 * depth at all. */
static void a_deck_of_which_little_is_said_says_so(void **state) {
    (void)state;
    static const struct {
        const char *deck;
        bool depth;
    } CASES[] = {{"scupper edge: 1, at: 5', width: 6\"", true}, {"scupper edge: 1, at: 5'", false}};
    for (size_t i = 0; i < 2; i++) {
        char job[1024];
        snprintf(job, sizeof job, "%s%s%s",
                 "eavesmith: 1\njob: decked\nunits: ft-in\n"
                 "place: {rain: {intensity: 4 in/h, minutes: 5, years: 10}}\nwings:\n"
                 "  - {name: shed, corner: [0, 0], size: [20', 6'], eave height: 8', pitch: 3/12, "
                 "edges: [eave, gable, wall, gable], overhang: 12\"}\n"
                 "  - {name: deck, corner: [30', 0], size: [10', 12'], eave height: 10', "
                 "flat deck: {",
                 CASES[i].deck, "}}\noutlets: {at: [shed 1 to]}\n");
        struct answer answer = solve(job);
        assert_int_equal(find(&answer, "decks/deck/depth_m") != NULL, CASES[i].depth);
        assert_int_equal(house_issue(&answer.house, BASE_ISSUE_ASSUMED_DECK_EDGE) != NULL,
                         CASES[i].depth);
        assert_int_equal(house_issue(&answer.house, BASE_ISSUE_SCUPPER_WIDTH) != NULL,
                         !CASES[i].depth);
        house_free(&answer.house);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_wood_and_its_wedge_are_written),
        cmocka_unit_test(the_survey_is_written_under_its_outlet),
        cmocka_unit_test(what_was_found_is_written_as_it_was_said),
        cmocka_unit_test(what_was_not_measured_is_absent),
        cmocka_unit_test(who_drains_to_whom_is_written),
        cmocka_unit_test(a_deck_of_which_little_is_said_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
