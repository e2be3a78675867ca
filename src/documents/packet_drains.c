/* SPDX-License-Identifier: Apache-2.0 */
/* Who drains to whom: every outlet with the roof whose water it takes, every eave without gutter,
 * and what is lost. */
#include "documents/packet_inside.h"

enum { COLUMNS = 4 }; /* the third keeps a figure and a word apart */
static const double ROW_MM = 6.6;
static const double HEAD_MM = 20.0;

static double find_outlet_area(const struct layout *layout, size_t outlet) {
    double sum_m2 = 0;
    for (size_t i = 0; i < layout->reach_count; i++) {
        sum_m2 += layout->reaches[i].outlet == outlet ? layout->reaches[i].plan_area_m2 : 0;
    }
    return sum_m2;
}

static struct base_text outlet_end(struct documents_sheet *sheet,
                                   const struct layout_outlet *outlet) {
    if (outlet->onto_run != SIZE_MAX) {
        return documents_join(sheet, "the gutter of ",
                              sheet->solution->layout.runs[outlet->onto_run].name, "");
    }
    switch (outlet->discharge) {
    case JOB_DISCHARGE_SPLASH_BLOCK:
        return base_text_of("the ground, on a splash block");
    case JOB_DISCHARGE_DRAIN:
        return base_text_of("a drain");
    case JOB_DISCHARGE_BARREL:
        return base_text_of("a barrel");
    case JOB_DISCHARGE_NONE:
        break;
    }
    return base_text_of("nowhere that was said");
}

static struct base_text link_end(struct documents_sheet *sheet, const struct roof_link *link) {
    const struct solution *all = sheet->solution;
    switch (link->end) {
    case ROOF_END_EAVE:
        return documents_join(sheet, "the gutter of ", all->roof.eaves[link->onto].name, "");
    case ROOF_END_ROOF:
        return documents_join(sheet, "the roof of ", all->job.wings[link->onto].name, "");
    case ROOF_END_GROUND:
        return base_text_of("the ground");
    case ROOF_END_LOST:
        return base_text_of("LOST: no eave there");
    case ROOF_END_PIT:
        break;
    }
    return base_text_of("LOST: no way out");
}

/* What takes it and, of a scupper whose width is known, how deep the design rain stands there. */
static struct base_text link_words(struct documents_sheet *sheet, const struct roof_link *link) {
    const struct solution *all = sheet->solution;
    struct base_text end = link_end(sheet, link);
    for (size_t i = 0; link->scupper && i < all->layout.deck_count; i++) {
        const struct layout_deck *deck = &all->layout.decks[i];
        if (deck->wing != link->wing || deck->width_tick == 0) {
            continue;
        }
        struct base_text parts[] = {
            end, base_text_of("; "),
            units_write_length(sheet->arena, all->shop.style, units_tick_of_m(deck->depth_m)),
            base_text_of(" deep at the scupper")};
        return base_join(sheet->arena, 4, parts);
    }
    return end;
}

static void fill_row(struct documents_sheet *sheet, struct draw_cell *row, struct base_text from,
                     double area_m2) {
    row[0] = documents_cell(from);
    row[2] = documents_cell(base_text_of(""));
    row[1] = documents_cell(units_write_area(sheet->arena, sheet->solution->shop.style, area_m2));
}

void documents_list_drains(struct documents_sheet *sheet) {
    const struct roof *roof = &sheet->solution->roof;
    const struct layout *layout = &sheet->solution->layout;
    const struct draw_column columns[COLUMNS] = {
        {0.0, DRAW_START, base_text_of("what it leaves by")},
        {30.0, DRAW_END, base_text_of("water of")},
        {4.0, DRAW_START, base_text_of("")},
        {86.0, DRAW_START, base_text_of("where it goes")}};
    size_t rows = layout->outlet_count + roof->link_count;
    struct draw_cell *cells = base_take(sheet->arena, rows * COLUMNS + 1, sizeof *cells);
    if (cells == NULL || rows == 0) {
        return;
    }
    for (size_t i = 0; i < layout->outlet_count; i++) {
        struct draw_cell *row = &cells[i * COLUMNS];
        fill_row(sheet, row, layout->outlets[i].name, find_outlet_area(layout, i));
        row[3] = documents_cell(outlet_end(sheet, &layout->outlets[i]));
    }
    for (size_t i = 0; i < roof->link_count; i++) {
        const struct roof_link *link = &roof->links[i];
        struct draw_cell *row = &cells[(layout->outlet_count + i) * COLUMNS];
        fill_row(sheet, row,
                 link->scupper ? documents_join(sheet, "", link->from, ", scupper")
                 : link->bare  ? documents_join(sheet, "", link->from, ", no gutter")
                               : link->from,
                 link->area_m2);
        row[3] = documents_cell(link_words(sheet, link));
    }
    double tall_mm = ROW_MM * (double)rows + HEAD_MM;
    if (sheet->y_mm + tall_mm > documents_bottom(sheet) &&
        sheet->y_mm > documents_bottom(sheet) / 2) { /* kept together where it can be */
        documents_new_page(sheet, sheet->title.bytes);
    }
    documents_heading(sheet, "Who drains to whom");
    documents_table(
        sheet, (struct draw_table){
                   .columns = columns, .cells = cells, .column_count = COLUMNS, .row_count = rows});
}
