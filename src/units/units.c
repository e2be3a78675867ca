/* SPDX-License-Identifier: Apache-2.0 */
/* Readers of everything that is not a length. */
#include "units/units_inside.h"

#include <assert.h>
#include <math.h>

/* Exact by definition: the inch, the avoirdupois pound, the foot, standard gravity (1959, CGPM). */
#define M_PER_INCH 0.0254
#define M2_PER_FT2 0.09290304
#define KG_PER_OZ  0.028349523125
#define N_PER_LBF  4.4482216152605
#define PI         3.14159265358979323846

static const struct units_name BARE_REFUSED = {NULL, 0.0, 0.0, 0.0};
static const struct units_name BARE_PLAIN = {NULL, 0.0, 1.0, 1.0};
static const struct units_name NO_NAMES[] = {{NULL, 0.0, 0.0, 0.0}};

static struct units_reading fail(enum units_fault fault, size_t at) {
    return (struct units_reading){.fault = fault, .fault_at = at};
}

/* The value must lie in 0 .. largest (the sign is refused earlier where it is). */
static struct units_reading limit(struct units_reading reading, double largest) {
    if (reading.fault == UNITS_FINE && !(fabs(reading.value) <= largest)) {
        return fail(UNITS_TOO_LARGE, 0);
    }
    return reading;
}

/* ---- plain numbers with a unit ------------------------------------------------------------- */

/* A decimal; with signed_too a minus may stand before it. */
static struct units_reading read_decimal(struct units_scanner *scanner, bool signed_too) {
    struct units_token token = units_next_token(scanner);
    double sign = 1.0;
    if (token.kind == UNITS_TOKEN_DASH && signed_too) {
        sign = -1.0;
        token = units_next_token(scanner);
        if (token.kind == UNITS_TOKEN_END) {
            return fail(UNITS_NOT_A_NUMBER, token.from);
        }
    }
    if (token.kind == UNITS_TOKEN_END) {
        return fail(UNITS_EMPTY, token.from);
    }
    if (token.kind == UNITS_TOKEN_DASH) {
        return fail(UNITS_NEGATIVE, token.from);
    }
    if (token.kind != UNITS_TOKEN_NUMBER) {
        return fail(UNITS_NOT_A_NUMBER, token.from);
    }
    if (token.decimal.too_long) {
        return fail(UNITS_TOO_LARGE, token.from);
    }
    return (struct units_reading){.value = sign * units_double_of_decimal(token.decimal)};
}

static struct units_reading read_named(struct base_text text, const struct units_name *names,
                                       struct units_name bare, double largest) {
    struct units_scanner scanner = {text, 0};
    struct units_reading reading = read_decimal(&scanner, false);
    if (reading.fault != UNITS_FINE) {
        return reading;
    }
    return limit(units_finish_reading(&scanner, reading.value, names, bare), largest);
}

struct units_reading units_read_angle(struct base_text text) {
    static const struct units_name NAMES[] = {{"deg", 0, PI, 180},     {"degree", 0, PI, 180},
                                              {"degrees", 0, PI, 180}, {"\xC2\xB0", 0, PI, 180},
                                              {"rad", 0, 1, 1},        {NULL, 0, 0, 0}};
    return read_named(text, NAMES, NAMES[0], 2.0 * PI * (1.0 + 1e-12));
}

struct units_reading units_read_rain(struct base_text text) {
    static const struct units_name NAMES[] = {{"in/h", 0, M_PER_INCH, 3600},
                                              {"in/hr", 0, M_PER_INCH, 3600},
                                              {"in/hour", 0, M_PER_INCH, 3600},
                                              {"in per h", 0, M_PER_INCH, 3600},
                                              {"in per hour", 0, M_PER_INCH, 3600},
                                              {"mm/h", 0, 1, 3600000},
                                              {"mm/hr", 0, 1, 3600000},
                                              {"mm/hour", 0, 1, 3600000},
                                              {"mm per h", 0, 1, 3600000},
                                              {"mm per hour", 0, 1, 3600000},
                                              {"l/s/m2", 0, 1, 1000},
                                              {"l/s/m\xC2\xB2", 0, 1, 1000},
                                              {NULL, 0, 0, 0}};
    return read_named(text, NAMES, BARE_REFUSED, UNITS_RAIN_MAX_MPS);
}

