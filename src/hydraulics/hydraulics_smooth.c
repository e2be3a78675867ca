/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The smooth case: tranquil water from the outlet to the still end, as a chain of arcs. Above a
 * control the depth goes as the root of the distance, so x = x_low - s (s + 2 bias), and in s it is
 * smooth; towards the still end of a gutter with fall, where a shallow pool may begin, the steps of
 * s shorten again. Each arc is as long as the error allows.
 */
#include "hydraulics/hydraulics_smooth.h"

#include <assert.h>
#include <math.h>

enum { PLACES = HYDRAULICS_ARC_PLACES, TRIES = 80 };
static const double GOAL_1 = 8e-5;       /* relative error of a depth */
static const double BIAS_MOST = 8;       /* of the root of the length: x is then nearly even */
static const double SPAN_FIRST_1 = 0.43; /* of a segment, tried first */
static const double SPAN_LEAST_1 = 1e-4; /* of a segment: shorter, and the case is not smooth */
static const double AT_CRITICAL_1 = 1e-9;

/* ---- one segment ------------------------------------------------------------------------------
 */

/* Along a segment t runs from 0 at its lower end to 1; s = whole t, or whole t (2 - t). */
struct start {
    double bias;
    double whole;      /* s at the segment's upper end */
    double root_slope; /* dv/ds at the lower end: a guess */
    bool is_graded;
};

/* False where the water could not stay tranquil. */
static bool start_segment(const struct hydraulics_walk *walk,
                          const struct hydraulics_segment *segment,
                          const struct hydraulics_state *state, struct start *start) {
    double length_m = segment->to_m - segment->from_m;
    double flow_m3s = hydraulics_segment_flow(segment, segment->to_m);
    double lateral_m2s = segment->lateral_m2s + segment->lateral_slope_mps * length_m;
    struct section_wet wet =
        walk->reach->shape.find_wet(walk->reach->shape.context, state->depth_m);
    /* - A G: what lifts M upwards, over the flow that leaves it */
    double drive_m2 =
        2 * lateral_m2s * flow_m3s / (HYDRAULICS_GRAVITY_MPS2 * wet.area_m2) - state->push_m2;
    double critical_m = hydraulics_table_critical(walk->reach, walk->scale, flow_m3s);
    double over_m = state->depth_m - critical_m;
    double depth_slope;
    if (over_m <= AT_CRITICAL_1 * state->depth_m) {
        if (!(drive_m2 > 0) || critical_m < 0) {
            return false;
        }
        start->bias = 0;
        depth_slope = sqrt(2 * drive_m2 / (2.7 * wet.top_width_m)); /* d2M/dy2, nearly */
    } else {
        double rise_1 = drive_m2 / state->rise_m2; /* dy upstream */
        double bias_most = BIAS_MOST * sqrt(length_m);
        start->bias = rise_1 > 0 ? fmin(sqrt(over_m / (2 * rise_1)), bias_most) : bias_most;
        depth_slope = 2 * start->bias * rise_1;
    }
    double bias = start->bias;
    start->whole = length_m / (bias + sqrt(bias * bias + length_m));
    start->root_slope = walk->root_1 / (6 * state->depth_m) * depth_slope;
    start->is_graded = walk->reach->slope_1 > 0 && !(segment->from_m > 0);
    return true;
}

static void place_arc(const struct start *start, const struct hydraulics_segment *segment,
                      double from, double span, struct hydraulics_arc *arc) {
    arc->segment = segment;
    arc->bias = start->bias;
    arc->from = from;
    arc->span = span;
    if (start->is_graded) {
        arc->run[0] = start->whole * from * (2 - from);
        arc->run[1] = start->whole * span * 2 * (1 - from);
        arc->run[2] = -start->whole * span * span;
    } else {
        arc->run[0] = start->whole * from;
        arc->run[1] = start->whole * span;
        arc->run[2] = 0;
    }
}

/* ---- guesses ----------------------------------------------------------------------------------
 */

static void guess_first(const struct start *start, double root_1, struct hydraulics_arc *arc) {
    for (int i = 2; i < PLACES; i += 2) {
        double share_1 = HYDRAULICS_ARC_SHARES[i];
        double s = share_1 * (arc->run[1] + share_1 * arc->run[2]);
        double rise = start->root_slope * s / (1 + s / start->whole);
        arc->root_1[i] = root_1 + fmax(fmin(rise, root_1 / 2), -root_1 / 4);
    }
}

