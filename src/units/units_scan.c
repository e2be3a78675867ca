/* SPDX-License-Identifier: Apache-2.0 */
/* Tokens and mixed numbers: what every reader of this room is made of. */
#include "units/units_inside.h"

#include <assert.h>

/* ---- characters ---------------------------------------------------------------------------- */

/* Symbols that are one token each. Longer spellings stand before their beginnings. */
static const struct symbol_row {
    const char *bytes;
    enum units_token_kind kind;
    int numerator;
    int denominator;
} SYMBOLS[] = {
    {"''", UNITS_TOKEN_INCH_MARK, 0, 0},
    {"\xE2\x80\x99\xE2\x80\x99", UNITS_TOKEN_INCH_MARK, 0, 0}, /* U+2019 twice */
    {"\xE2\x80\xB2\xE2\x80\xB2", UNITS_TOKEN_INCH_MARK, 0, 0}, /* U+2032 twice */
    {"'", UNITS_TOKEN_FEET_MARK, 0, 0},
    {"\xE2\x80\x99", UNITS_TOKEN_FEET_MARK, 0, 0}, /* U+2019 */
    {"\xE2\x80\xB2", UNITS_TOKEN_FEET_MARK, 0, 0}, /* U+2032 */
    {"\"", UNITS_TOKEN_INCH_MARK, 0, 0},
    {"\xE2\x80\x9D", UNITS_TOKEN_INCH_MARK, 0, 0}, /* U+201D */
    {"\xE2\x80\xB3", UNITS_TOKEN_INCH_MARK, 0, 0}, /* U+2033 */
    {"+-", UNITS_TOKEN_PLUS_MINUS, 0, 0},
    {"+/-", UNITS_TOKEN_PLUS_MINUS, 0, 0},
    {"\xC2\xB1", UNITS_TOKEN_PLUS_MINUS, 0, 0}, /* U+00B1 */
    {"/", UNITS_TOKEN_SLASH, 0, 0},
    {"\xE2\x81\x84", UNITS_TOKEN_SLASH, 0, 0}, /* U+2044 */
    {":", UNITS_TOKEN_COLON, 0, 0},
    {"-", UNITS_TOKEN_DASH, 0, 0},
    {"\xE2\x80\x90", UNITS_TOKEN_DASH, 0, 0},   /* U+2010 */
    {"\xE2\x80\x91", UNITS_TOKEN_DASH, 0, 0},   /* U+2011 */
    {"\xE2\x80\x93", UNITS_TOKEN_DASH, 0, 0},   /* U+2013 */
    {"\xE2\x88\x92", UNITS_TOKEN_DASH, 0, 0},   /* U+2212 */
    {"\xC2\xBC", UNITS_TOKEN_VULGAR, 1, 4},     /* U+00BC */
    {"\xC2\xBD", UNITS_TOKEN_VULGAR, 1, 2},     /* U+00BD */
    {"\xC2\xBE", UNITS_TOKEN_VULGAR, 3, 4},     /* U+00BE */
    {"\xE2\x85\x9B", UNITS_TOKEN_VULGAR, 1, 8}, /* U+215B */
    {"\xE2\x85\x9C", UNITS_TOKEN_VULGAR, 3, 8}, /* U+215C */
    {"\xE2\x85\x9D", UNITS_TOKEN_VULGAR, 5, 8}, /* U+215D */
    {"\xE2\x85\x9E", UNITS_TOKEN_VULGAR, 7, 8}, /* U+215E */
};

static struct base_text rest_of(const struct units_scanner *scanner) {
    if (scanner->at >= scanner->text.length) {
        return (struct base_text){0};
    }
    return (struct base_text){scanner->text.bytes + scanner->at,
                              scanner->text.length - scanner->at};
}

