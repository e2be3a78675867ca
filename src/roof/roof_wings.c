/* SPDX-License-Identifier: Apache-2.0 */
/* The plan path: wings to plans and slopes, and the order of the work. */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

#define ROOF_QUARTER_RAD 1.57079632679489661923
enum { ROOF_WINGS_MAX = 32 };

static bool has_pitch(const struct job_wing *wing, int edge) {
    return wing->edge_pitch[edge].given || wing->pitch.given;
}

static double find_pitch(const struct job_wing *wing, int edge) {
    return wing->edge_pitch[edge].given ? wing->edge_pitch[edge].value : wing->pitch.value;
}

static void check_wing(struct roof_build *build, const struct job_wing *wing) {
    int eaves = 0;
    const char *missing = NULL;
    size_t count = job_count_edges(wing);
    bool deck = wing->deck.given;
    bool sized =
        wing->width.given && wing->width.tick > 0 && wing->depth.given && wing->depth.tick > 0;
    if (count == 0 || (wing->shape == JOB_SHAPE_RECTANGLE && !sized)) {
        missing = "size";
    }
    for (int edge = 0; edge < (int)count; edge++) {
        if (wing->edges[edge] != JOB_EDGE_EAVE) {
            continue;
        }
        eaves++;
        if (!has_pitch(wing, edge)) {
            missing = "pitch";
        } else if (!(find_pitch(wing, edge) > 0)) {
            roof_say(build, BASE_ISSUE_ROOF_WING_FLAT, wing->mark, wing->name,
                     base_value_count(edge + 1));
        }
    }
    if (missing != NULL) {
        roof_say(build, BASE_ISSUE_ROOF_WING_INCOMPLETE, wing->mark, wing->name,
                 base_value_string(missing));
    }
    if (eaves == 0 && !deck) {
        roof_say(build, BASE_ISSUE_ROOF_WING_NO_EAVE, wing->mark, wing->name,
                 (struct base_value){0});
    }
}

/* Which roof stands higher decides where every valley runs: heights are all said or none. */
static void check_heights(struct roof_build *build) {
    const struct job *job = build->job;
    size_t given = 0;
    for (size_t i = 0; i < job->wing_count; i++) {
        given += job->wings[i].eave_height.given;
    }
    if (given == job->wing_count || job->wing_count == 1) {
        return;
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        const struct job_wing *wing = &job->wings[i];
        if (given > 0 && !wing->eave_height.given) {
            roof_say(build, BASE_ISSUE_ROOF_HEIGHT_MISSING, wing->mark, wing->name,
                     (struct base_value){0});
        }
    }
    if (given == 0) {
        roof_say(build, BASE_ISSUE_ROOF_HEIGHTS_ONE, job->wings[0].mark, job->wings[0].name,
                 base_value_count((int64_t)job->wing_count));
    }
}

static struct geometry_point turn_point(struct geometry_point at, double turn_rad) {
    double quarters_1 = turn_rad / ROOF_QUARTER_RAD;
    double whole_1 = round(quarters_1);
    double cosine = cos(turn_rad);
    double sine = sin(turn_rad);
    if (fabs(quarters_1 - whole_1) < 1e-12) { /* a quarter turn keeps ticks whole */
        int quarter = (int)fmod(fmod(whole_1, 4) + 4, 4);
        static const double COSINES[] = {1, 0, -1, 0};
        static const double SINES[] = {0, 1, 0, -1};
        cosine = COSINES[quarter];
        sine = SINES[quarter];
    }
    return (struct geometry_point){cosine * at.x_m - sine * at.y_m,
                                   sine * at.x_m + cosine * at.y_m};
}

static struct geometry_point unit_along(const struct roof_plan *plan, size_t edge) {
    struct geometry_point along =
        geometry_subtract(plan->corners[(edge + 1) % plan->count], plan->corners[edge]);
    return geometry_scale(along, 1 / hypot(along.x_m, along.y_m));
}

static struct geometry_point left_of_unit(struct geometry_point along) {
    return (struct geometry_point){-along.y_m, along.x_m};
}

