/* SPDX-License-Identifier: Apache-2.0 */
/* One cross-section: critical depth, momentum, and the depth that closes one step of the march. */
#include "hydraulics/hydraulics_inside.h"

#include <assert.h>
#include <math.h>

static const double CRITICAL_SHARE = 1e-12; /* of the flow */
static const double STEP_SHARE = 1e-11;     /* of the depth: a root that moves by less is found */
enum { ROOT_TRIES = 200 };

static struct section_wet find_gutter_wet(const void *context, double depth_m) {
    return section_find_wet(context, depth_m);
}

struct hydraulics_shape hydraulics_gutter_shape(const struct section_gutter *section) {
    return (struct hydraulics_shape){find_gutter_wet, section, section_full_depth(section)};
}

const struct section_gutter *hydraulics_shape_gutter(const struct hydraulics_shape *shape) {
    return shape->find_wet == find_gutter_wet ? shape->context : NULL;
}

static struct section_wet find_wet(struct hydraulics_reach *reach, double depth_m) {
    reach->work.wets++;
    return reach->shape.find_wet(reach->shape.context, depth_m);
}

/* The flow that is critical in a wet shape: Q^2 T = g A^3, without squaring a tiny Q. */
static double find_critical_flow(const struct section_wet *wet) {
    return wet->area_m2 * sqrt(HYDRAULICS_GRAVITY_MPS2 * wet->area_m2 / wet->top_width_m);
}

struct hydraulics_reach hydraulics_make_reach(struct hydraulics_shape shape, double slope_1,
                                              double manning_1) {
    assert(shape.top_m > 0 && slope_1 >= 0 && manning_1 >= 0);
    struct hydraulics_reach reach = {.shape = shape, .slope_1 = slope_1, .manning_1 = manning_1};
    reach.brim = find_wet(&reach, shape.top_m);
    reach.brim_flow_m3s = find_critical_flow(&reach.brim);
    return reach;
}

static double find_friction(const struct hydraulics_reach *reach, const struct section_wet *wet,
                            double flow_m3s) {
    double radius_m = wet->area_m2 / wet->perimeter_m;
    double root = reach->manning_1 * flow_m3s / wet->area_m2;
    return root * root / (radius_m * cbrt(radius_m));
}

static struct hydraulics_state make_state(const struct hydraulics_reach *reach,
                                          const struct section_wet *wet, double flow_m3s,
                                          double depth_m) {
    if (!(wet->area_m2 > 0)) {
        return (struct hydraulics_state){.depth_m = 0};
    }
    double speed_mps = flow_m3s / wet->area_m2;
    return (struct hydraulics_state){
        .depth_m = depth_m,
        .momentum_m3 = flow_m3s * speed_mps / HYDRAULICS_GRAVITY_MPS2 + wet->moment_m3,
        .push_m2 = wet->area_m2 * (reach->slope_1 - find_friction(reach, wet, flow_m3s)),
        .rise_m2 =
            wet->area_m2 - speed_mps * speed_mps * wet->top_width_m / HYDRAULICS_GRAVITY_MPS2};
}

struct hydraulics_state hydraulics_state_at(struct hydraulics_reach *reach, double flow_m3s,
                                            double depth_m) {
    struct section_wet wet = find_wet(reach, depth_m);
    return make_state(reach, &wet, flow_m3s, depth_m);
}

struct hydraulics_state hydraulics_brim_state(const struct hydraulics_reach *reach,
                                              double flow_m3s) {
    return make_state(reach, &reach->brim, flow_m3s, reach->shape.top_m);
}

/*
 * Secant on logarithms: critical flow is nearly a power of depth (2 in a half-round, 1.5 in a box,
 * 2.5 in a vee), so three or four evaluations do. A bracket holds it.
 */
