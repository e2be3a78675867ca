/* SPDX-License-Identifier: Apache-2.0 */
/* The piece table and the plain answer of `solve`. */
#include "documents/documents.h"

/* ---- pieces.csv ------------------------------------------------------------------------------ */

static void add_cell(struct base_builder *out, struct base_text cell) {
    bool quoted = false;
    for (size_t i = 0; i < cell.length; i++) {
        char c = cell.bytes[i];
        quoted = quoted || c == ',' || c == '"' || c == '\n' || c == '\r';
    }
    if (!quoted) {
        base_add_text(out, cell);
        return;
    }
    base_add_char(out, '"');
    for (size_t i = 0; i < cell.length; i++) {
        if (cell.bytes[i] == '"') {
            base_add_char(out, '"');
        }
        base_add_char(out, cell.bytes[i]);
    }
    base_add_char(out, '"');
}

static void add_length_cell(struct base_builder *out, struct units_style style, int64_t tick) {
    base_add_char(out, ',');
    if (tick > 0) {
        add_cell(out, units_write_length(out->arena, style, tick));
    }
}

static void add_piece_row(struct base_builder *out, const struct solution *solution,
                          const struct pieces_piece *piece) {
    struct units_style style = solution->shop.style;
    add_cell(out, piece->id);
    base_add_char(out, ',');
    base_add_string(out, pieces_kind_word(piece->kind));
    base_add_char(out, ',');
    base_add_string(out, pieces_hand_word(piece->hand));
    base_add_char(out, ',');
    add_cell(out, piece->size);
    base_add_char(out, ',');
    base_add_string(out, piece->sheet == NULL ? "" : piece->sheet);
    base_add_char(out, ',');
    base_add_integer(out, piece->count);
    add_length_cell(out, style, piece->length_tick);
    bool on_run = piece->kind == PIECES_GUTTER && piece->run != SIZE_MAX;
    base_add_char(out, ',');
    if (on_run) {
        add_cell(out, units_write_length(out->arena, style, piece->from_tick));
    }
    add_length_cell(out, style, on_run ? piece->to_tick : 0);
    add_length_cell(out, style, piece->girth_tick);
    base_add_char(out, ',');
    if (piece->angle_rad > 0.0) {
        add_cell(out, units_write_angle(out->arena, piece->angle_rad));
    }
    base_add_char(out, ',');
    if (piece->mass_kg > 0.0) {
        add_cell(out, units_write_mass(out->arena, style, piece->mass_kg));
    }
    add_length_cell(out, style, piece->trim_tick);
    base_add_char(out, ',');
    base_add_string(out, pieces_trim_word(piece->trim));
    add_length_cell(out, style, piece->doubt_tick);
    base_add_char(out, ',');
    if (piece->angle_within_rad > 0.0) {
        add_cell(out, units_write_angle(out->arena, piece->angle_within_rad));
    }
    base_add_string(out, piece->doubtful ? ",yes" : ",");
    base_add_char(out, '\n');
}

struct base_text documents_write_pieces_csv(struct base_arena *arena,
                                            const struct solution *solution) {
    struct base_builder out = {.arena = arena};
    base_add_string(&out,
                    "id,kind,hand,size,sheet,count,length,from left end,to,girth,angle,weight,"
                    "left long,cut on site at,length give or take,angle give or take,in doubt\n");
    for (size_t i = 0; i < solution->pieces.count; i++) {
        add_piece_row(&out, solution, &solution->pieces.items[i]);
    }
    return base_built(&out);
}

/* ---- the plain answer ------------------------------------------------------------------------ */

static void add_words(struct base_builder *out, const char *words, struct base_text value) {
    base_add_string(out, words);
    base_add_text(out, value);
}

static void add_left_long(struct base_builder *out, const struct solution *all, size_t run) {
    for (size_t i = 0; i < all->pieces.count; i++) {
        const struct pieces_piece *piece = &all->pieces.items[i];
        if (piece->run == run && piece->trim_tick > 0) {
            add_words(out, ", one of them ",
                      units_write_length(out->arena, all->shop.style, piece->trim_tick));
            base_add_string(out, " longer, to be cut on site");
        }
    }
}

