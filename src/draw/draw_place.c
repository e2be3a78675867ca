/* SPDX-License-Identifier: Apache-2.0 */
/* Room on a page: what is taken, and where a label may still stand. */
#include "draw/draw_inside.h"

#include <assert.h>
#include <math.h>

static const double LINE_STEP_MM = 1.5;  /* boxes along a line */
static const double KEEP_CLEAR_MM = 0.6; /* labels keep this far from what is taken */
static const double CALLOUT_CLEAR_MM = 1.5;
static const double LEADER_GAP_MM = 0.6; /* between a leader and its label */
static const double RING_MM = 3.0;       /* from one ring of places to the next */
enum { RINGS = 12, DIRECTIONS = 16 };

void draw_take_box(struct draw_boxes *boxes, struct draw_box box) {
    struct draw_box *items =
        base_grow(boxes->arena, boxes->items, &boxes->capacity, boxes->count, sizeof *items);
    if (items == NULL) {
        return;
    }
    boxes->items = items;
    boxes->items[boxes->count++] = box;
}

static struct draw_box box_of_ends(struct draw_point a, struct draw_point b) {
    return (struct draw_box){fmin(a.x_mm, b.x_mm), fmin(a.y_mm, b.y_mm), fmax(a.x_mm, b.x_mm),
                             fmax(a.y_mm, b.y_mm)};
}

static struct draw_point between(struct draw_point a, struct draw_point b, double share_1) {
    return (struct draw_point){a.x_mm + share_1 * (b.x_mm - a.x_mm),
                               a.y_mm + share_1 * (b.y_mm - a.y_mm)};
}

void draw_take_line(struct draw_boxes *boxes, struct draw_point a, struct draw_point b) {
    double across_mm = fmin(fabs(b.x_mm - a.x_mm), fabs(b.y_mm - a.y_mm));
    int steps = 1 + (int)fmin(across_mm / LINE_STEP_MM, 2000); /* a level line needs one box */
    for (int i = 0; i < steps; i++) {
        draw_take_box(boxes, box_of_ends(between(a, b, (double)i / steps),
                                         between(a, b, (double)(i + 1) / steps)));
    }
}

static void take_outline(struct draw_boxes *boxes, const struct draw_shape *shape) {
    size_t lines = shape->kind == DRAW_POLYGON ? shape->point_count : shape->point_count - 1;
    for (size_t i = 0; i < lines; i++) {
        draw_take_line(boxes, shape->points[i], shape->points[(i + 1) % shape->point_count]);
    }
}

static void take_arc(struct draw_boxes *boxes, const struct draw_shape *shape) {
    enum { PIECES = 16 };
    double from_rad = shape->kind == DRAW_CIRCLE ? 0 : shape->from_rad;
    double to_rad = shape->kind == DRAW_CIRCLE ? 2 * DRAW_PI : shape->to_rad;
    double step_rad = (to_rad - from_rad) / PIECES;
    for (int i = 0; i < PIECES; i++) {
        draw_take_line(boxes, draw_arc_point(shape, from_rad + i * step_rad),
                       draw_arc_point(shape, from_rad + (i + 1) * step_rad));
    }
}

void draw_take_shapes(struct draw_boxes *boxes, const struct draw_page *page) {
    for (size_t i = 0; page != NULL && i < page->count; i++) {
        const struct draw_shape *shape = &page->shapes[i];
        switch (shape->kind) {
        case DRAW_LINE:
        case DRAW_POLYGON:
            take_outline(boxes, shape);
            break;
        case DRAW_CIRCLE:
        case DRAW_ARC:
            take_arc(boxes, shape);
            break;
        case DRAW_TEXT:
        case DRAW_FRACTION:
            draw_take_box(boxes, draw_find_box(shape));
            break;
        case DRAW_LINK_TARGET:
            break;
        }
    }
}

static double common_area(struct draw_box a, struct draw_box b) {
    double width_mm = fmin(a.right_mm, b.right_mm) - fmax(a.left_mm, b.left_mm);
    double height_mm = fmin(a.bottom_mm, b.bottom_mm) - fmax(a.top_mm, b.top_mm);
    /* a line's box has no area of its own: what it crosses counts by its length */
    bool apart = width_mm < 0 || height_mm < 0;
    return apart ? 0 : fmax(width_mm, 0.1) * fmax(height_mm, 0.1);
}

bool draw_is_free(const struct draw_boxes *boxes, struct draw_box box) {
    for (size_t i = 0; i < boxes->count; i++) {
        if (common_area(boxes->items[i], box) > 0) {
            return false;
        }
    }
    return true;
}

/* ---- callouts ------------------------------------------------------------------------------ */

