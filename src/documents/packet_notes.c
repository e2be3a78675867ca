/* SPDX-License-Identifier: Apache-2.0 */
/* What the piece list says of a piece beside its size, and what the doubts of the tape leave to be
 * done on site. */
#include "documents/packet_inside.h"

static const char *lap_words(const struct pieces_piece *piece) {
    static const char *const words[3][3] = {
        {"", "right inside", "right outside"},
        {"left inside", "both inside", "left inside, right outside"},
        {"left outside", "left outside, right inside", "both outside"}};
    return words[piece->left_lap][piece->right_lap];
}

/* "36.9 deg; 3 5/16" thick at the foot, 1 3/4" wide" */
static struct base_text wedge_words(struct documents_sheet *sheet,
                                    const struct pieces_piece *piece) {
    struct units_style style = sheet->solution->shop.style;
    struct base_builder text = {.arena = sheet->arena};
    base_add_text(&text, units_write_angle(sheet->arena, piece->angle_rad));
    if (piece->cut_on_site) {
        base_add_string(&text, ", cut to length on site");
        return base_built(&text);
    }
    base_add_string(&text, ", foot ");
    base_add_text(&text, units_write_length(sheet->arena, style, piece->thick_tick));
    base_add_string(&text, " thick");
    if (piece->wide_tick > 0) {
        base_add_string(&text, ", ");
        base_add_text(&text, units_write_length(sheet->arena, style, piece->wide_tick));
        base_add_string(&text, " wide");
    }
    return base_built(&text);
}

static struct base_text strip_words(struct documents_sheet *sheet,
                                    const struct pieces_piece *piece) {
    struct base_text wide =
        units_write_length(sheet->arena, sheet->solution->shop.style, piece->girth_tick);
    bool is_apron = piece->kind == PIECES_APRON;
    return documents_join(sheet, is_apron ? "at the low places, " : "half each way of the corner, ",
                          wide, " wide");
}

/* A whole pipe that nobody measured; or an offset sent long, its way down not surveyed. */
static struct base_text site_words(struct documents_sheet *sheet,
                                   const struct pieces_piece *piece) {
    if (piece->angle_rad > 0.0) {
        return documents_join(sheet, "", units_write_angle(sheet->arena, piece->angle_rad),
                              ", cut on site");
    }
    return base_text_of(piece->fitted_on_site ? "cut on site" : "measured and cut on site");
}

static struct base_text plain_note(struct documents_sheet *sheet,
                                   const struct pieces_piece *piece) {
    if (piece->kind == PIECES_WEDGE) {
        return wedge_words(sheet, piece);
    }
    if (piece->kind == PIECES_APRON || piece->kind == PIECES_SPLASH_PIECE) {
        return strip_words(sheet, piece);
    }
    if (piece->cut_on_site || piece->fitted_on_site) {
        return site_words(sheet, piece);
    }
    if (piece->kind == PIECES_STANDOFF_STRAP) {
        struct base_text stand =
            units_write_length(sheet->arena, sheet->solution->shop.style, piece->thick_tick);
        return documents_join(sheet, "pipe ", stand, " off the wall");
    }
    if (piece->kind == PIECES_ANGLED_BRACKET) {
        return documents_join(sheet, "base angle ",
                              units_write_angle(sheet->arena, piece->angle_rad), "");
    }
    if (piece->angle_within_rad > 0.0) {
        return documents_join(
            sheet, "", units_write_angle(sheet->arena, piece->angle_rad),
            documents_join(sheet, " \xC2\xB1 ",
                           units_write_angle(sheet->arena, piece->angle_within_rad),
                           piece->template_wanted ? ", template first" : "")
                .bytes);
    }
    if (piece->angle_rad > 0.0) {
        return units_write_angle(sheet->arena, piece->angle_rad);
    }
    if (piece->kind == PIECES_OUTLET && piece->run != SIZE_MAX) {
        struct base_text at =
            units_write_length(sheet->arena, sheet->solution->shop.style, piece->from_tick);
        return documents_join(sheet, "centre ", at, " from left");
    }
    return base_text_of(lap_words(piece));
}

/* ---- what is left long ---------------------------------------------------------------------- */

