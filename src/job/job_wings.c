/* SPDX-License-Identifier: Apache-2.0 */
/* Wings: rectangles, regular polygons (turrets) and bays. */
#include "job/job_inside.h"

#include <math.h>

#define JOB_PI 3.14159265358979323846

/* ---- edges of a plan ----------------------------------------------------------------------- */

static double across_of(const struct job_wing *wing) {
    if (wing->sides == 0 || wing->across.given) {
        return units_m_of_tick(wing->across.tick);
    }
    return wing->face.given ? units_m_of_tick(wing->face.tick) / tan(JOB_PI / wing->sides) : 0;
}

size_t job_make_polygon(const struct job_wing *wing, struct geometry_point corners[]) {
    size_t sides = (size_t)wing->sides;
    if (sides == 0 || !(across_of(wing) > 0)) {
        return 0; /* a rectangle, or refused */
    }
    switch (wing->shape) {
    case JOB_SHAPE_RECTANGLE:
        break;
    case JOB_SHAPE_POLYGON:
        geometry_make_regular(sides, across_of(wing), corners);
        return sides;
    case JOB_SHAPE_BAY:
        return geometry_make_bay(sides, across_of(wing),
                                 wing->stands_out.given ? units_m_of_tick(wing->stands_out.tick)
                                                        : across_of(wing) / 2,
                                 corners);
    }
    return 0;
}

size_t job_count_edges(const struct job_wing *wing) {
    struct geometry_point corners[JOB_EDGES_MAX];
    return wing->shape == JOB_SHAPE_RECTANGLE ? JOB_WING_EDGES : job_make_polygon(wing, corners);
}

/* ---- where it stands ----------------------------------------------------------------------- */

/* A list of exactly count entries. */
static const struct tree_node *find_list(struct job_reader *reader, const struct tree_node *map,
                                         const char *key, size_t count, const char *wanted) {
    const struct tree_node *node = tree_find(map, key);
    if (node == NULL) {
        return NULL;
    }
    if (node->kind != TREE_LIST) {
        job_refuse_kind(reader, node, key, wanted);
        return NULL;
    }
    if (node->count != count) {
        base_add_issue(reader->issues,
                       (struct base_issue){.code = BASE_ISSUE_WRONG_COUNT,
                                           .mark = node->mark,
                                           .object = job_object(reader, key),
                                           .value = base_value_count((int64_t)node->count),
                                           .limit = base_value_string(wanted)});
        return NULL;
    }
    return node->first;
}

static void read_point(struct job_reader *reader, const struct tree_node *map, const char *key,
                       struct job_wing *wing) {
    const struct tree_node *at =
        find_list(reader, map, key, 2, "two lengths, east and north of where the plan begins");
    if (at != NULL) {
        job_read_coordinate(reader, at, key, &wing->corner_x_tick);
        job_read_coordinate(reader, at->next, key, &wing->corner_y_tick);
    }
}

static void read_turn(struct job_reader *reader, const struct tree_node *map,
                      struct job_wing *wing) {
    struct job_number turn = {0};
    job_take_number(reader, map, "turn", JOB_QUANTITY_TURN, &turn);
    wing->turn_rad = turn.value;
}

static void read_rectangle(struct job_reader *reader, const struct tree_node *map,
                           struct job_wing *wing) {
    job_require(reader, map, "corner", "corner: [0, 0]");
    read_point(reader, map, "corner", wing);
    job_require(reader, map, "size", "size: [44' 6\", 26']|size: [13500, 8000]");
    const struct tree_node *size =
        find_list(reader, map, "size", 2, "two lengths, width and depth");
    if (size != NULL) {
        job_read_length_node(reader, size, "size", JOB_ZERO_REFUSED, &wing->width);
        job_read_length_node(reader, size->next, "size", JOB_ZERO_REFUSED, &wing->depth);
    }
    read_turn(reader, map, wing);
}

/* ---- polygons ------------------------------------------------------------------------------ */

