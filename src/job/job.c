/* SPDX-License-Identifier: Apache-2.0 */
#include "job/job.h"
