/* SPDX-License-Identifier: Apache-2.0 */
/* Writers of units. All wanted texts are DERIVED: exact arithmetic on the definitions. */
#include "check.h"
#include "units/units.h"

#include <math.h>
#include <string.h>

static const struct units_style FT_IN = {.system = UNITS_FT_IN, .round_tick = 508};
static const struct units_style MM = {.system = UNITS_MM, .round_tick = 320};

static int make_arena(void **state) {
    *state = base_make_arena(0);
    return *state == NULL;
}

static int free_arena(void **state) {
    base_free_arena(*state);
    return 0;
}

static void check_text(struct base_text got, const char *wanted) {
    if (!base_text_is(got, wanted)) {
        print_error("got \"%.*s\", wanted \"%s\"\n", (int)got.length, got.bytes, wanted);
    }
    assert_true(base_text_is(got, wanted));
}

/* ---- lengths ------------------------------------------------------------------------------- */

static int64_t ticks(int64_t feet, int64_t inches, int64_t sixty_fourths) {
    return feet * UNITS_TICK_PER_FOOT + inches * UNITS_TICK_PER_INCH +
           sixty_fourths * UNITS_TICK_PER_64TH;
}

static void ticks_of_the_units_agree(void **state) {
    (void)state;
    assert_true(UNITS_TICK_PER_INCH == 64 * UNITS_TICK_PER_64TH);
    assert_true(UNITS_TICK_PER_FOOT == 12 * UNITS_TICK_PER_INCH);
    assert_true(UNITS_TICK_PER_INCH * 10 == 254 * UNITS_TICK_PER_MM);
    assert_true(units_tick_of_m(0.0254) == UNITS_TICK_PER_INCH);
    assert_true(units_tick_of_m(-1.0) == -UNITS_TICK_PER_M);
    check_near(units_m_of_tick(UNITS_TICK_PER_FOOT), 0.3048, 1e-16);
    assert_true(units_default_style(UNITS_FT_IN).round_tick * 16 == UNITS_TICK_PER_INCH);
    assert_true(units_default_style(UNITS_MM).round_tick == UNITS_TICK_PER_MM);
}

static void lengths_are_printed_as_a_tape_is_read(void **state) {
    check_text(units_write_length(*state, FT_IN, ticks(28, 6, 32)), "28' 6 1/2\"");
    check_text(units_write_length(*state, FT_IN, ticks(28, 0, 0)), "28' 0\"");
    check_text(units_write_length(*state, FT_IN, ticks(28, 0, 32)), "28' 0 1/2\"");
    check_text(units_write_length(*state, FT_IN, ticks(0, 6, 32)), "6 1/2\"");
    check_text(units_write_length(*state, FT_IN, ticks(0, 0, 52)), "13/16\"");
    check_text(units_write_length(*state, FT_IN, 0), "0\"");
    check_text(units_write_length(*state, FT_IN, -ticks(0, 0, 32)), "-1/2\"");
    check_text(units_write_length(*state, FT_IN, -ticks(2, 3, 16)), "-2' 3 1/4\"");
    check_text(units_write_length(*state, MM, 8650 * UNITS_TICK_PER_MM), "8650 mm");
    check_text(units_write_length(*state, MM, 0), "0 mm");
    check_text(units_write_length(*state, MM, -3 * UNITS_TICK_PER_MM), "-3 mm");
}

static void rounding_carries_into_inches_and_feet(void **state) {
    check_text(units_write_length(*state, FT_IN, ticks(0, 11, 62)), "1' 0\"");
    check_text(units_write_length(*state, FT_IN, ticks(27, 11, 63)), "28' 0\"");
    check_text(units_write_length(*state, FT_IN, ticks(0, 3, 62)), "4\"");
    check_text(units_write_length(*state, FT_IN, ticks(0, 3, 61)), "3 15/16\"");
}

