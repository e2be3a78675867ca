/* SPDX-License-Identifier: Apache-2.0 */
/* The profile solver. Published values one by one stand in tests/handbook/. */
#include "test_hydraulics.h"

#include <signal.h>
#include <stdio.h>
#include <sys/wait.h>
#include <unistd.h>

static struct base_arena *arena;

static int make_arena(void **state) {
    (void)state;
    arena = base_make_arena(0);
    return arena == NULL;
}

static int free_arena(void **state) {
    (void)state;
    base_free_arena(arena);
    return 0;
}

static struct hydraulics_profile solve(const struct hydraulics_channel *channel) {
    struct hydraulics_profile profile;
    assert_true(hydraulics_find_profile(arena, channel, &profile));
    return profile;
}

/* ---- reference solutions ------------------------------------------------------------------------
 */

struct reference {
    double diameter_in, length_ft, slope_1, manning_1, lateral_cfs_ft;
    double still_in, end_in, greatest_in;
    double control_ft;
};
/* cases a to i of SRC-17, DERIVED, five figures */
static const struct reference references[] = {
    {6, 30, 0, 0.012, 0.0025, 2.63053, 1.61662, 2.63053, 30},
    {5, 20, 0, 0.012, 0.0020, 1.99182, 1.23275, 1.99182, 20},
    {6, 40, 0, 0.011, 0.0020, 2.73577, 1.67120, 2.73577, 40},
    {6, 30, 1.0 / 192, 0.012, 0.0040, 1.82387, 2.06045, 2.53861, 30},
    {6, 40, 1.0 / 192, 0.012, 0.0037, 1.81782, 2.29739, 2.79981, 40},
    {5, 30, 1.0 / 192, 0.012, 0.0030, 1.58293, 1.87354, 2.31045, 30},
    {6, 40, 1.0 / 96, 0.012, 0.0040, 0.88958, 2.39249, 2.54570, 40},
    {6, 40, 1.0 / 48, 0.012, 0.0040, 0.40416, 2.04626, 2.04626, 8.6922},
    {8, 50, 1.0 / 192, 0.012, 0.0060, 2.48138, 3.04313, 3.69708, 50}};
enum { REFERENCES = sizeof references / sizeof references[0] };

static struct hydraulics_profile solve_reference(const struct reference *reference, size_t steps) {
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel =
        make_channel(reference->diameter_in * IN, reference->length_ft * FT, reference->slope_1,
                     reference->lateral_cfs_ft * CFS / FT, knots);
    channel.manning_1 = reference->manning_1;
    channel.steps = steps;
    struct hydraulics_profile profile = solve(&channel);
    check_sound(&channel, &profile);
    return profile;
}

static double find_worst(const struct reference *reference, size_t steps) {
    struct hydraulics_profile profile = solve_reference(reference, steps);
    double still = fabs(profile.still_depth_m / IN / reference->still_in - 1);
    double end = fabs(profile.end_depth_m / IN / reference->end_in - 1);
    double greatest = fabs(profile.greatest_depth_m / IN / reference->greatest_in - 1);
    return fmax(still, fmax(end, greatest));
}

static void reference_cases_agree_and_converge(void **state) {
    (void)state;
    for (int i = 0; i < REFERENCES; i++) {
        const struct reference *reference = &references[i];
        double coarse = find_worst(reference, 50);
        double middle = find_worst(reference, 100);
        double fine = find_worst(reference, 400);
        print_message(
            "# case %c: worst of three depths off by %.4f %% at 50 steps, %.4f %% at 100, "
            "%.4f %% at 400\n",
            'a' + i, 100 * coarse, 100 * middle, 100 * fine);
        assert_true(fine <= 1e-3);
        assert_true(fine <= 2e-4); /* what it does; the promise is 1e-3 */
        /* where the water shoots, small steps at the pool's foot hide the order of the large */
        double foot = reference->control_ft < reference->length_ft ? 1e-4 : 0;
        assert_true(middle <= coarse && fine <= fmax(middle, foot));
        /* second order: a quarter for each halving, until the five figures of the case end it */
        assert_true(middle <= coarse / 2.5 + 5e-6);
        assert_true(fine <= fmax(coarse / 20 + 5e-6, foot));
        struct hydraulics_profile profile = solve_reference(reference, 0);
        check_near(profile.control_x_m / FT, reference->control_ft, 1e-3);
        assert_true(profile.control == (reference->control_ft < reference->length_ft
                                            ? HYDRAULICS_CONTROL_INTERIOR
                                            : HYDRAULICS_CONTROL_OUTLET));
        assert_false(profile.overflows);
    }
}

