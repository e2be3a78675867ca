/* SPDX-License-Identifier: Apache-2.0 */
/* The cut plan: what to buy, and which piece comes from which bar. */
#include "documents/packet_inside.h"

enum { CUT_COLUMNS = 4 };

static void add_part_words(struct documents_sheet *sheet, struct base_builder *text,
                           const struct cut_part *part) {
    base_add_text(text, sheet->solution->pieces.items[part->piece].id);
    if (part->leg > 0) {
        base_add_string(text, part->leg == 1 ? " first leg" : " second leg");
    }
    base_add_string(text, " (");
    base_add_text(text, documents_length(sheet, part->length_tick));
    base_add_string(text, ")");
}

static void say_plan(struct documents_sheet *sheet, const struct cut_plan *plan) {
    bool is_strip = plan->stock == CUT_STRIP;
    size_t usual = plan->bar_count - plan->too_long;
    struct base_builder text = {.arena = sheet->arena};
    base_add_integer(&text, (int64_t)usual);
    base_add_string(&text, is_strip ? (usual == 1 ? " strip of " : " strips of ")
                                    : (usual == 1 ? " length of " : " lengths of "));
    base_add_text(&text, documents_length(sheet, plan->bar_tick));
    if (plan->wide_tick > 0) {
        base_add_string(&text, ", ");
        base_add_text(&text, documents_length(sheet, plan->wide_tick));
        base_add_string(&text, " wide");
    }
    if (plan->too_long > 0) {
        base_add_string(&text, ", and ");
        base_add_integer(&text, (int64_t)plan->too_long);
        base_add_string(&text, plan->too_long == 1 ? " longer one" : " longer ones");
    }
    if (plan->proved) {
        base_add_string(&text, plan->bar_count == 1 ? "." : "; no plan needs fewer.");
    } else {
        base_add_string(&text, "; no plan needs fewer than ");
        base_add_integer(&text, (int64_t)plan->bound);
        base_add_string(&text, ".");
    }
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

static void bar_table(struct documents_sheet *sheet, const struct cut_plan *plan) {
    const struct draw_column columns[CUT_COLUMNS] = {
        {14.0, DRAW_END, base_text_of(plan->stock == CUT_STRIP ? "strip" : "length")},
        {0.0, DRAW_START, base_text_of("pieces, longest first")},
        {22.0, DRAW_END, base_text_of("used")},
        {22.0, DRAW_END, base_text_of("left over")}};
    struct draw_cell *cells = base_take(sheet->arena, plan->bar_count * CUT_COLUMNS, sizeof *cells);
    for (size_t i = 0; cells != NULL && i < plan->bar_count; i++) {
        const struct cut_bar *bar = &plan->bars[i];
        struct draw_cell *row = &cells[i * CUT_COLUMNS];
        struct base_builder pieces = {.arena = sheet->arena};
        for (size_t k = 0; k < bar->count; k++) {
            base_add_string(&pieces, k > 0 ? "; " : "");
            add_part_words(sheet, &pieces, &plan->parts[bar->first + k]);
        }
        int64_t left_tick = plan->bar_tick - bar->used_tick;
        row[0] = documents_count_cell(sheet, (int64_t)i + 1);
        row[1] = documents_cell(base_built(&pieces));
        row[2] = documents_length_cell(sheet, bar->used_tick);
        row[3] = left_tick >= 0 ? documents_length_cell(sheet, left_tick)
                                : documents_cell(base_text_of("longer bar"));
    }
    if (cells != NULL) {
        documents_table(sheet, (struct draw_table){.columns = columns,
                                                   .cells = cells,
                                                   .column_count = CUT_COLUMNS,
                                                   .row_count = plan->bar_count});
    }
}

static void draw_plan(struct documents_sheet *sheet, const struct cut_plan *plan) {
    struct base_builder head = {.arena = sheet->arena};
    base_add_string(&head, plan->stock == CUT_STRIP ? "Gutter " : "Downspout ");
    base_add_text(&head, plan->size);
    if (plan->sheet != NULL) {
        base_add_string(&head, ", ");
        base_add_string(&head, plan->sheet);
    }
    documents_keep_rows(sheet, plan->bar_count < 8 ? plan->bar_count + 3 : 8);
    documents_heading(sheet, base_built(&head).bytes);
    if (plan->part_count == 0) {
        documents_paragraph(sheet, base_text_of("Too many pieces to plan one by one."),
                            DRAW_REGULAR);
        return;
    }
    say_plan(sheet, plan);
    bar_table(sheet, plan);
}

void documents_draw_cut(struct documents_sheet *sheet) {
    const struct cut *cut = &sheet->solution->cut;
    if (cut->count == 0) {
        return;
    }
    documents_new_page(sheet, "Cut plan");
    documents_paragraph(
        sheet,
        base_text_of(
            "Strips of the gutter's girth and lengths of pipe as they are bought, and what "
            "is cut from each. A mitre's legs are as long as their longest edge, with the "
            "lap. Squaring the ends is not taken off; end caps, straps and tubes come from "
            "what is left over."),
        DRAW_REGULAR);
    for (size_t i = 0; i < cut->count; i++) {
        draw_plan(sheet, &cut->plans[i]);
    }
}
