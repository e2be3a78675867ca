/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"
#include "job/job.h"
#include "yaml/yaml.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct reading {
    struct base_arena *arena;
    struct base_issues issues;
    struct job job;
    enum base_status status;
};

static struct reading read_span(struct base_text source) {
    struct reading reading = {.arena = base_make_arena(0)};
    reading.issues.arena = reading.arena;
    const struct tree_node *root = NULL;
    reading.status =
        yaml_read_tree(reading.arena, &reading.issues, BASE_DOCUMENT_JOB, source, &root);
    if (reading.status == BASE_OK) {
        reading.status = job_read(reading.arena, &reading.issues, root, &reading.job);
    }
    return reading;
}

/* "line:column CODE" a line. */
static struct base_text list_issues(const struct reading *reading) {
    struct base_builder out = {.arena = reading->arena};
    for (size_t i = 0; i < reading->issues.count; i++) {
        const struct base_issue *issue = &reading->issues.items[i];
        base_add_integer(&out, issue->mark.line);
        base_add_char(&out, ':');
        base_add_integer(&out, issue->mark.column);
        base_add_char(&out, ' ');
        base_add_string(&out, base_issue_name(issue->code));
        base_add_char(&out, '\n');
    }
    base_add_char(&out, '\0');
    return base_built(&out);
}

static struct reading read(const char *source) {
    return read_span(base_text_of(source));
}

static struct reading read_fine(const char *source) {
    struct reading reading = read(source);
    assert_string_equal(list_issues(&reading).bytes, "");
    assert_int_equal(reading.status, BASE_OK);
    return reading;
}

static void check_text(struct base_text text, const char *wanted) {
    assert_true(base_text_is(text, wanted));
}

#define INCH UNITS_TICK_PER_INCH
#define FOOT UNITS_TICK_PER_FOOT

/* ---- whole jobs ---------------------------------------------------------------------------- */

static const char PORCH[] =
    "eavesmith: 1                       # the smallest job: a porch by the tape\n"
    "job: Sallowfield porch\n"
    "units: ft-in\n"
    "place: {rain: {intensity: 6.6 in/h, minutes: 5, years: 10}}\n"
    "runs:\n"
    "  - {name: porch, length: 28' 4 1/2\", taped on: roof edge, depth: 9' 2\", pitch: 4/12, "
    "from: end cap, to: end cap,\n"
    "     eave height: 9' 7\", overhang: 11 1/4\"}\n"
    "outlets: {at: [porch to]}\n"
    "prices: prices.yaml\n";

static void a_porch_by_the_tape_is_read(void **state) {
    (void)state;
    struct reading reading = read_fine(PORCH);
    const struct job *job = &reading.job;
    check_text(job->title, "Sallowfield porch");
    assert_int_equal(job->system, UNITS_FT_IN);
    assert_true(job->rain.given);
    check_near(job->rain.intensity.value, 6.6 * 0.0254 / 3600.0, 1e-15);
    check_near(job->rain.minutes.value, 300.0, 0.0);
    check_near(job->rain.years.value, 10.0, 0.0);
    assert_int_equal(job->run_count, 1);
    const struct job_run *run = &job->runs[0];
    check_text(run->name, "porch");
    assert_int_equal(run->length.tick, 28 * FOOT + 4 * INCH + INCH / 2);
    assert_int_equal(run->length.reading_count, 1);
    assert_int_equal(run->length.doubt_tick, 0);
    assert_int_equal(run->length.mark.line, 6);
    assert_int_equal(run->length.mark.column, 27);
    assert_int_equal(run->taped_on, JOB_LINE_ROOF_EDGE);
    assert_int_equal(run->depth.tick, 9 * FOOT + 2 * INCH);
    check_near(run->pitch.value, 1.0 / 3.0, 1e-15);
    assert_int_equal(run->from.kind, JOB_END_CAP);
    assert_int_equal(run->eave_height.tick, 9 * FOOT + 7 * INCH);
    assert_int_equal(run->overhang.tick, 11 * INCH + INCH / 4);
    assert_int_equal(job->outlet_count, 1);
    assert_true(job->outlets_given);
    check_text(job->outlets[0].eave, "porch");
    assert_int_equal(job->outlets[0].at, JOB_AT_TO);
    assert_int_equal(job->outlets[0].edge, 0);
    check_text(job->prices_file.text, "prices.yaml");
    base_free_arena(reading.arena);
}

