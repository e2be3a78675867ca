/* SPDX-License-Identifier: Apache-2.0 */
/* The measurements in words: as a text table, as questions for the telephone, as a mail. */
#include "documents/measure_text_inside.h"

#include <math.h>

#define DEGREE 0.017453292519943295

/* ---- numbers ------------------------------------------------------------------------------- */

/* A number of an item, in its own unit. */
static struct base_text write_number(struct base_arena *arena, struct units_style style,
                                     const struct measure_item *item, double number) {
    if (item->said.unit == BASE_UNIT_TICK) {
        return units_write_length(arena, style, units_tick_of_m(number));
    }
    bool is_angle = item->said.unit == BASE_UNIT_RAD;
    struct base_text parts[] = {
        units_write_decimal(arena, is_angle ? number / DEGREE : 12 * number, 2),
        base_text_of(is_angle ? "\xC2\xB0" : "/12")};
    return base_join(arena, 2, parts);
}

struct base_text measure_text_said(struct base_arena *arena, struct units_style style,
                                   const struct measure_item *item) {
    if (item->said.unit == BASE_UNIT_TICK && item->said.integer >= 0) {
        return units_write_length_exact(arena, style.system, item->said.integer);
    }
    return measure_text_signed(arena, style, item, item->said_si, false);
}

struct base_text measure_text_signed(struct base_arena *arena, struct units_style style,
                                     const struct measure_item *item, double number, bool plus) {
    struct base_text size = write_number(arena, style, item, fabs(number));
    struct base_text zero = write_number(arena, style, item, 0.0);
    const char *sign = base_text_equal(size, zero) ? "" : number < 0 ? "-" : plus ? "+" : "";
    struct base_text parts[] = {base_text_of(sign), size};
    return base_join(arena, 2, parts);
}

struct base_text measure_text_cell(struct base_arena *arena, struct units_style style,
                                   const struct measure_item *item,
                                   enum measure_text_column column) {
    bool checked = item->redundancy > 1e-3;
    switch (column) {
    case MEASURE_TEXT_NAME:
        return measure_item_words(arena, item);
    case MEASURE_TEXT_SAID:
        return measure_text_said(arena, style, item);
    case MEASURE_TEXT_ADJUSTED:
        return measure_text_signed(arena, style, item, item->adjusted, false);
    case MEASURE_TEXT_WITHIN:
        return measure_text_signed(arena, style, item, item->within, false);
    case MEASURE_TEXT_RESIDUAL:
        return measure_text_signed(arena, style, item, item->residual, true);
    case MEASURE_TEXT_REDUNDANCY:
        return units_write_decimal(arena, item->redundancy, 2);
    case MEASURE_TEXT_W:
        return checked ? units_write_decimal(arena, item->w_1, 1) : base_text_of("-");
    case MEASURE_TEXT_DETECTABLE:
        return checked ? measure_text_signed(arena, style, item, item->detectable, false)
                       : base_text_of("none");
    }
    return (struct base_text){0};
}

/* ---- the verdict --------------------------------------------------------------------------- */

static void add_ring(struct base_builder *out, const struct solution *all) {
    const struct measure *measure = &all->measure;
    if (!measure->is_ring) {
        return;
    }
    struct units_style style = all->shop.style;
    base_add_string(out, "The walk round the house misses its start by ");
    base_add_text(out,
                  units_write_length(out->arena, style, units_tick_of_m(measure->misclosure_m)));
    base_add_string(out, "; the doubts of tape and corners explain about ");
    base_add_text(out, units_write_length(out->arena, style, units_tick_of_m(measure->expected_m)));
    base_add_string(out, ". ");
}

