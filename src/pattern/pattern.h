/* SPDX-License-Identifier: Apache-2.0 */
/*
 * pattern: what a piece looks like before it is bent: girth along one side, length along the other.
 *
 * Walk      before: pieces. after: cut, documents.
 * Girths run along the middle of the sheet, from the back edge over the sole to the end of the
 * bead, so thickness and bends are in them. Laps are named, not added.
 *
 *          back edge                                    bead
 *            |  rim    half circle, every 10 deg   rim  lip |
 *            +---+--+--+--+--+--+--+--+--+--+--+--+---+--+--+   square end
 *            |                                              |
 *            |                                         ..---+
 *            |                                 ..---     |   length at each station
 *            +---____                  ..---
 *                    ---------___---                            mitre line
 *
 * Source    trade/copper i.2 to i.6 (DERIVED); checked by folding back.
 */
#ifndef EAVESMITH_PATTERN_H
#define EAVESMITH_PATTERN_H

#include "base/base.h"
#include "pieces/pieces.h"
#include "section/section.h"
#include "shop/shop.h"

/* ---- the gutter's profile, laid flat ------------------------------------------------------------
 */

enum pattern_place {
    PATTERN_BACK_EDGE = 0,
    PATTERN_BACK_RIM, /* level with the front lip's rim */
    PATTERN_ARC,      /* on the half circle, both its ends too */
    PATTERN_SOLE,     /* the lowest */
    PATTERN_LIP,      /* where the bead begins */
    PATTERN_BEAD
};
struct pattern_station {
    enum pattern_place place;
    double girth_m;  /* from the back edge */
    double across_m; /* level, from the gutter's middle, towards the front */
    double up_m;     /* from the ends of the half circle */
};
enum { PATTERN_ARC_STEPS = 18, PATTERN_BEAD_STEPS = 4, PATTERN_STATIONS_MAX = 28 };
/* Along the middle of the sheet; the last one's girth is section_girth. Gives their number. */
size_t pattern_list_stations(const struct section_gutter *gutter, double sheet_m,
                             struct pattern_station stations[PATTERN_STATIONS_MAX]);

/* ---- mitre ------------------------------------------------------------------------------------
 */

enum { PATTERN_LEGS = 2 }; /* water passes from the first to the second as seen from the ground */
struct pattern_mitre {
    struct section_gutter section;
    double sheet_m;
    bool inside;
    double corner_rad;           /* of the house in plan: 90 deg for a square corner */
    double fall_1[PATTERN_LEGS]; /* of each leg, down towards the corner; negative: away */
    double leg_m;                /* along the back edge, square end to mitre line */
};
struct pattern_ordinate {
    struct pattern_station station;
    double length_m; /* from the square end to the mitre line */
};
struct pattern_leg {
    struct pattern_ordinate ordinates[PATTERN_STATIONS_MAX];
    size_t count;
};
struct pattern_mitre_found {
    struct pattern_leg legs[PATTERN_LEGS];
    double miss_m;  /* how far the two profiles stand apart in the mitre's plane, at most */
    double chord_m; /* how far a straight line between two stations leaves the true cut, at most */
};
/*
 * Cut by the plane that halves the corner in space: s = - q n / (u n), q a point of the profile, u
 * the way of the leg, n the middle of both ways. Level legs: s = R cos(th) tan(phi).
 */
struct pattern_mitre_found pattern_find_mitre(const struct pattern_mitre *mitre);
/* A profile point of a leg on the mitre line, in space: x along the first leg into the corner, z
 * up; the corner's middle is 0. What folding back is held against. */
void pattern_fold_mitre(const struct pattern_mitre *mitre, int leg,
                        const struct pattern_station *station, double point_m[3]);

/* ---- outlet ------------------------------------------------------------------------------------
 */

/* The hole for a tube that stands plumb under the gutter's middle: at an angle round the tube, 0 =
 * across. On the flat, from its middle on the sole line. */
struct pattern_hole_point {
    double along_m;
    double across_m; /* measured on the flat */
    double rise_m;   /* of the tube's rim there, over the sole's level */
};
struct pattern_hole_point pattern_find_hole(double gutter_radius_m, double tube_radius_m,
                                            double angle_rad);
double pattern_hole_area(double gutter_radius_m, double tube_radius_m); /* on the flat */

/* ---- elbow -------------------------------------------------------------------------------------
 */

/* Half of a gore: from the joint's middle line to the cut, at an angle round the pipe, 0 = throat.
 * y = (Rc - r cos ph) tan(alpha), alpha = B / (2 (N - 1)). Two pieces need no Rc: give r. */
double pattern_gore(double pipe_radius_m, double bend_radius_m, double alpha_rad, double angle_rad);
double pattern_gore_angle(double elbow_rad, int pieces);

/* ---- cone --------------------------------------------------------------------------------------
 */

struct pattern_cone {
    double slant_m;
    double outer_m; /* radius on the flat */
    double inner_m;
    double angle_rad;
};
/* A tapered tube, wide over narrow; wide > narrow. */
struct pattern_cone pattern_find_cone(double wide_radius_m, double narrow_radius_m,
                                      double height_m);

/* ---- of a job ----------------------------------------------------------------------------------
 */

/* One pattern for all mitres that are alike; `pieces` names the first of them. */
struct pattern_mitre_sheet {
    size_t piece; /* the first, in pieces->items */
    size_t count; /* pieces it serves */
    struct pattern_mitre mitre;
    struct pattern_mitre_found found;
};
/* The half disc of an end cap: its radius, the flange along the curve, the straight part above it.
 */
struct pattern_cap_sheet {
    size_t piece;
    size_t count;
    double radius_m;
    double flange_m;
    double straight_m; /* at the front */
    double back_m;     /* at the back */
};
enum { PATTERN_HOLE_POINTS = 7 }; /* every 15 deg of a quarter */
struct pattern_hole_sheet {
    size_t piece;
    size_t count;
    double gutter_radius_m; /* to the inside */
    double tube_radius_m;   /* outside of the tube */
    struct pattern_hole_point points[PATTERN_HOLE_POINTS];
};
struct patterns {
    struct pattern_mitre_sheet *mitres;
    size_t mitre_count;
    size_t *mitre_of; /* of each piece in pieces->items: its place in mitres; SIZE_MAX = none */
    struct pattern_cap_sheet *caps;
    size_t cap_count;
    struct pattern_hole_sheet *holes;
    size_t hole_count;
};
/* All that the pieces ask for; BASE_NO_MEMORY or BASE_OK. */
struct pattern_input {
    const struct shop *shop;
    const struct pieces *pieces;
};
enum base_status pattern_list(struct base_arena *arena, const struct pattern_input *input,
                              struct patterns *patterns);

#endif
