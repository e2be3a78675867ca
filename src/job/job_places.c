/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Places on an eave: `porch to`, `hall 1 from`, `hall south to`, `hall 1 at 12' 6"`. Read from the
 * end, because a name may hold spaces.
 */
#include "job/job_inside.h"

#include <math.h>
#include <string.h>

static const char *const DISCHARGES[] = {"splash block", "drain", "barrel", "none"};
static const struct job_words DISCHARGE_WORDS = {DISCHARGES, JOB_COUNT_OF(DISCHARGES)};

static void refuse_place(struct job_reader *reader, struct job_part part, const char *why) {
    bool feet = reader->system == UNITS_FT_IN;
    base_add_issue(
        reader->issues,
        (struct base_issue){
            .code = BASE_ISSUE_BAD_PLACE,
            .mark = part.node->mark,
            .object = job_object(reader, part.key),
            .value = job_said(part.node),
            .limit = base_value_string(feet ? "`porch to`, `hall 1 from` or `hall south at 12' 6\"`"
                                            : "`porch to`, `hall 1 from` or `hall south at 3800`"),
            .other = base_value_string(why)});
}

/* ---- which eave ---------------------------------------------------------------------------- */

static const struct job_run *find_run(const struct job *job, struct base_text name) {
    for (size_t i = 0; i < job->run_count; i++) {
        if (name.length > 0 && base_text_equal(job->runs[i].name, name)) {
            return &job->runs[i];
        }
    }
    return NULL;
}

static const struct job_wing *find_wing(const struct job *job, struct base_text name) {
    for (size_t i = 0; i < job->wing_count; i++) {
        if (name.length > 0 && base_text_equal(job->wings[i].name, name)) {
            return &job->wings[i];
        }
    }
    return NULL;
}

/* 1 to the greatest number of edges, or 0 when the word is no edge. */
static int find_edge(struct base_text word) {
    static const char *const COMPASS[] = {"south", "east", "north", "west"};
    for (int i = 0; i < JOB_WING_EDGES; i++) {
        if (base_text_is(word, COMPASS[i])) {
            return i + 1;
        }
    }
    struct units_integer_reading number = units_read_count(word);
    bool fits = number.fault == UNITS_FINE && number.value >= 1 && number.value <= JOB_EDGES_MAX;
    return fits ? (int)number.value : 0;
}

static bool is_compass(struct base_text word) {
    return word.length > 0 && (word.bytes[0] < '0' || word.bytes[0] > '9');
}

/* Cuts the last word off; the word is empty when there is only one. */
static struct base_text split_last_word(struct base_text *text) {
    size_t at = text->length;
    while (at > 0 && text->bytes[at - 1] != ' ') {
        at--;
    }
    if (at == 0) {
        return (struct base_text){0};
    }
    struct base_text word = {text->bytes + at, text->length - at};
    *text = job_trim((struct base_text){text->bytes, at});
    return word;
}

static void look_at_name(struct base_text written, struct base_text name, size_t *best,
                         struct base_text *nearest) {
    size_t distance = 0;
    if (name.length > 0 && job_is_near(written, name, &distance) && distance < *best) {
        *best = distance;
        *nearest = name;
    }
}

static void refuse_unknown_eave(struct job_reader *reader, struct job_part part,
                                struct base_text name) {
    const struct job *job = reader->job;
    struct base_text nearest = {0};
    size_t best = SIZE_MAX;
    for (size_t i = 0; i < job->run_count; i++) {
        look_at_name(name, job->runs[i].name, &best, &nearest);
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        look_at_name(name, job->wings[i].name, &best, &nearest);
    }
    look_at_name(name, job->outline.name, &best, &nearest);
    struct base_text pieces[] = {base_text_of("did you mean `"), nearest, base_text_of("`?")};
    struct base_text advice = nearest.length > 0
                                  ? base_join(reader->arena, 3, pieces)
                                  : base_text_of("name a run or wing of this job, and the place on "
                                                 "it: `porch to`, `hall 1 from`");
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_NO_SUCH_EAVE,
                                                       .mark = part.node->mark,
                                                       .object = job_object(reader, part.key),
                                                       .value = base_value_text(name),
                                                       .limit = base_value_text(advice)});
}

