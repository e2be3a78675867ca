/* SPDX-License-Identifier: Apache-2.0 */
/* Reading with texts of our own: what is read, what is refused and where, what lies between. */
#include "check.h"
#include "rain/rain.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define INH_MPS (0.0254 / 3600)

static const char US_HEAD[] = "Point precipitation frequency estimates (inches)\n"
                              "Somewhere\nData type: Precipitation depth\n"
                              "Time series type: Partial duration\n"
                              "Location name (ESRI Maps): Oxbow, Vermont, USA\n\n"
                              "PRECIPITATION FREQUENCY ESTIMATES\n"
                              "by duration for ARI (years):, 1,10,100\n";
static const char US_ROWS[] = "5-min:, 0.30,0.50,0.70\n10-min:, 0.45,0.75,1.05\n"
                              "60-min:, 1.00,1.60,2.20\n";

struct reading {
    struct base_arena *arena;
    struct base_issues issues;
    struct rain_table table;
    enum base_status status;
};

static struct reading read_bytes(const char *bytes, size_t length, enum rain_unit unit) {
    struct reading reading = {.arena = base_make_arena(0)};
    reading.issues.arena = reading.arena;
    reading.status = rain_read_table(reading.arena, &reading.issues,
                                     (struct base_text){bytes, length}, unit, &reading.table);
    return reading;
}

static struct reading read_text(const char *text) {
    return read_bytes(text, strlen(text), RAIN_UNIT_FROM_FILE);
}

/* Head and rows, one after the other. */
static struct reading read_two(const char *head, const char *rows) {
    size_t length = strlen(head) + strlen(rows);
    char *text = malloc(length + 1);
    struct reading reading;
    assert_non_null(text);
    strcpy(text, head);
    strcat(text, rows);
    reading = read_bytes(text, length, RAIN_UNIT_FROM_FILE);
    free(text);
    return reading;
}

static void check_refused(struct reading reading, enum base_issue_code code, int line) {
    assert_int_equal(reading.status, BASE_STOPPED);
    assert_int_equal(reading.issues.count, 1);
    assert_string_equal(base_issue_name(reading.issues.items[0].code), base_issue_name(code));
    assert_int_equal(reading.issues.items[0].mark.document, BASE_DOCUMENT_RAIN);
    assert_int_equal(reading.issues.items[0].mark.line, line);
    assert_true(reading.issues.items[0].mark.column >= 1);
    assert_true(strlen(base_issue_mend(code)) > 0);
    assert_int_equal(reading.table.duration_count, 0); /* nothing half read */
    base_free_arena(reading.arena);
}

static void check_two_refused(const char *head, const char *rows, enum base_issue_code code,
                              int line) {
    check_refused(read_two(head, rows), code, line);
}

static struct rain_table check_read(struct reading reading) {
    if (reading.status != BASE_OK && reading.issues.count > 0) {
        print_error("%s\n", base_issue_name(reading.issues.items[0].code));
    }
    assert_int_equal(reading.status, BASE_OK);
    assert_int_equal(reading.issues.count, 0);
    reading.table.place = (struct base_text){0};
    base_free_arena(reading.arena);
    return reading.table;
}

/* ---- what is read -------------------------------------------------------------------------- */

static void depth_becomes_intensity(void **state) {
    (void)state;
    struct reading reading = read_two(US_HEAD, US_ROWS);
    assert_true(base_text_is(reading.table.place, "Oxbow, Vermont, USA"));
    struct rain_table table = check_read(reading);
    assert_int_equal(table.layout, RAIN_LAYOUT_US_POINT);
    assert_int_equal(table.duration_count, 3);
    assert_int_equal(table.period_count, 3);
    assert_false(table.has_bounds);
    check_near(table.intensity_mps[0][1] / INH_MPS, 6.0, 1e-12); /* 0.50 in x 12, arithmetic */
    check_near(table.intensity_mps[2][2] / INH_MPS, 2.2, 1e-12);
}

static void line_ends_and_byte_order_mark_change_nothing(void **state) {
    (void)state;
    static const char *const ends[] = {"\n", "\r\n", "\r"};
    struct rain_table plain = check_read(read_two(US_HEAD, US_ROWS));
    for (size_t i = 0; i < 3; i++) {
        char text[2000] = "\xEF\xBB\xBF";
        size_t at = 3;
        const char *parts[] = {US_HEAD, US_ROWS};
        for (size_t part = 0; part < 2; part++) {
            for (const char *from = parts[part]; *from != '\0'; from++) {
                if (*from == '\n') {
                    strcpy(text + at, ends[i]);
                    at += strlen(ends[i]);
                } else {
                    text[at++] = *from;
                }
            }
        }
        struct rain_table table = check_read(read_bytes(text, at, RAIN_UNIT_FROM_FILE));
        assert_memory_equal(&table, &plain, sizeof table);
    }
}

