/* SPDX-License-Identifier: Apache-2.0 */
/* The gutter as found, and a curved eave. */
#include <math.h>

#include "job/job_inside.h"

/* ---- as found ------------------------------------------------------------------------------ */

static const char *const PROFILES[] = {"half-round", "ogee", "box"};

const char *job_profile_word(enum job_profile profile) {
    return profile == JOB_PROFILE_UNSAID ? "" : PROFILES[profile - JOB_PROFILE_HALF_ROUND];
}

/* Both ends below one level line. */
static void read_levels(struct job_reader *reader, const struct tree_node *map,
                        struct job_found *found) {
    const struct tree_node *list = tree_find(map, "levels");
    if (list == NULL) {
        return;
    }
    if (list->kind != TREE_LIST || list->count != 2) {
        job_refuse_kind(reader, list, "levels",
                        "two lengths, the lip below one level line at the from and the to end");
        return;
    }
    job_read_length_node(reader, list->first, "levels", JOB_ZERO_ALLOWED, &found->levels[0]);
    job_read_length_node(reader, list->first->next, "levels", JOB_ZERO_ALLOWED, &found->levels[1]);
}

static void read_photos(struct job_reader *reader, const struct tree_node *map,
                        struct job_found *found) {
    const struct tree_node *list = tree_find(map, "photos");
    if (list == NULL || !job_check_list(reader, list, "photos")) {
        return;
    }
    found->photos = base_take(reader->arena, list->count, sizeof *found->photos);
    for (const struct tree_node *node = list->first; node != NULL && found->photos != NULL;
         node = node->next) {
        struct units_integer_reading number = {.fault = UNITS_NOT_A_NUMBER, .value = 0};
        if (node->kind == TREE_SCALAR) {
            number = units_read_count(job_trim(node->text));
        }
        if (number.fault != UNITS_FINE || number.value < 1 || number.value > 9999) {
            job_refuse_range(reader, node, "photos", "the number of a photo, 1 to 9999");
            continue;
        }
        found->photos[found->photo_count++] = number.value;
    }
}

static bool same_eave(const struct job_outlet *one, const struct job_outlet *other) {
    return base_text_equal(one->eave, other->eave) && one->edge == other->edge;
}

static void check_twice(struct job_reader *reader, const struct job_found *found) {
    const struct job *job = reader->job;
    for (size_t i = 0; i < job->found_count; i++) {
        if (same_eave(&job->found[i].at, &found->at)) {
            base_add_issue(reader->issues,
                           (struct base_issue){.code = BASE_ISSUE_FOUND_TWICE,
                                               .mark = found->mark,
                                               .value = base_value_text(found->at.eave)});
            return;
        }
    }
}

static void take_what(struct job_reader *reader, const struct tree_node *map,
                      struct job_found *found) {
    static const struct job_words WORDS = {PROFILES, JOB_COUNT_OF(PROFILES)};
    int profile = 0;
    if (job_take_word(reader, map, "profile", &WORDS, &profile)) {
        found->profile = (enum job_profile)(profile + (int)JOB_PROFILE_HALF_ROUND);
    }
    job_take_length(reader, map, "size", JOB_ZERO_REFUSED, &found->size);
    job_take_length(reader, map, "bead", JOB_ZERO_REFUSED, &found->bead);
    job_take_text(reader, map, "metal", &found->metal);
    job_take_text(reader, map, "weight", &found->weight);
    job_take_text(reader, map, "hanger kind", &found->hanger);
    job_take_length(reader, map, "hanger spacing", JOB_ZERO_REFUSED, &found->hanger_spacing);
    job_take_text(reader, map, "joint kind", &found->joint);
    job_take_length(reader, map, "pipe size", JOB_ZERO_REFUSED, &found->pipe_size);
    if (found->size.given && found->bead.given && 2 * found->bead.tick >= found->size.tick) {
        job_refuse_range(reader, tree_find(map, "bead"), "bead",
                         "the bead's diameter, less than half the gutter");
    }
    if (found->size.given && found->size.tick > 24 * UNITS_TICK_PER_INCH) {
        job_refuse_range(reader, tree_find(map, "size"), "size",
                         "the width across the top (metric: the girth), at most 24 in");
    }
}

