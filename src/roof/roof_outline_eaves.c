/* SPDX-License-Identifier: Apache-2.0 */
/* What comes down along the eaves of an outline: knots and catchments. */
#include "numeric/numeric.h"
#include "roof/roof_outline.h"
#include "units/units.h"

#include <math.h>

/* All places where the inflow of one eave changes, sorted; its two ends are among them. */
static size_t list_places(const struct roof_outlined *house, size_t eave, double *places) {
    size_t count = 0;
    places[count++] = 0;
    places[count++] = units_m_of_tick(house->build->roof->eaves[eave].length_tick);
    for (size_t i = 0; i < house->inflow_count; i++) {
        for (int end = 0; end < 2 && house->inflows[i].eave == eave; end++) {
            places[count++] = house->inflows[i].x_m[end];
        }
    }
    numeric_sort(places, count);
    size_t kept = 1;
    for (size_t i = 1; i < count; i++) {
        if (places[i] - places[kept - 1] > GEOMETRY_EVENT_M) {
            places[kept++] = places[i];
        }
    }
    return kept;
}

static double width_at(const struct roof_inflow *inflow, double x_m) {
    double share_1 = (x_m - inflow->x_m[0]) / (inflow->x_m[1] - inflow->x_m[0]);
    share_1 = fmin(fmax(share_1, 0), 1);
    return inflow->width_m[0] + share_1 * (inflow->width_m[1] - inflow->width_m[0]);
}

/* What comes down between two neighbouring places, at each. */
static void sum_widths(const struct roof_outlined *house, size_t eave, const double x_m[2],
                       double width_m[2]) {
    double middle_m = 0.5 * (x_m[0] + x_m[1]);
    width_m[0] = 0;
    width_m[1] = 0;
    for (size_t i = 0; i < house->inflow_count; i++) {
        const struct roof_inflow *inflow = &house->inflows[i];
        if (inflow->eave == eave && inflow->x_m[0] < middle_m && middle_m < inflow->x_m[1]) {
            width_m[0] += width_at(inflow, x_m[0]);
            width_m[1] += width_at(inflow, x_m[1]);
        }
    }
}

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
    width_m = fmax(width_m, 0);
    if (eave->knot_count > 0) {
        const struct roof_knot *last = &knots[eave->knot_count - 1];
        if (x_m - last->x_m <= GEOMETRY_EVENT_M &&
            fabs(width_m - last->width_m) <= GEOMETRY_EVENT_M) {
            return;
        }
    }
    if (eave->knot_count > 1 && on_line(&knots[eave->knot_count - 2], x_m, width_m)) {
        eave->knot_count--;
    }
    knots[eave->knot_count++] = (struct roof_knot){x_m, width_m};
}

static void fill_knots(struct roof_outlined *house, size_t index, double *places) {
    struct roof_eave *eave = &house->build->roof->eaves[index];
    size_t count = list_places(house, index, places);
    eave->knots = base_take(house->build->arena, 2 * count, sizeof *eave->knots);
    if (eave->knots == NULL) {
        house->build->failed = true;
        return;
    }
    places[0] = 0;
    places[count - 1] = units_m_of_tick(eave->length_tick); /* the ends themselves */
    for (size_t i = 0; i + 1 < count; i++) {
        double width_m[2];
        sum_widths(house, index, &places[i], width_m);
        add_knot(eave, places[i], width_m[0]);
        add_knot(eave, places[i + 1], width_m[1]);
    }
    for (size_t i = 0; i < house->inflow_count; i++) {
        const struct roof_inflow *inflow = &house->inflows[i];
        if (inflow->eave == index) {
            eave->plan_area_m2 +=
                0.5 * (inflow->width_m[0] + inflow->width_m[1]) * (inflow->x_m[1] - inflow->x_m[0]);
        }
    }
}

/* The eave that the cell's water reaches straight, over faces that fall on. */
static size_t find_receiver(const struct roof_outlined *house,
                            const struct roof_outline_cell *cell) {
    return house->sides[cell->low_side].kind == ROOF_SIDE_EAVE ? house->edges[cell->edge].eave
                                                               : ROOF_NONE;
}

static void fill_catchment(struct roof_outlined *house, size_t index) {
    struct roof_eave *eave = &house->build->roof->eaves[index];
    size_t count = 0;
    for (size_t i = 0; i < house->cell_count; i++) {
        count += find_receiver(house, &house->cells[i]) == index;
    }
    eave->catchment = base_take(house->build->arena, count + 1, sizeof *eave->catchment);
    if (eave->catchment == NULL) {
        house->build->failed = true;
        return;
    }
    for (size_t i = 0; i < house->cell_count; i++) {
        if (find_receiver(house, &house->cells[i]) == index) {
            eave->catchment[eave->catchment_count++] = house->cells[i].outline;
        }
    }
}

void roof_fill_outline_eaves(struct roof_outlined *house) {
    double *places = base_take(house->build->arena, 2 * house->inflow_count + 2, sizeof *places);
    if (places == NULL) {
        house->build->failed = true;
        return;
    }
    for (size_t i = house->first_eave; i < house->build->roof->eave_count; i++) {
        if (!house->build->failed) {
            fill_knots(house, i, places);
            fill_catchment(house, i);
        }
    }
}
