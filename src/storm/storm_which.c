/* SPDX-License-Identifier: Apache-2.0 */
/* Which storms are run: made from the rain table, and out of a gauge's record; and why. */
#include "storm/storm.h"

#include <math.h>

static const double HOUR_S = 3600.0;
static const double RARE_YEARS = 100.0;
static const int64_t GAP_S = 7200; /* dry weather that parts two storms, as SRC-140 has it */

/* ---- from the table -------------------------------------------------------------------------- */

double storm_find_duration(const struct job_storm *wish, double block_s) {
    return wish->minutes.given ? wish->minutes.value : ceil(HOUR_S / block_s - 1e-9) * block_s;
}

static struct rain_design make_design(const struct storm_input *input, double years) {
    const struct job_storm *wish = &input->rain->storm;
    return (struct rain_design){.period_years = years,
                                .duration_s = storm_find_duration(wish, input->layout->rain_s),
                                .block_s = input->layout->rain_s,
                                .peak_1 = 0.5,
                                .second = wish->second,
                                .uplift_1 = wish->climate.value};
}

bool storm_check_wish(struct base_issues *issues, const struct storm_input *input) {
    const struct job_storm *wish = &input->rain->storm;
    const struct rain_design design = make_design(input, input->layout->rain_years);
    struct base_issue issue = {.mark = wish->minutes.mark,
                               .value = base_value_number(BASE_UNIT_S, design.duration_s)};
    double depth_mps = 0;
    if (input->table == NULL || !wish->minutes.given) {
        return true;
    }
    if (rain_count_blocks(&design) == 0) {
        issue.code = BASE_ISSUE_STORM_NOT_WHOLE;
        issue.limit = base_value_number(BASE_UNIT_S, design.block_s);
    } else if (!rain_find_intensity(input->table, design.duration_s, design.period_years,
                                    &depth_mps)) {
        issue.code = BASE_ISSUE_STORM_OUTSIDE_TABLE;
        issue.limit = base_value_number(BASE_UNIT_RATIO, design.period_years);
    } else {
        return true;
    }
    base_add_issue(issues, issue);
    return false;
}

/* False when the table does not hold it; *failed when memory failed. */
static bool run_design(struct base_arena *arena, const struct storm_input *input, double years,
                       struct storm *storm, bool *failed) {
    const struct rain_design design = make_design(input, years);
    struct rain_storm rain;
    enum base_status status = rain_count_blocks(&design) > 0
                                  ? rain_make_design_storm(arena, input->table, &design, &rain)
                                  : BASE_STOPPED;
    if (status == BASE_STOPPED) {
        return false;
    }
    *failed = *failed || status != BASE_OK || !storm_run(arena, input->layout, &rain, storm);
    if (*failed) {
        return false;
    }
    storm->kind = STORM_OF_TABLE;
    storm->period_years = years;
    storm->second = design.second;
    storm->climate_1 = design.uplift_1;
    return true;
}

size_t storm_run_designs(struct base_arena *arena, const struct storm_input *input,
                         struct storm storms[STORM_DESIGN_MOST], bool *failed) {
    double design_years = input->layout->rain_years;
    size_t count = 0;
    *failed = false;
    if (input->table == NULL) {
        return 0;
    }
    count += run_design(arena, input, design_years, &storms[count], failed);
    if (design_years != RARE_YEARS && !*failed) {
        count += run_design(arena, input, RARE_YEARS, &storms[count], failed);
    }
    return count;
}

/* ---- out of a record ------------------------------------------------------------------------- */

/* How rare its hardest window is, by the table; a window the table does not hold has no years. */
static struct hydraulics_years find_rarity(const struct rain_table *table, double window_s,
                                           double rain_mps) {
    struct hydraulics_years rarity = {0, HYDRAULICS_TABLE_EMPTY};
    double least_mps = 0;
    if (table == NULL) {
        return rarity;
    }
    if (rain_find_period(table, window_s, rain_mps, &rarity.years)) {
        rarity.table = HYDRAULICS_TABLE_HOLDS;
    } else if (rarity.years > 0 && rain_find_intensity(table, window_s, rarity.years, &least_mps)) {
        rarity.table =
            rain_mps < least_mps ? HYDRAULICS_TABLE_TOO_RARE : HYDRAULICS_TABLE_TOO_SHORT;
    }
    return rarity;
}

/* The storm with the hardest rain over the design duration; over a step of the record where that is
 * longer, or no storm lasts so long. */
static struct rain_span find_worst(const struct storm_input *input, struct storm *storm) {
    const struct rain_record *record = input->record;
    struct rain_span worst = {0, 0};
    struct rain_span next = {0, 0};
    int64_t window_s = (int64_t)input->layout->rain_s;
    window_s = window_s < record->step_s ? record->step_s : window_s;
    if (!rain_find_hardest(record, GAP_S, window_s, &worst)) {
        window_s = record->step_s;
        (void)rain_find_hardest(record, GAP_S, window_s, &worst); /* it has rain */
    }
    while (rain_next_storm(record, GAP_S, &next)) {
        storm->recorded++;
    }
    storm->cut = rain_span_seconds(record, worst) > STORM_RECORD_MOST_S;
    worst = rain_cut_span(record, worst, window_s, STORM_RECORD_MOST_S);
    storm->window_s = (double)window_s;
    (void)rain_find_maximum(record, worst, window_s, &storm->window_mps);
    return worst;
}

