/* SPDX-License-Identifier: Apache-2.0 */
#include "rain/rain.h"
