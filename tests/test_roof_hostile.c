/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Wings as nobody should say them and somebody does: the shapes that break roof codes in public
 * issue threads. Each gives a roof that loses no drop, or one clear error; none hangs. What the
 * roof of two wings covers is worked by hand (DERIVED: areas of rectangles).
 */
#include "roof_bench.h"

struct hostile {
    const char *what;
    struct {
        int64_t box_mm[4];
        const char *edges;
        double turn_deg;
        double pitch_1;
        int64_t eave_mm;
    } wings[3];
    size_t count;
    double covered_m2; /* 0 = it must be refused */
};

#define BOX(x, y, w, d)                                                                            \
    { (x), (y), (w), (d) }

static const struct hostile SHAPES[] = {
    {"two wings in one place",
     {{BOX(0, 0, 8000, 6000), "eeee", 0, 0.75, 5000},
      {BOX(0, 0, 8000, 6000), "eeee", 0, 0.75, 5000}},
     2,
     48},
    {"a wing inside another, lower: hidden",
     {{BOX(0, 0, 8000, 6000), "eeee", 0, 0.75, 5000},
      {BOX(3000, 2000, 2000, 2000), "egeg", 0, 0.75, 3000}},
     2,
     48},
    {"a wing inside another, higher: a lantern",
     {{BOX(0, 0, 8000, 6000), "eeee", 0, 0.75, 5000},
      {BOX(3000, 2000, 2000, 2000), "eeee", 0, 0.75, 9000}},
     2,
     48},
    {"a jog of a millimetre",
     {{BOX(0, 0, 8000, 6000), "egeg", 0, 0.75, 5000},
      {BOX(8000, 1, 4000, 6000), "egeg", 0, 0.75, 5000}},
     2,
     72},
    {"wings that touch in a corner",
     {{BOX(0, 0, 8000, 6000), "egeg", 0, 0.75, 5000},
      {BOX(8000, 6000, 4000, 3000), "egeg", 0, 0.75, 5000}},
     2,
     60},
    {"edges in one line of unlike pitch",
     {{BOX(0, 0, 8000, 6000), "egeg", 0, 0.75, 5000},
      {BOX(8000, 0, 4000, 6000), "egeg", 0, 0.25, 5000}},
     2,
     72},
    {"a cross of equal wings",
     {{BOX(0, 3000, 9000, 3000), "egeg", 0, 0.75, 5000},
      {BOX(3000, 0, 3000, 9000), "gege", 0, 0.75, 5000}},
     2,
     45},
    {"a wing turned on itself by a hair",
     {{BOX(0, 0, 8000, 6000), "eeee", 0, 0.75, 5000},
      {BOX(0, 0, 8000, 6000), "eeee", 0.0001, 0.75, 5000}},
     2,
     48},
    {"a wing of one millimetre",
     {{BOX(0, 0, 8000, 6000), "eeee", 0, 0.75, 5000},
      {BOX(8000, 0, 1, 6000), "egeg", 0, 0.75, 5000}},
     2,
     48.006},
    {"a roof steeper than a wall", {{BOX(0, 0, 8000, 6000), "eeee", 0, 1000, 5000}}, 1, 48},
    {"a roof all but flat", {{BOX(0, 0, 8000, 6000), "eeee", 0, 1e-4, 5000}}, 1, 48},
    {"a house two hundred kilometres long",
     {{BOX(0, 0, 200000000, 6000), "egeg", 0, 0.75, 5000}},
     1,
     1200000},
    {"wings far apart",
     {{BOX(0, 0, 8000, 6000), "egeg", 0, 0.75, 5000},
      {BOX(5000000, 7000000, 4000, 6000), "egeg", 0, 0.75, 5000}},
     2,
     72},
    {"degrees for metres: lengths of some hundredths of a millimetre",
     {{BOX(0, 0, 0, 0), "eeee", 0, 0.75, 5000}},
     1,
     0},
    {"a length below zero", {{BOX(0, 0, -8000, 6000), "eeee", 0, 0.75, 5000}}, 1, 0},
    {"a pitch below zero", {{BOX(0, 0, 8000, 6000), "eeee", 0, -0.75, 5000}}, 1, 0},
    {"gables all round", {{BOX(0, 0, 8000, 6000), "gggg", 0, 0.75, 5000}}, 1, 0},
    {"walls all round", {{BOX(0, 0, 8000, 6000), "wwww", 0, 0.75, 5000}}, 1, 0},
    {"a wall that abuts nothing", {{BOX(0, 0, 8000, 6000), "eewe", 0, 0.75, 5000}}, 1, 48},
    {"three wings through one another",
     {{BOX(0, 3000, 9000, 3000), "egeg", 0, 0.75, 5000},
      {BOX(3000, 0, 3000, 9000), "gege", 0, 0.75, 5000},
      {BOX(3000, 3000, 3000, 3000), "eeee", 0, 0.75, 5000}},
     3,
     45},
};

static void build(const struct hostile *shape, int64_t east_mm, int64_t north_mm) {
    static const char *const NAMES[] = {"hall", "ell", "porch"};
    clear_bench(NULL);
    set_bench(NULL);
    for (size_t i = 0; i < shape->count; i++) {
        int64_t box_mm[4];
        memcpy(box_mm, shape->wings[i].box_mm, sizeof box_mm);
        box_mm[0] += east_mm;
        box_mm[1] += north_mm;
        struct job_wing *wing = add_wing(NAMES[i], box_mm, shape->wings[i].edges);
        wing->turn_rad = shape->wings[i].turn_deg * PI / 180;
        wing->pitch.value = shape->wings[i].pitch_1;
        wing->eave_height = millimetres(shape->wings[i].eave_mm);
    }
}

static void check_shape(const struct hostile *shape) {
    enum base_status status = find();
    bool refused = !(shape->covered_m2 > 0);
    if ((status == BASE_STOPPED) != refused) {
        print_error("%s: status %d\n", shape->what, (int)status);
        for (size_t i = 0; i < bench.issues.count; i++) {
            print_error("  %s\n", base_issue_name(bench.issues.items[i].code));
        }
    }
    assert_int_equal(status, refused ? BASE_STOPPED : BASE_OK);
    if (refused) {
        assert_true(base_has_stop(&bench.issues));
        return;
    }
    double limit_m2 = 2e-5 * shape->covered_m2;
    if (!(fabs(bench.roof.plan_area_m2 - shape->covered_m2) <= limit_m2)) {
        print_error("%s\n", shape->what);
    }
    check_near(bench.roof.plan_area_m2, shape->covered_m2, limit_m2);
    check_near(sum_drained(), bench.roof.plan_area_m2, 1e-9 * shape->covered_m2);
}

static void hostile_wings_have_a_roof_or_a_reason(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof SHAPES / sizeof SHAPES[0]; i++) {
        build(&SHAPES[i], 0, 0);
        check_shape(&SHAPES[i]);
    }
}

/* A thousand kilometres off, as in national grids: the same roofs. */
static void hostile_wings_far_from_the_origin_are_the_same(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof SHAPES / sizeof SHAPES[0]; i++) {
        build(&SHAPES[i], 1000000000, -700000000);
        check_shape(&SHAPES[i]);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(hostile_wings_have_a_roof_or_a_reason, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(hostile_wings_far_from_the_origin_are_the_same, set_bench,
                                        clear_bench)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
