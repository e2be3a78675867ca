/* SPDX-License-Identifier: Apache-2.0 */
/* The straight skeleton of outlines: known roofs, hostile outlines, laws over random ones. Check
 * values: plane geometry worked by hand (DERIVED) unless said otherwise. */
#include "skeleton_laws.h"

#include <math.h>
#include <stdlib.h>

#include "check.h"

static struct base_arena *arena;
static struct random_outline shape;
static struct geometry_skeleton skeleton;

static int make_arena(void **state) {
    (void)state;
    arena = base_make_arena(0);
    return arena == NULL;
}

static int free_arena(void **state) {
    (void)state;
    base_free_arena(arena);
    return 0;
}

/* Corners in millimetres; pitch 1 all round. */
static void set_shape(const int (*corners_mm)[2], const size_t *counts, size_t rings) {
    shape = (struct random_outline){0};
    for (size_t r = 0; r < rings; r++) {
        for (size_t i = 0; i < counts[r]; i++, shape.count++) {
            shape.corners[shape.count].x_tick = (int64_t)320 * corners_mm[shape.count][0];
            shape.corners[shape.count].y_tick = (int64_t)320 * corners_mm[shape.count][1];
        }
    }
    set_outline_rings(&shape, counts, rings);
    set_outline_speeds(&shape, 1);
}

#define SET(corners)                                                                               \
    do {                                                                                           \
        size_t all = sizeof(corners) / sizeof(corners)[0];                                         \
        set_shape(corners, &all, 1);                                                               \
    } while (0)

static enum geometry_skeleton_state find(void) {
    assert_int_equal(geometry_check_outline(&shape.outline).fault, GEOMETRY_OUTLINE_FINE);
    enum geometry_skeleton_state state =
        geometry_find_skeleton(arena, &shape.outline, shape.speeds_1, &skeleton);
    if (state == GEOMETRY_SKELETON_WHOLE) {
        const char *broken = find_broken_law(&shape, &skeleton);
        if (broken != NULL) {
            print_error("broken: %s\n", broken);
        }
        assert_null(broken);
    }
    return state;
}

static size_t count_arcs(enum geometry_arc_kind kind) {
    size_t count = 0;
    for (size_t i = 0; i < skeleton.arc_count; i++) {
        count += skeleton.arcs[i].kind == kind;
    }
    return count;
}

static void check_node(double x_m, double y_m, double height_m) {
    for (size_t i = 0; i < skeleton.node_count; i++) {
        const struct geometry_skeleton_node *node = &skeleton.nodes[i];
        if (hypot(node->at.x_m - x_m, node->at.y_m - y_m) < 1e-6 &&
            fabs(node->height_m - height_m) < 1e-6) {
            return;
        }
    }
    print_error("no node at %g %g, height %g\n", x_m, y_m, height_m);
    fail();
}

static void rectangle_is_a_hip_roof(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0}, {12000, 0}, {12000, 8000}, {0, 8000}};
    SET(CORNERS);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(4, 4, 4);
    check_node(8, 4, 4);
    assert_int_equal(skeleton.node_count, 6);
    assert_int_equal(count_arcs(GEOMETRY_ARC_RIDGE), 1);
    assert_int_equal(count_arcs(GEOMETRY_ARC_HIP), 4);
    check_near(skeleton.faces[0].plan_area_m2, 32, 1e-9);
    check_near(skeleton.faces[1].plan_area_m2, 16, 1e-9);
}

static void two_gables_make_a_saddle_roof(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0}, {12000, 0}, {12000, 8000}, {0, 8000}};
    SET(CORNERS);
    shape.speeds_1[1] = 0;
    shape.speeds_1[3] = 0;
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(0, 4, 4);
    check_node(12, 4, 4);
    assert_int_equal(count_arcs(GEOMETRY_ARC_RIDGE), 1);
    assert_int_equal(count_arcs(GEOMETRY_ARC_HIP), 0);
    assert_int_equal(skeleton.faces[1].count, 0);
    check_near(skeleton.faces[0].plan_area_m2, 48, 1e-9);
}

/* One eave, three gables: a shed roof to the far side. */
static void three_gables_make_a_shed_roof(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0}, {12000, 0}, {12000, 8000}, {0, 8000}};
    SET(CORNERS);
    shape.speeds_1[1] = shape.speeds_1[2] = shape.speeds_1[3] = 0;
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(0, 8, 8);
    check_node(12, 8, 8);
    check_near(skeleton.faces[0].plan_area_m2, 96, 1e-9);
}

