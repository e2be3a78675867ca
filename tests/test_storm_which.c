/* SPDX-License-Identifier: Apache-2.0 */
/* Which storms a job is run over: made from its rain table, and the worst of its gauge's record.
 * Table and records are invented; what must come out is worked by hand from them (DERIVED). */
#include "check.h"
#include "house.h"

#include <math.h>
#include <stdio.h>

#define HEAD "eavesmith: 1\njob: Sallowfield porch\nunits: ft-in\n"
#define PORCH                                                                                      \
    "runs:\n  - {name: porch, length: 28' 4 1/2\", taped on: roof edge, depth: 9' 2\", "           \
    "pitch: 4/12, from: end cap, to: end cap, eave height: 9' 7\", overhang: 11 1/4\"}\n"          \
    "outlets: {at: [porch to]}\n"
#define JOB(rain) HEAD "place: {rain: {" rain "}}\n" PORCH

/* Invented, in the layout of the US point table: 5 minutes once in 10 years are 0.55 in. */
static const char TABLE[] = "Point precipitation frequency estimates (inches)\n"
                            "Data type: Precipitation depth\nTime series type: Partial duration\n\n"
                            "PRECIPITATION FREQUENCY ESTIMATES\n"
                            "by duration for ARI (years):, 1,2,5,10,25,50,100\n"
                            "5-min:, 0.341,0.404,0.487,0.550,0.633,0.696,0.759\n"
                            "10-min:, 0.518,0.614,0.740,0.836,0.962,1.06,1.15\n"
                            "15-min:, 0.627,0.743,0.896,1.01,1.17,1.28,1.40\n"
                            "60-min:, 1.14,1.35,1.63,1.84,2.12,2.33,2.54\n"
                            "24-hr:, 2.3,2.7,3.3,3.7,4.3,4.8,5.3\n";

/* Two storms a day apart; the hardest five minutes, 0.55 in, are in the second, 14:11 to 14:15. */
static const char RECORD[] = "time,rain (in)\n"
                             "2026-06-01 09:00,0.05\n2026-06-01 09:01,0.30\n"
                             "2026-06-01 09:08,0.30\n2026-06-02 14:01,0.02\n"
                             "2026-06-02 14:11,0.10\n2026-06-02 14:12,0.12\n"
                             "2026-06-02 14:13,0.20\n2026-06-02 14:14,0.08\n"
                             "2026-06-02 14:15,0.05\n2026-06-02 14:40,0.01\n";

static const double INCH_M = 0.0254;

static struct house solve(const char *job, const char *table, const char *record) {
    struct house house = house_solve_gauge(job, NULL, table, record);
    house_must_stand(&house);
    return house;
}

static void without_a_wish_an_hour_is_run_for_two_periods(void **state) {
    (void)state;
    struct house house = solve(JOB("file: rain.csv, minutes: 5, years: 10"), TABLE, NULL);
    assert_int_equal(house.solution.storm_count, 2);
    for (size_t i = 0; i < 2; i++) {
        const struct storm *storm = &house.solution.storms[i];
        assert_int_equal(storm->kind, STORM_OF_TABLE);
        assert_int_equal(storm->second, RAIN_SIDE_LEFT);
        check_near(storm->duration_s, 3600, 0);
        check_near(storm->period_years, i == 0 ? 10 : 100, 0);
        check_near(storm->total_m, (i == 0 ? 1.84 : 2.54) * INCH_M, 1e-9);
        check_near(storm->hardest_mps, (i == 0 ? 0.55 : 0.759) * INCH_M / 300, 1e-12);
    }
    house_free(&house);
}

static void a_design_rain_of_seven_minutes_makes_whole_blocks(void **state) {
    (void)state;
    struct house house = solve(JOB("file: rain.csv, minutes: 7, years: 10"), TABLE, NULL);
    assert_int_equal(house.solution.storm_count, 2);
    check_near(house.solution.storms[0].duration_s, 63 * 60, 1e-9);
    house_free(&house);
}

