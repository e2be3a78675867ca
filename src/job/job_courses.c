/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Heights that were counted in courses of brick: {courses: 80, four courses: 12 1/2"}. A rule of
 * thumb for one size of brick is no measurement: the gauge of four courses is asked for.
 */
#include "job/job_inside.h"

static const int64_t COURSES_MOST = 1000;

static void read_courses(struct job_reader *reader, const struct tree_node *node, const char *key,
                         struct job_length *height) {
    static const char *const NAMES[] = {"courses", "four courses"};
    static const struct job_keys KEYS = {"a height by courses", NAMES, JOB_COUNT_OF(NAMES)};
    if (!job_check_map(reader, node, key, &KEYS)) {
        return;
    }
    struct job_length four = {.given = false};
    job_require(reader, node, "four courses", "four courses: 12 1/2\"|four courses: 300");
    job_take_length(reader, node, "four courses", JOB_ZERO_REFUSED, &four);
    const struct tree_node *count = job_find_scalar(reader, node, "courses");
    if (!job_require(reader, node, "courses", "courses: 80") || count == NULL) {
        return;
    }
    struct units_integer_reading courses = units_read_count(job_trim(count->text));
    if (courses.fault != UNITS_FINE || courses.value < 1 || courses.value > COURSES_MOST) {
        job_refuse_range(reader, count, "courses", "1 to 1000 of them, counted");
        return;
    }
    if (four.given) {
        *height = four;
        height->tick = (courses.value * four.tick + 2) / 4;
        height->doubt_tick = courses.value * four.doubt_tick / 4;
        height->mark = node->mark;
    }
}

void job_take_height(struct job_reader *reader, const struct tree_node *map, const char *key,
                     struct job_length *height) {
    const struct tree_node *node = tree_find(map, key);
    if (node != NULL && node->kind == TREE_MAP) {
        read_courses(reader, node, key, height);
    } else {
        job_take_length(reader, map, key, JOB_ZERO_REFUSED, height);
    }
}
