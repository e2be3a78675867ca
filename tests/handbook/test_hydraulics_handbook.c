/* SPDX-License-Identifier: Apache-2.0 */
/* Water that varies along the gutter: closed forms, reference solutions, published channels. Named
 * as a test of the room because it looks inside it, for channels of other shapes. */
#include "handbook.h"

#include "hydraulics/hydraulics_inside.h"

#include <math.h>

#define FT HYDRAULICS_FOOT_M
#define IN HYDRAULICS_INCH_M

static struct section_gutter make_half_round(double diameter_m) {
    return (struct section_gutter){.inside_diameter_m = diameter_m};
}

/* ---- profiles -----------------------------------------------------------------------------------
 */

struct answer {
    struct hydraulics_profile profile; /* its stations are gone */
    double middle_m;                   /* depth nearest to mid-length */
    double control_depth_m;
    double end_flow_m3s;
};

static void look_at_stations(struct answer *answer, double length_m) {
    const struct hydraulics_profile *profile = &answer->profile;
    double nearest_m = length_m;
    for (size_t i = 0; i < profile->station_count; i++) {
        const struct hydraulics_station *station = &profile->stations[i];
        double off_m = fabs(station->x_m - length_m / 2);
        if (off_m < nearest_m) {
            nearest_m = off_m;
            answer->middle_m = station->depth_m;
        }
        if (station->x_m == profile->control_x_m) {
            answer->control_depth_m = station->depth_m;
        }
    }
    answer->end_flow_m3s = profile->stations[profile->station_count - 1].flow_m3s;
}

static struct answer solve(struct hydraulics_shape shape, struct hydraulics_channel channel,
                           double lateral_m2s) {
    struct hydraulics_knot knots[2] = {{0, lateral_m2s}, {channel.length_m, lateral_m2s}};
    channel.knots = knots;
    channel.knot_count = 2;
    struct base_arena *arena = base_make_arena(0);
    struct answer answer = {.middle_m = -1};
    if (arena != NULL &&
        hydraulics_find_shape_profile(arena, shape, &channel, &answer.profile, NULL)) {
        look_at_stations(&answer, channel.length_m);
    }
    base_free_arena(arena);
    answer.profile.stations = NULL;
    return answer;
}

static struct answer solve_half_round(double diameter_m, struct hydraulics_channel channel,
                                      double lateral_m2s) {
    struct section_gutter section = make_half_round(diameter_m);
    return solve(hydraulics_gutter_shape(&section), channel, lateral_m2s);
}

/* context: bottom width in m, side slope (across 1 up) */
static struct section_wet find_trapezoid_wet(const void *context, double y) {
    const double *sizes = context;
    double b = sizes[0];
    double z = sizes[1];
    return (struct section_wet){.area_m2 = (b + z * y) * y,
                                .perimeter_m = b + 2 * y * sqrt(1 + z * z),
                                .top_width_m = b + 2 * z * y,
                                .moment_m3 = b * y * y / 2 + z * y * y * y / 3};
}

/* in: width m, flow m3/s, 1 for the end and 0 for the still end, mm per unit wanted */
static double find_box_mm(const double *in) {
    double sizes[2] = {in[0], 0};
    struct hydraulics_shape box = {find_trapezoid_wet, sizes, 1};
    struct answer answer = solve(box, (struct hydraulics_channel){.length_m = 8}, in[1] / 8);
    double depth_m = in[2] > 0 ? answer.profile.end_depth_m : answer.profile.still_depth_m;
    return depth_m * 1e3 / in[3];
}

static double find_box_middle(const double *in) {
    (void)in;
    double sizes[2] = {0.1, 0};
    struct hydraulics_shape box = {find_trapezoid_wet, sizes, 1};
    struct answer answer =
        solve(box, (struct hydraulics_channel){.length_m = 8, .steps = 400}, 0.002 / 8);
    return answer.middle_m / answer.profile.end_depth_m;
}

