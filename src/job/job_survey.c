/* SPDX-License-Identifier: Apache-2.0 */
/* The way down for a downspout, surveyed at a place: ground, wall, belts, foot, what is below. */
#include "job/job_inside.h"

static const char *const WALLS[] = {"clapboard", "brick", "stucco", "stone"};
static const char *const FEET[] = {"splash block", "shoe", "boot", "drain", "barrel"};
static const char *const NEAR[JOB_NEAR_COUNT] = {"door",  "walk",   "steps",
                                                 "drive", "window", "porch"};

const char *job_wall_word(enum job_wall wall) {
    return wall == JOB_WALL_UNSAID ? "" : WALLS[wall - JOB_WALL_CLAPBOARD];
}

const char *job_foot_word(enum job_foot foot) {
    return foot == JOB_FOOT_UNSAID ? "" : FEET[foot - JOB_FOOT_SPLASH_BLOCK];
}

const char *job_near_word(enum job_near near) {
    return NEAR[near];
}

/* ---- belts --------------------------------------------------------------------------------- */

static bool read_belt(struct job_reader *reader, const struct tree_node *node, const char *what,
                      struct job_belt *belt) {
    static const char *const NAMES[] = {"height", "projection"};
    static const struct job_keys KEYS = {"a belt course", NAMES, JOB_COUNT_OF(NAMES)};
    if (!job_check_map(reader, node, what, &KEYS)) {
        return false;
    }
    job_require(reader, node, "height", "height: 4'|height: 1200");
    job_require(reader, node, "projection", "projection: 2\"|projection: 50");
    job_take_length(reader, node, "height", JOB_ZERO_REFUSED, &belt->height);
    job_take_length(reader, node, "projection", JOB_ZERO_REFUSED, &belt->projection);
    if (belt->projection.given && belt->projection.tick > 24 * UNITS_TICK_PER_INCH) {
        job_refuse_range(reader, tree_find(node, "projection"), "projection",
                         "at most 24 in (610 mm); more is a roof or a bay of its own");
        return false;
    }
    return belt->height.given && belt->projection.given;
}

/* From the highest down, as the pipe comes to them. */
static void add_belt(struct job_survey *survey, struct job_belt belt) {
    size_t at = survey->belt_count++;
    while (at > 0 && survey->belts[at - 1].height.tick < belt.height.tick) {
        survey->belts[at] = survey->belts[at - 1];
        at--;
    }
    survey->belts[at] = belt;
}

static void read_belts(struct job_reader *reader, const struct tree_node *map,
                       struct job_survey *survey) {
    const struct tree_node *list = tree_find(map, "belts");
    const struct tree_node *table = tree_find(map, "water table");
    if (list != NULL && !job_check_list(reader, list, "belts")) {
        list = NULL;
    }
    size_t most = (list == NULL ? 0 : list->count) + 1;
    survey->belts = base_take(reader->arena, most, sizeof *survey->belts);
    if (survey->belts == NULL) {
        return;
    }
    for (const struct tree_node *node = list == NULL ? NULL : list->first; node != NULL;
         node = node->next) {
        struct job_belt belt = {0};
        if (read_belt(reader, node, "belts", &belt)) {
            add_belt(survey, belt);
        }
    }
    struct job_belt belt = {.water_table = true};
    if (table != NULL && read_belt(reader, table, "water table", &belt)) {
        add_belt(survey, belt);
    }
}

/* A belt over the gutter is a slip of feet. */
static void check_heights(struct job_reader *reader, const struct tree_node *map,
                          const struct job_survey *survey) {
    if (survey->ground.given && survey->belt_count > 0 &&
        survey->belts[0].height.tick >= survey->ground.tick) {
        job_refuse_range(reader, tree_find(map, "ground"), "ground",
                         "higher above the ground than every belt course there");
    }
}

/* ---- foot and what is near ----------------------------------------------------------------- */

