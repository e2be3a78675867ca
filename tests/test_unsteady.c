/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The witness in time (unsteady.h) against the steady physics of src/hydraulics, against the
 * kinematic wave on a plane, and against the quasi-steady storm. The fast lane takes coarse grids;
 * EAVESMITH_LONG=1 takes fine ones and prints the table of docs/theory/storm.md.
 */
#include <math.h>
#include <stdlib.h>

#include "check.h"
#include "unsteady.h"

static const double INCH_M = 0.0254;
static const double FOOT_M = 0.3048;
static const double CFS_FT_M2S = 0.3048 * 0.3048; /* 1 cfs per foot */

static bool is_long(void) {
    return getenv("EAVESMITH_LONG") != NULL;
}

/* One gutter for both: even inflow, n 0.012. */
struct pair {
    struct section_gutter section;
    double length_m;
    double slope_1;
    double lateral_m2s;
    double outlet_m; /* 0 = a free end */
    bool strained;
};

static void begin_water(const struct pair *pair, size_t cells, struct unsteady *water) {
    *water = (struct unsteady){.section = &pair->section,
                               .length_m = pair->length_m,
                               .slope_1 = pair->slope_1,
                               .manning_1 = 0.012,
                               .end = pair->outlet_m > 0 ? UNSTEADY_OUTLET : UNSTEADY_FREE,
                               .outlet_m = pair->outlet_m,
                               .strained = pair->strained,
                               .cells = cells};
    for (size_t i = 0; i < cells; i++) {
        water->lateral_m2s[i] = pair->lateral_m2s;
    }
    unsteady_begin(water);
}

static struct hydraulics_profile find_steady(struct base_arena *arena, const struct pair *pair) {
    const struct hydraulics_knot knots[] = {{0, pair->lateral_m2s},
                                            {pair->length_m, pair->lateral_m2s}};
    const struct hydraulics_channel channel = {
        .section = pair->section,
        .length_m = pair->length_m,
        .slope_1 = pair->slope_1,
        .manning_1 = 0.012,
        .knots = knots,
        .knot_count = 2,
        .outlet_head_m =
            pair->outlet_m > 0
                ? hydraulics_outlet_head(pair->outlet_m, pair->lateral_m2s * pair->length_m,
                                         pair->strained)
                : 0,
        .steps = 4000};
    struct hydraulics_profile profile;
    assert_true(hydraulics_find_profile(arena, &channel, &profile));
    return profile;
}

static double depth_at(const struct hydraulics_profile *profile, double x_m) {
    const struct hydraulics_station *stations = profile->stations;
    size_t i = 0;
    while (i + 2 < profile->station_count && stations[i + 1].x_m < x_m) {
        i++;
    }
    const double share_1 = (x_m - stations[i].x_m) / (stations[i + 1].x_m - stations[i].x_m);
    return stations[i].depth_m + share_1 * (stations[i + 1].depth_m - stations[i].depth_m);
}

/* Mean difference of depth, as a share of the greatest depth. */
static double find_error(const struct unsteady *water, const struct hydraulics_profile *profile) {
    double sum_m = 0;
    for (size_t i = 0; i < water->cells; i++) {
        sum_m += fabs(water->depth_m[i] - depth_at(profile, unsteady_place(water, i)));
    }
    return sum_m / (double)water->cells / profile->greatest_depth_m;
}

/* All that came is still there or has gone. */
static void check_volume(const struct unsteady *water) {
    check_near(water->outflow_m3 + unsteady_volume(water), water->inflow_m3,
               1e-6 * water->inflow_m3);
}

/* ---- lasting rain ---------------------------------------------------------------------------- */

/* The reference cases of the steady solver: inches, feet, cfs per foot. */
static const struct {
    double diameter_in;
    double length_ft;
    double slope_1;
    double lateral;
    double error_1; /* at 100 cells */
} CASES[] = {{6, 30, 0, 0.0025, 3e-4},         {5, 20, 0, 0.0020, 3e-4},
             {6, 40, 0, 0.0020, 3e-4},         {6, 30, 1.0 / 192, 0.0040, 6e-4},
             {6, 40, 1.0 / 192, 0.0037, 6e-4}, {5, 30, 1.0 / 192, 0.0030, 6e-4},
             {6, 40, 1.0 / 96, 0.0040, 2e-3},  {6, 40, 1.0 / 48, 0.0040, 4e-3},
             {8, 50, 1.0 / 192, 0.0060, 6e-4}};

