/* SPDX-License-Identifier: Apache-2.0 */
#include "unsteady.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>

static const double GRAVITY = HYDRAULICS_GRAVITY_MPS2;
static const double FILM_M = 1e-6;
static const double COURANT_1 = 0.45;

/* ---- shape ----------------------------------------------------------------------------------- */

static struct section_wet find_wet(const struct unsteady *water, double depth_m) {
    if (water->section == NULL) {
        return (struct section_wet){depth_m, 1.0, 1.0, depth_m * depth_m / 2};
    }
    const double full_m = section_full_depth(water->section);
    const double over_m = fmax(depth_m - full_m, 0);
    struct section_wet wet = section_find_wet(water->section, fmin(depth_m, full_m));
    wet.moment_m3 += wet.area_m2 * over_m + wet.top_width_m * over_m * over_m / 2;
    wet.area_m2 += wet.top_width_m * over_m;
    wet.perimeter_m += 2 * over_m;
    return wet;
}

static double find_depth(const struct unsteady *water, double area_m2, double near_m) {
    double depth_m = fmax(near_m, FILM_M / 10);
    for (int i = 0; i < 60; i++) {
        const struct section_wet wet = find_wet(water, depth_m);
        const double step_m = (area_m2 - wet.area_m2) / wet.top_width_m;
        depth_m = fmax(depth_m + step_m, depth_m / 4); /* Newton from below may shoot to 0 */
        if (fabs(step_m) < 1e-13 + 1e-12 * depth_m) {
            break;
        }
    }
    return depth_m;
}

static double wave_speed(const struct section_wet *wet) {
    return sqrt(GRAVITY * wet->area_m2 / wet->top_width_m);
}

/* ---- fluxes ---------------------------------------------------------------------------------- */

struct state {
    double depth_m;
    double speed_mps;
    struct section_wet wet;
};

struct flux {
    double mass;
    double momentum;
};

static struct state make_state(const struct unsteady *water, double depth_m, double speed_mps) {
    return (struct state){depth_m, speed_mps, find_wet(water, depth_m)};
}

static struct flux flux_of(const struct state *state) {
    const double flow = state->wet.area_m2 * state->speed_mps;
    return (struct flux){flow, flow * state->speed_mps + GRAVITY * state->wet.moment_m3};
}

static struct flux join(const struct state *left, const struct state *right) {
    const double left_c = wave_speed(&left->wet);
    const double right_c = wave_speed(&right->wet);
    const double slow = fmin(left->speed_mps - left_c, right->speed_mps - right_c);
    const double fast = fmax(left->speed_mps + left_c, right->speed_mps + right_c);
    const struct flux a = flux_of(left);
    const struct flux b = flux_of(right);
    if (slow >= 0) {
        return a;
    }
    if (fast <= 0) {
        return b;
    }
    const double both = slow * fast / (fast - slow);
    return (struct flux){(fast * a.mass - slow * b.mass) / (fast - slow) +
                             both * (right->wet.area_m2 - left->wet.area_m2),
                         (fast * a.momentum - slow * b.momentum) / (fast - slow) +
                             both * (b.mass - a.mass)};
}

/* ---- the outlet ------------------------------------------------------------------------------ */

