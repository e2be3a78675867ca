/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where the front meets itself, everything within one event of the place is taken together: the
 * chains that come in and go out there are joined anew by their angles about the place, each
 * outgoing edge with the incoming one that bounds the same wedge of the inside. That is one rule
 * for edges that shrink away, corners that run into edges and any number of both at once.
 */
#include "geometry/geometry_inside.h"

#include <math.h>

#define WEDGE_RAD  1e-3 /* chains may lie on each other within this angle */
#define MOVING_MAX 4    /* vertices an edge: more is no front any longer */
#define CROWD      16   /* events that a crowd may reach */
#define PI         3.14159265358979323846

/* ---- who meets there ------------------------------------------------------------------------- */

/* A chain through the place: comes in from a vertex, goes out to one. */
struct pass {
    size_t in;
    size_t from; /* vertex before the place; GEOMETRY_NONE = all of the closed line is there */
    size_t out;
    size_t to;
    size_t single;  /* the one vertex of it, when nothing shrank; GEOMETRY_NONE = there is none */
    size_t partner; /* the pass that comes in where this one goes out */
    bool kept;
};

struct meeting {
    struct geometry_point at;
    size_t node;
    struct pass *passes;
    size_t pass_count;
    size_t pass_room;
};

static void split_edge(struct geometry_front *front, size_t vertex) {
    size_t next = front->vertices[vertex].next;
    size_t line = front->vertices[vertex].out;
    size_t fresh = geometry_add_vertex(front, line, line, front->vertices[vertex].node);
    if (front->failed) {
        return;
    }
    front->vertices[fresh].fresh = true;
    front->vertices[fresh].seen = front->stamp;
    geometry_link(front, vertex, fresh);
    geometry_link(front, fresh, next);
}

static void bring_forward(struct geometry_front *front, size_t place, size_t forward) {
    size_t one = front->moving[place];
    size_t two = front->moving[forward];
    front->moving[place] = two;
    front->moving[forward] = one;
    front->vertices[two].place = place;
    front->vertices[one].place = forward;
}

/* Those within one event of the place, those within one event of these, and so on: a crowd is taken
 * whole or its halves would be in each other's way. */
static void call_vertices(struct geometry_front *front, struct geometry_point at) {
    double near_m2 = front->event_m * front->event_m;
    struct geometry_point around = at;
    front->reach_m = front->event_m;
    for (size_t asked = 0, found = 0; asked <= found; asked++) {
        for (size_t i = found; i < front->moving_count; i++) {
            struct geometry_point here = geometry_vertex_at(front, front->moving[i]);
            double x_m = here.x_m - around.x_m;
            double y_m = here.y_m - around.y_m;
            if (x_m * x_m + y_m * y_m <= near_m2) {
                front->vertices[front->moving[i]].seen = front->stamp;
                bring_forward(front, i, found++);
            }
        }
        if (asked < found) {
            around = geometry_vertex_at(front, front->moving[asked]);
            double off_m = geometry_distance(around, at);
            front->reach_m = fmax(front->reach_m, off_m);
            around = off_m > CROWD * front->event_m ? at : around;
        }
    }
}

static bool is_member(const struct geometry_front *front, size_t vertex) {
    return front->vertices[vertex].seen == front->stamp;
}

static bool edge_passes(const struct geometry_front *front, size_t vertex,
                        struct geometry_point at) {
    const struct geometry_vertex *of = &front->vertices[vertex];
    if (fabs(geometry_line_gap(front, of->out, at)) > front->reach_m || is_member(front, vertex) ||
        is_member(front, of->next)) {
        return false;
    }
    return geometry_to_segment(geometry_vertex_at(front, vertex),
                               geometry_vertex_at(front, of->next), at) <= front->reach_m;
}

