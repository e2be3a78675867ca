/* SPDX-License-Identifier: Apache-2.0 */
#include "same_answer.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- values --------------------------------------------------------------------------------- */

static bool is_integer(enum base_unit unit) {
    return unit == BASE_UNIT_COUNT || unit == BASE_UNIT_TICK || unit == BASE_UNIT_MINOR;
}

static bool is_text(enum base_unit unit) {
    return unit == BASE_UNIT_TEXT || unit == BASE_UNIT_WORD;
}

/* The quantum that result.json is rounded to: design.md, decision 3. */
static double quantum_of(enum base_unit unit) {
    switch (unit) {
    case BASE_UNIT_M:
    case BASE_UNIT_M2:
    case BASE_UNIT_M3:
    case BASE_UNIT_RAD:
    case BASE_UNIT_RATIO:
        return 1e-6;
    case BASE_UNIT_M3S:
    case BASE_UNIT_SLOPE:
        return 1e-9;
    case BASE_UNIT_MPS:
        return 1e-12;
    case BASE_UNIT_KG:
    case BASE_UNIT_S:
    case BASE_UNIT_C:
        return 1e-3;
    case BASE_UNIT_N:
        return 1e-2;
    case BASE_UNIT_PA:
        return 1.0;
    case BASE_UNIT_NONE:
    case BASE_UNIT_TEXT:
    case BASE_UNIT_WORD:
    case BASE_UNIT_COUNT:
    case BASE_UNIT_TICK:
    case BASE_UNIT_MINOR:
        break;
    }
    return 0.0;
}

static bool same_number(enum base_unit unit, double a, double b, struct same_report *report) {
    double quantum = quantum_of(unit);
    if (fabs(a - b) > 0.01 * quantum) {
        return false;
    }
    report->edges += floor(a / quantum + 0.5) < floor(b / quantum + 0.5) ||
                     floor(a / quantum + 0.5) > floor(b / quantum + 0.5);
    return true;
}

/*
 * What is left of the equations is the solver's own noise, and where the water stands highest is
 * ill-posed: it is nearly level there. Depths agree to 0.05 mm: a jump, or a pour in a corner, may
 * fall on this or that side of a station. tools/compare_builds.py allows the same.
 */
static bool same_real(enum result_field field, double a, double b, struct same_report *report) {
    bool depth = field == RESULT_REACH_STILL || field == RESULT_REACH_END ||
                 field == RESULT_REACH_DEPTH || field == RESULT_REACH_FREEBOARD;
    if (field == RESULT_REACH_RESIDUAL) {
        return true;
    }
    if (field == RESULT_REACH_DEPTH_X) {
        return fabs(a - b) <= 0.25;
    }
    if (depth && fabs(a - b) <= 5e-5) {
        report->edges += fabs(a - b) > 1e-8;
        return true;
    }
    return same_number(result_field_unit(field), a, b, report);
}

static bool same_value(enum result_field field, const struct base_value *a,
                       const struct base_value *b, struct same_report *report) {
    if (a->unit != b->unit) {
        return false;
    }
    if (field == RESULT_OVER_X) { /* a pool is level: the place in it is the last bit's */
        return true;
    }
    if (is_integer(a->unit)) {
        return a->integer == b->integer;
    }
    if (is_text(a->unit)) {
        return base_text_equal(a->text, b->text);
    }
    return same_real(field, a->number, b->number, report);
}

static void write_value(char *out, size_t size, const struct base_value *value) {
    if (is_integer(value->unit)) {
        snprintf(out, size, "%" PRId64, value->integer);
    } else if (is_text(value->unit)) {
        snprintf(out, size, "%.*s", (int)(value->text.length > 60 ? 60 : value->text.length),
                 value->text.bytes == NULL ? "" : value->text.bytes);
    } else {
        snprintf(out, size, "%.12g", value->number);
    }
}

static void tell(struct same_report *report, const struct result_leaf *a, const char *other) {
    char value[80];
    if (report->first[0] == '\0') {
        write_value(value, sizeof value, &a->value);
        snprintf(report->first, sizeof report->first, "%.*s = %s, %s", (int)a->path.length,
                 a->path.bytes, value, other);
    }
}

