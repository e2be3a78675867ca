/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a run weighs, and whether the screws of its most loaded bracket hold it.
 *
 *     wood |o  <- top screw, pulled: T = V arm / apart        V   half the width of the gutter
 *          |o  <- the bracket turns about the lower one       |   out from the wood
 *          |___________________________|______________________v
 *
 * The gutter is a beam over all its brackets, cut at its corners. Two fillings are asked: water to
 * the lip, and ice to the lip with the snow of the gutter's own width on it. Snow that slides off
 * the roof is told beside them: no bracket bears it. Source: SRC-150 to SRC-155, SRC-157.
 */
#include <math.h>

#include "hang/hang_inside.h"
#include "material/material.h"
#include "numeric/numeric.h"
#include "section/section.h"
#include "structure/structure.h"

#define RIGHT_ANGLE_RAD 1.5707963267948966
/* Nobody said how thick a fascia is: a board of 3/4 in. COMMON PRACTICE */
#define FASCIA_THICK_M 0.01905
/* Wood holds more for as long as snow lies: SRC-152, MEMORY. */
static const double SNOW_LASTS_1 = 1.15;

/* ---- loads ---------------------------------------------------------------------------------- */

static void weigh(const struct hang_walk *walk, struct hang_run *run) {
    const struct layout *layout = walk->input->layout;
    const struct layout_run *of = &layout->runs[run->run];
    const struct layout_line *line = &layout->lines[of->line];
    const struct section_gutter *gutter = &walk->input->shop->profiles[line->profile].section;
    const struct material_sheet *sheet = material_find_sheet(base_text_of(line->sheet));
    const struct roof_eave *eave = hang_eave(walk, run->run);
    struct hang_loads *loads = &run->loads;
    double sheet_m = sheet == NULL ? 0.0 : sheet->nominal_m;
    double width_m = section_outer_width(gutter, sheet_m);
    double eave_m = units_m_of_tick(eave->length_tick);
    loads->metal_nm = structure_metal_load(gutter, sheet_m, sheet == NULL ? 0.0 : sheet->mass_kgm2);
    loads->water_nm = structure_water_load(gutter);
    loads->ice_nm = structure_ice_load(gutter);
    loads->arm_m = width_m / 2.0;
    if (walk->input->job->snow.given && eave_m > 0.0) {
        double snow_pa = walk->input->job->snow.value;
        loads->snow_nm = structure_snow_load(snow_pa, width_m);
        loads->sliding_nm = structure_sliding_load(snow_pa, eave->plan_area_m2 / eave_m);
    }
}

/* Half of what lies to both sides of a support, all of it beyond the outer ones. */
static double find_tributary(const struct structure_beam *beam, size_t at) {
    const double *x_m = beam->supports_m;
    double before_m = at == 0 ? x_m[0] : (x_m[at] - x_m[at - 1]) / 2.0;
    double after_m =
        at + 1 == beam->count ? beam->length_m - x_m[at] : (x_m[at + 1] - x_m[at]) / 2.0;
    return before_m + after_m;
}

/*
 * The share of the most loaded bracket; of equals the first as walked. Brackets give a little: of
 * two close together, on both sides of an outlet, one would else pry on the other. So none is given
 * more than a quarter over half of what lies to both sides, the greatest of any even spans (10/8,
 * SRC-153). False = no memory.
 */
static bool find_share(const struct hang_walk *walk, struct hang_run *run) {
    size_t count = run->count;
    double *room = base_take(walk->arena, 5 * count, sizeof *room);
    if (room == NULL) {
        return false;
    }
    double *supports_m = room;
    double *reactions_m = room + count;
    for (size_t i = 0; i < count; i++) {
        supports_m[i] = units_m_of_tick(run->brackets[i].x_tick);
    }
    struct structure_beam beam = {
        .length_m = units_m_of_tick(walk->input->layout->runs[run->run].length_tick),
        .load_nm = 1.0,
        .supports_m = supports_m,
        .count = count};
    structure_find_beam(&beam, reactions_m, room + 2 * count, room + 3 * count);
    for (size_t i = 0; i < count; i++) {
        reactions_m[i] = fmin(reactions_m[i], 1.25 * find_tributary(&beam, i));
        run->loads.share_m = fmax(run->loads.share_m, reactions_m[i]);
    }
    for (size_t i = count; i-- > 0;) {
        bool is_most = reactions_m[i] > run->loads.share_m - 1e-6;
        run->loads.most = is_most ? i : run->loads.most;
    }
    return true;
}

/* ---- screws --------------------------------------------------------------------------------- */

static double find_condition(const struct shop *shop, const struct job_section *section) {
    switch (section->condition) {
    case JOB_CONDITION_SOUND:
        return 1.0;
    case JOB_CONDITION_UNSAID:
    case JOB_CONDITION_OLD:
        return shop->old_wood_1;
    case JOB_CONDITION_ROTTEN:
        return 0.0;
    }
    return 0.0;
}

