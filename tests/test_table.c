/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"
#include "table/table.h"

#include <string.h>

struct fixture {
    struct base_arena *arena;
    struct base_issues issues;
    struct table table;
    enum base_status status;
};

static struct fixture read_bytes(const char *bytes, size_t length) {
    struct fixture fixture = {.arena = base_make_arena(0)};
    fixture.issues.arena = fixture.arena;
    fixture.status = table_read(fixture.arena, &fixture.issues, BASE_DOCUMENT_RAIN,
                                (struct base_text){bytes, length}, &fixture.table);
    return fixture;
}

static struct fixture read_string(const char *c_string) {
    return read_bytes(c_string, strlen(c_string));
}

static const struct table_field *field_at(const struct fixture *fixture, size_t row, size_t field) {
    assert_true(row < fixture->table.count);
    assert_true(field < fixture->table.rows[row].count);
    return &fixture->table.rows[row].fields[field];
}

static void check_field(const struct fixture *fixture, size_t row, size_t field, const char *text) {
    struct base_text got = field_at(fixture, row, field)->text;
    assert_int_equal(got.length, strlen(text));
    assert_true(base_text_is(got, text));
}

static void check_mark(const struct fixture *fixture, size_t row, size_t field, int line,
                       int column) {
    struct base_mark mark = field_at(fixture, row, field)->mark;
    assert_int_equal(mark.document, BASE_DOCUMENT_RAIN);
    assert_int_equal(mark.line, line);
    assert_int_equal(mark.column, column);
}

static void fields_carry_their_line_and_column(void **state) {
    (void)state;
    struct fixture fixture = read_string("minutes, depth\n5,  0.55 in \n10,0.88\n");
    assert_int_equal(fixture.status, BASE_OK);
    assert_int_equal(fixture.table.count, 3);
    check_field(&fixture, 0, 1, "depth");
    check_mark(&fixture, 0, 1, 1, 10);
    check_field(&fixture, 1, 1, "0.55 in");
    check_mark(&fixture, 1, 1, 2, 5);
    assert_int_equal(field_at(&fixture, 1, 1)->mark.from_byte, 19);
    assert_int_equal(field_at(&fixture, 1, 1)->mark.to_byte, 26);
    assert_true(base_text_is(fixture.table.rows[1].raw, "5,  0.55 in "));
    check_mark(&fixture, 2, 0, 3, 1);
    base_free_arena(fixture.arena);
}

static void line_ends_of_three_kinds_are_taken(void **state) {
    (void)state;
    struct fixture fixture = read_string("a\r\nb\rc\nd");
    assert_int_equal(fixture.table.count, 4);
    const char *const wanted[] = {"a", "b", "c", "d"};
    for (size_t i = 0; i < 4; i++) {
        check_field(&fixture, i, 0, wanted[i]);
        assert_int_equal(fixture.table.rows[i].line, i + 1);
        assert_true(base_text_is(fixture.table.rows[i].raw, wanted[i]));
    }
    base_free_arena(fixture.arena);
}

static void byte_order_mark_is_no_part_of_the_first_field(void **state) {
    (void)state;
    struct fixture fixture = read_string("\xEF\xBB\xBFstation,x\n");
    check_field(&fixture, 0, 0, "station");
    check_mark(&fixture, 0, 0, 1, 1);
    assert_int_equal(field_at(&fixture, 0, 0)->mark.from_byte, 3);
    base_free_arena(fixture.arena);
}

static void columns_count_characters_not_bytes(void **state) {
    (void)state;
    struct fixture fixture = read_string("M\xC3\xBCnde \xE2\x85\x9B,7");
    check_mark(&fixture, 0, 1, 1, 9);
    assert_int_equal(field_at(&fixture, 0, 1)->mark.from_byte, 11);
    base_free_arena(fixture.arena);
}

