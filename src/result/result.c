/* SPDX-License-Identifier: Apache-2.0 */
#include "result/result_inside.h"

#include "tree/tree.h"
#include "units/units.h"

struct field_row {
    const char *pattern;
    enum base_unit unit;
    const char *note;
};

static const struct field_row ROWS[RESULT_FIELD_COUNT] = {
#define FIELD(id, pattern, unit, note) {pattern, BASE_UNIT_##unit, note},
#include "result/result_fields.def"
#undef FIELD
};

static const char *const UNIT_NAMES[] = {"",  "text", "word", "count", "m",     "minor",
                                         "m", "m2",   "m3/s", "m/s",   "rad",   "kg",
                                         "N", "Pa",   "s",    "C",     "ratio", "slope"};

const char *result_field_pattern(enum result_field field) {
    return ROWS[field].pattern;
}

const char *result_field_note(enum result_field field) {
    return ROWS[field].note;
}

enum base_unit result_field_unit(enum result_field field) {
    return ROWS[field].unit;
}

static struct base_text text(const char *c_string) {
    return base_text_of(c_string);
}

void result_open_map(struct result_out *out, struct base_text key) {
    tree_open_map(&out->writer, key);
    out->keys[out->depth++] = key;
}

void result_close_map(struct result_out *out) {
    tree_close_map(&out->writer);
    out->depth--;
}

static struct base_text leaf_key(enum result_field field) {
    const char *pattern = ROWS[field].pattern;
    size_t start = 0;
    for (size_t i = 0; pattern[i] != '\0'; i++) {
        start = pattern[i] == '/' ? i + 1 : start;
    }
    return text(pattern + start);
}

static void list_leaf(struct result_out *out, enum result_field field, struct base_text key,
                      struct base_value value) {
    if (out->leaves == NULL) {
        return;
    }
    struct result_leaf *items = base_grow(out->arena, out->leaves->items, &out->leaves->capacity,
                                          out->leaves->count, sizeof *items);
    if (items == NULL) {
        return;
    }
    struct base_builder path = {.arena = out->arena};
    for (int i = 0; i < out->depth; i++) {
        base_add_text(&path, out->keys[i]);
        base_add_char(&path, '/');
    }
    base_add_text(&path, key);
    out->leaves->items = items;
    items[out->leaves->count++] = (struct result_leaf){base_built(&path), field, value};
}

void result_put(struct result_out *out, enum result_field field, struct base_value value) {
    struct base_text key = leaf_key(field);
    list_leaf(out, field, key, value);
    if (value.unit == BASE_UNIT_TEXT || value.unit == BASE_UNIT_WORD) {
        tree_write_text(&out->writer, key, value.text);
    } else {
        tree_write_raw(&out->writer, key, units_write_quantum(out->arena, value));
    }
}

void result_put_word(struct result_out *out, enum result_field field, const char *word) {
    result_put(out, field, (struct base_value){.unit = BASE_UNIT_WORD, .text = text(word)});
}

void result_put_text(struct result_out *out, enum result_field field, struct base_text value) {
    result_put(out, field, base_value_text(value));
}

void result_put_tick(struct result_out *out, enum result_field field, int64_t tick) {
    result_put(out, field, base_value_tick(tick));
}

void result_put_number(struct result_out *out, enum result_field field, double number) {
    result_put(out, field, base_value_number(ROWS[field].unit, number));
}

/* Absent where no wall stands above. */
static void put_walls(struct result_out *out, enum result_field field, double area_m2) {
    if (area_m2 > GEOMETRY_EVENT_M) {
        result_put_number(out, field, area_m2);
    }
}

void result_put_count(struct result_out *out, enum result_field field, int64_t count) {
    result_put(out, field, base_value_count(count));
}

static void put_minor(struct result_out *out, enum result_field field, int64_t minor) {
    result_put(out, field, base_value_minor(minor));
}

const char *result_yes_no(bool yes) {
    return yes ? "yes" : "no";
}