/* The cubic through the upper four points of the arc below goes on. */
static void guess_on(const struct hydraulics_arc *below, struct hydraulics_arc *arc) {
    double last = below->root_1[PLACES - 1];
    for (int i = 2; i < PLACES; i += 2) {
        double t = 1 + HYDRAULICS_ARC_SHARES[i] * arc->span / below->span;
        double sum = 0;
        for (int j = 2; j < PLACES; j += 2) {
            double above = below->root_1[j];
            double under = 1;
            for (int k = 2; k < PLACES; k += 2) {
                above *= k == j ? 1 : t - HYDRAULICS_ARC_SHARES[k];
                under *= k == j ? 1 : HYDRAULICS_ARC_SHARES[j] - HYDRAULICS_ARC_SHARES[k];
            }
            sum += above / under;
        }
        arc->root_1[i] = sum > 1.3 * last ? 1.3 * last : sum < 0.7 * last ? 0.7 * last : sum;
    }
}

/* The polynomial through the five points. */
static double read_nodes(const struct hydraulics_arc *arc, double share_1) {
    double sum = 0;
    for (int i = 0; i < PLACES; i += 2) {
        double above = arc->root_1[i];
        double below = 1;
        for (int k = 0; k < PLACES; k += 2) {
            above *= k == i ? 1 : share_1 - HYDRAULICS_ARC_SHARES[k];
            below *= k == i ? 1 : HYDRAULICS_ARC_SHARES[i] - HYDRAULICS_ARC_SHARES[k];
        }
        sum += above / below;
    }
    return sum;
}

/* An arc too long: its own polynomial is the guess of its lower part. */
static void guess_within(const struct hydraulics_arc *whole, struct hydraulics_arc *arc) {
    double share_1 = arc->span / whole->span;
    for (int i = 2; i < PLACES; i += 2) {
        arc->root_1[i] = read_nodes(whole, HYDRAULICS_ARC_SHARES[i] * share_1);
    }
}

/* ---- the chain --------------------------------------------------------------------------------
 */

/* The error goes nearly with the eighth power of the length. */
static double find_better(double error_1) {
    double better = 0.95 * sqrt(sqrt(sqrt(GOAL_1 / (error_1 + 1e-14))));
    return better < 0.25 ? 0.25 : better > 3 ? 3 : better;
}

static double find_span(double from, double wish, bool may_stretch) {
    double rest = 1 - from;
    return rest <= (may_stretch ? 1.4 : 1) * wish ? rest : rest < 2 * wish ? rest / 2 : wish;
}

static void keep_arc(struct hydraulics_walk *walk, struct hydraulics_smooth *smooth,
                     const struct hydraulics_end *end) {
    walk->root_1 = smooth->arcs[smooth->count].root_1[PLACES - 1];
    walk->momentum_m3 = end->momentum_m3;
    walk->push_m2 = end->push_m2;
    walk->greatest_m3 = fmax(walk->greatest_m3, end->greatest_m3);
    smooth->error_1 = fmax(smooth->error_1, end->error_1);
    smooth->residual_m2 = fmax(smooth->residual_m2, end->residual_m2);
    smooth->count++;
}

/* Where the walk along a segment stands. */
enum guess { GUESS_FIRST, GUESS_ON, GUESS_WITHIN };
struct course {
    double from;
    double wish;
    enum guess guess;
    struct hydraulics_arc last; /* the arc kept below, or the one rejected */
};

static void guess_arc(const struct hydraulics_walk *walk, const struct start *start,
                      const struct course *course, struct hydraulics_arc *arc) {
    switch (course->guess) {
    case GUESS_FIRST:
        guess_first(start, walk->root_1, arc);
        break;
    case GUESS_ON:
        guess_on(&course->last, arc);
        break;
    case GUESS_WITHIN:
        guess_within(&course->last, arc);
        break;
    }
}

