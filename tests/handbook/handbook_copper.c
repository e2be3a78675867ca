/* SPDX-License-Identifier: Apache-2.0 */
/* Copper sheet and the profiles formed of it. Inputs in inches and ounces. */
#include "handbook.h"

#include "material/material.h"
#include "section/section.h"
#include "shop/shop.h"

#include <stdio.h>

#define INCH_M  0.0254
#define FOOT_M  0.3048
#define LB_KG   0.45359237
#define PSI_PA  6894.757293168
#define INCH2   (INCH_M * INCH_M)
#define LB_FOOT (LB_KG / FOOT_M)

static const double NOWHERE = -1e300; /* no such row: fails every test */

/* ---- sheet --------------------------------------------------------------------------------- */

static const struct material_sheet *sheet_of(double ounces) {
    char name[16];
    snprintf(name, sizeof name, "%.0f oz", ounces);
    return material_find_sheet(base_text_of(name));
}

static double nominal_in(const double *in) {
    return sheet_of(in[0]) == NULL ? NOWHERE : sheet_of(in[0])->nominal_m / INCH_M;
}

static double minimum_in(const double *in) {
    return sheet_of(in[0]) == NULL ? NOWHERE : sheet_of(in[0])->minimum_m / INCH_M;
}

static double mass_kgm2(const double *in) {
    return sheet_of(in[0]) == NULL ? NOWHERE : sheet_of(in[0])->mass_kgm2;
}

/* Pounds a cubic inch by weight and nominal thickness. */
static double density_lbin3(const double *in) {
    return mass_kgm2(in) / LB_KG * INCH2 / nominal_in(in);
}

static double plate_lb(const double *in) {
    return material_find_metal(base_text_of("copper"))->density_kgm3 * in[0] * INCH_M * FOOT_M *
           FOOT_M / LB_KG;
}

static double expansion_1f(const double *in) {
    (void)in;
    return material_find_metal(base_text_of("copper"))->expansion_1k / 1.8;
}

static double modulus_psi(const double *in) {
    (void)in;
    return material_find_metal(base_text_of("copper"))->modulus_pa / PSI_PA;
}

static double yield_psi(const double *in) {
    (void)in;
    return material_find_metal(base_text_of("copper"))->yield_pa / PSI_PA;
}

static double solder_lbft(const double *in) {
    return material_solder_kgm(in[0] * INCH_M, in[1] * INCH_M, false) / LB_FOOT;
}

static double solder_on_girth_lb(const double *in) {
    return solder_lbft(in) * in[2] / 12;
}

static double solder_gcm3(const double *in) {
    return material_solder_kgm(1, 1, in[0] > 0) / 1000;
}

static double slip_fit_in(const double *in) {
    return 2 * 3.14159265358979 * nominal_in(in);
}

/* ---- section ------------------------------------------------------------------------------- */

/* in: D, b, h, t */
static double girth_in(const double *in) {
    const struct section_gutter gutter = {.inside_diameter_m = in[0] * INCH_M,
                                          .bead_diameter_m = in[1] * INCH_M,
                                          .back_rise_m = in[2] * INCH_M,
                                          .back_allowance_m = in[2] * INCH_M};
    return section_girth(&gutter, in[3] * INCH_M) / INCH_M;
}

static const struct section_gutter *us_section(const struct shop *shop, double size_in) {
    char name[16];
    const struct shop_profile *profile;
    snprintf(name, sizeof name, "%.0f in", size_in);
    profile = shop_find_profile(shop, base_text_of(name));
    return profile == NULL ? NULL : &profile->section;
}

/* in: size, ounces of the sheet */
static double shop_girth_in(const double *in) {
    const struct shop shop = shop_default(UNITS_FT_IN);
    const struct section_gutter *gutter = us_section(&shop, in[0]);
    const struct material_sheet *sheet = sheet_of(in[1]);
    return gutter == NULL || sheet == NULL ? NOWHERE
                                           : section_girth(gutter, sheet->nominal_m) / INCH_M;
}

