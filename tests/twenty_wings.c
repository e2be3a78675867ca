/* SPDX-License-Identifier: Apache-2.0 */
/* The house of twenty wings, in millimetres. */
#include "twenty_wings.h"

#include "units/units.h"

struct box {
    const char *name;
    int64_t x_mm; /* the corner; a turret's centre */
    int64_t y_mm;
    int64_t width_mm;
    int64_t depth_mm;
    int64_t eave_mm;
    const char *edges; /* south, east, north, west: eave, gable or wall */
    double pitch_1;
};

static const struct box BOXES[] = {
    {"hall", 0, 0, 30000, 10000, 6000, "egeg", 0.75},
    {"west", -2000, -4000, 8000, 18000, 6000, "gege", 0.75},
    {"east", 24000, -4000, 8000, 18000, 6000, "gege", 0.75},
    {"kitchen", 12000, 10000, 7000, 9000, 5000, "weee", 0.75},
    {"pantry", 19000, 12000, 3000, 4000, 3500, "eeew", 0.5},
    {"front porch", 6000, -2500, 18000, 2500, 3200, "eewe", 1.0 / 3},
    {"back porch", 6000, 10000, 6000, 2200, 3200, "weee", 1.0 / 3},
    {"west porch", -4400, 2000, 2400, 6000, 3200, "eweg", 1.0 / 3},
    {"dormer 1", 8000, 1500, 1800, 4000, 7600, "gewe", 1},
    {"dormer 2", 14000, 1500, 1800, 4000, 7600, "gewe", 1},
    {"dormer 3", 20000, 1500, 1800, 4000, 7600, "gewe", 1},
    {"dormer 4", 8000, 5000, 1800, 3600, 7600, "wege", 1},
    {"dormer 5", 20500, 5000, 1800, 3600, 7600, "wege", 1},
    {"shed", 32000, 3000, 3000, 5000, 3000, "gegw", 0.25},
    {"wood shed", 14000, 19000, 3500, 3000, 2800, "wege", 0.5},
    {"chimney", 15000, 7000, 1200, 900, 9000, "eeee", 0.1},
};

static enum job_edge_kind kind_of(char letter) {
    return letter == 'e' ? JOB_EDGE_EAVE : letter == 'g' ? JOB_EDGE_GABLE : JOB_EDGE_WALL;
}

static struct job_length millimetres(int64_t length_mm) {
    return (struct job_length){
        .given = true, .tick = length_mm * UNITS_TICK_PER_MM, .reading_count = 1};
}

static void make_turret(const char *name, int64_t x_mm, int64_t y_mm, struct job_wing *wing) {
    *wing = (struct job_wing){.name = base_text_of(name),
                              .shape = JOB_SHAPE_POLYGON,
                              .corner_x_tick = x_mm * UNITS_TICK_PER_MM,
                              .corner_y_tick = y_mm * UNITS_TICK_PER_MM,
                              .sides = 8,
                              .across = millimetres(4000),
                              .eave_height = millimetres(8000),
                              .pitch = {.given = true, .value = 1.5}};
}

static void make_bay(const char *name, const char *host, int edge, struct job_wing *wing) {
    *wing = (struct job_wing){.name = base_text_of(name),
                              .shape = JOB_SHAPE_BAY,
                              .sides = 8,
                              .across = millimetres(3000),
                              .against = {.eave = base_text_of(host),
                                          .edge = edge,
                                          .at = JOB_AT_DISTANCE,
                                          .distance_tick = 4000 * UNITS_TICK_PER_MM},
                              .eave_height = millimetres(3500),
                              .pitch = {.given = true, .value = 0.5}};
    struct geometry_point corners[JOB_EDGES_MAX];
    wing->edges[job_make_polygon(wing, corners) - 1] = JOB_EDGE_WALL;
}

void twenty_wings_make(struct job_wing wings[TWENTY_WINGS], struct job *job) {
    enum { BOX_COUNT = sizeof BOXES / sizeof BOXES[0] };
    for (size_t i = 0; i < BOX_COUNT; i++) {
        const struct box *box = &BOXES[i];
        wings[i] = (struct job_wing){.name = base_text_of(box->name),
                                     .corner_x_tick = box->x_mm * UNITS_TICK_PER_MM,
                                     .corner_y_tick = box->y_mm * UNITS_TICK_PER_MM,
                                     .width = millimetres(box->width_mm),
                                     .depth = millimetres(box->depth_mm),
                                     .eave_height = millimetres(box->eave_mm),
                                     .overhang = millimetres(300),
                                     .pitch = {.given = true, .value = box->pitch_1}};
        for (int edge = 0; edge < JOB_WING_EDGES; edge++) {
            wings[i].edges[edge] = kind_of(box->edges[edge]);
        }
    }
    make_turret("south turret", 30000, -4000, &wings[BOX_COUNT]);
    make_turret("north turret", 31000, 13000, &wings[BOX_COUNT + 1]);
    make_bay("west bay", "west", 1, &wings[BOX_COUNT + 2]);
    make_bay("east bay", "east", 2, &wings[BOX_COUNT + 3]);
    *job = (struct job){.wings = wings, .wing_count = TWENTY_WINGS};
}
