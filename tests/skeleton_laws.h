/* SPDX-License-Identifier: Apache-2.0 */
/* What holds of every roof over an outline, asked of one. */
#ifndef EAVESMITH_TESTS_SKELETON_LAWS_H
#define EAVESMITH_TESTS_SKELETON_LAWS_H

#include "random_outline.h"

/* The first law that is broken, in words; NULL when all hold. Plane geometry (DERIVED). */
const char *find_broken_law(const struct random_outline *of,
                            const struct geometry_skeleton *skeleton);
double find_outline_area(const struct geometry_outline *outline);

#endif
