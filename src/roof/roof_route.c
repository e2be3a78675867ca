/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Sends the rain of every cell down: straight to an eave as inflow spread along it, or by a trough
 * (a valley, the foot of a wall) as a pour at one place.
 *
 * Where a trough ends: (1) another trough there that runs lower takes it; (2) else a roof that runs
 * on below takes it straight down; (3) else the eave there, and of two that meet at a corner the
 * one that follows; (4) else it falls on the roof below.
 */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

enum { ROOF_STEPS_MAX = 200, ROOF_DEPTH_MAX = 48 };

static struct geometry_point low_place(const struct roof_house *house, const struct roof_cell *cell,
                                       double share) {
    return roof_place(&house->slopes[cell->slope],
                      cell->s_m[0] + share * (cell->s_m[1] - cell->s_m[0]),
                      cell->low_m[0] + share * (cell->low_m[1] - cell->low_m[0]));
}

const struct roof_cell *roof_cell_at(const struct roof_house *house, size_t slope,
                                     struct geometry_point at) {
    double s_m = roof_along(&house->slopes[slope], at);
    double t_m = roof_up(&house->slopes[slope], at);
    for (size_t i = 0; i < house->cell_count; i++) {
        const struct roof_cell *cell = &house->cells[i];
        if (cell->slope != slope || s_m < cell->s_m[0] - ROOF_NEAR_M ||
            s_m > cell->s_m[1] + ROOF_NEAR_M) {
            continue;
        }
        double share = (s_m - cell->s_m[0]) / (cell->s_m[1] - cell->s_m[0]);
        double low_m = cell->low_m[0] + share * (cell->low_m[1] - cell->low_m[0]);
        double high_m = cell->high_m[0] + share * (cell->high_m[1] - cell->high_m[0]);
        if (t_m >= low_m - ROOF_NEAR_M && t_m <= high_m + ROOF_NEAR_M) {
            return cell;
        }
    }
    return NULL;
}

static struct geometry_point outward(const struct roof_house *house, const struct roof_cell *cell) {
    struct geometry_point along =
        geometry_subtract(low_place(house, cell, 1), low_place(house, cell, 0));
    double length_m = hypot(along.x_m, along.y_m);
    return (struct geometry_point){along.y_m / length_m, -along.x_m / length_m};
}

static const struct roof_cell *cell_beyond_at(const struct roof_house *house,
                                              const struct roof_cell *cell, double share) {
    struct geometry_point at = geometry_add(low_place(house, cell, share),
                                            geometry_scale(outward(house, cell), ROOF_PROBE_M));
    return roof_cell_at(house, cell->beyond, at);
}

const struct roof_cell *roof_cell_beyond(const struct roof_house *house,
                                         const struct roof_cell *cell) {
    return cell->beyond == ROOF_NONE ? NULL : cell_beyond_at(house, cell, 0.5);
}

/* ---- where a trough ends ------------------------------------------------------------------------
 */

struct drop {
    struct geometry_point at;
    double z_m;
    size_t eave; /* found; ROOF_NONE = lost or still falling */
    double x_m;
    bool done;
};

static double low_height(const struct roof_house *house, const struct roof_cell *cell,
                         double share) {
    return geometry_height(house->slopes[cell->slope].plane, low_place(house, cell, share));
}

/* What is asked of every cell's lower side again and again. */
static void measure_lower_sides(struct roof_house *house) {
    for (size_t i = 0; i < house->cell_count; i++) {
        struct roof_cell *cell = &house->cells[i];
        for (int end = 0; end < 2; end++) {
            cell->low_at[end] = low_place(house, cell, end);
            cell->low_z_m[end] = low_height(house, cell, end);
        }
        cell->low_length_m = geometry_distance(cell->low_at[0], cell->low_at[1]);
        cell->level = fabs(cell->low_z_m[1] - cell->low_z_m[0]) < 1e-6 * cell->low_length_m;
    }
}

