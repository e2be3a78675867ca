/* SPDX-License-Identifier: Apache-2.0 */
/* The sheet of water from the roof's edge to the gutter: from the drizzle that creeps back to the
 * storm that flies. */
#include "hydraulics/hydraulics.h"

#include <assert.h>
#include <math.h>

/* Water at 20 C: SRC-93, MEMORY. */
static const double VISCOSITY_M2S = 1.004e-6;
static const double DENSITY_KGM3 = 998.2;
static const double TENSION_NM = 0.0728;

static const double WEBER_CLINGS = 2;
static const double BACK_SHARE_1 = 1.0 / 3; /* COMMON PRACTICE: water falls in the back third */
static const double OPEN_SHARE_1 = 0.5;

static double find_sine(double pitch_1) {
    return pitch_1 / hypot(1, pitch_1);
}

static double find_cosine(double pitch_1) {
    return 1 / hypot(1, pitch_1);
}

struct hydraulics_sheet hydraulics_find_sheet(double flow_m2s, double pitch_1, double roughness_1) {
    assert(flow_m2s >= 0 && pitch_1 > 0 && roughness_1 > 0);
    if (!(flow_m2s > 0)) {
        return (struct hydraulics_sheet){.flow_m2s = 0};
    }
    double sine = find_sine(pitch_1);
    double rough_m = pow(roughness_1 * flow_m2s / sqrt(sine), 0.6); /* SRC-92 */
    double smooth_m =
        cbrt(3 * VISCOSITY_M2S * flow_m2s / (HYDRAULICS_GRAVITY_MPS2 * sine)); /* SRC-93 */
    double depth_m = fmax(rough_m, smooth_m);
    double speed_mps = flow_m2s / depth_m;
    return (struct hydraulics_sheet){flow_m2s, depth_m, speed_mps,
                                     DENSITY_KGM3 * flow_m2s * speed_mps / TENSION_NM};
}

double hydraulics_sheet_time(const struct hydraulics_sheet *sheet, double pitch_1,
                             double rain_mps) {
    return rain_mps > 0 ? sheet->depth_m / (rain_mps * find_cosine(pitch_1)) : 0;
}

double hydraulics_clinging_flow(double pitch_1, double roughness_1) {
    double low = 0;
    double high = 1;
    while (hydraulics_find_sheet(high, pitch_1, roughness_1).weber_1 < WEBER_CLINGS) {
        high *= 2;
    }
    for (int i = 0; i < 60; i++) { /* Weber rises with the flow */
        double flow_m2s = (low + high) / 2;
        bool clings = hydraulics_find_sheet(flow_m2s, pitch_1, roughness_1).weber_1 < WEBER_CLINGS;
        *(clings ? &low : &high) = flow_m2s;
    }
    return (low + high) / 2;
}

double hydraulics_path_drop(const struct hydraulics_sheet *sheet, double pitch_1, double x_m) {
    assert(x_m >= 0);
    if (!(x_m > 0)) {
        return 0;
    }
    double level_mps = sheet->speed_mps * find_cosine(pitch_1);
    double time_s = x_m / level_mps; /* a sheet that stands falls for ever before it is there */
    return x_m * pitch_1 + HYDRAULICS_GRAVITY_MPS2 * time_s * time_s / 2;
}

double hydraulics_path_reach(const struct hydraulics_sheet *sheet, double pitch_1, double drop_m) {
    if (!(drop_m > 0)) {
        return 0;
    }
    double down_mps = sheet->speed_mps * find_sine(pitch_1);
    /* the root of the falling quadratic in the form that loses no digits */
    double time_s =
        2 * drop_m / (down_mps + sqrt(down_mps * down_mps + 2 * HYDRAULICS_GRAVITY_MPS2 * drop_m));
    return sheet->speed_mps * find_cosine(pitch_1) * time_s;
}

struct hydraulics_landing hydraulics_find_landing(const struct hydraulics_sheet *sheet,
                                                  double pitch_1,
                                                  const struct hydraulics_trough *trough,
                                                  bool clings) {
    assert(trough->lip_out_m > trough->back_out_m);
    struct hydraulics_landing landing;
    landing.out_m = clings ? 0 : hydraulics_path_reach(sheet, pitch_1, trough->lip_drop_m);
    landing.spare_m = trough->lip_out_m - landing.out_m;
    landing.share_1 =
        (landing.out_m - trough->back_out_m) / (trough->lip_out_m - trough->back_out_m);
    bool is_behind =
        clings || (trough->back_out_m > 0 &&
                   hydraulics_path_drop(sheet, pitch_1, trough->back_out_m) >= trough->back_drop_m);
    landing.place = is_behind                         ? HYDRAULICS_LANDS_BEHIND
                    : landing.share_1 > 1             ? HYDRAULICS_LANDS_OVER
                    : landing.share_1 <= BACK_SHARE_1 ? HYDRAULICS_LANDS_BACK
                                                      : HYDRAULICS_LANDS_FORWARD;
    return landing;
}

struct hydraulics_catch hydraulics_find_catch(const struct hydraulics_edge *edge,
                                              const struct hydraulics_trough *trough) {
    struct hydraulics_catch found = {
        .storm_sheet = hydraulics_find_sheet(edge->flow_m2s, edge->pitch_1, edge->roughness_1)};
    double clinging_m2s = hydraulics_clinging_flow(edge->pitch_1, edge->roughness_1);
    bool storm_clings = !edge->has_drip && edge->flow_m2s < clinging_m2s;
    struct hydraulics_sheet drizzle = {.flow_m2s = 0};
    if (!edge->has_drip) {
        found.clings_below_1 = edge->flow_m2s > 0 ? fmin(clinging_m2s / edge->flow_m2s, 1) : 1;
    }
    found.storm = hydraulics_find_landing(&found.storm_sheet, edge->pitch_1, trough, storm_clings);
    found.drizzle = hydraulics_find_landing(&drizzle, edge->pitch_1, trough, !edge->has_drip);
    found.open_1 = fmin(trough->lip_out_m / (trough->lip_out_m - trough->back_out_m), 1);
    found.wants_drip = found.clings_below_1 > 0;
    found.wants_apron = trough->back_drop_m > edge->drip_leg_m ||
                        found.storm.place == HYDRAULICS_LANDS_FORWARD ||
                        found.storm.place == HYDRAULICS_LANDS_OVER;
    found.too_far_over = found.open_1 < OPEN_SHARE_1;
    return found;
}