/* By the parabola through the three stations about x; by a line beside a jump. */
static double find_depth_at(const struct hydraulics_profile *profile, double x_m) {
    size_t at = 1;
    while (at + 2 < profile->station_count && profile->stations[at + 1].x_m <= x_m) {
        at++;
    }
    const struct hydraulics_station *a = &profile->stations[at - 1];
    double first = (a[1].depth_m - a[0].depth_m) / (a[1].x_m - a[0].x_m);
    if (x_m <= a[1].x_m && x_m >= a[0].x_m && !(a[2].x_m > a[1].x_m)) {
        return a[0].depth_m + first * (x_m - a[0].x_m);
    }
    double second = (a[2].depth_m - a[1].depth_m) / (a[2].x_m - a[1].x_m);
    if (!(a[1].x_m > a[0].x_m)) {
        return a[1].depth_m + second * (x_m - a[1].x_m);
    }
    double bend = (second - first) / (a[2].x_m - a[0].x_m);
    return a[0].depth_m + (x_m - a[0].x_m) * (first + bend * (x_m - a[1].x_m));
}

static void deepest_place_of_case_e_is_eight_feet_above_the_outlet(void **state) {
    (void)state;
    struct hydraulics_profile profile = solve_reference(&references[4], 0);
    check_near(profile.greatest_x_m / FT, 32, 1.5);
    /* depths every 5 ft: SRC-17, DERIVED */
    static const double depths_in[] = {1.8178, 2.0906, 2.3081, 2.4865, 2.6302,
                                       2.7368, 2.7953, 2.7723, 2.2974};
    for (int k = 0; k <= 8; k++) {
        check_near(find_depth_at(&profile, 5 * k * FT) / IN, depths_in[k], 5e-4);
    }
}

/* Second way: the differential form with its factor 2, against slopes between stations. */
static void profile_obeys_the_differential_form(void **state) {
    (void)state;
    for (int c = 0; c < REFERENCES; c++) {
        const struct reference *reference = &references[c];
        struct hydraulics_profile profile = solve_reference(reference, 2000);
        struct section_gutter section = {.inside_diameter_m = reference->diameter_in * IN};
        double lateral = reference->lateral_cfs_ft * CFS / FT;
        for (size_t i = 200; i + 200 < profile.station_count; i += 50) {
            const struct hydraulics_station *at = &profile.stations[i];
            struct section_wet wet = section_find_wet(&section, at->depth_m);
            double g = HYDRAULICS_GRAVITY_MPS2;
            double speed = at->flow_m3s / wet.area_m2;
            double froude2 = speed * speed * wet.top_width_m / (g * wet.area_m2);
            if (fabs(1 - froude2) < 0.1) {
                continue;
            }
            double radius = wet.area_m2 / wet.perimeter_m;
            double friction = pow(reference->manning_1 * speed, 2) / pow(radius, 4.0 / 3.0);
            double slope =
                (reference->slope_1 - friction - 2 * lateral * speed / (g * wet.area_m2)) /
                (1 - froude2);
            double measured = (at[1].depth_m - at[-1].depth_m) / (at[1].x_m - at[-1].x_m);
            check_near(measured, slope, 2e-4 * (fabs(slope) + 0.01));
        }
    }
}

/* ---- closed forms and other shapes
 * ---------------------------------------------------------------
 */

/* Bottom width and side slope (across 1 up). */
struct trapezoid {
    double bottom_m;
    double side_1;
};

static struct section_wet find_trapezoid_wet(const void *context, double y) {
    const struct trapezoid *shape = context;
    double b = shape->bottom_m;
    double z = shape->side_1;
    return (struct section_wet){.area_m2 = (b + z * y) * y,
                                .perimeter_m = b + 2 * y * sqrt(1 + z * z),
                                .top_width_m = b + 2 * z * y,
                                .moment_m3 = b * y * y / 2 + z * y * y * y / 3};
}

