/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where a trough ends: (1) another trough there that runs lower takes it; (2) else a roof that runs
 * on below takes it straight down; (3) else the eave there, and of two that meet at a corner the
 * one that follows; (4) else it falls on the roof below. A flat deck hands it on by its scupper.
 */
#include "roof/roof_inside.h"
#include "units/units.h"

#include <math.h>

enum { ROOF_STEPS_MAX = 200 };

struct geometry_point roof_low_place(const struct roof_house *house, const struct roof_cell *cell,
                                     double share) {
    return roof_place(&house->slopes[cell->slope],
                      cell->s_m[0] + share * (cell->s_m[1] - cell->s_m[0]),
                      cell->low_m[0] + share * (cell->low_m[1] - cell->low_m[0]));
}

const struct roof_cell *roof_cell_at(const struct roof_house *house, size_t slope,
                                     struct geometry_point at) {
    double s_m = roof_along(&house->slopes[slope], at);
    double t_m = roof_up(&house->slopes[slope], at);
    size_t end = house->slopes[slope].end_cell;
    house->build->roof->looks += end - house->slopes[slope].first_cell;
    for (size_t i = house->slopes[slope].first_cell; i < end; i++) {
        const struct roof_cell *cell = &house->cells[i];
        if (s_m < cell->s_m[0] - ROOF_NEAR_M || s_m > cell->s_m[1] + ROOF_NEAR_M) {
            continue;
        }
        double share = (s_m - cell->s_m[0]) / (cell->s_m[1] - cell->s_m[0]);
        double low_m = cell->low_m[0] + share * (cell->low_m[1] - cell->low_m[0]);
        double high_m = cell->high_m[0] + share * (cell->high_m[1] - cell->high_m[0]);
        if (t_m >= low_m - ROOF_NEAR_M && t_m <= high_m + ROOF_NEAR_M) {
            return cell;
        }
    }
    return NULL;
}

static struct geometry_point outward(const struct roof_house *house, const struct roof_cell *cell) {
    struct geometry_point along =
        geometry_subtract(roof_low_place(house, cell, 1), roof_low_place(house, cell, 0));
    double length_m = hypot(along.x_m, along.y_m);
    return (struct geometry_point){along.y_m / length_m, -along.x_m / length_m};
}

const struct roof_cell *roof_cell_beyond_at(const struct roof_house *house,
                                            const struct roof_cell *cell, double share) {
    struct geometry_point at = geometry_add(roof_low_place(house, cell, share),
                                            geometry_scale(outward(house, cell), ROOF_PROBE_M));
    return roof_cell_at(house, cell->beyond, at);
}

/* ---- where a trough ends ------------------------------------------------------------------------
 */

struct drop {
    struct geometry_point at;
    double z_m;
    size_t eave; /* found; ROOF_NONE = lost or still falling */
    double x_m;
    bool done;
    bool to_ground;
    const struct roof_cell *like; /* a cell whose water came by here and has been followed */
};

static double low_height(const struct roof_house *house, const struct roof_cell *cell,
                         double share) {
    return geometry_height(house->slopes[cell->slope].plane, roof_low_place(house, cell, share));
}

/* What is asked of every cell's lower side again and again. */
static void measure_lower_sides(struct roof_house *house) {
    for (size_t i = 0; i < house->cell_count; i++) {
        struct roof_cell *cell = &house->cells[i];
        for (int end = 0; end < 2; end++) {
            cell->low_at[end] = roof_low_place(house, cell, end);
            cell->low_z_m[end] = low_height(house, cell, end);
        }
        cell->low_length_m = geometry_distance(cell->low_at[0], cell->low_at[1]);
        cell->low_along = geometry_scale(geometry_subtract(cell->low_at[1], cell->low_at[0]),
                                         1 / cell->low_length_m);
        cell->level = fabs(cell->low_z_m[1] - cell->low_z_m[0]) < 1e-6 * cell->low_length_m;
    }
}

static void list_troughs(struct roof_house *house) {
    house->troughs = base_take(house->build->arena, house->cell_count, sizeof *house->troughs);
    if (house->troughs == NULL) {
        house->build->failed = true;
        return;
    }
    for (size_t i = 0; i < house->cell_count; i++) {
        if (house->cells[i].way == ROOF_WAY_TROUGH && !house->cells[i].level) {
            house->troughs[house->trough_count++] = i;
        }
    }
}

