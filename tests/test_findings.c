/* SPDX-License-Identifier: Apache-2.0 */
/* Every finding of the rooms from tariff to money, each provoked by a job that deserves it. */
#include "check.h"
#include "house.h"

#define HEAD      "eavesmith: 1\njob: test\nunits: ft-in\n"
#define RAIN      "place: {rain: {intensity: 6.6 in/h, minutes: 5, years: 10}}\n"
#define HARD_RAIN "place: {rain: {intensity: 12 in/h, minutes: 5, years: 100}}\n"
#define RUN_BEGIN                                                                                  \
    "runs:\n  - {name: porch, taped on: roof edge, pitch: 4/12, from: end cap, to: end cap"
#define PORCH_SIZE ", length: 28' 4 1/2\", depth: 9' 2\""
#define PORCH_WALL ", eave height: 9' 7\", overhang: 11 1/4\""
#define PORCH      RUN_BEGIN PORCH_SIZE PORCH_WALL "}\n"
#define LONG_RUN   RUN_BEGIN PORCH_WALL ", length: 60', depth: 12'"
#define AT_TO      "outlets: {at: [porch to]}\n"
#define SPLASH     "outlets: {at: [porch to], discharge: splash block}\n"

/* Two eaves round one corner. */
#define CORNER(kind)                                                                               \
    "runs:\n"                                                                                      \
    "  - {name: yard, taped on: roof edge, length: 30', depth: 12', pitch: 6/12, from: end cap, "  \
    "to: " kind " corner, eave height: 10', overhang: 12\"}\n"                                     \
    "  - {name: lane, taped on: roof edge, length: 20', depth: 12', pitch: 6/12, from: " kind      \
    " corner, to: end cap, eave height: 10', overhang: 12\"}\n"

#define PRICES_HEAD "eavesmith prices: 1\ncurrency: USD\n"

struct finding {
    enum base_issue_code code;
    const char *job;
    const char *prices;
    const char *rain;
};

#define WINGS                                                                                      \
    "wings:\n"                                                                                     \
    "  - {name: hall, corner: [0, 0], size: [42', 24'], eave height: 17', pitch: 9/12, "           \
    "edges: [eave, gable, eave, gable], overhang: 12\"}\n"                                         \
    "  - {name: porch, corner: [12', -8'], size: [18', 8'], eave height: 9' 2\", pitch: 4/12, "    \
    "edges: [eave, gable, wall, gable], overhang: 10\"}\n"

/* Covers the middle of the hall's edge 3. */
#define ELL                                                                                        \
    "  - {name: ell, corner: [14', 24'], size: [18', 20'], eave height: 17', pitch: 9/12, "        \
    "edges: [wall, eave, gable, eave], overhang: 12\"}\n"

/* Invented values in the layout of the US point table. */
static const char rain_table[] =
    "Point precipitation frequency estimates (inches)\n"
    "Data type: Precipitation depth\nTime series type: Partial duration\n\n"
    "PRECIPITATION FREQUENCY ESTIMATES\n"
    "by duration for ARI (years):, 1,2,5,10,25,50,100\n"
    "5-min:, 0.341,0.404,0.487,0.550,0.633,0.696,0.759\n"
    "10-min:, 0.518,0.614,0.740,0.836,0.962,1.06,1.15\n"
    "15-min:, 0.627,0.743,0.896,1.01,1.17,1.28,1.40\n"
    "60-min:, 1.14,1.35,1.63,1.84,2.12,2.33,2.54\n";

static const char porch[] = HEAD RAIN PORCH AT_TO;

