/* SPDX-License-Identifier: Apache-2.0 */
#include "roof/roof.h"

#include "roof/roof_inside.h"

#include <math.h>

struct roof_eave *roof_add_eave(struct roof_build *build) {
    struct roof *roof = build->roof;
    struct roof_eave *eaves =
        base_grow(build->arena, roof->eaves, &build->eave_room, roof->eave_count, sizeof *eaves);
    if (eaves == NULL) {
        build->failed = true;
        return NULL;
    }
    roof->eaves = eaves;
    return &eaves[roof->eave_count++];
}

bool roof_reserve_eaves(struct roof_build *build, size_t count) {
    struct roof *roof = build->roof;
    size_t room = roof->eave_count + count;
    struct roof_eave *eaves = base_take(build->arena, room, sizeof *eaves);
    if (eaves == NULL) {
        build->failed = true;
        return false;
    }
    for (size_t i = 0; i < roof->eave_count; i++) {
        eaves[i] = roof->eaves[i];
    }
    roof->eaves = eaves;
    build->eave_room = room;
    return true;
}

bool roof_reserve_lines(struct roof_build *build, size_t count) {
    struct roof *roof = build->roof;
    size_t room = roof->line_count + count;
    struct roof_line *lines = base_take(build->arena, room, sizeof *lines);
    if (lines == NULL) {
        build->failed = true;
        return false;
    }
    for (size_t i = 0; i < roof->line_count; i++) {
        lines[i] = roof->lines[i];
    }
    roof->lines = lines;
    build->line_room = room;
    return true;
}

struct roof_pour *roof_add_pour(struct roof_build *build) {
    struct roof *roof = build->roof;
    struct roof_pour *pours =
        base_grow(build->arena, roof->pours, &build->pour_room, roof->pour_count, sizeof *pours);
    if (pours == NULL) {
        build->failed = true;
        return NULL;
    }
    roof->pours = pours;
    return &pours[roof->pour_count++];
}

struct roof_line *roof_add_line(struct roof_build *build) {
    struct roof *roof = build->roof;
    struct roof_line *lines =
        base_grow(build->arena, roof->lines, &build->line_room, roof->line_count, sizeof *lines);
    if (lines == NULL) {
        build->failed = true;
        return NULL;
    }
    roof->lines = lines;
    return &lines[roof->line_count++];
}

struct roof_face *roof_add_face(struct roof_build *build) {
    struct roof *roof = build->roof;
    struct roof_face *faces =
        base_grow(build->arena, roof->faces, &build->face_room, roof->face_count, sizeof *faces);
    if (faces == NULL) {
        build->failed = true;
        return NULL;
    }
    roof->faces = faces;
    return &faces[roof->face_count++];
}

void roof_say(struct roof_build *build, enum base_issue_code code, struct base_mark mark,
              struct base_text object, struct base_value value) {
    base_add_issue(
        build->issues,
        (struct base_issue){.code = code, .mark = mark, .object = object, .value = value});
}

bool roof_is_stopped(const struct roof_build *build) {
    return base_count_severity(build->issues, BASE_SEVERITY_STOP) > build->stops_before;
}

struct job_section roof_choose_section(const struct job *job, bool has_own,
                                       const struct job_section *own) {
    if (has_own) {
        return *own;
    }
    return job->has_section ? job->section : (struct job_section){.wood = JOB_WOOD_UNKNOWN};
}

struct base_text roof_name_pour(struct roof_build *build, struct base_text owner, const char *kind,
                                int number) {
    struct base_builder name = {.arena = build->arena};
    base_add_text(&name, owner);
    base_add_string(&name, kind);
    base_add_integer(&name, number);
    return base_built(&name);
}

enum base_status roof_find(struct base_arena *arena, struct base_issues *issues,
                           const struct job *job, struct roof *roof) {
    *roof = (struct roof){0};
    struct roof_build build = {.arena = arena, .issues = issues, .job = job, .roof = roof};
    build.stops_before = base_count_severity(issues, BASE_SEVERITY_STOP);
    roof_find_runs(&build);
    if (!build.failed && !roof_is_stopped(&build)) {
        roof_find_wings(&build);
    }
    if (!build.failed && !roof_is_stopped(&build)) {
        roof_find_outline(&build);
    }
    for (size_t i = 0; i < roof->eave_count; i++) {
        struct roof_eave *eave = &roof->eaves[i];
        eave->area_pitch_1 = fmax(eave->area_pitch_1, eave->pitch_1);
    }
    if (!build.failed && !roof_is_stopped(&build)) {
        roof_say_links(&build);
        roof_say_walls(&build);
    }
    if (build.failed || base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    return roof_is_stopped(&build) ? BASE_STOPPED : BASE_OK;
}

size_t roof_find_below(const struct roof *roof, const struct job *job, struct geometry_point at,
                       double z_m, size_t skip) {
    (void)roof; /* the plans are enough: a downspout stands outside the roof edge it serves */
    size_t found = ROOF_NONE;
    double found_z_m = 0;
    for (size_t i = 0; i < job->wing_count; i++) {
        struct roof_plan plan;
        roof_make_plan(job, i, &plan);
        if (i != skip && plan.eave_z_m < z_m && geometry_contains(&plan.outline, at) &&
            (found == ROOF_NONE || plan.eave_z_m > found_z_m)) {
            found = i;
            found_z_m = plan.eave_z_m;
        }
    }
    return found;
}
