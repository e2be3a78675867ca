/* SPDX-License-Identifier: Apache-2.0 */
/* The record of a gauge: two columns, read strictly; and the storms in it. */
#include "rain/rain_inside.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { COLUMNS = 2, HEADING_WORD_BYTES = 24, MINUTE_S = 60, HOUR_S = 3600 };

static bool refuse(const struct rain_reader *reader, enum base_issue_code code,
                   struct base_mark mark, struct base_text value) {
    mark.document = BASE_DOCUMENT_GAUGE;
    base_add_issue(reader->issues, (struct base_issue){.code = code,
                                                       .mark = mark,
                                                       .value = base_value_text(rain_clean_text(
                                                           reader->arena, rain_trim(value)))});
    return false;
}

/* ---- heading -------------------------------------------------------------------------------- */

/* The next word of a heading in small letters: letters and what stands in mm/h. False at the end.
 */
static bool next_word(struct base_text *text, char word[HEADING_WORD_BYTES]) {
    size_t length = 0;
    while (text->length > 0) {
        const char byte = text->bytes[0];
        const bool letter = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z');
        if (!letter && !(byte == '/' && length > 0) && length > 0) {
            break;
        }
        text->bytes++;
        text->length--;
        if ((letter || length > 0) && length + 1 < HEADING_WORD_BYTES) {
            word[length++] = (char)(byte >= 'A' && byte <= 'Z' ? byte - 'A' + 'a' : byte);
        }
    }
    word[length] = '\0';
    return length > 0;
}

static enum rain_unit find_unit_word(const char *word) {
    static const struct {
        const char *word;
        enum rain_unit unit;
    } WORDS[] = {{"in", RAIN_UNIT_DEPTH_IN},           {"inch", RAIN_UNIT_DEPTH_IN},
                 {"inches", RAIN_UNIT_DEPTH_IN},       {"mm", RAIN_UNIT_DEPTH_MM},
                 {"millimeters", RAIN_UNIT_DEPTH_MM},  {"millimetres", RAIN_UNIT_DEPTH_MM},
                 {"in/h", RAIN_UNIT_INTENSITY_INH},    {"in/hr", RAIN_UNIT_INTENSITY_INH},
                 {"in/hour", RAIN_UNIT_INTENSITY_INH}, {"inches/hour", RAIN_UNIT_INTENSITY_INH},
                 {"mm/h", RAIN_UNIT_INTENSITY_MMH},    {"mm/hr", RAIN_UNIT_INTENSITY_MMH},
                 {"mm/hour", RAIN_UNIT_INTENSITY_MMH}};
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
        if (strcmp(word, WORDS[i].word) == 0) {
            return WORDS[i].unit;
        }
    }
    return RAIN_UNIT_FROM_FILE;
}

static bool means_totals(const char *word) {
    return strncmp(word, "cumul", 5) == 0 || strncmp(word, "accum", 5) == 0 ||
           strcmp(word, "total") == 0 || strcmp(word, "totals") == 0;
}

/* What the heading says of the rain: its unit, and that it does not count up. */
static bool read_heading(struct rain_reader *reader, const struct table_field *field) {
    struct base_text rest = field->text;
    char word[HEADING_WORD_BYTES];
    enum rain_unit said = RAIN_UNIT_FROM_FILE;
    while (next_word(&rest, word)) {
        const enum rain_unit unit = find_unit_word(word);
        said = unit != RAIN_UNIT_FROM_FILE ? unit : said;
        if (means_totals(word)) {
            return refuse(reader, BASE_ISSUE_GAUGE_COUNTS_UP, field->mark, field->text);
        }
    }
    if (said != RAIN_UNIT_FROM_FILE && reader->unit != RAIN_UNIT_FROM_FILE &&
        said != reader->unit) {
        return refuse(reader, BASE_ISSUE_GAUGE_UNIT_MISMATCH, field->mark, field->text);
    }
    reader->unit = said != RAIN_UNIT_FROM_FILE ? said : reader->unit;
    return true;
}

