/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The generic shop. Every number stands beside its source: SRC tags are in docs/sources.md, the
 * word behind is how the number is known (FOUND, MEMORY, COMMON PRACTICE, DERIVED). Metric habits
 * are the feet-inch habit in the nearest round millimetres (COMMON PRACTICE) unless said otherwise.
 */
#include "shop/shop.h"

#include <assert.h>

#define INCHES(inches)  ((inches)*0.0254)
#define MILLIMETRES(mm) ((mm)*0.001)

static const double SHOP_PI = 3.14159265358979323846;

/* ---- what the shop can form ---------------------------------------------------------------- */

/*
 * US half-round, single bead. Size = clear width across the top, inside (SRC-31, FOUND).
 * Bead: about 1/2 in on small sizes (SRC-31, FOUND), 5/8 to 3/4 in on 5 to 8 in (SRC-40, COMMON
 * PRACTICE). Back allowance: chosen so that 16 oz sheet gives the girths published in 1925, 10 in
 * for the 5 in and 12 1/4 in for the 6 in gutter (SRC-30 p68, FOUND); the 5 in one is 0.2164 and
 * not 0.22 so that it still comes out of a 10 in strip. The other sizes by the same formula
 * (SRC-45, DERIVED). The back stands over the lip by that allowance and no more: the habit of 1/2
 * in (back_rise_tick) is had by how the gutter is hung, and on the 5 in one only so. Sheet 16 oz,
 * 20 oz from 6 in up (SRC-40, COMMON PRACTICE).
 */
struct us_size {
    const char *name;
    int size_in;
    double bead_in;
    double allowance_in;
    const char *sheet;
    const char *source;
};

static const struct us_size us_sizes[] = {
    {"4 in", 4, 0.5, 0.50, "16 oz", "SRC-45"},  {"5 in", 5, 0.625, 0.2164, "16 oz", "SRC-30"},
    {"6 in", 6, 0.75, 0.50, "20 oz", "SRC-30"}, {"7 in", 7, 0.75, 0.50, "20 oz", "SRC-45"},
    {"8 in", 8, 0.75, 0.50, "20 oz", "SRC-45"},
};

/*
 * EN 612 half-round, the size is the girth (SRC-34, FOUND): inside diameter d, bead, front depth
 * dv, height f of the back over the front. The straight part is dv - d/2 (SRC-45, DERIVED). Copper
 * 0.6 mm to 333, 0.7 mm for 400 and 500 (SRC-34, FOUND).
 */
struct en_size {
    const char *name;
    int girth_mm;
    double diameter_mm;
    double bead_mm;
    double front_depth_mm;
    double back_rise_mm;
    const char *sheet;
};

static const struct en_size en_sizes[] = {
    {"250", 250, 105, 18, 61.5, 10, "0.6 mm"}, {"280", 280, 127, 18, 72.5, 11, "0.6 mm"},
    {"333", 333, 153, 20, 86.5, 11, "0.6 mm"}, {"400", 400, 192, 22, 107, 11, "0.7 mm"},
    {"500", 500, 250, 22, 136, 21, "0.7 mm"},
};

/* Plain round leaders 3, 4, 5, 6 in: areas 7.07, 12.57, 19.63, 28.27 in2 (SRC-36, FOUND). */
static const struct shop_pipe us_pipes[] = {
    {"3 in", 3 * UNITS_TICK_PER_INCH, "SRC-36"},
    {"4 in", 4 * UNITS_TICK_PER_INCH, "SRC-36"},
    {"5 in", 5 * UNITS_TICK_PER_INCH, "SRC-36"},
    {"6 in", 6 * UNITS_TICK_PER_INCH, "SRC-36"},
};

/* European diameters (SRC-34, FOUND). 60 mm is under pipe_least_tick: only where a job names it. */
static const struct shop_pipe en_pipes[] = {
    {"60 mm", 60 * UNITS_TICK_PER_MM, "SRC-34"},   {"80 mm", 80 * UNITS_TICK_PER_MM, "SRC-34"},
    {"100 mm", 100 * UNITS_TICK_PER_MM, "SRC-34"}, {"120 mm", 120 * UNITS_TICK_PER_MM, "SRC-34"},
    {"150 mm", 150 * UNITS_TICK_PER_MM, "SRC-34"},
};

