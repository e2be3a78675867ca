/* SPDX-License-Identifier: Apache-2.0 */
/* The water behind a stretch of gutter: areas by each rule, and the channel the physics walks. */
#include <math.h>

#include "layout/layout_inside.h"

double layout_area_factor(enum job_basis basis, double pitch_1) {
    switch (basis) {
    case JOB_BASIS_HANDBOOK:
        return hydraulics_pitch_factor(pitch_1);
    case JOB_BASIS_US_CODE:
        return 1.0;
    case JOB_BASIS_EN:
        return hydraulics_en_wind_factor(pitch_1);
    }
    return 1.0;
}

/* Plan area that drains straight to the eave between two places on it. */
static double eave_area(const struct roof_eave *eave, double from_m, double to_m) {
    double area_m2 = 0.0;
    for (size_t i = 0; i + 1 < eave->knot_count; i++) {
        double x0_m = eave->knots[i].x_m;
        double x1_m = eave->knots[i + 1].x_m;
        double low_m = fmax(x0_m, from_m);
        double high_m = fmin(x1_m, to_m);
        if (high_m <= low_m || x1_m <= x0_m) {
            continue;
        }
        double slope_1 = (eave->knots[i + 1].width_m - eave->knots[i].width_m) / (x1_m - x0_m);
        double middle_m = (low_m + high_m) / 2 - x0_m;
        area_m2 += (high_m - low_m) * (eave->knots[i].width_m + slope_1 * middle_m);
    }
    return area_m2;
}

struct part {
    size_t run;
    double from_m; /* on the gutter */
    double to_m;
    double base_m; /* line coordinate of the gutter's left end, on this lap of a ring */
};

/* The next run a stretch lies on, from the line coordinate *at_m on; moves *at_m to its end. */
static bool next_part(const struct layout *layout, size_t line, struct layout_stretch stretch,
                      double *at_m, struct part *part) {
    const double event_m = GEOMETRY_EVENT_M;
    while (*at_m < stretch.high_m - event_m) {
        double x_m;
        size_t run = layout_locate(layout, line, *at_m + event_m, &x_m);
        x_m -= event_m;
        double length_m = units_m_of_tick(layout->runs[run].length_tick);
        double step_m = fmin(length_m - x_m, stretch.high_m - *at_m);
        *part = (struct part){run, x_m, x_m + step_m, *at_m - x_m};
        *at_m += step_m > event_m ? step_m : event_m;
        if (step_m > event_m) {
            return true;
        }
    }
    return false;
}

/* The part of the eave whose water falls into that part of the gutter: an end takes all that is
 * left. */
static void part_on_eave(const struct layout *layout, const struct roof_eave *eave,
                         const struct part *part, double *from_m, double *to_m) {
    const struct layout_run *run = &layout->runs[part->run];
    double shift_m = units_m_of_tick(run->shift_tick);
    double eave_m = units_m_of_tick(eave->length_tick);
    double gutter_m = units_m_of_tick(run->length_tick);
    const double event_m = GEOMETRY_EVENT_M;
    *from_m = part->from_m < event_m ? 0.0 : part->from_m - shift_m;
    *to_m = part->to_m > gutter_m - event_m ? eave_m : part->to_m - shift_m;
}

/* A pour at the very end of an eave is caught where the gutter ends: at a corner of the roof the
 * valley's water falls into the gutter's corner. */
static double pour_on_gutter(const struct layout_run *run, const struct roof_eave *eave,
                             const struct roof_pour *pour) {
    double gutter_m = units_m_of_tick(run->length_tick);
    double eave_m = units_m_of_tick(eave->length_tick);
    if (pour->x_m <= GEOMETRY_EVENT_M) {
        return 0.0;
    }
    if (pour->x_m >= eave_m - GEOMETRY_EVENT_M) {
        return gutter_m;
    }
    return fmin(fmax(pour->x_m + units_m_of_tick(run->shift_tick), 0.0), gutter_m);
}

/*
 * Half the width over which a valley's stream lands in the gutter. A stream that lands right where
 * the water divides runs off both ways, each its share of that width: so neither the last bit of a
 * length nor the side from which a house is walked decides where it goes.
 * Source: an assumption, about the opening of a valley's metal at the eave; see docs/theory.
 */
static const double STREAM_HALF_M = 0.05;

/* Where the pour lands on the line; false when on another. */
static bool pour_on_line(const struct layout_walk *walk, size_t line_index,
                         const struct roof_pour *pour, double *line_m) {
    const struct layout_line *line = &walk->layout->lines[line_index];
    for (size_t i = 0; i < line->run_count; i++) {
        const struct layout_run *run = &walk->layout->runs[line->first_run + i];
        if (base_text_equal(pour->onto, run->name)) {
            const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
            *line_m = run->line_start_m + pour_on_gutter(run, eave, pour);
            return true;
        }
    }
    return false;
}