/* Pounds of copper a foot of gutter. */
static double shop_lbft(const double *in) {
    const double sheet[] = {in[1]};
    return shop_girth_in(in) * INCH_M * mass_kgm2(sheet) / LB_FOOT;
}

static double full_area_in2(const double *in) {
    const struct shop shop = shop_default(UNITS_FT_IN);
    const struct section_gutter *gutter = us_section(&shop, in[0]);
    return gutter == NULL ? NOWHERE
                          : section_find_wet(gutter, section_full_depth(gutter)).area_m2 / INCH2;
}

/* in: D, depth */
static double segment_area_in2(const double *in) {
    const struct section_gutter gutter = {.inside_diameter_m = in[0] * INCH_M};
    return section_find_wet(&gutter, in[1] * INCH_M).area_m2 / INCH2;
}

/* Water at 62.4 lb/ft3. */
static double water_lbft(const double *in) {
    return full_area_in2(in) / 144 * 62.4;
}

/* in: size, ounces, bracket spacing in, density of the filling lb/ft3 */
static double bracket_lb(const double *in) {
    return (full_area_in2(in) / 144 * in[3] + shop_lbft(in)) * in[2] / 12;
}

static double pipe_area_in2(const double *in) {
    return section_pipe_area(in[0] * INCH_M) / INCH2;
}

static const struct shop_profile *en_profile(const struct shop *shop, double girth_mm) {
    char name[16];
    snprintf(name, sizeof name, "%.0f", girth_mm);
    return shop_find_profile(shop, base_text_of(name));
}

static double en_girth_mm(const double *in) {
    const struct shop shop = shop_default(UNITS_MM);
    const struct shop_profile *profile = en_profile(&shop, in[0]);
    return profile == NULL ? NOWHERE : section_girth(&profile->section, 0) * 1000;
}

static double en_area_cm2(const double *in) {
    const struct shop shop = shop_default(UNITS_MM);
    const struct shop_profile *profile = en_profile(&shop, in[0]);
    return profile == NULL
               ? NOWHERE
               : section_find_wet(&profile->section, section_full_depth(&profile->section))
                         .area_m2 *
                     1e4;
}

static double en_sheet_mm(const double *in) {
    const struct shop shop = shop_default(UNITS_MM);
    const struct shop_profile *profile = en_profile(&shop, in[0]);
    const struct material_sheet *sheet =
        profile == NULL ? NULL : material_find_sheet(base_text_of(profile->sheet));
    return sheet == NULL ? NOWHERE : sheet->nominal_m * 1000;
}

#define FOUND   HANDBOOK_FOUND
#define DERIVED HANDBOOK_DERIVED

