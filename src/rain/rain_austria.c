/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The table computed from an Austrian gauge (SRC-49, FOUND): return periods, their frequencies, the
 * words "duration (min)", then depths in mm (the layout's own unit, not said in the file).
 */
#include "rain/rain_inside.h"

#include <math.h>

/* The second row must be the reciprocal of the first, printed to three decimals. */
static bool check_frequencies(const struct rain_reader *reader, const struct table_row *row,
                              const struct rain_grid *grid) {
    if (!base_text_starts(row->raw, "frequency (1/a)") ||
        rain_filled_count(row) != grid->period_count + 1) {
        return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_PERIOD, row->fields[0].mark, row->raw, NULL);
    }
    for (size_t i = 0; i < grid->period_count; i++) {
        const struct table_field *cell = &row->fields[i + 1];
        double frequency = 0;
        if (!rain_read_decimal(cell->text, &frequency) ||
            fabs(frequency - 1 / grid->period_years[i]) > 0.0006) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_PERIOD, cell->mark, cell->text, NULL);
        }
    }
    return true;
}

static bool read_rows(const struct rain_reader *reader, size_t at, struct rain_grid *grid) {
    for (; at < reader->table->count; at++) {
        const struct table_row *row = &reader->table->rows[at];
        const struct table_field *label = &row->fields[0];
        double minutes = 0;
        if (rain_row_is_empty(row)) {
            continue;
        }
        if (!rain_read_decimal(label->text, &minutes)) {
            return rain_refuse(reader, BASE_ISSUE_RAIN_BAD_DURATION, label->mark, label->text,
                               NULL);
        }
        const struct rain_line line = {*label, minutes * 60, row->fields + 1,
                                       rain_filled_count(row) - 1};
        if (!rain_add_row(reader, grid, &line)) {
            return false;
        }
    }
    return true;
}

bool rain_read_austria(const struct rain_reader *reader, struct rain_table *table) {
    const struct table *rows = reader->table;
    struct rain_grid *grid = base_take(reader->arena, 1, sizeof *grid);
    size_t at = 0;
    while (at < rows->count && rain_row_is_empty(&rows->rows[at])) {
        at++;
    }
    if (grid == NULL ||
        !rain_add_periods(reader, grid, rows->rows[at].fields + 1,
                          rain_filled_count(&rows->rows[at]) - 1, rows->rows[at].fields[0].mark)) {
        return false;
    }
    if (at + 3 >= rows->count || !base_text_starts(rows->rows[at + 2].raw, "duration (min)")) {
        return rain_refuse_issue(
            reader,
            (struct base_issue){.code = BASE_ISSUE_RAIN_NO_ROWS,
                                .mark = rows->rows[at].fields[0].mark,
                                .object = base_text_of("row that begins with duration (min)")});
    }
    if (!check_frequencies(reader, &rows->rows[at + 1], grid) || !read_rows(reader, at + 3, grid)) {
        return false;
    }
    if (grid->duration_count == 0) {
        return rain_refuse_issue(reader,
                                 (struct base_issue){.code = BASE_ISSUE_RAIN_NO_ROWS,
                                                     .mark = rows->rows[at + 2].fields[0].mark,
                                                     .object = base_text_of("durations")});
    }
    if (!rain_check_grid(reader, grid, RAIN_UNIT_DEPTH_MM)) {
        return false;
    }
    table->layout = RAIN_LAYOUT_AUSTRIA;
    rain_store_axes(grid, table);
    rain_store_values(grid, RAIN_UNIT_DEPTH_MM, table->intensity_mps);
    return true;
}