static void add_us_profiles(struct shop *shop) {
    for (size_t i = 0; i < sizeof us_sizes / sizeof us_sizes[0]; i++) {
        const struct us_size *size = &us_sizes[i];
        shop->profiles[shop->profile_count++] =
            (struct shop_profile){.name = size->name,
                                  .size_tick = size->size_in * UNITS_TICK_PER_INCH,
                                  .us_table_in = size->size_in,
                                  .section = {.inside_diameter_m = INCHES(size->size_in),
                                              .straight_m = 0,
                                              .bead_diameter_m = INCHES(size->bead_in),
                                              .back_rise_m = INCHES(size->allowance_in),
                                              .back_allowance_m = INCHES(size->allowance_in)},
                                  .sheet = size->sheet,
                                  .source = size->source};
    }
    for (size_t i = 0; i < sizeof us_pipes / sizeof us_pipes[0]; i++) {
        shop->pipes[shop->pipe_count++] = us_pipes[i];
    }
}

static void add_en_profiles(struct shop *shop) {
    for (size_t i = 0; i < sizeof en_sizes / sizeof en_sizes[0]; i++) {
        const struct en_size *size = &en_sizes[i];
        shop->profiles[shop->profile_count++] = (struct shop_profile){
            .name = size->name,
            .size_tick = size->girth_mm * UNITS_TICK_PER_MM,
            .us_table_in = 0,
            .section = {.inside_diameter_m = MILLIMETRES(size->diameter_mm),
                        .straight_m = MILLIMETRES(size->front_depth_mm - size->diameter_mm / 2),
                        .bead_diameter_m = MILLIMETRES(size->bead_mm),
                        .back_rise_m = MILLIMETRES(size->back_rise_mm),
                        .back_allowance_m = MILLIMETRES(size->back_rise_mm)},
            .sheet = size->sheet,
            .source = "SRC-34"};
    }
    for (size_t i = 0; i < sizeof en_pipes / sizeof en_pipes[0]; i++) {
        shop->pipes[shop->pipe_count++] = en_pipes[i];
    }
}

/* ---- habits -------------------------------------------------------------------------------- */

/* Habits that are the same number in either system. */
static void add_common_habits(struct shop *shop) {
    shop->cap_flange_m = 0.009525; /* as an outlet's, SRC-36, FOUND; here COMMON PRACTICE */
    shop->pipe_least_area_m2 = 7 * INCHES(1) * INCHES(1); /* 7 in2 but for small porches: SRC-36,
                                                             FOUND second-hand */
    shop->elbow_rad = SHOP_PI / 3; /* 60 deg of 45, 60, 75: SRC-40, COMMON PRACTICE */
    shop->manning_1 = 0.012;       /* between 0.011 new and 0.013 aged or soldered laps: SRC-40,
                                      COMMON PRACTICE */
    /* 1 degree: the end of a 12 in leg then stands 1/10 in off its eave, shared by both legs of a
       made-up mitre; more shows and pulls the laps open: SRC-107, COMMON PRACTICE */
    shop->template_over_rad = SHOP_PI / 180;
    shop->outlet_strained = true; /* each outlet gets a wire strainer: SRC-30 p64 and p71, FOUND */
    shop->level_dead_band_1 = 1e-9; /* no trade number: keeps a tie from turning on the last bit */
    shop->rivets_per_joint = 5;     /* 4 to 6 in a 5 in joint: SRC-40, COMMON PRACTICE */
    /* 0.08 lb/ft, the middle of 0.06 to 0.10 with fillet, tinning and waste: SRC-40, COMMON
       PRACTICE (the bare film is 0.0385 lb/ft: SRC-44, DERIVED) */
    shop->solder_kgm = 0.08 * 0.45359237 / 0.3048;
}