#define ROOM_HEAD                                                                                  \
    "eavesmith: 1\n"                                                                               \
    "job: Quincebeam reading room\n"                                                               \
    "units: ft-in                       # or mm\n"                                                 \
    "place: {rain: {intensity: 6.6 in/h, minutes: 5, years: 10}, lowest: -10 F, highest: 98 F, "   \
    "ground snow: 20 psf}\n"                                                                       \
    "wings:\n"                                                                                     \
    "  - {name: hall, corner: [0, 0], size: [44' 6\", 26'], eave height: 17', pitch: 9/12, "       \
    "edges: [eave, gable, eave, gable]}\n"                                                         \
    "  - {name: ell, corner: [12', 26'], size: [18', 21' 3\"], eave height: 17', pitch: 9/12, "    \
    "edges: [wall, eave, gable, eave]}\n"
#define ROOM_BAY                                                                                   \
    "  - {name: bay, half polygon: {sides: 8, across: 9'}, against: hall 1 at 30', eave height: "  \
    "11', pitch: 6/12}\n"
#define ROOM_TAIL                                                                                  \
    "eave section: {tails: {spacing: 24\", first: 10 1/2\", width: 1 3/4\", depth: 5 1/2\", cut: " \
    "plumb, wood: eastern white pine}}\n"                                                          \
    "gutter: {shape: half-round, size: auto, sheet: auto, metal: copper}\n"                        \
    "outlets: {allowed: [hall 1 to, hall 3 to, ell 4 to], downspout: plain round}\n"               \
    "near: [{what: galvanized flashing, where: below ell 4}]\n"

static void a_house_of_wings_is_read(void **state) {
    (void)state;
    struct reading reading = read(ROOM_HEAD ROOM_TAIL);
    assert_string_equal(list_issues(&reading).bytes, "11:1 NEAR_NOT_CHECKED\n");
    assert_int_equal(reading.status, BASE_OK); /* a note stops nothing */
    const struct job *job = &reading.job;
    assert_int_equal(job->wing_count, 2);
    check_near(job->lowest.value, -23.333333333333, 1e-9); /* -10 F = -70/3 C */
    check_near(job->highest.value, 36.666666666667, 1e-9);
    check_near(job->snow.value, 957.6, 0.1); /* 20 psf; MEMORY: 1 psf = 47.88 Pa */
    const struct job_wing *ell = &job->wings[1];
    check_text(ell->name, "ell");
    assert_int_equal(ell->corner_x_tick, 12 * FOOT);
    assert_int_equal(ell->corner_y_tick, 26 * FOOT);
    assert_int_equal(ell->depth.tick, 21 * FOOT + 3 * INCH);
    assert_int_equal(ell->edges[0], JOB_EDGE_WALL);
    assert_int_equal(ell->edges[1], JOB_EDGE_EAVE);
    assert_false(ell->edge_pitch[1].given);
    assert_int_equal(job->section.wood, JOB_WOOD_TAILS);
    assert_int_equal(job->section.first.tick, 10 * INCH + INCH / 2);
    assert_int_equal(job->section.cut, JOB_CUT_PLUMB);
    check_text(job->section.species.text, "eastern white pine");
    assert_false(job->gutter_size.given); /* auto */
    assert_false(job->gutter_sheet.given);
    assert_false(job->pipe_size.given); /* plain round, of no said size */
    assert_int_equal(job->allowed_count, 3);
    check_text(job->allowed[2].eave, "ell");
    assert_int_equal(job->allowed[2].edge, 4);
    base_free_arena(reading.arena);
}

