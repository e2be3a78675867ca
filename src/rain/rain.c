/* SPDX-License-Identifier: Apache-2.0 */
/* Which layout a text has, and what lies between the points of a table. */
#include "numeric/numeric.h"
#include "rain/rain_inside.h"

#include <assert.h>
#include <math.h>

/* ---- reading ------------------------------------------------------------------------------- */

enum text_kind {
    TEXT_UNKNOWN = 0,
    TEXT_OUT_OF_AREA,
    TEXT_LOOK_ALIKE,
    TEXT_US_POINT,
    TEXT_CANADA,
    TEXT_AUSTRIA
};

/* What one line alone gives away. */
static enum text_kind find_line_kind(const struct table_row *row) {
    const struct base_text line = row->raw;
    if (rain_contains(line, "Error 3.0") || rain_contains(line, "not within a project area")) {
        return TEXT_OUT_OF_AREA;
    }
    if (rain_contains(line, "return_period_years")) {
        return TEXT_LOOK_ALIKE;
    }
    if (rain_contains(line, "Intensity-Duration-Frequency") || base_text_starts(line, "Table 2a")) {
        return TEXT_CANADA;
    }
    if (base_text_starts(line, "return period (a)")) {
        return TEXT_AUSTRIA;
    }
    if (rain_is_us_title(row) || base_text_starts(line, "by duration for") ||
        base_text_starts(line, "Point precipitation frequency estimates")) {
        return TEXT_US_POINT;
    }
    return TEXT_UNKNOWN;
}

/* *mark_row: the row to point at. */
static enum text_kind find_kind(const struct table *table, size_t *mark_row) {
    size_t first = 0;
    double duration_s = 0;
    while (first < table->count && rain_row_is_empty(&table->rows[first])) {
        first++;
    }
    *mark_row = first < table->count ? first : 0;
    for (size_t i = first; i < table->count; i++) {
        const enum text_kind kind = find_line_kind(&table->rows[i]);
        if (kind != TEXT_UNKNOWN) {
            *mark_row = i;
            return kind;
        }
    }
    /* the head cut off by hand: years across, then a row that begins with a duration */
    if (first + 1 < table->count && rain_is_us_header(&table->rows[first]) &&
        rain_read_duration(table->rows[first + 1].fields[0].text, &duration_s)) {
        return TEXT_US_POINT;
    }
    return TEXT_UNKNOWN;
}

static bool read_kind(const struct rain_reader *reader, struct rain_table *table) {
    size_t row = 0;
    const enum text_kind kind = find_kind(reader->table, &row);
    struct base_mark mark = {.document = BASE_DOCUMENT_RAIN, .line = 1, .column = 1};
    struct base_text line = {0};
    if (row < reader->table->count) {
        mark = reader->table->rows[row].fields[0].mark;
        line = rain_trim(reader->table->rows[row].raw);
    }
    switch (kind) {
    case TEXT_US_POINT:
        return rain_read_us(reader, table);
    case TEXT_CANADA:
        return rain_read_canada(reader, table);
    case TEXT_AUSTRIA:
        return rain_read_austria(reader, table);
    case TEXT_OUT_OF_AREA:
        return rain_refuse(reader, BASE_ISSUE_RAIN_OUT_OF_AREA, mark, line, NULL);
    case TEXT_LOOK_ALIKE:
        return rain_refuse(reader, BASE_ISSUE_RAIN_LOOK_ALIKE, mark, line, NULL);
    case TEXT_UNKNOWN:
        break;
    }
    return rain_refuse(reader, BASE_ISSUE_RAIN_NOT_A_TABLE, mark,
                       line.length == 0 ? base_text_of("nothing") : line, NULL);
}

