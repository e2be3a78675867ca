/* SPDX-License-Identifier: Apache-2.0 */
/* From an outline to its front, and from the arcs the front leaves to faces. */
#include "geometry/geometry_inside.h"

#include "numeric/numeric.h"

#include <math.h>

/* ---- the front at the eaves ------------------------------------------------------------------ */

static struct geometry_point point_of(const struct geometry_outline *outline, size_t ring,
                                      size_t corner) {
    const struct geometry_ring *of = &outline->rings[ring];
    struct geometry_corner first = outline->rings[0].corners[0];
    struct geometry_corner at = of->corners[corner == of->count ? 0 : corner];
    /* From the first corner: a house far from the origin loses no digits. */
    return (struct geometry_point){(double)(at.x_tick - first.x_tick) / GEOMETRY_TICKS_PER_M,
                                   (double)(at.y_tick - first.y_tick) / GEOMETRY_TICKS_PER_M};
}

static void add_ring(struct geometry_front *front, const struct geometry_outline *outline,
                     size_t ring, const double *speeds_1) {
    size_t first = front->node_count;
    size_t count = outline->rings[ring].count;
    for (size_t i = 0; i < count && !front->failed; i++) {
        struct geometry_point from = point_of(outline, ring, i);
        struct geometry_point along = geometry_subtract(point_of(outline, ring, i + 1), from);
        double length_m = hypot(along.x_m, along.y_m);
        struct geometry_point normal = {-along.y_m / length_m, along.x_m / length_m};
        geometry_add_line(front, normal, geometry_dot(normal, from), speeds_1[first + i]);
        geometry_add_node(front, from, 0);
        geometry_add_vertex(front, first + (i == 0 ? count : i) - 1, first + i, first + i);
    }
    for (size_t i = 0; i < count && !front->failed; i++) {
        geometry_link(front, first + i, first + (i + 1 == count ? 0 : i + 1));
    }
}

static void start_front(struct geometry_front *front, const struct geometry_outline *outline,
                        const double *speeds_1) {
    for (size_t ring = 0; ring < outline->count && !front->failed; ring++) {
        add_ring(front, outline, ring, speeds_1);
    }
    size_t count = front->vertex_count;
    for (size_t i = 0; i < count && !front->failed; i++) {
        front->vertices[i].line_limit = count;
    }
    for (size_t i = 0; i < count && !front->failed; i++) {
        geometry_start_vertex(front, i);
    }
    /* Asked once more now that every neighbour is on its way. */
    front->heap_count = 0;
    for (size_t i = 0; i < front->moving_count && !front->failed; i++) {
        geometry_expect_edge(front, front->moving[i]);
        if (front->vertices[front->moving[i]].reflex) {
            front->vertices[front->moving[i]].line_limit = front->lines.count;
            geometry_expect_vertex(front, front->moving[i]);
        }
    }
}

/* ---- arcs ------------------------------------------------------------------------------------ */

static struct geometry_plane plane_of(const struct geometry_front *front, size_t line) {
    double pitch_1 = 1 / front->lines.speed_1[line];
    return (struct geometry_plane){front->lines.normal_x_1[line] * pitch_1,
                                   front->lines.normal_y_1[line] * pitch_1,
                                   -front->lines.offset_m[line] * pitch_1};
}

static enum geometry_arc_kind kind_of(const struct geometry_front *front,
                                      const struct geometry_skeleton_arc *arc) {
    const struct geometry_skeleton_node *from = &front->nodes[arc->from];
    const struct geometry_skeleton_node *to = &front->nodes[arc->to];
    if (!(front->lines.speed_1[arc->left] > 0) || !(front->lines.speed_1[arc->right] > 0)) {
        return GEOMETRY_ARC_GABLE;
    }
    struct geometry_plane left = plane_of(front, arc->left);
    struct geometry_plane right = plane_of(front, arc->right);
    struct geometry_point along = geometry_subtract(to->at, from->at);
    double length_m = hypot(along.x_m, along.y_m);
    struct geometry_point bend = {right.a_1 - left.a_1, right.b_1 - left.b_1};
    double opening_1 = (bend.x_m * along.y_m - bend.y_m * along.x_m) / length_m;
    double steepness_1 = hypot(left.a_1, left.b_1) + hypot(right.a_1, right.b_1);
    if (fabs(opening_1) <= 1e-6 * steepness_1) {
        return GEOMETRY_ARC_SEAM;
    }
    bool level = fabs(to->height_m - from->height_m) <= 1e-6 * length_m + GEOMETRY_EVENT_M;
    return opening_1 > 0 ? GEOMETRY_ARC_VALLEY : level ? GEOMETRY_ARC_RIDGE : GEOMETRY_ARC_HIP;
}

