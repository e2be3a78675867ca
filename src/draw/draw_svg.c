/* SPDX-License-Identifier: Apache-2.0 */
/* One page as SVG 1.1 with real text. Lengths are millimetres of the page. */
#include "draw/draw_inside.h"

#include <assert.h>
#include <math.h>

static const double HATCH_WIDTH_MM = 0.1;

/* Painted, but neither read out nor selected: the plain text beside it is. */
static const char SHOWN_ONLY[] = " aria-hidden=\"true\" pointer-events=\"none\"";

struct writer {
    struct base_builder out;
    const struct draw_page *page;
};

static void put(struct writer *writer, const char *string) {
    base_add_string(&writer->out, string);
}

static void put_number(struct writer *writer, double value) {
    draw_add_decimal(&writer->out, value, 3);
}

static void put_attribute(struct writer *writer, const char *name, double value) {
    put(writer, " ");
    put(writer, name);
    put(writer, "=\"");
    put_number(writer, value);
    put(writer, "\"");
}

static void put_text(struct writer *writer, struct base_text text) {
    for (size_t i = 0; i < text.length; i++) {
        switch (text.bytes[i]) {
        case '&':
            put(writer, "&amp;");
            break;
        case '<':
            put(writer, "&lt;");
            break;
        case '>':
            put(writer, "&gt;");
            break;
        case '"':
            put(writer, "&quot;");
            break;
        default:
            base_add_char(&writer->out, text.bytes[i]);
        }
    }
}

static void put_colour(struct writer *writer, const char *name, enum draw_ink ink) {
    static const char HEX[] = "0123456789abcdef";
    struct draw_rgb rgb = draw_find_rgb(ink);
    int parts[] = {rgb.red, rgb.green, rgb.blue};
    put(writer, " ");
    put(writer, name);
    put(writer, "=\"#");
    for (int i = 0; i < 3; i++) {
        base_add_char(&writer->out, HEX[parts[i] / 16]);
        base_add_char(&writer->out, HEX[parts[i] % 16]);
    }
    put(writer, "\"");
}

/* ---- ids ----------------------------------------------------------------------------------- */

/* A path as an XML name: other signs become '-', and it starts with a letter or '_'. */
static char id_char(char c) {
    bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    bool digit = c >= '0' && c <= '9';
    bool high = (unsigned char)c >= 0x80;
    return letter || digit || c == '_' || c == '.' ? c : high ? '_' : '-';
}

static bool same_id(struct base_text a, struct base_text b) {
    if (a.length != b.length) {
        return false;
    }
    for (size_t i = 0; i < a.length; i++) {
        if (id_char(a.bytes[i]) != id_char(b.bytes[i])) {
            return false;
        }
    }
    return true;
}

/* An id may stand once in a file; later shapes of the same path carry the title alone. */
static bool id_is_new(const struct draw_page *page, size_t index) {
    for (size_t i = 0; i < index; i++) {
        if (same_id(page->shapes[i].id, page->shapes[index].id)) {
            return false;
        }
    }
    return true;
}

static void put_id(struct writer *writer, size_t index) {
    struct base_text id = writer->page->shapes[index].id;
    if (id.length == 0 || !id_is_new(writer->page, index)) {
        return;
    }
    put(writer, " id=\"_");
    for (size_t i = 0; i < id.length; i++) {
        base_add_char(&writer->out, id_char(id.bytes[i]));
    }
    put(writer, "\"");
}

static void put_title(struct writer *writer, const struct draw_shape *shape) {
    if (shape->id.length > 0) {
        put(writer, "<title>");
        put_text(writer, shape->id);
        put(writer, "</title>");
    }
}

/* ---- lines and areas ----------------------------------------------------------------------- */

static void put_point(struct writer *writer, const char *letter, struct draw_point point) {
    put(writer, letter);
    put_number(writer, point.x_mm);
    put(writer, " ");
    put_number(writer, point.y_mm);
}

static void put_arc_to(struct writer *writer, const struct draw_shape *arc, double to_rad,
                       bool large) {
    put(writer, "A");
    put_number(writer, arc->radius_mm);
    put(writer, " ");
    put_number(writer, arc->radius_mm);
    put(writer, large ? " 0 1 0" : " 0 0 0"); /* counter-clockwise on the page */
    put_point(writer, " ", draw_arc_point(arc, to_rad));
}

