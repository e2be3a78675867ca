/* SPDX-License-Identifier: Apache-2.0 */
/* How often each reach goes over: gutter, outlet, strainer and pipe apart, then together, as built
 * and with something wrong. */
#include <math.h>

#include "layout/layout_inside.h"
#include "numeric/numeric.h"

/* The table's intensities at the job's duration, brought to the design rain: what the job adds to
 * the table (a share for a changing climate, say) it adds to every period. */
static struct hydraulics_rain_curve make_curve(const struct layout_walk *walk,
                                               double intensity_mps[RAIN_PERIODS_MAX]) {
    const struct layout_input *input = walk->input;
    const struct rain_table *table = input->table;
    struct hydraulics_rain_curve curve = {0};
    double design_mps = 0.0;
    if (table == NULL ||
        !rain_find_intensity(table, input->rain_s, input->rain_years, &design_mps) ||
        !(design_mps > 0.0)) {
        return curve;
    }
    curve.period_years = table->period_years;
    curve.intensity_mps = intensity_mps;
    curve.count = table->period_count;
    for (size_t i = 0; i < curve.count; i++) {
        intensity_mps[i] = 0.0; /* no data */
        if (rain_find_intensity(table, input->rain_s, table->period_years[i], &intensity_mps[i])) {
            intensity_mps[i] *= input->rain_mps / design_mps;
        }
    }
    return curve;
}

struct layout_limit layout_make_limit(const struct layout_walk *walk, double factor_1) {
    enum { RAIN_FIGURES = 4, YEARS_FIGURES = 3 };
    double intensity_mps[RAIN_PERIODS_MAX];
    struct hydraulics_rain_curve curve = make_curve(walk, intensity_mps);
    struct layout_limit limit = {
        .rain_mps = numeric_to_figures(walk->input->rain_mps * factor_1, RAIN_FIGURES)};
    limit.years = hydraulics_find_years(&curve, limit.rain_mps);
    limit.years.years = numeric_to_figures(limit.years.years, YEARS_FIGURES);
    return limit;
}

/* ---- one reach ------------------------------------------------------------------------------- */

static double inside_of(const struct layout_walk *walk, const struct layout_reach *reach) {
    const struct layout_outlet *outlet = &walk->layout->outlets[reach->outlet];
    return layout_outlet_inside(walk, walk->layout->lines[reach->line].profile, outlet->pipe);
}

static struct hydraulics_mouth mouth_of(const struct layout_walk *walk,
                                        const struct layout_reach *reach) {
    const struct layout_outlet *outlet = &walk->layout->outlets[reach->outlet];
    return (struct hydraulics_mouth){.diameter_m = inside_of(walk, reach),
                                     .other_flow_m3s =
                                         fmax(outlet->flow_m3s - reach->flow_m3s, 0.0),
                                     .strained = outlet->strained};
}

/* The gutter of a reach with that mouth; INFINITY where no water comes. */
static bool find_gutter(const struct hydraulics_channel *channel,
                        const struct hydraulics_mouth *mouth, double *factor_1) {
    if (!(hydraulics_channel_flow(channel) > 0.0)) {
        *factor_1 = (double)INFINITY;
        return true;
    }
    return hydraulics_find_capacity(channel, mouth, factor_1);
}

static double pipe_factor(const struct layout_outlet *outlet) {
    return hydraulics_spill_intensity(1.0, outlet->flow_m3s, outlet->pipe_flow_m3s);
}

bool layout_find_factor(const struct layout_walk *walk, size_t index, double *factor_1) {
    const struct layout_reach *reach = &walk->layout->reaches[index];
    struct hydraulics_mouth mouth = mouth_of(walk, reach);
    if (!find_gutter(&walk->channels[index], &mouth, factor_1)) {
        return false;
    }
    *factor_1 = fmin(*factor_1, pipe_factor(&walk->layout->outlets[reach->outlet]));
    return true;
}

/* Each part by itself: the gutter with a free end, outlet and strainer with the gutter full. */
static bool find_parts(const struct layout_walk *walk, size_t index, struct layout_often *often) {
    const struct layout_reach *reach = &walk->layout->reaches[index];
    const struct layout_outlet *outlet = &walk->layout->outlets[reach->outlet];
    double head_m = section_full_depth(&walk->channels[index].section);
    double inside_m = inside_of(walk, reach);
    struct hydraulics_mouth free_end = {.diameter_m = 0.0};
    double factors[HYDRAULICS_PARTS];
    if (!find_gutter(&walk->channels[index], &free_end, &factors[HYDRAULICS_PART_GUTTER])) {
        return false;
    }
    factors[HYDRAULICS_PART_OUTLET] = hydraulics_spill_intensity(
        1.0, outlet->flow_m3s, hydraulics_outlet_flow(inside_m, head_m, false));
    factors[HYDRAULICS_PART_STRAINER] = hydraulics_spill_intensity(
        1.0, outlet->flow_m3s, hydraulics_outlet_flow(inside_m, head_m, true));
    factors[HYDRAULICS_PART_PIPE] = pipe_factor(outlet);
    for (int i = 0; i < HYDRAULICS_PARTS; i++) {
        often->parts[i] = layout_make_limit(walk, factors[i]);
    }
    if (!outlet->strained) {
        factors[HYDRAULICS_PART_STRAINER] = (double)INFINITY;
    }
    struct hydraulics_rain_curve none = {0};
    often->first = hydraulics_find_often(&none, factors).first;
    return true;
}

/* The far end sunk: less fall; sunk below the outlet: a level floor, and the lip there nearer the
 * water by what is missing. DERIVED; on the safe side, for the true floor lies lower. */
