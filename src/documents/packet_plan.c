/* SPDX-License-Identifier: Apache-2.0 */
/* The plan: roof from above, eaves, outlets, high points and where the water runs. */
#include <math.h>

#include "documents/packet_inside.h"

struct view {
    struct documents_sheet *sheet;
    struct draw_boxes boxes;
    struct draw_box bounds;
    double scale_1;
    struct geometry_point low;
    double left_mm;
    double bottom_mm;
};

static struct draw_point on_paper(const struct view *view, struct geometry_point at) {
    double mm = 1000.0 / view->scale_1;
    return (struct draw_point){view->left_mm + (at.x_m - view->low.x_m) * mm,
                               view->bottom_mm - (at.y_m - view->low.y_m) * mm};
}

/* Unit vector along an eave, and inwards from it (to the left of the walk). */
static struct geometry_point along(const struct roof_eave *eave) {
    double length_m = fmax(geometry_distance(eave->from, eave->to), 1e-9);
    return geometry_scale(geometry_subtract(eave->to, eave->from), 1.0 / length_m);
}

static struct geometry_point inward(const struct roof_eave *eave) {
    struct geometry_point u = along(eave);
    return (struct geometry_point){-u.y_m, u.x_m};
}

static struct geometry_point place(const struct roof_eave *eave, double x_m, double in_m) {
    return geometry_add(geometry_add(eave->from, geometry_scale(along(eave), x_m)),
                        geometry_scale(inward(eave), in_m));
}

static void stretch(struct geometry_point *low, struct geometry_point *high,
                    struct geometry_point at) {
    low->x_m = fmin(low->x_m, at.x_m);
    low->y_m = fmin(low->y_m, at.y_m);
    high->x_m = fmax(high->x_m, at.x_m);
    high->y_m = fmax(high->y_m, at.y_m);
}

static void find_bounds(const struct roof *roof, struct geometry_point *low,
                        struct geometry_point *high) {
    *low = (struct geometry_point){1e9, 1e9};
    *high = (struct geometry_point){-1e9, -1e9};
    for (size_t i = 0; i < roof->eave_count; i++) {
        const struct roof_eave *eave = &roof->eaves[i];
        for (size_t k = 0; k < eave->knot_count; k++) {
            stretch(low, high, place(eave, eave->knots[k].x_m, 0.0));
            stretch(low, high, place(eave, eave->knots[k].x_m, eave->knots[k].width_m));
        }
    }
    for (size_t i = 0; i < roof->face_count; i++) {
        for (size_t k = 0; k < roof->faces[i].outline.count; k++) {
            stretch(low, high, roof->faces[i].outline.points[k]);
        }
    }
}

/* The largest usual scale at which the house fits its place on the page. */
static double choose_scale(const struct documents_sheet *sheet, struct geometry_point size_m,
                           double width_mm, double height_mm) {
    static const double inches[] = {24, 32, 48, 64, 96, 128, 192, 384, 768};
    static const double metric[] = {20, 25, 50, 75, 100, 200, 250, 500, 1000};
    const double *scales = sheet->solution->job.system == UNITS_MM ? metric : inches;
    for (size_t i = 0; i < sizeof inches / sizeof inches[0]; i++) {
        if (size_m.x_m * 1000.0 / scales[i] <= width_mm &&
            size_m.y_m * 1000.0 / scales[i] <= height_mm) {
            return scales[i];
        }
    }
    return 2000.0;
}

/* Water runs down the hatching: lines square to the eave. An edge where no other line will be drawn
 * is drawn too. */
static void draw_area(struct view *view, const struct geometry_polygon *area,
                      struct geometry_point down, bool edged) {
    struct draw_point *points = base_take(view->sheet->arena, area->count, sizeof *points);
    if (points == NULL || area->count < 3) {
        return;
    }
    for (size_t i = 0; i < area->count; i++) {
        points[i] = on_paper(view, area->points[i]);
    }
    struct draw_look look = {.width_mm = edged ? 0.1 : 0.0,
                             .ink = DRAW_LIGHT,
                             .hatched = true,
                             .hatch_rad = atan2(down.y_m, down.x_m),
                             .hatch_gap_mm = 3.0};
    draw_add_polygon(view->sheet->document, view->sheet->page, points, area->count, look);
}