static void read_sides(struct job_reader *reader, const struct tree_node *map,
                       struct job_wing *wing) {
    bool bay = wing->shape == JOB_SHAPE_BAY;
    job_require(reader, map, "sides", "sides: 8");
    const struct tree_node *node = job_find_scalar(reader, map, "sides");
    if (node == NULL) {
        return;
    }
    struct units_integer_reading reading = units_read_count(node->text);
    bool fits = reading.fault == UNITS_FINE && reading.value >= (bay ? 4 : 3) &&
                reading.value <= JOB_EDGES_MAX - (bay ? 2 : 0) && !(bay && reading.value % 2 != 0);
    if (!fits) {
        job_refuse_range(reader, node, "sides",
                         bay ? "an even number, 4 to 14, of the whole polygon" : "3 to 16");
        return;
    }
    wing->sides = (int)reading.value;
}

static void read_width(struct job_reader *reader, const struct tree_node *map,
                       struct job_wing *wing) {
    if (tree_find(map, "face") == NULL) {
        job_require(reader, map, "across", "across: 9'|across: 2700");
    }
    job_refuse_pair(reader, map, "across", "face");
    job_take_length(reader, map, "across", JOB_ZERO_REFUSED, &wing->across);
    job_take_length(reader, map, "face", JOB_ZERO_REFUSED, &wing->face);
    if (wing->across.given && wing->sides % 2 != 0) {
        job_refuse_range(reader, tree_find(map, "across"), "across",
                         "`face`, the length of one side, where the sides are odd in number");
    }
}

static void read_regular(struct job_reader *reader, const struct tree_node *map,
                         struct job_wing *wing) {
    static const char *const NAMES[] = {"sides", "across", "face"};
    static const struct job_keys KEYS = {"regular polygon", NAMES, JOB_COUNT_OF(NAMES)};
    const struct tree_node *node = tree_find(map, "regular polygon");
    wing->shape = JOB_SHAPE_POLYGON;
    if (job_check_map(reader, node, "regular polygon", &KEYS)) {
        read_sides(reader, node, wing);
        read_width(reader, node, wing);
    }
    job_require(reader, map, "centre", "centre: [12', 0]|centre: [3600, 0]");
    read_point(reader, map, "centre", wing);
    read_turn(reader, map, wing);
}

static void read_bay(struct job_reader *reader, const struct tree_node *map,
                     struct job_wing *wing) {
    static const char *const NAMES[] = {"sides", "across", "face", "stands out"};
    static const struct job_keys KEYS = {"half polygon", NAMES, JOB_COUNT_OF(NAMES)};
    const struct tree_node *node = tree_find(map, "half polygon");
    wing->shape = JOB_SHAPE_BAY;
    if (job_check_map(reader, node, "half polygon", &KEYS)) {
        read_sides(reader, node, wing);
        read_width(reader, node, wing);
        job_take_length(reader, node, "stands out", JOB_ZERO_REFUSED, &wing->stands_out);
    }
    if (job_require(reader, map, "against", "against: hall 1 at 30'|against: hall 1 at 9000")) {
        job_take_edge_place(reader, map, "against", &wing->against);
    }
    struct geometry_point corners[JOB_EDGES_MAX];
    if (wing->sides > 0 && (wing->across.given || wing->face.given)) {
        size_t count = job_make_polygon(wing, corners);
        if (count < 3) {
            job_refuse_range(reader, tree_find(node, "stands out"), "stands out",
                             "more than nothing");
            return;
        }
        wing->edges[count - 1] = JOB_EDGE_WALL;
    }
}

/* Keys of one shape beside another's: the first that does not belong is named. */
static void check_shape_keys(struct job_reader *reader, const struct tree_node *map) {
    static const char *const PAIRS[][2] = {{"half polygon", "regular polygon"},
                                           {"half polygon", "size"},
                                           {"half polygon", "corner"},
                                           {"half polygon", "centre"},
                                           {"half polygon", "edges"},
                                           {"half polygon", "turn"},
                                           {"regular polygon", "size"},
                                           {"regular polygon", "corner"},
                                           {"regular polygon", "against"},
                                           {"size", "against"},
                                           {"size", "centre"}};
    for (size_t i = 0; i < JOB_COUNT_OF(PAIRS); i++) {
        if (job_refuse_pair(reader, map, PAIRS[i][0], PAIRS[i][1])) {
            return;
        }
    }
}

