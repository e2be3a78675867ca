/* SPDX-License-Identifier: Apache-2.0 */
#include "cli/cli.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "documents/documents.h"
#include "result/result.h"
#include "server/server.h"
#include "tree/tree.h"
#include "yaml/yaml.h"

struct command {
    const char *name;
    const char *usage;
    const char *help;
    int words; /* after the name, options not counted */
    int (*run)(int argc, char **argv);
};

static void print_text(struct base_text text) {
    (void)fwrite(text.bytes, 1, text.length, stdout);
}

static const char *option(int argc, char **argv, const char *name) {
    for (int i = 0; i < argc && argv[i] != NULL; i++) {
        if (strcmp(argv[i], name) == 0) {
            return i + 1 < argc ? argv[i + 1] : "";
        }
    }
    return NULL;
}

/* ---- measure -------------------------------------------------------------------------------- */

static bool make_folder(const char *folder) {
    if (mkdir(folder, 0777) == 0 || errno == EEXIST) {
        return true;
    }
    fprintf(stderr, "eavesmith: cannot make %s: %s\n", folder, strerror(errno));
    return false;
}

static int write_measure_page(struct cli_job *job, const char *folder) {
    struct draw_document page = {0};
    struct base_text pdf = {0};
    if (documents_draw_measurements(job->arena, job->solution, &page) != BASE_OK ||
        draw_paint_pdf(job->arena, &page, &pdf) != BASE_OK) {
        fputs("eavesmith: the page could not be drawn: is the font Carlito installed?\n", stderr);
        return CLI_BAD_INPUT;
    }
    if (!make_folder(folder) || !cli_write_file(job->arena, folder, "measurements.pdf", pdf)) {
        return CLI_BAD_INPUT;
    }
    printf("%s/measurements.pdf\n", folder);
    return CLI_FINE;
}

/* A job that stops in a later room has its measurements all the same. */
static int run_measure(int argc, char **argv) {
    struct cli_job job;
    int code = cli_load(&job, argv[0], NULL);
    cli_say_issues(&job);
    if (code == CLI_NO_MEMORY) {
        base_free_arena(job.arena);
        return code;
    }
    const struct solution *all = job.solution;
    const char *folder = option(argc, argv, "-o");
    if (all->measure.count > 0) {
        print_text(option(argc, argv, "--mail") != NULL
                       ? documents_write_measure_mail(job.arena, all)
                       : documents_write_measure(job.arena, all));
        if (folder != NULL && folder[0] != '\0') {
            int written = write_measure_page(&job, folder);
            code = written == CLI_FINE ? code : written;
        }
    } else if (code != CLI_BAD_INPUT) {
        puts("nothing was measured: an order by pieces");
    }
    base_free_arena(job.arena);
    return code;
}

/* ---- solve, tree ---------------------------------------------------------------------------- */

static int run_solve(int argc, char **argv) {
    struct cli_job job;
    int code = cli_load(&job, argv[0], NULL);
    cli_say_issues(&job);
    if (code == CLI_FINE || code == CLI_UNSAFE) {
        bool json = option(argc, argv, "--json") != NULL;
        print_text(json ? result_write(job.arena, job.solution, &job.issues, NULL)
                        : documents_write_summary(job.arena, job.solution, &job.issues));
    }
    base_free_arena(job.arena);
    return code;
}

static int run_tree(int argc, char **argv) {
    (void)argc;
    struct cli_job job = {.arena = base_make_arena(0)};
    if (job.arena == NULL) {
        return CLI_NO_MEMORY;
    }
    job.issues.arena = job.arena;
    job.names[0] = argv[0];
    job.solution = base_take(job.arena, 1, sizeof *job.solution);
    int code = CLI_BAD_INPUT;
    if (job.solution != NULL && cli_read_file(job.arena, argv[0], &job.texts[0])) {
        const struct tree_node *root = NULL;
        if (yaml_read_tree(job.arena, &job.issues, BASE_DOCUMENT_JOB, job.texts[0], &root) ==
            BASE_OK) {
            struct tree_writer writer = tree_make_writer(job.arena);
            tree_write_node(&writer, root);
            print_text(base_built(&writer.out));
            code = CLI_FINE;
        } else {
            cli_say_issues(&job);
        }
    }
    base_free_arena(job.arena);
    return code;
}

/* ---- why ------------------------------------------------------------------------------------ */

