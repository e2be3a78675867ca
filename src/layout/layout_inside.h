/* SPDX-License-Identifier: Apache-2.0 */
/* What the files of layout share: the water behind a stretch of gutter, and one line's trial. */
#ifndef EAVESMITH_LAYOUT_INSIDE_H
#define EAVESMITH_LAYOUT_INSIDE_H

#include "layout/layout.h"

enum { LAYOUT_PLACES_MAX = 12 };

/* A stretch of a line's coordinate, low < high; on a ring it may reach past either end. */
struct layout_stretch {
    double low_m;
    double high_m;
};

struct layout_walk {
    struct base_arena *arena;
    struct base_issues *issues;
    struct base_trace *trace;
    const struct layout_input *input;
    struct layout *layout;
    struct roof_pour *pours; /* the roof's, and what upper downspouts bring */
    size_t pour_count;
    struct layout_stretch *waters;       /* what each reach that was kept carries the water of */
    struct hydraulics_channel *channels; /* of the reaches that were kept, in their order */
};

/* A place where an outlet may stand: on a run, and on its line. */
struct layout_place {
    size_t run;
    int64_t x_tick;
    double line_m;
    enum job_discharge discharge;
    const struct job_outlet *onto;
    struct base_mark mark;
};

/* Which area rule: plan, handbook pitch factor, half the rise. In the order of enum job_basis. */
double layout_area_factor(enum job_basis basis, double pitch_1);

/* Design area (plan x factor) that drains into a stretch of the line, pours included. */
double layout_stretch_area(const struct layout_walk *walk, size_t line,
                           struct layout_stretch stretch, enum job_basis basis);
/* Plain plan area of the same. */
double layout_stretch_plan_area(const struct layout_walk *walk, size_t line,
                                struct layout_stretch stretch);

/* The corners strictly inside a stretch of the line: their number, and with bends (may be NULL)
 * each at its line coordinate with what its mitre takes from the stream. A high point in a corner:
 * water runs round it on neither side. */
size_t layout_find_bends(const struct layout_walk *walk, size_t line, struct layout_stretch stretch,
                         struct hydraulics_bend *bends);

/* The knots, points and bends of the channel of one reach, still end first. False when the arena
 * failed. */
bool layout_channel(const struct layout_walk *walk, const struct layout_reach *reach,
                    struct layout_stretch water, struct hydraulics_channel *channel);

/* Run and place on it of a line coordinate (taken round a ring). */
size_t layout_locate(const struct layout *layout, size_t line, double line_m, double *x_m);

/* The share of a pour onto that line that falls into the stretch. */
double layout_pour_share(const struct layout_walk *walk, size_t line, struct layout_stretch stretch,
                         const struct roof_pour *pour);

/* layout_lines.c: runs and lines from the eaves. */
enum base_status layout_make_lines(struct layout_walk *walk);

/* layout_onto.c: upper gutters that empty into lower ones: the order of the lines, uppermost first
 * (false: they empty into one another in a ring), and what a line's outlets bring to others. */
bool layout_order_lines(struct layout_walk *walk, size_t *order);
void layout_bring_water(struct layout_walk *walk, size_t line);
/* Which reaches the water of upper outlets runs into, once all stands. False = no memory. */
bool layout_find_feeds(struct layout_walk *walk);

/* How far the roof edge stands out over the gutter's back edge: the cover's overhang past the wood
 * where it was measured, else the shop's habit. */
int64_t layout_edge_over(const struct shop *shop, const struct roof_eave *eave);

/* layout_places.c: where outlets may stand. */
/* The run that holds the place; SIZE_MAX = none. */
size_t layout_find_run(const struct layout_walk *walk, const struct job_outlet *outlet);
/* Where a place lies on that run: at its ends, or at the distance said. */
int64_t layout_place_x(const struct layout_walk *walk, size_t run, const struct job_outlet *place);
struct layout_place layout_place_of(const struct layout_walk *walk, size_t run_index,
                                    const struct job_outlet *outlet);
enum base_status layout_check_places(struct layout_walk *walk);
size_t layout_list_places(struct layout_walk *walk, size_t line, bool *fixed,
                          struct layout_place places[LAYOUT_PLACES_MAX]);