/* ---- rows ----------------------------------------------------------------------------------- */

static bool is_page(const struct table_row *row) {
    return base_text_starts(rain_trim(row->raw), "<");
}

static bool check_columns(const struct rain_reader *reader, const struct table_row *row) {
    const size_t filled = rain_filled_count(row);
    if (is_page(row)) {
        return refuse(reader, BASE_ISSUE_GAUGE_IS_A_PAGE, row->fields[0].mark, row->raw);
    }
    if (filled != COLUMNS) {
        return refuse(reader, BASE_ISSUE_GAUGE_COLUMNS, row->fields[0].mark, row->raw);
    }
    return true;
}

static bool read_row(const struct rain_reader *reader, const struct table_row *row,
                     struct rain_record *record) {
    const struct table_field *time = &row->fields[0];
    const struct table_field *rain = &row->fields[1];
    struct rain_reading reading = {0};
    double value = 0;
    int64_t other_s = 0;
    if (!check_columns(reader, row)) {
        return false;
    }
    if (!rain_read_clock(time->text, &reading.end_s)) {
        const bool shuffled = rain_read_clock(rain->text, &other_s);
        return refuse(reader, shuffled ? BASE_ISSUE_GAUGE_SHUFFLED : BASE_ISSUE_GAUGE_BAD_TIME,
                      time->mark, time->text);
    }
    if (!rain_read_decimal(rain->text, &value) || value < 0) {
        return refuse(reader, BASE_ISSUE_GAUGE_BAD_NUMBER, rain->mark, rain->text);
    }
    if (record->count > 0 && reading.end_s <= record->readings[record->count - 1].end_s) {
        return refuse(reader, BASE_ISSUE_GAUGE_TIME_ORDER, time->mark, time->text);
    }
    reading.depth_m = value; /* in the file's unit until the step is known */
    record->readings[record->count++] = reading;
    return true;
}

/* A first row that is no reading heads the columns. */
static bool is_heading(const struct table_row *row) {
    int64_t clock_s = 0;
    double value = 0;
    return !is_page(row) && row->count >= COLUMNS &&
           !rain_read_clock(row->fields[0].text, &clock_s) &&
           !rain_read_clock(row->fields[1].text, &clock_s) &&
           !rain_read_decimal(row->fields[1].text, &value);
}

