/* SPDX-License-Identifier: Apache-2.0 */
/* The folder of jobs: listed, read, saved. */
#define _GNU_SOURCE /* fdopendir */
#include <dirent.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "server/server_inside.h"

enum { LIST_FILES_MAX = 4000, LIST_WORK_MS = 2000 };

struct names {
    struct base_arena *arena;
    struct base_text *items;
    size_t count, capacity;
};

static int compare_names(const void *a, const void *b) {
    return base_text_compare(*(const struct base_text *)a, *(const struct base_text *)b);
}

static bool list_names(struct names *names, int folder) {
    int copy = openat(folder, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    DIR *listed = copy < 0 ? NULL : fdopendir(copy);
    if (listed == NULL) {
        if (copy >= 0) {
            (void)close(copy);
        }
        return false;
    }
    for (struct dirent *entry = readdir(listed); entry != NULL && names->count < LIST_FILES_MAX;
         entry = readdir(listed)) {
        struct base_text name = base_text_of(entry->d_name);
        if (!server_is_name(name) || !server_is_beside_name(name)) {
            continue;
        }
        struct base_text *items =
            base_grow(names->arena, names->items, &names->capacity, names->count, sizeof *items);
        if (items == NULL) {
            break;
        }
        names->items = items;
        names->items[names->count++] = base_copy_text(names->arena, name);
    }
    (void)closedir(listed);
    if (names->count > 1) {
        qsort(names->items, names->count, sizeof *names->items, compare_names);
    }
    return !base_arena_failed(names->arena);
}

/* A line of the text begins with the word that opens a price list. */
static bool is_price_list(struct base_text text) {
    static const char WORD[] = "eavesmith prices";
    size_t length = sizeof WORD - 1;
    for (size_t i = 0; i + length <= text.length; i++) {
        size_t from = i;
        while (from > 0 && strchr(" \t\"'{", text.bytes[from - 1]) != NULL) {
            from--;
        }
        if (memcmp(text.bytes + i, WORD, length) == 0 &&
            (from == 0 || text.bytes[from - 1] == '\n')) {
            return true;
        }
    }
    return false;
}

/* ---- the list ------------------------------------------------------------------------------- */

static const char *state_of(const struct server_work *work) {
    if (work->status != BASE_OK) {
        return "bad";
    }
    return work->solution->safe ? "fine" : "not safe";
}

static size_t count_against(const struct server_work *work) {
    return work->status == BASE_OK ? base_count_severity(&work->issues, BASE_SEVERITY_MUST) +
                                         base_count_severity(&work->issues, BASE_SEVERITY_SHOULD)
                                   : base_count_severity(&work->issues, BASE_SEVERITY_STOP);
}

/* Worked out in an arena of its own: a long list must not fill the request's. */
static void write_state(struct tree_writer *writer, int folder, struct base_text text) {
    struct base_arena *arena = base_make_arena(SERVER_ARENA_MAX);
    if (arena == NULL) {
        server_write_word(writer, "state", "not asked");
        return;
    }
    struct server_work work = server_make_work(arena);
    server_read_work(&work, folder, text);
    server_solve_work(&work);
    const struct tree_node *title = tree_find(work.trees[BASE_DOCUMENT_JOB], "job");
    const struct tree_node *customer = tree_find(work.trees[BASE_DOCUMENT_JOB], "customer");
    server_write_string(writer, "job", title == NULL ? (struct base_text){0} : title->text);
    server_write_string(writer, "customer",
                        customer == NULL ? (struct base_text){0} : customer->text);
    server_write_word(writer, "state", state_of(&work));
    server_write_count(writer, "issues", (int64_t)count_against(&work));
    if (work.status == BASE_OK && work.solution->money.priced) {
        server_write_count(writer, "total_minor", work.solution->money.total_minor);
        server_write_string(writer, "currency", work.solution->tariff.currency);
    }
    base_free_arena(arena);
}

static void write_listed(struct tree_writer *writer, int folder, struct base_text name,
                         const struct server_file *file, bool has_time) {
    tree_open_map(writer, (struct base_text){0});
    server_write_string(writer, "name", name);
    server_write_string(writer, "revision", file->revision);
    server_write_count(writer, "bytes", (int64_t)file->bytes.length);
    server_write_string(writer, "changed", file->changed);
    if (has_time) {
        write_state(writer, folder, file->bytes);
    } else {
        server_write_word(writer, "state", "not asked");
    }
    tree_close_map(writer);
}

static void write_beside_name(struct tree_writer *writer, struct base_text name, size_t bytes) {
    tree_open_map(writer, (struct base_text){0});
    server_write_string(writer, "name", name);
    server_write_count(writer, "bytes", (int64_t)bytes);
    tree_close_map(writer);
}

void server_list_jobs(struct server_request *request) {
    int folder = request->server->folder;
    struct names names = {.arena = request->arena};
    if (!list_names(&names, folder)) {
        server_refuse(request, SERVER_FAULT_NO_DISK, "the folder cannot be listed");
        return;
    }
    struct tree_writer beside = tree_make_writer(request->arena);
    struct tree_writer writer = tree_make_writer(request->arena);
    int64_t until_ms = server_now_ms() + LIST_WORK_MS;
    tree_open_map(&writer, (struct base_text){0});
    struct base_text whole = base_text_of(request->server->folder_name);
    server_write_string(&writer, "folder", tree_is_utf8(whole) ? whole : (struct base_text){0});
    tree_open_list(&writer, base_text_of("jobs"));
    tree_open_list(&beside, (struct base_text){0});
    server_begin_work(request);
    for (size_t i = 0; i < names.count; i++) {
        struct base_arena *arena = base_make_arena(SERVER_ARENA_MAX);
        struct server_file file = {0};
        if (arena != NULL) {
            file = server_read_file(arena, folder, &names.items[i], 1);
        }
        if (file.found && server_is_job_name(names.items[i]) && !is_price_list(file.bytes)) {
            write_listed(&writer, folder, names.items[i], &file, server_now_ms() < until_ms);
        } else if (file.found) {
            write_beside_name(&beside, names.items[i], file.bytes.length);
        }
        base_free_arena(arena);
    }
    server_end_work(request);
    tree_close_list(&writer);
    tree_close_list(&beside);
    tree_write_raw(&writer, base_text_of("beside"), base_built(&beside.out));
    tree_close_map(&writer);
    server_answer_json(request, base_built(&writer.out));
}

/* ---- one job -------------------------------------------------------------------------------- */

static void write_file(struct tree_writer *writer, struct base_text name,
                       const struct server_file *file) {
    server_write_string(writer, "name", name);
    if (file->found) {
        server_write_string(writer, "revision", file->revision);
        server_write_string(writer, "changed", file->changed);
        server_write_string(writer, "text", file->bytes);
    }
}

/* JSON holds UTF-8 only. */
static bool is_shown(struct server_request *request, const struct server_file *file) {
    if (!file->found) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND, "there is no such file in this folder");
    } else if (!tree_is_utf8(file->bytes)) {
        server_refuse(request, SERVER_FAULT_BAD_JOB, "the file is not UTF-8 text");
    } else {
        return true;
    }
    return false;
}

