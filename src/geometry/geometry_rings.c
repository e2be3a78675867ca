/* SPDX-License-Identifier: Apache-2.0 */
/* Outlines: which may have a roof. Differences of corners are at most 1 km = 3.2e8 ticks, so their
 * products, and the differences of those, fit in 64 bits: the signs are exact. */
#include "geometry/geometry_inside.h"

#include <math.h>

enum { WIDEST_TICK = 320000000, NEAR_TICK = 32 /* 0.1 mm */, SHORTEST_TICK = 320 /* 1 mm */ };
#define SPIKE_1 5e-3 /* sine of the least angle between two edges: 0.29 degrees */

static struct geometry_corner corner_of(const struct geometry_ring *ring, size_t i) {
    return ring->corners[i == ring->count ? 0 : i];
}

static int64_t cross_of(struct geometry_corner a, struct geometry_corner b,
                        struct geometry_corner c) {
    return (b.x_tick - a.x_tick) * (c.y_tick - a.y_tick) -
           (b.y_tick - a.y_tick) * (c.x_tick - a.x_tick);
}

static int sign_of(int64_t value) {
    return (value > 0) - (value < 0);
}

/* Twice the area may not fit where a ring winds; a double has the sign of anything that is a ring.
 */
bool geometry_is_clockwise(const struct geometry_ring *ring) {
    double twice = 0;
    for (size_t i = 1; i + 1 < ring->count; i++) {
        twice += (double)cross_of(ring->corners[0], ring->corners[i], ring->corners[i + 1]);
    }
    return twice < 0;
}

static double length_of(struct geometry_corner a, struct geometry_corner b) {
    return hypot((double)(b.x_tick - a.x_tick), (double)(b.y_tick - a.y_tick));
}

static double corner_to_segment(struct geometry_corner a, struct geometry_corner b,
                                struct geometry_corner at) {
    struct geometry_point from = {0, 0};
    struct geometry_point to = {(double)(b.x_tick - a.x_tick), (double)(b.y_tick - a.y_tick)};
    struct geometry_point here = {(double)(at.x_tick - a.x_tick), (double)(at.y_tick - a.y_tick)};
    return geometry_to_segment(from, to, here);
}

static bool boxes_meet(struct geometry_corner a, struct geometry_corner b, struct geometry_corner c,
                       struct geometry_corner d) {
    int64_t ax[2] = {a.x_tick < b.x_tick ? a.x_tick : b.x_tick,
                     a.x_tick < b.x_tick ? b.x_tick : a.x_tick};
    int64_t ay[2] = {a.y_tick < b.y_tick ? a.y_tick : b.y_tick,
                     a.y_tick < b.y_tick ? b.y_tick : a.y_tick};
    int64_t cx[2] = {c.x_tick < d.x_tick ? c.x_tick : d.x_tick,
                     c.x_tick < d.x_tick ? d.x_tick : c.x_tick};
    int64_t cy[2] = {c.y_tick < d.y_tick ? c.y_tick : d.y_tick,
                     c.y_tick < d.y_tick ? d.y_tick : c.y_tick};
    return ax[0] <= cx[1] + NEAR_TICK && cx[0] <= ax[1] + NEAR_TICK && ay[0] <= cy[1] + NEAR_TICK &&
           cy[0] <= ay[1] + NEAR_TICK;
}

/* Two edges without a common corner cross, touch or come too near. */
static bool edges_meet(struct geometry_corner a, struct geometry_corner b, struct geometry_corner c,
                       struct geometry_corner d) {
    if (!boxes_meet(a, b, c, d)) {
        return false;
    }
    if (sign_of(cross_of(a, b, c)) * sign_of(cross_of(a, b, d)) < 0 &&
        sign_of(cross_of(c, d, a)) * sign_of(cross_of(c, d, b)) < 0) {
        return true;
    }
    return corner_to_segment(a, b, c) < NEAR_TICK || corner_to_segment(a, b, d) < NEAR_TICK ||
           corner_to_segment(c, d, a) < NEAR_TICK || corner_to_segment(c, d, b) < NEAR_TICK;
}

static void stretch(int64_t range[2], int64_t value) {
    range[0] = value < range[0] ? value : range[0];
    range[1] = value > range[1] ? value : range[1];
}

static bool is_wide(const struct geometry_outline *outline) {
    struct geometry_corner first = outline->rings[0].corners[0];
    int64_t x[2] = {first.x_tick, first.x_tick};
    int64_t y[2] = {first.y_tick, first.y_tick};
    for (size_t r = 0; r < outline->count; r++) {
        for (size_t i = 0; i < outline->rings[r].count; i++) {
            stretch(x, outline->rings[r].corners[i].x_tick);
            stretch(y, outline->rings[r].corners[i].y_tick);
        }
    }
    /* Halves, so that no difference overflows. */
    return x[1] / 2 - x[0] / 2 > WIDEST_TICK / 2 || y[1] / 2 - y[0] / 2 > WIDEST_TICK / 2;
}

