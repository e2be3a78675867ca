/* SPDX-License-Identifier: Apache-2.0 */
/* The top of the job file, the place it stands in, and what holds for every eave. */
#include "job/job_inside.h"

/* ---- place --------------------------------------------------------------------------------- */

static void read_rain_unit(struct job_reader *reader, const struct tree_node *node, const char *key,
                           enum rain_unit *file_unit) {
    static const char *const UNITS[] = {"inches", "inches/hour", "mm", "mm/hour"};
    static const enum rain_unit VALUES[] = {RAIN_UNIT_DEPTH_IN, RAIN_UNIT_INTENSITY_INH,
                                            RAIN_UNIT_DEPTH_MM, RAIN_UNIT_INTENSITY_MMH};
    static const struct job_words WORDS = {UNITS, JOB_COUNT_OF(UNITS)};
    int unit = 0;
    if (job_take_word(reader, node, key, &WORDS, &unit)) {
        *file_unit = VALUES[unit];
    }
}

/* A wish about storms that nothing named could fulfil. */
static void refuse_storm(struct job_reader *reader, const struct tree_node *node, const char *from,
                         const char *mend) {
    base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_STORM_FROM_NOTHING,
                                                       .mark = node->mark,
                                                       .object = job_object(reader, "storm"),
                                                       .value = base_value_string(from),
                                                       .other = base_value_string(mend)});
}

static void read_storm(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"minutes", "second hardest", "climate"};
    static const struct job_keys KEYS = {"storm", NAMES, JOB_COUNT_OF(NAMES)};
    static const char *const SIDES[] = {"before", "after"};
    static const struct job_words SIDE_WORDS = {SIDES, JOB_COUNT_OF(SIDES)};
    struct job_rain *rain = &reader->job->rain;
    struct job_storm *storm = &rain->storm;
    if (!job_check_map(reader, node, "storm", &KEYS)) {
        return;
    }
    *storm = (struct job_storm){.given = true, .mark = node->mark};
    int side = 0;
    reader->where = base_text_of("the storm");
    job_take_number(reader, node, "minutes", JOB_QUANTITY_MINUTES, &storm->minutes);
    storm->second_given = job_take_word(reader, node, "second hardest", &SIDE_WORDS, &side);
    storm->second = (enum rain_side)side;
    job_take_number(reader, node, "climate", JOB_QUANTITY_ADDED, &storm->climate);
    reader->where = base_text_of("rain");
    if (!rain->file.given && (storm->minutes.given || storm->second_given)) {
        refuse_storm(reader, node, "no rain table is named to make it from",
                     "name the table with `file: rain.csv`; a record is taken as it is");
    } else if (!rain->file.given && !rain->record.given) {
        refuse_storm(reader, node, "neither rain table nor record is named to take it from",
                     "name one with `file: rain.csv` or `record: gauge.csv`");
    }
}

/* A place of the list, instead of intensity, minutes and years. */
static void take_place(struct job_reader *reader, const struct tree_node *node) {
    struct job_rain *rain = &reader->job->rain;
    static const char *const OTHERS[] = {"intensity", "file", "minutes", "years"};
    const struct tree_node *like = tree_find(node, "like");
    const size_t count = rain_count_places();
    const char **names = base_take(reader->arena, count, sizeof *names);
    for (size_t i = 0; i < JOB_COUNT_OF(OTHERS); i++) {
        (void)job_refuse_pair(reader, node, "like", OTHERS[i]);
    }
    for (size_t i = 0; i < count && names != NULL; i++) {
        names[i] = rain_get_place(i)->name;
    }
    const struct job_words words = {names, names == NULL ? 0 : count};
    int index = 0;
    if (!job_take_word(reader, node, "like", &words, &index)) {
        return;
    }
    rain->like = rain_get_place((size_t)index);
    rain->intensity = (struct job_number){true, rain->like->intensity_mps, like->mark};
    rain->minutes = (struct job_number){true, rain->like->duration_s, like->mark};
    rain->years = (struct job_number){true, rain->like->period_years, like->mark};
}

/* By its own figures, or those of a file. */
static void take_figures(struct job_reader *reader, const struct tree_node *node) {
    struct job_rain *rain = &reader->job->rain;
    (void)job_refuse_pair(reader, node, "intensity", "file");
    if (tree_find(node, "file") == NULL) {
        job_require(reader, node, "intensity", "intensity: 6.6 in/h|intensity: 168 mm/h");
    }
    /* A number without its storm says nothing: 6.6 in/h for 5 minutes is no 6.6 in/h for 60. */
    job_require(reader, node, "minutes", "minutes: 5");
    job_require(reader, node, "years", "years: 10");
    job_take_number(reader, node, "intensity", JOB_QUANTITY_RAIN, &rain->intensity);
    job_take_number(reader, node, "minutes", JOB_QUANTITY_MINUTES, &rain->minutes);
    job_take_number(reader, node, "years", JOB_QUANTITY_YEARS, &rain->years);
    job_take_text(reader, node, "file", &rain->file);
}

