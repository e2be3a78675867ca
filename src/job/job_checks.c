/* SPDX-License-Identifier: Apache-2.0 */
/* Checks: sizes taped across the house, sizes taped once more, corners by three lengths. */
#include <math.h>

#include "job/job_inside.h"

static const char *const WHAT[] = {
    [JOB_CHECK_BETWEEN] = "from",   [JOB_CHECK_RIDGE] = "ridge of", [JOB_CHECK_RISE] = "rise of",
    [JOB_CHECK_WIDTH] = "width of", [JOB_CHECK_DEPTH] = "depth of", [JOB_CHECK_CORNER] = "corner"};
/* Behind the wing's name where a check has none of its own. */
static const char *const NAME_ENDS[] = {[JOB_CHECK_BETWEEN] = "",
                                        [JOB_CHECK_RIDGE] = " ridge",
                                        [JOB_CHECK_RISE] = " rise",
                                        [JOB_CHECK_WIDTH] = " width, checked",
                                        [JOB_CHECK_DEPTH] = " depth, checked",
                                        [JOB_CHECK_CORNER] = " corner, taped"};

/* ---- names --------------------------------------------------------------------------------- */

static bool name_taken(const struct job *job, struct base_text name) {
    for (size_t i = 0; i < job->run_count; i++) {
        if (base_text_equal(job->runs[i].name, name)) {
            return true;
        }
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        if (base_text_equal(job->wings[i].name, name)) {
            return true;
        }
    }
    for (size_t i = 0; i < job->check_count; i++) {
        if (base_text_equal(job->checks[i].name, name)) {
            return true;
        }
    }
    return false;
}

static struct base_text find_own_name(struct job_reader *reader, const struct tree_node *map,
                                      enum job_check_kind kind) {
    struct base_builder name = {.arena = reader->arena};
    const struct tree_node *what = tree_find(map, WHAT[kind]);
    if (what->kind == TREE_SCALAR) {
        base_add_text(&name, job_trim(what->text));
    }
    const struct tree_node *to = tree_find(map, "to");
    if (kind == JOB_CHECK_BETWEEN && to != NULL && to->kind == TREE_SCALAR) {
        base_add_string(&name, " - ");
        base_add_text(&name, job_trim(to->text));
    }
    base_add_string(&name, NAME_ENDS[kind]);
    return base_built(&name);
}

static bool take_name(struct job_reader *reader, const struct tree_node *map,
                      struct job_check *check) {
    struct job_text said = {0};
    job_take_text(reader, map, "name", &said);
    check->name = said.given ? said.text : find_own_name(reader, map, check->kind);
    const char *fault = job_find_name_fault(check->name);
    bool taken = name_taken(reader->job, check->name);
    if (fault == NULL && !taken) {
        reader->where = check->name;
        return true;
    }
    base_add_issue(
        reader->issues,
        (struct base_issue){.code = fault != NULL ? BASE_ISSUE_BAD_NAME : BASE_ISSUE_NAME_TAKEN,
                            .mark = said.given ? said.mark : map->mark,
                            .object = base_text_of("name"),
                            .value = base_value_text(check->name),
                            .limit = base_value_string(fault != NULL ? fault : "")});
    return false;
}

/* ---- the kinds ----------------------------------------------------------------------------- */

static bool take_wing(struct job_reader *reader, const struct tree_node *map,
                      struct job_check *check) {
    const struct job *job = reader->job;
    const struct tree_node *node = job_find_scalar(reader, map, WHAT[check->kind]);
    if (node == NULL) {
        return false;
    }
    struct base_text name = job_trim(node->text);
    struct base_text nearest = {0};
    size_t best = SIZE_MAX;
    for (size_t i = 0; i < job->wing_count; i++) {
        size_t distance = 0;
        if (base_text_equal(job->wings[i].name, name)) {
            check->wing = i;
            return true;
        }
        if (job_is_near(name, job->wings[i].name, &distance) && distance < best) {
            best = distance;
            nearest = job->wings[i].name;
        }
    }
    struct base_text guess[] = {base_text_of("did you mean `"), nearest, base_text_of("`?")};
    struct base_text advice = nearest.length > 0
                                  ? base_join(reader->arena, 3, guess)
                                  : base_text_of("name a wing of this job; runs are checked by "
                                                 "`from`, `to` and `length`");
    base_add_issue(reader->issues,
                   (struct base_issue){.code = BASE_ISSUE_NO_SUCH_EAVE,
                                       .mark = node->mark,
                                       .object = job_object(reader, WHAT[check->kind]),
                                       .value = base_value_text(name),
                                       .limit = base_value_text(advice)});
    return false;
}