static void a_bay_stands_against_an_edge(void **state) {
    (void)state;
    struct reading reading = read(ROOM_HEAD ROOM_BAY ROOM_TAIL);
    assert_string_equal(list_issues(&reading).bytes, "12:1 NEAR_NOT_CHECKED\n");
    const struct job_wing *bay = &reading.job.wings[2];
    assert_int_equal(bay->across.tick, 9 * 12 * INCH);
    assert_int_equal(job_count_edges(bay), 6); /* three faces, two half ones, the wall */
    assert_int_equal(bay->edges[5], JOB_EDGE_WALL);
    base_free_arena(reading.arena);
}

static void json_from_the_page_reads_the_same(void **state) {
    (void)state;
    const char *source =
        "{\"eavesmith\": 1, \"job\": \"p\", \"units\": \"mm\", \"runs\": [{\"name\": \"porch\",\n"
        " \"length\": 8650, \"taped on\": \"wall\", \"depth\": [2800, \"2803 mm\"], \"pitch\": "
        "\"18.4 deg\", \"from\": \"wall\", \"to\": \"inside corner\"}]}";
    struct base_arena *arena = base_make_arena(0);
    struct base_issues issues = {.arena = arena};
    const struct tree_node *root =
        tree_read_json(arena, &issues, BASE_DOCUMENT_JOB, base_text_of(source));
    struct job job;
    assert_int_equal(job_read(arena, &issues, root, &job), BASE_OK);
    assert_int_equal(job.runs[0].length.tick, 8650 * UNITS_TICK_PER_MM);
    assert_int_equal(job.runs[0].depth.tick, 2801 * UNITS_TICK_PER_MM + UNITS_TICK_PER_MM / 2);
    assert_int_equal(job.runs[0].depth.doubt_tick, UNITS_TICK_PER_MM + UNITS_TICK_PER_MM / 2);
    assert_int_equal(job.runs[0].depth.reading_count, 2);
    assert_int_equal(job.runs[0].taped_on, JOB_LINE_WALL);
    assert_int_equal(job.runs[0].from.kind, JOB_END_WALL);
    assert_int_equal(job.runs[0].to.kind, JOB_END_INSIDE);
    struct reading yaml = read_fine(source);
    assert_int_equal(yaml.job.runs[0].length.tick, job.runs[0].length.tick);
    base_free_arena(yaml.arena);
    base_free_arena(arena);
}

/* ---- parts --------------------------------------------------------------------------------- */

#define HEAD     "eavesmith: 1\njob: Tansy lane\nunits: ft-in\n"
#define RUN_ENDS "taped on: wood face, pitch: 4/12, from: wall, to: end cap"

static void lengths_carry_doubt_readings_and_guess(void **state) {
    (void)state;
    struct reading reading = read_fine(
        HEAD "runs:\n"
             "  - {name: a, length: 28' 4 1/2\" +- 1/2\", depth: 9' guess, " RUN_ENDS "}\n"
             "  - {name: b, length: [28' 4 1/2\", 28' 4 3/4\"], up the roof: 9', " RUN_ENDS "}\n"
             "  - {name: c, length: [10' +- 1\", 10' 1/64\", 10' 1/64\"], depth: 9', " RUN_ENDS
             "}\n");
    const struct job_run *runs = reading.job.runs;
    assert_int_equal(runs[0].length.doubt_tick, INCH / 2);
    assert_true(runs[0].depth.guess);
    assert_int_equal(runs[0].taped_on, JOB_LINE_WOOD_FACE);
    assert_int_equal(runs[1].length.tick, 28 * FOOT + 4 * INCH + INCH * 5 / 8);
    assert_int_equal(runs[1].length.doubt_tick, INCH / 8); /* half the spread */
    assert_true(runs[1].depth_up_the_roof);
    /* Mean of 0, 127 and 127 ticks over 10 ft is 84 2/3: 85. What was said about doubt stands. */
    assert_int_equal(runs[2].length.tick, 10 * FOOT + 85);
    assert_int_equal(runs[2].length.doubt_tick, INCH);
    assert_int_equal(runs[2].length.reading_count, 3);
    base_free_arena(reading.arena);
}

