/* SPDX-License-Identifier: Apache-2.0 */
/* Papers of a job as it stands on the disk. */
#include "documents/documents.h"
#include "draw/draw.h"
#include "result/result.h"
#include "server/server_inside.h"

enum paper {
    PAPER_PACKET,
    PAPER_MEASUREMENTS,
    PAPER_GUIDE,
    PAPER_PLAN,
    PAPER_PIECES,
    PAPER_RESULT
};

static const struct {
    const char *name, *type;
} PAPERS[] = {
    [PAPER_PACKET] = {"packet.pdf", "application/pdf"},
    [PAPER_MEASUREMENTS] = {"measurements.pdf", "application/pdf"},
    [PAPER_GUIDE] = {"guide.pdf", "application/pdf"},
    [PAPER_PLAN] = {"plan.svg", "image/svg+xml"},
    [PAPER_PIECES] = {"pieces.csv", "text/csv; charset=utf-8"},
    [PAPER_RESULT] = {"result.json", "application/json"},
};

enum { PAPER_COUNT = sizeof PAPERS / sizeof PAPERS[0] };

static int find_paper(struct base_text name) {
    for (int i = 0; i < PAPER_COUNT; i++) {
        if (base_text_is(name, PAPERS[i].name)) {
            return i;
        }
    }
    return -1;
}

bool server_is_paper(struct base_text name) {
    return find_paper(name) >= 0;
}

static enum base_status draw_paper(const struct server_work *work, enum paper paper,
                                   struct draw_document *document) {
    switch (paper) {
    case PAPER_PACKET:
        return documents_draw_packet(work->arena, work->solution, &work->issues, document);
    case PAPER_MEASUREMENTS:
        return documents_draw_measurements(work->arena, work->solution, document);
    case PAPER_GUIDE:
        return documents_draw_guide(work->arena, work->solution->job.system, document);
    case PAPER_PLAN:
        return documents_draw_plan(work->arena, work->solution, document);
    case PAPER_PIECES:
    case PAPER_RESULT:
        break;
    }
    return BASE_STOPPED;
}

static struct base_text make_paper(const struct server_work *work, enum paper paper) {
    struct draw_document document = {0};
    struct base_text bytes = {0};
    if (paper == PAPER_PIECES) {
        return documents_write_pieces_csv(work->arena, work->solution);
    }
    if (paper == PAPER_RESULT) {
        return result_write(work->arena, work->solution, &work->issues, NULL);
    }
    if (draw_paper(work, paper, &document) != BASE_OK || document.count == 0) {
        return bytes;
    }
    if (paper == PAPER_PLAN) {
        return draw_paint_svg(work->arena, &document, 0);
    }
    return draw_paint_pdf(work->arena, &document, &bytes) == BASE_OK ? bytes
                                                                     : (struct base_text){0};
}

/* False when this paper cannot be made of this job; the reason then stands in the answer. */
static bool can_make(struct server_request *request, const struct server_work *work,
                     enum paper paper) {
    if (work->status == BASE_NO_MEMORY) {
        server_refuse(request, SERVER_FAULT_NO_MEMORY, "there is not enough memory for this job");
        return false;
    }
    bool has_enough = work->status == BASE_OK || paper == PAPER_GUIDE ||
                      (paper == PAPER_MEASUREMENTS && work->solution->measure.count > 0);
    if (!has_enough) {
        server_refuse_work(request, SERVER_FAULT_BAD_JOB, "the job cannot be worked out", work);
    } else if (paper == PAPER_PACKET && !work->solution->safe) {
        server_refuse_work(request, SERVER_FAULT_NOT_SAFE,
                           "not safe as drawn: no packet is made until the findings are mended",
                           work);
    } else if (paper == PAPER_MEASUREMENTS && work->solution->measure.count == 0) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND, "nothing was measured: an order by pieces");
    } else if (paper == PAPER_PLAN && !work->solution->has_house) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND, "an order by pieces has no plan");
    } else {
        return true;
    }
    return false;
}

/* porch.yaml, packet.pdf: porch-packet.pdf */
static struct base_text name_kept(struct server_request *request, const char *paper) {
    struct base_text name = request->segments[2];
    size_t length = name.length;
    while (length > 0 && name.bytes[length - 1] != '.') {
        length--;
    }
    struct base_text parts[] = {
        {name.bytes, length > 0 ? length - 1 : 0}, base_text_of("-"), base_text_of(paper)};
    return base_join(request->arena, 3, parts);
}

void server_get_paper(struct server_request *request) {
    int paper = find_paper(request->segments[3]);
    struct base_text name = request->segments[2];
    struct server_file file = server_read_file(request->arena, request->server->folder, &name, 1);
    if (paper < 0 || !file.found || !server_is_job_name(name)) {
        server_refuse(request, SERVER_FAULT_NOT_FOUND, "there is no such job or paper");
        return;
    }
    struct server_work work = server_make_work(request->arena);
    server_begin_work(request);
    server_read_work(&work, request->server->folder, file.bytes);
    server_solve_work(&work);
    if (can_make(request, &work, (enum paper)paper)) {
        (void)pthread_mutex_lock(&request->server->painting);
        struct base_text bytes = make_paper(&work, (enum paper)paper);
        (void)pthread_mutex_unlock(&request->server->painting);
        if (bytes.length > 0) {
            server_answer_json(request, bytes);
            request->answer.type = PAPERS[paper].type;
        } else {
            server_refuse(request, SERVER_FAULT_NO_DISK,
                          "the paper could not be drawn: is the font Carlito installed?");
        }
    }
    server_end_work(request);
    static const char KEEP[] = "download";
    if (request->answer.status == MHD_HTTP_OK &&
        MHD_lookup_connection_value_n(request->connection, MHD_GET_ARGUMENT_KIND, KEEP,
                                      sizeof KEEP - 1, NULL, NULL) == MHD_YES) {
        request->answer.kept_as = name_kept(request, PAPERS[paper].name);
    }
}
