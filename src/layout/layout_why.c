/* SPDX-License-Identifier: Apache-2.0 */
/* The reasons of the layout that was chosen, one note a leaf of the result. */
#include <math.h>

#include "layout/layout_inside.h"

static void scope(struct layout_walk *walk, const char *group, struct base_text name) {
    struct base_text path[] = {base_text_of(group), name};
    base_trace_scope(walk->trace, base_join(walk->arena, 2, path));
}

static void number(struct layout_walk *walk, const char *name, enum base_unit unit, double value) {
    base_trace_input(walk->trace, name, base_value_number(unit, value));
}

static void length(struct layout_walk *walk, const char *name, int64_t tick) {
    base_trace_input(walk->trace, name, base_value_tick(tick));
}

static void explain_run(struct layout_walk *walk, const struct layout_run *run) {
    struct base_trace *trace = walk->trace;
    const struct layout_line *line = &walk->layout->lines[run->line];
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    const struct shop *shop = walk->input->shop;
    scope(walk, "runs/", run->name);
    base_trace_leaf(trace, "length_m");
    base_trace_formula(trace, "eave + what runs past its left end + what runs past its right end",
                       "SRC-63");
    length(walk, "eave", eave->length_tick);
    length(walk, "past the left end", run->shift_tick);
    length(walk, "past the right end", run->length_tick - eave->length_tick - run->shift_tick);
    base_trace_leaf(trace, "lip_high_m");
    base_trace_formula(
        trace,
        "distance from roof edge out to the lip x pitch + clearance below the line of "
        "the roof + fall down to here",
        "SRC-64");
    number(walk, "pitch", BASE_UNIT_RATIO, eave->pitch_1);
    length(walk, "clearance", shop_lip_clearance(eave->pitch_1));
    length(walk, "roof edge over back edge", layout_edge_over(shop, eave));
    base_trace_leaf(trace, "lip_low_m");
    base_trace_formula(trace, "lip at the highest place + slope x distance", "plane geometry");
    number(walk, "slope", BASE_UNIT_SLOPE, line->slope_1);
    length(walk, "highest place at", run->high_x_tick);
    length(walk, "lowest place at", run->low_x_tick);
}

static const char *size_rule(const struct layout_walk *walk, const struct layout_line *line) {
    if (line->size_given) {
        return "the job fixed the size";
    }
    if (!line->passes) {
        return "no size of this shop passes: the largest is shown";
    }
    switch (walk->layout->basis) {
    case JOB_BASIS_HANDBOOK:
        return "smallest size that passes by the handbook's level formula, outlet included";
    case JOB_BASIS_US_CODE:
        return "smallest size that passes by the US plumbing table, outlet included";
    case JOB_BASIS_EN:
        return "smallest size that passes by EN 12056-3, outlet included";
    }
    return "";
}

/* The size of a line is decided by its hardest reach. */
static void explain_size(struct layout_walk *walk, size_t line_index) {
    const struct layout *layout = walk->layout;
    const struct layout_line *line = &layout->lines[line_index];
    const struct layout_check *hardest = NULL;
    for (size_t i = 0; i < layout->reach_count; i++) {
        const struct layout_check *check = &layout->reaches[i].checks[layout->basis];
        if (layout->reaches[i].line == line_index &&
            (hardest == NULL || check->flow_m3s > hardest->flow_m3s)) {
            hardest = check;
        }
    }
    for (size_t i = 0; i < line->run_count && hardest != NULL; i++) {
        scope(walk, "runs/", layout->runs[line->first_run + i].name);
        base_trace_leaf(walk->trace, "size");
        base_trace_formula(walk->trace, "capacity of the size >= flow of the hardest reach",
                           "SRC-65");
        number(walk, "flow", BASE_UNIT_M3S, hardest->flow_m3s);
        number(walk, "capacity", BASE_UNIT_M3S, hardest->capacity_m3s);
        number(walk, "margin", BASE_UNIT_RATIO, hardest->capacity_m3s / hardest->flow_m3s - 1.0);
        base_trace_rule(walk->trace, size_rule(walk, line));
    }
}