static void print_note(struct cli_job *job, const struct base_note *note) {
    printf("    %s   [%s]\n", note->formula, note->source);
    for (int i = 0; i < note->input_count; i++) {
        struct base_text value =
            units_write_value(job->arena, job->solution->shop.style, note->inputs[i].value);
        printf("      %s: %.*s\n", note->inputs[i].name, (int)value.length, value.bytes);
    }
    if (note->rule != NULL) {
        printf("      decided: %s\n", note->rule);
    }
}

static void print_leaf(struct cli_job *job, const struct base_trace *trace,
                       const struct result_leaf *leaf) {
    struct base_text value = units_write_value(job->arena, job->solution->shop.style, leaf->value);
    printf("%.*s = %.*s\n", (int)leaf->path.length, leaf->path.bytes, (int)value.length,
           value.bytes);
    printf("    %s\n", result_field_note(leaf->field));
    for (size_t i = 0; i < trace->count; i++) {
        if (base_text_equal(trace->notes[i].path, leaf->path)) {
            print_note(job, &trace->notes[i]);
        }
    }
}

/* A path names a leaf, or everything below it. */
static bool path_holds(struct base_text path, const char *asked) {
    size_t length = strlen(asked);
    return base_text_starts(path, asked) && (path.length == length || path.bytes[length] == '/');
}

static int run_why(int argc, char **argv) {
    (void)argc;
    struct cli_job job;
    struct base_trace trace = {0};
    int code = cli_load(&job, argv[0], &trace);
    if (code != CLI_FINE && code != CLI_UNSAFE) {
        cli_say_issues(&job);
        base_free_arena(job.arena);
        return code;
    }
    struct result_leaves leaves = {0};
    (void)result_write(job.arena, job.solution, &job.issues, &leaves);
    size_t found = 0;
    size_t nearest = 0;
    size_t nearest_distance = SIZE_MAX;
    for (size_t i = 0; i < leaves.count; i++) {
        if (path_holds(leaves.items[i].path, argv[1])) {
            print_leaf(&job, &trace, &leaves.items[i]);
            found++;
        }
        size_t distance = base_text_distance(leaves.items[i].path, base_text_of(argv[1]));
        if (distance < nearest_distance) {
            nearest_distance = distance;
            nearest = i;
        }
    }
    if (found == 0 && leaves.count > 0) {
        fprintf(stderr, "eavesmith: the result has no %s\n    the nearest path is %.*s\n", argv[1],
                (int)leaves.items[nearest].path.length, leaves.items[nearest].path.bytes);
    }
    base_free_arena(job.arena);
    return found == 0 ? CLI_BAD_INPUT : CLI_FINE;
}

/* ---- packet --------------------------------------------------------------------------------- */

static bool write_papers(struct cli_job *job, const char *folder) {
    struct draw_document packet = {0};
    struct draw_document plan = {0};
    struct base_text pdf = {0};
    if (documents_draw_packet(job->arena, job->solution, &job->issues, &packet) != BASE_OK ||
        draw_paint_pdf(job->arena, &packet, &pdf) != BASE_OK) {
        fputs("eavesmith: the packet could not be drawn: is the font Carlito installed?\n", stderr);
        return false;
    }
    bool good = cli_write_file(job->arena, folder, "packet.pdf", pdf);
    if (job->solution->has_house &&
        documents_draw_plan(job->arena, job->solution, &plan) == BASE_OK) {
        good =
            cli_write_file(job->arena, folder, "plan.svg", draw_paint_svg(job->arena, &plan, 0)) &&
            good;
    }
    struct base_text csv = documents_write_pieces_csv(job->arena, job->solution);
    struct base_text result = result_write(job->arena, job->solution, &job->issues, NULL);
    good = cli_write_file(job->arena, folder, "pieces.csv", csv) && good;
    return cli_write_file(job->arena, folder, "result.json", result) && good;
}

static int run_packet(int argc, char **argv) {
    const char *folder = option(argc, argv, "-o");
    if (folder == NULL || folder[0] == '\0') {
        fputs("eavesmith packet: say where it goes: -o FOLDER\n", stderr);
        return CLI_BAD_INPUT;
    }
    struct cli_job job;
    int code = cli_load(&job, argv[0], NULL);
    cli_say_issues(&job);
    if (code == CLI_UNSAFE) {
        fputs(
            "eavesmith: not safe as drawn: no packet is made until the findings above are mended\n",
            stderr);
    }
    if (code == CLI_FINE) {
        if (make_folder(folder) && write_papers(&job, folder)) {
            printf("%s/packet.pdf\n%s/pieces.csv\n%s/result.json\n", folder, folder, folder);
            if (job.solution->has_house) {
                printf("%s/plan.svg\n", folder);
            }
        } else {
            code = CLI_BAD_INPUT;
        }
    }
    base_free_arena(job.arena);
    return code;
}

