/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Flat patterns for the bench: a page for each mitre, then end caps and the holes for outlets.
 * Marks are to the 1/32 in or the half millimetre: a rule's.
 */
#include <math.h>

#include "documents/packet_inside.h"

enum { MARK_COLUMNS = 5, MARK_BLOCKS = 2, HOLE_COLUMNS = 4 };

static struct units_style fine_style(const struct documents_sheet *sheet) {
    struct units_style style = sheet->solution->shop.style;
    style.round_tick =
        style.system == UNITS_FT_IN ? UNITS_TICK_PER_INCH / 32 : UNITS_TICK_PER_MM / 2;
    style.no_feet = true;
    return style;
}

static struct base_text fine_words(struct documents_sheet *sheet, double length_m) {
    return units_write_length(sheet->arena, fine_style(sheet), units_tick_of_m(length_m));
}

static struct draw_cell fine_cell(struct documents_sheet *sheet, double length_m) {
    return (struct draw_cell){.label = draw_length_of(fine_words(sheet, length_m))};
}

/* Less than a rule shows: 0.011 in, 0.3 mm. */
static struct base_text tiny_words(struct documents_sheet *sheet, double length_m) {
    bool inches = sheet->solution->shop.style.system == UNITS_FT_IN;
    double shown = inches ? length_m / 0.0254 : length_m * 1000.0;
    return documents_join(sheet, "", units_write_decimal(sheet->arena, shown, inches ? 3 : 1),
                          inches ? " in" : " mm");
}

/* ---- the drawing ------------------------------------------------------------------------------
 */

static double longest_of(const struct pattern_leg *leg) {
    double longest_m = 0.0;
    for (size_t i = 0; i < leg->count; i++) {
        longest_m = fmax(longest_m, leg->ordinates[i].length_m);
    }
    return longest_m;
}

static void draw_leg(struct documents_sheet *sheet, const struct documents_frame *flat,
                     const struct pattern_leg *leg) {
    struct draw_point points[PATTERN_STATIONS_MAX + 2];
    size_t last = leg->count - 1;
    points[0] = documents_at(flat, leg->ordinates[last].station.girth_m, 0.0);
    points[1] = documents_at(flat, 0.0, 0.0);
    for (size_t i = 0; i < leg->count; i++) {
        const struct pattern_ordinate *here = &leg->ordinates[i];
        points[i + 2] = documents_at(flat, here->station.girth_m, here->length_m);
        bool is_named = here->station.place != PATTERN_ARC && here->station.place != PATTERN_BEAD;
        draw_add_line(sheet->document, sheet->page, documents_at(flat, here->station.girth_m, 0.0),
                      points[i + 2], 0.1, is_named ? DRAW_SOLID : DRAW_DOTTED, DRAW_GREY);
    }
    draw_add_polygon(sheet->document, sheet->page, points, leg->count + 2,
                     (struct draw_look){.width_mm = 0.5, .ink = DRAW_COPPER});
}

static void name_stations(struct documents_sheet *sheet, const struct documents_frame *flat,
                          const struct pattern_leg *leg) {
    static const char *const NAMES[] = {"back edge", "", "", "sole", "lip", ""};
    for (size_t i = 0; i < leg->count; i++) {
        const struct pattern_ordinate *here = &leg->ordinates[i];
        struct draw_point place = documents_at(flat, here->station.girth_m, 0.0);
        place.x_mm += 1.0;
        place.y_mm -= 1.5;
        draw_add_label(
            sheet->document, sheet->page, place,
            draw_label_of(base_text_of(NAMES[here->station.place])),
            (struct draw_type){
                .size_mm = 3.0, .anchor = DRAW_START, .turn_rad = 0.9, .ink = DRAW_BLACK});
    }
    const struct pattern_ordinate *end = &leg->ordinates[leg->count - 1];
    struct draw_point place = documents_at(flat, end->station.girth_m, 0.0);
    place.x_mm += 1.0;
    place.y_mm -= 1.5;
    draw_add_label(sheet->document, sheet->page, place, draw_label_of(base_text_of("end of bead")),
                   (struct draw_type){.size_mm = 3.0, .turn_rad = 0.9});
}

