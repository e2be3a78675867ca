/* SPDX-License-Identifier: Apache-2.0 */
/* Water by closed forms: level formulas, codes, outlets, leaders, factors. */
#include "handbook.h"

#include "hydraulics/hydraulics.h"

#include <math.h>

static const double FT = 0.3048;
static const double IN = 0.0254;
static const double CFS = 0.3048 * 0.3048 * 0.3048;
static const double GPM = 231 * 0.0254 * 0.0254 * 0.0254 / 60; /* a US gallon is 231 cubic inches */
static const double FT2_INH = 0.3048 * 0.3048 * 0.3048 / 43200; /* 1 in/h on 1 ft2 */
static const double PI = 3.14159265358979323846;

static struct section_gutter make_half_round(double diameter_m) {
    return (struct section_gutter){.inside_diameter_m = diameter_m};
}

/* ---- level formula ------------------------------------------------------------------------------
 */

static double find_level_cfs(const double *in) {
    return hydraulics_level_flow(in[0] * FT) / CFS;
}

static double find_level_gpm(const double *in) {
    return hydraulics_level_flow(in[0] * IN) / GPM;
}

static double find_level_ls(const double *in) {
    return hydraulics_level_flow(in[0] / 1e3) * 1e3;
}

static double find_level_width_in(const double *in) {
    return hydraulics_level_width(in[0] * FT2_INH) / IN;
}

/* ---- EN 12056-3 ---------------------------------------------------------------------------------
 */

static double find_en_nominal_ls(const double *in) {
    struct section_gutter section = make_half_round(in[0] / 1e3);
    return hydraulics_en_nominal_flow(&section) * 1e3;
}

static double find_en_flow(double diameter_m, bool has_bend) {
    struct hydraulics_en_input input = {
        .section = make_half_round(diameter_m), .length_m = 1, .has_bend = has_bend};
    return hydraulics_en_flow(&input);
}

static double find_en_ls(const double *in) {
    return find_en_flow(in[0] / 1e3, false) * 1e3;
}

static double find_en_gpm(const double *in) {
    return find_en_flow(in[0] * IN, false) / GPM;
}

static double find_bend_factor(const double *in) {
    (void)in;
    return find_en_flow(0.15, true) / find_en_flow(0.15, false);
}

static double find_approved_area_m2(const double *in) {
    return find_en_flow(in[0] / 1e3, false) / (0.075 / 3600);
}

static double find_approved_ls(const double *in) {
    return find_approved_area_m2(in) * 0.021;
}

static double find_length_factor(const double *in) {
    return hydraulics_en_length_factor(in[0], in[1] / 1e3);
}

/* ---- outlets and leaders ------------------------------------------------------------------------
 */

static double find_outlet_ls(const double *in) {
    return hydraulics_outlet_flow(in[0] / 1e3, in[1] / 1e3, false) * 1e3;
}

static double find_outlet_head_mm(const double *in) {
    return hydraulics_outlet_head(in[0] / 1e3, in[1] / 1e3, false) * 1e3;
}

static double find_leader_en_ls(const double *in) {
    return hydraulics_leader_flow(HYDRAULICS_LEADER_EN, in[0] / 1e3) * 1e3;
}

/* in: filling, mm */
static double find_leader_filled_ls(const double *in) {
    return hydraulics_en_leader_flow(in[0], in[1] / 1e3) * 1e3;
}

/* in: rim mm, area mm2, head mm; over the same by its published meaning, Cd 0.446 and 0.595 */
static double find_shape_weir_share(const double *in) {
    double flow = hydraulics_shape_outlet_flow(in[0] / 1e3, in[1] / 1e6, in[2] / 1e3, false);
    double head = in[2] / 1e3;
    return flow /
           (0.446 * 2 / 3 * sqrt(2 * HYDRAULICS_GRAVITY_MPS2) * in[0] / 1e3 * pow(head, 1.5));
}

static double find_shape_orifice_share(const double *in) {
    double flow = hydraulics_shape_outlet_flow(in[0] / 1e3, in[1] / 1e6, in[2] / 1e3, false);
    return flow / (0.595 * in[1] / 1e6 * sqrt(2 * HYDRAULICS_GRAVITY_MPS2 * in[2] / 1e3));
}

static double find_strained_share(const double *in) {
    return hydraulics_outlet_flow(in[0] / 1e3, in[1] / 1e3, true) /
           hydraulics_outlet_flow(in[0] / 1e3, in[1] / 1e3, false);
}

/* in: plan, facing, sheltered, m2 */
static double find_shown_area_m2(const double *in) {
    return hydraulics_wind_area(in[0], in[1], in[2]);
}

/* the same, at 330 mm/h */
static double find_shown_ls(const double *in) {
    return find_shown_area_m2(in) * 330 / 3600;
}

static double find_leader_7_24_gpm(const double *in) {
    return hydraulics_leader_flow(HYDRAULICS_LEADER_7_24, in[0] * IN) / GPM;
}

static double find_leader_7_24_ft2(const double *in) {
    return hydraulics_leader_flow(HYDRAULICS_LEADER_7_24, in[0] * IN) / FT2_INH / in[1];
}

static double find_leader_upc_gpm(const double *in) {
    return hydraulics_leader_flow(HYDRAULICS_LEADER_UPC, in[0] * IN) / GPM;
}

static double find_leader_upc_ft2(const double *in) {
    return hydraulics_leader_flow(HYDRAULICS_LEADER_UPC, in[0] * IN) / FT2_INH / in[1];
}

/* ---- US gutter table ----------------------------------------------------------------------------
 */

/* in: nominal inches, fall in 1/16 in/ft, rain in in/h */
static double find_us_gutter_ft2(const double *in) {
    double flow_m3s = 0;
    if (!hydraulics_us_table_flow(in[0] * IN, in[1] / 192, &flow_m3s)) {
        return -1;
    }
    return flow_m3s / FT2_INH / in[2];
}

