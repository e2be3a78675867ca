/* SPDX-License-Identifier: Apache-2.0 */
/* The packet: its pages in order, their heads and feet, running text and tables. */
#include "documents/documents.h"

#include "documents/packet_inside.h"

static const struct draw_type TEXT_TYPE = {.size_mm = DOCUMENTS_TEXT_MM};

double documents_width(const struct documents_sheet *sheet) {
    return sheet->page->width_mm - 2 * DOCUMENTS_MARGIN_MM;
}

double documents_bottom(const struct documents_sheet *sheet) {
    return sheet->page->height_mm - DOCUMENTS_MARGIN_MM - 4.0;
}

static void add_text(struct documents_sheet *sheet, struct draw_point at, struct base_text text,
                     struct draw_type type) {
    draw_add_label(sheet->document, sheet->page, at, draw_label_of(text), type);
}

void documents_new_page(struct documents_sheet *sheet, const char *title) {
    bool metric = sheet->solution->job.system == UNITS_MM;
    sheet->title = base_text_of(title);
    sheet->page = draw_add_page(sheet->document, metric ? 210.0 : 215.9, metric ? 297.0 : 279.4,
                                sheet->title);
    if (sheet->page == NULL) {
        return;
    }
    double right_mm = sheet->page->width_mm - DOCUMENTS_MARGIN_MM;
    struct draw_point left = {DOCUMENTS_MARGIN_MM, DOCUMENTS_MARGIN_MM + 3.0};
    add_text(sheet, left, sheet->title,
             (struct draw_type){.size_mm = 6.4, .face = DRAW_BOLD, .ink = DRAW_COPPER});
    add_text(sheet, (struct draw_point){right_mm, left.y_mm}, sheet->solution->job.title,
             (struct draw_type){.size_mm = 3.8, .anchor = DRAW_END, .ink = DRAW_GREY});
    draw_add_line(sheet->document, sheet->page, (struct draw_point){left.x_mm, left.y_mm + 2.6},
                  (struct draw_point){right_mm, left.y_mm + 2.6}, 0.5, DRAW_SOLID, DRAW_COPPER);
    sheet->y_mm = left.y_mm + 7.0;
}

void documents_heading(struct documents_sheet *sheet, const char *words) {
    if (sheet->page == NULL) {
        return;
    }
    if (sheet->y_mm + 18.0 > documents_bottom(sheet)) {
        documents_new_page(sheet, sheet->title.bytes);
    }
    sheet->y_mm += 5.5;
    add_text(sheet, (struct draw_point){DOCUMENTS_MARGIN_MM, sheet->y_mm}, base_text_of(words),
             (struct draw_type){.size_mm = 4.4, .face = DRAW_BOLD});
    sheet->y_mm += 2.2;
}

void documents_paragraph(struct documents_sheet *sheet, struct base_text text,
                         enum draw_face face) {
    if (sheet->page == NULL) {
        return;
    }
    struct draw_paragraph paragraph = {.at = {DOCUMENTS_MARGIN_MM, sheet->y_mm},
                                       .width_mm = documents_width(sheet),
                                       .text = text,
                                       .type = TEXT_TYPE};
    paragraph.type.face = face;
    double height_mm = draw_paragraph_height(sheet->arena, paragraph);
    if (sheet->y_mm + height_mm > documents_bottom(sheet)) {
        documents_new_page(sheet, sheet->title.bytes);
        if (sheet->page == NULL) {
            return;
        }
        paragraph.at.y_mm = sheet->y_mm;
    }
    sheet->y_mm = draw_add_paragraph(sheet->document, sheet->page, paragraph) + 1.2;
}

#define TABLE_ABOVE_MM 1.0

/* A table of a few rows is read at one glance: it is not torn over two pages. */
static void keep_together(struct documents_sheet *sheet, const struct draw_table *table) {
    enum { FEW = 8 };
    struct draw_table measured = *table;
    measured.at.x_mm = DOCUMENTS_MARGIN_MM;
    measured.width_mm = documents_width(sheet);
    if (table->row_count <= FEW && sheet->page != NULL &&
        sheet->y_mm + TABLE_ABOVE_MM + draw_table_height(sheet->document, &measured) >
            documents_bottom(sheet)) {
        documents_new_page(sheet, sheet->title.bytes);
    }
}

void documents_keep_rows(struct documents_sheet *sheet, size_t rows) {
    static const double HEAD_MM = 30.0;
    static const double ROW_MM = 7.0;
    enum { MOST = 15, FIRST = 3 };
    double needed_mm = HEAD_MM + ROW_MM * (double)(rows < MOST ? rows : FIRST);
    if (sheet->page != NULL && sheet->y_mm + needed_mm > documents_bottom(sheet)) {
        documents_new_page(sheet, sheet->title.bytes);
    }
}

void documents_table(struct documents_sheet *sheet, struct draw_table table) {
    table.size_mm = table.size_mm > 0.0 ? table.size_mm : 3.4;
    keep_together(sheet, &table);
    size_t row = 0;
    while (sheet->page != NULL && row < table.row_count && !base_arena_failed(sheet->arena)) {
        table.at = (struct draw_point){DOCUMENTS_MARGIN_MM, sheet->y_mm + TABLE_ABOVE_MM};
        table.width_mm = documents_width(sheet);
        table.bottom_mm = documents_bottom(sheet);
        struct draw_table_end end = draw_add_table(sheet->document, sheet->page, &table, row);
        sheet->y_mm = end.y_mm + 2.0;
        if (end.next_row < table.row_count) {
            documents_new_page(sheet, sheet->title.bytes);
            table.fresh_page = true;
        }
        row = end.next_row;
    }
}

