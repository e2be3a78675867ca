/* SPDX-License-Identifier: Apache-2.0 */
/* Chooses outlets and sizes line by line, then works out the physics of what was chosen. */
#include "layout/layout.h"

#include <math.h>

#include "layout/layout_inside.h"
#include "material/material.h"

/* ---- choosing -------------------------------------------------------------------------------- */

/*
 * What a set of outlets must keep to be taken at each round of the search: first a gutter of usual
 * size and short reaches, then any size, then whatever passes.
 */
enum round { ROUND_USUAL = 0, ROUND_SHORT, ROUND_ANY, ROUND_COUNT };

/* Larger sizes are made, but looked for only when the usual ones fail: 6 in, or 400 in a metric
 * shop. */
static bool is_usual_size(const struct layout_walk *walk, size_t profile) {
    double width_m = walk->input->shop->profiles[profile].section.inside_diameter_m;
    return width_m <= 0.1925;
}

static bool good_enough(const struct layout_walk *walk, const struct layout_trial *trial,
                        enum round round) {
    if (!trial->gutter_passes || !trial->outlets_pass) {
        return false;
    }
    bool is_short = trial->longest_m <= units_m_of_tick(walk->input->shop->one_way_max_tick);
    switch (round) {
    case ROUND_USUAL:
        return is_short && is_usual_size(walk, trial->profile);
    case ROUND_SHORT:
        return is_short;
    case ROUND_ANY:
    case ROUND_COUNT:
        break;
    }
    return true;
}

static void pick(const struct layout_place *all, size_t count, unsigned set,
                 struct layout_trial *trial) {
    trial->place_count = 0;
    for (size_t i = 0; i < count; i++) {
        if ((set >> i & 1u) != 0) {
            trial->places[trial->place_count++] = all[i];
        }
    }
}

static size_t bits_of(unsigned set) {
    size_t bits = 0;
    for (; set != 0; set &= set - 1) {
        bits++;
    }
    return bits;
}

/* The smallest set of places that is good enough; among equals the one latest on the line (its
 * right end). */
static bool search(const struct layout_walk *walk, size_t line, const struct layout_place *all,
                   size_t count, struct layout_trial *best) {
    for (int round = 0; round < ROUND_COUNT; round++) {
        for (size_t size = 1; size <= count; size++) {
            for (unsigned set = (1u << count) - 1; set > 0; set--) {
                if (bits_of(set) != size) {
                    continue;
                }
                pick(all, count, set, best);
                layout_try(walk, line, best);
                if (good_enough(walk, best, (enum round)round)) {
                    return true;
                }
            }
        }
    }
    return false;
}

static void report_too_small(struct layout_walk *walk, const struct layout_trial *trial) {
    const struct shop_profile *profile = &walk->input->shop->profiles[trial->profile];
    for (size_t i = 0; i < trial->reach_count; i++) {
        const struct layout_check *check = &trial->reaches[i].checks[walk->layout->basis];
        if (!check->passes) {
            base_add_issue(
                walk->issues,
                (struct base_issue){
                    .code = BASE_ISSUE_GUTTER_TOO_SMALL,
                    .object = walk->layout->runs[trial->places[trial->reaches[i].outlet].run].name,
                    .value = base_value_number(BASE_UNIT_M3S, check->flow_m3s),
                    .limit = base_value_number(BASE_UNIT_M3S, check->capacity_m3s),
                    .other = base_value_string(profile->name)});
        }
    }
    if (!trial->outlets_pass) {
        double capacity_m3s = fmin(layout_outlet_capacity(walk, trial->profile, trial->pipe),
                                   layout_pipe_capacity(walk, trial->pipe));
        double most_m3s = 0.0;
        for (size_t i = 0; i < trial->place_count; i++) {
            most_m3s = fmax(most_m3s, trial->outlet_flow_m3s[i]);
        }
        base_add_issue(walk->issues,
                       (struct base_issue){
                           .code = BASE_ISSUE_OUTLET_TOO_SMALL,
                           .object = walk->layout->runs[trial->places[0].run].name,
                           .value = base_value_number(BASE_UNIT_M3S, most_m3s),
                           .limit = base_value_number(BASE_UNIT_M3S, capacity_m3s),
                           .other = base_value_string(walk->input->shop->pipes[trial->pipe].name)});
    }
}

