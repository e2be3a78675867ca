/* SPDX-License-Identifier: Apache-2.0 */
/* Faces cut up and down at each of their corners: each cell's water leaves by one straight side. */
#include "numeric/numeric.h"
#include "roof/roof_outline.h"

#include <math.h>

/* ---- sides ----------------------------------------------------------------------------------- */

static struct roof_side find_side(const struct roof_outlined *house, size_t edge, size_t from,
                                  size_t to) {
    const struct geometry_skeleton *skeleton = &house->skeleton;
    struct roof_side side = {ROOF_SIDE_WALL, from, to, ROOF_NONE};
    for (size_t i = 0; i < skeleton->arc_count; i++) {
        const struct geometry_skeleton_arc *arc = &skeleton->arcs[i];
        bool forth = arc->from == from && arc->to == to && arc->left == edge;
        bool back = arc->from == to && arc->to == from && arc->right == edge;
        size_t beyond = forth ? arc->right : back ? arc->left : ROOF_NONE;
        if (beyond != ROOF_NONE && skeleton->faces[beyond].count > 0) {
            side.kind = ROOF_SIDE_FACE;
            side.beyond = beyond;
        }
    }
    return side;
}

static void list_face_sides(struct roof_outlined *house, size_t edge) {
    const struct geometry_skeleton_face *face = &house->skeleton.faces[edge];
    struct roof_side *sides = &house->sides[house->edges[edge].first_side];
    size_t first = 0;
    for (size_t ring = 0; ring < face->ring_count; ring++) {
        size_t end = face->ring_ends[ring];
        for (size_t k = first; k < end; k++) {
            size_t to = face->nodes[k + 1 == end ? first : k + 1];
            sides[k] = k == 0 ? (struct roof_side){ROOF_SIDE_EAVE, face->nodes[0], to, ROOF_NONE}
                              : find_side(house, edge, face->nodes[k], to);
        }
        first = end;
    }
}

static bool list_sides(struct roof_outlined *house) {
    size_t count = 0;
    for (size_t i = 0; i < house->edge_count; i++) {
        house->edges[i].first_side = count;
        house->edges[i].side_count = house->skeleton.faces[i].count;
        count += house->edges[i].side_count;
    }
    house->sides = base_take(house->build->arena, count + 1, sizeof *house->sides);
    house->side_count = count;
    if (house->sides == NULL) {
        house->build->failed = true;
        return false;
    }
    for (size_t i = 0; i < house->edge_count; i++) {
        list_face_sides(house, i);
    }
    return true;
}

/* ---- cells ----------------------------------------------------------------------------------- */

struct crossing {
    size_t side;
    double t_m[3]; /* at both cuts and between */
};

/* s and t of a node, from the edge's left end. */
static struct geometry_point on_edge(const struct roof_outlined *house, size_t edge, size_t node) {
    const struct roof_edge *of = &house->edges[edge];
    struct geometry_point at = geometry_subtract(house->skeleton.nodes[node].at, of->origin);
    return (struct geometry_point){geometry_dot(of->along, at), geometry_dot(of->inward, at)};
}

static size_t list_crossings(const struct roof_outlined *house, size_t edge, const double s_m[2],
                             struct crossing *crossings) {
    const struct roof_edge *of = &house->edges[edge];
    double middle_m = 0.5 * (s_m[0] + s_m[1]);
    size_t count = 0;
    for (size_t k = 0; k < of->side_count; k++) {
        const struct roof_side *side = &house->sides[of->first_side + k];
        struct geometry_point a = on_edge(house, edge, side->from);
        struct geometry_point b = on_edge(house, edge, side->to);
        if ((a.x_m < middle_m) == (b.x_m < middle_m)) {
            continue;
        }
        double slope_1 = (b.y_m - a.y_m) / (b.x_m - a.x_m);
        struct crossing found = {of->first_side + k,
                                 {a.y_m + slope_1 * (s_m[0] - a.x_m),
                                  a.y_m + slope_1 * (middle_m - a.x_m),
                                  a.y_m + slope_1 * (s_m[1] - a.x_m)}};
        size_t place = count++;
        while (place > 0 && crossings[place - 1].t_m[1] > found.t_m[1]) {
            crossings[place] = crossings[place - 1];
            place--;
        }
        crossings[place] = found;
    }
    return count;
}

static struct geometry_point place_on(const struct roof_edge *of, double s_m, double t_m) {
    return geometry_add(
        of->origin, geometry_add(geometry_scale(of->along, s_m), geometry_scale(of->inward, t_m)));
}