/* Distance along the trough from its end 0 when the place stands on it; -1 when it does not. */
static double find_on_trough(const struct roof_cell *cell, struct geometry_point at) {
    struct geometry_point a = cell->low_at[0];
    struct geometry_point b = cell->low_at[1];
    double length_m = cell->low_length_m;
    struct geometry_point u = geometry_scale(geometry_subtract(b, a), 1 / length_m);
    struct geometry_point from = geometry_subtract(at, a);
    double along_m = geometry_dot(u, from);
    if (fabs(geometry_cross(u, from)) > ROOF_NEAR_M || along_m < -ROOF_NEAR_M ||
        along_m > length_m + ROOF_NEAR_M) {
        return -1;
    }
    return fmin(fmax(along_m, 0), length_m);
}

/* (1) The steepest trough that leads on down from here. */
static bool follow_trough(const struct roof_house *house, struct drop *drop) {
    const struct roof_cell *best = NULL;
    double best_1 = 0;
    int best_end = 0;
    for (size_t i = 0; i < house->cell_count; i++) {
        const struct roof_cell *cell = &house->cells[i];
        if (cell->way != ROOF_WAY_TROUGH || cell->level) {
            continue;
        }
        double along_m = find_on_trough(cell, drop->at);
        if (along_m < 0) {
            continue;
        }
        double length_m = cell->low_length_m;
        const double *z_m = cell->low_z_m;
        double here_m = z_m[0] + along_m / length_m * (z_m[1] - z_m[0]);
        int end = z_m[1] < z_m[0];
        double left_m = end ? length_m - along_m : along_m;
        double steep_1 = fabs(z_m[1] - z_m[0]) / length_m;
        if (left_m > ROOF_NEAR_M && fabs(here_m - drop->z_m) < 10 * ROOF_LEVEL_M &&
            steep_1 > best_1) {
            best = cell;
            best_1 = steep_1;
            best_end = end;
        }
    }
    if (best == NULL) {
        return false;
    }
    drop->at = best->low_at[best_end];
    drop->z_m = best->low_z_m[best_end];
    return true;
}

static bool pour_at(const struct roof_house *house, size_t part_index, struct geometry_point at,
                    struct drop *drop) {
    const struct roof_part *part = &house->parts[part_index];
    double s_m = roof_along(&house->slopes[part->slope], at);
    double length_m = units_m_of_tick(house->build->roof->eaves[part->eave].length_tick);
    drop->eave = part->eave;
    drop->x_m = fmin(fmax(part->x_m + s_m - part->s_m[0], 0), length_m);
    drop->done = true;
    return true;
}

/* (2) A roof that holds this place and falls away from it takes the water straight down. */
static bool run_down(const struct roof_house *house, struct drop *drop) {
    for (size_t slope = 0; slope < house->slope_count; slope++) {
        const struct roof_slope *roof = &house->slopes[slope];
        if (fabs(geometry_height(roof->plane, drop->at) - drop->z_m) > 10 * ROOF_LEVEL_M) {
            continue;
        }
        struct geometry_point below =
            geometry_add(drop->at, geometry_scale(roof->inward, -ROOF_PROBE_M));
        const struct roof_cell *cell = roof_cell_at(house, slope, below);
        if (cell == NULL) {
            continue;
        }
        double s_m = roof_along(roof, drop->at);
        double share = (s_m - cell->s_m[0]) / (cell->s_m[1] - cell->s_m[0]);
        share = fmin(fmax(share, 0), 1);
        struct geometry_point low = low_place(house, cell, share);
        drop->at = low;
        drop->z_m = geometry_height(roof->plane, low);
        if (cell->way == ROOF_WAY_EAVE) {
            return pour_at(house, cell->part, low, drop);
        }
        return cell->way != ROOF_WAY_STRAY;
    }
    return false;
}

/* (3) The eave that passes or ends here; of two, the one that begins here. */
static bool find_eave(const struct roof_house *house, struct drop *drop) {
    size_t found = ROOF_NONE;
    for (size_t i = 0; i < house->part_count; i++) {
        const struct roof_part *part = &house->parts[i];
        const struct roof_slope *slope = &house->slopes[part->slope];
        double s_m = roof_along(slope, drop->at);
        if (fabs(roof_up(slope, drop->at)) > ROOF_PROBE_M || s_m < part->s_m[0] - ROOF_PROBE_M ||
            s_m > part->s_m[1] + ROOF_PROBE_M ||
            fabs(slope->eave_z_m - drop->z_m) > 10 * ROOF_LEVEL_M) {
            continue;
        }
        if (found == ROOF_NONE || fabs(s_m - part->s_m[0]) <= ROOF_PROBE_M) {
            found = i;
        }
    }
    return found != ROOF_NONE && pour_at(house, found, drop->at, drop);
}

