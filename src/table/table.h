/* SPDX-License-Identifier: Apache-2.0 */
/*
 * table: comma-separated text with the line and column of every field. BOM, LF, CRLF and CR taken;
 * quotes as in RFC 4180. Knows no header and no meaning. Rows may differ in field count: the reader
 * that knows the meaning refuses them.
 */
#ifndef EAVESMITH_TABLE_H
#define EAVESMITH_TABLE_H

#include "base/base.h"

struct table_field {
    struct base_text
        text; /* blanks at both ends cut off, but kept inside quotes; quotes resolved */
    struct base_mark mark; /* of the field as written: without those blanks, with its quotes */
};

struct table_row {
    int line;             /* 1-based line in the text */
    struct base_text raw; /* the whole line without its end; more lines when quotes span them */
    struct table_field *fields; /* [count]; an empty line has one empty field */
    size_t count;
};

struct table {
    struct table_row *rows; /* [count] */
    size_t count;
};

/*
 * Splits the whole text; an empty text has no rows, and a line end at its end opens none. A quote
 * counts only as the first mark of a field: 6" pipe is taken as it stands.
 * Texts are views of source where they can be, so source must outlive the table.
 * Issues: BASE_STOPPED with TABLE_QUOTE_OPEN, TABLE_AFTER_QUOTE, or TEXT_TOO_LONG over 4 MiB.
 */
enum base_status table_read(struct base_arena *arena, struct base_issues *issues,
                            enum base_document document, struct base_text source,
                            struct table *table);

#endif