/* Distance along the trough from its end 0 when the place stands on it; -1 when it does not. */
static double find_on_trough(const struct roof_cell *cell, struct geometry_point at) {
    double length_m = cell->low_length_m;
    struct geometry_point from = geometry_subtract(at, cell->low_at[0]);
    double along_m = geometry_dot(cell->low_along, from);
    if (fabs(geometry_cross(cell->low_along, from)) > ROOF_NEAR_M || along_m < -ROOF_NEAR_M ||
        along_m > length_m + ROOF_NEAR_M) {
        return -1;
    }
    return fmin(fmax(along_m, 0), length_m);
}

/* (1) The steepest trough that leads on down from here. */
static bool follow_trough(const struct roof_house *house, struct drop *drop) {
    const struct roof_cell *best = NULL;
    double best_1 = 0;
    int best_end = 0;
    house->build->roof->looks += house->trough_count;
    for (size_t i = 0; i < house->trough_count; i++) {
        const struct roof_cell *cell = &house->cells[house->troughs[i]];
        const double *z_m = cell->low_z_m;
        double low_m = z_m[z_m[1] < z_m[0]];
        double high_m = z_m[z_m[1] >= z_m[0]];
        if (low_m > drop->z_m + 20 * ROOF_LEVEL_M || high_m < drop->z_m - 20 * ROOF_LEVEL_M) {
            continue; /* a quick first look: all of it runs higher, or lower */
        }
        double along_m = find_on_trough(cell, drop->at);
        if (along_m < 0) {
            continue;
        }
        double length_m = cell->low_length_m;
        double here_m = z_m[0] + along_m / length_m * (z_m[1] - z_m[0]);
        int end = z_m[1] < z_m[0];
        double left_m = end ? length_m - along_m : along_m;
        double steep_1 = fabs(z_m[1] - z_m[0]) / length_m;
        if (left_m > ROOF_NEAR_M && fabs(here_m - drop->z_m) < 10 * ROOF_LEVEL_M &&
            steep_1 > best_1) {
            best = cell;
            best_1 = steep_1;
            best_end = end;
        }
    }
    if (best == NULL) {
        return false;
    }
    drop->at = best->low_at[best_end];
    drop->z_m = best->low_z_m[best_end];
    drop->like = best->traced ? best : NULL;
    return true;
}

static bool pour_at(const struct roof_house *house, size_t part_index, struct geometry_point at,
                    struct drop *drop) {
    const struct roof_part *part = &house->parts[part_index];
    double s_m = roof_along(&house->slopes[part->slope], at);
    double length_m = units_m_of_tick(house->build->roof->eaves[part->eave].length_tick);
    drop->eave = part->eave;
    drop->x_m = fmin(fmax(part->x_m + s_m - part->s_m[0], 0), length_m);
    drop->done = true;
    return true;
}

/* (2) A roof that holds this place and falls away from it takes the water straight down. */
static bool run_down(const struct roof_house *house, struct drop *drop) {
    for (size_t slope = 0; slope < house->slope_count; slope++) {
        const struct roof_slope *roof = &house->slopes[slope];
        if (fabs(geometry_height(roof->plane, drop->at) - drop->z_m) > 10 * ROOF_LEVEL_M) {
            continue;
        }
        struct geometry_point below =
            geometry_add(drop->at, geometry_scale(roof->inward, -ROOF_PROBE_M));
        const struct roof_cell *cell = roof_cell_at(house, slope, below);
        if (cell == NULL) {
            continue;
        }
        double s_m = roof_along(roof, drop->at);
        double share = (s_m - cell->s_m[0]) / (cell->s_m[1] - cell->s_m[0]);
        share = fmin(fmax(share, 0), 1);
        struct geometry_point low = roof_low_place(house, cell, share);
        drop->at = low;
        drop->z_m = geometry_height(roof->plane, low);
        if (cell->way == ROOF_WAY_EAVE) {
            return pour_at(house, cell->part, low, drop);
        }
        return cell->way != ROOF_WAY_STRAY;
    }
    return false;
}

