/* SPDX-License-Identifier: Apache-2.0 */
#include "hydraulics/hydraulics_inside.h"