static size_t find_host(const struct job *job, const struct job_wing *bay) {
    for (size_t i = 0; i < job->wing_count; i++) {
        if (base_text_equal(job->wings[i].name, bay->against.eave)) {
            return i;
        }
    }
    return ROOF_NONE;
}

/* The reader has seen that the host stands before the bay in the file. */
static void stand_bay(const struct job *job, const struct job_wing *bay, struct roof_plan *plan) {
    size_t host = find_host(job, bay);
    if (host == ROOF_NONE || &job->wings[host] >= bay) {
        return;
    }
    struct roof_plan behind;
    roof_make_plan(job, host, &behind);
    size_t edge = (size_t)bay->against.edge - 1;
    const struct job_wing *wing = &job->wings[host];
    struct geometry_point u = unit_along(&behind, edge);
    struct geometry_point inward = left_of_unit(u);
    bool over = wing->edges[edge] == JOB_EDGE_EAVE && wing->overhang.given;
    double to_wall_m = over ? units_m_of_tick(wing->overhang.tick) : 0;
    struct geometry_point middle =
        geometry_add(behind.corners[edge],
                     geometry_add(geometry_scale(u, units_m_of_tick(bay->against.distance_tick)),
                                  geometry_scale(inward, to_wall_m)));
    for (size_t i = 0; i < plan->count; i++) {
        struct geometry_point at = plan->corners[i];
        plan->corners[i] = geometry_add(
            middle, geometry_add(geometry_scale(u, at.x_m), geometry_scale(inward, at.y_m)));
    }
}

static void make_rectangle(const struct job_wing *wing, struct roof_plan *plan) {
    double width_m = units_m_of_tick(wing->width.tick);
    double depth_m = units_m_of_tick(wing->depth.tick);
    struct geometry_point square[] = {{0, 0}, {width_m, 0}, {width_m, depth_m}, {0, depth_m}};
    plan->count = JOB_WING_EDGES;
    for (size_t i = 0; i < plan->count; i++) {
        plan->corners[i] = square[i];
    }
}

void roof_make_plan(const struct job *job, size_t index, struct roof_plan *plan) {
    const struct job_wing *wing = &job->wings[index];
    *plan = (struct roof_plan){
        .eave_z_m = wing->eave_height.given ? units_m_of_tick(wing->eave_height.tick) : 0};
    if (wing->shape == JOB_SHAPE_RECTANGLE) {
        make_rectangle(wing, plan);
    } else {
        plan->count = job_make_polygon(wing, plan->corners);
    }
    if (wing->shape == JOB_SHAPE_BAY) {
        stand_bay(job, wing, plan);
    } else {
        /* From the first wing's corner, in whole ticks: a house moved is the same house. */
        struct geometry_point corner = {
            units_m_of_tick(wing->corner_x_tick - job->wings[0].corner_x_tick),
            units_m_of_tick(wing->corner_y_tick - job->wings[0].corner_y_tick)};
        for (size_t i = 0; i < plan->count; i++) {
            plan->corners[i] = geometry_add(corner, turn_point(plan->corners[i], wing->turn_rad));
        }
    }
    plan->outline = (struct geometry_polygon){plan->corners, plan->count};
}

/* The plan run on beyond each wall edge, far enough to leave every other wing behind: what lies
 * inside all edges that are not walls. */
