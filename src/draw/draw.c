/* SPDX-License-Identifier: Apache-2.0 */
/* Pages and the shapes on them. */
#include "draw/draw_inside.h"

#include <assert.h>
#include <math.h>
#include <string.h>

struct draw_page *draw_add_page(struct draw_document *document, double width_mm, double height_mm,
                                struct base_text title) {
    assert(width_mm > 0 && height_mm > 0);
    struct draw_page *pages = base_grow(document->arena, document->pages, &document->capacity,
                                        document->count, sizeof *pages);
    if (pages == NULL) {
        return NULL;
    }
    document->pages = pages;
    struct draw_page *page = &pages[document->count++];
    *page = (struct draw_page){.width_mm = width_mm,
                               .height_mm = height_mm,
                               .title = draw_clean_text(document->arena, title)};
    return page;
}

static void check_shape(const struct draw_shape *shape) {
    for (size_t i = 0; i < shape->point_count; i++) {
        assert(isfinite(shape->points[i].x_mm) && isfinite(shape->points[i].y_mm));
    }
    assert(shape->kind == DRAW_LINE || shape->kind == DRAW_POLYGON || shape->point_count == 1);
    assert(isfinite(shape->width_mm) && isfinite(shape->size_mm) && isfinite(shape->turn_rad));
    assert(shape->kind != DRAW_FRACTION || (shape->numerator >= 0 && shape->denominator > 0));
    assert(shape->hatch_gap_mm >= 0 && isfinite(shape->hatch_rad));
    (void)shape;
}

/* What is searched for when the caller gave the parts alone. */
static struct base_text plain_fraction(struct base_arena *arena, const struct draw_shape *shape) {
    struct base_builder out = {.arena = arena};
    base_add_text(&out, shape->whole);
    if (shape->whole.length > 0) {
        base_add_char(&out, ' ');
    }
    base_add_integer(&out, shape->numerator);
    base_add_char(&out, '/');
    base_add_integer(&out, shape->denominator);
    base_add_text(&out, shape->tail);
    return base_built(&out);
}

static void copy_texts(struct base_arena *arena, struct draw_shape *shape) {
    shape->text = draw_clean_text(arena, shape->text);
    shape->whole = draw_clean_text(arena, shape->whole);
    shape->tail = draw_clean_text(arena, shape->tail);
    shape->id = draw_clean_text(arena, shape->id);
    if (shape->kind == DRAW_FRACTION && shape->text.length == 0) {
        shape->text = plain_fraction(arena, shape);
    }
}

void draw_add(struct draw_document *document, struct draw_page *page, struct draw_shape shape) {
    if (page == NULL || base_arena_failed(document->arena)) {
        return;
    }
    check_shape(&shape);
    struct draw_point *points = base_take(document->arena, shape.point_count, sizeof *points);
    struct draw_shape *shapes =
        base_grow(document->arena, page->shapes, &page->capacity, page->count, sizeof *shapes);
    copy_texts(document->arena, &shape);
    if (points == NULL || shapes == NULL) {
        return;
    }
    if (shape.point_count > 0) {
        memcpy(points, shape.points, shape.point_count * sizeof *points);
    }
    shape.points = points;
    page->shapes = shapes;
    page->shapes[page->count++] = shape;
}

/* many because they are one measure */
void draw_add_line(struct draw_document *document, struct draw_page *page, struct draw_point a,
                   struct draw_point b, double width_mm, enum draw_stroke stroke,
                   enum draw_ink ink) {
    draw_add_polyline(document, page, (struct draw_point[]){a, b}, 2,
                      (struct draw_look){.width_mm = width_mm, .stroke = stroke, .ink = ink});
}

/* many because it is the shorthand of draw_add_label */
void draw_add_text(struct draw_document *document, struct draw_page *page, struct draw_point at,
                   struct base_text text, double size_mm, enum draw_face face,
                   enum draw_anchor anchor, enum draw_ink ink) {
    draw_add_label(
        document, page, at, draw_label_of(text),
        (struct draw_type){.size_mm = size_mm, .face = face, .anchor = anchor, .ink = ink});
}

