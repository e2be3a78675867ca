/* SPDX-License-Identifier: Apache-2.0 */
/* Piece list, site sheet and care sheet. */
#include "documents/packet_inside.h"

/* ---- pieces --------------------------------------------------------------------------------- */

/* "6 in, 20 oz" */
static struct base_text size_of(struct documents_sheet *sheet, const struct pieces_piece *piece) {
    if (piece->sheet == NULL) {
        return piece->size;
    }
    return documents_join(sheet, "", documents_join(sheet, "", piece->size, ", "), piece->sheet);
}

enum { PIECE_COLUMNS = 7 };

static void piece_row(struct documents_sheet *sheet, const struct pieces_piece *piece,
                      struct draw_cell *row) {
    struct base_text blank = base_text_of("");
    struct base_text kind = base_text_of(pieces_kind_word(piece->kind));
    if (piece->hand != PIECES_NO_HAND) {
        kind = documents_join(sheet, "", kind, ", ");
        kind = documents_join(sheet, "", kind, pieces_hand_word(piece->hand));
    }
    row[0] = documents_cell(piece->id);
    row[1] = documents_cell(kind);
    row[2] = documents_cell(piece->size.length > 0 ? size_of(sheet, piece) : blank);
    row[3] = documents_count_cell(sheet, piece->count);
    row[4] = piece->length_tick > 0 ? documents_length_cell(sheet, piece->length_tick)
                                    : documents_cell(blank);
    row[5] = documents_cell(documents_note_of(sheet, piece));
    row[6] = documents_cell(
        piece->mass_kg > 0.0
            ? units_write_mass(sheet->arena, sheet->solution->shop.style, piece->mass_kg)
            : blank);
}

void documents_draw_pieces(struct documents_sheet *sheet) {
    const struct pieces *pieces = &sheet->solution->pieces;
    documents_new_page(sheet, "Piece list");
    documents_paragraph(
        sheet,
        base_text_of("Gutter and mitre legs are measured along the back edge, laps "
                     "included; downspouts along the axis. Laps lie with the water: an "
                     "\"inside\" end lies inside the next piece, an \"outside\" end round it."),
        DRAW_REGULAR);
    struct base_text mass =
        units_write_mass(sheet->arena, sheet->solution->shop.style, pieces->mass_kg);
    documents_paragraph(sheet,
                        documents_join(sheet, "Copper and solder weighed here: ", mass,
                                       ". Brackets, straps and small parts are not weighed."),
                        DRAW_REGULAR);
    documents_say_doubts(sheet);
    const struct draw_column columns[PIECE_COLUMNS] = {
        {52.0, DRAW_START, base_text_of("piece")}, {24.0, DRAW_START, base_text_of("kind")},
        {20.0, DRAW_START, base_text_of("size")},  {12.0, DRAW_END, base_text_of("count")},
        {18.0, DRAW_END, base_text_of("length")},  {0.0, DRAW_START, base_text_of("note")},
        {14.0, DRAW_END, base_text_of("weight")}};
    struct draw_cell *cells = base_take(sheet->arena, pieces->count * PIECE_COLUMNS, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t i = 0; i < pieces->count; i++) {
        piece_row(sheet, &pieces->items[i], &cells[PIECE_COLUMNS * i]);
    }
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = PIECE_COLUMNS,
                                               .row_count = pieces->count});
    if (!sheet->solution->has_house) {
        documents_say_found(sheet);
    }
}

/* ---- site ----------------------------------------------------------------------------------- */

enum { DROP_COLUMNS = 4, DROP_BLOCKS = 2, DROP_FEW = 6 };

static void drop_row(struct documents_sheet *sheet, const struct hang_run *run, size_t index,
                     struct draw_cell *row) {
    row[0] = documents_count_cell(sheet, (int64_t)index + 1);
    row[1] = documents_length_cell(sheet, run->brackets[index].x_tick);
    row[2] = run->brackets[index].tail > 0
                 ? documents_count_cell(sheet, run->brackets[index].tail)
                 : documents_cell(base_text_of(run->wood == JOB_WOOD_CROWN ? "crown" : "fascia"));
    row[3] = documents_length_cell(sheet, run->brackets[index].drop_tick);
}

/* One row a bracket; a long run in two blocks side by side, read down the first, then the second.
 */
static void list_drops(struct documents_sheet *sheet, const struct hang_run *run) {
    const struct draw_column columns[] = {{16.0, DRAW_END, base_text_of("bracket")},
                                          {30.0, DRAW_END, base_text_of("from the left end")},
                                          {16.0, DRAW_END, base_text_of("tail")},
                                          {18.0, DRAW_END, base_text_of("drop")},
                                          {26.0, DRAW_END, base_text_of("bracket")},
                                          {30.0, DRAW_END, base_text_of("from the left end")},
                                          {16.0, DRAW_END, base_text_of("tail")},
                                          {18.0, DRAW_END, base_text_of("drop")}};
    size_t blocks = run->count > DROP_FEW ? DROP_BLOCKS : 1;
    size_t rows = (run->count + blocks - 1) / blocks;
    size_t across = blocks * DROP_COLUMNS;
    struct draw_cell *cells = base_take(sheet->arena, rows * across, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t i = 0; i < rows * blocks; i++) {
        struct draw_cell *row = &cells[i % rows * across + i / rows * DROP_COLUMNS];
        if (i < run->count) {
            drop_row(sheet, run, i, row);
            continue;
        }
        for (size_t column = 0; column < DROP_COLUMNS; column++) {
            row[column] = documents_cell(base_text_of(""));
        }
    }
    documents_table(
        sheet, (struct draw_table){
                   .columns = columns, .cells = cells, .column_count = across, .row_count = rows});
}

