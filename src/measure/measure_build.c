/* SPDX-License-Identifier: Apache-2.0 */
/* From the job to the net: its values, its equations, and where they begin. */
#include "measure/measure_inside.h"
#include "units/units.h"

#include <math.h>

#define PI 3.14159265358979323846
/* A quarter inch of rise in a foot of run: COMMON PRACTICE (SRC-71). */
#define PITCH_SIGMA_1 (0.25 / 12)
/* The wood's face is taken for the roof edge, which stands an inch or so before it. */
#define WOOD_SIGMA_M 0.01905

static struct base_text join(struct measure_builder *builder, struct base_text name,
                             const char *ending) {
    struct base_text parts[] = {name, base_text_of(ending)};
    return base_join(builder->net->arena, 2, parts);
}

/* ---- runs and their corners ---------------------------------------------------------------- */

static bool is_corner(const struct job_run_end *end) {
    return end->kind == JOB_END_OUTSIDE || end->kind == JOB_END_INSIDE;
}

/* Left positive: at an outside corner the house, on the left, is walked round. */
static double turn_of(const struct job_run_end *end) {
    double turn_rad = PI - end->corner_rad;
    return end->kind == JOB_END_INSIDE ? -turn_rad : turn_rad;
}

static bool meet(const struct job_run_end *to, const struct job_run_end *from) {
    return is_corner(to) && to->kind == from->kind &&
           fabs(to->corner_rad - from->corner_rad) < 0.002;
}

static void join_chains(struct measure_net *net) {
    const struct job *job = net->job;
    for (size_t i = 0; i < job->run_count; i++) {
        net->chains[i].previous = net->chains[i].next = MEASURE_NONE;
        net->chains[i].overhang_m = units_m_of_tick(job->runs[i].overhang.tick);
    }
    net->ring = job->run_count > 2;
    for (size_t i = 0; i < job->run_count; i++) {
        size_t after = (i + 1) % job->run_count;
        bool meets = after != i && meet(&job->runs[i].to, &job->runs[after].from) &&
                     (after != 0 || job->run_count > 2);
        net->ring = net->ring && meets;
        if (meets) {
            net->chains[i].next = after;
            net->chains[after].previous = i;
            net->chains[i].turn_rad = turn_of(&job->runs[i].to);
        }
    }
}

static double find_open_shift(const struct measure_chain *chain, const struct job_run_end *end) {
    double half_rad = turn_of(end) / 2;
    /* both overhangs alike: own (1 - cos t) / sin t */
    return is_corner(end) ? chain->overhang_m * tan(half_rad) : 0.0;
}

static void place_chains(struct measure_net *net) {
    const struct job *job = net->job;
    size_t used = 0;
    for (size_t i = 0; i < job->run_count; i++) {
        struct measure_chain *chain = &net->chains[i];
        if (chain->previous == MEASURE_NONE || i == 0) {
            chain->from = used;
            used += 2;
        } else {
            chain->from = net->chains[i - 1].to;
        }
        bool closes = chain->next == 0 && i != 0;
        chain->to = closes ? net->chains[0].from : used;
        used += closes ? 0 : 2;
        chain->open_shift_m[0] = find_open_shift(chain, &job->runs[i].from);
        chain->open_shift_m[1] = find_open_shift(chain, &job->runs[i].to);
    }
    net->value_count = used;
}

static double find_said_shift(const struct measure_net *net, size_t run, bool at_to) {
    const struct measure_chain *chain = &net->chains[run];
    size_t beyond = at_to ? chain->next : chain->previous;
    if (beyond == MEASURE_NONE) {
        return chain->open_shift_m[at_to ? 1 : 0];
    }
    double turn_rad = at_to ? chain->turn_rad : net->chains[beyond].turn_rad;
    double other_m = net->chains[beyond].overhang_m;
    return fabs(sin(turn_rad)) < 1e-3
               ? 0.0
               : (other_m - chain->overhang_m * cos(turn_rad)) / sin(turn_rad);
}

/* The roof edge of a run by what was said; for walking, before anything is adjusted. */
static double find_said_edge(const struct measure_net *net, size_t run) {
    double length_m = units_m_of_tick(net->job->runs[run].length.tick);
    if (net->job->runs[run].taped_on == JOB_LINE_WALL) {
        length_m += find_said_shift(net, run, false) + find_said_shift(net, run, true);
    }
    return length_m;
}

