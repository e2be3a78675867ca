/* SPDX-License-Identifier: Apache-2.0 */
/*
 * handbook: published figures, one a row, each computed again by the program.
 *
 * To add rows: append to the array of handbook_SUBJECT.c, or make a new file with
 *
 *     static double find_girth(const double *in) { return section_girth(...in[0]...) / INCH_M; }
 *     static const struct handbook_row rows[] = {
 *         {"C-13", "girth of a 5 in gutter", "bead 5/8 in, 16 oz", {5, 0.625}, EXACT(10),
 *          HANDBOOK_FOUND, "SRC-19", find_girth},
 *     };
 *     const struct handbook_book handbook_copper = {"copper", rows, sizeof rows / sizeof rows[0]};
 *
 * then name the book at the foot of this file, in the list of handbook.c, and its source and rooms
 * in tests/handbook/meson.build. A row is one test of the TAP stream; the last line counts rows by
 * kind.
 *
 * Rules. The expected value is typed from the source, never from the program. The kind is how the
 * figure is known, and is never raised: MEMORY stays MEMORY when the program agrees. A figure known
 * to be misprinted is not a row. The source is a tag of docs/sources.md.
 */
#ifndef EAVESMITH_TESTS_HANDBOOK_H
#define EAVESMITH_TESTS_HANDBOOK_H

#include <stddef.h>

enum handbook_kind {
    HANDBOOK_FOUND = 0,       /* read in the named source */
    HANDBOOK_MEMORY,          /* a known published source, not seen here */
    HANDBOOK_COMMON_PRACTICE, /* a rule of the trade without a source */
    HANDBOOK_DERIVED          /* worked out from stated equations, outside the program */
};
enum { HANDBOOK_KINDS = 4, HANDBOOK_INPUTS = 6 };

struct handbook_row {
    const char *id;    /* unique over all books: "W-21", "C-13", "R-45" */
    const char *what;  /* what the figure is */
    const char *input; /* the inputs as a person reads them; may be "" */
    double in[HANDBOOK_INPUTS];
    double expected;
    double tolerance; /* absolute */
    enum handbook_kind kind;
    const char *source; /* "SRC-05" */
    double (*compute)(const double *in);
};

/* expected and tolerance of a row, as two fields. */
#define EXACT(value)               (value), 1e-9 * ((value) < 0 ? -(value) : (value)) + 1e-12
#define WITHIN(value, tolerance)   (value), (tolerance)
#define WITHIN_SHARE(value, share) (value), (share) * ((value) < 0 ? -(value) : (value))

struct handbook_book {
    const char *name;
    const struct handbook_row *rows; /* [count] */
    size_t count;
};

extern const struct handbook_book handbook_water;
extern const struct handbook_book handbook_copper;
extern const struct handbook_book handbook_shop;
extern const struct handbook_book handbook_structure;
extern const struct handbook_book handbook_pattern;
extern const struct handbook_book handbook_rain;
extern const struct handbook_book handbook_storm;
extern const struct handbook_book handbook_profiles;
extern const struct handbook_book handbook_measure;
extern const struct handbook_book handbook_nets;
extern const struct handbook_book handbook_roof;

#endif