static struct hydraulics_profile solve_trapezoid(const struct trapezoid *shape,
                                                 const struct hydraulics_channel *channel,
                                                 double top_m) {
    struct hydraulics_profile profile;
    struct hydraulics_shape form = {find_trapezoid_wet, shape, top_m};
    assert_true(hydraulics_find_shape_profile(arena, form, channel, &profile, NULL));
    return profile;
}

static void side_channel_of_the_dam_book_comes_out(void **state) {
    (void)state;
    /* SRC-13, FOUND: water surface in ft at stations 75, 50, 25, 10; own integration DERIVED */
    static const double places_ft[] = {75, 50, 25, 10};
    static const double found_ft[] = {116.96, 117.38, 117.62, 117.69};
    static const double derived_ft[] = {116.971, 117.385, 117.625, 117.692};
    struct trapezoid shape = {10 * FT, 0.5};
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel = make_channel(1, 100 * FT, 0.01, 20 * CFS / FT, knots);
    channel.manning_1 = 0;
    channel.outlet_head_m = 16.34 * FT;
    struct hydraulics_profile profile = solve_trapezoid(&shape, &channel, 40 * FT);
    assert_int_equal(profile.control, HYDRAULICS_CONTROL_DROWNED);
    for (int i = 0; i < 4; i++) {
        double bottom_ft = 100 + 0.01 * (100 - places_ft[i]);
        double surface_ft = bottom_ft + find_depth_at(&profile, places_ft[i] * FT) / FT;
        check_near(surface_ft, derived_ft[i], 0.003);
        check_near(surface_ft, found_ft[i], 0.02);
    }
    struct hydraulics_reach reach = hydraulics_make_reach(
        (struct hydraulics_shape){find_trapezoid_wet, &shape, 40 * FT}, 0.01, 0);
    /* critical depth of the whole flow: worked W10, DERIVED (there with g = 32.2 ft/s2) */
    check_near(hydraulics_find_critical(&reach, 2000 * CFS, 0).state.depth_m / FT, 9.158, 0.003);
}

static void still_end_of_a_level_box_is_root_three_deep(void **state) {
    (void)state;
    /* SRC-14: y0 = sqrt(3) yc, mid-length 1.641784 yc; rows 51 to 53 */
    struct trapezoid box = {0.1, 0};
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel = make_channel(1, 6, 0, 0.002 / 6, knots);
    channel.manning_1 = 0;
    struct hydraulics_profile profile = solve_trapezoid(&box, &channel, 0.5);
    check_near(profile.end_depth_m * 1e3, 34.423, 1e-3);
    check_near(profile.still_depth_m * 1e3, 59.622, 1e-3);
    check_near(profile.still_depth_m / profile.end_depth_m, sqrt(3), 1e-9);
    channel.steps = 4000;
    profile = solve_trapezoid(&box, &channel, 0.5);
    check_near(find_depth_at(&profile, 3) / profile.end_depth_m, 1.641784, 1e-5);
}

static void level_half_round_keeps_its_closed_form(void **state) {
    (void)state;
    /* SRC-17, DERIVED: y0/r, yc/r, Q / (sqrt(g) r^2.5) */
    static const double rows[][3] = {{0.2, 0.134425, 0.027446}, {0.4, 0.267352, 0.107104},
                                     {0.5, 0.333170, 0.165210}, {0.6, 0.398508, 0.234775},
                                     {0.7, 0.463318, 0.315233}, {0.8, 0.527552, 0.405999},
                                     {0.9, 0.591153, 0.506465}, {1.0, 0.654058, 0.616000}};
    struct hydraulics_knot knots[2];
    for (int i = 0; i < 8; i++) {
        double r = 0.07;
        double flow = rows[i][2] * (1 - 1e-6) * sqrt(HYDRAULICS_GRAVITY_MPS2) * pow(r, 2.5);
        struct hydraulics_channel channel = make_channel(2 * r, 8, 0, flow / 8, knots);
        channel.manning_1 = 0;
        struct hydraulics_profile profile;
        assert_true(hydraulics_find_shape_profile(arena, hydraulics_gutter_shape(&channel.section),
                                                  &channel, &profile, NULL));
        check_near(profile.end_depth_m / r, rows[i][1], 1e-5);
        check_near(profile.still_depth_m / r, rows[i][0], 2e-5);
    }
}