struct base_text documents_join(struct documents_sheet *sheet, const char *words,
                                struct base_text value, const char *after) {
    struct base_text parts[] = {base_text_of(words), value, base_text_of(after)};
    return base_join(sheet->arena, 3, parts);
}

struct draw_cell documents_cell(struct base_text text) {
    return (struct draw_cell){.label = draw_label_of(text)};
}

struct base_text documents_length(struct documents_sheet *sheet, int64_t tick) {
    return units_write_length(sheet->arena, sheet->solution->shop.style, tick);
}

struct base_text documents_percent(struct documents_sheet *sheet, double share_1) {
    return documents_join(sheet, "", units_write_decimal(sheet->arena, share_1 * 100.0, 0), " %");
}

struct draw_point documents_at(const struct documents_frame *frame, double right_m, double down_m) {
    return (struct draw_point){frame->x_mm + right_m * frame->scale_1,
                               frame->y_mm + down_m * frame->scale_1};
}

struct draw_cell documents_length_cell(struct documents_sheet *sheet, int64_t tick) {
    return (struct draw_cell){.label = draw_length_of(documents_length(sheet, tick))};
}

struct draw_cell documents_count_cell(struct documents_sheet *sheet, int64_t count) {
    struct base_builder text = {.arena = sheet->arena};
    base_add_integer(&text, count);
    return documents_cell(base_built(&text));
}

void documents_say_scale(struct documents_sheet *sheet, double scale_1, double right_mm) {
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "scale 1:");
    base_add_integer(&text, (int64_t)scale_1);
    add_text(sheet, (struct draw_point){right_mm + 6.0, sheet->y_mm + 2.0}, base_built(&text),
             (struct draw_type){.size_mm = 3.2});
}

/* "page n of m", once all pages are there. */
void documents_number_pages(struct documents_sheet *sheet) {
    for (size_t i = 0; i < sheet->document->count; i++) {
        struct base_builder text = {.arena = sheet->arena};
        base_add_string(&text, "page ");
        base_add_integer(&text, (int64_t)i + 1);
        base_add_string(&text, " of ");
        base_add_integer(&text, (int64_t)sheet->document->count);
        sheet->page = &sheet->document->pages[i];
        double y_mm = sheet->page->height_mm - DOCUMENTS_MARGIN_MM + 4.0;
        add_text(sheet, (struct draw_point){sheet->page->width_mm - DOCUMENTS_MARGIN_MM, y_mm},
                 base_built(&text),
                 (struct draw_type){.size_mm = 3.2, .anchor = DRAW_END, .ink = DRAW_GREY});
        add_text(sheet, (struct draw_point){DOCUMENTS_MARGIN_MM, y_mm},
                 base_text_of(sheet->solution->has_house
                                  ? "Left and right as seen from the ground, facing the house."
                                  : "Water is not checked: an order by pieces, without a house."),
                 (struct draw_type){.size_mm = 3.2, .ink = DRAW_GREY});
    }
}

static struct documents_sheet begin(struct base_arena *arena, const struct solution *solution,
                                    struct draw_document *document) {
    struct base_text title[] = {solution->job.title, base_text_of(": gutters")};
    struct base_text date[] = {solution->job.date.given ? solution->job.date.text
                                                        : base_text_of("2026-01-01"),
                               base_text_of("T00:00:00Z")};
    *document = (struct draw_document){
        .arena = arena, .title = base_join(arena, 2, title), .created = base_join(arena, 2, date)};
    return (struct documents_sheet){.arena = arena, .solution = solution, .document = document};
}

enum base_status documents_draw_packet(struct base_arena *arena, const struct solution *solution,
                                       const struct base_issues *issues,
                                       struct draw_document *document) {
    struct documents_sheet sheet = begin(arena, solution, document);
    sheet.issues = issues;
    documents_draw_quote(&sheet);
    if (solution->has_house) {
        documents_draw_plan_page(&sheet);
        documents_draw_elevations(&sheet);
        documents_draw_water(&sheet);
    }
    documents_draw_pieces(&sheet);
    documents_draw_patterns(&sheet);
    documents_draw_cut(&sheet);
    if (solution->has_house) {
        documents_draw_site(&sheet);
    }
    if (solution->measure.redundancy > 0) {
        documents_draw_measure(&sheet);
    }
    documents_draw_care(&sheet);
    documents_number_pages(&sheet);
    return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
}

enum base_status documents_draw_measurements(struct base_arena *arena,
                                             const struct solution *solution,
                                             struct draw_document *document) {
    struct documents_sheet sheet = begin(arena, solution, document);
    documents_draw_measure(&sheet);
    documents_say_found(&sheet);
    documents_number_pages(&sheet);
    return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
}

enum base_status documents_draw_plan(struct base_arena *arena, const struct solution *solution,
                                     struct draw_document *document) {
    struct documents_sheet sheet = begin(arena, solution, document);
    documents_draw_plan_page(&sheet);
    return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
}
