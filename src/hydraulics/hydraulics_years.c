/* SPDX-License-Identifier: Apache-2.0 */
/* How often it does not work: the rain that just reaches the lip, and how rare that rain is. */
#include "hydraulics/hydraulics.h"

#include <assert.h>
#include <math.h>

/* ---- years -------------------------------------------------------------------------------------
 */

/* Between two neighbours of the curve; low <= intensity <= high, low < high. */
static double interpolate_years(const double years[2], const double intensity_mps[2],
                                double wanted_mps) {
    double share = (wanted_mps - intensity_mps[0]) / (intensity_mps[1] - intensity_mps[0]);
    return years[0] * exp(share * log(years[1] / years[0]));
}

struct hydraulics_years hydraulics_find_years(const struct hydraulics_rain_curve *curve,
                                              double intensity_mps) {
    struct hydraulics_years last = {0, HYDRAULICS_TABLE_EMPTY};
    double last_mps = 0;
    assert(intensity_mps >= 0);
    for (size_t i = 0; i < curve->count; i++) {
        double here_mps = curve->intensity_mps[i];
        double here_years = curve->period_years[i];
        if (!(here_mps > 0)) {
            continue;
        }
        assert(here_years > last.years);
        bool is_first = last.table == HYDRAULICS_TABLE_EMPTY;
        if (intensity_mps <= here_mps) {
            if (is_first) {
                bool is_below = intensity_mps < here_mps;
                return (struct hydraulics_years){here_years, is_below ? HYDRAULICS_TABLE_TOO_RARE
                                                                      : HYDRAULICS_TABLE_HOLDS};
            }
            const double years[2] = {last.years, here_years};
            const double ends_mps[2] = {last_mps, here_mps};
            return (struct hydraulics_years){interpolate_years(years, ends_mps, intensity_mps),
                                             HYDRAULICS_TABLE_HOLDS};
        }
        last = (struct hydraulics_years){here_years, HYDRAULICS_TABLE_TOO_SHORT};
        last_mps = here_mps;
    }
    return last;
}

double hydraulics_spill_intensity(double rain_mps, double flow_m3s, double capacity_m3s) {
    assert(rain_mps >= 0 && flow_m3s >= 0 && capacity_m3s >= 0);
    return flow_m3s > 0 ? rain_mps * capacity_m3s / flow_m3s : (double)INFINITY;
}

struct hydraulics_often hydraulics_find_often(const struct hydraulics_rain_curve *curve,
                                              const double spill_mps[HYDRAULICS_PARTS]) {
    struct hydraulics_often often = {.first = HYDRAULICS_PART_GUTTER};
    for (int i = 0; i < HYDRAULICS_PARTS; i++) {
        often.parts[i] = hydraulics_find_years(curve, spill_mps[i]);
        if (spill_mps[i] < spill_mps[often.first]) {
            often.first = (enum hydraulics_part)i;
        }
    }
    return often;
}

/* ---- capacity ----------------------------------------------------------------------------------
 */

double hydraulics_channel_flow(const struct hydraulics_channel *channel) {
    double sum_m3s = channel->still_flow_m3s;
    for (size_t i = 0; i + 1 < channel->knot_count; i++) {
        const struct hydraulics_knot *a = &channel->knots[i];
        sum_m3s += (a[0].lateral_m2s + a[1].lateral_m2s) / 2 * (a[1].x_m - a[0].x_m);
    }
    for (size_t i = 0; i < channel->point_count; i++) {
        sum_m3s += channel->points[i].flow_m3s;
    }
    return sum_m3s;
}

static struct hydraulics_rain make_rain(const struct hydraulics_mouth *mouth, double flow_m3s,
                                        double factor_1) {
    struct hydraulics_rain rain = {.factor_1 = factor_1, .only_whether = true};
    if (mouth->diameter_m > 0) {
        rain.outlet_head_m =
            hydraulics_outlet_head(mouth->diameter_m, flow_m3s * factor_1, mouth->strained);
    }
    return rain;
}

static const double SHARE_FOUND_1 = 1e-6; /* of the factor */
static const double FULL_1 = 2e-7;        /* of the depth: as good as full */

/* The greatest factor that runs and its depth, the one before it, the least that spills. */
struct search {
    double runs_1;
    double runs_m;
    double before_1;
    double before_m;
    double spills_1;
    int spilled; /* how often in a row */
    int tried;
};

/* What spills for sure: the flow that is critical brim full stands no higher anywhere than at the
 * end, and no outlet takes more than it does with the gutter full. */
static double find_most(const struct hydraulics_channel *channel,
                        const struct hydraulics_mouth *mouth, double own_m3s, double top_m) {
    struct section_wet brim = section_find_wet(&channel->section, top_m);
    double most_m3s =
        brim.area_m2 * sqrt(HYDRAULICS_GRAVITY_MPS2 * brim.area_m2 / brim.top_width_m);
    double most_1 = most_m3s / own_m3s;
    if (mouth->diameter_m > 0) {
        double outlet_m3s = hydraulics_outlet_flow(mouth->diameter_m, top_m, mouth->strained);
        most_1 = fmin(most_1, outlet_m3s / (own_m3s + mouth->other_flow_m3s));
    }
    return most_1;
}

