/* SPDX-License-Identifier: Apache-2.0 */
/*
 * measure: do these measurements close? First version: readings compared, doubts kept, a ring of
 * runs closed.
 *
 * Walk      before: job. after: roof.
 * Source    plane geometry; the adjustment by least squares comes with the survey version.
 */
#ifndef EAVESMITH_MEASURE_H
#define EAVESMITH_MEASURE_H

#include "base/base.h"
#include "job/job.h"

struct measure_length {
    struct base_text name; /* "porch", "hall.1" */
    int64_t length_tick;
    int64_t doubt_tick; /* half-width; 0 = none said */
    size_t reading_count;
    enum job_line taped_on;
    bool guess;
    struct base_mark mark;
};

struct measure {
    struct measure_length *lengths; /* [count] in walking order */
    size_t count;
    bool is_ring;        /* the runs come back to their start */
    double misclosure_m; /* distance between start and end of the ring */
    double expected_m; /* what the doubts would explain: root of the sum of squares, at least 1/4 in
                          a length */
};

enum base_status measure_check(struct base_arena *arena, struct base_issues *issues,
                               const struct job *job, struct measure *measure);

#endif