static void take_line(struct job_reader *reader, const struct tree_node *map,
                      struct job_check *check) {
    static const char *const LINES[] = {"roof edge", "wall", "wood face"};
    static const struct job_words WORDS = {LINES, JOB_COUNT_OF(LINES)};
    int line = 0;
    if (job_take_word(reader, map, "taped on", &WORDS, &line)) {
        check->taped_on = (enum job_line)line;
    }
}

static bool take_length(struct job_reader *reader, const struct tree_node *map, const char *key,
                        struct job_length *length) {
    if (job_require(reader, map, key,
                    key[0] == 'a' ? "across: 5'|across: 1500"
                                  : "length: 51' 6 1/2\"|length: 15710")) {
        job_take_length(reader, map, key, JOB_ZERO_REFUSED, length);
    }
    return length->given;
}

static bool take_between(struct job_reader *reader, const struct tree_node *map,
                         struct job_check *check) {
    take_line(reader, map, check);
    bool whole = job_take_eave_place(reader, map, "from", &check->from);
    whole = job_require(reader, map, "to", "to: east to") &&
            job_take_eave_place(reader, map, "to", &check->to) && whole;
    return take_length(reader, map, "length", &check->length) && whole;
}

/* Both legs and the line across, from a corner between two runs. */
static bool take_corner(struct job_reader *reader, const struct tree_node *map,
                        struct job_check *check) {
    bool whole = job_take_eave_place(reader, map, "corner", &check->from);
    const struct tree_node *place = tree_find(map, "corner");
    if (whole && (check->from.edge != 0 || check->from.at == JOB_AT_DISTANCE)) {
        job_refuse_range(reader, place, "corner", "the from or to end of a run");
        whole = false;
    }
    const struct tree_node *legs = tree_find(map, "legs");
    if (!job_require(reader, map, "legs", "legs: [3', 4']|legs: [900, 1200]")) {
        whole = false;
    } else if (legs->kind != TREE_LIST || legs->count != 2) {
        job_refuse_kind(reader, legs, "legs", "two lengths, from the corner along each eave");
        whole = false;
    } else {
        job_read_length_node(reader, legs->first, "legs", JOB_ZERO_REFUSED, &check->legs[0]);
        job_read_length_node(reader, legs->first->next, "legs", JOB_ZERO_REFUSED, &check->legs[1]);
        whole = whole && check->legs[0].given && check->legs[1].given;
    }
    return take_length(reader, map, "across", &check->length) && whole;
}

static const struct tree_node *find_kind(struct job_reader *reader, const struct tree_node *map,
                                         enum job_check_kind *kind) {
    const struct tree_node *found = NULL;
    for (size_t i = 0; i < JOB_COUNT_OF(WHAT); i++) {
        const struct tree_node *node = tree_find(map, WHAT[i]);
        if (node != NULL && found != NULL) {
            base_add_issue(reader->issues,
                           (struct base_issue){.code = BASE_ISSUE_TWO_KEYS,
                                               .mark = node->key_mark,
                                               .object = base_text_of("a check"),
                                               .value = base_value_string(WHAT[*kind]),
                                               .other = base_value_string(WHAT[i])});
            return NULL;
        }
        if (node != NULL) {
            found = node;
            *kind = (enum job_check_kind)i;
        }
    }
    if (found == NULL) {
        job_require(reader, map, "from", "from: south from, to: east to` or `ridge of: hall");
    }
    return found;
}

static bool read_check(struct job_reader *reader, const struct tree_node *map,
                       struct job_check *check) {
    static const char *const NAMES[] = {"name",     "from",     "to",      "length",
                                        "taped on", "ridge of", "rise of", "width of",
                                        "depth of", "corner",   "legs",    "across"};
    static const struct job_keys KEYS = {"a check", NAMES, JOB_COUNT_OF(NAMES)};
    reader->where = base_text_of("a check");
    check->mark = map->mark;
    if (!job_check_map(reader, map, "checks", &KEYS) ||
        find_kind(reader, map, &check->kind) == NULL) {
        return false;
    }
    bool whole = take_name(reader, map, check);
    switch (check->kind) {
    case JOB_CHECK_BETWEEN:
        return take_between(reader, map, check) && whole;
    case JOB_CHECK_CORNER:
        return take_corner(reader, map, check) && whole;
    case JOB_CHECK_RIDGE:
    case JOB_CHECK_RISE:
    case JOB_CHECK_WIDTH:
    case JOB_CHECK_DEPTH:
        whole = take_wing(reader, map, check) && whole;
        return take_length(reader, map, "length", &check->length) && whole;
    }
    return false;
}