static void read_rain(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"intensity", "minutes",     "years", "file", "unit",
                                        "record",    "record unit", "storm", "like"};
    static const struct job_keys KEYS = {"rain", NAMES, JOB_COUNT_OF(NAMES)};
    struct job_rain *rain = &reader->job->rain;
    if (!job_check_map(reader, node, "rain", &KEYS)) {
        return;
    }
    reader->where = base_text_of("rain");
    rain->given = true;
    rain->mark = node->mark;
    if (tree_find(node, "like") != NULL) {
        take_place(reader, node);
    } else {
        take_figures(reader, node);
    }
    read_rain_unit(reader, node, "unit", &rain->file_unit);
    job_take_text(reader, node, "record", &rain->record);
    read_rain_unit(reader, node, "record unit", &rain->record_unit);
    const struct tree_node *storm = tree_find(node, "storm");
    if (storm != NULL) {
        read_storm(reader, storm);
    }
    reader->where = (struct base_text){0};
}

void job_read_place(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"rain", "lowest", "highest", "ground snow"};
    static const struct job_keys KEYS = {"place", NAMES, JOB_COUNT_OF(NAMES)};
    struct job *job = reader->job;
    if (!job_check_map(reader, node, "place", &KEYS)) {
        return;
    }
    const struct tree_node *rain = tree_find(node, "rain");
    if (rain != NULL) {
        read_rain(reader, rain);
    }
    job_take_number(reader, node, "lowest", JOB_QUANTITY_TEMPERATURE, &job->lowest);
    job_take_number(reader, node, "highest", JOB_QUANTITY_TEMPERATURE, &job->highest);
    job_take_number(reader, node, "ground snow", JOB_QUANTITY_SNOW, &job->snow);
    if (job->lowest.given && job->highest.given && job->lowest.value >= job->highest.value) {
        job_refuse_range(reader, tree_find(node, "lowest"), "lowest", "colder than the highest");
    }
}

/* ---- gutter and water ---------------------------------------------------------------------- */

/* auto means: not given, let it be chosen. */
static void take_text_or_auto(struct job_reader *reader, const struct tree_node *map,
                              const char *key, struct job_text *text) {
    struct job_text said = {0};
    job_take_text(reader, map, key, &said);
    if (said.given && !base_text_is(said.text, "auto")) {
        *text = said;
    }
}

void job_read_gutter(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"shape", "size",          "sheet",  "metal",
                                        "fall",  "past the eave", "aprons", "splash pieces"};
    static const struct job_keys KEYS = {"gutter", NAMES, JOB_COUNT_OF(NAMES)};
    static const char *const SHAPES[] = {"half-round"};
    static const struct job_words SHAPE_WORDS = {SHAPES, JOB_COUNT_OF(SHAPES)};
    static const char *const METALS[] = {"copper"};
    static const struct job_words METAL_WORDS = {METALS, JOB_COUNT_OF(METALS)};
    struct job *job = reader->job;
    if (!job_check_map(reader, node, "gutter", &KEYS)) {
        return;
    }
    reader->where = base_text_of("the gutter");
    int only = 0;
    job_take_word(reader, node, "shape", &SHAPE_WORDS, &only);
    job_take_word(reader, node, "metal", &METAL_WORDS, &only);
    take_text_or_auto(reader, node, "size", &job->gutter_size);
    take_text_or_auto(reader, node, "sheet", &job->gutter_sheet);
    const struct tree_node *fall = tree_find(node, "fall");
    if (fall != NULL && !base_text_is(fall->text, "auto")) {
        job_take_number(reader, node, "fall", JOB_QUANTITY_FALL, &job->fall);
    }
    job_take_length(reader, node, "past the eave", JOB_ZERO_ALLOWED, &job->run_past);
    (void)job_take_yes(reader, node, "aprons", &job->wants_aprons);
    (void)job_take_yes(reader, node, "splash pieces", &job->wants_splash_pieces);
    reader->where = (struct base_text){0};
}

