/* SPDX-License-Identifier: Apache-2.0 */
/* What goes over in a storm of the design period, and in one of a hundred years. */
#include "documents/packet_inside.h"

static bool is_metric(const struct documents_sheet *sheet) {
    return sheet->solution->shop.style.system == UNITS_MM;
}

/* US liquid gallon: 231 cubic inches, by definition. */
static struct base_text volume_words(struct documents_sheet *sheet, double volume_m3) {
    static const double GALLON_M3 = 231.0 * 0.0254 * 0.0254 * 0.0254;
    double volume = is_metric(sheet) ? volume_m3 * 1000.0 : volume_m3 / GALLON_M3;
    struct base_text number = units_write_decimal(sheet->arena, volume, volume < 9.95 ? 1 : 0);
    return documents_join(sheet, "", number, is_metric(sheet) ? " l" : " gal");
}

static struct base_text over_words(struct documents_sheet *sheet, const struct storm_reach *reach) {
    if (reach->over_minutes == 0) {
        return base_text_of("nothing");
    }
    struct base_builder text = {.arena = sheet->arena};
    base_add_text(&text, volume_words(sheet, reach->over_m3));
    base_add_string(&text, " in ");
    base_add_integer(&text, (int64_t)reach->over_minutes);
    base_add_string(&text, reach->over_minutes == 1 ? " minute" : " minutes");
    return base_built(&text);
}

static struct base_text years_words(struct documents_sheet *sheet, double years,
                                    const char *after) {
    return documents_join(sheet, "once in ", units_write_decimal_short(sheet->arena, years, 1),
                          after);
}

static void over_table(struct documents_sheet *sheet) {
    enum { COLUMNS_MOST = 2 + STORM_DESIGN_MOST };
    const struct solution *all = sheet->solution;
    size_t columns = 2 + all->storm_count;
    struct draw_column heads[COLUMNS_MOST] = {{0.0, DRAW_START, base_text_of("reach")},
                                              {34.0, DRAW_END, base_text_of("water of an hour")}};
    struct draw_cell *cells =
        base_take(sheet->arena, all->layout.reach_count * columns, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t k = 0; k < all->storm_count; k++) {
        heads[2 + k] = (struct draw_column){
            42.0, DRAW_END, years_words(sheet, all->storms[k].period_years, " years: goes over")};
    }
    for (size_t i = 0; i < all->layout.reach_count; i++) {
        const struct storm *last = &all->storms[all->storm_count - 1];
        cells[i * columns] = documents_cell(all->layout.reaches[i].name);
        cells[i * columns + 1] = documents_cell(volume_words(sheet, last->reaches[i].fallen_m3));
        for (size_t k = 0; k < all->storm_count; k++) {
            cells[i * columns + 2 + k] =
                documents_cell(over_words(sheet, &all->storms[k].reaches[i]));
        }
    }
    documents_table(sheet, (struct draw_table){.columns = heads,
                                               .cells = cells,
                                               .column_count = columns,
                                               .row_count = all->layout.reach_count});
}

static void say_storms(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    struct units_style style = all->shop.style;
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "Storms of an hour from the rain table, hardest in the middle: ");
    for (size_t i = 0; i < all->storm_count; i++) {
        const struct storm *storm = &all->storms[i];
        base_add_string(&text, i == 0 ? "" : "; ");
        base_add_text(&text, years_words(sheet, storm->period_years, " years, at most "));
        base_add_text(&text, units_write_rain(sheet->arena, style, storm->hardest_mps));
    }
    base_add_string(&text, ". Minute by minute, each taken as lasting: a gutter fills in less than "
                           "one. The water of an hour is of the last of them.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

/* Nothing without a rain table. */
void documents_draw_storms(struct documents_sheet *sheet) {
    if (sheet->solution->storm_count == 0) {
        return;
    }
    documents_keep_rows(sheet, sheet->solution->layout.reach_count);
    documents_heading(sheet, "In a storm");
    say_storms(sheet);
    over_table(sheet);
}
