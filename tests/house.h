/* SPDX-License-Identifier: Apache-2.0 */
/* A whole job solved from YAML text, for the tests of the rooms behind roof. */
#ifndef EAVESMITH_TESTS_HOUSE_H
#define EAVESMITH_TESTS_HOUSE_H

#include <string.h>

#include "solve/solve.h"
#include "units/units.h"
#include "yaml/yaml.h"

struct house {
    struct base_arena *arena;
    struct base_issues issues;
    struct solution solution;
    enum base_status status;
};

static inline const struct tree_node *house_read(struct house *house, enum base_document document,
                                                 const char *text) {
    const struct tree_node *root = NULL;
    enum base_status status = BASE_OK;
    if (text != NULL) {
        status = yaml_read_tree(house->arena, &house->issues, document, base_text_of(text), &root);
    }
    house->status = house->status == BASE_OK ? status : house->status;
    return root;
}

/* prices, rain and gauge may be NULL. The texts must outlive the house. */
static inline struct house house_solve_gauge(const char *job, const char *prices, const char *rain,
                                             const char *gauge) {
    struct house house = {.arena = base_make_arena(0)};
    house.issues.arena = house.arena;
    struct solve_input input = {.job = house_read(&house, BASE_DOCUMENT_JOB, job),
                                .prices = house_read(&house, BASE_DOCUMENT_PRICES, prices)};
    if (rain != NULL) {
        input.rain = base_text_of(rain);
    }
    if (gauge != NULL) {
        input.gauge = base_text_of(gauge);
    }
    if (house.status == BASE_OK) {
        house.status = solve_job(house.arena, &house.issues, NULL, &input, &house.solution);
    }
    return house;
}

static inline struct house house_solve(const char *job, const char *prices, const char *rain) {
    return house_solve_gauge(job, prices, rain, NULL);
}

static inline void house_free(struct house *house) {
    base_free_arena(house->arena);
}

/* The first piece of a kind. */
static inline const struct pieces_piece *house_piece(const struct house *house,
                                                     enum pieces_kind kind) {
    for (size_t i = 0; i < house->solution.pieces.count; i++) {
        if (house->solution.pieces.items[i].kind == kind) {
            return &house->solution.pieces.items[i];
        }
    }
    return NULL;
}

static inline const struct base_issue *house_issue(const struct house *house,
                                                   enum base_issue_code code) {
    for (size_t i = 0; i < house->issues.count; i++) {
        if (house->issues.items[i].code == code) {
            return &house->issues.items[i];
        }
    }
    return NULL;
}

/* Names every finding: printed where a job fails that should not. */
static inline void house_print_issues(const struct house *house) {
    for (size_t i = 0; i < house->issues.count; i++) {
        const struct base_issue *issue = &house->issues.items[i];
        print_message("%s: %.*s\n", base_issue_name(issue->code), (int)issue->object.length,
                      issue->object.bytes == NULL ? "" : issue->object.bytes);
    }
}

static inline void house_must_stand(const struct house *house) {
    if (house->status != BASE_OK) {
        house_print_issues(house);
    }
    assert_int_equal(house->status, BASE_OK);
}

#endif
