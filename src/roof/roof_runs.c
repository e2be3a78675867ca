/* SPDX-License-Identifier: Apache-2.0 */
/* The tape path: each run is one eave with the same depth of roof behind it all along. */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

#define ROOF_PI          3.14159265358979323846
#define ROOF_RING_OPEN_M 0.025 /* a taped ring that closes nearer than this is closed */
#define ROOF_CHAIN_GAP_M 2.0   /* between chains that nothing ties together in plan */
#define ROOF_ANGLE_LEAST 0.017 /* a degree: flatter or sharper is no corner */

static bool is_corner(const struct job_run_end *end) {
    return end->kind == JOB_END_OUTSIDE || end->kind == JOB_END_INSIDE;
}

/* How far the walk turns to the left: at an outside corner the house, on the left, is walked
 * round; at an inside corner the walk turns away from it. */
static double turn_at(const struct job_run_end *end) {
    double turn_rad = ROOF_PI - end->corner_rad;
    return end->kind == JOB_END_OUTSIDE ? turn_rad : -turn_rad;
}

static void check_run(struct roof_build *build, const struct job_run *run) {
    const char *missing = NULL;
    if (!run->length.given || run->length.tick <= 0) {
        missing = "length";
    } else if (!run->depth.given || run->depth.tick <= 0) {
        missing = "depth";
    } else if (!run->pitch.given) {
        missing = "pitch";
    }
    if (missing != NULL) {
        roof_say(build, BASE_ISSUE_ROOF_RUN_INCOMPLETE, run->mark, run->name,
                 base_value_string(missing));
    }
    const struct job_run_end *ends[] = {&run->from, &run->to};
    for (int i = 0; i < 2; i++) {
        if (is_corner(ends[i]) && !(ends[i]->corner_rad > ROOF_ANGLE_LEAST &&
                                    ends[i]->corner_rad < ROOF_PI - ROOF_ANGLE_LEAST)) {
            roof_say(build, BASE_ISSUE_ROOF_CORNER_ANGLE, ends[i]->mark, run->name,
                     base_value_number(BASE_UNIT_RAD, ends[i]->corner_rad));
        }
    }
}

/* An eave that sags more than a sound one does: L/360, COMMON PRACTICE. */
static void check_sag(struct roof_build *build, size_t index) {
    static const int64_t SOUND = 360;
    const struct job_run *run = &build->job->runs[index];
    int64_t most_tick = build->roof->eaves[index].length_tick / SOUND;
    if (run->sag.given && run->sag.tick > most_tick) {
        base_add_issue(build->issues, (struct base_issue){.code = BASE_ISSUE_ROOF_EAVE_SAGS,
                                                          .mark = run->sag.mark,
                                                          .object = run->name,
                                                          .value = base_value_tick(run->sag.tick),
                                                          .limit = base_value_tick(most_tick)});
    }
}

static void join(struct roof_build *build, size_t here, size_t after) {
    const struct job_run *run = &build->job->runs[here];
    const struct job_run *next = &build->job->runs[after];
    if (run->to.kind != next->from.kind ||
        fabs(run->to.corner_rad - next->from.corner_rad) > ROOF_ANGLE_LEAST / 10) {
        struct base_issue issue = {.code = BASE_ISSUE_ROOF_CORNER_MISMATCH,
                                   .mark = next->from.mark,
                                   .object = next->name,
                                   .other = base_value_text(run->name)};
        base_add_issue(build->issues, issue);
        return;
    }
    build->roof->eaves[here].next = after;
    build->roof->eaves[after].previous = here;
}

/* Consecutive runs join where the one ends and the other begins at a corner; the last joins the
 * first likewise. A corner that meets none is said. */
static void join_runs(struct roof_build *build) {
    const struct job *job = build->job;
    for (size_t i = 0; i < job->run_count; i++) {
        size_t after = (i + 1) % job->run_count;
        bool ends = is_corner(&job->runs[i].to);
        bool begins = is_corner(&job->runs[after].from);
        bool wraps = after == 0;
        if (ends && begins && after != i) {
            join(build, i, after);
        } else if (ends != begins && !wraps) {
            struct base_issue issue = {.code = BASE_ISSUE_ROOF_CORNER_MISMATCH,
                                       .mark = job->runs[after].from.mark,
                                       .object = job->runs[after].name,
                                       .other = base_value_text(job->runs[i].name)};
            base_add_issue(build->issues, issue);
        } else {
            if (ends) {
                roof_say(build, BASE_ISSUE_ROOF_CORNER_OPEN, job->runs[i].to.mark,
                         job->runs[i].name, base_value_string("to"));
            }
            if (begins) {
                roof_say(build, BASE_ISSUE_ROOF_CORNER_OPEN, job->runs[after].from.mark,
                         job->runs[after].name, base_value_string("from"));
            }
        }
    }
}

