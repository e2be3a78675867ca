/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The profile solver against a general ODE solver: GSL's rkck and rkf45 on dy/dx, in x and in the
 * root of the distance from the outlet (where the depth is smooth), started just above critical
 * because dy/dx has no value at it; of these the quickest whose depths keep the bound is taken,
 * gutter by gutter. The bound is the greatest relative error of a depth: ours at every station,
 * GSL's at every step it takes of its own accord (none is forced on it). The right-hand side of GSL
 * is the room's own section. Times, counts and aims are printed, nothing is judged.
 */
#include "hydraulics/hydraulics.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdio.h>
#include <time.h>

#define FOOT_M 0.3048
#define INCH_M 0.0254
#define CFS    (0.3048 * 0.3048 * 0.3048)

static const double BOUND_1 = 1e-4; /* of a depth */
static const double AIM_SINGLE = 3;
static const double AIM_BATCH = 6;
enum { ROUNDS = 9, REPEATS = 200, RAINS = 200, STEPS_MOST = 4000, MARCH_STEPS = 100000 };

/* Gutters controlled at the outlet: SRC-17, cases a to g and i. */
struct gutter {
    char name;
    double diameter_in, length_ft, slope_1, manning_1, lateral_cfs_ft;
};
static const struct gutter gutters[] = {
    {'a', 6, 30, 0, 0.012, 0.0025},         {'b', 5, 20, 0, 0.012, 0.0020},
    {'c', 6, 40, 0, 0.011, 0.0020},         {'d', 6, 30, 1.0 / 192, 0.012, 0.0040},
    {'e', 6, 40, 1.0 / 192, 0.012, 0.0037}, {'f', 5, 30, 1.0 / 192, 0.012, 0.0030},
    {'g', 6, 40, 1.0 / 96, 0.012, 0.0040},  {'i', 8, 50, 1.0 / 192, 0.012, 0.0060},
};
enum { GUTTERS = sizeof gutters / sizeof gutters[0] };

static double read_clock_s(void) {
    struct timespec now;
    timespec_get(&now, TIME_UTC);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* ---- ours -------------------------------------------------------------------------------------
 */

static struct hydraulics_channel make_channel(const struct gutter *gutter,
                                              struct hydraulics_knot knots[2]) {
    double length_m = gutter->length_ft * FOOT_M;
    double lateral_m2s = gutter->lateral_cfs_ft * CFS / FOOT_M;
    knots[0] = (struct hydraulics_knot){0, lateral_m2s};
    knots[1] = (struct hydraulics_knot){length_m, lateral_m2s};
    return (struct hydraulics_channel){
        .section = {.inside_diameter_m = gutter->diameter_in * INCH_M},
        .length_m = length_m,
        .slope_1 = gutter->slope_1,
        .manning_1 = gutter->manning_1,
        .knots = knots,
        .knot_count = 2};
}

/* The yardstick of both: the march, which shares no step with the quick way. */
struct exact {
    struct base_arena *arena;
    struct hydraulics_profile profile;
};

static double read_exact(const struct exact *exact, double x_m) {
    size_t low = 0;
    size_t high = exact->profile.station_count - 1;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        *(exact->profile.stations[middle].x_m <= x_m ? &low : &high) = middle;
    }
    const struct hydraulics_station *a = &exact->profile.stations[low];
    double share = a[1].x_m > a[0].x_m ? (x_m - a[0].x_m) / (a[1].x_m - a[0].x_m) : 0;
    return a[0].depth_m + share * (a[1].depth_m - a[0].depth_m);
}

static double find_our_error(const struct hydraulics_channel *channel, const struct exact *exact) {
    struct base_arena *arena = base_make_arena(0);
    struct hydraulics_profile profile;
    double worst = (double)NAN;
    if (arena != NULL && hydraulics_find_profile(arena, channel, &profile)) {
        worst = 0;
        for (size_t i = 0; i < profile.station_count; i++) {
            const struct hydraulics_station *station = &profile.stations[i];
            worst = fmax(worst, fabs(station->depth_m / read_exact(exact, station->x_m) - 1));
        }
    }
    base_free_arena(arena);
    return worst;
}

static double time_ours_us(const struct hydraulics_channel *channel) {
    double best_us = (double)INFINITY;
    for (int round = 0; round < ROUNDS; round++) {
        struct base_arena *arena = base_make_arena(0);
        struct hydraulics_profile profile;
        double start_s = read_clock_s();
        for (int i = 0; i < REPEATS; i++) {
            hydraulics_find_profile(arena, channel, &profile);
        }
        best_us = fmin(best_us, (read_clock_s() - start_s) / REPEATS * 1e6);
        base_free_arena(arena);
    }
    return best_us;
}

