/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The measuring guide: what its files share, and its pages as data, for its test. One row is one
 * blank; the rows of a page stand in the order in which the job file is written.
 */
#ifndef EAVESMITH_GUIDE_INSIDE_H
#define EAVESMITH_GUIDE_INSIDE_H

#include "documents/packet_inside.h"

enum { GUIDE_CHOICES_MAX = 6 };

struct guide_row {
    const char *letter;                     /* of the drawing; "" = none */
    const char *words;                      /* what to measure, from where to where */
    const char *key;                        /* "tails: spacing": keys of the job file */
    const char *choices[GUIDE_CHOICES_MAX]; /* to be ticked instead of written; NULL ends them */
};

/* Where a sketch stands on the page, drawn in its own units. */
struct guide_sketch {
    struct documents_sheet *sheet;
    struct draw_point origin; /* on paper */
    double scale_mm;          /* paper mm a unit; y of the sketch goes up */
};

struct guide_page {
    const char *title;
    const char *when; /* which eaves it is for, and how to go about it */
    const struct guide_row *rows;
    size_t row_count;
    void (*draw)(struct documents_sheet *sheet, struct draw_box box); /* NULL = no drawing */
    double draw_height_mm;
};

enum { GUIDE_PAGES = 8 };
extern const struct guide_page guide_pages[GUIDE_PAGES];

/* ---- guide_sketch.c: sketching ------------------------------------------------------------- */

struct draw_point guide_at(const struct guide_sketch *sketch, double x, double y);
/* Points are x, y, x, y ... in the sketch's units. */
void guide_polygon(const struct guide_sketch *sketch, const double *xy, size_t count,
                   struct draw_look look);
void guide_line(const struct guide_sketch *sketch, const double *xy, size_t count,
                struct draw_look look);
void guide_words(const struct guide_sketch *sketch, double x, double y, const char *words,
                 enum draw_anchor anchor);
/* A lettered dimension between two points; offset in paper mm, to the left going from a to b. */
struct guide_mark {
    double ax, ay, bx, by;
    double offset_mm;
    const char *letter;
};
void guide_dimension(const struct guide_sketch *sketch, struct guide_mark mark);

/* ---- guide_eaves.c: sections of eaves; guide_plans.c: from above, and the wall --------------- */

void guide_draw_tails(struct documents_sheet *sheet, struct draw_box box);
void guide_draw_fascia(struct documents_sheet *sheet, struct draw_box box);
void guide_draw_crown(struct documents_sheet *sheet, struct draw_box box);
void guide_draw_porch(struct documents_sheet *sheet, struct draw_box box);
void guide_draw_bay(struct documents_sheet *sheet, struct draw_box box);
void guide_draw_curve(struct documents_sheet *sheet, struct draw_box box);
void guide_draw_wall(struct documents_sheet *sheet, struct draw_box box);
void guide_draw_found(struct documents_sheet *sheet, struct draw_box box);
void guide_draw_walk(struct documents_sheet *sheet, struct draw_box box);

#endif
