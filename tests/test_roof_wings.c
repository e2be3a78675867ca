/* SPDX-License-Identifier: Apache-2.0 */
/* The plan path: roofs of wings, where their water goes, and what is refused. Areas: plane geometry
 * (DERIVED). */
#include "roof/roof.h"

#include <math.h>
#include <stdlib.h>

#include "check.h"
#include "units/units.h"

enum { WINGS_MAX = 160 };

static struct base_arena *arena;
static struct base_issues issues;
static struct job_wing wings[WINGS_MAX];

static int make_arena(void **state) {
    (void)state;
    arena = base_make_arena(0);
    issues = (struct base_issues){.arena = arena};
    return arena == NULL;
}

static int free_arena(void **state) {
    (void)state;
    base_free_arena(arena);
    return 0;
}

static const enum job_edge_kind hipped[4] = {JOB_EDGE_EAVE, JOB_EDGE_EAVE, JOB_EDGE_EAVE,
                                             JOB_EDGE_EAVE};
static const enum job_edge_kind gabled[4] = {JOB_EDGE_EAVE, JOB_EDGE_GABLE, JOB_EDGE_EAVE,
                                             JOB_EDGE_GABLE};
static const enum job_edge_kind ell[4] = {JOB_EDGE_WALL, JOB_EDGE_EAVE, JOB_EDGE_GABLE,
                                          JOB_EDGE_EAVE};

/* x, y, width and depth in feet; height in feet (0 = not given); pitch in twelfths (-1 = not
 * given). */
struct plan {
    const char *name;
    int x, y, width, depth;
    int height;
    int pitch;
    const enum job_edge_kind *edges;
};

static struct job_length feet(int length_ft) {
    return (struct job_length){
        .given = length_ft > 0, .tick = length_ft * UNITS_TICK_PER_FOOT, .reading_count = 1};
}

static void make_wing(struct job_wing *wing, const struct plan *plan) {
    *wing = (struct job_wing){.name = base_text_of(plan->name),
                              .corner_x_tick = plan->x * UNITS_TICK_PER_FOOT,
                              .corner_y_tick = plan->y * UNITS_TICK_PER_FOOT,
                              .width = feet(plan->width),
                              .depth = feet(plan->depth),
                              .eave_height = feet(plan->height)};
    if (plan->pitch >= 0) {
        wing->pitch = (struct job_number){.given = true, .value = plan->pitch / 12.0};
    }
    for (int i = 0; i < 4; i++) {
        wing->edges[i] = plan->edges[i];
    }
}

static enum base_status find(const struct plan *plans, size_t count, struct roof *roof) {
    for (size_t i = 0; i < count; i++) {
        make_wing(&wings[i], &plans[i]);
    }
    struct job job = {.wings = wings, .wing_count = count, .wall_rain = JOB_WALL_RAIN_NONE};
    issues.count = 0;
    return roof_find(arena, &issues, &job, roof);
}

static bool says(enum base_issue_code code) {
    for (size_t i = 0; i < issues.count; i++) {
        if (issues.items[i].code == code) {
            return true;
        }
    }
    return false;
}

static double drained(const struct roof *roof) {
    double area_m2 = 0.0;
    for (size_t i = 0; i < roof->eave_count; i++) {
        area_m2 += roof->eaves[i].plan_area_m2;
    }
    for (size_t i = 0; i < roof->pour_count; i++) {
        area_m2 += roof->pours[i].plan_area_m2;
    }
    return area_m2;
}

#define SQ_FT 0.09290304

/* A hip roof of one pitch on 40 by 24 ft: triangles 12 x 24 / 2, trapezoids (40 + 16) / 2 x 12. */
static void hip_roof_drains_by_triangles_and_trapezoids(void **state) {
    (void)state;
    struct roof roof;
    const struct plan plans[] = {{"hall", 0, 0, 40, 24, 17, 9, hipped}};
    assert_int_equal(find(plans, 1, &roof), BASE_OK);
    assert_int_equal(roof.eave_count, 4);
    check_near(roof.eaves[0].plan_area_m2, 336 * SQ_FT, 1e-6);
    check_near(roof.eaves[1].plan_area_m2, 144 * SQ_FT, 1e-6);
    check_near(roof.eaves[2].plan_area_m2, 336 * SQ_FT, 1e-6);
    check_near(roof.eaves[3].plan_area_m2, 144 * SQ_FT, 1e-6);
    check_near(roof.plan_area_m2, 960 * SQ_FT, 1e-6);
    assert_int_equal(roof.pour_count, 0);
}

