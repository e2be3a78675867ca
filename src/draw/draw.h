/* SPDX-License-Identifier: Apache-2.0 */
/*
 * draw: a display list of shapes and text on pages, and what paints it: PDF, SVG, plain text
 * (goldens). Knows no gutters. Placing is pure: text widths come from a table made at build from
 * the shipped font (Carlito).
 *
 * Units     millimetres on paper, origin at the top left of the page, y down. Turns and arcs go
 *           counter-clockwise on the page. Colours are ink greys and one accent; meaning is never
 *           in colour alone.
 * Memory    what is added is copied into the document's arena. All add functions are harmless once
 *           the arena has failed; there may be no page (NULL) then.
 */
#ifndef EAVESMITH_DRAW_H
#define EAVESMITH_DRAW_H

#include "base/base.h"

enum draw_face { DRAW_REGULAR = 0, DRAW_BOLD, DRAW_ITALIC };
enum draw_anchor { DRAW_START = 0, DRAW_MIDDLE, DRAW_END };
enum draw_stroke { DRAW_SOLID = 0, DRAW_DASHED, DRAW_DOTTED, DRAW_CENTRE, DRAW_PHANTOM };
enum draw_ink { DRAW_BLACK = 0, DRAW_GREY, DRAW_LIGHT, DRAW_COPPER, DRAW_WATER, DRAW_WHITE };
/* A filled arc is the piece between arc and chord; a link target paints nothing. */
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
    double x_mm, y_mm;
};
struct draw_shape {
    enum draw_kind kind;
    enum draw_ink ink, fill; /* ink: stroke or text colour */
    enum draw_stroke stroke;
    double width_mm;                /* line width; 0 = no outline */
    bool filled, hatched;           /* hatched: a polygon of thin parallel lines at hatch_rad */
    double hatch_rad, hatch_gap_mm; /* gap between hatch lines; 0 = 1.6 */
    struct draw_point *points; /* [point_count] line (polyline), polygon; [1] circle, arc (centre),
                                  text (baseline) */
    size_t point_count;
    double radius_mm;        /* circle, arc */
    double from_rad, to_rad; /* arc */
    struct base_text text;   /* text, fraction (the plain text, searchable: 28' 6 1/2") */
    double size_mm;          /* text height: the font's em in mm */
    enum draw_face face;
    enum draw_anchor anchor;
    double turn_rad;              /* text: counter-clockwise about its point */
    struct base_text whole, tail; /* fraction: whole numerator/denominator tail */
    int numerator, denominator;
    struct base_text id; /* optional: the result path it shows, becomes an SVG id/title */
};
struct draw_page {
    double width_mm, height_mm;
    struct base_text title;    /* outline entry */
    struct draw_shape *shapes; /* [count] in painting order */
    size_t count, capacity;
};
struct draw_document {
    struct base_arena *arena;
    struct base_text title, author;
    struct base_text created; /* ISO date-time text, so that bytes are reproducible; "" = 1970 */
    struct draw_page *pages;
    size_t count, capacity;
};
/* The page's address holds until the next draw_add_page. */
struct draw_page *draw_add_page(struct draw_document *document, double width_mm, double height_mm,
                                struct base_text title);
/* Bytes that are no UTF-8 and control characters become '?' and blanks here, once for all. */
void draw_add(struct draw_document *document, struct draw_page *page, struct draw_shape shape);
/* many because they are one measure */
void draw_add_line(struct draw_document *document, struct draw_page *page, struct draw_point a,
                   struct draw_point b, double width_mm, enum draw_stroke stroke,
                   enum draw_ink ink);
/* many because it is the shorthand of draw_add_label */
void draw_add_text(struct draw_document *document, struct draw_page *page, struct draw_point at,
                   struct base_text text, double size_mm, enum draw_face face,
                   enum draw_anchor anchor, enum draw_ink ink);

/* ---- shapes ---------------------------------------------------------------------------------- */
struct draw_look { /* how a line or an area looks; zeroed: no outline, no fill */
    double width_mm;
    enum draw_stroke stroke;
    enum draw_ink ink, fill;
    bool filled, hatched;
    double hatch_rad, hatch_gap_mm;
    struct base_text id;
};
struct draw_box {
    double left_mm, top_mm, right_mm, bottom_mm;
};
struct draw_arc {
    struct draw_point centre;
    double radius_mm, from_rad, to_rad;
};
void draw_add_polyline(struct draw_document *document, struct draw_page *page,
                       const struct draw_point *points, size_t count, struct draw_look look);
void draw_add_polygon(struct draw_document *document, struct draw_page *page,
                      const struct draw_point *points, size_t count, struct draw_look look);
void draw_add_box(struct draw_document *document, struct draw_page *page, struct draw_box box,
                  struct draw_look look);
void draw_add_circle(struct draw_document *document, struct draw_page *page,
                     struct draw_point centre, double radius_mm, struct draw_look look);
void draw_add_arc(struct draw_document *document, struct draw_page *page, struct draw_arc arc,
                  struct draw_look look);

/* ---- text ------------------------------------------------------------------------------------ */
struct draw_label {        /* a text, or a length whose fraction is stacked (denominator > 0) */
    struct base_text text; /* plain and searchable: 28' 6 1/2" */
    struct base_text whole, tail;
    int numerator, denominator;
};
struct draw_label draw_label_of(struct base_text text); /* as it stands: 9/12 stays 9/12 */
/* Its last fraction is stacked; as it stands when there is none. Points into text. */
struct draw_label draw_length_of(struct base_text text);

struct draw_type { /* how a text looks */
    double size_mm;
    enum draw_face face;
    enum draw_anchor anchor;
    enum draw_ink ink;
    double turn_rad;
    bool cleared; /* white behind it, so that it can be read over hatching */
    struct base_text id;
};
void draw_add_label(struct draw_document *document, struct draw_page *page, struct draw_point at,
                    struct draw_label label, struct draw_type type);

