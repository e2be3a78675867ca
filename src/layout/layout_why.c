/* SPDX-License-Identifier: Apache-2.0 */
/* The reasons of the layout that was chosen, one note a leaf of the result. */
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
    length(walk, "roof edge over back edge", shop->edge_over_back_tick);
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

void layout_explain(struct layout_walk *walk) {
    if (walk->trace == NULL) {
        return;
    }
    for (size_t i = 0; i < walk->layout->run_count; i++) {
        explain_run(walk, &walk->layout->runs[i]);
    }
    for (size_t i = 0; i < walk->layout->line_count; i++) {
        explain_size(walk, i);
    }
    for (size_t i = 0; i < walk->layout->reach_count; i++) {
        explain_reach(walk, &walk->layout->reaches[i]);
    }
    for (size_t i = 0; i < walk->layout->outlet_count; i++) {
        explain_outlet(walk, &walk->layout->outlets[i]);
    }
}
