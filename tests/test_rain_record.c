/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Records of gauges: what is read, what is refused and where, and the storms in them. The record of
 * one gauge and the 158 storms that its service cut from it (SRC-140) are not part of the project:
 * where their folder is not there, those tests are skipped and say so.
 */
#include "check.h"
#include "rain/rain.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define RAIN_FOLDER SHARED_DATA "/rain/"
#define INH_MPS     (0.0254 / 3600)
#define TWO_HOURS_S INT64_C(7200)

static struct base_arena *arena;
static struct base_issues issues;

static int make_arena(void **state) {
    (void)state;
    arena = base_make_arena(0);
    issues = (struct base_issues){.arena = arena};
    return arena == NULL;
}

static int free_arena(void **state) {
    (void)state;
    base_free_arena(arena);
    return 0;
}

static struct rain_record read_fine(struct base_text text, enum rain_unit unit) {
    struct rain_record record;
    const enum base_status status = rain_read_record(arena, &issues, text, unit, &record);
    if (issues.count > 0) {
        print_error("%s line %d\n", base_issue_name(issues.items[0].code),
                    issues.items[0].mark.line);
    }
    assert_int_equal(status, BASE_OK);
    assert_int_equal(issues.count, 0);
    return record;
}

static void check_refused_as(struct base_text text, enum rain_unit unit, enum base_issue_code code,
                             int line) {
    struct rain_record record;
    const size_t before = issues.count;
    assert_int_equal(rain_read_record(arena, &issues, text, unit, &record), BASE_STOPPED);
    assert_int_equal(issues.count, before + 1);
    assert_string_equal(base_issue_name(issues.items[before].code), base_issue_name(code));
    assert_int_equal(issues.items[before].mark.line, line);
    assert_int_equal(record.count, 0);
}

static void check_refused(const char *text, enum base_issue_code code, int line) {
    check_refused_as(base_text_of(text), RAIN_UNIT_DEPTH_MM, code, line);
}

/* ---- reading -------------------------------------------------------------------------------- */

static const char PLAIN[] = "time,rain (mm)\n2014-06-01 15:56,0.2\n2014-06-01 15:57,0.6\n"
                            "2014-06-01 16:00,1.2\n";

static void a_record_is_read_with_the_unit_of_its_heading(void **state) {
    (void)state;
    const struct rain_record record = read_fine(base_text_of(PLAIN), RAIN_UNIT_FROM_FILE);
    assert_int_equal(record.count, 3);
    assert_int_equal(record.step_s, 60);
    check_near(record.total_m, 0.002, 1e-15);
    /* 2014-06-01 00:00 is 16222 days behind 1970-01-01: 44 years with 11 leap days, and 151 days
     * (DERIVED) */
    assert_true(record.readings[0].end_s == INT64_C(16222) * 86400 + 15 * 3600 + 56 * 60);
}

static void every_way_of_writing_a_time_gives_the_same_clock(void **state) {
    (void)state;
    static const char *const TIMES[] = {"2014-06-01 15:56",   "2014-06-01T15:56:00Z",
                                        "2014/06/01 15:56",   "6/1/2014 15:56",
                                        "06/01/2014 3:56 PM", "1.6.2014 15:56"};
    for (size_t i = 0; i < sizeof TIMES / sizeof TIMES[0]; i++) {
        char text[120];
        snprintf(text, sizeof text, "t,mm\n%s,0.2\n2014-06-01 15:57,0.4\n", TIMES[i]);
        const struct base_text copy = base_copy_text(arena, base_text_of(text));
        struct rain_record record = read_fine(copy, RAIN_UNIT_FROM_FILE);
        assert_true(record.readings[0].end_s == INT64_C(16222) * 86400 + 57360);
    }
}

