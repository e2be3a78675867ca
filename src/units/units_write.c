/* SPDX-License-Identifier: Apache-2.0 */
/* Writers: lengths, decimals, money, and any value for people or for result.json. */
#include "units/units_inside.h"

#include "numeric/numeric.h"

#include <assert.h>
#include <math.h>

#define M2_PER_FT2    0.09290304
#define M3_PER_GALLON 0.003785411784 /* 231 cubic inches of 0.0254 m */
#define M_PER_INCH    0.0254
#define KG_PER_LB     0.45359237
#define N_PER_LBF     4.4482216152605
#define PI            3.14159265358979323846
#define DEGREE_SIGN   "\xC2\xB0"
#define SUPERSCRIPT_2 "\xC2\xB2"

struct units_style units_default_style(enum units_system system) {
    switch (system) {
    case UNITS_FT_IN:
        return (struct units_style){.system = UNITS_FT_IN, .round_tick = 4 * UNITS_TICK_PER_64TH};
    case UNITS_MM:
        return (struct units_style){.system = UNITS_MM, .round_tick = UNITS_TICK_PER_MM};
    }
    return (struct units_style){0};
}

/* ---- pieces -------------------------------------------------------------------------------- */

static void add_char(struct units_piece *piece, char c) {
    assert(piece->length < UNITS_PIECE_BYTES);
    piece->bytes[piece->length++] = c;
}

void units_piece_string(struct units_piece *piece, const char *c_string) {
    for (; *c_string != '\0'; c_string++) {
        add_char(piece, *c_string);
    }
}

static uint64_t magnitude(int64_t value) {
    return value < 0 ? 0 - (uint64_t)value : (uint64_t)value;
}

/* Digits of value, at least as many as least_digits, with a comma each three when asked. */
static void add_digits(struct units_piece *piece, uint64_t value, int least_digits,
                       bool thousands) {
    char reversed[32];
    int count = 0;
    do {
        reversed[count++] = (char)('0' + value % 10);
        value /= 10;
    } while (value > 0 || count < least_digits);
    while (count > 0) {
        add_char(piece, reversed[--count]);
        if (thousands && count > 0 && count % 3 == 0) {
            add_char(piece, ',');
        }
    }
}

void units_piece_integer(struct units_piece *piece, uint64_t value) {
    add_digits(piece, value, 1, false);
}

void units_piece_fixed(struct units_piece *piece, int64_t value, int decimals, bool thousands) {
    assert(decimals >= 0 && decimals <= 18);
    uint64_t power = 1;
    for (int i = 0; i < decimals; i++) {
        power *= 10;
    }
    if (value < 0) {
        add_char(piece, '-');
    }
    add_digits(piece, magnitude(value) / power, 1, thousands);
    if (decimals > 0) {
        add_char(piece, '.');
        add_digits(piece, magnitude(value) % power, decimals, false);
    }
}

void units_piece_decimal(struct units_piece *piece, double value, int decimals, bool short_form) {
    double quantum = 1.0;
    for (int i = 0; i < decimals; i++) {
        quantum *= 10.0; /* exact to 10^22 */
    }
    int64_t scaled = numeric_round_quantum(value * quantum, 1.0);
    while (short_form && decimals > 0 && scaled % 10 == 0) {
        scaled /= 10;
        decimals--;
    }
    units_piece_fixed(piece, scaled, decimals, false);
}

struct base_text units_piece_text(const struct units_piece *piece) {
    return (struct base_text){piece->bytes, piece->length};
}

static struct base_text copy_piece(struct base_arena *arena, const struct units_piece *piece) {
    return base_copy_text(arena, units_piece_text(piece));
}

struct base_text units_write_decimal(struct base_arena *arena, double value, int decimals) {
    struct units_piece piece = {.length = 0};
    units_piece_decimal(&piece, value, decimals, false);
    return copy_piece(arena, &piece);
}

struct base_text units_write_decimal_short(struct base_arena *arena, double value, int decimals) {
    struct units_piece piece = {.length = 0};
    units_piece_decimal(&piece, value, decimals, true);
    return copy_piece(arena, &piece);
}

/* ---- lengths ------------------------------------------------------------------------------- */

