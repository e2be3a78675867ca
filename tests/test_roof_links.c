/* SPDX-License-Identifier: Apache-2.0 */
/* Who drains to whom past the gutters, and where water is lost. Check values: plane geometry worked
 * by hand (DERIVED). */
#include "roof_bench.h"

static const struct roof_link *link_from(const char *from, enum roof_end end) {
    for (size_t i = 0; i < bench.roof.link_count; i++) {
        const struct roof_link *link = &bench.roof.links[i];
        if (base_text_is(link->from, from) && link->end == end) {
            return link;
        }
    }
    fail_msg("no link from %s", from);
    return NULL;
}

static const struct base_issue *issue_of(enum base_issue_code code) {
    for (size_t i = 0; i < bench.issues.count; i++) {
        if (bench.issues.items[i].code == code) {
            return &bench.issues.items[i];
        }
    }
    fail_msg("not said");
    return NULL;
}

/* Lost and dripping water is in the links, to the last drop. */
static void check_sums(void) {
    double lost_m2 = 0;
    double ground_m2 = 0;
    for (size_t i = 0; i < bench.roof.link_count; i++) {
        const struct roof_link *link = &bench.roof.links[i];
        bool lost = link->end == ROOF_END_LOST || link->end == ROOF_END_PIT;
        lost_m2 += lost ? link->area_m2 : 0;
        ground_m2 += link->end == ROOF_END_GROUND ? link->area_m2 : 0;
    }
    check_near(lost_m2, bench.roof.stray_plan_area_m2, 1e-9);
    check_near(ground_m2, bench.roof.ground_plan_area_m2, 1e-9);
}

/* An ell's wall edge that stands 1 m beyond the hall's gable: half of the roof there, 1 m x 0.5 m
 * at 0.75, cannot reach an eave. */
static void lost_water_is_told_with_wing_edge_and_place(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 12000, 8000), "egeg");
    set_edges(add_box("ell", -1000, 8000, 6000, 5000), "wege");
    assert_int_equal(find(), BASE_OK);
    check_sums();
    const struct base_issue *issue = issue_of(BASE_ISSUE_ROOF_STRAY);
    assert_true(base_text_is(issue->object, "hall"));
    assert_true(base_text_is(issue->other.text, "the west gable of hall (hall 4)"));
    /* where the ell's valley leaves the hall: at the gable, so many mm from its left end, which
       seen from the west is the north one */
    const struct roof_link *link = link_from("hall.4", ROOF_END_LOST);
    assert_int_equal(issue->limit.integer, units_tick_of_m(link->x_m));
    check_near(link->at.x_m, 0, 1e-4);
    check_near(8 - link->at.y_m, link->x_m, 1e-4);
    check_near(issue->value.number, link->area_m2, 1e-12);
}

/* An upper eave without gutter, a porch under it without gutter: a line of two. */
static void water_over_two_bare_eaves_is_a_line_of_two(void **state) {
    (void)state;
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg")->no_gutter[0] = true;
    struct job_wing *porch = add_wing("porch", (int64_t[]){2000, -2000, 4000, 2000}, "egwg");
    porch->eave_height = millimetres(2500);
    porch->pitch = number(0.25);
    porch->no_gutter[0] = true;
    assert_int_equal(find(), BASE_OK);
    check_sums();
    const struct roof_link *over = link_from("hall.1", ROOF_END_ROOF);
    assert_int_equal(over->onto, 1);
    check_near(over->area_m2, 4 * 4, 1e-9);
    check_near(link_from("hall.1", ROOF_END_GROUND)->area_m2, 6 * 4, 1e-9);
    check_near(link_from("porch.1", ROOF_END_GROUND)->area_m2, 4 * (4 + 2), 1e-9);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_DRIPS), 2);
    assert_true(base_text_is(issue_of(BASE_ISSUE_ROOF_DRIPS)->other.text,
                             "the south eave of hall (hall 1)"));
}

static void a_bare_eave_over_a_gutter_names_the_eave_that_takes_it(void **state) {
    (void)state;
    add_wing("hall", (int64_t[]){0, 0, 10000, 8000}, "egeg")->no_gutter[0] = true;
    struct job_wing *porch = add_wing("porch", (int64_t[]){0, -2000, 10000, 2000}, "egwg");
    porch->eave_height = millimetres(2500);
    porch->pitch = number(0.25);
    assert_int_equal(find(), BASE_OK);
    const struct roof_link *over = link_from("hall.1", ROOF_END_EAVE);
    assert_true(base_text_is(bench.roof.eaves[over->onto].name, "porch.1"));
    check_near(over->area_m2, 40, 1e-9);
    assert_int_equal(bench.roof.link_count, 1);
}

