/* SPDX-License-Identifier: Apache-2.0 */
/* Readers of units. The writers are in test_units_write.c. Conversions are DERIVED: exact
 * arithmetic on the definitions (1 in = 25.4 mm, 1 lb = 0.45359237 kg, 231 in3 a US gallon). */
#include "check.h"
#include "units/units.h"

#include <math.h>
#include <string.h>

#define TICKS(feet, inches, sixty_fourths)                                                         \
    ((feet)*UNITS_TICK_PER_FOOT + (inches)*UNITS_TICK_PER_INCH +                                   \
     (sixty_fourths)*UNITS_TICK_PER_64TH)

static struct units_length_reading read_in(const char *text, enum units_system system) {
    return units_read_length(base_text_of(text), system);
}

/* The same in both systems. */
static void check_length(const char *text, int64_t length_tick) {
    for (int system = UNITS_FT_IN; system <= UNITS_MM; system++) {
        struct units_length_reading reading = read_in(text, (enum units_system)system);
        if (reading.fault != UNITS_FINE || reading.length_tick != length_tick) {
            print_error("%s: fault %d, %lld ticks\n", text, (int)reading.fault,
                        (long long)reading.length_tick);
        }
        assert_int_equal(reading.fault, UNITS_FINE);
        assert_true(reading.length_tick == length_tick);
        assert_false(reading.has_doubt);
        assert_false(reading.is_guess);
    }
}

static void check_fault_in(const char *text, enum units_system system, enum units_fault fault,
                           size_t fault_at) {
    struct units_length_reading reading = read_in(text, system);
    if (reading.fault != fault || reading.fault_at != fault_at) {
        print_error("%s: fault %d at %zu\n", text, (int)reading.fault, reading.fault_at);
    }
    assert_int_equal(reading.fault, fault);
    assert_int_equal(reading.fault_at, fault_at);
    assert_true(reading.length_tick == 0);
}

static void check_fault(const char *text, enum units_fault fault, size_t fault_at) {
    check_fault_in(text, UNITS_FT_IN, fault, fault_at);
    check_fault_in(text, UNITS_MM, fault, fault_at);
}

/* ---- lengths: what is taken ---------------------------------------------------------------- */

static void tape_is_read_the_ways_people_write_it(void **state) {
    (void)state;
    const int64_t porch = TICKS(28, 4, 32);
    check_length("28' 4 1/2\"", porch);
    check_length("28'4 1/2\"", porch);
    check_length("28'-4 1/2\"", porch);
    check_length("28' - 4-1/2\"", porch);
    check_length("28-4-1/2\"", porch);
    check_length("28-4 1/2\"", porch);
    check_length("28 ft 4 1/2 in", porch);
    check_length("28ft 4-1/2in", porch);
    check_length("28 ft. 4 1/2 in.", porch);
    check_length("28 FEET 4 1/2 INCHES", porch);
    check_length("340 1/2\"", porch);
    check_length("28' 4.5\"", porch);
    check_length("28' 4 1/2", porch);
    check_length("  28' 4 1/2\"\t", porch);
    check_length("12' 6\"", TICKS(12, 6, 0));
    check_length("12'-6\"", TICKS(12, 6, 0));
    check_length("6'", TICKS(6, 0, 0));
    check_length("6 feet", TICKS(6, 0, 0));
    check_length("1 foot", TICKS(1, 0, 0));
    check_length("3 inches", TICKS(0, 3, 0));
    check_length("28' 0 1/2\"", TICKS(28, 0, 32));
    check_length("28' 1/2\"", TICKS(28, 0, 32));
    check_length("28' 11 63/64\"", TICKS(28, 11, 63));
    check_length(".5\"", TICKS(0, 0, 32));
}

static void dashes_alone_are_feet_and_inches_only_in_a_feet_inch_job(void **state) {
    (void)state;
    assert_true(read_in("28-4-1/2", UNITS_FT_IN).length_tick == TICKS(28, 4, 32));
    assert_true(read_in("28-4 1/2", UNITS_FT_IN).length_tick == TICKS(28, 4, 32));
    assert_true(read_in("28-4", UNITS_FT_IN).length_tick == TICKS(28, 4, 0));
    check_fault_in("28-4-1/2", UNITS_MM, UNITS_TRAILING, 2);
    check_fault_in("28-4", UNITS_MM, UNITS_TRAILING, 2);
}

