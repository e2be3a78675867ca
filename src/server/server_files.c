/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Files below one opened folder. Every step down is an open of its own that follows no link, so
 * that no name, however it is made, leads out; a save is a new file put in the place of the old.
 */
#define _GNU_SOURCE /* renameat2, openat, gmtime_r */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "server/server_inside.h"

/* ---- reading -------------------------------------------------------------------------------- */

static struct base_text text_with(struct base_arena *arena, const char *before,
                                  struct base_text name, const char *after) {
    struct base_text parts[] = {base_text_of(before), name, base_text_of(after)};
    return base_join(arena, 3, parts);
}

struct base_text server_add_tilde(struct base_arena *arena, struct base_text name) {
    return text_with(arena, "", name, "~");
}

/* The opened file, or -1. */
static int open_below(struct base_arena *arena, int folder, const struct base_text *names,
                      size_t count) {
    int at = folder;
    for (size_t i = 0; i < count && at >= 0; i++) {
        struct base_text name = base_copy_text(arena, names[i]);
        bool last = i + 1 == count;
        int flags = O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK | (last ? 0 : O_DIRECTORY);
        int next = name.bytes == NULL ? -1 : openat(at, name.bytes, flags);
        if (at != folder) {
            (void)close(at);
        }
        at = next;
    }
    return count == 0 ? -1 : at;
}

static bool read_bytes(struct base_arena *arena, int file, size_t size, struct base_text *bytes) {
    struct base_builder builder = {.arena = arena};
    char buffer[16384];
    ssize_t got = size > SERVER_FILE_MAX ? -1 : read(file, buffer, sizeof buffer);
    while (got > 0 && builder.length <= SERVER_FILE_MAX) { /* it may grow while it is read */
        base_add_text(&builder, (struct base_text){buffer, (size_t)got});
        got = read(file, buffer, sizeof buffer);
    }
    *bytes = base_built(&builder);
    return got == 0 && !base_arena_failed(arena);
}

static struct base_text write_time(struct base_arena *arena, time_t seconds) {
    struct tm parts;
    char text[32] = "";
    if (gmtime_r(&seconds, &parts) == NULL ||
        strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &parts) == 0) {
        return (struct base_text){0};
    }
    return base_copy_text(arena, base_text_of(text));
}

/* FNV-1a, and the length: enough to tell two saves of one file apart; nobody gains by forging it.
 */
struct base_text server_make_revision(struct base_arena *arena, struct base_text bytes) {
    uint64_t hash = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < bytes.length; i++) {
        hash = (hash ^ (unsigned char)bytes.bytes[i]) * UINT64_C(1099511628211);
    }
    char text[48];
    (void)snprintf(text, sizeof text, "%016llx-%zx", (unsigned long long)hash, bytes.length);
    return base_copy_text(arena, base_text_of(text));
}

static struct server_file read_opened(struct base_arena *arena, int file) {
    struct server_file read = {0};
    struct stat about;
    if (file < 0) {
        return read;
    }
    if (fstat(file, &about) == 0 && S_ISREG(about.st_mode) && about.st_size >= 0 &&
        read_bytes(arena, file, (size_t)about.st_size, &read.bytes)) {
        read.found = true;
        read.mode = about.st_mode & 0777;
        read.changed = write_time(arena, about.st_mtime);
        read.revision = server_make_revision(arena, read.bytes);
    }
    (void)close(file);
    return read;
}

struct server_file server_read_file(struct base_arena *arena, int folder,
                                    const struct base_text *names, size_t count) {
    return read_opened(arena, open_below(arena, folder, names, count));
}

/* ---- saving --------------------------------------------------------------------------------- */

static bool write_bytes(int file, struct base_text bytes) {
    size_t done = 0;
    while (done < bytes.length) {
        ssize_t wrote = write(file, bytes.bytes + done, bytes.length - done);
        if (wrote < 0 && errno != EINTR) {
            return false;
        }
        done += wrote < 0 ? 0 : (size_t)wrote;
    }
    return true;
}

/* A whole new file, on the disk before anything is renamed to it. */
static bool write_part(int folder, const char *name, struct base_text bytes, unsigned mode) {
    (void)unlinkat(folder, name, 0); /* left by a save that was cut off */
    int file = openat(folder, name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0600);
    if (file < 0) {
        return false;
    }
    bool good = write_bytes(file, bytes) && fchmod(file, mode) == 0 && fsync(file) == 0;
    good = close(file) == 0 && good;
    if (!good) {
        (void)unlinkat(folder, name, 0);
    }
    return good;
}

