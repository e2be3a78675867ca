/* SPDX-License-Identifier: Apache-2.0 */
/* JSON in, strictly: RFC 8259, and double keys refused. The first fault of the form ends it. */
#include "tree/tree.h"

#include <string.h>

struct json_reader {
    struct base_arena *arena;
    struct base_issues *issues;
    enum base_document document;
    struct base_text source;
    struct tree_cursor cursor;
    size_t at;
    int depth;
    size_t node_count;
    bool doubled; /* a key stood twice: the tree is read on, but not handed out */
};

static void *refuse_span(struct json_reader *reader, size_t from, size_t to, const char *what) {
    base_add_issue(
        reader->issues,
        (struct base_issue){.code = BASE_ISSUE_TEXT_BROKEN,
                            .mark = tree_make_mark(&reader->cursor, reader->document, from, to),
                            .value = base_value_string(what)});
    return NULL;
}

static void *refuse(struct json_reader *reader, const char *what) {
    size_t end = reader->at < reader->source.length ? reader->at + 1 : reader->at;
    return refuse_span(reader, reader->at, end, what);
}

static void *refuse_limit(struct json_reader *reader, enum base_issue_code code, int64_t limit) {
    base_add_issue(reader->issues,
                   (struct base_issue){.code = code,
                                       .mark = tree_make_mark(&reader->cursor, reader->document,
                                                              reader->at, reader->at),
                                       .limit = base_value_count(limit)});
    return NULL;
}

/* The byte at the reading place, or NUL at the end (a NUL byte is nowhere allowed anyhow). */
static char peek(const struct json_reader *reader) {
    return reader->at < reader->source.length ? reader->source.bytes[reader->at] : '\0';
}

static bool at_end(const struct json_reader *reader) {
    return reader->at >= reader->source.length;
}