static void fraction_alone_is_that_fraction(void **state) {
    (void)state;
    check_length("13/16\"", TICKS(0, 0, 52));
    check_length("1/64\"", TICKS(0, 0, 1));
    check_length("13/16 in", TICKS(0, 0, 52));
    check_length("1 3/16\"", TICKS(0, 1, 12));
    check_length("1-3/16\"", TICKS(0, 1, 12));
    check_length("1/2 ft", TICKS(0, 6, 0));
    check_length("1/3 ft", TICKS(0, 4, 0));
    check_length("2 1/2'", TICKS(2, 6, 0));
}

static void typographic_marks_are_taken(void **state) {
    (void)state;
    const int64_t porch = TICKS(28, 4, 32);
    check_length("28\u2032 4 1/2\u2033", porch);
    check_length("28\u2019 4 1/2\u201D", porch);
    check_length("28' 4 1/2''", porch);
    check_length("28\u2032 4 1/2\u2032\u2032", porch);
    check_length("28\u2032\u20134 1\u20442\u2033", porch);
    check_length("28\u00A0ft 4\u202F\u00BD in", porch);
    check_length("28' 4\u00BD\"", porch);
    check_length("28' 4 \u00BD\"", porch);
    check_length("28' 4-\u00BD\"", porch);
    static const struct {
        const char *text;
        int64_t sixty_fourths;
    } VULGAR[] = {{"\u00BC\"", 16}, {"\u00BD\"", 32}, {"\u00BE\"", 48}, {"\u215B\"", 8},
                  {"\u215C\"", 24}, {"\u215D\"", 40}, {"\u215E\"", 56}};
    for (size_t i = 0; i < sizeof VULGAR / sizeof VULGAR[0]; i++) {
        check_length(VULGAR[i].text, TICKS(0, 0, VULGAR[i].sixty_fourths));
    }
}

static void metric_is_read_to_a_tenth_of_a_millimetre(void **state) {
    (void)state;
    check_length("8.65 m", 8650 * UNITS_TICK_PER_MM);
    check_length("8650 mm", 8650 * UNITS_TICK_PER_MM);
    check_length("8650.1 mm", 8650 * UNITS_TICK_PER_MM + 32);
    check_length("86.5 cm", 865 * UNITS_TICK_PER_MM);
    check_length("86.51 cm", 865 * UNITS_TICK_PER_MM + 32);
    check_length("8.6501 m", 8650 * UNITS_TICK_PER_MM + 32);
    check_length("8.650100000000000000000000000000 m", 8650 * UNITS_TICK_PER_MM + 32);
    check_length("2 metres", 2000 * UNITS_TICK_PER_MM);
    check_length("0008650mm", 8650 * UNITS_TICK_PER_MM);
    assert_true(read_in("8650", UNITS_MM).length_tick == 8650 * UNITS_TICK_PER_MM);
    assert_true(read_in("10.8", UNITS_MM).length_tick == 3456);
    check_fault("8650.12 mm", UNITS_TOO_FINE, 0);
    check_fault("8.65012 m", UNITS_TOO_FINE, 0);
    check_fault("86.512 cm", UNITS_TOO_FINE, 0);
    check_fault("1.00000000000000000000000000000001 m", UNITS_TOO_FINE, 0);
}

static void tape_decimals_go_to_the_nearest_tick(void **state) {
    (void)state;
    check_length("12.7 ft", 1238707); /* 12.7 * 97536 = 1,238,707.2 */
    check_length("0.1\"", 813);       /* 812.8 */
    check_length("0.0625\"", TICKS(0, 0, 4));
    check_length("4.0625 in", TICKS(0, 4, 4));
    check_fault("4.06251 in", UNITS_TOO_FINE, 0);
    check_fault("1/128\"", UNITS_TOO_FINE, 0);
    check_fault("1/3\"", UNITS_TOO_FINE, 0);
}

static void zero_needs_no_unit(void **state) {
    (void)state;
    check_length("0", 0);
    check_length("0.0", 0);
    check_length("0'", 0);
    check_length("0 mm", 0);
}