/* The flow, in m3/s, above which the gutter spills. */
static double find_capacity(double diameter_m, const struct hydraulics_channel *channel) {
    double low = 0;
    double high = 10 * hydraulics_level_flow(diameter_m);
    for (int i = 0; i < 40; i++) {
        double flow = (low + high) / 2;
        struct answer answer = solve_half_round(diameter_m, *channel, flow / channel->length_m);
        *(answer.profile.overflows ? &high : &low) = flow;
    }
    return (low + high) / 2;
}

static double find_brim_flow(const double *in) {
    (void)in;
    struct hydraulics_channel channel = {.length_m = 5};
    return find_capacity(0.2, &channel) / (sqrt(HYDRAULICS_GRAVITY_MPS2) * pow(0.1, 2.5));
}

static double find_brim_flow_ft(const double *in) {
    (void)in;
    struct hydraulics_channel channel = {.length_m = 5};
    return find_capacity(0.2, &channel) / HYDRAULICS_CFS_M3S / pow(0.2 / FT, 2.5);
}

static double find_brim_critical(const double *in) {
    double flow = find_brim_flow(in) * sqrt(HYDRAULICS_GRAVITY_MPS2) * pow(0.1, 2.5);
    struct section_gutter section = make_half_round(0.2);
    return hydraulics_critical_depth(&section, flow) / 0.1;
}

/* in: inches, cfs, 1 for the end and 0 for the still end */
static double find_level_depth_in(const double *in) {
    struct answer answer = solve_half_round(in[0] * IN, (struct hydraulics_channel){.length_m = 6},
                                            in[1] * HYDRAULICS_CFS_M3S / 6);
    return (in[2] > 0 ? answer.profile.end_depth_m : answer.profile.still_depth_m) / IN;
}

/* in: inches, ft, slope, n, cfs/ft; 0 still, 1 end, 2 greatest */
static double find_profile_in(const double *in) {
    struct hydraulics_channel channel = {
        .length_m = in[1] * FT, .slope_1 = in[2], .manning_1 = in[3]};
    struct answer answer = solve_half_round(in[0] * IN, channel, in[4] * HYDRAULICS_CFS_M3S / FT);
    const struct hydraulics_profile *profile = &answer.profile;
    double depth_m = in[5] < 1   ? profile->still_depth_m
                     : in[5] < 2 ? profile->end_depth_m
                                 : profile->greatest_depth_m;
    return depth_m / IN;
}

static double find_capacity_gpm(const double *in) {
    struct hydraulics_channel channel = {
        .length_m = in[1] * FT, .slope_1 = in[2], .manning_1 = in[3]};
    return find_capacity(in[0] * IN, &channel) / HYDRAULICS_GPM_M3S;
}

/* r 63.5 mm, L = 100 r, n 0.011, over the frictionless level one */
static double find_gain(const double *in) {
    struct hydraulics_channel channel = {.length_m = 6.35, .slope_1 = in[0], .manning_1 = 0.011};
    return find_capacity(0.127, &channel) /
           (0.616000 * sqrt(HYDRAULICS_GRAVITY_MPS2) * pow(0.0635, 2.5));
}

static double find_outlet_flow_cfs(const double *in) {
    struct hydraulics_channel channel = {.length_m = in[1] * FT, .manning_1 = 0.012};
    return solve_half_round(in[0] * IN, channel, in[2] * HYDRAULICS_CFS_M3S / FT).end_flow_m3s /
           HYDRAULICS_CFS_M3S;
}

/* ---- published channels of other shapes ---------------------------------------------------------
 */

/*
 * Bottom 10 ft, sides 1/2 to 1, 20 cfs/ft, 1 in 100, no friction, 16.34 ft deep at station 100. The
 * channel is cut at the station asked for, so that it is a node: the flow from above arrives there
 * as still flow, and what is above does not bear on tranquil water.
 */