static void quotes_are_resolved(void **state) {
    (void)state;
    struct fixture fixture = read_string(" \"a, b\" ,\"6\"\" pipe\",\"\",\"\"\"\",\" c \"\n");
    assert_int_equal(fixture.table.rows[0].count, 5);
    check_field(&fixture, 0, 0, "a, b");
    check_mark(&fixture, 0, 0, 1, 2);
    check_field(&fixture, 0, 1, "6\" pipe");
    check_field(&fixture, 0, 2, "");
    check_field(&fixture, 0, 3, "\"");
    check_field(&fixture, 0, 4, " c ");
    base_free_arena(fixture.arena);
}

static void inch_mark_in_a_plain_field_is_kept(void **state) {
    (void)state;
    struct fixture fixture = read_string("28' 4 1/2\", copper\n13/16\"\n");
    assert_int_equal(fixture.status, BASE_OK);
    check_field(&fixture, 0, 0, "28' 4 1/2\"");
    check_field(&fixture, 0, 1, "copper");
    check_field(&fixture, 1, 0, "13/16\"");
    base_free_arena(fixture.arena);
}

static void quoted_line_end_keeps_the_count_of_lines(void **state) {
    (void)state;
    struct fixture fixture = read_string("a,\"one\r\ntwo\nthree\",b\nc\n");
    assert_int_equal(fixture.table.count, 2);
    check_field(&fixture, 0, 1, "one\r\ntwo\nthree");
    check_mark(&fixture, 0, 2, 3, 8);
    assert_int_equal(fixture.table.rows[1].line, 4);
    base_free_arena(fixture.arena);
}

static void empty_lines_and_empty_fields_are_kept(void **state) {
    (void)state;
    struct fixture fixture = read_string("\n,\n  \na,,b\n");
    assert_int_equal(fixture.table.count, 4);
    assert_int_equal(fixture.table.rows[0].count, 1);
    check_field(&fixture, 0, 0, "");
    assert_int_equal(fixture.table.rows[1].count, 2);
    assert_int_equal(fixture.table.rows[2].count, 1);
    check_field(&fixture, 2, 0, "");
    assert_int_equal(fixture.table.rows[3].count, 3);
    base_free_arena(fixture.arena);
}

static void empty_text_has_no_rows(void **state) {
    (void)state;
    struct fixture fixture = read_bytes(NULL, 0);
    assert_int_equal(fixture.status, BASE_OK);
    assert_int_equal(fixture.table.count, 0);
    base_free_arena(fixture.arena);
    fixture = read_string("\xEF\xBB\xBF");
    assert_int_equal(fixture.status, BASE_OK);
    assert_int_equal(fixture.table.count, 0);
    base_free_arena(fixture.arena);
}

static void comma_at_the_end_opens_one_more_field(void **state) {
    (void)state;
    struct fixture fixture = read_string("a,");
    assert_int_equal(fixture.table.rows[0].count, 2);
    check_field(&fixture, 0, 1, "");
    base_free_arena(fixture.arena);
}

static void check_stop(const char *text, enum base_issue_code code, int line, int column) {
    struct fixture fixture = read_string(text);
    assert_int_equal(fixture.status, BASE_STOPPED);
    assert_int_equal(fixture.table.count, 0);
    assert_int_equal(fixture.issues.count, 1);
    assert_int_equal(fixture.issues.items[0].code, code);
    assert_int_equal(fixture.issues.items[0].mark.line, line);
    assert_int_equal(fixture.issues.items[0].mark.column, column);
    base_free_arena(fixture.arena);
}

static void unclosed_quote_is_named_where_it_opens(void **state) {
    (void)state;
    check_stop("a\nb, \"open\nc\nd", BASE_ISSUE_TABLE_QUOTE_OPEN, 2, 4);
    check_stop("\"", BASE_ISSUE_TABLE_QUOTE_OPEN, 1, 1);
    check_stop("\"\"\"", BASE_ISSUE_TABLE_QUOTE_OPEN, 1, 1);
}

static void text_behind_a_closing_quote_is_named(void **state) {
    (void)state;
    check_stop("a,\"b\" c,d\n", BASE_ISSUE_TABLE_AFTER_QUOTE, 1, 7);
    check_stop("\"b\"c", BASE_ISSUE_TABLE_AFTER_QUOTE, 1, 4);
}

