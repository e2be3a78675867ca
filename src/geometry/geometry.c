/* SPDX-License-Identifier: Apache-2.0 */
#include "geometry/geometry.h"

#include "geometry/geometry_inside.h"
#include "numeric/numeric.h"

#include <assert.h>
#include <math.h>

double geometry_distance(struct geometry_point a, struct geometry_point b) {
    return hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

double geometry_area(const struct geometry_polygon *polygon) {
    if (polygon->count < 3) {
        return 0.0;
    }
    /* Measured from the first corner, so that a house far from the origin loses no digits. */
    struct geometry_point origin = polygon->points[0];
    struct numeric_sum twice = {0};
    for (size_t i = 1; i + 1 < polygon->count; i++) {
        numeric_add(&twice, geometry_cross(geometry_subtract(polygon->points[i], origin),
                                           geometry_subtract(polygon->points[i + 1], origin)));
    }
    return 0.5 * numeric_total(&twice);
}

/* The way from the place to the nearest of the segment. */
static struct geometry_point to_nearest(struct geometry_point a, struct geometry_point b,
                                        struct geometry_point at) {
    struct geometry_point along = geometry_subtract(b, a);
    double square = geometry_dot(along, along);
    double share = square > 0 ? geometry_dot(geometry_subtract(at, a), along) / square : 0;
    share = share < 0 ? 0 : share > 1 ? 1 : share;
    return geometry_subtract(geometry_add(a, geometry_scale(along, share)), at);
}

double geometry_to_segment(struct geometry_point a, struct geometry_point b,
                           struct geometry_point at) {
    struct geometry_point off = to_nearest(a, b, at);
    return hypot(off.x_m, off.y_m);
}

/* Neither coordinate lies within the margin of what is between the other two. */
static bool lies_beside(double a_m, double b_m, double at_m) {
    static const double MARGIN_M = 1.01 * GEOMETRY_EVENT_M;
    return a_m < b_m ? at_m < a_m - MARGIN_M || at_m > b_m + MARGIN_M
                     : at_m < b_m - MARGIN_M || at_m > a_m + MARGIN_M;
}

static bool stands_on(struct geometry_point a, struct geometry_point b, struct geometry_point at) {
    if (lies_beside(a.x_m, b.x_m, at.x_m) || lies_beside(a.y_m, b.y_m, at.y_m)) {
        return false; /* a quick first look */
    }
    struct geometry_point off = to_nearest(a, b, at);
    return geometry_dot(off, off) <= GEOMETRY_EVENT_M * GEOMETRY_EVENT_M;
}

struct geometry_box geometry_find_box(const struct geometry_polygon *polygon) {
    struct geometry_box box = {{(double)INFINITY, (double)INFINITY},
                               {-(double)INFINITY, -(double)INFINITY}};
    for (size_t i = 0; i < polygon->count; i++) {
        struct geometry_point at = polygon->points[i];
        box.low.x_m = at.x_m < box.low.x_m ? at.x_m : box.low.x_m;
        box.low.y_m = at.y_m < box.low.y_m ? at.y_m : box.low.y_m;
        box.high.x_m = at.x_m > box.high.x_m ? at.x_m : box.high.x_m;
        box.high.y_m = at.y_m > box.high.y_m ? at.y_m : box.high.y_m;
    }
    return box;
}

bool geometry_contains(const struct geometry_polygon *polygon, struct geometry_point at) {
    bool inside = false;
    for (size_t i = 0; i < polygon->count; i++) {
        struct geometry_point a = polygon->points[i];
        struct geometry_point b = polygon->points[(i + 1) % polygon->count];
        if (stands_on(a, b, at)) {
            return true;
        }
        /* The ray to the east crosses this side: half-open in y, so a corner counts once. */
        if ((a.y_m > at.y_m) != (b.y_m > at.y_m)) {
            double x_m = a.x_m + (at.y_m - a.y_m) / (b.y_m - a.y_m) * (b.x_m - a.x_m);
            inside = inside != (at.x_m < x_m);
        }
    }
    return inside;
}

/* Where the segment from a kept to a cut corner meets the line. The kept corner always comes first,
 * so that both halves of a cut polygon get the same two new corners, mirrored only in sign. */
static struct geometry_point find_crossing(struct geometry_point a, double a_m,
                                           struct geometry_point b, double b_m) {
    if (a_m < b_m) {
        return find_crossing(b, b_m, a, a_m);
    }
    return geometry_add(a, geometry_scale(geometry_subtract(b, a), a_m / (a_m - b_m)));
}

/* How a polygon lies to a line. */
struct look {
    double scale;
    bool any_in;
    bool any_out;
};

struct geometry_cut geometry_make_cut(struct geometry_plane keep) {
    double steepness = hypot(keep.a_1, keep.b_1);
    return (struct geometry_cut){keep, steepness > 0 ? 1 / steepness : 1};
}

static struct look look_at(const struct geometry_polygon *polygon, const struct geometry_cut *cut) {
    struct geometry_plane keep = cut->keep;
    struct look look = {.scale = cut->scale_1};
    for (size_t i = 0; i < polygon->count; i++) {
        double from_line_m = geometry_height(keep, polygon->points[i]) * look.scale;
        look.any_in |= from_line_m > GEOMETRY_EVENT_M;
        look.any_out |= from_line_m < -GEOMETRY_EVENT_M;
    }
    return look;
}

/* A corner within one event of the line stands on it: it is kept on both sides and no side is cut
 * there, so the two halves of a polygon share their corners and lose no area. */
static size_t cut_to(const struct geometry_polygon *polygon, struct geometry_plane keep,
                     double scale, struct geometry_point *points) {
    size_t count = 0;
    double first_m = geometry_height(keep, polygon->points[0]) * scale;
    double a_m = first_m;
    for (size_t i = 0; i < polygon->count; i++) {
        bool last = i + 1 == polygon->count;
        struct geometry_point a = polygon->points[i];
        struct geometry_point b = polygon->points[last ? 0 : i + 1];
        double b_m = last ? first_m : geometry_height(keep, b) * scale;
        bool crosses = (a_m > GEOMETRY_EVENT_M && b_m < -GEOMETRY_EVENT_M) ||
                       (a_m < -GEOMETRY_EVENT_M && b_m > GEOMETRY_EVENT_M);
        if (a_m >= -GEOMETRY_EVENT_M && count < polygon->count + 2) {
            points[count++] = a;
        }
        if (crosses && count < polygon->count + 2) {
            points[count++] = find_crossing(a, a_m, b, b_m);
        }
        a_m = b_m;
    }
    return count;
}

static bool cut(struct base_arena *arena, const struct geometry_polygon *polygon,
                struct geometry_plane keep, double scale, struct geometry_polygon *kept) {
    struct geometry_point *points = base_take(arena, polygon->count + 2, sizeof *points);
    if (points == NULL) {
        return false;
    }
    *kept = (struct geometry_polygon){points, cut_to(polygon, keep, scale, points)};
    return true;
}

bool geometry_clip(struct base_arena *arena, const struct geometry_polygon *polygon,
                   struct geometry_plane keep, struct geometry_polygon *kept) {
    assert(polygon->count < SIZE_MAX / 4);
    struct geometry_polygon whole = *polygon;
    struct geometry_cut line = geometry_make_cut(keep);
    struct look look = look_at(&whole, &line);
    *kept = (struct geometry_polygon){0};
    if (!look.any_in || whole.count < 3) {
        return !base_arena_failed(arena); /* nothing, or a sliver along the line */
    }
    if (!look.any_out) {
        *kept = whole;
        return !base_arena_failed(arena);
    }
    return cut(arena, &whole, keep, look.scale, kept);
}

bool geometry_clip_band(struct base_arena *arena, const struct geometry_polygon *polygon,
                        const struct geometry_plane keep[2], struct geometry_polygon *kept) {
    struct geometry_point points[32];
    struct geometry_polygon half = *polygon;
    struct geometry_cut lines[2] = {geometry_make_cut(keep[0]), geometry_make_cut(keep[1])};
    struct look look = look_at(polygon, &lines[0]);
    bool both = look.any_in && look.any_out;
    if (polygon->count + 2 > sizeof points / sizeof points[0] || !both) {
        return geometry_clip(arena, polygon, keep[0], &half) &&
               geometry_clip(arena, &half, keep[1], kept);
    }
    half = (struct geometry_polygon){points, cut_to(polygon, keep[0], look.scale, points)};
    look = look_at(&half, &lines[1]);
    *kept = (struct geometry_polygon){0};
    if (!look.any_in || half.count < 3) {
        return !base_arena_failed(arena);
    }
    return cut(arena, &half, keep[1], look.scale, kept);
}

bool geometry_split(struct base_arena *arena, const struct geometry_polygon *polygon,
                    const struct geometry_cut *line, struct geometry_polygon *kept,
                    struct geometry_polygon *rest) {
    assert(polygon->count < SIZE_MAX / 4);
    struct geometry_plane keep = line->keep;
    struct geometry_polygon whole = *polygon;
    struct look look = look_at(&whole, line);
    *kept = (struct geometry_polygon){0};
    *rest = (struct geometry_polygon){0};
    if (whole.count < 3 || !(look.any_in && look.any_out)) {
        *kept = whole.count >= 3 && look.any_in ? whole : *kept;
        *rest = whole.count >= 3 && look.any_out ? whole : *rest;
        return !base_arena_failed(arena);
    }
    struct geometry_plane beyond = {-keep.a_1, -keep.b_1, -keep.c_m};
    return cut(arena, &whole, keep, look.scale, kept) &&
           cut(arena, &whole, beyond, look.scale, rest);
}

#define GEOMETRY_PI 3.14159265358979323846

void geometry_make_regular(size_t sides, double across_m, struct geometry_point corners[]) {
    double half_rad = GEOMETRY_PI / (double)sides;
    double far_m = across_m / 2 / cos(half_rad);
    for (size_t i = 0; i < sides; i++) {
        double at_rad = half_rad * (2 * (double)i - 1) - GEOMETRY_PI / 2;
        corners[i] = (struct geometry_point){far_m * cos(at_rad), far_m * sin(at_rad)};
    }
}

/* Right half of the bay's front, from the middle outward: half widths and distances from the
 * centre's level down to the south. Ends where the polygon is widest. */
static size_t list_right_half(size_t sides, double across_m, struct geometry_point half[]) {
    double half_rad = GEOMETRY_PI / (double)sides;
    double far_m = across_m / 2 / cos(half_rad);
    size_t count = 0;
    for (size_t i = 0; half_rad * (double)(2 * i + 1) <= GEOMETRY_PI / 2 + 1e-9; i++) {
        double at_rad = half_rad * (double)(2 * i + 1);
        half[count++] = (struct geometry_point){far_m * sin(at_rad), -far_m * cos(at_rad)};
    }
    return count;
}

size_t geometry_make_bay(size_t sides, double across_m, double out_m,
                         struct geometry_point corners[]) {
    static const double SNAP_M = 1e-3; /* a wall nearer than this to a corner goes through it */
    struct geometry_point half[16] = {{0, 0}};
    assert(sides >= 4 && sides <= 32 && sides % 2 == 0);
    if (!(out_m > SNAP_M) || !(across_m > SNAP_M)) {
        return 0;
    }
    size_t count = list_right_half(sides, across_m, half);
    assert(count > 0 && count < sizeof half / sizeof half[0]);
    double wall_m = out_m - across_m / 2; /* the wall's y while the centre is the origin */
    while (count > 1 && half[count - 1].y_m > wall_m + SNAP_M) {
        struct geometry_point top = half[count - 1];
        struct geometry_point below = half[count - 2];
        if (below.y_m < wall_m - SNAP_M) { /* the wall cuts the side between them */
            double share_1 = (wall_m - below.y_m) / (top.y_m - below.y_m);
            half[count - 1] =
                (struct geometry_point){below.x_m + share_1 * (top.x_m - below.x_m), wall_m};
            break;
        }
        count--;
    }
    if (half[count - 1].y_m < wall_m - SNAP_M) {
        half[count] = (struct geometry_point){half[count - 1].x_m, wall_m};
        count++;
    }
    half[count - 1].y_m = wall_m;
    for (size_t i = 0; i < count; i++) {
        double y_m = half[i].y_m - wall_m;
        corners[count - 1 - i] = (struct geometry_point){-half[i].x_m, y_m};
        corners[count + i] = (struct geometry_point){half[i].x_m, y_m};
    }
    return 2 * count;
}