static void metric_depths_and_intensities_are_read(void **state) {
    (void)state;
    struct rain_table depth = check_read(
        read_text("Point precipitation frequency estimates (millimeters)\n"
                  "by duration for ARI (years):, 1,10\n5-min:, 7.5,12.5\n60-min:, 25,40\n"));
    check_near(depth.intensity_mps[0][1], 150 * 0.001 / 3600, 1e-15);
    struct rain_table rate = check_read(
        read_text("Point precipitation frequency estimates (millimeters/hour)\n"
                  "Data type: Precipitation intensity\n"
                  "by duration for ARI (years):, 1,10\n5-min:, 90,150\n60-min:, 25,40\n60-day:, "
                  "0,1\n"));
    check_near(rate.intensity_mps[0][1], 150 * 0.001 / 3600, 1e-15);
    /* a long duration that rounds to 0 holds no data: hydraulics E1, FOUND */
    double intensity_mps = 0;
    assert_false(rain_find_intensity(&rate, 60 * 86400.0, 1, &intensity_mps));
    assert_false(rain_find_intensity(&rate, 86400.0, 1, &intensity_mps));
    assert_true(rain_find_intensity(&rate, 60 * 86400.0, 10, &intensity_mps));
}

static void bounds_are_kept_apart_from_the_estimates(void **state) {
    (void)state;
    struct rain_table table = check_read(
        read_two(US_HEAD, "5-min:, 0.30,0.50,0.70\n\n"
                          "PRECIPITATION FREQUENCY ESTIMATES AT UPPER BOUND OF 90% CONFIDENCE "
                          "INTERVAL\nby duration for ARI (years):, 1,10,100\n5-min:, .4,.6,.9\n\n"
                          "PRECIPITATION FREQUENCY ESTIMATES AT LOWER BOUND OF 90% CONFIDENCE "
                          "INTERVAL\nby duration for ARI (years):, 1,10,100\n5-min:, .2,.4,.6\n\n"
                          "Date/time (GMT):  x\npyRunTime:  0.1"));
    assert_true(table.has_bounds);
    check_near(table.lower_mps[0][1] / INH_MPS, 4.8, 1e-12);
    check_near(table.intensity_mps[0][1] / INH_MPS, 6.0, 1e-12);
    check_near(table.upper_mps[0][1] / INH_MPS, 7.2, 1e-12);
}

static void trimmed_file_is_read_with_the_unit_the_user_gives(void **state) {
    (void)state;
    static const char depths[] = "Storm, 1,10\n5-min:, 0.4,0.8\n60-min:, 1.6,3.0\n";
    static const char rates[] = "Storm, 1,10\n5-min:, 4.8,9.6\n60-min:, 1.6,3.0\n";
    struct rain_table a = check_read(read_bytes(depths, sizeof depths - 1, RAIN_UNIT_DEPTH_IN));
    struct rain_table b = check_read(read_bytes(rates, sizeof rates - 1, RAIN_UNIT_INTENSITY_INH));
    check_near(a.intensity_mps[0][1], b.intensity_mps[0][1], 1e-15);
    check_near(a.intensity_mps[1][0], b.intensity_mps[1][0], 1e-15);
    check_refused(read_bytes(depths, sizeof depths - 1, RAIN_UNIT_INTENSITY_INH),
                  BASE_ISSUE_RAIN_UNIT_MISMATCH, 2);
    check_refused(read_bytes(rates, sizeof rates - 1, RAIN_UNIT_DEPTH_MM),
                  BASE_ISSUE_RAIN_UNIT_MISMATCH, 2);
}

static void place_in_latin_1_becomes_utf_8(void **state) {
    (void)state;
    struct reading reading = read_text("Point precipitation frequency estimates (inches),,\r\n"
                                       "Location name (ESRI Maps): Qu\xE9lart, Oxbow,,\r\n"
                                       ",1,10\r\n5-min,0.4,0.8\r\n");
    assert_int_equal(reading.status, BASE_OK);
    assert_true(base_text_is(reading.table.place, "Qu\xC3\xA9lart, Oxbow"));
    base_free_arena(reading.arena);
}

/* ---- what is refused ----------------------------------------------------------------------- */

