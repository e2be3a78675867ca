/* SPDX-License-Identifier: Apache-2.0 */
/*
 * units: what a person writes with a unit, both ways. Feet, inches and gauge exist only here and
 * where text is read or written.
 *
 * Walk      before: base, numeric. after: every room that reads or prints a quantity.
 * Knows     a length as read is an integer number of ticks of 3.125 um: 1/64 in = 127, 1 mm = 320.
 * Memory    written texts live in the arena handed in; readers take none.
 */
#ifndef EAVESMITH_UNITS_H
#define EAVESMITH_UNITS_H

#include "base/base.h"

#define UNITS_TICK_PER_MM   INT64_C(320)
#define UNITS_TICK_PER_64TH INT64_C(127)
#define UNITS_TICK_PER_INCH INT64_C(8128)
#define UNITS_TICK_PER_FOOT INT64_C(97536)
#define UNITS_TICK_PER_M    INT64_C(320000)
#define UNITS_TICK_MAX      (INT64_C(10000) * UNITS_TICK_PER_M) /* 10 km: nothing here is longer */

/* The steepest pitch and the hardest rain that are read; about 142 in/h. */
#define UNITS_PITCH_MAX_1  20.0
#define UNITS_RAIN_MAX_MPS 0.001

enum units_system { UNITS_FT_IN = 0, UNITS_MM };

/*
 * How a number is printed. Made by units_default_style. round_tick is a multiple of 1/64 in (127)
 * in feet and inches, of 0.1 mm (32) in metric.
 */
struct units_style {
    enum units_system system;
    int64_t round_tick; /* lengths to the nearest of this: 1/16 in = 508, 1 mm = 320 */
    bool no_feet;       /* as a bench rule has it: 17 1/2", not 1' 5 1/2" */
};

struct units_style units_default_style(enum units_system system);

double units_m_of_tick(int64_t length_tick);
/* The nearest tick, halves away from zero. */
int64_t units_tick_of_m(double length_m);

/* Why a reading failed; the caller turns it into an issue with its mark. */
enum units_fault {
    UNITS_FINE = 0,
    UNITS_EMPTY,
    UNITS_NOT_A_NUMBER, /* letters where a number should stand */
    UNITS_BARE_NUMBER,  /* a feet-inch job: 10.8 could be feet or inches; both readings are given */
    UNITS_UNKNOWN_UNIT, /* fault_at points at it */
    UNITS_TOO_FINE,     /* metric finer than 0.1 mm, or a fraction that is no whole tick */
    UNITS_TOO_LARGE,
    UNITS_BAD_FRACTION, /* 3/0, 17/16, 4.5 1/2, 12" or more after feet, 12.5' 3", 1/2 m */
    UNITS_NEGATIVE,
    UNITS_TRAILING /* something stands after the quantity */
};

struct units_length_reading {
    enum units_fault fault;
    size_t fault_at;      /* byte offset in the text */
    int64_t length_tick;  /* when fine */
    int64_t as_feet_tick; /* UNITS_BARE_NUMBER: both readings */
    int64_t as_inches_tick;
    bool has_doubt; /* "+- 1/2\"" stood behind it */
    int64_t doubt_tick;
    bool is_guess; /* the word guess stood behind it */
};

/*
 * A length the way a tape is read: 28' 4 1/2" | 28-4-1/2 | 28 ft 4 1/2 in | 340 1/2" | 13/16" |
 * 28' 4.5" | 12.7 ft | 8.65 m | 8650 mm | 86.5 cm; typographic primes and vulgar fractions (U+00BD)
 * too; a bare number means mm in a metric job and is refused (UNITS_BARE_NUMBER) in a feet-inch job
 * unless it is 0. Optionally followed by "+- LENGTH" (or U+00B1) or by "guess". Metric finer than
 * 0.1 mm is refused. Inches above 12 after feet are refused; decimal inches or feet must be a whole
 * number of ticks after rounding to the nearest tick when they have at most 4 decimals.
 *
 * Also taken: 28-4 and 28' 4 (inches without a mark behind feet), 2 1/2 ft, words in any case
 * (feet, in., metres), two single marks for an inch mark, en dashes, +/-. A fraction stands for
 * itself: 13/16" is thirteen sixteenths, never 1 3/16".
 *
 * Refused: inches of 12 or more behind feet; any fraction of one or more (17/16", 41/2": most often
 * a lost blank); a fraction that is no whole tick (1/3", 1/128"); decimals and a fraction together;
 * feet with decimals or a fraction before inches; fractions of metric; thousands separators and
 * decimal commas; exponents, hex, inf, nan; a point without a digit behind it; signs.
 * fault_at is the byte where the offending number, unit or sign begins.
 */
struct units_length_reading units_read_length(struct base_text text, enum units_system system);

/*
 * A quantity that is a double: value in SI, or a fault. A number without its unit is refused as
 * UNITS_BARE_NUMBER unless it is 0 or said otherwise; for a temperature 0 too. Only a temperature
 * may be below zero.
 */
struct units_reading {
    enum units_fault fault;
    size_t fault_at;
    double value;
};

