/* SPDX-License-Identifier: Apache-2.0 */
/* Texts, words, lengths and other quantities, each with what to say when it is wrong. */
#include "job/job_inside.h"

#include <string.h>

/* ---- saying what is wrong ------------------------------------------------------------------ */

struct base_text job_object(const struct job_reader *reader, const char *key) {
    if (reader->where.length == 0) {
        return base_text_of(key);
    }
    if (key[0] == '\0') {
        return reader->where;
    }
    struct base_text pieces[] = {base_text_of(key), base_text_of(" of "), reader->where};
    return base_join(reader->arena, 3, pieces);
}

struct base_value job_said(const struct tree_node *node) {
    return base_value_text(node->text);
}

bool job_is_near(struct base_text written, struct base_text known, size_t *distance) {
    *distance = base_text_distance(written, known);
    size_t allowed = known.length <= 3 ? 1 : 2;
    return *distance <= allowed && *distance < known.length;
}

static const char *name_kind(const struct tree_node *node) {
    switch (node->kind) {
    case TREE_NULL:
        return "nothing";
    case TREE_SCALAR:
        return "one value";
    case TREE_LIST:
        return "a list";
    case TREE_MAP:
        return "a map of keys";
    }
    return "";
}

void job_refuse_kind(struct job_reader *reader, const struct tree_node *node, const char *key,
                     const char *wanted) {
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_WRONG_KIND,
                                                       .mark = node->mark,
                                                       .object = job_object(reader, key),
                                                       .value = base_value_string(name_kind(node)),
                                                       .limit = base_value_string(wanted)});
}

void job_refuse_range(struct job_reader *reader, const struct tree_node *node, const char *key,
                      const char *wanted) {
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_OUT_OF_RANGE,
                                                       .mark = node->mark,
                                                       .object = job_object(reader, key),
                                                       .value = job_said(node),
                                                       .limit = base_value_string(wanted)});
}

/* The place inside a node's text, when the text stands in the source as it is. */
static struct base_mark mark_inside(struct job_part part, size_t fault_at) {
    const struct base_text whole = part.node->text;
    struct base_mark mark = part.node->mark;
    size_t quotes = part.node->quoted ? 1 : 0;
    if (mark.to_byte - mark.from_byte != whole.length + 2 * quotes || part.text.length == 0) {
        return mark; /* escapes or folded lines: show the value as a whole */
    }
    size_t offset = (size_t)(part.text.bytes - whole.bytes) + fault_at;
    offset = offset < whole.length ? offset : whole.length;
    for (size_t i = 0; i < offset; i++) {
        mark.column += ((unsigned char)whole.bytes[i] & 0xC0) != 0x80;
    }
    mark.column += (int)quotes;
    mark.from_byte += offset + quotes;
    if (mark.from_byte > mark.to_byte) {
        mark.to_byte = mark.from_byte; /* something is missing at the end, behind a quote */
    }
    return mark;
}

static const char *name_fault(enum units_fault fault) {
    switch (fault) {
    case UNITS_FINE:
        return "";
    case UNITS_EMPTY:
        return "is empty";
    case UNITS_NOT_A_NUMBER:
        return "does not read as a number with its unit";
    case UNITS_BARE_NUMBER:
        return "has no unit";
    case UNITS_UNKNOWN_UNIT:
        return "has a unit that is not known here";
    case UNITS_TOO_FINE:
        return "is finer than a tape can be read";
    case UNITS_TOO_LARGE:
        return "is too large";
    case UNITS_BAD_FRACTION:
        return "has a fraction or inches that cannot be";
    case UNITS_NEGATIVE:
        return "is below zero";
    case UNITS_TRAILING:
        return "has something behind it";
    }
    return "";
}

/* ---- maps, lists, texts, words ------------------------------------------------------------- */

/* "did you mean `pitch`?", or all keys when none is near. */
static struct base_text advise_key(struct job_reader *reader, struct base_text written,
                                   const struct job_keys *keys) {
    struct base_builder out = {.arena = reader->arena};
    const char *nearest = NULL;
    size_t best = SIZE_MAX;
    for (size_t i = 0; i < keys->count; i++) {
        size_t distance = 0;
        if (job_is_near(written, base_text_of(keys->names[i]), &distance) && distance < best) {
            best = distance;
            nearest = keys->names[i];
        }
    }
    if (nearest != NULL) {
        base_add_string(&out, "did you mean `");
        base_add_string(&out, nearest);
        base_add_string(&out, "`?");
        return base_built(&out);
    }
    base_add_string(&out, "its keys are: ");
    for (size_t i = 0; i < keys->count; i++) {
        base_add_string(&out, i == 0 ? "" : ", ");
        base_add_string(&out, keys->names[i]);
    }
    return base_built(&out);
}

