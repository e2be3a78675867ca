/* SPDX-License-Identifier: Apache-2.0 */
#include "pieces/pieces.h"

#include <math.h>

#include "pieces/pieces_inside.h"

static const double PI = 3.14159265358979323846;

/* Small parts of each fixing. Source: trade/copper c, e (COMMON PRACTICE where no figure is
 * published). */
enum { LAGS_PER_BRACKET = 2, SCREWS_PER_STRAP = 2, RIVETS_PER_SPLASH = 4 };

const char *pieces_kind_word(enum pieces_kind kind) {
    static const char *const words[PIECES_KIND_COUNT] = {
        "gutter",       "end cap", "mitre", "outlet",         "strainer",   "downspout",
        "elbow",        "shoe",    "strap", "standoff strap", "bracket",    "angled bracket",
        "side bracket", "wedge",   "apron", "splash piece",   "face screw", "lag",
        "strap screw",  "nail",    "rivet", "solder",         "flux"};
    return words[kind];
}

const char *pieces_trim_word(enum pieces_trim trim) {
    static const char *const words[] = {"", "left-end", "right-end", "left-lap", "right-lap"};
    return words[trim];
}

const char *pieces_hand_word(enum pieces_hand hand) {
    static const char *const words[] = {"", "left", "right", "inside", "outside"};
    return words[hand];
}

struct base_text pieces_id(struct base_arena *arena, struct base_text owner, const char *role,
                           size_t number) {
    struct base_builder builder = {.arena = arena};
    base_add_text(&builder, owner);
    base_add_string(&builder, role);
    if (number > 0) {
        base_add_integer(&builder, (int64_t)number);
    }
    return base_built(&builder);
}

void pieces_add(struct pieces_walk *walk, struct pieces_piece piece) {
    struct pieces *pieces = walk->pieces;
    struct pieces_piece *items =
        base_grow(walk->arena, pieces->items, &walk->capacity, pieces->count, sizeof *items);
    if (items == NULL) {
        return;
    }
    pieces->items = items;
    items[pieces->count++] = piece;
    pieces->mass_kg += piece.mass_kg;
    if (piece.kind == PIECES_GUTTER) {
        pieces->gutter_tick += piece.length_tick * piece.count;
    }
    if (piece.kind == PIECES_DOWNSPOUT) {
        pieces->downspout_tick += piece.length_tick * piece.count;
    }
}

struct pieces_piece pieces_blank(const struct pieces_on_run *on, enum pieces_kind kind) {
    return (struct pieces_piece){.kind = kind,
                                 .size = base_text_of(on->profile->name),
                                 .sheet = on->sheet,
                                 .run = on->run,
                                 .outlet = SIZE_MAX,
                                 .count = 1};
}

/* ---- gutter lengths ------------------------------------------------------------------------- */

/* How the piece between two joints lies at one of its ends. */
static enum pieces_lap lap_at(const struct joints_run *joints, int64_t end_tick, bool is_left_end,
                              int64_t lap_tick) {
    for (size_t i = 0; i < joints->joint_count; i++) {
        int64_t off_tick = joints->joints[i].centre_tick - end_tick;
        bool here = is_left_end ? off_tick == lap_tick / 2 : off_tick == lap_tick / 2 - lap_tick;
        if (here) { /* at its left end a piece is the joint's right piece */
            bool inside = is_left_end != joints->joints[i].left_piece_inside;
            return inside ? PIECES_LAP_INSIDE : PIECES_LAP_OUTSIDE;
        }
    }
    return PIECES_NO_LAP;
}

