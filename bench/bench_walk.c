/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The whole walk on the demo house, without starting or reading: times and memory are printed
 * beside their aims and never gate; the work is counted, and the counts gate. The command with its
 * starting is timed by tools/run_lanes.py.
 */
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

#include "cli/cli.h"
#include "documents/documents.h"
#include "draw/draw.h"
#include "random_house.h"
#include "result/result.h"
#include "solve/solve.h"
#include "tree/tree.h"

enum { SOLVES = 200, PACKETS = 20, HOUSES = 500, FIRST_SEED = 20261125 };

/*
 * Limits of work. The physics is solved once for each reach that is kept, never while choosing. A
 * line of n places has 2^n - 1 sets of outlets, looked through at most three times; places are at
 * most 12 to a line, but a house finds its outlets in a handful of tries.
 */
enum { TRIES_OF_DEMO = 40, TRIES_OF_ANY = 4000, DEMO_ARENA_BYTES = 2 * 1024 * 1024 };

static double now_s(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static int compare_doubles(const void *one, const void *other) {
    double a = *(const double *)one;
    double b = *(const double *)other;
    return (a > b) - (a < b);
}

static void print_times(const char *what, double *seconds, size_t count, const char *aim) {
    qsort(seconds, count, sizeof *seconds, compare_doubles);
    printf("%s: median %.3f ms, best %.3f ms of %zu (aim %s)\n", what, 1e3 * seconds[count / 2],
           1e3 * seconds[0], count, aim);
}

static int failures;

static void gate(bool good, const char *what, size_t value, size_t limit) {
    printf("%s: %zu (%s %zu)%s\n", what, value, good ? "within" : "BEYOND", limit,
           good ? "" : " FAILED");
    failures += !good;
}

/* ---- the demo house ------------------------------------------------------------------------- */

static struct solution solution;

static void time_solves(const struct solve_input *input) {
    static double seconds[SOLVES];
    size_t arena_bytes = 0;
    size_t takes = 0;
    for (size_t i = 0; i < SOLVES; i++) {
        struct base_arena *arena = base_make_arena(0);
        struct base_issues issues = {.arena = arena};
        double start_s = now_s();
        if (solve_job(arena, &issues, NULL, input, &solution) != BASE_OK) {
            failures++;
        }
        seconds[i] = now_s() - start_s;
        arena_bytes = base_arena_peak_bytes(arena);
        takes = base_take_count(arena);
        if (i + 1 == SOLVES) {
            gate(solution.layout.profiles_solved <= solution.layout.reach_count,
                 "profiles solved on the demo house", solution.layout.profiles_solved,
                 solution.layout.reach_count);
            gate(solution.layout.candidates_tried <= TRIES_OF_DEMO,
                 "sets of outlets tried on the demo house", solution.layout.candidates_tried,
                 TRIES_OF_DEMO);
        }
        base_free_arena(arena);
    }
    gate(arena_bytes <= DEMO_ARENA_BYTES, "bytes of the walk's arena", arena_bytes,
         DEMO_ARENA_BYTES);
    printf("takes from the arena: %zu\n", takes);
    print_times("solve of the demo house", seconds, SOLVES, "under 5 ms");
}

static bool make_packet(const struct solve_input *input) {
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    struct draw_document packet = {0};
    struct draw_document plan = {0};
    struct base_text pdf = {0};
    bool good = solve_job(arena, &issues, NULL, input, &solution) == BASE_OK &&
                documents_draw_packet(arena, &solution, &issues, &packet) == BASE_OK &&
                draw_paint_pdf(arena, &packet, &pdf) == BASE_OK &&
                documents_draw_plan(arena, &solution, &plan) == BASE_OK &&
                draw_paint_svg(arena, &plan, 0).length > 0 &&
                documents_write_pieces_csv(arena, &solution).length > 0 &&
                result_write(arena, &solution, &issues, NULL).length > 0;
    base_free_arena(arena);
    return good;
}

static void time_packets(const struct solve_input *input) {
    static double seconds[PACKETS];
    for (size_t i = 0; i < PACKETS; i++) {
        double start_s = now_s();
        failures += !make_packet(input);
        seconds[i] = now_s() - start_s;
    }
    print_times("solve and packet of the demo house", seconds, PACKETS, "under 0.5 s");
}

/* ---- random houses -------------------------------------------------------------------------- */

/* Gives the sets of outlets that were tried; profiles beyond one a reach are added up. */
static size_t count_tries(uint64_t seed, size_t *profiles_beyond) {
    static struct random_house house;
    static struct random_text job;
    static struct random_text prices;
    random_house_make(seed, &house);
    random_house_write(&house, RANDOM_WORDS_USUAL, &job);
    random_house_write_prices(seed, &prices);
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    struct solve_input input = {
        .job = tree_read_json(arena, &issues, BASE_DOCUMENT_JOB,
                              (struct base_text){job.bytes, job.length}),
        .prices = tree_read_json(arena, &issues, BASE_DOCUMENT_PRICES,
                                 (struct base_text){prices.bytes, prices.length})};
    size_t tries = 0;
    if (solve_job(arena, &issues, NULL, &input, &solution) == BASE_OK) {
        tries = solution.layout.candidates_tried;
        if (solution.layout.profiles_solved > solution.layout.reach_count) {
            *profiles_beyond += solution.layout.profiles_solved - solution.layout.reach_count;
        }
    }
    base_free_arena(arena);
    return tries;
}

static void count_random_houses(void) {
    static double seconds[HOUSES];
    size_t most = 0;
    size_t sum = 0;
    size_t profiles_beyond = 0;
    for (size_t i = 0; i < HOUSES; i++) {
        double start_s = now_s();
        size_t tries = count_tries(FIRST_SEED + 100000 + i, &profiles_beyond);
        seconds[i] = now_s() - start_s;
        most = tries > most ? tries : most;
        sum += tries;
    }
    gate(profiles_beyond == 0, "profiles beyond one a reach on random houses", profiles_beyond, 0);
    gate(most <= TRIES_OF_ANY, "most sets of outlets tried on a random house", most, TRIES_OF_ANY);
    printf("sets of outlets tried on %d random houses: %zu on average\n", HOUSES, sum / HOUSES);
    print_times("a random house, read and solved", seconds, HOUSES, "none");
}

int main(void) {
    struct cli_job job = {0};
    if (cli_load(&job, DEMO_HOUSE, NULL) != CLI_FINE) {
        cli_say_issues(&job);
        return 1;
    }
    time_solves(&job.input);
    time_packets(&job.input);
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("peak memory: %.1f MB (aim under 64 MB)\n", (double)usage.ru_maxrss / 1024);
    count_random_houses();
    base_free_arena(job.arena);
    return failures > 0 ? 1 : 0;
}