/* Flow goes nearly as a power of the greatest depth. A rain that spills is slow to work out, so it
 * is come at from below; halving when that leads nowhere. */
static double propose(const struct search *search, double top_m) {
    enum { PATIENCE = 16 };
    double gap_1 = search->spills_1 - search->runs_1;
    double middle_1 = search->runs_1 + gap_1 / 2;
    bool has_power = search->before_1 > 0 && search->runs_m > search->before_m;
    if (!has_power || search->spilled > 1 || search->tried > PATIENCE) {
        return middle_1;
    }
    double near_1 = search->spills_1 - 0.1 * gap_1;
    if (search->spilled > 0) {
        return near_1;
    }
    double power = log(search->runs_1 / search->before_1) / log(search->runs_m / search->before_m);
    double step_1 = search->runs_1 * (exp(power * log(top_m / search->runs_m)) - 1) * 0.97;
    if (!(step_1 > 0)) {
        return middle_1;
    }
    return fmin(search->runs_1 + step_1, near_1);
}

static void learn(struct search *search, double factor_1, double top_m,
                  const struct hydraulics_depths *depths) {
    search->tried++;
    if (depths->overflows || depths->greatest_depth_m > top_m) {
        search->spilled++;
        search->spills_1 = factor_1;
    } else {
        search->spilled = 0;
        search->before_1 = search->runs_1;
        search->before_m = search->runs_m;
        search->runs_1 = factor_1;
        search->runs_m = depths->greatest_depth_m;
    }
}

bool hydraulics_find_capacity(const struct hydraulics_channel *channel,
                              const struct hydraulics_mouth *mouth, double *factor_1) {
    double own_m3s = hydraulics_channel_flow(channel);
    double flow_m3s = own_m3s + mouth->other_flow_m3s;
    *factor_1 = 0;
    if (!(own_m3s > 0)) {
        return true;
    }
    double top_m = section_full_depth(&channel->section) - mouth->spare_m;
    if (!(top_m > 0)) {
        return true;
    }
    struct search search = {.spills_1 = find_most(channel, mouth, own_m3s, top_m)};
    bool is_first = mouth->diameter_m > 0; /* an outlet that holds the water back is met at once */
    while (search.spills_1 - search.runs_1 > SHARE_FOUND_1 * search.spills_1 &&
           !(search.runs_m > top_m * (1 - FULL_1))) {
        double next_1 =
            is_first ? search.spills_1 * (1 - SHARE_FOUND_1 / 2) : propose(&search, top_m);
        is_first = false;
        struct hydraulics_rain rain = make_rain(mouth, flow_m3s, next_1);
        struct hydraulics_depths depths;
        if (!hydraulics_find_depths(channel, &rain, 1, &depths)) {
            return false;
        }
        learn(&search, next_1, top_m, &depths);
    }
    *factor_1 = search.runs_1;
    return true;
}

/* ---- ice ---------------------------------------------------------------------------------------
 */

/* The water above a floor of ice: its area, and its moment about its own surface. */
static struct section_wet find_above(const struct section_gutter *section, double ice_m,
                                     double depth_m) {
    struct section_wet all = section_find_wet(section, depth_m);
    struct section_wet ice = section_find_wet(section, ice_m);
    all.area_m2 -= ice.area_m2;
    all.moment_m3 -= ice.moment_m3 + ice.area_m2 * (depth_m - ice_m);
    return all;
}

/* Level, without friction: M is the same at the still end, brim full, and at the critical end. */
static double find_brim_flow(const struct section_gutter *section, double ice_m) {
    double full_m = section_full_depth(section);
    double still_m3 = find_above(section, ice_m, full_m).moment_m3;
    double low_m = ice_m;
    double high_m = full_m;
    struct section_wet wet = find_above(section, ice_m, full_m);
    for (int i = 0; i < 60; i++) {
        double middle_m = (low_m + high_m) / 2;
        wet = find_above(section, ice_m, middle_m);
        bool is_less = wet.area_m2 * wet.area_m2 / wet.top_width_m + wet.moment_m3 < still_m3;
        *(is_less ? &low_m : &high_m) = middle_m;
    }
    return wet.area_m2 * sqrt(HYDRAULICS_GRAVITY_MPS2 * fmax(wet.area_m2, 0) / wet.top_width_m);
}

double hydraulics_iced_share(const struct section_gutter *section, double ice_m) {
    assert(ice_m >= 0);
    if (ice_m >= section_full_depth(section)) {
        return 0;
    }
    return find_brim_flow(section, ice_m) / find_brim_flow(section, 0);
}
