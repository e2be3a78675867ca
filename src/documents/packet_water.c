/* SPDX-License-Identifier: Apache-2.0 */
/* The water page: how often each reach goes over, where, and what happens when something is wrong.
 */
#include "documents/packet_inside.h"

static const char *const DASH = "\xe2\x80\x93";

/* Two figures are all that a rain table is good for. */
static double to_two_figures(double years) {
    double unit = 0.1;
    while (years >= 99.5 * unit) {
        unit *= 10.0;
    }
    return (double)(int64_t)(years / unit + 0.5) * unit;
}

/* Years: "26", "over 1000", "under 1"; without a table the rain itself. */
static struct base_text limit_words(struct documents_sheet *sheet,
                                    const struct layout_limit *limit) {
    struct units_style style = sheet->solution->shop.style;
    struct base_builder text = {.arena = sheet->arena};
    switch (limit->years.table) {
    case HYDRAULICS_TABLE_EMPTY:
        return limit->rain_mps < 1.0 ? units_write_rain(sheet->arena, style, limit->rain_mps)
                                     : base_text_of(DASH); /* no water comes: no rain does */
    case HYDRAULICS_TABLE_TOO_RARE:
        base_add_string(&text, "under ");
        break;
    case HYDRAULICS_TABLE_TOO_SHORT:
        base_add_string(&text, "over ");
        break;
    case HYDRAULICS_TABLE_HOLDS:
        break;
    }
    base_add_text(&text,
                  units_write_decimal_short(sheet->arena, to_two_figures(limit->years.years), 1));
    return base_built(&text);
}

static struct draw_cell limit_cell(struct documents_sheet *sheet,
                                   const struct layout_limit *limit) {
    return documents_cell(limit_words(sheet, limit));
}

/* ---- how often ------------------------------------------------------------------------------- */

enum { OFTEN_COLUMNS = 7, WRONG_COLUMNS = 6 };

static void often_table(struct documents_sheet *sheet) {
    static const char *const parts[] = {"gutter", "outlet", "strainer", "downspout"};
    const struct layout *layout = &sheet->solution->layout;
    const struct draw_column columns[OFTEN_COLUMNS] = {
        {0.0, DRAW_START, base_text_of("reach")},
        {23.0, DRAW_END, base_text_of("gutter alone")},
        {23.0, DRAW_END, base_text_of("open outlet")},
        {25.0, DRAW_END, base_text_of("with strainer")},
        {23.0, DRAW_END, base_text_of("downspout")},
        {25.0, DRAW_END, base_text_of("all together")},
        {24.0, DRAW_START, base_text_of("gives way first")}};
    struct draw_cell *cells =
        base_take(sheet->arena, layout->reach_count * OFTEN_COLUMNS, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t i = 0; i < layout->reach_count; i++) {
        const struct layout_often *often = &layout->reaches[i].often;
        struct draw_cell *row = &cells[i * OFTEN_COLUMNS];
        row[0] = documents_cell(layout->reaches[i].name);
        for (int part = 0; part < HYDRAULICS_PARTS; part++) {
            row[1 + part] = limit_cell(sheet, &often->parts[part]);
        }
        row[5] = limit_cell(sheet, &often->troubles[LAYOUT_AS_BUILT]);
        row[6] = documents_cell(base_text_of(parts[often->first]));
    }
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = OFTEN_COLUMNS,
                                               .row_count = layout->reach_count});
}

/* Whether a joint of the run, or a mitre, lies where the water goes over. */
static const char *joint_words(const struct solution *all, const struct layout_often *often) {
    static const int64_t near_tick = 3 * UNITS_TICK_PER_INCH;
    const struct joints_run *joints = &all->joints.runs[often->over_run];
    const struct layout_run *run = &all->layout.runs[often->over_run];
    for (size_t i = 0; i < joints->joint_count; i++) {
        int64_t away_tick = joints->joints[i].centre_tick - often->over_x_tick;
        if (away_tick <= near_tick && away_tick >= -near_tick) {
            return ", at a joint";
        }
    }
    bool at_left = often->over_x_tick <= near_tick && !run->left_is_free;
    bool at_right = often->over_x_tick >= run->length_tick - near_tick && !run->right_is_free;
    return at_left || at_right ? ", at the corner" : "";
}

