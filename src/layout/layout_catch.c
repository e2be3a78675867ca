/* SPDX-License-Identifier: Apache-2.0 */
/* Where the sheet off each roof edge and the stream of each valley land: from the drizzle to the
 * design storm, at both ends of a run. */
#include <math.h>

#include "layout/layout_inside.h"
#include "material/material.h"
#include "numeric/numeric.h"

/* COMMON PRACTICE (trade/hydraulics): metal and slate, and what nobody said, are smooth: a smooth
 * roof throws farther. */
static const double SMOOTH_1 = 0.011;
static const double SHINGLES_1 = 0.013;
/* As the stream of a valley lands in layout_water.c: an assumption. */
static const double STREAM_WIDTH_M = 0.1;

static bool holds_word(struct base_text text, const char *word) {
    struct base_text wanted = base_text_of(word);
    for (size_t at = 0; at + wanted.length <= text.length; at++) {
        if (base_text_starts((struct base_text){text.bytes + at, text.length - at}, word)) {
            return true;
        }
    }
    return false;
}

static double widest(const struct roof_eave *eave) {
    double width_m = 0.0;
    for (size_t i = 0; i < eave->knot_count; i++) {
        width_m = fmax(width_m, eave->knots[i].width_m);
    }
    return width_m;
}

static struct hydraulics_edge edge_of(const struct layout_walk *walk,
                                      const struct roof_eave *eave) {
    const struct job_section *section = &eave->section;
    bool shingles = section->cover.given && holds_word(section->cover.text, "shingle");
    double factor_1 = layout_area_factor(walk->layout->area, eave->area_pitch_1);
    /* a leg that was not said is not held against the gap */
    double leg_m = section->drip_leg.given ? units_m_of_tick(section->drip_leg.tick) : 1.0;
    return (struct hydraulics_edge){.pitch_1 = eave->pitch_1,
                                    .roughness_1 = shingles ? SHINGLES_1 : SMOOTH_1,
                                    .flow_m2s = walk->input->rain_mps * factor_1 * widest(eave),
                                    .has_drip = section->has_drip,
                                    .drip_leg_m = section->has_drip ? leg_m : 0.0};
}

static struct hydraulics_trough trough_of(const struct layout_walk *walk,
                                          const struct layout_run *run, int64_t lip_tick) {
    const struct shop *shop = walk->input->shop;
    const struct shop_profile *profile = &shop->profiles[walk->layout->lines[run->line].profile];
    const struct material_sheet *sheet = material_find_sheet(base_text_of(profile->sheet));
    double sheet_m = sheet == NULL ? 0.0 : sheet->nominal_m;
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    double over_m = units_m_of_tick(layout_edge_over(shop, eave));
    double lip_drop_m = units_m_of_tick(lip_tick);
    return (struct hydraulics_trough){.back_out_m = sheet_m - over_m,
                                      .back_drop_m = lip_drop_m - profile->section.back_rise_m,
                                      .lip_out_m =
                                          profile->section.inside_diameter_m + sheet_m - over_m,
                                      .lip_drop_m = lip_drop_m};
}

static bool lands_far(const struct hydraulics_catch *catch) {
    return catch->storm.place == HYDRAULICS_LANDS_FORWARD ||
           catch->storm.place == HYDRAULICS_LANDS_OVER;
}

/* The lowest lip that needs no apron: the drip leg reaches the gutter's back, and the storm lands
 * in its back third. */
static double lip_allowed(const struct layout_catch *caught) {
    const struct hydraulics_trough *trough = &caught->low_trough;
    double rise_m = trough->lip_drop_m - trough->back_drop_m;
    double third_m = trough->back_out_m + (trough->lip_out_m - trough->back_out_m) / 3.0;
    double allowed_m =
        third_m > 0.0 && caught->low.storm_sheet.speed_mps > 0.0
            ? hydraulics_path_drop(&caught->low.storm_sheet, caught->edge.pitch_1, third_m)
            : 0.0;
    return caught->edge.has_drip ? fmin(allowed_m, caught->edge.drip_leg_m + rise_m) : allowed_m;
}

