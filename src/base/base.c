/* SPDX-License-Identifier: Apache-2.0 */
#include "base/base.h"

#include <assert.h>
#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

/* ---- arena --------------------------------------------------------------------------------- */

enum { ARENA_CHUNK_BYTES = 64 * 1024 };

struct arena_chunk {
    struct arena_chunk *previous;
    size_t used;
    size_t size;
    alignas(max_align_t) unsigned char bytes[];
};

struct base_arena {
    struct arena_chunk *chunk;
    size_t limit_bytes;
    size_t held_bytes;
    size_t take_count;
    size_t fail_at; /* value of take_count at which the take fails; 0 = never */
    bool failed;
};

struct base_arena *base_make_arena(size_t limit_bytes) {
    struct base_arena *arena = calloc(1, sizeof *arena);
    if (arena != NULL) {
        arena->limit_bytes = limit_bytes;
    }
    return arena;
}

void base_free_arena(struct base_arena *arena) {
    if (arena == NULL) {
        return;
    }
    struct arena_chunk *chunk = arena->chunk;
    while (chunk != NULL) {
        struct arena_chunk *previous = chunk->previous;
        free(chunk);
        chunk = previous;
    }
    free(arena);
}

static bool add_chunk(struct base_arena *arena, size_t needed) {
    size_t size = needed > ARENA_CHUNK_BYTES ? needed : ARENA_CHUNK_BYTES;
    if (arena->limit_bytes != 0 && size > arena->limit_bytes - arena->held_bytes) {
        size = needed; /* the last chunk under a limit may be a small one */
        if (needed > arena->limit_bytes - arena->held_bytes) {
            return false;
        }
    }
    if (size > SIZE_MAX - sizeof(struct arena_chunk)) {
        return false;
    }
    struct arena_chunk *chunk = malloc(sizeof *chunk + size);
    if (chunk == NULL) {
        return false;
    }
    chunk->used = 0;
    chunk->previous = arena->chunk;
    chunk->size = size;
    arena->chunk = chunk;
    arena->held_bytes += size;
    return true;
}

void *base_take(struct base_arena *arena, size_t count, size_t item_bytes) {
    assert(arena != NULL && item_bytes > 0);
    arena->take_count++;
    if (arena->take_count == arena->fail_at) {
        arena->failed = true;
    }
    if (arena->failed || count > (SIZE_MAX / 2) / item_bytes) {
        arena->failed = true;
        return NULL;
    }
    size_t align = alignof(max_align_t);
    size_t bytes = (count * item_bytes + align - 1) / align * align;
    if (bytes == 0) {
        bytes = align;
    }
    if (arena->chunk == NULL || bytes > arena->chunk->size - arena->chunk->used) {
        if (!add_chunk(arena, bytes)) {
            arena->failed = true;
            return NULL;
        }
    }
    void *taken = arena->chunk->bytes + arena->chunk->used;
    arena->chunk->used += bytes;
    memset(taken, 0, bytes); /* only what is taken: many an arena lives for one formula */
    return taken;
}

void *base_grow(struct base_arena *arena, void *items, size_t *capacity, size_t count,
                size_t item_bytes) {
    if (count < *capacity) {
        return arena->failed ? NULL : items;
    }
    size_t wanted = *capacity == 0 ? 8 : *capacity * 2;
    void *grown = base_take(arena, wanted, item_bytes);
    if (grown == NULL) {
        return NULL;
    }
    if (count > 0) {
        memcpy(grown, items, count * item_bytes);
    }
    *capacity = wanted;
    return grown;
}

bool base_arena_failed(const struct base_arena *arena) {
    return arena->failed;
}

size_t base_arena_peak_bytes(const struct base_arena *arena) {
    return arena->held_bytes;
}

void base_fail_take(struct base_arena *arena, size_t nth) {
    arena->fail_at = nth == 0 ? 0 : arena->take_count + nth;
}

size_t base_take_count(const struct base_arena *arena) {
    return arena->take_count;
}

/* ---- text ---------------------------------------------------------------------------------- */

struct base_text base_text_of(const char *c_string) {
    return (struct base_text){c_string, c_string == NULL ? 0 : strlen(c_string)};
}

bool base_text_equal(struct base_text a, struct base_text b) {
    return a.length == b.length && (a.length == 0 || memcmp(a.bytes, b.bytes, a.length) == 0);
}

bool base_text_is(struct base_text a, const char *c_string) {
    return base_text_equal(a, base_text_of(c_string));
}