struct units_reading units_read_temperature(struct base_text text) {
    static const struct units_name NAMES[] = {{"f", -32, 5, 9},
                                              {"deg f", -32, 5, 9},
                                              {"\xC2\xB0"
                                               "f",
                                               -32, 5, 9},
                                              {"\xC2\xB0 f", -32, 5, 9},
                                              {"c", 0, 1, 1},
                                              {"deg c", 0, 1, 1},
                                              {"\xC2\xB0"
                                               "c",
                                               0, 1, 1},
                                              {"\xC2\xB0 c", 0, 1, 1},
                                              {NULL, 0, 0, 0}};
    struct units_scanner scanner = {text, 0};
    struct units_reading reading = read_decimal(&scanner, true);
    if (reading.fault != UNITS_FINE) {
        return reading;
    }
    units_skip_blanks(&scanner);
    if (scanner.at == text.length) {
        return fail(UNITS_BARE_NUMBER, 0); /* here even 0 has two readings */
    }
    reading = units_finish_reading(&scanner, reading.value, NAMES, BARE_REFUSED);
    return limit(reading, 200.0);
}

struct units_reading units_read_pressure(struct base_text text) {
    static const struct units_name NAMES[] = {{"psf", 0, N_PER_LBF, M2_PER_FT2},
                                              {"lb/ft2", 0, N_PER_LBF, M2_PER_FT2},
                                              {"lb/sq ft", 0, N_PER_LBF, M2_PER_FT2},
                                              {"kpa", 0, 1000, 1},
                                              {"pa", 0, 1, 1},
                                              {NULL, 0, 0, 0}};
    return read_named(text, NAMES, BARE_REFUSED, 1e6);
}

struct units_reading units_read_ratio(struct base_text text) {
    static const struct units_name NAMES[] = {
        {"%", 0, 1, 100}, {"percent", 0, 1, 100}, {NULL, 0, 0, 0}};
    return read_named(text, NAMES, BARE_PLAIN, 1e9);
}

struct units_reading units_read_number(struct base_text text) {
    return read_named(text, NO_NAMES, BARE_PLAIN, 1e15);
}

struct units_reading units_read_sheet_weight(struct base_text text) {
    static const struct units_name NAMES[] = {{"oz", 0, KG_PER_OZ, M2_PER_FT2},
                                              {"oz/ft2", 0, KG_PER_OZ, M2_PER_FT2},
                                              {"oz/sq ft", 0, KG_PER_OZ, M2_PER_FT2},
                                              {"ounce", 0, KG_PER_OZ, M2_PER_FT2},
                                              {"ounces", 0, KG_PER_OZ, M2_PER_FT2},
                                              {"kg/m2", 0, 1, 1},
                                              {"kg/m\xC2\xB2", 0, 1, 1},
                                              {NULL, 0, 0, 0}};
    return read_named(text, NAMES, BARE_REFUSED, 1000.0);
}

/* ---- pitch and slope ----------------------------------------------------------------------- */

static struct units_reading fail_mixed(struct units_mixed mixed) {
    return fail(mixed.fault, mixed.fault_at);
}

/* The second number of 9/12, 9 in 12, 1:192 and the end of the text. */
static struct units_reading read_divisor(struct units_scanner *scanner, double dividend) {
    struct units_token token = units_next_token(scanner);
    if (token.kind != UNITS_TOKEN_NUMBER) {
        return fail(UNITS_NOT_A_NUMBER, token.from);
    }
    double divisor = units_double_of_decimal(token.decimal);
    if (!(divisor > 0.0)) {
        return fail(UNITS_BAD_FRACTION, token.from);
    }
    token = units_next_token(scanner);
    if (token.kind == UNITS_TOKEN_INCH_MARK) {
        token = units_next_token(scanner);
    }
    if (token.kind != UNITS_TOKEN_END) {
        return fail(UNITS_TRAILING, token.from);
    }
    return (struct units_reading){.value = dividend / divisor};
}