static void intensities_are_rain_of_a_step(void **state) {
    (void)state;
    /* 5-minute readings of 60 mm/h are 5 mm each (DERIVED) */
    const struct rain_record record = read_fine(
        base_text_of("when,mm/h\n2014-06-01 15:05,60\n2014-06-01 15:10,60\n"), RAIN_UNIT_FROM_FILE);
    assert_int_equal(record.step_s, 300);
    check_near(record.total_m, 0.010, 1e-15);
}

static void tips_by_the_second_are_rain_of_a_minute(void **state) {
    (void)state;
    const struct rain_record record =
        read_fine(base_text_of("t,in\n2014-06-01 15:05:07,0.01\n2014-06-01 15:05:31,0.01\n"),
                  RAIN_UNIT_FROM_FILE);
    assert_int_equal(record.step_s, 60);
}

static void byte_order_mark_line_ends_and_padding_change_nothing(void **state) {
    (void)state;
    const struct rain_record plain = read_fine(base_text_of(PLAIN), RAIN_UNIT_FROM_FILE);
    const struct rain_record dressed =
        read_fine(base_text_of("\xEF\xBB\xBFtime,rain (mm),,\r\n2014-06-01 15:56,0.2,,\r\n"
                               "2014-06-01 15:57,0.6,,\r\n\r\n2014-06-01 16:00,1.2"),
                  RAIN_UNIT_FROM_FILE);
    assert_int_equal(dressed.count, plain.count);
    for (size_t i = 0; i < plain.count; i++) {
        assert_true(dressed.readings[i].end_s == plain.readings[i].end_s);
        assert_true(dressed.readings[i].depth_m == plain.readings[i].depth_m);
    }
}

static void bad_records_are_refused_once_at_their_place(void **state) {
    (void)state;
    check_refused("", BASE_ISSUE_GAUGE_TOO_SHORT, 1);
    check_refused("t,mm\n2014-06-01 15:56,1\n", BASE_ISSUE_GAUGE_TOO_SHORT, 1);
    check_refused("<!DOCTYPE html>\n<html lang=\"en\">\n", BASE_ISSUE_GAUGE_IS_A_PAGE, 1);
    check_refused("\n t,mm\n<html>\n", BASE_ISSUE_GAUGE_IS_A_PAGE, 3);
    check_refused("t,mm\n2014-06-01 15:56,1\n2014-06-01 15:5", BASE_ISSUE_GAUGE_COLUMNS, 3);
    check_refused("t,mm\n2014-06-01 15:56,1\n2014-06-01 15:57,", BASE_ISSUE_GAUGE_COLUMNS, 3);
    check_refused("t;mm\n2014-06-01 15:56;1\n", BASE_ISSUE_GAUGE_COLUMNS, 1);
    check_refused("t,a mm,b mm\n2014-06-01 15:56,1,2\n", BASE_ISSUE_GAUGE_COLUMNS, 1);
    check_refused("mm,t\n1,2014-06-01 15:56\n", BASE_ISSUE_GAUGE_SHUFFLED, 2);
    check_refused("t,mm\n06/01/14 15:56,1\n", BASE_ISSUE_GAUGE_BAD_TIME, 2);
    check_refused("t,mm\n13/1/2014 15:56,1\n", BASE_ISSUE_GAUGE_BAD_TIME, 2);
    check_refused("t,mm\n2014-02-29 15:56,1\n", BASE_ISSUE_GAUGE_BAD_TIME, 2);
    check_refused("t,mm\n2014-06-01 15:60,1\n", BASE_ISSUE_GAUGE_BAD_TIME, 2);
    check_refused("t,mm\n2014-06-01 13:56 PM,1\n", BASE_ISSUE_GAUGE_BAD_TIME, 2);
    check_refused("t,mm\n2014-06-01 15:56,-9.000\n", BASE_ISSUE_GAUGE_BAD_NUMBER, 2);
    check_refused("t,mm\n2014-06-01 15:56,1e3\n", BASE_ISSUE_GAUGE_BAD_NUMBER, 2);
    check_refused("t,mm\n2014-06-01 15:56,T\n", BASE_ISSUE_GAUGE_BAD_NUMBER, 2);
    check_refused("t,mm\n2014-06-01 15:56,1\n2014-06-01 15:56,1\n", BASE_ISSUE_GAUGE_TIME_ORDER, 3);
    check_refused("t,mm\n2014-06-01 15:56,1\n2014-06-01 15:55,1\n", BASE_ISSUE_GAUGE_TIME_ORDER, 3);
    check_refused("t,total mm\n2014-06-01 15:56,1\n", BASE_ISSUE_GAUGE_COUNTS_UP, 1);
    check_refused("t,accumulated\n2014-06-01 15:56,1\n", BASE_ISSUE_GAUGE_COUNTS_UP, 1);
    check_refused("t,in\n2014-06-01 15:56,1\n", BASE_ISSUE_GAUGE_UNIT_MISMATCH, 1);
    check_refused("t,mm\n2014-06-01 15:56,1\n2014-06-02 15:56,1\n", BASE_ISSUE_GAUGE_TOO_COARSE, 1);
    check_refused("t,mm\n2014-06-01 15:56,0\n2014-06-01 15:57,0\n", BASE_ISSUE_GAUGE_DRY, 1);
    check_refused_as(base_text_of("t,rain\n2014-06-01 15:56,0\n2014-06-01 15:57,1\n"),
                     RAIN_UNIT_FROM_FILE, BASE_ISSUE_GAUGE_NO_UNIT, 1);
}

