/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How deep water stands on a flat deck, at the scupper it leaves by: a rectangular weir as wide as
 * the scupper. What falls short of the deck's lowest edge stays on the deck.
 */
#include "layout/layout_inside.h"

/* All that leaves by the deck's scupper, whatever takes it. */
static double find_area(const struct roof *roof, size_t wing) {
    double area_m2 = 0.0;
    for (size_t i = 0; i < roof->link_count; i++) {
        const struct roof_link *link = &roof->links[i];
        area_m2 += link->scupper && link->wing == wing ? link->area_m2 : 0.0;
    }
    return area_m2;
}

static void say(struct layout_walk *walk, enum base_issue_code code, const struct layout_deck *deck,
                struct base_value value) {
    const struct job_wing *wing = &walk->input->job->wings[deck->wing];
    base_add_issue(walk->issues, (struct base_issue){.code = code,
                                                     .mark = wing->mark,
                                                     .object = wing->name,
                                                     .value = value,
                                                     .limit = base_value_tick(deck->edge_tick)});
}

static void find_depth(struct layout_walk *walk, struct layout_deck *deck) {
    const struct job_deck *said = &walk->input->job->wings[deck->wing].deck;
    if (!said->width.given) {
        say(walk, BASE_ISSUE_SCUPPER_WIDTH, deck, (struct base_value){0});
        return;
    }
    deck->width_tick = said->width.tick;
    deck->depth_m = hydraulics_scupper_depth(units_m_of_tick(deck->width_tick), deck->flow_m3s);
    deck->edge_tick =
        said->lowest_edge.given ? said->lowest_edge.tick : walk->input->shop->deck_edge_tick;
    if (!said->lowest_edge.given) {
        say(walk, BASE_ISSUE_ASSUMED_DECK_EDGE, deck, base_value_tick(deck->edge_tick));
    }
    if (deck->depth_m > units_m_of_tick(deck->edge_tick)) {
        say(walk, BASE_ISSUE_SCUPPER_TOO_NARROW, deck,
            base_value_tick(units_tick_of_m(deck->depth_m)));
    }
}

bool layout_find_decks(struct layout_walk *walk) {
    const struct job *job = walk->input->job;
    struct layout *layout = walk->layout;
    layout->decks = base_take(walk->arena, job->wing_count, sizeof *layout->decks);
    for (size_t i = 0; layout->decks != NULL && i < job->wing_count; i++) {
        if (!job->wings[i].deck.given) {
            continue;
        }
        struct layout_deck *deck = &layout->decks[layout->deck_count++];
        double area_m2 = find_area(walk->input->roof, i);
        *deck = (struct layout_deck){.wing = i,
                                     .plan_area_m2 = area_m2,
                                     .flow_m3s = walk->layout->rain_mps * area_m2 *
                                                 layout_area_factor(layout->area, 0.0)};
        find_depth(walk, deck);
    }
    return layout->decks != NULL;
}

void layout_explain_decks(struct layout_walk *walk) {
    struct base_trace *trace = walk->trace;
    for (size_t i = 0; i < walk->layout->deck_count; i++) {
        const struct layout_deck *deck = &walk->layout->decks[i];
        struct base_text path[] = {base_text_of("decks/"),
                                   walk->input->job->wings[deck->wing].name};
        base_trace_scope(trace, base_join(walk->arena, 2, path));
        base_trace_leaf(trace, "flow_m3s");
        base_trace_formula(
            trace, "rain x what leaves by the scupper x the area factor of a level roof", "SRC-11");
        base_trace_input(trace, "rain", base_value_number(BASE_UNIT_MPS, walk->layout->rain_mps));
        base_trace_input(trace, "area", base_value_number(BASE_UNIT_M2, deck->plan_area_m2));
        if (deck->width_tick > 0) {
            base_trace_leaf(trace, "depth_m");
            base_trace_formula(trace, "Q = 3.33 b h^1.5 (cfs, ft), for h", "SRC-158");
            base_trace_input(trace, "flow", base_value_number(BASE_UNIT_M3S, deck->flow_m3s));
            base_trace_input(trace, "width", base_value_tick(deck->width_tick));
        }
    }
}
