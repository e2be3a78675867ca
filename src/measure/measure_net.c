/* SPDX-License-Identifier: Apache-2.0 */
/* What each equation of the net gives, and the adjustment. */
#include "measure/measure_inside.h"
#include "numeric/numeric.h"
#include "units/units.h"

#include <math.h>

#define PI 3.14159265358979323846
/* Half the step of a difference: errors of some 1e-9 m on a house. */
#define HALF_STEP  1.220703125e-4
#define STEP_LEAST 1e-8 /* m: the adjustment has come to rest */
#define STRAIGHT   1e-3 /* sine of a corner that is none */
enum { ROUNDS_MAX = 40, HALVINGS_MAX = 12 };

/* ---- runs ---------------------------------------------------------------------------------- */

static struct geometry_point point_at(const struct measure_net *net, size_t value) {
    return (struct geometry_point){net->values[value], net->values[value + 1]};
}

static double find_run_length(const struct measure_net *net, size_t run) {
    return geometry_distance(point_at(net, net->chains[run].from),
                             point_at(net, net->chains[run].to));
}

static struct geometry_point find_direction(const struct measure_net *net, size_t run) {
    struct geometry_point from = point_at(net, net->chains[run].from);
    struct geometry_point to = point_at(net, net->chains[run].to);
    double length_m = fmax(geometry_distance(from, to), 1e-9);
    return (struct geometry_point){(to.x_m - from.x_m) / length_m, (to.y_m - from.y_m) / length_m};
}

/* Left positive, by the points as they stand. */
static double find_turn(const struct measure_net *net, size_t before, size_t after) {
    struct geometry_point a = find_direction(net, before);
    struct geometry_point b = find_direction(net, after);
    return atan2(a.x_m * b.y_m - a.y_m * b.x_m, a.x_m * b.x_m + a.y_m * b.y_m);
}

/* From the wall's corner to the roof edge's along a run, outward positive: with the eave along x
 * its roof edge is y = -own; the neighbour's, turned, is x sin - y cos = other. */
static double find_shift(double turn_rad, double own_m, double other_m) {
    double sine = sin(turn_rad);
    return fabs(sine) < STRAIGHT ? 0.0 : (other_m - own_m * cos(turn_rad)) / sine;
}

static double find_end_shift(const struct measure_net *net, size_t run, bool at_to) {
    const struct measure_chain *chain = &net->chains[run];
    size_t beyond = at_to ? chain->next : chain->previous;
    if (beyond == MEASURE_NONE) {
        return chain->open_shift_m[at_to ? 1 : 0];
    }
    double turn_rad = at_to ? find_turn(net, run, beyond) : find_turn(net, beyond, run);
    return find_shift(turn_rad, chain->overhang_m, net->chains[beyond].overhang_m);
}

static double find_taped_run(const struct measure_net *net, size_t run) {
    double length_m = find_run_length(net, run);
    if (net->job->runs[run].taped_on != JOB_LINE_WALL) {
        return length_m;
    }
    return length_m - find_end_shift(net, run, false) - find_end_shift(net, run, true);
}

/* ---- places -------------------------------------------------------------------------------- */

static struct geometry_point find_run_place(const struct measure_net *net,
                                            const struct measure_place *place) {
    const struct measure_chain *chain = &net->chains[place->run];
    struct geometry_point along = find_direction(net, place->run);
    bool wall = place->line == JOB_LINE_WALL;
    struct geometry_point at = point_at(net, chain->from);
    double along_m = 0.0;
    switch (place->at) {
    case JOB_AT_FROM:
        along_m = wall ? find_end_shift(net, place->run, false) : 0.0;
        break;
    case JOB_AT_TO:
        along_m = find_run_length(net, place->run);
        along_m -= wall ? find_end_shift(net, place->run, true) : 0.0;
        break;
    case JOB_AT_DISTANCE:
        along_m = place->distance_m;
        break;
    }
    double inward_m = wall ? chain->overhang_m : 0.0; /* the house lies on the left */
    return (struct geometry_point){at.x_m + along_m * along.x_m - inward_m * along.y_m,
                                   at.y_m + along_m * along.y_m + inward_m * along.x_m};
}