/*
 * SRC-16 takes alpha = 1.3 and g = 9.81; ours are 1 and 9.80665. Flow scaled by k = sqrt(1.3 *
 * 9.80665 / 9.81) and n by 1/k is the same channel.
 */
static void steep_box_finds_the_crossing_of_the_control_section_method(void **state) {
    (void)state;
    double k = sqrt(1.3 * HYDRAULICS_GRAVITY_MPS2 / 9.81);
    struct trapezoid box = {5, 0};
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel = make_channel(1, 100, 0.15, 1.75 * k, knots);
    channel.manning_1 = 0.020 / k;
    struct hydraulics_profile profile = solve_trapezoid(&box, &channel, 20);
    assert_int_equal(profile.control, HYDRAULICS_CONTROL_INTERIOR);
    check_near(profile.control_x_m, 43.579, 0.001); /* W13, DERIVED from FOUND curves */
    check_near(find_depth_at(&profile, profile.control_x_m), 3.1356, 2e-4);
    /* critical flows of the sheet for y = 1 to 6 m, FOUND */
    static const double flows[] = {13.73513, 38.84882, 71.36984, 109.88105, 153.56344, 201.86439};
    struct hydraulics_reach reach = hydraulics_make_reach(
        (struct hydraulics_shape){find_trapezoid_wet, &box, 20}, 0.15, channel.manning_1);
    for (int i = 0; i < 6; i++) {
        check_near(hydraulics_find_critical(&reach, flows[i] * k, 0).state.depth_m, i + 1, 1e-6);
    }
}

/* ---- inflow, points, outlets
 * ---------------------------------------------------------------------
 */

static double find_momentum(const struct section_gutter *section, double flow, double depth) {
    struct section_wet wet = section_find_wet(section, depth);
    return flow * flow / (HYDRAULICS_GRAVITY_MPS2 * wet.area_m2) + wet.moment_m3;
}

static void point_inflow_keeps_momentum_and_adds_flow(void **state) {
    (void)state;
    static const struct hydraulics_point points[] = {{3.0, 0.0004}, {6.0, 0.0006}};
    for (int slope = 0; slope <= 4; slope += 2) {
        struct hydraulics_knot knots[2];
        struct hydraulics_channel channel = make_channel(0.15, 9, slope / 192.0, 0.0001, knots);
        channel.points = points;
        channel.point_count = 2;
        struct hydraulics_profile profile = solve(&channel);
        check_sound(&channel, &profile);
        int jumps = 0;
        for (size_t i = 1; i < profile.station_count; i++) {
            const struct hydraulics_station *at = &profile.stations[i];
            if (at[0].flow_m3s - at[-1].flow_m3s > 0.0003) {
                assert_true(at[0].x_m == at[-1].x_m);
                check_near(at[0].flow_m3s - at[-1].flow_m3s, points[jumps].flow_m3s, 1e-15);
                double before = find_momentum(&channel.section, at[-1].flow_m3s, at[-1].depth_m);
                double after = find_momentum(&channel.section, at[0].flow_m3s, at[0].depth_m);
                check_near(after / before, 1, 1e-9);
                jumps++;
            }
        }
        assert_int_equal(jumps, 2);
        check_near(profile.stations[profile.station_count - 1].flow_m3s, 9 * 0.0001 + 0.001, 1e-15);
    }
}

static void points_at_both_ends_are_counted(void **state) {
    (void)state;
    static const struct hydraulics_point points[] = {{0.0, 0.0003}, {5.0, 0.0002}};
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel = make_channel(0.15, 5, 0, 0.0001, knots);
    channel.points = points;
    channel.point_count = 2;
    channel.still_flow_m3s = 0.0001;
    struct hydraulics_profile profile = solve(&channel);
    check_sound(&channel, &profile);
    check_near(profile.stations[0].flow_m3s, 0.0001, 1e-18);
    check_near(profile.stations[1].flow_m3s, 0.0004, 1e-18);
    check_near(profile.stations[profile.station_count - 1].flow_m3s, 0.0011, 1e-15);
    check_near(profile.end_depth_m, hydraulics_critical_depth(&channel.section, 0.0011), 1e-12);
}