struct base_text documents_write_verdict(struct base_arena *arena, const struct solution *all) {
    const struct measure *measure = &all->measure;
    struct base_builder out = {.arena = arena};
    add_ring(&out, all);
    switch (measure->verdict) {
    case MEASURE_UNCHECKED:
        if (measure->item_count == 0) {
            base_add_string(&out, "Nothing is adjusted here: an outline, and wings that are no "
                                  "rectangle, are taken as said.");
            break;
        }
        base_add_string(&out, "No size is taped twice, so a wrong one would not show. One size "
                              "across the house would check them: a diagonal, a gable, a ridge.");
        break;
    case MEASURE_TOO_MANY:
        base_add_string(&out, "There are more measurements than are adjusted together.");
        break;
    case MEASURE_CLOSES:
        base_add_string(&out, "The measurements agree within their doubts.");
        break;
    case MEASURE_ONE_WRONG:
        base_add_string(&out, "The measurements do not agree. One of them explains it: ");
        base_add_text(&out, measure_item_words(arena, &measure->items[measure->causes[0].item]));
        base_add_string(&out, ".");
        break;
    case MEASURE_UNDECIDED:
        base_add_string(&out, "The measurements do not agree, and ");
        base_add_integer(&out, (int64_t)measure->likely);
        base_add_string(&out, " of them explain it equally well: none is twenty times likelier "
                              "than another. One more size taped across the house would decide.");
        break;
    case MEASURE_SEVERAL_WRONG:
        base_add_string(&out, "The measurements do not agree, and no single one explains it: more "
                              "than one is wrong. The house should be taped again.");
        break;
    }
    return base_built(&out);
}

/* ---- questions for the telephone ----------------------------------------------------------- */

static const char *const LINES[] = {"the roof edge", "the wall", "the face of the wood"};

static void add_overhang_question(struct base_builder *out, const struct solution *all,
                                  const struct measure_item *item) {
    base_add_string(out, " From where to where did the tape run at each end: from the wall's "
                         "corner, or from the edge of the roof?");
    for (size_t i = 0; i < all->job.run_count && item->kind == MEASURE_RUN; i++) {
        if (base_text_equal(all->job.runs[i].name, item->of)) {
            base_add_string(out, " (We have it as ");
            base_add_string(out, LINES[all->job.runs[i].taped_on]);
            base_add_string(out, ".)");
        }
    }
}

static void add_corner_question(struct base_builder *out, const struct solution *all,
                                const struct measure_cause *cause) {
    const struct measure_item *item = &all->measure.items[cause->item];
    if (cause->slip == MEASURE_SLIP_INSIDE_OUTSIDE) {
        base_add_string(out, " Walking along that eave with the house on your left, do you turn "
                             "left there (an outside corner) or right (an inside corner)? We have "
                             "it as an ");
        base_add_string(out, item->inside ? "inside corner." : "outside corner.");
        return;
    }
    base_add_string(out, all->job.system == UNITS_MM
                             ? " Please tape it: from the corner 900 mm along one eave and 1200 mm "
                               "along the other, then from mark to mark; a square corner gives "
                               "1500 mm."
                             : " Please tape it: from the corner 3 ft along one eave and 4 ft "
                               "along the other, then from mark to mark; a square corner gives 5 "
                               "ft.");
}

struct base_text documents_write_question(struct base_arena *arena, const struct solution *all,
                                          size_t index) {
    const struct measure_cause *cause = &all->measure.causes[index];
    const struct measure_item *item = &all->measure.items[cause->item];
    struct units_style style = all->shop.style;
    struct base_builder out = {.arena = arena};
    base_add_string(&out, "About ");
    base_add_text(&out, measure_item_words(arena, item));
    base_add_string(&out, ": we have ");
    base_add_text(&out, measure_text_said(arena, style, item));
    if (cause->slip != MEASURE_SLIP_INSIDE_OUTSIDE) {
        base_add_string(&out, "; could it be ");
        base_add_string(&out, cause->slip == MEASURE_SLIP_NONE ? "about " : "");
        base_add_text(&out, units_write_value(arena, style, cause->meant));
        if (cause->slip != MEASURE_SLIP_NONE) {
            base_add_string(&out, " (");
            base_add_string(&out, measure_slip_words(cause->slip, all->job.system));
            base_add_string(&out, ")");
        }
        base_add_string(&out, "?");
    } else {
        base_add_string(&out, ".");
    }
    if (item->kind == MEASURE_CORNER) {
        add_corner_question(&out, all, cause);
    } else if (cause->slip == MEASURE_SLIP_OVERHANG_ONE ||
               cause->slip == MEASURE_SLIP_OVERHANG_BOTH) {
        add_overhang_question(&out, all, item);
    } else {
        base_add_string(&out, " Please tape it once more.");
    }
    return base_built(&out);
}

