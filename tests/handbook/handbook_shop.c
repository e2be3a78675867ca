/* SPDX-License-Identifier: Apache-2.0 */
/* Movement of copper and the shop's published habits. Inputs in inches, feet, F. */
#include "handbook.h"

#include "material/material.h"
#include "shop/shop.h"
#include "thermal/thermal.h"

#define INCH_M 0.0254
#define FOOT_M 0.3048
#define PSI_PA 6894.757293168
#define KELVIN (1 / 1.8) /* of a degree Fahrenheit */

static double expansion_1f(void) {
    return material_find_metal(base_text_of("copper"))->expansion_1k / 1.8;
}

/* ---- movement ------------------------------------------------------------------------------ */

/* in: feet, F; the program's own expansion */
static double movement_in(const double *in) {
    return thermal_movement(expansion_1f() * 1.8, in[0] * FOOT_M, in[1] * KELVIN) / INCH_M;
}

/* in: feet, F, 1e-6 per F */
static double movement_by_in(const double *in) {
    return thermal_movement(in[2] * 1e-6 * 1.8, in[0] * FOOT_M, in[1] * KELVIN) / INCH_M;
}

/* in: m, K, 1e-6 per K */
static double movement_mm(const double *in) {
    return thermal_movement(in[2] * 1e-6, in[0], in[1]) * 1000;
}

/* in: feet, highest F, setting F, clearance in */
static double gap_in(const double *in) {
    return thermal_set_gap(expansion_1f() * 1.8, in[0] * FOOT_M, (in[1] - 32) / 1.8,
                           (in[2] - 32) / 1.8, in[3] * INCH_M) /
           INCH_M;
}

/* in: 1e6 psi, 1e-6 per F, F */
static double stress_psi(const double *in) {
    return thermal_restrained_stress(in[0] * 1e6 * PSI_PA, in[1] * 1e-6 * 1.8, in[2] * KELVIN) /
           PSI_PA;
}

static double yield_range_f(const double *in) {
    const double one_degree[] = {17, 9.8, 1};
    (void)in;
    return material_find_metal(base_text_of("copper"))->yield_pa / PSI_PA / stress_psi(one_degree);
}

/* ---- habits -------------------------------------------------------------------------------- */

static double tick_in(int64_t length_tick) {
    return units_m_of_tick(length_tick) / INCH_M;
}

/* in: feet of run, inches left out at both ends together */
static double fall_in(const double *in) {
    return shop_default(UNITS_FT_IN).fall_1 * (in[0] * 12 - in[1]);
}

static double en_joint_m(const double *in) {
    (void)in;
    return shop_default(UNITS_MM).expansion_limit_m;
}

static double outlet_tube_in(const double *in) {
    (void)in;
    return tick_in(shop_default(UNITS_FT_IN).outlet_tube_tick);
}

static double outlet_undersize_in(const double *in) {
    (void)in;
    return tick_in(shop_default(UNITS_FT_IN).outlet_undersize_tick);
}

/* in: 1 = snow */
static double bracket_max_in(const double *in) {
    const struct shop shop = shop_default(UNITS_FT_IN);
    return tick_in(in[0] > 0 ? shop.bracket_max_snow_tick : shop.bracket_max_tick);
}

static double gutter_least_in(const double *in) {
    (void)in;
    return tick_in(shop_default(UNITS_FT_IN).gutter_least_tick);
}

static double pipe_least_in(const double *in) {
    (void)in;
    return tick_in(shop_default(UNITS_FT_IN).pipe_least_tick);
}

static double lip_clearance_in(const double *in) {
    return tick_in(shop_lip_clearance(in[0] / 12));
}

/* in: pitch in 12, lip beyond the roof edge */
static double lip_drop_in(const double *in) {
    return in[1] * in[0] / 12 + lip_clearance_in(in);
}

#define FOUND   HANDBOOK_FOUND
#define MEMORY  HANDBOOK_MEMORY
#define DERIVED HANDBOOK_DERIVED
#define TICK_IN 0.00013 /* a tick is 0.000123 in */

