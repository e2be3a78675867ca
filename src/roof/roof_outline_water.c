/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Every cell's water to an eave. Down a face it runs straight to the face's own eave, unless it
 * meets a valley first (it stays in it and leaves where the valley ends, at an inside corner of the
 * eaves), another face that falls on (it runs on), or the foot of a wall (it runs along it).
 */
#include "roof/roof_outline.h"
#include "units/units.h"

#include <math.h>

enum { STEPS_MAX = 400, DEPTH_MAX = 48 };
#define RAKE_M  0.3  /* water that leaves over a gable this near its eave's end is the eave's */
#define LEVEL_M 1e-6 /* ends of an arc nearer in height are level */

/* ---- where a place drains to ------------------------------------------------------------------
 */

struct landing {
    size_t edge; /* whose eave; ROOF_NONE = lost */
    double s_m;
    struct geometry_point at; /* lost */
};

static double node_z(const struct roof_outlined *house, size_t node) {
    return house->skeleton.nodes[node].height_m;
}

static struct geometry_point node_at(const struct roof_outlined *house, size_t node) {
    return house->skeleton.nodes[node].at;
}

/* At a corner of the eaves: the eave that begins there, or the one that ends there. */
static struct landing land_at_corner(const struct roof_outlined *house, size_t node) {
    size_t before = house->edges[node].previous;
    bool begins = !house->edges[node].gable;
    bool bare = begins && house->edges[node].bare && !house->edges[before].gable &&
                !house->edges[before].bare;
    if (begins && !bare) {
        return (struct landing){.edge = node};
    }
    if (!house->edges[before].gable) {
        return (struct landing){.edge = before, .s_m = house->edges[before].length_m};
    }
    return (struct landing){.edge = ROOF_NONE, .at = node_at(house, node)};
}

/* The steepest valley or wall foot that leads on down; its other end. */
static size_t follow_arc(const struct roof_outlined *house, size_t node) {
    size_t found = ROOF_NONE;
    double steepest_1 = 0;
    for (size_t i = 0; i < house->skeleton.arc_count; i++) {
        const struct geometry_skeleton_arc *arc = &house->skeleton.arcs[i];
        if (arc->to != node ||
            (arc->kind != GEOMETRY_ARC_VALLEY && arc->kind != GEOMETRY_ARC_GABLE)) {
            continue;
        }
        double fall_m = node_z(house, node) - node_z(house, arc->from);
        double steep_1 =
            fall_m / geometry_distance(node_at(house, node), node_at(house, arc->from));
        bool valley = arc->kind == GEOMETRY_ARC_VALLEY;
        steep_1 = valley ? 1000 + steep_1 : steep_1; /* a valley before a rake */
        if (fall_m > LEVEL_M && steep_1 > steepest_1) {
            steepest_1 = steep_1;
            found = arc->from;
        }
    }
    return found;
}

static double low_at(const struct roof_outline_cell *cell, double s_m) {
    double share_1 = (s_m - cell->s_m[0]) / (cell->s_m[1] - cell->s_m[0]);
    return cell->low_m[0] + share_1 * (cell->low_m[1] - cell->low_m[0]);
}

/* The cell of that edge (ROOF_NONE: of any but skip) that holds the place. */
static const struct roof_outline_cell *find_cell(const struct roof_outlined *house, size_t edge,
                                                 size_t skip, struct geometry_point at) {
    for (size_t i = 0; i < house->cell_count; i++) {
        const struct roof_outline_cell *cell = &house->cells[i];
        if (cell->edge != skip && (edge == ROOF_NONE || cell->edge == edge) &&
            geometry_contains(&cell->outline, at)) {
            return cell;
        }
    }
    return NULL;
}

static size_t lower_end(const struct roof_outlined *house, const struct roof_side *side) {
    return node_z(house, side->to) < node_z(house, side->from) ? side->to : side->from;
}

static struct landing land_from_node(const struct roof_outlined *house, size_t node, int steps);

