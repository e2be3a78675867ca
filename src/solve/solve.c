/* SPDX-License-Identifier: Apache-2.0 */
#include "solve/solve.h"

struct solve_walk {
    struct base_arena *arena;
    struct base_issues *issues;
    struct base_trace *trace;
    const struct solve_input *input;
    struct solution *solution;
    double rain_mps;
};

/* ---- what was said ----------------------------------------------------------------------------
 */

static enum base_status read_job(struct solve_walk *walk) {
    struct solution *solution = walk->solution;
    enum base_status status = job_read(walk->arena, walk->issues, walk->input->job, &solution->job);
    if (status != BASE_OK) {
        return status;
    }
    solution->shop = shop_default(solution->job.system);
    if (solution->job.round.given) {
        solution->shop.style.round_tick = solution->job.round.tick;
    }
    solution->has_house =
        solution->job.run_count + solution->job.wing_count > 0 || solution->job.outline.given;
    return BASE_OK;
}

static enum base_status read_prices(struct solve_walk *walk) {
    struct solution *solution = walk->solution;
    if (walk->input->prices == NULL) {
        return BASE_OK;
    }
    solution->has_tariff = true;
    return tariff_read(walk->arena, walk->issues, walk->input->prices, &solution->tariff);
}

/* ---- rain: as given, or from the file -----------------------------------------------------------
 */

static enum base_status rain_stop(struct solve_walk *walk, enum base_issue_code code) {
    const struct job_rain *rain = &walk->solution->job.rain;
    base_add_issue(walk->issues,
                   (struct base_issue){.code = code,
                                       .mark = rain->mark,
                                       .value = base_value_number(BASE_UNIT_S, rain->minutes.value),
                                       .limit = base_value_count((int64_t)rain->years.value)});
    return BASE_STOPPED;
}

static enum base_status rain_from_file(struct solve_walk *walk) {
    struct solution *solution = walk->solution;
    const struct job_rain *rain = &solution->job.rain;
    if (walk->input->rain.length == 0) {
        return rain_stop(walk, BASE_ISSUE_RAIN_FILE_EMPTY);
    }
    enum base_status status = rain_read_table(walk->arena, walk->issues, walk->input->rain,
                                              rain->file_unit, &solution->rain_table);
    if (status != BASE_OK) {
        return status;
    }
    solution->has_rain_table = true;
    if (!rain_find_intensity(&solution->rain_table, rain->minutes.value, rain->years.value,
                             &walk->rain_mps)) {
        return rain_stop(walk, BASE_ISSUE_RAIN_OUTSIDE_TABLE);
    }
    return BASE_OK;
}

static enum base_status read_record(struct solve_walk *walk) {
    struct solution *solution = walk->solution;
    const struct job_rain *rain = &solution->job.rain;
    if (!rain->record.given) {
        return BASE_OK;
    }
    if (walk->input->gauge.length == 0) {
        base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_GAUGE_FILE_EMPTY,
                                                         .mark = rain->record.mark});
        return BASE_STOPPED;
    }
    enum base_status status = rain_read_record(walk->arena, walk->issues, walk->input->gauge,
                                               rain->record_unit, &solution->record);
    solution->has_record = status == BASE_OK;
    return status;
}

static void say_like(struct solve_walk *walk) {
    const struct rain_place *like = walk->solution->job.rain.like;
    base_add_issue(walk->issues, (struct base_issue){
                                     .code = BASE_ISSUE_RAIN_LIKE,
                                     .mark = walk->solution->job.rain.minutes.mark,
                                     .object = base_text_of(like->name),
                                     .value = base_value_number(BASE_UNIT_MPS, like->intensity_mps),
                                     .limit = base_value_number(BASE_UNIT_S, like->duration_s),
                                     .other = base_value_count((int64_t)like->period_years)});
}

static enum base_status find_rain(struct solve_walk *walk) {
    const struct job_rain *rain = &walk->solution->job.rain;
    if (!rain->given) {
        return rain_stop(walk, BASE_ISSUE_NO_RAIN);
    }
    enum base_status status = BASE_OK;
    if (rain->file.given) {
        status = rain_from_file(walk);
    } else {
        walk->rain_mps = rain->intensity.value;
    }
    base_trace_scope(walk->trace, base_text_of("rain"));
    base_trace_leaf(walk->trace, "intensity_mps");
    if (rain->like != NULL) {
        say_like(walk);
        base_trace_formula(walk->trace, "as listed for a place like it", rain->like->source);
    } else {
        base_trace_formula(walk->trace,
                           rain->file.given
                               ? "table of the rain file, log-log between durations, log in "
                                 "years between return periods"
                               : "as the job says",
                           rain->file.given ? "SRC-47" : "job file");
    }
    base_trace_input(walk->trace, "duration", base_value_number(BASE_UNIT_S, rain->minutes.value));
    base_trace_input(walk->trace, "return period, years",
                     base_value_count((int64_t)rain->years.value));
    enum base_status record = read_record(walk);
    return status == BASE_OK ? record : status;
}

/* ---- storms --------------------------------------------------------------------------------- */

