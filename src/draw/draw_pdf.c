/* SPDX-License-Identifier: Apache-2.0 */
/*
 * PDF by cairo. Every glyph is put where the table of widths says, so nothing is kerned, hinted or
 * joined, and what is measured is what is painted.
 */
#include "draw/draw_inside.h"

#include <assert.h>
#include <cairo-ft.h>
#include <cairo-pdf.h>
#include <math.h>
#include <string.h>

#include FT_ADVANCES_H

static const double POINTS_PER_MM = 72.0 / 25.4;
static const double HATCH_WIDTH_MM = 0.1;

struct painter {
    struct base_arena *arena;
    cairo_t *cairo;
    FT_Face faces[DRAW_FACES];
    cairo_font_face_t *fonts[DRAW_FACES];
};

/* ---- fonts --------------------------------------------------------------------------------- */

static bool face_is_ours(FT_Face face, enum draw_face which) {
    static const char *const STYLES[] = {
        [DRAW_REGULAR] = "Regular", [DRAW_BOLD] = "Bold", [DRAW_ITALIC] = "Italic"};
    bool named = face->family_name != NULL && strcmp(face->family_name, "Carlito") == 0 &&
                 face->style_name != NULL && strcmp(face->style_name, STYLES[which]) == 0 &&
                 face->units_per_EM == (FT_UShort)DRAW_UNITS_PER_EM;
    for (size_t i = 0; named && i < draw_advance_count; i++) {
        FT_Fixed advance_unit = 0;
        FT_UInt glyph = FT_Get_Char_Index(face, draw_advances[i].code);
        if (glyph == 0 || FT_Get_Advance(face, glyph, FT_LOAD_NO_SCALE, &advance_unit) != 0 ||
            advance_unit != draw_advances[i].advance_unit[which]) {
            return false;
        }
    }
    return named;
}

static void close_library(void *library) {
    FT_Done_FreeType(library); /* closes its faces too */
}

/* Each font owns a FreeType library of its own, because cairo may keep a font after the painter is
 * gone; the library goes when cairo lets go of the font. */
static bool open_font(struct painter *painter, enum draw_face which, const char *file) {
    static const cairo_user_data_key_t LIBRARY_KEY = {0};
    FT_Library library = NULL;
    if (FT_Init_FreeType(&library) != 0) {
        return false;
    }
    FT_Face face = NULL;
    if (FT_New_Face(library, file, 0, &face) != 0 || !face_is_ours(face, which)) {
        FT_Done_FreeType(library);
        return false;
    }
    cairo_font_face_t *font = cairo_ft_font_face_create_for_ft_face(face, FT_LOAD_NO_HINTING);
    if (cairo_font_face_set_user_data(font, &LIBRARY_KEY, library, close_library) !=
        CAIRO_STATUS_SUCCESS) {
        cairo_font_face_destroy(font);
        FT_Done_FreeType(library);
        return false;
    }
    painter->faces[which] = face;
    painter->fonts[which] = font;
    return true;
}

static void close_fonts(struct painter *painter) {
    for (int i = 0; i < DRAW_FACES; i++) {
        if (painter->fonts[i] != NULL) {
            cairo_font_face_destroy(painter->fonts[i]);
        }
    }
}

static bool open_fonts(struct painter *painter, const char *const files[DRAW_FACES]) {
    for (int i = 0; i < DRAW_FACES; i++) {
        if (!open_font(painter, (enum draw_face)i, files[i])) {
            return false;
        }
    }
    return true;
}

/* ---- lines and areas ----------------------------------------------------------------------- */

static void set_ink(cairo_t *cairo, enum draw_ink ink) {
    struct draw_rgb rgb = draw_find_rgb(ink);
    cairo_set_source_rgb(cairo, rgb.red / 255.0, rgb.green / 255.0, rgb.blue / 255.0);
}

static void trace_shape(cairo_t *cairo, const struct draw_shape *shape) {
    struct draw_point first = shape->points[0];
    if (shape->kind == DRAW_CIRCLE) {
        cairo_new_sub_path(cairo);
        cairo_arc(cairo, first.x_mm, first.y_mm, shape->radius_mm, 0, 2 * DRAW_PI);
        cairo_close_path(cairo);
        return;
    }
    if (shape->kind == DRAW_ARC) {
        cairo_new_sub_path(cairo);
        cairo_arc_negative(cairo, first.x_mm, first.y_mm, shape->radius_mm, -shape->from_rad,
                           -shape->to_rad);
        return;
    }
    cairo_move_to(cairo, first.x_mm, first.y_mm);
    for (size_t i = 1; i < shape->point_count; i++) {
        cairo_line_to(cairo, shape->points[i].x_mm, shape->points[i].y_mm);
    }
    if (shape->kind == DRAW_POLYGON) {
        cairo_close_path(cairo);
    }
}

