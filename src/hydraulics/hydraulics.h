/* SPDX-License-Identifier: Apache-2.0 */
/*
 * hydraulics: what water does in a gutter, an outlet, a downspout; the code tables beside it.
 * A formula room: numbers in, numbers out. It has never heard of a house.
 *
 * Walk      before: base, numeric, units, section. after: layout, storm.
 * Units     SI. Theory page: docs/theory/hydraulics.md.
 * Memory    profiles live in the arena handed in.
 */
#ifndef EAVESMITH_HYDRAULICS_H
#define EAVESMITH_HYDRAULICS_H

#include "base/base.h"
#include "section/section.h"

#define HYDRAULICS_GRAVITY_MPS2 9.80665

/* ---- level formulas ------------------------------------------------------------------------ */

/* Q = 0.52 w^2.5 (cfs, ft). Source: Beij 1934 in EPA SWMM vol. III eq. 6-68 (FOUND). */
double hydraulics_level_flow(double width_m);
/* Its inverse: the width that carries flow. */
double hydraulics_level_width(double flow_m3s);

/* A level box of wood or metal: Q = 7.75 m^1.6 (w/L)^0.3 w^2.5, m = depth/width. Source: the same,
 * eq. 6-69 (FOUND). */
double hydraulics_level_box_flow(double width_m, double depth_1, double length_m);
double hydraulics_level_box_width(double flow_m3s, double depth_1, double length_m);

/* ---- the physics: steady spatially varied flow ---------------------------------------------- */

/* Inflow per metre along the channel: linear between knots. x_m rises from the still end (0) to the
 * outlet. */
struct hydraulics_knot {
    double x_m;
    double lateral_m2s; /* inflow per metre at x, m3/s per m */
};

struct hydraulics_point {
    double x_m;
    double flow_m3s; /* a valley or corner that pours in here */
};

/* A mitre on the way: it takes this share of the stream's own momentum Q^2/(gA) from it. */
struct hydraulics_bend {
    double x_m; /* between the ends of the channel */
    double loss_1;
};
/* What a sharp mitre takes: all that does not point the new way, 1 - cos(turn). DERIVED; a code
 * takes 15 % of the capacity for any bend over 10 deg instead (FOUND). */
double hydraulics_mitre_loss(double turn_rad);

struct hydraulics_channel {
    struct section_gutter section;
    double length_m;
    double slope_1;   /* fall towards the outlet, >= 0 */
    double manning_1; /* n, SI */
    const struct hydraulics_knot
        *knots; /* [knot_count >= 2], x from 0 to length; steps are two knots at one x */
    size_t knot_count;
    const struct hydraulics_point *points; /* [point_count], by rising x */
    size_t point_count;
    const struct hydraulics_bend *bends; /* [bend_count], by rising x; usually none */
    size_t bend_count;
    double still_flow_m3s; /* flow that already arrives at x = 0 (usually 0) */
    double outlet_head_m; /* depth the outlet needs for its whole flow; the end depth is the greater
                             of this and critical */
    /* 0 = as many as an error of 1e-4 asks for; else a march of that many even steps, the slow way
     * by which the quick one is checked */
    size_t steps;
};

enum hydraulics_control {
    HYDRAULICS_CONTROL_OUTLET = 0, /* critical at the outlet */
    HYDRAULICS_CONTROL_INTERIOR,   /* water shoots somewhere: control_x_m is where it begins */
    HYDRAULICS_CONTROL_DROWNED     /* the outlet's head sets the depth all along */
};

struct hydraulics_station {
    double x_m;
    double depth_m;
    double flow_m3s;
};