static void finish_arcs(struct geometry_front *front) {
    for (size_t i = 0; i < front->arc_count; i++) {
        struct geometry_skeleton_arc *arc = &front->arcs[i];
        arc->kind = kind_of(front, arc);
        if (front->nodes[arc->from].height_m > front->nodes[arc->to].height_m) {
            struct geometry_skeleton_arc turned = {arc->kind, arc->to, arc->from, arc->right,
                                                   arc->left};
            *arc = turned;
        }
        arc->left = arc->left < front->edge_count ? arc->left : GEOMETRY_NONE;
        arc->right = arc->right < front->edge_count ? arc->right : GEOMETRY_NONE;
    }
}

/* ---- faces ----------------------------------------------------------------------------------- */

struct half_arc {
    size_t from;
    size_t to;
    bool used;
};

/* Half arcs of face i are items[starts[i]] up to items[starts[i + 1]]: it lies to their left. */
struct half_arcs {
    struct half_arc *items;
    size_t *starts; /* [edge_count + 1] */
};

static bool list_halves(struct geometry_front *front, struct half_arcs *halves) {
    size_t edges = front->edge_count;
    halves->items = base_take(front->arena, 2 * front->arc_count + 1, sizeof *halves->items);
    halves->starts = base_take(front->arena, edges + 2, sizeof *halves->starts);
    if (halves->items == NULL || halves->starts == NULL) {
        front->failed = true;
        return false;
    }
    for (size_t i = 0; i < front->arc_count; i++) {
        const struct geometry_skeleton_arc *arc = &front->arcs[i];
        halves->starts[arc->left < edges ? arc->left + 2 : 0]++;
        halves->starts[arc->right < edges ? arc->right + 2 : 0]++;
    }
    halves->starts[0] = 0;
    for (size_t i = 2; i < edges + 2; i++) {
        halves->starts[i] += halves->starts[i - 1];
    }
    for (size_t i = 0; i < front->arc_count; i++) {
        const struct geometry_skeleton_arc *arc = &front->arcs[i];
        if (arc->left < edges) {
            halves->items[halves->starts[arc->left + 1]++] =
                (struct half_arc){arc->from, arc->to, false};
        }
        if (arc->right < edges) {
            halves->items[halves->starts[arc->right + 1]++] =
                (struct half_arc){arc->to, arc->from, false};
        }
    }
    return true;
}

/* From straight on, how far to the left the walk turns: -pi to pi. */
static double turn_of(const struct geometry_front *front, size_t before, size_t at, size_t after) {
    struct geometry_point one = geometry_subtract(front->nodes[at].at, front->nodes[before].at);
    struct geometry_point two = geometry_subtract(front->nodes[after].at, front->nodes[at].at);
    return atan2(geometry_cross(one, two), geometry_dot(one, two));
}

/* The half arc that goes on from the node; where a face touches itself, the one furthest right, so
 * that all of it is walked. */
static struct half_arc *find_onward(const struct geometry_front *front, struct half_arc *halves,
                                    size_t count, const size_t *walked) {
    struct half_arc *found = NULL;
    double found_rad = 0;
    for (size_t i = 0; i < count; i++) {
        if (halves[i].used || halves[i].from != walked[1]) {
            continue;
        }
        double turn_rad = 0;
        if (found != NULL) {
            found_rad = turn_of(front, walked[0], walked[1], found->to);
            turn_rad = turn_of(front, walked[0], walked[1], halves[i].to);
        }
        if (found == NULL || turn_rad < found_rad) {
            found = &halves[i];
        }
    }
    return found;
}

/* Where the nodes of all faces, and the ends of their rings, are written. */
struct walk {
    size_t *nodes;
    size_t *ring_ends;
};

/* Once round from the two nodes at first: false when the arcs do not close. */
static bool walk_ring(const struct geometry_front *front, struct half_arc *halves, size_t count,
                      struct geometry_skeleton_face *face, const struct walk *walk) {
    size_t *nodes = walk->nodes;
    size_t first = face->count;
    size_t at = first + 1;
    struct half_arc *onward = find_onward(front, halves, count, &nodes[at - 1]);
    while (onward != NULL) {
        onward->used = true;
        nodes[++at] = onward->to;
        onward = find_onward(front, halves, count, &nodes[at - 1]);
    }
    if (nodes[at] != nodes[first] || at < first + 2) {
        return false;
    }
    face->count = at;
    walk->ring_ends[face->ring_count++] = at;
    return true;
}

