/* SPDX-License-Identifier: Apache-2.0 */
/* Survey adjustments that were published with their numbers: traverses by the compass rule, level
 * nets, data snooping. The trilateration is in
 * test_measure_handbook.c. */
#include "handbook.h"

#include <math.h>

#include "numeric/numeric.h"

#define DMS(d, m, s) (3600.0 * (d) + 60.0 * (m) + (s))

enum { POINTS_MAX = 8, ROWS_MAX = 8, WORK_MAX = 200 };

/* A linear problem and its answer. */
struct problem {
    size_t rows;
    size_t columns;
    double design[ROWS_MAX * POINTS_MAX];
    double observed[ROWS_MAX];
    double solution[POINTS_MAX];
    double residuals[ROWS_MAX];
    double redundancy[ROWS_MAX];
    double cofactor[POINTS_MAX * POINTS_MAX];
    size_t rank;
    double chi;
    double s0;
};

static void solve(struct problem *problem) {
    double work[WORK_MAX];
    struct numeric_fit fit = {.rows = problem->rows,
                              .columns = problem->columns,
                              .design = problem->design,
                              .observed = problem->observed,
                              .work = work,
                              .solution = problem->solution,
                              .residuals = problem->residuals,
                              .redundancy = problem->redundancy,
                              .solution_cofactor = problem->cofactor};
    numeric_fit_least_squares(&fit);
    problem->rank = fit.rank;
    problem->chi = 0.0;
    for (size_t i = 0; i < problem->rows; i++) {
        problem->chi += problem->residuals[i] * problem->residuals[i];
    }
    problem->s0 = sqrt(problem->chi / (double)(problem->rows - problem->rank));
}

static double *entry(struct problem *problem, size_t row, size_t column) {
    return &problem->design[row * problem->columns + column];
}

/* ---- traverses ----------------------------------------------------------------------------- */

struct course {
    double azimuth_s; /* seconds of arc */
    double length;
};
struct traverse {
    int count;
    struct course courses[6];
};
static const struct traverse TRAVERSES[] = {{4,
                                             {{DMS(226, 54, 23), 639.15},
                                              {0, 523.69},
                                              {DMS(235, 2, 29), 409.54},
                                              {DMS(79, 35, 2), 815.93}}},
                                            {6,
                                             {{DMS(5, 30, 0), 495.85},
                                              {DMS(46, 2, 0), 850.62},
                                              {DMS(180 - 67, -38, 0), 855.45},
                                              {DMS(180 - 12, -25, 0), 1020.87},
                                              {DMS(180 + 83, 44, 0), 1117.26},
                                              {DMS(360 - 55, -9, 0), 660.08}}},
                                            {4,
                                             {{DMS(76, 0, 0), 80.40},
                                              {DMS(180 - 36, 0, 0), 46.30},
                                              {DMS(180 + 61, 0, 0), 72.80},
                                              {DMS(360 - 38, 0, 0), 68.00}}}};

static const struct traverse *traverse_of(const double *in) {
    return &TRAVERSES[(int)in[0]];
}

static double radians(double seconds) {
    return seconds / 3600 * 3.14159265358979323846 / 180;
}

static double part_of(const struct course *course, bool north) {
    double azimuth = radians(course->azimuth_s);
    return course->length * (north ? cos(azimuth) : sin(azimuth));
}

static double sum_of(const struct traverse *traverse, bool north) {
    double sum = 0.0;
    for (int i = 0; i < traverse->count; i++) {
        sum += part_of(&traverse->courses[i], north);
    }
    return sum;
}

/* The compass rule is least squares with variances in proportion to the lengths and one condition:
 * the parts sum to nothing. The last course is what the others leave. */
static double adjust_part(const struct traverse *traverse, int course, bool north) {
    struct problem problem = {.rows = (size_t)traverse->count,
                              .columns = (size_t)traverse->count - 1};
    for (size_t i = 0; i < problem.rows; i++) {
        double sigma = sqrt(traverse->courses[i].length);
        problem.observed[i] = part_of(&traverse->courses[i], north) / sigma;
        for (size_t j = 0; j < problem.columns; j++) {
            double share = i == problem.columns ? -1.0 : (i == j ? 1.0 : 0.0);
            *entry(&problem, i, j) = share / sigma;
        }
    }
    solve(&problem);
    double sigma = sqrt(traverse->courses[course].length);
    return (problem.observed[course] + problem.residuals[course]) * sigma;
}

