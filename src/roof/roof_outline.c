/* SPDX-License-Identifier: Apache-2.0 */
/* The footprint path: checks, the straight skeleton, eaves and their ends, lines. */
#include "roof/roof_outline.h"
#include "units/units.h"

#include <assert.h>
#include <math.h>

#define ROOF_PI      3.14159265358979323846
#define STRAIGHT_RAD (ROOF_PI / 180) /* eaves that turn less are one eave */

/* ---- as walked ---------------------------------------------------------------------------------
 */

/* Rings as they are walked: the house on the left hand, so courtyards the other way round. */
static bool walk_rings(struct roof_outlined *house) {
    const struct job_outline *job = &house->build->job->outline;
    struct base_arena *arena = house->build->arena;
    struct geometry_corner *corners = base_take(arena, job->edge_count, sizeof *corners);
    struct geometry_ring *rings = base_take(arena, job->ring_count, sizeof *rings);
    house->edges = base_take(arena, job->edge_count, sizeof *house->edges);
    if (corners == NULL || rings == NULL || house->edges == NULL) {
        house->build->failed = true;
        return false;
    }
    size_t first = 0;
    for (size_t r = 0; r < job->ring_count; r++) {
        size_t count = job->counts[r];
        rings[r] = (struct geometry_ring){&job->corners[first], count};
        bool turned = geometry_is_clockwise(&rings[r]) != (r > 0);
        for (size_t i = 0; i < count; i++) {
            size_t corner = turned ? count - 1 - i : i;
            corners[first + i] = job->corners[first + corner];
            house->edges[first + i] =
                (struct roof_edge){.written = first + (turned ? (2 * count - 2 - i) % count : i),
                                   .next = first + (i + 1 == count ? 0 : i + 1),
                                   .previous = first + (i == 0 ? count : i) - 1,
                                   .eave = ROOF_NONE};
        }
        rings[r].corners = &corners[first];
        first += count;
    }
    house->edge_count = first;
    house->outline = (struct geometry_outline){rings, job->ring_count};
    return true;
}

static double pitch_of(const struct job_outline *job, size_t written) {
    return job->pitches[written].given ? job->pitches[written].value : job->pitch.value;
}

/* ---- what is refused ---------------------------------------------------------------------------
 */

static void refuse(struct roof_outlined *house, enum base_issue_code code, size_t walked,
                   struct base_issue issue) {
    const struct job_outline *job = &house->build->job->outline;
    issue.code = code;
    issue.object = job->name;
    issue.mark = walked == ROOF_NONE ? job->mark : job->marks[house->edges[walked].written];
    base_add_issue(house->build->issues, issue);
}

static size_t count_on(const struct roof_outlined *house, size_t ring, size_t edge) {
    for (size_t r = 0; r < ring; r++) {
        edge += house->outline.rings[r].count;
    }
    return edge;
}

static struct base_value number_of(const struct roof_outlined *house, size_t walked) {
    return base_value_count((int64_t)house->edges[walked].written + 1);
}

static void check_shape(struct roof_outlined *house) {
    struct geometry_outline_check check = geometry_check_outline(&house->outline);
    size_t at = count_on(house, check.ring, check.edge);
    size_t other = count_on(house, check.other_ring, check.other_edge);
    struct base_issue issue = {.value = number_of(house, at), .other = number_of(house, other)};
    switch (check.fault) {
    case GEOMETRY_OUTLINE_FINE:
        break;
    case GEOMETRY_OUTLINE_TOO_FEW: /* the reader has counted */
    case GEOMETRY_OUTLINE_TOO_WIDE:
        refuse(house, BASE_ISSUE_ROOF_OUTLINE_WIDE, ROOF_NONE, (struct base_issue){0});
        break;
    case GEOMETRY_OUTLINE_SHORT:
        refuse(house, BASE_ISSUE_ROOF_OUTLINE_SHORT, at, issue);
        break;
    case GEOMETRY_OUTLINE_SPIKE:
        issue.value = number_of(house, at);
        issue.other = number_of(house, house->edges[at].previous);
        refuse(house, BASE_ISSUE_ROOF_OUTLINE_SPIKE, at, issue);
        break;
    case GEOMETRY_OUTLINE_CROSSES:
        refuse(house, BASE_ISSUE_ROOF_OUTLINE_CROSSES, other, issue);
        break;
    case GEOMETRY_OUTLINE_OUTSIDE:
        issue.value = base_value_count((int64_t)check.ring);
        refuse(house, BASE_ISSUE_ROOF_OUTLINE_HOLE, at, issue);
        break;
    }
}