static void read_foot(struct job_reader *reader, const struct tree_node *map,
                      struct job_survey *survey) {
    static const char *const NAMES[] = {"kind", "inside"};
    static const struct job_keys KEYS = {"foot", NAMES, JOB_COUNT_OF(NAMES)};
    static const struct job_words WORDS = {FEET, JOB_COUNT_OF(FEET)};
    const struct tree_node *node = tree_find(map, "foot");
    int foot = 0;
    if (node == NULL) {
        return;
    }
    if (node->kind != TREE_MAP) {
        if (job_read_word_node(reader, node, "foot", &WORDS, &foot)) {
            survey->foot = (enum job_foot)(foot + (int)JOB_FOOT_SPLASH_BLOCK);
        }
        return;
    }
    if (!job_check_map(reader, node, "foot", &KEYS)) {
        return;
    }
    if (job_require(reader, node, "kind", "kind: boot") &&
        job_take_word(reader, node, "kind", &WORDS, &foot)) {
        survey->foot = (enum job_foot)(foot + (int)JOB_FOOT_SPLASH_BLOCK);
    }
    job_take_length(reader, node, "inside", JOB_ZERO_REFUSED, &survey->boot_inside);
    if (survey->boot_inside.given && survey->foot != JOB_FOOT_BOOT) {
        job_refuse_range(reader, tree_find(node, "inside"), "inside",
                         "left out: only a boot has an inside diameter (`kind: boot`)");
    }
}

static void read_near(struct job_reader *reader, const struct tree_node *map,
                      struct job_survey *survey) {
    static const struct job_words WORDS = {NEAR, JOB_COUNT_OF(NEAR)};
    const struct tree_node *list = tree_find(map, "near");
    if (list == NULL || !job_check_list(reader, list, "near")) {
        return;
    }
    for (const struct tree_node *node = list->first; node != NULL; node = node->next) {
        int near = 0;
        if (job_read_word_node(reader, node, "near", &WORDS, &near)) {
            survey->near[near] = true;
        }
    }
}

/* ---- one place ----------------------------------------------------------------------------- */

static bool read_place(struct job_reader *reader, const struct tree_node *map,
                       struct job_survey *survey) {
    static const char *const NAMES[] = {"at",          "ground", "soffit", "belts",
                                        "water table", "wall",   "foot",   "near"};
    static const struct job_keys KEYS = {"a survey", NAMES, JOB_COUNT_OF(NAMES)};
    static const struct job_words WORDS = {WALLS, JOB_COUNT_OF(WALLS)};
    if (!job_check_map(reader, map, "survey", &KEYS)) {
        return false;
    }
    reader->where = base_text_of("the survey");
    bool placed = job_require(reader, map, "at", "at: porch to") &&
                  job_take_eave_place(reader, map, "at", &survey->at);
    job_require(reader, map, "ground", "ground: 9' 7\"|ground: 2920");
    job_take_length(reader, map, "ground", JOB_ZERO_REFUSED, &survey->ground);
    job_take_length(reader, map, "soffit", JOB_ZERO_ALLOWED, &survey->soffit);
    read_belts(reader, map, survey);
    check_heights(reader, map, survey);
    int wall = 0;
    if (job_take_word(reader, map, "wall", &WORDS, &wall)) {
        survey->wall = (enum job_wall)(wall + (int)JOB_WALL_CLAPBOARD);
    }
    read_foot(reader, map, survey);
    read_near(reader, map, survey);
    reader->where = (struct base_text){0};
    return placed;
}

void job_read_survey(struct job_reader *reader, const struct tree_node *node) {
    struct job *job = reader->job;
    if (!job_check_list(reader, node, "survey")) {
        return;
    }
    job->surveys = base_take(reader->arena, node->count, sizeof *job->surveys);
    if (job->surveys == NULL) {
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        struct job_survey survey = {0};
        if (read_place(reader, entry, &survey)) {
            job->surveys[job->survey_count++] = survey;
        }
    }
}
