/* SPDX-License-Identifier: Apache-2.0 */
/* What one sees from above: each wing the lower envelope of its slopes, the house the upper
 * envelope of its wings. */
#include "roof/roof_inside.h"

#include <math.h>

bool roof_add_piece(struct roof_build *build, struct roof_pieces *pieces, size_t slope,
                    const struct geometry_polygon *outline) {
    struct roof_piece *items =
        base_grow(build->arena, pieces->items, &pieces->room, pieces->count, sizeof *items);
    if (items == NULL) {
        build->failed = true;
        return false;
    }
    pieces->items = items;
    items[pieces->count++] = (struct roof_piece){slope, *outline, geometry_find_box(outline)};
    return true;
}

static bool clip(struct roof_build *build, const struct geometry_polygon *polygon,
                 struct geometry_plane keep, struct geometry_polygon *kept) {
    bool fine = geometry_clip(build->arena, polygon, keep, kept);
    build->failed = build->failed || !fine;
    return fine;
}

static struct geometry_plane negate(struct geometry_plane plane) {
    return (struct geometry_plane){-plane.a_1, -plane.b_1, -plane.c_m};
}

/* Distance to the left of the line from a to b: >= 0 inside a counter-clockwise outline. */
static struct geometry_plane left_of(struct geometry_point a, struct geometry_point b) {
    struct geometry_point along = geometry_subtract(b, a);
    double length_m = hypot(along.x_m, along.y_m);
    double nx = -along.y_m / length_m;
    double ny = along.x_m / length_m;
    return (struct geometry_plane){nx, ny, -(nx * a.x_m + ny * a.y_m)};
}

static struct geometry_plane inside_of(const struct geometry_polygon *outline, size_t side) {
    return left_of(outline->points[side], outline->points[(side + 1) % outline->count]);
}

/* >= 0 where the upper plane stands above the lower. Planes of one slope and height differ by a
 * constant only; where even that is none, the tie decides. */
static struct geometry_plane rise_above(struct geometry_plane upper, struct geometry_plane lower,
                                        struct geometry_point near, bool tie) {
    struct geometry_plane rise = {upper.a_1 - lower.a_1, upper.b_1 - lower.b_1,
                                  upper.c_m - lower.c_m};
    if (hypot(rise.a_1, rise.b_1) > ROOF_EVEN_1) {
        return rise;
    }
    double rise_m = geometry_height(rise, near);
    bool above = fabs(rise_m) < ROOF_LEVEL_M ? tie : rise_m > 0;
    return (struct geometry_plane){0, 0, above ? 1 : -1};
}

/* The part of polygon inside a convex outline and a half-plane. */
static void find_overlap(struct roof_build *build, const struct geometry_polygon *polygon,
                         const struct geometry_polygon *outline, struct geometry_plane keep,
                         struct geometry_polygon *overlap) {
    *overlap = *polygon;
    for (size_t side = 0; side < outline->count && overlap->count > 0; side++) {
        struct geometry_polygon before = *overlap;
        if (!clip(build, &before, inside_of(outline, side), overlap)) {
            return;
        }
    }
    if (overlap->count > 0) {
        struct geometry_polygon before = *overlap;
        clip(build, &before, keep, overlap);
    }
}

/* Adds to rest the convex parts of the piece that are not both inside the outline and kept. */
static void subtract(struct roof_build *build, const struct roof_piece *piece,
                     const struct geometry_polygon *outline, struct geometry_plane keep,
                     struct roof_pieces *rest) {
    struct geometry_polygon overlap;
    find_overlap(build, &piece->outline, outline, keep, &overlap);
    if (build->failed) {
        return;
    }
    if (overlap.count == 0) {
        roof_add_piece(build, rest, piece->slope, &piece->outline);
        return;
    }
    struct geometry_polygon left = piece->outline;
    for (size_t side = 0; side <= outline->count && left.count > 0; side++) {
        struct geometry_plane inside = side < outline->count ? inside_of(outline, side) : keep;
        struct geometry_polygon outer;
        struct geometry_polygon inner;
        if (!clip(build, &left, negate(inside), &outer) || !clip(build, &left, inside, &inner)) {
            return;
        }
        if (outer.count > 0) {
            roof_add_piece(build, rest, piece->slope, &outer);
        }
        left = inner;
    }
}

/* The slope's share of the lower envelope of its wing over an outline. */
static void find_envelope(struct roof_house *house, size_t slope,
                          const struct geometry_polygon *over, struct geometry_polygon *share) {
    const struct roof_slope *own = &house->slopes[slope];
    *share = *over;
    for (size_t i = 0; i < house->slope_count && share->count > 0; i++) {
        const struct roof_slope *other = &house->slopes[i];
        if (i == slope || other->wing != own->wing) {
            continue;
        }
        struct geometry_polygon before = *share;
        if (!clip(house->build, &before,
                  rise_above(other->plane, own->plane, own->origin, slope < i), share)) {
            return;
        }
    }
}

