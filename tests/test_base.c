/* SPDX-License-Identifier: Apache-2.0 */
#include "base/base.h"
#include "check.h"

#include <string.h>

static void arena_gives_zeroed_memory_until_its_limit(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(100000);
    unsigned char *bytes = base_take(arena, 1000, 1);
    assert_non_null(bytes);
    for (int i = 0; i < 1000; i++) {
        assert_int_equal(bytes[i], 0);
    }
    assert_null(base_take(arena, 200000, 1));
    assert_true(base_arena_failed(arena));
    assert_null(base_take(arena, 1, 1)); /* once failed, stays failed */
    base_free_arena(arena);
}

static void nth_take_fails_when_told(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    base_fail_take(arena, 3);
    assert_non_null(base_take(arena, 1, 1));
    assert_non_null(base_take(arena, 1, 1));
    assert_null(base_take(arena, 1, 1));
    assert_null(base_take(arena, 1, 1));
    base_free_arena(arena);
}

static void distance_counts_single_slips(void **state) {
    (void)state;
    assert_int_equal(base_text_distance(base_text_of("pitch"), base_text_of("pitch")), 0);
    assert_int_equal(base_text_distance(base_text_of("pitch"), base_text_of("ptich")), 1);
    assert_int_equal(base_text_distance(base_text_of("lenght"), base_text_of("length")), 1);
    assert_int_equal(base_text_distance(base_text_of("kitten"), base_text_of("sitting")), 3);
    assert_int_equal(base_text_distance(base_text_of(""), base_text_of("eave")), 4);
}

static void builder_writes_integers_of_either_sign(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct base_builder builder = {.arena = arena};
    base_add_integer(&builder, INT64_MIN);
    base_add_char(&builder, ' ');
    base_add_integer(&builder, 0);
    base_add_char(&builder, ' ');
    base_add_integer(&builder, INT64_MAX);
    assert_true(base_text_is(base_built(&builder), "-9223372036854775808 0 9223372036854775807"));
    base_free_arena(arena);
}

static void issues_keep_their_order_and_severity(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    assert_false(base_has_stop(&issues));
    for (int i = 0; i < 20; i++) {
        base_add_issue(&issues, (struct base_issue){.code = BASE_ISSUE_DUPLICATE_KEY,
                                                    .value = base_value_count(i)});
    }
    assert_int_equal(issues.count, 20);
    assert_int_equal(issues.items[19].value.integer, 19);
    assert_true(base_has_stop(&issues));
    assert_string_equal(base_issue_name(BASE_ISSUE_DUPLICATE_KEY), "DUPLICATE_KEY");
    base_free_arena(arena);
}

static void trace_notes_carry_scope_and_leaf(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct base_trace trace = {.arena = arena};
    base_trace_scope(&trace, base_text_of("runs/porch"));
    base_trace_leaf(&trace, "flow_m3s");
    base_trace_formula(&trace, "Q = i A", "SRC");
    base_trace_input(&trace, "A", base_value_number(BASE_UNIT_M2, 24.2));
    assert_int_equal(trace.count, 1);
    assert_true(base_text_is(trace.notes[0].path, "runs/porch/flow_m3s"));
    assert_int_equal(trace.notes[0].input_count, 1);
    base_trace_formula(NULL, "silent", "SRC"); /* a NULL trace takes everything and keeps nothing */
    base_free_arena(arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(arena_gives_zeroed_memory_until_its_limit),
        cmocka_unit_test(nth_take_fails_when_told),
        cmocka_unit_test(distance_counts_single_slips),
        cmocka_unit_test(builder_writes_integers_of_either_sign),
        cmocka_unit_test(issues_keep_their_order_and_severity),
        cmocka_unit_test(trace_notes_carry_scope_and_leaf),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
