/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A storm of 24 hours minute by minute over the demo house, and over runs of more and more gutters:
 * the time is printed beside its aim and never gates, the steps are counted and do.
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "cli/cli.h"
#include "storm/storm.h"

enum { MINUTES = 24 * 60, STORMS = 200, GUTTERS_MOST = 512 };

static double now_s(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

/* Invented rain: drizzle with a cloudburst each six hours. */
static struct rain_storm make_rain(void) {
    static double depth_m[MINUTES];
    struct rain_storm rain = {.depth_m = depth_m, .count = MINUTES};
    for (int i = 0; i < MINUTES; i++) {
        depth_m[i] = i % 360 > 180 && i % 360 < 190 ? 4e-3 : 2e-5;
        rain.total_m += depth_m[i];
    }
    rain.hardest_mps = 4e-3 / RAIN_STORM_STEP_S;
    return rain;
}

/* The best of many, in seconds; steps_run of one. */
static double time_storm(const struct layout *layout, size_t *steps) {
    const struct rain_storm rain = make_rain();
    double best_s = 1e9;
    for (int i = 0; i < STORMS; i++) {
        struct base_arena *arena = base_make_arena(0);
        struct storm storm;
        double start_s = now_s();
        bool ran = storm_run(arena, layout, &rain, &storm);
        double took_s = now_s() - start_s;
        best_s = took_s < best_s ? took_s : best_s;
        *steps = ran ? storm.steps_run : 0;
        base_free_arena(arena);
    }
    return best_s;
}

/* Gutters by themselves, each with its outlet. */
static struct layout make_gutters(struct base_arena *arena, size_t count) {
    struct layout_reach *reaches = base_take(arena, count, sizeof *reaches);
    struct layout_outlet *outlets = base_take(arena, count, sizeof *outlets);
    for (size_t i = 0; i < count && reaches != NULL && outlets != NULL; i++) {
        reaches[i] = (struct layout_reach){.flow_m3s = 1e-3, .outlet = i};
        reaches[i].often.troubles[LAYOUT_AS_BUILT].rain_mps = 6e-5;
        outlets[i] = (struct layout_outlet){.onto_run = SIZE_MAX};
    }
    return (struct layout){.rain_mps = 4.66e-5,
                           .reaches = reaches,
                           .reach_count = count,
                           .outlets = outlets,
                           .outlet_count = count};
}

int main(void) {
    struct cli_job job = {0};
    int failures = 0;
    size_t steps = 0;
    if (cli_load(&job, DEMO_HOUSE, NULL) != CLI_FINE) {
        cli_say_issues(&job);
        return 1;
    }
    double best_s = time_storm(&job.solution->layout, &steps);
    printf("24 h minute by minute over the demo house: best %.3f ms of %d (aim under 50 ms), %zu "
           "steps\n",
           1e3 * best_s, STORMS, steps);
    for (size_t gutters = 8; gutters <= GUTTERS_MOST; gutters *= 4) {
        const struct layout layout = make_gutters(job.arena, gutters);
        best_s = time_storm(&layout, &steps);
        bool linear = steps == gutters * MINUTES;
        printf("%4zu gutters: %zu steps (%s %zu)%s, best %.3f ms\n", gutters, steps,
               linear ? "as" : "NOT", gutters * MINUTES, linear ? "" : " FAILED", 1e3 * best_s);
        failures += !linear;
    }
    base_free_arena(job.arena);
    return failures > 0 ? 1 : 0;
}
