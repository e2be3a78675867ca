/* SPDX-License-Identifier: Apache-2.0 */
/* Who drains to whom, past the eaves with gutters: what goes over eaves that shall have none, and
 * what is lost, each with the edge it leaves by, so that a customer can be asked about the place.
 */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

#define ROOF_ON_EDGE_M 0.05 /* water that is lost nearer to an edge than this runs off it */
#define ROOF_TELL_M2   0.01 /* beside a greater loss a lesser one than this is not said */
#define ROOF_LOST_LEAST_M2                                                                         \
    0.005 /* less than a hand's breadth of roof is what rounding left between two wings */
#define ROOF_EIGHTH_RAD 0.78539816339744830962

struct base_text roof_name_edge(struct roof_build *build, struct base_text owner, int edge) {
    struct base_builder name = {.arena = build->arena};
    base_add_text(&name, owner);
    base_add_char(&name, '.');
    base_add_integer(&name, edge + 1);
    return base_built(&name);
}

void roof_add_link(struct roof_build *build, const struct roof_link *link) {
    struct roof *roof = build->roof;
    for (size_t i = 0; i < roof->link_count; i++) {
        struct roof_link *there = &roof->links[i];
        if (there->wing != link->wing || there->edge != link->edge || there->bare != link->bare ||
            there->scupper != link->scupper || there->end != link->end ||
            there->onto != link->onto) {
            continue;
        }
        if (link->area_m2 > there->most_m2) {
            there->most_m2 = link->area_m2;
            there->at = link->at;
            there->x_m = link->x_m;
        }
        there->area_m2 += link->area_m2;
        return;
    }
    struct roof_link *links =
        base_grow(build->arena, roof->links, &build->link_room, roof->link_count, sizeof *links);
    if (links == NULL) {
        build->failed = true;
        return;
    }
    roof->links = links;
    links[roof->link_count] = *link;
    links[roof->link_count].most_m2 = link->area_m2;
    roof->link_count++;
}

/* The place on the edge nearest to `at`, as a link's; gives how far away it is. */
static double find_on_edge(const struct roof_plan *plan, size_t edge, struct geometry_point at,
                           struct roof_link *link) {
    struct geometry_point a = plan->corners[edge];
    struct geometry_point b = plan->corners[(edge + 1) % plan->count];
    double length_m = geometry_distance(a, b);
    struct geometry_point u = geometry_scale(geometry_subtract(b, a), 1 / length_m);
    double x_m = fmin(fmax(geometry_dot(u, geometry_subtract(at, a)), 0), length_m);
    link->edge = (int)edge;
    link->x_m = x_m;
    return geometry_distance(at, geometry_add(a, geometry_scale(u, x_m)));
}

/* Nothing stands outside the edge there. */
static bool is_free(const struct roof_house *house, const struct roof_link *link) {
    const struct roof_plan *plan = &house->plans[link->wing];
    struct geometry_point a = plan->corners[link->edge];
    struct geometry_point b = plan->corners[((size_t)link->edge + 1) % plan->count];
    double length_m = geometry_distance(a, b);
    struct geometry_point u = geometry_scale(geometry_subtract(b, a), 1 / length_m);
    double x_m = fmin(fmax(link->x_m, 2 * ROOF_PROBE_M), length_m - 2 * ROOF_PROBE_M);
    struct geometry_point out = {u.y_m * ROOF_PROBE_M, -u.x_m * ROOF_PROBE_M};
    return roof_seen_at(house, geometry_add(geometry_add(a, geometry_scale(u, x_m)), out)) ==
           ROOF_NONE;
}

void roof_find_lost_edge(const struct roof_house *house, struct geometry_point at,
                         struct roof_link *link) {
    double least_m = (double)INFINITY;
    struct roof_link found = *link;
    found.at = at;
    for (size_t wing = 0; wing < house->build->job->wing_count; wing++) {
        for (size_t edge = 0; edge < house->plans[wing].count; edge++) {
            struct roof_link here = found;
            here.wing = wing;
            double away_m = find_on_edge(&house->plans[wing], edge, at, &here);
            here.end =
                away_m <= ROOF_ON_EDGE_M && is_free(house, &here) ? ROOF_END_LOST : ROOF_END_PIT;
            /* an edge that it can run off before any other */
            double rank_m = here.end == ROOF_END_LOST ? away_m : away_m + 2 * ROOF_ON_EDGE_M;
            if (rank_m < least_m - ROOF_NEAR_M) {
                least_m = rank_m;
                *link = here;
            }
        }
    }
}

/* ---- words ---------------------------------------------------------------------------------- */

static const char *compass_word(struct geometry_point out) {
    static const char *const WORDS[] = {"east", "north-east", "north", "north-west",
                                        "west", "south-west", "south", "south-east"};
    long eighths = lround(atan2(out.y_m, out.x_m) / ROOF_EIGHTH_RAD);
    return WORDS[(eighths + 8) % 8];
}