static void list_gutters(struct pieces_walk *walk, const struct pieces_on_run *on) {
    const struct joints_run *joints = &walk->input->joints->runs[on->run];
    const struct shop *shop = walk->input->shop;
    struct pieces_allowance allowance = pieces_find_allowance(walk, on->run);
    for (size_t i = 0; i < joints->span_count; i++) {
        struct pieces_piece piece = pieces_blank(on, PIECES_GUTTER);
        piece.id = pieces_id(walk->arena, on->name, ".gutter.", i + 1);
        piece.from_tick = joints->spans[i].from_tick;
        piece.to_tick = joints->spans[i].to_tick;
        piece.length_tick = piece.to_tick - piece.from_tick;
        piece.doubt_tick = allowance.doubt_tick;
        piece.doubtful = allowance.doubtful;
        if (i == allowance.span) {
            piece.trim = allowance.trim;
            piece.trim_tick = allowance.trim_tick;
            piece.length_tick += allowance.trim_tick;
        }
        piece.girth_tick = pieces_girth_tick(shop, on->profile, on->sheet);
        piece.left_lap = lap_at(joints, piece.from_tick, true, shop->lap_tick);
        piece.right_lap = lap_at(joints, piece.to_tick, false, shop->lap_tick);
        piece.mass_kg =
            pieces_gutter_mass(on->profile, on->sheet, units_m_of_tick(piece.length_tick));
        pieces_add(walk, piece);
    }
}

/* ---- ends and corners ----------------------------------------------------------------------- */

static void add_cap(struct pieces_walk *walk, const struct pieces_on_run *on,
                    enum pieces_hand hand) {
    struct pieces_piece piece = pieces_blank(on, PIECES_END_CAP);
    piece.id = pieces_id(walk->arena, on->name,
                         hand == PIECES_LEFT ? ".end cap.left" : ".end cap.right", 0);
    piece.hand = hand;
    piece.mass_kg = pieces_cap_mass(walk->input->shop, on->profile, on->sheet);
    pieces_add(walk, piece);
}

/* How steeply a run falls towards one of its ends. */
static double find_fall(const struct layout *layout, size_t run, bool at_right) {
    static const double OVER_M = 0.1;
    double length_m = units_m_of_tick(layout->runs[run].length_tick);
    double over_m = fmin(OVER_M, length_m / 2.0);
    double end_m = at_right ? length_m : 0.0;
    double inner_m = at_right ? length_m - over_m : over_m;
    return (layout_fall_at(layout, run, end_m) - layout_fall_at(layout, run, inner_m)) / over_m;
}

/* The run round the corner at the right end; SIZE_MAX = none. */
static size_t find_next_run(const struct layout *layout, size_t run) {
    const struct layout_line *line = &layout->lines[layout->runs[run].line];
    if (run + 1 < line->first_run + line->run_count) {
        return run + 1; /* a line's runs stand one behind the other */
    }
    return line->is_ring ? line->first_run : SIZE_MAX;
}

/* The mitre at the right end of a run belongs to that run: a corner is listed once. */
static void add_mitre(struct pieces_walk *walk, const struct pieces_on_run *on,
                      const struct job_run_end *end) {
    struct pieces_piece piece = pieces_blank(on, PIECES_MITRE);
    piece.id = pieces_id(walk->arena, on->name, ".mitre.right", 0);
    piece.hand = end->kind == JOB_END_INSIDE ? PIECES_INSIDE : PIECES_OUTSIDE;
    piece.angle_rad = end->corner_rad;
    size_t next = find_next_run(walk->input->layout, on->run);
    piece.fall_1[0] = find_fall(walk->input->layout, on->run, true);
    piece.fall_1[1] = next == SIZE_MAX ? 0.0 : find_fall(walk->input->layout, next, false);
    pieces_add_angle_doubt(walk, on->run, &piece);
    piece.length_tick = walk->input->shop->mitre_leg_tick;
    piece.mass_kg =
        pieces_gutter_mass(on->profile, on->sheet, 2 * units_m_of_tick(piece.length_tick));
    pieces_add(walk, piece);
}

static void list_ends(struct pieces_walk *walk, const struct pieces_on_run *on) {
    const struct layout_run *run = &walk->input->layout->runs[on->run];
    const struct roof_eave *eave = &walk->input->roof->eaves[run->eave];
    if (run->left_is_free) {
        add_cap(walk, on, PIECES_LEFT);
    }
    if (run->right_is_free) {
        add_cap(walk, on, PIECES_RIGHT);
    } else {
        add_mitre(walk, on, &eave->to_end);
    }
}