static void doubt_and_guess_stand_behind(void **state) {
    (void)state;
    const char *const doubts[] = {"28' 4\" +- 1/2\"", "28' 4\" \u00B1 1/2\"", "28' 4\" +/- 12.7 mm",
                                  "28' 4\"\u00B1\u00BD\""};
    for (size_t i = 0; i < sizeof doubts / sizeof doubts[0]; i++) {
        struct units_length_reading reading = read_in(doubts[i], UNITS_FT_IN);
        assert_int_equal(reading.fault, UNITS_FINE);
        assert_true(reading.length_tick == TICKS(28, 4, 0));
        assert_true(reading.has_doubt);
        assert_true(reading.doubt_tick == TICKS(0, 0, 32));
    }
    struct units_length_reading guess = read_in("28' 4 guess", UNITS_FT_IN);
    assert_int_equal(guess.fault, UNITS_FINE);
    assert_true(guess.is_guess);
    assert_true(guess.length_tick == TICKS(28, 4, 0));
    assert_true(read_in("8650 +- 5", UNITS_MM).doubt_tick == 5 * UNITS_TICK_PER_MM);
    check_fault("28' +-", UNITS_NOT_A_NUMBER, 6);
    check_fault("28' +- 1\" guess", UNITS_TRAILING, 10);
    check_fault("28' guess guess", UNITS_TRAILING, 10);
    check_fault("28' +- -1\"", UNITS_NEGATIVE, 7);
    check_fault_in("28' +- 1", UNITS_FT_IN, UNITS_BARE_NUMBER, 7);
}

/* ---- lengths: what is refused -------------------------------------------------------------- */

static void bare_number_is_refused_with_both_readings(void **state) {
    (void)state;
    struct units_length_reading reading = read_in("10.8", UNITS_FT_IN);
    assert_int_equal(reading.fault, UNITS_BARE_NUMBER);
    assert_true(reading.length_tick == 0);
    assert_true(reading.as_feet_tick == 1053389); /* 10.8 * 97536 = 1,053,388.8 */
    assert_true(reading.as_inches_tick == 87782); /* 10.8 * 8128 = 87,782.4 */
    reading = read_in("4-1/2", UNITS_FT_IN);
    assert_int_equal(reading.fault, UNITS_BARE_NUMBER);
    assert_true(reading.as_feet_tick == TICKS(4, 6, 0));
    assert_true(reading.as_inches_tick == TICKS(0, 4, 32));
    check_fault_in("13/16", UNITS_FT_IN, UNITS_BARE_NUMBER, 0);
    check_fault_in("10 guess", UNITS_FT_IN, UNITS_BARE_NUMBER, 0);
    check_fault_in("  10", UNITS_FT_IN, UNITS_BARE_NUMBER, 2);
    check_fault_in("10.123456", UNITS_FT_IN, UNITS_TOO_FINE, 0);
    check_fault_in("123456789012", UNITS_FT_IN, UNITS_TOO_LARGE, 0);
    check_fault_in("13/16", UNITS_MM, UNITS_BAD_FRACTION, 0);
}

static void inches_behind_feet_stay_below_twelve(void **state) {
    (void)state;
    check_fault("28' 12\"", UNITS_BAD_FRACTION, 4);
    check_fault("28' 13 1/2\"", UNITS_BAD_FRACTION, 4);
    check_fault("28-12-1/2\"", UNITS_BAD_FRACTION, 3);
    check_length("28' 11.9999\"", TICKS(29, 0, 0) - 1);
    check_length("12\"", TICKS(1, 0, 0));
}

static void fraction_of_one_or_more_is_refused(void **state) {
    (void)state;
    check_fault("3 17/16\"", UNITS_BAD_FRACTION, 2);
    check_fault("3 16/16\"", UNITS_BAD_FRACTION, 2);
    check_fault("17/16\"", UNITS_BAD_FRACTION, 0);
    check_fault("28' 41/2\"", UNITS_BAD_FRACTION, 4);
    check_fault("3/0\"", UNITS_BAD_FRACTION, 0);
    check_fault("3 1/0\"", UNITS_BAD_FRACTION, 2);
    check_fault("3 1.5/2\"", UNITS_BAD_FRACTION, 2);
    check_fault("3 1/\"", UNITS_BAD_FRACTION, 2);
    check_fault("4.5 1/2\"", UNITS_BAD_FRACTION, 4);
    check_fault("12.5' 3\"", UNITS_BAD_FRACTION, 6);
    check_fault("2 1/2' 3\"", UNITS_BAD_FRACTION, 7);
    check_fault("1/2 m", UNITS_BAD_FRACTION, 0);
}

