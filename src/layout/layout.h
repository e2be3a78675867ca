/* SPDX-License-Identifier: Apache-2.0 */
/*
 * layout: what should be built: runs, outlets, high points, falls, sizes, downspout routes.
 *
 * Walk      before: roof (eaves and their water), shop, rain, hydraulics. after: hang, joints,
 * pieces.
 *
 * A line is a chain of eaves joined at corners, one gutter that water can run through. Between two
 * outlets it has one high point, in the middle, so that outlets of a line lie at one level. A reach
 * is the stretch from a high point (or a closed end) to an outlet. Positions on a run are ticks
 * from the gutter's left end, along its back edge.
 *
 *    end cap                      high point                 corner
 *      |----o-------<-----------------^---------->--------o----.
 *        outlet       reach                 reach     outlet   |
 */
#ifndef EAVESMITH_LAYOUT_H
#define EAVESMITH_LAYOUT_H

#include "base/base.h"
#include "hydraulics/hydraulics.h"
#include "job/job.h"
#include "layout/layout_catch.h"
#include "layout/layout_choices.h"
#include "layout/layout_often.h"
#include "roof/roof.h"
#include "shop/shop.h"

enum { LAYOUT_BASES = 3 }; /* in the order of enum job_basis */

/* One straight gutter: one eave. */
struct layout_run {
    struct base_text name; /* the eave's */
    size_t eave;
    size_t line;
    int64_t
        length_tick;    /* along the back edge, end to end (corner points where there is a mitre) */
    int64_t shift_tick; /* eave's left end measured on the gutter: x_gutter = x_eave + shift */
    double line_start_m;   /* where its left end lies on the line */
    int64_t lip_high_tick; /* lip below the roof edge at the run's higher end */
    int64_t lip_low_tick;  /* and at its lower end: the lowest place of the run */
    int64_t high_x_tick;   /* the run's highest place */
    int64_t low_x_tick;
    bool left_is_free; /* end cap at the left */
    bool right_is_free;
    struct layout_catch caught;
};

struct layout_outlet {
    struct base_text name; /* "porch.outlet.1" */
    size_t run;
    size_t line;
    int64_t x_tick; /* centre, from the gutter's left end */
    double line_m;
    enum job_discharge discharge;
    size_t onto_run; /* its pipe ends in that run's gutter; SIZE_MAX = on the ground */
    int64_t onto_x_tick;
    struct base_mark mark;
    double flow_m3s;        /* design flow, from both sides */
    size_t pipe;            /* index into shop->pipes */
    int64_t tube_tick;      /* outside diameter of the outlet tube */
    double inside_m;        /* its clear width */
    double head_m;          /* water the outlet needs over its rim for that flow, strained or not */
    double outlet_flow_m3s; /* what it passes with the gutter full */
    double pipe_flow_m3s;   /* what the downspout passes */
    double offset_flow_m3s; /* what its offset passes running full; 0 = straight */
    double drain_flow_m3s; /* what the drain at its foot passes, at 1/8 in per ft; 0 = none given */
    double barrel_full_m;  /* of rain that fills a barrel at its foot; 0 where there is none */
    bool offset_limits;    /* the offset lies so flat that it counts as a drain */
    bool strained;
    bool passes;
    struct layout_blocked blocked;
};

/* A further offset, out over a belt course or the water table. */
struct layout_jog {
    int64_t over_tick;   /* top of what it clears, above ground */
    int64_t offset_tick; /* outwards */
    double elbow_rad;
    int64_t travel_tick; /* as below */
    bool water_table;
};

/* Straight pipe at the wall, from the top down; between two of them stands a jog. */
struct layout_straight {
    int64_t top_tick; /* above ground */
    int64_t bottom_tick;
    int64_t stand_tick; /* wall to the back of the pipe */
};

/* The route from outlet to foot. */
struct layout_downspout {
    size_t outlet;
    bool measured; /* height and overhang were given: lengths are computed; else cut on site */
    int64_t offset_tick;   /* centre of outlet to centre of pipe, level */
    double elbow_rad;      /* turn of each of the two elbows; 0 = straight drop */
    int64_t travel_tick;   /* straight piece of the offset, with its laps; 0 = elbows meet */
    int64_t vertical_tick; /* all straight pipe at the wall, before cutting */
    int64_t top_tick;      /* upper end of the first straight pipe above ground */
    int64_t bottom_tick;   /* lower end of the last above ground */
    int64_t foot_tick;     /* lower end of the shoe above ground */
    size_t survey;         /* index in job->surveys; SIZE_MAX = none: the offset is cut on site */
    int64_t ground_tick;   /* roof edge to the ground there */
    int64_t back_tick;     /* wall to the gutter's back edge */
    struct layout_straight *straights; /* [jog_count + 1] where measured */
    struct layout_jog *jogs;           /* [jog_count] from the top down */
    size_t jog_count;
};