/* Round an outside corner, what lies on the eave's own side of the hip. */
static void cut_at(struct view *view, const struct roof_eave *own, size_t neighbour,
                   const struct job_run_end *end, struct geometry_polygon *area) {
    const struct roof *roof = &view->sheet->solution->roof;
    if (neighbour == SIZE_MAX || end->kind != JOB_END_OUTSIDE) {
        return;
    }
    const struct roof_eave *other = &roof->eaves[neighbour];
    struct geometry_point corner = end == &own->to_end ? own->to : own->from;
    struct geometry_point rise = geometry_subtract(geometry_scale(inward(other), other->pitch_1),
                                                   geometry_scale(inward(own), own->pitch_1));
    struct geometry_plane keep = {rise.x_m, rise.y_m, -geometry_dot(rise, corner)};
    struct geometry_polygon kept = {0};
    if (geometry_clip(view->sheet->arena, area, keep, &kept)) {
        *area = kept;
    }
}

static void draw_roof(struct view *view) {
    const struct roof *roof = &view->sheet->solution->roof;
    for (size_t i = 0; i < roof->face_count; i++) {
        struct geometry_plane plane = roof->faces[i].plane;
        if (hypot(plane.a_1, plane.b_1) > 1e-6) { /* a flat deck has no slope to show */
            draw_area(view, &roof->faces[i].outline, (struct geometry_point){plane.a_1, plane.b_1},
                      false);
        }
    }
    for (size_t i = 0; roof->face_count == 0 && i < roof->eave_count; i++) {
        const struct roof_eave *eave = &roof->eaves[i];
        double end_m = units_m_of_tick(eave->length_tick);
        double deep_m = eave->knot_count > 0 ? eave->knots[0].width_m : 0.0;
        struct geometry_point corners[4] = {place(eave, 0.0, 0.0), place(eave, end_m, 0.0),
                                            place(eave, end_m, deep_m), place(eave, 0.0, deep_m)};
        struct geometry_polygon area = {corners, 4};
        cut_at(view, eave, eave->previous, &eave->from_end, &area);
        cut_at(view, eave, eave->next, &eave->to_end, &area);
        draw_area(view, &area, inward(eave), true);
    }
}

static const struct {
    const char *word;
    enum draw_stroke stroke;
    double width_mm;
} LINE_LOOKS[] = {{"eave with gutter", DRAW_SOLID, 0.8},
                  {"ridge", DRAW_SOLID, 0.35},
                  {"hip", DRAW_DASHED, 0.3},
                  {"valley", DRAW_CENTRE, 0.35},
                  {"gable", DRAW_SOLID, 0.15},
                  {"wall", DRAW_DOTTED, 0.35},
                  {"change of pitch", DRAW_PHANTOM, 0.18},
                  {"eave without gutter", DRAW_DASHED, 0.7}};

static void draw_lines(struct view *view, bool used[ROOF_LINE_KINDS]) {
    const struct roof *roof = &view->sheet->solution->roof;
    for (size_t i = 0; i < roof->line_count; i++) {
        const struct roof_line *line = &roof->lines[i];
        used[line->kind] = true;
        draw_add_line(view->sheet->document, view->sheet->page, on_paper(view, line->from),
                      on_paper(view, line->to), LINE_LOOKS[line->kind].width_mm,
                      LINE_LOOKS[line->kind].stroke, DRAW_BLACK);
        draw_take_line(&view->boxes, on_paper(view, line->from), on_paper(view, line->to));
    }
    for (size_t i = 0; i < roof->eave_count; i++) {
        const struct roof_eave *eave = &roof->eaves[i];
        used[ROOF_LINE_EAVE] = true;
        draw_add_line(view->sheet->document, view->sheet->page, on_paper(view, eave->from),
                      on_paper(view, eave->to), LINE_LOOKS[ROOF_LINE_EAVE].width_mm, DRAW_SOLID,
                      DRAW_BLACK);
        draw_take_line(&view->boxes, on_paper(view, eave->from), on_paper(view, eave->to));
    }
}

