/* SPDX-License-Identifier: Apache-2.0 */
/* What comes down along the eaves of wings and of outlines alike: inflows to knots, and pours. */
#include "numeric/numeric.h"
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

#define ROOF_SPOUT_M       0.001 /* what comes down on no more width than this is a spout, */
#define ROOF_SPOUT_WIDE_M  0.3   /* and so is, on less than this, what no roof straight behind */
#define ROOF_SPOUT_DEEP_M  60.0  /* is deep enough to send */
#define ROOF_POUR_LEAST_M2 1e-5  /* but less than this is nothing */

static double area_of(const struct roof_inflow *inflow) {
    return 0.5 * (inflow->width_m[0] + inflow->width_m[1]) * (inflow->x_m[1] - inflow->x_m[0]);
}

/* Water of a wide roof that arrives on a hair's width: across a lower roof that falls nearly along
 * the line it came over. */
static bool is_spout(const struct roof_inflow *inflow) {
    double wide_m = inflow->x_m[1] - inflow->x_m[0];
    double area_m2 = area_of(inflow);
    return area_m2 > ROOF_POUR_LEAST_M2 &&
           (wide_m <= ROOF_SPOUT_M ||
            (wide_m <= ROOF_SPOUT_WIDE_M && area_m2 > wide_m * ROOF_SPOUT_DEEP_M));
}

void roof_take_in(struct roof_build *build, struct roof_inflows *inflows,
                  const struct roof_inflow *arriving, double pitch_1) {
    if (is_spout(arriving)) {
        const struct roof_eave *eave = &build->roof->eaves[arriving->eave];
        double middle_m = 0.5 * (arriving->x_m[0] + arriving->x_m[1]);
        struct roof_pour water = {.x_m =
                                      fmin(fmax(middle_m, 0), units_m_of_tick(eave->length_tick)),
                                  .plan_area_m2 = area_of(arriving),
                                  .wall_area_m2 = arriving->wall ? area_of(arriving) : 0,
                                  .pitch_1 = pitch_1,
                                  .onto = eave->name};
        roof_pour(build, &water);
        return;
    }
    struct roof_inflow *items =
        base_grow(build->arena, inflows->items, &inflows->room, inflows->count, sizeof *items);
    if (items == NULL) {
        build->failed = true;
        return;
    }
    inflows->items = items;
    items[inflows->count++] = *arriving;
}

void roof_sort_inflows(struct roof_build *build, struct roof_inflows *inflows) {
    size_t eaves = build->roof->eave_count;
    size_t *first = base_take(build->arena, eaves + 2, sizeof *first);
    struct roof_inflow *sorted = base_take(build->arena, inflows->count, sizeof *sorted);
    if (first == NULL || sorted == NULL) {
        build->failed = true;
        return;
    }
    for (size_t i = 0; i < inflows->count; i++) { /* how many each has, two places up */
        first[inflows->items[i].eave + 2]++;
    }
    for (size_t i = 2; i < eaves + 2; i++) {
        first[i] += first[i - 1];
    }
    for (size_t i = 0; i < inflows->count; i++) {
        sorted[first[inflows->items[i].eave + 1]++] = inflows->items[i];
    }
    inflows->items = sorted;
    inflows->room = inflows->count;
    inflows->first = first;
}

/* ---- knots ---------------------------------------------------------------------------------- */

/* All the places where the inflow of one eave changes, sorted; its two ends are among them. */
static size_t list_places(const struct roof_inflows *inflows, size_t eave, double length_m,
                          double *places) {
    size_t count = 0;
    places[count++] = 0;
    places[count++] = length_m;
    for (size_t i = inflows->first[eave]; i < inflows->first[eave + 1]; i++) {
        places[count++] = inflows->items[i].x_m[0];
        places[count++] = inflows->items[i].x_m[1];
    }
    numeric_sort(places, count);
    size_t kept = 1;
    for (size_t i = 1; i < count; i++) {
        if (places[i] - places[kept - 1] > GEOMETRY_EVENT_M) {
            places[kept++] = places[i];
        }
    }
    places[0] = 0; /* the ends themselves */
    places[kept - 1] = length_m;
    return kept;
}

static double width_at(const struct roof_inflow *inflow, double x_m) {
    double share_1 = (x_m - inflow->x_m[0]) / (inflow->x_m[1] - inflow->x_m[0]);
    share_1 = share_1 < 0 ? 0 : share_1 > 1 ? 1 : share_1;
    return inflow->width_m[0] + share_1 * (inflow->width_m[1] - inflow->width_m[0]);
}