static bool has_before(struct server_request *request, struct base_text name) {
    struct base_text before = server_add_tilde(request->arena, name);
    return server_read_file(request->arena, request->server->folder, &before, 1).found;
}

static void write_beside(struct tree_writer *writer, struct server_request *request,
                         const struct tree_node *job, enum base_document document) {
    static const char *const keys[] = {"job", "prices", "rain", "gauge"};
    struct base_text name = {0};
    if (!server_name_beside(job, document, &name)) {
        return;
    }
    struct server_file file = server_read_beside(request->arena, request->server->folder, name);
    file.found = file.found && tree_is_utf8(file.bytes);
    tree_open_map(writer, base_text_of(keys[document]));
    write_file(writer, name, &file);
    tree_close_map(writer);
}

void server_get_job(struct server_request *request) {
    struct base_text name = request->segments[2];
    struct server_file file = server_read_file(request->arena, request->server->folder, &name, 1);
    file.found = file.found && server_is_job_name(name) && !is_price_list(file.bytes);
    if (!is_shown(request, &file)) {
        return;
    }
    struct server_work work = server_make_work(request->arena);
    server_read_work(&work, request->server->folder, file.bytes);
    struct tree_writer writer = tree_make_writer(request->arena);
    tree_open_map(&writer, (struct base_text){0});
    write_file(&writer, name, &file);
    server_write_flag(&writer, "has_before", has_before(request, name));
    write_beside(&writer, request, work.trees[BASE_DOCUMENT_JOB], BASE_DOCUMENT_PRICES);
    write_beside(&writer, request, work.trees[BASE_DOCUMENT_JOB], BASE_DOCUMENT_RAIN);
    write_beside(&writer, request, work.trees[BASE_DOCUMENT_JOB], BASE_DOCUMENT_GAUGE);
    tree_close_map(&writer);
    request->answer.revision = file.revision;
    server_answer_json(request, base_built(&writer.out));
}

static void answer_file(struct server_request *request, struct base_text name,
                        const struct server_file *file) {
    if (!is_shown(request, file)) {
        return;
    }
    struct tree_writer writer = tree_make_writer(request->arena);
    tree_open_map(&writer, (struct base_text){0});
    write_file(&writer, name, file);
    tree_close_map(&writer);
    request->answer.revision = file->revision;
    server_answer_json(request, base_built(&writer.out));
}

void server_get_before(struct server_request *request) {
    struct base_text name = server_add_tilde(request->arena, request->segments[2]);
    struct server_file file = server_read_file(request->arena, request->server->folder, &name, 1);
    file.found = file.found && server_is_job_name(request->segments[2]);
    answer_file(request, request->segments[2], &file);
}

