/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the files of the module share: the last answer, so that the page may ask about it. Exports
 * return a struct heart_answer; it and its bytes stay good until the next heart_buffer.
 */
#ifndef EAVESMITH_HEART_INSIDE_H
#define EAVESMITH_HEART_INSIDE_H

#include "base/base.h"
#include "result/result.h"
#include "solve/solve.h"

struct heart_answer {
    const char *bytes;
    uint32_t length;
    uint32_t status;      /* 0 safe, 1 not safe as drawn, 2 bad input, 3 no memory */
    const char *findings; /* JSON: each finding in words, with its place in the text given */
    uint32_t findings_length;
};

/* One call at a time: the module has one memory and no threads. */
struct heart {
    struct base_arena *arena;
    bool answered;
    struct base_text texts[BASE_DOCUMENTS]; /* as given */
    struct base_issues issues;
    struct solution *solution; /* NULL: nothing was worked out */
    struct base_trace *trace;  /* NULL until the first why of this answer */
    struct result_leaves leaves;
};
extern struct heart heart;

/* The walk over heart.texts. */
enum base_status heart_walk(struct base_trace *trace, struct base_issues *issues,
                            struct solution *solution);
/* An answer to an asking: bytes, status 0, or status 3 when the arena failed. */
const struct heart_answer *heart_answer_text(struct base_text text);

#endif