static bool take_wing_edge(struct job_reader *reader, struct job_part part,
                           const struct job_wing *wing, struct base_text word,
                           struct job_outlet *outlet) {
    int edge = find_edge(word);
    size_t count = job_count_edges(wing);
    if (edge == 0 || (count > 0 && (size_t)edge > count)) {
        refuse_place(reader, part, "does not say which edge of the wing, counted as walked");
        return false;
    }
    if (is_compass(word) && (wing->turn_rad != 0.0 || wing->shape != JOB_SHAPE_RECTANGLE)) {
        refuse_place(reader, part,
                     "names by the compass the edge of a wing that is turned or no rectangle; say "
                     "its number");
        return false;
    }
    outlet->eave = wing->name;
    outlet->edge = edge;
    return true;
}

static bool names_outline(const struct job *job, struct base_text name) {
    return job->outline.given && name.length > 0 && base_text_equal(job->outline.name, name);
}

static bool take_outline_edge(struct job_reader *reader, struct job_part part,
                              struct base_text word, struct job_outlet *outlet) {
    const struct job_outline *outline = &reader->job->outline;
    struct units_integer_reading edge = units_read_count(word);
    if (edge.fault != UNITS_FINE || edge.value < 1 || edge.value > (int64_t)outline->edge_count) {
        refuse_place(reader, part, "does not say which edge of the outline, counted as written");
        return false;
    }
    outlet->eave = outline->name;
    outlet->edge = (int)edge.value;
    return true;
}

/* Water runs off at eaves only. */
static bool check_eave(struct job_reader *reader, struct job_part part,
                       const struct job_outlet *outlet) {
    const struct job_wing *wing = outlet->edge > 0 ? find_wing(reader->job, outlet->eave) : NULL;
    bool outline = outlet->edge > 0 && names_outline(reader->job, outlet->eave);
    bool eave = outline ? !reader->job->outline.gables[outlet->edge - 1]
                        : wing == NULL || wing->edges[outlet->edge - 1] == JOB_EDGE_EAVE;
    if (eave) {
        return true;
    }
    bool wall = !outline && wing->edges[outlet->edge - 1] == JOB_EDGE_WALL;
    base_add_issue(reader->issues,
                   (struct base_issue){.code = BASE_ISSUE_NOT_AN_EAVE,
                                       .mark = part.node->mark,
                                       .object = job_object(reader, part.key),
                                       .value = base_value_count(outlet->edge),
                                       .limit = base_value_string(wall ? "wall" : "gable"),
                                       .other = base_value_text(outlet->eave)});
    return false;
}

/* part.text: what stands before from, to or at. */
static bool read_eave(struct job_reader *reader, struct job_part part, struct job_outlet *outlet) {
    const struct job_run *run = find_run(reader->job, part.text);
    if (run != NULL) {
        outlet->eave = run->name;
        return true;
    }
    const struct job_wing *whole = find_wing(reader->job, part.text);
    if (whole != NULL) {
        return take_wing_edge(reader, part, whole, (struct base_text){0}, outlet);
    }
    struct base_text name = part.text;
    struct base_text word = split_last_word(&name);
    const struct job_wing *wing = find_wing(reader->job, name);
    if (wing != NULL) {
        return take_wing_edge(reader, part, wing, word, outlet);
    }
    if (names_outline(reader->job, name)) {
        return take_outline_edge(reader, part, word, outlet);
    }
    refuse_unknown_eave(reader, part, find_edge(word) > 0 ? name : part.text);
    return false;
}

/* ---- where on it --------------------------------------------------------------------------- */

