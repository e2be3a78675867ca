/* SPDX-License-Identifier: Apache-2.0 */
/*
 * cli: the command. Answers on standard output, talk on standard error; exit 0 fine, 1 "not safe as
 * drawn", 2 bad input.
 */
#ifndef EAVESMITH_CLI_H
#define EAVESMITH_CLI_H

#include <stdbool.h>
#include <stddef.h>

#include "base/base.h"
#include "solve/solve.h"

enum { CLI_FINE = 0, CLI_UNSAFE = 1, CLI_BAD_INPUT = 2, CLI_NO_MEMORY = 3 };

int cli_run(int argc, char **argv);

/* ---- shared by the files of the room ----------------------------------------------------------
 */

/* A job with everything read from disk beside it. */
struct cli_job {
    struct base_arena *arena;
    struct base_issues issues;
    const char *names[BASE_DOCUMENTS];      /* job, prices, rain: file names for messages */
    struct base_text texts[BASE_DOCUMENTS]; /* by enum base_document */
    struct solve_input input;
    struct solution *solution;
    enum base_status status;
};

/* The whole file; false with a message on standard error. */
bool cli_read_file(struct base_arena *arena, const char *name, struct base_text *text);
/* Written to a temporary name beside it, then renamed: never half written. */
bool cli_write_file(struct base_arena *arena, const char *folder, const char *name,
                    struct base_text bytes);
/* Reads job, prices and rain file and walks. Returns an exit code. */
int cli_load(struct cli_job *job, const char *name, struct base_trace *trace);
void cli_say_issues(const struct cli_job *job);

#endif
