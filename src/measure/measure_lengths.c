/* SPDX-License-Identifier: Apache-2.0 */
/* The length of each eave with its interval, as the later rooms read it. */
#include "measure/measure_inside.h"
#include "units/units.h"

#include <math.h>

#define PI 3.14159265358979323846

static struct base_text edge_name(struct base_arena *arena, struct base_text owner, size_t edge) {
    struct base_builder name = {.arena = arena};
    base_add_text(&name, owner);
    base_add_char(&name, '.');
    base_add_integer(&name, (int64_t)edge + 1);
    return base_built(&name);
}

static struct measure_length *add_length(struct measure *measure, struct base_text name,
                                         const struct job_length *length) {
    bool assumed = false;
    struct measure_length *added = &measure->lengths[measure->count++];
    *added = (struct measure_length){.name = name,
                                     .length_tick = length->tick,
                                     .doubt_tick = length->doubt_tick,
                                     .reading_count = length->reading_count,
                                     .taped_on = JOB_LINE_ROOF_EDGE,
                                     .guess = length->guess,
                                     .mark = length->mark,
                                     .within_m =
                                         MEASURE_NORMAL_95 * measure_length_sigma(length, &assumed),
                                     .run = SIZE_MAX,
                                     .wing = SIZE_MAX,
                                     .edge = SIZE_MAX};
    return added;
}

static void list_run(const struct job *job, size_t run, struct measure *measure) {
    struct measure_length *length =
        add_length(measure, job->runs[run].name, &job->runs[run].length);
    length->taped_on = job->runs[run].taped_on;
    length->run = run;
}

/* One face of a regular polygon, of which a side or the way across was taped. */
static struct job_length face_of(const struct job_wing *wing) {
    if (wing->face.given || wing->sides < 3) {
        return wing->face;
    }
    double share = tan(PI / wing->sides);
    struct job_length face = wing->across;
    face.tick = units_tick_of_m(share * units_m_of_tick(face.tick));
    face.doubt_tick = units_tick_of_m(share * units_m_of_tick(face.doubt_tick));
    return face;
}

static void list_wing(struct base_arena *arena, const struct job *job, size_t index,
                      struct measure *measure) {
    const struct job_wing *wing = &job->wings[index];
    struct job_length face = face_of(wing);
    bool rectangle = wing->shape == JOB_SHAPE_RECTANGLE;
    for (size_t edge = 0; edge < job_count_edges(wing); edge++) {
        if (wing->edges[edge] == JOB_EDGE_EAVE) {
            const struct job_length *side = edge % 2 == 0 ? &wing->width : &wing->depth;
            struct measure_length *length =
                add_length(measure, edge_name(arena, wing->name, edge), rectangle ? side : &face);
            length->wing = index;
            length->edge = edge;
            face.guess = false; /* one size made all its faces: it is blamed once */
            face.reading_count = 1;
        }
    }
}

/* A plan's corners carry no doubt of their own: each edge has the usual one of a tape. */
static void list_outline(struct base_arena *arena, const struct job_outline *outline,
                         struct measure *measure) {
    size_t first = 0;
    for (size_t ring = 0; ring < outline->ring_count; ring++) {
        for (size_t i = 0; i < outline->counts[ring]; i++) {
            size_t edge = first + i;
            struct geometry_corner from = outline->corners[edge];
            struct geometry_corner to = outline->corners[first + (i + 1) % outline->counts[ring]];
            double length_m = hypot(units_m_of_tick(to.x_tick - from.x_tick),
                                    units_m_of_tick(to.y_tick - from.y_tick));
            struct job_length said = {.given = true,
                                      .tick = units_tick_of_m(length_m),
                                      .reading_count = 1,
                                      .mark = outline->marks[edge]};
            if (!outline->gables[edge]) {
                add_length(measure, edge_name(arena, outline->name, edge), &said)->edge = edge;
            }
        }
        first += outline->counts[ring];
    }
}

bool measure_list_lengths(struct base_arena *arena, const struct job *job,
                          struct measure *measure) {
    size_t most = job->run_count + JOB_EDGES_MAX * job->wing_count + job->outline.edge_count;
    measure->lengths = base_take(arena, most + 1, sizeof *measure->lengths);
    if (measure->lengths == NULL) {
        return false;
    }
    for (size_t i = 0; i < job->run_count; i++) {
        list_run(job, i, measure);
    }
    for (size_t i = 0; i < job->wing_count; i++) {
        list_wing(arena, job, i, measure);
    }
    list_outline(arena, &job->outline, measure);
    return !base_arena_failed(arena);
}

/* The item of the net that this length is; marks tell the sizes of a wing from one another. */
static bool is_of(const struct measure_item *item, const struct measure_length *length) {
    return !item->check && item->said.unit == BASE_UNIT_TICK &&
           (base_text_equal(item->name, length->name) ||
            (length->wing != SIZE_MAX && item->mark.line > 0 &&
             item->mark.from_byte == length->mark.from_byte));
}

void measure_fill_lengths(struct measure *measure) {
    for (size_t i = 0; i < measure->count; i++) {
        struct measure_length *length = &measure->lengths[i];
        length->adjusted_m = units_m_of_tick(length->length_tick);
        length->doubtful = measure->verdict == MEASURE_SEVERAL_WRONG;
        for (size_t k = 0; k < measure->item_count; k++) {
            const struct measure_item *item = &measure->items[k];
            if (is_of(item, length)) {
                length->adjusted_m = item->adjusted;
                length->within_m = item->within;
                length->doubtful = length->doubtful || measure_item_is_doubtful(measure, item);
            }
        }
        length->doubt_m =
            length->within_m + fabs(length->adjusted_m - units_m_of_tick(length->length_tick));
    }
}