static bool make_reach(struct roof_build *build, const struct job_wing *wing, double far_m,
                       struct roof_plan *plan) {
    struct geometry_point *box = base_take(build->arena, JOB_WING_EDGES, sizeof *box);
    if (box == NULL) {
        return false;
    }
    struct geometry_point u = unit_along(plan, 0);
    struct geometry_point n = left_of_unit(u);
    static const double SIGNS[JOB_WING_EDGES][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    for (size_t i = 0; i < JOB_WING_EDGES; i++) {
        struct geometry_point away =
            geometry_add(geometry_scale(u, SIGNS[i][0]), geometry_scale(n, SIGNS[i][1]));
        box[i] = geometry_add(plan->corners[0], geometry_scale(away, far_m));
    }
    plan->reach = (struct geometry_polygon){box, JOB_WING_EDGES};
    for (size_t edge = 0; edge < plan->count; edge++) {
        if (wing->edges[edge] == JOB_EDGE_WALL) {
            continue;
        }
        struct geometry_point inward = left_of_unit(unit_along(plan, edge));
        struct geometry_plane inside = {inward.x_m, inward.y_m,
                                        -geometry_dot(inward, plan->corners[edge])};
        struct geometry_polygon before = plan->reach;
        if (!geometry_clip(build->arena, &before, inside, &plan->reach)) {
            return false;
        }
    }
    return true;
}

static void make_slope(const struct job_wing *wing, const struct roof_plan *plan, int edge,
                       struct roof_slope *slope) {
    static const struct geometry_point ALONG[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    bool square = wing->shape == JOB_SHAPE_RECTANGLE;
    size_t from = (size_t)edge;
    slope->edge = edge;
    slope->origin = plan->corners[edge];
    slope->along = square ? turn_point(ALONG[edge], wing->turn_rad) : unit_along(plan, from);
    slope->inward = left_of_unit(slope->along);
    slope->pitch_1 = find_pitch(wing, edge);
    slope->area_pitch_1 = slope->pitch_1;
    slope->other = ROOF_NONE;
    slope->eave_z_m = plan->eave_z_m;
    double length_m =
        geometry_distance(plan->corners[from], plan->corners[(from + 1) % plan->count]);
    int64_t said_tick = edge % 2 == 0 ? wing->width.tick : wing->depth.tick;
    bool as_said = square && fabs(length_m - units_m_of_tick(said_tick)) < GEOMETRY_EVENT_M;
    slope->length_tick = as_said ? said_tick : units_tick_of_m(length_m);
    slope->plane.a_1 = slope->pitch_1 * slope->inward.x_m;
    slope->plane.b_1 = slope->pitch_1 * slope->inward.y_m;
    slope->plane.c_m =
        slope->eave_z_m - slope->pitch_1 * geometry_dot(slope->inward, slope->origin);
}

/* The roof that goes on from the break: the same edge, higher up. */
static void make_upper(const struct job_wing *wing, struct roof_house *house) {
    size_t below = house->slope_count - 1;
    struct roof_slope *lower = &house->slopes[below];
    struct roof_slope *upper = &house->slopes[house->slope_count++];
    double begins_m = units_m_of_tick(wing->upper_begins.tick);
    double pitch_1 = wing->upper_pitch.value;
    lower->area_pitch_1 = fmax(lower->pitch_1, pitch_1);
    lower->begins_m = begins_m;
    *upper = *lower;
    lower->other = below + 1;
    upper->other = below;
    upper->upper = true;
    upper->pitch_1 = pitch_1;
    upper->plane.a_1 = pitch_1 * upper->inward.x_m;
    upper->plane.b_1 = pitch_1 * upper->inward.y_m;
    upper->plane.c_m = lower->eave_z_m + (lower->pitch_1 - pitch_1) * begins_m -
                       pitch_1 * geometry_dot(upper->inward, upper->origin);
}

/* One level slope, told by its scupper's edge. */
static void make_deck(const struct job_wing *wing, size_t index, struct roof_house *house) {
    struct roof_slope *slope = &house->slopes[house->slope_count++];
    slope->wing = index;
    make_slope(wing, &house->plans[index], wing->deck.edge, slope);
    slope->flat = true;
    house->has_deck = true;
    slope->pitch_1 = 0;
    slope->plane = (struct geometry_plane){0, 0, slope->eave_z_m};
}

/* Every corner of every wing lies within this of every other. */
static double find_extent(const struct roof_house *house) {
    double extent_m = 1;
    struct geometry_point first = house->plans[0].corners[0];
    for (size_t i = 0; i < house->build->job->wing_count; i++) {
        for (size_t k = 0; k < house->plans[i].count; k++) {
            extent_m = fmax(extent_m, geometry_distance(first, house->plans[i].corners[k]));
        }
    }
    return 2 * extent_m;
}

/* How far the edge lies off the other's line, outwards; false when it does not lie along it. */
static bool find_gap(const struct roof_plan *plan, size_t edge, const struct roof_plan *other,
                     size_t along, double *gap_m) {
    struct geometry_point a = plan->corners[edge];
    struct geometry_point b = plan->corners[(edge + 1) % plan->count];
    struct geometry_point from = other->corners[along];
    struct geometry_point u = unit_along(other, along);
    double length_m = geometry_distance(from, other->corners[(along + 1) % other->count]);
    if (geometry_dot(u, unit_along(plan, edge)) > -1 + ROOF_EVEN_1) {
        return false;
    }
    double left_m = geometry_dot(u, geometry_subtract(b, from));
    double right_m = geometry_dot(u, geometry_subtract(a, from));
    *gap_m = geometry_dot(left_of_unit(u), geometry_subtract(from, a));
    return fabs(*gap_m) <= ROOF_ABUT_M && right_m > 0 && left_m < length_m;
}

/* Moves a wall edge that stands a hair off another wing onto it: there is no slit between two
 * roofs; the edges beside it grow. */
static void abut_edge(struct roof_house *house, size_t wing, size_t edge) {
    struct roof_plan *plan = &house->plans[wing];
    for (size_t k = 0; k < house->build->job->wing_count; k++) {
        const struct roof_plan *other = &house->plans[k];
        if (k == wing || !geometry_boxes_meet(&plan->box, &other->box, 2 * ROOF_ABUT_M)) {
            continue;
        }
        for (size_t along = 0; along < other->count; along++) {
            double gap_m;
            if (!find_gap(plan, edge, other, along, &gap_m)) {
                continue;
            }
            size_t next = (edge + 1) % plan->count;
            struct geometry_point n = left_of_unit(unit_along(plan, edge));
            struct geometry_point before = unit_along(plan, (edge + plan->count - 1) % plan->count);
            struct geometry_point after = unit_along(plan, next);
            double back_m = gap_m / geometry_dot(n, after);
            double on_m = gap_m / geometry_dot(n, before);
            plan->corners[edge] =
                geometry_subtract(plan->corners[edge], geometry_scale(before, on_m));
            plan->corners[next] =
                geometry_subtract(plan->corners[next], geometry_scale(after, back_m));
            plan->box = geometry_find_box(&plan->outline);
            return;
        }
    }
}

static void abut_walls(struct roof_house *house) {
    const struct job *job = house->build->job;
    for (size_t i = 0; i < job->wing_count; i++) {
        for (size_t edge = 0; edge < house->plans[i].count; edge++) {
            if (job->wings[i].edges[edge] == JOB_EDGE_WALL) {
                abut_edge(house, i, edge);
            }
        }
    }
}

static bool make_slopes(struct roof_house *house) {
    struct roof_build *build = house->build;
    const struct job *job = build->job;
    house->plans = base_take(build->arena, job->wing_count, sizeof *house->plans);
    size_t edges = 0;
    for (size_t i = 0; house->plans != NULL && i < job->wing_count; i++) {
        roof_make_plan(job, i, &house->plans[i]);
        house->plans[i].outline.points = house->plans[i].corners;
        house->plans[i].box = geometry_find_box(&house->plans[i].outline);
        edges += house->plans[i].count;
    }
    house->slopes = base_take(build->arena, 2 * edges, sizeof *house->slopes);
    if (house->plans == NULL || house->slopes == NULL) {
        build->failed = true;
        return false;
    }
    abut_walls(house);
    double extent_m = find_extent(house);
    for (size_t i = 0; i < job->wing_count; i++) {
        if (!make_reach(build, &job->wings[i], extent_m, &house->plans[i])) {
            build->failed = true;
            return false;
        }
        if (job->wings[i].deck.given) {
            make_deck(&job->wings[i], i, house);
            continue;
        }
        for (int edge = 0; edge < (int)house->plans[i].count; edge++) {
            if (job->wings[i].edges[edge] == JOB_EDGE_EAVE) {
                struct roof_slope *slope = &house->slopes[house->slope_count++];
                slope->wing = i;
                make_slope(&job->wings[i], &house->plans[i], edge, slope);
                if (job->wings[i].upper_begins.given && job->wings[i].upper_pitch.given &&
                    job->wings[i].upper_pitch.value != slope->pitch_1) {
                    make_upper(&job->wings[i], house);
                }
            }
        }
    }
    return true;
}

static void list_faces(struct roof_house *house) {
    for (size_t i = 0; i < house->seen.count; i++) {
        const struct roof_piece *piece = &house->seen.items[i];
        const struct roof_slope *slope = &house->slopes[piece->slope];
        struct roof_face *face = roof_add_face(house->build);
        if (face == NULL) {
            return;
        }
        *face = (struct roof_face){slope->wing, slope->edge, slope->plane, piece->outline,
                                   geometry_area(&piece->outline)};
        house->build->roof->plan_area_m2 += face->plan_area_m2;
    }
}

static void check_hidden(struct roof_house *house) {
    const struct job *job = house->build->job;
    for (size_t i = 0; i < job->wing_count; i++) {
        bool seen = false;
        for (size_t k = 0; k < house->seen.count && !seen; k++) {
            seen = house->slopes[house->seen.items[k].slope].wing == i;
        }
        if (!seen) {
            roof_say(house->build, BASE_ISSUE_ROOF_WING_HIDDEN, job->wings[i].mark,
                     job->wings[i].name, (struct base_value){0});
        }
    }
}

static void sum_lost(struct roof_house *house) {
    house->build->roof->ground_plan_area_m2 += house->ground_m2;
    house->build->roof->stray_plan_area_m2 += house->stray_m2;
}

static void walk_house(struct roof_build *build) {
    struct roof_house house = {.build = build};
    static void (*const STEPS[])(struct roof_house *) = {
        roof_find_cover,     list_faces,      check_hidden,    roof_find_cells, roof_find_eaves,
        roof_list_stretches, roof_send_water, roof_fill_eaves, roof_draw_lines, sum_lost};
    bool going = make_slopes(&house);
    for (size_t i = 0; going && i < sizeof STEPS / sizeof STEPS[0]; i++) {
        STEPS[i](&house);
        going = !build->failed && !base_arena_failed(build->arena);
    }
}

/* Twice: without saddles, to see where walls stand across slopes; then with them. */
static void find_with_saddles(struct roof_build *build) {
    const struct job *said = build->job;
    struct job with = *said;
    struct roof_house plain = {.build = build};
    size_t issues = build->issues->count;
    size_t *owners =
        base_take(build->arena, said->wing_count * (JOB_EDGES_MAX + 1), sizeof *owners);
    if (owners == NULL || !make_slopes(&plain)) {
        build->failed = true;
        return;
    }
    roof_find_cover(&plain);
    build->issues->count = issues; /* said once more below */
    if (build->failed || !roof_make_saddles(&plain, &with, owners)) {
        return;
    }
    build->job = &with;
    walk_house(build);
    build->job = said;
    roof_own_saddles(build->roof, said->wing_count, owners);
}

void roof_find_wings(struct roof_build *build) {
    const struct job *job = build->job;
    if (job->wing_count == 0) {
        return;
    }
    if (job->wing_count > ROOF_WINGS_MAX) {
        roof_say(build, BASE_ISSUE_ROOF_TOO_MANY_WINGS, job->wings[ROOF_WINGS_MAX].mark,
                 job->wings[ROOF_WINGS_MAX].name, base_value_count(ROOF_WINGS_MAX));
        return;
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        check_wing(build, &job->wings[i]);
    }
    check_heights(build);
    if (roof_is_stopped(build)) {
        return;
    }
    if (roof_wants_saddles(job)) {
        find_with_saddles(build);
    } else {
        walk_house(build);
    }
}
