/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The downspout of each outlet: offset back to the wall, straight pipe, shoe; and whether it has a
 * wall to hold it, a free way down and a place to discharge.
 *
 *      gutter  ( o )              O  level offset, centre to centre
 *                |  tube          e  turn of each elbow
 *                 \ elbow         travel between the elbows' vertices O / sin e, drop O / tan e
 *                  \              a  leg of an elbow from its vertex
 *                   | elbow
 *                   |  pipe       Source: plane geometry; trade/copper f (offsets).
 *                   |_
 *                     ) shoe
 */
#include <math.h>

#include "layout/layout_inside.h"

/* An offset under this is taken up by the play of the joints: COMMON PRACTICE. */
#define OFFSET_LEAST_M 0.0127

struct route {
    double eave_m;     /* ground to roof edge */
    double tube_end_m; /* lower end of the outlet tube above ground */
    double back_m;     /* wall to the gutter's back edge */
    double offset_m;
    const struct job_survey *survey; /* NULL = none */
};

/* Wall to the gutter's back edge: the soffit where it was taped, else the overhang less the
 * cover's.
 */
static bool find_back(const struct layout_walk *walk, const struct roof_eave *eave,
                      const struct job_survey *survey, double *back_m) {
    if (survey != NULL && survey->soffit.given) {
        *back_m = units_m_of_tick(survey->soffit.tick);
    } else if (eave->section.soffit.given) {
        *back_m = units_m_of_tick(eave->section.soffit.tick);
    } else if (eave->has_overhang) {
        *back_m = eave->overhang_m - units_m_of_tick(layout_edge_over(walk->input->shop, eave));
    } else {
        return false;
    }
    return true;
}

static bool find_route(const struct layout_walk *walk, const struct layout_outlet *outlet,
                       struct route *route) {
    const struct shop *shop = walk->input->shop;
    const struct layout_run *run = &walk->layout->runs[outlet->run];
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    bool grounded = route->survey != NULL && route->survey->ground.given;
    if ((!grounded && !eave->has_height) || !find_back(walk, eave, route->survey, &route->back_m)) {
        return false;
    }
    const struct shop_profile *profile = &shop->profiles[walk->layout->lines[outlet->line].profile];
    double x_m = units_m_of_tick(outlet->x_tick);
    double lip_m = layout_lip_at(walk->layout, outlet->run, x_m);
    route->eave_m = grounded ? units_m_of_tick(route->survey->ground.tick) : eave->eave_height_m;
    route->tube_end_m = route->eave_m - lip_m - section_full_depth(&profile->section) -
                        units_m_of_tick(shop->outlet_tube_tick);
    /* wall to back edge, plus half the gutter, less the pipe's own stand off the wall */
    route->offset_m = route->back_m + profile->section.inside_diameter_m / 2 -
                      units_m_of_tick(layout_stand_off(shop, route->survey)) -
                      units_m_of_tick(shop->pipes[outlet->pipe].diameter_tick) / 2;
    return true;
}

/* Turn of the two elbows. Too short an offset for the usual elbow takes a flatter pair that meet
 * leg to leg. */
double layout_choose_elbow(const struct shop *shop, double offset_m) {
    double legs_m = 2 * units_m_of_tick(shop->elbow_leg_tick);
    if (fabs(offset_m) < OFFSET_LEAST_M) {
        return 0.0;
    }
    double travel_m = fabs(offset_m) / sin(shop->elbow_rad);
    return travel_m >= legs_m ? shop->elbow_rad : asin(fabs(offset_m) / legs_m);
}

/* Lengths in whole ticks of the shop's rounding: a bench hand cuts to a sixteenth. */
int64_t layout_rounded(const struct shop *shop, double length_m) {
    int64_t quantum = shop->style.round_tick;
    int64_t tick = units_tick_of_m(length_m);
    return (tick + (tick >= 0 ? quantum / 2 : -(quantum / 2))) / quantum * quantum;
}

/* Lower end of the straight pipe above ground: in the shoe's upper leg, or down in the drain's
 * boot. */
static double pipe_bottom(const struct shop *shop, enum job_discharge discharge) {
    switch (discharge) {
    case JOB_DISCHARGE_DRAIN:
        return 0.0;
    case JOB_DISCHARGE_SPLASH_BLOCK:
    case JOB_DISCHARGE_BARREL:
    case JOB_DISCHARGE_NONE:
        break;
    }
    return units_m_of_tick(shop->foot_tick) + 2 * units_m_of_tick(shop->elbow_leg_tick) -
           units_m_of_tick(shop->pipe_lap_tick);
}

static bool fill_downspout(const struct layout_walk *walk, const struct route *route,
                           struct layout_downspout *pipe) {
    const struct shop *shop = walk->input->shop;
    double lap_m = units_m_of_tick(shop->pipe_lap_tick);
    double leg_m = units_m_of_tick(shop->elbow_leg_tick);
    pipe->measured = true;
    pipe->offset_tick = layout_rounded(shop, route->offset_m);
    pipe->elbow_rad = layout_choose_elbow(shop, route->offset_m);
    double top_m = route->tube_end_m + lap_m; /* the pipe slips over the tube */
    if (pipe->elbow_rad > 0.0) {
        double travel_m = fabs(route->offset_m) / sin(pipe->elbow_rad);
        double straight_m = travel_m - 2 * leg_m;
        pipe->travel_tick = straight_m > 1e-6 ? layout_rounded(shop, straight_m + 2 * lap_m) : 0;
        double drop_m = travel_m * cos(pipe->elbow_rad);
        top_m = route->tube_end_m + lap_m - leg_m - drop_m - leg_m + lap_m;
    }
    pipe->foot_tick = shop->foot_tick;
    pipe->bottom_tick =
        layout_rounded(shop, pipe_bottom(shop, walk->layout->outlets[pipe->outlet].discharge));
    pipe->top_tick = layout_rounded(shop, top_m);
    pipe->ground_tick = units_tick_of_m(route->eave_m);
    pipe->back_tick = units_tick_of_m(route->back_m);
    return layout_split_pipe(walk, route->survey, pipe);
}

