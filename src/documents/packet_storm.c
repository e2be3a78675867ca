/* SPDX-License-Identifier: Apache-2.0 */
/* What goes over in storms: of the design period, of a hundred years, and of a gauge's record. */
#include <math.h>

#include "documents/packet_inside.h"

static struct base_text volume_words(struct documents_sheet *sheet, double volume_m3) {
    return units_write_volume(sheet->arena, sheet->solution->shop.style, volume_m3);
}

/* "nothing of 480 gal", "12 gal of 480 gal in 3 minutes". */
static struct base_text over_words(struct documents_sheet *sheet, const struct storm_reach *reach) {
    struct base_builder text = {.arena = sheet->arena};
    if (reach->over_minutes == 0) {
        base_add_string(&text, "nothing");
    } else {
        base_add_text(&text, volume_words(sheet, reach->over_m3));
    }
    base_add_string(&text, " of ");
    base_add_text(&text, volume_words(sheet, reach->fallen_m3 + reach->fed_m3));
    if (reach->over_minutes > 0) {
        base_add_string(&text, " in ");
        base_add_integer(&text, (int64_t)reach->over_minutes);
        base_add_string(&text, reach->over_minutes == 1 ? " minute" : " minutes");
    }
    return base_built(&text);
}

static struct base_text years_words(struct documents_sheet *sheet, double years,
                                    const char *after) {
    return documents_join(sheet, "once in ", units_write_decimal_short(sheet->arena, years, 1),
                          after);
}

/* "an hour", "24 hours", "5 minutes", "3 hours 20 minutes". */
static struct base_text time_words(struct documents_sheet *sheet, double time_s) {
    int64_t minutes = (int64_t)(time_s / 60.0 + 0.5);
    struct base_builder text = {.arena = sheet->arena};
    if (minutes == 60) {
        return base_text_of("an hour");
    }
    if (minutes > 60) {
        base_add_integer(&text, minutes / 60);
        base_add_string(&text, minutes / 60 == 1 ? " hour" : " hours");
    }
    if (minutes < 60 || minutes % 60 != 0) {
        base_add_string(&text, minutes > 60 ? " " : "");
        base_add_integer(&text, minutes > 60 ? minutes % 60 : minutes);
        base_add_string(&text, minutes % 60 == 1 ? " minute" : " minutes");
    }
    return base_built(&text);
}

struct base_text documents_storm_name(struct documents_sheet *sheet, const struct storm *storm) {
    return storm->kind == STORM_OF_TABLE
               ? years_words(sheet, storm->period_years, " years")
               : documents_join(sheet, "gauge, ", (struct base_text){storm->began.bytes, 10}, "");
}

static void over_table(struct documents_sheet *sheet) {
    enum { COLUMNS_MOST = 1 + STORM_MOST };
    const struct solution *all = sheet->solution;
    size_t columns = 1 + all->storm_count;
    struct draw_column heads[COLUMNS_MOST] = {{0.0, DRAW_START, base_text_of("goes over")}};
    struct draw_cell *cells =
        base_take(sheet->arena, all->layout.reach_count * columns, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t k = 0; k < all->storm_count; k++) {
        heads[1 + k] =
            (struct draw_column){46.0, DRAW_END, documents_storm_name(sheet, &all->storms[k])};
    }
    for (size_t i = 0; i < all->layout.reach_count; i++) {
        cells[i * columns] = documents_cell(all->layout.reaches[i].name);
        for (size_t k = 0; k < all->storm_count; k++) {
            cells[i * columns + 1 + k] =
                documents_cell(over_words(sheet, &all->storms[k].reaches[i]));
        }
    }
    documents_table(sheet, (struct draw_table){.columns = heads,
                                               .cells = cells,
                                               .column_count = columns,
                                               .row_count = all->layout.reach_count});
}

static void add_storm(struct documents_sheet *sheet, struct base_builder *text,
                      const struct storm *storm) {
    base_add_text(text, years_words(sheet, storm->period_years, " years, at most "));
    base_add_text(text,
                  units_write_rain(sheet->arena, sheet->solution->shop.style, storm->hardest_mps));
}