struct base_text result_number_key(struct result_out *out, size_t number) {
    struct base_builder key = {.arena = out->arena};
    base_add_integer(&key, (int64_t)number);
    return base_built(&key);
}

/* ---- the house ------------------------------------------------------------------------------ */

static void write_water(struct result_out *out) {
    const struct layout *layout = &out->solution->layout;
    result_open_map(out, text("rain"));
    result_put_number(out, RESULT_RAIN_INTENSITY, layout->rain_mps);
    result_put_number(out, RESULT_RAIN_DURATION, layout->rain_s);
    result_put_count(out, RESULT_RAIN_YEARS, (int64_t)layout->rain_years);
    result_close_map(out);
    result_open_map(out, text("roof"));
    result_put_number(out, RESULT_ROOF_AREA, out->solution->roof.plan_area_m2);
    put_walls(out, RESULT_ROOF_WALLS, out->solution->roof.wall_area_m2);
    result_close_map(out);
    result_open_map(out, text("water"));
    result_put_word(out, RESULT_BASIS, result_basis_word(layout->basis));
    result_put_word(out, RESULT_STRAINED, result_yes_no(layout->strained));
    result_put_number(out, RESULT_MANNING, layout->manning_1);
    result_write_amounts(out);
    result_close_map(out);
}

static const char *const VERDICT_WORDS[] = {"unchecked", "closes",        "one-wrong",
                                            "undecided", "several-wrong", "too-many"};

static void write_measured_length(struct result_out *out, const struct measure_item *item) {
    result_put(out, RESULT_ITEM_SAID, item->said);
    result_put_number(out, RESULT_ITEM_ADJUSTED, item->adjusted);
    result_put_number(out, RESULT_ITEM_RESIDUAL, item->residual);
    result_put_number(out, RESULT_ITEM_WITHIN, item->within);
    if (item->detectable > 0.0) {
        result_put_number(out, RESULT_ITEM_DETECTABLE, item->detectable);
    }
}

static void write_measured_corner(struct result_out *out, const struct measure_item *item) {
    result_put(out, RESULT_ITEM_SAID_RAD, item->said);
    result_put_number(out, RESULT_ITEM_ADJUSTED_RAD, item->adjusted);
    result_put_number(out, RESULT_ITEM_RESIDUAL_RAD, item->residual);
    result_put_number(out, RESULT_ITEM_WITHIN_RAD, item->within);
    if (item->detectable > 0.0) {
        result_put_number(out, RESULT_ITEM_DETECTABLE_RAD, item->detectable);
    }
}

static void write_measurements(struct result_out *out) {
    const struct measure *measure = &out->solution->measure;
    if (measure->redundancy == 0) {
        return;
    }
    result_open_map(out, text("closing"));
    result_put_word(out, RESULT_CLOSING_VERDICT, VERDICT_WORDS[measure->verdict]);
    result_put_count(out, RESULT_CLOSING_REDUNDANCY, (int64_t)measure->redundancy);
    result_put_number(out, RESULT_CLOSING_CHI, measure->chi);
    if (measure->is_ring) {
        result_put_number(out, RESULT_CLOSING_MISS, measure->misclosure_m);
        result_put_number(out, RESULT_CLOSING_EXPECTED, measure->expected_m);
    }
    result_close_map(out);
    result_open_map(out, text("measurements"));
    for (size_t i = 0; i < measure->item_count; i++) {
        const struct measure_item *item = &measure->items[i];
        result_open_map(out, item->name);
        if (item->said.unit == BASE_UNIT_TICK) {
            write_measured_length(out, item);
        } else if (item->said.unit == BASE_UNIT_RAD) {
            write_measured_corner(out, item);
        }
        result_put_number(out, RESULT_ITEM_REDUNDANCY, item->redundancy);
        result_put_number(out, RESULT_ITEM_W, item->w_1);
        result_close_map(out);
    }
    result_close_map(out);
}

