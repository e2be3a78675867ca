/* SPDX-License-Identifier: Apache-2.0 */
/* Characters, widths, stacked fractions, lines of a paragraph, boxes of shapes. */
#include "draw/draw_inside.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* ---- characters ---------------------------------------------------------------------------- */

static size_t sequence_length(unsigned char lead) {
    if (lead < 0x80) {
        return 1;
    }
    if (lead < 0xC2) {
        return 0;
    }
    return lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 0;
}

/* 0 when the bytes at this place are no UTF-8. */
static size_t read_code(struct base_text text, size_t at, uint32_t *code) {
    static const unsigned char LEAD_MASK[] = {0, 0x7F, 0x1F, 0x0F, 0x07};
    static const uint32_t SMALLEST[] = {0, 0, 0x80, 0x800, 0x10000};
    unsigned char lead = (unsigned char)text.bytes[at];
    size_t length = sequence_length(lead);
    if (length == 0 || length > text.length - at) {
        return 0;
    }
    uint32_t value = lead & LEAD_MASK[length];
    for (size_t i = 1; i < length; i++) {
        unsigned char next = (unsigned char)text.bytes[at + i];
        if ((next & 0xC0) != 0x80) {
            return 0;
        }
        value = value << 6 | (next & 0x3F);
    }
    bool surrogate = value >= 0xD800 && value <= 0xDFFF;
    if (value < SMALLEST[length] || value > 0x10FFFF || surrogate) {
        return 0;
    }
    *code = value;
    return length;
}

uint32_t draw_next_code(struct base_text text, size_t *at) {
    assert(*at < text.length);
    uint32_t code = '?';
    size_t length = read_code(text, *at, &code);
    *at += length == 0 ? 1 : length;
    return code;
}

/* XML 1.0 takes no control characters and not the last two codes of the first plane. */
static bool may_be_written(uint32_t code) {
    return code >= 0x20 && !(code >= 0x7F && code <= 0x9F) && code != 0xFFFE && code != 0xFFFF;
}

struct base_text draw_clean_text(struct base_arena *arena, struct base_text text) {
    char *bytes = base_take(arena, text.length + 1, 1);
    if (bytes == NULL) {
        return (struct base_text){0};
    }
    size_t at = 0;
    while (at < text.length) {
        uint32_t code = 0;
        size_t length = read_code(text, at, &code);
        if (length == 0) {
            bytes[at++] = '?';
        } else if (may_be_written(code)) {
            memcpy(bytes + at, text.bytes + at, length);
            at += length;
        } else {
            memset(bytes + at, ' ', length);
            at += length;
        }
    }
    return (struct base_text){bytes, text.length};
}

static const struct draw_advance *find_advance(uint32_t code) {
    size_t low = 0;
    size_t high = draw_advance_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (draw_advances[middle].code < code) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    bool found = low < draw_advance_count && draw_advances[low].code == code;
    return found ? &draw_advances[low] : NULL;
}

/* Signs that Carlito lacks and that another of its glyphs shows as well. */
static uint32_t look_alike(uint32_t code) {
    switch (code) {
    case 0x00A0: /* no-break space */
        return ' ';
    case 0x00AD: /* soft hyphen */
    case 0x2010: /* hyphen */
    case 0x2011: /* no-break hyphen */
        return '-';
    case 0x2032: /* prime: feet. The modifier letter prime is the half of the font's double prime */
        return 0x02B9;
    case 0x02BA: /* modifier letter double prime */
        return 0x2033;
    case 0x212B: /* angstrom sign */
        return 0x00C5;
    case 0x2205: /* empty set, used as a diameter sign */
    case 0x2300: /* diameter sign */
        return 0x00D8;
    default:
        return '?';
    }
}

uint32_t draw_painted_code(uint32_t code) {
    return find_advance(code) != NULL ? code : look_alike(code);
}

double draw_code_width(uint32_t code, double size_mm, enum draw_face face) {
    const struct draw_advance *advance = find_advance(code);
    assert(advance != NULL);
    return advance->advance_unit[face] * size_mm / DRAW_UNITS_PER_EM;
}

