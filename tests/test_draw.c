/* SPDX-License-Identifier: Apache-2.0 */
/* draw: widths, stacked fractions, placing, and what the three backends write. */
#define _POSIX_C_SOURCE 200809L
#include "draw/draw_inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "check.h"

#define CREATED "2026-01-02T03:04:05Z"

static struct base_text t(const char *c_string) {
    return base_text_of(c_string);
}

static struct draw_document make_document(struct base_arena *arena) {
    return (struct draw_document){.arena = arena,
                                  .title = t("Sallowfield porch"),
                                  .author = t("A shop"),
                                  .created = t(CREATED)};
}

static bool contains(struct base_text text, const char *wanted) {
    size_t length = strlen(wanted);
    for (size_t i = 0; i + length <= text.length; i++) {
        if (memcmp(text.bytes + i, wanted, length) == 0) {
            return true;
        }
    }
    return false;
}

/* ---- a sheet with everything on it ---------------------------------------------------------- */

static void add_plan(struct draw_document *document, struct draw_page *page) {
    struct draw_point roof[] = {{30, 60}, {130, 60}, {130, 95}, {95, 95}, {95, 120}, {30, 120}};
    draw_add_polygon(document, page, roof, 6,
                     (struct draw_look){.width_mm = 0.35,
                                        .hatched = true,
                                        .hatch_rad = DRAW_PI / 4,
                                        .hatch_gap_mm = 2.4,
                                        .ink = DRAW_GREY});
    struct draw_point gutter[] = {{30, 123}, {95, 123}, {95, 98}, {133, 98}};
    draw_add_polyline(
        document, page, gutter, 4,
        (struct draw_look){.width_mm = 0.9, .ink = DRAW_COPPER, .id = t("runs/hall")});
    draw_add_line(document, page, (struct draw_point){80, 55}, (struct draw_point){80, 128}, 0.13,
                  DRAW_CENTRE, DRAW_BLACK);
    draw_add_line(document, page, (struct draw_point){30, 90}, (struct draw_point){95, 90}, 0.18,
                  DRAW_DASHED, DRAW_BLACK);
    draw_add_circle(document, page, (struct draw_point){133, 98}, 1.6,
                    (struct draw_look){.width_mm = 0.25, .filled = true, .fill = DRAW_WHITE});
    draw_add_arc(document, page, (struct draw_arc){{160, 100}, 14, DRAW_PI, 2 * DRAW_PI},
                 (struct draw_look){.width_mm = 0.6, .ink = DRAW_COPPER});
    draw_add_line(document, page, (struct draw_point){146, 104}, (struct draw_point){174, 104},
                  0.18, DRAW_DOTTED, DRAW_WATER);
    draw_add_label(document, page, (struct draw_point){40, 105}, draw_label_of(t("pitch 9/12")),
                   (struct draw_type){
                       .size_mm = 3, .turn_rad = DRAW_PI / 2, .ink = DRAW_GREY, .cleared = true});
}

static void add_dimensions(struct draw_document *document, struct draw_page *page,
                           struct draw_boxes *boxes) {
    struct draw_dimension rows[] = {
        {.a = {30, 60}, .b = {130, 60}, .offset_mm = 8, .label = draw_length_of(t("44' 6 1/2\""))},
        {.a = {30, 120},
         .b = {30, 60},
         .offset_mm = 8,
         .label = draw_length_of(t("26' 0 13/16\""))},
        {.a = {130, 95}, .b = {130, 60}, .offset_mm = -9, .label = draw_label_of(t("15' 7\""))},
        {.a = {30, 120}, .b = {36, 120}, .offset_mm = -9, .label = draw_length_of(t("2' 7 3/4\""))},
        {.a = {80, 120}, .b = {95, 120}, .offset_mm = -9, .label = draw_length_of(t("6' 8 1/4\""))},
        {.a = {95, 98},
         .b = {133, 120},
         .offset_mm = 0,
         .ticks = true,
         .label = draw_length_of(t("19' 6 5/8\""))},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        rows[i].boxes = boxes;
        draw_add_dimension(document, page, &rows[i]);
    }
}

static void add_callouts(struct draw_document *document, struct draw_page *page,
                         struct draw_boxes *boxes) {
    static const char *const TEXTS[] = {"outlet 3\"", "high point", "inside corner", "end cap",
                                        "bracket 7"};
    struct draw_point points[] = {{133, 98}, {60, 123}, {95, 123}, {30, 123}, {110, 98}};
    for (size_t i = 0; i < 5; i++) {
        struct draw_callout callout = {.at = points[i],
                                       .label = draw_label_of(t(TEXTS[i])),
                                       .bounds = {15, 40, 200, 150},
                                       .type = {.size_mm = 2.8}};
        assert_true(draw_add_callout(document, page, boxes, &callout));
    }
}

