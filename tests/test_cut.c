/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Cut plans: every plan is checked by counting anew; the number of bars against published optima,
 * and against brute force on small orders.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "cut/cut.h"
#include "house.h"

enum { ITEMS_MOST = 1100, SMALL_MOST = 8, SMALL_ORDERS = 3000 };

static uint64_t draw_bits(uint64_t *seed) {
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return *seed >> 33;
}

/* No bar holds more than it has, every part lies in one bar, none is empty. */
static void check_plan(const struct cut_order *order, const struct cut_packing *packing) {
    int64_t *used = calloc(packing->bars + 1, sizeof *used);
    assert_non_null(used);
    for (size_t i = 0; i < order->count; i++) {
        assert_true(packing->bar_of[i] < packing->bars);
        used[packing->bar_of[i]] += order->lengths_tick[i] + order->loss_tick;
    }
    for (size_t bar = 0; bar < packing->bars; bar++) {
        assert_true(used[bar] > 0 && used[bar] <= order->bar_tick + order->loss_tick);
    }
    free(used);
    assert_true(packing->bound <= packing->bars);
}

static size_t pack(const int64_t *lengths, size_t count, int64_t bar, int64_t loss, bool *proved) {
    struct base_arena *arena = base_make_arena(0);
    struct cut_order order = {lengths, count, bar, loss};
    struct cut_packing packing;
    assert_true(cut_pack(arena, &order, &packing));
    check_plan(&order, &packing);
    size_t bars = packing.bars;
    *proved = packing.proved;
    base_free_arena(arena);
    return bars;
}

/* ---- brute force ------------------------------------------------------------------------------
 */

struct brute {
    const int64_t *lengths;
    size_t count;
    int64_t bar;
    int64_t room[SMALL_MOST + 1];
    size_t best;
};

static void try_all(struct brute *brute, size_t at, size_t bars) {
    if (bars >= brute->best) {
        return;
    }
    if (at == brute->count) {
        brute->best = bars;
        return;
    }
    for (size_t i = 0; i < bars; i++) {
        if (brute->room[i] >= brute->lengths[at]) {
            brute->room[i] -= brute->lengths[at];
            try_all(brute, at + 1, bars);
            brute->room[i] += brute->lengths[at];
        }
    }
    brute->room[bars] = brute->bar - brute->lengths[at];
    try_all(brute, at + 1, bars + 1);
}

static void small_orders_take_no_more_bars_than_brute_force(void **state) {
    (void)state;
    uint64_t seed = 20261125;
    for (int n = 0; n < SMALL_ORDERS; n++) {
        int64_t lengths[SMALL_MOST];
        size_t count = 1 + (size_t)(draw_bits(&seed) % SMALL_MOST);
        int64_t bar = 60 + (int64_t)(draw_bits(&seed) % 80);
        for (size_t i = 0; i < count; i++) {
            lengths[i] = 8 + (int64_t)(draw_bits(&seed) % (uint64_t)(bar - 8));
        }
        bool proved;
        size_t bars = pack(lengths, count, bar, 0, &proved);
        struct brute brute = {.lengths = lengths, .count = count, .bar = bar, .best = count + 1};
        try_all(&brute, 0, 0);
        assert_true(proved);
        assert_int_equal(bars, brute.best);
    }
}

/* ---- published --------------------------------------------------------------------------------
 */

struct lot {
    int64_t length;
    size_t count;
};

static size_t pack_lots(const struct lot *lots, size_t lot_count, int64_t bar) {
    static int64_t lengths[ITEMS_MOST];
    size_t count = 0;
    for (size_t i = 0; i < lot_count; i++) {
        for (size_t k = 0; k < lots[i].count; k++) {
            lengths[count++] = lots[i].length;
        }
    }
    bool proved;
    return pack(lengths, count, bar, 0, &proved);
}

/* Stock 17: 3 x 25, 5 x 20, 9 x 15: 18 is impossible, 19 is built (data FOUND in course notes; the
 * answer DERIVED). Stock 110: 20 x 48, 45 x 35, 50 x 24, 55 x 10, 75 x 8: 47 (data FOUND in a
 * course problem set, value MEMORY). */
static void published_orders_come_out(void **state) {
    (void)state;
    static const struct lot seventeen[] = {{3, 25}, {5, 20}, {9, 15}};
    assert_int_equal(pack_lots(seventeen, 3, 17), 19);
    static const struct lot hundred_ten[] = {{20, 48}, {45, 35}, {50, 24}, {55, 10}, {75, 8}};
    assert_int_equal(pack_lots(hundred_ten, 5, 110), 47);
}

/* 516 in of gutter from 120 in lengths with 1 in laps: four whole ones and one of 40 in (DERIVED);
 * another run's 80 in comes from what is left of that. */
static void what_is_left_of_a_bar_serves_the_next_run(void **state) {
    (void)state;
    const int64_t lengths[] = {120, 120, 120, 120, 40, 80};
    bool proved;
    assert_int_equal(pack(lengths, 6, 120, 0, &proved), 5);
    assert_true(proved);
}

