/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Our profiles against GSL's solver of ordinary differential equations, on 1,000 random gutters
 * (level and with fall, uneven inflow, points, mitres, drowned outlets). GSL runs dy/dx, which has
 * no value at critical depth, and knows neither jumps nor points nor the lip: so it is started
 * beside each of these, from the control itself where the outlet is one, and follows every stretch
 * between them. GSL is used in tests and benchmarks only.
 */
#include "test_hydraulics_gutters.h"

#ifdef HAVE_GSL
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>

enum { GUTTERS = 1000, CASES = 8, GRIDS = 5, FOOT = 3, FEET_MOST = 400 };

static const double CLOSE_1 = 1e-3;  /* of a depth: the promise */
static const double FOOT_1 = 5e-3;   /* at the foot of a pool that was marched */
static const double FINE_M = 1.5e-5; /* of water that was marched: the foot's error, carried up */
static const double FILM_M = 5e-3;   /* less is a film */
static const double NEAR_CRITICAL_1 = 0.08; /* |1 - Fr^2| below this: at a control */
static const double START_1 = 1e-5;         /* over critical depth, at the outlet */

/* The equation along s from base: x = base - s^2 upwards from a free end, else x = base + way s. */
struct equation {
    const struct hydraulics_channel *channel;
    double base_m;
    double way;      /* -1 upwards, 1 downwards */
    bool by_root;    /* s is the root of the distance */
    double flow_m3s; /* at base, on this side of any point */
    double side_m;   /* a place inside the stretch: which of two knots at one x counts */
};

/* Inflow per metre, and its integral from base, where no knot lies between. */
static double find_lateral(const struct equation *equation, double x_m) {
    const struct hydraulics_channel *channel = equation->channel;
    for (size_t k = 0; k + 1 < channel->knot_count; k++) {
        const struct hydraulics_knot *a = &channel->knots[k];
        if (a[1].x_m > a[0].x_m && equation->side_m >= a[0].x_m && equation->side_m <= a[1].x_m) {
            return a[0].lateral_m2s +
                   (a[1].lateral_m2s - a[0].lateral_m2s) * (x_m - a[0].x_m) / (a[1].x_m - a[0].x_m);
        }
    }
    return 0;
}

static int find_slope(double s, const double y[], double dyds[], void *params) {
    const struct equation *equation = params;
    const struct hydraulics_channel *channel = equation->channel;
    double run_m = equation->by_root ? s * s : s;
    double x_m = equation->base_m + equation->way * run_m;
    if (!(y[0] > 0 && y[0] <= section_full_depth(&channel->section))) {
        return GSL_EBADFUNC;
    }
    double lateral = find_lateral(equation, x_m);
    double mean = (lateral + find_lateral(equation, equation->base_m)) / 2;
    double flow = equation->flow_m3s + mean * equation->way * run_m;
    struct section_wet wet = section_find_wet(&channel->section, y[0]);
    double g = HYDRAULICS_GRAVITY_MPS2;
    double speed = flow / wet.area_m2;
    double friction =
        pow(channel->manning_1 * speed, 2) / pow(wet.area_m2 / wet.perimeter_m, 4.0 / 3.0);
    double excess = channel->slope_1 - friction - 2 * lateral * speed / (g * wet.area_m2);
    double froude2 = speed * speed * wet.top_width_m / (g * wet.area_m2);
    dyds[0] = excess / (1 - froude2) * equation->way * (equation->by_root ? 2 * s : 1);
    return GSL_SUCCESS;
}

static double find_froude2(const struct section_gutter *section,
                           const struct hydraulics_station *at) {
    struct section_wet wet = section_find_wet(section, at->depth_m);
    double speed = wet.area_m2 > 0 ? at->flow_m3s / wet.area_m2 : 0;
    return wet.area_m2 > 0
               ? speed * speed * wet.top_width_m / (HYDRAULICS_GRAVITY_MPS2 * wet.area_m2)
               : 0;
}

