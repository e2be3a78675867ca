/* SPDX-License-Identifier: Apache-2.0 */
/* Addresses and names, as text only: what is let through here may be opened below the folder. */
#include <string.h>

#include "server/server_inside.h"

static int hex_digit(char c) {
    if (c >= '0' && c <= '9') {
        return c - '0';
    }
    if (c >= 'a' && c <= 'f') {
        return c - 'a' + 10;
    }
    return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

/* Percent signs resolved once; false for a bad one. */
static bool decode(struct base_arena *arena, const char *from, size_t length,
                   struct base_text *decoded) {
    char *bytes = base_take(arena, length + 1, 1);
    size_t count = 0;
    if (bytes == NULL) {
        return false;
    }
    for (size_t i = 0; i < length; i++) {
        if (from[i] != '%') {
            bytes[count++] = from[i];
            continue;
        }
        bool whole = i + 2 < length;
        int high = whole ? hex_digit(from[i + 1]) : -1;
        int low = whole ? hex_digit(from[i + 2]) : -1;
        if (high < 0 || low < 0) {
            return false;
        }
        bytes[count++] = (char)(high * 16 + low);
        i += 2;
    }
    *decoded = (struct base_text){bytes, count};
    return true;
}

bool server_is_name(struct base_text name) {
    if (name.length == 0 || name.length > SERVER_NAME_MAX || name.bytes[0] == '.' ||
        !tree_is_utf8(name)) {
        return false;
    }
    for (size_t i = 0; i < name.length; i++) {
        unsigned char byte = (unsigned char)name.bytes[i];
        if (byte < 0x20 || byte == 0x7F || byte == '/' || byte == '\\') {
            return false;
        }
    }
    return true;
}

bool server_split_path(struct base_arena *arena, const char *url, struct base_text *segments,
                       size_t *count) {
    *count = 0;
    if (url[0] != '/') {
        return false;
    }
    const char *at = url + 1; /* the root has no names */
    while (at[0] != '\0') {
        size_t length = strcspn(at, "/");
        if (length == 0 || *count == SERVER_SEGMENTS ||
            !decode(arena, at, length, &segments[*count]) || !server_is_name(segments[*count])) {
            return false;
        }
        (*count)++;
        at += length;
        if (at[0] == '/' && (++at)[0] == '\0') {
            return false; /* nothing after the last slash */
        }
    }
    return true;
}

bool server_ends_with(struct base_text text, const char *ending) {
    size_t length = strlen(ending);
    return text.length > length && memcmp(text.bytes + text.length - length, ending, length) == 0;
}

bool server_is_job_name(struct base_text name) {
    return server_ends_with(name, ".yaml") || server_ends_with(name, ".yml") ||
           server_ends_with(name, ".json");
}

bool server_is_beside_name(struct base_text name) {
    return server_is_job_name(name) || server_ends_with(name, ".csv");
}
