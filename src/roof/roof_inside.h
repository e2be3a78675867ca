/* SPDX-License-Identifier: Apache-2.0 */
/*
 * roof, inside: what its files share. Not for other rooms.
 *
 * roof_runs.c     the tape path: runs to eaves
 * roof_wings.c    the plan path: wings to planes and to the pieces one sees from above
 * roof_cover.c    what hides what
 * roof_merge.c    pieces that can be one
 * roof_drain.c    pieces to strips, strips to eaves and valleys
 * roof_drop.c     where troughs, drips and scuppers let water out
 * roof_eaves.c    eaves with their ends and catchments
 * roof_inflow.c   what comes down along an eave: knots, and pours at one place
 * roof_links.c    who drains to whom past the eaves with gutters, and what is lost where
 * roof_walls.c    what walls above roofs add
 * roof_lines.c    ridges, hips, valleys and edges for drawing
 */
#ifndef EAVESMITH_ROOF_INSIDE_H
#define EAVESMITH_ROOF_INSIDE_H

#include "roof/roof.h"
#include "roof/roof_pieces.h"

#define ROOF_NONE   SIZE_MAX
#define ROOF_NEAR_M (2 * GEOMETRY_EVENT_M) /* two events may each be off by one */
#define ROOF_PROBE_M                                                                               \
    (10 * GEOMETRY_EVENT_M)                  /* how far beyond a line one looks for what is there  \
                                              */
#define ROOF_LEVEL_M (10 * GEOMETRY_EVENT_M) /* heights nearer than this are one height */
/* Plans that are taped to the nearest 1/16 in meet where they miss each other by no more than this.
 * Source: rounding, 2 x 1/32 in and a little. */
#define ROOF_ABUT_M 0.002
#define ROOF_EVEN_1 1e-9 /* slopes nearer than this are one slope */

/* A roof under construction: the result with the room left in its arrays. */
struct roof_build {
    struct base_arena *arena;
    struct base_issues *issues;
    const struct job *job;
    struct roof *roof;
    size_t face_room;
    size_t line_room;
    size_t eave_room;
    size_t pour_room;
    size_t link_room;
    size_t stops_before; /* stops other rooms had found */
    bool failed;         /* the arena has failed */
};

/* One more eave, pour or line at the end of its list; NULL when the arena has failed. */
struct roof_eave *roof_add_eave(struct roof_build *build);
/* Room for so many more. */
bool roof_reserve_eaves(struct roof_build *build, size_t count);
bool roof_reserve_lines(struct roof_build *build, size_t count);
struct roof_pour *roof_add_pour(struct roof_build *build);
struct roof_line *roof_add_line(struct roof_build *build);
struct roof_face *roof_add_face(struct roof_build *build);

void roof_say(struct roof_build *build, enum base_issue_code code, struct base_mark mark,
              struct base_text object, struct base_value value);
/* This room has found that the job makes no roof. */
bool roof_is_stopped(const struct roof_build *build);
/* The section that holds: the eave's own or the house's. */
struct job_section roof_choose_section(const struct job *job, bool has_own,
                                       const struct job_section *own);
/* "hall.valley.2", "hall.drip.1" */
struct base_text roof_name_pour(struct roof_build *build, struct base_text owner, const char *kind,
                                int number);

void roof_find_runs(struct roof_build *build);

/* ---- the plan path ------------------------------------------------------------------------- */

/* An eave edge of a wing and the plane that rises from it. Every place on the plane has a
 * coordinate s along the edge as walked (0 at its left end) and t inward, level. */
struct roof_slope {
    size_t wing;
    int edge;
    struct geometry_point origin; /* the edge's left end */
    struct geometry_point along;  /* unit vectors */
    struct geometry_point inward;
    struct geometry_plane plane;
    double pitch_1;
    double area_pitch_1; /* of the steepest roof behind its edge */
    double eave_z_m;
    size_t other;    /* the same edge's roof beyond its break; ROOF_NONE = there is none */
    double begins_m; /* how far inside the edge that is */
    bool upper;      /* this is the one beyond */
    int64_t length_tick;
    bool flat;              /* a deck: all of it goes to its scupper */
    struct roof_few pieces; /* of what is seen, its own */
    size_t first_cell;      /* its cells are [first_cell, end_cell) */
    size_t end_cell;
};

struct roof_plan {
    struct geometry_point corners[JOB_EDGES_MAX]; /* counter-clockwise, edge i from corner i */
    size_t count;
    struct geometry_polygon outline;  /* views corners */
    struct geometry_polygon reach;    /* the same, run on beyond the wall edges */
    const struct geometry_cut *sides; /* [count] of outline, >= 0 inside */
    struct geometry_box box;
    double eave_z_m;
};

/* What becomes of the water at the lower end of a strip. */
enum roof_way {
    ROOF_WAY_EAVE = 0,
    ROOF_WAY_ON,      /* straight on, on whatever roof lies beyond */
    ROOF_WAY_TROUGH,  /* along a valley or the foot of a wall */
    ROOF_WAY_STRAY,   /* off the roof where there is no eave */
    ROOF_WAY_DRIP,    /* off an eave without gutter, along the fall of the roof below: one place */
    ROOF_WAY_SCUPPER, /* a flat deck: to where its scupper lets it out */
    ROOF_WAY_GROUND   /* off an eave without gutter, to the ground */
};