/* layout_size.c: one line tried with one set of outlets. */
struct layout_trial {
    size_t line;
    size_t place_count;
    struct layout_place places[LAYOUT_PLACES_MAX]; /* by rising line_m */
    struct layout_reach reaches[2 * LAYOUT_PLACES_MAX];
    struct layout_stretch
        water[2 * LAYOUT_PLACES_MAX];          /* the stretch whose water each reach carries */
    double outlet_flow_m3s[LAYOUT_PLACES_MAX]; /* from both sides, stubs included */
    size_t reach_count;
    double longest_m; /* longest reach */
    size_t profile;   /* smallest that passes, or the largest tried */
    size_t pipe;
    bool gutter_passes;
    bool outlets_pass;
};
void layout_try(const struct layout_walk *walk, size_t line, struct layout_trial *trial);
/* The outlet of pipe under a gutter: outside of its tube, what it passes with the gutter full. */
int64_t layout_tube(const struct shop *shop, size_t pipe);
double layout_outlet_inside(const struct layout_walk *walk, size_t profile, size_t pipe);
double layout_outlet_capacity(const struct layout_walk *walk, size_t profile, size_t pipe);
double layout_pipe_capacity(const struct layout_walk *walk, size_t pipe);
void layout_check_reach(const struct layout_walk *walk, size_t line, size_t profile,
                        struct layout_reach *reach);

/* layout_route.c: downspouts, and whether each outlet has a wall, a route and a place to discharge.
 */
enum base_status layout_route(struct layout_walk *walk);

/* layout_survey.c: what was surveyed at an outlet; NULL = nothing. */
const struct job_survey *layout_find_survey(const struct layout_walk *walk,
                                            const struct layout_outlet *outlet);
/* The foot found there holds for an outlet of which nothing else was said. */
void layout_take_foot(struct layout_walk *walk, struct layout_outlet *outlet,
                      const struct job_survey *survey);
/* Pipe and foot against each other, what stands below, and places surveyed in vain. */
void layout_check_surveys(struct layout_walk *walk);
/* Distance of the straight pipe's back from the wall: clear of every belt it can stand off from. */
int64_t layout_stand_off(const struct shop *shop, const struct job_survey *survey);
/* Straights and jogs between the pipe's upper and lower end. False = no memory. */
bool layout_split_pipe(const struct layout_walk *walk, const struct job_survey *survey,
                       struct layout_downspout *pipe);
/* layout_route.c: turn of the two elbows of an offset; lengths to the shop's rounding. */
double layout_choose_elbow(const struct shop *shop, double offset_m);
int64_t layout_rounded(const struct shop *shop, double length_m);

/* layout_often.c: when each reach goes over, alone and with something wrong. False = no memory. */
bool layout_find_often(struct layout_walk *walk);
/* The limit at a factor on the design rain. */
struct layout_limit layout_make_limit(const struct layout_walk *walk, double factor_1);
/* The factor at which a reach just runs, by the physics, outlet and pipe included. */
bool layout_find_factor(const struct layout_walk *walk, size_t reach, double *factor_1);

/* layout_blocked.c: one outlet shut. False = no memory. */
/* Ends, outlets and high points of a run, in no order: the only places where it can be highest or
 * lowest, and between them it is straight. Gives their number. */
enum { LAYOUT_STATIONS_MAX = 2 + 4 * LAYOUT_PLACES_MAX };
size_t layout_list_stations(const struct layout *layout, size_t run_index,
                            int64_t stations[LAYOUT_STATIONS_MAX]);

bool layout_find_blocked(struct layout_walk *walk);

/* layout_catch.c: where the water lands. False = no memory. */
bool layout_find_catch(struct layout_walk *walk);
void layout_explain_catch(struct layout_walk *walk);

/* layout_drain.c: offsets, and drains at the foot. */
void layout_find_drains(struct layout_walk *walk);
void layout_explain_drains(struct layout_walk *walk);

/* layout_decks.c: water standing on flat decks. False = no memory. */
bool layout_find_decks(struct layout_walk *walk);
void layout_explain_decks(struct layout_walk *walk);

/* layout_choices.c: what the other choice would give. False = no memory. */
bool layout_find_choices(struct layout_walk *walk);
void layout_explain_choices(struct layout_walk *walk);

/* layout_why_often.c: the reasons of these. */
void layout_explain_often(struct layout_walk *walk);

/* layout_why.c: the reasons, noted once the layout stands. */
void layout_explain(struct layout_walk *walk);

#endif
