/* SPDX-License-Identifier: Apache-2.0 */
/*
 * job: the job as written, with the place of everything. Nothing is worked out here.
 *
 * Walk      before: tree, units. after: measure and every later room.
 * Memory    texts point into the source or the arena.
 *
 * A quantity that was not said has given = false; the room that needs it takes an assumption and
 * says so. Eaves are walked with the house on the left hand: `from` is the left end seen from the
 * ground facing the house.
 */
#ifndef EAVESMITH_JOB_H
#define EAVESMITH_JOB_H

#include "job/job_eave.h"
#include "job/job_outline.h"
#include "job/job_rain.h"

enum { JOB_WING_EDGES = 4 /* of a rectangle */, JOB_EDGES_MAX = 16 };

enum job_end_kind { JOB_END_CAP = 0, JOB_END_OUTSIDE, JOB_END_INSIDE, JOB_END_WALL };
enum job_edge_kind { JOB_EDGE_EAVE = 0, JOB_EDGE_GABLE, JOB_EDGE_WALL };
/* Share of a wall above a roof that counts as plan area: wind-driven rain. */
enum job_wall_rain {
    JOB_WALL_RAIN_HALF = 0, /* when nothing is said */
    JOB_WALL_RAIN_HALF_10_M,
    JOB_WALL_RAIN_QUARTER,
    JOB_WALL_RAIN_NONE
};
enum job_basis { JOB_BASIS_HANDBOOK = 0, JOB_BASIS_US_CODE, JOB_BASIS_EN };

struct job_run_end {
    enum job_end_kind kind;
    double corner_rad; /* outside or inside: plan angle between the two eaves, default 90 deg */
    bool taped; /* `outside corner taped`: the angle is that of its three lengths, in checks */
    struct base_mark mark;
};

/* runs: the tape path */
struct job_run {
    struct base_text name;
    struct base_mark mark; /* of the run's entry */
    struct job_length length;
    enum job_line taped_on;
    struct job_length depth; /* level, roof edge to ridge or wall */
    bool depth_up_the_roof;  /* `up the roof:` was given instead: along the slope */
    struct job_number pitch; /* tangent */
    struct job_run_end from;
    struct job_run_end to;
    struct job_length eave_height;
    struct job_length overhang;
    struct job_length wall_above; /* height of the wall above the roof's upper edge */
    struct job_length sag;        /* of the eave, in its middle below the line of its ends */
    bool no_wall; /* `wall: none`: open posts; a downspout has nothing to be strapped to */
    struct job_section section;
    bool has_section;
    struct job_curve curve; /* length is then the arc's, where it was not said itself */
};

/* checks: sizes taped across the house, and sizes given already, taped once more.
 *   {name: long diagonal, from: south from, to: east to, length: 51' 6 1/2"}
 *   {ridge of: hall, length: ...}, {rise of: ...}, {width of: ...}, {depth of: ...}
 *   {corner: south to, legs: [3', 4'], across: 5'}: the angle there by three lengths */
enum job_check_kind {
    JOB_CHECK_BETWEEN = 0,
    JOB_CHECK_RIDGE, /* length of the wing's ridge */
    JOB_CHECK_RISE,  /* eave to ridge, plumb */
    JOB_CHECK_WIDTH,
    JOB_CHECK_DEPTH,
    JOB_CHECK_CORNER
};
struct job_check {
    enum job_check_kind kind;
    struct base_text name; /* as given, or "hall ridge", "south to" */
    struct base_mark mark;
    struct job_outlet from;   /* BETWEEN; CORNER: a run's from or to */
    struct job_outlet to;     /* BETWEEN */
    size_t wing;              /* the others: index in wings */
    struct job_length length; /* CORNER: across */
    struct job_length legs[2];
    enum job_line taped_on; /* BETWEEN */
};

/* measurements: {use: as said | adjusted, leave long: yes | no, least doubt: 1/2"}
 * What the later rooms make of the doubt in the measurements. */
struct job_measuring {
    bool use_adjusted;             /* runs are laid out from the adjusted lengths and corners */
    bool keep_to_length;           /* leave long: no - nothing is left long for the doubt */
    struct job_length least_doubt; /* a smaller doubt leaves nothing long; not given = the shop's */
    struct base_mark mark;
};

/* wings: the plan path. A rectangle stands on its corner, a regular polygon (turret) about its
 * centre, a bay (half polygon) against an edge of a wing before it. */
enum job_shape { JOB_SHAPE_RECTANGLE = 0, JOB_SHAPE_POLYGON, JOB_SHAPE_BAY };
/* `flat deck`: a level roof behind a parapet whose water leaves by one scupper. */
struct job_deck {
    bool given;
    int edge;             /* the scupper's, from 0 */
    struct job_length at; /* its middle, from the edge's left end */
    struct job_length width;
    struct job_length lowest_edge; /* of the deck, above the scupper's sill */
    bool has_onto;
    struct job_outlet onto; /* the gutter it empties into; else it falls on what is below */
};