static void halves_are_rounded_away_from_zero(void **state) {
    check_text(units_write_length(*state, FT_IN, ticks(0, 0, 2)), "1/16\"");
    check_text(units_write_length(*state, FT_IN, ticks(0, 0, 2) - 1), "0\"");
    check_text(units_write_length(*state, FT_IN, -ticks(0, 0, 2)), "-1/16\"");
    check_text(units_write_length(*state, FT_IN, 1 - ticks(0, 0, 2)), "0\"");
    check_text(units_write_length(*state, MM, 160), "1 mm");
    check_text(units_write_length(*state, MM, 159), "0 mm");
    const struct units_style sixty_fourths = {.system = UNITS_FT_IN, .round_tick = 127};
    check_text(units_write_length(*state, sixty_fourths, 63), "0\"");
    check_text(units_write_length(*state, sixty_fourths, 64), "1/64\"");
    const struct units_style half_mm = {.system = UNITS_MM, .round_tick = 160};
    check_text(units_write_length(*state, half_mm, 8650 * 320 + 100), "8650.5 mm");
    const struct units_style quarters = {.system = UNITS_FT_IN, .round_tick = 2032};
    check_text(units_write_length(*state, quarters, ticks(5, 3, 20)), "5' 3 1/4\"");
}

static void stacked_length_is_the_plain_one_in_parts(void **state) {
    struct units_stacked stacked = units_stack_length(*state, FT_IN, ticks(28, 6, 32));
    check_text(stacked.whole, "28' 6");
    assert_int_equal(stacked.numerator, 1);
    assert_int_equal(stacked.denominator, 2);
    check_text(stacked.tail, "\"");
    stacked = units_stack_length(*state, FT_IN, ticks(0, 0, 32));
    assert_int_equal(stacked.whole.length, 0);
    assert_int_equal(stacked.numerator, 1);
    stacked = units_stack_length(*state, FT_IN, 0);
    check_text(stacked.whole, "0");
    assert_int_equal(stacked.numerator, 0);
    stacked = units_stack_length(*state, MM, 8650 * UNITS_TICK_PER_MM);
    check_text(stacked.whole, "8650");
    check_text(stacked.tail, " mm");
}

/* ---- there and back ------------------------------------------------------------------------ */

static void check_round_trip(struct base_arena *arena, int64_t length_tick) {
    for (int system = UNITS_FT_IN; system <= UNITS_MM; system++) {
        struct base_text text =
            units_write_length_exact(arena, (enum units_system)system, length_tick);
        struct units_length_reading reading = units_read_length(text, (enum units_system)system);
        if (reading.fault != UNITS_FINE || reading.length_tick != length_tick) {
            print_error("%lld ticks: \"%.*s\"\n", (long long)length_tick, (int)text.length,
                        text.bytes);
            fail();
        }
    }
}

/* count lengths a step apart, in arenas that are given back now and then. */
static void check_sweep(int64_t from_tick, int64_t step_tick, int64_t count) {
    struct base_arena *arena = base_make_arena(0);
    for (int64_t i = 0; i <= count; i++) {
        if (i % 1000 == 999) {
            base_free_arena(arena);
            arena = base_make_arena(0);
        }
        check_round_trip(arena, from_tick + i * step_tick);
    }
    base_free_arena(arena);
}

static void every_sixty_fourth_to_200_ft_comes_back(void **state) {
    (void)state;
    check_sweep(0, UNITS_TICK_PER_64TH, INT64_C(200) * 12 * 64);
}

static void every_millimetre_to_60_m_comes_back(void **state) {
    (void)state;
    check_sweep(0, UNITS_TICK_PER_MM, 60000);
}

static void every_tenth_of_a_millimetre_to_2_m_comes_back(void **state) {
    (void)state;
    check_sweep(0, 32, 20000);
}

static void every_tick_of_a_foot_comes_back(void **state) {
    (void)state;
    check_sweep(0, 1, UNITS_TICK_PER_FOOT + 100);
}

static void ticks_near_the_longest_come_back(void **state) {
    (void)state;
    check_sweep(UNITS_TICK_MAX - 2000, 1, 2000);
}