static void add_us_habits(struct shop *shop) {
    const int64_t inch = UNITS_TICK_PER_INCH;
    const int64_t foot = UNITS_TICK_PER_FOOT;
    shop->usual_sheet = "16 oz";       /* gutters of 16 oz: SRC-30, FOUND */
    shop->stock_tick = 10 * foot;      /* 10 ft lengths: SRC-30 p41, FOUND */
    shop->pipe_stock_tick = 10 * foot; /* SRC-40, COMMON PRACTICE */
    shop->lap_tick = inch;             /* SRC-30 p41, FOUND */
    /* half of the run past the roof edge, and half of a lap, may be lost: SRC-107, COMMON PRACTICE;
       over 3 in it is no doubt of a tape but a length to be taped again: SRC-107 */
    shop->trim_least_tick = inch / 2;
    shop->trim_most_tick = 3 * inch;
    shop->trim_round_tick = inch / 8;
    shop->pipe_lap_tick = inch * 3 / 2; /* telescoping 1 1/2 in: SRC-37, FOUND (contract clause) */
    shop->run_past_tick = inch;         /* SRC-40, COMMON PRACTICE */
    shop->mitre_leg_tick = 12 * inch;   /* 8 to 12 in: SRC-40, COMMON PRACTICE */
    shop->shortest_piece_tick = 24 * inch;     /* SRC-40, COMMON PRACTICE */
    shop->joint_clear_tick = 12 * inch;        /* SRC-40, COMMON PRACTICE */
    shop->outlet_from_end_tick = 6 * inch;     /* to the outlet's centre: SRC-40, COMMON PRACTICE */
    shop->outlet_undersize_tick = inch / 8;    /* SRC-36, FOUND */
    shop->outlet_tube_tick = 4 * inch;         /* at least 4 in: SRC-36, FOUND */
    shop->edge_over_back_tick = inch;          /* SRC-40, COMMON PRACTICE */
    shop->back_rise_tick = inch / 2;           /* 1/2 in or more: SRC-40, COMMON PRACTICE */
    shop->hole_below_back_tick = inch * 3 / 4; /* SRC-40, COMMON PRACTICE */
    shop->holes_apart_tick = inch * 3 / 2;   /* two screws, one under the other: COMMON PRACTICE */
    shop->bracket_first_tick = 12 * inch;    /* within 6 to 12 in: SRC-40, COMMON PRACTICE */
    shop->bracket_max_snow_tick = 30 * inch; /* SRC-35, FOUND */
    shop->bracket_max_tick = 36 * inch;      /* SRC-35, FOUND */
    shop->apron_under_tick = 4 * inch;       /* COMMON PRACTICE, with the four below */
    shop->apron_into_tick = inch;
    shop->nail_tick = 3 * inch;
    shop->splash_leg_tick = 12 * inch;
    shop->splash_wide_tick = inch * 9 / 2;
    shop->strap_max_tick = 6 * foot;    /* not over 6 to 10 ft: SRC-40, COMMON PRACTICE */
    shop->wall_clear_tick = inch;       /* SRC-37, FOUND (contract clause) */
    shop->foot_tick = 6 * inch;         /* not over 6 in above the splash block: SRC-37, FOUND */
    shop->pipe_least_tick = 3 * inch;   /* round leaders not below 3 in: SRC-30 p64, FOUND */
    shop->gutter_least_tick = 4 * inch; /* half-round smallest 4 in: SRC-30 p64, FOUND */
    shop->elbow_leg_tick = 3 * inch;    /* SRC-40, COMMON PRACTICE */
    shop->fall_1 = 1.0 / 192;           /* not under 1 in per 16 ft: SRC-30 p64, FOUND */
    /* no trade numbers: amounts that a string shows before the eye does; a job says its own */
    shop->settled_tick = inch / 2;
    shop->sagged_tick = inch / 4;
    shop->ice_tick = inch;
    shop->barrel_m3 = 55.0 * 231.0 * 0.0254 * 0.0254 * 0.0254; /* 55 gal: SRC-40, COMMON PRACTICE */
    shop->deck_edge_tick = 6 * inch;       /* least upstand of a flat roof, COMMON PRACTICE */
    shop->one_way_max_tick = 40 * foot;    /* high point in runs over 40 ft: SRC-46, FOUND */
    shop->expansion_limit_m = 40 * 0.3048; /* published 25 to 50 ft; 40 ft: SRC-40, COMMON PRACTICE
                                              (the safe default of the published spacings) */
}

/* Lag screws 1/4 x 2 in: root, thread without tip and yield of SRC-152 (MEMORY); the plate is cast
 * brass of 33,000 psi, which bears 1.375 times that (DERIVED as the standard does for steel). */
static void add_screws(struct shop *shop) {
    const double psi_pa = 6894.757293168;
    shop->screw_diameter_m = 0.25 * 0.0254;
    shop->screw_root_m = 0.173 * 0.0254;
    shop->screw_thread_m = 1.094 * 0.0254;
    shop->screw_yield_pa = 70000 * psi_pa;
    shop->bracket_plate_m = 0.125 * 0.0254;
    shop->plate_bearing_pa = 1.375 * 33000 * psi_pa;
    shop->old_wood_1 = 0.75; /* COMMON PRACTICE: probe first */
    shop->wet_wood_1 = 0.7;  /* SRC-152, MEMORY */
}

