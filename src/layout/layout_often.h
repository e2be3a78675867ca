/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How often it does not work, and what happens when something is wrong with it. Part of layout.h,
 * which includes it; other rooms include "layout/layout.h".
 */
#ifndef EAVESMITH_LAYOUT_OFTEN_H
#define EAVESMITH_LAYOUT_OFTEN_H

#include "hydraulics/hydraulics.h"

/* The rain in which something just gives way, to four figures, and the years between such rains to
 * three. Without a rain table the years cannot be told: their table is HYDRAULICS_TABLE_EMPTY. */
struct layout_limit {
    double rain_mps; /* INFINITY: no rain does, for no water comes */
    struct hydraulics_years years;
};

/* What may be wrong with a gutter that was built as drawn. */
enum layout_trouble {
    LAYOUT_AS_BUILT = 0,
    LAYOUT_SETTLED, /* its far end has sunk by the stated amount */
    LAYOUT_SAGGED,  /* it hangs through between two brackets, where the water stands highest */
    LAYOUT_ICED     /* ice on its sole, the outlet kept open */
};
enum { LAYOUT_TROUBLES = 4 };

/* Over which edge it goes: the front lip, or the back, against the house, where it is no higher. */
enum layout_edge { LAYOUT_EDGE_FRONT = 0, LAYOUT_EDGE_BACK };

/* Of one reach. */
struct layout_often {
    struct layout_limit parts[HYDRAULICS_PARTS];   /* each alone; the strainer also where none is */
    enum hydraulics_part first;                    /* of those that are there */
    struct layout_limit troubles[LAYOUT_TROUBLES]; /* gutter, outlet and pipe together */
    enum layout_edge edge;
    size_t over_run; /* where it goes over first, as built */
    int64_t over_x_tick;
};

/* One outlet shut, all others open. */
struct layout_blocked {
    bool relieved; /* the water reaches another outlet over a high point */
    struct layout_limit limit;
    double
        fill_s; /* how long the design rain takes to fill the gutter there to the lip, from dry */
};

/* The stated amounts: the job's, or the shop's. */
struct layout_amounts {
    int64_t settled_tick;
    int64_t sagged_tick;
    int64_t ice_tick;
};

#endif
