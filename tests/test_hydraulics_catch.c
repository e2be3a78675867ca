/* SPDX-License-Identifier: Apache-2.0 */
/* The sheet that leaves the roof, and where it comes down. */
#include "test_hydraulics.h"

static const double INH_MPS = 0.0254 / 3600;
static const double SHINGLES = 0.013; /* COMMON PRACTICE */
static const double METAL = 0.011;

/* A 5 in half-round; the cover reaches 1 3/4 in over its back (copper.md: 1 1/2 to 2 in, COMMON
 * PRACTICE); lip clear of the roof's line by SRC-38 (FOUND), back 1 in above the lip. */
static struct hydraulics_trough make_trough(double pitch_1, double clearance_in, double lower_m) {
    double lip_out = 5.75 * IN - 1.75 * IN;
    double lip_drop = lip_out * pitch_1 + clearance_in * IN + lower_m;
    return (struct hydraulics_trough){-1.75 * IN, lip_drop - 1 * IN, lip_out, lip_drop};
}

static void sheet_keeps_its_flow_and_its_equation(void **state) {
    (void)state;
    for (int rise = 1; rise <= 24; rise++) {
        double pitch = rise / 12.0;
        double sine = pitch / sqrt(1 + pitch * pitch);
        for (double flow = 1e-6; flow < 0.1; flow *= 2) {
            struct hydraulics_sheet sheet = hydraulics_find_sheet(flow, pitch, SHINGLES);
            check_near(sheet.depth_m * sheet.speed_mps / flow, 1, 1e-12);
            /* DERIVED: the slower of Manning and the laminar film */
            double manning = pow(sheet.depth_m, 2.0 / 3.0) * sqrt(sine) / SHINGLES;
            double film =
                HYDRAULICS_GRAVITY_MPS2 * sine * sheet.depth_m * sheet.depth_m / (3 * 1.004e-6);
            check_near(sheet.speed_mps / fmin(manning, film), 1, 1e-9);
        }
    }
}

static void roof_sheet_is_thin_and_slow(void **state) {
    (void)state;
    /* DERIVED by hand: 6.6 in/h on 12 ft of 6 in 12: 1.7033e-4 m2/s; Manning 0.013: (2.2143e-6 /
     * 0.66874)^0.6 = 5.152e-4 m; laminar (5.130e-10 / 4.3857)^(1/3) = 4.890e-4 m, the faster */
    double flow = 6.6 * INH_MPS * 12 * FT;
    struct hydraulics_sheet sheet = hydraulics_find_sheet(flow, 0.5, SHINGLES);
    check_near(flow, 1.7033e-4, 1e-8);
    check_near(sheet.depth_m, 5.152e-4, 1e-7);
    check_near(sheet.speed_mps, 0.3306, 1e-4);
}

/* SRC-92, FOUND: an asphalt plane of 1,000 ft, 1 %, n 0.013, 0.95 of the rain runs off: 6.4, 6.6
 * and 6.5 in/h concentrate in 8.45, 8.35 and 8.40 min
 * (with 1.49 for 1.486, a sixth of a percent). */
static void plane_of_the_book_concentrates_in_eight_minutes(void **state) {
    (void)state;
    static const double ROWS[][2] = {{6.4, 8.45}, {6.6, 8.35}, {6.5, 8.40}};
    for (int i = 0; i < 3; i++) {
        double rain = 0.95 * ROWS[i][0] * INH_MPS;
        struct hydraulics_sheet sheet = hydraulics_find_sheet(rain * 1000 * FT, 0.01, 0.013);
        check_near(hydraulics_sheet_time(&sheet, 0.01, rain) / 60, ROWS[i][1], 0.02);
    }
    struct hydraulics_sheet none = hydraulics_find_sheet(0, 0.5, METAL);
    check_near(hydraulics_sheet_time(&none, 0.5, 0), 0, 0);
}

/* DERIVED: 12 ft of 6 in 12 in 6.6 in/h is a laminar film; 3 nu q/(g S) to the power of 1/3 over
 * the rain on a metre of roof: within a tenth of Manning's, seconds. */
static void roof_concentrates_in_seconds(void **state) {
    (void)state;
    double rain = 6.6 * INH_MPS;
    double sine = 1 / sqrt(5);
    double cosine = 2 / sqrt(5);
    struct hydraulics_sheet sheet = hydraulics_find_sheet(rain * 12 * FT, 0.5, METAL);
    double film = cbrt(3 * 1.004e-6 * rain * 12 * FT / (HYDRAULICS_GRAVITY_MPS2 * sine));
    double manning = pow(METAL * rain * 12 * FT / sqrt(sine), 0.6);
    check_near(hydraulics_sheet_time(&sheet, 0.5, rain), fmax(film, manning) / (rain * cosine),
               1e-9);
    check_near(hydraulics_sheet_time(&sheet, 0.5, rain), 12, 1);
    /* a longer roof takes longer, harder rain is quicker */
    struct hydraulics_sheet longer = hydraulics_find_sheet(rain * 24 * FT, 0.5, METAL);
    struct hydraulics_sheet harder = hydraulics_find_sheet(2 * rain * 12 * FT, 0.5, METAL);
    assert_true(hydraulics_sheet_time(&longer, 0.5, rain) >
                hydraulics_sheet_time(&sheet, 0.5, rain));
    assert_true(hydraulics_sheet_time(&harder, 0.5, 2 * rain) <
                hydraulics_sheet_time(&sheet, 0.5, rain));
}