struct tally {
    long compared;
    long at_control; /* beside critical depth: dy/dx is no yardstick there */
    long at_jump;    /* its deep side is a chord between two steps of the march */
    long at_foot;    /* of a pool, marched: see there */
    long at_lip;
    long films;
    long starts;
    double worst_1;
    double worst_free_1; /* where GSL began at the outlet by itself */
};

/* One stretch between neighbours; false when GSL gives up. */
static bool follow(struct equation *equation, double from_m, double to_m, double *depth_m) {
    gsl_odeiv2_system system = {find_slope, NULL, 1, equation};
    gsl_odeiv2_driver *driver =
        gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1e-4, 1e-11, 1e-9);
    double from = fabs(from_m - equation->base_m);
    double to = fabs(to_m - equation->base_m);
    double s = equation->by_root ? sqrt(from) : from;
    double end = equation->by_root ? sqrt(to) : to;
    gsl_odeiv2_driver_set_nmax(driver, 20000);
    bool is_done = gsl_odeiv2_driver_apply(driver, &s, end, depth_m) == GSL_SUCCESS;
    gsl_odeiv2_driver_free(driver);
    return is_done;
}

/* The walk over the stations of one profile, in one direction. */
struct course {
    const struct hydraulics_channel *channel;
    const struct hydraulics_profile *profile;
    bool shooting; /* downwards over shooting water; else upwards over tranquil */
    struct tally *tally;
};

/* Why this station is no place to follow the equation to; true = it is one. */
static bool can_follow(const struct course *course, const struct hydraulics_station *at) {
    double froude2 = find_froude2(&course->channel->section, at);
    double top_m = section_full_depth(&course->channel->section);
    if (at->depth_m >= top_m * (1 - 1e-9)) {
        course->tally->at_lip++;
        return false;
    }
    if (at->depth_m < FILM_M / 5 || !(at->flow_m3s > 0)) {
        course->tally->films++;
        return false;
    }
    if (fabs(1 - froude2) < NEAR_CRITICAL_1) {
        course->tally->at_control++;
        return false;
    }
    return (froude2 > 1) == course->shooting;
}

/* Where a pool ends on shooting or nearly critical water, a step of the march is long against the
 * pool's foot. */
static bool is_at_foot(const struct course *course, const struct hydraulics_station *at) {
    const struct hydraulics_station *first = course->profile->stations;
    const struct hydraulics_station *end = first + course->profile->station_count;
    for (const struct hydraulics_station *near = at - FOOT; near <= at + FOOT; near++) {
        if (near >= first && near < end &&
            find_froude2(&course->channel->section, near) > 1 - 3 * NEAR_CRITICAL_1) {
            return true;
        }
    }
    return false;
}

static void compare(const struct course *course, const struct hydraulics_station *at,
                    double depth_m, bool is_free) {
    double off_1 = fabs(at->depth_m - depth_m) / fmax(depth_m, FILM_M);
    struct tally *tally = course->tally;
    bool is_marched = course->profile->error_1 == 0;
    bool is_fine = fabs(at->depth_m - depth_m) <= FINE_M;
    bool is_foot = off_1 <= FOOT_1 && is_at_foot(course, at);
    if (is_marched && off_1 > CLOSE_1 && (is_fine || is_foot)) {
        tally->at_foot++;
        return;
    }
    tally->compared++;
    tally->worst_1 = fmax(tally->worst_1, off_1);
    tally->worst_free_1 =
        is_free && !is_marched ? fmax(tally->worst_free_1, off_1) : tally->worst_free_1;
    if (off_1 > CLOSE_1) {
        print_error("x %.5f of %.3f m: %.7f m, GSL %.7f m, Fr^2 %.3f\n", at->x_m,
                    course->channel->length_m, at->depth_m, depth_m,
                    find_froude2(&course->channel->section, at));
        fail();
    }
}

