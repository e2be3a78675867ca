/* SPDX-License-Identifier: Apache-2.0 */
/* How often it does not work. */
#include "test_hydraulics_gutters.h"

static const double NEVER = (double)INFINITY;
static const double INH_MPS = 0.0254 / 3600;

/* 5-minute intensities of the point 39 N 105 W in in/h: trade/hydraulics E, rows 45 (FOUND). */
static const double periods[] = {1, 2, 5, 10, 25, 50, 100, 200, 500, 1000};
static const double rows_inh[] = {2.87, 3.48, 4.56, 5.52, 6.92, 8.09, 9.31, 10.6, 12.4, 13.9};
enum { PERIODS = 10 };

struct table {
    double intensity_mps[PERIODS];
    struct hydraulics_rain_curve curve;
};

static void make_table(struct table *table) {
    for (int i = 0; i < PERIODS; i++) {
        table->intensity_mps[i] = rows_inh[i] * INH_MPS;
    }
    table->curve = (struct hydraulics_rain_curve){periods, table->intensity_mps, PERIODS};
}

static void years_are_exact_at_the_rows_and_rise_between(void **state) {
    (void)state;
    struct table table;
    make_table(&table);
    for (int i = 0; i < PERIODS; i++) {
        struct hydraulics_years years = hydraulics_find_years(&table.curve, table.intensity_mps[i]);
        assert_true(years.table == HYDRAULICS_TABLE_HOLDS);
        check_near(years.years / periods[i], 1, 1e-12);
    }
    /* DERIVED: 6 in/h is (6 - 5.52) / (6.92 - 5.52) of the way from 10 to 25 years in logarithms */
    struct hydraulics_years years = hydraulics_find_years(&table.curve, 6 * INH_MPS);
    check_near(years.years, 13.691, 0.001);
    double last = 0;
    for (double inh = 2.87; inh <= 13.9; inh += 0.01) {
        years = hydraulics_find_years(&table.curve, inh * INH_MPS);
        assert_true(years.table == HYDRAULICS_TABLE_HOLDS && years.years >= last);
        last = years.years;
    }
}

static void beyond_the_table_is_said_and_never_guessed(void **state) {
    (void)state;
    struct table table;
    make_table(&table);
    struct hydraulics_years years = hydraulics_find_years(&table.curve, 2.8 * INH_MPS);
    assert_true(years.table == HYDRAULICS_TABLE_TOO_RARE && years.years == 1);
    years = hydraulics_find_years(&table.curve, 14 * INH_MPS);
    assert_true(years.table == HYDRAULICS_TABLE_TOO_SHORT && years.years == 1000);
    years = hydraulics_find_years(&table.curve, NEVER);
    assert_true(years.table == HYDRAULICS_TABLE_TOO_SHORT && years.years == 1000);
    table.curve.count = 0;
    years = hydraulics_find_years(&table.curve, 5 * INH_MPS);
    assert_true(years.table == HYDRAULICS_TABLE_EMPTY && years.years == 0);
}

static void holes_and_flats_of_a_table_are_bridged_on_the_safe_side(void **state) {
    (void)state;
    static const double few[] = {2, 10, 50, 100};
    static const double holed[] = {3, 0, 5, 0};
    struct hydraulics_rain_curve curve = {few, holed, 4};
    struct hydraulics_years years = hydraulics_find_years(&curve, 4);
    check_near(years.years, 10, 1e-12); /* halfway from 2 to 50 in logarithms */
    years = hydraulics_find_years(&curve, 5.1);
    assert_true(years.table == HYDRAULICS_TABLE_TOO_SHORT && years.years == 50);
    static const double flat[] = {3, 4, 4, 5};
    curve.intensity_mps = flat;
    check_near(hydraulics_find_years(&curve, 4).years, 10, 1e-12); /* not 50 */
}

