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

struct geometry_point geometry_add(struct geometry_point a, struct geometry_point b);
struct geometry_point geometry_subtract(struct geometry_point a, struct geometry_point b);
struct geometry_point geometry_scale(struct geometry_point a, double factor_1);
double geometry_dot(struct geometry_point a, struct geometry_point b);
double geometry_cross(struct geometry_point a, struct geometry_point b);
double geometry_distance(struct geometry_point a, struct geometry_point b);
double geometry_height(struct geometry_plane plane, struct geometry_point at);
/* Signed area, positive counter-clockwise; compensated. */
double geometry_area(const struct geometry_polygon *polygon);
bool geometry_contains(const struct geometry_polygon *polygon, struct geometry_point at);

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