/* What comes down between two neighbouring places, at each. */
static void sum_widths(const struct roof_inflows *inflows, size_t eave, const double x_m[2],
                       double width_m[2]) {
    double middle_m = 0.5 * (x_m[0] + x_m[1]);
    width_m[0] = 0;
    width_m[1] = 0;
    for (size_t i = inflows->first[eave]; i < inflows->first[eave + 1]; i++) {
        const struct roof_inflow *inflow = &inflows->items[i];
        if (inflow->x_m[0] < middle_m && middle_m < inflow->x_m[1]) {
            width_m[0] += width_at(inflow, x_m[0]);
            width_m[1] += width_at(inflow, x_m[1]);
        }
    }
}

/* The second of two knots stands on the line from the first to the place. */
static bool on_line(const struct roof_knot *knots, double x_m, double width_m) {
    if (!(knots[1].x_m - knots[0].x_m > GEOMETRY_EVENT_M &&
          x_m - knots[1].x_m > GEOMETRY_EVENT_M)) {
        return false;
    }
    double share_1 = (knots[1].x_m - knots[0].x_m) / (x_m - knots[0].x_m);
    double there_m = knots[0].width_m + share_1 * (width_m - knots[0].width_m);
    return fabs(there_m - knots[1].width_m) <= GEOMETRY_EVENT_M / 10;
}

/* Leaves out a knot on the line between its neighbours, and one said twice. */
static void add_knot(struct roof_eave *eave, double x_m, double width_m) {
    struct roof_knot *knots = eave->knots;
    size_t count = eave->knot_count;
    width_m = fmax(width_m, 0);
    if (count > 0 && x_m - knots[count - 1].x_m <= GEOMETRY_EVENT_M &&
        fabs(width_m - knots[count - 1].width_m) <= GEOMETRY_EVENT_M) {
        return;
    }
    if (count > 1 && on_line(&knots[count - 2], x_m, width_m)) {
        eave->knot_count--;
    }
    knots[eave->knot_count++] = (struct roof_knot){x_m, width_m};
}

double *roof_take_places(struct roof_build *build, const struct roof_inflows *inflows) {
    double *places = base_take(build->arena, 2 * inflows->count + 2, sizeof *places);
    build->failed = build->failed || places == NULL;
    return places;
}

void roof_fill_knots(struct roof_build *build, const struct roof_inflows *inflows, size_t index,
                     double *places) {
    struct roof_eave *eave = &build->roof->eaves[index];
    size_t count = list_places(inflows, index, units_m_of_tick(eave->length_tick), places);
    eave->knots = base_take(build->arena, 2 * count, sizeof *eave->knots);
    if (eave->knots == NULL) {
        build->failed = true;
        return;
    }
    for (size_t i = 0; i + 1 < count; i++) {
        double width_m[2];
        sum_widths(inflows, index, &places[i], width_m);
        add_knot(eave, places[i], width_m[0]);
        add_knot(eave, places[i + 1], width_m[1]);
    }
    for (size_t i = inflows->first[index]; i < inflows->first[index + 1]; i++) {
        const struct roof_inflow *inflow = &inflows->items[i];
        double area_m2 = area_of(inflow);
        eave->plan_area_m2 += area_m2;
        eave->wall_area_m2 += inflow->wall ? area_m2 : 0;
    }
}

/* ---- pours ---------------------------------------------------------------------------------- */

void roof_pour(struct roof_build *build, const struct roof_pour *water) {
    struct roof *roof = build->roof;
    for (size_t i = 0; i < roof->pour_count; i++) {
        struct roof_pour *there = &roof->pours[i];
        if (base_text_equal(there->onto, water->onto) &&
            fabs(there->x_m - water->x_m) <= 2 * ROOF_PROBE_M) {
            there->plan_area_m2 += water->plan_area_m2;
            there->wall_area_m2 += water->wall_area_m2;
            there->drip = there->drip && water->drip;
            there->pitch_1 = fmax(there->pitch_1, water->pitch_1);
            return;
        }
    }
    struct roof_pour *fresh = roof_add_pour(build);
    if (fresh != NULL) {
        *fresh = *water;
    }
}

size_t roof_eave_named(const struct roof *roof, struct base_text name) {
    size_t i = 0;
    while (i + 1 < roof->eave_count && !base_text_equal(roof->eaves[i].name, name)) {
        i++;
    }
    return i;
}

static bool comes_before(const struct roof *roof, const struct roof_pour *one,
                         const struct roof_pour *two) {
    size_t a = roof_eave_named(roof, one->onto);
    size_t b = roof_eave_named(roof, two->onto);
    return a != b ? a < b : one->x_m < two->x_m;
}

void roof_sort_pours(struct roof *roof, size_t first) {
    for (size_t i = first; i < roof->pour_count; i++) { /* few: insertion keeps their order */
        struct roof_pour moving = roof->pours[i];
        size_t at = i;
        while (at > first && comes_before(roof, &moving, &roof->pours[at - 1])) {
            roof->pours[at] = roof->pours[at - 1];
            at--;
        }
        roof->pours[at] = moving;
    }
}