struct units_reading units_read_pitch(struct base_text text) {
    static const struct units_name DEGREES[] = {{"deg", 0, PI, 180},
                                                {"degree", 0, PI, 180},
                                                {"degrees", 0, PI, 180},
                                                {"\xC2\xB0", 0, PI, 180},
                                                {NULL, 0, 0, 0}};
    static const struct units_name PERCENT[] = {
        {"%", 0, 1, 100}, {"percent", 0, 1, 100}, {NULL, 0, 0, 0}};
    struct units_scanner scanner = {text, 0};
    struct units_mixed mixed = units_read_mixed(&scanner, false);
    if (mixed.fault != UNITS_FINE) {
        return fail_mixed(mixed);
    }
    double written = units_double_of_mixed(mixed);
    struct units_scanner ahead = scanner;
    struct units_token token = units_next_token(&ahead);
    if (token.kind == UNITS_TOKEN_INCH_MARK) {
        token = units_next_token(&ahead);
    }
    if (token.kind == UNITS_TOKEN_SLASH || token.kind == UNITS_TOKEN_COLON ||
        units_word_is(text, token, "in") || units_word_is(text, token, "on")) {
        return limit(read_divisor(&ahead, written), UNITS_PITCH_MAX_1);
    }
    struct units_reading reading = units_finish_reading(&scanner, written, DEGREES, BARE_REFUSED);
    if (reading.fault == UNITS_FINE) {
        reading.value = reading.value < PI / 2 ? tan(reading.value) : HUGE_VAL;
    } else if (reading.fault == UNITS_UNKNOWN_UNIT) {
        reading = units_finish_reading(&scanner, written, PERCENT, BARE_REFUSED);
    }
    return limit(reading, UNITS_PITCH_MAX_1);
}

struct units_reading units_read_slope(struct base_text text) {
    static const struct units_name NAMES[] = {
        {"in/ft", 0, 1, 12},       {"in/foot", 0, 1, 12},     {"in per ft", 0, 1, 12},
        {"in per foot", 0, 1, 12}, {"\"/ft", 0, 1, 12},       {"\"/foot", 0, 1, 12},
        {"\" per ft", 0, 1, 12},   {"\" per foot", 0, 1, 12}, {"\"/'", 0, 1, 12},
        {"mm/m", 0, 1, 1000},      {"mm per m", 0, 1, 1000},  {"cm/m", 0, 1, 100},
        {"%", 0, 1, 100},          {"percent", 0, 1, 100},    {NULL, 0, 0, 0}};
    struct units_scanner scanner = {text, 0};
    struct units_token first = units_peek_token(&scanner);
    if (units_word_is(text, first, "level")) {
        units_next_token(&scanner);
        struct units_token after = units_next_token(&scanner);
        return after.kind == UNITS_TOKEN_END ? (struct units_reading){.value = 0.0}
                                             : fail(UNITS_TRAILING, after.from);
    }
    struct units_mixed mixed = units_read_mixed(&scanner, true);
    if (mixed.fault != UNITS_FINE) {
        return fail_mixed(mixed);
    }
    double written = units_double_of_mixed(mixed);
    struct units_scanner ahead = scanner;
    if (units_next_token(&ahead).kind == UNITS_TOKEN_COLON) {
        return limit(read_divisor(&ahead, written), 1.0);
    }
    bool is_ratio = mixed.has_fraction && !mixed.has_whole; /* 1/192 */
    struct units_reading reading =
        units_finish_reading(&scanner, written, NAMES, is_ratio ? BARE_PLAIN : BARE_REFUSED);
    return limit(reading, 1.0);
}

/* ---- whole numbers and money --------------------------------------------------------------- */

static const int64_t INTEGER_MAX = INT64_C(1000000000000000);

static struct units_integer_reading fail_integer(enum units_fault fault, size_t at) {
    return (struct units_integer_reading){.fault = fault, .fault_at = at};
}

/* A decimal with at most digits decimals, times 10^digits. */
static struct units_integer_reading read_integer(struct base_text text, int digits) {
    struct units_scanner scanner = {text, 0};
    struct units_token token = units_peek_token(&scanner);
    struct units_reading reading = read_decimal(&scanner, false);
    if (reading.fault == UNITS_FINE) {
        reading = units_finish_reading(&scanner, reading.value, NO_NAMES, BARE_PLAIN);
    }
    if (reading.fault == UNITS_UNKNOWN_UNIT) {
        reading.fault = UNITS_TRAILING; /* there is no unit that would be right */
    }
    if (reading.fault != UNITS_FINE) {
        return fail_integer(reading.fault, reading.fault_at);
    }
    if (token.decimal.too_fine || token.decimal.decimals > digits) {
        return fail_integer(UNITS_TOO_FINE, token.from);
    }
    int64_t value = (int64_t)token.decimal.mantissa; /* below 10^18 */
    for (int i = token.decimal.decimals; i < digits && value <= INTEGER_MAX; i++) {
        value *= 10;
    }
    if (value > INTEGER_MAX) {
        return fail_integer(UNITS_TOO_LARGE, token.from);
    }
    return (struct units_integer_reading){.value = value};
}

struct units_integer_reading units_read_count(struct base_text text) {
    return read_integer(text, 0);
}

struct units_integer_reading units_read_money(struct base_text text, int minor_digits) {
    assert(minor_digits >= 0 && minor_digits <= 4);
    return read_integer(text, minor_digits);
}
