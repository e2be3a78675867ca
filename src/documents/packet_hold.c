/* SPDX-License-Identifier: Apache-2.0 */
/* What the brackets bear, on the site sheet: the most loaded one of each gutter. */
#include "documents/packet_inside.h"

enum { HOLD_COLUMNS = 7 };

static struct base_text force_words(struct documents_sheet *sheet, double force_n) {
    return units_write_value(sheet->arena, sheet->solution->shop.style,
                             base_value_number(BASE_UNIT_N, force_n));
}

static struct base_text use_words(struct documents_sheet *sheet, const struct hang_loads *loads,
                                  enum hang_filling filling) {
    if (!(loads->withdrawal_n > 0.0)) {
        return base_text_of("rotten wood");
    }
    return documents_percent(sheet, loads->use_1[filling]);
}

static void hold_row(struct documents_sheet *sheet, const struct hang_run *run,
                     struct draw_cell *row) {
    const struct hang_loads *loads = &run->loads;
    struct base_text wood = base_text_of(loads->wood);
    row[0] = documents_cell(sheet->solution->layout.runs[run->run].name);
    row[1] = documents_cell(
        documents_join(sheet, "", wood, loads->end_grain ? ", end grain" : ", side grain"));
    row[2] = documents_count_cell(sheet, (int64_t)loads->most + 1);
    row[3] = documents_cell(force_words(sheet, loads->load_n[HANG_FULL_OF_WATER]));
    row[4] = documents_cell(use_words(sheet, loads, HANG_FULL_OF_WATER));
    row[5] = documents_cell(force_words(sheet, loads->load_n[HANG_FULL_OF_ICE]));
    row[6] = documents_cell(use_words(sheet, loads, HANG_FULL_OF_ICE));
}

static void hold_table(struct documents_sheet *sheet) {
    const struct hang *hang = &sheet->solution->hang;
    const struct draw_column columns[HOLD_COLUMNS] = {
        {0.0, DRAW_START, base_text_of("gutter")}, {38.0, DRAW_START, base_text_of("wood")},
        {16.0, DRAW_END, base_text_of("bracket")}, {24.0, DRAW_END, base_text_of("full of water")},
        {18.0, DRAW_END, base_text_of("screws")},  {24.0, DRAW_END, base_text_of("ice, snow")},
        {18.0, DRAW_END, base_text_of("screws")}};
    struct draw_cell *cells =
        base_take(sheet->arena, hang->run_count * HOLD_COLUMNS, sizeof *cells);
    size_t rows = 0;
    for (size_t i = 0; cells != NULL && i < hang->run_count; i++) {
        if (hang->runs[i].count > 0) {
            hold_row(sheet, &hang->runs[i], &cells[HOLD_COLUMNS * rows++]);
        }
    }
    if (rows > 0) {
        documents_table(sheet, (struct draw_table){.columns = columns,
                                                   .cells = cells,
                                                   .column_count = HOLD_COLUMNS,
                                                   .row_count = rows});
    }
}

/* The most that slides onto a foot of any of the eaves. */
static void say_sliding(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    double most_nm = 0.0;
    for (size_t i = 0; i < all->hang.run_count; i++) {
        double here_nm = all->hang.runs[i].loads.sliding_nm;
        most_nm = here_nm > most_nm ? here_nm : most_nm;
    }
    if (!(most_nm > 0.0)) {
        return;
    }
    bool feet = all->shop.style.system == UNITS_FT_IN;
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "Snow that slides off the roof comes to as much as ");
    base_add_text(&text, force_words(sheet, feet ? most_nm * 0.3048 : most_nm));
    base_add_string(&text, feet ? " a foot" : " a metre");
    base_add_string(&text, " of eave, which no bracket here is asked to bear: where it can slide, "
                           "snow guards are needed, by others.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

enum { MOVE_COLUMNS = 4 };

/* One fixed bracket to a gutter, slots at all others. */
static void move_table(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    const struct draw_column columns[MOVE_COLUMNS] = {
        {0.0, DRAW_START, base_text_of("gutter")},
        {30.0, DRAW_END, base_text_of("moves in all")},
        {34.0, DRAW_END, base_text_of("held fast at bracket")},
        {34.0, DRAW_END, base_text_of("slots elsewhere")}};
    struct draw_cell *cells =
        base_take(sheet->arena, all->hang.run_count * MOVE_COLUMNS, sizeof *cells);
    size_t rows = 0;
    for (size_t i = 0; cells != NULL && i < all->hang.run_count; i++) {
        const struct hang_moves *moves = &all->hang.runs[i].moves;
        if (all->hang.runs[i].count == 0) {
            continue;
        }
        struct draw_cell *row = &cells[MOVE_COLUMNS * rows++];
        row[0] = documents_cell(all->layout.runs[i].name);
        row[1] = documents_length_cell(sheet, units_tick_of_m(moves->moves_m));
        row[2] = documents_count_cell(sheet, (int64_t)moves->fixed + 1);
        row[3] = documents_length_cell(sheet, units_tick_of_m(moves->slot_m));
    }
    if (rows > 0) {
        documents_table(sheet, (struct draw_table){.columns = columns,
                                                   .cells = cells,
                                                   .column_count = MOVE_COLUMNS,
                                                   .row_count = rows});
    }
}

static void say_moves(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    if (all->hang.run_count == 0) {
        return;
    }
    const struct hang_moves *first = &all->hang.runs[0].moves;
    struct units_style style = all->shop.style;
    documents_keep_rows(sheet, all->hang.run_count + 5);
    documents_heading(sheet, "How it moves");
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "Copper from ");
    base_add_text(&text, units_write_temperature(sheet->arena, style, first->coldest_c));
    base_add_string(&text, " to ");
    base_add_text(&text, units_write_temperature(sheet->arena, style, first->hottest_c));
    base_add_string(&text, ". Drive one face screw tight, at the bracket nearest the middle; at "
                           "every other the gutter must slide, in slots or under clips. A gutter "
                           "held fast at two places tears its own seams.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
    move_table(sheet);
}

void documents_draw_hold(struct documents_sheet *sheet) {
    const struct hang *hang = &sheet->solution->hang;
    documents_keep_rows(sheet, hang->run_count + 6);
    documents_heading(sheet, "What the brackets bear");
    documents_paragraph(
        sheet,
        base_text_of(
            "The most loaded bracket of each gutter, counted from the left: full of water to the "
            "lip; full of ice, with the snow of its own width where snow was said. Screws: the "
            "share used of what its top one holds, two lag screws 1/4 by 2 in (6 by 50 mm), the "
            "wood taken as old and wet unless said sound. Over 100 % it can pull out. The bracket "
            "itself must be one that its maker rates for the load. No wind is counted."),
        DRAW_REGULAR);
    hold_table(sheet);
    say_sliding(sheet);
    say_moves(sheet);
}