/* A free end: GSL begins a hair above critical and comes up by itself. */
static bool begin_at_outlet(const struct course *course, size_t last, struct equation *equation,
                            double *depth_m) {
    const struct hydraulics_station *end = &course->profile->stations[last];
    double critical_m = hydraulics_critical_depth(&course->channel->section, end->flow_m3s);
    bool is_free = course->profile->control == HYDRAULICS_CONTROL_OUTLET &&
                   fabs(end->depth_m / critical_m - 1) < 1e-6 && end[-1].x_m < end->x_m;
    if (is_free) {
        equation->by_root = true;
        *depth_m = critical_m * (1 + START_1);
    }
    return is_free;
}

static bool is_knot(const struct hydraulics_channel *channel, double x_m) {
    for (size_t k = 0; k < channel->knot_count; k++) {
        if (channel->knots[k].x_m == x_m) {
            return true;
        }
    }
    return false;
}

static void walk_upwards(const struct course *course) {
    const struct hydraulics_station *stations = course->profile->stations;
    const struct section_gutter *section = &course->channel->section;
    size_t last = course->profile->station_count - 1;
    struct equation equation = {.channel = course->channel, .way = -1};
    double depth_m = 0;
    bool runs = begin_at_outlet(course, last, &equation, &depth_m);
    bool is_free = runs;
    equation.base_m = stations[last].x_m;
    equation.flow_m3s = stations[last].flow_m3s;
    for (size_t i = last; i-- > 0;) {
        const struct hydraulics_station *at = &stations[i];
        if (runs && at->x_m < at[1].x_m) {
            if (!equation.by_root) {
                equation.base_m = at[1].x_m;
                equation.flow_m3s = at[1].flow_m3s;
            }
            equation.side_m = (at->x_m + at[1].x_m) / 2;
            runs = follow(&equation, at[1].x_m, at->x_m, &depth_m) &&
                   (equation.by_root || can_follow(course, at));
            bool is_jump = i > 0 && stations[i - 1].x_m == at->x_m &&
                           stations[i - 1].flow_m3s == at->flow_m3s &&
                           find_froude2(section, &stations[i - 1]) > 1;
            course->tally->at_jump += is_jump;
            if (runs && !is_jump) {
                compare(course, at, depth_m, is_free);
            }
            if (find_froude2(section, at) < 0.8 || is_knot(course->channel, at->x_m)) {
                equation.by_root = false;
            }
            continue;
        }
        /* a point, a mitre, a jump, or what could not be followed: begin anew from here */
        runs = can_follow(course, at);
        depth_m = at->depth_m;
        is_free = equation.by_root = false;
        course->tally->starts += runs;
    }
}

static void walk_downwards(const struct course *course) {
    const struct hydraulics_station *stations = course->profile->stations;
    double depth_m = 0;
    bool runs = false;
    for (size_t i = 0; i + 1 < course->profile->station_count; i++) {
        const struct hydraulics_station *at = &stations[i + 1];
        struct equation equation = {.channel = course->channel,
                                    .base_m = stations[i].x_m,
                                    .way = 1,
                                    .flow_m3s = stations[i].flow_m3s,
                                    .side_m = (stations[i].x_m + at->x_m) / 2};
        if (runs && at->x_m > stations[i].x_m && can_follow(course, at)) {
            runs = follow(&equation, stations[i].x_m, at->x_m, &depth_m);
            if (runs) {
                compare(course, at, depth_m, false);
            }
            continue;
        }
        runs = can_follow(course, at);
        depth_m = at->depth_m;
        course->tally->starts += runs;
    }
}

