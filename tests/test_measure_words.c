/* SPDX-License-Identifier: Apache-2.0 */
/* The measurements in words: what the command prints, what goes into a mail, the page. */
#include "check.h"
#include "house.h"

#include "documents/documents.h"

#define HEAD                                                                                       \
    "eavesmith: 1\njob: Quincebeam\nunits: ft-in\n"                                                \
    "place: {rain: {intensity: 6.6 in/h, minutes: 5, years: 10}}\n"
#define RUN(name, length, ends)                                                                    \
    "  - {name: " name ", length: " length ", taped on: roof edge, depth: 12', pitch: 6/12, "      \
    "overhang: 12\", " ends "}\n"
#define TURNS "from: outside corner, to: outside corner"
#define RING(south)                                                                                \
    "runs:\n" RUN("south", south, TURNS) RUN("east", "24'", TURNS) RUN("north", "40'", TURNS)      \
        RUN("west", "24'", TURNS)
#define DIAGONAL "checks: [{name: diagonal, from: south from, to: east to, length: 46' 7 3/4\"}]\n"

static bool holds(struct base_text text, const char *words) {
    for (size_t i = 0; i < text.length; i++) {
        if (base_text_starts((struct base_text){text.bytes + i, text.length - i}, words)) {
            return true;
        }
    }
    print_error("no \"%s\" in:\n%.*s\n", words, (int)text.length, text.bytes);
    return false;
}

static void a_dropped_foot_is_asked_for(void **state) {
    (void)state;
    struct house house = house_solve(HEAD RING("39'") DIAGONAL, NULL, NULL);
    struct base_text mail = documents_write_measure_mail(house.arena, &house.solution);
    assert_true(holds(mail, "Your measurements: Quincebeam\n"));
    assert_true(holds(mail, "misses its start by 1' 0\""));
    assert_true(holds(mail, "About the length of south: we have 39' 0\"; could it be 40' 0\" (a "
                            "foot dropped)? Please tape it once more."));
    assert_true(holds(mail, "Please do not climb for it"));
    struct base_text table = documents_write_measure(house.arena, &house.solution);
    assert_true(holds(table, "the corner at the right end of west"));
    assert_true(holds(table, "the check diagonal"));
    assert_true(holds(table, "from the lengths as said, not as adjusted"));
    house_free(&house);
}

static void a_house_that_agrees_is_left_in_peace(void **state) {
    (void)state;
    struct house house = house_solve(HEAD RING("40'") DIAGONAL, NULL, NULL);
    struct base_text mail = documents_write_measure_mail(house.arena, &house.solution);
    assert_true(holds(mail, "The measurements agree within their doubts."));
    for (size_t i = 0; i < mail.length; i++) {
        assert_int_not_equal(mail.bytes[i], '?');
    }
    house_free(&house);
}

static void a_house_without_a_check_is_told_so(void **state) {
    (void)state;
    struct house house =
        house_solve(HEAD "runs:\n" RUN("porch", "28'", "from: end cap, to: end cap"), NULL, NULL);
    struct base_text words = documents_write_verdict(house.arena, &house.solution);
    assert_true(holds(words, "No size is taped twice"));
    house_free(&house);
}

static void an_inside_corner_is_asked_for_by_walking(void **state) {
    (void)state;
    struct house house = house_solve(HEAD "runs:\n" RUN("a", "40'", TURNS) RUN("b", "30'", TURNS)
                                         RUN("c", "15'", TURNS) RUN("d", "10'", TURNS)
                                             RUN("e", "25'", TURNS) RUN("f", "20'", TURNS),
                                     NULL, NULL);
    assert_int_equal(house.solution.measure.verdict, MEASURE_ONE_WRONG);
    struct base_text words = documents_write_question(house.arena, &house.solution, 0);
    assert_true(holds(words, "the corner at the right end of d"));
    assert_true(holds(words, "do you turn left there (an outside corner) or right (an inside"));
    house_free(&house);
}