static struct half_arc *find_unused(struct half_arc *halves, size_t count) {
    for (size_t i = 0; i < count; i++) {
        if (!halves[i].used) {
            return &halves[i];
        }
    }
    return NULL;
}

static bool walk_face(const struct geometry_front *front, struct half_arc *halves, size_t count,
                      struct geometry_skeleton_face *face, const struct walk *walk) {
    face->nodes = walk->nodes;
    face->ring_ends = walk->ring_ends;
    if (!walk_ring(front, halves, count, face, walk)) {
        return false;
    }
    for (struct half_arc *start = find_unused(halves, count); start != NULL;
         start = find_unused(halves, count)) {
        start->used = true;
        walk->nodes[face->count] = start->from;
        walk->nodes[face->count + 1] = start->to;
        if (!walk_ring(front, halves, count, face, walk)) {
            return false;
        }
    }
    return true;
}

static double area_of(const struct geometry_front *front,
                      const struct geometry_skeleton_face *face) {
    struct geometry_point origin = front->nodes[face->nodes[0]].at;
    struct numeric_sum twice = {0};
    size_t first = 0;
    for (size_t ring = 0; ring < face->ring_count; ring++) {
        size_t end = face->ring_ends[ring];
        for (size_t i = first; i < end; i++) {
            size_t next = i + 1 == end ? first : i + 1;
            numeric_add(&twice, geometry_cross(
                                    geometry_subtract(front->nodes[face->nodes[i]].at, origin),
                                    geometry_subtract(front->nodes[face->nodes[next]].at, origin)));
        }
        first = end;
    }
    return 0.5 * numeric_total(&twice);
}

static bool make_face(const struct geometry_front *front, const struct half_arcs *halves,
                      size_t edge, struct geometry_skeleton_face *face, const struct walk *walk) {
    if (!(front->lines.speed_1[edge] > 0)) {
        return true;
    }
    size_t start = halves->starts[edge];
    size_t count = halves->starts[edge + 1] - start;
    if (!walk_face(front, &halves->items[start], count, face, walk)) {
        return false;
    }
    face->plane = plane_of(front, edge);
    face->plan_area_m2 = area_of(front, face);
    /* A face not wider than one event may have no area, or less. */
    return face->plan_area_m2 >
           -front->event_m *
               geometry_distance(front->nodes[face->nodes[0]].at, front->nodes[face->nodes[1]].at);
}

/* The edge's own two nodes begin the walk. */
static bool make_faces(struct geometry_front *front, const struct geometry_outline *outline,
                       struct geometry_skeleton_face *faces) {
    struct half_arcs halves;
    size_t room = 2 * front->arc_count + 3 * front->edge_count;
    struct walk walk = {base_take(front->arena, 2 * room, sizeof *walk.nodes),
                        base_take(front->arena, room, sizeof *walk.ring_ends)};
    if (walk.nodes == NULL || walk.ring_ends == NULL || !list_halves(front, &halves)) {
        front->failed = true;
        return false;
    }
    size_t edge = 0;
    for (size_t ring = 0; ring < outline->count; ring++) {
        size_t first = edge;
        size_t end = first + outline->rings[ring].count;
        for (; edge < end; edge++) {
            walk.nodes[0] = edge;
            walk.nodes[1] = edge + 1 == end ? first : edge + 1;
            if (!make_face(front, &halves, edge, &faces[edge], &walk)) {
                return false;
            }
            walk.nodes += faces[edge].count == 0 ? 0 : faces[edge].count + 1;
            walk.ring_ends += faces[edge].ring_count;
        }
    }
    return true;
}

/* ---- all of it ------------------------------------------------------------------------------- */

static double outline_area(const struct geometry_outline *outline) {
    struct numeric_sum twice = {0};
    for (size_t ring = 0; ring < outline->count; ring++) {
        for (size_t i = 0; i < outline->rings[ring].count; i++) {
            numeric_add(&twice,
                        geometry_cross(point_of(outline, ring, i), point_of(outline, ring, i + 1)));
        }
    }
    return 0.5 * numeric_total(&twice);
}

/* A place within one event of several gables cannot stand on the lines of all of them: the sliver
 * between belongs to no face. */
