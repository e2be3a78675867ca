/* SPDX-License-Identifier: Apache-2.0 */
/* Random gutters: level and with fall, uneven inflow, points, water from above, outlets with a
 * head. */
#ifndef EAVESMITH_TESTS_TEST_HYDRAULICS_GUTTERS_H
#define EAVESMITH_TESTS_TEST_HYDRAULICS_GUTTERS_H

#include "test_hydraulics.h"

#include <stdlib.h>

static inline uint64_t next_random(uint64_t *seed) { /* xorshift64* */
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return *seed * UINT64_C(2685821657736338717);
}

static inline double draw(uint64_t *seed, double low, double high) {
    return low + (high - low) * (double)(next_random(seed) >> 11) * 0x1p-53;
}

struct random_gutter {
    struct hydraulics_channel channel;
    struct hydraulics_knot knots[4];
    struct hydraulics_point points[2];
    struct hydraulics_bend bends[1];
};

static inline void make_random(uint64_t *seed, struct random_gutter *gutter) {
    double length = draw(seed, 0.3, 25);
    double cut = draw(seed, 0.05, 0.95) * length;
    double diameter = draw(seed, 0.075, 0.25);
    double scale = hydraulics_level_flow(diameter) / length * draw(seed, 0.02, 1.2);
    bool is_level = next_random(seed) % 3 == 0;
    for (int i = 0; i < 4; i++) {
        double x = i == 0 ? 0 : i == 3 ? length : cut;
        double share = next_random(seed) % 4 == 0 ? 0 : draw(seed, 0, 1.5);
        gutter->knots[i] = (struct hydraulics_knot){x, scale * share};
    }
    for (int i = 0; i < 2; i++) {
        gutter->points[i] = (struct hydraulics_point){draw(seed, 0, 0.5) * length + i * length / 2,
                                                      scale * length * draw(seed, 0, 0.4)};
    }
    gutter->bends[0] = (struct hydraulics_bend){draw(seed, 0.1, 0.9) * length, draw(seed, 0, 1)};
    gutter->channel = (struct hydraulics_channel){
        .section = {.inside_diameter_m = diameter, .straight_m = draw(seed, 0, 0.015)},
        .length_m = length,
        .slope_1 = is_level ? 0 : draw(seed, 0, 0.03),
        .manning_1 = draw(seed, 0.009, 0.018),
        .knots = gutter->knots,
        .knot_count = 4,
        .points = gutter->points,
        .point_count = next_random(seed) % 3,
        .bends = gutter->bends,
        .bend_count = next_random(seed) % 3 == 0,
        .still_flow_m3s = next_random(seed) % 3 == 0 ? scale * length * draw(seed, 0, 0.5) : 0};
    if (next_random(seed) % 2 == 0) {
        gutter->channel.outlet_head_m = draw(seed, 0, 0.9) * diameter / 2;
    }
}

/* EAVESMITH_SEED walks other gutters. Zero would stand still. */
static inline uint64_t find_seed(uint64_t offset) {
    const char *given = getenv("EAVESMITH_SEED");
    uint64_t seed = (given != NULL ? strtoull(given, NULL, 10) : UINT64_C(20240611)) + offset;
    print_message("# seed %llu\n", (unsigned long long)(seed - offset));
    seed = seed * UINT64_C(0x9e3779b97f4a7c15);
    return seed != 0 ? seed : 1;
}

static inline void rain_times(struct random_gutter *gutter, double factor) {
    for (int i = 0; i < 4; i++) {
        gutter->knots[i].lateral_m2s *= factor;
    }
    gutter->points[0].flow_m3s *= factor;
    gutter->points[1].flow_m3s *= factor;
    gutter->channel.still_flow_m3s *= factor;
}

#endif