void server_get_beside(struct server_request *request) {
    const struct base_text *names = request->segments + 2;
    size_t count = request->segment_count - 2;
    struct base_builder path = {.arena = request->arena};
    for (size_t i = 0; i < count; i++) {
        base_add_string(&path, i == 0 ? "" : "/");
        base_add_text(&path, names[i]);
    }
    struct server_file file =
        server_read_file(request->arena, request->server->folder, names, count);
    file.found = file.found && server_is_beside_name(names[count - 1]);
    answer_file(request, base_built(&path), &file);
}

/* ---- saving --------------------------------------------------------------------------------- */

/* "REVISION" without its quotes; false when it stands in another form. */
static bool read_revision(struct server_request *request, struct base_text *revision) {
    const char *match =
        MHD_lookup_connection_value(request->connection, MHD_HEADER_KIND, MHD_HTTP_HEADER_IF_MATCH);
    const char *none = MHD_lookup_connection_value(request->connection, MHD_HEADER_KIND,
                                                   MHD_HTTP_HEADER_IF_NONE_MATCH);
    *revision = (struct base_text){0};
    if (match == NULL) {
        return none != NULL && strcmp(none, "*") == 0;
    }
    size_t length = strlen(match);
    if (none != NULL || length < 3 || match[0] != '"' || match[length - 1] != '"') {
        return false;
    }
    *revision = (struct base_text){match + 1, length - 2};
    return true;
}

static bool read_saved_text(struct server_request *request, struct base_text *text) {
    struct base_issues issues = {.arena = request->arena};
    struct base_text body = {request->body, request->body_length};
    const struct tree_node *root = tree_read_json(request->arena, &issues, BASE_DOCUMENT_JOB, body);
    const struct tree_node *node = tree_find(root, "text");
    if (node == NULL || node->kind != TREE_SCALAR || !node->quoted) {
        server_refuse(request, SERVER_FAULT_BAD_JSON, "send {\"text\": \"the whole new text\"}");
        return false;
    }
    if (node->text.length > 0 && memchr(node->text.bytes, 0, node->text.length) != NULL) {
        server_refuse(request, SERVER_FAULT_BAD_REQUEST, "the text holds a NUL");
        return false;
    }
    *text = node->text;
    return true;
}

static void answer_conflict(struct server_request *request, struct base_text text,
                            const struct server_file *disk) {
    struct tree_writer writer = tree_make_writer(request->arena);
    tree_open_map(&writer, (struct base_text){0});
    server_write_fault(&writer, SERVER_FAULT_CONFLICT,
                       disk->found ? "the file was changed meanwhile: nothing was written"
                                   : "the file is not there any more: nothing was written");
    if (disk->found && tree_is_utf8(disk->bytes)) {
        tree_open_map(&writer, base_text_of("disk"));
        write_file(&writer, request->segments[2], disk);
        tree_close_map(&writer);
    }
    tree_open_map(&writer, base_text_of("yours"));
    server_write_string(&writer, "revision", server_make_revision(request->arena, text));
    server_write_string(&writer, "text", text);
    tree_close_map(&writer);
    tree_close_map(&writer);
    request->answer.status = MHD_HTTP_CONFLICT;
    request->answer.revision = disk->revision;
    server_answer_json(request, base_built(&writer.out));
}

static void answer_saved(struct server_request *request, const struct server_file *disk) {
    struct tree_writer writer = tree_make_writer(request->arena);
    tree_open_map(&writer, (struct base_text){0});
    server_write_string(&writer, "name", request->segments[2]);
    server_write_string(&writer, "revision", disk->revision);
    server_write_string(&writer, "changed", disk->changed);
    server_write_flag(&writer, "has_before", has_before(request, request->segments[2]));
    tree_close_map(&writer);
    request->answer.revision = disk->revision;
    server_answer_json(request, base_built(&writer.out));
}

void server_put_job(struct server_request *request) {
    struct server_save save = {.name = request->segments[2]};
    struct server_file disk = {0};
    if (!server_is_job_name(save.name)) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND,
                      "the name of a job ends in .yaml, .yml or .json");
        return;
    }
    if (!read_revision(request, &save.revision)) {
        server_refuse(request, SERVER_FAULT_NO_REVISION,
                      "say If-Match: \"REVISION\", or If-None-Match: * for a new file");
        return;
    }
    if (!read_saved_text(request, &save.bytes)) {
        return;
    }
    switch (server_save_file(request, save, &disk)) {
    case SERVER_SAVED:
        answer_saved(request, &disk);
        return;
    case SERVER_SAVED_NEW:
        request->answer.status = MHD_HTTP_CREATED;
        answer_saved(request, &disk);
        return;
    case SERVER_CHANGED_MEANWHILE:
        answer_conflict(request, save.bytes, &disk);
        return;
    case SERVER_NOT_SAVED:
        break;
    }
    server_refuse(request, SERVER_FAULT_NO_DISK,
                  "the file could not be written: is the disk full, or the folder read-only?");
}
