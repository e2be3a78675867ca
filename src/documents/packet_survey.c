/* SPDX-License-Identifier: Apache-2.0 */
/* Site sheet: the way down of each downspout as surveyed, and the gutters as found. */
#include "documents/packet_inside.h"

/* ---- downspouts ---------------------------------------------------------------------------- */

static void add_length(struct documents_sheet *sheet, struct base_builder *text, const char *before,
                       int64_t tick) {
    base_add_string(text, before);
    base_add_text(text, units_write_length(sheet->arena, sheet->solution->shop.style, tick));
}

static void say_offset(struct documents_sheet *sheet, struct base_builder *text,
                       const struct layout_downspout *pipe, int64_t straps) {
    add_length(sheet, text, " downspout; offset ", pipe->offset_tick);
    base_add_string(text, pipe->elbow_rad > 0.0 ? " with two elbows of " : ", straight");
    if (pipe->elbow_rad > 0.0) {
        base_add_text(text, units_write_angle(sheet->arena, pipe->elbow_rad));
    }
    add_length(sheet, text, "; ", pipe->vertical_tick);
    base_add_string(text, " straight at the wall; ");
    base_add_integer(text, straps);
    base_add_string(text, " straps.");
    if (pipe->survey == SIZE_MAX && pipe->elbow_rad > 0.0) {
        base_add_string(text, " This way down was not surveyed: the offset is cut on site.");
    }
}

static void say_belts(struct documents_sheet *sheet, struct base_builder *text,
                      const struct layout_downspout *pipe) {
    int64_t stand_tick = pipe->straights[0].stand_tick;
    if (stand_tick > sheet->solution->shop.wall_clear_tick) {
        add_length(sheet, text, " Standoff straps hold the pipe ", stand_tick);
        base_add_string(text, " off the wall, clear of the belt courses.");
    }
    for (size_t i = 0; i < pipe->jog_count; i++) {
        const struct layout_jog *jog = &pipe->jogs[i];
        base_add_string(text, " Two elbows of ");
        base_add_text(text, units_write_angle(sheet->arena, jog->elbow_rad));
        add_length(sheet, text, " take it out ", jog->offset_tick);
        base_add_string(text, jog->water_table ? " over the water table at "
                                               : " over the belt course at ");
        base_add_text(
            text, units_write_length(sheet->arena, sheet->solution->shop.style, jog->over_tick));
        add_length(sheet, text, " above the ground; below that it stands ",
                   pipe->straights[i + 1].stand_tick);
        base_add_string(text, " off the wall.");
    }
}

/* Source: trade/copper f: mortar joints COMMON PRACTICE, the gasket on pale walls FOUND. */
static const char *wall_words(enum job_wall wall) {
    switch (wall) {
    case JOB_WALL_UNSAID:
        break;
    case JOB_WALL_CLAPBOARD:
        return " Clapboard: screw straps through the boards into studs or blocking.";
    case JOB_WALL_BRICK:
        return " Brick: anchor straps in mortar joints, never in the face of a brick.";
    case JOB_WALL_STUCCO:
        return " Stucco: anchor straps in the wall behind it, a gasket under each, the holes "
               "sealed.";
    case JOB_WALL_STONE:
        return " Stone: anchor straps in mortar joints, a gasket between strap and pale stone.";
    }
    return "";
}

static void say_survey(struct documents_sheet *sheet, struct base_builder *text,
                       const struct job_survey *survey) {
    add_length(sheet, text, " Surveyed: ", survey->ground.tick);
    base_add_string(text, " from roof edge to ground");
    if (survey->foot != JOB_FOOT_UNSAID) {
        base_add_string(text, "; foot: ");
        base_add_string(text, job_foot_word(survey->foot));
    }
    if (survey->boot_inside.given) {
        add_length(sheet, text, ", ", survey->boot_inside.tick);
        base_add_string(text, " inside");
    }
    bool first = true;
    for (int i = 0; i < JOB_NEAR_COUNT; i++) {
        if (survey->near[i]) {
            base_add_string(text, first ? "; near: " : ", ");
            base_add_string(text, job_near_word((enum job_near)i));
            first = false;
        }
    }
    base_add_char(text, '.');
    base_add_string(text, wall_words(survey->wall));
}

static bool say_onto(struct documents_sheet *sheet, struct base_builder *text,
                     const struct layout_outlet *outlet) {
    if (outlet->onto_run == SIZE_MAX) {
        return false;
    }
    base_add_string(text, " downspout, into the gutter of ");
    base_add_text(text, sheet->solution->layout.runs[outlet->onto_run].name);
    add_length(sheet, text, " ", outlet->onto_x_tick);
    base_add_string(text, " from its left end; measured and cut on site.");
    return true;
}

