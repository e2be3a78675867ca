/* SPDX-License-Identifier: Apache-2.0 */
/* What a gutter weighs and what holds it. Inputs in inches, pounds, ounces. */
#include "handbook.h"

#include "material/material.h"
#include "section/section.h"
#include "structure/structure.h"

#include <math.h>
#include <stdio.h>

#define INCH_M  0.0254
#define FOOT_M  0.3048
#define POUND_N 4.4482216152605
#define PSI_PA  (POUND_N / (INCH_M * INCH_M))
#define PSF_PA  (POUND_N / (FOOT_M * FOOT_M))
#define DEGREE  0.017453292519943295

enum { SUPPORTS_MOST = 8 };

/* ---- loads --------------------------------------------------------------------------------- */

static struct section_gutter gutter_of(double inches) {
    return (struct section_gutter){.inside_diameter_m = inches * INCH_M,
                                   .bead_diameter_m = 0.625 * INCH_M};
}

static double water_lbft(const double *in) {
    struct section_gutter gutter = gutter_of(in[0]);
    return structure_water_load(&gutter) / (POUND_N / FOOT_M);
}

/* The metal by the published girth of the size, 5 in 10 in and 6 in 12 1/4 in. */
static double bracket_lb(const double *in) {
    struct section_gutter gutter = gutter_of(in[0]);
    double girth_in = in[0] == 5 ? 10 : 12.25;
    double metal_lbft = girth_in / 12 * in[1] / 16;
    double filling_n = in[3] > 0 ? structure_ice_load(&gutter) : structure_water_load(&gutter);
    return (metal_lbft + filling_n / (POUND_N / FOOT_M)) * in[2] / 12;
}

static double ladder_lb(const double *in) {
    return structure_ladder_push(in[0] * POUND_N, in[1]) / POUND_N;
}

static double sliding_lbft(const double *in) {
    return structure_sliding_load(in[0] * PSF_PA, in[1] * FOOT_M) / (POUND_N / FOOT_M);
}

/* ---- screws -------------------------------------------------------------------------------- */

static double pulled_lb(const double *in) {
    struct structure_screw screw = {.diameter_m = in[1] * INCH_M, .thread_m = in[2] * INCH_M};
    return structure_withdrawal(&screw, in[0], STRUCTURE_SIDE_GRAIN) / POUND_N;
}

static double pulled_lbin(const double *in) {
    const double an_inch[] = {in[0], in[1], 1};
    return pulled_lb(an_inch);
}

static double end_share(const double *in) {
    struct structure_screw screw = {.diameter_m = 0.25 * INCH_M, .thread_m = INCH_M};
    return structure_withdrawal(&screw, in[0], STRUCTURE_END_GRAIN) /
           structure_withdrawal(&screw, in[0], STRUCTURE_SIDE_GRAIN);
}

/* To the next ten pounds, as the table prints it. Roots, yield and plate as the table names them.
 */
static double across_lb(const double *in) {
    bool is_quarter = in[1] < 0.3;
    struct structure_screw screw = {.diameter_m = in[1] * INCH_M,
                                    .root_m = (is_quarter ? 0.173 : 0.227) * INCH_M,
                                    .yield_pa = (is_quarter ? 70000 : 60000) * PSI_PA,
                                    .thread_m = 8 * in[1] * INCH_M,
                                    .plate_m = in[2] * INCH_M,
                                    .plate_bearing_pa = 61850 * PSI_PA};
    double held_n = structure_lateral(&screw, in[0], in[3] * DEGREE, STRUCTURE_SIDE_GRAIN);
    return floor(held_n / POUND_N / 10 + 0.5) * 10;
}

static double leaning_lb(const double *in) {
    return structure_leaning(in[0], in[1], in[2] * DEGREE);
}

/* ---- beams --------------------------------------------------------------------------------- */

