/* SPDX-License-Identifier: Apache-2.0 */
/*
 * section: the shapes metal is formed to. Half-round gutter with its bead, round downspout.
 *
 * Walk      before: base, numeric, units, geometry. after: shop, hydraulics, structure, pieces.
 *
 *        back      D (clear inside)   front
 *         |<------------------------->|  __
 *         |                           | (  )  bead, outside diameter b
 *       f |                           |  ~~
 *         |                           |  s   straight part above the half circle (0 on US sizes)
 *          \                         /
 *            \_                   _/       r = D/2
 *               ~---___________---~
 *
 * Sources   girth: trade/copper b (published girths 5 in = 10 in, 6 in = 12 1/4 in; CBRA p68).
 */
#ifndef EAVESMITH_SECTION_H
#define EAVESMITH_SECTION_H

#include "base/base.h"

struct section_gutter {
    double inside_diameter_m; /* D: clear width across the top, inside */
    double straight_m;        /* s */
    double bead_diameter_m;   /* b, outside */
    double back_rise_m;       /* f: how much the back edge stands above the front lip */
    double back_allowance_m;  /* h: straight back or hem beyond the half circle, in the girth */
};

/* Depth of water that the front lip holds: r + s. */
double section_full_depth(const struct section_gutter *gutter);

/* The wetted shape at a depth. */
struct section_wet {
    double area_m2;
    double perimeter_m; /* wetted */
    double top_width_m;
    double moment_m3; /* first moment of the area about the free surface, A * y_bar */
};
/* Needs 0 <= depth_m <= full depth (asserted). Source: trade/hydraulics H2; straight part by plane
 * geometry. */
struct section_wet section_find_wet(const struct section_gutter *gutter, double depth_m);

/* Outer width from the back of the sheet to the outside of the bead. */
double section_outer_width(const struct section_gutter *gutter, double sheet_m);
/* Girth: strip width to form the gutter. G = pi (D + t)/2 + pi (b - t) + 2 s + f_or_h. */
double section_girth(const struct section_gutter *gutter, double sheet_m);

/* Area of a round pipe of that inside diameter. */
double section_pipe_area(double diameter_m);

#endif
