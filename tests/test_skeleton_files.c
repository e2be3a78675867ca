/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Roofs over real footprints (open data, skipped with a word where it is not), and, where SFCGAL is
 * there, node by node against its straight skeleton on those and on random outlines.
 */
#include "skeleton_laws.h"

#include <math.h>
#include <stdlib.h>

#include "check.h"
#include "tree/tree.h"

#ifdef HAVE_SFCGAL
#include <SFCGAL/capi/sfcgal_c.h>
#endif

#define BOULDER    SHARED_DATA "/roof/boulder_footprints_subset.geojson"
#define ALEXANDRIA SHARED_DATA "/roof/alexandria_va_84_buildings.geojson"
#define PI         3.14159265358979323846

static struct random_outline shape;

/* ---- longitude and latitude to local metres -------------------------------------------------- */

/* Metres a degree, by the radii of curvature of the WGS 84 ellipsoid (MEMORY: a = 6378137 m,
 * f = 1/298.257223563). */
static void find_scale(double latitude_deg, double scale_m[2]) {
    const double axis_m = 6378137.0;
    const double flat_1 = 1 / 298.257223563;
    double e2 = flat_1 * (2 - flat_1);
    double sine = sin(latitude_deg * PI / 180);
    double w = sqrt(1 - e2 * sine * sine);
    scale_m[0] = PI / 180 * axis_m / w * cos(latitude_deg * PI / 180);
    scale_m[1] = PI / 180 * axis_m * (1 - e2) / (w * w * w);
}

static double number_of(const struct tree_node *node) {
    assert_non_null(node);
    char text[40] = {0};
    assert_true(node->text.length < sizeof text);
    for (size_t i = 0; i < node->text.length; i++) {
        text[i] = node->text.bytes[i];
    }
    return strtod(text, NULL);
}

/* The last corner of a ring says the first again. */
static size_t read_ring(const struct tree_node *ring, const double origin[2]) {
    double scale_m[2];
    size_t before = shape.count;
    find_scale(origin[1], scale_m);
    const struct tree_node *at = ring->first;
    for (size_t i = 0; i + 1 < ring->count && shape.count < OUTLINE_CORNERS_MAX;
         i++, at = at->next) {
        double x_m = (number_of(at->first) - origin[0]) * scale_m[0];
        double y_m = (number_of(at->first->next) - origin[1]) * scale_m[1];
        struct geometry_corner here = {llround(x_m * GEOMETRY_TICKS_PER_M),
                                       llround(y_m * GEOMETRY_TICKS_PER_M)};
        const struct geometry_corner *last =
            shape.count == before ? NULL : &shape.corners[shape.count - 1];
        if (last == NULL || here.x_tick != last->x_tick || here.y_tick != last->y_tick) {
            shape.corners[shape.count++] = here; /* three footprints say a corner twice */
        }
    }
    return shape.count - before;
}

static bool read_footprint(const struct tree_node *feature) {
    const struct tree_node *geometry = tree_find(feature, "geometry");
    const struct tree_node *rings = tree_find(geometry, "coordinates");
    if (base_text_is(tree_find(geometry, "type")->text, "MultiPolygon")) {
        rings = rings->first;
    }
    size_t counts[OUTLINE_RINGS_MAX];
    size_t count = 0;
    shape = (struct random_outline){0};
    const struct tree_node *first = rings->first->first;
    double origin[2] = {number_of(first->first), number_of(first->first->next)};
    for (const struct tree_node *ring = rings->first; ring != NULL; ring = ring->next) {
        if (count == OUTLINE_RINGS_MAX) {
            return false;
        }
        counts[count++] = read_ring(ring, origin);
    }
    set_outline_rings(&shape, counts, count);
    set_outline_speeds(&shape, 12.0 / 9);
    return shape.count < OUTLINE_CORNERS_MAX;
}

/* ---- SFCGAL ---------------------------------------------------------------------------------- */

#ifdef HAVE_SFCGAL
enum { THEIRS_MAX = 4000 };

struct their_nodes {
    struct geometry_point items[THEIRS_MAX];
    size_t count;
};

static int count_words(const char *words, ...) {
    (void)words;
    return 0;
}

static void be_quiet(void) {
    sfcgal_init();
    sfcgal_set_error_handlers(count_words, count_words);
}

