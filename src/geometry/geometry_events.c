/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What happens next to the front. A reflex vertex runs straight on while it lives, so when it
 * reaches each line is known once; whether the line's edge is there then is asked then. One event a
 * vertex waits in the heap: the next line it reaches.
 */
#include "geometry/geometry_inside.h"

#include <math.h>

/* ---- the heap, soonest first ----------------------------------------------------------------- */

static bool is_sooner(const struct geometry_event *one, const struct geometry_event *two) {
    if (one->at_m != two->at_m) {
        return one->at_m < two->at_m;
    }
    return one->vertex != two->vertex ? one->vertex < two->vertex : one->other < two->other;
}

static void push(struct geometry_front *front, struct geometry_event event) {
    struct geometry_event *heap =
        base_grow(front->arena, front->heap, &front->heap_room, front->heap_count, sizeof *heap);
    if (heap == NULL) {
        front->failed = true;
        return;
    }
    front->heap = heap;
    size_t place = front->heap_count++;
    while (place > 0 && is_sooner(&event, &heap[(place - 1) / 2])) {
        heap[place] = heap[(place - 1) / 2];
        place = (place - 1) / 2;
    }
    heap[place] = event;
}

static struct geometry_event pop(struct geometry_front *front) {
    struct geometry_event *heap = front->heap;
    struct geometry_event first = heap[0];
    struct geometry_event moved = heap[--front->heap_count];
    size_t place = 0;
    for (size_t child = 1; child < front->heap_count; child = 2 * place + 1) {
        if (child + 1 < front->heap_count && is_sooner(&heap[child + 1], &heap[child])) {
            child++;
        }
        if (!is_sooner(&heap[child], &moved)) {
            break;
        }
        heap[place] = heap[child];
        place = child;
    }
    heap[place] = moved;
    return first;
}

/* ---- when ------------------------------------------------------------------------------------ */

/* When the edge after the vertex is no longer; infinite = never. */
static double find_shrunk(const struct geometry_front *front, size_t vertex) {
    const struct geometry_vertex *of = &front->vertices[vertex];
    const struct geometry_vertex *next = &front->vertices[of->next];
    struct geometry_point along = geometry_line_along(front, of->out);
    double length_m = geometry_dot(along, geometry_subtract(geometry_vertex_at(front, of->next),
                                                            geometry_vertex_at(front, vertex)));
    double rate_1 = geometry_dot(along, geometry_subtract(next->velocity_1, of->velocity_1));
    if (rate_1 < 0) {
        return front->now_m + fmax(length_m, 0) / -rate_1;
    }
    return (double)INFINITY;
}

void geometry_expect_edge(struct geometry_front *front, size_t vertex) {
    double at_m = find_shrunk(front, vertex);
    if (!isinf(at_m)) {
        push(front, (struct geometry_event){at_m, vertex, front->vertices[vertex].next,
                                            GEOMETRY_EVENT_SHRUNK});
    }
}

/* When the vertex reaches the line from before it; infinite = never. */
static double find_reach(const struct geometry_front *front, const struct geometry_vertex *of,
                         size_t line) {
    const struct geometry_lines *lines = &front->lines;
    double normal_x = lines->normal_x_1[line];
    double normal_y = lines->normal_y_1[line];
    double gap_m = normal_x * of->at.x_m + normal_y * of->at.y_m - lines->offset_m[line] -
                   lines->speed_1[line] * of->since_m;
    double closing_1 =
        lines->speed_1[line] - normal_x * of->velocity_1.x_m - normal_y * of->velocity_1.y_m;
    if (closing_1 <= 1e-12 || gap_m < -front->event_m || line == of->in || line == of->out) {
        return (double)INFINITY;
    }
    return of->since_m + fmax(gap_m, 0) / closing_1;
}

/* The first line it reaches after (after_m, after): equal times by number. */
static void expect_next(struct geometry_front *front, size_t vertex, double after_m, size_t after) {
    const struct geometry_vertex *of = &front->vertices[vertex];
    struct geometry_event event = {(double)INFINITY, vertex, 0, GEOMETRY_EVENT_RUN_IN};
    for (size_t line = 0; line < of->line_limit; line++) {
        double at_m = find_reach(front, of, line);
        bool later = at_m > after_m || (at_m == after_m && after != GEOMETRY_NONE && line > after);
        if (later && at_m < event.at_m) {
            event.at_m = at_m;
            event.other = line;
        }
    }
    if (!isinf(event.at_m)) {
        push(front, event);
    }
}

