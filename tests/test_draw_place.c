/* SPDX-License-Identifier: Apache-2.0 */
/* draw: widths, stacked fractions, lines and tables, and labels that keep clear. */
#include "draw/draw_inside.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

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
            assert_true(box.left_mm >= 9.8 && box.right_mm <= 70.2 && box.bottom_mm <= 90.2);
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
        cmocka_unit_test(box_of_an_arc_is_what_it_covers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