static double add_pieces(struct draw_document *document, struct draw_page *page, double y_mm) {
    static const struct draw_column COLUMNS[] = {
        {24, DRAW_START, {"Piece", 5}}, {0, DRAW_START, {"What it is", 10}},
        {16, DRAW_END, {"Count", 5}},   {30, DRAW_END, {"Length", 6}},
        {24, DRAW_END, {"Cost", 4}},
    };
    struct draw_cell cells[] = {
        {.label = draw_label_of(t("hall.1.gutter.1"))},
        {.label = draw_label_of(t("half-round gutter 6\", 16 oz copper, bead outside, one outlet "
                                  "hole 3\" at the mark"))},
        {.label = draw_label_of(t("1"))},
        {.label = draw_length_of(t("9' 11 7/8\""))},
        {.label = draw_label_of(t("$248.10"))},
        {.label = draw_label_of(t("hall.1.cap.1"))},
        {.label = draw_label_of(t("end cap, left hand"))},
        {.label = draw_label_of(t("2"))},
        {.label = draw_label_of(t("\xE2\x80\x94"))},
        {.label = draw_label_of(t("$17.60"))},
        {.label = draw_label_of(t("hall.1.bracket"))},
        {.label = draw_label_of(t("bracket on the tail, 1\xE2\x80\xB3 \xC3\x97 1\xE2\x81\x84"
                                  "8\xE2\x80\xB3, drops by the table")),
         .ink = DRAW_GREY},
        {.label = draw_label_of(t("19"))},
        {.label = draw_length_of(t("3/4\""))},
        {.label = draw_label_of(t("$1,045.00"))},
        {.label = draw_label_of(t("Sum"))},
        {.label = draw_label_of(t(""))},
        {.label = draw_label_of(t("22"))},
        {.label = draw_label_of(t(""))},
        {.label = draw_label_of(t("$1,310.70"))},
    };
    struct draw_table table = {.at = {18, y_mm},
                               .width_mm = 179.9,
                               .columns = COLUMNS,
                               .cells = cells,
                               .column_count = 5,
                               .row_count = 4,
                               .total_rows = 1,
                               .size_mm = 3.2,
                               .bottom_mm = 260};
    struct draw_table_end end = draw_add_table(document, page, &table, 0);
    assert_int_equal(end.next_row, 4);
    return end.y_mm;
}

static void add_sample_page(struct draw_document *document) {
    struct draw_page *page = draw_add_page(document, 215.9, 279.4, t("Plan of the hall"));
    struct draw_boxes boxes = {.arena = document->arena};
    draw_add_text(document, page, (struct draw_point){18, 24}, t("Plan of the hall"), 6.4,
                  DRAW_BOLD, DRAW_START, DRAW_BLACK);
    draw_add_text(document, page, (struct draw_point){197.9, 24}, t("sheet 1 of 2"), 3.2,
                  DRAW_REGULAR, DRAW_END, DRAW_GREY);
    draw_add_line(document, page, (struct draw_point){18, 27.5}, (struct draw_point){197.9, 27.5},
                  0.5, DRAW_SOLID, DRAW_COPPER);
    add_plan(document, page);
    draw_take_shapes(&boxes, page);
    add_dimensions(document, page, &boxes);
    add_callouts(document, page, &boxes);
    draw_add_scale_bar(document, page, (struct draw_scale_bar){.at = {18, 145}, .scale_1 = 96});
    draw_add_scale_bar(document, page,
                       (struct draw_scale_bar){.at = {120, 145}, .scale_1 = 100, .metric = true});
    double y_mm = draw_add_paragraph(
        document, page,
        (struct draw_paragraph){
            .at = {18, 155},
            .width_mm = 110,
            .text = t("Lengths are measured along the roof edge. Solder only where the sheet says "
                      "so; ladders stand on firm ground, and nobody works above an open door. "
                      "\xC5\x81\xC3\xB3"
                      "d\xC5\xBA, \xCE\xB1\xCE\xB2\xCE\xB3, 12\xC2\xB0 \xC2\xB1 "
                      "1\xC2\xBD\xC2\xB0, 20 ft\xC2\xB2, 5\xE2\x80\xB2 3\xE2\x80\xB3 \xE2\x86\x92 "
                      "office, affiliate."),
            .type = {.size_mm = 3.5}});
    add_pieces(document, page, y_mm + 6);
    draw_add(document, page,
             (struct draw_shape){.kind = DRAW_LINK_TARGET,
                                 .points = (struct draw_point[]){{18, 24}},
                                 .point_count = 1,
                                 .id = t("plan")});
}

static void add_second_page(struct draw_document *document) {
    struct draw_page *page = draw_add_page(document, 297, 210, t("Lengths"));
    draw_add_label(document, page, (struct draw_point){20, 40}, draw_length_of(t("28' 6 1/2\"")),
                   (struct draw_type){.size_mm = 12});
    draw_add_label(document, page, (struct draw_point){20, 60}, draw_length_of(t("340 13/16\"")),
                   (struct draw_type){.size_mm = 12, .face = DRAW_BOLD});
    draw_add_label(document, page, (struct draw_point){120, 60},
                   draw_length_of(t("7 ft 4 63/64 in")),
                   (struct draw_type){.size_mm = 12, .face = DRAW_ITALIC, .ink = DRAW_COPPER});
    draw_add_label(document, page, (struct draw_point){200, 150}, draw_length_of(t("5 3/8\"")),
                   (struct draw_type){.size_mm = 6, .turn_rad = DRAW_PI / 6});
}