/* The number of an entry as a key of its path. */
static struct base_text key_of(struct layout_walk *walk, size_t number) {
    struct base_builder key = {.arena = walk->arena};
    base_add_integer(&key, (int64_t)number);
    return base_built(&key);
}

static void explain_corners(struct layout_walk *walk, const struct layout_reach *reach) {
    for (size_t i = 0; i < reach->bend_count; i++) {
        struct base_text path[] = {base_text_of("reaches/"), reach->name, base_text_of("/corners/"),
                                   key_of(walk, i + 1)};
        base_trace_scope(walk->trace, base_join(walk->arena, 4, path));
        base_trace_leaf(walk->trace, "at_m");
        base_trace_formula(walk->trace, "still end to the corner along the back edge",
                           "plane geometry");
        number(walk, "length of the reach", BASE_UNIT_M, units_m_of_tick(reach->length_tick));
        base_trace_leaf(walk->trace, "loss_1");
        base_trace_formula(walk->trace, "1 - cos(turn), never more than 1", "SRC-96");
        number(walk, "turn", BASE_UNIT_RAD, acos(1.0 - reach->bends[i].loss_1));
    }
}

static const char *wall_rule(enum job_wall_rain rule) {
    switch (rule) {
    case JOB_WALL_RAIN_HALF:
        return "half of the wall's area, as US plumbing codes and EN count";
    case JOB_WALL_RAIN_HALF_10_M:
        return "half of the wall's area, no more than 10 m of its height";
    case JOB_WALL_RAIN_QUARTER:
        return "a quarter of the wall's area";
    case JOB_WALL_RAIN_NONE:
        break;
    }
    return "no wall is counted";
}

static void explain_walls(struct layout_walk *walk, const struct layout_run *run) {
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    if (eave->wall_area_m2 <= GEOMETRY_EVENT_M) {
        return;
    }
    scope(walk, "runs/", run->name);
    base_trace_leaf(walk->trace, "plan_area_m2");
    base_trace_formula(walk->trace, "roof that drains straight here + share of the walls above it",
                       "plane geometry");
    number(walk, "roof", BASE_UNIT_M2, eave->plan_area_m2 - eave->wall_area_m2);
    number(walk, "walls", BASE_UNIT_M2, eave->wall_area_m2);
    base_trace_leaf(walk->trace, "wall_area_m2");
    base_trace_formula(walk->trace, "share of the area of the walls whose foot drains here",
                       "SRC-115");
    number(walk, "share times area", BASE_UNIT_M2, eave->wall_area_m2);
    base_trace_rule(walk->trace, wall_rule(walk->input->job->wall_rain));
}

static void explain_all_walls(struct layout_walk *walk) {
    if (walk->input->roof->wall_area_m2 > GEOMETRY_EVENT_M) {
        base_trace_scope(walk->trace, base_text_of("roof"));
        base_trace_leaf(walk->trace, "wall_area_m2");
        base_trace_formula(walk->trace, "share of the area of every wall that stands above a roof",
                           "SRC-115");
        number(walk, "share times area", BASE_UNIT_M2, walk->input->roof->wall_area_m2);
        base_trace_rule(walk->trace, wall_rule(walk->input->job->wall_rain));
    }
}

static void explain_reach(struct layout_walk *walk, const struct layout_reach *reach) {
    struct base_trace *trace = walk->trace;
    scope(walk, "reaches/", reach->name);
    base_trace_leaf(trace, "flow_m3s");
    base_trace_formula(trace, "Q = rain x plan area x area factor of the deciding basis", "SRC-66");
    number(walk, "rain", BASE_UNIT_MPS, walk->input->rain_mps);
    number(walk, "plan area", BASE_UNIT_M2, reach->plan_area_m2);
    number(walk, "area factor", BASE_UNIT_RATIO,
           reach->flow_m3s / (walk->input->rain_mps * reach->plan_area_m2));
    base_trace_leaf(trace, "needed_width_m");
    base_trace_formula(trace, "w = (Q / 0.52)^0.4 (cfs, ft)", "SRC-01");
    number(walk, "flow", BASE_UNIT_M3S, reach->flow_m3s);
    base_trace_leaf(trace, "greatest_depth_m");
    base_trace_formula(
        trace, "dM/dx = A (S0 - Sf), M = Q^2/(gA) + A ybar, marched from the control", "SRC-12");
    number(walk, "flow at the outlet", BASE_UNIT_M3S, reach->flow_m3s);
    number(walk, "slope", BASE_UNIT_SLOPE, reach->slope_1);
    length(walk, "length", reach->length_tick);
    number(walk, "Manning n", BASE_UNIT_RATIO, walk->layout->manning_1);
    base_trace_input(trace, "mitres on the way", base_value_count((int64_t)reach->bend_count));
    number(walk, "at", BASE_UNIT_M, reach->profile.greatest_x_m);
    number(walk, "residual", BASE_UNIT_RATIO, reach->profile.residual_1);
}