/* Of a straight length, what lies deeper than allowed. */
static double deeper_part(double length_m, double from_m, double to_m, double allowed_m) {
    double high_m = fmin(from_m, to_m);
    double low_m = fmax(from_m, to_m);
    if (high_m >= allowed_m) {
        return length_m;
    }
    return low_m > allowed_m ? length_m * (low_m - allowed_m) / (low_m - high_m) : 0.0;
}

/* All of the run where the lip is lower than that: at one low end, at both, or beside an outlet. */
static int64_t apron_length(const struct layout_walk *walk, const struct layout_run *run) {
    size_t index = (size_t)(run - walk->layout->runs);
    int64_t stations[LAYOUT_STATIONS_MAX];
    size_t count = layout_list_stations(walk->layout, index, stations);
    double allowed_m = lip_allowed(&run->caught);
    double places_m[LAYOUT_STATIONS_MAX];
    for (size_t i = 0; i < count; i++) {
        places_m[i] = units_m_of_tick(stations[i]);
    }
    numeric_sort(places_m, count);
    double sum_m = 0.0;
    for (size_t i = 0; i + 1 < count; i++) {
        sum_m += deeper_part(places_m[i + 1] - places_m[i],
                             layout_lip_at(walk->layout, index, places_m[i]),
                             layout_lip_at(walk->layout, index, places_m[i + 1]), allowed_m);
    }
    return units_tick_of_m(sum_m);
}

static void catch_run(struct layout_walk *walk, struct layout_run *run) {
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    struct layout_catch *caught = &run->caught;
    caught->edge = edge_of(walk, eave);
    caught->high_trough = trough_of(walk, run, run->lip_high_tick);
    caught->low_trough = trough_of(walk, run, run->lip_low_tick);
    caught->high = hydraulics_find_catch(&caught->edge, &caught->high_trough);
    caught->low = hydraulics_find_catch(&caught->edge, &caught->low_trough);
    caught->drip_said = eave->section.has_drip;
    caught->wants_apron =
        lands_far(&caught->low) || (caught->edge.has_drip && caught->low.wants_apron);
    caught->apron_tick = caught->wants_apron ? apron_length(walk, run) : 0;
    caught->roof_s = hydraulics_sheet_time(
        &caught->high.storm_sheet, eave->pitch_1,
        walk->input->rain_mps * layout_area_factor(walk->layout->area, eave->area_pitch_1));
    caught->creeps_rain_mps = caught->low.clings_below_1 * walk->input->rain_mps;
}

/* ---- valleys ----------------------------------------------------------------------------------
 */

/*
 * A valley between two roofs of one pitch, at an inside corner: it comes down at the pitch over the
 * root of 2, along the half of the corner; square to the eave that is the same share of its way.
 * Its water is a strip of STREAM_WIDTH_M. DERIVED.
 */
static void catch_valley(const struct layout_walk *walk, const struct roof_pour *pour,
                         const struct layout_run *run, struct layout_valley *valley) {
    const double root = sqrt(2.0);
    double factor_1 = layout_area_factor(walk->layout->area, pour->pitch_1);
    double pitch_1 = pour->pitch_1 / root;
    valley->flow_m3s = walk->input->rain_mps * factor_1 * pour->plan_area_m2;
    valley->lip_m = run->caught.low_trough.lip_out_m;
    struct hydraulics_sheet sheet =
        hydraulics_find_sheet(valley->flow_m3s / STREAM_WIDTH_M, pitch_1, SMOOTH_1);
    struct hydraulics_trough along = run->caught.low_trough;
    along.back_out_m *= root;
    along.lip_out_m *= root;
    valley->landing = hydraulics_find_landing(&sheet, pitch_1, &along, false);
    valley->landing.out_m /= root;
    valley->landing.spare_m /= root;
    valley->wants_splash = valley->landing.share_1 > 2.0 / 3.0;
}

/* ---- what is said -----------------------------------------------------------------------------
 */

