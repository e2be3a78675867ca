/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Half circle of radius r under a straight part s. All four wetted values come from the half angle
 * phi that the water surface spans at the centre: depth = r (1 - cos phi).
 */
#include "section/section.h"

#include <assert.h>
#include <math.h>

static const double PI = 3.14159265358979323846;

/* Below this half angle the closed forms lose digits to cancellation, and a series keeps them. */
static const double SERIES_BELOW_RAD = 0.5;
static const double SERIES_SHARE = 1e-18; /* a term this small changes nothing */
enum { SERIES_TERMS = 12 };

double section_full_depth(const struct section_gutter *gutter) {
    return gutter->inside_diameter_m / 2 + gutter->straight_m;
}

/* Area and first moment of a unit circle's segment, as they stand. */
struct segment {
    double area;   /* phi - sin phi cos phi */
    double moment; /* sin phi (2 + cos^2 phi) / 3 - phi cos phi */
};

static struct segment find_segment_closed(double phi_rad, double sine, double cosine) {
    return (struct segment){phi_rad - sine * cosine,
                            sine * (2 + cosine * cosine) / 3 - phi_rad * cosine};
}

/*
 * The same from their power series: area = 1/2 sum -+ (2 phi)^(2k+1)/(2k+1)!, k >= 1;
 * moment = sum +- phi^(2k+1) [(9 + 3^(2k+1)) / (12 (2k+1)!) - 1/(2k)!], k >= 2.
 */
static struct segment find_segment_series(double phi_rad) {
    struct segment sum = {0, 0};
    double power = phi_rad; /* (-1)^k phi^(2k+1) / (2k+1)! */
    double two = 2;         /* 2^(2k+1) */
    double three = 3;       /* 3^(2k+1) */
    for (int k = 1; k <= SERIES_TERMS; k++) {
        power *= -phi_rad * phi_rad / ((2 * k) * (2 * k + 1));
        two *= 4;
        three *= 9;
        sum.area -= power * two / 2;
        if (k >= 2) {
            double moment = power * ((9 + three) / 12 - (2 * k + 1));
            sum.moment += moment;
            if (fabs(moment) <= SERIES_SHARE * sum.moment) {
                break;
            }
        }
    }
    return sum;
}

struct section_wet section_find_wet(const struct section_gutter *gutter, double depth_m) {
    double r = gutter->inside_diameter_m / 2;
    assert(r > 0 && gutter->straight_m >= 0);
    assert(depth_m >= 0 && depth_m <= section_full_depth(gutter));
    if (depth_m > r) { /* above the half circle the sides are upright */
        double above = depth_m - r;
        return (struct section_wet){.area_m2 = PI * r * r / 2 + 2 * r * above,
                                    .perimeter_m = PI * r + 2 * above,
                                    .top_width_m = 2 * r,
                                    .moment_m3 = 2 * r * r * r / 3 + PI * r * r / 2 * above +
                                                 r * above * above};
    }
    /* asin keeps the digits of a small depth, where acos(1 - y/r) loses them */
    double phi_rad = 2 * asin(sqrt(depth_m / (2 * r)));
    double half_width_m = sqrt(depth_m * (2 * r - depth_m));
    struct segment segment = phi_rad < SERIES_BELOW_RAD
                                 ? find_segment_series(phi_rad)
                                 : find_segment_closed(phi_rad, half_width_m / r, 1 - depth_m / r);
    return (struct section_wet){.area_m2 = r * r * segment.area,
                                .perimeter_m = 2 * r * phi_rad,
                                .top_width_m = 2 * half_width_m,
                                .moment_m3 = r * r * r * segment.moment};
}

double section_outer_width(const struct section_gutter *gutter, double sheet_m) {
    /* The bead's own sheet is part of its diameter; without a bead one thickness stands there. */
    return sheet_m + gutter->inside_diameter_m + fmax(gutter->bead_diameter_m, sheet_m);
}

double section_girth(const struct section_gutter *gutter, double sheet_m) {
    double arc_m = PI * (gutter->inside_diameter_m + sheet_m) / 2;
    double bead_m = PI * fmax(gutter->bead_diameter_m - sheet_m, 0);
    /* h is all sheet at the back beyond the half circle, so it holds the rise when both are given
     */
    double back_m = fmax(gutter->back_rise_m, gutter->back_allowance_m);
    return arc_m + bead_m + 2 * gutter->straight_m + back_m;
}

double section_pipe_area(double diameter_m) {
    return PI * diameter_m * diameter_m / 4;
}