static struct geometry_point find_wing_place(const struct measure_net *net,
                                             const struct measure_place *place) {
    const double *wing = &net->values[net->wings[place->wing]];
    double width_m = wing[MEASURE_WING_WIDTH];
    double depth_m = wing[MEASURE_WING_DEPTH];
    const struct geometry_point corners[JOB_WING_EDGES] = {
        {0, 0}, {width_m, 0}, {width_m, depth_m}, {0, depth_m}};
    static const struct geometry_point ALONG[JOB_WING_EDGES] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    int corner = place->at == JOB_AT_TO ? (place->edge + 1) % JOB_WING_EDGES : place->edge;
    double along_m = place->at == JOB_AT_DISTANCE ? place->distance_m : 0.0;
    double x_m = corners[corner].x_m + along_m * ALONG[place->edge].x_m;
    double y_m = corners[corner].y_m + along_m * ALONG[place->edge].y_m;
    double turn_rad = net->job->wings[place->wing].turn_rad;
    return (struct geometry_point){
        wing[MEASURE_WING_EAST] + x_m * cos(turn_rad) - y_m * sin(turn_rad),
        wing[MEASURE_WING_NORTH] + x_m * sin(turn_rad) + y_m * cos(turn_rad)};
}

static struct geometry_point find_place(const struct measure_net *net,
                                        const struct measure_place *place) {
    return place->run != MEASURE_NONE ? find_run_place(net, place) : find_wing_place(net, place);
}

/* ---- the roof of one wing ------------------------------------------------------------------ */

static double find_pitch(const struct measure_net *net, size_t wing, int edge) {
    const struct job_number *own = &net->job->wings[wing].edge_pitch[edge];
    double pitch_1 = own->given ? own->value : net->values[net->wings[wing] + MEASURE_WING_PITCH];
    return fmax(pitch_1, 1e-6);
}

/* Height of a slope over its eave, t level metres inside it: one pitch, or another beyond the break
 * of a gambrel, a mansard or a flared eave. */
static double find_height(const struct measure_net *net, size_t wing, int edge, double t_m) {
    const struct job_wing *said = &net->job->wings[wing];
    double pitch_1 = find_pitch(net, wing, edge);
    if (!said->upper_begins.given || !said->upper_pitch.given) {
        return pitch_1 * t_m;
    }
    double begins_m = units_m_of_tick(said->upper_begins.tick);
    return pitch_1 * fmin(t_m, begins_m) + said->upper_pitch.value * fmax(t_m - begins_m, 0);
}

/* How far inside the eave the slope has that height. */
static double find_reach(const struct measure_net *net, size_t wing, int edge, double height_m) {
    const struct job_wing *said = &net->job->wings[wing];
    double pitch_1 = find_pitch(net, wing, edge);
    if (!said->upper_begins.given || !said->upper_pitch.given) {
        return height_m / pitch_1;
    }
    double begins_m = units_m_of_tick(said->upper_begins.tick);
    double break_m = pitch_1 * begins_m;
    return height_m <= break_m ? height_m / pitch_1
                               : begins_m + (height_m - break_m) / said->upper_pitch.value;
}

/* The height at which two slopes with breaks meet over a span: between the places where one of them
 * has its break, the difference of their heights is a straight line. */
static double find_broken_meeting(const struct measure_net *net, size_t wing, int edge,
                                  double span_m) {
    double begins_m = units_m_of_tick(net->job->wings[wing].upper_begins.tick);
    double near_m = fmin(fmin(begins_m, span_m - begins_m), span_m);
    double far_m = fmax(begins_m, span_m - begins_m);
    const double places_m[4] = {0, fmax(near_m, 0), fmin(far_m, span_m), span_m};
    double at_m = 0;
    double above_m = -find_height(net, wing, edge + 2, span_m);
    for (int i = 1; i < 4; i++) {
        double next_m = find_height(net, wing, edge, places_m[i]) -
                        find_height(net, wing, edge + 2, span_m - places_m[i]);
        if (next_m >= 0 && next_m > above_m) {
            at_m = places_m[i - 1] - above_m * (places_m[i] - places_m[i - 1]) / (next_m - above_m);
            break;
        }
        above_m = next_m;
    }
    return find_height(net, wing, edge, at_m);
}

