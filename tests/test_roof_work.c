/* SPDX-License-Identifier: Apache-2.0 */
/* How much work a large house's roof is: counted, so that it is the same on every machine. */
#include "roof_bench.h"

#include "twenty_wings.h"

/*
 * Pieces of roof are looked through pair by pair where they are put together, and only near by
 * afterwards. The house of twenty wings has 117 pieces and some 350 cells; each limit is the count
 * itself and a tenth more.
 */
enum { LOOKS_MOST = 111000, TAKES_MOST = 2650, BYTES_MOST = 896 * 1024 };

static struct job_wing wings[TWENTY_WINGS];

static void find_twenty(void) {
    twenty_wings_make(wings, &bench.job);
    assert_int_equal(find(), BASE_OK);
}

static void twenty_wings_take_so_much_work_and_no_more(void **state) {
    (void)state;
    find_twenty();
    print_message("# %zu looks, %zu takes, %zu bytes, %zu faces\n", bench.roof.looks,
                  base_take_count(bench.arena), base_arena_peak_bytes(bench.arena),
                  bench.roof.face_count);
    assert_in_range(bench.roof.looks, 1, LOOKS_MOST);
    assert_in_range(base_take_count(bench.arena), 1, TAKES_MOST);
    assert_in_range(base_arena_peak_bytes(bench.arena), 1, BYTES_MOST);
}

static void twenty_wings_lose_no_drop(void **state) {
    (void)state;
    find_twenty();
    double ground_m2 = bench.roof.ground_plan_area_m2;
    check_near(sum_drained() + ground_m2, bench.roof.plan_area_m2 + bench.roof.wall_area_m2, 1e-6);
    for (size_t i = 0; i < bench.roof.eave_count; i++) {
        const struct roof_eave *of = &bench.roof.eaves[i];
        check_near(sum_catchments(of), of->plan_area_m2 - of->wall_area_m2, 1e-6);
    }
    assert_int_equal(count_code(BASE_ISSUE_ROOF_WING_HIDDEN), 0);
}

/* With flared eaves on the hall and a saddle behind the chimney. */
static void make_all_kinds(void) {
    twenty_wings_make(wings, &bench.job);
    wings[0].upper_begins = millimetres(1000);
    wings[0].upper_pitch = number(1);
    wings[15].saddle = number(0.3);
}

/* Whichever take fails, the answer is that there is no memory, and nothing else. */
static void a_failing_take_is_no_memory(void **state) {
    (void)state;
    enum { STEP = 7 };
    make_all_kinds();
    assert_int_equal(find(), BASE_OK);
    size_t takes = base_take_count(bench.arena);
    for (size_t nth = 1; nth <= takes; nth += STEP) {
        clear_bench(NULL);
        set_bench(NULL);
        make_all_kinds();
        base_fail_take(bench.arena, nth);
        assert_int_equal(find(), BASE_NO_MEMORY);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(twenty_wings_take_so_much_work_and_no_more, set_bench,
                                        clear_bench),
        cmocka_unit_test_setup_teardown(twenty_wings_lose_no_drop, set_bench, clear_bench),
        cmocka_unit_test_setup_teardown(a_failing_take_is_no_memory, set_bench, clear_bench),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