/* A length split for writing, before anything is taken from an arena. */
struct split {
    struct units_piece whole;
    int numerator;
    int denominator;
    const char *tail;
};

/* 64ths of an inch, lowest terms. */
static void set_fraction(struct split *split, uint64_t sixty_fourths) {
    uint64_t denominator = 64;
    while (sixty_fourths > 0 && sixty_fourths % 2 == 0) {
        sixty_fourths /= 2;
        denominator /= 2;
    }
    split->numerator = (int)sixty_fourths;
    split->denominator = (int)denominator;
}

static void split_feet(struct split *split, uint64_t tick, bool no_feet) {
    assert(tick % (uint64_t)UNITS_TICK_PER_64TH == 0);
    uint64_t feet = no_feet ? 0 : tick / (uint64_t)UNITS_TICK_PER_FOOT;
    uint64_t rest = tick - feet * (uint64_t)UNITS_TICK_PER_FOOT;
    uint64_t inches = rest / (uint64_t)UNITS_TICK_PER_INCH;
    set_fraction(split, rest % (uint64_t)UNITS_TICK_PER_INCH / (uint64_t)UNITS_TICK_PER_64TH);
    if (feet > 0) {
        units_piece_integer(&split->whole, feet);
        units_piece_string(&split->whole, "' ");
    }
    if (feet > 0 || inches > 0 || split->numerator == 0) {
        units_piece_integer(&split->whole, inches);
    }
    split->tail = "\"";
}

static void split_mm(struct split *split, uint64_t tick) {
    const uint64_t tenth = (uint64_t)UNITS_TICK_PER_MM / 10;
    assert(tick % tenth == 0);
    uint64_t tenths = tick / tenth;
    units_piece_fixed(&split->whole, (int64_t)(tenths % 10 == 0 ? tenths / 10 : tenths),
                      tenths % 10 == 0 ? 0 : 1, false);
    split->denominator = 1;
    split->tail = " mm";
}

static struct split split_length(struct units_style style, int64_t length_tick) {
    assert(style.round_tick > 0);
    uint64_t quantum = (uint64_t)style.round_tick;
    uint64_t tick = (magnitude(length_tick) + quantum / 2) / quantum * quantum;
    struct split split = {.denominator = 1};
    if (length_tick < 0 && tick > 0) {
        units_piece_string(&split.whole, "-");
    }
    switch (style.system) {
    case UNITS_FT_IN:
        split_feet(&split, tick, style.no_feet);
        break;
    case UNITS_MM:
        split_mm(&split, tick);
        break;
    }
    return split;
}

/* The plain text of a split length. */
static struct units_piece join_split(const struct split *split) {
    struct units_piece piece = split->whole;
    if (split->numerator > 0) {
        bool after_digit = piece.length > 0 && piece.bytes[piece.length - 1] != '-';
        units_piece_string(&piece, after_digit ? " " : "");
        units_piece_integer(&piece, (uint64_t)split->numerator);
        units_piece_string(&piece, "/");
        units_piece_integer(&piece, (uint64_t)split->denominator);
    }
    units_piece_string(&piece, split->tail);
    return piece;
}

struct base_text units_write_length(struct base_arena *arena, struct units_style style,
                                    int64_t length_tick) {
    struct split split = split_length(style, length_tick);
    struct units_piece piece = join_split(&split);
    return copy_piece(arena, &piece);
}

struct units_stacked units_stack_length(struct base_arena *arena, struct units_style style,
                                        int64_t length_tick) {
    struct split split = split_length(style, length_tick);
    struct units_stacked stacked = {.numerator = split.numerator,
                                    .denominator = split.denominator,
                                    .tail = base_text_of(split.tail)};
    if (split.whole.length > 0) {
        stacked.whole = copy_piece(arena, &split.whole);
    }
    return stacked;
}

/*
 * Inches with four decimals: a step of 0.0001 in is finer than a tick (0.000123 in), so the nearest
 * tick to what is written is the tick meant.
 */
