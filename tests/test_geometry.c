/* SPDX-License-Identifier: Apache-2.0 */
/* Check values: plane geometry worked by hand (DERIVED) unless said otherwise. */
#include "check.h"
#include "geometry/geometry.h"

#include <math.h>

#define PI 3.14159265358979323846

static void assert_near(double found, double expected, double tolerance) {
    if (!(fabs(found - expected) <= tolerance)) {
        fail_msg("%.12g, expected %.12g", found, expected);
    }
}

static struct geometry_point square_points[] = {{0, 0}, {4, 0}, {4, 3}, {0, 3}};
static const struct geometry_polygon rectangle = {square_points, 4};

static void area_of_a_rectangle_is_width_times_depth(void **state) {
    (void)state;
    check_near(geometry_area(&rectangle), 12.0, 0.0);
    struct geometry_point back[] = {{0, 3}, {4, 3}, {4, 0}, {0, 0}};
    check_near(geometry_area(&(struct geometry_polygon){back, 4}), -12.0, 0.0);
}

static void area_far_from_the_origin_loses_no_digits(void **state) {
    (void)state;
    struct geometry_point far[] = {
        {1e7, -3e7}, {1e7 + 4, -3e7}, {1e7 + 4, -3e7 + 3}, {1e7, -3e7 + 3}};
    check_near(geometry_area(&(struct geometry_polygon){far, 4}), 12.0, 1e-9);
}

static void triangle_cut_off_a_corner_and_the_rest_make_the_whole(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct geometry_plane keep = {1, 1, -2}; /* x + y >= 2 */
    struct geometry_plane other = {-1, -1, 2};
    struct geometry_polygon large;
    struct geometry_polygon small;
    assert_true(geometry_clip(arena, &rectangle, keep, &large));
    assert_true(geometry_clip(arena, &rectangle, other, &small));
    assert_int_equal(large.count, 5);
    assert_int_equal(small.count, 3);
    check_near(geometry_area(&small), 2.0, 1e-15);
    check_near(geometry_area(&large), 10.0, 1e-14);
    base_free_arena(arena);
}

static void both_halves_of_a_cut_share_their_new_corners_exactly(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct geometry_plane keep = {0.3711, -0.917, 0.61};
    struct geometry_plane other = {-0.3711, 0.917, -0.61};
    struct geometry_polygon one;
    struct geometry_polygon two;
    assert_true(geometry_clip(arena, &rectangle, keep, &one));
    assert_true(geometry_clip(arena, &rectangle, other, &two));
    int shared = 0;
    for (size_t i = 0; i < one.count; i++) {
        for (size_t k = 0; k < two.count; k++) {
            shared +=
                one.points[i].x_m == two.points[k].x_m && one.points[i].y_m == two.points[k].y_m;
        }
    }
    assert_int_equal(shared, 2);
    check_near(geometry_area(&one) + geometry_area(&two), 12.0, 1e-14);
    base_free_arena(arena);
}

static void sliver_thinner_than_one_event_is_nothing_and_costs_nothing(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct geometry_polygon kept;
    struct geometry_plane beyond = {1, 0, -4 + GEOMETRY_EVENT_M / 2}; /* a strip 0.005 mm wide */
    assert_true(geometry_clip(arena, &rectangle, beyond, &kept));
    assert_int_equal(kept.count, 0);
    struct geometry_plane rest = {-1, 0, 4 - GEOMETRY_EVENT_M / 2};
    assert_true(geometry_clip(arena, &rectangle, rest, &kept));
    check_near(geometry_area(&kept), 12.0, 0.0);
    struct geometry_plane wider = {1, 0, -4 + GEOMETRY_EVENT_M * 2};
    assert_true(geometry_clip(arena, &rectangle, wider, &kept));
    check_near(geometry_area(&kept), 3 * GEOMETRY_EVENT_M * 2, 1e-12);
    base_free_arena(arena);
}

static void plane_without_a_slope_keeps_all_or_nothing(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    struct geometry_polygon kept;
    assert_true(geometry_clip(arena, &rectangle, (struct geometry_plane){0, 0, 1}, &kept));
    assert_int_equal(kept.count, 4);
    assert_true(geometry_clip(arena, &rectangle, (struct geometry_plane){0, 0, -1}, &kept));
    assert_int_equal(kept.count, 0);
    base_free_arena(arena);
}

static void point_on_the_edge_is_contained(void **state) {
    (void)state;
    assert_true(geometry_contains(&rectangle, (struct geometry_point){2, 1}));
    assert_true(geometry_contains(&rectangle, (struct geometry_point){4, 3}));
    assert_true(geometry_contains(&rectangle, (struct geometry_point){2, 0}));
    assert_false(geometry_contains(&rectangle, (struct geometry_point){4.001, 1}));
    assert_false(geometry_contains(&rectangle, (struct geometry_point){-1, 3}));
    assert_false(geometry_contains(&rectangle, (struct geometry_point){-1, 0}));
    struct geometry_point hook[] = {{0, 0}, {4, 0}, {4, 4}, {2, 4}, {2, 2}, {0, 2}};
    struct geometry_polygon bent = {hook, 6};
    assert_true(geometry_contains(&bent, (struct geometry_point){3, 3}));
    assert_false(geometry_contains(&bent, (struct geometry_point){1, 3}));
}

