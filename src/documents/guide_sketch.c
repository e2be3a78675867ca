/* SPDX-License-Identifier: Apache-2.0 */
/* Sketching in the guide's own units: lines, areas, words, lettered dimensions. */
#include "documents/guide_inside.h"

enum { POINTS_MAX = 64 };

struct draw_point guide_at(const struct guide_sketch *sketch, double x, double y) {
    return (struct draw_point){sketch->origin.x_mm + x * sketch->scale_mm,
                               sketch->origin.y_mm - y * sketch->scale_mm};
}

static size_t place(const struct guide_sketch *sketch, const double *xy, size_t count,
                    struct draw_point points[POINTS_MAX]) {
    count = count > POINTS_MAX ? POINTS_MAX : count;
    for (size_t i = 0; i < count; i++) {
        points[i] = guide_at(sketch, xy[2 * i], xy[2 * i + 1]);
    }
    return count;
}

void guide_polygon(const struct guide_sketch *sketch, const double *xy, size_t count,
                   struct draw_look look) {
    struct draw_point points[POINTS_MAX];
    count = place(sketch, xy, count, points);
    draw_add_polygon(sketch->sheet->document, sketch->sheet->page, points, count, look);
}

void guide_line(const struct guide_sketch *sketch, const double *xy, size_t count,
                struct draw_look look) {
    struct draw_point points[POINTS_MAX];
    count = place(sketch, xy, count, points);
    draw_add_polyline(sketch->sheet->document, sketch->sheet->page, points, count, look);
}

void guide_words(const struct guide_sketch *sketch, double x, double y, const char *words,
                 enum draw_anchor anchor) {
    draw_add_label(sketch->sheet->document, sketch->sheet->page, guide_at(sketch, x, y),
                   draw_label_of(base_text_of(words)),
                   (struct draw_type){
                       .size_mm = 3.0, .anchor = anchor, .ink = DRAW_GREY, .face = DRAW_ITALIC});
}

void guide_dimension(const struct guide_sketch *sketch, struct guide_mark mark) {
    struct draw_dimension dimension = {.a = guide_at(sketch, mark.ax, mark.ay),
                                       .b = guide_at(sketch, mark.bx, mark.by),
                                       .offset_mm = mark.offset_mm,
                                       .label = draw_label_of(base_text_of(mark.letter)),
                                       .size_mm = 4.2};
    (void)draw_add_dimension(sketch->sheet->document, sketch->sheet->page, &dimension);
}