static void text_over_four_mebibytes_is_refused(void **state) {
    (void)state;
    const size_t most = 4u * 1024u * 1024u;
    char *bytes = test_malloc(most + 1);
    memset(bytes, 'x', most + 1);
    struct fixture fixture = read_bytes(bytes, most);
    assert_int_equal(fixture.status, BASE_OK);
    base_free_arena(fixture.arena);
    fixture = read_bytes(bytes, most + 1);
    assert_int_equal(fixture.status, BASE_STOPPED);
    assert_int_equal(fixture.issues.items[0].code, BASE_ISSUE_TEXT_TOO_LONG);
    assert_int_equal(fixture.issues.items[0].limit.integer, most);
    base_free_arena(fixture.arena);
    test_free(bytes);
}

/* Property: the raw lines with their ends are the text again, whatever it is made of. */
static void raw_lines_cover_the_text(void **state) {
    (void)state;
    static const char LETTERS[] = {'a', ',', '\n', '\r', ' ', '"', '7'};
    uint32_t seed = 2463534242u;
    size_t fine = 0;
    for (int round = 0; round < 20000; round++) {
        char text[24];
        size_t length = (size_t)round % sizeof text;
        for (size_t i = 0; i < length; i++) {
            seed ^= seed << 13;
            seed ^= seed >> 17;
            seed ^= seed << 5;
            text[i] = LETTERS[seed % sizeof LETTERS];
        }
        struct fixture fixture = read_bytes(text, length);
        size_t at = 0;
        for (size_t i = 0; i < fixture.table.count; i++) {
            const struct table_row *row = &fixture.table.rows[i];
            assert_true(row->raw.bytes == text + at);
            at += row->raw.length;
            at += at < length && text[at] == '\r' && at + 1 < length && text[at + 1] == '\n' ? 2
                  : at < length                                                              ? 1
                                                                                             : 0;
        }
        assert_true(fixture.status == BASE_STOPPED ? fixture.issues.count == 1 : at == length);
        fine += fixture.status == BASE_OK;
        base_free_arena(fixture.arena);
    }
    assert_in_range(fine, 5000, 19000); /* both kinds were met */
}

static void every_failed_take_is_reported(void **state) {
    (void)state;
    const char *const texts[] = {"a,\"b\"\"c\"\n\"d\"\"\",e\n", "a,\"b"};
    const enum base_status wanted[] = {BASE_OK, BASE_STOPPED};
    for (size_t i = 0; i < 2; i++) {
        size_t takes = 0;
        for (size_t nth = 1; nth < 100; nth++) {
            struct base_arena *arena = base_make_arena(0);
            base_fail_take(arena, nth);
            struct base_issues issues = {.arena = arena};
            struct table table;
            enum base_status status =
                table_read(arena, &issues, BASE_DOCUMENT_RAIN, base_text_of(texts[i]), &table);
            takes = base_take_count(arena);
            base_free_arena(arena);
            if (takes < nth) {
                assert_int_equal(status, wanted[i]);
                break;
            }
            assert_int_equal(status, BASE_NO_MEMORY);
        }
        assert_true(takes > 0 && takes < 99);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fields_carry_their_line_and_column),
        cmocka_unit_test(line_ends_of_three_kinds_are_taken),
        cmocka_unit_test(byte_order_mark_is_no_part_of_the_first_field),
        cmocka_unit_test(columns_count_characters_not_bytes),
        cmocka_unit_test(quotes_are_resolved),
        cmocka_unit_test(inch_mark_in_a_plain_field_is_kept),
        cmocka_unit_test(quoted_line_end_keeps_the_count_of_lines),
        cmocka_unit_test(empty_lines_and_empty_fields_are_kept),
        cmocka_unit_test(empty_text_has_no_rows),
        cmocka_unit_test(comma_at_the_end_opens_one_more_field),
        cmocka_unit_test(unclosed_quote_is_named_where_it_opens),
        cmocka_unit_test(text_behind_a_closing_quote_is_named),
        cmocka_unit_test(text_over_four_mebibytes_is_refused),
        cmocka_unit_test(raw_lines_cover_the_text),
        cmocka_unit_test(every_failed_take_is_reported),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