static void ends_and_sections_of_a_run_are_read(void **state) {
    (void)state;
    struct reading reading =
        read_fine(HEAD "runs:\n"
                       "  - {name: a, length: 8', depth: 9', taped on: wall, pitch: 9 in 12,\n"
                       "     from: outside corner 135 deg, to: inside corner, wall: none,\n"
                       "     eave section: {fascia: {depth: 7 1/4\", wood: cedar}}}\n"
                       "eave section: {tails: {spacing: 16\", cut: shaped}}\n");
    const struct job_run *run = &reading.job.runs[0];
    assert_int_equal(run->from.kind, JOB_END_OUTSIDE);
    check_near(run->from.corner_rad, 2.356194490192345, 1e-12); /* 3 pi / 4 */
    assert_int_equal(run->to.kind, JOB_END_INSIDE);
    check_near(run->to.corner_rad, 1.5707963267948966, 1e-12);
    assert_true(run->no_wall);
    assert_true(run->has_section);
    assert_int_equal(run->section.wood, JOB_WOOD_FASCIA);
    assert_int_equal(run->section.depth.tick, 7 * INCH + INCH / 4);
    check_text(run->section.species.text, "cedar");
    assert_int_equal(reading.job.section.cut, JOB_CUT_SHAPED);
    assert_false(reading.job.section.first.given);
    base_free_arena(reading.arena);
}

static void what_is_not_said_of_an_eave_is_assumed_aloud(void **state) {
    (void)state;
    struct reading reading = read(HEAD "runs: [{name: a, length: 28', depth: 9', pitch: 4/12}]\n"
                                       "wings:\n"
                                       "  - {name: hall, corner: [-2', -4'], size: [44', 26'], "
                                       "eave height: 17', pitch: 9/12, turn: 90 deg}\n");
    assert_string_equal(list_issues(&reading).bytes, "4:8 TAPED_ON_ASSUMED\n4:8 END_ASSUMED\n"
                                                     "4:8 END_ASSUMED\n6:5 EDGES_ASSUMED\n");
    assert_int_equal(reading.status, BASE_OK);
    assert_int_equal(reading.job.wings[0].corner_x_tick, -2 * FOOT);
    assert_int_equal(reading.job.wings[0].corner_y_tick, -4 * FOOT);
    check_near(reading.job.wings[0].turn_rad, 1.5707963267948966, 1e-12);
    for (int i = 0; i < JOB_WING_EDGES; i++) {
        assert_int_equal(reading.job.wings[0].edges[i], JOB_EDGE_EAVE);
    }
    base_free_arena(reading.arena);
}

static void pitches_edge_by_edge_are_read(void **state) {
    (void)state;
    struct reading reading =
        read_fine(HEAD "wings: [{name: a, corner: [0, 0], size: [20', 12'], eave height: 9',\n"
                       "  edges: [eave, gable, eave, gable], pitches: [6/12, ~, 45 deg, ~]}]\n");
    const struct job_wing *wing = &reading.job.wings[0];
    assert_false(wing->pitch.given);
    check_near(wing->edge_pitch[0].value, 0.5, 1e-15);
    assert_false(wing->edge_pitch[1].given);
    check_near(wing->edge_pitch[2].value, 1.0, 1e-12);
    base_free_arena(reading.arena);
}

