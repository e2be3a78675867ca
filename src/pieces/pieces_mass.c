/* SPDX-License-Identifier: Apache-2.0 */
/* Weights from girth and sheet. Source: trade/copper k (DERIVED from girth and ounce weight). */
#include "material/material.h"
#include "pieces/pieces_inside.h"
#include "section/section.h"

static const double PI = 3.14159265358979323846;

/* Seam of a downspout and flange of an end cap, added to the development. Source: trade/copper k,
 * c. */
#define PIPE_SEAM_M 0.01905

static double sheet_mass(const char *sheet) {
    const struct material_sheet *row = material_find_sheet(base_text_of(sheet));
    return row == NULL ? 0.0 : row->mass_kgm2;
}

static double sheet_thickness(const char *sheet) {
    const struct material_sheet *row = material_find_sheet(base_text_of(sheet));
    return row == NULL ? 0.0 : row->nominal_m;
}

double pieces_gutter_mass(const struct shop_profile *profile, const char *sheet, double length_m) {
    double girth_m = section_girth(&profile->section, sheet_thickness(sheet));
    return girth_m * length_m * sheet_mass(sheet);
}

/* Half disc with its flange, and the straight part above it. */
double pieces_cap_mass(const struct shop *shop, const struct shop_profile *profile,
                       const char *sheet) {
    double radius_m = profile->section.inside_diameter_m / 2 + shop->cap_flange_m;
    double area_m2 = PI * radius_m * radius_m / 2 +
                     profile->section.inside_diameter_m *
                         (profile->section.straight_m + profile->section.back_rise_m);
    return area_m2 * sheet_mass(sheet);
}

double pieces_strip_mass(const char *sheet, int64_t length_tick, int64_t wide_tick) {
    return units_m_of_tick(length_tick) * units_m_of_tick(wide_tick) * sheet_mass(sheet);
}

double pieces_pipe_mass(double diameter_m, const char *sheet, double length_m) {
    return (PI * diameter_m + PIPE_SEAM_M) * length_m * sheet_mass(sheet);
}

int64_t pieces_girth_tick(const struct shop *shop, const struct shop_profile *profile,
                          const char *sheet) {
    int64_t tick = units_tick_of_m(section_girth(&profile->section, sheet_thickness(sheet)));
    int64_t quantum = shop->style.round_tick;
    return (tick + quantum / 2) / quantum * quantum;
}
