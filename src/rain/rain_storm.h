/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A storm as rain minute by minute: from a record, or made from a depth-duration table. Part of
 * rain.h, which others include.
 */
#ifndef EAVESMITH_RAIN_STORM_H
#define EAVESMITH_RAIN_STORM_H

#include "rain/rain_record.h"

enum { RAIN_STORM_STEP_S = 60, RAIN_BLOCKS_MAX = 3000 };

struct rain_storm {
    double *depth_m; /* [count], one a minute */
    size_t count;
    double total_m;
    double hardest_mps; /* of one minute */
};

/* Rain of a coarser step is spread evenly over it; uplift_1 (0.2 = 20 % more) is on every minute.
 * False when memory failed. */
bool rain_make_storm(struct base_arena *arena, const struct rain_record *record,
                     struct rain_span span, double uplift_1, struct rain_storm *storm);

/* ---- made from a table ------------------------------------------------------------------------
 */

enum rain_side { RAIN_SIDE_LEFT = 0, RAIN_SIDE_RIGHT };

struct rain_design {
    double period_years;
    double duration_s;
    double block_s; /* not shorter than the table's first duration: below it nothing is known */
    double peak_1;  /* where the hardest block stands, share of the duration */
    enum rain_side second; /* the side of the second hardest */
    double uplift_1;       /* climate: share added to every depth */
};

/*
 * Puts increments in the order of a balanced storm: the largest at the place floor(peak n), counted
 * from 0, then by turns on the second's side and on the other; when one side is full the rest go to
 * the other. With the second on the right it is the mirror image of one with its peak at 1 - peak.
 * Source: SRC-142 (FOUND: left), SRC-143 (MEMORY: right).
 */
void rain_arrange_blocks(double *block_m, size_t count, double peak_1, enum rain_side second);

/* Number of blocks; 0 when the duration is no whole number of them or too many. */
size_t rain_count_blocks(const struct rain_design *design);
/*
 * block_m[rain_count_blocks]: depths of D(k block) less D((k - 1) block), arranged. Every window of
 * whole blocks about the peak then holds the table's own depth. False where the table has no value
 * for the years, the duration or the block: nothing is extrapolated.
 */
bool rain_find_blocks(const struct rain_table *table, const struct rain_design *design,
                      double *block_m);
/* The same, minute by minute; the rain of a block is even. BASE_STOPPED where rain_find_blocks
 * gives false. */
enum base_status rain_make_design_storm(struct base_arena *arena, const struct rain_table *table,
                                        const struct rain_design *design, struct rain_storm *storm);

/* ---- kind of building -------------------------------------------------------------------------
 */

/* EN 12056-3, table 2 (SRC-144, MEMORY): how much the overflow would cost. */
enum rain_risk {
    RAIN_RISK_EAVES = 0, /* eaves gutters */
    RAIN_RISK_ENTRANCE,  /* eaves gutters where it would be a nuisance: over public doors */
    RAIN_RISK_INSIDE,    /* other gutters, where it could come into the building */
    RAIN_RISK_PROTECTED  /* the same where that must not be: hospitals, collections */
};
/* 1, 1.5, 2, 3: on the rain r in l/(s m2). */
double rain_risk_factor(enum rain_risk risk);

#endif
