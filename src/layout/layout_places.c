/* SPDX-License-Identifier: Apache-2.0 */
/* Where outlets may stand: as the job says, or at the ends and corners of a line. */
#include <stdlib.h>

#include "layout/layout_inside.h"

static bool names_eave(const struct job *job, const struct roof_eave *eave,
                       const struct job_outlet *outlet) {
    return roof_is_on(job, eave, outlet);
}

/* An edge that another roof splits is several runs: `from` is on the first, `to` on the last. */
size_t layout_find_run(const struct layout_walk *walk, const struct job_outlet *outlet) {
    const struct layout *layout = walk->layout;
    size_t found = SIZE_MAX;
    for (size_t i = 0; i < layout->run_count; i++) {
        const struct roof_eave *eave = &walk->input->roof->eaves[layout->runs[i].eave];
        if (!names_eave(walk->input->job, eave, outlet)) {
            continue;
        }
        bool earlier = found == SIZE_MAX ||
                       eave->tail_shift_tick <
                           walk->input->roof->eaves[layout->runs[found].eave].tail_shift_tick;
        bool better = false;
        switch (outlet->at) {
        case JOB_AT_FROM:
            better = earlier;
            break;
        case JOB_AT_TO:
            better = found == SIZE_MAX || !earlier;
            break;
        case JOB_AT_DISTANCE:
            better = outlet->distance_tick >= eave->tail_shift_tick &&
                     outlet->distance_tick <= eave->tail_shift_tick + eave->length_tick;
            break;
        }
        found = better ? i : found;
    }
    return found;
}

int64_t layout_place_x(const struct layout_walk *walk, size_t run, const struct job_outlet *place) {
    const struct layout_run *of = &walk->layout->runs[run];
    const struct roof_eave *eave = &walk->input->roof->eaves[of->eave];
    switch (place->at) {
    case JOB_AT_FROM:
        return 0;
    case JOB_AT_TO:
        return of->length_tick;
    case JOB_AT_DISTANCE:
        break;
    }
    return place->distance_tick - eave->tail_shift_tick + of->shift_tick;
}

/* Distance of an outlet's centre from the end it stands at: clear of a mitre's leg and its lap. */
static int64_t from_end(const struct shop *shop, bool is_free) {
    return is_free ? shop->outlet_from_end_tick : shop->mitre_leg_tick + shop->joint_clear_tick;
}

/* Centre of the tail nearest to a place of the gutter; false where none is measured. */
static bool nearest_tail(const struct layout_walk *walk, const struct layout_run *run,
                         int64_t x_tick, int64_t *tail_tick) {
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    const struct job_section *section = &eave->section;
    int64_t start_tick = run->shift_tick - eave->tail_shift_tick;
    if (section->wood == JOB_WOOD_TAILS && section->spacing.given && section->first.given) {
        int64_t spacing_tick = section->spacing.tick;
        int64_t first_tick = section->first.tick + start_tick;
        int64_t steps = (x_tick - first_tick + spacing_tick / 2) / spacing_tick;
        *tail_tick = first_tick + steps * spacing_tick;
        return 2 * (layout_tube(walk->input->shop, 0) / 2 + UNITS_TICK_PER_INCH) <= spacing_tick;
    }
    for (size_t i = 0; i < section->position_count; i++) {
        int64_t at_tick = section->positions_tick[i] + start_tick;
        if (i == 0 || llabs(at_tick - x_tick) < llabs(*tail_tick - x_tick)) {
            *tail_tick = at_tick;
        }
    }
    return section->position_count > 0;
}

/* On measured tails the outlet stands between two of them, so that no bracket crosses it. */
static int64_t clear_of_tails(const struct layout_walk *walk, const struct layout_run *run,
                              int64_t x_tick) {
    int64_t clear_tick = layout_tube(walk->input->shop, 0) / 2 + UNITS_TICK_PER_INCH;
    int64_t tail_tick = 0;
    if (!nearest_tail(walk, run, x_tick, &tail_tick) || llabs(x_tick - tail_tick) >= clear_tick) {
        return x_tick;
    }
    bool inwards_is_right = x_tick < run->length_tick / 2;
    return inwards_is_right ? tail_tick + clear_tick : tail_tick - clear_tick;
}

static struct layout_place end_place(const struct layout_walk *walk, size_t run_index,
                                     bool at_left) {
    const struct layout_run *run = &walk->layout->runs[run_index];
    int64_t in_tick = from_end(walk->input->shop, at_left ? run->left_is_free : run->right_is_free);
    in_tick = in_tick > run->length_tick / 2 ? run->length_tick / 2 : in_tick;
    int64_t x_tick = clear_of_tails(walk, run, at_left ? in_tick : run->length_tick - in_tick);
    return (struct layout_place){.run = run_index,
                                 .x_tick = x_tick,
                                 .line_m = run->line_start_m + units_m_of_tick(x_tick),
                                 .discharge = walk->input->job->discharge};
}

