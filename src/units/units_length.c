/* SPDX-License-Identifier: Apache-2.0 */
/* A length the way a tape is read, and back again without loss. */
#include "units/units_inside.h"

#include "numeric/numeric.h"

#include <assert.h>

double units_m_of_tick(int64_t length_tick) {
    return (double)length_tick / (double)UNITS_TICK_PER_M;
}

int64_t units_tick_of_m(double length_m) {
    return numeric_round_quantum(length_m * (double)UNITS_TICK_PER_M, 1.0);
}

/* ---- one component: a mixed number and its unit ------------------------------------------- */

enum length_unit { UNIT_NONE = 0, UNIT_FEET, UNIT_INCHES, UNIT_MM, UNIT_CM, UNIT_M };

static enum length_unit unit_of_token(struct base_text text, struct units_token token) {
    static const struct {
        const char *word;
        enum length_unit unit;
    } WORDS[] = {
        {"ft", UNIT_FEET},
        {"foot", UNIT_FEET},
        {"feet", UNIT_FEET},
        {"in", UNIT_INCHES},
        {"inch", UNIT_INCHES},
        {"inches", UNIT_INCHES},
        {"mm", UNIT_MM},
        {"millimetre", UNIT_MM},
        {"millimetres", UNIT_MM},
        {"millimeter", UNIT_MM},
        {"millimeters", UNIT_MM},
        {"cm", UNIT_CM},
        {"centimetre", UNIT_CM},
        {"centimetres", UNIT_CM},
        {"centimeter", UNIT_CM},
        {"centimeters", UNIT_CM},
        {"m", UNIT_M},
        {"metre", UNIT_M},
        {"metres", UNIT_M},
        {"meter", UNIT_M},
        {"meters", UNIT_M},
    };
    if (token.kind == UNITS_TOKEN_FEET_MARK) {
        return UNIT_FEET;
    }
    if (token.kind == UNITS_TOKEN_INCH_MARK) {
        return UNIT_INCHES;
    }
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
        if (units_word_is(text, token, WORDS[i].word)) {
            return WORDS[i].unit;
        }
    }
    return UNIT_NONE;
}

/* A sum of components while it is read; the first fault stays. */
struct length {
    enum units_fault fault;
    size_t fault_at;
    int64_t tick;
    int64_t as_feet_tick;
    int64_t as_inches_tick;
};

static void fail_length(struct length *length, enum units_fault fault, size_t at) {
    if (length->fault == UNITS_FINE) {
        length->fault = fault;
        length->fault_at = at;
        length->tick = 0;
    }
}

static int64_t power_of_ten(int exponent) {
    int64_t power = 1;
    for (int i = 0; i < exponent; i++) {
        power *= 10;
    }
    return power;
}

/* Above this a number of any length unit is longer than UNITS_TICK_MAX; products stay in int64. */
static const uint64_t MANTISSA_MAX = UINT64_C(100000000000);

/* Ticks of the whole part at unit_tick a unit, to the nearest tick. */
static int64_t tick_of_decimal(struct length *length, struct units_mixed mixed, int64_t unit_tick,
                               int decimals_max) {
    if (mixed.whole.too_long) {
        fail_length(length, UNITS_TOO_LARGE, mixed.from);
        return 0;
    }
    if (mixed.whole.too_fine || mixed.whole.decimals > decimals_max) {
        fail_length(length, UNITS_TOO_FINE, mixed.from);
        return 0;
    }
    if (mixed.whole.mantissa > MANTISSA_MAX) {
        fail_length(length, UNITS_TOO_LARGE, mixed.from);
        return 0;
    }
    return numeric_divide_half_up((int64_t)mixed.whole.mantissa * unit_tick,
                                  power_of_ten(mixed.whole.decimals));
}

enum { TAPE_DECIMALS_MAX = 4 };

static void add_tape(struct length *length, struct units_mixed mixed, int64_t unit_tick) {
    int64_t tick = tick_of_decimal(length, mixed, unit_tick, TAPE_DECIMALS_MAX);
    int64_t part = mixed.numerator * unit_tick;
    if (part % mixed.denominator != 0) {
        fail_length(length, UNITS_TOO_FINE, mixed.from); /* 1/3 in, 1/128 in */
    }
    if (length->fault == UNITS_FINE) {
        length->tick += tick + part / mixed.denominator;
    }
}