static void in_lasting_rain_the_witness_comes_to_the_steady_depths(void **state) {
    (void)state;
    static struct unsteady water;
    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        const struct pair pair = {.section = {.inside_diameter_m = CASES[i].diameter_in * INCH_M},
                                  .length_m = CASES[i].length_ft * FOOT_M,
                                  .slope_1 = CASES[i].slope_1,
                                  .lateral_m2s = CASES[i].lateral * CFS_FT_M2S};
        struct base_arena *arena = base_make_arena(0);
        const struct hydraulics_profile steady = find_steady(arena, &pair);
        const size_t finest = is_long() ? 400 : 100;
        double before_1 = 0;
        begin_water(&pair, 25, &water);
        (void)unsteady_run(&water, 1, 240);
        for (size_t cells = 50; cells <= finest; cells *= 2) {
            unsteady_refine(&water, cells);
            (void)unsteady_run(&water, 1, 60);
            const double error_1 = find_error(&water, &steady);
            const double order = before_1 > 0 ? log2(before_1 / error_1) : 0;
            print_message("%g in, %g ft, fall %.5f: %zu cells, error %.2e, order %.2f\n",
                          CASES[i].diameter_in, CASES[i].length_ft, CASES[i].slope_1, cells,
                          error_1, order);
            assert_true(before_1 == 0 || order > 1.0);
            assert_true(cells != 100 || error_1 < CASES[i].error_1);
            before_1 = error_1;
        }
        check_near(unsteady_volume(&water), hydraulics_profile_volume(&pair.section, &steady),
                   1e-3 * unsteady_volume(&water));
        check_near(water.outflow_m3s, pair.lateral_m2s * pair.length_m, 1e-4 * water.outflow_m3s);
        check_volume(&water);
        base_free_arena(arena);
    }
}

/* ---- a sole outlet that drowns --------------------------------------------------------------- */

/* Momentum of both sides of the jump in the steady answer; 0 where there is none. */
static size_t find_jump(const struct hydraulics_profile *profile) {
    for (size_t i = 1; i < profile->station_count; i++) {
        const struct hydraulics_station *low = &profile->stations[i - 1];
        if (low[1].x_m == low->x_m && low[1].depth_m > 1.001 * low->depth_m) {
            return i;
        }
    }
    return 0;
}

static double find_momentum(const struct section_gutter *section,
                            const struct hydraulics_station *at) {
    const struct section_wet wet = section_find_wet(section, at->depth_m);
    return at->flow_m3s * at->flow_m3s / (HYDRAULICS_GRAVITY_MPS2 * wet.area_m2) + wet.moment_m3;
}

static size_t find_steepest(const struct unsteady *water) {
    size_t at = 1;
    for (size_t i = 1; i + 1 < water->cells; i++) {
        const double here_m = water->depth_m[i + 1] - water->depth_m[i - 1];
        at = here_m > water->depth_m[at + 1] - water->depth_m[at - 1] ? i : at;
    }
    return at;
}

/*
 * A steep gutter whose outlet asks for more head than the shooting water has: the jump stands where
 * the pool pushes as hard as the stream. The steady solver marches both and compares them, the
 * witness lets a wave run up from the outlet; outlets from one that leaves the jump near the end to
 * one that drives it to the control.
 */
static void the_jump_of_a_drowned_outlet_stands_in_both_at_one_place(void **state) {
    (void)state;
    static const double OUTLETS_M[] = {0.0565, 0.0580, 0.0600, 0.0620};
    static struct unsteady water;
    double before_x_m = 0;
    for (size_t i = 0; i < sizeof OUTLETS_M / sizeof OUTLETS_M[0]; i++) {
        const struct pair pair = {.section = {.inside_diameter_m = 6 * INCH_M},
                                  .length_m = 40 * FOOT_M,
                                  .slope_1 = 1.0 / 48,
                                  .lateral_m2s = 0.0016 * CFS_FT_M2S,
                                  .outlet_m = OUTLETS_M[i]};
        struct base_arena *arena = base_make_arena(0);
        const struct hydraulics_profile steady = find_steady(arena, &pair);
        const size_t jump = find_jump(&steady);
        const size_t cells = is_long() ? 400 : 100;
        begin_water(&pair, 50, &water);
        (void)unsteady_run(&water, 1, 300);
        unsteady_refine(&water, cells);
        (void)unsteady_run(&water, 1, 120);
        const size_t seen = find_steepest(&water);
        const double cell_m = pair.length_m / (double)cells;
        print_message("outlet %.1f mm: jump at %.3f m, seen at %.3f; end %.4f and %.4f m deep\n",
                      OUTLETS_M[i] * 1000, steady.stations[jump].x_m, unsteady_place(&water, seen),
                      steady.end_depth_m, water.depth_m[cells - 1]);
        assert_false(steady.overflows);
        assert_true(jump > 0);
        check_near(find_momentum(&pair.section, &steady.stations[jump]),
                   find_momentum(&pair.section, &steady.stations[jump - 1]),
                   1e-3 * find_momentum(&pair.section, &steady.stations[jump]));
        check_near(unsteady_place(&water, seen), steady.stations[jump].x_m, 2 * cell_m);
        check_near(water.depth_m[cells - 1], depth_at(&steady, unsteady_place(&water, cells - 1)),
                   0.01 * steady.end_depth_m);
        check_near(water.depth_m[seen - 4], depth_at(&steady, unsteady_place(&water, seen - 4)),
                   0.05 * steady.stations[jump].depth_m);
        assert_true(steady.stations[jump].x_m > before_x_m); /* a wider outlet drowns less */
        before_x_m = steady.stations[jump].x_m;
        check_volume(&water);
        base_free_arena(arena);
    }
}

