/* SPDX-License-Identifier: Apache-2.0 */
/* Cells, labels and the checks common to all layouts. */
#include "rain/rain_inside.h"

#include <string.h>

enum { SHOWN_BYTES_MAX = 80 };

#define HOUR_S 3600.0

/*
 * Harder than any rain measured: about 38 mm fell in one minute in 1970, 2280 mm/h (SRC-50,
 * MEMORY). A table above this for 1 min or longer holds a wrong unit.
 */
#define GREATEST_MPS (2280 * 0.001 / HOUR_S)

/* ---- text ---------------------------------------------------------------------------------- */

static size_t utf8_follows(struct base_text text, size_t at) {
    const unsigned char lead = (unsigned char)text.bytes[at];
    size_t more = lead < 0x80 ? 0 : lead < 0xC2 ? 9 : lead < 0xE0 ? 1 : lead < 0xF0 ? 2 : 9;
    if (at + more >= text.length) {
        return more == 0 ? 0 : 9;
    }
    for (size_t i = 1; i <= more; i++) {
        if (((unsigned char)text.bytes[at + i] & 0xC0) != 0x80) {
            return 9;
        }
    }
    /* overlong forms and surrogates */
    if ((lead == 0xE0 && (unsigned char)text.bytes[at + 1] < 0xA0) ||
        (lead == 0xED && (unsigned char)text.bytes[at + 1] > 0x9F)) {
        return 9;
    }
    return more;
}

struct base_text rain_clean_text(struct base_arena *arena, struct base_text text) {
    struct base_builder builder = {.arena = arena};
    for (size_t at = 0; at < text.length && builder.length < SHOWN_BYTES_MAX;) {
        const unsigned char byte = (unsigned char)text.bytes[at];
        const size_t more = utf8_follows(text, at);
        if (byte < 0x20 || byte == 0x7F) {
            base_add_char(&builder, ' ');
            at++;
        } else if (more < 9) {
            base_add_text(&builder, (struct base_text){text.bytes + at, more + 1});
            at += more + 1;
        } else { /* not UTF-8: a Latin-1 letter */
            base_add_char(&builder, (char)(0xC0 | (byte >> 6)));
            base_add_char(&builder, (char)(0x80 | (byte & 0x3F)));
            at++;
        }
    }
    return base_built(&builder);
}

bool rain_refuse_issue(const struct rain_reader *reader, struct base_issue issue) {
    issue.mark.document = BASE_DOCUMENT_RAIN;
    base_add_issue(reader->issues, issue);
    return false;
}

bool rain_refuse(const struct rain_reader *reader, enum base_issue_code code, struct base_mark mark,
                 struct base_text value, const char *other) {
    struct base_issue issue = {
        .code = code,
        .mark = mark,
        .value = base_value_text(rain_clean_text(reader->arena, value)),
    };
    if (other != NULL) {
        issue.other = base_value_string(other);
    }
    return rain_refuse_issue(reader, issue);
}

bool rain_contains(struct base_text text, const char *part) {
    const size_t length = strlen(part);
    for (size_t at = 0; at + length <= text.length; at++) {
        if (memcmp(text.bytes + at, part, length) == 0) {
            return true;
        }
    }
    return false;
}

struct base_text rain_trim(struct base_text text) {
    while (text.length > 0 && (text.bytes[0] == ' ' || text.bytes[0] == '\t')) {
        text.bytes++;
        text.length--;
    }
    while (text.length > 0 && strchr(" \t\r,", text.bytes[text.length - 1]) != NULL) {
        text.length--;
    }
    return text;
}

bool rain_row_is_empty(const struct table_row *row) {
    return rain_filled_count(row) == 0;
}

size_t rain_filled_count(const struct table_row *row) {
    size_t count = row->count;
    while (count > 0 && row->fields[count - 1].text.length == 0) {
        count--;
    }
    return count;
}

/* ---- numbers ------------------------------------------------------------------------------- */

static bool is_digit(char byte) {
    return byte >= '0' && byte <= '9';
}

bool rain_read_decimal(struct base_text text, double *value) {
    double mantissa = 0; /* below 1e15, so exact */
    double scale = 1;    /* a power of ten up to 1e15, exact: the quotient is correctly rounded */
    size_t at = 0;
    int digits = 0;
    bool point = false;
    const bool negative = text.length > 0 && text.bytes[0] == '-';
    for (at = negative ? 1 : 0; at < text.length; at++) {
        if (text.bytes[at] == '.' && !point) {
            point = true;
            continue;
        }
        if (!is_digit(text.bytes[at]) || ++digits > 15) {
            return false;
        }
        mantissa = mantissa * 10 + (text.bytes[at] - '0');
        scale = point ? scale * 10 : scale;
    }
    if (digits == 0) {
        return false;
    }
    *value = (negative ? -mantissa : mantissa) / scale;
    return true;
}

