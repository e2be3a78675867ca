/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Walls above roofs: wind drives rain against a wall, and what runs down it comes onto the roof at
 * its foot. Codes count a share of the wall's area as so much more plan area there.
 * Source: half (the US code's sentence in a permit file's extract, FOUND; EN's half of the
 * elevation, FOUND); half, at most 10 m of height (a New Zealand code of practice, FOUND); a
 * quarter (a city's, FOUND). SRC-115.
 */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

#define ROOF_FLASHING_M                                                                            \
    0.3 /* beside a wall that runs up the roof the water keeps this near to it */

double roof_wall_width(const struct job *job, double height_m) {
    static const double COUNTED_M = 10;
    height_m = fmax(height_m, 0);
    switch (job->wall_rain) {
    case JOB_WALL_RAIN_HALF:
        return 0.5 * height_m;
    case JOB_WALL_RAIN_HALF_10_M:
        return 0.5 * fmin(height_m, COUNTED_M);
    case JOB_WALL_RAIN_QUARTER:
        return 0.25 * height_m;
    case JOB_WALL_RAIN_NONE:
        break;
    }
    return 0;
}

/* Share of the wall over both ends of the stretch; false where no wall stands. */
static bool find_widths(const struct roof_house *house, const struct roof_stretch *side,
                        double width_m[2]) {
    const struct roof_slope *own = &house->slopes[side->slope];
    const struct job *job = house->build->job;
    const struct job_wing *wing = &job->wings[own->wing];
    const struct geometry_point ends[2] = {side->from, side->to};
    if (side->beyond == ROOF_NONE) {
        int edge = roof_find_plan_edge(house, side);
        if (edge < 0 || wing->edges[edge] != JOB_EDGE_WALL || !wing->wall_above.given) {
            return false;
        }
        width_m[0] = roof_wall_width(job, units_m_of_tick(wing->wall_above.tick));
        width_m[1] = width_m[0];
        return width_m[0] > 0;
    }
    const struct roof_slope *other = &house->slopes[side->beyond];
    for (int end = 0; end < 2; end++) {
        double step_m =
            geometry_height(other->plane, ends[end]) - geometry_height(own->plane, ends[end]);
        width_m[end] = step_m > ROOF_LEVEL_M ? roof_wall_width(job, step_m) : 0;
    }
    return other->wing != own->wing && width_m[0] + width_m[1] > 0;
}

/* The wall's water on the slope: m2 a metre of the slope's own s, linear. */
struct wall_water {
    double s_m[2];
    double width_m[2];
    struct geometry_point at[2]; /* just inside the foot, at both s */
};

static double width_at(const struct wall_water *water, double s_m) {
    double share_1 = (s_m - water->s_m[0]) / (water->s_m[1] - water->s_m[0]);
    return water->width_m[0] + share_1 * (water->width_m[1] - water->width_m[0]);
}

/* Along a foot that runs up the roof all of it keeps near the wall. */
static void keep_near(const struct roof_house *house, const struct roof_stretch *side,
                      double area_m2, struct wall_water *water) {
    const struct roof_slope *own = &house->slopes[side->slope];
    double towards = geometry_dot(own->along, side->out) > 0 ? -1 : 1; /* into the roof */
    double s_m = 0.5 * (water->s_m[0] + water->s_m[1]);
    struct geometry_point middle = geometry_scale(geometry_add(water->at[0], water->at[1]), 0.5);
    const struct roof_cell *cell = roof_cell_at(house, side->slope, middle);
    double room_m = ROOF_FLASHING_M;
    if (cell != NULL) {
        room_m = fmin(room_m, towards > 0 ? cell->s_m[1] - s_m : s_m - cell->s_m[0]);
    }
    room_m = fmax(room_m, ROOF_NEAR_M);
    water->s_m[0] = towards > 0 ? s_m : s_m - room_m;
    water->s_m[1] = water->s_m[0] + room_m;
    for (int end = 0; end < 2; end++) {
        water->width_m[end] = area_m2 / room_m;
        water->at[end] = middle;
    }
}

static void order(struct wall_water *water) {
    if (water->s_m[0] > water->s_m[1]) {
        struct wall_water turned = *water;
        for (int end = 0; end < 2; end++) {
            water->s_m[end] = turned.s_m[1 - end];
            water->width_m[end] = turned.width_m[1 - end];
            water->at[end] = turned.at[1 - end];
        }
    }
}

/* Gives its area to the cells it runs onto; what finds none is not counted. */
static void send_down(struct roof_house *house, size_t slope, const struct wall_water *water) {
    double span_m = water->s_m[1] - water->s_m[0];
    size_t end_cell = house->slopes[slope].end_cell;
    for (size_t i = house->slopes[slope].first_cell; i < end_cell && !house->build->failed; i++) {
        const struct roof_cell *cell = &house->cells[i];
        double s_m[2] = {fmax(cell->s_m[0], water->s_m[0]), fmin(cell->s_m[1], water->s_m[1])};
        if (s_m[1] - s_m[0] <= ROOF_NEAR_M / 2) {
            continue;
        }
        double share_1 = (0.5 * (s_m[0] + s_m[1]) - water->s_m[0]) / span_m;
        struct geometry_point at = geometry_add(geometry_scale(water->at[0], 1 - share_1),
                                                geometry_scale(water->at[1], share_1));
        if (roof_cell_at(house, slope, at) != cell) {
            continue;
        }
        double width_m[2] = {width_at(water, s_m[0]), width_at(water, s_m[1])};
        house->build->roof->wall_area_m2 += 0.5 * (width_m[0] + width_m[1]) * (s_m[1] - s_m[0]);
        roof_send_wall(house, cell, s_m, width_m);
    }
}

static void add_wall(struct roof_house *house, const struct roof_stretch *side) {
    double width_m[2];
    if (!find_widths(house, side, width_m)) {
        return;
    }
    double length_m = geometry_distance(side->from, side->to);
    if (length_m <= ROOF_PROBE_M) {
        return;
    }
    const struct roof_slope *own = &house->slopes[side->slope];
    struct geometry_point inside = geometry_scale(side->out, -2 * ROOF_PROBE_M);
    struct wall_water water = {
        .s_m = {roof_along(own, side->from), roof_along(own, side->to)},
        .at = {geometry_add(side->from, inside), geometry_add(side->to, inside)}};
    double span_m = fabs(water.s_m[1] - water.s_m[0]);
    if (span_m < ROOF_FLASHING_M && span_m < 0.5 * length_m) {
        keep_near(house, side, 0.5 * (width_m[0] + width_m[1]) * length_m, &water);
    } else {
        for (int end = 0; end < 2; end++) {
            water.width_m[end] = width_m[end] * length_m / span_m;
        }
        order(&water);
    }
    send_down(house, side->slope, &water);
}

void roof_add_walls(struct roof_house *house) {
    if (house->build->job->wall_rain == JOB_WALL_RAIN_NONE) {
        return;
    }
    for (size_t i = 0; i < house->stretch_count; i++) {
        add_wall(house, &house->stretches[i]);
    }
}

void roof_say_walls(struct roof_build *build) {
    const struct job *job = build->job;
    if (job->wall_rain_given || build->roof->wall_area_m2 < GEOMETRY_EVENT_M) {
        return;
    }
    struct base_mark mark = job->wing_count > 0  ? job->wings[0].mark
                            : job->run_count > 0 ? job->runs[0].mark
                                                 : job->outline.mark;
    roof_say(build, BASE_ISSUE_ROOF_WALL_RAIN, mark, (struct base_text){0},
             base_value_number(BASE_UNIT_M2, build->roof->wall_area_m2));
}
