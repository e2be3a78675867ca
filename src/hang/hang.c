/* SPDX-License-Identifier: Apache-2.0 */
#include "hang/hang_inside.h"

#include <math.h>
#include <stdlib.h>

/* A bracket nearer than this to the rim of an outlet tube cannot be driven: COMMON PRACTICE. */
#define OUTLET_RIM_CLEAR_M 0.0127

const struct roof_eave *hang_eave(const struct hang_walk *walk, size_t run) {
    return &walk->input->roof->eaves[walk->input->layout->runs[run].eave];
}

static bool at_outlet(const struct hang_walk *walk, size_t run, int64_t x_tick) {
    const struct layout *layout = walk->input->layout;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        int64_t clear_tick = layout->outlets[i].tube_tick / 2 + units_tick_of_m(OUTLET_RIM_CLEAR_M);
        if (layout->outlets[i].run == run &&
            llabs(layout->outlets[i].x_tick - x_tick) < clear_tick) {
            return true;
        }
    }
    return false;
}

static bool add_bracket(const struct hang_walk *walk, struct hang_run *run, size_t *capacity,
                        int64_t x_tick, int64_t tail) {
    struct hang_bracket *brackets =
        base_grow(walk->arena, run->brackets, capacity, run->count, sizeof *brackets);
    if (brackets == NULL) {
        return false;
    }
    run->brackets = brackets;
    brackets[run->count++] = (struct hang_bracket){.x_tick = x_tick, .tail = tail};
    return true;
}

/* ---- on a fascia: evenly, ends half the first distance in -------------------------------------
 */

struct spread {
    int64_t end_tick; /* first and last bracket from their ends */
    int64_t spaces;
    int64_t length_tick;
    int64_t quantum_tick;
};

static struct spread find_spread(const struct hang_walk *walk, const struct hang_run *run) {
    const struct shop *shop = walk->input->shop;
    struct spread spread = {.length_tick = walk->input->layout->runs[run->run].length_tick,
                            .quantum_tick = shop->style.round_tick};
    spread.end_tick = shop->bracket_first_tick / 2;
    if (4 * spread.end_tick > spread.length_tick) {
        spread.end_tick = spread.length_tick / 4;
    }
    int64_t span_tick = spread.length_tick - 2 * spread.end_tick;
    spread.spaces = (span_tick + run->limit_tick - 1) / run->limit_tick;
    spread.spaces = spread.spaces < 1 ? 1 : spread.spaces;
    return spread;
}

/* Rounded from the nearer end, so that a mirrored run has its brackets at the mirrored places. */
static int64_t spread_x(const struct spread *spread, int64_t number) {
    int64_t span_tick = spread->length_tick - 2 * spread->end_tick;
    bool from_left = 2 * number <= spread->spaces;
    int64_t steps = from_left ? number : spread->spaces - number;
    int64_t x_tick = spread->end_tick + span_tick * steps / spread->spaces / spread->quantum_tick *
                                            spread->quantum_tick;
    return from_left ? x_tick : spread->length_tick - x_tick;
}

/* The first place to the left (way -1) or right (1) that clears every outlet; -1 = past the end. */
static int64_t clear_towards(const struct hang_walk *walk, size_t run, int64_t x_tick, int way) {
    int64_t length_tick = walk->input->layout->runs[run].length_tick;
    while (at_outlet(walk, run, x_tick)) {
        x_tick += way * (UNITS_TICK_PER_INCH / 2);
        if (x_tick < UNITS_TICK_PER_INCH || x_tick > length_tick - UNITS_TICK_PER_INCH) {
            return -1;
        }
    }
    return x_tick;
}

/*
 * Where the bracket of an even spread goes: itself; or, at an outlet, to the side that leaves no
 * stretch beyond the limit, the nearer one, inwards among equals; or one to either side.
 */