static void what_is_no_plain_number_is_refused(void **state) {
    (void)state;
    check_fault("", UNITS_EMPTY, 0);
    check_fault(" \t ", UNITS_EMPTY, 3);
    check_fault("about 3'", UNITS_NOT_A_NUMBER, 0);
    check_fault("inf", UNITS_NOT_A_NUMBER, 0);
    check_fault("nan", UNITS_NOT_A_NUMBER, 0);
    check_fault("+3\"", UNITS_NOT_A_NUMBER, 0);
    check_fault("1,234\"", UNITS_NOT_A_NUMBER, 1);
    check_fault("8,65 m", UNITS_NOT_A_NUMBER, 1);
    check_fault("0x10\"", UNITS_UNKNOWN_UNIT, 1);
    check_fault("1e3 mm", UNITS_UNKNOWN_UNIT, 1);
    check_fault("5 furlongs", UNITS_UNKNOWN_UNIT, 2);
    check_fault("28' 4 mm", UNITS_UNKNOWN_UNIT, 6);
    check_fault("5.\"", UNITS_TRAILING, 1);
    check_fault("-3\"", UNITS_NEGATIVE, 0);
    check_fault("\u2212 3\"", UNITS_NEGATIVE, 0);
    check_fault("28 4", UNITS_TRAILING, 3);
    check_fault("28' 4' ", UNITS_TRAILING, 5);
    check_fault("28' 4\" 3\"", UNITS_TRAILING, 7);
    check_fault("28' -", UNITS_TRAILING, 4);
    check_fault("8 m 650 mm", UNITS_TRAILING, 4);
    check_fault("28' 4\" or so", UNITS_TRAILING, 7);
    check_fault("10001 m", UNITS_TOO_LARGE, 0);
    check_length("10000 m", UNITS_TICK_MAX);
    check_fault("99999999999999999999999999999'", UNITS_TOO_LARGE, 0);
    check_fault("100000000000000000 mm", UNITS_TOO_LARGE, 0);
}

static void bytes_inside_the_text_never_read_beyond_it(void **state) {
    (void)state;
    const char cut[] = {'2', '8', '\xE2', '\x80'}; /* half a prime */
    struct units_length_reading reading =
        units_read_length((struct base_text){cut, sizeof cut}, UNITS_FT_IN);
    assert_int_equal(reading.fault, UNITS_TRAILING);
    const char nul[] = {'2', '8', '\'', '\0', '4'};
    reading = units_read_length((struct base_text){nul, sizeof nul}, UNITS_FT_IN);
    assert_int_equal(reading.fault, UNITS_TRAILING);
    assert_int_equal(reading.fault_at, 3);
    reading = units_read_length((struct base_text){NULL, 0}, UNITS_MM);
    assert_int_equal(reading.fault, UNITS_EMPTY);
}

/* ---- other quantities ---------------------------------------------------------------------- */

typedef struct units_reading (*reader)(struct base_text text);

static void check_value(reader read, const char *text, double value) {
    struct units_reading reading = read(base_text_of(text));
    if (reading.fault != UNITS_FINE) {
        print_error("%s: fault %d at %zu\n", text, (int)reading.fault, reading.fault_at);
    }
    assert_int_equal(reading.fault, UNITS_FINE);
    check_near(reading.value, value, 1e-12 * fabs(value));
}

static void check_refused(reader read, const char *text, enum units_fault fault, size_t fault_at) {
    struct units_reading reading = read(base_text_of(text));
    if (reading.fault != fault || reading.fault_at != fault_at) {
        print_error("%s: fault %d at %zu\n", text, (int)reading.fault, reading.fault_at);
    }
    assert_int_equal(reading.fault, fault);
    assert_int_equal(reading.fault_at, fault_at);
}