static void call_edges(struct geometry_front *front, struct geometry_point at, size_t forced) {
    size_t count = front->moving_count;
    for (size_t i = 0; i < count && !front->failed; i++) {
        size_t vertex = front->moving[i];
        bool wanted = vertex == forced && !is_member(front, vertex) &&
                      !is_member(front, front->vertices[vertex].next);
        if (wanted || edge_passes(front, vertex, at)) {
            split_edge(front, vertex);
        }
    }
}

/* On the line of a gable or wall a node stands exactly: its face has no area. */
static struct geometry_point stand_on_wall(const struct geometry_front *front,
                                           struct geometry_point at) {
    for (size_t i = 0; i < 2 * front->moving_count; i++) {
        const struct geometry_vertex *of = &front->vertices[front->moving[i / 2]];
        size_t line = i % 2 == 0 ? of->in : of->out;
        if (of->seen == front->stamp && !(front->lines.speed_1[line] > 0)) {
            double gap_m = geometry_line_gap(front, line, at);
            at = geometry_subtract(at, geometry_scale(geometry_line_normal(front, line), gap_m));
        }
    }
    return at;
}

/* A node already there is taken: no arc is shorter than one event. */
static size_t choose_node(struct geometry_front *front, struct geometry_point at) {
    for (size_t i = 0; i < front->moving_count; i++) {
        const struct geometry_vertex *of = &front->vertices[front->moving[i]];
        if (of->seen != front->stamp || of->fresh) {
            continue;
        }
        const struct geometry_skeleton_node *node = &front->nodes[of->node];
        if (geometry_distance(node->at, at) <= front->event_m &&
            fabs(node->height_m - front->now_m) <= 4 * front->event_m) {
            return of->node;
        }
    }
    return geometry_add_node(front, stand_on_wall(front, at), front->now_m);
}

/* Follows the members from the first of a chain to the last. */
static struct pass take_pass(const struct geometry_front *front, size_t first) {
    size_t last = first;
    while (is_member(front, front->vertices[last].next)) {
        last = front->vertices[last].next;
    }
    return (struct pass){.in = front->vertices[first].in,
                         .from = front->vertices[first].previous,
                         .out = front->vertices[last].out,
                         .to = front->vertices[last].next,
                         .single = first == last ? first : GEOMETRY_NONE};
}

static void list_passes(struct geometry_front *front, struct meeting *meeting) {
    for (size_t i = 0; i < front->moving_count; i++) {
        size_t vertex = front->moving[i];
        if (!is_member(front, vertex) || is_member(front, front->vertices[vertex].previous)) {
            continue;
        }
        struct pass *passes = base_grow(front->arena, meeting->passes, &meeting->pass_room,
                                        meeting->pass_count, sizeof *passes);
        if (passes == NULL) {
            front->failed = true;
            return;
        }
        meeting->passes = passes;
        passes[meeting->pass_count++] = take_pass(front, vertex);
    }
}

/* ---- joined anew ----------------------------------------------------------------------------- */

/* One way out of the place, along an edge. */
struct ray {
    double angle_rad;
    size_t pass;
    bool outgoing;
    bool taken;
};

static struct ray make_ray(const struct geometry_front *front, const struct meeting *meeting,
                           size_t pass, bool outgoing) {
    const struct pass *of = &meeting->passes[pass];
    struct geometry_point along = geometry_line_along(front, outgoing ? of->out : of->in);
    double way = outgoing ? 1 : -1;
    return (struct ray){atan2(way * along.y_m, way * along.x_m), pass, outgoing, false};
}

static size_t list_rays(const struct geometry_front *front, const struct meeting *meeting,
                        struct ray *rays) {
    size_t count = 0;
    for (size_t i = 0; i < 2 * meeting->pass_count; i++) {
        struct ray ray = make_ray(front, meeting, i / 2, i % 2 == 0);
        size_t place = count++;
        while (place > 0 && rays[place - 1].angle_rad > ray.angle_rad) {
            rays[place] = rays[place - 1];
            place--;
        }
        rays[place] = ray;
    }
    return count;
}

