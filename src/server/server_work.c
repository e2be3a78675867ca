/* SPDX-License-Identifier: Apache-2.0 */
/* A job from its texts to its solution, as the command does it, but with the files below DIR. */
#include <string.h>

#include "server/server_inside.h"
#include "yaml/yaml.h"

void server_begin_work(struct server_request *request) {
    struct server *server = request->server;
    (void)pthread_mutex_lock(&server->guard);
    if (request->slot != NULL) {
        request->slot->working = true;
    }
    while (server->workers >= SERVER_WORKERS) {
        (void)pthread_cond_wait(&server->worker_free, &server->guard);
    }
    server->workers++;
    (void)pthread_mutex_unlock(&server->guard);
}

void server_end_work(struct server_request *request) {
    struct server *server = request->server;
    (void)pthread_mutex_lock(&server->guard);
    server->workers--;
    if (request->slot != NULL) {
        request->slot->working = false;
        request->slot->since_ms = server_now_ms();
    }
    (void)pthread_cond_signal(&server->worker_free);
    (void)pthread_mutex_unlock(&server->guard);
}

struct server_work server_make_work(struct base_arena *arena) {
    struct server_work work = {.arena = arena, .issues = {.arena = arena}};
    work.solution = base_take(arena, 1, sizeof *work.solution);
    work.status = work.solution == NULL ? BASE_NO_MEMORY : BASE_OK;
    return work;
}

/* ---- what a job names beside itself --------------------------------------------------------- */

bool server_name_beside(const struct tree_node *job, enum base_document document,
                        struct base_text *name) {
    const struct tree_node *named = NULL;
    switch (document) {
    case BASE_DOCUMENT_JOB:
        break;
    case BASE_DOCUMENT_PRICES:
        named = tree_find(job, "prices");
        break;
    case BASE_DOCUMENT_RAIN:
        named = tree_find(tree_find(tree_find(job, "place"), "rain"), "file");
        break;
    case BASE_DOCUMENT_GAUGE:
        named = tree_find(tree_find(tree_find(job, "place"), "rain"), "record");
        break;
    }
    bool is_named = named != NULL && named->kind == TREE_SCALAR;
    *name = is_named ? named->text : (struct base_text){0};
    return is_named; /* anything but a text is a fault that the job reader reports */
}

struct server_file server_read_beside(struct base_arena *arena, int folder, struct base_text name) {
    struct base_text names[SERVER_SEGMENTS];
    size_t count = 0;
    size_t from = 0;
    while (from <= name.length) {
        const char *slash =
            from < name.length ? memchr(name.bytes + from, '/', name.length - from) : NULL;
        size_t to = slash == NULL ? name.length : (size_t)(slash - name.bytes);
        struct base_text step = {name.bytes + from, to - from};
        if (!base_text_is(step, ".")) {
            if (count == SERVER_SEGMENTS || !server_is_name(step)) {
                return (struct server_file){0};
            }
            names[count++] = step;
        }
        from = to + 1;
    }
    return count == 0 || !server_is_beside_name(names[count - 1])
               ? (struct server_file){0}
               : server_read_file(arena, folder, names, count);
}

static bool read_named(struct server_work *work, int folder, enum base_document document) {
    struct base_text name = {0};
    if (!server_name_beside(work->trees[BASE_DOCUMENT_JOB], document, &name)) {
        return true;
    }
    struct server_file file = server_read_beside(work->arena, folder, name);
    if (!file.found) {
        struct base_text parts[] = {
            base_text_of("the job names a file that is not in this folder: "), name};
        work->fault = base_join(work->arena, 2, parts);
        return false;
    }
    work->names[document] = name;
    work->texts[document] = file.bytes;
    work->has_places[document] = true;
    return true;
}

void server_read_work(struct server_work *work, int folder, struct base_text text) {
    work->texts[BASE_DOCUMENT_JOB] = text;
    work->has_places[BASE_DOCUMENT_JOB] = true;
    if (work->status == BASE_OK) {
        work->status = yaml_read_tree(work->arena, &work->issues, BASE_DOCUMENT_JOB, text,
                                      &work->trees[BASE_DOCUMENT_JOB]);
    }
    if (work->status == BASE_OK && (!read_named(work, folder, BASE_DOCUMENT_PRICES) ||
                                    !read_named(work, folder, BASE_DOCUMENT_RAIN) ||
                                    !read_named(work, folder, BASE_DOCUMENT_GAUGE))) {
        work->status = BASE_STOPPED;
    }
    if (work->status == BASE_OK && work->names[BASE_DOCUMENT_PRICES].length > 0) {
        work->status =
            yaml_read_tree(work->arena, &work->issues, BASE_DOCUMENT_PRICES,
                           work->texts[BASE_DOCUMENT_PRICES], &work->trees[BASE_DOCUMENT_PRICES]);
    }
}

void server_solve_work(struct server_work *work) {
    if (work->status != BASE_OK) {
        return;
    }
    struct solve_input input = {.job = work->trees[BASE_DOCUMENT_JOB],
                                .prices = work->trees[BASE_DOCUMENT_PRICES],
                                .rain = work->texts[BASE_DOCUMENT_RAIN],
                                .gauge = work->texts[BASE_DOCUMENT_GAUGE]};
    work->status = solve_job(work->arena, &work->issues, NULL, &input, work->solution);
}