static void plane_gives_its_height(void **state) {
    (void)state;
    check_near(
        geometry_height((struct geometry_plane){0.75, -0.5, 2}, (struct geometry_point){4, 2}), 4.0,
        0.0);
    check_near(geometry_cross((struct geometry_point){1, 0}, (struct geometry_point){0, 1}), 1.0,
               0.0);
    check_near(geometry_distance((struct geometry_point){1, 1}, (struct geometry_point){4, 5}), 5.0,
               1e-15);
}

static void failing_take_is_reported(void **state) {
    (void)state;
    struct base_arena *arena = base_make_arena(0);
    base_fail_take(arena, 1);
    struct geometry_polygon kept;
    assert_false(geometry_clip(arena, &rectangle, (struct geometry_plane){1, 0, -2}, &kept));
    base_free_arena(arena);
}

/* A regular polygon's side is 2 r tan(pi/n), its area n r^2 tan(pi/n) (DERIVED: n triangles). */
static void a_regular_polygon_has_its_side_and_area(void **state) {
    (void)state;
    for (size_t sides = 3; sides <= 16; sides++) {
        struct geometry_point corners[16];
        geometry_make_regular(sides, 3.0, corners);
        struct geometry_polygon polygon = {corners, sides};
        double side_m = 3.0 * tan(PI / (double)sides);
        assert_near(geometry_area(&polygon), (double)sides * 0.75 * side_m, 1e-12);
        for (size_t i = 0; i < sides; i++) {
            assert_near(geometry_distance(corners[i], corners[(i + 1) % sides]), side_m, 1e-12);
        }
        assert_near(corners[0].y_m, -1.5, 1e-12); /* a flat to the south */
        assert_near(corners[1].y_m, -1.5, 1e-12);
        assert_true(corners[1].x_m > corners[0].x_m);
    }
}

/* Half an octagon of 9 ft across: half of 8 r^2 tan(22.5 deg); three whole faces and two halves. */
static void a_bay_is_half_its_polygon(void **state) {
    (void)state;
    struct geometry_point corners[16];
    size_t count = geometry_make_bay(8, 9.0, 4.5, corners);
    struct geometry_polygon bay = {corners, count};
    double face_m = 9.0 * tan(PI / 8);
    assert_int_equal(count, 6);
    assert_near(geometry_area(&bay), 9.0 * face_m, 1e-9);
    const double faces_m[] = {face_m / 2, face_m, face_m, face_m, face_m / 2, 9.0};
    for (size_t i = 0; i < count; i++) {
        assert_near(geometry_distance(corners[i], corners[(i + 1) % count]), faces_m[i], 1e-9);
    }
    assert_near(corners[0].y_m, 0, 1e-12); /* the wall is the x axis */
    assert_near(corners[5].y_m, 0, 1e-12);
    assert_near(corners[0].x_m, -4.5, 1e-9);
}

/* Standing out by face * sin(45 deg) an octagon's bay is the common one of three whole faces; half
 * a hexagon has three faces and no flanks; four sides make a box; deeper ones run straight back. */
static void a_bay_stands_out_as_far_as_said(void **state) {
    (void)state;
    struct geometry_point corners[16];
    double face_m = 1.0;
    double across_m = face_m / tan(PI / 8);
    assert_int_equal(geometry_make_bay(8, across_m, face_m * sqrt(0.5), corners), 4);
    assert_near(geometry_distance(corners[0], corners[1]), face_m, 1e-9);
    assert_near(geometry_distance(corners[3], corners[0]), face_m * (1 + sqrt(2.0)), 1e-9);
    assert_int_equal(geometry_make_bay(6, 2.0, 1.0, corners), 4);
    assert_near(geometry_distance(corners[0], corners[1]), 2 * tan(PI / 6), 1e-9);
    assert_int_equal(geometry_make_bay(4, 2.0, 0.5, corners), 4);
    assert_near(geometry_distance(corners[0], corners[1]), 0.5, 1e-9);
    assert_int_equal(geometry_make_bay(6, 2.0, 1.4, corners), 6);
    assert_near(geometry_distance(corners[0], corners[1]), 0.4, 1e-9);
    assert_int_equal(geometry_make_bay(8, 2.0, 0.0, corners), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_regular_polygon_has_its_side_and_area),
        cmocka_unit_test(a_bay_is_half_its_polygon),
        cmocka_unit_test(a_bay_stands_out_as_far_as_said),
        cmocka_unit_test(area_of_a_rectangle_is_width_times_depth),
        cmocka_unit_test(area_far_from_the_origin_loses_no_digits),
        cmocka_unit_test(triangle_cut_off_a_corner_and_the_rest_make_the_whole),
        cmocka_unit_test(both_halves_of_a_cut_share_their_new_corners_exactly),
        cmocka_unit_test(sliver_thinner_than_one_event_is_nothing_and_costs_nothing),
        cmocka_unit_test(plane_without_a_slope_keeps_all_or_nothing),
        cmocka_unit_test(point_on_the_edge_is_contained),
        cmocka_unit_test(plane_gives_its_height),
        cmocka_unit_test(failing_take_is_reported),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
