/* SPDX-License-Identifier: Apache-2.0 */
/* The footprint path: corners of the roof edges, courtyards, and what stands on each edge. */
#include "job/job_inside.h"

/* ---- corners --------------------------------------------------------------------------------- */

static void refuse_corner(struct job_reader *reader, const struct tree_node *node) {
    job_refuse_kind(reader, node, "corners", "a corner, east and north, like [44' 6\", 0]");
}

static void read_corner(struct job_reader *reader, const struct tree_node *node) {
    struct job_outline *outline = &reader->job->outline;
    struct geometry_corner *corner = &outline->corners[outline->edge_count];
    if (node->kind != TREE_LIST || node->count != 2) {
        refuse_corner(reader, node);
        return;
    }
    job_read_coordinate(reader, node->first, "corners", &corner->x_tick);
    job_read_coordinate(reader, node->first->next, "corners", &corner->y_tick);
    outline->marks[outline->edge_count] = node->first->mark;
    outline->edge_count++;
}

static bool read_ring(struct job_reader *reader, const struct tree_node *ring, const char *key) {
    struct job_outline *outline = &reader->job->outline;
    size_t before = outline->edge_count;
    if (!job_check_list(reader, ring, key)) {
        return false;
    }
    if (ring->count < 3 || before + ring->count > JOB_OUTLINE_CORNERS_MAX) {
        base_add_issue(
            reader->issues,
            (struct base_issue){
                .code = BASE_ISSUE_WRONG_COUNT,
                .mark = ring->mark,
                .object = job_object(reader, key),
                .value = base_value_count((int64_t)ring->count),
                .limit = base_value_string("three corners or more, 500 in all with courtyards,")});
        return false;
    }
    for (const struct tree_node *corner = ring->first; corner != NULL; corner = corner->next) {
        read_corner(reader, corner);
    }
    outline->counts[outline->ring_count++] = outline->edge_count - before;
    return outline->edge_count - before == ring->count;
}

static size_t count_corners(const struct tree_node *corners, const struct tree_node *holes) {
    size_t count = corners == NULL ? 0 : corners->count;
    bool listed = holes != NULL && holes->kind == TREE_LIST;
    for (const struct tree_node *hole = listed ? holes->first : NULL; hole != NULL;
         hole = hole->next) {
        count += hole->count;
    }
    return count < JOB_OUTLINE_CORNERS_MAX ? count : JOB_OUTLINE_CORNERS_MAX;
}

static bool take_room(struct job_reader *reader, size_t corners, size_t rings) {
    struct job_outline *outline = &reader->job->outline;
    outline->corners = base_take(reader->arena, corners + 1, sizeof *outline->corners);
    outline->marks = base_take(reader->arena, corners + 1, sizeof *outline->marks);
    outline->counts = base_take(reader->arena, rings + 1, sizeof *outline->counts);
    outline->gables = base_take(reader->arena, corners + 1, sizeof *outline->gables);
    outline->walls = base_take(reader->arena, corners + 1, sizeof *outline->walls);
    outline->pitches = base_take(reader->arena, corners + 1, sizeof *outline->pitches);
    outline->no_gutter = base_take(reader->arena, corners + 1, sizeof *outline->no_gutter);
    return !base_arena_failed(reader->arena);
}

/* False when edges cannot be counted: then nothing is said about them. */
static bool read_rings(struct job_reader *reader, const struct tree_node *map) {
    const struct tree_node *corners = tree_find(map, "corners");
    const struct tree_node *holes = tree_find(map, "holes");
    size_t hole_count = holes == NULL ? 0 : holes->count;
    if (!job_require(reader, map, "corners",
                     "corners: [[0, 0], [40', 0], [40', 26'], [0, 26']]|"
                     "corners: [[0, 0], [12000, 0], [12000, 8000], [0, 8000]]") ||
        !take_room(reader, count_corners(corners, holes), hole_count + 1)) {
        return false;
    }
    bool whole = read_ring(reader, corners, "corners");
    if (holes != NULL && !job_check_list(reader, holes, "holes")) {
        return false;
    }
    for (const struct tree_node *hole = holes == NULL ? NULL : holes->first; hole != NULL && whole;
         hole = hole->next) {
        whole = read_ring(reader, hole, "holes");
    }
    return whole;
}

/* ---- edges ----------------------------------------------------------------------------------- */

