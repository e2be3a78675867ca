/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Where the sources disagree a setting decides: each with what the other choice would give. Part of
 * layout.h, which includes it; other rooms include "layout/layout.h".
 */
#ifndef EAVESMITH_LAYOUT_CHOICES_H
#define EAVESMITH_LAYOUT_CHOICES_H

#include "base/base.h"

enum layout_choice_kind {
    LAYOUT_CHOICE_RAIN = 0, /* which storm: rain */
    LAYOUT_CHOICE_AREA,     /* which area: flow of the hardest reach */
    LAYOUT_CHOICE_LEADER,   /* how full a downspout may run: what its downspout passes */
    LAYOUT_CHOICE_WEIR, /* what goes over an outlet's rim: what its outlet passes, gutter full */
    LAYOUT_CHOICE_STRAINER, /* strained or not: the same */
    LAYOUT_CHOICE_FALL,     /* how much it falls: what its gutter carries by the physics */
    LAYOUT_CHOICE_MITRE     /* what a corner takes: the same; only where it has corners */
};
enum { LAYOUT_CHOICES = 7, LAYOUT_OPTIONS_MAX = 4 };

struct layout_option {
    const char *name;
    double value; /* m/s of rain, or m3/s */
};
/* Options of one decision; count 0 = the decision does not come up here. */
struct layout_choice {
    struct layout_option options[LAYOUT_OPTIONS_MAX];
    size_t count;
    size_t decides; /* the option taken */
};
struct layout_choices {
    size_t reach; /* the hardest: the most water */
    struct layout_choice items[LAYOUT_CHOICES];
};

#endif
