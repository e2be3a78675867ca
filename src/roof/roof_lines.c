/* SPDX-License-Identifier: Apache-2.0 */
/* Lines for drawing: each side of each piece once, named by what stands on its two sides. */
#include "roof/roof_inside.h"

#include <math.h>

int roof_find_plan_edge(const struct roof_house *house, const struct roof_stretch *side) {
    const struct roof_plan *plan = &house->plans[house->slopes[side->slope].wing];
    for (size_t edge = 0; edge < plan->count; edge++) {
        struct geometry_point a = plan->corners[edge];
        struct geometry_point b = plan->corners[(edge + 1) % plan->count];
        struct geometry_point u =
            geometry_scale(geometry_subtract(b, a), 1 / geometry_distance(a, b));
        if (fabs(geometry_cross(u, geometry_subtract(side->from, a))) <= ROOF_NEAR_M &&
            fabs(geometry_cross(u, geometry_subtract(side->to, a))) <= ROOF_NEAR_M) {
            return (int)edge;
        }
    }
    return -1;
}

static enum roof_line_kind find_free_kind(const struct roof_house *house,
                                          const struct roof_stretch *side) {
    int edge = roof_find_plan_edge(house, side);
    if (edge < 0) {
        return ROOF_LINE_WALL;
    }
    const struct job_wing *wing = &house->build->job->wings[house->slopes[side->slope].wing];
    switch (wing->edges[edge]) {
    case JOB_EDGE_EAVE:
        return wing->no_gutter[edge] ? ROOF_LINE_BARE_EAVE : ROOF_LINE_EAVE;
    case JOB_EDGE_GABLE:
        return ROOF_LINE_GABLE;
    case JOB_EDGE_WALL:
        break;
    }
    return ROOF_LINE_WALL;
}

/* What the stretch is; false when it is no line: inside one slope, or told by its neighbour. */
static bool find_kind(const struct roof_house *house, const struct roof_stretch *side,
                      enum roof_line_kind *kind) {
    if (side->beyond == side->slope) {
        return false;
    }
    if (side->beyond == ROOF_NONE) {
        *kind = find_free_kind(house, side);
        return true;
    }
    const struct roof_slope *own = &house->slopes[side->slope];
    const struct roof_slope *other = &house->slopes[side->beyond];
    struct geometry_point middle = geometry_scale(geometry_add(side->from, side->to), 0.5);
    double step_m = geometry_height(other->plane, middle) - geometry_height(own->plane, middle);
    if (own->wing == other->wing && own->edge == other->edge) {
        *kind = ROOF_LINE_BREAK;
        return side->beyond > side->slope;
    }
    if (step_m < -ROOF_LEVEL_M) {
        *kind = find_free_kind(house, side);
        return true;
    }
    if (step_m > ROOF_LEVEL_M) { /* this roof dies at the other's wall */
        *kind = ROOF_LINE_WALL;
        return true;
    }
    struct geometry_point bend = {other->plane.a_1 - own->plane.a_1,
                                  other->plane.b_1 - own->plane.b_1};
    double opening_1 = geometry_dot(bend, side->out);
    if (side->beyond < side->slope || fabs(opening_1) <= ROOF_EVEN_1) {
        return false; /* told from the other side, or one plane */
    }
    double fall_m = geometry_height(own->plane, side->from) - geometry_height(own->plane, side->to);
    bool level = fabs(fall_m) <= 1e-6 * geometry_distance(side->from, side->to);
    *kind = opening_1 > 0 ? ROOF_LINE_VALLEY : level ? ROOF_LINE_RIDGE : ROOF_LINE_HIP;
    return true;
}

static bool same_place(struct geometry_point a, double a_z_m, struct geometry_point b,
                       double b_z_m) {
    return fabs(a.x_m - b.x_m) <= ROOF_NEAR_M && fabs(a_z_m - b_z_m) <= ROOF_LEVEL_M &&
           geometry_distance(a, b) <= ROOF_NEAR_M;
}

