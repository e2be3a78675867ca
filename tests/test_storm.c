/* SPDX-License-Identifier: Apache-2.0 */
/* A storm minute by minute over a layout: volumes close, and what goes over is what the reach
 * cannot run with. Values worked by hand (DERIVED) unless said otherwise. */
#include <math.h>
#include <string.h>

#include "check.h"
#include "storm/storm.h"

enum { MINUTES = 5 };

static struct layout_reach reaches[2];
static struct layout layout;
static struct base_arena *arena;

/* 100 and 50 m2 of roof in a design rain of 1e-5 m/s; the first just runs with 2e-5 m/s, 1.2 mm a
 * minute, the second with anything. */
static int set_up(void **state) {
    (void)state;
    arena = base_make_arena(0);
    reaches[0] = (struct layout_reach){.flow_m3s = 1e-3};
    reaches[0].often.troubles[LAYOUT_AS_BUILT].rain_mps = 2e-5;
    reaches[1] = (struct layout_reach){.flow_m3s = 0.5e-3};
    reaches[1].often.troubles[LAYOUT_AS_BUILT].rain_mps = (double)INFINITY;
    layout = (struct layout){.rain_mps = 1e-5, .reaches = reaches, .reach_count = 2};
    return arena == NULL;
}

static int tear_down(void **state) {
    (void)state;
    base_free_arena(arena);
    return 0;
}

static struct storm run(const double *depth_m, size_t count) {
    double minutes_m[60];
    memcpy(minutes_m, depth_m, count * sizeof *depth_m);
    struct rain_storm rain = {.depth_m = minutes_m, .count = count};
    struct storm storm;
    assert_true(storm_run(arena, &layout, &rain, &storm));
    return storm;
}

static void what_a_reach_cannot_run_with_goes_over(void **state) {
    (void)state;
    double depth_m[MINUTES] = {0.0006, 0.0012, 0.0020, 0.0017, 0.0001};
    struct storm storm = run(depth_m, MINUTES);
    check_near(storm.reaches[0].fallen_m3, 0.56, 1e-12); /* 5.6 mm on 100 m2 */
    check_near(storm.reaches[0].over_m3, 0.13, 1e-12);   /* 0.8 and 0.5 mm */
    assert_int_equal(storm.reaches[0].over_minutes, 2);
    check_near(storm.reaches[0].over_from_s, 120, 0);
    check_near(storm.reaches[0].most_over_m3s, 0.08 / 60, 1e-12);
    check_near(storm.reaches[1].fallen_m3, 0.28, 1e-12);
    check_near(storm.reaches[1].over_m3, 0, 0);
    assert_int_equal(storm.reaches[1].over_minutes, 0);
}

/* Fallen = run off + gone over, whatever falls. */
static void every_drop_runs_off_or_goes_over(void **state) {
    (void)state;
    double depth_m[60];
    uint64_t seed = 7;
    for (int storms = 0; storms < 500; storms++) {
        for (size_t i = 0; i < 60; i++) {
            seed = seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
            depth_m[i] = (double)(seed >> 40) / (double)(1 << 24) * 0.003;
        }
        struct storm storm = run(depth_m, 60);
        check_near(storm.drained_m3 + storm.over_m3, storm.fallen_m3, 1e-12 * storm.fallen_m3);
        assert_true(storm.over_m3 > 0);
        assert_true(storm.reaches[0].over_m3 < storm.reaches[0].fallen_m3);
    }
}

static void more_rain_never_lets_less_go_over(void **state) {
    (void)state;
    double depth_m[MINUTES] = {0.0006, 0.0012, 0.0020, 0.0017, 0.0001};
    double before_m3 = 0;
    for (int step = 0; step < 20; step++) {
        struct storm storm = run(depth_m, MINUTES);
        assert_true(storm.over_m3 >= before_m3);
        before_m3 = storm.over_m3;
        for (size_t i = 0; i < MINUTES; i++) {
            depth_m[i] *= 1.1;
        }
    }
}

static void lasting_rain_below_the_limit_goes_nowhere_else(void **state) {
    (void)state;
    double depth_m[MINUTES] = {0.00119, 0.00119, 0.00119, 0.00119, 0.00119};
    struct storm storm = run(depth_m, MINUTES);
    check_near(storm.over_m3, 0, 0);
    check_near(storm.drained_m3, storm.fallen_m3, 1e-15);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(what_a_reach_cannot_run_with_goes_over, set_up, tear_down),
        cmocka_unit_test_setup_teardown(every_drop_runs_off_or_goes_over, set_up, tear_down),
        cmocka_unit_test_setup_teardown(more_rain_never_lets_less_go_over, set_up, tear_down),
        cmocka_unit_test_setup_teardown(lasting_rain_below_the_limit_goes_nowhere_else, set_up,
                                        tear_down)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