bool base_text_starts(struct base_text text, const char *c_string) {
    size_t length = strlen(c_string);
    return text.length >= length && memcmp(text.bytes, c_string, length) == 0;
}

int base_text_compare(struct base_text a, struct base_text b) {
    size_t shorter = a.length < b.length ? a.length : b.length;
    int order = shorter == 0 ? 0 : memcmp(a.bytes, b.bytes, shorter);
    if (order != 0) {
        return order;
    }
    return (a.length > b.length) - (a.length < b.length);
}

struct base_text base_copy_text(struct base_arena *arena, struct base_text text) {
    return base_join(arena, 1, &text);
}

struct base_text base_join(struct base_arena *arena, size_t count, const struct base_text *pieces) {
    size_t length = 0;
    for (size_t i = 0; i < count; i++) {
        length += pieces[i].length;
    }
    char *bytes = base_take(arena, length + 1, 1);
    if (bytes == NULL) {
        return (struct base_text){0};
    }
    size_t at = 0;
    for (size_t i = 0; i < count; i++) {
        if (pieces[i].length > 0) {
            memcpy(bytes + at, pieces[i].bytes, pieces[i].length);
        }
        at += pieces[i].length;
    }
    return (struct base_text){bytes, length};
}

/* Optimal string alignment over the last three rows; texts longer than a key never are compared. */
enum { DISTANCE_LENGTH_MAX = 48 };

static size_t smaller(size_t a, size_t b) {
    return a < b ? a : b;
}

