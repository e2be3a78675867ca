/* SPDX-License-Identifier: Apache-2.0 */
#include "material/material.h"

#include <assert.h>

/* One ounce a square foot in kg/m2: 28.349523125 g on 0.09290304 m2 (both exact). */
#define OUNCES(oz)   ((oz)*0.028349523125 / 0.09290304)
#define INCHES(in)   ((in)*0.0254)
#define MM_SHEET(mm) ((mm)*0.001 * COPPER_KGM3)
#define PSI(psi)     ((psi)*6894.757293168)

/*
 * Copper of the mm sheets: 8.93 g/cm3, inside the published 8.89 to 8.94 (SRC-32, FOUND; the single
 * figure DERIVED). Ounce sheets carry their mass in their name.
 */
#define COPPER_KGM3 8930.0

/*
 * B370 ounce weights: nominal and minimum thickness (SRC-33, FOUND), mass by arithmetic (DERIVED).
 * EN sheets: thickness (SRC-34, FOUND), mass DERIVED; their least thickness was not found.
 */
static const struct material_sheet sheets[] = {
    {"12 oz", OUNCES(12), INCHES(0.0162), INCHES(0.0150), "SRC-33"},
    {"16 oz", OUNCES(16), INCHES(0.0216), INCHES(0.0204), "SRC-33"},
    {"20 oz", OUNCES(20), INCHES(0.0270), INCHES(0.0258), "SRC-33"},
    {"24 oz", OUNCES(24), INCHES(0.0323), INCHES(0.0308), "SRC-33"},
    {"32 oz", OUNCES(32), INCHES(0.0431), INCHES(0.0411), "SRC-33"},
    {"48 oz", OUNCES(48), INCHES(0.0646), INCHES(0.0621), "SRC-33"},
    {"0.6 mm", MM_SHEET(0.6), 0.0006, 0, "SRC-34"},
    {"0.7 mm", MM_SHEET(0.7), 0.0007, 0, "SRC-34"},
    {"0.8 mm", MM_SHEET(0.8), 0.0008, 0, "SRC-34"},
};

/*
 * Cold-rolled H00 copper: 0.322 lb/in3, 9.8e-6 per deg F, E 17,000,000 psi, yield 20,000 psi at
 * 0.5 % extension (SRC-32, FOUND). Other published expansions are 9.4 and 9.5e-6; the largest is
 * the safe one.
 */
static const struct material_metal metals[] = {
    {"copper", 0.322 * 0.45359237 / (0.0254 * 0.0254 * 0.0254), 9.8e-6 * 1.8, PSI(17.0e6),
     PSI(20000.0), "SRC-32"},
};

/*
 * Specific gravities of the wood standard's species groups (SRC-151: the columns FOUND, which
 * species stands in which MEMORY). The special names before the plain ones.
 */
static const struct material_wood woods[] = {
    {"douglas", 0.50, "SRC-151"},       {"hem-fir", 0.43, "SRC-151"},
    {"southern pine", 0.55, "SRC-151"}, {"yellow pine", 0.55, "SRC-151"},
    {"heart pine", 0.55, "SRC-151"},    {"white cedar", 0.31, "SRC-151"},
    {"cedar", 0.36, "SRC-151"},         {"oak", 0.67, "SRC-151"},
    {"larch", 0.50, "SRC-151"},         {"spruce", 0.42, "SRC-151"},
    {"hemlock", 0.43, "SRC-151"},       {"cypress", 0.43, "SRC-151"},
    {"fir", 0.43, "SRC-151"},           {"redwood", 0.36, "SRC-151"},
    {"pine", 0.36, "SRC-151"}};
const struct material_wood material_weakest_wood = {"soft wood", 0.31, "SRC-151"};

/* Does the text hold the word? Capitals do not matter. */
static bool holds_word(struct base_text text, const char *word) {
    for (size_t at = 0; at < text.length; at++) {
        size_t i = 0;
        while (word[i] != '\0' && at + i < text.length) {
            char letter = text.bytes[at + i];
            letter = letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
            if (letter != word[i]) {
                break;
            }
            i++;
        }
        if (word[i] == '\0') {
            return true;
        }
    }
    return false;
}

const struct material_wood *material_find_wood(struct base_text name) {
    for (size_t i = 0; i < sizeof woods / sizeof woods[0]; i++) {
        if (holds_word(name, woods[i].word)) {
            return &woods[i];
        }
    }
    return NULL;
}

/* Equal but for blanks: "16oz" and " 16  oz" are "16 oz". */
static bool same_name(struct base_text name, const char *wanted) {
    size_t at = 0;
    for (size_t i = 0; i < name.length; i++) {
        if (name.bytes[i] == ' ') {
            continue;
        }
        while (wanted[at] == ' ') {
            at++;
        }
        if (wanted[at] == '\0' || wanted[at] != name.bytes[i]) {
            return false;
        }
        at++;
    }
    return wanted[at] == '\0';
}

const struct material_sheet *material_find_sheet(struct base_text name) {
    for (size_t i = 0; i < sizeof sheets / sizeof sheets[0]; i++) {
        if (same_name(name, sheets[i].name)) {
            return &sheets[i];
        }
    }
    return NULL;
}

const struct material_metal *material_find_metal(struct base_text name) {
    for (size_t i = 0; i < sizeof metals / sizeof metals[0]; i++) {
        if (same_name(name, metals[i].name)) {
            return &metals[i];
        }
    }
    return NULL;
}

double material_solder_kgm(double seam_width_m, double film_m, bool lead_free) {
    /* Mixtures by mass (SRC-44, DERIVED): tin 7.29 and lead 11.35 g/cm3 half and half; tin with
       3.5 % silver of 10.49 g/cm3. */
    const double leaded_kgm3 = 1000 / (0.5 / 7.29 + 0.5 / 11.35);
    const double lead_free_kgm3 = 1000 / (0.965 / 7.29 + 0.035 / 10.49);
    assert(seam_width_m >= 0 && film_m >= 0);
    return seam_width_m * film_m * (lead_free ? lead_free_kgm3 : leaded_kgm3);
}
