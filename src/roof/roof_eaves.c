/* SPDX-License-Identifier: Apache-2.0 */
/* Eaves of wings: where an edge's strips reach it, how its ends stand, what comes down along it. */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

#define ROOF_PI 3.14159265358979323846

/* ---- the stretches of an edge that are eaves --------------------------------------------------
 */

static struct roof_part *add_part(struct roof_house *house) {
    struct roof_part *parts = base_grow(house->build->arena, house->parts, &house->part_room,
                                        house->part_count, sizeof *parts);
    if (parts == NULL) {
        house->build->failed = true;
        return NULL;
    }
    house->parts = parts;
    return &parts[house->part_count++];
}

/* Joins the strips of one slope that reach its edge side by side. Cells of a slope stand in the
 * order of its pieces, so the leftmost that is not yet in a part is looked for each time. */
static void list_parts(struct roof_house *house, size_t slope) {
    size_t end = house->slopes[slope].end_cell;
    for (;;) {
        struct roof_part *part = NULL;
        for (;;) {
            struct roof_cell *next = NULL;
            for (size_t i = house->slopes[slope].first_cell; i < end; i++) {
                struct roof_cell *cell = &house->cells[i];
                if (cell->way == ROOF_WAY_EAVE && cell->part == ROOF_NONE &&
                    (next == NULL || cell->s_m[0] < next->s_m[0])) {
                    next = cell;
                }
            }
            if (next == NULL || (part != NULL && next->s_m[0] - part->s_m[1] > ROOF_NEAR_M)) {
                break;
            }
            if (part == NULL) {
                part = add_part(house);
                if (part == NULL) {
                    return;
                }
                *part = (struct roof_part){.slope = slope, .s_m = {next->s_m[0], next->s_m[1]}};
            }
            part->s_m[1] = fmax(part->s_m[1], next->s_m[1]);
            next->part = house->part_count - 1;
        }
        if (part == NULL) {
            return;
        }
    }
}

/* Ends of the edge are exact; other places are rounded once. */
static int64_t find_tick(const struct roof_slope *slope, double s_m) {
    if (fabs(s_m) <= ROOF_NEAR_M) {
        return 0;
    }
    if (fabs(s_m - units_m_of_tick(slope->length_tick)) <= ROOF_NEAR_M) {
        return slope->length_tick;
    }
    return units_tick_of_m(s_m);
}

/* "hall.3", or "hall.3b" for the second of several stretches. */
static struct base_text name_eave(struct roof_build *build, const struct roof_slope *slope,
                                  size_t nth, size_t of) {
    struct base_builder name = {.arena = build->arena};
    base_add_text(&name, build->job->wings[slope->wing].name);
    base_add_char(&name, '.');
    base_add_integer(&name, slope->edge + 1);
    if (of > 1 && nth < 26) {
        base_add_char(&name, (char)('a' + (int)nth));
    } else if (of > 1) {
        base_add_char(&name, 'z');
        base_add_integer(&name, (int64_t)nth);
    }
    return base_built(&name);
}

static void make_eave(struct roof_house *house, size_t part_index, size_t nth, size_t of) {
    struct roof_build *build = house->build;
    struct roof_part *part = &house->parts[part_index];
    const struct roof_slope *slope = &house->slopes[part->slope];
    const struct job_wing *wing = &build->job->wings[slope->wing];
    struct roof_eave *eave = roof_add_eave(build);
    if (eave == NULL) {
        return;
    }
    part->eave = build->roof->eave_count - 1;
    part->x_m = 0;
    int64_t from_tick = find_tick(slope, part->s_m[0]);
    *eave = (struct roof_eave){.name = name_eave(build, slope, nth, of),
                               .wing = slope->wing,
                               .edge = slope->edge,
                               .run = ROOF_NONE,
                               .from = roof_place(slope, part->s_m[0], 0),
                               .to = roof_place(slope, part->s_m[1], 0),
                               .length_tick = find_tick(slope, part->s_m[1]) - from_tick,
                               .tail_shift_tick = from_tick,
                               .pitch_1 = slope->pitch_1,
                               .area_pitch_1 = slope->area_pitch_1,
                               .eave_height_m = slope->eave_z_m,
                               .has_height = wing->eave_height.given,
                               .has_overhang = wing->overhang.given,
                               .next = ROOF_NONE,
                               .previous = ROOF_NONE};
    eave->overhang_m = wing->overhang.given ? units_m_of_tick(wing->overhang.tick) : 0;
    const struct job_section *own =
        wing->edge_sections == NULL ? NULL : &wing->edge_sections[eave->edge];
    eave->section = own != NULL && own->wood != JOB_WOOD_UNKNOWN
                        ? *own
                        : roof_choose_section(build->job, wing->has_section, &wing->section);
}

