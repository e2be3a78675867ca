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
 * eave section: {tails: {spacing, first, positions, width, depth, cut, mend, wood}} or
 * {fascia: {depth, thickness, wood}} or {crown moulding: {projection, height, wood}}; beside any of
 * them soffit, roof cover: {kind, overhang}, drip metal: {leg}. */
enum job_tail_cut { JOB_CUT_PLUMB = 0, JOB_CUT_SQUARE, JOB_CUT_SHAPED };
enum job_wood { JOB_WOOD_UNKNOWN = 0, JOB_WOOD_TAILS, JOB_WOOD_FASCIA, JOB_WOOD_CROWN };
/* What keeps a bracket plumb on a square-cut tail. */
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
    struct job_length soffit;
    struct job_text cover;
    struct job_length cover_overhang; /* past the face of the wood */
    struct job_length drip_leg;       /* plumb leg of the drip metal */
    bool has_drip;
    struct base_mark mark;
};

#endif