static void call_out(struct view *view, struct geometry_point at, struct base_text text,
                     enum draw_face face) {
    struct draw_callout callout = {.at = on_paper(view, at),
                                   .clear_mm = 2.0,
                                   .bounds = view->bounds,
                                   .label = draw_label_of(text),
                                   .type = {.size_mm = 3.2, .face = face, .cleared = true}};
    (void)draw_add_callout(view->sheet->document, view->sheet->page, &view->boxes, &callout);
}

static void draw_outlets(struct view *view) {
    const struct solution *all = view->sheet->solution;
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        const struct layout_run *run = &all->layout.runs[all->layout.outlets[i].run];
        const struct roof_eave *eave = &all->roof.eaves[run->eave];
        double x_m = units_m_of_tick(all->layout.outlets[i].x_tick - run->shift_tick);
        struct draw_point at = on_paper(view, place(eave, x_m, -0.05));
        draw_add_circle(view->sheet->document, view->sheet->page, at, 1.3,
                        (struct draw_look){.width_mm = 0.4, .filled = true, .fill = DRAW_WHITE});
        draw_take_box(&view->boxes, (struct draw_box){at.x_mm - 1.5, at.y_mm - 1.5, at.x_mm + 1.5,
                                                      at.y_mm + 1.5});
    }
}

static void draw_scuppers(struct view *view) {
    static const double HALF_MM = 1.2;
    const struct roof *roof = &view->sheet->solution->roof;
    for (size_t i = 0; i < roof->link_count; i++) {
        if (!roof->links[i].scupper) {
            continue;
        }
        struct draw_point at = on_paper(view, roof->links[i].at);
        struct draw_point square[4] = {{at.x_mm - HALF_MM, at.y_mm - HALF_MM},
                                       {at.x_mm + HALF_MM, at.y_mm - HALF_MM},
                                       {at.x_mm + HALF_MM, at.y_mm + HALF_MM},
                                       {at.x_mm - HALF_MM, at.y_mm + HALF_MM}};
        draw_add_polygon(view->sheet->document, view->sheet->page, square, 4,
                         (struct draw_look){.width_mm = 0.4, .filled = true, .fill = DRAW_WHITE});
        draw_take_box(&view->boxes, (struct draw_box){square[0].x_mm, square[0].y_mm,
                                                      square[2].x_mm, square[2].y_mm});
    }
}

/* Fall: an arrow along each reach, just outside the eave, from still end to outlet. */
static void draw_fall(struct view *view, const struct layout_reach *reach) {
    const struct solution *all = view->sheet->solution;
    const struct layout_outlet *outlet = &all->layout.outlets[reach->outlet];
    const struct layout_run *run = &all->layout.runs[outlet->run];
    const struct roof_eave *eave = &all->roof.eaves[run->eave];
    double tip_m = units_m_of_tick(outlet->x_tick - run->shift_tick);
    double room_m = reach->towards_right ? tip_m : units_m_of_tick(eave->length_tick) - tip_m;
    double shaft_m = fmin(room_m * 0.5, 8.0 * view->scale_1 / 1000.0);
    double clear_m = 2.2 * view->scale_1 / 1000.0;
    double back_1 = reach->towards_right ? -1.0 : 1.0;
    double out_m = -3.0 * view->scale_1 / 1000.0;
    if (shaft_m < clear_m) {
        return;
    }
    double head_m = 1.2 * view->scale_1 / 1000.0;
    double start_m = tip_m + back_1 * clear_m;
    struct geometry_point tip = place(eave, start_m, out_m);
    struct geometry_point tail = place(eave, start_m + back_1 * shaft_m, out_m);
    struct geometry_point barbs[2] = {place(eave, start_m + back_1 * head_m, out_m + head_m / 2),
                                      place(eave, start_m + back_1 * head_m, out_m - head_m / 2)};
    struct draw_document *document = view->sheet->document;
    draw_add_line(document, view->sheet->page, on_paper(view, tail), on_paper(view, tip), 0.25,
                  DRAW_SOLID, DRAW_BLACK);
    for (int i = 0; i < 2; i++) {
        draw_add_line(document, view->sheet->page, on_paper(view, barbs[i]), on_paper(view, tip),
                      0.25, DRAW_SOLID, DRAW_BLACK);
    }
    draw_take_line(&view->boxes, on_paper(view, tail), on_paper(view, tip));
}

