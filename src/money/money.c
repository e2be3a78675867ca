/* SPDX-License-Identifier: Apache-2.0 */
#include "money/money.h"

#include "numeric/numeric.h"
#include "units/units.h"

struct money_walk {
    struct base_arena *arena;
    struct base_issues *issues;
    const struct money_input *input;
    struct money *money;
    size_t capacity;
};

/* "gutter 5 in": kind and size; both hands of a part have one price. */
static struct base_text key_of(struct base_arena *arena, const struct pieces_piece *piece) {
    struct base_builder key = {.arena = arena};
    base_add_string(&key, pieces_kind_word(piece->kind));
    if (piece->size.length > 0) {
        base_add_char(&key, ' ');
        base_add_text(&key, piece->size);
    }
    return base_built(&key);
}

static struct money_line *find_line(struct money *money, struct base_text key) {
    for (size_t i = 0; i < money->count; i++) {
        if (base_text_equal(money->lines[i].key, key)) {
            return &money->lines[i];
        }
    }
    return NULL;
}

static struct money_line *add_line(struct money_walk *walk, struct base_text key) {
    struct money *money = walk->money;
    struct money_line *lines =
        base_grow(walk->arena, money->lines, &walk->capacity, money->count, sizeof *lines);
    if (lines == NULL) {
        return NULL;
    }
    money->lines = lines;
    lines[money->count] = (struct money_line){.key = key};
    return &lines[money->count++];
}

static void gather(struct money_walk *walk, const struct pieces_piece *piece) {
    struct base_text key = key_of(walk->arena, piece);
    struct money_line *line = find_line(walk->money, key);
    if (line == NULL) {
        line = add_line(walk, key);
    }
    if (line != NULL) {
        line->count += piece->count;
        line->length_tick += piece->length_tick * piece->count;
        line->mass_kg += piece->mass_kg;
        line->unmeasured += piece->cut_on_site ? piece->count : 0;
    }
}

static bool has_quantity(const struct money_line *line, enum tariff_per per) {
    switch (per) {
    case TARIFF_PER_PIECE:
        return true;
    case TARIFF_PER_FT:
    case TARIFF_PER_M:
        return line->length_tick > 0;
    case TARIFF_PER_LB:
    case TARIFF_PER_KG:
        return line->mass_kg > 0.0;
    }
    return false;
}

/* A price by the length, and pieces whose length is not known: any sum would be too small. */
static bool misses_length(const struct money_line *line, enum tariff_per per) {
    bool by_length = per == TARIFF_PER_FT || per == TARIFF_PER_M;
    return by_length && line->unmeasured > 0;
}

static void price_line(struct money_walk *walk, struct money_line *line) {
    const struct tariff_price *price = tariff_find(walk->input->tariff, line->key);
    if (price != NULL && misses_length(line, price->per)) {
        walk->money->priced = false;
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_PRICE_NOT_MEASURED,
                                           .mark = price->mark,
                                           .object = line->key,
                                           .value = base_value_count(line->unmeasured)});
        return;
    }
    if (price == NULL || !has_quantity(line, price->per)) {
        walk->money->priced = false;
        base_add_issue(
            walk->issues,
            (struct base_issue){.code = price == NULL ? BASE_ISSUE_PRICE_MISSING
                                                      : BASE_ISSUE_PRICE_BY_WRONG_UNIT,
                                .mark = price == NULL ? (struct base_mark){0} : price->mark,
                                .object = line->key});
        return;
    }
    line->per = price->per;
    line->unit_minor = price->price_minor;
    switch (price->per) {
    case TARIFF_PER_PIECE:
        line->amount_minor = tariff_price_count(price, line->count);
        break;
    case TARIFF_PER_FT:
    case TARIFF_PER_M:
        line->amount_minor = tariff_price_length(price, line->length_tick);
        break;
    case TARIFF_PER_LB:
    case TARIFF_PER_KG:
        line->amount_minor = tariff_price_mass(price, line->mass_kg);
        break;
    }
}

/* A share of an amount, to a millionth, rounded once. */
static int64_t share_of(int64_t amount_minor, double share_1) {
    int64_t millionths = numeric_round_quantum(share_1, 1e-6);
    return numeric_multiply_divide(amount_minor, millionths, 1000000);
}

