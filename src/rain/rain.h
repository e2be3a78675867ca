/* SPDX-License-Identifier: Apache-2.0 */
/*
 * rain: how hard it rains here, for a duration and a return period.
 *
 * Walk      before: base, numeric, table, units. after: job (what was given), layout (what is
 * used). Knows     the point-precipitation CSV of the US weather service, the Canadian IDF text and
 * the Austrian table (docs/theory/rain.md).
 */
#ifndef EAVESMITH_RAIN_H
#define EAVESMITH_RAIN_H

#include "base/base.h"

enum { RAIN_DURATIONS_MAX = 32, RAIN_PERIODS_MAX = 16 };

enum rain_layout { RAIN_LAYOUT_US_POINT = 0, RAIN_LAYOUT_CANADA_IDF, RAIN_LAYOUT_AUSTRIA };

/* Depth-duration-frequency: the best estimate only; bounds are kept apart. Intensity in m/s. */
struct rain_table {
    enum rain_layout layout;
    struct base_text place; /* as the file names it; may be empty */
    double duration_s[RAIN_DURATIONS_MAX];
    size_t duration_count;
    double period_years[RAIN_PERIODS_MAX];
    size_t period_count;
    double intensity_mps[RAIN_DURATIONS_MAX][RAIN_PERIODS_MAX]; /* 0 = no data */
    bool has_bounds;
    double upper_mps[RAIN_DURATIONS_MAX][RAIN_PERIODS_MAX];
    double lower_mps[RAIN_DURATIONS_MAX][RAIN_PERIODS_MAX];
};

enum rain_unit {
    RAIN_UNIT_FROM_FILE = 0,
    RAIN_UNIT_DEPTH_IN,
    RAIN_UNIT_INTENSITY_INH,
    RAIN_UNIT_DEPTH_MM,
    RAIN_UNIT_INTENSITY_MMH
};

/*
 * Reads any of the three layouts. unit is used only where the file was trimmed of its own unit
 * line; such a file with RAIN_UNIT_FROM_FILE is refused (RAIN_NO_UNIT) naming whether rows grow
 * (depth) or fall (intensity). Gives BASE_STOPPED with an issue (mark in the file) on every
 * refusal.
 */
enum base_status rain_read_table(struct base_arena *arena, struct base_issues *issues,
                                 struct base_text source, enum rain_unit unit,
                                 struct rain_table *table);

/*
 * Intensity at a duration and return period: exact at table points, log-log between durations, log
 * in years between periods; outside the table false (never extrapolated).
 */
bool rain_find_intensity(const struct rain_table *table, double duration_s, double period_years,
                         double *intensity_mps);
/* Inverse: the return period whose intensity at the duration is that; false (with the nearer bound
 * in *period_years) outside. */
bool rain_find_period(const struct rain_table *table, double duration_s, double intensity_mps,
                      double *period_years);

/*
 * Places for a first guess, by name. Each figure was read in its source (FOUND); most are the hour
 * of a US code, which is about half as hard as the handbooks' five minutes.
 */
struct rain_place {
    const char *name;
    double intensity_mps;
    double duration_s;
    double period_years;
    const char *source;
};
size_t rain_count_places(void);
const struct rain_place *rain_get_place(size_t index);

/* The rest of the room: what a gauge wrote down, and storms minute by minute. */
#include "rain/rain_record.h"
#include "rain/rain_storm.h"

#endif
