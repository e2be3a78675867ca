/* SPDX-License-Identifier: Apache-2.0 */
#include "tariff/tariff.h"

#include "numeric/numeric.h"
#include "units/units.h"

static struct base_issue issue_at(enum base_issue_code code, const struct tree_node *node) {
    return (struct base_issue){.code = code,
                               .mark = node->mark,
                               .object = node->key,
                               .value = base_value_text(node->text)};
}

/* The text of a scalar entry; empty with an issue when it is a map or a list. */
static bool read_scalar(struct base_issues *issues, const struct tree_node *node) {
    if (node->kind == TREE_SCALAR) {
        return true;
    }
    base_add_issue(issues, issue_at(BASE_ISSUE_PRICE_NOT_TEXT, node));
    return false;
}

static void read_per(struct base_issues *issues, const struct tree_node *node,
                     struct base_text word, enum tariff_per *per) {
    static const struct {
        const char *word;
        enum tariff_per per;
    } words[] = {{"piece", TARIFF_PER_PIECE}, {"each", TARIFF_PER_PIECE}, {"ft", TARIFF_PER_FT},
                 {"m", TARIFF_PER_M},         {"lb", TARIFF_PER_LB},      {"kg", TARIFF_PER_KG}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (base_text_is(word, words[i].word)) {
            *per = words[i].per;
            return;
        }
    }
    base_add_issue(issues, issue_at(BASE_ISSUE_PRICE_UNIT_UNKNOWN, node));
}

/* "19.80 per ft" -> the amount before " per ", the word behind it. */
static size_t find_per(struct base_text text) {
    for (size_t i = 0; i + 5 <= text.length; i++) {
        struct base_text rest = {text.bytes + i, text.length - i};
        if (base_text_starts(rest, " per ")) {
            return i;
        }
    }
    return text.length;
}

static void read_price(struct base_issues *issues, const struct tree_node *node, int minor_digits,
                       struct tariff_price *price) {
    *price = (struct tariff_price){.key = node->key, .mark = node->mark};
    if (!read_scalar(issues, node)) {
        return;
    }
    size_t split = find_per(node->text);
    struct base_text amount = {node->text.bytes, split};
    if (split < node->text.length) {
        struct base_text word = {node->text.bytes + split + 5, node->text.length - split - 5};
        read_per(issues, node, word, &price->per);
    }
    struct units_integer_reading reading = units_read_money(amount, minor_digits);
    if (reading.fault != UNITS_FINE) {
        base_add_issue(issues, issue_at(BASE_ISSUE_PRICE_NOT_MONEY, node));
        return;
    }
    price->price_minor = reading.value;
}

static void read_prices(struct base_arena *arena, struct base_issues *issues,
                        const struct tree_node *map, struct tariff *tariff) {
    if (map->kind != TREE_MAP) {
        base_add_issue(issues, issue_at(BASE_ISSUE_PRICES_NOT_A_MAP, map));
        return;
    }
    tariff->prices = base_take(arena, map->count, sizeof *tariff->prices);
    if (tariff->prices == NULL) {
        return;
    }
    for (const struct tree_node *node = map->first; node != NULL; node = node->next) {
        read_price(issues, node, tariff->minor_digits, &tariff->prices[tariff->count++]);
    }
}

static void read_ratio(struct base_issues *issues, const struct tree_node *node, double *value_1) {
    if (!read_scalar(issues, node)) {
        return;
    }
    struct units_reading reading = units_read_ratio(node->text);
    if (reading.fault != UNITS_FINE || reading.value > 1.0) {
        base_add_issue(issues, issue_at(BASE_ISSUE_PRICE_NOT_A_SHARE, node));
        return;
    }
    *value_1 = reading.value;
}

static void read_whole(struct base_issues *issues, const struct tree_node *node, int64_t most,
                       int64_t *value) {
    if (!read_scalar(issues, node)) {
        return;
    }
    struct base_text number = node->text;
    static const char days[] = " days";
    if (number.length > sizeof days - 1 &&
        base_text_is(
            (struct base_text){number.bytes + number.length - (sizeof days - 1), sizeof days - 1},
            days)) {
        number.length -= sizeof days - 1;
    }
    struct units_integer_reading reading = units_read_count(number);
    if (reading.fault != UNITS_FINE || reading.value > most) {
        base_add_issue(issues, issue_at(BASE_ISSUE_PRICE_NOT_WHOLE, node));
        return;
    }
    *value = reading.value;
}