void job_read_checks(struct job_reader *reader, const struct tree_node *node) {
    struct job *job = reader->job;
    if (!job_check_list(reader, node, "checks")) {
        return;
    }
    job->checks = base_take(reader->arena, node->count, sizeof *job->checks);
    if (job->checks == NULL) {
        return;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        struct job_check check = {0};
        if (read_check(reader, entry, &check)) {
            job->checks[job->check_count++] = check;
        }
        reader->where = (struct base_text){0};
    }
}

/* ---- corners that were taped ------------------------------------------------------------------
 */

/* The three lengths of the corner between a run and the next, or NULL. */
static const struct job_check *find_taped(const struct job *job, size_t run, size_t after) {
    for (size_t i = 0; i < job->check_count; i++) {
        const struct job_check *check = &job->checks[i];
        bool ends =
            check->from.at == JOB_AT_TO && base_text_equal(check->from.eave, job->runs[run].name);
        bool begins = check->from.at == JOB_AT_FROM &&
                      base_text_equal(check->from.eave, job->runs[after].name);
        if (check->kind == JOB_CHECK_CORNER && (ends || begins)) {
            return check;
        }
    }
    return NULL;
}

/* Law of cosines; three lengths that make no triangle are refused by measure. */
static double find_angle(const struct job_check *check, double otherwise_rad) {
    double a = units_m_of_tick(check->legs[0].tick);
    double b = units_m_of_tick(check->legs[1].tick);
    double c = units_m_of_tick(check->length.tick);
    bool closes = a > 0.0 && b > 0.0 && c > fabs(a - b) && c < a + b;
    return closes ? acos((a * a + b * b - c * c) / (2 * a * b)) : otherwise_rad;
}

static void report_untaped(struct job_reader *reader, const struct job_run *run,
                           const struct job_run_end *end, const char *which) {
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_CORNER_NOT_TAPED,
                                                       .mark = end->mark,
                                                       .object = run->name,
                                                       .value = base_value_string(which)});
}

void job_settle_corners(struct job_reader *reader) {
    struct job *job = reader->job;
    for (size_t i = 0; i < job->run_count; i++) {
        size_t after = (i + 1) % job->run_count;
        struct job_run_end *to = &job->runs[i].to;
        struct job_run_end *from = &job->runs[after].from;
        bool meet = after != i && to->kind == from->kind;
        const struct job_check *check = meet ? find_taped(job, i, after) : NULL;
        if (check != NULL && (to->taped || from->taped)) {
            to->taped = from->taped = true;
            to->corner_rad = from->corner_rad = find_angle(check, to->corner_rad);
        } else if (to->taped) {
            report_untaped(reader, &job->runs[i], to, "to");
        } else if (from->taped) {
            report_untaped(reader, &job->runs[after], from, "from");
        }
    }
}

/* ---- what is made of the doubts -------------------------------------------------------------- */

void job_read_measuring(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"use", "leave long", "least doubt"};
    static const struct job_keys KEYS = {"measurements", NAMES, JOB_COUNT_OF(NAMES)};
    static const char *const USES[] = {"as said", "adjusted"};
    static const struct job_words USE_WORDS = {USES, JOB_COUNT_OF(USES)};
    struct job_measuring *measuring = &reader->job->measuring;
    if (!job_check_map(reader, node, "measurements", &KEYS)) {
        return;
    }
    reader->where = base_text_of("the measurements");
    measuring->mark = node->mark;
    int use = 0;
    if (job_take_word(reader, node, "use", &USE_WORDS, &use)) {
        measuring->use_adjusted = use == 1;
    }
    bool leave_long = true;
    job_take_yes(reader, node, "leave long", &leave_long);
    measuring->keep_to_length = !leave_long;
    job_take_length(reader, node, "least doubt", JOB_ZERO_ALLOWED, &measuring->least_doubt);
    reader->where = (struct base_text){0};
}
