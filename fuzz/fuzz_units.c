/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Any bytes as a length off a tape, and as every other quantity with a unit: no crash; a fault lies
 * inside the text; a length that was read comes back the same after it was written out, in either
 * system.
 */
#include "units/units.h"

#include <math.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool holds) {
    if (!holds) {
        abort();
    }
}

static void read_length(struct base_arena *arena, struct base_text text, enum units_system system) {
    const struct units_length_reading reading = units_read_length(text, system);
    if (reading.fault != UNITS_FINE) {
        require(reading.fault_at <= text.length);
        return;
    }
    require(reading.length_tick >= 0 && reading.length_tick <= UNITS_TICK_MAX);
    for (enum units_system way = UNITS_FT_IN; way <= UNITS_MM; way++) {
        const struct base_text written = units_write_length_exact(arena, way, reading.length_tick);
        const struct units_length_reading again = units_read_length(written, way);
        require(again.fault == UNITS_FINE && again.length_tick == reading.length_tick);
    }
}

static void check_reading(struct base_text text, struct units_reading reading) {
    require(reading.fault == UNITS_FINE ? isfinite(reading.value)
                                        : reading.fault_at <= text.length);
}

static void read_other_quantities(struct base_text text) {
    check_reading(text, units_read_pitch(text));
    check_reading(text, units_read_angle(text));
    check_reading(text, units_read_slope(text));
    check_reading(text, units_read_rain(text));
    check_reading(text, units_read_temperature(text));
    check_reading(text, units_read_pressure(text));
    check_reading(text, units_read_ratio(text));
    check_reading(text, units_read_number(text));
    check_reading(text, units_read_sheet_weight(text));
    const struct units_integer_reading count = units_read_count(text);
    require(count.fault == UNITS_FINE ? count.value >= 0 : count.fault_at <= text.length);
    for (int minor_digits = 0; minor_digits <= 3; minor_digits++) {
        const struct units_integer_reading money = units_read_money(text, minor_digits);
        require(money.fault == UNITS_FINE || money.fault_at <= text.length);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const struct base_text text = {(const char *)data, size};
    struct base_arena *arena = base_make_arena((size_t)1 << 24);
    if (arena == NULL) {
        return 0;
    }
    read_length(arena, text, UNITS_FT_IN);
    read_length(arena, text, UNITS_MM);
    read_other_quantities(text);
    base_free_arena(arena);
    return 0;
}
