/* SPDX-License-Identifier: Apache-2.0 */
/* Starting, one request after the other on each connection, and stopping. */
#define _GNU_SOURCE /* getrandom, sigtimedwait, realpath, sockets */
#include "server/server.h"

#include <arpa/inet.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <netinet/in.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

#include "server/server_inside.h"

int64_t server_now_ms(void) {
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* ---- connections ---------------------------------------------------------------------------- */

static void watch_connection(void *data, struct MHD_Connection *connection, void **context,
                             enum MHD_ConnectionNotificationCode code) {
    struct server *server = data;
    (void)pthread_mutex_lock(&server->guard);
    if (code == MHD_CONNECTION_NOTIFY_CLOSED) {
        struct server_slot *slot = *context;
        if (slot != NULL) {
            *slot = (struct server_slot){0};
        }
        *context = NULL;
    } else {
        const union MHD_ConnectionInfo *info =
            MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD);
        for (size_t i = 0; i < SERVER_CONNECTIONS && info != NULL; i++) {
            if (!server->slots[i].used) {
                server->slots[i] = (struct server_slot){
                    .used = true, .socket = info->connect_fd, .since_ms = server_now_ms()};
                *context = &server->slots[i];
                break;
            }
        }
    }
    (void)pthread_mutex_unlock(&server->guard);
}

/* Whoever takes too long over one request, byte by byte, is cut off. The slot is given back before
 * the socket is closed, so under the guard the number still means that connection. */
static void cut_slow_ones(struct server *server) {
    (void)pthread_mutex_lock(&server->guard);
    int64_t oldest_ms = server_now_ms() - (int64_t)SERVER_REQUEST_SECONDS * 1000;
    for (size_t i = 0; i < SERVER_CONNECTIONS; i++) {
        const struct server_slot *slot = &server->slots[i];
        if (slot->used && !slot->working && slot->since_ms < oldest_ms) {
            (void)shutdown(slot->socket, SHUT_RDWR);
        }
    }
    (void)pthread_mutex_unlock(&server->guard);
}

/* ---- one request ---------------------------------------------------------------------------- */

static enum server_method method_of(const char *word) {
    if (strcmp(word, "GET") == 0 || strcmp(word, "HEAD") == 0) {
        return SERVER_GET;
    }
    if (strcmp(word, "PUT") == 0) {
        return SERVER_PUT;
    }
    return strcmp(word, "POST") == 0 ? SERVER_POST : SERVER_OTHER;
}

static struct server_request *make_request(struct server *server,
                                           struct MHD_Connection *connection) {
    struct base_arena *arena = base_make_arena(SERVER_ARENA_MAX);
    struct server_request *request = arena == NULL ? NULL : base_take(arena, 1, sizeof *request);
    if (request == NULL) {
        base_free_arena(arena);
        return NULL;
    }
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    request->arena = arena;
    request->server = server;
    request->connection = connection;
    request->slot = info == NULL ? NULL : info->socket_context;
    return request;
}

/* The library calls once with the headers, once for each part of the body, once at its end. */
/* many because the library asks for them */
static enum MHD_Result take_request(void *data, struct MHD_Connection *connection, const char *url,
                                    const char *method, const char *version, const char *upload,
                                    size_t *upload_length, void **context) {
    struct server_request *request = *context;
    (void)version;
    if (request == NULL) {
        request = make_request(data, connection);
        if (request == NULL) {
            return MHD_NO; /* closes the connection */
        }
        *context = request;
        request->method = method_of(method);
        return server_check_doors(request, url) ? MHD_YES : server_send(request);
    }
    if (*upload_length > 0) {
        size_t left = request->body_expected - request->body_length;
        if (request->body == NULL || *upload_length > left) {
            return MHD_NO;
        }
        memcpy(request->body + request->body_length, upload, *upload_length);
        request->body_length += *upload_length;
        *upload_length = 0;
        return MHD_YES;
    }
    server_route(request);
    return server_send(request);
}

static void end_request(void *data, struct MHD_Connection *connection, void **context,
                        enum MHD_RequestTerminationCode code) {
    struct server *server = data;
    struct server_request *request = *context;
    (void)connection;
    (void)code;
    if (request == NULL) {
        return;
    }
    (void)pthread_mutex_lock(&server->guard);
    if (request->slot != NULL) {
        request->slot->since_ms = server_now_ms();
    }
    (void)pthread_mutex_unlock(&server->guard);
    base_free_arena(request->arena);
    *context = NULL;
}

/* Addresses are decoded by server_path.c, once, where a %2f is seen for what it is. */
static size_t leave_as_it_is(void *data, struct MHD_Connection *connection, char *text) {
    (void)data;
    (void)connection;
    return strlen(text);
}

/* ---- start and stop ------------------------------------------------------------------------- */

static bool make_token(struct server *server) {
    unsigned char bytes[SERVER_TOKEN_LENGTH / 2];
    if (getrandom(bytes, sizeof bytes, 0) != (ssize_t)sizeof bytes) {
        return false;
    }
    for (size_t i = 0; i < sizeof bytes; i++) {
        (void)snprintf(server->token + 2 * i, 3, "%02x", bytes[i]);
    }
    return true;
}