static double sum_of_lengths(const double *in) {
    double sum = 0.0;
    for (int i = 0; i < traverse_of(in)->count; i++) {
        sum += traverse_of(in)->courses[i].length;
    }
    return sum;
}

static double miss_lat(const double *in) {
    return sum_of(traverse_of(in), true);
}

static double miss_dep(const double *in) {
    return sum_of(traverse_of(in), false);
}

static double miss(const double *in) {
    return hypot(miss_lat(in), miss_dep(in));
}

static double adjusted_lat(const double *in) {
    return adjust_part(traverse_of(in), (int)in[1], true);
}

static double adjusted_dep(const double *in) {
    return adjust_part(traverse_of(in), (int)in[1], false);
}

static double correction_lat(const double *in) {
    /* printed without its sign: the sum of latitudes is too small by as much */
    return fabs(adjusted_lat(in) - part_of(&traverse_of(in)->courses[(int)in[1]], true));
}

static double adjusted_length(const double *in) {
    return hypot(adjusted_lat(in), adjusted_dep(in));
}

static double adjusted_azimuth(const double *in) {
    double seconds = atan2(adjusted_dep(in), adjusted_lat(in)) / radians(1.0);
    return seconds < 0 ? seconds + DMS(360, 0, 0) : seconds;
}

static double area(const double *in) {
    const struct traverse *traverse = traverse_of(in);
    double north = 0.0;
    double east = 0.0;
    double twice = 0.0;
    for (int i = 0; i < traverse->count; i++) {
        double lat = adjust_part(traverse, i, true);
        double dep = adjust_part(traverse, i, false);
        twice += north * (east + dep) - (north + lat) * east;
        north += lat;
        east += dep;
    }
    return fabs(twice) / 2;
}

/* ---- level nets ---------------------------------------------------------------------------- */

struct difference {
    int from; /* index of the unknown height, -1 the fixed one */
    int to;
    double value;
    double sigma_mm;
};
struct level {
    double fixed;
    struct difference differences[6];
};
static const struct level LEVELS[] = {{437.596,
                                       {{-1, 0, 10.509, 6},
                                        {-1, 1, 15.881, 12},
                                        {0, 1, 5.360, 4},
                                        {0, 2, -3.167, 4},
                                        {1, 2, -8.523, 5},
                                        {2, -1, -7.348, 3}}},
                                      {101.345,
                                       {{0, 1, -.749, 0.7 * 1.1},
                                        {0, 2, -1.274, 0.7 * 1.8},
                                        {0, -1, -2.890, 0.7 * 1.4},
                                        {1, 2, -.530, 0.7 * 1.5},
                                        {1, -1, -2.141, 0.7 * 1.9},
                                        {2, -1, -1.614, 0.7 * .9}}}};

/* In millimetres throughout; heights above the fixed point. */
static struct problem level_problem(const double *in) {
    const struct level *level = &LEVELS[(int)in[0]];
    struct problem problem = {.rows = 6, .columns = 3};
    for (size_t i = 0; i < problem.rows; i++) {
        const struct difference *said = &level->differences[i];
        if (said->from >= 0) {
            *entry(&problem, i, (size_t)said->from) = -1 / said->sigma_mm;
        }
        if (said->to >= 0) {
            *entry(&problem, i, (size_t)said->to) = 1 / said->sigma_mm;
        }
        problem.observed[i] = 1000 * said->value / said->sigma_mm;
    }
    solve(&problem);
    return problem;
}

static double level_height(const double *in) {
    return LEVELS[(int)in[0]].fixed + level_problem(in).solution[(int)in[1]] / 1000;
}

static double level_sigma(const double *in) {
    struct problem problem = level_problem(in);
    return problem.s0 * sqrt(problem.cofactor[(int)in[1] * 4]);
}

static double level_residual(const double *in) {
    return level_problem(in).residuals[(int)in[1]] *
           LEVELS[(int)in[0]].differences[(int)in[1]].sigma_mm;
}

static double level_redundancy(const double *in) {
    return level_problem(in).redundancy[(int)in[1]];
}