static void millimetres_taken_for_inches_are_more_than_nature_has(void **state) {
    (void)state;
    /* 20 mm in 5 minutes is hard rain; 20 in are above 422 (1/12)^0.475 = 130 mm (DERIVED) */
    static const char STORM[] = "t,rain\n2014-06-01 15:05,9\n2014-06-01 15:10,20\n";
    read_fine(base_text_of(STORM), RAIN_UNIT_DEPTH_MM);
    check_refused_as(base_text_of(STORM), RAIN_UNIT_DEPTH_IN, BASE_ISSUE_GAUGE_BEYOND_NATURE, 1);
}

static void a_record_cut_anywhere_is_read_or_refused_once(void **state) {
    (void)state;
    for (size_t length = 0; length <= strlen(PLAIN); length++) {
        struct rain_record record;
        const size_t before = issues.count;
        const enum base_status status = rain_read_record(
            arena, &issues, (struct base_text){PLAIN, length}, RAIN_UNIT_FROM_FILE, &record);
        assert_int_equal(issues.count, before + (status == BASE_OK ? 0 : 1));
        assert_true(status == BASE_OK || status == BASE_STOPPED);
    }
}

static void lack_of_memory_is_said(void **state) {
    (void)state;
    for (size_t nth = 1; nth < 6; nth++) {
        struct base_arena *small = base_make_arena(0);
        struct base_issues found = {.arena = small};
        struct rain_record record;
        base_fail_take(small, nth);
        const enum base_status status =
            rain_read_record(small, &found, base_text_of(PLAIN), RAIN_UNIT_FROM_FILE, &record);
        assert_int_equal(status, base_arena_failed(small) ? BASE_NO_MEMORY : BASE_OK);
        base_free_arena(small);
    }
}

/* ---- storms --------------------------------------------------------------------------------- */

static void storms_are_parted_by_dry_hours(void **state) {
    (void)state;
    const struct rain_record record =
        read_fine(base_text_of("t,mm\n2014-06-01 10:00,1\n2014-06-01 10:01,1\n2014-06-01 11:30,0\n"
                               "2014-06-01 12:01,1\n2014-06-01 14:02,1\n"),
                  RAIN_UNIT_FROM_FILE);
    struct rain_span storm = {0, 0};
    assert_true(rain_next_storm(&record, TWO_HOURS_S, &storm));
    assert_int_equal(storm.to, 4); /* 1 h 59 min dry: the same storm */
    assert_true(rain_next_storm(&record, TWO_HOURS_S, &storm));
    assert_int_equal(storm.from, 4);
    assert_false(rain_next_storm(&record, TWO_HOURS_S, &storm));
}