bool storm_run_record(struct base_arena *arena, const struct storm_input *input,
                      struct storm *storm) {
    const double climate_1 = input->rain->storm.climate.value;
    struct storm found = {0};
    struct rain_storm rain;
    const struct rain_span span = find_worst(input, &found);
    if (!rain_make_storm(arena, input->record, span, climate_1, &rain) ||
        !storm_run(arena, input->layout, &rain, storm)) {
        return false;
    }
    storm->kind = STORM_OF_RECORD;
    storm->climate_1 = climate_1;
    storm->recorded = found.recorded;
    storm->cut = found.cut;
    storm->window_s = found.window_s;
    storm->window_mps = found.window_mps;
    storm->rarity = find_rarity(input->table, storm->window_s, storm->window_mps);
    storm->began =
        rain_write_clock(arena, input->record->readings[span.from].end_s - input->record->step_s);
    return true;
}

/* ---- why ------------------------------------------------------------------------------------- */

static const char *const TABLE_SOURCE = "SRC-142";

static void explain_reach(struct base_trace *trace, const struct layout_reach *reach,
                          const struct storm *storm, bool goes_over) {
    static const char *const leaves[] = {"over_1", "over_from_s", "over_minutes", "most_over_m3s"};
    static const char *const formulas[] = {
        "sum over the minutes of what comes and is more than it just runs with, by all that comes",
        "the first minute in which more comes than it just runs with",
        "minutes in which more comes than it just runs with",
        "what comes in the hardest minute less what it just runs with"};
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

static void explain_outlet(struct base_trace *trace, const struct storm *storm, bool has_barrel) {
    static const char *const leaves[] = {"passed_m3", "most_passed_m3s", "kept_m3"};
    static const char *const formulas[] = {
        "sum over the minutes of what its reaches bring and do not let over their edges",
        "the greatest of these minutes, by a minute", "what it passes: all comes to the barrel"};
    for (size_t i = 0; i < (has_barrel ? 3U : 2U); i++) {
        base_trace_leaf(trace, leaves[i]);
        base_trace_formula(trace, formulas[i], "minute by minute as lasting rain: own");
        base_trace_input(trace, "rain of the storm",
                         base_value_number(BASE_UNIT_M, storm->total_m));
    }
}

static void explain_sums(struct base_trace *trace, const struct storm *storm) {
    base_trace_leaf(trace, "fallen_m3");
    base_trace_formula(trace, "all its rain on the areas that the deciding rule counts", "SRC-66");
    base_trace_input(trace, "rain of the storm", base_value_number(BASE_UNIT_M, storm->total_m));
    base_trace_leaf(trace, "over_m3");
    base_trace_formula(trace, "sum over the reaches", "minute by minute as lasting rain: own");
}

struct storm_reason {
    const char *leaf;
    const char *formula;
};

static void explain_rows(struct base_trace *trace, const struct storm_reason *rows, size_t count,
                         const char *source) {
    for (size_t i = 0; i < count; i++) {
        base_trace_leaf(trace, rows[i].leaf);
        base_trace_formula(trace, rows[i].formula, source);
    }
}

static void explain_table(struct base_trace *trace, const struct storm *storm) {
    static const struct storm_reason ROWS[] = {
        {"years", "the design period, and 100 years"},
        {"duration_s", "an hour in whole blocks of the design rain's duration, or as the job says"},
        {"rain_m", "the table's depth for that duration, with what the job adds for the climate"},
        {"hardest_mps", "the table's greatest depth in a block, by its length"}};
    explain_rows(trace, ROWS, sizeof ROWS / sizeof ROWS[0],
                 storm->second == RAIN_SIDE_LEFT ? TABLE_SOURCE : "SRC-143");
}

static void explain_record(struct base_trace *trace, const struct storm *storm) {
    static const struct storm_reason ROWS[] = {
        {"duration_s", "first rain to last, two hours dry between storms; 48 hours at most"},
        {"rain_m", "sum of the readings, with what the job adds for the climate"},
        {"hardest_mps", "greatest reading, by its step"},
        {"window_mps", "greatest sum of readings within the window, by the window"}};
    static const struct storm_reason RARITY = {
        "window_years", "the rain table's period of that rain, log in years between periods"};
    explain_rows(trace, ROWS, sizeof ROWS / sizeof ROWS[0], "SRC-140");
    if (storm->rarity.table != HYDRAULICS_TABLE_EMPTY) {
        explain_rows(trace, &RARITY, 1, "SRC-47");
        base_trace_input(trace, "window", base_value_number(BASE_UNIT_S, storm->window_s));
        base_trace_input(trace, "rain", base_value_number(BASE_UNIT_MPS, storm->window_mps));
    }
}

void storm_explain(struct base_arena *arena, struct base_trace *trace, const struct layout *layout,
                   const struct storm *storms, size_t count) {
    for (size_t i = 0; trace != NULL && i < count; i++) {
        struct base_builder number = {.arena = arena};
        base_add_string(&number, "storms/");
        base_add_integer(&number, (int64_t)i + 1);
        struct base_text path = base_built(&number);
        base_trace_scope(trace, path);
        if (storms[i].kind == STORM_OF_TABLE) {
            explain_table(trace, &storms[i]);
        } else {
            explain_record(trace, &storms[i]);
        }
        explain_sums(trace, &storms[i]);
        for (size_t k = 0; k < layout->reach_count; k++) {
            struct base_text parts[] = {path, base_text_of("/"), layout->reaches[k].name};
            base_trace_scope(trace, base_join(arena, 3, parts));
            explain_reach(trace, &layout->reaches[k], &storms[i],
                          storms[i].reaches[k].over_minutes > 0);
        }
        for (size_t k = 0; k < layout->outlet_count; k++) {
            struct base_text parts[] = {path, base_text_of("/"), layout->outlets[k].name};
            base_trace_scope(trace, base_join(arena, 3, parts));
            explain_outlet(trace, &storms[i], layout->outlets[k].discharge == JOB_DISCHARGE_BARREL);
        }
    }
}