static void find_holding(const struct hang_walk *walk, struct hang_run *run) {
    const struct shop *shop = walk->input->shop;
    const struct job_section *section = &hang_eave(walk, run->run)->section;
    struct hang_loads *loads = &run->loads;
    const struct material_wood *wood =
        section->species.given ? material_find_wood(section->species.text) : NULL;
    loads->wood_said = wood != NULL;
    bool is_thick = run->wood == JOB_WOOD_TAILS || section->thickness.given;
    loads->all_said = section->condition == JOB_CONDITION_ROTTEN ||
                      (wood != NULL && section->condition != JOB_CONDITION_UNSAID && is_thick);
    wood = wood == NULL ? &material_weakest_wood : wood;
    loads->wood = wood->word;
    loads->gravity_1 = wood->gravity_1;
    loads->end_grain = run->wood == JOB_WOOD_TAILS && run->fixing != HANG_SIDE;
    loads->thread_m = shop->screw_thread_m;
    if (run->wood == JOB_WOOD_FASCIA || run->wood == JOB_WOOD_UNKNOWN) {
        double thick_m =
            section->thickness.given ? units_m_of_tick(section->thickness.tick) : FASCIA_THICK_M;
        loads->thread_m = fmin(loads->thread_m, thick_m);
    }
    const struct structure_screw screw = {.diameter_m = shop->screw_diameter_m,
                                          .root_m = shop->screw_root_m,
                                          .yield_pa = shop->screw_yield_pa,
                                          .thread_m = loads->thread_m,
                                          .plate_m = shop->bracket_plate_m,
                                          .plate_bearing_pa = shop->plate_bearing_pa};
    enum structure_grain grain = loads->end_grain ? STRUCTURE_END_GRAIN : STRUCTURE_SIDE_GRAIN;
    double share_1 = find_condition(shop, section) * shop->wet_wood_1;
    loads->withdrawal_n = share_1 * structure_withdrawal(&screw, loads->gravity_1, grain);
    loads->lateral_n =
        share_1 * structure_lateral(&screw, loads->gravity_1, RIGHT_ANGLE_RAD, grain);
}

static void find_use(const struct hang_walk *walk, struct hang_run *run) {
    struct hang_loads *loads = &run->loads;
    const double filling_nm[HANG_FILLINGS] = {loads->water_nm, loads->ice_nm + loads->snow_nm};
    const double lasts_1[HANG_FILLINGS] = {1.0, SNOW_LASTS_1};
    for (int i = 0; i < HANG_FILLINGS; i++) {
        loads->load_n[i] = (loads->metal_nm + filling_nm[i]) * loads->share_m;
        struct structure_bracket bracket = {
            .load_n = loads->load_n[i],
            .arm_m = loads->arm_m,
            .apart_m = units_m_of_tick(walk->input->shop->holes_apart_tick)};
        loads->use_1[i] = structure_screw_use(&bracket, loads->withdrawal_n * lasts_1[i],
                                              loads->lateral_n * lasts_1[i]);
    }
}

/* Wood is not known to more than three figures, and brackets stand where a tape reads. */
enum { LOAD_FIGURES = 3 };

static void round_loads(struct hang_loads *loads) {
    loads->share_m = numeric_to_figures(loads->share_m, LOAD_FIGURES);
    loads->sliding_nm = numeric_to_figures(loads->sliding_nm, LOAD_FIGURES);
    for (int i = 0; i < HANG_FILLINGS; i++) {
        loads->load_n[i] = numeric_to_figures(loads->load_n[i], LOAD_FIGURES);
        loads->use_1[i] = numeric_to_figures(loads->use_1[i], LOAD_FIGURES);
    }
}

/* The findings of this room: which filling, and whether all was said that they rest on. */
struct overload {
    enum base_issue_code code;
    enum hang_filling filling;
    bool all_said;
};

/* What fails full of water is not said again for ice. */
static bool is_overload(const struct hang_loads *loads, const struct overload *kind) {
    bool full_of_water = loads->use_1[HANG_FULL_OF_WATER] > 1.0;
    if (kind->filling == HANG_FULL_OF_WATER) {
        return full_of_water && loads->all_said == kind->all_said;
    }
    return !full_of_water && loads->use_1[kind->filling] > 1.0;
}

static void say_over(const struct hang_walk *walk, const struct hang_run *run,
                     const struct overload *kind, size_t more) {
    const struct hang_loads *loads = &run->loads;
    double held_n = loads->load_n[kind->filling] / loads->use_1[kind->filling];
    base_add_issue(
        walk->issues,
        (struct base_issue){
            .code = kind->code,
            .mark = hang_eave(walk, run->run)->section.mark,
            .object = walk->input->layout->runs[run->run].name,
            .value = base_value_number(BASE_UNIT_N, loads->load_n[kind->filling]),
            .limit = base_value_number(BASE_UNIT_N, numeric_to_figures(held_n, LOAD_FIGURES)),
            .other = base_value_text(base_and_more(walk->arena, (int64_t)more, "eave"))});
}

