/* SPDX-License-Identifier: Apache-2.0 */
/* Level formulas, outlet, leader and uniform flow: closed forms, each a line or two. */
#include "hydraulics/hydraulics.h"

#include "hydraulics/hydraulics_inside.h"

#include <assert.h>
#include <math.h>

/* ---- level formulas: cfs and ft inside the published form, SI outside ----------------------- */

double hydraulics_level_flow(double width_m) { /* SRC-01 */
    assert(width_m >= 0);
    return 0.52 * pow(width_m / HYDRAULICS_FOOT_M, 2.5) * HYDRAULICS_CFS_M3S;
}

double hydraulics_level_width(double flow_m3s) { /* SRC-01 */
    assert(flow_m3s >= 0);
    return pow(flow_m3s / HYDRAULICS_CFS_M3S / 0.52, 0.4) * HYDRAULICS_FOOT_M;
}

double hydraulics_mitre_loss(double turn_rad) { /* SRC-96 */
    assert(turn_rad >= 0);
    double share = 1 - cos(turn_rad);
    return share < 1 ? share : 1;
}

double hydraulics_level_box_flow(double width_m, double depth_1, double length_m) { /* SRC-01 */
    assert(width_m >= 0 && depth_1 > 0 && length_m > 0);
    double width_ft = width_m / HYDRAULICS_FOOT_M;
    return 7.75 * pow(depth_1, 1.6) * pow(width_m / length_m, 0.3) * pow(width_ft, 2.5) *
           HYDRAULICS_CFS_M3S;
}

double hydraulics_level_box_width(double flow_m3s, double depth_1, double length_m) { /* SRC-01 */
    assert(flow_m3s >= 0 && depth_1 > 0 && length_m > 0);
    double length_ft = length_m / HYDRAULICS_FOOT_M;
    double power = flow_m3s / HYDRAULICS_CFS_M3S / 7.75 * pow(depth_1, -1.6) * pow(length_ft, 0.3);
    return pow(power, 1 / 2.8) * HYDRAULICS_FOOT_M;
}

double hydraulics_uniform_flow(const struct section_gutter *section, double depth_m, double slope_1,
                               double manning_1) {
    assert(slope_1 >= 0 && manning_1 > 0);
    if (depth_m <= 0) {
        return 0;
    }
    struct section_wet wet = section_find_wet(section, depth_m);
    return wet.area_m2 * pow(wet.area_m2 / wet.perimeter_m, 2.0 / 3.0) * sqrt(slope_1) / manning_1;
}

/* ---- outlet (SRC-05): l/s and mm inside ------------------------------------------------------ */

static const double STRAINED_1 = 0.5;

enum hydraulics_outlet_law hydraulics_outlet_law(double diameter_m, double head_m) {
    return head_m <= diameter_m / 2 ? HYDRAULICS_OUTLET_WEIR : HYDRAULICS_OUTLET_ORIFICE;
}

double hydraulics_outlet_flow(double diameter_m, double head_m, bool strained) {
    assert(diameter_m > 0 && head_m >= 0);
    double d_mm = diameter_m * 1e3;
    double h_mm = head_m * 1e3;
    double flow_ls = 0;
    switch (hydraulics_outlet_law(diameter_m, head_m)) {
    case HYDRAULICS_OUTLET_WEIR:
        flow_ls = d_mm * h_mm * sqrt(h_mm) / 7500;
        break;
    case HYDRAULICS_OUTLET_ORIFICE:
        flow_ls = d_mm * d_mm * sqrt(h_mm) / 15000;
        break;
    }
    return flow_ls * 1e-3 * (strained ? STRAINED_1 : 1);
}

double hydraulics_outlet_head(double diameter_m, double flow_m3s, bool strained) {
    assert(diameter_m > 0 && flow_m3s >= 0);
    double d_mm = diameter_m * 1e3;
    double flow_ls = flow_m3s * 1e3 / (strained ? STRAINED_1 : 1);
    /* the two laws meet at h = D/2 */
    if (flow_m3s <= hydraulics_outlet_flow(diameter_m, diameter_m / 2, strained)) {
        return pow(7500 * flow_ls / d_mm, 2.0 / 3.0) * 1e-3;
    }
    double root = 15000 * flow_ls / (d_mm * d_mm);
    return root * root * 1e-3;
}

/* ---- leader (downspout): gpm and in inside ----------------------------------------------------
 */

static double find_wyly_eaton(double filling_1, double diameter_in) { /* SRC-07 */
    return 27.8 * pow(filling_1, 5.0 / 3.0) * pow(diameter_in, 8.0 / 3.0) * HYDRAULICS_GPM_M3S;
}

double hydraulics_shape_outlet_flow(double rim_m, double area_m2, double head_m,
                                    bool strained) { /* SRC-05; l/s and mm as published */
    assert(rim_m > 0 && area_m2 > 0 && head_m >= 0);
    double head_mm = head_m * 1e3;
    double weir_ls = rim_m * 1e3 * pow(head_mm, 1.5) / 24000;
    double orifice_ls = area_m2 * 1e6 * sqrt(head_mm) / 12000;
    return fmin(weir_ls, orifice_ls) * 1e-3 * (strained ? 0.5 : 1);
}

double hydraulics_us_outlet_flow(double diameter_m, double head_m, bool strained) { /* SRC-116 */
    assert(diameter_m > 0 && head_m >= 0);
    const double pi = 3.14159265358979323846;
    double head_ft = head_m / HYDRAULICS_FOOT_M;
    double rim_ft = pi * diameter_m / HYDRAULICS_FOOT_M;
    double weir_m3s = 3.33 * rim_ft * pow(head_ft, 1.5) * HYDRAULICS_CFS_M3S;
    double area_m2 = pi * diameter_m * diameter_m / 4;
    double orifice_m3s = 0.6 * area_m2 * sqrt(2 * HYDRAULICS_GRAVITY_MPS2 * head_m);
    return fmin(weir_m3s, orifice_m3s) * (strained ? 0.5 : 1);
}