static void drop_table(struct documents_sheet *sheet, const struct hang_run *run) {
    const struct layout_run *of = &sheet->solution->layout.runs[run->run];
    documents_keep_rows(sheet, (run->count + 1) / DROP_BLOCKS);
    documents_heading(sheet, base_copy_text(sheet->arena, of->name).bytes);
    struct units_style style = sheet->solution->shop.style;
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "Stretch the string level, ");
    base_add_text(&text, units_write_length(sheet->arena, style, run->string_tick));
    base_add_string(&text,
                    " below the roof edge. Drops are measured from the string down to the top "
                    "fastener hole of each bracket. Lip below the roof edge: ");
    base_add_text(&text, units_write_length(sheet->arena, style, of->lip_high_tick));
    base_add_string(&text, " at the high end, ");
    base_add_text(&text, units_write_length(sheet->arena, style, of->lip_low_tick));
    base_add_string(&text, " at the low end.");
    base_add_text(&text, documents_wood_words(run));
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
    list_drops(sheet, run);
}

static const char *const ORDER_OF_WORK[] = {
    "1. Check the crate against the piece list. Hold every end cap and mitre to the drawing: left "
    "and right are seen from the ground, facing the house.",
    "2. Stretch the string, mark every bracket by its distance and its drop, fix the brackets into "
    "sound wood.",
    "3. Lay the gutter in the open brackets from the outlet upwards, laps with the water, marks "
    "meeting.",
    "4. Where a piece was left long, cut it as the list below says, once it lies at its eave. "
    "Rivet "
    "the laps, then solder. Fit outlets' strainers, hang the downspouts, strap them clear "
    "of the wall.",
    "5. Run water from a hose at each high point and watch every joint and outlet before the "
    "ladders go down."};

static const char *const CAUTIONS[] = {
    "Ladders and roofs: set ladders at one in four, tied, on firm ground; use a stand-off. Never "
    "lean a ladder on the gutter. Work at height only with the fall protection that local rules "
    "ask for.",
    "Power lines: copper lengths are conductors. Keep ten feet (3 m) and more away, and farther "
    "where the utility says so.",
    "Torch and iron: an old cornice holds dust, nests and dry wood. Solder at the bench what can "
    "be; at the eave guard the wood, keep water and an extinguisher at hand, and keep a hot-work "
    "watch for at least as long as the local rule asks (30 to 60 minutes), then look again.",
    "Flux and fumes: goggles and gloves, fresh air; wash acid flux off metal and skin, keep it "
    "from stone and zinc.",
    "Lead: paint on old eaves and older solder may hold lead. Where it does, licensed practice and "
    "local rules govern; no open flame on lead paint.",
    "Sharp metal: copper edges cut. Gloves, and hem first.",
    "Brackets: fix only into sound wood; what is rotten holds nothing. Snow and ice sliding off "
    "the "
    "roof are more than any gutter bracket carries: snow guards are by others. A ladder leant on "
    "the gutter pushes its lip sideways with a quarter of the man's weight: it is made to hold "
    "water, not that.",
    "Local codes and licensed trades come before this sheet wherever they differ."};

static void list_words(struct documents_sheet *sheet, const char *const *words, size_t count) {
    for (size_t i = 0; i < count; i++) {
        documents_paragraph(sheet, base_text_of(words[i]), DRAW_REGULAR);
    }
}

void documents_draw_site(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    documents_new_page(sheet, "Site sheet");
    documents_heading(sheet, "Cautions");
    list_words(sheet, CAUTIONS, sizeof CAUTIONS / sizeof CAUTIONS[0]);
    documents_heading(sheet, "Order of work");
    list_words(sheet, ORDER_OF_WORK, sizeof ORDER_OF_WORK / sizeof ORDER_OF_WORK[0]);
    documents_heading(sheet, "Downspouts");
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        documents_say_downspout(sheet, i);
    }
    documents_say_trims(sheet);
    documents_say_found(sheet);
    documents_draw_hold(sheet);
    for (size_t i = 0; i < all->hang.run_count; i++) {
        drop_table(sheet, &all->hang.runs[i]);
    }
}

/* ---- care
 * -----------------------------------------------------------------------------------------------
 */

static const char *const CARE[] = {
    "Twice a year, in spring and after the leaves are down: clean by hand or with a wooden scoop, "
    "put the strainers back, pour water in at the high points and watch every outlet run. From a "
    "safe stand, never from a ladder leant on the gutter.",
    "Look for green streaks on stone or paint (a slow drip), for a gap at an end cap, for a loose "
    "bracket or strap, for bright worn spots where water drips from the roof. Write down the date "
    "and keep a photo of each corner.",
    "Do not paint the copper. Do not hang lights or baskets on it, do not use salt, bleach or "
    "ammonia near it, do not chip at ice.",
    "Do not mend with roof tar, sealant or aluminium tape: call for solder. Nothing of zinc, "
    "galvanized steel or aluminium may touch the copper or stand below it in its run-off.",
    "New copper shows pink and purple blotches and hand marks for weeks, then turns brown; in damp "
    "air it may go green after years, in dry places never. No date is promised.",
    "Roof water is not for drinking, cooking or washing dishes. For the garden let the first of "
    "each rain run away."};

void documents_draw_care(struct documents_sheet *sheet) {
    documents_new_page(sheet, "Care of copper gutters");
    list_words(sheet, CARE, sizeof CARE / sizeof CARE[0]);
}