static void uneven_inflow_is_conserved(void **state) {
    (void)state;
    /* a hip: nothing at the corner, rising, then a step at a dormer, then falling */
    static const struct hydraulics_knot knots[] = {
        {0, 0}, {3, 0.0002}, {3, 0.0001}, {7, 0.0001}, {10, 0}};
    struct hydraulics_channel channel = {.section = {.inside_diameter_m = 0.15},
                                         .length_m = 10,
                                         .slope_1 = 1.0 / 192,
                                         .manning_1 = 0.012,
                                         .knots = knots,
                                         .knot_count = 5};
    struct hydraulics_profile profile = solve(&channel);
    check_sound(&channel, &profile);
    double inflow = 3 * 0.0001 + 4 * 0.0001 + 3 * 0.00005;
    check_near(profile.stations[profile.station_count - 1].flow_m3s, inflow, 1e-15);
    assert_true(profile.residual_1 < 0.01);
}

static void two_gutters_to_one_outlet_are_two_halves(void **state) {
    (void)state;
    /* row 68: outlet in the middle of 40 ft; each side takes half, the outlet's head the whole */
    struct hydraulics_knot knots[2];
    struct hydraulics_channel side = make_channel(6 * IN, 20 * FT, 0, 0.002 * CFS / FT, knots);
    struct hydraulics_profile profile = solve(&side);
    double half = profile.stations[profile.station_count - 1].flow_m3s;
    check_near(half, 0.04 * CFS, 1e-15);
    side.outlet_head_m = hydraulics_outlet_head(3 * IN, 2 * half, false);
    profile = solve(&side);
    double critical = hydraulics_critical_depth(&side.section, half);
    assert_true(side.outlet_head_m > critical);
    assert_int_equal(profile.control, HYDRAULICS_CONTROL_DROWNED);
    check_near(profile.end_depth_m, side.outlet_head_m, 1e-12);
}

static void high_outlet_drowns_the_jump_and_low_one_does_not(void **state) {
    (void)state;
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel =
        make_channel(6 * IN, 40 * FT, 1.0 / 48, 0.004 * CFS / FT, knots);
    struct hydraulics_profile free_end = solve(&channel);
    double critical = hydraulics_critical_depth(&channel.section, 0.16 * CFS);
    assert_true(free_end.end_depth_m < critical); /* it shoots out */

    channel.outlet_head_m = (free_end.end_depth_m + critical) / 2;
    struct hydraulics_profile low = solve(&channel);
    assert_int_equal(low.control, HYDRAULICS_CONTROL_INTERIOR);
    check_near(low.end_depth_m, channel.outlet_head_m, 1e-12); /* the outlet still needs its head */
    check_near(low.still_depth_m, free_end.still_depth_m, 1e-12);

    channel.outlet_head_m = 2.95 * IN; /* the jump stands in the run */
    struct hydraulics_profile jump = solve(&channel);
    check_sound(&channel, &jump);
    check_near(jump.end_depth_m, 2.95 * IN, 1e-12);
    check_near(jump.still_depth_m, free_end.still_depth_m, 1e-12);
    assert_int_equal(jump.control, HYDRAULICS_CONTROL_INTERIOR);

    channel.length_m = knots[1].x_m = 12 * FT; /* short: the pool reaches past the control */
    struct hydraulics_profile drowned = solve(&channel);
    check_sound(&channel, &drowned);
    assert_int_equal(drowned.control, HYDRAULICS_CONTROL_DROWNED);
    assert_true(drowned.still_depth_m > free_end.still_depth_m);
}

static void flow_from_a_gutter_above_enters_at_the_still_end(void **state) {
    (void)state;
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel = make_channel(0.15, 6, 1.0 / 24, 0, knots);
    channel.still_flow_m3s = 0.002;
    struct hydraulics_profile profile = solve(&channel);
    check_sound(&channel, &profile);
    /* steep: critical where it enters, then shooting towards normal depth */
    assert_int_equal(profile.control, HYDRAULICS_CONTROL_INTERIOR);
    check_near(profile.still_depth_m, hydraulics_critical_depth(&channel.section, 0.002), 1e-9);
    double normal = profile.end_depth_m;
    check_near(hydraulics_uniform_flow(&channel.section, normal, 1.0 / 24, 0.012) / 0.002, 1, 0.05);
}

