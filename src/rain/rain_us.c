/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The point table of the US weather service (SRC-47, FOUND): ten lines about the place, then up to
 * three blocks with the same row labels: estimates, upper and lower bound. Spreadsheets save it
 * again with commas at the ends of lines; people cut off its head.
 */
#include "rain/rain_inside.h"

#include <string.h>

enum us_block { US_ESTIMATES = 0, US_UPPER, US_LOWER, US_BLOCK_COUNT };

struct us_file {
    enum rain_unit unit; /* RAIN_UNIT_FROM_FILE: the file does not say */
    struct table_field unit_words;
    bool says_depth;
    bool says_intensity;
    struct table_field type_words;
    struct base_text place;
    struct rain_grid *grids[US_BLOCK_COUNT];
    struct base_mark title[US_BLOCK_COUNT];
};

static struct base_text after(struct base_text text, const char *head) {
    const size_t length = strlen(head);
    return rain_trim((struct base_text){text.bytes + length, text.length - length});
}

bool rain_is_us_title(const struct table_row *row) {
    return base_text_starts(row->raw, "PRECIPITATION FREQUENCY ESTIMATES");
}

static bool is_footer(const struct table_row *row) {
    return base_text_starts(row->raw, "Date/time") || base_text_starts(row->raw, "pyRunTime");
}

bool rain_is_us_header(const struct table_row *row) {
    double number = 0;
    struct base_text second;
    if (base_text_starts(row->raw, "by duration for")) {
        return true;
    }
    if (rain_filled_count(row) < 2 || rain_read_duration(row->fields[0].text, &number) ||
        rain_read_decimal(row->fields[0].text, &number)) {
        return false;
    }
    second = row->fields[1].text;
    return rain_read_decimal(second, &number) || base_text_starts(second, "'1/") ||
           base_text_starts(second, "1/");
}

/* ---- the lines about the place ------------------------------------------------------------- */

static bool read_unit_line(const struct rain_reader *reader, const struct table_row *row,
                           struct us_file *file) {
    static const struct {
        const char *words;
        enum rain_unit unit;
    } known[] = {{"(inches)", RAIN_UNIT_DEPTH_IN},
                 {"(inches/hour)", RAIN_UNIT_INTENSITY_INH},
                 {"(millimeters)", RAIN_UNIT_DEPTH_MM},
                 {"(millimeters/hour)", RAIN_UNIT_INTENSITY_MMH}};
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        if (rain_contains(row->raw, known[i].words)) {
            file->unit = known[i].unit;
            file->unit_words =
                (struct table_field){base_text_of(known[i].words), row->fields[0].mark};
            return true;
        }
    }
    if (rain_contains(row->raw, "(")) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_UNIT_MISMATCH, row->fields[0].mark,
                           row->fields[0].text,
                           "only inches, inches/hour, millimeters and millimeters/hour are known");
    }
    return true;
}

static bool read_preamble_line(const struct rain_reader *reader, const struct table_row *row,
                               struct us_file *file) {
    const struct base_text line = row->raw;
    if (base_text_starts(line, "Point precipitation frequency estimates")) {
        return read_unit_line(reader, row, file);
    }
    if (base_text_starts(line, "Data type:")) {
        file->type_words =
            (struct table_field){rain_trim(row->fields[0].text), row->fields[0].mark};
        file->says_depth = rain_contains(line, "depth");
        file->says_intensity = rain_contains(line, "intensity");
    } else if (base_text_starts(line, "Time series type:")) {
        if (!rain_contains(line, "Partial duration")) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_ANNUAL_MAXIMUM, row->fields[0].mark,
                               row->fields[0].text, NULL);
        }
    } else if (base_text_starts(line, "Location name (ESRI Maps):")) {
        /* the commas of the place are not quoted, so the whole line is the place */
        const struct base_text place = after(line, "Location name (ESRI Maps):");
        file->place = base_text_is(place, "None") ? (struct base_text){0}
                                                  : rain_clean_text(reader->arena, place);
    }
    return true;
}

/* ---- blocks -------------------------------------------------------------------------------- */

