/* SPDX-License-Identifier: Apache-2.0 */
/* What the answers are written with: faults, findings, and the places of a text for the page. */
#include <string.h>

#include "documents/documents.h"
#include "server/server_inside.h"

void server_write_count(struct tree_writer *writer, const char *key, int64_t value) {
    tree_write_raw(writer, base_text_of(key),
                   units_write_quantum(writer->out.arena, base_value_count(value)));
}

void server_write_word(struct tree_writer *writer, const char *key, const char *value) {
    tree_write_text(writer, base_text_of(key), base_text_of(value));
}

void server_write_string(struct tree_writer *writer, const char *key, struct base_text value) {
    tree_write_text(writer, base_text_of(key), value);
}

void server_write_flag(struct tree_writer *writer, const char *key, bool value) {
    tree_write_raw(writer, base_text_of(key), base_text_of(value ? "true" : "false"));
}

void server_write_fault(struct tree_writer *writer, enum server_fault fault, const char *text) {
    tree_open_map(writer, base_text_of("error"));
    server_write_word(writer, "code", server_fault_word(fault));
    server_write_word(writer, "text", text);
    tree_close_map(writer);
}

/* ---- places --------------------------------------------------------------------------------- */

/* Places in a text as a browser counts them: UTF-16 units. Cheap to move forward. */
struct unit_cursor {
    struct base_text text;
    size_t at_byte;
    int64_t at_unit;
};

static int64_t move_units(struct unit_cursor *cursor, size_t to_byte) {
    if (to_byte < cursor->at_byte) {
        cursor->at_byte = 0;
        cursor->at_unit = 0;
    }
    for (; cursor->at_byte < to_byte && cursor->at_byte < cursor->text.length; cursor->at_byte++) {
        unsigned char byte = (unsigned char)cursor->text.bytes[cursor->at_byte];
        cursor->at_unit += byte >= 0xF0 ? 2 : (byte & 0xC0) != 0x80 ? 1 : 0;
    }
    return cursor->at_unit;
}

static void write_place(struct tree_writer *writer, struct unit_cursor *cursor,
                        struct base_mark mark) {
    server_write_count(writer, "line", mark.line);
    server_write_count(writer, "column", mark.column);
    server_write_count(writer, "from", move_units(cursor, mark.from_byte));
    struct unit_cursor end = *cursor; /* the next place may begin inside this one */
    server_write_count(writer, "to", move_units(&end, mark.to_byte));
}

/* One step of a JSON Pointer. */
static void add_step(struct base_builder *path, struct base_text key) {
    base_add_char(path, '/');
    for (size_t i = 0; i < key.length; i++) {
        if (key.bytes[i] == '~') {
            base_add_string(path, "~0");
        } else if (key.bytes[i] == '/') {
            base_add_string(path, "~1");
        } else {
            base_add_char(path, key.bytes[i]);
        }
    }
}

static void add_child_step(struct base_builder *path, const struct tree_node *parent,
                           const struct tree_node *child, size_t index) {
    if (parent->kind == TREE_MAP) {
        add_step(path, child->key);
    } else {
        base_add_char(path, '/');
        base_add_integer(path, (int64_t)index);
    }
}

static void write_mark(struct tree_writer *writer, struct unit_cursor *cursor,
                       struct base_text path, const struct tree_node *node, bool has_key) {
    bool left_out =
        node->kind == TREE_NULL && has_key && node->mark.from_byte == node->key_mark.from_byte;
    struct base_mark mark = node->mark;
    if (left_out) { /* such a value has its key's mark: the place is after the colon */
        mark.from_byte = mark.to_byte;
        while (mark.from_byte < cursor->text.length && cursor->text.bytes[mark.from_byte] == ' ') {
            mark.from_byte++;
        }
        mark.from_byte +=
            mark.from_byte < cursor->text.length && cursor->text.bytes[mark.from_byte] == ':' ? 1
                                                                                              : 0;
        mark.column += (int)(mark.from_byte - node->mark.from_byte);
        mark.to_byte = mark.from_byte;
    }
    tree_open_map(writer, path);
    if (has_key) { /* before the value, because the cursor goes forward */
        tree_open_map(writer, base_text_of("key"));
        write_place(writer, cursor, node->key_mark);
        tree_close_map(writer);
    }
    write_place(writer, cursor, mark);
    if (node->kind == TREE_SCALAR && node->quoted) {
        server_write_flag(writer, "quoted", true);
    }
    tree_close_map(writer);
}