bool rain_read_duration(struct base_text text, double *duration_s) {
    static const struct {
        const char *word;
        double seconds;
    } words[] = {{"min", 60}, {"hr", HOUR_S}, {"h", HOUR_S}, {"day", 24 * HOUR_S}};
    double number = 0;
    size_t digits = 0;
    if (text.length > 0 && text.bytes[text.length - 1] == ':') {
        text.length--;
    }
    while (digits < text.length && (is_digit(text.bytes[digits]) || text.bytes[digits] == '.')) {
        digits++;
    }
    if (digits > 6 || !rain_read_decimal((struct base_text){text.bytes, digits}, &number) ||
        number <= 0) {
        return false;
    }
    text = (struct base_text){text.bytes + digits, text.length - digits};
    if (text.length > 0 && (text.bytes[0] == '-' || text.bytes[0] == ' ')) {
        text.bytes++;
        text.length--;
    }
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (base_text_is(text, words[i].word)) {
            *duration_s = number * words[i].seconds;
            return true;
        }
    }
    return false;
}

/* ---- rows ---------------------------------------------------------------------------------- */

static bool refuse_size(const struct rain_reader *reader, struct base_mark mark, int limit,
                        const char *what) {
    return rain_refuse_issue(reader, (struct base_issue){.code = BASE_ISSUE_RAIN_TOO_LARGE,
                                                         .mark = mark,
                                                         .object = base_text_of(what),
                                                         .limit = base_value_count(limit)});
}

bool rain_add_periods(const struct rain_reader *reader, struct rain_grid *grid,
                      const struct table_field *cells, size_t count, struct base_mark mark) {
    if (count == 0) {
        return rain_refuse_issue(
            reader, (struct base_issue){.code = BASE_ISSUE_RAIN_NO_ROWS,
                                        .mark = mark,
                                        .object = base_text_of("row of return periods")});
    }
    if (count > RAIN_PERIODS_MAX) {
        return refuse_size(reader, cells[RAIN_PERIODS_MAX].mark, RAIN_PERIODS_MAX,
                           "return periods");
    }
    for (size_t i = 0; i < count; i++) {
        double years = 0;
        const double before = i == 0 ? 0 : grid->period_years[i - 1];
        if (!rain_read_decimal(cells[i].text, &years) || years < 1 || years > 1e6 ||
            years <= before) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_PERIOD, cells[i].mark, cells[i].text,
                               NULL);
        }
        grid->period_years[i] = years;
    }
    grid->period_count = count;
    return true;
}

static bool check_new_duration(const struct rain_reader *reader, const struct rain_grid *grid,
                               const struct table_field *label, double duration_s) {
    if (grid->duration_count == RAIN_DURATIONS_MAX) {
        return refuse_size(reader, label->mark, RAIN_DURATIONS_MAX, "durations");
    }
    if (!(duration_s >= 60) || duration_s > 366 * 24 * HOUR_S) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_DURATION, label->mark, label->text, NULL);
    }
    for (size_t i = 0; i < grid->duration_count; i++) {
        if (grid->duration_s[i] == duration_s) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_DUPLICATE_ROW, label->mark, label->text,
                               NULL);
        }
    }
    if (grid->duration_count > 0 && grid->duration_s[grid->duration_count - 1] > duration_s) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_DURATION_ORDER, label->mark, label->text, NULL);
    }
    return true;
}

bool rain_add_row(const struct rain_reader *reader, struct rain_grid *grid,
                  const struct rain_line *line) {
    const size_t row = grid->duration_count;
    if (!check_new_duration(reader, grid, &line->label, line->duration_s)) {
        return false;
    }
    if (line->count != grid->period_count) {
        return rain_refuse_issue(
            reader, (struct base_issue){.code = BASE_ISSUE_RAIN_ROW_LENGTH,
                                        .mark = line->label.mark,
                                        .object = rain_clean_text(reader->arena, line->label.text),
                                        .value = base_value_count((int64_t)line->count),
                                        .limit = base_value_count((int64_t)grid->period_count)});
    }
    for (size_t i = 0; i < line->count; i++) {
        if (!rain_read_decimal(line->cells[i].text, &grid->value[row][i]) ||
            grid->value[row][i] < 0) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_NUMBER, line->cells[i].mark,
                               line->cells[i].text, NULL);
        }
        grid->cell[row][i] = line->cells[i];
    }
    grid->duration_s[row] = line->duration_s;
    grid->label[row] = line->label;
    grid->duration_count++;
    return true;
}

/* ---- checks -------------------------------------------------------------------------------- */

bool rain_unit_is_depth(enum rain_unit unit) {
    return unit == RAIN_UNIT_DEPTH_IN || unit == RAIN_UNIT_DEPTH_MM;
}

static double intensity_of(enum rain_unit unit, double value, double duration_s) {
    switch (unit) {
    case RAIN_UNIT_DEPTH_IN:
        return value * 0.0254 / duration_s;
    case RAIN_UNIT_DEPTH_MM:
        return value * 0.001 / duration_s;
    case RAIN_UNIT_INTENSITY_INH:
        return value * 0.0254 / HOUR_S;
    case RAIN_UNIT_INTENSITY_MMH:
        return value * 0.001 / HOUR_S;
    case RAIN_UNIT_FROM_FILE:
        break;
    }
    return 0;
}