bool job_check_map(struct job_reader *reader, const struct tree_node *node, const char *key,
                   const struct job_keys *keys) {
    if (node->kind != TREE_MAP) {
        job_refuse_kind(reader, node, key, "keys and values");
        return false;
    }
    for (const struct tree_node *entry = node->first; entry != NULL; entry = entry->next) {
        bool known = false;
        for (size_t i = 0; i < keys->count && !known; i++) {
            known = base_text_is(entry->key, keys->names[i]);
        }
        if (!known) {
            struct base_text advice = advise_key(reader, entry->key, keys);
            base_add_issue(reader->issues,
                           (struct base_issue){.code = BASE_ISSUE_UNKNOWN_KEY,
                                               .mark = entry->key_mark,
                                               .object = entry->key,
                                               .value = base_value_text(advice),
                                               .other = base_value_string(keys->what)});
        }
    }
    return true;
}

bool job_check_list(struct job_reader *reader, const struct tree_node *node, const char *key) {
    if (node->kind != TREE_LIST) {
        job_refuse_kind(reader, node, key, "a list");
        return false;
    }
    if (node->count == 0 || node->count > JOB_ENTRIES_MAX) {
        base_add_issue(reader->issues,
                       (struct base_issue){.code = BASE_ISSUE_WRONG_COUNT,
                                           .mark = node->mark,
                                           .object = job_object(reader, key),
                                           .value = base_value_count((int64_t)node->count),
                                           .limit = base_value_string("1 to 500 entries")});
        return false;
    }
    return true;
}

static bool told_unknown(const struct job_reader *reader, const struct tree_node *entry) {
    for (size_t i = reader->issues->count; i-- > 0;) {
        const struct base_issue *issue = &reader->issues->items[i];
        if (issue->code == BASE_ISSUE_UNKNOWN_KEY &&
            issue->mark.from_byte == entry->key_mark.from_byte) {
            return true;
        }
    }
    return false;
}

/* A slip of the pen in the key was told already; that it is missing too would be one slip twice. */
static bool was_misspelt(const struct job_reader *reader, const struct tree_node *map,
                         const char *key) {
    for (const struct tree_node *entry = map->first; entry != NULL; entry = entry->next) {
        size_t distance = 0;
        if (job_is_near(entry->key, base_text_of(key), &distance) && told_unknown(reader, entry)) {
            return true;
        }
    }
    return false;
}

bool job_require(struct job_reader *reader, const struct tree_node *map, const char *key,
                 const char *example) {
    if (tree_find(map, key) != NULL) {
        return true;
    }
    if (was_misspelt(reader, map, key)) {
        return false;
    }
    struct base_text shown = base_text_of(example);
    const char *metric = strchr(example, '|');
    if (metric != NULL) {
        shown = reader->system == UNITS_MM
                    ? base_text_of(metric + 1)
                    : (struct base_text){example, (size_t)(metric - example)};
    }
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_MISSING_KEY,
                                                       .mark = map->mark,
                                                       .object = job_object(reader, key),
                                                       .value = base_value_text(shown)});
    return false;
}

static bool is_scalar(struct job_reader *reader, const struct tree_node *node, const char *key) {
    if (node->kind == TREE_SCALAR) {
        return true;
    }
    job_refuse_kind(reader, node, key, "one value");
    return false;
}

const struct tree_node *job_find_scalar(struct job_reader *reader, const struct tree_node *map,
                                        const char *key) {
    const struct tree_node *node = tree_find(map, key);
    return node != NULL && is_scalar(reader, node, key) ? node : NULL;
}

struct base_text job_trim(struct base_text text) {
    while (text.length > 0 && text.bytes[0] == ' ') {
        text.bytes++;
        text.length--;
    }
    while (text.length > 0 && text.bytes[text.length - 1] == ' ') {
        text.length--;
    }
    return text;
}

static bool has_control(struct base_text text) {
    for (size_t i = 0; i < text.length; i++) {
        unsigned char byte = (unsigned char)text.bytes[i];
        if ((byte < 0x20 && byte != '\n') || byte == 0x7F) {
            return true;
        }
    }
    return false;
}

