/* SPDX-License-Identifier: Apache-2.0 */
/* A part of roof_inside.h, which includes it: where water goes, and what adds to it. */
#ifndef EAVESMITH_ROOF_WATER_H
#define EAVESMITH_ROOF_WATER_H

#include "roof/roof_inside.h"

/* roof_links.c */
/* Adds to the link of the same edge, kind and receiver. */
void roof_add_link(struct roof_build *build, const struct roof_link *link);
/* The wing's edge that water runs off at the place, or (a pit) the nearest. */
void roof_find_lost_edge(const struct roof_house *house, struct geometry_point at,
                         struct roof_link *link);
/* In walking order, and what drips or is lost is said place by place. */
void roof_say_links(struct roof_build *build);
/* "hall.3" */
struct base_text roof_name_edge(struct roof_build *build, struct base_text owner, int edge);

/* roof_drop.c */
struct geometry_point roof_low_place(const struct roof_house *house, const struct roof_cell *cell,
                                     double share);
const struct roof_cell *roof_cell_beyond_at(const struct roof_house *house,
                                            const struct roof_cell *cell, double share);
/* Finds where each cell's trough, drip or scupper lets its water out. */
void roof_trace_cells(struct roof_house *house);
/* The cell of a slope that holds the place, give or take an event; NULL = none. */
const struct roof_cell *roof_cell_at(const struct roof_house *house, size_t slope,
                                     struct geometry_point at);
/* What came down a wall onto the cell, between two of its places s: m2 of plan a metre. */
void roof_send_wall(struct roof_house *house, const struct roof_cell *cell, const double s_m[2],
                    const double width_m[2]);

/* roof_inflow.c: of wings and of outlines alike. */
/* Onto the eave it names: spread as it comes or, where it is a spout, poured at one place. */
void roof_take_in(struct roof_build *build, struct roof_inflows *inflows,
                  const struct roof_inflow *arriving, double pitch_1);
/* Brings those of one eave together, in the order in which they came. */
void roof_sort_inflows(struct roof_build *build, struct roof_inflows *inflows);
/* Room for the places of any one eave; NULL when the arena has failed. */
double *roof_take_places(struct roof_build *build, const struct roof_inflows *inflows);
/* Knots and areas of the eave, from sorted inflows; places from roof_take_places. */
void roof_fill_knots(struct roof_build *build, const struct roof_inflows *inflows, size_t index,
                     double *places);
/* Onto the eave and place it names, together with what pours there already. */
void roof_pour(struct roof_build *build, const struct roof_pour *water);
/* By eave, as walked, and along it. */
void roof_sort_pours(struct roof *roof, size_t first);
size_t roof_eave_named(const struct roof *roof, struct base_text name);

/* roof_saddle.c */
bool roof_wants_saddles(const struct job *job);
/* To the job's wings, as they are seen without, adds one for each saddle; owners[index] is the wing
 * it stands behind. */
bool roof_make_saddles(const struct roof_house *plain, struct job *job, size_t *owners);
/* The roof is told by the wings as said: a saddle is a part of its owner. */
void roof_own_saddles(struct roof *roof, size_t said, const size_t *owners);

/* roof_walls.c */
/* The plan width that stands for a wall of that height. */
double roof_wall_width(const struct job *job, double height_m);
void roof_add_walls(struct roof_house *house);
void roof_say_walls(struct roof_build *build);

#endif
