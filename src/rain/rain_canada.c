/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The intensity-duration-frequency text of the Canadian weather service (SRC-48, FOUND): fixed
 * columns, two languages, Latin-1. Table 2a holds amounts in mm, table 2b rates in mm/h, each rate
 * with its 95 % limits in the line below. Both are printed to 0.1, so up to one hour the rate is
 * the finer number and beyond it the amount; the two must agree within their rounding.
 */
#include "rain/rain_inside.h"

#include <math.h>
#include <string.h>

enum { WORDS_MAX = 2 * RAIN_PERIODS_MAX + 8 };

struct canada_line {
    struct table_field words[WORDS_MAX]; /* [count], split at blanks */
    size_t count;
};

/* A table of the text: its estimates and, in 2b, the half widths of the limits. */
struct canada_table {
    struct rain_grid grid;
    double limit[RAIN_DURATIONS_MAX][RAIN_PERIODS_MAX];
};

static void split_line(const struct table_row *row, struct canada_line *line) {
    const struct base_text raw = row->raw;
    size_t lead = 0;
    size_t at = 0;
    line->count = 0;
    while (lead < raw.length && (raw.bytes[lead] == ' ' || raw.bytes[lead] == '\t')) {
        lead++;
    }
    for (at = lead; at < raw.length && line->count < WORDS_MAX;) {
        size_t end = at;
        while (end < raw.length && raw.bytes[end] != ' ' && raw.bytes[end] != '\t') {
            end++;
        }
        if (end > at) {
            struct table_field *word = &line->words[line->count++];
            word->text = (struct base_text){raw.bytes + at, end - at};
            word->mark = row->fields[0].mark;
            word->mark.column += (int)(at - lead);
            word->mark.from_byte += at - lead;
            word->mark.to_byte = word->mark.from_byte + (end - at);
        }
        at = end + 1;
    }
}

static bool refuse_missing(const struct rain_reader *reader, size_t row, const char *what) {
    const size_t at = row < reader->table->count ? row : reader->table->count - 1;
    return rain_refuse_issue(reader,
                             (struct base_issue){.code = BASE_ISSUE_RAIN_NO_ROWS,
                                                 .mark = reader->table->rows[at].fields[0].mark,
                                                 .object = base_text_of(what)});
}

/* The row of return periods: "Duration/... 2 5 10 25 50 100 #Years". Leaves *at below it. */
static bool read_heading(const struct rain_reader *reader, size_t *at, const char *unit,
                         struct rain_grid *grid) {
    bool has_unit = false;
    for (; *at < reader->table->count; (*at)++) {
        const struct table_row *row = &reader->table->rows[*at];
        struct canada_line line;
        split_line(row, &line);
        has_unit = has_unit || rain_contains(row->raw, unit);
        if (line.count > 0 && base_text_starts(line.words[0].text, "Duration")) {
            size_t count = 0;
            while (count + 1 < line.count && line.words[count + 1].text.bytes[0] != '#') {
                count++;
            }
            if (!has_unit) {
                return rain_refuse(reader, BASE_ISSUE_RAIN_NO_UNIT, row->fields[0].mark,
                                   base_text_of(unit), NULL);
            }
            (*at)++;
            return rain_add_periods(reader, grid, line.words + 1, count, row->fields[0].mark);
        }
    }
    return refuse_missing(reader, *at, "row of return periods");
}

/* -99.9 stands for missing data. */
static void take_missing(struct canada_line *line) {
    for (size_t i = 0; i < line->count; i++) {
        if (base_text_is(line->words[i].text, "-99.9")) {
            line->words[i].text = base_text_of("0");
        }
    }
}

/* "5 min 5.1 7.4 ... 31": two words of duration, the values, the years used. */
static bool read_values(const struct rain_reader *reader, struct canada_line *line,
                        struct rain_grid *grid) {
    double duration_s = 0;
    struct table_field label = line->words[0];
    if (line->count < 2) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_DURATION, label.mark, label.text, NULL);
    }
    label.text.length =
        (size_t)(line->words[1].text.bytes - label.text.bytes) + line->words[1].text.length;
    if (!rain_read_duration(label.text, &duration_s)) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_DURATION, label.mark, label.text, NULL);
    }
    take_missing(line);
    return rain_add_row(reader, grid,
                        &(struct rain_line){label, duration_s, line->words + 2,
                                            line->count < 3 ? 0 : line->count - 3});
}

/* "+/- 10.2 +/- 17.1 ... 31"; the sign and a wide number may touch. */
static bool read_limits(const struct rain_reader *reader, const struct canada_line *line,
                        const struct rain_grid *grid, double *limit) {
    size_t count = 0;
    for (size_t i = 0; i < line->count; i++) {
        struct base_text text = line->words[i].text;
        if (!base_text_starts(text, "+/-")) {
            continue;
        }
        text = (struct base_text){text.bytes + 3, text.length - 3};
        if (text.length == 0 && i + 1 < line->count) {
            text = line->words[i + 1].text;
        }
        if (count == grid->period_count || !rain_read_decimal(text, &limit[count]) ||
            limit[count] < 0) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_NUMBER, line->words[i].mark, text, NULL);
        }
        count++;
    }
    if (count != grid->period_count) {
        return rain_refuse_issue(
            reader, (struct base_issue){.code = BASE_ISSUE_RAIN_ROW_LENGTH,
                                        .mark = line->words[0].mark,
                                        .object = base_text_of("+/-"),
                                        .value = base_value_count((int64_t)count),
                                        .limit = base_value_count((int64_t)grid->period_count)});
    }
    return true;
}

