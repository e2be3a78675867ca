/* SPDX-License-Identifier: Apache-2.0 */
/* What was perhaps meant: the slips that people make with a tape, one after the other. */
#include "measure/measure_inside.h"
#include "units/units.h"

#include <math.h>
#include <stdlib.h>

#define PI 3.14159265358979323846

struct list {
    struct measure_guess *guesses;
    size_t count;
    int64_t said_tick;
};

static void add(struct list *list, enum measure_slip slip, int64_t tick) {
    bool possible = tick > 0 && tick < UNITS_TICK_MAX && tick != list->said_tick;
    for (size_t i = 0; i < list->count; i++) {
        possible = possible && list->guesses[i].tick != tick;
    }
    if (possible && list->count < MEASURE_GUESSES_MAX) {
        list->guesses[list->count++] = (struct measure_guess){slip, units_m_of_tick(tick), tick};
    }
}

/* A foot in feet and inches; in metric the figures that a tape shows large. */
static void add_dropped(struct list *list, enum units_system system) {
    if (system == UNITS_FT_IN) {
        add(list, MEASURE_SLIP_FOOT_DROPPED, list->said_tick + UNITS_TICK_PER_FOOT);
        add(list, MEASURE_SLIP_FOOT_ADDED, list->said_tick - UNITS_TICK_PER_FOOT);
        return;
    }
    for (int64_t step = 100 * UNITS_TICK_PER_MM; step <= UNITS_TICK_PER_M; step *= 10) {
        add(list, MEASURE_SLIP_FOOT_DROPPED, list->said_tick + step);
        add(list, MEASURE_SLIP_FOOT_ADDED, list->said_tick - step);
    }
}

static int64_t swap_digits(int64_t number, int64_t place) {
    int64_t low = number / place % 10;
    int64_t high = number / (10 * place) % 10;
    return number + (low - high) * 9 * place; /* low goes up: 10 low + high less 10 high + low */
}

static void add_swapped(struct list *list, enum units_system system) {
    if (system == UNITS_MM) {
        int64_t rest = list->said_tick % UNITS_TICK_PER_MM;
        int64_t mm = list->said_tick / UNITS_TICK_PER_MM;
        for (int64_t place = 1; 10 * place <= mm; place *= 10) {
            add(list, MEASURE_SLIP_DIGITS_SWAPPED,
                swap_digits(mm, place) * UNITS_TICK_PER_MM + rest);
        }
        return;
    }
    int64_t feet = list->said_tick / UNITS_TICK_PER_FOOT;
    int64_t inches = list->said_tick % UNITS_TICK_PER_FOOT / UNITS_TICK_PER_INCH;
    int64_t rest = list->said_tick % UNITS_TICK_PER_INCH;
    if (feet >= 10) {
        int64_t place = feet >= 100 ? 10 : 1;
        for (; place >= 1; place /= 10) {
            add(list, MEASURE_SLIP_DIGITS_SWAPPED,
                list->said_tick + (swap_digits(feet, place) - feet) * UNITS_TICK_PER_FOOT);
        }
    }
    if (inches == 10 || inches == 1) { /* 10 in and 01 in */
        add(list, MEASURE_SLIP_DIGITS_SWAPPED,
            list->said_tick + (11 - 2 * inches) * UNITS_TICK_PER_INCH);
    }
    if (feet < 12 && inches > 0) { /* 8' 10" and 10' 8" */
        add(list, MEASURE_SLIP_DIGITS_SWAPPED,
            inches * UNITS_TICK_PER_FOOT + feet * UNITS_TICK_PER_INCH + rest);
    }
}

/* 30" for 30', and the other way; only where the number is whole in the unit it was said in. */
static void add_unit_slips(struct list *list, enum units_system system) {
    int64_t said = list->said_tick;
    if (system == UNITS_FT_IN && said % UNITS_TICK_PER_INCH == 0) {
        add(list, MEASURE_SLIP_INCHES_FOR_FEET, 12 * said);
    }
    if (system == UNITS_FT_IN && said % UNITS_TICK_PER_FOOT == 0) {
        add(list, MEASURE_SLIP_INCHES_FOR_FEET, said / 12);
    }
    /* the tape's other side: centimetres taken for inches (1 in = 8128, 1 cm = 3200 ticks) */
    add(list, MEASURE_SLIP_METRIC_FOR_INCHES, (said * 50 + 63) / 127);
    add(list, MEASURE_SLIP_METRIC_FOR_INCHES, (said * 127 + 25) / 50);
}

