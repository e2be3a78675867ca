/* SPDX-License-Identifier: Apache-2.0 */
/*
 * structure: what a gutter weighs, what each bracket bears of it, what a screw in wood holds. A
 * formula room: it has never heard of a house.
 *
 * Walk      before: base, numeric, units, section, material. after: hang.
 * Units     SI: N, N/m, Pa. Allowable values as the wood standard has them, under loads as they
 * come.
 */
#ifndef EAVESMITH_STRUCTURE_H
#define EAVESMITH_STRUCTURE_H

#include "base/base.h"
#include "section/section.h"

#define STRUCTURE_GRAVITY_MPS2 9.80665

/* ---- loads, per metre of gutter ---------------------------------------------------------------
 */

/* Its own sheet. */
double structure_metal_load(const struct section_gutter *gutter, double sheet_m, double mass_kgm2);
/* Filled to the front lip: 62.4 lb/ft3 of water, 57.2 of ice: SRC-157. */
double structure_water_load(const struct section_gutter *gutter);
double structure_ice_load(const struct section_gutter *gutter);
/* Snow of the flat roof over the gutter's own width. 0.7 of the ground's: ASCE 7 eq. 7.3-1, all
 * factors 1: SRC-155 (MEMORY). */
double structure_snow_load(double ground_snow_pa, double width_m);
/* Snow that slides off the roof above, 0.4 p_f W: W eave to ridge in plan. ASCE 7-22 section 7.9
 * (rule FOUND). */
double structure_sliding_load(double ground_snow_pa, double roof_run_m);

/* ---- the gutter on its brackets -----------------------------------------------------------------
 */

/* A beam of even stiffness on supports[count >= 1] by rising x, loaded evenly from 0 to length. */
struct structure_beam {
    double length_m;
    double load_nm; /* N per metre */
    const double *supports_m;
    size_t count;
};
/*
 * What each support bears and the bending moment over it, by the equation of three moments; both
 * [count], and scratch [2 count]. One support bears all, its moment that of its longer side.
 */
void structure_find_beam(const struct structure_beam *beam, double *reactions_n, double *moments_nm,
                         double *scratch);

/* ---- a screw in wood ------------------------------------------------------------------------- */

enum structure_grain { STRUCTURE_SIDE_GRAIN = 0, STRUCTURE_END_GRAIN };

struct structure_screw {
    double diameter_m; /* of the shank */
    double root_m;     /* of the thread */
    double yield_pa;   /* in bending */
    double thread_m;   /* in the wood, tip left out */
    double plate_m;    /* the bracket's metal under its head */
    double plate_bearing_pa;
};

/* Holding against being pulled out, 1800 G^1.5 D^0.75 lb per inch; 0.75 of it in end grain. NDS
 * 12.2.1: SRC-150. */
double structure_withdrawal(const struct structure_screw *screw, double gravity_1,
                            enum structure_grain grain);
/*
 * Holding across its axis: the least of the six yield modes for a plate on wood. grain_rad: between
 * load and grain, 0 = along it. In end grain square to it, times 0.67 (MEMORY). NDS 12.3 (equations
 * MEMORY, confirmed by table 12K, FOUND).
 */
double structure_lateral(const struct structure_screw *screw, double gravity_1, double grain_rad,
                         enum structure_grain grain);
/* Both at once under a pull that leans: Hankinson's form; load_rad from the wood's face. NDS 12.4
 * (MEMORY). */
double structure_leaning(double withdrawal_n, double lateral_n, double load_rad);

/*
 * A bracket by two screws, one under the other, carrying load_n at arm_m out from the wood: the top
 * one is pulled by load x arm / apart, and both share the load itself. Gives what of the top
 * screw's holding is used.
 */
struct structure_bracket {
    double load_n;
    double arm_m;
    double apart_m;
};
double structure_screw_use(const struct structure_bracket *bracket, double withdrawal_n,
                           double lateral_n);

/* ---- the bracket itself ---------------------------------------------------------------------- */

/* A bar bent to a quarter circle, fixed at one end, pulled square to it at the other, in its own
 * plane: deflection pi P R^3 / (4 E I). Thin ring; confirmed within 2 % by SRC-154. */
double structure_quarter_sag(double load_n, double radius_m, double modulus_pa, double inertia_m4);
/* Stress of a bar wide x thick that carries a load at an arm: 6 M / (b t^2). */
double structure_bar_stress(double load_n, double arm_m, double wide_m, double thick_m);

/* What a ladder at four up to one out pushes sideways where it leans: W a / (4 L), at a of L up.
 * DERIVED, smooth wall. */
double structure_ladder_push(double weight_n, double share_1);

#endif