/* ---- keeping what was chosen ------------------------------------------------------------------
 */

static struct base_text numbered(struct base_arena *arena, struct base_text name, const char *role,
                                 size_t number) {
    struct base_builder builder = {.arena = arena};
    base_add_text(&builder, name);
    base_add_string(&builder, role);
    base_add_integer(&builder, (int64_t)number);
    return base_built(&builder);
}

/* How many earlier outlets stand on the same run, plus one. */
static size_t number_on_run(const struct layout *layout, size_t run) {
    size_t number = 1;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        number += layout->outlets[i].run == run;
    }
    return number;
}

static void keep_outlet(struct layout_walk *walk, const struct layout_trial *trial, size_t index) {
    struct layout *layout = walk->layout;
    const struct shop *shop = walk->input->shop;
    const struct layout_place *place = &trial->places[index];
    double inside_m = layout_outlet_inside(walk, trial->profile, trial->pipe);
    double flow_m3s = trial->outlet_flow_m3s[index];
    struct layout_outlet outlet = {
        .name = numbered(walk->arena, layout->runs[place->run].name, ".outlet.",
                         number_on_run(layout, place->run)),
        .run = place->run,
        .line = trial->line,
        .x_tick = place->x_tick,
        .line_m = place->line_m,
        .discharge = place->discharge,
        .onto_run = SIZE_MAX,
        .mark = place->mark,
        .flow_m3s = flow_m3s,
        .pipe = trial->pipe,
        .tube_tick = layout_tube(shop, trial->pipe),
        .inside_m = inside_m,
        .head_m = hydraulics_outlet_head(inside_m, flow_m3s, layout->strained),
        .outlet_flow_m3s = layout_outlet_capacity(walk, trial->profile, trial->pipe),
        .pipe_flow_m3s = layout_pipe_capacity(walk, trial->pipe),
        .strained = layout->strained};
    if (place->onto != NULL) {
        outlet.onto_run = layout_find_run(walk, place->onto);
        outlet.onto_x_tick = layout_place_of(walk, outlet.onto_run, place->onto).x_tick;
    }
    outlet.passes = outlet.outlet_flow_m3s >= flow_m3s * (1.0 - shop->level_dead_band_1) &&
                    outlet.pipe_flow_m3s >= flow_m3s * (1.0 - shop->level_dead_band_1);
    layout->outlets[layout->outlet_count++] = outlet;
}

/* The flow as physics has it, in the size that was chosen. */
static bool solve_profile(struct layout_walk *walk, struct layout_reach *reach,
                          struct layout_stretch water) {
    struct layout *layout = walk->layout;
    const struct shop_profile *profile =
        &walk->input->shop->profiles[layout->lines[reach->line].profile];
    struct hydraulics_channel channel = {.section = profile->section};
    channel.outlet_head_m = layout->outlets[reach->outlet].head_m;
    if (!layout_channel(walk, reach, water, &channel) ||
        !hydraulics_find_profile(walk->arena, &channel, &reach->profile)) {
        return false;
    }
    layout->profiles_solved++;
    reach->bends = channel.bends;
    reach->bend_count = channel.bend_count;
    reach->channel = &walk->channels[reach - layout->reaches];
    walk->channels[reach - layout->reaches] = channel;
    walk->waters[reach - layout->reaches] = water;
    double full_m = section_full_depth(&profile->section);
    if (reach->flow_m3s > 0.0) {
        /* to the second: the water is level, and a jump may stand a station up or down */
        reach->holds_s = floor(
            0.5 + (hydraulics_profile_volume(&channel.section, &reach->profile) / reach->flow_m3s));
    }
    reach->freeboard_m = fmax(0.0, full_m - reach->profile.greatest_depth_m);
    if (reach->profile.overflows) {
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_WATER_OVER_THE_LIP,
                                           .object = reach->name,
                                           .limit = base_value_number(BASE_UNIT_M, full_m)});
    }
    return true;
}