/* 12:12 against 6:12: the ridge lies where both are as high, 1/3 of the way from the steep side. */
static void unlike_pitches_move_the_ridge(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0}, {12000, 0}, {12000, 9000}, {0, 9000}};
    SET(CORNERS);
    shape.speeds_1[1] = shape.speeds_1[3] = 0;
    shape.speeds_1[2] = 2;
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(0, 3, 3);
    check_node(12, 3, 3);
}

/* South eaves in one line, 12:12 and 6:12: a step stands between them at the corner. */
static void collinear_edges_of_unlike_pitch_have_a_step_between(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0}, {6000, 0}, {12000, 0}, {12000, 8000}, {0, 8000}};
    SET(CORNERS);
    shape.speeds_1[1] = 2;
    shape.speeds_1[2] = 0;
    shape.speeds_1[4] = 0;
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(0, 4, 4);
    check_node(6, 4, 4);
    check_node(6, 16.0 / 3, 8.0 / 3); /* y / 2 = 8 - y */
    check_node(12, 16.0 / 3, 8.0 / 3);
    check_near(skeleton.faces[0].plan_area_m2, 24, 1e-9);
    check_near(skeleton.faces[1].plan_area_m2, 32, 1e-9);
    check_near(skeleton.faces[3].plan_area_m2, 24 + 16, 1e-9);
    assert_true(count_arcs(GEOMETRY_ARC_GABLE) >= 3);
}

/* Four reflex corners meet in the middle at once. */
static void symmetric_cross_meets_in_its_middle(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{2000, 0},    {4000, 0},    {4000, 2000}, {6000, 2000},
                                     {6000, 4000}, {4000, 4000}, {4000, 6000}, {2000, 6000},
                                     {2000, 4000}, {0, 4000},    {0, 2000},    {2000, 2000}};
    SET(CORNERS);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(3, 3, 1);
    check_node(3, 1, 1);
    check_node(5, 3, 1);
    assert_int_equal(count_arcs(GEOMETRY_ARC_VALLEY), 4);
    assert_int_equal(count_arcs(GEOMETRY_ARC_RIDGE), 4);
    assert_int_equal(count_arcs(GEOMETRY_ARC_HIP), 8);
}

/* A ring 2 m wide round a courtyard: the ridge runs round at 1 m. */
static void courtyard_has_a_ridge_all_round(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0},       {10000, 0},   {10000, 10000}, {0, 10000},
                                     {2000, 2000}, {2000, 8000}, {8000, 8000},   {8000, 2000}};
    static const size_t COUNTS[] = {4, 4};
    set_shape(CORNERS, COUNTS, 2);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(1, 1, 1);
    check_node(9, 9, 1);
    assert_int_equal(count_arcs(GEOMETRY_ARC_RIDGE), 4);
    assert_int_equal(count_arcs(GEOMETRY_ARC_VALLEY), 4);
    check_near(skeleton.faces[4].plan_area_m2, 7, 1e-9); /* (6 + 8) / 2 */
}

/* ---- hostile outlines ------------------------------------------------------------------------ */

static void check_fault(enum geometry_outline_fault fault) {
    assert_int_equal(geometry_check_outline(&shape.outline).fault, fault);
}

static void touching_points_and_crossings_are_named(void **state) {
    (void)state;
    static const int BOW[][2] = {{0, 0}, {4000, 4000}, {4000, 0}, {0, 4000}};
    SET(BOW);
    check_fault(GEOMETRY_OUTLINE_CROSSES);
    static const int TOUCH[][2] = {{0, 0}, {4000, 0}, {4000, 4000}, {2000, 0}, {0, 4000}};
    SET(TOUCH);
    check_fault(GEOMETRY_OUTLINE_CROSSES);
    static const int PINCH[][2] = {{0, 0},       {4000, 0}, {2000, 2000},
                                   {4000, 4000}, {0, 4000}, {2000, 2000}};
    SET(PINCH);
    check_fault(GEOMETRY_OUTLINE_CROSSES);
    static const int SPIKE[][2] = {{0, 0},       {4000, 0},    {4000, 4000},
                                   {4000, 9000}, {4000, 4000}, {0, 4000}};
    SET(SPIKE);
    check_fault(GEOMETRY_OUTLINE_SPIKE);
    static const int TWICE[][2] = {{0, 0}, {4000, 0}, {4000, 0}, {0, 4000}};
    SET(TWICE);
    check_fault(GEOMETRY_OUTLINE_SHORT);
    assert_int_equal(geometry_check_outline(&shape.outline).edge, 1);
    static const int WIDE[][2] = {{0, 0}, {2000000, 0}, {0, 4000}};
    SET(WIDE);
    check_fault(GEOMETRY_OUTLINE_TOO_WIDE);
    static const int TWO[][2] = {{0, 0}, {4000, 0}};
    SET(TWO);
    check_fault(GEOMETRY_OUTLINE_TOO_FEW);
}

