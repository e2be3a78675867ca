/* SPDX-License-Identifier: Apache-2.0 */
/* Each number beside its source; the word behind is how it is known (docs/sources.md). */
#include "check.h"
#include "shop/shop.h"

#include "material/material.h"

#include <math.h>

static const double INCH_M = 0.0254;

static double girth_in(const char *profile, double sheet_in) {
    struct shop shop = shop_default(UNITS_FT_IN);
    const struct shop_profile *found = shop_find_profile(&shop, base_text_of(profile));
    assert_non_null(found);
    return section_girth(&found->section, sheet_in * INCH_M) / INCH_M;
}

static void girths_of_five_and_six_inch_are_those_published_in_1925(void **state) {
    (void)state;
    check_near(girth_in("5 in", 0.0216), 10.00, 0.001); /* copper r13, SRC-30 p68, FOUND */
    check_near(girth_in("6 in", 0.0216), 12.25, 0.005); /* copper r14, SRC-30 p68, FOUND */
    assert_true(girth_in("5 in", 0.0216) <= 10.0);      /* out of a 10 in strip: copper b */
}

static void girths_of_the_other_sizes_follow_the_formula(void **state) {
    (void)state;
    check_near(girth_in("4 in", 0.0216), 8.3201, 0.002);  /* copper r17, DERIVED */
    check_near(girth_in("6 in", 0.0216), 12.2470, 0.002); /* copper r16, DERIVED */
    check_near(girth_in("7 in", 0.0216), 13.8178, 0.002); /* copper r18, DERIVED */
    check_near(girth_in("8 in", 0.0216), 15.3886, 0.002); /* copper r18, DERIVED */
}

static void metric_girths_come_within_five_mm_of_the_nominal(void **state) {
    (void)state;
    /* copper b: mid-line ignored, s = dv - d/2 (DERIVED against FOUND, SRC-34) */
    static const double expected_mm[] = {249.5, 285.0, 334.2, 403.7, 504.8};
    static const double area_cm2[] = {52.7, 74.8, 107.2, 165.9, 272.9};
    struct shop shop = shop_default(UNITS_MM);
    assert_int_equal(shop.profile_count, 5);
    for (size_t i = 0; i < shop.profile_count; i++) {
        const struct shop_profile *profile = &shop.profiles[i];
        double girth_mm = section_girth(&profile->section, 0) * 1000;
        double depth_m = section_full_depth(&profile->section);
        check_near(girth_mm, expected_mm[i], 0.1);
        check_near(girth_mm, (double)profile->size_tick / 320, 5.1); /* r20 allows 6 mm */
        check_near(section_find_wet(&profile->section, depth_m).area_m2 * 1e4, area_cm2[i], 0.06);
    }
}

static void metric_profiles_hold_the_published_sizes(void **state) {
    (void)state;
    /* SRC-34, FOUND: d, bead, dv, f in mm */
    static const double published[5][4] = {{105, 18, 61.5, 10},
                                           {127, 18, 72.5, 11},
                                           {153, 20, 86.5, 11},
                                           {192, 22, 107, 11},
                                           {250, 22, 136, 21}};
    struct shop shop = shop_default(UNITS_MM);
    for (size_t i = 0; i < shop.profile_count; i++) {
        const struct section_gutter *gutter = &shop.profiles[i].section;
        check_near(gutter->inside_diameter_m * 1000, published[i][0], 1e-9);
        check_near(gutter->bead_diameter_m * 1000, published[i][1], 1e-9);
        check_near(section_full_depth(gutter) * 1000, published[i][2], 1e-9);
        check_near(gutter->back_rise_m * 1000, published[i][3], 1e-9);
    }
    /* 0.6 mm to 333, 0.7 mm for 400 and 500: copper r22, FOUND */
    assert_string_equal(shop.profiles[2].sheet, "0.6 mm");
    assert_string_equal(shop.profiles[3].sheet, "0.7 mm");
    assert_string_equal(shop.profiles[4].sheet, "0.7 mm");
}

static void us_profiles_are_named_by_the_clear_width(void **state) {
    (void)state;
    /* bead 1/2 on small sizes FOUND, 5/8 to 3/4 on 5 to 8 in COMMON PRACTICE */
    static const double bead_in[] = {0.5, 0.625, 0.75, 0.75, 0.75};
    struct shop shop = shop_default(UNITS_FT_IN);
    assert_int_equal(shop.profile_count, 5);
    for (size_t i = 0; i < shop.profile_count; i++) {
        const struct shop_profile *profile = &shop.profiles[i];
        double width_in = (double)(4 + i);
        assert_int_equal(profile->size_tick, (int64_t)(4 + i) * UNITS_TICK_PER_INCH);
        assert_int_equal(profile->us_table_in, 4 + i);
        check_near(profile->section.inside_diameter_m, width_in * INCH_M, 1e-12);
        check_near(profile->section.bead_diameter_m, bead_in[i] * INCH_M, 1e-12);
        check_near(
            section_find_wet(&profile->section, section_full_depth(&profile->section)).area_m2,
            3.14159265358979 * width_in * width_in / 8 * INCH_M * INCH_M, 1e-9);
    }
}

