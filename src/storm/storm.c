/* SPDX-License-Identifier: Apache-2.0 */
/* Minutes, one after the other, from the uppermost gutter down. */
#include "storm/storm.h"

#include <assert.h>
#include <math.h>

struct storm_walk {
    const struct layout *layout;
    struct storm *storm;
    double *own_m3s;   /* [reach_count] straight off the roof in the design rain */
    double *limit_m3s; /* [reach_count] what it just runs with */
    double *fed_m3;    /* [reach_count] from upper gutters in this minute */
    double *passed_m3; /* [outlet_count] in this minute */
    size_t *first;     /* [outlet_count + 1] its feeds: from there to the next one's */
    size_t *order;     /* [reach_count] reaches, uppermost first */
};

/* ---- getting ready --------------------------------------------------------------------------- */

static bool is_fed(const struct layout *layout, size_t reach) {
    for (size_t i = 0; i < layout->feed_count; i++) {
        if (layout->feeds[i].reach == reach) {
            return true;
        }
    }
    return false;
}

/* Does water of that reach's outlet come into the other? */
static bool feeds(const struct layout *layout, size_t reach, size_t other) {
    for (size_t i = 0; i < layout->feed_count; i++) {
        if (layout->feeds[i].reach == other &&
            layout->feeds[i].outlet == layout->reaches[reach].outlet) {
            return true;
        }
    }
    return false;
}

static bool is_ready(const struct storm_walk *walk, size_t reach, const bool *done) {
    const struct layout *layout = walk->layout;
    if (done[reach] || !is_fed(layout, reach)) {
        return !done[reach];
    }
    for (size_t other = 0; other < layout->reach_count; other++) {
        if (!done[other] && feeds(layout, other, reach)) {
            return false;
        }
    }
    return true;
}

/* Uppermost first; layout has refused rings. */
static void order_reaches(struct storm_walk *walk, bool *done) {
    const size_t reaches = walk->layout->reach_count;
    size_t count = 0;
    while (count < reaches) {
        const size_t before = count;
        for (size_t reach = 0; reach < reaches; reach++) {
            if (is_ready(walk, reach, done)) {
                done[reach] = true;
                walk->order[count++] = reach;
            }
        }
        assert(count > before);
        if (count == before) {
            return;
        }
    }
}

/* The rain it just runs with is that of all the water it carries, an upper gutter's too. */
static void take_reach(struct storm_walk *walk, size_t index) {
    const struct layout *layout = walk->layout;
    const struct layout_reach *reach = &layout->reaches[index];
    const double limit_mps = reach->often.troubles[LAYOUT_AS_BUILT].rain_mps;
    double own_m3s = reach->flow_m3s;
    for (size_t i = 0; i < layout->feed_count; i++) {
        const struct layout_feed *feed = &layout->feeds[i];
        own_m3s -=
            feed->reach == index ? feed->share_1 * layout->outlets[feed->outlet].flow_m3s : 0.0;
    }
    walk->own_m3s[index] = fmax(own_m3s, 0.0);
    walk->limit_m3s[index] =
        isinf(limit_mps) ? limit_mps : reach->flow_m3s * limit_mps / layout->rain_mps;
}

/* Layout lists feeds outlet by outlet. */
static void part_feeds(struct storm_walk *walk) {
    const struct layout *layout = walk->layout;
    size_t feed = 0;
    for (size_t outlet = 0; outlet < layout->outlet_count; outlet++) {
        walk->first[outlet] = feed;
        while (feed < layout->feed_count && layout->feeds[feed].outlet == outlet) {
            feed++;
        }
    }
    walk->first[layout->outlet_count] = feed;
    assert(feed == layout->feed_count);
}

static bool get_ready(struct base_arena *arena, struct storm_walk *walk) {
    const struct layout *layout = walk->layout;
    struct storm *storm = walk->storm;
    const size_t reaches = layout->reach_count + 1;
    const size_t outlets = layout->outlet_count + 1;
    bool *done = base_take(arena, reaches, sizeof *done);
    storm->reaches = base_take(arena, reaches, sizeof *storm->reaches);
    storm->outlets = base_take(arena, outlets, sizeof *storm->outlets);
    walk->own_m3s = base_take(arena, reaches, sizeof *walk->own_m3s);
    walk->limit_m3s = base_take(arena, reaches, sizeof *walk->limit_m3s);
    walk->fed_m3 = base_take(arena, reaches, sizeof *walk->fed_m3);
    walk->first = base_take(arena, outlets, sizeof *walk->first);
    walk->passed_m3 = base_take(arena, outlets, sizeof *walk->passed_m3);
    walk->order = base_take(arena, reaches, sizeof *walk->order);
    if (base_arena_failed(arena)) {
        return false;
    }
    for (size_t i = 0; i < layout->reach_count; i++) {
        storm->reaches[i] = (struct storm_reach){.reach = i};
        take_reach(walk, i);
    }
    for (size_t i = 0; i < layout->outlet_count; i++) {
        storm->outlets[i] = (struct storm_outlet){.outlet = i};
    }
    part_feeds(walk);
    order_reaches(walk, done);
    return true;
}