static double sliver_area(const struct geometry_front *front) {
    double area_m2 = 0;
    for (size_t i = 0; i < front->arc_count; i++) {
        const struct geometry_skeleton_arc *arc = &front->arcs[i];
        if (!(front->lines.speed_1[arc->left] > 0) || !(front->lines.speed_1[arc->right] > 0)) {
            area_m2 += front->event_m *
                       geometry_distance(front->nodes[arc->from].at, front->nodes[arc->to].at);
        }
    }
    return area_m2;
}

static bool areas_agree(const struct geometry_front *front, const struct geometry_outline *outline,
                        const struct geometry_skeleton_face *faces) {
    struct numeric_sum sum = {0};
    for (size_t i = 0; i < front->edge_count; i++) {
        numeric_add(&sum, faces[i].plan_area_m2);
    }
    double area_m2 = outline_area(outline);
    return fabs(numeric_total(&sum) - area_m2) <= 1e-9 * area_m2 + sliver_area(front);
}

/* Back to the outline's own place; the planes, too. */
static void move_back(struct geometry_front *front, const struct geometry_outline *outline,
                      struct geometry_skeleton_face *faces) {
    struct geometry_corner first = outline->rings[0].corners[0];
    struct geometry_point by = {(double)first.x_tick / GEOMETRY_TICKS_PER_M,
                                (double)first.y_tick / GEOMETRY_TICKS_PER_M};
    for (size_t i = 0; i < front->node_count; i++) {
        front->nodes[i].at = geometry_add(front->nodes[i].at, by);
    }
    for (size_t i = 0; i < front->edge_count; i++) {
        struct geometry_plane *plane = &faces[i].plane;
        plane->c_m -= plane->a_1 * by.x_m + plane->b_1 * by.y_m;
    }
}

static bool moves_nowhere(const struct geometry_front *front) {
    for (size_t i = 0; i < front->moving_count; i++) {
        if (front->lines.speed_1[front->vertices[front->moving[i]].out] > 0) {
            return false;
        }
    }
    return front->moving_count > 0;
}

static enum geometry_skeleton_state try_skeleton(struct geometry_front *front,
                                                 const struct geometry_outline *outline,
                                                 const double *speeds_1,
                                                 struct geometry_skeleton *skeleton) {
    start_front(front, outline, speeds_1);
    geometry_run(front);
    if (front->failed) {
        return GEOMETRY_SKELETON_NO_MEMORY;
    }
    if (front->lost || front->moving_count > 0) {
        return !front->lost && moves_nowhere(front) ? GEOMETRY_SKELETON_UNREACHED
                                                    : GEOMETRY_SKELETON_LOST;
    }
    struct geometry_skeleton_face *faces =
        base_take(front->arena, front->edge_count, sizeof *faces);
    if (faces == NULL) {
        return GEOMETRY_SKELETON_NO_MEMORY;
    }
    bool whole = make_faces(front, outline, faces) && areas_agree(front, outline, faces);
    if (front->failed) {
        return GEOMETRY_SKELETON_NO_MEMORY;
    }
    if (!whole) {
        return GEOMETRY_SKELETON_LOST;
    }
    finish_arcs(front);
    move_back(front, outline, faces);
    *skeleton =
        (struct geometry_skeleton){front->nodes, front->node_count, front->arcs,  front->arc_count,
                                   faces,        front->edge_count, front->steps, front->event_m};
    return GEOMETRY_SKELETON_WHOLE;
}

enum geometry_skeleton_state geometry_find_skeleton(struct base_arena *arena,
                                                    const struct geometry_outline *outline,
                                                    const double *speeds_1,
                                                    struct geometry_skeleton *skeleton) {
    /* What is one event at the one size may be two at another. */
    static const double EVENTS[] = {1, 0.1, 8, 64};
    enum geometry_skeleton_state state = GEOMETRY_SKELETON_LOST;
    size_t edge_count = 0;
    for (size_t ring = 0; ring < outline->count; ring++) {
        edge_count += outline->rings[ring].count;
    }
    for (size_t i = 0; i < sizeof EVENTS / sizeof EVENTS[0] && state == GEOMETRY_SKELETON_LOST;
         i++) {
        struct geometry_front front = {.arena = arena,
                                       .edge_count = edge_count,
                                       .event_m = EVENTS[i] * GEOMETRY_EVENT_M,
                                       .reach_m = EVENTS[i] * GEOMETRY_EVENT_M,
                                       .steps_max = 20 * edge_count + 100};
        state = try_skeleton(&front, outline, speeds_1, skeleton);
    }
    return state;
}
