/* SPDX-License-Identifier: Apache-2.0 */
/* One elevation a run, as seen from the ground facing the house, and its water by every rule. */
#include <math.h>

#include "documents/packet_inside.h"

struct elevation {
    struct documents_sheet *sheet;
    size_t run;
    double left_mm;
    double top_mm; /* of the gutter, at the lip */
    double deep_mm;
    double scale_1;
};

static double paper_x(const struct elevation *view, int64_t x_tick) {
    return view->left_mm + units_m_of_tick(x_tick) * 1000.0 / view->scale_1;
}

/* many because they are one measure */
static void line(const struct elevation *view, double x0_mm, double y0_mm, double x1_mm,
                 double y1_mm, double width_mm) {
    draw_add_line(view->sheet->document, view->sheet->page, (struct draw_point){x0_mm, y0_mm},
                  (struct draw_point){x1_mm, y1_mm}, width_mm, DRAW_SOLID, DRAW_BLACK);
}

/* many because they are one measure */
static void words(const struct elevation *view, double x_mm, double y_mm, struct base_text text,
                  enum draw_anchor anchor, enum draw_face face) {
    draw_add_text(view->sheet->document, view->sheet->page, (struct draw_point){x_mm, y_mm}, text,
                  3.0, face, anchor, DRAW_BLACK);
}

static double choose_scale(const struct documents_sheet *sheet, double length_m, double width_mm) {
    static const double inches[] = {8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 384};
    static const double metric[] = {5, 10, 20, 25, 50, 75, 100, 150, 200, 250, 500};
    const double *scales = sheet->solution->job.system == UNITS_MM ? metric : inches;
    for (size_t i = 0; i < sizeof inches / sizeof inches[0]; i++) {
        if (length_m * 1000.0 / scales[i] <= width_mm) {
            return scales[i];
        }
    }
    return 1000.0;
}

static void draw_body(const struct elevation *view) {
    const struct layout_run *run = &view->sheet->solution->layout.runs[view->run];
    double right_mm = paper_x(view, run->length_tick);
    line(view, view->left_mm, view->top_mm, right_mm, view->top_mm, 0.6);
    line(view, view->left_mm, view->top_mm + view->deep_mm, right_mm, view->top_mm + view->deep_mm,
         0.35);
    line(view, view->left_mm, view->top_mm, view->left_mm, view->top_mm + view->deep_mm, 0.6);
    line(view, right_mm, view->top_mm, right_mm, view->top_mm + view->deep_mm, 0.6);
    const struct roof_eave *eave = &view->sheet->solution->roof.eaves[run->eave];
    struct base_text corner =
        base_text_of(eave->from_end.kind == JOB_END_INSIDE ? "inside mitre" : "outside mitre");
    words(view, view->left_mm, view->top_mm + view->deep_mm + 15.0,
          run->left_is_free ? base_text_of("end cap LEFT") : corner, DRAW_START, DRAW_BOLD);
    corner = base_text_of(eave->to_end.kind == JOB_END_INSIDE ? "inside mitre" : "outside mitre");
    words(view, right_mm, view->top_mm + view->deep_mm + 15.0,
          run->right_is_free ? base_text_of("end cap RIGHT") : corner, DRAW_END, DRAW_BOLD);
}

/* Ticks over the lip, every one at its place; numbers where they do not crowd. */
static void draw_brackets(const struct elevation *view) {
    const struct hang_run *hang = &view->sheet->solution->hang.runs[view->run];
    double free_mm = -1e9;
    for (size_t i = 0; i < hang->count; i++) {
        double x_mm = paper_x(view, hang->brackets[i].x_tick);
        line(view, x_mm, view->top_mm - 2.2, x_mm, view->top_mm, 0.3);
        struct base_builder number = {.arena = view->sheet->arena};
        base_add_integer(&number, (int64_t)i + 1);
        double half_mm = draw_text_width(base_built(&number), 3.0, DRAW_REGULAR) / 2;
        if (x_mm - half_mm > free_mm) {
            words(view, x_mm, view->top_mm - 3.0, base_built(&number), DRAW_MIDDLE, DRAW_REGULAR);
            free_mm = x_mm + half_mm + 1.0;
        }
    }
}

/* A dimension from the left end, each on its own line below the gutter. */
static double dimension(const struct elevation *view, int64_t x_tick, double y_mm,
                        const char *what) {
    struct units_style style = view->sheet->solution->shop.style;
    struct base_text length = units_write_length(view->sheet->arena, style, x_tick);
    struct draw_dimension mark = {.a = {view->left_mm, y_mm},
                                  .b = {paper_x(view, x_tick), y_mm},
                                  .label =
                                      draw_length_of(documents_join(view->sheet, what, length, "")),
                                  .size_mm = 3.2};
    (void)draw_add_dimension(view->sheet->document, view->sheet->page, &mark);
    return y_mm + 6.0;
}

