/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The library's events are walked, not its documents: they carry a place for every bracket, and
 * limits can hold while the text is still being read.
 */
#include "yaml/yaml.h"

#include <libfyaml.h>

#include <assert.h>
#include <string.h>

/* A map or list that is still open. */
struct yaml_level {
    struct tree_node *node;
    struct tree_node **link; /* where the next child goes */
    bool flow;               /* opened by { or [ */
    bool has_key;            /* map: a key stands, its value is still to come */
    struct base_text key;
    struct base_mark key_mark;
};

struct yaml_reader {
    struct base_arena *arena;
    struct base_issues *issues;
    enum base_document document;
    struct base_text source;
    struct tree_cursor cursor;
    struct yaml_level levels[TREE_DEPTH_MAX + 1];
    int depth; /* open levels */
    size_t node_count;
    size_t document_count;
    size_t last_end; /* end of the last thing read */
    struct tree_node *root;
};

static struct base_mark mark_span(struct yaml_reader *reader, size_t from, size_t to) {
    size_t end = to < reader->source.length ? to : reader->source.length;
    return tree_make_mark(&reader->cursor, reader->document, from, end > from ? end : from);
}

static bool refuse(struct yaml_reader *reader, struct base_mark mark, struct base_text what) {
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_TEXT_BROKEN,
                                                       .mark = mark,
                                                       .value = base_value_text(what)});
    return false;
}

static bool refuse_limit(struct yaml_reader *reader, enum base_issue_code code,
                         struct base_mark mark, int64_t limit) {
    base_add_issue(
        reader->issues,
        (struct base_issue){.code = code, .mark = mark, .limit = base_value_count(limit)});
    return false;
}

static void refuse_feature(struct yaml_reader *reader, struct base_mark mark, const char *name,
                           const char *mend) {
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_TEXT_FEATURE,
                                                       .mark = mark,
                                                       .object = base_text_of(name),
                                                       .value = base_value_string(mend)});
}

/* ---- building the tree --------------------------------------------------------------------- */

static struct yaml_level *top(struct yaml_reader *reader) {
    return reader->depth == 0 ? NULL : &reader->levels[reader->depth - 1];
}

static bool awaits_key(struct yaml_reader *reader) {
    struct yaml_level *level = top(reader);
    return level != NULL && level->node->kind == TREE_MAP && !level->has_key;
}

/* The place of an event; an event without one (a value left out) takes its key's. */
static struct base_mark mark_event(struct yaml_reader *reader, struct fy_event *event) {
    const struct fy_mark *start = fy_event_start_mark(event);
    const struct fy_mark *end = fy_event_end_mark(event);
    struct yaml_level *level = top(reader);
    if (start == NULL || end == NULL) {
        if (level != NULL && level->has_key) {
            return level->key_mark;
        }
        return mark_span(reader, reader->last_end, reader->last_end);
    }
    return mark_span(reader, start->input_pos, end->input_pos);
}

static struct base_mark mark_token(struct yaml_reader *reader, struct fy_token *token) {
    const struct fy_mark *start = fy_token_start_mark(token);
    const struct fy_mark *end = fy_token_end_mark(token);
    if (start == NULL || end == NULL) {
        return mark_span(reader, reader->last_end, reader->last_end);
    }
    return mark_span(reader, start->input_pos, end->input_pos);
}

/* Hangs a new node under the open level. */
static struct tree_node *add_node(struct yaml_reader *reader, enum tree_kind kind,
                                  struct base_mark mark) {
    if (reader->node_count++ >= TREE_NODES_MAX) {
        refuse_limit(reader, BASE_ISSUE_TEXT_TOO_MANY, mark, TREE_NODES_MAX);
        return NULL;
    }
    struct tree_node *node = base_take(reader->arena, 1, sizeof *node);
    if (node == NULL) {
        return NULL;
    }
    node->kind = kind;
    node->mark = mark;
    struct yaml_level *level = top(reader);
    if (level == NULL) {
        reader->root = node;
        return node;
    }
    if (level->has_key) {
        node->key = level->key;
        node->key_mark = level->key_mark;
        level->has_key = false;
    }
    *level->link = node;
    level->link = &node->next;
    level->node->count++;
    return node;
}