struct place {
    struct draw_box box;
    struct draw_point leader_from, leader_to;
    bool leader;
    double badness; /* 0 = free */
};

static struct draw_box padded(struct draw_box box) {
    return (struct draw_box){box.left_mm - KEEP_CLEAR_MM, box.top_mm - KEEP_CLEAR_MM,
                             box.right_mm + KEEP_CLEAR_MM, box.bottom_mm + KEEP_CLEAR_MM};
}

static double outside_area(struct draw_box box, struct draw_box bounds) {
    bool none = bounds.right_mm <= bounds.left_mm || bounds.bottom_mm <= bounds.top_mm;
    double area = (box.right_mm - box.left_mm) * (box.bottom_mm - box.top_mm);
    return none ? 0 : fmax(0, area - common_area(box, bounds));
}

/* A leader may start on the thing it points at, but not run through another label or line. */
static double leader_badness(const struct draw_boxes *boxes, struct draw_point from,
                             struct draw_point to) {
    enum { SAMPLES = 12 };
    double badness = 0;
    for (int i = 4; i <= SAMPLES; i++) {
        struct draw_point at = between(from, to, (double)i / SAMPLES);
        struct draw_box spot = {at.x_mm - 0.1, at.y_mm - 0.1, at.x_mm + 0.1, at.y_mm + 0.1};
        badness += draw_is_free(boxes, spot) ? 0 : 0.5;
    }
    return badness;
}

/* The place in one direction on one ring: the label's nearest point stands reach away from at. */
static struct place find_place(const struct draw_boxes *boxes, const struct draw_callout *callout,
                               int ring, int direction) {
    double width_mm = draw_label_width(callout->label, callout->type.size_mm, callout->type.face);
    double height_mm = callout->type.size_mm;
    double clear_mm = callout->clear_mm > 0 ? callout->clear_mm : CALLOUT_CLEAR_MM;
    double reach_mm = clear_mm + ring * RING_MM;
    double turn_rad = direction * 2 * DRAW_PI / DIRECTIONS;
    double x = cos(turn_rad);
    double y = -sin(turn_rad);
    struct draw_point near = {callout->at.x_mm + reach_mm * x, callout->at.y_mm + reach_mm * y};
    double left_mm = near.x_mm + (x - 1) / 2 * width_mm;
    double top_mm = near.y_mm + (y - 1) / 2 * height_mm;
    struct place place = {
        .box = {left_mm, top_mm, left_mm + width_mm, top_mm + height_mm},
        .leader_from = {callout->at.x_mm + clear_mm * x, callout->at.y_mm + clear_mm * y},
        .leader_to = {near.x_mm - LEADER_GAP_MM * x, near.y_mm - LEADER_GAP_MM * y},
        .leader = ring > 0};
    struct draw_box wanted = padded(place.box);
    for (size_t i = 0; i < boxes->count; i++) {
        place.badness += common_area(boxes->items[i], wanted);
    }
    place.badness += 10 * outside_area(place.box, callout->bounds);
    place.badness += place.leader ? leader_badness(boxes, place.leader_from, place.leader_to) : 0;
    return place;
}

static struct place choose_place(const struct draw_boxes *boxes,
                                 const struct draw_callout *callout) {
    /* level and upright places first: they read best */
    static const int ORDER[DIRECTIONS] = {0, 4, 12, 8, 2, 14, 6, 10, 1, 15, 3, 13, 5, 11, 7, 9};
    struct place best = {.badness = (double)INFINITY};
    for (int ring = 0; ring < RINGS && best.badness > 0; ring++) {
        for (int i = 0; i < DIRECTIONS && best.badness > 0; i++) {
            struct place place = find_place(boxes, callout, ring, ORDER[i]);
            best = place.badness < best.badness ? place : best;
        }
    }
    return best;
}

bool draw_add_callout(struct draw_document *document, struct draw_page *page,
                      struct draw_boxes *boxes, const struct draw_callout *callout) {
    assert(callout->type.size_mm > 0);
    struct place place = choose_place(boxes, callout);
    if (place.leader) {
        draw_add_line(document, page, place.leader_from, place.leader_to, 0.13, DRAW_SOLID,
                      DRAW_GREY);
        draw_take_line(boxes, place.leader_from, place.leader_to);
    }
    struct draw_type type = callout->type;
    type.anchor = DRAW_START;
    type.turn_rad = 0;
    struct draw_point at = {place.box.left_mm, place.box.bottom_mm - 0.22 * type.size_mm};
    draw_add_label(document, page, at, callout->label, type);
    draw_take_box(boxes, place.box);
    return place.badness <= 0;
}
