/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a real gauge wrote down, reading by reading. Part of rain.h, which others include.
 *
 *    date,rain (in)             a time and the rain that fell up to it, rising; dry steps may be
 *    10/4/2013 10:19,0.018      left out. One heading at most.
 *    10/4/2013 10:20,0.038
 */
#ifndef EAVESMITH_RAIN_RECORD_H
#define EAVESMITH_RAIN_RECORD_H

#include "rain/rain.h"

struct rain_reading {
    int64_t end_s; /* clock of the gauge, seconds since 1970-01-01 00:00; the rain fell in the
                      step before it */
    double depth_m;
};

struct rain_record {
    struct rain_reading *readings; /* [count >= 2], rising */
    size_t count;
    int64_t step_s; /* what one reading stands for: the common measure of all distances between
                       readings, a minute at least, an hour at most */
    double total_m;
};

/* Readings [from, to) of a record. */
struct rain_span {
    size_t from;
    size_t to;
};

/*
 * Reads two columns, time and rain. Times: 2013-10-04 10:19[:30], 10/4/2013 10:19 (month
 * first), 4.10.2013 10:19; AM and PM are taken. unit is used only where the heading names none;
 * neither is refused, and so is the one against the other. Gives BASE_STOPPED with one issue (mark
 * in the file) on every refusal: a web page, columns shuffled or missing, times that do not rise, a
 * missing or negative reading, totals that count up, more rain than nature has (SRC-141).
 */
enum base_status rain_read_record(struct base_arena *arena, struct base_issues *issues,
                                  struct base_text source, enum rain_unit unit,
                                  struct rain_record *record);

/* The next storm behind *span (begin with {0, 0}): readings with rain and no gap_s or more of dry
 * weather between them. False when there is none. */
bool rain_next_storm(const struct rain_record *record, int64_t gap_s, struct rain_span *span);

/* Greatest part of a span that lasts at most most_s and has the hardest rain over the window in its
 * middle, as far as the span reaches on both sides. The span itself where it is no longer. */
struct rain_span rain_cut_span(const struct rain_record *record, struct rain_span span,
                               int64_t window_s, int64_t most_s);

/* 2013-10-04 10:19 of a clock of the gauge; seconds are left out. */
struct base_text rain_write_clock(struct base_arena *arena, int64_t clock_s);

/* Time from the first rain of the span to the last, the first reading's own step included. */
int64_t rain_span_seconds(const struct rain_record *record, struct rain_span span);

/*
 * The hardest rain over a window, in m/s: greatest sum over t <= u < t + window, t on readings.
 * False where the span is shorter than the window, or the record too coarse for it. Longer windows
 * need not have less: only a multiple must. Source: the rule of SRC-140 (FOUND, 475 maxima).
 */
bool rain_find_maximum(const struct rain_record *record, struct rain_span span, int64_t window_s,
                       double *intensity_mps);

/* The storm whose hardest rain over the window is the greatest, the first in a tie. False when none
 * is as long as the window. */
bool rain_find_hardest(const struct rain_record *record, int64_t gap_s, int64_t window_s,
                       struct rain_span *span);

#endif
