/* SPDX-License-Identifier: Apache-2.0 */
#include "documents/documents.h"

#include <string.h>

static struct base_text text_of(const char *c_string) {
    return base_text_of(c_string == NULL ? "" : c_string);
}

static struct base_text count_of(struct base_arena *arena, int64_t count, const char *one,
                                 const char *many) {
    struct base_builder built = {.arena = arena};
    base_add_integer(&built, count);
    base_add_char(&built, ' ');
    base_add_string(&built, count == 1 ? one : many);
    return base_built(&built);
}

static const char *basis_word(enum job_basis basis) {
    switch (basis) {
    case JOB_BASIS_HANDBOOK:
        return "handbook";
    case JOB_BASIS_US_CODE:
        return "US code table";
    case JOB_BASIS_EN:
        return "European standard";
    }
    return "";
}

static const char *hand_of(const struct pieces_piece *piece) {
    return piece->hand == PIECES_NO_HAND ? "" : pieces_hand_word(piece->hand);
}

static const struct shop_profile *profile_of(const struct solution *solution, size_t run) {
    size_t line = solution->layout.runs[run].line;
    return &solution->shop.profiles[solution->layout.lines[line].profile];
}

/* ---- issues -------------------------------------------------------------------------------- */

static void add_slot(struct base_builder *built, struct units_style style,
                     const struct base_issue *issue, struct base_text slot) {
    if (base_text_is(slot, "object")) {
        base_add_text(built, issue->object);
        return;
    }
    const struct base_value *value = base_text_is(slot, "value")   ? &issue->value
                                     : base_text_is(slot, "limit") ? &issue->limit
                                                                   : &issue->other;
    if (value->unit != BASE_UNIT_NONE) {
        base_add_text(built, units_write_value(built->arena, style, *value));
    }
}

/* The slot that begins here, with its braces; NULL where the brace stands for itself, as in
 * `water: {strainer: no}`. */
static const char *find_slot(const char *at) {
    static const char *const slots[] = {"{object}", "{value}", "{limit}", "{other}"};
    for (size_t i = 0; i < sizeof slots / sizeof slots[0]; i++) {
        if (strncmp(at, slots[i], strlen(slots[i])) == 0) {
            return slots[i];
        }
    }
    return NULL;
}

static struct base_text fill(struct base_arena *arena, struct units_style style,
                             const struct base_issue *issue, const char *pattern) {
    struct base_builder built = {.arena = arena};
    for (const char *at = pattern; *at != '\0';) {
        const char *slot = find_slot(at);
        if (slot == NULL) {
            base_add_char(&built, *at++);
            continue;
        }
        add_slot(&built, style, issue, (struct base_text){slot + 1, strlen(slot) - 2});
        at += strlen(slot);
    }
    struct base_text text = base_built(&built);
    return text.bytes == NULL ? base_text_of("") : text;
}

struct base_text documents_write_issue(struct base_arena *arena, struct units_style style,
                                       const struct base_issue *issue) {
    return fill(arena, style, issue, base_issue_pattern(issue->code));
}

struct base_text documents_write_mend(struct base_arena *arena, struct units_style style,
                                      const struct base_issue *issue) {
    return fill(arena, style, issue, base_issue_mend(issue->code));
}

/* ---- pieces.csv ---------------------------------------------------------------------------- */

static void add_field(struct base_builder *built, struct base_text text) {
    bool quoted = false;
    for (size_t i = 0; i < text.length; i++) {
        quoted = quoted || strchr(",\"\r\n", text.bytes[i]) != NULL;
    }
    if (quoted) {
        base_add_char(built, '"');
    }
    for (size_t i = 0; i < text.length; i++) {
        if (text.bytes[i] == '"') {
            base_add_char(built, '"');
        }
        base_add_char(built, text.bytes[i]);
    }
    if (quoted) {
        base_add_char(built, '"');
    }
}

static void add_next(struct base_builder *built, struct base_text text) {
    base_add_char(built, ',');
    add_field(built, text);
}

static struct base_text lap_word(enum pieces_lap lap) {
    return base_text_of(lap == PIECES_LAP_INSIDE    ? "inside"
                        : lap == PIECES_LAP_OUTSIDE ? "outside"
                                                    : "");
}

static struct base_text length_or_none(struct base_arena *arena, struct units_style style,
                                       int64_t tick) {
    return tick == 0 ? base_text_of("") : units_write_length(arena, style, tick);
}

static void add_piece_row(struct base_builder *built, const struct solution *solution,
                          const struct pieces_piece *piece) {
    struct base_arena *arena = built->arena;
    struct units_style style = solution->shop.style;
    bool placed = piece->run != SIZE_MAX && piece->to_tick > piece->from_tick;
    add_field(built, piece->id);
    add_next(built, text_of(pieces_kind_word(piece->kind)));
    add_next(built, text_of(hand_of(piece)));
    add_next(built, piece->size);
    add_next(built, text_of(piece->sheet));
    base_add_char(built, ',');
    base_add_integer(built, piece->count);
    add_next(built, length_or_none(arena, style, piece->length_tick));
    add_next(built, piece->length_tick == 0
                        ? base_text_of("")
                        : units_write_quantum(arena, base_value_tick(piece->length_tick)));
    add_next(built, piece->run == SIZE_MAX || !solution->has_house
                        ? base_text_of("")
                        : solution->layout.runs[piece->run].name);
    add_next(built, placed ? units_write_length(arena, style, piece->from_tick) : base_text_of(""));
    add_next(built, placed ? units_write_length(arena, style, piece->to_tick) : base_text_of(""));
    add_next(built, length_or_none(arena, style, piece->girth_tick));
    add_next(built, piece->angle_rad > 0.0 ? units_write_angle(arena, piece->angle_rad)
                                           : base_text_of(""));
    add_next(built, lap_word(piece->left_lap));
    add_next(built, lap_word(piece->right_lap));
    add_next(built, piece->mass_kg > 0.0 ? units_write_decimal(arena, piece->mass_kg, 3)
                                         : base_text_of(""));
    add_next(built, base_text_of(piece->cut_on_site ? "yes" : "no"));
    base_add_char(built, '\n');
}