static void add_en_habits(struct shop *shop) {
    const int64_t mm = UNITS_TICK_PER_MM;
    shop->usual_sheet = "0.6 mm";      /* to size 333: SRC-34, FOUND */
    shop->stock_tick = 3000 * mm;      /* SRC-40, COMMON PRACTICE */
    shop->pipe_stock_tick = 3000 * mm; /* SRC-40, COMMON PRACTICE */
    shop->lap_tick = 25 * mm;          /* 1 in */
    shop->trim_least_tick = 12 * mm;   /* 1/2 in */
    shop->trim_most_tick = 75 * mm;    /* 3 in */
    shop->trim_round_tick = 5 * mm;
    shop->pipe_lap_tick = 40 * mm;         /* 1 1/2 in */
    shop->run_past_tick = 25 * mm;         /* 1 in */
    shop->mitre_leg_tick = 300 * mm;       /* 12 in */
    shop->shortest_piece_tick = 600 * mm;  /* 24 in */
    shop->joint_clear_tick = 300 * mm;     /* 12 in */
    shop->outlet_from_end_tick = 150 * mm; /* 6 in */
    shop->outlet_undersize_tick = 3 * mm;  /* 1/8 in */
    shop->outlet_tube_tick = 100 * mm;     /* 4 in, a hair under: 101.6 */
    shop->edge_over_back_tick = 25 * mm;   /* 1 in */
    shop->back_rise_tick = 10 * mm; /* the least f of SRC-34, FOUND; each profile has its own */
    shop->hole_below_back_tick = 20 * mm;   /* 3/4 in */
    shop->holes_apart_tick = 38 * mm;       /* 1 1/2 in */
    shop->bracket_first_tick = 300 * mm;    /* 12 in */
    shop->bracket_max_snow_tick = 750 * mm; /* 30 in, on the safe side */
    shop->bracket_max_tick = 900 * mm;      /* 36 in, on the safe side */
    shop->apron_under_tick = 100 * mm;      /* 4 in */
    shop->apron_into_tick = 25 * mm;        /* 1 in */
    shop->nail_tick = 75 * mm;              /* 3 in */
    shop->splash_leg_tick = 300 * mm;       /* 12 in */
    shop->splash_wide_tick = 115 * mm;      /* 4 1/2 in */
    shop->strap_max_tick = 1800 * mm;       /* 6 ft, on the safe side */
    shop->wall_clear_tick = 25 * mm;        /* 1 in */
    shop->foot_tick = 150 * mm;             /* 6 in */
    shop->pipe_least_tick = 80 * mm; /* the first European diameter over 3 in (76.2 mm): SRC-30 p64
                                        FOUND, the step DERIVED */
    shop->gutter_least_tick = 100 * mm; /* 4 in across; size 250 is 105 mm across */
    shop->elbow_leg_tick = 75 * mm;     /* 3 in */
    /* 5 mm/m: the round number next to 1/16 in/ft (5.2), and the least that SRC-41 (FOUND) counts
       as a gutter with fall; to 3 mm/m counts as level */
    shop->settled_tick = 12 * mm; /* no trade numbers: see the other system */
    shop->sagged_tick = 6 * mm;
    shop->ice_tick = 25 * mm;
    shop->barrel_m3 = 0.2;           /* 200 l: SRC-40, COMMON PRACTICE */
    shop->deck_edge_tick = 150 * mm; /* least upstand of a flat roof, COMMON PRACTICE */
    shop->fall_1 = 1.0 / 200;
    shop->one_way_max_tick = 12000 * mm; /* 40 ft, on the safe side */
    shop->expansion_limit_m = 12;        /* copper gutter free in brackets: SRC-42, FOUND */
}

struct shop shop_default(enum units_system system) {
    struct shop shop = {.style = units_default_style(system)};
    add_common_habits(&shop);
    add_screws(&shop);
    switch (system) {
    case UNITS_FT_IN:
        add_us_profiles(&shop);
        add_us_habits(&shop);
        break;
    case UNITS_MM:
        add_en_profiles(&shop);
        add_en_habits(&shop);
        break;
    }
    return shop;
}

/* ---- lip clearance ------------------------------------------------------------------------- */

struct lip_anchor {
    double pitch_12; /* rise in 12 */
    double clearance_in;
};