/* ---- exactly -------------------------------------------------------------------------------- */

/* What rooms say of the measuring itself speaks of corners as they were said. */
static bool speaks_of_tape(const struct result_leaf *leaf) {
    return base_text_starts(leaf->path, "measure") || base_text_starts(leaf->path, "closing") ||
           base_text_is(leaf->path, "job");
}

static size_t next_leaf(struct same_side side, size_t at) {
    while (at < side.count && speaks_of_tape(&side.leaves[at])) {
        at++;
    }
    return at;
}

bool same_answer_exactly(struct same_side a, struct same_side b, struct same_report *report) {
    *report = (struct same_report){0};
    size_t j = next_leaf(b, 0);
    for (size_t i = next_leaf(a, 0); i < a.count; i = next_leaf(a, i + 1)) {
        if (j >= b.count || !base_text_equal(a.leaves[i].path, b.leaves[j].path)) {
            tell(report, &a.leaves[i], "the other has no such leaf here");
            return false;
        }
        if (!same_value(a.leaves[i].field, &a.leaves[i].value, &b.leaves[j].value, report)) {
            char other[80];
            write_value(other, sizeof other, &b.leaves[j].value);
            tell(report, &a.leaves[i], other);
            return false;
        }
        j = next_leaf(b, j + 1);
    }
    if (j < b.count) {
        tell(report, &b.leaves[j], "only the second has it");
        return false;
    }
    return true;
}

/* ---- renamed -------------------------------------------------------------------------------- */

static size_t parent_length(struct base_text path) {
    size_t length = path.length;
    while (length > 0 && path.bytes[length - 1] != '/') {
        length--;
    }
    return length;
}

/* The leaves of one object: they stand together and share the path up to the last stroke. */
struct item {
    const struct result_leaf *leaves;
    size_t count;
    bool used;
};

struct items {
    struct item *items;
    size_t count;
};

static struct items list_items(struct base_arena *arena, struct same_side side) {
    struct items list = {base_take(arena, side.count + 1, sizeof *list.items), 0};
    for (size_t i = 0; i < side.count && list.items != NULL; i++) {
        struct base_text path = side.leaves[i].path;
        size_t length = parent_length(path);
        struct item *last = list.count == 0 ? NULL : &list.items[list.count - 1];
        if (last != NULL && parent_length(last->leaves[0].path) == length &&
            memcmp(last->leaves[0].path.bytes, path.bytes, length) == 0) {
            last->count++;
        } else {
            list.items[list.count++] = (struct item){&side.leaves[i], 1, false};
        }
    }
    return list;
}

static const struct result_leaf *find_field(const struct item *item, enum result_field field) {
    for (size_t i = 0; i < item->count; i++) {
        if (item->leaves[i].field == field) {
            return &item->leaves[i];
        }
    }
    return NULL;
}

/* runs/NAME/(eave_m or length_m) */
static int64_t run_length(struct same_side side, enum result_field field, struct base_text run) {
    for (size_t i = 0; i < side.count; i++) {
        const struct result_leaf *leaf = &side.leaves[i];
        size_t length = parent_length(leaf->path);
        if (leaf->field == field && length == run.length + 6 &&
            memcmp(leaf->path.bytes + 5, run.bytes, run.length) == 0) {
            return leaf->value.integer;
        }
    }
    return -1;
}

static enum result_field other_end(enum result_field field) {
    if (field == RESULT_RUN_LEFT) {
        return RESULT_RUN_RIGHT;
    }
    return field == RESULT_RUN_RIGHT ? RESULT_RUN_LEFT : field;
}

struct pairing {
    struct same_side a;
    struct same_side b;
    bool mirrored;
    struct same_report *report;
};

/*
 * The value as both houses must see it. Pours, high points and where it goes over are told from the
 * nearer end of their run: of two runs that meet at a corner the one that follows has what lies in
 * the corner.
 */
