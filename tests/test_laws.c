/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The laws of the whole walk over random houses: one mirrored, turned, moved or said in other units
 * is the same job; water, metal and money are neither lost nor made; the same job gives the same
 * bytes. Each house is walked once; every law is asked about it; each test then looks at one law.
 */
#include "check.h"

#include "ask_laws.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

/* ---- all houses ----------------------------------------------------------------------------- */

/* Houses from book->at up to the end, in a child of its own. */
static bool ask_houses_before(uint64_t end) {
    fflush(NULL);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        for (; book->at < end; book->at++) {
            ask_house(book->at);
        }
        fflush(NULL);
        _exit(0);
    }
    int status = 1;
    assert_int_equal(waitpid(child, &status, 0), child);
    return status == 0;
}

static void ask_range(uint64_t first, uint64_t count) {
    for (book->at = first; book->at < first + count; book->at++) {
        if (ask_houses_before(first + count)) {
            break;
        }
        book->laws[LAW_ENDS].broken++;
        print_message("seed %" PRIu64 ": brought the walk down\n", book->at);
    }
    book->laws[LAW_ENDS].asked += count;
}

static uint64_t from_environment(const char *name, uint64_t otherwise) {
    const char *text = getenv(name);
    return text == NULL ? otherwise : strtoull(text, NULL, 10);
}

