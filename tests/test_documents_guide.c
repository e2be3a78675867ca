/* SPDX-License-Identifier: Apache-2.0 */
/* The measuring guide: its pages, and that what comes back on them can be typed and closes. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "documents/guide_inside.h"
#include "house.h"

/* ---- the pages ------------------------------------------------------------------------------- */

static size_t count_text(const struct draw_page *page, struct base_text wanted) {
    size_t count = 0;
    for (size_t i = 0; i < page->count; i++) {
        count += page->shapes[i].kind == DRAW_TEXT && base_text_equal(page->shapes[i].text, wanted);
    }
    return count;
}

static const struct draw_page *find_page(const struct draw_document *guide, const char *title) {
    for (size_t i = 0; i < guide->count; i++) {
        if (base_text_is(guide->pages[i].title, title)) {
            return &guide->pages[i];
        }
    }
    return NULL;
}

static void there_is_one_page_for_each_kind_of_eave(void **state) {
    (void)state;
    for (int system = UNITS_FT_IN; system <= UNITS_MM; system++) {
        struct base_arena *arena = base_make_arena(0);
        struct draw_document guide;
        assert_int_equal(documents_draw_guide(arena, (enum units_system)system, &guide), BASE_OK);
        assert_int_equal(guide.count, 2 + GUIDE_PAGES); /* the walk takes two */
        for (size_t i = 0; i < GUIDE_PAGES; i++) {
            assert_non_null(find_page(&guide, guide_pages[i].title));
        }
        base_free_arena(arena);
    }
}

/* A letter beside a blank is a letter of the drawing. */
static void every_letter_stands_in_the_drawing_and_at_a_blank(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document guide;
    assert_int_equal(documents_draw_guide(arena, UNITS_FT_IN, &guide), BASE_OK);
    size_t letters = 0;
    for (size_t i = 0; i < GUIDE_PAGES; i++) {
        const struct draw_page *page = find_page(&guide, guide_pages[i].title);
        for (size_t k = 0; k < guide_pages[i].row_count; k++) {
            const char *letter = guide_pages[i].rows[k].letter;
            for (size_t c = 0; c < strlen(letter); c += 3) { /* "A" or "D, E" */
                struct base_text one = {letter + c, 1};
                size_t count = count_text(page, one) +
                               (one.bytes[0] == 'A' &&
                                count_text(page, base_text_of("A, along the roof edge")) > 0);
                if (count != 2) {
                    print_error("%s: %c stands there %zu times\n", guide_pages[i].title,
                                one.bytes[0], count);
                }
                assert_int_equal(count, 2);
                letters++;
            }
        }
    }
    assert_true(letters > 30);
    base_free_arena(arena);
}

static void nothing_runs_over_the_edge_of_a_page(void **state) {
    (void)state;
    for (int system = UNITS_FT_IN; system <= UNITS_MM; system++) {
        struct base_arena *arena = base_make_arena(0);
        struct draw_document guide;
        assert_int_equal(documents_draw_guide(arena, (enum units_system)system, &guide), BASE_OK);
        for (size_t i = 0; i < guide.count; i++) {
            const struct draw_page *page = &guide.pages[i];
            double foot_mm = page->height_mm - DOCUMENTS_MARGIN_MM + 1.0;
            for (size_t k = 0; k < page->count; k++) {
                struct draw_box box = draw_find_box(&page->shapes[k]);
                bool is_foot = box.top_mm > foot_mm - 1.0;
                if (box.right_mm > page->width_mm - DOCUMENTS_MARGIN_MM + 0.6) {
                    print_error("page %zu: %.*s\n", i + 1, (int)page->shapes[k].text.length,
                                page->shapes[k].text.bytes);
                }
                assert_true(box.left_mm >= DOCUMENTS_MARGIN_MM - 0.6);
                assert_true(box.right_mm <= page->width_mm - DOCUMENTS_MARGIN_MM + 0.6);
                assert_true(box.top_mm >= DOCUMENTS_MARGIN_MM - 3.0);
                assert_true(is_foot || box.bottom_mm <= foot_mm);
            }
        }
        base_free_arena(arena);
    }
}

