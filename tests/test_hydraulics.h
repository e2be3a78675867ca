/* SPDX-License-Identifier: Apache-2.0 */
/* What the test programs of hydraulics share. */
#ifndef EAVESMITH_TESTS_TEST_HYDRAULICS_H
#define EAVESMITH_TESTS_TEST_HYDRAULICS_H

#include "check.h"
#include "hydraulics/hydraulics_inside.h"

#include <math.h>

#define FT  HYDRAULICS_FOOT_M
#define IN  HYDRAULICS_INCH_M
#define CFS HYDRAULICS_CFS_M3S

/* A half-round with even inflow. knots is the caller's pair. */
static inline struct hydraulics_channel make_channel(double diameter_m, double length_m,
                                                     double slope_1, double lateral_m2s,
                                                     struct hydraulics_knot *knots) {
    knots[0] = (struct hydraulics_knot){0, lateral_m2s};
    knots[1] = (struct hydraulics_knot){length_m, lateral_m2s};
    return (struct hydraulics_channel){.section = {.inside_diameter_m = diameter_m},
                                       .length_m = length_m,
                                       .slope_1 = slope_1,
                                       .manning_1 = 0.012,
                                       .knots = knots,
                                       .knot_count = 2};
}

/* What must hold of any profile at all. */
static inline void check_sound(const struct hydraulics_channel *channel,
                               const struct hydraulics_profile *profile) {
    double top_m = section_full_depth(&channel->section);
    const struct hydraulics_station *stations = profile->stations;
    assert_true(profile->station_count >= 2);
    assert_true(stations[0].x_m == 0);
    assert_true(stations[profile->station_count - 1].x_m == channel->length_m);
    for (size_t i = 0; i < profile->station_count; i++) {
        assert_true(isfinite(stations[i].depth_m) && isfinite(stations[i].flow_m3s));
        assert_true(stations[i].depth_m >= 0 && stations[i].depth_m <= top_m);
        assert_true(stations[i].depth_m <= profile->greatest_depth_m);
        assert_true(i == 0 || stations[i].x_m >= stations[i - 1].x_m);
        assert_true(i == 0 || stations[i].flow_m3s >= stations[i - 1].flow_m3s * (1 - 1e-12));
    }
    assert_true(isfinite(profile->residual_1) && profile->residual_1 >= 0);
}

#endif
