/* SPDX-License-Identifier: Apache-2.0 */
/* Inside the job room: taking one value at a time out of the tree. Not for other rooms. */
#ifndef EAVESMITH_JOB_INSIDE_H
#define EAVESMITH_JOB_INSIDE_H

#include "job/job.h"

/* Entries of one list; far more than any house, few enough to compare each with each. */
enum { JOB_ENTRIES_MAX = 500 };

struct job_reader {
    struct base_arena *arena;
    struct base_issues *issues;
    enum units_system system; /* mm while `units` is not known: then a bare number is no fault */
    struct base_text where;   /* whose keys are being read: "porch"; empty at the top */
    struct job *job;
};

/* Keys that a map may hold. */
struct job_keys {
    const char *what; /* "a run" */
    const char *const *names;
    size_t count;
};

struct job_words {
    const char *const *words; /* in the order of the enum they stand for */
    size_t count;
};

/* Quantities besides lengths; ranges and examples stand in job_quantity.c. */
enum job_quantity {
    JOB_QUANTITY_PITCH = 0,
    JOB_QUANTITY_TURN,
    JOB_QUANTITY_CORNER,
    JOB_QUANTITY_BEND,
    JOB_QUANTITY_FALL,
    JOB_QUANTITY_RAIN,
    JOB_QUANTITY_TEMPERATURE,
    JOB_QUANTITY_SNOW,
    JOB_QUANTITY_MANNING,
    JOB_QUANTITY_MINUTES,
    JOB_QUANTITY_YEARS,
    JOB_QUANTITY_ADDED
};

enum job_zero { JOB_ZERO_REFUSED = 0, JOB_ZERO_ALLOWED };

/* A piece of a scalar's text, so that a fault in it is shown at its own place. */
struct job_part {
    const struct tree_node *node;
    struct base_text text; /* within node->text */
    const char *key;       /* what it is, for the sentence */
};

#define JOB_COUNT_OF(array) (sizeof(array) / sizeof(array)[0])

/* ---- saying what is wrong ------------------------------------------------------------------ */

/* "length of porch" */
struct base_text job_object(const struct job_reader *reader, const char *key);
struct base_value job_said(const struct tree_node *node); /* the text as written */
/* The known word or name nearest to a slip, or NULL: one slip in a short word, two in a long one.
 */
bool job_is_near(struct base_text written, struct base_text known, size_t *distance);
void job_refuse_kind(struct job_reader *reader, const struct tree_node *node, const char *key,
                     const char *wanted);
void job_refuse_range(struct job_reader *reader, const struct tree_node *node, const char *key,
                      const char *wanted);

/* ---- taking -------------------------------------------------------------------------------- */

/* A map with known keys only? Unknown ones are named, and do not make it false. */
bool job_check_map(struct job_reader *reader, const struct tree_node *node, const char *key,
                   const struct job_keys *keys);
/* A list of 1 to JOB_ENTRIES_MAX entries? */
bool job_check_list(struct job_reader *reader, const struct tree_node *node, const char *key);
/* Is the key there? If not MISSING_KEY, with the line to write as the example; "feet|metric" where
 * it differs by units. Quiet when UNKNOWN_KEY has just asked whether this key was meant. */
bool job_require(struct job_reader *reader, const struct tree_node *map, const char *key,
                 const char *example);
/* The entry when it is one value; NULL when it is not there, or (an issue) of another kind. */
const struct tree_node *job_find_scalar(struct job_reader *reader, const struct tree_node *map,
                                        const char *key);

void job_take_text(struct job_reader *reader, const struct tree_node *map, const char *key,
                   struct job_text *text);
/* One length, or a list of readings of it. */
/* job_courses.c: a height, taped or counted in courses of brick. */
void job_take_height(struct job_reader *reader, const struct tree_node *map, const char *key,
                     struct job_length *height);
void job_take_length(struct job_reader *reader, const struct tree_node *map, const char *key,
                     enum job_zero zero, struct job_length *length);