static struct draw_document make_sample(struct base_arena *arena) {
    struct draw_document document = make_document(arena);
    add_sample_page(&document);
    add_second_page(&document);
    return document;
}

/* ---- files and programs beside ----------------------------------------------------------------
 */

/* Kept where DRAW_KEEP says, else in a folder that goes with the test. */
static char folder[512];

static void path_of(const char *name, char path[1024]) {
    snprintf(path, 1024, "%s/%s", folder, name);
}

static void write_file(const char *name, struct base_text bytes) {
    char path[1024];
    path_of(name, path);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(bytes.bytes, 1, bytes.length, file), bytes.length);
    assert_int_equal(fclose(file), 0);
}

static int make_folder(void **state) {
    (void)state;
    const char *kept = getenv("DRAW_KEEP");
    snprintf(folder, sizeof folder, "%s", kept != NULL ? kept : "/tmp/test_draw.XXXXXX");
    return kept != NULL || mkdtemp(folder) != NULL ? 0 : -1;
}

static int remove_folder(void **state) {
    (void)state;
    static const char *const NAMES[] = {"sample.pdf", "widths.pdf", "Other.ttf"};
    for (size_t i = 0; getenv("DRAW_KEEP") == NULL && i < 3; i++) {
        char path[1024];
        path_of(NAMES[i], path);
        remove(path);
    }
    return getenv("DRAW_KEEP") == NULL ? rmdir(folder) : 0;
}

static bool have_program(const char *name) {
    char command[256];
    snprintf(command, sizeof command, "command -v %s >/dev/null 2>&1", name);
    return system(command) == 0;
}

static struct base_text run(struct base_arena *arena, const char *command, int *status) {
    struct base_builder out = {.arena = arena};
    FILE *pipe = popen(command, "r");
    assert_non_null(pipe);
    char bytes[4096];
    size_t count;
    while ((count = fread(bytes, 1, sizeof bytes, pipe)) > 0) {
        base_add_text(&out, (struct base_text){bytes, count});
    }
    *status = pclose(pipe);
    return base_copy_text(arena, base_built(&out));
}

static struct base_text run_on(struct base_arena *arena, const char *program, const char *name,
                               const char *after, int *status) {
    char command[2048];
    snprintf(command, sizeof command, "%s '%s/%s' %s 2>&1", program, folder, name, after);
    return run(arena, command, status);
}

/* ---- PDF --------------------------------------------------------------------------------------
 */

static struct base_text paint_sample(struct base_arena *arena) {
    struct draw_document document = make_sample(arena);
    struct base_text pdf;
    assert_int_equal(draw_paint_pdf(arena, &document, &pdf), BASE_OK);
    return pdf;
}

static void pdf_passes_qpdf(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct base_text pdf = paint_sample(arena);
    assert_true(base_text_starts(pdf, "%PDF-1.5"));
    write_file("sample.pdf", pdf);
    if (have_program("qpdf")) {
        int status = -1;
        run_on(arena, "qpdf --check", "sample.pdf", "", &status);
        assert_int_equal(status, 0);
    }
    base_free_arena(arena);
}

static void pdf_text_is_found_as_it_was_written(void **state) {
    (void)state;
    if (!have_program("pdftotext")) {
        skip();
    }
    struct base_arena *arena = base_make_arena(0);
    write_file("sample.pdf", paint_sample(arena));
    int status = -1;
    struct base_text found = run_on(arena, "pdftotext -layout", "sample.pdf", "-", &status);
    assert_int_equal(status, 0);
    static const char *const WANTED[] = {"28' 6 1/2\"",
                                         "340 13/16\"",
                                         "7 ft 4 63/64 in",
                                         "44' 6 1/2\"",
                                         "26' 0 13/16\"",
                                         "2' 7 3/4\"",
                                         "9' 11 7/8\"",
                                         "5 3/8\"",
                                         "office, affiliate.",
                                         ("\xC5\x81\xC3\xB3"
                                          "d\xC5\xBA"),
                                         "5\xE2\x80\xB2 3\xE2\x80\xB3 \xE2\x86\x92",
                                         "pitch 9/12"};
    for (size_t i = 0; i < sizeof WANTED / sizeof *WANTED; i++) {
        if (!contains(found, WANTED[i])) {
            print_message("not found: %s\n", WANTED[i]);
        }
        assert_true(contains(found, WANTED[i]));
    }
    base_free_arena(arena);
}

/* Every painted word is as wide as the table says, within 0.1 %. Letters that would be kerned (AV,
 * To) or joined (ffi) are among them. */