/* ---- the marks --------------------------------------------------------------------------------
 */

/* On the half circle by the angle from its back end. */
static struct base_text place_words(struct documents_sheet *sheet,
                                    const struct pattern_station *station, size_t *bead) {
    static const char *const NAMES[] = {"back edge",        "rim, back", "arc",
                                        "sole, 90\xC2\xB0", "lip",       "bead"};
    static const char *const BEADS[] = {"bead, top", "bead, out", "bead, under", "end of bead"};
    if (station->place == PATTERN_BEAD) {
        return base_text_of(BEADS[(*bead)++ % PATTERN_BEAD_STEPS]);
    }
    if (station->place == PATTERN_ARC) {
        double angle_rad = atan2(-station->up_m, -station->across_m);
        return documents_join(sheet, "arc, ", units_write_angle(sheet->arena, angle_rad), "");
    }
    return base_text_of(NAMES[station->place]);
}

static bool legs_alike(const struct pattern_mitre_found *found) {
    for (size_t i = 0; i < found->legs[0].count; i++) {
        double apart_m =
            found->legs[0].ordinates[i].length_m - found->legs[1].ordinates[i].length_m;
        if (fabs(apart_m) > 0.0004) { /* half of what a rule shows */
            return false;
        }
    }
    return true;
}

static void mark_table(struct documents_sheet *sheet, const struct pattern_mitre_found *found) {
    bool alike = legs_alike(found);
    const char *first = alike ? "both legs" : "first leg";
    const struct draw_column columns[MARK_COLUMNS * MARK_BLOCKS] = {
        {23.0, DRAW_START, base_text_of("mark")},
        {17.0, DRAW_END, base_text_of("girth")},
        {19.0, DRAW_END, base_text_of(first)},
        {21.0, DRAW_END, base_text_of(alike ? "" : "second leg")},
        {8.0, DRAW_END, base_text_of("")},
        {23.0, DRAW_START, base_text_of("mark")},
        {17.0, DRAW_END, base_text_of("girth")},
        {19.0, DRAW_END, base_text_of(first)},
        {21.0, DRAW_END, base_text_of(alike ? "" : "second leg")},
        {0.0, DRAW_END, base_text_of("")}};
    size_t count = found->legs[0].count;
    size_t rows = (count + MARK_BLOCKS - 1) / MARK_BLOCKS;
    size_t across = (size_t)MARK_COLUMNS * MARK_BLOCKS;
    struct draw_cell *cells = base_take(sheet->arena, rows * across, sizeof *cells);
    size_t bead = 0;
    for (size_t i = 0; cells != NULL && i < rows * MARK_BLOCKS; i++) {
        struct draw_cell *row = &cells[i % rows * across + i / rows * MARK_COLUMNS];
        for (size_t column = 0; column < MARK_COLUMNS; column++) {
            row[column] = documents_cell(base_text_of(""));
        }
        if (i < count) {
            const struct pattern_ordinate *here = &found->legs[0].ordinates[i];
            row[0] = documents_cell(place_words(sheet, &here->station, &bead));
            row[1] = fine_cell(sheet, here->station.girth_m);
            row[2] = fine_cell(sheet, here->length_m);
            if (!alike) {
                row[3] = fine_cell(sheet, found->legs[1].ordinates[i].length_m);
            }
        }
    }
    if (cells != NULL) {
        documents_table(sheet, (struct draw_table){.columns = columns,
                                                   .cells = cells,
                                                   .column_count = across,
                                                   .row_count = rows});
    }
}

/* ---- a mitre ----------------------------------------------------------------------------------
 */

static void add_fine(struct documents_sheet *sheet, struct base_builder *text, const char *before,
                     double length_m, const char *after) {
    base_add_string(text, before);
    base_add_text(text, fine_words(sheet, length_m));
    base_add_string(text, after);
}

