/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What helps the gutter to catch: an apron strip at a low end that hangs too deep, a splash piece
 * where a valley's stream would shoot over. Only where the layout advises them and the job wants
 * them made.
 */
#include "pieces/pieces_inside.h"

static int64_t round_up(int64_t tick, int64_t quantum) {
    return (tick + quantum - 1) / quantum * quantum;
}

/* Strips are sheared to what a shop calls even: lengths to the inch or the centimetre, widths to a
 * quarter of an inch or 5 mm. */
static int64_t even_length(const struct shop *shop) {
    return shop->style.system == UNITS_FT_IN ? UNITS_TICK_PER_INCH : 10 * UNITS_TICK_PER_MM;
}

static int64_t even_width(const struct shop *shop) {
    return shop->style.system == UNITS_FT_IN ? UNITS_TICK_PER_INCH / 4 : 5 * UNITS_TICK_PER_MM;
}

/* Under the drip metal, down the gap at the low end where it is greatest, and into the gutter. */
static int64_t apron_width(const struct pieces_input *input, const struct layout_run *run) {
    const struct shop *shop = input->shop;
    int64_t gap_tick = units_tick_of_m(run->caught.low_trough.back_drop_m);
    gap_tick = gap_tick > 0 ? gap_tick : 0;
    return round_up(shop->apron_under_tick + gap_tick + shop->apron_into_tick, even_width(shop));
}

/* In even lengths that lap. */
static void list_apron(struct pieces_walk *walk, const struct pieces_on_run *on) {
    const struct shop *shop = walk->input->shop;
    const struct layout_run *run = &walk->input->layout->runs[on->run];
    int64_t whole_tick = run->caught.apron_tick;
    int64_t most_tick = shop->stock_tick - shop->lap_tick;
    int64_t count = (whole_tick - shop->lap_tick + most_tick - 1) / most_tick;
    count = count > 0 ? count : 1;
    struct pieces_piece apron = pieces_blank(on, PIECES_APRON);
    apron.id = pieces_id(walk->arena, on->name, ".apron", 0);
    apron.size = (struct base_text){0};
    apron.count = count;
    apron.length_tick = round_up((whole_tick + (count - 1) * shop->lap_tick + count - 1) / count,
                                 even_length(shop));
    apron.girth_tick = apron_width(walk->input, run);
    apron.mass_kg =
        (double)count * pieces_strip_mass(on->sheet, apron.length_tick, apron.girth_tick);
    pieces_add(walk, apron);
    struct pieces_piece nail = pieces_blank(on, PIECES_NAIL);
    nail.id = pieces_id(walk->arena, on->name, ".nails", 0);
    nail.size = (struct base_text){0};
    nail.sheet = NULL;
    nail.count = (apron.length_tick / shop->nail_tick + 1) * count;
    pieces_add(walk, nail);
}

static int64_t list_splash(struct pieces_walk *walk, const struct pieces_on_run *on) {
    const struct shop *shop = walk->input->shop;
    const struct layout *layout = walk->input->layout;
    int64_t count = 0;
    for (size_t i = 0; i < walk->input->roof->pour_count; i++) {
        const struct layout_valley *valley = &layout->valleys[i];
        count += valley->run == on->run && valley->wants_splash ? 1 : 0;
    }
    if (count == 0) {
        return 0;
    }
    struct pieces_piece splash = pieces_blank(on, PIECES_SPLASH_PIECE);
    splash.id = pieces_id(walk->arena, on->name, ".splash piece", 0);
    splash.size = (struct base_text){0};
    splash.count = count;
    splash.length_tick = 2 * shop->splash_leg_tick;
    splash.girth_tick = shop->splash_wide_tick;
    splash.mass_kg =
        (double)count * pieces_strip_mass(on->sheet, splash.length_tick, splash.girth_tick);
    pieces_add(walk, splash);
    return count;
}

int64_t pieces_list_catch(struct pieces_walk *walk, const struct pieces_on_run *on) {
    const struct job *job = walk->input->job;
    if (job->wants_aprons && walk->input->layout->runs[on->run].caught.wants_apron) {
        list_apron(walk, on);
    }
    return job->wants_splash_pieces ? list_splash(walk, on) : 0;
}

static void explain_apron(const struct pieces_input *input, struct base_trace *trace,
                          const struct pieces_piece *piece) {
    const struct layout_catch *caught = &input->layout->runs[piece->run].caught;
    base_trace_leaf(trace, "wide_m");
    base_trace_formula(trace, "under the drip metal + the gap at the low end + into the gutter",
                       "common practice");
    base_trace_input(trace, "under the drip metal", base_value_tick(input->shop->apron_under_tick));
    base_trace_input(trace, "gap", base_value_number(BASE_UNIT_M, caught->low_trough.back_drop_m));
    base_trace_input(trace, "into the gutter", base_value_tick(input->shop->apron_into_tick));
}

void pieces_explain_catch(const struct pieces_input *input, struct base_trace *trace,
                          const struct pieces_piece *piece) {
    if (piece->kind == PIECES_APRON) {
        explain_apron(input, trace, piece);
    } else if (piece->kind == PIECES_SPLASH_PIECE) {
        base_trace_leaf(trace, "wide_m");
        base_trace_formula(trace, "what stands on the lip and 1/2 in of foot: the shop's habit",
                           "common practice");
    }
}