/* ---- outlets and downspouts ----------------------------------------------------------------- */

static struct pieces_piece pipe_piece(const struct pieces_walk *walk,
                                      const struct pieces_on_run *on, enum pieces_kind kind,
                                      size_t outlet) {
    const struct shop_pipe *pipe =
        &walk->input->shop->pipes[walk->input->layout->outlets[outlet].pipe];
    struct pieces_piece piece = pieces_blank(on, kind);
    piece.size = base_text_of(pipe->name);
    piece.outlet = outlet;
    return piece;
}

static double pipe_mass(const struct pieces_walk *walk, const struct pieces_on_run *on,
                        size_t outlet, double length_m) {
    const struct shop_pipe *pipe =
        &walk->input->shop->pipes[walk->input->layout->outlets[outlet].pipe];
    return pieces_pipe_mass(units_m_of_tick(pipe->diameter_tick), on->sheet, length_m);
}

/* Straight pipe, cut from the longest stock from the top down; each length slips into the one
 * below. Numbered on from one straight to the next. */
static void list_straight(struct pieces_walk *walk, const struct pieces_on_run *on, size_t outlet,
                          struct base_text owner) {
    const struct shop *shop = walk->input->shop;
    const struct layout_downspout *route = &walk->input->layout->downspouts[outlet];
    size_t number = 1;
    for (size_t i = 0; i <= route->jog_count; i++) {
        int64_t left_tick = route->straights[i].top_tick - route->straights[i].bottom_tick;
        while (left_tick > 0) {
            bool is_last = left_tick <= shop->pipe_stock_tick;
            int64_t length_tick = is_last ? left_tick : shop->pipe_stock_tick;
            struct pieces_piece piece = pipe_piece(walk, on, PIECES_DOWNSPOUT, outlet);
            piece.id = pieces_id(walk->arena, owner, ".pipe.", number++);
            piece.length_tick = length_tick;
            piece.mass_kg = pipe_mass(walk, on, outlet, units_m_of_tick(length_tick));
            pieces_add(walk, piece);
            left_tick -= is_last ? left_tick : length_tick - shop->pipe_lap_tick;
        }
    }
}

/* Two elbows and the straight between them. */
struct offset {
    double elbow_rad;
    int64_t travel_tick;
    size_t number;       /* 0: under the eave; from 1 on: over a belt */
    bool fitted_on_site; /* nobody surveyed the way down */
};

static void list_offset(struct pieces_walk *walk, const struct pieces_on_run *on, size_t outlet,
                        struct base_text owner, struct offset offset) {
    double leg_m = units_m_of_tick(walk->input->shop->elbow_leg_tick);
    if (offset.elbow_rad <= 0.0) {
        return;
    }
    bool first = offset.number == 0;
    struct pieces_piece elbow = pipe_piece(walk, on, PIECES_ELBOW, outlet);
    elbow.id = pieces_id(walk->arena, owner, first ? ".elbows" : ".belt elbows.", offset.number);
    elbow.count = 2;
    elbow.angle_rad = offset.elbow_rad;
    elbow.mass_kg = 2 * pipe_mass(walk, on, outlet, 2 * leg_m);
    elbow.fitted_on_site = offset.fitted_on_site && offset.travel_tick <= 0;
    pieces_add(walk, elbow);
    if (offset.travel_tick > 0) {
        struct pieces_piece straight = pipe_piece(walk, on, PIECES_DOWNSPOUT, outlet);
        straight.id =
            pieces_id(walk->arena, owner, first ? ".offset" : ".belt offset.", offset.number);
        straight.length_tick = offset.travel_tick;
        straight.mass_kg = pipe_mass(walk, on, outlet, units_m_of_tick(offset.travel_tick));
        straight.fitted_on_site = offset.fitted_on_site;
        pieces_add(walk, straight);
    }
}

