/* SPDX-License-Identifier: Apache-2.0 */
/*
 * server: `eavesmith serve DIR`: one local page over a folder of job files.
 *
 * Walk      a door: reads and saves job files, hands them to solve and documents, sends what comes.
 * Knows     its routes (docs/server.md), its folder, who may ask. Listens on this computer only.
 * Knows not what stands in a job: a save is bytes, an answer is the heart's own.
 * Threads   one for each connection, SERVER_CONNECTIONS at most; SERVER_WORKERS of them work a job
 *           out or paint papers at one time. No state outlives a request but the files.
 * Memory    an arena with a limit for each request, freed when it has been answered.
 */
#ifndef EAVESMITH_SERVER_H
#define EAVESMITH_SERVER_H

enum { SERVER_PORT = 8470 }; /* when none is given; fixed, because a browser keeps things by it */

enum { SERVER_FINE = 0, SERVER_NO_FOLDER, SERVER_NO_PORT, SERVER_NO_START };

struct server_options {
    const char *folder; /* of job files */
    int port;           /* 0 = any that is free */
};

/*
 * Prints the start address on standard output and serves until SIGINT or SIGTERM. What went wrong
 * is said on standard error.
 */
int server_run(struct server_options options);

#endif