/* ---- guide ---------------------------------------------------------------------------------- */

static int run_guide(int argc, char **argv) {
    const char *folder = option(argc, argv, "-o");
    if (folder == NULL || folder[0] == '\0') {
        fputs("eavesmith guide: say where it goes: -o FOLDER\n", stderr);
        return CLI_BAD_INPUT;
    }
    struct base_arena *arena = base_make_arena(0);
    if (arena == NULL) {
        return CLI_NO_MEMORY;
    }
    bool metric = option(argc, argv, "--metric") != NULL;
    struct draw_document guide = {0};
    struct base_text pdf = {0};
    int code = CLI_FINE;
    if (documents_draw_guide(arena, metric ? UNITS_MM : UNITS_FT_IN, &guide) != BASE_OK ||
        draw_paint_pdf(arena, &guide, &pdf) != BASE_OK) {
        fputs("eavesmith: the guide could not be drawn: is the font Carlito installed?\n", stderr);
        code = CLI_BAD_INPUT;
    } else if (!make_folder(folder) || !cli_write_file(arena, folder, "guide.pdf", pdf)) {
        code = CLI_BAD_INPUT;
    } else {
        printf("%s/guide.pdf\n", folder);
    }
    base_free_arena(arena);
    return code;
}

/* ---- fields --------------------------------------------------------------------------------- */

static int run_fields(int argc, char **argv) {
    (void)argc;
    (void)argv;
    struct base_arena *arena = base_make_arena(0);
    if (arena == NULL) {
        return CLI_NO_MEMORY;
    }
    print_text(result_write_fields(arena));
    base_free_arena(arena);
    return CLI_FINE;
}

/* ---- serve ---------------------------------------------------------------------------------- */

/* A whole number from 0 to 65535; -1 for anything else. */
static int read_port(const char *text) {
    int port = 0;
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (text[i] < '0' || text[i] > '9' || i > 4) {
            return -1;
        }
        port = port * 10 + (text[i] - '0');
    }
    return text[0] == '\0' || port > 65535 ? -1 : port;
}

static int run_serve(int argc, char **argv) {
    const char *said = option(argc, argv, "--port");
    int port = said == NULL ? SERVER_PORT : read_port(said);
    if (port < 0) {
        fprintf(stderr,
                "eavesmith serve: %s is no port\n    say a number from 1024 to 65535, or 0 for any "
                "that is free: --port 8470\n",
                said[0] == '\0' ? "nothing" : said);
        return CLI_BAD_INPUT;
    }
    struct server_options options = {.folder = argv[0], .port = port};
    return server_run(options) == SERVER_FINE ? CLI_FINE : CLI_BAD_INPUT;
}

static const struct command COMMANDS[] = {
    {"measure", "measure JOB [--mail] [-o FOLDER]",
     "Adjusts the measurements: do they agree, and which one is wrong when they do not? --mail "
     "gives a text to paste in a mail, -o also makes measurements.pdf in FOLDER.\n"
     "  eavesmith measure porch.yaml\n  eavesmith measure porch.yaml --mail\n",
     1, run_measure},
    {"solve", "solve JOB [--json]",
     "Works everything out: sizes, falls, outlets, brackets, joints, pieces, price.\n"
     "  eavesmith solve porch.yaml\n  eavesmith solve porch.yaml --json > result.json\n",
     1, run_solve},
    {"why", "why JOB PATH",
     "Says why a number is what it is. PATH is a path of result.json, or the start of one.\n"
     "  eavesmith why porch.yaml runs/porch/size\n",
     2, run_why},
    {"packet", "packet JOB -o FOLDER",
     "Makes packet.pdf, pieces.csv, result.json and plan.svg in FOLDER.\n"
     "  eavesmith packet porch.yaml -o porch-packet\n",
     1, run_packet},
    {"guide", "guide -o FOLDER [--metric]",
     "Makes guide.pdf in FOLDER: what to measure, with blanks, in the order of the job file; "
     "Letter, "
     "or A4 with --metric.\n"
     "  eavesmith guide -o measuring\n",
     0, run_guide},
    {"tree", "tree JOB",
     "Prints the job file (or a price list) as JSON, as the page hands it to the heart.\n"
     "  eavesmith tree porch.yaml\n",
     1, run_tree},
    {"serve", "serve DIR [--port N]",
     "Serves the page over the job files in DIR, to this computer only, until Ctrl-C. Prints the "
     "address to open. The port is 8470; --port 0 takes any that is free.\n"
     "  eavesmith serve jobs\n",
     1, run_serve},
    {"fields", "fields",
     "Prints every field of result.json with its unit and meaning.\n  eavesmith fields\n", 0,
     run_fields},
};