static void painted_width_is_the_width_of_the_table(void **state) {
    (void)state;
    if (!have_program("pdftotext")) {
        skip();
    }
    static const char *const WORDS[] = {"AVATARToWaYe", "office-affiliate-fjord", "0123456789.,$%",
                                        "28'61/2\"+-",
                                        "\xC5\x81\xC3\xB3"
                                        "d\xC5\xBA\xCE\xB1\xC2\xBD"};
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_document(arena);
    struct draw_page *page = draw_add_page(&document, 400, 400, t("widths"));
    for (int i = 0; i < 15; i++) {
        draw_add_text(&document, page, (struct draw_point){10, 20 + 20 * i}, t(WORDS[i % 5]),
                      3.7 + i, (enum draw_face)(i / 5), DRAW_START, DRAW_BLACK);
    }
    struct base_text pdf;
    assert_int_equal(draw_paint_pdf(arena, &document, &pdf), BASE_OK);
    write_file("widths.pdf", pdf);
    int status = -1;
    const char *at = run_on(arena, "pdftotext -bbox", "widths.pdf", "-", &status).bytes;
    for (int i = 0; i < 15; i++) {
        at = strstr(at + 1, "<word xMin=");
        assert_non_null(at);
        double from_pt = 0;
        double to_pt = 0;
        assert_int_equal(
            sscanf(at, "<word xMin=\"%lf\" yMin=\"%*f\" xMax=\"%lf\"", &from_pt, &to_pt), 2);
        double wanted_mm = draw_text_width(t(WORDS[i % 5]), 3.7 + i, (enum draw_face)(i / 5));
        check_near((to_pt - from_pt) * 25.4 / 72, wanted_mm, 0.001 * wanted_mm);
    }
    base_free_arena(arena);
}

static void same_document_gives_the_same_bytes(void **state) {
    (void)state;
    struct base_arena *first = base_make_arena(0);
    struct base_arena *second = base_make_arena(0);
    base_take(second, 12345, 1); /* other addresses */
    assert_true(base_text_equal(paint_sample(first), paint_sample(second)));
    base_free_arena(first);
    base_free_arena(second);
}

static void without_its_font_nothing_is_painted(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_sample(arena);
    struct base_text pdf;
    const char *const *ours = draw_font_files;
    const char *const missing[] = {ours[0], ours[1], "/nowhere/Carlito-Italic.ttf"};
    const char *const swapped[] = {ours[1], ours[0], ours[2]};
    const char *const no_font[] = {ours[0], ours[1], "/dev/null"};
    assert_int_equal(draw_paint_pdf_with(arena, &document, missing, &pdf), BASE_STOPPED);
    assert_int_equal(draw_paint_pdf_with(arena, &document, swapped, &pdf), BASE_STOPPED);
    assert_int_equal(draw_paint_pdf_with(arena, &document, no_font, &pdf), BASE_STOPPED);
    assert_int_equal(pdf.length, 0);
    assert_int_equal(draw_paint_pdf_with(arena, &document, ours, &pdf), BASE_OK);
    base_free_arena(arena);
}

static enum base_status paint_small(struct base_arena *arena) {
    struct draw_document document = make_document(arena);
    struct draw_page *page = draw_add_page(&document, 100, 100, t("p"));
    struct draw_boxes boxes = {.arena = arena};
    add_plan(&document, page);
    draw_take_shapes(&boxes, page);
    struct draw_dimension dimension = {
        .a = {0, 9}, .b = {50, 9}, .label = draw_length_of(t("4 1/2\"")), .boxes = &boxes};
    draw_add_dimension(&document, page, &dimension);
    add_pieces(&document, page, 20);
    struct base_text pdf;
    enum base_status status = draw_paint_pdf(arena, &document, &pdf);
    if (status == BASE_OK && draw_paint_svg(arena, &document, 0).length > 0) {
        draw_paint_text(arena, &document);
    }
    return base_arena_failed(arena) ? BASE_NO_MEMORY : status;
}

static void a_failing_take_is_no_memory_and_nothing_else(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    assert_int_equal(paint_small(arena), BASE_OK);
    size_t takes = base_take_count(arena);
    base_free_arena(arena);
    for (size_t nth = 1; nth <= takes; nth++) {
        arena = base_make_arena(0);
        base_fail_take(arena, nth);
        assert_int_equal(paint_small(arena), BASE_NO_MEMORY);
        base_free_arena(arena);
    }
}

/* ---- widths -----------------------------------------------------------------------------------
 */

/* Advances read off the font with another program (FreeType, unscaled): H 1276, 1 1038, blank 463,
 * double prime 820, of 2048. FOUND */