/* (3) The eave that passes or ends here; of two, the one that begins here. */
static bool find_eave(const struct roof_house *house, struct drop *drop) {
    size_t found = ROOF_NONE;
    for (size_t i = 0; i < house->part_count; i++) {
        const struct roof_part *part = &house->parts[i];
        const struct roof_slope *slope = &house->slopes[part->slope];
        if (fabs(slope->eave_z_m - drop->z_m) > 10 * ROOF_LEVEL_M) {
            continue;
        }
        double s_m = roof_along(slope, drop->at);
        if (fabs(roof_up(slope, drop->at)) > ROOF_PROBE_M || s_m < part->s_m[0] - ROOF_PROBE_M ||
            s_m > part->s_m[1] + ROOF_PROBE_M) {
            continue;
        }
        if (found == ROOF_NONE || fabs(s_m - part->s_m[0]) <= ROOF_PROBE_M) {
            found = i;
        }
    }
    return found != ROOF_NONE && pour_at(house, found, drop->at, drop);
}

/* (4) It falls on the highest roof below that holds this place. */
static bool fall(const struct roof_house *house, struct drop *drop) {
    double best_m = -(double)INFINITY;
    for (size_t i = 0; i < house->seen.count; i++) {
        const struct roof_piece *piece = &house->seen.items[i];
        double z_m = geometry_height(house->slopes[piece->slope].plane, drop->at);
        if (z_m < drop->z_m - 10 * ROOF_LEVEL_M && z_m > best_m &&
            geometry_box_holds(&piece->box, drop->at, GEOMETRY_EVENT_M) &&
            geometry_contains(&piece->outline, drop->at)) {
            best_m = z_m;
        }
    }
    if (isinf(best_m)) {
        return false;
    }
    drop->z_m = best_m;
    return true;
}

/* Out of a flat deck's scupper: into the gutter it names, or down in front of it. */
static bool leave_scupper(const struct roof_house *house, const struct roof_slope *deck,
                          struct drop *drop) {
    const struct job *job = house->build->job;
    const struct roof *roof = house->build->roof;
    const struct job_deck *said = &job->wings[deck->wing].deck;
    for (size_t i = 0; said->has_onto && i < roof->eave_count; i++) {
        const struct roof_eave *eave = &roof->eaves[i];
        double edge_m = units_m_of_tick(eave->length_tick);
        double x_m = said->onto.at == JOB_AT_FROM ? 0
                     : said->onto.at == JOB_AT_TO
                         ? edge_m
                         : units_m_of_tick(said->onto.distance_tick - eave->tail_shift_tick);
        if (roof_is_on(job, eave, &said->onto) && x_m >= 0 && x_m <= edge_m &&
            eave->eave_height_m < deck->eave_z_m) {
            drop->eave = i;
            drop->x_m = x_m;
            drop->done = true;
            return true;
        }
    }
    drop->at = roof_place(deck, units_m_of_tick(said->at.tick), -ROOF_PROBE_M);
    drop->z_m = deck->eave_z_m;
    if (said->has_onto || fall(house, drop)) {
        return !said->has_onto;
    }
    drop->to_ground = true;
    drop->done = true;
    return true;
}

/* On a flat deck. */
static bool cross_deck(const struct roof_house *house, struct drop *drop) {
    for (size_t slope = 0; slope < house->slope_count && house->has_deck; slope++) {
        const struct roof_slope *deck = &house->slopes[slope];
        if (deck->flat && fabs(deck->eave_z_m - drop->z_m) < 10 * ROOF_LEVEL_M &&
            roof_cell_at(house, slope, drop->at) != NULL) {
            return leave_scupper(house, deck, drop);
        }
    }
    return false;
}

static void follow_drop(const struct roof_house *house, struct drop *drop) {
    for (int step = 0; step < ROOF_STEPS_MAX && !drop->done && drop->like == NULL; step++) {
        if (!cross_deck(house, drop) && !follow_trough(house, drop) && !run_down(house, drop) &&
            !find_eave(house, drop) && !fall(house, drop)) {
            return;
        }
    }
}

/* Where the drop runs out, if it does not get lost. */
static void follow_to_spout(const struct roof_house *house, struct roof_cell *cell,
                            struct drop *drop) {
    follow_drop(house, drop);
    if (drop->like != NULL && drop->like->spout_count > 0) {
        cell->spouts[cell->spout_count++] = drop->like->spouts[0];
    } else if (drop->like != NULL) {
        cell->lost_at = drop->like->lost_at;
        cell->to_ground = drop->like->to_ground;
    } else if (drop->eave != ROOF_NONE) {
        cell->spouts[cell->spout_count++] = (struct roof_spout){drop->eave, drop->x_m};
    } else {
        cell->lost_at = drop->at;
        cell->to_ground = drop->to_ground;
    }
}