static void check_edges(struct roof_outlined *house) {
    const struct job_outline *job = &house->build->job->outline;
    size_t eaves = 0;
    for (size_t i = 0; i < house->edge_count; i++) {
        bool given = job->pitches[i].given || job->pitch.given;
        if (job->gables[i]) {
            continue;
        }
        eaves++;
        if (!given) {
            roof_say(house->build, BASE_ISSUE_ROOF_WING_INCOMPLETE, job->mark, job->name,
                     base_value_string("pitch"));
            return;
        }
        if (!(pitch_of(job, i) > 0)) {
            roof_say(house->build, BASE_ISSUE_ROOF_WING_FLAT, job->marks[i], job->name,
                     base_value_count((int64_t)i + 1));
        }
    }
    if (eaves == 0) {
        roof_say(house->build, BASE_ISSUE_ROOF_OUTLINE_NO_EAVE, job->mark, job->name,
                 (struct base_value){0});
    }
    if (house->build->job->wing_count > 0) {
        roof_say(house->build, BASE_ISSUE_ROOF_OUTLINE_APART, job->mark, job->name,
                 (struct base_value){0});
    }
}

/* ---- the roof itself ----------------------------------------------------------------- */

static bool find_skeleton(struct roof_outlined *house) {
    const struct job_outline *job = &house->build->job->outline;
    double *speeds_1 = base_take(house->build->arena, house->edge_count, sizeof *speeds_1);
    if (speeds_1 == NULL) {
        house->build->failed = true;
        return false;
    }
    for (size_t i = 0; i < house->edge_count; i++) {
        struct roof_edge *edge = &house->edges[i];
        edge->gable = job->gables[edge->written];
        edge->wall = job->walls != NULL && job->walls[edge->written];
        edge->bare = job->no_gutter[edge->written] && !edge->gable;
        edge->pitch_1 = edge->gable ? 0 : pitch_of(job, edge->written);
        speeds_1[i] = edge->gable ? 0 : 1 / edge->pitch_1;
    }
    switch (
        geometry_find_skeleton(house->build->arena, &house->outline, speeds_1, &house->skeleton)) {
    case GEOMETRY_SKELETON_WHOLE:
        return true;
    case GEOMETRY_SKELETON_UNREACHED:
        refuse(house, BASE_ISSUE_ROOF_OUTLINE_BARE, ROOF_NONE, (struct base_issue){0});
        break;
    case GEOMETRY_SKELETON_LOST:
        refuse(house, BASE_ISSUE_ROOF_OUTLINE_LOST, ROOF_NONE, (struct base_issue){0});
        break;
    case GEOMETRY_SKELETON_NO_MEMORY:
        house->build->failed = true;
        break;
    }
    return false;
}

static void place_edges(struct roof_outlined *house) {
    assert(house->skeleton.nodes != NULL && "a whole skeleton has its nodes");
    for (size_t i = 0; i < house->edge_count; i++) {
        struct roof_edge *edge = &house->edges[i];
        edge->origin = house->skeleton.nodes[i].at;
        struct geometry_point along =
            geometry_subtract(house->skeleton.nodes[edge->next].at, edge->origin);
        edge->length_m = hypot(along.x_m, along.y_m);
        edge->along = geometry_scale(along, 1 / edge->length_m);
        edge->inward = (struct geometry_point){-edge->along.y_m, edge->along.x_m};
    }
}

/* ---- eaves ---------------------------------------------------------------------------- */

static bool has_gutter(const struct roof_edge *edge) {
    return !edge->gable && !edge->bare;
}

/* To the left positive. */
static double turn_between(const struct roof_edge *one, const struct roof_edge *two) {
    return atan2(geometry_cross(one->along, two->along), geometry_dot(one->along, two->along));
}

static bool goes_on(const struct roof_outlined *house, size_t first, size_t edge) {
    const struct roof_edge *next = &house->edges[house->edges[edge].next];
    return has_gutter(&house->edges[first]) && has_gutter(next) &&
           fabs(turn_between(&house->edges[first], next)) < STRAIGHT_RAD;
}

static struct base_text name_edge(struct roof_outlined *house, size_t edge) {
    struct base_builder name = {.arena = house->build->arena};
    base_add_text(&name, house->build->job->outline.name);
    base_add_char(&name, '.');
    base_add_integer(&name, (int64_t)house->edges[edge].written + 1);
    return base_built(&name);
}

