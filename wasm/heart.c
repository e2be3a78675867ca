/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The heart for a page or Node: four texts in, result.json and the findings in words out. One
 * arena lives between heart_buffer and the next solve; an answer stays good until the buffer after
 * it is asked for.
 */
#include "base/base.h"
#include "documents/documents.h"
#include "result/result.h"
#include "solve/solve.h"
#include "tree/tree.h"

/* One call at a time: the module has one memory and no threads. */
static struct base_arena *arena;
static bool answered;

struct heart_answer {
    const char *bytes;
    uint32_t length;
    uint32_t status;      /* 0 safe, 1 not safe as drawn, 2 bad input, 3 no memory */
    const char *findings; /* JSON: each finding in words, with its place in the text given */
    uint32_t findings_length;
};

void *heart_buffer(uint32_t bytes);
/* many because wasm passes plain numbers */
const struct heart_answer *heart_solve(const char *job, uint32_t job_length, const char *prices,
                                       uint32_t prices_length, const char *rain,
                                       uint32_t rain_length, const char *gauge,
                                       uint32_t gauge_length);

void *heart_buffer(uint32_t bytes) {
    if (answered) {
        base_free_arena(arena);
        arena = NULL;
        answered = false;
    }
    if (arena == NULL) {
        arena = base_make_arena(0);
    }
    return arena == NULL ? NULL : base_take(arena, bytes == 0 ? 1 : bytes, 1);
}

/* Stop issues as JSON: code, line and column of each. */
static struct base_text write_stops(const struct base_issues *issues) {
    struct tree_writer writer = tree_make_writer(arena);
    tree_open_list(&writer, (struct base_text){0});
    for (size_t i = 0; i < issues->count; i++) {
        const struct base_issue *issue = &issues->items[i];
        struct base_value line = base_value_count(issue->mark.line);
        struct base_value column = base_value_count(issue->mark.column);
        tree_open_map(&writer, (struct base_text){0});
        tree_write_text(&writer, base_text_of("code"), base_text_of(base_issue_name(issue->code)));
        tree_write_raw(&writer, base_text_of("line"), units_write_quantum(arena, line));
        tree_write_raw(&writer, base_text_of("column"), units_write_quantum(arena, column));
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
        tree_write_raw(writer, base_text_of("from_byte"), units_write_quantum(arena, from));
    }
}

/* Every finding in words. */
static struct base_text write_findings(const struct base_issues *issues, struct units_style style) {
    static const char *const severities[] = {"stop", "must", "should", "note", "assumed"};
    if (style.round_tick == 0) { /* it stopped before the job said its units */
        style = units_default_style(UNITS_FT_IN);
    }
    struct tree_writer writer = tree_make_writer(arena);
    tree_open_list(&writer, (struct base_text){0});
    for (size_t i = 0; i < issues->count; i++) {
        const struct base_issue *issue = &issues->items[i];
        const char *severity = severities[base_issue_severity(issue->code)];
        tree_open_map(&writer, (struct base_text){0});
        tree_write_text(&writer, base_text_of("code"), base_text_of(base_issue_name(issue->code)));
        tree_write_text(&writer, base_text_of("severity"), base_text_of(severity));
        write_place(&writer, &issue->mark);
        tree_write_text(&writer, base_text_of("object"), issue->object);
        tree_write_text(&writer, base_text_of("text"), documents_write_issue(arena, style, issue));
        tree_write_text(&writer, base_text_of("mend"), documents_write_mend(arena, style, issue));
        tree_close_map(&writer);
    }
    tree_close_list(&writer);
    return base_built(&writer.out);
}

static enum base_status walk(const struct base_text texts[BASE_DOCUMENTS],
                             struct base_issues *issues, struct solution *solution) {
    struct solve_input input = {.rain = texts[BASE_DOCUMENT_RAIN],
                                .gauge = texts[BASE_DOCUMENT_GAUGE]};
    input.job = tree_read_json(arena, issues, BASE_DOCUMENT_JOB, texts[0]);
    if (texts[1].length > 0) {
        input.prices = tree_read_json(arena, issues, BASE_DOCUMENT_PRICES, texts[1]);
    }
    if (base_has_stop(issues)) {
        return BASE_STOPPED;
    }
    return solve_job(arena, issues, NULL, &input, solution);
}

/* many because wasm passes plain numbers */
const struct heart_answer *heart_solve(const char *job, uint32_t job_length, const char *prices,
                                       uint32_t prices_length, const char *rain,
                                       uint32_t rain_length, const char *gauge,
                                       uint32_t gauge_length) {
    static const struct heart_answer no_memory = {NULL, 0, 3, NULL, 0};
    const struct base_text texts[BASE_DOCUMENTS] = {
        {job, job_length}, {prices, prices_length}, {rain, rain_length}, {gauge, gauge_length}};
    answered = true;
    struct heart_answer *answer = arena == NULL ? NULL : base_take(arena, 1, sizeof *answer);
    struct solution *solution = arena == NULL ? NULL : base_take(arena, 1, sizeof *solution);
    if (answer == NULL || solution == NULL) {
        return &no_memory;
    }
    struct base_issues issues = {.arena = arena};
    enum base_status status = walk(texts, &issues, solution);
    struct base_text text =
        status == BASE_OK ? result_write(arena, solution, &issues, NULL) : write_stops(&issues);
    struct base_text findings = write_findings(&issues, solution->shop.style);
    if (base_arena_failed(arena)) {
        return &no_memory;
    }
    uint32_t code = status != BASE_OK ? 2 : (solution->safe ? 0 : 1);
    *answer = (struct heart_answer){text.bytes, (uint32_t)text.length, code, findings.bytes,
                                    (uint32_t)findings.length};
    return answer;
}