static void explain_outlet(struct layout_walk *walk, const struct layout_outlet *outlet) {
    struct base_trace *trace = walk->trace;
    scope(walk, "outlets/", outlet->name);
    base_trace_leaf(trace, "flow_m3s");
    base_trace_formula(trace, "sum of the reaches that end here", "plane geometry");
    for (size_t i = 0; i < walk->layout->reach_count; i++) {
        const struct layout_reach *reach = &walk->layout->reaches[i];
        if (&walk->layout->outlets[reach->outlet] == outlet) {
            number(walk, reach->towards_right ? "from its left" : "from its right", BASE_UNIT_M3S,
                   reach->flow_m3s);
        }
    }
    base_trace_leaf(trace, "outlet_capacity_m3s");
    base_trace_formula(trace,
                       "weir D h^1.5 / 7500 to h = D/2, orifice D^2 h^0.5 / 15000 above (l/s, mm)",
                       "SRC-05");
    length(walk, "tube, outside", outlet->tube_tick);
    number(walk, "head it needs for its flow", BASE_UNIT_M, outlet->head_m);
    base_trace_rule(trace, outlet->strained ? "gutter full over it; halved for the strainer"
                                            : "gutter full over it; no strainer");
    base_trace_leaf(trace, "pipe_capacity_m3s");
    base_trace_formula(trace, "Wyly-Eaton 27.8 r^(5/3) D^(8/3) (gpm, in) at the basis's share full",
                       "SRC-07");
    length(walk, "downspout, inside", walk->input->shop->pipes[outlet->pipe].diameter_tick);
}

static void explain_place(struct layout_walk *walk, const struct layout_outlet *outlet) {
    struct base_trace *trace = walk->trace;
    const struct shop *shop = walk->input->shop;
    const struct layout_run *run = &walk->layout->runs[outlet->run];
    scope(walk, "outlets/", outlet->name);
    base_trace_leaf(trace, "x_m");
    base_trace_formula(trace,
                       "the shop's distance from a free end, or a mitre's leg and clearance from a "
                       "corner, moved clear of a tail; or as the job says",
                       "SRC-40");
    length(walk, "gutter length", run->length_tick);
    length(walk, "from a free end", shop->outlet_from_end_tick);
    length(walk, "from a corner", shop->mitre_leg_tick + shop->joint_clear_tick);
    base_trace_leaf(trace, "tube_m");
    base_trace_formula(trace, "downspout's inside - undersize", "SRC-40");
    length(walk, "downspout, inside", shop->pipes[outlet->pipe].diameter_tick);
    length(walk, "undersize", shop->outlet_undersize_tick);
    base_trace_leaf(trace, "head_m");
    base_trace_formula(trace, "the head at which the outlet passes its flow", "SRC-05");
    number(walk, "flow", BASE_UNIT_M3S, outlet->flow_m3s);
}

