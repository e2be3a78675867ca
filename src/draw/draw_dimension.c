/* SPDX-License-Identifier: Apache-2.0 */
/* Dimension lines and the scale bar. */
#include "draw/draw_inside.h"

#include <assert.h>
#include <math.h>

static const double SIZE_MM = 3.4; /* the figures of a fraction are then 1.2 mm high */
static const double LINE_MM = 0.13;
static const double ARROW_MM = 2.2;
static const double ARROW_HALF_MM = 0.36;
static const double TICK_MM = 1.1; /* half of a slanted tick, along x and y */
static const double GAP_MM = 1.0;  /* between text and the ends of its line */
static const double TAIL_MM = 2.6; /* of a line outside its arrowheads */
static const double EXTENSION_OFF_MM = 1.0;
static const double EXTENSION_PAST_MM = 1.2;

struct frame { /* along the dimension line, and to the left of it */
    struct draw_point from, to;
    struct draw_point along, left;
    double length_mm;
};

static struct draw_point moved(struct draw_point point, struct draw_point direction, double by_mm) {
    return (struct draw_point){point.x_mm + direction.x_mm * by_mm,
                               point.y_mm + direction.y_mm * by_mm};
}

static struct frame find_frame(const struct draw_dimension *dimension) {
    double x = dimension->b.x_mm - dimension->a.x_mm;
    double y = dimension->b.y_mm - dimension->a.y_mm;
    double length_mm = hypot(x, y);
    assert(length_mm > 0);
    struct frame frame = {.length_mm = length_mm,
                          .along = {x / length_mm, y / length_mm},
                          .left = {y / length_mm, -x / length_mm}};
    frame.from = moved(dimension->a, frame.left, dimension->offset_mm);
    frame.to = moved(dimension->b, frame.left, dimension->offset_mm);
    return frame;
}

/* Text is read from below or from the right: its turn lies in (-90, 90] degrees. */
static double reading_turn(struct draw_point along) {
    double turn_rad = atan2(-along.y_mm, along.x_mm);
    if (turn_rad > DRAW_PI / 2 + 1e-6) {
        turn_rad -= DRAW_PI;
    } else if (turn_rad <= -DRAW_PI / 2 + 1e-6) {
        turn_rad += DRAW_PI;
    }
    return turn_rad;
}

struct painter {
    struct draw_document *document;
    struct draw_page *page;
    const struct draw_dimension *dimension;
    struct frame frame;
};

static void add_line(const struct painter *to, struct draw_point a, struct draw_point b) {
    draw_add_line(to->document, to->page, a, b, LINE_MM, DRAW_SOLID, to->dimension->ink);
    if (to->dimension->boxes != NULL) {
        draw_take_line(to->dimension->boxes, a, b);
    }
}

/* sense 1: the tip points along, -1: back. */
static void add_end(const struct painter *to, struct draw_point tip, double sense) {
    struct draw_point along = to->frame.along;
    struct draw_point left = to->frame.left;
    if (to->dimension->ticks) {
        struct draw_point a = moved(moved(tip, along, -TICK_MM), left, -TICK_MM);
        struct draw_point b = moved(moved(tip, along, TICK_MM), left, TICK_MM);
        draw_add_line(to->document, to->page, a, b, 0.3, DRAW_SOLID, to->dimension->ink);
        return;
    }
    struct draw_point foot = moved(tip, along, -sense * ARROW_MM);
    struct draw_point corners[] = {tip, moved(foot, left, ARROW_HALF_MM),
                                   moved(foot, left, -ARROW_HALF_MM)};
    draw_add_polygon(to->document, to->page, corners, 3,
                     (struct draw_look){.filled = true, .fill = to->dimension->ink});
}

static void add_extensions(const struct painter *to) {
    double offset_mm = to->dimension->offset_mm;
    double sense = offset_mm < 0 ? -1 : 1;
    if (fabs(offset_mm) <= EXTENSION_OFF_MM) {
        return;
    }
    struct draw_point feet[] = {to->dimension->a, to->dimension->b};
    for (int i = 0; i < 2; i++) {
        add_line(to, moved(feet[i], to->frame.left, sense * EXTENSION_OFF_MM),
                 moved(feet[i], to->frame.left, offset_mm + sense * EXTENSION_PAST_MM));
    }
}

/* ---- where the text stands ----------------------------------------------------------------- */

enum place { IN_LINE = 0, PAST_B, PAST_A, ON_TOP, PLACES };

struct text_spot {
    struct draw_point centre; /* middle of the text's figures */
    struct draw_box box;
};