static int64_t find_polygon_side(const struct job_wing *wing, int edge) {
    struct geometry_point corners[JOB_EDGES_MAX];
    size_t count = job_make_polygon(wing, corners);
    size_t from = (size_t)edge - 1;
    return from < count
               ? units_tick_of_m(geometry_distance(corners[from], corners[(from + 1) % count]))
               : INT64_MAX;
}

static int64_t find_outline_side(const struct job_outline *outline, int edge) {
    size_t from = (size_t)edge - 1;
    size_t first = 0;
    for (size_t ring = 0; ring < outline->ring_count; ring++) {
        size_t end = first + outline->counts[ring];
        if (from < end) {
            struct geometry_corner a = outline->corners[from];
            struct geometry_corner b = outline->corners[from + 1 == end ? first : from + 1];
            return units_tick_of_m(
                hypot(units_m_of_tick(b.x_tick - a.x_tick), units_m_of_tick(b.y_tick - a.y_tick)));
        }
        first = end;
    }
    return 0;
}

static int64_t find_longest(const struct job *job, const struct job_outlet *outlet) {
    if (outlet->edge > 0 && names_outline(job, outlet->eave)) {
        return find_outline_side(&job->outline, outlet->edge);
    }
    const struct job_run *run = outlet->edge == 0 ? find_run(job, outlet->eave) : NULL;
    if (run != NULL) {
        /* Taped on the wall the roof edge may be longer by both overhangs. */
        return run->length.given ? run->length.tick + 2 * run->overhang.tick : INT64_MAX;
    }
    const struct job_wing *wing = find_wing(job, outlet->eave);
    if (wing == NULL) {
        return INT64_MAX;
    }
    if (wing->shape != JOB_SHAPE_RECTANGLE) {
        return find_polygon_side(wing, outlet->edge);
    }
    const struct job_length *side = outlet->edge % 2 == 1 ? &wing->width : &wing->depth;
    return side->given ? side->tick + 2 * wing->overhang.tick : INT64_MAX;
}

static bool read_distance(struct job_reader *reader, struct job_part part,
                          struct job_outlet *outlet) {
    outlet->at = JOB_AT_DISTANCE;
    if (!job_read_tick(reader, part, &outlet->distance_tick)) {
        return false;
    }
    if (outlet->distance_tick > find_longest(reader->job, outlet)) {
        refuse_place(reader, part, "lies beyond the end of the eave");
        return false;
    }
    return true;
}

/* The last " at " of the text; its length when there is none. */
static size_t find_at(struct base_text text) {
    for (size_t i = text.length; i-- > 0;) {
        if (base_text_starts((struct base_text){text.bytes + i, text.length - i}, " at ")) {
            return i;
        }
    }
    return text.length;
}

static bool read_place_text(struct job_reader *reader, struct job_part part,
                            struct job_outlet *outlet) {
    part.text = job_trim(part.text);
    outlet->mark = part.node->mark;
    size_t at = find_at(part.text);
    struct job_part eave = part;
    struct base_text word = split_last_word(&eave.text);
    if (base_text_is(word, "from") || base_text_is(word, "to")) {
        outlet->at = base_text_is(word, "to") ? JOB_AT_TO : JOB_AT_FROM;
        return read_eave(reader, eave, outlet);
    }
    if (at == part.text.length) {
        refuse_place(reader, part, "does not say where on the eave: from, to or at a distance");
        return false;
    }
    eave.text = job_trim((struct base_text){part.text.bytes, at});
    struct job_part distance = part;
    distance.text =
        job_trim((struct base_text){part.text.bytes + at + 4, part.text.length - at - 4});
    return read_eave(reader, eave, outlet) && read_distance(reader, distance, outlet);
}

static bool read_place_key(struct job_reader *reader, const struct tree_node *map, const char *key,
                           struct job_outlet *outlet) {
    const struct tree_node *node = job_find_scalar(reader, map, key);
    if (node == NULL) {
        return false;
    }
    struct job_part part = {node, node->text, key};
    return read_place_text(reader, part, outlet) && check_eave(reader, part, outlet);
}