/* What stood there is kept beside it, in full, before it is replaced. */
static bool keep_before(struct base_arena *arena, int folder, struct base_text name,
                        const struct server_file *before) {
    struct base_text part = text_with(arena, ".", name, "~.part");
    struct base_text kept = server_add_tilde(arena, name);
    return !base_arena_failed(arena) &&
           write_part(folder, part.bytes, before->bytes, before->mode) &&
           renameat(folder, part.bytes, folder, kept.bytes) == 0;
}

static bool is_missing_call(int error) {
    return error == ENOSYS || error == EINVAL || error == ENOTSUP;
}

struct put {
    int folder;
    const char *part, *name;
    struct base_text before, bytes; /* what is to be replaced, and by what */
};

/* The new file into an empty place; false when the place is taken. */
static bool put_new(int folder, const char *part, const char *name) {
    if (renameat2(folder, part, folder, name, RENAME_NOREPLACE) == 0) {
        return true;
    }
    if (!is_missing_call(errno)) {
        return false;
    }
    return linkat(folder, part, folder, name, 0) == 0; /* the part goes in the end */
}

/*
 * The part and the file change places. When what comes out is not what was to be replaced, an
 * editor wrote between our look and our rename: its text goes back in. That too is looked at: what
 * comes out must be what we put in last, until it is.
 */
static enum server_saved put_over(struct server_request *request, struct put put) {
    enum { TRIES = 64 };
    struct base_text expected = put.before;
    struct base_text put_in = put.bytes;
    struct base_text part = base_text_of(put.part);
    for (int i = 0; i < TRIES; i++) {
        if (renameat2(put.folder, put.part, put.folder, put.name, RENAME_EXCHANGE) != 0) {
            if (i == 0 && is_missing_call(errno)) {
                bool good = renameat(put.folder, put.part, put.folder, put.name) == 0;
                return good ? SERVER_SAVED : SERVER_NOT_SAVED;
            }
            return errno == ENOENT ? SERVER_CHANGED_MEANWHILE : SERVER_NOT_SAVED;
        }
        struct server_file out = server_read_file(request->arena, put.folder, &part, 1);
        if (out.found && base_text_equal(out.bytes, expected)) {
            return i == 0 ? SERVER_SAVED : SERVER_CHANGED_MEANWHILE;
        }
        expected = put_in;
        put_in = out.bytes;
    }
    return SERVER_NOT_SAVED;
}

static enum server_saved save_locked(struct server_request *request, struct server_save save,
                                     struct server_file *on_disk) {
    struct base_arena *arena = request->arena;
    int folder = request->server->folder;
    *on_disk = server_read_file(arena, folder, &save.name, 1);
    if (on_disk->found && base_text_equal(on_disk->bytes, save.bytes)) {
        return SERVER_SAVED; /* an answer was lost and the save came again */
    }
    if (on_disk->found != (save.revision.length > 0) ||
        (on_disk->found && !base_text_equal(on_disk->revision, save.revision))) {
        return SERVER_CHANGED_MEANWHILE;
    }
    struct base_text name = base_copy_text(arena, save.name);
    struct base_text part = text_with(arena, ".", name, ".part");
    if (base_arena_failed(arena) ||
        (on_disk->found && !keep_before(arena, folder, name, on_disk)) ||
        !write_part(folder, part.bytes, save.bytes, on_disk->found ? on_disk->mode : 0644)) {
        return SERVER_NOT_SAVED;
    }
    enum server_saved saved = SERVER_SAVED_NEW;
    if (on_disk->found) {
        saved = put_over(request, (struct put){.folder = folder,
                                               .part = part.bytes,
                                               .name = name.bytes,
                                               .before = on_disk->bytes,
                                               .bytes = save.bytes});
    } else if (!put_new(folder, part.bytes, name.bytes)) {
        saved = errno == EEXIST ? SERVER_CHANGED_MEANWHILE : SERVER_NOT_SAVED;
    }
    (void)unlinkat(folder, part.bytes, 0);
    (void)fsync(folder);
    *on_disk = server_read_file(arena, folder, &save.name, 1);
    return saved;
}

enum server_saved server_save_file(struct server_request *request, struct server_save save,
                                   struct server_file *on_disk) {
    (void)pthread_mutex_lock(&request->server->saving);
    enum server_saved saved = save_locked(request, save, on_disk);
    (void)pthread_mutex_unlock(&request->server->saving);
    return saved;
}
