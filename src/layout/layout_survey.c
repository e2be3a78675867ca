/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the survey of a place says to the downspout there: how far off the wall, over which belts,
 * into which foot.
 *
 *     |  wall               A belt that stands out no more than the longest usual strap: the whole
 *     |    | pipe           pipe stands off the wall, clear of it. A deeper belt, or the water
 * table
 *   __|__  |  belt          at the foot of the wall: a pair of elbows takes the pipe out over it,
 * and | /  jog           it stays out. Source: trade/copper f, 1 in clear of the wall (FOUND); the
 *        ||                 longest strap COMMON PRACTICE.
 */
#include <math.h>
#include <stdlib.h>

#include "layout/layout_inside.h"

/* An outlet farther than this from the place surveyed has another way down: COMMON PRACTICE. */
#define SURVEY_REACH_TICK (3 * UNITS_TICK_PER_FOOT)
/* Straps hold a pipe no farther off the wall than this: COMMON PRACTICE. */
#define STAND_OFF_TICK (4 * UNITS_TICK_PER_INCH)
/* The play of a pipe's joints takes up a belt that stands out no more than this: COMMON PRACTICE.
 */
#define PLAY_TICK (UNITS_TICK_PER_INCH / 2)
/* A boot takes a pipe with this to spare: COMMON PRACTICE. */
#define BOOT_SPARE_TICK (UNITS_TICK_PER_INCH / 8)

static int64_t apart(const struct layout_walk *walk, const struct layout_outlet *outlet,
                     const struct job_survey *survey) {
    size_t run = layout_find_run(walk, &survey->at);
    return run == outlet->run ? llabs(layout_place_x(walk, run, &survey->at) - outlet->x_tick)
                              : INT64_MAX;
}

const struct job_survey *layout_find_survey(const struct layout_walk *walk,
                                            const struct layout_outlet *outlet) {
    const struct job *job = walk->input->job;
    const struct job_survey *nearest = NULL;
    int64_t best_tick = SURVEY_REACH_TICK + 1;
    for (size_t i = 0; i < job->survey_count; i++) {
        int64_t apart_tick = apart(walk, outlet, &job->surveys[i]);
        if (apart_tick < best_tick) {
            best_tick = apart_tick;
            nearest = &job->surveys[i];
        }
    }
    return nearest;
}

/* ---- foot ---------------------------------------------------------------------------------- */

static enum job_discharge discharge_of(enum job_foot foot) {
    switch (foot) {
    case JOB_FOOT_UNSAID:
    case JOB_FOOT_SPLASH_BLOCK:
    case JOB_FOOT_SHOE:
        break;
    case JOB_FOOT_BOOT:
    case JOB_FOOT_DRAIN:
        return JOB_DISCHARGE_DRAIN;
    case JOB_FOOT_BARREL:
        return JOB_DISCHARGE_BARREL;
    }
    return JOB_DISCHARGE_SPLASH_BLOCK;
}

void layout_take_foot(struct layout_walk *walk, struct layout_outlet *outlet,
                      const struct job_survey *survey) {
    static const char *const WORDS[] = {"splash block", "drain", "barrel", "place unknown"};
    enum job_discharge there = discharge_of(survey->foot);
    if (survey->foot == JOB_FOOT_UNSAID || there == outlet->discharge) {
        return;
    }
    /* the splash block is what is taken where nothing is said */
    if (outlet->discharge == JOB_DISCHARGE_SPLASH_BLOCK) {
        outlet->discharge = there;
        return;
    }
    base_add_issue(walk->issues,
                   (struct base_issue){.code = BASE_ISSUE_SURVEY_FOOT_DIFFERS,
                                       .mark = survey->at.mark,
                                       .object = outlet->name,
                                       .value = base_value_string(job_foot_word(survey->foot)),
                                       .other = base_value_string(WORDS[outlet->discharge])});
}

static void check_boot(struct layout_walk *walk, const struct layout_outlet *outlet,
                       const struct job_survey *survey) {
    const struct shop_pipe *pipe = &walk->input->shop->pipes[outlet->pipe];
    if (survey->boot_inside.given &&
        pipe->diameter_tick + BOOT_SPARE_TICK > survey->boot_inside.tick) {
        base_add_issue(walk->issues,
                       (struct base_issue){.code = BASE_ISSUE_BOOT_TOO_SMALL,
                                           .mark = survey->boot_inside.mark,
                                           .object = outlet->name,
                                           .value = base_value_tick(pipe->diameter_tick),
                                           .limit = base_value_tick(survey->boot_inside.tick)});
    }
}

static void check_below(struct layout_walk *walk, const struct layout_outlet *outlet,
                        const struct job_survey *survey) {
    static const enum job_near WALKED[] = {JOB_NEAR_DOOR, JOB_NEAR_WALK, JOB_NEAR_STEPS,
                                           JOB_NEAR_DRIVE};
    for (size_t i = 0; i < sizeof WALKED / sizeof WALKED[0]; i++) {
        if (survey->near[WALKED[i]] && outlet->discharge == JOB_DISCHARGE_SPLASH_BLOCK) {
            base_add_issue(walk->issues, (struct base_issue){
                                             .code = BASE_ISSUE_WATER_LET_OUT_BESIDE,
                                             .mark = survey->at.mark,
                                             .object = outlet->name,
                                             .value = base_value_string(job_near_word(WALKED[i]))});
            return;
        }
    }
}

static bool is_used(const struct layout *layout, size_t survey) {
    for (size_t i = 0; i < layout->outlet_count; i++) {
        if (layout->downspouts[i].survey == survey) {
            return true;
        }
    }
    return false;
}

