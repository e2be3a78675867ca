/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The whole walk. Check values marked "plan" are worked by hand from the porch's tape (DERIVED);
 * the level formula behind the needed width is FOUND (Beij 1934).
 */
#include "check.h"
#include "house.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define SQFT_M2 (0.3048 * 0.3048)
#define GPM_M3S (3.785411784e-3 / 60)

#define PORCH_HEAD                                                                                 \
    "eavesmith: 1\njob: Sallowfield porch\nunits: ft-in\n"                                         \
    "place: {rain: {intensity: 6.6 in/h, minutes: 5, years: 10}}\n"
#define PORCH_RUN                                                                                  \
    "runs:\n"                                                                                      \
    "  - {name: porch, length: 28' 4 1/2\", taped on: roof edge, depth: 9' 2\", pitch: 4/12,\n"    \
    "     from: end cap, to: end cap, eave height: 9' 7\", overhang: 11 1/4\"}\n"

static const char porch[] = PORCH_HEAD PORCH_RUN "outlets: {at: [porch to]}\n";
static const char mirrored[] = PORCH_HEAD PORCH_RUN "outlets: {at: [porch from]}\n";
static const char prices[] =
    "eavesmith prices: 1\ncurrency: USD\ndeposit: 40 %\ntax: 6.25 %\nprices:\n"
    "  gutter 5 in: 19.80 per ft\n  end cap 5 in: 14.00\n  outlet 3 in: 26.00\n"
    "  outlet 4 in: 31.00\n  strainer 3 in: 9.50\n  strainer 4 in: 11.00\n"
    "  downspout 3 in: 14.60 per ft\n  downspout 4 in: 18.90 per ft\n  elbow 3 in: 24.00\n"
    "  elbow 4 in: 29.00\n  shoe 3 in: 24.00\n  shoe 4 in: 29.00\n  strap 3 in: 8.75\n"
    "  strap 4 in: 9.75\n  bracket 5 in: 16.50\n  face screw: 0.35\n  lag: 0.85\n"
    "  strap screw: 0.40\n  rivet: 0.12\n  solder: 21.00 per lb\n  flux: 4.50\n";

/* inches in 64ths: exact */
static int64_t sixty_fourths(int64_t feet, int64_t inches, int64_t over_64) {
    return ((feet * 12 + inches) * 64 + over_64) * 127;
}

static void the_porch_has_the_water_of_the_hand_calculation(void **state) {
    (void)state;
    struct house house = house_solve(porch, NULL, NULL);
    house_must_stand(&house);
    const struct layout *layout = &house.solution.layout;
    assert_int_equal(layout->reach_count, 1);
    const struct layout_reach *reach = &layout->reaches[0];
    /* plan: 28' 4 1/2" x 9' 2" = 260.10 sq ft; x 1.05 = 273.1; at 6.6 in/h 18.7 gpm. DERIVED */
    check_near(house.solution.roof.plan_area_m2 / SQFT_M2, 260.1, 0.05);
    check_near(reach->plan_area_m2 / SQFT_M2, 260.1, 0.05);
    check_near(reach->flow_m3s / layout->rain_mps / SQFT_M2, 273.1, 0.05);
    check_near(reach->flow_m3s / GPM_M3S, 18.7, 0.05);
    check_near(layout->outlets[0].flow_m3s, reach->flow_m3s, 1e-12);
    /* (0.04173 / 0.52)^0.4 ft = 4.37 in. DERIVED; formula FOUND */
    check_near(reach->needed_width_m / 0.0254, 4.37, 0.006);
    assert_string_equal(house.solution.shop.profiles[layout->lines[0].profile].name, "5 in");
    house_free(&house);
}