static size_t place_on_fascia(const struct hang_walk *walk, const struct hang_run *run,
                              const struct spread *spread, int64_t number, int64_t places[2]) {
    int64_t x_tick = spread_x(spread, number);
    int64_t left_tick = clear_towards(walk, run->run, x_tick, -1);
    int64_t right_tick = clear_towards(walk, run->run, x_tick, 1);
    bool is_last = number == spread->spaces;
    bool left_fits =
        left_tick >= 0 && (is_last || spread_x(spread, number + 1) - left_tick <= run->limit_tick);
    bool right_fits = right_tick >= 0 &&
                      (number == 0 || right_tick - spread_x(spread, number - 1) <= run->limit_tick);
    if (left_fits && right_fits) {
        int64_t to_left_tick = x_tick - left_tick;
        int64_t to_right_tick = right_tick - x_tick;
        bool inwards_is_right = x_tick < spread->length_tick / 2;
        bool goes_right =
            to_left_tick == to_right_tick ? inwards_is_right : to_right_tick < to_left_tick;
        places[0] = goes_right ? right_tick : left_tick;
        return 1;
    }
    if (left_fits || right_fits) {
        places[0] = left_fits ? left_tick : right_tick;
        return 1;
    }
    size_t count = 0;
    if (left_tick >= 0) {
        places[count++] = left_tick;
    }
    if (right_tick >= 0) {
        places[count++] = right_tick;
    }
    return count;
}

static bool spread_on_fascia(const struct hang_walk *walk, struct hang_run *run) {
    struct spread spread = find_spread(walk, run);
    size_t capacity = 0;
    for (int64_t number = 0; number <= spread.spaces; number++) {
        int64_t places[2];
        size_t count = place_on_fascia(walk, run, &spread, number, places);
        for (size_t i = 0; i < count; i++) {
            bool behind = run->count > 0 && places[i] <= run->brackets[run->count - 1].x_tick;
            if (!behind && !add_bracket(walk, run, &capacity, places[i], 0)) {
                return false;
            }
        }
    }
    return true;
}

/* ---- on rafter tails: the farthest tail within the limit, again and again -----------------------
 */

/* Centres of tails, numbered from 1 at the first one over the gutter. */
struct tails {
    const int64_t *positions_tick; /* irregular ones; NULL = evenly spaced */
    int64_t count;                 /* of irregular ones */
    int64_t first_tick; /* centre of the first tail, from the gutter's left end; may lie before it;
                           irregular: where the eave's left end lies */
    int64_t spacing_tick;
    int64_t skipped;  /* tails before the gutter begins */
    int64_t end_tick; /* none beyond: there the eave, or the gutter, ends */
};

/* Beyond the last tail: far behind any gutter's end. */
static int64_t tail_x(const struct tails *tails, int64_t number) {
    int64_t index = tails->skipped + number - 1;
    if (tails->positions_tick == NULL) {
        return tails->first_tick + index * tails->spacing_tick;
    }
    return index < tails->count ? tails->first_tick + tails->positions_tick[index] : UNITS_TICK_MAX;
}

static struct tails find_tails(const struct hang_walk *walk, const struct hang_run *run) {
    const struct layout_run *of = &walk->input->layout->runs[run->run];
    const struct roof_eave *eave = hang_eave(walk, run->run);
    const struct job_section *section = &eave->section;
    struct tails tails = {.spacing_tick = section->spacing.tick};
    int64_t start_tick = of->shift_tick - eave->tail_shift_tick;
    if (section->position_count > 0) {
        tails.positions_tick = section->positions_tick;
        tails.count = (int64_t)section->position_count;
        tails.first_tick = start_tick;
    } else {
        tails.first_tick =
            start_tick + (section->first.given ? section->first.tick : section->spacing.tick / 2);
    }
    /* A gutter that runs past its eave, round an inside corner, hangs there on no tail of its own.
     */
    int64_t eave_end_tick = of->shift_tick + eave->length_tick;
    int64_t gutter_end_tick = of->length_tick - UNITS_TICK_PER_INCH;
    int64_t begin_tick =
        of->shift_tick > UNITS_TICK_PER_INCH ? of->shift_tick : UNITS_TICK_PER_INCH;
    tails.end_tick = eave_end_tick < gutter_end_tick ? eave_end_tick : gutter_end_tick;
    while (tail_x(&tails, 1) < begin_tick) {
        tails.skipped++;
    }
    return tails;
}