static void explain_downspout(struct layout_walk *walk, const struct layout_downspout *pipe) {
    struct base_trace *trace = walk->trace;
    const struct shop *shop = walk->input->shop;
    const struct layout_outlet *outlet = &walk->layout->outlets[pipe->outlet];
    scope(walk, "downspouts/", outlet->name);
    base_trace_leaf(trace, "offset_m");
    base_trace_formula(
        trace,
        "wall to the gutter's back edge (soffit, or overhang less what the roof edge stands over "
        "it) + half the gutter - clear of the wall - half the pipe",
        "plane geometry");
    length(walk, "wall to back edge", pipe->back_tick);
    length(walk, "clear of the wall", pipe->straights[0].stand_tick);
    length(walk, "pipe", shop->pipes[outlet->pipe].diameter_tick);
    base_trace_leaf(trace, "travel_m");
    base_trace_formula(trace, "offset / sin e - two elbow legs + two laps", "plane geometry");
    length(walk, "offset", pipe->offset_tick);
    number(walk, "turn of each elbow", BASE_UNIT_RAD, pipe->elbow_rad);
    length(walk, "elbow leg", shop->elbow_leg_tick);
    length(walk, "lap", shop->pipe_lap_tick);
    base_trace_leaf(trace, "vertical_m");
    base_trace_formula(trace,
                       "upper end above ground - lower end above ground, less what offsets over "
                       "belts and water table take",
                       "plane geometry");
    length(walk, "roof edge to ground", pipe->ground_tick);
    base_trace_input(trace, "offsets over belts", base_value_count((int64_t)pipe->jog_count));
    length(walk, "upper end", pipe->top_tick);
    length(walk, "lower end", pipe->bottom_tick);
}

/* What each rule asks and allows, beside the one that decides. */
static void explain_checks(struct layout_walk *walk, const struct layout_reach *reach) {
    static const char *const words[LAYOUT_BASES] = {"handbook", "us-code", "en-12056-3"};
    static const char *const capacities[LAYOUT_BASES] = {
        "Q = 0.52 w^2.5 (cfs, ft), level", "table cell of the size at the steepest slope not above",
        "0.9 x 2.78e-5 A^1.25 x F_L x bend (l/s, mm2)"};
    static const char *const sources[LAYOUT_BASES] = {"SRC-01", "SRC-04", "SRC-02"};
    for (int i = 0; i < LAYOUT_BASES; i++) {
        const struct layout_check *check = &reach->checks[i];
        struct base_text path[] = {base_text_of("reaches/"), reach->name, base_text_of("/"),
                                   base_text_of(words[i])};
        base_trace_scope(walk->trace, base_join(walk->arena, 4, path));
        base_trace_leaf(walk->trace, "flow_m3s");
        base_trace_formula(walk->trace, "Q = rain x plan area x this rule's area factor", "SRC-66");
        number(walk, "plan area", BASE_UNIT_M2, reach->plan_area_m2);
        number(walk, "rain", BASE_UNIT_MPS, walk->input->rain_mps);
        if (check->has_figure) {
            base_trace_leaf(walk->trace, "capacity_m3s");
            base_trace_formula(walk->trace, capacities[i], sources[i]);
            length(walk, "length", reach->length_tick);
            number(walk, "slope", BASE_UNIT_SLOPE, reach->slope_1);
            base_trace_input(walk->trace, "corners on the way",
                             base_value_count((int64_t)reach->bend_count));
        }
    }
}

void layout_explain(struct layout_walk *walk) {
    if (walk->trace == NULL) {
        return;
    }
    explain_all_walls(walk);
    if (!walk->layout->brief) {
        layout_explain_often(walk);
        layout_explain_catch(walk);
        layout_explain_choices(walk);
    }
    layout_explain_drains(walk);
    layout_explain_decks(walk);
    for (size_t i = 0; i < walk->layout->run_count; i++) {
        explain_run(walk, &walk->layout->runs[i]);
        explain_walls(walk, &walk->layout->runs[i]);
    }
    for (size_t i = 0; i < walk->layout->line_count; i++) {
        explain_size(walk, i);
    }
    for (size_t i = 0; i < walk->layout->reach_count; i++) {
        explain_reach(walk, &walk->layout->reaches[i]);
        explain_checks(walk, &walk->layout->reaches[i]);
        explain_corners(walk, &walk->layout->reaches[i]);
    }
    for (size_t i = 0; i < walk->layout->outlet_count; i++) {
        explain_outlet(walk, &walk->layout->outlets[i]);
        explain_place(walk, &walk->layout->outlets[i]);
        if (walk->layout->downspouts[i].measured) {
            explain_downspout(walk, &walk->layout->downspouts[i]);
        }
    }
}
