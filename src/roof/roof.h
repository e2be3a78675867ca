/* SPDX-License-Identifier: Apache-2.0 */
/*
 * roof: faces, ridges, hips, valleys, eaves; where each square foot of rain goes.
 *
 * Walk      before: job, measure. after: layout.
 * A wing's roof is the lower envelope of the planes of its eave edges over its plan; a wall edge
 * that abuts another wing lets the roof run on over that wing until it dies in its roof; the house
 * is the upper envelope of its wings. A run (tape path) is one eave with a uniform inflow and no
 * faces.
 */
#ifndef EAVESMITH_ROOF_H
#define EAVESMITH_ROOF_H

#include "base/base.h"
#include "geometry/geometry.h"
#include "job/job.h"

enum roof_line_kind {
    ROOF_LINE_EAVE = 0,
    ROOF_LINE_RIDGE,
    ROOF_LINE_HIP,
    ROOF_LINE_VALLEY,
    ROOF_LINE_GABLE,
    ROOF_LINE_WALL,
    ROOF_LINE_BREAK,     /* one edge's roof changes its pitch: gambrel, mansard */
    ROOF_LINE_BARE_EAVE, /* an eave that shall have no gutter */
    ROOF_LINE_KINDS
};

struct roof_line {
    enum roof_line_kind kind;
    struct geometry_point from;
    struct geometry_point to;
    double from_z_m;
    double to_z_m;
};

/* A convex piece of a roof face as seen from above. */
struct roof_face {
    size_t wing; /* index into job->wings */
    int edge;    /* 0..3: the eave edge it drains to */
    struct geometry_plane plane;
    struct geometry_polygon outline;
    double plan_area_m2;
};

/* Inflow along the eave: level width of roof behind it (m2 of plan per m of eave), linear between
 * knots. */
struct roof_knot {
    double x_m;     /* from the eave's left end */
    double width_m; /* level depth of roof that drains straight down to here */
};

/* Water that a valley (or a higher roof edge) pours in at one place. */
struct roof_pour {
    double x_m; /* from the eave's left end */
    double plan_area_m2;
    double wall_area_m2; /* of it, what stands for walls above */
    double pitch_1; /* of the face it came from, for the pitch factor: the steepest when several */
    struct base_text from; /* "valley" name, e.g. "hall.valley.1" */
    struct base_text onto; /* the eave's name */
    bool drip;             /* off a higher eave without gutter */
};

struct roof_eave {
    struct base_text name; /* "porch" or "hall.3", "hall.3a" where another roof splits the edge */
    size_t wing;           /* SIZE_MAX for a run */
    int edge;              /* 0..3; -1 for a run */
    size_t run;            /* index into job->runs; SIZE_MAX for a wing's eave */
    bool of_outline;       /* edge counts the outline's, as written, from 0; no wing, no run */
    struct geometry_point from; /* plan; runs without a plan are laid from (0,0) along x */
    struct geometry_point to;
    int64_t length_tick;  /* along the roof edge */
    double pitch_1;       /* at the edge */
    double area_pitch_1;  /* of the steepest roof behind the edge, for rules that count by pitch */
    double eave_height_m; /* ground to roof edge; 0 = not given */
    bool has_height;
    double overhang_m;
    bool has_overhang;
    bool no_wall;
    struct job_run_end from_end; /* cap (free), outside or inside corner, wall */
    struct job_run_end to_end;
    size_t next; /* eave that follows round the corner at `to`; SIZE_MAX = none */
    size_t previous;
    int64_t tail_shift_tick; /* distance of this eave's left end from where the job's tails are
                                counted (a split edge) */
    struct roof_knot *knots; /* [knot_count] */
    size_t knot_count;
    double plan_area_m2; /* drains straight to it, what stands for walls above with it */
    double wall_area_m2; /* of it, the latter */
    struct geometry_polygon *catchment; /* convex pieces [catchment_count]; none for a run */
    size_t catchment_count;
    struct job_section
        section; /* the section that holds for it; wood unknown when none was given */
};

/* What becomes of water that leaves the roof elsewhere than at an eave with its gutter. */
enum roof_end {
    ROOF_END_EAVE = 0, /* a lower eave's gutter takes it */
    ROOF_END_ROOF,     /* a lower roof that itself has no gutter there */
    ROOF_END_GROUND,
    ROOF_END_LOST, /* over an edge where there is no eave: issue ROOF_STRAY */
    ROOF_END_PIT   /* to a place between roofs that has no way out: issue ROOF_PIT */
};

/* One line of the graph of who drains to whom: water over an eave that shall have no gutter, or
 * water that is lost. */
struct roof_link {
    struct base_text from; /* the edge it leaves by: "hall.3" */
    size_t wing;           /* SIZE_MAX = the outline's */
    int edge;
    bool bare;    /* it is an eave without gutter, or */
    bool scupper; /* a parapet with a flat deck's scupper */
    enum roof_end end;
    size_t onto;              /* EAVE: index in eaves; ROOF: wing */
    double area_m2;           /* of all that leaves here on this way */
    struct geometry_point at; /* LOST, PIT: the place of the most of it; the scupper's */
    double most_m2;
    double x_m; /* of the place, from the edge's left end */
};

struct roof {
    struct roof_face *faces;
    size_t face_count;
    struct roof_line *lines;
    size_t line_count;
    struct roof_eave *eaves; /* in walking order: runs first, then wings as written */
    size_t eave_count;
    struct roof_pour *pours;
    size_t pour_count;
    struct roof_link *links; /* in walking order of their edges */
    size_t link_count;
    double plan_area_m2; /* of the whole roof */
    /* What stands for walls above roofs (wind-driven rain): by the job's rule, half their area when
     * it says none. plan_area_m2 + wall_area_m2 = the sum of eaves, pours, ground, stray (law 2).
     */
    double wall_area_m2;
    double ground_plan_area_m2; /* drips to the ground off eaves that shall have no gutter */
    double stray_plan_area_m2;  /* runs off where there is no eave: 0, or issue ROOF_STRAY */
    size_t looks;               /* at pieces of roof, of wings: for those who count work */
};

/* Gives BASE_STOPPED with an issue where the wings do not make a roof (no eave, overlapping eaves
 * at the same height, ...). */
enum base_status roof_find(struct base_arena *arena, struct base_issues *issues,
                           const struct job *job, struct roof *roof);

/* The place stands on this eave (which may be a part of the edge it names). */
bool roof_is_on(const struct job *job, const struct roof_eave *eave,
                const struct job_outlet *place);

/* The wing (other than skip) whose plan covers the point and whose eave stands lower than z;
 * SIZE_MAX = none. For downspout routes. */
size_t roof_find_below(const struct roof *roof, const struct job *job, struct geometry_point at,
                       double z_m, size_t skip);

#endif
