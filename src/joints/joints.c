/* SPDX-License-Identifier: Apache-2.0 */
#include "joints/joints.h"

#include "units/units.h"

enum { FORBIDDEN_MAX = 64 };

struct zone {
    int64_t from_tick;
    int64_t to_tick;
};

struct joints_walk {
    struct base_arena *arena;
    struct base_issues *issues;
    struct base_trace *trace;
    const struct joints_input *input;
    size_t run;
    int64_t from_tick; /* where the straight gutter begins and ends, between mitre legs */
    int64_t to_tick;
    struct zone zones[FORBIDDEN_MAX]; /* no joint centre inside */
    size_t zone_count;
};

static void add_zone(struct joints_walk *walk, int64_t from_tick, int64_t to_tick) {
    if (walk->zone_count < FORBIDDEN_MAX) {
        walk->zones[walk->zone_count++] = (struct zone){from_tick, to_tick};
    }
}

/* Where a keep-out mark lies on this run; false when it is about another eave. */
static bool keep_out_x(const struct joints_walk *walk, const struct job_outlet *place,
                       int64_t *x_tick) {
    const struct layout_run *run = &walk->input->layout->runs[walk->run];
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    const struct job *job = walk->input->job;
    if (!roof_is_on(job, eave, place)) {
        return false;
    }
    switch (place->at) {
    case JOB_AT_FROM:
        *x_tick = 0;
        break;
    case JOB_AT_TO:
        *x_tick = run->length_tick;
        break;
    case JOB_AT_DISTANCE:
        *x_tick = place->distance_tick - eave->tail_shift_tick + run->shift_tick;
        break;
    }
    return true;
}

static void list_zones(struct joints_walk *walk) {
    const struct layout *layout = walk->input->layout;
    const struct job *job = walk->input->job;
    int64_t clear_tick = walk->input->shop->joint_clear_tick;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        if (layout->outlets[i].run == walk->run) {
            int64_t x_tick = layout->outlets[i].x_tick;
            add_zone(walk, x_tick - clear_tick + 1, x_tick + clear_tick - 1);
        }
    }
    for (size_t i = 0; i + 1 < job->keep_out_count; i += 2) {
        int64_t from_tick = 0;
        int64_t to_tick = 0;
        if (keep_out_x(walk, &job->keep_out[i], &from_tick) &&
            keep_out_x(walk, &job->keep_out[i + 1], &to_tick)) {
            add_zone(walk, from_tick < to_tick ? from_tick : to_tick,
                     from_tick < to_tick ? to_tick : from_tick);
        }
    }
}

/* The greatest place not above x where a joint may stand. */
static int64_t latest_allowed(const struct joints_walk *walk, int64_t x_tick) {
    bool moved = true;
    while (moved) {
        moved = false;
        for (size_t i = 0; i < walk->zone_count; i++) {
            if (x_tick >= walk->zones[i].from_tick && x_tick <= walk->zones[i].to_tick) {
                int64_t quantum = walk->input->shop->style.round_tick;
                x_tick = walk->zones[i].from_tick - 1;
                x_tick -= (x_tick % quantum + quantum) % quantum; /* downwards, below 0 too */
                moved = true;
            }
        }
    }
    return x_tick;
}

/*
 * Joint centres from the left, each as late as stock and zones allow; then, from the right, pulled
 * back where the last piece would be too short. Returns the count, or SIZE_MAX when more than most.
 */