static bool keep_reaches(struct layout_walk *walk, const struct layout_trial *trial,
                         size_t first_outlet) {
    struct layout *layout = walk->layout;
    for (size_t i = 0; i < trial->reach_count; i++) {
        struct layout_reach *reach = &layout->reaches[layout->reach_count];
        *reach = trial->reaches[i];
        reach->outlet = first_outlet + trial->reaches[i].outlet;
        reach->name = numbered(walk->arena, layout->runs[layout->lines[trial->line].first_run].name,
                               ".reach.", i + 1);
        layout->reach_count++;
        if (!solve_profile(walk, reach, trial->water[i])) {
            return false;
        }
    }
    return true;
}

static size_t high_points_on_run(const struct layout *layout, size_t run) {
    size_t number = 1;
    for (size_t i = 0; i < layout->high_point_count; i++) {
        number += layout->high_points[i].run == run;
    }
    return number;
}

/* Between two outlets both reaches end at one high point; only the first of the two adds it. */
static void keep_high_points(struct layout_walk *walk, const struct layout_trial *trial) {
    struct layout *layout = walk->layout;
    const struct layout_line *line = &layout->lines[trial->line];
    for (size_t i = 0; i < trial->reach_count; i++) {
        const struct layout_reach *reach = &trial->reaches[i];
        bool at_closed_end =
            !line->is_ring && (reach->still_m <= 0.0 || reach->still_m >= line->length_m);
        if (at_closed_end || reach->towards_right) {
            continue; /* a middle has one reach to its left: towards_right is false for it */
        }
        double x_m;
        size_t run = layout_locate(layout, trial->line, reach->still_m, &x_m);
        layout->high_points[layout->high_point_count] = (struct layout_high_point){
            .name = numbered(walk->arena, layout->runs[run].name, ".high point.",
                             high_points_on_run(layout, run)),
            .run = run,
            .x_tick = units_tick_of_m(x_m),
            .line_m = layout->runs[run].line_start_m + x_m};
        layout->high_point_count++;
    }
}

/* ---- levels ------------------------------------------------------------------------------------
 */

/* Distance along the line to the outlet that drains a place; a ring is looked at on three laps. */
static double distance_to_outlet(const struct layout *layout, size_t line_index, double line_m,
                                 bool *towards_right) {
    const struct layout_line *line = &layout->lines[line_index];
    double best_m = -1.0;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        if (layout->outlets[i].line != line_index) {
            continue;
        }
        for (int lap = -1; lap <= 1; lap++) {
            double to_m = layout->outlets[i].line_m + lap * line->length_m - line_m;
            bool counts = lap == 0 || line->is_ring;
            if (counts && (best_m < 0.0 || fabs(to_m) < best_m)) {
                best_m = fabs(to_m);
                *towards_right = to_m > 0.0;
            }
        }
    }
    return best_m < 0.0 ? 0.0 : best_m;
}

double layout_fall_at(const struct layout *layout, size_t run_index, double x_m) {
    const struct layout_run *run = &layout->runs[run_index];
    const struct layout_line *line = &layout->lines[run->line];
    bool right;
    double away_m = distance_to_outlet(layout, run->line, run->line_start_m + x_m, &right);
    return line->top_rise_m - line->slope_1 * away_m;
}

bool layout_flows_right(const struct layout *layout, size_t run_index, double x_m) {
    const struct layout_run *run = &layout->runs[run_index];
    bool right = true;
    distance_to_outlet(layout, run->line, run->line_start_m + x_m, &right);
    return right;
}

/* Lip below the roof edge that a pitch asks for at the highest place: clearance below the roof's
 * line. */
static double lip_needed(const struct layout_walk *walk, size_t line,
                         const struct roof_eave *eave) {
    const struct shop *shop = walk->input->shop;
    const struct shop_profile *profile = &shop->profiles[walk->layout->lines[line].profile];
    const struct material_sheet *sheet = material_find_sheet(base_text_of(profile->sheet));
    double sheet_m = sheet == NULL ? 0.0 : sheet->nominal_m;
    double out_m = section_outer_width(&profile->section, sheet_m) -
                   units_m_of_tick(layout_edge_over(shop, eave));
    return out_m * eave->pitch_1 + units_m_of_tick(shop_lip_clearance(eave->pitch_1));
}