/* The share of a stream landing at line_m that falls into the stretch; nothing passes the ends of a
 * line. */
static double stream_share(const struct layout_line *line, struct layout_stretch stretch,
                           double line_m) {
    double low_m = line_m - STREAM_HALF_M;
    double high_m = line_m + STREAM_HALF_M;
    if (line->is_ring || stretch.low_m > GEOMETRY_EVENT_M) {
        low_m = fmax(low_m, stretch.low_m);
    }
    if (line->is_ring || stretch.high_m < line->length_m - GEOMETRY_EVENT_M) {
        high_m = fmin(high_m, stretch.high_m);
    }
    return fmax(high_m - low_m, 0.0) / (2 * STREAM_HALF_M);
}

/* Pours of a stretch, one after the other; on a ring it may reach past either end, so each is
 * looked for on the laps beside its own. */
struct stream {
    const struct roof_pour *pour;
    double line_m;
    double share_1;
};

struct stream_search {
    size_t line;
    struct layout_stretch stretch;
    size_t next; /* of laps x pours */
};

static bool next_stream(const struct layout_walk *walk, struct stream_search *search,
                        struct stream *stream) {
    enum { LAPS = 3 };
    const struct layout_line *line = &walk->layout->lines[search->line];
    size_t laps = line->is_ring ? LAPS : 1;
    while (search->next < laps * walk->pour_count) {
        size_t lap = search->next % laps;
        stream->pour = &walk->pours[search->next / laps];
        search->next++;
        if (!pour_on_line(walk, search->line, stream->pour, &stream->line_m)) {
            continue;
        }
        stream->line_m += line->is_ring ? ((double)lap - 1) * line->length_m : 0.0;
        stream->share_1 = stream_share(line, search->stretch, stream->line_m);
        if (stream->share_1 > 0.0) {
            return true;
        }
    }
    return false;
}

double layout_pour_share(const struct layout_walk *walk, size_t line, struct layout_stretch stretch,
                         const struct roof_pour *pour) {
    struct stream_search search = {.line = line, .stretch = stretch};
    struct stream stream;
    double share_1 = 0.0;
    while (next_stream(walk, &search, &stream)) {
        share_1 += stream.pour == pour ? stream.share_1 : 0.0;
    }
    return share_1;
}

static double part_area(const struct layout_walk *walk, const struct part *part,
                        const enum job_basis *basis) {
    const struct roof *roof = walk->input->roof;
    const struct roof_eave *eave = &roof->eaves[walk->layout->runs[part->run].eave];
    double from_m;
    double to_m;
    part_on_eave(walk->layout, eave, part, &from_m, &to_m);
    double factor_1 = basis == NULL ? 1.0 : layout_area_factor(*basis, eave->area_pitch_1);
    return eave_area(eave, from_m, to_m) * factor_1;
}

static double stretch_area(const struct layout_walk *walk, size_t line,
                           struct layout_stretch stretch, const enum job_basis *basis) {
    double area_m2 = 0.0;
    double at_m = stretch.low_m;
    struct part part;
    while (next_part(walk->layout, line, stretch, &at_m, &part)) {
        area_m2 += part_area(walk, &part, basis);
    }
    struct stream_search search = {.line = line, .stretch = stretch};
    struct stream stream;
    while (next_stream(walk, &search, &stream)) {
        double factor_1 = basis == NULL ? 1.0 : layout_area_factor(*basis, stream.pour->pitch_1);
        area_m2 += stream.share_1 * stream.pour->plan_area_m2 * factor_1;
    }
    return area_m2;
}

double layout_stretch_area(const struct layout_walk *walk, size_t line,
                           struct layout_stretch stretch, enum job_basis basis) {
    return stretch_area(walk, line, stretch, &basis);
}

double layout_stretch_plan_area(const struct layout_walk *walk, size_t line,
                                struct layout_stretch stretch) {
    return stretch_area(walk, line, stretch, NULL);
}

/* ---- corners on the way ------------------------------------------------------------------------
 */

static const double HALF_TURN_RAD = 3.14159265358979323846;

static double mitre_loss(const struct layout_walk *walk, size_t run) {
    const struct job_run_end *end =
        &walk->input->roof->eaves[walk->layout->runs[run].eave].from_end;
    return hydraulics_mitre_loss(HALF_TURN_RAD - end->corner_rad);
}