static void list_offsets(struct pieces_walk *walk, const struct pieces_on_run *on, size_t outlet,
                         struct base_text owner) {
    const struct layout_downspout *route = &walk->input->layout->downspouts[outlet];
    list_offset(walk, on, outlet, owner,
                (struct offset){.elbow_rad = route->elbow_rad,
                                .travel_tick = route->travel_tick,
                                .fitted_on_site = route->survey == SIZE_MAX});
    for (size_t i = 0; i < route->jog_count; i++) {
        const struct layout_jog *jog = &route->jogs[i];
        list_offset(walk, on, outlet, owner,
                    (struct offset){.elbow_rad = jog->elbow_rad,
                                    .travel_tick = jog->travel_tick,
                                    .number = i + 1});
    }
}

static void list_straps(struct pieces_walk *walk, const struct pieces_on_run *on, size_t outlet,
                        struct base_text owner) {
    const struct hang_strap *hold = &walk->input->hang->straps[outlet];
    const struct layout_downspout *route = &walk->input->layout->downspouts[outlet];
    for (size_t i = 0; i <= route->jog_count; i++) {
        int64_t stand_tick = route->straights[i].stand_tick;
        bool usual = stand_tick <= walk->input->shop->wall_clear_tick;
        struct pieces_piece strap =
            pipe_piece(walk, on, usual ? PIECES_STRAP : PIECES_STANDOFF_STRAP, outlet);
        strap.id = pieces_id(walk->arena, owner, i == 0 ? ".straps" : ".straps.", i);
        strap.count = hold->each[i];
        strap.thick_tick = usual ? 0 : stand_tick;
        pieces_add(walk, strap);
    }
    struct pieces_piece screw = pipe_piece(walk, on, PIECES_STRAP_SCREW, outlet);
    screw.id = pieces_id(walk->arena, owner, ".strap screws", 0);
    screw.size = (struct base_text){0};
    screw.sheet = NULL;
    screw.count = SCREWS_PER_STRAP * hold->count;
    pieces_add(walk, screw);
}

static void list_foot(struct pieces_walk *walk, const struct pieces_on_run *on, size_t outlet,
                      struct base_text owner) {
    if (walk->input->layout->outlets[outlet].discharge == JOB_DISCHARGE_SPLASH_BLOCK) {
        struct pieces_piece shoe = pipe_piece(walk, on, PIECES_SHOE, outlet);
        shoe.id = pieces_id(walk->arena, owner, ".shoe", 0);
        shoe.mass_kg =
            pipe_mass(walk, on, outlet, 2 * units_m_of_tick(walk->input->shop->elbow_leg_tick));
        pieces_add(walk, shoe);
    }
    list_straps(walk, on, outlet, owner);
}

static void list_outlet(struct pieces_walk *walk, const struct pieces_on_run *on, size_t index) {
    const struct layout_outlet *outlet = &walk->input->layout->outlets[index];
    struct pieces_piece tube = pipe_piece(walk, on, PIECES_OUTLET, index);
    tube.id = outlet->name;
    tube.from_tick = outlet->x_tick;
    tube.to_tick = outlet->x_tick;
    tube.length_tick = walk->input->shop->outlet_tube_tick;
    tube.mass_kg = pipe_mass(walk, on, index, units_m_of_tick(tube.length_tick));
    pieces_add(walk, tube);
    if (outlet->strained) {
        struct pieces_piece strainer = pipe_piece(walk, on, PIECES_STRAINER, index);
        strainer.id = pieces_id(walk->arena, outlet->name, ".strainer", 0);
        strainer.sheet = NULL;
        pieces_add(walk, strainer);
    }
    struct base_text owner = pieces_id(walk->arena, outlet->name, ".downspout", 0);
    if (!walk->input->layout->downspouts[index].measured) {
        struct pieces_piece pipe = pipe_piece(walk, on, PIECES_DOWNSPOUT, index);
        pipe.id = pieces_id(walk->arena, owner, ".pipe.", 1);
        pipe.cut_on_site = true;
        pieces_add(walk, pipe);
        return;
    }
    list_offsets(walk, on, index, owner);
    list_straight(walk, on, index, owner);
    list_foot(walk, on, index, owner);
}