static bool read_header(const struct rain_reader *reader, const struct table_row *row,
                        struct rain_grid *grid) {
    const size_t count = rain_filled_count(row);
    for (size_t i = 1; i < count; i++) {
        if (base_text_starts(row->fields[i].text, "'") || rain_contains(row->fields[i].text, "/")) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_ANNUAL_MAXIMUM, row->fields[i].mark,
                               row->fields[i].text, NULL);
        }
    }
    if (rain_contains(row->fields[0].text, "AEP")) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_ANNUAL_MAXIMUM, row->fields[0].mark,
                           row->fields[0].text, NULL);
    }
    return rain_add_periods(reader, grid, row->fields + 1, count == 0 ? 0 : count - 1,
                            row->fields[0].mark);
}

static bool read_data_row(const struct rain_reader *reader, const struct table_row *row,
                          struct rain_grid *grid) {
    double duration_s = 0;
    const struct table_field *label = &row->fields[0];
    if (!rain_read_duration(label->text, &duration_s)) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_DURATION, label->mark,
                           label->text.length == 0 ? base_text_of("nothing") : label->text, NULL);
    }
    return rain_add_row(
        reader, grid,
        &(struct rain_line){*label, duration_s, row->fields + 1, rain_filled_count(row) - 1});
}

static bool find_block(const struct rain_reader *reader, const struct table_row *row,
                       enum us_block *block) {
    const struct base_text tail = after(row->raw, "PRECIPITATION FREQUENCY ESTIMATES");
    if (tail.length == 0) {
        *block = US_ESTIMATES;
    } else if (rain_contains(tail, "UPPER BOUND")) {
        *block = US_UPPER;
    } else if (rain_contains(tail, "LOWER BOUND")) {
        *block = US_LOWER;
    } else {
        return rain_refuse(reader, BASE_ISSUE_RAIN_NOT_A_TABLE, row->fields[0].mark, row->raw,
                           NULL);
    }
    return true;
}

/* Header and rows from *at to the next title, footer or end. */
static bool read_block(const struct rain_reader *reader, size_t *at, struct rain_grid *grid) {
    const struct table *table = reader->table;
    struct base_mark mark = table->rows[*at < table->count ? *at : table->count - 1].fields[0].mark;
    bool has_header = false;
    for (; *at < table->count; (*at)++) {
        const struct table_row *row = &table->rows[*at];
        if (rain_is_us_title(row) || is_footer(row)) {
            break;
        }
        if (rain_row_is_empty(row)) {
            continue;
        }
        if (!has_header) {
            if (!rain_is_us_header(row)) {
                return rain_add_periods(reader, grid, NULL, 0, row->fields[0].mark);
            }
            if (!read_header(reader, row, grid)) {
                return false;
            }
            has_header = true;
        } else if (!read_data_row(reader, row, grid)) {
            return false;
        }
    }
    if (!has_header) {
        return rain_add_periods(reader, grid, NULL, 0, mark);
    }
    if (grid->duration_count == 0) {
        return rain_refuse_issue(reader, (struct base_issue){.code = BASE_ISSUE_RAIN_NO_ROWS,
                                                             .mark = mark,
                                                             .object = base_text_of("durations")});
    }
    return true;
}

static bool read_blocks(const struct rain_reader *reader, size_t at, struct us_file *file) {
    const struct table *table = reader->table;
    while (at < table->count) {
        const struct table_row *row = &table->rows[at];
        enum us_block block = US_ESTIMATES;
        if (is_footer(row) || rain_row_is_empty(row)) {
            at++;
            continue;
        }
        if (rain_is_us_title(row)) {
            if (!find_block(reader, row, &block)) {
                return false;
            }
            at++;
        } else if (file->grids[US_ESTIMATES] != NULL) { /* something behind the footer */
            return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_DURATION, row->fields[0].mark, row->raw,
                               NULL);
        }
        if (file->grids[block] != NULL) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_DUPLICATE_ROW, row->fields[0].mark, row->raw,
                               NULL);
        }
        file->title[block] = row->fields[0].mark;
        file->grids[block] = base_take(reader->arena, 1, sizeof *file->grids[block]);
        if (file->grids[block] == NULL || !read_block(reader, &at, file->grids[block])) {
            return false;
        }
    }
    return true;
}

/* ---- unit and bounds ----------------------------------------------------------------------- */