static bool find_settled(const struct layout_walk *walk, size_t index, double *factor_1) {
    struct hydraulics_channel channel = walk->channels[index];
    struct hydraulics_mouth mouth = mouth_of(walk, &walk->layout->reaches[index]);
    double left_m =
        channel.slope_1 * channel.length_m - units_m_of_tick(walk->layout->amounts.settled_tick);
    channel.slope_1 = fmax(left_m, 0.0) / channel.length_m;
    mouth.spare_m = fmax(-left_m, 0.0);
    return find_gutter(&channel, &mouth, factor_1);
}

static bool find_sagged(const struct layout_walk *walk, size_t index, double *factor_1) {
    struct hydraulics_mouth mouth = mouth_of(walk, &walk->layout->reaches[index]);
    mouth.spare_m = units_m_of_tick(walk->layout->amounts.sagged_tick);
    return find_gutter(&walk->channels[index], &mouth, factor_1);
}

static bool find_troubles(const struct layout_walk *walk, size_t index, double built_1,
                          struct layout_often *often) {
    const struct layout_reach *reach = &walk->layout->reaches[index];
    double pipe_1 = pipe_factor(&walk->layout->outlets[reach->outlet]);
    double settled_1;
    double sagged_1;
    if (!find_settled(walk, index, &settled_1) || !find_sagged(walk, index, &sagged_1)) {
        return false;
    }
    double ice_1 = hydraulics_iced_share(&walk->channels[index].section,
                                         units_m_of_tick(walk->layout->amounts.ice_tick));
    often->troubles[LAYOUT_AS_BUILT] = layout_make_limit(walk, built_1);
    often->troubles[LAYOUT_SETTLED] = layout_make_limit(walk, fmin(settled_1, pipe_1));
    often->troubles[LAYOUT_SAGGED] = layout_make_limit(walk, fmin(sagged_1, pipe_1));
    often->troubles[LAYOUT_ICED] = layout_make_limit(walk, built_1 * ice_1);
    return true;
}

/* ---- where ------------------------------------------------------------------------------------
 */

/* Where the water stands highest when it just reaches the lip: at the outlet where the pipe backs
 * up. To the inch or centimetre, for the top of the water is flat. */
static bool find_place(const struct layout_walk *walk, size_t index, double built_1,
                       struct layout_often *often) {
    const struct layout *layout = walk->layout;
    const struct layout_reach *reach = &layout->reaches[index];
    double away_m = fabs(reach->outlet_m - reach->still_m);
    if (!isinf(built_1) && built_1 < pipe_factor(&layout->outlets[reach->outlet])) {
        struct hydraulics_mouth mouth = mouth_of(walk, reach);
        double flow_m3s = layout->outlets[reach->outlet].flow_m3s * built_1;
        struct hydraulics_rain rain = {
            .factor_1 = built_1,
            .outlet_head_m = hydraulics_outlet_head(mouth.diameter_m, flow_m3s, mouth.strained)};
        struct hydraulics_depths depths;
        if (!hydraulics_find_depths(&walk->channels[index], &rain, 1, &depths)) {
            return false;
        }
        double step_m = walk->input->job->system == UNITS_FT_IN ? 0.0254 : 0.01;
        away_m = fmin(floor(depths.greatest_x_m / step_m + 0.5) * step_m, away_m);
    }
    /* a hair on: what lies in a corner is the following run's, whatever the last bit says */
    static const double HAIR_M = 1e-7;
    double line_m = reach->still_m + (reach->towards_right ? away_m : -away_m) + HAIR_M;
    double x_m;
    often->over_run = layout_locate(layout, reach->line, line_m, &x_m);
    often->over_x_tick = units_tick_of_m(x_m);
    double rise_m = walk->channels[index].section.back_rise_m;
    often->edge = rise_m > 0.0 ? LAYOUT_EDGE_FRONT : LAYOUT_EDGE_BACK;
    return true;
}

/* ---- another rain -----------------------------------------------------------------------------
 */

static bool scale_inflows(struct base_arena *arena, double factor_1,
                          struct hydraulics_channel *channel) {
    struct hydraulics_knot *knots = base_take(arena, channel->knot_count, sizeof *knots);
    struct hydraulics_point *points = base_take(arena, channel->point_count + 1, sizeof *points);
    if (knots == NULL || points == NULL) {
        return false;
    }
    for (size_t i = 0; i < channel->knot_count; i++) {
        knots[i] = channel->knots[i];
        knots[i].lateral_m2s *= factor_1;
    }
    for (size_t i = 0; i < channel->point_count; i++) {
        points[i] = channel->points[i];
        points[i].flow_m3s *= factor_1;
    }
    channel->knots = knots;
    channel->points = points;
    channel->still_flow_m3s *= factor_1;
    return true;
}

bool layout_find_profile(struct base_arena *arena, const struct layout *layout, size_t reach,
                         double factor_1, struct hydraulics_profile *profile) {
    const struct layout_outlet *outlet = &layout->outlets[layout->reaches[reach].outlet];
    struct hydraulics_channel channel = *layout->reaches[reach].channel;
    channel.outlet_head_m =
        hydraulics_outlet_head(outlet->inside_m, outlet->flow_m3s * factor_1, outlet->strained);
    return scale_inflows(arena, factor_1, &channel) &&
           hydraulics_find_profile(arena, &channel, profile);
}

bool layout_find_often(struct layout_walk *walk) {
    for (size_t i = 0; i < walk->layout->reach_count; i++) {
        struct layout_often *often = &walk->layout->reaches[i].often;
        double built_1;
        if (!layout_find_factor(walk, i, &built_1) || !find_parts(walk, i, often) ||
            !find_troubles(walk, i, built_1, often) || !find_place(walk, i, built_1, often)) {
            return false;
        }
    }
    return true;
}