static void file_without_unit_is_refused_and_says_what_it_looks_like(void **state) {
    (void)state;
    static const struct {
        const char *text;
        const char *looks;
    } cases[] = {
        {"Storm, 1,10\n5-min:, 0.4,0.8\n60-min:, 1.6,3.0\n", "depths"},
        {"Storm, 1,10\n5-min:, 4.8,9.6\n60-min:, 1.6,3.0\n", "intensities"},
        {"Storm, 1,10\n5-min:, 4.8,9.6\n", "neither"},
    };
    for (size_t i = 0; i < 3; i++) {
        struct reading reading = read_text(cases[i].text);
        assert_int_equal(reading.issues.count, 1);
        struct base_text says = reading.issues.items[0].value.text;
        assert_non_null(strstr(base_copy_text(reading.arena, says).bytes, cases[i].looks));
        check_refused(reading, BASE_ISSUE_RAIN_NO_UNIT, 1);
    }
}

static void what_is_no_table_is_refused(void **state) {
    (void)state;
    static const char *const texts[] = {"",
                                        "\n\n",
                                        "date,gage01\n10/3/2013 19:54,0.009\n",
                                        "startdate\tenddate\n",
                                        "<html>\n",
                                        "a,b\n1,2\n5-min,3\n",
                                        "Storm, 1,10\n",
                                        "1,2,3\n4,5,6\n"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        check_refused(read_text(texts[i]), BASE_ISSUE_RAIN_NOT_A_TABLE, 1);
    }
    check_refused(read_text("\"Storm, 1,2\n"), BASE_ISSUE_TABLE_QUOTE_OPEN, 1);
    check_two_refused(US_HEAD, "5-min:, 1,2,3\nPRECIPITATION FREQUENCY ESTIMATES OF ANOTHER KIND\n",
                      BASE_ISSUE_RAIN_NOT_A_TABLE, 10);
}

static void made_up_list_is_refused(void **state) {
    (void)state;
    /* LAYOUTS 1.1: a look-alike with round values */
    check_refused(read_text("duration_minutes,duration_label,return_period_years,"
                            "precipitation_inches,lower_bound,upper_bound\n5,5-min,1,1.57,1.33,"
                            "1.81\n"),
                  BASE_ISSUE_RAIN_LOOK_ALIKE, 1);
}

static void answer_from_outside_the_area_is_refused(void **state) {
    (void)state;
    /* hydraulics r48 and E, FOUND: the server's words */
    check_refused(read_text("result = 'none'; ErrorMsg = 'Error 3.0: Selected location is not "
                            "within a project area';"),
                  BASE_ISSUE_RAIN_OUT_OF_AREA, 1);
}

static void annual_maxima_are_refused(void **state) {
    (void)state;
    static const char head[] = "Point precipitation frequency estimates (inches)\n";
    /* hydraulics r49, FOUND: the header with apostrophes */
    check_two_refused(head, "by duration for AEP:, '1/2,'1/5,'1/10\n5-min:, 1,2,3\n",
                      BASE_ISSUE_RAIN_ANNUAL_MAXIMUM, 2);
    check_two_refused(head, "by duration for ARI (years):, 1/2,1/5\n5-min:, 1,2\n",
                      BASE_ISSUE_RAIN_ANNUAL_MAXIMUM, 2);
    check_two_refused(head, "by duration for AEP:, 2,5\n5-min:, 1,2\n",
                      BASE_ISSUE_RAIN_ANNUAL_MAXIMUM, 2);
    check_two_refused(head, "Time series type: Annual maximum\n,1,2\n5-min,1,2\n",
                      BASE_ISSUE_RAIN_ANNUAL_MAXIMUM, 2);
}

static void unit_and_data_type_must_agree(void **state) {
    (void)state;
    static const char rows[] = "by duration for ARI (years):, 1,10\n5-min:, 1,2\n60-min:, 2,3\n";
    check_two_refused("Point precipitation frequency estimates (inches/hour)\n"
                      "Data type: Precipitation depth\n",
                      rows, BASE_ISSUE_RAIN_UNIT_MISMATCH, 2);
    check_two_refused("Point precipitation frequency estimates (inches)\n"
                      "Data type: Precipitation intensity\n",
                      rows, BASE_ISSUE_RAIN_UNIT_MISMATCH, 2);
    check_two_refused("Point precipitation frequency estimates (inches)\nData type: Snow\n", rows,
                      BASE_ISSUE_RAIN_UNIT_MISMATCH, 2);
    check_two_refused("Point precipitation frequency estimates (furlongs)\n", rows,
                      BASE_ISSUE_RAIN_UNIT_MISMATCH, 1);
    check_two_refused("Point precipitation frequency estimates (inches/hour)\n", rows,
                      BASE_ISSUE_RAIN_UNIT_MISMATCH, 3); /* words agree, the numbers grow */
    check_two_refused("Point precipitation frequency estimates\n", rows, BASE_ISSUE_RAIN_NO_UNIT,
                      2);
}

