/* SPDX-License-Identifier: Apache-2.0 */
/* One channel in many rains: cut once, each solved from the rain before. */
#include "hydraulics/hydraulics_smooth.h"

#include <assert.h>
#include <math.h>

static void scale_segments(const struct hydraulics_segments *plain, double factor_1,
                           struct hydraulics_segments *segments) {
    for (size_t i = 0; i < plain->count; i++) {
        const struct hydraulics_segment *from = &plain->items[i];
        struct hydraulics_segment *to = &segments->items[i];
        /* as the cutting has it: what arrives is what left above, to the last bit */
        to->arriving_m3s = i == 0 ? from->arriving_m3s * factor_1
                                  : hydraulics_segment_flow(&segments->items[i - 1], from->from_m);
        to->flow_m3s = to->arriving_m3s + (from->flow_m3s - from->arriving_m3s) * factor_1;
        to->lateral_m2s = from->lateral_m2s * factor_1;
        to->lateral_slope_mps = from->lateral_slope_mps * factor_1;
    }
    const struct hydraulics_segment *last = &segments->items[plain->count - 1];
    segments->leaving_m3s = hydraulics_segment_flow(last, last->to_m);
    segments->end_point_m3s = plain->end_point_m3s * factor_1;
}

static struct hydraulics_depths read_smooth(const struct hydraulics_smooth *smooth,
                                            double outlet_head_m) {
    return (struct hydraulics_depths){.control = outlet_head_m > smooth->critical_m
                                                     ? HYDRAULICS_CONTROL_DROWNED
                                                     : HYDRAULICS_CONTROL_OUTLET,
                                      .still_depth_m = smooth->still_depth_m,
                                      .end_depth_m = smooth->end_depth_m,
                                      .greatest_depth_m = smooth->greatest_depth_m,
                                      .greatest_x_m = smooth->greatest_x_m,
                                      .error_1 = smooth->error_1};
}

static struct hydraulics_depths brim_full(const struct hydraulics_reach *reach) {
    double top_m = reach->shape.top_m;
    return (struct hydraulics_depths){
        .still_depth_m = top_m, .end_depth_m = top_m, .greatest_depth_m = top_m, .overflows = true};
}

/* The whole profile, for a rain whose water is not smooth; what it takes is given back. */
static bool find_whole(const struct hydraulics_channel *channel, const struct hydraulics_rain *rain,
                       struct hydraulics_depths *depths) {
    struct base_arena *arena = base_make_arena(0);
    if (arena == NULL) {
        return false;
    }
    struct hydraulics_channel scaled = *channel;
    struct hydraulics_knot *knots = base_take(arena, channel->knot_count, sizeof *knots);
    struct hydraulics_point *points = base_take(arena, channel->point_count + 1, sizeof *points);
    bool is_found = knots != NULL && points != NULL;
    for (size_t i = 0; is_found && i < channel->knot_count; i++) {
        knots[i] = channel->knots[i];
        knots[i].lateral_m2s *= rain->factor_1;
    }
    for (size_t i = 0; is_found && i < channel->point_count; i++) {
        points[i] = channel->points[i];
        points[i].flow_m3s *= rain->factor_1;
    }
    scaled.knots = knots;
    scaled.points = points;
    scaled.still_flow_m3s *= rain->factor_1;
    scaled.outlet_head_m = rain->outlet_head_m;
    struct hydraulics_profile profile;
    is_found = is_found && hydraulics_find_profile(arena, &scaled, &profile);
    if (is_found) {
        *depths = (struct hydraulics_depths){.control = profile.control,
                                             .still_depth_m = profile.still_depth_m,
                                             .end_depth_m = profile.end_depth_m,
                                             .greatest_depth_m = profile.greatest_depth_m,
                                             .greatest_x_m = profile.greatest_x_m,
                                             .overflows = profile.overflows,
                                             .error_1 = profile.error_1};
    }
    base_free_arena(arena);
    return is_found;
}

static bool find_rains(const struct hydraulics_channel *channel,
                       const struct hydraulics_segments *plain, const struct hydraulics_rain *rains,
                       size_t count, struct hydraulics_depths *depths) {
    struct hydraulics_reach reach = hydraulics_make_reach(
        hydraulics_gutter_shape(&channel->section), channel->slope_1, channel->manning_1);
    struct hydraulics_segments segments = *plain;
    segments.items = base_take(plain->arena, plain->count, sizeof *segments.items);
    if (segments.items == NULL) {
        return false;
    }
    for (size_t i = 0; i < plain->count; i++) {
        segments.items[i] = plain->items[i];
    }
    struct hydraulics_smooth smooth[2];
    const struct hydraulics_smooth *like = NULL;
    for (size_t i = 0; i < count; i++) {
        struct hydraulics_smooth *now = &smooth[i % 2];
        assert(rains[i].factor_1 >= 0 && rains[i].outlet_head_m >= 0);
        scale_segments(plain, rains[i].factor_1, &segments);
        enum hydraulics_verdict verdict = HYDRAULICS_SMOOTH_NOT;
        if (channel->steps == 0) {
            verdict = hydraulics_find_smooth(&reach, rains[i].outlet_head_m, &segments, like, now);
        }
        if (verdict == HYDRAULICS_SMOOTH_STANDS) {
            depths[i] = read_smooth(now, rains[i].outlet_head_m);
            like = now;
        } else if (verdict == HYDRAULICS_SMOOTH_SPILLS && rains[i].only_whether) {
            depths[i] = brim_full(&reach);
            like = NULL;
        } else if (!find_whole(channel, &rains[i], &depths[i])) {
            return false;
        } else {
            like = NULL;
        }
    }
    return true;
}

bool hydraulics_find_depths(const struct hydraulics_channel *channel,
                            const struct hydraulics_rain *rains, size_t count,
                            struct hydraulics_depths *depths) {
    struct base_arena *arena = base_make_arena(0);
    struct hydraulics_segments plain = {.arena = arena};
    bool is_found = arena != NULL && hydraulics_cut_at_inflow(channel, &plain) &&
                    find_rains(channel, &plain, rains, count, depths);
    if (arena != NULL) {
        base_free_arena(arena);
    }
    return is_found;
}