static size_t place_joints(const struct joints_walk *walk, int64_t *centres, size_t most) {
    const struct shop *shop = walk->input->shop;
    int64_t lap_tick = shop->lap_tick;
    int64_t half_tick = lap_tick / 2;
    size_t count = 0;
    int64_t start_tick = walk->from_tick; /* left end of the piece being laid */
    while (walk->to_tick - start_tick > shop->stock_tick) {
        int64_t at_tick = latest_allowed(walk, start_tick + shop->stock_tick - half_tick);
        if (at_tick <= start_tick + lap_tick || count == most) {
            return SIZE_MAX;
        }
        centres[count++] = at_tick;
        start_tick = at_tick - half_tick;
    }
    int64_t limit_tick = walk->to_tick - shop->shortest_piece_tick + half_tick;
    for (size_t i = count; i > 0; i--) {
        int64_t least_tick = (i == 1 ? walk->from_tick : centres[i - 2]) + lap_tick;
        int64_t pulled_tick =
            centres[i - 1] > limit_tick ? latest_allowed(walk, limit_tick) : centres[i - 1];
        if (pulled_tick > least_tick) {
            centres[i - 1] = pulled_tick;
        }
        limit_tick = centres[i - 1] - shop->shortest_piece_tick + lap_tick;
    }
    return count;
}

/* ---- room to either side ----------------------------------------------------------------------
 */

/* How far from the nearest zone; 0 inside one (a mitre's lap stands where its leg ends). */
static int64_t find_room(const struct joints_walk *walk, int64_t x_tick) {
    int64_t room_tick = walk->input->layout->runs[walk->run].length_tick;
    for (size_t i = 0; i < walk->zone_count; i++) {
        const struct zone *zone = &walk->zones[i];
        int64_t off_tick = x_tick < zone->from_tick ? zone->from_tick - x_tick
                           : x_tick > zone->to_tick ? x_tick - zone->to_tick
                                                    : 0;
        room_tick = off_tick < room_tick ? off_tick : room_tick;
    }
    return room_tick;
}

/* ---- from which end ---------------------------------------------------------------------------
 */

/* One way to lay a run out. */
struct laying {
    int64_t *centres;  /* [count] by rising place */
    size_t count;      /* SIZE_MAX = a joint finds no place */
    int64_t *lengths;  /* [count + 1] of the pieces, by rising length */
    int64_t room_tick; /* of the joint that has least, as far as a doubt is trimmed */
};

static void sort_rising(int64_t *ticks, size_t count) {
    for (size_t i = 1; i < count; i++) {
        int64_t moved = ticks[i];
        size_t at = i;
        while (at > 0 && ticks[at - 1] > moved) {
            ticks[at] = ticks[at - 1];
            at--;
        }
        ticks[at] = moved;
    }
}

/* The run seen in a mirror: what is laid from its left is laid from the right. */
static struct joints_walk turn_round(const struct joints_walk *walk) {
    struct joints_walk turned = *walk;
    int64_t sum_tick = walk->from_tick + walk->to_tick;
    for (size_t i = 0; i < walk->zone_count; i++) {
        turned.zones[i] =
            (struct zone){sum_tick - walk->zones[i].to_tick, sum_tick - walk->zones[i].from_tick};
    }
    return turned;
}

static bool lay_out(const struct joints_walk *walk, bool from_right, size_t most,
                    struct laying *laying) {
    struct joints_walk turned = turn_round(walk);
    laying->centres = base_take(walk->arena, most, sizeof *laying->centres);
    laying->lengths = base_take(walk->arena, most + 1, sizeof *laying->lengths);
    if (laying->centres == NULL || laying->lengths == NULL) {
        return false;
    }
    laying->count = place_joints(from_right ? &turned : walk, laying->centres, most);
    if (laying->count == SIZE_MAX) {
        return true;
    }
    for (size_t i = 0; from_right && i < laying->count; i++) {
        laying->centres[i] = walk->from_tick + walk->to_tick - laying->centres[i];
    }
    sort_rising(laying->centres, laying->count);
    int64_t half_tick = walk->input->shop->lap_tick / 2;
    for (size_t i = 0; i <= laying->count; i++) {
        int64_t start_tick = i == 0 ? walk->from_tick : laying->centres[i - 1] - half_tick;
        int64_t end_tick = i == laying->count ? walk->to_tick : laying->centres[i] + half_tick;
        laying->lengths[i] = end_tick - start_tick;
    }
    laying->room_tick = walk->input->shop->trim_most_tick;
    for (size_t i = 0; i < laying->count; i++) {
        int64_t room_tick = find_room(walk, laying->centres[i]);
        laying->room_tick = room_tick < laying->room_tick ? room_tick : laying->room_tick;
    }
    sort_rising(laying->lengths, laying->count + 1);
    return true;
}