static void the_porch_is_cut_as_the_hand_calculation_says(void **state) {
    (void)state;
    struct house house = house_solve(porch, NULL, NULL);
    house_must_stand(&house);
    const struct solution *all = &house.solution;
    /* plan: an inch past each free end; 10 ft stock with 1 in laps. DERIVED */
    assert_int_equal(all->layout.runs[0].length_tick, sixty_fourths(28, 6, 32));
    const struct joints_run *joints = &all->joints.runs[0];
    assert_int_equal(joints->joint_count, 2);
    assert_int_equal(joints->joints[0].centre_tick, sixty_fourths(9, 11, 32));
    assert_int_equal(joints->joints[1].centre_tick, sixty_fourths(19, 10, 32));
    const int64_t lengths_tick[] = {sixty_fourths(10, 0, 0), sixty_fourths(10, 0, 0),
                                    sixty_fourths(8, 8, 32)};
    size_t gutters = 0;
    size_t left_caps = 0;
    size_t right_caps = 0;
    for (size_t i = 0; i < all->pieces.count; i++) {
        const struct pieces_piece *piece = &all->pieces.items[i];
        if (piece->kind == PIECES_GUTTER) {
            assert_true(gutters < 3);
            assert_int_equal(piece->length_tick - piece->trim_tick, lengths_tick[gutters++]);
        }
        left_caps += piece->kind == PIECES_END_CAP && piece->hand == PIECES_LEFT;
        right_caps += piece->kind == PIECES_END_CAP && piece->hand == PIECES_RIGHT;
    }
    assert_int_equal(gutters, 3);
    assert_int_equal(left_caps, 1);
    assert_int_equal(right_caps, 1);
    /* the outlet's centre 6 in from the end: the shop's habit, COMMON PRACTICE */
    assert_int_equal(all->layout.outlets[0].x_tick, sixty_fourths(28, 0, 32));
    house_free(&house);
}

static void a_mirrored_porch_has_a_mirrored_outlet(void **state) {
    (void)state;
    struct house right = house_solve(porch, NULL, NULL);
    struct house left = house_solve(mirrored, NULL, NULL);
    house_must_stand(&right);
    house_must_stand(&left);
    const struct layout *a = &right.solution.layout;
    const struct layout *b = &left.solution.layout;
    assert_int_equal(a->outlets[0].x_tick + b->outlets[0].x_tick, a->runs[0].length_tick);
    assert_true(a->reaches[0].towards_right);
    assert_false(b->reaches[0].towards_right);
    check_near(a->reaches[0].flow_m3s, b->reaches[0].flow_m3s, 1e-15);
    check_near(a->reaches[0].profile.greatest_depth_m, b->reaches[0].profile.greatest_depth_m,
               1e-9);
    assert_int_equal(a->runs[0].lip_low_tick, b->runs[0].lip_low_tick);
    house_free(&right);
    house_free(&left);
}

/* Two eaves round an outside corner of that angle, level, one outlet at the far end. */
static struct house solve_corner(int corner_deg) {
    char text[1024];
    snprintf(text, sizeof text,
             PORCH_HEAD "runs:\n"
                        "  - {name: long, length: 20', taped on: roof edge, depth: 9' 2\", pitch: "
                        "4/12,\n     from: end cap, to: outside corner %d deg}\n"
                        "  - {name: short, length: 6', taped on: roof edge, depth: 9' 2\", pitch: "
                        "4/12,\n     from: outside corner %d deg, to: end cap}\n"
                        "gutter: {size: 6 in, fall: level}\noutlets: {at: [short to]}\n",
             corner_deg, corner_deg);
    struct house house = house_solve(text, NULL, NULL);
    house_must_stand(&house);
    return house;
}

static void a_mitre_on_the_way_raises_the_water_behind_it(void **state) {
    (void)state;
    struct house square = solve_corner(90);
    struct house blunt = solve_corner(150);
    const struct layout_reach *at_square = &square.solution.layout.reaches[0];
    const struct layout_reach *at_blunt = &blunt.solution.layout.reaches[0];
    assert_int_equal(at_square->bend_count, 1);
    assert_int_equal(at_blunt->bend_count, 1);
    /* 1 - cos(turn): DERIVED, SRC-96 */
    check_near(at_square->bends[0].loss_1, 1.0, 1e-12);
    check_near(at_blunt->bends[0].loss_1, 1.0 - cos(30 * 3.14159265358979 / 180), 1e-9);
    /* the corner stands where the second gutter begins, and the outlet on that gutter */
    double behind_m = units_m_of_tick(square.solution.layout.outlets[0].x_tick);
    check_near(at_square->profile.stations[at_square->profile.station_count - 1].x_m -
                   at_square->bends[0].x_m,
               behind_m, 1e-9);
    /* the same water in all but the same gutter, deeper behind the square one */
    check_near(at_square->flow_m3s / at_blunt->flow_m3s, 1.0, 0.01);
    assert_true(at_square->profile.still_depth_m > 1.03 * at_blunt->profile.still_depth_m);
    house_free(&square);
    house_free(&blunt);
}

