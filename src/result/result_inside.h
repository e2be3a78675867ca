/* SPDX-License-Identifier: Apache-2.0 */
/* What the files of result share: the text being written, map by map. */
#ifndef EAVESMITH_RESULT_INSIDE_H
#define EAVESMITH_RESULT_INSIDE_H

#include "result/result.h"
#include "tree/tree.h"

enum { RESULT_DEPTH_MAX = 5 };

struct result_out {
    struct base_arena *arena;
    const struct solution *solution;
    const struct base_issues *issues;
    struct tree_writer writer;
    struct base_text keys[RESULT_DEPTH_MAX]; /* open maps below the root */
    int depth;
    struct result_leaves *leaves;
};

void result_open_map(struct result_out *out, struct base_text key);
void result_close_map(struct result_out *out);
void result_put(struct result_out *out, enum result_field field, struct base_value value);
void result_put_word(struct result_out *out, enum result_field field, const char *word);
void result_put_text(struct result_out *out, enum result_field field, struct base_text value);
void result_put_tick(struct result_out *out, enum result_field field, int64_t tick);
/* In the field's own unit. */
void result_put_number(struct result_out *out, enum result_field field, double number);
void result_put_count(struct result_out *out, enum result_field field, int64_t count);
const char *result_yes_no(bool yes);
struct base_text result_number_key(struct result_out *out, size_t number);

/* result_eaves.c: what was measured at the eaves, and what it decides. */
void result_write_fixing(struct result_out *out, const struct hang_run *run);
void result_write_loads(struct result_out *out, const struct hang_run *run);
void result_write_way_down(struct result_out *out, size_t outlet);
void result_write_surveys(struct result_out *out);
void result_write_found(struct result_out *out);

/* result_water.c */
const char *result_basis_word(enum job_basis basis);
/* Inside its run's map. */
void result_write_catch(struct result_out *out, const struct layout_run *run);
void result_write_choices(struct result_out *out);
void result_write_amounts(struct result_out *out);
void result_write_reaches(struct result_out *out);
void result_write_outlets(struct result_out *out);

/* result_drains.c */
void result_write_links(struct result_out *out);
void result_write_decks(struct result_out *out);

/* result_storm.c */
void result_write_storms(struct result_out *out);

#endif