static void add_run_line(struct base_builder *out, const struct solution *all, size_t index) {
    struct units_style style = all->shop.style;
    const struct layout_run *run = &all->layout.runs[index];
    const struct layout_line *line = &all->layout.lines[run->line];
    struct base_arena *arena = out->arena;
    base_add_text(out, run->name);
    add_words(out, ": ", base_text_of(all->shop.profiles[line->profile].name));
    base_add_string(out,
                    all->job.system == UNITS_FT_IN ? " half-round, " : " mm girth half-round, ");
    base_add_text(out, units_write_length(arena, style, run->length_tick));
    base_add_string(out, " long, in");
    const struct joints_run *joints = &all->joints.runs[index];
    for (size_t i = 0; i < joints->span_count; i++) {
        int64_t length_tick = joints->spans[i].to_tick - joints->spans[i].from_tick;
        add_words(out, i == 0 ? " " : " + ", units_write_length(arena, style, length_tick));
    }
    add_left_long(out, all, index);
    base_add_string(out, "; ");
    base_add_integer(out, (int64_t)all->hang.runs[index].count);
    base_add_string(out, all->hang.runs[index].count == 1 ? " bracket" : " brackets");
    add_words(out, "; lip below roof edge ", units_write_length(arena, style, run->lip_high_tick));
    add_words(out, " to ", units_write_length(arena, style, run->lip_low_tick));
    base_add_char(out, '\n');
}

static void add_outlet_line(struct base_builder *out, const struct solution *all, size_t index) {
    struct units_style style = all->shop.style;
    const struct layout_outlet *outlet = &all->layout.outlets[index];
    base_add_text(out, outlet->name);
    add_words(out, ": ", base_text_of(all->shop.pipes[outlet->pipe].name));
    add_words(out, " downspout, ", units_write_length(out->arena, style, outlet->x_tick));
    add_words(out, " from the left end; ", units_write_flow(out->arena, style, outlet->flow_m3s));
    add_words(out, " arrives, the outlet passes ",
              units_write_flow(out->arena, style, outlet->outlet_flow_m3s));
    base_add_string(out, outlet->strained ? " strained\n" : " unstrained\n");
}

static void add_money_lines(struct base_builder *out, const struct solution *all) {
    if (!all->money.priced) {
        base_add_string(out, "no total: not everything is priced\n");
        return;
    }
    add_words(out, "total ",
              units_write_money(out->arena, all->tariff.currency, all->money.total_minor,
                                all->tariff.minor_digits));
    add_words(out, ", deposit ",
              units_write_money(out->arena, all->tariff.currency, all->money.deposit_minor,
                                all->tariff.minor_digits));
    base_add_char(out, '\n');
}

struct base_text documents_write_summary(struct base_arena *arena, const struct solution *all,
                                         const struct base_issues *issues) {
    struct base_builder out = {.arena = arena};
    base_add_text(&out, all->job.title);
    base_add_string(&out, all->safe ? "\n" : ": not safe as drawn\n");
    for (size_t i = 0; i < all->layout.run_count; i++) {
        add_run_line(&out, all, i);
    }
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        add_outlet_line(&out, all, i);
    }
    if (!all->has_house) {
        base_add_integer(&out, (int64_t)all->pieces.count);
        base_add_string(&out, all->pieces.count == 1 ? " piece" : " pieces");
        base_add_string(&out, " listed; water not checked\n");
    }
    add_money_lines(&out, all);
    if (base_count_severity(issues, BASE_SEVERITY_ASSUMED) > 0) {
        base_add_string(&out, "assumed:\n");
    }
    for (size_t i = 0; i < issues->count; i++) {
        if (base_issue_severity(issues->items[i].code) == BASE_SEVERITY_ASSUMED) {
            add_words(&out, "  ", documents_write_issue(arena, all->shop.style, &issues->items[i]));
            base_add_char(&out, '\n');
        }
    }
    return base_built(&out);
}
