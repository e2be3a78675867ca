/* SPDX-License-Identifier: Apache-2.0 */
#include "measure/measure.h"

#include <math.h>

/* Readings of one length further apart than this are doubtful: COMMON PRACTICE, a tape is read to
 * 1/8 in. */
#define READINGS_APART_M 0.00635

static const double PI = 3.14159265358979323846;

static void add_length(struct measure *measure, struct base_text name,
                       const struct job_length *length, enum job_line taped_on) {
    measure->lengths[measure->count++] =
        (struct measure_length){.name = name,
                                .length_tick = length->tick,
                                .doubt_tick = length->doubt_tick,
                                .reading_count = length->reading_count,
                                .taped_on = taped_on,
                                .guess = length->guess,
                                .mark = length->mark};
}

static void check_length(struct base_issues *issues, const struct measure_length *length) {
    if (length->guess) {
        base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_LENGTH_IS_A_GUESS,
                                                   .mark = length->mark,
                                                   .object = length->name,
                                                   .value = base_value_tick(length->length_tick)});
    }
    if (length->reading_count > 1 && units_m_of_tick(length->doubt_tick) * 2 > READINGS_APART_M) {
        base_add_issue(issues, (struct base_issue){
                                   .code = BASE_ISSUE_READINGS_APART,
                                   .mark = length->mark,
                                   .object = length->name,
                                   .value = base_value_tick(2 * length->doubt_tick),
                                   .limit = base_value_tick(units_tick_of_m(READINGS_APART_M))});
    }
}

static double turn_of(const struct job_run_end *end) {
    if (end->kind == JOB_END_OUTSIDE) {
        return PI - end->corner_rad;
    }
    return end->kind == JOB_END_INSIDE ? end->corner_rad - PI : 0.0;
}

static bool is_corner(enum job_end_kind kind) {
    return kind == JOB_END_OUTSIDE || kind == JOB_END_INSIDE;
}

/* Walks a ring of runs round the house and measures by how much it misses its start. */
static void close_ring(const struct job *job, struct measure *measure) {
    measure->is_ring = job->run_count > 2;
    for (size_t i = 0; i < job->run_count; i++) {
        measure->is_ring = measure->is_ring && is_corner(job->runs[i].from.kind) &&
                           is_corner(job->runs[i].to.kind);
    }
    if (!measure->is_ring) {
        return;
    }
    double x_m = 0.0;
    double y_m = 0.0;
    double heading_rad = 0.0;
    double variance_m2 = 0.0;
    const double usual_doubt_m = 0.00635; /* 1/4 in a length, when none is said: COMMON PRACTICE */
    for (size_t i = 0; i < job->run_count; i++) {
        double length_m = units_m_of_tick(job->runs[i].length.tick);
        x_m += length_m * cos(heading_rad);
        y_m += length_m * sin(heading_rad);
        heading_rad += turn_of(&job->runs[i].to);
        double doubt_m = units_m_of_tick(job->runs[i].length.doubt_tick);
        doubt_m = doubt_m > 0.0 ? doubt_m : usual_doubt_m;
        variance_m2 += doubt_m * doubt_m;
    }
    measure->misclosure_m = sqrt(x_m * x_m + y_m * y_m);
    measure->expected_m = sqrt(variance_m2);
}

static struct base_text edge_name(struct base_arena *arena, struct base_text wing, int edge) {
    static const char *const numbers[JOB_WING_EDGES] = {".1", ".2", ".3", ".4"};
    struct base_text parts[] = {wing, base_text_of(numbers[edge])};
    return base_join(arena, 2, parts);
}

enum base_status measure_check(struct base_arena *arena, struct base_issues *issues,
                               const struct job *job, struct measure *measure) {
    *measure = (struct measure){0};
    measure->lengths = base_take(arena, job->run_count + JOB_WING_EDGES * job->wing_count,
                                 sizeof *measure->lengths);
    if (measure->lengths == NULL) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < job->run_count; i++) {
        add_length(measure, job->runs[i].name, &job->runs[i].length, job->runs[i].taped_on);
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        const struct job_wing *wing = &job->wings[i];
        for (int edge = 0; edge < JOB_WING_EDGES; edge++) {
            if (wing->edges[edge] == JOB_EDGE_EAVE) {
                add_length(measure, edge_name(arena, wing->name, edge),
                           edge % 2 == 0 ? &wing->width : &wing->depth, JOB_LINE_ROOF_EDGE);
            }
        }
    }
    for (size_t i = 0; i < measure->count; i++) {
        check_length(issues, &measure->lengths[i]);
    }
    close_ring(job, measure);
    if (measure->is_ring && measure->misclosure_m > 3.0 * measure->expected_m) {
        base_add_issue(issues, (struct base_issue){
                                   .code = BASE_ISSUE_RING_DOES_NOT_CLOSE,
                                   .mark = job->runs[0].mark,
                                   .value = base_value_number(BASE_UNIT_M, measure->misclosure_m),
                                   .limit = base_value_number(BASE_UNIT_M, measure->expected_m)});
    }
    return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
}