struct hydraulics_profile {
    enum hydraulics_control control;
    double control_x_m;   /* where the control is: length_m, or x_c */
    double still_depth_m; /* at x = 0 */
    double end_depth_m;   /* at the outlet */
    /* With fall it is at neither end. Where a point pours into shooting water the heap there counts
     * too, though no station shows it. */
    double greatest_depth_m;
    double greatest_x_m;
    bool overflows;    /* the water would stand above the lip; depths are then capped at the lip */
    double residual_1; /* greatest |dM/dx - A (S0 - Sf)| over the stations, as a share of the
                          greatest M / length */
    double error_1;    /* estimate of the greatest error of a depth, as a share of it */
    /* [station_count], x rising; two at one x where a point flows in or the water jumps */
    struct hydraulics_station *stations;
    size_t station_count;
};

/*
 * dM/dx = A (S0 - Sf), M = Q^2/(gA) + A ybar, solved from the control up, by a few polynomials
 * where the water is tranquil all along and by a march where it is not; never divides by 1 - Fr^2.
 * A point inflow joins without x-momentum: M is continuous across it (Q jumps). Above a bend M is
 * greater by what it takes.
 * Source: trade/hydraulics H (momentum form, factor 2 on the lateral term), Chow 1959, USBR Design
 * of Small Dams table 9-3. False only when the arena failed.
 */
bool hydraulics_find_profile(struct base_arena *arena, const struct hydraulics_channel *channel,
                             struct hydraulics_profile *profile);

/* The water that stands in the channel: by trapezoids over its stations. */
double hydraulics_profile_volume(const struct section_gutter *section,
                                 const struct hydraulics_profile *profile);

/* ---- the same gutter in many rains -------------------------------------------------------------
 */

struct hydraulics_rain {
    double factor_1;      /* on every inflow of the channel */
    double outlet_head_m; /* in this rain; the channel's own is not looked at */
    /* Of a rain that spills nothing but that is wanted, which is quick to say: its depths may be
     * those of the lip all along. */
    bool only_whether;
};

struct hydraulics_depths {
    double still_depth_m;
    double end_depth_m;
    double greatest_depth_m;
    double greatest_x_m;
    double error_1;
    enum hydraulics_control control;
    bool overflows;
};

/*
 * What hydraulics_find_profile says of each rain but its stations, each found from the one before:
 * quickest when they rise. False only when memory failed.
 */
bool hydraulics_find_depths(const struct hydraulics_channel *channel,
                            const struct hydraulics_rain *rains, size_t count,
                            struct hydraulics_depths *depths);

/* All that flows into the channel. */
double hydraulics_channel_flow(const struct hydraulics_channel *channel);

double hydraulics_critical_depth(const struct section_gutter *section, double flow_m3s);

/* ---- outlet and downspout -------------------------------------------------------------------- */

enum hydraulics_outlet_law { HYDRAULICS_OUTLET_WEIR = 0, HYDRAULICS_OUTLET_ORIFICE };

/* Flow through a round outlet in the sole: weir to h = D/2, orifice above; strained halves it. EN
 * 12056-3 table 7 (MEMORY). */
double hydraulics_outlet_flow(double diameter_m, double head_m, bool strained);
/* An outlet of any other shape, by the length of its rim and its area: EN 12056-3 table 7 (MEMORY).
 */
double hydraulics_shape_outlet_flow(double rim_m, double area_m2, double head_m, bool strained);
/* The head that passes flow: the inverse of the above. */
double hydraulics_outlet_head(double diameter_m, double flow_m3s, bool strained);
/* The same by the US weir 3.33 P h^1.5 (cfs, ft; MEMORY) or orifice 0.6 A sqrt(2gh) (FOUND), the
 * lesser: to be shown beside it, not to size by. */
double hydraulics_us_outlet_flow(double diameter_m, double head_m, bool strained);
enum hydraulics_outlet_law hydraulics_outlet_law(double diameter_m, double head_m);

/* A rectangular scupper, open above and free on its far side: Q = 3.33 b h^1.5 (cfs, ft), SRC-158
 * (MEMORY; published heads pass up to 3.5 % less). Flow at a depth over its sill, and its inverse.
 */
double hydraulics_scupper_flow(double width_m, double depth_m);
double hydraulics_scupper_depth(double width_m, double flow_m3s);

