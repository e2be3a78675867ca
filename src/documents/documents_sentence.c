/* SPDX-License-Identifier: Apache-2.0 */
/* Sentences of findings. Alone in its file, because the heart of the page needs them without paper.
 */
#include "documents/documents.h"

/* One {placeholder} of a pattern; returns how many bytes it took, 0 when it is none. */
static size_t fill_one(struct base_builder *out, struct units_style style,
                       const struct base_issue *issue, const char *at) {
    const struct {
        const char *name;
        struct base_value value;
    } holes[] = {{"{object}", base_value_text(issue->object)},
                 {"{value}", issue->value},
                 {"{limit}", issue->limit},
                 {"{other}", issue->other}};
    struct base_text rest = base_text_of(at);
    for (size_t i = 0; i < sizeof holes / sizeof holes[0]; i++) {
        if (base_text_starts(rest, holes[i].name)) {
            base_add_text(out, units_write_value(out->arena, style, holes[i].value));
            return base_text_of(holes[i].name).length;
        }
    }
    return 0;
}

static struct base_text fill(struct base_arena *arena, struct units_style style,
                             const struct base_issue *issue, const char *pattern) {
    struct base_builder out = {.arena = arena};
    for (const char *at = pattern; *at != '\0';) {
        size_t taken = *at == '{' ? fill_one(&out, style, issue, at) : 0;
        if (taken == 0) {
            base_add_char(&out, *at);
            taken = 1;
        }
        at += taken;
    }
    return base_built(&out);
}

struct base_text documents_write_issue(struct base_arena *arena, struct units_style style,
                                       const struct base_issue *issue) {
    return fill(arena, style, issue, base_issue_pattern(issue->code));
}

struct base_text documents_write_mend(struct base_arena *arena, struct units_style style,
                                      const struct base_issue *issue) {
    return fill(arena, style, issue, base_issue_mend(issue->code));
}
