/* SPDX-License-Identifier: Apache-2.0 */
/* Where in a text something stands, and showing it. */
#include "tree/tree.h"

enum { SHOWN_CHARS_MAX = 100, SHOWN_BEFORE = 60 };

static bool continues_char(char byte) {
    return ((unsigned char)byte & 0xC0) == 0x80;
}

/* A line ends at LF, CR LF or a lone CR. */
static bool ends_line(struct base_text source, size_t at) {
    char byte = source.bytes[at];
    bool lf_follows = at + 1 < source.length && source.bytes[at + 1] == '\n';
    return byte == '\n' || (byte == '\r' && !lf_follows);
}

void tree_move_cursor(struct tree_cursor *cursor, size_t to_byte) {
    if (to_byte > cursor->source.length) {
        to_byte = cursor->source.length;
    }
    if (to_byte < cursor->at) {
        cursor->at = 0;
        cursor->line = 1;
        cursor->column = 1;
    }
    while (cursor->at < to_byte) {
        if (ends_line(cursor->source, cursor->at)) {
            cursor->line++;
            cursor->column = 1;
        } else if (!continues_char(cursor->source.bytes[cursor->at])) {
            cursor->column++;
        }
        cursor->at++;
    }
}

struct base_mark tree_make_mark(struct tree_cursor *cursor, enum base_document document,
                                size_t from_byte, size_t to_byte) {
    tree_move_cursor(cursor, from_byte);
    return (struct base_mark){document, cursor->line, cursor->column, from_byte, to_byte};
}

/* Steps count characters forward or back from at, staying within [least, most]. */
static size_t step_chars(struct base_text source, size_t at, size_t count, size_t most) {
    while (count > 0 && at < most) {
        at++;
        while (at < most && continues_char(source.bytes[at])) {
            at++;
        }
        count--;
    }
    return at;
}

static size_t step_back(struct base_text source, size_t at, size_t count, size_t least) {
    while (count > 0 && at > least) {
        at--;
        while (at > least && continues_char(source.bytes[at])) {
            at--;
        }
        count--;
    }
    return at;
}

static bool is_break(char byte) {
    return byte == '\n' || byte == '\r';
}

/* One mark for each character; tabs stay, so that both lines run alike. */
static void add_under(struct base_builder *out, struct base_text source, size_t from, size_t to,
                      char mark) {
    for (size_t at = from; at < to; at++) {
        if (!continues_char(source.bytes[at])) {
            base_add_char(out, source.bytes[at] == '\t' ? '\t' : mark);
        }
    }
}

struct base_text tree_show_place(struct base_arena *arena, struct base_text source,
                                 struct base_mark mark) {
    if (mark.line == 0 || mark.from_byte > source.length) {
        return (struct base_text){0};
    }
    size_t start = mark.from_byte;
    while (start > 0 && !is_break(source.bytes[start - 1])) {
        start--;
    }
    size_t end = mark.from_byte;
    while (end < source.length && !is_break(source.bytes[end])) {
        end++;
    }
    size_t from = start;
    size_t to = end;
    if (step_chars(source, start, SHOWN_CHARS_MAX, end) < end) {
        from = step_back(source, mark.from_byte, SHOWN_BEFORE, start);
        to = step_chars(source, from, SHOWN_CHARS_MAX, end);
    }
    struct base_text shown = {source.bytes + from, to - from};
    struct base_builder out = {.arena = arena};
    base_add_string(&out, from > start ? "..." : "");
    base_add_text(&out, shown);
    base_add_string(&out, to < end ? "...\n" : "\n");
    base_add_string(&out, from > start ? "   " : "");
    add_under(&out, source, from, mark.from_byte, ' ');
    base_add_char(&out, '^');
    size_t second = step_chars(source, mark.from_byte, 1, to);
    add_under(&out, source, second, mark.to_byte < to ? mark.to_byte : to, '~');
    return base_built(&out);
}