static void draw_joints(const struct elevation *view) {
    const struct joints_run *joints = &view->sheet->solution->joints.runs[view->run];
    for (size_t i = 0; i < joints->joint_count; i++) {
        double x_mm = paper_x(view, joints->joints[i].centre_tick);
        line(view, x_mm - 0.3, view->top_mm, x_mm - 0.3, view->top_mm + view->deep_mm, 0.2);
        line(view, x_mm + 0.3, view->top_mm, x_mm + 0.3, view->top_mm + view->deep_mm, 0.2);
    }
}

/* Where a piece that is left long is cut. */
static void draw_trim(const struct elevation *view) {
    const struct solution *all = view->sheet->solution;
    for (size_t i = 0; i < all->pieces.count; i++) {
        const struct pieces_piece *piece = &all->pieces.items[i];
        if (piece->run != view->run || piece->trim_tick == 0) {
            continue;
        }
        bool at_left = piece->trim == PIECES_TRIM_LEFT_END || piece->trim == PIECES_TRIM_LEFT_LAP;
        int64_t x_tick = at_left ? piece->from_tick : piece->to_tick;
        bool left_half = 2 * x_tick < all->layout.runs[view->run].length_tick;
        double x_mm = paper_x(view, x_tick);
        double y_mm = view->top_mm + view->deep_mm;
        /* broken where the way of a downspout is told */
        const double marks[][2] = {{view->top_mm - 1.0, y_mm + 1.0}, {y_mm + 6.6, y_mm + 10.0}};
        for (int k = 0; k < 2; k++) {
            draw_add_line(view->sheet->document, view->sheet->page,
                          (struct draw_point){x_mm, marks[k][0]},
                          (struct draw_point){x_mm, marks[k][1]}, 0.3, DRAW_SOLID, DRAW_COPPER);
        }
        struct base_text length =
            units_write_length(view->sheet->arena, all->shop.style, piece->trim_tick);
        words(view, x_mm + (left_half ? 1.0 : -1.0), y_mm + 9.6,
              documents_join(view->sheet, "", length, " long, cut on site"),
              left_half ? DRAW_START : DRAW_END, DRAW_REGULAR);
    }
}

static void draw_tube(const struct elevation *view, const struct layout_outlet *outlet) {
    double x_mm = paper_x(view, outlet->x_tick);
    double half_mm = units_m_of_tick(outlet->tube_tick) * 500.0 / view->scale_1;
    double from_mm = view->top_mm + view->deep_mm;
    line(view, x_mm - half_mm, from_mm, x_mm - half_mm, from_mm + 5.0, 0.35);
    line(view, x_mm + half_mm, from_mm, x_mm + half_mm, from_mm + 5.0, 0.35);
    draw_add_line(view->sheet->document, view->sheet->page,
                  (struct draw_point){x_mm, from_mm - 2.0},
                  (struct draw_point){x_mm, from_mm + 7.0}, 0.15, DRAW_CENTRE, DRAW_GREY);
}

/* Beside the tube, towards the middle of the run: how the pipe goes on from here. */
static void say_offset(const struct elevation *view, size_t index) {
    const struct solution *all = view->sheet->solution;
    const struct layout_outlet *outlet = &all->layout.outlets[index];
    const struct layout_downspout *pipe = &all->layout.downspouts[index];
    bool left_half = 2 * outlet->x_tick < all->layout.runs[outlet->run].length_tick;
    double half_mm = units_m_of_tick(outlet->tube_tick) * 500.0 / view->scale_1;
    double x_mm = paper_x(view, outlet->x_tick) + (left_half ? half_mm + 1.5 : -half_mm - 1.5);
    struct base_text text = base_text_of("offset cut on site");
    if (pipe->measured && pipe->elbow_rad <= 0.0) {
        text = base_text_of("straight down");
    } else if (pipe->survey != SIZE_MAX && pipe->measured) {
        struct base_text length =
            units_write_length(view->sheet->arena, all->shop.style, pipe->offset_tick);
        text = documents_join(view->sheet, "offset ", length, "");
    }
    words(view, x_mm, view->top_mm + view->deep_mm + 5.0, text, left_half ? DRAW_START : DRAW_END,
          DRAW_REGULAR);
}

static void draw_flow(const struct elevation *view) {
    const struct layout *layout = &view->sheet->solution->layout;
    const struct layout_run *run = &layout->runs[view->run];
    double y_mm = view->top_mm + view->deep_mm / 2;
    for (int i = 1; i < 6; i += 4) { /* clear of a high point in the middle */
        double x_m = units_m_of_tick(run->length_tick) * i / 6.0;
        double x_mm = view->left_mm + x_m * 1000.0 / view->scale_1;
        double way = layout_flows_right(layout, view->run, x_m) ? 1.0 : -1.0;
        line(view, x_mm - way * 4.0, y_mm, x_mm + way * 4.0, y_mm, 0.25);
        line(view, x_mm + way * 2.6, y_mm - 0.8, x_mm + way * 4.0, y_mm, 0.25);
        line(view, x_mm + way * 2.6, y_mm + 0.8, x_mm + way * 4.0, y_mm, 0.25);
    }
}

