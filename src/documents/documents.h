/* SPDX-License-Identifier: Apache-2.0 */
/*
 * documents: what a person reads: sentences of findings, the packet, the plan, the piece list.
 *
 * Walk      before: solve. after: the doors.
 * Rule      formats, never computes: every number stands in the solution already and is only
 *           rounded here to the job's style.
 * Memory    everything in the arena handed in; texts and pages die with it.
 */
#ifndef EAVESMITH_DOCUMENTS_H
#define EAVESMITH_DOCUMENTS_H

#include "base/base.h"
#include "draw/draw.h"
#include "solve/solve.h"
#include "units/units.h"

/* The sentence of an issue: its pattern filled in, in the job's style. */
struct base_text documents_write_issue(struct base_arena *arena, struct units_style style,
                                       const struct base_issue *issue);
/* What would be right; may be empty. */
struct base_text documents_write_mend(struct base_arena *arena, struct units_style style,
                                      const struct base_issue *issue);

/*
 * The whole packet as a display list: quote, plan, an elevation for each run, piece list, site
 * sheet, care sheet. An order by pieces has quote, piece list and care sheet only. US Letter for
 * feet and inches, A4 for metric. BASE_OK or BASE_NO_MEMORY; document->arena may be left NULL.
 */
enum base_status documents_draw_packet(struct base_arena *arena, const struct solution *solution,
                                       const struct base_issues *issues,
                                       struct draw_document *document);
/* The plan alone. No page when there is no house. */
enum base_status documents_draw_plan(struct base_arena *arena, const struct solution *solution,
                                     struct draw_document *document);

/*
 * The measuring guide: the walk round the house, a page for each kind of eave, the wall below an
 * outlet, the gutter as found, all with blanks in the order of the job file. Letter or A4 by the
 * system. BASE_OK or BASE_NO_MEMORY.
 */
enum base_status documents_draw_guide(struct base_arena *arena, enum units_system system,
                                      struct draw_document *document);

/* The page of the measurements alone, for a house that is measured more than once over. */
enum base_status documents_draw_measurements(struct base_arena *arena,
                                             const struct solution *solution,
                                             struct draw_document *document);
/* Do the measurements agree? In a few sentences. */
struct base_text documents_write_verdict(struct base_arena *arena, const struct solution *all);
/* What to ask a customer on the telephone about measure.causes[index]. */
struct base_text documents_write_question(struct base_arena *arena, const struct solution *all,
                                          size_t index);
/* Every measurement in a line, then the verdict; and the same short enough to paste in a mail. */
struct base_text documents_write_measure(struct base_arena *arena, const struct solution *all);
struct base_text documents_write_measure_mail(struct base_arena *arena, const struct solution *all);

/* pieces.csv: header line first, LF line ends, fields as in RFC 4180. */
struct base_text documents_write_pieces_csv(struct base_arena *arena,
                                            const struct solution *solution);
/* The answers as plain text, a few lines for each run, then the findings. */
struct base_text documents_write_summary(struct base_arena *arena, const struct solution *all,
                                         const struct base_issues *issues);

#endif