bool job_take_edge_place(struct job_reader *reader, const struct tree_node *map, const char *key,
                         struct job_outlet *place) {
    const struct tree_node *node = job_find_scalar(reader, map, key);
    if (node == NULL) {
        return false;
    }
    struct job_part part = {node, node->text, key};
    if (!read_place_text(reader, part, place)) {
        return false;
    }
    if (place->edge == 0 || place->at != JOB_AT_DISTANCE) {
        refuse_place(reader, part, "does not name an edge of a wing and the distance along it");
        return false;
    }
    return true;
}

bool job_take_eave_place(struct job_reader *reader, const struct tree_node *map, const char *key,
                         struct job_outlet *place) {
    return read_place_key(reader, map, key, place);
}

bool job_take_eave(struct job_reader *reader, const struct tree_node *map, const char *key,
                   struct job_outlet *place) {
    const struct tree_node *node = job_find_scalar(reader, map, key);
    if (node == NULL) {
        return false;
    }
    struct job_part part = {node, job_trim(node->text), key};
    place->mark = node->mark;
    return read_eave(reader, part, place) && check_eave(reader, part, place);
}

/* ---- outlets ------------------------------------------------------------------------------- */

/* `porch to`, or {at: porch to, discharge: drain}. */
static bool read_outlet(struct job_reader *reader, const struct tree_node *node, const char *key,
                        struct job_outlet *outlet) {
    static const char *const NAMES[] = {"at", "discharge", "onto"};
    static const struct job_keys KEYS = {"an outlet", NAMES, JOB_COUNT_OF(NAMES)};
    if (node->kind == TREE_SCALAR) {
        struct job_part part = {node, node->text, key};
        return read_place_text(reader, part, outlet) && check_eave(reader, part, outlet);
    }
    if (node->kind != TREE_MAP) {
        job_refuse_kind(reader, node, key, "a place like `porch to`");
        return false;
    }
    if (!job_check_map(reader, node, key, &KEYS)) {
        return false;
    }
    int discharge = 0;
    if (job_take_word(reader, node, "discharge", &DISCHARGE_WORDS, &discharge)) {
        outlet->discharge = (enum job_discharge)discharge;
        outlet->discharge_given = true;
    }
    if (tree_find(node, "onto") != NULL) {
        job_refuse_pair(reader, node, "onto", "discharge");
        struct job_outlet *onto = base_take(reader->arena, 1, sizeof *onto);
        if (onto == NULL || !read_place_key(reader, node, "onto", onto)) {
            return false;
        }
        outlet->onto = onto;
    }
    return job_require(reader, node, "at", "at: porch to") &&
           read_place_key(reader, node, "at", outlet);
}

/* One place may stand alone, without the brackets of a list. */
static struct job_outlet *read_outlet_list(struct job_reader *reader, const struct tree_node *node,
                                           const char *key, size_t *count) {
    bool alone = node->kind == TREE_SCALAR;
    if (!alone && !job_check_list(reader, node, key)) {
        return NULL;
    }
    struct job_outlet *outlets = base_take(reader->arena, alone ? 1 : node->count, sizeof *outlets);
    const struct tree_node *entry = alone ? node : node->first;
    while (entry != NULL && outlets != NULL) {
        outlets[*count] = (struct job_outlet){0};
        if (read_outlet(reader, entry, key, &outlets[*count])) {
            (*count)++;
        }
        entry = alone ? NULL : entry->next;
    }
    return outlets;
}