static void part_that_gives_way_first_is_named(void **state) {
    (void)state;
    struct table table;
    make_table(&table);
    /* a strainer halves its outlet (SRC-05, MEMORY): half the rain */
    double rain = 6.6 * INH_MPS;
    double open = hydraulics_outlet_flow(0.0762, 0.045, false);
    double flow = open * 0.8;
    double spill[HYDRAULICS_PARTS] = {
        hydraulics_spill_intensity(rain, flow, flow * 1.3),
        hydraulics_spill_intensity(rain, flow, open),
        hydraulics_spill_intensity(rain, flow, hydraulics_outlet_flow(0.0762, 0.045, true)),
        hydraulics_spill_intensity(rain, flow,
                                   hydraulics_leader_flow(HYDRAULICS_LEADER_7_24, 0.0762))};
    check_near(spill[HYDRAULICS_PART_OUTLET] / spill[HYDRAULICS_PART_STRAINER], 2, 1e-12);
    struct hydraulics_often often = hydraulics_find_often(&table.curve, spill);
    assert_int_equal(often.first, HYDRAULICS_PART_STRAINER);
    for (int i = 0; i < HYDRAULICS_PARTS; i++) {
        assert_true(often.parts[i].years >= often.parts[often.first].years);
    }
    double none[HYDRAULICS_PARTS] = {NEVER, NEVER, NEVER, 5 * INH_MPS};
    often = hydraulics_find_often(&table.curve, none);
    assert_int_equal(often.first, HYDRAULICS_PART_PIPE);
    assert_true(often.parts[HYDRAULICS_PART_GUTTER].table == HYDRAULICS_TABLE_TOO_SHORT);
    assert_true(hydraulics_spill_intensity(rain, 0, 1) == NEVER);
}

/* ---- capacity -----------------------------------------------------------------------------------
 */

static void capacity_of_a_free_level_gutter_is_the_published_one(void **state) {
    (void)state;
    /* SRC-17, DERIVED: 6 in, n 0.011, gpm at 20, 30, 40, 50 ft */
    static const double gpm[] = {45.7, 44.3, 43.0, 41.9};
    for (int i = 0; i < 4; i++) {
        struct hydraulics_knot knots[2];
        double length = (20 + 10 * i) * FT;
        struct hydraulics_channel channel =
            make_channel(6 * IN, length, 0, 20 * HYDRAULICS_GPM_M3S / length, knots);
        channel.manning_1 = 0.011;
        struct hydraulics_mouth mouth = {.strained = false};
        double factor = 0;
        assert_true(hydraulics_find_capacity(&channel, &mouth, &factor));
        check_near(factor * 20, gpm[i], 0.1);
    }
}

static void at_capacity_it_just_runs(void **state) {
    (void)state;
    uint64_t seed = find_seed(21);
    for (int i = 0; i < 150; i++) {
        struct random_gutter gutter;
        make_random(&seed, &gutter);
        struct hydraulics_mouth mouth = {.diameter_m = i % 3 == 0 ? 0 : draw(&seed, 0.04, 0.1)};
        mouth.other_flow_m3s = i % 2 == 0 ? 0 : draw(&seed, 0, 1e-3);
        mouth.strained = i % 5 == 0;
        double factor = 0;
        assert_true(hydraulics_find_capacity(&gutter.channel, &mouth, &factor));
        double flow = hydraulics_channel_flow(&gutter.channel) + mouth.other_flow_m3s;
        if (!(hydraulics_channel_flow(&gutter.channel) > 0)) {
            continue;
        }
        assert_true(factor > 0);
        struct hydraulics_rain rains[2] = {{.factor_1 = factor * (1 - 1e-4)},
                                           {.factor_1 = factor * (1 + 3e-4)}};
        for (int k = 0; k < 2 && mouth.diameter_m > 0; k++) {
            rains[k].outlet_head_m =
                hydraulics_outlet_head(mouth.diameter_m, flow * rains[k].factor_1, mouth.strained);
        }
        struct hydraulics_depths depths[2];
        assert_true(hydraulics_find_depths(&gutter.channel, rains, 2, depths));
        assert_false(depths[0].overflows);
        assert_true(depths[1].overflows);
    }
}

static void wider_gutter_never_overflows_more_often(void **state) {
    (void)state;
    struct table table;
    make_table(&table);
    for (int slope = 0; slope < 4; slope++) {
        double last = 0;
        for (int mm = 75; mm <= 250; mm += 5) {
            struct hydraulics_knot knots[2];
            double length = 9;
            double rain = 6.6 * INH_MPS;
            struct hydraulics_channel channel =
                make_channel(mm * 1e-3, length, slope / 192.0, rain * 4.5, knots);
            struct hydraulics_mouth mouth = {.diameter_m = 0.0762, .strained = true};
            double factor = 0;
            assert_true(hydraulics_find_capacity(&channel, &mouth, &factor));
            double years = hydraulics_find_years(&table.curve, factor * rain).years;
            assert_true(years >= last);
            last = years;
        }
        assert_true(last > 1);
    }
}

