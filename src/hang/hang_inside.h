/* SPDX-License-Identifier: Apache-2.0 */
/* What the files of hang share. Not for other rooms. */
#ifndef EAVESMITH_HANG_INSIDE_H
#define EAVESMITH_HANG_INSIDE_H

#include "hang/hang.h"

struct hang_walk {
    struct base_arena *arena;
    struct base_issues *issues;
    struct base_trace *trace;
    const struct hang_input *input;
    struct hang *hang;
};

const struct roof_eave *hang_eave(const struct hang_walk *walk, size_t run);
/* An issue about a run, shown at its eave section. */
void hang_report(const struct hang_walk *walk, enum base_issue_code code, size_t run,
                 int64_t value_tick, int64_t limit_tick);

/* hang_wood.c: what a bracket needs to stand plumb on this wood, and whether the wood, the cover
 * and the drip metal suit. The run's brackets and drops stand already. */
void hang_fit_wood(const struct hang_walk *walk, struct hang_run *run);

/* hang_loads.c: fills run->loads; false = no memory. Then what is overloaded, once for the house.
 */
bool hang_find_loads(const struct hang_walk *walk, struct hang_run *run);
void hang_say_loads(const struct hang_walk *walk);
void hang_explain_loads(const struct hang_walk *walk, const struct hang_run *run);

/* hang_moves.c: fills run->moves and says where an expansion joint is wanted. */
void hang_find_moves(const struct hang_walk *walk, struct hang_run *run);
void hang_explain_moves(const struct hang_walk *walk, const struct hang_run *run);

/* Why, in the scope of the run. */
void hang_explain_wood(const struct hang_walk *walk, const struct hang_run *run);

/* hang_found.c: fills hang->found. False = no memory. */
bool hang_find_found(const struct hang_walk *walk);
void hang_explain_found(const struct hang_walk *walk);

#endif
