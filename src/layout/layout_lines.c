/* SPDX-License-Identifier: Apache-2.0 */
/* Runs and lines from the eaves: which gutters are one gutter round a corner, and how long each is.
 */
#include <math.h>

#include "layout/layout_inside.h"

static const double PI = 3.14159265358979323846;

int64_t layout_edge_over(const struct shop *shop, const struct roof_eave *eave) {
    const struct job_length *said = &eave->section.cover_overhang;
    return said->given ? said->tick : shop->edge_over_back_tick;
}

/*
 * How far the gutter's back edge runs past the eave's end. At a free end by the shop's habit; at a
 * corner by the distance between roof edge and back edge, seen along the eave: the back edge stands
 * inside the roof edge, so it is shorter at an outside corner and longer at an inside one.
 * Source: plane geometry.
 */
static int64_t end_extension(const struct layout_walk *walk, const struct roof_eave *eave,
                             bool at_to) {
    const struct job_run_end *end = at_to ? &eave->to_end : &eave->from_end;
    size_t beyond = at_to ? eave->next : eave->previous;
    /* flatter or sharper than 5 degrees is refused below */
    double turn_rad = fmin(fmax(PI - end->corner_rad, PI / 36), PI * 35 / 36);
    const struct shop *shop = walk->input->shop;
    const struct job *job = walk->input->job;
    double over_m = units_m_of_tick(layout_edge_over(shop, eave));
    double other_m =
        beyond == SIZE_MAX
            ? over_m
            : units_m_of_tick(layout_edge_over(shop, &walk->input->roof->eaves[beyond]));
    double shift_m = (other_m - over_m * cos(turn_rad)) / sin(turn_rad);
    switch (end->kind) {
    case JOB_END_CAP:
        return job->run_past.given ? job->run_past.tick : shop->run_past_tick;
    case JOB_END_OUTSIDE:
        return -units_tick_of_m(shift_m);
    case JOB_END_INSIDE:
        return units_tick_of_m(shift_m);
    case JOB_END_WALL:
        break;
    }
    return 0;
}

static bool is_free(const struct job_run_end *end) {
    return end->kind == JOB_END_CAP || end->kind == JOB_END_WALL;
}

static void warn_flush_end(struct layout_walk *walk, const struct roof_eave *eave) {
    const struct job *job = walk->input->job;
    bool has_cap = eave->from_end.kind == JOB_END_CAP || eave->to_end.kind == JOB_END_CAP;
    if (has_cap && job->run_past.given && job->run_past.tick <= 0) {
        base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_END_FLUSH,
                                                         .mark = job->run_past.mark,
                                                         .object = eave->name,
                                                         .limit = base_value_tick(
                                                             walk->input->shop->run_past_tick)});
    }
}

/* A corner nearly straight or nearly closed is no mitre that can be made. */
static void check_corner(struct layout_walk *walk, const struct roof_eave *eave,
                         const struct job_run_end *end) {
    bool is_corner = end->kind == JOB_END_OUTSIDE || end->kind == JOB_END_INSIDE;
    if (is_corner && !(end->corner_rad > PI / 36 && end->corner_rad < PI * 35 / 36)) {
        base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_ROOF_CORNER_ANGLE,
                                                         .mark = end->mark,
                                                         .object = eave->name,
                                                         .value = base_value_number(
                                                             BASE_UNIT_RAD, end->corner_rad)});
    }
}

static void add_run(struct layout_walk *walk, size_t eave_index, size_t line) {
    struct layout *layout = walk->layout;
    const struct roof_eave *eave = &walk->input->roof->eaves[eave_index];
    check_corner(walk, eave, &eave->from_end);
    check_corner(walk, eave, &eave->to_end);
    int64_t left_tick = end_extension(walk, eave, false);
    int64_t right_tick = end_extension(walk, eave, true);
    layout->runs[layout->run_count++] =
        (struct layout_run){.name = eave->name,
                            .eave = eave_index,
                            .line = line,
                            .length_tick = eave->length_tick + left_tick + right_tick,
                            .shift_tick = left_tick,
                            .left_is_free = is_free(&eave->from_end),
                            .right_is_free = is_free(&eave->to_end)};
    warn_flush_end(walk, eave);
}

/* One chain of eaves, from its first, becomes one line. */
static void add_line(struct layout_walk *walk, size_t first_eave, bool *seen) {
    struct layout *layout = walk->layout;
    const struct roof *roof = walk->input->roof;
    size_t index = layout->line_count++;
    struct layout_line *line = &layout->lines[index];
    *line = (struct layout_line){.first_run = layout->run_count};
    size_t eave = first_eave;
    do {
        seen[eave] = true;
        add_run(walk, eave, index);
        struct layout_run *run = &layout->runs[layout->run_count - 1];
        run->line_start_m = line->length_m;
        line->length_m += units_m_of_tick(run->length_tick);
        line->run_count++;
        eave = roof->eaves[eave].next;
    } while (eave != SIZE_MAX && !seen[eave]);
    line->is_ring = eave == first_eave;
}

enum base_status layout_make_lines(struct layout_walk *walk) {
    const struct roof *roof = walk->input->roof;
    struct layout *layout = walk->layout;
    bool *seen = base_take(walk->arena, roof->eave_count, sizeof *seen);
    layout->runs = base_take(walk->arena, roof->eave_count, sizeof *layout->runs);
    layout->lines = base_take(walk->arena, roof->eave_count, sizeof *layout->lines);
    if (seen == NULL || layout->runs == NULL || layout->lines == NULL) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < roof->eave_count; i++) {
        if (roof->eaves[i].previous == SIZE_MAX) {
            add_line(walk, i, seen);
        }
    }
    for (size_t i = 0; i < roof->eave_count; i++) { /* what is left are rings */
        if (!seen[i]) {
            add_line(walk, i, seen);
        }
    }
    return base_has_stop(walk->issues) ? BASE_STOPPED : BASE_OK;
}

size_t layout_locate(const struct layout *layout, size_t line_index, double line_m, double *x_m) {
    const struct layout_line *line = &layout->lines[line_index];
    if (line->is_ring) {
        line_m = fmod(line_m, line->length_m);
        line_m += line_m < 0.0 ? line->length_m : 0.0;
    }
    size_t run = line->first_run;
    size_t last = line->first_run + line->run_count - 1;
    while (run < last && line_m >= layout->runs[run + 1].line_start_m) {
        run++;
    }
    *x_m = line_m - layout->runs[run].line_start_m;
    return run;
}