static void places_name_an_eave_and_a_point_on_it(void **state) {
    (void)state;
    struct reading reading = read_fine(
        HEAD "wings:\n"
             "  - {name: hall, corner: [0, 0], size: [44', 26'], eave height: 17', pitch: 9/12, "
             "edges: [eave, eave, eave, eave]}\n"
             "runs:\n"
             "  - {name: stage at back, length: 20', depth: 9', " RUN_ENDS "}\n"
             "  - {name: hall 3, length: 20', depth: 9', " RUN_ENDS "}\n"
             "outlets:\n"
             "  at: [hall south to, hall east from, hall north at 12' 6\", hall 4 at 0,\n"
             "    stage at back to, stage at back at 3', hall 3 from, {at: hall 1 from, discharge: "
             "drain}]\n"
             "  downspout: plain round 3 in\n"
             "  discharge: barrel\n"
             "  small porch: yes\n"
             "keep out: [{from: hall 1 at 4', to: hall south at 8'}]\n");
    static const struct {
        const char *eave;
        int edge;
        enum job_place_at at;
        int64_t distance_tick;
    } WANTED[] = {{"hall", 1, JOB_AT_TO, 0},
                  {"hall", 2, JOB_AT_FROM, 0},
                  {"hall", 3, JOB_AT_DISTANCE, 12 * FOOT + 6 * INCH},
                  {"hall", 4, JOB_AT_DISTANCE, 0},
                  {"stage at back", 0, JOB_AT_TO, 0},
                  {"stage at back", 0, JOB_AT_DISTANCE, 3 * FOOT},
                  {"hall 3", 0, JOB_AT_FROM, 0}, /* the run of that name before the wing's edge */
                  {"hall", 1, JOB_AT_FROM, 0}};
    const struct job *job = &reading.job;
    assert_int_equal(job->outlet_count, sizeof WANTED / sizeof WANTED[0]);
    for (size_t i = 0; i < job->outlet_count; i++) {
        check_text(job->outlets[i].eave, WANTED[i].eave);
        assert_int_equal(job->outlets[i].edge, WANTED[i].edge);
        assert_int_equal(job->outlets[i].at, WANTED[i].at);
        assert_int_equal(job->outlets[i].distance_tick, WANTED[i].distance_tick);
        assert_int_equal(job->outlets[i].discharge_given, i == 7);
    }
    assert_int_equal(job->outlets[7].discharge, JOB_DISCHARGE_DRAIN);
    check_text(job->pipe_size.text, "3 in");
    assert_int_equal(job->discharge, JOB_DISCHARGE_BARREL);
    assert_true(job->small_porch_pipe);
    assert_int_equal(job->keep_out_count, 2);
    assert_int_equal(job->keep_out[1].edge, 1);
    assert_int_equal(job->keep_out[1].distance_tick, 8 * FOOT);
    base_free_arena(reading.arena);
}

static void wishes_about_gutter_water_and_rain_are_read(void **state) {
    (void)state;
    struct reading reading =
        read_fine(HEAD "customer: Tansy lane chapel\n"
                       "address: |\n  4 Tansy lane\n  Marrowdene\n"
                       "date: 2024-02-29\n"
                       "round: 1/8\"\n"
                       "place: {rain: {file: rain.csv, unit: mm/hour, minutes: 15, years: 25}}\n"
                       "pieces: [{kind: gutter, size: 6 in, length: 40'}]\n"
                       "gutter: {size: 6 in, sheet: 20 oz, fall: level, past the eave: 1\"}\n"
                       "water: {basis: us code, strainer: no, manning: 0.013}\n");
    const struct job *job = &reading.job;
    check_text(job->date.text, "2024-02-29");
    assert_int_equal(job->round.tick, INCH / 8);
    check_text(job->rain.file.text, "rain.csv");
    assert_int_equal(job->rain.file_unit, RAIN_UNIT_INTENSITY_MMH);
    assert_false(job->rain.intensity.given);
    check_near(job->rain.minutes.value, 900.0, 0.0);
    check_text(job->gutter_size.text, "6 in");
    check_text(job->gutter_sheet.text, "20 oz");
    assert_true(job->fall.given);
    check_near(job->fall.value, 0.0, 0.0);
    assert_int_equal(job->run_past.tick, INCH);
    assert_int_equal(job->basis, JOB_BASIS_US_CODE);
    assert_true(job->strained_given);
    assert_false(job->strained);
    check_near(job->manning.value, 0.013, 1e-15);
    base_free_arena(reading.arena);
}

