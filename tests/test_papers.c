/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The examples from file to paper: every leaf can be asked why, the list of fields and the file
 * agree, and the display lists are what they were (tests/golden; EAVESMITH_UPDATE=1 writes them
 * anew).
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "cli/cli.h"
#include "documents/documents.h"
#include "result/result.h"

static const char *const EXAMPLES[] = {"porch/porch",   "demo/house",   "metric/barn",
                                       "order/order",   "survey/house", "guide/house",
                                       "outline/house", "gauge/house",  "lodge/house"};
enum { EXAMPLE_COUNT = sizeof EXAMPLES / sizeof EXAMPLES[0] };

static const char *file_of(char *name, size_t size, const char *folder, const char *stem,
                           const char *ending) {
    int length = snprintf(name, size, "%s/%s%s", folder, stem, ending);
    assert_true(length > 0 && (size_t)length < size);
    return name;
}

static int load(struct cli_job *job, int example, struct base_trace *trace) {
    char name[512];
    return cli_load(
        job, file_of(name, sizeof name, TESTS_DIR "/../examples", EXAMPLES[example], ".yaml"),
        trace);
}

static struct result_leaves leaves_of(struct cli_job *job) {
    struct result_leaves leaves = {0};
    assert_true(result_write(job->arena, job->solution, &job->issues, &leaves).length > 0);
    return leaves;
}

/* "runs/porch/size" against a pattern with a star for one key. */
static bool matches(struct base_text path, const char *pattern) {
    size_t at = 0;
    while (*pattern != '\0') {
        if (*pattern == '*') {
            size_t start = at;
            while (at < path.length && path.bytes[at] != '/') {
                at++;
            }
            if (at == start) {
                return false;
            }
            pattern++;
        } else if (at < path.length && path.bytes[at] == *pattern) {
            at++;
            pattern++;
        } else {
            return false;
        }
    }
    return at == path.length;
}

static void every_leaf_stands_in_the_list_with_its_unit_and_meaning(void **state) {
    (void)state;
    bool seen[RESULT_FIELD_COUNT] = {false};
    for (int example = 0; example < EXAMPLE_COUNT; example++) {
        struct cli_job job;
        assert_int_equal(load(&job, example, NULL), CLI_FINE);
        struct result_leaves leaves = leaves_of(&job);
        for (size_t i = 0; i < leaves.count; i++) {
            const struct result_leaf *leaf = &leaves.items[i];
            if (!matches(leaf->path, result_field_pattern(leaf->field))) {
                print_error("%.*s against %s\n", (int)leaf->path.length, leaf->path.bytes,
                            result_field_pattern(leaf->field));
            }
            assert_true(matches(leaf->path, result_field_pattern(leaf->field)));
            assert_int_equal(leaf->value.unit, result_field_unit(leaf->field));
            assert_true(strlen(result_field_note(leaf->field)) > 0);
            seen[leaf->field] = true;
        }
        base_free_arena(job.arena);
    }
    for (int field = 0; field < RESULT_FIELD_COUNT; field++) {
        if (!seen[field]) {
            print_error("%s is written by no example\n",
                        result_field_pattern((enum result_field)field));
        }
        assert_true(seen[field]);
    }
}

static bool is_leaf(const struct result_leaves *leaves, struct base_text path) {
    for (size_t i = 0; i < leaves->count; i++) {
        if (base_text_equal(leaves->items[i].path, path)) {
            return true;
        }
    }
    return false;
}

/* A reason that belongs to no number could never be asked for. */
static void every_reason_belongs_to_a_leaf(void **state) {
    (void)state;
    size_t notes = 0;
    for (int example = 0; example < EXAMPLE_COUNT; example++) {
        struct cli_job job;
        struct base_trace trace = {0};
        assert_int_equal(load(&job, example, &trace), CLI_FINE);
        struct result_leaves leaves = leaves_of(&job);
        for (size_t i = 0; i < trace.count; i++) {
            if (!is_leaf(&leaves, trace.notes[i].path)) {
                print_error("%.*s\n", (int)trace.notes[i].path.length, trace.notes[i].path.bytes);
            }
            assert_true(is_leaf(&leaves, trace.notes[i].path));
            notes++;
        }
        base_free_arena(job.arena);
    }
    assert_true(notes > 200);
}

/* These say where they come from in their meaning alone: read from the job or the price list, or a
 * plain count or sum. */
