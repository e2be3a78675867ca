/* SPDX-License-Identifier: Apache-2.0 */
/* The parts of a job by size and sheet, and the bars they come from. */
#include "cut/cut.h"

struct gathering {
    struct base_arena *arena;
    const struct cut_input *input;
    struct cut *cut;
    size_t capacity;
    size_t part_capacity; /* of the plan being filled */
};

/* A plan for more is not for a person to read. */
enum { PARTS_MOST = 2000 };

/* ---- parts -------------------------------------------------------------------------------------
 */

/* A leg's blank is as long as its longest edge, and the lap. */
static int64_t leg_length(const struct cut_input *input, size_t piece, int leg) {
    size_t pattern = input->patterns->mitre_of[piece];
    int64_t longest_tick = input->pieces->items[piece].length_tick;
    const struct pattern_leg *flat =
        pattern == SIZE_MAX ? NULL : &input->patterns->mitres[pattern].found.legs[leg];
    for (size_t i = 0; flat != NULL && i < flat->count; i++) {
        int64_t tick = units_tick_of_m(flat->ordinates[i].length_m);
        longest_tick = tick > longest_tick ? tick : longest_tick;
    }
    int64_t quantum_tick = input->shop->style.round_tick;
    longest_tick += input->shop->lap_tick;
    return (longest_tick + quantum_tick - 1) / quantum_tick * quantum_tick;
}

static void add_part(struct gathering *gathering, struct cut_plan *plan, struct cut_part part) {
    struct cut_part *parts = base_grow(gathering->arena, plan->parts, &gathering->part_capacity,
                                       plan->part_count, sizeof *parts);
    if (parts != NULL) {
        plan->parts = parts;
        parts[plan->part_count++] = part;
    }
}

static bool belongs(const struct cut_plan *plan, const struct pieces_piece *piece) {
    bool is_pipe = piece->kind == PIECES_DOWNSPOUT;
    bool is_strip = piece->kind == PIECES_GUTTER || piece->kind == PIECES_MITRE;
    return (plan->stock == CUT_PIPE ? is_pipe : is_strip) &&
           base_text_equal(plan->size, piece->size) && plan->sheet == piece->sheet;
}

static void gather_parts(struct gathering *gathering, struct cut_plan *plan) {
    const struct pieces *pieces = gathering->input->pieces;
    gathering->part_capacity = 0;
    for (size_t i = 0; i < pieces->count; i++) {
        const struct pieces_piece *piece = &pieces->items[i];
        if (!belongs(plan, piece) || piece->length_tick <= 0 || piece->cut_on_site) {
            continue;
        }
        for (int64_t k = 0; k < piece->count && plan->part_count < PARTS_MOST; k++) {
            if (piece->kind == PIECES_MITRE) {
                add_part(gathering, plan,
                         (struct cut_part){i, leg_length(gathering->input, i, 0), 1});
                add_part(gathering, plan,
                         (struct cut_part){i, leg_length(gathering->input, i, 1), 2});
            } else {
                add_part(gathering, plan, (struct cut_part){i, piece->length_tick, 0});
            }
        }
    }
}

/* ---- bars --------------------------------------------------------------------------------------
 */

/* Puts the parts in the order of their bars: those too long first, a bar each, then by bar. */
static bool order_parts(struct gathering *gathering, struct cut_plan *plan, const size_t *bar_of) {
    struct cut_part *sorted = base_take(gathering->arena, plan->part_count + 1, sizeof *sorted);
    plan->bars = base_take(gathering->arena, plan->bar_count + 1, sizeof *plan->bars);
    if (sorted == NULL || plan->bars == NULL) {
        return false;
    }
    size_t next = 0;
    for (size_t bar = 0; bar < plan->bar_count; bar++) {
        plan->bars[bar] = (struct cut_bar){.first = next};
        for (size_t i = 0; i < plan->part_count; i++) {
            if (bar_of[i] == bar) {
                size_t k = next++;
                for (; k > plan->bars[bar].first &&
                       sorted[k - 1].length_tick < plan->parts[i].length_tick;
                     k--) {
                    sorted[k] = sorted[k - 1];
                }
                sorted[k] = plan->parts[i];
                plan->bars[bar].count++;
                plan->bars[bar].used_tick += plan->parts[i].length_tick;
            }
        }
    }
    plan->parts = sorted;
    return true;
}