static struct units_piece write_fine(int64_t length_tick) {
    struct units_piece piece = {.length = 0};
    units_piece_string(&piece, length_tick < 0 ? "-" : "");
    uint64_t feet = magnitude(length_tick) / (uint64_t)UNITS_TICK_PER_FOOT;
    int64_t rest = (int64_t)(magnitude(length_tick) % (uint64_t)UNITS_TICK_PER_FOOT);
    if (feet > 0) {
        units_piece_integer(&piece, feet);
        units_piece_string(&piece, "' ");
    }
    units_piece_fixed(&piece, numeric_divide_half_up(rest * 10000, UNITS_TICK_PER_INCH), 4, false);
    units_piece_string(&piece, "\"");
    return piece;
}

struct base_text units_write_length_exact(struct base_arena *arena, enum units_system system,
                                          int64_t length_tick) {
    const struct units_style sixty_fourths = {.system = UNITS_FT_IN,
                                              .round_tick = UNITS_TICK_PER_64TH};
    const struct units_style tenths = {.system = UNITS_MM, .round_tick = UNITS_TICK_PER_MM / 10};
    bool is_64th = length_tick % sixty_fourths.round_tick == 0;
    bool is_tenth = length_tick % tenths.round_tick == 0;
    if (is_64th && (system == UNITS_FT_IN || !is_tenth)) {
        return units_write_length(arena, sixty_fourths, length_tick);
    }
    if (is_tenth) {
        return units_write_length(arena, tenths, length_tick);
    }
    struct units_piece piece = write_fine(length_tick);
    return copy_piece(arena, &piece);
}

/* ---- quantities for people ----------------------------------------------------------------- */

/* number x factor with so many decimals and the unit behind it */
struct form {
    double factor;
    int decimals;
    bool short_form;
    const char *unit;
};

static struct base_text write_form(struct base_arena *arena, double number, struct form form) {
    struct units_piece piece = {.length = 0};
    units_piece_decimal(&piece, number * form.factor, form.decimals, form.short_form);
    units_piece_string(&piece, form.unit);
    return copy_piece(arena, &piece);
}

static struct base_text write_forms(struct base_arena *arena, struct units_style style,
                                    double number, struct form ft_in, struct form mm) {
    return write_form(arena, number, style.system == UNITS_FT_IN ? ft_in : mm);
}

struct base_text units_write_area(struct base_arena *arena, struct units_style style,
                                  double area_m2) {
    return write_forms(arena, style, area_m2, (struct form){1.0 / M2_PER_FT2, 1, false, " sq ft"},
                       (struct form){1.0, 2, false, " m" SUPERSCRIPT_2});
}

struct base_text units_write_flow(struct base_arena *arena, struct units_style style,
                                  double flow_m3s) {
    return write_forms(arena, style, flow_m3s,
                       (struct form){60.0 / M3_PER_GALLON, 1, false, " gpm"},
                       (struct form){1000.0, 2, false, " l/s"});
}

/* Tenths below ten, whole ones above: it is water in a barrel. */
struct base_text units_write_volume(struct base_arena *arena, struct units_style style,
                                    double volume_m3) {
    double volume = style.system == UNITS_MM ? volume_m3 * 1000.0 : volume_m3 / M3_PER_GALLON;
    struct base_text parts[] = {units_write_decimal(arena, volume, volume < 9.95 ? 1 : 0),
                                base_text_of(style.system == UNITS_MM ? " l" : " gal")};
    return base_join(arena, 2, parts);
}

struct base_text units_write_rain(struct base_arena *arena, struct units_style style,
                                  double rain_mps) {
    return write_forms(arena, style, rain_mps, (struct form){3600.0 / M_PER_INCH, 2, true, " in/h"},
                       (struct form){3600000.0, 0, false, " mm/h"});
}

struct base_text units_write_mass(struct base_arena *arena, struct units_style style,
                                  double mass_kg) {
    return write_forms(arena, style, mass_kg, (struct form){1.0 / KG_PER_LB, 1, false, " lb"},
                       (struct form){1.0, 1, false, " kg"});
}

struct base_text units_write_temperature(struct base_arena *arena, struct units_style style,
                                         double temperature_c) {
    if (style.system == UNITS_FT_IN) {
        return write_form(arena, temperature_c * 9.0 / 5.0 + 32.0,
                          (struct form){1.0, 0, false, " " DEGREE_SIGN "F"});
    }
    return write_form(arena, temperature_c, (struct form){1.0, 0, false, " " DEGREE_SIGN "C"});
}