static const struct handbook_row rows[] = {
    {"C-23", "fall, in", "40 ft", {40}, WITHIN(2.5, 0.001), DERIVED, "SRC-30", fall_in},
    {"C-25",
     "movement, in",
     "10 ft, 100 F",
     {10, 100},
     WITHIN(0.1176, 0.0005),
     DERIVED,
     "SRC-32",
     movement_in},
    {"C-26",
     "movement, in",
     "10 ft, 100 F, 9.4e-6",
     {10, 100, 9.4},
     WITHIN(0.113, 0.0005),
     FOUND,
     "SRC-51",
     movement_by_in},
    {"C-27",
     "movement, in",
     "1 in, 60 F, 9.5e-6",
     {1.0 / 12, 60, 9.5},
     WITHIN(0.00057, 1e-9),
     FOUND,
     "SRC-30",
     movement_by_in},
    {"C-28",
     "restrained stress, psi",
     "18.3e6, 9.5e-6, 60 F",
     {18.3, 9.5, 60},
     WITHIN(10431, 1),
     FOUND,
     "SRC-30",
     stress_psi},
    {"C-29",
     "movement, in",
     "48 ft, 150 F",
     {48, 150},
     WITHIN(0.8467, 0.001),
     DERIVED,
     "SRC-32",
     movement_in},
    {"C-30",
     "movement, in",
     "50 ft, 170 F",
     {50, 170},
     WITHIN(0.9996, 0.001),
     DERIVED,
     "SRC-32",
     movement_in},
    {"C-31",
     "gap, in",
     "40 ft, set at 60 F, 150 F",
     {40, 150, 60, .125},
     WITHIN(0.5484, 0.001),
     DERIVED,
     "SRC-32",
     gap_in},
    {"C-32",
     "gap, in",
     "40 ft, at -20 F, 150 F",
     {40, 150, -20, .125},
     WITHIN(0.9247, 0.001),
     DERIVED,
     "SRC-32",
     gap_in},
    {"C-33",
     "restrained range to yield, F",
     "",
     {0},
     WITHIN(120.0, 0.1),
     DERIVED,
     "SRC-32",
     yield_range_f},
    {"C-34",
     "movement, mm",
     "10 m, 60 K, 17.6e-6",
     {10, 60, 17.6},
     WITHIN(10.56, 0.01),
     DERIVED,
     "SRC-32",
     movement_mm},
    {"C-36",
     "greatest length free to move, m",
     "metric",
     {0},
     EXACT(12),
     FOUND,
     "SRC-42",
     en_joint_m},
    {"C-38a", "outlet tube, in", "", {0}, EXACT(4), FOUND, "SRC-36", outlet_tube_in},
    {"C-38b",
     "outlet under the leader, in",
     "",
     {0},
     EXACT(0.125),
     FOUND,
     "SRC-36",
     outlet_undersize_in},
    {"C-43a", "bracket spacing, in", "snow", {1}, EXACT(30), FOUND, "SRC-35", bracket_max_in},
    {"C-43b", "bracket spacing, in", "no snow", {0}, EXACT(36), FOUND, "SRC-35", bracket_max_in},
    {"C-46",
     "drop at the far bracket, in",
     "40 ft, ends 6 in",
     {40, 12},
     WITHIN(2.4375, 0.001),
     DERIVED,
     "SRC-30",
     fall_in},
    {"C-64a",
     "lip under the roof line, in",
     "4:12",
     {4},
     WITHIN(0.75, TICK_IN),
     FOUND,
     "SRC-38",
     lip_clearance_in},
    {"C-64b",
     "lip under the roof line, in",
     "7:12",
     {7},
     WITHIN(0.5, TICK_IN),
     FOUND,
     "SRC-38",
     lip_clearance_in},
    {"C-64c",
     "lip under the roof line, in",
     "12:12",
     {12},
     WITHIN(0.25, TICK_IN),
     FOUND,
     "SRC-38",
     lip_clearance_in},
    {"C-64d",
     "lip under the roof line, in",
     "5:12",
     {5},
     WITHIN(0.75, TICK_IN),
     MEMORY,
     "SRC-39",
     lip_clearance_in},
    {"C-64e",
     "lip under the roof line, in",
     "9:12",
     {9},
     WITHIN(0.40, TICK_IN),
     DERIVED,
     "SRC-39",
     lip_clearance_in},
    {"C-65",
     "lip under the roof edge, in",
     "8:12, 5.75 out",
     {8, 5.75},
     WITHIN(4.3333, 0.001),
     DERIVED,
     "SRC-38",
     lip_drop_in},
    {"C-66",
     "lip under the roof edge, in",
     "12:12, 5.75 out",
     {12, 5.75},
     WITHIN(6, 0.001),
     DERIVED,
     "SRC-38",
     lip_drop_in},
    {"C-67e", "least gutter, in", "", {0}, EXACT(4), FOUND, "SRC-30", gutter_least_in},
    {"C-67f", "least round leader, in", "", {0}, EXACT(3), FOUND, "SRC-30", pipe_least_in},
};

const struct handbook_book handbook_shop = {"shop", rows, sizeof rows / sizeof rows[0]};
