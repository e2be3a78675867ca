/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The profile solver against a general ODE solver (GSL, adaptive Runge-Kutta on dy/dx, started a
 * thousandth above critical because dy/dx has no value at it), each at the cheapest setting that
 * keeps its error at the still end within the same bound. Prints; judges nothing.
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

static const double ERROR_SHARE = 1e-5; /* of the still depth */
enum { ROUNDS = 7 };

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

static double march(const struct gutter *gutter, size_t steps) {
    double length_m = gutter->length_ft * FOOT_M;
    double lateral_m2s = gutter->lateral_cfs_ft * CFS / FOOT_M;
    struct hydraulics_knot knots[2] = {{0, lateral_m2s}, {length_m, lateral_m2s}};
    struct hydraulics_channel channel = {
        .section = {.inside_diameter_m = gutter->diameter_in * INCH_M},
        .length_m = length_m,
        .slope_1 = gutter->slope_1,
        .manning_1 = gutter->manning_1,
        .knots = knots,
        .knot_count = 2,
        .steps = steps};
    struct base_arena *arena = base_make_arena(0);
    struct hydraulics_profile profile = {.still_depth_m = (double)NAN};
    if (arena == NULL || !hydraulics_find_profile(arena, &channel, &profile)) {
        profile.still_depth_m = (double)NAN;
    }
    base_free_arena(arena);
    return profile.still_depth_m;
}

/* ---- the general solver ------------------------------------------------------------------------
 */

struct equation {
    struct section_gutter section;
    double slope_1, manning_1, lateral_m2s, length_m;
    long evaluations;
};

/* Along s = length - x, so that the solver runs upwards from the outlet. */
static int find_slope(double s, const double y[], double dyds[], void *params) {
    struct equation *equation = params;
    double depth_m = y[0];
    equation->evaluations++;
    if (!(depth_m > 0 && depth_m <= section_full_depth(&equation->section))) {
        return GSL_EBADFUNC;
    }
    struct section_wet wet = section_find_wet(&equation->section, depth_m);
    double speed = equation->lateral_m2s * (equation->length_m - s) / wet.area_m2;
    double radius_m = wet.area_m2 / wet.perimeter_m;
    double root = equation->manning_1 * speed;
    double friction = root * root / (radius_m * cbrt(radius_m));
    double lateral = 2 * equation->lateral_m2s * speed / (HYDRAULICS_GRAVITY_MPS2 * wet.area_m2);
    double froude2 = speed * speed * wet.top_width_m / (HYDRAULICS_GRAVITY_MPS2 * wet.area_m2);
    dyds[0] = -(equation->slope_1 - friction - lateral) / (1 - froude2);
    return GSL_SUCCESS;
}

static double integrate(const struct gutter *gutter, double tolerance, long *evaluations) {
    struct equation equation = {.section = {.inside_diameter_m = gutter->diameter_in * INCH_M},
                                .slope_1 = gutter->slope_1,
                                .manning_1 = gutter->manning_1,
                                .lateral_m2s = gutter->lateral_cfs_ft * CFS / FOOT_M,
                                .length_m = gutter->length_ft * FOOT_M};
    gsl_odeiv2_system system = {find_slope, NULL, 1, &equation};
    gsl_odeiv2_driver *driver =
        gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rkf45, 1e-7, 0, tolerance);
    double flow_m3s = equation.lateral_m2s * equation.length_m;
    double depth_m = hydraulics_critical_depth(&equation.section, flow_m3s) * 1.001;
    double s = 0;
    if (gsl_odeiv2_driver_apply(driver, &s, equation.length_m, &depth_m) != GSL_SUCCESS) {
        depth_m = (double)NAN;
    }
    gsl_odeiv2_driver_free(driver);
    *evaluations = equation.evaluations;
    return depth_m;
}

/* ---- both at the same error ---------------------------------------------------------------------
 */

static double time_march_us(const struct gutter *gutter, size_t steps) {
    double best_us = (double)INFINITY;
    for (int round = 0; round < ROUNDS; round++) {
        double start_s = read_clock_s();
        for (int i = 0; i < 50; i++) {
            march(gutter, steps);
        }
        best_us = fmin(best_us, (read_clock_s() - start_s) / 50 * 1e6);
    }
    return best_us;
}

static double time_integrate_us(const struct gutter *gutter, double tolerance) {
    double best_us = (double)INFINITY;
    long evaluations = 0;
    for (int round = 0; round < ROUNDS; round++) {
        double start_s = read_clock_s();
        for (int i = 0; i < 50; i++) {
            integrate(gutter, tolerance, &evaluations);
        }
        best_us = fmin(best_us, (read_clock_s() - start_s) / 50 * 1e6);
    }
    return best_us;
}

static void compare(const struct gutter *gutter) {
    double exact_m = march(gutter, 40000);
    size_t steps = 8;
    while (steps < 20000 && !(fabs(march(gutter, steps) / exact_m - 1) <= ERROR_SHARE)) {
        steps += 1 + steps / 8;
    }
    double tolerance = 1e-2;
    long evaluations = 0;
    while (tolerance > 1e-13 &&
           !(fabs(integrate(gutter, tolerance, &evaluations) / exact_m - 1) <= ERROR_SHARE)) {
        tolerance /= 1.5;
    }
    double ours_us = time_march_us(gutter, steps);
    double theirs_us = time_integrate_us(gutter, tolerance);
    double default_us = time_march_us(gutter, 0);
    printf("case %c  march %5zu steps %8.1f us   gsl rkf45 %5ld evaluations %8.1f us   gsl/march "
           "%5.2f   march at its default %8.1f us\n",
           gutter->name, steps, ours_us, evaluations, theirs_us, theirs_us / ours_us, default_us);
}

int main(void) {
    gsl_set_error_handler_off();
    printf("still depth within %g of its value, least of %d rounds\n", ERROR_SHARE, ROUNDS);
    for (int i = 0; i < GUTTERS; i++) {
        compare(&gutters[i]);
    }
    return 0;
}
