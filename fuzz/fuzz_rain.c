/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Any bytes as a rain file: must end in a table or in one refusal, and a table that was read must
 * answer at every point with rain that grows with the return period.
 */
#include "rain/rain.h"

#include <stdint.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool holds) {
    if (!holds) {
        abort();
    }
}

static void ask_row(const struct rain_table *table, size_t row) {
    double last_mps = 0;
    for (size_t i = 0; i < table->period_count; i++) {
        const double duration_s = table->duration_s[row];
        double intensity_mps = 0;
        double years = 0;
        if (!rain_find_intensity(table, duration_s, table->period_years[i], &intensity_mps)) {
            continue; /* no data */
        }
        require(intensity_mps > 0 && intensity_mps >= last_mps);
        require(rain_find_period(table, duration_s, intensity_mps, &years));
        require(years >= table->period_years[0] && years <= table->period_years[i]);
        last_mps = intensity_mps;
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct base_arena *arena = base_make_arena((size_t)64 << 20);
    struct base_issues issues = {.arena = arena};
    struct rain_table table;
    enum base_status status;
    if (arena == NULL) {
        return 0;
    }
    /* the first byte chooses what the user said of the unit */
    status = rain_read_table(
        arena, &issues, (struct base_text){(const char *)data + (size > 0), size - (size > 0)},
        size > 0 ? (enum rain_unit)(data[0] % 5) : RAIN_UNIT_FROM_FILE, &table);
    require(status != BASE_STOPPED || issues.count == 1);
    require(status != BASE_OK || (issues.count == 0 && table.duration_count > 0));
    for (size_t i = 0; i < issues.count; i++) { /* a place that can be shown */
        const struct base_mark mark = issues.items[i].mark;
        require(mark.from_byte <= mark.to_byte && mark.to_byte <= size);
    }
    for (size_t i = 0; status == BASE_OK && i < table.duration_count; i++) {
        ask_row(&table, i);
    }
    base_free_arena(arena);
    return 0;
}
