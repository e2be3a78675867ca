/* SPDX-License-Identifier: Apache-2.0 */
/* The front: closed lines of moving edges, its lists, and how a vertex of it moves. */
#include "geometry/geometry_inside.h"

#include <math.h>

#define FLAT_1     1e-3
#define PARALLEL_1 1e-3 /* sine under which two opposite edges may lie on each other */
#define SAME_PACE  1e-9 /* speeds nearer than this share are one speed */

/* ---- lines and places ------------------------------------------------------------------------ */

struct geometry_point geometry_line_along(const struct geometry_front *front, size_t line) {
    return (struct geometry_point){front->lines.normal_y_1[line], -front->lines.normal_x_1[line]};
}

struct geometry_point geometry_line_normal(const struct geometry_front *front, size_t line) {
    return (struct geometry_point){front->lines.normal_x_1[line], front->lines.normal_y_1[line]};
}

struct geometry_point geometry_vertex_at(const struct geometry_front *front, size_t vertex) {
    const struct geometry_vertex *of = &front->vertices[vertex];
    double by_m = front->now_m - of->since_m;
    return (struct geometry_point){of->at.x_m + by_m * of->velocity_1.x_m,
                                   of->at.y_m + by_m * of->velocity_1.y_m};
}

double geometry_line_gap(const struct geometry_front *front, size_t line,
                         struct geometry_point at) {
    const struct geometry_lines *lines = &front->lines;
    return lines->normal_x_1[line] * at.x_m + lines->normal_y_1[line] * at.y_m -
           lines->offset_m[line] - lines->speed_1[line] * front->now_m;
}

/* ---- lists ----------------------------------------------------------------------------------- */

static bool grow_lines(struct geometry_front *front) {
    struct geometry_lines *lines = &front->lines;
    double **of[] = {&lines->normal_x_1, &lines->normal_y_1, &lines->offset_m, &lines->speed_1};
    size_t room = lines->room;
    for (size_t i = 0; i < sizeof of / sizeof of[0]; i++) {
        room = lines->room;
        double *grown = base_grow(front->arena, *of[i], &room, lines->count, sizeof *grown);
        if (grown == NULL) {
            front->failed = true;
            return false;
        }
        *of[i] = grown;
    }
    lines->room = room;
    return true;
}

size_t geometry_add_line(struct geometry_front *front, struct geometry_point normal,
                         double offset_m, double speed_1) {
    struct geometry_lines *lines = &front->lines;
    if (lines->count == lines->room && !grow_lines(front)) {
        return 0;
    }
    lines->normal_x_1[lines->count] = normal.x_m;
    lines->normal_y_1[lines->count] = normal.y_m;
    lines->offset_m[lines->count] = offset_m;
    lines->speed_1[lines->count] = speed_1;
    return lines->count++;
}

size_t geometry_add_node(struct geometry_front *front, struct geometry_point at, double height_m) {
    struct geometry_skeleton_node *nodes =
        base_grow(front->arena, front->nodes, &front->node_room, front->node_count, sizeof *nodes);
    if (nodes == NULL) {
        front->failed = true;
        return 0;
    }
    front->nodes = nodes;
    nodes[front->node_count] = (struct geometry_skeleton_node){at, height_m};
    return front->node_count++;
}

void geometry_add_arc(struct geometry_front *front, struct geometry_skeleton_arc arc) {
    if (arc.from == arc.to || arc.left == arc.right) {
        return;
    }
    struct geometry_skeleton_arc *arcs =
        base_grow(front->arena, front->arcs, &front->arc_room, front->arc_count, sizeof *arcs);
    if (arcs == NULL) {
        front->failed = true;
        return;
    }
    front->arcs = arcs;
    arcs[front->arc_count++] = arc;
}

size_t geometry_add_vertex(struct geometry_front *front, size_t in, size_t out, size_t node) {
    struct geometry_vertex *vertices = base_grow(front->arena, front->vertices, &front->vertex_room,
                                                 front->vertex_count, sizeof *vertices);
    size_t *moving = base_grow(front->arena, front->moving, &front->moving_room,
                               front->moving_count, sizeof *moving);
    if (vertices == NULL || moving == NULL) {
        front->failed = true;
        return 0;
    }
    front->vertices = vertices;
    front->moving = moving;
    vertices[front->vertex_count] = (struct geometry_vertex){.at = front->nodes[node].at,
                                                             .since_m = front->now_m,
                                                             .in = in,
                                                             .out = out,
                                                             .previous = GEOMETRY_NONE,
                                                             .next = GEOMETRY_NONE,
                                                             .node = node,
                                                             .line_limit = front->lines.count,
                                                             .place = front->moving_count};
    moving[front->moving_count++] = front->vertex_count;
    return front->vertex_count++;
}

void geometry_end_vertex(struct geometry_front *front, size_t vertex) {
    size_t place = front->vertices[vertex].place;
    size_t last = front->moving[--front->moving_count];
    front->moving[place] = last;
    front->vertices[last].place = place;
    front->vertices[vertex].place = GEOMETRY_NONE;
}

void geometry_link(struct geometry_front *front, size_t vertex, size_t next) {
    front->vertices[vertex].next = next;
    front->vertices[next].previous = vertex;
}

