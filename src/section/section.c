/* SPDX-License-Identifier: Apache-2.0 */
#include "section/section.h"