static const char *place_words(enum pieces_trim trim) {
    switch (trim) {
    case PIECES_NO_TRIM:
        break;
    case PIECES_TRIM_LEFT_END:
        return "the left end";
    case PIECES_TRIM_RIGHT_END:
        return "the right end";
    case PIECES_TRIM_LEFT_LAP:
        return "the left lap";
    case PIECES_TRIM_RIGHT_LAP:
        return "the right lap";
    }
    return "";
}

struct base_text documents_note_of(struct documents_sheet *sheet,
                                   const struct pieces_piece *piece) {
    struct base_builder note = {.arena = sheet->arena};
    base_add_text(&note, plain_note(sheet, piece));
    if (piece->trim_tick > 0) {
        base_add_string(&note, note.length > 0 ? "; " : "");
        base_add_text(
            &note, units_write_length(sheet->arena, sheet->solution->shop.style, piece->trim_tick));
        base_add_string(&note, " long, cut on site at ");
        base_add_string(&note, place_words(piece->trim));
    }
    if (piece->doubtful) {
        base_add_string(&note, note.length > 0 ? "; " : "");
        base_add_string(&note, piece->kind == PIECES_MITRE ? "in doubt: do not make yet"
                                                           : "in doubt: do not cut yet");
    }
    return base_built(&note);
}

enum { TRIM_COLUMNS = 4 };

static void trim_row(struct documents_sheet *sheet, const struct pieces_piece *piece,
                     struct draw_cell row[TRIM_COLUMNS]) {
    struct base_text run = sheet->solution->layout.runs[piece->run].name;
    struct base_text doubt =
        units_write_length(sheet->arena, sheet->solution->shop.style, piece->doubt_tick);
    row[0] = documents_cell(piece->id);
    row[1] = documents_length_cell(sheet, piece->trim_tick);
    row[2] = documents_cell(base_text_of(place_words(piece->trim)));
    row[3] = documents_cell(documents_join(
        sheet, "", run, documents_join(sheet, " is known to ", doubt, ", give or take").bytes));
}

void documents_say_trims(struct documents_sheet *sheet) {
    const struct pieces *pieces = &sheet->solution->pieces;
    const struct draw_column columns[TRIM_COLUMNS] = {{46.0, DRAW_START, base_text_of("piece")},
                                                      {24.0, DRAW_END, base_text_of("left long")},
                                                      {28.0, DRAW_START, base_text_of("cut at")},
                                                      {0.0, DRAW_START, base_text_of("why")}};
    struct draw_cell *cells =
        base_take(sheet->arena, pieces->count * TRIM_COLUMNS + 1, sizeof *cells);
    size_t rows = 0;
    for (size_t i = 0; cells != NULL && i < pieces->count; i++) {
        if (pieces->items[i].trim_tick > 0) {
            trim_row(sheet, &pieces->items[i], &cells[rows++ * TRIM_COLUMNS]);
        }
    }
    if (rows == 0) {
        return;
    }
    documents_keep_rows(sheet, rows);
    documents_heading(sheet, "Cut on site");
    documents_paragraph(
        sheet,
        base_text_of("Lay each of these at its eave before it is cut: at a free end before the end "
                     "cap is soldered on; at a lap to the lap's own width, before it is riveted."),
        DRAW_REGULAR);
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = TRIM_COLUMNS,
                                               .row_count = rows});
}

void documents_say_doubts(struct documents_sheet *sheet) {
    const struct pieces *pieces = &sheet->solution->pieces;
    bool trims = false;
    bool doubts = false;
    for (size_t i = 0; i < pieces->count; i++) {
        trims = trims || pieces->items[i].trim_tick > 0;
        doubts = doubts || pieces->items[i].doubtful;
    }
    if (trims) {
        documents_paragraph(
            sheet,
            base_text_of(
                "Long, cut on site: an eave is known no better than it was taped. One piece "
                "of such a run is left long by what the eave may be off 19 times in 20; "
                "the length listed is as it leaves the shop. Mitres are never left long."),
            DRAW_REGULAR);
    }
    if (doubts) {
        documents_paragraph(
            sheet,
            base_text_of("In doubt: the measurement behind the piece is one of those that do not "
                         "agree, or is known too badly. It is laid out from what was said; have it "
                         "taped again before copper is cut."),
            DRAW_BOLD);
    }
}