static void heavier_sheet_starts_at_six_inches(void **state) {
    (void)state;
    /* copper a: 16 oz to 6 in, 20 oz for 6 in and over, COMMON PRACTICE */
    struct shop shop = shop_default(UNITS_FT_IN);
    for (size_t i = 0; i < shop.profile_count; i++) {
        assert_string_equal(shop.profiles[i].sheet, i < 2 ? "16 oz" : "20 oz");
    }
    assert_string_equal(shop.usual_sheet, "16 oz");
}

static void every_sheet_of_the_shop_is_a_known_material(void **state) {
    (void)state;
    for (int system = UNITS_FT_IN; system <= UNITS_MM; system++) {
        struct shop shop = shop_default((enum units_system)system);
        assert_non_null(material_find_sheet(base_text_of(shop.usual_sheet)));
        for (size_t i = 0; i < shop.profile_count; i++) {
            assert_non_null(material_find_sheet(base_text_of(shop.profiles[i].sheet)));
            assert_non_null(shop.profiles[i].source);
        }
    }
}

static void round_leaders_have_the_published_areas(void **state) {
    (void)state;
    /* copper f, SRC-36, FOUND */
    static const double area_in2[] = {7.07, 12.57, 19.63, 28.27};
    struct shop shop = shop_default(UNITS_FT_IN);
    assert_int_equal(shop.pipe_count, 4);
    for (size_t i = 0; i < shop.pipe_count; i++) {
        double diameter_m = units_m_of_tick(shop.pipes[i].diameter_tick);
        double area_m2 = section_pipe_area(diameter_m);
        check_near(area_m2 / (INCH_M * INCH_M), area_in2[i], 0.006);
        assert_true(area_m2 >= shop.pipe_least_area_m2);
    }
    check_near(shop.pipe_least_area_m2 / (INCH_M * INCH_M), 7.0, 1e-9);
}

static void small_metric_leader_is_there_but_below_the_least(void **state) {
    (void)state;
    struct shop shop = shop_default(UNITS_MM);
    const struct shop_pipe *small = shop_find_pipe(&shop, base_text_of("60 mm"));
    const struct shop_pipe *least = shop_find_pipe(&shop, base_text_of("80 mm"));
    assert_non_null(small);
    assert_non_null(least);
    assert_true(small->diameter_tick < shop.pipe_least_tick);
    assert_true(least->diameter_tick >= shop.pipe_least_tick);
    assert_true(section_pipe_area(units_m_of_tick(least->diameter_tick)) >=
                shop.pipe_least_area_m2);
    /* not below 3 in round: copper f, FOUND */
    assert_true(shop.pipe_least_tick >= 3 * UNITS_TICK_PER_INCH);
}

static void published_habits_are_the_published_numbers(void **state) {
    (void)state;
    const int64_t inch = UNITS_TICK_PER_INCH;
    struct shop shop = shop_default(UNITS_FT_IN);
    assert_int_equal(shop.stock_tick, 10 * UNITS_TICK_PER_FOOT); /* copper c, FOUND */
    assert_int_equal(shop.lap_tick, inch);                       /* copper c, FOUND */
    assert_int_equal(shop.pipe_lap_tick, inch + inch / 2);       /* copper f, FOUND */
    assert_int_equal(shop.outlet_undersize_tick, inch / 8);      /* copper r38, FOUND */
    assert_int_equal(shop.outlet_tube_tick, 4 * inch);           /* copper r38, FOUND */
    assert_int_equal(shop.bracket_max_snow_tick, 30 * inch);     /* copper r43, FOUND */
    assert_int_equal(shop.bracket_max_tick, 36 * inch);          /* copper r43, FOUND */
    assert_int_equal(shop.wall_clear_tick, inch);                /* copper f, FOUND */
    assert_int_equal(shop.foot_tick, 6 * inch);                  /* copper f, FOUND */
    assert_int_equal(shop.pipe_least_tick, 3 * inch);            /* copper f, FOUND */
    assert_int_equal(shop.gutter_least_tick, 4 * inch);          /* copper b, FOUND */
    assert_int_equal(shop.one_way_max_tick, 40 * 12 * inch);     /* hydraulics G, FOUND */
    assert_true(shop.outlet_strained);                           /* copper c, FOUND */
    check_near(shop.fall_1, 1.0 / 192, 1e-15);     /* copper r23: 1 in per 16 ft, FOUND */
    check_near(shop.fall_1 * 40 * 12, 2.5, 1e-12); /* copper r23 */
    check_near(shop_default(UNITS_MM).expansion_limit_m, 12, 1e-12); /* copper r36, FOUND */
    check_near(shop.expansion_limit_m, 12.192, 1e-12); /* 40 ft, copper c, COMMON PRACTICE */
}

