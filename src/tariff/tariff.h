/* SPDX-License-Identifier: Apache-2.0 */
/*
 * tariff: the price list. Every unit price the quote uses comes from here; nothing has a built-in
 * price.
 *
 * Walk      before: tree, units, shop. after: job (names it), money (asks it).
 * Units     money in minor units (int64); a price is per foot, per metre, per piece, per pound, per
 * kilogram or per job.
 *
 * The file:
 *   eavesmith prices: 1
 *   name: Autumn list
 *   currency: USD          # minor digits: 2 when not said
 *   valid: 21 days
 *   deposit: 40 %
 *   tax: 0 %               # on everything; left out = none, and the quote says "tax not included"
 *   prices:
 *     gutter 5 in: 19.80 per ft
 *     end cap 5 in: 14.50            # per piece when nothing is said
 */
#ifndef EAVESMITH_TARIFF_H
#define EAVESMITH_TARIFF_H

#include "base/base.h"
#include "tree/tree.h"

enum tariff_per { TARIFF_PER_PIECE = 0, TARIFF_PER_FT, TARIFF_PER_M, TARIFF_PER_LB, TARIFF_PER_KG };

struct tariff_price {
    struct base_text key; /* "gutter 5 in" */
    enum tariff_per per;
    int64_t price_minor;
    struct base_mark mark;
};

struct tariff {
    struct base_text name;
    struct base_text currency;
    int minor_digits;
    int64_t valid_days;
    double deposit_1;
    bool has_tax;
    double tax_1;
    struct tariff_price *prices; /* [count], as written */
    size_t count;
};

/* Reads the price list; every fault in one go. BASE_STOPPED when there is any. */
enum base_status tariff_read(struct base_arena *arena, struct base_issues *issues,
                             const struct tree_node *root, struct tariff *tariff);

/* The price with that key; NULL when the list has none. */
const struct tariff_price *tariff_find(const struct tariff *tariff, struct base_text key);

/*
 * The price of a quantity, rounded once, halves up. length_tick for ft and m, mass_kg for lb and
 * kg, count for pieces. Mass is rounded to the gram before it is priced.
 */
int64_t tariff_price_length(const struct tariff_price *price, int64_t length_tick);
int64_t tariff_price_mass(const struct tariff_price *price, double mass_kg);
int64_t tariff_price_count(const struct tariff_price *price, int64_t count);

#endif
