/* SPDX-License-Identifier: Apache-2.0 */
/* What the later rooms take from the adjustment: lengths to build from, and what is in doubt. */
#include "measure/measure_inside.h"
#include "units/units.h"

#include <math.h>

bool measure_disagrees(const struct measure *measure) {
    switch (measure->verdict) {
    case MEASURE_UNCHECKED:
    case MEASURE_CLOSES:
    case MEASURE_TOO_MANY:
        return false;
    case MEASURE_ONE_WRONG:
    case MEASURE_UNDECIDED:
    case MEASURE_SEVERAL_WRONG:
        break;
    }
    return true;
}

const struct measure_length *measure_find_length(const struct measure *measure, size_t run,
                                                 size_t wing, size_t edge) {
    for (size_t i = 0; i < measure->count; i++) {
        const struct measure_length *length = &measure->lengths[i];
        if (length->run == run && length->wing == wing &&
            (run != SIZE_MAX || length->edge == edge)) {
            return length;
        }
    }
    return NULL;
}

const struct measure_item *measure_find_turn(const struct measure *measure, const struct job *job,
                                             size_t run) {
    for (size_t i = 0; i < measure->item_count; i++) {
        const struct measure_item *item = &measure->items[i];
        if (item->kind == MEASURE_CORNER && item->run == run &&
            item->check == job->runs[run].to.taped) {
            return item;
        }
    }
    return NULL;
}

bool measure_item_is_doubtful(const struct measure *measure, const struct measure_item *item) {
    for (size_t i = 0; i < measure->likely; i++) {
        if (&measure->items[measure->causes[i].item] == item) {
            return true;
        }
    }
    return measure->verdict == MEASURE_SEVERAL_WRONG;
}

static int64_t round_to(double length_m, int64_t round_tick) {
    int64_t quantum_tick = round_tick > 0 ? round_tick : 1;
    return quantum_tick * llround(length_m / units_m_of_tick(quantum_tick));
}

/* A corner keeps the angle that was said, square mostly, unless that lies outside of what it is
 * known to: nobody makes a mitre of 89.94 degrees. */
static void turn_corner(const struct measure_item *item, struct job_run *before,
                        struct job_run *after) {
    if (item != NULL && fabs(item->residual) > item->within) {
        before->to.corner_rad = after->from.corner_rad = item->adjusted;
    }
}

enum base_status measure_use_adjusted(struct base_arena *arena, struct base_issues *issues,
                                      int64_t round_tick, struct measure *measure,
                                      struct job *job) {
    if (!job->measuring.use_adjusted) {
        return BASE_OK;
    }
    struct base_issue issue = {.mark = job->measuring.mark};
    if (measure_disagrees(measure)) {
        issue.code = BASE_ISSUE_ADJUSTED_NOT_USED;
        base_add_issue(issues, issue);
        return BASE_OK;
    }
    if (job->wing_count > 0 || job->outline.given) {
        issue.code = BASE_ISSUE_ADJUSTED_RUNS_ONLY;
        base_add_issue(issues, issue);
    }
    struct job_run *runs = base_take(arena, job->run_count + 1, sizeof *runs);
    if (runs == NULL) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < job->run_count; i++) {
        runs[i] = job->runs[i];
    }
    for (size_t i = 0; i < measure->count; i++) {
        struct measure_length *length = &measure->lengths[i];
        if (length->run < job->run_count) {
            runs[length->run].length.tick = round_to(length->adjusted_m, round_tick);
            length->doubt_m = length->within_m;
            turn_corner(measure_find_turn(measure, job, length->run), &runs[length->run],
                        &runs[(length->run + 1) % job->run_count]);
        }
    }
    job->runs = runs;
    measure->uses_adjusted = true;
    return BASE_OK;
}