static void skip_space(struct json_reader *reader) {
    while (!at_end(reader) && strchr(" \t\r\n", peek(reader)) != NULL && peek(reader) != '\0') {
        reader->at++;
    }
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* ---- strings ------------------------------------------------------------------------------- */

static int hex_of(char c) {
    if (is_digit(c)) {
        return c - '0';
    }
    return c >= 'a' && c <= 'f' ? c - 'a' + 10 : c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

/* Four hex digits after \u; -1 when they are not there. */
static int32_t read_four(struct json_reader *reader) {
    int32_t value = 0;
    for (int i = 0; i < 4; i++) {
        int digit = hex_of(peek(reader));
        if (digit < 0) {
            return -1;
        }
        value = value * 16 + digit;
        reader->at++;
    }
    return value;
}

static void add_utf8(struct base_builder *out, int32_t code) {
    if (code < 0x80) {
        base_add_char(out, (char)code);
        return;
    }
    int tails = code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
    int lead = tails == 1 ? 0xC0 : tails == 2 ? 0xE0 : 0xF0;
    base_add_char(out, (char)(lead | (code >> (6 * tails))));
    for (int i = tails - 1; i >= 0; i--) {
        base_add_char(out, (char)(0x80 | ((code >> (6 * i)) & 0x3F)));
    }
}

/* After "\u": one character, of two halves when it lies above U+FFFF. */
static bool read_unicode(struct json_reader *reader, struct base_builder *out, size_t from) {
    int32_t code = read_four(reader);
    if (code < 0) {
        return refuse_span(reader, from, reader->at, "four hex digits must follow \\u") != NULL;
    }
    if (code >= 0xD800 && code < 0xDC00 && peek(reader) == '\\' &&
        reader->at + 1 < reader->source.length && reader->source.bytes[reader->at + 1] == 'u') {
        reader->at += 2;
        int32_t low = read_four(reader);
        if (low >= 0xDC00 && low < 0xE000) {
            code = 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00);
        }
    }
    if (code >= 0xD800 && code < 0xE000) {
        return refuse_span(reader, from, reader->at, "half of a pair of surrogates") != NULL;
    }
    add_utf8(out, code);
    return true;
}

static bool read_escape(struct json_reader *reader, struct base_builder *out) {
    static const char NAMES[] = "\"\\/bfnrt";
    static const char VALUES[] = "\"\\/\b\f\n\r\t";
    size_t from = reader->at++;
    char name = peek(reader);
    const char *found = name == '\0' ? NULL : strchr(NAMES, name);
    if (found != NULL) {
        reader->at++;
        base_add_char(out, VALUES[found - NAMES]);
        return true;
    }
    if (name == 'u') {
        reader->at++;
        return read_unicode(reader, out, from);
    }
    return refuse_span(reader, from, reader->at, "no escape of JSON begins so") != NULL;
}

/* At the opening quote; at the end behind the closing one. */
static bool read_string(struct json_reader *reader, struct base_text *text) {
    size_t open = reader->at++;
    size_t from = reader->at;
    bool escaped = false;
    struct base_builder out = {.arena = reader->arena};
    while (!at_end(reader) && peek(reader) != '"') {
        size_t plain = reader->at;
        while (!at_end(reader) && peek(reader) != '"' && peek(reader) != '\\') {
            if ((unsigned char)peek(reader) < 0x20) {
                return refuse(reader, "a line break, tab or control character in a string") != NULL;
            }
            reader->at++;
        }
        if (peek(reader) == '\\' && !at_end(reader)) {
            base_add_text(&out,
                          (struct base_text){reader->source.bytes + plain, reader->at - plain});
            escaped = true;
            if (!read_escape(reader, &out)) {
                return false;
            }
        } else if (escaped) {
            base_add_text(&out,
                          (struct base_text){reader->source.bytes + plain, reader->at - plain});
        }
    }
    if (at_end(reader)) {
        return refuse_span(reader, open, open + 1, "this \" is never closed") != NULL;
    }
    *text = escaped ? base_built(&out)
                    : (struct base_text){reader->source.bytes + from, reader->at - from};
    reader->at++;
    return true;
}

/* ---- values -------------------------------------------------------------------------------- */

static struct tree_node *read_value(struct json_reader *reader);

static struct tree_node *make_node(struct json_reader *reader, enum tree_kind kind) {
    if (reader->node_count++ >= TREE_NODES_MAX) {
        return refuse_limit(reader, BASE_ISSUE_TEXT_TOO_MANY, TREE_NODES_MAX);
    }
    struct tree_node *node = base_take(reader->arena, 1, sizeof *node);
    if (node != NULL) {
        node->kind = kind;
        node->mark = tree_make_mark(&reader->cursor, reader->document, reader->at, reader->at);
    }
    return node;
}

static bool skip_digits(struct json_reader *reader) {
    size_t from = reader->at;
    while (is_digit(peek(reader))) {
        reader->at++;
    }
    return reader->at > from;
}

/* number = [ - ] ( 0 | 1-9 digits ) [ . digits ] [ e [ sign ] digits ] */
static bool skip_number(struct json_reader *reader) {
    reader->at += peek(reader) == '-';
    if (peek(reader) == '0') {
        reader->at++;
    } else if (!skip_digits(reader)) {
        return false;
    }
    if (peek(reader) == '.') {
        reader->at++;
        if (!skip_digits(reader)) {
            return false;
        }
    }
    if (peek(reader) == 'e' || peek(reader) == 'E') {
        reader->at++;
        reader->at += peek(reader) == '-' || peek(reader) == '+';
        if (!skip_digits(reader)) {
            return false;
        }
    }
    return !is_digit(peek(reader)); /* 012 */
}

static bool skip_word(struct json_reader *reader, const char *word) {
    struct base_text rest = {reader->source.bytes + reader->at, reader->source.length - reader->at};
    if (!base_text_starts(rest, word)) {
        return false;
    }
    reader->at += strlen(word);
    return true;
}

/* A number, true, false or null: the text as written. */
static struct tree_node *read_bare(struct json_reader *reader) {
    struct tree_node *node = make_node(reader, TREE_SCALAR);
    if (node == NULL) {
        return NULL;
    }
    size_t from = reader->at;
    if (peek(reader) == '-' || is_digit(peek(reader))) {
        if (!skip_number(reader)) {
            return refuse_span(reader, from, reader->at + !at_end(reader), "no number of JSON");
        }
    } else if (skip_word(reader, "null")) {
        node->kind = TREE_NULL;
    } else if (!skip_word(reader, "true") && !skip_word(reader, "false")) {
        return refuse(reader, "a value should stand here");
    }
    node->mark.to_byte = reader->at;
    node->text = (struct base_text){reader->source.bytes + from, reader->at - from};
    return node;
}

/* "key" : up to the value. */
static bool read_key(struct json_reader *reader, struct tree_node *entry) {
    if (peek(reader) != '"') {
        return refuse(reader, "a key in double quotes should stand here") != NULL;
    }
    entry->key_mark = tree_make_mark(&reader->cursor, reader->document, reader->at, reader->at);
    if (!read_string(reader, &entry->key)) {
        return false;
    }
    entry->key_mark.to_byte = reader->at;
    skip_space(reader);
    if (peek(reader) != ':') {
        return refuse(reader, "a colon should stand after the key") != NULL;
    }
    reader->at++;
    skip_space(reader);
    return true;
}

static struct tree_node *read_entry(struct json_reader *reader, bool in_map) {
    struct tree_node key = {0};
    if (in_map && !read_key(reader, &key)) {
        return NULL;
    }
    struct tree_node *entry = read_value(reader);
    if (entry != NULL) {
        entry->key = key.key;
        entry->key_mark = key.key_mark;
    }
    return entry;
}

/* After an entry: true when another one follows; *fine false when neither comma nor the end stood
 * there. */
static bool read_comma(struct json_reader *reader, char close, size_t open, bool *fine) {
    skip_space(reader);
    if (peek(reader) == close && !at_end(reader)) {
        return false;
    }
    if (peek(reader) == ',') {
        size_t comma = reader->at++;
        skip_space(reader);
        if (peek(reader) == close && !at_end(reader)) {
            *fine = refuse_span(reader, comma, comma + 1, "a comma after the last entry") != NULL;
            return false;
        }
        return true;
    }
    if (at_end(reader)) {
        const char *what = close == '}' ? "this { is never closed" : "this [ is never closed";
        *fine = refuse_span(reader, open, open + 1, what) != NULL;
        return false;
    }
    const char *what =
        close == '}' ? "a comma or } should stand here" : "a comma or ] should stand here";
    *fine = refuse(reader, what) != NULL;
    return false;
}

static struct tree_node *read_nest(struct json_reader *reader, bool is_map) {
    if (reader->depth >= TREE_DEPTH_MAX) {
        return refuse_limit(reader, BASE_ISSUE_TEXT_TOO_DEEP, TREE_DEPTH_MAX);
    }
    struct tree_node *node = make_node(reader, is_map ? TREE_MAP : TREE_LIST);
    if (node == NULL) {
        return NULL;
    }
    reader->depth++;
    size_t open = reader->at++;
    char close = is_map ? '}' : ']';
    struct tree_node **link = &node->first;
    bool fine = true;
    skip_space(reader);
    bool more = at_end(reader) || peek(reader) != close;
    if (at_end(reader)) {
        more = read_comma(reader, close, open, &fine);
    }
    while (more) {
        *link = read_entry(reader, is_map);
        if (*link == NULL) {
            return NULL;
        }
        link = &(*link)->next;
        node->count++;
        more = read_comma(reader, close, open, &fine);
    }
    if (!fine) {
        return NULL;
    }
    reader->at++;
    reader->depth--;
    node->mark.to_byte = reader->at;
    reader->doubled |= is_map && !tree_check_keys(reader->issues, node);
    return node;
}

static struct tree_node *read_value(struct json_reader *reader) {
    char c = peek(reader);
    if (c == '{' || c == '[') {
        return read_nest(reader, c == '{');
    }
    if (c != '"') {
        return read_bare(reader);
    }
    struct tree_node *node = make_node(reader, TREE_SCALAR);
    if (node == NULL || !read_string(reader, &node->text)) {
        return NULL;
    }
    node->quoted = true;
    node->mark.to_byte = reader->at;
    return node;
}

const struct tree_node *tree_read_json(struct base_arena *arena, struct base_issues *issues,
                                       enum base_document document, struct base_text source) {
    if (!tree_check_text(issues, document, source)) {
        return NULL;
    }
    struct json_reader reader = {.arena = arena,
                                 .issues = issues,
                                 .document = document,
                                 .source = source,
                                 .cursor = {.source = source, .line = 1, .column = 1}};
    if (base_text_starts(source, "\xEF\xBB\xBF")) {
        return refuse(&reader, "a byte order mark stands before the text");
    }
    skip_space(&reader);
    struct tree_node *root = read_value(&reader);
    if (root == NULL) {
        return NULL;
    }
    skip_space(&reader);
    if (!at_end(&reader)) {
        return refuse(&reader, "something stands after the end");
    }
    return reader.doubled || base_arena_failed(arena) ? NULL : root;
}
