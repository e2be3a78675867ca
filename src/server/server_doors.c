/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Who may ask. A page of elsewhere can make a browser on this computer send requests here, or give
 * its own name this computer's address; so every request must name this host, come from this page
 * or from nowhere, and hold the token that only the start address gives away.
 */
#include <stdio.h>
#include <string.h>

#include "server/server_inside.h"

enum { KNOWN_A_SECOND = 1000, STRANGERS_A_SECOND = 50 };

/* ---- budgets -------------------------------------------------------------------------------- */

bool server_spend(struct server *server, struct server_budget *budget, int64_t cost) {
    int64_t a_second = budget == &server->strangers ? STRANGERS_A_SECOND : KNOWN_A_SECOND;
    (void)pthread_mutex_lock(&server->guard);
    int64_t now_ms = server_now_ms();
    int64_t most = a_second * 1000;
    budget->points += (now_ms - budget->at_ms) * a_second; /* thousandths */
    budget->points = budget->points > most ? most : budget->points;
    budget->at_ms = now_ms;
    bool good = budget->points >= cost * 1000;
    if (good) {
        budget->points -= cost * 1000;
    }
    (void)pthread_mutex_unlock(&server->guard);
    return good;
}

/* ---- headers -------------------------------------------------------------------------------- */

static const char *header(const struct server_request *request, const char *name) {
    return MHD_lookup_connection_value(request->connection, MHD_HEADER_KIND, name);
}

struct counted {
    const char *name;
    int count;
};

static enum MHD_Result count_header(void *counted, enum MHD_ValueKind kind, const char *key,
                                    const char *value) {
    struct counted *header = counted;
    (void)kind;
    (void)value;
    bool same = strlen(key) == strlen(header->name);
    for (size_t i = 0; same && key[i] != '\0'; i++) {
        same = (key[i] | 0x20) == (header->name[i] | 0x20);
    }
    header->count += same ? 1 : 0;
    return MHD_YES;
}

static int count_headers(const struct server_request *request, const char *name) {
    struct counted counted = {name, 0};
    (void)MHD_get_connection_values(request->connection, MHD_HEADER_KIND, count_header, &counted);
    return counted.count;
}

/* 127.0.0.1:8470 or localhost:8470. */
static bool is_our_host(const struct server *server, const char *host) {
    static const char *const names[] = {"127.0.0.1", "localhost"};
    char wanted[32];
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        (void)snprintf(wanted, sizeof wanted, "%s:%u", names[i], server->port);
        if (strcmp(host, wanted) == 0) {
            return true;
        }
    }
    return false;
}

/* Every byte is looked at, so that the time taken tells nothing. */
static bool is_token(const struct server *server, const char *given, size_t length) {
    unsigned differs = length == SERVER_TOKEN_LENGTH ? 0 : 1;
    for (size_t i = 0; i < SERVER_TOKEN_LENGTH; i++) {
        unsigned char byte = i < length ? (unsigned char)given[i] : 0;
        differs |= byte ^ (unsigned char)server->token[i];
    }
    return differs == 0;
}

static bool has_token(const struct server_request *request) {
    static const char BEARER[] = "Bearer ";
    const struct server *server = request->server;
    const char *cookie =
        MHD_lookup_connection_value(request->connection, MHD_COOKIE_KIND, server->cookie);
    if (cookie != NULL && is_token(server, cookie, strlen(cookie))) {
        return true;
    }
    const char *given = header(request, MHD_HTTP_HEADER_AUTHORIZATION);
    size_t prefix = sizeof BEARER - 1;
    return given != NULL && strncmp(given, BEARER, prefix) == 0 &&
           is_token(server, given + prefix, strlen(given + prefix));
}

static bool is_json_type(const char *type) {
    static const char JSON[] = "application/json";
    size_t length = sizeof JSON - 1;
    return type != NULL && strncmp(type, JSON, length) == 0 &&
           (type[length] == '\0' || type[length] == ';' || type[length] == ' ');
}

/* ---- doors ---------------------------------------------------------------------------------- */