void job_read_water(struct job_reader *reader, const struct tree_node *node) {
    static const char *const NAMES[] = {"basis",  "strainer", "manning", "wall rain", "settled",
                                        "sagged", "ice",      "area",    "leader"};
    static const struct job_keys KEYS = {"water", NAMES, JOB_COUNT_OF(NAMES)};
    static const char *const BASES[] = {"handbook", "us code", "en"};
    static const struct job_words BASIS_WORDS = {BASES, JOB_COUNT_OF(BASES)};
    static const char *const SHARES[] = {"half", "half to 10 m", "quarter", "none"};
    static const struct job_words SHARE_WORDS = {SHARES, JOB_COUNT_OF(SHARES)};
    struct job *job = reader->job;
    if (!job_check_map(reader, node, "water", &KEYS)) {
        return;
    }
    int basis = 0;
    if (job_take_word(reader, node, "basis", &BASIS_WORDS, &basis)) {
        job->basis = (enum job_basis)basis;
    }
    static const char *const AREAS[] = {"pitch factor", "plan", "half rise"};
    static const struct job_words AREA_WORDS = {AREAS, JOB_COUNT_OF(AREAS)};
    static const char *const LEADERS[] = {"7/24", "us code", "en"};
    static const struct job_words LEADER_WORDS = {LEADERS, JOB_COUNT_OF(LEADERS)};
    int rule = 0;
    job->area_given = job_take_word(reader, node, "area", &AREA_WORDS, &rule);
    job->area = (enum job_basis)rule;
    rule = 0;
    job->leader_given = job_take_word(reader, node, "leader", &LEADER_WORDS, &rule);
    job->leader = (enum job_basis)rule;
    job->strained_given = job_take_yes(reader, node, "strainer", &job->strained);
    job_take_number(reader, node, "manning", JOB_QUANTITY_MANNING, &job->manning);
    int share = 0;
    job->wall_rain_given = job_take_word(reader, node, "wall rain", &SHARE_WORDS, &share);
    job->wall_rain = (enum job_wall_rain)share;
    job_take_length(reader, node, "settled", JOB_ZERO_ALLOWED, &job->settled);
    job_take_length(reader, node, "sagged", JOB_ZERO_ALLOWED, &job->sagged);
    job_take_length(reader, node, "ice", JOB_ZERO_ALLOWED, &job->ice);
}

/* ---- the top ------------------------------------------------------------------------------- */

static void read_version(struct job_reader *reader, const struct tree_node *root) {
    if (!job_require(reader, root, "eavesmith", "eavesmith: 1")) {
        return;
    }
    const struct tree_node *node = job_find_scalar(reader, root, "eavesmith");
    if (node != NULL && !base_text_is(node->text, "1")) {
        base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_JOB_VERSION,
                                                           .mark = node->mark,
                                                           .value = job_said(node)});
    }
}