/* (4) It falls on the highest roof below that holds this place. */
static bool fall(const struct roof_house *house, struct drop *drop) {
    double best_m = -(double)INFINITY;
    for (size_t i = 0; i < house->seen.count; i++) {
        const struct roof_piece *piece = &house->seen.items[i];
        double z_m = geometry_height(house->slopes[piece->slope].plane, drop->at);
        if (z_m < drop->z_m - 10 * ROOF_LEVEL_M && z_m > best_m &&
            geometry_box_holds(&piece->box, drop->at, GEOMETRY_EVENT_M) &&
            geometry_contains(&piece->outline, drop->at)) {
            best_m = z_m;
        }
    }
    if (isinf(best_m)) {
        return false;
    }
    drop->z_m = best_m;
    return true;
}

static void follow_drop(const struct roof_house *house, struct drop *drop) {
    for (int step = 0; step < ROOF_STEPS_MAX && !drop->done; step++) {
        if (!follow_trough(house, drop) && !run_down(house, drop) && !find_eave(house, drop) &&
            !fall(house, drop)) {
            return;
        }
    }
}

/* Where the drop runs out, if it does not get lost. */
static void follow_to_spout(const struct roof_house *house, struct roof_cell *cell,
                            struct drop *drop) {
    follow_drop(house, drop);
    if (drop->eave != ROOF_NONE) {
        cell->spouts[cell->spout_count++] = (struct roof_spout){drop->eave, drop->x_m};
    } else {
        cell->lost_at = drop->at;
    }
}

/* A level trough has no lower end: its water spreads to both ends of the whole line. */
static struct geometry_point find_level_end(const struct roof_house *house,
                                            const struct roof_cell *cell, int way) {
    struct geometry_point middle = low_place(house, cell, 0.5);
    struct geometry_point end_at = cell->low_at[way];
    bool further = true;
    for (int step = 0; further && step < ROOF_STEPS_MAX; step++) {
        further = false;
        for (size_t i = 0; i < house->cell_count && !further; i++) {
            const struct roof_cell *other = &house->cells[i];
            if (other->way != ROOF_WAY_TROUGH || !other->level ||
                find_on_trough(other, end_at) < 0) {
                continue;
            }
            for (int end = 0; end < 2 && !further; end++) {
                struct geometry_point at = other->low_at[end];
                further =
                    geometry_distance(middle, at) > geometry_distance(middle, end_at) + ROOF_NEAR_M;
                end_at = further ? at : end_at;
            }
        }
    }
    return end_at;
}

/* Once for each wing. */
static void say_trapped(struct roof_house *house, size_t wing_index) {
    const struct base_issues *issues = house->build->issues;
    const struct job_wing *wing = &house->build->job->wings[wing_index];
    for (size_t i = 0; i < issues->count; i++) {
        if (issues->items[i].code == BASE_ISSUE_ROOF_TRAPPED &&
            base_text_equal(issues->items[i].object, wing->name)) {
            return;
        }
    }
    roof_say(house->build, BASE_ISSUE_ROOF_TRAPPED, wing->mark, wing->name, (struct base_value){0});
}

/* From the middle of the eave straight down onto the roof below. */
static void trace_drip(struct roof_house *house, struct roof_cell *cell) {
    struct drop drop = {.eave = ROOF_NONE, .z_m = low_height(house, cell, 0.5)};
    drop.at = geometry_add(low_place(house, cell, 0.5),
                           geometry_scale(outward(house, cell), ROOF_PROBE_M));
    cell->lost_at = drop.at;
    if (fall(house, &drop)) {
        follow_to_spout(house, cell, &drop);
    }
}

