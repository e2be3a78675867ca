/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Random houses through the heart, for tools/compare_builds.py. Standard output:
 *   solve_houses jobs FIRST COUNT     "house SEED BYTES BYTES\n", job and price list as JSON
 *   solve_houses results FIRST COUNT  "result SEED STATUS BYTES\n", result.json (or nothing)
 *   solve_houses leaves SEED          every number of one result before it was rounded
 * STATUS: 0 safe, 1 not safe as drawn, 2 stopped.
 */
#include "random_house.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "result/result.h"
#include "tree/tree.h"

static struct random_text job_text;
static struct random_text price_text;
static struct solution solution;

static void write_texts(uint64_t seed) {
    struct random_house house;
    random_house_make(seed, &house);
    random_house_write(&house, RANDOM_WORDS_USUAL, &job_text);
    random_house_write_prices(seed, &price_text);
}

static struct base_text solve(struct base_arena *arena, uint64_t seed, int *status,
                              struct result_leaves *leaves) {
    struct base_issues issues = {.arena = arena};
    write_texts(seed);
    struct base_text job = {job_text.bytes, job_text.length};
    struct base_text prices = {price_text.bytes, price_text.length};
    struct solve_input input = {.job = tree_read_json(arena, &issues, BASE_DOCUMENT_JOB, job),
                                .prices =
                                    tree_read_json(arena, &issues, BASE_DOCUMENT_PRICES, prices)};
    *status = 2;
    if (input.job == NULL || input.prices == NULL ||
        solve_job(arena, &issues, NULL, &input, &solution) != BASE_OK) {
        return (struct base_text){0};
    }
    *status = solution.safe ? 0 : 1;
    return result_write(arena, &solution, &issues, leaves);
}

static void print_result(uint64_t seed) {
    struct base_arena *arena = base_make_arena(0);
    int status;
    struct base_text text = solve(arena, seed, &status, NULL);
    printf("result %" PRIu64 " %d %zu\n", seed, status, text.length);
    fwrite(text.bytes, 1, text.length, stdout);
    base_free_arena(arena);
}

static void print_job(uint64_t seed) {
    write_texts(seed);
    printf("house %" PRIu64 " %zu %zu\n", seed, job_text.length, price_text.length);
    fwrite(job_text.bytes, 1, job_text.length, stdout);
    fwrite(price_text.bytes, 1, price_text.length, stdout);
}

static void print_leaves(uint64_t seed) {
    struct base_arena *arena = base_make_arena(0);
    struct result_leaves leaves = {0};
    int status;
    solve(arena, seed, &status, &leaves);
    for (size_t i = 0; i < leaves.count; i++) {
        const struct result_leaf *leaf = &leaves.items[i];
        if (leaf->value.unit >= BASE_UNIT_M) {
            printf("%.*s\t%.17g\n", (int)leaf->path.length, leaf->path.bytes, leaf->value.number);
        }
    }
    base_free_arena(arena);
}

int main(int argc, char **argv) {
    uint64_t first = argc > 2 ? strtoull(argv[2], NULL, 10) : 0;
    uint64_t count = argc > 3 ? strtoull(argv[3], NULL, 10) : 1;
    if (argc < 3) {
        fprintf(stderr, "usage: solve_houses jobs|results|leaves FIRST [COUNT]\n");
        return 2;
    }
    for (uint64_t seed = first; seed < first + count; seed++) {
        if (strcmp(argv[1], "jobs") == 0) {
            print_job(seed);
        } else if (strcmp(argv[1], "leaves") == 0) {
            print_leaves(seed);
        } else {
            print_result(seed);
        }
    }
    return 0;
}
