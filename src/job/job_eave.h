/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A part of job.h, which includes it: the values of a job file, and what was measured at an eave:
 * its section, the way down for a downspout, the gutter as found, a curve. Other rooms include
 * "job/job.h".
 */
#ifndef EAVESMITH_JOB_EAVE_H
#define EAVESMITH_JOB_EAVE_H

#include "base/base.h"
#include "geometry/geometry.h"
#include "tree/tree.h"
#include "units/units.h"

struct job_length {
    bool given;
    bool guess;
    int64_t tick;
    int64_t doubt_tick;   /* 0 = none said */
    size_t reading_count; /* 1, or the number of repeated readings (tick is their mean) */
    struct base_mark mark;
};

struct job_number {
    bool given;
    double value; /* SI */
    struct base_mark mark;
};

struct job_text {
    bool given;
    struct base_text text;
    struct base_mark mark;
};

enum job_line { JOB_LINE_ROOF_EDGE = 0, JOB_LINE_WALL, JOB_LINE_WOOD_FACE };
enum job_discharge {
    JOB_DISCHARGE_SPLASH_BLOCK = 0,
    JOB_DISCHARGE_DRAIN,
    JOB_DISCHARGE_BARREL,
    JOB_DISCHARGE_NONE
};

/* `porch to` | `hall 1 from` | `hall south to` | `hall 1 at 12' 6"` */
enum job_place_at { JOB_AT_FROM = 0, JOB_AT_TO, JOB_AT_DISTANCE };
struct job_outlet {
    struct base_text eave; /* run name or wing name */
    int edge;              /* 1..4 for a wing, 0 for a run */
    enum job_place_at at;
    int64_t distance_tick; /* from the left end, JOB_AT_DISTANCE */
    enum job_discharge discharge;
    bool discharge_given;
    const struct job_outlet *onto; /* its pipe ends in the gutter there; NULL = on the ground */
    struct base_mark mark;
};

/* ---- the section of an eave -------------------------------------------------------------------
 *
 *  roof edge .__ cover, its overhang past the wood    tails: cut plumb |, square / or shaped )
 *            |  \__                                   square: at right angles to the rafter, so a
 *       drip |  |   \__                               plumb-backed bracket tips by the roof's pitch
 *        leg |  |wood  \__
 *               |         |  wall
 *               |<-soffit>|   level, from the face of the wood to the wall
 *
 * eave section: {tails: {spacing, first, positions, width, depth, cut, mend, wood, condition}} or
 * {fascia: {depth, thickness, wood}} or {crown moulding: {projection, height, wood}}; beside any of
 * them soffit, roof cover: {kind, overhang}, drip metal: {leg}. */
enum job_tail_cut { JOB_CUT_PLUMB = 0, JOB_CUT_SQUARE, JOB_CUT_SHAPED };
enum job_wood { JOB_WOOD_UNKNOWN = 0, JOB_WOOD_TAILS, JOB_WOOD_FASCIA, JOB_WOOD_CROWN };
/* What keeps a bracket plumb on a square-cut tail. */
/* What a screw finds in it: nobody looked, sound, old and dry, rotten. */
enum job_condition {
    JOB_CONDITION_UNSAID = 0,
    JOB_CONDITION_SOUND,
    JOB_CONDITION_OLD,
    JOB_CONDITION_ROTTEN
};
enum job_mend { JOB_MEND_UNSAID = 0, JOB_MEND_WEDGE, JOB_MEND_BRACKET, JOB_MEND_NONE };

struct job_section {
    enum job_wood wood;
    struct job_length spacing;
    struct job_length first;       /* from the eave's left (from) end to the first tail's centre */
    const int64_t *positions_tick; /* irregular tails: centres from the eave's left end, rising */
    size_t position_count;
    struct job_length width;
    struct job_length depth; /* tails: square to the rafter; fascia: plumb; crown: its height */
    enum job_tail_cut cut;
    bool cut_given;
    enum job_mend mend;
    struct job_length thickness;  /* fascia */
    struct job_length projection; /* crown: level, out from the wood behind it */
    struct job_text species;
    enum job_condition condition;
    struct job_length soffit;
    struct job_text cover;
    struct job_length cover_overhang; /* past the face of the wood */
    struct job_length valley_metal;   /* likewise, of the metal in valleys */
    struct job_length drip_leg;       /* plumb leg of the drip metal */
    bool has_drip;
    struct base_mark mark;
};

