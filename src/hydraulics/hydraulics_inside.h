/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Inside of hydraulics, for itself and its tests: the march on any shape of channel, so that
 * published examples of other shapes run through the very code that solves a gutter; and the count
 * of work done, which a test can hold to a limit where time cannot.
 */
#ifndef EAVESMITH_HYDRAULICS_INSIDE_H
#define EAVESMITH_HYDRAULICS_INSIDE_H

#include "hydraulics/hydraulics.h"

/* ---- units of the published forms -------------------------------------------------------------
 */

#define HYDRAULICS_FOOT_M  0.3048
#define HYDRAULICS_INCH_M  0.0254
#define HYDRAULICS_CFS_M3S (0.3048 * 0.3048 * 0.3048)
/* US gallon a minute: 231 cubic inches. */
#define HYDRAULICS_GPM_M3S (231 * 0.0254 * 0.0254 * 0.0254 / 60)
/* 1 in/h on 1 ft2. */
#define HYDRAULICS_FT2_INH_M3S (HYDRAULICS_CFS_M3S / 43200)

/* ---- any channel ------------------------------------------------------------------------------
 */

/* A prismatic shape: wet(context, depth) for 0 <= depth <= top_m. */
struct hydraulics_shape {
    struct section_wet (*find_wet)(const void *context, double depth_m);
    const void *context;
    double top_m;
};

struct hydraulics_shape hydraulics_gutter_shape(const struct section_gutter *section);

/* What was done, in counts. */
struct hydraulics_work {
    size_t wets;     /* evaluations of the shape */
    size_t stations; /* depths found, both sweeps */
};

/* The critical state of a flow: depth (the top when the flow is too great for the shape). */
struct hydraulics_critical {
    double depth_m;
    struct section_wet wet;
    bool above_top; /* critical depth would stand above the top */
};
/* near_m: a guess, 0 for none. work may be NULL. */
struct hydraulics_critical hydraulics_find_critical(const struct hydraulics_shape *shape,
                                                    double flow_m3s, double near_m,
                                                    struct hydraulics_work *work);

/* hydraulics_find_profile on any shape; channel->section is not looked at. manning_1 may be 0 here:
 * no friction. */
bool hydraulics_find_shape_profile(struct base_arena *arena, const struct hydraulics_shape *shape,
                                   const struct hydraulics_channel *channel,
                                   struct hydraulics_profile *profile,
                                   struct hydraulics_work *work);

/*
 * G = S0 - Sf - 2 q Q/(g A^2) at critical depth: below zero the flow there stays subcritical, above
 * zero it shoots; an interior control stands where G rises through zero.
 */
double hydraulics_control_excess(const struct hydraulics_shape *shape,
                                 const struct hydraulics_channel *channel, double x_m);

#endif