/* An incoming and an outgoing edge that lie on each other over the length of the shorter. */
static bool lie_together(const struct geometry_front *front, const struct meeting *meeting,
                         const struct ray *in, const struct ray *out) {
    struct geometry_point from = geometry_vertex_at(front, meeting->passes[in->pass].from);
    struct geometry_point to = geometry_vertex_at(front, meeting->passes[out->pass].to);
    bool from_near = geometry_distance(meeting->at, from) <= geometry_distance(meeting->at, to);
    double gap_m = geometry_to_segment(meeting->at, from_near ? to : from, from_near ? from : to);
    return gap_m <= 3 * front->reach_m;
}

/* The wedge between two edges that lie on each other is the inside, not the outside. */
static void order_doubles(const struct geometry_front *front, const struct meeting *meeting,
                          struct ray *rays, size_t count) {
    for (size_t i = 0; i < count; i++) {
        struct ray *one = &rays[i];
        struct ray *two = &rays[(i + 1) % count];
        double between_rad = two->angle_rad - one->angle_rad + (i + 1 == count ? 2 * PI : 0);
        if (!one->outgoing && two->outgoing && between_rad < WEDGE_RAD &&
            lie_together(front, meeting, one, two)) {
            struct ray swap = *one;
            *one = *two;
            *two = swap;
            i++;
        }
    }
}

static void end_pair(struct geometry_front *front, size_t vertex, size_t other);

/* in of one pass goes on as out of another. */
static void join(struct geometry_front *front, const struct meeting *meeting, size_t in,
                 size_t out) {
    const struct pass *one = &meeting->passes[in];
    const struct pass *two = &meeting->passes[out];
    if (one->in == two->out) { /* one edge again */
        if (one->from == two->to) {
            end_pair(front, one->from, one->from);
            return;
        }
        geometry_link(front, one->from, two->to);
        geometry_expect_edge(front, one->from);
        return;
    }
    size_t vertex = geometry_add_vertex(front, one->in, two->out, meeting->node);
    if (front->failed) {
        return;
    }
    geometry_link(front, one->from, vertex);
    geometry_link(front, vertex, two->to);
    if (one->from == two->to) {
        end_pair(front, vertex, one->from);
        return;
    }
    geometry_start_vertex(front, vertex);
}

/* A closed line of two edges, or one, holds nothing: the two lie on each other. */
static void end_pair(struct geometry_front *front, size_t vertex, size_t other) {
    struct geometry_vertex one = front->vertices[vertex];
    struct geometry_vertex two = front->vertices[other];
    size_t node = two.node;
    if (vertex == other) {
        geometry_end_vertex(front, vertex);
        return;
    }
    struct geometry_point there = geometry_vertex_at(front, other);
    if (geometry_distance(there, front->nodes[node].at) > front->event_m) {
        node = geometry_add_node(front, there, front->now_m);
        geometry_add_arc(front,
                         (struct geometry_skeleton_arc){
                             .from = two.node, .to = node, .left = two.in, .right = two.out});
    }
    geometry_add_arc(front, (struct geometry_skeleton_arc){
                                .from = one.node, .to = node, .left = one.in, .right = one.out});
    geometry_end_vertex(front, vertex);
    geometry_end_vertex(front, other);
}

/* Chains that go on as they came are left alone. */
static bool keep_pass(struct geometry_front *front, struct meeting *meeting, size_t pass) {
    size_t single = meeting->passes[pass].single;
    if (single == GEOMETRY_NONE) {
        return false;
    }
    front->vertices[single].seen = 0;
    if (front->vertices[single].fresh) {
        join(front, meeting, pass, pass);
        geometry_end_vertex(front, single);
    }
    return true;
}

static void end_members(struct geometry_front *front, size_t node) {
    for (size_t i = front->moving_count; i-- > 0;) {
        size_t vertex = front->moving[i];
        const struct geometry_vertex *of = &front->vertices[vertex];
        if (of->seen != front->stamp) {
            continue;
        }
        if (!of->fresh) {
            geometry_add_arc(front,
                             (struct geometry_skeleton_arc){
                                 .from = of->node, .to = node, .left = of->in, .right = of->out});
        }
        geometry_end_vertex(front, vertex);
    }
}