/* Where a trough pours: a place on an eave. */
struct roof_spout {
    size_t eave;
    double x_m;
};

/* A trapezoid of one slope between two cuts s: everything in it leaves by its lower side. */
struct roof_cell {
    size_t slope;
    size_t piece; /* of what is seen */
    struct geometry_polygon outline;
    double area_m2;
    struct geometry_point low_at[2]; /* ends of the lower side */
    double low_z_m[2];
    struct geometry_point low_along; /* unit vector */
    double low_length_m;
    bool level;  /* the lower side */
    bool traced; /* its trough has been followed from its lower end */
    double s_m[2];
    double low_m[2]; /* t of the lower side at s_m[0] and s_m[1] */
    double high_m[2];
    enum roof_way way;
    bool bare;                     /* its lower side is an eave that shall have no gutter */
    bool to_ground;                /* ROOF_WAY_SCUPPER: it falls to the ground, without a spout */
    struct geometry_point lost_at; /* ROOF_WAY_TROUGH and _DRIP without a spout */
    size_t beyond;                 /* slope beyond the lower side; ROOF_NONE = none */
    size_t part;                   /* ROOF_WAY_EAVE: index of its eave part */
    struct roof_spout spouts[2];   /* ROOF_WAY_TROUGH and _DRIP: where it pours, in equal shares */
    size_t spout_count;            /* two: a level trough that runs out at both ends; 0 = lost */
};

/* The stretch of an eave that belongs to one slope. */
struct roof_part {
    size_t slope;
    double s_m[2];
    size_t eave;
    double x_m; /* of s_m[0] on the eave */
};

/* Rain that comes down between two places of an eave: m2 of plan per metre, linear between. */
struct roof_inflow {
    size_t eave;
    double x_m[2];
    double width_m[2];
    bool wall;                    /* run down a wall */
    const struct roof_cell *from; /* whose rain it is, and between which of its places s */
    double from_s_m[2];
};

struct roof_inflows {
    struct roof_inflow *items;
    size_t count;
    size_t room;
    const size_t *first; /* once sorted: those of eave i are [first[i], first[i + 1]) */
};

/* One stretch of a side of a piece, with the same neighbour all along. */
struct roof_stretch {
    size_t slope;
    struct geometry_point from; /* the piece is to the left */
    struct geometry_point to;
    struct geometry_point out; /* unit vector to the right */
    size_t beyond;             /* slope seen beyond; ROOF_NONE = none */
};

struct roof_house {
    struct roof_build *build;
    struct roof_plan *plans; /* [job->wing_count] */
    struct roof_slope *slopes;
    size_t slope_count;
    bool has_deck;                  /* one of them is flat */
    struct roof_pieces seen;        /* what one sees from above: no two overlap */
    struct roof_pieces spare;       /* room for the list that is being made of another */
    struct roof_stretch *stretches; /* of all sides of what is seen; none until asked for */
    size_t stretch_count;
    size_t stretch_room;
    struct roof_cell *cells; /* slope by slope */
    size_t cell_count;
    size_t cell_room;
    size_t *troughs; /* [trough_count], cells whose trough is not level */
    size_t trough_count;
    struct roof_part *parts;
    size_t part_count;
    size_t part_room;
    struct roof_inflows inflows;
    double stray_m2;
    double ground_m2;
};

void roof_find_wings(struct roof_build *build);
void roof_find_outline(struct roof_build *build); /* roof_outline.c */

/* roof_wings.c */
/* A bay stands against a wing before it, at that wing's wall: as far inside its roof edge as its
 * overhang says, where the edge is an eave. */
void roof_make_plan(const struct job *job, size_t index, struct roof_plan *plan);

/* roof_cover.c: fills house->seen. */
void roof_find_cover(struct roof_house *house);
/* roof_drain.c: cells, and which way each goes. */
void roof_find_cells(struct roof_house *house);
/* The part of an outline on a slope between two places s. */
bool roof_clip_strip(struct roof_house *house, const struct roof_slope *slope,
                     const struct geometry_polygon *outline, const double s_m[2],
                     struct geometry_polygon *strip);
struct geometry_point roof_place(const struct roof_slope *slope, double s_m, double t_m);
double roof_along(const struct roof_slope *slope, struct geometry_point at);
double roof_up(const struct roof_slope *slope, struct geometry_point at);
/* The highest slope seen at the point; ROOF_NONE where there is no roof. */
size_t roof_seen_at(const struct roof_house *house, struct geometry_point at);
/* The same where only a few can be: those near a piece, for a point within ROOF_PROBE_M of it. */
size_t roof_seen_of(const struct roof_house *house, const struct roof_few *few,
                    struct geometry_point at);

/* roof_eaves.c */
void roof_find_eaves(struct roof_house *house); /* from the cells, before water is sent */
void roof_fill_eaves(struct roof_house *house); /* knots and catchments, after */

/* roof_route.c: sends every cell's water to eaves and pours. */
void roof_send_water(struct roof_house *house);

/* roof_lines.c */
/* Every stretch of every side of what one sees from above. */
void roof_list_stretches(struct roof_house *house);
/* The stretch stands on an edge of its wing's plan: which; -1 = on none. */
int roof_find_plan_edge(const struct roof_house *house, const struct roof_stretch *side);
void roof_draw_lines(struct roof_house *house);

#include "roof/roof_water.h"

#endif