/* What is printed rounded is read as the rounded length. */
static void printed_lengths_are_read_as_printed(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    for (int64_t tick = 0; tick < 30 * UNITS_TICK_PER_FOOT; tick += 997) {
        int64_t rounded = (tick + 254) / 508 * 508;
        struct units_length_reading reading =
            units_read_length(units_write_length(arena, FT_IN, tick), UNITS_FT_IN);
        assert_int_equal(reading.fault, UNITS_FINE);
        assert_true(reading.length_tick == rounded);
    }
    base_free_arena(arena);
}

static void exact_lengths_take_the_unit_that_fits(void **state) {
    check_text(units_write_length_exact(*state, UNITS_FT_IN, ticks(28, 6, 33)), "28' 6 33/64\"");
    check_text(units_write_length_exact(*state, UNITS_MM, 8650 * 320 + 32), "8650.1 mm");
    check_text(units_write_length_exact(*state, UNITS_FT_IN, 8650 * 320 + 32), "8650.1 mm");
    check_text(units_write_length_exact(*state, UNITS_MM, ticks(0, 0, 33)), "33/64\"");
    check_text(units_write_length_exact(*state, UNITS_FT_IN, UNITS_TICK_PER_FOOT + 813),
               "1' 0.1000\"");
}

/* ---- numbers ------------------------------------------------------------------------------- */

static void decimals_have_no_negative_zero_and_no_locale(void **state) {
    check_text(units_write_decimal(*state, 12.5, 2), "12.50");
    check_text(units_write_decimal(*state, -12.5, 0), "-13");
    check_text(units_write_decimal(*state, 0.004, 2), "0.00");
    check_text(units_write_decimal(*state, -0.004, 2), "0.00");
    check_text(units_write_decimal(*state, -0.005, 2), "-0.01");
    check_text(units_write_decimal(*state, -0.0, 3), "0.000");
    check_text(units_write_decimal(*state, 1234567.0, 1), "1234567.0");
    check_text(units_write_decimal_short(*state, 12.5, 3), "12.5");
    check_text(units_write_decimal_short(*state, 12.0, 3), "12");
    check_text(units_write_decimal_short(*state, 120.0, 0), "120");
    check_text(units_write_decimal_short(*state, 0.0, 3), "0");
}

static void money_has_commas_and_its_currency(void **state) {
    struct base_text usd = base_text_of("USD");
    check_text(units_write_money(*state, usd, 123450, 2), "USD 1,234.50");
    check_text(units_write_money(*state, usd, 123456789, 2), "USD 1,234,567.89");
    check_text(units_write_money(*state, usd, 99999, 2), "USD 999.99");
    check_text(units_write_money(*state, usd, 7, 2), "USD 0.07");
    check_text(units_write_money(*state, usd, -123450, 2), "USD -1,234.50");
    check_text(units_write_money(*state, (struct base_text){0}, 1234, 0), "1,234");
    check_text(units_write_money(*state, (struct base_text){0}, INT64_MIN, 2),
               "-92,233,720,368,547,758.08");
}

/* Second way: what is read is written again. */
static void money_comes_back(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    for (int64_t minor = 0; minor < 100000; minor += 7) {
        struct base_text text = units_write_money(arena, (struct base_text){0}, minor, 2);
        struct units_integer_reading reading = units_read_money(text, 2);
        assert_int_equal(reading.fault, UNITS_FINE);
        assert_true(reading.value == minor);
    }
    base_free_arena(arena);
}