/* ---- edges and pitches --------------------------------------------------------------------- */

static const char *count_words(struct job_reader *reader, size_t count, const char *what) {
    struct base_builder words = {.arena = reader->arena};
    base_add_integer(&words, (int64_t)count);
    base_add_string(&words, what);
    return base_copy_text(reader->arena, base_built(&words)).bytes;
}

static void read_edges(struct job_reader *reader, const struct tree_node *map,
                       struct job_wing *wing) {
    static const char *const KINDS[] = {"eave", "gable", "wall"};
    static const struct job_words WORDS = {KINDS, JOB_COUNT_OF(KINDS)};
    if (tree_find(map, "edges") == NULL) {
        if (wing->shape == JOB_SHAPE_RECTANGLE) {
            base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_EDGES_ASSUMED,
                                                               .mark = map->mark,
                                                               .object = job_object(reader, "")});
        }
        return;
    }
    size_t count = job_count_edges(wing);
    if (count == 0) {
        return; /* the plan was refused */
    }
    const struct tree_node *edge =
        find_list(reader, map, "edges", count,
                  count_words(reader, count, " words, each eave, gable or wall"));
    for (size_t i = 0; edge != NULL; edge = edge->next, i++) {
        int kind = 0;
        if (job_read_word_node(reader, edge, "edges", &WORDS, &kind)) {
            wing->edges[i] = (enum job_edge_kind)kind;
        }
    }
}

static void read_pitches(struct job_reader *reader, const struct tree_node *map,
                         struct job_wing *wing) {
    if (tree_find(map, "pitches") == NULL) {
        job_require(reader, map, "pitch", "pitch: 9/12");
    }
    job_take_number(reader, map, "pitch", JOB_QUANTITY_PITCH, &wing->pitch);
    size_t count = job_count_edges(wing);
    if (count == 0) {
        return;
    }
    const struct tree_node *pitch =
        find_list(reader, map, "pitches", count,
                  count_words(reader, count, " pitches, ~ for the wing's own"));
    for (size_t i = 0; pitch != NULL; pitch = pitch->next, i++) {
        bool needed = wing->edges[i] == JOB_EDGE_EAVE && tree_find(map, "pitch") == NULL;
        if (pitch->kind != TREE_NULL || needed) {
            job_read_number_node(reader, pitch, "pitches", JOB_QUANTITY_PITCH,
                                 &wing->edge_pitch[i]);
        }
    }
}

/* From `begins` inward every eave's roof goes on at another pitch: flatter, a gambrel or mansard;
 * steeper, a flared eave. */
static void read_upper(struct job_reader *reader, const struct tree_node *map,
                       struct job_wing *wing) {
    static const char *const NAMES[] = {"begins", "pitch"};
    static const struct job_keys KEYS = {"upper roof", NAMES, JOB_COUNT_OF(NAMES)};
    const struct tree_node *node = tree_find(map, "upper roof");
    if (node == NULL || !job_check_map(reader, node, "upper roof", &KEYS)) {
        return;
    }
    job_require(reader, node, "begins", "begins: 5' 6\"|begins: 1700");
    job_take_length(reader, node, "begins", JOB_ZERO_REFUSED, &wing->upper_begins);
    job_require(reader, node, "pitch", "pitch: 4/12");
    job_take_number(reader, node, "pitch", JOB_QUANTITY_PITCH, &wing->upper_pitch);
    bool breaks = false; /* at one eave at least; the others may run through */
    for (size_t i = 0; i < job_count_edges(wing); i++) {
        const struct job_number *lower =
            wing->edge_pitch[i].given ? &wing->edge_pitch[i] : &wing->pitch;
        breaks = breaks || (wing->edges[i] == JOB_EDGE_EAVE &&
                            !(lower->given && wing->upper_pitch.value == lower->value));
    }
    if (wing->upper_pitch.given && !breaks) {
        job_refuse_range(reader, tree_find(node, "pitch"), "pitch",
                         "flatter than the roof below it (gambrel, mansard) or steeper (flared "
                         "eave)");
    }
}