static void read_units(struct job_reader *reader, const struct tree_node *root) {
    static const char *const SYSTEMS[] = {"ft-in", "mm"};
    static const struct job_words WORDS = {SYSTEMS, JOB_COUNT_OF(SYSTEMS)};
    int system = 0;
    reader->system = UNITS_MM;
    if (job_require(reader, root, "units", "units: ft-in` or `units: mm") &&
        job_take_word(reader, root, "units", &WORDS, &system)) {
        reader->system = (enum units_system)system;
    }
    reader->job->system = reader->system;
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

static int two_digits(const char *at) {
    return (at[0] - '0') * 10 + (at[1] - '0');
}

/* YYYY-MM-DD of a day that is in the calendar. */
static bool is_date(struct base_text text) {
    static const int DAYS[] = {31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    static const char SHAPE[] = "dddd-dd-dd";
    if (text.length != 10) {
        return false;
    }
    for (size_t i = 0; i < 10; i++) {
        if (SHAPE[i] == 'd' ? !is_digit(text.bytes[i]) : text.bytes[i] != '-') {
            return false;
        }
    }
    int year = two_digits(text.bytes) * 100 + two_digits(text.bytes + 2);
    int month = two_digits(text.bytes + 5);
    int day = two_digits(text.bytes + 8);
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    if (month < 1 || month > 12 || day < 1 || day > DAYS[month - 1]) {
        return false;
    }
    return month != 2 || day < 29 || leap;
}

static void read_header(struct job_reader *reader, const struct tree_node *root) {
    struct job *job = reader->job;
    struct job_text title = {0};
    job_require(reader, root, "job", "job: porch, south side");
    job_take_text(reader, root, "job", &title);
    job->title = title.text;
    job_take_text(reader, root, "customer", &job->customer);
    job_take_text(reader, root, "address", &job->address);
    job_take_text(reader, root, "date", &job->date);
    if (job->date.given && !is_date(job->date.text)) {
        job_refuse_range(reader, tree_find(root, "date"), "date", "a day like 2026-03-14");
    }
    job_take_length(reader, root, "round", JOB_ZERO_REFUSED, &job->round);
    if (job->round.given && job->round.tick > 2 * UNITS_TICK_PER_INCH) {
        job_refuse_range(reader, tree_find(root, "round"), "round", "at most 2 in");
    }
    job_take_text(reader, root, "prices", &job->prices_file);
}

static void read_later_keys(struct job_reader *reader, const struct tree_node *root) {
    const struct tree_node *near = tree_find(root, "near");
    if (near != NULL) {
        base_add_issue(reader->issues, (struct base_issue){.code = BASE_ISSUE_NEAR_NOT_CHECKED,
                                                           .mark = near->key_mark});
    }
}

typedef void part_reader(struct job_reader *reader, const struct tree_node *node);

/* Runs and wings before the places that name them. */
static void read_parts(struct job_reader *reader, const struct tree_node *root) {
    static const struct {
        const char *key;
        part_reader *read;
    } PARTS[] = {{"place", job_read_place},           {"runs", job_read_runs},
                 {"wings", job_read_wings},           {"outline", job_read_outline},
                 {"pieces", job_read_pieces},         {"gutter", job_read_gutter},
                 {"water", job_read_water},           {"outlets", job_read_outlets},
                 {"keep out", job_read_keep_out},     {"checks", job_read_checks},
                 {"survey", job_read_survey},         {"as found", job_read_found},
                 {"measurements", job_read_measuring}};
    for (size_t i = 0; i < JOB_COUNT_OF(PARTS); i++) {
        const struct tree_node *node = tree_find(root, PARTS[i].key);
        if (node != NULL) {
            PARTS[i].read(reader, node);
        }
    }
    bool wanted = tree_find(root, "runs") != NULL || tree_find(root, "wings") != NULL ||
                  tree_find(root, "pieces") != NULL || tree_find(root, "outline") != NULL;
    if (!wanted) {
        base_add_issue(reader->issues,
                       (struct base_issue){.code = BASE_ISSUE_NOTHING_WANTED, .mark = root->mark});
    }
}

/* In the order of the file, whatever order the parts were read in. Stable; bottom-up merge, for a
 * hostile file may hold very many faults. */
static void sort_issues(struct base_issues *issues, size_t from) {
    size_t count = issues->count - from;
    struct base_issue *items = count < 2 ? NULL : issues->items + from;
    struct base_issue *spare = count < 2 ? NULL : base_take(issues->arena, count, sizeof *spare);
    if (spare == NULL) {
        return;
    }
    struct base_issue *source = items;
    struct base_issue *target = spare;
    for (size_t width = 1; width < count; width *= 2) {
        for (size_t i = 0, start = 0; start < count; start += 2 * width) {
            size_t middle = start + width < count ? start + width : count;
            size_t end = start + 2 * width < count ? start + 2 * width : count;
            size_t left = start;
            size_t right = middle;
            for (; i < end; i++) {
                bool take_right =
                    left == middle ||
                    (right < end && source[right].mark.from_byte < source[left].mark.from_byte);
                target[i] = take_right ? source[right++] : source[left++];
            }
        }
        struct base_issue *swap = source;
        source = target;
        target = swap;
    }
    for (size_t i = 0; i < count && source != items; i++) {
        items[i] = source[i];
    }
}

static bool has_stop_since(const struct base_issues *issues, size_t from) {
    for (size_t i = from; i < issues->count; i++) {
        if (base_issue_severity(issues->items[i].code) == BASE_SEVERITY_STOP) {
            return true;
        }
    }
    return false;
}

static void read_root(struct job_reader *reader, const struct tree_node *root) {
    static const char *const NAMES[] = {
        "eavesmith",    "job",    "customer", "address",  "date",        "units",
        "round",        "place",  "runs",     "wings",    "pieces",      "gutter",
        "eave section", "water",  "outlets",  "keep out", "near",        "prices",
        "outline",      "checks", "survey",   "as found", "measurements"};
    static const struct job_keys KEYS = {"a job", NAMES, JOB_COUNT_OF(NAMES)};
    if (root->kind != TREE_MAP) {
        base_add_issue(reader->issues,
                       (struct base_issue){.code = BASE_ISSUE_JOB_NOT_A_MAP,
                                           .mark = root->mark,
                                           .value = base_value_string(
                                               root->kind == TREE_LIST ? "a list" : "one value")});
        return;
    }
    job_check_map(reader, root, "", &KEYS);
    read_version(reader, root);
    read_units(reader, root);
    read_header(reader, root);
    job_read_section(reader, root, &reader->job->section, &reader->job->has_section);
    read_parts(reader, root);
    job_settle_corners(reader);
    read_later_keys(reader, root);
}

enum base_status job_read(struct base_arena *arena, struct base_issues *issues,
                          const struct tree_node *root, struct job *job) {
    *job = (struct job){0};
    size_t before = issues->count;
    struct job_reader reader = {.arena = arena, .issues = issues, .job = job};
    read_root(&reader, root);
    sort_issues(issues, before);
    if (base_arena_failed(arena)) {
        return BASE_NO_MEMORY;
    }
    return has_stop_since(issues, before) ? BASE_STOPPED : BASE_OK;
}
