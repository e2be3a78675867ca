/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Inside units: the tokens a written quantity is made of, mixed numbers, unit names, and the small
 * buffer the writers fill. Included by this room and its test only.
 */
#ifndef EAVESMITH_UNITS_INSIDE_H
#define EAVESMITH_UNITS_INSIDE_H

#include "units/units.h"

/* ---- tokens -------------------------------------------------------------------------------- */

/* A decimal as written: mantissa / 10^decimals, zeros at the end of the decimals dropped. */
struct units_decimal {
    uint64_t mantissa; /* below 10^18 */
    int decimals;      /* 0 .. 22 */
    bool too_long;     /* whole digits were lost: only good for "too large" */
    bool too_fine;     /* decimals other than 0 were lost: less than one part in 10^17 */
};

enum units_token_kind {
    UNITS_TOKEN_END = 0,
    UNITS_TOKEN_NUMBER,     /* 28 | 4.5 | .5 */
    UNITS_TOKEN_VULGAR,     /* one half and its kin as one character */
    UNITS_TOKEN_SLASH,      /* / or U+2044 */
    UNITS_TOKEN_COLON,      /* : */
    UNITS_TOKEN_DASH,       /* - or U+2010, U+2011, U+2013, U+2212 */
    UNITS_TOKEN_FEET_MARK,  /* ' or U+2019, U+2032 */
    UNITS_TOKEN_INCH_MARK,  /* " or U+201D, U+2033, or two feet marks side by side */
    UNITS_TOKEN_PLUS_MINUS, /* +- or +/- or U+00B1 */
    UNITS_TOKEN_WORD,       /* ASCII letters, with one full stop after them: ft. */
    UNITS_TOKEN_OTHER       /* one byte of anything else */
};

struct units_token {
    enum units_token_kind kind;
    size_t from; /* byte offsets in the text */
    size_t to;
    struct units_decimal decimal; /* NUMBER */
    int numerator;                /* VULGAR */
    int denominator;
};

struct units_scanner {
    struct base_text text;
    size_t at;
};

struct units_token units_next_token(struct units_scanner *scanner);
struct units_token units_peek_token(const struct units_scanner *scanner);
void units_skip_blanks(struct units_scanner *scanner);
/* Is the token this word? ASCII case and a full stop at the end do not count. */
bool units_word_is(struct base_text text, struct units_token token, const char *word);
double units_double_of_decimal(struct units_decimal decimal);

/* ---- mixed numbers ------------------------------------------------------------------------- */

/* 4 | 4.5 | 4 1/2 | 4-1/2 | 1/2, and with vulgar fractions. */
struct units_mixed {
    enum units_fault fault; /* FINE, EMPTY, NOT_A_NUMBER, NEGATIVE, BAD_FRACTION */
    size_t fault_at;
    size_t from;
    bool has_whole;
    bool has_fraction;
    struct units_decimal whole;
    int64_t numerator; /* below denominator */
    int64_t denominator;
};

/* Reads one at the scanner. lone_fraction: may 1/2 stand without a whole before it? */
struct units_mixed units_read_mixed(struct units_scanner *scanner, bool lone_fraction);
double units_double_of_mixed(struct units_mixed mixed);
bool units_mixed_is_zero(struct units_mixed mixed);

/* ---- unit names ---------------------------------------------------------------------------- */

/* SI = (written + before) * times / over. */
struct units_name {
    const char *name; /* lower case; a blank in it stands for one or more blanks */
    double before;
    double times;
    double over;
};

/*
 * Takes everything from the scanner to the end of the text as one of the names. bare: the reading
 * when nothing stands there (over 0: a bare number is refused unless it is zero).
 */
struct units_reading units_finish_reading(const struct units_scanner *scanner, double written,
                                          const struct units_name *names, struct units_name bare);

/* ---- writing ------------------------------------------------------------------------------- */

enum { UNITS_PIECE_BYTES = 96 };

/* A short text under construction, on the stack: one take in the arena for each written text. */
struct units_piece {
    char bytes[UNITS_PIECE_BYTES];
    size_t length;
};

void units_piece_string(struct units_piece *piece, const char *c_string);
void units_piece_integer(struct units_piece *piece, uint64_t value);
/* value / 10^decimals with a point; thousands: a comma after each three whole digits. */
void units_piece_fixed(struct units_piece *piece, int64_t value, int decimals, bool thousands);
/* value rounded once to 10^-decimals; short_form drops zeros at the end of the decimals. */
void units_piece_decimal(struct units_piece *piece, double value, int decimals, bool short_form);
struct base_text units_piece_text(const struct units_piece *piece);

#endif
