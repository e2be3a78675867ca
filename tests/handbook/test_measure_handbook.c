/* SPDX-License-Identifier: Apache-2.0 */
/* A published trilateration, adjusted by the net of the house. */
#include "handbook.h"

#include <math.h>
#include <string.h>

#include "measure/measure_inside.h"
#include "numeric/numeric.h"

/* ---- trilateration, by the net of the house ------------------------------------------------ */

enum { DISTANCES = 5 };
struct plane {
    struct measure_adjustment all;
    double values[8];
    double residuals[DISTANCES];
    double redundancy[DISTANCES];
    double cofactor[16];
};

/* Of the four free coordinates, by the rows of the last step. */
static void find_cofactor(const struct measure_net *net, struct plane *plane) {
    double work[2 * DISTANCES * 4 + 3 * 4 + DISTANCES];
    double observed[DISTANCES] = {0};
    double out[4 + 2 * DISTANCES];
    struct numeric_fit fit = {.rows = DISTANCES,
                              .columns = 4,
                              .design = net->design,
                              .observed = observed,
                              .work = work,
                              .solution = out,
                              .residuals = out + 4,
                              .redundancy = out + 4 + DISTANCES,
                              .solution_cofactor = plane->cofactor};
    numeric_fit_least_squares(&fit);
}

/* Each distance is a run between two of four points; the first two points are fixed. */
static struct plane adjust_plane(void) {
    static const double SAID[DISTANCES] = {1000.02, 1414.20, 1414.24, 999.98, 1000.00};
    static const size_t ENDS[DISTANCES][2] = {{0, 4}, {0, 6}, {2, 4}, {2, 6}, {4, 6}};
    struct base_arena *arena = base_make_arena(0);
    struct job job = {.runs = base_take(arena, DISTANCES, sizeof *job.runs),
                      .run_count = DISTANCES};
    struct measure_chain chains[DISTANCES];
    struct measure_equation equations[DISTANCES];
    double values[8] = {0, 1000, 1000, 1000, 0, 0, 1000, 0};
    bool is_free[8] = {false, false, false, false, true, true, true, true};
    for (size_t i = 0; i < DISTANCES; i++) {
        chains[i] = (struct measure_chain){ENDS[i][0], ENDS[i][1], MEASURE_NONE, MEASURE_NONE,
                                           0,          0,          {0, 0}};
        equations[i] = (struct measure_equation){
            .kind = MEASURE_RUN, .said = SAID[i], .sigma = 0.010, .run = i};
        measure_use_run(&(struct measure_net){.chains = chains}, &equations[i], i);
    }
    struct measure_net net = {.arena = arena,
                              .job = &job,
                              .values = values,
                              .is_free = is_free,
                              .value_count = 8,
                              .chains = chains,
                              .equations = equations,
                              .count = DISTANCES};
    struct plane plane = {{0, 0, false}, {0}, {0}, {0}, {0}};
    if (measure_ready(&net)) {
        plane.all = measure_adjust(&net);
        for (size_t i = 0; i < DISTANCES; i++) {
            plane.residuals[i] = -measure_miss(&net, &equations[i]);
            plane.redundancy[i] = net.redundancy[i];
        }
        find_cofactor(&net, &plane);
        memcpy(plane.values, values, sizeof plane.values);
    }
    base_free_arena(net.arena);
    return plane;
}

static double plane_coordinate(const double *in) {
    return adjust_plane().values[4 + (int)in[0]];
}

static double plane_residual(const double *in) {
    return 100 * adjust_plane().residuals[(int)in[0]];
}

static double plane_s0(const double *in) {
    (void)in;
    struct plane plane = adjust_plane();
    return 10 * sqrt(plane.all.chi / (double)plane.all.redundancy);
}

static double plane_sigma(const double *in) {
    /* s0 is in mm of the 10 mm; the cofactor is in metres by way of the weights */
    return plane_s0(in) / 10 * sqrt(adjust_plane().cofactor[(int)in[0] * 5]) * 100;
}

static double plane_freedom(const double *in) {
    (void)in;
    return (double)adjust_plane().all.redundancy;
}

static double plane_redundancy(const double *in) {
    return adjust_plane().redundancy[(int)in[0]];
}

static double plane_w(const double *in) {
    struct plane plane = adjust_plane();
    return fabs(plane.residuals[(int)in[0]]) / (0.010 * sqrt(plane.redundancy[(int)in[0]]));
}

/* ---- the rows ------------------------------------------------------------------------------ */

/* id, what is computed, which entry, figure, tolerance, kind, source */
#define ROW(id, compute, entry, unused, expected, tolerance, kind, source)                         \
    {                                                                                              \
        id, #compute, "entry " #entry, {entry, unused}, WITHIN(expected, tolerance),               \
            HANDBOOK_##kind, source, compute                                                       \
    }

static const struct handbook_row rows[] = {
    ROW("W5-x3", plane_coordinate, 0, 0, -0.0096, 0.0001, FOUND, "SRC-75"),
    ROW("W5-y3", plane_coordinate, 1, 0, -0.0226, 0.0001, FOUND, "SRC-75"),
    ROW("W5-x4", plane_coordinate, 2, 0, 999.993, 0.0001, FOUND, "SRC-75"),
    ROW("W5-y4", plane_coordinate, 3, 0, 0.0174, 0.0001, FOUND, "SRC-75"),
    ROW("W5-v1", plane_residual, 0, 0, 0.26, 0.001, FOUND, "SRC-75"),
    ROW("W5-v2", plane_residual, 1, 0, -0.368, 0.001, FOUND, "SRC-75"),
    ROW("W5-v3", plane_residual, 2, 0, -0.368, 0.001, FOUND, "SRC-75"),
    ROW("W5-v4", plane_residual, 3, 0, 0.26, 0.001, FOUND, "SRC-75"),
    ROW("W5-v5", plane_residual, 4, 0, 0.26, 0.001, FOUND, "SRC-75"),
    ROW("W5-s1", plane_sigma, 0, 0, 0.901, 0.001, FOUND, "SRC-75"),
    ROW("W5-s2", plane_sigma, 1, 0, 0.637, 0.001, FOUND, "SRC-75"),
    ROW("W5-s3", plane_sigma, 2, 0, 0.901, 0.001, FOUND, "SRC-75"),
    ROW("W5-s4", plane_sigma, 3, 0, 0.637, 0.001, FOUND, "SRC-75"),
    ROW("W5-s0", plane_s0, 0, 0, 6.882, 0.0006, FOUND, "SRC-75"),
    ROW("W5-f", plane_freedom, 0, 0, 1, 0, FOUND, "SRC-75"),
    ROW("W5-r1", plane_redundancy, 0, 0, 0.143, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-r2", plane_redundancy, 1, 0, 0.286, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-r3", plane_redundancy, 2, 0, 0.286, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-r4", plane_redundancy, 3, 0, 0.143, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-r5", plane_redundancy, 4, 0, 0.143, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-w1", plane_w, 0, 0, 0.688, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-w2", plane_w, 1, 0, 0.688, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-w3", plane_w, 2, 0, 0.688, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-w4", plane_w, 3, 0, 0.688, 0.0005, DERIVED, "SRC-75"),
    ROW("W5-w5", plane_w, 4, 0, 0.688, 0.0005, DERIVED, "SRC-75"),
};

const struct handbook_book handbook_nets = {"nets", rows, sizeof rows / sizeof rows[0]};
