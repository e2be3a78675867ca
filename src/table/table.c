/* SPDX-License-Identifier: Apache-2.0 */
#include "table/table.h"

#include <assert.h>
#include <string.h>

enum { TABLE_BYTES_MAX = 4 * 1024 * 1024 };

/*
 * The text is walked twice with the same steps: once with table NULL to count rows and fields, once
 * to fill. So a hostile text of four million commas costs what it needs and no doubling.
 */
struct reader {
    struct base_arena *arena;
    struct base_issues *issues;
    enum base_document document;
    struct base_text source;
    size_t at;
    int line;
    int column;
    struct table_row *rows;     /* NULL while counting */
    struct table_field *fields; /* all fields of all rows, one after the other */
    size_t row_count;
    size_t field_count;
    bool stopped;
};

static char byte_here(const struct reader *reader) {
    return reader->at < reader->source.length ? reader->source.bytes[reader->at] : '\0';
}

static bool at_end(const struct reader *reader) {
    return reader->at >= reader->source.length;
}

static bool at_line_end(const struct reader *reader) {
    return at_end(reader) || byte_here(reader) == '\n' || byte_here(reader) == '\r';
}

/* Steps over one byte; a byte inside a UTF-8 character is no new column. */
static void step(struct reader *reader) {
    unsigned char next = (unsigned char)byte_here(reader);
    reader->at++;
    if ((next & 0xC0) != 0x80) {
        reader->column++;
    }
}

/* Steps over LF, CRLF or CR. */
static void step_line_end(struct reader *reader) {
    if (byte_here(reader) == '\r') {
        reader->at++;
        if (byte_here(reader) == '\n') {
            reader->at++;
        }
    } else {
        reader->at++;
    }
    reader->line++;
    reader->column = 1;
}

static bool is_blank(char c) {
    return c == ' ' || c == '\t';
}

static void skip_blanks(struct reader *reader) {
    while (!at_end(reader) && is_blank(byte_here(reader))) {
        step(reader);
    }
}

static struct base_mark mark_here(const struct reader *reader) {
    return (struct base_mark){.document = reader->document,
                              .line = reader->line,
                              .column = reader->column,
                              .from_byte = reader->at,
                              .to_byte = reader->at};
}

static void stop(struct reader *reader, enum base_issue_code code, struct base_mark mark) {
    if (!reader->stopped) {
        base_add_issue(reader->issues, (struct base_issue){.code = code, .mark = mark});
    }
    reader->stopped = true;
}

static struct base_text span(const struct reader *reader, size_t from, size_t to) {
    return (struct base_text){reader->source.bytes + from, to - from};
}

/* Two quotes inside quotes mean one. The copy is made only when there are such. */
static struct base_text resolve_quotes(struct base_arena *arena, struct base_text text) {
    if (text.length == 0 || memchr(text.bytes, '"', text.length) == NULL) {
        return text;
    }
    char *bytes = base_take(arena, text.length, 1);
    if (bytes == NULL) {
        return (struct base_text){0};
    }
    size_t length = 0;
    for (size_t i = 0; i < text.length; i++) {
        bytes[length++] = text.bytes[i];
        if (text.bytes[i] == '"') {
            i++; /* its twin */
        }
    }
    return (struct base_text){bytes, length};
}

static void add_field(struct reader *reader, struct base_text text, struct base_mark mark) {
    if (reader->rows != NULL) {
        reader->fields[reader->field_count] = (struct table_field){text, mark};
    }
    reader->field_count++;
}

/* At the opening quote. Line ends inside belong to the field. */
static void read_quoted(struct reader *reader) {
    struct base_mark mark = mark_here(reader);
    step(reader);
    size_t from = reader->at;
    for (;;) {
        if (at_end(reader)) {
            mark.to_byte = mark.from_byte + 1;
            stop(reader, BASE_ISSUE_TABLE_QUOTE_OPEN, mark);
            return;
        }
        if (byte_here(reader) == '"') {
            step(reader);
            if (byte_here(reader) != '"') {
                break;
            }
            step(reader);
        } else if (at_line_end(reader)) {
            step_line_end(reader);
        } else {
            step(reader);
        }
    }
    mark.to_byte = reader->at;
    struct base_text text = span(reader, from, reader->at - 1);
    if (reader->rows != NULL) {
        text = resolve_quotes(reader->arena, text);
    }
    add_field(reader, text, mark);
    skip_blanks(reader);
    if (!at_line_end(reader) && byte_here(reader) != ',') {
        struct base_mark here = mark_here(reader);
        here.to_byte++;
        stop(reader, BASE_ISSUE_TABLE_AFTER_QUOTE, here);
    }
}

/* A quote in the middle is a quote: 6" pipe. */
static void read_plain(struct reader *reader) {
    struct base_mark mark = mark_here(reader);
    while (!at_line_end(reader) && byte_here(reader) != ',') {
        step(reader);
    }
    size_t to = reader->at;
    while (to > mark.from_byte && is_blank(reader->source.bytes[to - 1])) {
        to--;
    }
    mark.to_byte = to;
    add_field(reader, span(reader, mark.from_byte, to), mark);
}

static void read_row(struct reader *reader) {
    struct table_row row = {.line = reader->line};
    size_t from = reader->at;
    size_t first_field = reader->field_count;
    for (;;) {
        skip_blanks(reader);
        if (byte_here(reader) == '"') {
            read_quoted(reader);
        } else {
            read_plain(reader);
        }
        if (reader->stopped || byte_here(reader) != ',') {
            break;
        }
        step(reader);
    }
    if (reader->rows != NULL) {
        row.raw = span(reader, from, reader->at);
        row.fields = reader->fields + first_field;
        row.count = reader->field_count - first_field;
        reader->rows[reader->row_count] = row;
    }
    reader->row_count++;
    if (!at_end(reader)) {
        step_line_end(reader);
    }
}

static void read_rows(struct reader *reader) {
    const char *const bom = "\xEF\xBB\xBF";
    reader->line = 1;
    reader->column = 1;
    reader->row_count = 0;
    reader->field_count = 0;
    reader->at = reader->source.length >= 3 && base_text_starts(reader->source, bom) ? 3 : 0;
    while (!at_end(reader) && !reader->stopped) {
        read_row(reader);
    }
}

enum base_status table_read(struct base_arena *arena, struct base_issues *issues,
                            enum base_document document, struct base_text source,
                            struct table *table) {
    assert(arena != NULL && issues != NULL && table != NULL);
    *table = (struct table){0};
    if (source.length > TABLE_BYTES_MAX) {
        base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_TEXT_TOO_LONG,
                                                   .mark = {.document = document},
                                                   .limit = base_value_count(TABLE_BYTES_MAX)});
        return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_STOPPED;
    }
    struct reader reader = {
        .arena = arena, .issues = issues, .document = document, .source = source};
    read_rows(&reader);
    if (reader.stopped) {
        return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_STOPPED;
    }
    size_t row_count = reader.row_count;
    if (row_count > 0) {
        struct table_row *rows = base_take(arena, row_count, sizeof *rows);
        reader.fields = base_take(arena, reader.field_count, sizeof *reader.fields);
        if (rows == NULL || reader.fields == NULL) {
            return BASE_NO_MEMORY;
        }
        reader.rows = rows;
        read_rows(&reader);
        assert(reader.row_count == row_count && !reader.stopped);
    }
    if (base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    *table = (struct table){reader.rows, row_count};
    return BASE_OK;
}