/* ---- what holds it and joins it ------------------------------------------------------------- */

static struct pieces_piece small_piece(const struct pieces_walk *walk,
                                       const struct pieces_on_run *on, enum pieces_kind kind,
                                       const char *role) {
    struct pieces_piece piece = pieces_blank(on, kind);
    piece.id = pieces_id(walk->arena, on->name, role, 0);
    piece.sheet = NULL;
    piece.size = (struct base_text){0};
    return piece;
}

static void add_small(struct pieces_walk *walk, const struct pieces_on_run *on,
                      enum pieces_kind kind, const char *role, int64_t count) {
    struct pieces_piece piece = small_piece(walk, on, kind, role);
    piece.count = count;
    if (count > 0) {
        pieces_add(walk, piece);
    }
}

static enum pieces_kind bracket_kind(enum hang_fixing fixing) {
    switch (fixing) {
    case HANG_PLUMB:
    case HANG_WEDGED:
        break;
    case HANG_ANGLED:
        return PIECES_ANGLED_BRACKET;
    case HANG_SIDE:
        return PIECES_SIDE_BRACKET;
    }
    return PIECES_BRACKET;
}

/* Brackets, and a wedge to each on square-cut tails. */
static void list_brackets(struct pieces_walk *walk, const struct pieces_on_run *on) {
    const struct hang_run *hang = &walk->input->hang->runs[on->run];
    if (hang->count == 0) {
        return;
    }
    struct pieces_piece bracket = small_piece(walk, on, bracket_kind(hang->fixing), ".brackets");
    bracket.size = base_text_of(on->profile->name);
    bracket.count = (int64_t)hang->count;
    bracket.angle_rad = hang->fixing == HANG_ANGLED ? hang->tip_rad : 0.0;
    pieces_add(walk, bracket);
    if (hang->fixing == HANG_WEDGED) {
        struct pieces_piece wedge = small_piece(walk, on, PIECES_WEDGE, ".wedges");
        wedge.count = bracket.count;
        wedge.angle_rad = hang->tip_rad;
        wedge.length_tick = hang->wedge_face_tick;
        wedge.thick_tick = hang->wedge_thick_tick;
        wedge.wide_tick = hang->wedge_wide_tick;
        wedge.cut_on_site = wedge.length_tick == 0;
        pieces_add(walk, wedge);
    }
}

/* Lap seams that are soldered: one girth each. A mitre's two laps belong to its two runs, and half
 * of its own seam to each, so that a mirrored house takes the same. */
static double seam_length(const struct pieces_walk *walk, const struct pieces_on_run *on) {
    const struct joints_run *joints = &walk->input->joints->runs[on->run];
    int64_t girth_tick = pieces_girth_tick(walk->input->shop, on->profile, on->sheet);
    double girth_m = units_m_of_tick(girth_tick);
    const struct layout_run *run = &walk->input->layout->runs[on->run];
    size_t caps = (run->left_is_free ? 1u : 0u) + (run->right_is_free ? 1u : 0u);
    double mitres = (double)(2 - caps) / 2;
    double tube_m = 0.0;
    for (size_t i = 0; i < walk->input->layout->outlet_count; i++) {
        if (walk->input->layout->outlets[i].run == on->run) {
            tube_m += PI * units_m_of_tick(walk->input->layout->outlets[i].tube_tick);
        }
    }
    double cap_m = PI * on->profile->section.inside_diameter_m / 2;
    return girth_m * ((double)joints->joint_count + mitres) + cap_m * (double)caps + tube_m;
}

