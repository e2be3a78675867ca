/* SPDX-License-Identifier: Apache-2.0 */
/* Paragraphs and tables. */
#include "draw/draw_inside.h"

#include <assert.h>
#include <math.h>

static const double LEADING_1 = 1.3;
static const double ASCENT_1 = 0.75; /* from the top of a line to its baseline, in ems */
static const double PAD_X_MM = 1.4;  /* between a cell's text and its column's edge */
static const double PAD_Y_1 = 0.34;  /* above and below a row's lines, in ems */
static const double HAIR_MM = 0.13;
static const double RULE_MM = 0.35;

/* ---- paragraphs ---------------------------------------------------------------------------- */

static double line_height(const struct draw_paragraph *paragraph) {
    return paragraph->type.size_mm * (paragraph->leading_1 > 0 ? paragraph->leading_1 : LEADING_1);
}

double draw_paragraph_height(struct base_arena *arena, struct draw_paragraph paragraph) {
    struct base_text *lines = NULL;
    size_t count = draw_break_lines(arena, paragraph.text, paragraph.type.size_mm,
                                    paragraph.type.face, paragraph.width_mm, &lines);
    return (double)count * line_height(&paragraph);
}

double draw_add_paragraph(struct draw_document *document, struct draw_page *page,
                          struct draw_paragraph paragraph) {
    struct base_text *lines = NULL;
    size_t count = draw_break_lines(document->arena, paragraph.text, paragraph.type.size_mm,
                                    paragraph.type.face, paragraph.width_mm, &lines);
    double height_mm = line_height(&paragraph);
    double above_mm = (height_mm - paragraph.type.size_mm) / 2 + ASCENT_1 * paragraph.type.size_mm;
    for (size_t i = 0; i < count; i++) {
        struct draw_point at = {paragraph.at.x_mm,
                                paragraph.at.y_mm + (double)i * height_mm + above_mm};
        if (lines[i].length > 0) {
            draw_add_label(document, page, at, draw_label_of(lines[i]), paragraph.type);
        }
    }
    return paragraph.at.y_mm + (double)count * height_mm;
}

/* ---- tables -------------------------------------------------------------------------------- */

struct sheet { /* a table on its page */
    struct draw_document *document;
    struct draw_page *page;
    const struct draw_table *table;
    double *edges_mm; /* [column_count + 1] */
};

static bool find_edges(struct sheet *sheet) {
    const struct draw_table *table = sheet->table;
    sheet->edges_mm =
        base_take(sheet->document->arena, table->column_count + 1, sizeof *sheet->edges_mm);
    if (sheet->edges_mm == NULL) {
        return false;
    }
    double given_mm = 0;
    size_t shares = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        given_mm += table->columns[i].width_mm;
        shares += table->columns[i].width_mm <= 0;
    }
    double share_mm = shares > 0 ? fmax(0, table->width_mm - given_mm) / (double)shares : 0;
    sheet->edges_mm[0] = table->at.x_mm;
    for (size_t i = 0; i < table->column_count; i++) {
        double width_mm = table->columns[i].width_mm;
        sheet->edges_mm[i + 1] = sheet->edges_mm[i] + (width_mm > 0 ? width_mm : share_mm);
    }
    return true;
}

/* The first column starts and the last one ends on the table's edge, in line with its rules. */
static struct draw_paragraph cell_paragraph(const struct sheet *sheet, size_t column) {
    const struct draw_table *table = sheet->table;
    double left_mm = sheet->edges_mm[column] + (column == 0 ? 0 : PAD_X_MM);
    double right_mm =
        sheet->edges_mm[column + 1] - (column + 1 == table->column_count ? 0 : PAD_X_MM);
    enum draw_anchor anchor = table->columns[column].anchor;
    double x_mm = anchor == DRAW_START ? left_mm
                  : anchor == DRAW_END ? right_mm
                                       : (left_mm + right_mm) / 2;
    return (struct draw_paragraph){.at = {x_mm, 0},
                                   .width_mm = fmax(1, right_mm - left_mm),
                                   .type = {.size_mm = table->size_mm, .anchor = anchor}};
}

static bool is_total(const struct draw_table *table, size_t row) {
    return row + table->total_rows >= table->row_count;
}

static struct draw_paragraph body_paragraph(const struct sheet *sheet, size_t row, size_t column) {
    const struct draw_cell *cell = &sheet->table->cells[row * sheet->table->column_count + column];
    struct draw_paragraph paragraph = cell_paragraph(sheet, column);
    paragraph.text = cell->label.text;
    paragraph.type.face = is_total(sheet->table, row) ? DRAW_BOLD : cell->face;
    paragraph.type.ink = cell->ink;
    return paragraph;
}

/* A stacked length stays on one line; where the column is too narrow for it the plain text breaks.
 */
