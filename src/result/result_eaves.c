/* SPDX-License-Identifier: Apache-2.0 */
/* What was measured at the eaves: the wood, the ways down as surveyed, the gutters as found; and
 * what follows from it. */
#include "result/result_inside.h"

/* An empty word or text is absent. */
static void put_word(struct result_out *out, enum result_field field, const char *word) {
    if (word[0] != '\0') {
        result_put_word(out, field, word);
    }
}

static void put_text(struct result_out *out, enum result_field field, struct base_text text) {
    if (text.length > 0) {
        result_put_text(out, field, text);
    }
}

/* Absent where it was not said. */
static void put_length(struct result_out *out, enum result_field field,
                       const struct job_length *length) {
    if (length->given) {
        result_put_tick(out, field, length->tick);
    }
}

/* ---- the wood ------------------------------------------------------------------------------- */

static const char *wood_word(enum job_wood wood) {
    static const char *const words[] = {"not-said", "tails", "fascia", "crown"};
    return words[wood];
}

static const char *fixing_word(enum hang_fixing fixing) {
    static const char *const words[] = {"plumb", "wedge", "angled-bracket", "side-bracket"};
    return words[fixing];
}

void result_write_fixing(struct result_out *out, const struct hang_run *run) {
    put_word(out, RESULT_HANG_WOOD, wood_word(run->wood));
    put_word(out, RESULT_HANG_FIXING, fixing_word(run->fixing));
    if (run->tip_rad > 0.0) {
        result_put(out, RESULT_HANG_TIP, base_value_number(BASE_UNIT_RAD, run->tip_rad));
    }
    if (run->wedge_thick_tick > 0) {
        result_put_tick(out, RESULT_HANG_WEDGE_FACE, run->wedge_face_tick);
        result_put_tick(out, RESULT_HANG_WEDGE_THICK, run->wedge_thick_tick);
    }
    if (run->wedge_wide_tick > 0) {
        result_put_tick(out, RESULT_HANG_WEDGE_WIDE, run->wedge_wide_tick);
    }
}

void result_write_loads(struct result_out *out, const struct hang_run *run) {
    const struct hang_loads *loads = &run->loads;
    result_put_number(out, RESULT_HANG_MOVES, run->moves.moves_m);
    result_put_count(out, RESULT_HANG_JOINTS_WANTED, run->moves.joints_wanted);
    if (run->count == 0) {
        return;
    }
    result_put_number(out, RESULT_HANG_SHARE, loads->share_m);
    result_put_number(out, RESULT_HANG_LOAD_WATER, loads->load_n[HANG_FULL_OF_WATER]);
    result_put_number(out, RESULT_HANG_LOAD_ICE, loads->load_n[HANG_FULL_OF_ICE]);
    if (loads->withdrawal_n > 0.0) {
        result_put_number(out, RESULT_HANG_SCREWS_WATER, loads->use_1[HANG_FULL_OF_WATER]);
        result_put_number(out, RESULT_HANG_SCREWS_ICE, loads->use_1[HANG_FULL_OF_ICE]);
    }
    put_word(out, RESULT_HANG_GRAIN, loads->end_grain ? "end" : "side");
    result_put_number(out, RESULT_HANG_GRAVITY, loads->gravity_1);
    result_put_number(out, RESULT_HANG_SLIDING, loads->sliding_nm);
}

/* ---- the ways down -------------------------------------------------------------------------- */

void result_write_way_down(struct result_out *out, size_t outlet) {
    const struct layout_downspout *pipe = &out->solution->layout.downspouts[outlet];
    put_word(out, RESULT_DOWN_SURVEYED, pipe->survey == SIZE_MAX ? "no" : "yes");
    result_put_tick(out, RESULT_DOWN_GROUND, pipe->ground_tick);
    result_put_tick(out, RESULT_DOWN_STAND, pipe->straights[0].stand_tick);
    for (size_t i = 0; i < pipe->jog_count; i++) {
        const struct layout_jog *jog = &pipe->jogs[i];
        result_open_map(out, result_number_key(out, i + 1));
        put_word(out, RESULT_JOG_OVER_WHAT, jog->water_table ? "water-table" : "belt-course");
        result_put_tick(out, RESULT_JOG_OVER, jog->over_tick);
        result_put_tick(out, RESULT_JOG_OFFSET, jog->offset_tick);
        result_put(out, RESULT_JOG_ELBOW, base_value_number(BASE_UNIT_RAD, jog->elbow_rad));
        result_put_tick(out, RESULT_JOG_TRAVEL, jog->travel_tick);
        result_put_tick(out, RESULT_JOG_STAND, pipe->straights[i + 1].stand_tick);
        result_close_map(out);
    }
}

static const char *wall_word(enum job_wall wall) {
    static const char *const words[] = {"", "clapboard", "brick", "stucco", "stone"};
    return words[wall];
}