/* Where the slopes of two opposite eaves meet over a span, or where one eave's slope ends. */
static double find_meeting(const struct measure_net *net, size_t wing, int edge, double span_m) {
    const enum job_edge_kind *edges = net->job->wings[wing].edges;
    int other = edge + 2;
    bool one = edges[edge] == JOB_EDGE_EAVE;
    bool two = edges[other] == JOB_EDGE_EAVE;
    if (net->job->wings[wing].upper_begins.given) {
        return one && two   ? find_broken_meeting(net, wing, edge, span_m)
               : one || two ? find_height(net, wing, one ? edge : other, span_m)
                            : HUGE_VAL;
    }
    double p = one ? find_pitch(net, wing, edge) : 0.0;
    double q = two ? find_pitch(net, wing, other) : 0.0;
    if (one && two) {
        return span_m * p * q / (p + q);
    }
    return one || two ? span_m * (p + q) : HUGE_VAL;
}

/* The lower of what the eaves along and across allow. */
static double find_rise(const struct measure_net *net, size_t wing) {
    const double *values = &net->values[net->wings[wing]];
    return fmin(find_meeting(net, wing, 0, values[MEASURE_WING_DEPTH]),
                find_meeting(net, wing, 1, values[MEASURE_WING_WIDTH]));
}

/* Along the wing between two opposite eaves, less a hip's reach at each end that is an eave. */
static double find_ridge(const struct measure_net *net, size_t wing) {
    const struct job_wing *said = &net->job->wings[wing];
    const double *values = &net->values[net->wings[wing]];
    double longest_m = -HUGE_VAL;
    for (int edge = 0; edge < 2; edge++) {
        if (said->edges[edge] != JOB_EDGE_EAVE || said->edges[edge + 2] != JOB_EDGE_EAVE) {
            continue;
        }
        double along_m = values[edge == 0 ? MEASURE_WING_WIDTH : MEASURE_WING_DEPTH];
        double across_m = values[edge == 0 ? MEASURE_WING_DEPTH : MEASURE_WING_WIDTH];
        double rise_m = find_meeting(net, wing, edge, across_m);
        for (int end = 1 - edge; end < JOB_WING_EDGES; end += 2) {
            along_m -= said->edges[end] == JOB_EDGE_EAVE ? find_reach(net, wing, end, rise_m) : 0;
        }
        longest_m = fmax(longest_m, along_m);
    }
    return longest_m;
}

/* ---- equations ----------------------------------------------------------------------------- */

double measure_evaluate(const struct measure_net *net, const struct measure_equation *equation) {
    switch (equation->kind) {
    case MEASURE_RUN:
        return find_taped_run(net, equation->run);
    case MEASURE_CORNER:
        return find_turn(net, equation->run, net->chains[equation->run].next);
    case MEASURE_BETWEEN:
        return geometry_distance(find_place(net, &equation->from), find_place(net, &equation->to));
    case MEASURE_WIDTH:
    case MEASURE_DEPTH:
    case MEASURE_EAST:
    case MEASURE_NORTH:
    case MEASURE_PITCH:
        return net->values[equation->value];
    case MEASURE_RIDGE:
        return find_ridge(net, equation->wing);
    case MEASURE_RISE:
        return find_rise(net, equation->wing);
    }
    return 0.0;
}

/* Within half a turn. */
static double wrap(double angle_rad) {
    return angle_rad - 2 * PI * round(angle_rad / (2 * PI));
}

double measure_miss(const struct measure_net *net, const struct measure_equation *equation) {
    double miss = equation->said - measure_evaluate(net, equation);
    return equation->kind == MEASURE_CORNER ? wrap(miss) : miss;
}

static double find_chi(const struct measure_net *net) {
    struct numeric_sum sum = {0};
    for (size_t i = 0; i < net->count; i++) {
        const struct measure_equation *equation = &net->equations[i];
        if (!equation->off) {
            double share = measure_miss(net, equation) / equation->sigma;
            numeric_add(&sum, share * share);
        }
    }
    return numeric_total(&sum);
}

/* ---- the adjustment ------------------------------------------------------------------------ */

bool measure_ready(struct measure_net *net) {
    net->columns = base_take(net->arena, net->value_count, sizeof *net->columns);
    if (net->columns == NULL) {
        return false;
    }
    net->column_count = 0;
    for (size_t i = 0; i < net->value_count; i++) {
        net->columns[i] = net->is_free[i] ? net->column_count++ : MEASURE_NONE;
    }
    size_t rows = net->count;
    net->design = base_take(net->arena, rows * net->column_count, sizeof *net->design);
    net->observed = base_take(net->arena, rows, sizeof *net->observed);
    net->work = base_take(net->arena, numeric_fit_work(rows, net->column_count), sizeof *net->work);
    net->step = base_take(net->arena, net->column_count, sizeof *net->step);
    net->kept = base_take(net->arena, net->value_count, sizeof *net->kept);
    net->residuals = base_take(net->arena, rows, sizeof *net->residuals);
    net->redundancy = base_take(net->arena, rows, sizeof *net->redundancy);
    return !base_arena_failed(net->arena);
}