static bool read_line(const struct rain_reader *reader, struct canada_line *line, bool has_limits,
                      struct canada_table *table) {
    struct rain_grid *grid = &table->grid;
    const bool is_limit = base_text_starts(line->words[0].text, "+/-");
    if (base_text_starts(line->words[0].text, "yr/")) {
        return true;
    }
    if (!is_limit) {
        return read_values(reader, line, grid);
    }
    if (!has_limits || grid->duration_count == 0) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_DURATION, line->words[0].mark,
                           line->words[0].text, NULL);
    }
    return read_limits(reader, line, grid, table->limit[grid->duration_count - 1]);
}

static bool read_table(const struct rain_reader *reader, const char *title, bool has_limits,
                       struct canada_table *table) {
    size_t at = 0;
    const struct table *rows = reader->table;
    while (at < rows->count && !base_text_starts(rows->rows[at].raw, title)) {
        at++;
    }
    if (at == rows->count) {
        return refuse_missing(reader, at, title);
    }
    if (!read_heading(reader, &at, has_limits ? "(mm/h)" : "(mm)", &table->grid)) {
        return false;
    }
    for (; at < rows->count; at++) {
        struct canada_line line;
        split_line(&rows->rows[at], &line);
        if (line.count == 0) {
            break;
        }
        if (!read_line(reader, &line, has_limits, table)) {
            return false;
        }
    }
    return table->grid.duration_count > 0 || refuse_missing(reader, at, "durations");
}

/* Puts the finer of both numbers into rates, in mm/h. */
static bool join_tables(const struct rain_reader *reader, const struct rain_grid *amounts,
                        struct rain_grid *rates) {
    if (amounts->duration_count != rates->duration_count ||
        amounts->period_count != rates->period_count ||
        memcmp(amounts->duration_s, rates->duration_s, sizeof rates->duration_s) != 0 ||
        memcmp(amounts->period_years, rates->period_years, sizeof rates->period_years) != 0) {
        return rain_refuse_issue(reader,
                                 (struct base_issue){.code = BASE_ISSUE_RAIN_TABLES_DIFFER,
                                                     .mark = rates->label[0].mark,
                                                     .object = base_text_of("durations or years"),
                                                     .value = base_value_string("table 2a"),
                                                     .other = base_value_string("table 2b")});
    }
    for (size_t i = 0; i < rates->duration_count; i++) {
        const double hours = rates->duration_s[i] / 3600;
        for (size_t j = 0; j < rates->period_count; j++) {
            const double amount = amounts->value[i][j];
            const double rate = rates->value[i][j];
            if (fabs(amount / hours - rate) > 0.0501 / hours + 0.0501) {
                return rain_refuse_issue(
                    reader, (struct base_issue){
                                .code = BASE_ISSUE_RAIN_TABLES_DIFFER,
                                .mark = rates->cell[i][j].mark,
                                .object = rain_clean_text(reader->arena, rates->label[i].text),
                                .value = base_value_text(
                                    rain_clean_text(reader->arena, amounts->cell[i][j].text)),
                                .other = base_value_text(
                                    rain_clean_text(reader->arena, rates->cell[i][j].text))});
            }
            if (hours > 1) {
                rates->value[i][j] = amount / hours;
                rates->cell[i][j] = amounts->cell[i][j];
            }
        }
    }
    return true;
}

static void store_limits(const struct canada_table *rates, struct rain_table *table) {
    for (size_t i = 0; i < table->duration_count; i++) {
        for (size_t j = 0; j < table->period_count; j++) {
            const double limit_mps = rates->limit[i][j] * 0.001 / 3600;
            const double lower_mps = table->intensity_mps[i][j] - limit_mps;
            table->upper_mps[i][j] = table->intensity_mps[i][j] + limit_mps;
            table->lower_mps[i][j] = lower_mps > 0 ? lower_mps : 0;
        }
    }
    table->has_bounds = true;
}

/* The station's line stands first under the first rule of equal signs. */
static struct base_text find_place(const struct rain_reader *reader) {
    struct base_builder builder = {.arena = reader->arena};
    const struct table *rows = reader->table;
    size_t at = 0;
    struct canada_line line = {.count = 0};
    while (at < rows->count && !base_text_starts(rows->rows[at].raw, "====")) {
        at++;
    }
    for (at++; at < rows->count && line.count == 0; at++) {
        split_line(&rows->rows[at], &line);
    }
    for (size_t i = 0; i < line.count; i++) {
        if (i > 0) {
            base_add_char(&builder, ' ');
        }
        base_add_text(&builder, line.words[i].text);
    }
    return rain_clean_text(reader->arena, base_built(&builder));
}

bool rain_read_canada(const struct rain_reader *reader, struct rain_table *table) {
    struct canada_table *amounts = base_take(reader->arena, 1, sizeof *amounts);
    struct canada_table *rates = base_take(reader->arena, 1, sizeof *rates);
    if (amounts == NULL || rates == NULL || !read_table(reader, "Table 2a", false, amounts) ||
        !read_table(reader, "Table 2b", true, rates) ||
        !join_tables(reader, &amounts->grid, &rates->grid) ||
        !rain_check_grid(reader, &rates->grid, RAIN_UNIT_INTENSITY_MMH)) {
        return false;
    }
    table->layout = RAIN_LAYOUT_CANADA_IDF;
    table->place = find_place(reader);
    rain_store_axes(&rates->grid, table);
    rain_store_values(&rates->grid, RAIN_UNIT_INTENSITY_MMH, table->intensity_mps);
    store_limits(rates, table);
    return true;
}