static void no_memory_is_said_whichever_take_fails(void **state) {
    (void)state;
    struct base_arena *whole = base_make_arena(0);
    struct draw_document guide;
    assert_int_equal(documents_draw_guide(whole, UNITS_FT_IN, &guide), BASE_OK);
    size_t takes = base_take_count(whole);
    base_free_arena(whole);
    for (size_t nth = 1; nth <= takes; nth += 1 + nth / 16) {
        struct base_arena *arena = base_make_arena(0);
        base_fail_take(arena, nth);
        assert_int_equal(documents_draw_guide(arena, UNITS_FT_IN, &guide), BASE_NO_MEMORY);
        base_free_arena(arena);
    }
}

/* ---- typed again ----------------------------------------------------------------------------- */

/* Blanks of which one or the other is filled in. */
static bool is_other_way(const char *key) {
    static const char *const WAYS[] = {"tails: spacing",
                                       "tails: first",
                                       "tails: positions",
                                       "tails: mend",
                                       "up the roof",
                                       "half polygon: face",
                                       "curve: template",
                                       "wall",
                                       "foot: inside",
                                       "half polygon: stands out",
                                       "regular polygon: across, centre"};
    for (size_t i = 0; i < sizeof WAYS / sizeof WAYS[0]; i++) {
        if (strcmp(WAYS[i], key) == 0) {
            return true;
        }
    }
    return false;
}

/* Where `key:` stands at or behind at; NULL = nowhere. */
static const char *find_key(const char *at, const char *end, struct base_text key) {
    for (; at + key.length < end; at++) {
        if (strncmp(at, key.bytes, key.length) == 0 && at[key.length] == ':') {
            return at;
        }
    }
    return NULL;
}

/* Every blank of the page is typed, in its order. */
static void check_typed(const struct guide_page *page, const char *typed, const char *end) {
    const char *at = typed;
    for (size_t i = 0; i < page->row_count; i++) {
        const char *key = page->rows[i].key;
        const char *colon = strrchr(key, ':');
        const char *part = colon == NULL ? key : colon + 2;
        while (*part != '\0') {
            size_t length = strcspn(part, ",");
            const char *found = find_key(at, end, (struct base_text){part, length});
            if (found == NULL && !is_other_way(key)) {
                print_error("%s: %s is not typed behind what stands before it\n", page->title, key);
            }
            assert_true(found != NULL || is_other_way(key));
            at = found == NULL ? at : found;
            part += length;
            part += strspn(part, ", ");
        }
    }
}

static const struct guide_page *page_named(const char *title) {
    for (size_t i = 0; i < GUIDE_PAGES; i++) {
        if (strcmp(guide_pages[i].title, title) == 0) {
            return &guide_pages[i];
        }
    }
    return NULL;
}

/* The example is a guide filled in: pages of tails, fascia, crown, ways down, as found. */
static void a_filled_guide_is_typed_in_its_order_and_closes(void **state) {
    (void)state;
    size_t length = 0;
    char *typed = check_read_file(TESTS_DIR "/../examples/guide/house.yaml", &length);
    static const struct {
        const char *page;
        const char *from; /* where its typing begins, and what stands behind it */
        const char *to;
    } PAGES[] = {{"Eave with plain rafter tails", "name: front", "name: lane"},
                 {"Eave with plain rafter tails", "name: yard", "name: garden"},
                 {"Eave with a fascia", "name: lane", "name: yard"},
                 {"Eave with a crown moulding", "name: garden", "checks:"},
                 {"Way down for a downspout", "survey:", "as found:"},
                 {"The gutter as found", "as found:", "prices:"}};
    for (size_t i = 0; i < sizeof PAGES / sizeof PAGES[0]; i++) {
        const char *from = strstr(typed, PAGES[i].from);
        assert_non_null(from);
        const char *to = strstr(from, PAGES[i].to);
        assert_non_null(to);
        check_typed(page_named(PAGES[i].page), from, to);
    }
    struct house house = house_solve(typed, NULL, NULL);
    house_must_stand(&house);
    if (!house.solution.safe) {
        house_print_issues(&house);
    }
    assert_true(house.solution.safe);
    assert_int_equal(house.solution.measure.verdict, MEASURE_CLOSES);
    assert_true(house.solution.measure.redundancy >= 2);
    assert_int_equal(house.solution.hang.runs[0].fixing, HANG_WEDGED);
    house_free(&house);
    free(typed);
}