static double find_level_over_table(const double *in) {
    double cell[3] = {in[0], 1, 1};
    return hydraulics_level_flow(in[0] * IN) / FT2_INH / find_us_gutter_ft2(cell);
}

/* ---- factors ------------------------------------------------------------------------------------
 */

static double find_wind_factor_deg(const double *in) {
    return hydraulics_en_wind_factor(tan(in[0] * PI / 180));
}

static double find_wind_area_m2(const double *in) {
    return in[0] * in[1] * hydraulics_en_wind_factor(in[2] / in[1]);
}

static double find_pitch_factor(const double *in) {
    return hydraulics_pitch_factor(in[0] / 12);
}

/* ---- uniform flow -------------------------------------------------------------------------------
 */

static double find_uniform_cfs(const double *in) {
    struct section_gutter section = make_half_round(in[0] * IN);
    double full_m = section_full_depth(&section);
    return hydraulics_uniform_flow(&section, full_m, in[1], in[2]) / CFS;
}

/* Bazin on our wetted section: the formula is the source's, area and radius are the program's. */
static double find_bazin_ls(const double *in) {
    struct section_gutter section = make_half_round(in[0] / 1e3);
    struct section_wet wet = section_find_wet(&section, section_full_depth(&section));
    double radius_m = wet.area_m2 / wet.perimeter_m;
    return 87 * sqrt(radius_m * in[1]) / (1 + 0.38 / sqrt(radius_m)) * wet.area_m2 * 1e3;
}

/* ---- boxes, stacks, drains, sheets --------------------------------------------------------------
 */

/* in: depth over width, ft, ft2 in/h */
static double find_box_width_ft(const double *in) {
    return hydraulics_level_box_width(in[2] * FT2_INH, in[0], in[1] * FT) / FT;
}

/* in: ft, depth over width, ft */
static double find_box_cfs(const double *in) {
    return hydraulics_level_box_flow(in[0] * FT, in[1], in[2] * FT) / CFS;
}

static double find_stack_gpm(const double *in) {
    return hydraulics_stack_flow(in[1], in[0] * IN) / GPM;
}

static double find_stack_speed_fts(const double *in) {
    return hydraulics_stack_speed(in[1] * GPM, in[0] * IN) / FT;
}

static double find_stack_fall_ft(const double *in) {
    return hydraulics_stack_fall(hydraulics_stack_speed(in[1] * GPM, in[0] * IN)) / FT;
}

/* in: inches, fall in in/ft, n, in/h */
static double find_drain_ft2(const double *in) {
    return hydraulics_drain_flow(in[0] * IN, in[1] / 12, in[2]) / FT2_INH / in[3];
}

/* in: m, fall, n */
static double find_drain_speed_mps(const double *in) {
    return hydraulics_drain_flow(in[0], in[1], in[2]) / section_pipe_area(in[0]);
}

static double find_drain_speed_fts(const double *in) {
    const double metric[3] = {in[0] * IN, in[1], in[2]};
    return find_drain_speed_mps(metric) / FT;
}

static double find_drain_cfs(const double *in) {
    return hydraulics_drain_flow(in[0] * IN, in[1], in[2]) / CFS;
}

/* in: ft2, in/h */
static double find_leader_area_in2(const double *in) {
    return hydraulics_leader_area(in[0] * in[1] * FT2_INH) / (IN * IN);
}

/* Uniform depth of a flow in a half-round. in: diameter, flow, fall, n, all SI */
static double find_uniform_depth_m(const double *in) {
    struct section_gutter section = make_half_round(in[0]);
    double low = 0;
    double high = section_full_depth(&section);
    for (int i = 0; i < 80; i++) {
        double depth = (low + high) / 2;
        *(hydraulics_uniform_flow(&section, depth, in[2], in[3]) < in[1] ? &low : &high) = depth;
    }
    return (low + high) / 2;
}

static double find_uniform_width_m(const double *in) {
    struct section_gutter section = make_half_round(in[0]);
    return section_find_wet(&section, find_uniform_depth_m(in)).top_width_m;
}

static double find_uniform_depth_ft(const double *in) {
    const double metric[4] = {in[0] * FT, in[1] * CFS, in[2], in[3]};
    return find_uniform_depth_m(metric) / FT;
}

static double find_uniform_width_ft(const double *in) {
    const double metric[4] = {in[0] * FT, in[1] * CFS, in[2], in[3]};
    return find_uniform_width_m(metric) / FT;
}

/*
 * Until a plane flows all over: the depth at its lower end, once it does, over the rain. in: length
 * m, fall, n, rain m/s
 */
static double find_plane_minutes(const double *in) {
    return hydraulics_find_sheet(in[3] * in[0], in[1], in[2]).depth_m / in[3] / 60;
}

/* in: ft, fall, n, in/h */
static double find_plane_minutes_ft(const double *in) {
    const double metric[4] = {in[0] * FT, in[1], in[2], in[3] * IN / 3600};
    return find_plane_minutes(metric);
}

/* A jet that leaves level. in: x mm, head mm, velocity coefficient; gives y mm */
static double find_jet_drop_mm(const double *in) {
    struct hydraulics_sheet jet = {.speed_mps =
                                       in[2] * sqrt(2 * HYDRAULICS_GRAVITY_MPS2 * in[1] / 1e3)};
    return hydraulics_path_drop(&jet, 0, in[0] / 1e3) * 1e3;
}