static void trace_trough(struct roof_house *house, struct roof_cell *cell) {
    struct drop drop = {.eave = ROOF_NONE};
    int end = cell->low_z_m[1] < cell->low_z_m[0];
    drop.z_m = cell->low_z_m[end];
    if (!cell->level) {
        drop.at = cell->low_at[end];
        follow_to_spout(house, cell, &drop);
        return;
    }
    say_trapped(house, house->slopes[cell->slope].wing);
    for (int way = 0; way < 2; way++) {
        struct drop half = drop;
        half.at = find_level_end(house, cell, way);
        follow_to_spout(house, cell, &half);
    }
}

/* ---- sending ------------------------------------------------------------------------------------
 */

/* Rain on its way down a strip: m2 of plan per metre between two cuts, linear. */
struct stream {
    double s_m[2];
    double width_m[2];
    double pitch_1; /* of the roof it fell on */
    int depth;
    bool wall;   /* it ran down a wall */
    size_t over; /* the slope over whose eave without gutter it came last; ROOF_NONE = over none */
};

static double area_of(const struct stream *stream) {
    return 0.5 * (stream->width_m[0] + stream->width_m[1]) * fabs(stream->s_m[1] - stream->s_m[0]);
}

static void lose(struct roof_house *house, struct geometry_point at, double area_m2) {
    struct roof_link link = {.onto = ROOF_NONE, .area_m2 = area_m2};
    roof_find_lost_edge(house, at, &link);
    roof_add_link(house->build, &link);
    house->stray_m2 += area_m2;
}

/* What came over an eave without gutter ends here. */
static void link_over(struct roof_house *house, size_t over, enum roof_end end, size_t onto,
                      double area_m2) {
    if (over != ROOF_NONE) {
        const struct roof_slope *slope = &house->slopes[over];
        struct roof_link link = {.wing = slope->wing,
                                 .edge = slope->edge,
                                 .bare = true,
                                 .end = end,
                                 .onto = onto,
                                 .area_m2 = area_m2};
        roof_add_link(house->build, &link);
    }
}

static void pour_onto(struct roof_house *house, const struct roof_spout *spout,
                      const struct roof_pour *water) {
    struct roof *roof = house->build->roof;
    struct base_text onto = roof->eaves[spout->eave].name;
    for (size_t i = 0; i < roof->pour_count; i++) {
        struct roof_pour *there = &roof->pours[i];
        if (base_text_equal(there->onto, onto) &&
            fabs(there->x_m - spout->x_m) <= 2 * ROOF_PROBE_M) {
            there->plan_area_m2 += water->plan_area_m2;
            there->wall_area_m2 += water->wall_area_m2;
            there->drip = there->drip && water->drip;
            there->pitch_1 = fmax(there->pitch_1, water->pitch_1);
            return;
        }
    }
    struct roof_pour *fresh = roof_add_pour(house->build);
    if (fresh != NULL) {
        *fresh = *water;
        fresh->x_m = spout->x_m;
        fresh->onto = onto;
    }
}

static void pour(struct roof_house *house, const struct roof_cell *cell,
                 const struct stream *stream) {
    double area_m2 = area_of(stream);
    if (cell->spout_count == 0) {
        lose(house, cell->lost_at, area_m2);
        return;
    }
    struct roof_pour water = {.plan_area_m2 = area_m2 / (double)cell->spout_count,
                              .pitch_1 = stream->pitch_1,
                              .drip = cell->way == ROOF_WAY_DRIP};
    water.wall_area_m2 = stream->wall ? water.plan_area_m2 : 0;
    for (size_t i = 0; i < cell->spout_count; i++) {
        link_over(house, stream->over, ROOF_END_EAVE, cell->spouts[i].eave, water.plan_area_m2);
        pour_onto(house, &cell->spouts[i], &water);
    }
}

