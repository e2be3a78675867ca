/* SPDX-License-Identifier: Apache-2.0 */
/*
 * roof, inside: the roof over an outline. Not for other rooms.
 *
 * roof_outline.c        checks, the skeleton, eaves and their ends, lines
 * roof_outline_cells.c  faces cut up and down into cells that leave by one lower side
 * roof_outline_eaves.c  catchments
 * roof_outline_water.c  every cell's water to an eave: straight, or by a valley
 */
#ifndef EAVESMITH_ROOF_OUTLINE_H
#define EAVESMITH_ROOF_OUTLINE_H

#include "roof/roof_inside.h"

/* A side of a face, the face on its left. */
enum roof_side_kind {
    ROOF_SIDE_EAVE = 0,
    ROOF_SIDE_FACE, /* another face beyond */
    ROOF_SIDE_WALL  /* a vertical plane: a gable's, or a step */
};

struct roof_side {
    enum roof_side_kind kind;
    size_t from; /* nodes of the skeleton */
    size_t to;
    size_t beyond; /* FACE: its edge */
};

/* Everything is counted by edges as walked, counter-clockwise. */
struct roof_edge {
    size_t written; /* as the job counts them */
    size_t next;    /* round its ring */
    size_t previous;
    struct geometry_point origin; /* its left end */
    struct geometry_point along;  /* unit */
    struct geometry_point inward;
    double length_m;
    double pitch_1;
    bool gable;
    bool wall;   /* a gable that stands against a wall */
    bool bare;   /* an eave that shall have no gutter */
    size_t eave; /* in roof->eaves; ROOF_NONE = none */
    double x_m;  /* of its left end on the eave */
    size_t first_side;
    size_t side_count;
    size_t first_cell;
    size_t cell_count;
};

/* A trapezoid of one face between two places s along its eave. */
struct roof_outline_cell {
    size_t edge;
    double s_m[2];
    double low_m[2]; /* level distance from the eave */
    double high_m[2];
    double share_1; /* of its own area, so that a face's cells sum to the face */
    size_t low_side;
    size_t high_side;
    struct geometry_polygon outline;
};

struct roof_outlined {
    struct roof_build *build;
    struct geometry_outline outline; /* rings as walked */
    struct geometry_skeleton skeleton;
    struct roof_edge *edges; /* [edge_count] */
    size_t edge_count;
    struct roof_side *sides;
    size_t side_count;
    struct roof_outline_cell *cells;
    size_t cell_count;
    size_t cell_room;
    struct roof_inflows inflows;
    size_t first_eave; /* in roof->eaves */
    double eave_z_m;
    double stray_m2;
    double ground_m2;
    bool trapped;
};

void roof_cut_faces(struct roof_outlined *house);
void roof_send_outline_water(struct roof_outlined *house);
void roof_fill_outline_eaves(struct roof_outlined *house);

#endif
