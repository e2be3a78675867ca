/* SPDX-License-Identifier: Apache-2.0 */
#include "structure/structure.h"

#include <assert.h>
#include <math.h>

static const double PI = 3.14159265358979323846;

#define POUND_N    4.4482216152605
#define INCH_M     0.0254
#define PSI_PA     (POUND_N / (INCH_M * INCH_M))
#define LB_FT3_NM3 (POUND_N / (0.3048 * 0.3048 * 0.3048))

/* ---- loads -------------------------------------------------------------------------------------
 */

static const double WATER_LB_FT3 = 62.4; /* the handbook's round figure (FOUND) */
static const double ICE_LB_FT3 = 57.2;   /* within the published 50 to 57 (FOUND, DERIVED) */
static const double FLAT_ROOF_1 = 0.7;   /* ASCE 7 eq. 7.3-1 (MEMORY) */
static const double SLIDING_1 = 0.4;     /* ASCE 7-22 section 7.9 (FOUND) */

double structure_metal_load(const struct section_gutter *gutter, double sheet_m, double mass_kgm2) {
    return section_girth(gutter, sheet_m) * mass_kgm2 * STRUCTURE_GRAVITY_MPS2;
}

static double full_area(const struct section_gutter *gutter) {
    return section_find_wet(gutter, section_full_depth(gutter)).area_m2;
}

double structure_water_load(const struct section_gutter *gutter) {
    return full_area(gutter) * WATER_LB_FT3 * LB_FT3_NM3;
}

double structure_ice_load(const struct section_gutter *gutter) {
    return full_area(gutter) * ICE_LB_FT3 * LB_FT3_NM3;
}

double structure_snow_load(double ground_snow_pa, double width_m) {
    return FLAT_ROOF_1 * ground_snow_pa * width_m;
}

double structure_sliding_load(double ground_snow_pa, double roof_run_m) {
    return SLIDING_1 * FLAT_ROOF_1 * ground_snow_pa * roof_run_m;
}

/* ---- the gutter on its brackets -----------------------------------------------------------------
 */

/* Three moments: M0 l0 + 2 M1 (l0 + l1) + M2 l1 = - w (l0^3 + l1^3) / 4, ends held by what hangs
 * over them. The rows below the diagonal are taken off in one sweep. */
static void find_moments(const struct structure_beam *beam, double *moments_nm, double *scratch) {
    size_t count = beam->count;
    const double *x_m = beam->supports_m;
    double over_m = beam->length_m - x_m[count - 1];
    double *upper = scratch;
    double *right = scratch + count;
    moments_nm[0] = -beam->load_nm * x_m[0] * x_m[0] / 2;
    moments_nm[count - 1] = -beam->load_nm * over_m * over_m / 2;
    upper[0] = 0;
    right[0] = moments_nm[0];
    for (size_t i = 1; i + 1 < count; i++) {
        double before_m = x_m[i] - x_m[i - 1];
        double after_m = x_m[i + 1] - x_m[i];
        double load_nm2 =
            -beam->load_nm * (before_m * before_m * before_m + after_m * after_m * after_m) / 4;
        double pivot_m = 2 * (before_m + after_m) - before_m * upper[i - 1];
        upper[i] = after_m / pivot_m;
        right[i] = (load_nm2 - before_m * right[i - 1]) / pivot_m;
    }
    for (size_t i = count - 1; i-- > 1;) {
        moments_nm[i] = right[i] - upper[i] * moments_nm[i + 1];
    }
}

void structure_find_beam(const struct structure_beam *beam, double *reactions_n, double *moments_nm,
                         double *scratch) {
    size_t count = beam->count;
    const double *x_m = beam->supports_m;
    assert(count >= 1 && x_m[0] >= 0 && x_m[count - 1] <= beam->length_m);
    if (count == 1) {
        double longer_m = fmax(x_m[0], beam->length_m - x_m[0]);
        reactions_n[0] = beam->load_nm * beam->length_m;
        moments_nm[0] = -beam->load_nm * longer_m * longer_m / 2;
        return;
    }
    find_moments(beam, moments_nm, scratch);
    for (size_t i = 0; i < count; i++) {
        reactions_n[i] = 0;
    }
    reactions_n[0] += beam->load_nm * x_m[0];
    reactions_n[count - 1] += beam->load_nm * (beam->length_m - x_m[count - 1]);
    for (size_t i = 0; i + 1 < count; i++) {
        double span_m = x_m[i + 1] - x_m[i];
        assert(span_m > 0);
        double lean_n = (moments_nm[i + 1] - moments_nm[i]) / span_m;
        reactions_n[i] += beam->load_nm * span_m / 2 + lean_n;
        reactions_n[i + 1] += beam->load_nm * span_m / 2 - lean_n;
    }
}

/* ---- a screw in wood ------------------------------------------------------------------------- */

static const double END_PULLED_1 = 0.75;  /* NDS 12.2.1.2 (FOUND) */
static const double END_LATERAL_1 = 0.67; /* NDS 12.5.2.2 (MEMORY) */

double structure_withdrawal(const struct structure_screw *screw, double gravity_1,
                            enum structure_grain grain) {
    double per_inch_lb = 1800 * pow(gravity_1, 1.5) * pow(screw->diameter_m / INCH_M, 0.75);
    double held_n = per_inch_lb * POUND_N * screw->thread_m / INCH_M;
    return held_n * (grain == STRUCTURE_END_GRAIN ? END_PULLED_1 : 1);
}

/* What the wood bears under the screw, along the grain 11200 G, across it 6100 G^1.45 / D^0.5 psi;
 * between them by Hankinson's form. */
