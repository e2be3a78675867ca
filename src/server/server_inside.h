/* SPDX-License-Identifier: Apache-2.0 */
/* What the files of the server share. */
#ifndef EAVESMITH_SERVER_INSIDE_H
#define EAVESMITH_SERVER_INSIDE_H

#include <microhttpd.h>
#include <pthread.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/base.h"
#include "solve/solve.h"
#include "tree/tree.h"

enum {
    SERVER_CONNECTIONS = 64,
    SERVER_WORKERS = 4,          /* jobs worked out at one time */
    SERVER_REQUEST_SECONDS = 30, /* from the first byte to the last answer, work left out */
    SERVER_IDLE_SECONDS = 10,
    SERVER_BODY_MAX = TREE_BYTES_MAX,
    SERVER_FILE_MAX = 16 * 1024 * 1024,
    SERVER_ARENA_MAX = 192 * 1024 * 1024,
    SERVER_NAME_MAX = 120, /* bytes of a file's name; the parts made beside it are longer */
    SERVER_SEGMENTS = 8,
    SERVER_TOKEN_LENGTH = 32
};

/* ---- the whole --------------------------------------------------------------------------------
 */

struct server_slot { /* one connection */
    bool used;
    bool working; /* a job is being worked out: time that is not the sender's fault */
    int socket;
    int64_t since_ms; /* the request that is now awaited or answered began then */
};

struct server_budget { /* so many points a second, and as many saved up */
    int64_t points;
    int64_t at_ms;
};

struct server {
    const char *folder_name;
    int folder; /* opened folder of job files */
    int page;   /* opened folder of the page; -1 = not there */
    unsigned port;
    char cookie[32]; /* its name */
    char token[SERVER_TOKEN_LENGTH + 1];
    pthread_mutex_t guard; /* over the rest but the last two */
    pthread_cond_t worker_free;
    int workers;
    struct server_budget known, strangers; /* requests with and without the token */
    struct server_slot slots[SERVER_CONNECTIONS];
    pthread_mutex_t saving;   /* one save at a time */
    pthread_mutex_t painting; /* one paper at a time: the libraries below it keep caches */
};

int64_t server_now_ms(void);

/* ---- one request ------------------------------------------------------------------------------
 */

enum server_method { SERVER_GET = 0, SERVER_PUT, SERVER_POST, SERVER_OTHER };

enum server_fault {
    SERVER_FAULT_BAD_REQUEST = 0,
    SERVER_FAULT_WRONG_HOST,
    SERVER_FAULT_WRONG_ORIGIN,
    SERVER_FAULT_NO_TOKEN,
    SERVER_FAULT_WRONG_TYPE,
    SERVER_FAULT_NO_LENGTH,
    SERVER_FAULT_TOO_LARGE,
    SERVER_FAULT_TOO_MANY,
    SERVER_FAULT_NOT_FOUND,
    SERVER_FAULT_WRONG_METHOD,
    SERVER_FAULT_NO_REVISION,
    SERVER_FAULT_CONFLICT,
    SERVER_FAULT_BAD_JSON,
    SERVER_FAULT_BAD_JOB,
    SERVER_FAULT_NOT_SAFE,
    SERVER_FAULT_NO_DISK,
    SERVER_FAULT_NO_MEMORY,
    SERVER_FAULTS
};

struct server_answer {
    unsigned status;
    const char *type;
    struct base_text body;
    struct base_text revision; /* becomes the ETag */
    struct base_text kept_as;  /* file name to keep it under; empty = shown */
    const char *allow;         /* methods, with 405 */
    bool starts;               /* hands out the token and leads to / */
};

struct server_request {
    struct base_arena *arena;
    struct server *server;
    struct MHD_Connection *connection;
    struct server_slot *slot;
    enum server_method method;
    bool is_api;
    struct base_text segments[SERVER_SEGMENTS]; /* of the address, decoded */
    size_t segment_count;
    char *body;
    size_t body_length;
    size_t body_expected;
    struct server_answer answer;
};

void server_refuse(struct server_request *request, enum server_fault fault, const char *text);
/* The same with findings beside it. */
struct server_work;
void server_refuse_work(struct server_request *request, enum server_fault fault, const char *text,
                        const struct server_work *work);
const char *server_fault_word(enum server_fault fault);
/* JSON, 200 unless a status stands there already. */
void server_answer_json(struct server_request *request, struct base_text body);

/* ---- server_doors.c ---------------------------------------------------------------------------
 */