/* Shorter on paper than this, an eave is called by its name alone; the table says the rest. */
static const double SHORT_MM = 14.0;

static void label_eaves(struct view *view) {
    const struct solution *all = view->sheet->solution;
    struct units_style style = all->shop.style;
    for (size_t i = 0; i < all->layout.run_count; i++) {
        const struct roof_eave *eave = &all->roof.eaves[all->layout.runs[i].eave];
        struct base_text parts[] = {
            eave->name, base_text_of(", "),
            units_write_length(view->sheet->arena, style, eave->length_tick), base_text_of(", "),
            units_write_area(view->sheet->arena, style, eave->plan_area_m2)};
        double middle_m = units_m_of_tick(eave->length_tick) / 2;
        bool is_short = units_m_of_tick(eave->length_tick) * 1000.0 / view->scale_1 < SHORT_MM;
        double out_m = -2.0 * view->scale_1 / 1000.0;
        call_out(view, place(eave, middle_m, out_m),
                 base_join(view->sheet->arena, is_short ? 1 : 5, parts), DRAW_BOLD);
    }
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        const struct layout_run *run = &all->layout.runs[all->layout.outlets[i].run];
        const struct roof_eave *eave = &all->roof.eaves[run->eave];
        double x_m = units_m_of_tick(all->layout.outlets[i].x_tick - run->shift_tick);
        call_out(view, place(eave, x_m, -0.05), all->layout.outlets[i].name, DRAW_REGULAR);
    }
    for (size_t i = 0; i < all->layout.high_point_count; i++) {
        const struct layout_run *run = &all->layout.runs[all->layout.high_points[i].run];
        const struct roof_eave *eave = &all->roof.eaves[run->eave];
        double x_m = units_m_of_tick(all->layout.high_points[i].x_tick - run->shift_tick);
        call_out(view, place(eave, x_m, 0.0), base_text_of("high point"), DRAW_ITALIC);
    }
    for (size_t i = 0; i < all->roof.link_count; i++) {
        if (all->roof.links[i].scupper) {
            call_out(view, all->roof.links[i].at, base_text_of("scupper"), DRAW_REGULAR);
        }
    }
}

/* What each kind of line means, by a sample and its word. */
static void draw_key(struct view *view, const bool used[ROOF_LINE_KINDS]) {
    struct documents_sheet *sheet = view->sheet;
    double x_mm = DOCUMENTS_MARGIN_MM;
    double y_mm = sheet->y_mm;
    for (int kind = 0; kind < ROOF_LINE_KINDS; kind++) {
        if (!used[kind]) {
            continue;
        }
        struct base_text word = base_text_of(LINE_LOOKS[kind].word);
        double wide_mm = 14.0 + draw_text_width(word, 3.2, DRAW_REGULAR);
        if (x_mm + wide_mm > sheet->page->width_mm - DOCUMENTS_MARGIN_MM) {
            x_mm = DOCUMENTS_MARGIN_MM;
            y_mm += 6.0;
        }
        draw_add_line(sheet->document, sheet->page, (struct draw_point){x_mm, y_mm - 1.0},
                      (struct draw_point){x_mm + 12.0, y_mm - 1.0}, LINE_LOOKS[kind].width_mm,
                      LINE_LOOKS[kind].stroke, DRAW_BLACK);
        draw_add_text(sheet->document, sheet->page, (struct draw_point){x_mm + 14.0, y_mm}, word,
                      3.2, DRAW_REGULAR, DRAW_START, DRAW_BLACK);
        x_mm += wide_mm + 6.0;
    }
    sheet->y_mm = y_mm + 5.0;
    documents_paragraph(
        sheet,
        base_text_of("Areas are plan areas that drain straight to the eave; the "
                     "hatching runs down the slope; circles are outlets, arrows show "
                     "which way a gutter falls."),
        DRAW_REGULAR);
}

