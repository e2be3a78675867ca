/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Whole random jobs from a seed, for the laws of the walk and for comparing builds: what stands in
 * the job file as numbers, ways to move and turn it, and its text (JSON, so YAML too).
 *
 * The same seed gives the same house on every machine: only integers are drawn. Lengths lie on the
 * house's own grid, so that some can be said in another unit without loss (grids of half an inch or
 * 10 mm and more) and some can be turned by 3-4-5 without loss (grids of 2 1/2 in or 50 mm).
 */
#ifndef EAVESMITH_TESTS_RANDOM_HOUSE_H
#define EAVESMITH_TESTS_RANDOM_HOUSE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { RANDOM_WINGS_MAX = 4, RANDOM_RUNS_MAX = 6, RANDOM_PLACES_MAX = 40, RANDOM_TEXT_MAX = 16384 };

enum random_wood { RANDOM_WOOD_UNSAID = 0, RANDOM_WOOD_FASCIA, RANDOM_WOOD_TAILS };
enum random_edge { RANDOM_EAVE = 0, RANDOM_GABLE, RANDOM_WALL };
enum random_end { RANDOM_CAP = 0, RANDOM_OUTSIDE, RANDOM_INSIDE, RANDOM_END_WALL };
enum random_at { RANDOM_FROM = 0, RANDOM_TO, RANDOM_DISTANCE };
enum random_outlets { RANDOM_OUTLETS_UNSAID = 0, RANDOM_OUTLETS_AT, RANDOM_OUTLETS_ALLOWED };

struct random_section {
    enum random_wood wood;
    int64_t spacing_tick;
    int64_t first_tick;
};

struct random_wing {
    const char *name;
    int64_t x_tick;
    int64_t y_tick;
    int64_t width_tick;
    int64_t depth_tick;
    double turn_deg;
    int64_t height_tick;
    int pitch_12;         /* rise over 12 */
    int edge_pitch_12[4]; /* 0 = the wing's */
    enum random_edge edges[4];
    int64_t overhang_tick; /* 0 = not said */
    struct random_section section;
};

struct random_run {
    char name[16];
    int64_t length_tick;
    int64_t doubt_tick; /* 0 = none said */
    int64_t depth_tick;
    bool up_the_roof;
    bool taped_on_wall;
    int pitch_12;
    enum random_end from;
    enum random_end to;
    int from_deg; /* corners */
    int to_deg;
    int64_t height_tick;
    int64_t overhang_tick;
    struct random_section section;
};

struct random_place {
    int owner; /* wing or run */
    int edge;  /* 1..4 of a wing, 0 of a run */
    enum random_at at;
    int64_t distance_tick;
};

struct random_house {
    uint64_t seed;
    bool metric;
    int64_t grid_tick;
    struct random_wing wings[RANDOM_WINGS_MAX];
    int wing_count;
    struct random_run runs[RANDOM_RUNS_MAX];
    int run_count;
    bool is_ring;
    enum random_outlets outlets;
    struct random_place places[RANDOM_PLACES_MAX];
    int place_count;
    int rain_tenths; /* tenths of an inch an hour; in a metric job mm an hour */
    const char *basis;
    const char *gutter_size; /* NULL = not said */
    const char *pipe_size;
    const char *discharge;
    bool has_snow;
};

/* How lengths are written: the same numbers in other words. */
enum random_words { RANDOM_WORDS_USUAL = 0, RANDOM_WORDS_METRIC, RANDOM_WORDS_METRES };

struct random_text {
    char bytes[RANDOM_TEXT_MAX];
    size_t length;
};

void random_house_make(uint64_t seed, struct random_house *house);
void random_house_write(const struct random_house *house, enum random_words words,
                        struct random_text *text);
/* A price list that holds every size of both shops; amounts by the seed. */
void random_house_write_prices(uint64_t seed, struct random_text *text);

/* ---- the same house, standing otherwise ----------------------------------------------------- */

bool random_house_says_metric(const struct random_house *house); /* without loss */
bool random_house_turns_by_345(const struct random_house *house);
void random_house_shift(const struct random_house *house, int64_t east_tick, int64_t north_tick,
                        struct random_house *moved);
/* A quarter turn counter-clockwise, said by `turn:`; edges keep their numbers. */
void random_house_quarter(const struct random_house *house, struct random_house *moved);
/* A quarter turn with upright wings said anew: edge n becomes n + 1. False when one is turned. */
bool random_house_quarter_anew(const struct random_house *house, struct random_house *moved);
/* By the angle whose cosine is 3/5: corners stay on the grid's fifth. */
void random_house_turn_345(const struct random_house *house, struct random_house *moved);
/* By any angle; corners are rounded to 1/64 in or 0.1 mm. */
void random_house_turn(const struct random_house *house, double turn_deg,
                       struct random_house *moved);
/*
 * Mirrored east to west: what was from is to. Edge 2 of an upright wing becomes 4; all edges of a
 * turned one run backwards (random_house_mirror_edge). Tails that a mirror cannot say (eaves of
 * several lengths) must be taken away first: random_house_take_tails.
 */
void random_house_mirror(const struct random_house *house, struct random_house *moved);
int random_house_mirror_edge(const struct random_wing *wing, int edge);
bool random_house_tails_mirror(const struct random_house *house);
void random_house_take_tails(struct random_house *house);

#endif