/*
 * An ell of the same pitch and height, 16 ft wide, on a hall 24 ft deep: its ridge runs 8 ft into
 * the hall's slope, each valley cuts a triangle of 8 x 8 / 2 out of the hall and drains it and the
 * ell's twin triangle.
 */
static void ell_pours_its_valleys_into_the_inside_corners(void **state) {
    (void)state;
    struct roof roof;
    const struct plan plans[] = {{"hall", 0, 0, 44, 24, 17, 9, gabled},
                                 {"ell", 12, 24, 16, 20, 17, 9, ell}};
    assert_int_equal(find(plans, 2, &roof), BASE_OK);
    assert_int_equal(roof.eave_count, 5); /* hall 1, hall 3 in two parts, ell 2 and 4 */
    assert_int_equal(roof.pour_count, 2);
    check_near(roof.plan_area_m2, (44 * 24 + 16 * 20) * SQ_FT, 1e-6);
    check_near(drained(&roof), roof.plan_area_m2, 1e-6);
    /* behind the ell the hall's slope, 16 x 12 ft, is all that does not reach an eave straight:
       what the ell covers of it (8 x 16 / 2) comes down the ell's slopes */
    for (size_t i = 0; i < 2; i++) {
        check_near(roof.pours[i].plan_area_m2, 16.0 * 12.0 / 2.0 * SQ_FT, 1e-5);
    }
}

static void findings_of_wings_are_said(void **state) {
    (void)state;
    static const enum job_edge_kind none[4] = {JOB_EDGE_GABLE, JOB_EDGE_GABLE, JOB_EDGE_GABLE,
                                               JOB_EDGE_GABLE};
    const struct {
        enum base_issue_code code;
        struct plan plans[2];
        size_t count;
    } rows[] = {
        {BASE_ISSUE_ROOF_WING_INCOMPLETE, {{"hall", 0, 0, 40, 24, 17, -1, gabled}}, 1},
        {BASE_ISSUE_ROOF_WING_FLAT, {{"hall", 0, 0, 40, 24, 17, 0, gabled}}, 1},
        {BASE_ISSUE_ROOF_WING_NO_EAVE, {{"hall", 0, 0, 40, 24, 17, 9, none}}, 1},
        {BASE_ISSUE_ROOF_HEIGHT_MISSING,
         {{"hall", 0, 0, 40, 24, 17, 9, gabled}, {"ell", 12, 24, 16, 20, 0, 9, ell}},
         2},
        {BASE_ISSUE_ROOF_HEIGHTS_ONE,
         {{"hall", 0, 0, 40, 24, 0, 9, gabled}, {"ell", 12, 24, 16, 20, 0, 9, ell}},
         2},
        {BASE_ISSUE_ROOF_WING_HIDDEN,
         {{"hall", 0, 0, 40, 24, 17, 9, gabled}, {"low", 10, 4, 12, 8, 5, 4, gabled}},
         2},
        {BASE_ISSUE_ROOF_WALL_ABOVE,
         {{"low", 0, 0, 40, 24, 9, 4, gabled}, {"tower", 12, 24, 16, 20, 40, 9, ell}},
         2},
        {BASE_ISSUE_ROOF_EAVE_AGAINST,
         {{"hall", 0, 0, 40, 24, 17, 9, gabled}, {"low", 10, 24, 16, 10, 9, 4, gabled}},
         2},
        {BASE_ISSUE_ROOF_EAVE_MERGED,
         {{"hall", 0, 0, 20, 24, 17, 9, gabled}, {"more", 20, 0, 20, 24, 17, 9, gabled}},
         2},
        {BASE_ISSUE_ROOF_TRAPPED,
         {{"north", 0, 8, 30, 10, 12, 6, gabled}, {"south", 0, 0, 30, 10, 12, 6, gabled}},
         2},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct roof roof;
        enum base_status status = find(rows[i].plans, rows[i].count, &roof);
        if (!says(rows[i].code)) {
            print_error("row %zu: %s was not said (status %d)\n", i, base_issue_name(rows[i].code),
                        (int)status);
            for (size_t k = 0; k < issues.count; k++) {
                print_error("  instead: %s\n", base_issue_name(issues.items[k].code));
            }
        }
        assert_true(says(rows[i].code));
    }
}

