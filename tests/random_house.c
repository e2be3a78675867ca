/* SPDX-License-Identifier: Apache-2.0 */
/* A random house: what is drawn, in the order it is drawn. */
#include "random_house.h"

#include <stdio.h>
#include <string.h>

#define INCH_TICK INT64_C(8128)
#define MM_TICK   INT64_C(320)

/* ---- chance --------------------------------------------------------------------------------- */

struct draw {
    uint64_t state;
    struct random_house *house;
};

static uint64_t next_random(struct draw *draw) { /* splitmix64, Steele et al. 2014 */
    draw->state += UINT64_C(0x9E3779B97F4A7C15);
    uint64_t z = draw->state;
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

static int64_t between(struct draw *draw, int64_t low, int64_t high) {
    return high <= low ? low : low + (int64_t)(next_random(draw) % (uint64_t)(high - low + 1));
}

static bool one_in(struct draw *draw, int64_t many) {
    return between(draw, 1, many) == 1;
}

/* A length between two numbers of inches, on the house's grid. */
static int64_t length_between(struct draw *draw, int64_t low_in, int64_t high_in) {
    int64_t grid_tick = draw->house->grid_tick;
    int64_t low = (low_in * INCH_TICK + grid_tick - 1) / grid_tick;
    int64_t high = high_in * INCH_TICK / grid_tick;
    return between(draw, low, high) * grid_tick;
}

static void choose_grid(struct draw *draw) {
    static const int64_t FEET[] = {5 * INCH_TICK / 2, INCH_TICK / 2, INCH_TICK / 16};
    static const int64_t METRIC[] = {50 * MM_TICK, 10 * MM_TICK, MM_TICK};
    int64_t which = between(draw, 0, 3);
    which = which == 3 ? 0 : which;
    draw->house->metric = one_in(draw, 4);
    draw->house->grid_tick = draw->house->metric ? METRIC[which] : FEET[which];
}

static struct random_section choose_section(struct draw *draw) {
    struct random_section section = {.wood = (enum random_wood)between(draw, 0, 2)};
    if (section.wood == RANDOM_WOOD_TAILS) {
        int64_t step_tick = draw->house->metric ? 50 * MM_TICK : INCH_TICK;
        section.spacing_tick = (draw->house->metric ? between(draw, 8, 12) * 50 * MM_TICK
                                                    : (16 + 8 * between(draw, 0, 1)) * INCH_TICK);
        section.first_tick = between(draw, 1, section.spacing_tick / step_tick - 1) * step_tick;
    }
    return section;
}

/* ---- runs ----------------------------------------------------------------------------------- */

static struct random_run *add_run(struct draw *draw, int64_t length_tick) {
    struct random_house *house = draw->house;
    struct random_run *run = &house->runs[house->run_count];
    *run = (struct random_run){.length_tick = length_tick,
                               .depth_tick = length_between(draw, 48, 200),
                               .up_the_roof = one_in(draw, 5),
                               .pitch_12 = (int)between(draw, 2, 12),
                               .from_deg = 90,
                               .to_deg = 90,
                               .height_tick = length_between(draw, 100, 240),
                               .overhang_tick = length_between(draw, 8, 16)};
    if (one_in(draw, 4)) {
        run->doubt_tick = house->metric ? 5 * MM_TICK : INCH_TICK / 2;
    }
    snprintf(run->name, sizeof run->name, "r%d", house->run_count + 1);
    house->run_count++;
    return run;
}

static void make_chain(struct draw *draw) {
    static const enum random_end ENDS[] = {RANDOM_CAP, RANDOM_CAP, RANDOM_CAP, RANDOM_END_WALL};
    static const int DEGREES[] = {90, 90, 90, 135, 120};
    int64_t count = between(draw, 1, 4);
    enum random_end from = ENDS[between(draw, 0, 3)];
    int from_deg = 90;
    for (int64_t i = 0; i < count; i++) {
        struct random_run *run = add_run(draw, length_between(draw, 84, 700));
        run->from = from;
        run->from_deg = from_deg;
        run->to = i + 1 == count ? ENDS[between(draw, 0, 3)]
                                 : (one_in(draw, 3) ? RANDOM_INSIDE : RANDOM_OUTSIDE);
        run->to_deg = i + 1 == count ? 90 : DEGREES[between(draw, 0, 4)];
        from = run->to;
        from_deg = run->to_deg;
    }
}

/* A rectangle or an L, walked counter-clockwise; it closes exactly. */
static void make_ring(struct draw *draw) {
    struct random_house *house = draw->house;
    house->is_ring = true;
    int64_t wide_tick = length_between(draw, 300, 560);
    int64_t deep_tick = length_between(draw, 240, 480);
    bool is_l = one_in(draw, 2);
    int64_t notch_x_tick = length_between(draw, 90, 150);
    int64_t notch_y_tick = length_between(draw, 90, 120);
    const int64_t l_tick[] = {wide_tick,    deep_tick - notch_y_tick, notch_x_tick,
                              notch_y_tick, wide_tick - notch_x_tick, deep_tick};
    const int64_t box_tick[] = {wide_tick, deep_tick, wide_tick, deep_tick};
    int count = is_l ? 6 : 4;
    for (int i = 0; i < count; i++) {
        struct random_run *run = add_run(draw, is_l ? l_tick[i] : box_tick[i]);
        run->from = is_l && i == 3 ? RANDOM_INSIDE : RANDOM_OUTSIDE;
        run->to = is_l && i == 2 ? RANDOM_INSIDE : RANDOM_OUTSIDE;
    }
}

static void place_on_runs(struct draw *draw) {
    struct random_house *house = draw->house;
    for (int i = 0; i < house->run_count; i++) {
        bool needed = i == 0; /* a chain or ring is one gutter */
        for (int end = RANDOM_FROM; end <= RANDOM_TO; end++) {
            if (needed || one_in(draw, 2)) {
                house->places[house->place_count++] =
                    (struct random_place){.owner = i, .at = (enum random_at)end};
            }
        }
        const struct random_run *run = &house->runs[i];
        if (!run->taped_on_wall && run->length_tick > 240 * INCH_TICK && one_in(draw, 3)) {
            int64_t grid_tick = house->grid_tick;
            int64_t part_tick = run->length_tick * between(draw, 35, 65) / 100;
            house->places[house->place_count++] =
                (struct random_place){.owner = i,
                                      .at = RANDOM_DISTANCE,
                                      .distance_tick = part_tick / grid_tick * grid_tick};
        }
    }
}

static void make_runs(struct draw *draw) {
    struct random_house *house = draw->house;
    if (one_in(draw, 3)) {
        make_ring(draw);
    } else {
        make_chain(draw);
    }
    int pitch_12 = (int)between(draw, 2, 12);
    int64_t height_tick = length_between(draw, 100, 240);
    int64_t overhang_tick = length_between(draw, 8, 16);
    bool one_pitch = !one_in(draw, 4);
    bool on_wall = one_in(draw, 5);
    struct random_section section = choose_section(draw);
    if (on_wall && section.wood == RANDOM_WOOD_TAILS) {
        section = (struct random_section){.wood = RANDOM_WOOD_FASCIA};
    }
    for (int i = 0; i < house->run_count; i++) {
        struct random_run *run = &house->runs[i];
        run->pitch_12 = one_pitch ? pitch_12 : run->pitch_12;
        run->height_tick = height_tick;
        run->overhang_tick = overhang_tick;
        run->taped_on_wall = on_wall;
        run->section = section;
    }
    place_on_runs(draw);
}

/* ---- wings ---------------------------------------------------------------------------------- */

static void set_edges(struct random_wing *wing, const char *letters) {
    for (int i = 0; i < 4; i++) {
        wing->edges[i] = letters[i] == 'e'   ? RANDOM_EAVE
                         : letters[i] == 'g' ? RANDOM_GABLE
                                             : RANDOM_WALL;
    }
}

static void make_hall(struct draw *draw, struct random_wing *hall) {
    static const char *const EDGES[] = {"egeg", "egeg", "eeee", "eeee", "eeeg", "gege"};
    hall->name = "hall";
    hall->width_tick = length_between(draw, 288, 620);
    hall->depth_tick = length_between(draw, 210, 330);
    hall->height_tick = length_between(draw, 120, 216);
    hall->pitch_12 = (int)between(draw, 4, 12);
    set_edges(hall, EDGES[between(draw, 0, 5)]);
}

/* Against the hall's north or east, wall to wall. */
static void make_ell(struct draw *draw, const struct random_wing *hall, struct random_wing *ell) {
    bool north = one_in(draw, 2);
    bool hipped = one_in(draw, 3);
    ell->name = "ell";
    int64_t along_tick = north ? hall->width_tick : hall->depth_tick;
    int64_t grid_tick = draw->house->grid_tick;
    int64_t side_tick = length_between(draw, 120, 210);
    side_tick = side_tick > along_tick ? along_tick : side_tick;
    int64_t free_tick = along_tick - side_tick;
    int64_t at_tick = one_in(draw, 4) ? 0 : between(draw, 0, free_tick / grid_tick) * grid_tick;
    int64_t out_tick = length_between(draw, 120, 300);
    ell->x_tick = hall->x_tick + (north ? at_tick : hall->width_tick);
    ell->y_tick = hall->y_tick + (north ? hall->depth_tick : at_tick);
    ell->width_tick = north ? side_tick : out_tick;
    ell->depth_tick = north ? out_tick : side_tick;
    set_edges(ell, north ? (hipped ? "weee" : "wege") : (hipped ? "eeew" : "egew"));
    int64_t lower_tick = one_in(draw, 2) ? 0 : length_between(draw, 6, 30);
    ell->height_tick = hall->height_tick - lower_tick;
    ell->pitch_12 = one_in(draw, 2) ? hall->pitch_12 : (int)between(draw, 4, 12);
}

static void make_porch(struct draw *draw, const struct random_wing *hall,
                       struct random_wing *porch) {
    porch->name = "porch";
    porch->width_tick = length_between(draw, 96, 240);
    porch->depth_tick = length_between(draw, 60, 108);
    int64_t grid_tick = draw->house->grid_tick;
    porch->x_tick = hall->x_tick + between(draw, 0, 48 * INCH_TICK / grid_tick) * grid_tick;
    porch->y_tick = hall->y_tick - porch->depth_tick;
    porch->height_tick = hall->height_tick - length_between(draw, 20, 40);
    porch->pitch_12 = (int)between(draw, 2, 5);
    set_edges(porch, one_in(draw, 2) ? "eewe" : "egwg");
}

/* Through the hall from south to north. */
static void make_cross(struct draw *draw, const struct random_wing *hall,
                       struct random_wing *cross) {
    cross->name = "cross";
    cross->width_tick = length_between(draw, 120, 200);
    int64_t out_tick = length_between(draw, 40, 120);
    int64_t grid_tick = draw->house->grid_tick;
    int64_t free_tick = hall->width_tick - cross->width_tick;
    cross->x_tick = hall->x_tick + between(draw, 0, free_tick / grid_tick) * grid_tick;
    cross->y_tick = hall->y_tick - out_tick;
    cross->depth_tick = hall->depth_tick + 2 * out_tick;
    cross->height_tick = hall->height_tick;
    cross->pitch_12 = hall->pitch_12;
    set_edges(cross, "gege");
}

/* On its own beside the house, often turned. */
static void make_shed(struct draw *draw, const struct random_wing *hall, struct random_wing *shed) {
    shed->name = "shed";
    shed->x_tick = hall->x_tick - length_between(draw, 500, 700);
    shed->y_tick = hall->y_tick + length_between(draw, 0, 200);
    shed->width_tick = length_between(draw, 96, 240);
    shed->depth_tick = length_between(draw, 96, 160);
    shed->height_tick = length_between(draw, 90, 120);
    shed->pitch_12 = (int)between(draw, 3, 12);
    shed->turn_deg = one_in(draw, 2) ? 0.0 : (double)between(draw, 1, 359);
    set_edges(shed, one_in(draw, 2) ? "egeg" : "eeee");
}

static void finish_wing(struct draw *draw, struct random_wing *wing) {
    for (int i = 0; i < 4; i++) {
        if (wing->edges[i] == RANDOM_EAVE && one_in(draw, 10)) {
            wing->edge_pitch_12[i] = (int)between(draw, 3, 14);
        }
    }
    wing->overhang_tick = one_in(draw, 6) ? 0 : length_between(draw, 6, 18);
    wing->section = draw->house->wings[0].section;
    if (wing == draw->house->wings || one_in(draw, 3)) {
        wing->section = choose_section(draw);
    }
}

static void place_on_wings(struct draw *draw) {
    struct random_house *house = draw->house;
    bool both = house->outlets == RANDOM_OUTLETS_ALLOWED || one_in(draw, 2);
    for (int i = 0; i < house->wing_count; i++) {
        for (int edge = 0; edge < 4; edge++) {
            if (house->wings[i].edges[edge] != RANDOM_EAVE) {
                continue;
            }
            struct random_place place = {.owner = i, .edge = edge + 1, .at = RANDOM_TO};
            if (both || (i == 0 && house->wing_count > 1)) {
                house->places[house->place_count++] = place;
                place.at = RANDOM_FROM;
            } else if (one_in(draw, 2)) {
                place.at = RANDOM_FROM;
            }
            house->places[house->place_count++] = place;
        }
    }
}

static void make_wings(struct draw *draw) {
    static void (*const MAKERS[])(struct draw *, const struct random_wing *,
                                  struct random_wing *) = {make_ell, make_porch, make_cross,
                                                           make_shed};
    struct random_house *house = draw->house;
    int64_t grid_tick = house->grid_tick;
    make_hall(draw, &house->wings[0]);
    house->wings[0].x_tick =
        between(draw, -200 * INCH_TICK, 200 * INCH_TICK) / grid_tick * grid_tick;
    house->wings[0].y_tick =
        between(draw, -200 * INCH_TICK, 200 * INCH_TICK) / grid_tick * grid_tick;
    house->wing_count = 1;
    int64_t more = between(draw, 0, 4); /* none a little oftener */
    int64_t first = between(draw, 0, 3);
    for (int64_t i = 0; i + 1 < more; i++) {
        MAKERS[(first + i) % 4](draw, &house->wings[0], &house->wings[house->wing_count++]);
    }
    for (int i = 0; i < house->wing_count; i++) {
        finish_wing(draw, &house->wings[i]);
    }
    place_on_wings(draw);
}

/* ---- the whole ------------------------------------------------------------------------------ */

void random_house_make(uint64_t seed, struct random_house *house) {
    static const char *const BASES[] = {"handbook", "handbook", "us code", "en"};
    static const char *const DISCHARGES[] = {"splash block", "splash block", "drain", "barrel"};
    *house = (struct random_house){.seed = seed};
    struct draw draw = {seed * UINT64_C(0xD1342543DE82EF95) + 1, house};
    choose_grid(&draw);
    house->outlets = (enum random_outlets)between(&draw, 0, 2);
    house->rain_tenths = (int)between(&draw, 15, 75);
    house->rain_tenths = house->metric ? house->rain_tenths * 2 : house->rain_tenths;
    house->basis = BASES[between(&draw, 0, 3)];
    house->discharge = DISCHARGES[between(&draw, 0, 3)];
    house->has_snow = one_in(&draw, 2);
    if (one_in(&draw, 6)) {
        house->gutter_size = house->metric ? "400" : "6 in";
    }
    if (one_in(&draw, 3)) {
        make_runs(&draw);
    } else {
        make_wings(&draw);
    }
    if (house->outlets == RANDOM_OUTLETS_UNSAID) {
        house->place_count = 0;
    }
}