enum base_status rain_read_table(struct base_arena *arena, struct base_issues *issues,
                                 struct base_text source, enum rain_unit unit,
                                 struct rain_table *table) {
    struct table rows = {0};
    struct rain_reader reader = {.arena = arena, .issues = issues, .table = &rows, .unit = unit};
    bool read = false;
    *table = (struct rain_table){.layout = RAIN_LAYOUT_US_POINT};
    if (table_read(arena, issues, BASE_DOCUMENT_RAIN, source, &rows) == BASE_OK) {
        read = read_kind(&reader, table);
    }
    if (!read) {
        *table = (struct rain_table){.layout = RAIN_LAYOUT_US_POINT};
    }
    if (base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    return read ? BASE_OK : BASE_STOPPED;
}

/* ---- between the points -------------------------------------------------------------------- */

/* Two neighbours and where between them: value = low + share (high - low). */
struct span {
    size_t low;
    size_t high;
    double share;
};

/* x in the rising axis, its share on a logarithmic scale; false outside. */
static bool find_span(const double *axis, size_t count, double x, struct span *span) {
    if (count == 0 || !(x >= axis[0]) || !(x <= axis[count - 1])) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        if (x == axis[i]) {
            *span = (struct span){i, i, 0};
            return true;
        }
        if (x < axis[i]) {
            *span = (struct span){i - 1, i, log(x / axis[i - 1]) / log(axis[i] / axis[i - 1])};
            return true;
        }
    }
    return false;
}

/* Straight in ln T along one row; false where there is no data. */
static bool find_in_row(const double *row, const struct span *period, double *intensity_mps) {
    const double low = row[period->low];
    const double high = row[period->high];
    if (!(low > 0) || !(high > 0)) {
        return false;
    }
    *intensity_mps = period->low == period->high ? low : low + period->share * (high - low);
    return true;
}

static bool find_at_spans(const struct rain_table *table, const struct span *duration,
                          const struct span *period, double *intensity_mps) {
    double shorter = 0;
    double longer = 0;
    if (!find_in_row(table->intensity_mps[duration->low], period, &shorter) ||
        !find_in_row(table->intensity_mps[duration->high], period, &longer)) {
        return false;
    }
    *intensity_mps = duration->low == duration->high
                         ? shorter
                         : shorter * exp(duration->share * log(longer / shorter));
    return true;
}

bool rain_find_intensity(const struct rain_table *table, double duration_s, double period_years,
                         double *intensity_mps) {
    struct span duration;
    struct span period;
    return find_span(table->duration_s, table->duration_count, duration_s, &duration) &&
           find_span(table->period_years, table->period_count, period_years, &period) &&
           find_at_spans(table, &duration, &period, intensity_mps);
}

/* The excess over the wanted intensity at a share of the way between two return periods. */
struct period_search {
    const struct rain_table *table;
    struct span duration;
    size_t low;
    size_t high;
    double intensity_mps;
};

static double excess_at(double share, const void *context) {
    const struct period_search *search = context;
    const struct span period = {search->low, search->high, share};
    double intensity_mps = 0;
    const bool found = find_at_spans(search->table, &search->duration, &period, &intensity_mps);
    assert(found);
    (void)found;
    return intensity_mps - search->intensity_mps;
}

/* Intensity at the return period of an index; false where there is no data. */
static bool find_at_index(const struct period_search *search, size_t index, double *intensity_mps) {
    const struct span period = {index, index, 0};
    return find_at_spans(search->table, &search->duration, &period, intensity_mps);
}

bool rain_find_period(const struct rain_table *table, double duration_s, double intensity_mps,
                      double *period_years) {
    struct period_search search = {.table = table, .intensity_mps = intensity_mps};
    bool has_low = false;
    *period_years = 0;
    if (!find_span(table->duration_s, table->duration_count, duration_s, &search.duration)) {
        return false;
    }
    for (size_t i = 0; i < table->period_count; i++) {
        double here_mps = 0;
        double share = 0;
        if (!find_at_index(&search, i, &here_mps)) {
            continue;
        }
        if (here_mps == intensity_mps || (here_mps > intensity_mps && !has_low)) {
            *period_years = table->period_years[i];
            return here_mps == intensity_mps;
        }
        if (here_mps > intensity_mps) {
            const double low_years = *period_years;
            const double ratio = table->period_years[i] / low_years;
            search.high = i;
            numeric_find_root(excess_at, &search, 0, 1, 1e-14, &share);
            *period_years = low_years * exp(share * log(ratio));
            return true;
        }
        has_low = true;
        search.low = i;
        *period_years = table->period_years[i];
    }
    return false;
}
