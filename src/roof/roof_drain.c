/* SPDX-License-Identifier: Apache-2.0 */
/* Strips: each slope is cut up and down at every corner that touches it, so that all the water of
 * one strip's part leaves by one straight lower side, and on one way. */
#include "numeric/numeric.h"
#include "roof/roof_inside.h"

#include <math.h>

struct geometry_point roof_place(const struct roof_slope *slope, double s_m, double t_m) {
    return geometry_add(slope->origin, geometry_add(geometry_scale(slope->along, s_m),
                                                    geometry_scale(slope->inward, t_m)));
}

double roof_along(const struct roof_slope *slope, struct geometry_point at) {
    return geometry_dot(slope->along, geometry_subtract(at, slope->origin));
}

double roof_up(const struct roof_slope *slope, struct geometry_point at) {
    return geometry_dot(slope->inward, geometry_subtract(at, slope->origin));
}

/* geometry_contains, of a piece that is seen: it is convex, and most places lie well inside or
 * outside of it. */
static bool holds(const struct roof_piece *piece, struct geometry_point at) {
    double least_m = (double)INFINITY;
    if (!geometry_box_holds(&piece->box, at, GEOMETRY_EVENT_M)) {
        return false;
    }
    for (size_t i = 0; i < piece->outline.count; i++) {
        double inside_m = geometry_height(piece->sides[i].keep, at);
        least_m = inside_m < least_m ? inside_m : least_m;
    }
    return least_m > GEOMETRY_EVENT_M ||
           (least_m > -1.01 * GEOMETRY_EVENT_M && geometry_contains(&piece->outline, at));
}

/* The piece holds the place and stands higher than what was seen there. */
static void see(const struct roof_house *house, const struct roof_piece *piece,
                struct geometry_point at, size_t *highest, double *z_m) {
    if (!holds(piece, at)) {
        return;
    }
    double here_m = geometry_height(house->slopes[piece->slope].plane, at);
    if (*highest == ROOF_NONE || here_m > *z_m) {
        *highest = piece->slope;
        *z_m = here_m;
    }
}

size_t roof_seen_at(const struct roof_house *house, struct geometry_point at) {
    size_t highest = ROOF_NONE;
    double z_m = 0;
    house->build->roof->looks += house->seen.count;
    for (size_t i = 0; i < house->seen.count; i++) {
        see(house, &house->seen.items[i], at, &highest, &z_m);
    }
    return highest;
}

size_t roof_seen_of(const struct roof_house *house, const struct roof_few *few,
                    struct geometry_point at) {
    size_t highest = ROOF_NONE;
    double z_m = 0;
    house->build->roof->looks += few->count;
    for (size_t i = 0; i < few->count; i++) {
        see(house, &house->seen.items[few->items[i]], at, &highest, &z_m);
    }
    return highest;
}

/* ---- cuts ----------------------------------------------------------------------------------- */

struct cuts {
    double *items;
    size_t count;
    size_t room;
};

static void add_cut(struct roof_build *build, struct cuts *cuts, double s_m) {
    double *items = base_grow(build->arena, cuts->items, &cuts->room, cuts->count, sizeof *items);
    if (items == NULL) {
        build->failed = true;
        return;
    }
    cuts->items = items;
    items[cuts->count++] = s_m;
}

/* A slope is cut at the corners of its own pieces and at the corners of others that touch them. */
static void list_cuts(struct roof_house *house, size_t slope, struct cuts *cuts) {
    const struct roof_slope *own = &house->slopes[slope];
    cuts->count = 0;
    for (size_t each = 0; each < own->pieces.count && !house->build->failed; each++) {
        size_t i = own->pieces.items[each];
        const struct roof_piece *piece = &house->seen.items[i];
        house->build->roof->looks += piece->near.count;
        for (size_t near = 0; near < piece->near.count; near++) {
            size_t k = piece->near.items[near];
            const struct geometry_polygon *other = &house->seen.items[k].outline;
            if (!geometry_boxes_meet(&piece->box, &house->seen.items[k].box, GEOMETRY_EVENT_M)) {
                continue;
            }
            for (size_t n = 0; n < other->count; n++) {
                if (k == i || holds(piece, other->points[n])) {
                    add_cut(house->build, cuts, roof_along(own, other->points[n]));
                }
            }
        }
    }
    if (cuts->count == 0) {
        return;
    }
    numeric_sort(cuts->items, cuts->count);
    size_t kept = 1;
    for (size_t i = 1; i < cuts->count; i++) {
        if (cuts->items[i] - cuts->items[kept - 1] > GEOMETRY_EVENT_M) {
            cuts->items[kept++] = cuts->items[i];
        }
    }
    cuts->count = kept;
}