static void put_path_data(struct writer *writer, const struct draw_shape *shape) {
    put(writer, " d=\"");
    if (shape->kind == DRAW_ARC) {
        double middle_rad = (shape->from_rad + shape->to_rad) / 2; /* halves: a full turn as well */
        put_point(writer, "M", draw_arc_point(shape, shape->from_rad));
        bool large = shape->to_rad - shape->from_rad > 2 * DRAW_PI;
        put_arc_to(writer, shape, middle_rad, large);
        put_arc_to(writer, shape, shape->to_rad, large);
    } else {
        for (size_t i = 0; i < shape->point_count; i++) {
            put_point(writer, i == 0 ? "M" : "L", shape->points[i]);
        }
        put(writer, shape->kind == DRAW_POLYGON ? "Z" : "");
    }
    put(writer, "\"");
}

static void put_stroke(struct writer *writer, const struct draw_shape *shape) {
    if (shape->width_mm <= 0) {
        return;
    }
    put_colour(writer, "stroke", shape->ink);
    put_attribute(writer, "stroke-width", shape->width_mm);
    double dashes_mm[DRAW_DASHES];
    size_t count = draw_find_dashes(shape->stroke, dashes_mm);
    for (size_t i = 0; i < count; i++) {
        put(writer, i == 0 ? " stroke-dasharray=\"" : " ");
        put_number(writer, dashes_mm[i]);
    }
    put(writer, count > 0 ? "\"" : "");
}

static void put_outline(struct writer *writer, const struct draw_shape *shape) {
    if (shape->kind == DRAW_CIRCLE) {
        put(writer, "<circle");
        put_attribute(writer, "cx", shape->points[0].x_mm);
        put_attribute(writer, "cy", shape->points[0].y_mm);
        put_attribute(writer, "r", shape->radius_mm);
    } else {
        put(writer, "<path");
        put_path_data(writer, shape);
    }
    if (shape->filled) {
        put_colour(writer, "fill", shape->fill);
    } else {
        put(writer, " fill=\"none\"");
    }
    put_stroke(writer, shape);
    put(writer, "/>");
}

static void put_hatch(struct writer *writer, const struct draw_shape *shape) {
    struct draw_point *points = NULL;
    size_t count = draw_find_hatch(writer->out.arena, shape, &points);
    if (count == 0) {
        return;
    }
    put(writer, "<path d=\"");
    for (size_t i = 0; i + 1 < count; i += 2) {
        put_point(writer, "M", points[i]);
        put_point(writer, "L", points[i + 1]);
    }
    put(writer, "\" fill=\"none\"");
    put_colour(writer, "stroke", shape->ink);
    put_attribute(writer, "stroke-width", HATCH_WIDTH_MM);
    put(writer, "/>");
}

static void put_area(struct writer *writer, const struct draw_shape *shape) {
    struct draw_shape fill = *shape;
    struct draw_shape outline = *shape;
    bool hatched = shape->hatched && shape->kind == DRAW_POLYGON;
    fill.width_mm = 0;
    outline.filled = false;
    if (!hatched) {
        put_outline(writer, shape);
        return;
    }
    if (shape->filled) {
        put_outline(writer, &fill);
    }
    put_hatch(writer, shape);
    if (shape->width_mm > 0) {
        put_outline(writer, &outline);
    }
}

/* ---- text ---------------------------------------------------------------------------------- */

/*
 * textLength holds the text to its table width even where the font is not installed. `unseen`: the
 * plain text of a stacked fraction, there to be found and copied.
 */
static void put_words(struct writer *writer, struct base_text text, struct draw_point at,
                      double width_mm, const char *more) {
    if (text.length == 0) {
        return;
    }
    put(writer, "<text");
    put_attribute(writer, "x", at.x_mm);
    put_attribute(writer, "y", at.y_mm);
    if (text.length > 1) {
        put_attribute(writer, "textLength", width_mm);
        put(writer, " lengthAdjust=\"spacingAndGlyphs\"");
    }
    put(writer, more);
    put(writer, ">");
    put_text(writer, text);
    put(writer, "</text>");
}

static void put_small(struct writer *writer, const struct draw_shape *shape, int number,
                      struct draw_point at) {
    struct draw_digits digits = draw_small_digits(number);
    char bytes[3 * DRAW_NUMBER_BYTES];
    double width_mm = 0;
    for (size_t i = 0; i < digits.count; i++) { /* U+2080 to U+2089 */
        bytes[3 * i] = (char)0xE2;
        bytes[3 * i + 1] = (char)0x82;
        bytes[3 * i + 2] = (char)(0x80 + (digits.codes[i] & 0x3F));
        width_mm += draw_code_width(digits.codes[i], shape->size_mm, shape->face);
    }
    put_words(writer, (struct base_text){bytes, 3 * digits.count}, at, width_mm, SHOWN_ONLY);
}