/* Each outgoing edge with the first incoming one counter-clockwise from it. */
static void pair_rays(struct meeting *meeting, struct ray *rays, size_t count) {
    size_t left = count / 2;
    for (size_t reach = 1; left > 0 && reach < count; reach++) {
        for (size_t i = 0; i < count; i++) {
            struct ray *out = &rays[i];
            struct ray *in = &rays[(i + reach) % count];
            if (out->outgoing && !out->taken && !in->outgoing && !in->taken) {
                out->taken = true;
                in->taken = true;
                meeting->passes[out->pass].partner = in->pass;
                left--;
            }
        }
    }
}

/* Which pass comes in where the chain of each goes out. */
static void choose_partners(const struct geometry_front *front, struct meeting *meeting,
                            struct ray *rays) {
    meeting->passes[0].partner = 0;
    if (meeting->pass_count > 1) {
        size_t count = list_rays(front, meeting, rays);
        order_doubles(front, meeting, rays, count);
        pair_rays(meeting, rays, count);
    }
}

static bool any_member(const struct geometry_front *front) {
    for (size_t i = 0; i < front->moving_count; i++) {
        if (is_member(front, front->moving[i])) {
            return true;
        }
    }
    return false;
}

static void join_passes(struct geometry_front *front, struct meeting *meeting, struct ray *rays) {
    if (meeting->pass_count > 0) {
        choose_partners(front, meeting, rays);
    }
    for (size_t i = 0; i < meeting->pass_count && !front->failed; i++) {
        struct pass *pass = &meeting->passes[i];
        pass->kept = pass->partner == i && keep_pass(front, meeting, i);
    }
    if (front->failed || !any_member(front)) {
        return;
    }
    meeting->node = choose_node(front, meeting->at);
    end_members(front, meeting->node);
    for (size_t i = 0; i < meeting->pass_count && !front->failed; i++) {
        if (!meeting->passes[i].kept) {
            join(front, meeting, meeting->passes[i].partner, i);
        }
    }
}

static void resolve_one(struct geometry_front *front, const struct geometry_contact *contact) {
    struct meeting meeting = {.at = contact->at};
    front->stamp++;
    front->steps++;
    if (front->steps > front->steps_max ||
        front->moving_count > MOVING_MAX * front->edge_count + MOVING_MAX) {
        front->lost = true;
        return;
    }
    call_vertices(front, contact->at);
    if (contact->shrunk != GEOMETRY_NONE) {
        front->vertices[contact->shrunk].seen = front->stamp;
        front->vertices[front->vertices[contact->shrunk].next].seen = front->stamp;
    }
    call_edges(front, contact->at, contact->met);
    if (front->failed) {
        return;
    }
    list_passes(front, &meeting);
    struct ray *rays = meeting.pass_count > 1
                           ? base_take(front->arena, 2 * meeting.pass_count, sizeof *rays)
                           : NULL;
    front->failed = front->failed || base_arena_failed(front->arena);
    if (!front->failed) {
        join_passes(front, &meeting, rays);
    }
}

void geometry_resolve(struct geometry_front *front, const struct geometry_contact *contact) {
    resolve_one(front, contact);
    while (front->zip_count > 0 && !front->failed && !front->lost) {
        size_t vertex = front->zips[--front->zip_count];
        const struct geometry_vertex *of = &front->vertices[vertex];
        if (of->place != GEOMETRY_NONE) {
            size_t near = geometry_nearer_neighbour(front, vertex);
            size_t across = near == of->previous ? vertex : of->previous;
            resolve_one(front, &(struct geometry_contact){geometry_vertex_at(front, near),
                                                          GEOMETRY_NONE, across});
        }
    }
}