/* ---- texts --------------------------------------------------------------------------------- */

static const char *const HEADS[] = {"measurement", "said",       "adjusted", "give or take",
                                    "residual",    "redundancy", "w",        "smallest found"};
static const size_t WIDTHS[] = {40, 14, 14, 13, 12, 11, 7, 15};

const char *measure_text_head(enum measure_text_column column) {
    return HEADS[column];
}

static size_t count_characters(struct base_text text) {
    size_t count = 0;
    for (size_t i = 0; i < text.length; i++) {
        count += ((unsigned char)text.bytes[i] & 0xC0) != 0x80;
    }
    return count;
}

static void add_column(struct base_builder *out, struct base_text text, size_t column) {
    size_t length = count_characters(text);
    size_t fill = length < WIDTHS[column] ? WIDTHS[column] - length : 1;
    if (column == 0) {
        base_add_text(out, text);
    }
    for (size_t i = 0; i < fill; i++) {
        base_add_char(out, ' ');
    }
    if (column > 0) {
        base_add_text(out, text);
    }
}

const char *measure_text_used(const struct solution *all) {
    return all->measure.uses_adjusted
               ? "Runs are laid out from the lengths as adjusted, not as said; corners as said, "
                 "unless they differ by more than they are known to."
               : "Everything is laid out from the lengths as said, not as adjusted.";
}

struct base_text documents_write_measure(struct base_arena *arena, const struct solution *all) {
    const struct measure *measure = &all->measure;
    struct base_builder out = {.arena = arena};
    for (size_t column = 0; column < MEASURE_TEXT_COLUMNS && measure->item_count > 0; column++) {
        add_column(&out, base_text_of(HEADS[column]), column);
    }
    base_add_string(&out, measure->item_count > 0 ? "\n" : "");
    for (size_t i = 0; i < measure->item_count; i++) {
        for (size_t column = 0; column < MEASURE_TEXT_COLUMNS; column++) {
            add_column(&out,
                       measure_text_cell(arena, all->shop.style, &measure->items[i],
                                         (enum measure_text_column)column),
                       column);
        }
        base_add_char(&out, '\n');
    }
    base_add_string(&out, measure->item_count > 0 ? "\n" : "");
    base_add_text(&out, documents_write_verdict(arena, all));
    base_add_char(&out, '\n');
    for (size_t i = 0; i < measure->likely; i++) {
        base_add_string(&out, "  ");
        base_add_text(&out, documents_write_question(arena, all, i));
        base_add_char(&out, '\n');
    }
    base_add_string(&out, measure_text_used(all));
    base_add_char(&out, '\n');
    return base_built(&out);
}

struct base_text documents_write_measure_mail(struct base_arena *arena,
                                              const struct solution *all) {
    const struct measure *measure = &all->measure;
    struct base_builder out = {.arena = arena};
    base_add_string(&out, "Your measurements: ");
    base_add_text(&out, all->job.title);
    base_add_string(&out, "\n\nThank you for the measurements. ");
    base_add_text(&out, documents_write_verdict(arena, all));
    base_add_char(&out, '\n');
    for (size_t i = 0; i < measure->likely; i++) {
        base_add_char(&out, '\n');
        base_add_integer(&out, (int64_t)i + 1);
        base_add_string(&out, ". ");
        base_add_text(&out, documents_write_question(arena, all, i));
        base_add_char(&out, '\n');
    }
    if (measure->likely > 0) {
        base_add_string(&out, "\nNo copper is cut before this is settled. Please do not climb for "
                              "it: what cannot be taped safely from the ground we tape "
                              "ourselves.\n");
    }
    return base_built(&out);
}
