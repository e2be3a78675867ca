/* SPDX-License-Identifier: Apache-2.0 */
#include "tree/tree.h"
