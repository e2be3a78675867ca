/* SPDX-License-Identifier: Apache-2.0 */
/* Runs every row of every book as a test of its own. How to add rows: handbook.h. */
#include "handbook.h"

#include "check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct handbook_book *const books[] = {
    &handbook_water,   &handbook_copper, &handbook_shop,     &handbook_structure,
    &handbook_pattern, &handbook_rain,   &handbook_profiles, &handbook_measure,
    &handbook_nets,    &handbook_roof,   &handbook_storm,
};
enum { BOOKS = sizeof books / sizeof books[0], NAME_BYTES = 160 };

static void row_agrees(void **state) {
    const struct handbook_row *row = *state;
    double value = row->compute(row->in);
    if (!(value >= row->expected - row->tolerance && value <= row->expected + row->tolerance)) {
        print_error("%s: %s (%s): %s gives %.10g +- %.3g, the program %.10g\n", row->id, row->what,
                    row->input, row->source, row->expected, row->tolerance, value);
        fail();
    }
}

static void ids_are_unique_and_rows_whole(void **state) {
    (void)state;
    for (int b = 0; b < BOOKS; b++) {
        for (size_t i = 0; i < books[b]->count; i++) {
            const struct handbook_row *row = &books[b]->rows[i];
            assert_non_null(row->compute);
            assert_true(strncmp(row->source, "SRC-", 4) == 0);
            assert_true(row->tolerance >= 0);
            for (int other = 0; other <= b; other++) {
                size_t end = other < b ? books[other]->count : i;
                for (size_t k = 0; k < end; k++) {
                    assert_string_not_equal(row->id, books[other]->rows[k].id);
                }
            }
        }
    }
}

static void print_counts(void) {
    static const char *const names[HANDBOOK_KINDS] = {"FOUND", "MEMORY", "COMMON PRACTICE",
                                                      "DERIVED"};
    int counts[HANDBOOK_KINDS] = {0};
    for (int b = 0; b < BOOKS; b++) {
        for (size_t i = 0; i < books[b]->count; i++) {
            counts[books[b]->rows[i].kind]++;
        }
    }
    printf("# handbook:");
    for (int kind = 0; kind < HANDBOOK_KINDS; kind++) {
        printf("%s %d %s", kind > 0 ? "," : "", counts[kind], names[kind]);
    }
    printf("\n");
}

int main(void) {
    size_t count = 1;
    for (int b = 0; b < BOOKS; b++) {
        count += books[b]->count;
    }
    struct CMUnitTest *tests = calloc(count, sizeof *tests);
    char(*names)[NAME_BYTES] = calloc(count, sizeof *names);
    if (tests == NULL || names == NULL) {
        free(tests);
        free(names);
        return 2;
    }
    tests[0] = (struct CMUnitTest)cmocka_unit_test(ids_are_unique_and_rows_whole);
    size_t at = 1;
    for (int b = 0; b < BOOKS; b++) {
        for (size_t i = 0; i < books[b]->count; i++, at++) {
            const struct handbook_row *row = &books[b]->rows[i];
            snprintf(names[at], NAME_BYTES, "%s %s %s", row->id, row->what, row->input);
            union { /* cmocka hands the state on unchanged, as a pointer without const */
                const void *fixed;
                void *given;
            } state = {.fixed = row};
            tests[at] = (struct CMUnitTest){names[at], row_agrees, NULL, NULL, state.given};
        }
    }
    int failed = _cmocka_run_group_tests("handbook", tests, count, NULL, NULL);
    print_counts();
    free(tests);
    free(names);
    return failed;
}