static void an_order_of_pieces_needs_no_house(void **state) {
    (void)state;
    struct reading reading =
        read_fine(HEAD "pieces:\n"
                       "  - {kind: bracket, size: 5 in, count: 6}\n"
                       "  - {kind: outside mitre, size: 5 in, count: 2}\n"
                       "  - {kind: gutter, size: 5 in, length: 40'}\n"
                       "  - {kind: elbow, size: 3 in}\n"
                       "  - {kind: inside mitre, size: 5 in, angle: 135 deg}\n");
    const struct job_piece *pieces = reading.job.pieces;
    assert_int_equal(pieces[0].kind, JOB_PIECE_BRACKET);
    assert_int_equal(pieces[0].count, 6);
    check_near(pieces[1].angle_rad, 1.5707963267948966, 1e-12);
    assert_int_equal(pieces[2].length.tick, 40 * FOOT);
    check_near(pieces[3].angle_rad, 1.0471975511965976, 1e-12); /* job.h: an elbow is 60 deg */
    check_near(pieces[4].angle_rad, 2.356194490192345, 1e-12);
    base_free_arena(reading.arena);
}

/* ---- faults -------------------------------------------------------------------------------- */

static const struct base_issue *only_issue(struct reading *reading, enum base_issue_code code) {
    assert_int_equal(reading->issues.count, 1);
    assert_int_equal(reading->issues.items[0].code, code);
    return &reading->issues.items[0];
}

static void a_bare_number_shows_both_readings(void **state) {
    (void)state;
    struct reading reading =
        read(HEAD "runs: [{name: a, length: 10.8, depth: 9', " RUN_ENDS "}]\n");
    const struct base_issue *issue = only_issue(&reading, BASE_ISSUE_BARE_LENGTH);
    check_text(issue->object, "length of a");
    check_text(issue->value.text, "10.8");
    check_text(issue->limit.text, "10' 9 5/8\""); /* 10.8 ft = 10' 9.6" */
    check_text(issue->other.text, "10 13/16\"");  /* 10.8 in = 10 12.8/16 in */
    base_free_arena(reading.arena);
}

static void the_nearest_key_and_name_are_offered(void **state) {
    (void)state;
    struct reading reading =
        read(HEAD "runs: [{name: porch, length: 8', depth: 9', " RUN_ENDS ", overhnag: 3\"}]\n"
                  "outlets: {at: [proch to]}\n");
    assert_int_equal(reading.issues.count, 2);
    check_text(reading.issues.items[0].object, "overhnag");
    check_text(reading.issues.items[0].value.text, "did you mean `overhang`?");
    check_text(reading.issues.items[1].value.text, "proch");
    check_text(reading.issues.items[1].limit.text, "did you mean `porch`?");
    base_free_arena(reading.arena);
}

static void examples_are_in_the_units_of_the_job(void **state) {
    (void)state;
    struct reading reading = read("eavesmith: 1\njob: a\nunits: mm\n"
                                  "runs: [{name: a, depth: 9000, " RUN_ENDS "}]\n");
    check_text(only_issue(&reading, BASE_ISSUE_MISSING_KEY)->value.text, "length: 8650");
    base_free_arena(reading.arena);
    reading = read(HEAD "runs: [{name: a, depth: 9', " RUN_ENDS "}]\n");
    check_text(only_issue(&reading, BASE_ISSUE_MISSING_KEY)->value.text, "length: 28' 4 1/2\"");
    base_free_arena(reading.arena);
}

/* Each line of the block form left out by itself: named as missing, assumed aloud, or not needed.
 */