static void pitch_is_rise_over_run(void **state) {
    (void)state;
    const double pi = acos(-1.0);
    check_value(units_read_pitch, "9/12", 0.75);
    check_value(units_read_pitch, "18/12", 1.5);
    check_value(units_read_pitch, "9 in 12", 0.75);
    check_value(units_read_pitch, "9:12", 0.75);
    check_value(units_read_pitch, "4.5/12", 0.375);
    check_value(units_read_pitch, "4 1/2 in 12", 0.375);
    check_value(units_read_pitch, "4 1/2/12", 0.375);
    check_value(units_read_pitch, "4\u00BD/12", 0.375);
    check_value(units_read_pitch, "9\" in 12\"", 0.75);
    check_value(units_read_pitch, "45 deg", 1.0);
    check_value(units_read_pitch, "45\u00B0", 1.0);
    check_value(units_read_pitch, "36.9 degrees", tan(36.9 * pi / 180));
    check_value(units_read_pitch, "75 %", 0.75);
    check_value(units_read_pitch, "0", 0.0);
    check_refused(units_read_pitch, "9", UNITS_BARE_NUMBER, 0);
    check_refused(units_read_pitch, "9/0", UNITS_BAD_FRACTION, 2);
    check_refused(units_read_pitch, "9/", UNITS_NOT_A_NUMBER, 2);
    check_refused(units_read_pitch, "9 in twelve", UNITS_NOT_A_NUMBER, 5);
    check_refused(units_read_pitch, "9/12 steep", UNITS_TRAILING, 5);
    check_refused(units_read_pitch, "9 rad", UNITS_UNKNOWN_UNIT, 2);
    check_refused(units_read_pitch, "-9/12", UNITS_NEGATIVE, 0);
    check_refused(units_read_pitch, "241/12", UNITS_TOO_LARGE, 0);
    check_refused(units_read_pitch, "90 deg", UNITS_TOO_LARGE, 0);
    check_refused(units_read_pitch, "135 deg", UNITS_TOO_LARGE, 0);
    check_refused(units_read_pitch, "", UNITS_EMPTY, 0);
}

static void angle_is_degrees_unless_said(void **state) {
    (void)state;
    const double pi = acos(-1.0);
    check_value(units_read_angle, "90", pi / 2);
    check_value(units_read_angle, "90 deg", pi / 2);
    check_value(units_read_angle, "135\u00B0", 3 * pi / 4);
    check_value(units_read_angle, "1.5708 rad", 1.5708);
    check_value(units_read_angle, "360", 2 * pi);
    check_refused(units_read_angle, "361", UNITS_TOO_LARGE, 0);
    check_refused(units_read_angle, "90 grad", UNITS_UNKNOWN_UNIT, 3);
    check_refused(units_read_angle, "90 degs", UNITS_UNKNOWN_UNIT, 3);
}

static void slope_is_a_ratio(void **state) {
    (void)state;
    check_value(units_read_slope, "1/16 in/ft", 1.0 / 192);
    check_value(units_read_slope, "1/16 in per ft", 1.0 / 192);
    check_value(units_read_slope, "1/16\" per foot", 1.0 / 192);
    check_value(units_read_slope, "1/16\"/ft", 1.0 / 192);
    check_value(units_read_slope, "0.0625 in / ft", 1.0 / 192);
    check_value(units_read_slope, "1 1/2 in/ft", 0.125);
    check_value(units_read_slope, "5 mm/m", 0.005);
    check_value(units_read_slope, "1:192", 1.0 / 192);
    check_value(units_read_slope, "1/192", 1.0 / 192);
    check_value(units_read_slope, "0.5 %", 0.005);
    check_value(units_read_slope, "level", 0.0);
    check_value(units_read_slope, "0", 0.0);
    check_refused(units_read_slope, "0.005", UNITS_BARE_NUMBER, 0);
    check_refused(units_read_slope, "5", UNITS_BARE_NUMBER, 0);
    check_refused(units_read_slope, "1:0", UNITS_BAD_FRACTION, 2);
    check_refused(units_read_slope, "192:1", UNITS_TOO_LARGE, 0);
    check_refused(units_read_slope, "level-ish", UNITS_TRAILING, 5);
    check_refused(units_read_slope, "-1/16 in/ft", UNITS_NEGATIVE, 0);
    check_refused(units_read_slope, "5 mm", UNITS_UNKNOWN_UNIT, 2);
    check_refused(units_read_slope, "5 mm/m down", UNITS_TRAILING, 7);
}