/* Straight down the face from the place to what lies below. */
static struct landing land_from_place(const struct roof_outlined *house,
                                      const struct roof_outline_cell *cell,
                                      struct geometry_point at, int steps) {
    while (cell != NULL && steps-- > 0) {
        const struct roof_edge *of = &house->edges[cell->edge];
        const struct roof_side *side = &house->sides[cell->low_side];
        double s_m = geometry_dot(of->along, geometry_subtract(at, of->origin));
        s_m = fmin(fmax(s_m, cell->s_m[0]), cell->s_m[1]);
        if (side->kind == ROOF_SIDE_EAVE) {
            return (struct landing){.edge = cell->edge, .s_m = s_m};
        }
        if (fabs(node_z(house, side->to) - node_z(house, side->from)) > LEVEL_M) {
            return land_from_node(house, lower_end(house, side), steps);
        }
        at = geometry_add(
            of->origin, geometry_add(geometry_scale(of->along, s_m),
                                     geometry_scale(of->inward, low_at(cell, s_m) - ROOF_PROBE_M)));
        cell = find_cell(house, ROOF_NONE, cell->edge, at);
    }
    return (struct landing){.edge = ROOF_NONE, .at = at};
}

/* Of the faces about the node the steepest that falls away from it. */
static const struct roof_outline_cell *fall_from_node(const struct roof_outlined *house,
                                                      size_t node, struct geometry_point *at) {
    const struct roof_outline_cell *found = NULL;
    double steepest_1 = 0;
    for (size_t i = 0; i < house->side_count; i++) {
        if (house->sides[i].from != node) {
            continue;
        }
        size_t edge = 0;
        while (edge + 1 < house->edge_count && house->edges[edge + 1].first_side <= i) {
            edge++;
        }
        const struct roof_edge *of = &house->edges[edge];
        struct geometry_point below =
            geometry_add(node_at(house, node), geometry_scale(of->inward, -4 * ROOF_PROBE_M));
        const struct roof_outline_cell *cell = find_cell(house, edge, ROOF_NONE, below);
        if (cell != NULL && of->pitch_1 > steepest_1) {
            steepest_1 = of->pitch_1;
            found = cell;
            *at = below;
        }
    }
    return found;
}

static struct landing land_from_node(const struct roof_outlined *house, size_t node, int steps) {
    while (steps-- > 0) {
        if (node < house->edge_count) {
            return land_at_corner(house, node);
        }
        size_t further = follow_arc(house, node);
        if (further == ROOF_NONE) {
            struct geometry_point at = {0, 0};
            const struct roof_outline_cell *cell = fall_from_node(house, node, &at);
            return steps < STEPS_MAX / 2
                       ? (struct landing){.edge = ROOF_NONE, .at = node_at(house, node)}
                       : land_from_place(house, cell, cell == NULL ? node_at(house, node) : at,
                                         steps);
        }
        node = further;
    }
    return (struct landing){.edge = ROOF_NONE, .at = node_at(house, node)};
}

/* ---- sending -----------------------------------------------------------------------------------
 */

/* Rain on its way down: m2 of plan a metre between two places s of the face it is on, linear. */
struct stream {
    double s_m[2];
    double width_m[2];
    double pitch_1; /* of the roof it fell on */
    int depth;
    bool wall; /* it ran down a wall */
};

static double area_of(const struct stream *stream) {
    return 0.5 * (stream->width_m[0] + stream->width_m[1]) * fabs(stream->s_m[1] - stream->s_m[0]);
}

/* The outline's edge nearest to the place. */
static void lose(struct roof_outlined *house, struct geometry_point at, double area_m2) {
    struct roof_link link = {
        .wing = ROOF_NONE, .end = ROOF_END_LOST, .onto = ROOF_NONE, .area_m2 = area_m2, .at = at};
    double least_m = (double)INFINITY;
    for (size_t i = 0; i < house->edge_count; i++) {
        const struct roof_edge *edge = &house->edges[i];
        double s_m = geometry_dot(edge->along, geometry_subtract(at, edge->origin));
        s_m = fmin(fmax(s_m, 0), edge->length_m);
        double away_m =
            geometry_distance(at, geometry_add(edge->origin, geometry_scale(edge->along, s_m)));
        if (away_m < least_m) {
            least_m = away_m;
            link.edge = (int)edge->written;
            link.x_m = s_m;
        }
    }
    roof_add_link(house->build, &link);
    house->stray_m2 += area_m2;
}