static double find_side_channel_ft(const double *in) {
    double sizes[2] = {10 * FT, 0.5};
    struct hydraulics_shape shape = {find_trapezoid_wet, sizes, 40 * FT};
    double lateral_m2s = 20 * HYDRAULICS_CFS_M3S / FT;
    struct hydraulics_channel channel = {.length_m = (100 - in[0]) * FT,
                                         .slope_1 = 0.01,
                                         .still_flow_m3s = lateral_m2s * in[0] * FT,
                                         .outlet_head_m = 16.34 * FT};
    struct answer answer = solve(shape, channel, lateral_m2s);
    return 100 + 0.01 * (100 - in[0]) + answer.profile.still_depth_m / FT;
}

/* The sheet takes alpha 1.3 and g 9.81: flow times k and n over k is the same channel with ours. */
static double find_steep_scale(void) {
    return sqrt(1.3 * HYDRAULICS_GRAVITY_MPS2 / 9.81);
}

static double find_steep_critical(const double *in) {
    double sizes[2] = {5, 0};
    struct hydraulics_reach reach =
        hydraulics_make_reach((struct hydraulics_shape){find_trapezoid_wet, sizes, 20}, 0.15, 0);
    return hydraulics_find_critical(&reach, in[0] * find_steep_scale(), 0).state.depth_m;
}

static double find_steep_control(const double *in) {
    double sizes[2] = {5, 0};
    struct hydraulics_shape box = {find_trapezoid_wet, sizes, 20};
    double k = find_steep_scale();
    struct hydraulics_channel channel = {.length_m = 100, .slope_1 = 0.15, .manning_1 = 0.020 / k};
    struct answer answer = solve(box, channel, 1.75 * k);
    return in[0] > 0 ? answer.control_depth_m : answer.profile.control_x_m;
}