static void read_entry(struct base_arena *arena, struct base_issues *issues,
                       const struct tree_node *node, struct tariff *tariff) {
    int64_t digits = tariff->minor_digits;
    if (base_text_is(node->key, "eavesmith prices")) {
        if (!base_text_is(node->text, "1")) {
            base_add_issue(issues, issue_at(BASE_ISSUE_PRICES_VERSION, node));
        }
    } else if (base_text_is(node->key, "name")) {
        tariff->name = read_scalar(issues, node) ? node->text : tariff->name;
    } else if (base_text_is(node->key, "currency")) {
        tariff->currency = read_scalar(issues, node) ? node->text : tariff->currency;
    } else if (base_text_is(node->key, "minor digits")) {
        read_whole(issues, node, 3, &digits);
        tariff->minor_digits = (int)digits;
    } else if (base_text_is(node->key, "valid")) {
        read_whole(issues, node, 3650, &tariff->valid_days);
    } else if (base_text_is(node->key, "deposit")) {
        read_ratio(issues, node, &tariff->deposit_1);
    } else if (base_text_is(node->key, "tax")) {
        read_ratio(issues, node, &tariff->tax_1);
        tariff->has_tax = true;
    } else if (base_text_is(node->key, "prices")) {
        read_prices(arena, issues, node, tariff);
    } else {
        base_add_issue(issues, issue_at(BASE_ISSUE_PRICES_KEY_UNKNOWN, node));
    }
}

static void check_whole(struct base_issues *issues, const struct tree_node *root,
                        const struct tariff *tariff) {
    static const char *const needed[] = {"eavesmith prices", "currency", "prices"};
    for (size_t i = 0; i < sizeof needed / sizeof needed[0]; i++) {
        if (tree_find(root, needed[i]) == NULL) {
            base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_PRICES_KEY_MISSING,
                                                       .mark = root->mark,
                                                       .object = base_text_of(needed[i])});
        }
    }
    for (size_t i = 0; i < tariff->count; i++) {
        if (tariff->prices[i].price_minor > INT64_C(100000000000)) {
            base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_PRICE_NOT_MONEY,
                                                       .mark = tariff->prices[i].mark,
                                                       .object = tariff->prices[i].key});
        }
    }
}

enum base_status tariff_read(struct base_arena *arena, struct base_issues *issues,
                             const struct tree_node *root, struct tariff *tariff) {
    size_t stops = base_count_severity(issues, BASE_SEVERITY_STOP);
    *tariff = (struct tariff){.minor_digits = 2, .valid_days = 30, .deposit_1 = 0.5};
    if (root == NULL || root->kind != TREE_MAP) {
        base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_PRICES_NOT_A_MAP,
                                                   .mark = {.document = BASE_DOCUMENT_PRICES}});
        return BASE_STOPPED;
    }
    const struct tree_node *digits = tree_find(root, "minor digits");
    if (digits != NULL) { /* needed before the amounts are read, wherever it stands */
        int64_t value = tariff->minor_digits;
        struct base_issues quiet = {.arena = arena};
        read_whole(&quiet, digits, 3, &value);
        tariff->minor_digits = (int)value;
    }
    for (const struct tree_node *node = root->first; node != NULL; node = node->next) {
        read_entry(arena, issues, node, tariff);
    }
    check_whole(issues, root, tariff);
    if (base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    return base_count_severity(issues, BASE_SEVERITY_STOP) > stops ? BASE_STOPPED : BASE_OK;
}

const struct tariff_price *tariff_find(const struct tariff *tariff, struct base_text key) {
    for (size_t i = 0; i < tariff->count; i++) {
        if (base_text_equal(tariff->prices[i].key, key)) {
            return &tariff->prices[i];
        }
    }
    return NULL;
}

int64_t tariff_price_length(const struct tariff_price *price, int64_t length_tick) {
    int64_t unit_tick = price->per == TARIFF_PER_M ? UNITS_TICK_PER_M : UNITS_TICK_PER_FOOT;
    return numeric_multiply_divide(price->price_minor, length_tick, unit_tick);
}

int64_t tariff_price_mass(const struct tariff_price *price, double mass_kg) {
    int64_t gram = numeric_round_quantum(mass_kg, 1e-3);
    if (price->per == TARIFF_PER_KG) {
        return numeric_multiply_divide(price->price_minor, gram, 1000);
    }
    /* 1 lb = 453.59237 g exactly */
    return numeric_multiply_divide(price->price_minor, gram * 100000, 45359237);
}

int64_t tariff_price_count(const struct tariff_price *price, int64_t count) {
    return price->price_minor * count;
}
