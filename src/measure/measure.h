/* SPDX-License-Identifier: Apache-2.0 */
/*
 * measure: do these measurements close, and which one is wrong when they do not?
 *
 * Walk      before: job. after: roof.
 * Knows     runs, corners, wings and checks as one net of measurements, adjusted by least squares
 *           (Gauss and Newton, dense QR). All lengths are brought to the roof edge: a run taped on
 *           the wall by the overhangs at its corners.
 * Later     rooms build from the lengths as said, unless the job says `use: adjusted`; and read
 *           here the interval of each length, for what is left long.
 * Source    least squares, redundancy numbers, standardised residuals and minimal detectable
 *           blunders after Baarda 1968 (SRC-70); corners by plane geometry; doubts where none is
 *           said: COMMON PRACTICE (SRC-71), stated at each.
 */
#ifndef EAVESMITH_MEASURE_H
#define EAVESMITH_MEASURE_H

#include "base/base.h"
#include "job/job.h"

struct measure_length {
    struct base_text name; /* "porch", "hall.1" */
    int64_t length_tick;
    int64_t doubt_tick; /* half-width; 0 = none said */
    size_t reading_count;
    enum job_line taped_on;
    bool guess;
    struct base_mark mark;
    double within_m; /* 95 % interval: the length as adjusted, give or take this */
    double adjusted_m;
    double doubt_m; /* of the length that the later rooms build from: within_m, and what it lies off
                       the adjusted one */
    bool doubtful;  /* one of those that explain why the measurements do not agree */
    size_t run;     /* in job->runs; SIZE_MAX = none */
    size_t wing;    /* in job->wings; SIZE_MAX = none */
    size_t edge;    /* of the wing or the outline, from 0 */
};

enum measure_kind {
    MEASURE_RUN = 0, /* a run's length on the line it was taped on */
    MEASURE_CORNER,  /* the plan angle between two runs */
    MEASURE_BETWEEN, /* a check from place to place */
    MEASURE_WIDTH,   /* of a wing */
    MEASURE_DEPTH,
    MEASURE_EAST, /* of a wing's corner */
    MEASURE_NORTH,
    MEASURE_PITCH,
    MEASURE_RIDGE,
    MEASURE_RISE
};

/* What people do wrong with a tape. Each gives another value that was perhaps meant. */
enum measure_slip {
    MEASURE_SLIP_NONE = 0,     /* no slip that is known, any other error */
    MEASURE_SLIP_FOOT_DROPPED, /* a foot more was meant (metric: 100 mm, 1 m) */
    MEASURE_SLIP_FOOT_ADDED,
    MEASURE_SLIP_DIGITS_SWAPPED,
    MEASURE_SLIP_INCHES_FOR_FEET, /* either way */
    MEASURE_SLIP_METRIC_FOR_INCHES,
    MEASURE_SLIP_DECIMAL_FEET, /* 10.8 ft said as 10' 8", or the other way */
    MEASURE_SLIP_OVERHANG_ONE, /* the overhang at one end forgotten, or taken where it was in */
    MEASURE_SLIP_OVERHANG_BOTH,
    MEASURE_SLIP_INSIDE_OUTSIDE, /* the corner turns the other way */
    MEASURE_SLIP_OTHER_ANGLE     /* read on the other side: 135 for 45 degrees */
};

struct measure_item {
    struct base_text name; /* one key of the result: "south", "south.to", "hall.width" */
    struct base_text of;   /* the run, wing or check a person knows it by */
    enum measure_kind kind;
    size_t run;    /* CORNER: in job->runs, at whose to end it stands */
    bool left_end; /* CORNER: at the from end */
    bool inside;   /* CORNER */
    bool check;    /* under checks: */
    struct base_mark mark;
    struct base_value said; /* TICK; RAD for a corner; RATIO for a pitch */
    double said_si;         /* m, rad or ratio, as are the numbers below */
    double sigma;           /* standard deviation before the adjustment */
    bool sigma_assumed;     /* no doubt was said */
    double adjusted;
    double residual;    /* adjusted less said */
    double redundancy;  /* 0: nothing checks it. 1: wholly checked */
    double w_1;         /* standardised residual; 0 where the redundancy is under 0.001 */
    double detectable;  /* smallest blunder found 4 times in 5; 0 = none would be found */
    double within;      /* 95 % interval of the adjusted value, give or take */
    double chi_without; /* sum of squares when this one is left out */
};