/* The same gutter in rains from four fifths of the design to all of it: all tranquil. */
static double time_our_batch_us(const struct hydraulics_channel *channel) {
    struct hydraulics_rain rains[RAINS];
    struct hydraulics_depths depths[RAINS];
    for (int i = 0; i < RAINS; i++) {
        rains[i] = (struct hydraulics_rain){.factor_1 = 0.8 + 0.2 * (i + 1) / RAINS};
    }
    double best_us = (double)INFINITY;
    for (int round = 0; round < ROUNDS; round++) {
        double start_s = read_clock_s();
        hydraulics_find_depths(channel, rains, RAINS, depths);
        best_us = fmin(best_us, (read_clock_s() - start_s) / RAINS * 1e6);
    }
    return best_us;
}

/* ---- the general solver ------------------------------------------------------------------------
 */

struct equation {
    struct section_gutter section;
    double slope_1, manning_1, lateral_m2s, length_m;
    bool by_root; /* the variable is the root of the distance */
    long evaluations;
};

static int find_slope(double s, const double y[], double dyds[], void *params) {
    struct equation *equation = params;
    double depth_m = y[0];
    equation->evaluations++;
    if (!(depth_m > 0 && depth_m <= section_full_depth(&equation->section))) {
        return GSL_EBADFUNC;
    }
    double distance_m = equation->by_root ? s * s : s;
    struct section_wet wet = section_find_wet(&equation->section, depth_m);
    double speed = equation->lateral_m2s * (equation->length_m - distance_m) / wet.area_m2;
    double radius_m = wet.area_m2 / wet.perimeter_m;
    double root = equation->manning_1 * speed;
    double friction = root * root / (radius_m * cbrt(radius_m));
    double lateral = 2 * equation->lateral_m2s * speed / (HYDRAULICS_GRAVITY_MPS2 * wet.area_m2);
    double froude2 = speed * speed * wet.top_width_m / (HYDRAULICS_GRAVITY_MPS2 * wet.area_m2);
    dyds[0] =
        -(equation->slope_1 - friction - lateral) / (1 - froude2) * (equation->by_root ? 2 * s : 1);
    return GSL_SUCCESS;
}

struct way {
    const gsl_odeiv2_step_type *type;
    bool by_root;
    double tolerance;
    double start_1; /* over critical */
};

struct tools {
    gsl_odeiv2_step *step;
    gsl_odeiv2_control *control;
    gsl_odeiv2_evolve *evolve;
};

static struct tools make_tools(const struct way *way) {
    return (struct tools){gsl_odeiv2_step_alloc(way->type, 1),
                          gsl_odeiv2_control_y_new(0, way->tolerance), gsl_odeiv2_evolve_alloc(1)};
}

static void free_tools(struct tools *tools) {
    gsl_odeiv2_evolve_free(tools->evolve);
    gsl_odeiv2_control_free(tools->control);
    gsl_odeiv2_step_free(tools->step);
}

/* Gives the worst error when exact is given, else 0; NAN when it fails. */
static double run_gsl(const struct way *way, struct equation *equation, double critical_m,
                      struct tools *tools, const struct exact *exact) {
    gsl_odeiv2_system system = {find_slope, NULL, 1, equation};
    equation->by_root = way->by_root;
    double end = way->by_root ? sqrt(equation->length_m) : equation->length_m;
    double s = 0;
    double step = end * 1e-3;
    double depth_m = critical_m * way->start_1;
    double worst = exact != NULL ? way->start_1 - 1 : 0;
    gsl_odeiv2_step_reset(tools->step);
    gsl_odeiv2_evolve_reset(tools->evolve);
    for (int i = 0; s < end; i++) {
        if (i > STEPS_MOST ||
            gsl_odeiv2_evolve_apply(tools->evolve, tools->control, tools->step, &system, &s, end,
                                    &step, &depth_m) != GSL_SUCCESS) {
            return (double)NAN;
        }
        if (exact != NULL) {
            double x_m = equation->length_m - (way->by_root ? s * s : s);
            worst = fmax(worst, fabs(depth_m / read_exact(exact, fmax(x_m, 0)) - 1));
        }
    }
    return worst;
}

