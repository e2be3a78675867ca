/* SPDX-License-Identifier: Apache-2.0 */
#include "tree/tree.h"

#include <string.h>

const struct tree_node *tree_find(const struct tree_node *map, const char *key) {
    if (map == NULL || map->kind != TREE_MAP) {
        return NULL;
    }
    const struct tree_node *entry = map->first;
    while (entry != NULL && !base_text_is(entry->key, key)) {
        entry = entry->next;
    }
    return entry;
}

/* ---- the text as a whole ------------------------------------------------------------------- */

/* Least and greatest second byte after each first byte (Unicode standard, table 3-7); they keep out
 * overlong forms, surrogates and what lies above U+10FFFF. */
static size_t utf8_step(const unsigned char *at, size_t left) {
    unsigned char lead = at[0];
    if (lead < 0x80) {
        return 1;
    }
    size_t length = lead < 0xC2 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 0;
    if (length == 0 || length > left) {
        return 0;
    }
    unsigned char least = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
    unsigned char most = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
    if (at[1] < least || at[1] > most) {
        return 0;
    }
    for (size_t i = 2; i < length; i++) {
        if ((at[i] & 0xC0) != 0x80) {
            return 0;
        }
    }
    return length;
}

/* The bytes before the first that is not UTF-8; all of them when there is none. */
static size_t utf8_length(struct base_text text) {
    const unsigned char *bytes = (const unsigned char *)text.bytes;
    size_t at = 0;
    while (at < text.length) {
        size_t step = utf8_step(bytes + at, text.length - at);
        if (step == 0) {
            break;
        }
        at += step;
    }
    return at;
}

bool tree_is_utf8(struct base_text text) {
    return utf8_length(text) == text.length;
}

bool tree_check_text(struct base_issues *issues, enum base_document document,
                     struct base_text source) {
    if (source.length > TREE_BYTES_MAX) {
        base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_TEXT_TOO_LONG,
                                                   .mark = {.document = document},
                                                   .limit = base_value_count(TREE_BYTES_MAX)});
        return false;
    }
    size_t at = utf8_length(source);
    if (at < source.length) {
        struct tree_cursor cursor = {.source = source, .line = 1, .column = 1};
        base_add_issue(issues,
                       (struct base_issue){.code = BASE_ISSUE_TEXT_NOT_UTF8,
                                           .mark = tree_make_mark(&cursor, document, at, at + 1)});
        return false;
    }
    return true;
}

/* ---- double keys --------------------------------------------------------------------------- */

/* By key, then by place, so that of two equal keys the later one follows. */
static bool comes_after(const struct tree_node *a, const struct tree_node *b) {
    int order = base_text_compare(a->key, b->key);
    return order > 0 || (order == 0 && a->key_mark.from_byte > b->key_mark.from_byte);
}

/* Bottom-up merge: n log n whatever a hostile text holds. from and to change roles each pass. */
static const struct tree_node **sort_entries(const struct tree_node **from,
                                             const struct tree_node **to, size_t count) {
    for (size_t width = 1; width < count; width *= 2) {
        for (size_t start = 0; start < count; start += 2 * width) {
            size_t middle = start + width < count ? start + width : count;
            size_t end = start + 2 * width < count ? start + 2 * width : count;
            size_t left = start;
            size_t right = middle;
            for (size_t i = start; i < end; i++) {
                bool take_right =
                    left == middle || (right < end && comes_after(from[left], from[right]));
                to[i] = take_right ? from[right++] : from[left++];
            }
        }
        const struct tree_node **swap = from;
        from = to;
        to = swap;
    }
    return from;
}

bool tree_check_keys(struct base_issues *issues, const struct tree_node *map) {
    if (map->count < 2) {
        return true;
    }
    const struct tree_node **entries = base_take(issues->arena, map->count, sizeof *entries);
    const struct tree_node **spare = base_take(issues->arena, map->count, sizeof *spare);
    if (entries == NULL || spare == NULL) {
        return false;
    }
    size_t count = 0;
    for (const struct tree_node *entry = map->first; entry != NULL; entry = entry->next) {
        entries[count++] = entry;
    }
    const struct tree_node **sorted = sort_entries(entries, spare, count);
    bool single = true;
    for (size_t i = 1; i < count; i++) {
        if (base_text_equal(sorted[i - 1]->key, sorted[i]->key)) {
            base_add_issue(issues, (struct base_issue){.code = BASE_ISSUE_DUPLICATE_KEY,
                                                       .mark = sorted[i]->key_mark,
                                                       .object = sorted[i]->key});
            single = false;
        }
    }
    return single;
}