/* One way to make the house close. */
struct measure_cause {
    size_t item;
    enum measure_slip slip;
    struct base_value meant; /* what it would be instead; SLIP_NONE: what the others give */
    double meant_si;
    double chi;   /* sum of squares with this mended */
    double score; /* chi, plus a handicap of 6 for an error that is no known slip */
};

enum measure_verdict {
    MEASURE_UNCHECKED = 0, /* nothing is measured twice: no error could show */
    MEASURE_CLOSES,
    MEASURE_ONE_WRONG,     /* causes[0] alone explains it */
    MEASURE_UNDECIDED,     /* causes[0 .. likely) explain it equally well: within 20 to 1 */
    MEASURE_SEVERAL_WRONG, /* no single one explains it */
    MEASURE_TOO_MANY       /* more measurements than are adjusted in one */
};

struct measure {
    struct measure_length *lengths; /* [count] in walking order */
    size_t count;
    bool uses_adjusted;   /* measure_use_adjusted has put the adjusted lengths in the job's place */
    bool is_ring;         /* the runs come back to their start */
    double misclosure_m;  /* distance between start and end of the ring, on the roof edge */
    double expected_m;    /* its standard size by the doubts of lengths and corners */
    double turn_miss_rad; /* what the corners of the ring lack to a whole turn */

    struct measure_item *items; /* [item_count] what the net holds, in the order of the job */
    size_t item_count;
    size_t redundancy; /* measurements more than are needed */
    double chi;        /* sum of squares of the adjustment */
    double chi_limit;  /* exceeded by 1 house in 100 without a blunder */
    double critical_1; /* a standardised residual beyond it is a blunder */
    bool converged;
    enum measure_verdict verdict;
    struct measure_cause *causes; /* [cause_count] best first, each item once; no blunder: none */
    size_t cause_count;
    size_t likely; /* how many of them explain it equally well */
};

enum base_status measure_check(struct base_arena *arena, struct base_issues *issues,
                               const struct job *job, struct measure *measure);

/* The job as the later rooms shall read it: for `use: adjusted` a copy whose runs have the adjusted
 * lengths (to round_tick), where the measurements agree, and the adjusted corners where they differ
 * from those said by more than they are known to; else as said. Wings and the
 * outline stay as said: their sizes fit one another. Issues: ADJUSTED_NOT_USED, ADJUSTED_RUNS_ONLY.
 */
enum base_status measure_use_adjusted(struct base_arena *arena, struct base_issues *issues,
                                      int64_t round_tick, struct measure *measure, struct job *job);

/* Do the measurements contradict one another? */
bool measure_disagrees(const struct measure *measure);
/* An eave's length: of a run, of a wing's edge, or (both SIZE_MAX) of the outline's; NULL = none.
 */
const struct measure_length *measure_find_length(const struct measure *measure, size_t run,
                                                 size_t wing, size_t edge);
/* The corner at the right end of a run; NULL where the net holds none. */
const struct measure_item *measure_find_turn(const struct measure *measure, const struct job *job,
                                             size_t run);
/* Among those that explain best why the measurements do not agree. */
bool measure_item_is_doubtful(const struct measure *measure, const struct measure_item *item);

/* Notes the reasons under closing and measurements/NAME; nothing where nothing is checked. */
void measure_explain(struct base_trace *trace, const struct measure *measure);

/* "a foot dropped"; "the length of south", "the corner at the right end of south". */
const char *measure_slip_words(enum measure_slip slip, enum units_system system);
struct base_text measure_item_words(struct base_arena *arena, const struct measure_item *item);

/* The angle of a corner by a tape: two legs from it and the line across, with the standard
 * deviation that follows from those of the lengths. False when the three make no triangle.
 * Source: law of cosines and its derivatives. */
struct measure_triangle {
    double leg_m[2];
    double leg_sigma_m[2];
    double across_m;
    double across_sigma_m;
};
bool measure_find_corner(const struct measure_triangle *triangle, double *angle_rad,
                         double *sigma_rad);

#endif
