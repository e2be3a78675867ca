/* SPDX-License-Identifier: Apache-2.0 */
/* The water page: whether the gutters catch the water, in a table and in small sections. */
#include <math.h>

#include "documents/packet_inside.h"

enum { CATCH_COLUMNS = 6, SECTIONS_ACROSS = 6, ARC_POINTS = 25, PATH_POINTS = 13 };

static const char *const PLACES[] = {"behind it", "back third", "past the third", "over the lip"};

static struct base_text length_words(struct documents_sheet *sheet, double length_m) {
    return documents_length(sheet, units_tick_of_m(length_m));
}

/* "13/16" out, back third" */
static struct base_text storm_words(struct documents_sheet *sheet,
                                    const struct hydraulics_landing *landing) {
    if (landing->place == HYDRAULICS_LANDS_BEHIND) {
        return base_text_of("creeps behind it");
    }
    return documents_join(
        sheet, "", length_words(sheet, landing->out_m),
        documents_join(sheet, " out, ", base_text_of(PLACES[landing->place]), "").bytes);
}

static void catch_table(struct documents_sheet *sheet) {
    const struct layout *layout = &sheet->solution->layout;
    const struct draw_column columns[CATCH_COLUMNS] = {
        {0.0, DRAW_START, base_text_of("gutter")},
        {38.0, DRAW_START, base_text_of("storm, high end")},
        {38.0, DRAW_START, base_text_of("storm, low end")},
        {26.0, DRAW_START, base_text_of("drizzle")},
        {20.0, DRAW_END, base_text_of("open")},
        {28.0, DRAW_END, base_text_of("apron advised")}};
    struct draw_cell *cells =
        base_take(sheet->arena, layout->run_count * CATCH_COLUMNS, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    for (size_t i = 0; i < layout->run_count; i++) {
        const struct layout_catch *caught = &layout->runs[i].caught;
        struct draw_cell *row = &cells[i * CATCH_COLUMNS];
        row[0] = documents_cell(layout->runs[i].name);
        row[1] = documents_cell(storm_words(sheet, &caught->high.storm));
        row[2] = documents_cell(storm_words(sheet, &caught->low.storm));
        row[3] = documents_cell(base_text_of(PLACES[caught->low.drizzle.place]));
        row[4] = documents_cell(documents_percent(sheet, caught->low.open_1));
        row[5] = caught->wants_apron ? documents_length_cell(sheet, caught->apron_tick)
                                     : documents_cell(base_text_of("\xe2\x80\x93"));
    }
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = CATCH_COLUMNS,
                                               .row_count = layout->run_count});
}

/* ---- sections ---------------------------------------------------------------------------------
 */

/* Half a circle from the back to the lip, with its straight sides. */
static void draw_gutter(struct documents_sheet *sheet, const struct documents_frame *frame,
                        const struct layout_run *run) {
    static const double half_turn_rad = 3.14159265358979323846;
    const struct solution *all = sheet->solution;
    const struct section_gutter *section =
        &all->shop.profiles[all->layout.lines[run->line].profile].section;
    const struct hydraulics_trough *trough = &run->caught.low_trough;
    double radius_m = section->inside_diameter_m / 2;
    double middle_m = (trough->back_out_m + trough->lip_out_m) / 2;
    double spring_m = trough->lip_drop_m + section->straight_m;
    struct draw_point points[ARC_POINTS + 2];
    points[0] = documents_at(frame, trough->back_out_m, trough->back_drop_m);
    for (int i = 0; i < ARC_POINTS; i++) {
        double turn_rad = half_turn_rad * i / (ARC_POINTS - 1);
        points[i + 1] = documents_at(frame, middle_m - radius_m * cos(turn_rad),
                                     spring_m + radius_m * sin(turn_rad));
    }
    points[ARC_POINTS + 1] = documents_at(frame, trough->lip_out_m, trough->lip_drop_m);
    struct draw_look metal = {.ink = DRAW_COPPER, .width_mm = 0.5};
    draw_add_polyline(sheet->document, sheet->page, points, ARC_POINTS + 2, metal);
    double bead_m = section->bead_diameter_m / 2;
    draw_add_circle(sheet->document, sheet->page,
                    documents_at(frame, trough->lip_out_m + bead_m, trough->lip_drop_m),
                    bead_m * frame->scale_1, metal);
}

/* The sheet of the storm; one that creeps back hangs from the edge. */
static void draw_path(struct documents_sheet *sheet, const struct documents_frame *frame,
                      const struct layout_catch *caught) {
    const struct hydraulics_catch *low = &caught->low;
    struct draw_look water = {.ink = DRAW_WATER, .width_mm = 0.4};
    if (low->storm.place == HYDRAULICS_LANDS_BEHIND) {
        struct draw_point creeps[] = {documents_at(frame, 0.0, 0.0),
                                      documents_at(frame, -0.006, 0.006),
                                      documents_at(frame, caught->low_trough.back_out_m - 0.006,
                                                   caught->low_trough.back_drop_m)};
        water.stroke = DRAW_DASHED;
        draw_add_polyline(sheet->document, sheet->page, creeps, 3, water);
        return;
    }
    struct draw_point points[PATH_POINTS];
    for (int i = 0; i < PATH_POINTS; i++) {
        double out_m = low->storm.out_m * i / (PATH_POINTS - 1);
        double down_m = hydraulics_path_drop(&low->storm_sheet, caught->edge.pitch_1, out_m);
        points[i] = documents_at(frame, out_m, down_m);
    }
    draw_add_polyline(sheet->document, sheet->page, points, PATH_POINTS, water);
}

