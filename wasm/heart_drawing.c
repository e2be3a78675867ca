/* SPDX-License-Identifier: Apache-2.0 */
/* What the page draws and result.json does not hold: faces, lines, eaves in plan, water along a
 * reach. */
#include "heart_inside.h"

#include "tree/tree.h"
#include "units/units.h"

const struct heart_answer *heart_drawing(void);

static void write_number(struct tree_writer *writer, const char *key, double number_m) {
    struct base_value value = base_value_number(BASE_UNIT_M, number_m);
    tree_write_raw(writer, base_text_of(key), units_write_quantum(heart.arena, value));
}

static void write_xyz(struct tree_writer *writer, struct geometry_point at, double z_m) {
    write_number(writer, "", at.x_m);
    write_number(writer, "", at.y_m);
    write_number(writer, "", z_m);
}

static void write_faces(struct tree_writer *writer, const struct roof *roof) {
    tree_open_list(writer, base_text_of("faces"));
    for (size_t i = 0; i < roof->face_count; i++) {
        const struct roof_face *face = &roof->faces[i];
        tree_open_map(writer, (struct base_text){0});
        write_number(writer, "down_x", -face->plane.a_1);
        write_number(writer, "down_y", -face->plane.b_1);
        tree_open_list(writer, base_text_of("points"));
        for (size_t k = 0; k < face->outline.count; k++) {
            struct geometry_point at = face->outline.points[k];
            write_xyz(writer, at, geometry_height(face->plane, at));
        }
        tree_close_list(writer);
        tree_close_map(writer);
    }
    tree_close_list(writer);
}

static void write_roof_lines(struct tree_writer *writer, const struct roof *roof) {
    static const char *const words[ROOF_LINE_KINDS] = {"eave",  "ridge", "hip",   "valley",
                                                       "gable", "wall",  "break", "bare eave"};
    tree_open_list(writer, base_text_of("lines"));
    for (size_t i = 0; i < roof->line_count; i++) {
        const struct roof_line *line = &roof->lines[i];
        tree_open_map(writer, (struct base_text){0});
        tree_write_text(writer, base_text_of("kind"), base_text_of(words[line->kind]));
        tree_open_list(writer, base_text_of("points"));
        write_xyz(writer, line->from, line->from_z_m);
        write_xyz(writer, line->to, line->to_z_m);
        tree_close_list(writer);
        tree_close_map(writer);
    }
    tree_close_list(writer);
}

static void write_eaves(struct tree_writer *writer, const struct roof *roof) {
    tree_open_map(writer, base_text_of("eaves"));
    for (size_t i = 0; i < roof->eave_count; i++) {
        const struct roof_eave *eave = &roof->eaves[i];
        tree_open_map(writer, eave->name);
        tree_write_text(writer, base_text_of("of"),
                        base_text_of(eave->of_outline        ? "outline"
                                     : eave->run == SIZE_MAX ? "wing"
                                                             : "run"));
        size_t index = eave->run == SIZE_MAX ? eave->wing : eave->run;
        struct base_value which = base_value_count(index == SIZE_MAX ? 0 : (int64_t)index);
        tree_write_raw(writer, base_text_of("index"), units_write_quantum(heart.arena, which));
        tree_open_list(writer, base_text_of("points"));
        write_xyz(writer, eave->from, eave->eave_height_m);
        write_xyz(writer, eave->to, eave->eave_height_m);
        tree_close_list(writer);
        tree_open_list(writer, base_text_of("depths")); /* place along the eave, roof behind it */
        for (size_t k = 0; k < eave->knot_count; k++) {
            write_number(writer, "", eave->knots[k].x_m);
            write_number(writer, "", eave->knots[k].width_m);
        }
        tree_close_list(writer);
        tree_close_map(writer);
    }
    tree_close_map(writer);
}

/* Depth by place from the still end; the reach's own line says which way it runs. */
static void write_water(struct tree_writer *writer, const struct layout *layout) {
    tree_open_map(writer, base_text_of("water"));
    for (size_t i = 0; i < layout->reach_count; i++) {
        const struct layout_reach *reach = &layout->reaches[i];
        const struct layout_run *first = &layout->runs[layout->lines[reach->line].first_run];
        tree_open_map(writer, reach->name);
        tree_write_text(writer, base_text_of("first_run"), first->name);
        write_number(writer, "still", reach->still_m);
        write_number(writer, "outlet", reach->outlet_m);
        tree_write_text(writer, base_text_of("towards"),
                        base_text_of(reach->towards_right ? "right" : "left"));
        tree_open_list(writer, base_text_of("depths"));
        for (size_t k = 0; k < reach->profile.station_count; k++) {
            write_number(writer, "", reach->profile.stations[k].x_m);
            write_number(writer, "", reach->profile.stations[k].depth_m);
        }
        tree_close_list(writer);
        tree_close_map(writer);
    }
    tree_close_map(writer);
}

static void write_line_starts(struct tree_writer *writer, const struct layout *layout) {
    tree_open_map(writer, base_text_of("starts")); /* where each gutter begins on its line */
    for (size_t i = 0; i < layout->run_count; i++) {
        tree_open_map(writer, layout->runs[i].name);
        struct base_value line = base_value_count(0);
        for (size_t k = 0; k < layout->line_count; k++) {
            if (i >= layout->lines[k].first_run &&
                i < layout->lines[k].first_run + layout->lines[k].run_count) {
                line = base_value_count((int64_t)k);
                write_number(writer, "length", layout->lines[k].length_m);
            }
        }
        tree_write_raw(writer, base_text_of("line"), units_write_quantum(heart.arena, line));
        write_number(writer, "start", layout->runs[i].line_start_m);
        tree_close_map(writer);
    }
    tree_close_map(writer);
}

/* Lengths in metres; points as x, y, z one after the other. */
const struct heart_answer *heart_drawing(void) {
    struct tree_writer writer = tree_make_writer(heart.arena);
    tree_open_map(&writer, (struct base_text){0});
    if (heart.solution != NULL && heart.solution->has_house) {
        write_faces(&writer, &heart.solution->roof);
        write_roof_lines(&writer, &heart.solution->roof);
        write_eaves(&writer, &heart.solution->roof);
        write_water(&writer, &heart.solution->layout);
        write_line_starts(&writer, &heart.solution->layout);
    }
    tree_close_map(&writer);
    return heart_answer_text(base_built(&writer.out));
}
