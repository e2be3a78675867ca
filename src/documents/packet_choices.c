/* SPDX-License-Identifier: Apache-2.0 */
/* The water page: where sources disagree, which choice decides and what the others would give. */
#include "documents/packet_inside.h"

enum { CHOICE_COLUMNS = 4 };

static const char *const CHOICE_WORDS[LAYOUT_CHOICES] = {
    "which rain",      "which area: water of the reach", "downspout passes",
    "outlet's weir",   "outlet, strained or open",       "fall: gutter carries",
    "what mitres take"};

static struct base_text value_words(struct documents_sheet *sheet, int kind, double value) {
    struct units_style style = sheet->solution->shop.style;
    return kind == LAYOUT_CHOICE_RAIN ? units_write_rain(sheet->arena, style, value)
                                      : units_write_flow(sheet->arena, style, value);
}

/* What the option taken is called: the job's own rain and fall by their figures. */
static struct base_text taken_words(struct documents_sheet *sheet, int kind,
                                    const struct layout_choice *choice) {
    const struct layout *layout = &sheet->solution->layout;
    if (kind == LAYOUT_CHOICE_FALL) {
        const struct layout_reach *reach = &layout->reaches[layout->choices.reach];
        return units_write_slope(sheet->arena, sheet->solution->shop.style, reach->slope_1);
    }
    if (kind != LAYOUT_CHOICE_RAIN) {
        return base_text_of(choice->options[choice->decides].name);
    }
    struct base_builder text = {.arena = sheet->arena};
    base_add_text(&text, units_write_decimal_short(sheet->arena, layout->rain_s / 60.0, 1));
    base_add_string(&text, " min, ");
    base_add_integer(&text, (int64_t)layout->rain_years);
    base_add_string(&text, layout->rain_years == 1.0 ? " year" : " years");
    return base_built(&text);
}

static struct base_text other_words(struct documents_sheet *sheet, int kind,
                                    const struct layout_choice *choice) {
    struct base_builder text = {.arena = sheet->arena};
    for (size_t i = 0; i < choice->count; i++) {
        double apart = choice->options[i].value - choice->options[choice->decides].value;
        double band = 1e-6 * choice->options[choice->decides].value;
        bool is_taken = kind == LAYOUT_CHOICE_RAIN || kind == LAYOUT_CHOICE_FALL;
        if (i == choice->decides || (is_taken && apart < band && apart > -band)) {
            continue; /* the same by another name */
        }
        base_add_string(&text, text.length == 0 ? "" : "; ");
        base_add_string(&text, choice->options[i].name);
        base_add_char(&text, ' ');
        base_add_text(&text, value_words(sheet, kind, choice->options[i].value));
    }
    return choice->count > 1 ? base_built(&text) : base_text_of("no rain table: cannot be told");
}

void documents_draw_choices(struct documents_sheet *sheet) {
    const struct layout *layout = &sheet->solution->layout;
    const struct draw_column columns[CHOICE_COLUMNS] = {
        {48.0, DRAW_START, base_text_of("where sources disagree")},
        {26.0, DRAW_START, base_text_of("taken")},
        {22.0, DRAW_END, base_text_of("gives")},
        {0.0, DRAW_START, base_text_of("the other choices would give")}};
    struct draw_cell *cells =
        base_take(sheet->arena, (size_t)LAYOUT_CHOICES * CHOICE_COLUMNS, sizeof *cells);
    if (cells == NULL || layout->choices.items[LAYOUT_CHOICE_RAIN].count == 0) {
        return;
    }
    size_t rows = 0;
    for (int i = 0; i < LAYOUT_CHOICES; i++) {
        const struct layout_choice *choice = &layout->choices.items[i];
        if (choice->count == 0) {
            continue;
        }
        struct draw_cell *row = &cells[rows++ * CHOICE_COLUMNS];
        row[0] = documents_cell(base_text_of(CHOICE_WORDS[i]));
        row[1] = documents_cell(taken_words(sheet, i, choice));
        row[2] = documents_cell(value_words(sheet, i, choice->options[choice->decides].value));
        row[3] = documents_cell(other_words(sheet, i, choice));
    }
    if (sheet->y_mm + 80.0 > documents_bottom(sheet)) { /* the table stays with its words */
        documents_new_page(sheet, sheet->title.bytes);
    }
    documents_heading(sheet, "Which choice decides");
    documents_paragraph(
        sheet,
        documents_join(sheet, "For the reach with the most water, ",
                       layout->reaches[layout->choices.reach].name,
                       ". Each is a setting of the job but the weir and the mitres."),
        DRAW_REGULAR);
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = CHOICE_COLUMNS,
                                               .row_count = rows});
}