static bool pack_plan(struct gathering *gathering, struct cut_plan *plan) {
    size_t count = plan->part_count;
    int64_t *lengths = base_take(gathering->arena, count + 1, sizeof *lengths);
    size_t *bar_of = base_take(gathering->arena, count + 1, sizeof *bar_of);
    if (lengths == NULL || bar_of == NULL) {
        return false;
    }
    size_t fitting = 0;
    for (size_t i = 0; i < count; i++) {
        if (plan->parts[i].length_tick > plan->bar_tick) {
            bar_of[i] = plan->too_long++;
        } else {
            bar_of[i] = SIZE_MAX;
            lengths[fitting++] = plan->parts[i].length_tick;
        }
    }
    struct cut_order order = {
        .lengths_tick = lengths, .count = fitting, .bar_tick = plan->bar_tick};
    struct cut_packing packing;
    if (!cut_pack(gathering->arena, &order, &packing)) {
        return false;
    }
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        if (bar_of[i] == SIZE_MAX) {
            bar_of[i] = plan->too_long + packing.bar_of[at++];
        }
    }
    plan->bar_count = plan->too_long + packing.bars;
    plan->bound = plan->too_long + packing.bound;
    plan->proved = packing.proved;
    return order_parts(gathering, plan, bar_of);
}

/* ---- plans -------------------------------------------------------------------------------------
 */

static bool is_planned(const struct cut *cut, const struct pieces_piece *piece) {
    for (size_t i = 0; i < cut->count; i++) {
        if (belongs(&cut->plans[i], piece)) {
            return true;
        }
    }
    return false;
}

static bool add_plans(struct gathering *gathering, enum cut_stock stock) {
    const struct shop *shop = gathering->input->shop;
    const struct pieces *pieces = gathering->input->pieces;
    for (size_t i = 0; i < pieces->count; i++) {
        const struct pieces_piece *piece = &pieces->items[i];
        enum pieces_kind wanted = stock == CUT_PIPE ? PIECES_DOWNSPOUT : PIECES_GUTTER;
        bool is_cut = piece->kind == wanted && piece->length_tick > 0 && !piece->cut_on_site;
        if (!is_cut || is_planned(gathering->cut, piece)) {
            continue;
        }
        struct cut_plan *plans =
            base_grow(gathering->arena, gathering->cut->plans, &gathering->capacity,
                      gathering->cut->count, sizeof *plans);
        if (plans == NULL) {
            return false;
        }
        gathering->cut->plans = plans;
        struct cut_plan *plan = &plans[gathering->cut->count++];
        *plan = (struct cut_plan){.stock = stock,
                                  .size = piece->size,
                                  .sheet = piece->sheet,
                                  .wide_tick = stock == CUT_STRIP ? piece->girth_tick : 0,
                                  .bar_tick =
                                      stock == CUT_PIPE ? shop->pipe_stock_tick : shop->stock_tick};
        gather_parts(gathering, plan);
        if (plan->part_count >= PARTS_MOST) {
            plan->part_count = 0; /* told as too many */
            continue;
        }
        if (base_arena_failed(gathering->arena) || !pack_plan(gathering, plan)) {
            return false;
        }
    }
    return true;
}

enum base_status cut_find(struct base_arena *arena, const struct cut_input *input,
                          struct cut *cut) {
    *cut = (struct cut){0};
    struct gathering gathering = {.arena = arena, .input = input, .cut = cut};
    bool ok = add_plans(&gathering, CUT_STRIP) && add_plans(&gathering, CUT_PIPE);
    return ok && !base_arena_failed(arena) ? BASE_OK : BASE_NO_MEMORY;
}
