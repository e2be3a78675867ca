/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How a run grows and shrinks. It is held fast at one bracket near its middle and slides in all
 * others, so each half moves towards its end; corners are mitres free in their brackets and go
 * along. Over the shop's limit one piece of gutter is too long: an expansion joint, two capped ends
 * under a loose cover, is a high point, so each side of it needs an outlet.
 */
#include <math.h>

#include "hang/hang_inside.h"
#include "material/material.h"
#include "thermal/thermal.h"

/* Metal in service, -20 to 150 F: SRC-30 p60, FOUND. */
#define COLDEST_C (-260.0 / 9.0)
#define HOTTEST_C (590.0 / 9.0)
/* In the sun it is so much hotter than the air: from 100 F to that. DERIVED */
#define SUN_K (250.0 / 9.0)

static void find_range(const struct hang_walk *walk, struct hang_moves *moves) {
    const struct job *job = walk->input->job;
    moves->coldest_c = job->lowest.given ? job->lowest.value : COLDEST_C;
    moves->hottest_c = job->highest.given ? fmax(job->highest.value + SUN_K, HOTTEST_C) : HOTTEST_C;
}

/* The bracket nearest the middle; of equals the first as walked. */
static size_t find_fixed(const struct hang_run *run, int64_t length_tick) {
    size_t fixed = 0;
    int64_t least_tick = INT64_MAX;
    for (size_t i = 0; i < run->count; i++) {
        int64_t off_tick = 2 * run->brackets[i].x_tick - length_tick;
        off_tick = off_tick < 0 ? -off_tick : off_tick;
        if (off_tick < least_tick) {
            least_tick = off_tick;
            fixed = i;
        }
    }
    return fixed;
}

void hang_find_moves(const struct hang_walk *walk, struct hang_run *run) {
    const struct material_metal *copper = material_find_metal(base_text_of("copper"));
    const struct shop *shop = walk->input->shop;
    struct hang_moves *moves = &run->moves;
    int64_t length_tick = walk->input->layout->runs[run->run].length_tick;
    double length_m = units_m_of_tick(length_tick);
    find_range(walk, moves);
    double range_k = moves->hottest_c - moves->coldest_c;
    moves->moves_m = thermal_movement(copper->expansion_1k, length_m, range_k);
    if (run->count > 0) {
        moves->fixed = find_fixed(run, length_tick);
        double left_m = units_m_of_tick(run->brackets[moves->fixed].x_tick);
        double farther_m = fmax(left_m, length_m - left_m);
        moves->slot_m = 2.0 * thermal_movement(copper->expansion_1k, farther_m, range_k);
    }
    double limit_m = shop->expansion_limit_m;
    if (length_m > limit_m * (1.0 + 1e-9)) {
        moves->joints_wanted = (int64_t)ceil(length_m / limit_m - 1e-9) - 1;
        base_add_issue(walk->issues, (struct base_issue){
                                         .code = BASE_ISSUE_WANTS_EXPANSION_JOINT,
                                         .object = walk->input->layout->runs[run->run].name,
                                         .value = base_value_tick(units_tick_of_m(moves->moves_m)),
                                         .limit = base_value_tick(units_tick_of_m(limit_m)),
                                         .other = base_value_count(moves->joints_wanted)});
    }
}

void hang_explain_moves(const struct hang_walk *walk, const struct hang_run *run) {
    base_trace_leaf(walk->trace, "moves_m");
    base_trace_formula(walk->trace, "expansion x length x (hottest - coldest)", "SRC-32");
    base_trace_input(walk->trace, "expansion a degree (K)",
                     base_value_number(BASE_UNIT_NONE,
                                       material_find_metal(base_text_of("copper"))->expansion_1k));
    base_trace_input(walk->trace, "length",
                     base_value_tick(walk->input->layout->runs[run->run].length_tick));
    base_trace_input(walk->trace, "coldest", base_value_number(BASE_UNIT_C, run->moves.coldest_c));
    base_trace_input(walk->trace, "hottest", base_value_number(BASE_UNIT_C, run->moves.hottest_c));
    base_trace_leaf(walk->trace, "expansion_joints_wanted");
    base_trace_formula(walk->trace, "length / limit, rounded up, less one", "SRC-40");
    base_trace_input(walk->trace, "limit",
                     base_value_number(BASE_UNIT_M, walk->input->shop->expansion_limit_m));
}
