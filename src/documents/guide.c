/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The measuring guide as pages: the walk round the house first, then a page for each kind of eave,
 * the wall, the gutter as found. Blanks stand in the order of the job file's keys.
 */
#include "documents/guide_inside.h"

#define ROW_MM     9.0
#define LETTER_MM  3.0 /* centre of the letter's circle from the margin; two: 1.9 and 6.1 */
#define WORDS_MM   9.4
#define WORDS_WIDE 76.0
#define KEY_MM     86.0
#define BLANK_MM   130.0

/* ---- one blank ----------------------------------------------------------------------------- */

static void add_words(struct documents_sheet *sheet, struct draw_point at, const char *words,
                      struct draw_type type) {
    draw_add_label(sheet->document, sheet->page, at, draw_label_of(base_text_of(words)), type);
}

static void draw_circled(struct documents_sheet *sheet, struct draw_point centre, double radius_mm,
                         struct base_text letter) {
    draw_add_circle(sheet->document, sheet->page, centre, radius_mm,
                    (struct draw_look){.width_mm = 0.25, .ink = DRAW_COPPER});
    draw_add_label(
        sheet->document, sheet->page,
        (struct draw_point){centre.x_mm, centre.y_mm + 0.46 * radius_mm}, draw_label_of(letter),
        (struct draw_type){.size_mm = 1.4 * radius_mm, .face = DRAW_BOLD, .anchor = DRAW_MIDDLE});
}

/* "A", or two: "D, E". */
static void draw_letter(struct documents_sheet *sheet, const char *letter, double y_mm) {
    struct base_text text = base_text_of(letter);
    double left_mm = DOCUMENTS_MARGIN_MM;
    if (text.length == 1) {
        draw_circled(sheet, (struct draw_point){left_mm + LETTER_MM, y_mm}, 2.7, text);
    } else if (text.length > 1) {
        draw_circled(sheet, (struct draw_point){left_mm + 1.9, y_mm}, 1.9,
                     (struct base_text){letter, 1});
        draw_circled(sheet, (struct draw_point){left_mm + 6.1, y_mm}, 1.9,
                     (struct base_text){letter + text.length - 1, 1});
    }
}

/* A small box before each word to be ticked. Gives the y of the last line of boxes. */
static double draw_choices(struct documents_sheet *sheet, const struct guide_row *row,
                           double y_mm) {
    static const double BOX_MM = 3.0;
    double left_mm = DOCUMENTS_MARGIN_MM + BLANK_MM;
    double x_mm = left_mm;
    for (size_t i = 0; i < GUIDE_CHOICES_MAX && row->choices[i] != NULL; i++) {
        double wide_mm =
            BOX_MM + 1.2 + draw_text_width(base_text_of(row->choices[i]), 3.3, DRAW_REGULAR);
        if (x_mm > left_mm && x_mm + wide_mm > sheet->page->width_mm - DOCUMENTS_MARGIN_MM) {
            x_mm = left_mm;
            y_mm += 5.2;
        }
        draw_add_box(sheet->document, sheet->page,
                     (struct draw_box){x_mm, y_mm - BOX_MM / 2, x_mm + BOX_MM, y_mm + BOX_MM / 2},
                     (struct draw_look){.width_mm = 0.25});
        add_words(sheet, (struct draw_point){x_mm + BOX_MM + 1.2, y_mm + 1.1}, row->choices[i],
                  (struct draw_type){.size_mm = 3.3});
        x_mm += wide_mm + 3.4;
    }
    return y_mm;
}