static void the_same_porch_in_millimetres_has_the_same_areas(void **state) {
    (void)state;
    /* 28' 4 1/2" = 8648.7 mm and 9' 2" = 2794 mm, exactly: units DERIVED */
    static const char metric[] =
        "eavesmith: 1\njob: Sallowfield porch\nunits: mm\n"
        "place: {rain: {intensity: 6.6 in/h, minutes: 5, years: 10}}\n"
        "runs:\n  - {name: porch, length: 8648.7, taped on: roof edge, depth: 2794, pitch: 4/12,\n"
        "     from: end cap, to: end cap}\noutlets: {at: [porch to]}\n";
    struct house feet = house_solve(porch, NULL, NULL);
    struct house mm = house_solve(metric, NULL, NULL);
    house_must_stand(&feet);
    house_must_stand(&mm);
    check_near(feet.solution.roof.plan_area_m2, mm.solution.roof.plan_area_m2, 1e-9);
    check_near(feet.solution.layout.rain_mps, mm.solution.layout.rain_mps, 1e-15);
    house_free(&feet);
    house_free(&mm);
}

static void more_rain_never_gives_less_gutter_or_less_depth(void **state) {
    (void)state;
    size_t profile = 0;
    for (int tenths = 20; tenths <= 150; tenths += 5) {
        char text[1024];
        double depth_m[2];
        for (int given = 0; given < 2; given++) { /* 0: size free; 1: 8 in, so depths compare */
            snprintf(
                text, sizeof text,
                "eavesmith: 1\njob: sweep\nunits: ft-in\nplace: {rain: {intensity: %d.%d in/h, "
                "minutes: 5, years: 10}}\n" PORCH_RUN
                "outlets: {at: [porch to], downspout: 6 in}\n%s",
                tenths / 10, tenths % 10, given ? "gutter: {size: 8 in}\n" : "");
            struct house house = house_solve(text, NULL, NULL);
            house_must_stand(&house);
            const struct layout *layout = &house.solution.layout;
            static double last_m;
            depth_m[given] = layout->reaches[0].profile.greatest_depth_m;
            if (given) {
                last_m = tenths == 20 ? 0.0 : last_m;
                assert_true(depth_m[1] >= last_m - 1e-9);
                last_m = depth_m[1];
            } else {
                assert_true(layout->lines[0].profile >= profile);
                profile = layout->lines[0].profile;
            }
            house_free(&house);
        }
    }
    assert_true(profile > 0); /* the sweep reached a larger gutter */
}

static double depth_in(const struct house *house, size_t reach, double factor_1) {
    struct hydraulics_profile profile;
    assert_true(
        layout_find_profile(house->arena, &house->solution.layout, reach, factor_1, &profile));
    return profile.greatest_depth_m;
}

/* Laws: the design rain gives the reach's own profile, the rain it just runs with stands at the
 * lip, and in between more rain stands higher. */
static void another_rain_in_the_same_gutter_rises_to_the_lip(void **state) {
    (void)state;
    struct house house = house_solve(porch, NULL, NULL);
    house_must_stand(&house);
    const struct layout *layout = &house.solution.layout;
    const struct layout_reach *reach = &layout->reaches[0];
    check_near(depth_in(&house, 0, 1), reach->profile.greatest_depth_m, 1e-9);
    double limit_1 = reach->often.troubles[LAYOUT_AS_BUILT].rain_mps / layout->rain_mps;
    double full_m = reach->profile.greatest_depth_m + reach->freeboard_m;
    check_near(depth_in(&house, 0, limit_1), full_m, 0.002 * full_m); /* kept to four figures */
    double before_m = 0;
    for (int step = 1; step < 10; step++) {
        double now_m = depth_in(&house, 0, limit_1 * step / 10);
        assert_true(now_m > before_m && now_m < full_m);
        before_m = now_m;
    }
    house_free(&house);
}

static void money_lines_sum_to_the_total(void **state) {
    (void)state;
    struct house house = house_solve(porch, prices, NULL);
    house_must_stand(&house);
    const struct money *money = &house.solution.money;
    assert_true(money->priced);
    int64_t sum_minor = 0;
    int64_t gutter_minor = 0;
    for (size_t i = 0; i < money->count; i++) {
        sum_minor += money->lines[i].amount_minor;
        gutter_minor +=
            base_text_is(money->lines[i].key, "gutter 5 in") ? money->lines[i].amount_minor : 0;
    }
    /* 28' 8 1/2" of pieces at 19.80 = 568.425, halves up. DERIVED */
    assert_int_equal(gutter_minor, 56843);
    assert_int_equal(sum_minor, money->sum_minor);
    assert_int_equal(money->total_minor, money->sum_minor + money->tax_minor);
    assert_int_equal(money->tax_minor, (money->sum_minor * 625 + 5000) / 10000);
    assert_int_equal(money->deposit_minor, (money->total_minor * 4 + 5) / 10);
    house_free(&house);
}