#define HEAD                                                                                       \
    "eavesmith: 1\njob: typed\nunits: ft-in\n"                                                     \
    "place: {rain: {intensity: 6 in/h, minutes: 5, years: 10}, ground snow: 0 psf}\n"

/* A ring of two square corners, one of 101.31 and one of 78.69 degrees, by the corners (0, 0), (30,
 * 0), (34, 20), (0, 20) ft. DERIVED */
static const char WALK[] =
    HEAD "runs:\n"
         "  - {name: front, length: 30', taped on: roof edge, depth: 9', pitch: 6/12,\n"
         "     from: outside corner, to: outside corner taped, eave height: 10', overhang: 12\"}\n"
         "  - {name: lane, length: 20' 4 3/4\", taped on: roof edge, depth: 9', pitch: 6/12,\n"
         "     from: outside corner taped, to: outside corner taped, eave height: 10', overhang: "
         "12\"}\n"
         "  - {name: yard, length: 34', taped on: roof edge, depth: 9', pitch: 6/12,\n"
         "     from: outside corner taped, to: outside corner, eave height: 10', overhang: 12\"}\n"
         "  - {name: garden, length: 20', taped on: roof edge, depth: 9', pitch: 6/12,\n"
         "     from: outside corner, to: outside corner, eave height: 10', overhang: 12\"}\n"
         "checks:\n"
         "  - {name: diagonal, from: front from, to: lane to, length: 39' 5 3/8\"}\n"
         "  - {corner: front to, legs: [3', 4'], across: 5' 5 3/8\"}\n"
         "  - {corner: lane to, legs: [3', 4'], across: 4' 6 1/16\"}\n"
         "outlets: {at: [front from, yard from], discharge: drain}\n";

/* The heads of the forms on the page of the walk, in the order they stand in: form after form. */
static void check_walk_typed(const struct draw_page *page, const char *typed, const char *end) {
    static const char *const FORMS[] = {"runs:", "checks:", "{corner:", "outlets:"};
    static const size_t HEADS[] = {9, 4, 3, 1};
    size_t form = 0;
    size_t heads = 0;
    const char *at = strstr(typed, FORMS[0]);
    for (size_t i = 0; i < page->count; i++) {
        const struct draw_shape *shape = &page->shapes[i];
        if (shape->kind != DRAW_TEXT || shape->face != DRAW_ITALIC || shape->ink != DRAW_COPPER) {
            continue;
        }
        assert_true(form < sizeof FORMS / sizeof FORMS[0]);
        const char *found = find_key(at, end, shape->text);
        if (found == NULL) {
            print_error("%.*s is not typed\n", (int)shape->text.length, shape->text.bytes);
        }
        assert_non_null(found);
        at = found;
        if (++heads == HEADS[form]) {
            heads = 0;
            form++;
            at = form < sizeof FORMS / sizeof FORMS[0] ? strstr(typed, FORMS[form]) : at;
            assert_non_null(at);
        }
    }
    assert_int_equal(form, sizeof FORMS / sizeof FORMS[0]);
}

