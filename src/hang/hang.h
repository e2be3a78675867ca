/* SPDX-License-Identifier: Apache-2.0 */
/*
 * hang: brackets on wood that is there, and how far below the string each one sits.
 *
 * Walk      before: layout. after: joints, pieces.
 * The string is stretched level through the top hole of the run's highest bracket; every drop is
 * measured down from it to the same hole (the bracket's top fastener hole). Source    spacing 30 in
 * in snow country, 36 in elsewhere: trade/copper e (FOUND); first bracket within 12 in of an end:
 *           COMMON PRACTICE.
 */
#ifndef EAVESMITH_HANG_H
#define EAVESMITH_HANG_H

#include "base/base.h"
#include "layout/layout.h"

struct hang_bracket {
    int64_t x_tick;    /* centre, from the gutter's left end */
    int64_t drop_tick; /* below the string, to the top hole */
    int64_t tail;      /* number of the tail from the left, 1-based; 0 = on a fascia */
};

/* What stands between a plumb-backed bracket and the wood. */
enum hang_fixing {
    HANG_PLUMB = 0, /* nothing: the wood is plumb */
    HANG_WEDGED,    /* a wedge on a square-cut tail */
    HANG_ANGLED,    /* a bracket made with the tail's angle at its base */
    HANG_SIDE       /* shaped tails: a bracket with a side plate, on the tail's side */
};

/* What a run weighs, and how its most loaded bracket holds it: hang_loads.c. */
enum hang_filling { HANG_FULL_OF_WATER = 0, HANG_FULL_OF_ICE };
enum { HANG_FILLINGS = 2 };
struct hang_loads {
    double metal_nm; /* N per metre of gutter */
    double water_nm;
    double ice_nm;
    double snow_nm;    /* on the gutter's own width; 0 where no snow was said */
    double sliding_nm; /* off the roof behind: no bracket is asked to bear it */
    double share_m;    /* of gutter, on the most loaded bracket */
    size_t most;       /* that bracket */
    double arm_m;      /* from the wood out to the load */
    double gravity_1;  /* of the wood */
    const char *wood;  /* its word in the table */
    bool wood_said;
    bool all_said; /* its condition too, and how thick a fascia is: nothing is assumed */
    bool end_grain;
    double thread_m;     /* in the wood: no deeper than a fascia is thick */
    double withdrawal_n; /* of the top screw, all factors but the load's in it */
    double lateral_n;
    double load_n[HANG_FILLINGS]; /* on that bracket: water; or ice and snow */
    double use_1[HANG_FILLINGS];  /* of what its top screw holds */
};

/* How a run grows and shrinks: hang_moves.c. */
struct hang_moves {
    double coldest_c; /* of the metal */
    double hottest_c;
    double moves_m;        /* end to end, between them */
    size_t fixed;          /* the bracket where it is held fast: the nearest to its middle */
    double slot_m;         /* the longest slot of a face screw: twice what the farther end moves */
    int64_t joints_wanted; /* expansion joints, by the shop's limit */
};

struct hang_run {
    size_t run;
    struct hang_bracket *brackets; /* [count], left to right */
    size_t count;
    enum job_wood wood;   /* what they are fixed to */
    int64_t limit_tick;   /* greatest spacing allowed */
    int64_t longest_tick; /* longest unsupported stretch between two brackets */
    int64_t string_tick;  /* string below the roof edge, at every bracket of the run alike */
    size_t high_bracket;  /* the one with drop 0 */
    enum hang_fixing fixing;
    double tip_rad;           /* what a plumb back would tip by on the tail's end; 0 = plumb */
    int64_t wedge_face_tick;  /* along the tail's end; 0 = not known, cut on site */
    int64_t wedge_thick_tick; /* at the foot */
    int64_t wedge_wide_tick;  /* 0 = not known */
    struct hang_loads loads;  /* zero where it has no brackets */
    struct hang_moves moves;
};

struct hang_strap {
    size_t outlet;
    int64_t count;        /* of the whole downspout */
    int64_t *each;        /* [jog_count + 1] of each straight piece; NULL where it is cut on site */
    int64_t spacing_tick; /* the widest */
};

/* The gutter as found, held against what is made there. */
struct hang_found {
    size_t found;  /* index in job->found */
    size_t run;    /* SIZE_MAX = no eave was named */
    bool has_fall; /* both levels were taken */
    double fall_1; /* over the run's length; positive: down towards its right (to) end */
    double made_1; /* the same of the gutter chosen, from end to end */
};

struct hang {
    struct hang_run *runs; /* [layout->run_count] */
    size_t run_count;
    struct hang_strap *straps; /* [layout->outlet_count] */
    size_t strap_count;
    struct hang_found *found; /* [job->found_count] */
    size_t found_count;
    bool snow; /* the 30 in limit holds */
};

struct hang_input {
    const struct job *job;
    const struct shop *shop;
    const struct roof *roof;
    const struct layout *layout;
};

enum base_status hang_find(struct base_arena *arena, struct base_issues *issues,
                           struct base_trace *trace, const struct hang_input *input,
                           struct hang *hang);

#endif