static bool starts_with(struct base_text text, const char *c_string) {
    return text.length > 0 && base_text_starts(text, c_string);
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

static bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static char lower(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* Bytes of the blank at the beginning: space, tab, no-break space, narrow no-break space. */
static size_t blank_bytes(struct base_text text) {
    if (starts_with(text, " ") || starts_with(text, "\t")) {
        return 1;
    }
    if (starts_with(text, "\xC2\xA0")) {
        return 2;
    }
    return starts_with(text, "\xE2\x80\xAF") ? 3 : 0;
}

void units_skip_blanks(struct units_scanner *scanner) {
    size_t bytes;
    while ((bytes = blank_bytes(rest_of(scanner))) > 0) {
        scanner->at += bytes;
    }
}

/* ---- decimals ------------------------------------------------------------------------------ */

enum { DECIMALS_MAX = 22 }; /* 10^22 is the last power of ten that is an exact double */

static void add_digit(struct units_decimal *decimal, char digit, bool after_point) {
    const uint64_t full = UINT64_C(100000000000000000);
    if (decimal->mantissa < full && decimal->decimals < DECIMALS_MAX) {
        decimal->mantissa = decimal->mantissa * 10 + (uint64_t)(digit - '0');
        decimal->decimals += after_point ? 1 : 0;
    } else if (after_point) {
        decimal->too_fine = decimal->too_fine || digit != '0';
    } else {
        decimal->too_long = true;
    }
}

/* Digits with at most one point that has a digit behind it. Returns the bytes read; 0 = none. */
static size_t scan_decimal(struct base_text text, struct units_decimal *decimal) {
    *decimal = (struct units_decimal){0};
    size_t at = 0;
    while (at < text.length && is_digit(text.bytes[at])) {
        add_digit(decimal, text.bytes[at++], false);
    }
    if (at + 1 < text.length && text.bytes[at] == '.' && is_digit(text.bytes[at + 1])) {
        at++;
        while (at < text.length && is_digit(text.bytes[at])) {
            add_digit(decimal, text.bytes[at++], true);
        }
    }
    while (decimal->decimals > 0 && decimal->mantissa % 10 == 0) {
        decimal->mantissa /= 10;
        decimal->decimals--;
    }
    return at;
}

double units_double_of_decimal(struct units_decimal decimal) {
    static const double POWERS[DECIMALS_MAX + 1] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                    1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                                    1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    assert(decimal.decimals >= 0 && decimal.decimals <= DECIMALS_MAX);
    return (double)decimal.mantissa / POWERS[decimal.decimals];
}

/* ---- tokens -------------------------------------------------------------------------------- */

static bool scan_symbol(struct base_text rest, struct units_token *token) {
    for (size_t i = 0; i < sizeof SYMBOLS / sizeof SYMBOLS[0]; i++) {
        if (starts_with(rest, SYMBOLS[i].bytes)) {
            token->kind = SYMBOLS[i].kind;
            token->numerator = SYMBOLS[i].numerator;
            token->denominator = SYMBOLS[i].denominator;
            token->to = token->from + base_text_of(SYMBOLS[i].bytes).length;
            return true;
        }
    }
    return false;
}

static size_t scan_word(struct base_text rest) {
    size_t at = 0;
    while (at < rest.length && is_letter(rest.bytes[at])) {
        at++;
    }
    return at > 0 && at < rest.length && rest.bytes[at] == '.' ? at + 1 : at;
}

struct units_token units_next_token(struct units_scanner *scanner) {
    units_skip_blanks(scanner);
    struct base_text rest = rest_of(scanner);
    struct units_token token = {.from = scanner->at, .to = scanner->at};
    if (rest.length == 0) {
        return token;
    }
    size_t bytes = scan_decimal(rest, &token.decimal);
    if (bytes > 0) {
        token.kind = UNITS_TOKEN_NUMBER;
        token.to += bytes;
    } else if ((bytes = scan_word(rest)) > 0) {
        token.kind = UNITS_TOKEN_WORD;
        token.to += bytes;
    } else if (!scan_symbol(rest, &token)) {
        token.kind = UNITS_TOKEN_OTHER;
        token.to += 1;
    }
    scanner->at = token.to;
    return token;
}

struct units_token units_peek_token(const struct units_scanner *scanner) {
    struct units_scanner ahead = *scanner;
    return units_next_token(&ahead);
}

bool units_word_is(struct base_text text, struct units_token token, const char *word) {
    if (token.kind != UNITS_TOKEN_WORD) {
        return false;
    }
    size_t length = token.to - token.from;
    if (text.bytes[token.to - 1] == '.') {
        length--;
    }
    struct base_text wanted = base_text_of(word);
    if (length != wanted.length) {
        return false;
    }
    for (size_t i = 0; i < length; i++) {
        if (lower(text.bytes[token.from + i]) != wanted.bytes[i]) {
            return false;
        }
    }
    return true;
}

/* ---- mixed numbers ------------------------------------------------------------------------- */

static void fail_mixed(struct units_mixed *mixed, enum units_fault fault, size_t at) {
    if (mixed->fault == UNITS_FINE) {
        mixed->fault = fault;
        mixed->fault_at = at;
    }
}

/* Beyond this no fraction can be a whole number of ticks, and int64 products stay safe. */
static const uint64_t FRACTION_MAX = 1000000;

static bool is_fraction_part(struct units_token token) {
    return token.kind == UNITS_TOKEN_NUMBER && token.decimal.decimals == 0 &&
           !token.decimal.too_fine && !token.decimal.too_long &&
           token.decimal.mantissa <= FRACTION_MAX;
}

/* N/D with N given. A fraction below one only: 17/16 is far more often a lost blank (1 7/16). */
static void take_slashed(struct units_scanner *scanner, struct units_token numerator,
                         struct units_mixed *mixed) {
    units_next_token(scanner); /* the slash */
    struct units_token denominator = units_next_token(scanner);
    mixed->has_fraction = true;
    if (!is_fraction_part(numerator) || !is_fraction_part(denominator) ||
        denominator.decimal.mantissa == 0 ||
        numerator.decimal.mantissa >= denominator.decimal.mantissa) {
        fail_mixed(mixed, UNITS_BAD_FRACTION, numerator.from);
        return;
    }
    mixed->numerator = (int64_t)numerator.decimal.mantissa;
    mixed->denominator = (int64_t)denominator.decimal.mantissa;
}

/* The fraction behind a whole number, with or without a dash before it; else nothing is taken. */
static void take_fraction(struct units_scanner *scanner, struct units_mixed *mixed) {
    struct units_scanner ahead = *scanner;
    struct units_token token = units_next_token(&ahead);
    if (token.kind == UNITS_TOKEN_DASH) {
        token = units_next_token(&ahead);
    }
    if (token.kind == UNITS_TOKEN_VULGAR) {
        mixed->has_fraction = true;
        mixed->numerator = token.numerator;
        mixed->denominator = token.denominator;
        *scanner = ahead;
    } else if (token.kind == UNITS_TOKEN_NUMBER &&
               units_peek_token(&ahead).kind == UNITS_TOKEN_SLASH) {
        take_slashed(&ahead, token, mixed);
        *scanner = ahead;
    }
    if (mixed->has_fraction && (mixed->whole.decimals > 0 || mixed->whole.too_fine)) {
        fail_mixed(mixed, UNITS_BAD_FRACTION, token.from); /* 4.5 1/2 */
    }
}

static enum units_fault fault_of_opening(struct units_token token) {
    if (token.kind == UNITS_TOKEN_END) {
        return UNITS_EMPTY;
    }
    return token.kind == UNITS_TOKEN_DASH ? UNITS_NEGATIVE : UNITS_NOT_A_NUMBER;
}

struct units_mixed units_read_mixed(struct units_scanner *scanner, bool lone_fraction) {
    struct units_token token = units_next_token(scanner);
    struct units_mixed mixed = {.from = token.from, .denominator = 1};
    if (token.kind == UNITS_TOKEN_VULGAR && lone_fraction) {
        mixed.has_fraction = true;
        mixed.numerator = token.numerator;
        mixed.denominator = token.denominator;
    } else if (token.kind != UNITS_TOKEN_NUMBER) {
        fail_mixed(&mixed, fault_of_opening(token), token.from);
    } else if (lone_fraction && units_peek_token(scanner).kind == UNITS_TOKEN_SLASH) {
        take_slashed(scanner, token, &mixed);
    } else {
        mixed.has_whole = true;
        mixed.whole = token.decimal;
        take_fraction(scanner, &mixed);
    }
    return mixed;
}

double units_double_of_mixed(struct units_mixed mixed) {
    return units_double_of_decimal(mixed.whole) +
           (double)mixed.numerator / (double)mixed.denominator;
}

bool units_mixed_is_zero(struct units_mixed mixed) {
    return mixed.whole.mantissa == 0 && !mixed.whole.too_fine && mixed.numerator == 0;
}

/* ---- unit names ---------------------------------------------------------------------------- */

static bool blank_may_stand(const char *name, size_t at) {
    return name[at] == '/' || (at > 0 && (name[at - 1] == '/' || name[at - 1] == ' '));
}

/* Bytes of text that spell the name, 0 when they do not. */
static size_t match_name(struct base_text text, const char *name) {
    struct units_scanner scanner = {text, 0};
    for (size_t i = 0; name[i] != '\0'; i++) {
        if (name[i] == ' ') {
            size_t before = scanner.at;
            units_skip_blanks(&scanner);
            if (scanner.at == before) {
                return 0;
            }
            continue;
        }
        if (blank_may_stand(name, i)) {
            units_skip_blanks(&scanner);
        }
        if (scanner.at >= text.length || lower(text.bytes[scanner.at]) != name[i]) {
            return 0;
        }
        scanner.at++;
    }
    if (scanner.at < text.length &&
        (is_letter(text.bytes[scanner.at]) || is_digit(text.bytes[scanner.at]))) {
        return 0; /* in the middle of a longer word */
    }
    return scanner.at;
}

static struct units_reading fail_reading(enum units_fault fault, size_t at) {
    return (struct units_reading){.fault = fault, .fault_at = at};
}

static enum units_fault fault_of_rest(struct base_text rest) {
    if (rest.bytes[0] == ',') {
        return UNITS_NOT_A_NUMBER; /* 1,234 or 8,65: neither is read as a number here */
    }
    return is_digit(rest.bytes[0]) || rest.bytes[0] == '.' ? UNITS_TRAILING : UNITS_UNKNOWN_UNIT;
}

struct units_reading units_finish_reading(const struct units_scanner *scanner, double written,
                                          const struct units_name *names, struct units_name bare) {
    struct units_scanner ahead = *scanner;
    units_skip_blanks(&ahead);
    struct base_text rest = rest_of(&ahead);
    if (rest.length == 0) {
        if (bare.over == 0.0 && written != 0.0) {
            return fail_reading(UNITS_BARE_NUMBER, 0);
        }
        double value = bare.over == 0.0 ? 0.0 : (written + bare.before) * bare.times / bare.over;
        return (struct units_reading){.value = value};
    }
    size_t longest = 0;
    double value = 0.0;
    for (size_t i = 0; names[i].name != NULL; i++) {
        size_t bytes = match_name(rest, names[i].name);
        if (bytes > longest) {
            longest = bytes;
            value = (written + names[i].before) * names[i].times / names[i].over;
        }
    }
    if (longest == 0) {
        return fail_reading(fault_of_rest(rest), ahead.at);
    }
    ahead.at += longest;
    units_skip_blanks(&ahead);
    if (ahead.at < ahead.text.length) {
        return fail_reading(UNITS_TRAILING, ahead.at);
    }
    return (struct units_reading){.value = value};
}
