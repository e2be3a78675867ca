/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A witness for the steady physics: shallow water in time, along one gutter or down one plane. Used
 * by tests only (docs/theory/storm.md says why nothing else needs it).
 *
 *     dA/dt + dQ/dx = q                                      q brings no speed along the gutter
 *     dQ/dt + d(Q^2/A + g A ybar)/dx = g A (S0 - Sf)         Sf = n^2 Q |Q| P^(4/3) / A^(10/3)
 *
 * Finite volumes, Harten-Lax-van Leer fluxes between states that are linear in depth and speed
 * within a cell, two stages in time with friction taken implicitly and steady flow kept (SRC-118).
 * The outlet is a half of a Riemann problem: the state behind the wave that leaves the last cell,
 * with the law of the outlet; so a drowned outlet sends a jump up by itself. Nothing here is shared
 * with src/hydraulics but the shape of the section and the law of the outlet.
 */
#ifndef EAVESMITH_TESTS_UNSTEADY_H
#define EAVESMITH_TESTS_UNSTEADY_H

#include "hydraulics/hydraulics.h"

enum { UNSTEADY_CELLS_MAX = 1600 };

enum unsteady_end {
    UNSTEADY_FREE = 0, /* critical where it arrives tranquil, as it comes where it shoots */
    UNSTEADY_OUTLET,   /* passes what its head presses through */
    UNSTEADY_OPEN      /* as it comes: the foot of a plane */
};

struct unsteady {
    const struct section_gutter *section; /* NULL = a plane a metre wide, without sides */
    double length_m;
    double slope_1;
    double manning_1;
    enum unsteady_end end;
    double outlet_m; /* diameter */
    bool strained;
    size_t cells;
    double lateral_m2s[UNSTEADY_CELLS_MAX]; /* inflow per metre at factor 1 */
    double area_m2[UNSTEADY_CELLS_MAX];
    double flow_m3s[UNSTEADY_CELLS_MAX];
    double depth_m[UNSTEADY_CELLS_MAX]; /* of area_m2 */
    double time_s;
    double inflow_m3; /* the film it begins with is counted in */
    double outflow_m3;
    double outflow_m3s; /* now */
};

/* Dry but for a film of a thousandth of a millimetre. */
void unsteady_begin(struct unsteady *water);
/* On the same gutter with another number of cells, from what stands there. */
void unsteady_refine(struct unsteady *water, size_t cells);
/* Runs on for that long in rain of that factor; above the lip the walls are taken to go on up.
 * Gives the greatest depth on the way. */
double unsteady_run(struct unsteady *water, double factor_1, double time_s);
double unsteady_volume(const struct unsteady *water);
double unsteady_greatest_depth(const struct unsteady *water);
/* Middle of a cell. */
double unsteady_place(const struct unsteady *water, size_t cell);

#endif
