/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"
#include "yaml/yaml.h"

#include <string.h>

struct reading {
    struct base_arena *arena;
    struct base_issues issues;
    const struct tree_node *root;
    enum base_status status;
};

static struct reading read_span(struct base_text source) {
    struct reading reading = {.arena = base_make_arena(0)};
    reading.issues.arena = reading.arena;
    reading.status =
        yaml_read_tree(reading.arena, &reading.issues, BASE_DOCUMENT_JOB, source, &reading.root);
    return reading;
}

static struct reading read(const char *source) {
    return read_span(base_text_of(source));
}

static void check_span(const char *source, struct base_mark mark, const char *wanted) {
    assert_int_equal(mark.to_byte - mark.from_byte, strlen(wanted));
    assert_memory_equal(source + mark.from_byte, wanted, strlen(wanted));
}

static void every_value_knows_its_span(void **state) {
    (void)state;
    const char *source = "# a job\n"
                         "name: porch roof  # words\n"
                         "runs:\n"
                         "  - {length: 28' 4 1/2\", pitch: '4/12'}\n"
                         "  - length: \"9'\"\n"
                         "    empty:\n"
                         "corner: [0, 0]\n"
                         "\xC3\xA9: \xC3\xA9 x\n";
    struct reading reading = read(source);
    assert_int_equal(reading.status, BASE_OK);
    assert_int_equal(reading.root->count, 4);
    const struct tree_node *name = tree_find(reading.root, "name");
    check_span(source, name->mark, "porch roof");
    check_span(source, name->key_mark, "name");
    assert_int_equal(name->mark.line, 2);
    assert_int_equal(name->mark.column, 7);
    const struct tree_node *first = tree_find(reading.root, "runs")->first;
    check_span(source, first->mark, "{length: 28' 4 1/2\", pitch: '4/12'}");
    assert_true(base_text_is(tree_find(first, "length")->text, "28' 4 1/2\""));
    check_span(source, tree_find(first, "pitch")->mark, "'4/12'");
    assert_true(base_text_is(tree_find(first, "pitch")->text, "4/12"));
    assert_true(tree_find(first, "pitch")->quoted);
    const struct tree_node *second = first->next;
    check_span(source, second->mark, "length: \"9'\"\n    empty");
    assert_int_equal(second->mark.line, 5);
    assert_int_equal(second->mark.column, 5);
    const struct tree_node *empty = tree_find(second, "empty");
    assert_int_equal(empty->kind, TREE_NULL);
    check_span(source, empty->mark, "empty"); /* takes its key's mark */
    check_span(source, tree_find(reading.root, "corner")->mark, "[0, 0]");
    check_span(source, tree_find(reading.root, "\xC3\xA9")->mark, "\xC3\xA9 x");
    assert_int_equal(tree_find(reading.root, "\xC3\xA9")->mark.column, 4);
    base_free_arena(reading.arena);
}

static void words_stay_text_and_only_null_is_null(void **state) {
    (void)state;
    struct reading reading = read("[007, no, true, ~, null, '~', 1.50]");
    assert_int_equal(reading.status, BASE_OK);
    static const char *const TEXTS[] = {"007", "no", "true", "~", "null", "~", "1.50"};
    static const bool NULLS[] = {false, false, false, true, true, false, false};
    const struct tree_node *node = reading.root->first;
    for (size_t i = 0; i < 7; i++, node = node->next) {
        assert_true(base_text_is(node->text, TEXTS[i]));
        assert_int_equal(node->kind, NULLS[i] ? TREE_NULL : TREE_SCALAR);
    }
    base_free_arena(reading.arena);
}

static void json_reads_through_the_same_door(void **state) {
    (void)state;
    const char *source = "{\"a\":\t[1,\n\t2],\n\t\"b\": null, \"c\": \"\\u00e9\"}";
    struct reading reading = read(source);
    assert_int_equal(reading.status, BASE_OK);
    check_span(source, tree_find(reading.root, "a")->key_mark, "\"a\"");
    check_span(source, tree_find(reading.root, "a")->mark, "[1,\n\t2]");
    assert_int_equal(tree_find(reading.root, "b")->kind, TREE_NULL);
    assert_true(base_text_is(tree_find(reading.root, "c")->text, "\xC3\xA9"));
    base_free_arena(reading.arena);
}

static void a_byte_order_mark_and_line_ends_are_passed_over(void **state) {
    (void)state;
    struct reading reading = read("\xEF\xBB\xBF"
                                  "a: 1\r\nb: 2\r\n");
    assert_int_equal(reading.status, BASE_OK);
    assert_true(base_text_is(tree_find(reading.root, "a")->text, "1"));
    assert_int_equal(tree_find(reading.root, "b")->mark.line, 2);
    assert_int_equal(tree_find(reading.root, "b")->mark.column, 4);
    base_free_arena(reading.arena);
}