/*
 * From the wall's corner to the roof edge's corner along this eave, outward positive. With the
 * eave along x and the house to the left, its roof edge is y = -own; the neighbour's, turned by
 * turn, is x sin(turn) - y cos(turn) = other. Source: plane geometry.
 */
static double find_corner_shift(double turn_rad, double own_m, double other_m) {
    return (other_m - own_m * cos(turn_rad)) / sin(turn_rad);
}

static double find_end_shift(struct roof_build *build, size_t index, bool at_to) {
    const struct job_run *run = &build->job->runs[index];
    const struct roof_eave *eave = &build->roof->eaves[index];
    const struct job_run_end *end = at_to ? &run->to : &run->from;
    if (end->kind == JOB_END_WALL) {
        return 0;
    }
    if (end->kind == JOB_END_CAP) {
        roof_say(build, BASE_ISSUE_ROOF_LENGTH_AT_GABLE, run->length.mark, run->name,
                 base_value_string(at_to ? "to" : "from"));
        return 0;
    }
    if (!run->overhang.given) {
        roof_say(build, BASE_ISSUE_ROOF_OVERHANG_NEEDED, run->length.mark, run->name,
                 base_value_string(at_to ? "to" : "from"));
        return 0;
    }
    double own_m = units_m_of_tick(run->overhang.tick);
    size_t beyond = at_to ? eave->next : eave->previous;
    double other_m = own_m;
    if (beyond != ROOF_NONE && build->job->runs[beyond].overhang.given) {
        other_m = units_m_of_tick(build->job->runs[beyond].overhang.tick);
    }
    return find_corner_shift(turn_at(end), own_m, other_m);
}

/* A length taped along the wall becomes the length of the roof edge. */
static void find_length(struct roof_build *build, size_t index) {
    const struct job_run *run = &build->job->runs[index];
    struct roof_eave *eave = &build->roof->eaves[index];
    eave->length_tick = run->length.tick;
    switch (run->taped_on) {
    case JOB_LINE_ROOF_EDGE:
        break;
    case JOB_LINE_WOOD_FACE:
        roof_say(build, BASE_ISSUE_ROOF_WOOD_FACE_TAKEN, run->length.mark, run->name,
                 base_value_tick(run->length.tick));
        break;
    case JOB_LINE_WALL:
        eave->length_tick += units_tick_of_m(find_end_shift(build, index, false));
        eave->length_tick += units_tick_of_m(find_end_shift(build, index, true));
        if (eave->length_tick <= 0) {
            roof_say(build, BASE_ISSUE_ROOF_RUN_INCOMPLETE, run->length.mark, run->name,
                     base_value_string("length that outlasts its corners"));
        }
        break;
    }
}

static double find_depth(const struct job_run *run) {
    double depth_m = units_m_of_tick(run->depth.tick);
    /* Along the slope -> level: cos(atan(pitch)). */
    return run->depth_up_the_roof ? depth_m / sqrt(1 + run->pitch.value * run->pitch.value)
                                  : depth_m;
}

static void fill_eave(struct roof_build *build, size_t index, struct roof_eave *eave) {
    const struct job_run *run = &build->job->runs[index];
    *eave = (struct roof_eave){.name = run->name,
                               .wing = ROOF_NONE,
                               .edge = -1,
                               .run = index,
                               .pitch_1 = run->pitch.given ? run->pitch.value : 0,
                               .has_height = run->eave_height.given,
                               .has_overhang = run->overhang.given,
                               .no_wall = run->no_wall,
                               .from_end = run->from,
                               .to_end = run->to,
                               .next = ROOF_NONE,
                               .previous = ROOF_NONE};
    eave->eave_height_m = run->eave_height.given ? units_m_of_tick(run->eave_height.tick) : 0;
    eave->overhang_m = run->overhang.given ? units_m_of_tick(run->overhang.tick) : 0;
    eave->section = roof_choose_section(build->job, run->has_section, &run->section);
}