void job_take_text(struct job_reader *reader, const struct tree_node *map, const char *key,
                   struct job_text *text) {
    const struct tree_node *node = job_find_scalar(reader, map, key);
    if (node == NULL) {
        return;
    }
    struct base_text trimmed = job_trim(node->text);
    if (trimmed.length == 0 || has_control(trimmed)) {
        job_refuse_range(reader, node, key, "a text that can be printed");
        return;
    }
    *text = (struct job_text){.given = true, .text = trimmed, .mark = node->mark};
}

bool job_read_word_node(struct job_reader *reader, const struct tree_node *node, const char *key,
                        const struct job_words *words, int *choice) {
    if (!is_scalar(reader, node, key)) {
        return false;
    }
    struct base_builder list = {.arena = reader->arena};
    for (size_t i = 0; i < words->count; i++) {
        if (base_text_is(node->text, words->words[i])) {
            *choice = (int)i;
            return true;
        }
        base_add_string(&list, i == 0 ? "" : ", ");
        base_add_string(&list, words->words[i]);
    }
    base_add_issue(reader->issues,
                   (struct base_issue){.code = BASE_ISSUE_BAD_WORD,
                                       .mark = node->mark,
                                       .object = job_object(reader, key),
                                       .value = job_said(node),
                                       .limit = base_value_text(base_built(&list))});
    return false;
}

bool job_take_word(struct job_reader *reader, const struct tree_node *map, const char *key,
                   const struct job_words *words, int *choice) {
    const struct tree_node *node = tree_find(map, key);
    return node != NULL && job_read_word_node(reader, node, key, words, choice);
}

bool job_take_yes(struct job_reader *reader, const struct tree_node *map, const char *key,
                  bool *yes) {
    static const char *const WORDS[] = {"no", "yes"};
    static const struct job_words ALL = {WORDS, JOB_COUNT_OF(WORDS)};
    int choice = 0;
    bool taken = job_take_word(reader, map, key, &ALL, &choice);
    if (taken) {
        *yes = choice == 1;
    }
    return taken;
}

/* ---- lengths ------------------------------------------------------------------------------- */

#define LENGTH_END_TICK                                                                            \
    (1000 * UNITS_TICK_PER_FOOT) /* no eave is 1000 ft long: a slip of a mark                      \
                                  */

static void refuse_length(struct job_reader *reader, struct job_part part,
                          struct units_length_reading reading) {
    bool feet = reader->system == UNITS_FT_IN;
    struct base_issue issue = {
        .code = BASE_ISSUE_BAD_QUANTITY,
        .mark = mark_inside(part, reading.fault_at),
        .object = job_object(reader, part.key),
        .value = base_value_text(part.text),
        .limit = base_value_string(feet ? "28' 4 1/2\" or 13/16\"" : "8650 or 8.65 m"),
        .other = base_value_string(name_fault(reading.fault))};
    if (reading.fault == UNITS_BARE_NUMBER) {
        struct units_style style = units_default_style(reader->system);
        issue.code = BASE_ISSUE_BARE_LENGTH;
        issue.mark = mark_inside(part, 0);
        issue.limit =
            base_value_text(units_write_length(reader->arena, style, reading.as_feet_tick));
        issue.other =
            base_value_text(units_write_length(reader->arena, style, reading.as_inches_tick));
    }
    base_add_issue(reader->issues, issue);
}

static bool read_reading(struct job_reader *reader, struct job_part part,
                         struct units_length_reading *reading) {
    *reading = units_read_length(part.text, reader->system);
    if (reading->fault != UNITS_FINE) {
        refuse_length(reader, part, *reading);
        return false;
    }
    return true;
}

bool job_read_tick(struct job_reader *reader, struct job_part part, int64_t *tick) {
    struct units_length_reading reading;
    if (!read_reading(reader, part, &reading)) {
        return false;
    }
    if (reading.has_doubt || reading.is_guess) {
        job_refuse_range(reader, part.node, part.key, "a plain length, without doubt or guess");
        return false;
    }
    *tick = reading.length_tick;
    return true;
}

bool job_read_coordinate(struct job_reader *reader, const struct tree_node *node, const char *key,
                         int64_t *tick) {
    if (!is_scalar(reader, node, key)) {
        return false;
    }
    struct job_part part = {node, node->text, key};
    bool sign = base_text_starts(part.text, "\xE2\x88\x92"); /* U+2212 */
    bool below = sign || base_text_starts(part.text, "-");
    size_t skip = sign ? 3 : below ? 1 : 0;
    part.text.bytes += skip;
    part.text.length -= skip;
    if (!job_read_tick(reader, part, tick)) {
        return false;
    }
    *tick = below ? -*tick : *tick;
    return true;
}