static struct geometry_point under_outlet(const struct layout_walk *walk,
                                          const struct layout_outlet *outlet) {
    const struct layout_run *run = &walk->layout->runs[outlet->run];
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    struct geometry_point along = geometry_subtract(eave->to, eave->from);
    double length_m = fmax(geometry_distance(eave->from, eave->to), 1e-9);
    double x_m = units_m_of_tick(outlet->x_tick - run->shift_tick);
    struct geometry_point at = geometry_add(eave->from, geometry_scale(along, x_m / length_m));
    /* outwards is to the right hand of the walk */
    struct geometry_point out = {along.y_m / length_m, -along.x_m / length_m};
    return geometry_add(at, geometry_scale(out, 0.06));
}

static void refuse(struct layout_walk *walk, enum base_issue_code code,
                   const struct layout_outlet *outlet, struct base_text other) {
    base_add_issue(walk->issues, (struct base_issue){.code = code,
                                                     .mark = outlet->mark,
                                                     .object = outlet->name,
                                                     .other = base_value_text(other)});
}

/* Into a lower gutter: it must be lower. The pipe's way over the roof between is cut on site. */
static void check_way_onto(struct layout_walk *walk, const struct layout_outlet *outlet) {
    const struct layout_run *from = &walk->layout->runs[outlet->run];
    const struct layout_run *onto = &walk->layout->runs[outlet->onto_run];
    const struct roof_eave *upper = &walk->input->roof->eaves[from->eave];
    const struct roof_eave *lower = &walk->input->roof->eaves[onto->eave];
    if (upper->has_height && lower->has_height && lower->eave_height_m >= upper->eave_height_m) {
        refuse(walk, BASE_ISSUE_OUTLET_ONTO_HIGHER, outlet, onto->name);
    }
    refuse(walk, BASE_ISSUE_OUTLET_ONTO_LOWER, outlet, onto->name);
}

static void check_way_down(struct layout_walk *walk, const struct layout_outlet *outlet) {
    const struct layout_run *run = &walk->layout->runs[outlet->run];
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    if (eave->no_wall) {
        refuse(walk, BASE_ISSUE_OUTLET_HAS_NO_WALL, outlet, run->name);
    }
    if (outlet->discharge == JOB_DISCHARGE_NONE) {
        refuse(walk, BASE_ISSUE_OUTLET_HAS_NO_DISCHARGE, outlet, run->name);
    }
    if (eave->wing != SIZE_MAX && eave->has_height) {
        size_t below = roof_find_below(walk->input->roof, walk->input->job,
                                       under_outlet(walk, outlet), eave->eave_height_m, eave->wing);
        if (below != SIZE_MAX) {
            refuse(walk, BASE_ISSUE_OUTLET_OVER_A_ROOF, outlet,
                   walk->input->job->wings[below].name);
        }
    }
}

/* Every straight piece must be longer than the laps at its two ends. */
static bool has_room(const struct shop *shop, const struct layout_downspout *pipe) {
    for (size_t i = 0; i <= pipe->jog_count; i++) {
        const struct layout_straight *straight = &pipe->straights[i];
        if (straight->top_tick - straight->bottom_tick <= 2 * shop->pipe_lap_tick) {
            return false;
        }
    }
    return true;
}

static bool route_one(struct layout_walk *walk, size_t index) {
    struct layout *layout = walk->layout;
    struct layout_outlet *outlet = &layout->outlets[index];
    struct layout_downspout *pipe = &layout->downspouts[index];
    struct route route = {.survey = layout_find_survey(walk, outlet)};
    *pipe = (struct layout_downspout){.outlet = index, .survey = SIZE_MAX};
    if (outlet->onto_run != SIZE_MAX) {
        check_way_onto(walk, outlet);
        return true;
    }
    if (route.survey != NULL) {
        pipe->survey = (size_t)(route.survey - walk->input->job->surveys);
        layout_take_foot(walk, outlet, route.survey);
    }
    check_way_down(walk, outlet);
    if (!find_route(walk, outlet, &route)) {
        refuse(walk, BASE_ISSUE_DOWNSPOUT_NOT_MEASURED, outlet, layout->runs[outlet->run].name);
        return true;
    }
    if (!fill_downspout(walk, &route, pipe)) {
        return false;
    }
    if (!has_room(walk->input->shop, pipe)) {
        refuse(walk, BASE_ISSUE_NO_HEIGHT_FOR_DOWNSPOUT, outlet, layout->runs[outlet->run].name);
    }
    return true;
}

enum base_status layout_route(struct layout_walk *walk) {
    struct layout *layout = walk->layout;
    layout->downspouts = base_take(walk->arena, layout->outlet_count, sizeof *layout->downspouts);
    if (layout->downspouts == NULL) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < layout->outlet_count; i++) {
        if (!route_one(walk, i)) {
            return BASE_NO_MEMORY;
        }
    }
    layout_check_surveys(walk);
    return BASE_OK;
}
