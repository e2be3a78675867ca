/* SPDX-License-Identifier: Apache-2.0 */
/*
 * storm: a storm minute by minute over what was laid out.
 *
 * Walk      before: layout, rain. after: result, documents.
 * Quasi-steady: every minute is taken as lasting rain; docs/theory/storm.md shows why that is right
 * or on the safe side. Uppermost gutters first: what a reach cannot run with (layout_often, as
 * built) goes over its edge in the same minute, falls to the ground and is not caught again; the
 * rest runs to its outlet, and from there to the ground, into a barrel or into a lower gutter:
 * fallen = run off + gone over, each minute and in all. What a gutter holds is left out.
 */
#ifndef EAVESMITH_STORM_H
#define EAVESMITH_STORM_H

#include "base/base.h"
#include "hydraulics/hydraulics.h"
#include "job/job.h"
#include "layout/layout.h"
#include "rain/rain.h"

struct storm_reach {
    size_t reach;      /* of the layout */
    double fallen_m3;  /* off its own roof */
    double fed_m3;     /* from upper gutters */
    double drained_m3; /* to its outlet */
    double over_m3;
    size_t over_minutes; /* in which it goes over */
    double over_from_s;  /* from the storm's beginning to the first of them; 0 when there is none */
    double most_over_m3s; /* in the hardest minute */
};

struct storm_outlet {
    size_t outlet; /* of the layout */
    double passed_m3;
    double most_m3s; /* in the hardest minute */
    double kept_m3;  /* what came to the barrel at its foot; 0 where there is none */
};

enum storm_kind {
    STORM_OF_TABLE = 0, /* a balanced storm, made from the rain table */
    STORM_OF_RECORD     /* as a gauge wrote it down */
};

struct storm {
    enum storm_kind kind;
    double climate_1;       /* share added to all its rain */
    double period_years;    /* of a table's storm */
    enum rain_side second;  /* where the second hardest block of a table's storm stands */
    struct base_text began; /* of a record's storm, on the clock of the gauge */
    size_t recorded;        /* storms in the record */
    bool cut;               /* it lasted longer than STORM_RECORD_MOST_S: only its worst is run */
    double window_s;        /* of a record's storm: the window it was chosen by */
    double window_mps;      /* and the hardest rain over it, as measured */
    struct hydraulics_years rarity; /* of that rain, by the table */
    const double *minutes_m;        /* [minute_count] its rain, one a minute */
    size_t minute_count;
    double duration_s;
    double total_m;
    double hardest_mps;          /* of one minute */
    struct storm_reach *reaches; /* [layout->reach_count] */
    size_t reach_count;
    struct storm_outlet *outlets; /* [layout->outlet_count] */
    size_t outlet_count;
    double fallen_m3;  /* off all roofs with gutters, by the area rule of the layout */
    double drained_m3; /* through outlets to the ground or a barrel */
    double over_m3;
    double kept_m3;   /* of what drained, in barrels */
    size_t steps_run; /* counted work: a reach, or a feed, in a minute */
};

/* False when memory failed. Keeps pointing at the rain's minutes. */
bool storm_run(struct base_arena *arena, const struct layout *layout, const struct rain_storm *rain,
               struct storm *storm);

/* ---- which storms (storm_which.c) ------------------------------------------------------------ */

struct storm_input {
    const struct layout *layout;
    const struct rain_table *table;   /* NULL = none */
    const struct rain_record *record; /* NULL = none */
    const struct job_rain *rain;      /* with what the job says of storms */
};

enum { STORM_DESIGN_MOST = 2, STORM_MOST = 3, STORM_RECORD_MOST_S = 48 * 3600 };

/* How long a storm made from a table lasts: as the job says, or the fewest whole blocks that make
 * an hour. */
double storm_find_duration(const struct job_storm *wish, double block_s);

/* Can the storm that the job asks for be made from the table? If not, with an issue. True where
 * nothing is asked. */
bool storm_check_wish(struct base_issues *issues, const struct storm_input *input);

/*
 * Balanced storms in blocks of the design rain's duration, hardest in the middle, from the rain
 * table: of the design period and of 100 years, as far as the table holds them; nothing is
 * extrapolated. Gives how many; *failed when memory failed. Source: SRC-142 (second hardest
 * before), SRC-143 (after).
 */
size_t storm_run_designs(struct base_arena *arena, const struct storm_input *input,
                         struct storm storms[STORM_DESIGN_MOST], bool *failed);

/*
 * The storm of the record with the hardest rain over the design rain's duration (over a step of the
 * record where that is longer), two hours dry between storms (SRC-140); of one longer than 48 hours
 * those with the hardest in the middle. Needs a record. False when memory failed.
 */
bool storm_run_record(struct base_arena *arena, const struct storm_input *input,
                      struct storm *storm);

/* The reasons of what result says of them. A NULL trace is silent. */
void storm_explain(struct base_arena *arena, struct base_trace *trace, const struct layout *layout,
                   const struct storm *storms, size_t count);

#endif