static enum base_status solve_failing(size_t nth, size_t *takes) {
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    struct base_trace trace = {.arena = arena};
    struct solve_input input = {0};
    static struct solution solution;
    assert_int_equal(
        yaml_read_tree(arena, &issues, BASE_DOCUMENT_JOB, base_text_of(porch), &input.job),
        BASE_OK);
    assert_int_equal(
        yaml_read_tree(arena, &issues, BASE_DOCUMENT_PRICES, base_text_of(prices), &input.prices),
        BASE_OK);
    size_t before = base_take_count(arena);
    base_fail_take(arena, nth);
    enum base_status status = solve_job(arena, &issues, &trace, &input, &solution);
    *takes = base_take_count(arena) - before;
    base_free_arena(arena);
    return status;
}

static void any_failed_take_gives_no_memory(void **state) {
    (void)state;
    size_t takes;
    size_t unused;
    assert_int_equal(solve_failing(0, &takes), BASE_OK);
    assert_true(takes > 50);
    for (size_t nth = 1; nth <= takes; nth += nth < 40 ? 1 : 7) {
        assert_int_equal(solve_failing(nth, &unused), BASE_NO_MEMORY);
    }
}

/* ---- houses by chance ------------------------------------------------------------------------ */

static uint64_t chance;

static unsigned next_below(unsigned limit) { /* xorshift64*, Vigna 2016 */
    chance ^= chance >> 12;
    chance ^= chance << 25;
    chance ^= chance >> 27;
    return (unsigned)((chance * UINT64_C(2685821657736338717)) >> 33) % limit;
}

static uint64_t from_environment(const char *name, uint64_t otherwise) {
    const char *text = getenv(name);
    return text == NULL ? otherwise : strtoull(text, NULL, 10);
}

/* One to four eaves in a chain; the first and last end free. */
static void write_house(char *text, size_t size, unsigned runs, bool tails, const char *basis) {
    static const char *const ends[] = {"end cap", "outside corner", "inside corner", "wall"};
    int at =
        snprintf(text, size,
                 "eavesmith: 1\njob: chance\nunits: ft-in\nplace: {rain: {intensity: %u.%u in/h, "
                 "minutes: 5, years: 10}}\nwater: {basis: %s}\nruns:\n",
                 2 + next_below(7), next_below(10), basis);
    unsigned from = 0;
    unsigned pitch = 2 + next_below(11);
    for (unsigned i = 0; i < runs; i++) {
        unsigned to = i + 1 == runs ? 0 : 1 + next_below(2);
        at += snprintf(
            text + at, size - (size_t)at,
            "  - {name: r%u, length: %u' %u %u/16\", taped on: roof edge, depth: %u' %u\", "
            "pitch: %u/12, from: %s, to: %s, eave height: %u', overhang: %u\"}\n",
            i, 9 + next_below(50), next_below(12), 1 + next_below(15), 4 + next_below(14),
            next_below(12), pitch, ends[from], ends[to], 9 + next_below(12), 8 + next_below(14));
        from = to;
    }
    if (tails) {
        snprintf(text + at, size - (size_t)at,
                 "eave section: {tails: {spacing: %u\", first: %u\"}}\n", 16 + 8 * next_below(2),
                 2 + next_below(10));
    }
}

static void check_flows(const struct solution *all) {
    double flow_m3s = 0.0;
    double area_m2 = 0.0;
    double design_m2 = 0.0;
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        assert_true(isfinite(all->layout.outlets[i].flow_m3s));
        assert_true(isfinite(all->layout.outlets[i].head_m));
        flow_m3s += all->layout.outlets[i].flow_m3s;
    }
    for (size_t i = 0; i < all->layout.reach_count; i++) {
        const struct layout_reach *reach = &all->layout.reaches[i];
        assert_true(isfinite(reach->profile.greatest_depth_m) && isfinite(reach->needed_width_m));
        area_m2 += reach->plan_area_m2;
        design_m2 += reach->flow_m3s / all->layout.rain_mps;
    }
    check_near(area_m2 / all->roof.plan_area_m2, 1.0, 1e-9);
    check_near(flow_m3s / (design_m2 * all->layout.rain_mps), 1.0, 1e-9);
    /* every eave of such a house has one pitch, so one factor */
    double pitch_1 = all->roof.eaves[0].pitch_1;
    double factor_1 = all->layout.basis == JOB_BASIS_HANDBOOK ? hydraulics_pitch_factor(pitch_1)
                      : all->layout.basis == JOB_BASIS_EN     ? hydraulics_en_wind_factor(pitch_1)
                                                              : 1.0;
    check_near(flow_m3s / (all->layout.rain_mps * all->roof.plan_area_m2 * factor_1), 1.0, 1e-9);
}

