/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Whether the gutters catch the water. Part of layout.h, which includes it; other rooms include
 * "layout/layout.h".
 */
#ifndef EAVESMITH_LAYOUT_CATCH_H
#define EAVESMITH_LAYOUT_CATCH_H

#include "hydraulics/hydraulics.h"

/* Of one run, at its highest and its lowest place. */
struct layout_catch {
    struct hydraulics_edge edge; /* its flow is the greatest along the eave, in the design storm */
    bool drip_said;              /* drip metal, or its absence, is known only where it was said */
    struct hydraulics_trough high_trough;
    struct hydraulics_trough low_trough;
    struct hydraulics_catch high;
    struct hydraulics_catch low;
    bool wants_apron;       /* at the low end */
    int64_t apron_tick;     /* how long, at all low places together */
    double roof_s;          /* time of concentration of the roof behind */
    double creeps_rain_mps; /* below this rain water creeps round the edge; 0 with drip metal */
};

/* A valley's stream over its gutter; run = SIZE_MAX: it falls on no gutter of this job. */
struct layout_valley {
    size_t run;
    double flow_m3s;
    struct hydraulics_landing landing; /* square to the eave */
    double lip_m;                      /* from the edge out to the lip */
    bool wants_splash;                 /* it lands ahead of the lip, or within its last third */
};

#endif