static void length_side_and_climate_are_as_the_job_says(void **state) {
    (void)state;
    struct house house = solve(JOB("file: rain.csv, minutes: 5, years: 10, storm: {minutes: 1440, "
                                   "second hardest: after, climate: 20 %}"),
                               TABLE, NULL);
    const struct storm *storm = &house.solution.storms[0];
    check_near(storm->duration_s, 86400, 0);
    assert_int_equal(storm->second, RAIN_SIDE_RIGHT);
    check_near(storm->climate_1, 0.2, 1e-12);
    check_near(storm->total_m, 1.2 * 3.7 * INCH_M, 1e-9);
    check_near(storm->hardest_mps, 1.2 * 0.55 * INCH_M / 300, 1e-12);
    house_free(&house);
}

/* Steady flow of each minute: which side comes first changes when it goes over, not what. */
static void the_side_moves_the_hour_and_not_the_water(void **state) {
    (void)state;
    struct house before = solve(JOB("file: rain.csv, minutes: 5, years: 10, storm: {minutes: 60, "
                                    "climate: 100 %}"),
                                TABLE, NULL);
    struct house after = solve(JOB("file: rain.csv, minutes: 5, years: 10, storm: {minutes: 60, "
                                   "second hardest: after, climate: 100 %}"),
                               TABLE, NULL);
    for (size_t i = 0; i < 2; i++) {
        const struct storm_reach *one = &before.solution.storms[i].reaches[0];
        const struct storm_reach *other = &after.solution.storms[i].reaches[0];
        assert_true(one->over_m3 > 0);
        check_near(one->over_m3, other->over_m3, 1e-9 * one->over_m3);
        assert_int_equal(one->over_minutes, other->over_minutes);
    }
    house_free(&before);
    house_free(&after);
}

static void the_worst_storm_of_the_record_is_run(void **state) {
    (void)state;
    struct house house =
        solve(JOB("file: rain.csv, minutes: 5, years: 10, record: gauge.csv"), TABLE, RECORD);
    assert_int_equal(house.solution.storm_count, 3);
    const struct storm *storm = &house.solution.storms[2];
    assert_int_equal(storm->kind, STORM_OF_RECORD);
    assert_true(base_text_is(storm->began, "2026-06-02 14:00"));
    assert_int_equal(storm->recorded, 2);
    assert_false(storm->cut);
    check_near(storm->duration_s, 40 * 60, 0);
    check_near(storm->total_m, 0.58 * INCH_M, 1e-9);
    check_near(storm->hardest_mps, 0.20 * INCH_M / 60, 1e-12);
    check_near(storm->window_s, 300, 0);
    check_near(storm->window_mps, 0.55 * INCH_M / 300, 1e-12);
    assert_int_equal(storm->rarity.table, HYDRAULICS_TABLE_HOLDS);
    check_near(storm->rarity.years, 10, 1e-6);
    house_free(&house);
}

static void a_record_needs_no_table_and_takes_the_climate(void **state) {
    (void)state;
    struct house house = solve(JOB("intensity: 6.6 in/h, minutes: 5, years: 10, record: gauge.csv, "
                                   "storm: {climate: 30 %}"),
                               NULL, RECORD);
    assert_int_equal(house.solution.storm_count, 1);
    const struct storm *storm = &house.solution.storms[0];
    assert_int_equal(storm->kind, STORM_OF_RECORD);
    check_near(storm->total_m, 1.3 * 0.58 * INCH_M, 1e-9);
    check_near(storm->window_mps, 0.55 * INCH_M / 300, 1e-12); /* as measured */
    assert_int_equal(storm->rarity.table, HYDRAULICS_TABLE_EMPTY);
    house_free(&house);
}