double layout_lip_at(const struct layout *layout, size_t run, double x_m) {
    return layout->lines[layout->runs[run].line].lip_top_m + layout_fall_at(layout, run, x_m);
}

size_t layout_list_stations(const struct layout *layout, size_t run_index,
                            int64_t stations[LAYOUT_STATIONS_MAX]) {
    const struct layout_run *run = &layout->runs[run_index];
    size_t count = 0;
    stations[count++] = 0;
    stations[count++] = run->length_tick;
    for (size_t i = 0; i < layout->outlet_count && count < (size_t)2 * LAYOUT_PLACES_MAX; i++) {
        if (layout->outlets[i].run == run_index) {
            stations[count++] = layout->outlets[i].x_tick;
        }
    }
    for (size_t i = 0; i < layout->high_point_count && count < (size_t)4 * LAYOUT_PLACES_MAX; i++) {
        if (layout->high_points[i].run == run_index) {
            stations[count++] = layout->high_points[i].x_tick;
        }
    }
    return count;
}

static void find_run_levels(struct layout *layout, size_t run_index) {
    struct layout_run *run = &layout->runs[run_index];
    int64_t stations[LAYOUT_STATIONS_MAX];
    size_t count = layout_list_stations(layout, run_index, stations);
    double least_m = 1e9;
    double most_m = -1e9;
    for (size_t i = 0; i < count; i++) {
        double fall_m = layout_fall_at(layout, run_index, units_m_of_tick(stations[i]));
        least_m = fmin(least_m, fall_m);
        most_m = fmax(most_m, fall_m);
    }
    for (size_t i = count; i-- > 0;) { /* of equals the first as walked */
        double fall_m = layout_fall_at(layout, run_index, units_m_of_tick(stations[i]));
        run->high_x_tick = fall_m < least_m + GEOMETRY_EVENT_M ? stations[i] : run->high_x_tick;
        run->low_x_tick = fall_m > most_m - GEOMETRY_EVENT_M ? stations[i] : run->low_x_tick;
    }
    double top_m = layout->lines[run->line].lip_top_m;
    run->lip_high_tick = units_tick_of_m(top_m + least_m);
    run->lip_low_tick = units_tick_of_m(top_m + most_m);
}

static double least_fall(const struct layout *layout, size_t run_index) {
    const struct layout_run *run = &layout->runs[run_index];
    double least_m = fmin(layout_fall_at(layout, run_index, 0.0),
                          layout_fall_at(layout, run_index, units_m_of_tick(run->length_tick)));
    for (size_t i = 0; i < layout->high_point_count; i++) {
        if (layout->high_points[i].run == run_index) {
            double x_m = units_m_of_tick(layout->high_points[i].x_tick);
            least_m = fmin(least_m, layout_fall_at(layout, run_index, x_m));
        }
    }
    return least_m;
}

/* The whole line is hung so low that the lip keeps its clearance on every one of its runs. */
static void find_levels(struct layout_walk *walk, size_t line_index) {
    struct layout *layout = walk->layout;
    struct layout_line *line = &layout->lines[line_index];
    for (size_t i = 0; i < layout->reach_count; i++) {
        if (layout->reaches[i].line == line_index) {
            double rise_m = line->slope_1 * units_m_of_tick(layout->reaches[i].length_tick);
            line->top_rise_m = fmax(line->top_rise_m, rise_m);
        }
    }
    for (size_t i = 0; i < line->run_count; i++) {
        size_t run = line->first_run + i;
        const struct roof_eave *eave = &walk->input->roof->eaves[layout->runs[run].eave];
        double top_m = lip_needed(walk, line_index, eave) - least_fall(layout, run);
        line->lip_top_m = i == 0 ? top_m : fmax(line->lip_top_m, top_m);
    }
    for (size_t i = 0; i < line->run_count; i++) {
        find_run_levels(layout, line->first_run + i);
    }
    /* More than this between the two ends shows from the street and lets water overshoot: COMMON
     * PRACTICE. */
    const double fall_most_m = 0.0762;
    if (line->top_rise_m > fall_most_m) {
        base_add_issue(
            walk->issues,
            (struct base_issue){.code = BASE_ISSUE_FALL_IS_LARGE,
                                .object = layout->runs[line->first_run].name,
                                .value = base_value_tick(units_tick_of_m(line->top_rise_m)),
                                .limit = base_value_tick(units_tick_of_m(fall_most_m))});
    }
}