/* The arc of another rain at the same place, as much deeper throughout as at its lower end. */
static bool copy_arc(const struct hydraulics_walk *walk, const struct start *start,
                     const struct hydraulics_arc *like, struct hydraulics_arc *arc) {
    if (like == NULL || like->segment != arc->segment || like->from != arc->from) {
        return false;
    }
    place_arc(start, arc->segment, like->from, like->span, arc);
    double factor_1 = walk->root_1 / like->root_1[0];
    for (int i = 2; i < PLACES; i += 2) {
        arc->root_1[i] = like->root_1[i] * factor_1;
    }
    return true;
}

static void take_course(struct course *course, const struct hydraulics_arc *arc,
                        const struct hydraulics_end *end) {
    course->wish = arc->span * find_better(end->error_1);
    course->last = *arc;
    course->guess = GUESS_WITHIN;
    if (end->error_1 <= GOAL_1) {
        course->guess = GUESS_ON;
        course->from = arc->span >= 1 - course->from ? 1 : course->from + arc->span;
    }
}

/* Nothing of it is worth keeping. */
static void turn_back(struct course *course, const struct hydraulics_arc *arc) {
    course->wish = arc->span / 3;
    course->guess = course->from > 0 ? GUESS_ON : GUESS_FIRST;
    if (course->from > 0) {
        course->last = arc[-1];
    }
}

static bool walk_segment(struct hydraulics_walk *walk, const struct hydraulics_segment *segment,
                         const struct start *start, const struct hydraulics_smooth *like,
                         struct hydraulics_smooth *smooth) {
    struct course course = {.wish = SPAN_FIRST_1, .guess = GUESS_FIRST, .last = {.span = 1}};
    for (int tries = 0; course.from < 1; tries++) {
        if (tries >= TRIES || smooth->count >= HYDRAULICS_ARCS_MOST || course.wish < SPAN_LEAST_1) {
            return false;
        }
        struct hydraulics_arc *arc = &smooth->arcs[smooth->count];
        struct hydraulics_end end;
        double span = find_span(course.from, course.wish, course.guess != GUESS_WITHIN);
        place_arc(start, segment, course.from, span, arc);
        bool is_new = course.guess != GUESS_WITHIN && like != NULL && smooth->count < like->count;
        if (!is_new || !copy_arc(walk, start, &like->arcs[smooth->count], arc)) {
            guess_arc(walk, start, &course, arc);
        }
        if (!hydraulics_solve_arc(walk, arc, &end)) {
            turn_back(&course, arc);
            like = NULL;
            continue;
        }
        take_course(&course, arc, &end);
        if (course.guess == GUESS_ON) {
            keep_arc(walk, smooth, &end);
        }
    }
    return true;
}

/* ---- the channel ------------------------------------------------------------------------------
 */

static void stand_at(struct hydraulics_walk *walk, const struct hydraulics_state *state) {
    walk->root_1 = hydraulics_find_root(walk->scale, state->depth_m);
    walk->momentum_m3 = state->momentum_m3;
    walk->push_m2 = state->push_m2;
    walk->greatest_m3 = fmax(walk->greatest_m3, state->momentum_m3);
}

/* Above a point the same momentum carries less flow, deeper; above a bend it is greater. */
static enum hydraulics_verdict cross_point(struct hydraulics_walk *walk, double above_m3s,
                                           double loss_1, struct hydraulics_state *state) {
    struct hydraulics_step step = {.flow_m3s = above_m3s,
                                   .target_m3 = state->momentum_m3,
                                   .low_m = state->depth_m,
                                   .high_m = walk->reach->shape.top_m,
                                   .loss_1 = loss_1,
                                   .tries = 200};
    struct hydraulics_state brim = hydraulics_brim_state(walk->reach, above_m3s);
    double speed_mps = above_m3s / walk->reach->brim.area_m2;
    double lost_m3 = loss_1 * above_m3s * speed_mps / HYDRAULICS_GRAVITY_MPS2;
    if (brim.momentum_m3 - lost_m3 < step.target_m3) {
        return HYDRAULICS_SMOOTH_SPILLS;
    }
    step.guess_m = fmin(state->depth_m * 1.1, (state->depth_m + step.high_m) / 2);
    bool is_solved = hydraulics_solve_step(walk->reach, &step, state);
    return is_solved ? HYDRAULICS_SMOOTH_STANDS : HYDRAULICS_SMOOTH_NOT;
}