/* decimals_max keeps metric to 0.1 mm. */
static void add_metric(struct length *length, struct units_mixed mixed, int64_t unit_tick,
                       int decimals_max) {
    if (mixed.has_fraction) {
        fail_length(length, UNITS_BAD_FRACTION, mixed.from);
    }
    int64_t tick = tick_of_decimal(length, mixed, unit_tick, decimals_max);
    if (length->fault == UNITS_FINE) {
        length->tick += tick;
    }
}

/* ---- a whole quantity ---------------------------------------------------------------------- */

/* What stands where a unit, or the end, should be. */
static void fail_at_token(struct length *length, struct base_text text, struct units_token token) {
    if (token.kind == UNITS_TOKEN_WORD) {
        fail_length(length, UNITS_UNKNOWN_UNIT, token.from);
    } else if (token.kind == UNITS_TOKEN_OTHER && text.bytes[token.from] == ',') {
        fail_length(length, UNITS_NOT_A_NUMBER, token.from);
    } else {
        fail_length(length, UNITS_TRAILING, token.from);
    }
}

static bool ends_quantity(struct base_text text, struct units_token token) {
    return token.kind == UNITS_TOKEN_END || token.kind == UNITS_TOKEN_PLUS_MINUS ||
           units_word_is(text, token, "guess");
}

static bool is_plain_whole(struct units_mixed mixed) {
    return mixed.has_whole && !mixed.has_fraction && mixed.whole.decimals == 0 &&
           !mixed.whole.too_fine;
}

/* Inches behind feet: below 12, the mark may be left off. Returns true when a mark stood there. */
static bool add_inches(struct units_scanner *scanner, struct length *length) {
    struct units_mixed mixed = units_read_mixed(scanner, true);
    if (mixed.fault != UNITS_FINE) {
        fail_length(length, mixed.fault, mixed.fault_at);
        return false;
    }
    struct length inches = {0};
    add_tape(&inches, mixed, UNITS_TICK_PER_INCH);
    if (inches.fault != UNITS_FINE) {
        fail_length(length, inches.fault, inches.fault_at);
        return false;
    }
    if (inches.tick >= UNITS_TICK_PER_FOOT) {
        fail_length(length, UNITS_BAD_FRACTION, mixed.from);
        return false;
    }
    length->tick += inches.tick;
    struct units_token token = units_peek_token(scanner);
    if (unit_of_token(scanner->text, token) == UNIT_INCHES) {
        units_next_token(scanner);
        return true;
    }
    if (!ends_quantity(scanner->text, token)) {
        fail_at_token(length, scanner->text, token);
    }
    return false;
}

static void add_behind_feet(struct units_scanner *scanner, struct length *length,
                            struct units_mixed feet) {
    struct units_scanner ahead = *scanner;
    struct units_token token = units_next_token(&ahead);
    struct units_token number = token;
    if (token.kind == UNITS_TOKEN_DASH) {
        number = units_next_token(&ahead);
    }
    if (number.kind != UNITS_TOKEN_NUMBER && number.kind != UNITS_TOKEN_VULGAR) {
        return; /* the caller sees what stands there */
    }
    if (!is_plain_whole(feet)) {
        fail_length(length, UNITS_BAD_FRACTION, number.from); /* 12.5' 3" */
        return;
    }
    scanner->at = number.from;
    add_inches(scanner, length);
}

/* 28-4-1/2: feet, dash, inches. Without an inch mark only a feet-inch job may say it. */
static void add_dashed(struct units_scanner *scanner, struct length *length,
                       struct units_mixed feet, enum units_system system) {
    struct units_token dash = units_next_token(scanner);
    if (!is_plain_whole(feet)) {
        fail_length(length, UNITS_TRAILING, dash.from);
        return;
    }
    add_tape(length, feet, UNITS_TICK_PER_FOOT);
    bool marked = add_inches(scanner, length);
    if (!marked && system != UNITS_FT_IN) {
        fail_length(length, UNITS_TRAILING, dash.from);
    }
}