static int ask_all_houses(void **state) {
    (void)state;
    uint64_t seed = from_environment("EAVESMITH_SEED", 20261125);
    uint64_t count = from_environment("EAVESMITH_HOUSES", 2000);
    book = mmap(NULL, sizeof *book, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (book == MAP_FAILED) {
        return 1;
    }
    ask_range(seed, count);
    print_message("# say: seeds from %" PRIu64 ", %zu houses, %zu of them solved\n", seed,
                  book->houses, book->houses - book->stopped);
    for (int law = 0; law < LAW_COUNT; law++) {
        print_message("# say: %s: %zu asked, %zu broken, %zu figures on an edge\n", LAW_NAMES[law],
                      book->laws[law].asked, book->laws[law].broken, book->laws[law].edges);
    }
    return 0;
}

static int close_book(void **state) {
    (void)state;
    base_free_arena(usual.arena);
    base_free_arena(other.arena);
    return munmap(book, sizeof *book);
}

/*
 * Known breaks, in a thousand houses, with their cause; 0 where a law must hold on every one.
 *   turned           the corners are rounded to what a tape reads: a run of just twice a mitre's
 *                    leg becomes too short, an outlet over the last inch of a roof stands beside it
 *   anew, mirrored   an outlet right between two tails, a trough whose ends are equally near
 *   units            a figure that lies on the edge of its quantum
 */
static const size_t KNOWN_BREAKS[LAW_COUNT] = {
    [LAW_ENDS] = 0,   [LAW_SHIFT] = 0, [LAW_QUARTER] = 2,  [LAW_QUARTER_ANEW] = 3,
    [LAW_MIRROR] = 3, [LAW_UNITS] = 1, [LAW_TURN_345] = 1, [LAW_TURN] = 35,
};

static void must_hold(enum law law, size_t least_asked) {
    assert_in_range(book->laws[law].asked, least_asked, book->houses);
    /* a few houses may hold two by chance */
    size_t chance = KNOWN_BREAKS[law] > 0 ? 2 : 0;
    assert_in_range(book->laws[law].broken, 0,
                    chance + KNOWN_BREAKS[law] * book->laws[law].asked / 1000);
}

static void no_house_brings_the_walk_down(void **state) {
    (void)state;
    must_hold(LAW_ENDS, 1);
}

static void most_random_houses_are_solved(void **state) {
    (void)state;
    assert_true(book->stopped * 10 < book->houses);
}

static void a_house_moved_is_the_same_job(void **state) {
    (void)state;
    must_hold(LAW_SHIFT, book->houses / 3);
}

static void a_house_turned_a_quarter_is_the_same_job(void **state) {
    (void)state;
    must_hold(LAW_QUARTER, book->houses / 3);
    must_hold(LAW_QUARTER_ANEW, book->houses / 10);
}

static void a_house_in_the_mirror_is_the_same_job(void **state) {
    (void)state;
    must_hold(LAW_MIRROR, book->houses / 5);
}

static void a_house_in_other_units_is_the_same_job(void **state) {
    (void)state;
    must_hold(LAW_UNITS, book->houses / 3);
}

static void a_house_turned_by_any_angle_costs_the_same(void **state) {
    (void)state;
    must_hold(LAW_TURN_345, book->houses / 5);
    must_hold(LAW_TURN, book->houses / 3);
}

static void no_water_is_lost(void **state) {
    (void)state;
    must_hold(LAW_AREA, book->houses / 2);
    must_hold(LAW_FLOW, book->houses / 2);
}

static void pieces_less_laps_are_the_gutter(void **state) {
    (void)state;
    must_hold(LAW_METAL, book->houses / 2);
}

static void money_adds_up(void **state) {
    (void)state;
    must_hold(LAW_MONEY, book->houses / 2);
}

static void more_rain_never_makes_less(void **state) {
    (void)state;
    must_hold(LAW_RAIN_SIZE, book->houses / 6);
    must_hold(LAW_RAIN_DEPTH, book->houses / 6);
}

static void the_same_job_gives_the_same_bytes(void **state) {
    (void)state;
    must_hold(LAW_BYTES, book->houses / 2);
}

/* ---- kept ----------------------------------------------------------------------------------- */

/* Houses that broke a law once, by what was mended. */
static const struct {
    uint64_t seed;
    const char *was;
} KEPT[] = {
    {20261173, "a knot of inflow a hair below zero brought the walk down"},
    {20261127, "mirrored: a high point lay on a whole inch from the left"},
    {20261174, "mirrored: gutters were laid from the left only"},
    {20261245, "mirrored: a mitre's solder was rounded up with one of its runs"},
    {20261168, "mirrored: a valley over a high point poured to one side"},
    {20261197, "mirrored: a level trough's water went to one end"},
    {20261613, "mirrored: the gutter past an inside corner hung on tails that are not there"},
    {20263066, "mirrored: an eave was taken to run on under a roof that it passes"},
    {20261141, "turned: a slit between two roofs was an eave"},
};

static void kept_houses_keep_every_law(void **state) {
    (void)state;
    struct book before = *book;
    for (size_t i = 0; i < sizeof KEPT / sizeof KEPT[0]; i++) {
        *book = (struct book){0};
        ask_range(KEPT[i].seed, 1);
        for (int law = 0; law < LAW_COUNT; law++) {
            if (book->laws[law].broken > 0) {
                fail_msg("seed %" PRIu64 " breaks again: %s", KEPT[i].seed, KEPT[i].was);
            }
        }
    }
    *book = before;
}

/* ---- by hand -------------------------------------------------------------------------------- */

/* One porch of 28' 4 1/2" with its outlet so near a joint laid from the left that it must give way;
 * laid from the right it need not. Which end is better is no matter of hands. */
static void a_run_is_laid_from_its_better_end(void **state) {
    (void)state;
    static struct random_house porch;
    static struct random_house moved;
    struct same_report report;
    random_house_make(1, &porch);
    porch.wing_count = 0;
    porch.metric = false;
    porch.gutter_size = NULL;
    porch.run_count = 1;
    porch.runs[0] = (struct random_run){.name = "porch",
                                        .length_tick = 681 * INT64_C(4064),
                                        .depth_tick = 110 * INT64_C(8128),
                                        .pitch_12 = 4,
                                        .height_tick = 115 * INT64_C(8128),
                                        .overhang_tick = 11 * INT64_C(8128)};
    porch.outlets = RANDOM_OUTLETS_AT;
    porch.place_count = 1;
    for (int64_t inches = 96; inches <= 240; inches += 4) {
        porch.places[0] =
            (struct random_place){.at = RANDOM_DISTANCE, .distance_tick = inches * INT64_C(8128)};
        assert_true(walk_house(&usual, &porch, RANDOM_WORDS_USUAL));
        random_house_mirror(&porch, &moved);
        assert_true(walk_house(&other, &moved, RANDOM_WORDS_USUAL));
        if (!same_answer_renamed(other.arena, side_of(&usual), side_of(&other), true, &report)) {
            fail_msg("outlet at %d in: %s", (int)inches, report.first);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kept_houses_keep_every_law),
        cmocka_unit_test(a_run_is_laid_from_its_better_end),
        cmocka_unit_test(no_house_brings_the_walk_down),
        cmocka_unit_test(most_random_houses_are_solved),
        cmocka_unit_test(a_house_moved_is_the_same_job),
        cmocka_unit_test(a_house_turned_a_quarter_is_the_same_job),
        cmocka_unit_test(a_house_in_the_mirror_is_the_same_job),
        cmocka_unit_test(a_house_in_other_units_is_the_same_job),
        cmocka_unit_test(a_house_turned_by_any_angle_costs_the_same),
        cmocka_unit_test(no_water_is_lost),
        cmocka_unit_test(pieces_less_laps_are_the_gutter),
        cmocka_unit_test(money_adds_up),
        cmocka_unit_test(more_rain_never_makes_less),
        cmocka_unit_test(the_same_job_gives_the_same_bytes),
    };
    return cmocka_run_group_tests(tests, ask_all_houses, close_book);
}
