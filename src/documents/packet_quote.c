/* SPDX-License-Identifier: Apache-2.0 */
/* The quote: what is offered, on which assumptions, for how much. */
#include <string.h>

#include "documents/packet_inside.h"

static struct base_text money(struct documents_sheet *sheet, int64_t minor) {
    const struct tariff *tariff = &sheet->solution->tariff;
    return units_write_money(sheet->arena, tariff->currency, minor, tariff->minor_digits);
}

static struct base_text quantity(struct documents_sheet *sheet, const struct money_line *line) {
    struct units_style style = sheet->solution->shop.style;
    switch (line->per) {
    case TARIFF_PER_PIECE: {
        struct base_builder count = {.arena = sheet->arena};
        base_add_integer(&count, line->count);
        return base_built(&count);
    }
    case TARIFF_PER_FT:
    case TARIFF_PER_M:
        return units_write_length(sheet->arena, style, line->length_tick);
    case TARIFF_PER_LB:
    case TARIFF_PER_KG:
        return units_write_mass(sheet->arena, style, line->mass_kg);
    }
    return (struct base_text){0};
}

static const char *per_word(enum tariff_per per) {
    static const char *const words[] = {" each", " per ft", " per m", " per lb", " per kg"};
    return words[per];
}

static void sum_row(struct documents_sheet *sheet, struct draw_cell *row, const char *words,
                    int64_t minor) {
    row[0] = documents_cell(base_text_of(words));
    row[1] = documents_cell(base_text_of(""));
    row[2] = row[1];
    row[3] = documents_cell(money(sheet, minor));
}

static void price_row(struct documents_sheet *sheet, const struct money_line *line,
                      struct draw_cell *row) {
    row[0] = documents_cell(line->key);
    row[1] = (struct draw_cell){.label = draw_length_of(quantity(sheet, line))};
    row[2] = documents_cell(
        documents_join(sheet, "", money(sheet, line->unit_minor), per_word(line->per)));
    row[3] = documents_cell(money(sheet, line->amount_minor));
}

static void price_table(struct documents_sheet *sheet) {
    const struct money *all = &sheet->solution->money;
    const struct draw_column columns[] = {{0.0, DRAW_START, base_text_of("item")},
                                          {38.0, DRAW_END, base_text_of("quantity")},
                                          {40.0, DRAW_END, base_text_of("price")},
                                          {36.0, DRAW_END, base_text_of("amount")}};
    size_t sums = sheet->solution->tariff.has_tax ? 4 : 2;
    struct draw_cell *cells = base_take(sheet->arena, (all->count + sums) * 4, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t i = 0; i < all->count; i++) {
        price_row(sheet, &all->lines[i], &cells[4 * i]);
    }
    struct draw_cell *row = &cells[4 * all->count];
    if (sums == 4) {
        sum_row(sheet, row, "Sum", all->sum_minor);
        sum_row(sheet, row + 4, "Tax", all->tax_minor);
        row += 8;
    }
    sum_row(sheet, row, sums == 4 ? "Total" : "Total, tax not included", all->total_minor);
    sum_row(sheet, row + 4, "Deposit with the order", all->deposit_minor);
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .size_mm = 3.1,
                                               .column_count = 4,
                                               .row_count = all->count + sums,
                                               .total_rows = sums});
}

/* "{object}: the bracket ..." can be said of several at once; "{object}: its ..." cannot. */
static bool is_said_of_many(enum base_issue_code code) {
    struct base_text pattern = base_text_of(base_issue_pattern(code));
    const char *mend = base_issue_mend(code);
    return base_text_starts(pattern, "{object}: ") && strstr(pattern.bytes, " its ") == NULL &&
           strstr(pattern.bytes, "{object}: its") == NULL && strstr(mend, "{object}") == NULL &&
           strstr(mend, " its ") == NULL;
}

static bool same_value(const struct base_value *one, const struct base_value *other) {
    return one->unit == other->unit && one->integer == other->integer &&
           !(one->number < other->number) && !(one->number > other->number) &&
           base_text_equal(one->text, other->text);
}