static void find_bases(struct roof_house *house, struct roof_pieces *bases) {
    for (size_t slope = 0; slope < house->slope_count && !house->build->failed; slope++) {
        struct geometry_polygon share;
        find_envelope(house, slope, &house->plans[house->slopes[slope].wing].outline, &share);
        if (share.count > 0) {
            roof_add_piece(house->build, bases, slope, &share);
        }
    }
}

/* ---- beyond the wall edges ------------------------------------------------------------------ */

/* Takes from each piece what lies inside the outline: the inside goes to within. */
static void sort_by_outline(struct roof_build *build, struct roof_pieces *pieces,
                            const struct geometry_polygon *outline, struct roof_pieces *within) {
    static const struct geometry_plane ANYWHERE = {0, 0, 1};
    struct roof_pieces rest = {0};
    for (size_t i = 0; i < pieces->count && !build->failed; i++) {
        struct geometry_polygon overlap;
        find_overlap(build, &pieces->items[i].outline, outline, ANYWHERE, &overlap);
        if (overlap.count > 0 && within != NULL) {
            roof_add_piece(build, within, pieces->items[i].slope, &overlap);
        }
        subtract(build, &pieces->items[i], outline, ANYWHERE, &rest);
    }
    *pieces = rest;
}

/* Takes away from the pieces what the covers hide: everything higher, and of what is as high,
 * the covers that come first. */
static void hide(struct roof_house *house, struct roof_pieces *pieces,
                 const struct roof_piece *cover, bool tie) {
    struct roof_pieces rest = {0};
    for (size_t i = 0; i < pieces->count && !house->build->failed; i++) {
        const struct roof_piece *piece = &pieces->items[i];
        if (!geometry_boxes_meet(&piece->box, &cover->box, 0)) {
            roof_add_piece(house->build, &rest, piece->slope, &piece->outline);
            continue;
        }
        struct geometry_plane higher =
            rise_above(house->slopes[cover->slope].plane, house->slopes[piece->slope].plane,
                       cover->outline.points[0], tie);
        subtract(house->build, piece, &cover->outline, higher, &rest);
    }
    *pieces = rest;
}

/* Where a wing's roof, run on beyond its wall edges, stands above the other wings' own roofs. */
static void find_beyond(struct roof_house *house, size_t wing, const struct roof_pieces *bases,
                        struct roof_pieces *beyond) {
    struct roof_build *build = house->build;
    struct roof_pieces open = {0};
    for (size_t slope = 0; slope < house->slope_count && !build->failed; slope++) {
        struct geometry_polygon share = {0};
        if (house->slopes[slope].wing == wing) {
            find_envelope(house, slope, &house->plans[wing].reach, &share);
        }
        if (share.count > 0) {
            roof_add_piece(build, &open, slope, &share);
        }
    }
    sort_by_outline(build, &open, &house->plans[wing].outline, NULL);
    for (size_t other = 0; other < build->job->wing_count && !build->failed; other++) {
        if (other != wing) {
            sort_by_outline(build, &open, &house->plans[other].outline, beyond);
        }
    }
    for (size_t i = 0; i < bases->count && !build->failed; i++) {
        if (house->slopes[bases->items[i].slope].wing != wing) {
            hide(house, beyond, &bases->items[i], true);
        }
    }
}

/* Two convex outlines that do not overlap share a stretch of a side. */
static bool touch(const struct geometry_polygon *one, const struct geometry_polygon *two) {
    for (size_t i = 0; i < one->count; i++) {
        struct geometry_point a = one->points[i];
        struct geometry_point b = one->points[(i + 1) % one->count];
        struct geometry_plane left = left_of(a, b);
        double length_m = geometry_distance(a, b);
        struct geometry_point along = geometry_scale(geometry_subtract(b, a), 1 / length_m);
        for (size_t k = 0; k < two->count; k++) {
            struct geometry_point c = two->points[k];
            struct geometry_point d = two->points[(k + 1) % two->count];
            if (fabs(geometry_height(left, c)) > ROOF_NEAR_M ||
                fabs(geometry_height(left, d)) > ROOF_NEAR_M) {
                continue;
            }
            double c_m = geometry_dot(along, geometry_subtract(c, a));
            double d_m = geometry_dot(along, geometry_subtract(d, a));
            if (fmin(fmax(c_m, d_m), length_m) - fmax(fmin(c_m, d_m), 0) > ROOF_PROBE_M) {
                return true;
            }
        }
    }
    return false;
}