static bool outline_cell(struct roof_outlined *house, struct roof_outline_cell *cell) {
    const struct roof_edge *of = &house->edges[cell->edge];
    struct geometry_point *points = base_take(house->build->arena, 4, sizeof *points);
    if (points == NULL) {
        house->build->failed = true;
        return false;
    }
    struct geometry_point corners[] = {
        place_on(of, cell->s_m[0], cell->low_m[0]), place_on(of, cell->s_m[1], cell->low_m[1]),
        place_on(of, cell->s_m[1], cell->high_m[1]), place_on(of, cell->s_m[0], cell->high_m[0])};
    size_t count = 0;
    for (size_t i = 0; i < 4; i++) {
        if (count == 0 || (geometry_distance(points[count - 1], corners[i]) > GEOMETRY_EVENT_M &&
                           geometry_distance(points[0], corners[i]) > GEOMETRY_EVENT_M)) {
            points[count++] = corners[i];
        }
    }
    cell->outline = (struct geometry_polygon){points, count};
    return true;
}

static void add_cell(struct roof_outlined *house, size_t edge, const double s_m[2],
                     const struct crossing pair[2]) {
    struct roof_outline_cell cell = {
        .edge = edge,
        .s_m = {s_m[0], s_m[1]},
        .low_m = {pair[0].t_m[0], pair[0].t_m[2]},
        .high_m = {fmax(pair[1].t_m[0], pair[0].t_m[0]), fmax(pair[1].t_m[2], pair[0].t_m[2])},
        .share_1 = 1,
        .low_side = pair[0].side,
        .high_side = pair[1].side};
    struct roof_outline_cell *cells = base_grow(
        house->build->arena, house->cells, &house->cell_room, house->cell_count, sizeof *cells);
    if (cells == NULL) {
        house->build->failed = true;
        return;
    }
    house->cells = cells;
    if (outline_cell(house, &cell) && cell.outline.count >= 3) {
        cells[house->cell_count++] = cell;
    }
}

static double area_of(const struct roof_outline_cell *cell) {
    return 0.5 * (cell->s_m[1] - cell->s_m[0]) *
           (cell->high_m[0] - cell->low_m[0] + cell->high_m[1] - cell->low_m[1]);
}

/* Not a drop is lost to what was left out as narrower than one event. */
static void share_face(struct roof_outlined *house, size_t edge) {
    struct roof_edge *of = &house->edges[edge];
    double sum_m2 = 0;
    of->cell_count = house->cell_count - of->first_cell;
    for (size_t i = 0; i < of->cell_count; i++) {
        sum_m2 += area_of(&house->cells[of->first_cell + i]);
    }
    for (size_t i = 0; i < of->cell_count && sum_m2 > 0; i++) {
        house->cells[of->first_cell + i].share_1 =
            house->skeleton.faces[edge].plan_area_m2 / sum_m2;
    }
}

static size_t list_cuts(const struct roof_outlined *house, size_t edge, double *cuts) {
    const struct roof_edge *of = &house->edges[edge];
    for (size_t k = 0; k < of->side_count; k++) {
        cuts[k] = on_edge(house, edge, house->sides[of->first_side + k].from).x_m;
    }
    numeric_sort(cuts, of->side_count);
    size_t kept = 1;
    for (size_t i = 1; i < of->side_count; i++) {
        if (cuts[i] - cuts[kept - 1] > GEOMETRY_EVENT_M) {
            cuts[kept++] = cuts[i];
        }
    }
    return kept;
}

static void cut_face(struct roof_outlined *house, size_t edge) {
    struct roof_build *build = house->build;
    size_t sides = house->edges[edge].side_count;
    double *cuts = base_take(build->arena, sides + 1, sizeof *cuts);
    struct crossing *crossings = base_take(build->arena, sides + 1, sizeof *crossings);
    if (cuts == NULL || crossings == NULL) {
        build->failed = true;
        return;
    }
    size_t count = list_cuts(house, edge, cuts);
    for (size_t i = 0; i + 1 < count; i++) {
        size_t crossed = list_crossings(house, edge, &cuts[i], crossings);
        for (size_t k = 0; k + 1 < crossed && !build->failed; k += 2) {
            add_cell(house, edge, &cuts[i], &crossings[k]);
        }
    }
    share_face(house, edge);
}

static void list_face_pieces(struct roof_outlined *house) {
    struct roof *roof = house->build->roof;
    for (size_t i = 0; i < house->cell_count; i++) {
        const struct roof_outline_cell *cell = &house->cells[i];
        struct roof_face *face = roof_add_face(house->build);
        if (face == NULL) {
            return;
        }
        struct geometry_plane plane = house->skeleton.faces[cell->edge].plane;
        plane.c_m += house->eave_z_m;
        double area_m2 = area_of(cell) * cell->share_1;
        *face = (struct roof_face){ROOF_NONE, (int)house->edges[cell->edge].written, plane,
                                   cell->outline, area_m2};
        roof->plan_area_m2 += area_m2;
    }
}

void roof_cut_faces(struct roof_outlined *house) {
    if (!list_sides(house)) {
        return;
    }
    for (size_t i = 0; i < house->edge_count && !house->build->failed; i++) {
        house->edges[i].first_cell = house->cell_count;
        if (house->edges[i].side_count > 0) {
            cut_face(house, i);
        }
    }
    if (!house->build->failed) {
        list_face_pieces(house);
    }
}
