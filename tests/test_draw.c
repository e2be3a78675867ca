/* SPDX-License-Identifier: Apache-2.0 */
/* draw: what the three backends write. Widths and placing: test_draw_place.c. */
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
    assert_true(end.next_row == 4 || base_arena_failed(document->arena));
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

/* Every painted word is as wide as the table says, save that cairo cuts the widths it writes into
 * the PDF to whole thousandths of an em. Letters that would be kerned (AV, To) or joined (ffi) are
 * among them; each such pair would change the width by 0.02 em and more. */
static void painted_width_is_the_width_of_the_table(void **state) {
    (void)state;
    if (!have_program("pdftotext")) {
        skip();
    }
    static const char *const WORDS[] = {"AVATARToWaYe", "office-affiliate-fjord", "0123456789.,$%",
                                        "28'61/2\"+-",
                                        ("\xC5\x81\xC3\xB3"
                                         "d\xC5\xBA\xCE\xB1\xC2\xBD")};
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
        const char *from = strstr(at, "xMin=\"");
        const char *to = strstr(at, "xMax=\"");
        assert_non_null(from);
        assert_non_null(to);
        double from_pt = strtod(from + 6, NULL);
        double to_pt = strtod(to + 6, NULL);
        double wanted_mm = draw_text_width(t(WORDS[i % 5]), 3.7 + i, (enum draw_face)(i / 5));
        double cut_mm = 0.001 * (3.7 + i) * (double)strlen(WORDS[i % 5]);
        double painted_mm = (to_pt - from_pt) * 25.4 / 72;
        check_near(painted_mm, wanted_mm - cut_mm / 2, cut_mm / 2 + 1e-4);
        check_near(painted_mm, wanted_mm, 0.002 * wanted_mm);
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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pdf_passes_qpdf),
        cmocka_unit_test(pdf_text_is_found_as_it_was_written),
        cmocka_unit_test(painted_width_is_the_width_of_the_table),
        cmocka_unit_test(same_document_gives_the_same_bytes),
        cmocka_unit_test(without_its_font_nothing_is_painted),
        cmocka_unit_test(a_failing_take_is_no_memory_and_nothing_else),
        cmocka_unit_test(svg_holds_real_text_and_each_id_once),
        cmocka_unit_test(bytes_that_are_no_text_harm_nothing),
        cmocka_unit_test(display_list_is_written_a_shape_a_line),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
