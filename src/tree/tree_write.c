/* SPDX-License-Identifier: Apache-2.0 */
/* JSON out. */
#include "tree/tree.h"

#include <assert.h>

struct tree_writer tree_make_writer(struct base_arena *arena) {
    return (struct tree_writer){.out = {.arena = arena}};
}

static void add_break(struct tree_writer *writer) {
    base_add_char(&writer->out, '\n');
    for (int i = 0; i < writer->depth; i++) {
        base_add_string(&writer->out, "  ");
    }
}

static void add_quoted(struct base_builder *out, struct base_text text) {
    static const char HEX[] = "0123456789abcdef";
    base_add_char(out, '"');
    for (size_t i = 0; i < text.length; i++) {
        unsigned char byte = (unsigned char)text.bytes[i];
        if (byte == '"' || byte == '\\') {
            base_add_char(out, '\\');
            base_add_char(out, (char)byte);
        } else if (byte == '\n') {
            base_add_string(out, "\\n");
        } else if (byte == '\t') {
            base_add_string(out, "\\t");
        } else if (byte < 0x20 || byte == 0x7F) {
            base_add_string(out, "\\u00");
            base_add_char(out, HEX[byte >> 4]);
            base_add_char(out, HEX[byte & 15]);
        } else {
            base_add_char(out, (char)byte);
        }
    }
    base_add_char(out, '"');
}

/* What stands before every value: comma, line, and in a map the key. */
static void begin_value(struct tree_writer *writer, struct base_text key) {
    if (writer->depth == 0) {
        return;
    }
    if (writer->has_sibling) {
        base_add_char(&writer->out, ',');
    }
    add_break(writer);
    if (!writer->is_list[writer->depth]) {
        add_quoted(&writer->out, key);
        base_add_string(&writer->out, ": ");
    }
    writer->has_sibling = true;
}

static void open_level(struct tree_writer *writer, struct base_text key, bool is_list) {
    assert(writer->depth < TREE_DEPTH_MAX);
    begin_value(writer, key);
    base_add_char(&writer->out, is_list ? '[' : '{');
    writer->depth++;
    writer->is_list[writer->depth] = is_list;
    writer->has_sibling = false;
}

static void close_level(struct tree_writer *writer, bool is_list) {
    assert(writer->depth > 0 && writer->is_list[writer->depth] == is_list);
    writer->depth--;
    if (writer->has_sibling) {
        add_break(writer);
    }
    base_add_char(&writer->out, is_list ? ']' : '}');
    writer->has_sibling = true;
    if (writer->depth == 0) {
        base_add_char(&writer->out, '\n');
    }
}

void tree_open_map(struct tree_writer *writer, struct base_text key) {
    open_level(writer, key, false);
}

void tree_open_list(struct tree_writer *writer, struct base_text key) {
    open_level(writer, key, true);
}

void tree_close_map(struct tree_writer *writer) {
    close_level(writer, false);
}

void tree_close_list(struct tree_writer *writer) {
    close_level(writer, true);
}

void tree_write_text(struct tree_writer *writer, struct base_text key, struct base_text value) {
    begin_value(writer, key);
    add_quoted(&writer->out, value);
}

void tree_write_raw(struct tree_writer *writer, struct base_text key, struct base_text value) {
    begin_value(writer, key);
    base_add_text(&writer->out, value);
}

void tree_write_node(struct tree_writer *writer, const struct tree_node *node) {
    switch (node->kind) {
    case TREE_NULL:
        tree_write_raw(writer, node->key, base_text_of("null"));
        break;
    case TREE_SCALAR:
        tree_write_text(writer, node->key, node->text);
        break;
    case TREE_LIST:
        tree_open_list(writer, node->key);
        break;
    case TREE_MAP:
        tree_open_map(writer, node->key);
        break;
    }
    /* as deep as a tree may be */
    for (const struct tree_node *child = node->first; child != NULL; child = child->next) {
        tree_write_node(writer, child);
    }
    if (node->kind == TREE_LIST) {
        tree_close_list(writer);
    } else if (node->kind == TREE_MAP) {
        tree_close_map(writer);
    }
}
