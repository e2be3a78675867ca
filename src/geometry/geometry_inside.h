/* SPDX-License-Identifier: Apache-2.0 */
/*
 * geometry, inside: the moving front of a straight skeleton. Not for other rooms.
 *
 * geometry_rings.c     outlines: exact checks
 * geometry_front.c     lines, vertices and how they move
 * geometry_meeting.c   where the front meets itself
 * geometry_events.c    what happens next, and when
 * geometry_skeleton.c  from arcs to faces
 */
#ifndef EAVESMITH_GEOMETRY_INSIDE_H
#define EAVESMITH_GEOMETRY_INSIDE_H

#include "geometry/geometry.h"

#define GEOMETRY_NONE       SIZE_MAX
#define GEOMETRY_STRAIGHT_1 1e-3 /* two edges that turn less are in one line */

/* The lines that move: one an edge, then the walls that stand still. Point x is on line i at height
 * t where normal . x = offset + speed t. Arrays of one thing each: they are searched for what a
 * vertex runs into, all of them each time. */
struct geometry_lines {
    double *normal_x_1; /* unit, inward */
    double *normal_y_1;
    double *offset_m;
    double *speed_1;
    size_t count;
    size_t room;
};

/* A corner of the front. It starts from node at height since and runs level at velocity. Line `in`
 * comes before it, line `out` after it, the inside on the left. */
struct geometry_vertex {
    struct geometry_point at;
    struct geometry_point velocity_1;
    double since_m;
    size_t in;
    size_t out;
    size_t previous;
    size_t next;
    size_t node;
    size_t line_limit; /* lines there were when it was made: later ones have events of their own */
    size_t place;      /* in front->moving; GEOMETRY_NONE = it has ended */
    uint32_t seen;     /* resolve that counts it as a member */
    bool reflex;
    bool fresh; /* put on an edge to be a member: it has no arc behind it */
};

enum geometry_event_kind { GEOMETRY_EVENT_SHRUNK = 0, GEOMETRY_EVENT_RUN_IN, GEOMETRY_EVENT_WALL };

/* SHRUNK: the edge from vertex to its next, `other`. RUN_IN: vertex reaches line `other`; WALL: the
 * same with a line made after the vertex. */
struct geometry_event {
    double at_m;
    size_t vertex;
    size_t other;
    enum geometry_event_kind kind;
};

struct geometry_front {
    struct base_arena *arena;
    size_t edge_count;
    double event_m; /* what is one event */
    double reach_m; /* how far the members of the last meeting stood from its place */
    double now_m;
    struct geometry_lines lines;
    struct geometry_vertex *vertices;
    size_t vertex_count;
    size_t vertex_room;
    size_t *moving; /* vertices that have not ended */
    size_t moving_count;
    size_t moving_room;
    struct geometry_event *heap;
    size_t heap_count;
    size_t heap_room;
    size_t *zips; /* vertices between two edges that lie on each other */
    size_t zip_count;
    size_t zip_room;
    struct geometry_skeleton_node *nodes;
    size_t node_count;
    size_t node_room;
    struct geometry_skeleton_arc *arcs;
    size_t arc_count;
    size_t arc_room;
    uint32_t stamp;
    size_t steps;
    size_t steps_max;
    bool failed; /* the arena has failed */
    bool lost;
};

/* ---- lines and places ------------------------------------------------------------------------ */

struct geometry_point geometry_line_along(const struct geometry_front *front, size_t line);
struct geometry_point geometry_line_normal(const struct geometry_front *front, size_t line);
struct geometry_point geometry_vertex_at(const struct geometry_front *front, size_t vertex);
double geometry_to_segment(struct geometry_point a, struct geometry_point b,
                           struct geometry_point at);
double geometry_line_gap(const struct geometry_front *front, size_t line, struct geometry_point at);

/* geometry_front.c */
size_t geometry_add_line(struct geometry_front *front, struct geometry_point normal,
                         double offset_m, double speed_1);
size_t geometry_add_node(struct geometry_front *front, struct geometry_point at, double height_m);
void geometry_add_arc(struct geometry_front *front, struct geometry_skeleton_arc arc);
size_t geometry_add_vertex(struct geometry_front *front, size_t in, size_t out, size_t node);
void geometry_end_vertex(struct geometry_front *front, size_t vertex);
void geometry_link(struct geometry_front *front, size_t vertex, size_t next);
/* Gives it its velocity, or a wall before it, or calls it a zip; its neighbours are linked. */
void geometry_start_vertex(struct geometry_front *front, size_t vertex);
/* Of its two neighbours the nearer: where the edges of a zip stop lying on each other. */
size_t geometry_nearer_neighbour(const struct geometry_front *front, size_t vertex);

/* geometry_meeting.c */
/*
 * Everything within one event of the place, now, meets there. And in any case: the two ends of the
 * edge after the vertex `shrunk`, a place on the edge after the vertex `met`; GEOMETRY_NONE = none.
 */
struct geometry_contact {
    struct geometry_point at;
    size_t shrunk;
    size_t met;
};
void geometry_resolve(struct geometry_front *front, const struct geometry_contact *contact);

/* geometry_events.c */
void geometry_expect_vertex(struct geometry_front *front, size_t vertex); /* what it runs into */
void geometry_expect_edge(struct geometry_front *front, size_t vertex);   /* when it shrinks away */
void geometry_expect_wall(struct geometry_front *front, size_t line);     /* who runs into it */
void geometry_run(struct geometry_front *front);

#endif