/* "front, hall.1, 16' 11"" */
static struct base_text where_words(struct documents_sheet *sheet,
                                    const struct layout_often *often) {
    const struct solution *all = sheet->solution;
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text,
                    often->edge == LAYOUT_EDGE_FRONT ? "front lip, " : "back, at the house, ");
    base_add_text(&text, all->layout.runs[often->over_run].name);
    base_add_string(&text, " at ");
    struct units_style style = all->shop.style;
    int64_t step_tick =
        all->job.system == UNITS_FT_IN ? UNITS_TICK_PER_INCH : 10 * UNITS_TICK_PER_MM;
    int64_t shown_tick = (often->over_x_tick + step_tick / 2) / step_tick * step_tick;
    base_add_text(&text, units_write_length(sheet->arena, style, shown_tick));
    base_add_string(&text, joint_words(all, often));
    return base_built(&text);
}

static struct base_text shut_words(struct documents_sheet *sheet,
                                   const struct layout_blocked *blocked) {
    return blocked->relieved ? limit_words(sheet, &blocked->limit)
                             : base_text_of("every lasting rain");
}

static struct base_text amount_words(struct documents_sheet *sheet, const char *before,
                                     int64_t tick, const char *after) {
    return documents_join(
        sheet, before, units_write_length(sheet->arena, sheet->solution->shop.style, tick), after);
}

static void wrong_table(struct documents_sheet *sheet) {
    const struct layout *layout = &sheet->solution->layout;
    const struct draw_column columns[WRONG_COLUMNS] = {
        {0.0, DRAW_START, base_text_of("reach")},
        {54.0, DRAW_START, base_text_of("goes over first, as built")},
        {27.0, DRAW_END, amount_words(sheet, "end sunk ", layout->amounts.settled_tick, "")},
        {23.0, DRAW_END, amount_words(sheet, "sagged ", layout->amounts.sagged_tick, "")},
        {23.0, DRAW_END, amount_words(sheet, "", layout->amounts.ice_tick, " of ice")},
        {29.0, DRAW_END, base_text_of("its outlet shut")}};
    struct draw_cell *cells =
        base_take(sheet->arena, layout->reach_count * WRONG_COLUMNS, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t i = 0; i < layout->reach_count; i++) {
        const struct layout_reach *reach = &layout->reaches[i];
        struct draw_cell *row = &cells[i * WRONG_COLUMNS];
        row[0] = documents_cell(reach->name);
        row[1] = documents_cell(where_words(sheet, &reach->often));
        row[2] = limit_cell(sheet, &reach->often.troubles[LAYOUT_SETTLED]);
        row[3] = limit_cell(sheet, &reach->often.troubles[LAYOUT_SAGGED]);
        row[4] = limit_cell(sheet, &reach->often.troubles[LAYOUT_ICED]);
        row[5] = documents_cell(shut_words(sheet, &layout->outlets[reach->outlet].blocked));
    }
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = WRONG_COLUMNS,
                                               .row_count = layout->reach_count});
}

static void say_filling(struct documents_sheet *sheet) {
    const struct layout *layout = &sheet->solution->layout;
    double least_s = 1e9;
    double most_s = 0.0;
    bool alone = false;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        const struct layout_blocked *blocked = &layout->outlets[i].blocked;
        least_s = blocked->fill_s < least_s ? blocked->fill_s : least_s;
        most_s = blocked->fill_s > most_s ? blocked->fill_s : most_s;
        alone = alone || !blocked->relieved;
    }
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text,
                    "With an outlet shut the design rain fills the gutter there to the lip in ");
    base_add_text(&text, units_write_decimal(sheet->arena, least_s, 0));
    if (most_s >= least_s + 1.0) {
        base_add_string(&text, " to ");
        base_add_text(&text, units_write_decimal(sheet->arena, most_s, 0));
    }
    base_add_string(&text, alone
                               ? " seconds; where no other outlet can be reached it then goes over."
                               : " seconds.");
    base_add_string(&text,
                    " Ice is counted with the outlet kept open; frozen, it is shut. Clean the "
                    "strainers, and look along the lips with a string once a year.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

/* Only where a drain's inside was given: nothing is said of the others. */
static void say_drains(struct documents_sheet *sheet) {
    const struct layout *layout = &sheet->solution->layout;
    struct units_style style = sheet->solution->shop.style;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        const struct layout_outlet *outlet = &layout->outlets[i];
        if (!(outlet->drain_flow_m3s > 0.0)) {
            continue;
        }
        struct base_builder text = {.arena = sheet->arena};
        base_add_text(&text, outlet->name);
        base_add_string(&text, ": the downspout passes ");
        base_add_text(&text, units_write_flow(sheet->arena, style, outlet->pipe_flow_m3s));
        base_add_string(&text, ", the drain at its foot ");
        base_add_text(&text, units_write_flow(sheet->arena, style, outlet->drain_flow_m3s));
        base_add_string(&text, " if it is laid at 1/8 in per ft (not seen); ");
        base_add_text(&text, units_write_flow(sheet->arena, style, outlet->flow_m3s));
        base_add_string(&text, " arrive in the design rain.");
        documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
    }
}