static void dry_gutter_has_no_capacity_to_speak_of(void **state) {
    (void)state;
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel = make_channel(0.15, 5, 0, 0, knots);
    struct hydraulics_mouth mouth = {.diameter_m = 0.0762, .other_flow_m3s = 0.001};
    double factor = 1;
    assert_true(hydraulics_find_capacity(&channel, &mouth, &factor));
    assert_true(factor == 0);
}

/* SRC-108. With ice up to the springing of vertical sides what is left is a box: sqrt(g) b y_c^1.5
 * with y_c = depth/sqrt(3) (FOUND, Novak et al.); the clear half-round brim full carries 0.616
 * sqrt(g) r^2.5 (COMPUTED). */
static void ice_leaves_a_box_above_the_half_circle(void **state) {
    (void)state;
    const double r_m = 0.0635;
    struct section_gutter half = {.inside_diameter_m = 2 * r_m};
    assert_true(hydraulics_iced_share(&half, 0) == 1);
    assert_true(hydraulics_iced_share(&half, r_m) == 0);
    double last = 1;
    for (double ice_m = 0.002; ice_m < r_m; ice_m += 0.002) {
        double share = hydraulics_iced_share(&half, ice_m);
        assert_true(share > 0 && share < last);
        last = share;
    }
    /* the box over the half circle, of depth s and width 2 r, against itself: twice the depth */
    struct section_gutter high = {.inside_diameter_m = 2 * r_m, .straight_m = 0.05};
    double whole = hydraulics_iced_share(&high, r_m);
    double quarter = hydraulics_iced_share(&high, r_m + 0.0375);
    check_near(whole / quarter, 8, 1e-6); /* (0.05 / 0.0125)^1.5 */
    /* a half-round with a rim of next to no height is the half-round: so its own flow comes out of
     * the share that a thin box is of it */
    struct section_gutter rim = {.inside_diameter_m = 2 * r_m, .straight_m = 1e-4};
    double box = 2 * r_m * pow(1e-4 / sqrt(3), 1.5); /* without sqrt(g) */
    check_near(box / hydraulics_iced_share(&rim, r_m) / pow(r_m, 2.5), 0.616, 0.003);
}

static void a_sagged_gutter_carries_less(void **state) {
    (void)state;
    const struct hydraulics_knot knots[] = {{0, 2e-5}, {10, 2e-5}};
    struct hydraulics_channel channel = {.section = {.inside_diameter_m = 0.127},
                                         .length_m = 10,
                                         .manning_1 = 0.012,
                                         .knots = knots,
                                         .knot_count = 2};
    double last = (double)INFINITY;
    for (double spare_m = 0; spare_m < 0.06; spare_m += 0.01) {
        struct hydraulics_mouth mouth = {.spare_m = spare_m};
        double factor;
        assert_true(hydraulics_find_capacity(&channel, &mouth, &factor));
        assert_true(factor < last);
        last = factor;
        struct hydraulics_rain rain = {.factor_1 = factor};
        struct hydraulics_depths depths;
        assert_true(hydraulics_find_depths(&channel, &rain, 1, &depths));
        check_near(depths.greatest_depth_m, 0.0635 - spare_m, 1e-6);
    }
    struct hydraulics_mouth gone = {.spare_m = 0.0635};
    double factor;
    assert_true(hydraulics_find_capacity(&channel, &gone, &factor));
    assert_true(factor == 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(years_are_exact_at_the_rows_and_rise_between),
        cmocka_unit_test(beyond_the_table_is_said_and_never_guessed),
        cmocka_unit_test(holes_and_flats_of_a_table_are_bridged_on_the_safe_side),
        cmocka_unit_test(part_that_gives_way_first_is_named),
        cmocka_unit_test(capacity_of_a_free_level_gutter_is_the_published_one),
        cmocka_unit_test(at_capacity_it_just_runs),
        cmocka_unit_test(wider_gutter_never_overflows_more_often),
        cmocka_unit_test(dry_gutter_has_no_capacity_to_speak_of),
        cmocka_unit_test(ice_leaves_a_box_above_the_half_circle),
        cmocka_unit_test(a_sagged_gutter_carries_less),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