static void a_saw_takes_its_kerf(void **state) {
    (void)state;
    const int64_t lengths[] = {50, 50, 50, 50};
    bool proved;
    assert_int_equal(pack(lengths, 4, 100, 0, &proved), 2);
    assert_int_equal(pack(lengths, 4, 100, 1, &proved), 4);
    assert_int_equal(pack(lengths, 4, 101, 1, &proved), 2);
}

/* ---- a published set of hard ones: SRC-164 ----------------------------------------------------
 */

/* The next number, in tenths: the triplets have one decimal. */
static int64_t read_tenths(char **at) {
    return (int64_t)(strtod(*at, at) * 10 + 0.5);
}

static void pack_file(int number, size_t *exact, size_t *all) {
    static int64_t lengths[ITEMS_MOST];
    char path[512];
    (void)snprintf(path, sizeof path, SHARED_DATA "/cutting/1d/falkenauer/binpack%d.txt", number);
    size_t length;
    char *text = check_read_file(path, &length);
    char *at = text;
    int problems = (int)(read_tenths(&at) / 10);
    for (int p = 0; p < problems; p++) {
        at += strspn(at, " \r\n\t");
        at += strcspn(at, " \r\n\t"); /* its name */
        int64_t bar = read_tenths(&at);
        size_t count = (size_t)(read_tenths(&at) / 10);
        size_t best = (size_t)(read_tenths(&at) / 10);
        assert_true(count <= ITEMS_MOST && best > 0);
        for (size_t i = 0; i < count; i++) {
            lengths[i] = read_tenths(&at);
        }
        bool proved;
        size_t bars = pack(lengths, count, bar, 0, &proved);
        assert_true(bars * 100 <= best * 115);
        assert_true(number > 4 || bars * 100 <= best * 102); /* the last four are triplets */
        *exact += bars <= best ? 1 : 0;
        (*all)++;
    }
    free(text);
}

static void a_published_set_stays_near_its_best_known(void **state) {
    (void)state;
    size_t exact = 0;
    size_t all = 0;
    check_data_or_skip(SHARED_DATA "/cutting/1d/falkenauer");
    for (int number = 2; number <= 8; number++) {
        pack_file(number, &exact, &all);
    }
    print_message("# say: cut: %zu of %zu at the best known\n", exact, all);
    assert_int_equal(all, 140);
}

/* ---- a job's mitres ----------------------------------------------------------------------------
 */

/* Two inside corners of one angle: water passes the one as it comes and the other as it goes, so
 * the legs that are a hair longer are not the same ones. Each is cut by its own pattern. */
static void legs_are_cut_by_the_pattern_of_their_own_mitre(void **state) {
    (void)state;
    struct house house = house_solve(
        "eavesmith: 1\njob: ell\nunits: ft-in\nplace: {rain: {intensity: 6.6 in/h, minutes: 5, "
        "years: 10}}\nwings:\n  - {name: hall, corner: [0, 0], size: [56', 26'], eave height: 17', "
        "pitch: 9/12, edges: [eave, gable, eave, gable], overhang: 12\"}\n  - {name: ell, corner: "
        "[18', 26'], size: [18', 24'], eave height: 17', pitch: 9/12, edges: [wall, eave, gable, "
        "eave], overhang: 12\"}\ngutter: {size: 6 in}\noutlets: {allowed: [hall 1 from, hall 1 to, "
        "hall 3 from, hall 3 to, ell 2 to, ell 4 from]}\n",
        NULL, NULL);
    house_must_stand(&house);
    const struct patterns *patterns = &house.solution.patterns;
    const struct shop *shop = &house.solution.shop;
    assert_int_equal(patterns->mitre_count, 2);
    size_t legs = 0;
    for (size_t i = 0; i < house.solution.cut.count; i++) {
        const struct cut_plan *plan = &house.solution.cut.plans[i];
        for (size_t k = 0; k < plan->part_count; k++) {
            const struct cut_part *part = &plan->parts[k];
            if (part->leg == 0) {
                continue;
            }
            const struct pattern_leg *leg =
                &patterns->mitres[patterns->mitre_of[part->piece]].found.legs[part->leg - 1];
            double longest_m = 0;
            for (size_t n = 0; n < leg->count; n++) {
                longest_m =
                    leg->ordinates[n].length_m > longest_m ? leg->ordinates[n].length_m : longest_m;
            }
            int64_t over = part->length_tick - shop->lap_tick - units_tick_of_m(longest_m);
            assert_true(over >= 0 && over < shop->style.round_tick);
            legs++;
        }
    }
    assert_int_equal(legs, 4);
    house_free(&house);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_orders_take_no_more_bars_than_brute_force),
        cmocka_unit_test(published_orders_come_out),
        cmocka_unit_test(what_is_left_of_a_bar_serves_the_next_run),
        cmocka_unit_test(a_saw_takes_its_kerf),
        cmocka_unit_test(legs_are_cut_by_the_pattern_of_their_own_mitre),
        cmocka_unit_test(a_published_set_stays_near_its_best_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