struct base_text documents_write_pieces_csv(struct base_arena *arena,
                                            const struct solution *solution) {
    struct base_builder built = {.arena = arena};
    base_add_string(&built, "id,kind,hand,size,sheet,count,length,length m,run,from left end,"
                            "to,strip width,angle,lap left,lap right,mass kg,cut on site\n");
    for (size_t i = 0; i < solution->pieces.count; i++) {
        add_piece_row(&built, solution, &solution->pieces.items[i]);
    }
    return base_built(&built);
}

/* ---- summary ------------------------------------------------------------------------------- */

static void add_run(struct base_builder *built, const struct solution *solution, size_t index) {
    struct base_arena *arena = built->arena;
    struct units_style style = solution->shop.style;
    const struct layout_run *run = &solution->layout.runs[index];
    const struct layout_line *line = &solution->layout.lines[run->line];
    base_add_text(built, run->name);
    base_add_string(built, ": ");
    base_add_string(built, profile_of(solution, index)->name);
    base_add_string(built, " half-round gutter, ");
    base_add_text(built, units_write_length(arena, style, run->length_tick));
    base_add_string(built, " long, fall ");
    base_add_text(built, units_write_slope(arena, style, line->slope_1));
    base_add_string(built, ", ");
    const struct joints_run *joints = &solution->joints.runs[index];
    base_add_text(built, count_of(arena, (int64_t)joints->span_count, "length", "lengths"));
    base_add_string(built, ", ");
    base_add_text(
        built, count_of(arena, (int64_t)solution->hang.runs[index].count, "bracket", "brackets"));
    base_add_char(built, '\n');
}

static void add_outlet(struct base_builder *built, const struct solution *solution, size_t index) {
    struct base_arena *arena = built->arena;
    struct units_style style = solution->shop.style;
    const struct layout_outlet *outlet = &solution->layout.outlets[index];
    base_add_string(built, "  ");
    base_add_text(built, outlet->name);
    base_add_string(built, ": ");
    base_add_text(built, units_write_length(arena, style, outlet->x_tick));
    base_add_string(built, " from the left end, ");
    base_add_string(built, solution->shop.pipes[outlet->pipe].name);
    base_add_string(built, " downspout, ");
    base_add_text(built, units_write_flow(arena, style, outlet->flow_m3s));
    base_add_string(built, outlet->passes ? " arrives: passes\n" : " arrives: DOES NOT PASS\n");
}

static void add_house(struct base_builder *built, const struct solution *solution) {
    struct base_arena *arena = built->arena;
    struct units_style style = solution->shop.style;
    base_add_string(built, "Design rain ");
    base_add_text(built, units_write_rain(arena, style, solution->layout.rain_mps));
    base_add_string(built, ", sized by the ");
    base_add_string(built, basis_word(solution->layout.basis));
    base_add_char(built, '\n');
    for (size_t run = 0; run < solution->layout.run_count; run++) {
        add_run(built, solution, run);
        for (size_t i = 0; i < solution->layout.outlet_count; i++) {
            if (solution->layout.outlets[i].run == run) {
                add_outlet(built, solution, i);
            }
        }
    }
}

static void add_findings(struct base_builder *built, struct units_style style,
                         const struct base_issues *issues) {
    static const char *const words[] = {"stop", "must", "should", "note", "assumed"};
    for (size_t i = 0; i < issues->count; i++) {
        base_add_string(built, words[base_issue_severity(issues->items[i].code)]);
        base_add_string(built, ": ");
        base_add_text(built, documents_write_issue(built->arena, style, &issues->items[i]));
        struct base_text mend = documents_write_mend(built->arena, style, &issues->items[i]);
        if (mend.length > 0) {
            base_add_string(built, "; ");
            base_add_text(built, mend);
        }
        base_add_char(built, '\n');
    }
}

struct base_text documents_write_summary(struct base_arena *arena, const struct solution *solution,
                                         const struct base_issues *issues) {
    struct base_builder built = {.arena = arena};
    struct units_style style = solution->shop.style;
    base_add_text(&built, solution->job.title);
    base_add_char(&built, '\n');
    if (solution->has_house) {
        base_add_string(&built, solution->safe ? "" : "NOT SAFE AS DRAWN\n");
        add_house(&built, solution);
    } else {
        base_add_string(&built, "Water not checked: an order by pieces.\n");
    }
    base_add_text(&built, count_of(arena, (int64_t)solution->pieces.count,
                                   "line in the piece list, ", "lines in the piece list, "));
    base_add_text(&built, units_write_mass(arena, style, solution->pieces.mass_kg));
    base_add_char(&built, '\n');
    if (solution->money.priced) {
        base_add_string(&built, "Total ");
        base_add_text(&built, units_write_money(arena, solution->tariff.currency,
                                                solution->money.total_minor,
                                                solution->tariff.minor_digits));
        base_add_string(&built, solution->tariff.has_tax ? "\n" : ", tax not included\n");
    }
    add_findings(&built, style, issues);
    return base_built(&built);
}
