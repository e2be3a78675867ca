/* SPDX-License-Identifier: Apache-2.0 */
/*
 * roof, inside: what its files share. Not for other rooms.
 *
 * roof_runs.c     the tape path: runs to eaves
 * roof_wings.c    the plan path: wings to planes and to the pieces one sees from above
 * roof_drain.c    pieces to strips, strips to eaves and valleys
 * roof_eaves.c    eaves with their ends, knots and catchments
 * roof_lines.c    ridges, hips, valleys and edges for drawing
 */
#ifndef EAVESMITH_ROOF_INSIDE_H
#define EAVESMITH_ROOF_INSIDE_H

#include "roof/roof.h"

#define ROOF_NONE   SIZE_MAX
#define ROOF_NEAR_M (2 * GEOMETRY_EVENT_M) /* two events may each be off by one */
#define ROOF_PROBE_M                                                                               \
    (10 * GEOMETRY_EVENT_M)                  /* how far beyond a line one looks for what is there  \
                                              */
#define ROOF_LEVEL_M (10 * GEOMETRY_EVENT_M) /* heights nearer than this are one height */
#define ROOF_EVEN_1  1e-9                    /* slopes nearer than this are one slope */

/* A roof under construction: the result with the room left in its arrays. */
struct roof_build {
    struct base_arena *arena;
    struct base_issues *issues;
    const struct job *job;
    struct roof *roof;
    size_t face_room;
    size_t line_room;
    size_t eave_room;
    size_t pour_room;
    size_t stops_before; /* stops other rooms had found */
    bool failed;         /* the arena has failed */
};

/* One more eave, pour or line at the end of its list; NULL when the arena has failed. */
struct roof_eave *roof_add_eave(struct roof_build *build);
struct roof_pour *roof_add_pour(struct roof_build *build);
struct roof_line *roof_add_line(struct roof_build *build);
struct roof_face *roof_add_face(struct roof_build *build);

void roof_say(struct roof_build *build, enum base_issue_code code, struct base_mark mark,
              struct base_text object, struct base_value value);
/* This room has found that the job makes no roof. */
bool roof_is_stopped(const struct roof_build *build);
/* The section that holds: the eave's own or the house's. */
struct job_section roof_choose_section(const struct job *job, bool has_own,
                                       const struct job_section *own);
/* "hall.valley.2" */
struct base_text roof_name_valley(struct roof_build *build, struct base_text owner, int number);

void roof_find_runs(struct roof_build *build);

#endif