int rain_find_growth(const struct rain_grid *grid) {
    for (size_t i = 0; i < grid->period_count; i++) {
        double shortest = 0; /* the first and the last row that hold data here */
        double longest = 0;
        for (size_t row = 0; row < grid->duration_count; row++) {
            const double value = grid->value[row][i];
            shortest = shortest > 0 ? shortest : value;
            longest = value > 0 ? value : longest;
        }
        if (shortest != longest) {
            return longest > shortest ? 1 : -1;
        }
    }
    return 0;
}

static bool check_rise(const struct rain_reader *reader, const struct table_field *before,
                       const struct table_field *cell, const char *rule) {
    return rain_refuse_issue(
        reader,
        (struct base_issue){.code = BASE_ISSUE_RAIN_NOT_GROWING,
                            .mark = cell->mark,
                            .value = base_value_text(rain_clean_text(reader->arena, cell->text)),
                            .limit = base_value_text(rain_clean_text(reader->arena, before->text)),
                            .other = base_value_string(rule)});
}

/* Along one row rain must not fall with the return period. 0 is no data. */
static bool check_periods(const struct rain_reader *reader, const struct rain_grid *grid,
                          size_t row) {
    const struct table_field *before = NULL;
    double least = 0;
    for (size_t i = 0; i < grid->period_count; i++) {
        const double value = grid->value[row][i];
        if (value > 0 && before != NULL && value < least) {
            return check_rise(reader, before, &grid->cell[row][i],
                              "rain cannot be less for a longer return period");
        }
        if (value > 0) {
            before = &grid->cell[row][i];
            least = value;
        }
    }
    return true;
}

/* Down one column a depth must not fall and an intensity not rise. */
static bool check_durations(const struct rain_reader *reader, const struct rain_grid *grid,
                            size_t column, bool is_depth) {
    const struct table_field *before = NULL;
    double last = 0;
    for (size_t i = 0; i < grid->duration_count; i++) {
        const double value = grid->value[i][column];
        if (value > 0 && before != NULL && (is_depth ? value < last : value > last)) {
            return check_rise(reader, before, &grid->cell[i][column],
                              is_depth ? "a depth cannot be less for a longer duration"
                                       : "an intensity cannot be more for a longer duration");
        }
        if (value > 0) {
            before = &grid->cell[i][column];
            last = value;
        }
    }
    return true;
}

static bool check_row_values(const struct rain_reader *reader, const struct rain_grid *grid,
                             enum rain_unit unit, size_t row) {
    for (size_t i = 0; i < grid->period_count; i++) {
        const struct table_field *cell = &grid->cell[row][i];
        const double value = grid->value[row][i];
        /* long durations of an intensity file round to 0; a depth never does */
        if (value == 0 && rain_unit_is_depth(unit)) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_NUMBER, cell->mark, cell->text, NULL);
        }
        if (intensity_of(unit, value, grid->duration_s[row]) > GREATEST_MPS) {
            return rain_refuse_issue(
                reader, (struct base_issue){
                            .code = BASE_ISSUE_RAIN_BEYOND_NATURE,
                            .mark = cell->mark,
                            .value = base_value_text(rain_clean_text(reader->arena, cell->text)),
                            .limit = base_value_number(BASE_UNIT_MPS, GREATEST_MPS),
                            .source = "SRC-50"});
        }
    }
    return check_periods(reader, grid, row);
}

bool rain_check_grid(const struct rain_reader *reader, const struct rain_grid *grid,
                     enum rain_unit unit) {
    const bool is_depth = rain_unit_is_depth(unit);
    const int growth = rain_find_growth(grid);
    if (growth != 0 && (growth > 0) != is_depth) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_UNIT_MISMATCH, grid->label[0].mark,
                           base_text_of(is_depth ? "depth" : "intensity"),
                           is_depth ? "the values fall with duration, as intensities do"
                                    : "the values grow with duration, as depths do");
    }
    for (size_t i = 0; i < grid->duration_count; i++) {
        if (!check_row_values(reader, grid, unit, i)) {
            return false;
        }
    }
    for (size_t i = 0; i < grid->period_count; i++) {
        if (!check_durations(reader, grid, i, is_depth)) {
            return false;
        }
    }
    return true;
}

void rain_store_axes(const struct rain_grid *grid, struct rain_table *table) {
    memcpy(table->duration_s, grid->duration_s, sizeof table->duration_s);
    memcpy(table->period_years, grid->period_years, sizeof table->period_years);
    table->duration_count = grid->duration_count;
    table->period_count = grid->period_count;
}

void rain_store_values(const struct rain_grid *grid, enum rain_unit unit,
                       double intensity_mps[RAIN_DURATIONS_MAX][RAIN_PERIODS_MAX]) {
    for (size_t i = 0; i < grid->duration_count; i++) {
        for (size_t j = 0; j < grid->period_count; j++) {
            intensity_mps[i][j] = intensity_of(unit, grid->value[i][j], grid->duration_s[i]);
        }
    }
}