static void write_pours(struct result_out *out) {
    const struct roof *roof = &out->solution->roof;
    if (roof->pour_count == 0) {
        return;
    }
    result_open_map(out, text("pours"));
    for (size_t i = 0; i < roof->pour_count; i++) {
        result_open_map(out, roof->pours[i].from);
        result_put_number(out, RESULT_POUR_AREA, roof->pours[i].plan_area_m2);
        result_put_text(out, RESULT_POUR_ONTO, roof->pours[i].onto);
        result_put_number(out, RESULT_POUR_X, roof->pours[i].x_m);
        result_close_map(out);
    }
    result_close_map(out);
}

static const char *end_word(bool is_free, const struct job_run_end *end) {
    if (is_free) {
        return "end-cap";
    }
    return end->kind == JOB_END_INSIDE ? "inside-mitre" : "outside-mitre";
}

static void write_runs(struct result_out *out) {
    const struct solution *all = out->solution;
    result_open_map(out, text("runs"));
    for (size_t i = 0; i < all->layout.run_count; i++) {
        const struct layout_run *run = &all->layout.runs[i];
        const struct layout_line *line = &all->layout.lines[run->line];
        const struct roof_eave *eave = &all->roof.eaves[run->eave];
        result_open_map(out, run->name);
        result_put_tick(out, RESULT_RUN_EAVE, eave->length_tick);
        result_put_tick(out, RESULT_RUN_LENGTH, run->length_tick);
        result_put_number(out, RESULT_RUN_PITCH, eave->pitch_1);
        result_put_number(out, RESULT_RUN_AREA, eave->plan_area_m2);
        put_walls(out, RESULT_RUN_WALLS, eave->wall_area_m2);
        result_put_word(out, RESULT_RUN_SIZE, all->shop.profiles[line->profile].name);
        result_put_word(out, RESULT_RUN_SHEET, line->sheet);
        result_put_number(out, RESULT_RUN_SLOPE, line->slope_1);
        result_put_tick(out, RESULT_RUN_LIP_HIGH, run->lip_high_tick);
        result_put_tick(out, RESULT_RUN_LIP_LOW, run->lip_low_tick);
        result_put_word(out, RESULT_RUN_LEFT, end_word(run->left_is_free, &eave->from_end));
        result_put_word(out, RESULT_RUN_RIGHT, end_word(run->right_is_free, &eave->to_end));
        if (!out->solution->layout.brief) {
            result_write_catch(out, run);
        }
        result_close_map(out);
    }
    result_close_map(out);
    if (all->layout.high_point_count == 0) {
        return;
    }
    result_open_map(out, text("high_points"));
    for (size_t i = 0; i < all->layout.high_point_count; i++) {
        const struct layout_high_point *high = &all->layout.high_points[i];
        result_open_map(out, high->name);
        result_put_text(out, RESULT_HIGH_RUN, all->layout.runs[high->run].name);
        result_put_tick(out, RESULT_HIGH_X, high->x_tick);
        result_close_map(out);
    }
    result_close_map(out);
}

static void write_hang(struct result_out *out) {
    const struct solution *all = out->solution;
    result_open_map(out, text("hang"));
    for (size_t i = 0; i < all->hang.run_count; i++) {
        const struct hang_run *run = &all->hang.runs[i];
        result_open_map(out, all->layout.runs[i].name);
        result_put_count(out, RESULT_HANG_COUNT, (int64_t)run->count);
        result_put_tick(out, RESULT_HANG_LONGEST, run->longest_tick);
        result_put_tick(out, RESULT_HANG_LIMIT, run->limit_tick);
        result_put_tick(out, RESULT_HANG_STRING, run->string_tick);
        result_write_fixing(out, run);
        result_write_loads(out, run);
        for (size_t k = 0; k < run->count; k++) {
            result_open_map(out, result_number_key(out, k + 1));
            result_put_tick(out, RESULT_BRACKET_X, run->brackets[k].x_tick);
            result_put_tick(out, RESULT_BRACKET_DROP, run->brackets[k].drop_tick);
            result_close_map(out);
        }
        result_close_map(out);
    }
    result_close_map(out);
    result_open_map(out, text("joints"));
    for (size_t i = 0; i < all->joints.run_count; i++) {
        result_open_map(out, all->layout.runs[i].name);
        for (size_t k = 0; k < all->joints.runs[i].joint_count; k++) {
            result_open_map(out, result_number_key(out, k + 1));
            result_put_tick(out, RESULT_JOINT_X, all->joints.runs[i].joints[k].centre_tick);
            result_close_map(out);
        }
        result_close_map(out);
    }
    result_close_map(out);
}

