/* SPDX-License-Identifier: Apache-2.0 */
#include "cut/cut.h"

#include <assert.h>

/* A longer order is fitted but not searched: the search goes as deep as it has parts. */
enum { LOOKED_MOST = 20000, SEARCHED_MOST = 400 };

/* Lengths longest first, each with what a cut takes; the bar one cut longer. */
struct search {
    const int64_t *lengths; /* [count], falling */
    size_t count;
    int64_t bar;
    int64_t sum;
    size_t *bar_of;  /* of the plan being tried; SIZE_MAX = not placed */
    size_t *best_of; /* of the best one */
    size_t *stack;   /* [2 count] */
    size_t best;     /* bars of it */
    size_t bound;
    size_t placed;
    int64_t wasted; /* in the bars closed so far */
    size_t looked;
    bool gave_up;
};

/* ---- bound -------------------------------------------------------------------------------------
 */

/* With a threshold k: those over bar - k stand alone, those over half a bar each need one, and what
 * is at least k of the rest goes into the room beside these or into bars of its own. */
static size_t bound_at(const struct search *search, int64_t k) {
    size_t alone = 0;
    size_t halves = 0;
    int64_t beside = 0;
    int64_t rest = 0;
    for (size_t i = 0; i < search->count; i++) {
        int64_t length = search->lengths[i];
        if (length > search->bar - k) {
            alone++;
        } else if (2 * length > search->bar) {
            halves++;
            beside += search->bar - length;
        } else if (length >= k) {
            rest += length;
        }
    }
    int64_t over = rest - beside;
    size_t more = over > 0 ? (size_t)((over + search->bar - 1) / search->bar) : 0;
    return alone + halves + more;
}

static size_t find_bound(const struct search *search) {
    size_t bound = bound_at(search, 0);
    for (size_t i = 0; i < search->count; i++) {
        bool is_new = i == 0 || search->lengths[i] != search->lengths[i - 1];
        if (is_new && 2 * search->lengths[i] <= search->bar) {
            size_t here = bound_at(search, search->lengths[i]);
            bound = here > bound ? here : bound;
        }
    }
    return bound;
}

/* ---- best fit ----------------------------------------------------------------------------------
 */

static void fit_best(struct search *search, int64_t *room) {
    search->best = 0;
    for (size_t i = 0; i < search->count; i++) {
        size_t at = search->best;
        for (size_t bar = 0; bar < search->best; bar++) {
            bool fits = room[bar] >= search->lengths[i];
            if (fits && (at == search->best || room[bar] < room[at])) {
                at = bar;
            }
        }
        if (at == search->best) {
            room[search->best++] = search->bar;
        }
        room[at] -= search->lengths[i];
        search->best_of[i] = at;
    }
}

/* ---- least slack -------------------------------------------------------------------------------
 */

/* One bar: the longest part that is left, and with it those that leave the least room. */
struct slack {
    struct search *search;
    size_t *chosen; /* stack of the parts tried */
    size_t depth;
    size_t *best; /* parts of the fullest bar so far */
    size_t best_depth;
    int64_t best_room;
    size_t tried;
};
enum { SLACK_TRIED_MOST = 3000 };

static void try_slack(struct slack *slack, size_t from, int64_t room) {
    const struct search *search = slack->search;
    if (room < slack->best_room) {
        slack->best_room = room;
        slack->best_depth = slack->depth;
        for (size_t i = 0; i < slack->depth; i++) {
            slack->best[i] = slack->chosen[i];
        }
    }
    int64_t last = -1;
    for (size_t i = from; i < search->count && slack->best_room > 0; i++) {
        int64_t length = search->lengths[i];
        if (search->bar_of[i] != SIZE_MAX || length > room || length == last) {
            continue;
        }
        if (++slack->tried > SLACK_TRIED_MOST) {
            return;
        }
        last = length;
        slack->chosen[slack->depth++] = i;
        try_slack(slack, i + 1, room - length);
        slack->depth--;
    }
}

/* Bar after bar; kept where it takes fewer bars. */
static void fit_slack(struct search *search) {
    size_t bars = 0;
    for (size_t first = 0; first < search->count; first++) {
        if (search->bar_of[first] != SIZE_MAX) {
            continue;
        }
        search->bar_of[first] = bars;
        int64_t left = search->bar - search->lengths[first];
        struct slack slack = {.search = search,
                              .chosen = search->stack,
                              .best = search->stack + search->count,
                              .best_room = left + 1};
        try_slack(&slack, first + 1, left);
        for (size_t i = 0; i < slack.best_depth; i++) {
            search->bar_of[slack.best[i]] = bars;
        }
        bars++;
    }
    bool is_better = bars < search->best;
    search->best = is_better ? bars : search->best;
    for (size_t i = 0; i < search->count; i++) {
        search->best_of[i] = is_better ? search->bar_of[i] : search->best_of[i];
        search->bar_of[i] = SIZE_MAX;
    }
}

