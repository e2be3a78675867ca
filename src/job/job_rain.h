/* SPDX-License-Identifier: Apache-2.0 */
/* A part of job.h, which includes it: the rain. Other rooms include "job/job.h". */
#ifndef EAVESMITH_JOB_RAIN_H
#define EAVESMITH_JOB_RAIN_H

#include "job/job_eave.h"
#include "rain/rain.h"

/* rain: {storm: {minutes: 1440, second hardest: after, climate: 20 %}} */
struct job_storm {
    bool given;
    struct job_number minutes; /* s; how long a storm made from the table lasts */
    enum rain_side second;     /* LEFT = before the hardest */
    bool second_given;
    struct job_number climate; /* share added to all rain of storms: 0.2 */
    struct base_mark mark;
};

struct job_rain {
    bool given;
    struct job_number intensity; /* m/s */
    struct job_number minutes;   /* s */
    struct job_number years;
    /* like: Atlanta; gives the three above. NULL = not said. Static. */
    const struct rain_place *like;
    struct job_text file; /* rain file, beside the job file */
    enum rain_unit file_unit;
    struct job_text record; /* a gauge's record, beside the job file */
    enum rain_unit record_unit;
    struct job_storm storm;
    struct base_mark mark;
};

#endif