/* ---- what is made and what it costs --------------------------------------------------------- */

static void write_piece_doubt(struct result_out *out, const struct pieces_piece *piece) {
    if (piece->trim_tick > 0) {
        result_put_tick(out, RESULT_PIECE_LONG, piece->trim_tick);
        result_put_word(out, RESULT_PIECE_CUT, pieces_trim_word(piece->trim));
    }
    if (piece->doubt_tick > 0) {
        result_put_tick(out, RESULT_PIECE_DOUBT, piece->doubt_tick);
    }
    if (piece->angle_within_rad > 0.0) {
        result_put_number(out, RESULT_PIECE_ANGLE_WITHIN, piece->angle_within_rad);
        result_put_word(out, RESULT_PIECE_TEMPLATE, result_yes_no(piece->template_wanted));
    }
    bool made_to_measure = piece->kind == PIECES_GUTTER || piece->kind == PIECES_MITRE;
    if (made_to_measure && piece->run != SIZE_MAX) {
        result_put_word(out, RESULT_PIECE_DOUBTFUL, result_yes_no(piece->doubtful));
    }
}

static void write_piece(struct result_out *out, const struct pieces_piece *piece) {
    result_open_map(out, piece->id);
    result_put_word(out, RESULT_PIECE_KIND, pieces_kind_word(piece->kind));
    if (piece->hand != PIECES_NO_HAND) {
        result_put_word(out, RESULT_PIECE_HAND, pieces_hand_word(piece->hand));
    }
    if (piece->size.length > 0) {
        result_put(out, RESULT_PIECE_SIZE,
                   (struct base_value){.unit = BASE_UNIT_WORD, .text = piece->size});
    }
    result_put_count(out, RESULT_PIECE_COUNT, piece->count);
    if (piece->length_tick > 0) {
        result_put_tick(out, RESULT_PIECE_LENGTH, piece->length_tick);
    }
    if (piece->kind == PIECES_APRON || piece->kind == PIECES_SPLASH_PIECE) {
        result_put_tick(out, RESULT_PIECE_WIDE, piece->girth_tick);
    }
    if (piece->angle_rad > 0.0) {
        result_put_number(out, RESULT_PIECE_ANGLE, piece->angle_rad);
    }
    write_piece_doubt(out, piece);
    if (piece->mass_kg > 0.0) {
        result_put_number(out, RESULT_PIECE_MASS, piece->mass_kg);
    }
    result_close_map(out);
}

/* How much of it is paid for; the count says it where the price is for a piece. */
static void write_line_measure(struct result_out *out, const struct money_line *line) {
    static const char *const units[] = {"", "ft", "m", "lb", "kg"};
    switch (line->per) {
    case TARIFF_PER_PIECE:
        return;
    case TARIFF_PER_FT:
    case TARIFF_PER_M:
        result_put_tick(out, RESULT_LINE_LENGTH, line->length_tick);
        break;
    case TARIFF_PER_LB:
    case TARIFF_PER_KG:
        result_put_number(out, RESULT_LINE_MASS, line->mass_kg);
        break;
    }
    result_put_word(out, RESULT_LINE_PER, units[line->per]);
}