/* A socket on this computer's own address; -1 with a word on standard error. */
static int open_port(struct server *server, int port) {
    struct sockaddr_in address = {.sin_family = AF_INET,
                                  .sin_port = htons((uint16_t)port),
                                  .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    socklen_t length = sizeof address;
    int again = 1;
    int listening = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    if (listening >= 0 &&
        setsockopt(listening, SOL_SOCKET, SO_REUSEADDR, &again, sizeof again) == 0 &&
        bind(listening, (struct sockaddr *)&address, length) == 0 &&
        listen(listening, SERVER_CONNECTIONS) == 0 &&
        getsockname(listening, (struct sockaddr *)&address, &length) == 0) {
        server->port = ntohs(address.sin_port);
        (void)snprintf(server->cookie, sizeof server->cookie, "eavesmith-%u", server->port);
        return listening;
    }
    fprintf(stderr, "eavesmith serve: cannot have port %d: %s\n", port, strerror(errno));
    if (errno == EADDRINUSE) {
        fputs("    is it being served already? --port 0 takes any that is free\n", stderr);
    }
    if (listening >= 0) {
        (void)close(listening);
    }
    return -1;
}

/* Asked for by waiting, never by interrupting: no handler, and every thread leaves them alone. */
static void block_signals(sigset_t *stops) {
    sigset_t blocked;
    (void)sigemptyset(stops);
    (void)sigaddset(stops, SIGINT);
    (void)sigaddset(stops, SIGTERM);
    blocked = *stops;
    (void)sigaddset(&blocked, SIGPIPE); /* a reader who has gone is an error of write */
    (void)pthread_sigmask(SIG_BLOCK, &blocked, NULL);
}

static struct MHD_Daemon *start_daemon(struct server *server, int listening) {
    return MHD_start_daemon(
        MHD_USE_INTERNAL_POLLING_THREAD | MHD_USE_THREAD_PER_CONNECTION | MHD_USE_AUTO, 0, NULL,
        NULL, take_request, server, MHD_OPTION_LISTEN_SOCKET, listening,
        MHD_OPTION_CONNECTION_LIMIT, (unsigned)SERVER_CONNECTIONS, MHD_OPTION_CONNECTION_TIMEOUT,
        (unsigned)SERVER_IDLE_SECONDS, MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)32768,
        MHD_OPTION_NOTIFY_COMPLETED, end_request, server, MHD_OPTION_NOTIFY_CONNECTION,
        watch_connection, server, MHD_OPTION_UNESCAPE_CALLBACK, leave_as_it_is, NULL,
        MHD_OPTION_END);
}

static void serve_until_stopped(struct server *server, const sigset_t *stops) {
    static const struct timespec second = {.tv_sec = 1};
    printf("http://127.0.0.1:%u/start?token=%s\n", server->port, server->token);
    (void)fflush(stdout);
    fprintf(stderr,
            "eavesmith serve: %s, on this computer only; open the address above. Ctrl-C ends.\n",
            server->folder_name);
    if (server->page < 0) {
        fputs("eavesmith serve: the page was not built; the addresses below /api/ work.\n", stderr);
    }
    while (sigtimedwait(stops, NULL, &second) < 0) {
        cut_slow_ones(server);
    }
}

static int serve(struct server *server, int port) {
    sigset_t stops;
    int listening = open_port(server, port);
    if (listening < 0) {
        return SERVER_NO_PORT;
    }
    block_signals(&stops);
    struct MHD_Daemon *daemon = make_token(server) ? start_daemon(server, listening) : NULL;
    if (daemon == NULL) {
        fputs("eavesmith serve: the server could not be started\n", stderr);
        (void)close(listening);
        return SERVER_NO_START;
    }
    serve_until_stopped(server, &stops);
    MHD_stop_daemon(daemon); /* lets what is being answered end; closes the socket */
    fputs("eavesmith serve: ended\n", stderr);
    return SERVER_FINE;
}

int server_run(struct server_options options) {
    struct server server = {.folder_name = options.folder, .page = -1};
    server.folder = open(options.folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (server.folder < 0) {
        fprintf(stderr, "eavesmith serve: cannot open the folder %s: %s\n", options.folder,
                strerror(errno));
        return SERVER_NO_FOLDER;
    }
    char whole[PATH_MAX]; /* a person who reads it should know which folder is meant */
    if (realpath(options.folder, whole) != NULL && tree_is_utf8(base_text_of(whole))) {
        server.folder_name = whole;
    }
    server.page = server_open_page();
    int code = SERVER_NO_START;
    if (pthread_mutex_init(&server.guard, NULL) == 0 &&
        pthread_mutex_init(&server.saving, NULL) == 0 &&
        pthread_mutex_init(&server.painting, NULL) == 0 &&
        pthread_cond_init(&server.worker_free, NULL) == 0) {
        code = serve(&server, options.port);
    }
    if (server.page >= 0) {
        (void)close(server.page);
    }
    (void)close(server.folder);
    return code;
}