static bool stands_stacked(struct draw_label label, const struct draw_paragraph *paragraph) {
    return label.denominator > 0 && draw_label_width(label, paragraph->type.size_mm,
                                                     paragraph->type.face) <= paragraph->width_mm;
}

static double head_height(const struct sheet *sheet) {
    double height_mm = 0;
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        struct draw_paragraph paragraph = cell_paragraph(sheet, i);
        paragraph.text = sheet->table->columns[i].head;
        paragraph.type.face = DRAW_BOLD;
        height_mm = fmax(height_mm, draw_paragraph_height(sheet->document->arena, paragraph));
    }
    return height_mm + 2 * PAD_Y_1 * sheet->table->size_mm;
}

static double row_height(const struct sheet *sheet, size_t row) {
    double height_mm = 0;
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        struct draw_paragraph paragraph = body_paragraph(sheet, row, i);
        struct draw_label label = sheet->table->cells[row * sheet->table->column_count + i].label;
        double cell_mm = stands_stacked(label, &paragraph)
                             ? LEADING_1 * sheet->table->size_mm
                             : draw_paragraph_height(sheet->document->arena, paragraph);
        height_mm = fmax(height_mm, cell_mm);
    }
    return height_mm + 2 * PAD_Y_1 * sheet->table->size_mm;
}

static void add_rule(const struct sheet *sheet, double y_mm, double width_mm, enum draw_ink ink) {
    struct draw_point a = {sheet->table->at.x_mm, y_mm};
    struct draw_point b = {sheet->edges_mm[sheet->table->column_count], y_mm};
    draw_add_line(sheet->document, sheet->page, a, b, width_mm, DRAW_SOLID, ink);
}

/* Heads stand on the rule below them, whatever their number of lines. */
static void add_head(const struct sheet *sheet, double bottom_mm) {
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        struct draw_paragraph paragraph = cell_paragraph(sheet, i);
        paragraph.text = sheet->table->columns[i].head;
        paragraph.type.face = DRAW_BOLD;
        paragraph.at.y_mm = bottom_mm - PAD_Y_1 * sheet->table->size_mm -
                            draw_paragraph_height(sheet->document->arena, paragraph);
        draw_add_paragraph(sheet->document, sheet->page, paragraph);
    }
    add_rule(sheet, bottom_mm, RULE_MM, DRAW_COPPER);
}

static void add_row(const struct sheet *sheet, size_t row, double top_mm) {
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        struct draw_label label = sheet->table->cells[row * sheet->table->column_count + i].label;
        struct draw_paragraph paragraph = body_paragraph(sheet, row, i);
        paragraph.at.y_mm = top_mm + PAD_Y_1 * sheet->table->size_mm;
        if (!stands_stacked(label, &paragraph)) {
            draw_add_paragraph(sheet->document, sheet->page, paragraph);
            continue;
        }
        paragraph.at.y_mm += ((LEADING_1 - 1) / 2 + ASCENT_1) * sheet->table->size_mm;
        draw_add_label(sheet->document, sheet->page, paragraph.at, label, paragraph.type);
    }
}

/* Rows are added up one by one: the last bit tears no table that was measured to fit. */
#define ROUNDING_MM 1e-6

struct draw_table_end draw_add_table(struct draw_document *document, struct draw_page *page,
                                     const struct draw_table *table, size_t first_row) {
    assert(table->column_count > 0 && table->size_mm > 0 && first_row <= table->row_count);
    struct draw_table_end end = {first_row, table->at.y_mm};
    struct sheet sheet = {document, page, table, NULL};
    if (first_row == table->row_count || !find_edges(&sheet)) {
        return end;
    }
    double y_mm = table->at.y_mm + head_height(&sheet);
    bool forced = table->fresh_page;
    for (; end.next_row < table->row_count; end.next_row++) {
        double height_mm = row_height(&sheet, end.next_row);
        if (y_mm + height_mm > table->bottom_mm + ROUNDING_MM && !forced) {
            break;
        }
        if (end.next_row == first_row) {
            add_head(&sheet, y_mm);
        } else {
            bool sums_begin = is_total(table, end.next_row) && !is_total(table, end.next_row - 1);
            add_rule(&sheet, y_mm, sums_begin ? RULE_MM : HAIR_MM,
                     sums_begin ? DRAW_BLACK : DRAW_LIGHT);
        }
        add_row(&sheet, end.next_row, y_mm);
        y_mm += height_mm;
        forced = false;
    }
    if (end.next_row > first_row) {
        add_rule(&sheet, y_mm, HAIR_MM, DRAW_GREY);
        end.y_mm = y_mm;
    }
    return end;
}

double draw_table_height(struct draw_document *document, const struct draw_table *table) {
    struct sheet sheet = {document, NULL, table, NULL};
    if (!find_edges(&sheet)) {
        return 0;
    }
    double height_mm = head_height(&sheet);
    for (size_t row = 0; row < table->row_count; row++) {
        height_mm += row_height(&sheet, row);
    }
    return height_mm;
}