static void add_zip(struct geometry_front *front, size_t vertex) {
    size_t *zips =
        base_grow(front->arena, front->zips, &front->zip_room, front->zip_count, sizeof *zips);
    if (zips == NULL) {
        front->failed = true;
        return;
    }
    front->zips = zips;
    zips[front->zip_count++] = vertex;
}

/* ---- how a vertex moves ---------------------------------------------------------------------- */

static bool same_pace(double a_1, double b_1) {
    return fabs(a_1 - b_1) <= SAME_PACE * fmax(fabs(a_1), fabs(b_1));
}

size_t geometry_nearer_neighbour(const struct geometry_front *front, size_t vertex) {
    const struct geometry_vertex *of = &front->vertices[vertex];
    struct geometry_point at = geometry_vertex_at(front, vertex);
    double before_m = geometry_distance(at, geometry_vertex_at(front, of->previous));
    double after_m = geometry_distance(at, geometry_vertex_at(front, of->next));
    return before_m <= after_m ? of->previous : of->next;
}

/* The edge before and the edge after run back on each other with nothing between them. */
static bool is_zip(const struct geometry_front *front, size_t vertex) {
    const struct geometry_vertex *of = &front->vertices[vertex];
    struct geometry_point one = geometry_line_normal(front, of->in);
    struct geometry_point two = geometry_line_normal(front, of->out);
    if (geometry_dot(one, two) >= 0 || fabs(geometry_cross(one, two)) > PARALLEL_1) {
        return false;
    }
    size_t near = geometry_nearer_neighbour(front, vertex);
    size_t other = near == of->previous ? of->next : of->previous;
    double gap_m =
        geometry_to_segment(geometry_vertex_at(front, vertex), geometry_vertex_at(front, other),
                            geometry_vertex_at(front, near));
    return gap_m <= 3 * front->reach_m;
}

/* The step between two edges in one line where the one runs ahead of the other. */
static void stand_wall(struct geometry_front *front, size_t vertex) {
    struct geometry_vertex of = front->vertices[vertex];
    struct geometry_point along = geometry_line_along(front, of.in);
    double way = front->lines.speed_1[of.out] > front->lines.speed_1[of.in] ? -1 : 1;
    struct geometry_point normal = geometry_scale(along, way);
    size_t wall = geometry_add_line(front, normal, geometry_dot(normal, of.at), 0);
    size_t second = geometry_add_vertex(front, wall, of.out, of.node);
    if (front->failed) {
        return;
    }
    front->vertices[vertex].out = wall;
    geometry_link(front, second, of.next);
    geometry_link(front, vertex, second);
    geometry_start_vertex(front, vertex);
    geometry_start_vertex(front, second);
    geometry_expect_wall(front, wall);
}

/* To where the two lines meet now: between flat edges that may be many events away from the place,
 * which is near both. A place near neither, or a very flat angle: the place itself. */
static void settle(const struct geometry_front *front, struct geometry_vertex *of) {
    struct geometry_point one = geometry_line_normal(front, of->in);
    struct geometry_point two = geometry_line_normal(front, of->out);
    double cross = geometry_cross(one, two);
    if (fabs(cross) < FLAT_1) {
        return;
    }
    double one_m = -geometry_line_gap(front, of->in, of->at);
    double two_m = -geometry_line_gap(front, of->out, of->at);
    struct geometry_point by = {(one_m * two.y_m - two_m * one.y_m) / cross,
                                (one.x_m * two_m - two.x_m * one_m) / cross};
    if (fabs(one_m) + fabs(two_m) <= 8 * front->reach_m) {
        of->at = geometry_add(of->at, by);
    }
}

void geometry_start_vertex(struct geometry_front *front, size_t vertex) {
    struct geometry_vertex *of = &front->vertices[vertex];
    struct geometry_point one = geometry_line_normal(front, of->in);
    struct geometry_point two = geometry_line_normal(front, of->out);
    double one_1 = front->lines.speed_1[of->in];
    double two_1 = front->lines.speed_1[of->out];
    double cross = geometry_cross(one, two);
    double dot = geometry_dot(one, two);
    bool straight = dot > 0 && fabs(cross) < GEOMETRY_STRAIGHT_1;
    if (straight && !same_pace(one_1, two_1)) {
        stand_wall(front, vertex);
        return;
    }
    if (is_zip(front, vertex)) {
        add_zip(front, vertex);
        return;
    }
    settle(front, of);
    if (dot > 0 && same_pace(one_1, two_1)) { /* holds for edges in one line, too */
        of->velocity_1 = geometry_scale(geometry_add(one, two), one_1 / (1 + dot));
    } else if (cross != 0) {
        of->velocity_1 = (struct geometry_point){(one_1 * two.y_m - two_1 * one.y_m) / cross,
                                                 (one.x_m * two_1 - two.x_m * one_1) / cross};
    } else {
        front->lost = true;
        return;
    }
    of->reflex = cross < -1e-9;
    geometry_expect_edge(front, of->previous);
    geometry_expect_edge(front, vertex);
    if (of->reflex) {
        geometry_expect_vertex(front, vertex);
    }
}
