/* SPDX-License-Identifier: Apache-2.0 */
/* result.json: what the water does in gutters, outlets and downspouts. */
#include <math.h>

#include "result/result_inside.h"

static struct base_text text(const char *c_string) {
    return base_text_of(c_string);
}

static const char *const BASIS_WORDS[] = {"handbook", "us-code", "en-12056-3"};

const char *result_basis_word(enum job_basis basis) {
    return BASIS_WORDS[basis];
}

static void write_checks(struct result_out *out, const struct layout_reach *reach) {
    for (int i = 0; i < LAYOUT_BASES; i++) {
        const struct layout_check *check = &reach->checks[i];
        result_open_map(out, text(BASIS_WORDS[i]));
        result_put_number(out, RESULT_CHECK_FLOW, check->flow_m3s);
        if (check->has_figure) {
            result_put_number(out, RESULT_CHECK_CAPACITY, check->capacity_m3s);
            result_put_word(out, RESULT_CHECK_PASSES, result_yes_no(check->passes));
        }
        result_close_map(out);
    }
}

static void write_corners(struct result_out *out, const struct layout_reach *reach) {
    if (reach->bend_count == 0) {
        return;
    }
    result_open_map(out, text("corners"));
    for (size_t i = 0; i < reach->bend_count; i++) {
        result_open_map(out, result_number_key(out, i + 1));
        result_put_number(out, RESULT_CORNER_AT, reach->bends[i].x_m);
        result_put_number(out, RESULT_CORNER_LOSS, reach->bends[i].loss_1);
        result_close_map(out);
    }
    result_close_map(out);
}

/* ---- how often ------------------------------------------------------------------------------ */

struct limit_fields {
    enum result_field rain;
    enum result_field years;
    enum result_field table;
};

static void write_limit(struct result_out *out, const struct layout_limit *limit,
                        struct limit_fields fields) {
    static const char *const tables[] = {"within", "oftener", "rarer"};
    if (limit->rain_mps < (double)INFINITY) {
        result_put_number(out, fields.rain, limit->rain_mps);
    }
    if (limit->years.table != HYDRAULICS_TABLE_EMPTY) {
        result_put_number(out, fields.years, limit->years.years);
        result_put_word(out, fields.table, tables[limit->years.table]);
    }
}

static void write_often(struct result_out *out, const struct layout_reach *reach) {
    static const char *const parts[] = {"gutter", "outlet", "strainer", "downspout"};
    static const char *const troubles[] = {"as-built", "settled", "sagged", "iced"};
    static const char *const edges[] = {"front", "back"};
    static const struct limit_fields fields = {RESULT_OFTEN_RAIN, RESULT_OFTEN_YEARS,
                                               RESULT_OFTEN_TABLE};
    const struct layout_often *often = &reach->often;
    result_open_map(out, text("often"));
    for (int i = 0; i < HYDRAULICS_PARTS; i++) {
        result_open_map(out, text(parts[i]));
        write_limit(out, &often->parts[i], fields);
        result_close_map(out);
    }
    for (int i = 0; i < LAYOUT_TROUBLES; i++) {
        result_open_map(out, text(troubles[i]));
        write_limit(out, &often->troubles[i], fields);
        result_close_map(out);
    }
    result_put_word(out, RESULT_OFTEN_FIRST, parts[often->first]);
    result_put_text(out, RESULT_OVER_RUN, out->solution->layout.runs[often->over_run].name);
    result_put_tick(out, RESULT_OVER_X, often->over_x_tick);
    result_put_word(out, RESULT_OVER_EDGE, edges[often->edge]);
    result_close_map(out);
}

static void write_blocked(struct result_out *out, const struct layout_blocked *blocked) {
    static const struct limit_fields fields = {RESULT_BLOCKED_RAIN, RESULT_BLOCKED_YEARS,
                                               RESULT_BLOCKED_TABLE};
    result_open_map(out, text("blocked"));
    result_put_word(out, RESULT_BLOCKED_RELIEVED, result_yes_no(blocked->relieved));
    if (blocked->relieved) {
        write_limit(out, &blocked->limit, fields);
    }
    result_put_number(out, RESULT_BLOCKED_FILL, blocked->fill_s);
    result_close_map(out);
}

