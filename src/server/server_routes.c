/* SPDX-License-Identifier: Apache-2.0 */
/* Which address is answered by what, and what it costs. */
#include <assert.h>

#include "server/server_inside.h"

enum { COST_FILE = 1, COST_SAVE = 5, COST_WORK = 5, COST_PAPER = 40 };

/* ---- answers -------------------------------------------------------------------------------- */

static const struct {
    unsigned status;
    const char *word;
} FAULTS[SERVER_FAULTS] = {
    [SERVER_FAULT_BAD_REQUEST] = {400, "BAD_REQUEST"},
    [SERVER_FAULT_WRONG_HOST] = {421, "WRONG_HOST"},
    [SERVER_FAULT_WRONG_ORIGIN] = {403, "WRONG_ORIGIN"},
    [SERVER_FAULT_NO_TOKEN] = {403, "NO_TOKEN"},
    [SERVER_FAULT_WRONG_TYPE] = {415, "WRONG_TYPE"},
    [SERVER_FAULT_NO_LENGTH] = {411, "NO_LENGTH"},
    [SERVER_FAULT_TOO_LARGE] = {413, "TOO_LARGE"},
    [SERVER_FAULT_TOO_MANY] = {429, "TOO_MANY"},
    [SERVER_FAULT_NOT_FOUND] = {404, "NOT_FOUND"},
    [SERVER_FAULT_WRONG_METHOD] = {405, "WRONG_METHOD"},
    [SERVER_FAULT_NO_REVISION] = {428, "NO_REVISION"},
    [SERVER_FAULT_CONFLICT] = {409, "CONFLICT"},
    [SERVER_FAULT_BAD_JSON] = {400, "BAD_JSON"},
    [SERVER_FAULT_BAD_JOB] = {422, "BAD_JOB"},
    [SERVER_FAULT_NOT_SAFE] = {422, "NOT_SAFE"},
    [SERVER_FAULT_NO_DISK] = {500, "NO_DISK"},
    [SERVER_FAULT_NO_MEMORY] = {503, "NO_MEMORY"},
};

const char *server_fault_word(enum server_fault fault) {
    assert(fault < SERVER_FAULTS);
    return FAULTS[fault].word;
}

void server_answer_json(struct server_request *request, struct base_text body) {
    if (request->answer.status == 0) {
        request->answer.status = MHD_HTTP_OK;
    }
    request->answer.type = "application/json";
    request->answer.body = body;
}

void server_refuse_work(struct server_request *request, enum server_fault fault, const char *text,
                        const struct server_work *work) {
    request->answer = (struct server_answer){.status = FAULTS[fault].status};
    if (!request->is_api) {
        request->answer.type = "text/plain; charset=utf-8";
        struct base_text parts[] = {base_text_of(text), base_text_of("\n")};
        request->answer.body = base_join(request->arena, 2, parts);
        return;
    }
    bool has_fault = work != NULL && work->fault.length > 0;
    struct base_text said =
        has_fault ? base_copy_text(request->arena, work->fault) : base_text_of(text);
    struct tree_writer writer = tree_make_writer(request->arena);
    tree_open_map(&writer, (struct base_text){0});
    server_write_fault(&writer, fault, said.bytes == NULL ? text : said.bytes);
    if (work != NULL) {
        server_write_issues(&writer, work);
    }
    tree_close_map(&writer);
    server_answer_json(request, base_built(&writer.out));
}

void server_refuse(struct server_request *request, enum server_fault fault, const char *text) {
    server_refuse_work(request, fault, text, NULL);
}

/* ---- routes --------------------------------------------------------------------------------- */

struct route {
    enum server_method method;
    const char *first;  /* after api */
    size_t least, most; /* segments, api and first included */
    const char *last;   /* of four segments; NULL = any */
    int64_t cost;
    void (*run)(struct server_request *request);
};

static const struct route ROUTES[] = {
    {SERVER_GET, "jobs", 2, 2, NULL, COST_PAPER, server_list_jobs},
    {SERVER_GET, "jobs", 3, 3, NULL, COST_FILE, server_get_job},
    {SERVER_PUT, "jobs", 3, 3, NULL, COST_SAVE, server_put_job},
    {SERVER_GET, "jobs", 4, 4, "before", COST_FILE, server_get_before},
    {SERVER_GET, "jobs", 4, 4, NULL, COST_PAPER, server_get_paper},
    {SERVER_GET, "beside", 3, SERVER_SEGMENTS, NULL, COST_FILE, server_get_beside},
    {SERVER_POST, "tree", 2, 2, NULL, COST_WORK, server_post_tree},
    {SERVER_POST, "solve", 2, 2, NULL, COST_WORK, server_post_solve},
};

static bool is_here(const struct route *route, const struct server_request *request) {
    return request->segment_count >= route->least && request->segment_count <= route->most &&
           base_text_is(request->segments[1], route->first) &&
           (route->last == NULL || base_text_is(request->segments[3], route->last));
}

/* A route for the address, the one of the request's method if there is one. */
static const struct route *find_route(const struct server_request *request) {
    const struct route *found = NULL;
    for (size_t i = 0; i < sizeof ROUTES / sizeof ROUTES[0]; i++) {
        if (is_here(&ROUTES[i], request) &&
            (found == NULL ||
             (found->method != request->method && ROUTES[i].method == request->method))) {
            found = &ROUTES[i];
        }
    }
    return found;
}

static const char *allow_of(const struct route *route) {
    switch (route->method) {
    case SERVER_GET:
        return route->run == server_get_job ? "GET, HEAD, PUT" : "GET, HEAD";
    case SERVER_PUT:
        return "PUT";
    case SERVER_POST:
        return "POST";
    case SERVER_OTHER:
        break;
    }
    return "GET, HEAD";
}

void server_route(struct server_request *request) {
    static const struct route page = {SERVER_GET, NULL, 0, 0, NULL, COST_FILE, server_get_page};
    const struct route *route = &page;
    if (request->is_api) {
        route = request->segment_count > 1 ? find_route(request) : NULL;
    }
    if (route == NULL) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND, "there is no such address");
    } else if (route->method != request->method) {
        server_refuse(request, SERVER_FAULT_WRONG_METHOD, "this address is not used that way");
        request->answer.allow = allow_of(route);
    } else if (!server_spend(request->server, &request->server->known, route->cost)) {
        server_refuse(request, SERVER_FAULT_TOO_MANY, "too many requests at once: wait a second");
    } else {
        route->run(request);
    }
    if (base_arena_failed(request->arena)) {
        request->answer = (struct server_answer){
            .status = FAULTS[SERVER_FAULT_NO_MEMORY].status,
            .type = "application/json",
            .body = base_text_of("{\"error\": {\"code\": \"NO_MEMORY\", \"text\": "
                                 "\"there is not enough memory\"}}\n")};
    }
}
