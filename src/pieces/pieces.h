/* SPDX-License-Identifier: Apache-2.0 */
/*
 * pieces: everything that is made or put in the crate. Ids stay the same on every paper.
 *
 * Walk      before: joints. after: money, documents.
 * Hands     left and right as seen from the ground facing the house.
 * Units     lengths along the gutter's back edge (gutter, mitre legs) or the pipe's axis
 * (downspout).
 */
#ifndef EAVESMITH_PIECES_H
#define EAVESMITH_PIECES_H

#include "base/base.h"
#include "hang/hang.h"
#include "joints/joints.h"
#include "layout/layout.h"
#include "measure/measure.h"

enum pieces_kind {
    PIECES_GUTTER = 0,
    PIECES_END_CAP,
    PIECES_MITRE,
    PIECES_OUTLET,
    PIECES_STRAINER,
    PIECES_DOWNSPOUT,
    PIECES_ELBOW,
    PIECES_SHOE,
    PIECES_STRAP,
    PIECES_STANDOFF_STRAP, /* holds the pipe farther off the wall than the usual strap */
    PIECES_BRACKET,
    PIECES_ANGLED_BRACKET, /* made with the angle of a square-cut tail at its base */
    PIECES_SIDE_BRACKET,   /* with a plate for the side of a shaped tail */
    PIECES_WEDGE,          /* of wood, between a square-cut tail and a plumb bracket */
    PIECES_APRON,          /* strip from behind the drip metal into the gutter */
    PIECES_SPLASH_PIECE,   /* stands on the lip at an inside corner, before a valley's stream */
    PIECES_FACE_SCREW,     /* holds the gutter in its bracket */
    PIECES_LAG,
    PIECES_STRAP_SCREW,
    PIECES_NAIL, /* of copper, for aprons */
    PIECES_RIVET,
    PIECES_SOLDER,
    PIECES_FLUX,
    PIECES_KIND_COUNT
};

enum pieces_hand { PIECES_NO_HAND = 0, PIECES_LEFT, PIECES_RIGHT, PIECES_INSIDE, PIECES_OUTSIDE };
enum pieces_lap { PIECES_NO_LAP = 0, PIECES_LAP_INSIDE, PIECES_LAP_OUTSIDE };
/* Where a piece that is left long is cut on site, when it lies at its eave. */
enum pieces_trim {
    PIECES_NO_TRIM = 0,
    PIECES_TRIM_LEFT_END, /* free: before the end cap is soldered on */
    PIECES_TRIM_RIGHT_END,
    PIECES_TRIM_LEFT_LAP, /* before that lap is riveted */
    PIECES_TRIM_RIGHT_LAP
};

struct pieces_piece {
    struct base_text id; /* "porch.gutter.1" */
    enum pieces_kind kind;
    enum pieces_hand hand;
    struct base_text
        size;          /* "5 in": gutter or pipe size as said in the job; empty for small parts */
    const char *sheet; /* NULL where it is not sheet */
    size_t run;        /* SIZE_MAX = no run (an order by pieces) */
    size_t outlet;     /* SIZE_MAX = none: outlet, downspout, elbow, shoe, strap */
    int64_t count;
    int64_t length_tick; /* as made: gutter, mitre leg, downspout; 0 = has none */
    int64_t from_tick;   /* gutter, outlet: place on the run */
    int64_t to_tick;
    int64_t girth_tick; /* strip width, rounded up to the shop's rounding; 0 = none */
    double angle_rad;   /* mitre: plan angle; elbow: turn; wedge, angled bracket: base angle */
    double fall_1[2];   /* mitre: of its two legs, down towards the corner; negative: away */
    int64_t thick_tick; /* wedge: at its foot */
    int64_t wide_tick;  /* wedge; 0 = not known */
    enum pieces_lap left_lap; /* how it lies in the joint at its left end */
    enum pieces_lap right_lap;
    enum pieces_trim trim;
    int64_t trim_tick;       /* of its length, left long and cut on site; 0 = none */
    int64_t doubt_tick;      /* gutter: its eave's length is known to this, give or take */
    double angle_within_rad; /* mitre: its angle is known to this, give or take; 0 = not told */
    bool template_wanted;    /* mitre: that is more than a made-up mitre bears */
    bool doubtful;    /* cut from a measurement that may be the wrong one of those that disagree */
    double mass_kg;   /* of all count together; 0 = not weighed */
    bool cut_on_site; /* length not measured */
    bool
        fitted_on_site; /* of the length worked out, but cut to fit: the way down is not surveyed */
};

struct pieces {
    struct pieces_piece *items; /* by run in walking order, then as made */
    size_t count;
    double mass_kg;
    int64_t gutter_tick; /* sum of gutter piece lengths, laps included */
    int64_t downspout_tick;
    bool water_checked; /* false for an order by pieces alone */
};

struct pieces_input {
    const struct job *job;
    const struct shop *shop;
    const struct measure *measure; /* NULL for an order by pieces, like the rooms below */
    const struct roof *roof;
    const struct layout *layout;
    const struct hang *hang;
    const struct joints *joints;
};

enum base_status pieces_list(struct base_arena *arena, struct base_issues *issues,
                             struct base_trace *trace, const struct pieces_input *input,
                             struct pieces *pieces);

/* The word for a kind: "gutter", "end cap". */
const char *pieces_kind_word(enum pieces_kind kind);
const char *pieces_hand_word(enum pieces_hand hand);
const char *pieces_trim_word(enum pieces_trim trim); /* "right-end"; "" for none */

#endif