static struct base_text headline(const struct elevation *view) {
    const struct solution *all = view->sheet->solution;
    const struct layout_run *run = &all->layout.runs[view->run];
    const struct layout_line *of = &all->layout.lines[run->line];
    struct base_builder text = {.arena = view->sheet->arena};
    base_add_text(&text, run->name);
    base_add_string(&text, ": ");
    base_add_string(&text, all->shop.profiles[of->profile].name);
    base_add_string(&text,
                    all->job.system == UNITS_MM ? " mm girth half-round, " : " half-round, ");
    base_add_string(&text, of->sheet);
    base_add_string(&text, " copper, falls ");
    base_add_text(&text, units_write_slope(view->sheet->arena, all->shop.style, of->slope_1));
    return base_built(&text);
}

static const char *const RULES[] = {"handbook level formula", "US plumbing table", "EN 12056-3"};
enum { WATER_COLUMNS = 4 };

static struct base_text margin_words(struct documents_sheet *sheet,
                                     const struct layout_check *check) {
    if (!check->has_figure) {
        return base_text_of("no figure for this size and fall");
    }
    double spare_1 = check->flow_m3s > 0.0 ? check->capacity_m3s / check->flow_m3s - 1.0 : 1.0;
    struct base_builder text = {.arena = sheet->arena};
    double share_1 = check->passes ? spare_1 : 1.0 - check->capacity_m3s / check->flow_m3s;
    base_add_string(&text, check->passes ? "passes, " : "too small, short by ");
    if (share_1 < 0.01) {
        base_add_string(&text, "under 1");
    } else {
        base_add_text(&text, units_write_decimal(sheet->arena, share_1 * 100.0, 0));
    }
    base_add_string(&text, check->passes ? " % to spare" : " %");
    return base_built(&text);
}

/* What it carries when the water just reaches the lip, as built; which part gives way then. */
static void brim_row(struct documents_sheet *sheet, const struct layout_reach *reach,
                     struct draw_cell row[WATER_COLUMNS]) {
    static const char *const parts[] = {"; the gutter decides", "; the outlet decides",
                                        "; the strainer decides", "; the downspout decides"};
    const double limit_1 =
        reach->often.troubles[LAYOUT_AS_BUILT].rain_mps / sheet->solution->layout.rain_mps;
    struct layout_check brim = {.flow_m3s = reach->flow_m3s,
                                .capacity_m3s = reach->flow_m3s * limit_1,
                                .has_figure = true,
                                .passes = limit_1 >= 1.0};
    row[0] = documents_cell(base_text_of("physics, brim full"));
    row[1] =
        documents_cell(units_write_flow(sheet->arena, sheet->solution->shop.style, brim.flow_m3s));
    row[2] = documents_cell(
        units_write_flow(sheet->arena, sheet->solution->shop.style, brim.capacity_m3s));
    row[3] = documents_cell(
        documents_join(sheet, "", margin_words(sheet, &brim), parts[reach->often.first]));
}

static void water_table(struct documents_sheet *sheet, const struct layout_reach *reach) {
    struct units_style style = sheet->solution->shop.style;
    const struct draw_column columns[WATER_COLUMNS] = {{0.0, DRAW_START, reach->name},
                                                       {30.0, DRAW_END, base_text_of("flow")},
                                                       {30.0, DRAW_END, base_text_of("carries")},
                                                       {64.0, DRAW_START, base_text_of("verdict")}};
    struct draw_cell cells[(LAYOUT_BASES + 2) * WATER_COLUMNS];
    size_t rows = LAYOUT_BASES + 1;
    for (int i = 0; i < LAYOUT_BASES; i++) {
        const struct layout_check *check = &reach->checks[i];
        struct draw_cell *row = &cells[(size_t)WATER_COLUMNS * (size_t)i];
        bool decides = (int)sheet->solution->layout.basis == i;
        row[0] = documents_cell(
            documents_join(sheet, RULES[i], base_text_of(decides ? " (decides)" : ""), ""));
        row[1] = documents_cell(units_write_flow(sheet->arena, style, check->flow_m3s));
        row[2] = documents_cell(check->has_figure
                                    ? units_write_flow(sheet->arena, style, check->capacity_m3s)
                                    : base_text_of("\xe2\x80\x93"));
        row[3] = documents_cell(margin_words(sheet, check));
    }
    struct draw_cell *row = &cells[(size_t)WATER_COLUMNS * LAYOUT_BASES];
    int64_t depth_tick = units_tick_of_m(reach->profile.greatest_depth_m);
    int64_t spare_tick = units_tick_of_m(reach->freeboard_m);
    row[0] = documents_cell(base_text_of("physics of the deciding flow"));
    row[1] = documents_cell(units_write_flow(sheet->arena, style, reach->flow_m3s));
    row[2] = documents_cell(base_text_of(""));
    struct base_text deep = documents_join(
        sheet, "deepest ", units_write_length(sheet->arena, style, depth_tick), ", ");
    struct base_text free_text = documents_join(
        sheet, "", units_write_length(sheet->arena, style, spare_tick), " below the lip");
    struct base_text both[] = {
        deep, reach->profile.overflows ? base_text_of("over the lip: see advice") : free_text};
    row[3] = documents_cell(base_join(sheet->arena, 2, both));
    if (reach->flow_m3s > 0.0 && !sheet->solution->layout.brief) {
        brim_row(sheet, reach, &cells[(size_t)WATER_COLUMNS * rows++]);
    }
    documents_table(sheet, (struct draw_table){.columns = columns,
                                               .cells = cells,
                                               .column_count = WATER_COLUMNS,
                                               .row_count = rows,
                                               .size_mm = 3.2});
}

