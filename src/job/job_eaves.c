/* SPDX-License-Identifier: Apache-2.0 */
/* Names, and the runs. */
#include "job/job_inside.h"

#include <string.h>

/* ---- names --------------------------------------------------------------------------------- */

static bool name_taken(const struct job *job, struct base_text name) {
    for (size_t i = 0; i < job->run_count; i++) {
        if (base_text_equal(job->runs[i].name, name)) {
            return true;
        }
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        if (base_text_equal(job->wings[i].name, name)) {
            return true;
        }
    }
    return false;
}

const char *job_find_name_fault(struct base_text name) {
    if (name.length == 0) {
        return "a name needs a letter or a figure";
    }
    for (size_t i = 0; i < name.length; i++) {
        unsigned char byte = (unsigned char)name.bytes[i];
        if (byte == '/' || byte == '.') {
            return "a name holds no / and no .";
        }
        if (byte < 0x20 || byte == 0x7F) {
            return "a name is one line";
        }
    }
    return name.length > 60 ? "a name has at most 60 letters" : NULL;
}

/* An empty name when there is none to use; what follows is read all the same. */
struct base_text job_read_name(struct job_reader *reader, const struct tree_node *map,
                               const char *example) {
    reader->where = (struct base_text){0};
    if (!job_require(reader, map, "name", example)) {
        return (struct base_text){0};
    }
    const struct tree_node *node = job_find_scalar(reader, map, "name");
    if (node == NULL) {
        return (struct base_text){0};
    }
    struct base_text name = job_trim(node->text);
    const char *fault = job_find_name_fault(name);
    struct base_issue issue = {.code = BASE_ISSUE_BAD_NAME,
                               .mark = node->mark,
                               .object = base_text_of("name"),
                               .value = job_said(node),
                               .limit = base_value_string(fault)};
    if (fault == NULL && !name_taken(reader->job, name)) {
        reader->where = name;
        return name;
    }
    if (fault == NULL) {
        issue.code = BASE_ISSUE_NAME_TAKEN;
        reader->where = name;
    }
    base_add_issue(reader->issues, issue);
    return (struct base_text){0};
}

/* ---- two keys of which one may stand ------------------------------------------------------ */

/* Where both keys stand, the issue goes to the later one. */
bool job_refuse_pair(struct job_reader *reader, const struct tree_node *map, const char *key,
                     const char *other) {
    const struct tree_node *a = tree_find(map, key);
    const struct tree_node *b = tree_find(map, other);
    if (a == NULL || b == NULL) {
        return false;
    }
    bool a_later = a->key_mark.from_byte > b->key_mark.from_byte;
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_TWO_KEYS,
                                                       .mark = a_later ? a->key_mark : b->key_mark,
                                                       .object = job_object(reader, ""),
                                                       .value = base_value_string(key),
                                                       .other = base_value_string(other)});
    return true;
}

/* ---- runs ---------------------------------------------------------------------------------- */

/* `outside corner 135 deg`, `outside corner taped`: the kind, then its angle if it is not square.
 */
static bool read_corner(struct job_reader *reader, struct job_part part, const char *word,
                        enum job_end_kind kind, struct job_run_end *end) {
    if (!base_text_starts(part.text, word)) {
        return false;
    }
    size_t length = strlen(word);
    part.text = job_trim((struct base_text){part.text.bytes + length, part.text.length - length});
    end->kind = kind;
    end->corner_rad = 1.5707963267948966;
    end->taped = base_text_is(part.text, "taped");
    if (part.text.length > 0 && !end->taped) {
        job_read_quantity(reader, part, JOB_QUANTITY_CORNER, &end->corner_rad);
    }
    return true;
}

static void read_end(struct job_reader *reader, const struct tree_node *map, const char *key,
                     struct job_run_end *end) {
    static const char *const KINDS[] = {"end cap", "outside corner", "inside corner", "wall"};
    static const struct job_words WORDS = {KINDS, JOB_COUNT_OF(KINDS)};
    end->mark = map->mark;
    if (tree_find(map, key) == NULL) {
        base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_END_ASSUMED,
                                                           .mark = map->mark,
                                                           .object = job_object(reader, ""),
                                                           .value = base_value_string(key)});
        return;
    }
    const struct tree_node *node = job_find_scalar(reader, map, key);
    if (node == NULL) {
        return;
    }
    end->mark = node->mark;
    bool left = key[0] == 'f';
    struct job_part part = {node, job_trim(node->text), left ? "from end" : "to end"};
    int kind = 0;
    if (!read_corner(reader, part, KINDS[JOB_END_OUTSIDE], JOB_END_OUTSIDE, end) &&
        !read_corner(reader, part, KINDS[JOB_END_INSIDE], JOB_END_INSIDE, end) &&
        job_read_word_node(reader, node, part.key, &WORDS, &kind)) {
        end->kind = (enum job_end_kind)kind;
    }
}

