/* SPDX-License-Identifier: Apache-2.0 */
/*
 * joints: where each run is joined, fixed once.
 *
 * Walk      before: layout, hang. after: pieces.
 * Rule      as few pieces as the stock allows, full lengths from the left, or from the right where
 * that leaves fewer joints or longer short pieces; a joint keeps clear of outlets, corners and
 * keep-out zones (distances in shop); the last piece is not shorter than the shop's shortest where
 * that can be. A corner is a made-up mitre with legs; the gutter laps its legs.
 */
#ifndef EAVESMITH_JOINTS_H
#define EAVESMITH_JOINTS_H

#include "base/base.h"
#include "layout/layout.h"

enum joints_kind { JOINTS_LAP = 0, JOINTS_MITRE_LAP };

struct joints_joint {
    enum joints_kind kind;
    int64_t centre_tick;    /* from the gutter's left end */
    int64_t room_tick;      /* how far it may stand to either side before it meets an outlet's or a
                               keep-out zone; the run's length where there is none */
    bool left_piece_inside; /* laps with the water: the piece upstream lies inside the one
                               downstream */
};

struct joints_span {
    int64_t from_tick; /* from the gutter's left end */
    int64_t to_tick;
};

struct joints_run {
    size_t run;
    struct joints_span *spans; /* gutter lengths [span_count], left to right, laps included */
    size_t span_count;
    struct joints_joint *joints; /* [joint_count], left to right, laps on mitre legs too */
    size_t joint_count;
};

struct joints {
    struct joints_run *runs; /* [layout->run_count] */
    size_t run_count;
};

struct joints_input {
    const struct job *job;
    const struct shop *shop;
    const struct roof *roof;
    const struct layout *layout;
};

enum base_status joints_fix(struct base_arena *arena, struct base_issues *issues,
                            struct base_trace *trace, const struct joints_input *input,
                            struct joints *joints);

#endif
