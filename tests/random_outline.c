/* SPDX-License-Identifier: Apache-2.0 */
#include "random_outline.h"

#include <math.h>
#include <string.h>

#define TICKS_PER_MM 320
#define PI           3.14159265358979323846

uint64_t next_outline_random(struct random_outline *made) { /* splitmix64 */
    made->seed += UINT64_C(0x9E3779B97F4A7C15);
    uint64_t z = made->seed;
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

static int64_t between(struct random_outline *made, int64_t low, int64_t high) {
    return low + (int64_t)(next_outline_random(made) % (uint64_t)(high - low + 1));
}

static double share(struct random_outline *made) {
    return (double)(next_outline_random(made) >> 11) * 0x1p-53;
}

static void put(struct random_outline *made, double x_m, double y_m) {
    if (made->count < OUTLINE_CORNERS_MAX) {
        made->corners[made->count++] = (struct geometry_corner){
            llround(x_m * GEOMETRY_TICKS_PER_M), llround(y_m * GEOMETRY_TICKS_PER_M)};
    }
}

/* ---- rings ----------------------------------------------------------------------------------- */

static void turn_ring(struct geometry_corner *corners, size_t count) {
    for (size_t i = 0; i < count / 2; i++) {
        struct geometry_corner swap = corners[i];
        corners[i] = corners[count - 1 - i];
        corners[count - 1 - i] = swap;
    }
}

void set_outline_rings(struct random_outline *made, const size_t *counts, size_t ring_count) {
    size_t first = 0;
    for (size_t i = 0; i < ring_count; i++) {
        made->rings[i] = (struct geometry_ring){&made->corners[first], counts[i]};
        if (geometry_is_clockwise(&made->rings[i]) != (i > 0)) {
            turn_ring(&made->corners[first], counts[i]);
        }
        first += counts[i];
    }
    made->outline = (struct geometry_outline){made->rings, ring_count};
}

void set_outline_speeds(struct random_outline *made, double speed_1) {
    for (size_t i = 0; i < made->count; i++) {
        made->speeds_1[i] = speed_1;
    }
}

/* ---- kinds ----------------------------------------------------------------------------------- */

static void make_star(struct random_outline *made, size_t size) {
    double angles[OUTLINE_CORNERS_MAX];
    double sum = 0;
    for (size_t i = 0; i < size; i++) {
        angles[i] = sum;
        sum += 0.1 + share(made);
    }
    for (size_t i = 0; i < size; i++) {
        double far_m = 3 + 12 * share(made);
        double at_rad = angles[i] / sum * 2 * PI;
        put(made, far_m * cos(at_rad), far_m * sin(at_rad));
    }
    set_outline_rings(made, &made->count, 1);
}

static void make_regular(struct random_outline *made, size_t size) {
    double turn_rad = between(made, 0, 1) ? 0 : share(made) * PI;
    double inner_1 = between(made, 0, 2) ? 1 : 0.3 + 0.6 * share(made);
    double far_m = 2 + 10 * share(made);
    size = inner_1 < 1 ? (size | 1) + 1 : size;
    for (size_t i = 0; i < size; i++) {
        double at_rad = turn_rad + 2 * PI * (double)i / (double)size;
        double r_m = i % 2 ? far_m * inner_1 : far_m;
        put(made, r_m * cos(at_rad), r_m * sin(at_rad));
    }
    set_outline_rings(made, &made->count, 1);
}

static double cross_at(const struct geometry_corner *a, const struct geometry_corner *b,
                       const struct geometry_corner *c) {
    return (double)(b->x_tick - a->x_tick) * (double)(c->y_tick - a->y_tick) -
           (double)(b->y_tick - a->y_tick) * (double)(c->x_tick - a->x_tick);
}

/* Random corners; two edges that cross are undone by walking what is between the other way. */
static void make_tangle(struct random_outline *made, size_t size) {
    int64_t grid = between(made, 0, 1) ? 500 * TICKS_PER_MM : 1;
    for (size_t i = 0; i < size; i++) {
        made->corners[made->count++] =
            (struct geometry_corner){between(made, 0, 20000 * TICKS_PER_MM) / grid * grid,
                                     between(made, 0, 15000 * TICKS_PER_MM) / grid * grid};
    }
    bool crossed = true;
    for (int round = 0; round < 2000 && crossed; round++) {
        crossed = false;
        for (size_t i = 0; i + 1 < size && !crossed; i++) {
            for (size_t k = i + 2; k < size && !crossed; k++) {
                const struct geometry_corner *a = &made->corners[i];
                const struct geometry_corner *b = &made->corners[i + 1];
                const struct geometry_corner *c = &made->corners[k];
                const struct geometry_corner *d = &made->corners[(k + 1) % size];
                if (cross_at(a, b, c) * cross_at(a, b, d) < 0 &&
                    cross_at(c, d, a) * cross_at(c, d, b) < 0) {
                    turn_ring(&made->corners[i + 1], k - i);
                    crossed = true;
                }
            }
        }
    }
    set_outline_rings(made, &made->count, 1);
}

/* ---- squares of a grid ----------------------------------------------------------------------- */

enum { CELLS = 12 };

struct cells {
    bool filled[CELLS + 2][CELLS + 2]; /* an empty border all round */
    bool walked[CELLS + 3][CELLS + 3][4];
    double at_m[2][CELLS + 3]; /* of the grid's lines, x and y */
};

static const int STEP_X[] = {1, 0, -1, 0};
static const int STEP_Y[] = {0, 1, 0, -1};

/* The cell to the left of the step from grid corner (x, y); and the one ahead on the right. */
static bool left_filled(const struct cells *cells, int x, int y, int way) {
    static const int LEFT_X[] = {0, -1, -1, 0};
    static const int LEFT_Y[] = {0, 0, -1, -1};
    return cells->filled[x + LEFT_X[way]][y + LEFT_Y[way]];
}

static bool is_side(const struct cells *cells, int x, int y, int way) {
    return left_filled(cells, x, y, way) && !left_filled(cells, x, y, (way + 3) % 4);
}

static void walk_side(struct random_outline *made, struct cells *cells, int x, int y, int way) {
    while (!cells->walked[x][y][way]) {
        cells->walked[x][y][way] = true;
        x += STEP_X[way];
        y += STEP_Y[way];
        int turn = 1; /* left first, so that touching squares stay apart */
        while (!is_side(cells, x, y, (way + turn + 4) % 4)) {
            turn--;
        }
        if (turn != 0) {
            put(made, cells->at_m[0][x], cells->at_m[1][y]);
        }
        way = (way + turn + 4) % 4;
    }
}

/* Squares that touch by a corner only would make the outline touch itself. */
static void mend_corners(struct cells *cells) {
    bool mended = true;
    while (mended) {
        mended = false;
        for (int x = 1; x < CELLS; x++) {
            for (int y = 1; y < CELLS; y++) {
                bool a = cells->filled[x][y];
                bool b = cells->filled[x + 1][y];
                bool c = cells->filled[x][y + 1];
                bool d = cells->filled[x + 1][y + 1];
                if ((a && d && !b && !c) || (!a && !d && b && c)) {
                    cells->filled[x][y] = cells->filled[x + 1][y] = cells->filled[x][y + 1] =
                        cells->filled[x + 1][y + 1] = true;
                    mended = true;
                }
            }
        }
    }
}

static void grow_cells(struct random_outline *made, struct cells *cells, size_t size) {
    int x = CELLS / 2;
    int y = CELLS / 2;
    for (size_t i = 0; i < size; i++) {
        cells->filled[x][y] = true;
        size_t way = (size_t)between(made, 0, 3);
        int nx = x + STEP_X[way];
        int ny = y + STEP_Y[way];
        if (nx >= 1 && nx <= CELLS && ny >= 1 && ny <= CELLS) {
            x = nx;
            y = ny;
        }
    }
    mend_corners(cells);
}

static void make_cells(struct random_outline *made, size_t size) {
    struct cells cells;
    size_t counts[OUTLINE_RINGS_MAX];
    size_t rings = 0;
    bool even = between(made, 0, 1);
    memset(&cells, 0, sizeof cells);
    grow_cells(made, &cells, size);
    for (int i = 0; i < 2 * (CELLS + 3); i++) {
        double step_m = even ? 2 : 0.5 + 0.25 * (double)between(made, 0, 8);
        double *line_m = &cells.at_m[i / (CELLS + 3)][i % (CELLS + 3)];
        *line_m = i % (CELLS + 3) == 0 ? 0 : line_m[-1] + step_m;
    }
    /* From the lowest, leftmost side on: the outer ring comes first. */
    for (int x = 1; x <= CELLS + 1; x++) {
        for (int y = 1; y <= CELLS + 1; y++) {
            for (int way = 0; way < 4; way++) {
                size_t before = made->count;
                if (is_side(&cells, x, y, way) && !cells.walked[x][y][way] &&
                    rings < OUTLINE_RINGS_MAX) {
                    walk_side(made, &cells, x, y, way);
                    counts[rings++] = made->count - before;
                }
            }
        }
    }
    set_outline_rings(made, counts, rings);
}

/* ---- houses ---------------------------------------------------------------------------------- */

static const double JOGS_M[] = {0.001, 0.01, 0.1, 0.5, 1, 1.5, 2};

/* One long side with jogs in and out, from (0, 0) along x. Turned into place by the caller. */
static void add_side(struct random_outline *made, size_t jogs, double length_m, int quarter,
                     const double corner_m[2]) {
    static const double COSINES[] = {1, 0, -1, 0};
    static const double SINES[] = {0, 1, 0, -1};
    double out_m = 0;
    for (size_t i = 0; i <= 2 * jogs; i++) {
        double x_m = length_m * (double)i / (double)(2 * jogs + 1);
        double next_m = i == 0 || i == 2 * jogs ? 0 : JOGS_M[between(made, 0, 6)];
        next_m *= between(made, 0, 1) ? 1 : -0.5;
        double places[2][2] = {{x_m, out_m}, {x_m + (i % 4 == 1 ? 0.3 : 0), next_m}};
        for (int k = i == 0 ? 0 : next_m == out_m ? 2 : 0; k < (i == 0 ? 1 : 2); k++) {
            put(made, corner_m[0] + COSINES[quarter] * places[k][0] + SINES[quarter] * places[k][1],
                corner_m[1] + SINES[quarter] * places[k][0] - COSINES[quarter] * places[k][1]);
        }
        out_m = i == 0 ? out_m : next_m;
    }
}

static void make_steps(struct random_outline *made, size_t size) {
    double width_m = 6 + (double)between(made, 0, 40) / 4;
    double depth_m = 6 + (double)between(made, 0, 24) / 4;
    size_t jogs = size / 16;
    double corners_m[4][2] = {{0, 0}, {width_m, 0}, {width_m, depth_m}, {0, depth_m}};
    for (int side = 0; side < 4; side++) {
        add_side(made, jogs, side % 2 ? depth_m : width_m, side, corners_m[side]);
    }
    set_outline_rings(made, &made->count, 1);
}

/* A corridor of one width wound inward; size corners. */
static void make_spiral(struct random_outline *made, size_t size) {
    double wide_m = 1 + share(made);
    double gap_m = between(made, 0, 1) ? wide_m : 0.3 + share(made);
    size_t half = size / 2 < 2 ? 2 : size / 2;
    double x_m = 0;
    double y_m = 0;
    double outer_m[2][OUTLINE_CORNERS_MAX];
    for (size_t i = 0; i < half; i++) {
        outer_m[0][i] = x_m;
        outer_m[1][i] = y_m;
        size_t round = 1 + i / 2;
        double length_m = (wide_m + gap_m) * (double)round + wide_m;
        x_m += STEP_X[i % 4] * length_m;
        y_m += STEP_Y[i % 4] * length_m;
    }
    for (size_t i = 0; i < half; i++) {
        put(made, outer_m[0][i], outer_m[1][i]);
    }
    for (size_t i = half; i-- > 0;) { /* the other side: to the left of both ways */
        size_t before = (i + 3) % 4;
        bool end = i == 0 || i + 1 == half;
        size_t way = i + 1 == half ? before : i % 4;
        double by_x = -STEP_Y[way] - (end ? 0 : STEP_Y[before]);
        double by_y = STEP_X[way] + (end ? 0 : STEP_X[before]);
        put(made, outer_m[0][i] + wide_m * by_x, outer_m[1][i] + wide_m * by_y);
    }
    set_outline_rings(made, &made->count, 1);
}

/* ---- pitches, places ------------------------------------------------------------------------- */

static void choose_speeds(struct random_outline *made) {
    int64_t way = between(made, 0, 3);
    set_outline_speeds(made, 12.0 / 9);
    for (size_t i = 0; i < made->count && way > 0; i++) {
        if (way == 1) {
            made->speeds_1[i] = 12.0 / (double)between(made, 6, 12);
        } else if (between(made, 0, 4) == 0) {
            made->speeds_1[i] = way == 2 ? 12.0 / (double)between(made, 3, 18) : 0;
        }
    }
    made->speeds_1[0] = 12.0 / 9; /* one eave at least */
}

void make_random_outline(uint64_t seed, enum outline_kind kind, size_t size,
                         struct random_outline *made) {
    *made = (struct random_outline){.seed = seed};
    size = size < 3 ? 3 : size > OUTLINE_CORNERS_MAX / 2 ? OUTLINE_CORNERS_MAX / 2 : size;
    switch (kind) {
    case OUTLINE_STAR:
        make_star(made, size);
        break;
    case OUTLINE_CELLS:
        make_cells(made, size);
        break;
    case OUTLINE_TANGLE:
        make_tangle(made, size);
        break;
    case OUTLINE_REGULAR:
        make_regular(made, size);
        break;
    case OUTLINE_STEPS:
        make_steps(made, size);
        break;
    case OUTLINE_SPIRAL:
        make_spiral(made, size);
        break;
    case OUTLINE_KINDS:
        break;
    }
    if (between(made, 0, 3) == 0) { /* far from the origin */
        for (size_t i = 0; i < made->count; i++) {
            made->corners[i].x_tick += INT64_C(4500000000000);
            made->corners[i].y_tick -= INT64_C(160000000000);
        }
    }
    choose_speeds(made);
}
