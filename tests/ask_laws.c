/* SPDX-License-Identifier: Apache-2.0 */
#include "ask_laws.h"

#include "check.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tree/tree.h"

struct walk usual;
struct walk other;
struct book *book;

const char *const LAW_NAMES[LAW_COUNT] = {
    "the walk ends",
    "moved",
    "a quarter turn",
    "a quarter turn, edges numbered anew",
    "mirrored",
    "said in other units",
    "turned by 3-4-5",
    "turned by any angle",
    "catchments sum to the roof",
    "outlets take the rain",
    "pieces less laps are the gutter",
    "money adds up",
    "more rain, no smaller gutter",
    "more rain, no lower water",
    "the same bytes",
};

/* ---- one walk ------------------------------------------------------------------------------- */

/* How often each part goes over costs ten times the rest: every tenth house is asked it. */
enum { WHOLE_EVERY = 10 };

static bool walk_texts(struct walk *walk) {
    struct base_text job = {walk->job.bytes, walk->job.length};
    struct base_text prices = {walk->prices.bytes, walk->prices.length};
    walk->issues = (struct base_issues){.arena = walk->arena};
    walk->leaves = (struct result_leaves){0};
    walk->result = (struct base_text){0};
    struct solve_input input = {
        .brief = !walk->whole,
        .job = tree_read_json(walk->arena, &walk->issues, BASE_DOCUMENT_JOB, job),
        .prices = tree_read_json(walk->arena, &walk->issues, BASE_DOCUMENT_PRICES, prices)};
    assert_non_null(input.job);
    assert_non_null(input.prices);
    enum base_status status = solve_job(walk->arena, &walk->issues, NULL, &input, &walk->solution);
    assert_int_not_equal(status, BASE_NO_MEMORY);
    if (status == BASE_OK) {
        walk->result = result_write(walk->arena, &walk->solution, &walk->issues, &walk->leaves);
        assert_true(walk->result.length > 0);
    }
    return status == BASE_OK;
}

bool walk_house(struct walk *walk, const struct random_house *house, enum random_words words) {
    if (walk->arena != NULL) {
        base_free_arena(walk->arena);
    }
    walk->arena = base_make_arena(0);
    walk->whole = house->seed % WHOLE_EVERY == 0;
    random_house_write(house, words, &walk->job);
    random_house_write_prices(house->seed, &walk->prices);
    return walk_texts(walk);
}

struct same_side side_of(const struct walk *walk) {
    return (struct same_side){walk->leaves.items, walk->leaves.count};
}

/* ---- the book of laws ----------------------------------------------------------------------- */

enum { TOLD_MOST = 8 }; /* of each law */

static void note(enum law law, const struct random_house *house, bool good, const char *how) {
    book->laws[law].asked++;
    book->laws[law].broken += !good;
    if (!good && book->laws[law].told < TOLD_MOST) {
        book->laws[law].told++;
        print_message("seed %" PRIu64 ", %s: %s\n", house->seed, LAW_NAMES[law], how);
    }
}

/* ---- law 1 ---------------------------------------------------------------------------------- */

static void ask_exactly(enum law law, const struct random_house *house,
                        const struct random_house *moved, enum random_words words) {
    struct same_report report = {.first = "stopped"};
    bool good = walk_house(&other, moved, words) &&
                same_answer_exactly(side_of(&usual), side_of(&other), &report);
    book->laws[law].edges += report.edges;
    note(law, house, good, report.first);
}

static void ask_renamed(enum law law, const struct random_house *house,
                        const struct random_house *moved) {
    struct same_report report = {.first = "stopped"};
    bool good = walk_house(&other, moved, RANDOM_WORDS_USUAL) &&
                same_answer_renamed(other.arena, side_of(&usual), side_of(&other),
                                    law == LAW_MIRROR, &report);
    book->laws[law].edges += report.edges;
    note(law, house, good, report.first);
}

