/* SPDX-License-Identifier: Apache-2.0 */
/* Joins convex pieces of one slope whose union is convex: the fewer pieces, the less to look at. */
#include "roof/roof_inside.h"

#include <math.h>

static bool same_point(struct geometry_point a, struct geometry_point b) {
    struct geometry_point off = geometry_subtract(a, b);
    return geometry_dot(off, off) <= ROOF_NEAR_M * ROOF_NEAR_M;
}

/* Leaves out corners that stand on the line between their neighbours; false when one turns to the
 * right: not convex. */
static bool tidy(struct geometry_polygon *polygon) {
    size_t i = 0;
    while (i < polygon->count && polygon->count > 3) {
        struct geometry_point a = polygon->points[(i + polygon->count - 1) % polygon->count];
        struct geometry_point b = polygon->points[i];
        struct geometry_point c = polygon->points[(i + 1) % polygon->count];
        struct geometry_point span = geometry_subtract(c, a);
        double span_m2 = geometry_dot(span, span);
        double bulge_m2 = geometry_cross(geometry_subtract(b, a), geometry_subtract(c, b));
        if (span_m2 > 0 &&
            bulge_m2 * bulge_m2 > span_m2 * GEOMETRY_EVENT_M * GEOMETRY_EVENT_M / 100) {
            if (bulge_m2 < 0) {
                return false;
            }
            i++;
            continue;
        }
        for (size_t k = i; k + 1 < polygon->count; k++) {
            polygon->points[k] = polygon->points[k + 1];
        }
        polygon->count--;
        i = 0;
    }
    return true;
}

enum { ROOF_CORNERS_MAX = 64 }; /* more than a convex piece of a house gets */

/* The union of two outlines that share side i of one and side k of two, when it is convex. */
/* many because it joins two of one list */
static bool unite(struct roof_build *build, const struct geometry_polygon *one, size_t i,
                  const struct geometry_polygon *two, size_t k, struct geometry_polygon *both) {
    struct geometry_point corners[ROOF_CORNERS_MAX];
    size_t count = 0;
    if (one->count + two->count > ROOF_CORNERS_MAX) {
        return false;
    }
    for (size_t n = 1; n <= one->count;
         n++) { /* from the shared side's far end round to its near */
        corners[count++] = one->points[(i + n) % one->count];
    }
    for (size_t n = 2; n < two->count; n++) {
        corners[count++] = two->points[(k + n) % two->count];
    }
    struct geometry_polygon tried = {corners, count};
    if (!tidy(&tried)) {
        return false;
    }
    struct geometry_point *points = base_take(build->arena, tried.count, sizeof *points);
    if (points == NULL) {
        build->failed = true;
        return false;
    }
    for (size_t n = 0; n < tried.count; n++) {
        points[n] = corners[n];
    }
    *both = (struct geometry_polygon){points, tried.count};
    return true;
}

static bool try_merge(struct roof_build *build, struct roof_piece *first,
                      const struct roof_piece *second) {
    struct geometry_polygon *one = &first->outline;
    const struct geometry_polygon *two = &second->outline;
    if (!geometry_boxes_meet(&first->box, &second->box, ROOF_NEAR_M)) {
        return false;
    }
    for (size_t i = 0; i < one->count; i++) {
        for (size_t k = 0; k < two->count; k++) {
            struct geometry_polygon both;
            bool shared = same_point(one->points[i], two->points[(k + 1) % two->count]) &&
                          same_point(one->points[(i + 1) % one->count], two->points[k]);
            if (shared && unite(build, one, i, two, k, &both)) {
                *one = both;
                first->box = geometry_find_box(one);
                first->sides = NULL;
                return true;
            }
        }
    }
    return false;
}

/* Pieces of one slope, by their places in the list; one that has gone has no corners left. */
static void merge_group(struct roof_build *build, struct roof_pieces *pieces, size_t *group,
                        size_t count) {
    size_t i = 0;
    while (i < count && !build->failed) {
        bool merged = false;
        for (size_t k = 0; k < count && !merged; k++) {
            if (k == i || !try_merge(build, &pieces->items[group[i]], &pieces->items[group[k]])) {
                continue;
            }
            pieces->items[group[k]].outline.count = 0;
            for (size_t n = k; n + 1 < count; n++) {
                group[n] = group[n + 1];
            }
            count--;
            merged = true;
        }
        build->roof->looks += count;
        i = merged ? 0 : i + 1;
    }
}

void roof_merge_pieces(struct roof_build *build, struct roof_pieces *pieces) {
    size_t *group = base_take(build->arena, pieces->count, sizeof *group);
    bool *grouped = base_take(build->arena, pieces->count, sizeof *grouped);
    if (group == NULL || grouped == NULL) {
        build->failed = true;
        return;
    }
    for (size_t first = 0; first < pieces->count && !build->failed; first++) {
        size_t count = 0;
        for (size_t k = first; k < pieces->count && !grouped[first]; k++) {
            if (pieces->items[k].slope == pieces->items[first].slope) {
                group[count++] = k;
            }
        }
        for (size_t k = 0; k < count; k++) {
            grouped[group[k]] = true;
        }
        merge_group(build, pieces, group, count);
    }
    size_t kept = 0;
    for (size_t i = 0; i < pieces->count; i++) {
        if (pieces->items[i].outline.count > 0) {
            pieces->items[kept++] = pieces->items[i];
        }
    }
    pieces->count = kept;
}