/* ---- eaves in one line ------------------------------------------------------------------------
 */

static struct geometry_point heading(const struct roof_eave *eave) {
    struct geometry_point along = geometry_subtract(eave->to, eave->from);
    return geometry_scale(along, 1 / hypot(along.x_m, along.y_m));
}

static bool meets(const struct roof_eave *one, const struct roof_eave *next) {
    return fabs(one->eave_height_m - next->eave_height_m) <= ROOF_LEVEL_M &&
           fabs(one->to.x_m - next->from.x_m) <= ROOF_ABUT_M &&
           geometry_distance(one->to, next->from) <= ROOF_ABUT_M;
}

static bool runs_on(const struct roof_eave *one, const struct roof_eave *next) {
    if (!meets(one, next)) {
        return false;
    }
    struct geometry_point u = heading(one);
    struct geometry_point v = heading(next);
    return fabs(geometry_cross(u, v)) < 1e-6 && geometry_dot(u, v) > 0;
}

static void drop_eave(struct roof_house *house, size_t gone) {
    struct roof *roof = house->build->roof;
    for (size_t i = gone; i + 1 < roof->eave_count; i++) {
        roof->eaves[i] = roof->eaves[i + 1];
    }
    roof->eave_count--;
    for (size_t i = 0; i < house->part_count; i++) {
        if (house->parts[i].eave > gone) {
            house->parts[i].eave--;
        }
    }
}

/* The second eave runs on from the first: they become one, by the first's name. */
static void append_eave(struct roof_house *house, size_t first, size_t second) {
    struct roof_build *build = house->build;
    struct roof_eave *one = &build->roof->eaves[first];
    const struct roof_eave *two = &build->roof->eaves[second];
    double gap_m = geometry_dot(heading(one), geometry_subtract(two->from, one->to));
    gap_m = fabs(gap_m) > ROOF_NEAR_M ? gap_m : 0; /* what rounding left between them */
    double shift_m = units_m_of_tick(one->length_tick) + gap_m;
    base_add_issue(build->issues, (struct base_issue){.code = BASE_ISSUE_ROOF_EAVE_MERGED,
                                                      .mark = build->job->wings[two->wing].mark,
                                                      .object = one->name,
                                                      .other = base_value_text(two->name)});
    for (size_t i = 0; i < house->part_count; i++) {
        if (house->parts[i].eave == second) {
            house->parts[i].eave = first;
            house->parts[i].x_m += shift_m;
        }
    }
    one->to = two->to;
    one->length_tick += units_tick_of_m(gap_m) + two->length_tick;
    one->pitch_1 = fmax(one->pitch_1, two->pitch_1);
    one->area_pitch_1 = fmax(one->area_pitch_1, two->area_pitch_1);
    drop_eave(house, second);
}

static void merge_eaves(struct roof_house *house, size_t first) {
    struct roof *roof = house->build->roof;
    bool merged = true;
    while (merged) {
        merged = false;
        for (size_t i = first; i < roof->eave_count && !merged; i++) {
            for (size_t k = first; k < roof->eave_count && !merged; k++) {
                if (i != k && runs_on(&roof->eaves[i], &roof->eaves[k])) {
                    append_eave(house, i, k);
                    merged = true;
                }
            }
        }
    }
}

/* ---- ends -------------------------------------------------------------------------------------
 */

/* Where two run back to back, a slit between two roofs, no gutter goes round. */
#define ROOF_SLIT_RAD (5 * ROOF_PI / 180)

static double turn_between(const struct roof_eave *one, const struct roof_eave *next) {
    return atan2(geometry_cross(heading(one), heading(next)),
                 geometry_dot(heading(one), heading(next)));
}

static void join_corner(struct roof_eave *eaves, size_t here, size_t after) {
    double turn_rad = turn_between(&eaves[here], &eaves[after]);
    struct job_run_end end = {.kind = turn_rad > 0 ? JOB_END_OUTSIDE : JOB_END_INSIDE,
                              .corner_rad = ROOF_PI - fabs(turn_rad)};
    end.mark = eaves[here].to_end.mark;
    eaves[here].to_end = end;
    end.mark = eaves[after].from_end.mark;
    eaves[after].from_end = end;
    eaves[here].next = after;
    eaves[after].previous = here;
}

static void join_corners(struct roof_build *build, size_t first) {
    struct roof *roof = build->roof;
    for (size_t i = first; i < roof->eave_count; i++) {
        for (size_t k = first; k < roof->eave_count; k++) {
            struct roof_eave *one = &roof->eaves[i];
            struct roof_eave *two = &roof->eaves[k];
            if (i != k && one->next == ROOF_NONE && two->previous == ROOF_NONE && meets(one, two) &&
                fabs(turn_between(one, two)) < ROOF_PI - ROOF_SLIT_RAD) {
                join_corner(roof->eaves, i, k);
            }
        }
    }
}

