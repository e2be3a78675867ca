/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Straight skeletons at 8, 20 and 100 corners, and a regular 16-gon, against SFCGAL's in the same
 * run: the fastest of many. Prints ratios; fails on none.
 */
#include "random_outline.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include <SFCGAL/capi/sfcgal_c.h>

enum { OWN_ROUNDS = 400, THEIR_ROUNDS = 7, SHAPES = 8 };

static double now_s(void) {
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return (double)at.tv_sec + 1e-9 * (double)at.tv_nsec;
}

static double time_own(const struct random_outline *of) {
    double best_s = 1e9;
    for (int i = 0; i < OWN_ROUNDS; i++) {
        struct base_arena *arena = base_make_arena(0);
        struct geometry_skeleton skeleton;
        double start_s = now_s();
        enum geometry_skeleton_state state =
            geometry_find_skeleton(arena, &of->outline, of->speeds_1, &skeleton);
        double took_s = now_s() - start_s;
        best_s = took_s < best_s ? took_s : best_s;
        base_free_arena(arena);
        if (state != GEOMETRY_SKELETON_WHOLE) {
            printf("an outline without a roof\n");
            exit(1);
        }
    }
    return best_s;
}

static sfcgal_geometry_t *make_polygon(const struct random_outline *of) {
    sfcgal_geometry_t *ring = sfcgal_linestring_create();
    for (size_t i = 0; i <= of->count; i++) {
        struct geometry_corner at = of->corners[i % of->count];
        sfcgal_linestring_add_point(
            ring, sfcgal_point_create_from_xy((double)at.x_tick / GEOMETRY_TICKS_PER_M,
                                              (double)at.y_tick / GEOMETRY_TICKS_PER_M));
    }
    return sfcgal_polygon_create_from_exterior_ring(ring);
}

static double time_theirs(const struct random_outline *of) {
    sfcgal_geometry_t *polygon = make_polygon(of);
    double best_s = 1e9;
    for (int i = 0; i < THEIR_ROUNDS; i++) {
        double start_s = now_s();
        sfcgal_geometry_t *lines = sfcgal_geometry_straight_skeleton(polygon);
        double took_s = now_s() - start_s;
        best_s = took_s < best_s ? took_s : best_s;
        sfcgal_geometry_delete(lines);
    }
    sfcgal_geometry_delete(polygon);
    return best_s;
}

/* The middle of several outlines: one may be easy. */
static int compare_times(const void *a, const void *b) {
    double x = *(const double *)a;
    double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double print_size(const char *what, enum outline_kind kind, size_t size) {
    static struct random_outline of;
    double own_s[SHAPES];
    double their_s[SHAPES];
    for (int i = 0; i < SHAPES; i++) {
        uint64_t seed = 100 + (uint64_t)i;
        do {
            seed += 1000;
            make_random_outline(seed, kind, size, &of);
        } while (geometry_check_outline(&of.outline).fault != GEOMETRY_OUTLINE_FINE ||
                 of.corners[0].x_tick > INT64_C(1000000000000));
        set_outline_speeds(&of, 1);
        own_s[i] = time_own(&of);
        their_s[i] = time_theirs(&of);
    }
    qsort(own_s, SHAPES, sizeof *own_s, compare_times);
    qsort(their_s, SHAPES, sizeof *their_s, compare_times);
    double own = own_s[SHAPES / 2];
    double theirs = their_s[SHAPES / 2];
    printf("%-24s %3zu corners: own %8.2f us, SFCGAL %9.2f us, ratio %6.1f\n", what, size,
           own * 1e6, theirs * 1e6, theirs / own);
    return own;
}

static void print_regular(void) {
    static struct random_outline of;
    struct geometry_point corners[16];
    geometry_make_regular(16, 10, corners);
    of.count = 16;
    for (size_t i = 0; i < 16; i++) {
        of.corners[i] = (struct geometry_corner){(int64_t)(corners[i].x_m * GEOMETRY_TICKS_PER_M),
                                                 (int64_t)(corners[i].y_m * GEOMETRY_TICKS_PER_M)};
    }
    set_outline_rings(&of, &of.count, 1);
    set_outline_speeds(&of, 1);
    double own = time_own(&of);
    double theirs = time_theirs(&of);
    printf("%-24s %3d corners: own %8.2f us, SFCGAL %9.2f us, ratio %6.1f\n", "regular", 16,
           own * 1e6, theirs * 1e6, theirs / own);
}

int main(void) {
    sfcgal_init();
    print_size("tangle", OUTLINE_TANGLE, 8);
    double at_20_s = print_size("tangle", OUTLINE_TANGLE, 20);
    double at_100_s = print_size("tangle", OUTLINE_TANGLE, 100);
    printf("growth from 20 to 100 corners: %.1f (at most 25)\n", at_100_s / at_20_s);
    print_size("star", OUTLINE_STAR, 8);
    at_20_s = print_size("star", OUTLINE_STAR, 20);
    at_100_s = print_size("star", OUTLINE_STAR, 100);
    printf("growth from 20 to 100 corners: %.1f (at most 25)\n", at_100_s / at_20_s);
    print_regular();
    return 0;
}