/* One row, one line: long lines are let be here. */
/* clang-format off */
static const struct handbook_row rows[] = {
    /* level half-round, Beij */
    {"W-3", "level flow cfs", "w 0.5 ft", {0.5}, WITHIN_SHARE(0.0919, 0.005), HANDBOOK_FOUND, "SRC-01", find_level_cfs},
    {"W-3b", "level flow gpm", "6 in", {6}, WITHIN_SHARE(41.3, 0.005), HANDBOOK_FOUND, "SRC-01", find_level_gpm},
    {"W-4", "level flow cfs", "w 5/12 ft", {5.0 / 12}, WITHIN_SHARE(0.0583, 0.005), HANDBOOK_FOUND, "SRC-01", find_level_cfs},
    {"W-4b", "level flow gpm", "5 in", {5}, WITHIN_SHARE(26.2, 0.005), HANDBOOK_FOUND, "SRC-01", find_level_gpm},
    {"W-5", "level width in", "I A 4800 ft2 in/h", {4800}, WITHIN_SHARE(6.48, 0.003), HANDBOOK_MEMORY, "SRC-01", find_level_width_in},
    {"W-6", "level width in", "I A 8000 ft2 in/h", {8000}, WITHIN_SHARE(7.95, 0.003), HANDBOOK_MEMORY, "SRC-01", find_level_width_in},
    {"W-7", "level width in", "I A 3600 ft2 in/h", {3600}, WITHIN_SHARE(5.78, 0.003), HANDBOOK_MEMORY, "SRC-01", find_level_width_in},
    {"W-A1", "level flow l/s, 9.078e-6 d^2.5", "d 150 mm", {150}, WITHIN_SHARE(2.5016, 0.001), HANDBOOK_DERIVED, "SRC-01", find_level_ls},

    /* EN 12056-3 and what is built on it */
    {"W-11", "Q_N l/s", "half-round 100 mm", {100}, WITHIN_SHARE(0.864, 0.002), HANDBOOK_FOUND, "SRC-02", find_en_nominal_ls},
    {"W-12", "Q_L l/s", "half-round 100 mm, short", {100}, WITHIN_SHARE(0.778, 0.002), HANDBOOK_FOUND, "SRC-02", find_en_ls},
    {"W-13", "roof m2 at 75 mm/h", "half-round 100 mm", {100}, WITHIN_SHARE(37, 0.01), HANDBOOK_FOUND, "SRC-09", find_approved_area_m2},
    {"W-14", "roof m2 at 75 mm/h", "half-round 75 mm", {75}, WITHIN_SHARE(18, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_area_m2},
    {"W-15", "roof m2 at 75 mm/h", "half-round 115 mm", {115}, WITHIN_SHARE(53, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_area_m2},
    {"W-16", "roof m2 at 75 mm/h", "half-round 125 mm", {125}, WITHIN_SHARE(65, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_area_m2},
    {"W-17", "roof m2 at 75 mm/h", "half-round 150 mm", {150}, WITHIN_SHARE(103, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_area_m2},
    {"W-B4-75", "table flow l/s, area x 0.021", "half-round 75 mm", {75}, WITHIN_SHARE(0.38, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_ls},
    {"W-B4-100", "table flow l/s, area x 0.021", "half-round 100 mm", {100}, WITHIN_SHARE(0.78, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_ls},
    {"W-B4-115", "table flow l/s, area x 0.021", "half-round 115 mm", {115}, WITHIN_SHARE(1.11, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_ls},
    {"W-B4-125", "table flow l/s, area x 0.021", "half-round 125 mm", {125}, WITHIN_SHARE(1.37, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_ls},
    {"W-B4-150", "table flow l/s, area x 0.021", "half-round 150 mm", {150}, WITHIN_SHARE(2.16, 0.015), HANDBOOK_MEMORY, "SRC-09", find_approved_ls},
    {"W-EN-5", "Q_L gpm", "half-round 5 in", {5}, WITHIN_SHARE(22.4, 0.003), HANDBOOK_MEMORY, "SRC-05", find_en_gpm},
    {"W-EN-6", "Q_L gpm", "half-round 6 in", {6}, WITHIN_SHARE(35.3, 0.003), HANDBOOK_MEMORY, "SRC-05", find_en_gpm},
    {"W-EN-7", "Q_L gpm", "half-round 7 in", {7}, WITHIN_SHARE(52.0, 0.003), HANDBOOK_MEMORY, "SRC-05", find_en_gpm},
    {"W-EN-8", "Q_L gpm", "half-round 8 in", {8}, WITHIN_SHARE(72.6, 0.003), HANDBOOK_MEMORY, "SRC-05", find_en_gpm},
    {"W-FL-50", "length factor, level", "L/W 50", {50, 0}, EXACT(1.00), HANDBOOK_FOUND, "SRC-03", find_length_factor},
    {"W-FL-75", "length factor, level", "L/W 75", {75, 0}, EXACT(0.97), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-100", "length factor, level", "L/W 100", {100, 0}, EXACT(0.93), HANDBOOK_FOUND, "SRC-03", find_length_factor},
    {"W-FL-125", "length factor, level", "L/W 125", {125, 0}, EXACT(0.90), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-150", "length factor, level", "L/W 150", {150, 0}, EXACT(0.86), HANDBOOK_FOUND, "SRC-03", find_length_factor},
    {"W-FL-175", "length factor, level", "L/W 175", {175, 0}, EXACT(0.83), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-200", "length factor, level", "L/W 200", {200, 0}, EXACT(0.80), HANDBOOK_FOUND, "SRC-03", find_length_factor},
    {"W-FL-225", "length factor, level", "L/W 225", {225, 0}, EXACT(0.78), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-250", "length factor, level", "L/W 250", {250, 0}, EXACT(0.77), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-275", "length factor, level", "L/W 275", {275, 0}, EXACT(0.75), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-300", "length factor, level", "L/W 300", {300, 0}, EXACT(0.73), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-325", "length factor, level", "L/W 325", {325, 0}, EXACT(0.72), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-350", "length factor, level", "L/W 350", {350, 0}, EXACT(0.70), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-375", "length factor, level", "L/W 375", {375, 0}, EXACT(0.68), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-400", "length factor, level", "L/W 400", {400, 0}, EXACT(0.67), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-425", "length factor, level", "L/W 425", {425, 0}, EXACT(0.65), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-450", "length factor, level", "L/W 450", {450, 0}, EXACT(0.63), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-475", "length factor, level", "L/W 475", {475, 0}, EXACT(0.62), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-500", "length factor, level", "L/W 500", {500, 0}, EXACT(0.60), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-100-4", "length factor, fall 4 mm/m", "L/W 100", {100, 4}, EXACT(1.03), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-200-4", "length factor, fall 4 mm/m", "L/W 200", {200, 4}, EXACT(1.10), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-100-6", "length factor, fall 6 mm/m", "L/W 100", {100, 6}, EXACT(1.08), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-200-6", "length factor, fall 6 mm/m", "L/W 200", {200, 6}, EXACT(1.25), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-100-8", "length factor, fall 8 mm/m", "L/W 100", {100, 8}, EXACT(1.13), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-200-8", "length factor, fall 8 mm/m", "L/W 200", {200, 8}, EXACT(1.40), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-100-10", "length factor, fall 10 mm/m", "L/W 100", {100, 10}, EXACT(1.18), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-200-10", "length factor, fall 10 mm/m", "L/W 200", {200, 10}, EXACT(1.55), HANDBOOK_MEMORY, "SRC-05", find_length_factor},
    {"W-FL-3", "length factor, fall 3 mm/m counts as level", "L/W 100", {100, 3}, EXACT(0.93), HANDBOOK_FOUND, "SRC-02", find_length_factor},
    {"W-20", "bend factor", "", {0}, EXACT(0.85), HANDBOOK_FOUND, "SRC-03", find_bend_factor},

    /* round outlet, mm and l/s */
    {"W-21", "outlet l/s", "D 80 mm, h 30 mm", {80, 30}, WITHIN_SHARE(1.753, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_ls},
    {"W-21h", "head mm, back", "D 80 mm, Q 1.753 l/s", {80, 1.753}, WITHIN_SHARE(30, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_head_mm},
    {"W-22", "outlet l/s", "D 80 mm, h 40 mm", {80, 40}, WITHIN_SHARE(2.698, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_ls},
    {"W-22h", "head mm, back", "D 80 mm, Q 2.698 l/s", {80, 2.698}, WITHIN_SHARE(40, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_head_mm},
    {"W-23", "outlet l/s", "D 80 mm, h 60 mm", {80, 60}, WITHIN_SHARE(3.305, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_ls},
    {"W-23h", "head mm, back", "D 80 mm, Q 3.305 l/s", {80, 3.305}, WITHIN_SHARE(60, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_head_mm},
    {"W-24", "outlet l/s", "D 63 mm, h 30 mm", {63, 30}, WITHIN_SHARE(1.38, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_ls},
    {"W-24h", "head mm, back", "D 63 mm, Q 1.38 l/s", {63, 1.38}, WITHIN_SHARE(30, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_head_mm},
    {"W-25", "outlet l/s", "D 100 mm, h 40 mm", {100, 40}, WITHIN_SHARE(3.373, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_ls},
    {"W-25h", "head mm, back", "D 100 mm, Q 3.373 l/s", {100, 3.373}, WITHIN_SHARE(40, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_head_mm},
    {"W-25b", "outlet l/s", "D 100 mm, h 60 mm", {100, 60}, WITHIN_SHARE(5.164, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_ls},
    {"W-25bh", "head mm, back", "D 100 mm, Q 5.164 l/s", {100, 5.164}, WITHIN_SHARE(60, 0.001), HANDBOOK_MEMORY, "SRC-05", find_outlet_head_mm},

    /* leaders: EN */
    {"W-B3-50", "downpipe l/s at f 0.33", "50 mm", {50}, WITHIN(1.7, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-60", "downpipe l/s at f 0.33", "60 mm", {60}, WITHIN(2.7, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-70", "downpipe l/s at f 0.33", "70 mm", {70}, WITHIN(4.1, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-75", "downpipe l/s at f 0.33", "75 mm", {75}, WITHIN(5.0, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-80", "downpipe l/s at f 0.33", "80 mm", {80}, WITHIN(5.9, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-90", "downpipe l/s at f 0.33", "90 mm", {90}, WITHIN(8.1, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-100", "downpipe l/s at f 0.33", "100 mm", {100}, WITHIN(10.7, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-120", "downpipe l/s at f 0.33", "120 mm", {120}, WITHIN(17.4, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-150", "downpipe l/s at f 0.33", "150 mm", {150}, WITHIN(31.6, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-200", "downpipe l/s at f 0.33", "200 mm", {200}, WITHIN(68.0, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},
    {"W-B3-300", "downpipe l/s at f 0.33", "300 mm", {300}, WITHIN(200.6, 0.05), HANDBOOK_MEMORY, "SRC-05", find_leader_en_ls},

    {"W-B3-50f", "downpipe l/s at f 0.20", "50 mm", {0.20, 50}, WITHIN(0.73, 0.006), HANDBOOK_MEMORY, "SRC-05", find_leader_filled_ls},
    {"W-B3-75f", "downpipe l/s at f 0.20", "75 mm", {0.20, 75}, WITHIN(2.16, 0.006), HANDBOOK_MEMORY, "SRC-05", find_leader_filled_ls},
    {"W-B3-100f", "downpipe l/s at f 0.20", "100 mm", {0.20, 100}, WITHIN(4.65, 0.006), HANDBOOK_MEMORY, "SRC-05", find_leader_filled_ls},
    {"W-B2-weir", "outlet of other shape over Cd 0.446", "rim 300 mm, h 20 mm", {300, 5000, 20}, WITHIN_SHARE(1, 0.003), HANDBOOK_DERIVED, "SRC-05", find_shape_weir_share},
    {"W-B2-hole", "outlet of other shape over Cd 0.595", "5000 mm2, h 80 mm", {300, 5000, 80}, WITHIN_SHARE(1, 0.003), HANDBOOK_DERIVED, "SRC-05", find_shape_orifice_share},
    {"W-B2-strainer", "strained over open", "D 80 mm, h 30 mm", {80, 30}, EXACT(0.5), HANDBOOK_MEMORY, "SRC-05", find_strained_share},

    /* AS/NZS 3500.3: wind on a roof, a published example */
    {"W-43", "catchment m2", "plan 133, facing 20 m2", {133, 20, 0}, WITHIN_SHARE(143, 0.005), HANDBOOK_FOUND, "SRC-10", find_shown_area_m2},
    {"W-43b", "flow l/s at 330 mm/h", "plan 133, facing 20 m2", {133, 20, 0}, WITHIN_SHARE(13.1, 0.005), HANDBOOK_FOUND, "SRC-10", find_shown_ls},

    /* leaders: stacks 7/24 full, gpm rounded as printed, and ft2 at 1 in/h */
    {"W-29-2", "stack gpm", "2 in", {2}, WITHIN(23, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-2", "stack ft2 at 1 in/h", "2 in", {2, 1}, WITHIN_SHARE(2180, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29-3", "stack gpm", "3 in", {3}, WITHIN(67, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-3", "stack ft2 at 1 in/h", "3 in", {3, 1}, WITHIN_SHARE(6426, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29-4", "stack gpm", "4 in", {4}, WITHIN(144, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-4", "stack ft2 at 1 in/h", "4 in", {4, 1}, WITHIN_SHARE(13840, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29-5", "stack gpm", "5 in", {5}, WITHIN(261, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-5", "stack ft2 at 1 in/h", "5 in", {5, 1}, WITHIN_SHARE(25094, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29-6", "stack gpm", "6 in", {6}, WITHIN(424, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-6", "stack ft2 at 1 in/h", "6 in", {6, 1}, WITHIN_SHARE(40805, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29-8", "stack gpm", "8 in", {8}, WITHIN(913, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-8", "stack ft2 at 1 in/h", "8 in", {8, 1}, WITHIN_SHARE(87878, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29-10", "stack gpm", "10 in", {10}, WITHIN(1655, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-10", "stack ft2 at 1 in/h", "10 in", {10, 1}, WITHIN_SHARE(159334, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29-12", "stack gpm", "12 in", {12}, WITHIN(2692, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-12", "stack ft2 at 1 in/h", "12 in", {12, 1}, WITHIN_SHARE(259095, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29-15", "stack gpm", "15 in", {15}, WITHIN(4880, 0.5), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_gpm},
    {"W-29b-15", "stack ft2 at 1 in/h", "15 in", {15, 1}, WITHIN_SHARE(469771, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},
    {"W-29c", "stack ft2 at 8 in/h", "4 in", {4, 8}, WITHIN_SHARE(1730, 0.0005), HANDBOOK_FOUND, "SRC-08", find_leader_7_24_ft2},

    /* leaders: the vertical leader table, ft2 by rain, and gpm of the same sheet */
    {"W-C3-2", "leader ft2 at 1 in/h", "2 in", {2, 1}, EXACT(2880), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-C3g-2", "leader gpm", "2 in", {2}, WITHIN_SHARE(30, 0.04), HANDBOOK_FOUND, "SRC-06", find_leader_upc_gpm},
    {"W-C3-3", "leader ft2 at 1 in/h", "3 in", {3, 1}, EXACT(8800), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-C3g-3", "leader gpm", "3 in", {3}, WITHIN_SHARE(90, 0.04), HANDBOOK_FOUND, "SRC-06", find_leader_upc_gpm},
    {"W-C3-4", "leader ft2 at 1 in/h", "4 in", {4, 1}, EXACT(18400), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-C3g-4", "leader gpm", "4 in", {4}, WITHIN_SHARE(192, 0.04), HANDBOOK_FOUND, "SRC-06", find_leader_upc_gpm},
    {"W-C3-5", "leader ft2 at 1 in/h", "5 in", {5, 1}, EXACT(34600), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-C3g-5", "leader gpm", "5 in", {5}, WITHIN_SHARE(348, 0.04), HANDBOOK_FOUND, "SRC-06", find_leader_upc_gpm},
    {"W-C3-6", "leader ft2 at 1 in/h", "6 in", {6, 1}, EXACT(54000), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-C3g-6", "leader gpm", "6 in", {6}, WITHIN_SHARE(566, 0.04), HANDBOOK_FOUND, "SRC-06", find_leader_upc_gpm},
    {"W-C3-8", "leader ft2 at 1 in/h", "8 in", {8, 1}, EXACT(116000), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-C3g-8", "leader gpm", "8 in", {8}, WITHIN_SHARE(1220, 0.04), HANDBOOK_FOUND, "SRC-06", find_leader_upc_gpm},
    {"W-32-4", "leader ft2 at 4 in/h", "3 in", {3, 4}, EXACT(2200), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-32-8", "leader ft2 at 8 in/h", "3 in", {3, 8}, EXACT(1100), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-33-4", "leader ft2 at 4 in/h", "4 in", {4, 4}, EXACT(4600), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-33-8", "leader ft2 at 8 in/h", "4 in", {4, 8}, EXACT(2300), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-34-4", "leader ft2 at 4 in/h", "2 in", {2, 4}, EXACT(720), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},
    {"W-34-8", "leader ft2 at 8 in/h", "2 in", {2, 8}, EXACT(360), HANDBOOK_FOUND, "SRC-06", find_leader_upc_ft2},

    /* semicircular gutter table, ft2 at 1 in/h by fall in 1/16 in/ft: every cell */
    {"W-C1-3-1", "gutter ft2 at 1 in/h", "3 in, fall 1/16", {3, 1, 1}, EXACT(680), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-3-2", "gutter ft2 at 1 in/h", "3 in, fall 1/8", {3, 2, 1}, EXACT(960), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-3-4", "gutter ft2 at 1 in/h", "3 in, fall 1/4", {3, 4, 1}, EXACT(1360), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-3-8", "gutter ft2 at 1 in/h", "3 in, fall 1/2", {3, 8, 1}, EXACT(1920), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-1", "gutter ft2 at 1 in/h", "4 in, fall 1/16", {4, 1, 1}, EXACT(1440), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-2", "gutter ft2 at 1 in/h", "4 in, fall 1/8", {4, 2, 1}, EXACT(2040), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-4", "gutter ft2 at 1 in/h", "4 in, fall 1/4", {4, 4, 1}, EXACT(2880), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-8", "gutter ft2 at 1 in/h", "4 in, fall 1/2", {4, 8, 1}, EXACT(4080), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-1", "gutter ft2 at 1 in/h", "5 in, fall 1/16", {5, 1, 1}, EXACT(2500), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-2", "gutter ft2 at 1 in/h", "5 in, fall 1/8", {5, 2, 1}, EXACT(3520), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-4", "gutter ft2 at 1 in/h", "5 in, fall 1/4", {5, 4, 1}, EXACT(5000), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-8", "gutter ft2 at 1 in/h", "5 in, fall 1/2", {5, 8, 1}, EXACT(7080), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-1", "gutter ft2 at 1 in/h", "6 in, fall 1/16", {6, 1, 1}, EXACT(3840), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-2", "gutter ft2 at 1 in/h", "6 in, fall 1/8", {6, 2, 1}, EXACT(5440), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-4", "gutter ft2 at 1 in/h", "6 in, fall 1/4", {6, 4, 1}, EXACT(7680), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-8", "gutter ft2 at 1 in/h", "6 in, fall 1/2", {6, 8, 1}, EXACT(11080), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-7-1", "gutter ft2 at 1 in/h", "7 in, fall 1/16", {7, 1, 1}, EXACT(5520), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-7-2", "gutter ft2 at 1 in/h", "7 in, fall 1/8", {7, 2, 1}, EXACT(7800), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-7-4", "gutter ft2 at 1 in/h", "7 in, fall 1/4", {7, 4, 1}, EXACT(11040), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-7-8", "gutter ft2 at 1 in/h", "7 in, fall 1/2", {7, 8, 1}, EXACT(15600), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-1", "gutter ft2 at 1 in/h", "8 in, fall 1/16", {8, 1, 1}, EXACT(7960), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-2", "gutter ft2 at 1 in/h", "8 in, fall 1/8", {8, 2, 1}, EXACT(11200), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-4", "gutter ft2 at 1 in/h", "8 in, fall 1/4", {8, 4, 1}, EXACT(15920), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-8", "gutter ft2 at 1 in/h", "8 in, fall 1/2", {8, 8, 1}, EXACT(22400), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-1", "gutter ft2 at 1 in/h", "10 in, fall 1/16", {10, 1, 1}, EXACT(14400), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-2", "gutter ft2 at 1 in/h", "10 in, fall 1/8", {10, 2, 1}, EXACT(20400), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-4", "gutter ft2 at 1 in/h", "10 in, fall 1/4", {10, 4, 1}, EXACT(28800), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-8", "gutter ft2 at 1 in/h", "10 in, fall 1/2", {10, 8, 1}, EXACT(40000), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},

    /* the same by rain, as printed (rounded to a foot; the 7 in line is left out: it is misprinted) */
    {"W-C1-3-i2", "gutter ft2 at 2 in/h", "3 in, fall 1/16", {3, 1, 2}, WITHIN(340, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-3-i3", "gutter ft2 at 3 in/h", "3 in, fall 1/16", {3, 1, 3}, WITHIN(226, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-3-i4", "gutter ft2 at 4 in/h", "3 in, fall 1/16", {3, 1, 4}, WITHIN(170, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-3-i5", "gutter ft2 at 5 in/h", "3 in, fall 1/16", {3, 1, 5}, WITHIN(136, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-3-i6", "gutter ft2 at 6 in/h", "3 in, fall 1/16", {3, 1, 6}, WITHIN(113, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-i2", "gutter ft2 at 2 in/h", "4 in, fall 1/16", {4, 1, 2}, WITHIN(720, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-i3", "gutter ft2 at 3 in/h", "4 in, fall 1/16", {4, 1, 3}, WITHIN(480, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-i4", "gutter ft2 at 4 in/h", "4 in, fall 1/16", {4, 1, 4}, WITHIN(360, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-i5", "gutter ft2 at 5 in/h", "4 in, fall 1/16", {4, 1, 5}, WITHIN(288, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-4-i6", "gutter ft2 at 6 in/h", "4 in, fall 1/16", {4, 1, 6}, WITHIN(240, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-i2", "gutter ft2 at 2 in/h", "5 in, fall 1/16", {5, 1, 2}, WITHIN(1250, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-i3", "gutter ft2 at 3 in/h", "5 in, fall 1/16", {5, 1, 3}, WITHIN(834, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-i4", "gutter ft2 at 4 in/h", "5 in, fall 1/16", {5, 1, 4}, WITHIN(625, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-i5", "gutter ft2 at 5 in/h", "5 in, fall 1/16", {5, 1, 5}, WITHIN(500, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-5-i6", "gutter ft2 at 6 in/h", "5 in, fall 1/16", {5, 1, 6}, WITHIN(416, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-i2", "gutter ft2 at 2 in/h", "6 in, fall 1/16", {6, 1, 2}, WITHIN(1920, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-i3", "gutter ft2 at 3 in/h", "6 in, fall 1/16", {6, 1, 3}, WITHIN(1280, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-i4", "gutter ft2 at 4 in/h", "6 in, fall 1/16", {6, 1, 4}, WITHIN(960, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-i5", "gutter ft2 at 5 in/h", "6 in, fall 1/16", {6, 1, 5}, WITHIN(768, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-6-i6", "gutter ft2 at 6 in/h", "6 in, fall 1/16", {6, 1, 6}, WITHIN(640, 1), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-i2", "gutter ft2 at 2 in/h", "8 in, fall 1/16", {8, 1, 2}, WITHIN(3980, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-i3", "gutter ft2 at 3 in/h", "8 in, fall 1/16", {8, 1, 3}, WITHIN(2655, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-i4", "gutter ft2 at 4 in/h", "8 in, fall 1/16", {8, 1, 4}, WITHIN(1990, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-i5", "gutter ft2 at 5 in/h", "8 in, fall 1/16", {8, 1, 5}, WITHIN(1590, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-8-i6", "gutter ft2 at 6 in/h", "8 in, fall 1/16", {8, 1, 6}, WITHIN(1325, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-i2", "gutter ft2 at 2 in/h", "10 in, fall 1/16", {10, 1, 2}, WITHIN(7200, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-i3", "gutter ft2 at 3 in/h", "10 in, fall 1/16", {10, 1, 3}, WITHIN(4800, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-i4", "gutter ft2 at 4 in/h", "10 in, fall 1/16", {10, 1, 4}, WITHIN(3600, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-i5", "gutter ft2 at 5 in/h", "10 in, fall 1/16", {10, 1, 5}, WITHIN(2880, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-C1-10-i6", "gutter ft2 at 6 in/h", "10 in, fall 1/16", {10, 1, 6}, WITHIN(2400, 2), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-35", "level formula over the 1/16 table, 3971/3840", "6 in", {6}, WITHIN(1.0341, 0.002), HANDBOOK_MEMORY, "SRC-04", find_level_over_table},
    {"W-36", "gutter ft2 at 4 in/h", "4 in, fall 1/8", {4, 2, 4}, EXACT(510), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},
    {"W-37", "gutter ft2 at 2 in/h", "5 in, fall 1/4", {5, 4, 2}, EXACT(2500), HANDBOOK_MEMORY, "SRC-04", find_us_gutter_ft2},

    /* factors on the roof's area */
    {"W-42-30", "wind factor", "30 deg", {30}, WITHIN(1.29, 0.005), HANDBOOK_FOUND, "SRC-10", find_wind_factor_deg},
    {"W-42-45", "wind factor", "45 deg", {45}, WITHIN(1.5, 0.005), HANDBOOK_FOUND, "SRC-10", find_wind_factor_deg},
    {"W-42-60", "wind factor", "60 deg", {60}, WITHIN(1.87, 0.005), HANDBOOK_FOUND, "SRC-10", find_wind_factor_deg},
    {"W-41", "effective m2", "L 10 W 6 H 3", {10, 6, 3}, EXACT(75), HANDBOOK_FOUND, "SRC-10", find_wind_area_m2},
    {"W-44-0", "pitch factor", "0 in 12", {0}, EXACT(1.0), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-3", "pitch factor", "3 in 12", {3}, EXACT(1.0), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-4", "pitch factor", "4 in 12", {4}, EXACT(1.05), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-5", "pitch factor", "5 in 12", {5}, EXACT(1.05), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-6", "pitch factor", "6 in 12", {6}, EXACT(1.1), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-8", "pitch factor", "8 in 12", {8}, EXACT(1.1), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-9", "pitch factor", "9 in 12", {9}, EXACT(1.2), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-11", "pitch factor", "11 in 12", {11}, EXACT(1.2), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-12", "pitch factor", "12 in 12", {12}, EXACT(1.3), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},
    {"W-44-16", "pitch factor", "16 in 12", {16}, EXACT(1.3), HANDBOOK_FOUND, "SRC-11", find_pitch_factor},

    /* uniform flow, brim full */
    {"W-66", "Manning cfs", "5 in, 1/16 in/ft, n 0.011", {5, 1.0 / 192, 0.011}, WITHIN(0.14715, 1e-4), HANDBOOK_DERIVED, "SRC-21", find_uniform_cfs},
    /* boxes, stacks, drains, the rules for leaders */
    {"W-8", "level box width ft", "m 0.75, 40 ft, I A 4800", {0.75, 40, 4800}, WITHIN_SHARE(0.383, 0.005), HANDBOOK_MEMORY, "SRC-01", find_box_width_ft},
    {"W-9", "level box width ft", "m 0.60, 50 ft, I A 8000", {0.60, 50, 8000}, WITHIN_SHARE(0.535, 0.005), HANDBOOK_MEMORY, "SRC-01", find_box_width_ft},
    {"W-10", "level box flow cfs", "w 0.3840 ft, m 0.75, 40 ft", {0.384, 0.75, 40}, WITHIN_SHARE(0.1109, 0.005), HANDBOOK_FOUND, "SRC-01", find_box_cfs},
    {"W-30", "stack gpm, a third full", "4 in", {4, 1.0 / 3}, WITHIN_SHARE(179.6, 0.005), HANDBOOK_MEMORY, "SRC-07", find_stack_gpm},
    {"W-31", "terminal speed ft/s", "3 in, 66.8 gpm", {3, 66.8}, WITHIN_SHARE(10.4, 0.01), HANDBOOK_MEMORY, "SRC-07", find_stack_speed_fts},
    {"W-31b", "fall until then ft", "3 in, 66.8 gpm", {3, 66.8}, WITHIN_SHARE(5.6, 0.01), HANDBOOK_MEMORY, "SRC-07", find_stack_fall_ft},
    {"W-38", "drain ft2 at 3.2 in/h, n 0.0150 fitted to the code", "6 in, 1/8 in/ft", {6, 1.0 / 8, 0.0150, 3.2}, WITHIN_SHARE(6688, 0.005), HANDBOOK_DERIVED, "SRC-06", find_drain_ft2},
    {"W-39", "leader in2, 1200 rule", "1200 ft2, 8 in/h", {1200, 8}, EXACT(8.0), HANDBOOK_FOUND, "SRC-19", find_leader_area_in2},
    {"W-40", "leader in2, 150 ft2 to the inch at 8 in/h", "1500 ft2", {1500, 8}, EXACT(10), HANDBOOK_FOUND, "SRC-19", find_leader_area_in2},

    /* sheets, pipes and a circular gutter of the road books; 1.49 stands there for 1.486, and 6.92 and 0.933 are rounded by 1 % */
    {"W-W15a", "plane flows all over after, min", "1000 ft, 1 %, n 0.013, 0.95 of 6.4 in/h", {1000, 0.01, 0.013, 0.95 * 6.4}, WITHIN(8.45, 0.02), HANDBOOK_FOUND, "SRC-92", find_plane_minutes_ft},
    {"W-W15b", "plane flows all over after, min", "0.95 of 6.6 in/h", {1000, 0.01, 0.013, 0.95 * 6.6}, WITHIN(8.35, 0.02), HANDBOOK_FOUND, "SRC-92", find_plane_minutes_ft},
    {"W-W15c", "plane flows all over after, min", "0.95 of 6.5 in/h", {1000, 0.01, 0.013, 0.95 * 6.5}, WITHIN(8.40, 0.02), HANDBOOK_FOUND, "SRC-92", find_plane_minutes_ft},
    {"W-W16", "pipe full cfs", "24 in, 2 %, n 0.015", {24, 0.02, 0.015}, WITHIN_SHARE(27.8, 0.003), HANDBOOK_FOUND, "SRC-92", find_drain_cfs},
    {"W-W16v", "pipe full ft/s", "24 in, 2 %, n 0.015", {24, 0.02, 0.015}, WITHIN_SHARE(8.85, 0.003), HANDBOOK_FOUND, "SRC-92", find_drain_speed_fts},
    {"W-W17a", "sheet flow min", "68 m, 0.5 %, n 0.41, 90 mm/h", {68, 0.005, 0.41, 0.090 / 3600}, WITHIN_SHARE(41.3, 0.012), HANDBOOK_FOUND, "SRC-94", find_plane_minutes},
    {"W-W17b", "sheet flow min", "68 m, 0.5 %, n 0.41, 69 mm/h", {68, 0.005, 0.41, 0.069 / 3600}, WITHIN_SHARE(45.9, 0.012), HANDBOOK_FOUND, "SRC-94", find_plane_minutes},
    {"W-W18a", "sheet flow min", "223 ft, 0.5 %, n 0.41, 3.4 in/h", {223, 0.005, 0.41, 3.4}, WITHIN_SHARE(42.1, 0.012), HANDBOOK_FOUND, "SRC-94", find_plane_minutes_ft},
    {"W-W18b", "sheet flow min", "223 ft, 0.5 %, n 0.41, 2.7 in/h", {223, 0.005, 0.41, 2.7}, WITHIN_SHARE(46.2, 0.012), HANDBOOK_FOUND, "SRC-94", find_plane_minutes_ft},
    {"W-W19", "pipe full m/s", "0.38 m, 0.8 %, n 0.011", {0.38, 0.008, 0.011}, WITHIN_SHARE(1.7, 0.01), HANDBOOK_FOUND, "SRC-94", find_drain_speed_mps},
    {"W-W22", "circular gutter depth m", "D 1.5 m, 1 %, n 0.016, 0.5 m3/s", {1.5, 0.5, 0.01, 0.016}, WITHIN_SHARE(0.30, 0.01), HANDBOOK_FOUND, "SRC-94", find_uniform_depth_m},
    {"W-W22d", "the same by Manning in full", "", {1.5, 0.5, 0.01, 0.016}, WITHIN(0.2991, 2e-4), HANDBOOK_DERIVED, "SRC-94", find_uniform_depth_m},
    {"W-W22w", "its width m", "", {1.5, 0.5, 0.01, 0.016}, WITHIN_SHARE(1.2, 0.01), HANDBOOK_FOUND, "SRC-94", find_uniform_width_m},
    {"W-W23", "circular gutter depth ft", "D 4.92 ft, 1 %, n 0.016, 17.6 cfs", {4.92, 17.6, 0.01, 0.016}, WITHIN_SHARE(0.98, 0.01), HANDBOOK_FOUND, "SRC-94", find_uniform_depth_ft},
    {"W-W23w", "its width ft", "", {4.92, 17.6, 0.01, 0.016}, WITHIN_SHARE(3.93, 0.01), HANDBOOK_FOUND, "SRC-94", find_uniform_width_ft},
    {"W-W30", "jet from an edge: drop mm", "x 335 mm, head 85 mm, Cv 0.971", {335, 85, 0.971}, WITHIN(350, 1), HANDBOOK_FOUND, "SRC-95", find_jet_drop_mm},

    {"W-67", "Bazin l/s", "125 mm, 5 mm/m", {125, 0.005}, WITHIN_SHARE(2.12, 0.005), HANDBOOK_DERIVED, "SRC-18", find_bazin_ls},
};
/* clang-format on */

const struct handbook_book handbook_water = {"water", rows, sizeof rows / sizeof rows[0]};
