/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One outlet shut: its water rises until it runs over the high point into the next reach.
 *
 *     blocked outlet      high point         open outlet
 *          o------- level --- ^ ---------------o
 *       bed |  rise  floor      \___ the next reach, with what comes over
 *
 * The way back is taken as a level gutter with its floor at the high point's: the true bed lies
 * lower, so true water stands no higher. DERIVED.
 */
#include <math.h>

#include "layout/layout_inside.h"

enum { SIDES = 2 };

/* One side of a blocked outlet: from it to its high point. */
struct side {
    size_t reach; /* whose water has to turn; SIZE_MAX = none: a stub or no gutter at all */
    size_t over;  /* the reach it runs into; SIZE_MAX = a closed end */
    double carried_m3s;
    double rise_m;                     /* high point over the outlet */
    struct hydraulics_channel back;    /* from the outlet up to the high point */
    struct hydraulics_channel onwards; /* the other reach, with what comes over */
};

struct basin {
    const struct layout_walk *walk;
    size_t outlet;
    struct side sides[SIDES];
};

/* The reach beyond the high point: it begins where this one does and runs the other way. */
static size_t reach_beyond(const struct layout *layout, size_t index) {
    const struct layout_reach *reach = &layout->reaches[index];
    const struct layout_line *line = &layout->lines[reach->line];
    for (size_t i = 0; i < layout->reach_count; i++) {
        const struct layout_reach *other = &layout->reaches[i];
        double apart_m = fabs(other->still_m - reach->still_m);
        bool is_same = apart_m < GEOMETRY_EVENT_M ||
                       (line->is_ring && fabs(apart_m - line->length_m) < GEOMETRY_EVENT_M);
        if (other->line == reach->line && is_same && other->outlet != reach->outlet &&
            other->towards_right != reach->towards_right) {
            return i;
        }
    }
    return SIZE_MAX;
}

/* The channel walked the other way, level. */
static bool turn_back(const struct layout_walk *walk, const struct hydraulics_channel *channel,
                      struct hydraulics_channel *back) {
    struct base_arena *arena = walk->arena;
    size_t knot_count = channel->knot_count;
    struct hydraulics_knot *knots = base_take(arena, knot_count, sizeof *knots);
    struct hydraulics_point *points = base_take(arena, channel->point_count + 1, sizeof *points);
    struct hydraulics_bend *bends = base_take(arena, channel->bend_count + 1, sizeof *bends);
    if (knots == NULL || points == NULL || bends == NULL) {
        return false;
    }
    double length_m = channel->length_m;
    for (size_t i = 0; i < knot_count; i++) {
        knots[i] = channel->knots[knot_count - 1 - i];
        knots[i].x_m = i == 0 ? 0.0 : i + 1 == knot_count ? length_m : length_m - knots[i].x_m;
    }
    for (size_t i = 0; i < channel->point_count; i++) {
        points[i] = channel->points[channel->point_count - 1 - i];
        points[i].x_m = fmax(length_m - points[i].x_m, 0.0);
    }
    for (size_t i = 0; i < channel->bend_count; i++) {
        bends[i] = channel->bends[channel->bend_count - 1 - i];
        bends[i].x_m = length_m - bends[i].x_m;
    }
    *back = *channel;
    back->slope_1 = 0.0;
    back->knots = knots;
    back->points = points;
    back->bends = bends;
    return true;
}

static bool find_sides(struct basin *basin) {
    const struct layout_walk *walk = basin->walk;
    const struct layout *layout = walk->layout;
    size_t found = 0;
    for (int side = 0; side < SIDES; side++) {
        basin->sides[side] = (struct side){.reach = SIZE_MAX, .over = SIZE_MAX};
    }
    for (size_t i = 0; i < layout->reach_count && found < SIDES; i++) {
        const struct layout_reach *reach = &layout->reaches[i];
        if (reach->outlet != basin->outlet) {
            continue;
        }
        struct side *side = &basin->sides[found++];
        side->reach = i;
        side->over = reach_beyond(layout, i);
        side->carried_m3s = reach->flow_m3s;
        side->rise_m = reach->slope_1 * units_m_of_tick(reach->length_tick);
        if (!turn_back(walk, &walk->channels[i], &side->back)) {
            return false;
        }
    }
    return true;
}

/* The water of a side that ends closed leaves by the other one. */
static void share_water(struct basin *basin) {
    for (int i = 0; i < SIDES; i++) {
        struct side *side = &basin->sides[i];
        struct side *other = &basin->sides[1 - i];
        if (side->over == SIZE_MAX) {
            continue;
        }
        if (other->reach != SIZE_MAX && other->over == SIZE_MAX) {
            side->back.still_flow_m3s = other->carried_m3s;
            side->carried_m3s += other->carried_m3s;
        }
        side->onwards = basin->walk->channels[side->over];
        side->onwards.still_flow_m3s += side->carried_m3s;
    }
}

/* What the open outlet then takes: its own, and what comes over from one side or both. */
static double taken_by(const struct basin *basin, size_t outlet) {
    const struct layout *layout = basin->walk->layout;
    double flow_m3s = layout->outlets[outlet].flow_m3s;
    for (int i = 0; i < SIDES; i++) {
        const struct side *side = &basin->sides[i];
        if (side->over != SIZE_MAX && layout->reaches[side->over].outlet == outlet) {
            flow_m3s += side->carried_m3s;
        }
    }
    return flow_m3s;
}