static void width_is_the_sum_of_the_fonts_advances(void **state) {
    (void)state;
    check_near(draw_text_width(t("H1 1"), 2048, DRAW_REGULAR), 1276 + 1038 + 463 + 1038, 1e-9);
    check_near(draw_text_width(t("\xE2\x80\xB3"), 20.48, DRAW_REGULAR), 8.20, 1e-9);
    check_near(draw_text_width(t(""), 3, DRAW_BOLD), 0, 0);
    for (int face = 0; face < DRAW_FACES; face++) { /* columns of figures line up */
        for (uint32_t digit = '0'; digit <= '9'; digit++) {
            check_near(draw_code_width(digit, 2048, (enum draw_face)face), 1038, 1e-9);
        }
    }
}

static void every_sign_a_shop_writes_has_a_glyph(void **state) {
    (void)state;
    static const uint32_t SIGNS[] = {0x2032, 0x2033, 0xB0,   0xB1,   0xD7,   0x2013, 0x2014, 0xB2,
                                     0xB3,   0xBD,   0xBC,   0xBE,   0x215B, 0x215E, 0x2192, 0x2190,
                                     0x2300, 0xD8,   0x2264, 0x2248, 0xA0,   0x2019, 0x201C, 0x20AC,
                                     0x141,  0x17E,  0x3C0,  0x2044, 0x2022, 0x2212, 0x2011, 0xAD};
    for (size_t i = 0; i < sizeof SIGNS / sizeof *SIGNS; i++) {
        uint32_t painted = draw_painted_code(SIGNS[i]);
        assert_int_not_equal(painted, '?');
        assert_true(draw_code_width(painted, 1, DRAW_REGULAR) > 0);
    }
    assert_int_equal(draw_painted_code(0x4E2D), '?'); /* no Chinese in this font */
    check_near(draw_text_width(t("\xE4\xB8\xAD"), 5, DRAW_BOLD),
               draw_text_width(t("?"), 5, DRAW_BOLD), 0);
}

static void last_fraction_of_a_length_is_stacked(void **state) {
    (void)state;
    struct draw_label label = draw_length_of(t("28' 6 1/2\""));
    assert_true(base_text_is(label.whole, "28' 6"));
    assert_true(base_text_is(label.tail, "\""));
    assert_int_equal(label.numerator, 1);
    assert_int_equal(label.denominator, 2);
    label = draw_length_of(t("28-6-13/16\""));
    assert_true(base_text_is(label.whole, "28-6"));
    assert_int_equal(label.numerator, 13);
    assert_int_equal(draw_length_of(t("3/4\"")).whole.length, 0);
    assert_int_equal(draw_length_of(t("3/4\"")).denominator, 4);
    static const char *const PLAIN[] = {"",     "/",       "28' 6\"",    "1/0",
                                        "a/b",  "hall1/2", "1/2/3",      "x1/2",
                                        "1/2x", "99999/2", "runs/porch", "1/"};
    for (size_t i = 0; i < sizeof PLAIN / sizeof *PLAIN; i++) {
        assert_int_equal(draw_length_of(t(PLAIN[i])).denominator, 0);
    }
    assert_int_equal(draw_label_of(t("9/12")).denominator, 0);
}

static void stacked_length_is_narrower_than_the_plain_one(void **state) {
    (void)state;
    for (int numerator = 1; numerator < 64; numerator++) {
        char text[32];
        snprintf(text, sizeof text, "12' 3 %d/64\"", numerator);
        struct draw_label label = draw_length_of(t(text));
        double width_mm = draw_label_width(label, 4, DRAW_REGULAR);
        assert_true(width_mm < draw_text_width(t(text), 4, DRAW_REGULAR));
        assert_true(width_mm > draw_text_width(t("12' 3\""), 4, DRAW_REGULAR));
    }
}

/* ---- lines, tables ----------------------------------------------------------------------------
 */

static uint32_t
next_random(uint32_t *seed) { /* xorshift; the seed is printed by no failure: fixed */
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed;
}

static void broken_lines_fit_and_lose_nothing_but_blanks(void **state) {
    (void)state;
    static const char LETTERS[] = "aWil  .-/\n1f";
    uint32_t seed = 20260102;
    for (int round = 0; round < 300; round++) {
        struct base_arena *arena = base_make_arena(0);
        char bytes[120];
        size_t length = next_random(&seed) % sizeof bytes;
        for (size_t i = 0; i < length; i++) {
            bytes[i] = LETTERS[next_random(&seed) % (sizeof LETTERS - 1)];
        }
        double width_mm = 6 + next_random(&seed) % 40;
        struct base_text text = {bytes, length};
        struct base_text *lines = NULL;
        size_t count = draw_break_lines(arena, text, 4, DRAW_REGULAR, width_mm, &lines);
        assert_true(count >= 1);
        size_t at = 0;
        for (size_t i = 0; i < count; i++) {
            assert_true(draw_text_width(lines[i], 4, DRAW_REGULAR) <= width_mm + 0.01);
            for (size_t j = 0; j < lines[i].length; j++, at++) {
                while (bytes[at] != lines[i].bytes[j]) {
                    assert_true(bytes[at] == ' ' || bytes[at] == '\n');
                    at++;
                }
            }
        }
        for (; at < length; at++) {
            assert_true(bytes[at] == ' ' || bytes[at] == '\n');
        }
        base_free_arena(arena);
    }
}