static const struct {
    const char *source;
    const char *wanted; /* line:column CODE, one after the other */
} REFUSED[] = {
    {"", "1:1 TEXT_BROKEN"},
    {"# only words\n", "1:1 TEXT_BROKEN"},
    {"a: [1, 2\n", "1:4 TEXT_BROKEN"}, /* the bracket, not the end of the text */
    {"a: [1, 2\nb: 3\n", "1:4 TEXT_BROKEN"},
    {"a: {b: 1\n", "1:4 TEXT_BROKEN"},
    {"a: [{b: 1}, {c: 2]\n", "1:18 TEXT_BROKEN"},
    {"a: b: c\n", "1:5 TEXT_BROKEN"},
    {"a: \"x\n", "1:4 TEXT_BROKEN"},
    {"a: \"x\" y\n", "1:8 TEXT_BROKEN"},
    {"a: @x\n", "1:4 TEXT_BROKEN"},
    {"a: {b: 1}}\n", "1:10 TEXT_BROKEN"},
    {"a: 1\n b: 2\n", "1:4 TEXT_BROKEN"},
    {": 1\n", "1:1 TEXT_BROKEN"},
    {"a: \x01\n", "1:4 TEXT_BROKEN"},
    {"a: \"\\ud800\"\n", "1:5 TEXT_BROKEN"},
    {"a: \xFF\n", "1:4 TEXT_NOT_UTF8"},
    {"a: 1\nb: 2\na: 3\n", "3:1 DUPLICATE_KEY"},
    {"a: {b: 1, b: 2}\na: 3\n", "1:11 DUPLICATE_KEY 2:1 DUPLICATE_KEY"},
    {"a: &x 1\nb: *x\nc: !!str 3\n<<: 3\n",
     "1:5 TEXT_FEATURE 2:5 TEXT_FEATURE 3:4 TEXT_FEATURE 4:1 TEXT_FEATURE"},
    {"a: &x [1]\n", "1:5 TEXT_FEATURE"},
    {"[a]: b\n", "1:1 TEXT_FEATURE"},
    {"a: 1\n---\nb: 2\n", "2:1 TEXT_FEATURE"},
};

static void what_is_refused_is_named_at_its_place(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof REFUSED / sizeof REFUSED[0]; i++) {
        struct reading reading = read(REFUSED[i].source);
        assert_int_equal(reading.status, BASE_STOPPED);
        assert_null(reading.root);
        struct base_builder got = {.arena = reading.arena};
        for (size_t j = 0; j < reading.issues.count; j++) {
            const struct base_issue *issue = &reading.issues.items[j];
            base_add_string(&got, j == 0 ? "" : " ");
            base_add_integer(&got, issue->mark.line);
            base_add_char(&got, ':');
            base_add_integer(&got, issue->mark.column);
            base_add_char(&got, ' ');
            base_add_string(&got, base_issue_name(issue->code));
        }
        base_add_char(&got, '\0');
        if (strcmp(got.bytes, REFUSED[i].wanted) != 0) {
            print_error("of: %s\n", REFUSED[i].source);
        }
        assert_string_equal(got.bytes, REFUSED[i].wanted);
        base_free_arena(reading.arena);
    }
}

static void a_nul_byte_does_not_end_the_text_early(void **state) {
    (void)state;
    struct reading reading = read_span((struct base_text){"a: x\nb: y\0z\n", 12});
    assert_int_equal(reading.status, BASE_STOPPED);
    assert_int_equal(reading.issues.items[0].mark.line, 2);
    assert_int_equal(reading.issues.items[0].mark.column, 5);
    base_free_arena(reading.arena);
}

static void nesting_and_entries_are_limited(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct base_builder deep = {.arena = arena};
    for (int i = 0; i < 5000; i++) {
        base_add_char(&deep, '[');
    }
    struct reading reading = read_span(base_built(&deep));
    assert_int_equal(reading.issues.items[0].code, BASE_ISSUE_TEXT_TOO_DEEP);
    assert_int_equal(reading.issues.items[0].mark.column, TREE_DEPTH_MAX + 1);
    base_free_arena(reading.arena);
    struct base_builder wide = {.arena = arena};
    for (int i = 0; i <= TREE_NODES_MAX; i++) {
        base_add_string(&wide, i == 0 ? "[1" : ",1");
    }
    reading = read_span(base_built(&wide));
    assert_int_equal(reading.issues.items[0].code, BASE_ISSUE_TEXT_TOO_MANY);
    base_free_arena(reading.arena);
    base_free_arena(arena);
}

static void no_memory_is_said(void **state) {
    (void)state;
    const char *source = "a: [1, {b: 2}]\nc: \"x\"\n";
    struct reading whole = read(source);
    assert_int_equal(whole.status, BASE_OK);
    size_t takes = base_take_count(whole.arena);
    base_free_arena(whole.arena);
    for (size_t nth = 1; nth <= takes; nth++) {
        struct base_arena *arena = base_make_arena(0);
        struct base_issues issues = {.arena = arena};
        const struct tree_node *root = NULL;
        base_fail_take(arena, nth);
        assert_int_equal(
            yaml_read_tree(arena, &issues, BASE_DOCUMENT_JOB, base_text_of(source), &root),
            BASE_NO_MEMORY);
        base_free_arena(arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_value_knows_its_span),
        cmocka_unit_test(words_stay_text_and_only_null_is_null),
        cmocka_unit_test(json_reads_through_the_same_door),
        cmocka_unit_test(a_byte_order_mark_and_line_ends_are_passed_over),
        cmocka_unit_test(what_is_refused_is_named_at_its_place),
        cmocka_unit_test(a_nul_byte_does_not_end_the_text_early),
        cmocka_unit_test(nesting_and_entries_are_limited),
        cmocka_unit_test(no_memory_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
