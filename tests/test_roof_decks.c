/* SPDX-License-Identifier: Apache-2.0 */
/* Flat decks: all of their water leaves by one scupper. Check values: plane geometry worked by hand
 * (DERIVED). */
#include "roof_bench.h"

/* A deck of 4 x 3 m, 4 m up, its scupper in the middle of the south side. */
static struct job_wing *add_deck(void) {
    struct job_wing *deck = add_wing("deck", (int64_t[]){0, 0, 4000, 3000}, "gggg");
    deck->eave_height = millimetres(4000);
    deck->pitch.given = false;
    deck->deck = (struct job_deck){
        .given = true, .edge = 0, .at = millimetres(2000), .width = millimetres(200)};
    return deck;
}

static void check_law(void) {
    check_near(sum_drained() + bench.roof.ground_plan_area_m2, bench.roof.plan_area_m2, 1e-9);
    check_near(bench.roof.stray_plan_area_m2, 0, 1e-12);
}

static void a_deck_alone_drips_from_its_scupper(void **state) {
    (void)state;
    add_deck();
    assert_int_equal(find(), BASE_OK);
    check_law();
    check_near(bench.roof.ground_plan_area_m2, 12, 1e-9);
    assert_int_equal(bench.roof.link_count, 1);
    assert_true(bench.roof.links[0].scupper && !bench.roof.links[0].bare);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_SCUPPER_FALLS), 1);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_DRIPS), 0);
}

/* A porch in front of it: what falls on its roof 2 m from the left runs down to its eave there. */
static void a_scupper_over_a_porch_pours_at_one_place(void **state) {
    (void)state;
    add_deck();
    struct job_wing *porch = add_wing("porch", (int64_t[]){0, -2000, 4000, 2000}, "eggg");
    porch->eave_height = millimetres(2500);
    porch->pitch = number(0.25);
    assert_int_equal(find(), BASE_OK);
    check_law();
    assert_int_equal(bench.roof.pour_count, 1);
    check_near(bench.roof.pours[0].plan_area_m2, 12, 1e-9);
    check_near(bench.roof.pours[0].x_m, 2, 1e-4);
    assert_true(base_text_is(bench.roof.pours[0].onto, "porch.1"));
    check_near(eave("porch.1")->plan_area_m2, 8, 1e-9);
}

/* The eave of a hall behind the deck drains onto it, 4 x 4 m of roof. Named: the gutter of a shed
 * that stands apart. */
static void a_deck_passes_on_what_comes_from_above(void **state) {
    (void)state;
    add_deck()->deck.has_onto = true;
    bench.wings[0].deck.onto = (struct job_outlet){.eave = base_text_of("shed"),
                                                   .edge = 1,
                                                   .at = JOB_AT_DISTANCE,
                                                   .distance_tick = 1000 * UNITS_TICK_PER_MM};
    struct job_wing *hall = add_wing("hall", (int64_t[]){0, 3000, 4000, 8000}, "egeg");
    hall->eave_height = millimetres(6000);
    hall->no_gutter[0] = true;
    struct job_wing *shed = add_wing("shed", (int64_t[]){20000, 0, 3000, 2000}, "eggg");
    shed->eave_height = millimetres(2500);
    assert_int_equal(find(), BASE_OK);
    check_law();
    check_near(poured("shed.1"), 12 + 4 * 4, 1e-9);
    check_near(bench.roof.pours[0].x_m, 1, 1e-9);
    shed->eave_height = millimetres(4500); /* water does not run up */
    assert_int_equal(find(), BASE_STOPPED);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_SCUPPER_ONTO), 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_deck_alone_drips_from_its_scupper, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_scupper_over_a_porch_pours_at_one_place, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_deck_passes_on_what_comes_from_above, set_bench,
                                        clear_bench),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