static const char *edge_word(enum job_edge_kind kind) {
    switch (kind) {
    case JOB_EDGE_EAVE:
        return "eave";
    case JOB_EDGE_GABLE:
        return "gable";
    case JOB_EDGE_WALL:
        break;
    }
    return "wall edge";
}

/* "the north eave of hall (hall 3)"; an outline's edge: "house 5". */
static struct base_text describe(struct roof_build *build, const struct roof_link *link) {
    const struct job *job = build->job;
    struct base_builder words = {.arena = build->arena};
    struct base_text owner = job->outline.name;
    if (link->wing != ROOF_NONE) {
        const struct job_wing *wing = &job->wings[link->wing];
        struct roof_plan plan;
        roof_make_plan(job, link->wing, &plan);
        size_t edge = (size_t)link->edge;
        struct geometry_point along =
            geometry_subtract(plan.corners[(edge + 1) % plan.count], plan.corners[edge]);
        base_add_string(&words, "the ");
        base_add_string(&words, compass_word((struct geometry_point){along.y_m, -along.x_m}));
        base_add_char(&words, ' ');
        base_add_string(&words, edge_word(wing->edges[edge]));
        base_add_string(&words, " of ");
        base_add_text(&words, wing->name);
        base_add_string(&words, " (");
        owner = wing->name;
    }
    base_add_text(&words, owner);
    base_add_char(&words, ' ');
    base_add_integer(&words, link->edge + 1);
    base_add_string(&words, link->wing != ROOF_NONE ? ")" : "");
    return base_built(&words);
}

static void say_link(struct roof_build *build, const struct roof_link *link) {
    const struct job *job = build->job;
    bool outline = link->wing == ROOF_NONE;
    struct base_issue issue = {.code = link->scupper && link->end == ROOF_END_GROUND
                                           ? BASE_ISSUE_ROOF_SCUPPER_FALLS
                                       : link->end == ROOF_END_GROUND ? BASE_ISSUE_ROOF_DRIPS
                                       : link->end == ROOF_END_LOST   ? BASE_ISSUE_ROOF_STRAY
                                                                      : BASE_ISSUE_ROOF_PIT,
                               .mark = outline ? job->outline.mark : job->wings[link->wing].mark,
                               .object = outline ? job->outline.name : job->wings[link->wing].name,
                               .value = base_value_number(BASE_UNIT_M2, link->area_m2),
                               .limit = base_value_tick(units_tick_of_m(link->x_m)),
                               .other = base_value_text(describe(build, link))};
    base_add_issue(build->issues, issue);
}

static bool comes_before(const struct roof_link *one, const struct roof_link *two) {
    return one->wing != two->wing ? one->wing < two->wing : one->edge < two->edge;
}

static void sort_links(struct roof *roof) {
    for (size_t i = 1; i < roof->link_count; i++) { /* few: insertion keeps their order */
        struct roof_link moving = roof->links[i];
        size_t at = i;
        while (at > 0 && comes_before(&moving, &roof->links[at - 1])) {
            roof->links[at] = roof->links[at - 1];
            at--;
        }
        roof->links[at] = moving;
    }
}

/* Of one kind: all that matter, and the greatest whenever there is any. */
static void say_kind(struct roof_build *build, bool ground, double all_m2) {
    const struct roof *roof = build->roof;
    double most_m2 = 0;
    double least_m2 = ground ? GEOMETRY_EVENT_M : ROOF_LOST_LEAST_M2;
    for (size_t i = 0; i < roof->link_count; i++) {
        const struct roof_link *link = &roof->links[i];
        bool counts = ground ? link->end == ROOF_END_GROUND
                             : link->end == ROOF_END_LOST || link->end == ROOF_END_PIT;
        most_m2 = counts ? fmax(most_m2, link->area_m2) : most_m2;
    }
    for (size_t i = 0; i < roof->link_count && all_m2 > least_m2; i++) {
        const struct roof_link *link = &roof->links[i];
        bool counts = ground ? link->end == ROOF_END_GROUND
                             : link->end == ROOF_END_LOST || link->end == ROOF_END_PIT;
        if (counts && (link->area_m2 > ROOF_TELL_M2 || link->area_m2 >= most_m2)) {
            say_link(build, link);
        }
    }
}

void roof_say_links(struct roof_build *build) {
    struct roof *roof = build->roof;
    sort_links(roof);
    for (size_t i = 0; i < roof->link_count; i++) {
        struct roof_link *link = &roof->links[i];
        link->from = roof_name_edge(build,
                                    link->wing == ROOF_NONE ? build->job->outline.name
                                                            : build->job->wings[link->wing].name,
                                    link->edge);
    }
    say_kind(build, true, roof->ground_plan_area_m2);
    say_kind(build, false, roof->stray_plan_area_m2);
}