/* Whether all stays in the gutter on one side in a rain; *ok tells memory. */
static bool side_holds(const struct basin *basin, const struct side *side, double factor_1,
                       bool *ok) {
    const struct layout_walk *walk = basin->walk;
    const struct layout *layout = walk->layout;
    size_t open = layout->reaches[side->over].outlet;
    const struct layout_outlet *outlet = &layout->outlets[open];
    double flow_m3s = taken_by(basin, open) * factor_1;
    double inside_m = layout_outlet_inside(walk, layout->lines[outlet->line].profile, outlet->pipe);
    struct hydraulics_rain rain = {.factor_1 = factor_1,
                                   .outlet_head_m =
                                       hydraulics_outlet_head(inside_m, flow_m3s, outlet->strained),
                                   .only_whether = true};
    double full_m = section_full_depth(&side->onwards.section);
    if (flow_m3s > outlet->pipe_flow_m3s || rain.outlet_head_m > full_m) {
        return false;
    }
    struct hydraulics_depths depths;
    for (size_t i = 0; i < layout->reach_count; i++) { /* its other side backs up, too */
        if (layout->reaches[i].outlet != open || i == side->over) {
            continue;
        }
        *ok = *ok && hydraulics_find_depths(&walk->channels[i], &rain, 1, &depths);
        if (!*ok || depths.overflows) {
            return false;
        }
    }
    *ok = *ok && hydraulics_find_depths(&side->onwards, &rain, 1, &depths);
    if (!*ok || depths.overflows) {
        return false;
    }
    rain.outlet_head_m = depths.still_depth_m;
    *ok = *ok && hydraulics_find_depths(&side->back, &rain, 1, &depths);
    return *ok && !depths.overflows && depths.greatest_depth_m <= full_m - side->rise_m;
}

static bool basin_holds(const struct basin *basin, double factor_1, bool *ok) {
    for (int i = 0; i < SIDES; i++) {
        const struct side *side = &basin->sides[i];
        if (side->over != SIZE_MAX && !side_holds(basin, side, factor_1, ok)) {
            return false;
        }
    }
    return true;
}

/* More water never stands lower, so the greatest factor that holds is found by halving. */
static bool find_factor(const struct basin *basin, double *factor_1) {
    enum { HALVINGS = 20 };
    double low_1 = 0.0;
    double high_1 = (double)INFINITY;
    for (int i = 0; i < SIDES; i++) {
        double built_1;
        if (basin->sides[i].over == SIZE_MAX) {
            continue;
        }
        if (!layout_find_factor(basin->walk, basin->sides[i].over, &built_1)) {
            return false;
        }
        high_1 = fmin(high_1, built_1);
    }
    *factor_1 = high_1;
    if (isinf(high_1)) { /* no water on either */
        return true;
    }
    bool ok = true;
    for (int i = 0; i < HALVINGS && ok; i++) {
        double middle_1 = (low_1 + high_1) / 2;
        *(basin_holds(basin, middle_1, &ok) ? &low_1 : &high_1) = middle_1;
    }
    *factor_1 = low_1;
    return ok;
}

/* ---- filling ---------------------------------------------------------------------------------
 */

/* Water under a level surface that touches the lip at the outlet, by Simpson's rule. */
static double held_m3(const struct hydraulics_channel *channel) {
    enum { STRIPS = 32 };
    double full_m = section_full_depth(&channel->section);
    double sum_m2 = 0.0;
    for (int i = 0; i <= STRIPS; i++) {
        double depth_m = full_m - channel->slope_1 * channel->length_m * i / STRIPS;
        double area_m2 = section_find_wet(&channel->section, fmax(depth_m, 0.0)).area_m2;
        sum_m2 += area_m2 * (i == 0 || i == STRIPS ? 1.0 : i % 2 == 1 ? 4.0 : 2.0);
    }
    return sum_m2 * channel->length_m / STRIPS / 3.0;
}

static double fill_time(const struct basin *basin) {
    double volume_m3 = 0.0;
    for (int i = 0; i < SIDES; i++) {
        if (basin->sides[i].reach != SIZE_MAX) {
            volume_m3 += held_m3(&basin->walk->channels[basin->sides[i].reach]);
        }
    }
    double flow_m3s = basin->walk->layout->outlets[basin->outlet].flow_m3s;
    return flow_m3s > 0.0 ? volume_m3 / flow_m3s : 0.0;
}

bool layout_find_blocked(struct layout_walk *walk) {
    for (size_t i = 0; i < walk->layout->outlet_count; i++) {
        struct basin basin = {.walk = walk, .outlet = i};
        struct layout_blocked *blocked = &walk->layout->outlets[i].blocked;
        if (!find_sides(&basin)) {
            return false;
        }
        share_water(&basin);
        double factor_1 = 0.0;
        bool leads_on = basin.sides[0].over != SIZE_MAX || basin.sides[1].over != SIZE_MAX;
        if (leads_on && !find_factor(&basin, &factor_1)) {
            return false;
        }
        blocked->relieved = factor_1 > 0.0;
        blocked->limit = layout_make_limit(walk, factor_1);
        blocked->fill_s = fill_time(&basin);
    }
    return true;
}