/* Integral of c/A dA between two depths: Gauss's five points. */
static double riemann_between(const struct unsteady *water, double from_m, double to_m) {
    static const double AT[] = {0, 0.5384693101056831, 0.9061798459386640};
    static const double WEIGHT[] = {0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
    double sum = 0;
    for (int i = 0; i < 5; i++) {
        const int row = (i + 1) / 2;
        const double side = i % 2 == 0 ? AT[row] : -AT[row];
        const struct section_wet wet =
            find_wet(water, (from_m + to_m) / 2 + side * (to_m - from_m) / 2);
        sum += WEIGHT[row] * sqrt(GRAVITY * wet.top_width_m / wet.area_m2);
    }
    return sum * (to_m - from_m) / 2;
}

/* The speed behind the wave that runs up from the outlet and leaves that depth: a jump where it is
 * deeper, a smooth wave where it is shallower. */
static double speed_behind(const struct unsteady *water, const struct state *from, double depth_m) {
    if (depth_m <= from->depth_m) {
        return from->speed_mps - riemann_between(water, from->depth_m, depth_m);
    }
    const struct section_wet wet = find_wet(water, depth_m);
    const double push = GRAVITY * (wet.moment_m3 - from->wet.moment_m3) *
                        (wet.area_m2 - from->wet.area_m2) / (wet.area_m2 * from->wet.area_m2);
    return from->speed_mps - sqrt(fmax(push, 0));
}

/* What the wave brings at a depth less what may leave there: falls as the depth rises. */
static double excess_at(const struct unsteady *water, const struct state *from, double depth_m,
                        bool critical) {
    const struct section_wet wet = find_wet(water, depth_m);
    const double arrives = speed_behind(water, from, depth_m);
    const double leaves =
        critical ? wave_speed(&wet)
                 : hydraulics_outlet_flow(water->outlet_m, depth_m, water->strained) / wet.area_m2;
    return arrives - leaves;
}

static struct state solve_end(const struct unsteady *water, const struct state *from,
                              bool critical) {
    double low_m = from->depth_m / 1000;
    double high_m = water->section == NULL ? 10.0 : 4 * section_full_depth(water->section);
    for (int i = 0; i < 50; i++) {
        const double middle_m = (low_m + high_m) / 2;
        if (excess_at(water, from, middle_m, critical) > 0) {
            low_m = middle_m;
        } else {
            high_m = middle_m;
        }
    }
    return make_state(water, low_m, speed_behind(water, from, low_m));
}

static struct state find_end(const struct unsteady *water, const struct state *from) {
    const bool shoots = from->speed_mps >= wave_speed(&from->wet);
    struct state end = *from;
    switch (water->end) {
    case UNSTEADY_OPEN:
        return end;
    case UNSTEADY_FREE:
        return shoots ? end : solve_end(water, from, true);
    case UNSTEADY_OUTLET:
        break;
    }
    end = solve_end(water, from, false);
    if (shoots) {
        /* a jump that would be swept out of the end is none */
        const double grown = end.wet.area_m2 - from->wet.area_m2;
        const double stays = end.wet.area_m2 * end.speed_mps - from->wet.area_m2 * from->speed_mps;
        return grown > 0 && stays < 0 ? end : *from;
    }
    return end.speed_mps > wave_speed(&end.wet) ? solve_end(water, from, true) : end;
}

/* ---- one step -------------------------------------------------------------------------------- */

struct rates {
    double area[UNSTEADY_CELLS_MAX];
    double flow[UNSTEADY_CELLS_MAX]; /* without friction */
    double drag[UNSTEADY_CELLS_MAX]; /* friction over flow, 1/s */
    double end_flow_m3s;
};

/* van Leer's limiter: second order where it is smooth, flat at an extreme. */
static double limit(double before, double after) {
    return before * after > 0 ? 2 * before * after / (before + after) : 0;
}

/* At the ends that of the neighbour: looking out further would feed on itself beside a free end. */
static double slope_of(const double *values, size_t cell, size_t cells) {
    const size_t at = cell == 0 ? 1 : cell + 1 == cells ? cells - 2 : cell;
    return limit(values[at] - values[at - 1], values[at + 1] - values[at]);
}

static void find_states(const struct unsteady *water, struct state *lefts, struct state *rights) {
    static double speed[UNSTEADY_CELLS_MAX];
    for (size_t i = 0; i < water->cells; i++) {
        speed[i] = water->flow_m3s[i] / water->area_m2[i];
    }
    for (size_t i = 0; i < water->cells; i++) {
        const double most_m = 0.9 * water->depth_m[i]; /* no face below a tenth: never dry */
        double half_m = slope_of(water->depth_m, i, water->cells) / 2;
        half_m = fmax(fmin(half_m, most_m), -most_m);
        const double half_mps = slope_of(speed, i, water->cells) / 2;
        lefts[i] = make_state(water, water->depth_m[i] - half_m, speed[i] - half_mps);
        rights[i] = make_state(water, water->depth_m[i] + half_m, speed[i] + half_mps);
    }
}

static double find_drag(const struct unsteady *water, size_t cell) {
    const struct section_wet wet = find_wet(water, water->depth_m[cell]);
    const double speed = fabs(water->flow_m3s[cell]) / wet.area_m2;
    const double radius_m = wet.area_m2 / wet.perimeter_m;
    return GRAVITY * water->manning_1 * water->manning_1 * speed / (radius_m * cbrt(radius_m));
}

static void find_rates(const struct unsteady *water, double factor_1, struct rates *rates) {
    static struct state lefts[UNSTEADY_CELLS_MAX];  /* of each cell: its left face */
    static struct state rights[UNSTEADY_CELLS_MAX]; /* and its right one */
    const double cell_m = water->length_m / (double)water->cells;
    find_states(water, lefts, rights);
    struct state mirror = lefts[0]; /* the closed end */
    mirror.speed_mps = -mirror.speed_mps;
    struct flux in = join(&mirror, &lefts[0]);
    for (size_t i = 0; i < water->cells; i++) {
        struct flux out;
        if (i + 1 < water->cells) {
            out = join(&rights[i], &lefts[i + 1]);
        } else {
            const struct state end = find_end(water, &rights[i]);
            out = flux_of(&end);
            rates->end_flow_m3s = out.mass;
        }
        const double middle_m2 =
            (lefts[i].wet.area_m2 + 4 * water->area_m2[i] + rights[i].wet.area_m2) / 6;
        rates->area[i] = (in.mass - out.mass) / cell_m + factor_1 * water->lateral_m2s[i];
        rates->flow[i] =
            (in.momentum - out.momentum) / cell_m + GRAVITY * middle_m2 * water->slope_1;
        rates->drag[i] = find_drag(water, i);
        in = out;
    }
}

static void settle(struct unsteady *water) {
    for (size_t i = 0; i < water->cells; i++) {
        water->depth_m[i] = find_depth(water, water->area_m2[i], water->depth_m[i]);
    }
}

/* No wave crosses half a cell, and no cell takes in more than it holds: the waves of a film say
 * little of those a second later. */
static double find_step(const struct unsteady *water, double factor_1) {
    double fastest = 1e-6;
    double step_s = (double)INFINITY;
    for (size_t i = 0; i < water->cells; i++) {
        const struct section_wet wet = find_wet(water, water->depth_m[i]);
        fastest = fmax(fastest, fabs(water->flow_m3s[i]) / wet.area_m2 + wave_speed(&wet));
        if (factor_1 * water->lateral_m2s[i] > 0) {
            step_s = fmin(step_s, wet.area_m2 / (factor_1 * water->lateral_m2s[i]));
        }
    }
    return fmin(step_s, COURANT_1 * water->length_m / (double)water->cells / fastest);
}

/* Heun's two stages; what friction takes is taken at the end of each, so that thin films do not
 * ring. Steady flow is kept as it is; in time, friction is of first order. */
static void step(struct unsteady *water, double factor_1, double step_s) {
    static struct rates rates;
    static double area[UNSTEADY_CELLS_MAX];
    static double flow[UNSTEADY_CELLS_MAX];
    const size_t cells = water->cells;
    find_rates(water, factor_1, &rates);
    double left_m3 = rates.end_flow_m3s * step_s / 2;
    for (size_t i = 0; i < cells; i++) {
        area[i] = water->area_m2[i];
        flow[i] = water->flow_m3s[i];
        water->area_m2[i] += step_s * rates.area[i];
        water->flow_m3s[i] =
            (water->flow_m3s[i] + step_s * rates.flow[i]) / (1 + step_s * rates.drag[i]);
    }
    settle(water);
    find_rates(water, factor_1, &rates);
    left_m3 += rates.end_flow_m3s * step_s / 2;
    double fallen_m3 = 0;
    for (size_t i = 0; i < cells; i++) {
        const double second =
            (water->flow_m3s[i] + step_s * rates.flow[i]) / (1 + step_s * rates.drag[i]);
        water->area_m2[i] = (area[i] + water->area_m2[i] + step_s * rates.area[i]) / 2;
        water->flow_m3s[i] = (flow[i] + second) / 2;
        fallen_m3 += factor_1 * water->lateral_m2s[i];
    }
    settle(water);
    water->inflow_m3 += fallen_m3 * step_s * water->length_m / (double)cells;
    water->outflow_m3 += left_m3;
    water->outflow_m3s = left_m3 / step_s;
    water->time_s += step_s;
}

/* ---- the whole ------------------------------------------------------------------------------- */

void unsteady_begin(struct unsteady *water) {
    assert(water->cells >= 2 && water->cells <= UNSTEADY_CELLS_MAX);
    const struct section_wet film = find_wet(water, FILM_M);
    for (size_t i = 0; i < water->cells; i++) {
        water->area_m2[i] = film.area_m2;
        water->flow_m3s[i] = 0;
        water->depth_m[i] = FILM_M;
    }
    water->time_s = 0;
    water->inflow_m3 = unsteady_volume(water);
    water->outflow_m3 = 0;
}

void unsteady_refine(struct unsteady *water, size_t cells) {
    assert(cells % water->cells == 0 && cells <= UNSTEADY_CELLS_MAX);
    const size_t parts = cells / water->cells;
    for (size_t i = cells; i-- > 0;) {
        water->area_m2[i] = water->area_m2[i / parts];
        water->flow_m3s[i] = water->flow_m3s[i / parts];
        water->depth_m[i] = water->depth_m[i / parts];
        water->lateral_m2s[i] = water->lateral_m2s[i / parts];
    }
    water->cells = cells;
}

double unsteady_run(struct unsteady *water, double factor_1, double time_s) {
    const double end_s = water->time_s + time_s;
    double greatest_m = 0;
    while (water->time_s < end_s - 1e-9) {
        step(water, factor_1, fmin(find_step(water, factor_1), end_s - water->time_s));
        greatest_m = fmax(greatest_m, unsteady_greatest_depth(water));
    }
    return greatest_m;
}

double unsteady_volume(const struct unsteady *water) {
    double sum_m2 = 0;
    for (size_t i = 0; i < water->cells; i++) {
        sum_m2 += water->area_m2[i];
    }
    return sum_m2 * water->length_m / (double)water->cells;
}

double unsteady_greatest_depth(const struct unsteady *water) {
    double greatest_m = 0;
    for (size_t i = 0; i < water->cells; i++) {
        greatest_m = fmax(greatest_m, water->depth_m[i]);
    }
    return greatest_m;
}

double unsteady_place(const struct unsteady *water, size_t cell) {
    return ((double)cell + 0.5) * water->length_m / (double)water->cells;
}
