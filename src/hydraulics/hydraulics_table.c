/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Four cross-sections at once, without a root or an arc sine. The unknown is v, depth = scale v^6:
 * in it area, moment, width and drag of a half circle are whole powers of v times smooth functions,
 * and those are polynomials in z = 2 v^6 - 1 (Chebyshev fits on the half circle; the greatest
 * relative error stands beside each and is held by a test).
 */
#include "hydraulics/hydraulics_smooth.h"

#include <assert.h>
#include <math.h>

enum { LANES = HYDRAULICS_LANES, TERMS = 8, SLOPE_TERMS = 4, CRITICAL_TERMS = 14 };

/* area = r^2 v^9 times this: 2.8e-9 */
static const double AREA[TERMS] = {1.7371770911575173,      -0.15627588395034386,
                                   -0.0087794046072819654,  -0.0010977884907582558,
                                   -0.00018199163272275554, -3.5213218801399826e-05,
                                   -8.4860309026435488e-06, -1.9920232419146089e-06};
/* first moment about the surface = r^3 v^15 times this: 5.1e-10 */
static const double MOMENT[TERMS] = {0.71231265569599111,     -0.043604550821114592,
                                     -0.0018299889928359084,  -0.00018146280394003289,
                                     -2.488099419506451e-05,  -4.0968525550910684e-06,
                                     -8.3544102946753185e-07, -1.7278690034316924e-07};
/* P^(4/3) / A^(7/3) = r^(-10/3) v / (area / r^2)^2 times this: 3.1e-8 */
static const double DRAG[TERMS] = {
    3.5384802178125301,    0.34827510006302492,    0.056797805105308907,   0.01129064282117731,
    0.0024954365887684959, 0.00059560141953540757, 0.00017619883579644835, 4.7590966064881002e-05};
/* top width = r v^3 times this: 9.2e-5, only used for slopes */
static const double WIDTH[SLOPE_TERMS] = {2.4496490395616455, -0.40815352940104155,
                                          -0.03527118542337071, -0.0060402782717615677};
/* d ln(drag) / d ln(depth): 3.3e-4, only used for slopes */
static const double DRAG_RISE[SLOPE_TERMS] = {-2.5555894340710492, 0.33675079535461433,
                                              0.077265319782825442, 0.018797161474293};
/*
 * critical depth / r = w times this, w^2 = Q / (sqrt(g) r^2.5), in z = 2 w / CRITICAL_BRIM - 1:
 * 4.4e-13
 */
static const double CRITICAL[CRITICAL_TERMS] = {
    0.82623566361640788,     0.021323672106304786,    0.00076570754818676423,
    -0.00041364028778549666, -0.00022896066153924033, -8.7154371833042532e-05,
    -2.8907910529119007e-05, -8.7632213197075259e-06, -2.4353669734189509e-06,
    -6.1167989162669301e-07, -1.4258971603453574e-07, -2.4298504541775401e-08,
    7.9214359516299737e-09,  5.4428994644695194e-09};
static const double CRITICAL_BRIM = 1.1798652462073482;

/* Written out, so that a compiler may take two or four lanes in one go. */
static inline void sum_eight(const double *c, const double z[LANES], double sums[LANES]) {
    for (int i = 0; i < LANES; i++) {
        double upper = c[4] + z[i] * (c[5] + z[i] * (c[6] + z[i] * c[7]));
        double square = z[i] * z[i];
        sums[i] = c[0] + z[i] * (c[1] + z[i] * (c[2] + z[i] * c[3])) + square * square * upper;
    }
}

static inline void sum_four(const double *c, const double z[LANES], double sums[LANES]) {
    for (int i = 0; i < LANES; i++) {
        sums[i] = c[0] + z[i] * (c[1] + z[i] * (c[2] + z[i] * c[3]));
    }
}