static void write_marks_below(struct tree_writer *writer, struct unit_cursor *cursor,
                              struct base_builder *path, const struct tree_node *node) {
    size_t index = 0;
    size_t length = path->length;
    for (const struct tree_node *child = node->first; child != NULL; child = child->next) {
        add_child_step(path, node, child, index++);
        write_mark(writer, cursor, base_built(path), child, node->kind == TREE_MAP);
        write_marks_below(writer, cursor, path, child); /* as deep as a tree may be */
        path->length = length;
    }
}

void server_write_marks(struct tree_writer *writer, struct base_text text,
                        const struct tree_node *root) {
    struct unit_cursor cursor = {.text = text};
    struct base_builder path = {.arena = writer->out.arena};
    tree_open_map(writer, base_text_of("marks"));
    if (root != NULL) {
        write_mark(writer, &cursor, (struct base_text){0}, root, false);
        write_marks_below(writer, &cursor, &path, root);
    }
    tree_close_map(writer);
}

/* ---- findings ------------------------------------------------------------------------------- */

static size_t begin_of(const struct tree_node *child) {
    bool has_key = child->key_mark.line > 0;
    return has_key && child->key_mark.from_byte < child->mark.from_byte ? child->key_mark.from_byte
                                                                        : child->mark.from_byte;
}

static bool is_at(const struct tree_node *node, struct base_mark mark) {
    return node->mark.from_byte == mark.from_byte && node->mark.to_byte == mark.to_byte;
}

/* The outermost node that has the mark, else the innermost around its start, as a JSON Pointer. */
static struct base_text find_path(struct base_arena *arena, const struct tree_node *root,
                                  struct base_mark mark) {
    struct base_builder path = {.arena = arena};
    const struct tree_node *node = root;
    while (node != NULL && !is_at(node, mark)) {
        const struct tree_node *inner = NULL;
        size_t inner_index = 0;
        size_t index = 0;
        for (const struct tree_node *child = node->first; child != NULL; child = child->next) {
            if (begin_of(child) <= mark.from_byte) {
                inner = child;
                inner_index = index;
            }
            index++;
        }
        if (inner == NULL || mark.from_byte > inner->mark.to_byte) {
            break; /* between two of them */
        }
        add_child_step(&path, node, inner, inner_index);
        node = inner;
    }
    return base_built(&path);
}

static void write_issue(struct tree_writer *writer, const struct server_work *work,
                        const struct base_issue *issue) {
    static const char *const severities[] = {"stop", "must", "should", "note", "assumed"};
    static const char *const documents[] = {"job", "prices", "rain", "gauge"};
    struct base_arena *arena = writer->out.arena;
    struct units_style style = work->solution->shop.style;
    if (style.round_tick == 0) {
        style = units_default_style(UNITS_FT_IN);
    }
    enum base_document document = issue->mark.document;
    tree_open_map(writer, (struct base_text){0});
    server_write_word(writer, "code", base_issue_name(issue->code));
    server_write_word(writer, "severity", severities[base_issue_severity(issue->code)]);
    server_write_word(writer, "document", documents[document]);
    if (issue->mark.line > 0 && work->has_places[document]) {
        struct unit_cursor cursor = {.text = work->texts[document]};
        write_place(writer, &cursor, issue->mark);
    }
    if (issue->mark.line > 0 && work->trees[document] != NULL) {
        server_write_string(writer, "path", find_path(arena, work->trees[document], issue->mark));
    }
    server_write_string(writer, "object", issue->object);
    server_write_string(writer, "text", documents_write_issue(arena, style, issue));
    server_write_string(writer, "mend", documents_write_mend(arena, style, issue));
    tree_close_map(writer);
}

/* All stops; without any, all that stands against the job. What was assumed is in the result. */
void server_write_issues(struct tree_writer *writer, const struct server_work *work) {
    bool stopped = base_has_stop(&work->issues);
    tree_open_list(writer, base_text_of("issues"));
    for (size_t i = 0; i < work->issues.count; i++) {
        enum base_severity severity = base_issue_severity(work->issues.items[i].code);
        if (stopped ? severity == BASE_SEVERITY_STOP : severity < BASE_SEVERITY_ASSUMED) {
            write_issue(writer, work, &work->issues.items[i]);
        }
    }
    tree_close_list(writer);
}