static void rain_is_depth_over_time(void **state) {
    (void)state;
    check_value(units_read_rain, "6.6 in/h", 6.6 * 0.0254 / 3600);
    check_value(units_read_rain, "6.6 in / hr", 6.6 * 0.0254 / 3600);
    check_value(units_read_rain, "75 mm/h", 0.075 / 3600);
    check_value(units_read_rain, "0.021 l/s/m2", 2.1e-5);
    check_value(units_read_rain, "0.021 l/s/m\u00B2", 2.1e-5);
    check_value(units_read_rain, "0", 0.0);
    check_refused(units_read_rain, "6.6", UNITS_BARE_NUMBER, 0);
    check_refused(units_read_rain, "6,6 in/h", UNITS_NOT_A_NUMBER, 1);
    check_refused(units_read_rain, "6.6 in", UNITS_UNKNOWN_UNIT, 4);
    check_refused(units_read_rain, "150 in/h", UNITS_TOO_LARGE, 0);
    /* DERIVED (1 l/s/m2 is 1 mm/s): 0.021 l/s/m2 = 75.6 mm/h */
    check_near(units_read_rain(base_text_of("75.6 mm/h")).value,
               units_read_rain(base_text_of("0.021 l/s/m2")).value, 1e-18);
}

static void temperature_takes_either_scale_and_a_sign(void **state) {
    (void)state;
    check_value(units_read_temperature, "32 F", 0.0);
    check_value(units_read_temperature, "212 F", 100.0);
    check_value(units_read_temperature, "-40 F", -40.0);
    check_value(units_read_temperature, "-40 C", -40.0);
    check_value(units_read_temperature, "\u221210 \u00B0F", -42.0 * 5 / 9);
    check_value(units_read_temperature, "36 \u00B0C", 36.0);
    check_value(units_read_temperature, "98 deg F", 66.0 * 5 / 9);
    check_refused(units_read_temperature, "0", UNITS_BARE_NUMBER, 0);
    check_refused(units_read_temperature, "36", UNITS_BARE_NUMBER, 0);
    check_refused(units_read_temperature, "36 K", UNITS_UNKNOWN_UNIT, 3);
    check_refused(units_read_temperature, "-", UNITS_NOT_A_NUMBER, 1);
    check_refused(units_read_temperature, "900 F", UNITS_TOO_LARGE, 0);
}

static void pressure_ratio_number_and_sheet_weight_are_read(void **state) {
    (void)state;
    check_value(units_read_pressure, "20 psf", 20 * 4.4482216152605 / 0.09290304);
    check_value(units_read_pressure, "1.2 kPa", 1200);
    check_value(units_read_pressure, "960 Pa", 960);
    check_refused(units_read_pressure, "20", UNITS_BARE_NUMBER, 0);
    check_value(units_read_ratio, "35 %", 0.35);
    check_value(units_read_ratio, "35%", 0.35);
    check_value(units_read_ratio, "0.35", 0.35);
    check_refused(units_read_ratio, "a third", UNITS_NOT_A_NUMBER, 0);
    check_value(units_read_number, "12.5", 12.5);
    check_value(units_read_number, "0.1", 0.1);
    check_refused(units_read_number, "12.5 ft", UNITS_UNKNOWN_UNIT, 5);
    check_refused(units_read_number, "-1", UNITS_NEGATIVE, 0);
    check_refused(units_read_number, "1e5", UNITS_UNKNOWN_UNIT, 1);
    check_refused(units_read_number, "1 2", UNITS_TRAILING, 2);
    check_value(units_read_sheet_weight, "16 oz", 0.45359237 / 0.09290304); /* 16 oz = 1 lb */
    check_value(units_read_sheet_weight, "20 oz/sq ft", 1.25 * 0.45359237 / 0.09290304);
    check_refused(units_read_sheet_weight, "16", UNITS_BARE_NUMBER, 0);
}

/* Second way: the correctly rounded double of a decimal of up to 15 digits is what the compiler
 * reads from the same digits. */