size_t layout_find_bends(const struct layout_walk *walk, size_t line_index,
                         struct layout_stretch stretch, struct hydraulics_bend *bends) {
    const struct layout *layout = walk->layout;
    const struct layout_line *line = &layout->lines[line_index];
    size_t count = 0;
    for (int lap = line->is_ring ? -1 : 0; lap <= (line->is_ring ? 1 : 0); lap++) {
        for (size_t i = line->is_ring ? 0 : 1; i < line->run_count; i++) {
            size_t run = line->first_run + i;
            double at_m = layout->runs[run].line_start_m + lap * line->length_m;
            if (at_m <= stretch.low_m + GEOMETRY_EVENT_M ||
                at_m >= stretch.high_m - GEOMETRY_EVENT_M) {
                continue;
            }
            if (bends != NULL) {
                bends[count] = (struct hydraulics_bend){at_m, mitre_loss(walk, run)};
            }
            count++;
        }
    }
    return count;
}

/* Of one reach, from its still end on. */
static bool gather_bends(const struct layout_walk *walk, struct layout_stretch stretch,
                         const struct layout_reach *reach, struct hydraulics_channel *channel) {
    size_t count = layout_find_bends(walk, reach->line, stretch, NULL);
    struct hydraulics_bend *bends = base_take(walk->arena, count + 1, sizeof *bends);
    if (bends == NULL) {
        return false;
    }
    layout_find_bends(walk, reach->line, stretch, bends);
    for (size_t i = 0; i < count; i++) {
        bends[i].x_m = fabs(bends[i].x_m - reach->still_m);
    }
    for (size_t i = 0; !reach->towards_right && i < count / 2; i++) {
        struct hydraulics_bend kept = bends[i];
        bends[i] = bends[count - 1 - i];
        bends[count - 1 - i] = kept;
    }
    channel->bends = bends;
    channel->bend_count = count;
    return true;
}

/* ---- the channel --------------------------------------------------------------------------- */

/* Inflow gathered along rising line coordinate, before it is turned to run from the still end. */
struct gathered {
    struct hydraulics_knot *knots;
    size_t knot_count;
    size_t knot_capacity;
    struct hydraulics_point *points;
    size_t point_count;
    size_t point_capacity;
};

static void add_knot(struct base_arena *arena, struct gathered *all, double x_m,
                     double lateral_m2s) {
    struct hydraulics_knot *knots =
        base_grow(arena, all->knots, &all->knot_capacity, all->knot_count, sizeof *knots);
    if (knots != NULL) {
        all->knots = knots;
        all->knots[all->knot_count++] = (struct hydraulics_knot){x_m, lateral_m2s};
    }
}

static void add_point(struct base_arena *arena, struct gathered *all, double x_m, double flow_m3s) {
    struct hydraulics_point *points =
        base_grow(arena, all->points, &all->point_capacity, all->point_count, sizeof *points);
    if (points != NULL) {
        all->points = points;
        all->points[all->point_count++] = (struct hydraulics_point){x_m, flow_m3s};
    }
}

static double width_at(const struct roof_knot *a, const struct roof_knot *b, double x_m) {
    double width_m = a->width_m + (b->width_m - a->width_m) * (x_m - a->x_m) / (b->x_m - a->x_m);
    return fmax(width_m, 0.0); /* at a knot of 0 the last bit may fall below it */
}

/* Knots of one part, in line coordinate. */
static void gather_knots(const struct layout_walk *walk, const struct part *part, double rate_mps,
                         struct gathered *all) {
    const struct layout_run *run = &walk->layout->runs[part->run];
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    double shift_m = units_m_of_tick(run->shift_tick);
    double from_m = part->from_m - shift_m;
    double to_m = part->to_m - shift_m;
    double rate = rate_mps * layout_area_factor(walk->layout->area, eave->area_pitch_1);
    for (size_t i = 0; i + 1 < eave->knot_count; i++) {
        const struct roof_knot *a = &eave->knots[i];
        const struct roof_knot *b = &eave->knots[i + 1];
        double low_m = fmax(a->x_m, from_m);
        double high_m = fmin(b->x_m, to_m);
        if (high_m > low_m) {
            double line_m = part->base_m + shift_m;
            add_knot(walk->arena, all, line_m + low_m, rate * width_at(a, b, low_m));
            add_knot(walk->arena, all, line_m + high_m, rate * width_at(a, b, high_m));
        }
    }
}

static void gather_points(const struct layout_walk *walk, size_t line,
                          struct layout_stretch stretch, struct gathered *all) {
    struct stream_search search = {.line = line, .stretch = stretch};
    struct stream stream;
    while (next_stream(walk, &search, &stream)) {
        double area_m2 = stream.share_1 * stream.pour->plan_area_m2 *
                         layout_area_factor(walk->layout->area, stream.pour->pitch_1);
        add_point(walk->arena, all, fmin(fmax(stream.line_m, stretch.low_m), stretch.high_m),
                  walk->input->rain_mps * area_m2);
    }
}