/* Where the outlet takes what shoots at it, no jump stands in the gutter; the steady solver still
 * shows the outlet's head there, which is the safe side. */
static void a_wide_outlet_swallows_what_shoots_at_it(void **state) {
    (void)state;
    static struct unsteady water;
    const struct pair pair = {.section = {.inside_diameter_m = 6 * INCH_M},
                              .length_m = 40 * FOOT_M,
                              .slope_1 = 1.0 / 48,
                              .lateral_m2s = 0.0040 * CFS_FT_M2S,
                              .outlet_m = 0.092};
    struct base_arena *arena = base_make_arena(0);
    const struct hydraulics_profile steady = find_steady(arena, &pair);
    begin_water(&pair, 100, &water);
    (void)unsteady_run(&water, 1, 240);
    assert_int_equal(find_jump(&steady), 0);
    check_near(water.depth_m[50], depth_at(&steady, unsteady_place(&water, 50)),
               0.02 * water.depth_m[50]);
    assert_true(unsteady_greatest_depth(&water) < steady.greatest_depth_m);
    base_free_arena(arena);
}

/* ---- a plane --------------------------------------------------------------------------------- */

/*
 * Rain on a dry plane: the water is i t deep all over but for what the upper edge has reached, and
 * runs off with (sqrt(S)/n) (i t)^(5/3) until that comes down at t_c = (L/((sqrt(S)/n)
 * i^(2/3)))^0.6 (SRC-92, FOUND; its asphalt of 1,000 ft has t_c 8.40 min as 0.95 of 6.5 in/h runs
 * off). The kinematic wave leaves out what turns the stream's own momentum, which here is a
 * hundredth.
 */
static void rain_on_a_plane_runs_off_as_the_kinematic_wave(void **state) {
    (void)state;
    static const struct {
        double length_ft;
        double slope_1;
        double manning_1;
        double rain_in_h;
        double concentration_s;
    } PLANES[] = {{1000, 0.01, 0.013, 0.95 * 6.5, 8.399 * 60}, {20, 0.1, 0.03, 6.6, 38.91}};
    static struct unsteady water;
    for (size_t row = 0; row < 2; row++) {
        const double rain_mps = PLANES[row].rain_in_h * INCH_M / 3600;
        const double length_m = PLANES[row].length_ft * FOOT_M;
        const double alpha = sqrt(PLANES[row].slope_1) / PLANES[row].manning_1;
        const double end_s = pow(length_m / (alpha * pow(rain_mps, 2.0 / 3)), 0.6);
        const size_t cells = is_long() ? 800 : 200;
        water = (struct unsteady){.length_m = length_m,
                                  .slope_1 = PLANES[row].slope_1,
                                  .manning_1 = PLANES[row].manning_1,
                                  .end = UNSTEADY_OPEN,
                                  .cells = cells};
        for (size_t i = 0; i < cells; i++) {
            water.lateral_m2s[i] = rain_mps;
        }
        check_near(end_s, PLANES[row].concentration_s, 0.002 * end_s);
        unsteady_begin(&water);
        for (int quarter = 1; quarter <= 6; quarter++) {
            (void)unsteady_run(&water, 1, end_s / 4);
            const double rise_m2s = alpha * pow(rain_mps * water.time_s, 5.0 / 3);
            const double wanted_m2s = quarter <= 4 ? rise_m2s : rain_mps * length_m;
            print_message("plane %zu at %.2f t_c: %.4f of the kinematic wave\n", row, quarter / 4.0,
                          water.outflow_m3s / wanted_m2s);
            check_near(water.outflow_m3s, wanted_m2s, (quarter == 1 ? 0.05 : 0.02) * wanted_m2s);
            check_near(water.depth_m[cells / 2],
                       quarter <= 2 ? rain_mps * water.time_s : water.depth_m[cells / 2],
                       0.01 * water.depth_m[cells / 2]);
        }
        check_volume(&water);
    }
}

/* ---- a storm --------------------------------------------------------------------------------- */

enum { STORM_STEPS = 13 };

/* A balanced storm by a table in which depth grows as duration^0.36 (as the invented tables do):
 * the hardest step in the middle, the second before it, factor 1 in the hardest. */