static struct base_text mitre_words(struct documents_sheet *sheet,
                                    const struct pattern_mitre_sheet *mitre) {
    const struct pieces_piece *piece = &sheet->solution->pieces.items[mitre->piece];
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "Girths from the back edge along the middle of the sheet, lengths from "
                           "the square end to the mitre line");
    add_fine(sheet, &text, ", ", mitre->mitre.leg_m, " along the back edge");
    base_add_string(&text, legs_alike(&mitre->found)
                               ? "; the two legs are mirror images. "
                               : "; the first leg is the left one, seen from the ground. ");
    base_add_string(&text, "One leg gets a lap beyond this line, 1/2 to 1 in (12 to 25 mm); the "
                           "other is cut to it. ");
    base_add_string(&text, "Straight lines between the marks leave the true cut by up to ");
    base_add_text(&text, tiny_words(sheet, mitre->found.chord_m));
    base_add_string(&text, ": draw them as one smooth curve.");
    if (mitre->found.miss_m > 0.0008) {
        add_fine(sheet, &text,
                 " Water passes this corner falling: the two profiles stand apart by up to ",
                 mitre->found.miss_m, "; pull them together before soldering.");
    }
    if (piece->template_wanted) {
        base_add_string(&text, " The angle is not known well enough: make a template first.");
    }
    return base_built(&text);
}

/* So small that the marks fit under it. */
static double find_scale(double room_mm, double girth_m, double longest_m) {
    static const double SCALES[] = {4.0, 5.0, 6.0, 8.0, 10.0};
    static const double HIGH_MM = 80.0;
    size_t at = 0;
    size_t last = sizeof SCALES / sizeof SCALES[0] - 1;
    while (at < last &&
           (girth_m * 1000.0 / SCALES[at] > room_mm || longest_m * 1000.0 / SCALES[at] > HIGH_MM)) {
        at++;
    }
    return SCALES[at];
}

static void draw_mitre(struct documents_sheet *sheet, const struct pattern_mitre_sheet *mitre) {
    const struct pieces_piece *piece = &sheet->solution->pieces.items[mitre->piece];
    const struct pattern_leg *leg = &mitre->found.legs[0];
    struct base_builder head = {.arena = sheet->arena};
    documents_new_page(sheet, "Flat patterns");
    base_add_string(&head, mitre->mitre.inside ? "Inside mitre, " : "Outside mitre, ");
    base_add_text(&head, units_write_angle(sheet->arena, piece->angle_rad));
    base_add_string(&head, ", ");
    base_add_text(&head, piece->size);
    base_add_string(&head, ": ");
    base_add_text(&head, piece->id);
    if (mitre->count > 1) {
        base_add_string(&head, " and ");
        base_add_integer(&head, (int64_t)mitre->count - 1);
        base_add_string(&head, " more");
    }
    documents_heading(sheet, base_built(&head).bytes);
    documents_paragraph(sheet, mitre_words(sheet, mitre), DRAW_REGULAR);
    double girth_m = leg->ordinates[leg->count - 1].station.girth_m;
    double longest_m = longest_of(leg);
    double scale = find_scale(documents_width(sheet) - 24.0, girth_m, longest_m);
    struct documents_frame flat = {DOCUMENTS_MARGIN_MM, sheet->y_mm + 16.0, 1000.0 / scale};
    if (sheet->page != NULL) {
        draw_leg(sheet, &flat, leg);
        name_stations(sheet, &flat, leg);
    }
    sheet->y_mm = flat.y_mm + longest_m * flat.scale_1 + 6.0;
    documents_say_scale(sheet, scale, DOCUMENTS_MARGIN_MM - 6.0);
    sheet->y_mm += 6.0;
    mark_table(sheet, &mitre->found);
}

/* ---- caps and holes ---------------------------------------------------------------------------
 */