/* ---- the way down for a downspout -----------------------------------------------------------
 * survey: [{at: porch to, ground: 9' 7", soffit: 10", belts: [{height: 4', projection: 2"}],
 *           water table: {height: 2', projection: 1 1/2"}, wall: clapboard,
 *           foot: splash block | {kind: boot, inside: 4"}, near: [door, walk]}] */
enum job_wall {
    JOB_WALL_UNSAID = 0,
    JOB_WALL_CLAPBOARD,
    JOB_WALL_BRICK,
    JOB_WALL_STUCCO,
    JOB_WALL_STONE
};
enum job_foot {
    JOB_FOOT_UNSAID = 0,
    JOB_FOOT_SPLASH_BLOCK,
    JOB_FOOT_SHOE,
    JOB_FOOT_BOOT,
    JOB_FOOT_DRAIN,
    JOB_FOOT_BARREL
};
enum job_near {
    JOB_NEAR_DOOR = 0,
    JOB_NEAR_WALK,
    JOB_NEAR_STEPS,
    JOB_NEAR_DRIVE,
    JOB_NEAR_WINDOW,
    JOB_NEAR_PORCH,
    JOB_NEAR_COUNT
};

/* A belt course, or the water table. */
struct job_belt {
    struct job_length height; /* its top above the ground there */
    struct job_length projection;
    bool water_table;
};

struct job_survey {
    struct job_outlet at;
    struct job_length ground; /* roof edge to the ground there */
    struct job_length soffit; /* as in the section, there */
    struct job_belt *belts;   /* [belt_count] from the highest down, the water table among them */
    size_t belt_count;
    enum job_wall wall;
    enum job_foot foot;
    struct job_length boot_inside;
    bool near[JOB_NEAR_COUNT];
};

/* ---- the gutter as found --------------------------------------------------------------------
 * as found: [{at: porch, profile: half-round, size: 5 in, bead: 1/2", metal: copper, weight: 16 oz,
 *             hanger kind: strap over the roof, hanger spacing: 24", joint kind: soldered lap,
 *             pipe size: 3 in, levels: [2 1/8", 3 1/4"], photos: [1, 2]}] */
enum job_profile {
    JOB_PROFILE_UNSAID = 0,
    JOB_PROFILE_HALF_ROUND,
    JOB_PROFILE_OGEE,
    JOB_PROFILE_BOX
};

struct job_found {
    struct job_outlet at; /* the eave alone; no name: of the house, or of an order by pieces */
    enum job_profile profile;
    struct job_length size;
    struct job_length bead;
    struct job_text metal;
    struct job_text weight;
    struct job_text hanger;
    struct job_length hanger_spacing;
    struct job_text joint;
    struct job_length pipe_size;
    bool flange;                 /* `flange: under the roof`: it cannot be hung at another fall */
    struct job_length levels[2]; /* lip below one level line, at the from and at the to end */
    int64_t *photos;             /* [photo_count] their numbers */
    size_t photo_count;
    struct base_mark mark;
};

/* ---- a curved eave --------------------------------------------------------------------------
 * curve: {chord: 12', rise: 2' 1", quarter rises: [1' 7", 1' 7"]} or {template: paper}. Quarters
 * are measured square to the chord, a quarter of it from either end. */
struct job_curve {
    bool given;
    bool paper; /* a template comes with the order */
    struct job_length chord;
    struct job_length rise;
    struct job_length quarters[2];
    struct base_mark mark;
};

/* Of the circle through both ends and the middle: radius, length along it, its rise at a quarter.
 * Needs chord and rise given, rise at most half the chord. Source: plane geometry. */
struct job_arc {
    double radius_m;
    double length_m;
    double quarter_m;
};
struct job_arc job_find_arc(const struct job_curve *curve);

/* "clapboard", "splash block", "walk", "half-round"; "" where nothing was said. */
const char *job_wall_word(enum job_wall wall);
const char *job_foot_word(enum job_foot foot);
const char *job_near_word(enum job_near near);
const char *job_profile_word(enum job_profile profile);

#endif