static const struct handbook_row rows[] = {
    {"C-1", "nominal thickness, in", "16 oz", {16}, EXACT(0.0216), FOUND, "SRC-33", nominal_in},
    {"C-2", "minimum thickness, in", "16 oz", {16}, EXACT(0.0204), FOUND, "SRC-33", minimum_in},
    {"C-3a", "nominal thickness, in", "20 oz", {20}, EXACT(0.0270), FOUND, "SRC-33", nominal_in},
    {"C-3b", "minimum thickness, in", "20 oz", {20}, EXACT(0.0258), FOUND, "SRC-33", minimum_in},
    {"C-4a", "nominal thickness, in", "12 oz", {12}, EXACT(0.0162), FOUND, "SRC-33", nominal_in},
    {"C-4b", "nominal thickness, in", "24 oz", {24}, EXACT(0.0323), FOUND, "SRC-33", nominal_in},
    {"C-4c", "nominal thickness, in", "32 oz", {32}, EXACT(0.0431), FOUND, "SRC-33", nominal_in},
    {"C-5",
     "density, lb/in3",
     "16 oz",
     {16},
     WITHIN_SHARE(0.3215, 0.005),
     DERIVED,
     "SRC-33",
     density_lbin3},
    {"C-6",
     "density, lb/in3",
     "24 oz",
     {24},
     WITHIN_SHARE(0.3225, 0.005),
     DERIVED,
     "SRC-33",
     density_lbin3},
    {"C-7", "mass, kg/m2", "16 oz", {16}, WITHIN(4.8824, 0.001), DERIVED, "SRC-33", mass_kgm2},
    {"C-8a", "expansion per F", "", {0}, EXACT(9.8e-6), FOUND, "SRC-32", expansion_1f},
    {"C-8b", "modulus, psi", "", {0}, EXACT(17.0e6), FOUND, "SRC-32", modulus_psi},
    {"C-8c", "yield, psi", "", {0}, EXACT(20000), FOUND, "SRC-32", yield_psi},
    {"C-9",
     "plate a square foot, lb",
     "1 in thick",
     {1},
     WITHIN_SHARE(46.5, 0.01),
     FOUND,
     "SRC-30",
     plate_lb},
    {"C-10a",
     "half circle, in2",
     "4 in",
     {4},
     WITHIN(6.2832, 0.001),
     DERIVED,
     "SRC-45",
     full_area_in2},
    {"C-10b",
     "half circle, in2",
     "5 in",
     {5},
     WITHIN(9.8175, 0.001),
     DERIVED,
     "SRC-45",
     full_area_in2},
    {"C-10c",
     "half circle, in2",
     "6 in",
     {6},
     WITHIN(14.1372, 0.001),
     DERIVED,
     "SRC-45",
     full_area_in2},
    {"C-10d",
     "half circle, in2",
     "7 in",
     {7},
     WITHIN(19.2423, 0.001),
     DERIVED,
     "SRC-45",
     full_area_in2},
    {"C-10e",
     "half circle, in2",
     "8 in",
     {8},
     WITHIN(25.1327, 0.001),
     DERIVED,
     "SRC-45",
     full_area_in2},
    {"C-11",
     "segment, in2",
     "R 2.5, depth 1.25",
     {5, 1.25},
     WITHIN(3.8387, 0.001),
     DERIVED,
     "SRC-45",
     segment_area_in2},
    {"C-12",
     "segment, in2",
     "R 3, depth 2.5",
     {6, 2.5},
     WITHIN(11.1511, 0.001),
     DERIVED,
     "SRC-45",
     segment_area_in2},
    {"C-13",
     "girth, in",
     "5 in, 16 oz",
     {5, 16},
     WITHIN(10, 0.0005),
     FOUND,
     "SRC-30",
     shop_girth_in},
    {"C-14",
     "girth, in",
     "6 in, 16 oz",
     {6, 16},
     WITHIN(12.25, 0.005),
     FOUND,
     "SRC-30",
     shop_girth_in},
    {"C-15",
     "girth, in",
     "D 5, b .625, h .25, 16 oz",
     {5, .625, .25, .0216},
     WITHIN(10.0335, 0.002),
     DERIVED,
     "SRC-45",
     girth_in},
    {"C-16",
     "girth, in",
     "6 in, 16 oz",
     {6, 16},
     WITHIN(12.2470, 0.002),
     DERIVED,
     "SRC-45",
     shop_girth_in},
    {"C-17",
     "girth, in",
     "4 in, 16 oz",
     {4, 16},
     WITHIN(8.3201, 0.002),
     DERIVED,
     "SRC-45",
     shop_girth_in},
    {"C-18a",
     "girth, in",
     "7 in, 16 oz",
     {7, 16},
     WITHIN(13.8178, 0.002),
     DERIVED,
     "SRC-45",
     shop_girth_in},
    {"C-18b",
     "girth, in",
     "8 in, 16 oz",
     {8, 16},
     WITHIN(15.3886, 0.002),
     DERIVED,
     "SRC-45",
     shop_girth_in},
    {"C-19", "girth, mm", "333", {333}, WITHIN(333, 2), FOUND, "SRC-34", en_girth_mm},
    {"C-20", "girth, mm", "280", {280}, WITHIN(280, 6), FOUND, "SRC-34", en_girth_mm},
    {"C-21",
     "cross-section, cm2",
     "333",
     {333},
     WITHIN_SHARE(106, 0.02),
     FOUND,
     "SRC-34",
     en_area_cm2},
    {"C-22a", "copper, mm", "333", {333}, EXACT(0.6), FOUND, "SRC-34", en_sheet_mm},
    {"C-22b", "copper, mm", "400", {400}, EXACT(0.7), FOUND, "SRC-34", en_sheet_mm},
    {"C-39",
     "50/50 solder, g/cm3",
     "",
     {0},
     WITHIN_SHARE(8.878, 0.002),
     DERIVED,
     "SRC-44",
     solder_gcm3},
    {"C-40",
     "solder, lb/ft",
     "1 in, 0.010 film",
     {1, 0.010},
     WITHIN(0.0385, 0.0002),
     DERIVED,
     "SRC-44",
     solder_lbft},
    {"C-41",
     "solder, lb",
     "10 in girth",
     {1, 0.010, 10},
     WITHIN(0.0321, 0.0002),
     DERIVED,
     "SRC-44",
     solder_on_girth_lb},
    {"C-47a",
     "full of water, lb/ft",
     "4 in",
     {4},
     WITHIN(2.723, 0.002),
     DERIVED,
     "SRC-45",
     water_lbft},
    {"C-47b",
     "full of water, lb/ft",
     "5 in",
     {5},
     WITHIN(4.254, 0.002),
     DERIVED,
     "SRC-45",
     water_lbft},
    {"C-47c",
     "full of water, lb/ft",
     "6 in",
     {6},
     WITHIN(6.126, 0.002),
     DERIVED,
     "SRC-45",
     water_lbft},
    {"C-48",
     "load on a bracket, lb",
     "6 in, 20 oz, 30 in",
     {6, 20, 30, 62.4},
     WITHIN(18.51, 0.02),
     DERIVED,
     "SRC-45",
     bracket_lb},
    {"C-49",
     "load on a bracket, lb",
     "5 in, 16 oz, 36 in",
     {5, 16, 36, 62.4},
     WITHIN(15.26, 0.02),
     DERIVED,
     "SRC-45",
     bracket_lb},
    {"C-50",
     "ice on a bracket, lb",
     "6 in, 20 oz, 30 in",
     {6, 20, 30, 57.2},
     WITHIN(17.23, 0.02),
     DERIVED,
     "SRC-45",
     bracket_lb},
    {"C-67", "leader area, in2", "3 in", {3}, WITHIN(7.07, 0.005), FOUND, "SRC-36", pipe_area_in2},
    {"C-67b",
     "leader area, in2",
     "4 in",
     {4},
     WITHIN(12.57, 0.005),
     FOUND,
     "SRC-36",
     pipe_area_in2},
    {"C-67c",
     "leader area, in2",
     "5 in",
     {5},
     WITHIN(19.63, 0.006),
     FOUND,
     "SRC-36",
     pipe_area_in2},
    {"C-67d",
     "leader area, in2",
     "6 in",
     {6},
     WITHIN(28.27, 0.006),
     FOUND,
     "SRC-36",
     pipe_area_in2},
    {"C-73",
     "slip fit, in of girth",
     "16 oz",
     {16},
     WITHIN(0.1357, 0.0005),
     DERIVED,
     "SRC-33",
     slip_fit_in},
    {"C-106",
     "copper, lb/ft",
     "5 in, 16 oz",
     {5, 16},
     WITHIN(0.8333, 0.0005),
     DERIVED,
     "SRC-45",
     shop_lbft},
};

const struct handbook_book handbook_copper = {"copper", rows, sizeof rows / sizeof rows[0]};