static struct base_value seen_value(struct same_side side, const struct item *item,
                                    const struct result_leaf *leaf, bool mirrored) {
    struct base_value value = leaf->value;
    if (leaf->field == RESULT_POUR_X) {
        struct base_text run = find_field(item, RESULT_POUR_ONTO)->value.text;
        double eave_m = units_m_of_tick(run_length(side, RESULT_RUN_EAVE, run));
        value.number = fmin(value.number, eave_m - value.number);
    } else if (leaf->field == RESULT_HIGH_X || leaf->field == RESULT_OVER_X) {
        bool high = leaf->field == RESULT_HIGH_X;
        struct base_text run =
            find_field(item, high ? RESULT_HIGH_RUN : RESULT_OVER_RUN)->value.text;
        int64_t other_tick = run_length(side, RESULT_RUN_LENGTH, run) - value.integer;
        value.integer = value.integer < other_tick ? value.integer : other_tick;
    } else if (mirrored && leaf->field == RESULT_OUTLET_X) {
        struct base_text run = find_field(item, RESULT_OUTLET_RUN)->value.text;
        value.integer = run_length(side, RESULT_RUN_LENGTH, run) - value.integer;
    }
    return value;
}

/* Where a thing of this kind lies is a tie of the walk (laid out from the left; the first of two
 * reaches with the same water), or it is compared elsewhere. */
static bool is_left_out(const struct item *item) {
    static const char *const GROUPS[] = {"findings/", "pieces/", "joints/",
                                         "measure",   "closing", "choices/"};
    struct base_text path = item->leaves[0].path;
    for (size_t i = 0; i < sizeof GROUPS / sizeof GROUPS[0]; i++) {
        if (base_text_starts(path, GROUPS[i])) {
            return true;
        }
    }
    bool bracket = item->leaves[0].field == RESULT_BRACKET_X;
    return bracket || item->leaves[0].field == RESULT_BRACKET_DROP;
}

/* Names, and what is measured from the first bracket or tail on the left. */
static bool is_compared(enum result_field field) {
    if (field == RESULT_HANG_LONGEST || field == RESULT_HANG_STRING) {
        return false;
    }
    return result_field_unit(field) != BASE_UNIT_TEXT;
}

/*
 * A high point lies half way to the tick: where the way is odd, one reach is a tick longer by the
 * order of the walk, and its water with it.
 */
static bool is_half_tick_away(enum result_field field, const struct base_value *a,
                              const struct base_value *b, struct same_report *report) {
    bool tick = field == RESULT_REACH_LENGTH || field == RESULT_HIGH_X ||
                field == RESULT_RUN_LIP_HIGH || field == RESULT_RUN_LIP_LOW;
    bool water = field == RESULT_REACH_AREA || field == RESULT_REACH_FLOW ||
                 field == RESULT_REACH_WIDTH || field == RESULT_CHECK_FLOW ||
                 field == RESULT_CHECK_CAPACITY || field == RESULT_OUTLET_FLOW ||
                 field == RESULT_OUTLET_HEAD || field == RESULT_LINK_AREA ||
                 field == RESULT_OUTLET_BARREL;
    /* rounded to four figures and three: a tick may turn the last of them */
    bool rain = field == RESULT_OFTEN_RAIN || field == RESULT_BLOCKED_RAIN;
    bool years = field == RESULT_OFTEN_YEARS || field == RESULT_BLOCKED_YEARS;
    bool load = field == RESULT_HANG_SHARE || field == RESULT_HANG_SLIDING ||
                field == RESULT_HANG_LOAD_WATER || field == RESULT_HANG_LOAD_ICE ||
                field == RESULT_HANG_SCREWS_WATER || field == RESULT_HANG_SCREWS_ICE;
    years = years || load; /* three figures, too */
    bool good = false;
    if (rain || years) {
        good = fabs(a->number - b->number) <= (rain ? 1.01e-3 : 1.01e-2) * fabs(a->number);
    } else if (field == RESULT_REACH_HOLDS) {
        good = fabs(a->number - b->number) <= 1.0;
    } else if (field == RESULT_BLOCKED_FILL) {
        good = fabs(a->number - b->number) <= 2e-5 * fabs(a->number) + 1e-3;
    } else if (tick) {
        good = a->integer - b->integer >= -1 && a->integer - b->integer <= 1;
    } else if (water) {
        good = fabs(a->number - b->number) <= 2e-5 * fabs(a->number) + 1e-9;
    }
    report->edges += good;
    return good;
}