static const char *foot_word(enum job_foot foot) {
    static const char *const words[] = {"", "splash-block", "shoe", "boot", "drain", "barrel"};
    return words[foot];
}

static struct base_text near_words(struct result_out *out, const struct job_survey *survey) {
    struct base_builder words = {.arena = out->arena};
    for (int i = 0; i < JOB_NEAR_COUNT; i++) {
        if (survey->near[i]) {
            base_add_string(&words, words.length > 0 ? ", " : "");
            base_add_string(&words, job_near_word((enum job_near)i));
        }
    }
    return base_built(&words);
}

/* Under the outlet it was used for; a place that is none of the outlets is not written. */
void result_write_surveys(struct result_out *out) {
    const struct solution *all = out->solution;
    bool open = false;
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        size_t index = all->layout.downspouts[i].survey;
        if (index == SIZE_MAX) {
            continue;
        }
        if (!open) {
            result_open_map(out, base_text_of("surveys"));
            open = true;
        }
        const struct job_survey *survey = &all->job.surveys[index];
        result_open_map(out, all->layout.outlets[i].name);
        put_length(out, RESULT_SURVEY_GROUND, &survey->ground);
        put_length(out, RESULT_SURVEY_SOFFIT, &survey->soffit);
        put_word(out, RESULT_SURVEY_WALL, wall_word(survey->wall));
        put_word(out, RESULT_SURVEY_FOOT, foot_word(survey->foot));
        put_length(out, RESULT_SURVEY_BOOT, &survey->boot_inside);
        put_text(out, RESULT_SURVEY_NEAR, near_words(out, survey));
        for (size_t k = 0; k < survey->belt_count; k++) {
            result_open_map(out, result_number_key(out, k + 1));
            put_length(out, RESULT_BELT_HEIGHT, &survey->belts[k].height);
            put_length(out, RESULT_BELT_PROJECTION, &survey->belts[k].projection);
            result_close_map(out);
        }
        result_close_map(out);
    }
    if (open) {
        result_close_map(out);
    }
}

/* ---- as found ------------------------------------------------------------------------------- */

static struct base_text found_name(struct result_out *out, const struct job_found *found) {
    struct base_builder name = {.arena = out->arena};
    if (found->at.eave.length == 0) {
        return base_text_of("house");
    }
    base_add_text(&name, found->at.eave);
    if (found->at.edge > 0) {
        base_add_char(&name, '.');
        base_add_integer(&name, found->at.edge);
    }
    return base_built(&name);
}

static struct base_text found_photos(struct result_out *out, const struct job_found *found) {
    struct base_builder list = {.arena = out->arena};
    for (size_t i = 0; i < found->photo_count; i++) {
        base_add_string(&list, i == 0 ? "" : ", ");
        base_add_integer(&list, found->photos[i]);
    }
    return base_built(&list);
}

static void write_falls(struct result_out *out, size_t index) {
    const struct solution *all = out->solution;
    for (size_t i = 0; all->has_house && i < all->hang.found_count; i++) {
        const struct hang_found *held = &all->hang.found[i];
        if (held->found == index && held->has_fall && held->run != SIZE_MAX) {
            result_put(out, RESULT_FOUND_FALL, base_value_number(BASE_UNIT_SLOPE, held->fall_1));
            result_put(out, RESULT_FOUND_MADE, base_value_number(BASE_UNIT_SLOPE, held->made_1));
        }
    }
}

void result_write_found(struct result_out *out) {
    const struct job *job = &out->solution->job;
    if (job->found_count == 0) {
        return;
    }
    result_open_map(out, base_text_of("as_found"));
    for (size_t i = 0; i < job->found_count; i++) {
        const struct job_found *found = &job->found[i];
        result_open_map(out, result_number_key(out, i + 1));
        put_text(out, RESULT_FOUND_AT, found_name(out, found));
        if (found->profile != JOB_PROFILE_UNSAID) {
            put_word(out, RESULT_FOUND_PROFILE, job_profile_word(found->profile));
        }
        put_length(out, RESULT_FOUND_SIZE, &found->size);
        put_length(out, RESULT_FOUND_BEAD, &found->bead);
        put_text(out, RESULT_FOUND_METAL, found->metal.text);
        put_text(out, RESULT_FOUND_WEIGHT, found->weight.text);
        put_text(out, RESULT_FOUND_HANGER, found->hanger.text);
        put_length(out, RESULT_FOUND_SPACING, &found->hanger_spacing);
        put_text(out, RESULT_FOUND_JOINT, found->joint.text);
        put_length(out, RESULT_FOUND_PIPE, &found->pipe_size);
        write_falls(out, i);
        put_text(out, RESULT_FOUND_PHOTOS, found_photos(out, found));
        result_close_map(out);
    }
    result_close_map(out);
}