void job_read_length_node(struct job_reader *reader, const struct tree_node *node, const char *key,
                          enum job_zero zero, struct job_length *length);
/* False with an issue. A doubt or guess behind the length is not wanted here and refused. */
bool job_read_tick(struct job_reader *reader, struct job_part part, int64_t *tick);
void job_take_number(struct job_reader *reader, const struct tree_node *map, const char *key,
                     enum job_quantity quantity, struct job_number *number);
void job_read_number_node(struct job_reader *reader, const struct tree_node *node, const char *key,
                          enum job_quantity quantity, struct job_number *number);
/* A plan coordinate: a length, a minus before it allowed. */
bool job_read_coordinate(struct job_reader *reader, const struct tree_node *node, const char *key,
                         int64_t *tick);
/* False with an issue. */
bool job_read_quantity(struct job_reader *reader, struct job_part part, enum job_quantity quantity,
                       double *value);
/* True and the index of the word, when there is one of them. */
bool job_take_word(struct job_reader *reader, const struct tree_node *map, const char *key,
                   const struct job_words *words, int *choice);
/* `porch to` under a key; false with an issue, or quietly when the key is not there. */
bool job_take_eave_place(struct job_reader *reader, const struct tree_node *map, const char *key,
                         struct job_outlet *place);
/* The same, on any edge of a wing: eave, gable or wall. */
bool job_take_edge_place(struct job_reader *reader, const struct tree_node *map, const char *key,
                         struct job_outlet *place);
/* `porch` or `hall 1`, the eave alone. */
bool job_take_eave(struct job_reader *reader, const struct tree_node *map, const char *key,
                   struct job_outlet *place);
bool job_read_word_node(struct job_reader *reader, const struct tree_node *node, const char *key,
                        const struct job_words *words, int *choice);
bool job_take_yes(struct job_reader *reader, const struct tree_node *map, const char *key,
                  bool *yes);

/* Why it cannot be a name, or NULL: names become paths of the result and words of a place. */
const char *job_find_name_fault(struct base_text name);
/* The name of a run or wing; empty (with an issue) when there is none to use. */
struct base_text job_read_name(struct job_reader *reader, const struct tree_node *map,
                               const char *example);
/* Both keys stand there, and only one may: an issue at the later one. */
bool job_refuse_pair(struct job_reader *reader, const struct tree_node *map, const char *key,
                     const char *other);
/* Text without the spaces at both ends. */
struct base_text job_trim(struct base_text text);

/* ---- the parts of a job -------------------------------------------------------------------- */

void job_read_section(struct job_reader *reader, const struct tree_node *map,
                      struct job_section *section, bool *has_section);
/* The map of an eave section itself; false with an issue where it is none. */
bool job_read_section_node(struct job_reader *reader, const struct tree_node *node,
                           struct job_section *section);
void job_read_runs(struct job_reader *reader, const struct tree_node *node);
void job_read_wings(struct job_reader *reader, const struct tree_node *node);
void job_read_outline(struct job_reader *reader, const struct tree_node *node);
void job_read_pieces(struct job_reader *reader, const struct tree_node *node);
void job_read_outlets(struct job_reader *reader, const struct tree_node *node);
void job_read_keep_out(struct job_reader *reader, const struct tree_node *node);
void job_read_curve(struct job_reader *reader, const struct tree_node *map,
                    struct job_curve *curve);
void job_read_survey(struct job_reader *reader, const struct tree_node *node);
void job_read_found(struct job_reader *reader, const struct tree_node *node);
void job_read_checks(struct job_reader *reader, const struct tree_node *node);
/* Gives the corners said to be taped the angle of their three lengths. Runs and checks stand. */
void job_settle_corners(struct job_reader *reader);
void job_read_measuring(struct job_reader *reader, const struct tree_node *node);
void job_read_place(struct job_reader *reader, const struct tree_node *node);
void job_read_gutter(struct job_reader *reader, const struct tree_node *node);
void job_read_water(struct job_reader *reader, const struct tree_node *node);

#endif