static void jet_of_the_book_falls_as_measured(void **state) {
    (void)state;
    /* W30, SRC-95, FOUND: head 85 mm, x 335 mm, y 350 mm, Cv 0.97112: the speed is Cv sqrt(2 g h)
     */
    struct hydraulics_sheet sheet = {.speed_mps =
                                         0.97112 * sqrt(2 * HYDRAULICS_GRAVITY_MPS2 * 0.085)};
    check_near(hydraulics_path_drop(&sheet, 0, 0.335), 0.350, 1e-5);
    check_near(hydraulics_path_reach(&sheet, 0, 0.350), 0.335, 1e-5);
}

static void reach_and_drop_are_each_others_inverse(void **state) {
    (void)state;
    for (int rise = 1; rise <= 18; rise++) {
        for (double drop = 1e-4; drop < 0.5; drop *= 1.7) {
            struct hydraulics_sheet sheet = hydraulics_find_sheet(2e-4, rise / 12.0, METAL);
            double reach = hydraulics_path_reach(&sheet, rise / 12.0, drop);
            check_near(hydraulics_path_drop(&sheet, rise / 12.0, reach) / drop, 1, 1e-12);
        }
    }
}

static void drizzle_creeps_back_unless_there_is_drip_metal(void **state) {
    (void)state;
    struct hydraulics_trough trough = make_trough(5.0 / 12, 0.75, 0);
    struct hydraulics_edge edge = {5.0 / 12, SHINGLES, 6.6 * INH_MPS * 12 * FT, false, 2 * IN};
    struct hydraulics_catch bare = hydraulics_find_catch(&edge, &trough);
    assert_int_equal(bare.drizzle.place, HYDRAULICS_LANDS_BEHIND);
    assert_true(bare.wants_drip && bare.clings_below_1 > 0 && bare.clings_below_1 <= 1);
    edge.has_drip = true;
    struct hydraulics_catch guarded = hydraulics_find_catch(&edge, &trough);
    assert_false(guarded.wants_drip);
    assert_true(guarded.clings_below_1 == 0);
    assert_true(guarded.drizzle.place != HYDRAULICS_LANDS_BEHIND);
    check_near(guarded.drizzle.out_m, 0, 1e-15);
    /* Weber is 2 just there */
    double flow = hydraulics_clinging_flow(5.0 / 12, SHINGLES);
    check_near(hydraulics_find_sheet(flow, 5.0 / 12, SHINGLES).weber_1, 2, 1e-9);
}

static void design_storm_lands_in_a_gutter_hung_by_the_table(void **state) {
    (void)state;
    static const double table[][2] = {{2, 1}, {5, 0.75}, {8, 0.5}, {12, 0.25}}; /* SRC-38, FOUND */
    for (int i = 0; i < 4; i++) {
        double pitch = table[i][0] / 12;
        struct hydraulics_trough trough = make_trough(pitch, table[i][1], 0);
        struct hydraulics_edge edge = {pitch, SHINGLES, 6.6 * INH_MPS * 12 * FT, true, 6 * IN};
        struct hydraulics_catch caught = hydraulics_find_catch(&edge, &trough);
        assert_true(caught.storm.place == HYDRAULICS_LANDS_BACK ||
                    caught.storm.place == HYDRAULICS_LANDS_FORWARD);
        assert_true(caught.storm.spare_m > 0);
        assert_true(caught.storm.out_m >= caught.drizzle.out_m);
    }
}

static void more_water_flies_further_and_more_roughness_less(void **state) {
    (void)state;
    struct hydraulics_trough trough = make_trough(9.0 / 12, 0.25, 0);
    double last = -1;
    for (double flow = 1e-6; flow < 1; flow *= 1.3) {
        struct hydraulics_sheet sheet = hydraulics_find_sheet(flow, 9.0 / 12, METAL);
        struct hydraulics_landing landing =
            hydraulics_find_landing(&sheet, 9.0 / 12, &trough, false);
        assert_true(landing.out_m > last);
        last = landing.out_m;
        struct hydraulics_sheet rough = hydraulics_find_sheet(flow, 9.0 / 12, 2 * METAL);
        assert_true(hydraulics_find_landing(&rough, 9.0 / 12, &trough, false).out_m <=
                    landing.out_m);
    }
    struct hydraulics_sheet torrent = hydraulics_find_sheet(1, 9.0 / 12, METAL);
    assert_int_equal(hydraulics_find_landing(&torrent, 9.0 / 12, &trough, false).place,
                     HYDRAULICS_LANDS_OVER);
    /* over means that the free path is above the lip where it passes it */
    assert_true(hydraulics_path_drop(&torrent, 9.0 / 12, trough.lip_out_m) < trough.lip_drop_m);
}

