/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rain as the weather services print it. A few printed rows are put into the layout of their file,
 * read by the program, and asked for what is printed elsewhere: the other unit, the other table,
 * the years between.
 */
#include "handbook.h"

#include "rain/rain.h"

static const char US_RATES[] = /* SRC-47: latitude 39.0, longitude -105.0 */
    "Point precipitation frequency estimates (inches/hour)\nData type: Precipitation intensity\n"
    "PRECIPITATION FREQUENCY ESTIMATES\nby duration for ARI (years):, 1,2,5,10,25,50,100\n"
    "5-min:, 2.87,3.48,4.56,5.52,6.92,8.09,9.31\n10-min:, 2.10,2.55,3.34,4.04,5.07,5.92,6.82\n";
static const char FORT_MYERS[] = /* SRC-47: latitude 26.6, longitude -81.9 */
    "Point precipitation frequency estimates (inches)\nData type: Precipitation depth\n"
    "PRECIPITATION FREQUENCY ESTIMATES\nby duration for ARI (years):, 1,10,100\n"
    "5-min:, 0.553,0.822,1.15\n60-min:, 2.14,3.13,4.38\n";
static const char NASHVILLE[] = /* SRC-47 */
    "Point precipitation frequency estimates (inches)\nData type: Precipitation depth\n"
    "PRECIPITATION FREQUENCY ESTIMATES\nby duration for ARI (years):, 1,10,100\n"
    "5-min:, 0.381,0.568,0.736\n60-min:, 1.30,2.17,3.12\n";
static const char SHOAL_CREEK[] = /* SRC-47: the depths; the intensities are the expected values */
    "Storm, 1,2,5,10,25,50,100\n5-min:, 0.431,0.524,0.668,0.795,0.977,1.12,1.28\n"
    "10-min:, 0.684,0.833,1.06,1.27,1.56,1.80,2.06\n"
    "30-min:, 1.24,1.49,1.89,2.24,2.74,3.13,3.56\n";
static const char CHARLOTTETOWN[] = /* SRC-48: the rates of 5 min and 1 h */
    "Table 2a (mm)\nDuration 2 5 10 25 50 100 #Years\n5 min 5.1 7.4 8.9 10.8 12.3 13.7 31\n"
    "1 h 18.7 24.6 28.4 33.3 36.9 40.5 31\n\nTable 2b (mm/h)\nDuration 2 5 10 25 50 100 #Years\n"
    "5 min 60.8 88.5 106.9 130.2 147.4 164.6 31\n1 h 18.7 24.6 28.4 33.3 36.9 40.5 31\n";
static const char GRAZ_ENDS[] = /* SRC-49: the first and the last column only */
    "return period (a),1,100\nfrequency (1/a),1.0,0.01\nduration (min),,\n5,8.61,26.32\n"
    "10,14.17,36.97\n60,30.60,74.46\n1440,54.86,123.85\n";

/* Intensity in m/s at in[0] minutes and in[1] years; far below 0 when there is none. */
static double find_mps(const char *text, enum rain_unit unit, const double *in) {
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    struct rain_table table;
    double intensity_mps = -1e300;
    if (rain_read_table(arena, &issues, base_text_of(text), unit, &table) == BASE_OK) {
        rain_find_intensity(&table, in[0] * 60, in[1], &intensity_mps);
    }
    base_free_arena(arena);
    return intensity_mps;
}

static double us_inh(const double *in) {
    return find_mps(US_RATES, RAIN_UNIT_FROM_FILE, in) * 3600 / 0.0254;
}

static double us_mmh(const double *in) {
    return find_mps(US_RATES, RAIN_UNIT_FROM_FILE, in) * 3.6e6;
}

static double fort_myers_inh(const double *in) {
    return find_mps(FORT_MYERS, RAIN_UNIT_FROM_FILE, in) * 3600 / 0.0254;
}

static double nashville_inh(const double *in) {
    return find_mps(NASHVILLE, RAIN_UNIT_FROM_FILE, in) * 3600 / 0.0254;
}

static double nashville_mmh(const double *in) {
    return find_mps(NASHVILLE, RAIN_UNIT_FROM_FILE, in) * 3.6e6;
}

static double shoal_creek_inh(const double *in) {
    return find_mps(SHOAL_CREEK, RAIN_UNIT_DEPTH_IN, in) * 3600 / 0.0254;
}

static double charlottetown_mm(const double *in) {
    return find_mps(CHARLOTTETOWN, RAIN_UNIT_FROM_FILE, in) * in[0] * 60 * 1000;
}

static double graz_mm(const double *in) {
    return find_mps(GRAZ_ENDS, RAIN_UNIT_FROM_FILE, in) * in[0] * 60 * 1000;
}

#define FOUND        HANDBOOK_FOUND
#define DERIVED      HANDBOOK_DERIVED
#define FILE_ROUND   0.0049 /* three printed figures on both sides: DERIVED */
#define AMOUNT_ROUND 0.0543 /* 0.05 of the amount and 0.05/12 of the rate */
#define END_ROUND    0.0095 /* two ends printed to 0.01 mm */