static bool is_null_word(struct base_text text) {
    return text.length == 0 || base_text_is(text, "~") || base_text_is(text, "null") ||
           base_text_is(text, "Null") || base_text_is(text, "NULL");
}

static void refuse_anchor_and_tag(struct yaml_reader *reader, struct fy_event *event) {
    struct fy_token *anchor = fy_event_get_anchor_token(event);
    if (anchor != NULL) {
        refuse_feature(reader, mark_token(reader, anchor), "an anchor (&)",
                       "leave it out and write the value again where it is wanted");
    }
    struct fy_token *tag = fy_event_get_tag_token(event);
    if (tag != NULL) {
        refuse_feature(reader, mark_token(reader, tag), "a tag (!)",
                       "leave it out; the key says what the value is");
    }
}

/* The library gives the span inside the quotes; ours holds them, so that it can be replaced. */
static struct base_mark widen_over_quotes(struct yaml_reader *reader, struct base_mark mark) {
    if (mark.from_byte == 0 || mark.to_byte >= reader->source.length) {
        return mark;
    }
    return mark_span(reader, mark.from_byte - 1, mark.to_byte + 1);
}

static bool take_key(struct yaml_reader *reader, struct base_text text, struct base_mark mark,
                     bool quoted) {
    struct yaml_level *level = top(reader);
    if (text.length == 0) {
        return refuse(reader, mark, base_text_of("a key should stand here"));
    }
    if (!quoted && base_text_is(text, "<<")) {
        refuse_feature(reader, mark, "a merge key (<<)", "write the entries out");
    }
    level->has_key = true;
    level->key = text;
    level->key_mark = mark;
    return true;
}

static bool take_scalar(struct yaml_reader *reader, struct fy_event *event) {
    refuse_anchor_and_tag(reader, event);
    struct base_mark mark = mark_event(reader, event);
    struct fy_token *token = event->scalar.value;
    enum fy_scalar_style style = token == NULL ? FYSS_PLAIN : fy_token_scalar_style(token);
    bool quoted = style == FYSS_SINGLE_QUOTED || style == FYSS_DOUBLE_QUOTED;
    struct base_text text = {0};
    if (token != NULL) {
        text.bytes = fy_token_get_text(token, &text.length);
        if (text.bytes == NULL) {
            return false; /* the library is out of memory */
        }
        text = base_copy_text(reader->arena, text);
    }
    if (quoted) {
        mark = widen_over_quotes(reader, mark);
    }
    if (!tree_is_utf8(text)) {
        return refuse(reader, mark, base_text_of("an escape that is no character"));
    }
    reader->last_end = mark.to_byte > reader->last_end ? mark.to_byte : reader->last_end;
    if (awaits_key(reader)) {
        return take_key(reader, text, mark, quoted);
    }
    bool null = style == FYSS_PLAIN && is_null_word(text);
    struct tree_node *node = add_node(reader, null ? TREE_NULL : TREE_SCALAR, mark);
    if (node == NULL) {
        return false;
    }
    node->text = text;
    node->quoted = quoted;
    return true;
}

static bool open_level(struct yaml_reader *reader, struct fy_event *event, enum tree_kind kind) {
    refuse_anchor_and_tag(reader, event);
    struct base_mark mark = mark_event(reader, event);
    if (awaits_key(reader)) {
        refuse_feature(reader, mark, "a map or list as a key", "a key is plain text");
        return false;
    }
    if (reader->depth >= TREE_DEPTH_MAX) {
        return refuse_limit(reader, BASE_ISSUE_TEXT_TOO_DEEP, mark, TREE_DEPTH_MAX);
    }
    struct tree_node *node = add_node(reader, kind, mark);
    if (node == NULL) {
        return false;
    }
    bool flow = fy_event_get_node_style(event) == FYNS_FLOW;
    reader->levels[reader->depth++] =
        (struct yaml_level){.node = node, .link = &node->first, .flow = flow};
    reader->last_end = mark.to_byte > reader->last_end ? mark.to_byte : reader->last_end;
    return true;
}