static void broken_rows_are_refused_where_they_stand(void **state) {
    (void)state;
    static const struct {
        const char *rows;
        enum base_issue_code code;
        int line;
    } cases[] = {
        {"5-min:, 0.3,0.5\n", BASE_ISSUE_RAIN_ROW_LENGTH, 9},
        {"5-min:, 0.3,0.5,0.7,0.9\n", BASE_ISSUE_RAIN_ROW_LENGTH, 9},
        {"5-min:, 0.3,0.5,0.7\n10-min:\n", BASE_ISSUE_RAIN_ROW_LENGTH, 10},
        {"5-min:, 0.3,NaN,0.7\n", BASE_ISSUE_RAIN_BAD_NUMBER, 9},
        {"5-min:, 0.3,,0.7\n", BASE_ISSUE_RAIN_BAD_NUMBER, 9},
        {"5-min:, 0.3,-0.5,0.7\n", BASE_ISSUE_RAIN_BAD_NUMBER, 9},
        {"5-min:, 0.3,5e-1,0.7\n", BASE_ISSUE_RAIN_BAD_NUMBER, 9},
        {"5-min:, 0.3,0.5.1,0.7\n", BASE_ISSUE_RAIN_BAD_NUMBER, 9},
        {"5-min:, 0.3,inf,0.7\n", BASE_ISSUE_RAIN_BAD_NUMBER, 9},
        {"5-min:, 0.3,1234567890123456,0.7\n", BASE_ISSUE_RAIN_BAD_NUMBER, 9},
        {"5-min:, 0,0.5,0.7\n", BASE_ISSUE_RAIN_BAD_NUMBER, 9},
        {"5-min:, 0.3,0.5,0.7\n5-min:, 0.3,0.5,0.7\n", BASE_ISSUE_RAIN_DUPLICATE_ROW, 10},
        {"60-min:, 0.3,0.5,0.7\n1-hr:, 0.3,0.5,0.7\n", BASE_ISSUE_RAIN_DUPLICATE_ROW, 10},
        {"10-min:, 0.3,0.5,0.7\n5-min:, 0.2,0.4,0.6\n", BASE_ISSUE_RAIN_DURATION_ORDER, 10},
        {"5-mins:, 0.3,0.5,0.7\n", BASE_ISSUE_RAIN_BAD_DURATION, 9},
        {"0-min:, 0.3,0.5,0.7\n", BASE_ISSUE_RAIN_BAD_DURATION, 9},
        {"999-day:, 0.3,0.5,0.7\n", BASE_ISSUE_RAIN_BAD_DURATION, 9},
        {"five:, 0.3,0.5,0.7\n", BASE_ISSUE_RAIN_BAD_DURATION, 9},
        {",0.3,0.5,0.7\n", BASE_ISSUE_RAIN_BAD_DURATION, 9},
        {"5-min:, 0.3,0.5,0.7\nby duration for ARI (years):, 1,10,100\n",
         BASE_ISSUE_RAIN_BAD_DURATION, 10},
        {"5-min:, 0.3,0.5,0.4\n", BASE_ISSUE_RAIN_NOT_GROWING, 9},
        {"5-min:, 0.3,0.5,0.7\n10-min:, 0.4,0.6,0.8\n15-min:, 0.39,0.7,0.9\n",
         BASE_ISSUE_RAIN_NOT_GROWING, 11},
        {"5-min:, 8,13,18\n10-min:, 10,17,24\n", BASE_ISSUE_RAIN_BEYOND_NATURE, 9},
        {"\n\n", BASE_ISSUE_RAIN_NO_ROWS, 8},
        {"Date/time (GMT):  x\n", BASE_ISSUE_RAIN_NO_ROWS, 8},
        {"5-min:, 0.3,0.5,0.7\nDate/time (GMT):  x\nmore\n", BASE_ISSUE_RAIN_BAD_DURATION, 11},
        {"5-min:, 0.3,0.5,0.7\nPRECIPITATION FREQUENCY ESTIMATES\n", BASE_ISSUE_RAIN_DUPLICATE_ROW,
         10},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        check_two_refused(US_HEAD, cases[i].rows, cases[i].code, cases[i].line);
    }
}