static bool tail_is_free(const struct hang_walk *walk, const struct hang_run *run,
                         const struct tails *tails, int64_t number) {
    return !at_outlet(walk, run->run, tail_x(tails, number));
}

/* The farthest free tail no more than the limit beyond from_tick; else the next free one; 0 = none
 * left. */
static int64_t next_tail(const struct hang_walk *walk, const struct hang_run *run,
                         const struct tails *tails, int64_t after) {
    int64_t from_tick = tail_x(tails, after);
    int64_t best = 0;
    for (int64_t n = after + 1; tail_x(tails, n) <= tails->end_tick; n++) {
        if (!tail_is_free(walk, run, tails, n)) {
            continue;
        }
        if (tail_x(tails, n) - from_tick > run->limit_tick && best != 0) {
            break;
        }
        best = n;
        if (tail_x(tails, n) - from_tick > run->limit_tick) {
            break;
        }
    }
    return best;
}

static bool step_on_tails(const struct hang_walk *walk, struct hang_run *run) {
    struct tails tails = find_tails(walk, run);
    size_t capacity = 0;
    int64_t number = tail_is_free(walk, run, &tails, 1) ? 1 : next_tail(walk, run, &tails, 1);
    if (number == 0 || tail_x(&tails, number) > tails.end_tick) {
        return true; /* no tail over this gutter: reported by the caller */
    }
    while (number != 0) {
        if (!add_bracket(walk, run, &capacity, tail_x(&tails, number), number)) {
            return false;
        }
        number = next_tail(walk, run, &tails, number);
    }
    return true;
}

/* ---- drops and checks ----------------------------------------------------------------------- */

static double hole_below_edge(const struct hang_walk *walk, size_t run, int64_t x_tick) {
    const struct shop *shop = walk->input->shop;
    const struct layout *layout = walk->input->layout;
    double lip_m = layout_lip_at(layout, run, units_m_of_tick(x_tick));
    return lip_m - units_m_of_tick(shop->back_rise_tick) +
           units_m_of_tick(shop->hole_below_back_tick);
}

static void find_drops(const struct hang_walk *walk, struct hang_run *run) {
    double least_m = 0.0;
    for (size_t i = 0; i < run->count; i++) {
        double hole_m = hole_below_edge(walk, run->run, run->brackets[i].x_tick);
        least_m = i == 0 ? hole_m : fmin(least_m, hole_m);
    }
    for (size_t i = run->count; i-- > 0;) { /* of equals the first as walked */
        double hole_m = hole_below_edge(walk, run->run, run->brackets[i].x_tick);
        run->high_bracket = hole_m < least_m + 1e-6 ? i : run->high_bracket;
    }
    run->string_tick = units_tick_of_m(least_m);
    for (size_t i = 0; i < run->count; i++) {
        double hole_m = hole_below_edge(walk, run->run, run->brackets[i].x_tick);
        run->brackets[i].drop_tick = units_tick_of_m(hole_m - least_m);
    }
}

void hang_report(const struct hang_walk *walk, enum base_issue_code code, size_t run,
                 int64_t value_tick, int64_t limit_tick) {
    base_add_issue(walk->issues, (struct base_issue){.code = code,
                                                     .mark = hang_eave(walk, run)->section.mark,
                                                     .object = walk->input->layout->runs[run].name,
                                                     .value = base_value_tick(value_tick),
                                                     .limit = base_value_tick(limit_tick)});
}

