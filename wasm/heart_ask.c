/* SPDX-License-Identifier: Apache-2.0 */
/* Questions about the last answer, and the one reader of lengths, for the page's fields. */
#include "heart_inside.h"

#include "tree/tree.h"
#include "units/units.h"

void *heart_more(uint32_t bytes);
const struct heart_answer *heart_why(const char *path, uint32_t path_length);
const struct heart_answer *heart_length(const char *text, uint32_t length, uint32_t metric);

/* Room for a question; the last answer stays. */
void *heart_more(uint32_t bytes) {
    if (heart.arena == NULL) {
        heart.arena = base_make_arena(0);
    }
    return heart.arena == NULL ? NULL : base_take(heart.arena, bytes == 0 ? 1 : bytes, 1);
}

static struct base_text said(struct base_value value) {
    return units_write_value(heart.arena, heart.solution->shop.style, value);
}

static void write_note(struct tree_writer *writer, const struct base_note *note) {
    tree_open_map(writer, (struct base_text){0});
    tree_write_text(writer, base_text_of("formula"), base_text_of(note->formula));
    tree_write_text(writer, base_text_of("source"), base_text_of(note->source));
    if (note->rule != NULL) {
        tree_write_text(writer, base_text_of("rule"), base_text_of(note->rule));
    }
    tree_open_list(writer, base_text_of("inputs"));
    for (int i = 0; i < note->input_count; i++) {
        tree_open_map(writer, (struct base_text){0});
        tree_write_text(writer, base_text_of("name"), base_text_of(note->inputs[i].name));
        tree_write_text(writer, base_text_of("value"), said(note->inputs[i].value));
        tree_close_map(writer);
    }
    tree_close_list(writer);
    tree_close_map(writer);
}

static void write_leaf(struct tree_writer *writer, const struct result_leaf *leaf) {
    const struct base_trace *trace = heart.trace;
    tree_open_map(writer, (struct base_text){0});
    tree_write_text(writer, base_text_of("path"), leaf->path);
    tree_write_text(writer, base_text_of("value"), said(leaf->value));
    tree_write_text(writer, base_text_of("note"), base_text_of(result_field_note(leaf->field)));
    tree_open_list(writer, base_text_of("steps"));
    for (size_t i = 0; i < trace->count; i++) {
        if (base_text_equal(trace->notes[i].path, leaf->path)) {
            write_note(writer, &trace->notes[i]);
        }
    }
    tree_close_list(writer);
    tree_close_map(writer);
}

/* Walks once more with the trace on, at the first question after an answer. */
static bool have_trace(void) {
    if (heart.solution == NULL) {
        return false;
    }
    if (heart.trace == NULL) {
        struct base_issues issues = {.arena = heart.arena};
        struct base_trace *trace = base_take(heart.arena, 1, sizeof *trace);
        struct solution *solution = base_take(heart.arena, 1, sizeof *solution);
        if (trace == NULL || solution == NULL) {
            return false;
        }
        trace->arena = heart.arena;
        if (heart_walk(trace, &issues, solution) != BASE_OK) {
            return false;
        }
        heart.leaves = (struct result_leaves){0};
        (void)result_write(heart.arena, solution, &issues, &heart.leaves);
        heart.solution = solution;
        heart.trace = trace;
    }
    return !base_arena_failed(heart.arena);
}

/* A list: the leaf of that path, or every leaf below it, each with its reasons. */
const struct heart_answer *heart_why(const char *path, uint32_t path_length) {
    struct base_text asked = {path, path_length};
    bool known = have_trace();
    struct tree_writer writer = tree_make_writer(heart.arena);
    tree_open_list(&writer, (struct base_text){0});
    for (size_t i = 0; known && i < heart.leaves.count; i++) {
        struct base_text leaf = heart.leaves.items[i].path;
        struct base_text start = {leaf.bytes, path_length};
        if (leaf.length >= path_length && base_text_equal(start, asked) &&
            (leaf.length == path_length || leaf.bytes[path_length] == '/')) {
            write_leaf(&writer, &heart.leaves.items[i]);
        }
    }
    tree_close_list(&writer);
    return heart_answer_text(base_built(&writer.out));
}

static const char *fault_word(enum units_fault fault) {
    switch (fault) {
    case UNITS_FINE:
        return "";
    case UNITS_EMPTY:
        return "empty";
    case UNITS_NOT_A_NUMBER:
        return "not a number";
    case UNITS_BARE_NUMBER:
        return "bare number";
    case UNITS_UNKNOWN_UNIT:
        return "unknown unit";
    case UNITS_TOO_FINE:
        return "too fine";
    case UNITS_TOO_LARGE:
        return "too large";
    case UNITS_BAD_FRACTION:
        return "bad fraction";
    case UNITS_NEGATIVE:
        return "negative";
    case UNITS_TRAILING:
        return "trailing";
    }
    return "";
}

static void write_lengths(struct tree_writer *writer, int64_t length_tick) {
    struct base_value tick = base_value_count(length_tick);
    tree_write_raw(writer, base_text_of("tick"), units_write_quantum(heart.arena, tick));
    tree_write_text(writer, base_text_of("ft_in"),
                    units_write_length_exact(heart.arena, UNITS_FT_IN, length_tick));
    tree_write_text(writer, base_text_of("mm"),
                    units_write_length_exact(heart.arena, UNITS_MM, length_tick));
}

/* {"fault": "", "at": 0, "tick": ..., "ft_in": "28' 4 1/2\"", "mm": "8648.7 mm"}; a bare number has
 * both readings under "feet" and "inches". */
const struct heart_answer *heart_length(const char *text, uint32_t length, uint32_t metric) {
    struct units_length_reading reading =
        units_read_length((struct base_text){text, length}, metric != 0 ? UNITS_MM : UNITS_FT_IN);
    struct tree_writer writer = tree_make_writer(heart.arena);
    tree_open_map(&writer, (struct base_text){0});
    tree_write_text(&writer, base_text_of("fault"), base_text_of(fault_word(reading.fault)));
    struct base_value at = base_value_count((int64_t)reading.fault_at);
    tree_write_raw(&writer, base_text_of("at"), units_write_quantum(heart.arena, at));
    if (reading.fault == UNITS_FINE) {
        write_lengths(&writer, reading.length_tick);
    }
    if (reading.fault == UNITS_BARE_NUMBER && metric == 0) {
        tree_write_text(&writer, base_text_of("feet"),
                        units_write_length_exact(heart.arena, UNITS_FT_IN, reading.as_feet_tick));
        tree_write_text(&writer, base_text_of("inches"),
                        units_write_length_exact(heart.arena, UNITS_FT_IN, reading.as_inches_tick));
    }
    tree_close_map(&writer);
    return heart_answer_text(base_built(&writer.out));
}
