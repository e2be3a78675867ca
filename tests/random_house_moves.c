/* SPDX-License-Identifier: Apache-2.0 */
/* A random house moved, turned and mirrored. Plane geometry, in whole ticks where it can be. */
#include "random_house.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define PI             3.14159265358979323846
#define TENTH_MM_TICK  INT64_C(32)
#define INCH_64TH_TICK INT64_C(127)

bool random_house_says_metric(const struct random_house *house) {
    return house->grid_tick % TENTH_MM_TICK == 0;
}

bool random_house_turns_by_345(const struct random_house *house) {
    return house->grid_tick % (5 * (house->metric ? TENTH_MM_TICK : INCH_64TH_TICK)) == 0;
}

void random_house_shift(const struct random_house *house, int64_t east_tick, int64_t north_tick,
                        struct random_house *moved) {
    *moved = *house;
    for (int i = 0; i < moved->wing_count; i++) {
        moved->wings[i].x_tick += east_tick;
        moved->wings[i].y_tick += north_tick;
    }
}

static double add_turn(double turn_deg, double more_deg) {
    double sum_deg = turn_deg + more_deg;
    return sum_deg >= 360.0 ? sum_deg - 360.0 : sum_deg;
}

void random_house_quarter(const struct random_house *house, struct random_house *moved) {
    *moved = *house;
    for (int i = 0; i < moved->wing_count; i++) {
        const struct random_wing *was = &house->wings[i];
        moved->wings[i].x_tick = -was->y_tick;
        moved->wings[i].y_tick = was->x_tick;
        moved->wings[i].turn_deg = add_turn(was->turn_deg, 90.0);
    }
}

bool random_house_quarter_anew(const struct random_house *house, struct random_house *moved) {
    *moved = *house;
    for (int i = 0; i < moved->wing_count; i++) {
        const struct random_wing *was = &house->wings[i];
        struct random_wing *wing = &moved->wings[i];
        if (was->turn_deg != 0.0) {
            return false;
        }
        wing->x_tick = -was->y_tick - was->depth_tick;
        wing->y_tick = was->x_tick;
        wing->width_tick = was->depth_tick;
        wing->depth_tick = was->width_tick;
        for (int edge = 0; edge < 4; edge++) {
            wing->edges[(edge + 1) % 4] = was->edges[edge];
            wing->edge_pitch_12[(edge + 1) % 4] = was->edge_pitch_12[edge];
        }
    }
    for (int i = 0; i < moved->place_count && moved->wing_count > 0; i++) {
        moved->places[i].edge = moved->places[i].edge % 4 + 1;
    }
    return true;
}

void random_house_turn_345(const struct random_house *house, struct random_house *moved) {
    *moved = *house;
    for (int i = 0; i < moved->wing_count; i++) {
        const struct random_wing *was = &house->wings[i];
        moved->wings[i].x_tick = (3 * was->x_tick - 4 * was->y_tick) / 5;
        moved->wings[i].y_tick = (4 * was->x_tick + 3 * was->y_tick) / 5;
        moved->wings[i].turn_deg = add_turn(was->turn_deg, 53.1301023541559787);
    }
}

void random_house_turn(const struct random_house *house, double turn_deg,
                       struct random_house *moved) {
    double step_tick = (double)(house->metric ? TENTH_MM_TICK : INCH_64TH_TICK);
    double cosine = cos(turn_deg * PI / 180);
    double sine = sin(turn_deg * PI / 180);
    *moved = *house;
    for (int i = 0; i < moved->wing_count; i++) {
        double x_tick = (double)house->wings[i].x_tick;
        double y_tick = (double)house->wings[i].y_tick;
        double east = round((cosine * x_tick - sine * y_tick) / step_tick);
        double north = round((sine * x_tick + cosine * y_tick) / step_tick);
        moved->wings[i].x_tick = (int64_t)east * (int64_t)step_tick;
        moved->wings[i].y_tick = (int64_t)north * (int64_t)step_tick;
        moved->wings[i].turn_deg = add_turn(house->wings[i].turn_deg, turn_deg);
    }
}

/* ---- the mirror ----------------------------------------------------------------------------- */

static int64_t edge_length(const struct random_wing *wing, int index) {
    return index % 2 == 0 ? wing->width_tick : wing->depth_tick;
}

/* The first tail from the other end. */
static int64_t mirror_first(const struct random_section *section, int64_t length_tick) {
    int64_t first_tick = (length_tick - section->first_tick) % section->spacing_tick;
    return first_tick <= 0 ? first_tick + section->spacing_tick : first_tick;
}