static bool start_at_outlet(struct hydraulics_walk *walk, double outlet_head_m,
                            struct hydraulics_smooth *smooth, struct hydraulics_state *state) {
    smooth->critical_m = hydraulics_table_critical(walk->reach, walk->scale, smooth->end_flow_m3s);
    smooth->end_depth_m = fmax(smooth->critical_m, outlet_head_m);
    if (smooth->critical_m < 0 || !(smooth->end_depth_m <= walk->reach->shape.top_m)) {
        return false;
    }
    *state = hydraulics_state_at(walk->reach, smooth->end_flow_m3s, smooth->end_depth_m);
    return true;
}

/* The state where the chain has come to. */
static struct hydraulics_state find_reached(const struct hydraulics_walk *walk, double flow_m3s) {
    double depth_m = hydraulics_root_depth(walk->scale, walk->root_1);
    return hydraulics_state_at(walk->reach, flow_m3s, fmin(depth_m, walk->reach->shape.top_m));
}

/* Above the lip the sections go on as if the gutter did, so an arc may show water up there. */
static bool stands_above(const struct hydraulics_walk *walk) {
    return hydraulics_root_depth(walk->scale, walk->root_1) > walk->reach->shape.top_m;
}

static enum hydraulics_verdict walk_up(struct hydraulics_walk *walk,
                                       const struct hydraulics_segments *segments,
                                       const struct hydraulics_smooth *like,
                                       struct hydraulics_smooth *smooth,
                                       struct hydraulics_state *state) {
    double below_m3s = smooth->end_flow_m3s;
    double loss_1 = 0;
    for (size_t i = segments->count; i-- > 0;) {
        const struct hydraulics_segment *segment = &segments->items[i];
        double leaving_m3s = hydraulics_segment_flow(segment, segment->to_m);
        struct start start;
        if (leaving_m3s < below_m3s || loss_1 > 0) {
            enum hydraulics_verdict crossed = cross_point(walk, leaving_m3s, loss_1, state);
            if (crossed != HYDRAULICS_SMOOTH_STANDS) {
                return crossed;
            }
        }
        stand_at(walk, state);
        if (!start_segment(walk, segment, state, &start) ||
            !walk_segment(walk, segment, &start, like, smooth)) {
            return stands_above(walk) ? HYDRAULICS_SMOOTH_SPILLS : HYDRAULICS_SMOOTH_NOT;
        }
        if (stands_above(walk)) {
            return HYDRAULICS_SMOOTH_SPILLS;
        }
        below_m3s = segment->flow_m3s;
        loss_1 = segment->entry_loss_1;
        *state = find_reached(walk, below_m3s);
    }
    double arriving_m3s = segments->items[0].arriving_m3s;
    return arriving_m3s >= below_m3s ? HYDRAULICS_SMOOTH_STANDS
                                     : cross_point(walk, arriving_m3s, 0, state);
}

enum hydraulics_verdict hydraulics_find_smooth(struct hydraulics_reach *reach, double outlet_head_m,
                                               const struct hydraulics_segments *segments,
                                               const struct hydraulics_smooth *like,
                                               struct hydraulics_smooth *smooth) {
    smooth->scale = hydraulics_find_scale(reach);
    smooth->count = 0;
    smooth->error_1 = smooth->residual_m2 = 0;
    smooth->end_flow_m3s = segments->leaving_m3s + segments->end_point_m3s;
    struct hydraulics_walk walk = {.reach = reach, .scale = &smooth->scale};
    struct hydraulics_state state;
    if (!(smooth->end_flow_m3s > 0)) {
        return HYDRAULICS_SMOOTH_NOT;
    }
    if (!start_at_outlet(&walk, outlet_head_m, smooth, &state)) {
        return HYDRAULICS_SMOOTH_SPILLS;
    }
    enum hydraulics_verdict verdict = walk_up(&walk, segments, like, smooth, &state);
    if (verdict != HYDRAULICS_SMOOTH_STANDS) {
        return verdict;
    }
    smooth->still_depth_m = state.depth_m;
    smooth->greatest_m3 = walk.greatest_m3;
    hydraulics_find_deepest(smooth);
    bool is_below = smooth->greatest_depth_m <= reach->shape.top_m;
    return is_below ? HYDRAULICS_SMOOTH_STANDS : HYDRAULICS_SMOOTH_SPILLS;
}