static void draw_row(struct documents_sheet *sheet, const struct guide_row *row) {
    double middle_mm = sheet->y_mm + ROW_MM / 2;
    double right_mm = sheet->page->width_mm - DOCUMENTS_MARGIN_MM;
    draw_letter(sheet, row->letter, middle_mm);
    struct draw_paragraph words = {.at = {DOCUMENTS_MARGIN_MM + WORDS_MM, 0.0},
                                   .width_mm = WORDS_WIDE,
                                   .text = base_text_of(row->words),
                                   .type = {.size_mm = 3.4},
                                   .leading_1 = 1.12};
    double tall_mm = draw_paragraph_height(sheet->arena, words);
    words.at.y_mm = middle_mm - tall_mm / 2;
    (void)draw_add_paragraph(sheet->document, sheet->page, words);
    add_words(sheet, (struct draw_point){DOCUMENTS_MARGIN_MM + KEY_MM, middle_mm + 1.1}, row->key,
              (struct draw_type){.size_mm = 3.1, .face = DRAW_ITALIC, .ink = DRAW_COPPER});
    if (row->choices[0] != NULL) {
        double last_mm = draw_choices(sheet, row, middle_mm);
        sheet->y_mm += last_mm - middle_mm;
    } else {
        draw_add_line(sheet->document, sheet->page,
                      (struct draw_point){DOCUMENTS_MARGIN_MM + BLANK_MM, middle_mm + 2.2},
                      (struct draw_point){right_mm, middle_mm + 2.2}, 0.25, DRAW_SOLID, DRAW_BLACK);
    }
    sheet->y_mm += ROW_MM;
    draw_add_line(sheet->document, sheet->page,
                  (struct draw_point){DOCUMENTS_MARGIN_MM, sheet->y_mm},
                  (struct draw_point){right_mm, sheet->y_mm}, 0.12, DRAW_SOLID, DRAW_LIGHT);
}

static void draw_rows_head(struct documents_sheet *sheet) {
    static const struct draw_type HEAD = {.size_mm = 3.0, .face = DRAW_BOLD, .ink = DRAW_GREY};
    double y_mm = sheet->y_mm + 3.4;
    double right_mm = sheet->page->width_mm - DOCUMENTS_MARGIN_MM;
    add_words(sheet, (struct draw_point){DOCUMENTS_MARGIN_MM + WORDS_MM, y_mm}, "measure", HEAD);
    add_words(sheet, (struct draw_point){DOCUMENTS_MARGIN_MM + KEY_MM, y_mm}, "in the job file",
              HEAD);
    add_words(sheet, (struct draw_point){DOCUMENTS_MARGIN_MM + BLANK_MM, y_mm}, "write or tick",
              HEAD);
    sheet->y_mm += 4.8;
    draw_add_line(sheet->document, sheet->page,
                  (struct draw_point){DOCUMENTS_MARGIN_MM, sheet->y_mm},
                  (struct draw_point){right_mm, sheet->y_mm}, 0.35, DRAW_SOLID, DRAW_COPPER);
}

/* Squared paper in what is left of the page, when there is enough of it. */
static void draw_squares(struct documents_sheet *sheet) {
    const double square_mm = documents_width(sheet) / 36.0; /* about 5 mm */
    double top_mm = sheet->y_mm + 8.0;
    double rows = (double)(int)((documents_bottom(sheet) - 3.0 - top_mm) / square_mm);
    const double columns = 36.0;
    if (rows < 4.0) {
        return;
    }
    add_words(sheet, (struct draw_point){DOCUMENTS_MARGIN_MM, top_mm - 2.2},
              "What is otherwise here: sketch it, and say where.",
              (struct draw_type){.size_mm = 3.1, .face = DRAW_ITALIC, .ink = DRAW_GREY});
    double right_mm = DOCUMENTS_MARGIN_MM + columns * square_mm;
    double bottom_mm = top_mm + rows * square_mm;
    for (double i = 0.0; i <= rows; i += 1.0) {
        double y_mm = top_mm + i * square_mm;
        draw_add_line(sheet->document, sheet->page, (struct draw_point){DOCUMENTS_MARGIN_MM, y_mm},
                      (struct draw_point){right_mm, y_mm}, 0.1, DRAW_SOLID, DRAW_LIGHT);
    }
    for (double i = 0.0; i <= columns; i += 1.0) {
        double x_mm = DOCUMENTS_MARGIN_MM + i * square_mm;
        draw_add_line(sheet->document, sheet->page, (struct draw_point){x_mm, top_mm},
                      (struct draw_point){x_mm, bottom_mm}, 0.1, DRAW_SOLID, DRAW_LIGHT);
    }
}

static void draw_page_of(struct documents_sheet *sheet, const struct guide_page *page) {
    documents_new_page(sheet, page->title);
    if (sheet->page == NULL) {
        return;
    }
    documents_paragraph(sheet, base_text_of(page->when), DRAW_REGULAR);
    if (page->draw != NULL) {
        struct draw_box box = {DOCUMENTS_MARGIN_MM, sheet->y_mm + 1.0,
                               sheet->page->width_mm - DOCUMENTS_MARGIN_MM,
                               sheet->y_mm + 1.0 + page->draw_height_mm};
        page->draw(sheet, box);
        sheet->y_mm = box.bottom_mm + 2.0;
    }
    draw_rows_head(sheet);
    for (size_t i = 0; i < page->row_count; i++) {
        draw_row(sheet, &page->rows[i]);
    }
    draw_squares(sheet);
}

