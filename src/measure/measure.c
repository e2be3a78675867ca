/* SPDX-License-Identifier: Apache-2.0 */
#include "measure/measure_inside.h"
#include "units/units.h"

#include <math.h>

/* Readings of one length further apart than this are doubtful: COMMON PRACTICE, a tape is read to
 * 1/8 in. */
#define READINGS_APART_M 0.00635

static void check_length(struct base_issues *issues, const struct measure_length *length) {
    if (length->guess) {
        base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_LENGTH_IS_A_GUESS,
                                                   .mark = length->mark,
                                                   .object = length->name,
                                                   .value = base_value_tick(length->length_tick)});
    }
    if (length->reading_count > 1 && units_m_of_tick(length->doubt_tick) * 2 > READINGS_APART_M) {
        base_add_issue(issues, (struct base_issue){
                                   .code = BASE_ISSUE_READINGS_APART,
                                   .mark = length->mark,
                                   .object = length->name,
                                   .value = base_value_tick(2 * length->doubt_tick),
                                   .limit = base_value_tick(units_tick_of_m(READINGS_APART_M))});
    }
}

/* ---- the net ------------------------------------------------------------------------------- */

#define POWER_80_1   0.8416212335729143 /* beyond the critical value: 4 blunders in 5 show */
#define LEAST_SEEN_1 1e-3               /* a redundancy below this checks nothing */

/* Where the house does not close the doubts were too small: the intervals widen by s0. */
static void fill_items(const struct measure_net *net, struct measure *measure) {
    double s0 = 1.0;
    if (measure->redundancy > 0) {
        s0 = fmax(1.0, sqrt(measure->chi / (double)measure->redundancy));
    }
    for (size_t i = 0; i < net->count; i++) {
        const struct measure_equation *equation = &net->equations[i];
        struct measure_item *item = &measure->items[i];
        double redundancy = fmin(net->redundancy[i], 1.0);
        double miss = measure_miss(net, equation);
        item->redundancy = redundancy;
        /* a corner turns the other way than its angle grows */
        item->residual = item->kind == MEASURE_CORNER && !item->inside ? miss : -miss;
        item->adjusted = item->said_si + item->residual;
        if (redundancy > LEAST_SEEN_1) {
            item->w_1 = item->residual / (item->sigma * sqrt(redundancy));
            item->detectable = (measure->critical_1 + POWER_80_1) * item->sigma / sqrt(redundancy);
        }
        item->within = MEASURE_NORMAL_95 * item->sigma * sqrt(1.0 - redundancy) * s0;
    }
}

static bool adjust(struct measure_net *net, struct measure *measure) {
    if (net->count == 0 || !measure_ready(net)) {
        return net->count == 0;
    }
    struct measure_adjustment all = measure_adjust(net);
    measure->redundancy = all.redundancy;
    measure->chi = all.chi;
    measure->chi_limit = measure_chi_limit(all.redundancy);
    measure->critical_1 = measure_critical(net->count);
    measure->converged = all.converged;
    fill_items(net, measure);
    return measure_find_blunder(net, measure);
}

/* ---- what is said of it -------------------------------------------------------------------- */

static const char *const SLIP_WORDS[] = {
    [MEASURE_SLIP_NONE] = "no usual slip, it is what the others give",
    [MEASURE_SLIP_FOOT_DROPPED] = "a foot dropped",
    [MEASURE_SLIP_FOOT_ADDED] = "a foot too many",
    [MEASURE_SLIP_DIGITS_SWAPPED] = "two figures swapped",
    [MEASURE_SLIP_INCHES_FOR_FEET] = "inches and feet mistaken for each other",
    [MEASURE_SLIP_METRIC_FOR_INCHES] = "centimeters and inches mistaken for each other",
    [MEASURE_SLIP_DECIMAL_FEET] = "tenths of a foot and inches mistaken for each other",
    [MEASURE_SLIP_OVERHANG_ONE] = "the overhang at one end",
    [MEASURE_SLIP_OVERHANG_BOTH] = "the overhang at both ends",
    [MEASURE_SLIP_INSIDE_OUTSIDE] =
        "an inside corner and an outside corner mistaken for each other",
    [MEASURE_SLIP_OTHER_ANGLE] = "the angle read on its other side"};

const char *measure_slip_words(enum measure_slip slip, enum units_system system) {
    if (system == UNITS_MM && slip == MEASURE_SLIP_FOOT_DROPPED) {
        return "a figure read too low by one";
    }
    if (system == UNITS_MM && slip == MEASURE_SLIP_FOOT_ADDED) {
        return "a figure read too high by one";
    }
    return SLIP_WORDS[slip];
}