/* A tape does not know hips: two runs meet round an outside corner. */
static bool has_taped_hips(const struct roof *roof) {
    for (size_t i = 0; i < roof->eave_count; i++) {
        if (roof->eaves[i].run != SIZE_MAX && roof->eaves[i].to_end.kind == JOB_END_OUTSIDE) {
            return true;
        }
    }
    return false;
}

static double find_poured(const struct roof *roof, struct base_text onto) {
    double sum_m2 = 0;
    for (size_t i = 0; i < roof->pour_count; i++) {
        sum_m2 += base_text_equal(roof->pours[i].onto, onto) ? roof->pours[i].plan_area_m2 : 0;
    }
    return sum_m2;
}

/* Every eave with what drains to it, and what pours in beside: they add up to the whole roof. */
static void list_eaves(struct documents_sheet *sheet) {
    enum { COLUMNS = 4 };
    const struct roof *roof = &sheet->solution->roof;
    struct units_style style = sheet->solution->shop.style;
    const struct draw_column columns[COLUMNS] = {
        {0.0, DRAW_START, base_text_of("eave")},
        {34.0, DRAW_END, base_text_of("length")},
        {44.0, DRAW_END, base_text_of("drains straight to it")},
        {44.0, DRAW_END, base_text_of("pours in at a place")}};
    size_t rows = roof->eave_count + 1;
    struct draw_cell *cells = base_take(sheet->arena, rows * COLUMNS, sizeof *cells);
    if (cells == NULL) {
        return;
    }
    double straight_m2 = 0;
    double poured_m2 = 0;
    double ungathered_m2 = roof->ground_plan_area_m2 + roof->stray_plan_area_m2;
    const char *sum_words = ungathered_m2 > 0.01     ? "all gutters: "
                            : has_taped_hips(roof)   ? "all eaves together: "
                            : roof->wall_area_m2 > 0 ? "roof in plan and walls: "
                                                     : "whole roof, in plan: ";
    for (size_t i = 0; i < roof->eave_count; i++) {
        const struct roof_eave *eave = &roof->eaves[i];
        double pour_m2 = find_poured(roof, eave->name);
        struct draw_cell *row = &cells[i * COLUMNS];
        row[0] = documents_cell(eave->name);
        row[1] = documents_length_cell(sheet, eave->length_tick);
        row[2] = documents_cell(units_write_area(sheet->arena, style, eave->plan_area_m2));
        row[3] = documents_cell(pour_m2 > 0 ? units_write_area(sheet->arena, style, pour_m2)
                                            : base_text_of("\xe2\x80\x93"));
        straight_m2 += eave->plan_area_m2;
        poured_m2 += pour_m2;
    }
    struct draw_cell *sums = &cells[roof->eave_count * COLUMNS];
    sums[0] = documents_cell(documents_join(
        sheet, sum_words, units_write_area(sheet->arena, style, straight_m2 + poured_m2), ""));
    sums[1] = documents_cell(base_text_of(""));
    sums[2] = documents_cell(units_write_area(sheet->arena, style, straight_m2));
    sums[3] = documents_cell(units_write_area(sheet->arena, style, poured_m2));
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = COLUMNS,
                                               .row_count = rows,
                                               .total_rows = 1});
}

