/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Sections of eaves, in inches: the roof edge's wood face at x = 0, the wall to the right, roof
 * pitch 6 in 12. Not to scale with any house; only the letters count.
 */
#include "documents/guide_inside.h"

#define PITCH       0.5
#define TAIL_TALL   6.15 /* plumb height of a 5 1/2 in tail: 5.5 / cos */
#define ALONG_RIGHT 22.0 /* where the section is broken off */
#define SOFFIT      11.0
#define COVER       1.75

static const struct draw_look WOOD = {
    .width_mm = 0.3, .ink = DRAW_BLACK, .hatched = true, .hatch_rad = 0.9, .hatch_gap_mm = 2.2};
static const struct draw_look PLAIN = {
    .width_mm = 0.3, .ink = DRAW_BLACK, .filled = true, .fill = DRAW_WHITE};
static const struct draw_look WALL_LOOK = {
    .width_mm = 0.3, .ink = DRAW_BLACK, .hatched = true, .hatch_rad = 2.4, .hatch_gap_mm = 1.6};
static const struct draw_look METAL = {.width_mm = 0.6, .ink = DRAW_COPPER};
static const struct draw_look THIN = {.width_mm = 0.15, .stroke = DRAW_DASHED, .ink = DRAW_GREY};

/* Underside of the roof boards at x. */
static double boards_y(double x) {
    return PITCH * x;
}

/* Boards and cover over the wood, and the drip metal at their edge. */
static void draw_roof(const struct guide_sketch *sketch) {
    const double boards[] = {-0.2,        boards_y(-0.2),
                             ALONG_RIGHT, boards_y(ALONG_RIGHT),
                             ALONG_RIGHT, boards_y(ALONG_RIGHT) + 0.9,
                             -0.2,        boards_y(-0.2) + 0.9};
    const double cover[] = {
        -COVER,      boards_y(-COVER) + 0.9,      ALONG_RIGHT, boards_y(ALONG_RIGHT) + 0.9,
        ALONG_RIGHT, boards_y(ALONG_RIGHT) + 1.7, -COVER,      boards_y(-COVER) + 1.7};
    const double drip[] = {3.0, boards_y(3.0) + 0.95, -0.7, boards_y(-0.7) + 0.95, -0.7, -2.2};
    guide_polygon(sketch, boards, 4, PLAIN);
    guide_polygon(sketch, cover, 4, PLAIN);
    guide_line(sketch, drip, 3, METAL);
}

static void draw_wall(const struct guide_sketch *sketch) {
    const double wall[] = {SOFFIT,       -14.0,
                           SOFFIT + 5.0, -14.0,
                           SOFFIT + 5.0, boards_y(SOFFIT + 5.0) - TAIL_TALL,
                           SOFFIT,       boards_y(SOFFIT) - TAIL_TALL};
    guide_polygon(sketch, wall, 4, WALL_LOOK);
    guide_words(sketch, SOFFIT + 5.6, -11.0, "wall", DRAW_START);
}

static void draw_rafter(const struct guide_sketch *sketch, double from_x) {
    const double rafter[] = {
        from_x,      boards_y(from_x) - TAIL_TALL, from_x,      boards_y(from_x),
        ALONG_RIGHT, boards_y(ALONG_RIGHT),        ALONG_RIGHT, boards_y(ALONG_RIGHT) - TAIL_TALL};
    guide_polygon(sketch, rafter, 4, WOOD);
}

/* What every section shows: soffit, cover, drip metal. */
static void mark_common(const struct guide_sketch *sketch) {
    const double plumb_face[] = {0.0, -2.0, 0.0, -10.5};
    const double edge[] = {-COVER, boards_y(-COVER) + 0.6, -COVER, 5.6};
    const double face_up[] = {0.0, 2.2, 0.0, 5.6};
    guide_line(sketch, plumb_face, 2, THIN);
    guide_line(sketch, edge, 2, THIN);
    guide_line(sketch, face_up, 2, THIN);
    guide_dimension(sketch, (struct guide_mark){0.0, -9.6, SOFFIT, -9.6, 0.0, "E"});
    guide_dimension(sketch, (struct guide_mark){-COVER, 4.9, 0.0, 4.9, 0.0, "F"});
    guide_dimension(sketch, (struct guide_mark){-0.7, 0.6, -0.7, -2.2, -9.0, "G"});
    guide_words(sketch, 14.2, boards_y(14.2) + 3.4, "roof cover and boards", DRAW_END);
}

