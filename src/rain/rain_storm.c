/* SPDX-License-Identifier: Apache-2.0 */
/* Storms minute by minute, and storms made from a table. */
#include "numeric/numeric.h"
#include "rain/rain_inside.h"

#include <assert.h>
#include <math.h>

enum { STORM_MINUTES_MAX = 40 * 24 * 60 }; /* longer records hold more than one storm */

static bool take_minutes(struct base_arena *arena, size_t count, struct rain_storm *storm) {
    *storm = (struct rain_storm){.count = count};
    storm->depth_m = base_take(arena, count + 1, sizeof *storm->depth_m);
    return storm->depth_m != NULL;
}

static void sum_minutes(struct rain_storm *storm) {
    struct numeric_sum total = {0};
    storm->hardest_mps = 0;
    for (size_t i = 0; i < storm->count; i++) {
        numeric_add(&total, storm->depth_m[i]);
        storm->hardest_mps = fmax(storm->hardest_mps, storm->depth_m[i] / RAIN_STORM_STEP_S);
    }
    storm->total_m = numeric_total(&total);
}

/* Rain of [from, to) seconds after the storm's beginning, evenly. */
static void spread(struct rain_storm *storm, double from_s, double to_s, double depth_m) {
    double rest_m = depth_m;
    for (size_t i = (size_t)(from_s / RAIN_STORM_STEP_S); i < storm->count; i++) {
        const double low_s = fmax(from_s, (double)i * RAIN_STORM_STEP_S);
        const double high_s = fmin(to_s, (double)(i + 1) * RAIN_STORM_STEP_S);
        const bool last = high_s >= to_s || i + 1 == storm->count;
        const double part_m = last ? rest_m : depth_m * (high_s - low_s) / (to_s - from_s);
        storm->depth_m[i] += part_m;
        rest_m -= part_m;
        if (last) {
            return;
        }
    }
}

bool rain_make_storm(struct base_arena *arena, const struct rain_record *record,
                     struct rain_span span, double uplift_1, struct rain_storm *storm) {
    const int64_t length_s = rain_span_seconds(record, span);
    const int64_t begin_s = record->readings[span.from].end_s - record->step_s;
    int64_t minutes = (length_s + RAIN_STORM_STEP_S - 1) / RAIN_STORM_STEP_S;
    minutes = minutes > STORM_MINUTES_MAX ? STORM_MINUTES_MAX : minutes;
    if (!take_minutes(arena, (size_t)minutes, storm)) {
        return false;
    }
    for (size_t i = span.from; i < span.to; i++) {
        const double end_s = (double)(record->readings[i].end_s - begin_s);
        const double from_s = end_s - (double)record->step_s;
        if (from_s < (double)minutes * RAIN_STORM_STEP_S) {
            spread(storm, fmax(from_s, 0), end_s, record->readings[i].depth_m * (1 + uplift_1));
        }
    }
    sum_minutes(storm);
    return true;
}

/* ---- from a table --------------------------------------------------------------------------- */

void rain_arrange_blocks(double *block_m, size_t count, double peak_1, enum rain_side second) {
    assert(count <= RAIN_BLOCKS_MAX && peak_1 >= 0 && peak_1 <= 1);
    double rising_m[RAIN_BLOCKS_MAX];
    const bool mirrored = second == RAIN_SIDE_RIGHT;
    for (size_t i = 0; i < count; i++) {
        rising_m[i] = block_m[i];
    }
    numeric_sort(rising_m, count);
    const double share_1 = mirrored ? 1 - peak_1 : peak_1;
    size_t left = (size_t)(share_1 * (double)count + 1e-9);
    left = left >= count && count > 0 ? count - 1 : left; /* blocks still free on the left */
    size_t right = left + 1;                              /* first free on the right */
    bool goes_left = true;
    for (size_t i = 0; i < count; i++) {
        size_t at = left; /* the peak itself */
        if (i > 0) {
            const bool takes_left = left > 0 && (goes_left || right == count);
            at = takes_left ? --left : right++;
            goes_left = !takes_left;
        }
        block_m[mirrored ? count - 1 - at : at] = rising_m[count - 1 - i];
    }
}

size_t rain_count_blocks(const struct rain_design *design) {
    const double blocks = design->duration_s / design->block_s;
    const double whole = floor(blocks + 0.5);
    return fabs(blocks - whole) <= 1e-9 * whole && whole >= 1 && whole <= RAIN_BLOCKS_MAX
               ? (size_t)whole
               : 0;
}

bool rain_find_blocks(const struct rain_table *table, const struct rain_design *design,
                      double *block_m) {
    const size_t count = rain_count_blocks(design);
    double before_m = 0;
    for (size_t i = 0; i < count; i++) {
        const double duration_s =
            i + 1 == count ? design->duration_s : (double)(i + 1) * design->block_s;
        double intensity_mps = 0;
        if (!rain_find_intensity(table, duration_s, design->period_years, &intensity_mps)) {
            return false;
        }
        const double depth_m = intensity_mps * duration_s;
        block_m[i] = fmax(depth_m - before_m, 0);
        before_m = depth_m;
    }
    rain_arrange_blocks(block_m, count, design->peak_1, design->second);
    return count > 0;
}

enum base_status rain_make_design_storm(struct base_arena *arena, const struct rain_table *table,
                                        const struct rain_design *design,
                                        struct rain_storm *storm) {
    double block_m[RAIN_BLOCKS_MAX] = {0};
    *storm = (struct rain_storm){0};
    if (!rain_find_blocks(table, design, block_m)) {
        return BASE_STOPPED;
    }
    if (!take_minutes(arena, (size_t)ceil(design->duration_s / RAIN_STORM_STEP_S - 1e-9), storm)) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < rain_count_blocks(design); i++) {
        spread(storm, (double)i * design->block_s, (double)(i + 1) * design->block_s,
               block_m[i] * (1 + design->uplift_1));
    }
    sum_minutes(storm);
    return BASE_OK;
}

/* ---- kind of building ----------------------------------------------------------------------- */

double rain_risk_factor(enum rain_risk risk) {
    switch (risk) {
    case RAIN_RISK_EAVES:
        return 1.0;
    case RAIN_RISK_ENTRANCE:
        return 1.5;
    case RAIN_RISK_INSIDE:
        return 2.0;
    case RAIN_RISK_PROTECTED:
        return 3.0;
    }
    return 1.0;
}