static void fill_knots(struct roof_build *build, size_t index) {
    struct roof_eave *eave = &build->roof->eaves[index];
    double depth_m = find_depth(&build->job->runs[index]);
    double length_m = units_m_of_tick(eave->length_tick);
    eave->knots = base_take(build->arena, 2, sizeof *eave->knots);
    if (eave->knots == NULL) {
        build->failed = true;
        return;
    }
    const struct job_length *above = &build->job->runs[index].wall_above;
    double wall_m = above->given ? roof_wall_width(build->job, units_m_of_tick(above->tick)) : 0;
    eave->knots[0] = (struct roof_knot){0, depth_m + wall_m};
    eave->knots[1] = (struct roof_knot){length_m, depth_m + wall_m};
    eave->knot_count = 2;
    eave->wall_area_m2 = wall_m * length_m;
    eave->plan_area_m2 = depth_m * length_m + eave->wall_area_m2;
}

/*
 * The kite between the two eaves' depths, squared off at a corner. At an inside corner neither eave
 * has it behind its length: it drains down the valley. At an outside corner both have it: it is
 * counted twice. Source: plane geometry; 90 degrees gives depth times depth.
 */
static double find_kite(double turn_rad, double one_m, double two_m) {
    double sine = sin(turn_rad);
    double along_one_m = (two_m - one_m * cos(turn_rad)) / sine;
    double along_two_m = (one_m - two_m * cos(turn_rad)) / sine;
    return 0.5 * (one_m * fmax(along_one_m, 0) + two_m * fmax(along_two_m, 0));
}

static void pour_corner(struct roof_build *build, size_t onto, size_t beyond, bool at_to) {
    struct roof_eave *eave = &build->roof->eaves[onto];
    const struct job_run *run = &build->job->runs[onto];
    const struct job_run *other = beyond == ROOF_NONE ? run : &build->job->runs[beyond];
    const struct job_run_end *end = at_to ? &run->to : &run->from;
    struct roof_pour *pour = roof_add_pour(build);
    if (pour == NULL) {
        return;
    }
    double turn_rad = ROOF_PI - end->corner_rad;
    pour->x_m = at_to ? units_m_of_tick(eave->length_tick) : 0;
    pour->plan_area_m2 = find_kite(turn_rad, find_depth(run), find_depth(other));
    pour->pitch_1 = fmax(run->pitch.value, other->pitch.value);
    pour->from = roof_name_pour(build, run->name, ".valley.", at_to ? 2 : 1);
    pour->onto = eave->name;
    struct base_issue issue = {.code = BASE_ISSUE_ROOF_RUN_VALLEY,
                               .mark = end->mark,
                               .object = run->name,
                               .value = base_value_number(BASE_UNIT_M2, pour->plan_area_m2)};
    base_add_issue(build->issues, issue);
}

/* Valleys pour at the `from` end of the eave that follows (at `to` where none is known). */
static void pour_corners(struct roof_build *build) {
    double twice_m2 = 0;
    for (size_t i = 0; i < build->job->run_count && !build->failed; i++) {
        const struct job_run *run = &build->job->runs[i];
        const struct roof_eave *eave = &build->roof->eaves[i];
        if (run->from.kind == JOB_END_INSIDE) {
            pour_corner(build, i, eave->previous, false);
        }
        if (run->to.kind == JOB_END_INSIDE && eave->next == ROOF_NONE) {
            pour_corner(build, i, ROOF_NONE, true);
        }
        if (run->to.kind == JOB_END_OUTSIDE && eave->next != ROOF_NONE) {
            twice_m2 += find_kite(turn_at(&run->to), find_depth(run),
                                  find_depth(&build->job->runs[eave->next]));
        }
    }
    if (twice_m2 > 0) {
        roof_say(build, BASE_ISSUE_ROOF_RUN_HIP, build->job->runs[0].mark, build->job->runs[0].name,
                 base_value_number(BASE_UNIT_M2, twice_m2));
    }
}

static struct geometry_point find_heading(double heading_rad) {
    return (struct geometry_point){cos(heading_rad), sin(heading_rad)};
}