struct base_text measure_item_words(struct base_arena *arena, const struct measure_item *item) {
    static const char *const BEFORE[] = {[MEASURE_RUN] = "the length of ",
                                         [MEASURE_CORNER] = "the corner at the right end of ",
                                         [MEASURE_BETWEEN] = "",
                                         [MEASURE_WIDTH] = "the width of ",
                                         [MEASURE_DEPTH] = "the depth of ",
                                         [MEASURE_EAST] = "the place east of ",
                                         [MEASURE_NORTH] = "the place north of ",
                                         [MEASURE_PITCH] = "the pitch of ",
                                         [MEASURE_RIDGE] = "",
                                         [MEASURE_RISE] = ""};
    bool taped_corner = item->check && item->kind == MEASURE_CORNER; /* "front to corner, taped" */
    const char *before = taped_corner ? "the " : item->check ? "the check " : BEFORE[item->kind];
    struct base_text parts[] = {base_text_of(before), item->of};
    return base_join(arena, 2, parts);
}

static struct base_text list_likely(struct base_arena *arena, const struct measure *measure) {
    enum { NAMED_MAX = 4 };
    struct base_builder list = {.arena = arena};
    for (size_t i = 0; i < measure->likely && i < NAMED_MAX; i++) {
        const struct measure_item *item = &measure->items[measure->causes[i].item];
        base_add_string(&list, i == 0 ? "" : i + 1 == measure->likely ? " or " : ", ");
        base_add_text(&list, measure_item_words(arena, item));
    }
    base_add_string(&list, measure->likely > NAMED_MAX ? " or others" : "");
    return base_built(&list);
}

static void say_verdict(struct base_arena *arena, struct base_issues *issues, const struct job *job,
                        const struct measure *measure) {
    struct base_issue issue = {.code = BASE_ISSUE_CODE_COUNT};
    if (measure->cause_count > 0) {
        const struct measure_item *item = &measure->items[measure->causes[0].item];
        issue.mark = item->mark;
        issue.object = measure_item_words(arena, item);
    }
    switch (measure->verdict) {
    case MEASURE_UNCHECKED:
    case MEASURE_CLOSES:
        return;
    case MEASURE_ONE_WRONG:
        issue.code = BASE_ISSUE_MEASUREMENT_SUSPECT;
        issue.value = measure->items[measure->causes[0].item].said;
        issue.limit = measure->causes[0].meant;
        issue.other = base_value_string(measure_slip_words(measure->causes[0].slip, job->system));
        break;
    case MEASURE_UNDECIDED:
        issue.code = BASE_ISSUE_MEASUREMENTS_UNDECIDED;
        issue.value = base_value_count((int64_t)measure->likely);
        issue.other = base_value_text(list_likely(arena, measure));
        break;
    case MEASURE_SEVERAL_WRONG:
        issue.code = BASE_ISSUE_MEASUREMENTS_DISAGREE;
        break;
    case MEASURE_TOO_MANY:
        issue.code = BASE_ISSUE_MEASURE_TOO_MANY;
        issue.limit = base_value_count(MEASURE_ITEMS_MAX);
        break;
    }
    base_add_issue(issues, issue);
}

/* ---- the whole ----------------------------------------------------------------------------- */

static bool close_house(struct base_arena *arena, struct base_issues *issues, const struct job *job,
                        struct measure *measure) {
    struct measure_net net = {.arena = arena, .job = job};
    struct measure_builder builder = {&net, issues, measure};
    if (!measure_build(&builder)) {
        return false;
    }
    if (net.ring) {
        measure_find_misclosure(&net, measure);
    }
    if (measure->verdict != MEASURE_TOO_MANY && !adjust(&net, measure)) {
        return false;
    }
    measure_fill_lengths(measure);
    return true;
}

enum base_status measure_check(struct base_arena *arena, struct base_issues *issues,
                               const struct job *job, struct measure *measure) {
    *measure = (struct measure){0};
    if (!measure_list_lengths(arena, job, measure)) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < measure->count; i++) {
        check_length(issues, &measure->lengths[i]);
    }
    size_t stops = base_count_severity(issues, BASE_SEVERITY_STOP);
    measure_check_curves(issues, job);
    if (!close_house(arena, issues, job, measure)) {
        return BASE_NO_MEMORY;
    }
    if (measure->is_ring && measure->misclosure_m > 3.0 * measure->expected_m) {
        base_add_issue(issues, (struct base_issue){
                                   .code = BASE_ISSUE_RING_DOES_NOT_CLOSE,
                                   .mark = job->runs[0].mark,
                                   .value = base_value_number(BASE_UNIT_M, measure->misclosure_m),
                                   .limit = base_value_number(BASE_UNIT_M, measure->expected_m)});
    }
    say_verdict(arena, issues, job, measure);
    if (base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    return base_count_severity(issues, BASE_SEVERITY_STOP) > stops ? BASE_STOPPED : BASE_OK;
}
