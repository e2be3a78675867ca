/* SPDX-License-Identifier: Apache-2.0 */
/* The section of an eave: its wood, its cover, its drip metal. */
#include "job/job_inside.h"

/* ---- rafter tails -------------------------------------------------------------------------- */

/* Centres of irregular tails, rising. */
static void read_positions(struct job_reader *reader, const struct tree_node *map,
                           struct job_section *section) {
    const struct tree_node *list = tree_find(map, "positions");
    if (list == NULL || !job_check_list(reader, list, "positions")) {
        return;
    }
    int64_t *ticks = base_take(reader->arena, list->count, sizeof *ticks);
    size_t count = 0;
    for (const struct tree_node *node = list->first; node != NULL && ticks != NULL;
         node = node->next) {
        struct job_length at = {0};
        job_read_length_node(reader, node, "positions", JOB_ZERO_ALLOWED, &at);
        if (!at.given) {
            continue;
        }
        if (count > 0 && at.tick <= ticks[count - 1]) {
            job_refuse_range(reader, node, "positions",
                             "farther from the left end than the tail before it");
            continue;
        }
        ticks[count++] = at.tick;
    }
    section->positions_tick = ticks;
    section->position_count = count;
}

/* The closest two tails stand, to hold their width against; 0 = not known. */
static int64_t find_closest(const struct job_section *section) {
    int64_t closest_tick = section->spacing.given ? section->spacing.tick : 0;
    for (size_t i = 1; i < section->position_count; i++) {
        int64_t apart_tick = section->positions_tick[i] - section->positions_tick[i - 1];
        closest_tick = closest_tick == 0 || apart_tick < closest_tick ? apart_tick : closest_tick;
    }
    return closest_tick;
}

static void read_cut(struct job_reader *reader, const struct tree_node *map,
                     struct job_section *section) {
    static const char *const CUTS[] = {"plumb", "square", "shaped"};
    static const struct job_words CUT_WORDS = {CUTS, JOB_COUNT_OF(CUTS)};
    static const char *const MENDS[] = {"wedge", "bracket", "none"};
    static const struct job_words MEND_WORDS = {MENDS, JOB_COUNT_OF(MENDS)};
    int cut = 0;
    int mend = 0;
    section->cut_given = job_take_word(reader, map, "cut", &CUT_WORDS, &cut);
    section->cut = (enum job_tail_cut)cut;
    if (!job_take_word(reader, map, "mend", &MEND_WORDS, &mend)) {
        return;
    }
    section->mend = (enum job_mend)(mend + (int)JOB_MEND_WEDGE);
    if (section->cut != JOB_CUT_SQUARE) {
        job_refuse_range(reader, tree_find(map, "mend"), "mend",
                         "left out: only a bracket on a square-cut tail tips (`cut: square`)");
    }
}

static void read_wood(struct job_reader *reader, const struct tree_node *node,
                      struct job_section *section) {
    static const char *const CONDITIONS[] = {"sound", "old", "rotten"};
    static const struct job_words WORDS = {CONDITIONS, JOB_COUNT_OF(CONDITIONS)};
    int condition = 0;
    job_take_text(reader, node, "wood", &section->species);
    if (job_take_word(reader, node, "condition", &WORDS, &condition)) {
        section->condition = (enum job_condition)(condition + 1);
    }
}

static void read_tails(struct job_reader *reader, const struct tree_node *node,
                       struct job_section *section) {
    static const char *const NAMES[] = {"spacing", "first", "positions", "width",    "depth",
                                        "cut",     "mend",  "wood",      "condition"};
    static const struct job_keys KEYS = {"tails", NAMES, JOB_COUNT_OF(NAMES)};
    if (!job_check_map(reader, node, "tails", &KEYS)) {
        return;
    }
    section->wood = JOB_WOOD_TAILS;
    job_refuse_pair(reader, node, "positions", "spacing");
    job_refuse_pair(reader, node, "positions", "first");
    job_take_length(reader, node, "spacing", JOB_ZERO_REFUSED, &section->spacing);
    job_take_length(reader, node, "first", JOB_ZERO_ALLOWED, &section->first);
    read_positions(reader, node, section);
    job_take_length(reader, node, "width", JOB_ZERO_REFUSED, &section->width);
    job_take_length(reader, node, "depth", JOB_ZERO_REFUSED, &section->depth);
    read_wood(reader, node, section);
    read_cut(reader, node, section);
    int64_t closest_tick = find_closest(section);
    if (closest_tick > 0 && section->width.given && section->width.tick >= closest_tick) {
        job_refuse_range(reader, tree_find(node, "width"), "width", "less than the spacing");
    }
}

/* ---- fascia and crown moulding ------------------------------------------------------------- */

static void read_fascia(struct job_reader *reader, const struct tree_node *node,
                        struct job_section *section) {
    static const char *const NAMES[] = {"depth", "thickness", "wood", "condition"};
    static const struct job_keys KEYS = {"fascia", NAMES, JOB_COUNT_OF(NAMES)};
    if (!job_check_map(reader, node, "fascia", &KEYS)) {
        return;
    }
    section->wood = JOB_WOOD_FASCIA;
    job_take_length(reader, node, "depth", JOB_ZERO_REFUSED, &section->depth);
    job_take_length(reader, node, "thickness", JOB_ZERO_REFUSED, &section->thickness);
    read_wood(reader, node, section);
}

