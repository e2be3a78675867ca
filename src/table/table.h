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
    struct base_text text; /* blanks at both ends cut off; quotes resolved */
    struct base_mark mark;
};

struct table_row {
    int line;                   /* 1-based line in the text */
    struct base_text raw;       /* the whole line without its end */
    struct table_field *fields; /* [count]; an empty line has one empty field */
    size_t count;
};

struct table {
    struct table_row *rows; /* [count] */
    size_t count;
};

/* Splits the whole text. BASE_STOPPED with an issue on an unclosed quote or a text over 4 MiB. */
enum base_status table_read(struct base_arena *arena, struct base_issues *issues,
                            enum base_document document, struct base_text source,
                            struct table *table);

#endif
