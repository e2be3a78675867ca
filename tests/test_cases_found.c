/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Situations of the trade that turn on what was found at the house: a valley's metal, courses of
 * brick, a sagging eave, a gutter that cannot be hung anew. Figures are of the case named, the rest
 * DERIVED.
 */
#include "check.h"
#include "house.h"

#include <stdio.h>

#define HEAD                                                                                       \
    "eavesmith: 1\njob: case\nunits: ft-in\n"                                                      \
    "place: {rain: {intensity: 5 in/h, minutes: 5, years: 10}}\n"
static const int64_t inch = UNITS_TICK_PER_INCH;

static struct house solve_with(const char *before, const char *said, const char *after) {
    static char text[2048];
    int length = snprintf(text, sizeof text, "%s%s%s%s", HEAD, before, said, after);
    assert_true(length > 0 && (size_t)length < sizeof text);
    return house_solve(text, NULL, NULL);
}

/* C01: the end of the valley's metal stood 1 in from the lip of a 5 in gutter and failed, 4 in
 * worked (FOUND): 4 in and 1 in out. Less than half of it clear is a finding (COMMON PRACTICE), and
 * until that is mended no splash piece is asked for. */
static void c01_a_valleys_metal_that_covers_the_gutter(void **state) {
    (void)state;
    static const char *const ELL =
        "wings:\n"
        "  - {name: hall, corner: [0, 0], size: [40', 26'], eave height: 12', pitch: 9/12, edges: "
        "[eave, gable, eave, gable], overhang: 12\"}\n"
        "  - {name: ell, corner: [10', 26'], size: [18', 16'], eave height: 12', pitch: 9/12, "
        "edges: [wall, eave, gable, eave], overhang: 12\"}\n"
        "gutter: {size: 5 in}\neave section: {fascia: {depth: 7\"}, roof cover: {overhang: 1\"";
    static const char *const REST =
        "}}\noutlets: {at: [hall 1 to, hall 3 to, hall 3 from, ell 2 from, ell 4 to]}\n";
    struct house far = solve_with(ELL, ", valley metal: 4\"", REST);
    const struct base_issue *issue = house_issue(&far, BASE_ISSUE_VALLEY_METAL_FAR);
    assert_non_null(issue);
    assert_int_equal(issue->value.integer, 4 * inch);
    assert_null(house_issue(&far, BASE_ISSUE_VALLEY_SHOOTS_OVER));
    house_free(&far);
    struct house near = solve_with(ELL, ", valley metal: 1\"", REST);
    assert_null(house_issue(&near, BASE_ISSUE_VALLEY_METAL_FAR));
    assert_non_null(house_issue(&near, BASE_ISSUE_VALLEY_SHOOTS_OVER)); /* asked for after that */
    house_free(&near);
}

/* C18: 80 courses of 65 mm brick with joints of 10 mm are 75 mm x 80 = 6.00 m, where the rule of
 * thumb says 80 / 13 = 6.15 m; of old brick, four courses 12 1/2 in, 250 in. Without the gauge of
 * four courses it is asked for. */
static void c18_a_height_counted_in_courses(void **state) {
    (void)state;
    static const char *const RUN = "runs: [{name: r, length: 20', taped on: roof edge, depth: 8', "
                                   "pitch: 6/12, from: end cap, to: end cap, overhang: 12\", "
                                   "eave height: ";
    static const char *const REST = "}]\noutlets: {at: [r to]}\n";
    struct house old = solve_with(RUN, "{courses: 80, four courses: 12 1/2\"}", REST);
    assert_int_equal(old.solution.job.runs[0].eave_height.tick, 250 * inch);
    house_free(&old);
    struct house metric = solve_with(RUN, "{courses: 80, four courses: 300 mm}", REST);
    assert_int_equal(metric.solution.job.runs[0].eave_height.tick, 6000 * UNITS_TICK_PER_MM);
    house_free(&metric);
    struct house bare = solve_with(RUN, "{courses: 80}", REST);
    assert_int_equal(bare.status, BASE_STOPPED);
    assert_non_null(house_issue(&bare, BASE_ISSUE_MISSING_KEY));
    house_free(&bare);
    struct house wrong = solve_with(RUN, "{courses: many, four courses: 12\"}", REST);
    assert_non_null(house_issue(&wrong, BASE_ISSUE_OUT_OF_RANGE));
    house_free(&wrong);
}

/* C21: 30 ft that sag 3 in, where L/360 is 1 in (COMMON PRACTICE). An inch is no finding. */
static void c21_an_eave_that_sags(void **state) {
    (void)state;
    static const char *const RUN = "runs: [{name: r, length: 30', taped on: roof edge, depth: 8', "
                                   "pitch: 6/12, from: end cap, to: end cap, overhang: 12\", "
                                   "eave height: 10', sag: ";
    static const char *const REST = "}]\noutlets: {at: [r at 15']}\n";
    struct house much = solve_with(RUN, "3\"", REST);
    const struct base_issue *issue = house_issue(&much, BASE_ISSUE_ROOF_EAVE_SAGS);
    assert_non_null(issue);
    assert_int_equal(issue->value.integer, 3 * inch);
    assert_int_equal(issue->limit.integer, inch);
    house_free(&much);
    struct house little = solve_with(RUN, "1\"", REST);
    assert_null(house_issue(&little, BASE_ISSUE_ROOF_EAVE_SAGS));
    house_free(&little);
}

/* C59: the end with the downspout has become the high one, and a flange under the roof keeps the
 * gutter where it is: only an outlet at its low end will do. Without the flange it can be hung
 * anew; with the outlet at the low end nothing is said. */
static void c59_a_gutter_that_cannot_be_hung_anew(void **state) {
    (void)state;
    static const char *const RUN = "runs: [{name: r, length: 20', taped on: roof edge, depth: 8', "
                                   "pitch: 6/12, from: end cap, to: end cap, overhang: 12\", "
                                   "eave height: 10'}]\nas found: [{at: r, levels: [3 1/2\", "
                                   "2\"]";
    struct house fixed = solve_with(RUN, ", flange: under the roof}]\n", "outlets: {at: [r to]}\n");
    const struct base_issue *issue = house_issue(&fixed, BASE_ISSUE_FOUND_CANNOT_BE_REHUNG);
    assert_non_null(issue);
    assert_true(base_text_is(issue->other.text, "left"));
    assert_null(house_issue(&fixed, BASE_ISSUE_FOUND_FALLS_AWAY));
    house_free(&fixed);
    struct house loose = solve_with(RUN, "}]\n", "outlets: {at: [r to]}\n");
    assert_non_null(house_issue(&loose, BASE_ISSUE_FOUND_FALLS_AWAY));
    house_free(&loose);
    struct house moved =
        solve_with(RUN, ", flange: under the roof}]\n", "outlets: {at: [r from]}\n");
    assert_null(house_issue(&moved, BASE_ISSUE_FOUND_CANNOT_BE_REHUNG));
    house_free(&moved);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(c01_a_valleys_metal_that_covers_the_gutter),
        cmocka_unit_test(c18_a_height_counted_in_courses),
        cmocka_unit_test(c21_an_eave_that_sags),
        cmocka_unit_test(c59_a_gutter_that_cannot_be_hung_anew),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