/* ---- catching ------------------------------------------------------------------------------- */

static void write_landing(struct result_out *out, const char *end,
                          const struct hydraulics_catch *found) {
    static const char *const places[] = {"behind", "back-third", "forward", "over"};
    result_open_map(out, text(end));
    result_put_number(out, RESULT_CATCH_OUT, found->storm.out_m);
    result_put_number(out, RESULT_CATCH_SHARE, found->storm.share_1);
    result_put_word(out, RESULT_CATCH_STORM, places[found->storm.place]);
    result_put_word(out, RESULT_CATCH_DRIZZLE, places[found->drizzle.place]);
    result_close_map(out);
}

void result_write_catch(struct result_out *out, const struct layout_run *run) {
    const struct layout_catch *caught = &run->caught;
    result_open_map(out, text("catch"));
    write_landing(out, "high", &caught->high);
    write_landing(out, "low", &caught->low);
    result_put_number(out, RESULT_CATCH_OPEN, caught->low.open_1);
    result_put_number(out, RESULT_CATCH_CREEPS, caught->creeps_rain_mps);
    result_put_number(out, RESULT_CATCH_ROOF, caught->roof_s);
    result_put_word(out, RESULT_CATCH_DRIP, caught->drip_said ? "yes" : "not-said");
    if (caught->wants_apron) {
        result_put_tick(out, RESULT_CATCH_APRON, caught->apron_tick);
    }
    result_close_map(out);
}

/* ---- choices -------------------------------------------------------------------------------- */

void result_write_choices(struct result_out *out) {
    static const char *const names[LAYOUT_CHOICES] = {"rain",     "area", "leader", "weir",
                                                      "strainer", "fall", "mitre"};
    const struct layout *layout = &out->solution->layout;
    if (layout->choices.items[LAYOUT_CHOICE_RAIN].count == 0) {
        return;
    }
    result_open_map(out, text("choices"));
    result_put_text(out, RESULT_CHOICE_REACH, layout->reaches[layout->choices.reach].name);
    for (int i = 0; i < LAYOUT_CHOICES; i++) {
        const struct layout_choice *choice = &layout->choices.items[i];
        if (choice->count == 0) {
            continue;
        }
        result_open_map(out, text(names[i]));
        result_put_word(out, RESULT_CHOICE_DECIDES, choice->options[choice->decides].name);
        for (size_t k = 0; k < choice->count; k++) {
            result_open_map(out, text(choice->options[k].name));
            result_put_number(out,
                              i == LAYOUT_CHOICE_RAIN ? RESULT_CHOICE_RAIN : RESULT_CHOICE_FLOW,
                              choice->options[k].value);
            result_close_map(out);
        }
        result_close_map(out);
    }
    result_close_map(out);
}

void result_write_amounts(struct result_out *out) {
    const struct layout_amounts *amounts = &out->solution->layout.amounts;
    result_put_tick(out, RESULT_SETTLED, amounts->settled_tick);
    result_put_tick(out, RESULT_SAGGED, amounts->sagged_tick);
    result_put_tick(out, RESULT_ICE, amounts->ice_tick);
}

