/* SPDX-License-Identifier: Apache-2.0 */
/* Inside the measure room: the net of measurements. For itself and its tests. */
#ifndef EAVESMITH_MEASURE_INSIDE_H
#define EAVESMITH_MEASURE_INSIDE_H

#include "measure/measure.h"

#define MEASURE_NONE      SIZE_MAX
#define MEASURE_NORMAL_95 1.959963984540054 /* 19 in 20 lie within so many standard deviations */
/* A house of more is not adjusted; the time grows with the fourth power. */
enum { MEASURE_ITEMS_MAX = 160, MEASURE_USES_MAX = 20 };

/* Where each wing's quantities stand in the net's values. */
enum {
    MEASURE_WING_EAST = 0,
    MEASURE_WING_NORTH,
    MEASURE_WING_WIDTH,
    MEASURE_WING_DEPTH,
    MEASURE_WING_PITCH,
    MEASURE_WING_VALUES
};

struct measure_chain { /* of a run */
    size_t from;       /* index of x in values; y stands behind it */
    size_t to;
    size_t previous; /* run, or MEASURE_NONE */
    size_t next;
    double turn_rad; /* at its to end, by what was said; only where next is a run */
    double overhang_m;
    double open_shift_m[2]; /* from, to: wall to roof edge at a corner that leads to no run */
};

struct measure_place {
    size_t run; /* or MEASURE_NONE */
    size_t wing;
    int edge; /* 0 .. 3 */
    enum job_place_at at;
    double distance_m;
    enum job_line line;
};

/* f(values) was said, and is to be brought out by the adjustment. */
struct measure_equation {
    enum measure_kind kind;
    bool off;    /* left out */
    double said; /* a corner: the turn, left positive */
    double sigma;
    size_t run;   /* RUN: itself; CORNER: the run before it */
    size_t value; /* WIDTH .. PITCH */
    size_t wing;  /* RIDGE, RISE */
    struct measure_place from;
    struct measure_place to;
    size_t use_count;
    size_t uses[MEASURE_USES_MAX]; /* the values it depends on */
};

struct measure_net {
    struct base_arena *arena;
    const struct job *job;
    double *values;
    bool *is_free;
    size_t value_count;
    struct measure_chain *chains; /* [run_count] */
    size_t *wings;                /* [wing_count]: first of its values */
    struct measure_equation *equations;
    size_t count;
    bool ring;
    /* room for the adjustment, taken once */
    size_t *columns; /* [value_count] the unknown it is, or MEASURE_NONE */
    size_t column_count;
    double *design;
    double *observed;
    double *work;
    double *step;
    double *kept;
    double *residuals;
    double *redundancy; /* [count] of the last fit; 0 for equations left out */
};

/* ---- measure_net.c: what each equation gives, and the adjustment ---- */

double measure_evaluate(const struct measure_net *net, const struct measure_equation *equation);
/* said less found; a corner's difference within half a turn. */
double measure_miss(const struct measure_net *net, const struct measure_equation *equation);
/* Takes the room for the adjustment; false = no memory. Equations and values are complete. */
bool measure_ready(struct measure_net *net);
/* Least squares over the equations that are not off, from the values as they stand. */
struct measure_adjustment {
    double chi;
    size_t redundancy; /* equations less rank */
    bool converged;
};
struct measure_adjustment measure_adjust(struct measure_net *net);
/* Redundancy number of one equation where the net now stands, itself counted in. */
double measure_find_redundancy(struct measure_net *net, size_t equation);

/* ---- measure_build.c: from the job to the net ---- */

struct measure_builder {
    struct measure_net *net;
    struct base_issues *issues;
    struct measure *measure;
};
/* False = no memory. A house of too many measurements gets no equations, and its verdict. */
bool measure_build(struct measure_builder *builder);
struct measure_item measure_length_item(enum measure_kind kind, const struct job_length *length);
/* The next equation and its item. */
struct measure_equation *measure_add(struct measure_builder *builder, struct measure_item item);
void measure_use(struct measure_equation *equation, size_t value);
void measure_use_run(const struct measure_net *net, struct measure_equation *equation, size_t run);
void measure_add_checks(struct measure_builder *builder); /* measure_checks.c */
/* Of a ring that has just been laid out. */
void measure_find_misclosure(const struct measure_net *net, struct measure *measure);
/* Lays the values out by what was said; the ring is walked so that the equation left out (or
 * MEASURE_NONE) is not needed. */
void measure_lay(struct measure_net *net, size_t left_out);

/* ---- measure_doubt.c: standard deviations and limits ---- */

/* Of a length of which no doubt was said. */
double measure_usual_sigma(double length_m);
double measure_length_sigma(const struct job_length *length, bool *assumed);
double measure_corner_sigma(double corner_rad);
/* What a standardised residual must exceed to be a blunder: Baarda's test, its share of false
 * alarms (1 in 100 houses) split evenly over the measurements. */
double measure_critical(size_t count);
/* Exceeded by chance once in 100 by a sum of squares of this redundancy. */
double measure_chi_limit(size_t redundancy);

/* ---- measure_slip.c ---- */

struct measure_guess {
    enum measure_slip slip;
    double meant; /* of the equation: m, or the turn */
    int64_t tick; /* lengths */
};
enum { MEASURE_GUESSES_MAX = 24 };
size_t measure_list_slips(const struct measure_net *net, const struct measure_item *item,
                          const struct measure_equation *equation,
                          struct measure_guess guesses[MEASURE_GUESSES_MAX]);

/* ---- measure_lengths.c: the eaves' lengths that later rooms read ---- */

/* Of the job; false = no memory. */
bool measure_list_lengths(struct base_arena *arena, const struct job *job, struct measure *measure);
/* Intervals and doubts, once the net is adjusted. */
void measure_fill_lengths(struct measure *measure);

/* ---- measure_curve.c ---- */

/* Needs what job_read asks of a curve. */
void measure_check_curves(struct base_issues *issues, const struct job *job);

/* ---- measure_blunder.c ---- */

/* Fills verdict, causes and chi_without where the net does not close. False = no memory. */
bool measure_find_blunder(struct measure_net *net, struct measure *measure);

#endif
