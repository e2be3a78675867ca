/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The roof and catchments of a house of twenty wings: the fastest of many. Times are printed beside
 * their aim and never gate; what is looked at is counted, and tests/test_roof_work.c gates that.
 */
#include "roof/roof.h"
#include "twenty_wings.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { ROUNDS = 500 };

static double now_s(void) {
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return (double)at.tv_sec + 1e-9 * (double)at.tv_nsec;
}

static int compare_doubles(const void *one, const void *other) {
    double a = *(const double *)one;
    double b = *(const double *)other;
    return (a > b) - (a < b);
}

int main(void) {
    static double seconds[ROUNDS];
    static struct job_wing wings[TWENTY_WINGS];
    struct job job;
    struct roof roof = {0};
    twenty_wings_make(wings, &job);
    for (size_t i = 0; i < ROUNDS; i++) {
        struct base_arena *arena = base_make_arena(0);
        struct base_issues issues = {.arena = arena};
        double start_s = now_s();
        enum base_status status = roof_find(arena, &issues, &job, &roof);
        seconds[i] = now_s() - start_s;
        if (i == 0) {
            printf("looks: %zu, takes from the arena: %zu, bytes: %zu\n", roof.looks,
                   base_take_count(arena), base_arena_peak_bytes(arena));
        }
        base_free_arena(arena);
        if (status != BASE_OK) {
            return 1;
        }
    }
    qsort(seconds, ROUNDS, sizeof *seconds, compare_doubles);
    printf("roof of %d wings, %zu eaves: median %.3f ms, best %.3f ms of %d (aim under 1 ms)\n",
           TWENTY_WINGS, roof.eave_count, 1e3 * seconds[ROUNDS / 2], 1e3 * seconds[0], ROUNDS);
    return 0;
}
