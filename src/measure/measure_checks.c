/* SPDX-License-Identifier: Apache-2.0 */
/* Checks: sizes across the house, sizes taped once more, corners by three lengths. */
#include "measure/measure_inside.h"
#include "units/units.h"

#include <math.h>

#define PI 3.14159265358979323846
/* Short legs of a corner are read to 1/8 in: COMMON PRACTICE (SRC-71). */
#define LEG_SIGMA_M 0.003175

static void say(struct measure_builder *builder, enum base_issue_code code,
                const struct job_check *check, struct base_value value) {
    base_add_issue(builder->issues,
                   (struct base_issue){
                       .code = code, .mark = check->mark, .object = check->name, .value = value});
}

static void use_place(const struct measure_net *net, struct measure_equation *equation,
                      const struct measure_place *place) {
    if (place->run == MEASURE_NONE) {
        for (size_t k = 0; k < MEASURE_WING_PITCH; k++) {
            measure_use(equation, net->wings[place->wing] + k);
        }
        return;
    }
    measure_use_run(net, equation, place->run);
    if (place->line == JOB_LINE_WALL) {
        measure_use_run(net, equation, net->chains[place->run].previous);
        measure_use_run(net, equation, net->chains[place->run].next);
    }
}

static struct measure_place place_of(const struct measure_net *net, const struct job_outlet *said,
                                     enum job_line line) {
    const struct job *job = net->job;
    struct measure_place place = {.run = MEASURE_NONE,
                                  .wing = MEASURE_NONE,
                                  .edge = said->edge - 1,
                                  .at = said->at,
                                  .distance_m = units_m_of_tick(said->distance_tick),
                                  .line = line};
    for (size_t i = 0; i < job->run_count && said->edge == 0; i++) {
        place.run = base_text_equal(job->runs[i].name, said->eave) ? i : place.run;
    }
    for (size_t i = 0; i < job->wing_count && said->edge > 0; i++) {
        place.wing = base_text_equal(job->wings[i].name, said->eave) ? i : place.wing;
    }
    return place;
}

/* Two runs stand in one plan when corners lead from the one to the other. */
static bool share_plan(const struct measure_net *net, const struct measure_place *a,
                       const struct measure_place *b) {
    if (a->run == MEASURE_NONE || b->run == MEASURE_NONE) {
        return a->run == MEASURE_NONE && b->run == MEASURE_NONE;
    }
    size_t low = a->run < b->run ? a->run : b->run;
    size_t high = a->run < b->run ? b->run : a->run;
    bool forward = true;
    bool around = true;
    for (size_t i = 0; i < net->job->run_count; i++) {
        bool joined = net->chains[i].next != MEASURE_NONE;
        forward = forward && (joined || i < low || i >= high);
        around = around && (joined || (i >= low && i < high));
    }
    return forward || around;
}

/* Or no wing at all. */
static bool is_rectangle(const struct measure_net *net, size_t wing) {
    return wing == MEASURE_NONE ||
           (net->job->wings[wing].width.given && net->job->wings[wing].depth.given);
}

static void add_between(struct measure_builder *builder, const struct job_check *check) {
    struct measure_net *net = builder->net;
    struct measure_place from = place_of(net, &check->from, check->taped_on);
    struct measure_place to = place_of(net, &check->to, check->taped_on);
    if (!share_plan(net, &from, &to)) {
        say(builder, BASE_ISSUE_CHECK_APART, check, (struct base_value){0});
        return;
    }
    if (check->taped_on == JOB_LINE_WALL && from.run == MEASURE_NONE) {
        say(builder, BASE_ISSUE_CHECK_LINE, check, (struct base_value){0});
        return;
    }
    if (!is_rectangle(net, from.wing) || !is_rectangle(net, to.wing)) {
        say(builder, BASE_ISSUE_CHECK_SHAPE, check, (struct base_value){0});
        return;
    }
    struct measure_item item = measure_length_item(MEASURE_BETWEEN, &check->length);
    item.name = item.of = check->name;
    item.check = true;
    struct measure_equation *equation = measure_add(builder, item);
    equation->from = from;
    equation->to = to;
    use_place(net, equation, &from);
    use_place(net, equation, &to);
}

