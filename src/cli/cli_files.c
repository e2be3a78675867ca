/* SPDX-License-Identifier: Apache-2.0 */
/* Files in and out, and the walk with what stands beside the job file. */
#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "cli/cli.h"
#include "documents/documents.h"
#include "tree/tree.h"
#include "yaml/yaml.h"

enum { FILE_BYTES_MAX = 16 * 1024 * 1024 };

static bool read_all(struct base_builder *builder, FILE *file) {
    char buffer[8192];
    size_t got;
    while ((got = fread(buffer, 1, sizeof buffer, file)) > 0) {
        base_add_text(builder, (struct base_text){buffer, got});
        if (builder->length > FILE_BYTES_MAX) {
            return false;
        }
    }
    return ferror(file) == 0;
}

bool cli_read_file(struct base_arena *arena, const char *name, struct base_text *text) {
    FILE *file = fopen(name, "rb");
    if (file == NULL) {
        fprintf(stderr, "eavesmith: cannot read %s: %s\n", name, strerror(errno));
        return false;
    }
    struct base_builder builder = {.arena = arena};
    bool good = read_all(&builder, file);
    (void)fclose(file);
    if (!good) {
        fprintf(stderr, "eavesmith: cannot read %s: %s\n", name,
                builder.length > FILE_BYTES_MAX ? "it is too large" : "it is not a readable file");
        return false;
    }
    *text = base_built(&builder);
    return true;
}

static struct base_text path_in(struct base_arena *arena, const char *folder, const char *name,
                                const char *ending) {
    struct base_text parts[] = {base_text_of(folder), base_text_of("/"), base_text_of(name),
                                base_text_of(ending)};
    return base_join(arena, 4, parts);
}

bool cli_write_file(struct base_arena *arena, const char *folder, const char *name,
                    struct base_text bytes) {
    struct base_text last = path_in(arena, folder, name, "");
    struct base_text part = path_in(arena, folder, name, ".part");
    if (base_arena_failed(arena)) {
        return false;
    }
    FILE *file = fopen(part.bytes, "wb");
    bool good = file != NULL && fwrite(bytes.bytes, 1, bytes.length, file) == bytes.length;
    if (file != NULL) {
        good = fclose(file) == 0 && good;
    }
    good = good && rename(part.bytes, last.bytes) == 0;
    if (!good) {
        fprintf(stderr, "eavesmith: cannot write %s: %s\n", last.bytes, strerror(errno));
        (void)remove(part.bytes);
    }
    return good;
}

/* A file named in the job lies beside it; a name that leads out of the folder is refused. */
static const char *beside(struct base_arena *arena, const char *job_name, struct base_text name) {
    const char *slash = strrchr(job_name, '/');
    size_t folder = slash == NULL ? 0 : (size_t)(slash - job_name) + 1;
    struct base_text parts[] = {{job_name, folder}, name};
    struct base_text joined = base_join(arena, 2, parts);
    if (joined.bytes == NULL || name.length == 0 || name.bytes[0] == '/' ||
        strstr(joined.bytes + folder, "..") != NULL) {
        fprintf(stderr,
                "eavesmith: %s names a file outside its own folder: %.*s\n"
                "  keep price list, rain file and record beside the job file\n",
                job_name, (int)name.length, name.bytes);
        return NULL;
    }
    return joined.bytes;
}

static bool read_beside(struct cli_job *job, const struct tree_node *named,
                        enum base_document document) {
    if (named == NULL || named->kind != TREE_SCALAR) {
        return true; /* none, or a fault that the job reader reports */
    }
    job->names[document] = beside(job->arena, job->names[BASE_DOCUMENT_JOB], named->text);
    return job->names[document] != NULL &&
           cli_read_file(job->arena, job->names[document], &job->texts[document]);
}