/* ---- the walk ----------------------------------------------------------------------------------
 */

static bool keep_line(struct layout_walk *walk, const struct layout_trial *trial) {
    struct layout *layout = walk->layout;
    struct layout_line *line = &layout->lines[trial->line];
    line->profile = trial->profile;
    line->size_given = walk->input->job->gutter_size.given;
    line->passes = trial->gutter_passes && trial->outlets_pass;
    const struct job_text *sheet = &walk->input->job->gutter_sheet;
    line->sheet = walk->input->shop->profiles[trial->profile].sheet;
    if (sheet->given && material_find_sheet(sheet->text) != NULL) {
        line->sheet = material_find_sheet(sheet->text)->name;
    }
    size_t first_outlet = layout->outlet_count;
    for (size_t i = 0; i < trial->place_count; i++) {
        keep_outlet(walk, trial, i);
    }
    keep_high_points(walk, trial);
    return keep_reaches(walk, trial, first_outlet);
}

static enum base_status choose_line(struct layout_walk *walk, size_t line) {
    struct layout_place places[LAYOUT_PLACES_MAX];
    bool fixed;
    size_t count = layout_list_places(walk, line, &fixed, places);
    struct layout_trial *trial = base_take(walk->arena, 1, sizeof *trial);
    if (trial == NULL) {
        return BASE_NO_MEMORY;
    }
    if (count == 0) {
        const struct layout_run *run = &walk->layout->runs[walk->layout->lines[line].first_run];
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_NO_OUTLET, .object = run->name});
        return BASE_STOPPED;
    }
    bool found = false;
    if (!fixed) {
        found = search(walk, line, places, count, trial);
    }
    if (!found) { /* what the job fixed, or all that is allowed */
        pick(places, count, (1u << count) - 1, trial);
        layout_try(walk, line, trial);
        if (!trial->gutter_passes || !trial->outlets_pass) {
            report_too_small(walk, trial);
        }
    }
    return keep_line(walk, trial) ? BASE_OK : BASE_NO_MEMORY;
}

static enum base_status check_named_sizes(struct layout_walk *walk) {
    const struct job *job = walk->input->job;
    const struct shop *shop = walk->input->shop;
    enum base_status status = BASE_OK;
    if (job->gutter_size.given && shop_find_profile(shop, job->gutter_size.text) == NULL) {
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_SIZE_NOT_MADE,
                                           .mark = job->gutter_size.mark,
                                           .value = base_value_text(job->gutter_size.text)});
        status = BASE_STOPPED;
    }
    if (job->pipe_size.given && shop_find_pipe(shop, job->pipe_size.text) == NULL) {
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_PIPE_NOT_MADE,
                                           .mark = job->pipe_size.mark,
                                           .value = base_value_text(job->pipe_size.text)});
        status = BASE_STOPPED;
    }
    if (job->gutter_sheet.given && material_find_sheet(job->gutter_sheet.text) == NULL) {
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_SHEET_NOT_KNOWN,
                                           .mark = job->gutter_sheet.mark,
                                           .value = base_value_text(job->gutter_sheet.text)});
        status = BASE_STOPPED;
    }
    return status;
}