/* 9/12 | 9 in 12 | 36.9 deg | 75 % -> rise over run (tangent), 0 .. 20. */
struct units_reading units_read_pitch(struct base_text text);
/* 90 deg | 90 | 1.5708 rad -> radians. */
struct units_reading units_read_angle(struct base_text text);
/* 1/16 in/ft | 0.0625 in/ft | 5 mm/m | 1:192 | 1/192 | 0.5 % | level -> ratio. */
struct units_reading units_read_slope(struct base_text text);
/* 6.6 in/h | 75 mm/h | 0.021 l/s/m2 -> m/s of depth. */
struct units_reading units_read_rain(struct base_text text);
/* -10 F | 36 C -> degrees Celsius. */
struct units_reading units_read_temperature(struct base_text text);
/* 20 psf | 1.2 kPa | 960 Pa -> Pa. */
struct units_reading units_read_pressure(struct base_text text);
/* 35 % -> 0.35 ; 0.35 -> 0.35. */
struct units_reading units_read_ratio(struct base_text text);
/* A plain decimal, 0 or more, no unit. */
struct units_reading units_read_number(struct base_text text);
/* Sheet weight: 16 oz -> kg/m2; 0.6 mm copper is read as a length by the caller instead. */
struct units_reading units_read_sheet_weight(struct base_text text);

struct units_integer_reading {
    enum units_fault fault;
    size_t fault_at;
    int64_t value;
};

/* A whole number, 0 or more. */
struct units_integer_reading units_read_count(struct base_text text);
/* "24.50" with exactly at most minor_digits decimals -> 2450. Exact; never through a double. */
struct units_integer_reading units_read_money(struct base_text text, int minor_digits);

/* ---- writing ------------------------------------------------------------------------------- */

/* 28' 6 1/2"  |  8650 mm ; rounded to style.round_tick, halves away from zero. Zero is 0" or 0 mm.
 */
struct base_text units_write_length(struct base_arena *arena, struct units_style style,
                                    int64_t length_tick);
/* The same split for a stacked fraction: whole text `28' 6`, numerator 1, denominator 2, tail `"`.
 */
struct units_stacked {
    struct base_text whole; /* may be empty: 1/2" has no whole */
    int numerator;          /* 0 = no fraction */
    int denominator;
    struct base_text tail;
};
struct units_stacked units_stack_length(struct base_arena *arena, struct units_style style,
                                        int64_t length_tick);
/*
 * Exact: 28' 6 33/64" or 8650.1 mm; any tick from 0 to UNITS_TICK_MAX comes back the same through
 * units_read_length, in either system. A tick that is no 64th is written in mm, one that is neither
 * in inches with four decimals (finer than a tick).
 */
struct base_text units_write_length_exact(struct base_arena *arena, enum units_system system,
                                          int64_t length_tick);

/* A fixed-point decimal of a double already rounded once: value rounded to 10^-decimals. No locale.
 */
struct base_text units_write_decimal(struct base_arena *arena, double value, int decimals);
/* As above without trailing zeros after the point. */
struct base_text units_write_decimal_short(struct base_arena *arena, double value, int decimals);

/* 4/12 or 18.4 deg; 260.1 sq ft or 24.17 m2; 18.7 gpm or 1.18 l/s; 6.6 in/h or 168 mm/h;
   1/16 in per ft or 5.2 mm/m; 12.3 lb or 5.6 kg; 98 °F or 37 °C; 20 psf or 0.96 kPa.
   A pitch is N/12 in feet and inches when within 0.005 of it, degrees otherwise. A slope is 64ths
   of an inch when within 0.0001 in per ft, "level" when it would print as 0. */
struct base_text units_write_pitch(struct base_arena *arena, struct units_style style,
                                   double pitch_1);
struct base_text units_write_area(struct base_arena *arena, struct units_style style,
                                  double area_m2);
struct base_text units_write_flow(struct base_arena *arena, struct units_style style,
                                  double flow_m3s);
/* 6.3 gal or 24 l; US liquid gallon. */
struct base_text units_write_volume(struct base_arena *arena, struct units_style style,
                                    double volume_m3);
struct base_text units_write_rain(struct base_arena *arena, struct units_style style,
                                  double rain_mps);
struct base_text units_write_slope(struct base_arena *arena, struct units_style style,
                                   double slope_1);
struct base_text units_write_mass(struct base_arena *arena, struct units_style style,
                                  double mass_kg);
struct base_text units_write_temperature(struct base_arena *arena, struct units_style style,
                                         double temperature_c);
struct base_text units_write_pressure(struct base_arena *arena, struct units_style style,
                                      double pressure_pa);
struct base_text units_write_angle(struct base_arena *arena, double angle_rad); /* 90 deg as 90° */
/* 1,234.50 with the currency's word in front: "USD 1,234.50". */
struct base_text units_write_money(struct base_arena *arena, struct base_text currency,
                                   int64_t money_minor, int minor_digits);

/*
 * The number of a value as result.json holds it: rounded once to the quantum of its unit and
 * printed as an integer with a point (TICK: nine decimals of a metre, exact). Decimals of the
 * others: M M2 M3 RAD RATIO 6, M3S SLOPE 9, MPS 12, KG S 3, N C 2, PA COUNT MINOR 0. Never -0.
 * NONE, TEXT and WORD give their text as it is (no quotes).
 */
struct base_text units_write_quantum(struct base_arena *arena, struct base_value value);
/*
 * Any value for people, in the style. MINOR needs a currency and is printed as 12.50. MPS is rain
 * up to UNITS_RAIN_MAX_MPS and the speed of water (ft/s, m/s) above it.
 */
struct base_text units_write_value(struct base_arena *arena, struct units_style style,
                                   struct base_value value);

#endif
