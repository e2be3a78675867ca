/* SPDX-License-Identifier: Apache-2.0 */
/* What the text and the page of the measurements share. */
#ifndef EAVESMITH_MEASURE_TEXT_INSIDE_H
#define EAVESMITH_MEASURE_TEXT_INSIDE_H

#include "documents/documents.h"

enum measure_text_column {
    MEASURE_TEXT_NAME = 0,
    MEASURE_TEXT_SAID,
    MEASURE_TEXT_ADJUSTED,
    MEASURE_TEXT_WITHIN,
    MEASURE_TEXT_RESIDUAL,
    MEASURE_TEXT_REDUNDANCY,
    MEASURE_TEXT_W,
    MEASURE_TEXT_DETECTABLE
};
enum { MEASURE_TEXT_COLUMNS = MEASURE_TEXT_DETECTABLE + 1 };

const char *measure_text_head(enum measure_text_column column);
struct base_text measure_text_cell(struct base_arena *arena, struct units_style style,
                                   const struct measure_item *item,
                                   enum measure_text_column column);
/* As said; in the item's own unit with a sign. */
struct base_text measure_text_said(struct base_arena *arena, struct units_style style,
                                   const struct measure_item *item);
/* many because they are one number and how it is written */
struct base_text measure_text_signed(struct base_arena *arena, struct units_style style,
                                     const struct measure_item *item, double number, bool plus);

/* Which lengths the later rooms build from. */
const char *measure_text_used(const struct solution *all);

#endif
