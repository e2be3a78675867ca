/* SPDX-License-Identifier: Apache-2.0 */
/*
 * solve: runs the walk, room after room, and hands on what each one added.
 *
 * Walk      job -> measure -> roof -> layout -> hang -> joints -> storm -> pieces -> pattern -> cut
 *           -> money.
 * Memory    everything in the arena; the solution points into the trees and texts handed in.
 */
#ifndef EAVESMITH_SOLVE_H
#define EAVESMITH_SOLVE_H

#include "base/base.h"
#include "cut/cut.h"
#include "hang/hang.h"
#include "job/job.h"
#include "joints/joints.h"
#include "layout/layout.h"
#include "measure/measure.h"
#include "money/money.h"
#include "pattern/pattern.h"
#include "pieces/pieces.h"
#include "rain/rain.h"
#include "roof/roof.h"
#include "shop/shop.h"
#include "storm/storm.h"
#include "tariff/tariff.h"
#include "tree/tree.h"

struct solve_input {
    const struct tree_node *job;    /* the job file's tree */
    const struct tree_node *prices; /* NULL = none */
    struct base_text rain;          /* bytes of the rain file; empty = none */
    struct base_text gauge;         /* bytes of the gauge's record; empty = none */
    bool brief; /* while a line is dragged: the water's figures without how often it goes over, what
                   is caught, the other choices and storms; papers want them whole */
};

struct solution {
    struct job job;
    struct shop shop;
    bool has_tariff;
    struct tariff tariff;
    bool has_rain_table;
    bool has_record;
    struct rain_table rain_table;
    struct rain_record record;
    bool has_house; /* false: an order by pieces alone */
    struct measure measure;
    struct roof roof;
    struct layout layout;
    struct hang hang;
    struct joints joints;
    struct storm storms[STORM_MOST]; /* [storm_count]; none without rain table and record */
    size_t storm_count;
    struct pieces pieces;
    struct cut cut;           /* none in the brief form */
    struct patterns patterns; /* none in the brief form */
    struct money money;
    bool safe; /* no finding of severity must */
};

/*
 * BASE_OK with a whole solution (safe or not), BASE_STOPPED with at least one stop issue, or
 * BASE_NO_MEMORY. trace may be NULL.
 */
enum base_status solve_job(struct base_arena *arena, struct base_issues *issues,
                           struct base_trace *trace, const struct solve_input *input,
                           struct solution *solution);

#endif
