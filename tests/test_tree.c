/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"
#include "tree/tree.h"

#include <string.h>

struct reading {
    struct base_arena *arena;
    struct base_issues issues;
    const struct tree_node *root;
};

static struct reading read_span(struct base_text source) {
    struct reading reading = {.arena = base_make_arena(0)};
    reading.issues.arena = reading.arena;
    reading.root = tree_read_json(reading.arena, &reading.issues, BASE_DOCUMENT_JOB, source);
    return reading;
}

static struct reading read(const char *source) {
    return read_span(base_text_of(source));
}

static void every_value_knows_its_place(void **state) {
    (void)state;
    const char *source = "{\n  \"a\": [1, -2.5e3, true],\n  \"\\u00e9\": \"x\\ny\", \"n\": null\n}";
    struct reading reading = read(source);
    assert_non_null(reading.root);
    assert_int_equal(reading.root->kind, TREE_MAP);
    assert_int_equal(reading.root->count, 3);
    assert_int_equal(reading.root->mark.to_byte, strlen(source));
    const struct tree_node *list = tree_find(reading.root, "a");
    assert_int_equal(list->kind, TREE_LIST);
    assert_int_equal(list->count, 3);
    assert_int_equal(list->mark.line, 2);
    assert_int_equal(list->mark.column, 8);
    assert_int_equal(list->key_mark.column, 3);
    const struct tree_node *number = list->first->next;
    assert_true(base_text_is(number->text, "-2.5e3"));
    assert_false(number->quoted);
    assert_memory_equal(source + number->mark.from_byte, "-2.5e3",
                        number->mark.to_byte - number->mark.from_byte);
    const struct tree_node *text = tree_find(reading.root, "\xC3\xA9");
    assert_true(base_text_is(text->text, "x\ny"));
    assert_true(text->quoted);
    assert_int_equal(text->mark.to_byte - text->mark.from_byte, 6); /* quotes are in the span */
    assert_int_equal(tree_find(reading.root, "n")->kind, TREE_NULL);
    assert_null(tree_find(reading.root, "no such"));
    assert_null(tree_find(NULL, "a"));
    base_free_arena(reading.arena);
}

static void columns_are_counted_in_characters(void **state) {
    (void)state;
    struct reading reading = read("[\"\xC3\xA9\xE2\x82\xAC\", 1]");
    assert_int_equal(reading.root->first->next->mark.column, 8);
    assert_int_equal(reading.root->first->next->mark.from_byte, 10);
    base_free_arena(reading.arena);
}

static void surrogate_pairs_make_one_character(void **state) {
    (void)state;
    struct reading reading = read("[\"\\uD83D\\uDE00 \\u0041\\/\"]");
    assert_true(base_text_is(reading.root->first->text, "\xF0\x9F\x98\x80 A/"));
    base_free_arena(reading.arena);
}

/* RFC 8259 sections 2 to 8; line and column counted by hand. */
static const struct {
    const char *source;
    int line;
    int column;
    const char *code;
} REFUSED[] = {
    {"", 1, 1, "TEXT_BROKEN"},
    {"  ", 1, 3, "TEXT_BROKEN"},
    {"[1, 2,, 3]", 1, 7, "TEXT_BROKEN"},
    {"[1, 2,]", 1, 6, "TEXT_BROKEN"},
    {"{\"a\": 1,\n}", 1, 8, "TEXT_BROKEN"},
    {"{\n \"a\" 1}", 2, 6, "TEXT_BROKEN"},
    {"{a: 1}", 1, 2, "TEXT_BROKEN"},
    {"{'a': 1}", 1, 2, "TEXT_BROKEN"},
    {"[1 2]", 1, 4, "TEXT_BROKEN"},
    {"[1\n,\n[2, 3", 3, 1, "TEXT_BROKEN"}, /* the opener, not the end */
    {"{\"a\": {", 1, 7, "TEXT_BROKEN"},
    {"[1]]", 1, 4, "TEXT_BROKEN"},
    {"1 2", 1, 3, "TEXT_BROKEN"},
    {"[01]", 1, 2, "TEXT_BROKEN"},
    {"[1.]", 1, 2, "TEXT_BROKEN"},
    {"[.5]", 1, 2, "TEXT_BROKEN"},
    {"[+1]", 1, 2, "TEXT_BROKEN"},
    {"[-]", 1, 2, "TEXT_BROKEN"},
    {"[1e]", 1, 2, "TEXT_BROKEN"},
    {"[NaN]", 1, 2, "TEXT_BROKEN"},
    {"[Infinity]", 1, 2, "TEXT_BROKEN"},
    {"[tru]", 1, 2, "TEXT_BROKEN"},
    {"[truer]", 1, 6, "TEXT_BROKEN"},
    {"[\"abc]", 1, 2, "TEXT_BROKEN"},
    {"[\"a\nb\"]", 1, 4, "TEXT_BROKEN"},
    {"[\"a\tb\"]", 1, 4, "TEXT_BROKEN"},
    {"[\"a\\qb\"]", 1, 4, "TEXT_BROKEN"},
    {"[\"\\u12G4\"]", 1, 3, "TEXT_BROKEN"},
    {"[\"\\uD83D\"]", 1, 3, "TEXT_BROKEN"},
    {"[\"\\uDE00\"]", 1, 3, "TEXT_BROKEN"},
    {"[\"\\uD83D\\u0041\"]", 1, 3, "TEXT_BROKEN"},
    {"// no\n[1]", 1, 1, "TEXT_BROKEN"},
    {"\xEF\xBB\xBF[1]", 1, 1, "TEXT_BROKEN"},
    {"[\"\xFF\"]", 1, 3, "TEXT_NOT_UTF8"},
    {"[\"\xC0\xAF\"]", 1, 3, "TEXT_NOT_UTF8"},     /* overlong */
    {"[\"\xED\xA0\x80\"]", 1, 3, "TEXT_NOT_UTF8"}, /* a surrogate */
    {"[\"\xF4\x90\x80\x80\"]", 1, 3, "TEXT_NOT_UTF8"},
    {"[\"\xE2\x82\"]", 1, 3, "TEXT_NOT_UTF8"},
    {"{\"a\": 1,\n \"b\": 2, \"a\": 3}", 2, 10, "DUPLICATE_KEY"},
    {"{\"a\": 1, \"\\u0061\": 3}", 1, 10, "DUPLICATE_KEY"},
};