static void courtyards_that_are_none_are_named(void **state) {
    (void)state;
    static const size_t COUNTS[] = {4, 3};
    static const int BESIDE[][2] = {{0, 0},     {9000, 0},  {9000, 9000}, {0, 9000},
                                    {10000, 0}, {11000, 0}, {11000, 2000}};
    set_shape(BESIDE, COUNTS, 2);
    check_fault(GEOMETRY_OUTLINE_OUTSIDE);
    static const int TOUCHING[][2] = {{0, 0},       {9000, 0},    {9000, 9000}, {0, 9000},
                                      {9000, 5000}, {8000, 4000}, {8000, 6000}};
    set_shape(TOUCHING, COUNTS, 2);
    check_fault(GEOMETRY_OUTLINE_CROSSES);
    static const int NESTED[][2] = {{0, 0},       {9000, 0},    {9000, 9000}, {0, 9000},
                                    {1000, 1000}, {7000, 1000}, {1000, 7000}, {2000, 2000},
                                    {3000, 2000}, {2000, 3000}};
    static const size_t THREE[] = {4, 3, 3};
    set_shape(NESTED, THREE, 3);
    check_fault(GEOMETRY_OUTLINE_OUTSIDE);
}

/* 51.4778 degrees north, 4500 km in metres: nothing is lost of the house's own 10 m. */
static void house_far_from_the_origin_has_the_same_roof(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0},       {9000, 0},    {9000, 4000},
                                     {5000, 4000}, {5000, 9000}, {0, 9000}};
    SET(CORNERS);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    double area_m2[6];
    for (int i = 0; i < 6; i++) {
        area_m2[i] = skeleton.faces[i].plan_area_m2;
        shape.corners[i].x_tick += INT64_C(1440000000000);
        shape.corners[i].y_tick -= INT64_C(900000000000);
    }
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    for (int i = 0; i < 6; i++) {
        check_near(skeleton.faces[i].plan_area_m2, area_m2[i], 1e-9);
    }
}

static void near_collinear_runs_have_a_roof(void **state) {
    (void)state;
    static const int BENT[][2] = {{0, 0},     {3000, 1},     {6000, 0},    {9000, -1},
                                  {12000, 0}, {12000, 8000}, {6000, 8001}, {0, 8000}};
    SET(BENT);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    shape.speeds_1[1] = 1.5; /* in one line by the stated rule, and of unlike pitch */
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
}

static void jogs_of_one_millimetre_have_a_roof(void **state) {
    (void)state;
    static const int JOGS[][2] = {{0, 0},       {5000, 0},    {5000, -1},   {9000, -1},
                                  {9000, 6000}, {4000, 6000}, {4000, 6001}, {0, 6001}};
    SET(JOGS);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    assert_int_equal(skeleton.edge_count, 8);
}

/* A dormer bump on an eave, and a bay with parallel sides on the other. */
static void dormer_bumps_have_a_roof(void **state) {
    (void)state;
    static const int BUMPS[][2] = {{0, 0},       {4000, 0},    {4000, -600},  {5200, -600},
                                   {5200, 0},    {12000, 0},   {12000, 8000}, {8000, 8000},
                                   {7000, 9000}, {6000, 9000}, {5000, 8000},  {0, 8000}};
    SET(BUMPS);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(4.6, 0, 0.6); /* end of the bump's ridge: where its hips meet */
}

/* Two notches whose inner corners look at each other across the house. */
static void facing_reflex_corners_meet(void **state) {
    (void)state;
    static const int FACING[][2] = {{0, 0},       {4000, 0},     {5000, 3000}, {6000, 0},
                                    {10000, 0},   {10000, 8000}, {6000, 8000}, {5000, 5000},
                                    {4000, 8000}, {0, 8000}};
    SET(FACING);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    check_node(5, 4, 1 / sqrt(10)); /* 1 m at sine 1 / sqrt(10) */
}

