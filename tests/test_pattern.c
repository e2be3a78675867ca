/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Patterns folded back: a blank bent to its profile must lie in the mitre's plane and meet its
 * other leg there. Plane and cylinder are those of the solid, not of the formulas that laid it
 * flat.
 */
#include "check.h"
#include "pattern/pattern.h"

#include <math.h>

#define INCH_M 0.0254
#define DEGREE 0.017453292519943295

static const double PI = 3.14159265358979323846;

enum { MITRES = 2000 };

static uint64_t draw_bits(uint64_t *seed) {
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return *seed >> 33;
}

static double draw(uint64_t *seed, double low, double high) {
    return low + (high - low) * (double)draw_bits(seed) / 2147483648.0;
}

static struct pattern_mitre make_mitre(uint64_t *seed) {
    struct pattern_mitre mitre = {
        .section = {.inside_diameter_m = draw(seed, 0.09, 0.21),
                    .straight_m = draw_bits(seed) % 2 == 0 ? 0 : draw(seed, 0.002, 0.012),
                    .bead_diameter_m = draw(seed, 0.008, 0.02),
                    .back_rise_m = draw(seed, 0, 0.02)},
        .sheet_m = draw(seed, 4e-4, 9e-4),
        .inside = draw_bits(seed) % 2 == 0,
        .corner_rad = draw(seed, 50, 165) * DEGREE,
        .leg_m = draw(seed, 0.25, 0.4)};
    return mitre;
}

/* ---- the profile ---------------------------------------------------------------------------- */

static void the_flat_is_as_wide_as_the_girth(void **state) {
    (void)state;
    uint64_t seed = 11;
    for (int i = 0; i < 200; i++) {
        struct pattern_mitre mitre = make_mitre(&seed);
        struct pattern_station stations[PATTERN_STATIONS_MAX];
        size_t count = pattern_list_stations(&mitre.section, mitre.sheet_m, stations);
        check_near(stations[count - 1].girth_m, section_girth(&mitre.section, mitre.sheet_m),
                   1e-12);
        for (size_t k = 1; k < count; k++) {
            double girth_m = stations[k].girth_m - stations[k - 1].girth_m;
            double chord_m = hypot(stations[k].across_m - stations[k - 1].across_m,
                                   stations[k].up_m - stations[k - 1].up_m);
            /* no chord is longer than its girth; on the half circle it is nearly as long */
            assert_true(girth_m > 0 && chord_m <= girth_m * (1 + 1e-9));
            if (stations[k].place != PATTERN_BEAD) {
                assert_true(chord_m > girth_m * 0.998);
            }
        }
    }
}

/* ---- mitres folded back -----------------------------------------------------------------------
 */

/* Level legs: the mitre's plane is upright and halves the corner; both profiles meet in it. */
static void level_mitres_meet_in_the_plane_that_halves_the_corner(void **state) {
    (void)state;
    uint64_t seed = 12;
    double worst_m = 0;
    for (int i = 0; i < MITRES; i++) {
        struct pattern_mitre mitre = make_mitre(&seed);
        struct pattern_mitre_found found = pattern_find_mitre(&mitre);
        double half_rad = (PI - mitre.corner_rad) / 2;
        worst_m = fmax(worst_m, found.miss_m);
        for (size_t k = 0; k < found.legs[0].count; k++) {
            const struct pattern_ordinate *at = &found.legs[0].ordinates[k];
            /* the blank bent: its length runs along x from the square end */
            double back_m = (mitre.inside ? 1 : -1) * found.legs[0].ordinates[0].station.across_m *
                            tan(half_rad) * -1;
            double x_m = at->length_m - mitre.leg_m + back_m;
            double y_m = (mitre.inside ? 1 : -1) * at->station.across_m;
            /* in the plane: x cos(half) + y sin(half) = 0 */
            check_near(x_m * cos(half_rad) + y_m * sin(half_rad), 0, 1e-12);
            check_near(found.legs[1].ordinates[k].length_m, at->length_m, 1e-12);
        }
    }
    assert_true(worst_m < 1e-12);
}

/* With fall the plane leans; both legs' points still lie in one plane through the corner, and rims
 * that cannot meet are told by how much. */
static void falling_mitres_lie_in_one_plane(void **state) {
    (void)state;
    uint64_t seed = 13;
    for (int i = 0; i < MITRES; i++) {
        struct pattern_mitre mitre = make_mitre(&seed);
        bool through = draw_bits(&seed) % 2 == 0;
        mitre.fall_1[0] = draw(&seed, 0, 0.02);
        mitre.fall_1[1] = through ? -mitre.fall_1[0] : mitre.fall_1[0];
        struct pattern_mitre_found found = pattern_find_mitre(&mitre);
        double a[3][3];
        size_t count = found.legs[0].count;
        const size_t picks[3] = {0, count / 2, count - 1};
        for (int k = 0; k < 3; k++) {
            pattern_fold_mitre(&mitre, 0, &found.legs[0].ordinates[picks[k]].station, a[k]);
        }
        double u[3];
        double v[3];
        for (int d = 0; d < 3; d++) {
            u[d] = a[1][d] - a[0][d];
            v[d] = a[2][d] - a[0][d];
        }
        double n[3] = {u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2],
                       u[0] * v[1] - u[1] * v[0]};
        double size = sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
        for (int leg = 0; leg < PATTERN_LEGS; leg++) {
            for (size_t k = 0; k < count; k++) {
                double p[3];
                pattern_fold_mitre(&mitre, leg, &found.legs[leg].ordinates[k].station, p);
                double off_m =
                    ((p[0] - a[0][0]) * n[0] + (p[1] - a[0][1]) * n[1] + (p[2] - a[0][2]) * n[2]) /
                    size;
                check_near(off_m, 0, 1e-9);
            }
        }
        if (!through) {
            assert_true(found.miss_m < 1e-12);
        } else {
            assert_true(found.miss_m <= 3 * mitre.fall_1[0] * mitre.section.inside_diameter_m *
                                                tan((PI - mitre.corner_rad) / 2) +
                                            1e-9);
        }
    }
}

