/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The profile of the water. Two sweeps: tranquil water is marched upstream from the outlet, held at
 * critical where no tranquil depth exists; from each place where it was so held, shooting water is
 * marched downstream. Where both can stand, the one with the greater M does (it pushes the jump
 * away), so controls, jumps and drowned jumps need no cases of their own. Momentum along a side
 * channel: SRC-12, SRC-13, SRC-15.
 */
#include "hydraulics/hydraulics_smooth.h"

#include <assert.h>
#include <math.h>

/* Evaluations for a step that goes well, and for one that must be bracketed. */
enum { TRIES_SWIFT = 6, TRIES_SURE = 200, FINE_MOST = 64 };
static const double FOOT_1 = 0.05; /* a depth that falls by more in one step is at a foot */
static const double FINE_1 = 0.01; /* by how much it may fall in a small one */

/*
 * The critical state of a node, found when first asked for: most tranquil water never asks. near is
 * a node close by, or NULL; critical depth goes nearly as the root of the flow.
 */
static const struct hydraulics_critical *find_critical(struct hydraulics_reach *reach,
                                                       struct hydraulics_node *node,
                                                       const struct hydraulics_node *near) {
    if (!node->has_critical) {
        double near_m = 0;
        if (near != NULL && near->has_critical && near->flow_m3s > 0) {
            near_m = near->critical.state.depth_m * sqrt(node->flow_m3s / near->flow_m3s);
        }
        node->critical = hydraulics_find_critical(reach, node->flow_m3s, near_m);
        node->has_critical = true;
    }
    return &node->critical;
}

/* ---- tranquil: upstream ------------------------------------------------------------------------
 */

static void cap(const struct hydraulics_reach *reach, struct hydraulics_node *node) {
    node->is_capped = true;
    node->tranquil = hydraulics_brim_state(reach, node->flow_m3s);
}

static void start_tranquil(struct hydraulics_reach *reach, struct hydraulics_node *node,
                           double head_m) {
    const struct hydraulics_critical *critical = find_critical(reach, node, NULL);
    if (critical->above_top || head_m > reach->shape.top_m) {
        cap(reach, node);
    } else if (head_m > critical->state.depth_m) {
        node->tranquil = hydraulics_state_at(reach, node->flow_m3s, head_m);
    } else {
        node->tranquil = critical->state;
    }
}

static double find_kinetic(double flow_m3s, double area_m2) {
    return flow_m3s / area_m2 * flow_m3s / HYDRAULICS_GRAVITY_MPS2;
}

/* The step with its root bracketed between critical and the brim, or the reason why it has none. */
static void step_tranquil_surely(struct hydraulics_reach *reach, struct hydraulics_step *step,
                                 const struct hydraulics_node *below,
                                 struct hydraulics_node *node) {
    const struct hydraulics_critical *critical = find_critical(reach, node, below);
    struct hydraulics_state brim = hydraulics_brim_state(reach, node->flow_m3s);
    double choked_m3 = critical->state.momentum_m3 + step->half_m * critical->state.push_m2;
    double full_m3 = brim.momentum_m3 + step->half_m * brim.push_m2;
    if (step->loss_1 > 0 && critical->area_m2 > 0) {
        choked_m3 -= step->loss_1 * find_kinetic(node->flow_m3s, critical->area_m2);
        full_m3 -= step->loss_1 * find_kinetic(node->flow_m3s, reach->brim.area_m2);
    }
    bool is_choked = choked_m3 >= step->target_m3;
    bool is_over = full_m3 < step->target_m3;
    if (critical->above_top || (is_over && !is_choked)) {
        cap(reach, node);
    } else if (is_choked) {
        node->is_choked = true;
        node->tranquil = critical->state;
    } else {
        step->low_m = critical->state.depth_m;
        step->tries = TRIES_SURE;
        (void)hydraulics_solve_step(reach, step, &node->tranquil);
    }
}

/*
 * The foot of a pool, where its depth runs out within a few steps: the step is taken in small ones.
 * Where they find no tranquil depth the water is held at critical.
 */
