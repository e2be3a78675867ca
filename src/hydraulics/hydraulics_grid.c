/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The channel cut where something breaks (a knot, a point inflow, an interior control) and each
 * stretch cut into steps that shorten towards both ends: above a control at its lower end the depth
 * goes as the square root of the distance, and in the graded variable it is smooth again; at its
 * upper end a shallow pool may begin.
 */
#include "hydraulics/hydraulics_inside.h"
#include "numeric/numeric.h"

#include <assert.h>
#include <math.h>

static const double NO_FLOW_M3S = 1e-15; /* less than a drop in a year counts as none */
enum { STEPS_DEFAULT = 800, STEPS_LEAST = 4, SAMPLES = 16 };
static const double SHARE_LEAST = 0.04; /* of the steps, for a segment however short */

double hydraulics_segment_flow(const struct hydraulics_segment *segment, double x_m) {
    double run_m = x_m - segment->from_m;
    double flow_m3s = segment->flow_m3s + segment->lateral_m2s * run_m +
                      segment->lateral_slope_mps * run_m * run_m / 2;
    return flow_m3s < NO_FLOW_M3S ? 0 : flow_m3s;
}

double hydraulics_control_excess(struct hydraulics_reach *reach,
                                 const struct hydraulics_segment *segment, double x_m) {
    double flow_m3s = hydraulics_segment_flow(segment, x_m);
    struct hydraulics_critical critical = hydraulics_find_critical(reach, flow_m3s, 0);
    if (!(critical.area_m2 > 0)) {
        return reach->slope_1;
    }
    double lateral_m2s =
        segment->lateral_m2s + segment->lateral_slope_mps * (x_m - segment->from_m);
    double area_m2 = critical.area_m2;
    return critical.state.push_m2 / area_m2 -
           2 * lateral_m2s * (flow_m3s / area_m2) / (HYDRAULICS_GRAVITY_MPS2 * area_m2);
}

/* ---- segments ----------------------------------------------------------------------------------
 */

static bool add_segment(struct hydraulics_segments *segments, struct hydraulics_segment segment) {
    struct hydraulics_segment *items =
        base_grow(segments->arena, segments->items, &segments->capacity, segments->count,
                  sizeof *segments->items);
    if (items == NULL) {
        return false;
    }
    segments->items = items;
    segments->items[segments->count++] = segment;
    segments->leaving_m3s = hydraulics_segment_flow(&segment, segment.to_m);
    return true;
}

/* The losses of all bends up to x, as one: what passes is multiplied. */
static double take_bends(const struct hydraulics_channel *channel, size_t *next, double x_m) {
    double passes_1 = 1;
    for (; *next < channel->bend_count && channel->bends[*next].x_m <= x_m; (*next)++) {
        const struct hydraulics_bend *bend = &channel->bends[*next];
        assert(bend->x_m > 0 && bend->x_m < channel->length_m);
        assert(bend->loss_1 >= 0 && bend->loss_1 <= 1);
        passes_1 *= 1 - bend->loss_1;
    }
    return 1 - passes_1;
}

static double take_points(const struct hydraulics_channel *channel, size_t *next, double x_m) {
    double sum_m3s = 0;
    for (; *next < channel->point_count && channel->points[*next].x_m <= x_m; (*next)++) {
        assert(channel->points[*next].flow_m3s >= 0);
        sum_m3s += channel->points[*next].flow_m3s;
    }
    return sum_m3s;
}

bool hydraulics_cut_at_inflow(const struct hydraulics_channel *channel,
                              struct hydraulics_segments *segments) {
    size_t next_point = 0;
    size_t next_bend = 0;
    segments->leaving_m3s = channel->still_flow_m3s;
    for (size_t k = 0; k + 1 < channel->knot_count; k++) {
        const struct hydraulics_knot *a = &channel->knots[k];
        const struct hydraulics_knot *b = &channel->knots[k + 1];
        assert(a->lateral_m2s >= 0 && b->lateral_m2s >= 0 && b->x_m >= a->x_m);
        double x_m = a->x_m;
        while (x_m < b->x_m) {
            struct hydraulics_segment segment = {
                .from_m = x_m, .to_m = b->x_m, .arriving_m3s = segments->leaving_m3s};
            segment.flow_m3s = segment.arriving_m3s + take_points(channel, &next_point, x_m);
            segment.entry_loss_1 = take_bends(channel, &next_bend, x_m);
            if (next_point < channel->point_count) {
                segment.to_m = fmin(b->x_m, channel->points[next_point].x_m);
            }
            if (next_bend < channel->bend_count) {
                segment.to_m = fmin(segment.to_m, channel->bends[next_bend].x_m);
            }
            segment.lateral_slope_mps = (b->lateral_m2s - a->lateral_m2s) / (b->x_m - a->x_m);
            segment.lateral_m2s = a->lateral_m2s + segment.lateral_slope_mps * (x_m - a->x_m);
            if (!add_segment(segments, segment)) {
                return false;
            }
            x_m = segment.to_m;
        }
    }
    for (size_t i = 0; i < channel->point_count; i++) {
        segments->end_point_m3s +=
            channel->points[i].x_m >= channel->length_m ? channel->points[i].flow_m3s : 0;
    }
    return true;
}

