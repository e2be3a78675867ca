/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the files of rain share: one reader of a text, one grid of cells as written, and the checks
 * that every layout must pass. Functions that give bool have added the refusal when they give
 * false.
 */
#ifndef EAVESMITH_RAIN_INSIDE_H
#define EAVESMITH_RAIN_INSIDE_H

#include "rain/rain.h"
#include "table/table.h"

struct rain_reader {
    struct base_arena *arena;
    struct base_issues *issues;
    const struct table *table;
    enum rain_unit unit; /* what the caller said, for a file that says nothing */
};

/* The cells of one block in the unit of the file. A cell of 0 holds no data. */
struct rain_grid {
    double duration_s[RAIN_DURATIONS_MAX];
    struct table_field label[RAIN_DURATIONS_MAX];
    size_t duration_count;
    double period_years[RAIN_PERIODS_MAX];
    size_t period_count;
    double value[RAIN_DURATIONS_MAX][RAIN_PERIODS_MAX];
    struct table_field cell[RAIN_DURATIONS_MAX][RAIN_PERIODS_MAX];
};

/* The text with Latin-1 bytes made UTF-8, control characters made blanks, 80 bytes at most. */
struct base_text rain_clean_text(struct base_arena *arena, struct base_text text);
/* Adds the refusal; value is cleaned. Always false. */
bool rain_refuse(const struct rain_reader *reader, enum base_issue_code code, struct base_mark mark,
                 struct base_text value, const char *other);
/* The same with every part of the issue chosen by the caller. Always false. */
bool rain_refuse_issue(const struct rain_reader *reader, struct base_issue issue);

bool rain_contains(struct base_text text, const char *part);
struct base_text rain_trim(struct base_text text);
bool rain_row_is_empty(const struct table_row *row);
/* Fields of the row without the empty ones a spreadsheet adds at the end. */
size_t rain_filled_count(const struct table_row *row);

/* [-]digits[.digits], at most 15 digits; nothing else, so no NaN, no exponent. */
bool rain_read_decimal(struct base_text text, double *value);
/* 5-min, 5 min, 2-hr, 2 h, 24-hr, 4-day, each with or without a colon behind. */
bool rain_read_duration(struct base_text text, double *duration_s);

/* A clock of a gauge (see rain_record.h), seconds since 1970-01-01 00:00. */
bool rain_read_clock(struct base_text text, int64_t *clock_s);

/* Rising years. mark: where the row stands, for a row that holds none. */
bool rain_add_periods(const struct rain_reader *reader, struct rain_grid *grid,
                      const struct table_field *cells, size_t count, struct base_mark mark);
/* One row of the file: its label, the duration that label means, its cells. */
struct rain_line {
    struct table_field label;
    double duration_s;
    const struct table_field *cells; /* [count] */
    size_t count;
};
bool rain_add_row(const struct rain_reader *reader, struct rain_grid *grid,
                  const struct rain_line *line);
/* Everything that must hold of estimates in that unit. */
bool rain_check_grid(const struct rain_reader *reader, const struct rain_grid *grid,
                     enum rain_unit unit);
bool rain_unit_is_depth(enum rain_unit unit);
/* +1 values grow with duration (depth), -1 they fall (intensity), 0 there is one row. */
int rain_find_growth(const struct rain_grid *grid);
void rain_store_axes(const struct rain_grid *grid, struct rain_table *table);
void rain_store_values(const struct rain_grid *grid, enum rain_unit unit,
                       double intensity_mps[RAIN_DURATIONS_MAX][RAIN_PERIODS_MAX]);

/* Row that can be the head of a US table: years behind a word that is no duration. */
bool rain_is_us_header(const struct table_row *row);
bool rain_is_us_title(const struct table_row *row);

bool rain_read_us(const struct rain_reader *reader, struct rain_table *table);
bool rain_read_canada(const struct rain_reader *reader, struct rain_table *table);
bool rain_read_austria(const struct rain_reader *reader, struct rain_table *table);

#endif