static void what_is_not_json_is_refused_at_its_place(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof REFUSED / sizeof REFUSED[0]; i++) {
        struct reading reading = read(REFUSED[i].source);
        assert_null(reading.root);
        if (reading.issues.count != 1 || reading.issues.items[0].mark.line != REFUSED[i].line ||
            reading.issues.items[0].mark.column != REFUSED[i].column) {
            print_error("%s\n", REFUSED[i].source);
        }
        assert_int_equal(reading.issues.count, 1);
        const struct base_issue *issue = &reading.issues.items[0];
        assert_string_equal(base_issue_name(issue->code), REFUSED[i].code);
        assert_int_equal(issue->mark.line, REFUSED[i].line);
        assert_int_equal(issue->mark.column, REFUSED[i].column);
        base_free_arena(reading.arena);
    }
}

static void a_nul_byte_is_refused(void **state) {
    (void)state;
    struct reading reading = read_span((struct base_text){"[1\0]", 4});
    assert_null(reading.root);
    assert_int_equal(reading.issues.items[0].mark.column, 3);
    base_free_arena(reading.arena);
    reading = read_span((struct base_text){"[1]\0", 4});
    assert_null(reading.root);
    base_free_arena(reading.arena);
}

static void nesting_is_limited(void **state) {
    (void)state;
    char source[2 * (TREE_DEPTH_MAX + 1)];
    memset(source, '[', TREE_DEPTH_MAX + 1);
    memset(source + TREE_DEPTH_MAX + 1, ']', TREE_DEPTH_MAX + 1);
    struct reading reading = read_span((struct base_text){source, sizeof source});
    assert_null(reading.root);
    assert_int_equal(reading.issues.items[0].code, BASE_ISSUE_TEXT_TOO_DEEP);
    assert_int_equal(reading.issues.items[0].mark.column, TREE_DEPTH_MAX + 1);
    base_free_arena(reading.arena);
    reading = read_span((struct base_text){source + 1, sizeof source - 2});
    assert_non_null(reading.root);
    base_free_arena(reading.arena);
}

static void size_and_entries_are_limited(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    char *source = base_take(arena, TREE_BYTES_MAX + 1, 1);
    memset(source, ' ', TREE_BYTES_MAX + 1);
    struct reading reading = read_span((struct base_text){source, TREE_BYTES_MAX + 1});
    assert_int_equal(reading.issues.items[0].code, BASE_ISSUE_TEXT_TOO_LONG);
    base_free_arena(reading.arena);
    source[0] = '[';
    for (size_t i = 1; i < 2 * (TREE_NODES_MAX + 1); i += 2) {
        source[i] = '1';
        source[i + 1] = ',';
    }
    reading = read_span((struct base_text){source, TREE_BYTES_MAX});
    assert_null(reading.root);
    assert_int_equal(reading.issues.items[0].code, BASE_ISSUE_TEXT_TOO_MANY);
    base_free_arena(reading.arena);
    base_free_arena(arena);
}

static void all_double_keys_of_a_text_are_named(void **state) {
    (void)state;
    struct reading reading = read("{\"a\": {\"x\": 1, \"x\": 2}, \"a\": 3, \"a\": 4}");
    assert_null(reading.root);
    assert_int_equal(reading.issues.count, 3);
    assert_int_equal(reading.issues.items[0].mark.column, 16);
    assert_int_equal(reading.issues.items[1].mark.column, 25);
    assert_int_equal(reading.issues.items[2].mark.column, 33);
    base_free_arena(reading.arena);
}