static const struct finding findings[] = {
    /* tariff */
    {BASE_ISSUE_PRICES_NOT_A_MAP, porch, "- a\n- b\n", NULL},
    {BASE_ISSUE_PRICES_NOT_A_MAP, porch, PRICES_HEAD "prices: 12\n", NULL},
    {BASE_ISSUE_PRICES_VERSION, porch, "eavesmith prices: 2\ncurrency: USD\nprices: {a: 1}\n",
     NULL},
    {BASE_ISSUE_PRICES_KEY_UNKNOWN, porch, PRICES_HEAD "discount: 3 %\nprices: {a: 1}\n", NULL},
    {BASE_ISSUE_PRICES_KEY_MISSING, porch, "eavesmith prices: 1\nprices: {a: 1}\n", NULL},
    {BASE_ISSUE_PRICE_NOT_TEXT, porch, PRICES_HEAD "prices: {rivet: [1, 2]}\n", NULL},
    {BASE_ISSUE_PRICE_NOT_MONEY, porch, PRICES_HEAD "prices: {rivet: dear}\n", NULL},
    {BASE_ISSUE_PRICE_NOT_MONEY, porch, PRICES_HEAD "prices: {rivet: 0.125}\n", NULL},
    {BASE_ISSUE_PRICE_UNIT_UNKNOWN, porch, PRICES_HEAD "prices: {rivet: 1 per stone}\n", NULL},
    {BASE_ISSUE_PRICE_NOT_A_SHARE, porch, PRICES_HEAD "deposit: half\nprices: {rivet: 1}\n", NULL},
    {BASE_ISSUE_PRICE_NOT_A_SHARE, porch, PRICES_HEAD "tax: 140 %\nprices: {rivet: 1}\n", NULL},
    {BASE_ISSUE_PRICE_NOT_WHOLE, porch, PRICES_HEAD "valid: 2.5 days\nprices: {rivet: 1}\n", NULL},
    {BASE_ISSUE_PRICE_NOT_WHOLE, porch, PRICES_HEAD "minor digits: 9\nprices: {rivet: 1}\n", NULL},
    /* measure */
    {BASE_ISSUE_LENGTH_IS_A_GUESS,
     HEAD RAIN RUN_BEGIN PORCH_WALL ", length: 28' guess, depth: 9'}\n" AT_TO, NULL, NULL},
    {BASE_ISSUE_READINGS_APART,
     HEAD RAIN RUN_BEGIN PORCH_WALL ", length: [28' 4\", 28' 5\"], depth: 9'}\n" AT_TO, NULL, NULL},
    {BASE_ISSUE_RING_DOES_NOT_CLOSE,
     HEAD RAIN
     "runs:\n"
     "  - {name: a, taped on: roof edge, pitch: 6/12, depth: 9', length: 30', from: outside "
     "corner, to: outside corner}\n"
     "  - {name: b, taped on: roof edge, pitch: 6/12, depth: 9', length: 20', from: outside "
     "corner, to: outside corner}\n"
     "  - {name: c, taped on: roof edge, pitch: 6/12, depth: 9', length: 33', from: outside "
     "corner, to: outside corner}\n"
     "  - {name: d, taped on: roof edge, pitch: 6/12, depth: 9', length: 20', from: outside "
     "corner, to: outside corner}\n",
     NULL, NULL},
    /* roof, by the tape path */
    {BASE_ISSUE_ROOF_RUN_VALLEY, HEAD RAIN CORNER("inside"), NULL, NULL},
    {BASE_ISSUE_ROOF_RUN_HIP, HEAD RAIN CORNER("outside"), NULL, NULL},
    /* layout */
    {BASE_ISSUE_NO_RAIN, HEAD PORCH AT_TO, NULL, NULL},
    {BASE_ISSUE_RAIN_FILE_EMPTY,
     HEAD "place: {rain: {file: rain.csv, minutes: 5, years: 10}}\n" PORCH AT_TO, NULL, NULL},
    {BASE_ISSUE_SIZE_NOT_MADE, HEAD RAIN PORCH AT_TO "gutter: {size: 9 in}\n", NULL, NULL},
    {BASE_ISSUE_PIPE_NOT_MADE, HEAD RAIN PORCH "outlets: {at: [porch to], downspout: 9 in}\n", NULL,
     NULL},
    {BASE_ISSUE_SHEET_NOT_KNOWN, HEAD RAIN PORCH AT_TO "gutter: {sheet: 17 oz}\n", NULL, NULL},
    {BASE_ISSUE_RAIN_OUTSIDE_TABLE,
     HEAD "place: {rain: {file: rain.csv, minutes: 1, years: 10}}\n" PORCH AT_TO, NULL, rain_table},
    {BASE_ISSUE_RAIN_LIKE, HEAD "place: {rain: {like: Atlanta}}\n" PORCH AT_TO, NULL, NULL},
    {BASE_ISSUE_GAUGE_FILE_EMPTY,
     HEAD
     "place: {rain: {intensity: 6 in/h, minutes: 5, years: 10, record: gauge.csv}}\n" PORCH AT_TO,
     NULL, NULL},
    {BASE_ISSUE_STORM_NOT_WHOLE,
     HEAD
     "place: {rain: {file: rain.csv, minutes: 5, years: 10, storm: {minutes: 42}}}\n" PORCH AT_TO,
     NULL, rain_table},
    {BASE_ISSUE_STORM_OUTSIDE_TABLE,
     HEAD
     "place: {rain: {file: rain.csv, minutes: 5, years: 10, storm: {minutes: 65}}}\n" PORCH AT_TO,
     NULL, rain_table},
    {BASE_ISSUE_OUTLET_ON_NO_EAVE,
     HEAD RAIN WINGS ELL "outlets: {at: [hall 1 from, hall 3 at 20']}\n", NULL, NULL},
    {BASE_ISSUE_OUTLET_OVER_A_ROOF,
     HEAD RAIN WINGS "outlets: {at: [hall 1 at 20', hall 3 to, porch 1 to]}\n", NULL, NULL},
    {BASE_ISSUE_OUTLET_OFF_THE_GUTTER, HEAD RAIN PORCH "outlets: {at: [porch at 28' 4\"]}\n", NULL,
     NULL},
    {BASE_ISSUE_NO_OUTLET,
     HEAD RAIN PORCH
     "  - {name: shed, taped on: roof edge, pitch: 4/12, from: end cap, to: end cap, "
     "length: 10', depth: 6'}\n" AT_TO,
     NULL, NULL},
    {BASE_ISSUE_GUTTER_TOO_SMALL, HEAD RAIN PORCH AT_TO "gutter: {size: 4 in}\n", NULL, NULL},
    {BASE_ISSUE_OUTLET_TOO_SMALL,
     HEAD HARD_RAIN RUN_BEGIN PORCH_WALL ", length: 60', depth: 25'}\n"
                                         "outlets: {at: [porch to], downspout: 3 in}\n",
     NULL, NULL},
    {BASE_ISSUE_OUTLET_HAS_NO_WALL,
     HEAD RAIN RUN_BEGIN PORCH_SIZE PORCH_WALL ", wall: none}\n" AT_TO, NULL, NULL},
    {BASE_ISSUE_OUTLET_HAS_NO_DISCHARGE,
     HEAD RAIN PORCH "outlets: {at: [porch to], discharge: none}\n", NULL, NULL},
    {BASE_ISSUE_NO_HEIGHT_FOR_DOWNSPOUT,
     HEAD RAIN RUN_BEGIN PORCH_SIZE ", eave height: 2', overhang: 11 1/4\"}\n" AT_TO, NULL, NULL},
    {BASE_ISSUE_WATER_OVER_THE_LIP,
     HEAD HARD_RAIN RUN_BEGIN PORCH_WALL ", length: 60', depth: 25'}\n" AT_TO
                                         "gutter: {size: 4 in}\n",
     NULL, NULL},
    {BASE_ISSUE_FALL_IS_LARGE, HEAD RAIN LONG_RUN "}\n" AT_TO, NULL, NULL},
    {BASE_ISSUE_END_FLUSH, HEAD RAIN PORCH AT_TO "gutter: {past the eave: 0}\n", NULL, NULL},
    {BASE_ISSUE_DOWNSPOUT_NOT_MEASURED, HEAD RAIN RUN_BEGIN PORCH_SIZE "}\n" AT_TO, NULL, NULL},
    {BASE_ISSUE_ASSUMED_STRAINER, porch, NULL, NULL},
    {BASE_ISSUE_ASSUMED_FALL, porch, NULL, NULL},
    {BASE_ISSUE_ASSUMED_ROOF_EDGE, porch, NULL, NULL},
    /* hang */
    {BASE_ISSUE_NO_TAIL_TO_HANG_ON,
     HEAD RAIN PORCH AT_TO "eave section: {tails: {spacing: 24\", first: 90'}}\n", NULL, NULL},
    {BASE_ISSUE_BRACKETS_TOO_FAR_APART,
     HEAD RAIN PORCH AT_TO "eave section: {tails: {spacing: 48\", first: 6\"}}\n", NULL, NULL},
    {BASE_ISSUE_END_BRACKET_FAR,
     HEAD RAIN PORCH AT_TO "eave section: {tails: {spacing: 24\", first: 18\"}}\n", NULL, NULL},
    {BASE_ISSUE_ASSUMED_FASCIA, porch, NULL, NULL},
    {BASE_ISSUE_ASSUMED_FIRST_TAIL,
     HEAD RAIN PORCH AT_TO "eave section: {tails: {spacing: 24\"}}\n", NULL, NULL},
    {BASE_ISSUE_ASSUMED_SNOW, porch, NULL, NULL},
    /* joints */
    {BASE_ISSUE_PIECE_IS_SHORT,
     HEAD RAIN RUN_BEGIN PORCH_WALL ", length: 10' 6\", depth: 9'}\n" AT_TO
                                    "keep out: [{from: porch at 16\", to: porch to}]\n",
     NULL, NULL},
    {BASE_ISSUE_RUN_TOO_SHORT_FOR_MITRES,
     HEAD RAIN
     "runs:\n"
     "  - {name: a, taped on: roof edge, pitch: 6/12, depth: 9', length: 20', from: end cap, "
     "to: outside corner}\n"
     "  - {name: b, taped on: roof edge, pitch: 6/12, depth: 4', length: 18\", from: outside "
     "corner, to: outside corner}\n"
     "  - {name: c, taped on: roof edge, pitch: 6/12, depth: 9', length: 20', from: outside "
     "corner, to: end cap}\n"
     "outlets: {at: [c to]}\n",
     NULL, NULL},
    {BASE_ISSUE_NO_PLACE_FOR_A_JOINT,
     HEAD RAIN PORCH AT_TO "keep out: [{from: porch from, to: porch to}]\n", NULL, NULL},
    /* pieces */
    {BASE_ISSUE_WATER_NOT_CHECKED, HEAD "pieces: [{kind: bracket, size: 5 in, count: 6}]\n", NULL,
     NULL},
    /* money */
    {BASE_ISSUE_NO_PRICE_LIST, porch, NULL, NULL},
    {BASE_ISSUE_PRICE_MISSING, porch, PRICES_HEAD "prices: {rivet: 0.12}\n", NULL},
    {BASE_ISSUE_PRICE_NOT_MEASURED, HEAD RAIN RUN_BEGIN PORCH_SIZE "}\n" AT_TO,
     PRICES_HEAD "prices: {downspout 3 in: 14.60 per ft}\n", NULL},
    {BASE_ISSUE_PRICE_BY_WRONG_UNIT, porch, PRICES_HEAD "prices: {rivet: 0.12 per ft}\n", NULL},
};

static void each_finding_is_made_by_a_job_that_deserves_it(void **state) {
    (void)state;
    size_t missed = 0;
    for (size_t i = 0; i < sizeof findings / sizeof findings[0]; i++) {
        const struct finding *finding = &findings[i];
        struct house house = house_solve(finding->job, finding->prices, finding->rain);
        bool stops = base_issue_severity(finding->code) == BASE_SEVERITY_STOP;
        bool found = house_issue(&house, finding->code) != NULL;
        if (!found || (stops && house.status != BASE_STOPPED)) {
            print_message("row %zu should give %s, gave:\n", i, base_issue_name(finding->code));
            house_print_issues(&house);
            missed++;
        }
        house_free(&house);
    }
    assert_int_equal(missed, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_finding_is_made_by_a_job_that_deserves_it)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