/* ---- shapes -------------------------------------------------------------------------------- */

static struct draw_shape looking(enum draw_kind kind, struct draw_look look) {
    return (struct draw_shape){.kind = kind,
                               .ink = look.ink,
                               .stroke = look.stroke,
                               .width_mm = look.width_mm,
                               .filled = look.filled,
                               .fill = look.fill,
                               .hatched = look.hatched,
                               .hatch_rad = look.hatch_rad,
                               .hatch_gap_mm = look.hatch_gap_mm,
                               .id = look.id};
}

static void add_points(struct draw_document *document, struct draw_page *page,
                       const struct draw_point *points, size_t count, struct draw_shape shape) {
    struct draw_point *copy = base_take(document->arena, count, sizeof *copy);
    if (copy == NULL || count == 0) {
        return;
    }
    memcpy(copy, points, count * sizeof *copy);
    shape.points = copy;
    shape.point_count = count;
    draw_add(document, page, shape);
}

void draw_add_polyline(struct draw_document *document, struct draw_page *page,
                       const struct draw_point *points, size_t count, struct draw_look look) {
    add_points(document, page, points, count, looking(DRAW_LINE, look));
}

void draw_add_polygon(struct draw_document *document, struct draw_page *page,
                      const struct draw_point *points, size_t count, struct draw_look look) {
    add_points(document, page, points, count, looking(DRAW_POLYGON, look));
}

void draw_add_box(struct draw_document *document, struct draw_page *page, struct draw_box box,
                  struct draw_look look) {
    draw_add_polygon(document, page,
                     (struct draw_point[]){{box.left_mm, box.top_mm},
                                           {box.right_mm, box.top_mm},
                                           {box.right_mm, box.bottom_mm},
                                           {box.left_mm, box.bottom_mm}},
                     4, look);
}

void draw_add_circle(struct draw_document *document, struct draw_page *page,
                     struct draw_point centre, double radius_mm, struct draw_look look) {
    struct draw_shape shape = looking(DRAW_CIRCLE, look);
    shape.radius_mm = radius_mm;
    add_points(document, page, &centre, 1, shape);
}

void draw_add_arc(struct draw_document *document, struct draw_page *page, struct draw_arc arc,
                  struct draw_look look) {
    struct draw_shape shape = looking(DRAW_ARC, look);
    shape.radius_mm = arc.radius_mm;
    shape.from_rad = arc.from_rad;
    shape.to_rad = arc.to_rad;
    while (shape.to_rad < shape.from_rad) {
        shape.to_rad += 2 * DRAW_PI;
    }
    add_points(document, page, &arc.centre, 1, shape);
}

void draw_add_label(struct draw_document *document, struct draw_page *page, struct draw_point at,
                    struct draw_label label, struct draw_type type) {
    bool stacked = label.denominator > 0;
    struct draw_shape shape = {.kind = stacked ? DRAW_FRACTION : DRAW_TEXT,
                               .ink = type.ink,
                               .text = label.text,
                               .size_mm = type.size_mm,
                               .face = type.face,
                               .anchor = type.anchor,
                               .turn_rad = type.turn_rad,
                               .whole = label.whole,
                               .tail = label.tail,
                               .numerator = label.numerator,
                               .denominator = label.denominator,
                               .id = type.id};
    if (type.cleared) {
        struct draw_point corners[4];
        shape.points = &at;
        shape.point_count = 1;
        draw_find_text_corners(&shape, corners);
        draw_add_polygon(document, page, corners, 4,
                         (struct draw_look){.filled = true, .fill = DRAW_WHITE});
    }
    add_points(document, page, &at, 1, shape);
}

/* ---- looks --------------------------------------------------------------------------------- */

struct draw_rgb draw_find_rgb(enum draw_ink ink) {
    static const struct draw_rgb INKS[] = {
        [DRAW_BLACK] = {26, 26, 26},    [DRAW_GREY] = {96, 94, 91},
        [DRAW_LIGHT] = {206, 203, 198}, [DRAW_COPPER] = {168, 88, 42},
        [DRAW_WATER] = {34, 104, 150},  [DRAW_WHITE] = {255, 255, 255},
    };
    return INKS[ink];
}