void geometry_expect_vertex(struct geometry_front *front, size_t vertex) {
    expect_next(front, vertex, -1, GEOMETRY_NONE);
}

void geometry_expect_wall(struct geometry_front *front, size_t line) {
    for (size_t i = 0; i < front->moving_count; i++) {
        const struct geometry_vertex *of = &front->vertices[front->moving[i]];
        double at_m =
            of->reflex && line >= of->line_limit ? find_reach(front, of, line) : (double)INFINITY;
        if (!isinf(at_m) && at_m >= front->now_m) {
            push(front, (struct geometry_event){at_m, front->moving[i], line, GEOMETRY_EVENT_WALL});
        }
    }
}

/* ---- then ------------------------------------------------------------------------------------ */

static void meet_edge(struct geometry_front *front, const struct geometry_event *event) {
    const struct geometry_vertex *of = &front->vertices[event->vertex];
    if (of->place == GEOMETRY_NONE || of->next != event->other) {
        return;
    }
    struct geometry_point one = geometry_vertex_at(front, event->vertex);
    struct geometry_point two = geometry_vertex_at(front, of->next);
    double at_m = find_shrunk(front, event->vertex);
    if (isinf(at_m)) {
        return; /* a neighbour has changed its way */
    }
    if (geometry_distance(one, two) > front->event_m &&
        at_m > front->now_m + 1e-6 * front->event_m) {
        push(front, (struct geometry_event){at_m, event->vertex, event->other, event->kind});
        return;
    }
    geometry_resolve(front, &(struct geometry_contact){geometry_scale(geometry_add(one, two), 0.5),
                                                       event->vertex, GEOMETRY_NONE});
}

/* Of the edges on the line the one that the place lies on: the vertex it begins with. */
static size_t find_edge_at(const struct geometry_front *front, const struct geometry_vertex *of,
                           size_t line, struct geometry_point at) {
    for (size_t i = 0; i < front->moving_count; i++) {
        size_t vertex = front->moving[i];
        const struct geometry_vertex *from = &front->vertices[vertex];
        if (from->out != line) {
            continue;
        }
        struct geometry_point a = geometry_vertex_at(front, vertex);
        struct geometry_point b = geometry_vertex_at(front, from->next);
        if (geometry_to_segment(a, b, at) > front->event_m) {
            continue;
        }
        /* Two that have just parted are still near each other. */
        size_t twin = geometry_distance(a, at) <= geometry_distance(b, at) ? vertex : from->next;
        bool parted = front->vertices[twin].node == of->node &&
                      geometry_distance(twin == vertex ? a : b, at) <= 2 * front->event_m;
        if (!parted) {
            return vertex;
        }
    }
    return GEOMETRY_NONE;
}

static void meet_line(struct geometry_front *front, const struct geometry_event *event) {
    const struct geometry_vertex *of = &front->vertices[event->vertex];
    if (of->place == GEOMETRY_NONE) {
        return;
    }
    struct geometry_point at = geometry_vertex_at(front, event->vertex);
    size_t edge = find_edge_at(front, of, event->other, at);
    if (edge != GEOMETRY_NONE) {
        geometry_resolve(front, &(struct geometry_contact){at, GEOMETRY_NONE, edge});
    }
    bool ended = front->vertices[event->vertex].place == GEOMETRY_NONE;
    if (!ended && event->kind == GEOMETRY_EVENT_RUN_IN && !front->failed) {
        expect_next(front, event->vertex, event->at_m, event->other);
    }
}

void geometry_run(struct geometry_front *front) {
    while (front->heap_count > 0 && front->moving_count > 0 && !front->failed && !front->lost) {
        struct geometry_event event = pop(front);
        front->now_m = fmax(front->now_m, event.at_m);
        switch (event.kind) {
        case GEOMETRY_EVENT_SHRUNK:
            meet_edge(front, &event);
            break;
        case GEOMETRY_EVENT_RUN_IN:
        case GEOMETRY_EVENT_WALL:
            meet_line(front, &event);
            break;
        }
    }
}