static double level_w(const double *in) {
    struct problem problem = level_problem(in);
    return problem.residuals[(int)in[1]] / sqrt(problem.redundancy[(int)in[1]]);
}

static double level_w_size(const double *in) {
    return fabs(level_w(in));
}

static double level_t(const double *in) {
    return level_w_size(in) / level_problem(in).s0;
}

static double level_chi(const double *in) {
    return level_problem(in).chi;
}

static double level_s0(const double *in) {
    return level_problem(in).s0;
}

/* ---- a datum with its whole covariance ----------------------------------------------------- */

/* Points 2, 3, 6, 7, 8; the two heights are freed of their correlation by the root of their
 * covariance (Cholesky), in millimetres. */
static struct problem datum_problem(void) {
    static const struct difference DIFFERENCES[] = {{0, 4, 5.128, .7},
                                                    {1, 2, 2.183, .5},
                                                    {1, 3, 12.254, .5},
                                                    {2, 3, 10.071, .8},
                                                    {4, 3, 2.824, .8}};
    const double heights[] = {107.7541, 103.4535};
    double l11 = sqrt(.0025);
    double l21 = -.0015 / l11;
    double l22 = sqrt(.0036 - l21 * l21);
    struct problem problem = {.rows = 7, .columns = 5};
    *entry(&problem, 0, 0) = 1 / l11;
    *entry(&problem, 1, 0) = -l21 / (l11 * l22);
    *entry(&problem, 1, 1) = 1 / l22;
    for (size_t row = 0; row < 2; row++) {
        for (size_t k = 0; k <= row; k++) {
            problem.observed[row] += *entry(&problem, row, k) * 1000 * heights[k];
        }
    }
    for (size_t i = 0; i < 5; i++) {
        double sigma = sqrt(DIFFERENCES[i].sigma_mm); /* the variance is the length in km */
        *entry(&problem, i + 2, (size_t)DIFFERENCES[i].from) = -1 / sigma;
        *entry(&problem, i + 2, (size_t)DIFFERENCES[i].to) = 1 / sigma;
        problem.observed[i + 2] = 1000 * DIFFERENCES[i].value / sigma;
    }
    solve(&problem);
    return problem;
}

static double datum_height(const double *in) {
    return datum_problem().solution[(int)in[0]] / 1000;
}

static double datum_sigma(const double *in) {
    struct problem problem = datum_problem();
    return problem.s0 * sqrt(problem.cofactor[(int)in[0] * 6]);
}

static double datum_residual(const double *in) {
    static const double KM[] = {.7, .5, .5, .8, .8};
    return datum_problem().residuals[(int)in[0] + 2] * sqrt(KM[(int)in[0]]);
}

/* ---- a triangle, an ellipse ---------------------------------------------------------------- */

static const double TRIANGLE[] = {DMS(40, 19, 2), DMS(70, 30, 1), DMS(69, 11, 0)};

/* Two angles are unknown; the third is what they leave. */
static double triangle_correction(const double *in) {
    struct problem problem = {.rows = 3, .columns = 2};
    for (size_t i = 0; i < 3; i++) {
        problem.observed[i] = i < 2 ? TRIANGLE[i] : TRIANGLE[i] - DMS(180, 0, 0);
        *entry(&problem, i, 0) = i == 0 ? 1 : i == 2 ? -1 : 0;
        *entry(&problem, i, 1) = i == 1 ? 1 : i == 2 ? -1 : 0;
    }
    solve(&problem);
    return problem.residuals[(int)in[0]];
}

static double triangle_miss(const double *in) {
    (void)in;
    return TRIANGLE[0] + TRIANGLE[1] + TRIANGLE[2] - DMS(180, 0, 0);
}

/* Share of F(2, n) beyond f: (1 + 2 f / n)^(-n/2); less one in twenty. */
static double find_beyond(double f, const void *freedom) {
    double n = *(const double *)freedom;
    return pow(1 + 2 * f / n, -n / 2) - 0.05;
}

static double ellipse_factor(const double *in) {
    double f = 0.0;
    numeric_find_root(find_beyond, in, 0.0, 1000.0, 1e-12, &f);
    return sqrt(2 * f);
}

/* ---- the rows ------------------------------------------------------------------------------ */