static void each_key_left_out_is_named_or_assumed(void **state) {
    (void)state;
    static const struct {
        const char *line;
        const char *wanted; /* with the line left out */
    } LINES[] = {{"eavesmith: 1\n", "1:1 MISSING_KEY\n"},
                 {"job: a\n", "1:1 MISSING_KEY\n"},
                 {"units: mm\n", "1:1 MISSING_KEY\n"},
                 {"runs:\n  - name: a\n", NULL},
                 {"    length: 8650\n", "5:5 MISSING_KEY\n"},
                 {"    taped on: wall\n", "5:5 TAPED_ON_ASSUMED\n"},
                 {"    depth: 2800\n", "5:5 MISSING_KEY\n"},
                 {"    pitch: 4/12\n", "5:5 MISSING_KEY\n"},
                 {"    from: wall\n", "5:5 END_ASSUMED\n"},
                 {"    to: wall\n", "5:5 END_ASSUMED\n"},
                 {"    eave height: 3000\n", ""},
                 {"    overhang: 300\n", ""}};
    for (size_t left_out = 0; left_out < sizeof LINES / sizeof LINES[0]; left_out++) {
        if (LINES[left_out].wanted == NULL) {
            continue;
        }
        struct base_arena *arena = base_make_arena(0);
        struct base_builder source = {.arena = arena};
        for (size_t i = 0; i < sizeof LINES / sizeof LINES[0]; i++) {
            base_add_string(&source, i == left_out ? "" : LINES[i].line);
        }
        struct reading reading = read_span(base_built(&source));
        assert_string_equal(list_issues(&reading).bytes, LINES[left_out].wanted);
        base_free_arena(reading.arena);
        base_free_arena(arena);
    }
}

/* {rain, pitch, length}; only one of the three is out of range at a time. */
static void quantities_are_believed_within_their_ranges_only(void **state) {
    (void)state;
    static const struct {
        const char *rain;
        const char *pitch;
        const char *length;
        bool fine;
    } ROWS[] = {{"minutes: 1, years: 1", "24/12", "999' 11\"", true},
                {"minutes: 1440, years: 1000", "200 %", "1/64\"", true},
                {"minutes: 0.9, years: 10", "9/12", "9'", false},
                {"minutes: 1441, years: 10", "9/12", "9'", false},
                {"minutes: 5, years: 0", "9/12", "9'", false},
                {"minutes: 5, years: 1001", "9/12", "9'", false},
                {"minutes: -5, years: 1", "9/12", "9'", false},
                {"minutes: 5, years: 1", "24.1/12", "9'", false},
                {"minutes: 5, years: 1", "0/12", "9'", false},
                {"minutes: 5, years: 1", "9", "9'", false},
                {"minutes: 5, years: 1", "9/12", "1000'", false},
                {"minutes: 5, years: 1", "9/12", "0", false}};
    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        char source[400];
        snprintf(source, sizeof source,
                 HEAD "place: {rain: {intensity: 6 in/h, %s}}\n"
                      "runs: [{name: a, length: %s, depth: 9', taped on: wall, from: wall, "
                      "to: wall, pitch: %s}]\n",
                 ROWS[i].rain, ROWS[i].length, ROWS[i].pitch);
        struct reading reading = read(source);
        assert_int_equal(reading.status, ROWS[i].fine ? BASE_OK : BASE_STOPPED);
        assert_int_equal(reading.issues.count, ROWS[i].fine ? 0 : 1);
        base_free_arena(reading.arena);
    }
}

/* ---- the folder of mistyped jobs ----------------------------------------------------------- */

static char *load(const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *bytes = calloc(1, 65536);
    assert_non_null(bytes);
    *length = fread(bytes, 1, 65535, file);
    fclose(file);
    return bytes;
}

static void check_bad_file(const char *name, bool *reached) {
    char path[600];
    size_t length = 0;
    size_t wanted_length = 0;
    snprintf(path, sizeof path, "%s/bad/%s.yaml", TESTS_DIR, name);
    char *source = load(path, &length);
    snprintf(path, sizeof path, "%s/bad/%s.want", TESTS_DIR, name);
    char *wanted = load(path, &wanted_length);
    struct reading reading = read_span((struct base_text){source, length});
    struct base_text got = list_issues(&reading);
    if (strcmp(got.bytes, wanted) != 0) {
        print_error("in %s.yaml; found:\n%s", name, got.bytes);
    }
    assert_string_equal(got.bytes, wanted);
    assert_int_equal(reading.status, BASE_STOPPED);
    for (size_t i = 0; i < reading.issues.count; i++) {
        const struct base_issue *issue = &reading.issues.items[i];
        reached[issue->code] = true;
        assert_true(issue->mark.from_byte <= issue->mark.to_byte && issue->mark.to_byte <= length);
        struct base_text shown =
            tree_show_place(reading.arena, (struct base_text){source, length}, issue->mark);
        assert_non_null(memchr(shown.bytes, '^', shown.length));
    }
    base_free_arena(reading.arena);
    free(source);
    free(wanted);
}

