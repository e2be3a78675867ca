/* SPDX-License-Identifier: Apache-2.0 */
/* One random house, walked, moved and walked again: every law is asked about it once, and the
 * answers are written into a book. */
#ifndef EAVESMITH_TESTS_ASK_LAWS_H
#define EAVESMITH_TESTS_ASK_LAWS_H

#include "base/base.h"
#include "random_house.h"
#include "result/result.h"
#include "same_answer.h"
#include "solve/solve.h"

enum law {
    LAW_ENDS = 0,
    LAW_SHIFT,
    LAW_QUARTER,
    LAW_QUARTER_ANEW,
    LAW_MIRROR,
    LAW_UNITS,
    LAW_TURN_345,
    LAW_TURN,
    LAW_AREA,
    LAW_FLOW,
    LAW_METAL,
    LAW_MONEY,
    LAW_RAIN_SIZE,
    LAW_RAIN_DEPTH,
    LAW_BYTES,
    LAW_COUNT
};

extern const char *const LAW_NAMES[LAW_COUNT];

/* Shared with the child that walks: when a house brings it down, the next child goes on behind. */
struct book {
    uint64_t at; /* the house being walked */
    size_t houses;
    size_t stopped;
    struct {
        size_t asked;
        size_t broken;
        size_t told;
        size_t edges;
    } laws[LAW_COUNT];
};

extern struct book *book;

struct walk {
    struct base_arena *arena;
    struct base_issues issues;
    struct random_text job;
    struct random_text prices;
    struct solution solution;
    struct result_leaves leaves;
    struct base_text result; /* empty when the job was stopped */
    bool whole;              /* asked also how often it goes over */
};

/* The house as it stands, and the one it is compared with. */
extern struct walk usual;
extern struct walk other;

/* False when the job was stopped. */
bool walk_house(struct walk *walk, const struct random_house *house, enum random_words words);
struct same_side side_of(const struct walk *walk);

/* Every law about the house of that seed. */
void ask_house(uint64_t seed);

#endif