static void find_even(size_t count, double *reactions, double *moments) {
    double supports[SUPPORTS_MOST];
    double scratch[2 * SUPPORTS_MOST];
    for (size_t i = 0; i < count; i++) {
        supports[i] = (double)i;
    }
    struct structure_beam beam = {
        .length_m = (double)count - 1, .load_nm = 1, .supports_m = supports, .count = count};
    structure_find_beam(&beam, reactions, moments, scratch);
}

static double support_moment(const double *in) {
    double reactions[SUPPORTS_MOST];
    double moments[SUPPORTS_MOST];
    find_even((size_t)in[0], reactions, moments);
    return -moments[(size_t)in[1]];
}

static double end_load(const double *in) {
    double reactions[SUPPORTS_MOST];
    double moments[SUPPORTS_MOST];
    find_even((size_t)in[0], reactions, moments);
    return reactions[0];
}

static double quarter_in(const double *in) {
    double inertia = in[2] * in[1] * in[1] * in[1] / 12 * pow(INCH_M, 4);
    double radius_m = (in[0] + in[1] / 2) * INCH_M;
    return structure_quarter_sag(POUND_N, radius_m, in[3] * PSI_PA, inertia) / INCH_M;
}

static const struct handbook_row rows[] = {
    {"S-47-4",
     "water to the brim, lb/ft",
     "4 in",
     {4},
     WITHIN(2.723, 0.002),
     HANDBOOK_DERIVED,
     "SRC-157",
     water_lbft},
    {"S-47-5",
     "water to the brim, lb/ft",
     "5 in",
     {5},
     WITHIN(4.254, 0.002),
     HANDBOOK_DERIVED,
     "SRC-157",
     water_lbft},
    {"S-47-6",
     "water to the brim, lb/ft",
     "6 in",
     {6},
     WITHIN(6.126, 0.002),
     HANDBOOK_DERIVED,
     "SRC-157",
     water_lbft},
    {"S-47-8",
     "water to the brim, lb/ft",
     "8 in",
     {8},
     WITHIN(10.891, 0.002),
     HANDBOOK_DERIVED,
     "SRC-157",
     water_lbft},
    {"S-48",
     "load of a bracket, lb",
     "6 in, 20 oz, full of water, 30 in",
     {6, 20, 30, 0},
     WITHIN(18.51, 0.02),
     HANDBOOK_DERIVED,
     "SRC-157",
     bracket_lb},
    {"S-49",
     "load of a bracket, lb",
     "5 in, 16 oz, full of water, 36 in",
     {5, 16, 36, 0},
     WITHIN(15.26, 0.02),
     HANDBOOK_DERIVED,
     "SRC-157",
     bracket_lb},
    {"S-50",
     "load of a bracket, lb",
     "6 in, 20 oz, full of ice, 30 in",
     {6, 20, 30, 1},
     WITHIN(17.23, 0.02),
     HANDBOOK_DERIVED,
     "SRC-157",
     bracket_lb},
    {"S-52",
     "push of a ladder, lb",
     "250 lb at its top",
     {250, 1},
     WITHIN(62.5, 0.1),
     HANDBOOK_DERIVED,
     "SRC-157",
     ladder_lb},
    {"S-53",
     "push of a ladder, lb",
     "200 lb at 80 %",
     {200, 0.8},
     WITHIN(40.0, 0.1),
     HANDBOOK_DERIVED,
     "SRC-157",
     ladder_lb},
    {"S-54-50-4",
     "lag screw pulled, lb/in",
     "G 0.50, 0.25 in",
     {0.5, 0.25},
     WITHIN(225, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-54-50-5",
     "lag screw pulled, lb/in",
     "G 0.50, 0.3125 in",
     {0.5, 0.3125},
     WITHIN(266, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-54-50-6",
     "lag screw pulled, lb/in",
     "G 0.50, 0.375 in",
     {0.5, 0.375},
     WITHIN(305, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-54-43-4",
     "lag screw pulled, lb/in",
     "G 0.43, 0.25 in",
     {0.43, 0.25},
     WITHIN(179, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-54-43-5",
     "lag screw pulled, lb/in",
     "G 0.43, 0.3125 in",
     {0.43, 0.3125},
     WITHIN(212, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-54-43-6",
     "lag screw pulled, lb/in",
     "G 0.43, 0.375 in",
     {0.43, 0.375},
     WITHIN(243, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-54-36-4",
     "lag screw pulled, lb/in",
     "G 0.36, 0.25 in",
     {0.36, 0.25},
     WITHIN(137, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-54-36-5",
     "lag screw pulled, lb/in",
     "G 0.36, 0.3125 in",
     {0.36, 0.3125},
     WITHIN(163, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-54-36-6",
     "lag screw pulled, lb/in",
     "G 0.36, 0.375 in",
     {0.36, 0.375},
     WITHIN(186, 0.5),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lbin},
    {"S-W45",
     "lag screw pulled, lb",
     "3/8 x 7 in, G 0.50, 3.78 in of thread",
     {0.5, 0.375, 3.78125},
     WITHIN(1153, 1),
     HANDBOOK_FOUND,
     "SRC-150",
     pulled_lb},
    {"S-57",
     "end grain over side grain, pulled",
     "",
     {0.43},
     EXACT(0.75),
     HANDBOOK_FOUND,
     "SRC-150",
     end_share},
    {"S-58-50-along",
     "lag screw across, lb",
     "1/4 in, 14 ga, G 0.50, along the grain",
     {0.5, 0.25, 0.0747, 0},
     EXACT(150),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-58-50-square",
     "lag screw across, lb",
     "1/4 in, 14 ga, G 0.50, square to it",
     {0.5, 0.25, 0.0747, 90},
     EXACT(110),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-58-43-along",
     "lag screw across, lb",
     "1/4 in, 14 ga, G 0.43, along the grain",
     {0.43, 0.25, 0.0747, 0},
     EXACT(140),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-58-43-square",
     "lag screw across, lb",
     "1/4 in, 14 ga, G 0.43, square to it",
     {0.43, 0.25, 0.0747, 90},
     EXACT(100),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-58-36-along",
     "lag screw across, lb",
     "1/4 in, 14 ga, G 0.36, along the grain",
     {0.36, 0.25, 0.0747, 0},
     EXACT(130),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-58-36-square",
     "lag screw across, lb",
     "1/4 in, 14 ga, G 0.36, square to it",
     {0.36, 0.25, 0.0747, 90},
     EXACT(90),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-60-50-along",
     "lag screw across, lb",
     "1/4 in, 0.120 in, G 0.50, along the grain",
     {0.5, 0.25, 0.12, 0},
     EXACT(170),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-60-50-square",
     "lag screw across, lb",
     "1/4 in, 0.120 in, G 0.50, square to it",
     {0.5, 0.25, 0.12, 90},
     EXACT(120),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-60-43-along",
     "lag screw across, lb",
     "1/4 in, 0.120 in, G 0.43, along the grain",
     {0.43, 0.25, 0.12, 0},
     EXACT(160),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-60-43-square",
     "lag screw across, lb",
     "1/4 in, 0.120 in, G 0.43, square to it",
     {0.43, 0.25, 0.12, 90},
     EXACT(110),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-60-36-along",
     "lag screw across, lb",
     "1/4 in, 0.120 in, G 0.36, along the grain",
     {0.36, 0.25, 0.12, 0},
     EXACT(150),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-60-36-square",
     "lag screw across, lb",
     "1/4 in, 0.120 in, G 0.36, square to it",
     {0.36, 0.25, 0.12, 90},
     EXACT(100),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-59-along",
     "lag screw across, lb",
     "5/16 in, 14 ga, G 0.43, along the grain",
     {0.43, 0.3125, 0.0747, 0},
     EXACT(180),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-59-square",
     "lag screw across, lb",
     "5/16 in, 14 ga, G 0.43, square to it",
     {0.43, 0.3125, 0.0747, 90},
     EXACT(120),
     HANDBOOK_FOUND,
     "SRC-151",
     across_lb},
    {"S-62",
     "pulled and across at 45 degrees, lb",
     "450 and 140 lb",
     {450, 140, 45},
     WITHIN(213.56, 0.01),
     HANDBOOK_DERIVED,
     "SRC-152",
     leaning_lb},
    {"S-W43-3-1",
     "moment over a support, w l^2",
     "3 supports, the 1. inner one",
     {3, 1},
     WITHIN(1.0 / 8, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-4-1",
     "moment over a support, w l^2",
     "4 supports, the 1. inner one",
     {4, 1},
     WITHIN(1.0 / 10, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-5-1",
     "moment over a support, w l^2",
     "5 supports, the 1. inner one",
     {5, 1},
     WITHIN(3.0 / 28, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-5-2",
     "moment over a support, w l^2",
     "5 supports, the 2. inner one",
     {5, 2},
     WITHIN(2.0 / 28, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-6-1",
     "moment over a support, w l^2",
     "6 supports, the 1. inner one",
     {6, 1},
     WITHIN(4.0 / 38, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-6-2",
     "moment over a support, w l^2",
     "6 supports, the 2. inner one",
     {6, 2},
     WITHIN(3.0 / 38, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-7-1",
     "moment over a support, w l^2",
     "7 supports, the 1. inner one",
     {7, 1},
     WITHIN(11.0 / 104, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-7-2",
     "moment over a support, w l^2",
     "7 supports, the 2. inner one",
     {7, 2},
     WITHIN(8.0 / 104, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-7-3",
     "moment over a support, w l^2",
     "7 supports, the 3. inner one",
     {7, 3},
     WITHIN(9.0 / 104, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-8-1",
     "moment over a support, w l^2",
     "8 supports, the 1. inner one",
     {8, 1},
     WITHIN(15.0 / 142, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-8-2",
     "moment over a support, w l^2",
     "8 supports, the 2. inner one",
     {8, 2},
     WITHIN(11.0 / 142, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-8-3",
     "moment over a support, w l^2",
     "8 supports, the 3. inner one",
     {8, 3},
     WITHIN(12.0 / 142, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     support_moment},
    {"S-W43-3-end",
     "load of an end support, w l",
     "3 supports",
     {3, 0},
     WITHIN(3.0 / 8, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     end_load},
    {"S-W43-4-end",
     "load of an end support, w l",
     "4 supports",
     {4, 0},
     WITHIN(4.0 / 10, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     end_load},
    {"S-W43-5-end",
     "load of an end support, w l",
     "5 supports",
     {5, 0},
     WITHIN(11.0 / 28, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     end_load},
    {"S-W43-6-end",
     "load of an end support, w l",
     "6 supports",
     {6, 0},
     WITHIN(15.0 / 38, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     end_load},
    {"S-W43-7-end",
     "load of an end support, w l",
     "7 supports",
     {7, 0},
     WITHIN(41.0 / 104, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     end_load},
    {"S-W43-8-end",
     "load of an end support, w l",
     "8 supports",
     {8, 0},
     WITHIN(56.0 / 142, 1e-9),
     HANDBOOK_FOUND,
     "SRC-153",
     end_load},
    {"S-W47",
     "sag of a curved bar in its plane, in",
     "quarter circle, 4.12 in inside, 0.2 x 0.1 in, E 1e7, 1 lb",
     {4.12, 0.2, 0.1, 10000000.0},
     WITHIN_SHARE(0.0873, 0.02),
     HANDBOOK_FOUND,
     "SRC-154",
     quarter_in},
    {"S-W49",
     "sliding snow, lb/ft",
     "p_f 21, 20 ft",
     {30, 20},
     WITHIN(168, 0.001),
     HANDBOOK_DERIVED,
     "SRC-155",
     sliding_lbft},
};

const struct handbook_book handbook_structure = {"structure", rows, sizeof rows / sizeof rows[0]};
