/* SPDX-License-Identifier: Apache-2.0 */
/* One line with one set of outlets: its reaches, and the smallest gutter and downspout that carry
 * them. */
#include <math.h>

#include "layout/layout_inside.h"
#include "material/material.h"

/* A tube wider than this share of the gutter cannot be let into its sole: COMMON PRACTICE. */
#define TUBE_SHARE_MAX_1 0.85

int64_t layout_tube(const struct shop *shop, size_t pipe) {
    return shop->pipes[pipe].diameter_tick - shop->outlet_undersize_tick;
}

double layout_outlet_inside(const struct layout_walk *walk, size_t profile, size_t pipe) {
    const struct shop *shop = walk->input->shop;
    const struct material_sheet *sheet =
        material_find_sheet(base_text_of(shop->profiles[profile].sheet));
    double sheet_m = sheet == NULL ? 0.0 : sheet->nominal_m;
    return units_m_of_tick(layout_tube(shop, pipe)) - 2 * sheet_m;
}

double layout_outlet_capacity(const struct layout_walk *walk, size_t profile, size_t pipe) {
    double head_m = section_full_depth(&walk->input->shop->profiles[profile].section);
    return hydraulics_outlet_flow(layout_outlet_inside(walk, profile, pipe), head_m,
                                  walk->layout->strained);
}

double layout_pipe_capacity(const struct layout_walk *walk, size_t pipe) {
    double inside_m = units_m_of_tick(walk->input->shop->pipes[pipe].diameter_tick);
    switch (walk->layout->leader) {
    case JOB_BASIS_HANDBOOK:
        return hydraulics_leader_flow(HYDRAULICS_LEADER_7_24, inside_m);
    case JOB_BASIS_US_CODE:
        return hydraulics_leader_flow(HYDRAULICS_LEADER_UPC, inside_m);
    case JOB_BASIS_EN:
        return hydraulics_leader_flow(HYDRAULICS_LEADER_EN, inside_m);
    }
    return 0.0;
}

/* ---- what each rule says of a reach --------------------------------------------------------- */

static struct layout_check check_by(const struct layout_walk *walk, enum job_basis basis,
                                    size_t profile_index, const struct layout_reach *reach) {
    const struct shop_profile *profile = &walk->input->shop->profiles[profile_index];
    struct layout_check check = {.basis = basis, .flow_m3s = reach->checks[basis].flow_m3s};
    switch (basis) {
    case JOB_BASIS_HANDBOOK:
        check.has_figure = true;
        check.capacity_m3s = hydraulics_level_flow(profile->section.inside_diameter_m);
        break;
    case JOB_BASIS_US_CODE:
        check.has_figure = profile->us_table_in > 0 &&
                           hydraulics_us_table_flow(profile->us_table_in * 0.0254, reach->slope_1,
                                                    &check.capacity_m3s);
        break;
    case JOB_BASIS_EN: {
        struct hydraulics_en_input input = {.section = profile->section,
                                            .length_m = units_m_of_tick(reach->length_tick),
                                            .slope_1 = reach->slope_1,
                                            .has_bend = reach->bend_count > 0};
        check.has_figure = true;
        check.capacity_m3s = hydraulics_en_flow(&input);
        break;
    }
    }
    double band_1 = walk->input->shop->level_dead_band_1;
    check.passes = check.has_figure && check.capacity_m3s >= check.flow_m3s * (1.0 - band_1);
    return check;
}

void layout_check_reach(const struct layout_walk *walk, size_t line, size_t profile,
                        struct layout_reach *reach) {
    (void)line;
    for (int basis = 0; basis < LAYOUT_BASES; basis++) {
        reach->checks[basis] = check_by(walk, (enum job_basis)basis, profile, reach);
    }
}

/* ---- reaches of a set of outlets ------------------------------------------------------------ */