struct layout_place layout_place_of(const struct layout_walk *walk, size_t run_index,
                                    const struct job_outlet *outlet) {
    const struct layout_run *run = &walk->layout->runs[run_index];
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    struct layout_place place = end_place(walk, run_index, outlet->at == JOB_AT_FROM);
    if (outlet->at == JOB_AT_DISTANCE) {
        place.x_tick = outlet->distance_tick - eave->tail_shift_tick + run->shift_tick;
        place.line_m = run->line_start_m + units_m_of_tick(place.x_tick);
    }
    if (outlet->discharge_given) {
        place.discharge = outlet->discharge;
    }
    place.onto = outlet->onto;
    place.mark = outlet->mark;
    return place;
}

static void check_place(struct layout_walk *walk, const struct job_outlet *outlet) {
    size_t run = layout_find_run(walk, outlet);
    if (run == SIZE_MAX) {
        base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_OUTLET_ON_NO_EAVE,
                                                         .mark = outlet->mark,
                                                         .object = outlet->eave,
                                                         .value = base_value_count(outlet->edge)});
        return;
    }
    struct layout_place place = layout_place_of(walk, run, outlet);
    int64_t least_tick = layout_tube(walk->input->shop, 0);
    int64_t length_tick = walk->layout->runs[run].length_tick;
    if (place.x_tick < least_tick || place.x_tick > length_tick - least_tick) {
        base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_OUTLET_OFF_THE_GUTTER,
                                                         .mark = outlet->mark,
                                                         .object = walk->layout->runs[run].name,
                                                         .value = base_value_tick(place.x_tick),
                                                         .limit = base_value_tick(length_tick)});
    }
}

enum base_status layout_check_places(struct layout_walk *walk) {
    const struct job *job = walk->input->job;
    size_t stops = base_count_severity(walk->issues, BASE_SEVERITY_STOP);
    for (size_t i = 0; i < job->outlet_count; i++) {
        check_place(walk, &job->outlets[i]);
    }
    for (size_t i = 0; i < job->allowed_count; i++) {
        check_place(walk, &job->allowed[i]);
    }
    return base_count_severity(walk->issues, BASE_SEVERITY_STOP) > stops ? BASE_STOPPED : BASE_OK;
}

/* Keeps the list by rising place on the line; two outlets nearer than a tube are one. */
static void insert_place(const struct layout_walk *walk, struct layout_place *places, size_t *count,
                         struct layout_place place) {
    double least_m = units_m_of_tick(layout_tube(walk->input->shop, 0));
    for (size_t i = 0; i < *count; i++) {
        double apart_m = places[i].line_m - place.line_m;
        if (apart_m < least_m && apart_m > -least_m) {
            return;
        }
    }
    if (*count == LAYOUT_PLACES_MAX) {
        return;
    }
    size_t at = (*count)++;
    while (at > 0 && places[at - 1].line_m > place.line_m) {
        places[at] = places[at - 1];
        at--;
    }
    places[at] = place;
}

static size_t list_said(const struct layout_walk *walk, size_t line, const struct job_outlet *said,
                        size_t said_count, struct layout_place *places) {
    size_t count = 0;
    for (size_t i = 0; i < said_count; i++) {
        size_t run = layout_find_run(walk, &said[i]);
        if (run != SIZE_MAX && walk->layout->runs[run].line == line) {
            insert_place(walk, places, &count, layout_place_of(walk, run, &said[i]));
        }
    }
    return count;
}

/* Nothing said: the right end of every run first, then the line's left end. */
static size_t list_usual(const struct layout_walk *walk, size_t line, struct layout_place *places) {
    const struct layout_line *of = &walk->layout->lines[line];
    size_t count = 0;
    for (size_t i = 0; i < of->run_count; i++) {
        size_t run = of->first_run + of->run_count - 1 - i;
        insert_place(walk, places, &count, end_place(walk, run, false));
    }
    if (!of->is_ring) {
        insert_place(walk, places, &count, end_place(walk, of->first_run, true));
    }
    return count;
}

size_t layout_list_places(struct layout_walk *walk, size_t line, bool *fixed,
                          struct layout_place places[LAYOUT_PLACES_MAX]) {
    const struct job *job = walk->input->job;
    size_t count = list_said(walk, line, job->outlets, job->outlet_count, places);
    *fixed = count > 0 || (job->outlet_count > 0 && job->allowed_count == 0);
    if (*fixed) {
        return count;
    }
    count = list_said(walk, line, job->allowed, job->allowed_count, places);
    return count > 0 || job->allowed_count > 0 ? count : list_usual(walk, line, places);
}
