/* SPDX-License-Identifier: Apache-2.0 */
#include "skeleton_laws.h"

#include <math.h>

#define NEAR_EVENTS 100  /* a crowd of events taken as one between flat edges: 1 mm */
#define LONG_EVENTS 2000 /* along a ridge between nearly opposite eaves one event is that long */

static double event_of(const struct geometry_skeleton *skeleton) {
    return fmax(skeleton->event_m, GEOMETRY_EVENT_M);
}

double find_outline_area(const struct geometry_outline *outline) {
    double sum_m2 = 0;
    struct geometry_corner first = outline->rings[0].corners[0];
    for (size_t r = 0; r < outline->count; r++) {
        const struct geometry_ring *ring = &outline->rings[r];
        long double twice = 0;
        for (size_t i = 0; i < ring->count; i++) {
            struct geometry_corner a = ring->corners[i];
            struct geometry_corner b = ring->corners[(i + 1) % ring->count];
            twice +=
                (long double)(a.x_tick - first.x_tick) * (long double)(b.y_tick - first.y_tick) -
                (long double)(a.y_tick - first.y_tick) * (long double)(b.x_tick - first.x_tick);
        }
        sum_m2 += (double)twice / 2 / GEOMETRY_TICKS_PER_M / GEOMETRY_TICKS_PER_M;
    }
    return sum_m2;
}

static bool has_one_pitch(const struct random_outline *of) {
    for (size_t i = 0; i < of->count; i++) {
        if (of->speeds_1[i] != of->speeds_1[0]) {
            return false;
        }
    }
    return true;
}

static bool areas_add_up(const struct random_outline *of,
                         const struct geometry_skeleton *skeleton) {
    double area_m2 = find_outline_area(&of->outline);
    double sum_m2 = 0;
    for (size_t i = 0; i < skeleton->edge_count; i++) {
        sum_m2 += skeleton->faces[i].plan_area_m2;
    }
    double slivers_m2 = 0; /* between gables or steps that meet within one event */
    for (size_t i = 0; i < skeleton->arc_count; i++) {
        const struct geometry_skeleton_arc *arc = &skeleton->arcs[i];
        slivers_m2 += arc->kind == GEOMETRY_ARC_GABLE
                          ? event_of(skeleton) * geometry_distance(skeleton->nodes[arc->from].at,
                                                                   skeleton->nodes[arc->to].at)
                          : 0;
    }
    return fabs(sum_m2 - area_m2) <= 1e-9 * area_m2 + slivers_m2;
}

/* Every corner of a face stands on its plane. */
static bool faces_are_plane(const struct geometry_skeleton *skeleton) {
    for (size_t i = 0; i < skeleton->edge_count; i++) {
        const struct geometry_skeleton_face *face = &skeleton->faces[i];
        double steep_1 = hypot(face->plane.a_1, face->plane.b_1);
        for (size_t k = 0; k < face->count; k++) {
            const struct geometry_skeleton_node *node = &skeleton->nodes[face->nodes[k]];
            double off_m = geometry_height(face->plane, node->at) - node->height_m;
            if (fabs(off_m) > NEAR_EVENTS * event_of(skeleton) * (1 + steep_1)) {
                return false;
            }
        }
    }
    return true;
}

static double along_eave(const struct geometry_skeleton *skeleton,
                         const struct geometry_skeleton_face *face, size_t k) {
    struct geometry_point from = skeleton->nodes[face->nodes[0]].at;
    struct geometry_point along = geometry_subtract(skeleton->nodes[face->nodes[1]].at, from);
    struct geometry_point at = skeleton->nodes[face->nodes[k % face->count]].at;
    return geometry_dot(along, geometry_subtract(at, from)) / hypot(along.x_m, along.y_m);
}

/* With one pitch the water of a face runs straight down to its own eave or to a valley: the face,
 * seen along the eave, goes out once and comes back once. */
static bool is_monotone(const struct geometry_skeleton *skeleton,
                        const struct geometry_skeleton_face *face) {
    size_t furthest = 0;
    for (size_t k = 1; k < face->count; k++) {
        if (along_eave(skeleton, face, k) > along_eave(skeleton, face, furthest)) {
            furthest = k;
        }
    }
    double least_m = (double)INFINITY;
    bool back = false;
    for (size_t k = furthest; k <= furthest + face->count; k++) {
        double s_m = along_eave(skeleton, face, k);
        double next_m = along_eave(skeleton, face, k + 1);
        if (back && k < furthest + face->count && next_m < s_m - LONG_EVENTS * event_of(skeleton)) {
            return false;
        }
        least_m = fmin(least_m, next_m);
        back = back || next_m > least_m + LONG_EVENTS * event_of(skeleton);
    }
    return true;
}

/* A corner of the front runs before the round front: no roof of one pitch is higher than the
 * distance to the outline allows. */
static bool is_low(const struct random_outline *of, const struct geometry_skeleton *skeleton,
                   const struct geometry_skeleton_node *node) {
    double least_m = (double)INFINITY;
    size_t first = 0;
    for (size_t r = 0; r < of->outline.count; r++) {
        size_t count = of->outline.rings[r].count;
        for (size_t i = 0; i < count; i++) {
            struct geometry_point a = skeleton->nodes[first + i].at;
            struct geometry_point b = skeleton->nodes[first + (i + 1) % count].at;
            struct geometry_point u = geometry_subtract(b, a);
            double share = geometry_dot(geometry_subtract(node->at, a), u) / geometry_dot(u, u);
            share = fmin(fmax(share, 0), 1);
            struct geometry_point foot = geometry_add(a, geometry_scale(u, share));
            least_m = fmin(least_m, geometry_distance(foot, node->at));
        }
        first += count;
    }
    return node->height_m * of->speeds_1[0] <= least_m + LONG_EVENTS * event_of(skeleton);
}

const char *find_broken_law(const struct random_outline *of,
                            const struct geometry_skeleton *skeleton) {
    if (skeleton->edge_count != of->count) {
        return "a face for each edge";
    }
    if (!areas_add_up(of, skeleton)) {
        return "faces sum to the outline";
    }
    if (!faces_are_plane(skeleton)) {
        return "corners of a face stand on its plane";
    }
    for (size_t i = 0; i < skeleton->arc_count; i++) {
        const struct geometry_skeleton_arc *arc = &skeleton->arcs[i];
        if (skeleton->nodes[arc->from].height_m > skeleton->nodes[arc->to].height_m) {
            return "arcs run from the lower end";
        }
    }
    if (!has_one_pitch(of)) {
        return NULL;
    }
    for (size_t i = 0; i < skeleton->edge_count; i++) {
        if (!is_monotone(skeleton, &skeleton->faces[i])) {
            return "water runs straight to its own eave";
        }
    }
    for (size_t i = 0; i < skeleton->node_count; i++) {
        if (!is_low(of, skeleton, &skeleton->nodes[i])) {
            return "no higher than the distance to the outline allows";
        }
    }
    return NULL;
}
