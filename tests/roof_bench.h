/* SPDX-License-Identifier: Apache-2.0 */
/* A job of wings filled by hand, as the reader would, and what its roof says: for the tests of
 * roof. */
#ifndef EAVESMITH_TESTS_ROOF_BENCH_H
#define EAVESMITH_TESTS_ROOF_BENCH_H

#include "check.h"
#include "roof/roof.h"
#include "units/units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846
enum { WINGS_MAX = 4 };

struct bench {
    struct base_arena *arena;
    struct base_issues issues;
    struct job job;
    struct job_wing wings[WINGS_MAX];
    struct roof roof;
};

static struct bench bench;

static inline int set_bench(void **state) {
    (void)state;
    memset(&bench, 0, sizeof bench);
    bench.arena = base_make_arena(0);
    bench.issues.arena = bench.arena;
    bench.job.wall_rain = JOB_WALL_RAIN_NONE; /* walls have their own tests */
    bench.job.wings = bench.wings;
    return bench.arena == NULL;
}

static inline int clear_bench(void **state) {
    (void)state;
    base_free_arena(bench.arena);
    return 0;
}

static inline struct job_length millimetres(int64_t length_mm) {
    return (struct job_length){
        .given = true, .tick = length_mm * UNITS_TICK_PER_MM, .reading_count = 1};
}

static inline struct job_number number(double value) {
    return (struct job_number){.given = true, .value = value};
}

/* A wing in millimetres; edges as four letters, south east north west: e, g or w. */
static inline struct job_wing *add_wing(const char *name, const int64_t box_mm[4],
                                        const char *edges) {
    struct job_wing *wing = &bench.wings[bench.job.wing_count++];
    *wing = (struct job_wing){.name = base_text_of(name),
                              .corner_x_tick = box_mm[0] * UNITS_TICK_PER_MM,
                              .corner_y_tick = box_mm[1] * UNITS_TICK_PER_MM,
                              .width = millimetres(box_mm[2]),
                              .depth = millimetres(box_mm[3]),
                              .eave_height = millimetres(5000),
                              .pitch = number(0.75)};
    for (int i = 0; i < JOB_WING_EDGES; i++) {
        wing->edges[i] = edges[i] == 'e'   ? JOB_EDGE_EAVE
                         : edges[i] == 'g' ? JOB_EDGE_GABLE
                                           : JOB_EDGE_WALL;
    }
    return wing;
}

static inline struct job_wing *add_box(const char *name, int64_t x_mm, int64_t y_mm,
                                       int64_t width_mm, int64_t depth_mm) {
    return add_wing(name, (int64_t[]){x_mm, y_mm, width_mm, depth_mm}, "eeee");
}

static inline void set_edges(struct job_wing *wing, const char *edges) {
    for (int i = 0; i < JOB_WING_EDGES; i++) {
        wing->edges[i] = edges[i] == 'e'   ? JOB_EDGE_EAVE
                         : edges[i] == 'g' ? JOB_EDGE_GABLE
                                           : JOB_EDGE_WALL;
    }
}

static inline enum base_status find(void) {
    bench.issues.count = 0;
    return roof_find(bench.arena, &bench.issues, &bench.job, &bench.roof);
}

static inline const struct roof_eave *eave(const char *name) {
    for (size_t i = 0; i < bench.roof.eave_count; i++) {
        if (base_text_is(bench.roof.eaves[i].name, name)) {
            return &bench.roof.eaves[i];
        }
    }
    fail_msg("no eave %s", name);
    return NULL;
}

static inline double poured(const char *name) {
    double area_m2 = 0;
    for (size_t i = 0; i < bench.roof.pour_count; i++) {
        area_m2 +=
            base_text_is(bench.roof.pours[i].onto, name) ? bench.roof.pours[i].plan_area_m2 : 0;
    }
    return area_m2;
}

static inline size_t count_code(enum base_issue_code code) {
    size_t count = 0;
    for (size_t i = 0; i < bench.issues.count; i++) {
        count += bench.issues.items[i].code == code;
    }
    return count;
}

static inline size_t count_lines(enum roof_line_kind kind) {
    size_t count = 0;
    for (size_t i = 0; i < bench.roof.line_count; i++) {
        count += bench.roof.lines[i].kind == kind;
    }
    return count;
}

static inline double lines_length(enum roof_line_kind kind) {
    double length_m = 0;
    for (size_t i = 0; i < bench.roof.line_count; i++) {
        const struct roof_line *line = &bench.roof.lines[i];
        length_m += line->kind == kind ? geometry_distance(line->from, line->to) : 0;
    }
    return length_m;
}

static inline double sum_drained(void) {
    double sum_m2 = bench.roof.stray_plan_area_m2;
    for (size_t i = 0; i < bench.roof.eave_count; i++) {
        sum_m2 += bench.roof.eaves[i].plan_area_m2;
    }
    for (size_t i = 0; i < bench.roof.pour_count; i++) {
        sum_m2 += bench.roof.pours[i].plan_area_m2;
    }
    return sum_m2;
}

static inline double sum_catchments(const struct roof_eave *of) {
    double sum_m2 = 0;
    for (size_t i = 0; i < of->catchment_count; i++) {
        sum_m2 += geometry_area(&of->catchment[i]);
    }
    return sum_m2;
}

#endif