/*
 * The table's bands to 8:12, straight lines in the pitch between them: 1 in to 2:12, 3/4 in from 3
 * to 5:12, 1/2 in from 6 to 8:12 (SRC-38, FOUND). From 9:12 on the line from 1/2 in at 7:12 to
 * 1/4 in at 12:12 (SRC-39, MEMORY; 0.40 in at 9:12), which holds the lip lower, so safer from snow,
 * than the table's 1/4 in from 9:12 up.
 */
static const struct lip_anchor lip_anchors[] = {
    {2, 1.0}, {3, 0.75}, {5, 0.75}, {6, 0.5}, {8, 0.5}, {9, 0.4}, {12, 0.25},
};

int64_t shop_lip_clearance(double pitch_1) {
    const size_t count = sizeof lip_anchors / sizeof lip_anchors[0];
    const double pitch_12 = pitch_1 * 12;
    double clearance_in = lip_anchors[count - 1].clearance_in;
    assert(pitch_1 >= 0);
    if (pitch_12 <= lip_anchors[0].pitch_12) {
        clearance_in = lip_anchors[0].clearance_in;
    } else {
        for (size_t i = 1; i < count; i++) {
            const struct lip_anchor *low = &lip_anchors[i - 1];
            const struct lip_anchor *high = &lip_anchors[i];
            if (pitch_12 <= high->pitch_12) {
                const double share = (pitch_12 - low->pitch_12) / (high->pitch_12 - low->pitch_12);
                clearance_in = low->clearance_in + share * (high->clearance_in - low->clearance_in);
                break;
            }
        }
    }
    return units_tick_of_m(INCHES(clearance_in));
}

/* ---- names --------------------------------------------------------------------------------- */

static struct base_text trim(struct base_text text) {
    while (text.length > 0 && text.bytes[0] == ' ') {
        text.bytes++;
        text.length--;
    }
    while (text.length > 0 && text.bytes[text.length - 1] == ' ') {
        text.length--;
    }
    return text;
}

static struct base_text drop(struct base_text text, size_t count) {
    return (struct base_text){text.bytes + count, text.length - count};
}

static bool is_inch_word(struct base_text word) {
    static const char *const words[] = {"in",    "in.", "inch",         "inches",
                                        "-inch", "\"",  "\xE2\x80\xB3", "\xE2\x80\x9D"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (base_text_is(word, words[i])) {
            return true;
        }
    }
    return false;
}

/*
 * A whole-number size in the shop's own system: 5, "5 in", 5", "5 inch" in the one, 333 and
 * "333 mm" in the other. -1 when it is no such text.
 */
static int64_t read_size(struct base_text text, enum units_system system) {
    int64_t number = 0;
    size_t digits = 0;
    struct base_text unit;
    text = trim(text);
    while (digits < text.length && digits < 5 && text.bytes[digits] >= '0' &&
           text.bytes[digits] <= '9') {
        number = number * 10 + (text.bytes[digits] - '0');
        digits++;
    }
    if (digits == 0) {
        return -1;
    }
    unit = trim(drop(text, digits));
    /* the two ways of naming a size are never mixed: 333 is a girth, 5 in a width */
    if (system == UNITS_FT_IN) {
        return unit.length == 0 || is_inch_word(unit) ? number * UNITS_TICK_PER_INCH : -1;
    }
    return unit.length == 0 || base_text_is(unit, "mm") ? number * UNITS_TICK_PER_MM : -1;
}

const struct shop_profile *shop_find_profile(const struct shop *shop, struct base_text name) {
    const int64_t size_tick = read_size(name, shop->style.system);
    for (size_t i = 0; i < shop->profile_count; i++) {
        if (shop->profiles[i].size_tick == size_tick) {
            return &shop->profiles[i];
        }
    }
    return NULL;
}

const struct shop_pipe *shop_find_pipe(const struct shop *shop, struct base_text name) {
    static const char *const shapes[] = {"plain round", "round"};
    int64_t diameter_tick;
    name = trim(name);
    for (size_t i = 0; i < sizeof shapes / sizeof shapes[0]; i++) {
        const struct base_text shape = base_text_of(shapes[i]);
        if (base_text_starts(name, shapes[i])) {
            name = drop(name, shape.length);
        } else if (name.length > shape.length &&
                   base_text_is(drop(name, name.length - shape.length), shapes[i])) {
            name.length -= shape.length;
        }
    }
    diameter_tick = read_size(name, shop->style.system);
    for (size_t i = 0; i < shop->pipe_count; i++) {
        if (shop->pipes[i].diameter_tick == diameter_tick) {
            return &shop->pipes[i];
        }
    }
    return NULL;
}
