/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"

#include <math.h>

void assert_float_equal_wide(double a, double b, double tolerance, const char *file, int line) {
    if (!(fabs(a - b) <= tolerance)) {
        print_error("%.12g is not within %.3g of %.12g\n", a, tolerance, b);
        _fail(file, line);
    }
}