static void add_reach(const struct layout_walk *walk, struct layout_trial *trial, size_t outlet,
                      double still_m, struct layout_stretch water) {
    struct layout_reach *reach = &trial->reaches[trial->reach_count];
    double outlet_m = trial->places[outlet].line_m;
    *reach = (struct layout_reach){.line = trial->line,
                                   .outlet = outlet,
                                   .towards_right = outlet_m > still_m,
                                   .still_m = still_m,
                                   .outlet_m = outlet_m,
                                   .length_tick = units_tick_of_m(fabs(outlet_m - still_m)),
                                   .slope_1 = walk->layout->lines[trial->line].slope_1};
    struct layout_stretch own = {fmin(still_m, outlet_m), fmax(still_m, outlet_m)};
    reach->bend_count = layout_find_bends(walk, trial->line, own, NULL);
    reach->plan_area_m2 = layout_stretch_plan_area(walk, trial->line, water);
    for (int basis = 0; basis < LAYOUT_BASES; basis++) {
        bool decides = (enum job_basis)basis == walk->layout->basis;
        enum job_basis area = decides ? walk->layout->area : (enum job_basis)basis;
        reach->checks[basis].flow_m3s =
            walk->input->rain_mps * layout_stretch_area(walk, trial->line, water, area);
    }
    reach->flow_m3s = reach->checks[walk->layout->basis].flow_m3s;
    reach->needed_width_m = hydraulics_level_width(reach->flow_m3s);
    trial->water[trial->reach_count++] = water;
    trial->outlet_flow_m3s[outlet] += reach->flow_m3s;
    trial->longest_m = fmax(trial->longest_m, fabs(outlet_m - still_m));
}

/*
 * The two ends of an open line. A stub behind an outlet, shorter than the shop's shortest piece, is
 * no reach of its own: its water is counted with the reach on the outlet's other side.
 */
static bool is_stub(const struct layout_walk *walk, double length_m) {
    return length_m < units_m_of_tick(walk->input->shop->shortest_piece_tick);
}

/* The high point between two outlets: half way, to the tick. On a whole inch it would be easier to
 * mark, but then a house and its mirror image would not be the same job. */
static double middle_between(double low_m, double high_m) {
    return 0.5 * (low_m + high_m);
}

static void open_reaches(const struct layout_walk *walk, struct layout_trial *trial) {
    double end_m = walk->layout->lines[trial->line].length_m;
    size_t last = trial->place_count - 1;
    bool left_stub = is_stub(walk, trial->places[0].line_m);
    bool right_stub = is_stub(walk, end_m - trial->places[last].line_m);
    if (left_stub && right_stub && last == 0) { /* a gutter hardly longer than its outlet */
        double longer_m = 2 * trial->places[0].line_m - end_m; /* the left side than the right */
        left_stub = longer_m < -GEOMETRY_EVENT_M;
        right_stub = longer_m > GEOMETRY_EVENT_M; /* an outlet in the middle: neither */
    }
    double water_low_m = 0.0;
    if (!left_stub) {
        double to_m = last == 0 && right_stub ? end_m : trial->places[0].line_m;
        add_reach(walk, trial, 0, 0.0, (struct layout_stretch){0.0, to_m});
        water_low_m = to_m;
    }
    for (size_t i = 0; i < last; i++) {
        double middle_m = middle_between(trial->places[i].line_m, trial->places[i + 1].line_m);
        double to_m = i + 1 == last && right_stub ? end_m : trial->places[i + 1].line_m;
        add_reach(walk, trial, i, middle_m, (struct layout_stretch){water_low_m, middle_m});
        add_reach(walk, trial, i + 1, middle_m, (struct layout_stretch){middle_m, to_m});
        water_low_m = to_m;
    }
    if (!right_stub) {
        add_reach(walk, trial, last, end_m, (struct layout_stretch){water_low_m, end_m});
    }
}

static void ring_reaches(const struct layout_walk *walk, struct layout_trial *trial) {
    double round_m = walk->layout->lines[trial->line].length_m;
    for (size_t i = 0; i < trial->place_count; i++) {
        bool is_last = i + 1 == trial->place_count;
        size_t next = is_last ? 0 : i + 1;
        double low_m = trial->places[i].line_m;
        double high_m = trial->places[next].line_m + (is_last ? round_m : 0.0);
        double middle_m = middle_between(low_m, high_m);
        add_reach(walk, trial, i, middle_m, (struct layout_stretch){low_m, middle_m});
        double shift_m = is_last ? round_m : 0.0; /* the next outlet's own lap of the ring */
        add_reach(walk, trial, next, middle_m - shift_m,
                  (struct layout_stretch){middle_m - shift_m, high_m - shift_m});
    }
}

