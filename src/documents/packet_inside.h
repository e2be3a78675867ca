/* SPDX-License-Identifier: Apache-2.0 */
/* What the sheets share: the page being filled, top to bottom. */
#ifndef EAVESMITH_PACKET_INSIDE_H
#define EAVESMITH_PACKET_INSIDE_H

#include "documents/documents.h"

#define DOCUMENTS_MARGIN_MM 18.0
#define DOCUMENTS_TEXT_MM   3.6

struct documents_sheet {
    struct base_arena *arena;
    const struct solution *solution;
    const struct base_issues *issues;
    struct draw_document *document;
    struct draw_page *page;
    struct base_text title; /* of the sheet, at the head of each of its pages */
    double y_mm;            /* next free line */
};

double documents_width(const struct documents_sheet *sheet);
double documents_bottom(const struct documents_sheet *sheet);
/* A new page with its head. */
void documents_new_page(struct documents_sheet *sheet, const char *title);
void documents_heading(struct documents_sheet *sheet, const char *words);
/* A paragraph; goes to a new page when there is no room. */
void documents_paragraph(struct documents_sheet *sheet, struct base_text text, enum draw_face face);
/* A heading and its sentence do not stand alone at the foot of a page, and a table that fits on a
 * page is not torn: a new page where there is no room for them. */
void documents_keep_rows(struct documents_sheet *sheet, size_t rows);
/* A whole table, over as many pages as it needs. */
void documents_table(struct documents_sheet *sheet, struct draw_table table);

/* "page n of m" and the foot, once all pages are there. */
void documents_number_pages(struct documents_sheet *sheet);

/* "scale 1:96" behind a scale bar that ends at right_mm on the present line. */
void documents_say_scale(struct documents_sheet *sheet, double scale_1, double right_mm);

struct base_text documents_join(struct documents_sheet *sheet, const char *words,
                                struct base_text value, const char *after);
struct base_text documents_length(struct documents_sheet *sheet, int64_t tick);
struct base_text documents_percent(struct documents_sheet *sheet, double share_1);
struct draw_cell documents_cell(struct base_text text);
struct draw_cell documents_length_cell(struct documents_sheet *sheet, int64_t tick);
struct draw_cell documents_count_cell(struct documents_sheet *sheet, int64_t count);

/* A drawing's own metres on the page: right and down from its origin. */
struct documents_frame {
    double x_mm;
    double y_mm;
    double scale_1; /* millimetres of paper to the metre */
};
struct draw_point documents_at(const struct documents_frame *frame, double right_m, double down_m);

/* packet_notes.c: a piece's note; what is left long or in doubt, under the list and on the site
 * sheet. Nothing where nothing is. */
struct base_text documents_note_of(struct documents_sheet *sheet, const struct pieces_piece *piece);
void documents_say_doubts(struct documents_sheet *sheet);
void documents_say_trims(struct documents_sheet *sheet);

/* packet_survey.c: a downspout's way down in words; the gutters as found, nothing when none is. */
void documents_say_downspout(struct documents_sheet *sheet, size_t index);
void documents_say_found(struct documents_sheet *sheet);
/* What the wood asks of its brackets; may be empty. */
struct base_text documents_wood_words(const struct hang_run *run);

/* packet_storm.c */
void documents_draw_storms(struct documents_sheet *sheet);
/* Rain barrels at outlets, on the water page. */
void documents_say_barrels(struct documents_sheet *sheet);
/* "once in 10 years" or "gauge, 2026-07-11". */
struct base_text documents_storm_name(struct documents_sheet *sheet, const struct storm *storm);
/* packet_strips.c: the rain of each storm as a strip. */
void documents_draw_strips(struct documents_sheet *sheet);
void documents_draw_quote(struct documents_sheet *sheet);
void documents_list_drains(struct documents_sheet *sheet);
void documents_draw_plan_page(struct documents_sheet *sheet);
void documents_draw_water(struct documents_sheet *sheet);
/* packet_catch.c: where the water lands, on the water page. */
void documents_draw_catch(struct documents_sheet *sheet);
/* What the brackets bear: a table of the site sheet. */
void documents_draw_hold(struct documents_sheet *sheet);
/* packet_choices.c: what the other choice would give. */
void documents_draw_choices(struct documents_sheet *sheet);
void documents_draw_elevations(struct documents_sheet *sheet);
void documents_draw_pieces(struct documents_sheet *sheet);
/* packet_cut.c: which piece from which bar, and what to buy; nothing where nothing is cut. */
void documents_draw_cut(struct documents_sheet *sheet);
/* packet_patterns.c: mitres, caps and outlets laid flat, for the bench; nothing where none is. */
void documents_draw_patterns(struct documents_sheet *sheet);
void documents_draw_site(struct documents_sheet *sheet);
void documents_draw_measure(struct documents_sheet *sheet);
void documents_draw_care(struct documents_sheet *sheet);

#endif