static void drip(struct roof_outlined *house, const struct roof_edge *edge, double area_m2) {
    struct roof_link link = {.wing = ROOF_NONE,
                             .edge = (int)edge->written,
                             .bare = true,
                             .end = ROOF_END_GROUND,
                             .onto = ROOF_NONE,
                             .area_m2 = area_m2};
    roof_add_link(house->build, &link);
    house->ground_m2 += area_m2;
}

static void pour(struct roof_outlined *house, struct landing landing, double area_m2,
                 const struct stream *of) {
    struct roof *roof = house->build->roof;
    if (landing.edge == ROOF_NONE) {
        lose(house, landing.at, area_m2);
        return;
    }
    const struct roof_edge *edge = &house->edges[landing.edge];
    if (edge->eave == ROOF_NONE) {
        drip(house, edge, area_m2);
        return;
    }
    const struct roof_eave *eave = &roof->eaves[edge->eave];
    double x_m = fmin(fmax(edge->x_m + landing.s_m, 0), units_m_of_tick(eave->length_tick));
    roof_pour(house->build, &(struct roof_pour){.x_m = x_m,
                                                .plan_area_m2 = area_m2,
                                                .wall_area_m2 = of->wall ? area_m2 : 0,
                                                .pitch_1 = of->pitch_1,
                                                .onto = eave->name});
}

static void reach_eave(struct roof_outlined *house, const struct roof_outline_cell *cell,
                       const struct stream *stream) {
    const struct roof_edge *edge = &house->edges[cell->edge];
    if (edge->eave == ROOF_NONE) {
        drip(house, edge, area_of(stream));
        return;
    }
    struct roof_inflow inflow = {.eave = edge->eave, .wall = stream->wall};
    for (int end = 0; end < 2; end++) {
        inflow.x_m[end] = edge->x_m + stream->s_m[end];
        inflow.width_m[end] = stream->width_m[end];
    }
    roof_take_in(house->build, &house->inflows, &inflow, stream->pitch_1);
}

static void send(struct roof_outlined *house, const struct roof_outline_cell *cell,
                 const struct stream *stream);

/* Part of a stream that goes over to one cell of the face beyond: shares along the side. Gives its
 * area. */
static double send_share(struct roof_outlined *house, const struct roof_outline_cell *onto,
                         const struct stream *stream, const double ends_m[2]) {
    double from_m = fmax(fmin(ends_m[0], ends_m[1]), onto->s_m[0]);
    double to_m = fmin(fmax(ends_m[0], ends_m[1]), onto->s_m[1]);
    if (to_m - from_m <= 0) {
        return 0;
    }
    double span_m = ends_m[1] - ends_m[0];
    double spread_1 = fabs((stream->s_m[1] - stream->s_m[0]) / span_m);
    struct stream next = {.s_m = {from_m, to_m},
                          .pitch_1 = stream->pitch_1,
                          .depth = stream->depth + 1,
                          .wall = stream->wall};
    for (int end = 0; end < 2; end++) {
        double share_1 = (next.s_m[end] - ends_m[0]) / span_m;
        next.width_m[end] =
            spread_1 * (stream->width_m[0] + share_1 * (stream->width_m[1] - stream->width_m[0]));
    }
    send(house, onto, &next);
    return area_of(&next);
}

/* Over the side to the face beyond; what finds no cell there pours where the middle lands. */
static void send_on(struct roof_outlined *house, const struct roof_outline_cell *cell,
                    const struct stream *stream) {
    const struct roof_side *side = &house->sides[cell->low_side];
    const struct roof_edge *from = &house->edges[cell->edge];
    const struct roof_edge *beyond = &house->edges[side->beyond];
    double ends_m[2];
    for (int end = 0; end < 2; end++) {
        double s_m = stream->s_m[end];
        struct geometry_point at = geometry_add(
            from->origin, geometry_add(geometry_scale(from->along, s_m),
                                       geometry_scale(from->inward, low_at(cell, s_m))));
        ends_m[end] = geometry_dot(beyond->along, geometry_subtract(at, beyond->origin));
    }
    double left_m2 = area_of(stream);
    for (size_t i = 0; i < beyond->cell_count && !house->build->failed; i++) {
        const struct roof_outline_cell *onto = &house->cells[beyond->first_cell + i];
        const struct roof_side *high = &house->sides[onto->high_side];
        if (high->kind == ROOF_SIDE_FACE && high->from == side->to && high->to == side->from) {
            left_m2 -= send_share(house, onto, stream, ends_m);
        }
    }
    if (left_m2 > 0) { /* over what is narrower than one event */
        pour(house, land_from_node(house, lower_end(house, side), STEPS_MAX), left_m2, stream);
    }
}