static void draw_section(struct documents_sheet *sheet, const struct documents_frame *frame,
                         const struct layout_run *run) {
    static const double roof_m = 0.09; /* of it shown */
    static const double line_m = 0.20; /* of its line carried on, to see the lip below it */
    double pitch_1 = run->caught.edge.pitch_1;
    double shown_m = pitch_1 * roof_m > 0.08 ? 0.08 / pitch_1 : roof_m;
    draw_add_line(sheet->document, sheet->page, documents_at(frame, -shown_m, -shown_m * pitch_1),
                  documents_at(frame, 0.0, 0.0), 0.7, DRAW_SOLID, DRAW_BLACK);
    double on_m = pitch_1 * line_m > 0.10 ? 0.10 / pitch_1 : line_m;
    draw_add_line(sheet->document, sheet->page, documents_at(frame, 0.0, 0.0),
                  documents_at(frame, on_m, on_m * pitch_1), 0.13, DRAW_DASHED, DRAW_GREY);
    draw_gutter(sheet, frame, run);
    draw_path(sheet, frame, &run->caught);
}

static void draw_sections(struct documents_sheet *sheet) {
    static const double high_mm = 44.0;
    static const double above_mm = 13.0;
    static const double scale_1 = 100.0; /* 1:10 */
    const struct layout *layout = &sheet->solution->layout;
    double across_mm = documents_width(sheet) / SECTIONS_ACROSS;
    for (size_t i = 0; i < layout->run_count && sheet->page != NULL; i++) {
        size_t column = i % SECTIONS_ACROSS;
        if (column == 0 && sheet->y_mm + high_mm > documents_bottom(sheet)) {
            documents_new_page(sheet, sheet->title.bytes);
        }
        struct documents_frame frame = {DOCUMENTS_MARGIN_MM + across_mm * ((double)column + 0.3),
                                        sheet->y_mm + above_mm, scale_1};
        draw_section(sheet, &frame, &layout->runs[i]);
        struct draw_point name = {DOCUMENTS_MARGIN_MM + across_mm * (double)column,
                                  sheet->y_mm + high_mm - 4.0};
        draw_add_text(sheet->document, sheet->page, name, layout->runs[i].name, 3.2, DRAW_REGULAR,
                      DRAW_START, DRAW_BLACK);
        if (column + 1 == SECTIONS_ACROSS || i + 1 == layout->run_count) {
            sheet->y_mm += high_mm;
        }
    }
}

static void say_valleys(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    for (size_t i = 0; i < all->roof.pour_count; i++) {
        const struct layout_valley *valley = &all->layout.valleys[i];
        if (valley->run == SIZE_MAX) {
            continue;
        }
        struct base_builder text = {.arena = sheet->arena};
        base_add_text(&text, all->roof.pours[i].from);
        base_add_string(&text, ": ");
        base_add_text(&text, units_write_flow(sheet->arena, all->shop.style, valley->flow_m3s));
        base_add_string(&text, " land ");
        base_add_text(&text, length_words(sheet, valley->landing.out_m));
        base_add_string(&text, " out over ");
        base_add_text(&text, all->layout.runs[valley->run].name);
        base_add_string(&text, ", whose lip stands ");
        base_add_text(&text, length_words(sheet, valley->lip_m));
        bool is_made = all->job.wants_splash_pieces;
        base_add_string(&text, !valley->wants_splash ? " out."
                               : is_made ? " out: a splash piece stands on the lip there."
                                         : " out: a splash piece on the lip is advised.");
        documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
    }
}

void documents_draw_catch(struct documents_sheet *sheet) {
    /* the table stays with its words */
    double needed_mm = 40.0 + 7.5 * (double)sheet->solution->layout.run_count;
    if (sheet->y_mm + needed_mm > documents_bottom(sheet)) {
        documents_new_page(sheet, sheet->title.bytes);
    }
    documents_heading(sheet, "Whether it catches the water");
    documents_paragraph(
        sheet,
        base_text_of("Where the sheet off the roof comes down to the lip's level, out from the "
                     "roof edge, in the design storm; a drizzle drops straight off drip metal and "
                     "creeps back where none is said. Open: the gutter's width ahead of the roof "
                     "edge. Aprons and splash pieces are in the list of pieces, and priced, only "
                     "where the job asks for them."),
        DRAW_REGULAR);
    catch_table(sheet);
    say_valleys(sheet);
    documents_paragraph(sheet,
                        base_text_of("Sections at each gutter's low end, 1:10: roof edge, its line "
                                     "carried on (dashed), gutter, water of the design storm."),
                        DRAW_REGULAR);
    draw_sections(sheet);
}
