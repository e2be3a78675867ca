/* SPDX-License-Identifier: Apache-2.0 */
/* The page of the measurements: do they agree, and what is to be asked on the telephone. */
#include "documents/measure_text_inside.h"
#include "documents/packet_inside.h"

static const char *const NOTES[] = {
    "Adjusted: the value that agrees best with all the others, and how far off it may be 19 times "
    "in 20 (give or take). Residual: adjusted less said. Redundancy: the share of an error in this "
    "measurement that would show in its own residual; 0 means that nothing checks it. w: the "
    "residual in its own standard deviations. Smallest found: an error of this size is found 4 "
    "times in 5.",
    "Where no doubt was said, standard deviations are taken as 1/4 in (6 mm) and 1/2000 of the "
    "length; a quarter of a degree for a corner called square, half a degree for another; a "
    "quarter inch in 12 for a pitch. A doubt that was said counts as two standard deviations. All "
    "of this is common practice, not a standard.",
    ("Two ways to mend a house explain it equally well while neither is twenty times likelier than "
     "the other; an error that is no usual slip must be twenty times better than one that is.")};

static void measure_table(struct documents_sheet *sheet) {
    const struct measure *measure = &sheet->solution->measure;
    static const double WIDTHS[] = {0.0, 22.0, 22.0, 17.0, 16.0, 21.0, 10.0, 19.0};
    struct draw_column columns[MEASURE_TEXT_COLUMNS];
    for (int k = 0; k < MEASURE_TEXT_COLUMNS; k++) {
        columns[k] =
            (struct draw_column){WIDTHS[k], k == 0 ? DRAW_START : DRAW_END,
                                 base_text_of(measure_text_head((enum measure_text_column)k))};
    }
    struct draw_cell *cells =
        base_take(sheet->arena, measure->item_count * MEASURE_TEXT_COLUMNS, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t i = 0; i < measure->item_count; i++) {
        for (int k = 0; k < MEASURE_TEXT_COLUMNS; k++) {
            cells[i * MEASURE_TEXT_COLUMNS + (size_t)k] =
                documents_cell(measure_text_cell(sheet->arena, sheet->solution->shop.style,
                                                 &measure->items[i], (enum measure_text_column)k));
        }
    }
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = MEASURE_TEXT_COLUMNS,
                                               .row_count = measure->item_count,
                                               .size_mm = 3.1});
}

void documents_draw_measure(struct documents_sheet *sheet) {
    const struct measure *measure = &sheet->solution->measure;
    documents_new_page(sheet, "Measurements");
    documents_paragraph(sheet, documents_write_verdict(sheet->arena, sheet->solution),
                        DRAW_REGULAR);
    if (measure->likely > 0) {
        documents_heading(sheet, "To be asked");
    }
    for (size_t i = 0; i < measure->likely; i++) {
        documents_paragraph(sheet, documents_write_question(sheet->arena, sheet->solution, i),
                            DRAW_REGULAR);
    }
    measure_table(sheet);
    for (size_t i = 0; i < sizeof NOTES / sizeof NOTES[0]; i++) {
        documents_paragraph(sheet, base_text_of(NOTES[i]), DRAW_REGULAR);
    }
    documents_paragraph(sheet, base_text_of(measure_text_used(sheet->solution)), DRAW_REGULAR);
}
