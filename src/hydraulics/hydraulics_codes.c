/* SPDX-License-Identifier: Apache-2.0 */
/* The codes beside the physics: US plumbing table, EN 12056-3, factors on the roof's area. */
#include "hydraulics/hydraulics.h"
#include "hydraulics/hydraulics_inside.h"

#include <assert.h>
#include <math.h>

/* ---- US plumbing table, semicircular gutters, ft2 at 1 in/h: SRC-04, MEMORY -------------------
 */

enum { US_ROWS = 7, US_COLUMNS = 4 };
static const int US_NOMINAL_IN[US_ROWS] = {3, 4, 5, 6, 7, 8, 10};
/* columns: 1/16, 1/8, 1/4, 1/2 in per ft */
static const double US_SLOPE_1[US_COLUMNS] = {1.0 / 192, 1.0 / 96, 1.0 / 48, 1.0 / 24};
static const double US_AREA_FT2[US_ROWS][US_COLUMNS] = {
    {680, 960, 1360, 1920},      {1440, 2040, 2880, 4080},   {2500, 3520, 5000, 7080},
    {3840, 5440, 7680, 11080},   {5520, 7800, 11040, 15600}, {7960, 11200, 15920, 22400},
    {14400, 20400, 28800, 40000}};

/* A size this near to a nominal inch is that inch; a slope this near below a column is that column.
 */
static const double NOMINAL_BAND_M = 0.0005;
static const double SLOPE_BAND_1 = 1e-6;

bool hydraulics_us_table_area(int nominal_in, int column, double *area_ft2) {
    if (column < 0 || column >= US_COLUMNS) {
        return false;
    }
    for (int row = 0; row < US_ROWS; row++) {
        if (US_NOMINAL_IN[row] == nominal_in) {
            *area_ft2 = US_AREA_FT2[row][column];
            return true;
        }
    }
    return false;
}

bool hydraulics_us_table_flow(double nominal_diameter_m, double slope_1, double *flow_m3s) {
    double nominal_in = floor(nominal_diameter_m / HYDRAULICS_INCH_M + 0.5);
    if (!(nominal_in >= 1 && nominal_in <= 100) ||
        fabs(nominal_diameter_m - nominal_in * HYDRAULICS_INCH_M) > NOMINAL_BAND_M) {
        return false;
    }
    int column = 0; /* level counts as the flattest column */
    while (column + 1 < US_COLUMNS && slope_1 >= US_SLOPE_1[column + 1] - SLOPE_BAND_1) {
        column++;
    }
    double area_ft2 = 0;
    if (!hydraulics_us_table_area((int)nominal_in, column, &area_ft2)) {
        return false;
    }
    *flow_m3s = area_ft2 * HYDRAULICS_FT2_INH_M3S;
    return true;
}

/* ---- EN 12056-3 --------------------------------------------------------------------------------
 */

struct point {
    double x;
    double y;
};

/* Linear between points, held at the ends. */
static double interpolate(const struct point *points, int count, double x) {
    if (x <= points[0].x) {
        return points[0].y;
    }
    for (int i = 1; i < count; i++) {
        if (x <= points[i].x) {
            double share = (x - points[i - 1].x) / (points[i].x - points[i - 1].x);
            return points[i - 1].y + share * (points[i].y - points[i - 1].y);
        }
    }
    return points[count - 1].y;
}

/* F_L, nominally level. 50, 100, 150, 200 FOUND (SRC-03); the rest MEMORY (SRC-05). */
static const struct point LEVEL_FACTOR[] = {
    {50, 1.00},  {75, 0.97},  {100, 0.93}, {125, 0.90}, {150, 0.86}, {175, 0.83}, {200, 0.80},
    {225, 0.78}, {250, 0.77}, {275, 0.75}, {300, 0.73}, {325, 0.72}, {350, 0.70}, {375, 0.68},
    {400, 0.67}, {425, 0.65}, {450, 0.63}, {475, 0.62}, {500, 0.60}};