double draw_text_width(struct base_text text, double size_mm, enum draw_face face) {
    double width_mm = 0;
    for (size_t at = 0; at < text.length;) {
        uint32_t code = draw_painted_code(draw_next_code(text, &at));
        width_mm += draw_code_width(code, size_mm, face);
    }
    return width_mm;
}

/* ---- lengths with a stacked fraction ------------------------------------------------------- */

struct draw_label draw_label_of(struct base_text text) {
    return (struct draw_label){.text = text};
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* A text without bytes has no place to count from. */
static struct base_text part(struct base_text text, size_t from, size_t to) {
    if (from == to) {
        return (struct base_text){0};
    }
    return (struct base_text){text.bytes + from, to - from};
}

/* Digits from `from` up to the first other character; -1 when there are none or too many. */
static int read_number(struct base_text text, size_t from, size_t *to) {
    enum { DIGITS_MOST = 4 };
    int value = 0;
    size_t at = from;
    while (at < text.length && is_digit(text.bytes[at]) && at - from < DIGITS_MOST) {
        value = value * 10 + (text.bytes[at++] - '0');
    }
    bool too_long = at < text.length && is_digit(text.bytes[at]);
    *to = at;
    return at == from || too_long ? -1 : value;
}

/* What may stand right after a fraction: an inch mark, a blank, the end; no letter or digit. */
static bool ends_fraction(struct base_text text, size_t at) {
    if (at == text.length) {
        return true;
    }
    char c = text.bytes[at];
    bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    return !letter && !is_digit(c) && c != '/' && c != '.';
}

/* The fraction whose stroke stands at `stroke`. */
static bool split_at(struct base_text text, size_t stroke, struct draw_label *label) {
    size_t from = stroke;
    while (from > 0 && is_digit(text.bytes[from - 1])) {
        from--;
    }
    size_t whole_end = from;
    if (from > 0) {
        char before = text.bytes[from - 1];
        if (before != ' ' && before != '-') {
            return false;
        }
        whole_end = from - 1;
    }
    size_t numerator_end = 0;
    size_t end = 0;
    int numerator = read_number(text, from, &numerator_end);
    int denominator = read_number(text, stroke + 1, &end);
    if (numerator < 0 || numerator_end != stroke || denominator <= 0 || !ends_fraction(text, end)) {
        return false;
    }
    *label = (struct draw_label){.text = text,
                                 .whole = part(text, 0, whole_end),
                                 .tail = part(text, end, text.length),
                                 .numerator = numerator,
                                 .denominator = denominator};
    return true;
}

struct draw_label draw_length_of(struct base_text text) {
    struct draw_label label = draw_label_of(text);
    for (size_t at = text.length; at > 0; at--) {
        if (text.bytes[at - 1] == '/' && split_at(text, at - 1, &label)) {
            return label;
        }
    }
    return label;
}

struct draw_digits draw_small_digits(int number) {
    assert(number >= 0);
    struct draw_digits digits = {.count = 1};
    for (int rest = number; rest >= 10; rest /= 10) {
        digits.count++;
    }
    for (size_t i = digits.count; i > 0; i--) {
        digits.codes[i - 1] = 0x2080 + (uint32_t)(number % 10);
        number /= 10;
    }
    return digits;
}

static double digits_width(struct draw_digits digits, double size_mm, enum draw_face face) {
    double width_mm = 0;
    for (size_t i = 0; i < digits.count; i++) {
        width_mm += draw_code_width(digits.codes[i], size_mm, face);
    }
    return width_mm;
}

/* The bar lies at half the height of the figures beside it. */
struct draw_stack draw_find_stack(struct draw_label label, double size_mm, enum draw_face face) {
    assert(label.denominator > 0);
    double unit_mm = size_mm / DRAW_UNITS_PER_EM;
    double gap_mm = 0.12 * size_mm;     /* between whole and bar, and between bar and tail */
    double clear_mm = 0.085 * size_mm;  /* between the bar's middle and a digit */
    double beyond_mm = 0.035 * size_mm; /* the bar reaches past the wider number */
    double whole_mm = draw_text_width(label.whole, size_mm, face);
    double above_mm = digits_width(draw_small_digits(label.numerator), size_mm, face);
    double below_mm = digits_width(draw_small_digits(label.denominator), size_mm, face);
    double inner_mm = fmax(above_mm, below_mm);
    struct draw_stack stack = {.bar_width_mm = 0.05 * size_mm,
                               .bar_up_mm = draw_digit_height_unit * unit_mm / 2};
    stack.bar_from_mm = whole_mm + (label.whole.length > 0 ? gap_mm : 0);
    stack.bar_to_mm = stack.bar_from_mm + inner_mm + 2 * beyond_mm;
    double middle_mm = (stack.bar_from_mm + stack.bar_to_mm) / 2;
    stack.numerator_x_mm = middle_mm - above_mm / 2;
    stack.denominator_x_mm = middle_mm - below_mm / 2;
    stack.numerator_up_mm = stack.bar_up_mm + clear_mm - draw_small_bottom_unit * unit_mm;
    stack.denominator_up_mm = stack.bar_up_mm - clear_mm - draw_small_top_unit * unit_mm;
    stack.tail_x_mm = stack.bar_to_mm + (label.tail.length > 0 ? gap_mm / 3 : 0);
    stack.width_mm = stack.tail_x_mm + draw_text_width(label.tail, size_mm, face);
    return stack;
}

double draw_label_width(struct draw_label label, double size_mm, enum draw_face face) {
    return label.denominator > 0 ? draw_find_stack(label, size_mm, face).width_mm
                                 : draw_text_width(label.text, size_mm, face);
}

struct draw_label draw_shape_label(const struct draw_shape *fraction) {
    return (struct draw_label){.text = fraction->text,
                               .whole = fraction->whole,
                               .tail = fraction->tail,
                               .numerator = fraction->numerator,
                               .denominator = fraction->denominator};
}

double draw_fraction_width(const struct draw_shape *fraction) {
    return draw_label_width(draw_shape_label(fraction), fraction->size_mm, fraction->face);
}

double draw_shape_width(const struct draw_shape *shape) {
    return shape->kind == DRAW_FRACTION ? draw_fraction_width(shape)
                                        : draw_text_width(shape->text, shape->size_mm, shape->face);
}

double draw_anchor_shift(enum draw_anchor anchor, double width_mm) {
    switch (anchor) {
    case DRAW_START:
        return 0;
    case DRAW_MIDDLE:
        return -width_mm / 2;
    case DRAW_END:
        return -width_mm;
    }
    return 0;
}

/* ---- lines of a paragraph ------------------------------------------------------------------ */

struct line_walk {
    struct base_text text;
    double size_mm;
    enum draw_face face;
    double width_mm;
};

/* After these a word that is too long may be cut. */
static bool is_cut_mark(uint32_t code) {
    return code == '/' || code == '-' || code == '.' || code == '_';
}

/* Where the line that starts at `from` ends, and where the next one starts. */
static size_t find_line_end(const struct line_walk *walk, size_t from, size_t *next) {
    double used_mm = 0;
    size_t blank = from; /* the last blank that fits; from = none */
    size_t cut = from;
    for (size_t at = from; at < walk->text.length;) {
        size_t here = at;
        uint32_t code = draw_next_code(walk->text, &at);
        if (code == '\n') {
            *next = at;
            return here;
        }
        used_mm +=
            draw_code_width(draw_painted_code(code < 0x20 ? ' ' : code), walk->size_mm, walk->face);
        if (code == ' ' && here > from) {
            blank = here;
        }
        /* a blank may hang past the edge; a thousandth covers sums added up in another order */
        if (used_mm > walk->width_mm + 1e-3 && code != ' ') {
            size_t end = blank > from ? blank : cut > from ? cut : here > from ? here : at;
            *next = end;
            return end;
        }
        cut = is_cut_mark(code) ? at : cut;
    }
    *next = walk->text.length;
    return walk->text.length;
}

static struct base_text without_blanks_at_end(struct base_text line) {
    while (line.length > 0 && line.bytes[line.length - 1] == ' ') {
        line.length--;
    }
    return line;
}

/* many because a font, a size and a width are one measure */
size_t draw_break_lines(struct base_arena *arena, struct base_text text, double size_mm,
                        enum draw_face face, double width_mm, struct base_text **lines) {
    struct line_walk walk = {text, size_mm, face, width_mm};
    struct base_text *found = NULL;
    size_t count = 0;
    size_t capacity = 0;
    size_t at = 0;
    bool more = true;
    while (more) {
        size_t next = at;
        size_t end = text.length == 0 ? 0 : find_line_end(&walk, at, &next);
        found = base_grow(arena, found, &capacity, count, sizeof *found);
        if (found == NULL) {
            *lines = NULL;
            return 0;
        }
        found[count++] = without_blanks_at_end(part(text, at, end));
        bool hard = next > end;
        while (!hard && next < text.length && text.bytes[next] == ' ') {
            next++;
        }
        more = next < text.length;
        at = next;
    }
    *lines = found;
    return count;
}

/* ---- what a shape covers ------------------------------------------------------------------- */

static void widen(struct draw_box *box, struct draw_point point) {
    box->left_mm = fmin(box->left_mm, point.x_mm);
    box->right_mm = fmax(box->right_mm, point.x_mm);
    box->top_mm = fmin(box->top_mm, point.y_mm);
    box->bottom_mm = fmax(box->bottom_mm, point.y_mm);
}

static struct draw_box box_of_points(const struct draw_point *points, size_t count) {
    struct draw_box box = {points[0].x_mm, points[0].y_mm, points[0].x_mm, points[0].y_mm};
    for (size_t i = 1; i < count; i++) {
        widen(&box, points[i]);
    }
    return box;
}

static struct draw_box grown(struct draw_box box, double by_mm) {
    return (struct draw_box){box.left_mm - by_mm, box.top_mm - by_mm, box.right_mm + by_mm,
                             box.bottom_mm + by_mm};
}

static struct draw_box box_of_arc(const struct draw_shape *arc) {
    struct draw_point ends[] = {draw_arc_point(arc, arc->from_rad),
                                draw_arc_point(arc, arc->to_rad)};
    struct draw_box box = box_of_points(ends, 2);
    double quarter_rad = DRAW_PI / 2;
    for (double turn = ceil(arc->from_rad / quarter_rad); turn * quarter_rad < arc->to_rad;
         turn += 1) {
        widen(&box, draw_arc_point(arc, turn * quarter_rad));
    }
    return box;
}

/* Accents reach 0.8 em up, descenders 0.22 em down; a stacked fraction stays within. */
void draw_find_text_corners(const struct draw_shape *shape, struct draw_point corners[4]) {
    double width_mm = draw_shape_width(shape);
    double from_mm = draw_anchor_shift(shape->anchor, width_mm);
    double ups_mm[] = {-0.22 * shape->size_mm, 0.8 * shape->size_mm};
    double alongs_mm[] = {from_mm, from_mm + width_mm, from_mm + width_mm, from_mm};
    double cosine = cos(shape->turn_rad);
    double sine = sin(shape->turn_rad);
    for (int i = 0; i < 4; i++) {
        double along_mm = alongs_mm[i];
        double up_mm = ups_mm[i / 2];
        corners[i] = (struct draw_point){shape->points[0].x_mm + along_mm * cosine - up_mm * sine,
                                         shape->points[0].y_mm - along_mm * sine - up_mm * cosine};
    }
}

static struct draw_box box_of_text(const struct draw_shape *shape) {
    struct draw_point corners[4];
    draw_find_text_corners(shape, corners);
    return box_of_points(corners, 4);
}

struct draw_box draw_find_box(const struct draw_shape *shape) {
    assert(shape->point_count > 0);
    switch (shape->kind) {
    case DRAW_LINE:
    case DRAW_POLYGON:
        return grown(box_of_points(shape->points, shape->point_count), shape->width_mm / 2);
    case DRAW_CIRCLE:
        return grown(box_of_points(shape->points, 1), shape->radius_mm + shape->width_mm / 2);
    case DRAW_ARC:
        return grown(box_of_arc(shape), shape->width_mm / 2);
    case DRAW_TEXT:
    case DRAW_FRACTION:
        return box_of_text(shape);
    case DRAW_LINK_TARGET:
        break;
    }
    return box_of_points(shape->points, 1);
}