static bool in_any_plan(const struct roof_house *house, struct geometry_point at) {
    for (size_t i = 0; i < house->build->job->wing_count; i++) {
        if (geometry_contains(&house->plans[i].outline, at)) {
            return true;
        }
    }
    return false;
}

/* The piece ends where every roof under it ends, still in the direction in which it left its
 * wing: it comes out at the far side. */
static bool comes_out(const struct roof_house *house, size_t wing, const struct roof_piece *piece) {
    const struct roof_plan *plan = &house->plans[wing];
    for (size_t i = 0; i < piece->outline.count; i++) {
        struct geometry_point a = piece->outline.points[i];
        struct geometry_point b = piece->outline.points[(i + 1) % piece->outline.count];
        struct geometry_plane left = left_of(a, b);
        struct geometry_point out = {-left.a_1, -left.b_1};
        struct geometry_point probe = geometry_add(geometry_scale(geometry_add(a, b), 0.5),
                                                   geometry_scale(out, ROOF_PROBE_M));
        if (geometry_distance(a, b) < ROOF_PROBE_M || in_any_plan(house, probe) ||
            !geometry_contains(&plan->reach, probe)) {
            continue;
        }
        for (size_t edge = 0; edge < plan->count; edge++) {
            struct geometry_plane wall = inside_of(&plan->outline, edge);
            bool left_there = geometry_height(wall, probe) < -GEOMETRY_EVENT_M;
            if (left_there && -wall.a_1 * out.x_m - wall.b_1 * out.y_m > 0.5) {
                return true;
            }
        }
    }
    return false;
}

/* Numbers the pieces that hang together from `first` on; gives whether they meet the wing itself,
 * and whether they come out at the far side. */
/* many because it walks one grid */
static void flood(struct roof_house *house, size_t wing, const struct roof_pieces *bases,
                  const struct roof_pieces *beyond, size_t *group, size_t first, bool *rooted,
                  bool *out) {
    *rooted = false;
    *out = false;
    bool grown = true;
    group[first] = first;
    while (grown) {
        grown = false;
        for (size_t i = 0; i < beyond->count; i++) {
            for (size_t k = 0; k < beyond->count && group[i] == ROOF_NONE; k++) {
                if (group[k] == first &&
                    touch(&beyond->items[i].outline, &beyond->items[k].outline)) {
                    group[i] = first;
                    grown = true;
                }
            }
        }
    }
    for (size_t i = 0; i < beyond->count; i++) {
        if (group[i] != first) {
            continue;
        }
        *out = *out || comes_out(house, wing, &beyond->items[i]);
        for (size_t k = 0; k < bases->count && !*rooted; k++) {
            *rooted = house->slopes[bases->items[k].slope].wing == wing &&
                      touch(&beyond->items[i].outline, &bases->items[k].outline);
        }
    }
}

static void keep_beyond(struct roof_house *house, size_t wing, const struct roof_pieces *bases,
                        const struct roof_pieces *beyond, struct roof_pieces *kept) {
    struct roof_build *build = house->build;
    size_t *group = base_take(build->arena, beyond->count + 1, sizeof *group);
    if (group == NULL) {
        build->failed = true;
        return;
    }
    for (size_t i = 0; i < beyond->count; i++) {
        group[i] = ROOF_NONE;
    }
    for (size_t first = 0; first < beyond->count; first++) {
        if (group[first] != ROOF_NONE) {
            continue;
        }
        bool rooted;
        bool out;
        flood(house, wing, bases, beyond, group, first, &rooted, &out);
        if (rooted && out) {
            roof_say(build, BASE_ISSUE_ROOF_WALL_ABOVE, build->job->wings[wing].mark,
                     build->job->wings[wing].name, (struct base_value){0});
        }
        for (size_t i = 0; i < beyond->count && rooted && !out; i++) {
            if (group[i] == first) {
                roof_add_piece(build, kept, beyond->items[i].slope, &beyond->items[i].outline);
            }
        }
    }
}

static bool has_wall_edge(const struct job_wing *wing) {
    size_t count = job_count_edges(wing);
    for (size_t edge = 0; edge < count; edge++) {
        if (wing->edges[edge] == JOB_EDGE_WALL) {
            return true;
        }
    }
    return false;
}

/* ---- joining -------------------------------------------------------------------------------- */

static bool same_point(struct geometry_point a, struct geometry_point b) {
    return fabs(a.x_m - b.x_m) <= ROOF_NEAR_M && geometry_distance(a, b) <= ROOF_NEAR_M;
}

/* Leaves out corners that stand on the line between their neighbours; false when one turns to the
 * right: not convex. */
