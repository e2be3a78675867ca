/* SPDX-License-Identifier: Apache-2.0 */
/*
 * result: result.json from one list of fields, and the index of `why`.
 *
 * Walk      before: solve. after: documents, the doors.
 * Rule      an id is one key, keys are nested, a path is keys joined by "/"; an absent value is
 * absent, never 0. Numbers are rounded once to the quantum of their unit. Nothing in it depends on
 * where the job file's lines stand.
 */
#ifndef EAVESMITH_RESULT_H
#define EAVESMITH_RESULT_H

#include "base/base.h"
#include "solve/solve.h"

enum result_field {
#define FIELD(id, pattern, unit, note) RESULT_##id,
#include "result/result_fields.def"
#undef FIELD
    RESULT_FIELD_COUNT
};

const char *result_field_pattern(enum result_field field);
const char *result_field_note(enum result_field field);
enum base_unit result_field_unit(enum result_field field);

struct result_leaf {
    struct base_text path;
    enum result_field field;
    struct base_value value;
};

struct result_leaves {
    struct result_leaf *items; /* [count] in the order of the file */
    size_t count;
    size_t capacity;
};

/* The bytes of result.json; leaves (may be NULL) are listed on the way. Empty when the arena
 * failed. */
struct base_text result_write(struct base_arena *arena, const struct solution *solution,
                              const struct base_issues *issues, struct result_leaves *leaves);

/* The schema of result.json's fields as JSON: pattern, unit, note. */
struct base_text result_write_fields(struct base_arena *arena);

#endif