static void table_goes_on_over_pages_and_drops_no_row(void **state) {
    (void)state;
    enum { ROWS = 57 };
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_document(arena);
    static const struct draw_column COLUMNS[] = {{20, DRAW_START, {"No", 2}},
                                                 {0, DRAW_START, {"Text", 4}}};
    static char numbers[ROWS][4];
    struct draw_cell cells[ROWS][2];
    for (int i = 0; i < ROWS; i++) {
        snprintf(numbers[i], 4, "r%02d", i);
        const char *text = i % 7 == 0 ? "a longer text that must go on a second line" : "short";
        cells[i][0] = (struct draw_cell){.label = draw_label_of(t(numbers[i]))};
        cells[i][1] = (struct draw_cell){.label = draw_label_of(t(text))};
    }
    size_t row = 0;
    while (row < ROWS) {
        struct draw_page *page = draw_add_page(&document, 80, 100, t("rows"));
        struct draw_table table = {.at = {10, 10},
                                   .width_mm = 60,
                                   .columns = COLUMNS,
                                   .cells = cells[0],
                                   .column_count = 2,
                                   .row_count = ROWS,
                                   .size_mm = 3.5,
                                   .bottom_mm = 90,
                                   .fresh_page = true};
        struct draw_table_end end = draw_add_table(&document, page, &table, row);
        assert_true(end.next_row > row && end.y_mm <= 90);
        row = end.next_row;
    }
    assert_true(document.count > 2);
    struct base_text list = draw_paint_text(arena, &document);
    for (int i = 0; i < ROWS; i++) {
        assert_true(contains(list, numbers[i]));
    }
    for (size_t i = 0; i < document.count; i++) {
        for (size_t j = 0; j < document.pages[i].count; j++) {
            struct draw_box box = draw_find_box(&document.pages[i].shapes[j]);
            assert_true(box.left_mm >= 9.9 && box.right_mm <= 70.1 && box.bottom_mm <= 90.1);
        }
    }
    base_free_arena(arena);
}

static void row_that_is_too_high_waits_for_a_fresh_page(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_document(arena);
    struct draw_page *page = draw_add_page(&document, 80, 100, t("p"));
    static const struct draw_column COLUMN = {20, DRAW_START, {"No", 2}};
    struct draw_cell cell = {.label = draw_label_of(t("one"))};
    struct draw_table table = {.at = {10, 85},
                               .width_mm = 60,
                               .columns = &COLUMN,
                               .cells = &cell,
                               .column_count = 1,
                               .row_count = 1,
                               .size_mm = 3.5,
                               .bottom_mm = 90};
    assert_int_equal(draw_add_table(&document, page, &table, 0).next_row, 0);
    assert_int_equal(page->count, 0);
    table.fresh_page = true;
    assert_int_equal(draw_add_table(&document, page, &table, 0).next_row, 1);
    base_free_arena(arena);
}

/* ---- places -----------------------------------------------------------------------------------
 */