static void mark_points_at_the_cell(void **state) {
    (void)state;
    struct reading reading = read_two(US_HEAD, "5-min:, 0.30,0.5x,0.70\n");
    assert_int_equal(reading.issues.count, 1);
    struct base_mark mark = reading.issues.items[0].mark;
    assert_int_equal(mark.line, 9);
    assert_int_equal(mark.column, 14);
    assert_int_equal(mark.from_byte, strlen(US_HEAD) + 13);
    assert_int_equal(mark.to_byte, strlen(US_HEAD) + 17);
    base_free_arena(reading.arena);
}

static void broken_heads_are_refused(void **state) {
    (void)state;
    static const char unit[] = "Point precipitation frequency estimates (inches)\n";
    check_two_refused(unit, "PRECIPITATION FREQUENCY ESTIMATES\n5-min:, 1,2\n",
                      BASE_ISSUE_RAIN_NO_ROWS, 3);
    check_two_refused(unit, "PRECIPITATION FREQUENCY ESTIMATES\n", BASE_ISSUE_RAIN_NO_ROWS, 2);
    check_two_refused(unit, "", BASE_ISSUE_RAIN_NO_ROWS, 1);
    check_two_refused(unit, "by duration for ARI (years):\n5-min:, 1\n", BASE_ISSUE_RAIN_NO_ROWS,
                      2);
    check_two_refused(unit, "by duration for ARI (years):, 1,10,5\n5-min:, 1,2,3\n",
                      BASE_ISSUE_RAIN_BAD_PERIOD, 2);
    check_two_refused(unit, "by duration for ARI (years):, 1,10,10\n5-min:, 1,2,3\n",
                      BASE_ISSUE_RAIN_BAD_PERIOD, 2);
    check_two_refused(unit, "by duration for ARI (years):, 0.5,10\n5-min:, 1,2\n",
                      BASE_ISSUE_RAIN_BAD_PERIOD, 2);
    check_two_refused(unit, "by duration for ARI (years):, 1,,10\n5-min:, 1,2,3\n",
                      BASE_ISSUE_RAIN_BAD_PERIOD, 2);
    check_two_refused(unit,
                      "by duration for ARI (years):, 1,2,3,4,5,6,7,8,9,10,11,12,13,14,15,16,17\n",
                      BASE_ISSUE_RAIN_TOO_LARGE, 2);
}

static void more_durations_than_fit_are_refused(void **state) {
    (void)state;
    char rows[2000] = "";
    size_t at = 0;
    for (int i = 10; i < 43; i++) { /* 33 durations of 10 to 42 min */
        char row[] = "10-min:, 0.310,0.510,0.710\n";
        row[0] = (char)('0' + i / 10);
        row[1] = (char)('0' + i % 10);
        memcpy(rows + at, row, sizeof row);
        at += sizeof row - 1;
    }
    check_two_refused(US_HEAD, rows, BASE_ISSUE_RAIN_TOO_LARGE, 9 + 32);
    rows[at - 27] = '\0'; /* one fewer fits */
    assert_int_equal(check_read(read_two(US_HEAD, rows)).duration_count, 32);
}

static void broken_bounds_are_refused(void **state) {
    (void)state;
    static const char up[] = "5-min:, 0.30,0.50,0.70\n"
                             "PRECIPITATION FREQUENCY ESTIMATES AT UPPER BOUND\n"
                             "by duration for ARI (years):, 1,10,100\n";
    static const char low[] = "5-min:, 0.30,0.50,0.70\n"
                              "PRECIPITATION FREQUENCY ESTIMATES AT LOWER BOUND\n"
                              "by duration for ARI (years):, 1,10,100\n5-min:, .1,.2,.3\n"
                              "PRECIPITATION FREQUENCY ESTIMATES AT UPPER BOUND\n"
                              "by duration for ARI (years):, 1,10,100\n";
    char head[1000];
    strcat(strcpy(head, US_HEAD), up);
    check_two_refused(head, "5-min:, .4,.6,.8\n", BASE_ISSUE_RAIN_BOUNDS_BROKEN, 10);
    strcat(strcpy(head, US_HEAD), low);
    check_two_refused(head, "5-min:, .4,.49,.8\n", BASE_ISSUE_RAIN_BOUNDS_BROKEN, 15);
    check_two_refused(head, "10-min:, .4,.6,.8\n", BASE_ISSUE_RAIN_BOUNDS_BROKEN, 13);
    check_two_refused(head, "5-min:, .4,.6,.8\n10-min:, .5,.7,.9\n", BASE_ISSUE_RAIN_BOUNDS_BROKEN,
                      13);
    check_two_refused("Point precipitation frequency estimates (inches)\n", strstr(up, "PREC"),
                      BASE_ISSUE_RAIN_NO_ROWS, 3); /* cut behind the header */
}