static void say_run(struct layout_walk *walk, const struct layout_run *run) {
    const struct layout_catch *caught = &run->caught;
    if (caught->low.too_far_over) {
        base_add_issue(
            walk->issues,
            (struct base_issue){
                .code = BASE_ISSUE_ROOF_OVER_GUTTER,
                .object = run->name,
                .value = base_value_tick(units_tick_of_m(-caught->low_trough.back_out_m)),
                .limit = base_value_tick(units_tick_of_m(
                    (caught->low_trough.lip_out_m - caught->low_trough.back_out_m) / 2))});
    }
    if (walk->input->job->wants_aprons) { /* it is made, so nothing is left to advise */
        return;
    }
    if (caught->wants_apron && lands_far(&caught->low)) {
        base_add_issue(walk->issues,
                       (struct base_issue){
                           .code = BASE_ISSUE_STORM_LANDS_FAR,
                           .object = run->name,
                           .value = base_value_tick(units_tick_of_m(caught->low.storm.out_m)),
                           .limit = base_value_tick(units_tick_of_m(caught->low_trough.lip_out_m)),
                           .other = base_value_tick(caught->apron_tick)});
    } else if (caught->wants_apron) {
        base_add_issue(
            walk->issues,
            (struct base_issue){
                .code = BASE_ISSUE_GAP_WANTS_APRON,
                .object = run->name,
                .value = base_value_tick(units_tick_of_m(caught->low_trough.back_drop_m)),
                .limit = base_value_tick(units_tick_of_m(caught->edge.drip_leg_m)),
                .other = base_value_tick(caught->apron_tick)});
    }
}

/* One line for all eaves of which nobody said whether they have drip metal. */
static void say_drizzle(struct layout_walk *walk) {
    const struct layout *layout = walk->layout;
    const struct layout_run *first = NULL;
    double most_mps = 0.0;
    int64_t count = 0;
    for (size_t i = 0; i < layout->run_count; i++) {
        const struct layout_run *run = &layout->runs[i];
        if (!run->caught.drip_said && run->caught.creeps_rain_mps > 0.0) {
            first = first == NULL ? run : first;
            most_mps = fmax(most_mps, run->caught.creeps_rain_mps);
            count++;
        }
    }
    if (first != NULL) {
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_DRIZZLE_CREEPS,
                                           .object = first->name,
                                           .value = base_value_number(BASE_UNIT_MPS, most_mps),
                                           .other = base_value_text(
                                               base_and_more(walk->arena, count - 1, "eave"))});
    }
}

/* The valley's metal leaves less than half of the gutter's opening clear: that is mended first.
 * Source: 1 in of 5 failed and 4 in worked (FOUND); half is COMMON PRACTICE. */
static bool metal_reaches_far(struct layout_walk *walk, const struct roof_pour *pour,
                              const struct layout_run *run) {
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    const struct job_length *metal = &eave->section.valley_metal;
    size_t profile = walk->layout->lines[run->line].profile;
    double width_m = walk->input->shop->profiles[profile].section.inside_diameter_m;
    if (pour->drip || !metal->given || units_m_of_tick(metal->tick) <= width_m / 2) {
        return false;
    }
    base_add_issue(walk->issues,
                   (struct base_issue){.code = BASE_ISSUE_VALLEY_METAL_FAR,
                                       .mark = metal->mark,
                                       .object = pour->from,
                                       .value = base_value_tick(metal->tick),
                                       .limit = base_value_tick(units_tick_of_m(width_m / 3)),
                                       .other = base_value_text(run->name)});
    return true;
}

bool layout_find_catch(struct layout_walk *walk) {
    struct layout *layout = walk->layout;
    const struct roof *roof = walk->input->roof;
    layout->valleys = base_take(walk->arena, roof->pour_count + 1, sizeof *layout->valleys);
    if (layout->valleys == NULL) {
        return false;
    }
    for (size_t i = 0; i < layout->run_count; i++) {
        catch_run(walk, &layout->runs[i]);
        say_run(walk, &layout->runs[i]);
    }
    say_drizzle(walk);
    for (size_t i = 0; i < roof->pour_count; i++) {
        struct layout_valley *valley = &layout->valleys[i];
        valley->run = SIZE_MAX;
        for (size_t k = 0; k < layout->run_count && valley->run == SIZE_MAX; k++) {
            if (base_text_equal(layout->runs[k].name, roof->pours[i].onto)) {
                valley->run = k;
            }
        }
        bool falls = roof->pours[i].pitch_1 > 0.0 && roof->pours[i].plan_area_m2 > 0.0;
        if (valley->run == SIZE_MAX || !falls) {
            valley->run = SIZE_MAX;
            continue;
        }
        catch_valley(walk, &roof->pours[i], &layout->runs[valley->run], valley);
        bool far = metal_reaches_far(walk, &roof->pours[i], &layout->runs[valley->run]);
        if (!far && valley->wants_splash && !walk->input->job->wants_splash_pieces) {
            base_add_issue(walk->issues,
                           (struct base_issue){
                               .code = BASE_ISSUE_VALLEY_SHOOTS_OVER,
                               .object = roof->pours[i].from,
                               .value = base_value_tick(units_tick_of_m(valley->landing.out_m)),
                               .limit = base_value_tick(units_tick_of_m(valley->lip_m)),
                               .other = base_value_text(roof->pours[i].onto)});
        }
    }
    return true;
}