static void parallel_consecutive_edges_run_on(void **state) {
    (void)state;
    static const int PARALLEL[][2] = {{0, 0},        {2000, 0},     {5000, 0},    {12000, 0},
                                      {12000, 3000}, {12000, 8000}, {6000, 8000}, {0, 8000}};
    SET(PARALLEL);
    assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    assert_true(count_arcs(GEOMETRY_ARC_SEAM) >= 4);
    check_node(4, 4, 4);
    check_node(8, 4, 4);
}

static void clockwise_is_seen(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0}, {0, 8000}, {12000, 8000}, {12000, 0}};
    struct geometry_corner corners[4];
    for (int i = 0; i < 4; i++) {
        corners[i] = (struct geometry_corner){320 * CORNERS[i][0], 320 * CORNERS[i][1]};
    }
    struct geometry_ring ring = {corners, 4};
    assert_true(geometry_is_clockwise(&ring));
}

/* A house in degrees, read as metres: 0.1 mm across. */
static void degrees_for_metres_are_too_short(void **state) {
    (void)state;
    shape = (struct random_outline){.count = 4};
    static const int64_t DEGREES[][2] = {
        {33682560, 12804800}, {33682592, 12804800}, {33682592, 12804824}, {33682560, 12804824}};
    for (size_t i = 0; i < 4; i++) {
        shape.corners[i] = (struct geometry_corner){DEGREES[i][0], DEGREES[i][1]};
    }
    set_outline_rings(&shape, &shape.count, 1);
    check_fault(GEOMETRY_OUTLINE_SHORT);
}

/* A wing behind a corner that the one eave cannot see. */
static void gables_alone_round_a_corner_leave_it_bare(void **state) {
    (void)state;
    static const int CORNERS[][2] = {{0, 0},       {4000, 0},    {4000, 4000},
                                     {9000, 4000}, {9000, 8000}, {0, 8000}};
    SET(CORNERS);
    for (int i = 1; i < 6; i++) {
        shape.speeds_1[i] = 0;
    }
    assert_int_equal(find(), GEOMETRY_SKELETON_UNREACHED);
}

static void regular_polygons_meet_in_one_point(void **state) {
    (void)state;
    for (size_t sides = 3; sides <= 64; sides++) {
        struct geometry_point corners[64];
        shape = (struct random_outline){.count = sides};
        geometry_make_regular(sides, 10, corners);
        for (size_t i = 0; i < sides; i++) {
            shape.corners[i] =
                (struct geometry_corner){llround(corners[i].x_m * GEOMETRY_TICKS_PER_M),
                                         llround(corners[i].y_m * GEOMETRY_TICKS_PER_M)};
        }
        set_outline_rings(&shape, &shape.count, 1);
        set_outline_speeds(&shape, 0.5);
        assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
        double top_m = 0;
        for (size_t i = 0; i < skeleton.node_count; i++) {
            top_m = fmax(top_m, skeleton.nodes[i].height_m);
        }
        check_near(top_m, 10, 1e-3);
    }
}

static void spirals_of_two_hundred_corners_end(void **state) {
    (void)state;
    for (uint64_t seed = 1; seed <= 40; seed++) {
        make_random_outline(seed, OUTLINE_SPIRAL, 200, &shape);
        set_outline_speeds(&shape, 1);
        assert_int_equal(shape.count, 200);
        assert_int_equal(find(), GEOMETRY_SKELETON_WHOLE);
    }
}

/* ---- laws over random outlines --------------------------------------------------------------- */

struct tally {
    size_t whole;
    size_t bare;
    size_t refused;
    double most_steps_1;
};

