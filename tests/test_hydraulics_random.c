/* SPDX-License-Identifier: Apache-2.0 */
/* What must hold of any gutter, over random ones. */
#include "test_hydraulics_gutters.h"

enum { GUTTERS = 1500 };

/* What 400 steps may cost: at a jump, whose place moves with them, and where a pool runs out to
 * nothing. */
static const double STEP_BAND_M = 1e-4;

static void random_gutters_are_sound_and_conserve_water(void **state) {
    (void)state;
    uint64_t seed = find_seed(0);
    int controls[3] = {0, 0, 0};
    int quartered = 0;
    for (int i = 0; i < GUTTERS; i++) {
        struct random_gutter gutter;
        make_random(&seed, &gutter);
        struct base_arena *own = base_make_arena(0);
        struct hydraulics_profile profile;
        assert_true(hydraulics_find_profile(own, &gutter.channel, &profile));
        check_sound(&gutter.channel, &profile);
        controls[profile.control]++;
        double inflow = gutter.channel.still_flow_m3s;
        for (int k = 0; k < 3; k++) {
            inflow += (gutter.knots[k].lateral_m2s + gutter.knots[k + 1].lateral_m2s) / 2 *
                      (gutter.knots[k + 1].x_m - gutter.knots[k].x_m);
        }
        for (size_t k = 0; k < gutter.channel.point_count; k++) {
            inflow += gutter.points[k].flow_m3s;
        }
        check_near(profile.stations[profile.station_count - 1].flow_m3s, inflow, 1e-12 * inflow);
        /*
         * The residual is greatest in the first step above a free end, where Sf is steepest: of
         * first order in the steps, so four times the steps leave a quarter. Beside a jump it may
         * not, nor at the foot of a pool, which has small steps of its own.
         */
        gutter.channel.steps = 400;
        struct hydraulics_profile coarse;
        assert_true(hydraulics_find_profile(own, &gutter.channel, &coarse));
        gutter.channel.steps = 1600;
        struct hydraulics_profile fine;
        assert_true(hydraulics_find_profile(own, &gutter.channel, &fine));
        assert_true(fine.residual_1 < 2 * coarse.residual_1 + 2e-2);
        quartered += fine.residual_1 < 0.35 * coarse.residual_1 + 1e-3;
        check_near(fine.greatest_depth_m, profile.greatest_depth_m, STEP_BAND_M);
        base_free_arena(own);
    }
    print_message(
        "# controls: %d outlet, %d interior, %d drowned; residual quartered in %d of %d\n",
        controls[0], controls[1], controls[2], quartered, GUTTERS);
    assert_true(quartered > GUTTERS * 98 / 100);
    assert_true(controls[0] > 50 && controls[1] > 50 && controls[2] > 50);
}

static void more_rain_never_gives_a_lower_greatest_depth(void **state) {
    (void)state;
    uint64_t seed = find_seed(1);
    for (int i = 0; i < GUTTERS; i++) {
        struct random_gutter gutter;
        make_random(&seed, &gutter);
        struct base_arena *own = base_make_arena(0);
        struct hydraulics_profile less;
        struct hydraulics_profile more;
        assert_true(hydraulics_find_profile(own, &gutter.channel, &less));
        rain_times(&gutter, draw(&seed, 1, 1.5));
        assert_true(hydraulics_find_profile(own, &gutter.channel, &more));
        double lost = less.greatest_depth_m - more.greatest_depth_m;
        if (lost > STEP_BAND_M) {
            print_error("gutter %d: %.6f m, with more rain %.6f m\n", i, less.greatest_depth_m,
                        more.greatest_depth_m);
            fail();
        }
        assert_true(more.overflows || !less.overflows);
        base_free_arena(own);
    }
}

static void more_fall_never_gives_deeper_water_at_the_still_end(void **state) {
    (void)state;
    uint64_t seed = find_seed(2);
    for (int i = 0; i < GUTTERS; i++) {
        struct random_gutter gutter;
        make_random(&seed, &gutter);
        struct base_arena *own = base_make_arena(0);
        struct hydraulics_profile flat;
        struct hydraulics_profile steep;
        assert_true(hydraulics_find_profile(own, &gutter.channel, &flat));
        gutter.channel.slope_1 += draw(&seed, 0, 0.01);
        assert_true(hydraulics_find_profile(own, &gutter.channel, &steep));
        if (steep.still_depth_m > flat.still_depth_m + STEP_BAND_M) {
            print_error("gutter %d: %.6f m, with more fall %.6f m\n", i, flat.still_depth_m,
                        steep.still_depth_m);
            fail();
        }
        base_free_arena(own);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(random_gutters_are_sound_and_conserve_water),
        cmocka_unit_test(more_rain_never_gives_a_lower_greatest_depth),
        cmocka_unit_test(more_fall_never_gives_deeper_water_at_the_still_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