static void quantities_have_both_styles(void **state) {
    /* 24.17 m2 / 0.09290304 = 260.164 sq ft */
    check_text(units_write_area(*state, FT_IN, 24.17), "260.2 sq ft");
    check_text(units_write_area(*state, MM, 24.17), "24.17 m\u00B2");
    check_text(units_write_flow(*state, FT_IN, 0.003785411784 / 60), "1.0 gpm");
    check_text(units_write_flow(*state, FT_IN, 0.00118), "18.7 gpm"); /* 18.7034 */
    check_text(units_write_flow(*state, MM, 0.00118), "1.18 l/s");
    check_text(units_write_rain(*state, FT_IN, 6.6 * 0.0254 / 3600), "6.6 in/h");
    check_text(units_write_rain(*state, FT_IN, 8 * 0.0254 / 3600), "8 in/h");
    check_text(units_write_rain(*state, FT_IN, 9.864 * 0.0254 / 3600), "9.86 in/h");
    check_text(units_write_rain(*state, MM, 6.6 * 0.0254 / 3600), "168 mm/h"); /* 167.64 */
    check_text(units_write_mass(*state, FT_IN, 5.58), "12.3 lb");              /* 12.3018 */
    check_text(units_write_mass(*state, MM, 5.58), "5.6 kg");
    check_text(units_write_temperature(*state, FT_IN, 100), "212 \u00B0F");
    check_text(units_write_temperature(*state, FT_IN, -18), "0 \u00B0F"); /* -0.4: never -0 */
    check_text(units_write_temperature(*state, MM, -23.33), "-23 \u00B0C");
    check_text(units_write_pressure(*state, FT_IN, 20 * 47.880258980335840), "20 psf");
    check_text(units_write_pressure(*state, MM, 957.6), "0.96 kPa");
    const double pi = acos(-1.0);
    check_text(units_write_angle(*state, pi / 2), "90\u00B0");
    check_text(units_write_angle(*state, pi / 8), "22.5\u00B0");
}

/* The rational method's constant: 1 in/h on 1 sq ft is 144/231 gal/h, 0.0103896 gpm (DERIVED). */
static void inch_an_hour_on_a_square_foot_is_the_known_flow(void **state) {
    double flow_m3s = 0.0254 / 3600 * 0.09290304 * 10000;
    assert_true(fabs(144.0 / 231.0 / 60.0 - 0.0103896) < 5e-8);
    check_text(units_write_flow(*state, FT_IN, flow_m3s), "103.9 gpm");
}

static void pitch_is_twelfths_where_it_is_twelfths(void **state) {
    check_text(units_write_pitch(*state, FT_IN, 4.0 / 12), "4/12");
    check_text(units_write_pitch(*state, FT_IN, 4.004 / 12), "4/12");
    check_text(units_write_pitch(*state, FT_IN, 4.006 / 12), "18.5\u00B0"); /* 18.461 */
    check_text(units_write_pitch(*state, FT_IN, 4.5 / 12), "20.6\u00B0");   /* 20.556 */
    check_text(units_write_pitch(*state, MM, 4.0 / 12), "18.4\u00B0");      /* 18.435 */
    check_text(units_write_pitch(*state, FT_IN, 1.5), "18/12");
}

static void slope_is_a_sixty_fourth_or_a_decimal_or_level(void **state) {
    check_text(units_write_slope(*state, FT_IN, 1.0 / 192), "1/16 in per ft");
    check_text(units_write_slope(*state, FT_IN, 1.0 / 192 + 0.00009 / 12), "1/16 in per ft");
    check_text(units_write_slope(*state, FT_IN, 0.064 / 12), "0.064 in per ft");
    check_text(units_write_slope(*state, FT_IN, 1.5 / 12), "1 1/2 in per ft");
    check_text(units_write_slope(*state, FT_IN, 1.0 / 12), "1 in per ft");
    check_text(units_write_slope(*state, FT_IN, -1.0 / 192), "-1/16 in per ft");
    check_text(units_write_slope(*state, FT_IN, 0), "level");
    check_text(units_write_slope(*state, FT_IN, -1e-7), "level");
    check_text(units_write_slope(*state, MM, 0.0052), "5.2 mm/m");
    check_text(units_write_slope(*state, MM, 0.005), "5.0 mm/m");
    check_text(units_write_slope(*state, MM, 0), "level");
    check_text(units_write_slope(*state, MM, 0.00004), "level");
    struct units_reading reading =
        units_read_slope(units_write_slope(*state, FT_IN, 3.0 / 64 / 12));
    check_near(reading.value, 3.0 / 64 / 12, 1e-15);
}

/* ---- any value ----------------------------------------------------------------------------- */

static void check_quantum(void **state, enum base_unit unit, double number, const char *wanted) {
    check_text(units_write_quantum(*state, base_value_number(unit, number)), wanted);
}

