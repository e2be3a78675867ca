/* SPDX-License-Identifier: Apache-2.0 */
/* From above: the walk, a bay, a curve. From the side: the wall below an outlet, an old gutter. */
#include <math.h>

#include "documents/guide_inside.h"

static const double PI = 3.14159265358979323846;

static const struct draw_look EDGE = {.width_mm = 0.5, .ink = DRAW_BLACK};
static const struct draw_look FINE = {.width_mm = 0.25, .ink = DRAW_BLACK};
static const struct draw_look DASHED = {.width_mm = 0.2, .stroke = DRAW_DASHED, .ink = DRAW_GREY};
static const struct draw_look WALL_LOOK = {
    .width_mm = 0.3, .ink = DRAW_BLACK, .hatched = true, .hatch_rad = 2.4, .hatch_gap_mm = 1.6};

/* ---- the walk ------------------------------------------------------------------------------ */

static void arrow(const struct guide_sketch *sketch, double x, double y, double turn_rad) {
    double c = cos(turn_rad);
    double s = sin(turn_rad);
    const double shaft[] = {x - 2.0 * c, y - 2.0 * s, x + 1.2 * c, y + 1.2 * s};
    const double head[] = {x + 2.0 * c,
                           y + 2.0 * s,
                           x + 0.9 * c - 0.45 * s,
                           y + 0.9 * s + 0.45 * c,
                           x + 0.9 * c + 0.45 * s,
                           y + 0.9 * s - 0.45 * c};
    guide_line(sketch, shaft, 2, (struct draw_look){.width_mm = 0.4, .ink = DRAW_COPPER});
    guide_polygon(sketch, head, 3, (struct draw_look){.filled = true, .fill = DRAW_COPPER});
}

static void label(const struct guide_sketch *sketch, double x, double y, const char *words) {
    draw_add_label(sketch->sheet->document, sketch->sheet->page, guide_at(sketch, x, y),
                   draw_label_of(base_text_of(words)),
                   (struct draw_type){.size_mm = 3.4, .anchor = DRAW_MIDDLE, .face = DRAW_BOLD});
}

/* An L, in feet, walked counter-clockwise from its lower left corner. */
void guide_draw_walk(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = {
        .sheet = sheet, .origin = {box.left_mm + 48.0, box.bottom_mm - 11.0}, .scale_mm = 2.05};
    const double roof[] = {0.0, 0.0, 40.0, 0.0, 40.0, 25.0, 24.0, 25.0, 24.0, 14.0, 0.0, 14.0};
    guide_polygon(&sketch, roof, 6, EDGE);
    const double diagonal[] = {0.0, 0.0, 40.0, 25.0};
    guide_line(&sketch, diagonal, 2, DASHED);
    arrow(&sketch, 20.0, -2.6, 0.0);
    arrow(&sketch, 42.6, 12.5, PI / 2);
    arrow(&sketch, 32.0, 27.6, PI);
    arrow(&sketch, 21.4, 19.5, -PI / 2);
    arrow(&sketch, 12.0, 16.6, PI);
    arrow(&sketch, -2.6, 7.0, -PI / 2);
    label(&sketch, 20.0, 1.2, "front");
    label(&sketch, 36.6, 8.5, "lane");
    label(&sketch, 32.0, 22.4, "yard");
    label(&sketch, 26.8, 18.8, "nook");
    label(&sketch, 9.0, 11.4, "kitchen");
    label(&sketch, 3.6, 7.4, "west");
    guide_words(&sketch, 0.0, -3.6, "from", DRAW_MIDDLE);
    guide_words(&sketch, 40.0, -3.6, "to", DRAW_MIDDLE);
    guide_words(&sketch, 44.0, 1.0, "outside corner", DRAW_START);
    guide_words(&sketch, 24.6, 12.2, "inside corner", DRAW_START);
    guide_words(&sketch, 44.0, 24.0, "a diagonal checks the walk", DRAW_START);
    guide_words(&sketch, 44.0, 17.0, "the house on your left", DRAW_START);
}

/* ---- bay ----------------------------------------------------------------------------------- */