static void a_filled_walk_with_skew_corners_is_typed_and_closes(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct draw_document guide;
    assert_int_equal(documents_draw_guide(arena, UNITS_FT_IN, &guide), BASE_OK);
    check_walk_typed(find_page(&guide, "The walk"), WALK, WALK + strlen(WALK));
    base_free_arena(arena);
    struct house house = house_solve(WALK, NULL, NULL);
    house_must_stand(&house);
    assert_int_equal(house.solution.measure.verdict, MEASURE_CLOSES);
    assert_true(house.solution.measure.redundancy >= 4);
    check_near(house.solution.job.runs[0].to.corner_rad * 57.29577951308232, 101.31, 0.1);
    check_near(house.solution.job.runs[1].to.corner_rad * 57.29577951308232, 78.69, 0.1);
    assert_true(house.solution.safe);
    house_free(&house);
}

static void a_porch_page_is_typed_and_runs(void **state) {
    (void)state;
    static const char TYPED[] = HEAD
        "runs:\n"
        "  - {name: porch, length: 18' 2\", taped on: roof edge, depth: 7' 10\", pitch: 3/12,\n"
        "     from: end cap, to: wall, eave height: 9' 3\", overhang: 10\"}\n"
        "outlets: {at: [porch from]}\n";
    check_typed(page_named("Porch roof against a wall"), strstr(TYPED, "name: porch"),
                TYPED + strlen(TYPED));
    struct house house = house_solve(TYPED, NULL, NULL);
    house_must_stand(&house);
    assert_true(house.solution.safe);
    house_free(&house);
}

static void a_bay_page_is_typed_and_runs(void **state) {
    (void)state;
    static const char TYPED[] =
        HEAD "wings:\n"
             "  - {name: hall, corner: [0, 0], size: [36', 24'], eave height: 19', pitch: 8/12, "
             "edges: [eave, gable, eave, gable], overhang: 12\"}\n"
             "  - {name: bay, half polygon: {sides: 8, across: 9'}, against: hall 1 at 12', eave "
             "height: 11',\n"
             "     pitch: 6/12, overhang: 8\"}\n"
             "outlets: {allowed: [hall 1 from, hall 1 to, hall 3 from, hall 3 to, bay 4 to]}\n";
    check_typed(page_named("Bay or turret"), strstr(TYPED, "name: bay"), TYPED + strlen(TYPED));
    struct house house = house_solve(TYPED, NULL, NULL);
    house_must_stand(&house);
    house_free(&house);
}

static void a_curve_page_is_typed_and_checked(void **state) {
    (void)state;
    /* 12 ft over a radius of 10: arc 12.870022 ft = 12' 10 7/16". DERIVED, as in test_survey.c */
    static const char TYPED[] = HEAD
        "runs:\n"
        "  - {name: bow, taped on: roof edge, depth: 6', pitch: 4/12, from: end cap, to: end cap,\n"
        "     length: 12' 10 7/16\", curve: {chord: 12', rise: 2', quarter rises: [1' 6 1/2\", 1' "
        "6 "
        "1/2\"]}}\n";
    check_typed(page_named("Curved eave"), strstr(TYPED, "name: bow"), TYPED + strlen(TYPED));
    struct house house = house_solve(TYPED, NULL, NULL);
    assert_int_equal(house.status, BASE_STOPPED);
    assert_int_equal(base_count_severity(&house.issues, BASE_SEVERITY_STOP), 1);
    assert_non_null(house_issue(&house, BASE_ISSUE_CURVE_NOT_LAID_OUT));
    assert_null(house_issue(&house, BASE_ISSUE_CURVE_LENGTH_APART));
    house_free(&house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(there_is_one_page_for_each_kind_of_eave),
        cmocka_unit_test(every_letter_stands_in_the_drawing_and_at_a_blank),
        cmocka_unit_test(nothing_runs_over_the_edge_of_a_page),
        cmocka_unit_test(no_memory_is_said_whichever_take_fails),
        cmocka_unit_test(a_filled_guide_is_typed_in_its_order_and_closes),
        cmocka_unit_test(a_filled_walk_with_skew_corners_is_typed_and_closes),
        cmocka_unit_test(a_porch_page_is_typed_and_runs),
        cmocka_unit_test(a_bay_page_is_typed_and_runs),
        cmocka_unit_test(a_curve_page_is_typed_and_checked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
