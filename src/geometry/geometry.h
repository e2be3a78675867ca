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

/* What a polygon lies within, sides along the axes: a quick first look before the exact one. All
 * four sides are compared at once: nobody can guess which will part two boxes. */
struct geometry_box {
    struct geometry_point low;
    struct geometry_point high;
};
struct geometry_box geometry_find_box(const struct geometry_polygon *polygon);
static inline bool geometry_box_holds(const struct geometry_box *box, struct geometry_point at,
                                      double margin_m) {
    int beside = (at.x_m < box->low.x_m - margin_m) | (at.x_m > box->high.x_m + margin_m) |
                 (at.y_m < box->low.y_m - margin_m) | (at.y_m > box->high.y_m + margin_m);
    return beside == 0;
}
static inline bool geometry_boxes_meet(const struct geometry_box *one,
                                       const struct geometry_box *two, double margin_m) {
    int apart =
        (one->low.x_m > two->high.x_m + margin_m) | (two->low.x_m > one->high.x_m + margin_m) |
        (one->low.y_m > two->high.y_m + margin_m) | (two->low.y_m > one->high.y_m + margin_m);
    return apart == 0;
}

/*
 * The part of a convex polygon where a x + b y + c >= 0. Empty (count 0) where nothing more than
 * an event-sized sliver is left; where nothing is cut off, the polygon's own corners. False when
 * the arena failed.
 */
bool geometry_clip(struct base_arena *arena, const struct geometry_polygon *polygon,
                   struct geometry_plane keep, struct geometry_polygon *kept);
/* Clipped by one plane and then by the other. */
bool geometry_clip_band(struct base_arena *arena, const struct geometry_polygon *polygon,
                        const struct geometry_plane keep[2], struct geometry_polygon *kept);
/* A plane to cut by, and what makes its heights distances from the line where it is 0. */
struct geometry_cut {
    struct geometry_plane keep;
    double scale_1;
};
struct geometry_cut geometry_make_cut(struct geometry_plane keep);
/* What geometry_clip gives for the plane and for its opposite, in one look. */
bool geometry_split(struct base_arena *arena, const struct geometry_polygon *polygon,
                    const struct geometry_cut *line, struct geometry_polygon *kept,
                    struct geometry_polygon *rest);

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

/* ---- outlines and their roofs: the straight skeleton ----------------------------------------- */

#define GEOMETRY_TICKS_PER_M 320000.0 /* a plan corner is a whole number of 3.125 um */

struct geometry_corner {
    int64_t x_tick;
    int64_t y_tick;
};

/* A closed line of corners, edge i from corner i to the next. Either way round. */
struct geometry_ring {
    const struct geometry_corner *corners;
    size_t count;
};

/* The first ring goes round the house, the others round its courtyards. */
struct geometry_outline {
    const struct geometry_ring *rings;
    size_t count;
};

enum geometry_outline_fault {
    GEOMETRY_OUTLINE_FINE = 0,
    GEOMETRY_OUTLINE_TOO_FEW,  /* a ring of fewer than three corners */
    GEOMETRY_OUTLINE_TOO_WIDE, /* wider than 1 km: no house */
    GEOMETRY_OUTLINE_SHORT,    /* an edge shorter than 1 mm: a corner said twice */
    GEOMETRY_OUTLINE_SPIKE,    /* two edges that run back on each other, within 0.3 degrees */
    GEOMETRY_OUTLINE_CROSSES,  /* two edges cross, or come within 0.1 mm of each other */
    GEOMETRY_OUTLINE_OUTSIDE   /* a courtyard that is not inside the first ring, or in another */
};

struct geometry_outline_check {
    enum geometry_outline_fault fault;
    size_t ring; /* and edge (corner for SPIKE): where */
    size_t edge;
    size_t other_ring; /* CROSSES: the edge it meets; OUTSIDE: the ring it lies in */
    size_t other_edge;
};

/* Signs of crossings are exact (integers). Work grows with the square of the corners. */
struct geometry_outline_check geometry_check_outline(const struct geometry_outline *outline);

enum geometry_arc_kind {
    GEOMETRY_ARC_RIDGE = 0, /* level, both faces fall away */
    GEOMETRY_ARC_HIP,       /* falls, both faces fall away */
    GEOMETRY_ARC_VALLEY,
    GEOMETRY_ARC_SEAM, /* between two faces of one plane */
    GEOMETRY_ARC_GABLE /* at a vertical plane: a gable's, or the step between unlike pitches */
};

struct geometry_skeleton_node {
    struct geometry_point at;
    double height_m; /* above the eaves */
};

struct geometry_skeleton_arc {
    enum geometry_arc_kind kind;
    size_t from; /* nodes; never falling: from the lower one */
    size_t to;
    size_t left; /* edges, counted through all rings; SIZE_MAX = a vertical plane without an edge */
    size_t right;
};

/* The face that rises from one edge: nodes counter-clockwise, the edge's own two first. A flat roof
 * may run all round a steep courtyard: then clockwise rings of nodes follow. A gable's face stands
 * on its edge: no nodes. */
struct geometry_skeleton_face {
    const size_t *nodes;
    size_t count;            /* nodes of all rings */
    const size_t *ring_ends; /* [ring_count]: ring k ends before nodes[ring_ends[k]] */
    size_t ring_count;
    struct geometry_plane plane; /* height above the eaves */
    double plan_area_m2;
};

struct geometry_skeleton {
    const struct geometry_skeleton_node *nodes; /* first the corners, counter-clockwise */
    size_t node_count;
    const struct geometry_skeleton_arc *arcs;
    size_t arc_count;
    const struct geometry_skeleton_face *faces; /* [edge_count] */
    size_t edge_count;
    size_t steps; /* events worked out, for those who count work */
    double
        event_m; /* what was taken as one event: GEOMETRY_EVENT_M; more where many of them crowd */
};

#define GEOMETRY_SKELETON_WALL SIZE_MAX /* beside an arc: a vertical plane without an edge */

enum geometry_skeleton_state {
    GEOMETRY_SKELETON_WHOLE = 0,
    GEOMETRY_SKELETON_UNREACHED, /* part of the plan lies before no eave: its edges are gables */
    GEOMETRY_SKELETON_LOST,      /* not worked out: the events lie too near each other */
    GEOMETRY_SKELETON_NO_MEMORY
};

/*
 * The roof over an outline: every edge moves inward, level, speeds_1[edge] metres for each metre of
 * height (1 / pitch; 0 = a gable, which stands still), and its face is what it sweeps. Two edges
 * in one line (within 1 mm in 1 m) of unlike speed have a vertical step between them.
 *
 * Needs   an outline that geometry_check_outline calls fine, its rings in the sense they were
 *         given: outer ring and speeds counter-clockwise, courtyards clockwise
 *         (geometry_is_clockwise says which).
 * Gives   faces whose plan areas sum to the outline's; heights above the eaves. Points are double
 *         metres, in the outline's own place. Events nearer than GEOMETRY_EVENT_M are one event.
 * Source  SRC-106 (MEMORY): the skeleton, and its weights. The contact of fronts by angles about a
 *         point is our own (DERIVED).
 */
enum geometry_skeleton_state geometry_find_skeleton(struct base_arena *arena,
                                                    const struct geometry_outline *outline,
                                                    const double *speeds_1,
                                                    struct geometry_skeleton *skeleton);

bool geometry_is_clockwise(const struct geometry_ring *ring);

#endif