/* A flow map or list ends behind its bracket, a block one behind its last entry. */
static void close_level(struct yaml_reader *reader, struct fy_event *event) {
    struct yaml_level *level = top(reader);
    assert(level != NULL);
    const struct fy_mark *end = fy_event_end_mark(event);
    if (level->flow && end != NULL && end->input_pos > reader->last_end) {
        reader->last_end = end->input_pos;
    }
    if (reader->last_end > level->node->mark.from_byte) {
        level->node->mark.to_byte = reader->last_end;
    }
    if (level->node->kind == TREE_MAP) {
        tree_check_keys(reader->issues, level->node);
    }
    reader->depth--;
}

static bool take_alias(struct yaml_reader *reader, struct fy_event *event) {
    struct base_mark mark = mark_event(reader, event);
    refuse_feature(reader, mark, "an alias (*)", "write the value out");
    if (awaits_key(reader)) {
        return false;
    }
    return add_node(reader, TREE_NULL, mark) != NULL;
}

static bool take_document(struct yaml_reader *reader, struct fy_event *event) {
    if (reader->document_count++ > 0) {
        refuse_feature(reader, mark_event(reader, event), "a second document (---)",
                       "put it in a file of its own");
        return false;
    }
    return true;
}

/* False ends the reading: a fault that leaves nothing sure behind it, or no memory. */
static bool take_event(struct yaml_reader *reader, struct fy_event *event) {
    switch (event->type) {
    case FYET_NONE:
    case FYET_STREAM_START:
    case FYET_STREAM_END:
    case FYET_DOCUMENT_END:
        return true;
    case FYET_DOCUMENT_START:
        return take_document(reader, event);
    case FYET_MAPPING_START:
        return open_level(reader, event, TREE_MAP);
    case FYET_SEQUENCE_START:
        return open_level(reader, event, TREE_LIST);
    case FYET_MAPPING_END:
    case FYET_SEQUENCE_END:
        close_level(reader, event);
        return true;
    case FYET_SCALAR:
        return take_scalar(reader, event);
    case FYET_ALIAS:
        return take_alias(reader, event);
    }
    return true;
}

/* ---- what the library found wrong ---------------------------------------------------------- */

/* Its words for the commonest slips, in ours. */
static const struct {
    const char *theirs;
    const char *ours;
} WORDS[] = {
    {"invalid multiline plain key",
     "this text runs into the next line; give the next key the same indentation as this one"},
    {"invalid nested block mapping on the same line",
     "a second \"key: value\" on one line; start a new line, or put the text in quotes"},
    {"missing comma in flow mapping", "a comma is missing inside { }"},
    {"missing comma in flow sequence", "a comma is missing inside [ ]"},
    {"double-quoted scalar without closing quote", "this \" is never closed"},
    {"single-quoted scalar without closing quote", "this ' is never closed"},
    {"invalid trailing content after double-quoted scalar",
     "something stands behind the closing quote"},
    {"invalid trailing content after single-quoted scalar",
     "something stands behind the closing quote"},
};

static struct base_text own_words(struct yaml_reader *reader, const char *theirs) {
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
        if (strcmp(WORDS[i].theirs, theirs) == 0) {
            return base_text_of(WORDS[i].ours);
        }
    }
    return base_copy_text(reader->arena, base_text_of(theirs));
}

static bool only_blank_after(struct base_text source, size_t at) {
    while (at < source.length && strchr(" \t\r\n", source.bytes[at]) != NULL) {
        at++;
    }
    return at >= source.length;
}

/* The library sees an open bracket only where the text ends, or where the next key makes no sense
 * inside it; the slip is at the bracket. */
