/* SPDX-License-Identifier: Apache-2.0 */
/* The patterns that a job's pieces ask for, each once. */
#include <math.h>

#include "material/material.h"
#include "pattern/pattern.h"

static const double PI = 3.14159265358979323846;

/* Alike enough for one pattern: a tenth of a degree, a hundredth of the usual fall. */
static const double ALIKE_RAD = 1.7e-3;
static const double ALIKE_FALL_1 = 5e-5;

struct listing {
    struct base_arena *arena;
    const struct pattern_input *input;
    struct patterns *patterns;
};

static double sheet_thickness(const struct pieces_piece *piece) {
    const struct material_sheet *sheet =
        piece->sheet == NULL ? NULL : material_find_sheet(base_text_of(piece->sheet));
    return sheet == NULL ? 0.0 : sheet->nominal_m;
}

static bool same_sheet(const struct pieces_piece *a, const struct pieces_piece *b) {
    return base_text_equal(a->size, b->size) && sheet_thickness(a) == sheet_thickness(b);
}

/* ---- mitres -----------------------------------------------------------------------------------
 */

static bool same_mitre(const struct pieces_piece *a, const struct pieces_piece *b) {
    bool falls_alike = fabs(a->fall_1[0] - b->fall_1[0]) < ALIKE_FALL_1 &&
                       fabs(a->fall_1[1] - b->fall_1[1]) < ALIKE_FALL_1;
    return same_sheet(a, b) && a->hand == b->hand && falls_alike &&
           fabs(a->angle_rad - b->angle_rad) < ALIKE_RAD;
}

static void add_mitre(struct listing *listing, size_t index) {
    struct patterns *patterns = listing->patterns;
    const struct pieces_piece *items = listing->input->pieces->items;
    const struct pieces_piece *piece = &items[index];
    const struct shop_profile *profile = shop_find_profile(listing->input->shop, piece->size);
    if (profile == NULL || !(piece->angle_rad > 0.0) || !(piece->angle_rad < PI)) {
        return; /* an order that does not say its angle */
    }
    for (size_t i = 0; i < patterns->mitre_count; i++) {
        if (same_mitre(&items[patterns->mitres[i].piece], piece)) {
            patterns->mitres[i].count += (size_t)piece->count;
            patterns->mitre_of[index] = i;
            return;
        }
    }
    patterns->mitre_of[index] = patterns->mitre_count;
    struct pattern_mitre_sheet *sheet = &patterns->mitres[patterns->mitre_count++];
    *sheet = (struct pattern_mitre_sheet){.piece = index,
                                          .count = (size_t)piece->count,
                                          .mitre = {.section = profile->section,
                                                    .sheet_m = sheet_thickness(piece),
                                                    .inside = piece->hand == PIECES_INSIDE,
                                                    .corner_rad = piece->angle_rad,
                                                    .fall_1 = {piece->fall_1[0], piece->fall_1[1]},
                                                    .leg_m = units_m_of_tick(piece->length_tick)}};
    sheet->found = pattern_find_mitre(&sheet->mitre);
}

/* ---- caps -------------------------------------------------------------------------------------
 */

static void add_cap(struct listing *listing, size_t index) {
    struct patterns *patterns = listing->patterns;
    const struct pieces_piece *items = listing->input->pieces->items;
    const struct shop_profile *profile = shop_find_profile(listing->input->shop, items[index].size);
    if (profile == NULL) {
        return;
    }
    for (size_t i = 0; i < patterns->cap_count; i++) {
        if (same_sheet(&items[patterns->caps[i].piece], &items[index])) {
            patterns->caps[i].count += (size_t)items[index].count;
            return;
        }
    }
    const struct section_gutter *section = &profile->section;
    patterns->caps[patterns->cap_count++] =
        (struct pattern_cap_sheet){.piece = index,
                                   .count = (size_t)items[index].count,
                                   .radius_m = section->inside_diameter_m / 2.0,
                                   .flange_m = listing->input->shop->cap_flange_m,
                                   .straight_m = section->straight_m,
                                   .back_m = section->straight_m + section->back_rise_m};
}

