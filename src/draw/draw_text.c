/* SPDX-License-Identifier: Apache-2.0 */
/* The display list as text, one shape a line: what golden files hold. */
#include "draw/draw_inside.h"

static void add_word(struct base_builder *out, const char *word) {
    base_add_char(out, ' ');
    base_add_string(out, word);
}

static void add_number(struct base_builder *out, const char *name, double value) {
    add_word(out, name);
    base_add_char(out, ' ');
    draw_add_decimal(out, value, 2);
}

static void add_quoted(struct base_builder *out, struct base_text text) {
    base_add_string(out, " \"");
    for (size_t i = 0; i < text.length; i++) {
        if (text.bytes[i] == '"' || text.bytes[i] == '\\') {
            base_add_char(out, '\\');
        }
        base_add_char(out, text.bytes[i]);
    }
    base_add_char(out, '"');
}

static void add_points(struct base_builder *out, const struct draw_shape *shape) {
    for (size_t i = 0; i < shape->point_count; i++) {
        base_add_char(out, ' ');
        draw_add_decimal(out, shape->points[i].x_mm, 2);
        base_add_char(out, ',');
        draw_add_decimal(out, shape->points[i].y_mm, 2);
    }
}

static double degrees(double angle_rad) {
    return angle_rad * 180 / DRAW_PI;
}

static void add_area(struct base_builder *out, const struct draw_shape *shape) {
    if (shape->width_mm > 0) {
        add_number(out, "outline", shape->width_mm);
        add_word(out, draw_stroke_word(shape->stroke));
        add_word(out, draw_ink_word(shape->ink));
    }
    if (shape->filled) {
        add_word(out, "filled");
        add_word(out, draw_ink_word(shape->fill));
    }
    if (shape->hatched) {
        add_number(out, "hatched", degrees(shape->hatch_rad));
    }
    if (shape->kind == DRAW_CIRCLE || shape->kind == DRAW_ARC) {
        add_number(out, "radius", shape->radius_mm);
    }
    if (shape->kind == DRAW_ARC) {
        add_number(out, "from", degrees(shape->from_rad));
        add_number(out, "to", degrees(shape->to_rad));
    }
}

static void add_type(struct base_builder *out, const struct draw_shape *shape) {
    base_add_char(out, ' ');
    draw_add_decimal(out, shape->size_mm, 2);
    add_word(out, draw_face_word(shape->face));
    add_word(out, draw_anchor_word(shape->anchor));
    add_word(out, draw_ink_word(shape->ink));
    if (degrees(shape->turn_rad) > 0.005 || degrees(shape->turn_rad) < -0.005) {
        add_number(out, "turn", degrees(shape->turn_rad));
    }
    add_quoted(out, shape->text);
}

static void add_shape(struct base_builder *out, const struct draw_shape *shape) {
    base_add_string(out, draw_kind_word(shape->kind));
    add_points(out, shape);
    switch (shape->kind) {
    case DRAW_LINE:
    case DRAW_POLYGON:
    case DRAW_CIRCLE:
    case DRAW_ARC:
        add_area(out, shape);
        break;
    case DRAW_TEXT:
    case DRAW_FRACTION:
        add_type(out, shape);
        break;
    case DRAW_LINK_TARGET:
        break;
    }
    if (shape->id.length > 0) {
        add_word(out, "id");
        add_quoted(out, shape->id);
    }
    base_add_char(out, '\n');
}

struct base_text draw_paint_text(struct base_arena *arena, const struct draw_document *document) {
    struct base_builder out = {.arena = arena};
    base_add_string(&out, "document");
    add_quoted(&out, document->title);
    base_add_char(&out, '\n');
    for (size_t i = 0; i < document->count; i++) {
        const struct draw_page *page = &document->pages[i];
        base_add_string(&out, "page ");
        base_add_integer(&out, (int64_t)i + 1);
        base_add_char(&out, ' ');
        draw_add_decimal(&out, page->width_mm, 2);
        base_add_string(&out, " x ");
        draw_add_decimal(&out, page->height_mm, 2);
        add_quoted(&out, page->title);
        base_add_char(&out, '\n');
        for (size_t j = 0; j < page->count; j++) {
            add_shape(&out, &page->shapes[j]);
        }
    }
    return base_built(&out);
}