static void coarse_rain_is_spread_over_its_minutes(void **state) {
    (void)state;
    const struct rain_record record = read_fine(
        base_text_of("t,mm\n2014-06-01 15:05,5\n2014-06-01 15:10,10\n"), RAIN_UNIT_FROM_FILE);
    struct rain_storm storm;
    assert_true(rain_make_storm(arena, &record, (struct rain_span){0, 2}, 0.2, &storm));
    assert_int_equal(storm.count, 10);
    check_near(storm.total_m, 0.018, 1e-15); /* a fifth more */
    check_near(storm.depth_m[4], 0.0012, 1e-15);
    check_near(storm.depth_m[5], 0.0024, 1e-15);
    check_near(storm.hardest_mps, 0.0024 / 60, 1e-18);
}

/* Days of the calendar by hand (DERIVED). */
static void a_clock_is_written_as_it_is_read(void **state) {
    (void)state;
    static const struct {
        const char *text;
        int64_t clock_s;
    } ROWS[] = {{"1970-01-01 00:00", 0},
                {"1969-12-31 23:59", -60},
                {"2000-02-29 12:30", INT64_C(951827400)},
                {"1900-03-01 00:00", INT64_C(-2203891200)},
                {"2013-10-04 10:19", INT64_C(1380881940)},
                {"2026-12-31 23:00", INT64_C(1798758000)}};
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        assert_true(base_text_is(rain_write_clock(arena, ROWS[i].clock_s), ROWS[i].text));
    }
    /* every 17 hours over 400 years: through the reader and back */
    for (int64_t clock_s = INT64_C(-5364662400); clock_s < INT64_C(7258118400);
         clock_s += 17 * 3600) {
        char source[80];
        struct base_text written = rain_write_clock(arena, clock_s);
        snprintf(source, sizeof source, "time,rain (mm)\n%.*s,0\n2199-12-31 23:59,1\n",
                 (int)written.length, written.bytes);
        struct base_arena *mine = base_make_arena(0);
        struct base_issues found = {.arena = mine};
        struct rain_record record;
        const enum base_status status =
            rain_read_record(mine, &found, base_text_of(source), RAIN_UNIT_FROM_FILE, &record);
        /* two readings far apart are too coarse a record, but that is said after the times */
        assert_int_equal(status, BASE_STOPPED);
        assert_int_equal(found.items[0].code, BASE_ISSUE_GAUGE_TOO_COARSE);
        check_near(found.items[0].value.number, (double)(INT64_C(7258118340) - clock_s), 0);
        base_free_arena(mine);
    }
}

/* 100 hours of drizzle with a cloudburst in hour 20, 60 or 95 (DERIVED). */
static void of_a_long_storm_the_hours_about_the_worst_are_kept(void **state) {
    (void)state;
    static const struct {
        size_t burst;
        size_t from;
        size_t to;
    } ROWS[] = {{20, 0, 48}, {60, 37, 84}, {95, 52, 100}};
    for (size_t row = 0; row < 3; row++) {
        struct rain_reading readings[100];
        struct rain_record record = {.readings = readings, .count = 100, .step_s = 3600};
        for (size_t i = 0; i < 100; i++) {
            readings[i] =
                (struct rain_reading){(int64_t)(i + 1) * 3600, i == ROWS[row].burst ? 0.02 : 0.001};
        }
        const struct rain_span kept =
            rain_cut_span(&record, (struct rain_span){0, 100}, 3600, INT64_C(48) * 3600);
        assert_int_equal(kept.from, ROWS[row].from);
        assert_int_equal(kept.to, ROWS[row].to);
        assert_true(rain_span_seconds(&record, kept) <= INT64_C(48) * 3600);
        const struct rain_span whole =
            rain_cut_span(&record, (struct rain_span){10, 58}, 3600, INT64_C(48) * 3600);
        assert_int_equal(whole.from, 10);
        assert_int_equal(whole.to, 58);
    }
}