/* What is printed as the error of straight lines between marks is never less than it is. */
static void straight_lines_between_marks_err_by_no_more_than_said(void **state) {
    (void)state;
    uint64_t seed = 14;
    for (int i = 0; i < 300; i++) {
        struct pattern_mitre mitre = make_mitre(&seed);
        struct pattern_mitre_found found = pattern_find_mitre(&mitre);
        double radius_m = (mitre.section.inside_diameter_m + mitre.sheet_m) / 2;
        double half_rad = (PI - mitre.corner_rad) / 2;
        double side = mitre.inside ? -1 : 1;
        double worst_m = 0;
        for (int k = 0; k < PATTERN_ARC_STEPS; k++) {
            double from_rad = PI * k / PATTERN_ARC_STEPS;
            double to_rad = PI * (k + 1) / PATTERN_ARC_STEPS;
            for (double share = 0.1; share < 1; share += 0.1) {
                double at_rad = from_rad + (to_rad - from_rad) * share;
                double line_m = -radius_m * (cos(from_rad) * (1 - share) + cos(to_rad) * share);
                double true_m = -radius_m * cos(at_rad);
                worst_m = fmax(worst_m, fabs(side * (line_m - true_m) * tan(half_rad)));
            }
        }
        assert_true(worst_m <= found.chord_m + 1e-12);
        assert_true(worst_m > found.chord_m * 0.8);
    }
}

static void an_outside_corner_is_longer_in_front_and_an_inside_one_behind(void **state) {
    (void)state;
    struct pattern_mitre mitre = {.section = {.inside_diameter_m = 5 * INCH_M,
                                              .bead_diameter_m = 0.625 * INCH_M,
                                              .back_rise_m = 0.5 * INCH_M},
                                  .sheet_m = 0.0216 * INCH_M,
                                  .corner_rad = PI / 2,
                                  .leg_m = 12 * INCH_M};
    for (int inside = 0; inside < 2; inside++) {
        mitre.inside = inside == 1;
        struct pattern_mitre_found found = pattern_find_mitre(&mitre);
        const struct pattern_leg *leg = &found.legs[0];
        check_near(leg->ordinates[0].length_m / INCH_M, 12, 1e-9);
        for (size_t k = 0; k < leg->count; k++) {
            const struct pattern_ordinate *at = &leg->ordinates[k];
            if (at->station.place == PATTERN_LIP) {
                /* a square corner: as much longer or shorter as the gutter is wide, to the sheet's
                   middle: 5.0216 in. DERIVED */
                double over_in = inside ? -5.0216 : 5.0216;
                check_near(at->length_m / INCH_M, 12 + over_in, 1e-9);
            }
        }
    }
}

/* ---- tubes ------------------------------------------------------------------------------------
 */

static void a_hole_folded_back_is_the_tube(void **state) {
    (void)state;
    for (int deg = 0; deg < 360; deg += 5) {
        double gutter_m = 0.0762;
        double tube_m = 0.0381;
        struct pattern_hole_point point = pattern_find_hole(gutter_m, tube_m, deg * DEGREE);
        double out_m = gutter_m * sin(point.across_m / gutter_m);
        double up_m = gutter_m * (1 - cos(point.across_m / gutter_m));
        check_near(hypot(out_m, point.along_m), tube_m, 1e-15);
        check_near(up_m, point.rise_m, 1e-15);
    }
}

static void two_halves_of_a_gore_make_the_elbows_angle(void **state) {
    (void)state;
    /* heel and throat of one cut lie 2 r apart and differ by 2 r tan(alpha): DERIVED */
    for (int pieces = 2; pieces < 8; pieces++) {
        double alpha_rad = pattern_gore_angle(PI / 2, pieces);
        double heel = pattern_gore(1.5, 4.5, alpha_rad, PI);
        double throat = pattern_gore(1.5, 4.5, alpha_rad, 0);
        check_near(atan((heel - throat) / 3.0) * 2 * (pieces - 1), PI / 2, 1e-12);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_flat_is_as_wide_as_the_girth),
        cmocka_unit_test(level_mitres_meet_in_the_plane_that_halves_the_corner),
        cmocka_unit_test(falling_mitres_lie_in_one_plane),
        cmocka_unit_test(straight_lines_between_marks_err_by_no_more_than_said),
        cmocka_unit_test(an_outside_corner_is_longer_in_front_and_an_inside_one_behind),
        cmocka_unit_test(a_hole_folded_back_is_the_tube),
        cmocka_unit_test(two_halves_of_a_gore_make_the_elbows_angle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