/* The half circle in lanes of its own: nothing else may point into them. */
static void find_circle_cuts(const struct hydraulics_scale *scale, const double root_1[LANES],
                             struct hydraulics_cuts *cuts) {
    double r = scale->scale_m;
    double z[LANES];
    double area[LANES];
    double moment[LANES];
    double drag[LANES];
    double width[LANES];
    double drag_rise[LANES];
    for (int i = 0; i < LANES; i++) {
        double cube = root_1[i] * root_1[i] * root_1[i];
        z[i] = 2 * cube * cube - 1;
    }
    sum_eight(AREA, z, area);
    sum_eight(MOMENT, z, moment);
    sum_eight(DRAG, z, drag);
    sum_four(WIDTH, z, width);
    sum_four(DRAG_RISE, z, drag_rise);
    for (int i = 0; i < LANES; i++) {
        double cube = root_1[i] * root_1[i] * root_1[i];
        double sixth = cube * cube;
        double area_1 = area[i] * sixth * cube;
        double thinness = 1 / area_1;
        cuts->depth_m[i] = r * sixth;
        cuts->area_m2[i] = area_1 * (r * r);
        cuts->thinness[i] = thinness * scale->thinness;
        cuts->moment_m3[i] = moment[i] * sixth * sixth * cube * (r * r * r);
        cuts->width_m[i] = width[i] * cube * r;
        cuts->drag[i] = drag[i] * scale->drag_1 * root_1[i] * thinness * thinness;
        cuts->drag_rise_1[i] = drag_rise[i];
    }
}

struct hydraulics_scale hydraulics_find_scale(const struct hydraulics_reach *reach) {
    const struct section_gutter *gutter = hydraulics_shape_gutter(&reach->shape);
    double scale_m = gutter != NULL ? gutter->inside_diameter_m / 2 : reach->shape.top_m;
    double third_m = cbrt(scale_m);
    return (struct hydraulics_scale){.scale_m = scale_m,
                                     .thinness = 1 / (scale_m * scale_m),
                                     .drag_1 = 1 / (scale_m * scale_m * scale_m * third_m),
                                     .has_table = gutter != NULL,
                                     .table_ends = gutter == NULL || gutter->straight_m > 0};
}

double hydraulics_find_root(const struct hydraulics_scale *scale, double depth_m) {
    return sqrt(cbrt(depth_m / scale->scale_m));
}

double hydraulics_root_depth(const struct hydraulics_scale *scale, double root_1) {
    double cube = root_1 * root_1 * root_1;
    return scale->scale_m * cube * cube;
}

/* One section by the shape itself: a straight part, or a shape without a table. */
static void ask_shape(struct hydraulics_reach *reach, int i, struct hydraulics_cuts *cuts) {
    double depth_m = fmin(cuts->depth_m[i], reach->shape.top_m);
    reach->work.wets++;
    struct section_wet wet = reach->shape.find_wet(reach->shape.context, depth_m);
    double radius_m = wet.area_m2 / wet.perimeter_m;
    cuts->area_m2[i] = wet.area_m2;
    cuts->thinness[i] = 1 / wet.area_m2;
    cuts->moment_m3[i] = wet.moment_m3;
    cuts->width_m[i] = wet.top_width_m;
    cuts->drag[i] = 1 / (wet.area_m2 * radius_m * cbrt(radius_m));
    /* the wetted perimeter gains about 2 per unit of depth: an estimate will do for a slope */
    cuts->drag_rise_1[i] =
        depth_m * (4.0 / 3.0 * 2 / wet.perimeter_m - 7.0 / 3.0 * wet.top_width_m / wet.area_m2);
}

void hydraulics_find_cuts(struct hydraulics_reach *reach, const struct hydraulics_scale *scale,
                          const double root_1[HYDRAULICS_LANES], struct hydraulics_cuts *cuts) {
    if (scale->has_table) {
        reach->work.wets += LANES;
        find_circle_cuts(scale, root_1, cuts);
    }
    if (scale->table_ends) {
        for (int i = 0; i < LANES; i++) {
            if (!scale->has_table || cuts->depth_m[i] > scale->scale_m) {
                cuts->depth_m[i] = hydraulics_root_depth(scale, root_1[i]);
                ask_shape(reach, i, cuts);
            }
        }
    }
}

double hydraulics_table_critical(struct hydraulics_reach *reach,
                                 const struct hydraulics_scale *scale, double flow_m3s) {
    double r = scale->scale_m;
    double w = sqrt(flow_m3s / (sqrt(HYDRAULICS_GRAVITY_MPS2 * r) * r * r));
    if (!scale->has_table || w > CRITICAL_BRIM) {
        struct hydraulics_critical critical = hydraulics_find_critical(reach, flow_m3s, 0);
        return critical.above_top ? -1 : critical.state.depth_m;
    }
    double z = 2 * w / CRITICAL_BRIM - 1;
    double sum = CRITICAL[CRITICAL_TERMS - 1];
    for (int k = CRITICAL_TERMS - 2; k >= 0; k--) {
        sum = sum * z + CRITICAL[k];
    }
    return fmin(r * w * sum, reach->shape.top_m);
}
