/* SPDX-License-Identifier: Apache-2.0 */
/* The catchments of the eaves of an outline. */
#include "roof/roof_outline.h"

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
    roof_sort_inflows(house->build, &house->inflows);
    double *places = roof_take_places(house->build, &house->inflows);
    for (size_t i = house->first_eave; i < house->build->roof->eave_count; i++) {
        if (!house->build->failed) {
            roof_fill_knots(house->build, &house->inflows, i, places);
            fill_catchment(house, i);
        }
    }
}
