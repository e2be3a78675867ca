/* SPDX-License-Identifier: Apache-2.0 */
/*
 * money: lines that add up, in integer minor units.
 *
 * Walk      before: pieces, tariff. after: documents.
 * Rule      like pieces of one size are one line; quantity x price is rounded once a line, halves
 * up; the total is the sum of the lines; tax and deposit are rounded once each.
 */
#ifndef EAVESMITH_MONEY_H
#define EAVESMITH_MONEY_H

#include "base/base.h"
#include "pieces/pieces.h"
#include "tariff/tariff.h"

struct money_line {
    struct base_text key; /* price list key: "gutter 5 in" */
    enum tariff_per per;
    int64_t count;       /* pieces */
    int64_t length_tick; /* ft, m */
    double mass_kg;      /* lb, kg */
    int64_t unmeasured;  /* pieces cut on site to a length nobody said */
    int64_t unit_minor;
    int64_t amount_minor;
};

struct money {
    bool priced; /* false: no price list, or a price is missing: no total is given */
    struct money_line *lines;
    size_t count;
    int64_t sum_minor;
    int64_t tax_minor;
    int64_t total_minor;
    int64_t deposit_minor;
    int64_t per_foot_minor; /* total over the eaves' length (ft-in job: per ft; metric: per m); 0 =
                               no eaves */
};

struct money_input {
    const struct shop *shop;
    const struct layout *layout;
    const struct roof *roof;
    const struct pieces *pieces;
    const struct tariff *tariff; /* NULL = no price list */
};

enum base_status money_sum(struct base_arena *arena, struct base_issues *issues,
                           struct base_trace *trace, const struct money_input *input,
                           struct money *money);

#endif