static void write_money(struct result_out *out) {
    const struct money *money = &out->solution->money;
    if (!money->priced) {
        return;
    }
    result_open_map(out, text("money"));
    result_open_map(out, text("lines"));
    for (size_t i = 0; i < money->count; i++) {
        result_open_map(out, money->lines[i].key);
        result_put_count(out, RESULT_LINE_COUNT, money->lines[i].count);
        write_line_measure(out, &money->lines[i]);
        put_minor(out, RESULT_LINE_UNIT, money->lines[i].unit_minor);
        put_minor(out, RESULT_LINE_AMOUNT, money->lines[i].amount_minor);
        result_close_map(out);
    }
    result_close_map(out);
    put_minor(out, RESULT_MONEY_SUM, money->sum_minor);
    put_minor(out, RESULT_MONEY_TAX, money->tax_minor);
    put_minor(out, RESULT_MONEY_TOTAL, money->total_minor);
    put_minor(out, RESULT_MONEY_DEPOSIT, money->deposit_minor);
    if (money->per_foot_minor > 0) {
        put_minor(out, RESULT_MONEY_PER_FOOT, money->per_foot_minor);
    }
    result_close_map(out);
}

static void write_findings(struct result_out *out) {
    static const char *const severities[] = {"stop", "must", "should", "note", "assumed"};
    result_open_map(out, text("findings"));
    for (size_t i = 0; i < out->issues->count; i++) {
        const struct base_issue *issue = &out->issues->items[i];
        result_open_map(out, result_number_key(out, i + 1));
        result_put_word(out, RESULT_FINDING_SEVERITY, severities[base_issue_severity(issue->code)]);
        result_put_word(out, RESULT_FINDING_CODE, base_issue_name(issue->code));
        if (issue->object.length > 0) {
            result_put_text(out, RESULT_FINDING_OBJECT, issue->object);
        }
        result_close_map(out);
    }
    result_close_map(out);
}

struct base_text result_write(struct base_arena *arena, const struct solution *solution,
                              const struct base_issues *issues, struct result_leaves *leaves) {
    struct result_out out = {.arena = arena,
                             .solution = solution,
                             .issues = issues,
                             .writer = tree_make_writer(arena),
                             .leaves = leaves};
    tree_open_map(&out.writer, (struct base_text){0});
    result_put_count(&out, RESULT_VERSION, 1);
    result_put_text(&out, RESULT_JOB, solution->job.title);
    result_put_word(&out, RESULT_UNITS, solution->job.system == UNITS_FT_IN ? "ft-in" : "mm");
    result_put_word(&out, RESULT_VERDICT, solution->safe ? "safe" : "not-safe-as-drawn");
    result_put_word(&out, RESULT_WATER_CHECKED, result_yes_no(solution->has_house));
    if (solution->has_house) {
        write_water(&out);
        write_measurements(&out);
        write_pours(&out);
        result_write_links(&out);
        result_write_decks(&out);
        write_runs(&out);
        result_write_reaches(&out);
        result_write_outlets(&out);
        result_write_storms(&out);
        if (!solution->layout.brief) {
            result_write_choices(&out);
        }
        write_hang(&out);
    }
    result_write_found(&out);
    if (solution->has_house) {
        result_write_surveys(&out);
    }
    result_open_map(&out, text("pieces"));
    for (size_t i = 0; i < solution->pieces.count; i++) {
        write_piece(&out, &solution->pieces.items[i]);
    }
    result_close_map(&out);
    result_put_number(&out, RESULT_TOTAL_MASS, solution->pieces.mass_kg);
    write_money(&out);
    write_findings(&out);
    tree_close_map(&out.writer);
    return base_arena_failed(arena) ? (struct base_text){0} : base_built(&out.writer.out);
}

struct base_text result_write_fields(struct base_arena *arena) {
    struct tree_writer writer = tree_make_writer(arena);
    tree_open_map(&writer, (struct base_text){0});
    for (int i = 0; i < RESULT_FIELD_COUNT; i++) {
        tree_open_map(&writer, text(ROWS[i].pattern));
        tree_write_text(&writer, text("unit"), text(UNIT_NAMES[ROWS[i].unit]));
        tree_write_text(&writer, text("note"), text(ROWS[i].note));
        tree_close_map(&writer);
    }
    tree_close_map(&writer);
    return base_built(&writer.out);
}