/* Fewer joints; then a longer shortest piece, and so on up; then room at every joint to trim a
 * doubtful length. Never by hand, so that a mirrored house
 * has the same pieces. */
static bool is_better(const struct laying *one, const struct laying *other) {
    if (one->count != other->count) {
        return one->count < other->count; /* none found counts as most */
    }
    for (size_t i = 0; one->count != SIZE_MAX && i <= one->count; i++) {
        if (one->lengths[i] != other->lengths[i]) {
            return one->lengths[i] > other->lengths[i];
        }
    }
    return one->count != SIZE_MAX && one->room_tick > other->room_tick;
}

/* From the left, unless laying from the right gives better pieces. */
static bool choose_laying(const struct joints_walk *walk, size_t most, struct laying *best) {
    struct laying right;
    if (!lay_out(walk, false, most, best) || !lay_out(walk, true, most, &right)) {
        return false;
    }
    if (is_better(&right, best)) {
        *best = right;
    }
    return true;
}

static void add_joint(const struct joints_walk *walk, struct joints_run *out, enum joints_kind kind,
                      int64_t centre_tick) {
    double x_m = units_m_of_tick(centre_tick);
    out->joints[out->joint_count++] = (struct joints_joint){
        .kind = kind,
        .centre_tick = centre_tick,
        .room_tick = find_room(walk, centre_tick),
        .left_piece_inside = layout_flows_right(walk->input->layout, walk->run, x_m)};
}

static enum base_status fill_run(const struct joints_walk *walk, const int64_t *centres,
                                 size_t count, struct joints_run *out) {
    const struct layout_run *run = &walk->input->layout->runs[walk->run];
    int64_t half_tick = walk->input->shop->lap_tick / 2;
    out->spans = base_take(walk->arena, count + 1, sizeof *out->spans);
    out->joints = base_take(walk->arena, count + 2, sizeof *out->joints);
    if (out->spans == NULL || out->joints == NULL) {
        return BASE_NO_MEMORY;
    }
    if (!run->left_is_free) {
        add_joint(walk, out, JOINTS_MITRE_LAP, walk->from_tick + half_tick);
    }
    for (size_t i = 0; i <= count; i++) {
        struct joints_span *span = &out->spans[out->span_count++];
        span->from_tick = i == 0 ? walk->from_tick : centres[i - 1] - half_tick;
        span->to_tick = i == count ? walk->to_tick : centres[i] + half_tick;
        if (i < count) {
            add_joint(walk, out, JOINTS_LAP, centres[i]);
        }
    }
    if (!run->right_is_free) {
        add_joint(walk, out, JOINTS_MITRE_LAP, walk->to_tick - half_tick);
    }
    return BASE_OK;
}

static void report(const struct joints_walk *walk, enum base_issue_code code, int64_t value_tick,
                   int64_t limit_tick) {
    base_add_issue(walk->issues,
                   (struct base_issue){.code = code,
                                       .object = walk->input->layout->runs[walk->run].name,
                                       .value = base_value_tick(value_tick),
                                       .limit = base_value_tick(limit_tick)});
}

static void check_short(const struct joints_walk *walk, const struct joints_run *out) {
    int64_t shortest_tick = walk->input->shop->shortest_piece_tick;
    for (size_t i = 0; i < out->span_count && out->span_count > 1; i++) {
        int64_t length_tick = out->spans[i].to_tick - out->spans[i].from_tick;
        if (length_tick < shortest_tick) {
            report(walk, BASE_ISSUE_PIECE_IS_SHORT, length_tick, shortest_tick);
        }
    }
}

