/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Inside of hydraulics, for itself and its tests: the march on any shape of channel, so that
 * published examples of other shapes run through the very code that solves a gutter; and the count
 * of work done, which a test can hold to a limit where time cannot.
 *
 * hydraulics_state.c    one cross-section: critical depth, momentum, the depth of a step
 * hydraulics_smooth.h   the smooth case, which is nearly every gutter
 * hydraulics_grid.c     the channel cut into segments and nodes; where an interior control stands
 * hydraulics_profile.c  the two sweeps, the choice between them, the residual
 */
#ifndef EAVESMITH_HYDRAULICS_INSIDE_H
#define EAVESMITH_HYDRAULICS_INSIDE_H

#include "hydraulics/hydraulics.h"

/* ---- units of the published forms -------------------------------------------------------------
 */

#define HYDRAULICS_FOOT_M  0.3048
#define HYDRAULICS_INCH_M  0.0254
#define HYDRAULICS_CFS_M3S (0.3048 * 0.3048 * 0.3048)
/* US gallon a minute: 231 cubic inches. */
#define HYDRAULICS_GPM_M3S (231 * 0.0254 * 0.0254 * 0.0254 / 60)
/* 1 in/h on 1 ft2. */
#define HYDRAULICS_FT2_INH_M3S (HYDRAULICS_CFS_M3S / 43200)

/* ---- one cross-section ------------------------------------------------------------------------
 */

/* A prismatic shape: find_wet(context, depth) for 0 <= depth <= top_m. */
struct hydraulics_shape {
    struct section_wet (*find_wet)(const void *context, double depth_m);
    const void *context;
    double top_m;
};
struct hydraulics_shape hydraulics_gutter_shape(const struct section_gutter *section);
/* The gutter behind a shape made so; NULL for any other. */
const struct section_gutter *hydraulics_shape_gutter(const struct hydraulics_shape *shape);

/* What was done, in counts. */
struct hydraulics_work {
    size_t wets;  /* evaluations of the shape */
    size_t steps; /* depths found by marching, both sweeps */
};

/* A shape at its slope and roughness. */
struct hydraulics_reach {
    struct hydraulics_shape shape;
    double slope_1;
    double manning_1; /* 0 = no friction */
    struct section_wet brim;
    double brim_flow_m3s; /* the flow that is critical when brim full */
    struct hydraulics_work work;
};
struct hydraulics_reach hydraulics_make_reach(struct hydraulics_shape shape, double slope_1,
                                              double manning_1);

/* Water at a depth: M = Q^2/(gA) + A ybar, and what drives M along: dM/dx = A (S0 - Sf). */
struct hydraulics_state {
    double depth_m;
    double momentum_m3;
    double push_m2;
    double rise_m2; /* dM/dy = A - Q^2 T/(g A^2): above zero when tranquil */
};

struct hydraulics_critical {
    struct hydraulics_state state; /* all zero when nothing flows */
    double area_m2;
    bool above_top; /* it would stand above the brim: the state is then the brim's */
};
/* near_m: a guess, 0 for none. */
struct hydraulics_critical hydraulics_find_critical(struct hydraulics_reach *reach, double flow_m3s,
                                                    double near_m);
struct hydraulics_state hydraulics_state_at(struct hydraulics_reach *reach, double flow_m3s,
                                            double depth_m);
struct hydraulics_state hydraulics_brim_state(const struct hydraulics_reach *reach,
                                              double flow_m3s);

/* The trapezoidal rule over one step, for the unknown end: M + half push = target. half is < 0 when
 * the unknown end lies downstream. */
struct hydraulics_step {
    double flow_m3s;
    double half_m;
    double target_m3;
    double low_m; /* the root stands in [low, high] */
    double high_m;
    double guess_m;
    double loss_1; /* share of Q^2/(gA) that is lost on the way down from the unknown end */
    bool shooting; /* left side falls with depth (below critical) instead of rising */
    int tries;     /* evaluations at most */
};
/* Newton's way, held in the bracket. False when tries did not do. */
bool hydraulics_solve_step(struct hydraulics_reach *reach, const struct hydraulics_step *step,
                           struct hydraulics_state *state);

/* ---- the channel ------------------------------------------------------------------------------
 */

/* A stretch without a break: inflow linear, no point inflow inside. */
struct hydraulics_segment {
    double from_m;
    double to_m;
    double entry_loss_1;      /* of a bend at from_m */
    double arriving_m3s;      /* before the points at from_m */
    double flow_m3s;          /* after them */
    double lateral_m2s;       /* at from_m */
    double lateral_slope_mps; /* its change per metre */
    size_t steps;
};

double hydraulics_segment_flow(const struct hydraulics_segment *segment, double x_m);

struct hydraulics_segments {
    struct base_arena *arena;
    struct hydraulics_segment *items; /* [count], from the still end */
    size_t count;
    size_t capacity;
    double leaving_m3s;   /* flow at the end of the last one */
    double end_point_m3s; /* what points pour in just there */
};
/* Cuts at knots, points and bends. segments is zero but for its arena; false when that failed. */
bool hydraulics_cut_at_inflow(const struct hydraulics_channel *channel,
                              struct hydraulics_segments *segments);

/*
 * G = S0 - Sf - 2 q Q/(g A^2) at critical depth. Below zero the water stays tranquil, above zero it
 * shoots; an interior control stands where G rises through zero. Source: SRC-12, SRC-14.
 */
double hydraulics_control_excess(struct hydraulics_reach *reach,
                                 const struct hydraulics_segment *segment, double x_m);

struct hydraulics_node {
    double x_m;
    double stretch_m; /* dx per step of the grading; 0 at the ends of a segment */
    double flow_m3s;
    double entry_loss_1; /* of a bend between the node above, at the same x, and this one */
    struct hydraulics_critical critical; /* only when has_critical: tranquil water asks for none */
    struct hydraulics_state tranquil; /* swept upstream; critical where no tranquil depth exists */
    struct hydraulics_state shooting; /* swept downstream */
    bool has_critical;
    bool is_choked; /* no tranquil depth: the sweep was held at critical */
    bool is_capped; /* the tranquil depth would be above the brim */
    bool can_shoot;
    bool shoots; /* which of the two stands */
};

struct hydraulics_grid {
    struct hydraulics_node *nodes; /* [count], by x; two nodes at one x where a point flows in */
    size_t count;
};
/* False when the arena failed. */
bool hydraulics_make_grid(struct hydraulics_reach *reach, const struct hydraulics_channel *channel,
                          const struct hydraulics_segments *plain, struct hydraulics_grid *grid);

/* hydraulics_find_profile on any shape and with any roughness, 0 too; channel->section is not
 * looked at. work may be NULL. */
bool hydraulics_find_shape_profile(struct base_arena *arena, struct hydraulics_shape shape,
                                   const struct hydraulics_channel *channel,
                                   struct hydraulics_profile *profile,
                                   struct hydraulics_work *work);

#endif