static double draw_dimensions(const struct elevation *view, double y_mm) {
    const struct solution *all = view->sheet->solution;
    const struct joints_run *joints = &all->joints.runs[view->run];
    for (size_t i = 0; i < joints->joint_count; i++) {
        y_mm = dimension(view, joints->joints[i].centre_tick, y_mm, "joint ");
    }
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        if (all->layout.outlets[i].run == view->run) {
            draw_tube(view, &all->layout.outlets[i]);
            say_offset(view, i);
            y_mm = dimension(view, all->layout.outlets[i].x_tick, y_mm, "outlet centre ");
        }
    }
    for (size_t i = 0; i < all->layout.high_point_count; i++) {
        if (all->layout.high_points[i].run == view->run) {
            y_mm = dimension(view, all->layout.high_points[i].x_tick, y_mm, "high point ");
        }
    }
    return dimension(view, all->layout.runs[view->run].length_tick, y_mm, "");
}

static double height_needed(const struct documents_sheet *sheet, size_t run) {
    const struct solution *all = sheet->solution;
    double lines = (double)all->joints.runs[run].joint_count + 1;
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        lines += all->layout.outlets[i].run == run ? 5.5 : 0.0; /* its dimension, its reaches */
    }
    return 62.0 + 6.0 * lines;
}

static void draw_elevation(struct documents_sheet *sheet, size_t run) {
    const struct solution *all = sheet->solution;
    if (sheet->y_mm + height_needed(sheet, run) > documents_bottom(sheet)) {
        documents_new_page(sheet, "Elevations");
        if (sheet->page == NULL) {
            return;
        }
    }
    double length_m = units_m_of_tick(all->layout.runs[run].length_tick);
    struct elevation view = {.sheet = sheet, .run = run};
    view.scale_1 = choose_scale(sheet, length_m, documents_width(sheet));
    view.left_mm = DOCUMENTS_MARGIN_MM;
    documents_heading(sheet, headline(&view).bytes);
    view.top_mm = sheet->y_mm + 9.0;
    const struct layout_line *of = &all->layout.lines[all->layout.runs[run].line];
    view.deep_mm = fmax(3.0, section_full_depth(&all->shop.profiles[of->profile].section) * 1000.0 /
                                 view.scale_1);
    draw_body(&view);
    draw_brackets(&view);
    draw_joints(&view);
    draw_trim(&view);
    draw_flow(&view);
    sheet->y_mm = draw_dimensions(&view, view.top_mm + view.deep_mm + 22.0);
    struct draw_box bar =
        draw_add_scale_bar(sheet->document, sheet->page,
                           (struct draw_scale_bar){.at = {DOCUMENTS_MARGIN_MM, sheet->y_mm + 4.0},
                                                   .scale_1 = view.scale_1,
                                                   .metric = all->job.system == UNITS_MM});
    documents_say_scale(sheet, view.scale_1, bar.right_mm);
    sheet->y_mm = bar.bottom_mm + 2.0;
    for (size_t i = 0; i < all->layout.reach_count; i++) {
        if (all->layout.outlets[all->layout.reaches[i].outlet].run == run) {
            water_table(sheet, &all->layout.reaches[i]);
        }
    }
}

void documents_draw_elevations(struct documents_sheet *sheet) {
    documents_new_page(sheet, "Elevations");
    for (size_t i = 0; sheet->page != NULL && i < sheet->solution->layout.run_count; i++) {
        draw_elevation(sheet, i);
    }
}