static bool same_but_object(const struct base_issue *one, const struct base_issue *other) {
    return one->code == other->code && is_said_of_many(one->code) &&
           same_value(&one->value, &other->value) && same_value(&one->limit, &other->limit) &&
           same_value(&one->other, &other->other);
}

/* "front, lane and yard": the first issue of its sort names all of them; empty for a later one. */
static struct base_text objects_of(struct documents_sheet *sheet, size_t index) {
    const struct base_issues *issues = sheet->issues;
    struct base_builder list = {.arena = sheet->arena};
    for (size_t i = 0; i < index; i++) {
        if (same_but_object(&issues->items[i], &issues->items[index])) {
            return (struct base_text){0};
        }
    }
    size_t left = 0;
    for (size_t i = index + 1; i < issues->count; i++) {
        left += same_but_object(&issues->items[index], &issues->items[i]);
    }
    base_add_text(&list, issues->items[index].object);
    for (size_t i = index + 1; i < issues->count; i++) {
        if (same_but_object(&issues->items[index], &issues->items[i])) {
            base_add_string(&list, --left > 0 ? ", " : " and ");
            base_add_text(&list, issues->items[i].object);
        }
    }
    return base_built(&list);
}

static void say_issue(struct documents_sheet *sheet, const struct base_issue *issue) {
    struct units_style style = sheet->solution->shop.style;
    bool assumed = base_issue_severity(issue->code) == BASE_SEVERITY_ASSUMED;
    struct base_text sentence = documents_write_issue(sheet->arena, style, issue);
    struct base_text mend = documents_write_mend(sheet->arena, style, issue);
    /* what is assumed can be settled by saying it; anything else is to be done */
    const char *before = assumed ? " (" : ". To do: ";
    const char *after = assumed ? ")." : ".";
    struct base_text parts[] = {base_text_of("\xe2\x80\x93 "), sentence,
                                base_text_of(mend.length > 0 ? before : ""), mend,
                                base_text_of(mend.length > 0 ? after : ".")};
    documents_paragraph(sheet, base_join(sheet->arena, 5, parts), DRAW_REGULAR);
}

static void list_severity(struct documents_sheet *sheet, enum base_severity severity,
                          const char *heading) {
    if (base_count_severity(sheet->issues, severity) == 0) {
        return;
    }
    documents_heading(sheet, heading);
    for (size_t i = 0; i < sheet->issues->count; i++) {
        struct base_issue issue = sheet->issues->items[i];
        if (base_issue_severity(issue.code) != severity) {
            continue;
        }
        bool grouped = is_said_of_many(issue.code);
        issue.object = grouped ? objects_of(sheet, i) : issue.object;
        if (!grouped || issue.object.length > 0) {
            say_issue(sheet, &issue);
        }
    }
}

static void say_to_whom(struct documents_sheet *sheet) {
    const struct job *job = &sheet->solution->job;
    if (job->customer.given) {
        documents_paragraph(sheet, documents_join(sheet, "For ", job->customer.text, ""),
                            DRAW_BOLD);
    }
    if (job->address.given) {
        documents_paragraph(sheet, job->address.text, DRAW_REGULAR);
    }
    if (job->date.given) {
        documents_paragraph(sheet, documents_join(sheet, "Date: ", job->date.text, ""),
                            DRAW_REGULAR);
    }
}

static const char *const BASIS_WORDS[] = {
    "the handbook's level formula on plan area x pitch factor",
    "the US plumbing table on plan area", "EN 12056-3"};

