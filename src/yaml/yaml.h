/* SPDX-License-Identifier: Apache-2.0 */
/*
 * yaml: YAML text to a marked tree. The only user of the YAML library.
 *
 * Walk      a door: what comes out is handed to job, tariff or shop.
 * Knows     YAML 1.2, and so JSON. Of it: maps with plain or quoted text as keys, lists, scalars,
 *           comments, one document a text.
 * Knows not anchors, aliases, tags, merge keys, maps or lists as keys, a second document: each is
 *           refused by name, because a job must read the same for everyone. With no alias there is
 *           nothing to expand.
 * Memory    nodes and texts live in the arena; nothing of the library's outlives the call.
 * Places    every mark is a byte span of source, so that a text can be changed at its marks. A
 *           quoted scalar's span holds its quotes. A block map or list has the span from its first
 *           entry to its last; a value that was left out has the mark of its key.
 */
#ifndef EAVESMITH_YAML_H
#define EAVESMITH_YAML_H

#include "base/base.h"
#include "tree/tree.h"

/*
 * Gives the root of source. A plain scalar that is empty, ~ or null becomes TREE_NULL; every other
 * scalar stays the text that was written.
 * Issues: TEXT_TOO_LONG, TEXT_NOT_UTF8, TEXT_TOO_DEEP, TEXT_TOO_MANY, TEXT_BROKEN (a text, flow
 * bracket or indentation that is wrong; an unclosed bracket is named where it opens), TEXT_FEATURE,
 * DUPLICATE_KEY (at the second). All features and double keys are found in one go; what breaks the
 * text ends the reading. BASE_STOPPED when there is any; *root is then NULL.
 */
enum base_status yaml_read_tree(struct base_arena *arena, struct base_issues *issues,
                                enum base_document document, struct base_text source,
                                const struct tree_node **root);

#endif
