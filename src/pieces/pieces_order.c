/* SPDX-License-Identifier: Apache-2.0 */
/* An order by `pieces:`: what was asked for, checked against what the shop makes. Water is not
 * checked. */
#include <stdlib.h>

#include "material/material.h"
#include "pieces/pieces_inside.h"

struct order_kind {
    enum pieces_kind kind;
    enum pieces_hand hand;
    bool is_pipe; /* its size is a downspout's */
    bool has_length;
};

static struct order_kind kind_of(enum job_piece_kind kind) {
    switch (kind) {
    case JOB_PIECE_GUTTER:
        return (struct order_kind){PIECES_GUTTER, PIECES_NO_HAND, false, true};
    case JOB_PIECE_END_CAP_LEFT:
        return (struct order_kind){PIECES_END_CAP, PIECES_LEFT, false, false};
    case JOB_PIECE_END_CAP_RIGHT:
        return (struct order_kind){PIECES_END_CAP, PIECES_RIGHT, false, false};
    case JOB_PIECE_MITRE_OUTSIDE:
        return (struct order_kind){PIECES_MITRE, PIECES_OUTSIDE, false, false};
    case JOB_PIECE_MITRE_INSIDE:
        return (struct order_kind){PIECES_MITRE, PIECES_INSIDE, false, false};
    case JOB_PIECE_OUTLET:
        return (struct order_kind){PIECES_OUTLET, PIECES_NO_HAND, true, false};
    case JOB_PIECE_STRAINER:
        return (struct order_kind){PIECES_STRAINER, PIECES_NO_HAND, true, false};
    case JOB_PIECE_DOWNSPOUT:
        return (struct order_kind){PIECES_DOWNSPOUT, PIECES_NO_HAND, true, true};
    case JOB_PIECE_ELBOW:
        return (struct order_kind){PIECES_ELBOW, PIECES_NO_HAND, true, false};
    case JOB_PIECE_SHOE:
        return (struct order_kind){PIECES_SHOE, PIECES_NO_HAND, true, false};
    case JOB_PIECE_BRACKET:
        return (struct order_kind){PIECES_BRACKET, PIECES_NO_HAND, false, false};
    case JOB_PIECE_STRAP:
        return (struct order_kind){PIECES_STRAP, PIECES_NO_HAND, true, false};
    }
    return (struct order_kind){PIECES_GUTTER, PIECES_NO_HAND, false, true};
}

static void weigh_gutter_piece(const struct pieces_walk *walk, const struct shop_profile *profile,
                               struct pieces_piece *piece) {
    const struct shop *shop = walk->input->shop;
    const struct job_text *said = &walk->input->job->gutter_sheet;
    const struct material_sheet *sheet = said->given ? material_find_sheet(said->text) : NULL;
    piece->sheet = sheet == NULL ? profile->sheet : sheet->name;
    double count = (double)piece->count;
    if (piece->kind == PIECES_GUTTER) {
        piece->girth_tick = pieces_girth_tick(shop, profile, piece->sheet);
        piece->mass_kg =
            count * pieces_gutter_mass(profile, piece->sheet, units_m_of_tick(piece->length_tick));
    } else if (piece->kind == PIECES_MITRE) {
        piece->length_tick = shop->mitre_leg_tick;
        piece->mass_kg = count * pieces_gutter_mass(profile, piece->sheet,
                                                    2 * units_m_of_tick(piece->length_tick));
    } else if (piece->kind == PIECES_END_CAP) {
        piece->mass_kg = count * pieces_cap_mass(shop, profile, piece->sheet);
    } else {
        piece->sheet = NULL; /* brackets are cast or forged, not sheet */
    }
}

static void weigh_pipe_piece(const struct pieces_walk *walk, const struct shop_pipe *pipe,
                             struct pieces_piece *piece) {
    const struct shop *shop = walk->input->shop;
    double length_m = 0.0;
    if (piece->kind == PIECES_DOWNSPOUT) {
        length_m = units_m_of_tick(piece->length_tick);
    } else if (piece->kind == PIECES_ELBOW || piece->kind == PIECES_SHOE) {
        length_m = 2 * units_m_of_tick(shop->elbow_leg_tick);
    } else if (piece->kind == PIECES_OUTLET) {
        piece->length_tick = shop->outlet_tube_tick;
        length_m = units_m_of_tick(piece->length_tick);
    }
    piece->sheet = length_m > 0.0 ? shop->usual_sheet : NULL;
    if (piece->sheet != NULL) {
        piece->mass_kg =
            (double)piece->count *
            pieces_pipe_mass(units_m_of_tick(pipe->diameter_tick), piece->sheet, length_m);
    }
}

static int64_t next_length(const struct shop *shop, int64_t left_tick, int64_t stock_tick,
                           int64_t lap_tick) {
    if (left_tick <= stock_tick) {
        return left_tick;
    }
    int64_t rest_tick = left_tick - (stock_tick - lap_tick);
    int64_t short_tick = shop->shortest_piece_tick - rest_tick;
    return short_tick > 0 ? stock_tick - short_tick : stock_tick; /* no stub is left over */
}