struct layout_check {
    enum job_basis basis;
    double flow_m3s;     /* what this rule asks the gutter to carry */
    double capacity_m3s; /* what it says this size carries; 0 = the rule has no figure for it */
    bool has_figure;
    bool passes;
};

struct layout_reach {
    struct base_text name; /* "porch.reach.1" */
    size_t line;
    size_t outlet;
    bool towards_right; /* water runs towards the line's right end */
    double still_m;     /* on the line: where the water divides or the end is closed */
    double outlet_m;    /* on the line */
    int64_t length_tick;
    double slope_1;
    const struct hydraulics_bend *bends; /* [bend_count] corners on the way, from the still end;
                                      kept only in the layout that was chosen */
    size_t bend_count;
    double plan_area_m2;
    double flow_m3s;       /* on the deciding basis */
    double needed_width_m; /* handbook width for that flow */
    struct layout_check checks[LAYOUT_BASES];
    struct hydraulics_profile profile;        /* the physics of the same flow */
    const struct hydraulics_channel *channel; /* it was asked of */
    double holds_s;     /* water in it in the design rain over its flow; 0 where none comes */
    double freeboard_m; /* lip over the greatest depth; negative never: see profile.overflows */
    struct layout_often often;
};

struct layout_high_point {
    struct base_text name;
    size_t run;
    int64_t x_tick; /* on that run */
    double line_m;
};

struct layout_line {
    size_t first_run; /* runs of a line are consecutive in runs[] */
    size_t run_count;
    bool is_ring;
    double length_m;
    size_t profile;  /* index into shop->profiles */
    bool size_given; /* the job fixed it */
    bool passes;
    double slope_1;
    double top_rise_m; /* highest high point over the outlets */
    double lip_top_m;  /* lip below the roof edge at that highest point */
    const char *sheet;
};

/* What an upper outlet sends into a reach below: that share of all it passes. */
struct layout_feed {
    size_t outlet;
    size_t reach;
    double share_1;
};

/* A flat deck, whose water leaves by one scupper. */
struct layout_deck {
    size_t wing;         /* in job->wings */
    double plan_area_m2; /* that leaves by it */
    double flow_m3s;
    int64_t width_tick; /* of the scupper; 0 = not said: no depth is worked out */
    double depth_m;     /* of the water standing at its sill in the design rain */
    int64_t edge_tick;  /* the deck's lowest edge above that sill: said, or the shop's */
};

struct layout {
    double rain_mps;
    double rain_s;
    double rain_years;
    enum job_basis basis;
    enum job_basis area; /* whose area rule the deciding flow takes: the basis's own, or as said */
    enum job_basis leader; /* whose rule for downspouts */
    bool strained;
    double manning_1;
    struct layout_line *lines;
    size_t line_count;
    struct layout_run *runs;
    size_t run_count;
    struct layout_outlet *outlets; /* by line, then along the line */
    size_t outlet_count;
    struct layout_downspout *downspouts; /* [outlet_count] */
    struct layout_reach *reaches;
    size_t reach_count;
    struct layout_feed *feeds; /* [feed_count] */
    size_t feed_count;
    struct layout_high_point *high_points;
    size_t high_point_count;
    struct layout_valley *valleys; /* [roof->pour_count] */
    struct layout_deck *decks;
    size_t deck_count;
    struct layout_choices choices;
    struct layout_amounts amounts;
    bool years_known;       /* a rain table was given */
    bool brief;             /* as asked: no often, blocked, catch, choices or feeds */
    size_t profiles_solved; /* counted work */
    size_t candidates_tried;
};

struct layout_input {
    const struct job *job;
    const struct shop *shop;
    const struct roof *roof;
    double rain_mps;
    double rain_s;
    double rain_years;
    const struct rain_table *table; /* NULL = the job gives one rain only */
    bool brief; /* how often it fails, what it catches and the other choices are not asked */
};

enum base_status layout_choose(struct base_arena *arena, struct base_issues *issues,
                               struct base_trace *trace, const struct layout_input *input,
                               struct layout *layout);

/*
 * The water along a reach in factor_1 times the design rain, in the gutter as it was chosen; all
 * its outlet passes grows by the same factor. Over the lip: see profile->overflows. False when
 * memory failed.
 */
bool layout_find_profile(struct base_arena *arena, const struct layout *layout, size_t reach,
                         double factor_1, struct hydraulics_profile *profile);
/* Fall at a place of a run, below the line's highest point. */
double layout_fall_at(const struct layout *layout, size_t run, double x_m);
/* Lip of the gutter below the roof edge at a place of a run. */
double layout_lip_at(const struct layout *layout, size_t run, double x_m);
/* True when water at that place of the run runs towards the run's right end. */
bool layout_flows_right(const struct layout *layout, size_t run, double x_m);

#endif