size_t base_text_distance(struct base_text a, struct base_text b) {
    if (a.length > DISTANCE_LENGTH_MAX || b.length > DISTANCE_LENGTH_MAX) {
        return a.length > b.length ? a.length : b.length;
    }
    size_t rows[3][DISTANCE_LENGTH_MAX + 1];
    for (size_t j = 0; j <= b.length; j++) {
        rows[0][j] = j;
    }
    for (size_t i = 1; i <= a.length; i++) {
        size_t *now = rows[i % 3];
        const size_t *above = rows[(i + 2) % 3];
        const size_t *above2 = rows[(i + 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= b.length; j++) {
            size_t change = a.bytes[i - 1] == b.bytes[j - 1] ? 0 : 1;
            size_t best = smaller(smaller(above[j] + 1, now[j - 1] + 1), above[j - 1] + change);
            if (i > 1 && j > 1 && a.bytes[i - 1] == b.bytes[j - 2] &&
                a.bytes[i - 2] == b.bytes[j - 1]) {
                best = smaller(best, above2[j - 2] + 1);
            }
            now[j] = best;
        }
    }
    return rows[a.length % 3][b.length];
}

static bool builder_reserve(struct base_builder *builder, size_t more) {
    if (builder->length + more + 1 <= builder->capacity) {
        return !base_arena_failed(builder->arena);
    }
    size_t wanted = builder->capacity == 0 ? 256 : builder->capacity * 2;
    while (wanted < builder->length + more + 1) {
        wanted *= 2;
    }
    char *bytes = base_take(builder->arena, wanted, 1);
    if (bytes == NULL) {
        return false;
    }
    if (builder->length > 0) {
        memcpy(bytes, builder->bytes, builder->length);
    }
    builder->bytes = bytes;
    builder->capacity = wanted;
    return true;
}

void base_add_text(struct base_builder *builder, struct base_text text) {
    if (text.length > 0 && builder_reserve(builder, text.length)) {
        memcpy(builder->bytes + builder->length, text.bytes, text.length);
        builder->length += text.length;
    }
}

void base_add_string(struct base_builder *builder, const char *c_string) {
    base_add_text(builder, base_text_of(c_string));
}

void base_add_char(struct base_builder *builder, char c) {
    base_add_text(builder, (struct base_text){&c, 1});
}

void base_add_integer(struct base_builder *builder, int64_t value) {
    char digits[24];
    size_t at = sizeof digits;
    uint64_t rest = value < 0 ? 0 - (uint64_t)value : (uint64_t)value;
    do {
        digits[--at] = (char)('0' + rest % 10);
        rest /= 10;
    } while (rest > 0);
    if (value < 0) {
        digits[--at] = '-';
    }
    base_add_text(builder, (struct base_text){digits + at, sizeof digits - at});
}

struct base_text base_built(const struct base_builder *builder) {
    return (struct base_text){builder->bytes, builder->length};
}

struct base_text base_and_more(struct base_arena *arena, int64_t more, const char *noun) {
    struct base_builder builder = {.arena = arena};
    if (more > 0) {
        base_add_string(&builder, " and ");
        base_add_integer(&builder, more);
        base_add_string(&builder, " more ");
        base_add_string(&builder, noun);
        base_add_string(&builder, more == 1 ? "" : "s");
    }
    return base_built(&builder);
}

/* ---- values -------------------------------------------------------------------------------- */

struct base_value base_value_text(struct base_text text) {
    return (struct base_value){.unit = BASE_UNIT_TEXT, .text = text};
}

struct base_value base_value_string(const char *c_string) {
    return base_value_text(base_text_of(c_string));
}

struct base_value base_value_count(int64_t count) {
    return (struct base_value){.unit = BASE_UNIT_COUNT, .integer = count};
}

struct base_value base_value_tick(int64_t length_tick) {
    return (struct base_value){.unit = BASE_UNIT_TICK, .integer = length_tick};
}

struct base_value base_value_minor(int64_t money_minor) {
    return (struct base_value){.unit = BASE_UNIT_MINOR, .integer = money_minor};
}

struct base_value base_value_number(enum base_unit unit, double number) {
    return (struct base_value){.unit = unit, .number = number};
}

/* ---- issues -------------------------------------------------------------------------------- */

struct issue_row {
    const char *name;
    enum base_severity severity;
    const char *pattern;
    const char *mend;
};

static const struct issue_row ISSUE_ROWS[BASE_ISSUE_CODE_COUNT] = {
#define ISSUE(code, severity, text, mend) {#code, BASE_SEVERITY_##severity, text, mend},
#include "base/issue_codes.def"
#undef ISSUE
};

void base_add_issue(struct base_issues *issues, struct base_issue issue) {
    struct base_issue *items = base_grow(issues->arena, issues->items, &issues->capacity,
                                         issues->count, sizeof *issues->items);
    if (items == NULL) {
        return; /* the arena has failed; solve reports that instead of the findings */
    }
    issues->items = items;
    issues->items[issues->count++] = issue;
}

enum base_severity base_issue_severity(enum base_issue_code code) {
    return ISSUE_ROWS[code].severity;
}

const char *base_issue_name(enum base_issue_code code) {
    return ISSUE_ROWS[code].name;
}

const char *base_issue_pattern(enum base_issue_code code) {
    return ISSUE_ROWS[code].pattern;
}

const char *base_issue_mend(enum base_issue_code code) {
    return ISSUE_ROWS[code].mend;
}

size_t base_count_severity(const struct base_issues *issues, enum base_severity severity) {
    size_t count = 0;
    for (size_t i = 0; i < issues->count; i++) {
        count += base_issue_severity(issues->items[i].code) == severity;
    }
    return count;
}

bool base_has_stop(const struct base_issues *issues) {
    return base_count_severity(issues, BASE_SEVERITY_STOP) > 0;
}

/* ---- trace --------------------------------------------------------------------------------- */

void base_trace_scope(struct base_trace *trace, struct base_text object_path) {
    if (trace != NULL) {
        trace->scope = base_copy_text(trace->arena, object_path);
        trace->leaf = (struct base_text){0};
    }
}

void base_trace_leaf(struct base_trace *trace, const char *leaf) {
    if (trace != NULL) {
        trace->leaf = base_text_of(leaf);
    }
}

void base_trace_formula(struct base_trace *trace, const char *formula, const char *source) {
    if (trace == NULL) {
        return;
    }
    struct base_note *notes =
        base_grow(trace->arena, trace->notes, &trace->capacity, trace->count, sizeof *notes);
    if (notes == NULL) {
        return;
    }
    trace->notes = notes;
    struct base_text path[] = {trace->scope, base_text_of("/"), trace->leaf};
    notes[trace->count++] = (struct base_note){
        .path = base_join(trace->arena, 3, path), .formula = formula, .source = source};
}

void base_trace_rule(struct base_trace *trace, const char *rule) {
    if (trace != NULL && trace->count > 0) {
        trace->notes[trace->count - 1].rule = rule;
    }
}

void base_trace_input(struct base_trace *trace, const char *name, struct base_value value) {
    if (trace == NULL || trace->count == 0) {
        return;
    }
    struct base_note *note = &trace->notes[trace->count - 1];
    if (note->input_count < BASE_NOTE_INPUTS) {
        note->inputs[note->input_count++] = (struct base_input){name, value};
    }
}
