/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Whether the gutter catches the sheet that leaves the roof. Part of hydraulics.h, which others
 * include.
 *
 *    roof .
 *           .  edge: x outwards, drop downwards from here
 *             o _
 *      back |     ` .     the sheet leaves along the roof and falls
 *           |  .      `
 *           |    .  | lip    above the lip there: over
 *            .______.
 */
#ifndef EAVESMITH_HYDRAULICS_CATCH_H
#define EAVESMITH_HYDRAULICS_CATCH_H

#include "hydraulics/hydraulics.h"

/* ---- the sheet --------------------------------------------------------------------------------
 */

struct hydraulics_sheet {
    double flow_m2s;  /* per metre of edge */
    double depth_m;   /* square to the roof */
    double speed_mps; /* along it */
    double weber_1;   /* its momentum over one surface's tension: below 2 it can cling */
};

/*
 * Uniform flow down a plane, by Manning or laminar, whichever is the slower: depth (n
 * q/sqrt(S))^0.6 or (3 nu q/(g S))^(1/3), S the sine of the slope. Source: SRC-92 (FOUND), SRC-93
 * (MEMORY). The flow is rain times the level depth of the roof behind, more below a valley. pitch_1
 * > 0.
 */
struct hydraulics_sheet hydraulics_find_sheet(double flow_m2s, double pitch_1, double roughness_1);
/*
 * Time of concentration of that roof: from the first drop until its whole length runs off at the
 * edge, the depth there over the rain on a metre of roof. Rain is that of the flow. For Manning it
 * is the kinematic wave's (L n/(sqrt(S) i^(2/3)))^0.6. Source: SRC-92 (FOUND).
 */
double hydraulics_sheet_time(const struct hydraulics_sheet *sheet, double pitch_1, double rain_mps);
/* The flow per metre below which the sheet clings round an edge without drip metal: Weber 2, both
 * surfaces' tension (DERIVED). */
double hydraulics_clinging_flow(double pitch_1, double roughness_1);

/* How far below the edge the free sheet is at x: x tan + g x^2/(2 V^2 cos^2). Plane dynamics. */
double hydraulics_path_drop(const struct hydraulics_sheet *sheet, double pitch_1, double x_m);
/* Where it is that far below. */
double hydraulics_path_reach(const struct hydraulics_sheet *sheet, double pitch_1, double drop_m);

/* ---- the gutter under it ----------------------------------------------------------------------
 */

/* At one place along the eave, measured from the edge the water leaves. */
struct hydraulics_trough {
    double back_out_m; /* top of the back; below 0 when the roof reaches over it */
    double back_drop_m;
    double lip_out_m; /* top of the front */
    double lip_drop_m;
};

enum hydraulics_landing_place {
    HYDRAULICS_LANDS_BEHIND = 0, /* between gutter and wall */
    HYDRAULICS_LANDS_BACK,       /* in the back third: as the trade wants it */
    HYDRAULICS_LANDS_FORWARD,    /* inside, ahead of that */
    HYDRAULICS_LANDS_OVER        /* beyond the lip */
};
struct hydraulics_landing {
    enum hydraulics_landing_place place;
    double out_m;   /* from the edge, where it comes down to the lip's level */
    double share_1; /* the same from back (0) to lip (1) */
    double spare_m; /* lip less that: how much further it could fly */
};
/* A free sheet, or with clings one that has crept back round the edge. */
struct hydraulics_landing hydraulics_find_landing(const struct hydraulics_sheet *sheet,
                                                  double pitch_1,
                                                  const struct hydraulics_trough *trough,
                                                  bool clings);

struct hydraulics_edge {
    double pitch_1;
    double roughness_1; /* n: 0.011 metal and slate, 0.013 shingles (COMMON PRACTICE) */
    double flow_m2s;    /* in the design storm */
    bool has_drip;      /* drip metal turned out under the cover */
    double drip_leg_m;  /* how far it reaches down */
};
struct hydraulics_catch {
    struct hydraulics_sheet storm_sheet;
    struct hydraulics_landing storm;
    struct hydraulics_landing drizzle; /* of next to no flow */
    double clings_below_1; /* share of the storm below which it creeps back; 0 with drip metal */
    double open_1;         /* share of the gutter's width ahead of the edge */
    bool wants_drip;       /* some rain creeps back */
    bool wants_apron;      /* the gap is more than the leg covers, or the storm lands too far out */
    bool too_far_over;     /* less than half of the gutter is open: cases C01, COMMON PRACTICE */
};
struct hydraulics_catch hydraulics_find_catch(const struct hydraulics_edge *edge,
                                              const struct hydraulics_trough *trough);

#endif