static struct geometry_outline_check check_ring(const struct geometry_outline *outline,
                                                size_t ring) {
    const struct geometry_ring *of = &outline->rings[ring];
    struct geometry_outline_check check = {.ring = ring};
    for (size_t i = 0; i < of->count; i++) {
        check.edge = i;
        if (length_of(of->corners[i], corner_of(of, i + 1)) < SHORTEST_TICK) {
            check.fault = GEOMETRY_OUTLINE_SHORT;
            return check;
        }
    }
    for (size_t i = 0; i < of->count; i++) {
        struct geometry_corner at = of->corners[i];
        struct geometry_corner before = of->corners[i == 0 ? of->count - 1 : i - 1];
        struct geometry_corner after = corner_of(of, i + 1);
        double sine =
            (double)cross_of(at, after, before) / length_of(at, after) / length_of(at, before);
        double dot = (double)(after.x_tick - at.x_tick) * (double)(before.x_tick - at.x_tick) +
                     (double)(after.y_tick - at.y_tick) * (double)(before.y_tick - at.y_tick);
        if (dot > 0 && fabs(sine) < SPIKE_1) {
            check.fault = GEOMETRY_OUTLINE_SPIKE;
            check.edge = i;
            return check;
        }
    }
    return (struct geometry_outline_check){0};
}

static bool are_neighbours(const struct geometry_ring *ring, size_t i, size_t k) {
    return i + 1 == k || k + 1 == i || (i == 0 && k + 1 == ring->count) ||
           (k == 0 && i + 1 == ring->count);
}

static struct geometry_outline_check check_pairs(const struct geometry_outline *outline, size_t r,
                                                 size_t s) {
    const struct geometry_ring *one = &outline->rings[r];
    const struct geometry_ring *two = &outline->rings[s];
    for (size_t i = 0; i < one->count; i++) {
        for (size_t k = r == s ? i + 1 : 0; k < two->count; k++) {
            if (r == s && are_neighbours(one, i, k)) {
                continue;
            }
            if (edges_meet(one->corners[i], corner_of(one, i + 1), two->corners[k],
                           corner_of(two, k + 1))) {
                return (struct geometry_outline_check){GEOMETRY_OUTLINE_CROSSES, r, i, s, k};
            }
        }
    }
    return (struct geometry_outline_check){0};
}

/* The rings do not meet: one corner inside says all of it is. */
static bool is_inside(const struct geometry_ring *ring, struct geometry_corner at) {
    bool inside = false;
    for (size_t i = 0; i < ring->count; i++) {
        struct geometry_corner a = ring->corners[i];
        struct geometry_corner b = corner_of(ring, i + 1);
        if ((a.y_tick > at.y_tick) != (b.y_tick > at.y_tick)) {
            bool left = cross_of(a, b, at) > 0;
            inside = inside != (left == (b.y_tick > a.y_tick));
        }
    }
    return inside;
}

static struct geometry_outline_check check_nesting(const struct geometry_outline *outline) {
    for (size_t r = 1; r < outline->count; r++) {
        for (size_t s = 0; s < outline->count; s++) {
            bool inside = is_inside(&outline->rings[s], outline->rings[r].corners[0]);
            if (s != r && inside != (s == 0)) {
                return (struct geometry_outline_check){GEOMETRY_OUTLINE_OUTSIDE, r, 0, s, 0};
            }
        }
    }
    return (struct geometry_outline_check){0};
}

struct geometry_outline_check geometry_check_outline(const struct geometry_outline *outline) {
    struct geometry_outline_check check = {0};
    for (size_t r = 0; r < outline->count; r++) {
        if (outline->rings[r].count < 3) {
            return (struct geometry_outline_check){GEOMETRY_OUTLINE_TOO_FEW, r, 0, 0, 0};
        }
    }
    if (outline->count == 0) {
        return (struct geometry_outline_check){.fault = GEOMETRY_OUTLINE_TOO_FEW};
    }
    if (is_wide(outline)) {
        return (struct geometry_outline_check){.fault = GEOMETRY_OUTLINE_TOO_WIDE};
    }
    for (size_t r = 0; r < outline->count && check.fault == GEOMETRY_OUTLINE_FINE; r++) {
        check = check_ring(outline, r);
    }
    for (size_t r = 0; r < outline->count; r++) {
        for (size_t s = r; s < outline->count && check.fault == GEOMETRY_OUTLINE_FINE; s++) {
            check = check_pairs(outline, r, s);
        }
    }
    return check.fault == GEOMETRY_OUTLINE_FINE ? check_nesting(outline) : check;
}