/* ---- cells ---------------------------------------------------------------------------------- */

static void span_at(const struct roof_slope *slope, const struct geometry_polygon *outline,
                    double s_m, double *low_m, double *high_m) {
    *low_m = (double)INFINITY;
    *high_m = -(double)INFINITY;
    for (size_t i = 0; i < outline->count; i++) {
        if (fabs(roof_along(slope, outline->points[i]) - s_m) <= ROOF_NEAR_M) {
            double t_m = roof_up(slope, outline->points[i]);
            *low_m = fmin(*low_m, t_m);
            *high_m = fmax(*high_m, t_m);
        }
    }
}

static void add_cell(struct roof_house *house, size_t piece, const double s_m[2],
                     const struct geometry_polygon *outline) {
    struct roof_build *build = house->build;
    size_t slope = house->seen.items[piece].slope;
    struct roof_cell cell = {.slope = slope,
                             .piece = piece,
                             .outline = *outline,
                             .area_m2 = geometry_area(outline),
                             .s_m = {s_m[0], s_m[1]},
                             .beyond = ROOF_NONE,
                             .part = ROOF_NONE};
    for (int end = 0; end < 2; end++) {
        span_at(&house->slopes[slope], outline, s_m[end], &cell.low_m[end], &cell.high_m[end]);
    }
    if (isinf(cell.low_m[0]) && isinf(cell.low_m[1])) {
        return; /* narrower than one event */
    }
    for (int end = 0; end < 2; end++) {
        if (isinf(cell.low_m[end])) {
            cell.low_m[end] = cell.low_m[1 - end];
            cell.high_m[end] = cell.high_m[1 - end];
        }
    }
    struct roof_cell *cells =
        base_grow(build->arena, house->cells, &house->cell_room, house->cell_count, sizeof *cells);
    if (cells == NULL) {
        build->failed = true;
        return;
    }
    house->cells = cells;
    cells[house->cell_count++] = cell;
}

bool roof_clip_strip(struct roof_house *house, const struct roof_slope *slope,
                     const struct geometry_polygon *outline, const double s_m[2],
                     struct geometry_polygon *strip) {
    struct geometry_point u = slope->along;
    double from_origin_m = geometry_dot(u, slope->origin);
    const struct geometry_plane within[2] = {{u.x_m, u.y_m, -from_origin_m - s_m[0]},
                                             {-u.x_m, -u.y_m, from_origin_m + s_m[1]}};
    return geometry_clip_band(house->build->arena, outline, within, strip);
}

static void cut_piece(struct roof_house *house, size_t index, const struct cuts *cuts) {
    const struct roof_piece *piece = &house->seen.items[index];
    const struct roof_slope *slope = &house->slopes[piece->slope];
    double least_m = (double)INFINITY;
    double most_m = -(double)INFINITY;
    for (size_t i = 0; i < piece->outline.count; i++) {
        double s_m = roof_along(slope, piece->outline.points[i]);
        least_m = s_m < least_m ? s_m : least_m;
        most_m = s_m > most_m ? s_m : most_m;
    }
    for (size_t i = 0; i + 1 < cuts->count && !house->build->failed; i++) {
        struct geometry_polygon strip;
        if (cuts->items[i + 1] < least_m || cuts->items[i] > most_m) {
            continue;
        }
        if (!roof_clip_strip(house, slope, &piece->outline, &cuts->items[i], &strip)) {
            house->build->failed = true;
            return;
        }
        if (strip.count > 0) {
            add_cell(house, index, &cuts->items[i], &strip);
        }
    }
}

/* ---- which way ------------------------------------------------------------------------------ */

/* Off an eave without gutter: spread over the roof below, or, where that roof falls along the eave,
 * all of it to one place. */
static enum roof_way choose_drip(const struct roof_house *house, const struct roof_cell *cell,
                                 double z_m) {
    if (cell->beyond == ROOF_NONE) {
        return ROOF_WAY_GROUND;
    }
    const struct roof_slope *slope = &house->slopes[cell->slope];
    const struct roof_slope *below = &house->slopes[cell->beyond];
    struct geometry_point middle = roof_place(slope, 0.5 * (cell->s_m[0] + cell->s_m[1]), 0);
    if (geometry_height(below->plane, middle) > z_m - ROOF_LEVEL_M) {
        return ROOF_WAY_TROUGH; /* nothing lower there: along the foot of what stands higher */
    }
    return fabs(geometry_dot(slope->along, below->along)) > 1e-6 ? ROOF_WAY_ON : ROOF_WAY_DRIP;
}