enum { COMMAND_COUNT = sizeof COMMANDS / sizeof COMMANDS[0] };

static void print_help(FILE *out) {
    fputs("eavesmith: half-round copper gutters from measurements to the packet\n\n", out);
    for (int i = 0; i < COMMAND_COUNT; i++) {
        fprintf(out, "  eavesmith %s\n", COMMANDS[i].usage);
    }
    fputs("\nexit 0 fine, 1 not safe as drawn, 2 bad input. eavesmith COMMAND --help says more.\n",
          out);
}

/* Words first, options behind them, each in the order given; gives the number of words. */
static int sort_words(int argc, char **argv) {
    int words = 0;
    for (int i = 0; i < argc && argv[i] != NULL; i++) {
        if (strcmp(argv[i], "-o") == 0 || strcmp(argv[i], "--port") == 0) {
            i++; /* and its value */
            continue;
        }
        if (argv[i][0] == '-') {
            continue;
        }
        char *word = argv[i];
        for (int k = i; k > words; k--) {
            argv[k] = argv[k - 1];
        }
        argv[words++] = word;
    }
    return words;
}

/* The option stands in the usage as a whole word. */
static bool knows_option(const struct command *command, const char *name) {
    size_t length = strlen(name);
    for (const char *at = strstr(command->usage, name); at != NULL; at = strstr(at + 1, name)) {
        char after = at[length];
        if (length > 1 && (after == '\0' || after == ' ' || after == ']')) {
            return true;
        }
    }
    return false;
}

/* Only the options a command has; a stray one is named. */
static const char *stray_option(const struct command *command, int argc, char **argv) {
    for (int i = 0; i < argc && argv[i] != NULL; i++) {
        if (argv[i][0] == '-' && !knows_option(command, argv[i])) {
            return argv[i];
        }
    }
    return NULL;
}

static int print_command_help(const struct command *command) {
    printf("usage: eavesmith %s\n\n%s", command->usage, command->help);
    return CLI_FINE;
}

static int run_command(const struct command *command, int argc, char **argv) {
    if (option(argc, argv, "--help") != NULL) {
        return print_command_help(command);
    }
    const char *stray = stray_option(command, argc, argv);
    if (stray != NULL) {
        fprintf(stderr, "eavesmith %s: no option %s\nusage: eavesmith %s\n", command->name, stray,
                command->usage);
        return CLI_BAD_INPUT;
    }
    if (sort_words(argc, argv) != command->words) {
        fprintf(stderr, "usage: eavesmith %s\n", command->usage);
        return CLI_BAD_INPUT;
    }
    int code = command->run(argc, argv);
    if (fflush(stdout) != 0 || ferror(stdout)) {
        fputs("eavesmith: the answer could not be written\n", stderr);
        return CLI_BAD_INPUT;
    }
    return code;
}

int cli_run(int argc, char **argv) {
    bool asks = argc > 1 && (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "help") == 0);
    if (argc < 2 || (asks && argc == 2)) {
        print_help(argc < 2 ? stderr : stdout);
        return argc < 2 ? CLI_BAD_INPUT : CLI_FINE;
    }
    const char *name = asks ? argv[2] : argv[1];
    for (int i = 0; i < COMMAND_COUNT; i++) {
        if (strcmp(name, COMMANDS[i].name) == 0) {
            return asks ? print_command_help(&COMMANDS[i])
                        : run_command(&COMMANDS[i], argc - 2, argv + 2);
        }
    }
    fprintf(stderr, "eavesmith: no command %s\n\n", name);
    print_help(stderr);
    return CLI_BAD_INPUT;
}