/* "gutter/" of reaches/NAME/often/gutter: what the rain of a part is compared with. */
static bool same_part(const struct item *one, const struct item *other) {
    struct base_text a = one->leaves[0].path;
    struct base_text b = other->leaves[0].path;
    size_t at_a = parent_length(a);
    size_t at_b = parent_length(b);
    if (one->leaves[0].field != RESULT_OFTEN_RAIN || at_a == 0 || at_b == 0) {
        return true;
    }
    a.length = at_a - 1;
    b.length = at_b - 1;
    size_t from_a = parent_length(a);
    size_t from_b = parent_length(b);
    return a.length - from_a == b.length - from_b &&
           memcmp(a.bytes + from_a, b.bytes + from_b, a.length - from_a) == 0;
}

static bool pair_matches(const struct pairing *pairing, const struct item *one,
                         const struct item *other) {
    struct same_report trial = *pairing->report;
    if (other->used || one->count != other->count || !same_part(one, other)) {
        return false;
    }
    for (size_t i = 0; i < one->count; i++) {
        const struct result_leaf *leaf = &one->leaves[i];
        if (!is_compared(leaf->field)) {
            continue;
        }
        const struct result_leaf *match =
            find_field(other, pairing->mirrored ? other_end(leaf->field) : leaf->field);
        if (match == NULL) {
            return false;
        }
        struct base_value wanted = seen_value(pairing->a, one, leaf, pairing->mirrored);
        struct base_value found = seen_value(pairing->b, other, match, false);
        if (!same_value(leaf->field, &wanted, &found, &trial) &&
            !is_half_tick_away(leaf->field, &wanted, &found, &trial)) {
            return false;
        }
    }
    pairing->report->edges = trial.edges;
    return true;
}

static bool pair_items(struct base_arena *arena, const struct pairing *pairing) {
    struct items ours = list_items(arena, pairing->a);
    struct items others = list_items(arena, pairing->b);
    for (size_t i = 0; i < ours.count; i++) {
        bool found = is_left_out(&ours.items[i]);
        for (size_t j = 0; j < others.count && !found; j++) {
            struct item *other = &others.items[(i + j) % others.count]; /* mostly in order */
            found = pair_matches(pairing, &ours.items[i], other);
            other->used = other->used || found;
        }
        if (!found) {
            tell(pairing->report, &ours.items[i].leaves[0],
                 "and all beside it: the other has no such");
            return false;
        }
    }
    for (size_t j = 0; j < others.count; j++) {
        if (!others.items[j].used && !is_left_out(&others.items[j])) {
            tell(pairing->report, &others.items[j].leaves[0], "only the second has it");
            return false;
        }
    }
    return true;
}

/* ---- pieces, added up ----------------------------------------------------------------------- */

struct sort {
    const struct item *like;
    int64_t count;
    double mass_kg;
    size_t items;
};

static struct base_value value_of(const struct item *item, enum result_field field) {
    const struct result_leaf *leaf = find_field(item, field);
    return leaf == NULL ? (struct base_value){0} : leaf->value;
}

static struct base_value hand_of(const struct item *item, bool mirrored) {
    struct base_value hand = value_of(item, RESULT_PIECE_HAND);
    if (mirrored && base_text_is(hand.text, "left")) {
        return base_value_string("right");
    }
    if (mirrored && base_text_is(hand.text, "right")) {
        return base_value_string("left");
    }
    return hand;
}

static bool same_sort(const struct item *a, const struct item *b, bool mirrored) {
    struct same_report unused = {0};
    static const enum result_field FIELDS[] = {RESULT_PIECE_KIND, RESULT_PIECE_SIZE,
                                               RESULT_PIECE_LENGTH, RESULT_PIECE_ANGLE};
    for (size_t i = 0; i < sizeof FIELDS / sizeof FIELDS[0]; i++) {
        struct base_value one = value_of(a, FIELDS[i]);
        struct base_value other = value_of(b, FIELDS[i]);
        bool both_absent = one.unit == BASE_UNIT_NONE && other.unit == BASE_UNIT_NONE;
        if (!both_absent && !same_value(FIELDS[i], &one, &other, &unused)) {
            return false;
        }
    }
    return base_text_equal(hand_of(a, mirrored).text, hand_of(b, false).text);
}