static void add_taped_corner(struct measure_builder *builder, const struct job_check *check) {
    struct measure_net *net = builder->net;
    struct measure_place place = place_of(net, &check->from, JOB_LINE_ROOF_EDGE);
    size_t before = check->from.at == JOB_AT_TO ? place.run : net->chains[place.run].previous;
    if (before == MEASURE_NONE || net->chains[before].next == MEASURE_NONE) {
        say(builder, BASE_ISSUE_CHECK_NO_CORNER, check, (struct base_value){0});
        return;
    }
    struct measure_triangle triangle = {.across_m = units_m_of_tick(check->length.tick),
                                        .across_sigma_m = LEG_SIGMA_M};
    bool assumed = check->length.doubt_tick == 0;
    bool unused = false;
    for (int i = 0; i < 2; i++) {
        triangle.leg_m[i] = units_m_of_tick(check->legs[i].tick);
        triangle.leg_sigma_m[i] = check->legs[i].doubt_tick > 0
                                      ? measure_length_sigma(&check->legs[i], &unused)
                                      : LEG_SIGMA_M;
        assumed = assumed && check->legs[i].doubt_tick == 0;
    }
    if (check->length.doubt_tick > 0) {
        triangle.across_sigma_m = measure_length_sigma(&check->length, &unused);
    }
    struct measure_item item = {.kind = MEASURE_CORNER,
                                .run = before,
                                .name = check->name,
                                .of = check->name,
                                .check = true,
                                .inside = net->chains[before].turn_rad < 0.0,
                                .mark = check->mark,
                                .sigma_assumed = assumed};
    if (!measure_find_corner(&triangle, &item.said_si, &item.sigma)) {
        say(builder, BASE_ISSUE_CHECK_NO_TRIANGLE, check, base_value_tick(check->length.tick));
        return;
    }
    item.said = base_value_number(BASE_UNIT_RAD, item.said_si);
    struct measure_equation *equation = measure_add(builder, item);
    double turn_rad = PI - item.said_si;
    equation->said = item.inside ? -turn_rad : turn_rad;
    equation->run = before;
    measure_use_run(net, equation, before);
    measure_use_run(net, equation, net->chains[before].next);
}

/* ---- a wing's sizes ------------------------------------------------------------------------ */

static bool has_ridge(const struct job_wing *wing) {
    return (wing->edges[0] == JOB_EDGE_EAVE && wing->edges[2] == JOB_EDGE_EAVE) ||
           (wing->edges[1] == JOB_EDGE_EAVE && wing->edges[3] == JOB_EDGE_EAVE);
}

static enum measure_kind kind_of(enum job_check_kind kind) {
    switch (kind) {
    case JOB_CHECK_RIDGE:
        return MEASURE_RIDGE;
    case JOB_CHECK_RISE:
        return MEASURE_RISE;
    case JOB_CHECK_WIDTH:
        return MEASURE_WIDTH;
    case JOB_CHECK_DEPTH:
        return MEASURE_DEPTH;
    case JOB_CHECK_CORNER:
        return MEASURE_CORNER;
    case JOB_CHECK_BETWEEN:
        return MEASURE_BETWEEN;
    }
    return MEASURE_BETWEEN;
}

static void add_size(struct measure_builder *builder, const struct job_check *check) {
    struct measure_net *net = builder->net;
    enum measure_kind kind = kind_of(check->kind);
    if (!is_rectangle(net, check->wing)) {
        say(builder, BASE_ISSUE_CHECK_SHAPE, check, (struct base_value){0});
        return;
    }
    if (kind == MEASURE_RIDGE && !has_ridge(&net->job->wings[check->wing])) {
        say(builder, BASE_ISSUE_CHECK_NO_RIDGE, check, (struct base_value){0});
        return;
    }
    struct measure_item item = measure_length_item(kind, &check->length);
    item.name = item.of = check->name;
    item.check = true;
    struct measure_equation *equation = measure_add(builder, item);
    size_t first = net->wings[check->wing];
    equation->wing = check->wing;
    equation->value = first + (kind == MEASURE_WIDTH ? MEASURE_WING_WIDTH : MEASURE_WING_DEPTH);
    if (kind == MEASURE_RIDGE || kind == MEASURE_RISE) {
        measure_use(equation, first + MEASURE_WING_WIDTH);
        measure_use(equation, first + MEASURE_WING_DEPTH);
        measure_use(equation, first + MEASURE_WING_PITCH);
    } else {
        measure_use(equation, equation->value);
    }
}

void measure_add_checks(struct measure_builder *builder) {
    const struct job *job = builder->net->job;
    for (size_t i = 0; i < job->check_count; i++) {
        const struct job_check *check = &job->checks[i];
        switch (check->kind) {
        case JOB_CHECK_BETWEEN:
            add_between(builder, check);
            break;
        case JOB_CHECK_CORNER:
            add_taped_corner(builder, check);
            break;
        case JOB_CHECK_RIDGE:
        case JOB_CHECK_RISE:
        case JOB_CHECK_WIDTH:
        case JOB_CHECK_DEPTH:
            add_size(builder, check);
            break;
        }
    }
}
