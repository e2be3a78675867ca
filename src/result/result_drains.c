/* SPDX-License-Identifier: Apache-2.0 */
/* Who drains to whom, and what stands on flat decks. */
#include "result/result_inside.h"

static struct base_text text(const char *word) {
    return base_text_of(word);
}

static const char *by_word(const struct roof_link *link) {
    return link->scupper ? "scupper" : link->bare ? "no-gutter" : "edge";
}

static const char *end_word(enum roof_end end) {
    switch (end) {
    case ROOF_END_EAVE:
        return "gutter";
    case ROOF_END_ROOF:
        return "roof";
    case ROOF_END_GROUND:
        return "ground";
    case ROOF_END_LOST:
        return "lost";
    case ROOF_END_PIT:
        break;
    }
    return "pit";
}

/* "hall.3.link.2": the second way of one edge; those of one edge stand side by side. */
static struct base_text name_link(struct result_out *out, size_t index) {
    const struct roof_link *links = out->solution->roof.links;
    int number = 1;
    while ((size_t)number <= index &&
           base_text_equal(links[index - (size_t)number].from, links[index].from)) {
        number++;
    }
    struct base_builder name = {.arena = out->arena};
    base_add_text(&name, links[index].from);
    base_add_string(&name, ".link.");
    base_add_integer(&name, number);
    return base_built(&name);
}

static void write_outlet_link(struct result_out *out, size_t index) {
    const struct layout *layout = &out->solution->layout;
    const struct layout_outlet *outlet = &layout->outlets[index];
    bool onto = outlet->onto_run != SIZE_MAX;
    double area_m2 = 0.0;
    for (size_t i = 0; i < layout->reach_count; i++) {
        area_m2 += layout->reaches[i].outlet == index ? layout->reaches[i].plan_area_m2 : 0.0;
    }
    result_open_map(out, outlet->name);
    result_put_word(out, RESULT_LINK_BY, "outlet");
    result_put_text(out, RESULT_LINK_FROM, layout->runs[outlet->run].name);
    result_put_word(out, RESULT_LINK_END, end_word(onto ? ROOF_END_EAVE : ROOF_END_GROUND));
    if (onto) {
        result_put_text(out, RESULT_LINK_ONTO, layout->runs[outlet->onto_run].name);
    }
    result_put_number(out, RESULT_LINK_AREA, area_m2);
    result_close_map(out);
}

static void write_link(struct result_out *out, size_t index) {
    const struct solution *all = out->solution;
    const struct roof_link *link = &all->roof.links[index];
    result_open_map(out, name_link(out, index));
    result_put_word(out, RESULT_LINK_BY, by_word(link));
    result_put_text(out, RESULT_LINK_FROM, link->from);
    result_put_word(out, RESULT_LINK_END, end_word(link->end));
    if (link->end == ROOF_END_EAVE) {
        result_put_text(out, RESULT_LINK_ONTO, all->roof.eaves[link->onto].name);
    } else if (link->end == ROOF_END_ROOF) {
        result_put_text(out, RESULT_LINK_ONTO, all->job.wings[link->onto].name);
    }
    result_put_number(out, RESULT_LINK_AREA, link->area_m2);
    result_close_map(out);
}

void result_write_links(struct result_out *out) {
    const struct solution *all = out->solution;
    result_open_map(out, text("links"));
    for (size_t i = 0; i < all->layout.outlet_count; i++) {
        write_outlet_link(out, i);
    }
    for (size_t i = 0; i < all->roof.link_count; i++) {
        write_link(out, i);
    }
    result_close_map(out);
}

void result_write_decks(struct result_out *out) {
    const struct layout *layout = &out->solution->layout;
    if (layout->deck_count == 0) {
        return;
    }
    result_open_map(out, text("decks"));
    for (size_t i = 0; i < layout->deck_count; i++) {
        const struct layout_deck *deck = &layout->decks[i];
        result_open_map(out, out->solution->job.wings[deck->wing].name);
        result_put_number(out, RESULT_DECK_AREA, deck->plan_area_m2);
        result_put_number(out, RESULT_DECK_FLOW, deck->flow_m3s);
        if (deck->width_tick > 0) {
            result_put_tick(out, RESULT_DECK_WIDTH, deck->width_tick);
            result_put_number(out, RESULT_DECK_DEPTH, deck->depth_m);
            result_put_tick(out, RESULT_DECK_EDGE, deck->edge_tick);
        }
        result_close_map(out);
    }
    result_close_map(out);
}
