/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Any bytes as the record of a gauge: must end in a record or in one refusal; a record that was
 * read must part into storms that hold all its rain, and no window may hold more than the whole.
 */
#include "rain/rain.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool holds) {
    if (!holds) {
        abort();
    }
}

static void ask_record(struct base_arena *arena, const struct rain_record *record) {
    struct rain_span span = {0, 0};
    double sum_m = 0;
    require(record->count >= 2 && record->step_s >= 60 && record->step_s <= 3600);
    for (size_t i = 1; i < record->count; i++) {
        require(record->readings[i].end_s > record->readings[i - 1].end_s);
    }
    while (rain_next_storm(record, 7200, &span)) {
        struct rain_storm storm;
        double intensity_mps = 0;
        require(span.from < span.to && span.to <= record->count);
        if (rain_find_maximum(record, span, 3600, &intensity_mps)) {
            require(intensity_mps >= 0 && intensity_mps * 3600 <= record->total_m * (1 + 1e-9));
        }
        require(rain_make_storm(arena, record, span, 0, &storm));
        require(storm.total_m >= 0 && storm.total_m <= record->total_m * (1 + 1e-9));
        sum_m += storm.total_m;
    }
    require(fabs(sum_m - record->total_m) <= 1e-9 * record->total_m);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct base_arena *arena = base_make_arena((size_t)256 << 20);
    struct base_issues issues = {.arena = arena};
    struct rain_record record;
    if (arena == NULL) {
        return 0;
    }
    /* the first byte chooses what the user said of the unit */
    const enum base_status status = rain_read_record(
        arena, &issues, (struct base_text){(const char *)data + (size > 0), size - (size > 0)},
        size > 0 ? (enum rain_unit)(data[0] % 5) : RAIN_UNIT_FROM_FILE, &record);
    require(status != BASE_STOPPED || issues.count == 1);
    require(status != BASE_OK || issues.count == 0);
    for (size_t i = 0; i < issues.count; i++) { /* a place that can be shown */
        const struct base_mark mark = issues.items[i].mark;
        require(mark.from_byte <= mark.to_byte && mark.to_byte <= size);
    }
    if (status == BASE_OK && record.count <= 2000) {
        ask_record(arena, &record);
    }
    base_free_arena(arena);
    return 0;
}
