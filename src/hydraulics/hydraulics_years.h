/* SPDX-License-Identifier: Apache-2.0 */
/* How often it does not work. Part of hydraulics.h, which others include. */
#ifndef EAVESMITH_HYDRAULICS_YEARS_H
#define EAVESMITH_HYDRAULICS_YEARS_H

#include "hydraulics/hydraulics.h"

/* One duration of a depth-duration-frequency table: periods rising; intensity 0 = no data. */
struct hydraulics_rain_curve {
    const double *period_years;
    const double *intensity_mps; /* [count] */
    size_t count;
};

enum hydraulics_reach_of_table {
    HYDRAULICS_TABLE_HOLDS = 0,
    HYDRAULICS_TABLE_TOO_RARE,  /* spills more often than the table's shortest period */
    HYDRAULICS_TABLE_TOO_SHORT, /* spills less often than its longest */
    HYDRAULICS_TABLE_EMPTY      /* no data; years is 0 */
};
struct hydraulics_years {
    double years; /* between overflows; outside the table its nearer end, never further */
    enum hydraulics_reach_of_table table;
};
/*
 * The return period of an intensity: intensity linear in the logarithm of the period between
 * neighbours, as room rain has it. Where the curve is flat the shorter period counts.
 */
struct hydraulics_years hydraulics_find_years(const struct hydraulics_rain_curve *curve,
                                              double intensity_mps);

enum hydraulics_part {
    HYDRAULICS_PART_GUTTER = 0,
    HYDRAULICS_PART_OUTLET, /* open */
    HYDRAULICS_PART_STRAINER,
    HYDRAULICS_PART_PIPE
};
enum { HYDRAULICS_PARTS = 4 };
struct hydraulics_often {
    struct hydraulics_years parts[HYDRAULICS_PARTS];
    enum hydraulics_part first; /* the one that gives way in the least rain; the upper in a tie */
};
/* spill_mps: the rain that each part just carries (see below); above every rain when there is no
 * such part: INFINITY. */
struct hydraulics_often hydraulics_find_often(const struct hydraulics_rain_curve *curve,
                                              const double spill_mps[HYDRAULICS_PARTS]);
/* The rain a part carries whose flow grows as the rain does; INFINITY where nothing flows. */
double hydraulics_spill_intensity(double rain_mps, double flow_m3s, double capacity_m3s);

/* The outlet of a gutter in capacity: diameter 0 is a free end. */
struct hydraulics_mouth {
    double diameter_m;
    double other_flow_m3s; /* from the gutter's other side, in the rain of the channel */
    bool strained;
    double
        spare_m; /* how far below the lip the water must stay: 0, or what the gutter has sagged */
};
/*
 * The factor on all inflow at which the water just reaches the lip (or spare_m below it), by the
 * physics, its outlet's head rising with it; within 1e-6 of it. 0 when nothing flows. False only
 * when memory failed.
 */
bool hydraulics_find_capacity(const struct hydraulics_channel *channel,
                              const struct hydraulics_mouth *mouth, double *factor_1);

/*
 * What of its water a level gutter brim full still passes when ice_m of ice lies on its sole and
 * the outlet is kept open: the share of momentum theory without friction, the same above the ice as
 * in the clear gutter (SRC-108, DERIVED). 1 without ice, 0 when it is full of it.
 */
double hydraulics_iced_share(const struct section_gutter *section, double ice_m);

#endif