/* Half an octagon in front of a wall, in feet; flat to flat 9. */
void guide_draw_bay(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = {
        .sheet = sheet, .origin = {box.left_mm + 88.0, box.top_mm + 16.0}, .scale_mm = 6.6};
    const double side = 9.0 * tan(PI / 8);
    const double half = side / 2;
    const double bay[] = {-4.5, 0.0, -4.5, -half, -half, -4.5, half, -4.5, 4.5, -half, 4.5, 0.0};
    const double wall[] = {-12.5, 0.0, 9.5, 0.0, 9.5, 1.0, -12.5, 1.0};
    guide_polygon(&sketch, wall, 4, WALL_LOOK);
    guide_line(&sketch, bay, 6, EDGE);
    guide_dimension(&sketch, (struct guide_mark){-4.5, -6.4, 4.5, -6.4, 0.0, "A"});
    guide_dimension(&sketch, (struct guide_mark){half, -4.5, 4.5, -half, -7.0, "B"});
    guide_dimension(&sketch, (struct guide_mark){7.6, 0.0, 7.6, -4.5, 0.0, "C"});
    guide_dimension(&sketch, (struct guide_mark){-12.5, 1.8, 0.0, 1.8, 0.0, "D"});
    const double middle[] = {0.0, 2.2, 0.0, -4.2};
    const double front[] = {half + 0.4, -4.5, 8.2, -4.5};
    const double left[] = {-4.5, -half - 0.2, -4.5, -7.0};
    const double right[] = {4.5, -half - 0.2, 4.5, -7.0};
    const double end[] = {-12.5, 1.2, -12.5, 2.3};
    guide_line(&sketch, middle, 2, DASHED);
    guide_line(&sketch, front, 2, DASHED);
    guide_line(&sketch, left, 2, DASHED);
    guide_line(&sketch, right, 2, DASHED);
    guide_line(&sketch, end, 2, DASHED);
    guide_words(&sketch, -12.3, -0.7, "house wall, its eave's left end", DRAW_START);
    guide_words(&sketch, -2.3, -1.4, "roof edge of the bay", DRAW_MIDDLE);
}

/* ---- curve --------------------------------------------------------------------------------- */

/* Chord 16, rise 4: the circle of radius 10 about (0, -6). */
void guide_draw_curve(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = {
        .sheet = sheet, .origin = {box.left_mm + 90.0, box.bottom_mm - 24.0}, .scale_mm = 7.4};
    double arc[66];
    double half_rad = atan2(8.0, 6.0);
    for (size_t i = 0; i <= 32; i++) {
        double turn_rad = PI / 2 + half_rad - 2 * half_rad * (double)i / 32.0;
        arc[2 * i] = 10.0 * cos(turn_rad);
        arc[2 * i + 1] = 10.0 * sin(turn_rad) - 6.0;
    }
    guide_line(&sketch, arc, 33, EDGE);
    const double chord[] = {-8.0, 0.0, 8.0, 0.0};
    guide_line(&sketch, chord, 2, FINE);
    double quarter = sqrt(100.0 - 16.0) - 6.0;
    guide_dimension(&sketch, (struct guide_mark){-8.0, 0.0, 8.0, 0.0, -9.0, "B"});
    guide_dimension(&sketch, (struct guide_mark){0.0, 0.0, 0.0, 4.0, 0.0, "C"});
    guide_dimension(&sketch, (struct guide_mark){-4.0, 0.0, -4.0, quarter, 0.0, "D"});
    guide_dimension(&sketch, (struct guide_mark){4.0, 0.0, 4.0, quarter, 0.0, "E"});
    guide_words(&sketch, -8.3, 0.4, "left end", DRAW_END);
    guide_words(&sketch, 8.3, 0.4, "right end", DRAW_START);
    guide_words(&sketch, 0.0, 4.6, "A, along the roof edge", DRAW_MIDDLE);
    guide_words(&sketch, -6.0, -0.7, "1/4", DRAW_MIDDLE);
    guide_words(&sketch, -2.0, -0.7, "1/4", DRAW_MIDDLE);
    guide_words(&sketch, 2.0, -0.7, "1/4", DRAW_MIDDLE);
    guide_words(&sketch, 6.0, -0.7, "1/4", DRAW_MIDDLE);
}

/* ---- wall ---------------------------------------------------------------------------------- */