static void ask_roughly(enum law law, const struct random_house *house,
                        const struct random_house *moved, struct same_limits limits) {
    struct same_report report = {.first = "stopped"};
    bool good = walk_house(&other, moved, RANDOM_WORDS_USUAL) &&
                same_answer_roughly(side_of(&usual), side_of(&other), limits, &report);
    note(law, house, good, report.first);
}

/* Outlets that the job fixes: among free ones a tie goes to the right end, as the walk goes. */
static bool is_fixed(const struct random_house *house) {
    return house->outlets == RANDOM_OUTLETS_AT;
}

/* Tails that a mirror cannot say are taken away from both; usual is walked anew at the end. */
static void ask_mirror(const struct random_house *house) {
    static struct random_house plain;
    static struct random_house moved;
    if (!is_fixed(house)) {
        return;
    }
    plain = *house;
    bool keeps_tails = random_house_tails_mirror(house);
    if (!keeps_tails) {
        random_house_take_tails(&plain);
        if (!walk_house(&usual, &plain, RANDOM_WORDS_USUAL)) {
            return;
        }
    }
    random_house_mirror(&plain, &moved);
    ask_renamed(LAW_MIRROR, house, &moved);
    if (!keeps_tails) {
        walk_house(&usual, house, RANDOM_WORDS_USUAL);
    }
}

static void ask_law_one(const struct random_house *house) {
    static struct random_house moved;
    if (house->wing_count > 0) {
        random_house_shift(house, -37 * house->grid_tick, 911 * house->grid_tick, &moved);
        ask_exactly(LAW_SHIFT, house, &moved, RANDOM_WORDS_USUAL);
        random_house_quarter(house, &moved);
        ask_exactly(LAW_QUARTER, house, &moved, RANDOM_WORDS_USUAL);
        if (is_fixed(house) && random_house_quarter_anew(house, &moved)) {
            ask_renamed(LAW_QUARTER_ANEW, house, &moved);
        }
        if (random_house_turns_by_345(house)) {
            random_house_turn_345(house, &moved);
            ask_roughly(LAW_TURN_345, house, &moved, (struct same_limits){1e-7, 1e-6, 1e-6});
        }
        random_house_turn(house, (double)(house->seed % 3600) / 10.0, &moved);
        ask_roughly(LAW_TURN, house, &moved, (struct same_limits){1e-3, 1e-3, 1e-2});
    }
    if (random_house_says_metric(house)) {
        bool metres = house->seed % 2 == 0;
        ask_exactly(LAW_UNITS, house, house, metres ? RANDOM_WORDS_METRES : RANDOM_WORDS_METRIC);
    }
    ask_mirror(house);
}

/* ---- law 2 ---------------------------------------------------------------------------------- */

static bool near_share(double a, double b, double share_1) {
    return fabs(a - b) <= share_1 * fmax(fabs(a), fabs(b));
}

static void ask_area(const struct random_house *house) {
    const struct roof *roof = &usual.solution.roof;
    double sum_m2 = roof->stray_plan_area_m2;
    double reach_m2 = 0.0;
    for (size_t i = 0; i < roof->eave_count; i++) {
        sum_m2 += roof->eaves[i].plan_area_m2;
    }
    for (size_t i = 0; i < roof->pour_count; i++) {
        sum_m2 += roof->pours[i].plan_area_m2;
    }
    for (size_t i = 0; i < usual.solution.layout.reach_count; i++) {
        reach_m2 += usual.solution.layout.reaches[i].plan_area_m2;
    }
    char how[160];
    snprintf(how, sizeof how, "roof %.9g, eaves and valleys %.9g, reaches %.9g, stray %.9g",
             roof->plan_area_m2, sum_m2, reach_m2, roof->stray_plan_area_m2);
    note(LAW_AREA, house,
         near_share(sum_m2, roof->plan_area_m2 + roof->wall_area_m2, 1e-6) &&
             near_share(reach_m2 + roof->stray_plan_area_m2, sum_m2, 1e-6),
         how);
}

