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
    items[pieces->count++] =
        (struct roof_piece){.slope = slope, .outline = *outline, .box = geometry_find_box(outline)};
    return true;
}

/* The same piece in another list. */
static void keep_piece(struct roof_build *build, struct roof_pieces *pieces,
                       const struct roof_piece *piece) {
    struct roof_piece kept = *piece; /* it may stand in the list that grows */
    struct roof_piece *items =
        base_grow(build->arena, pieces->items, &pieces->room, pieces->count, sizeof *items);
    if (items == NULL) {
        build->failed = true;
        return;
    }
    pieces->items = items;
    items[pieces->count++] = kept;
}

static bool clip(struct roof_build *build, const struct geometry_polygon *polygon,
                 struct geometry_plane keep, struct geometry_polygon *kept) {
    bool fine = geometry_clip(build->arena, polygon, keep, kept);
    build->failed = build->failed || !fine;
    return fine;
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

/* A convex outline that takes its inside out of pieces: where a plane is kept, too. */
struct cutter {
    const struct geometry_cut *sides; /* [side_count], >= 0 inside */
    size_t side_count;
    struct geometry_box box;
    struct geometry_cut keep;
};

static const struct geometry_cut *list_sides(struct roof_build *build,
                                             const struct geometry_polygon *outline) {
    struct geometry_cut *sides = base_take(build->arena, outline->count, sizeof *sides);
    if (sides == NULL) {
        build->failed = true;
        return NULL;
    }
    for (size_t side = 0; side < outline->count; side++) {
        sides[side] = geometry_make_cut(inside_of(outline, side));
    }
    return sides;
}

static const struct geometry_cut *cutter_line(const struct cutter *cutter, size_t side) {
    return side < cutter->side_count ? &cutter->sides[side] : &cutter->keep;
}

/* No corner of the piece stands more than an event inside one of the cutter's lines. */
static bool stays_whole(const struct roof_piece *piece, const struct cutter *cutter) {
    if (!geometry_boxes_meet(&piece->box, &cutter->box, ROOF_ABUT_M)) {
        return true;
    }
    for (size_t side = 0; side <= cutter->side_count; side++) {
        const struct geometry_cut *line = cutter_line(cutter, side);
        bool any_in = false;
        for (size_t i = 0; i < piece->outline.count && !any_in; i++) {
            any_in = geometry_height(line->keep, piece->outline.points[i]) * line->scale_1 >
                     GEOMETRY_EVENT_M / 2;
        }
        if (!any_in) {
            return true;
        }
    }
    return false;
}

/* Adds to rest the convex parts of the piece that are not inside the cutter; gives what is. */
static void cut_out(struct roof_build *build, const struct roof_piece *piece,
                    const struct cutter *cutter, struct roof_pieces *rest,
                    struct geometry_polygon *inside) {
    size_t before = rest->count;
    struct geometry_polygon left = piece->outline;
    bool whole = stays_whole(piece, cutter);
    for (size_t side = 0; side <= cutter->side_count && !whole; side++) {
        struct geometry_polygon outer;
        struct geometry_polygon inner;
        if (!geometry_split(build->arena, &left, cutter_line(cutter, side), &inner, &outer)) {
            build->failed = true;
            return;
        }
        if (outer.count > 0) {
            roof_add_piece(build, rest, piece->slope, &outer);
        }
        left = inner;
        whole = left.count == 0;
    }
    *inside = whole ? (struct geometry_polygon){0} : left;
    if (whole) {
        rest->count = before;
        keep_piece(build, rest, piece);
    }
}

/* ---- the roof of one wing ---------------------------------------------------------------------
 */

/* Of an edge with a flared eave, the steeper roof holds only beyond its break. */
static bool is_flared(const struct roof_house *house, const struct roof_slope *slope) {
    return slope->other != ROOF_NONE &&
           (house->slopes[slope->other].pitch_1 > slope->pitch_1) != slope->upper;
}

/* >= 0 beyond the break of the slope's edge. */
static struct geometry_plane beyond_break(const struct roof_slope *slope) {
    struct geometry_point n = slope->inward;
    return (struct geometry_plane){n.x_m, n.y_m, -geometry_dot(n, slope->origin) - slope->begins_m};
}

/* A place inside a convex outline. */
static struct geometry_point find_middle(const struct geometry_polygon *outline) {
    struct geometry_point sum = {0, 0};
    for (size_t i = 0; i < outline->count; i++) {
        sum = geometry_add(sum, outline->points[i]);
    }
    return geometry_scale(sum, 1 / (double)outline->count);
}

/* Over a zone that no break of a flared eave runs through, the slope is its edge's roof. */
static bool holds_over(const struct roof_house *house, const struct roof_slope *slope,
                       struct geometry_point middle) {
    return !is_flared(house, slope) ||
           (geometry_height(beyond_break(slope), middle) > 0) == slope->upper;
}

/* The slope's share of the lower envelope of its wing over a zone. */
static void find_envelope(struct roof_house *house, size_t slope,
                          const struct geometry_polygon *zone, struct geometry_polygon *share) {
    const struct roof_slope *own = &house->slopes[slope];
    struct geometry_point middle = find_middle(zone);
    *share = holds_over(house, own, middle) ? *zone : (struct geometry_polygon){0};
    for (size_t i = 0; i < house->slope_count && share->count > 0; i++) {
        const struct roof_slope *other = &house->slopes[i];
        if (i == slope || other->wing != own->wing || !holds_over(house, other, middle)) {
            continue;
        }
        struct geometry_polygon before = *share;
        if (!clip(house->build, &before,
                  rise_above(other->plane, own->plane, own->origin, slope < i), share)) {
            return;
        }
    }
}

/* Parts the zones where the break of the slope's edge runs through them. */
static void part_zones(struct roof_house *house, const struct roof_slope *slope,
                       struct roof_pieces *zones) {
    struct geometry_cut line = geometry_make_cut(beyond_break(slope));
    size_t count = zones->count;
    for (size_t i = 0; i < count; i++) {
        struct geometry_polygon parts[2];
        if (!geometry_split(house->build->arena, &zones->items[i].outline, &line, &parts[0],
                            &parts[1])) {
            house->build->failed = true;
            return;
        }
        if (parts[0].count > 0 && parts[1].count > 0) {
            zones->items[i].outline = parts[0];
            roof_add_piece(house->build, zones, zones->items[i].slope, &parts[1]);
        }
    }
}

/* Adds the wing's roof over an outline: the lower envelope of its edges' roofs. A roof with a break
 * to a flatter one is two planes of that envelope; of one with a break to a steeper one, over the
 * zones on either side of the break, the one that holds there. */
static void add_roof(struct roof_house *house, size_t wing, const struct geometry_polygon *over,
                     struct roof_pieces *pieces) {
    struct roof_build *build = house->build;
    struct roof_pieces *zones = &house->spare;
    zones->count = 0;
    roof_add_piece(build, zones, 0, over);
    for (size_t slope = 0; slope < house->slope_count && !build->failed; slope++) {
        const struct roof_slope *of = &house->slopes[slope];
        if (of->wing == wing && !of->upper && is_flared(house, of)) {
            part_zones(house, of, zones);
        }
    }
    size_t first = pieces->count;
    for (size_t slope = 0; slope < house->slope_count; slope++) {
        for (size_t i = 0; i < zones->count && house->slopes[slope].wing == wing; i++) {
            struct geometry_polygon share = {0};
            if (!build->failed) {
                find_envelope(house, slope, &zones->items[i].outline, &share);
            }
            if (share.count > 0) {
                roof_add_piece(build, pieces, slope, &share);
            }
        }
    }
    if (zones->count > 1 && pieces->count > first && !build->failed) {
        struct roof_pieces own = {.items = &pieces->items[first], .count = pieces->count - first};
        roof_merge_pieces(build, &own);
        pieces->count = first + own.count;
    }
}

/* ---- beyond the wall edges ------------------------------------------------------------------ */

static void swap(struct roof_pieces *one, struct roof_pieces *other) {
    struct roof_pieces kept = *one;
    *one = *other;
    *other = kept;
}

/* Takes from each piece what lies inside the plan: the inside goes to within. */
static void sort_by_plan(struct roof_house *house, struct roof_pieces *pieces,
                         const struct roof_plan *plan, struct roof_pieces *within) {
    struct roof_build *build = house->build;
    struct roof_pieces *rest = &house->spare;
    struct cutter cutter = {
        .sides = plan->sides, .side_count = plan->count, .box = plan->box, .keep = {{0, 0, 1}, 1}};
    rest->count = 0;
    for (size_t i = 0; i < pieces->count && !build->failed; i++) {
        struct geometry_polygon overlap;
        cut_out(build, &pieces->items[i], &cutter, rest, &overlap);
        if (!build->failed && overlap.count > 0 && within != NULL) {
            roof_add_piece(build, within, pieces->items[i].slope, &overlap);
        }
    }
    swap(pieces, rest);
}

/* Takes away from the pieces what the covers hide: everything higher, and of what is as high,
 * the covers that come first. */
static void hide(struct roof_house *house, struct roof_pieces *pieces, struct roof_piece *cover,
                 bool tie) {
    struct roof_build *build = house->build;
    struct roof_pieces *rest = &house->spare;
    size_t first = 0;
    while (first < pieces->count &&
           !geometry_boxes_meet(&pieces->items[first].box, &cover->box, 0)) {
        first++;
    }
    if (first == pieces->count) {
        return;
    }
    if (cover->sides == NULL) {
        cover->sides = list_sides(build, &cover->outline);
    }
    struct cutter cutter = {
        .sides = cover->sides, .side_count = cover->outline.count, .box = cover->box};
    rest->count = 0;
    build->roof->looks += pieces->count;
    for (size_t i = 0; i < pieces->count && !build->failed; i++) {
        const struct roof_piece *piece = &pieces->items[i];
        struct geometry_polygon hidden;
        if (i < first || !geometry_boxes_meet(&piece->box, &cover->box, 0)) {
            keep_piece(build, rest, piece);
            continue;
        }
        cutter.keep = geometry_make_cut(rise_above(house->slopes[cover->slope].plane,
                                                   house->slopes[piece->slope].plane,
                                                   cover->outline.points[0], tie));
        cut_out(build, piece, &cutter, rest, &hidden);
    }
    swap(pieces, rest);
}

/* Where a wing's roof, run on beyond its wall edges, stands above the other wings' own roofs. */
static void find_beyond(struct roof_house *house, size_t wing, struct roof_pieces *bases,
                        struct roof_pieces *beyond) {
    struct roof_build *build = house->build;
    struct roof_pieces open = {0};
    add_roof(house, wing, &house->plans[wing].reach, &open);
    sort_by_plan(house, &open, &house->plans[wing], NULL);
    for (size_t other = 0; other < build->job->wing_count && !build->failed; other++) {
        if (other != wing) {
            sort_by_plan(house, &open, &house->plans[other], beyond);
        }
    }
    for (size_t i = 0; i < bases->count && !build->failed; i++) {
        if (house->slopes[bases->items[i].slope].wing != wing) {
            hide(house, beyond, &bases->items[i], true);
        }
    }
}

/* Two convex outlines that do not overlap share a stretch of a side. */
static bool touch(const struct roof_piece *first, const struct roof_piece *second) {
    const struct geometry_polygon *one = &first->outline;
    const struct geometry_polygon *two = &second->outline;
    if (!geometry_boxes_meet(&first->box, &second->box, ROOF_PROBE_M)) {
        return false;
    }
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
                if (group[k] == first && touch(&beyond->items[i], &beyond->items[k])) {
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
                      touch(&beyond->items[i], &bases->items[k]);
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
                keep_piece(build, kept, &beyond->items[i]);
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

/* ---- what is seen ---------------------------------------------------------------------------- */

/* Each piece's sides, and its neighbours: whatever a look from its edge may meet. */
static void list_near(struct roof_house *house) {
    struct roof_build *build = house->build;
    struct roof_pieces *seen = &house->seen;
    size_t *near = base_take(build->arena, seen->count, sizeof *near);
    struct geometry_box *boxes = base_take(build->arena, seen->count, sizeof *boxes);
    if (near == NULL || boxes == NULL) {
        build->failed = true;
        return;
    }
    build->roof->looks += seen->count * seen->count;
    for (size_t i = 0; i < seen->count; i++) {
        boxes[i] = seen->items[i].box; /* side by side: all are compared with all */
    }
    for (size_t i = 0; i < seen->count && !build->failed; i++) {
        size_t count = 0;
        seen->items[i].sides = list_sides(build, &seen->items[i].outline);
        for (size_t k = 0; k < seen->count; k++) {
            near[count] = k;
            count += geometry_boxes_meet(&boxes[i], &boxes[k], 2 * ROOF_PROBE_M);
        }
        size_t *own = base_take(build->arena, count, sizeof *own);
        if (own == NULL) {
            build->failed = true;
            return;
        }
        for (size_t k = 0; k < count; k++) {
            own[k] = near[k];
        }
        seen->items[i].near = (struct roof_few){own, count};
    }
}

void roof_find_cover(struct roof_house *house) {
    struct roof_build *build = house->build;
    struct roof_pieces bases = {0};
    struct roof_pieces all = {0};
    for (size_t wing = 0; wing < build->job->wing_count && !build->failed; wing++) {
        struct roof_plan *plan = &house->plans[wing];
        plan->sides = list_sides(build, &plan->outline);
    }
    for (size_t wing = 0; wing < build->job->wing_count && !build->failed; wing++) {
        add_roof(house, wing, &house->plans[wing].outline, &bases);
    }
    for (size_t i = 0; i < bases.count && !build->failed; i++) {
        keep_piece(build, &all, &bases.items[i]);
    }
    for (size_t wing = 0; wing < build->job->wing_count && !build->failed; wing++) {
        struct roof_pieces beyond = {0};
        if (has_wall_edge(&build->job->wings[wing])) {
            find_beyond(house, wing, &bases, &beyond);
            keep_beyond(house, wing, &bases, &beyond, &all);
        }
    }
    struct roof_pieces rest = {0};
    for (size_t i = 0; i < all.count && !build->failed; i++) {
        rest.count = 0;
        build->roof->looks += all.count;
        keep_piece(build, &rest, &all.items[i]);
        for (size_t k = 0; k < all.count && !build->failed; k++) {
            if (geometry_boxes_meet(&all.items[i].box, &all.items[k].box, 0) &&
                house->slopes[all.items[k].slope].wing != house->slopes[all.items[i].slope].wing) {
                hide(house, &rest, &all.items[k], k < i);
            }
        }
        for (size_t k = 0; k < rest.count && !build->failed; k++) {
            keep_piece(build, &house->seen, &rest.items[k]);
        }
    }
    roof_merge_pieces(build, &house->seen);
    list_near(house);
}