static struct guide_sketch section_at(struct documents_sheet *sheet, struct draw_box box,
                                      double left_mm) {
    return (struct guide_sketch){
        .sheet = sheet, .origin = {box.left_mm + left_mm, box.top_mm + 40.0}, .scale_mm = 2.45};
}

/* ---- plain tails --------------------------------------------------------------------------- */

/* Three ways a tail ends. */
static void draw_cuts(struct documents_sheet *sheet, struct draw_box box) {
    static const char *const NAMES[] = {"plumb", "square", "shaped"};
    for (int i = 0; i < 3; i++) {
        struct guide_sketch sketch = {.sheet = sheet,
                                      .origin = {box.left_mm + 102.0 + 25.0 * i, box.top_mm + 58.0},
                                      .scale_mm = 1.5};
        const double plumb[] = {0.0, -TAIL_TALL, 0.0, 0.0, 11.0, 5.5, 11.0, 5.5 - TAIL_TALL};
        /* square: the foot lies TAIL depth x sin back along the level */
        const double square[] = {2.46, -4.92, 0.0, 0.0, 11.0, 5.5, 11.0, 5.5 - TAIL_TALL};
        const double shaped[] = {5.0,  -3.65, 4.4,  -4.3,           3.2, -4.3, 2.4, -3.3,
                                 2.0,  -2.4,  0.8,  -2.2,           0.0, -1.4, 0.0, 0.0,
                                 11.0, 5.5,   11.0, 5.5 - TAIL_TALL};
        const double *shapes[] = {plumb, square, shaped};
        static const size_t COUNTS[] = {4, 4, 10};
        guide_polygon(&sketch, shapes[i], COUNTS[i], WOOD);
        guide_words(&sketch, 5.0, -8.6, NAMES[i], DRAW_MIDDLE);
    }
}

/* From the front: the roof edge and three tails under it. */
static void draw_tail_ends(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = {
        .sheet = sheet, .origin = {box.left_mm + 100.0, box.top_mm + 22.0}, .scale_mm = 1.3};
    const double roof[] = {0.0, 0.0, 56.0, 0.0, 56.0, 3.0, 0.0, 3.0};
    guide_polygon(&sketch, roof, 4, PLAIN);
    static const double CENTRES[] = {9.0, 27.0, 45.0};
    for (int i = 0; i < 3; i++) {
        double x = CENTRES[i];
        const double tail[] = {x - 1.4, -6.0, x + 1.4, -6.0, x + 1.4, 0.0, x - 1.4, 0.0};
        guide_polygon(&sketch, tail, 4, WOOD);
    }
    guide_dimension(&sketch, (struct guide_mark){27.0, -6.0, 45.0, -6.0, -6.0, "A"});
    guide_dimension(&sketch, (struct guide_mark){0.0, -6.0, 9.0, -6.0, -6.0, "B"});
    guide_dimension(&sketch, (struct guide_mark){43.6, -2.0, 46.4, -2.0, 0.0, "C"});
    guide_words(&sketch, 0.0, 4.6, "left end, from the front", DRAW_START);
}

void guide_draw_tails(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = section_at(sheet, box, 22.0);
    draw_rafter(&sketch, 0.0);
    draw_wall(&sketch);
    draw_roof(&sketch);
    mark_common(&sketch);
    /* square to the slope: (sin, -cos) of the pitch times 5 1/2 */
    guide_dimension(&sketch, (struct guide_mark){16.0, boards_y(16.0), 18.46, 3.08, 0.0, "D"});
    draw_tail_ends(sheet, box);
    draw_cuts(sheet, box);
}

/* ---- fascia -------------------------------------------------------------------------------- */

void guide_draw_fascia(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = section_at(sheet, box, 52.0);
    const double board[] = {0.0, -7.0, 1.4, -7.0, 1.4, boards_y(1.4), 0.0, 0.0};
    const double soffit[] = {1.4,    -TAIL_TALL - 0.1, SOFFIT, -TAIL_TALL - 0.1,
                             SOFFIT, -TAIL_TALL + 0.6, 1.4,    -TAIL_TALL + 0.6};
    draw_rafter(&sketch, 1.4);
    guide_polygon(&sketch, soffit, 4, PLAIN);
    guide_polygon(&sketch, board, 4, PLAIN);
    draw_wall(&sketch);
    draw_roof(&sketch);
    mark_common(&sketch);
    guide_dimension(&sketch, (struct guide_mark){0.0, 0.0, 0.0, -7.0, -20.0, "A"});
    guide_dimension(&sketch, (struct guide_mark){0.0, -7.0, 1.4, -7.0, -3.0, "B"});
    guide_words(&sketch, -1.2, -5.2, "fascia", DRAW_END);
    guide_words(&sketch, 6.2, -5.1, "soffit", DRAW_MIDDLE);
}