static void an_outline_is_said_to_be_taken_as_it_is(void **state) {
    (void)state;
    struct house house = house_solve(
        "eavesmith: 1\njob: words\nunits: ft-in\n"
        "place: {rain: {intensity: 6 in/h, minutes: 5, years: 10}}\n"
        "outline: {name: shed, eave height: 10', pitch: 6/12, corners: [[0, 0], [30', 0], [30', "
        "20'], [0, 20']]}\noutlets: {at: [shed 1 from], discharge: drain}\n",
        NULL, NULL);
    house_must_stand(&house);
    struct base_text words = documents_write_measure(house.arena, &house.solution);
    assert_true(base_text_starts(words, "Nothing is adjusted here: an outline"));
    assert_false(holds(words, "diagonal"));
    house_free(&house);
}

static void what_is_left_long_stands_in_the_answer(void **state) {
    (void)state;
    struct house house = house_solve(
        HEAD RING("40'") DIAGONAL "outlets: {at: [south to, north to], discharge: splash block}\n",
        NULL, NULL);
    house_must_stand(&house);
    struct base_text words = documents_write_summary(house.arena, &house.solution, &house.issues);
    assert_true(holds(words, "longer, to be cut on site"));
    house_free(&house);
}

#define METRIC(name, length, ends)                                                                 \
    "  - {name: " name ", length: " length                                                         \
    ", taped on: roof edge, depth: 3 m, pitch: 30 deg, " ends                                      \
    ", eave height: 3 m, overhang: 300}\n"

/* A corner of 97 degrees in a rectangle of 9 by 6 m; asked in the units of the job. */
static void a_metric_corner_is_asked_in_millimetres(void **state) {
    (void)state;
    struct house house = house_solve(
        "eavesmith: 1\njob: words\nunits: mm\n"
        "place: {rain: {intensity: 0.03 l/s/m2, minutes: 5, years: 5}}\nruns:\n" METRIC("a", "9000",
                                                                                        TURNS)
            METRIC("b", "6000",
                   "from: outside corner, to: outside corner 97 "
                   "deg") METRIC("c", "9000", "from: outside corner 97 deg, to: outside corner")
                METRIC("d", "6000", TURNS) "checks:\n"
                                           "  - {name: e, from: a from, to: b to, length: 10817}\n"
                                           "  - {name: f, from: b from, to: c to, length: 10817}\n",
        NULL, NULL);
    assert_int_equal(house.solution.measure.verdict, MEASURE_ONE_WRONG);
    struct base_text words = documents_write_question(house.arena, &house.solution, 0);
    assert_true(holds(words, "could it be about 90"));
    assert_true(holds(words, "900 mm along one eave and 1200 mm along the other"));
    assert_false(holds(words, "3 ft"));
    house_free(&house);
}

/* The page is made where something is measured more than once, and only there. */
static void the_page_stands_in_the_packet_of_a_checked_house(void **state) {
    (void)state;
    static const char *const JOBS[] = {
        HEAD RING("40'") DIAGONAL "outlets: {at: [south to, north to], discharge: splash block}\n",
        HEAD
        "runs:\n" RUN("porch", "28'", "from: end cap, to: end cap") "outlets: {at: [porch to]}"};
    for (int i = 0; i < 2; i++) {
        struct house house = house_solve(JOBS[i], NULL, NULL);
        house_must_stand(&house);
        struct draw_document packet;
        assert_int_equal(
            documents_draw_packet(house.arena, &house.solution, &house.issues, &packet), BASE_OK);
        int pages = 0;
        for (size_t k = 0; k < packet.count; k++) {
            pages += base_text_is(packet.pages[k].title, "Measurements");
        }
        assert_int_equal(pages, i == 0 ? 1 : 0);
        house_free(&house);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_dropped_foot_is_asked_for),
        cmocka_unit_test(a_house_that_agrees_is_left_in_peace),
        cmocka_unit_test(a_house_without_a_check_is_told_so),
        cmocka_unit_test(an_inside_corner_is_asked_for_by_walking),
        cmocka_unit_test(an_outline_is_said_to_be_taken_as_it_is),
        cmocka_unit_test(what_is_left_long_stands_in_the_answer),
        cmocka_unit_test(a_metric_corner_is_asked_in_millimetres),
        cmocka_unit_test(the_page_stands_in_the_packet_of_a_checked_house),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