static void reach_eave(struct roof_house *house, const struct roof_cell *cell,
                       const struct stream *stream) {
    const struct roof_part *part = &house->parts[cell->part];
    struct roof_inflow *inflows =
        base_grow(house->build->arena, house->inflows, &house->inflow_room, house->inflow_count,
                  sizeof *inflows);
    if (inflows == NULL) {
        house->build->failed = true;
        return;
    }
    house->inflows = inflows;
    link_over(house, stream->over, ROOF_END_EAVE, part->eave, area_of(stream));
    struct roof_inflow *inflow = &inflows[house->inflow_count++];
    inflow->eave = part->eave;
    inflow->wall = stream->wall;
    for (int end = 0; end < 2; end++) {
        inflow->x_m[end] = part->x_m + stream->s_m[end] - part->s_m[0];
        inflow->width_m[end] = stream->width_m[end];
    }
}

static void send(struct roof_house *house, const struct roof_cell *cell,
                 const struct stream *arriving);

/* The stretch [from, to] of the lower side, as shares of the stream, goes on beyond it. */
static void send_share(struct roof_house *house, const struct roof_cell *cell,
                       const struct stream *stream, double from, double to) {
    double span_m = cell->s_m[1] - cell->s_m[0];
    double share[2];
    double s_m[2];
    struct stream next = {.pitch_1 = stream->pitch_1,
                          .depth = stream->depth + 1,
                          .wall = stream->wall,
                          .over = stream->over};
    for (int end = 0; end < 2; end++) {
        double part = end == 0 ? from : to;
        double here_m = stream->s_m[0] + part * (stream->s_m[1] - stream->s_m[0]);
        share[end] = (here_m - cell->s_m[0]) / span_m;
        s_m[end] = roof_along(&house->slopes[cell->beyond], low_place(house, cell, share[end]));
        next.width_m[end] = stream->width_m[0] + part * (stream->width_m[1] - stream->width_m[0]);
    }
    double stretch_1 = (to - from) * fabs(stream->s_m[1] - stream->s_m[0]) / fabs(s_m[1] - s_m[0]);
    int first = s_m[0] < s_m[1] ? 0 : 1;
    double width_m[2] = {next.width_m[first] * stretch_1, next.width_m[1 - first] * stretch_1};
    for (int end = 0; end < 2; end++) {
        next.s_m[end] = s_m[end == 0 ? first : 1 - first];
        next.width_m[end] = width_m[end];
    }
    const struct roof_cell *onto = cell_beyond_at(house, cell, 0.5 * (share[0] + share[1]));
    if (onto == NULL || next.depth > ROOF_DEPTH_MAX) {
        lose(house, low_place(house, cell, 0.5 * (share[0] + share[1])), area_of(&next));
        return;
    }
    send(house, onto, &next);
}

/* Splits a stream at the cuts of the slope it goes over to. */
static void send_on(struct roof_house *house, const struct roof_cell *cell,
                    const struct stream *stream) {
    const struct roof_slope *beyond = &house->slopes[cell->beyond];
    double span_m = cell->s_m[1] - cell->s_m[0];
    double end_m[2];
    for (int end = 0; end < 2; end++) {
        double share = (stream->s_m[end] - cell->s_m[0]) / span_m;
        end_m[end] = roof_along(beyond, low_place(house, cell, share));
    }
    double from = 0;
    while (from < 1 && !house->build->failed) {
        double to = 1;
        for (size_t i = 0; i < house->cell_count; i++) {
            for (int end = 0; end < 2 && house->cells[i].slope == cell->beyond; end++) {
                double at = (house->cells[i].s_m[end] - end_m[0]) / (end_m[1] - end_m[0]);
                double least = ROOF_NEAR_M / fabs(end_m[1] - end_m[0]);
                to = at > from + least && at < to && at < 1 - least ? at : to;
            }
        }
        send_share(house, cell, stream, from, to);
        from = to;
    }
}

/* Over an eave without gutter: water that came over another one before has reached this roof. */
static void cross_bare(struct roof_house *house, const struct roof_cell *cell,
                       struct stream *stream) {
    if (stream->over != cell->slope) {
        link_over(house, stream->over, ROOF_END_ROOF, house->slopes[cell->slope].wing,
                  area_of(stream));
    }
    stream->over = cell->slope;
}