/* ---- outlets ----------------------------------------------------------------------------------
 */

/* The gutter that an outlet stands in: the first gutter piece of its run. */
static const struct shop_profile *find_gutter(const struct listing *listing,
                                              const struct pieces_piece *outlet) {
    const struct pieces *pieces = listing->input->pieces;
    for (size_t i = 0; outlet->run != SIZE_MAX && i < pieces->count; i++) {
        if (pieces->items[i].kind == PIECES_GUTTER && pieces->items[i].run == outlet->run) {
            return shop_find_profile(listing->input->shop, pieces->items[i].size);
        }
    }
    return NULL;
}

static void add_hole(struct listing *listing, size_t index) {
    struct patterns *patterns = listing->patterns;
    const struct pieces_piece *piece = &listing->input->pieces->items[index];
    const struct shop *shop = listing->input->shop;
    const struct shop_profile *gutter = find_gutter(listing, piece);
    const struct shop_pipe *pipe = shop_find_pipe(shop, piece->size);
    if (gutter == NULL || pipe == NULL) {
        return;
    }
    double gutter_m = gutter->section.inside_diameter_m / 2.0;
    double tube_m = units_m_of_tick(pipe->diameter_tick - shop->outlet_undersize_tick) / 2.0;
    if (!(tube_m > 0.0) || !(tube_m < gutter_m)) {
        return;
    }
    for (size_t i = 0; i < patterns->hole_count; i++) {
        if (patterns->holes[i].gutter_radius_m == gutter_m &&
            patterns->holes[i].tube_radius_m == tube_m) {
            patterns->holes[i].count++;
            return;
        }
    }
    struct pattern_hole_sheet *hole = &patterns->holes[patterns->hole_count++];
    *hole = (struct pattern_hole_sheet){
        .piece = index, .count = 1, .gutter_radius_m = gutter_m, .tube_radius_m = tube_m};
    for (int i = 0; i < PATTERN_HOLE_POINTS; i++) {
        double angle_rad = PI / 2.0 * i / (PATTERN_HOLE_POINTS - 1);
        hole->points[i] = pattern_find_hole(gutter_m, tube_m, angle_rad);
    }
}

static size_t count_kind(const struct pieces *pieces, enum pieces_kind kind) {
    size_t count = 0;
    for (size_t i = 0; i < pieces->count; i++) {
        count += pieces->items[i].kind == kind ? 1 : 0;
    }
    return count;
}

static bool take_room(struct listing *listing) {
    const struct pieces *pieces = listing->input->pieces;
    struct patterns *patterns = listing->patterns;
    patterns->mitres =
        base_take(listing->arena, count_kind(pieces, PIECES_MITRE) + 1, sizeof *patterns->mitres);
    patterns->caps =
        base_take(listing->arena, count_kind(pieces, PIECES_END_CAP) + 1, sizeof *patterns->caps);
    patterns->holes =
        base_take(listing->arena, count_kind(pieces, PIECES_OUTLET) + 1, sizeof *patterns->holes);
    patterns->mitre_of = base_take(listing->arena, pieces->count + 1, sizeof *patterns->mitre_of);
    for (size_t i = 0; patterns->mitre_of != NULL && i < pieces->count; i++) {
        patterns->mitre_of[i] = SIZE_MAX;
    }
    return patterns->mitre_of != NULL && patterns->mitres != NULL && patterns->caps != NULL &&
           patterns->holes != NULL;
}

enum base_status pattern_list(struct base_arena *arena, const struct pattern_input *input,
                              struct patterns *patterns) {
    *patterns = (struct patterns){0};
    struct listing listing = {arena, input, patterns};
    if (!take_room(&listing)) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < input->pieces->count; i++) {
        enum pieces_kind kind = input->pieces->items[i].kind;
        if (kind == PIECES_MITRE) {
            add_mitre(&listing, i);
        } else if (kind == PIECES_END_CAP) {
            add_cap(&listing, i);
        } else if (kind == PIECES_OUTLET) {
            add_hole(&listing, i);
        }
    }
    return BASE_OK;
}
