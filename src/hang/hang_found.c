/* SPDX-License-Identifier: Apache-2.0 */
/* The gutter as found against the one that is made: does it match, and did the old one fall? */
#include <math.h>
#include <stdlib.h>

#include "hang/hang_inside.h"

/* Sizes taped from an old gutter are the same within this: COMMON PRACTICE. */
#define SAME_SIZE_TICK (UNITS_TICK_PER_INCH / 8)
/* Levels read along an old eave to 1/8 in tell a fall from none beyond this: COMMON PRACTICE. */
#define FALL_TOLD_M 0.0047625

static bool is_at(const struct hang_walk *walk, size_t run, const struct job_outlet *at) {
    const struct roof_eave *eave = hang_eave(walk, run);
    const struct job *job = walk->input->job;
    return roof_is_on(job, eave, at);
}

static size_t find_run(const struct hang_walk *walk, const struct job_found *found) {
    for (size_t i = 0; i < walk->input->layout->run_count && found->at.eave.length > 0; i++) {
        if (is_at(walk, i, &found->at)) {
            return i;
        }
    }
    return SIZE_MAX;
}

static void say(const struct hang_walk *walk, enum base_issue_code code, struct base_issue issue) {
    issue.code = code;
    base_add_issue(walk->issues, issue);
}

/* ---- matching ------------------------------------------------------------------------------ */

static void match_run(const struct hang_walk *walk, const struct job_found *found, size_t run) {
    const struct layout *layout = walk->input->layout;
    const struct shop *shop = walk->input->shop;
    const struct shop_profile *profile =
        &shop->profiles[layout->lines[layout->runs[run].line].profile];
    struct base_issue issue = {.mark = found->mark, .object = layout->runs[run].name};
    if (found->profile == JOB_PROFILE_OGEE || found->profile == JOB_PROFILE_BOX) {
        issue.limit = base_value_string(job_profile_word(found->profile));
        say(walk, BASE_ISSUE_FOUND_PROFILE_DIFFERS, issue);
    }
    if (found->size.given && llabs(found->size.tick - profile->size_tick) > SAME_SIZE_TICK) {
        issue.value = base_value_tick(profile->size_tick);
        issue.limit = base_value_tick(found->size.tick);
        say(walk, BASE_ISSUE_FOUND_SIZE_DIFFERS, issue);
    }
    for (size_t i = 0; i < layout->outlet_count && found->pipe_size.given; i++) {
        const struct layout_outlet *outlet = &layout->outlets[i];
        int64_t made_tick = shop->pipes[outlet->pipe].diameter_tick;
        if (outlet->run == run && llabs(made_tick - found->pipe_size.tick) > SAME_SIZE_TICK) {
            issue.object = outlet->name;
            issue.value = base_value_tick(made_tick);
            issue.limit = base_value_tick(found->pipe_size.tick);
            say(walk, BASE_ISSUE_FOUND_PIPE_DIFFERS, issue);
        }
    }
}

/* ---- its fall ------------------------------------------------------------------------------ */

/* Ends of the run at their levels: found and made are compared from end to end, whatever high
 * points lie between. */
static void compare_falls(const struct hang_walk *walk, const struct job_found *found,
                          struct hang_found *out) {
    const struct layout_run *run = &walk->input->layout->runs[out->run];
    double length_m = units_m_of_tick(run->length_tick);
    double found_m = units_m_of_tick(found->levels[1].tick - found->levels[0].tick);
    double made_m = layout_fall_at(walk->input->layout, out->run, length_m) -
                    layout_fall_at(walk->input->layout, out->run, 0.0);
    out->has_fall = true;
    out->fall_1 = found_m / length_m;
    out->made_1 = made_m / length_m;
    struct base_issue issue = {.mark = found->levels[0].mark,
                               .object = run->name,
                               .value = base_value_tick(units_tick_of_m(fabs(found_m))),
                               .limit = base_value_tick(units_tick_of_m(fabs(made_m))),
                               .other = base_value_string(found_m > 0.0 ? "right" : "left")};
    bool told = fabs(found_m) > FALL_TOLD_M;
    if (told && found_m * made_m < 0.0 && fabs(made_m) > FALL_TOLD_M) {
        say(walk, found->flange ? BASE_ISSUE_FOUND_CANNOT_BE_REHUNG : BASE_ISSUE_FOUND_FALLS_AWAY,
            issue);
    } else if (fabs(made_m) - fabs(found_m) > FALL_TOLD_M) {
        say(walk, BASE_ISSUE_FOUND_FALLS_LESS, issue);
    }
}

bool hang_find_found(const struct hang_walk *walk) {
    const struct job *job = walk->input->job;
    walk->hang->found = base_take(walk->arena, job->found_count, sizeof *walk->hang->found);
    if (walk->hang->found == NULL) {
        return false;
    }
    for (size_t i = 0; i < job->found_count; i++) {
        const struct job_found *found = &job->found[i];
        struct hang_found *out = &walk->hang->found[walk->hang->found_count++];
        *out = (struct hang_found){.found = i, .run = find_run(walk, found)};
        if (out->run != SIZE_MAX) {
            match_run(walk, found, out->run);
        }
        if (out->run != SIZE_MAX && found->levels[0].given && found->levels[1].given) {
            compare_falls(walk, found, out);
        }
    }
    return true;
}

/* ---- why ------------------------------------------------------------------------------------ */

void hang_explain_found(const struct hang_walk *walk) {
    for (size_t i = 0; i < walk->hang->found_count && walk->trace != NULL; i++) {
        const struct hang_found *held = &walk->hang->found[i];
        const struct job_found *found = &walk->input->job->found[held->found];
        if (!held->has_fall) {
            continue;
        }
        struct base_builder path = {.arena = walk->arena};
        base_add_string(&path, "as_found/");
        base_add_integer(&path, (int64_t)held->found + 1);
        base_trace_scope(walk->trace, base_built(&path));
        base_trace_leaf(walk->trace, "fall_1");
        base_trace_formula(walk->trace, "(level at the right - level at the left) / length",
                           "plane geometry");
        base_trace_input(walk->trace, "left", base_value_tick(found->levels[0].tick));
        base_trace_input(walk->trace, "right", base_value_tick(found->levels[1].tick));
        base_trace_leaf(walk->trace, "made_fall_1");
        base_trace_formula(walk->trace, "(fall at the right end - fall at the left) / length",
                           "plane geometry");
        base_trace_input(walk->trace, "length",
                         base_value_tick(walk->input->layout->runs[held->run].length_tick));
    }
}
