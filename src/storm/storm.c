/* SPDX-License-Identifier: Apache-2.0 */
#include "storm/storm.h"

#include <math.h>

/* Plan area of a reach, with the factor of the rule that decides: its flow over its rain. */
static double find_area(const struct layout *layout, const struct layout_reach *reach) {
    return layout->rain_mps > 0.0 ? reach->flow_m3s / layout->rain_mps : 0.0;
}

static void add_minute(const struct layout_reach *reach, double area_m2, double rain_m,
                       struct storm_reach *sum) {
    double limit_m = reach->often.troubles[LAYOUT_AS_BUILT].rain_mps * RAIN_STORM_STEP_S;
    double over_m = fmax(rain_m - limit_m, 0.0);
    sum->fallen_m3 += area_m2 * rain_m;
    sum->over_m3 += area_m2 * over_m;
    sum->drained_m3 += area_m2 * (rain_m - over_m);
    sum->over_minutes += over_m > 0.0;
    sum->most_over_m3s = fmax(sum->most_over_m3s, area_m2 * over_m / RAIN_STORM_STEP_S);
}

bool storm_run(struct base_arena *arena, const struct layout *layout, const struct rain_storm *rain,
               struct storm *storm) {
    *storm = (struct storm){.minutes_m = rain->depth_m,
                            .minute_count = rain->count,
                            .duration_s = (double)rain->count * RAIN_STORM_STEP_S,
                            .total_m = rain->total_m,
                            .hardest_mps = rain->hardest_mps,
                            .reach_count = layout->reach_count};
    storm->reaches = base_take(arena, layout->reach_count, sizeof *storm->reaches);
    if (storm->reaches == NULL && layout->reach_count > 0) {
        return false;
    }
    for (size_t i = 0; i < layout->reach_count; i++) {
        const struct layout_reach *reach = &layout->reaches[i];
        struct storm_reach *sum = &storm->reaches[i];
        *sum = (struct storm_reach){.reach = i};
        for (size_t minute = 0; minute < rain->count; minute++) {
            size_t before = sum->over_minutes;
            add_minute(reach, find_area(layout, reach), rain->depth_m[minute], sum);
            if (before == 0 && sum->over_minutes == 1) {
                sum->over_from_s = (double)minute * RAIN_STORM_STEP_S;
            }
        }
        storm->fallen_m3 += sum->fallen_m3;
        storm->drained_m3 += sum->drained_m3;
        storm->over_m3 += sum->over_m3;
    }
    return true;
}