static void quantum_of_each_unit_is_the_stated_one(void **state) {
    check_quantum(state, BASE_UNIT_M, 8.64870049, "8.648700");
    check_quantum(state, BASE_UNIT_M, -0.0000004, "0.000000");
    check_quantum(state, BASE_UNIT_M2, 24.1700005, "24.170001");
    check_quantum(state, BASE_UNIT_M3, 0.2, "0.200000");
    check_quantum(state, BASE_UNIT_M3S, 0.00118, "0.001180000");
    check_quantum(state, BASE_UNIT_MPS, 6.6 * 0.0254 / 3600, "0.000046566667");
    check_quantum(state, BASE_UNIT_RAD, 1.5707963267948966, "1.570796");
    check_quantum(state, BASE_UNIT_KG, 5.5796, "5.580");
    check_quantum(state, BASE_UNIT_N, -133.446, "-133.45");
    check_quantum(state, BASE_UNIT_PA, 957.605, "958");
    check_quantum(state, BASE_UNIT_S, 300, "300.000");
    check_quantum(state, BASE_UNIT_C, -23.3333, "-23.33");
    check_quantum(state, BASE_UNIT_RATIO, 1.0 / 3, "0.333333");
    check_quantum(state, BASE_UNIT_SLOPE, 1.0 / 192, "0.005208333");
    check_text(units_write_quantum(*state, base_value_minor(-2450)), "-2450");
    check_text(units_write_quantum(*state, base_value_count(6)), "6");
    check_text(units_write_quantum(*state, base_value_tick(1)), "0.000003125");
    check_text(units_write_quantum(*state, base_value_tick(ticks(28, 4, 32))), "8.648700000");
    check_text(units_write_quantum(*state, base_value_tick(-UNITS_TICK_MAX)), "-10000.000000000");
    check_text(units_write_quantum(*state, base_value_string("porch")), "porch");
}

static void value_of_each_unit_has_words_for_people(void **state) {
    static const struct {
        enum base_unit unit;
        double number;
        const char *ft_in;
        const char *mm;
    } ROWS[] = {
        {BASE_UNIT_M, 0.3048, "1' 0\"", "305 mm"},
        {BASE_UNIT_M2, 1, "10.8 sq ft", "1.00 m\u00B2"},
        {BASE_UNIT_M3S, 0.001, "15.9 gpm", "1.00 l/s"},
        {BASE_UNIT_M3, 0.003785411784, "1.0 gal", "3.8 l"},
        {BASE_UNIT_M3, 0.2, "53 gal", "200 l"},
        {BASE_UNIT_MPS, 0.0254 / 3600, "1 in/h", "25 mm/h"},
        {BASE_UNIT_MPS, 0.6096, "2.0 ft/s", "0.61 m/s"},
        {BASE_UNIT_RAD, 0, "0\u00B0", "0\u00B0"},
        {BASE_UNIT_KG, 0.45359237, "1.0 lb", "0.5 kg"},
        {BASE_UNIT_N, 4.4482216152605, "1.0 lb", "4 N"},
        {BASE_UNIT_PA, 1000, "21 psf", "1.00 kPa"},
        {BASE_UNIT_S, 90.5, "90.5 s", "90.5 s"},
        {BASE_UNIT_S, 300, "5 min", "5 min"},
        {BASE_UNIT_S, 50, "50 s", "50 s"},
        {BASE_UNIT_C, 20, "68 \u00B0F", "20 \u00B0C"},
        {BASE_UNIT_RATIO, 0.35, "0.35", "0.35"},
        {BASE_UNIT_SLOPE, 0.005, "0.06 in per ft", "5.0 mm/m"},
    };
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        struct base_value value = base_value_number(ROWS[i].unit, ROWS[i].number);
        check_text(units_write_value(*state, FT_IN, value), ROWS[i].ft_in);
        check_text(units_write_value(*state, MM, value), ROWS[i].mm);
    }
    check_text(units_write_value(*state, FT_IN, base_value_tick(ticks(0, 13, 0))), "1' 1\"");
    check_text(units_write_value(*state, FT_IN, base_value_minor(1250)), "12.50");
    check_text(units_write_value(*state, MM, base_value_count(12)), "12");
    check_text(units_write_value(*state, MM, base_value_string("end cap")), "end cap");
    check_text(units_write_value(*state, MM, (struct base_value){0}), "");
}