static bool check_length(struct job_reader *reader, const struct tree_node *node, const char *key,
                         enum job_zero zero, int64_t tick) {
    bool zero_allowed = zero == JOB_ZERO_ALLOWED;
    if (tick >= LENGTH_END_TICK || tick < 0 || (tick == 0 && !zero_allowed)) {
        job_refuse_range(reader, node, key,
                         zero_allowed ? "0 or more, and less than 1000 ft (304.8 m)"
                                      : "more than 0 and less than 1000 ft (304.8 m)");
        return false;
    }
    return true;
}

/* The mean of the readings, to the nearest tick; where no doubt is said, half their spread. */
static void take_mean(struct job_length *length, int64_t sum, int64_t least, int64_t most) {
    int64_t count = (int64_t)length->reading_count;
    length->given = true;
    length->tick = (2 * sum + count) / (2 * count);
    if (length->doubt_tick == 0) {
        length->doubt_tick = (most - least + 1) / 2;
    }
}

/* Readings of one length: each is at least a length that could be, so that the sum cannot overflow.
 */
static void read_readings(struct job_reader *reader, const struct tree_node *list, const char *key,
                          enum job_zero zero, struct job_length *length) {
    if (!job_check_list(reader, list, key)) {
        return;
    }
    struct job_length mean = {.mark = list->mark};
    int64_t sum = 0;
    int64_t least = INT64_MAX;
    int64_t most = 0;
    for (const struct tree_node *node = list->first; node != NULL; node = node->next) {
        struct units_length_reading reading;
        if (!is_scalar(reader, node, key) ||
            !read_reading(reader, (struct job_part){node, node->text, key}, &reading) ||
            !check_length(reader, node, key, zero, reading.length_tick)) {
            continue;
        }
        sum += reading.length_tick;
        least = reading.length_tick < least ? reading.length_tick : least;
        most = reading.length_tick > most ? reading.length_tick : most;
        mean.guess |= reading.is_guess;
        if (reading.has_doubt && reading.doubt_tick > mean.doubt_tick) {
            mean.doubt_tick = reading.doubt_tick;
        }
        mean.reading_count++;
    }
    if (mean.reading_count > 0) {
        take_mean(&mean, sum, least, most);
        *length = mean;
    }
}

void job_read_length_node(struct job_reader *reader, const struct tree_node *node, const char *key,
                          enum job_zero zero, struct job_length *length) {
    if (node->kind == TREE_LIST) {
        read_readings(reader, node, key, zero, length);
        return;
    }
    struct units_length_reading reading;
    if (!is_scalar(reader, node, key) ||
        !read_reading(reader, (struct job_part){node, node->text, key}, &reading) ||
        !check_length(reader, node, key, zero, reading.length_tick)) {
        return;
    }
    *length = (struct job_length){.given = true,
                                  .guess = reading.is_guess,
                                  .tick = reading.length_tick,
                                  .doubt_tick = reading.has_doubt ? reading.doubt_tick : 0,
                                  .reading_count = 1,
                                  .mark = node->mark};
}

void job_take_length(struct job_reader *reader, const struct tree_node *map, const char *key,
                     enum job_zero zero, struct job_length *length) {
    const struct tree_node *node = tree_find(map, key);
    if (node != NULL) {
        job_read_length_node(reader, node, key, zero, length);
    }
}

/* ---- other quantities ---------------------------------------------------------------------- */

#define RADIAN_OF_DEGREE 0.017453292519943295

struct quantity_row {
    struct units_reading (*read)(struct base_text text);
    double factor; /* to SI, where the reader gives a plain number */
    bool least_allowed;
    double least; /* SI */
    double most;  /* SI, allowed */
    const char *range;
    const char *examples[2]; /* by units_system */
};

