/* SPDX-License-Identifier: Apache-2.0 */
/*
 * cut: which piece comes out of which bar, and how few bars do.
 *
 * Walk      before: pattern. after: money, documents.
 * A bar is a length as it is bought: a strip of the gutter's girth, a pipe. Pieces go on it one
 * behind the other; what the shear or saw takes between them is the loss.
 */
#ifndef EAVESMITH_CUT_H
#define EAVESMITH_CUT_H

#include "base/base.h"
#include "pattern/pattern.h"
#include "pieces/pieces.h"
#include "shop/shop.h"

/* ---- packing --------------------------------------------------------------------------------- */

struct cut_order {
    const int64_t *lengths_tick; /* [count], each no longer than a bar */
    size_t count;
    int64_t bar_tick;
    int64_t loss_tick; /* at each cut */
};
struct cut_packing {
    size_t *bar_of; /* [count]: which bar each comes from, from 0 */
    size_t bars;
    size_t bound;  /* no plan has fewer */
    bool proved;   /* bars == bound, or all else was looked through */
    size_t looked; /* counted work: places tried */
};
/*
 * The fewest bars: best fit, then the fullest bars one by one, then a search bar by bar in which a
 * bar is closed only when nothing left fits it; stopped after a set number of places. Bound:
 * Martello and Toth's L2 (SRC-163). False = no memory.
 */
bool cut_pack(struct base_arena *arena, const struct cut_order *order, struct cut_packing *packing);

/* ---- of a job ----------------------------------------------------------------------------------
 */

enum cut_stock { CUT_STRIP = 0, CUT_PIPE };
struct cut_part {
    size_t piece; /* in pieces->items */
    int64_t length_tick;
    int64_t leg; /* of a mitre: 1 or 2; 0 = a whole piece */
};
struct cut_bar {
    size_t first; /* in parts of the plan, longest first */
    size_t count;
    int64_t used_tick;
};
/* All of one size and sheet. */
struct cut_plan {
    enum cut_stock stock;
    struct base_text size;
    const char *sheet;
    int64_t wide_tick; /* of the strip; 0 for a pipe */
    int64_t bar_tick;
    struct cut_part *parts; /* in the order of the bars */
    size_t part_count;
    struct cut_bar *bars;
    size_t bar_count;
    size_t bound;
    bool proved;
    size_t too_long; /* parts longer than a bar: a longer one must be bought for each */
};
struct cut {
    struct cut_plan *plans; /* [count] strips by size, then pipes */
    size_t count;
};
struct cut_input {
    const struct shop *shop;
    const struct pieces *pieces;
    const struct patterns *patterns;
};
enum base_status cut_find(struct base_arena *arena, const struct cut_input *input, struct cut *cut);

#endif