static void refine_foot(struct hydraulics_reach *reach, struct hydraulics_node *node) {
    const struct hydraulics_node *below = &node[1];
    double fallen_1 = below->tranquil.depth_m / node->tranquil.depth_m - 1;
    if (!(fallen_1 > FOOT_1) || !(below->x_m > node->x_m)) {
        return;
    }
    int count = fallen_1 < FINE_1 * FINE_MOST ? (int)ceil(fallen_1 / FINE_1) : FINE_MOST;
    struct hydraulics_state state = below->tranquil;
    double fall_m = (below->tranquil.depth_m - node->tranquil.depth_m) / count;
    for (int i = 1; i <= count; i++) {
        double share = (double)i / count;
        struct hydraulics_step step = {.flow_m3s = below->flow_m3s +
                                                   (node->flow_m3s - below->flow_m3s) * share,
                                       .half_m = (below->x_m - node->x_m) / count / 2,
                                       .high_m = reach->shape.top_m,
                                       .guess_m = fmax(state.depth_m - fall_m, state.depth_m / 2),
                                       .tries = TRIES_SURE};
        step.target_m3 = state.momentum_m3 - step.half_m * state.push_m2;
        if (!hydraulics_solve_step(reach, &step, &state) || !(state.rise_m2 > 0)) {
            node->is_choked = true;
            node->tranquil = find_critical(reach, node, below)->state;
            return;
        }
    }
    node->tranquil = state;
}

/* node[1] is the node below; node[2] the one below that, if it may be used to guess. */
static void step_tranquil(struct hydraulics_reach *reach, struct hydraulics_node *node,
                          bool can_extrapolate) {
    const struct hydraulics_node *below = &node[1];
    struct hydraulics_step step = {.flow_m3s = node->flow_m3s,
                                   .half_m = (below->x_m - node->x_m) / 2,
                                   .high_m = reach->shape.top_m,
                                   .guess_m = below->tranquil.depth_m,
                                   .loss_1 = below->entry_loss_1,
                                   .tries = TRIES_SWIFT};
    step.target_m3 = below->tranquil.momentum_m3 - step.half_m * below->tranquil.push_m2;
    if (can_extrapolate) { /* depth runs smoothly with the graded steps */
        step.guess_m += below->tranquil.depth_m - node[2].tranquil.depth_m;
    }
    bool is_easy =
        !below->is_choked && !below->is_capped && below->tranquil.rise_m2 > 0 && node->flow_m3s > 0;
    if (!is_easy || !hydraulics_solve_step(reach, &step, &node->tranquil) ||
        !(node->tranquil.rise_m2 > 0)) {
        step_tranquil_surely(reach, &step, below, node);
    }
    if (is_easy && !node->is_choked && !node->is_capped) {
        refine_foot(reach, node);
    }
}

/* ---- shooting: downstream ----------------------------------------------------------------------
 */

static void step_shooting(struct hydraulics_reach *reach, const struct hydraulics_node *above,
                          struct hydraulics_node *node) {
    const struct hydraulics_critical *critical = find_critical(reach, node, above);
    if (critical->above_top) {
        return;
    }
    struct hydraulics_step step = {.flow_m3s = node->flow_m3s,
                                   .half_m = -(node->x_m - above->x_m) / 2,
                                   .low_m = 0,
                                   .high_m = critical->state.depth_m,
                                   .guess_m = above->shooting.depth_m,
                                   .shooting = true,
                                   .tries = TRIES_SURE};
    step.target_m3 = above->shooting.momentum_m3 - step.half_m * above->shooting.push_m2;
    if (node->entry_loss_1 > 0 && above->flow_m3s > 0) {
        struct section_wet wet =
            reach->shape.find_wet(reach->shape.context, above->shooting.depth_m);
        step.target_m3 -= node->entry_loss_1 * find_kinetic(above->flow_m3s, wet.area_m2);
    }
    if (critical->state.momentum_m3 + step.half_m * critical->state.push_m2 < step.target_m3) {
        node->can_shoot = true;
        (void)hydraulics_solve_step(reach, &step, &node->shooting);
    }
}

static void sweep(struct hydraulics_reach *reach, struct hydraulics_grid *grid, double head_m) {
    struct hydraulics_node *nodes = grid->nodes;
    start_tranquil(reach, &nodes[grid->count - 1], head_m);
    for (size_t i = grid->count - 1; i-- > 0;) {
        step_tranquil(reach, &nodes[i], i + 2 < grid->count);
    }
    for (size_t i = 0; i < grid->count; i++) {
        struct hydraulics_node *node = &nodes[i];
        if (i > 0 && nodes[i - 1].can_shoot) {
            step_shooting(reach, &nodes[i - 1], node);
        }
        if (!node->can_shoot && node->is_choked && node->flow_m3s > 0) {
            node->can_shoot = true;
            node->shooting = node->critical.state;
        }
        node->shoots = node->can_shoot && !node->is_capped &&
                       node->shooting.momentum_m3 >= node->tranquil.momentum_m3;
    }
}

