/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Storms made from a table, as published: a reference output of the US Army Corps (SRC-142), whose
 * second block goes to the left, and an example whose second goes to the right (SRC-143).
 */
#include "handbook.h"

#include "rain/rain.h"

#include <math.h>

#define IN 0.0254

/* SRC-142: latitude 30.05, longitude -99.14; the depths of 10 years from 15 min up are not given */
static const char POINT[] =
    "Point precipitation frequency estimates (inches)\nData type: Precipitation depth\n"
    "PRECIPITATION FREQUENCY ESTIMATES\nby duration for ARI (years):, 10,100\n"
    "5-min:, 0.749,1.17\n10-min:, 1.20,1.88\n60-min:, 2.73,4.27\n";
static const char HUNDRED_YEARS[] =
    "Point precipitation frequency estimates (inches)\nData type: Precipitation depth\n"
    "PRECIPITATION FREQUENCY ESTIMATES\nby duration for ARI (years):, 100\n"
    "5-min:, 1.17\n10-min:, 1.88\n15-min:, 2.32\n30-min:, 3.20\n60-min:, 4.27\n2-hr:, 5.77\n"
    "3-hr:, 6.82\n6-hr:, 8.63\n12-hr:, 10.3\n24-hr:, 12.1\n";

static bool read_point_table(const char *text, struct rain_table *table) {
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    const bool read =
        rain_read_table(arena, &issues, base_text_of(text), RAIN_UNIT_FROM_FILE, table) == BASE_OK;
    base_free_arena(arena);
    return read;
}

/* in: minutes, minutes of a block, peak; all blocks, or NULL where there are none. */
static const double *find_storm(const double *in, size_t *count) {
    static double block_m[RAIN_BLOCKS_MAX];
    struct rain_table table;
    const struct rain_design design = {
        .period_years = 100, .duration_s = in[0] * 60, .block_s = in[1] * 60, .peak_1 = in[2]};
    *count = rain_count_blocks(&design);
    return read_point_table(HUNDRED_YEARS, &table) && rain_find_blocks(&table, &design, block_m)
               ? block_m
               : NULL;
}

/* in[3]: the block, from 1 */
static double find_block_in(const double *in) {
    size_t count = 0;
    const double *block_m = find_storm(in, &count);
    return block_m == NULL ? -1e300 : block_m[(size_t)in[3] - 1] / IN;
}

static double find_sum_in(const double *in) {
    size_t count = 0;
    const double *block_m = find_storm(in, &count);
    double sum_m = block_m == NULL ? -1e300 : 0;
    for (size_t i = 0; i < count; i++) {
        sum_m += block_m[i];
    }
    return sum_m / IN;
}

/* in: minutes, years */
static double find_point_inh(const double *in) {
    struct rain_table table;
    double intensity_mps = -1e300;
    if (read_point_table(POINT, &table)) {
        rain_find_intensity(&table, in[0] * 60, in[1], &intensity_mps);
    }
    return intensity_mps / IN * 3600;
}

/* i = 96.6/(t^0.97 + 13.90) in/h, t in minutes, in 10-minute blocks over 2 h. in: block, from 1 */
static double find_formula_block_in(const double *in) {
    enum { BLOCKS = 12 };
    double block_in[BLOCKS];
    double before_in = 0;
    for (int i = 0; i < BLOCKS; i++) {
        const double minutes = 10.0 * (i + 1);
        const double depth_in = 96.6 / (pow(minutes, 0.97) + 13.90) * minutes / 60;
        block_in[i] = depth_in - before_in;
        before_in = depth_in;
    }
    rain_arrange_blocks(block_in, BLOCKS, 0.5, RAIN_SIDE_RIGHT);
    return block_in[(int)in[0] - 1];
}