/* ---- the walk: one line an eave -------------------------------------------------------------- */

static const char *const HOW_TO_WALK[] = {
    "1. Go round the house with the house on your left hand. The left end of an eave, seen from "
    "the "
    "ground facing the house, is its from end, the right end its to end. Give each eave a name.",
    "2. Tape along one line all the way: the roof edge (R) where it can be reached, else the wall "
    "(W) or the face of the wood (F). Read to the nearest 1/16 in (1 mm); tape long runs twice and "
    "write both.",
    "3. A corner where the walk turns left round the house is an outside corner; where it turns "
    "right, an inside corner. One that is not square is \"taped\": tape 3 ft and 4 ft from it "
    "along the two eaves, and the line across.",
    "4. Tape at least one size across the house, a diagonal or a gable: it shows a slip that the "
    "walk alone would hide.",
    "5. For each kind of eave fill in its page; for each place where a downspout may stand, a wall "
    "page. What you cannot measure safely, leave empty: it is then taken as an assumption and "
    "named. Stay off the roof; tie the ladder, and never lean it on an old gutter.",
    "6. Write a reading you doubt with its doubt, 28' 4 1/2\" +- 1/2\", and put the word guess "
    "behind a guess. In feet and inches every number has its mark, ' or \"."};

static const struct draw_column WALK_COLUMNS[] = {
    {24.0, DRAW_START, {"name", 4}},     {29.0, DRAW_START, {"length", 6}},
    {15.0, DRAW_START, {"taped on", 8}}, {19.0, DRAW_START, {"depth", 5}},
    {13.0, DRAW_START, {"pitch", 5}},    {17.0, DRAW_START, {"from", 4}},
    {17.0, DRAW_START, {"to", 2}},       {19.0, DRAW_START, {"eave height", 11}},
    {0.0, DRAW_START, {"overhang", 8}}};
enum { WALK_COLUMN_COUNT = sizeof WALK_COLUMNS / sizeof WALK_COLUMNS[0], WALK_ROWS = 9 };

static const struct draw_column CHECK_COLUMNS[] = {{50.0, DRAW_START, {"name", 4}},
                                                   {42.0, DRAW_START, {"from", 4}},
                                                   {42.0, DRAW_START, {"to", 2}},
                                                   {0.0, DRAW_START, {"length", 6}}};
enum { CHECK_COLUMN_COUNT = sizeof CHECK_COLUMNS / sizeof CHECK_COLUMNS[0], CHECK_ROWS = 3 };

static const struct draw_column CORNER_COLUMNS[] = {{50.0, DRAW_START, {"corner", 6}},
                                                    {84.0, DRAW_START, {"legs", 4}},
                                                    {0.0, DRAW_START, {"across", 6}}};
enum { CORNER_COLUMN_COUNT = sizeof CORNER_COLUMNS / sizeof CORNER_COLUMNS[0], CORNER_ROWS = 2 };

/* Ruled by hand: a form has cells to write in, not rows of text. */
static void draw_form(struct documents_sheet *sheet, const struct draw_column *columns,
                      size_t column_count, size_t rows) {
    static const double LINE_MM = 7.4;
    double right_mm = sheet->page->width_mm - DOCUMENTS_MARGIN_MM;
    double top_mm = sheet->y_mm + 5.0;
    double x_mm = DOCUMENTS_MARGIN_MM;
    for (size_t i = 0; i < column_count; i++) {
        draw_add_label(sheet->document, sheet->page, (struct draw_point){x_mm + 1.0, top_mm - 1.4},
                       draw_label_of(columns[i].head),
                       (struct draw_type){.size_mm = 3.1, .face = DRAW_ITALIC, .ink = DRAW_COPPER});
        draw_add_line(sheet->document, sheet->page, (struct draw_point){x_mm, top_mm},
                      (struct draw_point){x_mm, top_mm + LINE_MM * (double)rows}, 0.12, DRAW_SOLID,
                      DRAW_LIGHT);
        x_mm += columns[i].width_mm;
    }
    for (size_t i = 0; i <= rows; i++) {
        double y_mm = top_mm + LINE_MM * (double)i;
        draw_add_line(sheet->document, sheet->page, (struct draw_point){DOCUMENTS_MARGIN_MM, y_mm},
                      (struct draw_point){right_mm, y_mm}, i == 0 ? 0.35 : 0.2, DRAW_SOLID,
                      i == 0 ? DRAW_COPPER : DRAW_GREY);
    }
    sheet->y_mm = top_mm + LINE_MM * (double)rows + 1.0;
}