/* ---- interior controls -------------------------------------------------------------------------
 */

struct excess_context {
    struct hydraulics_reach *reach;
    const struct hydraulics_segment *segment;
};

static double find_excess(double x_m, const void *context) {
    const struct excess_context *excess = context;
    return hydraulics_control_excess(excess->reach, excess->segment, x_m);
}

/* The part of a segment from x on. */
static struct hydraulics_segment find_rest(const struct hydraulics_segment *segment, double x_m) {
    struct hydraulics_segment rest = *segment;
    rest.from_m = x_m;
    rest.entry_loss_1 = 0;
    rest.flow_m3s = rest.arriving_m3s = hydraulics_segment_flow(segment, x_m);
    rest.lateral_m2s += segment->lateral_slope_mps * (x_m - segment->from_m);
    return rest;
}

/*
 * Splits a segment wherever G rises through zero, so that the control is a node. Samples crowd
 * towards the upper end, where G falls to minus infinity as the flow begins.
 */
static bool cut_at_controls(struct hydraulics_reach *reach, struct hydraulics_segment whole,
                            struct hydraulics_segments *segments) {
    const struct excess_context context = {reach, &whole};
    double length_m = whole.to_m - whole.from_m;
    struct hydraulics_segment rest = whole;
    double last_m = whole.from_m + 1e-9 * length_m;
    double last = find_excess(last_m, &context);
    for (int i = 1; i <= SAMPLES; i++) {
        double share = (double)i / SAMPLES;
        double x_m = i == SAMPLES ? whole.to_m : whole.from_m + length_m * share * share;
        double here = find_excess(x_m, &context);
        double root_m = x_m;
        if (last < 0 && here > 0 &&
            numeric_find_root(find_excess, &context, last_m, x_m, 1e-12 * length_m, &root_m) &&
            root_m > rest.from_m && root_m < rest.to_m) {
            struct hydraulics_segment upper = rest;
            upper.to_m = root_m;
            if (!add_segment(segments, upper)) {
                return false;
            }
            rest = find_rest(&whole, root_m);
        }
        last_m = x_m;
        last = here;
    }
    return add_segment(segments, rest);
}

/* ---- nodes -------------------------------------------------------------------------------------
 */

static void add_node(struct hydraulics_grid *grid, double x_m, double flow_m3s) {
    grid->nodes[grid->count++] = (struct hydraulics_node){.x_m = x_m, .flow_m3s = flow_m3s};
}

/* x = from + length (3 s^2 - 2 s^3), s = i / steps. */
static void add_nodes(const struct hydraulics_segment *segment, struct hydraulics_grid *grid) {
    double length_m = segment->to_m - segment->from_m;
    if (segment->flow_m3s > segment->arriving_m3s || segment->entry_loss_1 > 0) {
        add_node(grid, segment->from_m, segment->flow_m3s);
        grid->nodes[grid->count - 1].entry_loss_1 = segment->entry_loss_1;
    }
    for (size_t i = 1; i < segment->steps; i++) {
        double s = (double)i / (double)segment->steps;
        double x_m = segment->from_m + length_m * s * s * (3 - 2 * s);
        add_node(grid, x_m, hydraulics_segment_flow(segment, x_m));
        grid->nodes[grid->count - 1].stretch_m =
            length_m * 6 * s * (1 - s) / (double)segment->steps;
    }
    add_node(grid, segment->to_m, hydraulics_segment_flow(segment, segment->to_m));
}

static bool fill_grid(const struct hydraulics_channel *channel,
                      struct hydraulics_segments *segments, struct hydraulics_grid *grid) {
    double steps = (double)(channel->steps > 0 ? channel->steps : STEPS_DEFAULT);
    size_t most = 2; /* the still end, and points at the outlet */
    for (size_t i = 0; i < segments->count; i++) {
        struct hydraulics_segment *segment = &segments->items[i];
        double share = fmax((segment->to_m - segment->from_m) / channel->length_m, SHARE_LEAST);
        segment->steps = (size_t)fmax(ceil(steps * share), STEPS_LEAST);
        most += segment->steps + 1;
    }
    grid->nodes = base_take(segments->arena, most, sizeof *grid->nodes);
    if (grid->nodes == NULL || segments->items == NULL) {
        return false;
    }
    grid->count = 0;
    add_node(grid, 0, segments->items[0].arriving_m3s);
    for (size_t i = 0; i < segments->count; i++) {
        add_nodes(&segments->items[i], grid);
    }
    return true;
}

bool hydraulics_make_grid(struct hydraulics_reach *reach, const struct hydraulics_channel *channel,
                          const struct hydraulics_segments *plain, struct hydraulics_grid *grid) {
    struct hydraulics_segments cut = {.arena = plain->arena};
    for (size_t i = 0; i < plain->count; i++) {
        bool added = reach->slope_1 > 0 ? cut_at_controls(reach, plain->items[i], &cut)
                                        : add_segment(&cut, plain->items[i]);
        if (!added) {
            return false;
        }
    }
    if (!fill_grid(channel, &cut, grid)) {
        return false;
    }
    /* points at the very end: one more node there */
    if (plain->end_point_m3s > 0) {
        add_node(grid, channel->length_m, cut.leaving_m3s + plain->end_point_m3s);
    }
    return true;
}
