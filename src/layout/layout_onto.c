/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Upper gutters whose downspouts end in a lower gutter. What they bring comes in at one place, so
 * the upper line is chosen before the lower one.
 */
#include "layout/layout_inside.h"

#include "units/units.h"

/* Does an outlet that the job names bring this line's water to the other line? */
static bool feeds(const struct layout_walk *walk, size_t line, size_t other) {
    const struct job *job = walk->input->job;
    const struct layout_run *runs = walk->layout->runs;
    for (size_t i = 0; i < job->outlet_count + job->allowed_count; i++) {
        const struct job_outlet *outlet =
            i < job->outlet_count ? &job->outlets[i] : &job->allowed[i - job->outlet_count];
        if (outlet->onto == NULL) {
            continue;
        }
        size_t from = layout_find_run(walk, outlet);
        size_t onto = layout_find_run(walk, outlet->onto);
        if (from != SIZE_MAX && onto != SIZE_MAX && runs[from].line == line &&
            runs[onto].line == other) {
            return true;
        }
    }
    return false;
}

static bool holds(const size_t *order, size_t count, size_t line) {
    bool held = false;
    for (size_t i = 0; i < count; i++) {
        held = held || order[i] == line;
    }
    return held;
}

/* The line that waits for none of those not yet in the order; SIZE_MAX = each waits for another. */
static size_t find_next(const struct layout_walk *walk, const size_t *order, size_t count) {
    size_t lines = walk->layout->line_count;
    for (size_t line = 0; line < lines; line++) {
        bool free = !holds(order, count, line);
        for (size_t other = 0; other < lines && free; other++) {
            free = holds(order, count, other) || !feeds(walk, other, line);
        }
        if (free) {
            return line;
        }
    }
    return SIZE_MAX;
}

static bool check_targets(struct layout_walk *walk) {
    const struct job *job = walk->input->job;
    bool fine = true;
    for (size_t i = 0; i < job->outlet_count + job->allowed_count; i++) {
        const struct job_outlet *outlet =
            i < job->outlet_count ? &job->outlets[i] : &job->allowed[i - job->outlet_count];
        if (outlet->onto != NULL && layout_find_run(walk, outlet->onto) == SIZE_MAX) {
            base_add_issue(walk->issues,
                           (struct base_issue){.code = BASE_ISSUE_OUTLET_ON_NO_EAVE,
                                               .mark = outlet->onto->mark,
                                               .object = outlet->onto->eave,
                                               .value = base_value_count(outlet->onto->edge)});
            fine = false;
        }
    }
    return fine;
}

/* Of the lines not in the order each waits for another: walked back far enough, one is in the ring.
 */
static void say_ring(struct layout_walk *walk, const size_t *order, size_t count) {
    size_t lines = walk->layout->line_count;
    size_t line = 0;
    while (holds(order, count, line)) {
        line++;
    }
    size_t after = line;
    for (size_t step = 0; step < 2 * lines; step++) {
        size_t before = 0;
        while (before + 1 < lines && (holds(order, count, before) || !feeds(walk, before, line))) {
            before++;
        }
        after = line;
        line = before;
    }
    const struct layout_run *runs = walk->layout->runs;
    const struct layout_run *from = &runs[walk->layout->lines[line].first_run];
    const struct layout_run *onto = &runs[walk->layout->lines[after].first_run];
    base_add_issue(walk->issues, (struct base_issue){.code = BASE_ISSUE_OUTLETS_IN_A_RING,
                                                     .object = from->name,
                                                     .other = base_value_text(onto->name)});
}

bool layout_order_lines(struct layout_walk *walk, size_t *order) {
    const struct roof *roof = walk->input->roof;
    size_t outlets = walk->input->job->outlet_count + walk->input->job->allowed_count;
    walk->pours = base_take(walk->arena, roof->pour_count + outlets + 1, sizeof *walk->pours);
    if (walk->pours == NULL || !check_targets(walk)) {
        return false;
    }
    for (size_t i = 0; i < roof->pour_count; i++) {
        walk->pours[walk->pour_count++] = roof->pours[i];
    }
    for (size_t count = 0; count < walk->layout->line_count; count++) {
        order[count] = find_next(walk, order, count);
        if (order[count] == SIZE_MAX) {
            say_ring(walk, order, count);
            return false;
        }
    }
    return true;
}

/* The flow is kept; as a pour it is the plan area that gives it by the deciding rule. */
void layout_bring_water(struct layout_walk *walk, size_t line) {
    struct layout *layout = walk->layout;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        const struct layout_outlet *outlet = &layout->outlets[i];
        if (outlet->line != line || outlet->onto_run == SIZE_MAX) {
            continue;
        }
        const struct layout_run *from = &layout->runs[outlet->run];
        const struct layout_run *onto = &layout->runs[outlet->onto_run];
        double pitch_1 = walk->input->roof->eaves[from->eave].pitch_1;
        double factor_1 = layout_area_factor(layout->area, pitch_1);
        walk->pours[walk->pour_count++] =
            (struct roof_pour){.x_m = units_m_of_tick(outlet->onto_x_tick - onto->shift_tick),
                               .plan_area_m2 = outlet->flow_m3s / (layout->rain_mps * factor_1),
                               .pitch_1 = pitch_1,
                               .from = outlet->name,
                               .onto = onto->name};
    }
}

/* The pour that an outlet brings; NULL where it ends on the ground. */
static const struct roof_pour *find_brought(const struct layout_walk *walk, size_t outlet) {
    for (size_t i = walk->input->roof->pour_count; i < walk->pour_count; i++) {
        if (base_text_equal(walk->pours[i].from, walk->layout->outlets[outlet].name)) {
            return &walk->pours[i];
        }
    }
    return NULL;
}

bool layout_find_feeds(struct layout_walk *walk) {
    struct layout *layout = walk->layout;
    size_t brought = walk->pour_count - walk->input->roof->pour_count;
    layout->feeds =
        base_take(walk->arena, brought * layout->reach_count + 1, sizeof *layout->feeds);
    if (layout->feeds == NULL) {
        return false;
    }
    for (size_t i = 0; i < layout->outlet_count && brought > 0; i++) {
        const struct roof_pour *pour = find_brought(walk, i);
        for (size_t reach = 0; reach < layout->reach_count && pour != NULL; reach++) {
            double share_1 =
                layout_pour_share(walk, layout->reaches[reach].line, walk->waters[reach], pour);
            if (share_1 > 0.0) {
                layout->feeds[layout->feed_count++] = (struct layout_feed){i, reach, share_1};
            }
        }
    }
    return true;
}