static void make_storm(double factors_1[STORM_STEPS]) {
    for (int k = 0; k < STORM_STEPS; k++) {
        const int side = (k + 1) / 2;
        factors_1[STORM_STEPS / 2 + (k % 2 == 1 ? -side : side)] = pow(k + 1, 0.36) - pow(k, 0.36);
    }
}

static double run_storm(struct unsteady *water, double step_s) {
    double factors_1[STORM_STEPS];
    double greatest_m = 0;
    make_storm(factors_1);
    unsteady_begin(water);
    /* minutes before the hardest it runs with what the storm has brought */
    for (int k = STORM_STEPS / 2 - (step_s < 100 ? 4 : 1); k <= STORM_STEPS / 2 + 1; k++) {
        greatest_m = fmax(greatest_m, unsteady_run(water, factors_1[k], step_s));
    }
    check_volume(water);
    return greatest_m;
}

struct lag {
    double held_s; /* what stands in it in lasting rain over what flows through */
    double minute_1;
    double block_1; /* of five minutes */
};

/* The deepest water of a storm over that of lasting rain as hard as its hardest step, which is 0.9
 * of what the gutter just runs with. On one grid, so that the grid's own error is on both sides. */
static struct lag find_lag(struct pair pair) {
    static struct unsteady water;
    const struct hydraulics_knot knots[] = {{0, 1e-4}, {pair.length_m, 1e-4}};
    const struct hydraulics_channel channel = {.section = pair.section,
                                               .length_m = pair.length_m,
                                               .slope_1 = pair.slope_1,
                                               .manning_1 = 0.012,
                                               .knots = knots,
                                               .knot_count = 2};
    const struct hydraulics_mouth mouth = {.diameter_m = pair.outlet_m, .strained = pair.strained};
    double factor_1 = 0;
    struct lag lag;
    assert_true(hydraulics_find_capacity(&channel, &mouth, &factor_1));
    pair.lateral_m2s = 0.9 * 1e-4 * factor_1;
    begin_water(&pair, 20, &water);
    (void)unsteady_run(&water, 1, 400);
    const double steady_m = unsteady_greatest_depth(&water);
    lag.held_s = unsteady_volume(&water) / water.outflow_m3s;
    assert_true(steady_m < section_full_depth(&pair.section));
    lag.minute_1 = run_storm(&water, 60) / steady_m;
    lag.block_1 = run_storm(&water, 300) / steady_m;
    return lag;
}

/*
 * The quasi-steady storm takes each minute as lasting. Sizes of 4 to 8 in, 2 to 20 m, level and
 * 1/16 in per ft, with a free end and with a strained outlet of 0.6 of the gutter. In steps of five
 * minutes both are the same; a single minute as hard as nothing beside it is over before a long
 * gutter has filled, so the quasi-steady depth is too great, never too small.
 */
static void a_minute_taken_as_lasting_is_right_or_on_the_safe_side(void **state) {
    (void)state;
    static const double LENGTHS_M[] = {2, 5, 10, 20};
    const int size_step = is_long() ? 1 : 2;
    for (int kind = 0; kind < 4; kind++) {
        for (int size_in = 4; size_in <= 8; size_in += size_step) {
            for (size_t i = is_long() ? 0 : 2; i < 4; i++) {
                struct pair pair = {.section = {.inside_diameter_m = size_in * INCH_M},
                                    .length_m = LENGTHS_M[i],
                                    .slope_1 = kind % 2 == 0 ? 0 : 1.0 / 192,
                                    .outlet_m = kind < 2 ? 0 : 0.6 * size_in * INCH_M,
                                    .strained = true};
                const struct lag lag = find_lag(pair);
                print_message("%s, %s, %d in, %2.0f m: holds %3.0f s; a minute %.3f, five %.4f\n",
                              kind < 2 ? "free end" : "strained outlet",
                              kind % 2 == 0 ? "level" : "fall", size_in, LENGTHS_M[i], lag.held_s,
                              lag.minute_1, lag.block_1);
                assert_true(lag.minute_1 <= 1.0005 && lag.block_1 <= 1.0005);
                assert_true(lag.block_1 >= 0.995);
                assert_true(lag.minute_1 >= (LENGTHS_M[i] > 12 ? 0.7 : 0.88));
                assert_true(lag.held_s < (LENGTHS_M[i] > 12 ? 110 : 60));
            }
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(in_lasting_rain_the_witness_comes_to_the_steady_depths),
        cmocka_unit_test(the_jump_of_a_drowned_outlet_stands_in_both_at_one_place),
        cmocka_unit_test(a_wide_outlet_swallows_what_shoots_at_it),
        cmocka_unit_test(rain_on_a_plane_runs_off_as_the_kinematic_wave),
        cmocka_unit_test(a_minute_taken_as_lasting_is_right_or_on_the_safe_side),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
