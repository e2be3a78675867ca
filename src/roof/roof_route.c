/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Sends the rain of every cell down: straight to an eave as inflow spread along it, or by a trough
 * (a valley, the foot of a wall) as a pour at one place.
 */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

enum { ROOF_DEPTH_MAX = 48 };

/* ---- sending ------------------------------------------------------------------------------------
 */

/* Rain on its way down a strip: m2 of plan per metre between two cuts, linear. */
struct stream {
    double s_m[2];
    double width_m[2];
    double pitch_1; /* of the roof it fell on */
    int depth;
    bool wall;                    /* it ran down a wall */
    const struct roof_cell *from; /* whose rain it is, and between which of its places s */
    double from_s_m[2];
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
                                 .bare = !slope->flat,
                                 .scupper = slope->flat,
                                 .end = end,
                                 .onto = onto,
                                 .area_m2 = area_m2};
        if (slope->flat) {
            const struct job_deck *deck = &house->build->job->wings[slope->wing].deck;
            link.x_m = units_m_of_tick(deck->at.tick);
            link.at = roof_place(slope, link.x_m, 0);
        }
        roof_add_link(house->build, &link);
    }
}

static void pour(struct roof_house *house, const struct roof_cell *cell,
                 const struct stream *stream) {
    double area_m2 = area_of(stream);
    if (cell->spout_count == 0 && cell->to_ground) {
        link_over(house, stream->over, ROOF_END_GROUND, ROOF_NONE, area_m2);
        house->ground_m2 += area_m2;
        return;
    }
    if (cell->spout_count == 0) {
        lose(house, cell->lost_at, area_m2);
        return;
    }
    struct roof_pour water = {.plan_area_m2 = area_m2 / (double)cell->spout_count,
                              .pitch_1 = stream->pitch_1,
                              .drip = cell->way != ROOF_WAY_TROUGH};
    water.wall_area_m2 = stream->wall ? water.plan_area_m2 : 0;
    for (size_t i = 0; i < cell->spout_count; i++) {
        link_over(house, stream->over, ROOF_END_EAVE, cell->spouts[i].eave, water.plan_area_m2);
        water.x_m = cell->spouts[i].x_m;
        water.onto = house->build->roof->eaves[cell->spouts[i].eave].name;
        roof_pour(house->build, &water);
    }
}

static void reach_eave(struct roof_house *house, const struct roof_cell *cell,
                       const struct stream *stream) {
    const struct roof_part *part = &house->parts[cell->part];
    struct roof_inflow inflow = {.eave = part->eave, .wall = stream->wall, .from = stream->from};
    link_over(house, stream->over, ROOF_END_EAVE, part->eave, area_of(stream));
    for (int end = 0; end < 2; end++) {
        inflow.x_m[end] = part->x_m + stream->s_m[end] - part->s_m[0];
        inflow.width_m[end] = stream->width_m[end];
        inflow.from_s_m[end] = stream->from_s_m[end];
    }
    roof_take_in(house->build, &house->inflows, &inflow, stream->pitch_1);
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
                          .from = stream->from,
                          .over = stream->over};
    for (int end = 0; end < 2; end++) {
        double part = end == 0 ? from : to;
        double here_m = stream->s_m[0] + part * (stream->s_m[1] - stream->s_m[0]);
        share[end] = (here_m - cell->s_m[0]) / span_m;
        s_m[end] =
            roof_along(&house->slopes[cell->beyond], roof_low_place(house, cell, share[end]));
        next.width_m[end] = stream->width_m[0] + part * (stream->width_m[1] - stream->width_m[0]);
    }
    double stretch_1 = (to - from) * fabs(stream->s_m[1] - stream->s_m[0]) / fabs(s_m[1] - s_m[0]);
    int first = s_m[0] < s_m[1] ? 0 : 1;
    double width_m[2] = {next.width_m[first] * stretch_1, next.width_m[1 - first] * stretch_1};
    for (int end = 0; end < 2; end++) {
        double part = (end == 0 ? first : 1 - first) == 0 ? from : to;
        next.s_m[end] = s_m[end == 0 ? first : 1 - first];
        next.width_m[end] = width_m[end];
        next.from_s_m[end] =
            stream->from_s_m[0] + part * (stream->from_s_m[1] - stream->from_s_m[0]);
    }
    const struct roof_cell *onto = roof_cell_beyond_at(house, cell, 0.5 * (share[0] + share[1]));
    if (onto == NULL || next.depth > ROOF_DEPTH_MAX) {
        lose(house, roof_low_place(house, cell, 0.5 * (share[0] + share[1])), area_of(&next));
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
        end_m[end] = roof_along(beyond, roof_low_place(house, cell, share));
    }
    double from = 0;
    while (from < 1 && !house->build->failed) {
        double to = 1;
        house->build->roof->looks += beyond->end_cell - beyond->first_cell;
        for (size_t i = beyond->first_cell; i < beyond->end_cell; i++) {
            for (int end = 0; end < 2; end++) {
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
    if (cell->bare || cell->way == ROOF_WAY_SCUPPER) {
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
    case ROOF_WAY_SCUPPER:
    case ROOF_WAY_TROUGH:
        pour(house, cell, stream);
        break;
    case ROOF_WAY_STRAY:
        lose(house, roof_low_place(house, cell, 0.5), area_of(stream));
        break;
    }
}

static void send_cell(struct roof_house *house, const struct roof_cell *cell) {
    struct stream stream = {.pitch_1 = house->slopes[cell->slope].pitch_1,
                            .from = cell,
                            .from_s_m = {cell->s_m[0], cell->s_m[1]},
                            .over = ROOF_NONE};
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

/* Pours are named in walking order, by the wing whose eave they fall on. */
static void name_pours(struct roof_house *house, size_t first) {
    struct roof *roof = house->build->roof;
    roof_sort_pours(roof, first);
    int number = 0;
    size_t wing = ROOF_NONE;
    for (size_t i = first; i < roof->pour_count; i++) {
        size_t here = roof->eaves[roof_eave_named(roof, roof->pours[i].onto)].wing;
        number = here == wing ? number + 1 : 1;
        wing = here;
        roof->pours[i].from = roof_name_pour(house->build, house->build->job->wings[here].name,
                                             roof->pours[i].drip ? ".drip." : ".valley.", number);
    }
}

void roof_send_water(struct roof_house *house) {
    size_t first = house->build->roof->pour_count;
    roof_trace_cells(house);
    house->inflows.room = house->cell_count;
    house->inflows.items =
        base_take(house->build->arena, house->cell_count, sizeof *house->inflows.items);
    house->build->failed = house->build->failed || house->inflows.items == NULL;
    for (size_t i = 0; i < house->cell_count && !house->build->failed; i++) {
        send_cell(house, &house->cells[i]);
    }
    roof_add_walls(house);
    name_pours(house, first);
}