static void habits_of_the_trade_are_in_their_ranges(void **state) {
    (void)state;
    const int64_t inch = UNITS_TICK_PER_INCH;
    struct shop shop = shop_default(UNITS_FT_IN);
    /* all COMMON PRACTICE: copper b, c, e, f, j */
    assert_in_range(shop.mitre_leg_tick, 8 * inch, 12 * inch);
    assert_in_range(shop.bracket_first_tick, 6 * inch, 12 * inch);
    assert_in_range(shop.strap_max_tick, 72 * inch, 120 * inch);
    assert_in_range(shop.rivets_per_joint, 4, 6);
    assert_int_equal(shop.joint_clear_tick, 12 * inch);
    assert_int_equal(shop.shortest_piece_tick, 24 * inch);
    assert_true(shop.back_rise_tick >= inch / 2);
    assert_true(shop.manning_1 >= 0.011 && shop.manning_1 <= 0.013);
    check_near(shop.elbow_rad, 60 * 3.14159265358979 / 180, 1e-12);
    /* 0.06 to 0.10 lb/ft, above the bare film of 0.0385 */
    check_near(shop.solder_kgm / 0.45359237 * 0.3048, 0.08, 1e-9);
    assert_true(shop.solder_kgm > material_solder_kgm(INCH_M, 0.010 * INCH_M, false));
}

static void metric_habits_lie_near_the_inch_ones_and_on_the_safe_side(void **state) {
    (void)state;
    struct shop us = shop_default(UNITS_FT_IN);
    struct shop metric = shop_default(UNITS_MM);
    const int64_t limits[][2] = {{us.bracket_max_snow_tick, metric.bracket_max_snow_tick},
                                 {us.bracket_max_tick, metric.bracket_max_tick},
                                 {us.strap_max_tick, metric.strap_max_tick},
                                 {us.one_way_max_tick, metric.one_way_max_tick},
                                 {us.bracket_first_tick, metric.bracket_first_tick}};
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        assert_true(limits[i][1] <= limits[i][0]);
        assert_true((double)limits[i][1] >= 0.97 * (double)limits[i][0]);
    }
    assert_true(metric.expansion_limit_m <= us.expansion_limit_m);
    check_near(metric.fall_1, 0.005, 1e-15); /* 5 mm/m: hydraulics B5, FOUND */
    assert_true(fabs(metric.fall_1 - us.fall_1) < 0.0003);
    /* the least is a clear width in both systems, and the smallest profile of both keeps it */
    check_near((double)metric.gutter_least_tick / (double)us.gutter_least_tick, 1, 0.02);
    for (size_t i = 0; i < 5; i++) {
        assert_true(units_tick_of_m(metric.profiles[i].section.inside_diameter_m) >=
                    metric.gutter_least_tick);
        assert_true(units_tick_of_m(us.profiles[i].section.inside_diameter_m) >=
                    us.gutter_least_tick);
    }
    /* 4 in or wider: copper b, FOUND */
    assert_true(metric.profiles[0].section.inside_diameter_m >= 4 * INCH_M);
}

static void check_lip(double pitch_12, double clearance_in) {
    check_near((double)shop_lip_clearance(pitch_12 / 12) / (double)UNITS_TICK_PER_INCH,
               clearance_in, 0.00007);
}

static void lip_clearance_is_the_published_band(void **state) {
    (void)state;
    /* copper e and r64, FOUND: 0-2 1 in, 3-5 3/4, 6-8 1/2; cases C02, MEMORY: 5, 7, 12 */
    check_lip(0, 1);
    check_lip(2, 1);
    check_lip(3, 0.75);
    check_lip(4, 0.75);
    check_lip(5, 0.75);
    check_lip(6, 0.5);
    check_lip(7, 0.5);
    check_lip(8, 0.5);
    check_lip(12, 0.25);
    check_lip(20, 0.25);
}

static void lip_clearance_from_nine_to_twelve_is_a_straight_line(void **state) {
    (void)state;
    check_lip(9, 0.40);     /* cases C02: 1/2 - 1/4 x 2/5, DERIVED */
    check_lip(10.5, 0.325); /* half way between 9 and 12, DERIVED */
}