/* id, what is computed, which net and which entry of it, figure, tolerance, kind, source */
#define ROW(id, compute, net, entry, expected, tolerance, kind, source)                            \
    {                                                                                              \
        id, #compute, #net ", " #entry, {net, entry}, WITHIN(expected, tolerance),                 \
            HANDBOOK_##kind, source, compute                                                       \
    }

static const struct handbook_row rows[] = {
    ROW("W1-lat1", adjusted_lat, 0, 0, -436.631, 0.001, FOUND, "SRC-72"),
    ROW("W1-lat2", adjusted_lat, 0, 1, 523.715, 0.001, FOUND, "SRC-72"),
    ROW("W1-lat3", adjusted_lat, 0, 2, -234.64, 0.001, FOUND, "SRC-72"),
    ROW("W1-lat4", adjusted_lat, 0, 3, 147.556, 0.001, FOUND, "SRC-72"),
    ROW("W1-dep1", adjusted_dep, 0, 0, -466.761, 0.001, FOUND, "SRC-72"),
    ROW("W1-dep2", adjusted_dep, 0, 1, -0.023, 0.001, FOUND, "SRC-72"),
    ROW("W1-dep3", adjusted_dep, 0, 2, -335.663, 0.001, FOUND, "SRC-72"),
    ROW("W1-dep4", adjusted_dep, 0, 3, 802.447, 0.001, FOUND, "SRC-72"),
    ROW("W1-sum", sum_of_lengths, 0, 0, 2388.31, 0.001, FOUND, "SRC-72"),
    ROW("W1-misslat", miss_lat, 0, 0, -0.115, 0.001, FOUND, "SRC-72"),
    ROW("W1-missdep", miss_dep, 0, 0, 0.107, 0.001, FOUND, "SRC-72"),
    ROW("W1-miss", miss, 0, 0, 0.157, 0.001, FOUND, "SRC-72"),
    ROW("W1-len1", adjusted_length, 0, 0, 639.15, 0.001, FOUND, "SRC-72"),
    ROW("W1-len2", adjusted_length, 0, 1, 523.715, 0.001, FOUND, "SRC-72"),
    ROW("W1-len3", adjusted_length, 0, 2, 409.544, 0.001, FOUND, "SRC-72"),
    ROW("W1-len4", adjusted_length, 0, 3, 815.901, 0.001, FOUND, "SRC-72"),
    ROW("W1-az1", adjusted_azimuth, 0, 0, DMS(226, 54, 36.6), 0.1, FOUND, "SRC-72"),
    ROW("W1-az2", adjusted_azimuth, 0, 1, DMS(359, 59, 50.8), 0.1, FOUND, "SRC-72"),
    ROW("W1-az3", adjusted_azimuth, 0, 2, DMS(235, 2, 42.5), 0.1, FOUND, "SRC-72"),
    ROW("W1-az4", adjusted_azimuth, 0, 3, DMS(79, 34, 50.5), 0.1, FOUND, "SRC-72"),
    ROW("W2-lat1", adjusted_lat, 1, 0, 491.8995, 0.0001, FOUND, "SRC-73"),
    ROW("W2-lat2", adjusted_lat, 1, 1, 587.6733, 0.0001, FOUND, "SRC-73"),
    ROW("W2-lat3", adjusted_lat, 1, 2, -328.4036, 0.0001, FOUND, "SRC-73"),
    ROW("W2-lat4", adjusted_lat, 1, 3, -1000.4252, 0.0001, FOUND, "SRC-73"),
    ROW("W2-lat5", adjusted_lat, 1, 4, -125.7134, 0.0001, FOUND, "SRC-73"),
    ROW("W2-lat6", adjusted_lat, 1, 5, 374.9694, 0.0001, FOUND, "SRC-73"),
    ROW("W2-dep1", adjusted_dep, 1, 0, 45.7328, 0.0001, FOUND, "SRC-73"),
    ROW("W2-dep2", adjusted_dep, 1, 1, 609.1538, 0.0001, FOUND, "SRC-73"),
    ROW("W2-dep3", adjusted_dep, 1, 2, 788.0003, 0.0001, FOUND, "SRC-73"),
    ROW("W2-dep4", adjusted_dep, 1, 3, 215.8168, 0.0001, FOUND, "SRC-73"),
    ROW("W2-dep5", adjusted_dep, 1, 4, -1114.6225, 0.0001, FOUND, "SRC-73"),
    ROW("W2-dep6", adjusted_dep, 1, 5, -544.0812, 0.0001, FOUND, "SRC-73"),
    ROW("W2-misslat", miss_lat, 1, 0, 16.8171, 0.0001, FOUND, "SRC-73"),
    ROW("W2-missdep", miss_dep, 1, 0, 18.0737, 0.0001, FOUND, "SRC-73"),
    ROW("W2-miss", miss, 1, 0, 24.6876, 0.0001, FOUND, "SRC-73"),
    ROW("W2-area", area, 1, 0, 1715250.0494, 0.01, FOUND, "SRC-73"),
    ROW("W2-len1", adjusted_length, 1, 0, 494.0208, 0.0001, FOUND, "SRC-73"),
    ROW("W2-len2", adjusted_length, 1, 1, 846.4208, 0.0001, FOUND, "SRC-73"),
    ROW("W2-len3", adjusted_length, 1, 2, 853.694, 0.0001, FOUND, "SRC-73"),
    ROW("W2-len4", adjusted_length, 1, 3, 1023.439, 0.0001, FOUND, "SRC-73"),
    ROW("W2-len5", adjusted_length, 1, 4, 1121.6894, 0.0001, FOUND, "SRC-73"),
    ROW("W2-len6", adjusted_length, 1, 5, 660.7771, 0.0001, FOUND, "SRC-73"),
    ROW("W3-lat1", adjusted_lat, 2, 0, 19.3653, 0.001, FOUND, "SRC-74"),
    ROW("W3-lat2", adjusted_lat, 2, 1, -37.5063, 0.001, FOUND, "SRC-74"),
    ROW("W3-lat3", adjusted_lat, 2, 2, -35.3716, 0.001, FOUND, "SRC-74"),
    ROW("W3-lat4", adjusted_lat, 2, 3, 53.5126, 0.001, FOUND, "SRC-74"),
    ROW("W3-dep1", adjusted_dep, 2, 0, 78.1055, 0.001, FOUND, "SRC-74"),
    ROW("W3-dep2", adjusted_dep, 2, 1, 27.2678, 0.001, FOUND, "SRC-74"),
    ROW("W3-dep3", adjusted_dep, 2, 2, -63.5874, 0.001, FOUND, "SRC-74"),
    ROW("W3-cor1", correction_lat, 2, 0, 0.0857, 0.001, FOUND, "SRC-74"),
    ROW("W3-cor2", correction_lat, 2, 1, 0.0493, 0.001, FOUND, "SRC-74"),
    ROW("W3-cor3", correction_lat, 2, 2, 0.0776, 0.001, FOUND, "SRC-74"),
    ROW("W3-cor4", correction_lat, 2, 3, 0.0724, 0.001, FOUND, "SRC-74"),
    ROW("W4-H2", level_height, 0, 0, 448.10871, 5e-06, FOUND, "SRC-75"),
    ROW("W4-H3", level_height, 0, 1, 453.46847, 5e-06, FOUND, "SRC-75"),
    ROW("W4-H4", level_height, 0, 2, 444.94361, 5e-06, FOUND, "SRC-75"),
    ROW("W4-s2", level_sigma, 0, 0, 2.3, 0.005, FOUND, "SRC-75"),
    ROW("W4-s3", level_sigma, 0, 1, 2.64, 0.005, FOUND, "SRC-75"),
    ROW("W4-s4", level_sigma, 0, 2, 1.76, 0.005, FOUND, "SRC-75"),
    ROW("W4-v1", level_residual, 0, 0, 3.71, 0.005, FOUND, "SRC-75"),
    ROW("W4-v2", level_residual, 0, 1, -8.53, 0.005, FOUND, "SRC-75"),
    ROW("W4-v3", level_residual, 0, 2, -0.24, 0.005, FOUND, "SRC-75"),
    ROW("W4-v4", level_residual, 0, 3, 1.89, 0.005, FOUND, "SRC-75"),
    ROW("W4-v5", level_residual, 0, 4, -1.86, 0.005, FOUND, "SRC-75"),
    ROW("W4-v6", level_residual, 0, 5, 0.39, 0.005, FOUND, "SRC-75"),
    ROW("W4-vpv", level_chi, 0, 0, 1.27212, 5e-06, FOUND, "SRC-75"),
    ROW("W4-s0", level_s0, 0, 0, 0.6512, 5e-05, FOUND, "SRC-75"),
    ROW("W4-r1", level_redundancy, 0, 0, 0.655, 0.0005, DERIVED, "SRC-75"),
    ROW("W4-r2", level_redundancy, 0, 1, 0.886, 0.0005, DERIVED, "SRC-75"),
    ROW("W4-r3", level_redundancy, 0, 2, 0.329, 0.0005, DERIVED, "SRC-75"),
    ROW("W4-r4", level_redundancy, 0, 3, 0.433, 0.0005, DERIVED, "SRC-75"),
    ROW("W4-r5", level_redundancy, 0, 4, 0.509, 0.0005, DERIVED, "SRC-75"),
    ROW("W4-r6", level_redundancy, 0, 5, 0.188, 0.0005, DERIVED, "SRC-75"),
    ROW("W4-w1", level_w, 0, 0, 0.76, 0.005, DERIVED, "SRC-75"),
    ROW("W4-w2", level_w, 0, 1, -0.76, 0.005, DERIVED, "SRC-75"),
    ROW("W4-w3", level_w, 0, 2, -0.11, 0.005, DERIVED, "SRC-75"),
    ROW("W4-w4", level_w, 0, 3, 0.72, 0.005, DERIVED, "SRC-75"),
    ROW("W4-w5", level_w, 0, 4, -0.52, 0.005, DERIVED, "SRC-75"),
    ROW("W4-w6", level_w, 0, 5, 0.3, 0.005, DERIVED, "SRC-75"),
    ROW("W6-H2", datum_height, 0, 0, 107.7541, 5e-05, FOUND, "SRC-75"),
    ROW("W6-H3", datum_height, 1, 0, 103.4535, 5e-05, FOUND, "SRC-75"),
    ROW("W6-H6", datum_height, 2, 0, 105.6364, 5e-05, FOUND, "SRC-75"),
    ROW("W6-H7", datum_height, 3, 0, 115.7072, 5e-05, FOUND, "SRC-75"),
    ROW("W6-H8", datum_height, 4, 0, 112.8826, 5e-05, FOUND, "SRC-75"),
    ROW("W6-s2", datum_sigma, 0, 0, 0.04, 0.005, FOUND, "SRC-75"),
    ROW("W6-s3", datum_sigma, 1, 0, 0.04, 0.005, FOUND, "SRC-75"),
    ROW("W6-s6", datum_sigma, 2, 0, 0.43, 0.005, FOUND, "SRC-75"),
    ROW("W6-s7", datum_sigma, 3, 0, 0.39, 0.005, FOUND, "SRC-75"),
    ROW("W6-s8", datum_sigma, 4, 0, 0.48, 0.005, FOUND, "SRC-75"),
    ROW("W6-v1", datum_residual, 0, 0, 0.52, 0.005, FOUND, "SRC-75"),
    ROW("W6-v2", datum_residual, 1, 0, -0.1, 0.005, FOUND, "SRC-75"),
    ROW("W6-v3", datum_residual, 2, 0, -0.27, 0.005, FOUND, "SRC-75"),
    ROW("W6-v4", datum_residual, 3, 0, -0.17, 0.005, FOUND, "SRC-75"),
    ROW("W6-v5", datum_residual, 4, 0, 0.6, 0.005, FOUND, "SRC-75"),
    ROW("W7-H1", level_height, 1, 0, 104.235, 5e-05, FOUND, "SRC-76"),
    ROW("W7-H2", level_height, 1, 1, 103.4868, 5e-05, FOUND, "SRC-76"),
    ROW("W7-H3", level_height, 1, 2, 102.9588, 5e-05, FOUND, "SRC-76"),
    ROW("W7-s1", level_sigma, 1, 0, 1.13, 0.005, FOUND, "SRC-76"),
    ROW("W7-s2", level_sigma, 1, 1, 1.19, 0.005, FOUND, "SRC-76"),
    ROW("W7-s3", level_sigma, 1, 2, 0.91, 0.005, FOUND, "SRC-76"),
    ROW("W7-v1", level_residual, 1, 0, 0.81, 0.005, FOUND, "SRC-76"),
    ROW("W7-v2", level_residual, 1, 1, -2.18, 0.005, FOUND, "SRC-76"),
    ROW("W7-v3", level_residual, 1, 2, 0, 0.005, FOUND, "SRC-76"),
    ROW("W7-v4", level_residual, 1, 3, 2.01, 0.005, FOUND, "SRC-76"),
    ROW("W7-v5", level_residual, 1, 4, -0.81, 0.005, FOUND, "SRC-76"),
    ROW("W7-v6", level_residual, 1, 5, 0.18, 0.005, FOUND, "SRC-76"),
    ROW("W7-U1", level_w_size, 1, 0, 1.9, 0.05, FOUND, "SRC-76"),
    ROW("W7-U2", level_w_size, 1, 1, 2.1, 0.05, FOUND, "SRC-76"),
    ROW("W7-U3", level_w_size, 1, 2, 0, 0.05, FOUND, "SRC-76"),
    ROW("W7-U4", level_w_size, 1, 3, 2.6, 0.05, FOUND, "SRC-76"),
    ROW("W7-U5", level_w_size, 1, 4, 0.7, 0.05, FOUND, "SRC-76"),
    ROW("W7-U6", level_w_size, 1, 5, 0.6, 0.05, FOUND, "SRC-76"),
    ROW("W7-t1", level_t, 1, 0, 1.1, 0.05, FOUND, "SRC-76"),
    ROW("W7-t2", level_t, 1, 1, 1.3, 0.05, FOUND, "SRC-76"),
    ROW("W7-t3", level_t, 1, 2, 0, 0.05, FOUND, "SRC-76"),
    ROW("W7-t4", level_t, 1, 3, 1.6, 0.05, FOUND, "SRC-76"),
    ROW("W7-t5", level_t, 1, 4, 0.4, 0.05, FOUND, "SRC-76"),
    ROW("W7-t6", level_t, 1, 5, 0.4, 0.05, FOUND, "SRC-76"),
    ROW("W7-r1", level_redundancy, 1, 0, 0.3, 0.05, FOUND, "SRC-76"),
    ROW("W7-r2", level_redundancy, 1, 1, 0.7, 0.05, FOUND, "SRC-76"),
    ROW("W7-r3", level_redundancy, 1, 2, 0.5, 0.05, FOUND, "SRC-76"),
    ROW("W7-r4", level_redundancy, 1, 3, 0.5, 0.05, FOUND, "SRC-76"),
    ROW("W7-r5", level_redundancy, 1, 4, 0.7, 0.05, FOUND, "SRC-76"),
    ROW("W7-r6", level_redundancy, 1, 5, 0.2, 0.05, FOUND, "SRC-76"),
    ROW("W7-m0", level_s0, 1, 0, 1.65, 0.01, FOUND, "SRC-76"),
    ROW("W7-vpv", level_chi, 1, 0, 8.217, 0.0005, FOUND, "SRC-76"),
    ROW("W8-1", triangle_correction, 0, 0, -1, 1e-06, DERIVED, "SRC-77"),
    ROW("W8-2", triangle_correction, 1, 0, -1, 1e-06, DERIVED, "SRC-77"),
    ROW("W8-3", triangle_correction, 2, 0, -1, 1e-06, DERIVED, "SRC-77"),
    ROW("W8-miss", triangle_miss, 0, 0, 3, 1e-06, FOUND, "SRC-77"),
    ROW("W9-Ga", ellipse_factor, 3, 0, 0.033 / 0.0075, 0.02 * 0.033 / 0.0075, FOUND, "SRC-72"),
    ROW("W9-Gb", ellipse_factor, 3, 0, 0.029 / 0.0066, 0.02 * 0.029 / 0.0066, FOUND, "SRC-72"),
    ROW("W9-Ha", ellipse_factor, 3, 0, 0.0634 / 0.0145, 0.02 * 0.0634 / 0.0145, FOUND, "SRC-72"),
    ROW("W9-Hb", ellipse_factor, 3, 0, 0.037 / 0.0084, 0.02 * 0.037 / 0.0084, FOUND, "SRC-72"),
};

const struct handbook_book handbook_measure = {"measure", rows, sizeof rows / sizeof rows[0]};