static void take_settings(struct layout_walk *walk) {
    const struct job *job = walk->input->job;
    const struct shop *shop = walk->input->shop;
    struct layout *layout = walk->layout;
    *layout =
        (struct layout){.rain_mps = walk->input->rain_mps,
                        .rain_s = walk->input->rain_s,
                        .rain_years = walk->input->rain_years,
                        .basis = job->basis,
                        .area = job->area_given ? job->area : job->basis,
                        .leader = job->leader_given ? job->leader : job->basis,
                        .strained = job->strained_given ? job->strained : shop->outlet_strained,
                        .manning_1 = job->manning.given ? job->manning.value : shop->manning_1,
                        .years_known = walk->input->table != NULL,
                        .brief = walk->input->brief};
    layout->amounts = (struct layout_amounts){
        .settled_tick = job->settled.given ? job->settled.tick : shop->settled_tick,
        .sagged_tick = job->sagged.given ? job->sagged.tick : shop->sagged_tick,
        .ice_tick = job->ice.given ? job->ice.tick : shop->ice_tick};
    if (!job->strained_given) {
        base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_ASSUMED_STRAINER});
    }
    if (!job->fall.given) {
        base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_ASSUMED_FALL,
                                                         .value = base_value_number(BASE_UNIT_SLOPE,
                                                                                    shop->fall_1)});
    }
    for (size_t i = 0; i < walk->input->roof->eave_count; i++) {
        if (!walk->input->roof->eaves[i].section.cover_overhang.given) {
            base_add_issue(walk->issues, (struct base_issue){
                                             .code = BASE_ISSUE_ASSUMED_ROOF_EDGE,
                                             .value = base_value_tick(shop->edge_over_back_tick)});
            break;
        }
    }
}

static bool take_room(struct layout_walk *walk) {
    struct layout *layout = walk->layout;
    size_t most = layout->line_count * (size_t)LAYOUT_PLACES_MAX;
    layout->outlets = base_take(walk->arena, most, sizeof *layout->outlets);
    layout->reaches = base_take(walk->arena, 2 * most, sizeof *layout->reaches);
    layout->high_points = base_take(walk->arena, most, sizeof *layout->high_points);
    walk->waters = base_take(walk->arena, 2 * most, sizeof *walk->waters);
    walk->channels = base_take(walk->arena, 2 * most, sizeof *walk->channels);
    return !base_arena_failed(walk->arena);
}

enum base_status layout_choose(struct base_arena *arena, struct base_issues *issues,
                               struct base_trace *trace, const struct layout_input *input,
                               struct layout *layout) {
    struct layout_walk walk = {
        .arena = arena, .issues = issues, .trace = trace, .input = input, .layout = layout};
    take_settings(&walk);
    enum base_status status = check_named_sizes(&walk);
    if (status == BASE_OK) {
        status = layout_make_lines(&walk);
    }
    if (status == BASE_OK) {
        status = layout_check_places(&walk);
    }
    if (status != BASE_OK || !take_room(&walk)) {
        return status != BASE_OK ? status : BASE_NO_MEMORY;
    }
    size_t *order = base_take(arena, layout->line_count, sizeof *order);
    if (order == NULL || !layout_order_lines(&walk, order)) {
        return order == NULL ? BASE_NO_MEMORY : BASE_STOPPED;
    }
    for (size_t n = 0; n < layout->line_count; n++) {
        size_t i = order[n];
        layout->lines[i].slope_1 =
            input->job->fall.given ? input->job->fall.value : input->shop->fall_1;
        enum base_status line_status = choose_line(&walk, i);
        if (line_status == BASE_OK) {
            layout_bring_water(&walk, i);
        }
        status = status == BASE_OK ? line_status : status;
        if (line_status == BASE_NO_MEMORY) {
            return line_status;
        }
    }
    if (status != BASE_OK) {
        return status;
    }
    for (size_t i = 0; i < layout->line_count; i++) {
        find_levels(&walk, i);
    }
    status = layout_route(&walk);
    if (status == BASE_OK) {
        layout_find_drains(&walk);
        status = layout_find_decks(&walk) ? BASE_OK : BASE_NO_MEMORY;
    }
    if (status == BASE_OK && !input->brief) {
        status = layout_find_often(&walk) && layout_find_blocked(&walk) &&
                         layout_find_catch(&walk) && layout_find_choices(&walk) &&
                         layout_find_feeds(&walk)
                     ? BASE_OK
                     : BASE_NO_MEMORY;
    }
    if (status == BASE_OK) {
        layout_explain(&walk);
    }
    return base_arena_failed(arena) ? BASE_NO_MEMORY : status;
}