/* ---- why --------------------------------------------------------------------------------------
 */

static void number(struct layout_walk *walk, const char *name, enum base_unit unit, double value) {
    base_trace_input(walk->trace, name, base_value_number(unit, value));
}

static void explain_landing(struct layout_walk *walk, const struct hydraulics_catch *catch,
                            const struct hydraulics_trough *trough) {
    struct base_trace *trace = walk->trace;
    base_trace_leaf(trace, "out_m");
    base_trace_formula(trace,
                       "speed of uniform flow down the roof (Manning or laminar, the slower); then "
                       "free fall to the lip's level",
                       "SRC-92");
    number(walk, "flow per metre of edge", BASE_UNIT_M2, catch->storm_sheet.flow_m2s);
    number(walk, "speed", BASE_UNIT_MPS, catch->storm_sheet.speed_mps);
    number(walk, "lip below the edge", BASE_UNIT_M, trough->lip_drop_m);
    base_trace_leaf(trace, "share_1");
    base_trace_formula(trace, "(where it lands - back) / (lip - back)", "plane geometry");
    number(walk, "back", BASE_UNIT_M, trough->back_out_m);
    number(walk, "lip", BASE_UNIT_M, trough->lip_out_m);
}

void layout_explain_catch(struct layout_walk *walk) {
    static const char *const ends[] = {"/catch/high", "/catch/low"};
    for (size_t i = 0; i < walk->layout->run_count; i++) {
        const struct layout_run *run = &walk->layout->runs[i];
        for (int end = 0; end < 2; end++) {
            struct base_text path[] = {base_text_of("runs/"), run->name, base_text_of(ends[end])};
            base_trace_scope(walk->trace, base_join(walk->arena, 3, path));
            explain_landing(walk, end == 0 ? &run->caught.high : &run->caught.low,
                            end == 0 ? &run->caught.high_trough : &run->caught.low_trough);
        }
        struct base_text path[] = {base_text_of("runs/"), run->name, base_text_of("/catch")};
        base_trace_scope(walk->trace, base_join(walk->arena, 3, path));
        base_trace_leaf(walk->trace, "open_1");
        base_trace_formula(walk->trace, "lip ahead of the roof edge / width of the gutter",
                           "plane geometry");
        number(walk, "roof edge over the gutter", BASE_UNIT_M, -run->caught.low_trough.back_out_m);
        base_trace_leaf(walk->trace, "roof_s");
        base_trace_formula(walk->trace,
                           "time of concentration: depth of the sheet at the edge (Manning or "
                           "laminar, the slower) / rain on a metre of roof",
                           "SRC-92");
        number(walk, "depth at the edge", BASE_UNIT_M, run->caught.high.storm_sheet.depth_m);
        number(walk, "rain", BASE_UNIT_MPS, walk->input->rain_mps);
        base_trace_leaf(walk->trace, "creeps_rain_mps");
        base_trace_formula(walk->trace,
                           "the rain in which the sheet's momentum is twice one surface's tension; "
                           "0 with drip metal",
                           "SRC-93");
        if (run->caught.wants_apron) {
            base_trace_leaf(walk->trace, "apron_m");
            base_trace_formula(walk->trace,
                               "where the drip leg does not reach the gutter's back, or the "
                               "storm lands ahead of its back third",
                               "plane geometry");
            number(walk, "drip leg", BASE_UNIT_M, run->caught.edge.drip_leg_m);
        }
    }
}