/* The face beyond falls away from the side: water that comes over it runs on. */
static bool runs_on(const struct roof_outlined *house, const struct roof_side *side) {
    struct geometry_point along =
        geometry_subtract(node_at(house, side->to), node_at(house, side->from));
    double length_m = hypot(along.x_m, along.y_m);
    const struct roof_edge *beyond = &house->edges[side->beyond];
    double rise_1 = (beyond->inward.x_m * along.y_m - beyond->inward.y_m * along.x_m) / length_m;
    return rise_1 < -1e-6;
}

/* A vertical plane below: a gable's (near the eave's end it is the eave's water), a wall whose foot
 * the water follows, or a step it falls down. */
static void send_to_wall(struct roof_outlined *house, const struct roof_outline_cell *cell,
                         const struct stream *stream) {
    const struct roof_edge *of = &house->edges[cell->edge];
    const struct roof_side *side = &house->sides[cell->low_side];
    double middle_m = 0.5 * (stream->s_m[0] + stream->s_m[1]);
    struct geometry_point at = geometry_add(
        of->origin,
        geometry_add(geometry_scale(of->along, middle_m),
                     geometry_scale(of->inward, low_at(cell, middle_m) - ROOF_PROBE_M)));
    const struct roof_outline_cell *beyond = find_cell(house, ROOF_NONE, cell->edge, at);
    double off_m = middle_m < 0 ? -middle_m : middle_m - of->length_m;
    struct landing landing = {.edge = ROOF_NONE, .at = at};
    if (beyond == NULL) {
        bool near = fmax(-stream->s_m[0], stream->s_m[1] - of->length_m) <= RAKE_M;
        landing =
            near && off_m >= 0 ? (struct landing){.edge = cell->edge, .s_m = middle_m} : landing;
    } else if (geometry_height(house->skeleton.faces[beyond->edge].plane, at) >
               geometry_height(house->skeleton.faces[cell->edge].plane, at)) {
        landing = land_from_node(house, lower_end(house, side), STEPS_MAX);
    } else {
        landing = land_from_place(house, beyond, at, STEPS_MAX);
    }
    pour(house, landing, area_of(stream), stream);
}

static void send_to_face(struct roof_outlined *house, const struct roof_outline_cell *cell,
                         const struct stream *stream) {
    const struct roof_side *side = &house->sides[cell->low_side];
    if (runs_on(house, side) && stream->depth < DEPTH_MAX) {
        send_on(house, cell, stream);
        return;
    }
    house->trapped =
        house->trapped || fabs(node_z(house, side->to) - node_z(house, side->from)) <= LEVEL_M;
    pour(house, land_from_node(house, lower_end(house, side), STEPS_MAX), area_of(stream), stream);
}

static void send(struct roof_outlined *house, const struct roof_outline_cell *cell,
                 const struct stream *stream) {
    switch (house->sides[cell->low_side].kind) {
    case ROOF_SIDE_EAVE:
        reach_eave(house, cell, stream);
        break;
    case ROOF_SIDE_FACE:
        send_to_face(house, cell, stream);
        break;
    case ROOF_SIDE_WALL:
        send_to_wall(house, cell, stream);
        break;
    }
}

/* ---- walls above -----------------------------------------------------------------------------
 */

