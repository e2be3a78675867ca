/* SPDX-License-Identifier: Apache-2.0 */
/*
 * tree: a marked tree of maps, lists and scalars, and strict JSON in and out.
 *
 * Walk      before: base. after: shop, tariff, job (they read trees), result (it writes JSON).
 * Knows     structure and places. The YAML door and the JSON reader both fill this one tree.
 * Knows not what any key means; a scalar stays the text that was written.
 * Memory    nodes live in the arena handed in; texts point into the source, which must outlive
 * them, or into the arena where an escape was resolved.
 */
#ifndef EAVESMITH_TREE_H
#define EAVESMITH_TREE_H

#include "base/base.h"

enum tree_kind { TREE_NULL = 0, TREE_SCALAR, TREE_LIST, TREE_MAP };

enum { TREE_DEPTH_MAX = 64, TREE_BYTES_MAX = 4 * 1024 * 1024, TREE_NODES_MAX = 200000 };

struct tree_node {
    enum tree_kind kind;
    bool quoted;               /* scalar: written in quotes */
    struct base_mark mark;     /* of the value; an empty value takes its key's mark */
    struct base_text text;     /* scalar: the text, escapes resolved */
    struct base_text key;      /* in a map: this entry's key */
    struct base_mark key_mark; /* in a map: where the key stands */
    struct tree_node *first;   /* list, map: first child */
    struct tree_node *next;    /* the next child of the same parent */
    size_t count;              /* list, map: children */
};

/* The entry of a map with that key, or NULL (also when node is NULL or no map). */
const struct tree_node *tree_find(const struct tree_node *map, const char *key);

/* ---- places (for readers of texts, and for showing a finding) ------------------------------- */

/* A place that is cheap to move forward: made by {.source = text, .line = 1, .column = 1}. */
struct tree_cursor {
    struct base_text source;
    size_t at; /* byte */
    int line;
    int column;
};

/* Moves to a byte of the source; going back starts over from the top. */
void tree_move_cursor(struct tree_cursor *cursor, size_t to_byte);
/* The mark of the span; moves the cursor to its start. */
struct base_mark tree_make_mark(struct tree_cursor *cursor, enum base_document document,
                                size_t from_byte, size_t to_byte);

/* The source line at the mark, a line break, and a caret line below it: `^` under the first
 * character, `~` under the rest of the span. Tabs stay tabs; a line longer than 100 characters is
 * cut around the mark, with ... where it was cut. No break at the end. Empty for a mark that is
 * nowhere (line 0). */
struct base_text tree_show_place(struct base_arena *arena, struct base_text source,
                                 struct base_mark mark);

/* Size and UTF-8 of a text, for every reader. False with TEXT_TOO_LONG or TEXT_NOT_UTF8. */
bool tree_check_text(struct base_issues *issues, enum base_document document,
                     struct base_text source);
bool tree_is_utf8(struct base_text text);
/* DUPLICATE_KEY at the second of each pair of equal keys. False when there is one (or no memory).
 */
bool tree_check_keys(struct base_issues *issues, const struct tree_node *map);

/* ---- JSON ---------------------------------------------------------------------------------- */

/*
 * Strict JSON (RFC 8259; duplicate keys, trailing commas, bad UTF-8, lone surrogates and control
 * characters refused; nesting and size limited as above). Numbers, true and false become unquoted
 * scalars with the text as written; null becomes TREE_NULL.
 * Gives the root, or NULL with an issue that carries the mark.
 */
const struct tree_node *tree_read_json(struct base_arena *arena, struct base_issues *issues,
                                       enum base_document document, struct base_text source);

/*
 * Writes JSON, two spaces a level, keys in the order given, one leaf a line; a line break after the
 * root closes. At most TREE_DEPTH_MAX levels.
 */
struct tree_writer {
    struct base_builder out;
    int depth;
    bool has_sibling;                 /* something stands before in the open map or list */
    bool is_list[TREE_DEPTH_MAX + 1]; /* [depth]: the open thing of each level is a list */
};

struct tree_writer tree_make_writer(struct base_arena *arena);
void tree_open_map(struct tree_writer *writer, struct base_text key);  /* key ignored in a list */
void tree_open_list(struct tree_writer *writer, struct base_text key); /* and at the root */
void tree_close_map(struct tree_writer *writer);
void tree_close_list(struct tree_writer *writer);
void tree_write_text(struct tree_writer *writer, struct base_text key, struct base_text value);
/* A node and all below it, under its own key: every scalar as text. It must fit what is open. */
void tree_write_node(struct tree_writer *writer, const struct tree_node *node);
/* A number already printed by units (no quotes). */
void tree_write_raw(struct tree_writer *writer, struct base_text key, struct base_text value);

#endif