struct job_wing {
    struct base_text name;
    struct base_mark mark;
    enum job_shape shape;
    int sides;             /* polygon, bay: of the whole regular polygon; 0 = refused */
    int64_t corner_x_tick; /* the corner, or the polygon's centre */
    int64_t corner_y_tick;
    struct job_length width;      /* rectangle: along x before turning */
    struct job_length depth;      /* rectangle: along y before turning */
    struct job_length across;     /* flat to flat, or */
    struct job_length face;       /* one side */
    struct job_length stands_out; /* bay: wall to its front; not given = half of across */
    struct job_outlet against;    /* bay: the wing's edge and the place of the bay's middle */
    double turn_rad;              /* counter-clockwise about corner or centre */
    struct job_length eave_height;
    struct job_number pitch;
    enum job_edge_kind edges[JOB_EDGES_MAX]; /* walked counter-clockwise. Rectangle: south, east,
                                                north, west. Polygon: from the south one. Bay: from
                                                the left end at the wall, the wall last. */
    struct job_number edge_pitch[JOB_EDGES_MAX]; /* not given = the wing's pitch */
    bool no_gutter[JOB_EDGES_MAX];               /* its water drips onto what is below */
    struct job_length upper_begins; /* gambrel, mansard, flared eave: level, from the roof edge */
    struct job_number upper_pitch;
    struct job_number saddle; /* pitch of the two slopes behind it where it stands across a roof */
    struct job_deck deck;     /* its edges are then parapets, said as gables */
    struct job_length wall_above; /* over its wall edges where no wing of this job stands */
    struct job_length overhang;
    struct job_section section;
    bool has_section;
    struct job_section *edge_sections; /* [job_count_edges], `eave sections:`; NULL = none; one of
                                          unknown wood: the wing's */
};

/* pieces: an order without a house */
enum job_piece_kind {
    JOB_PIECE_GUTTER = 0,
    JOB_PIECE_END_CAP_LEFT,
    JOB_PIECE_END_CAP_RIGHT,
    JOB_PIECE_MITRE_OUTSIDE,
    JOB_PIECE_MITRE_INSIDE,
    JOB_PIECE_OUTLET,
    JOB_PIECE_STRAINER,
    JOB_PIECE_DOWNSPOUT,
    JOB_PIECE_ELBOW,
    JOB_PIECE_SHOE,
    JOB_PIECE_BRACKET,
    JOB_PIECE_STRAP
};
struct job_piece {
    enum job_piece_kind kind;
    struct job_text size;     /* "5 in"; gutter or pipe size by kind */
    int64_t count;            /* default 1 */
    struct job_length length; /* gutter, downspout */
    double angle_rad;         /* mitre: plan angle, default 90; elbow: default 60 */
    struct base_mark mark;
};

struct job {
    struct base_text title; /* job: */
    struct job_text customer;
    struct job_text address;
    struct job_text date; /* ISO text as written; papers print it; validity counts from it */
    enum units_system system;
    struct job_length round; /* papers' rounding */
    struct job_rain rain;
    struct job_number lowest; /* degrees C */
    struct job_number highest;
    struct job_number snow; /* ground snow, Pa */
    struct job_run *runs;
    size_t run_count;
    struct job_wing *wings;
    size_t wing_count;
    struct job_outline outline;
    struct job_piece *pieces;
    size_t piece_count;
    struct job_section section; /* the house's own, when an eave says nothing */
    bool has_section;
    struct job_text gutter_size; /* not given or auto = chosen */
    struct job_text gutter_sheet;
    struct job_number fall;     /* ratio; given 0 = level */
    struct job_length run_past; /* past the roof edge at free ends */
    bool wants_aprons; /* gutter: {aprons: yes, splash pieces: yes}: made where the water asks for
                          them; else only advised */
    bool wants_splash_pieces;
    enum job_basis basis; /* water: {basis: handbook} */
    enum job_basis area;  /* water: {area: plan}: the rule for the area, where it is not the basis's
                             own: pitch factor (handbook), plan (US), half rise (EN) */
    enum job_basis leader;        /* water: {leader: 7/24}: the rule for downspouts, likewise */
    enum job_wall_rain wall_rain; /* water: {wall rain: half to 10 m} */
    bool area_given;
    bool leader_given;
    bool strained; /* water: {strainer: yes} */
    bool strained_given;
    bool wall_rain_given;
    struct job_number manning;
    struct job_length
        settled; /* water: {settled: 1/2", sagged: 1/4", ice: 1"}: what may go wrong */
    struct job_length sagged;
    struct job_length ice;
    struct job_text pipe_size; /* outlets: {downspout: plain round 3 in} */
    bool small_porch_pipe; /* outlets: {small porch: yes}: lets a downspout under 3 in / 7 in2 */
    enum job_discharge discharge; /* outlets: {discharge: ...} for all */
    struct job_outlet *outlets;   /* at: */
    size_t outlet_count;
    bool outlets_given;
    struct job_outlet *allowed; /* allowed: the layout picks among them */
    size_t allowed_count;
    struct job_outlet *keep_out; /* keep out: [{from: porch at 4', to: porch at 8'}] pairs: no joint
                                    between them */
    size_t keep_out_count;       /* even */
    struct job_check *checks;
    size_t check_count;
    struct job_measuring measuring; /* measurements: */
    struct job_survey *surveys;
    size_t survey_count;
    struct job_found *found; /* as found: */
    size_t found_count;
    struct job_text prices_file;
};

/* Edges of the wing's plan; 0 where the plan was refused. */
size_t job_count_edges(const struct job_wing *wing);
/* Corners of a polygon (about the origin) or bay (its wall the x axis) as geometry makes them,
 * edge i from corner i to the next. Gives their number, at most JOB_EDGES_MAX; 0 = refused. */
size_t job_make_polygon(const struct job_wing *wing, struct geometry_point corners[]);

/* Every fault of the file is found in one go; BASE_STOPPED when there is any. Unknown keys name the
 * nearest known one; lengths show both readings of a bare number. */
enum base_status job_read(struct base_arena *arena, struct base_issues *issues,
                          const struct tree_node *root, struct job *job);

#endif
