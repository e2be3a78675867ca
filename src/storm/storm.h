/* SPDX-License-Identifier: Apache-2.0 */
/*
 * storm: a storm minute by minute over what was laid out.
 *
 * Walk      before: layout, rain. after: result, documents.
 * Quasi-steady: every minute is taken as lasting rain. An eaves gutter fills in seconds (see
 * layout_blocked.fill_s), so a minute's rain is long against it. Of a reach whose rain is over what
 * it just runs with (layout_often, as built) the rest goes over the edge, in the same minute:
 * fallen = run off + gone over, each minute and in all. What a gutter holds is left out.
 * Limits    a lower gutter gets an upper one's water whole, also what went over up there.
 */
#ifndef EAVESMITH_STORM_H
#define EAVESMITH_STORM_H

#include "base/base.h"
#include "layout/layout.h"
#include "rain/rain.h"

struct storm_reach {
    size_t reach; /* of the layout */
    double fallen_m3;
    double drained_m3;
    double over_m3;
    size_t over_minutes; /* in which it goes over */
    double over_from_s;  /* from the storm's beginning to the first of them; 0 when there is none */
    double most_over_m3s; /* in the hardest minute */
};

struct storm {
    double period_years;
    double duration_s;
    double total_m;
    double hardest_mps;
    struct storm_reach *reaches; /* [layout->reach_count] */
    size_t reach_count;
    double fallen_m3;
    double drained_m3;
    double over_m3;
};

/* False when memory failed. */
bool storm_run(struct base_arena *arena, const struct layout *layout, const struct rain_storm *rain,
               struct storm *storm);

enum { STORM_DESIGN_MOST = 2 };

/*
 * Balanced storms of one hour in blocks of the design rain's duration, hardest in the middle, from
 * the rain table: of the design period and of 100 years, as far as the table holds them. Gives how
 * many; *failed when memory failed. Source: SRC-142.
 */
struct storm_input {
    const struct layout *layout;
    const struct rain_table *table;
};
size_t storm_run_designs(struct base_arena *arena, const struct storm_input *input,
                         struct storm storms[STORM_DESIGN_MOST], bool *failed);

/* The reasons of what result says of them. A NULL trace is silent. */
void storm_explain(struct base_arena *arena, struct base_trace *trace, const struct layout *layout,
                   const struct storm *storms, size_t count);

#endif