static void list_hold(struct pieces_walk *walk, const struct pieces_on_run *on) {
    const struct shop *shop = walk->input->shop;
    int64_t brackets = (int64_t)walk->input->hang->runs[on->run].count;
    int64_t joints = (int64_t)walk->input->joints->runs[on->run].joint_count;
    list_brackets(walk, on);
    add_small(walk, on, PIECES_FACE_SCREW, ".face screws", brackets);
    add_small(walk, on, PIECES_LAG, ".lags", LAGS_PER_BRACKET * brackets);
    int64_t splashes = pieces_list_catch(walk, on);
    add_small(walk, on, PIECES_RIVET, ".rivets",
              shop->rivets_per_joint * joints + RIVETS_PER_SPLASH * splashes);
    struct pieces_piece solder = pieces_blank(on, PIECES_SOLDER);
    solder.id = pieces_id(walk->arena, on->name, ".solder", 0);
    solder.size = (struct base_text){0};
    solder.sheet = NULL;
    /* up to the next 10 g; a hair above a whole one stays there */
    solder.mass_kg = ceil(shop->solder_kgm * seam_length(walk, on) * 100.0 - 1e-6) / 100.0;
    pieces_add(walk, solder);
    add_small(walk, on, PIECES_FLUX, ".flux", 1);
}

static void list_run(struct pieces_walk *walk, size_t index) {
    const struct layout *layout = walk->input->layout;
    const struct layout_line *line = &layout->lines[layout->runs[index].line];
    struct pieces_on_run on = {.run = index,
                               .name = layout->runs[index].name,
                               .profile = &walk->input->shop->profiles[line->profile],
                               .sheet = line->sheet};
    list_gutters(walk, &on);
    list_ends(walk, &on);
    for (size_t i = 0; i < layout->outlet_count; i++) {
        if (layout->outlets[i].run == index) {
            list_outlet(walk, &on, i);
        }
    }
    list_hold(walk, &on);
}

static void explain(const struct pieces_walk *walk, struct base_trace *trace) {
    for (size_t i = 0; i < walk->pieces->count && trace != NULL; i++) {
        const struct pieces_piece *piece = &walk->pieces->items[i];
        struct base_text path[] = {base_text_of("pieces/"), piece->id};
        base_trace_scope(trace, base_join(walk->arena, 2, path));
        if (piece->kind == PIECES_GUTTER && piece->run != SIZE_MAX) {
            base_trace_leaf(trace, "length_m");
            base_trace_formula(trace,
                               piece->trim_tick > 0
                                   ? "right end - left end, laps included, + left long"
                                   : "right end - left end, laps included",
                               "SRC-61");
            base_trace_input(trace, "left end on the run", base_value_tick(piece->from_tick));
            base_trace_input(trace, "right end on the run", base_value_tick(piece->to_tick));
            base_trace_input(trace, "left long", base_value_tick(piece->trim_tick));
            base_trace_input(trace, "lap", base_value_tick(walk->input->shop->lap_tick));
            base_trace_input(trace, "stock", base_value_tick(walk->input->shop->stock_tick));
            base_trace_rule(trace,
                            "full stock from the left; joints keep clear of outlets and corners");
        }
        pieces_explain_catch(walk->input, trace, piece);
        pieces_explain_doubt(walk->input, trace, piece);
        if (piece->mass_kg > 0.0) {
            base_trace_leaf(trace, "mass_kg");
            base_trace_formula(trace, "developed area x sheet weight", "SRC-62");
            base_trace_input(trace, "sheet",
                             base_value_string(piece->sheet == NULL ? "none" : piece->sheet));
        }
    }
}

enum base_status pieces_list(struct base_arena *arena, struct base_issues *issues,
                             struct base_trace *trace, const struct pieces_input *input,
                             struct pieces *pieces) {
    *pieces = (struct pieces){0};
    struct pieces_walk walk = {.arena = arena, .issues = issues, .input = input, .pieces = pieces};
    if (input->layout != NULL) {
        pieces->water_checked = true;
        for (size_t i = 0; i < input->layout->run_count; i++) {
            list_run(&walk, i);
        }
    }
    pieces_list_order(&walk);
    if (input->job->piece_count > 0 && input->layout == NULL) {
        base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_WATER_NOT_CHECKED});
    }
    explain(&walk, trace);
    return base_arena_failed(arena) ? BASE_NO_MEMORY : BASE_OK;
}
