/* SPDX-License-Identifier: Apache-2.0 */
#include "table/table.h"