/*
 * A gutter or pipe longer than the stock is made in lengths that lap: as many full ones as there
 * are, and the rest. Source: n = ceil((L - l) / (S - l)), trade/copper j (DERIVED).
 */
static void add_lengths(struct pieces_walk *walk, const struct pieces_piece *whole,
                        const struct shop_profile *profile, const struct shop_pipe *pipe) {
    const struct shop *shop = walk->input->shop;
    int64_t stock_tick = pipe == NULL ? shop->stock_tick : shop->pipe_stock_tick;
    int64_t lap_tick = pipe == NULL ? shop->lap_tick : shop->pipe_lap_tick;
    bool is_cut = whole->kind == PIECES_GUTTER || whole->kind == PIECES_DOWNSPOUT;
    int64_t left_tick = whole->length_tick;
    size_t number = 1;
    bool is_long = is_cut && left_tick > stock_tick;
    do {
        struct pieces_piece piece = *whole;
        if (is_cut) {
            piece.length_tick = next_length(shop, left_tick, stock_tick, lap_tick);
        }
        if (is_long) {
            piece.id = pieces_id(walk->arena, whole->id, ".", number++);
        }
        if (pipe != NULL) {
            weigh_pipe_piece(walk, pipe, &piece);
        } else {
            weigh_gutter_piece(walk, profile, &piece);
        }
        pieces_add(walk, piece);
        left_tick -= piece.length_tick == left_tick ? left_tick : piece.length_tick - lap_tick;
    } while (is_cut && left_tick > 0);
}

static void report_size(struct pieces_walk *walk, const struct job_piece *order, bool is_pipe) {
    base_add_issue(walk->issues, (struct base_issue){.code = is_pipe ? BASE_ISSUE_PIPE_NOT_MADE
                                                                     : BASE_ISSUE_SIZE_NOT_MADE,
                                                     .mark = order->size.mark,
                                                     .value = base_value_text(order->size.text)});
}

/* Parts to match an old gutter are of its size. A tape errs by 1/8 in: COMMON PRACTICE. */
static void match_found(const struct pieces_walk *walk, const struct job_piece *order,
                        int64_t size_tick, bool is_pipe) {
    const struct job *job = walk->input->job;
    for (size_t i = 0; i < job->found_count; i++) {
        const struct job_length *found = is_pipe ? &job->found[i].pipe_size : &job->found[i].size;
        if (!found->given || llabs(found->tick - size_tick) <= UNITS_TICK_PER_INCH / 8) {
            continue;
        }
        base_add_issue(walk->issues,
                       (struct base_issue){.code = is_pipe ? BASE_ISSUE_FOUND_PIPE_DIFFERS
                                                           : BASE_ISSUE_FOUND_SIZE_DIFFERS,
                                           .mark = order->size.mark,
                                           .object = order->size.text,
                                           .value = base_value_tick(size_tick),
                                           .limit = base_value_tick(found->tick)});
        return;
    }
}

static const char *const ORDER_ROLES[PIECES_KIND_COUNT] = {
    "order.gutter.",       "order.end cap.",        "order.mitre.",      "order.outlet.",
    "order.strainer.",     "order.downspout.",      "order.elbow.",      "order.shoe.",
    "order.strap.",        "order.standoff strap.", "order.bracket.",    "order.angled bracket.",
    "order.side bracket.", "order.wedge.",          "order.face screw.", "order.lag.",
    "order.strap screw.",  "order.rivet.",          "order.solder.",     "order.flux."};

void pieces_list_order(struct pieces_walk *walk) {
    const struct job *job = walk->input->job;
    const struct shop *shop = walk->input->shop;
    size_t numbers[PIECES_KIND_COUNT] = {0};
    for (size_t i = 0; i < job->piece_count; i++) {
        const struct job_piece *order = &job->pieces[i];
        struct order_kind kind = kind_of(order->kind);
        const struct shop_profile *profile =
            kind.is_pipe ? NULL : shop_find_profile(shop, order->size.text);
        const struct shop_pipe *pipe = kind.is_pipe ? shop_find_pipe(shop, order->size.text) : NULL;
        if (profile == NULL && pipe == NULL) {
            report_size(walk, order, kind.is_pipe);
            continue;
        }
        if (walk->input->layout == NULL) {
            match_found(walk, order, kind.is_pipe ? pipe->diameter_tick : profile->size_tick,
                        kind.is_pipe);
        }
        struct pieces_piece piece = {.kind = kind.kind,
                                     .hand = kind.hand,
                                     .run = SIZE_MAX,
                                     .outlet = SIZE_MAX,
                                     .count = order->count,
                                     .length_tick = kind.has_length ? order->length.tick : 0,
                                     .angle_rad = order->angle_rad};
        piece.size = base_text_of(kind.is_pipe ? pipe->name : profile->name);
        piece.id = pieces_id(walk->arena, (struct base_text){0}, ORDER_ROLES[kind.kind],
                             ++numbers[kind.kind]);
        add_lengths(walk, &piece, profile, pipe);
    }
}