static double dimension_size(const struct draw_dimension *dimension) {
    return dimension->size_mm > 0 ? dimension->size_mm : SIZE_MM;
}

static struct draw_shape text_shape(const struct painter *to, struct draw_point *at) {
    const struct draw_label *label = &to->dimension->label;
    return (struct draw_shape){.kind = label->denominator > 0 ? DRAW_FRACTION : DRAW_TEXT,
                               .points = at,
                               .point_count = 1,
                               .ink = to->dimension->ink,
                               .size_mm = dimension_size(to->dimension),
                               .anchor = DRAW_MIDDLE,
                               .turn_rad = reading_turn(to->frame.along),
                               .text = label->text,
                               .whole = label->whole,
                               .tail = label->tail,
                               .numerator = label->numerator,
                               .denominator = label->denominator};
}

/* The baseline below a centre: figures stand with their middle on the line. */
static struct draw_point baseline(const struct painter *to, struct draw_point centre) {
    double turn_rad = reading_turn(to->frame.along);
    double down_mm = dimension_size(to->dimension) * draw_digit_height_unit / DRAW_UNITS_PER_EM / 2;
    return (struct draw_point){centre.x_mm + sin(turn_rad) * down_mm,
                               centre.y_mm + cos(turn_rad) * down_mm};
}

static double text_width(const struct painter *to) {
    return draw_label_width(to->dimension->label, dimension_size(to->dimension), DRAW_REGULAR);
}

static bool arrows_fit(const struct painter *to) {
    double ends_mm = to->dimension->ticks ? 0 : 2 * ARROW_MM;
    return to->frame.length_mm >= ends_mm + 0.6;
}

static bool text_fits(const struct painter *to) {
    double ends_mm = 2 * (to->dimension->ticks ? TICK_MM : ARROW_MM) + 1.0;
    return to->frame.length_mm >= text_width(to) + 2 * GAP_MM + ends_mm;
}

/* How far a line reaches past a measured end when the text stands there. */
static double reach_past(const struct painter *to) {
    return arrows_fit(to) && !to->dimension->ticks ? 0 : TAIL_MM;
}

static struct text_spot find_spot(const struct painter *to, enum place place) {
    const struct frame *frame = &to->frame;
    double half_mm = text_width(to) / 2;
    double beyond_mm = frame->length_mm / 2 + reach_past(to) + GAP_MM + half_mm;
    struct draw_point middle = moved(frame->from, frame->along, frame->length_mm / 2);
    double outward = to->dimension->offset_mm < 0 ? -1 : 1;
    struct text_spot spot = {.centre = middle};
    if (place == PAST_B) {
        spot.centre = moved(middle, frame->along, beyond_mm);
    } else if (place == PAST_A) {
        spot.centre = moved(middle, frame->along, -beyond_mm);
    } else if (place == ON_TOP) {
        double up_mm = EXTENSION_PAST_MM + 0.7 * dimension_size(to->dimension);
        spot.centre = moved(middle, frame->left, outward * up_mm);
    }
    struct draw_point at = baseline(to, spot.centre);
    struct draw_shape shape = text_shape(to, &at);
    spot.box = draw_find_box(&shape);
    return spot;
}

static enum place choose_place(const struct painter *to, struct text_spot *spot) {
    enum place first = text_fits(to) ? IN_LINE : PAST_B;
    const struct draw_boxes *boxes = to->dimension->boxes;
    for (int place = (int)first; place < PLACES; place++) {
        *spot = find_spot(to, (enum place)place);
        if (boxes == NULL || draw_is_free(boxes, spot->box)) {
            return (enum place)place;
        }
    }
    *spot = find_spot(to, first);
    return first;
}

static void add_broken_line(const struct painter *to) {
    double free_mm = (to->frame.length_mm - text_width(to)) / 2 - GAP_MM;
    add_line(to, to->frame.from, moved(to->frame.from, to->frame.along, free_mm));
    add_line(to, moved(to->frame.to, to->frame.along, -free_mm), to->frame.to);
}

static void add_whole_line(const struct painter *to) {
    double past_mm = reach_past(to);
    add_line(to, moved(to->frame.from, to->frame.along, -past_mm),
             moved(to->frame.to, to->frame.along, past_mm));
}