static void read_taped_on(struct job_reader *reader, const struct tree_node *map,
                          struct job_run *run) {
    static const char *const LINES[] = {"roof edge", "wall", "wood face"};
    static const struct job_words WORDS = {LINES, JOB_COUNT_OF(LINES)};
    if (tree_find(map, "taped on") == NULL) {
        base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_TAPED_ON_ASSUMED,
                                                           .mark = map->mark,
                                                           .object = job_object(reader, "")});
        return;
    }
    int line = 0;
    if (job_take_word(reader, map, "taped on", &WORDS, &line)) {
        run->taped_on = (enum job_line)line;
    }
}

static void read_run_roof(struct job_reader *reader, const struct tree_node *map,
                          struct job_run *run) {
    if (tree_find(map, "up the roof") == NULL) {
        job_require(reader, map, "depth", "depth: 9' 2\"|depth: 2800");
    }
    job_refuse_pair(reader, map, "depth", "up the roof");
    job_take_length(reader, map, "depth", JOB_ZERO_REFUSED, &run->depth);
    if (tree_find(map, "up the roof") != NULL) {
        run->depth_up_the_roof = true;
        job_take_length(reader, map, "up the roof", JOB_ZERO_REFUSED, &run->depth);
    }
    job_require(reader, map, "pitch", "pitch: 4/12");
    job_take_number(reader, map, "pitch", JOB_QUANTITY_PITCH, &run->pitch);
}

/* A curved eave is as long as its arc. */
static void take_arc(struct job_run *run) {
    run->length = (struct job_length){.given = true,
                                      .reading_count = 1,
                                      .tick = units_tick_of_m(job_find_arc(&run->curve).length_m),
                                      .mark = run->curve.mark};
}

static void read_run(struct job_reader *reader, const struct tree_node *map, struct job_run *run) {
    static const char *const NAMES[] = {
        "name",        "length",   "taped on", "depth",      "up the roof",  "pitch", "from", "to",
        "eave height", "overhang", "wall",     "wall above", "eave section", "curve", "sag"};
    static const struct job_keys KEYS = {"a run", NAMES, JOB_COUNT_OF(NAMES)};
    static const char *const WALLS[] = {"none"};
    static const struct job_words WALL_WORDS = {WALLS, JOB_COUNT_OF(WALLS)};
    run->mark = map->mark;
    if (!job_check_map(reader, map, "runs", &KEYS)) {
        return;
    }
    run->name = job_read_name(reader, map, "name: porch");
    job_read_curve(reader, map, &run->curve);
    job_take_length(reader, map, "length", JOB_ZERO_REFUSED, &run->length);
    if (!run->curve.given || run->curve.paper) {
        job_require(reader, map, "length", "length: 28' 4 1/2\"|length: 8650");
    } else if (tree_find(map, "length") == NULL && run->curve.rise.given) {
        take_arc(run);
    }
    read_taped_on(reader, map, run);
    read_run_roof(reader, map, run);
    read_end(reader, map, "from", &run->from);
    read_end(reader, map, "to", &run->to);
    job_take_height(reader, map, "eave height", &run->eave_height);
    job_take_length(reader, map, "sag", JOB_ZERO_ALLOWED, &run->sag);
    job_take_length(reader, map, "overhang", JOB_ZERO_ALLOWED, &run->overhang);
    job_take_length(reader, map, "wall above", JOB_ZERO_REFUSED, &run->wall_above);
    int none = 0;
    run->no_wall = job_take_word(reader, map, "wall", &WALL_WORDS, &none);
    job_read_section(reader, map, &run->section, &run->has_section);
    reader->where = (struct base_text){0};
}

void job_read_runs(struct job_reader *reader, const struct tree_node *node) {
    struct job *job = reader->job;
    if (!job_check_list(reader, node, "runs")) {
        return;
    }
    job->runs = base_take(reader->arena, node->count, sizeof *job->runs);
    if (job->runs == NULL) {
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        read_run(reader, entry, &job->runs[job->run_count]);
        job->run_count++;
    }
}