/* ---- what came of it ---------------------------------------------------------------------------
 */

static const struct hydraulics_state *find_state(const struct hydraulics_node *node) {
    return node->shoots ? &node->shooting : &node->tranquil;
}

/*
 * dM/dx against A (S0 - Sf) over three neighbours, the right side by Simpson's rule in the graded
 * variable: not the rule the march itself kept, so it shows what the steps cost. Breaks (jump,
 * brim, dry, ends of segments) are left out.
 */
static double find_residual(const struct hydraulics_node *node) {
    const struct hydraulics_state *state[3];
    if (!(node[1].stretch_m > 0)) {
        return 0;
    }
    for (int k = 0; k < 3; k++) {
        state[k] = find_state(&node[k]);
        bool held = !node[k].shoots && (node[k].is_choked || node[k].is_capped);
        if (node[k].shoots != node[0].shoots || held || state[k]->depth_m <= 0) {
            return 0;
        }
    }
    double driven_m3 =
        (node[0].stretch_m * state[0]->push_m2 + 4 * node[1].stretch_m * state[1]->push_m2 +
         node[2].stretch_m * state[2]->push_m2) /
        3;
    return fabs(state[2]->momentum_m3 - state[0]->momentum_m3 - driven_m3) /
           (node[2].x_m - node[0].x_m);
}

static void find_control(const struct hydraulics_grid *grid,
                         const struct hydraulics_channel *channel,
                         struct hydraulics_profile *profile) {
    const struct hydraulics_node *last = &grid->nodes[grid->count - 1];
    profile->control = channel->outlet_head_m > last->critical.state.depth_m
                           ? HYDRAULICS_CONTROL_DROWNED
                           : HYDRAULICS_CONTROL_OUTLET;
    profile->control_x_m = channel->length_m;
    for (size_t i = 0; i + 1 < grid->count; i++) {
        if (grid->nodes[i].shoots) {
            profile->control = HYDRAULICS_CONTROL_INTERIOR;
            profile->control_x_m = grid->nodes[i].x_m;
            return;
        }
    }
}

/* Does the water jump between this node and the next? */
static bool jumps_after(const struct hydraulics_node *node) {
    return node[0].shoots && !node[1].shoots && !node[0].is_choked && node[1].can_shoot &&
           node[1].x_m > node[0].x_m;
}

/*
 * The two stations of a jump: it stands where both states have the same M, and the tranquil side of
 * it may be the deepest water of all, so it is not left to fall between two nodes.
 */
static void add_jump(const struct hydraulics_node *node, struct hydraulics_profile *profile) {
    double before = node[0].shooting.momentum_m3 - node[0].tranquil.momentum_m3;
    double after = fmax(node[1].tranquil.momentum_m3 - node[1].shooting.momentum_m3, 0);
    double share = before + after > 0 ? before / (before + after) : 0;
    double depths_m[2] = {node[0].shooting.depth_m +
                              share * (node[1].shooting.depth_m - node[0].shooting.depth_m),
                          fmin(node[0].tranquil.depth_m +
                                   share * (node[1].tranquil.depth_m - node[0].tranquil.depth_m),
                               fmax(node[0].tranquil.depth_m, node[1].tranquil.depth_m))};
    for (int side = 0; side < 2; side++) {
        profile->stations[profile->station_count++] = (struct hydraulics_station){
            node[0].x_m + share * (node[1].x_m - node[0].x_m), depths_m[side],
            node[0].flow_m3s + share * (node[1].flow_m3s - node[0].flow_m3s)};
    }
}

static bool add_stations(struct base_arena *arena, const struct hydraulics_grid *grid,
                         struct hydraulics_profile *profile) {
    size_t most = grid->count;
    for (size_t i = 0; i + 1 < grid->count; i++) {
        most += jumps_after(&grid->nodes[i]) ? 2 : 0;
    }
    profile->stations = base_take(arena, most, sizeof *profile->stations);
    if (profile->stations == NULL) {
        return false;
    }
    for (size_t i = 0; i < grid->count; i++) {
        const struct hydraulics_node *node = &grid->nodes[i];
        profile->stations[profile->station_count++] =
            (struct hydraulics_station){node->x_m, find_state(node)->depth_m, node->flow_m3s};
        profile->overflows = profile->overflows || node->is_capped;
        if (i + 1 < grid->count && jumps_after(node)) {
            add_jump(node, profile);
        }
    }
    return true;
}