static const double SCUPPER_WEIR = 3.33; /* SRC-158 */

double hydraulics_scupper_flow(double width_m, double depth_m) {
    assert(width_m > 0 && depth_m >= 0);
    return SCUPPER_WEIR * (width_m / HYDRAULICS_FOOT_M) * pow(depth_m / HYDRAULICS_FOOT_M, 1.5) *
           HYDRAULICS_CFS_M3S;
}

double hydraulics_scupper_depth(double width_m, double flow_m3s) {
    assert(width_m > 0 && flow_m3s >= 0);
    double flow_cfs_ft = flow_m3s / HYDRAULICS_CFS_M3S / (width_m / HYDRAULICS_FOOT_M);
    return pow(flow_cfs_ft / SCUPPER_WEIR, 2.0 / 3.0) * HYDRAULICS_FOOT_M;
}

/* SRC-06: vertical leaders, ft2 of roof at 1 in/h, by nominal inches. FOUND. */
static const double LEADER_IN[] = {2, 3, 4, 5, 6, 8};
static const double LEADER_FT2[] = {2880, 8800, 18400, 34600, 54000, 116000};
enum { LEADER_ROWS = sizeof LEADER_IN / sizeof LEADER_IN[0] };

/* The filling at which Wyly-Eaton gives the table's flow in that row (0.345 to 0.354). */
static double find_row_filling(int row) {
    double flow_m3s = LEADER_FT2[row] * HYDRAULICS_FT2_INH_M3S;
    return pow(flow_m3s / find_wyly_eaton(1, LEADER_IN[row]), 0.6);
}

/* Table value at a tabulated size; between sizes the filling is linear in the diameter. */
static double find_upc_leader(double diameter_in) {
    if (diameter_in <= LEADER_IN[0]) {
        return find_wyly_eaton(find_row_filling(0), diameter_in);
    }
    for (int row = 1; row < LEADER_ROWS; row++) {
        if (diameter_in <= LEADER_IN[row]) {
            double low = find_row_filling(row - 1);
            double high = find_row_filling(row);
            double share =
                (diameter_in - LEADER_IN[row - 1]) / (LEADER_IN[row] - LEADER_IN[row - 1]);
            return find_wyly_eaton(low + share * (high - low), diameter_in);
        }
    }
    return find_wyly_eaton(find_row_filling(LEADER_ROWS - 1), diameter_in);
}

double hydraulics_en_leader_flow(double filling_1, double inside_diameter_m) { /* SRC-05 */
    assert(filling_1 >= 0 && filling_1 <= 1 && inside_diameter_m > 0);
    return 2.5e-4 * pow(0.25, -0.167) * pow(inside_diameter_m * 1e3, 2.667) *
           pow(filling_1, 1.667) * 1e-3;
}

double hydraulics_leader_flow(enum hydraulics_leader_rule rule, double inside_diameter_m) {
    assert(inside_diameter_m > 0);
    double diameter_in = inside_diameter_m / HYDRAULICS_INCH_M;
    double flow_m3s = 0;
    switch (rule) {
    case HYDRAULICS_LEADER_7_24: /* SRC-08 */
        flow_m3s = find_wyly_eaton(7.0 / 24.0, diameter_in);
        break;
    case HYDRAULICS_LEADER_UPC:
        flow_m3s = find_upc_leader(diameter_in);
        break;
    case HYDRAULICS_LEADER_EN: /* SRC-05: kb 0.25 mm, f 0.33 */
        flow_m3s = hydraulics_en_leader_flow(0.33, inside_diameter_m);
        break;
    }
    return flow_m3s;
}

double hydraulics_stack_flow(double filling_1, double inside_diameter_m) {
    assert(filling_1 >= 0 && filling_1 <= 1 && inside_diameter_m > 0);
    return find_wyly_eaton(filling_1, inside_diameter_m / HYDRAULICS_INCH_M);
}

double hydraulics_stack_speed(double flow_m3s, double inside_diameter_m) { /* SRC-07 */
    assert(flow_m3s >= 0 && inside_diameter_m > 0);
    double share = flow_m3s / HYDRAULICS_GPM_M3S / (inside_diameter_m / HYDRAULICS_INCH_M);
    return 3.0 * pow(share, 0.4) * HYDRAULICS_FOOT_M;
}

double hydraulics_stack_fall(double speed_mps) { /* SRC-07 */
    double speed_fts = speed_mps / HYDRAULICS_FOOT_M;
    return 0.052 * speed_fts * speed_fts * HYDRAULICS_FOOT_M;
}

double hydraulics_leader_area(double flow_m3s) { /* SRC-19: 150 ft2 at 8 in/h is the same rule */
    return flow_m3s / (1200 * HYDRAULICS_FT2_INH_M3S) * HYDRAULICS_INCH_M * HYDRAULICS_INCH_M;
}

double hydraulics_drain_flow(double inside_diameter_m, double slope_1, double manning_1) {
    assert(inside_diameter_m > 0 && slope_1 >= 0 && manning_1 > 0);
    /* twice the half-round of that diameter, brim full: the same hydraulic radius */
    struct section_gutter half = {.inside_diameter_m = inside_diameter_m};
    return 2 * hydraulics_uniform_flow(&half, inside_diameter_m / 2, slope_1, manning_1);
}
