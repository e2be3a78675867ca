/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The wood a bracket bears on.
 *
 *        rafter \         A tail cut square has its end at right angles to the rafter: the end
 *          \     \        leans out over its foot by the roof's pitch, and a plumb-backed bracket
 * on \    /|       it tips by that angle. A wedge fills the gap: f along the tail's end (the \ f/ |
 * tail's depth), thick at the foot t = f sin(pitch), nothing at the top.
 *             \/__|  t    Source: plane geometry.
 */
#include <math.h>

#include "hang/hang_inside.h"

/* The bracket's hole keeps at least this from the lower edge of the wood: COMMON PRACTICE. */
#define WOOD_EDGE_M 0.0127
/* The wood's depth is known no better: COMMON PRACTICE. */
#define WOOD_TOLD_TICK (UNITS_TICK_PER_INCH / 16)
/* Roof boards and cover stand above the wood by about this: COMMON PRACTICE. */
#define BOARDS_M 0.0254
/* Overhang and soffit with cover may differ by this before both are doubtful: COMMON PRACTICE. */
#define ADD_UP_M 0.0254

/* ---- square and shaped tails --------------------------------------------------------------- */

static void say_tip(const struct hang_walk *walk, const struct hang_run *run,
                    enum base_issue_code code) {
    base_add_issue(walk->issues,
                   (struct base_issue){.code = code,
                                       .mark = hang_eave(walk, run->run)->section.mark,
                                       .object = walk->input->layout->runs[run->run].name,
                                       .value = base_value_number(BASE_UNIT_RAD, run->tip_rad)});
}

static void size_wedge(const struct hang_walk *walk, struct hang_run *run) {
    const struct job_section *section = &hang_eave(walk, run->run)->section;
    run->wedge_wide_tick = section->width.given ? section->width.tick : 0;
    if (!section->depth.given) {
        hang_report(walk, BASE_ISSUE_ASSUMED_WEDGE_SIZE, run->run, 0, 0);
        return;
    }
    run->wedge_face_tick = section->depth.tick;
    double thick_m = units_m_of_tick(section->depth.tick) * sin(run->tip_rad);
    run->wedge_thick_tick = units_tick_of_m(thick_m);
}

static void fit_square(const struct hang_walk *walk, struct hang_run *run) {
    run->tip_rad = atan(hang_eave(walk, run->run)->pitch_1);
    switch (hang_eave(walk, run->run)->section.mend) {
    case JOB_MEND_UNSAID:
        say_tip(walk, run, BASE_ISSUE_ASSUMED_WEDGE);
        run->fixing = HANG_WEDGED;
        size_wedge(walk, run);
        break;
    case JOB_MEND_WEDGE:
        run->fixing = HANG_WEDGED;
        size_wedge(walk, run);
        break;
    case JOB_MEND_BRACKET:
        run->fixing = HANG_ANGLED;
        break;
    case JOB_MEND_NONE:
        say_tip(walk, run, BASE_ISSUE_BRACKET_TIPS);
        break;
    }
}

static void fit_tails(const struct hang_walk *walk, struct hang_run *run) {
    const struct roof_eave *eave = hang_eave(walk, run->run);
    if (!eave->section.cut_given) {
        run->tip_rad = atan(eave->pitch_1);
        say_tip(walk, run, BASE_ISSUE_ASSUMED_TAIL_CUT);
        run->tip_rad = 0.0;
        return;
    }
    switch (eave->section.cut) {
    case JOB_CUT_PLUMB:
        break;
    case JOB_CUT_SQUARE:
        fit_square(walk, run);
        break;
    case JOB_CUT_SHAPED:
        run->fixing = HANG_SIDE;
        hang_report(walk, BASE_ISSUE_ASSUMED_SIDE_BRACKETS, run->run, 0, 0);
        break;
    }
}

/* ---- depth of the wood --------------------------------------------------------------------- */

/* Plumb face of the wood; 0 = not known. A plumb cut across a tail of
 * depth d is d / cos(pitch) long; a wedge's plumb face d cos(pitch). Source: plane geometry. */
static double face_height(const struct hang_walk *walk, const struct hang_run *run) {
    const struct roof_eave *eave = hang_eave(walk, run->run);
    const struct job_section *section = &eave->section;
    if (!section->depth.given || run->fixing == HANG_SIDE) {
        return 0.0;
    }
    double depth_m = units_m_of_tick(section->depth.tick);
    double cosine = 1.0 / sqrt(1.0 + eave->pitch_1 * eave->pitch_1);
    switch (section->wood) {
    case JOB_WOOD_UNKNOWN:
        return 0.0;
    case JOB_WOOD_FASCIA:
    case JOB_WOOD_CROWN:
        return depth_m;
    case JOB_WOOD_TAILS:
        break;
    }
    return section->cut_given && section->cut == JOB_CUT_SQUARE ? depth_m * cosine
                                                                : depth_m / cosine;
}

/* The lowest bracket's lowest hole: with the top one alone in the wood the bracket hangs on one
 * screw and turns about it. */
static void check_depth(const struct hang_walk *walk, const struct hang_run *run) {
    double face_m = face_height(walk, run);
    if (face_m <= 0.0 || run->count == 0) {
        return;
    }
    int64_t low_tick = 0;
    for (size_t i = 0; i < run->count; i++) {
        low_tick = run->brackets[i].drop_tick > low_tick ? run->brackets[i].drop_tick : low_tick;
    }
    int64_t hole_tick = run->string_tick + low_tick + walk->input->shop->holes_apart_tick;
    int64_t end_tick = units_tick_of_m(BOARDS_M + face_m - WOOD_EDGE_M);
    if (hole_tick - end_tick >= WOOD_TOLD_TICK) {
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_BRACKET_OFF_THE_WOOD,
                                           .mark = hang_eave(walk, run->run)->section.mark,
                                           .object = walk->input->layout->runs[run->run].name,
                                           .value = base_value_tick(hole_tick),
                                           .limit = base_value_tick(end_tick),
                                           .other = base_value_tick(hole_tick - end_tick)});
    }
}