/* ---- the lip and the odd ends
 * --------------------------------------------------------------------
 */

static void overflow_is_said_and_held_at_the_lip(void **state) {
    (void)state;
    struct hydraulics_knot knots[2];
    double flow = hydraulics_level_flow(0.125) * 1.4;
    struct hydraulics_channel channel = make_channel(0.125, 10, 0, flow / 10, knots);
    struct hydraulics_profile profile = solve(&channel);
    check_sound(&channel, &profile);
    assert_true(profile.overflows);
    check_near(profile.greatest_depth_m, 0.0625, 1e-15);
    assert_true(profile.end_depth_m < 0.0625); /* near the outlet it still draws down */

    channel.outlet_head_m = 0.07; /* an outlet that needs more head than there is */
    knots[0].lateral_m2s = knots[1].lateral_m2s = 1e-5;
    profile = solve(&channel);
    assert_true(profile.overflows);
    check_near(profile.end_depth_m, 0.0625, 1e-15);
}

static void straight_part_holds_more_before_it_spills(void **state) {
    (void)state;
    struct hydraulics_knot knots[2];
    double flow = hydraulics_level_flow(0.125) * 1.4;
    struct hydraulics_channel channel = make_channel(0.125, 10, 0, flow / 10, knots);
    channel.section.straight_m = 0.015;
    struct hydraulics_profile profile = solve(&channel);
    check_sound(&channel, &profile);
    assert_false(profile.overflows);
    assert_true(profile.greatest_depth_m > 0.0625);
}

static void no_inflow_leaves_a_dry_gutter(void **state) {
    (void)state;
    for (int slope = 0; slope < 3; slope++) {
        struct hydraulics_knot knots[2];
        struct hydraulics_channel channel = make_channel(0.15, 10, slope / 192.0, 0, knots);
        struct hydraulics_profile profile = solve(&channel);
        check_sound(&channel, &profile);
        assert_true(profile.greatest_depth_m == 0);
        assert_true(profile.residual_1 == 0);
        channel.outlet_head_m = 0.02; /* a blocked outlet: still water, level */
        profile = solve(&channel);
        check_sound(&channel, &profile);
        check_near(find_depth_at(&profile, 8), fmax(0.02 - 2 * channel.slope_1, 0), 2e-4);
    }
}

static void extreme_inflows_give_no_nonsense(void **state) {
    (void)state;
    static const double laterals[] = {1e-300, 1e-30, 1e-15, 1e-12, 1e-9, 1e-6, 1e-2, 1, 1e6, 1e100};
    for (size_t i = 0; i < sizeof laterals / sizeof laterals[0]; i++) {
        for (int slope = 0; slope < 4; slope++) {
            struct hydraulics_knot knots[2];
            struct hydraulics_channel channel =
                make_channel(0.15, 10, slope * slope / 96.0, laterals[i], knots);
            struct hydraulics_profile profile = solve(&channel);
            check_sound(&channel, &profile);
            assert_true(profile.overflows == (laterals[i] >= 1e-2));
            channel.length_m = knots[1].x_m = 1e-3;
            profile = solve(&channel);
            check_sound(&channel, &profile);
        }
    }
}

static void dry_stretch_above_the_first_inflow_stays_dry_if_it_falls(void **state) {
    (void)state;
    static const struct hydraulics_knot knots[] = {{0, 0}, {8, 0}, {8, 0.0001}, {10, 0.0001}};
    struct hydraulics_channel channel = {.section = {.inside_diameter_m = 0.15},
                                         .length_m = 10,
                                         .slope_1 = 1.0 / 96,
                                         .manning_1 = 0.012,
                                         .knots = knots,
                                         .knot_count = 4};
    struct hydraulics_profile profile = solve(&channel);
    check_sound(&channel, &profile);
    assert_true(profile.still_depth_m == 0);
    channel.slope_1 = 0; /* level: the water stands back to the still end, deepest there */
    profile = solve(&channel);
    check_sound(&channel, &profile);
    check_near(profile.still_depth_m, profile.greatest_depth_m, 1e-9);
}

