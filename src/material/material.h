/* SPDX-License-Identifier: Apache-2.0 */
/*
 * material: metals, sheet weights, woods. Each row with its source tag. Facts only.
 */
#ifndef EAVESMITH_MATERIAL_H
#define EAVESMITH_MATERIAL_H

#include "base/base.h"

struct material_sheet {
    const char *name; /* "16 oz", "0.7 mm" */
    double mass_kgm2;
    double nominal_m; /* thickness */
    double minimum_m; /* 0 = not published */
    const char *source;
};

struct material_metal {
    const char *name; /* "copper" */
    double density_kgm3;
    double expansion_1k; /* per kelvin */
    double modulus_pa;
    double yield_pa;
    const char *source;
};

/* A kind of wood by the words a person uses: "eastern white pine", "fir". */
struct material_wood {
    const char *word;
    double gravity_1; /* oven-dry specific gravity, as the wood standard takes it */
    const char *source;
};
/* NULL when no word of the table is in it. The first that fits; a plain word stands for the weakest
 * of its kind. */
const struct material_wood *material_find_wood(struct base_text name);
/* What is taken where the kind is not known. */
extern const struct material_wood material_weakest_wood;

/* B370 copper sheet 12..48 oz and EN 0.6, 0.7, 0.8 mm. NULL when there is no such row. */
const struct material_sheet *material_find_sheet(struct base_text name);
const struct material_metal *material_find_metal(struct base_text name);

/* Solder for a lap seam: 0.0385 lb per ft of 1 in sweat in 0.010 in film, 50/50; see
 * docs/sources.md. */
double material_solder_kgm(double seam_width_m, double film_m, bool lead_free);

#endif