/* ---- cover, drip metal, soffit ------------------------------------------------------------- */

/* At the low end the gutter's back lies lowest: the drip metal's leg has to reach into it. */
static void check_drip(const struct hang_walk *walk, const struct hang_run *run) {
    const struct job_section *section = &hang_eave(walk, run->run)->section;
    int64_t back_tick =
        walk->input->layout->runs[run->run].lip_low_tick - walk->input->shop->back_rise_tick;
    if (section->has_drip && section->drip_leg.given && section->drip_leg.tick < back_tick) {
        hang_report(walk, BASE_ISSUE_DRIP_LEG_SHORT, run->run, section->drip_leg.tick, back_tick);
    }
}

/* Water should fall in the back third of the gutter; from the middle on a hard rain overshoots.
 * Source: trade/copper e, COMMON PRACTICE. */
static void check_cover(const struct hang_walk *walk, const struct hang_run *run) {
    const struct layout *layout = walk->input->layout;
    const struct job_section *section = &hang_eave(walk, run->run)->section;
    const struct layout_line *line = &layout->lines[layout->runs[run->run].line];
    double width_m = walk->input->shop->profiles[line->profile].section.inside_diameter_m;
    int64_t half_tick = units_tick_of_m(width_m / 2);
    if (section->cover_overhang.given && section->cover_overhang.tick > half_tick) {
        hang_report(walk, BASE_ISSUE_COVER_OVERSHOOTS, run->run, section->cover_overhang.tick,
                    units_tick_of_m(width_m / 3));
    }
}

static void check_soffit(const struct hang_walk *walk, const struct hang_run *run) {
    const struct roof_eave *eave = hang_eave(walk, run->run);
    const struct job_section *section = &eave->section;
    if (!section->soffit.given || !section->cover_overhang.given || !eave->has_overhang) {
        return;
    }
    double parts_m = units_m_of_tick(section->soffit.tick + section->cover_overhang.tick);
    if (fabs(parts_m - eave->overhang_m) > ADD_UP_M) {
        hang_report(walk, BASE_ISSUE_SOFFIT_DOES_NOT_ADD_UP, run->run, units_tick_of_m(parts_m),
                    units_tick_of_m(eave->overhang_m));
    }
}

/* ---- what is not known --------------------------------------------------------------------- */

/* A section that several eaves share is spoken of once, at the first of them. */
static bool is_spoken_of(const struct hang_walk *walk, size_t run) {
    const struct base_mark *mark = &hang_eave(walk, run)->section.mark;
    for (size_t i = 0; i < run; i++) {
        if (hang_eave(walk, i)->section.mark.from_byte == mark->from_byte) {
            return true;
        }
    }
    return false;
}

static void say_unknown(const struct hang_walk *walk, const struct hang_run *run) {
    const struct job_section *section = &hang_eave(walk, run->run)->section;
    bool tails = section->wood == JOB_WOOD_TAILS;
    const struct {
        bool known;
        const char *word;
    } PARTS[] = {{section->depth.given, tails ? "the tails' depth" : "the fascia's depth"},
                 {!tails || section->width.given, "their width"},
                 {section->species.given, "the kind of wood"}};
    struct base_builder list = {.arena = walk->arena};
    for (size_t i = 0; i < sizeof PARTS / sizeof PARTS[0]; i++) {
        if (!PARTS[i].known) {
            base_add_string(&list, list.length > 0 ? ", " : "");
            base_add_string(&list, PARTS[i].word);
        }
    }
    if (list.length > 0 && !is_spoken_of(walk, run->run)) {
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_ASSUMED_SECTION,
                                           .mark = section->mark,
                                           .object = walk->input->layout->runs[run->run].name,
                                           .value = base_value_text(base_built(&list))});
    }
}

void hang_fit_wood(const struct hang_walk *walk, struct hang_run *run) {
    switch (run->wood) {
    case JOB_WOOD_UNKNOWN:
        break;
    case JOB_WOOD_TAILS:
        fit_tails(walk, run);
        say_unknown(walk, run);
        break;
    case JOB_WOOD_FASCIA:
        say_unknown(walk, run);
        break;
    case JOB_WOOD_CROWN:
        hang_report(walk, BASE_ISSUE_ASSUMED_CROWN_BLOCKED, run->run, 0, run->limit_tick);
        break;
    }
    check_depth(walk, run);
    check_drip(walk, run);
    check_cover(walk, run);
    check_soffit(walk, run);
}

/* ---- why ------------------------------------------------------------------------------------ */

void hang_explain_wood(const struct hang_walk *walk, const struct hang_run *run) {
    if (run->tip_rad > 0.0) {
        base_trace_leaf(walk->trace, "tip_rad");
        base_trace_formula(walk->trace, "atan(pitch): a square-cut tail leans by it",
                           "plane geometry");
        base_trace_input(walk->trace, "pitch",
                         base_value_number(BASE_UNIT_RATIO, hang_eave(walk, run->run)->pitch_1));
    }
    if (run->wedge_thick_tick > 0) {
        base_trace_leaf(walk->trace, "wedge_thick_m");
        base_trace_formula(walk->trace, "depth of the tail x sin(tip)", "plane geometry");
        base_trace_input(walk->trace, "depth", base_value_tick(run->wedge_face_tick));
        base_trace_input(walk->trace, "tip", base_value_number(BASE_UNIT_RAD, run->tip_rad));
    }
}