/* Lays one chain from start along +x; gives its lowest and highest y. */
static void lay_chain(struct roof_build *build, size_t head, struct geometry_point span_y[2]) {
    struct roof *roof = build->roof;
    struct geometry_point at = {0, 0};
    double heading_rad = 0;
    double low_m = 0;
    double high_m = 0;
    size_t index = head;
    for (;;) {
        struct roof_eave *eave = &roof->eaves[index];
        double depth_m = find_depth(&build->job->runs[index]);
        struct geometry_point along = find_heading(heading_rad);
        eave->from = at;
        at = geometry_add(at, geometry_scale(along, units_m_of_tick(eave->length_tick)));
        eave->to = at;
        double ridge_m = fmax(eave->from.y_m, at.y_m) + fmax(along.x_m, 0) * depth_m;
        double back_m = fmin(eave->from.y_m, at.y_m) + fmin(along.x_m, 0) * depth_m;
        high_m = fmax(high_m, ridge_m);
        low_m = fmin(low_m, back_m);
        if (eave->next == ROOF_NONE || eave->next == head) {
            break;
        }
        heading_rad += turn_at(&eave->to_end);
        index = eave->next;
    }
    span_y[0].y_m = low_m;
    span_y[1].y_m = high_m;
}

static void move_chain(struct roof *roof, size_t head, double up_m) {
    size_t index = head;
    do {
        roof->eaves[index].from.y_m += up_m;
        roof->eaves[index].to.y_m += up_m;
        index = roof->eaves[index].next;
    } while (index != ROOF_NONE && index != head);
}

/* The tape walks all the way round: does it come back to where it began? Of three runs or more
 * measure judges that, by the doubt of every length and corner; two cannot close. */
static void check_ring(struct roof_build *build) {
    struct roof *roof = build->roof;
    const struct job *job = build->job;
    if (job->run_count > 2) {
        return;
    }
    double limit_m = ROOF_RING_OPEN_M;
    for (size_t i = 0; i < job->run_count; i++) {
        limit_m += units_m_of_tick(job->runs[i].length.doubt_tick);
    }
    double open_m = geometry_distance(roof->eaves[job->run_count - 1].to, roof->eaves[0].from);
    if (open_m > limit_m) {
        struct base_issue issue = {.code = BASE_ISSUE_ROOF_RING_OPEN,
                                   .mark = job->runs[job->run_count - 1].mark,
                                   .object = job->runs[job->run_count - 1].name,
                                   .value = base_value_number(BASE_UNIT_M, open_m),
                                   .limit = base_value_number(BASE_UNIT_M, limit_m)};
        base_add_issue(build->issues, issue);
    }
}

/* Chains that no corner ties together stand below each other in plan: where they truly stand was
 * not said. */
static void lay_runs(struct roof_build *build) {
    struct roof *roof = build->roof;
    double below_m = 0;
    bool first = true;
    bool has_head = false;
    for (size_t i = 0; i < build->job->run_count; i++) {
        if (roof->eaves[i].previous != ROOF_NONE) {
            continue;
        }
        struct geometry_point span_y[2];
        has_head = true;
        lay_chain(build, i, span_y);
        if (!first) {
            move_chain(roof, i, below_m - ROOF_CHAIN_GAP_M - span_y[1].y_m);
            below_m += span_y[0].y_m - span_y[1].y_m - ROOF_CHAIN_GAP_M;
        } else {
            below_m = span_y[0].y_m;
        }
        first = false;
    }
    if (!has_head) { /* every run has one before it: a ring */
        struct geometry_point span_y[2];
        lay_chain(build, 0, span_y);
        check_ring(build);
    }
}

void roof_find_runs(struct roof_build *build) {
    const struct job *job = build->job;
    if (job->run_count == 0) {
        return;
    }
    for (size_t i = 0; i < job->run_count; i++) {
        check_run(build, &job->runs[i]);
        struct roof_eave *eave = roof_add_eave(build);
        if (eave == NULL) {
            return;
        }
        fill_eave(build, i, eave);
    }
    join_runs(build);
    if (roof_is_stopped(build)) {
        return;
    }
    for (size_t i = 0; i < job->run_count; i++) {
        find_length(build, i);
        check_sag(build, i);
        fill_knots(build, i);
        const struct roof_eave *eave = &build->roof->eaves[i];
        build->roof->plan_area_m2 += eave->plan_area_m2 - eave->wall_area_m2;
        build->roof->wall_area_m2 += eave->wall_area_m2;
    }
    if (build->failed || roof_is_stopped(build)) {
        return;
    }
    lay_runs(build);
    pour_corners(build);
    for (size_t i = 0; i < build->roof->pour_count; i++) {
        build->roof->plan_area_m2 += build->roof->pours[i].plan_area_m2;
    }
}
