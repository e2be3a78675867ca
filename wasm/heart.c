/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The heart for a page or Node: four texts in, result.json and the findings in words out. One
 * arena lives between heart_buffer and the next solve; an answer stays good until the buffer after
 * it is asked for.
 */
#include "heart_inside.h"

#include "documents/documents.h"
#include "tree/tree.h"

struct heart heart;

void *heart_buffer(uint32_t bytes);
/* many because wasm passes plain numbers */
const struct heart_answer *heart_solve(const char *job, uint32_t job_length, const char *prices,
                                       uint32_t prices_length, const char *rain,
                                       uint32_t rain_length, const char *gauge,
                                       uint32_t gauge_length);

void *heart_buffer(uint32_t bytes) {
    if (heart.answered) {
        base_free_arena(heart.arena);
        heart = (struct heart){0};
    }
    if (heart.arena == NULL) {
        heart.arena = base_make_arena(0);
    }
    return heart.arena == NULL ? NULL : base_take(heart.arena, bytes == 0 ? 1 : bytes, 1);
}

/* Stop issues as JSON: code, line and column of each. */
static struct base_text write_stops(const struct base_issues *issues) {
    struct tree_writer writer = tree_make_writer(heart.arena);
    tree_open_list(&writer, (struct base_text){0});
    for (size_t i = 0; i < issues->count; i++) {
        const struct base_issue *issue = &issues->items[i];
        struct base_value line = base_value_count(issue->mark.line);
        struct base_value column = base_value_count(issue->mark.column);
        tree_open_map(&writer, (struct base_text){0});
        tree_write_text(&writer, base_text_of("code"), base_text_of(base_issue_name(issue->code)));
        tree_write_raw(&writer, base_text_of("line"), units_write_quantum(heart.arena, line));
        tree_write_raw(&writer, base_text_of("column"), units_write_quantum(heart.arena, column));
        tree_close_map(&writer);
    }
    tree_close_list(&writer);
    return base_built(&writer.out);
}

static void write_place(struct tree_writer *writer, const struct base_mark *mark) {
    static const char *const documents[] = {"job", "prices", "rain", "gauge"};
    tree_write_text(writer, base_text_of("document"), base_text_of(documents[mark->document]));
    if (mark->line > 0) {
        struct base_value from = base_value_count((int64_t)mark->from_byte);
        tree_write_raw(writer, base_text_of("from_byte"), units_write_quantum(heart.arena, from));
    }
}

/* Every finding in words. */
static struct base_text write_findings(const struct base_issues *issues, struct units_style style) {
    static const char *const severities[] = {"stop", "must", "should", "note", "assumed"};
    if (style.round_tick == 0) { /* it stopped before the job said its units */
        style = units_default_style(UNITS_FT_IN);
    }
    struct tree_writer writer = tree_make_writer(heart.arena);
    tree_open_list(&writer, (struct base_text){0});
    for (size_t i = 0; i < issues->count; i++) {
        const struct base_issue *issue = &issues->items[i];
        const char *severity = severities[base_issue_severity(issue->code)];
        tree_open_map(&writer, (struct base_text){0});
        tree_write_text(&writer, base_text_of("code"), base_text_of(base_issue_name(issue->code)));
        tree_write_text(&writer, base_text_of("severity"), base_text_of(severity));
        write_place(&writer, &issue->mark);
        tree_write_text(&writer, base_text_of("object"), issue->object);
        tree_write_text(&writer, base_text_of("text"),
                        documents_write_issue(heart.arena, style, issue));
        tree_write_text(&writer, base_text_of("mend"),
                        documents_write_mend(heart.arena, style, issue));
        tree_close_map(&writer);
    }
    tree_close_list(&writer);
    return base_built(&writer.out);
}

enum base_status heart_walk(struct base_trace *trace, struct base_issues *issues,
                            struct solution *solution) {
    struct solve_input input = {.rain = heart.texts[BASE_DOCUMENT_RAIN],
                                .gauge = heart.texts[BASE_DOCUMENT_GAUGE]};
    input.job = tree_read_json(heart.arena, issues, BASE_DOCUMENT_JOB, heart.texts[0]);
    if (heart.texts[1].length > 0) {
        input.prices = tree_read_json(heart.arena, issues, BASE_DOCUMENT_PRICES, heart.texts[1]);
    }
    if (base_has_stop(issues)) {
        return BASE_STOPPED;
    }
    return solve_job(heart.arena, issues, trace, &input, solution);
}

static const struct heart_answer no_memory = {NULL, 0, 3, NULL, 0};

const struct heart_answer *heart_answer_text(struct base_text text) {
    struct heart_answer *answer =
        heart.arena == NULL ? NULL : base_take(heart.arena, 1, sizeof *answer);
    if (answer == NULL) {
        return &no_memory;
    }
    *answer = (struct heart_answer){.bytes = text.bytes, .length = (uint32_t)text.length};
    return answer;
}

/* many because wasm passes plain numbers */
const struct heart_answer *heart_solve(const char *job, uint32_t job_length, const char *prices,
                                       uint32_t prices_length, const char *rain,
                                       uint32_t rain_length, const char *gauge,
                                       uint32_t gauge_length) {
    heart.answered = true;
    if (heart.arena == NULL) {
        return &no_memory;
    }
    heart.texts[0] = (struct base_text){job, job_length};
    heart.texts[1] = (struct base_text){prices, prices_length};
    heart.texts[2] = (struct base_text){rain, rain_length};
    heart.texts[3] = (struct base_text){gauge, gauge_length};
    struct heart_answer *answer = base_take(heart.arena, 1, sizeof *answer);
    struct solution *solution = base_take(heart.arena, 1, sizeof *solution);
    if (answer == NULL || solution == NULL) {
        return &no_memory;
    }
    heart.issues = (struct base_issues){.arena = heart.arena};
    enum base_status status = heart_walk(NULL, &heart.issues, solution);
    heart.solution = status == BASE_OK ? solution : NULL;
    struct base_text text = status == BASE_OK
                                ? result_write(heart.arena, solution, &heart.issues, NULL)
                                : write_stops(&heart.issues);
    struct base_text findings = write_findings(&heart.issues, solution->shop.style);
    if (base_arena_failed(heart.arena)) {
        return &no_memory;
    }
    uint32_t code = status != BASE_OK ? 2 : (solution->safe ? 0 : 1);
    *answer = (struct heart_answer){text.bytes, (uint32_t)text.length, code, findings.bytes,
                                    (uint32_t)findings.length};
    return answer;
}