struct draw_box draw_add_dimension(struct draw_document *document, struct draw_page *page,
                                   const struct draw_dimension *dimension) {
    struct painter to = {document, page, dimension, find_frame(dimension)};
    struct text_spot spot;
    enum place place = choose_place(&to, &spot);
    add_extensions(&to);
    if (place == IN_LINE) {
        add_broken_line(&to);
    } else {
        add_whole_line(&to);
    }
    double sense = arrows_fit(&to) ? 1 : -1; /* outside, the arrows point inward */
    add_end(&to, to.frame.from, -sense);
    add_end(&to, to.frame.to, sense);
    struct draw_point at = baseline(&to, spot.centre);
    draw_add(document, page, text_shape(&to, &at));
    if (dimension->boxes != NULL) {
        draw_take_box(dimension->boxes, spot.box);
    }
    return spot.box;
}

/* ---- scale bar ----------------------------------------------------------------------------- */

struct step { /* a round length and how it is written */
    double real_mm;
    int number;
    const char *unit;
};

static const struct step INCH_STEPS[] = {
    {25.4, 1, "\""}, {50.8, 2, "\""},  {76.2, 3, "\""},   {152.4, 6, "\""},
    {304.8, 1, "'"}, {609.6, 2, "'"},  {1524, 5, "'"},    {3048, 10, "'"},
    {6096, 20, "'"}, {15240, 50, "'"}, {30480, 100, "'"},
};
static const struct step METRIC_STEPS[] = {
    {10, 10, " mm"},   {20, 20, " mm"},   {50, 50, " mm"},   {100, 100, " mm"},
    {200, 200, " mm"}, {500, 500, " mm"}, {1000, 1, " m"},   {2000, 2, " m"},
    {5000, 5, " m"},   {10000, 10, " m"}, {20000, 20, " m"}, {50000, 50, " m"},
};
enum {
    BAR_PARTS = 4,
    INCH_STEP_COUNT = sizeof INCH_STEPS / sizeof *INCH_STEPS,
    METRIC_STEP_COUNT = sizeof METRIC_STEPS / sizeof *METRIC_STEPS
};

static struct step choose_step(const struct draw_scale_bar *bar, double longest_mm) {
    const struct step *steps = bar->metric ? METRIC_STEPS : INCH_STEPS;
    size_t count = bar->metric ? METRIC_STEP_COUNT : INCH_STEP_COUNT;
    struct step best = steps[0];
    for (size_t i = 1; i < count; i++) {
        if (steps[i].real_mm * BAR_PARTS / bar->scale_1 <= longest_mm) {
            best = steps[i];
        }
    }
    return best;
}

/* 0, 5', 10', ...; whole feet are written as feet; the unit stands at the last number alone. */
static struct base_text step_text(struct base_arena *arena, struct step step, int part) {
    struct base_builder out = {.arena = arena};
    base_add_integer(&out, (int64_t)step.number * part);
    bool marks = step.unit[0] != ' ';
    if (part > 0 && (marks || part == BAR_PARTS)) {
        base_add_string(&out, step.unit);
    }
    return base_built(&out);
}

struct draw_box draw_add_scale_bar(struct draw_document *document, struct draw_page *page,
                                   struct draw_scale_bar bar) {
    assert(bar.scale_1 > 0);
    static const double HEIGHT_MM = 1.2;
    struct step step = choose_step(&bar, bar.longest_mm > 0 ? bar.longest_mm : 60);
    double part_mm = step.real_mm / bar.scale_1;
    for (int i = 0; i < BAR_PARTS; i++) {
        struct draw_box box = {bar.at.x_mm + i * part_mm, bar.at.y_mm - HEIGHT_MM,
                               bar.at.x_mm + (i + 1) * part_mm, bar.at.y_mm};
        draw_add_box(document, page, box,
                     (struct draw_look){.width_mm = LINE_MM,
                                        .filled = true,
                                        .fill = i % 2 == 0 ? DRAW_BLACK : DRAW_WHITE});
    }
    double size_mm = 2.5;
    struct draw_point at = {bar.at.x_mm, bar.at.y_mm + 2.8};
    double right_mm = bar.at.x_mm + BAR_PARTS * part_mm;
    for (int i = 0; i <= BAR_PARTS; i++) {
        struct base_text text = step_text(document->arena, step, i);
        at.x_mm = bar.at.x_mm + i * part_mm;
        draw_add_text(document, page, at, text, size_mm, DRAW_REGULAR, DRAW_MIDDLE, DRAW_GREY);
        right_mm = fmax(right_mm, at.x_mm + draw_text_width(text, size_mm, DRAW_REGULAR) / 2);
    }
    return (struct draw_box){bar.at.x_mm - 1, bar.at.y_mm - HEIGHT_MM, right_mm, bar.at.y_mm + 3.5};
}
