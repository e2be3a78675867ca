/* SPDX-License-Identifier: Apache-2.0 */
#include "pattern/pattern.h"

#include <assert.h>
#include <math.h>

static const double PI = 3.14159265358979323846;

/* ---- the gutter's profile, laid flat ------------------------------------------------------------
 */

static void add(struct pattern_station *stations, size_t *count, struct pattern_station station) {
    assert(*count < PATTERN_STATIONS_MAX);
    stations[(*count)++] = station;
}

/* The bead is a tube outside the lip: over the top, out, down and back to the lip. */
static void add_bead(const struct section_gutter *gutter, double sheet_m,
                     struct pattern_station *stations, size_t *count) {
    double radius_m = (gutter->bead_diameter_m - sheet_m) / 2;
    const struct pattern_station lip = stations[*count - 1];
    for (int i = 1; i <= PATTERN_BEAD_STEPS && radius_m > 0; i++) {
        double turn_rad = 2 * PI * i / PATTERN_BEAD_STEPS;
        add(stations, count,
            (struct pattern_station){.place = PATTERN_BEAD,
                                     .girth_m = lip.girth_m + radius_m * turn_rad,
                                     .across_m = lip.across_m + radius_m * (1 - cos(turn_rad)),
                                     .up_m = lip.up_m + radius_m * sin(turn_rad)});
    }
}

size_t pattern_list_stations(const struct section_gutter *gutter, double sheet_m,
                             struct pattern_station stations[PATTERN_STATIONS_MAX]) {
    double radius_m = (gutter->inside_diameter_m + sheet_m) / 2;
    double straight_m = gutter->straight_m;
    double back_m = fmax(gutter->back_rise_m, gutter->back_allowance_m);
    size_t count = 0;
    add(stations, &count,
        (struct pattern_station){PATTERN_BACK_EDGE, 0, -radius_m, straight_m + back_m});
    if (back_m > 0) {
        add(stations, &count,
            (struct pattern_station){PATTERN_BACK_RIM, back_m, -radius_m, straight_m});
    }
    double begins_m = back_m + straight_m;
    for (int i = 0; i <= PATTERN_ARC_STEPS; i++) {
        double turn_rad = PI * i / PATTERN_ARC_STEPS;
        bool is_there = i == 0 && !(straight_m > 0); /* the rim is it */
        struct pattern_station on_arc = {2 * i == PATTERN_ARC_STEPS ? PATTERN_SOLE : PATTERN_ARC,
                                         begins_m + radius_m * turn_rad, -radius_m * cos(turn_rad),
                                         -radius_m * sin(turn_rad)};
        if (!is_there) {
            add(stations, &count, on_arc);
        }
    }
    if (straight_m > 0) {
        add(stations, &count,
            (struct pattern_station){PATTERN_LIP, begins_m + PI * radius_m + straight_m, radius_m,
                                     straight_m});
    } else {
        stations[count - 1].place = PATTERN_LIP;
    }
    add_bead(gutter, sheet_m, stations, &count);
    return count;
}

/* ---- mitre ------------------------------------------------------------------------------------
 */

struct vector {
    double x, y, z;
};