enum { LEVEL_ROWS = sizeof LEVEL_FACTOR / sizeof LEVEL_FACTOR[0] };

/* F_L with fall, at L/W 50, 100 and 200 and beyond: MEMORY, less sure (SRC-05). */
enum { FALL_COLUMNS = 4, FALL_ROWS = 3 };
static const double FALL_1[FALL_COLUMNS] = {0.004, 0.006, 0.008, 0.010};
static const struct point FALL_FACTOR[FALL_COLUMNS][FALL_ROWS] = {
    {{50, 1.0}, {100, 1.03}, {200, 1.10}},
    {{50, 1.0}, {100, 1.08}, {200, 1.25}},
    {{50, 1.0}, {100, 1.13}, {200, 1.40}},
    {{50, 1.0}, {100, 1.18}, {200, 1.55}}};
static const double LEVEL_TO_1 = 0.003; /* "nominally level": SRC-02, FOUND */

double hydraulics_en_length_factor(double length_over_depth_1, double slope_1) {
    double level = interpolate(LEVEL_FACTOR, LEVEL_ROWS, length_over_depth_1);
    if (slope_1 <= LEVEL_TO_1) {
        return level;
    }
    /* in the slope: from the level column at 3 mm/m through the remembered columns, then held */
    struct point across[1 + FALL_COLUMNS] = {{LEVEL_TO_1, level}};
    for (int column = 0; column < FALL_COLUMNS; column++) {
        across[column + 1] = (struct point){
            FALL_1[column], interpolate(FALL_FACTOR[column], FALL_ROWS, length_over_depth_1)};
    }
    return interpolate(across, 1 + FALL_COLUMNS, slope_1);
}

double hydraulics_en_nominal_flow(const struct section_gutter *section) { /* SRC-02 */
    double area_m2 = section_find_wet(section, section_full_depth(section)).area_m2;
    return 2.78e-5 * pow(area_m2 * 1e6, 1.25) * 1e-3;
}

double hydraulics_en_flow(const struct hydraulics_en_input *input) {
    assert(input->length_m >= 0 && input->slope_1 >= 0);
    static const double design_1 = 0.9; /* SRC-02: Q_L = 0.9 Q_N */
    static const double bend_1 = 0.85;  /* SRC-03 (the 10 deg MEMORY) */
    double length_over_depth_1 = input->length_m / section_full_depth(&input->section);
    return design_1 * hydraulics_en_nominal_flow(&input->section) *
           hydraulics_en_length_factor(length_over_depth_1, input->slope_1) *
           (input->has_bend ? bend_1 : 1);
}

/* ---- factors on plan area ----------------------------------------------------------------------
 */

double hydraulics_en_wind_factor(double pitch_1) { /* SRC-10 */
    assert(pitch_1 >= 0);
    return 1 + pitch_1 / 2;
}

double hydraulics_wind_area(double plan_area_m2, double facing_area_m2,
                            double sheltered_area_m2) { /* SRC-10 */
    assert(plan_area_m2 >= 0 && facing_area_m2 >= 0 && sheltered_area_m2 >= 0);
    double shown_m2 = facing_area_m2 - sheltered_area_m2;
    return plan_area_m2 + (shown_m2 > 0 ? shown_m2 / 2 : 0);
}

double hydraulics_pitch_factor(double pitch_1) { /* SRC-11 */
    assert(pitch_1 >= 0);
    /* Bands are named in whole inches of rise a foot: a pitch that came through an angle must not
     * jump a band for its last digit, so it is taken to a tenth of an inch first. */
    double rise_in = floor(pitch_1 * 120 + 0.5) / 10;
    static const struct {
        double to_in; /* highest rise in 12 of the band */
        double factor_1;
    } bands[] = {{3, 1.00}, {5, 1.05}, {8, 1.10}, {11, 1.20}};
    for (int i = 0; i < 4; i++) {
        if (rise_in <= bands[i].to_in) {
            return bands[i].factor_1;
        }
    }
    return 1.30;
}