void result_write_reaches(struct result_out *out) {
    const struct layout *layout = &out->solution->layout;
    result_open_map(out, text("reaches"));
    for (size_t i = 0; i < layout->reach_count; i++) {
        const struct layout_reach *reach = &layout->reaches[i];
        result_open_map(out, reach->name);
        result_put_tick(out, RESULT_REACH_LENGTH, reach->length_tick);
        result_put_text(out, RESULT_REACH_OUTLET, layout->outlets[reach->outlet].name);
        result_put_number(out, RESULT_REACH_AREA, reach->plan_area_m2);
        result_put_number(out, RESULT_REACH_FLOW, reach->flow_m3s);
        result_put_number(out, RESULT_REACH_WIDTH, reach->needed_width_m);
        result_put_number(out, RESULT_REACH_STILL, reach->profile.still_depth_m);
        result_put_number(out, RESULT_REACH_END, reach->profile.end_depth_m);
        result_put_number(out, RESULT_REACH_DEPTH, reach->profile.greatest_depth_m);
        result_put_number(out, RESULT_REACH_DEPTH_X, reach->profile.greatest_x_m);
        result_put_number(out, RESULT_REACH_FREEBOARD, reach->freeboard_m);
        result_put_number(out, RESULT_REACH_HOLDS, reach->holds_s);
        result_put_word(out, RESULT_REACH_OVERFLOWS, result_yes_no(reach->profile.overflows));
        result_put_number(out, RESULT_REACH_RESIDUAL, reach->profile.residual_1);
        write_checks(out, reach);
        write_corners(out, reach);
        if (!layout->brief) {
            write_often(out, reach);
        }
        result_close_map(out);
    }
    result_close_map(out);
}

static const char *discharge_word(enum job_discharge discharge) {
    static const char *const words[] = {"splash-block", "drain", "barrel", "none"};
    return words[discharge];
}

void result_write_outlets(struct result_out *out) {
    const struct layout *layout = &out->solution->layout;
    result_open_map(out, text("outlets"));
    for (size_t i = 0; i < layout->outlet_count; i++) {
        const struct layout_outlet *outlet = &layout->outlets[i];
        result_open_map(out, outlet->name);
        result_put_tick(out, RESULT_OUTLET_X, outlet->x_tick);
        result_put_text(out, RESULT_OUTLET_RUN, layout->runs[outlet->run].name);
        result_put_number(out, RESULT_OUTLET_FLOW, outlet->flow_m3s);
        result_put_word(out, RESULT_OUTLET_PIPE, out->solution->shop.pipes[outlet->pipe].name);
        result_put_tick(out, RESULT_OUTLET_TUBE, outlet->tube_tick);
        result_put_number(out, RESULT_OUTLET_HEAD, outlet->head_m);
        result_put_number(out, RESULT_OUTLET_CAPACITY, outlet->outlet_flow_m3s);
        result_put_number(out, RESULT_OUTLET_PIPE_CAPACITY, outlet->pipe_flow_m3s);
        if (outlet->offset_flow_m3s > 0.0) {
            result_put_number(out, RESULT_OUTLET_OFFSET, outlet->offset_flow_m3s);
        }
        if (outlet->drain_flow_m3s > 0.0) {
            result_put_number(out, RESULT_OUTLET_DRAIN, outlet->drain_flow_m3s);
        }
        if (outlet->barrel_full_m > 0.0) {
            result_put_number(out, RESULT_OUTLET_BARREL, outlet->barrel_full_m);
        }
        result_put_word(out, RESULT_OUTLET_DISCHARGE, discharge_word(outlet->discharge));
        if (!layout->brief) {
            write_blocked(out, &outlet->blocked);
        }
        result_close_map(out);
    }
    result_close_map(out);
    result_open_map(out, text("downspouts"));
    for (size_t i = 0; i < layout->outlet_count; i++) {
        const struct layout_downspout *pipe = &layout->downspouts[i];
        if (!pipe->measured) {
            continue;
        }
        result_open_map(out, layout->outlets[i].name);
        result_put_tick(out, RESULT_DOWN_OFFSET, pipe->offset_tick);
        result_put_number(out, RESULT_DOWN_ELBOW, pipe->elbow_rad);
        result_put_tick(out, RESULT_DOWN_TRAVEL, pipe->travel_tick);
        result_put_tick(out, RESULT_DOWN_VERTICAL, pipe->vertical_tick);
        result_write_way_down(out, i);
        result_close_map(out);
    }
    result_close_map(out);
}
