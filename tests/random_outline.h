/* SPDX-License-Identifier: Apache-2.0 */
/* Random and hostile outlines from a seed: for tests, fuzzing and benchmarks. */
#ifndef EAVESMITH_TESTS_RANDOM_OUTLINE_H
#define EAVESMITH_TESTS_RANDOM_OUTLINE_H

#include "geometry/geometry.h"

enum { OUTLINE_CORNERS_MAX = 512, OUTLINE_RINGS_MAX = 24 };

/* How the corners are strewn: each kind is hard in its own way. */
enum outline_kind {
    OUTLINE_STAR = 0, /* about a point, any angles */
    OUTLINE_CELLS,    /* squares of a grid put together: ties everywhere, courtyards */
    OUTLINE_TANGLE,   /* random corners, crossings undone: deep and narrow */
    OUTLINE_REGULAR,  /* regular polygons and stars: all at once */
    OUTLINE_STEPS,    /* a rectangle with jogs and bays: houses */
    OUTLINE_SPIRAL,
    OUTLINE_KINDS
};

struct random_outline {
    struct geometry_corner corners[OUTLINE_CORNERS_MAX];
    double speeds_1[OUTLINE_CORNERS_MAX];
    struct geometry_ring rings[OUTLINE_RINGS_MAX];
    struct geometry_outline outline; /* outer ring counter-clockwise, the others clockwise */
    size_t count;                    /* corners of all rings */
    uint64_t seed;
};

/* Gives a filled outline; the speeds are one pitch, several, or some gables. It may fail
 * geometry_check_outline (a courtyard that touches, say): the caller asks. */
void make_random_outline(uint64_t seed, enum outline_kind kind, size_t size,
                         struct random_outline *made);
uint64_t next_outline_random(struct random_outline *made);
/* One ring after the other from corners already filled in; turns them the way they should go. */
void set_outline_rings(struct random_outline *made, const size_t *counts, size_t ring_count);
/* All eaves of one pitch. */
void set_outline_speeds(struct random_outline *made, double speed_1);

#endif
