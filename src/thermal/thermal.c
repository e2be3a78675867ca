/* SPDX-License-Identifier: Apache-2.0 */
#include "thermal/thermal.h"

#include <assert.h>

double thermal_movement(double expansion_1k, double length_m, double range_k) {
    return expansion_1k * length_m * range_k;
}

double thermal_set_gap(double expansion_1k, double length_m, double highest_c, double setting_c,
                       double clearance_m) {
    assert(length_m >= 0 && clearance_m >= 0);
    /* Set on a day hotter than the highest counted on, the metal will not grow: clearance alone. */
    if (setting_c >= highest_c) {
        return clearance_m;
    }
    return thermal_movement(expansion_1k, length_m, highest_c - setting_c) + clearance_m;
}

double thermal_restrained_stress(double modulus_pa, double expansion_1k, double range_k) {
    return modulus_pa * expansion_1k * range_k;
}
