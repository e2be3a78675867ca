/* SPDX-License-Identifier: Apache-2.0 */
/*
 * geometry: plan points, convex polygons, planes. Double metres, x east, y north.
 *
 * Walk      before: base, numeric. after: roof, layout, draw.
 * Rule      events nearer than GEOMETRY_EVENT_M are one event (a stated rule of the project).
 * Source    plane geometry throughout.
 */
#ifndef EAVESMITH_GEOMETRY_H
#define EAVESMITH_GEOMETRY_H

#include "base/base.h"

#define GEOMETRY_EVENT_M 1e-5 /* 0.01 mm */

struct geometry_point {
    double x_m;
    double y_m;
};

/* A simple polygon, counter-clockwise. */
struct geometry_polygon {
    struct geometry_point *points; /* [count] */
    size_t count;
};

/* z = a x + b y + c */
struct geometry_plane {
    double a_1;
    double b_1;
    double c_m;
};

/* In the header because the roof calls them millions of times. */
static inline struct geometry_point geometry_add(struct geometry_point a, struct geometry_point b) {
    return (struct geometry_point){a.x_m + b.x_m, a.y_m + b.y_m};
}
static inline struct geometry_point geometry_subtract(struct geometry_point a,
                                                      struct geometry_point b) {
    return (struct geometry_point){a.x_m - b.x_m, a.y_m - b.y_m};
}
static inline struct geometry_point geometry_scale(struct geometry_point a, double factor_1) {
    return (struct geometry_point){a.x_m * factor_1, a.y_m * factor_1};
}
static inline double geometry_dot(struct geometry_point a, struct geometry_point b) {
    return a.x_m * b.x_m + a.y_m * b.y_m;
}
static inline double geometry_cross(struct geometry_point a, struct geometry_point b) {
    return a.x_m * b.y_m - a.y_m * b.x_m;
}
static inline double geometry_height(struct geometry_plane plane, struct geometry_point at) {
    return plane.a_1 * at.x_m + plane.b_1 * at.y_m + plane.c_m;
}
double geometry_distance(struct geometry_point a, struct geometry_point b);
/* Signed area, positive counter-clockwise; compensated. */
double geometry_area(const struct geometry_polygon *polygon);
bool geometry_contains(const struct geometry_polygon *polygon, struct geometry_point at);

/* What a polygon lies within, sides along the axes: a quick first look before the exact one. */
struct geometry_box {
    struct geometry_point low;
    struct geometry_point high;
};
struct geometry_box geometry_find_box(const struct geometry_polygon *polygon);
static inline bool geometry_box_holds(const struct geometry_box *box, struct geometry_point at,
                                      double margin_m) {
    return at.x_m >= box->low.x_m - margin_m && at.x_m <= box->high.x_m + margin_m &&
           at.y_m >= box->low.y_m - margin_m && at.y_m <= box->high.y_m + margin_m;
}
static inline bool geometry_boxes_meet(const struct geometry_box *one,
                                       const struct geometry_box *two, double margin_m) {
    return one->low.x_m <= two->high.x_m + margin_m && two->low.x_m <= one->high.x_m + margin_m &&
           one->low.y_m <= two->high.y_m + margin_m && two->low.y_m <= one->high.y_m + margin_m;
}

/*
 * The part of a convex polygon where a x + b y + c >= 0. Empty (count 0) where nothing more than
 * an event-sized sliver is left. False when the arena failed.
 */
bool geometry_clip(struct base_arena *arena, const struct geometry_polygon *polygon,
                   struct geometry_plane keep, struct geometry_polygon *kept);

/*
 * Corners of a regular polygon about the origin, counter-clockwise, its first side a flat to the
 * south. across_m: twice the distance from the centre to a side.
 * Source: a side is 2 r tan(pi/n), a corner lies r / cos(pi/n) from the centre (DERIVED).
 */
void geometry_make_regular(size_t sides, double across_m, struct geometry_point corners[]);

/*
 * Corners of the part of a regular polygon of an even number of sides that stands out_m to the
 * south of a wall along the x axis, its middle at x = 0; deeper than half the polygon its flanks
 * run straight back. From the left end at the wall round to the right end; the last side is the
 * wall. Gives their number, at most sides / 2 + 4; 0 = nothing stands out.
 */
size_t geometry_make_bay(size_t sides, double across_m, double out_m,
                         struct geometry_point corners[]);

#endif
