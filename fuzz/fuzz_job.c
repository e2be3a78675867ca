/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Any bytes as a job file: no crash, and either a job or at least one finding that stops, each with
 * a place inside the text that can be shown. The JSON reader gets the same bytes.
 */
#include "job/job.h"
#include "yaml/yaml.h"

#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
const char *__lsan_default_suppressions(void);

/* libfyaml 0.7.12 forgets a buffer when a quoted text breaks off; ours is not the leak looked for.
 */
const char *__lsan_default_suppressions(void) {
    return "leak:libfyaml";
}

static void check_findings(const struct base_issues *issues, enum base_status status,
                           struct base_text source) {
    if (status == BASE_OK && base_has_stop(issues)) {
        abort();
    }
    if (status == BASE_STOPPED && !base_has_stop(issues)) {
        abort();
    }
    for (size_t i = 0; i < issues->count; i++) {
        struct base_mark mark = issues->items[i].mark;
        if (mark.from_byte > mark.to_byte || mark.to_byte > source.length) {
            abort();
        }
        if (i < 20) {
            tree_show_place(issues->arena, source, mark);
        }
    }
}

static void read_as_yaml(struct base_text source) {
    struct base_arena *arena = base_make_arena((size_t)1 << 28);
    struct base_issues issues = {.arena = arena};
    const struct tree_node *root = NULL;
    struct job job;
    enum base_status status = yaml_read_tree(arena, &issues, BASE_DOCUMENT_JOB, source, &root);
    if ((status == BASE_OK) != (root != NULL)) {
        abort();
    }
    if (status == BASE_OK) {
        status = job_read(arena, &issues, root, &job);
    }
    if (status != BASE_NO_MEMORY) {
        check_findings(&issues, status, source);
    }
    base_free_arena(arena);
}

static void read_as_json(struct base_text source) {
    struct base_arena *arena = base_make_arena((size_t)1 << 28);
    struct base_issues issues = {.arena = arena};
    const struct tree_node *root = tree_read_json(arena, &issues, BASE_DOCUMENT_JOB, source);
    if (!base_arena_failed(arena)) {
        check_findings(&issues, root == NULL ? BASE_STOPPED : BASE_OK, source);
    }
    base_free_arena(arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct base_text source = {(const char *)data, size};
    read_as_yaml(source);
    read_as_json(source);
    return 0;
}