static bool choose_unit(const struct rain_reader *reader, struct us_file *file) {
    static const char *const grown[] = {
        "its values fall with duration, so they are intensities",
        "its one row shows neither depth nor intensity",
        "its values grow with duration, so they are depths",
    };
    const struct rain_grid *grid = file->grids[US_ESTIMATES];
    if (file->unit == RAIN_UNIT_FROM_FILE) {
        file->unit = reader->unit;
        file->unit_words.mark = file->title[US_ESTIMATES];
        file->unit_words.text =
            base_text_of(rain_unit_is_depth(reader->unit) ? "depth" : "intensity");
    }
    if (file->unit == RAIN_UNIT_FROM_FILE) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_NO_UNIT, file->title[US_ESTIMATES],
                           base_text_of(grown[rain_find_growth(grid) + 1]), NULL);
    }
    if (file->type_words.text.length > 0 && (file->says_depth == file->says_intensity ||
                                             file->says_depth != rain_unit_is_depth(file->unit))) {
        return rain_refuse_issue(
            reader, (struct base_issue){.code = BASE_ISSUE_RAIN_UNIT_MISMATCH,
                                        .mark = file->type_words.mark,
                                        .value = base_value_text(file->unit_words.text),
                                        .other = base_value_text(rain_clean_text(
                                            reader->arena, file->type_words.text))});
    }
    return true;
}

static bool refuse_bound(const struct rain_reader *reader, struct base_mark mark,
                         const char *object, const char *other) {
    return rain_refuse_issue(reader, (struct base_issue){.code = BASE_ISSUE_RAIN_BOUNDS_BROKEN,
                                                         .mark = mark,
                                                         .object = base_text_of(object),
                                                         .other = base_value_string(other)});
}

static bool check_bound(const struct rain_reader *reader, const struct us_file *file,
                        enum us_block block) {
    const struct rain_grid *best = file->grids[US_ESTIMATES];
    const struct rain_grid *bound = file->grids[block];
    const char *name = block == US_UPPER ? "upper bound" : "lower bound";
    if (bound == NULL) {
        return refuse_bound(reader, file->title[block == US_UPPER ? US_LOWER : US_UPPER], name,
                            "is missing while the other one is there");
    }
    if (bound->duration_count != best->duration_count ||
        bound->period_count != best->period_count ||
        memcmp(bound->duration_s, best->duration_s, sizeof best->duration_s) != 0 ||
        memcmp(bound->period_years, best->period_years, sizeof best->period_years) != 0) {
        return refuse_bound(reader, file->title[block], name,
                            "has other durations or return periods than the estimates");
    }
    for (size_t i = 0; i < best->duration_count; i++) {
        for (size_t j = 0; j < best->period_count; j++) {
            const double over = bound->value[i][j] - best->value[i][j];
            if (block == US_UPPER ? over < 0 : over > 0) {
                return refuse_bound(reader, bound->cell[i][j].mark, name,
                                    "lies on the wrong side of the estimate");
            }
        }
    }
    return true;
}

static bool store_file(const struct rain_reader *reader, const struct us_file *file,
                       struct rain_table *table) {
    table->layout = RAIN_LAYOUT_US_POINT;
    table->place = file->place;
    rain_store_axes(file->grids[US_ESTIMATES], table);
    rain_store_values(file->grids[US_ESTIMATES], file->unit, table->intensity_mps);
    if (file->grids[US_UPPER] == NULL && file->grids[US_LOWER] == NULL) {
        return true;
    }
    if (!check_bound(reader, file, US_UPPER) || !check_bound(reader, file, US_LOWER)) {
        return false;
    }
    table->has_bounds = true;
    rain_store_values(file->grids[US_UPPER], file->unit, table->upper_mps);
    rain_store_values(file->grids[US_LOWER], file->unit, table->lower_mps);
    return true;
}

bool rain_read_us(const struct rain_reader *reader, struct rain_table *table) {
    struct us_file file = {.unit = RAIN_UNIT_FROM_FILE};
    size_t at = 0;
    for (; at < reader->table->count; at++) {
        const struct table_row *row = &reader->table->rows[at];
        if (rain_is_us_title(row) || rain_is_us_header(row)) {
            break;
        }
        if (!read_preamble_line(reader, row, &file)) {
            return false;
        }
    }
    if (!read_blocks(reader, at, &file)) {
        return false;
    }
    if (file.grids[US_ESTIMATES] == NULL) {
        return rain_refuse_issue(reader,
                                 (struct base_issue){.code = BASE_ISSUE_RAIN_NO_ROWS,
                                                     .mark = reader->table->rows[0].fields[0].mark,
                                                     .object = base_text_of("block of estimates")});
    }
    return choose_unit(reader, &file) &&
           rain_check_grid(reader, file.grids[US_ESTIMATES], file.unit) &&
           store_file(reader, &file, table);
}