struct base_text units_write_pressure(struct base_arena *arena, struct units_style style,
                                      double pressure_pa) {
    return write_forms(arena, style, pressure_pa,
                       (struct form){M2_PER_FT2 / N_PER_LBF, 0, false, " psf"},
                       (struct form){0.001, 2, false, " kPa"});
}

struct base_text units_write_angle(struct base_arena *arena, double angle_rad) {
    return write_form(arena, angle_rad * 180.0 / PI, (struct form){1.0, 1, true, DEGREE_SIGN});
}

struct base_text units_write_pitch(struct base_arena *arena, struct units_style style,
                                   double pitch_1) {
    double twelfths = round(pitch_1 * 12.0);
    if (style.system == UNITS_FT_IN && fabs(pitch_1 * 12.0 - twelfths) <= 0.005) {
        return write_form(arena, twelfths, (struct form){1.0, 0, false, "/12"});
    }
    return write_form(arena, atan(pitch_1) * 180.0 / PI, (struct form){1.0, 1, false, DEGREE_SIGN});
}

/* 1 1/2 in per ft out of 64ths; never 0. */
static void add_sixty_fourths(struct units_piece *piece, int64_t sixty_fourths) {
    struct split split = {.denominator = 1};
    uint64_t size = magnitude(sixty_fourths);
    set_fraction(&split, size % 64);
    units_piece_string(&split.whole, sixty_fourths < 0 ? "-" : "");
    if (size >= 64) {
        units_piece_integer(&split.whole, size / 64);
    }
    split.tail = " in per ft";
    *piece = join_split(&split);
}

struct base_text units_write_slope(struct base_arena *arena, struct units_style style,
                                   double slope_1) {
    struct units_piece piece = {.length = 0};
    if (style.system == UNITS_MM) {
        double mm_a_m = slope_1 * 1000.0;
        if (fabs(mm_a_m) < 0.05) {
            return base_copy_text(arena, base_text_of("level"));
        }
        units_piece_decimal(&piece, mm_a_m, 1, false);
        units_piece_string(&piece, " mm/m");
        return copy_piece(arena, &piece);
    }
    double inches_a_foot = slope_1 * 12.0;
    if (fabs(inches_a_foot) < 0.0005) {
        return base_copy_text(arena, base_text_of("level"));
    }
    int64_t sixty_fourths = numeric_round_quantum(inches_a_foot * 64.0, 1.0);
    if (sixty_fourths != 0 && fabs(inches_a_foot - (double)sixty_fourths / 64.0) <= 1e-4) {
        add_sixty_fourths(&piece, sixty_fourths);
    } else {
        units_piece_decimal(&piece, inches_a_foot, 3, true);
        units_piece_string(&piece, " in per ft");
    }
    return copy_piece(arena, &piece);
}

struct base_text units_write_money(struct base_arena *arena, struct base_text currency,
                                   int64_t money_minor, int minor_digits) {
    struct units_piece piece = {.length = 0};
    units_piece_string(&piece, currency.length > 0 ? " " : "");
    units_piece_fixed(&piece, money_minor, minor_digits, true);
    const struct base_text parts[] = {currency, units_piece_text(&piece)};
    return base_join(arena, 2, parts);
}

/* ---- any value ----------------------------------------------------------------------------- */

/* Decimals of the quantum of a unit that is a double. */
static int quantum_decimals(enum base_unit unit) {
    switch (unit) {
    case BASE_UNIT_M:
    case BASE_UNIT_M2:
    case BASE_UNIT_RAD:
    case BASE_UNIT_RATIO:
    case BASE_UNIT_M3:
        return 6;
    case BASE_UNIT_M3S:
    case BASE_UNIT_SLOPE:
        return 9;
    case BASE_UNIT_MPS:
        return 12;
    case BASE_UNIT_KG:
    case BASE_UNIT_S:
        return 3;
    case BASE_UNIT_N:
    case BASE_UNIT_C:
        return 2;
    case BASE_UNIT_PA:
    case BASE_UNIT_NONE:
    case BASE_UNIT_TEXT:
    case BASE_UNIT_WORD:
    case BASE_UNIT_COUNT:
    case BASE_UNIT_TICK:
    case BASE_UNIT_MINOR:
        return 0;
    }
    return 0;
}