/* The storms of the table, which stand first. */
static void say_table_storms(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    const struct storm *first = &all->storms[0];
    struct base_builder text = {.arena = sheet->arena};
    if (first->kind != STORM_OF_TABLE) {
        return;
    }
    base_add_string(&text, "From the rain table, storms that last ");
    base_add_text(&text, time_words(sheet, first->duration_s));
    base_add_string(&text, first->second == RAIN_SIDE_LEFT
                               ? ", hardest in the middle, second hardest before it: "
                               : ", hardest in the middle, second hardest after it: ");
    for (size_t i = 0; i < all->storm_count && all->storms[i].kind == STORM_OF_TABLE; i++) {
        base_add_string(&text, i == 0 ? "" : "; ");
        add_storm(sheet, &text, &all->storms[i]);
    }
    base_add_string(&text, ".");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

static void add_rarity(struct documents_sheet *sheet, struct base_builder *text,
                       const struct hydraulics_years *rarity) {
    switch (rarity->table) {
    case HYDRAULICS_TABLE_HOLDS:
        base_add_string(text, ", by the rain table ");
        break;
    case HYDRAULICS_TABLE_TOO_RARE:
        base_add_string(text, ", by the rain table oftener than ");
        break;
    case HYDRAULICS_TABLE_TOO_SHORT:
        base_add_string(text, ", by the rain table rarer than ");
        break;
    case HYDRAULICS_TABLE_EMPTY:
        return;
    }
    bool is_year = rarity->years < 1.05 && rarity->years > 0.95;
    double years = rarity->years < 10.0 ? rarity->years : floor(rarity->years + 0.5);
    base_add_text(text, years_words(sheet, years, is_year ? " year" : " years"));
}

static void say_record_storm(struct documents_sheet *sheet, const struct storm *storm) {
    struct units_style style = sheet->solution->shop.style;
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "From the gauge's record: ");
    if (storm->recorded > 1) {
        base_add_string(&text, "the hardest of its ");
        base_add_integer(&text, (int64_t)storm->recorded);
        base_add_string(&text, " storms");
    } else {
        base_add_string(&text, "its storm");
    }
    base_add_string(&text, storm->cut ? ", of which the 48 hours about its hardest rain are taken, "
                                        "from "
                                      : ", from ");
    base_add_text(&text, storm->began);
    base_add_string(&text, ", ");
    base_add_text(&text, time_words(sheet, storm->duration_s));
    base_add_string(&text,
                    storm->window_s == 3600.0 ? ". Its hardest hour had " : ". Its hardest ");
    if (storm->window_s != 3600.0) {
        base_add_text(&text, time_words(sheet, storm->window_s));
        base_add_string(&text, " had ");
    }
    base_add_text(&text, units_write_rain(sheet->arena, style, storm->window_mps));
    add_rarity(sheet, &text, &storm->rarity);
    base_add_string(&text, ".");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

static void say_how(struct documents_sheet *sheet) {
    double climate_1 = sheet->solution->storms[0].climate_1;
    struct base_builder text = {.arena = sheet->arena};
    if (climate_1 > 0.0) {
        base_add_string(&text, "For the climate ");
        base_add_text(&text, units_write_decimal_short(sheet->arena, climate_1 * 100.0, 1));
        base_add_string(&text, " % is added to all rain of these storms, as the job says. ");
    } else {
        base_add_string(&text, "Nothing is added for the climate. ");
    }
    base_add_string(&text, "Each minute is taken as lasting, which is right or on the safe side; "
                           "what goes over falls to the ground.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

/* "0.27 in", "6.0 mm". */
static struct base_text depth_words(struct documents_sheet *sheet, double depth_m) {
    const bool metric = sheet->solution->shop.style.system == UNITS_MM;
    return documents_join(
        sheet, "",
        units_write_decimal(sheet->arena, depth_m / (metric ? 0.001 : 0.0254), metric ? 1 : 2),
        metric ? " mm" : " in");
}

/* What each storm brings it, in the order of the table. */
static void add_storms_of_barrel(struct documents_sheet *sheet, struct base_builder *text,
                                 size_t outlet) {
    const struct solution *all = sheet->solution;
    for (size_t k = 0; k < all->storm_count; k++) {
        base_add_string(text, k == 0                      ? "; in these storms come "
                              : k + 1 == all->storm_count ? " and "
                                                          : ", ");
        base_add_text(text, volume_words(sheet, all->storms[k].outlets[outlet].kept_m3));
    }
}

void documents_say_barrels(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        const struct layout_outlet *outlet = &all->layout.outlets[i];
        if (!(outlet->barrel_full_m > 0.0)) {
            continue;
        }
        struct base_builder text = {.arena = sheet->arena};
        base_add_string(&text, "A barrel of ");
        base_add_text(&text, volume_words(sheet, all->shop.barrel_m3));
        base_add_string(&text, " at ");
        base_add_text(&text, outlet->name);
        base_add_string(&text, " is full after ");
        base_add_text(&text, depth_words(sheet, outlet->barrel_full_m));
        base_add_string(&text, " of rain");
        add_storms_of_barrel(sheet, &text, i);
        base_add_string(&text, ". Give it an overflow as large as its downspout, away from the "
                               "wall.");
        documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
    }
}

/* Nothing without rain table and record. */
void documents_draw_storms(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    if (all->storm_count == 0) {
        return;
    }
    documents_keep_rows(sheet, all->layout.reach_count);
    documents_heading(sheet, "In a storm");
    say_table_storms(sheet);
    if (all->storms[all->storm_count - 1].kind == STORM_OF_RECORD) {
        say_record_storm(sheet, &all->storms[all->storm_count - 1]);
    }
    say_how(sheet);
    over_table(sheet);
    documents_draw_strips(sheet);
}