size_t draw_find_dashes(enum draw_stroke stroke, double dashes_mm[DRAW_DASHES]) {
    static const double LENGTHS_MM[][DRAW_DASHES] = {
        [DRAW_SOLID] = {0},
        [DRAW_DASHED] = {2.4, 1.2},
        [DRAW_DOTTED] = {0.3, 0.9},
        [DRAW_CENTRE] = {7.0, 1.2, 1.4, 1.2},
        [DRAW_PHANTOM] = {7.0, 1.0, 1.0, 1.0, 1.0, 1.0},
    };
    static const size_t COUNTS[] = {[DRAW_SOLID] = 0,
                                    [DRAW_DASHED] = 2,
                                    [DRAW_DOTTED] = 2,
                                    [DRAW_CENTRE] = 4,
                                    [DRAW_PHANTOM] = 6};
    memcpy(dashes_mm, LENGTHS_MM[stroke], sizeof LENGTHS_MM[stroke]);
    return COUNTS[stroke];
}

struct draw_point draw_arc_point(const struct draw_shape *arc, double angle_rad) {
    return (struct draw_point){arc->points[0].x_mm + arc->radius_mm * cos(angle_rad),
                               arc->points[0].y_mm - arc->radius_mm * sin(angle_rad)};
}

/* ---- words --------------------------------------------------------------------------------- */

const char *draw_kind_word(enum draw_kind kind) {
    static const char *const WORDS[] = {
        [DRAW_LINE] = "line",         [DRAW_POLYGON] = "polygon", [DRAW_CIRCLE] = "circle",
        [DRAW_ARC] = "arc",           [DRAW_TEXT] = "text",       [DRAW_FRACTION] = "fraction",
        [DRAW_LINK_TARGET] = "place",
    };
    return WORDS[kind];
}

const char *draw_face_word(enum draw_face face) {
    static const char *const WORDS[] = {
        [DRAW_REGULAR] = "regular", [DRAW_BOLD] = "bold", [DRAW_ITALIC] = "italic"};
    return WORDS[face];
}

const char *draw_anchor_word(enum draw_anchor anchor) {
    static const char *const WORDS[] = {
        [DRAW_START] = "start", [DRAW_MIDDLE] = "middle", [DRAW_END] = "end"};
    return WORDS[anchor];
}

const char *draw_stroke_word(enum draw_stroke stroke) {
    static const char *const WORDS[] = {[DRAW_SOLID] = "solid",
                                        [DRAW_DASHED] = "dashed",
                                        [DRAW_DOTTED] = "dotted",
                                        [DRAW_CENTRE] = "centre",
                                        [DRAW_PHANTOM] = "phantom"};
    return WORDS[stroke];
}

const char *draw_ink_word(enum draw_ink ink) {
    static const char *const WORDS[] = {
        [DRAW_BLACK] = "black",   [DRAW_GREY] = "grey",   [DRAW_LIGHT] = "light",
        [DRAW_COPPER] = "copper", [DRAW_WATER] = "water", [DRAW_WHITE] = "white",
    };
    return WORDS[ink];
}

void draw_add_decimal(struct base_builder *builder, double value, int decimals) {
    double scale = 1;
    for (int i = 0; i < decimals; i++) {
        scale *= 10;
    }
    double scaled = floor(fabs(value) * scale + 0.5);
    assert(scaled < 9e15);
    int64_t whole = (int64_t)scaled;
    if (value < 0 && whole > 0) {
        base_add_char(builder, '-');
    }
    int64_t step = (int64_t)scale;
    base_add_integer(builder, whole / step);
    if (decimals > 0) {
        base_add_char(builder, '.');
    }
    int64_t rest = whole % step;
    for (step /= 10; step > 0; step /= 10) {
        base_add_char(builder, (char)('0' + rest / step % 10));
    }
}