/* Something stands in the way of the gutter just beyond the end: a roof or wall above it. */
static bool is_walled(const struct roof_house *house, const struct roof_eave *eave, bool at_to) {
    struct geometry_point u = heading(eave);
    struct geometry_point at = at_to ? eave->to : eave->from;
    struct geometry_point beyond =
        geometry_add(at, geometry_scale(u, at_to ? ROOF_PROBE_M : -ROOF_PROBE_M));
    struct geometry_point out = {u.y_m, -u.x_m};
    for (int side = -1; side <= 1; side++) {
        struct geometry_point probe =
            geometry_add(beyond, geometry_scale(out, side * ROOF_PROBE_M / 4));
        size_t slope = roof_seen_at(house, probe);
        if (slope != ROOF_NONE && geometry_height(house->slopes[slope].plane, probe) >
                                      eave->eave_height_m + ROOF_LEVEL_M / 100) {
            return true;
        }
    }
    return false;
}

/* The wing's next edge round this end was said to be a wall, and the eave reaches it. */
static bool ends_at_wall_edge(const struct roof_house *house, const struct roof_eave *eave,
                              bool at_to) {
    const struct job_wing *wing = &house->build->job->wings[eave->wing];
    int count = (int)house->plans[eave->wing].count;
    int beside = (eave->edge + (at_to ? 1 : count - 1)) % count;
    int corner = (eave->edge + (at_to ? 1 : 0)) % count;
    struct geometry_point end = at_to ? eave->to : eave->from;
    return wing->edges[beside] == JOB_EDGE_WALL &&
           geometry_distance(end, house->plans[eave->wing].corners[corner]) <= ROOF_NEAR_M;
}

static void choose_ends(struct roof_house *house, struct roof_eave *eave) {
    struct base_mark mark = house->build->job->wings[eave->wing].mark;
    for (int at_to = 0; at_to < 2; at_to++) {
        struct job_run_end *end = at_to ? &eave->to_end : &eave->from_end;
        if ((at_to ? eave->next : eave->previous) == ROOF_NONE) {
            bool walled =
                is_walled(house, eave, at_to != 0) || ends_at_wall_edge(house, eave, at_to != 0);
            end->kind = walled ? JOB_END_WALL : JOB_END_CAP;
            end->corner_rad = ROOF_PI / 2;
        }
        end->mark = mark;
    }
}

/* An eave with a higher roof close in front of it: often a wall edge that was called an eave. */
static void check_against(struct roof_house *house) {
    size_t said = ROOF_NONE;
    for (size_t i = 0; i < house->cell_count; i++) {
        const struct roof_cell *cell = &house->cells[i];
        if (cell->way != ROOF_WAY_EAVE || cell->beyond == ROOF_NONE) {
            continue;
        }
        const struct roof_slope *slope = &house->slopes[cell->slope];
        struct geometry_point middle = roof_place(slope, 0.5 * (cell->s_m[0] + cell->s_m[1]), 0);
        size_t eave = house->parts[cell->part].eave;
        double beyond_m = geometry_height(house->slopes[cell->beyond].plane, middle);
        if (eave != said && beyond_m > slope->eave_z_m - ROOF_LEVEL_M) {
            said = eave;
            roof_say(house->build, BASE_ISSUE_ROOF_EAVE_AGAINST,
                     house->build->job->wings[slope->wing].mark,
                     house->build->roof->eaves[eave].name, (struct base_value){0});
        }
    }
}

/* ---- eaves under a higher eave ------------------------------------------------------------------
 */

/* How deep inside its plan: the least distance to an edge's line. */
static double find_depth(const struct roof_plan *plan, struct geometry_point at) {
    double least_m = (double)INFINITY;
    for (size_t edge = 0; edge < plan->count; edge++) {
        struct geometry_point a = plan->corners[edge];
        struct geometry_point along = geometry_subtract(plan->corners[(edge + 1) % plan->count], a);
        double inside_m =
            geometry_cross(along, geometry_subtract(at, a)) / hypot(along.x_m, along.y_m);
        least_m = fmin(least_m, inside_m);
    }
    return least_m;
}

/* The hidden stretch from s_m to the edge's end, and that end, lie under the overhang of a higher
 * roof: the gutter runs on below it to the wall, though no rain falls there. */