static void low_end_of_a_long_run_wants_an_apron(void **state) {
    (void)state;
    /* C02: 5 in 12, 30 ft at 1/16 in/ft: lip 3/4 in below the line at the high end, 2.6 in at the
     * low one (FOUND rule, MEMORY figures) */
    double fall = 30 * FT / 192;
    struct hydraulics_trough high = make_trough(5.0 / 12, 0.75, 0);
    struct hydraulics_trough low = make_trough(5.0 / 12, 0.75, fall);
    check_near((low.lip_drop_m - low.lip_out_m * 5.0 / 12) / IN, 2.625, 0.03);
    struct hydraulics_edge edge = {5.0 / 12, SHINGLES, 6.6 * INH_MPS * 12 * FT, true, 2 * IN};
    struct hydraulics_catch at_high = hydraulics_find_catch(&edge, &high);
    struct hydraulics_catch at_low = hydraulics_find_catch(&edge, &low);
    /* C28: gap = start gap + fall; more than the drip leg wants an apron */
    assert_true(high.back_drop_m <= edge.drip_leg_m && low.back_drop_m > edge.drip_leg_m);
    assert_true(at_low.wants_apron);
    assert_true(at_low.storm.out_m > at_high.storm.out_m);
    edge.drip_leg_m = low.back_drop_m;
    struct hydraulics_catch covered = hydraulics_find_catch(&edge, &low);
    assert_true(covered.wants_apron == (covered.storm.place != HYDRAULICS_LANDS_BACK));
}

static void valley_that_reaches_too_far_over_is_told(void **state) {
    (void)state;
    /* C01, FOUND: a clear opening of 1 in failed, about 4 in worked; 6 in gutter */
    struct hydraulics_edge valley = {8.0 / 12, METAL, 0.02, true, 6 * IN};
    for (int open_in = 1; open_in <= 4; open_in += 3) {
        struct hydraulics_trough trough = {-(6 - open_in) * IN, 1 * IN, open_in * IN,
                                           open_in * IN * 8 / 12 + 2 * IN};
        struct hydraulics_catch caught = hydraulics_find_catch(&valley, &trough);
        check_near(caught.open_1, open_in / 6.0, 1e-12);
        assert_true(caught.too_far_over == (open_in == 1));
        if (open_in == 1) {
            assert_int_equal(caught.storm.place, HYDRAULICS_LANDS_OVER);
        }
    }
}

static void gutter_hung_out_from_the_edge_lets_water_behind(void **state) {
    (void)state;
    struct hydraulics_trough trough = {0.5 * IN, 1 * IN, 5.5 * IN, 3 * IN};
    struct hydraulics_sheet slow = hydraulics_find_sheet(1e-6, 0.25, SHINGLES);
    assert_int_equal(hydraulics_find_landing(&slow, 0.25, &trough, false).place,
                     HYDRAULICS_LANDS_BEHIND);
    struct hydraulics_sheet fast = {.speed_mps = 1};
    assert_true(hydraulics_find_landing(&fast, 0.25, &trough, false).place !=
                HYDRAULICS_LANDS_BEHIND);
}

/* "The wide half-round catches more": of shapes of one capacity the wider has more room for the
 * sheet. DERIVED by the level formulas: a 6 in half-round against a box 0.75 as deep as wide. */
static void wide_half_round_catches_more_than_a_deep_box(void **state) {
    (void)state;
    double length = 30 * FT;
    double flow = hydraulics_level_flow(6 * IN);
    double box = hydraulics_level_box_width(flow, 0.75, length);
    assert_true(box < 6 * IN);
    struct hydraulics_sheet sheet = hydraulics_find_sheet(2e-4, 1, METAL);
    struct hydraulics_trough wide = {-1.5 * IN, 5 * IN, 4.5 * IN, 6 * IN};
    struct hydraulics_trough narrow = wide;
    narrow.lip_out_m = box - 1.5 * IN;
    assert_true(hydraulics_find_landing(&sheet, 1, &wide, false).spare_m >
                hydraulics_find_landing(&sheet, 1, &narrow, false).spare_m);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sheet_keeps_its_flow_and_its_equation),
        cmocka_unit_test(roof_sheet_is_thin_and_slow),
        cmocka_unit_test(plane_of_the_book_concentrates_in_eight_minutes),
        cmocka_unit_test(roof_concentrates_in_seconds),
        cmocka_unit_test(jet_of_the_book_falls_as_measured),
        cmocka_unit_test(reach_and_drop_are_each_others_inverse),
        cmocka_unit_test(drizzle_creeps_back_unless_there_is_drip_metal),
        cmocka_unit_test(design_storm_lands_in_a_gutter_hung_by_the_table),
        cmocka_unit_test(more_water_flies_further_and_more_roughness_less),
        cmocka_unit_test(low_end_of_a_long_run_wants_an_apron),
        cmocka_unit_test(valley_that_reaches_too_far_over_is_told),
        cmocka_unit_test(gutter_hung_out_from_the_edge_lets_water_behind),
        cmocka_unit_test(wide_half_round_catches_more_than_a_deep_box),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
