/* SPDX-License-Identifier: Apache-2.0 */
/* Law 2 over random houses by wings. Check values: plane geometry worked
 * by hand (DERIVED) unless said otherwise. */
#include "roof_bench.h"

/* ---- random houses ----------------------------------------------------------------------------
 */

static uint64_t seed;

static uint64_t next_random(void) { /* splitmix64 */
    seed += UINT64_C(0x9E3779B97F4A7C15);
    uint64_t z = seed;
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

static int64_t between(int64_t low, int64_t high) {
    return low + (int64_t)(next_random() % (uint64_t)(high - low + 1));
}

static void make_random_wing(int index) {
    static const char *const NAMES[] = {"hall", "ell", "porch", "shed"};
    static const char *const EDGES[] = {"eeee", "egeg", "gege", "wege",
                                        "egwg", "eeeg", "eewe", "ewee"};
    int64_t grid_mm = between(0, 1) ? 500 : 1; /* half of them meet on a grid, for ties */
    int64_t x_mm = index == 0 ? 0 : between(-8000, 14000) / grid_mm * grid_mm;
    int64_t y_mm = index == 0 ? 0 : between(-8000, 10000) / grid_mm * grid_mm;
    int64_t width_mm = between(2000, 14000) / grid_mm * grid_mm;
    int64_t depth_mm = between(2000, 10000) / grid_mm * grid_mm;
    struct job_wing *wing = add_box(NAMES[index], x_mm, y_mm, width_mm, depth_mm);
    set_edges(wing, EDGES[between(0, 7)]);
    wing->eave_height = millimetres(between(0, 2) ? 5000 : between(2500, 6500));
    wing->pitch = number(between(0, 1) ? 0.75 : (double)between(2, 18) / 12);
    for (int i = 0; i < JOB_WING_EDGES; i++) {
        if (between(0, 5) == 0) {
            wing->edge_pitch[i] = number((double)between(3, 15) / 12);
        }
    }
    wing->turn_rad = between(0, 3) ? 0 : (double)between(-180, 180) * PI / 180;
    if (between(0, 4) == 0) { /* gambrels and flared eaves */
        wing->upper_begins = millimetres(between(200, 3000));
        wing->upper_pitch = number((double)between(2, 18) / 12);
    }
}

/* Plan of the union by inclusion and exclusion: another way than the roof's own. */
static double find_union(void) {
    double sum_m2 = 0;
    for (unsigned set = 1; set < 1u << bench.job.wing_count; set++) {
        struct geometry_polygon common = {0};
        int members = 0;
        for (size_t i = 0; i < bench.job.wing_count; i++) {
            if (!(set >> i & 1u)) {
                continue;
            }
            const struct job_wing *wing = &bench.wings[i];
            struct geometry_point *at = base_take(bench.arena, 4, sizeof *at);
            double sides_m[4][2] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
            for (int k = 0; k < 4; k++) {
                double x_m = sides_m[k][0] * units_m_of_tick(wing->width.tick);
                double y_m = sides_m[k][1] * units_m_of_tick(wing->depth.tick);
                at[k].x_m = units_m_of_tick(wing->corner_x_tick) + cos(wing->turn_rad) * x_m -
                            sin(wing->turn_rad) * y_m;
                at[k].y_m = units_m_of_tick(wing->corner_y_tick) + sin(wing->turn_rad) * x_m +
                            cos(wing->turn_rad) * y_m;
            }
            if (members++ == 0) {
                common = (struct geometry_polygon){at, 4};
                continue;
            }
            for (int k = 0; k < 4 && common.count > 0; k++) {
                struct geometry_point u = geometry_subtract(at[(k + 1) % 4], at[k]);
                struct geometry_plane left = {-u.y_m, u.x_m, geometry_cross(at[k], u) * -1};
                left.c_m = -(left.a_1 * at[k].x_m + left.b_1 * at[k].y_m);
                struct geometry_polygon before = common;
                assert_true(geometry_clip(bench.arena, &before, left, &common));
            }
        }
        sum_m2 += (members % 2 ? 1 : -1) * geometry_area(&common);
    }
    return sum_m2;
}

/*
 * Known flaw of the roof on wild plans (wings turned into one another at odd angles): several
 * slopes' water together on one sliver of an eave. Counted, printed and capped; the water itself is
 * held to law 2, and catchments as drawn to the area counted, on every house.
 */
static size_t flaws;

static void check_eave(const struct roof_eave *of) {
    double length_m = units_m_of_tick(of->length_tick);
    assert_true(of->length_tick > 0);
    check_near(geometry_distance(of->from, of->to), length_m, 1e-4);
    assert_true(of->knot_count >= 2);
    for (size_t i = 0; i < of->knot_count; i++) {
        assert_true(of->knots[i].width_m >= 0);
        flaws += of->knots[i].width_m >= 100;
        assert_true(of->knots[i].x_m >= 0 && of->knots[i].x_m <= length_m + 1e-9);
        assert_true(i == 0 || of->knots[i].x_m >= of->knots[i - 1].x_m);
    }
    check_near(sum_catchments(of), of->plan_area_m2 - of->wall_area_m2, 1e-3);
}

static void check_chains(void) {
    for (size_t i = 0; i < bench.roof.eave_count; i++) {
        const struct roof_eave *of = &bench.roof.eaves[i];
        if (of->next != SIZE_MAX) {
            assert_true(of->next < bench.roof.eave_count);
            assert_int_equal(bench.roof.eaves[of->next].previous, i);
            assert_int_equal(bench.roof.eaves[of->next].from_end.kind, of->to_end.kind);
            assert_true(of->to_end.kind == JOB_END_OUTSIDE || of->to_end.kind == JOB_END_INSIDE);
            assert_true(of->to_end.corner_rad > 0.08 && of->to_end.corner_rad < PI);
        } else {
            assert_true(of->to_end.kind == JOB_END_CAP || of->to_end.kind == JOB_END_WALL);
        }
        for (size_t k = i + 1; k < bench.roof.eave_count; k++) {
            assert_false(base_text_equal(of->name, bench.roof.eaves[k].name));
        }
    }
}

/* A wall edge may be moved 2 mm to stand on what it abuts. */
static double find_slits(void) {
    double sum_m2 = 0;
    for (size_t i = 0; i < bench.job.wing_count; i++) {
        const struct job_wing *wing = &bench.job.wings[i];
        for (size_t edge = 0; edge < job_count_edges(wing); edge++) {
            int64_t length_tick = edge % 2 == 0 ? wing->width.tick : wing->depth.tick;
            sum_m2 += wing->edges[edge] == JOB_EDGE_WALL ? 0.002 * units_m_of_tick(length_tick) : 0;
        }
    }
    return sum_m2;
}

/* Every place where water is lost is named, and no drop more. */
static void check_links(void) {
    double lost_m2 = 0;
    for (size_t i = 0; i < bench.roof.link_count; i++) {
        const struct roof_link *link = &bench.roof.links[i];
        assert_true(link->wing < bench.job.wing_count);
        lost_m2 += link->end == ROOF_END_LOST || link->end == ROOF_END_PIT ? link->area_m2 : 0;
    }
    check_near(lost_m2, bench.roof.stray_plan_area_m2, 1e-9);
    assert_int_equal(count_code(BASE_ISSUE_ROOF_STRAY) + count_code(BASE_ISSUE_ROOF_PIT) > 0,
                     lost_m2 > 0.005);
}

/* Law 2: what comes down is what falls on the plan, however the wings stand. */
static void two_thousand_random_houses_lose_no_drop(void **state) {
    (void)state;
    const char *wanted = getenv("EAVESMITH_SEED");
    uint64_t start = wanted != NULL ? strtoull(wanted, NULL, 10) : 20250101;
    size_t strays = 0;
    size_t pours = 0;
    print_message("# seed %llu\n", (unsigned long long)start);
    const char *asked = getenv("EAVESMITH_HOUSES");
    uint64_t houses = asked != NULL ? strtoull(asked, NULL, 10) : 2000;
    flaws = 0;
    for (uint64_t house = 0; house < houses; house++) {
        clear_bench(NULL);
        set_bench(NULL);
        seed = start + house;
        bench.job.wall_rain = house % 2 == 0 ? JOB_WALL_RAIN_NONE : JOB_WALL_RAIN_HALF;
        int wings = (int)between(1, WINGS_MAX);
        for (int i = 0; i < wings; i++) {
            make_random_wing(i);
        }
        assert_int_equal(find(), BASE_OK);
        double union_m2 = find_union();
        double limit_m2 = 1e-5 * union_m2 + find_slits();
        if (!(fabs(sum_drained() - bench.roof.wall_area_m2 - union_m2) <= limit_m2) ||
            !(fabs(bench.roof.plan_area_m2 - union_m2) <= limit_m2)) {
            print_error("house seed %llu\n", (unsigned long long)start + house);
        }
        check_near(bench.roof.plan_area_m2, union_m2, limit_m2);
        check_near(sum_drained(), bench.roof.plan_area_m2 + bench.roof.wall_area_m2,
                   1e-6 * union_m2);
        for (size_t i = 0; i < bench.roof.eave_count; i++) {
            check_eave(&bench.roof.eaves[i]);
        }
        check_chains();
        for (size_t i = 0; i < bench.roof.line_count; i++) {
            assert_true(isfinite(bench.roof.lines[i].from_z_m + bench.roof.lines[i].to.x_m));
        }
        check_links();
        strays += count_code(BASE_ISSUE_ROOF_STRAY);
        pours += bench.roof.pour_count;
    }
    print_message("# %zu houses with stray water, %zu pours, %zu flaws\n", strays, pours, flaws);
    assert_true(pours > houses / 4);
    assert_true(flaws <= 4 + houses / 1000);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test_setup_teardown(
        two_thousand_random_houses_lose_no_drop, set_bench, clear_bench)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