static void every_mistyped_job_is_answered_at_its_places(void **state) {
    (void)state;
    bool reached[BASE_ISSUE_CODE_COUNT] = {false};
    DIR *folder = opendir(TESTS_DIR "/bad");
    assert_non_null(folder);
    size_t count = 0;
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        size_t length = strlen(entry->d_name);
        if (length > 5 && strcmp(entry->d_name + length - 5, ".yaml") == 0) {
            char name[300];
            snprintf(name, sizeof name, "%.*s", (int)(length - 5), entry->d_name);
            check_bad_file(name, reached);
            count++;
        }
    }
    closedir(folder);
    assert_true(count >= 20);
    for (int code = BASE_ISSUE_JOB_NOT_A_MAP; code < BASE_ISSUE_TAPED_ON_ASSUMED; code++) {
        if (!reached[code]) {
            print_error("no mistyped job reaches %s\n",
                        base_issue_name((enum base_issue_code)code));
        }
        assert_true(reached[code]);
    }
}

static void no_memory_is_said_whichever_take_fails(void **state) {
    (void)state;
    struct base_arena *whole = base_make_arena(0);
    struct base_issues issues = {.arena = whole};
    const struct tree_node *root = NULL;
    struct base_text source = base_text_of(ROOM_HEAD ROOM_BAY ROOM_TAIL "custmoer: x\n");
    assert_int_equal(yaml_read_tree(whole, &issues, BASE_DOCUMENT_JOB, source, &root), BASE_OK);
    size_t before = base_take_count(whole);
    struct job job;
    assert_int_equal(job_read(whole, &issues, root, &job), BASE_STOPPED);
    size_t takes = base_take_count(whole) - before;
    for (size_t nth = 1; nth <= takes; nth++) {
        struct base_arena *arena = base_make_arena(0);
        struct base_issues found = {.arena = arena};
        base_fail_take(arena, nth);
        assert_int_equal(job_read(arena, &found, root, &job), BASE_NO_MEMORY);
        base_free_arena(arena);
    }
    base_free_arena(whole);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_porch_by_the_tape_is_read),
        cmocka_unit_test(a_house_of_wings_is_read),
        cmocka_unit_test(a_bay_stands_against_an_edge),
        cmocka_unit_test(json_from_the_page_reads_the_same),
        cmocka_unit_test(lengths_carry_doubt_readings_and_guess),
        cmocka_unit_test(ends_and_sections_of_a_run_are_read),
        cmocka_unit_test(what_is_not_said_of_an_eave_is_assumed_aloud),
        cmocka_unit_test(pitches_edge_by_edge_are_read),
        cmocka_unit_test(places_name_an_eave_and_a_point_on_it),
        cmocka_unit_test(wishes_about_gutter_water_and_rain_are_read),
        cmocka_unit_test(an_order_of_pieces_needs_no_house),
        cmocka_unit_test(a_bare_number_shows_both_readings),
        cmocka_unit_test(the_nearest_key_and_name_are_offered),
        cmocka_unit_test(examples_are_in_the_units_of_the_job),
        cmocka_unit_test(each_key_left_out_is_named_or_assumed),
        cmocka_unit_test(quantities_are_believed_within_their_ranges_only),
        cmocka_unit_test(every_mistyped_job_is_answered_at_its_places),
        cmocka_unit_test(no_memory_is_said_whichever_take_fails),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