static void too_many_wings_are_refused(void **state) {
    (void)state;
    struct plan plans[WINGS_MAX];
    for (int i = 0; i < WINGS_MAX; i++) {
        plans[i] = (struct plan){"w", 50 * i, 0, 40, 24, 17, 9, gabled};
    }
    struct roof roof;
    assert_int_equal(find(plans, WINGS_MAX, &roof), BASE_STOPPED);
    assert_true(says(BASE_ISSUE_ROOF_TOO_MANY_WINGS));
}

/* ---- random houses --------------------------------------------------------------------------- */

static uint64_t seed;

static int pick(int low, int high) {
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return low + (int)(seed % (uint64_t)(high - low + 1));
}

/* Law 2: catchments sum to the plan area of the roof, whatever the wings; nothing is NaN or
 * negative. */
static void every_drop_on_random_houses_is_counted_once(void **state) {
    (void)state;
    const char *asked = getenv("EAVESMITH_HOUSES");
    const char *said = getenv("EAVESMITH_SEED");
    long houses = asked == NULL ? 2000 : strtol(asked, NULL, 10);
    seed = said == NULL ? 20261125 : strtoull(said, NULL, 10) | 1;
    print_message("# seed %llu, %ld houses\n", (unsigned long long)seed, houses);
    for (long house = 0; house < houses; house++) {
        struct plan plans[3];
        int depth = pick(16, 30);
        plans[0] = (struct plan){"hall", 0,           0,           pick(30, 50),
                                 depth,  pick(9, 20), pick(3, 14), pick(0, 1) ? gabled : hipped};
        int width = pick(8, plans[0].width - 10);
        plans[1] = (struct plan){"ell",       pick(1, 8),  depth,       width,
                                 pick(8, 24), pick(8, 20), pick(3, 14), ell};
        struct roof roof;
        base_free_arena(arena);
        (void)make_arena(state);
        enum base_status status = find(plans, (size_t)pick(1, 2), &roof);
        assert_int_not_equal(status, BASE_NO_MEMORY);
        if (status != BASE_OK) {
            continue;
        }
        double stray_m2 = roof.stray_plan_area_m2;
        assert_int_equal(says(BASE_ISSUE_ROOF_STRAY) || says(BASE_ISSUE_ROOF_PIT),
                         stray_m2 > 0.005);
        if (fabs(drained(&roof) + stray_m2 - roof.plan_area_m2) > 1e-6 * roof.plan_area_m2) {
            print_error("house %ld: %.9f of %.9f\n", house, drained(&roof), roof.plan_area_m2);
        }
        check_near(drained(&roof) + stray_m2, roof.plan_area_m2, 1e-6 * roof.plan_area_m2);
        for (size_t i = 0; i < roof.eave_count; i++) {
            for (size_t k = 0; k < roof.eaves[i].knot_count; k++) {
                assert_true(roof.eaves[i].knots[k].width_m >= -1e-9);
            }
        }
    }
}

#define WITH_ARENA(test) cmocka_unit_test_setup_teardown(test, make_arena, free_arena)

int main(void) {
    const struct CMUnitTest tests[] = {
        WITH_ARENA(hip_roof_drains_by_triangles_and_trapezoids),
        WITH_ARENA(ell_pours_its_valleys_into_the_inside_corners),
        WITH_ARENA(findings_of_wings_are_said),
        WITH_ARENA(too_many_wings_are_refused),
        WITH_ARENA(every_drop_on_random_houses_is_counted_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
