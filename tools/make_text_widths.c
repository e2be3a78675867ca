/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Writes the table of text widths that src/draw measures with, from the font files themselves.
 * Usage: make_text_widths OUT.c REGULAR.ttf BOLD.ttf ITALIC.ttf
 *
 * A character stands in the table only when every face has it. Run at build by Meson.
 */
#include <stdio.h>
#include <stdlib.h>

#include <ft2build.h>
#include FT_FREETYPE_H

enum { FACES = 3, UNITS_PER_EM = 2048 };

struct range {
    unsigned first;
    unsigned last;
};

/* Names, streets and notes in European scripts, and the signs a shop writes. */
static const struct range RANGES[] = {
    {0x0020, 0x007E}, /* Basic Latin */
    {0x00A0, 0x024F}, /* Latin-1 to Latin Extended-B */
    {0x02B0, 0x02FF}, /* modifier letters; the single prime is among them */
    {0x0370, 0x045F}, /* Greek, Cyrillic */
    {0x1E00, 0x1EFF}, /* Latin Extended Additional */
    {0x2000, 0x218F}, /* punctuation, primes, raised and lowered digits, currency, fractions */
    {0x2190, 0x22FF}, /* arrows, operators */
    {0x25A0, 0x25FF}, /* squares, circles */
};

static void fail(const char *what, const char *name) {
    fprintf(stderr, "make_text_widths: %s: %s\n", what, name);
    exit(1);
}

static FT_Face open_face(FT_Library library, const char *path) {
    FT_Face face = NULL;
    if (FT_New_Face(library, path, 0, &face) != 0) {
        fail("not a font file", path);
    }
    if (face->units_per_EM != UNITS_PER_EM) {
        fail("not 2048 units to the em", path);
    }
    return face;
}

static FT_GlyphSlot load_glyph(FT_Face face, FT_ULong code) {
    if (FT_Load_Char(face, code, FT_LOAD_NO_SCALE) != 0) {
        fail("a glyph cannot be read", face->style_name);
    }
    return face->glyph;
}

static void write_row(FILE *out, FT_Face *faces, FT_ULong code) {
    long advance[FACES];
    for (int i = 0; i < FACES; i++) {
        if (FT_Get_Char_Index(faces[i], code) == 0) {
            return;
        }
        advance[i] = load_glyph(faces[i], code)->advance.x;
    }
    fprintf(out, "    {0x%04lX, {%ld, %ld, %ld}},\n", (unsigned long)code, advance[0], advance[1],
            advance[2]);
}

/* The lowered digits make stacked fractions; where their ink begins and ends decides the stack. */
static void write_digits(FILE *out, FT_Face face) {
    FT_Glyph_Metrics big = load_glyph(face, '1')->metrics;
    fprintf(out, "const int draw_digit_height_unit = %ld;\n", (long)big.horiBearingY);
    FT_Glyph_Metrics small = load_glyph(face, 0x2081)->metrics;
    fprintf(out, "const int draw_small_top_unit = %ld;\n", (long)small.horiBearingY);
    fprintf(out, "const int draw_small_bottom_unit = %ld;\n",
            (long)(small.horiBearingY - small.height));
}

int main(int count, char **values) {
    if (count != 2 + FACES) {
        fail("usage", "OUT.c REGULAR.ttf BOLD.ttf ITALIC.ttf");
    }
    FT_Library library = NULL;
    if (FT_Init_FreeType(&library) != 0) {
        fail("FreeType does not start", "");
    }
    FT_Face faces[FACES];
    for (int i = 0; i < FACES; i++) {
        faces[i] = open_face(library, values[2 + i]);
    }
    FILE *out = fopen(values[1], "w");
    if (out == NULL) {
        fail("cannot write", values[1]);
    }
    fprintf(out, "/* SPDX-License-Identifier: Apache-2.0 */\n");
    fprintf(out, "/* Written by tools/make_text_widths.c; do not edit. */\n");
    fprintf(out, "#include \"draw/draw_inside.h\"\n\n");
    fprintf(out, "const char *const draw_font_files[DRAW_FACES] = {\n");
    for (int i = 0; i < FACES; i++) {
        fprintf(out, "    \"%s\",\n", values[2 + i]);
    }
    fprintf(out, "};\n\n");
    write_digits(out, faces[0]);
    fprintf(out, "\nconst struct draw_advance draw_advances[] = {\n");
    for (size_t i = 0; i < sizeof RANGES / sizeof *RANGES; i++) {
        for (unsigned code = RANGES[i].first; code <= RANGES[i].last; code++) {
            write_row(out, faces, code);
        }
    }
    fprintf(out, "};\n");
    fprintf(out,
            "const size_t draw_advance_count = sizeof draw_advances / sizeof *draw_advances;\n");
    FT_Done_FreeType(library);
    if (fclose(out) != 0) {
        fail("cannot write", values[1]);
    }
    return 0;
}
