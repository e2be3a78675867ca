/* SPDX-License-Identifier: Apache-2.0 */
/* The storms as a film: the rain of each minute, and the water along each reach in rising rains,
 * between which the page joins straight. */
#include <math.h>

#include "heart_inside.h"

#include "tree/tree.h"
#include "units/units.h"

const struct heart_answer *heart_film(void);

/* The rains asked: top x (level / LEVELS)^2, so that depths rise about evenly. */
enum { LEVELS = 12 };

static void write_value(struct tree_writer *writer, const char *key, struct base_value value) {
    tree_write_raw(writer, base_text_of(key), units_write_quantum(heart.arena, value));
}

static void write_minutes(struct tree_writer *writer, const struct solution *all) {
    tree_open_list(writer, base_text_of("storms"));
    for (size_t i = 0; i < all->storm_count; i++) {
        const struct storm *storm = &all->storms[i];
        tree_open_list(writer, (struct base_text){0});
        for (size_t k = 0; k < storm->minute_count; k++) {
            double rain_mps = storm->minutes_m[k] / RAIN_STORM_STEP_S;
            write_value(writer, "", base_value_number(BASE_UNIT_MPS, rain_mps));
        }
        tree_close_list(writer);
    }
    tree_close_list(writer);
}

/* The rain that would bring a reach what came to it in that minute: less than falls, where an upper
 * gutter went over and its water was lost. */
static double find_brought(const struct layout *layout, const struct storm *minute, size_t reach) {
    const struct storm_reach *came = minute->reaches == NULL ? NULL : &minute->reaches[reach];
    double flow_m3s = layout->reaches[reach].flow_m3s;
    return came != NULL && flow_m3s > 0.0
               ? (came->fallen_m3 + came->fed_m3) / RAIN_STORM_STEP_S * layout->rain_mps / flow_m3s
               : 0.0;
}

/* Only where gutters empty into gutters; elsewhere the minutes' rain is each reach's own. Minutes
 * of the same rain are run once. */
static bool write_brought(struct tree_writer *writer, const struct solution *all, size_t reach) {
    bool good = true;
    tree_open_list(writer, base_text_of("brought"));
    for (size_t i = 0; i < all->storm_count; i++) {
        const struct storm *storm = &all->storms[i];
        struct storm minute = {0};
        double last_m = -1.0;
        tree_open_list(writer, (struct base_text){0});
        for (size_t k = 0; k < storm->minute_count && good; k++) {
            double rain_m = storm->minutes_m[k];
            if (rain_m != last_m) {
                struct rain_storm one = {.depth_m = &rain_m, .count = 1};
                good = storm_run(heart.arena, &all->layout, &one, &minute);
                last_m = rain_m;
            }
            double brought_mps = good ? find_brought(&all->layout, &minute, reach) : 0.0;
            write_value(writer, "", base_value_number(BASE_UNIT_MPS, brought_mps));
        }
        tree_close_list(writer);
    }
    tree_close_list(writer);
    return good;
}

static double find_hardest(const struct solution *all) {
    double hardest_mps = 0.0;
    for (size_t i = 0; i < all->storm_count; i++) {
        hardest_mps = fmax(hardest_mps, all->storms[i].hardest_mps);
    }
    return hardest_mps;
}

/* Place from the still end and depth, one after the other. */
static void write_depths(struct tree_writer *writer, const struct hydraulics_profile *profile) {
    tree_open_list(writer, (struct base_text){0});
    for (size_t k = 0; k < profile->station_count; k++) {
        write_value(writer, "", base_value_number(BASE_UNIT_M, profile->stations[k].x_m));
        write_value(writer, "", base_value_number(BASE_UNIT_M, profile->stations[k].depth_m));
    }
    tree_close_list(writer);
}

/* In the rain a reach just runs with its water is at the lip: harder rain is not asked of it. */
static bool write_reach(struct tree_writer *writer, const struct solution *all, size_t index,
                        double hardest_mps) {
    const struct layout *layout = &all->layout;
    const struct layout_reach *reach = &layout->reaches[index];
    double limit_mps = reach->often.troubles[LAYOUT_AS_BUILT].rain_mps;
    double top_mps = fmin(hardest_mps, limit_mps);
    tree_open_map(writer, reach->name);
    if (!isinf(limit_mps)) {
        write_value(writer, "limit_mps", base_value_number(BASE_UNIT_MPS, limit_mps));
    }
    write_value(writer, "top_mps", base_value_number(BASE_UNIT_MPS, top_mps));
    tree_open_list(writer, base_text_of("levels"));
    bool good = true;
    bool has_water = reach->flow_m3s > 0.0;
    for (int level = 1; level <= LEVELS && good && has_water; level++) {
        struct hydraulics_profile profile;
        double factor_1 = top_mps * (level * level) / (LEVELS * LEVELS) / layout->rain_mps;
        good = layout_find_profile(heart.arena, layout, index, factor_1, &profile);
        if (good) {
            write_depths(writer, &profile);
        }
    }
    tree_close_list(writer);
    if (layout->feed_count > 0) {
        good = write_brought(writer, all, index) && good;
    }
    tree_close_map(writer);
    return good;
}

/* Empty where there are no storms. */
const struct heart_answer *heart_film(void) {
    struct tree_writer writer = tree_make_writer(heart.arena);
    const struct solution *all = heart.solution;
    bool good = true;
    tree_open_map(&writer, (struct base_text){0});
    if (all != NULL && all->has_house && all->storm_count > 0 && all->layout.rain_mps > 0.0) {
        double hardest_mps = find_hardest(all);
        write_minutes(&writer, all);
        tree_open_map(&writer, base_text_of("reaches"));
        for (size_t i = 0; i < all->layout.reach_count && good; i++) {
            good = write_reach(&writer, all, i, hardest_mps);
        }
        tree_close_map(&writer);
    }
    tree_close_map(&writer);
    struct base_text nothing = {0};
    return heart_answer_text(good ? base_built(&writer.out) : nothing);
}
