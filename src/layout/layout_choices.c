/* SPDX-License-Identifier: Apache-2.0 */
/* What the other choice would give, for the reach with the most water. */
#include <math.h>

#include "layout/layout_inside.h"
#include "numeric/numeric.h"

static void add(struct layout_choice *choice, const char *name, double value) {
    choice->options[choice->count++] = (struct layout_option){name, value};
}

static struct layout_choice rain_choice(const struct layout_walk *walk) {
    const struct layout_input *input = walk->input;
    struct layout_choice choice = {0};
    add(&choice, "as-chosen", input->rain_mps);
    double rain_mps;
    if (input->table != NULL && rain_find_intensity(input->table, 300.0, 10.0, &rain_mps)) {
        add(&choice, "5 min, 10 years", rain_mps); /* handbooks, and a conservation practice */
    }
    if (input->table != NULL && rain_find_intensity(input->table, 300.0, 100.0, &rain_mps)) {
        add(&choice, "5 min, 100 years", rain_mps); /* built-in gutters */
    }
    if (input->table != NULL && rain_find_intensity(input->table, 3600.0, 100.0, &rain_mps)) {
        add(&choice, "60 min, 100 years", rain_mps); /* US codes */
    }
    return choice;
}

/* The factor on all water that the gutter alone carries; its flow with it. */
static bool carried(const struct hydraulics_channel *channel, double flow_m3s, double *most_m3s) {
    struct hydraulics_mouth free_end = {.diameter_m = 0.0};
    double factor_1;
    bool ok = hydraulics_find_capacity(channel, &free_end, &factor_1);
    *most_m3s = ok ? numeric_to_figures(factor_1 * flow_m3s, 4) : 0.0;
    return ok;
}

static bool fall_choice(const struct layout_walk *walk, size_t index,
                        struct layout_choice *choice) {
    const struct layout_reach *reach = &walk->layout->reaches[index];
    static const char *const names[] = {"as-chosen", "level", "1 in 192", "1 in 96"};
    const double falls_1[] = {reach->slope_1, 0.0, 1.0 / 192, 1.0 / 96};
    for (int i = 0; i < LAYOUT_OPTIONS_MAX; i++) {
        struct hydraulics_channel channel = walk->channels[index];
        channel.slope_1 = falls_1[i];
        double most_m3s;
        if (!carried(&channel, reach->flow_m3s, &most_m3s)) {
            return false;
        }
        add(choice, names[i], most_m3s);
    }
    return true;
}

static bool mitre_choice(const struct layout_walk *walk, size_t index,
                         struct layout_choice *choice) {
    const struct layout_reach *reach = &walk->layout->reaches[index];
    struct hydraulics_channel channel = walk->channels[index];
    if (channel.bend_count == 0) {
        return true;
    }
    double sharp_m3s;
    double none_m3s;
    bool ok = carried(&channel, reach->flow_m3s, &sharp_m3s);
    channel.bend_count = 0;
    ok = ok && carried(&channel, reach->flow_m3s, &none_m3s);
    if (ok) {
        add(choice, "sharp mitres", sharp_m3s);
        add(choice, "no loss", none_m3s);
        add(choice, "15 % off", 0.85 * none_m3s); /* EN: SRC-03 */
    }
    return ok;
}