static void austrian_table_is_refused_when_its_rows_disagree(void **state) {
    (void)state;
    static const char head[] = "return period (a),1,2,10\n";
    struct rain_table table = check_read(
        read_two(head, "frequency (1/a),1.0,0.5,0.1\nduration (min),,,\n5,8,11,17\n60,30,37,52\n"));
    assert_int_equal(table.layout, RAIN_LAYOUT_AUSTRIA);
    check_near(table.intensity_mps[0][2], 0.017 / 300, 1e-15);
    check_two_refused(head, "frequency (1/a),1.0,0.5,0.2\nduration (min),,,\n5,8,11,17\n",
                      BASE_ISSUE_RAIN_BAD_PERIOD, 2);
    check_two_refused(head, "frequency (1/a),1.0,0.5\nduration (min),,,\n5,8,11,17\n",
                      BASE_ISSUE_RAIN_BAD_PERIOD, 2);
    check_two_refused(head, "frequency (1/a),1.0,0.5,0.1\n5,8,11,17\n6,9,12,18\n",
                      BASE_ISSUE_RAIN_NO_ROWS, 1);
    check_two_refused(head, "frequency (1/a),1.0,0.5,0.1\nduration (min),,,\n,,,\n",
                      BASE_ISSUE_RAIN_NO_ROWS, 3);
    check_two_refused(head, "frequency (1/a),1.0,0.5,0.1\nduration (min),,,\nfive,8,11,17\n",
                      BASE_ISSUE_RAIN_BAD_DURATION, 4);
    check_two_refused(head, "frequency (1/a),1.0,0.5,0.1\nduration (min),,,\n5,8,17\n",
                      BASE_ISSUE_RAIN_ROW_LENGTH, 4);
}

static const char CANADA_AMOUNTS[] =
    "  Short Duration Rainfall Intensity-Duration-Frequency Data\r\n====\r\n\r\n OXBOW   QC  1\r\n"
    "Table 2a : Return Period Rainfall Amounts (mm)\r\n\r\n"
    " Duration/Dur\xE9"
    "e   2   10   #Years\r\n   yr/ans yr/ans Ann\xE9"
    "es\r\n"
    "  5 min  5.1  8.9  31\r\n  1 h  18.7  28.4  31\r\n  24 h  60.5  90.6  32\r\n\r\n";
static const char CANADA_RATES[] = "Table 2b :\r\n\r\n Return Period Rainfall Rates (mm/h)\r\n\r\n"
                                   " Duration  2  10  #Years\r\n  yr/ans yr/ans\r\n"
                                   "  5 min  60.8  106.9  31\r\n   +/- 10.2 +/-123.1 31\r\n"
                                   "  1 h  18.7  28.4  31\r\n   +/- 2.1 +/- 4.9 31\r\n"
                                   "  24 h  2.5  3.8  32\r\n   +/- 0.3 +/- 0.6 32\r\n \r\n";

static void canadian_text_gives_rates_below_an_hour_and_amounts_above(void **state) {
    (void)state;
    struct reading reading = read_two(CANADA_AMOUNTS, CANADA_RATES);
    assert_int_equal(reading.status, BASE_OK);
    assert_true(base_text_is(reading.table.place, "OXBOW QC 1"));
    struct rain_table table = check_read(reading);
    assert_int_equal(table.layout, RAIN_LAYOUT_CANADA_IDF);
    check_near(table.intensity_mps[0][1] * 3.6e6, 106.9, 1e-9);
    check_near(table.intensity_mps[2][1] * 3.6e6, 90.6 / 24, 1e-9); /* finer than 3.8 */
    check_near(table.upper_mps[1][1] * 3.6e6, 28.4 + 4.9, 1e-9);
    check_near(table.lower_mps[1][1] * 3.6e6, 28.4 - 4.9, 1e-9);
    check_near(table.lower_mps[0][1], 0, 0); /* a limit wider than its value */
}

/* A copy of the Canadian text with one piece changed. */
static struct reading read_canada_with(const char *old_part, const char *new_part) {
    char text[2000] = "";
    char changed[2000] = "";
    strcat(strcpy(text, CANADA_AMOUNTS), CANADA_RATES);
    char *at = strstr(text, old_part);
    assert_non_null(at);
    memcpy(changed, text, (size_t)(at - text));
    strcat(strcat(changed, new_part), at + strlen(old_part));
    return read_text(changed);
}

