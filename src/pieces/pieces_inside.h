/* SPDX-License-Identifier: Apache-2.0 */
/* What the files of pieces share: the list being made. */
#ifndef EAVESMITH_PIECES_INSIDE_H
#define EAVESMITH_PIECES_INSIDE_H

#include "pieces/pieces.h"

struct pieces_walk {
    struct base_arena *arena;
    struct base_issues *issues;
    const struct pieces_input *input;
    struct pieces *pieces;
    size_t capacity;
};

/* What the pieces of one run have in common. */
struct pieces_on_run {
    size_t run;
    struct base_text name;
    const struct shop_profile *profile;
    const char *sheet;
};
struct pieces_piece pieces_blank(const struct pieces_on_run *on, enum pieces_kind kind);

/* "porch" + ".gutter." + 1; number 0 = no number. */
struct base_text pieces_id(struct base_arena *arena, struct base_text owner, const char *role,
                           size_t number);
/* Adds a copy; harmless once the arena has failed. */
void pieces_add(struct pieces_walk *walk, struct pieces_piece piece);

/* pieces_trim.c: what is left long on a run, on which of its gutter lengths. */
struct pieces_allowance {
    size_t span; /* of joints_run; SIZE_MAX = none */
    enum pieces_trim trim;
    int64_t trim_tick;
    int64_t doubt_tick; /* of the run's length; 0 = not told */
    bool doubtful;
};
struct pieces_allowance pieces_find_allowance(const struct pieces_walk *walk, size_t run);
/* The doubt of a mitre's angle, at the right end of the run. */
void pieces_add_angle_doubt(const struct pieces_walk *walk, size_t run, struct pieces_piece *mitre);

void pieces_explain_doubt(const struct pieces_input *input, struct base_trace *trace,
                          const struct pieces_piece *piece);

/* pieces_catch.c: aprons and splash pieces, where the job wants them; gives the number of the
 * latter. */
int64_t pieces_list_catch(struct pieces_walk *walk, const struct pieces_on_run *on);
void pieces_explain_catch(const struct pieces_input *input, struct base_trace *trace,
                          const struct pieces_piece *piece);

/* pieces_mass.c: weights from girth and sheet. */
double pieces_gutter_mass(const struct shop_profile *profile, const char *sheet, double length_m);
double pieces_cap_mass(const struct shop *shop, const struct shop_profile *profile,
                       const char *sheet);
double pieces_strip_mass(const char *sheet, int64_t length_tick, int64_t wide_tick);
double pieces_pipe_mass(double diameter_m, const char *sheet, double length_m);
int64_t pieces_girth_tick(const struct shop *shop, const struct shop_profile *profile,
                          const char *sheet);

/* pieces_order.c: an order by pieces:, without a house. */
void pieces_list_order(struct pieces_walk *walk);

#endif
