/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Any bytes as an outline: a fault, or a roof that holds the laws, or one stated reason why there
 * is none; never a hang (the work is bounded) and never lost. Two bytes a coordinate, so that ties
 * are many; a byte an edge for its pitch.
 */
#include "skeleton_laws.h"

#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Bytes: way, corners of the first ring, then 5 a corner. */
static void fill(const uint8_t *data, size_t size, struct random_outline *shape) {
    size_t count = (size - 2) / 5;
    size_t counts[2] = {count, 0};
    int64_t step_tick = data[0] % 2 == 0 ? 320 * 100 : 32; /* 10 cm or 0.1 mm */
    count = count > 200 ? 200 : count;
    for (size_t i = 0; i < count; i++) {
        const uint8_t *at = &data[2 + 5 * i];
        shape->corners[i].x_tick = step_tick * (at[0] + 256 * (data[0] % 4 < 2 ? 0 : at[1] % 16));
        shape->corners[i].y_tick = step_tick * (at[2] + 256 * (data[0] % 4 < 2 ? 0 : at[3] % 16));
        shape->speeds_1[i] = at[4] % 8 == 0 ? 0 : at[4] % 8 < 5 ? 1 : 12.0 / (3 + at[4] % 16);
    }
    shape->count = count;
    counts[0] = count;
    bool courtyard = data[1] >= 3 && data[1] + (size_t)3 <= count;
    if (courtyard) {
        counts[0] = data[1];
        counts[1] = count - data[1];
    }
    set_outline_rings(shape, counts, courtyard ? 2 : 1);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static struct random_outline shape;
    if (size < 2 + 3 * 5) {
        return 0;
    }
    shape = (struct random_outline){0};
    fill(data, size, &shape);
    if (geometry_check_outline(&shape.outline).fault != GEOMETRY_OUTLINE_FINE) {
        return 0;
    }
    struct base_arena *arena = base_make_arena((size_t)1 << 28);
    struct geometry_skeleton skeleton;
    switch (geometry_find_skeleton(arena, &shape.outline, shape.speeds_1, &skeleton)) {
    case GEOMETRY_SKELETON_WHOLE:
        if (find_broken_law(&shape, &skeleton) != NULL) {
            abort();
        }
        break;
    case GEOMETRY_SKELETON_UNREACHED:
        break;
    case GEOMETRY_SKELETON_LOST:
    case GEOMETRY_SKELETON_NO_MEMORY:
        abort();
    }
    base_free_arena(arena);
    return 0;
}
