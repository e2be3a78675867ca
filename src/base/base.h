/* SPDX-License-Identifier: Apache-2.0 */
/*
 * base: memory, text, findings and the chain of reasons. The ground every other room stands on.
 *
 * Walk      before: nothing. after: every room.
 * Knows     arenas, byte texts, the list of issues, the trace that `why` reads.
 * Knows not any unit conversion, any file, any house.
 * Memory    the only room that calls malloc. One arena a job; nothing is freed singly.
 *
 * Bugs of the caller are assert(); findings about the job are issues; lack of memory is a status.
 */
#ifndef EAVESMITH_BASE_H
#define EAVESMITH_BASE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum base_status {
    BASE_OK = 0,
    BASE_STOPPED,  /* an issue of severity stop was added: there is no answer */
    BASE_NO_MEMORY /* the arena failed; every answer so far is to be thrown away */
};

/* ---- arena --------------------------------------------------------------------------------- */

/*
 * Memory that is taken piece by piece and given back all at once. Opaque: its chunks must not be
 * touched. Once a take has failed every later take fails too, so a walk may ask at its end.
 */
struct base_arena;

/* An arena that will hold at most limit_bytes (0 = no limit). NULL when malloc fails. */
struct base_arena *base_make_arena(size_t limit_bytes);
void base_free_arena(struct base_arena *arena);

/* count items of item_bytes, zeroed, aligned for any type. NULL when the arena has failed. */
void *base_take(struct base_arena *arena, size_t count, size_t item_bytes);

/*
 * Room for one more item in a growing array: returns items (possibly moved) with *capacity > count,
 * or NULL when the arena has failed (the old array stays whole).
 */
void *base_grow(struct base_arena *arena, void *items, size_t *capacity, size_t count,
                size_t item_bytes);

bool base_arena_failed(const struct base_arena *arena);
size_t base_arena_peak_bytes(const struct base_arena *arena);
/* For tests: the take numbered nth from now (1 = next) fails. 0 = never. */
void base_fail_take(struct base_arena *arena, size_t nth);
/* How many takes there have been: the upper end of the fail-the-nth sweep. */
size_t base_take_count(const struct base_arena *arena);

/* ---- text ---------------------------------------------------------------------------------- */

/* A span of UTF-8 bytes, not NUL-terminated. {NULL, 0} is the empty text. */
struct base_text {
    const char *bytes;
    size_t length;
};

struct base_text base_text_of(const char *c_string); /* the span of a literal; no copy */
bool base_text_equal(struct base_text a, struct base_text b);
bool base_text_is(struct base_text a, const char *c_string);
bool base_text_starts(struct base_text text, const char *c_string);
/* <0, 0, >0 by bytes; a total order for sorting. */
int base_text_compare(struct base_text a, struct base_text b);
/* A copy that lives in the arena; it has a NUL after its last byte. Empty when the arena failed. */
struct base_text base_copy_text(struct base_arena *arena, struct base_text text);
/* Pieces one after the other: base_join(arena, 3, (struct base_text[]){a, b, c}). */
struct base_text base_join(struct base_arena *arena, size_t count, const struct base_text *pieces);
/* Edits (insert, drop, change, swap of neighbours) that turn a into b; used to name the near key.
 */
size_t base_text_distance(struct base_text a, struct base_text b);

/* A text that grows at its end. Made by zeroing it and setting arena. */
struct base_builder {
    struct base_arena *arena;
    char *bytes;
    size_t length;
    size_t capacity;
};

void base_add_text(struct base_builder *builder, struct base_text text);
void base_add_string(struct base_builder *builder, const char *c_string);
void base_add_char(struct base_builder *builder, char c);
void base_add_integer(struct base_builder *builder, int64_t value);
/* What has been built (a view; grows stale with the next add). */
struct base_text base_built(const struct base_builder *builder);
/* " and 4 more eaves" behind the one that is named; empty where there are none. */
struct base_text base_and_more(struct base_arena *arena, int64_t more, const char *noun);

/* ---- values -------------------------------------------------------------------------------- */

/*
 * The kind of a value decides its quantum in result.json and how papers print it. Suffix of the
 * variable that holds it in parentheses.
 */
enum base_unit {
    BASE_UNIT_NONE = 0, /* no value */
    BASE_UNIT_TEXT,     /* text */
    BASE_UNIT_WORD,     /* one word of a closed list, as text */
    BASE_UNIT_COUNT,    /* integer */
    BASE_UNIT_TICK,     /* integer, 3.125 um (_tick); printed as a tape length */
    BASE_UNIT_MINOR,    /* integer, cents (_minor) */
    BASE_UNIT_M,        /* double from here on (_m) */
    BASE_UNIT_M2,
    BASE_UNIT_M3,
    BASE_UNIT_M3S,
    BASE_UNIT_MPS, /* speed of rain or water (_mps) */
    BASE_UNIT_RAD,
    BASE_UNIT_KG,
    BASE_UNIT_N,
    BASE_UNIT_PA,
    BASE_UNIT_S,
    BASE_UNIT_C,     /* temperature, degrees Celsius (_c) */
    BASE_UNIT_RATIO, /* (_1) */
    BASE_UNIT_SLOPE  /* fall along a gutter, printed as in/ft or mm/m (_1) */
};

