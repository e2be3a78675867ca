/* SPDX-License-Identifier: Apache-2.0 */
/* Lines for drawing: each side of each piece once, named by what stands on its two sides. */
#include "roof/roof_inside.h"

#include <math.h>

int roof_find_plan_edge(const struct roof_house *house, const struct roof_stretch *side) {
    const struct roof_plan *plan = &house->plans[house->slopes[side->slope].wing];
    for (size_t edge = 0; edge < plan->count; edge++) {
        struct geometry_plane inside = plan->sides[edge].keep;
        if (fabs(geometry_height(inside, side->from)) <= ROOF_NEAR_M &&
            fabs(geometry_height(inside, side->to)) <= ROOF_NEAR_M) {
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
    if (!same_place(one->to, one->to_z_m, next->from, next->from_z_m)) {
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

/* Lines of one kind, by their places in the list. */
static void merge_kind(struct roof *roof, size_t *group, size_t count, bool *gone) {
    size_t i = 0;
    while (i < count) {
        struct roof_line *line = &roof->lines[group[i]];
        bool merged = false;
        roof->looks += count;
        for (size_t k = 0; k < count && !merged; k++) {
            const struct roof_line *next = &roof->lines[group[k]];
            if (k == i || !runs_on(line, next)) {
                continue;
            }
            line->to = next->to;
            line->to_z_m = next->to_z_m;
            gone[group[k]] = true;
            for (size_t n = k; n + 1 < count; n++) {
                group[n] = group[n + 1];
            }
            count--;
            merged = true;
        }
        i = merged ? i : i + 1; /* its new end may meet yet another */
    }
}

static void merge_lines(struct roof_build *build) {
    struct roof *roof = build->roof;
    size_t *group = base_take(build->arena, roof->line_count, sizeof *group);
    bool *gone = base_take(build->arena, roof->line_count, sizeof *gone);
    if (group == NULL || gone == NULL) {
        build->failed = true;
        return;
    }
    for (int kind = 0; kind < ROOF_LINE_KINDS; kind++) {
        size_t count = 0;
        for (size_t i = 0; i < roof->line_count; i++) {
            if (roof->lines[i].kind == (enum roof_line_kind)kind) {
                group[count++] = i;
            }
        }
        merge_kind(roof, group, count, gone);
    }
    size_t kept = 0;
    for (size_t i = 0; i < roof->line_count; i++) {
        if (!gone[i]) {
            roof->lines[kept++] = roof->lines[i];
        }
    }
    roof->line_count = kept;
}

static void draw_stretch(struct roof_house *house, const struct roof_stretch *side) {
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

static void add_stretch(struct roof_house *house, const struct roof_stretch *side) {
    struct roof_stretch *items =
        base_grow(house->build->arena, house->stretches, &house->stretch_room, house->stretch_count,
                  sizeof *items);
    if (items == NULL) {
        house->build->failed = true;
        return;
    }
    house->stretches = items;
    items[house->stretch_count++] = *side;
}

/* What the walk along one side needs again and again. */
struct side_walk {
    size_t piece;
    struct roof_stretch whole;
    double length_m;
    double *places_m; /* where corners of other pieces stand on it, along it from its left end */
    size_t place_count;
    struct roof_few close; /* of the pieces near its own: those that reach it */
};

static void list_close(const struct roof_house *house, struct side_walk *walk) {
    const struct roof_few *near = &house->seen.items[walk->piece].near;
    struct geometry_point ends[2] = {walk->whole.from, walk->whole.to};
    struct geometry_box box = geometry_find_box(&(struct geometry_polygon){ends, 2});
    house->build->roof->looks += near->count;
    walk->close.count = 0;
    for (size_t i = 0; i < near->count; i++) {
        if (geometry_boxes_meet(&box, &house->seen.items[near->items[i]].box, 2 * ROOF_PROBE_M)) {
            walk->close.items[walk->close.count++] = near->items[i];
        }
    }
}

static void list_places(const struct roof_house *house, struct side_walk *walk) {
    struct geometry_point u = {-walk->whole.out.y_m, walk->whole.out.x_m};
    walk->place_count = 0;
    for (size_t i = 0; i < walk->close.count; i++) {
        const struct geometry_polygon *other = &house->seen.items[walk->close.items[i]].outline;
        for (size_t n = 0; n < other->count; n++) {
            struct geometry_point at = geometry_subtract(other->points[n], walk->whole.from);
            double along_m = geometry_dot(u, at);
            if (fabs(geometry_cross(u, at)) <= ROOF_NEAR_M && along_m > ROOF_NEAR_M &&
                along_m < walk->length_m - ROOF_NEAR_M) {
                walk->places_m[walk->place_count++] = along_m;
            }
        }
    }
}

/* From corner to corner, stopping at every corner of another piece on the side. */
static void walk_side(struct roof_house *house, struct side_walk *walk) {
    const struct roof_stretch *whole = &walk->whole;
    struct geometry_point u = {-whole->out.y_m, whole->out.x_m};
    double from_m = 0;
    while (from_m < walk->length_m && !house->build->failed) {
        double to_m = walk->length_m;
        for (size_t i = 0; i < walk->place_count; i++) {
            double at_m = walk->places_m[i];
            to_m = at_m > from_m + ROOF_NEAR_M && at_m < to_m ? at_m : to_m;
        }
        struct roof_stretch side = *whole;
        side.from = geometry_add(whole->from, geometry_scale(u, from_m));
        if (to_m < walk->length_m) {
            side.to = geometry_add(whole->from, geometry_scale(u, to_m));
        }
        struct geometry_point middle = geometry_scale(geometry_add(side.from, side.to), 0.5);
        side.beyond = roof_seen_of(house, &walk->close,
                                   geometry_add(middle, geometry_scale(side.out, ROOF_PROBE_M)));
        add_stretch(house, &side);
        from_m = to_m;
    }
}

static void walk_piece(struct roof_house *house, struct side_walk *walk) {
    const struct roof_piece *piece = &house->seen.items[walk->piece];
    for (size_t n = 0; n < piece->outline.count; n++) {
        struct geometry_point a = piece->outline.points[n];
        struct geometry_point b = piece->outline.points[(n + 1) % piece->outline.count];
        walk->length_m = geometry_distance(a, b);
        struct geometry_point u = geometry_scale(geometry_subtract(b, a), 1 / walk->length_m);
        walk->whole = (struct roof_stretch){
            .slope = piece->slope, .from = a, .to = b, .out = {u.y_m, -u.x_m}};
        list_close(house, walk);
        list_places(house, walk);
        walk_side(house, walk);
    }
}

void roof_list_stretches(struct roof_house *house) {
    struct roof_build *build = house->build;
    size_t corners = 0;
    for (size_t i = 0; i < house->seen.count; i++) {
        corners += house->seen.items[i].outline.count;
    }
    struct side_walk walk = {
        .places_m = base_take(build->arena, corners, sizeof *walk.places_m),
        .close.items = base_take(build->arena, house->seen.count, sizeof *walk.close.items)};
    house->stretch_room = corners + corners / 2; /* a side is seldom parted */
    house->stretches = base_take(build->arena, house->stretch_room, sizeof *house->stretches);
    if (walk.places_m == NULL || walk.close.items == NULL || house->stretches == NULL) {
        build->failed = true;
        return;
    }
    for (walk.piece = 0; walk.piece < house->seen.count && !build->failed; walk.piece++) {
        walk_piece(house, &walk);
    }
}

void roof_draw_lines(struct roof_house *house) {
    if (!roof_reserve_lines(house->build, house->stretch_count / 2)) {
        return;
    }
    for (size_t i = 0; i < house->stretch_count && !house->build->failed; i++) {
        draw_stretch(house, &house->stretches[i]);
    }
    if (!house->build->failed) {
        merge_lines(house->build);
    }
}