static double time_gsl_us(const struct way *way, struct equation *equation, bool in_batch) {
    double best_us = (double)INFINITY;
    double flow_m3s = equation->lateral_m2s * equation->length_m;
    struct tools tools = make_tools(way);
    for (int round = 0; round < ROUNDS; round++) {
        double start_s = read_clock_s();
        for (int i = 0; i < REPEATS; i++) {
            struct equation scaled = *equation;
            if (in_batch) {
                scaled.lateral_m2s *= 0.8 + 0.2 * (i + 1) / REPEATS;
                flow_m3s = scaled.lateral_m2s * scaled.length_m;
            } else {
                free_tools(&tools);
                tools = make_tools(way);
            }
            double critical_m = hydraulics_critical_depth(&equation->section, flow_m3s);
            run_gsl(way, &scaled, critical_m, &tools, NULL);
        }
        best_us = fmin(best_us, (read_clock_s() - start_s) / REPEATS * 1e6);
    }
    free_tools(&tools);
    return best_us;
}

/* The way with the fewest evaluations that keeps the bound. */
static struct way find_cheapest(struct equation *equation, const struct exact *exact,
                                long *evaluations) {
    const gsl_odeiv2_step_type *types[] = {gsl_odeiv2_step_rkck, gsl_odeiv2_step_rkf45};
    static const double starts_1[] = {1.0001, 1.00003, 1.00001};
    double critical_m =
        hydraulics_critical_depth(&equation->section, equation->lateral_m2s * equation->length_m);
    struct way best = {types[0], false, 1e-9, 1.00001};
    *evaluations = 1000000;
    for (int k = 0; k < 2 * 2 * 3 * 36; k++) {
        int level = k / 12;
        struct way way = {types[k % 2], k / 2 % 2 == 1, 1e-2 * pow(1.6, -level),
                          starts_1[k / 4 % 3]};
        struct tools tools = make_tools(&way);
        equation->evaluations = 0;
        double error = run_gsl(&way, equation, critical_m, &tools, exact);
        free_tools(&tools);
        if (error <= BOUND_1 * (1 + 1e-9) && equation->evaluations < *evaluations) {
            best = way;
            *evaluations = equation->evaluations;
        }
    }
    return best;
}

/* ---- both at the same error ---------------------------------------------------------------------
 */

struct sums {
    double ours_us, gsl_us, our_batch_us, gsl_batch_us;
    bool keeps_bound;
};

static void compare(const struct gutter *gutter, struct sums *sums) {
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel = make_channel(gutter, knots);
    struct exact exact = {.arena = base_make_arena(0)};
    channel.steps = MARCH_STEPS;
    if (exact.arena == NULL || !hydraulics_find_profile(exact.arena, &channel, &exact.profile)) {
        return;
    }
    channel.steps = 0;
    double error = find_our_error(&channel, &exact);
    struct equation equation = {channel.section,
                                channel.slope_1,
                                channel.manning_1,
                                knots[0].lateral_m2s,
                                channel.length_m,
                                false,
                                0};
    long evaluations = 0;
    struct way way = find_cheapest(&equation, &exact, &evaluations);
    double ours_us = time_ours_us(&channel);
    double gsl_us = time_gsl_us(&way, &equation, false);
    double our_batch_us = time_our_batch_us(&channel);
    double gsl_batch_us = time_gsl_us(&way, &equation, true);
    printf("case %c  ours error %.0e, %6.2f us, in batch %5.2f us   gsl %s in %s "
           "%4ld evaluations, %6.2f us, in batch %6.2f us   gsl/ours %5.2f, in batch %5.2f\n",
           gutter->name, error, ours_us, our_batch_us,
           way.type == gsl_odeiv2_step_rkck ? "rkck " : "rkf45", way.by_root ? "root" : "x   ",
           evaluations, gsl_us, gsl_batch_us, gsl_us / ours_us, gsl_batch_us / our_batch_us);
    sums->ours_us += ours_us;
    sums->gsl_us += gsl_us;
    sums->our_batch_us += our_batch_us;
    sums->gsl_batch_us += gsl_batch_us;
    sums->keeps_bound = sums->keeps_bound && error <= BOUND_1;
    base_free_arena(exact.arena);
}

int main(void) {
    struct sums sums = {.keeps_bound = true};
    gsl_set_error_handler_off();
    printf("all depths within %g of theirs, least of %d rounds\n", BOUND_1, ROUNDS);
    for (int i = 0; i < GUTTERS; i++) {
        compare(&gutters[i], &sums);
    }
    double single = sums.gsl_us / sums.ours_us;
    double batch = sums.gsl_batch_us / sums.our_batch_us;
    printf("all together: gsl/ours %.2f (aim %g), in batch %.2f (aim %g), bound %s\n", single,
           AIM_SINGLE, batch, AIM_BATCH, sums.keeps_bound ? "kept" : "broken");
    return 0;
}
