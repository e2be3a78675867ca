/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Saddles (crickets): where a wall stands straight across a slope that falls towards it, two small
 * slopes behind it lead the water round both its sides. A saddle is a wing like any other, made
 * here: two eave edges at the wall's two corners, at the height of the slope there; what of it
 * rises above that slope is seen. With w the wall's width, p the saddle's pitch and P the slope's,
 * its ridge stands p w / 2 over the wall's foot and dies in the slope p w / (2 P) behind it.
 * Source: plane geometry.
 */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

#define ROOF_SADDLE_OVER_M 0.05 /* a saddle's plan runs on so far into the slope it dies in */
#define ROOF_SHORT_WALL_M  0.05 /* a narrower wall needs none */

struct wall_across {
    struct geometry_point from; /* the edge's left end */
    struct geometry_point along;
    struct geometry_point out;
    double length_m;
    double foot_z_m;
    double slope_1; /* of the roof that falls towards it */
};

/* The edge stands straight across a slope of another wing that falls towards it. */
static bool find_across(const struct roof_house *house, size_t wing, size_t edge,
                        struct wall_across *wall) {
    const struct roof_plan *plan = &house->plans[wing];
    struct geometry_point a = plan->corners[edge];
    struct geometry_point b = plan->corners[(edge + 1) % plan->count];
    *wall = (struct wall_across){.from = a, .length_m = geometry_distance(a, b)};
    if (wall->length_m < ROOF_SHORT_WALL_M) {
        return false;
    }
    wall->along = geometry_scale(geometry_subtract(b, a), 1 / wall->length_m);
    wall->out = (struct geometry_point){wall->along.y_m, -wall->along.x_m};
    struct geometry_point middle = geometry_scale(geometry_add(a, b), 0.5);
    struct geometry_point probe = geometry_scale(wall->out, ROOF_PROBE_M);
    size_t outside = roof_seen_at(house, geometry_add(middle, probe));
    size_t inside = roof_seen_at(house, geometry_subtract(middle, probe));
    if (outside == ROOF_NONE || inside == ROOF_NONE || house->slopes[inside].wing != wing) {
        return false;
    }
    const struct roof_slope *slope = &house->slopes[outside];
    wall->foot_z_m = geometry_height(slope->plane, middle);
    wall->slope_1 = slope->pitch_1;
    return slope->wing != wing && !slope->flat && slope->pitch_1 > 0 &&
           geometry_dot(slope->inward, wall->out) > 1 - 1e-6 &&
           geometry_height(house->slopes[inside].plane, middle) > wall->foot_z_m + ROOF_LEVEL_M;
}

static void make_saddle(const struct job_wing *owner, const struct wall_across *wall,
                        struct job_wing *saddle) {
    double pitch_1 = owner->saddle.value;
    double behind_m = 0.5 * pitch_1 * wall->length_m / wall->slope_1 + ROOF_SADDLE_OVER_M;
    *saddle =
        (struct job_wing){.name = owner->name,
                          .mark = owner->mark,
                          .corner_x_tick = units_tick_of_m(wall->from.x_m),
                          .corner_y_tick = units_tick_of_m(wall->from.y_m),
                          .width = {.given = true, .tick = units_tick_of_m(behind_m)},
                          .depth = {.given = true, .tick = units_tick_of_m(wall->length_m)},
                          .turn_rad = atan2(wall->out.y_m, wall->out.x_m),
                          .eave_height = {.given = true, .tick = units_tick_of_m(wall->foot_z_m)},
                          .pitch = owner->saddle,
                          .edges = {JOB_EDGE_EAVE, JOB_EDGE_GABLE, JOB_EDGE_EAVE, JOB_EDGE_GABLE},
                          .no_gutter = {true, false, true, false}};
}

bool roof_wants_saddles(const struct job *job) {
    bool wanted = false;
    for (size_t i = 0; i < job->wing_count; i++) {
        wanted = wanted || job->wings[i].saddle.given;
    }
    return wanted;
}

bool roof_make_saddles(const struct roof_house *plain, struct job *job, size_t *owners) {
    struct roof_build *build = plain->build;
    size_t said = job->wing_count;
    struct job_wing *wings = base_take(build->arena, said * (JOB_EDGES_MAX + 1), sizeof *wings);
    if (wings == NULL) {
        build->failed = true;
        return false;
    }
    for (size_t i = 0; i < said; i++) {
        wings[i] = job->wings[i];
    }
    size_t count = said;
    for (size_t i = 0; i < said; i++) {
        size_t before = count;
        for (size_t edge = 0; wings[i].saddle.given && edge < plain->plans[i].count; edge++) {
            struct wall_across wall;
            if (find_across(plain, i, edge, &wall)) {
                owners[count] = i;
                make_saddle(&wings[i], &wall, &wings[count++]);
            }
        }
        if (wings[i].saddle.given && count == before) {
            roof_say(build, BASE_ISSUE_ROOF_SADDLE_NOWHERE, wings[i].mark, wings[i].name,
                     (struct base_value){0});
        }
    }
    job->wings = wings;
    job->wing_count = count;
    return true;
}

void roof_own_saddles(struct roof *roof, size_t said, const size_t *owners) {
    for (size_t i = 0; i < roof->face_count; i++) {
        struct roof_face *face = &roof->faces[i];
        if (face->wing != ROOF_NONE && face->wing >= said) {
            face->wing = owners[face->wing];
            face->edge = 0;
        }
    }
    for (size_t i = 0; i < roof->link_count; i++) {
        struct roof_link *link = &roof->links[i];
        if (link->wing != ROOF_NONE && link->wing >= said) {
            link->wing = owners[link->wing];
            link->edge = 0;
        }
        if (link->end == ROOF_END_ROOF && link->onto >= said) {
            link->onto = owners[link->onto];
        }
    }
}
