/* SPDX-License-Identifier: Apache-2.0 */
#include "storm/storm.h"

#include <math.h>

/* Plan area of a reach, with the factor of the rule that decides: its flow over its rain. */
static double find_area(const struct layout *layout, const struct layout_reach *reach) {
    return layout->rain_mps > 0.0 ? reach->flow_m3s / layout->rain_mps : 0.0;
}

static void add_minute(const struct layout_reach *reach, double area_m2, double rain_m,
                       struct storm_reach *sum) {
    double limit_m = reach->often.troubles[LAYOUT_AS_BUILT].rain_mps * RAIN_STORM_STEP_S;
    double over_m = fmax(rain_m - limit_m, 0.0);
    sum->fallen_m3 += area_m2 * rain_m;
    sum->over_m3 += area_m2 * over_m;
    sum->drained_m3 += area_m2 * (rain_m - over_m);
    sum->over_minutes += over_m > 0.0;
    sum->most_over_m3s = fmax(sum->most_over_m3s, area_m2 * over_m / RAIN_STORM_STEP_S);
}

bool storm_run(struct base_arena *arena, const struct layout *layout, const struct rain_storm *rain,
               struct storm *storm) {
    *storm = (struct storm){.duration_s = (double)rain->count * RAIN_STORM_STEP_S,
                            .total_m = rain->total_m,
                            .hardest_mps = rain->hardest_mps,
                            .reach_count = layout->reach_count};
    storm->reaches = base_take(arena, layout->reach_count, sizeof *storm->reaches);
    if (storm->reaches == NULL && layout->reach_count > 0) {
        return false;
    }
    for (size_t i = 0; i < layout->reach_count; i++) {
        const struct layout_reach *reach = &layout->reaches[i];
        struct storm_reach *sum = &storm->reaches[i];
        *sum = (struct storm_reach){.reach = i};
        for (size_t minute = 0; minute < rain->count; minute++) {
            size_t before = sum->over_minutes;
            add_minute(reach, find_area(layout, reach), rain->depth_m[minute], sum);
            if (before == 0 && sum->over_minutes == 1) {
                sum->over_from_s = (double)minute * RAIN_STORM_STEP_S;
            }
        }
        storm->fallen_m3 += sum->fallen_m3;
        storm->drained_m3 += sum->drained_m3;
        storm->over_m3 += sum->over_m3;
    }
    return true;
}

/* ---- from the table -------------------------------------------------------------------------- */

static const double HOUR_S = 3600.0;
static const double RARE_YEARS = 100.0;

/* False when the table does not hold it; *failed when memory failed. */
static bool run_design(struct base_arena *arena, const struct storm_input *input, double years,
                       struct storm *storm, bool *failed) {
    struct rain_design design = {.period_years = years,
                                 .duration_s = HOUR_S,
                                 .block_s = input->layout->rain_s,
                                 .peak_1 = 0.5,
                                 .second = RAIN_SIDE_LEFT};
    struct rain_storm rain;
    enum base_status status = rain_count_blocks(&design) > 0
                                  ? rain_make_design_storm(arena, input->table, &design, &rain)
                                  : BASE_STOPPED;
    if (status == BASE_STOPPED) {
        return false;
    }
    *failed = *failed || status != BASE_OK || !storm_run(arena, input->layout, &rain, storm);
    storm->period_years = years;
    return !*failed;
}

size_t storm_run_designs(struct base_arena *arena, const struct storm_input *input,
                         struct storm storms[STORM_DESIGN_MOST], bool *failed) {
    double design_years = input->layout->rain_years;
    size_t count = 0;
    *failed = false;
    count += run_design(arena, input, design_years, &storms[count], failed);
    if (design_years != RARE_YEARS && !*failed) {
        count += run_design(arena, input, RARE_YEARS, &storms[count], failed);
    }
    return count;
}

/* ---- why ------------------------------------------------------------------------------------- */

static const char *const TABLE_SOURCE = "SRC-142";

static void explain_reach(struct base_trace *trace, const struct layout_reach *reach,
                          const struct storm *storm, bool goes_over) {
    static const char *const leaves[] = {"over_1", "over_from_s", "over_minutes", "most_over_m3s"};
    static const char *const formulas[] = {
        "sum over the minutes of max(rain - the rain it just runs with, 0), by all its rain",
        "the first minute whose rain is more than it just runs with",
        "minutes whose rain is more than it just runs with",
        "(rain of the hardest minute - the rain it just runs with) x its area"};
    size_t count = goes_over ? sizeof leaves / sizeof leaves[0] : 1;
    for (size_t i = 0; i < count; i++) {
        base_trace_leaf(trace, leaves[i]);
        base_trace_formula(trace, formulas[i], "minute by minute as lasting rain: own");
        base_trace_input(
            trace, "the rain it just runs with",
            base_value_number(BASE_UNIT_MPS, reach->often.troubles[LAYOUT_AS_BUILT].rain_mps));
        base_trace_input(trace, "hardest minute",
                         base_value_number(BASE_UNIT_MPS, storm->hardest_mps));
    }
}

void storm_explain(struct base_arena *arena, struct base_trace *trace, const struct layout *layout,
                   const struct storm *storms, size_t count) {
    static const char *const leaves[] = {"years", "duration_s", "rain_m", "hardest_mps"};
    static const char *const formulas[] = {"the design period, and 100 years", "an hour",
                                           "the table's depth for an hour",
                                           "the table's greatest depth in a block, by its length"};
    for (size_t i = 0; trace != NULL && i < count; i++) {
        struct base_builder number = {.arena = arena};
        base_add_string(&number, "storms/");
        base_add_integer(&number, (int64_t)i + 1);
        struct base_text path = base_built(&number);
        base_trace_scope(trace, path);
        for (size_t k = 0; k < sizeof leaves / sizeof leaves[0]; k++) {
            base_trace_leaf(trace, leaves[k]);
            base_trace_formula(trace, formulas[k], TABLE_SOURCE);
        }
        for (size_t k = 0; k < layout->reach_count; k++) {
            struct base_text parts[] = {path, base_text_of("/"), layout->reaches[k].name};
            base_trace_scope(trace, base_join(arena, 3, parts));
            explain_reach(trace, &layout->reaches[k], &storms[i],
                          storms[i].reaches[k].over_minutes > 0);
        }
    }
}