/* Ranges keep out slips of a unit or a comma, not unusual houses. */
static const struct quantity_row QUANTITIES[] = {
    [JOB_QUANTITY_PITCH] = {units_read_pitch,
                            1.0,
                            false,
                            0.0,
                            2.0,
                            "more than 0 and at most 24/12",
                            {"9/12", "36.9 deg"}},
    [JOB_QUANTITY_TURN] = {units_read_angle,
                           1.0,
                           true,
                           0.0,
                           360.0 * RADIAN_OF_DEGREE,
                           "0 to 360 deg, counter-clockwise",
                           {"30 deg", "30 deg"}},
    [JOB_QUANTITY_CORNER] = {units_read_angle,
                             1.0,
                             false,
                             1.0 * RADIAN_OF_DEGREE,
                             179.0 * RADIAN_OF_DEGREE,
                             "between 1 and 179 deg",
                             {"135 deg", "135 deg"}},
    [JOB_QUANTITY_BEND] = {units_read_angle,
                           1.0,
                           false,
                           1.0 * RADIAN_OF_DEGREE,
                           179.0 * RADIAN_OF_DEGREE,
                           "between 1 and 179 deg",
                           {"60 deg", "60 deg"}},
    [JOB_QUANTITY_FALL] = {units_read_slope,
                           1.0,
                           true,
                           0.0,
                           1.0 / 24.0,
                           "level to 1/2 in/ft",
                           {"1/16 in/ft", "5 mm/m"}},
    [JOB_QUANTITY_RAIN] = {units_read_rain,
                           1.0,
                           false,
                           0.0,
                           100.0 * 0.0254 / 3600.0,
                           "more than 0 and at most 100 in/h",
                           {"6.6 in/h", "168 mm/h"}},
    [JOB_QUANTITY_TEMPERATURE] = {units_read_temperature,
                                  1.0,
                                  true,
                                  -80.0,
                                  80.0,
                                  "-80 C to 80 C (-112 F to 176 F)",
                                  {"-10 F", "-23 C"}},
    [JOB_QUANTITY_SNOW] = {units_read_pressure,
                           1.0,
                           true,
                           0.0,
                           50000.0,
                           "0 to 50 kPa (1044 psf)",
                           {"20 psf", "0.96 kPa"}},
    [JOB_QUANTITY_MANNING] =
        {units_read_number, 1.0, true, 0.005, 0.05, "0.005 to 0.05", {"0.012", "0.012"}},
    [JOB_QUANTITY_MINUTES] =
        {units_read_number, 60.0, true, 60.0, 86400.0, "1 to 1440 minutes", {"5", "5"}},
    [JOB_QUANTITY_YEARS] =
        {units_read_number, 1.0, true, 1.0, 1000.0, "1 to 1000 years", {"10", "10"}},
    [JOB_QUANTITY_ADDED] =
        {units_read_ratio, 1.0, true, 0.0, 1.0, "what is added, 0 to 100 %", {"20 %", "20 %"}},
};

static bool in_range(const struct quantity_row *row, double value) {
    /* A last-bit allowance, so that 1440 minutes or 24/12 written in another unit still stand. */
    double slack = 1e-12 * (row->most > 1.0 ? row->most : 1.0);
    bool enough = row->least_allowed ? value >= row->least - slack : value > row->least;
    return enough && value <= row->most + slack;
}

bool job_read_quantity(struct job_reader *reader, struct job_part part, enum job_quantity quantity,
                       double *value) {
    const struct quantity_row *row = &QUANTITIES[quantity];
    struct units_reading reading = row->read(part.text);
    struct base_issue issue = {.mark = part.node->mark,
                               .object = job_object(reader, part.key),
                               .value = base_value_text(part.text)};
    if (reading.fault != UNITS_FINE) {
        issue.code = BASE_ISSUE_BAD_QUANTITY;
        issue.mark = mark_inside(part, reading.fault_at);
        issue.other = base_value_string(name_fault(reading.fault));
        issue.limit = base_value_string(row->examples[reader->system == UNITS_FT_IN ? 0 : 1]);
    } else if (!in_range(row, reading.value * row->factor)) {
        issue.code = BASE_ISSUE_OUT_OF_RANGE;
        issue.limit = base_value_string(row->range);
    } else {
        *value = reading.value * row->factor;
        return true;
    }
    base_add_issue(reader->issues, issue);
    return false;
}

void job_read_number_node(struct job_reader *reader, const struct tree_node *node, const char *key,
                          enum job_quantity quantity, struct job_number *number) {
    struct job_part part = {node, node->text, key};
    double value = 0.0;
    if (is_scalar(reader, node, key) && job_read_quantity(reader, part, quantity, &value)) {
        *number = (struct job_number){.given = true, .value = value, .mark = node->mark};
    }
}

void job_take_number(struct job_reader *reader, const struct tree_node *map, const char *key,
                     enum job_quantity quantity, struct job_number *number) {
    const struct tree_node *node = tree_find(map, key);
    if (node != NULL) {
        job_read_number_node(reader, node, key, quantity, number);
    }
}