static double dot(struct vector a, struct vector b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static struct vector scaled(struct vector a, double by) {
    return (struct vector){a.x * by, a.y * by, a.z * by};
}

static struct vector plus(struct vector a, struct vector b) {
    return (struct vector){a.x + b.x, a.y + b.y, a.z + b.z};
}

/* A leg in space: its way into the corner, its front, its own upright. */
struct frame {
    struct vector way;
    struct vector front;
    struct vector up;
};

/*
 * The first leg comes along x; at an outside corner the gutter turns to the left of its way, its
 * front on the right. The second leg is looked at towards the corner as well.
 */
static struct frame find_frame(const struct pattern_mitre *mitre, int leg) {
    double turn_rad = PI - mitre->corner_rad;
    double fall_1 = mitre->fall_1[leg];
    double side = mitre->inside ? 1 : -1;
    double length = sqrt(1 + fall_1 * fall_1);
    struct vector level =
        leg == 0 ? (struct vector){1, 0, 0} : (struct vector){-cos(turn_rad), -sin(turn_rad), 0};
    struct frame frame = {
        .way = scaled((struct vector){level.x, level.y, -fall_1}, 1 / length),
        .front = leg == 0 ? (struct vector){0, side, 0}
                          : (struct vector){-side * sin(turn_rad), side * cos(turn_rad), 0},
        .up = scaled((struct vector){level.x * fall_1, level.y * fall_1, 1}, 1 / length)};
    return frame;
}

static struct vector find_normal(const struct pattern_mitre *mitre) {
    struct vector in = find_frame(mitre, 0).way;
    struct vector out = scaled(find_frame(mitre, 1).way, -1);
    struct vector sum = plus(in, out);
    return scaled(sum, 1 / sqrt(dot(sum, sum)));
}

static struct vector profile_point(const struct frame *frame,
                                   const struct pattern_station *station) {
    return plus(scaled(frame->front, station->across_m), scaled(frame->up, station->up_m));
}

/* How far beyond the corner's middle the leg goes on at a station. */
static double find_reach(const struct pattern_mitre *mitre, int leg,
                         const struct pattern_station *station) {
    struct frame frame = find_frame(mitre, leg);
    struct vector normal = find_normal(mitre);
    return -dot(profile_point(&frame, station), normal) / dot(frame.way, normal);
}

void pattern_fold_mitre(const struct pattern_mitre *mitre, int leg,
                        const struct pattern_station *station, double point_m[3]) {
    struct frame frame = find_frame(mitre, leg);
    struct vector at =
        plus(profile_point(&frame, station), scaled(frame.way, find_reach(mitre, leg, station)));
    point_m[0] = at.x;
    point_m[1] = at.y;
    point_m[2] = at.z;
}

static double find_miss(const struct pattern_mitre *mitre, const struct pattern_station *station) {
    double first[3];
    double second[3];
    pattern_fold_mitre(mitre, 0, station, first);
    pattern_fold_mitre(mitre, 1, station, second);
    return sqrt((first[0] - second[0]) * (first[0] - second[0]) +
                (first[1] - second[1]) * (first[1] - second[1]) +
                (first[2] - second[2]) * (first[2] - second[2]));
}

/* s = a cos + b sin along the half circle: a chord over a step leaves it by its height there. */
static double find_chord(const struct pattern_mitre *mitre) {
    double radius_m = (mitre->section.inside_diameter_m + mitre->sheet_m) / 2;
    double half_rad = PI / PATTERN_ARC_STEPS / 2;
    double most_m = 0;
    for (int leg = 0; leg < PATTERN_LEGS; leg++) {
        struct pattern_station front = {PATTERN_ARC, 0, radius_m, 0};
        struct pattern_station sole = {PATTERN_SOLE, 0, 0, -radius_m};
        double swing_m = hypot(find_reach(mitre, leg, &front), find_reach(mitre, leg, &sole));
        most_m = fmax(most_m, swing_m * (1 - cos(half_rad)));
    }
    return most_m;
}

struct pattern_mitre_found pattern_find_mitre(const struct pattern_mitre *mitre) {
    assert(mitre->corner_rad > 0 && mitre->corner_rad < PI);
    struct pattern_mitre_found found = {.chord_m = find_chord(mitre)};
    struct pattern_station stations[PATTERN_STATIONS_MAX];
    size_t count = pattern_list_stations(&mitre->section, mitre->sheet_m, stations);
    for (int leg = 0; leg < PATTERN_LEGS; leg++) {
        double back_m = find_reach(mitre, leg, &stations[0]);
        found.legs[leg].count = count;
        for (size_t i = 0; i < count; i++) {
            double reach_m = find_reach(mitre, leg, &stations[i]);
            found.legs[leg].ordinates[i] =
                (struct pattern_ordinate){stations[i], mitre->leg_m + reach_m - back_m};
            found.miss_m = fmax(found.miss_m, find_miss(mitre, &stations[i]));
        }
    }
    return found;
}

/* ---- outlet ------------------------------------------------------------------------------------
 */

struct pattern_hole_point pattern_find_hole(double gutter_radius_m, double tube_radius_m,
                                            double angle_rad) {
    assert(tube_radius_m > 0 && tube_radius_m < gutter_radius_m);
    double out_m = tube_radius_m * cos(angle_rad);
    return (struct pattern_hole_point){
        .along_m = tube_radius_m * sin(angle_rad),
        .across_m = gutter_radius_m * asin(out_m / gutter_radius_m),
        .rise_m = gutter_radius_m - sqrt(gutter_radius_m * gutter_radius_m - out_m * out_m)};
}

/* 4 times the quarter, across over along, by Simpson's rule in the angle. */
double pattern_hole_area(double gutter_radius_m, double tube_radius_m) {
    enum { STRIPS = 64 };
    double sum_m2 = 0;
    for (int i = 0; i <= STRIPS; i++) {
        double angle_rad = PI / 2 * i / STRIPS;
        struct pattern_hole_point point =
            pattern_find_hole(gutter_radius_m, tube_radius_m, angle_rad);
        double width_m2 = point.across_m * tube_radius_m * cos(angle_rad);
        sum_m2 += width_m2 * (i == 0 || i == STRIPS ? 1 : i % 2 == 1 ? 4 : 2);
    }
    return 4 * sum_m2 * (PI / 2 / STRIPS) / 3;
}

/* ---- elbow and cone ----------------------------------------------------------------------------
 */

double pattern_gore_angle(double elbow_rad, int pieces) {
    assert(pieces >= 2);
    return elbow_rad / (2 * (pieces - 1));
}

double pattern_gore(double pipe_radius_m, double bend_radius_m, double alpha_rad,
                    double angle_rad) {
    return (bend_radius_m - pipe_radius_m * cos(angle_rad)) * tan(alpha_rad);
}

struct pattern_cone pattern_find_cone(double wide_radius_m, double narrow_radius_m,
                                      double height_m) {
    assert(wide_radius_m > narrow_radius_m && narrow_radius_m > 0);
    double over_m = wide_radius_m - narrow_radius_m;
    double slant_m = hypot(height_m, over_m);
    double outer_m = wide_radius_m * slant_m / over_m;
    return (struct pattern_cone){.slant_m = slant_m,
                                 .outer_m = outer_m,
                                 .inner_m = outer_m - slant_m,
                                 .angle_rad = 2 * PI * over_m / slant_m};
}
