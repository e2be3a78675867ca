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

double geometry_to_segment(struct geometry_point a, struct geometry_point b,
                           struct geometry_point at) {
    struct geometry_point along = geometry_subtract(b, a);
    double square = geometry_dot(along, along);
    double share = square > 0 ? geometry_dot(geometry_subtract(at, a), along) / square : 0;
    share = share < 0 ? 0 : share > 1 ? 1 : share;
    return geometry_distance(geometry_add(a, geometry_scale(along, share)), at);
}

struct geometry_box geometry_find_box(const struct geometry_polygon *polygon) {
    struct geometry_box box = {{(double)INFINITY, (double)INFINITY},
                               {-(double)INFINITY, -(double)INFINITY}};
    for (size_t i = 0; i < polygon->count; i++) {
        struct geometry_point at = polygon->points[i];
        box.low.x_m = fmin(box.low.x_m, at.x_m);
        box.low.y_m = fmin(box.low.y_m, at.y_m);
        box.high.x_m = fmax(box.high.x_m, at.x_m);
        box.high.y_m = fmax(box.high.y_m, at.y_m);
    }
    return box;
}

bool geometry_contains(const struct geometry_polygon *polygon, struct geometry_point at) {
    bool inside = false;
    for (size_t i = 0; i < polygon->count; i++) {
        struct geometry_point a = polygon->points[i];
        struct geometry_point b = polygon->points[(i + 1) % polygon->count];
        if (geometry_to_segment(a, b, at) <= GEOMETRY_EVENT_M) {
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

static bool copy_polygon(struct base_arena *arena, const struct geometry_polygon *polygon,
                         struct geometry_polygon *copy) {
    struct geometry_point *points = base_take(arena, polygon->count, sizeof *points);
    if (points == NULL) {
        return false;
    }
    for (size_t i = 0; i < polygon->count; i++) {
        points[i] = polygon->points[i];
    }
    *copy = (struct geometry_polygon){points, polygon->count};
    return true;
}

bool geometry_clip(struct base_arena *arena, const struct geometry_polygon *polygon,
                   struct geometry_plane keep, struct geometry_polygon *kept) {
    assert(polygon->count < SIZE_MAX / 4);
    *kept = (struct geometry_polygon){0};
    double steepness = hypot(keep.a_1, keep.b_1);
    double scale = steepness > 0 ? 1 / steepness : 1;
    bool any_in = false;
    bool any_out = false;
    for (size_t i = 0; i < polygon->count; i++) {
        double from_line_m = geometry_height(keep, polygon->points[i]) * scale;
        any_in = any_in || from_line_m > GEOMETRY_EVENT_M;
        any_out = any_out || from_line_m < -GEOMETRY_EVENT_M;
    }
    if (!any_in || polygon->count < 3) {
        return !base_arena_failed(arena); /* nothing, or a sliver along the line */
    }
    if (!any_out) {
        return copy_polygon(arena, polygon, kept);
    }
    /* A corner within one event of the line stands on it: it is kept on both sides and no side is
     * cut there, so the two halves of a polygon share their corners and lose no area. */
    struct geometry_point *points = base_take(arena, polygon->count + 2, sizeof *points);
    if (points == NULL) {
        return false;
    }
    size_t count = 0;
    for (size_t i = 0; i < polygon->count; i++) {
        struct geometry_point a = polygon->points[i];
        struct geometry_point b = polygon->points[(i + 1) % polygon->count];
        double a_m = geometry_height(keep, a) * scale;
        double b_m = geometry_height(keep, b) * scale;
        bool crosses = (a_m > GEOMETRY_EVENT_M && b_m < -GEOMETRY_EVENT_M) ||
                       (a_m < -GEOMETRY_EVENT_M && b_m > GEOMETRY_EVENT_M);
        if (a_m >= -GEOMETRY_EVENT_M && count < polygon->count + 2) {
            points[count++] = a;
        }
        if (crosses && count < polygon->count + 2) {
            points[count++] = find_crossing(a, a_m, b, b_m);
        }
    }
    *kept = (struct geometry_polygon){points, count};
    return true;
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