static bool tails_mirror(const struct random_wing *wing, int64_t *first_tick) {
    bool found = false;
    for (int i = 0; i < 4 && wing->section.wood == RANDOM_WOOD_TAILS; i++) {
        if (wing->edges[i] != RANDOM_EAVE) {
            continue;
        }
        int64_t this_tick = mirror_first(&wing->section, edge_length(wing, i));
        /* A tail right at the eave's other end would be one at 0, which is not counted. */
        bool at_end = this_tick == wing->section.spacing_tick;
        if (at_end || (found && this_tick != *first_tick)) {
            return false;
        }
        *first_tick = this_tick;
        found = true;
    }
    return true;
}

bool random_house_tails_mirror(const struct random_house *house) {
    int64_t unused_tick = 0;
    for (int i = 0; i < house->wing_count; i++) {
        if (!tails_mirror(&house->wings[i], &unused_tick)) {
            return false;
        }
    }
    for (int i = 0; i < house->run_count; i++) {
        const struct random_run *run = &house->runs[i];
        if (run->section.wood == RANDOM_WOOD_TAILS &&
            mirror_first(&run->section, run->length_tick) == run->section.spacing_tick) {
            return false; /* a tail right at its end, as below */
        }
    }
    return true;
}

static void take_tails(struct random_section *section) {
    if (section->wood == RANDOM_WOOD_TAILS) {
        *section = (struct random_section){.wood = RANDOM_WOOD_FASCIA};
    }
}

void random_house_take_tails(struct random_house *house) {
    for (int i = 0; i < house->wing_count; i++) {
        take_tails(&house->wings[i].section);
    }
    for (int i = 0; i < house->run_count; i++) {
        take_tails(&house->runs[i].section);
    }
}

int random_house_mirror_edge(const struct random_wing *wing, int edge) {
    static const int UPRIGHT[] = {0, 1, 4, 3, 2};
    return wing->turn_deg == 0.0 ? UPRIGHT[edge] : 5 - edge;
}

/*
 * A turned wing stands on the same corner; its side along the turn becomes the depth, at 90 deg
 * less the turn.
 */
static void mirror_wing(const struct random_wing *was, struct random_wing *wing) {
    *wing = *was;
    if (was->turn_deg == 0.0) {
        wing->x_tick = -was->x_tick - was->width_tick;
    } else {
        wing->x_tick = -was->x_tick;
        wing->width_tick = was->depth_tick;
        wing->depth_tick = was->width_tick;
        wing->turn_deg = was->turn_deg <= 90.0 ? 90.0 - was->turn_deg : 450.0 - was->turn_deg;
    }
    for (int edge = 1; edge <= 4; edge++) {
        int to = random_house_mirror_edge(was, edge) - 1;
        wing->edges[to] = was->edges[edge - 1];
        wing->edge_pitch_12[to] = was->edge_pitch_12[edge - 1];
    }
    if (was->section.wood == RANDOM_WOOD_TAILS) {
        tails_mirror(was, &wing->section.first_tick);
    }
}

static void mirror_runs(const struct random_house *house, struct random_house *moved) {
    for (int i = 0; i < house->run_count; i++) {
        const struct random_run *was = &house->runs[house->run_count - 1 - i];
        struct random_run *run = &moved->runs[i];
        *run = *was;
        run->from = was->to;
        run->from_deg = was->to_deg;
        run->to = was->from;
        run->to_deg = was->from_deg;
        if (run->section.wood == RANDOM_WOOD_TAILS) {
            run->section.first_tick = mirror_first(&was->section, was->length_tick);
        }
    }
}

static void mirror_place(const struct random_house *house, struct random_place *place) {
    switch (place->at) {
    case RANDOM_FROM:
        place->at = RANDOM_TO;
        break;
    case RANDOM_TO:
        place->at = RANDOM_FROM;
        break;
    case RANDOM_DISTANCE:
        place->distance_tick = house->runs[place->owner].length_tick - place->distance_tick;
        break;
    }
    if (place->edge > 0) {
        place->edge = random_house_mirror_edge(&house->wings[place->owner], place->edge);
    } else {
        place->owner = house->run_count - 1 - place->owner;
    }
}

void random_house_mirror(const struct random_house *house, struct random_house *moved) {
    *moved = *house;
    for (int i = 0; i < house->wing_count; i++) {
        mirror_wing(&house->wings[i], &moved->wings[i]);
    }
    mirror_runs(house, moved);
    for (int i = 0; i < house->place_count; i++) {
        mirror_place(house, &moved->places[i]);
    }
}