static void say_basis(struct documents_sheet *sheet) {
    const struct layout *layout = &sheet->solution->layout;
    struct base_builder text = {.arena = sheet->arena};
    if (layout->years_known) {
        base_add_string(&text, "Years between rains in which it just goes over, for rain of ");
    } else {
        base_add_string(&text, "The job gives one rain, not a rain table, so years between "
                               "overflows cannot be told. Shown is the rain in which each just "
                               "goes over, for ");
    }
    base_add_text(&text, units_write_decimal_short(sheet->arena, layout->rain_s / 60.0, 1));
    base_add_string(&text, layout->years_known
                               ? " minutes, by the rain table; beyond its ends only its end is "
                                 "given. The design rain comes once in "
                               : " minutes; the design rain is ");
    if (layout->years_known) {
        base_add_integer(&text, (int64_t)layout->rain_years);
        base_add_string(&text, layout->rain_years == 1.0 ? " year" : " years");
    } else {
        base_add_text(
            &text, units_write_rain(sheet->arena, sheet->solution->shop.style, layout->rain_mps));
    }
    base_add_string(&text, ". Gutters by the physics of the flow, mitres included; roof areas as "
                           "the deciding rule counts them.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

struct least_most {
    double least;
    double most;
};

/* Where no water comes nothing answers. */
static void count_in(struct least_most *range, double value) {
    if (!(value > 0.0)) {
        return;
    }
    range->least = range->most > 0.0 && range->least < value ? range->least : value;
    range->most = value > range->most ? value : range->most;
}

static void add_range(struct base_builder *text, const struct least_most *range) {
    struct base_text least = units_write_decimal(text->arena, range->least, 0);
    struct base_text most = units_write_decimal(text->arena, range->most, 0);
    base_add_text(text, least);
    if (!base_text_equal(least, most)) {
        base_add_string(text, " to ");
        base_add_text(text, most);
    }
    base_add_string(text, base_text_is(most, "1") ? " second" : " seconds");
}

/* Why the design rain lasts as long as it does: what answers faster sees all of it. */
static void say_duration(struct documents_sheet *sheet) {
    const struct layout *layout = &sheet->solution->layout;
    struct least_most roofs = {0.0, 0.0};
    struct least_most gutters = {0.0, 0.0};
    struct base_builder text = {.arena = sheet->arena};
    for (size_t i = 0; i < layout->run_count; i++) {
        count_in(&roofs, layout->runs[i].caught.roof_s);
    }
    for (size_t i = 0; i < layout->reach_count; i++) {
        count_in(&gutters, layout->reaches[i].holds_s);
    }
    base_add_string(&text,
                    "In the design rain water from the top of the roof is at the edge after ");
    add_range(&text, &roofs);
    base_add_string(&text, ", and a gutter holds what comes in ");
    add_range(&text, &gutters);
    base_add_string(&text, roofs.most + gutters.most <= layout->rain_s
                               ? ": both answer sooner than that rain ends. "
                               : ": that is longer than that rain lasts, so it is on the safe "
                                 "side. ");
    base_add_string(&text, layout->rain_s == 300.0
                               ? "Five minutes is the rule of the handbooks and the shortest that "
                                 "most rain tables know; within them a minute may be harder."
                               : "The rule of the handbooks is five minutes.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

void documents_draw_water(struct documents_sheet *sheet) {
    documents_new_page(sheet, "The water");
    documents_heading(sheet, "How often it goes over");
    say_basis(sheet);
    say_duration(sheet);
    often_table(sheet);
    documents_heading(sheet, "Where, and when something is wrong");
    wrong_table(sheet);
    say_filling(sheet);
    documents_draw_storms(sheet);
    say_drains(sheet);
    documents_say_barrels(sheet);
    documents_draw_choices(sheet);
    documents_draw_catch(sheet);
}