static void say_water(struct documents_sheet *sheet) {
    const struct layout *layout = &sheet->solution->layout;
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "Design rain ");
    base_add_text(&text,
                  units_write_rain(sheet->arena, sheet->solution->shop.style, layout->rain_mps));
    base_add_string(&text, " for ");
    base_add_integer(&text, (int64_t)(layout->rain_s / 60.0 + 0.5));
    base_add_string(&text, " minutes, once in ");
    base_add_integer(&text, (int64_t)layout->rain_years);
    base_add_string(&text, " years. Sized by ");
    base_add_string(&text, BASIS_WORDS[layout->basis]);
    base_add_string(&text, layout->strained ? "; outlets counted with strainers."
                                            : "; outlets counted without strainers.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

/* What is made for each run: size, sheet, length. */
static void say_runs(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "Half-round copper gutters: ");
    for (size_t i = 0; i < all->layout.run_count; i++) {
        const struct layout_run *run = &all->layout.runs[i];
        const struct layout_line *line = &all->layout.lines[run->line];
        base_add_string(&text, i == 0 ? "" : "; ");
        base_add_text(&text, run->name);
        base_add_string(&text, ": ");
        base_add_string(&text, all->shop.profiles[line->profile].name);
        base_add_string(&text, all->job.system == UNITS_MM ? " mm girth, " : ", ");
        base_add_string(&text, line->sheet);
        base_add_string(&text, ", ");
        base_add_text(&text, units_write_length(sheet->arena, all->shop.style, run->length_tick));
    }
    base_add_char(&text, '.');
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

static void say_terms(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "This offer holds for ");
    base_add_integer(&text, all->tariff.valid_days);
    base_add_string(&text, all->tariff.valid_days == 1 ? " day." : " days.");
    if (all->money.per_foot_minor > 0) {
        base_add_string(&text, " It comes to ");
        base_add_text(&text, money(sheet, all->money.per_foot_minor));
        base_add_string(&text, all->job.system == UNITS_FT_IN ? " per foot of eave."
                                                              : " per metre of eave.");
    }
    base_add_string(&text, " Freight, staging and installation are not included.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

static void sign(struct documents_sheet *sheet) {
    if (sheet->page == NULL) {
        return;
    }
    if (sheet->y_mm + 16.0 > documents_bottom(sheet)) {
        documents_new_page(sheet, "Quote");
    }
    double y_mm = sheet->y_mm + 14.0;
    double middle_mm = DOCUMENTS_MARGIN_MM + 110.0;
    draw_add_line(sheet->document, sheet->page, (struct draw_point){DOCUMENTS_MARGIN_MM, y_mm},
                  (struct draw_point){middle_mm - 6.0, y_mm}, 0.2, DRAW_SOLID, DRAW_BLACK);
    draw_add_line(sheet->document, sheet->page, (struct draw_point){middle_mm, y_mm},
                  (struct draw_point){sheet->page->width_mm - DOCUMENTS_MARGIN_MM, y_mm}, 0.2,
                  DRAW_SOLID, DRAW_BLACK);
    draw_add_text(
        sheet->document, sheet->page, (struct draw_point){DOCUMENTS_MARGIN_MM, y_mm + 4.0},
        base_text_of("accepted (name, signature)"), 3.2, DRAW_REGULAR, DRAW_START, DRAW_GREY);
    draw_add_text(sheet->document, sheet->page, (struct draw_point){middle_mm, y_mm + 4.0},
                  base_text_of("date"), 3.2, DRAW_REGULAR, DRAW_START, DRAW_GREY);
    sheet->y_mm = y_mm + 6.0;
}

void documents_draw_quote(struct documents_sheet *sheet) {
    documents_new_page(sheet, "Quote");
    if (sheet->page == NULL) {
        return;
    }
    say_to_whom(sheet);
    if (!sheet->solution->safe) {
        documents_paragraph(sheet, base_text_of("NOT SAFE AS DRAWN"), DRAW_BOLD);
    }
    if (sheet->solution->has_house) {
        say_runs(sheet);
        say_water(sheet);
    } else {
        documents_paragraph(sheet, base_text_of("Water is not checked."), DRAW_BOLD);
    }
    if (sheet->solution->money.priced) {
        price_table(sheet);
        say_terms(sheet);
    } else {
        documents_paragraph(sheet, base_text_of("No total is given: not everything is priced."),
                            DRAW_BOLD);
    }
    list_severity(sheet, BASE_SEVERITY_MUST, "Not safe as drawn");
    list_severity(sheet, BASE_SEVERITY_SHOULD, "Advice");
    list_severity(sheet, BASE_SEVERITY_NOTE, "To know");
    list_severity(sheet, BASE_SEVERITY_ASSUMED, "Assumed, because it was not given");
    sign(sheet);
}