static bool runs_under(const struct roof_house *house, const struct roof_slope *slope, double s_m,
                       double end_m) {
    static const double CLEAR_M = 0.15; /* room for a gutter under the soffit */
    if (fabs(end_m - s_m) <= ROOF_NEAR_M) {
        return false;
    }
    struct geometry_point middle = roof_place(slope, 0.5 * (s_m + end_m), ROOF_PROBE_M);
    size_t above = roof_seen_at(house, middle);
    if (above == ROOF_NONE || house->slopes[above].wing == slope->wing) {
        return false;
    }
    const struct job_wing *over = &house->build->job->wings[house->slopes[above].wing];
    double depth_m =
        find_depth(&house->plans[house->slopes[above].wing], roof_place(slope, end_m, 0));
    return over->overhang.given && depth_m >= -ROOF_NEAR_M &&
           depth_m <= units_m_of_tick(over->overhang.tick) + ROOF_NEAR_M &&
           house->slopes[above].eave_z_m > slope->eave_z_m + CLEAR_M;
}

static void reach_under(struct roof_house *house, struct roof_part *part) {
    const struct roof_slope *slope = &house->slopes[part->slope];
    double length_m = units_m_of_tick(slope->length_tick);
    if (runs_under(house, slope, part->s_m[0], 0)) {
        part->s_m[0] = 0;
    }
    if (runs_under(house, slope, part->s_m[1], length_m)) {
        part->s_m[1] = length_m;
    }
}

void roof_find_eaves(struct roof_house *house) {
    struct roof *roof = house->build->roof;
    size_t first = roof->eave_count;
    for (size_t slope = 0; slope < house->slope_count && !house->build->failed; slope++) {
        list_parts(house, slope);
    }
    if (!house->build->failed && !roof_reserve_eaves(house->build, house->part_count)) {
        return;
    }
    size_t before = 0; /* parts of one slope stand side by side */
    for (size_t i = 0; i < house->part_count && !house->build->failed; i++) {
        size_t end = i;
        before = house->parts[before].slope == house->parts[i].slope ? before : i;
        while (end < house->part_count && house->parts[end].slope == house->parts[i].slope) {
            end++;
        }
        reach_under(house, &house->parts[i]);
        make_eave(house, i, i - before, end - before);
    }
    if (house->build->failed) {
        return;
    }
    merge_eaves(house, first);
    join_corners(house->build, first);
    for (size_t i = first; i < roof->eave_count; i++) {
        choose_ends(house, &roof->eaves[i]);
    }
    check_against(house);
}

/* ---- what comes down ----------------------------------------------------------------------------
 */

/* The part of a cell whose rain the inflow is. */
static void add_strip(struct roof_house *house, const struct roof_inflow *inflow,
                      struct roof_pieces *pieces) {
    const struct roof_cell *cell = inflow->from;
    double s_m[2] = {fmin(inflow->from_s_m[0], inflow->from_s_m[1]),
                     fmax(inflow->from_s_m[0], inflow->from_s_m[1])};
    struct geometry_polygon strip = cell->outline;
    bool whole = s_m[0] <= cell->s_m[0] + ROOF_NEAR_M && s_m[1] >= cell->s_m[1] - ROOF_NEAR_M;
    if (!whole &&
        !roof_clip_strip(house, &house->slopes[cell->slope], &cell->outline, s_m, &strip)) {
        house->build->failed = true;
        return;
    }
    if (strip.count > 0) {
        roof_add_piece(house->build, pieces, cell->slope, &strip);
    }
}

static void fill_catchment(struct roof_house *house, size_t index) {
    struct roof_build *build = house->build;
    struct roof_eave *eave = &build->roof->eaves[index];
    struct roof_pieces *pieces = &house->spare;
    pieces->count = 0;
    const size_t *first = house->inflows.first;
    for (size_t i = first[index]; i < first[index + 1] && !build->failed; i++) {
        if (house->inflows.items[i].from != NULL) {
            add_strip(house, &house->inflows.items[i], pieces);
        }
    }
    roof_merge_pieces(build, pieces);
    eave->catchment = base_take(build->arena, pieces->count, sizeof *eave->catchment);
    if (eave->catchment == NULL) {
        build->failed = true;
        return;
    }
    for (size_t i = 0; i < pieces->count; i++) {
        eave->catchment[i] = pieces->items[i].outline;
    }
    eave->catchment_count = pieces->count;
}

void roof_fill_eaves(struct roof_house *house) {
    struct roof *roof = house->build->roof;
    roof_sort_inflows(house->build, &house->inflows);
    double *places = roof_take_places(house->build, &house->inflows);
    for (size_t i = 0; i < roof->eave_count && !house->build->failed; i++) {
        if (roof->eaves[i].wing != ROOF_NONE) {
            roof_fill_knots(house->build, &house->inflows, i, places);
            fill_catchment(house, i);
        }
    }
}