/* One row, one line: long lines are let be here. */
/* clang-format off */
static const struct handbook_row rows[] = {
    {"W-W32-37", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 37", {360, 5, 0.5, 37}, WITHIN(1.17, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-36", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 36", {360, 5, 0.5, 36}, WITHIN(0.71, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-38", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 38", {360, 5, 0.5, 38}, WITHIN(0.44, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-35", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 35", {360, 5, 0.5, 35}, WITHIN(0.331263844727, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-39", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 39", {360, 5, 0.5, 39}, WITHIN(0.289187982602, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-34", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 34", {360, 5, 0.5, 34}, WITHIN(0.259548172671, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-40", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 40", {360, 5, 0.5, 40}, WITHIN(0.212014224963, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-31", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 31", {360, 5, 0.5, 31}, WITHIN(0.151855037228, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-25", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 25", {360, 5, 0.5, 25}, WITHIN(0.105679502546, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-19", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 19", {360, 5, 0.5, 19}, WITHIN(0.0787616618149, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-18", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 18", {360, 5, 0.5, 18}, WITHIN(0.0626240417493, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-2", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 2", {360, 5, 0.5, 2}, WITHIN(0.0416650184777, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-1", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 1", {360, 5, 0.5, 1}, WITHIN(0.0408916155785, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-72", "balanced storm, block in", "6 h, 5 min, peak 50 %, block 72", {360, 5, 0.5, 72}, WITHIN(0.0412737629729, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W32-sum", "balanced storm, all blocks in", "6 h, 5 min", {360, 5, 0.5}, WITHIN(8.63, 1e-9), HANDBOOK_FOUND, "SRC-142", find_sum_in},
    {"W-W33-49", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 49", {1440, 15, 0.5, 49}, WITHIN(2.32, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-48", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 48", {1440, 15, 0.5, 48}, WITHIN(0.88, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-50", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 50", {1440, 15, 0.5, 50}, WITHIN(0.588199566666, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-47", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 47", {1440, 15, 0.5, 47}, WITHIN(0.481800433334, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-51", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 51", {1440, 15, 0.5, 51}, WITHIN(0.434563227513, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-36", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 36", {1440, 15, 0.5, 36}, WITHIN(0.0877257554103, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-25", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 25", {1440, 15, 0.5, 25}, WITHIN(0.055194309411, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-24", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 24", {1440, 15, 0.5, 24}, WITHIN(0.0486982961712, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-73", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 73", {1440, 15, 0.5, 73}, WITHIN(0.0494672886402, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-1", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 1", {1440, 15, 0.5, 1}, WITHIN(0.0294052013585, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-96", "balanced storm, block in", "24 h, 15 min, peak 50 %, block 96", {1440, 15, 0.5, 96}, WITHIN(0.0296437756135, 1e-9), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W33-sum", "balanced storm, all blocks in", "24 h, 15 min", {1440, 15, 0.5}, WITHIN(12.1, 1e-9), HANDBOOK_FOUND, "SRC-142", find_sum_in},
    {"W-W34a-25", "balanced storm, block in", "24 h, 15 min, peak 25 %, block 25", {1440, 15, 0.25, 25}, WITHIN(2.32, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34a-24", "balanced storm, block in", "24 h, 15 min, peak 25 %, block 24", {1440, 15, 0.25, 24}, WITHIN(0.88, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34a-26", "balanced storm, block in", "24 h, 15 min, peak 25 %, block 26", {1440, 15, 0.25, 26}, WITHIN(0.588199566666, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34a-1", "balanced storm, block in", "24 h, 15 min, peak 25 %, block 1", {1440, 15, 0.25, 1}, WITHIN(0.055194309411, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34a-48", "balanced storm, block in", "24 h, 15 min, peak 25 %, block 48", {1440, 15, 0.25, 48}, WITHIN(0.0560760079175, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34a-49", "balanced storm, block in", "24 h, 15 min, peak 25 %, block 49", {1440, 15, 0.25, 49}, WITHIN(0.0494672886402, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34a-50", "balanced storm, block in", "24 h, 15 min, peak 25 %, block 50", {1440, 15, 0.25, 50}, WITHIN(0.0486982961712, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34a-96", "balanced storm, block in", "24 h, 15 min, peak 25 %, block 96", {1440, 15, 0.25, 96}, WITHIN(0.0294052013585, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34b-32", "balanced storm, block in", "24 h, 15 min, peak 33 %, block 32", {1440, 15, 0.33, 32}, WITHIN(2.32, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34b-31", "balanced storm, block in", "24 h, 15 min, peak 33 %, block 31", {1440, 15, 0.33, 31}, WITHIN(0.88, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34b-1", "balanced storm, block in", "24 h, 15 min, peak 33 %, block 1", {1440, 15, 0.33, 1}, WITHIN(0.0412235258052, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34b-7", "balanced storm, block in", "24 h, 15 min, peak 33 %, block 7", {1440, 15, 0.33, 7}, WITHIN(0.0486982961712, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W34b-56", "balanced storm, block in", "24 h, 15 min, peak 33 %, block 56", {1440, 15, 0.33, 56}, WITHIN(0.0494672886402, 1e-6), HANDBOOK_FOUND, "SRC-142", find_block_in},
    {"W-W35-10", "point table, in/h", "5 min, 10 yr", {5, 10}, WITHIN(8.988, 1e-9), HANDBOOK_FOUND, "SRC-142", find_point_inh},
    {"W-W35-100", "point table, in/h", "5 min, 100 yr", {5, 100}, WITHIN(14.04, 1e-9), HANDBOOK_FOUND, "SRC-142", find_point_inh},
    {"W-W36-1", "alternating block, in", "2 h, 10 min, second on the right, block 1", {1}, WITHIN(0.024, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-2", "alternating block, in", "2 h, 10 min, second on the right, block 2", {2}, WITHIN(0.033, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-3", "alternating block, in", "2 h, 10 min, second on the right, block 3", {3}, WITHIN(0.050, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-4", "alternating block, in", "2 h, 10 min, second on the right, block 4", {4}, WITHIN(0.084, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-5", "alternating block, in", "2 h, 10 min, second on the right, block 5", {5}, WITHIN(0.178, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-6", "alternating block, in", "2 h, 10 min, second on the right, block 6", {6}, WITHIN(0.693, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-7", "alternating block, in", "2 h, 10 min, second on the right, block 7", {7}, WITHIN(0.308, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-8", "alternating block, in", "2 h, 10 min, second on the right, block 8", {8}, WITHIN(0.117, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-9", "alternating block, in", "2 h, 10 min, second on the right, block 9", {9}, WITHIN(0.063, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-10", "alternating block, in", "2 h, 10 min, second on the right, block 10", {10}, WITHIN(0.040, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-11", "alternating block, in", "2 h, 10 min, second on the right, block 11", {11}, WITHIN(0.028, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
    {"W-W36-12", "alternating block, in", "2 h, 10 min, second on the right, block 12", {12}, WITHIN(0.021, 0.001), HANDBOOK_MEMORY, "SRC-143", find_formula_block_in},
};
/* clang-format on */

const struct handbook_book handbook_storm = {"storm", rows, sizeof rows / sizeof rows[0]};