static struct roof_eave *make_eave(struct roof_outlined *house, size_t edge) {
    const struct job_outline *job = &house->build->job->outline;
    struct roof_eave *eave = roof_add_eave(house->build);
    if (eave == NULL) {
        return NULL;
    }
    *eave = (struct roof_eave){.name = name_edge(house, edge),
                               .wing = ROOF_NONE,
                               .edge = (int)house->edges[edge].written,
                               .run = ROOF_NONE,
                               .of_outline = true,
                               .from = house->edges[edge].origin,
                               .eave_height_m = house->eave_z_m,
                               .has_height = job->eave_height.given,
                               .has_overhang = job->overhang.given,
                               .next = ROOF_NONE,
                               .previous = ROOF_NONE};
    eave->overhang_m = job->overhang.given ? units_m_of_tick(job->overhang.tick) : 0;
    eave->section = roof_choose_section(house->build->job, job->has_section, &job->section);
    return eave;
}

static void take_edge(struct roof_outlined *house, size_t index, size_t edge) {
    struct roof_eave *eave = &house->build->roof->eaves[index];
    struct roof_edge *of = &house->edges[edge];
    of->eave = index;
    of->x_m = units_m_of_tick(eave->length_tick);
    eave->length_tick += units_tick_of_m(of->length_m);
    eave->to = house->edges[of->next].origin;
    eave->pitch_1 = fmax(eave->pitch_1, of->pitch_1);
}

/* The eave that begins with this edge, and every edge that goes on from it in one line. */
static void follow_eave(struct roof_outlined *house, size_t first) {
    if (make_eave(house, first) == NULL) {
        return;
    }
    size_t index = house->build->roof->eave_count - 1;
    take_edge(house, index, first);
    for (size_t edge = first; goes_on(house, first, edge); edge = house->edges[edge].next) {
        size_t next = house->edges[edge].next;
        if (house->edges[next].eave != ROOF_NONE) {
            return;
        }
        take_edge(house, index, next);
        base_add_issue(house->build->issues,
                       (struct base_issue){.code = BASE_ISSUE_ROOF_EAVE_MERGED,
                                           .mark = house->build->job->outline.mark,
                                           .object = house->build->roof->eaves[index].name,
                                           .other = base_value_text(name_edge(house, next))});
    }
}

/* From an edge on that does not go on from the one before it. */
static void find_eaves(struct roof_outlined *house) {
    size_t first = 0;
    for (size_t r = 0; r < house->outline.count; r++) {
        size_t count = house->outline.rings[r].count;
        size_t start = first;
        while (start + 1 < first + count &&
               goes_on(house, house->edges[start].previous, house->edges[start].previous)) {
            start++;
        }
        for (size_t i = 0, edge = start; i < count; i++, edge = house->edges[edge].next) {
            if (has_gutter(&house->edges[edge]) && house->edges[edge].eave == ROOF_NONE &&
                !house->build->failed) {
                follow_eave(house, edge);
            }
        }
        first += count;
    }
}

/* ---- ends ----------------------------------------------------------------------------------- */

/* The corner after this edge: eaves that meet there are joined; a gable ends the eave free, or at a
 * wall where the house turns outward there; a wall edge ends it at that wall. */
static void end_edge(struct roof_outlined *house, size_t edge) {
    struct roof *roof = house->build->roof;
    struct roof_edge *one = &house->edges[edge];
    struct roof_edge *two = &house->edges[one->next];
    double turn_rad = turn_between(one, two);
    struct job_run_end end = {.kind = turn_rad > 0 ? JOB_END_OUTSIDE : JOB_END_INSIDE,
                              .corner_rad = ROOF_PI - fabs(turn_rad),
                              .mark = house->build->job->outline.mark};
    if (one->eave != ROOF_NONE && one->eave == two->eave) {
        return;
    }
    if (one->eave == ROOF_NONE || two->eave == ROOF_NONE) {
        bool walled = one->wall || two->wall || turn_rad <= 0;
        end.kind = walled ? JOB_END_WALL : JOB_END_CAP;
        end.corner_rad = ROOF_PI / 2;
    } else {
        roof->eaves[one->eave].next = two->eave;
        roof->eaves[two->eave].previous = one->eave;
    }
    if (one->eave != ROOF_NONE) {
        roof->eaves[one->eave].to_end = end;
    }
    if (two->eave != ROOF_NONE) {
        roof->eaves[two->eave].from_end = end;
    }
    if (end.corner_rad < STRAIGHT_RAD) {
        roof_say(house->build, BASE_ISSUE_ROOF_CORNER_ANGLE, house->build->job->outline.mark,
                 roof->eaves[one->eave].name, base_value_number(BASE_UNIT_RAD, end.corner_rad));
    }
}

static void end_eaves(struct roof_outlined *house) {
    for (size_t i = 0; i < house->edge_count; i++) {
        end_edge(house, i);
    }
}

/* ---- lines ---------------------------------------------------------------------------------- */