/* Width of a text; kerning and ligatures are off everywhere. */
double draw_text_width(struct base_text text, double size_mm, enum draw_face face);
double draw_label_width(struct draw_label label, double size_mm, enum draw_face face);
/* Width of a length with a stacked fraction. */
double draw_fraction_width(const struct draw_shape *fraction);
/* What a shape covers at most; text counts from its highest to its lowest letter. */
struct draw_box draw_find_box(const struct draw_shape *shape);
/* Breaks a paragraph at blanks and line ends into lines no wider than width (a wider word is cut,
 * after / - . _ if it can be). Lines point into text. At least one line. */
/* many because a font, a size and a width are one measure */
size_t draw_break_lines(struct base_arena *arena, struct base_text text, double size_mm,
                        enum draw_face face, double width_mm, struct base_text **lines);

/* ---- room on a page: labels that never overlap (draw_place.c) ---- */
/* What is taken on one page. Made by zeroing it and setting arena. */
struct draw_boxes {
    struct base_arena *arena;
    struct draw_box *items;
    size_t count, capacity;
};
void draw_take_box(struct draw_boxes *boxes, struct draw_box box);
/* A line takes a row of small boxes, so that labels keep clear of slanting lines as well. */
void draw_take_line(struct draw_boxes *boxes, struct draw_point a, struct draw_point b);
/* All that is drawn so far. */
void draw_take_shapes(struct draw_boxes *boxes, const struct draw_page *page);
bool draw_is_free(const struct draw_boxes *boxes, struct draw_box box);

struct draw_callout { /* a label near a point, with a thin line to it when it stands off */
    struct draw_point at;
    double clear_mm;        /* from at to the label's nearest edge; 0 = 1.5 */
    struct draw_box bounds; /* the label stays inside; all 0 = no bounds */
    struct draw_label label;
    struct draw_type type; /* anchor and turn are not used */
};
/* Takes the nearest free place and draws. False: none was free; it overlaps as little as can be. */
bool draw_add_callout(struct draw_document *document, struct draw_page *page,
                      struct draw_boxes *boxes, const struct draw_callout *callout);

/* ---- parts of a drawing (draw_dimension.c) ---- */
/* The text breaks the line; where the line is too short it stands past b, past a, or on top.
 * Gives the label's box. */
struct draw_dimension {
    struct draw_point a, b; /* what is measured */
    double offset_mm;       /* of the line, to the left going from a to b; negative: to the right */
    struct draw_label label;
    double size_mm; /* 0 = 3.4 */
    enum draw_ink ink;
    bool ticks;               /* slanted ticks instead of arrowheads */
    struct draw_boxes *boxes; /* or NULL: places to keep clear of; the label and line are added */
};
struct draw_box draw_add_dimension(struct draw_document *document, struct draw_page *page,
                                   const struct draw_dimension *dimension);

struct draw_scale_bar {
    struct draw_point at; /* left end of the bar; it stands above, its numbers below */
    double scale_1;       /* 48 for 1:48 */
    bool metric;
    double longest_mm; /* 0 = 60 */
};
struct draw_box draw_add_scale_bar(struct draw_document *document, struct draw_page *page,
                                   struct draw_scale_bar bar);

/* ---- running text and tables (draw_table.c) ---- */
struct draw_paragraph {
    struct draw_point at; /* top left, or the point that type.anchor says on the top edge */
    double width_mm;
    struct base_text text;
    struct draw_type type;
    double leading_1; /* line to line, in ems; 0 = 1.3 */
};
/* The y below it. */
double draw_add_paragraph(struct draw_document *document, struct draw_page *page,
                          struct draw_paragraph paragraph);
double draw_paragraph_height(struct base_arena *arena, struct draw_paragraph paragraph);

struct draw_column {
    double width_mm; /* 0: shares what the others leave of the table's width */
    enum draw_anchor anchor;
    struct base_text head;
};
struct draw_cell {
    struct draw_label label; /* a plain one is wrapped */
    enum draw_face face;
    enum draw_ink ink;
};
struct draw_table {
    struct draw_point at; /* top left */
    double width_mm;
    const struct draw_column *columns; /* [column_count] */
    const struct draw_cell *cells;     /* [row_count][column_count] */
    size_t column_count, row_count;
    size_t total_rows;         /* the last rows are sums: bold, under a stronger rule */
    double size_mm, bottom_mm; /* rows end above bottom */
    bool fresh_page; /* draw the first row even if it is too high, so that a caller's loop ends */
};
struct draw_table_end {
    size_t next_row; /* the first row that is not drawn; row_count when all are */
    double y_mm;     /* of the last rule */
};
/* Head and rows from first_row on, as many as fit; next_row == first_row: nothing was drawn. */
struct draw_table_end draw_add_table(struct draw_document *document, struct draw_page *page,
                                     const struct draw_table *table, size_t first_row);

/* Of head and all rows. */
double draw_table_height(struct draw_document *document, const struct draw_table *table);

/* ---- what paints it -------------------------------------------------------------------------- */
/* PDF 1.5 bytes: embedded fonts, selectable text, outline, title. Needs a page. BASE_STOPPED: the
 * font is missing or is not the one the widths were taken from. */
enum base_status draw_paint_pdf(struct base_arena *arena, const struct draw_document *document,
                                struct base_text *bytes);
/* One page as SVG 1.1 with real <text>. */
struct base_text draw_paint_svg(struct base_arena *arena, const struct draw_document *document,
                                size_t page);
/* The display list as text, one shape a line: the golden file. */
struct base_text draw_paint_text(struct base_arena *arena, const struct draw_document *document);

#endif