static void outlet_choices(const struct layout_walk *walk, const struct layout_reach *reach,
                           struct layout_choice items[LAYOUT_CHOICES]) {
    const struct layout *layout = walk->layout;
    const struct layout_outlet *outlet = &layout->outlets[reach->outlet];
    size_t profile = layout->lines[reach->line].profile;
    double inside_m = layout_outlet_inside(walk, profile, outlet->pipe);
    double head_m = section_full_depth(&walk->input->shop->profiles[profile].section);
    double pipe_m = units_m_of_tick(walk->input->shop->pipes[outlet->pipe].diameter_tick);
    struct layout_choice *leader = &items[LAYOUT_CHOICE_LEADER];
    add(leader, "7 of 24 full", hydraulics_leader_flow(HYDRAULICS_LEADER_7_24, pipe_m));
    add(leader, "US table", hydraulics_leader_flow(HYDRAULICS_LEADER_UPC, pipe_m));
    add(leader, "EN, a third", hydraulics_leader_flow(HYDRAULICS_LEADER_EN, pipe_m));
    leader->decides = (size_t)layout->leader;
    struct layout_choice *weir = &items[LAYOUT_CHOICE_WEIR];
    add(weir, "EN", hydraulics_outlet_flow(inside_m, head_m, layout->strained));
    add(weir, "US", hydraulics_us_outlet_flow(inside_m, head_m, layout->strained));
    struct layout_choice *strainer = &items[LAYOUT_CHOICE_STRAINER];
    add(strainer, "strained", hydraulics_outlet_flow(inside_m, head_m, true));
    add(strainer, "open", hydraulics_outlet_flow(inside_m, head_m, false));
    strainer->decides = layout->strained ? 0 : 1;
}

bool layout_find_choices(struct layout_walk *walk) {
    struct layout *layout = walk->layout;
    struct layout_choices *choices = &layout->choices;
    for (size_t i = 1; i < layout->reach_count; i++) {
        /* more by more than the last bit: of equals the first */
        if (layout->reaches[i].flow_m3s > layout->reaches[choices->reach].flow_m3s * (1.0 + 1e-9)) {
            choices->reach = i;
        }
    }
    const struct layout_reach *reach = &layout->reaches[choices->reach];
    if (layout->reach_count == 0 || !(reach->flow_m3s > 0.0)) {
        return true;
    }
    choices->items[LAYOUT_CHOICE_RAIN] = rain_choice(walk);
    static const char *const areas[LAYOUT_BASES] = {"pitch factor", "plan", "half rise"};
    struct layout_choice *area = &choices->items[LAYOUT_CHOICE_AREA];
    for (int i = 0; i < LAYOUT_BASES; i++) {
        add(area, areas[i],
            walk->input->rain_mps * layout_stretch_area(walk, reach->line,
                                                        walk->waters[choices->reach],
                                                        (enum job_basis)i));
    }
    area->decides = (size_t)layout->area;
    outlet_choices(walk, reach, choices->items);
    return fall_choice(walk, choices->reach, &choices->items[LAYOUT_CHOICE_FALL]) &&
           mitre_choice(walk, choices->reach, &choices->items[LAYOUT_CHOICE_MITRE]);
}

/* ---- why --------------------------------------------------------------------------------------
 */

void layout_explain_choices(struct layout_walk *walk) {
    static const char *const paths[LAYOUT_CHOICES] = {
        "choices/rain/",     "choices/area/", "choices/leader/", "choices/weir/",
        "choices/strainer/", "choices/fall/", "choices/mitre/"};
    static const char *const formulas[LAYOUT_CHOICES] = {
        "the rain table at that duration and period",
        "rain x plan area x this rule's area factor, for the hardest reach",
        "what its downspout passes by this rule",
        "what its outlet passes by this rule, gutter full",
        "what its outlet passes, gutter full",
        "what its gutter carries to the lip by the physics, end free",
        "what its gutter carries to the lip by the physics, end free"};
    static const char *const sources[LAYOUT_CHOICES] = {"SRC-47", "SRC-66", "SRC-07", "SRC-05",
                                                        "SRC-05", "SRC-12", "SRC-96"};
    const struct layout_choices *choices = &walk->layout->choices;
    for (int i = 0; i < LAYOUT_CHOICES; i++) {
        for (size_t k = 0; k < choices->items[i].count; k++) {
            struct base_text path[] = {base_text_of(paths[i]),
                                       base_text_of(choices->items[i].options[k].name)};
            base_trace_scope(walk->trace, base_join(walk->arena, 2, path));
            base_trace_leaf(walk->trace, i == LAYOUT_CHOICE_RAIN ? "rain_mps" : "flow_m3s");
            base_trace_formula(walk->trace, formulas[i], sources[i]);
            base_trace_rule(walk->trace, k == choices->items[i].decides
                                             ? "this one decides"
                                             : "not taken: shown for comparison");
        }
    }
}