static void lack_of_memory_is_told(void **state) {
    (void)state;
    struct hydraulics_knot knots[2];
    struct hydraulics_channel channel = make_channel(0.15, 10, 1.0 / 48, 0.0001, knots);
    struct hydraulics_profile profile;
    size_t before = base_take_count(arena);
    assert_true(hydraulics_find_profile(arena, &channel, &profile));
    size_t takes = base_take_count(arena) - before;
    assert_true(takes > 0);
    for (size_t nth = 1; nth <= takes; nth++) {
        struct base_arena *failing = base_make_arena(0);
        base_fail_take(failing, nth);
        assert_false(hydraulics_find_profile(failing, &channel, &profile));
        base_free_arena(failing);
    }
}

static void channel_without_length_is_refused_by_assert(void **state) {
    (void)state;
#ifdef NDEBUG
    skip();
#endif
    fflush(NULL);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        struct hydraulics_knot knots[2];
        struct hydraulics_channel channel = make_channel(0.15, 0, 0, 0.0001, knots);
        struct hydraulics_profile profile;
        if (freopen("/dev/null", "w", stderr) != NULL) {
            (void)hydraulics_find_profile(arena, &channel, &profile);
        }
        _exit(0);
    }
    int status = 0;
    assert_true(waitpid(child, &status, 0) == child);
    assert_true(WIFSIGNALED(status) && WTERMSIG(status) == SIGABRT);
}

static void work_stays_within_its_count(void **state) {
    (void)state;
    for (int i = 0; i < REFERENCES; i++) {
        const struct reference *reference = &references[i];
        struct hydraulics_knot knots[2];
        struct hydraulics_channel channel =
            make_channel(reference->diameter_in * IN, reference->length_ft * FT, reference->slope_1,
                         reference->lateral_cfs_ft * CFS / FT, knots);
        struct hydraulics_profile profile;
        struct hydraulics_work work;
        assert_true(hydraulics_find_shape_profile(arena, hydraulics_gutter_shape(&channel.section),
                                                  &channel, &profile, &work));
        double each = (double)work.wets / (double)profile.station_count;
        print_message("# case %c: %zu stations, %.2f shape evaluations each\n", 'a' + i,
                      profile.station_count, each);
        assert_true(each < (profile.control == HYDRAULICS_CONTROL_OUTLET ? 4 : 9));
        assert_true(work.steps <= 2 * profile.station_count);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reference_cases_agree_and_converge),
        cmocka_unit_test(deepest_place_of_case_e_is_eight_feet_above_the_outlet),
        cmocka_unit_test(profile_obeys_the_differential_form),
        cmocka_unit_test(side_channel_of_the_dam_book_comes_out),
        cmocka_unit_test(still_end_of_a_level_box_is_root_three_deep),
        cmocka_unit_test(level_half_round_keeps_its_closed_form),
        cmocka_unit_test(steep_box_finds_the_crossing_of_the_control_section_method),
        cmocka_unit_test(point_inflow_keeps_momentum_and_adds_flow),
        cmocka_unit_test(points_at_both_ends_are_counted),
        cmocka_unit_test(uneven_inflow_is_conserved),
        cmocka_unit_test(two_gutters_to_one_outlet_are_two_halves),
        cmocka_unit_test(high_outlet_drowns_the_jump_and_low_one_does_not),
        cmocka_unit_test(flow_from_a_gutter_above_enters_at_the_still_end),
        cmocka_unit_test(overflow_is_said_and_held_at_the_lip),
        cmocka_unit_test(straight_part_holds_more_before_it_spills),
        cmocka_unit_test(no_inflow_leaves_a_dry_gutter),
        cmocka_unit_test(extreme_inflows_give_no_nonsense),
        cmocka_unit_test(dry_stretch_above_the_first_inflow_stays_dry_if_it_falls),
        cmocka_unit_test(lack_of_memory_is_told),
        cmocka_unit_test(channel_without_length_is_refused_by_assert),
        cmocka_unit_test(work_stays_within_its_count),
    };
    return cmocka_run_group_tests(tests, make_arena, free_arena);
}