/* `plain round 3 in`, `plain round`, `3 in`. */
static void read_downspout(struct job_reader *reader, const struct tree_node *node) {
    static const char ROUND[] = "plain round";
    struct job_text text = {0};
    job_take_text(reader, node, "downspout", &text);
    if (!text.given) {
        return;
    }
    if (base_text_starts(text.text, ROUND)) {
        size_t length = strlen(ROUND);
        text.text =
            job_trim((struct base_text){text.text.bytes + length, text.text.length - length});
    }
    if (text.text.length == 0 || base_text_is(text.text, "auto")) {
        return;
    }
    if (text.text.bytes[0] < '0' || text.text.bytes[0] > '9') {
        base_add_issue(
            reader->issues,
            (struct base_issue){.code = BASE_ISSUE_BAD_WORD,
                                .mark = text.mark,
                                .object = job_object(reader, "downspout"),
                                .value = job_said(tree_find(node, "downspout")),
                                .limit = base_value_string("plain round, plain round 3 in, auto")});
        return;
    }
    reader->job->pipe_size = text;
}

static void refuse_outlet_pair(struct job_reader *reader, const struct tree_node *at,
                               const struct tree_node *allowed) {
    bool later = at->key_mark.from_byte > allowed->key_mark.from_byte;
    base_add_issue(reader->issues,
                   (struct base_issue){.code = BASE_ISSUE_TWO_KEYS,
                                       .mark = later ? at->key_mark : allowed->key_mark,
                                       .object = base_text_of("outlets"),
                                       .value = base_value_string("at"),
                                       .other = base_value_string("allowed")});
}

void job_read_outlets(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"at", "allowed", "downspout", "discharge", "small porch"};
    static const struct job_keys KEYS = {"outlets", NAMES, JOB_COUNT_OF(NAMES)};
    struct job *job = reader->job;
    if (!job_check_map(reader, node, "outlets", &KEYS)) {
        return;
    }
    const struct tree_node *at = tree_find(node, "at");
    const struct tree_node *allowed = tree_find(node, "allowed");
    if (at != NULL && allowed != NULL) {
        refuse_outlet_pair(reader, at, allowed);
    }
    if (at != NULL) {
        job->outlets = read_outlet_list(reader, at, "outlet", &job->outlet_count);
        job->outlets_given = job->outlet_count > 0;
    }
    if (allowed != NULL) {
        job->allowed = read_outlet_list(reader, allowed, "allowed outlet", &job->allowed_count);
    }
    read_downspout(reader, node);
    int discharge = 0;
    if (job_take_word(reader, node, "discharge", &DISCHARGE_WORDS, &discharge)) {
        job->discharge = (enum job_discharge)discharge;
    }
    job_take_yes(reader, node, "small porch", &job->small_porch_pipe);
}

/* ---- keep out ------------------------------------------------------------------------------ */

static void read_keep_out_pair(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"from", "to"};
    static const struct job_keys KEYS = {"keep out", NAMES, JOB_COUNT_OF(NAMES)};
    struct job *job = reader->job;
    if (!job_check_map(reader, node, "keep out", &KEYS)) {
        return;
    }
    bool has_from = job_require(reader, node, "from", "from: porch at 4'|from: porch at 1200");
    bool has_to = job_require(reader, node, "to", "to: porch at 8'|to: porch at 2400");
    struct job_outlet from = {0};
    struct job_outlet to = {0};
    bool read = has_from && read_place_key(reader, node, "from", &from);
    read = has_to && read_place_key(reader, node, "to", &to) && read;
    if (!read) {
        return;
    }
    if (!base_text_equal(from.eave, to.eave) || from.edge != to.edge) {
        const struct tree_node *second = tree_find(node, "to");
        refuse_place(reader, (struct job_part){second, second->text, "keep out"},
                     "lies on another eave than where the stretch begins");
        return;
    }
    job->keep_out[job->keep_out_count++] = from;
    job->keep_out[job->keep_out_count++] = to;
}

void job_read_keep_out(struct job_reader *reader, const struct tree_node *node) {
    if (!job_check_list(reader, node, "keep out")) {
        return;
    }
    reader->job->keep_out =
        base_take(reader->arena, 2 * node->count, sizeof *reader->job->keep_out);
    if (reader->job->keep_out == NULL) {
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        read_keep_out_pair(reader, entry);
    }
}
