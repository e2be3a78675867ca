/* SPDX-License-Identifier: Apache-2.0 */
/* A house of twenty wings, as large as this trade meets: for counting work and for timing. */
#ifndef EAVESMITH_TESTS_TWENTY_WINGS_H
#define EAVESMITH_TESTS_TWENTY_WINGS_H

#include "job/job.h"

enum { TWENTY_WINGS = 20 };

/* A hall with two cross wings, a kitchen ell, porches, sheds, dormers, bays and turrets. */
void twenty_wings_make(struct job_wing wings[TWENTY_WINGS], struct job *job);

#endif