/* The key as an edge's number, from 0; edge_count (with an issue) when it is none. */
static size_t find_edge(struct job_reader *reader, const struct tree_node *node,
                        struct base_text number, const char *key) {
    size_t count = reader->job->outline.edge_count;
    struct units_integer_reading edge = units_read_count(job_trim(number));
    if (edge.fault == UNITS_FINE && edge.value >= 1 && edge.value <= (int64_t)count) {
        return (size_t)edge.value - 1;
    }
    job_refuse_range(reader, node, key, "numbers of the outline's edges, from 1, as written");
    return count;
}

typedef void edge_reader(struct job_reader *reader, const struct tree_node *node, size_t edge);

static void read_edge_kind(struct job_reader *reader, const struct tree_node *node, size_t edge) {
    static const char *const KINDS[] = {"eave", "gable", "wall"};
    static const struct job_words WORDS = {KINDS, JOB_COUNT_OF(KINDS)};
    int kind = 0;
    if (job_read_word_node(reader, node, "edges", &WORDS, &kind)) {
        reader->job->outline.gables[edge] = kind != 0;
        reader->job->outline.walls[edge] = kind == 2;
    }
}

static void read_edge_pitch(struct job_reader *reader, const struct tree_node *node, size_t edge) {
    if (node->kind != TREE_NULL) {
        job_read_number_node(reader, node, "pitches", JOB_QUANTITY_PITCH,
                             &reader->job->outline.pitches[edge]);
    }
}

/* A list, one an edge, or a map by the edges' numbers. */
static void read_edges(struct job_reader *reader, const struct tree_node *map, const char *key,
                       edge_reader *read) {
    const struct tree_node *node = tree_find(map, key);
    size_t count = reader->job->outline.edge_count;
    if (node == NULL) {
        return;
    }
    if (node->kind == TREE_MAP) {
        for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
            size_t edge = find_edge(reader, entry, entry->key, key);
            if (edge < count) {
                read(reader, entry, edge);
            }
        }
        return;
    }
    if (node->kind != TREE_LIST || node->count != count) {
        job_refuse_kind(reader, node, key,
                        "a list with one entry an edge, or a map like {2: ..., 4: ...}");
        return;
    }
    const struct tree_node *entry = node->first;
    for (size_t edge = 0; entry != NULL; entry = entry->next, edge++) {
        read(reader, entry, edge);
    }
}

static void read_no_gutter(struct job_reader *reader, const struct tree_node *map) {
    struct job_outline *outline = &reader->job->outline;
    const struct tree_node *node = tree_find(map, "no gutter");
    if (node == NULL || !job_check_list(reader, node, "no gutter")) {
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        struct base_text number = entry->kind == TREE_SCALAR ? entry->text : (struct base_text){0};
        size_t edge = find_edge(reader, entry, number, "no gutter");
        if (edge < outline->edge_count) {
            outline->no_gutter[edge] = true;
        }
    }
}

/* ---- all of it ------------------------------------------------------------------------------- */

void job_read_outline(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"name",     "corners",      "holes",     "eave height",
                                        "pitch",    "edges",        "pitches",   "no gutter",
                                        "overhang", "eave section", "wall above"};
    static const struct job_keys KEYS = {"an outline", NAMES, JOB_COUNT_OF(NAMES)};
    struct job_outline *outline = &reader->job->outline;
    outline->mark = node->key_mark;
    if (!job_check_map(reader, node, "outline", &KEYS)) {
        return;
    }
    outline->name = job_read_name(reader, node, "name: house");
    outline->given = true;
    if (read_rings(reader, node)) {
        read_edges(reader, node, "edges", read_edge_kind);
        read_edges(reader, node, "pitches", read_edge_pitch);
        read_no_gutter(reader, node);
    }
    job_require(reader, node, "eave height", "eave height: 17'|eave height: 5200");
    job_take_height(reader, node, "eave height", &outline->eave_height);
    if (tree_find(node, "pitches") == NULL) {
        job_require(reader, node, "pitch", "pitch: 9/12");
    }
    job_take_number(reader, node, "pitch", JOB_QUANTITY_PITCH, &outline->pitch);
    job_take_length(reader, node, "overhang", JOB_ZERO_ALLOWED, &outline->overhang);
    job_take_length(reader, node, "wall above", JOB_ZERO_REFUSED, &outline->wall_above);
    job_read_section(reader, node, &outline->section, &outline->has_section);
    reader->where = (struct base_text){0};
}