static int64_t eaves_length(const struct roof *roof) {
    int64_t length_tick = 0;
    for (size_t i = 0; roof != NULL && i < roof->eave_count; i++) {
        length_tick += roof->eaves[i].length_tick;
    }
    return length_tick;
}

static void add_up(struct money_walk *walk) {
    struct money *money = walk->money;
    const struct tariff *tariff = walk->input->tariff;
    for (size_t i = 0; i < money->count; i++) {
        money->sum_minor += money->lines[i].amount_minor;
    }
    money->tax_minor = tariff->has_tax ? share_of(money->sum_minor, tariff->tax_1) : 0;
    money->total_minor = money->sum_minor + money->tax_minor;
    money->deposit_minor = share_of(money->total_minor, tariff->deposit_1);
    int64_t eaves_tick = eaves_length(walk->input->roof);
    bool feet = walk->input->shop->style.system == UNITS_FT_IN;
    if (eaves_tick > 0) {
        money->per_foot_minor = numeric_multiply_divide(
            money->total_minor, feet ? UNITS_TICK_PER_FOOT : UNITS_TICK_PER_M, eaves_tick);
    }
}

static const char *quantity_formula(enum tariff_per per) {
    switch (per) {
    case TARIFF_PER_PIECE:
        return "pieces x price";
    case TARIFF_PER_FT:
        return "feet x price, rounded once, halves up";
    case TARIFF_PER_M:
        return "metres x price, rounded once, halves up";
    case TARIFF_PER_LB:
        return "pounds (to the gram) x price, rounded once, halves up";
    case TARIFF_PER_KG:
        return "kilograms (to the gram) x price, rounded once, halves up";
    }
    return "";
}

static void explain(const struct money_walk *walk, struct base_trace *trace) {
    if (trace == NULL) {
        return;
    }
    const struct money *money = walk->money;
    for (size_t i = 0; i < money->count; i++) {
        const struct money_line *line = &money->lines[i];
        struct base_text path[] = {base_text_of("money/lines/"), line->key};
        base_trace_scope(trace, base_join(walk->arena, 2, path));
        base_trace_leaf(trace, "amount_minor");
        base_trace_formula(trace, quantity_formula(line->per), "price list");
        base_trace_input(trace, "pieces", base_value_count(line->count));
        if (line->length_tick > 0) {
            base_trace_input(trace, "length", base_value_tick(line->length_tick));
        }
        base_trace_input(trace, "unit price", base_value_minor(line->unit_minor));
    }
    base_trace_scope(trace, base_text_of("money"));
    base_trace_leaf(trace, "total_minor");
    base_trace_formula(trace, "sum of the lines + tax", "integer minor units");
    base_trace_input(trace, "sum of the lines", base_value_minor(money->sum_minor));
    base_trace_input(trace, "tax", base_value_minor(money->tax_minor));
    base_trace_leaf(trace, "deposit_minor");
    base_trace_formula(trace, "share of the total, rounded once, halves up", "price list");
    base_trace_input(trace, "total", base_value_minor(money->total_minor));
    base_trace_input(trace, "share",
                     base_value_number(BASE_UNIT_RATIO, walk->input->tariff->deposit_1));
    if (money->per_foot_minor == 0) {
        return; /* an order without eaves */
    }
    base_trace_leaf(trace, "per_foot_minor");
    base_trace_formula(trace,
                       "total / length of all eaves (per foot, or per metre in a metric job)",
                       "arithmetic");
    base_trace_input(trace, "length of the eaves",
                     base_value_tick(eaves_length(walk->input->roof)));
}

enum base_status money_sum(struct base_arena *arena, struct base_issues *issues,
                           struct base_trace *trace, const struct money_input *input,
                           struct money *money) {
    *money = (struct money){0};
    struct money_walk walk = {.arena = arena, .issues = issues, .input = input, .money = money};
    for (int kind = 0; kind < PIECES_KIND_COUNT; kind++) { /* a quote reads by kind of part */
        for (size_t i = 0; i < input->pieces->count; i++) {
            if ((int)input->pieces->items[i].kind == kind) {
                gather(&walk, &input->pieces->items[i]);
            }
        }
    }
    if (input->tariff == NULL) {
        base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_NO_PRICE_LIST});
        return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
    }
    money->priced = true;
    for (size_t i = 0; i < money->count; i++) {
        price_line(&walk, &money->lines[i]);
    }
    if (money->priced) {
        add_up(&walk);
        explain(&walk, trace);
    }
    return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
}