/* `no gutter: all`, or the numbers of edges. */
static void read_no_gutter(struct job_reader *reader, const struct tree_node *map,
                           struct job_wing *wing) {
    static const char *const WANTED = "`all`, or a list of the wing's eaves, counted as walked";
    const struct tree_node *node = tree_find(map, "no gutter");
    size_t count = job_count_edges(wing);
    if (node == NULL || count == 0) {
        return;
    }
    if (node->kind == TREE_SCALAR && base_text_is(job_trim(node->text), "all")) {
        for (size_t i = 0; i < count; i++) {
            wing->no_gutter[i] = wing->edges[i] == JOB_EDGE_EAVE;
        }
        return;
    }
    if (node->kind != TREE_LIST) {
        job_refuse_kind(reader, node, "no gutter", WANTED);
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        struct units_integer_reading edge = {.fault = UNITS_FINE, .value = 0};
        if (entry->kind == TREE_SCALAR) {
            edge = units_read_count(job_trim(entry->text));
        }
        if (edge.fault != UNITS_FINE || edge.value < 1 || edge.value > (int64_t)count ||
            wing->edges[edge.value - 1] != JOB_EDGE_EAVE) {
            job_refuse_range(reader, entry, "no gutter", WANTED);
            continue;
        }
        wing->no_gutter[edge.value - 1] = true;
    }
}

/* `eave sections: [{...}, ~, {...}, ~]`: edge by edge, where one eave of the wing differs. */
static void read_sections(struct job_reader *reader, const struct tree_node *map,
                          struct job_wing *wing) {
    job_read_section(reader, map, &wing->section, &wing->has_section);
    size_t count = job_count_edges(wing);
    const struct tree_node *node =
        count == 0 ? NULL
                   : find_list(reader, map, "eave sections", count,
                               count_words(reader, count, " sections, ~ for the wing's own"));
    wing->edge_sections =
        node == NULL ? NULL : base_take(reader->arena, count, sizeof *wing->edge_sections);
    for (size_t i = 0; wing->edge_sections != NULL && node != NULL; node = node->next, i++) {
        wing->edge_sections[i] = (struct job_section){.wood = JOB_WOOD_UNKNOWN};
        if (node->kind == TREE_NULL) {
            continue;
        }
        if (wing->edges[i] != JOB_EDGE_EAVE) {
            job_refuse_kind(reader, node, "eave sections", "~, for this edge is no eave,");
        } else {
            (void)job_read_section_node(reader, node, &wing->edge_sections[i]);
        }
    }
}

/* {scupper edge: 2, at: 5', width: 8", lowest edge: 6", onto: porch 1 at 9'}: all edges are
 * parapets. */