/* The list's figures are the sources': SRC-120 to 123, FOUND. */
static void a_place_of_the_list_gives_its_rain_with_its_storm(void **state) {
    (void)state;
    static const struct {
        const char *job;
        double rain_mps;
        double minutes;
        double years;
    } ROWS[] = {{JOB("like: Miami"), 4.7 * 0.0254 / 3600, 60, 100},
                {JOB("like: Bangor ME"), 2.2 * 0.0254 / 3600, 60, 100},
                {JOB("like: Baltimore"), 7.1 * 0.0254 / 3600, 5, 10},
                {JOB("like: London"), 79.2e-3 / 3600, 2, 1}}; /* 0.022 l/(s m2) */
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        struct house house = solve(ROWS[i].job, NULL, NULL);
        check_near(house.solution.layout.rain_mps, ROWS[i].rain_mps, 1e-12);
        check_near(house.solution.layout.rain_s, 60 * ROWS[i].minutes, 0);
        check_near(house.solution.layout.rain_years, ROWS[i].years, 0);
        assert_non_null(house_issue(&house, BASE_ISSUE_RAIN_LIKE));
        house_free(&house);
    }
    for (size_t i = 1; i < rain_count_places(); i++) {
        assert_true(strcmp(rain_get_place(i - 1)->name, rain_get_place(i)->name) < 0);
    }
}

/* The heading names no unit, so the job does; a fault in the record is shown at its own place. */
static void the_unit_of_a_record_may_stand_in_the_job(void **state) {
    (void)state;
    static const char BARE[] = "time,rain\n2026-06-02 14:11,5\n2026-06-02 14:12,12\n";
    static const char SPOILT[] = "time,rain\n2026-06-02 14:11,5\n2026-06-02 14:12,T\n";
    static const char SAID[] = JOB("intensity: 6.6 in/h, minutes: 5, years: 10, "
                                   "record: gauge.csv, record unit: mm");
    struct house house = solve(SAID, NULL, BARE);
    check_near(house.solution.storms[0].total_m, 0.017, 1e-9);
    house_free(&house);
    house = house_solve_gauge(SAID, NULL, NULL, SPOILT);
    const struct base_issue *issue = house_issue(&house, BASE_ISSUE_GAUGE_BAD_NUMBER);
    assert_int_equal(house.status, BASE_STOPPED);
    assert_non_null(issue);
    assert_int_equal(issue->mark.document, BASE_DOCUMENT_GAUGE);
    assert_int_equal(issue->mark.line, 3);
    house_free(&house);
}

/* A record by the hour: its window is the hour. 80 hours of drizzle, the worst in hour 70. */
static void a_storm_of_days_is_cut_to_48_hours(void **state) {
    (void)state;
    char record[4096] = "time,rain (in)\n";
    size_t length = strlen(record);
    for (int hour = 1; hour <= 80; hour++) {
        length +=
            (size_t)snprintf(record + length, sizeof record - length, "2026-06-%02d %02d:00,%s\n",
                             1 + hour / 24, hour % 24, hour == 70 ? "1.20" : "0.01");
    }
    struct house house =
        solve(JOB("file: rain.csv, minutes: 5, years: 10, record: gauge.csv"), TABLE, record);
    const struct storm *storm = &house.solution.storms[2];
    assert_true(storm->cut);
    check_near(storm->duration_s, 48 * 3600, 0);
    check_near(storm->window_s, 3600, 0);
    check_near(storm->total_m, (1.20 + 47 * 0.01) * INCH_M, 1e-9);
    assert_true(base_text_is(storm->began, "2026-06-02 08:00")); /* the last 48 of 80 hours */
    house_free(&house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_a_wish_an_hour_is_run_for_two_periods),
        cmocka_unit_test(a_design_rain_of_seven_minutes_makes_whole_blocks),
        cmocka_unit_test(length_side_and_climate_are_as_the_job_says),
        cmocka_unit_test(the_side_moves_the_hour_and_not_the_water),
        cmocka_unit_test(the_worst_storm_of_the_record_is_run),
        cmocka_unit_test(a_record_needs_no_table_and_takes_the_climate),
        cmocka_unit_test(a_place_of_the_list_gives_its_rain_with_its_storm),
        cmocka_unit_test(the_unit_of_a_record_may_stand_in_the_job),
        cmocka_unit_test(a_storm_of_days_is_cut_to_48_hours),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