static const struct handbook_row rows[] = {
    {"R-45a", "39 N 105 W, in/h", "5 min, 10 yr", {5, 10}, EXACT(5.52), FOUND, "SRC-47", us_inh},
    {"R-45b", "39 N 105 W, in/h", "5 min, 100 yr", {5, 100}, EXACT(9.31), FOUND, "SRC-47", us_inh},
    {"R-46a", "39 N 105 W, mm/h", "5 min, 10 yr", {5, 10}, WITHIN(140, 1), FOUND, "SRC-47", us_mmh},
    {"R-46b",
     "39 N 105 W, mm/h",
     "5 min, 100 yr",
     {5, 100},
     WITHIN(237, 1),
     FOUND,
     "SRC-47",
     us_mmh},
    {"R-47a",
     "Fort Myers, in/h",
     "5 min, 10 yr",
     {5, 10},
     EXACT(9.864),
     DERIVED,
     "SRC-47",
     fort_myers_inh},
    {"R-47b",
     "Fort Myers, in/h",
     "5 min, 100 yr",
     {5, 100},
     EXACT(13.8),
     DERIVED,
     "SRC-47",
     fort_myers_inh},
    {"R-47c",
     "Fort Myers, in/h",
     "60 min, 100 yr",
     {60, 100},
     EXACT(4.38),
     FOUND,
     "SRC-47",
     fort_myers_inh},
    {"R-51a",
     "Nashville, in/h",
     "5 min, 10 yr",
     {5, 10},
     EXACT(6.816),
     DERIVED,
     "SRC-47",
     nashville_inh},
    {"R-51b",
     "Nashville, mm/h",
     "5 min, 10 yr",
     {5, 10},
     WITHIN(173.1, 0.05),
     DERIVED,
     "SRC-47",
     nashville_mmh},
    {"R-51c",
     "Nashville, in/h",
     "5 min, 100 yr",
     {5, 100},
     EXACT(8.832),
     DERIVED,
     "SRC-47",
     nashville_inh},
    {"R-57a",
     "Shoal Creek, in/h",
     "5 min, 10 yr",
     {5, 10},
     WITHIN_SHARE(9.54, FILE_ROUND),
     FOUND,
     "SRC-47",
     shoal_creek_inh},
    {"R-57b",
     "Shoal Creek, in/h",
     "5 min, 100 yr",
     {5, 100},
     WITHIN_SHARE(15.4, FILE_ROUND),
     FOUND,
     "SRC-47",
     shoal_creek_inh},
    {"R-57c",
     "Shoal Creek, in/h",
     "10 min, 25 yr",
     {10, 25},
     WITHIN_SHARE(9.36, FILE_ROUND),
     FOUND,
     "SRC-47",
     shoal_creek_inh},
    {"R-57d",
     "Shoal Creek, in/h",
     "30 min, 2 yr",
     {30, 2},
     WITHIN_SHARE(2.98, FILE_ROUND),
     FOUND,
     "SRC-47",
     shoal_creek_inh},
    {"R-58a",
     "Charlottetown, mm",
     "5 min, 2 yr",
     {5, 2},
     WITHIN(5.1, AMOUNT_ROUND),
     FOUND,
     "SRC-48",
     charlottetown_mm},
    {"R-58b",
     "Charlottetown, mm",
     "5 min, 10 yr",
     {5, 10},
     WITHIN(8.9, AMOUNT_ROUND),
     FOUND,
     "SRC-48",
     charlottetown_mm},
    {"R-58c",
     "Charlottetown, mm",
     "5 min, 100 yr",
     {5, 100},
     WITHIN(13.7, AMOUNT_ROUND),
     FOUND,
     "SRC-48",
     charlottetown_mm},
    {"R-60a",
     "Graz from its ends, mm",
     "5 min, 2 yr",
     {5, 2},
     WITHIN(11.28, END_ROUND),
     FOUND,
     "SRC-49",
     graz_mm},
    {"R-60b",
     "Graz from its ends, mm",
     "5 min, 5 yr",
     {5, 5},
     WITHIN(14.80, END_ROUND),
     FOUND,
     "SRC-49",
     graz_mm},
    {"R-60c",
     "Graz from its ends, mm",
     "5 min, 10 yr",
     {5, 10},
     WITHIN(17.47, END_ROUND),
     FOUND,
     "SRC-49",
     graz_mm},
    {"R-60d",
     "Graz from its ends, mm",
     "10 min, 30 yr",
     {10, 30},
     WITHIN(31.01, END_ROUND),
     FOUND,
     "SRC-49",
     graz_mm},
    {"R-60e",
     "Graz from its ends, mm",
     "60 min, 50 yr",
     {60, 50},
     WITHIN(67.85, END_ROUND),
     FOUND,
     "SRC-49",
     graz_mm},
    {"R-60f",
     "Graz from its ends, mm",
     "24 h, 20 yr",
     {1440, 20},
     WITHIN(99.74, END_ROUND),
     FOUND,
     "SRC-49",
     graz_mm},
};

const struct handbook_book handbook_rain = {"rain", rows, sizeof rows / sizeof rows[0]};