/* ---- equations ----------------------------------------------------------------------------- */

void measure_use(struct measure_equation *equation, size_t value) {
    for (size_t i = 0; i < equation->use_count; i++) {
        if (equation->uses[i] == value) {
            return;
        }
    }
    if (equation->use_count < MEASURE_USES_MAX) {
        equation->uses[equation->use_count++] = value;
    }
}

void measure_use_run(const struct measure_net *net, struct measure_equation *equation, size_t run) {
    if (run != MEASURE_NONE) {
        measure_use(equation, net->chains[run].from);
        measure_use(equation, net->chains[run].from + 1);
        measure_use(equation, net->chains[run].to);
        measure_use(equation, net->chains[run].to + 1);
    }
}

struct measure_equation *measure_add(struct measure_builder *builder, struct measure_item item) {
    struct measure_net *net = builder->net;
    struct measure_equation *equation = &net->equations[net->count];
    *equation = (struct measure_equation){
        .kind = item.kind, .said = item.said_si, .sigma = item.sigma, .run = MEASURE_NONE};
    builder->measure->items[net->count++] = item;
    return equation;
}

struct measure_item measure_length_item(enum measure_kind kind, const struct job_length *length) {
    struct measure_item item = {.kind = kind,
                                .mark = length->mark,
                                .said = base_value_tick(length->tick),
                                .said_si = units_m_of_tick(length->tick)};
    item.sigma = measure_length_sigma(length, &item.sigma_assumed);
    return item;
}

static void add_run(struct measure_builder *builder, size_t run) {
    struct measure_net *net = builder->net;
    const struct job_run *said = &net->job->runs[run];
    struct measure_item item = measure_length_item(MEASURE_RUN, &said->length);
    item.name = item.of = said->name;
    if (said->taped_on == JOB_LINE_WOOD_FACE) {
        item.sigma = hypot(item.sigma, WOOD_SIGMA_M);
    } else if (said->taped_on == JOB_LINE_WALL && said->overhang.given) {
        bool assumed = false;
        double sigma_m = measure_length_sigma(&said->overhang, &assumed);
        int ends = is_corner(&said->from) + is_corner(&said->to);
        item.sigma = hypot(item.sigma, ends * sigma_m);
    }
    struct measure_equation *equation = measure_add(builder, item);
    equation->run = run;
    measure_use_run(net, equation, run);
    if (said->taped_on == JOB_LINE_WALL) {
        measure_use_run(net, equation, net->chains[run].previous);
        measure_use_run(net, equation, net->chains[run].next);
    }
}

static void add_corner(struct measure_builder *builder, size_t run) {
    struct measure_net *net = builder->net;
    const struct job_run_end *end = &net->job->runs[run].to;
    if (net->chains[run].next == MEASURE_NONE || end->taped) {
        return; /* a taped one comes with its three lengths, once */
    }
    struct measure_item item = {.kind = MEASURE_CORNER,
                                .run = run,
                                .name = join(builder, net->job->runs[run].name, ".to"),
                                .of = net->job->runs[run].name,
                                .inside = end->kind == JOB_END_INSIDE,
                                .mark = end->mark,
                                .said = base_value_number(BASE_UNIT_RAD, end->corner_rad),
                                .said_si = end->corner_rad,
                                .sigma = measure_corner_sigma(end->corner_rad),
                                .sigma_assumed = true};
    struct measure_equation *equation = measure_add(builder, item);
    equation->said = net->chains[run].turn_rad;
    equation->run = run;
    measure_use_run(net, equation, run);
    measure_use_run(net, equation, net->chains[run].next);
}

/* ---- wings --------------------------------------------------------------------------------- */

struct wing_row {
    enum measure_kind kind;
    size_t value;
    const char *ending;
};

static void add_wing_value(struct measure_builder *builder, size_t wing, struct wing_row row,
                           const struct job_length *length) {
    struct measure_net *net = builder->net;
    size_t value = net->wings[wing] + row.value;
    struct measure_item item = measure_length_item(row.kind, length);
    item.of = net->job->wings[wing].name;
    item.name = join(builder, item.of, row.ending);
    struct measure_equation *equation = measure_add(builder, item);
    equation->wing = wing;
    equation->value = value;
    measure_use(equation, value);
    net->is_free[value] = true;
}

