/* SPDX-License-Identifier: Apache-2.0 */
#include "result/result_inside.h"

static void write_reach(struct result_out *out, const struct storm_reach *reach) {
    result_open_map(out, out->solution->layout.reaches[reach->reach].name);
    double came_m3 = reach->fallen_m3 + reach->fed_m3;
    double over_1 = came_m3 > 0.0 ? reach->over_m3 / came_m3 : 0.0;
    result_put_number(out, RESULT_STORM_OVER, over_1);
    if (reach->over_minutes > 0) {
        result_put_number(out, RESULT_STORM_OVER_FROM, reach->over_from_s);
        result_put_count(out, RESULT_STORM_OVER_MINUTES, (int64_t)reach->over_minutes);
        result_put_number(out, RESULT_STORM_MOST_OVER, reach->most_over_m3s);
    }
    result_close_map(out);
}

static void write_outlet(struct result_out *out, const struct storm_outlet *outlet) {
    const struct layout_outlet *of = &out->solution->layout.outlets[outlet->outlet];
    result_open_map(out, of->name);
    result_put_number(out, RESULT_STORM_PASSED, outlet->passed_m3);
    result_put_number(out, RESULT_STORM_MOST_PASSED, outlet->most_m3s);
    if (of->discharge == JOB_DISCHARGE_BARREL) {
        result_put_number(out, RESULT_STORM_KEPT, outlet->kept_m3);
    }
    result_close_map(out);
}

static void write_table_storm(struct result_out *out, const struct storm *storm) {
    result_put_word(out, RESULT_STORM_OF, "table");
    result_put_number(out, RESULT_STORM_YEARS, storm->period_years);
    result_put_word(out, RESULT_STORM_SECOND, storm->second == RAIN_SIDE_LEFT ? "before" : "after");
}

static void write_record_storm(struct result_out *out, const struct storm *storm) {
    static const char *const tables[] = {"within", "oftener", "rarer"};
    result_put_word(out, RESULT_STORM_OF, "record");
    result_put_text(out, RESULT_STORM_BEGAN, storm->began);
    result_put_count(out, RESULT_STORM_RECORDED, (int64_t)storm->recorded);
    result_put_word(out, RESULT_STORM_CUT, result_yes_no(storm->cut));
    result_put_number(out, RESULT_STORM_WINDOW, storm->window_s);
    result_put_number(out, RESULT_STORM_WINDOW_RAIN, storm->window_mps);
    if (storm->rarity.table != HYDRAULICS_TABLE_EMPTY) {
        result_put_number(out, RESULT_STORM_WINDOW_YEARS, storm->rarity.years);
        result_put_word(out, RESULT_STORM_WINDOW_TABLE, tables[storm->rarity.table]);
    }
}

/* Nothing where neither rain table nor record was given. */
void result_write_storms(struct result_out *out) {
    const struct solution *all = out->solution;
    if (all->storm_count == 0) {
        return;
    }
    result_open_map(out, base_text_of("storms"));
    for (size_t i = 0; i < all->storm_count; i++) {
        const struct storm *storm = &all->storms[i];
        result_open_map(out, result_number_key(out, i + 1));
        if (storm->kind == STORM_OF_TABLE) {
            write_table_storm(out, storm);
        } else {
            write_record_storm(out, storm);
        }
        result_put_number(out, RESULT_STORM_CLIMATE, storm->climate_1);
        result_put_number(out, RESULT_STORM_DURATION, storm->duration_s);
        result_put_number(out, RESULT_STORM_RAIN, storm->total_m);
        result_put_number(out, RESULT_STORM_HARDEST, storm->hardest_mps);
        result_put_number(out, RESULT_STORM_FALLEN, storm->fallen_m3);
        result_put_number(out, RESULT_STORM_OVER_ALL, storm->over_m3);
        for (size_t k = 0; k < storm->reach_count; k++) {
            write_reach(out, &storm->reaches[k]);
        }
        for (size_t k = 0; k < storm->outlet_count; k++) {
            write_outlet(out, &storm->outlets[k]);
        }
        result_close_map(out);
    }
    result_close_map(out);
}