static bool is_plain(enum result_field field) {
    switch ((int)field) {
    case RESULT_VERSION:
    case RESULT_RAIN_DURATION:
    case RESULT_RAIN_YEARS:
    case RESULT_ROOF_AREA:
    case RESULT_ITEM_SAID:
    case RESULT_ITEM_SAID_RAD:
    case RESULT_MANNING:
    case RESULT_SETTLED:
    case RESULT_SAGGED:
    case RESULT_ICE:
    case RESULT_STORM_CLIMATE:
    case RESULT_STORM_RECORDED:
    case RESULT_STORM_WINDOW:
    case RESULT_POUR_AREA:
    case RESULT_POUR_X:
    case RESULT_LINK_AREA:
    case RESULT_DECK_AREA:
    case RESULT_DECK_WIDTH:
    case RESULT_DECK_EDGE:
    case RESULT_RUN_EAVE:
    case RESULT_RUN_PITCH:
    case RESULT_RUN_AREA:
    case RESULT_RUN_SLOPE:
    case RESULT_HIGH_X:
    case RESULT_REACH_LENGTH:
    case RESULT_REACH_AREA:
    case RESULT_REACH_STILL:
    case RESULT_REACH_END:
    case RESULT_REACH_DEPTH_X:
    case RESULT_REACH_FREEBOARD:
    case RESULT_REACH_HOLDS:
    case RESULT_REACH_RESIDUAL:
    case RESULT_DOWN_ELBOW:
    case RESULT_DOWN_GROUND:
    case RESULT_DOWN_STAND:
    case RESULT_JOG_OVER:
    case RESULT_JOG_OFFSET:
    case RESULT_JOG_ELBOW:
    case RESULT_JOG_TRAVEL:
    case RESULT_JOG_STAND:
    case RESULT_SURVEY_GROUND:
    case RESULT_SURVEY_SOFFIT:
    case RESULT_SURVEY_BOOT:
    case RESULT_BELT_HEIGHT:
    case RESULT_BELT_PROJECTION:
    case RESULT_FOUND_SIZE:
    case RESULT_FOUND_BEAD:
    case RESULT_FOUND_SPACING:
    case RESULT_FOUND_PIPE:
    case RESULT_HANG_WEDGE_FACE:
    case RESULT_HANG_WEDGE_WIDE:
    case RESULT_HANG_LONGEST:
    case RESULT_HANG_LIMIT:
    case RESULT_PIECE_COUNT:
    case RESULT_PIECE_LENGTH:
    case RESULT_PIECE_ANGLE:
    case RESULT_TOTAL_MASS:
    case RESULT_LINE_COUNT:
    case RESULT_LINE_LENGTH:
    case RESULT_LINE_MASS:
    case RESULT_LINE_UNIT:
    case RESULT_MONEY_SUM:
    case RESULT_MONEY_TAX:
        return true;
    default:
        return false;
    }
}

static bool has_reason(const struct base_trace *trace, struct base_text path) {
    for (size_t i = 0; i < trace->count; i++) {
        if (base_text_equal(trace->notes[i].path, path)) {
            return strlen(trace->notes[i].formula) > 0 && strlen(trace->notes[i].source) > 0;
        }
    }
    return false;
}

static void every_computed_number_has_its_formula_and_source(void **state) {
    (void)state;
    for (int example = 0; example < EXAMPLE_COUNT; example++) {
        struct cli_job job;
        struct base_trace trace = {0};
        assert_int_equal(load(&job, example, &trace), CLI_FINE);
        struct result_leaves leaves = leaves_of(&job);
        for (size_t i = 0; i < leaves.count; i++) {
            const struct result_leaf *leaf = &leaves.items[i];
            bool is_word = leaf->value.unit == BASE_UNIT_TEXT || leaf->value.unit == BASE_UNIT_WORD;
            if (is_word || is_plain(leaf->field)) {
                continue;
            }
            if (!has_reason(&trace, leaf->path)) {
                print_error("no reason for %.*s\n", (int)leaf->path.length, leaf->path.bytes);
            }
            assert_true(has_reason(&trace, leaf->path));
        }
        base_free_arena(job.arena);
    }
}

static void paths_are_told_apart(void **state) {
    (void)state;
    struct cli_job job;
    assert_int_equal(load(&job, 1, NULL), CLI_FINE);
    struct result_leaves leaves = leaves_of(&job);
    for (size_t i = 0; i < leaves.count; i++) {
        for (size_t k = i + 1; k < leaves.count; k++) {
            assert_false(base_text_equal(leaves.items[i].path, leaves.items[k].path));
        }
    }
    base_free_arena(job.arena);
}

/* The same job walked twice, traced or not, gives the same bytes. */
static void trace_changes_no_byte(void **state) {
    (void)state;
    for (int example = 0; example < EXAMPLE_COUNT; example++) {
        struct cli_job silent;
        struct cli_job traced;
        struct base_trace trace = {0};
        assert_int_equal(load(&silent, example, NULL), CLI_FINE);
        assert_int_equal(load(&traced, example, &trace), CLI_FINE);
        struct base_text a = result_write(silent.arena, silent.solution, &silent.issues, NULL);
        struct base_text b = result_write(traced.arena, traced.solution, &traced.issues, NULL);
        assert_true(base_text_equal(a, b));
        base_free_arena(silent.arena);
        base_free_arena(traced.arena);
    }
}