static void put_stacked(struct writer *writer, const struct draw_shape *shape, double x_mm) {
    struct draw_stack stack = draw_find_stack(draw_shape_label(shape), shape->size_mm, shape->face);
    put_words(writer, shape->text, (struct draw_point){x_mm, 0}, stack.width_mm,
              " fill-opacity=\"0\"");
    put_words(writer, shape->whole, (struct draw_point){x_mm, 0},
              draw_text_width(shape->whole, shape->size_mm, shape->face), SHOWN_ONLY);
    put_small(writer, shape, shape->numerator,
              (struct draw_point){x_mm + stack.numerator_x_mm, -stack.numerator_up_mm});
    put_small(writer, shape, shape->denominator,
              (struct draw_point){x_mm + stack.denominator_x_mm, -stack.denominator_up_mm});
    put_words(writer, shape->tail, (struct draw_point){x_mm + stack.tail_x_mm, 0},
              draw_text_width(shape->tail, shape->size_mm, shape->face), SHOWN_ONLY);
    put(writer, "<path d=\"");
    put_point(writer, "M", (struct draw_point){x_mm + stack.bar_from_mm, -stack.bar_up_mm});
    put_point(writer, "L", (struct draw_point){x_mm + stack.bar_to_mm, -stack.bar_up_mm});
    put(writer, "\"");
    put_colour(writer, "stroke", shape->ink);
    put_attribute(writer, "stroke-width", stack.bar_width_mm);
    put(writer, "/>");
}

static void put_lettering(struct writer *writer, const struct draw_shape *shape) {
    double width_mm = draw_shape_width(shape);
    double x_mm = draw_anchor_shift(shape->anchor, width_mm);
    put(writer, "<g transform=\"translate(");
    put_number(writer, shape->points[0].x_mm);
    put(writer, " ");
    put_number(writer, shape->points[0].y_mm);
    put(writer, ")");
    if (fabs(shape->turn_rad) > 1e-6) {
        put(writer, " rotate(");
        put_number(writer, -shape->turn_rad * 180 / DRAW_PI);
        put(writer, ")");
    }
    put(writer, "\"");
    put_attribute(writer, "font-size", shape->size_mm);
    put(writer, shape->face == DRAW_BOLD ? " font-weight=\"bold\"" : "");
    put(writer, shape->face == DRAW_ITALIC ? " font-style=\"italic\"" : "");
    put_colour(writer, "fill", shape->ink);
    put(writer, ">");
    if (shape->kind == DRAW_FRACTION) {
        put_stacked(writer, shape, x_mm);
    } else {
        put_words(writer, shape->text, (struct draw_point){x_mm, 0}, width_mm, "");
    }
    put(writer, "</g>");
}

/* ---- the page ------------------------------------------------------------------------------ */

static void put_shape(struct writer *writer, size_t index) {
    const struct draw_shape *shape = &writer->page->shapes[index];
    put(writer, "<g");
    put_id(writer, index);
    put(writer, ">");
    put_title(writer, shape);
    switch (shape->kind) {
    case DRAW_LINE:
    case DRAW_POLYGON:
    case DRAW_CIRCLE:
    case DRAW_ARC:
        put_area(writer, shape);
        break;
    case DRAW_TEXT:
    case DRAW_FRACTION:
        put_lettering(writer, shape);
        break;
    case DRAW_LINK_TARGET:
        break;
    }
    put(writer, "</g>\n");
}

struct base_text draw_paint_svg(struct base_arena *arena, const struct draw_document *document,
                                size_t page) {
    if (base_arena_failed(arena) || base_arena_failed(document->arena)) {
        return (struct base_text){0};
    }
    assert(page < document->count);
    struct writer writer = {.out = {.arena = arena}, .page = &document->pages[page]};
    put(&writer, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                 "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"");
    put_number(&writer, writer.page->width_mm);
    put(&writer, "mm\" height=\"");
    put_number(&writer, writer.page->height_mm);
    put(&writer, "mm\" viewBox=\"0 0 ");
    put_number(&writer, writer.page->width_mm);
    put(&writer, " ");
    put_number(&writer, writer.page->height_mm);
    put(&writer, "\" font-family=\"Carlito, Calibri, sans-serif\" stroke-linejoin=\"round\"\n"
                 "style=\"font-kerning:none;font-variant-ligatures:none;white-space:pre\">\n"
                 "<title>");
    put_text(&writer, writer.page->title);
    put(&writer, "</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n");
    for (size_t i = 0; i < writer.page->count; i++) {
        put_shape(&writer, i);
    }
    put(&writer, "</svg>\n");
    return base_arena_failed(arena) ? (struct base_text){0} : base_built(&writer.out);
}
