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

/*
 * Strict JSON (RFC 8259; duplicate keys, trailing commas, bad UTF-8, lone surrogates and control
 * characters refused; nesting and size limited as above). Numbers, true and false become unquoted
 * scalars with the text as written; null becomes TREE_NULL.
 * Gives the root, or NULL with an issue that carries the mark.
 */
const struct tree_node *tree_read_json(struct base_arena *arena, struct base_issues *issues,
                                       enum base_document document, struct base_text source);

/* Writes JSON, two spaces a level, keys in the order given, one leaf a line. */
struct tree_writer {
    struct base_builder out;
    int depth;
    bool has_sibling; /* something stands before in the open map or list */
};

struct tree_writer tree_make_writer(struct base_arena *arena);
void tree_open_map(struct tree_writer *writer, struct base_text key);  /* key ignored in a list */
void tree_open_list(struct tree_writer *writer, struct base_text key); /* and at the root */
void tree_close_map(struct tree_writer *writer);
void tree_close_list(struct tree_writer *writer);
void tree_write_text(struct tree_writer *writer, struct base_text key, struct base_text value);
/* A number already printed by units (no quotes). */
void tree_write_raw(struct tree_writer *writer, struct base_text key, struct base_text value);

#endif