/* Places are rounded to what a tape reads, each of two neighbours by its own. */
static void check_spacing(const struct hang_walk *walk, struct hang_run *run) {
    int64_t length_tick = walk->input->layout->runs[run->run].length_tick;
    if (run->count == 0) {
        hang_report(walk, BASE_ISSUE_NO_TAIL_TO_HANG_ON, run->run, length_tick, run->limit_tick);
        return;
    }
    for (size_t i = 1; i < run->count; i++) {
        int64_t apart_tick = run->brackets[i].x_tick - run->brackets[i - 1].x_tick;
        run->longest_tick = apart_tick > run->longest_tick ? apart_tick : run->longest_tick;
    }
    if (run->longest_tick > run->limit_tick + 2 * walk->input->shop->style.round_tick) {
        hang_report(walk, BASE_ISSUE_BRACKETS_TOO_FAR_APART, run->run, run->longest_tick,
                    run->limit_tick);
    }
    int64_t first_tick = walk->input->shop->bracket_first_tick;
    int64_t left_tick = run->brackets[0].x_tick;
    int64_t right_tick = length_tick - run->brackets[run->count - 1].x_tick;
    int64_t end_tick = left_tick > right_tick ? left_tick : right_tick;
    if (end_tick > first_tick) {
        hang_report(walk, BASE_ISSUE_END_BRACKET_FAR, run->run, end_tick, first_tick);
    }
}

static bool find_run(const struct hang_walk *walk, size_t index, struct hang_run *run) {
    const struct shop *shop = walk->input->shop;
    const struct job_section *section = &hang_eave(walk, index)->section;
    *run = (struct hang_run){.run = index, .wood = section->wood};
    run->limit_tick = walk->hang->snow ? shop->bracket_max_snow_tick : shop->bracket_max_tick;
    bool irregular = section->position_count > 0;
    bool on_tails = section->wood == JOB_WOOD_TAILS &&
                    (irregular || (section->spacing.given && section->spacing.tick > 0));
    if (section->wood == JOB_WOOD_UNKNOWN) {
        hang_report(walk, BASE_ISSUE_ASSUMED_FASCIA, index, 0, run->limit_tick);
    }
    if (on_tails && !irregular && !section->first.given) {
        hang_report(walk, BASE_ISSUE_ASSUMED_FIRST_TAIL, index, section->spacing.tick / 2,
                    section->spacing.tick);
    }
    if (!(on_tails ? step_on_tails(walk, run) : spread_on_fascia(walk, run))) {
        return false;
    }
    find_drops(walk, run);
    check_spacing(walk, run);
    hang_fit_wood(walk, run);
    hang_find_moves(walk, run);
    return hang_find_loads(walk, run);
}

/* ---- straps --------------------------------------------------------------------------------- */

/* At the top, at the bottom and no further apart than the shop's spacing. Source: trade/copper f.
 */
static int64_t count_straps(const struct hang_walk *walk, const struct layout_straight *straight,
                            struct hang_strap *strap) {
    int64_t length_tick = straight->top_tick - straight->bottom_tick;
    int64_t most_tick = walk->input->shop->strap_max_tick;
    if (length_tick <= 0) {
        return 0;
    }
    int64_t spaces = (length_tick + most_tick - 1) / most_tick;
    int64_t spacing_tick = length_tick / spaces;
    strap->spacing_tick = spacing_tick > strap->spacing_tick ? spacing_tick : strap->spacing_tick;
    return spaces + 1;
}

static bool find_straps(const struct hang_walk *walk) {
    const struct layout *layout = walk->input->layout;
    for (size_t i = 0; i < layout->outlet_count; i++) {
        const struct layout_downspout *pipe = &layout->downspouts[i];
        struct hang_strap *strap = &walk->hang->straps[i];
        *strap = (struct hang_strap){.outlet = i};
        if (!pipe->measured) {
            continue;
        }
        strap->each = base_take(walk->arena, pipe->jog_count + 1, sizeof *strap->each);
        if (strap->each == NULL) {
            return false;
        }
        for (size_t k = 0; k <= pipe->jog_count; k++) {
            strap->each[k] = count_straps(walk, &pipe->straights[k], strap);
            strap->count += strap->each[k];
        }
    }
    return true;
}