/* A low roof of 2 x 2 m without a gutter, in a notch of three higher ones, its water led against
 * the fourth: there is no way out. */
static void a_well_between_roofs_is_a_pit(void **state) {
    (void)state;
    struct job_wing *well = add_wing("well", (int64_t[]){0, 0, 2000, 2000}, "eggg");
    well->eave_height = millimetres(2000);
    well->pitch = number(0.1);
    well->no_gutter[0] = true;
    add_wing("south", (int64_t[]){-2000, -3000, 6000, 3000}, "eggg");
    add_wing("west", (int64_t[]){-2000, 0, 2000, 2000}, "ggge");
    add_wing("east", (int64_t[]){2000, 0, 2000, 2000}, "gegg");
    assert_int_equal(find(), BASE_OK);
    check_sums();
    check_near(link_from("well.1", ROOF_END_PIT)->area_m2, 4, 1e-9);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_STRAY), 0);
    assert_true(
        base_text_is(issue_of(BASE_ISSUE_ROOF_PIT)->other.text, "the south eave of well (well 1)"));
}

/* An upper roof of 10 m x 4 m without gutter drips onto one that falls to the west, turned by an
 * angle: its 40 m2 arrive on 10 sin(angle) m of the west eave, but for what drips beside it. */
static double drip_over(double turn_rad) {
    bench.job.wing_count = 0;
    struct job_wing *upper = add_box("upper", 0, 0, 10000, 4000);
    set_edges(upper, "eggg");
    upper->eave_height = millimetres(6000);
    upper->no_gutter[0] = true;
    struct job_wing *low = add_box("low", -2000, -6000, 12000, 7000);
    set_edges(low, "ggge");
    low->eave_height = millimetres(3000);
    low->pitch = number(0.1);
    low->turn_rad = turn_rad;
    assert_int_equal(find(), BASE_OK);
    check_near(sum_drained() + bench.roof.ground_plan_area_m2, bench.roof.plan_area_m2, 1e-9);
    double widest_m = 0;
    const struct roof_eave *west = eave("low.4");
    for (size_t i = 0; i < west->knot_count; i++) {
        widest_m = fmax(widest_m, west->knots[i].width_m);
    }
    return widest_m;
}

/* At 1 degree 40 m2 arrive on 0.17 m, denser than any roof straight behind could send: at one
 * place. At 20 degrees they come spread over 3.4 m, 11.7 m2 to each, beside what falls there. */
static void water_on_a_hair_of_an_eave_is_a_spout(void **state) {
    (void)state;
    assert_true(drip_over(1 * PI / 180) < 12.1);
    check_near(poured("low.4") + bench.roof.ground_plan_area_m2, 40, 1e-6);
    assert_true(bench.roof.ground_plan_area_m2 < 1);
    double widest_m = drip_over(20 * PI / 180);
    check_near(poured("low.4"), 0, 1e-9);
    assert_true(widest_m > 11.6 && widest_m < 11.8 + 12.1);
}

/* A hall so deep that 70 m of roof lie straight behind its eaves: no spout. */
static void a_deep_roof_straight_behind_is_no_spout(void **state) {
    (void)state;
    set_edges(add_box("hall", 0, 0, 20000, 140000), "egeg");
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(bench.roof.pour_count, 0);
    check_near(eave("hall.1")->plan_area_m2, 1400, 1e-6);
}

/* Two gabled roofs back to back at one height: two gutters in a slit, and no corner of 0 degrees
 * between them. */
static void eaves_back_to_back_make_no_corner(void **state) {
    (void)state;
    set_edges(add_box("a", 0, 0, 6000, 4000), "egeg");
    set_edges(add_box("b", 0, 4000, 6000, 4000), "egeg");
    assert_int_equal(find(), BASE_OK);
    assert_int_equal(eave("a.3")->next, SIZE_MAX);
    assert_int_equal(eave("b.1")->previous, SIZE_MAX);
    assert_int_equal(eave("b.1")->next, SIZE_MAX);
    check_near(eave("a.3")->plan_area_m2, 12, 1e-9);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_EAVE_AGAINST), 2);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(lost_water_is_told_with_wing_edge_and_place, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(water_over_two_bare_eaves_is_a_line_of_two, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_bare_eave_over_a_gutter_names_the_eave_that_takes_it,
                                        set_bench, clear_bench),
        cmocka_unit_test_setup_teardown(a_well_between_roofs_is_a_pit, set_bench, clear_bench),
        cmocka_unit_test_setup_teardown(water_on_a_hair_of_an_eave_is_a_spout, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(a_deep_roof_straight_behind_is_no_spout, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(eaves_back_to_back_make_no_corner, set_bench, clear_bench),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