/* Is a point inside a turned text's rectangle (without its rim)? */
static bool in_text(const struct draw_shape *text, struct draw_point point) {
    struct draw_point corners[4];
    draw_find_text_corners(text, corners);
    for (int i = 0; i < 4; i++) {
        struct draw_point a = corners[i];
        struct draw_point b = corners[(i + 1) % 4];
        double side =
            (b.x_mm - a.x_mm) * (point.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (point.x_mm - a.x_mm);
        if (side > -1e-9) {
            return false;
        }
    }
    return true;
}

static void dimension_text_never_lies_on_a_line(void **state) {
    (void)state;
    for (int i = 0; i < 400; i++) {
        struct base_arena *arena = base_make_arena(0);
        struct draw_document document = make_document(arena);
        struct draw_page *page = draw_add_page(&document, 300, 300, t("p"));
        double turn_rad = i * 0.31;
        double length_mm = 1 + i % 40;
        struct draw_dimension dimension = {
            .a = {150, 150},
            .b = {150 + length_mm * cos(turn_rad), 150 + length_mm * sin(turn_rad)},
            .offset_mm = i % 3 == 0 ? -8 : 8 * (i % 2),
            .label = draw_length_of(t(i % 2 == 0 ? "12' 6 13/16\"" : "8 mm")),
            .ticks = i % 5 == 0};
        draw_add_dimension(&document, page, &dimension);
        const struct draw_shape *text = &page->shapes[page->count - 1];
        assert_true(text->turn_rad > -DRAW_PI / 2 && text->turn_rad <= DRAW_PI / 2 + 1e-6);
        for (size_t j = 0; j + 1 < page->count; j++) {
            const struct draw_shape *line = &page->shapes[j];
            for (int k = 0; k <= 50; k++) {
                double share_1 = k / 50.0;
                struct draw_point a = line->points[0];
                struct draw_point b = line->points[1];
                assert_false(
                    in_text(text, (struct draw_point){a.x_mm + share_1 * (b.x_mm - a.x_mm),
                                                      a.y_mm + share_1 * (b.y_mm - a.y_mm)}));
            }
        }
        base_free_arena(arena);
    }
}

static void callouts_keep_clear_of_each_other(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_document(arena);
    struct draw_page *page = draw_add_page(&document, 200, 200, t("p"));
    struct draw_boxes boxes = {.arena = arena};
    bool all_free = true;
    for (int i = 0; i < 12; i++) { /* a crowd round one spot */
        struct draw_callout callout = {.at = {100 + i % 4, 100 + i / 4.0},
                                       .label = draw_label_of(t("bracket 12")),
                                       .bounds = {10, 10, 190, 190},
                                       .type = {.size_mm = 3}};
        all_free = draw_add_callout(&document, page, &boxes, &callout) && all_free;
    }
    assert_true(all_free);
    struct draw_boxes texts = {.arena = arena};
    for (size_t i = 0; i < page->count; i++) {
        if (page->shapes[i].kind == DRAW_TEXT) {
            struct draw_box box = draw_find_box(&page->shapes[i]);
            assert_true(draw_is_free(&texts, box));
            draw_take_box(&texts, box);
        }
    }
    assert_int_equal(texts.count, 12);
    base_free_arena(arena);
}

static void callout_without_room_says_so(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_document(arena);
    struct draw_page *page = draw_add_page(&document, 200, 200, t("p"));
    struct draw_boxes boxes = {.arena = arena};
    draw_take_box(&boxes, (struct draw_box){0, 0, 200, 200});
    struct draw_callout callout = {
        .at = {100, 100}, .label = draw_label_of(t("x")), .type = {.size_mm = 3}};
    assert_false(draw_add_callout(&document, page, &boxes, &callout));
    assert_true(page->count > 0);
    base_free_arena(arena);
}

/* ---- hatching ---------------------------------------------------------------------------------
 */

/* Second way: the area is the length of all hatch lines times the gap. */
static void hatch_lines_measure_the_area(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_point corners[] = {{10, 10}, {60, 10}, {60, 40}, {40, 40}, {40, 70}, {10, 70}};
    double area_mm2 = 50 * 60 - 20 * 30; /* plane geometry */
    for (int i = 0; i < 24; i++) {
        struct draw_shape shape = {.kind = DRAW_POLYGON,
                                   .points = corners,
                                   .point_count = 6,
                                   .hatched = true,
                                   .hatch_gap_mm = 0.05,
                                   .hatch_rad = i * DRAW_PI / 24};
        struct draw_point *points = NULL;
        size_t count = draw_find_hatch(arena, &shape, &points);
        double length_mm = 0;
        for (size_t j = 0; j + 1 < count; j += 2) {
            length_mm +=
                hypot(points[j + 1].x_mm - points[j].x_mm, points[j + 1].y_mm - points[j].y_mm);
        }
        check_near(length_mm * 0.05, area_mm2, 0.005 * area_mm2);
    }
    base_free_arena(arena);
}

/* ---- SVG and text ------------------------------------------------------------------------------
 */

static size_t count_of(struct base_text text, const char *wanted) {
    size_t count = 0;
    size_t length = strlen(wanted);
    for (size_t i = 0; i + length <= text.length; i++) {
        count += memcmp(text.bytes + i, wanted, length) == 0;
    }
    return count;
}

static void svg_holds_real_text_and_each_id_once(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_document(arena);
    struct draw_page *page = draw_add_page(&document, 215.9, 279.4, t("a & b"));
    struct draw_type type = {.size_mm = 4, .id = t("runs/hall/depth_m")};
    draw_add_label(&document, page, (struct draw_point){10, 10}, draw_label_of(t("<5 & \"6\">")),
                   type);
    draw_add_label(&document, page, (struct draw_point){10, 20}, draw_length_of(t("28' 6 1/2\"")),
                   type);
    struct base_text svg = draw_paint_svg(arena, &document, 0);
    assert_true(contains(svg, "viewBox=\"0 0 215.900 279.400\""));
    assert_true(contains(svg, "<title>a &amp; b</title>"));
    assert_true(contains(svg, ">&lt;5 &amp; &quot;6&quot;&gt;</text>"));
    assert_true(contains(svg, ">28' 6 1/2&quot;</text>"));
    assert_int_equal(count_of(svg, "id=\"_runs-hall-depth_m\""), 1);
    assert_int_equal(count_of(svg, "<title>runs/hall/depth_m</title>"), 2);
    assert_int_equal(count_of(svg, "<g"), count_of(svg, "</g>"));
    assert_int_equal(count_of(svg, "<text"), count_of(svg, "</text>"));
    base_free_arena(arena);
}

static void bytes_that_are_no_text_harm_nothing(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_document(arena);
    document.title = t("\xFF");
    struct draw_page *page = draw_add_page(&document, 100, 100, t("\xC3\x28"));
    draw_add_text(&document, page, (struct draw_point){5, 5},
                  t("a\x01"
                    "b\xE2\x82"
                    "c\xED\xA0\x80"
                    "d\xC0\xAF\xF5"),
                  4, DRAW_REGULAR, DRAW_START, DRAW_BLACK);
    assert_true(base_text_is(page->shapes[0].text, "a b??c???d???"));
    struct base_text pdf;
    assert_int_equal(draw_paint_pdf(arena, &document, &pdf), BASE_OK);
    base_free_arena(arena);
}

static void display_list_is_written_a_shape_a_line(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document document = make_document(arena);
    struct draw_page *page = draw_add_page(&document, 215.9, 279.4, t("Plan"));
    draw_add_line(&document, page, (struct draw_point){1, 2.005}, (struct draw_point){-0.001, 4},
                  0.25, DRAW_CENTRE, DRAW_COPPER);
    draw_add_circle(&document, page, (struct draw_point){5, 6}, 1.5,
                    (struct draw_look){.filled = true, .fill = DRAW_LIGHT});
    draw_add_arc(&document, page, (struct draw_arc){{5, 6}, 2, DRAW_PI, 0},
                 (struct draw_look){.width_mm = 0.5, .id = t("a/b")});
    draw_add_label(&document, page, (struct draw_point){7, 8}, draw_length_of(t("6 1/2\"")),
                   (struct draw_type){.size_mm = 3.5, .anchor = DRAW_END, .turn_rad = DRAW_PI / 2});
    draw_add(&document, page,
             (struct draw_shape){.kind = DRAW_FRACTION,
                                 .points = (struct draw_point[]){{1, 1}},
                                 .point_count = 1,
                                 .whole = t("3'"),
                                 .numerator = 1,
                                 .denominator = 8,
                                 .tail = t("\""),
                                 .size_mm = 3});
    assert_true(base_text_is(draw_paint_text(arena, &document),
                             "document \"Sallowfield porch\"\n"
                             "page 1 215.90 x 279.40 \"Plan\"\n"
                             "line 1.00,2.01 0.00,4.00 outline 0.25 centre copper\n"
                             "circle 5.00,6.00 filled light radius 1.50\n"
                             "arc 5.00,6.00 outline 0.50 solid black radius 2.00 from 180.00 to "
                             "360.00 id \"a/b\"\n"
                             "fraction 7.00,8.00 3.50 regular end black turn 90.00 \"6 1/2\\\"\"\n"
                             "fraction 1.00,1.00 3.00 regular start black \"3' 1/8\\\"\"\n"));
    base_free_arena(arena);
}

/* Plane geometry: the lower half circle of radius 2 about (5, 6), page y down. */
static void box_of_an_arc_is_what_it_covers(void **state) {
    (void)state;
    struct draw_point centre = {5, 6};
    struct draw_shape arc = {.kind = DRAW_ARC,
                             .points = &centre,
                             .point_count = 1,
                             .radius_mm = 2,
                             .from_rad = DRAW_PI,
                             .to_rad = 2 * DRAW_PI};
    struct draw_box box = draw_find_box(&arc);
    check_near(box.left_mm, 3, 1e-9);
    check_near(box.right_mm, 7, 1e-9);
    check_near(box.top_mm, 6, 1e-9);
    check_near(box.bottom_mm, 8, 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pdf_passes_qpdf),
        cmocka_unit_test(pdf_text_is_found_as_it_was_written),
        cmocka_unit_test(painted_width_is_the_width_of_the_table),
        cmocka_unit_test(same_document_gives_the_same_bytes),
        cmocka_unit_test(without_its_font_nothing_is_painted),
        cmocka_unit_test(a_failing_take_is_no_memory_and_nothing_else),
        cmocka_unit_test(width_is_the_sum_of_the_fonts_advances),
        cmocka_unit_test(every_sign_a_shop_writes_has_a_glyph),
        cmocka_unit_test(last_fraction_of_a_length_is_stacked),
        cmocka_unit_test(stacked_length_is_narrower_than_the_plain_one),
        cmocka_unit_test(broken_lines_fit_and_lose_nothing_but_blanks),
        cmocka_unit_test(table_goes_on_over_pages_and_drops_no_row),
        cmocka_unit_test(row_that_is_too_high_waits_for_a_fresh_page),
        cmocka_unit_test(dimension_text_never_lies_on_a_line),
        cmocka_unit_test(callouts_keep_clear_of_each_other),
        cmocka_unit_test(callout_without_room_says_so),
        cmocka_unit_test(hatch_lines_measure_the_area),
        cmocka_unit_test(svg_holds_real_text_and_each_id_once),
        cmocka_unit_test(bytes_that_are_no_text_harm_nothing),
        cmocka_unit_test(display_list_is_written_a_shape_a_line),
        cmocka_unit_test(box_of_an_arc_is_what_it_covers),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