static const struct guide_row HEAD_ROWS[] = {
    {"", "What the papers are to be headed with", "job", {NULL}},
    {"", "Who it is for, and where the house stands", "customer, address", {NULL}},
    {"", "Day of measuring, as 2026-03-14", "date", {NULL}},
    {"", "How it was measured", "units", {"ft-in", "mm", NULL}},
    {"",
     "Hardest rain, if you know it: how much in an hour, for how many minutes, once in how "
     "many years",
     "place: rain",
     {NULL}},
    {"", "Coldest and hottest day in most years", "place: lowest, highest", {NULL}},
    {"", "Snow load on the ground, if you know it", "place: ground snow", {NULL}}};

static void draw_walk(struct documents_sheet *sheet) {
    documents_new_page(sheet, "Measuring guide");
    for (size_t i = 0; sheet->page != NULL && i < sizeof HOW_TO_WALK / sizeof HOW_TO_WALK[0]; i++) {
        documents_paragraph(sheet, base_text_of(HOW_TO_WALK[i]), DRAW_REGULAR);
    }
    if (sheet->page == NULL) {
        return;
    }
    struct draw_box box = {DOCUMENTS_MARGIN_MM, sheet->y_mm + 1.0,
                           sheet->page->width_mm - DOCUMENTS_MARGIN_MM, sheet->y_mm + 73.0};
    guide_draw_walk(sheet, box);
    sheet->y_mm = box.bottom_mm + 2.0;
    draw_rows_head(sheet);
    for (size_t i = 0; i < sizeof HEAD_ROWS / sizeof HEAD_ROWS[0]; i++) {
        draw_row(sheet, &HEAD_ROWS[i]);
    }
    documents_new_page(sheet, "The walk");
    if (sheet->page == NULL) {
        return;
    }
    documents_heading(sheet, "runs: the eaves, in the order of the walk");
    documents_paragraph(
        sheet,
        base_text_of("Depth: level, from the roof edge to the ridge or to the wall above; or write "
                     "\"up\" and the length along the slope. Ends: cap, outside, inside, wall; "
                     "behind a corner that is not square its angle, or taped. Eave height: ground "
                     "to roof edge. "
                     "Overhang: wall to roof edge, level."),
        DRAW_REGULAR);
    draw_form(sheet, WALK_COLUMNS, WALK_COLUMN_COUNT, WALK_ROWS);
    documents_heading(sheet, "checks: sizes across the house");
    draw_form(sheet, CHECK_COLUMNS, CHECK_COLUMN_COUNT, CHECK_ROWS);
    documents_heading(sheet, "checks: corners that are not square, by three lengths");
    draw_form(sheet, CORNER_COLUMNS, CORNER_COLUMN_COUNT, CORNER_ROWS);
    documents_heading(sheet, "outlets: where downspouts stand, or may stand");
    documents_paragraph(
        sheet,
        base_text_of("As \"porch to\", \"porch from\", or \"porch at\" and the "
                     "distance from the left end. What is below each goes on a wall page."),
        DRAW_REGULAR);
    draw_form(sheet, (const struct draw_column[]){{0.0, DRAW_START, {"at", 2}}}, 1, 2);
    draw_squares(sheet);
}

enum base_status documents_draw_guide(struct base_arena *arena, enum units_system system,
                                      struct draw_document *document) {
    struct solution *blank = base_take(arena, 1, sizeof *blank);
    if (blank == NULL) {
        return BASE_NO_MEMORY;
    }
    *blank = (struct solution){.has_house = true};
    blank->job.system = system;
    blank->job.title = base_text_of("copy a page as often as needed");
    *document = (struct draw_document){.arena = arena,
                                       .title = base_text_of("Measuring guide"),
                                       .created = base_text_of("2026-01-01T00:00:00Z")};
    struct documents_sheet sheet = {.arena = arena, .solution = blank, .document = document};
    draw_walk(&sheet);
    for (size_t i = 0; i < GUIDE_PAGES; i++) {
        draw_page_of(&sheet, &guide_pages[i]);
    }
    documents_number_pages(&sheet);
    return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
}