static void explain_brackets(const struct hang_walk *walk, const struct hang_run *run) {
    const struct layout *layout = walk->input->layout;
    const struct hang_bracket *high = &run->brackets[run->high_bracket];
    for (size_t i = 0; i < run->count; i++) {
        struct base_builder path = {.arena = walk->arena};
        base_add_string(&path, "hang/");
        base_add_text(&path, layout->runs[run->run].name);
        base_add_char(&path, '/');
        base_add_integer(&path, (int64_t)i + 1);
        base_trace_scope(walk->trace, base_built(&path));
        base_trace_leaf(walk->trace, "x_m");
        base_trace_formula(walk->trace,
                           run->brackets[i].tail > 0 ? "centre of the tail of this number"
                                                     : "spread evenly between the end brackets",
                           "SRC-60");
        base_trace_input(walk->trace, "tail", base_value_count(run->brackets[i].tail));
        base_trace_leaf(walk->trace, "drop_m");
        base_trace_formula(walk->trace, "slope x distance, from the highest bracket on",
                           "plane geometry");
        base_trace_input(walk->trace, "highest bracket at", base_value_tick(high->x_tick));
        base_trace_input(
            walk->trace, "slope",
            base_value_number(BASE_UNIT_SLOPE, layout->lines[layout->runs[run->run].line].slope_1));
    }
}

static void explain(const struct hang_walk *walk) {
    const struct hang *hang = walk->hang;
    for (size_t i = 0; i < hang->run_count && walk->trace != NULL; i++) {
        const struct hang_run *run = &hang->runs[i];
        struct base_text path[] = {base_text_of("hang/"), walk->input->layout->runs[i].name};
        base_trace_scope(walk->trace, base_join(walk->arena, 2, path));
        base_trace_leaf(walk->trace, "bracket_count");
        base_trace_formula(
            walk->trace,
            run->wood == JOB_WOOD_TAILS
                ? "from the left: the farthest tail within the limit, again and again"
                : "spaces = (length - ends) / limit, rounded up; one bracket more",
            "SRC-60");
        base_trace_input(walk->trace, "gutter length",
                         base_value_tick(walk->input->layout->runs[i].length_tick));
        base_trace_input(walk->trace, "limit", base_value_tick(run->limit_tick));
        base_trace_input(walk->trace, "longest spacing", base_value_tick(run->longest_tick));
        base_trace_rule(walk->trace, hang->snow ? "snow country: 30 in" : "no snow: 36 in");
        base_trace_leaf(walk->trace, "string_m");
        base_trace_formula(
            walk->trace,
            "lip below roof edge - back edge over lip + hole below back edge, at the "
            "highest bracket",
            "plane geometry");
        base_trace_input(walk->trace, "hole below back edge",
                         base_value_tick(walk->input->shop->hole_below_back_tick));
        hang_explain_wood(walk, run);
        hang_explain_loads(walk, run);
        hang_explain_moves(walk, run);
        if (run->count > 0) {
            explain_brackets(walk, run);
        }
    }
    hang_explain_found(walk);
}

enum base_status hang_find(struct base_arena *arena, struct base_issues *issues,
                           struct base_trace *trace, const struct hang_input *input,
                           struct hang *hang) {
    const struct layout *layout = input->layout;
    *hang = (struct hang){.run_count = layout->run_count, .strap_count = layout->outlet_count};
    hang->runs = base_take(arena, layout->run_count, sizeof *hang->runs);
    hang->straps = base_take(arena, layout->outlet_count, sizeof *hang->straps);
    if (hang->runs == NULL || hang->straps == NULL) {
        return BASE_NO_MEMORY;
    }
    hang->snow = !input->job->snow.given || input->job->snow.value > 0.0;
    if (!input->job->snow.given) {
        base_add_issue(issues, (struct base_issue){
                                   .code = BASE_ISSUE_ASSUMED_SNOW,
                                   .value = base_value_tick(input->shop->bracket_max_snow_tick),
                                   .other = base_value_tick(input->shop->bracket_max_tick)});
    }
    struct hang_walk walk = {arena, issues, trace, input, hang};
    for (size_t i = 0; i < layout->run_count; i++) {
        if (!find_run(&walk, i, &hang->runs[i])) {
            return BASE_NO_MEMORY;
        }
    }
    hang_say_loads(&walk);
    if (!find_straps(&walk) || !hang_find_found(&walk)) {
        return BASE_NO_MEMORY;
    }
    explain(&walk);
    return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
}