static double knots_flow(const struct gathered *all) {
    double flow_m3s = 0.0;
    for (size_t i = 0; i + 1 < all->knot_count; i++) {
        flow_m3s += (all->knots[i + 1].x_m - all->knots[i].x_m) *
                    (all->knots[i].lateral_m2s + all->knots[i + 1].lateral_m2s) / 2;
    }
    for (size_t i = 0; i < all->point_count; i++) {
        flow_m3s += all->points[i].flow_m3s;
    }
    return flow_m3s;
}

static void sort_points(struct gathered *all) {
    for (size_t i = 1; i < all->point_count; i++) {
        struct hydraulics_point moved = all->points[i];
        size_t at = i;
        while (at > 0 && all->points[at - 1].x_m > moved.x_m) {
            all->points[at] = all->points[at - 1];
            at--;
        }
        all->points[at] = moved;
    }
}

/* From line coordinate to distance from the still end; a reach towards the left is turned round. */
static void turn_to_still(struct gathered *all, const struct layout_reach *reach) {
    for (size_t i = 0; i < all->knot_count; i++) {
        all->knots[i].x_m = fabs(all->knots[i].x_m - reach->still_m);
    }
    for (size_t i = 0; i < all->point_count; i++) {
        all->points[i].x_m = fabs(all->points[i].x_m - reach->still_m);
    }
    for (size_t i = 0; !reach->towards_right && i < all->knot_count / 2; i++) {
        struct hydraulics_knot kept = all->knots[i];
        all->knots[i] = all->knots[all->knot_count - 1 - i];
        all->knots[all->knot_count - 1 - i] = kept;
    }
    sort_points(all);
}

/* The knots must begin at 0 and end at the length: bare stretches (past a roof edge) take no water.
 */
static void close_knots(struct base_arena *arena, struct gathered *all, double length_m) {
    struct gathered whole = {.points = all->points, .point_count = all->point_count};
    double at_m = 0.0;
    for (size_t i = 0; i < all->knot_count; i++) {
        /* never back: two parts that meet may differ in the last bit */
        double x_m = fmin(fmax(all->knots[i].x_m, at_m), length_m);
        if (x_m > at_m + GEOMETRY_EVENT_M && i % 2 == 0) { /* a gap between two parts */
            add_knot(arena, &whole, at_m, 0.0);
            add_knot(arena, &whole, x_m, 0.0);
        }
        add_knot(arena, &whole, x_m, all->knots[i].lateral_m2s);
        at_m = x_m;
    }
    if (whole.knot_count == 0 || at_m < length_m) {
        add_knot(arena, &whole, at_m, 0.0);
        add_knot(arena, &whole, length_m, 0.0);
    }
    if (whole.knot_count > 0 && whole.knots[0].x_m > 0.0) {
        whole.knots[0].x_m = 0.0;
    }
    *all = whole;
}

bool layout_channel(const struct layout_walk *walk, const struct layout_reach *reach,
                    struct layout_stretch water, struct hydraulics_channel *channel) {
    const struct layout *layout = walk->layout;
    double rate_mps = walk->input->rain_mps;
    struct layout_stretch stretch = {fmin(reach->still_m, reach->outlet_m),
                                     fmax(reach->still_m, reach->outlet_m)};
    struct gathered all = {0};
    double at_m = stretch.low_m;
    struct part part;
    while (next_part(layout, reach->line, stretch, &at_m, &part)) {
        gather_knots(walk, &part, rate_mps, &all);
    }
    gather_points(walk, reach->line, stretch, &all);
    turn_to_still(&all, reach);
    double length_m = stretch.high_m - stretch.low_m;
    close_knots(walk->arena, &all, length_m);
    /* What the reach carries beyond its own channel (a stub behind the outlet, the inch at a
       corner) joins at the outlet, so that the flow there is the whole. */
    double whole_m3s = rate_mps * layout_stretch_area(walk, reach->line, water, layout->area);
    double rest_m3s = whole_m3s - knots_flow(&all);
    if (rest_m3s > 0.0) {
        add_point(walk->arena, &all, length_m, rest_m3s);
    }
    channel->length_m = length_m;
    channel->slope_1 = reach->slope_1;
    channel->manning_1 = layout->manning_1;
    channel->knots = all.knots;
    channel->knot_count = all.knot_count;
    channel->points = all.points;
    channel->point_count = all.point_count;
    return gather_bends(walk, stretch, reach, channel) && !base_arena_failed(walk->arena);
}