/* The side stands on an edge of the outline that was said to be a wall. */
static bool is_at_wall(const struct roof_outlined *house, const struct roof_side *side) {
    struct geometry_point ends[2] = {node_at(house, side->from), node_at(house, side->to)};
    for (size_t i = 0; i < house->edge_count; i++) {
        const struct roof_edge *edge = &house->edges[i];
        bool on = edge->wall;
        for (int end = 0; end < 2 && on; end++) {
            struct geometry_point at = geometry_subtract(ends[end], edge->origin);
            double s_m = geometry_dot(edge->along, at);
            on = fabs(geometry_cross(edge->along, at)) <= ROOF_NEAR_M && s_m >= -ROOF_NEAR_M &&
                 s_m <= edge->length_m + ROOF_NEAR_M;
        }
        if (on) {
            return true;
        }
    }
    return false;
}

/* What runs down the wall beside one side of a face: along a foot that lies across the slope it is
 * spread, along one that runs up the slope it keeps near the wall. */
static void add_wall(struct roof_outlined *house, size_t edge, size_t side_index, double width_m) {
    const struct roof_edge *of = &house->edges[edge];
    const struct roof_side *side = &house->sides[side_index];
    struct geometry_point a = node_at(house, side->from);
    struct geometry_point b = node_at(house, side->to);
    double length_m = geometry_distance(a, b);
    double span_m = fabs(geometry_dot(of->along, geometry_subtract(b, a)));
    struct stream stream = {.pitch_1 = of->pitch_1, .wall = true};
    if (span_m < RAKE_M && span_m < 0.5 * length_m) {
        struct geometry_point u = geometry_scale(geometry_subtract(b, a), 1 / length_m);
        struct geometry_point inside = {-u.y_m * 2 * ROOF_PROBE_M, u.x_m * 2 * ROOF_PROBE_M};
        struct geometry_point at = geometry_add(geometry_scale(geometry_add(a, b), 0.5), inside);
        const struct roof_outline_cell *cell = find_cell(house, edge, ROOF_NONE, at);
        pour(house, land_from_place(house, cell, at, STEPS_MAX), width_m * length_m, &stream);
        house->build->roof->wall_area_m2 += width_m * length_m;
        return;
    }
    for (size_t i = 0; i < of->cell_count && !house->build->failed; i++) {
        const struct roof_outline_cell *cell = &house->cells[of->first_cell + i];
        if (cell->high_side != side_index) {
            continue;
        }
        for (int end = 0; end < 2; end++) {
            stream.s_m[end] = cell->s_m[end];
            stream.width_m[end] = width_m * length_m / span_m;
        }
        house->build->roof->wall_area_m2 += area_of(&stream);
        send(house, cell, &stream);
    }
}

static void add_walls(struct roof_outlined *house) {
    const struct job *job = house->build->job;
    double height_m =
        job->outline.wall_above.given ? units_m_of_tick(job->outline.wall_above.tick) : 0;
    double width_m = roof_wall_width(job, height_m);
    for (size_t edge = 0; edge < house->edge_count && width_m > 0; edge++) {
        const struct roof_edge *of = &house->edges[edge];
        for (size_t k = of->first_side; k < of->first_side + of->side_count; k++) {
            if (house->sides[k].kind == ROOF_SIDE_WALL && is_at_wall(house, &house->sides[k])) {
                add_wall(house, edge, k, width_m);
            }
        }
    }
}

/* ---- names -------------------------------------------------------------------------------------
 */

/* In walking order. */
static void name_pours(struct roof_outlined *house, size_t first) {
    struct roof *roof = house->build->roof;
    roof_sort_pours(roof, first);
    for (size_t i = first; i < roof->pour_count; i++) {
        roof->pours[i].from = roof_name_pour(house->build, house->build->job->outline.name,
                                             ".valley.", (int)(i - first + 1));
    }
}

void roof_send_outline_water(struct roof_outlined *house) {
    size_t first = house->build->roof->pour_count;
    for (size_t i = 0; i < house->cell_count && !house->build->failed; i++) {
        const struct roof_outline_cell *cell = &house->cells[i];
        struct stream stream = {.pitch_1 = house->edges[cell->edge].pitch_1};
        for (int end = 0; end < 2; end++) {
            stream.s_m[end] = cell->s_m[end];
            stream.width_m[end] = (cell->high_m[end] - cell->low_m[end]) * cell->share_1;
        }
        send(house, cell, &stream);
    }
    add_walls(house);
    name_pours(house, first);
}
