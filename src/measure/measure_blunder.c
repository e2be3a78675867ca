/* SPDX-License-Identifier: Apache-2.0 */
/* Which measurement is wrong: each is left out in turn, and each of its slips is tried. */
#include "measure/measure_inside.h"

#include <math.h>

#define PI 3.14159265358979323846
/*
 * Two ways explain it equally well while neither is twenty times likelier than the other: sums of
 * squares within 2 ln 20 = 5.99. An error that is no known slip must be as much better to come
 * before one that is. Both are choices, said on the page.
 */
#define EQUALLY_WELL 5.99
#define HANDICAP     5.99
/* A slip explains a measurement when what was meant lies within the 99 % interval of the rest. */
#define SLIP_WITHIN_1 2.576
enum { SMALL_HOUSE = 60, SUSPECTS_MAX = 16 };

struct search {
    struct measure_net *net;
    struct measure *measure;
    double *predicted; /* [count] what the others give */
};

/* ---- leaving one out ----------------------------------------------------------------------- */

/* From the house as laid out without it: what stands there already may be bent by the blunder. */
static double close_without(struct search *search, size_t i, double *redundancy) {
    struct measure_net *net = search->net;
    struct measure_equation *equation = &net->equations[i];
    measure_lay(net, i);
    equation->off = true;
    struct measure_adjustment all = measure_adjust(net);
    equation->off = false;
    search->predicted[i] = measure_evaluate(net, equation);
    *redundancy = measure_find_redundancy(net, i);
    return all.chi;
}

/* In an open chain a length stands where it was said; if the rest cannot close from there it is
 * begun from what was perhaps meant. */
static double close_from_slips(struct search *search, size_t i, double chi, double *redundancy) {
    struct measure_net *net = search->net;
    struct measure_equation *equation = &net->equations[i];
    if (net->ring || equation->kind != MEASURE_CORNER || chi <= search->measure->chi_limit) {
        return chi;
    }
    struct measure_chain *chain = &net->chains[equation->run];
    double kept_rad = chain->turn_rad;
    double kept = search->predicted[i];
    double kept_redundancy = *redundancy;
    chain->turn_rad = -kept_rad;
    double other = close_without(search, i, redundancy);
    chain->turn_rad = kept_rad;
    if (other < chi) {
        return other;
    }
    search->predicted[i] = kept;
    *redundancy = kept_redundancy;
    return chi;
}

/* ---- what would mend it -------------------------------------------------------------------- */

static double wrap(double angle_rad) {
    return angle_rad > PI ? angle_rad - 2 * PI : (angle_rad < -PI ? angle_rad + 2 * PI : angle_rad);
}

static struct base_value value_of(const struct measure_item *item, double meant) {
    if (item->kind == MEASURE_CORNER) {
        return base_value_number(BASE_UNIT_RAD, PI - fabs(meant));
    }
    return item->said.unit == BASE_UNIT_TICK ? base_value_tick(units_tick_of_m(meant))
                                             : base_value_number(item->said.unit, meant);
}

/* The best way to mend one measurement: a slip of it, or else what the others give. */
static struct measure_cause find_cause(struct search *search, size_t i, double redundancy) {
    const struct measure_item *item = &search->measure->items[i];
    const struct measure_equation *equation = &search->net->equations[i];
    double predicted = search->predicted[i];
    double chi = item->chi_without;
    struct measure_cause best = {.item = i,
                                 .slip = MEASURE_SLIP_NONE,
                                 .meant = value_of(item, predicted),
                                 .meant_si = predicted,
                                 .chi = chi,
                                 .score = chi + HANDICAP};
    struct measure_guess guesses[MEASURE_GUESSES_MAX];
    size_t count = measure_list_slips(search->net, item, equation, guesses);
    for (size_t k = 0; k < count; k++) {
        double off = guesses[k].meant - predicted;
        off = item->kind == MEASURE_CORNER ? wrap(off) : off;
        double share = off * sqrt(redundancy) / equation->sigma;
        double mended = chi + share * share;
        if (fabs(share) <= SLIP_WITHIN_1 && mended < best.score) {
            best = (struct measure_cause){.item = i,
                                          .slip = guesses[k].slip,
                                          .meant = guesses[k].tick > 0
                                                       ? base_value_tick(guesses[k].tick)
                                                       : value_of(item, guesses[k].meant),
                                          .meant_si = guesses[k].meant,
                                          .chi = mended,
                                          .score = mended};
        }
    }
    return best;
}

static void insert(struct measure *measure, struct measure_cause cause) {
    size_t at = measure->cause_count++;
    /* a dead band, so that equals stay in the order of the job on every machine */
    for (; at > 0 && cause.score < measure->causes[at - 1].score - 1e-6; at--) {
        measure->causes[at] = measure->causes[at - 1];
    }
    measure->causes[at] = cause;
}

/* In a large house only those with the greatest standardised residuals are looked into. */
static double find_threshold(const struct measure *measure) {
    if (measure->item_count <= SMALL_HOUSE) {
        return 0.0;
    }
    double threshold = HUGE_VAL;
    for (int k = 0; k < SUSPECTS_MAX; k++) {
        double next = 0.0;
        for (size_t i = 0; i < measure->item_count; i++) {
            double w = fabs(measure->items[i].w_1);
            next = w < threshold && w > next ? w : next;
        }
        threshold = next > 0.0 ? next : threshold;
    }
    return threshold;
}

/* ---- the verdict --------------------------------------------------------------------------- */

static void judge(struct measure *measure) {
    const struct measure_cause *best = &measure->causes[0];
    if (measure->cause_count == 0 ||
        best->chi > measure_chi_limit(measure->redundancy - 1) + SLIP_WITHIN_1 * SLIP_WITHIN_1) {
        measure->verdict = MEASURE_SEVERAL_WRONG;
        measure->likely = 0;
        return;
    }
    measure->likely = 0;
    while (measure->likely < measure->cause_count &&
           measure->causes[measure->likely].score < best->score + EQUALLY_WELL) {
        measure->likely++;
    }
    measure->verdict = measure->likely == 1 ? MEASURE_ONE_WRONG : MEASURE_UNDECIDED;
}

static bool is_blunder(const struct measure *measure) {
    double greatest = 0.0;
    for (size_t i = 0; i < measure->item_count; i++) {
        greatest = fmax(greatest, fabs(measure->items[i].w_1));
    }
    bool lost = !measure->converged && measure->chi > measure->chi_limit;
    return greatest > measure->critical_1 || lost;
}

bool measure_find_blunder(struct measure_net *net, struct measure *measure) {
    if (measure->redundancy == 0) {
        measure->verdict = MEASURE_UNCHECKED;
        return true;
    }
    measure->verdict = MEASURE_CLOSES;
    if (!is_blunder(measure)) {
        return true;
    }
    struct search search = {net, measure, base_take(net->arena, net->count, sizeof(double))};
    measure->causes = base_take(net->arena, net->count, sizeof *measure->causes);
    if (search.predicted == NULL || measure->causes == NULL) {
        return false;
    }
    double threshold = find_threshold(measure);
    for (size_t i = 0; i < net->count; i++) {
        struct measure_item *item = &measure->items[i];
        if (fabs(item->w_1) < threshold) {
            continue;
        }
        double redundancy = 0.0;
        double chi = close_without(&search, i, &redundancy);
        item->chi_without = close_from_slips(&search, i, chi, &redundancy);
        if (redundancy > 1e-3) { /* else nothing checks it */
            insert(measure, find_cause(&search, i, redundancy));
        }
    }
    judge(measure);
    return true;
}