/* ---- search ------------------------------------------------------------------------------------
 */

static bool fill_bar(struct search *search, size_t bar, size_t from, int64_t room);

/* True when the search may end. */
static bool open_bar(struct search *search, size_t bar) {
    if (search->placed == search->count) {
        if (bar < search->best) {
            search->best = bar;
            for (size_t i = 0; i < search->count; i++) {
                search->best_of[i] = search->bar_of[i];
            }
        }
        return search->best <= search->bound;
    }
    if (bar + 1 >= search->best) {
        return false;
    }
    size_t first = 0;
    while (search->bar_of[first] != SIZE_MAX) {
        first++;
    }
    search->bar_of[first] = bar;
    search->placed++;
    bool is_done = fill_bar(search, bar, first + 1, search->bar - search->lengths[first]);
    search->bar_of[first] = SIZE_MAX;
    search->placed--;
    return is_done;
}

static bool anything_fits(const struct search *search, int64_t room) {
    for (size_t i = search->count; i-- > 0;) { /* the shortest first */
        if (search->bar_of[i] == SIZE_MAX) {
            return search->lengths[i] <= room;
        }
    }
    return false;
}

static bool close_bar(struct search *search, size_t bar, int64_t room) {
    /* to be better, a plan may waste no more than this in all */
    int64_t allowed = (int64_t)(search->best - 1) * search->bar - search->sum;
    if (search->wasted + room > allowed) {
        return false;
    }
    search->wasted += room;
    bool is_done = open_bar(search, bar + 1);
    search->wasted -= room;
    return is_done;
}

static bool fill_bar(struct search *search, size_t bar, size_t from, int64_t room) {
    if (++search->looked > LOOKED_MOST) {
        search->gave_up = true;
        return true;
    }
    int64_t last = -1; /* a length tried here is not tried again */
    for (size_t i = from; i < search->count; i++) {
        int64_t length = search->lengths[i];
        if (search->bar_of[i] != SIZE_MAX || length > room || length == last) {
            continue;
        }
        last = length;
        search->bar_of[i] = bar;
        search->placed++;
        bool is_done = fill_bar(search, bar, i + 1, room - length);
        search->bar_of[i] = SIZE_MAX;
        search->placed--;
        if (is_done) {
            return true;
        }
    }
    return !anything_fits(search, room) && close_bar(search, bar, room);
}

/* ---- the whole ---------------------------------------------------------------------------------
 */

/* Longest first; equals as they come. */
static void sort_falling(const struct cut_order *order, size_t *rank) {
    for (size_t i = 0; i < order->count; i++) {
        size_t k = i;
        for (; k > 0 && order->lengths_tick[rank[k - 1]] < order->lengths_tick[i]; k--) {
            rank[k] = rank[k - 1];
        }
        rank[k] = i;
    }
}

bool cut_pack(struct base_arena *arena, const struct cut_order *order,
              struct cut_packing *packing) {
    size_t count = order->count;
    *packing =
        (struct cut_packing){.bar_of = base_take(arena, count + 1, sizeof(size_t)), .proved = true};
    size_t *rank = base_take(arena, 5 * count + 1, sizeof *rank);
    int64_t *lengths = base_take(arena, 2 * count + 1, sizeof *lengths);
    if (packing->bar_of == NULL || rank == NULL || lengths == NULL) {
        return false;
    }
    sort_falling(order, rank);
    struct search search = {.lengths = lengths,
                            .count = count,
                            .bar = order->bar_tick + order->loss_tick,
                            .bar_of = rank + count,
                            .best_of = rank + 2 * count,
                            .stack = rank + 3 * count};
    for (size_t i = 0; i < count; i++) {
        lengths[i] = order->lengths_tick[rank[i]] + order->loss_tick;
        assert(lengths[i] > 0 && lengths[i] <= search.bar);
        search.sum += lengths[i];
        search.bar_of[i] = SIZE_MAX;
    }
    search.bound = find_bound(&search);
    fit_best(&search, lengths + count);
    if (search.best > search.bound && count <= SEARCHED_MOST) {
        fit_slack(&search);
    }
    if (search.best > search.bound && count > SEARCHED_MOST) {
        search.gave_up = true;
    } else if (search.best > search.bound) {
        (void)open_bar(&search, 0);
    }
    for (size_t i = 0; i < count; i++) {
        packing->bar_of[rank[i]] = search.best_of[i];
    }
    packing->bars = search.best;
    packing->proved = search.best == search.bound || !search.gave_up;
    packing->bound = packing->proved ? search.best : search.bound;
    packing->looked = search.looked;
    return true;
}
