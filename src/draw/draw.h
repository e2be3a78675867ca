/* SPDX-License-Identifier: Apache-2.0 */
/*
 * draw: a display list of shapes and text on pages, and what paints it: PDF, SVG, plain text
 * (goldens). Knows no gutters. Placing is pure: text widths come from a table made at build from
 * the shipped font (Carlito).
 *
 * Units     millimetres on paper, origin at the top left of the page, y down. Colours are ink greys
 * and one accent; meaning is never in colour alone.
 */
#ifndef EAVESMITH_DRAW_H
#define EAVESMITH_DRAW_H

#include "base/base.h"

enum draw_face { DRAW_REGULAR = 0, DRAW_BOLD, DRAW_ITALIC };
enum draw_anchor { DRAW_START = 0, DRAW_MIDDLE, DRAW_END };
enum draw_stroke { DRAW_SOLID = 0, DRAW_DASHED, DRAW_DOTTED, DRAW_CENTRE /* long-short */ };
enum draw_ink { DRAW_BLACK = 0, DRAW_GREY, DRAW_LIGHT, DRAW_COPPER, DRAW_WATER, DRAW_WHITE };
enum draw_kind {
    DRAW_LINE = 0,
    DRAW_POLYGON,
    DRAW_CIRCLE,
    DRAW_ARC,
    DRAW_TEXT,
    DRAW_FRACTION,
    DRAW_LINK_TARGET
};

struct draw_point {
    double x_mm;
    double y_mm;
};

struct draw_shape {
    enum draw_kind kind;
    enum draw_ink ink; /* stroke or text colour */
    enum draw_stroke stroke;
    double width_mm; /* line width; 0 = no outline */
    bool filled;
    enum draw_ink fill;
    bool hatched; /* polygon: thin parallel lines at hatch_rad */
    double hatch_rad;
    struct draw_point *points; /* [point_count] line (polyline), polygon; [1] circle, arc (centre),
                                  text (baseline) */
    size_t point_count;
    double radius_mm; /* circle, arc */
    double from_rad;  /* arc, counter-clockwise on the page */
    double to_rad;
    struct base_text text; /* text, fraction (the plain text, searchable: 28' 6 1/2") */
    double size_mm;        /* text height: the font's em in mm */
    enum draw_face face;
    enum draw_anchor anchor;
    double turn_rad;        /* text: counter-clockwise about its point */
    struct base_text whole; /* fraction: before, numerator/denominator, tail */
    int numerator;
    int denominator;
    struct base_text tail;
    struct base_text id; /* optional: the result path it shows, becomes an SVG id/title */
};

struct draw_page {
    double width_mm;
    double height_mm;
    struct base_text title;    /* outline entry */
    struct draw_shape *shapes; /* [count] in painting order */
    size_t count;
    size_t capacity;
};

struct draw_document {
    struct base_arena *arena;
    struct base_text title;
    struct base_text author;
    struct base_text created; /* ISO date-time text, so that bytes are reproducible */
    struct draw_page *pages;
    size_t count;
    size_t capacity;
};

struct draw_page *draw_add_page(struct draw_document *document, double width_mm, double height_mm,
                                struct base_text title);
/* All add functions are harmless once the arena has failed. */
void draw_add(struct draw_document *document, struct draw_page *page, struct draw_shape shape);
void draw_add_line(struct draw_document *document, struct draw_page *page, struct draw_point a,
                   struct draw_point b, double width_mm, enum draw_stroke stroke,
                   enum draw_ink ink);
void draw_add_text(struct draw_document *document, struct draw_page *page, struct draw_point at,
                   struct base_text text, double size_mm, enum draw_face face,
                   enum draw_anchor anchor, enum draw_ink ink);

/* Width of a text; kerning and ligatures are off everywhere. */
double draw_text_width(struct base_text text, double size_mm, enum draw_face face);
/* Width of a length with a stacked fraction. */
double draw_fraction_width(const struct draw_shape *fraction);
/* Breaks a paragraph at blanks into lines no wider than width. Lines point into text. */
size_t draw_break_lines(struct base_arena *arena, struct base_text text, double size_mm,
                        enum draw_face face, double width_mm, struct base_text **lines);

/* ---- what paints it ------------------------------------------------------------------------- */

/* PDF 1.5 bytes: embedded fonts, selectable text, outline, title. BASE_STOPPED when the font is
 * missing. */
enum base_status draw_paint_pdf(struct base_arena *arena, const struct draw_document *document,
                                struct base_text *bytes);
/* One page as SVG 1.1 with real <text>. */
struct base_text draw_paint_svg(struct base_arena *arena, const struct draw_document *document,
                                size_t page);
/* The display list as text, one shape a line: the golden file. */
struct base_text draw_paint_text(struct base_arena *arena, const struct draw_document *document);

#endif