static bool runs_on(const struct roof_line *one, const struct roof_line *next) {
    if (one->kind != next->kind || !same_place(one->to, one->to_z_m, next->from, next->from_z_m)) {
        return false;
    }
    struct geometry_point u = geometry_subtract(one->to, one->from);
    struct geometry_point v = geometry_subtract(next->to, next->from);
    double u_m = hypot(u.x_m, u.y_m);
    double v_m = hypot(v.x_m, v.y_m);
    double u_1 = (one->to_z_m - one->from_z_m) / u_m;
    double v_1 = (next->to_z_m - next->from_z_m) / v_m;
    return geometry_dot(u, v) > 0 && fabs(geometry_cross(u, v)) <= 1e-5 * u_m * v_m &&
           fabs(u_1 - v_1) <= 1e-4;
}

static void merge_lines(struct roof *roof) {
    size_t i = 0;
    while (i < roof->line_count) {
        bool merged = false;
        for (size_t k = 0; k < roof->line_count && !merged; k++) {
            if (k == i || !runs_on(&roof->lines[i], &roof->lines[k])) {
                continue;
            }
            roof->lines[i].to = roof->lines[k].to;
            roof->lines[i].to_z_m = roof->lines[k].to_z_m;
            for (size_t n = k; n + 1 < roof->line_count; n++) {
                roof->lines[n] = roof->lines[n + 1];
            }
            roof->line_count--;
            merged = true;
        }
        i = merged ? i : i + 1; /* its new end may meet yet another */
    }
}

static void add_stretch(struct roof_house *house, struct roof_stretch *side) {
    enum roof_line_kind kind;
    if (!find_kind(house, side, &kind)) {
        return;
    }
    struct roof_line *line = roof_add_line(house->build);
    if (line != NULL) {
        const struct geometry_plane plane = house->slopes[side->slope].plane;
        *line = (struct roof_line){kind, side->from, side->to, geometry_height(plane, side->from),
                                   geometry_height(plane, side->to)};
    }
}

/* Walks one side from corner to corner, stopping at every corner of another piece on it. */
static void walk_side(struct roof_house *house, size_t slope, const struct geometry_point ends[2],
                      void (*visit)(struct roof_house *house, struct roof_stretch *side)) {
    struct geometry_point a = ends[0];
    struct geometry_point b = ends[1];
    double length_m = geometry_distance(a, b);
    struct geometry_point u = geometry_scale(geometry_subtract(b, a), 1 / length_m);
    struct geometry_point both[2] = {a, b};
    struct geometry_box box = geometry_find_box(&(struct geometry_polygon){both, 2});
    double from_m = 0;
    while (from_m < length_m && !house->build->failed) {
        double to_m = length_m;
        for (size_t i = 0; i < house->seen.count; i++) {
            const struct geometry_polygon *other = &house->seen.items[i].outline;
            if (!geometry_boxes_meet(&box, &house->seen.items[i].box, ROOF_NEAR_M)) {
                continue;
            }
            for (size_t n = 0; n < other->count; n++) {
                struct geometry_point at = geometry_subtract(other->points[n], a);
                double along_m = geometry_dot(u, at);
                if (fabs(geometry_cross(u, at)) <= ROOF_NEAR_M && along_m > from_m + ROOF_NEAR_M &&
                    along_m < to_m && along_m < length_m - ROOF_NEAR_M) {
                    to_m = along_m;
                }
            }
        }
        struct roof_stretch side = {.slope = slope,
                                    .from = geometry_add(a, geometry_scale(u, from_m)),
                                    .to = to_m < length_m ? geometry_add(a, geometry_scale(u, to_m))
                                                          : b,
                                    .out = {u.y_m, -u.x_m}};
        struct geometry_point middle = geometry_scale(geometry_add(side.from, side.to), 0.5);
        side.beyond =
            roof_seen_at(house, geometry_add(middle, geometry_scale(side.out, ROOF_PROBE_M)));
        visit(house, &side);
        from_m = to_m;
    }
}

void roof_walk_stretches(struct roof_house *house,
                         void (*visit)(struct roof_house *house, struct roof_stretch *side)) {
    for (size_t i = 0; i < house->seen.count && !house->build->failed; i++) {
        const struct roof_piece *piece = &house->seen.items[i];
        for (size_t n = 0; n < piece->outline.count; n++) {
            const struct geometry_point ends[2] = {
                piece->outline.points[n], piece->outline.points[(n + 1) % piece->outline.count]};
            walk_side(house, piece->slope, ends, visit);
        }
    }
}

void roof_draw_lines(struct roof_house *house) {
    roof_walk_stretches(house, add_stretch);
    merge_lines(house->build->roof);
}