static void explain(const struct joints_walk *walk, const struct joints_run *out) {
    const struct shop *shop = walk->input->shop;
    for (size_t i = 0; i < out->joint_count && walk->trace != NULL; i++) {
        struct base_builder path = {.arena = walk->arena};
        base_add_string(&path, "joints/");
        base_add_text(&path, walk->input->layout->runs[walk->run].name);
        base_add_char(&path, '/');
        base_add_integer(&path, (int64_t)i + 1);
        base_trace_scope(walk->trace, base_built(&path));
        base_trace_leaf(walk->trace, "centre_m");
        base_trace_formula(
            walk->trace,
            out->joints[i].kind == JOINTS_MITRE_LAP
                ? "a mitre's leg less half a lap from its corner"
                : "as far from the joint before as stock less lap lets it, from the end "
                  "that leaves the longer short piece",
            "SRC-61");
        base_trace_input(walk->trace, "stock", base_value_tick(shop->stock_tick));
        base_trace_input(walk->trace, "lap", base_value_tick(shop->lap_tick));
        base_trace_input(walk->trace, "clear of outlets", base_value_tick(shop->joint_clear_tick));
        base_trace_rule(walk->trace, out->joints[i].left_piece_inside
                                         ? "water runs right: the left piece lies inside"
                                         : "water runs left: the right piece lies inside");
    }
}

static enum base_status fix_run(struct joints_walk *walk, struct joints_run *out) {
    const struct layout_run *run = &walk->input->layout->runs[walk->run];
    const struct shop *shop = walk->input->shop;
    int64_t leg_tick = shop->mitre_leg_tick - shop->lap_tick;
    walk->from_tick = run->left_is_free ? 0 : leg_tick;
    walk->to_tick = run->length_tick - (run->right_is_free ? 0 : leg_tick);
    walk->zone_count = 0;
    list_zones(walk);
    *out = (struct joints_run){.run = walk->run};
    if (walk->to_tick - walk->from_tick < 2 * shop->lap_tick) {
        /* the mitres' legs meet: a made-up piece between two corners */
        report(walk, BASE_ISSUE_RUN_TOO_SHORT_FOR_MITRES, run->length_tick,
               2 * shop->mitre_leg_tick);
        return BASE_STOPPED;
    }
    size_t most =
        4 + 2 * (size_t)((walk->to_tick - walk->from_tick) / (shop->stock_tick - shop->lap_tick));
    struct laying laying;
    if (!choose_laying(walk, most, &laying)) {
        return BASE_NO_MEMORY;
    }
    if (laying.count == SIZE_MAX) {
        report(walk, BASE_ISSUE_NO_PLACE_FOR_A_JOINT, run->length_tick, shop->stock_tick);
        return BASE_STOPPED;
    }
    enum base_status status = fill_run(walk, laying.centres, laying.count, out);
    if (status == BASE_OK) {
        check_short(walk, out);
        explain(walk, out);
    }
    return status;
}

enum base_status joints_fix(struct base_arena *arena, struct base_issues *issues,
                            struct base_trace *trace, const struct joints_input *input,
                            struct joints *joints) {
    *joints = (struct joints){.run_count = input->layout->run_count};
    joints->runs = base_take(arena, joints->run_count, sizeof *joints->runs);
    if (joints->runs == NULL) {
        return BASE_NO_MEMORY;
    }
    struct joints_walk walk = {.arena = arena, .issues = issues, .trace = trace, .input = input};
    enum base_status status = BASE_OK;
    for (size_t i = 0; i < joints->run_count; i++) {
        walk.run = i;
        enum base_status one = fix_run(&walk, &joints->runs[i]);
        if (one == BASE_NO_MEMORY) {
            return one;
        }
        status = one == BASE_OK ? status : one;
    }
    return base_arena_failed(arena) ? BASE_NO_MEMORY : status;
}