static double find_worst_residual(const struct hydraulics_grid *grid) {
    double greatest_m3 = 0;
    double worst_m2 = 0;
    for (size_t i = 0; i < grid->count; i++) {
        greatest_m3 = fmax(greatest_m3, find_state(&grid->nodes[i])->momentum_m3);
        if (i > 0 && i + 1 < grid->count) {
            worst_m2 = fmax(worst_m2, find_residual(&grid->nodes[i - 1]));
        }
    }
    double length_m = grid->nodes[grid->count - 1].x_m;
    return greatest_m3 > 0 ? worst_m2 * length_m / greatest_m3 : 0;
}

static void meet_depth(struct hydraulics_profile *profile, double x_m, double depth_m) {
    if (depth_m > profile->greatest_depth_m) {
        profile->greatest_depth_m = depth_m;
        profile->greatest_x_m = x_m;
    }
}

/*
 * Where a point pours into shooting water that could carry it, the water still heaps up before it
 * is carried off: the depth that would choke there counts, though no station shows it. Without
 * that, more rain could sweep the heap away and seem to lower the water.
 */
static void find_greatest(const struct hydraulics_grid *grid, struct hydraulics_profile *profile) {
    for (size_t i = 0; i < profile->station_count; i++) {
        meet_depth(profile, profile->stations[i].x_m, profile->stations[i].depth_m);
    }
    for (size_t i = 0; i + 1 < grid->count; i++) {
        if (grid->nodes[i + 1].x_m <= grid->nodes[i].x_m) {
            meet_depth(profile, grid->nodes[i].x_m, grid->nodes[i].tranquil.depth_m);
        }
    }
}

static bool write_profile(struct base_arena *arena, const struct hydraulics_grid *grid,
                          const struct hydraulics_channel *channel,
                          struct hydraulics_profile *profile) {
    *profile = (struct hydraulics_profile){.residual_1 = find_worst_residual(grid)};
    if (!add_stations(arena, grid, profile)) {
        return false;
    }
    struct hydraulics_station *last = &profile->stations[profile->station_count - 1];
    if (grid->nodes[grid->count - 1].shoots) {
        /* shot all the way: a free end lets it go, an outlet still needs its head */
        last->depth_m = fmax(last->depth_m, channel->outlet_head_m);
    }
    find_greatest(grid, profile);
    profile->still_depth_m = profile->stations[0].depth_m;
    profile->end_depth_m = last->depth_m;
    find_control(grid, channel, profile);
    return true;
}

bool hydraulics_find_shape_profile(struct base_arena *arena, struct hydraulics_shape shape,
                                   const struct hydraulics_channel *channel,
                                   struct hydraulics_profile *profile,
                                   struct hydraulics_work *work) {
    assert(channel->length_m > 0 && channel->knot_count >= 2);
    assert(channel->knots[0].x_m == 0 &&
           channel->knots[channel->knot_count - 1].x_m == channel->length_m);
    assert(channel->still_flow_m3s >= 0 && channel->outlet_head_m >= 0);
    struct hydraulics_reach reach =
        hydraulics_make_reach(shape, channel->slope_1, channel->manning_1);
    struct hydraulics_segments segments = {.arena = arena};
    if (!hydraulics_cut_at_inflow(channel, &segments)) {
        return false;
    }
    struct hydraulics_smooth smooth;
    if (channel->steps == 0 && hydraulics_find_smooth(&reach, channel->outlet_head_m, &segments,
                                                      NULL, &smooth) == HYDRAULICS_SMOOTH_STANDS) {
        if (work != NULL) {
            *work = reach.work;
        }
        return hydraulics_write_smooth(arena, channel, &smooth, profile);
    }
    struct hydraulics_grid grid = {NULL, 0};
    if (!hydraulics_make_grid(&reach, channel, &segments, &grid)) {
        return false;
    }
    sweep(&reach, &grid, channel->outlet_head_m);
    if (work != NULL) {
        *work = reach.work;
    }
    return write_profile(arena, &grid, channel, profile);
}

bool hydraulics_find_profile(struct base_arena *arena, const struct hydraulics_channel *channel,
                             struct hydraulics_profile *profile) {
    assert(channel->manning_1 > 0);
    return hydraulics_find_shape_profile(arena, hydraulics_gutter_shape(&channel->section), channel,
                                         profile, NULL);
}