static bool read_rows(struct rain_reader *reader, struct rain_record *record) {
    const struct table *table = reader->table;
    size_t at = 0;
    while (at < table->count && rain_row_is_empty(&table->rows[at])) {
        at++;
    }
    if (at < table->count && is_heading(&table->rows[at])) {
        if (!check_columns(reader, &table->rows[at]) ||
            !read_heading(reader, &table->rows[at].fields[1])) {
            return false;
        }
        at++;
    }
    for (; at < table->count; at++) {
        if (!rain_row_is_empty(&table->rows[at]) && !read_row(reader, &table->rows[at], record)) {
            return false;
        }
    }
    return true;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static int64_t common_measure(int64_t one, int64_t other) {
    while (other != 0) {
        const int64_t rest = one % other;
        one = other;
        other = rest;
    }
    return one;
}

static void find_step(struct rain_record *record) {
    int64_t step_s = 0;
    for (size_t i = 1; i < record->count; i++) {
        step_s = common_measure(record->readings[i].end_s - record->readings[i - 1].end_s, step_s);
    }
    record->step_s = step_s < MINUTE_S ? MINUTE_S : step_s;
}

static void take_unit(struct rain_record *record, enum rain_unit unit) {
    const double metres =
        unit == RAIN_UNIT_DEPTH_IN || unit == RAIN_UNIT_INTENSITY_INH ? 0.0254 : 0.001;
    const double hours = rain_unit_is_depth(unit) ? 1 : (double)record->step_s / HOUR_S;
    for (size_t i = 0; i < record->count; i++) {
        record->readings[i].depth_m *= metres * hours;
        record->total_m += record->readings[i].depth_m;
    }
}

/*
 * Hardest rain in any window of the span, whether or not the span is as long: the bound below asks
 * it of the whole record.
 */
static double greatest_sum(const struct rain_record *record, struct rain_span span,
                           int64_t window_s, size_t *where) {
    double sum_m = 0;
    double greatest_m = 0;
    size_t end = span.from;
    for (size_t i = span.from; i < span.to; i++) {
        while (end < span.to &&
               record->readings[end].end_s < record->readings[i].end_s + window_s) {
            sum_m += record->readings[end++].depth_m;
        }
        if (sum_m > greatest_m) {
            greatest_m = sum_m;
            *where = i;
        }
        sum_m -= record->readings[i].depth_m;
    }
    return greatest_m;
}

/* The greatest rains of the world lie on 422 mm (t/1 h)^0.475 (SRC-141, MEMORY): 38 mm in one
 * minute is below it. */
static bool check_nature(const struct rain_reader *reader, const struct rain_record *record,
                         struct base_mark mark) {
    static const int64_t WINDOWS_S[] = {MINUTE_S, INT64_C(300), INT64_C(1800), HOUR_S,
                                        INT64_C(86400)};
    const struct rain_span all = {0, record->count};
    for (size_t i = 0; i < sizeof WINDOWS_S / sizeof WINDOWS_S[0]; i++) {
        const int64_t window_s = WINDOWS_S[i] > record->step_s ? WINDOWS_S[i] : record->step_s;
        size_t where = 0;
        const double depth_m = greatest_sum(record, all, window_s, &where);
        const double limit_m = 0.422 * pow((double)window_s / HOUR_S, 0.475);
        if (depth_m > limit_m) {
            mark.document = BASE_DOCUMENT_GAUGE;
            base_add_issue(
                reader->issues,
                (struct base_issue){.code = BASE_ISSUE_GAUGE_BEYOND_NATURE,
                                    .mark = mark,
                                    .value = base_value_number(BASE_UNIT_M, depth_m),
                                    .limit = base_value_number(BASE_UNIT_M, limit_m),
                                    .other = base_value_number(BASE_UNIT_S, (double)window_s)});
            return false;
        }
    }
    return true;
}

static bool check_record(const struct rain_reader *reader, struct rain_record *record) {
    struct base_mark mark = {.document = BASE_DOCUMENT_GAUGE, .line = 1, .column = 1};
    const struct table *table = reader->table;
    struct base_text first = {0};
    if (table->count > 0) {
        mark = table->rows[0].fields[0].mark;
        first = table->rows[0].raw;
    }
    if (record->count < 2) {
        return refuse(reader, BASE_ISSUE_GAUGE_TOO_SHORT, mark, first);
    }
    if (reader->unit == RAIN_UNIT_FROM_FILE) {
        return refuse(reader, BASE_ISSUE_GAUGE_NO_UNIT, mark, first);
    }
    find_step(record);
    if (record->step_s > HOUR_S) {
        base_add_issue(
            reader->issues,
            (struct base_issue){.code = BASE_ISSUE_GAUGE_TOO_COARSE,
                                .mark = mark,
                                .value = base_value_number(BASE_UNIT_S, (double)record->step_s)});
        return false;
    }
    take_unit(record, reader->unit);
    if (!(record->total_m > 0)) {
        return refuse(reader, BASE_ISSUE_GAUGE_DRY, mark, first);
    }
    return check_nature(reader, record, mark);
}

enum base_status rain_read_record(struct base_arena *arena, struct base_issues *issues,
                                  struct base_text source, enum rain_unit unit,
                                  struct rain_record *record) {
    struct table rows = {0};
    struct rain_reader reader = {.arena = arena, .issues = issues, .table = &rows, .unit = unit};
    bool read = false;
    *record = (struct rain_record){0};
    /* a page is known by its first mark: its quotes are none of a table's */
    struct base_text head = source;
    while (head.length > 0 && strchr("\xEF\xBB\xBF \t\r\n", head.bytes[0]) != NULL &&
           head.bytes[0] != '\0') {
        head.bytes++;
        head.length--;
    }
    if (head.length > 0 && head.bytes[0] == '<') {
        refuse(&reader, BASE_ISSUE_GAUGE_IS_A_PAGE, (struct base_mark){.line = 1, .column = 1},
               base_text_of("<"));
        return BASE_STOPPED;
    }
    if (table_read(arena, issues, BASE_DOCUMENT_GAUGE, source, &rows) == BASE_OK) {
        record->readings = base_take(arena, rows.count + 1, sizeof *record->readings);
        read =
            record->readings != NULL && read_rows(&reader, record) && check_record(&reader, record);
    }
    if (!read) {
        *record = (struct rain_record){0};
    }
    if (base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    return read ? BASE_OK : BASE_STOPPED;
}

/* ---- storms in it --------------------------------------------------------------------------- */

bool rain_next_storm(const struct rain_record *record, int64_t gap_s, struct rain_span *span) {
    size_t from = span->to;
    while (from < record->count && !(record->readings[from].depth_m > 0)) {
        from++;
    }
    if (from == record->count) {
        return false;
    }
    size_t last = from;
    for (size_t i = from + 1; i < record->count; i++) {
        if (!(record->readings[i].depth_m > 0)) {
            continue;
        }
        if (record->readings[i].end_s - record->readings[last].end_s >= gap_s + record->step_s) {
            break;
        }
        last = i;
    }
    *span = (struct rain_span){from, last + 1};
    return true;
}

int64_t rain_span_seconds(const struct rain_record *record, struct rain_span span) {
    assert(span.from < span.to && span.to <= record->count);
    return record->readings[span.to - 1].end_s - record->readings[span.from].end_s + record->step_s;
}

bool rain_find_maximum(const struct rain_record *record, struct rain_span span, int64_t window_s,
                       double *intensity_mps) {
    size_t where = 0;
    if (window_s < record->step_s || rain_span_seconds(record, span) < window_s) {
        return false;
    }
    *intensity_mps = greatest_sum(record, span, window_s, &where) / (double)window_s;
    return true;
}

bool rain_find_hardest(const struct rain_record *record, int64_t gap_s, int64_t window_s,
                       struct rain_span *span) {
    struct rain_span storm = {0, 0};
    double hardest_mps = 0;
    bool found = false;
    while (rain_next_storm(record, gap_s, &storm)) {
        double intensity_mps = 0;
        if (rain_find_maximum(record, storm, window_s, &intensity_mps) &&
            (!found || intensity_mps > hardest_mps)) {
            *span = storm;
            hardest_mps = intensity_mps;
            found = true;
        }
    }
    return found;
}

struct rain_span rain_cut_span(const struct rain_record *record, struct rain_span span,
                               int64_t window_s, int64_t most_s) {
    if (rain_span_seconds(record, span) <= most_s) {
        return span;
    }
    const struct rain_reading *readings = record->readings;
    size_t where = span.from;
    (void)greatest_sum(record, span, window_s, &where);
    const int64_t begin_s = readings[span.from].end_s - record->step_s;
    const int64_t end_s = readings[span.to - 1].end_s;
    int64_t from_s = readings[where].end_s - record->step_s + window_s / 2 - most_s / 2;
    from_s = from_s > end_s - most_s ? end_s - most_s : from_s;
    from_s = from_s < begin_s ? begin_s : from_s;
    while (readings[span.from].end_s - record->step_s < from_s) {
        span.from++;
    }
    while (readings[span.to - 1].end_s > from_s + most_s) {
        span.to--;
    }
    return span;
}