static void check_run(const struct solution *all, size_t index) {
    const struct layout_run *run = &all->layout.runs[index];
    const struct joints_run *joints = &all->joints.runs[index];
    const struct hang_run *hang = &all->hang.runs[index];
    const struct shop *shop = &all->shop;
    int64_t sum_tick = 0;
    for (size_t i = 0; i < joints->span_count; i++) {
        int64_t length_tick = joints->spans[i].to_tick - joints->spans[i].from_tick;
        assert_true(length_tick > 0 && length_tick <= shop->stock_tick);
        sum_tick += length_tick;
    }
    int64_t leg_tick = shop->mitre_leg_tick - shop->lap_tick;
    int64_t legs_tick = (run->left_is_free ? 0 : leg_tick) + (run->right_is_free ? 0 : leg_tick);
    int64_t laps_tick = (int64_t)(joints->span_count - 1) * shop->lap_tick;
    assert_int_equal(sum_tick - laps_tick + legs_tick, run->length_tick);
    for (size_t i = 0; i < joints->joint_count; i++) {
        for (size_t j = 0; j < all->layout.outlet_count; j++) {
            int64_t off_tick = joints->joints[i].centre_tick - all->layout.outlets[j].x_tick;
            if (all->layout.outlets[j].run == index) {
                assert_true(llabs(off_tick) >= shop->joint_clear_tick);
            }
        }
    }
    for (size_t i = 0; i < hang->count; i++) {
        assert_in_range(hang->brackets[i].x_tick, 0, run->length_tick);
        assert_true(hang->brackets[i].drop_tick >= 0);
        assert_true(i == 0 || hang->brackets[i].x_tick > hang->brackets[i - 1].x_tick);
    }
    assert_true(hang->count > 0);
    assert_int_equal(hang->brackets[hang->high_bracket].drop_tick, 0);
}

static void check_solution(const struct solution *all) {
    check_flows(all);
    for (size_t i = 0; i < all->layout.run_count; i++) {
        check_run(all, i);
    }
    for (size_t i = 0; i < all->pieces.count; i++) {
        assert_true(isfinite(all->pieces.items[i].mass_kg));
        assert_true(all->pieces.items[i].mass_kg >= 0.0);
        assert_true(all->pieces.items[i].length_tick >= 0);
    }
}

static void houses_by_chance_keep_the_laws(void **state) {
    (void)state;
    uint64_t seed = from_environment("EAVESMITH_SEED", 20261125);
    uint64_t houses = from_environment("EAVESMITH_HOUSES", 2000);
    static const char *const bases[] = {"handbook", "us code", "en"};
    print_message("seed %llu, houses %llu\n", (unsigned long long)seed, (unsigned long long)houses);
    chance = seed == 0 ? 1 : seed;
    uint64_t stopped = 0;
    for (uint64_t i = 0; i < houses; i++) {
        char text[4096];
        uint64_t was = chance;
        write_house(text, sizeof text, 1 + next_below(4), next_below(2) == 0, bases[next_below(3)]);
        struct house house = house_solve(text, NULL, NULL);
        if (house.status != BASE_OK) {
            print_message("chance %llu:\n%s", (unsigned long long)was, text);
            house_print_issues(&house);
            stopped++;
        } else {
            check_solution(&house.solution);
        }
        house_free(&house);
    }
    assert_int_equal(stopped, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_porch_has_the_water_of_the_hand_calculation),
        cmocka_unit_test(the_porch_is_cut_as_the_hand_calculation_says),
        cmocka_unit_test(a_mirrored_porch_has_a_mirrored_outlet),
        cmocka_unit_test(a_mitre_on_the_way_raises_the_water_behind_it),
        cmocka_unit_test(the_same_porch_in_millimetres_has_the_same_areas),
        cmocka_unit_test(more_rain_never_gives_less_gutter_or_less_depth),
        cmocka_unit_test(another_rain_in_the_same_gutter_rises_to_the_lip),
        cmocka_unit_test(money_lines_sum_to_the_total),
        cmocka_unit_test(any_failed_take_gives_no_memory),
        cmocka_unit_test(houses_by_chance_keep_the_laws),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