static void try_random(uint64_t seed, struct tally *tally) {
    enum outline_kind kind = (enum outline_kind)(seed % OUTLINE_KINDS);
    size_t size = 3 + (size_t)(seed / OUTLINE_KINDS * 7919 % (seed % 5 == 0 ? 197 : 40));
    make_random_outline(seed, kind, size, &shape);
    if (geometry_check_outline(&shape.outline).fault != GEOMETRY_OUTLINE_FINE) {
        tally->refused++;
        return;
    }
    struct base_arena *own = base_make_arena(0);
    enum geometry_skeleton_state state =
        geometry_find_skeleton(own, &shape.outline, shape.speeds_1, &skeleton);
    const char *broken =
        state == GEOMETRY_SKELETON_WHOLE ? find_broken_law(&shape, &skeleton) : NULL;
    if (state == GEOMETRY_SKELETON_LOST || broken != NULL) {
        print_error("outline seed %llu, %zu corners: %s\n", (unsigned long long)seed, shape.count,
                    broken != NULL ? broken : "lost");
        fail();
    }
    tally->whole += state == GEOMETRY_SKELETON_WHOLE;
    tally->bare += state == GEOMETRY_SKELETON_UNREACHED;
    tally->most_steps_1 = fmax(tally->most_steps_1, (double)skeleton.steps / (double)shape.count);
    base_free_arena(own);
}

/* EAVESMITH_SEED and EAVESMITH_OUTLINES ask for others and more: tools/run_million_outlines.sh. */
static void random_outlines_have_whole_roofs(void **state) {
    (void)state;
    const char *wanted = getenv("EAVESMITH_SEED");
    const char *asked = getenv("EAVESMITH_OUTLINES");
    uint64_t start = wanted != NULL ? strtoull(wanted, NULL, 10) : 1;
    uint64_t count = asked != NULL ? strtoull(asked, NULL, 10) : 6000;
    struct tally tally = {0};
    for (uint64_t i = 0; i < count; i++) {
        try_random(start + i, &tally);
    }
    print_message("# outlines from seed %llu: %zu roofs, %zu with bare parts, %zu refused; at most "
                  "%.2f events a corner\n",
                  (unsigned long long)start, tally.whole, tally.bare, tally.refused,
                  tally.most_steps_1);
    assert_true(tally.whole > count / 4 * 3);
    assert_true(tally.most_steps_1 < 54); /* the bound of the work: 20 a corner and 100 */
}

static void every_failing_take_is_no_memory(void **state) {
    (void)state;
    make_random_outline(7, OUTLINE_CELLS, 60, &shape);
    struct base_arena *whole = base_make_arena(0);
    assert_int_equal(geometry_find_skeleton(whole, &shape.outline, shape.speeds_1, &skeleton),
                     GEOMETRY_SKELETON_WHOLE);
    size_t takes = base_take_count(whole);
    base_free_arena(whole);
    for (size_t nth = 1; nth <= takes; nth++) {
        struct base_arena *poor = base_make_arena(0);
        base_fail_take(poor, nth);
        assert_int_equal(geometry_find_skeleton(poor, &shape.outline, shape.speeds_1, &skeleton),
                         GEOMETRY_SKELETON_NO_MEMORY);
        base_free_arena(poor);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(rectangle_is_a_hip_roof, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(two_gables_make_a_saddle_roof, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(three_gables_make_a_shed_roof, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(unlike_pitches_move_the_ridge, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(collinear_edges_of_unlike_pitch_have_a_step_between,
                                        make_arena, free_arena),
        cmocka_unit_test_setup_teardown(symmetric_cross_meets_in_its_middle, make_arena,
                                        free_arena),
        cmocka_unit_test_setup_teardown(courtyard_has_a_ridge_all_round, make_arena, free_arena),
        cmocka_unit_test(touching_points_and_crossings_are_named),
        cmocka_unit_test(courtyards_that_are_none_are_named),
        cmocka_unit_test_setup_teardown(house_far_from_the_origin_has_the_same_roof, make_arena,
                                        free_arena),
        cmocka_unit_test_setup_teardown(near_collinear_runs_have_a_roof, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(jogs_of_one_millimetre_have_a_roof, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(dormer_bumps_have_a_roof, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(facing_reflex_corners_meet, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(parallel_consecutive_edges_run_on, make_arena, free_arena),
        cmocka_unit_test(clockwise_is_seen),
        cmocka_unit_test(degrees_for_metres_are_too_short),
        cmocka_unit_test_setup_teardown(gables_alone_round_a_corner_leave_it_bare, make_arena,
                                        free_arena),
        cmocka_unit_test_setup_teardown(regular_polygons_meet_in_one_point, make_arena, free_arena),
        cmocka_unit_test_setup_teardown(spirals_of_two_hundred_corners_end, make_arena, free_arena),
        cmocka_unit_test(random_outlines_have_whole_roofs),
        cmocka_unit_test(every_failing_take_is_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