static bool check_place(struct server_request *request) {
    const char *host = header(request, MHD_HTTP_HEADER_HOST);
    const char *origin = header(request, MHD_HTTP_HEADER_ORIGIN);
    if (host == NULL || count_headers(request, MHD_HTTP_HEADER_HOST) != 1 ||
        !is_our_host(request->server, host)) {
        server_refuse(request, SERVER_FAULT_WRONG_HOST, "this is not the host you name");
        return false;
    }
    static const char HTTP[] = "http://";
    size_t prefix = sizeof HTTP - 1;
    if (origin != NULL &&
        (count_headers(request, MHD_HTTP_HEADER_ORIGIN) != 1 ||
         strncmp(origin, HTTP, prefix) != 0 || strcmp(origin + prefix, host) != 0)) {
        server_refuse(request, SERVER_FAULT_WRONG_ORIGIN, "only its own page may ask here");
        return false;
    }
    return true;
}

static bool refuse_stranger(struct server_request *request) {
    if (!server_spend(request->server, &request->server->strangers, 1)) {
        server_refuse(request, SERVER_FAULT_TOO_MANY, "too many requests without the token");
        return false;
    }
    server_refuse(request, SERVER_FAULT_NO_TOKEN,
                  "Open the start address that eavesmith serve printed.");
    return false;
}

static bool check_token(struct server_request *request, const char *url) {
    if (strcmp(url, "/start") == 0 && request->method == SERVER_GET) {
        const char *given =
            MHD_lookup_connection_value(request->connection, MHD_GET_ARGUMENT_KIND, "token");
        if (given == NULL || !is_token(request->server, given, strlen(given))) {
            return refuse_stranger(request);
        }
        request->answer = (struct server_answer){
            .status = MHD_HTTP_SEE_OTHER, .type = "text/plain", .starts = true};
        return false; /* nothing more to do */
    }
    const char *site = header(request, "Sec-Fetch-Site");
    if (site != NULL && strcmp(site, "same-origin") != 0 && strcmp(site, "none") != 0) {
        server_refuse(request, SERVER_FAULT_WRONG_ORIGIN, "only its own page may ask here");
        return false;
    }
    return has_token(request) || refuse_stranger(request);
}

/* Digits only, and not more than we would take anyway. */
static bool read_length(const char *text, size_t *length) {
    *length = 0;
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (text[i] < '0' || text[i] > '9') {
            return false;
        }
        if (*length <= SERVER_BODY_MAX) {
            *length = *length * 10 + (size_t)(text[i] - '0');
        }
    }
    return text[0] != '\0';
}

static bool check_body(struct server_request *request) {
    const char *length = header(request, MHD_HTTP_HEADER_CONTENT_LENGTH);
    bool chunked = header(request, MHD_HTTP_HEADER_TRANSFER_ENCODING) != NULL;
    if (request->method == SERVER_GET || request->method == SERVER_OTHER) {
        if (chunked || (length != NULL && strcmp(length, "0") != 0)) {
            server_refuse(request, SERVER_FAULT_BAD_REQUEST, "a body has no use here");
            return false;
        }
        return true;
    }
    if (!is_json_type(header(request, MHD_HTTP_HEADER_CONTENT_TYPE))) {
        server_refuse(request, SERVER_FAULT_WRONG_TYPE, "send Content-Type: application/json");
        return false;
    }
    if (length == NULL || chunked || !read_length(length, &request->body_expected)) {
        server_refuse(request, SERVER_FAULT_NO_LENGTH, "say Content-Length");
        return false;
    }
    if (request->body_expected > SERVER_BODY_MAX) {
        server_refuse(request, SERVER_FAULT_TOO_LARGE, "the body is larger than 4 MiB");
        return false;
    }
    request->body = base_take(request->arena, request->body_expected + 1, 1);
    if (request->body == NULL) {
        server_refuse(request, SERVER_FAULT_NO_MEMORY, "there is not enough memory");
        return false;
    }
    return true;
}

bool server_check_doors(struct server_request *request, const char *url) {
    request->is_api = strncmp(url, "/api/", 5) == 0 || strcmp(url, "/api") == 0;
    if (!check_place(request) || !check_token(request, url)) {
        return false;
    }
    if (!server_split_path(request->arena, url, request->segments, &request->segment_count)) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND, "there is no such address");
        return false;
    }
    return check_body(request);
}