struct hydraulics_critical hydraulics_find_critical(struct hydraulics_reach *reach, double flow_m3s,
                                                    double near_m) {
    if (flow_m3s <= 0) {
        return (struct hydraulics_critical){.above_top = false};
    }
    if (flow_m3s >= reach->brim_flow_m3s) {
        return (struct hydraulics_critical){.state = hydraulics_brim_state(reach, flow_m3s),
                                            .area_m2 = reach->brim.area_m2,
                                            .above_top = true};
    }
    double low = 0;
    double high = reach->shape.top_m;
    double power = 2;
    double depth =
        near_m > 0 && near_m < high ? near_m : high * sqrt(flow_m3s / reach->brim_flow_m3s);
    double last_log = 0;
    double last_miss = 0;
    struct section_wet wet = find_wet(reach, depth);
    for (int i = 0; i < ROOT_TRIES; i++) {
        double miss = log(flow_m3s / find_critical_flow(&wet)); /* > 0: too shallow */
        if (fabs(miss) <= CRITICAL_SHARE) {
            break;
        }
        *(miss > 0 ? &low : &high) = depth;
        double here = log(depth);
        if (i > 0 && here != last_log) {
            power = (last_miss - miss) / (here - last_log);
        }
        last_log = here;
        last_miss = miss;
        double next = depth * exp(miss / fmax(power, 0.5));
        depth = next > low && next < high ? next : (low + high) / 2;
        wet = find_wet(reach, depth);
    }
    return (struct hydraulics_critical){.state = make_state(reach, &wet, flow_m3s, depth),
                                        .area_m2 = wet.area_m2};
}

/* How fast M + half push changes with depth. An estimate will do: the bracket guards the root. */
static double find_rise(const struct hydraulics_reach *reach, const struct hydraulics_step *step,
                        const struct section_wet *wet, const struct hydraulics_state *state) {
    double friction = reach->slope_1 - state->push_m2 / wet->area_m2;
    /* the wetted perimeter gains about 2 per unit of depth (exactly so between upright sides) */
    double push =
        wet->top_width_m * reach->slope_1 +
        friction * (7.0 / 3.0 * wet->top_width_m - 4.0 / 3.0 * 2 * wet->area_m2 / wet->perimeter_m);
    return state->rise_m2 + step->half_m * push;
}

bool hydraulics_solve_step(struct hydraulics_reach *reach, const struct hydraulics_step *step,
                           struct hydraulics_state *state) {
    double low = step->low_m;
    double high = step->high_m;
    double sign = step->shooting ? -1 : 1;
    double depth = step->guess_m > low && step->guess_m < high ? step->guess_m : (low + high) / 2;
    double last = 0;
    double last_miss = 0;
    reach->work.steps++;
    for (int i = 0; i < step->tries; i++) {
        struct section_wet wet = find_wet(reach, depth);
        *state = make_state(reach, &wet, step->flow_m3s, depth);
        double kinetic_m3 = state->momentum_m3 - wet.moment_m3;
        double miss = state->momentum_m3 - step->loss_1 * kinetic_m3 +
                      step->half_m * state->push_m2 - step->target_m3;
        *(sign * miss < 0 ? &low : &high) = depth;
        double rise = find_rise(reach, step, &wet, state) +
                      step->loss_1 * kinetic_m3 * wet.top_width_m / wet.area_m2;
        if (i > 0 && sign * (miss - last_miss) * (depth - last) > 0) {
            rise = (miss - last_miss) / (depth - last); /* the secant knows what that left out */
        }
        last = depth;
        last_miss = miss;
        double next = depth - miss / rise;
        if (!(next > low && next < high)) {
            next = (low + high) / 2;
        }
        if (miss == 0 || fabs(next - depth) <= STEP_SHARE * depth) {
            return true;
        }
        depth = next;
    }
    return false;
}

double hydraulics_critical_depth(const struct section_gutter *section, double flow_m3s) {
    assert(flow_m3s >= 0);
    struct hydraulics_reach reach = hydraulics_make_reach(hydraulics_gutter_shape(section), 0, 0);
    return hydraulics_find_critical(&reach, flow_m3s, 0).state.depth_m;
}