static void broken_canadian_texts_are_refused(void **state) {
    (void)state;
    check_refused(read_canada_with("  5 min  5.1", "  5 min  5.9"), BASE_ISSUE_RAIN_TABLES_DIFFER,
                  19);
    check_refused(read_canada_with("  5 min  5.1", "  6 min  5.1"), BASE_ISSUE_RAIN_TABLES_DIFFER,
                  19);
    check_refused(read_canada_with("Table 2b :", "Table 9 :"), BASE_ISSUE_RAIN_NO_ROWS, 25);
    check_refused(read_canada_with("Amounts (mm)", "Amounts"), BASE_ISSUE_RAIN_NO_UNIT, 7);
    check_refused(read_canada_with("Rates (mm/h)", "Rates"), BASE_ISSUE_RAIN_NO_UNIT, 17);
    check_refused(read_canada_with("8.9  31", "31"), BASE_ISSUE_RAIN_ROW_LENGTH, 9);
    check_refused(read_canada_with("+/- 10.2 ", ""), BASE_ISSUE_RAIN_ROW_LENGTH, 20);
    check_refused(read_canada_with("+/- 10.2 ", "+/- x "), BASE_ISSUE_RAIN_BAD_NUMBER, 20);
    check_refused(read_canada_with("  5 min  5.1", "  five min  5.1"), BASE_ISSUE_RAIN_BAD_DURATION,
                  9);
    check_refused(read_canada_with("  5 min  5.1  8.9  31", "five"), BASE_ISSUE_RAIN_BAD_DURATION,
                  9);
    check_refused(read_canada_with("  5 min  5.1", "  +/- 1 +/- 2\r\n  5 min  5.1"),
                  BASE_ISSUE_RAIN_BAD_DURATION, 9);
}

static void missing_canadian_values_hold_no_data(void **state) {
    (void)state;
    char text[2000] = "";
    strcat(strcpy(text, CANADA_AMOUNTS), CANADA_RATES);
    memcpy(strstr(text, "min  5.1  8.9"), "min -99.9 8.9", 13);
    memcpy(strstr(text, "min  60.8  106.9"), "min -99.9  106.9", 16);
    struct rain_table table = check_read(read_text(text));
    double value = 0;
    assert_false(rain_find_intensity(&table, 300, 2, &value));
    assert_false(rain_find_intensity(&table, 300, 5, &value));
    assert_true(rain_find_intensity(&table, 300, 10, &value));
    assert_true(rain_find_intensity(&table, 3600, 2, &value));
}

/* ---- between the points -------------------------------------------------------------------- */

static void table_points_are_given_exactly(void **state) {
    (void)state;
    struct rain_table table = check_read(read_two(US_HEAD, US_ROWS));
    for (size_t i = 0; i < table.duration_count; i++) {
        for (size_t j = 0; j < table.period_count; j++) {
            double intensity_mps = 0;
            double years = 0;
            assert_true(rain_find_intensity(&table, table.duration_s[i], table.period_years[j],
                                            &intensity_mps));
            assert_true(intensity_mps == table.intensity_mps[i][j]);
            assert_true(rain_find_period(&table, table.duration_s[i], intensity_mps, &years));
            assert_true(years == table.period_years[j]);
        }
    }
}

static void between_points_the_rules_hold(void **state) {
    (void)state;
    struct rain_table table = check_read(read_two(US_HEAD, US_ROWS));
    double value = 0;
    /* 5 min between 1 and 10 years at sqrt(10): half way, (3.6 + 6.0)/2 in/h, DERIVED */
    assert_true(rain_find_intensity(&table, 300, sqrt(10), &value));
    check_near(value / INH_MPS, 4.8, 1e-12);
    /* between 5 and 10 min at sqrt(5 x 10): geometric mean of 6.0 and 4.5 in/h, DERIVED */
    assert_true(rain_find_intensity(&table, 60 * sqrt(50), 10, &value));
    check_near(value / INH_MPS, sqrt(6.0 * 4.5), 1e-12);
}

