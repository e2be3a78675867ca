/* SPDX-License-Identifier: Apache-2.0 */
/* The lines of a hatched polygon, worked out once so that every backend shows the same. */
#include "draw/draw_inside.h"

#include <math.h>

static const double HATCH_GAP_MM = 1.6;
enum { HATCH_LINES_MOST = 4000 }; /* a hostile gap must not fill the memory */

/* The page turned so that hatch lines are level: s along them, t across. */
struct turned {
    double cosine, sine;
};

static double along(struct turned turned, struct draw_point point) {
    return point.x_mm * turned.cosine - point.y_mm * turned.sine;
}

static double across(struct turned turned, struct draw_point point) {
    return point.x_mm * turned.sine + point.y_mm * turned.cosine;
}

static struct draw_point back(struct turned turned, double s_mm, double t_mm) {
    return (struct draw_point){s_mm * turned.cosine + t_mm * turned.sine,
                               t_mm * turned.cosine - s_mm * turned.sine};
}

/* Where the level line t meets the outline, in order; a corner counts once (half-open edges). */
static size_t find_crossings(const struct draw_shape *shape, struct turned turned, double t_mm,
                             double *s_mm) {
    size_t count = 0;
    for (size_t i = 0; i < shape->point_count; i++) {
        struct draw_point a = shape->points[i];
        struct draw_point b = shape->points[(i + 1) % shape->point_count];
        double ta = across(turned, a);
        double tb = across(turned, b);
        if ((ta <= t_mm) == (tb <= t_mm)) {
            continue;
        }
        double share_1 = (t_mm - ta) / (tb - ta);
        double s = along(turned, a) + share_1 * (along(turned, b) - along(turned, a));
        size_t place = count++;
        while (place > 0 && s_mm[place - 1] > s) {
            s_mm[place] = s_mm[place - 1];
            place--;
        }
        s_mm[place] = s;
    }
    return count;
}

size_t draw_find_hatch(struct base_arena *arena, const struct draw_shape *shape,
                       struct draw_point **points) {
    *points = NULL;
    struct turned turned = {cos(shape->hatch_rad), sin(shape->hatch_rad)};
    double gap_mm = shape->hatch_gap_mm > 0 ? shape->hatch_gap_mm : HATCH_GAP_MM;
    double *s_mm = base_take(arena, shape->point_count, sizeof *s_mm);
    if (s_mm == NULL || shape->point_count < 3) {
        return 0;
    }
    double low = across(turned, shape->points[0]);
    double high = low;
    for (size_t i = 1; i < shape->point_count; i++) {
        low = fmin(low, across(turned, shape->points[i]));
        high = fmax(high, across(turned, shape->points[i]));
    }
    gap_mm = fmax(gap_mm, (high - low) / HATCH_LINES_MOST);
    size_t count = 0;
    size_t capacity = 0; /* even, as count is: where one point fits, two do */
    /* Lines stand on one grid for the whole page, so that neighbours hatched alike line up. */
    for (double t = ceil(low / gap_mm) * gap_mm; t < high && gap_mm > 0; t += gap_mm) {
        size_t crossings = find_crossings(shape, turned, t, s_mm);
        for (size_t i = 0; i + 1 < crossings; i += 2) {
            struct draw_point *grown = base_grow(arena, *points, &capacity, count, sizeof *grown);
            if (grown == NULL) {
                return 0;
            }
            *points = grown;
            grown[count++] = back(turned, s_mm[i], t);
            grown[count++] = back(turned, s_mm[i + 1], t);
        }
    }
    return count;
}