/* One row, one line: long lines are let be here. */
/* clang-format off */
static const struct handbook_row rows[] = {
    /* level and frictionless: closed forms */
    {"W-51", "box critical depth mm", "b 0.1 m, 0.002 m3/s", {0.1, 0.002, 1, 1}, WITHIN(34.423, 3.5e-3), HANDBOOK_DERIVED, "SRC-14", find_box_mm},
    {"W-51b", "box still depth mm, sqrt(3) times that", "b 0.1 m, 0.002 m3/s", {0.1, 0.002, 0, 1}, WITHIN(59.622, 6e-3), HANDBOOK_DERIVED, "SRC-14", find_box_mm},
    {"W-52", "box critical depth in", "b 5 in, 0.1 cfs", {0.127, 0.1 * HYDRAULICS_CFS_M3S, 1, 25.4}, WITHIN(1.4571, 1e-4), HANDBOOK_DERIVED, "SRC-14", find_box_mm},
    {"W-52b", "box still depth in", "b 5 in, 0.1 cfs", {0.127, 0.1 * HYDRAULICS_CFS_M3S, 0, 25.4}, WITHIN(2.5238, 1e-4), HANDBOOK_DERIVED, "SRC-14", find_box_mm},
    {"W-53", "box depth at mid-length over critical", "", {0}, WITHIN(1.641784, 1e-5), HANDBOOK_DERIVED, "SRC-14", find_box_middle},
    {"W-54", "half-round brim full: critical depth over r", "", {0}, WITHIN(0.654058, 1e-5), HANDBOOK_DERIVED, "SRC-17", find_brim_critical},
    {"W-54b", "half-round brim full: Q over sqrt(g) r^2.5", "", {0}, WITHIN(0.616000, 1e-5), HANDBOOK_DERIVED, "SRC-17", find_brim_flow},
    {"W-54c", "half-round brim full: Q over d^2.5, ft", "", {0}, WITHIN(0.61767, 1e-5), HANDBOOK_DERIVED, "SRC-17", find_brim_flow_ft},
    {"W-55", "half-round critical depth in", "6 in, 0.05 cfs", {6, 0.05, 1}, WITHIN(1.3131, 1e-4), HANDBOOK_DERIVED, "SRC-17", find_level_depth_in},
    {"W-55b", "half-round still depth in", "6 in, 0.05 cfs", {6, 0.05, 0}, WITHIN(1.9811, 1e-4), HANDBOOK_DERIVED, "SRC-17", find_level_depth_in},
    {"W-56", "half-round critical depth in", "5 in, 0.05 cfs", {5, 0.05, 1}, WITHIN(1.3825, 1e-4), HANDBOOK_DERIVED, "SRC-17", find_level_depth_in},
    {"W-56b", "half-round still depth in", "5 in, 0.05 cfs", {5, 0.05, 0}, WITHIN(2.0998, 1e-4), HANDBOOK_DERIVED, "SRC-17", find_level_depth_in},

    /* with friction and fall: depth in at the still end, at the outlet, greatest (in, ft, slope, n, cfs/ft) */
    {"W-57s", "case a, depth in, still", "6 in, 30 ft", {6, 30, 0, 0.012, 0.0025, 0}, WITHIN_SHARE(2.63053, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-57e", "case a, depth in, end", "6 in, 30 ft", {6, 30, 0, 0.012, 0.0025, 1}, WITHIN_SHARE(1.61662, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-57g", "case a, depth in, greatest", "6 in, 30 ft", {6, 30, 0, 0.012, 0.0025, 2}, WITHIN_SHARE(2.63053, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-58s", "case b, depth in, still", "5 in, 20 ft", {5, 20, 0, 0.012, 0.002, 0}, WITHIN_SHARE(1.99182, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-58e", "case b, depth in, end", "5 in, 20 ft", {5, 20, 0, 0.012, 0.002, 1}, WITHIN_SHARE(1.23275, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-58g", "case b, depth in, greatest", "5 in, 20 ft", {5, 20, 0, 0.012, 0.002, 2}, WITHIN_SHARE(1.99182, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-59s", "case c, depth in, still", "6 in, 40 ft", {6, 40, 0, 0.011, 0.002, 0}, WITHIN_SHARE(2.73577, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-59e", "case c, depth in, end", "6 in, 40 ft", {6, 40, 0, 0.011, 0.002, 1}, WITHIN_SHARE(1.6712, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-59g", "case c, depth in, greatest", "6 in, 40 ft", {6, 40, 0, 0.011, 0.002, 2}, WITHIN_SHARE(2.73577, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-60s", "case d, depth in, still", "6 in, 30 ft", {6, 30, 1.0 / 192, 0.012, 0.004, 0}, WITHIN_SHARE(1.82387, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-60e", "case d, depth in, end", "6 in, 30 ft", {6, 30, 1.0 / 192, 0.012, 0.004, 1}, WITHIN_SHARE(2.06045, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-60g", "case d, depth in, greatest", "6 in, 30 ft", {6, 30, 1.0 / 192, 0.012, 0.004, 2}, WITHIN_SHARE(2.53861, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-61s", "case e, depth in, still", "6 in, 40 ft", {6, 40, 1.0 / 192, 0.012, 0.0037, 0}, WITHIN_SHARE(1.81782, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-61e", "case e, depth in, end", "6 in, 40 ft", {6, 40, 1.0 / 192, 0.012, 0.0037, 1}, WITHIN_SHARE(2.29739, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-61g", "case e, depth in, greatest", "6 in, 40 ft", {6, 40, 1.0 / 192, 0.012, 0.0037, 2}, WITHIN_SHARE(2.79981, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-62s", "case f, depth in, still", "5 in, 30 ft", {5, 30, 1.0 / 192, 0.012, 0.003, 0}, WITHIN_SHARE(1.58293, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-62e", "case f, depth in, end", "5 in, 30 ft", {5, 30, 1.0 / 192, 0.012, 0.003, 1}, WITHIN_SHARE(1.87354, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-62g", "case f, depth in, greatest", "5 in, 30 ft", {5, 30, 1.0 / 192, 0.012, 0.003, 2}, WITHIN_SHARE(2.31045, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-63s", "case g, depth in, still", "6 in, 40 ft", {6, 40, 1.0 / 96, 0.012, 0.004, 0}, WITHIN_SHARE(0.88958, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-63e", "case g, depth in, end", "6 in, 40 ft", {6, 40, 1.0 / 96, 0.012, 0.004, 1}, WITHIN_SHARE(2.39249, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-63g", "case g, depth in, greatest", "6 in, 40 ft", {6, 40, 1.0 / 96, 0.012, 0.004, 2}, WITHIN_SHARE(2.5457, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-64s", "case h, depth in, still", "6 in, 40 ft", {6, 40, 1.0 / 48, 0.012, 0.004, 0}, WITHIN_SHARE(0.40416, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-64e", "case h, depth in, end", "6 in, 40 ft", {6, 40, 1.0 / 48, 0.012, 0.004, 1}, WITHIN_SHARE(2.04626, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-64g", "case h, depth in, greatest", "6 in, 40 ft", {6, 40, 1.0 / 48, 0.012, 0.004, 2}, WITHIN_SHARE(2.04626, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-65s", "case i, depth in, still", "8 in, 50 ft", {8, 50, 1.0 / 192, 0.012, 0.006, 0}, WITHIN_SHARE(2.48138, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-65e", "case i, depth in, end", "8 in, 50 ft", {8, 50, 1.0 / 192, 0.012, 0.006, 1}, WITHIN_SHARE(3.04313, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},
    {"W-65g", "case i, depth in, greatest", "8 in, 50 ft", {8, 50, 1.0 / 192, 0.012, 0.006, 2}, WITHIN_SHARE(3.69708, 0.001), HANDBOOK_DERIVED, "SRC-17", find_profile_in},

    /* what fills a half-round to the brim, gpm (in, ft, slope, n) */
    {"W-A2-20", "level capacity gpm", "6 in, 20 ft, n 0.011", {6, 20, 0, 0.011}, WITHIN(45.7, 0.1), HANDBOOK_DERIVED, "SRC-17", find_capacity_gpm},
    {"W-A2-30", "level capacity gpm", "6 in, 30 ft, n 0.011", {6, 30, 0, 0.011}, WITHIN(44.3, 0.1), HANDBOOK_DERIVED, "SRC-17", find_capacity_gpm},
    {"W-A2-40", "level capacity gpm", "6 in, 40 ft, n 0.011", {6, 40, 0, 0.011}, WITHIN(43.0, 0.1), HANDBOOK_DERIVED, "SRC-17", find_capacity_gpm},
    {"W-A2-50", "level capacity gpm", "6 in, 50 ft, n 0.011", {6, 50, 0, 0.011}, WITHIN(41.9, 0.1), HANDBOOK_DERIVED, "SRC-17", find_capacity_gpm},
    {"W-H5-0", "capacity over frictionless level, L/r 100", "fall level, n 0.011", {0}, WITHIN(0.914, 0.003), HANDBOOK_DERIVED, "SRC-17", find_gain},
    {"W-H5-1", "capacity over frictionless level, L/r 100", "fall 1/600, n 0.011", {1.0 / 600}, WITHIN(1.122, 0.003), HANDBOOK_DERIVED, "SRC-17", find_gain},
    {"W-H5-2", "capacity over frictionless level, L/r 100", "fall 1/350, n 0.011", {1.0 / 350}, WITHIN(1.237, 0.003), HANDBOOK_DERIVED, "SRC-17", find_gain},
    {"W-H5-3", "capacity over frictionless level, L/r 100", "fall 1/16 in/ft, n 0.011", {1.0 / 192}, WITHIN(1.424, 0.003), HANDBOOK_DERIVED, "SRC-17", find_gain},
    {"W-H5-4", "capacity over frictionless level, L/r 100", "fall 1/8 in/ft, n 0.011", {1.0 / 96}, WITHIN(1.747, 0.003), HANDBOOK_DERIVED, "SRC-17", find_gain},
    {"W-H5-5", "capacity over frictionless level, L/r 100", "fall 1/4 in/ft, n 0.011", {1.0 / 48}, WITHIN(2.228, 0.003), HANDBOOK_DERIVED, "SRC-17", find_gain},
    {"W-68", "flow at the outlet from half of 40 ft, cfs", "0.002 cfs/ft", {6, 20, 0.002}, EXACT(0.04), HANDBOOK_FOUND, "SRC-03", find_outlet_flow_cfs},

    /* published channels of other shapes, through the same march */
    {"W-W10-75", "side channel water surface ft", "station 75", {75}, WITHIN(116.96, 0.02), HANDBOOK_FOUND, "SRC-13", find_side_channel_ft},
    {"W-W10d-75", "side channel water surface ft, by the equation", "station 75", {75}, WITHIN(116.971, 0.003), HANDBOOK_DERIVED, "SRC-13", find_side_channel_ft},
    {"W-W10-50", "side channel water surface ft", "station 50", {50}, WITHIN(117.38, 0.02), HANDBOOK_FOUND, "SRC-13", find_side_channel_ft},
    {"W-W10d-50", "side channel water surface ft, by the equation", "station 50", {50}, WITHIN(117.385, 0.003), HANDBOOK_DERIVED, "SRC-13", find_side_channel_ft},
    {"W-W10-25", "side channel water surface ft", "station 25", {25}, WITHIN(117.62, 0.02), HANDBOOK_FOUND, "SRC-13", find_side_channel_ft},
    {"W-W10d-25", "side channel water surface ft, by the equation", "station 25", {25}, WITHIN(117.625, 0.003), HANDBOOK_DERIVED, "SRC-13", find_side_channel_ft},
    {"W-W10-10", "side channel water surface ft", "station 10", {10}, WITHIN(117.69, 0.02), HANDBOOK_FOUND, "SRC-13", find_side_channel_ft},
    {"W-W10d-10", "side channel water surface ft, by the equation", "station 10", {10}, WITHIN(117.692, 0.003), HANDBOOK_DERIVED, "SRC-13", find_side_channel_ft},
    {"W-W12-1", "critical depth m, steep box", "Q 13.73513 m3/s", {13.73513}, WITHIN(1, 1e-6), HANDBOOK_FOUND, "SRC-16", find_steep_critical},
    {"W-W12-2", "critical depth m, steep box", "Q 38.84882 m3/s", {38.84882}, WITHIN(2, 1e-6), HANDBOOK_FOUND, "SRC-16", find_steep_critical},
    {"W-W12-3", "critical depth m, steep box", "Q 71.36984 m3/s", {71.36984}, WITHIN(3, 1e-6), HANDBOOK_FOUND, "SRC-16", find_steep_critical},
    {"W-W12-4", "critical depth m, steep box", "Q 109.88105 m3/s", {109.88105}, WITHIN(4, 1e-6), HANDBOOK_FOUND, "SRC-16", find_steep_critical},
    {"W-W12-5", "critical depth m, steep box", "Q 153.56344 m3/s", {153.56344}, WITHIN(5, 1e-6), HANDBOOK_FOUND, "SRC-16", find_steep_critical},
    {"W-W12-6", "critical depth m, steep box", "Q 201.86439 m3/s", {201.86439}, WITHIN(6, 1e-6), HANDBOOK_FOUND, "SRC-16", find_steep_critical},
    {"W-W13", "interior control at m, steep box", "", {0}, WITHIN(43.579, 0.001), HANDBOOK_DERIVED, "SRC-16", find_steep_control},
    {"W-W13y", "depth at the control m, steep box", "", {1}, WITHIN(3.1356, 2e-4), HANDBOOK_DERIVED, "SRC-16", find_steep_control},
};
/* clang-format on */

const struct handbook_book handbook_profiles = {"profiles", rows, sizeof rows / sizeof rows[0]};
