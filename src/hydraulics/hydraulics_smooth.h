/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The smooth case, inside of hydraulics: tranquil water all the way up, below the brim, controlled
 * at the outlet. Then the profile is a few polynomials that keep the momentum between their nodes.
 *
 * hydraulics_table.c    four cross-sections at once, by polynomials
 * hydraulics_arc.c      one arc, by collocation
 * hydraulics_smooth.c   the chain of arcs
 * hydraulics_stations.c what it hands out
 */
#ifndef EAVESMITH_HYDRAULICS_SMOOTH_H
#define EAVESMITH_HYDRAULICS_SMOOTH_H

#include "hydraulics/hydraulics_inside.h"

/* ---- four cross-sections at once ---------------------------------------------------------------
 */

/* Depths as scale v^6; v is called the root. */
struct hydraulics_scale {
    double scale_m;
    double thinness; /* scale^-2 */
    double drag_1;   /* scale^(-10/3) */
    bool has_table;  /* a half circle: read from polynomials */
    bool table_ends; /* somewhere the shape itself must be asked */
};
struct hydraulics_scale hydraulics_find_scale(const struct hydraulics_reach *reach);
double hydraulics_find_root(const struct hydraulics_scale *scale, double depth_m);
double hydraulics_root_depth(const struct hydraulics_scale *scale, double root_1);

enum { HYDRAULICS_LANES = 4 };
struct hydraulics_cuts {
    double depth_m[HYDRAULICS_LANES];
    double area_m2[HYDRAULICS_LANES];
    double thinness[HYDRAULICS_LANES]; /* 1 / area */
    double moment_m3[HYDRAULICS_LANES];
    double width_m[HYDRAULICS_LANES];
    double drag[HYDRAULICS_LANES];        /* P^(4/3) / A^(7/3): A Sf = n^2 Q^2 times this */
    double drag_rise_1[HYDRAULICS_LANES]; /* d ln(drag) / d ln(depth), nearly */
};
/* Roots must be above zero; above the top they are let pass, as steps of a search need it. */
void hydraulics_find_cuts(struct hydraulics_reach *reach, const struct hydraulics_scale *scale,
                          const double root_1[HYDRAULICS_LANES], struct hydraulics_cuts *cuts);
/* Critical depth, below zero when it would stand above the top. */
double hydraulics_table_critical(struct hydraulics_reach *reach,
                                 const struct hydraulics_scale *scale, double flow_m3s);

/* ---- arcs --------------------------------------------------------------------------------------
 */

enum { HYDRAULICS_ARC_PLACES = 9, HYDRAULICS_ARCS_MOST = 48 };
/* Lobatto's five points on [0, 1] and halfway between them. */
static const double HYDRAULICS_ARC_SHARES[HYDRAULICS_ARC_PLACES] = {
    0,   0.086336582323005714, 0.17267316464601143, 0.33633658232300573,
    0.5, 0.66366341767699433,  0.82732683535398854, 0.91366341767699433,
    1};

struct hydraulics_arc {
    const struct hydraulics_segment *segment;
    double from; /* shares of the segment, counted from its lower end */
    double span;
    double bias;   /* x = segment->to_m - s (s + 2 bias) */
    double run[3]; /* s = run[0] + run[1] share + run[2] share^2 */
    double root_1[HYDRAULICS_ARC_PLACES];
};
double hydraulics_arc_x(const struct hydraulics_arc *arc, double share_1);

/* Where the chain of arcs has come to: the lower end of the next one. */
struct hydraulics_walk {
    struct hydraulics_reach *reach;
    const struct hydraulics_scale *scale;
    double root_1;
    double momentum_m3;
    double push_m2;
    double greatest_m3; /* of all M met */
};
/* What an arc hands on from its upper end. */
struct hydraulics_end {
    double momentum_m3;
    double push_m2;
    double greatest_m3;
    double error_1;
    double residual_m2;
};
/* arc holds guesses at places 2, 4, 6, 8. False when the water cannot stand so. */
bool hydraulics_solve_arc(struct hydraulics_walk *walk, struct hydraulics_arc *arc,
                          struct hydraulics_end *end);

struct hydraulics_smooth {
    struct hydraulics_scale scale;
    struct hydraulics_arc arcs[HYDRAULICS_ARCS_MOST]; /* from the outlet up */
    size_t count;
    double critical_m; /* at the outlet */
    double end_depth_m;
    double still_depth_m;
    double end_flow_m3s;
    double greatest_depth_m;
    double greatest_x_m;
    double greatest_m3;
    double residual_m2; /* greatest |dM/dx - A (S0 - Sf)| */
    double error_1;     /* estimate of the greatest relative error of a depth */
};
enum hydraulics_verdict {
    HYDRAULICS_SMOOTH_NOT = 0, /* chokes, shoots, dries up, or will not say */
    HYDRAULICS_SMOOTH_STANDS,
    /* Tranquil from the outlet up to a place where it reaches the lip: it spills there, whatever it
     * does above. */
    HYDRAULICS_SMOOTH_SPILLS
};
/*
 * smooth holds the whole water only where it stands. like: the same channel in another rain, solved
 * before on the same segments, to begin from; or NULL.
 */
enum hydraulics_verdict hydraulics_find_smooth(struct hydraulics_reach *reach, double outlet_head_m,
                                               const struct hydraulics_segments *segments,
                                               const struct hydraulics_smooth *like,
                                               struct hydraulics_smooth *smooth);
/* Finds greatest_depth_m and greatest_x_m from the arcs. */
void hydraulics_find_deepest(struct hydraulics_smooth *smooth);
/* False when the arena failed. */
bool hydraulics_write_smooth(struct base_arena *arena, const struct hydraulics_channel *channel,
                             const struct hydraulics_smooth *smooth,
                             struct hydraulics_profile *profile);

#endif
