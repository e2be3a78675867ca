/* SPDX-License-Identifier: Apache-2.0 */
/* pieces: an order without a house. */
#include "job/job_inside.h"

static const char *const KINDS[] = {
    "gutter",   "end cap left", "end cap right", "outside mitre", "inside mitre", "outlet",
    "strainer", "downspout",    "elbow",         "shoe",          "bracket",      "strap"};

static bool has_length(enum job_piece_kind kind) {
    return kind == JOB_PIECE_GUTTER || kind == JOB_PIECE_DOWNSPOUT;
}

static bool has_angle(enum job_piece_kind kind) {
    return kind == JOB_PIECE_MITRE_OUTSIDE || kind == JOB_PIECE_MITRE_INSIDE ||
           kind == JOB_PIECE_ELBOW;
}

static void read_count(struct job_reader *reader, const struct tree_node *map,
                       struct job_piece *piece) {
    piece->count = 1;
    const struct tree_node *node = job_find_scalar(reader, map, "count");
    if (node == NULL) {
        return;
    }
    struct units_integer_reading reading = units_read_count(node->text);
    if (reading.fault != UNITS_FINE || reading.value < 1 || reading.value > 10000) {
        job_refuse_range(reader, node, "count", "a whole number, 1 to 10000");
        return;
    }
    piece->count = reading.value;
}

/* A key that this kind of piece cannot have. */
static void refuse_senseless(struct job_reader *reader, const struct tree_node *map,
                             const char *key, const char *kind) {
    const struct tree_node *node = tree_find(map, key);
    if (node != NULL) {
        struct base_text pieces[] = {base_text_of("leave it out: it says nothing about a piece `"),
                                     base_text_of(kind), base_text_of("`")};
        struct base_text advice = base_join(reader->arena, 3, pieces);
        base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_UNKNOWN_KEY,
                                                           .mark = node->key_mark,
                                                           .object = node->key,
                                                           .value = base_value_text(advice),
                                                           .other = base_value_string(kind)});
    }
}

static void read_piece(struct job_reader *reader, const struct tree_node *map,
                       struct job_piece *piece) {
    static const char *const NAMES[] = {"kind", "size", "count", "length", "angle"};
    static const struct job_keys KEYS = {"a piece", NAMES, JOB_COUNT_OF(NAMES)};
    static const struct job_words WORDS = {KINDS, JOB_COUNT_OF(KINDS)};
    piece->mark = map->mark;
    if (!job_check_map(reader, map, "pieces", &KEYS)) {
        return;
    }
    read_count(reader, map, piece);
    if (job_require(reader, map, "size", "size: 5 in|size: 333")) {
        job_take_text(reader, map, "size", &piece->size);
    }
    int kind = 0;
    if (!job_require(reader, map, "kind", "kind: bracket") ||
        !job_take_word(reader, map, "kind", &WORDS, &kind)) {
        return;
    }
    piece->kind = (enum job_piece_kind)kind;
    reader->where = base_text_of(KINDS[kind]);
    if (has_length(piece->kind)) {
        job_require(reader, map, "length", "length: 40'|length: 12000");
        job_take_length(reader, map, "length", JOB_ZERO_REFUSED, &piece->length);
    } else {
        refuse_senseless(reader, map, "length", KINDS[kind]);
    }
    if (has_angle(piece->kind)) {
        bool elbow = piece->kind == JOB_PIECE_ELBOW;
        struct job_number angle = {.value = elbow ? 1.0471975511965976 : 1.5707963267948966};
        job_take_number(reader, map, "angle", JOB_QUANTITY_BEND, &angle);
        piece->angle_rad = angle.value;
    } else {
        refuse_senseless(reader, map, "angle", KINDS[kind]);
    }
    reader->where = (struct base_text){0};
}

void job_read_pieces(struct job_reader *reader, const struct tree_node *node) {
    struct job *job = reader->job;
    if (!job_check_list(reader, node, "pieces")) {
        return;
    }
    job->pieces = base_take(reader->arena, node->count, sizeof *job->pieces);
    if (job->pieces == NULL) {
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        read_piece(reader, entry, &job->pieces[job->piece_count]);
        job->piece_count++;
    }
}
