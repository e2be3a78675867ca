/* SPDX-License-Identifier: Apache-2.0 */
/* draw_inside: what the files of draw share among themselves and with their test. */
#ifndef EAVESMITH_DRAW_INSIDE_H
#define EAVESMITH_DRAW_INSIDE_H

#include "draw/draw.h"

#define DRAW_PI           3.14159265358979323846
#define DRAW_UNITS_PER_EM 2048.0 /* of Carlito; the tool that makes the table refuses others */

enum { DRAW_FACES = 3, DRAW_DASHES = 6 };

/* ---- the table made at build by tools/make_text_widths.c ---- */
struct draw_advance {
    uint32_t code;
    int16_t advance_unit[DRAW_FACES]; /* font units */
};

extern const char *const draw_font_files[DRAW_FACES];
extern const struct draw_advance draw_advances[]; /* [draw_advance_count], by code */
extern const size_t draw_advance_count;
extern const int draw_digit_height_unit; /* ink of a digit above the baseline */
extern const int draw_small_top_unit;    /* ink of a lowered digit, from its baseline */
extern const int draw_small_bottom_unit;

/* ---- characters ---- */
/* The character at *at, which moves on. '?' for a byte that is no UTF-8. Needs *at < length. */
uint32_t draw_next_code(struct base_text text, size_t *at);
/* What is painted for a character: itself, a look-alike the font has, or '?'. */
uint32_t draw_painted_code(uint32_t code);
/* Of a character that draw_painted_code gave. */
double draw_code_width(uint32_t code, double size_mm, enum draw_face face);
/* A copy in which every byte may stand in a PDF and in XML: UTF-8 without control characters. */
struct base_text draw_clean_text(struct base_arena *arena, struct base_text text);

/* ---- where the parts of a stacked fraction stand, from the start of the whole label ---- */
struct draw_stack {
    double bar_from_mm, bar_to_mm;
    double bar_up_mm, bar_width_mm;
    double numerator_x_mm, numerator_up_mm; /* baselines, up from the label's */
    double denominator_x_mm, denominator_up_mm;
    double tail_x_mm;
    double width_mm;
};
enum { DRAW_NUMBER_BYTES = 12 };
struct draw_digits { /* a number in lowered digits or plain ones */
    uint32_t codes[DRAW_NUMBER_BYTES];
    size_t count;
};
struct draw_stack draw_find_stack(struct draw_label label, double size_mm, enum draw_face face);
struct draw_digits draw_small_digits(int number);
struct draw_label draw_shape_label(const struct draw_shape *fraction);
/* Width of a text or fraction shape, and where it starts along its baseline: 0 or to the left. */
double draw_shape_width(const struct draw_shape *shape);
double draw_anchor_shift(enum draw_anchor anchor, double width_mm);

/* The corners of what a text covers, turned as it is. */
void draw_find_text_corners(const struct draw_shape *shape, struct draw_point corners[4]);

/* ---- looks ---- */
struct draw_rgb {
    int red, green, blue; /* 0 to 255 */
};
struct draw_rgb draw_find_rgb(enum draw_ink ink);
/* Lengths on and off; count 0 = solid. */
size_t draw_find_dashes(enum draw_stroke stroke, double dashes_mm[DRAW_DASHES]);
/* The lines of a hatched polygon: pairs of points. */
size_t draw_find_hatch(struct base_arena *arena, const struct draw_shape *shape,
                       struct draw_point **points);
struct draw_point draw_arc_point(const struct draw_shape *arc, double angle_rad);

/* ---- writing ---- */
/* A number with so many decimals; never -0. */
void draw_add_decimal(struct base_builder *builder, double value, int decimals);
const char *draw_kind_word(enum draw_kind kind);
const char *draw_face_word(enum draw_face face);
const char *draw_anchor_word(enum draw_anchor anchor);
const char *draw_stroke_word(enum draw_stroke stroke);
const char *draw_ink_word(enum draw_ink ink);

/* draw_paint_pdf with the font files named, one a face. */
enum base_status draw_paint_pdf_with(struct base_arena *arena, const struct draw_document *document,
                                     const char *const files[DRAW_FACES], struct base_text *bytes);

#endif