static void send(struct roof_house *house, const struct roof_cell *cell,
                 const struct stream *arriving) {
    struct stream own = *arriving;
    const struct stream *stream = &own;
    if (cell->bare) {
        cross_bare(house, cell, &own);
    }
    switch (cell->way) {
    case ROOF_WAY_EAVE:
        reach_eave(house, cell, stream);
        break;
    case ROOF_WAY_ON:
        send_on(house, cell, stream);
        break;
    case ROOF_WAY_GROUND:
        link_over(house, stream->over, ROOF_END_GROUND, ROOF_NONE, area_of(stream));
        house->ground_m2 += area_of(stream);
        break;
    case ROOF_WAY_DRIP:
    case ROOF_WAY_TROUGH:
        pour(house, cell, stream);
        break;
    case ROOF_WAY_STRAY:
        lose(house, low_place(house, cell, 0.5), area_of(stream));
        break;
    }
}

static void send_cell(struct roof_house *house, const struct roof_cell *cell) {
    struct stream stream = {.pitch_1 = house->slopes[cell->slope].pitch_1, .over = ROOF_NONE};
    for (int end = 0; end < 2; end++) {
        stream.s_m[end] = cell->s_m[end];
        stream.width_m[end] = fmax(cell->high_m[end] - cell->low_m[end], 0);
    }
    double area_m2 = area_of(&stream);
    if (!(area_m2 > 0)) {
        return;
    }
    for (int end = 0; end < 2; end++) { /* not a drop is lost to rounding at the cuts */
        stream.width_m[end] *= cell->area_m2 / area_m2;
    }
    send(house, cell, &stream);
}

void roof_send_wall(struct roof_house *house, const struct roof_cell *cell, const double s_m[2],
                    const double width_m[2]) {
    const struct stream stream = {.s_m = {s_m[0], s_m[1]},
                                  .width_m = {width_m[0], width_m[1]},
                                  .pitch_1 = house->slopes[cell->slope].pitch_1,
                                  .wall = true,
                                  .over = ROOF_NONE};
    send(house, cell, &stream);
}

static size_t eave_named(const struct roof *roof, struct base_text name) {
    size_t i = 0;
    while (i + 1 < roof->eave_count && !base_text_equal(roof->eaves[i].name, name)) {
        i++;
    }
    return i;
}

static bool comes_before(const struct roof *roof, const struct roof_pour *one,
                         const struct roof_pour *two) {
    size_t a = eave_named(roof, one->onto);
    size_t b = eave_named(roof, two->onto);
    return a != b ? a < b : one->x_m < two->x_m;
}

/* Pours are named in walking order, by the wing whose eave they fall on. */
static void name_pours(struct roof_house *house, size_t first) {
    struct roof *roof = house->build->roof;
    for (size_t i = first; i < roof->pour_count; i++) { /* few: insertion keeps their order */
        struct roof_pour moving = roof->pours[i];
        size_t at = i;
        while (at > first && comes_before(roof, &moving, &roof->pours[at - 1])) {
            roof->pours[at] = roof->pours[at - 1];
            at--;
        }
        roof->pours[at] = moving;
    }
    int number = 0;
    size_t wing = ROOF_NONE;
    for (size_t i = first; i < roof->pour_count; i++) {
        size_t here = roof->eaves[eave_named(roof, roof->pours[i].onto)].wing;
        number = here == wing ? number + 1 : 1;
        wing = here;
        roof->pours[i].from = roof_name_pour(house->build, house->build->job->wings[here].name,
                                             roof->pours[i].drip ? ".drip." : ".valley.", number);
    }
}

void roof_send_water(struct roof_house *house) {
    size_t first = house->build->roof->pour_count;
    measure_lower_sides(house);
    for (size_t i = 0; i < house->cell_count && !house->build->failed; i++) {
        if (house->cells[i].way == ROOF_WAY_TROUGH) {
            trace_trough(house, &house->cells[i]);
        } else if (house->cells[i].way == ROOF_WAY_DRIP) {
            trace_drip(house, &house->cells[i]);
        }
    }
    for (size_t i = 0; i < house->cell_count && !house->build->failed; i++) {
        send_cell(house, &house->cells[i]);
    }
    roof_add_walls(house);
    name_pours(house, first);
}