/* ---- one minute ------------------------------------------------------------------------------ */

static void run_reach(struct storm_walk *walk, size_t index, double rain_m, size_t minute) {
    const struct layout *layout = walk->layout;
    struct storm_reach *sum = &walk->storm->reaches[index];
    const size_t outlet = layout->reaches[index].outlet;
    const double own_m3 = walk->own_m3s[index] * rain_m / layout->rain_mps;
    const double came_m3 = own_m3 + walk->fed_m3[index];
    const double over_m3 = fmax(came_m3 - walk->limit_m3s[index] * RAIN_STORM_STEP_S, 0.0);
    walk->passed_m3[outlet] += came_m3 - over_m3;
    for (size_t i = walk->first[outlet]; i < walk->first[outlet + 1]; i++) {
        const struct layout_feed *feed = &layout->feeds[i];
        walk->fed_m3[feed->reach] += feed->share_1 * (came_m3 - over_m3);
        walk->storm->steps_run++;
    }
    walk->storm->steps_run++;
    sum->fallen_m3 += own_m3;
    sum->fed_m3 += walk->fed_m3[index];
    sum->drained_m3 += came_m3 - over_m3;
    sum->over_m3 += over_m3;
    if (over_m3 > 0.0) {
        sum->over_from_s =
            sum->over_minutes == 0 ? (double)minute * RAIN_STORM_STEP_S : sum->over_from_s;
        sum->over_minutes++;
        sum->most_over_m3s = fmax(sum->most_over_m3s, over_m3 / RAIN_STORM_STEP_S);
    }
}

static void run_minute(struct storm_walk *walk, double rain_m, size_t minute) {
    const struct layout *layout = walk->layout;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        walk->passed_m3[i] = 0.0;
    }
    for (size_t i = 0; i < layout->reach_count; i++) {
        walk->fed_m3[i] = 0.0;
    }
    for (size_t i = 0; i < layout->reach_count; i++) {
        run_reach(walk, walk->order[i], rain_m, minute);
    }
    for (size_t i = 0; i < layout->outlet_count; i++) {
        struct storm_outlet *outlet = &walk->storm->outlets[i];
        outlet->passed_m3 += walk->passed_m3[i];
        outlet->most_m3s = fmax(outlet->most_m3s, walk->passed_m3[i] / RAIN_STORM_STEP_S);
    }
}

/* ---- the whole ------------------------------------------------------------------------------- */

static void sum_up(const struct layout *layout, struct storm *storm) {
    for (size_t i = 0; i < layout->reach_count; i++) {
        storm->fallen_m3 += storm->reaches[i].fallen_m3;
        storm->over_m3 += storm->reaches[i].over_m3;
    }
    for (size_t i = 0; i < layout->outlet_count; i++) {
        const struct layout_outlet *outlet = &layout->outlets[i];
        if (outlet->onto_run != SIZE_MAX) {
            continue;
        }
        storm->drained_m3 += storm->outlets[i].passed_m3;
        if (outlet->discharge == JOB_DISCHARGE_BARREL) {
            storm->outlets[i].kept_m3 = storm->outlets[i].passed_m3;
            storm->kept_m3 += storm->outlets[i].passed_m3;
        }
    }
}

bool storm_run(struct base_arena *arena, const struct layout *layout, const struct rain_storm *rain,
               struct storm *storm) {
    struct storm_walk walk = {.layout = layout, .storm = storm};
    *storm = (struct storm){.duration_s = (double)rain->count * RAIN_STORM_STEP_S,
                            .total_m = rain->total_m,
                            .hardest_mps = rain->hardest_mps,
                            .minutes_m = rain->depth_m,
                            .minute_count = rain->count,
                            .reach_count = layout->reach_count,
                            .outlet_count = layout->outlet_count};
    if (!get_ready(arena, &walk)) {
        return false;
    }
    for (size_t minute = 0; minute < rain->count; minute++) {
        run_minute(&walk, rain->depth_m[minute], minute);
    }
    sum_up(layout, storm);
    return true;
}