/* ---- the published storms ------------------------------------------------------------------- */

static struct base_text load(const char *path) {
    size_t length = 0;
    check_data_or_skip(path);
    char *bytes = check_read_file(path, &length);
    const struct base_text text = base_copy_text(arena, (struct base_text){bytes, length});
    free(bytes);
    return text;
}

enum { WINDOWS = 5 };

struct published {
    char start[20];
    char end[20];
    double total_in;
    double inh[WINDOWS]; /* -9: shorter than the window */
};

/* A line of the service's table; false for its two heads and the end. */
static bool next_published(const char **at, struct published *storm) {
    while (**at != '\0') {
        char line[200];
        const size_t length = strcspn(*at, "\n");
        snprintf(line, sizeof line, "%.*s", (int)length, *at);
        *at += length + ((*at)[length] == '\n');
        char *rest = strchr(line, '\t');
        if (rest == NULL || line[0] < '0' || line[0] > '9' || strncmp(line, "16d", 3) == 0) {
            continue;
        }
        *rest++ = '\0';
        snprintf(storm->start, sizeof storm->start, "%.19s", line);
        char *tab = strchr(rest, '\t');
        assert_non_null(tab);
        *tab = '\0';
        snprintf(storm->end, sizeof storm->end, "%.19s", rest);
        storm->total_in = strtod(tab + 1, &rest);
        for (int i = 0; i < WINDOWS; i++) {
            storm->inh[i] = strtod(rest, &rest);
        }
        return true;
    }
    return false;
}