static struct storm_input storm_input_of(const struct solution *all) {
    return (struct storm_input){&all->layout, all->has_rain_table ? &all->rain_table : NULL,
                                all->has_record ? &all->record : NULL, &all->job.rain};
}

static enum base_status run_storms(struct solve_walk *walk) {
    struct solution *all = walk->solution;
    const struct storm_input input = storm_input_of(all);
    bool failed = false;
    if (!storm_check_wish(walk->issues, &input)) {
        return BASE_STOPPED;
    }
    if (walk->input->brief) {
        return BASE_OK;
    }
    all->storm_count = storm_run_designs(walk->arena, &input, all->storms, &failed);
    if (!failed && all->has_record) {
        failed = !storm_run_record(walk->arena, &input, &all->storms[all->storm_count]);
        all->storm_count += failed ? 0 : 1;
    }
    storm_explain(walk->arena, walk->trace, &all->layout, all->storms, all->storm_count);
    return failed ? BASE_NO_MEMORY : BASE_OK;
}

/* ---- the house ------------------------------------------------------------------------------ */

static enum base_status walk_house(struct solve_walk *walk) {
    struct solution *all = walk->solution;
    struct layout_input layout = {&all->job,
                                  &all->shop,
                                  &all->roof,
                                  walk->rain_mps,
                                  all->job.rain.minutes.value,
                                  all->job.rain.years.value,
                                  all->has_rain_table ? &all->rain_table : NULL,
                                  walk->input->brief};
    enum base_status status =
        layout_choose(walk->arena, walk->issues, walk->trace, &layout, &all->layout);
    if (status != BASE_OK) {
        return status;
    }
    struct hang_input hang = {&all->job, &all->shop, &all->roof, &all->layout};
    status = hang_find(walk->arena, walk->issues, walk->trace, &hang, &all->hang);
    if (status != BASE_OK) {
        return status;
    }
    struct joints_input joints = {&all->job, &all->shop, &all->roof, &all->layout};
    status = joints_fix(walk->arena, walk->issues, walk->trace, &joints, &all->joints);
    return status == BASE_OK ? run_storms(walk) : status;
}

static enum base_status find_house(struct solve_walk *walk) {
    struct solution *all = walk->solution;
    enum base_status status = measure_check(walk->arena, walk->issues, &all->job, &all->measure);
    if (status == BASE_OK) {
        status = measure_use_adjusted(walk->arena, walk->issues, all->shop.style.round_tick,
                                      &all->measure, &all->job);
    }
    measure_explain(walk->trace, &all->measure);
    enum base_status rain_status =
        find_rain(walk); /* both are looked at, so that all faults show */
    if (status == BASE_OK) {
        status = roof_find(walk->arena, walk->issues, &all->job, &all->roof);
    }
    status = status == BASE_OK ? rain_status : status;
    return status == BASE_OK ? walk_house(walk) : status;
}

static enum base_status make_and_price(struct solve_walk *walk) {
    struct solution *all = walk->solution;
    struct pieces_input pieces = {.job = &all->job, .shop = &all->shop};
    if (all->has_house) {
        pieces.measure = &all->measure;
        pieces.roof = &all->roof;
        pieces.layout = &all->layout;
        pieces.hang = &all->hang;
        pieces.joints = &all->joints;
    }
    enum base_status status =
        pieces_list(walk->arena, walk->issues, walk->trace, &pieces, &all->pieces);
    if (status != BASE_OK) {
        return status;
    }
    struct pattern_input pattern = {.shop = &all->shop, .pieces = &all->pieces};
    status = walk->input->brief ? BASE_OK : pattern_list(walk->arena, &pattern, &all->patterns);
    if (status != BASE_OK) {
        return status;
    }
    struct cut_input cut = {.shop = &all->shop, .pieces = &all->pieces, .patterns = &all->patterns};
    status = walk->input->brief ? BASE_OK : cut_find(walk->arena, &cut, &all->cut);
    if (status != BASE_OK) {
        return status;
    }
    struct money_input money = {.shop = &all->shop,
                                .layout = pieces.layout,
                                .roof = pieces.roof,
                                .pieces = &all->pieces,
                                .tariff = all->has_tariff ? &all->tariff : NULL};
    return money_sum(walk->arena, walk->issues, walk->trace, &money, &all->money);
}

enum base_status solve_job(struct base_arena *arena, struct base_issues *issues,
                           struct base_trace *trace, const struct solve_input *input,
                           struct solution *solution) {
    *solution = (struct solution){0};
    struct solve_walk walk = {arena, issues, trace, input, solution, 0.0};
    enum base_status status = read_job(&walk);
    enum base_status prices = read_prices(&walk); /* faults of both texts in one go */
    status = status == BASE_OK ? prices : status;
    if (status == BASE_OK && solution->has_house) {
        status = find_house(&walk);
    }
    if (status == BASE_OK) {
        status = make_and_price(&walk);
    }
    if (base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    if (status == BASE_OK && base_has_stop(issues)) {
        status = BASE_STOPPED;
    }
    solution->safe = base_count_severity(issues, BASE_SEVERITY_MUST) == 0;
    return status;
}