/* ---- crown moulding ------------------------------------------------------------------------ */

void guide_draw_crown(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = section_at(sheet, box, 52.0);
    /* ogee: fillet, cove, round, foot */
    const double crown[] = {0.0,  -0.1, 0.0,  -0.9, 0.5,  -1.1, 1.0,  -1.7, 1.25, -2.5, 1.7,
                            -3.2, 2.4,  -3.7, 2.9,  -4.3, 3.0,  -4.9, 4.0,  -4.9, 4.0,  1.9};
    const double board[] = {4.0, -6.2, 5.2, -6.2, 5.2, boards_y(5.2), 4.0, boards_y(4.0)};
    const double soffit[] = {5.2,    -TAIL_TALL - 0.1, SOFFIT, -TAIL_TALL - 0.1,
                             SOFFIT, -TAIL_TALL + 0.6, 5.2,    -TAIL_TALL + 0.6};
    draw_rafter(&sketch, 5.2);
    guide_polygon(&sketch, soffit, 4, PLAIN);
    guide_polygon(&sketch, board, 4, PLAIN);
    guide_polygon(&sketch, crown, 11, PLAIN);
    draw_wall(&sketch);
    draw_roof(&sketch);
    mark_common(&sketch);
    guide_dimension(&sketch, (struct guide_mark){0.0, -4.9, 4.0, -4.9, -6.6, "A"});
    guide_dimension(&sketch, (struct guide_mark){0.0, -0.1, 0.0, -4.9, -20.0, "B"});
    guide_words(&sketch, -0.6, -6.4, "crown", DRAW_END);
}

/* ---- porch --------------------------------------------------------------------------------- */

/* In feet: the wall at the right, posts at the left. */
void guide_draw_porch(struct documents_sheet *sheet, struct draw_box box) {
    struct guide_sketch sketch = {
        .sheet = sheet, .origin = {box.left_mm + 60.0, box.bottom_mm - 12.0}, .scale_mm = 5.0};
    const double roof[] = {-0.9, 7.6, 9.0, 10.9, 9.0, 11.3, -0.9, 8.0};
    const double post[] = {0.0, 0.0, 0.5, 0.0, 0.5, 7.9, 0.0, 7.75};
    const double wall[] = {9.0, 0.0, 9.9, 0.0, 9.9, 12.6, 9.0, 12.6};
    const double ground[] = {-8.0, 0.0, 13.0, 0.0};
    const double level[] = {-0.9, 7.8, 9.0, 7.8};
    guide_polygon(&sketch, post, 4, PLAIN);
    guide_polygon(&sketch, roof, 4, WOOD);
    guide_polygon(&sketch, wall, 4, WALL_LOOK);
    guide_line(&sketch, ground, 2, (struct draw_look){.width_mm = 0.5, .ink = DRAW_BLACK});
    guide_line(&sketch, level, 2, THIN);
    guide_dimension(&sketch, (struct guide_mark){-0.9, 12.2, 9.0, 12.2, 0.0, "A"});
    guide_dimension(&sketch, (struct guide_mark){-4.0, 0.0, -4.0, 7.8, 0.0, "C"});
    guide_dimension(&sketch, (struct guide_mark){-0.9, 6.2, 0.0, 6.2, 0.0, "D"});
    /* the pitch: 12 level, so much up */
    guide_dimension(&sketch, (struct guide_mark){6.0, 7.8, 6.0, 9.9, 0.0, "B"});
    guide_words(&sketch, 3.4, 7.1, "12 level", DRAW_MIDDLE);
    const double edge[] = {-0.9, 8.1, -0.9, 12.8};
    const double reach[] = {-4.6, 7.8, -1.0, 7.8};
    guide_line(&sketch, edge, 2, THIN);
    guide_line(&sketch, reach, 2, THIN);
    guide_words(&sketch, -5.4, 8.3, "roof edge", DRAW_END);
    guide_words(&sketch, 10.3, 6.0, "house wall", DRAW_START);
    guide_words(&sketch, 0.9, 3.0, "post", DRAW_START);
}