static void paint_hatch(struct painter *painter, const struct draw_shape *shape) {
    struct draw_point *points = NULL;
    size_t count = draw_find_hatch(painter->arena, shape, &points);
    for (size_t i = 0; i + 1 < count; i += 2) {
        cairo_move_to(painter->cairo, points[i].x_mm, points[i].y_mm);
        cairo_line_to(painter->cairo, points[i + 1].x_mm, points[i + 1].y_mm);
    }
    set_ink(painter->cairo, shape->ink);
    cairo_set_dash(painter->cairo, NULL, 0, 0);
    cairo_set_line_width(painter->cairo, HATCH_WIDTH_MM);
    cairo_stroke(painter->cairo);
}

static void paint_area(struct painter *painter, const struct draw_shape *shape) {
    cairo_t *cairo = painter->cairo;
    if (shape->filled) {
        trace_shape(cairo, shape);
        set_ink(cairo, shape->fill);
        cairo_fill(cairo);
    }
    if (shape->hatched && shape->kind == DRAW_POLYGON) {
        paint_hatch(painter, shape);
    }
    if (shape->width_mm > 0) {
        double dashes_mm[DRAW_DASHES];
        size_t count = draw_find_dashes(shape->stroke, dashes_mm);
        trace_shape(cairo, shape);
        set_ink(cairo, shape->ink);
        cairo_set_dash(cairo, dashes_mm, (int)count, 0);
        cairo_set_line_width(cairo, shape->width_mm);
        cairo_stroke(cairo);
    }
}

/* ---- text ---------------------------------------------------------------------------------- */

/* Glyphs and the bytes of the text that each stands for; space is taken for all bytes. */
struct run {
    struct base_text text;
    cairo_glyph_t *glyphs;
    cairo_text_cluster_t *clusters;
    int glyph_count, cluster_count;
    double size_mm;
    enum draw_face face;
};

enum { STACK_GLYPHS_MOST = 1 + 2 * DRAW_NUMBER_BYTES };

static struct run start_run(struct painter *painter, const struct draw_shape *shape, size_t most) {
    size_t count = most + STACK_GLYPHS_MOST;
    return (struct run){.text = shape->text,
                        .size_mm = shape->size_mm,
                        .face = shape->face,
                        .glyphs = base_take(painter->arena, count, sizeof(cairo_glyph_t)),
                        .clusters = base_take(painter->arena, count, sizeof(cairo_text_cluster_t))};
}

static double add_glyph(struct painter *painter, struct run *run, uint32_t code,
                        struct draw_point at) {
    if (run->glyphs == NULL || run->clusters == NULL) {
        return at.x_mm;
    }
    run->glyphs[run->glyph_count++] =
        (cairo_glyph_t){FT_Get_Char_Index(painter->faces[run->face], code), at.x_mm, at.y_mm};
    return at.x_mm + draw_code_width(code, run->size_mm, run->face);
}

static void show_run(struct painter *painter, const struct run *run) {
    if (run->text.length == 0 || run->glyphs == NULL || run->clusters == NULL) {
        return;
    }
    cairo_set_font_face(painter->cairo, painter->fonts[run->face]);
    cairo_set_font_size(painter->cairo, run->size_mm);
    cairo_show_text_glyphs(painter->cairo, run->text.bytes, (int)run->text.length, run->glyphs,
                           run->glyph_count, run->clusters, run->cluster_count, 0);
}

static void add_words(struct painter *painter, struct run *run, struct base_text text,
                      double x_mm) {
    for (size_t at = 0; at < text.length && run->clusters != NULL;) {
        size_t from = at;
        uint32_t code = draw_painted_code(draw_next_code(text, &at));
        x_mm = add_glyph(painter, run, code, (struct draw_point){x_mm, 0});
        run->clusters[run->cluster_count++] = (cairo_text_cluster_t){(int)(at - from), 1};
    }
}

static void add_digits(struct painter *painter, struct run *run, int number, struct draw_point at) {
    struct draw_digits digits = draw_small_digits(number);
    for (size_t i = 0; i < digits.count; i++) {
        at.x_mm = add_glyph(painter, run, digits.codes[i], at);
    }
}

/*
 * All glyphs of a length stand for its plain text together (one cluster), which is what a search
 * finds and what is copied. They share one size: readers split a text where the size changes. An
 * inkless blank comes first, so that they see the length on the baseline of its neighbours.
 */