/* What of the areas is no roof. */
static void say_walls(struct documents_sheet *sheet) {
    static const char *const RULES[] = {[JOB_WALL_RAIN_HALF] = "half of their area",
                                        [JOB_WALL_RAIN_HALF_10_M] =
                                            "half of their area, no more than 10 m of their height",
                                        [JOB_WALL_RAIN_QUARTER] = "a quarter of their area",
                                        [JOB_WALL_RAIN_NONE] = "nothing"};
    const struct solution *all = sheet->solution;
    if (all->roof.wall_area_m2 > GEOMETRY_EVENT_M) {
        struct base_text parts[] = {
            base_text_of("Of these areas "),
            units_write_area(sheet->arena, all->shop.style, all->roof.wall_area_m2),
            base_text_of(" stands for walls above roofs, for rain that wind drives against them: "),
            base_text_of(RULES[all->job.wall_rain]), base_text_of(".")};
        documents_paragraph(sheet, base_join(sheet->arena, 5, parts), DRAW_REGULAR);
    }
}

static void list_pours(struct documents_sheet *sheet) {
    const struct roof *roof = &sheet->solution->roof;
    struct units_style style = sheet->solution->shop.style;
    for (size_t i = 0; i < roof->pour_count; i++) {
        struct base_text parts[] = {
            roof->pours[i].from,
            base_text_of(" pours the water of "),
            units_write_area(sheet->arena, style, roof->pours[i].plan_area_m2),
            base_text_of(" into "),
            roof->pours[i].onto,
            base_text_of(".")};
        documents_paragraph(sheet, base_join(sheet->arena, 6, parts), DRAW_REGULAR);
    }
}

void documents_draw_plan_page(struct documents_sheet *sheet) {
    documents_new_page(sheet, "Plan");
    if (sheet->page == NULL) {
        return;
    }
    struct geometry_point low;
    struct geometry_point high;
    find_bounds(&sheet->solution->roof, &low, &high);
    double width_mm = documents_width(sheet) - 50.0; /* labels stand at both sides */
    double height_mm = 120.0;
    struct view view = {.sheet = sheet, .boxes = {.arena = sheet->arena}, .low = low};
    struct geometry_point size = geometry_subtract(high, low);
    view.scale_1 = choose_scale(sheet, size, width_mm, height_mm);
    double drawn_mm = size.x_m * 1000.0 / view.scale_1;
    double tall_mm = size.y_m * 1000.0 / view.scale_1;
    view.left_mm = sheet->page->width_mm / 2 - drawn_mm / 2;
    view.bottom_mm = sheet->y_mm + 16.0 + tall_mm;
    view.bounds =
        (struct draw_box){DOCUMENTS_MARGIN_MM, sheet->y_mm,
                          sheet->page->width_mm - DOCUMENTS_MARGIN_MM, view.bottom_mm + 22.0};
    bool used[ROOF_LINE_KINDS] = {false};
    draw_roof(&view);
    draw_lines(&view, used);
    draw_outlets(&view);
    draw_scuppers(&view);
    for (size_t i = 0; i < sheet->solution->layout.reach_count; i++) {
        draw_fall(&view, &sheet->solution->layout.reaches[i]);
    }
    label_eaves(&view);
    sheet->y_mm = view.bottom_mm + 34.0;
    struct draw_box bar = draw_add_scale_bar(
        sheet->document, sheet->page,
        (struct draw_scale_bar){.at = {DOCUMENTS_MARGIN_MM, sheet->y_mm},
                                .scale_1 = view.scale_1,
                                .metric = sheet->solution->job.system == UNITS_MM});
    documents_say_scale(sheet, view.scale_1, bar.right_mm);
    sheet->y_mm = bar.bottom_mm + 8.0;
    draw_key(&view, used);
    if (has_taped_hips(&sheet->solution->roof)) {
        documents_paragraph(sheet,
                            base_text_of("Runs by the tape are counted as deep as they were said "
                                         "from end to end: by a hip that is more than comes down."),
                            DRAW_REGULAR);
    }
    list_eaves(sheet);
    say_walls(sheet);
    list_pours(sheet);
    documents_list_drains(sheet);
}