/* ---- sending -------------------------------------------------------------------------------- */

static const char *const ALWAYS[][2] = {
    {"Content-Security-Policy",
     "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; "
     "img-src 'self' blob: data:; connect-src 'self'; font-src 'self'; form-action 'none'; "
     "base-uri 'none'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
};

static bool add_start(struct MHD_Response *response, const struct server *server) {
    char cookie[128];
    (void)snprintf(cookie, sizeof cookie, "%s=%s; Path=/; HttpOnly; SameSite=Strict",
                   server->cookie, server->token);
    return MHD_add_response_header(response, MHD_HTTP_HEADER_SET_COOKIE, cookie) == MHD_YES &&
           MHD_add_response_header(response, MHD_HTTP_HEADER_LOCATION, "/") == MHD_YES;
}

/* The name in UTF-8, percent-encoded (RFC 8187). */
static bool add_kept_as(struct MHD_Response *response, struct base_text name) {
    char value[64 + 3 * (SERVER_NAME_MAX + 32)] = "attachment; filename*=UTF-8''";
    size_t at = strlen(value);
    for (size_t i = 0; i < name.length && at + 4 < sizeof value; i++) {
        unsigned char byte = (unsigned char)name.bytes[i];
        bool plain = (byte >= '0' && byte <= '9') ||
                     ((byte | 0x20) >= 'a' && (byte | 0x20) <= 'z') || byte == '.' || byte == '-' ||
                     byte == '_';
        at += (size_t)snprintf(value + at, sizeof value - at, plain ? "%c" : "%%%02X", byte);
    }
    return MHD_add_response_header(response, MHD_HTTP_HEADER_CONTENT_DISPOSITION, value) == MHD_YES;
}

static bool add_headers(struct MHD_Response *response, const struct server_request *request) {
    const struct server_answer *answer = &request->answer;
    bool good = true;
    for (size_t i = 0; i < sizeof ALWAYS / sizeof ALWAYS[0]; i++) {
        good = MHD_add_response_header(response, ALWAYS[i][0], ALWAYS[i][1]) == MHD_YES && good;
    }
    bool kept_nowhere = request->is_api || answer->starts;
    good = MHD_add_response_header(response, MHD_HTTP_HEADER_CACHE_CONTROL,
                                   kept_nowhere ? "no-store" : "no-cache") == MHD_YES &&
           good;
    good =
        MHD_add_response_header(response, MHD_HTTP_HEADER_CONTENT_TYPE, answer->type) == MHD_YES &&
        good;
    if (answer->revision.length > 0) {
        char tag[64];
        (void)snprintf(tag, sizeof tag, "\"%.*s\"", (int)answer->revision.length,
                       answer->revision.bytes);
        good = MHD_add_response_header(response, MHD_HTTP_HEADER_ETAG, tag) == MHD_YES && good;
    }
    if (answer->allow != NULL) {
        good = MHD_add_response_header(response, MHD_HTTP_HEADER_ALLOW, answer->allow) == MHD_YES &&
               good;
    }
    if (answer->status == MHD_HTTP_TOO_MANY_REQUESTS) {
        good =
            MHD_add_response_header(response, MHD_HTTP_HEADER_RETRY_AFTER, "1") == MHD_YES && good;
    }
    if (answer->kept_as.length > 0) {
        good = add_kept_as(response, answer->kept_as) && good;
    }
    return good && (!answer->starts || add_start(response, request->server));
}

enum MHD_Result server_send(struct server_request *request) {
    const struct server_answer *answer = &request->answer;
    /* the library takes what it only reads as changeable */
    union {
        const void *read;
        void *taken;
    } body = {.read = answer->body.length > 0 ? answer->body.bytes : ""};
    struct MHD_Response *response = MHD_create_response_from_buffer(
        answer->body.length, body.taken, MHD_RESPMEM_PERSISTENT); /* the arena outlives it */
    if (response == NULL) {
        return MHD_NO;
    }
    enum MHD_Result sent = MHD_NO;
    if (add_headers(response, request)) {
        sent = MHD_queue_response(request->connection, answer->status, response);
    }
    MHD_destroy_response(response);
    return sent;
}
