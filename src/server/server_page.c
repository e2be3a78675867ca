/* SPDX-License-Identifier: Apache-2.0 */
/* The page's own files, from the folder installed with the program. */
#define _GNU_SOURCE /* readlink, openat */
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "server/server_inside.h"

static const struct {
    const char *ending, *type;
} TYPES[] = {
    {".html", "text/html; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".css", "text/css; charset=utf-8"},
    {".json", "application/json"},
    {".txt", "text/plain; charset=utf-8"},
    {".svg", "image/svg+xml"},
    {".png", "image/png"},
    {".ico", "image/x-icon"},
    {".woff2", "font/woff2"},
    {".wasm", "application/wasm"},
};

/* Beside the program: page/ in the build folder, share/eavesmith/page/ once installed. */
int server_open_page(void) {
    static const char *const places[] = {"page", "../share/eavesmith/page"};
    char program[4096];
    ssize_t length = readlink("/proc/self/exe", program, sizeof program - 1);
    if (length <= 0) {
        return -1;
    }
    program[length] = '\0';
    char *slash = strrchr(program, '/');
    if (slash == NULL) {
        return -1;
    }
    *slash = '\0';
    int page = -1;
    for (size_t i = 0; i < sizeof places / sizeof places[0] && page < 0; i++) {
        char name[4200];
        (void)snprintf(name, sizeof name, "%s/%s", program, places[i]);
        page = open(name, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    }
    return page;
}

static const char *type_of(struct base_text name) {
    for (size_t i = 0; i < sizeof TYPES / sizeof TYPES[0]; i++) {
        if (server_ends_with(name, TYPES[i].ending)) {
            return TYPES[i].type;
        }
    }
    return NULL;
}

void server_get_page(struct server_request *request) {
    struct base_text first = base_text_of("index.html");
    const struct base_text *names = request->segments;
    size_t count = request->segment_count;
    if (count == 0) {
        names = &first;
        count = 1;
    }
    if (request->server->page < 0) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND,
                      "The page was not built: there is no folder page/ beside the program. "
                      "The addresses below /api/ work without it.");
        return;
    }
    const char *type = type_of(names[count - 1]);
    struct server_file file = {0};
    if (type != NULL) {
        file = server_read_file(request->arena, request->server->page, names, count);
    }
    if (!file.found) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND, "there is no such page");
        return;
    }
    request->answer.revision = file.revision;
    request->answer.status = MHD_HTTP_OK;
    request->answer.body = file.bytes;
    request->answer.type = type;
}