static double wood_bearing(const struct structure_screw *screw, double gravity_1,
                           double grain_rad) {
    double along_pa = 11200 * gravity_1 * PSI_PA;
    double across_pa = 6100 * pow(gravity_1, 1.45) / sqrt(screw->diameter_m / INCH_M) * PSI_PA;
    double sine = sin(grain_rad);
    double cosine = cos(grain_rad);
    return along_pa * across_pa / (along_pa * sine * sine + across_pa * cosine * cosine);
}

/* The screw in the plate and in the wood, as the six modes have it. */
struct bearing {
    double wood_pa;
    double plate_pa;
    double ratio; /* wood over plate, in strength */
    double depth; /* wood over plate, in length */
};

static double side_yields(const struct structure_screw *screw, const struct bearing *bearing) {
    double r = bearing->ratio;
    double t = bearing->depth;
    double root = sqrt(r + 2 * r * r * (1 + t + t * t) + t * t * r * r * r);
    double share = (root - r * (1 + t)) / (1 + r);
    return share * screw->root_m * screw->plate_m * bearing->plate_pa;
}

static double hinge_in_wood(const struct structure_screw *screw, const struct bearing *bearing) {
    double r = bearing->ratio;
    double d_m = screw->root_m;
    double length_m = screw->thread_m;
    double bend = 2 * screw->yield_pa * (1 + 2 * r) * d_m * d_m /
                  (3 * bearing->wood_pa * length_m * length_m);
    double share = sqrt(2 * (1 + r) + bend) - 1;
    return share * d_m * length_m * bearing->wood_pa / (1 + 2 * r);
}

static double hinge_at_plate(const struct structure_screw *screw, const struct bearing *bearing) {
    double r = bearing->ratio;
    double d_m = screw->root_m;
    double plate_m = screw->plate_m;
    double bend =
        2 * screw->yield_pa * (2 + r) * d_m * d_m / (3 * bearing->wood_pa * plate_m * plate_m);
    double share = sqrt(2 * (1 + r) / r + bend) - 1;
    return share * d_m * plate_m * bearing->wood_pa / (2 + r);
}

static double two_hinges(const struct structure_screw *screw, const struct bearing *bearing) {
    double d_m = screw->root_m;
    return d_m * d_m * sqrt(2 * bearing->wood_pa * screw->yield_pa / (3 * (1 + bearing->ratio)));
}

/* By what the modes are reduced: crushed, leaning, bent. Thin roots have one term for all three. */
struct reductions {
    double crushed;
    double leaning;
    double bent;
};

static struct reductions find_reductions(double root_m, double grain_rad) {
    double root_in = root_m / INCH_M;
    double turn = 1 + grain_rad / (PI / 2) / 4;
    if (root_in < 0.25) {
        double thin = root_in <= 0.17 ? 2.2 : 10 * root_in + 0.5;
        return (struct reductions){thin * turn, thin * turn, thin * turn};
    }
    return (struct reductions){4 * turn, 3.6 * turn, 3.2 * turn};
}

double structure_lateral(const struct structure_screw *screw, double gravity_1, double grain_rad,
                         enum structure_grain grain) {
    struct reductions reduced = find_reductions(screw->root_m, grain_rad);
    struct bearing bearing = {.wood_pa = wood_bearing(screw, gravity_1, grain_rad),
                              .plate_pa = screw->plate_bearing_pa};
    bearing.ratio = bearing.wood_pa / bearing.plate_pa;
    bearing.depth = screw->thread_m / screw->plate_m;
    double crushed_n =
        screw->root_m * fmin(screw->thread_m * bearing.wood_pa, screw->plate_m * bearing.plate_pa);
    double bent_n = fmin(fmin(hinge_in_wood(screw, &bearing), hinge_at_plate(screw, &bearing)),
                         two_hinges(screw, &bearing));
    double held_n =
        fmin(fmin(crushed_n / reduced.crushed, side_yields(screw, &bearing) / reduced.leaning),
             bent_n / reduced.bent);
    return held_n * (grain == STRUCTURE_END_GRAIN ? END_LATERAL_1 : 1);
}

double structure_leaning(double withdrawal_n, double lateral_n, double load_rad) {
    double sine = sin(load_rad);
    double cosine = cos(load_rad);
    return withdrawal_n * lateral_n / (withdrawal_n * cosine * cosine + lateral_n * sine * sine);
}

double structure_screw_use(const struct structure_bracket *bracket, double withdrawal_n,
                           double lateral_n) {
    double pulled_n = bracket->load_n * bracket->arm_m / bracket->apart_m;
    double across_n = bracket->load_n / 2;
    if (!(bracket->load_n > 0)) {
        return 0;
    }
    if (!(withdrawal_n > 0) || !(lateral_n > 0)) {
        return (double)INFINITY;
    }
    double whole_n = hypot(pulled_n, across_n);
    return whole_n / structure_leaning(withdrawal_n, lateral_n, atan2(pulled_n, across_n));
}

/* ---- the bracket itself ---------------------------------------------------------------------- */

double structure_quarter_sag(double load_n, double radius_m, double modulus_pa, double inertia_m4) {
    return PI * load_n * radius_m * radius_m * radius_m / (4 * modulus_pa * inertia_m4);
}

double structure_bar_stress(double load_n, double arm_m, double wide_m, double thick_m) {
    return 6 * load_n * arm_m / (wide_m * thick_m * thick_m);
}

double structure_ladder_push(double weight_n, double share_1) {
    return weight_n * share_1 / 4;
}
