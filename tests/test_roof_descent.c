/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where the water goes, by brute force: from every point of a grid over the roof a drop is let run
 * in short steps down the steepest way, and what each group of eaves gets is counted. Nothing of
 * the roof's own way of sending water is used, only its faces (DERIVED: numerical descent).
 */
#include "roof_bench.h"

enum { GRID = 30, TURNS = 48, STEPS_MAX = 1500, EAVES_MAX = 64 };
static const double STEP_M = 0.04;
static const double BESIDE_M = 1.2;

static uint64_t seed;

static uint64_t next_random(void) { /* splitmix64 */
    seed += UINT64_C(0x9E3779B97F4A7C15);
    uint64_t z = seed;
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

static int64_t between(int64_t low, int64_t high) {
    return low + (int64_t)(next_random() % (uint64_t)(high - low + 1));
}

static void make_wing(int index) {
    static const char *const NAMES[] = {"hall", "ell", "porch"};
    static const char *const EDGES[] = {"eeee", "egeg", "gege", "wege", "egwg", "eeeg"};
    struct job_wing *wing =
        add_box(NAMES[index], index == 0 ? 0 : between(-6000, 9000),
                index == 0 ? 0 : between(-6000, 7000), between(4000, 12000), between(4000, 9000));
    set_edges(wing, EDGES[between(0, 5)]);
    wing->eave_height = millimetres(between(0, 1) ? 5000 : between(2500, 6500));
    wing->pitch = number((double)between(3, 16) / 12);
    wing->turn_rad = between(0, 3) ? 0 : (double)between(-90, 90) * PI / 180;
}

/* The face seen at the point: the highest that holds it; NULL off the roof. */
static const struct roof_face *face_at(struct geometry_point at, double *z_m) {
    const struct roof_face *found = NULL;
    for (size_t i = 0; i < bench.roof.face_count; i++) {
        const struct roof_face *face = &bench.roof.faces[i];
        double here_m = geometry_height(face->plane, at);
        if (geometry_contains(&face->outline, at) && (found == NULL || here_m > *z_m)) {
            found = face;
            *z_m = here_m;
        }
    }
    return found;
}

/* Along the foot of what stands in the way: the lowest place round about that is no jump. */
static bool slide(struct geometry_point *at, double *z_m) {
    struct geometry_point best = {0, 0};
    double best_m = *z_m - 1e-9;
    bool found = false;
    for (int i = 0; i < TURNS; i++) {
        double turn_rad = 2 * PI * i / TURNS;
        struct geometry_point to = {at->x_m + STEP_M * cos(turn_rad),
                                    at->y_m + STEP_M * sin(turn_rad)};
        double to_m;
        if (face_at(to, &to_m) != NULL && to_m < best_m && *z_m - to_m < 3 * STEP_M) {
            best = to;
            best_m = to_m;
            found = true;
        }
    }
    if (found) {
        *at = best;
        *z_m = best_m;
    }
    return found;
}

static double distance_to(const struct roof_eave *of, struct geometry_point at) {
    struct geometry_point along = geometry_subtract(of->to, of->from);
    double length_m = hypot(along.x_m, along.y_m);
    struct geometry_point from = geometry_subtract(at, of->from);
    double share = geometry_dot(along, from) / (length_m * length_m);
    share = share < 0 ? 0 : share > 1 ? 1 : share;
    return geometry_distance(at, geometry_add(of->from, geometry_scale(along, share)));
}

static bool neighbours(const struct roof_eave *a, const struct roof_eave *b) {
    return geometry_distance(a->to, b->from) < BESIDE_M ||
           geometry_distance(a->from, b->to) < BESIDE_M ||
           geometry_distance(a->to, b->to) < BESIDE_M ||
           geometry_distance(a->from, b->from) < BESIDE_M;
}

/* Eaves that end beside one another are counted as one, by the lowest index: a valley that ends
 * there may give its water to either, as one steps. */
static size_t group_of(size_t eave_index) {
    bool in[EAVES_MAX] = {false};
    in[eave_index] = true;
    bool grown = true;
    while (grown) {
        grown = false;
        for (size_t i = 0; i < bench.roof.eave_count; i++) {
            for (size_t k = 0; k < bench.roof.eave_count && !in[i]; k++) {
                in[i] = in[k] && neighbours(&bench.roof.eaves[i], &bench.roof.eaves[k]);
                grown = grown || in[i];
            }
        }
    }
    size_t lowest = 0;
    while (!in[lowest]) {
        lowest++;
    }
    return lowest;
}

/* The eave whose edge passes here at this height; SIZE_MAX = none. */
static size_t eave_near(struct geometry_point at, double z_m, double within_m) {
    size_t found = SIZE_MAX;
    double least_m = within_m;
    for (size_t i = 0; i < bench.roof.eave_count; i++) {
        double here_m = distance_to(&bench.roof.eaves[i], at);
        if (here_m < least_m && fabs(bench.roof.eaves[i].eave_height_m - z_m) < 4 * STEP_M) {
            found = i;
            least_m = here_m;
        }
    }
    return found;
}

/* Runs down to the eave that catches it; SIZE_MAX when it is caught elsewhere or too slow. */
static size_t run_drop(struct geometry_point at) {
    double z_m = 0;
    const struct roof_face *face = face_at(at, &z_m);
    for (int step = 0; face != NULL && step < STEPS_MAX; step++) {
        double steep_1 = hypot(face->plane.a_1, face->plane.b_1);
        struct geometry_point to = {at.x_m - STEP_M * face->plane.a_1 / steep_1,
                                    at.y_m - STEP_M * face->plane.b_1 / steep_1};
        double to_m;
        const struct roof_face *next = face_at(to, &to_m);
        bool jumps = next == NULL || z_m - to_m > 1.01 * steep_1 * STEP_M + 0.001;
        size_t caught = jumps ? eave_near(to, z_m, 2 * STEP_M) : SIZE_MAX;
        if (next == NULL || caught != SIZE_MAX) {
            return caught;
        }
        if (to_m < z_m) {
            at = to;
            z_m = to_m;
            face = next;
        } else if (slide(&at, &z_m)) {
            face = face_at(at, &z_m);
        } else {
            break;
        }
    }
    return eave_near(at, z_m, 6 * STEP_M); /* caught in the narrow end of a valley */
}

static void find_box(struct geometry_point *low, struct geometry_point *high) {
    *low = (struct geometry_point){1e9, 1e9};
    *high = (struct geometry_point){-1e9, -1e9};
    for (size_t i = 0; i < bench.roof.face_count; i++) {
        const struct geometry_polygon *outline = &bench.roof.faces[i].outline;
        for (size_t k = 0; k < outline->count; k++) {
            low->x_m = fmin(low->x_m, outline->points[k].x_m);
            low->y_m = fmin(low->y_m, outline->points[k].y_m);
            high->x_m = fmax(high->x_m, outline->points[k].x_m);
            high->y_m = fmax(high->y_m, outline->points[k].y_m);
        }
    }
}

/* Area that the drops bring to each group; gives how much of it was lost on the way. */
static double run_drops(double *area_m2) {
    struct geometry_point low;
    struct geometry_point high;
    find_box(&low, &high);
    double cell_m2 = (high.x_m - low.x_m) * (high.y_m - low.y_m) / (GRID * GRID);
    double lost_m2 = 0;
    for (int i = 0; i < GRID * GRID; i++) {
        double x_1 = (i % GRID + (double)between(0, 1000) / 1000) / GRID;
        int row = i / GRID;
        double y_1 = ((double)row + (double)between(0, 1000) / 1000) / GRID;
        struct geometry_point at = {low.x_m + x_1 * (high.x_m - low.x_m),
                                    low.y_m + y_1 * (high.y_m - low.y_m)};
        double z_m;
        if (face_at(at, &z_m) == NULL) {
            continue;
        }
        size_t eave_index = run_drop(at);
        if (eave_index == SIZE_MAX) {
            lost_m2 += cell_m2;
        } else {
            area_m2[group_of(eave_index)] += cell_m2;
        }
    }
    return lost_m2;
}

static double find_said(size_t group) {
    double sum_m2 = 0;
    for (size_t i = 0; i < bench.roof.eave_count; i++) {
        if (group_of(i) == group) {
            sum_m2 += bench.roof.eaves[i].plan_area_m2;
            sum_m2 += poured(bench.roof.eaves[i].name.bytes);
        }
    }
    return sum_m2;
}

static void drops_let_run_reach_the_eaves_that_the_roof_names(void **state) {
    (void)state;
    const char *asked = getenv("EAVESMITH_HOUSES");
    uint64_t houses = asked != NULL ? strtoull(asked, NULL, 10) / 10 : 60;
    size_t compared = 0;
    size_t undecided = 0;
    size_t wrong = 0;
    double worst_1 = 0;
    for (uint64_t house = 0; house < houses; house++) {
        clear_bench(NULL);
        set_bench(NULL);
        seed = 77000 + house;
        int wings = (int)between(1, 3);
        for (int i = 0; i < wings; i++) {
            make_wing(i);
        }
        assert_int_equal(find(), BASE_OK);
        if (count_code(BASE_ISSUE_ROOF_TRAPPED) + count_code(BASE_ISSUE_ROOF_STRAY) > 0) {
            continue;
        }
        double area_m2[EAVES_MAX] = {0};
        assert_true(bench.roof.eave_count <= EAVES_MAX);
        if (run_drops(area_m2) > 0.01 * bench.roof.plan_area_m2) {
            undecided++; /* valleys too flat for the steps */
            continue;
        }
        bool fine = true;
        for (size_t i = 0; i < bench.roof.eave_count; i++) {
            double off_1 =
                group_of(i) == i ? fabs(area_m2[i] - find_said(i)) / bench.roof.plan_area_m2 : 0;
            worst_1 = fmax(worst_1, off_1);
            if (off_1 >= 0.03) {
                fine = false;
                print_message("# house %d: %.*s gets %.2f m2 by drops, %.2f said, of %.2f\n",
                              (int)house, (int)bench.roof.eaves[i].name.length,
                              bench.roof.eaves[i].name.bytes, area_m2[i], find_said(i),
                              bench.roof.plan_area_m2);
            }
        }
        wrong += !fine;
        compared++;
    }
    print_message("# %zu houses compared, %zu undecided, %zu differ, worst %.2f %% of the roof\n",
                  compared, undecided, wrong, 100 * worst_1);
    assert_true(compared > houses / 2);
    assert_true(undecided < houses / 8);
    /* House 30: a valley ends 4 cm above the eave beside it; the steps cannot tell the two apart.
     */
    /* What still differs are such valleys with eaves further apart: 3 of 403 houses looked at. */
    assert_true(wrong <= 1 + houses / 150);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test_setup_teardown(
        drops_let_run_reach_the_eaves_that_the_roof_names, set_bench, clear_bench)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
