/* SPDX-License-Identifier: Apache-2.0 */
/* What is sent to be read or worked out: nothing of it is kept. */
#include "result/result.h"
#include "server/server_inside.h"
#include "yaml/yaml.h"

static const struct tree_node *read_body(struct server_request *request) {
    struct base_issues issues = {.arena = request->arena};
    struct base_text body = {request->body, request->body_length};
    const struct tree_node *root = tree_read_json(request->arena, &issues, BASE_DOCUMENT_JOB, body);
    if (root == NULL || root->kind != TREE_MAP) {
        server_refuse(request, SERVER_FAULT_BAD_JSON, "the body is not a JSON object");
        return NULL;
    }
    return root;
}

static bool is_text(const struct tree_node *node) {
    return node != NULL && node->kind == TREE_SCALAR && node->quoted;
}

/* ---- tree ----------------------------------------------------------------------------------- */

static void write_tree(struct tree_writer *writer, const struct tree_node *root) {
    struct tree_writer inner = tree_make_writer(writer->out.arena);
    tree_write_node(&inner, root); /* apart, because it may be as deep as a writer goes */
    struct base_text text = base_built(&inner.out);
    while (text.length > 0 && text.bytes[text.length - 1] == '\n') {
        text.length--;
    }
    tree_write_raw(writer, base_text_of("tree"), text);
}

void server_post_tree(struct server_request *request) {
    const struct tree_node *body = read_body(request);
    if (body == NULL) {
        return;
    }
    const struct tree_node *text = tree_find(body, "text");
    const struct tree_node *document = tree_find(body, "document");
    bool of_prices = document != NULL && base_text_is(document->text, "prices");
    if (!is_text(text) ||
        (document != NULL && !of_prices && !base_text_is(document->text, "job"))) {
        server_refuse(request, SERVER_FAULT_BAD_JSON,
                      "send {\"text\": \"...\", \"document\": \"job\" or \"prices\"}");
        return;
    }
    enum base_document which = of_prices ? BASE_DOCUMENT_PRICES : BASE_DOCUMENT_JOB;
    struct server_work work = server_make_work(request->arena);
    work.texts[which] = text->text;
    work.has_places[which] = true;
    if (work.status == BASE_OK) {
        work.status =
            yaml_read_tree(work.arena, &work.issues, which, text->text, &work.trees[which]);
    }
    struct tree_writer writer = tree_make_writer(request->arena);
    tree_open_map(&writer, (struct base_text){0});
    if (work.trees[which] != NULL) {
        write_tree(&writer, work.trees[which]);
    }
    server_write_marks(&writer, text->text, work.trees[which]);
    if (work.solution != NULL) {
        server_write_issues(&writer, &work);
    }
    tree_close_map(&writer);
    server_answer_json(request, base_built(&writer.out));
}

/* ---- solve ---------------------------------------------------------------------------------- */

/* A job or a price list, as a tree or as the text a person wrote. */
static bool take_document(struct server_work *work, struct server_request *request,
                          const struct tree_node *node, enum base_document document) {
    if (is_text(node)) {
        work->texts[document] = node->text;
        work->has_places[document] = true;
        if (work->status == BASE_OK) {
            work->status = yaml_read_tree(work->arena, &work->issues, document, node->text,
                                          &work->trees[document]);
        }
        return true;
    }
    if (node->kind != TREE_MAP) {
        return false;
    }
    /* read once more by itself, so that its marks say which document they are of */
    struct base_text part = {request->body + node->mark.from_byte,
                             node->mark.to_byte - node->mark.from_byte};
    work->trees[document] = tree_read_json(work->arena, &work->issues, document, part);
    if (work->trees[document] == NULL && work->status == BASE_OK) {
        work->status = base_arena_failed(work->arena) ? BASE_NO_MEMORY : BASE_STOPPED;
    }
    return true;
}

/* A file that is no tree: rain or record. None is good too. */
static bool take_text(struct server_work *work, const struct tree_node *node,
                      enum base_document document) {
    if (node == NULL || node->kind == TREE_NULL) {
        return true;
    }
    if (!is_text(node)) {
        return false;
    }
    work->texts[document] = node->text;
    work->has_places[document] = true;
    return true;
}

static bool take_documents(struct server_work *work, struct server_request *request) {
    const struct tree_node *body = read_body(request);
    if (body == NULL) {
        return false;
    }
    const struct tree_node *job = tree_find(body, "job");
    const struct tree_node *prices = tree_find(body, "prices");
    bool good = job != NULL && take_document(work, request, job, BASE_DOCUMENT_JOB);
    if (prices != NULL && prices->kind != TREE_NULL) {
        good = good && take_document(work, request, prices, BASE_DOCUMENT_PRICES);
    }
    good = good && take_text(work, tree_find(body, "rain"), BASE_DOCUMENT_RAIN) &&
           take_text(work, tree_find(body, "gauge"), BASE_DOCUMENT_GAUGE);
    if (!good) {
        server_refuse(request, SERVER_FAULT_BAD_JSON,
                      "send {\"job\": {...} or \"text\", \"prices\": {...} or \"text\", "
                      "\"rain\": \"text\", \"gauge\": \"text\"}; all but the job may be left out");
    }
    return good;
}

void server_post_solve(struct server_request *request) {
    struct server_work work = server_make_work(request->arena);
    if (!take_documents(&work, request)) {
        return;
    }
    server_begin_work(request);
    server_solve_work(&work);
    if (work.status == BASE_OK) {
        server_answer_json(request, result_write(work.arena, work.solution, &work.issues, NULL));
    }
    server_end_work(request);
    if (work.status == BASE_STOPPED) {
        server_refuse_work(request, SERVER_FAULT_BAD_JOB, "the job cannot be worked out", &work);
    } else if (work.status == BASE_NO_MEMORY) {
        server_refuse(request, SERVER_FAULT_NO_MEMORY, "there is not enough memory for this job");
    }
}