/* One finding of a kind for the whole house, at its worst eave. A figure that rests on what was
 * assumed of the wood does not make a job unsafe. */
void hang_say_loads(const struct hang_walk *walk) {
    static const struct overload KINDS[] = {
        {BASE_ISSUE_SCREWS_PULL_OUT, HANG_FULL_OF_WATER, true},
        {BASE_ISSUE_SCREWS_MAY_PULL_OUT, HANG_FULL_OF_WATER, false},
        {BASE_ISSUE_SCREWS_PULL_OUT_IN_SNOW, HANG_FULL_OF_ICE, false}};
    const struct hang *hang = walk->hang;
    for (size_t k = 0; k < sizeof KINDS / sizeof KINDS[0]; k++) {
        const struct hang_run *worst = NULL;
        size_t over = 0;
        for (size_t i = 0; i < hang->run_count; i++) {
            const struct hang_loads *loads = &hang->runs[i].loads;
            if (!is_overload(loads, &KINDS[k])) {
                continue;
            }
            over++;
            double use_1 = loads->use_1[KINDS[k].filling];
            bool is_worse = worst == NULL || use_1 > worst->loads.use_1[KINDS[k].filling] + 1e-3;
            worst = is_worse ? &hang->runs[i] : worst;
        }
        if (worst != NULL) {
            say_over(walk, worst, &KINDS[k], over - 1);
        }
    }
}

bool hang_find_loads(const struct hang_walk *walk, struct hang_run *run) {
    if (run->count == 0) {
        return true;
    }
    weigh(walk, run);
    if (!find_share(walk, run)) {
        return false;
    }
    find_holding(walk, run);
    find_use(walk, run);
    round_loads(&run->loads);
    return true;
}

/* ---- why ------------------------------------------------------------------------------------ */

static void number(const struct hang_walk *walk, const char *name, enum base_unit unit,
                   double value) {
    base_trace_input(walk->trace, name, base_value_number(unit, value));
}

static void explain_use(const struct hang_walk *walk, const struct hang_run *run, int filling) {
    static const char *const leaves[][2] = {{"load_water_n", "screws_water_1"},
                                            {"load_ice_n", "screws_ice_1"}};
    const struct hang_loads *loads = &run->loads;
    base_trace_leaf(walk->trace, leaves[filling][0]);
    base_trace_formula(walk->trace,
                       filling == HANG_FULL_OF_WATER ? "(metal + water) x its share of the run"
                                                     : "(metal + ice + snow) x its share",
                       "SRC-157");
    number(walk, "metal, per metre", BASE_UNIT_N, loads->metal_nm);
    if (filling == HANG_FULL_OF_WATER) {
        number(walk, "water, per metre", BASE_UNIT_N, loads->water_nm);
    } else {
        number(walk, "ice, per metre", BASE_UNIT_N, loads->ice_nm);
        number(walk, "snow, per metre", BASE_UNIT_N, loads->snow_nm);
    }
    number(walk, "share", BASE_UNIT_M, loads->share_m);
    base_trace_leaf(walk->trace, leaves[filling][1]);
    base_trace_formula(walk->trace,
                       "pull (load x arm / screws apart) and half the load across, over what both "
                       "hold at once",
                       "SRC-152");
    number(walk, "arm", BASE_UNIT_M, loads->arm_m);
    base_trace_input(walk->trace, "screws apart",
                     base_value_tick(walk->input->shop->holes_apart_tick));
    number(walk, "a screw holds, pulled", BASE_UNIT_N, loads->withdrawal_n);
    number(walk, "a screw holds, across", BASE_UNIT_N, loads->lateral_n);
    number(walk, "specific gravity of the wood", BASE_UNIT_RATIO, loads->gravity_1);
    number(walk, "thread in the wood", BASE_UNIT_M, loads->thread_m);
    base_trace_rule(walk->trace, loads->end_grain
                                     ? "in the end of the tail: end grain, 0.75 pulled, 0.67 across"
                                     : "in side grain");
}

void hang_explain_loads(const struct hang_walk *walk, const struct hang_run *run) {
    if (run->count == 0) {
        return;
    }
    base_trace_leaf(walk->trace, "share_m");
    base_trace_formula(walk->trace,
                       "the gutter as a beam over its brackets: equation of three moments",
                       "SRC-153");
    base_trace_input(walk->trace, "brackets", base_value_count((int64_t)run->count));
    for (int i = 0; i < HANG_FILLINGS; i++) {
        explain_use(walk, run, i);
    }
    base_trace_leaf(walk->trace, "gravity_1");
    base_trace_formula(walk->trace,
                       run->loads.wood_said
                           ? "of the kind of wood that was said"
                           : "the kind of wood is not known: the weakest of the table",
                       "SRC-151");
    base_trace_leaf(walk->trace, "sliding_nm");
    base_trace_formula(walk->trace, "0.4 x 0.7 x ground snow x roof behind, in plan", "SRC-155");
    number(walk, "ground snow", BASE_UNIT_PA,
           walk->input->job->snow.given ? walk->input->job->snow.value : 0.0);
}
