/* SPDX-License-Identifier: Apache-2.0 */
#include "result/result_inside.h"

static void put_number(struct result_out *out, enum result_field field, enum base_unit unit,
                       double number) {
    result_put(out, field, base_value_number(unit, number));
}

static void write_reach(struct result_out *out, const struct storm_reach *reach) {
    result_open_map(out, out->solution->layout.reaches[reach->reach].name);
    double over_1 = reach->fallen_m3 > 0.0 ? reach->over_m3 / reach->fallen_m3 : 0.0;
    put_number(out, RESULT_STORM_OVER, BASE_UNIT_RATIO, over_1);
    if (reach->over_minutes > 0) {
        put_number(out, RESULT_STORM_OVER_FROM, BASE_UNIT_S, reach->over_from_s);
        result_put(out, RESULT_STORM_OVER_MINUTES, base_value_count((int64_t)reach->over_minutes));
        put_number(out, RESULT_STORM_MOST_OVER, BASE_UNIT_M3S, reach->most_over_m3s);
    }
    result_close_map(out);
}

/* Nothing where no rain table was given. */
void result_write_storms(struct result_out *out) {
    const struct solution *all = out->solution;
    if (all->storm_count == 0) {
        return;
    }
    result_open_map(out, base_text_of("storms"));
    for (size_t i = 0; i < all->storm_count; i++) {
        const struct storm *storm = &all->storms[i];
        result_open_map(out, result_number_key(out, i + 1));
        put_number(out, RESULT_STORM_YEARS, BASE_UNIT_RATIO, storm->period_years);
        put_number(out, RESULT_STORM_DURATION, BASE_UNIT_S, storm->duration_s);
        put_number(out, RESULT_STORM_RAIN, BASE_UNIT_M, storm->total_m);
        put_number(out, RESULT_STORM_HARDEST, BASE_UNIT_MPS, storm->hardest_mps);
        for (size_t k = 0; k < storm->reach_count; k++) {
            write_reach(out, &storm->reaches[k]);
        }
        result_close_map(out);
    }
    result_close_map(out);
}