static bool read_texts(struct cli_job *job) {
    if (!cli_read_file(job->arena, job->names[0], &job->texts[0])) {
        return false;
    }
    job->status =
        yaml_read_tree(job->arena, &job->issues, BASE_DOCUMENT_JOB, job->texts[0], &job->input.job);
    if (job->status != BASE_OK) {
        return true;
    }
    const struct tree_node *place = tree_find(job->input.job, "place");
    if (!read_beside(job, tree_find(job->input.job, "prices"), BASE_DOCUMENT_PRICES) ||
        !read_beside(job, tree_find(tree_find(place, "rain"), "file"), BASE_DOCUMENT_RAIN) ||
        !read_beside(job, tree_find(tree_find(place, "rain"), "record"), BASE_DOCUMENT_GAUGE)) {
        return false;
    }
    job->input.rain = job->texts[BASE_DOCUMENT_RAIN];
    job->input.gauge = job->texts[BASE_DOCUMENT_GAUGE];
    if (job->names[BASE_DOCUMENT_PRICES] != NULL) {
        job->status = yaml_read_tree(job->arena, &job->issues, BASE_DOCUMENT_PRICES,
                                     job->texts[BASE_DOCUMENT_PRICES], &job->input.prices);
    }
    return true;
}

int cli_load(struct cli_job *job, const char *name, struct base_trace *trace) {
    *job = (struct cli_job){.arena = base_make_arena(0)};
    if (job->arena == NULL) {
        return CLI_NO_MEMORY;
    }
    job->issues.arena = job->arena;
    job->names[BASE_DOCUMENT_JOB] = name;
    job->solution = base_take(job->arena, 1, sizeof *job->solution);
    if (job->solution == NULL) {
        return CLI_NO_MEMORY;
    }
    if (!read_texts(job)) {
        return CLI_BAD_INPUT;
    }
    if (trace != NULL) {
        trace->arena = job->arena;
    }
    if (job->status == BASE_OK) {
        job->status = solve_job(job->arena, &job->issues, trace, &job->input, job->solution);
    }
    switch (job->status) {
    case BASE_OK:
        return job->solution->safe ? CLI_FINE : CLI_UNSAFE;
    case BASE_STOPPED:
        return CLI_BAD_INPUT;
    case BASE_NO_MEMORY:
        break;
    }
    fputs("eavesmith: out of memory\n", stderr);
    return CLI_NO_MEMORY;
}

static void say_issue(const struct cli_job *job, const struct base_issue *issue) {
    static const char *const words[] = {"error", "not safe", "advice", "note", "assumed"};
    struct units_style style = job->solution->shop.style;
    if (style.round_tick == 0) {
        style = units_default_style(UNITS_FT_IN);
    }
    struct base_text sentence = documents_write_issue(job->arena, style, issue);
    struct base_text mend = documents_write_mend(job->arena, style, issue);
    const char *name = job->names[issue->mark.document];
    if (issue->mark.line > 0 && name != NULL) {
        fprintf(stderr, "%s:%d:%d: ", name, issue->mark.line, issue->mark.column);
    }
    fprintf(stderr, "%s: %.*s\n", words[base_issue_severity(issue->code)], (int)sentence.length,
            sentence.bytes == NULL ? "" : sentence.bytes);
    if (issue->mark.line > 0 && name != NULL &&
        base_issue_severity(issue->code) <= BASE_SEVERITY_MUST) {
        struct base_text shown =
            tree_show_place(job->arena, job->texts[issue->mark.document], issue->mark);
        fprintf(stderr, "%.*s\n", (int)shown.length, shown.bytes == NULL ? "" : shown.bytes);
    }
    if (mend.length > 0) {
        fprintf(stderr, "    %.*s\n", (int)mend.length, mend.bytes);
    }
}

/* All stops, else all that stands against the job; what was assumed is on the papers. */
void cli_say_issues(const struct cli_job *job) {
    bool stopped = base_has_stop(&job->issues);
    for (size_t i = 0; i < job->issues.count; i++) {
        enum base_severity severity = base_issue_severity(job->issues.items[i].code);
        bool shown = stopped ? severity == BASE_SEVERITY_STOP : severity < BASE_SEVERITY_ASSUMED;
        if (shown) {
            say_issue(job, &job->issues.items[i]);
        }
    }
}