static double factor_of(const struct layout *layout, double pitch_1) {
    switch (layout->basis) {
    case JOB_BASIS_HANDBOOK:
        return hydraulics_pitch_factor(pitch_1);
    case JOB_BASIS_EN:
        return hydraulics_en_wind_factor(pitch_1);
    case JOB_BASIS_US_CODE:
        break;
    }
    return 1.0;
}

static void ask_flow(const struct random_house *house) {
    const struct layout *layout = &usual.solution.layout;
    const struct roof *roof = &usual.solution.roof;
    double rain_m3s = 0.0;
    double outlets_m3s = 0.0;
    for (size_t i = 0; i < roof->eave_count; i++) {
        const struct roof_eave *eave = &roof->eaves[i];
        rain_m3s += layout->rain_mps * eave->plan_area_m2 * factor_of(layout, eave->pitch_1);
    }
    for (size_t i = 0; i < roof->pour_count; i++) {
        const struct roof_pour *pour = &roof->pours[i];
        rain_m3s += layout->rain_mps * pour->plan_area_m2 * factor_of(layout, pour->pitch_1);
    }
    for (size_t i = 0; i < layout->outlet_count; i++) {
        outlets_m3s += layout->outlets[i].flow_m3s;
    }
    char how[100];
    snprintf(how, sizeof how, "rain %.9g, outlets %.9g m3/s", rain_m3s, outlets_m3s);
    note(LAW_FLOW, house, near_share(rain_m3s, outlets_m3s, 1e-6), how);
}

/* Gutter pieces less what is left long, a mitre's leg at each corner, less a lap at each joint. */
static bool run_is_whole(size_t index) {
    const struct solution *all = &usual.solution;
    const struct layout_run *run = &all->layout.runs[index];
    const struct joints_run *joints = &all->joints.runs[index];
    int64_t sum_tick = 0;
    size_t pieces = 0;
    size_t name = run->name.length;
    for (size_t i = 0; i < all->pieces.count; i++) {
        const struct pieces_piece *piece = &all->pieces.items[i];
        if (piece->kind == PIECES_GUTTER && piece->id.length > name + 8 &&
            memcmp(piece->id.bytes, run->name.bytes, name) == 0 &&
            memcmp(piece->id.bytes + name, ".gutter.", 8) == 0) {
            sum_tick += (piece->length_tick - piece->trim_tick) * piece->count;
            pieces += (size_t)piece->count;
        }
    }
    int64_t corners = !run->left_is_free + !run->right_is_free;
    int64_t laps = (int64_t)joints->joint_count;
    return pieces == joints->span_count && laps == (int64_t)pieces - 1 + corners &&
           sum_tick + corners * all->shop.mitre_leg_tick - laps * all->shop.lap_tick ==
               run->length_tick;
}

static void ask_metal(const struct random_house *house) {
    bool good = true;
    char how[100] = "";
    for (size_t i = 0; i < usual.solution.layout.run_count && good; i++) {
        good = run_is_whole(i);
        snprintf(how, sizeof how, "%.*s", (int)usual.solution.layout.runs[i].name.length,
                 usual.solution.layout.runs[i].name.bytes);
    }
    note(LAW_METAL, house, good, how);
}

static bool has_issue(const struct walk *walk, enum base_issue_code code) {
    for (size_t i = 0; i < walk->issues.count; i++) {
        if (walk->issues.items[i].code == code) {
            return true;
        }
    }
    return false;
}