/* From the side, in feet of height; what stands out is drawn three times as far as it does. */
void guide_draw_wall(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = {
        .sheet = sheet, .origin = {box.left_mm + 104.0, box.bottom_mm - 9.0}, .scale_mm = 5.6};
    const double ground[] = {-11.0, 0.0, 6.0, 0.0};
    const double wall[] = {0.0, 0.0,  2.2, 0.0, 2.2, 12.6, 0.0, 12.6, 0.0, 7.6,  -0.9,
                           7.6, -0.9, 6.9, 0.0, 6.9, 0.0,  2.6, -0.7, 2.4, -0.7, 0.0};
    const double eave[] = {-3.2, 12.4, -3.2, 12.9, 2.2, 14.6, 2.2, 14.1};
    const double wood[] = {-2.8, 12.45, -2.8, 11.4, 0.0, 12.2, 0.0, 13.4};
    guide_polygon(&sketch, wall, 11, WALL_LOOK);
    guide_polygon(&sketch, wood, 4, FINE);
    guide_polygon(&sketch, eave, 4,
                  (struct draw_look){.width_mm = 0.3, .filled = true, .fill = DRAW_WHITE});
    guide_line(&sketch, ground, 2, EDGE);
    const double boot[] = {-2.6, -0.5, -2.6, 1.0, -1.4, 1.0, -1.4, -0.5};
    guide_line(&sketch, boot, 4, EDGE);
    const double level[] = {-9.6, 12.65, -3.3, 12.65};
    const double belt[] = {-6.6, 7.6, -1.0, 7.6};
    const double table[] = {-4.9, 2.4, -0.8, 2.4};
    guide_line(&sketch, level, 2, DASHED);
    guide_line(&sketch, belt, 2, DASHED);
    guide_line(&sketch, table, 2, DASHED);
    guide_dimension(&sketch, (struct guide_mark){-9.2, 0.0, -9.2, 12.65, 0.0, "A"});
    guide_dimension(&sketch, (struct guide_mark){-2.8, 10.4, 0.0, 10.4, 0.0, "B"});
    guide_dimension(&sketch, (struct guide_mark){-6.2, 0.0, -6.2, 7.6, 0.0, "C"});
    guide_dimension(&sketch, (struct guide_mark){-0.9, 8.3, 0.0, 8.3, 0.0, "D"});
    guide_dimension(&sketch, (struct guide_mark){-4.5, 0.0, -4.5, 2.4, 0.0, "E"});
    guide_dimension(&sketch, (struct guide_mark){-0.7, 3.4, 0.0, 3.4, 0.0, "F"});
    guide_dimension(&sketch, (struct guide_mark){-2.6, 1.5, -1.4, 1.5, 0.0, "G"});
    guide_words(&sketch, 2.7, 7.1, "belt course", DRAW_START);
    guide_words(&sketch, 2.7, 2.0, "water table", DRAW_START);
    guide_words(&sketch, 2.7, 10.2, "wall", DRAW_START);
    guide_words(&sketch, -9.6, 13.1, "roof edge", DRAW_START);
    guide_words(&sketch, -2.0, -1.2, "boot", DRAW_MIDDLE);
}

/* ---- as found ------------------------------------------------------------------------------ */

static void half_round(const struct guide_sketch *sketch) {
    double arc[50];
    for (size_t i = 0; i <= 24; i++) {
        double turn_rad = PI + PI * (double)i / 24.0;
        arc[2 * i] = 2.5 * cos(turn_rad);
        arc[2 * i + 1] = 2.5 * sin(turn_rad);
    }
    guide_line(sketch, arc, 25, EDGE);
    const double back[] = {2.5, 0.0, 2.5, 0.6};
    guide_line(sketch, back, 2, EDGE);
    draw_add_circle(sketch->sheet->document, sketch->sheet->page, guide_at(sketch, -2.75, 0.0),
                    0.25 * sketch->scale_mm, EDGE);
}

/* The gutter's end at full size over five, and its front with the level line. */
void guide_draw_found(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch end = {
        .sheet = sheet, .origin = {box.left_mm + 32.0, box.top_mm + 22.0}, .scale_mm = 7.0};
    half_round(&end);
    guide_dimension(&end, (struct guide_mark){-2.5, 0.0, 2.5, 0.0, 8.0, "A"});
    guide_dimension(&end, (struct guide_mark){-3.0, -0.4, -2.5, -0.4, -3.0, "B"});
    guide_words(&end, 0.0, -4.2, "the end, looking along", DRAW_MIDDLE);
    struct guide_sketch front = {
        .sheet = sheet, .origin = {box.left_mm + 70.0, box.top_mm + 26.0}, .scale_mm = 4.6};
    const double gutter[] = {0.0, 0.0, 21.0, -1.0, 21.0, -2.6, 0.0, -1.6};
    guide_polygon(&front, gutter, 4, FINE);
    const double line[] = {-0.5, 3.2, 21.5, 3.2};
    guide_line(&front, line, 2, DASHED);
    static const double HANGERS[] = {3.0, 8.0, 13.0, 18.0};
    for (int i = 0; i < 4; i++) {
        double x = HANGERS[i];
        const double strap[] = {x, 1.0 - x / 21.0, x, -1.6 - x / 21.0};
        guide_line(&front, strap, 2, EDGE);
    }
    const double pipe[] = {19.0, -2.5, 19.0, -6.0, 20.3, -6.0, 20.3, -2.56};
    guide_line(&front, pipe, 4, FINE);
    guide_dimension(&front, (struct guide_mark){8.0, -2.0, 13.0, -2.0, -5.0, "C"});
    guide_dimension(&front, (struct guide_mark){19.0, -4.4, 20.3, -4.4, 0.0, "D"});
    guide_dimension(&front, (struct guide_mark){0.0, 3.2, 0.0, 0.0, 0.0, "E"});
    guide_dimension(&front, (struct guide_mark){21.0, 3.2, 21.0, -1.0, 0.0, "F"});
    guide_words(&front, 10.5, 3.7, "one level line: a water level or a laser", DRAW_MIDDLE);
    guide_words(&front, 0.0, -3.2, "left", DRAW_START);
}