static bool read_one(struct job_reader *reader, const struct tree_node *map,
                     struct job_found *found) {
    static const char *const NAMES[] = {"at",         "profile",   "size",        "bead",
                                        "metal",      "weight",    "hanger kind", "hanger spacing",
                                        "joint kind", "pipe size", "levels",      "photos",
                                        "flange"};
    static const char *const FLANGES[] = {"under the roof"};
    static const struct job_words FLANGE_WORDS = {FLANGES, JOB_COUNT_OF(FLANGES)};
    static const struct job_keys KEYS = {"a gutter as found", NAMES, JOB_COUNT_OF(NAMES)};
    found->mark = map->mark;
    if (!job_check_map(reader, map, "as found", &KEYS)) {
        return false;
    }
    reader->where = base_text_of("the gutter as found");
    bool placed = tree_find(map, "at") == NULL || job_take_eave(reader, map, "at", &found->at);
    take_what(reader, map, found);
    read_levels(reader, map, found);
    read_photos(reader, map, found);
    int under = 0;
    found->flange = job_take_word(reader, map, "flange", &FLANGE_WORDS, &under);
    if (placed) {
        check_twice(reader, found);
    }
    reader->where = (struct base_text){0};
    return placed;
}

void job_read_found(struct job_reader *reader, const struct tree_node *node) {
    struct job *job = reader->job;
    if (!job_check_list(reader, node, "as found")) {
        return;
    }
    job->found = base_take(reader->arena, node->count, sizeof *job->found);
    if (job->found == NULL) {
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        struct job_found found = {0};
        if (read_one(reader, entry, &found)) {
            job->found[job->found_count++] = found;
        }
    }
}

/* ---- a curved eave ------------------------------------------------------------------------- */

/* tan(a/2) = rise / half chord, for the half angle a. */
struct job_arc job_find_arc(const struct job_curve *curve) {
    double half_m = units_m_of_tick(curve->chord.tick) / 2;
    double rise_m = units_m_of_tick(curve->rise.tick);
    struct job_arc arc = {.radius_m = (half_m * half_m / rise_m + rise_m) / 2};
    arc.length_m = 4 * atan(rise_m / half_m) * arc.radius_m;
    arc.quarter_m =
        sqrt(arc.radius_m * arc.radius_m - half_m * half_m / 4) - (arc.radius_m - rise_m);
    return arc;
}

static void read_quarters(struct job_reader *reader, const struct tree_node *map,
                          struct job_curve *curve) {
    const struct tree_node *list = tree_find(map, "quarter rises");
    if (list->kind != TREE_LIST || list->count != 2) {
        job_refuse_kind(reader, list, "quarter rises",
                        "two lengths, a quarter of the chord from the from and from the to end");
        return;
    }
    job_read_length_node(reader, list->first, "quarter rises", JOB_ZERO_REFUSED,
                         &curve->quarters[0]);
    job_read_length_node(reader, list->first->next, "quarter rises", JOB_ZERO_REFUSED,
                         &curve->quarters[1]);
}

static void read_arc(struct job_reader *reader, const struct tree_node *map,
                     struct job_curve *curve) {
    job_require(reader, map, "chord", "chord: 12'|chord: 3600");
    job_take_length(reader, map, "chord", JOB_ZERO_REFUSED, &curve->chord);
    job_require(reader, map, "rise", "rise: 2' 1\"|rise: 640");
    job_take_length(reader, map, "rise", JOB_ZERO_REFUSED, &curve->rise);
    if (job_require(reader, map, "quarter rises",
                    "quarter rises: [1' 7\", 1' 7\"]|quarter rises: [480, 480]")) {
        read_quarters(reader, map, curve);
    }
    if (curve->rise.given && (!curve->chord.given || 2 * curve->rise.tick > curve->chord.tick)) {
        curve->rise.given = false; /* no arc to be made of these */
        if (curve->chord.given) {
            job_refuse_range(reader, tree_find(map, "rise"), "rise",
                             "at most half the chord: measure a fuller curve in two parts");
        }
    }
}

void job_read_curve(struct job_reader *reader, const struct tree_node *map,
                    struct job_curve *curve) {
    static const char *const NAMES[] = {"chord", "rise", "quarter rises", "template", "radius"};
    static const struct job_keys KEYS = {"a curve", NAMES, JOB_COUNT_OF(NAMES)};
    static const char *const TEMPLATES[] = {"paper"};
    static const struct job_words WORDS = {TEMPLATES, JOB_COUNT_OF(TEMPLATES)};
    const struct tree_node *node = tree_find(map, "curve");
    if (node == NULL) {
        return;
    }
    curve->given = true;
    curve->mark = node->mark;
    if (!job_check_map(reader, node, "curve", &KEYS)) {
        return;
    }
    const struct tree_node *radius = tree_find(node, "radius");
    if (radius != NULL) {
        base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_CURVE_BY_RADIUS,
                                                           .mark = radius->key_mark,
                                                           .object = job_object(reader, "curve")});
        return;
    }
    if (tree_find(node, "template") == NULL) {
        read_arc(reader, node, curve);
        return;
    }
    int paper = 0;
    job_refuse_pair(reader, node, "template", "chord");
    curve->paper = job_take_word(reader, node, "template", &WORDS, &paper);
}