static void add_bare(struct length *length, struct units_mixed mixed, enum units_system system) {
    if (system == UNITS_MM) {
        add_metric(length, mixed, UNITS_TICK_PER_MM, 1);
        return;
    }
    if (units_mixed_is_zero(mixed)) {
        return;
    }
    struct length feet = {0};
    struct length inches = {0};
    add_tape(&feet, mixed, UNITS_TICK_PER_FOOT);
    add_tape(&inches, mixed, UNITS_TICK_PER_INCH);
    if (inches.fault != UNITS_FINE) { /* what is wrong as inches is wrong as feet */
        fail_length(length, inches.fault, inches.fault_at);
        return;
    }
    if (inches.tick > UNITS_TICK_MAX) {
        fail_length(length, UNITS_TOO_LARGE, mixed.from);
        return;
    }
    length->as_feet_tick = feet.tick;
    length->as_inches_tick = inches.tick;
    fail_length(length, UNITS_BARE_NUMBER, mixed.from);
}

static void add_first(struct units_scanner *scanner, struct length *length,
                      struct units_mixed mixed, enum units_system system) {
    struct units_token token = units_peek_token(scanner);
    if (token.kind == UNITS_TOKEN_DASH) {
        add_dashed(scanner, length, mixed, system);
        return;
    }
    enum length_unit unit = unit_of_token(scanner->text, token);
    if (unit != UNIT_NONE) {
        units_next_token(scanner);
    }
    switch (unit) {
    case UNIT_NONE:
        if (ends_quantity(scanner->text, token)) {
            add_bare(length, mixed, system);
        } else {
            fail_at_token(length, scanner->text, token);
        }
        break;
    case UNIT_FEET:
        add_tape(length, mixed, UNITS_TICK_PER_FOOT);
        add_behind_feet(scanner, length, mixed);
        break;
    case UNIT_INCHES:
        add_tape(length, mixed, UNITS_TICK_PER_INCH);
        break;
    case UNIT_MM:
        add_metric(length, mixed, UNITS_TICK_PER_MM, 1);
        break;
    case UNIT_CM:
        add_metric(length, mixed, UNITS_TICK_PER_MM * 10, 2);
        break;
    case UNIT_M:
        add_metric(length, mixed, UNITS_TICK_PER_M, 4);
        break;
    }
}

static struct length read_quantity(struct units_scanner *scanner, enum units_system system) {
    struct length length = {0};
    struct units_mixed mixed = units_read_mixed(scanner, true);
    if (mixed.fault != UNITS_FINE) {
        fail_length(&length, mixed.fault, mixed.fault_at);
        return length;
    }
    add_first(scanner, &length, mixed, system);
    if (length.tick > UNITS_TICK_MAX) {
        fail_length(&length, UNITS_TOO_LARGE, mixed.from);
    }
    return length;
}

struct units_length_reading units_read_length(struct base_text text, enum units_system system) {
    struct units_scanner scanner = {text, 0};
    struct length length = read_quantity(&scanner, system);
    struct units_length_reading reading = {.length_tick = length.tick};
    struct units_token token = units_peek_token(&scanner);
    if (length.fault == UNITS_FINE && token.kind == UNITS_TOKEN_PLUS_MINUS) {
        units_next_token(&scanner);
        length = read_quantity(&scanner, system);
        if (length.fault == UNITS_EMPTY) {
            length.fault = UNITS_NOT_A_NUMBER; /* "+-" and nothing behind it */
        }
        reading.has_doubt = true;
        reading.doubt_tick = length.tick;
    } else if (units_word_is(text, token, "guess")) {
        units_next_token(&scanner);
        reading.is_guess = true;
    }
    token = units_peek_token(&scanner);
    if (length.fault == UNITS_FINE && token.kind != UNITS_TOKEN_END) {
        fail_at_token(&length, text, token);
        length.fault = length.fault == UNITS_UNKNOWN_UNIT ? UNITS_TRAILING : length.fault;
    }
    if (length.fault != UNITS_FINE) { /* half a reading is no reading */
        reading = (struct units_length_reading){.fault = length.fault};
    }
    reading.fault_at = length.fault_at;
    reading.as_feet_tick = length.as_feet_tick;
    reading.as_inches_tick = length.as_inches_tick;
    return reading;
}