/* False when refused; the answer then stands in the request. */
bool server_check_doors(struct server_request *request, const char *url);
bool server_spend(struct server *server, struct server_budget *budget, int64_t cost);
enum MHD_Result server_send(struct server_request *request);

/* ---- server_path.c (nothing but text) ---------------------------------------------------------
 */

/* Splits and decodes the path of an address. False: it is no path of ours. */
bool server_split_path(struct base_arena *arena, const char *url, struct base_text *segments,
                       size_t *count);
/* One file or folder name: UTF-8, no slash of either kind, no control character, no leading dot. */
bool server_is_name(struct base_text name);
bool server_ends_with(struct base_text text, const char *ending);
bool server_is_job_name(struct base_text name);    /* .yaml .yml .json */
bool server_is_beside_name(struct base_text name); /* those and .csv */

/* ---- server_files.c ---------------------------------------------------------------------------
 */

struct server_file {
    bool found;
    struct base_text bytes;
    struct base_text revision;
    struct base_text changed; /* 2026-11-25T14:03:11Z */
    unsigned mode;
};

/* A file by names below an opened folder; no link is followed. found = false when there is none. */
struct server_file server_read_file(struct base_arena *arena, int folder,
                                    const struct base_text *names, size_t count);
struct base_text server_make_revision(struct base_arena *arena, struct base_text bytes);
struct base_text server_add_tilde(struct base_arena *arena, struct base_text name);

enum server_saved { SERVER_SAVED, SERVER_SAVED_NEW, SERVER_CHANGED_MEANWHILE, SERVER_NOT_SAVED };

struct server_save {
    struct base_text name;
    struct base_text bytes;
    struct base_text revision; /* that is being changed; empty = a new file is made */
};

/* on_disk: what stands there afterwards. */
enum server_saved server_save_file(struct server_request *request, struct server_save save,
                                   struct server_file *on_disk);

/* ---- server_work.c: a job worked out ----------------------------------------------------------
 */

struct server_work {
    struct base_arena *arena;
    struct base_issues issues;
    struct base_text names[BASE_DOCUMENTS]; /* by enum base_document; empty = not there */
    struct base_text texts[BASE_DOCUMENTS];
    const struct tree_node *trees[BASE_DOCUMENTS]; /* of rain none */
    bool has_places[BASE_DOCUMENTS];               /* marks point into a text that the asker has */
    struct base_text fault;                        /* a file named by the job cannot be had */
    enum base_status status;
    struct solution *solution;
};

/* Room to work in: waits until fewer than SERVER_WORKERS work, and gives the room back. */
void server_begin_work(struct server_request *request);
void server_end_work(struct server_request *request);

/* An empty work in the arena; status BASE_NO_MEMORY when there is none left. */
struct server_work server_make_work(struct base_arena *arena);
/* Reads the tree of a job text and the files that it names, below the folder. */
void server_read_work(struct server_work *work, int folder, struct base_text text);
void server_solve_work(struct server_work *work);
/* The file that a job's tree names; false: none. Its name may be no name at all. */
bool server_name_beside(const struct tree_node *job, enum base_document document,
                        struct base_text *name);
struct server_file server_read_beside(struct base_arena *arena, int folder, struct base_text name);

/* ---- server_json.c ----------------------------------------------------------------------------
 */

void server_write_count(struct tree_writer *writer, const char *key, int64_t value);
void server_write_word(struct tree_writer *writer, const char *key, const char *value);
void server_write_string(struct tree_writer *writer, const char *key, struct base_text value);
void server_write_flag(struct tree_writer *writer, const char *key, bool value);
/* {"code", "text"} under "error". */
void server_write_fault(struct tree_writer *writer, enum server_fault fault, const char *text);
/* The list under "issues". */
void server_write_issues(struct tree_writer *writer, const struct server_work *work);
/* The map under "marks". */
void server_write_marks(struct tree_writer *writer, struct base_text text,
                        const struct tree_node *root);

/* ---- routes -----------------------------------------------------------------------------------
 */

void server_route(struct server_request *request);     /* server_routes.c */
void server_list_jobs(struct server_request *request); /* server_jobs.c */
void server_get_job(struct server_request *request);
void server_get_before(struct server_request *request);
void server_get_beside(struct server_request *request);
void server_put_job(struct server_request *request);
void server_get_paper(struct server_request *request); /* server_papers.c */
bool server_is_paper(struct base_text name);
void server_post_tree(struct server_request *request); /* server_post.c */
void server_post_solve(struct server_request *request);
void server_get_page(struct server_request *request); /* server_page.c */
int server_open_page(void);

#endif