static void read_crown(struct job_reader *reader, const struct tree_node *node,
                       struct job_section *section) {
    static const char *const NAMES[] = {"projection", "height", "wood", "condition"};
    static const struct job_keys KEYS = {"crown moulding", NAMES, JOB_COUNT_OF(NAMES)};
    if (!job_check_map(reader, node, "crown moulding", &KEYS)) {
        return;
    }
    section->wood = JOB_WOOD_CROWN;
    job_require(reader, node, "projection", "projection: 4 1/2\"|projection: 115");
    job_take_length(reader, node, "projection", JOB_ZERO_REFUSED, &section->projection);
    job_require(reader, node, "height", "height: 5\"|height: 125");
    job_take_length(reader, node, "height", JOB_ZERO_REFUSED, &section->depth);
    read_wood(reader, node, section);
}

/* ---- over and under it --------------------------------------------------------------------- */

static void read_cover(struct job_reader *reader, const struct tree_node *map,
                       struct job_section *section) {
    static const char *const NAMES[] = {"kind", "overhang", "valley metal"};
    static const struct job_keys KEYS = {"roof cover", NAMES, JOB_COUNT_OF(NAMES)};
    const struct tree_node *node = tree_find(map, "roof cover");
    if (node == NULL || !job_check_map(reader, node, "roof cover", &KEYS)) {
        return;
    }
    job_take_text(reader, node, "kind", &section->cover);
    job_take_length(reader, node, "overhang", JOB_ZERO_ALLOWED, &section->cover_overhang);
    job_take_length(reader, node, "valley metal", JOB_ZERO_ALLOWED, &section->valley_metal);
    if (section->cover_overhang.given && section->cover_overhang.tick > 6 * UNITS_TICK_PER_INCH) {
        section->cover_overhang.given = false;
        job_refuse_range(reader, tree_find(node, "overhang"), "overhang",
                         "at most 6 in (152 mm) past the face of the wood; the eave's own overhang "
                         "stands beside the eave height");
    }
}

/* `drip metal: none`, or {leg: 2"}. */
static void read_drip(struct job_reader *reader, const struct tree_node *map,
                      struct job_section *section) {
    static const char *const NAMES[] = {"leg"};
    static const struct job_keys KEYS = {"drip metal", NAMES, JOB_COUNT_OF(NAMES)};
    const struct tree_node *node = tree_find(map, "drip metal");
    if (node == NULL || (node->kind == TREE_SCALAR && base_text_is(node->text, "none"))) {
        return;
    }
    if (!job_check_map(reader, node, "drip metal", &KEYS)) {
        return;
    }
    section->has_drip = true;
    job_require(reader, node, "leg", "leg: 2\"|leg: 50");
    job_take_length(reader, node, "leg", JOB_ZERO_REFUSED, &section->drip_leg);
}

static const char *const WOODS[] = {"tails", "fascia", "crown moulding"};

/* The one wood there is; NULL with an issue when there is none or more than one. */
static const struct tree_node *find_wood(struct job_reader *reader, const struct tree_node *map,
                                         size_t *which) {
    const struct tree_node *found = NULL;
    for (size_t i = 0; i < JOB_COUNT_OF(WOODS); i++) {
        const struct tree_node *node = tree_find(map, WOODS[i]);
        if (node != NULL && found != NULL) {
            bool later = node->key_mark.from_byte > found->key_mark.from_byte;
            base_add_issue(reader->issues,
                           (struct base_issue){.code = BASE_ISSUE_TWO_KEYS,
                                               .mark = later ? node->key_mark : found->key_mark,
                                               .object = job_object(reader, "eave section"),
                                               .value = base_value_string(WOODS[*which]),
                                               .other = base_value_string(WOODS[i])});
            return NULL;
        }
        if (node != NULL) {
            found = node;
            *which = i;
        }
    }
    if (found == NULL) {
        job_require(reader, map, "tails",
                    "tails: {spacing: 24\", first: 10 1/2\"}|tails: {spacing: 600, first: 260}");
    }
    return found;
}

bool job_read_section_node(struct job_reader *reader, const struct tree_node *node,
                           struct job_section *section) {
    static const char *const NAMES[] = {"tails",  "fascia",     "crown moulding",
                                        "soffit", "roof cover", "drip metal"};
    static const struct job_keys KEYS = {"eave section", NAMES, JOB_COUNT_OF(NAMES)};
    static void (*const READ[])(struct job_reader *, const struct tree_node *,
                                struct job_section *) = {read_tails, read_fascia, read_crown};
    if (!job_check_map(reader, node, "eave section", &KEYS)) {
        return false;
    }
    section->mark = node->mark;
    job_take_length(reader, node, "soffit", JOB_ZERO_ALLOWED, &section->soffit);
    read_cover(reader, node, section);
    read_drip(reader, node, section);
    size_t which = 0;
    const struct tree_node *wood = find_wood(reader, node, &which);
    if (wood != NULL) {
        READ[which](reader, wood, section);
    }
    return true;
}

void job_read_section(struct job_reader *reader, const struct tree_node *map,
                      struct job_section *section, bool *has_section) {
    const struct tree_node *node = tree_find(map, "eave section");
    if (node != NULL && job_read_section_node(reader, node, section)) {
        *has_section = true;
    }
}
