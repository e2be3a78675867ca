/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where the doubt of a length goes. A tape laid along an eave is off by a little; copper cut to it
 * is off by as much. One piece of each run takes that up: it is made longer, laid at the eave, and
 * cut there - at a free end before its cap is on, or at a lap before it is riveted. A mitre is made
 * up at the bench and never left long.
 */
#include <math.h>

#include "pieces/pieces_inside.h"
#include "units/units.h"

/* One end of one gutter length, as a place to cut. */
struct end {
    size_t span;
    enum pieces_trim trim;
    int64_t room_tick;   /* how far it is clear of what a cut must not meet */
    int64_t length_tick; /* of the piece, before anything is left long */
    bool is_free;
};

static const struct measure_length *length_of(const struct pieces_walk *walk, size_t run) {
    const struct layout_run *layout = &walk->input->layout->runs[run];
    const struct roof_eave *eave = &walk->input->roof->eaves[layout->eave];
    if (eave->edge < 0) {
        return measure_find_length(walk->input->measure, eave->run, SIZE_MAX, SIZE_MAX);
    }
    return measure_find_length(walk->input->measure, SIZE_MAX,
                               eave->of_outline ? SIZE_MAX : eave->wing, (size_t)eave->edge);
}

/* A free end runs past the roof edge: half of what it runs past may come or go unseen, at each of
 * them. What is less than the shop minds goes unseen anywhere. */
static int64_t least_doubt(const struct pieces_input *input, size_t run) {
    const struct job_length *said = &input->job->measuring.least_doubt;
    const struct job_length *past = &input->job->run_past;
    const struct layout_run *of = &input->layout->runs[run];
    int64_t past_tick = past->given ? past->tick : input->shop->run_past_tick;
    int64_t ends_tick = (of->left_is_free + of->right_is_free) * past_tick / 2;
    int64_t least_tick = input->shop->trim_least_tick;
    least_tick = ends_tick > least_tick ? ends_tick : least_tick;
    return said->given ? said->tick : least_tick;
}

static int64_t round_up(int64_t tick, int64_t quantum_tick) {
    return (tick + quantum_tick - 1) / quantum_tick * quantum_tick;
}

/* ---- the places to cut ---------------------------------------------------------------------- */

/* An outlet keeps its distance from the end, however much is cut. */
static int64_t room_at_end(const struct pieces_walk *walk, size_t run, int64_t end_tick) {
    const struct layout *layout = walk->input->layout;
    int64_t room_tick = layout->runs[run].length_tick;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        if (layout->outlets[i].run == run) {
            int64_t off_tick = layout->outlets[i].x_tick - end_tick;
            off_tick = off_tick < 0 ? -off_tick : off_tick;
            off_tick -= walk->input->shop->outlet_from_end_tick;
            room_tick = off_tick < room_tick ? off_tick : room_tick;
        }
    }
    return room_tick;
}

static struct end find_end(const struct pieces_walk *walk, size_t run, size_t span, bool at_left) {
    const struct joints_run *joints = &walk->input->joints->runs[run];
    const struct layout_run *layout = &walk->input->layout->runs[run];
    const struct joints_span *piece = &joints->spans[span];
    size_t mitres_left = layout->left_is_free ? 0 : 1;
    bool first = at_left && span == 0;
    bool last = !at_left && span + 1 == joints->span_count;
    struct end end = {.span = span,
                      .trim = at_left ? PIECES_TRIM_LEFT_LAP : PIECES_TRIM_RIGHT_LAP,
                      .length_tick = piece->to_tick - piece->from_tick,
                      .is_free =
                          (first && layout->left_is_free) || (last && layout->right_is_free)};
    if (end.is_free) {
        end.trim = at_left ? PIECES_TRIM_LEFT_END : PIECES_TRIM_RIGHT_END;
        end.room_tick = room_at_end(walk, run, at_left ? piece->from_tick : piece->to_tick);
    } else {
        size_t joint = span + mitres_left - (at_left ? 1 : 0);
        end.room_tick = joints->joints[joint].room_tick;
    }
    return end;
}

/* Long enough that a cut leaves its laps, short enough to be made of one length of stock. */
static bool can_take(const struct pieces_walk *walk, const struct end *end, int64_t trim_tick) {
    const struct shop *shop = walk->input->shop;
    return end->room_tick >= trim_tick && end->length_tick + trim_tick <= shop->stock_tick &&
           end->length_tick - trim_tick >= 2 * shop->lap_tick;
}

/* The shortest piece: it closes the run and is hung last. Then its free end before a lap; the end
 * farther from an outlet; as walked. By length first, so that a mirrored house has the same pieces.
 */
static bool is_better(const struct end *one, const struct end *other) {
    if (one->length_tick != other->length_tick) {
        return one->length_tick < other->length_tick;
    }
    if (one->is_free != other->is_free) {
        return one->is_free;
    }
    return one->room_tick > other->room_tick;
}