static void no_memory_gives_no_tree(void **state) {
    (void)state;
    const char *source = "{\"a\": [1, \"\\n\"], \"b\": {\"c\": null}}";
    struct reading whole = read(source);
    size_t takes = base_take_count(whole.arena);
    base_free_arena(whole.arena);
    for (size_t nth = 1; nth <= takes; nth++) {
        struct base_arena *arena = base_make_arena(0);
        struct base_issues issues = {.arena = arena};
        base_fail_take(arena, nth);
        assert_null(tree_read_json(arena, &issues, BASE_DOCUMENT_JOB, base_text_of(source)));
        assert_true(base_arena_failed(arena));
        base_free_arena(arena);
    }
}

/* ---- showing a place ----------------------------------------------------------------------- */

static void check_shown(const char *source, size_t from, size_t to, const char *wanted) {
    struct base_arena *arena = base_make_arena(0);
    struct tree_cursor cursor = {.source = base_text_of(source), .line = 1, .column = 1};
    struct base_mark mark = tree_make_mark(&cursor, BASE_DOCUMENT_JOB, from, to);
    struct base_text shown = tree_show_place(arena, cursor.source, mark);
    assert_int_equal(shown.length, strlen(wanted));
    assert_memory_equal(shown.bytes, wanted, shown.length);
    base_free_arena(arena);
}

static void a_place_is_shown_with_a_caret_below(void **state) {
    (void)state;
    check_shown("a: 1\nb: xyz\nc: 2\n", 8, 11, "b: xyz\n   ^~~");
    check_shown("a: 1\r\n\tb: xyz\r\n", 7, 8, "\tb: xyz\n\t^");
    check_shown("\xC3\xA9: \xC3\xA9\xC3\xA9\n", 4, 8, "\xC3\xA9: \xC3\xA9\xC3\xA9\n   ^~");
    check_shown("a: [\n1", 3, 6, "a: [\n   ^"); /* only what stands on the line */
    check_shown("a: 1\n", 5, 5, "\n^");         /* the end of the text */
}

static void a_long_line_is_cut_around_the_mark(void **state) {
    (void)state;
    char source[301];
    memset(source, 'x', 300);
    source[300] = '\0';
    source[200] = '!';
    struct base_arena *arena = base_make_arena(0);
    struct tree_cursor cursor = {.source = base_text_of(source), .line = 1, .column = 1};
    struct base_mark mark = tree_make_mark(&cursor, BASE_DOCUMENT_JOB, 200, 201);
    struct base_text shown = tree_show_place(arena, cursor.source, mark);
    const char *lower = memchr(shown.bytes, '\n', shown.length);
    assert_int_equal(lower - shown.bytes, 3 + 100 + 3);
    size_t caret = (size_t)((const char *)memchr(lower, '^', 200) - lower - 1);
    assert_int_equal(shown.bytes[caret], '!');
    assert_int_equal(tree_show_place(arena, cursor.source, (struct base_mark){0}).length, 0);
    base_free_arena(arena);
}

/* ---- writing ------------------------------------------------------------------------------- */

static void what_is_written_reads_back(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct base_text none = {0};
    struct tree_writer writer = tree_make_writer(arena);
    tree_open_map(&writer, none);
    tree_write_raw(&writer, base_text_of("eavesmith"), base_text_of("1"));
    tree_open_list(&writer, base_text_of("list"));
    tree_write_text(&writer, none, base_text_of("a \"b\" \\ \n\t\x01"));
    tree_open_map(&writer, none);
    tree_close_map(&writer);
    tree_open_list(&writer, none);
    tree_close_list(&writer);
    tree_close_list(&writer);
    tree_write_raw(&writer, base_text_of("last"), base_text_of("0.5"));
    tree_close_map(&writer);
    struct base_text text = base_built(&writer.out);
    const char *wanted = "{\n"
                         "  \"eavesmith\": 1,\n"
                         "  \"list\": [\n"
                         "    \"a \\\"b\\\" \\\\ \\n\\t\\u0001\",\n"
                         "    {},\n"
                         "    []\n"
                         "  ],\n"
                         "  \"last\": 0.5\n"
                         "}\n";
    assert_int_equal(text.length, strlen(wanted));
    assert_memory_equal(text.bytes, wanted, text.length);
    struct reading reading = read_span(text);
    assert_non_null(reading.root);
    assert_true(base_text_is(tree_find(reading.root, "list")->first->text, "a \"b\" \\ \n\t\x01"));
    base_free_arena(reading.arena);
    base_free_arena(arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_value_knows_its_place),
        cmocka_unit_test(columns_are_counted_in_characters),
        cmocka_unit_test(surrogate_pairs_make_one_character),
        cmocka_unit_test(what_is_not_json_is_refused_at_its_place),
        cmocka_unit_test(a_nul_byte_is_refused),
        cmocka_unit_test(nesting_is_limited),
        cmocka_unit_test(size_and_entries_are_limited),
        cmocka_unit_test(all_double_keys_of_a_text_are_named),
        cmocka_unit_test(no_memory_gives_no_tree),
        cmocka_unit_test(a_place_is_shown_with_a_caret_below),
        cmocka_unit_test(a_long_line_is_cut_around_the_mark),
        cmocka_unit_test(what_is_written_reads_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
