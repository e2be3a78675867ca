/* SPDX-License-Identifier: Apache-2.0 */
/*
 * thermal: movement of metal with temperature. A formula room.
 */
#ifndef EAVESMITH_THERMAL_H
#define EAVESMITH_THERMAL_H

#include "base/base.h"

/* dL = alpha L dT. */
double thermal_movement(double expansion_1k, double length_m, double range_k);
/* Gap to set at a temperature: alpha L (Tmax - Tset) + clearance. */
double thermal_set_gap(double expansion_1k, double length_m, double highest_c, double setting_c,
                       double clearance_m);
/* Restrained stress: E alpha dT. */
double thermal_restrained_stress(double modulus_pa, double expansion_1k, double range_k);

#endif
