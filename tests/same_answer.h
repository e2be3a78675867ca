/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Are two results the same answer? On the leaves of result.json.
 *
 * Names hold the numbers of edges, and their order is the order of the walk; both change when a
 * house is mirrored or its edges are numbered anew. Then things are paired by what they are: every
 * outlet of the one must be found among those of the other, with the same values, at the mirrored
 * place; pieces are added up by kind, hand, size, length and angle.
 */
#ifndef EAVESMITH_TESTS_SAME_ANSWER_H
#define EAVESMITH_TESTS_SAME_ANSWER_H

#include "base/base.h"
#include "result/result.h"

struct same_side {
    const struct result_leaf *leaves;
    size_t count;
};

struct same_report {
    char first[400]; /* the first difference; empty = the same */
    size_t edges;    /* numbers that differ on a rounding edge or within the solver's tolerance */
};

/* Same leaves, same names, same order, but for `job` and what no walk decides. */
bool same_answer_exactly(struct same_side a, struct same_side b, struct same_report *report);

/* The same house with other names; mirrored: with left for right. */
bool same_answer_renamed(struct base_arena *arena, struct same_side a, struct same_side b,
                         bool mirrored, struct same_report *report);

/* Verdict, plan area, length of eaves and cost within shares of themselves. */
struct same_limits {
    double area_1;
    double length_1;
    double cost_1;
};
bool same_answer_roughly(struct same_side a, struct same_side b, struct same_limits limits,
                         struct same_report *report);

#endif