static void refuse_syntax(struct yaml_reader *reader, const char *theirs, size_t at) {
    if (strstr(theirs, "without closing quote") != NULL && at > 0) {
        at--; /* the library points behind the quote */
    }
    struct yaml_level *open = top(reader);
    while (open > reader->levels && !open->flow) {
        open--; /* a block level inside a bracket cannot be, but a pair `a: b` in [ ] is one */
    }
    struct base_text what = own_words(reader, theirs);
    if (open == NULL || !open->flow) {
        refuse(reader, mark_span(reader, at, at + (at < reader->source.length)), what);
        return;
    }
    struct base_mark bracket = open->node->mark;
    bool is_map = open->node->kind == TREE_MAP;
    if (strstr(theirs, "without a closing") != NULL || only_blank_after(reader->source, at)) {
        bracket.to_byte = bracket.from_byte + 1;
        refuse(reader, bracket,
               base_text_of(is_map ? "this { is never closed" : "this [ is never closed"));
        return;
    }
    struct base_builder out = {.arena = reader->arena};
    base_add_text(&out, what);
    base_add_string(&out, is_map ? "; the { of line " : "; the [ of line ");
    base_add_integer(&out, bracket.line);
    base_add_string(&out, ", column ");
    base_add_integer(&out, bracket.column);
    base_add_string(&out, " is still open");
    refuse(reader, mark_span(reader, at, at + 1), base_built(&out));
}

static void take_complaints(struct yaml_reader *reader, struct fy_diag *diag) {
    void *walk = NULL;
    struct fy_diag_error *error = fy_diag_errors_iterate(diag, &walk);
    if (error == NULL) {
        struct base_mark mark = mark_span(reader, reader->last_end, reader->last_end);
        refuse(reader, mark, base_text_of("the text breaks off here"));
        return;
    }
    const struct fy_mark *mark = error->fyt == NULL ? NULL : fy_token_start_mark(error->fyt);
    refuse_syntax(reader, error->msg, mark == NULL ? reader->last_end : mark->input_pos);
}

/* The library takes a NUL for the end of the text, and other control characters as letters. */
static bool refuse_controls(struct yaml_reader *reader) {
    for (size_t at = 0; at < reader->source.length; at++) {
        unsigned char byte = (unsigned char)reader->source.bytes[at];
        if ((byte < 0x20 && strchr("\t\r\n", byte) == NULL) || byte == 0x7F || byte == 0) {
            refuse(reader, mark_span(reader, at, at + 1),
                   base_text_of("a control character stands here"));
            return true;
        }
    }
    return false;
}

static bool read_events(struct yaml_reader *reader, struct fy_diag *diag) {
    struct fy_parse_cfg settings = {.flags = FYPCF_QUIET | FYPCF_COLLECT_DIAG |
                                             FYPCF_DEFAULT_VERSION_1_2 | FYPCF_JSON_NONE,
                                    .diag = diag};
    struct fy_parser *parser = fy_parser_create(&settings);
    if (parser == NULL) {
        return false;
    }
    bool fine = fy_parser_set_string(parser, reader->source.bytes, reader->source.length) == 0;
    bool more = fine;
    while (more) {
        struct fy_event *event = fy_parser_parse(parser);
        more = event != NULL && take_event(reader, event);
        if (event == NULL && fy_parser_get_stream_error(parser)) {
            take_complaints(reader, diag);
        }
        fy_parser_event_free(parser, event);
    }
    fy_parser_destroy(parser);
    return fine;
}

enum base_status yaml_read_tree(struct base_arena *arena, struct base_issues *issues,
                                enum base_document document, struct base_text source,
                                const struct tree_node **root) {
    *root = NULL;
    size_t before = issues->count;
    struct yaml_reader reader = {.arena = arena,
                                 .issues = issues,
                                 .document = document,
                                 .source = source,
                                 .cursor = {.source = source, .line = 1, .column = 1}};
    if (!tree_check_text(issues, document, source) || refuse_controls(&reader)) {
        return BASE_STOPPED;
    }
    struct fy_diag_cfg quiet;
    fy_diag_cfg_default(&quiet);
    quiet.fp = NULL;
    struct fy_diag *diag = fy_diag_create(&quiet);
    if (diag == NULL) {
        return BASE_NO_MEMORY;
    }
    fy_diag_set_collect_errors(diag, true);
    bool had_memory = read_events(&reader, diag);
    fy_diag_destroy(diag);
    if (!had_memory || base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    if (issues->count > before) {
        return BASE_STOPPED;
    }
    if (reader.root == NULL) {
        refuse(&reader, mark_span(&reader, 0, 0), base_text_of("nothing is written here"));
        return BASE_STOPPED;
    }
    *root = reader.root;
    return BASE_OK;
}