static bool choose_end(const struct pieces_walk *walk, size_t run, int64_t trim_tick,
                       struct end *best) {
    bool found = false;
    for (size_t span = 0; span < walk->input->joints->runs[run].span_count; span++) {
        for (int at_left = 1; at_left >= 0; at_left--) {
            struct end end = find_end(walk, run, span, at_left == 1);
            if (can_take(walk, &end, trim_tick) && (!found || is_better(&end, best))) {
                *best = end;
                found = true;
            }
        }
    }
    return found;
}

/* ---- the run -------------------------------------------------------------------------------- */

static void report(const struct pieces_walk *walk, enum base_issue_code code,
                   const struct measure_length *length, int64_t limit_tick) {
    base_add_issue(walk->issues,
                   (struct base_issue){.code = code,
                                       .mark = length->mark,
                                       .object = length->name,
                                       .value = base_value_tick(units_tick_of_m(length->doubt_m)),
                                       .limit = base_value_tick(limit_tick)});
}

struct pieces_allowance pieces_find_allowance(const struct pieces_walk *walk, size_t run) {
    struct pieces_allowance allowance = {.span = SIZE_MAX};
    const struct shop *shop = walk->input->shop;
    const struct measure_length *length = length_of(walk, run);
    if (length == NULL) {
        return allowance;
    }
    allowance.doubtful = length->doubtful;
    if (measure_disagrees(walk->input->measure)) {
        return allowance; /* to be settled first: these intervals hold a blunder */
    }
    allowance.doubt_tick = units_tick_of_m(length->doubt_m);
    int64_t least_tick = least_doubt(walk->input, run);
    if (walk->input->job->measuring.keep_to_length || allowance.doubt_tick <= least_tick) {
        return allowance;
    }
    int64_t trim_tick = round_up(allowance.doubt_tick, shop->trim_round_tick);
    struct end end = {0};
    if (allowance.doubt_tick > shop->trim_most_tick) {
        allowance.doubtful = true;
        report(walk, BASE_ISSUE_TRIM_TOO_MUCH, length, shop->trim_most_tick);
    } else if (choose_end(walk, run, trim_tick, &end)) {
        allowance.span = end.span;
        allowance.trim = end.trim;
        allowance.trim_tick = trim_tick;
    } else {
        report(walk, BASE_ISSUE_TRIM_HAS_NO_PLACE, length, least_tick);
    }
    return allowance;
}

void pieces_add_angle_doubt(const struct pieces_walk *walk, size_t run,
                            struct pieces_piece *mitre) {
    const struct layout_run *layout = &walk->input->layout->runs[run];
    const struct roof_eave *eave = &walk->input->roof->eaves[layout->eave];
    if (eave->run == SIZE_MAX || eave->edge >= 0) {
        return; /* a plan's corners follow from its sizes */
    }
    const struct measure *measure = walk->input->measure;
    const struct measure_item *turn = measure_find_turn(measure, walk->input->job, eave->run);
    if (turn == NULL) {
        return;
    }
    mitre->doubtful = measure_item_is_doubtful(measure, turn);
    if (measure_disagrees(measure)) {
        return;
    }
    mitre->angle_within_rad = turn->within + fabs(turn->adjusted - mitre->angle_rad);
    mitre->template_wanted = mitre->angle_within_rad > walk->input->shop->template_over_rad;
    if (mitre->template_wanted) {
        base_add_issue(
            walk->issues,
            (struct base_issue){
                .code = BASE_ISSUE_CORNER_WANTS_TEMPLATE,
                .mark = turn->mark,
                .object = measure_item_words(walk->arena, turn),
                .value = base_value_number(BASE_UNIT_RAD, mitre->angle_within_rad),
                .limit = base_value_number(BASE_UNIT_RAD, walk->input->shop->template_over_rad)});
    }
}

/* ---- why ------------------------------------------------------------------------------------ */

void pieces_explain_doubt(const struct pieces_input *input, struct base_trace *trace,
                          const struct pieces_piece *piece) {
    if (piece->trim_tick > 0) {
        base_trace_leaf(trace, "left_long_m");
        base_trace_formula(trace, "the doubt of its eave's length, rounded up", "SRC-107");
        base_trace_input(trace, "known to, give or take", base_value_tick(piece->doubt_tick));
        base_trace_input(trace, "least that matters",
                         base_value_tick(least_doubt(input, piece->run)));
        base_trace_rule(trace, "on the shortest piece, at its free end where that is clear of "
                               "outlets, else at a lap; never a mitre's leg");
    }
    if (piece->doubt_tick > 0) {
        base_trace_leaf(trace, "eave_within_m");
        base_trace_formula(trace,
                           input->measure->uses_adjusted
                               ? "95 % interval of the adjusted length"
                               : "95 % interval of the adjusted length, and what it is off the one "
                                 "said",
                           "SRC-70");
    }
    if (piece->angle_within_rad > 0.0) {
        base_trace_leaf(trace, "angle_within_rad");
        base_trace_formula(trace,
                           "95 % interval of the adjusted corner, and what the one made is off it",
                           "SRC-70");
        base_trace_input(trace, "template over",
                         base_value_number(BASE_UNIT_RAD, input->shop->template_over_rad));
    }
}