/* A level trough has no lower end: its water spreads to both ends of the whole line. */
static struct geometry_point find_level_end(const struct roof_house *house,
                                            const struct roof_cell *cell, int way) {
    struct geometry_point middle = roof_low_place(house, cell, 0.5);
    struct geometry_point end_at = cell->low_at[way];
    bool further = true;
    for (int step = 0; further && step < ROOF_STEPS_MAX; step++) {
        further = false;
        for (size_t i = 0; i < house->cell_count && !further; i++) {
            const struct roof_cell *other = &house->cells[i];
            if (other->way != ROOF_WAY_TROUGH || !other->level ||
                find_on_trough(other, end_at) < 0) {
                continue;
            }
            for (int end = 0; end < 2 && !further; end++) {
                struct geometry_point at = other->low_at[end];
                further =
                    geometry_distance(middle, at) > geometry_distance(middle, end_at) + ROOF_NEAR_M;
                end_at = further ? at : end_at;
            }
        }
    }
    return end_at;
}

/* Once for each wing. */
static void say_once(struct roof_house *house, enum base_issue_code code, size_t wing_index,
                     struct base_value value) {
    const struct base_issues *issues = house->build->issues;
    const struct job_wing *wing = &house->build->job->wings[wing_index];
    for (size_t i = 0; i < issues->count; i++) {
        if (issues->items[i].code == code && base_text_equal(issues->items[i].object, wing->name)) {
            return;
        }
    }
    roof_say(house->build, code, wing->mark, wing->name, value);
}

/* From the middle of the eave straight down onto the roof below. */
static void trace_drip(struct roof_house *house, struct roof_cell *cell) {
    struct drop drop = {.eave = ROOF_NONE, .z_m = low_height(house, cell, 0.5)};
    drop.at = geometry_add(roof_low_place(house, cell, 0.5),
                           geometry_scale(outward(house, cell), ROOF_PROBE_M));
    cell->lost_at = drop.at;
    if (fall(house, &drop)) {
        follow_to_spout(house, cell, &drop);
    }
}

static void trace_scupper(struct roof_house *house, struct roof_cell *cell) {
    struct drop drop = {.eave = ROOF_NONE};
    const struct roof_slope *deck = &house->slopes[cell->slope];
    if (leave_scupper(house, deck, &drop)) {
        follow_to_spout(house, cell, &drop);
    } else {
        cell->lost_at = drop.at;
        say_once(house, BASE_ISSUE_ROOF_SCUPPER_ONTO, deck->wing,
                 base_value_text(house->build->job->wings[deck->wing].deck.onto.eave));
    }
}

static void trace_trough(struct roof_house *house, struct roof_cell *cell) {
    struct drop drop = {.eave = ROOF_NONE};
    int end = cell->low_z_m[1] < cell->low_z_m[0];
    drop.z_m = cell->low_z_m[end];
    if (!cell->level) {
        drop.at = cell->low_at[end];
        follow_to_spout(house, cell, &drop);
        cell->traced = true;
        return;
    }
    say_once(house, BASE_ISSUE_ROOF_TRAPPED, house->slopes[cell->slope].wing,
             (struct base_value){0});
    for (int way = 0; way < 2; way++) {
        struct drop half = drop;
        half.at = find_level_end(house, cell, way);
        follow_to_spout(house, cell, &half);
    }
}

void roof_trace_cells(struct roof_house *house) {
    measure_lower_sides(house);
    list_troughs(house);
    for (size_t i = 0; i < house->cell_count && !house->build->failed; i++) {
        if (house->cells[i].way == ROOF_WAY_TROUGH) {
            trace_trough(house, &house->cells[i]);
        } else if (house->cells[i].way == ROOF_WAY_DRIP) {
            trace_drip(house, &house->cells[i]);
        } else if (house->cells[i].way == ROOF_WAY_SCUPPER) {
            trace_scupper(house, &house->cells[i]);
        }
    }
}