/* A coordinate of 0 is where the plan begins; another was taped. */
static void add_coordinate(struct measure_builder *builder, size_t wing, struct wing_row row,
                           int64_t tick) {
    if (tick != 0) {
        struct job_length length = {.given = true,
                                    .tick = tick < 0 ? -tick : tick,
                                    .reading_count = 1,
                                    .mark = builder->net->job->wings[wing].mark};
        add_wing_value(builder, wing, row, &length);
        struct measure_net *net = builder->net;
        if (tick < 0 && net->count > 0) {
            net->equations[net->count - 1].said = units_m_of_tick(tick);
            builder->measure->items[net->count - 1].said_si = units_m_of_tick(tick);
            builder->measure->items[net->count - 1].said = base_value_tick(tick);
        }
    }
}

static bool is_touched(const struct job *job, size_t wing, bool by_slope) {
    struct base_text name = job->wings[wing].name;
    for (size_t i = 0; i < job->check_count; i++) {
        const struct job_check *check = &job->checks[i];
        bool slope = check->kind == JOB_CHECK_RIDGE || check->kind == JOB_CHECK_RISE;
        bool between =
            check->kind == JOB_CHECK_BETWEEN &&
            (base_text_equal(check->from.eave, name) || base_text_equal(check->to.eave, name));
        if (by_slope ? slope && check->wing == wing : between) {
            return true;
        }
    }
    return false;
}

static void add_pitch(struct measure_builder *builder, size_t wing) {
    struct measure_net *net = builder->net;
    const struct job_wing *said = &net->job->wings[wing];
    struct measure_item item = {.kind = MEASURE_PITCH,
                                .name = join(builder, said->name, ".pitch"),
                                .of = said->name,
                                .mark = said->pitch.mark,
                                .said = base_value_number(BASE_UNIT_RATIO, said->pitch.value),
                                .said_si = said->pitch.value,
                                .sigma = PITCH_SIGMA_1,
                                .sigma_assumed = true};
    struct measure_equation *equation = measure_add(builder, item);
    equation->wing = wing;
    equation->value = net->wings[wing] + MEASURE_WING_PITCH;
    measure_use(equation, equation->value);
    net->is_free[equation->value] = true;
}

static void add_wing(struct measure_builder *builder, size_t wing) {
    static const struct wing_row WIDTH = {MEASURE_WIDTH, MEASURE_WING_WIDTH, ".width"};
    static const struct wing_row DEPTH = {MEASURE_DEPTH, MEASURE_WING_DEPTH, ".depth"};
    static const struct wing_row EAST = {MEASURE_EAST, MEASURE_WING_EAST, ".east"};
    static const struct wing_row NORTH = {MEASURE_NORTH, MEASURE_WING_NORTH, ".north"};
    const struct job *job = builder->net->job;
    const struct job_wing *said = &job->wings[wing];
    if (!said->width.given || !said->depth.given) {
        return; /* no rectangle: its plan is made from one size */
    }
    add_wing_value(builder, wing, WIDTH, &said->width);
    add_wing_value(builder, wing, DEPTH, &said->depth);
    if (is_touched(job, wing, false)) {
        add_coordinate(builder, wing, EAST, said->corner_x_tick);
        add_coordinate(builder, wing, NORTH, said->corner_y_tick);
    }
    if (is_touched(job, wing, true) && said->pitch.given) {
        add_pitch(builder, wing);
    }
}

/* ---- the whole ----------------------------------------------------------------------------- */

static bool count_is_held(const struct job *job) {
    size_t count = 2 * job->run_count + MEASURE_WING_VALUES * job->wing_count + job->check_count;
    return count <= MEASURE_ITEMS_MAX;
}

static bool take_room(struct measure_net *net, struct measure *measure) {
    const struct job *job = net->job;
    size_t wing_values = MEASURE_WING_VALUES * job->wing_count;
    size_t values = 4 * job->run_count + wing_values + 1;
    size_t items = 2 * job->run_count + wing_values + job->check_count + 1;
    net->chains = base_take(net->arena, job->run_count + 1, sizeof *net->chains);
    net->wings = base_take(net->arena, job->wing_count + 1, sizeof *net->wings);
    net->values = base_take(net->arena, values, sizeof *net->values);
    net->is_free = base_take(net->arena, values, sizeof *net->is_free);
    net->equations = base_take(net->arena, items, sizeof *net->equations);
    measure->items = base_take(net->arena, items, sizeof *measure->items);
    return !base_arena_failed(net->arena);
}