static sfcgal_geometry_t *make_ring(size_t ring) {
    const struct geometry_ring *of = &shape.rings[ring];
    sfcgal_geometry_t *line = sfcgal_linestring_create();
    for (size_t i = 0; i <= of->count; i++) {
        struct geometry_corner at = of->corners[i % of->count];
        sfcgal_linestring_add_point(
            line, sfcgal_point_create_from_xy((double)at.x_tick / GEOMETRY_TICKS_PER_M,
                                              (double)at.y_tick / GEOMETRY_TICKS_PER_M));
    }
    return line;
}

static void add_their(struct their_nodes *nodes, const sfcgal_geometry_t *point) {
    struct geometry_point at = {sfcgal_point_x(point), sfcgal_point_y(point)};
    for (size_t i = 0; i < nodes->count; i++) {
        if (geometry_distance(at, nodes->items[i]) < 1e-9) {
            return;
        }
    }
    assert_true(nodes->count < THEIRS_MAX);
    nodes->items[nodes->count++] = at;
}

static bool find_theirs(struct their_nodes *nodes) {
    sfcgal_geometry_t *polygon = sfcgal_polygon_create_from_exterior_ring(make_ring(0));
    for (size_t r = 1; r < shape.outline.count; r++) {
        sfcgal_polygon_add_interior_ring(polygon, make_ring(r));
    }
    sfcgal_geometry_t *lines = sfcgal_geometry_straight_skeleton(polygon);
    nodes->count = 0;
    for (size_t i = 0; lines != NULL && i < sfcgal_geometry_collection_num_geometries(lines); i++) {
        const sfcgal_geometry_t *line = sfcgal_geometry_collection_geometry_n(lines, i);
        add_their(nodes, sfcgal_linestring_point_n(line, 0));
        add_their(nodes, sfcgal_linestring_point_n(line, 1));
    }
    bool found = lines != NULL && nodes->count > 0;
    if (lines != NULL) {
        sfcgal_geometry_delete(lines);
    }
    sfcgal_geometry_delete(polygon);
    return found;
}

static double find_nearest(const struct geometry_point *items, size_t count,
                           struct geometry_point at) {
    double least_m = (double)INFINITY;
    for (size_t i = 0; i < count; i++) {
        least_m = fmin(least_m, geometry_distance(items[i], at));
    }
    return least_m;
}

/* The largest distance from a node of the one to the nearest of the other. */
static double find_apart(const struct geometry_skeleton *skeleton,
                         const struct their_nodes *theirs) {
    static struct geometry_point own[THEIRS_MAX];
    double apart_m = 0;
    for (size_t i = 0; i < skeleton->node_count; i++) {
        own[i] = skeleton->nodes[i].at;
        apart_m = fmax(apart_m, find_nearest(theirs->items, theirs->count, own[i]));
    }
    for (size_t i = 0; i < theirs->count; i++) {
        apart_m = fmax(apart_m, find_nearest(own, skeleton->node_count, theirs->items[i]));
    }
    return apart_m;
}
#endif

struct agreement {
    size_t same;   /* within 0.01 mm */
    size_t near;   /* within 1 mm: events taken for one, drawn out along a flat angle */
    size_t apart;  /* further */
    size_t silent; /* the other gave none */
};

static void compare(const struct geometry_skeleton *skeleton, struct agreement *agreement) {
#ifdef HAVE_SFCGAL
    static struct their_nodes theirs;
    if (!find_theirs(&theirs)) {
        agreement->silent++;
        return;
    }
    double apart_m = find_apart(skeleton, &theirs);
    if (apart_m <= 1e-5) {
        agreement->same++;
    } else if (apart_m <= 1e-3) {
        agreement->near++;
    } else {
        agreement->apart++;
        print_message("# apart by %g m: %zu corners, %zu rings, seed %llu\n", apart_m, shape.count,
                      shape.outline.count, (unsigned long long)shape.seed);
    }
#else
    (void)skeleton;
    (void)agreement;
#endif
}

/* ---- tests ----------------------------------------------------------------------------------- */

struct tally {
    size_t read;
    size_t whole;
    size_t courtyards;
    size_t refused;
    struct agreement agreement;
};

