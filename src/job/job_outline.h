/* SPDX-License-Identifier: Apache-2.0 */
/* A part of job.h, which includes it: the footprint path. Other rooms include "job/job.h". */
#ifndef EAVESMITH_JOB_OUTLINE_H
#define EAVESMITH_JOB_OUTLINE_H

#include "job/job_eave.h"

enum { JOB_OUTLINE_CORNERS_MAX = 500 };

/*
 * outline: one house by the corners of its roof edges.
 *   {name: house, eave height: 17', pitch: 9/12, corners: [[0, 0], [44' 6", 0], ...],
 *    holes: [[[20', 10'], ...]], edges: {2: gable, 4: wall}, wall above: 3', pitches: {3: 12/12},
 *    no gutter: [5], overhang: 1'}
 * Edge n runs from corner n to the next, as written, clockwise or not; the edges of courtyards
 * (holes) are counted on.
 */
struct job_outline {
    bool given;
    struct base_text name;
    struct base_mark mark;
    struct geometry_corner *corners; /* [edge_count]: ring after ring */
    struct base_mark *marks;         /* [edge_count]: of the corners */
    size_t *counts;                  /* [ring_count]: corners of each ring */
    size_t ring_count;
    size_t edge_count;
    bool *gables;               /* [edge_count] gables and walls; all others are eaves */
    bool *walls;                /* [edge_count] of them, those that stand against a wall */
    struct job_number *pitches; /* [edge_count] not given = the house's pitch */
    bool *no_gutter;            /* [edge_count] */
    struct job_length eave_height;
    struct job_number pitch;
    struct job_length overhang;
    struct job_length wall_above; /* over its wall edges */
    struct job_section section;
    bool has_section;
};

#endif
