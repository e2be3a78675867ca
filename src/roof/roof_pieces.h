/* SPDX-License-Identifier: Apache-2.0 */
/* A part of roof_inside.h, which includes it: convex pieces of roof. */
#ifndef EAVESMITH_ROOF_PIECES_H
#define EAVESMITH_ROOF_PIECES_H

#include "geometry/geometry.h"

struct roof_build;

/* A few of the pieces that are seen, by their places in the list. */
struct roof_few {
    size_t *items;
    size_t count;
};

/* A convex part of a slope. */
struct roof_piece {
    size_t slope;
    struct geometry_polygon outline;
    struct geometry_box box;
    const struct geometry_cut *sides; /* [outline.count], >= 0 inside; NULL = not asked for yet */
    struct roof_few near;             /* of what is seen: the pieces close by, itself with them */
};

struct roof_pieces {
    struct roof_piece *items;
    size_t count;
    size_t room;
};

bool roof_add_piece(struct roof_build *build, struct roof_pieces *pieces, size_t slope,
                    const struct geometry_polygon *outline);
/* roof_merge.c: joins neighbours of one slope whose union is convex. */
void roof_merge_pieces(struct roof_build *build, struct roof_pieces *pieces);

#endif