static void paint_length(struct painter *painter, const struct draw_shape *shape, double x_mm) {
    struct draw_stack stack = draw_find_stack(draw_shape_label(shape), shape->size_mm, shape->face);
    size_t most = shape->text.length + shape->whole.length + shape->tail.length;
    struct run run = start_run(painter, shape, most);
    add_glyph(painter, &run, ' ', (struct draw_point){x_mm, 0});
    add_words(painter, &run, shape->whole, x_mm);
    add_digits(painter, &run, shape->numerator,
               (struct draw_point){x_mm + stack.numerator_x_mm, -stack.numerator_up_mm});
    add_digits(painter, &run, shape->denominator,
               (struct draw_point){x_mm + stack.denominator_x_mm, -stack.denominator_up_mm});
    add_words(painter, &run, shape->tail, x_mm + stack.tail_x_mm);
    if (run.clusters != NULL) {
        run.cluster_count = 1;
        run.clusters[0] = (cairo_text_cluster_t){(int)shape->text.length, run.glyph_count};
    }
    show_run(painter, &run);
    cairo_set_dash(painter->cairo, NULL, 0, 0);
    cairo_set_line_width(painter->cairo, stack.bar_width_mm);
    cairo_move_to(painter->cairo, x_mm + stack.bar_from_mm, -stack.bar_up_mm);
    cairo_line_to(painter->cairo, x_mm + stack.bar_to_mm, -stack.bar_up_mm);
    cairo_stroke(painter->cairo);
}

static void paint_words(struct painter *painter, const struct draw_shape *shape, double x_mm) {
    struct run run = start_run(painter, shape, shape->text.length);
    add_words(painter, &run, shape->text, x_mm);
    show_run(painter, &run);
}

static void paint_text(struct painter *painter, const struct draw_shape *shape) {
    cairo_t *cairo = painter->cairo;
    if (shape->text.length == 0) {
        return;
    }
    double x_mm = draw_anchor_shift(shape->anchor, draw_shape_width(shape));
    cairo_save(cairo);
    cairo_translate(cairo, shape->points[0].x_mm, shape->points[0].y_mm);
    cairo_rotate(cairo, -shape->turn_rad);
    set_ink(cairo, shape->ink);
    cairo_tag_begin(cairo, "P", NULL);
    if (shape->kind == DRAW_FRACTION) {
        paint_length(painter, shape, x_mm);
    } else {
        paint_words(painter, shape, x_mm);
    }
    cairo_tag_end(cairo, "P");
    cairo_restore(cairo);
}

/* ---- pages --------------------------------------------------------------------------------- */

static const char *quoted_attribute(struct base_arena *arena, const char *before,
                                    struct base_text value, const char *after) {
    struct base_builder out = {.arena = arena};
    base_add_string(&out, before);
    for (size_t i = 0; i < value.length; i++) {
        if (value.bytes[i] == '\'' || value.bytes[i] == '\\') {
            base_add_char(&out, '\\');
        }
        base_add_char(&out, value.bytes[i]);
    }
    base_add_string(&out, after);
    return base_copy_text(arena, base_built(&out)).bytes;
}

static void paint_place(struct painter *painter, const struct draw_shape *shape) {
    const char *attributes = quoted_attribute(painter->arena, "name='", shape->id, "'");
    if (attributes == NULL || shape->id.length == 0) {
        return;
    }
    cairo_tag_begin(painter->cairo, CAIRO_TAG_DEST, attributes);
    cairo_tag_end(painter->cairo, CAIRO_TAG_DEST);
}

static void paint_shape(struct painter *painter, const struct draw_shape *shape) {
    if (shape->point_count == 0) {
        return;
    }
    switch (shape->kind) {
    case DRAW_LINE:
    case DRAW_POLYGON:
    case DRAW_CIRCLE:
    case DRAW_ARC:
        paint_area(painter, shape);
        break;
    case DRAW_TEXT:
    case DRAW_FRACTION:
        paint_text(painter, shape);
        break;
    case DRAW_LINK_TARGET:
        paint_place(painter, shape);
        break;
    }
}

static void add_outline(struct painter *painter, cairo_surface_t *surface, size_t page,
                        struct base_text title) {
    struct base_builder link = {.arena = painter->arena};
    base_add_string(&link, "page=");
    base_add_integer(&link, (int64_t)page + 1);
    base_add_string(&link, " pos=[0 0]");
    const char *attributes = base_copy_text(painter->arena, base_built(&link)).bytes;
    const char *name = base_copy_text(painter->arena, title).bytes;
    if (attributes != NULL && name != NULL && title.length > 0) {
        cairo_pdf_surface_add_outline(surface, CAIRO_PDF_OUTLINE_ROOT, name, attributes, 0);
    }
}