static void decimals_become_the_nearest_double(void **state) {
    (void)state;
    assert_true(units_read_number(base_text_of("0.3")).value == 0.3);
    assert_true(units_read_number(base_text_of("3.14159265358979")).value == 3.14159265358979);
    assert_true(units_read_number(base_text_of("0.000000000000123")).value == 0.000000000000123);
    assert_true(units_read_number(base_text_of("123456789012345")).value == 123456789012345.0);
}

static void check_integer(struct units_integer_reading reading, enum units_fault fault,
                          int64_t value) {
    assert_int_equal(reading.fault, fault);
    assert_true(reading.value == value);
}

static void counts_are_whole(void **state) {
    (void)state;
    check_integer(units_read_count(base_text_of("0")), UNITS_FINE, 0);
    check_integer(units_read_count(base_text_of(" 42 ")), UNITS_FINE, 42);
    check_integer(units_read_count(base_text_of("42.0")), UNITS_FINE, 42);
    check_integer(units_read_count(base_text_of("4.5")), UNITS_TOO_FINE, 0);
    check_integer(units_read_count(base_text_of("-1")), UNITS_NEGATIVE, 0);
    check_integer(units_read_count(base_text_of("six")), UNITS_NOT_A_NUMBER, 0);
    check_integer(units_read_count(base_text_of("6 pcs")), UNITS_TRAILING, 0);
    check_integer(units_read_count(base_text_of("1000000000000001")), UNITS_TOO_LARGE, 0);
    check_integer(units_read_count(base_text_of("99999999999999999999")), UNITS_TOO_LARGE, 0);
}

static void money_is_exact(void **state) {
    (void)state;
    check_integer(units_read_money(base_text_of("24.50"), 2), UNITS_FINE, 2450);
    check_integer(units_read_money(base_text_of("24.5"), 2), UNITS_FINE, 2450);
    check_integer(units_read_money(base_text_of("24"), 2), UNITS_FINE, 2400);
    check_integer(units_read_money(base_text_of("24"), 0), UNITS_FINE, 24);
    check_integer(units_read_money(base_text_of("0.07"), 2), UNITS_FINE, 7);
    check_integer(units_read_money(base_text_of("9999999999999.99"), 2), UNITS_FINE,
                  INT64_C(999999999999999));
    check_integer(units_read_money(base_text_of("24.505"), 2), UNITS_TOO_FINE, 0);
    check_integer(units_read_money(base_text_of("1,234.50"), 2), UNITS_NOT_A_NUMBER, 0);
    check_integer(units_read_money(base_text_of("-5"), 2), UNITS_NEGATIVE, 0);
    check_integer(units_read_money(base_text_of("$5"), 2), UNITS_NOT_A_NUMBER, 0);
    check_integer(units_read_money(base_text_of(""), 2), UNITS_EMPTY, 0);
    check_integer(units_read_money(base_text_of("99999999999999.99"), 2), UNITS_TOO_LARGE, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tape_is_read_the_ways_people_write_it),
        cmocka_unit_test(dashes_alone_are_feet_and_inches_only_in_a_feet_inch_job),
        cmocka_unit_test(fraction_alone_is_that_fraction),
        cmocka_unit_test(typographic_marks_are_taken),
        cmocka_unit_test(metric_is_read_to_a_tenth_of_a_millimetre),
        cmocka_unit_test(tape_decimals_go_to_the_nearest_tick),
        cmocka_unit_test(zero_needs_no_unit),
        cmocka_unit_test(doubt_and_guess_stand_behind),
        cmocka_unit_test(bare_number_is_refused_with_both_readings),
        cmocka_unit_test(inches_behind_feet_stay_below_twelve),
        cmocka_unit_test(fraction_of_one_or_more_is_refused),
        cmocka_unit_test(what_is_no_plain_number_is_refused),
        cmocka_unit_test(bytes_inside_the_text_never_read_beyond_it),
        cmocka_unit_test(pitch_is_rise_over_run),
        cmocka_unit_test(angle_is_degrees_unless_said),
        cmocka_unit_test(slope_is_a_ratio),
        cmocka_unit_test(rain_is_depth_over_time),
        cmocka_unit_test(temperature_takes_either_scale_and_a_sign),
        cmocka_unit_test(pressure_ratio_number_and_sheet_weight_are_read),
        cmocka_unit_test(decimals_become_the_nearest_double),
        cmocka_unit_test(counts_are_whole),
        cmocka_unit_test(money_is_exact),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