/* An arc at a gable stands on the gable's own edge, or is a wall inside the plan. */
static enum roof_line_kind gable_kind(const struct roof_outlined *house,
                                      const struct geometry_skeleton_arc *arc) {
    size_t sides[] = {arc->left, arc->right};
    for (int i = 0; i < 2; i++) {
        if (sides[i] == GEOMETRY_SKELETON_WALL || !house->edges[sides[i]].gable) {
            continue;
        }
        const struct roof_edge *edge = &house->edges[sides[i]];
        struct geometry_point middle = geometry_scale(
            geometry_add(house->skeleton.nodes[arc->from].at, house->skeleton.nodes[arc->to].at),
            0.5);
        double s_m = geometry_dot(edge->along, geometry_subtract(middle, edge->origin));
        if (s_m > 0 && s_m < edge->length_m) {
            return edge->wall ? ROOF_LINE_WALL : ROOF_LINE_GABLE;
        }
    }
    return ROOF_LINE_WALL;
}

static void add_line(struct roof_outlined *house, enum roof_line_kind kind, size_t from,
                     size_t to) {
    const struct geometry_skeleton_node *nodes = house->skeleton.nodes;
    struct roof_line *line = roof_add_line(house->build);
    if (line != NULL) {
        *line = (struct roof_line){kind, nodes[from].at, nodes[to].at,
                                   house->eave_z_m + nodes[from].height_m,
                                   house->eave_z_m + nodes[to].height_m};
    }
}

static void draw_lines(struct roof_outlined *house) {
    static const enum roof_line_kind KINDS[] = {ROOF_LINE_RIDGE, ROOF_LINE_HIP, ROOF_LINE_VALLEY};
    for (size_t i = 0; i < house->edge_count && !house->build->failed; i++) {
        if (!house->edges[i].gable) {
            add_line(house, house->edges[i].bare ? ROOF_LINE_BARE_EAVE : ROOF_LINE_EAVE, i,
                     house->edges[i].next);
        }
    }
    for (size_t i = 0; i < house->skeleton.arc_count && !house->build->failed; i++) {
        const struct geometry_skeleton_arc *arc = &house->skeleton.arcs[i];
        if (arc->kind == GEOMETRY_ARC_GABLE) {
            add_line(house, gable_kind(house, arc), arc->from, arc->to);
        } else if (arc->kind != GEOMETRY_ARC_SEAM) {
            add_line(house, KINDS[arc->kind], arc->from, arc->to);
        }
    }
}

/* ---- what it comes to ----------------------------------------------------------------------- */

static void say_lost_water(struct roof_outlined *house) {
    const struct job_outline *job = &house->build->job->outline;
    struct roof *roof = house->build->roof;
    roof->ground_plan_area_m2 += house->ground_m2;
    roof->stray_plan_area_m2 += house->stray_m2;
    if (house->trapped) {
        roof_say(house->build, BASE_ISSUE_ROOF_TRAPPED, job->mark, job->name,
                 (struct base_value){0});
    }
}

static bool is_fit(struct roof_outlined *house) {
    if (!walk_rings(house)) {
        return false;
    }
    check_edges(house);
    if (!roof_is_stopped(house->build)) {
        check_shape(house);
    }
    return !roof_is_stopped(house->build) && find_skeleton(house);
}

void roof_find_outline(struct roof_build *build) {
    const struct job_outline *job = &build->job->outline;
    if (!job->given) {
        return;
    }
    struct roof_outlined house = {
        .build = build,
        .first_eave = build->roof->eave_count,
        .eave_z_m = job->eave_height.given ? units_m_of_tick(job->eave_height.tick) : 0};
    if (!is_fit(&house)) {
        return;
    }
    place_edges(&house);
    static void (*const STEPS[])(struct roof_outlined *) = {
        find_eaves, end_eaves,     roof_cut_faces, roof_send_outline_water, roof_fill_outline_eaves,
        draw_lines, say_lost_water};
    for (size_t i = 0; i < sizeof STEPS / sizeof STEPS[0] && !build->failed; i++) {
        STEPS[i](&house);
    }
}

bool roof_is_on(const struct job *job, const struct roof_eave *eave,
                const struct job_outlet *place) {
    if (place->edge == 0) {
        return eave->run != ROOF_NONE && base_text_equal(job->runs[eave->run].name, place->eave);
    }
    bool named = eave->of_outline ? base_text_equal(job->outline.name, place->eave)
                                  : eave->wing != ROOF_NONE &&
                                        base_text_equal(job->wings[eave->wing].name, place->eave);
    return named && eave->edge == place->edge - 1;
}
