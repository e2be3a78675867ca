/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Curved eaves: is it an arc?
 *
 *          .--|--.          chord c from end to end, rise h at its middle, q at a quarter of the
 *        .q   |h  q.        chord from either end. Quarters unequal by more than 1/8 in are no arc
 *       /_|___|___|_\       (COMMON PRACTICE); nor are quarters that agree with each other but not
 *             c             with the circle through both ends and the middle.
 */
#include <math.h>
#include <stdlib.h>

#include "measure/measure_inside.h"
#include "units/units.h"

#define QUARTERS_APART_TICK (UNITS_TICK_PER_INCH / 8)
/* A tape laid along a curve errs by this besides its doubt: COMMON PRACTICE. */
#define LENGTH_APART_TICK (UNITS_TICK_PER_INCH / 2)

static void say(struct base_issues *issues, enum base_issue_code code, const struct job_run *run,
                int64_t value_tick, int64_t limit_tick) {
    base_add_issue(issues, (struct base_issue){.code = code,
                                               .mark = run->curve.mark,
                                               .object = run->name,
                                               .value = base_value_tick(value_tick),
                                               .limit = base_value_tick(limit_tick)});
}

static void check_arc(struct base_issues *issues, const struct job_run *run) {
    const struct job_curve *curve = &run->curve;
    struct job_arc arc = job_find_arc(curve);
    int64_t arc_tick = units_tick_of_m(arc.length_m);
    int64_t quarter_tick = units_tick_of_m(arc.quarter_m);
    int64_t one_tick = curve->quarters[0].tick;
    int64_t other_tick = curve->quarters[1].tick;
    int64_t mean_tick = (one_tick + other_tick) / 2;
    if (llabs(one_tick - other_tick) > QUARTERS_APART_TICK) {
        say(issues, BASE_ISSUE_CURVE_QUARTERS_APART, run, one_tick, other_tick);
    } else if (llabs(mean_tick - quarter_tick) > QUARTERS_APART_TICK) {
        say(issues, BASE_ISSUE_CURVE_NOT_ROUND, run, mean_tick, quarter_tick);
    }
    if (llabs(run->length.tick - arc_tick) > LENGTH_APART_TICK + run->length.doubt_tick) {
        say(issues, BASE_ISSUE_CURVE_LENGTH_APART, run, run->length.tick, arc_tick);
    }
}

void measure_check_curves(struct base_issues *issues, const struct job *job) {
    for (size_t i = 0; i < job->run_count; i++) {
        const struct job_run *run = &job->runs[i];
        if (!run->curve.given) {
            continue;
        }
        if (!run->curve.paper) {
            check_arc(issues, run);
        }
        say(issues, BASE_ISSUE_CURVE_NOT_LAID_OUT, run, run->length.tick, 0);
    }
}