struct base_text units_write_quantum(struct base_arena *arena, struct base_value value) {
    struct units_piece piece = {.length = 0};
    switch (value.unit) {
    case BASE_UNIT_NONE:
    case BASE_UNIT_TEXT:
    case BASE_UNIT_WORD:
        return base_copy_text(arena, value.text);
    case BASE_UNIT_COUNT:
    case BASE_UNIT_MINOR:
        units_piece_fixed(&piece, value.integer, 0, false);
        break;
    case BASE_UNIT_TICK: /* 1 tick = 3125 nm exactly */
        assert(magnitude(value.integer) <= (uint64_t)INT64_MAX / 3125);
        units_piece_fixed(&piece, value.integer * 3125, 9, false);
        break;
    case BASE_UNIT_M:
    case BASE_UNIT_M2:
    case BASE_UNIT_M3:
    case BASE_UNIT_M3S:
    case BASE_UNIT_MPS:
    case BASE_UNIT_RAD:
    case BASE_UNIT_KG:
    case BASE_UNIT_N:
    case BASE_UNIT_PA:
    case BASE_UNIT_S:
    case BASE_UNIT_C:
    case BASE_UNIT_RATIO:
    case BASE_UNIT_SLOPE:
        units_piece_decimal(&piece, value.number, quantum_decimals(value.unit), false);
        break;
    }
    return copy_piece(arena, &piece);
}

static struct base_text write_speed(struct base_arena *arena, struct units_style style,
                                    double speed_mps) {
    if (fabs(speed_mps) <= UNITS_RAIN_MAX_MPS) {
        return units_write_rain(arena, style, speed_mps);
    }
    return write_forms(arena, style, speed_mps,
                       (struct form){1.0 / (12.0 * M_PER_INCH), 1, false, " ft/s"},
                       (struct form){1.0, 2, false, " m/s"});
}

/* Whole minutes as such: rain is said in them. */
static struct base_text write_time(struct base_arena *arena, double time_s) {
    double minutes = time_s / 60.0;
    bool whole = minutes >= 1.0 && fabs(minutes - floor(minutes + 0.5)) < 1e-9 * minutes;
    return whole ? write_form(arena, minutes, (struct form){1.0, 0, true, " min"})
                 : write_form(arena, time_s, (struct form){1.0, 1, true, " s"});
}

struct base_text units_write_value(struct base_arena *arena, struct units_style style,
                                   struct base_value value) {
    switch (value.unit) {
    case BASE_UNIT_NONE:
    case BASE_UNIT_TEXT:
    case BASE_UNIT_WORD:
    case BASE_UNIT_COUNT:
        return units_write_quantum(arena, value);
    case BASE_UNIT_TICK:
        return units_write_length(arena, style, value.integer);
    case BASE_UNIT_MINOR:
        return units_write_money(arena, (struct base_text){0}, value.integer, 2);
    case BASE_UNIT_M:
        return units_write_length(arena, style, units_tick_of_m(value.number));
    case BASE_UNIT_M2:
        return units_write_area(arena, style, value.number);
    case BASE_UNIT_M3:
        return units_write_volume(arena, style, value.number);
    case BASE_UNIT_M3S:
        return units_write_flow(arena, style, value.number);
    case BASE_UNIT_MPS:
        return write_speed(arena, style, value.number);
    case BASE_UNIT_RAD:
        return units_write_angle(arena, value.number);
    case BASE_UNIT_KG:
        return units_write_mass(arena, style, value.number);
    case BASE_UNIT_N:
        return write_forms(arena, style, value.number,
                           (struct form){1.0 / N_PER_LBF, 1, false, " lb"},
                           (struct form){1.0, 0, false, " N"});
    case BASE_UNIT_PA:
        return units_write_pressure(arena, style, value.number);
    case BASE_UNIT_S:
        return write_time(arena, value.number);
    case BASE_UNIT_C:
        return units_write_temperature(arena, style, value.number);
    case BASE_UNIT_RATIO:
        return units_write_decimal_short(arena, value.number, 3);
    case BASE_UNIT_SLOPE:
        return units_write_slope(arena, style, value.number);
    }
    return (struct base_text){0};
}