static void check_golden(struct base_arena *arena, const char *stem, struct base_text now) {
    char flat[64];
    size_t length = strlen(stem);
    assert_true(length < sizeof flat);
    for (size_t i = 0; i <= length; i++) {
        flat[i] = (char)(stem[i] == '/' ? '-' : stem[i]);
    }
    char name[512];
    file_of(name, sizeof name, TESTS_DIR "/golden", flat, ".txt");
    if (getenv("EAVESMITH_UPDATE") != NULL) {
        FILE *file = fopen(name, "wb");
        assert_non_null(file);
        assert_int_equal(fwrite(now.bytes, 1, now.length, file), now.length);
        assert_int_equal(fclose(file), 0);
    }
    struct base_text was;
    assert_true(cli_read_file(arena, name, &was));
    size_t at = 0;
    int line = 1;
    while (at < was.length && at < now.length && was.bytes[at] == now.bytes[at]) {
        line += was.bytes[at] == '\n';
        at++;
    }
    if (at < was.length || at < now.length) {
        print_error("%s differs from line %d on; EAVESMITH_UPDATE=1 writes it anew\n", name, line);
    }
    assert_true(at == was.length && at == now.length);
}

static void display_lists_are_what_they_were(void **state) {
    (void)state;
    for (int example = 0; example < EXAMPLE_COUNT; example++) {
        struct cli_job job;
        assert_int_equal(load(&job, example, NULL), CLI_FINE);
        struct draw_document packet;
        assert_int_equal(documents_draw_packet(job.arena, job.solution, &job.issues, &packet),
                         BASE_OK);
        check_golden(job.arena, EXAMPLES[example], draw_paint_text(job.arena, &packet));
        base_free_arena(job.arena);
    }
}

/* Nothing on a page runs over its edge. */
static void every_shape_stays_on_its_page(void **state) {
    (void)state;
    for (int example = 0; example < EXAMPLE_COUNT; example++) {
        struct cli_job job;
        assert_int_equal(load(&job, example, NULL), CLI_FINE);
        struct draw_document packet;
        assert_int_equal(documents_draw_packet(job.arena, job.solution, &job.issues, &packet),
                         BASE_OK);
        for (size_t i = 0; i < packet.count; i++) {
            const struct draw_page *page = &packet.pages[i];
            for (size_t k = 0; k < page->count; k++) {
                struct draw_box box = draw_find_box(&page->shapes[k]);
                bool inside = box.left_mm >= 8 && box.top_mm >= 8 &&
                              box.right_mm <= page->width_mm - 8 &&
                              box.bottom_mm <= page->height_mm - 8;
                if (!inside) {
                    print_error("%s page %zu: %.*s\n", EXAMPLES[example], i + 1,
                                (int)page->shapes[k].text.length, page->shapes[k].text.bytes);
                }
                assert_true(inside);
            }
        }
        base_free_arena(job.arena);
    }
}

/* An unsafe job and a broken one are told apart by their exit codes, and write nothing. */
static void unsafe_and_broken_jobs_are_told_apart(void **state) {
    (void)state;
    const char *const heads[] = {"discharge: none", "discharge: nowhere"};
    const int codes[] = {CLI_UNSAFE, CLI_BAD_INPUT};
    for (int i = 0; i < 2; i++) {
        char text[512];
        int length = snprintf(text, sizeof text,
                              "eavesmith: 1\njob: test\nunits: ft-in\n"
                              "place: {rain: {intensity: 6.6 in/h, minutes: 5, years: 10}}\n"
                              "runs:\n  - {name: porch, taped on: roof edge, pitch: 4/12, from: "
                              "end cap, to: end cap, "
                              "length: 20', depth: 9', eave height: 9', overhang: 12\"}\n"
                              "outlets: {at: [porch to], %s}\n",
                              heads[i]);
        assert_true(length > 0 && (size_t)length < sizeof text);
        struct base_arena *arena = base_make_arena(0);
        assert_true(cli_write_file(arena, ".", "papers-test.yaml",
                                   (struct base_text){text, (size_t)length}));
        struct cli_job job;
        assert_int_equal(cli_load(&job, "papers-test.yaml", NULL), codes[i]);
        base_free_arena(job.arena);
        base_free_arena(arena);
        assert_int_equal(remove("papers-test.yaml"), 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_leaf_stands_in_the_list_with_its_unit_and_meaning),
        cmocka_unit_test(every_reason_belongs_to_a_leaf),
        cmocka_unit_test(every_computed_number_has_its_formula_and_source),
        cmocka_unit_test(paths_are_told_apart),
        cmocka_unit_test(trace_changes_no_byte),
        cmocka_unit_test(display_lists_are_what_they_were),
        cmocka_unit_test(every_shape_stays_on_its_page),
        cmocka_unit_test(unsafe_and_broken_jobs_are_told_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
