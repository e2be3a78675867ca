/* SPDX-License-Identifier: Apache-2.0 */
/*
 * shop: what this shop forms, buys and stocks, and its habits. No other room holds a number of the
 * trade.
 *
 * Walk      before: units, material, section. after: tariff, job, layout, pieces.
 * The generic shop is the default; a shop file that overrides it comes with a later version.
 */
#ifndef EAVESMITH_SHOP_H
#define EAVESMITH_SHOP_H

#include "base/base.h"
#include "section/section.h"
#include "units/units.h"

enum { SHOP_PROFILES_MAX = 16, SHOP_PIPES_MAX = 16 };

/* One gutter the shop can form. */
struct shop_profile {
    const char *name;  /* "5 in" or "333": as said in the job and on papers */
    int64_t size_tick; /* nominal: the width across the top (US) or the girth (metric) */
    int us_table_in;   /* nominal inches for the US table; 0 = none */
    struct section_gutter section;
    const char *sheet; /* usual sheet: "16 oz" */
    const char *source;
};

/* One round plain downspout. */
struct shop_pipe {
    const char *name;      /* "3 in", "80 mm" */
    int64_t diameter_tick; /* inside */
    const char *source;
};

/* A habit with its source mark. */
struct shop {
    struct units_style style;                        /* system and rounding of the papers */
    struct shop_profile profiles[SHOP_PROFILES_MAX]; /* by rising size */
    size_t profile_count;
    struct shop_pipe pipes[SHOP_PIPES_MAX]; /* by rising size */
    size_t pipe_count;
    const char *usual_sheet;

    int64_t stock_tick;            /* longest gutter length made: 10 ft or 3 m */
    int64_t pipe_stock_tick;       /* downspout length bought or made */
    int64_t lap_tick;              /* gutter lap: 1 in */
    int64_t pipe_lap_tick;         /* telescoping lap: 1 1/2 in */
    int64_t run_past_tick;         /* a free end runs past the roof edge: 1 in */
    int64_t mitre_leg_tick;        /* leg of a made-up mitre, along the back edge: 12 in */
    int64_t shortest_piece_tick;   /* never a gutter piece under 24 in where it can be helped */
    int64_t joint_clear_tick;      /* joint centre to an outlet centre or corner, least: 12 in */
    int64_t outlet_from_end_tick;  /* outlet centre from the end of the gutter: 4 in or so */
    int64_t outlet_undersize_tick; /* outlet tube outside, under the downspout's inside: 1/8 in */
    double cap_flange_m;           /* of an end cap, all round its curve: 3/8 in */
    int64_t outlet_tube_tick;      /* tube length below the sole: 4 in */
    int64_t
        edge_over_back_tick; /* roof edge (drip) stands this far out over the gutter's back edge */
    int64_t back_rise_tick;  /* back edge above the front lip */
    int64_t
        hole_below_back_tick; /* top fastener hole of the bracket below the gutter's back edge */
    int64_t holes_apart_tick; /* its lowest fastener hole below its top one */
    double screw_diameter_m;  /* a bracket's two lag screws: 1/4 in of 2 in */
    double screw_root_m;      /* of the thread */
    double screw_thread_m;    /* tip left out */
    double screw_yield_pa;    /* in bending */
    double bracket_plate_m;   /* its metal under the heads: 1/8 in */
    double plate_bearing_pa;  /* of that metal */
    double old_wood_1;        /* what old wood holds of what new wood would: 3/4 */
    double wet_wood_1;        /* and wood that gets wet: 0.7 */
    int64_t
        bracket_first_tick; /* greatest distance of the first bracket from a gutter end: 12 in */
    int64_t bracket_max_snow_tick; /* 30 in */
    int64_t bracket_max_tick;      /* 36 in */
    int64_t apron_under_tick;  /* an apron strip lies under the drip metal and the cover: 4 in */
    int64_t apron_into_tick;   /* and reaches below the gutter's back edge: 1 in */
    int64_t nail_tick;         /* its nails apart: 3 in */
    int64_t splash_leg_tick;   /* a splash piece stands on the lip along both gutters: 12 in */
    int64_t splash_wide_tick;  /* its sheet, 1/2 in of it on the lip: 4 1/2 in */
    int64_t strap_max_tick;    /* downspout straps, greatest spacing: 6 ft */
    int64_t wall_clear_tick;   /* downspout clear of the wall: 1 in */
    int64_t foot_tick;         /* lower end of the shoe above the splash stone: 6 in */
    int64_t pipe_least_tick;   /* downspout never under 3 in */
    double pipe_least_area_m2; /* nor under 7 in2 */
    int64_t gutter_least_tick; /* gutter never under 4 in */
    double elbow_rad;          /* elbow of an offset: 60 deg */
    int64_t elbow_leg_tick;    /* centre length of an elbow from its vertex: 3 in */
    double fall_1;             /* usual fall: 1/16 in per ft */
    int64_t one_way_max_tick;  /* longer runs fall both ways from a high point: 40 ft */
    double manning_1;          /* 0.012 */
    int64_t trim_least_tick;   /* a doubt of an eave's length that is taken up unseen: 1/2 in */
    int64_t trim_most_tick;    /* a doubt to be measured again, not trimmed: 3 in */
    int64_t trim_round_tick;   /* what is left long is rounded up to this: 1/8 in */
    double template_over_rad;  /* a mitre whose angle is known worse wants a template: 1 deg */
    int64_t settled_tick;      /* what is asked of the water: a far end sunk by this much, */
    int64_t sagged_tick;       /* a sag between brackets, */
    int64_t ice_tick;          /* ice on the sole. 1/2, 1/4, 1 in */
    double barrel_m3;          /* a rain barrel: 55 gal, 200 l */
    int64_t deck_edge_tick;    /* the lowest edge of a flat deck above its scupper's sill: 6 in */
    bool outlet_strained;      /* outlets are counted as strained */
    double level_dead_band_1;  /* a size passes when capacity >= flow x (1 - this): 1e-9 */
    int rivets_per_joint;      /* in a lap */
    double solder_kgm;         /* per metre of lap seam */
    double expansion_limit_m;  /* 40 ft between joints */
};

/* The generic shop for a feet-inch or a metric job. Sources beside each number in shop.c. */
struct shop shop_default(enum units_system system);

/* Lip clearance below the line of the roof: 1 in to 2/12, 3/4 to 5/12, 1/2 to 8/12, 1/4 above. */
int64_t shop_lip_clearance(double pitch_1);

/* The profile or pipe of that name or size text ("5 in", "5\"", "333"); NULL when the shop has
 * none. */
const struct shop_profile *shop_find_profile(const struct shop *shop, struct base_text name);
const struct shop_pipe *shop_find_pipe(const struct shop *shop, struct base_text name);

#endif