static void paint_page(struct painter *painter, cairo_surface_t *surface,
                       const struct draw_document *document, size_t index) {
    const struct draw_page *page = &document->pages[index];
    cairo_t *cairo = painter->cairo;
    cairo_pdf_surface_set_size(surface, page->width_mm * POINTS_PER_MM,
                               page->height_mm * POINTS_PER_MM);
    add_outline(painter, surface, index, page->title);
    cairo_identity_matrix(cairo);
    cairo_scale(cairo, POINTS_PER_MM, POINTS_PER_MM);
    cairo_tag_begin(cairo, "Sect", NULL);
    for (size_t i = 0; i < page->count && !base_arena_failed(painter->arena); i++) {
        paint_shape(painter, &page->shapes[i]);
    }
    cairo_tag_end(cairo, "Sect");
    cairo_show_page(cairo);
}

static void set_metadata(cairo_surface_t *surface, cairo_pdf_metadata_t which,
                         struct base_arena *arena, struct base_text text) {
    const char *value = base_copy_text(arena, draw_clean_text(arena, text)).bytes;
    if (value != NULL && text.length > 0) {
        cairo_pdf_surface_set_metadata(surface, which, value);
    }
}

/* Never tells cairo of a failed arena: cairo 1.16 falls over a write error while it finishes. The
 * bytes are dropped and the arena is asked afterwards. */
static cairo_status_t write_bytes(void *closure, const unsigned char *data, unsigned int length) {
    struct base_builder *out = closure;
    base_add_text(out, (struct base_text){(const char *)data, length});
    return CAIRO_STATUS_SUCCESS;
}

static void paint_pages(struct painter *painter, cairo_surface_t *surface,
                        const struct draw_document *document) {
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(painter->cairo, options);
    cairo_font_options_destroy(options);
    cairo_set_line_join(painter->cairo, CAIRO_LINE_JOIN_ROUND);
    for (size_t i = 0; i < document->count; i++) {
        paint_page(painter, surface, document, i);
    }
}

static enum base_status paint_surface(struct painter *painter, cairo_surface_t *surface,
                                      const struct draw_document *document) {
    cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_5);
    set_metadata(surface, CAIRO_PDF_METADATA_TITLE, painter->arena, document->title);
    set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR, painter->arena, document->author);
    struct base_text created = document->created;
    if (created.length == 0) { /* else cairo would look at the clock */
        created = base_text_of("1970-01-01T00:00:00Z");
    }
    set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, painter->arena, created);
    painter->cairo = cairo_create(surface);
    paint_pages(painter, surface, document);
    cairo_status_t drawn = cairo_status(painter->cairo);
    cairo_destroy(painter->cairo);
    cairo_surface_finish(surface);
    cairo_status_t finished = cairo_surface_status(surface);
    bool fine = drawn == CAIRO_STATUS_SUCCESS && finished == CAIRO_STATUS_SUCCESS;
    bool memory = drawn == CAIRO_STATUS_NO_MEMORY || finished == CAIRO_STATUS_NO_MEMORY;
    if (base_arena_failed(painter->arena) || memory) {
        return BASE_NO_MEMORY;
    }
    return fine ? BASE_OK : BASE_STOPPED;
}

enum base_status draw_paint_pdf_with(struct base_arena *arena, const struct draw_document *document,
                                     const char *const files[DRAW_FACES], struct base_text *bytes) {
    *bytes = (struct base_text){0};
    if (base_arena_failed(arena) || base_arena_failed(document->arena)) {
        return BASE_NO_MEMORY;
    }
    assert(document->count > 0);
    struct painter painter = {.arena = arena};
    if (!open_fonts(&painter, files)) {
        close_fonts(&painter);
        return BASE_STOPPED;
    }
    struct base_builder out = {.arena = arena};
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(
        write_bytes, &out, document->pages[0].width_mm, document->pages[0].height_mm);
    enum base_status status = paint_surface(&painter, surface, document);
    cairo_surface_destroy(surface);
    close_fonts(&painter);
    if (status == BASE_OK) {
        *bytes = base_built(&out);
    }
    return status;
}

enum base_status draw_paint_pdf(struct base_arena *arena, const struct draw_document *document,
                                struct base_text *bytes) {
    return draw_paint_pdf_with(arena, document, draw_font_files, bytes);
}
