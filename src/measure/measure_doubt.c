/* SPDX-License-Identifier: Apache-2.0 */
/* Standard deviations where they are said and where they are not, and the limits of chance. */
#include "measure/measure_inside.h"
#include "numeric/numeric.h"
#include "units/units.h"

#include <math.h>

#define DEGREE 0.017453292519943295

/*
 * A doubt that is said is taken for what a careful person means by it: 19 times in 20 within it,
 * two standard deviations. Where none is said, COMMON PRACTICE (SRC-71):
 *   1/4 in for the ends of the tape, and 1/2000 of the length for its sag and slope;
 *   a guess: 1 part in 50, at least 6 in;
 *   a corner called square: a quarter of a degree (1 in out on the diagonal of 12 by 16 ft, taken
 *   as two standard deviations); a corner said in degrees: half a degree.
 */
#define END_SIGMA_M   0.00635
#define SAG_SHARE     5e-4
#define GUESS_SHARE   0.02
#define GUESS_LEAST_M 0.1524
#define SQUARE_SIGMA  (0.25 * DEGREE)
#define ANGLE_SIGMA   (0.5 * DEGREE)
/* A house without a blunder is blamed once in 100, whatever the number of its measurements. */
#define BLAMED_IN_ALL 0.01

double measure_usual_sigma(double length_m) {
    return hypot(END_SIGMA_M, SAG_SHARE * length_m);
}

double measure_length_sigma(const struct job_length *length, bool *assumed) {
    double length_m = units_m_of_tick(length->tick);
    double doubt_m = units_m_of_tick(length->doubt_tick);
    double usual_m = measure_usual_sigma(length_m);
    *assumed = length->doubt_tick == 0;
    if (length->guess) {
        return fmax(fmax(GUESS_SHARE * length_m, GUESS_LEAST_M), doubt_m / 2);
    }
    if (length->reading_count > 1) { /* the mean of readings; half their spread is the doubt */
        return fmax(usual_m / sqrt((double)length->reading_count), doubt_m);
    }
    return length->doubt_tick > 0 ? doubt_m / 2 : usual_m;
}

double measure_corner_sigma(double corner_rad) {
    return fabs(corner_rad - 90 * DEGREE) < 1e-9 ? SQUARE_SIGMA : ANGLE_SIGMA;
}

/* The 99th percentile of chi squared by Wilson and Hilferty 1931 (MEMORY), within 1 % (f = 1: 3 %,
 * so its exact value stands here). */
double measure_chi_limit(size_t redundancy) {
    if (redundancy <= 1) {
        return redundancy == 0 ? 0.0 : 6.635;
    }
    const double normal_99 = 2.3263478740408408;
    double part = 2.0 / (9.0 * (double)redundancy);
    double root = 1.0 - part + normal_99 * sqrt(part);
    return (double)redundancy * root * root * root;
}

/* The chance that a normal variable lies outside of -k .. k, less the share wanted. */
static double find_excess(double k, const void *share) {
    return erfc(k / sqrt(2.0)) - *(const double *)share;
}

double measure_critical(size_t count) {
    double share = BLAMED_IN_ALL / (double)(count > 0 ? count : 1);
    double critical_1 = 0.0;
    numeric_find_root(find_excess, &share, 1.0, 10.0, 1e-12, &critical_1);
    return critical_1;
}

bool measure_find_corner(const struct measure_triangle *triangle, double *angle_rad,
                         double *sigma_rad) {
    double a = triangle->leg_m[0];
    double b = triangle->leg_m[1];
    double c = triangle->across_m;
    if (!(a > 0.0 && b > 0.0 && c > fabs(a - b) && c < a + b)) {
        return false;
    }
    double cosine = (a * a + b * b - c * c) / (2 * a * b);
    double sine = sqrt(fmax(1.0 - cosine * cosine, 0.0));
    double by_a = (b * cosine - a) / (a * b * sine);
    double by_b = (a * cosine - b) / (a * b * sine);
    double by_c = c / (a * b * sine);
    *angle_rad = acos(cosine);
    *sigma_rad =
        sqrt(pow(by_a * triangle->leg_sigma_m[0], 2) + pow(by_b * triangle->leg_sigma_m[1], 2) +
             pow(by_c * triangle->across_sigma_m, 2));
    return true;
}
