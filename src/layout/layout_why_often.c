/* SPDX-License-Identifier: Apache-2.0 */
/* Why: how often it does not work. */
#include <math.h>

#include "layout/layout_inside.h"

static void scope(struct layout_walk *walk, const char *group, struct base_text name,
                  const char *rest) {
    struct base_text path[] = {base_text_of(group), name, base_text_of(rest)};
    base_trace_scope(walk->trace, base_join(walk->arena, 3, path));
}

static void number(struct layout_walk *walk, const char *name, enum base_unit unit, double value) {
    base_trace_input(walk->trace, name, base_value_number(unit, value));
}

/* The rain, and the years of that rain. */
static void explain_limit(struct layout_walk *walk, const struct layout_limit *limit,
                          const char *formula, const char *source) {
    struct base_trace *trace = walk->trace;
    if (!isinf(limit->rain_mps)) {
        base_trace_leaf(trace, "rain_mps");
        base_trace_formula(trace, formula, source);
        number(walk, "design rain", BASE_UNIT_MPS, walk->input->rain_mps);
    }
    if (limit->years.table != HYDRAULICS_TABLE_EMPTY) {
        base_trace_leaf(trace, "years");
        base_trace_formula(trace,
                           "the rain table turned round: rain linear in the logarithm of the "
                           "period, never beyond the table's ends",
                           "SRC-47");
        if (!isinf(limit->rain_mps)) {
            number(walk, "rain", BASE_UNIT_MPS, limit->rain_mps);
        }
        number(walk, "duration", BASE_UNIT_S, walk->input->rain_s);
    }
}

static void explain_parts(struct layout_walk *walk, const struct layout_reach *reach) {
    static const char *const paths[HYDRAULICS_PARTS] = {"/often/gutter", "/often/outlet",
                                                        "/often/strainer", "/often/downspout"};
    static const char *const formulas[HYDRAULICS_PARTS] = {
        "the rain at which the water of the physics just reaches the lip, the end taken as free",
        "design rain x what the open outlet passes with the gutter full / its flow",
        "design rain x what the strained outlet passes with the gutter full / its flow",
        "design rain x what the downspout passes / its flow"};
    static const char *const sources[HYDRAULICS_PARTS] = {"SRC-12", "SRC-05", "SRC-05", "SRC-07"};
    for (int i = 0; i < HYDRAULICS_PARTS; i++) {
        scope(walk, "reaches/", reach->name, paths[i]);
        explain_limit(walk, &reach->often.parts[i], formulas[i], sources[i]);
    }
}

static void explain_troubles(struct layout_walk *walk, const struct layout_reach *reach) {
    static const char *const paths[LAYOUT_TROUBLES] = {"/often/as-built", "/often/settled",
                                                       "/often/sagged", "/often/iced"};
    static const char *const formulas[LAYOUT_TROUBLES] = {
        "the rain at which the water just reaches the lip, or the downspout is full",
        "the same with the far end sunk: less fall, or level with a lip that much lower",
        "the same with the lip lower by the sag where the water stands highest",
        "as built x the share that a brim-full level gutter passes above that ice"};
    static const char *const sources[LAYOUT_TROUBLES] = {"SRC-12", "SRC-12", "SRC-12", "SRC-108"};
    const struct layout_amounts *amounts = &walk->layout->amounts;
    const int64_t ticks[LAYOUT_TROUBLES] = {0, amounts->settled_tick, amounts->sagged_tick,
                                            amounts->ice_tick};
    for (int i = 0; i < LAYOUT_TROUBLES; i++) {
        scope(walk, "reaches/", reach->name, paths[i]);
        explain_limit(walk, &reach->often.troubles[i], formulas[i], sources[i]);
        if (i != LAYOUT_AS_BUILT) {
            base_trace_input(walk->trace, "by", base_value_tick(ticks[i]));
        }
    }
    scope(walk, "reaches/", reach->name, "/often");
    base_trace_leaf(walk->trace, "over_x_m");
    base_trace_formula(walk->trace,
                       "where the water stands highest in the rain that just reaches the lip",
                       "SRC-12");
    number(walk, "still end to outlet", BASE_UNIT_M, units_m_of_tick(reach->length_tick));
}

static void explain_blocked(struct layout_walk *walk, const struct layout_outlet *outlet) {
    const struct layout_blocked *blocked = &outlet->blocked;
    scope(walk, "outlets/", outlet->name, "/blocked");
    if (blocked->relieved) {
        explain_limit(walk, &blocked->limit,
                      "the rain at which the water just reaches the lip over this outlet: the next "
                      "reach with all of it, then back over the high point as a level gutter",
                      "SRC-12");
    }
    base_trace_leaf(walk->trace, "fill_s");
    base_trace_formula(walk->trace,
                       "water below a level that touches the lip here / flow of the design rain",
                       "plane geometry");
    number(walk, "flow", BASE_UNIT_M3S, outlet->flow_m3s);
}

void layout_explain_often(struct layout_walk *walk) {
    const struct layout *layout = walk->layout;
    for (size_t i = 0; i < layout->reach_count; i++) {
        explain_parts(walk, &layout->reaches[i]);
        explain_troubles(walk, &layout->reaches[i]);
    }
    for (size_t i = 0; i < layout->outlet_count; i++) {
        explain_blocked(walk, &layout->outlets[i]);
    }
}