void documents_say_downspout(struct documents_sheet *sheet, size_t index) {
    const struct solution *all = sheet->solution;
    const struct layout_downspout *pipe = &all->layout.downspouts[index];
    const struct layout_outlet *outlet = &all->layout.outlets[index];
    struct base_builder text = {.arena = sheet->arena};
    base_add_text(&text, outlet->name);
    base_add_string(&text, ": ");
    base_add_string(&text, all->shop.pipes[outlet->pipe].name);
    if (!say_onto(sheet, &text, outlet)) {
        if (pipe->measured) {
            say_offset(sheet, &text, pipe, all->hang.straps[index].count);
            say_belts(sheet, &text, pipe);
        } else {
            base_add_string(&text, " downspout, measured and cut on site.");
        }
    }
    if (pipe->survey != SIZE_MAX) {
        say_survey(sheet, &text, &all->job.surveys[pipe->survey]);
    }
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

/* ---- the wood ------------------------------------------------------------------------------ */

struct base_text documents_wood_words(const struct hang_run *run) {
    switch (run->fixing) {
    case HANG_PLUMB:
        break;
    case HANG_WEDGED:
        return base_text_of(
            " The tails are cut square: a wedge goes behind each bracket, its thick "
            "end down, and the fasteners are longer by the wedge.");
    case HANG_ANGLED:
        return base_text_of(" The tails are cut square: the brackets have that angle at their base "
                            "and go straight on the tails' ends.");
    case HANG_SIDE:
        return base_text_of(" The tails' ends are shaped: the brackets' plates go on the tails' "
                            "sides, all on the same hand.");
    }
    return base_text_of(run->wood == JOB_WOOD_CROWN
                            ? " Fix the brackets through the crown into the blocking behind it; a "
                              "moulding alone holds nothing."
                            : "");
}

/* ---- as found ------------------------------------------------------------------------------ */

enum { FOUND_COLUMNS = 5 };

static void add_part(struct base_builder *text, const char *before, struct base_text part) {
    if (part.length > 0) {
        base_add_string(text, text->length > 0 ? ", " : "");
        base_add_string(text, before);
        base_add_text(text, part);
    }
}

static struct base_text length_or_none(struct documents_sheet *sheet,
                                       const struct job_length *length) {
    return length->given
               ? units_write_length(sheet->arena, sheet->solution->shop.style, length->tick)
               : (struct base_text){0};
}

static struct base_text found_place(struct documents_sheet *sheet, const struct job_found *found) {
    struct base_builder text = {.arena = sheet->arena};
    if (found->at.eave.length == 0) {
        return base_text_of("the house");
    }
    base_add_text(&text, found->at.eave);
    if (found->at.edge > 0) {
        base_add_char(&text, ' ');
        base_add_integer(&text, found->at.edge);
    }
    return base_built(&text);
}

static struct base_text found_photos(struct documents_sheet *sheet, const struct job_found *found) {
    struct base_builder text = {.arena = sheet->arena};
    for (size_t i = 0; i < found->photo_count; i++) {
        base_add_string(&text, i == 0 ? "" : ", ");
        base_add_integer(&text, found->photos[i]);
    }
    return base_built(&text);
}

/* "falls 1 1/8" to the right" */
static struct base_text found_fall(struct documents_sheet *sheet, const struct job_found *found) {
    if (!found->levels[0].given || !found->levels[1].given) {
        return (struct base_text){0};
    }
    struct units_style style = sheet->solution->shop.style;
    int64_t fall_tick = found->levels[1].tick - found->levels[0].tick;
    if (fall_tick == 0) {
        return base_text_of("lies level");
    }
    struct base_text size =
        units_write_length(sheet->arena, style, fall_tick < 0 ? -fall_tick : fall_tick);
    return documents_join(sheet, "falls ", size, fall_tick > 0 ? " to the right" : " to the left");
}

static void found_row(struct documents_sheet *sheet, const struct job_found *found,
                      struct draw_cell row[FOUND_COLUMNS]) {
    struct base_builder gutter = {.arena = sheet->arena};
    add_part(&gutter, "", length_or_none(sheet, &found->size));
    add_part(&gutter, "", base_text_of(job_profile_word(found->profile)));
    add_part(&gutter, "", found->metal.text);
    add_part(&gutter, "", found->weight.text);
    add_part(&gutter, "bead ", length_or_none(sheet, &found->bead));
    add_part(&gutter, "joints: ", found->joint.text);
    struct base_builder held = {.arena = sheet->arena};
    add_part(&held, "", found->hanger.text);
    add_part(&held, "every ", length_or_none(sheet, &found->hanger_spacing));
    struct base_builder rest = {.arena = sheet->arena};
    add_part(&rest, "pipe ", length_or_none(sheet, &found->pipe_size));
    add_part(&rest, "", found_fall(sheet, found));
    row[0] = documents_cell(found_place(sheet, found));
    row[1] = documents_cell(base_built(&gutter));
    row[2] = documents_cell(base_built(&held));
    row[3] = documents_cell(base_built(&rest));
    row[4] = documents_cell(found_photos(sheet, found));
}

void documents_say_found(struct documents_sheet *sheet) {
    const struct job *job = &sheet->solution->job;
    if (job->found_count == 0) {
        return;
    }
    const struct draw_column columns[FOUND_COLUMNS] = {
        {24.0, DRAW_START, base_text_of("at")},
        {0.0, DRAW_START, base_text_of("gutter")},
        {44.0, DRAW_START, base_text_of("hangers")},
        {42.0, DRAW_START, base_text_of("downspout and fall")},
        {16.0, DRAW_START, base_text_of("photos")}};
    struct draw_cell *cells =
        base_take(sheet->arena, job->found_count * FOUND_COLUMNS, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t i = 0; i < job->found_count; i++) {
        found_row(sheet, &job->found[i], &cells[i * FOUND_COLUMNS]);
    }
    documents_heading(sheet, "As found");
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = FOUND_COLUMNS,
                                               .row_count = job->found_count});
}