static void say_cap(struct documents_sheet *sheet, const struct pattern_cap_sheet *cap) {
    const struct pieces_piece *piece = &sheet->solution->pieces.items[cap->piece];
    struct base_builder text = {.arena = sheet->arena};
    base_add_integer(&text, (int64_t)cap->count);
    base_add_string(&text, cap->count == 1 ? " end cap " : " end caps ");
    base_add_string(&text, "of a gutter ");
    base_add_text(&text, piece->size);
    add_fine(sheet, &text, ": a half disc of radius ", cap->radius_m, "");
    add_fine(sheet, &text, ", a flange of ", cap->flange_m, " all round its curve");
    if (cap->back_m > 0.0) {
        add_fine(sheet, &text, ", and above the disc's straight side a strip ", cap->back_m,
                 " high at the back");
        if (cap->straight_m > 0.0) {
            add_fine(sheet, &text, " and ", cap->straight_m, " at the front");
        }
    }
    add_fine(sheet, &text, ". Blank ", 2.0 * (cap->radius_m + cap->flange_m), "");
    add_fine(sheet, &text, " by ", cap->radius_m + cap->flange_m + cap->back_m,
             ". Left and right are mirror images: turn the flange towards the gutter.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

static void draw_hole(struct documents_sheet *sheet, const struct pattern_hole_sheet *hole) {
    const struct pieces_piece *piece = &sheet->solution->pieces.items[hole->piece];
    const struct draw_column columns[HOLE_COLUMNS] = {
        {26.0, DRAW_END, base_text_of("round the tube")},
        {30.0, DRAW_END, base_text_of("along the gutter")},
        {34.0, DRAW_END, base_text_of("across, on the flat")},
        {34.0, DRAW_END, base_text_of("tube's rim rises")}};
    documents_keep_rows(sheet, PATTERN_HOLE_POINTS + 5);
    struct base_builder text = {.arena = sheet->arena};
    base_add_string(&text, "Hole for an outlet ");
    base_add_text(&text, piece->size);
    add_fine(sheet, &text, ", its tube ", 2.0 * hole->tube_radius_m, " outside, in a gutter ");
    add_fine(sheet, &text, "", 2.0 * hole->gutter_radius_m,
             " wide. From the hole's middle on the sole line, a quarter of it; the other three are "
             "its mirror images. Press the hole's edge down so that the water is not dammed.");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
    struct draw_cell *cells =
        base_take(sheet->arena, (size_t)PATTERN_HOLE_POINTS * HOLE_COLUMNS, sizeof *cells);
    for (int i = 0; cells != NULL && i < PATTERN_HOLE_POINTS; i++) {
        struct draw_cell *row = &cells[(size_t)i * HOLE_COLUMNS];
        double angle_rad = 1.5707963267948966 * i / (PATTERN_HOLE_POINTS - 1);
        row[0] = documents_cell(units_write_angle(sheet->arena, angle_rad));
        row[1] = fine_cell(sheet, hole->points[i].along_m);
        row[2] = fine_cell(sheet, hole->points[i].across_m);
        row[3] = fine_cell(sheet, hole->points[i].rise_m);
    }
    if (cells != NULL) {
        documents_table(sheet, (struct draw_table){.columns = columns,
                                                   .cells = cells,
                                                   .column_count = HOLE_COLUMNS,
                                                   .row_count = PATTERN_HOLE_POINTS});
    }
}

void documents_draw_patterns(struct documents_sheet *sheet) {
    const struct patterns *patterns = &sheet->solution->patterns;
    for (size_t i = 0; i < patterns->mitre_count; i++) {
        draw_mitre(sheet, &patterns->mitres[i]);
    }
    if (patterns->cap_count == 0 && patterns->hole_count == 0) {
        return;
    }
    documents_new_page(sheet, "Flat patterns");
    if (patterns->cap_count > 0) {
        documents_heading(sheet, "End caps");
    }
    for (size_t i = 0; i < patterns->cap_count; i++) {
        say_cap(sheet, &patterns->caps[i]);
    }
    if (patterns->hole_count > 0) {
        documents_heading(sheet, "Outlets");
    }
    for (size_t i = 0; i < patterns->hole_count; i++) {
        draw_hole(sheet, &patterns->holes[i]);
    }
}