enum hydraulics_leader_rule {
    HYDRAULICS_LEADER_7_24 =
        0, /* Wyly-Eaton at 7/24 full; NSPC 2006 table 13.6.1 (FOUND); the default */
    HYDRAULICS_LEADER_UPC, /* vertical leader table (FOUND): 2, 3, 4, 5, 6, 8 in; by 27.8 r^(5/3)
                              D^(8/3) with its own r */
    HYDRAULICS_LEADER_EN   /* EN 12056-3 eq. 8, f = 0.33, kb = 0.25 mm (MEMORY) */
};
double hydraulics_leader_flow(enum hydraulics_leader_rule rule, double inside_diameter_m);
/* EN 12056-3 eq. 8 at a filling of 0.20 to 0.33; kb = 0.25 mm. MEMORY. */
double hydraulics_en_leader_flow(double filling_1, double inside_diameter_m);
/* Wyly-Eaton itself: filling = share of the section that is water. MEMORY, confirmed by SRC-08. */
double hydraulics_stack_flow(double filling_1, double inside_diameter_m);
/* The speed falling water comes to, 3.0 (Q/D)^0.4 ft/s, and the fall that takes, 0.052 V^2 ft; gpm,
 * in. MEMORY. */
double hydraulics_stack_speed(double flow_m3s, double inside_diameter_m);
double hydraulics_stack_fall(double speed_mps);
/* The trade's old rule, one square inch for 1200 ft2 at 1 in/h (FOUND). */
double hydraulics_leader_area(double flow_m3s);
/* A round drain that runs full, Manning. */
double hydraulics_drain_flow(double inside_diameter_m, double slope_1, double manning_1);

/* ---- the codes beside it ----------------------------------------------------------------------
 */

/*
 * US plumbing table, semicircular gutters, ft2 at 1 in/h (MEMORY): nominal 3,4,5,6,7,8,10 in at
 * 1/16, 1/8, 1/4, 1/2 in/ft. The column is the steepest one not above slope (level counts as 1/16,
 * said in the theory page). False outside the table.
 */
bool hydraulics_us_table_flow(double nominal_diameter_m, double slope_1, double *flow_m3s);
/* Area at 1 in/h of the table cell itself, for tests and papers. */
bool hydraulics_us_table_area(int nominal_in, int column, double *area_ft2);

/* EN 12056-3: Q_N = 2.78e-5 A_E^1.25 (l/s, mm2) x 0.9 x F_L(L/W) x bend 0.85 if bends. fall <= 3
 * mm/m counts as level. */
struct hydraulics_en_input {
    struct section_gutter section;
    double length_m; /* still end to outlet */
    double slope_1;
    bool has_bend; /* a change of direction over 10 deg on the way */
};
double hydraulics_en_nominal_flow(const struct section_gutter *section); /* Q_N */
double hydraulics_en_length_factor(double length_over_depth_1, double slope_1);
double hydraulics_en_flow(const struct hydraulics_en_input *input); /* Q_L with all factors */
/* Effective area factor over plan: EN/BS with wind 26 deg: 1 + tan(pitch)/2. */
double hydraulics_en_wind_factor(double pitch_1);
/* AS/NZS 3500.3, rain driven by wind: plan area + half of what walls and roofs show to the wind
 * more than they shelter (FOUND). */
double hydraulics_wind_area(double plan_area_m2, double facing_area_m2, double sheltered_area_m2);
/* Handbook pitch factor on plan area: 1.00 1.05 1.10 1.20 1.30; between rows the higher one. */
double hydraulics_pitch_factor(double pitch_1);

/* Uniform flow, Manning. */
double hydraulics_uniform_flow(const struct section_gutter *section, double depth_m, double slope_1,
                               double manning_1);

/* The rest of the room: how often it does not work, and whether the gutter catches the sheet. */
#include "hydraulics/hydraulics_catch.h"
#include "hydraulics/hydraulics_years.h"

#endif