static bool tidy(struct geometry_polygon *polygon) {
    size_t i = 0;
    while (i < polygon->count && polygon->count > 3) {
        struct geometry_point a = polygon->points[(i + polygon->count - 1) % polygon->count];
        struct geometry_point b = polygon->points[i];
        struct geometry_point c = polygon->points[(i + 1) % polygon->count];
        double span_m = geometry_distance(a, c);
        double bulge_m2 = geometry_cross(geometry_subtract(b, a), geometry_subtract(c, b));
        if (span_m > 0 && fabs(bulge_m2) > span_m * GEOMETRY_EVENT_M / 10) {
            if (bulge_m2 < 0) {
                return false;
            }
            i++;
            continue;
        }
        for (size_t k = i; k + 1 < polygon->count; k++) {
            polygon->points[k] = polygon->points[k + 1];
        }
        polygon->count--;
        i = 0;
    }
    return true;
}

/* The union of two outlines that share side i of one and side k of two, when it is convex. */
/* many because it joins two of one list */
static bool unite(struct roof_build *build, const struct geometry_polygon *one, size_t i,
                  const struct geometry_polygon *two, size_t k, struct geometry_polygon *both) {
    struct geometry_point *points =
        base_take(build->arena, one->count + two->count, sizeof *points);
    if (points == NULL) {
        build->failed = true;
        return false;
    }
    size_t count = 0;
    for (size_t n = 1; n <= one->count;
         n++) { /* from the shared side's far end round to its near */
        points[count++] = one->points[(i + n) % one->count];
    }
    for (size_t n = 2; n < two->count; n++) {
        points[count++] = two->points[(k + n) % two->count];
    }
    *both = (struct geometry_polygon){points, count};
    return tidy(both);
}

static bool try_merge(struct roof_build *build, struct roof_piece *first,
                      const struct roof_piece *second) {
    struct geometry_polygon *one = &first->outline;
    const struct geometry_polygon *two = &second->outline;
    if (!geometry_boxes_meet(&first->box, &second->box, ROOF_NEAR_M)) {
        return false;
    }
    for (size_t i = 0; i < one->count; i++) {
        for (size_t k = 0; k < two->count; k++) {
            struct geometry_polygon both;
            bool shared = same_point(one->points[i], two->points[(k + 1) % two->count]) &&
                          same_point(one->points[(i + 1) % one->count], two->points[k]);
            if (shared && unite(build, one, i, two, k, &both)) {
                *one = both;
                first->box = geometry_find_box(one);
                return true;
            }
        }
    }
    return false;
}

void roof_merge_pieces(struct roof_build *build, struct roof_pieces *pieces) {
    size_t i = 0;
    while (i < pieces->count && !build->failed) {
        bool merged = false;
        for (size_t k = 0; k < pieces->count && !merged; k++) {
            if (k != i && pieces->items[k].slope == pieces->items[i].slope &&
                try_merge(build, &pieces->items[i], &pieces->items[k])) {
                for (size_t n = k; n + 1 < pieces->count; n++) {
                    pieces->items[n] = pieces->items[n + 1];
                }
                pieces->count--;
                i = k < i ? i - 1 : i;
                merged = true;
            }
        }
        i = merged ? 0 : i + 1;
    }
}

void roof_find_cover(struct roof_house *house) {
    struct roof_build *build = house->build;
    struct roof_pieces bases = {0};
    struct roof_pieces all = {0};
    find_bases(house, &bases);
    for (size_t i = 0; i < bases.count && !build->failed; i++) {
        roof_add_piece(build, &all, bases.items[i].slope, &bases.items[i].outline);
    }
    for (size_t wing = 0; wing < build->job->wing_count && !build->failed; wing++) {
        struct roof_pieces beyond = {0};
        if (has_wall_edge(&build->job->wings[wing])) {
            find_beyond(house, wing, &bases, &beyond);
            keep_beyond(house, wing, &bases, &beyond, &all);
        }
    }
    for (size_t i = 0; i < all.count && !build->failed; i++) {
        struct roof_pieces rest = {0};
        roof_add_piece(build, &rest, all.items[i].slope, &all.items[i].outline);
        for (size_t k = 0; k < all.count && !build->failed; k++) {
            if (house->slopes[all.items[k].slope].wing != house->slopes[all.items[i].slope].wing) {
                hide(house, &rest, &all.items[k], k < i);
            }
        }
        for (size_t k = 0; k < rest.count && !build->failed; k++) {
            roof_add_piece(build, &house->seen, rest.items[k].slope, &rest.items[k].outline);
        }
    }
    roof_merge_pieces(build, &house->seen);
}