/* The clock of "10/3/2013 19:54", its days counted one year and month after the other. */
static int64_t clock_of(const char *time) {
    int month = 0;
    int day = 0;
    int year = 0;
    int hour = 0;
    int minute = 0;
    char *end = NULL;
    month = (int)strtol(time, &end, 10);
    day = (int)strtol(end + 1, &end, 10);
    year = (int)strtol(end + 1, &end, 10);
    hour = (int)strtol(end + 1, &end, 10);
    minute = (int)strtol(end + 1, &end, 10);
    static const int DAYS[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    int64_t days = 0;
    for (int y = 1970; y < year; y++) {
        days += y % 4 == 0 ? 366 : 365;
    }
    for (int m = 1; m < month; m++) {
        days += DAYS[m - 1] + (m == 2 && year % 4 == 0 ? 1 : 0);
    }
    return ((days + day - 1) * 24 + hour) * 3600 + minute * 60;
}

static void the_158_published_storms_come_out_of_the_record(void **state) {
    (void)state;
    static const int MINUTES[WINDOWS] = {5, 10, 15, 30, 60};
    const struct rain_record record =
        read_fine(load(RAIN_FOLDER "usgs_test_1min.csv"), RAIN_UNIT_DEPTH_IN);
    const struct base_text table = load(RAIN_FOLDER "usgs_test_intensity.tsv");
    const char *at = table.bytes;
    struct published storm;
    struct rain_span span = {0, 0};
    int storms = 0;
    int maxima = 0;
    int too_short = 0;
    assert_int_equal(record.step_s, 60);
    check_near(record.total_m / 0.0254, 27.071, 1e-9); /* LAYOUTS 1.5, FOUND */
    while (next_published(&at, &storm)) {
        storms++;
        assert_true(rain_next_storm(&record, TWO_HOURS_S, &span));
        assert_true(record.readings[span.from].end_s - record.step_s == clock_of(storm.start));
        assert_true(record.readings[span.to - 1].end_s == clock_of(storm.end));
        double total_m = 0;
        for (size_t i = span.from; i < span.to; i++) {
            total_m += record.readings[i].depth_m;
        }
        check_near(total_m / 0.0254, storm.total_in, 1e-9);
        for (int i = 0; i < WINDOWS; i++) {
            double intensity_mps = 0;
            const bool found = rain_find_maximum(&record, span, MINUTES[i] * 60, &intensity_mps);
            assert_int_equal(found, storm.inh[i] >= 0);
            if (found) {
                check_near(intensity_mps / INH_MPS, storm.inh[i], 0.000501); /* three decimals */
            }
            maxima += found;
            too_short += !found;
        }
    }
    assert_false(rain_next_storm(&record, TWO_HOURS_S, &span));
    assert_int_equal(storms, 158); /* LAYOUTS section 2, 14, FOUND */
    assert_int_equal(maxima, 475);
    assert_int_equal(too_short, 315);
}

static void the_hardest_storm_of_the_year_is_found(void **state) {
    (void)state;
    const struct rain_record record =
        read_fine(load(RAIN_FOLDER "usgs_test_1min.csv"), RAIN_UNIT_DEPTH_IN);
    const struct base_text table = load(RAIN_FOLDER "usgs_test_intensity.tsv");
    const char *at = table.bytes;
    struct published storm;
    double hardest_inh = 0;
    int64_t begin_s = 0;
    while (next_published(&at, &storm)) {
        if (storm.inh[0] > hardest_inh) {
            hardest_inh = storm.inh[0];
            begin_s = clock_of(storm.start);
        }
    }
    struct rain_span span = {0, 0};
    assert_true(rain_find_hardest(&record, TWO_HOURS_S, 300, &span));
    assert_true(record.readings[span.from].end_s - 60 == begin_s);
}

static void the_tables_around_that_record_are_refused(void **state) {
    (void)state;
    check_refused_as(load(RAIN_FOLDER "usgs_test_intensity.tsv"), RAIN_UNIT_FROM_FILE,
                     BASE_ISSUE_GAUGE_COLUMNS, 1);
    check_refused_as(load(RAIN_FOLDER "pfds_champaign_il_depth_in.csv"), RAIN_UNIT_FROM_FILE,
                     BASE_ISSUE_GAUGE_COLUMNS, 1);
    check_refused_as(load(RAIN_FOLDER "usgs_test_1min.csv"), RAIN_UNIT_FROM_FILE,
                     BASE_ISSUE_GAUGE_NO_UNIT, 1);
}

/* ---- storms from a table -------------------------------------------------------------------- */

static const char TABLE[] = "Point precipitation frequency estimates (inches)\n"
                            "Data type: Precipitation depth\n"
                            "PRECIPITATION FREQUENCY ESTIMATES\n"
                            "by duration for ARI (years):, 10,100\n"
                            "5-min:, 0.50,0.70\n10-min:, 0.75,1.05\n60-min:, 1.60,2.20\n";

static void a_design_storm_holds_the_tables_depth_in_every_middle_window(void **state) {
    (void)state;
    struct rain_table table;
    struct rain_storm storm;
    assert_int_equal(
        rain_read_table(arena, &issues, base_text_of(TABLE), RAIN_UNIT_FROM_FILE, &table), BASE_OK);
    for (int side = 0; side < 2; side++) {
        for (double peak_1 = 0; peak_1 <= 1; peak_1 += 0.125) {
            const struct rain_design design = {10, 3600, 300, peak_1, (enum rain_side)side, 0};
            assert_int_equal(rain_make_design_storm(arena, &table, &design, &storm), BASE_OK);
            assert_int_equal(storm.count, 60);
            check_near(storm.total_m, 1.60 * 0.0254, 1e-12);
            for (size_t blocks = 1; blocks <= 12; blocks++) {
                double greatest_m = 0;
                double intensity_mps = 0;
                for (size_t from = 0; from + 5 * blocks <= 60; from += 5) {
                    double sum_m = 0;
                    for (size_t i = from; i < from + 5 * blocks; i++) {
                        sum_m += storm.depth_m[i];
                    }
                    greatest_m = fmax(greatest_m, sum_m);
                }
                assert_true(
                    rain_find_intensity(&table, 300.0 * (double)blocks, 10, &intensity_mps));
                check_near(greatest_m, intensity_mps * 300.0 * (double)blocks, 1e-12);
            }
        }
    }
}

static void a_design_storm_outside_the_table_is_refused(void **state) {
    (void)state;
    struct rain_table table;
    struct rain_storm storm;
    assert_int_equal(
        rain_read_table(arena, &issues, base_text_of(TABLE), RAIN_UNIT_FROM_FILE, &table), BASE_OK);
    const struct rain_design fine = {10, 3600, 300, 0.5, RAIN_SIDE_LEFT, 0};
    struct rain_design design = fine;
    design.period_years = 500; /* beyond its years */
    assert_int_equal(rain_make_design_storm(arena, &table, &design, &storm), BASE_STOPPED);
    design = fine;
    design.duration_s = 7200; /* beyond its hour */
    assert_int_equal(rain_make_design_storm(arena, &table, &design, &storm), BASE_STOPPED);
    design = fine;
    design.block_s = 60; /* below its first duration */
    assert_int_equal(rain_make_design_storm(arena, &table, &design, &storm), BASE_STOPPED);
    design = fine;
    design.block_s = 420; /* no whole number of blocks */
    assert_int_equal(rain_make_design_storm(arena, &table, &design, &storm), BASE_STOPPED);
    assert_int_equal(rain_make_design_storm(arena, &table, &fine, &storm), BASE_OK);
}

static void climate_adds_the_stated_share(void **state) {
    (void)state;
    struct rain_table table;
    struct rain_storm storm;
    assert_int_equal(
        rain_read_table(arena, &issues, base_text_of(TABLE), RAIN_UNIT_FROM_FILE, &table), BASE_OK);
    const struct rain_design design = {10, 3600, 300, 0.5, RAIN_SIDE_LEFT, 0.25};
    assert_int_equal(rain_make_design_storm(arena, &table, &design, &storm), BASE_OK);
    check_near(storm.total_m, 2.00 * 0.0254, 1e-12); /* 1.60 in and a quarter (DERIVED) */
}

static void kinds_of_building_have_their_factors(void **state) {
    (void)state;
    /* EN 12056-3 table 2, SRC-144, MEMORY */
    check_near(rain_risk_factor(RAIN_RISK_EAVES), 1.0, 0);
    check_near(rain_risk_factor(RAIN_RISK_ENTRANCE), 1.5, 0);
    check_near(rain_risk_factor(RAIN_RISK_INSIDE), 2.0, 0);
    check_near(rain_risk_factor(RAIN_RISK_PROTECTED), 3.0, 0);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, make_arena, free_arena)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_record_is_read_with_the_unit_of_its_heading),
        TEST(every_way_of_writing_a_time_gives_the_same_clock),
        TEST(intensities_are_rain_of_a_step),
        TEST(tips_by_the_second_are_rain_of_a_minute),
        TEST(byte_order_mark_line_ends_and_padding_change_nothing),
        TEST(bad_records_are_refused_once_at_their_place),
        TEST(millimetres_taken_for_inches_are_more_than_nature_has),
        TEST(a_record_cut_anywhere_is_read_or_refused_once),
        TEST(lack_of_memory_is_said),
        TEST(storms_are_parted_by_dry_hours),
        TEST(coarse_rain_is_spread_over_its_minutes),
        TEST(a_clock_is_written_as_it_is_read),
        TEST(of_a_long_storm_the_hours_about_the_worst_are_kept),
        TEST(the_158_published_storms_come_out_of_the_record),
        TEST(the_hardest_storm_of_the_year_is_found),
        TEST(the_tables_around_that_record_are_refused),
        TEST(a_design_storm_holds_the_tables_depth_in_every_middle_window),
        TEST(a_design_storm_outside_the_table_is_refused),
        TEST(climate_adds_the_stated_share),
        TEST(kinds_of_building_have_their_factors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