static void fill_row(struct measure_net *net, const struct measure_equation *equation,
                     double *row) {
    for (size_t j = 0; j < net->column_count; j++) {
        row[j] = 0.0;
    }
    for (size_t k = 0; k < equation->use_count; k++) {
        size_t value = equation->uses[k];
        if (!net->is_free[value]) {
            continue;
        }
        double stood = net->values[value];
        net->values[value] = stood + HALF_STEP;
        double change = measure_evaluate(net, equation);
        net->values[value] = stood - HALF_STEP;
        change -= measure_evaluate(net, equation);
        change = equation->kind == MEASURE_CORNER ? wrap(change) : change;
        net->values[value] = stood;
        row[net->columns[value]] = change / (2 * HALF_STEP * equation->sigma);
    }
}

/* One step of Gauss and Newton into net->step; redundancy numbers go to their equations. */
static size_t find_step(struct measure_net *net) {
    size_t rows = 0;
    for (size_t i = 0; i < net->count; i++) {
        const struct measure_equation *equation = &net->equations[i];
        if (!equation->off) {
            fill_row(net, equation, &net->design[rows * net->column_count]);
            net->observed[rows++] = measure_miss(net, equation) / equation->sigma;
        }
    }
    if (rows == 0 || net->column_count == 0) {
        return 0;
    }
    struct numeric_fit fit = {.rows = rows,
                              .columns = net->column_count,
                              .design = net->design,
                              .observed = net->observed,
                              .work = net->work,
                              .solution = net->step,
                              .residuals = net->residuals,
                              .redundancy = net->redundancy};
    numeric_fit_least_squares(&fit);
    for (size_t i = net->count; i-- > 0;) { /* from the end, for rows <= their equations */
        net->redundancy[i] = net->equations[i].off ? 0.0 : net->redundancy[--rows];
    }
    return fit.rank;
}

static double go(struct measure_net *net, double share) {
    double longest = 0.0;
    for (size_t i = 0; i < net->value_count; i++) {
        double move = net->is_free[i] ? share * net->step[net->columns[i]] : 0.0;
        net->values[i] = net->kept[i] + move;
        longest = fmax(longest, fabs(move));
    }
    return longest;
}

/* Goes as far along the step as the sum of squares falls. Returns the longest move. */
static double descend(struct measure_net *net, double *chi) {
    for (size_t i = 0; i < net->value_count; i++) {
        net->kept[i] = net->values[i];
    }
    double share = 1.0;
    for (int halving = 0; halving < HALVINGS_MAX; halving++, share /= 2) {
        double longest = go(net, share);
        double now = find_chi(net);
        if (now <= *chi) {
            *chi = now;
            return longest;
        }
    }
    go(net, 0.0);
    return 0.0;
}

struct measure_adjustment measure_adjust(struct measure_net *net) {
    struct measure_adjustment all = {.chi = find_chi(net)};
    size_t rows = 0;
    for (size_t i = 0; i < net->count; i++) {
        rows += !net->equations[i].off;
    }
    for (int round = 0; round < ROUNDS_MAX && !all.converged; round++) {
        size_t rank = find_step(net);
        all.redundancy = rows - rank;
        double full = 0.0;
        for (size_t j = 0; j < net->column_count; j++) {
            full = fmax(full, fabs(net->step[j]));
        }
        double longest = descend(net, &all.chi);
        /* no descent left counts as rest where the step asked for was already too small to see */
        all.converged = longest > 0.0 ? longest < STEP_LEAST : full < 1e3 * STEP_LEAST;
        if (longest == 0.0) {
            break;
        }
    }
    return all;
}

double measure_find_redundancy(struct measure_net *net, size_t equation) {
    bool off = net->equations[equation].off;
    net->equations[equation].off = false;
    find_step(net);
    net->equations[equation].off = off;
    return net->redundancy[equation];
}