static void lip_clearance_never_grows_with_pitch(void **state) {
    (void)state;
    int64_t last = shop_lip_clearance(0);
    for (int i = 1; i < 2000; i++) {
        int64_t here = shop_lip_clearance(i * 0.001);
        assert_true(here <= last);
        assert_true(last - here < 30); /* no jump: 1/4 in over one in twelve is 24 ticks a step */
        last = here;
    }
}

static void profiles_are_found_by_any_usual_spelling(void **state) {
    (void)state;
    static const char *const five[] = {"5 in",   "5\"",          "5", "5 inch", "5in",
                                       " 5 in ", "5\xE2\x80\xB3"};
    static const char *const none[] = {"",   "3 in",   "9 in",      "five", "5 ft",
                                       "in", "127 mm", "5 in wide", "-5",   "999999999999"};
    static const char *const metric[] = {"333", "333 mm", "333mm"};
    struct shop us = shop_default(UNITS_FT_IN);
    struct shop mm = shop_default(UNITS_MM);
    for (size_t i = 0; i < sizeof five / sizeof five[0]; i++) {
        assert_ptr_equal(shop_find_profile(&us, base_text_of(five[i])), &us.profiles[1]);
    }
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        assert_null(shop_find_profile(&us, base_text_of(none[i])));
    }
    for (size_t i = 0; i < sizeof metric / sizeof metric[0]; i++) {
        assert_ptr_equal(shop_find_profile(&mm, base_text_of(metric[i])), &mm.profiles[2]);
    }
    assert_null(shop_find_profile(&mm, base_text_of("5 in"))); /* never mix the two systems */
    assert_null(shop_find_profile(&us, base_text_of("333")));
}

static void pipes_are_found_with_or_without_their_shape(void **state) {
    (void)state;
    static const char *const three[] = {"3 in", "plain round 3 in", "3 in plain round",
                                        "3\"",  "round 3 in",       "3"};
    struct shop us = shop_default(UNITS_FT_IN);
    struct shop mm = shop_default(UNITS_MM);
    for (size_t i = 0; i < sizeof three / sizeof three[0]; i++) {
        assert_ptr_equal(shop_find_pipe(&us, base_text_of(three[i])), &us.pipes[0]);
    }
    assert_string_equal(shop_find_pipe(&mm, base_text_of("80 mm"))->name, "80 mm");
    assert_null(shop_find_pipe(&us, base_text_of("plain round")));
    assert_null(shop_find_pipe(&us, base_text_of("corrugated 3 in")));
    assert_null(shop_find_pipe(&us, base_text_of("2 in")));
}

static void sizes_stand_in_rising_order_and_find_themselves(void **state) {
    (void)state;
    for (int system = UNITS_FT_IN; system <= UNITS_MM; system++) {
        struct shop shop = shop_default((enum units_system)system);
        assert_int_equal(shop.style.system, system);
        for (size_t i = 0; i < shop.profile_count; i++) {
            assert_ptr_equal(shop_find_profile(&shop, base_text_of(shop.profiles[i].name)),
                             &shop.profiles[i]);
            assert_true(i == 0 || shop.profiles[i].size_tick > shop.profiles[i - 1].size_tick);
        }
        for (size_t i = 0; i < shop.pipe_count; i++) {
            assert_ptr_equal(shop_find_pipe(&shop, base_text_of(shop.pipes[i].name)),
                             &shop.pipes[i]);
            assert_true(i == 0 || shop.pipes[i].diameter_tick > shop.pipes[i - 1].diameter_tick);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(girths_of_five_and_six_inch_are_those_published_in_1925),
        cmocka_unit_test(girths_of_the_other_sizes_follow_the_formula),
        cmocka_unit_test(metric_girths_come_within_five_mm_of_the_nominal),
        cmocka_unit_test(metric_profiles_hold_the_published_sizes),
        cmocka_unit_test(us_profiles_are_named_by_the_clear_width),
        cmocka_unit_test(heavier_sheet_starts_at_six_inches),
        cmocka_unit_test(every_sheet_of_the_shop_is_a_known_material),
        cmocka_unit_test(round_leaders_have_the_published_areas),
        cmocka_unit_test(small_metric_leader_is_there_but_below_the_least),
        cmocka_unit_test(published_habits_are_the_published_numbers),
        cmocka_unit_test(habits_of_the_trade_are_in_their_ranges),
        cmocka_unit_test(metric_habits_lie_near_the_inch_ones_and_on_the_safe_side),
        cmocka_unit_test(lip_clearance_is_the_published_band),
        cmocka_unit_test(lip_clearance_from_nine_to_twelve_is_a_straight_line),
        cmocka_unit_test(lip_clearance_never_grows_with_pitch),
        cmocka_unit_test(profiles_are_found_by_any_usual_spelling),
        cmocka_unit_test(pipes_are_found_with_or_without_their_shape),
        cmocka_unit_test(sizes_stand_in_rising_order_and_find_themselves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
