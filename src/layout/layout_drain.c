/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What comes after the downspout's top, each a limit of its own: the offset between two elbows, and
 * the drain that the foot stands in. Source: EN 12056-3 (MEMORY): an offset flatter than 10 deg is
 * counted as a drain, a steeper one is no limit; the code's drain table is Manning with n = 0.0150
 * (SRC-06).
 */
#include <math.h>

#include "layout/layout_inside.h"

static const double QUARTER_TURN_RAD = 1.57079632679489661923;
static const double FLAT_RAD = 0.17453292519943295; /* 10 deg */
static const double DRAIN_MANNING_1 = 0.0150;
static const double DRAIN_FALL_1 =
    1.0 / 96; /* 1/8 in per ft, the code table's own; not asked yet */

static void find_offset(const struct layout_walk *walk, struct layout_outlet *outlet,
                        const struct layout_downspout *pipe) {
    if (!(pipe->elbow_rad > 0.0)) {
        return;
    }
    double level_rad = QUARTER_TURN_RAD - pipe->elbow_rad; /* of the travel over the level */
    double inside_m = units_m_of_tick(walk->input->shop->pipes[outlet->pipe].diameter_tick);
    outlet->offset_limits = level_rad < FLAT_RAD;
    outlet->offset_flow_m3s =
        hydraulics_drain_flow(inside_m, tan(fmax(level_rad, 0.0)), DRAIN_MANNING_1);
}

static void find_drain(struct layout_walk *walk, struct layout_outlet *outlet,
                       const struct job_survey *survey) {
    if (!survey->boot_inside.given) {
        return;
    }
    double inside_m = units_m_of_tick(survey->boot_inside.tick);
    outlet->drain_flow_m3s = hydraulics_drain_flow(inside_m, DRAIN_FALL_1, DRAIN_MANNING_1);
    if (outlet->drain_flow_m3s < outlet->flow_m3s * (1.0 - walk->input->shop->level_dead_band_1)) {
        base_add_issue(
            walk->issues,
            (struct base_issue){.code = BASE_ISSUE_DRAIN_TOO_SMALL,
                                .mark = survey->boot_inside.mark,
                                .object = outlet->name,
                                .value = base_value_number(BASE_UNIT_M3S, outlet->flow_m3s),
                                .limit = base_value_number(BASE_UNIT_M3S, outlet->drain_flow_m3s),
                                .other = base_value_tick(survey->boot_inside.tick)});
    }
}

/* Plain plan area: what a barrel gets does not depend on a rule for sizing. */
static void find_barrel(struct layout_walk *walk, size_t index) {
    const struct layout *layout = walk->layout;
    struct layout_outlet *outlet = &layout->outlets[index];
    double area_m2 = 0.0;
    for (size_t i = 0; i < layout->reach_count; i++) {
        area_m2 += layout->reaches[i].outlet == index ? layout->reaches[i].plan_area_m2 : 0.0;
    }
    if (outlet->discharge == JOB_DISCHARGE_BARREL && outlet->onto_run == SIZE_MAX &&
        area_m2 > 0.0) {
        outlet->barrel_full_m = walk->input->shop->barrel_m3 / area_m2;
    }
}

void layout_find_drains(struct layout_walk *walk) {
    for (size_t i = 0; i < walk->layout->outlet_count; i++) {
        struct layout_outlet *outlet = &walk->layout->outlets[i];
        const struct layout_downspout *pipe = &walk->layout->downspouts[i];
        find_offset(walk, outlet, pipe);
        find_barrel(walk, i);
        if (pipe->survey != SIZE_MAX) {
            find_drain(walk, outlet, &walk->input->job->surveys[pipe->survey]);
        }
    }
}

void layout_explain_drains(struct layout_walk *walk) {
    struct base_trace *trace = walk->trace;
    for (size_t i = 0; i < walk->layout->outlet_count; i++) {
        const struct layout_outlet *outlet = &walk->layout->outlets[i];
        struct base_text path[] = {base_text_of("outlets/"), outlet->name};
        base_trace_scope(trace, base_join(walk->arena, 2, path));
        if (outlet->offset_flow_m3s > 0.0) {
            base_trace_leaf(trace, "offset_capacity_m3s");
            base_trace_formula(trace, "the downspout running full at the offset's slope, Manning",
                               "SRC-06");
            base_trace_input(
                trace, "turn of each elbow",
                base_value_number(BASE_UNIT_RAD, walk->layout->downspouts[i].elbow_rad));
            base_trace_rule(trace, outlet->offset_limits
                                       ? "flatter than 10 deg: counted as a drain"
                                       : "steeper than 10 deg: no limit of its own");
        }
        if (outlet->barrel_full_m > 0.0) {
            base_trace_leaf(trace, "barrel_full_after_m");
            base_trace_formula(trace, "the barrel / the plan area whose water its outlet takes",
                               "SRC-40");
            base_trace_input(trace, "barrel",
                             base_value_number(BASE_UNIT_M3, walk->input->shop->barrel_m3));
        }
        if (outlet->drain_flow_m3s > 0.0) {
            base_trace_leaf(trace, "drain_capacity_m3s");
            base_trace_formula(trace, "a round drain running full, Manning", "SRC-06");
            base_trace_input(trace, "fall, taken",
                             base_value_number(BASE_UNIT_SLOPE, DRAIN_FALL_1));
            base_trace_input(trace, "n", base_value_number(BASE_UNIT_RATIO, DRAIN_MANNING_1));
        }
    }
}