bool measure_build(struct measure_builder *builder) {
    struct measure_net *net = builder->net;
    const struct job *job = net->job;
    if (!take_room(net, builder->measure)) {
        return false;
    }
    join_chains(net);
    place_chains(net);
    for (size_t i = 0; i < net->value_count; i++) {
        net->is_free[i] = true; /* where the plan stands and how it is turned stays loose */
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        net->wings[i] = net->value_count;
        net->value_count += MEASURE_WING_VALUES;
    }
    measure_lay(net, MEASURE_NONE);
    if (!count_is_held(job)) {
        builder->measure->verdict = MEASURE_TOO_MANY;
        return true;
    }
    for (size_t i = 0; i < job->run_count; i++) {
        add_run(builder, i);
        add_corner(builder, i);
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        add_wing(builder, i);
    }
    measure_add_checks(builder);
    builder->measure->item_count = net->count;
    return !base_arena_failed(net->arena);
}

/* ---- laying out ---------------------------------------------------------------------------- */

/* Walks from one run along its chain until the chain ends or comes round. */
static void lay_chain(struct measure_net *net, size_t start) {
    struct geometry_point at = {0, 0};
    double heading_rad = 0.0;
    size_t run = start;
    for (;;) {
        const struct measure_chain *chain = &net->chains[run];
        net->values[chain->from] = at.x_m;
        net->values[chain->from + 1] = at.y_m;
        if (chain->next == start) {
            return; /* its other end stands already */
        }
        double edge_m = fmax(find_said_edge(net, run), 0.01);
        at.x_m += edge_m * cos(heading_rad);
        at.y_m += edge_m * sin(heading_rad);
        net->values[chain->to] = at.x_m;
        net->values[chain->to + 1] = at.y_m;
        if (chain->next == MEASURE_NONE) {
            return;
        }
        heading_rad += chain->turn_rad;
        run = chain->next;
    }
}

void measure_lay(struct measure_net *net, size_t left_out) {
    const struct job *job = net->job;
    size_t start = 0;
    if (left_out != MEASURE_NONE && net->equations[left_out].run != MEASURE_NONE) {
        start = net->chains[net->equations[left_out].run].next;
    }
    for (size_t i = 0; i < job->run_count; i++) {
        if (net->ring ? i == 0 : net->chains[i].previous == MEASURE_NONE) {
            lay_chain(net, net->ring ? start : i);
        }
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        const struct job_wing *wing = &job->wings[i];
        double *values = &net->values[net->wings[i]];
        values[MEASURE_WING_EAST] = units_m_of_tick(wing->corner_x_tick);
        values[MEASURE_WING_NORTH] = units_m_of_tick(wing->corner_y_tick);
        values[MEASURE_WING_WIDTH] = units_m_of_tick(wing->width.tick);
        values[MEASURE_WING_DEPTH] = units_m_of_tick(wing->depth.tick);
        values[MEASURE_WING_PITCH] = wing->pitch.value;
    }
}

/* Laid out, the net is walked once more: the end is held against the start. */
void measure_find_misclosure(const struct measure_net *net, struct measure *measure) {
    const struct job *job = net->job;
    struct geometry_point at = {0, 0};
    double heading_rad = 0.0;
    double variance_m2 = 0.0;
    double turn_rad = 0.0;
    for (size_t i = 0; i < job->run_count; i++) {
        bool assumed = false;
        double edge_m = find_said_edge(net, i);
        double sigma_m = measure_length_sigma(&job->runs[i].length, &assumed);
        double corner_sigma = measure_corner_sigma(job->runs[i].from.corner_rad);
        double reach_m = i == 0 ? 0.0 : hypot(at.x_m, at.y_m); /* of this corner's error */
        variance_m2 += sigma_m * sigma_m + pow(corner_sigma * reach_m, 2);
        at.x_m += edge_m * cos(heading_rad);
        at.y_m += edge_m * sin(heading_rad);
        heading_rad += net->chains[i].turn_rad;
        turn_rad += net->chains[i].turn_rad;
    }
    measure->is_ring = true;
    measure->misclosure_m = hypot(at.x_m, at.y_m);
    measure->expected_m = sqrt(variance_m2);
    measure->turn_miss_rad = turn_rad - 2 * PI;
}