static void try_footprint(const struct tree_node *feature, struct tally *tally) {
    tally->read++;
    if (!read_footprint(feature) ||
        geometry_check_outline(&shape.outline).fault != GEOMETRY_OUTLINE_FINE) {
        tally->refused++;
        return;
    }
    const struct tree_node *area = tree_find(tree_find(feature, "properties"), "area_m2");
    if (area != NULL) { /* published, by the same ellipsoid */
        check_near(find_outline_area(&shape.outline) / number_of(area), 1, 2e-3);
    }
    struct base_arena *arena = base_make_arena(0);
    struct geometry_skeleton skeleton;
    assert_int_equal(geometry_find_skeleton(arena, &shape.outline, shape.speeds_1, &skeleton),
                     GEOMETRY_SKELETON_WHOLE);
    const char *broken = find_broken_law(&shape, &skeleton);
    if (broken != NULL) {
        print_error("footprint %zu: %s\n", tally->read - 1, broken);
    }
    assert_null(broken);
    tally->whole++;
    tally->courtyards += shape.outline.count > 1;
    shape.seed = tally->read - 1;
    compare(&skeleton, &tally->agreement);
    base_free_arena(arena);
}

static void try_file(const char *path, struct tally *tally) {
    check_data_or_skip(path);
    size_t length = 0;
    char *bytes = check_read_file(path, &length);
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    const struct tree_node *root =
        tree_read_json(arena, &issues, BASE_DOCUMENT_JOB, (struct base_text){bytes, length});
    const struct tree_node *features = tree_find(root, "features");
    assert_non_null(features);
    for (const struct tree_node *at = features->first; at != NULL; at = at->next) {
        try_footprint(at, tally);
    }
    base_free_arena(arena);
    free(bytes);
}

static void print_agreement(const char *what, const struct agreement *agreement) {
#ifdef HAVE_SFCGAL
    print_message("# %s against SFCGAL: %zu same within 0.01 mm, %zu within 1 mm, %zu further, "
                  "%zu it gives none for\n",
                  what, agreement->same, agreement->near, agreement->apart, agreement->silent);
#else
    (void)agreement;
    print_message("# %s: SFCGAL is not there, nothing compared\n", what);
#endif
}

/* About 970 of two towns are usable, 31 have courtyards (FOUND, layouts of the open data). Seven
 * touch or cross themselves, three of those with courtyards: refused. */
static void every_usable_footprint_has_a_roof(void **state) {
    (void)state;
    struct tally tally = {0};
    try_file(BOULDER, &tally);
    try_file(ALEXANDRIA, &tally);
    print_message("# footprints: %zu read, %zu roofs, %zu of them with courtyards, %zu refused\n",
                  tally.read, tally.whole, tally.courtyards, tally.refused);
    print_agreement("footprints", &tally.agreement);
    assert_true(tally.whole >= 965);
    assert_true(tally.courtyards >= 28);
    assert_true(tally.agreement.apart <= tally.whole / 100);
}

static void random_outlines_agree_with_another_program(void **state) {
    (void)state;
#ifndef HAVE_SFCGAL
    print_message("# SFCGAL is not there\n");
    skip();
#else
    struct agreement agreement = {0};
    const char *asked = getenv("EAVESMITH_OUTLINES");
    uint64_t count = asked != NULL ? strtoull(asked, NULL, 10) / 10 : 600;
    for (uint64_t seed = 1; seed <= count; seed++) {
        enum outline_kind kind = (enum outline_kind)(seed % OUTLINE_KINDS);
        make_random_outline(seed, kind, 4 + (size_t)(seed / 7 % 30), &shape);
        set_outline_speeds(&shape, 1);
        if (geometry_check_outline(&shape.outline).fault != GEOMETRY_OUTLINE_FINE ||
            llabs(shape.corners[0].x_tick) > INT64_C(1000000000000)) {
            continue; /* far from the origin its numbers are not ours */
        }
        struct base_arena *arena = base_make_arena(0);
        struct geometry_skeleton skeleton;
        assert_int_equal(geometry_find_skeleton(arena, &shape.outline, shape.speeds_1, &skeleton),
                         GEOMETRY_SKELETON_WHOLE);
        shape.seed = seed;
        compare(&skeleton, &agreement);
        base_free_arena(arena);
    }
    print_agreement("random outlines", &agreement);
    assert_true(agreement.same > count / 4);
    assert_true(agreement.apart <= count / 50);
#endif
}

int main(void) {
#ifdef HAVE_SFCGAL
    be_quiet();
#endif
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_usable_footprint_has_a_roof),
        cmocka_unit_test(random_outlines_agree_with_another_program),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