static struct sort *add_up(struct base_arena *arena, struct items list, size_t *count) {
    struct sort *sorts = base_take(arena, list.count + 1, sizeof *sorts);
    *count = 0;
    for (size_t i = 0; i < list.count; i++) {
        const struct item *item = &list.items[i];
        size_t at = 0;
        if (!base_text_starts(item->leaves[0].path, "pieces/")) {
            continue;
        }
        while (at < *count && !same_sort(item, sorts[at].like, false)) {
            at++;
        }
        *count += at == *count;
        sorts[at].like = item;
        sorts[at].count += value_of(item, RESULT_PIECE_COUNT).integer;
        sorts[at].mass_kg += value_of(item, RESULT_PIECE_MASS).number;
        sorts[at].items++;
    }
    return sorts;
}

static bool same_pieces(struct base_arena *arena, struct same_side a, struct same_side b,
                        bool mirrored, struct same_report *report) {
    size_t count;
    size_t other_count;
    struct sort *sorts = add_up(arena, list_items(arena, a), &count);
    struct sort *others = add_up(arena, list_items(arena, b), &other_count);
    for (size_t i = 0; i < count; i++) {
        size_t at = 0;
        while (at < other_count && !same_sort(sorts[i].like, others[at].like, mirrored)) {
            at++;
        }
        double limit_kg = 1e-9 * (1 + (double)sorts[i].items);
        if (at == other_count || sorts[i].count != others[at].count ||
            fabs(sorts[i].mass_kg - others[at].mass_kg) > limit_kg) {
            tell(report, &sorts[i].like->leaves[0], "the other list holds more or fewer of them");
            return false;
        }
    }
    if (count != other_count) {
        snprintf(report->first, sizeof report->first, "pieces: %zu sorts, the other has %zu", count,
                 other_count);
    }
    return count == other_count;
}

bool same_answer_renamed(struct base_arena *arena, struct same_side a, struct same_side b,
                         bool mirrored, struct same_report *report) {
    *report = (struct same_report){0};
    struct pairing pairing = {a, b, mirrored, report};
    return pair_items(arena, &pairing) && same_pieces(arena, a, b, mirrored, report);
}

/* ---- roughly -------------------------------------------------------------------------------- */

static double sum_of(struct same_side side, enum result_field field) {
    double sum = 0.0;
    for (size_t i = 0; i < side.count; i++) {
        if (side.leaves[i].field == field) {
            const struct base_value *value = &side.leaves[i].value;
            sum += is_integer(value->unit) ? (double)value->integer : value->number;
        }
    }
    return sum;
}

static struct base_text word_of(struct same_side side, enum result_field field) {
    for (size_t i = 0; i < side.count; i++) {
        if (side.leaves[i].field == field) {
            return side.leaves[i].value.text;
        }
    }
    return (struct base_text){0};
}

bool same_answer_roughly(struct same_side a, struct same_side b, struct same_limits limits,
                         struct same_report *report) {
    const struct {
        enum result_field field;
        double limit_1;
    } ROWS[] = {{RESULT_ROOF_AREA, limits.area_1},
                {RESULT_RUN_EAVE, limits.length_1},
                {RESULT_MONEY_TOTAL, limits.cost_1}};
    *report = (struct same_report){0};
    if (!base_text_equal(word_of(a, RESULT_VERDICT), word_of(b, RESULT_VERDICT))) {
        snprintf(report->first, sizeof report->first, "another verdict");
        return false;
    }
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        double one = sum_of(a, ROWS[i].field);
        double other = sum_of(b, ROWS[i].field);
        if (!(fabs(one - other) <= ROWS[i].limit_1 * fabs(one))) {
            snprintf(report->first, sizeof report->first, "sum of %s: %.9g, the other %.9g",
                     result_field_pattern(ROWS[i].field), one, other);
            return false;
        }
    }
    return true;
}