static void ask_money(const struct random_house *house) {
    const struct money *money = &usual.solution.money;
    int64_t sum_minor = 0;
    int64_t leaves_minor = 0;
    for (size_t i = 0; i < money->count; i++) {
        sum_minor += money->lines[i].amount_minor;
    }
    for (size_t i = 0; i < usual.leaves.count; i++) {
        if (usual.leaves.items[i].field == RESULT_LINE_AMOUNT) {
            leaves_minor += usual.leaves.items[i].value.integer;
        }
    }
    bool priced = money->priced && sum_minor == money->sum_minor && leaves_minor == sum_minor &&
                  money->total_minor == money->sum_minor + money->tax_minor;
    /* A downspout whose height nobody said has no length to price: then there is no total. */
    bool unpriced =
        !money->priced && has_issue(&usual, BASE_ISSUE_PRICE_NOT_MEASURED) && leaves_minor == 0;
    note(LAW_MONEY, house, priced || unpriced, "lines, sum, tax and total");
}

/* A quarter more rain on the same outlets: sizes free, then fixed with the widest downspout. */
static void ask_rain(const struct random_house *house) {
    static struct random_house wetter;
    static struct walk dry;
    wetter = *house;
    wetter.rain_tenths = house->rain_tenths * 5 / 4 + 1;
    if (!is_fixed(house)) {
        return;
    }
    if (!walk_house(&other, &wetter, RANDOM_WORDS_USUAL)) {
        note(LAW_RAIN_SIZE, house, false, "stopped");
        return;
    }
    bool good = true;
    for (size_t i = 0; i < other.solution.layout.line_count; i++) {
        good = good &&
               other.solution.layout.lines[i].profile >= usual.solution.layout.lines[i].profile;
    }
    note(LAW_RAIN_SIZE, house, good, "a smaller gutter");
    wetter.gutter_size = house->metric ? "500" : "8 in";
    wetter.pipe_size = house->metric ? "150 mm" : "6 in";
    if (!walk_house(&other, &wetter, RANDOM_WORDS_USUAL)) {
        return; /* too wide a pipe for a short run: there is nothing to compare */
    }
    wetter.rain_tenths = house->rain_tenths;
    assert_true(walk_house(&dry, &wetter, RANDOM_WORDS_USUAL));
    good = dry.solution.layout.reach_count == other.solution.layout.reach_count;
    for (size_t i = 0; good && i < dry.solution.layout.reach_count; i++) {
        good = other.solution.layout.reaches[i].profile.greatest_depth_m >=
               dry.solution.layout.reaches[i].profile.greatest_depth_m - 1e-9;
    }
    note(LAW_RAIN_DEPTH, house, good, "a lower depth");
}

/* ---- sameness ------------------------------------------------------------------------------- */

/* Once more in an arena that other things were taken from, so that nothing lies where it lay. */
static void ask_bytes(const struct random_house *house) {
    static struct walk again;
    if (again.arena != NULL) {
        base_free_arena(again.arena);
    }
    again.arena = base_make_arena(0);
    for (size_t i = 0; i < 1 + house->seed % 7; i++) {
        unsigned char *spoil =
            base_take(again.arena, 1 + (house->seed * 7919 + i * 104729) % 9973, 1);
        assert_non_null(spoil);
        spoil[0] = 0xA5;
    }
    again.whole = usual.whole;
    again.job = usual.job;
    again.prices = usual.prices;
    bool good = walk_texts(&again) && base_text_equal(again.result, usual.result);
    base_free_arena(again.arena);
    again.arena = base_make_arena(0);
    good = good && walk_texts(&again) && base_text_equal(again.result, usual.result);
    note(LAW_BYTES, house, good, "other bytes");
}

/* ---- all houses ----------------------------------------------------------------------------- */

void ask_house(uint64_t seed) {
    static struct random_house house;
    random_house_make(seed, &house);
    book->houses++;
    if (!walk_house(&usual, &house, RANDOM_WORDS_USUAL)) {
        book->stopped++;
        return;
    }
    ask_area(&house);
    ask_flow(&house);
    ask_metal(&house);
    ask_money(&house);
    ask_bytes(&house);
    ask_rain(&house);
    ask_law_one(&house);
}