/* ---- memory -------------------------------------------------------------------------------- */

static void write_everything(struct base_arena *arena) {
    for (int unit = BASE_UNIT_NONE; unit <= BASE_UNIT_SLOPE; unit++) {
        struct base_value value = {.unit = (enum base_unit)unit,
                                   .integer = 12345,
                                   .number = 0.0123,
                                   .text = base_text_of("word")};
        units_write_quantum(arena, value);
        units_write_value(arena, FT_IN, value);
        units_write_value(arena, MM, value);
    }
    units_stack_length(arena, FT_IN, ticks(28, 6, 32));
    units_write_length_exact(arena, UNITS_FT_IN, 1);
    units_write_money(arena, base_text_of("USD"), 123450, 2);
    units_write_decimal(arena, 1.5, 2);
    units_write_decimal_short(arena, 1.5, 2);
    units_write_pitch(arena, FT_IN, 0.75);
}

static void any_failed_take_leaves_the_arena_failed_and_nothing_else(void **state) {
    (void)state;
    struct base_arena *whole = base_make_arena(0);
    write_everything(whole);
    assert_false(base_arena_failed(whole));
    size_t takes = base_take_count(whole);
    assert_true(takes > 40); /* every writer takes at least once */
    base_free_arena(whole);
    for (size_t nth = 1; nth <= takes; nth++) {
        struct base_arena *arena = base_make_arena(0);
        base_fail_take(arena, nth);
        write_everything(arena);
        assert_true(base_arena_failed(arena));
        assert_int_equal(units_write_decimal(arena, 1, 1).length, 0);
        base_free_arena(arena);
    }
}

#define WITH_ARENA(test) cmocka_unit_test_setup_teardown(test, make_arena, free_arena)

static void a_bench_rule_has_no_feet(void **state) {
    struct base_arena *arena = *state;
    struct units_style rule = FT_IN;
    rule.no_feet = true;
    assert_true(
        base_text_is(units_write_length(arena, rule, 35 * UNITS_TICK_PER_INCH / 2), "17 1/2\""));
    assert_true(base_text_is(units_write_length(arena, rule, 24 * UNITS_TICK_PER_INCH), "24\""));
    assert_true(base_text_is(units_write_length(arena, FT_IN, 24 * UNITS_TICK_PER_INCH), "2' 0\""));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ticks_of_the_units_agree),
        WITH_ARENA(lengths_are_printed_as_a_tape_is_read),
        WITH_ARENA(rounding_carries_into_inches_and_feet),
        WITH_ARENA(a_bench_rule_has_no_feet),
        WITH_ARENA(halves_are_rounded_away_from_zero),
        WITH_ARENA(stacked_length_is_the_plain_one_in_parts),
        cmocka_unit_test(every_sixty_fourth_to_200_ft_comes_back),
        cmocka_unit_test(every_millimetre_to_60_m_comes_back),
        cmocka_unit_test(every_tenth_of_a_millimetre_to_2_m_comes_back),
        cmocka_unit_test(every_tick_of_a_foot_comes_back),
        cmocka_unit_test(ticks_near_the_longest_come_back),
        cmocka_unit_test(printed_lengths_are_read_as_printed),
        WITH_ARENA(exact_lengths_take_the_unit_that_fits),
        WITH_ARENA(decimals_have_no_negative_zero_and_no_locale),
        WITH_ARENA(money_has_commas_and_its_currency),
        cmocka_unit_test(money_comes_back),
        WITH_ARENA(quantities_have_both_styles),
        WITH_ARENA(inch_an_hour_on_a_square_foot_is_the_known_flow),
        WITH_ARENA(pitch_is_twelfths_where_it_is_twelfths),
        WITH_ARENA(slope_is_a_sixty_fourth_or_a_decimal_or_level),
        WITH_ARENA(quantum_of_each_unit_is_the_stated_one),
        WITH_ARENA(value_of_each_unit_has_words_for_people),
        cmocka_unit_test(any_failed_take_leaves_the_arena_failed_and_nothing_else),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