/* Said once for all: the first by name. */
static void say_not_surveyed(struct layout_walk *walk) {
    const struct layout *layout = walk->layout;
    int64_t count = 0;
    size_t first = SIZE_MAX;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        const struct layout_downspout *pipe = &layout->downspouts[i];
        if (pipe->measured && pipe->survey == SIZE_MAX && pipe->elbow_rad > 0.0) {
            first = first == SIZE_MAX ? i : first;
            count++;
        }
    }
    if (count > 0) {
        base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_OFFSET_NOT_SURVEYED,
                                                         .object = layout->outlets[first].name,
                                                         .value = base_value_count(count)});
    }
}

void layout_check_surveys(struct layout_walk *walk) {
    const struct job *job = walk->input->job;
    for (size_t i = 0; i < walk->layout->outlet_count; i++) {
        size_t survey = walk->layout->downspouts[i].survey;
        if (survey != SIZE_MAX) {
            check_boot(walk, &walk->layout->outlets[i], &job->surveys[survey]);
            check_below(walk, &walk->layout->outlets[i], &job->surveys[survey]);
        }
    }
    for (size_t i = 0; i < job->survey_count; i++) {
        if (!is_used(walk->layout, i)) {
            base_add_issue(walk->issues,
                           (struct base_issue){.code = BASE_ISSUE_SURVEY_NOT_USED,
                                               .mark = job->surveys[i].at.mark,
                                               .object = job->surveys[i].at.eave,
                                               .limit = base_value_tick(SURVEY_REACH_TICK)});
        }
    }
    say_not_surveyed(walk);
}

/* ---- belts --------------------------------------------------------------------------------- */

/* The pipe's back stands clear of this belt. */
static int64_t clear_of(const struct shop *shop, const struct job_belt *belt) {
    return belt->projection.tick + shop->wall_clear_tick;
}

int64_t layout_stand_off(const struct shop *shop, const struct job_survey *survey) {
    int64_t stand_tick = shop->wall_clear_tick;
    for (size_t i = 0; survey != NULL && i < survey->belt_count; i++) {
        int64_t clear_tick = clear_of(shop, &survey->belts[i]);
        if (!survey->belts[i].water_table && survey->belts[i].projection.tick > PLAY_TICK &&
            clear_tick <= STAND_OFF_TICK && clear_tick > stand_tick) {
            stand_tick = clear_tick;
        }
    }
    return stand_tick;
}

static struct layout_jog make_jog(const struct shop *shop, const struct job_belt *belt,
                                  int64_t out_tick) {
    double out_m = units_m_of_tick(out_tick);
    double leg_m = units_m_of_tick(shop->elbow_leg_tick);
    struct layout_jog jog = {.over_tick = belt->height.tick,
                             .offset_tick = out_tick,
                             .elbow_rad = layout_choose_elbow(shop, out_m),
                             .water_table = belt->water_table};
    double straight_m = out_m / sin(jog.elbow_rad) - 2 * leg_m;
    if (straight_m > 1e-6) {
        jog.travel_tick =
            layout_rounded(shop, straight_m + 2 * units_m_of_tick(shop->pipe_lap_tick));
    }
    return jog;
}

/*
 * The lower elbow's lower leg ends at the belt's top; its vertex stands a leg above, the upper
 * elbow's vertex the drop of the offset above that. Pipes slip into what is below them by a lap.
 */
static void add_jog(const struct shop *shop, struct layout_downspout *pipe, struct layout_jog jog) {
    double leg_m = units_m_of_tick(shop->elbow_leg_tick);
    double lap_m = units_m_of_tick(shop->pipe_lap_tick);
    double over_m = units_m_of_tick(jog.over_tick);
    double drop_m = units_m_of_tick(jog.offset_tick) / tan(jog.elbow_rad);
    struct layout_straight *above = &pipe->straights[pipe->jog_count];
    struct layout_straight *below = above + 1;
    *below = (struct layout_straight){.top_tick = layout_rounded(shop, over_m + lap_m),
                                      .bottom_tick = above->bottom_tick,
                                      .stand_tick = above->stand_tick + jog.offset_tick};
    above->bottom_tick = layout_rounded(shop, over_m + 2 * leg_m + drop_m - lap_m);
    pipe->jogs[pipe->jog_count++] = jog;
}

bool layout_split_pipe(const struct layout_walk *walk, const struct job_survey *survey,
                       struct layout_downspout *pipe) {
    const struct shop *shop = walk->input->shop;
    size_t belts = survey == NULL ? 0 : survey->belt_count;
    pipe->straights = base_take(walk->arena, belts + 1, sizeof *pipe->straights);
    pipe->jogs = base_take(walk->arena, belts, sizeof *pipe->jogs);
    if (pipe->straights == NULL || pipe->jogs == NULL) {
        return false;
    }
    pipe->straights[0] = (struct layout_straight){.top_tick = pipe->top_tick,
                                                  .bottom_tick = pipe->bottom_tick,
                                                  .stand_tick = layout_stand_off(shop, survey)};
    for (size_t i = 0; i < belts; i++) {
        int64_t stand_tick = pipe->straights[pipe->jog_count].stand_tick;
        int64_t out_tick = clear_of(shop, &survey->belts[i]) - stand_tick;
        if (out_tick > PLAY_TICK) {
            add_jog(shop, pipe, make_jog(shop, &survey->belts[i], out_tick));
        }
    }
    for (size_t i = 0; i <= pipe->jog_count; i++) {
        pipe->vertical_tick += pipe->straights[i].top_tick - pipe->straights[i].bottom_tick;
    }
    return true;
}