static void profiles_are_those_of_gsl(void **state) {
    (void)state;
    uint64_t seed = find_seed(31);
    struct tally tally = {0};
    int controls[3] = {0, 0, 0};
    gsl_set_error_handler_off();
    for (int i = 0; i < GUTTERS; i++) {
        struct random_gutter gutter;
        make_random(&seed, &gutter);
        struct base_arena *own = base_make_arena(0);
        struct hydraulics_profile profile;
        assert_true(hydraulics_find_profile(own, &gutter.channel, &profile));
        controls[profile.control]++;
        /* an outlet that shoots out and yet needs a head is no part of the equation */
        struct hydraulics_station *end = &profile.stations[profile.station_count - 1];
        if (profile.control == HYDRAULICS_CONTROL_INTERIOR && end[-1].x_m < end->x_m) {
            profile.station_count--;
        }
        struct course course = {&gutter.channel, &profile, false, &tally};
        walk_upwards(&course);
        course.shooting = true;
        walk_downwards(&course);
        base_free_arena(own);
    }
    print_message(
        "# %d outlet, %d interior, %d drowned: %ld depths within %.1e of GSL's (%.1e where "
        "it began at the outlet), %ld starts\n",
        controls[0], controls[1], controls[2], tally.compared, tally.worst_1, tally.worst_free_1,
        tally.starts);
    print_message(
        "# not followed: %ld beside critical depth, %ld at jumps, %ld at the lip, %ld films; "
        "%ld at or above the foot of a pool, within 0.5 %% or 0.015 mm\n",
        tally.at_control, tally.at_jump, tally.at_lip, tally.films, tally.at_foot);
    assert_true(tally.at_foot <= FEET_MOST);
    assert_true(tally.compared > 40000);
    assert_true(tally.worst_free_1 <= 3e-4);
}

/* ---- order --------------------------------------------------------------------------------------
 */

static void march_converges_with_the_second_order(void **state) {
    (void)state;
    static const double cases[CASES][5] = {
        {6, 30, 0, 0.012, 0.0025},         {5, 20, 0, 0.012, 0.0020},
        {6, 40, 0, 0.011, 0.0020},         {6, 30, 1.0 / 192, 0.012, 0.0040},
        {6, 40, 1.0 / 192, 0.012, 0.0037}, {5, 30, 1.0 / 192, 0.012, 0.0030},
        {6, 40, 1.0 / 96, 0.012, 0.0040},  {8, 50, 1.0 / 192, 0.012, 0.0060}};
    for (int i = 0; i < CASES; i++) {
        struct hydraulics_knot knots[2];
        struct hydraulics_channel channel = make_channel(
            cases[i][0] * IN, cases[i][1] * FT, cases[i][2], cases[i][4] * CFS / FT, knots);
        channel.manning_1 = cases[i][3];
        /* GSL's own still depth is the yardstick */
        struct equation equation = {.channel = &channel,
                                    .base_m = channel.length_m,
                                    .way = -1,
                                    .by_root = true,
                                    .flow_m3s = hydraulics_channel_flow(&channel),
                                    .side_m = channel.length_m / 2};
        double exact_m =
            hydraulics_critical_depth(&channel.section, equation.flow_m3s) * (1 + 1e-7);
        assert_true(follow(&equation, channel.length_m, 0, &exact_m));
        double last = 0;
        double order = 0;
        print_message("# case %c: off by", "abcdefgi"[i]);
        for (int k = 0; k < GRIDS; k++) {
            struct base_arena *own = base_make_arena(0);
            struct hydraulics_profile profile;
            channel.steps = (size_t)25 << k;
            assert_true(hydraulics_find_profile(own, &channel, &profile));
            double off = fabs(profile.still_depth_m / exact_m - 1);
            print_message(" %.1e", off);
            order = k > 0 ? log2(last / off) : 0;
            last = off;
            base_free_arena(own);
        }
        struct base_arena *own = base_make_arena(0);
        struct hydraulics_profile quick;
        channel.steps = 0;
        assert_true(hydraulics_find_profile(own, &channel, &quick));
        double off = fabs(quick.still_depth_m / exact_m - 1);
        print_message(" at 25 to 400 steps, order %.2f; the quick way %.1e\n", order, off);
        assert_true(order > 1.9 && order < 2.1);
        assert_true(off <= quick.error_1 + 1e-6);
        base_free_arena(own);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(profiles_are_those_of_gsl),
        cmocka_unit_test(march_converges_with_the_second_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}

#else

static void gsl_is_not_here(void **state) {
    (void)state;
    print_message("# GSL is not installed: the comparison is skipped\n");
    skip();
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(gsl_is_not_here)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}

#endif