/* ---- the smallest that passes ---------------------------------------------------------------- */

static bool gutter_passes(const struct layout_walk *walk, struct layout_trial *trial,
                          size_t profile) {
    bool passes = true;
    for (size_t i = 0; i < trial->reach_count; i++) {
        layout_check_reach(walk, trial->line, profile, &trial->reaches[i]);
        passes = passes && trial->reaches[i].checks[walk->layout->basis].passes;
    }
    return passes;
}

static bool pipe_allowed(const struct layout_walk *walk, size_t pipe) {
    const struct shop *shop = walk->input->shop;
    const struct job *job = walk->input->job;
    if (job->pipe_size.given) {
        return shop_find_pipe(shop, job->pipe_size.text) == &shop->pipes[pipe];
    }
    double area_m2 = section_pipe_area(units_m_of_tick(shop->pipes[pipe].diameter_tick));
    /* 3 in round is 7.07 in2; the band keeps a metric 76 or 80 mm pipe on its side of the rule */
    bool least = shop->pipes[pipe].diameter_tick >= shop->pipe_least_tick &&
                 area_m2 >= shop->pipe_least_area_m2;
    return least || job->small_porch_pipe;
}

/* The smallest downspout whose outlet fits the gutter and passes every outlet's flow. */
static bool choose_pipe(const struct layout_walk *walk, struct layout_trial *trial,
                        size_t profile) {
    const struct shop *shop = walk->input->shop;
    double band_1 = 1.0 - shop->level_dead_band_1;
    double most_m3s = 0.0;
    for (size_t i = 0; i < trial->place_count; i++) {
        most_m3s = fmax(most_m3s, trial->outlet_flow_m3s[i]);
    }
    for (size_t pipe = 0; pipe < shop->pipe_count; pipe++) {
        double tube_m = units_m_of_tick(layout_tube(shop, pipe));
        bool fits = tube_m <= TUBE_SHARE_MAX_1 * shop->profiles[profile].section.inside_diameter_m;
        if (!pipe_allowed(walk, pipe) || (!fits && !walk->input->job->pipe_size.given)) {
            continue;
        }
        trial->pipe = pipe;
        if (fits && layout_outlet_capacity(walk, profile, pipe) >= most_m3s * band_1 &&
            layout_pipe_capacity(walk, pipe) >= most_m3s * band_1) {
            return true;
        }
    }
    return false;
}

static bool profile_allowed(const struct layout_walk *walk, size_t profile) {
    const struct shop *shop = walk->input->shop;
    const struct job *job = walk->input->job;
    if (job->gutter_size.given) {
        return shop_find_profile(shop, job->gutter_size.text) == &shop->profiles[profile];
    }
    int64_t width_tick = units_tick_of_m(shop->profiles[profile].section.inside_diameter_m);
    return width_tick >= shop->gutter_least_tick;
}

static void choose_profile(const struct layout_walk *walk, struct layout_trial *trial) {
    for (size_t profile = 0; profile < walk->input->shop->profile_count; profile++) {
        if (!profile_allowed(walk, profile)) {
            continue;
        }
        trial->profile = profile;
        trial->gutter_passes = gutter_passes(walk, trial, profile);
        trial->outlets_pass = choose_pipe(walk, trial, profile);
        if (trial->gutter_passes && trial->outlets_pass) {
            return;
        }
    }
}

void layout_try(const struct layout_walk *walk, size_t line, struct layout_trial *trial) {
    trial->line = line;
    trial->reach_count = 0;
    trial->longest_m = 0.0;
    for (size_t i = 0; i < trial->place_count; i++) {
        trial->outlet_flow_m3s[i] = 0.0;
    }
    if (walk->layout->lines[line].is_ring) {
        ring_reaches(walk, trial);
    } else {
        open_reaches(walk, trial);
    }
    choose_profile(walk, trial);
    walk->layout->candidates_tried++;
}