/* 10.8 ft was said as 10' 8", or 10' 8" as 10.8 ft. */
static void add_decimal_feet(struct list *list, enum units_system system) {
    int64_t feet_tick = list->said_tick / UNITS_TICK_PER_FOOT * UNITS_TICK_PER_FOOT;
    int64_t rest = list->said_tick - feet_tick;
    if (system != UNITS_FT_IN || rest == 0) {
        return;
    }
    if (rest % UNITS_TICK_PER_INCH == 0 && rest / UNITS_TICK_PER_INCH <= 9) {
        int64_t tenths = rest / UNITS_TICK_PER_INCH;
        add(list, MEASURE_SLIP_DECIMAL_FEET, feet_tick + (tenths * UNITS_TICK_PER_FOOT + 5) / 10);
    }
    int64_t tenths = (rest * 10 + UNITS_TICK_PER_FOOT / 2) / UNITS_TICK_PER_FOOT;
    if (llabs(tenths * UNITS_TICK_PER_FOOT - rest * 10) <= 10) {
        add(list, MEASURE_SLIP_DECIMAL_FEET, feet_tick + tenths * UNITS_TICK_PER_INCH);
    }
}

/* The overhang forgotten, or taken where it was measured already. */
static void add_overhang(struct list *list, int64_t overhang_tick, int ends) {
    static const enum measure_slip SLIPS[] = {MEASURE_SLIP_OVERHANG_ONE,
                                              MEASURE_SLIP_OVERHANG_BOTH};
    for (int end = 1; end <= ends && overhang_tick > 0; end++) {
        add(list, SLIPS[end - 1], list->said_tick + end * overhang_tick);
        add(list, SLIPS[end - 1], list->said_tick - end * overhang_tick);
    }
}

static void add_own_overhang(struct list *list, const struct measure_net *net,
                             const struct measure_item *item,
                             const struct measure_equation *equation) {
    if (equation->kind == MEASURE_RUN) {
        const struct job_run *run = &net->job->runs[equation->run];
        int ends = (run->from.kind == JOB_END_OUTSIDE || run->from.kind == JOB_END_INSIDE) +
                   (run->to.kind == JOB_END_OUTSIDE || run->to.kind == JOB_END_INSIDE);
        add_overhang(list, run->overhang.tick, ends);
    } else if (equation->kind == MEASURE_WIDTH || equation->kind == MEASURE_DEPTH) {
        add_overhang(list, net->job->wings[equation->wing].overhang.tick, 2);
    }
    (void)item;
}

static size_t list_turns(const struct measure_equation *equation, struct measure_guess *guesses) {
    double turn_rad = equation->said;
    size_t count = 0;
    guesses[count++] = (struct measure_guess){MEASURE_SLIP_INSIDE_OUTSIDE, -turn_rad, 0};
    double other_rad = turn_rad > 0 ? PI - turn_rad : -PI - turn_rad;
    if (fabs(other_rad - turn_rad) > 1e-6) {
        guesses[count++] = (struct measure_guess){MEASURE_SLIP_OTHER_ANGLE, other_rad, 0};
    }
    return count;
}

size_t measure_list_slips(const struct measure_net *net, const struct measure_item *item,
                          const struct measure_equation *equation,
                          struct measure_guess guesses[MEASURE_GUESSES_MAX]) {
    if (equation->kind == MEASURE_CORNER) {
        return list_turns(equation, guesses);
    }
    if (equation->kind == MEASURE_PITCH || item->said.integer <= 0) {
        return 0;
    }
    struct list list = {.guesses = guesses, .said_tick = item->said.integer};
    add_dropped(&list, net->job->system);
    add_decimal_feet(&list, net->job->system);
    add_swapped(&list, net->job->system);
    add_unit_slips(&list, net->job->system);
    add_own_overhang(&list, net, item, equation);
    return list.count;
}