struct base_value {
    enum base_unit unit;
    int64_t integer;       /* COUNT, TICK, MINOR */
    double number;         /* M .. SLOPE */
    struct base_text text; /* TEXT, WORD */
};

struct base_value base_value_text(struct base_text text);
struct base_value base_value_string(const char *c_string);
struct base_value base_value_count(int64_t count);
struct base_value base_value_tick(int64_t length_tick);
struct base_value base_value_minor(int64_t money_minor);
struct base_value base_value_number(enum base_unit unit, double number);

/* ---- marks and issues ---------------------------------------------------------------------- */

/* The texts a job is made of. */
enum base_document {
    BASE_DOCUMENT_JOB = 0,
    BASE_DOCUMENT_PRICES,
    BASE_DOCUMENT_RAIN,
    BASE_DOCUMENT_GAUGE
};
enum { BASE_DOCUMENTS = BASE_DOCUMENT_GAUGE + 1 };

/* A place in a text a person wrote. line 0 = nowhere in particular. */
struct base_mark {
    enum base_document document;
    int line;         /* 1-based */
    int column;       /* 1-based, in characters */
    size_t from_byte; /* span [from_byte, to_byte) */
    size_t to_byte;
};

enum base_severity {
    BASE_SEVERITY_STOP = 0, /* cannot go on: bad input, exit 2 */
    BASE_SEVERITY_MUST,     /* unsafe or will leak: "not safe as drawn", exit 1 */
    BASE_SEVERITY_SHOULD,   /* works, but a good shop would do otherwise */
    BASE_SEVERITY_NOTE,     /* something to know */
    BASE_SEVERITY_ASSUMED   /* not given; what was taken instead, and what it changes */
};

/* One enum member for each line of issue_codes.def: BASE_ISSUE_<CODE>. */
enum base_issue_code {
#define ISSUE(code, severity, text, mend) BASE_ISSUE_##code,
#include "base/issue_codes.def"
#undef ISSUE
    BASE_ISSUE_CODE_COUNT
};

/*
 * A finding. Its sentence is the pattern in issue_codes.def with {object} {value} {limit} {other}
 * filled by documents; no room writes a sentence.
 */
struct base_issue {
    enum base_issue_code code;
    struct base_mark mark;
    struct base_text object; /* path or name of what it is about; may be empty */
    struct base_value value;
    struct base_value limit;
    struct base_value other;
    const char *source; /* source tag (docs/sources.md) or NULL */
};

struct base_issues {
    struct base_arena *arena;
    struct base_issue *items; /* [count], in the order found */
    size_t count;
    size_t capacity;
};

/* Adds a copy. Texts inside must live as long as the arena. */
void base_add_issue(struct base_issues *issues, struct base_issue issue);
enum base_severity base_issue_severity(enum base_issue_code code);
const char *base_issue_name(enum base_issue_code code);    /* "UNKNOWN_KEY" */
const char *base_issue_pattern(enum base_issue_code code); /* "{object}: ..." */
const char *base_issue_mend(enum base_issue_code code);    /* what would be right; may be "" */
size_t base_count_severity(const struct base_issues *issues, enum base_severity severity);
bool base_has_stop(const struct base_issues *issues);

/* ---- trace: why a number is what it is ----------------------------------------------------- */

enum { BASE_NOTE_INPUTS = 10 };

struct base_input {
    const char *name;
    struct base_value value;
};

/* One step in the reason for one leaf of the result. */
struct base_note {
    struct base_text path; /* path of the leaf in result.json */
    const char *formula;   /* "Q = 0.52 w^2.5 (cfs, ft)" */
    const char *source;    /* tag in docs/sources.md, "plane geometry", or "shop habit" */
    const char *rule;      /* what decided, in a few words; NULL when nothing was decided */
    struct base_input inputs[BASE_NOTE_INPUTS];
    int input_count;
};

/*
 * The chain of reasons. A NULL trace is silent, so formula rooms may always call. The decision room
 * opens a scope (an object's path) and names the leaf; the formula room adds the note.
 */
struct base_trace {
    struct base_arena *arena;
    struct base_text scope; /* "runs/porch" */
    struct base_text leaf;  /* "depth_m" */
    struct base_note *notes;
    size_t count;
    size_t capacity;
};

void base_trace_scope(struct base_trace *trace, struct base_text object_path);
void base_trace_leaf(struct base_trace *trace, const char *leaf);
/* Adds a note at scope/leaf; later inputs go to it. */
void base_trace_formula(struct base_trace *trace, const char *formula, const char *source);
void base_trace_rule(struct base_trace *trace, const char *rule); /* on the last note */
void base_trace_input(struct base_trace *trace, const char *name, struct base_value value);

#endif