static void choose_way(struct roof_house *house, struct roof_cell *cell) {
    const struct roof_slope *slope = &house->slopes[cell->slope];
    struct geometry_point a = roof_place(slope, cell->s_m[0], cell->low_m[0]);
    struct geometry_point b = roof_place(slope, cell->s_m[1], cell->low_m[1]);
    struct geometry_point middle = geometry_scale(geometry_add(a, b), 0.5);
    struct geometry_point along = geometry_subtract(b, a);
    double length_m = hypot(along.x_m, along.y_m);
    /* The house side of the lower side is to its left: outward is to the right. */
    struct geometry_point out = {along.y_m / length_m, -along.x_m / length_m};
    size_t beyond = roof_seen_of(house, &house->seen.items[cell->piece].near,
                                 geometry_add(middle, geometry_scale(out, ROOF_PROBE_M)));
    double z_m = geometry_height(slope->plane, middle);
    bool at_eave = fabs(cell->low_m[0]) <= ROOF_NEAR_M && fabs(cell->low_m[1]) <= ROOF_NEAR_M;
    cell->beyond = beyond;
    if (slope->flat) {
        cell->way = ROOF_WAY_SCUPPER;
        return;
    }
    cell->bare = at_eave && house->build->job->wings[slope->wing].no_gutter[slope->edge];
    if (cell->bare) {
        cell->way = choose_drip(house, cell, z_m);
        return;
    }
    if (beyond == ROOF_NONE) {
        cell->way = at_eave ? ROOF_WAY_EAVE : ROOF_WAY_STRAY;
        return;
    }
    const struct roof_slope *next = &house->slopes[beyond];
    double step_m = geometry_height(next->plane, middle) - z_m;
    bool falls_away = geometry_dot(next->inward, out) < -ROOF_EVEN_1;
    if (fabs(step_m) < ROOF_LEVEL_M && falls_away) {
        cell->way = ROOF_WAY_ON; /* one roof goes over into the other */
    } else if (at_eave) {
        cell->way = ROOF_WAY_EAVE;
    } else if (step_m >= -ROOF_LEVEL_M) {
        cell->way = ROOF_WAY_TROUGH;
    } else { /* onto a lower roof: spread over it, or all to one place where it falls along the line
              */
        double spread_m = fabs(roof_along(next, b) - roof_along(next, a));
        cell->way = spread_m > ROOF_NEAR_M ? ROOF_WAY_ON : ROOF_WAY_DRIP;
    }
}

/* Each slope's own pieces, in their order. */
static void share_out_pieces(struct roof_house *house) {
    size_t *items = base_take(house->build->arena, house->seen.count, sizeof *items);
    if (items == NULL) {
        house->build->failed = true;
        return;
    }
    for (size_t i = 0; i < house->seen.count; i++) {
        house->slopes[house->seen.items[i].slope].pieces.count++;
    }
    for (size_t slope = 0; slope < house->slope_count; slope++) {
        struct roof_few *own = &house->slopes[slope].pieces;
        own->items = items;
        items += own->count;
        own->count = 0;
    }
    for (size_t i = 0; i < house->seen.count; i++) {
        struct roof_few *own = &house->slopes[house->seen.items[i].slope].pieces;
        own->items[own->count++] = i;
    }
}

void roof_find_cells(struct roof_house *house) {
    share_out_pieces(house);
    struct cuts cuts = {0};
    house->cell_room = 3 * house->seen.count; /* few pieces are cut more often */
    house->cells = base_take(house->build->arena, house->cell_room, sizeof *house->cells);
    house->build->failed = house->build->failed || house->cells == NULL;
    for (size_t slope = 0; slope < house->slope_count && !house->build->failed; slope++) {
        list_cuts(house, slope, &cuts);
        house->slopes[slope].first_cell = house->cell_count;
        const struct roof_few *own = &house->slopes[slope].pieces;
        for (size_t i = 0; i < own->count && !house->build->failed; i++) {
            cut_piece(house, own->items[i], &cuts);
        }
        house->slopes[slope].end_cell = house->cell_count;
    }
    for (size_t i = 0; i < house->cell_count && !house->build->failed; i++) {
        choose_way(house, &house->cells[i]);
    }
}