static void outside_the_table_there_is_no_answer(void **state) {
    (void)state;
    struct rain_table table = check_read(read_two(US_HEAD, US_ROWS));
    double value = 0;
    assert_false(rain_find_intensity(&table, 299, 10, &value));
    assert_false(rain_find_intensity(&table, 3601, 10, &value));
    assert_false(rain_find_intensity(&table, 300, 0.9, &value));
    assert_false(rain_find_intensity(&table, 300, 101, &value));
    assert_false(rain_find_intensity(&table, (double)NAN, 10, &value));
    assert_false(rain_find_intensity(&table, 300, (double)NAN, &value));
    assert_false(rain_find_period(&table, 300, 1.0 * INH_MPS, &value));
    check_near(value, 1, 0);
    assert_false(rain_find_period(&table, 300, 9.0 * INH_MPS, &value));
    check_near(value, 100, 0);
    assert_false(rain_find_period(&table, 200, 6.0 * INH_MPS, &value));
    struct rain_table none = {.layout = RAIN_LAYOUT_US_POINT};
    assert_false(rain_find_intensity(&none, 300, 10, &value));
    assert_false(rain_find_period(&none, 300, 1e-6, &value));
}

static void period_and_intensity_are_inverse_and_rise_together(void **state) {
    (void)state;
    struct rain_table table = check_read(read_two(US_HEAD, US_ROWS));
    for (double duration_s = 300; duration_s <= 3600; duration_s *= 1.17) {
        double last_mps = 0;
        for (double years = 1; years <= 100; years *= 1.31) {
            double intensity_mps = 0;
            double back_years = 0;
            assert_true(rain_find_intensity(&table, duration_s, years, &intensity_mps));
            assert_true(intensity_mps > last_mps);
            assert_true(rain_find_period(&table, duration_s, intensity_mps, &back_years));
            check_near(back_years / years, 1, 1e-9);
            last_mps = intensity_mps;
        }
    }
}

/* ---- memory -------------------------------------------------------------------------------- */

static void every_failed_take_is_reported_as_no_memory(void **state) {
    (void)state;
    char text[2000] = "";
    strcat(strcpy(text, CANADA_AMOUNTS), CANADA_RATES);
    const char *const texts[] = {text, "Point precipitation frequency estimates (inches)\n"
                                       "Location name (ESRI Maps): Oxbow\n,1,10\n5-min,1,2\n"
                                       "60-min,2,5000\n"};
    for (size_t i = 0; i < 2; i++) {
        struct reading whole = read_text(texts[i]);
        size_t takes = base_take_count(whole.arena);
        base_free_arena(whole.arena);
        assert_true(takes > 2);
        for (size_t nth = 1; nth <= takes; nth++) {
            struct base_arena *arena = base_make_arena(0);
            struct base_issues issues = {.arena = arena};
            struct rain_table table;
            base_fail_take(arena, nth);
            assert_int_equal(rain_read_table(arena, &issues, base_text_of(texts[i]),
                                             RAIN_UNIT_FROM_FILE, &table),
                             BASE_NO_MEMORY);
            base_free_arena(arena);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(depth_becomes_intensity),
        cmocka_unit_test(line_ends_and_byte_order_mark_change_nothing),
        cmocka_unit_test(metric_depths_and_intensities_are_read),
        cmocka_unit_test(bounds_are_kept_apart_from_the_estimates),
        cmocka_unit_test(trimmed_file_is_read_with_the_unit_the_user_gives),
        cmocka_unit_test(place_in_latin_1_becomes_utf_8),
        cmocka_unit_test(file_without_unit_is_refused_and_says_what_it_looks_like),
        cmocka_unit_test(what_is_no_table_is_refused),
        cmocka_unit_test(made_up_list_is_refused),
        cmocka_unit_test(answer_from_outside_the_area_is_refused),
        cmocka_unit_test(annual_maxima_are_refused),
        cmocka_unit_test(unit_and_data_type_must_agree),
        cmocka_unit_test(broken_rows_are_refused_where_they_stand),
        cmocka_unit_test(mark_points_at_the_cell),
        cmocka_unit_test(broken_heads_are_refused),
        cmocka_unit_test(more_durations_than_fit_are_refused),
        cmocka_unit_test(broken_bounds_are_refused),
        cmocka_unit_test(austrian_table_is_refused_when_its_rows_disagree),
        cmocka_unit_test(canadian_text_gives_rates_below_an_hour_and_amounts_above),
        cmocka_unit_test(broken_canadian_texts_are_refused),
        cmocka_unit_test(missing_canadian_values_hold_no_data),
        cmocka_unit_test(table_points_are_given_exactly),
        cmocka_unit_test(between_points_the_rules_hold),
        cmocka_unit_test(outside_the_table_there_is_no_answer),
        cmocka_unit_test(period_and_intensity_are_inverse_and_rise_together),
        cmocka_unit_test(every_failed_take_is_reported_as_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