static void read_deck(struct job_reader *reader, const struct tree_node *map,
                      struct job_wing *wing) {
    static const char *const NAMES[] = {"scupper edge", "at", "width", "lowest edge", "onto"};
    static const struct job_keys KEYS = {"flat deck", NAMES, JOB_COUNT_OF(NAMES)};
    const struct tree_node *node = tree_find(map, "flat deck");
    size_t count = job_count_edges(wing);
    (void)(job_refuse_pair(reader, map, "flat deck", "edges") ||
           job_refuse_pair(reader, map, "flat deck", "pitch") ||
           job_refuse_pair(reader, map, "flat deck", "half polygon"));
    if (!job_check_map(reader, node, "flat deck", &KEYS) || count == 0) {
        return;
    }
    for (size_t i = 0; i < count; i++) {
        wing->edges[i] = JOB_EDGE_GABLE;
    }
    const struct tree_node *edge = job_find_scalar(reader, node, "scupper edge");
    if (job_require(reader, node, "scupper edge", "scupper edge: 2") && edge != NULL) {
        struct units_integer_reading reading = units_read_count(job_trim(edge->text));
        if (reading.fault != UNITS_FINE || reading.value < 1 || reading.value > (int64_t)count) {
            job_refuse_range(reader, edge, "scupper edge", "one of the wing's edges, as walked");
            return;
        }
        wing->deck.edge = (int)reading.value - 1;
    }
    job_require(reader, node, "at", "at: 5'|at: 1500");
    job_take_length(reader, node, "at", JOB_ZERO_REFUSED, &wing->deck.at);
    job_take_length(reader, node, "width", JOB_ZERO_REFUSED, &wing->deck.width);
    job_take_length(reader, node, "lowest edge", JOB_ZERO_REFUSED, &wing->deck.lowest_edge);
    wing->deck.given = true;
}

/* The wing it names may stand further down the file. */
static void read_decks_onto(struct job_reader *reader, const struct tree_node *node) {
    size_t index = 0;
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        struct job_deck *deck = &reader->job->wings[index++].deck;
        const struct tree_node *map = deck->given ? tree_find(entry, "flat deck") : NULL;
        if (map != NULL && tree_find(map, "onto") != NULL) {
            deck->has_onto = job_take_eave_place(reader, map, "onto", &deck->onto);
        }
    }
}

static void read_wing(struct job_reader *reader, const struct tree_node *map,
                      struct job_wing *wing) {
    static const char *const NAMES[] = {
        "name",         "corner",          "size",       "turn",      "eave height",
        "pitch",        "edges",           "pitches",    "overhang",  "eave section",
        "half polygon", "regular polygon", "against",    "centre",    "upper roof",
        "no gutter",    "eave sections",   "wall above", "flat deck", "saddle"};
    static const struct job_keys ALL = {"a wing", NAMES, JOB_COUNT_OF(NAMES)};
    wing->mark = map->mark;
    if (!job_check_map(reader, map, "wings", &ALL)) {
        return;
    }
    wing->name = job_read_name(reader, map, "name: hall");
    check_shape_keys(reader, map);
    if (tree_find(map, "half polygon") != NULL) {
        read_bay(reader, map, wing);
    } else if (tree_find(map, "regular polygon") != NULL) {
        read_regular(reader, map, wing);
    } else {
        read_rectangle(reader, map, wing);
    }
    job_require(reader, map, "eave height", "eave height: 17'|eave height: 5200");
    job_take_height(reader, map, "eave height", &wing->eave_height);
    if (tree_find(map, "flat deck") != NULL) {
        read_deck(reader, map, wing);
    } else {
        read_edges(reader, map, wing);
        read_pitches(reader, map, wing);
        read_upper(reader, map, wing);
        read_no_gutter(reader, map, wing);
    }
    job_take_length(reader, map, "overhang", JOB_ZERO_ALLOWED, &wing->overhang);
    job_take_length(reader, map, "wall above", JOB_ZERO_REFUSED, &wing->wall_above);
    job_take_number(reader, map, "saddle", JOB_QUANTITY_PITCH, &wing->saddle);
    if (wing->saddle.given && !(wing->saddle.value > 0)) {
        job_refuse_range(reader, tree_find(map, "saddle"), "saddle", "steeper than level");
        wing->saddle.given = false;
    }
    read_sections(reader, map, wing);
    reader->where = (struct base_text){0};
}

void job_read_wings(struct job_reader *reader, const struct tree_node *node) {
    struct job *job = reader->job;
    if (!job_check_list(reader, node, "wings")) {
        return;
    }
    job->wings = base_take(reader->arena, node->count, sizeof *job->wings);
    if (job->wings == NULL) {
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        read_wing(reader, entry, &job->wings[job->wing_count]);
        job->wing_count++;
    }
    read_decks_onto(reader, node);
}
