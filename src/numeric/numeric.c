/* SPDX-License-Identifier: Apache-2.0 */
#include "numeric/numeric.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <stddef.h>

/* ---- roots --------------------------------------------------------------------------------- */

/*
 * Brent's names: b is the best estimate, a the one before, c the point on the other side of the
 * root; step is the move about to be made, step_before the one made two rounds ago.
 */
struct brent {
    double a, b, c;
    double fa, fb, fc;
    double step, step_before;
};

/* Puts c across the root from b, and the smaller |f| into b. */
static void settle_bracket(struct brent *brent) {
    if ((brent->fb > 0.0) == (brent->fc > 0.0)) {
        brent->c = brent->a;
        brent->fc = brent->fa;
        brent->step = brent->step_before = brent->b - brent->a;
    }
    if (fabs(brent->fc) < fabs(brent->fb)) {
        brent->a = brent->b;
        brent->b = brent->c;
        brent->c = brent->a;
        brent->fa = brent->fb;
        brent->fb = brent->fc;
        brent->fc = brent->fa;
    }
}

/* Secant or inverse quadratic step where it is trusted, else half the bracket. */
static void choose_step(struct brent *brent, double half, double smallest) {
    if (fabs(brent->step_before) < smallest || fabs(brent->fa) <= fabs(brent->fb)) {
        brent->step = brent->step_before = half;
        return;
    }
    double s = brent->fb / brent->fa;
    double p, q;
    if (brent->a == brent->c) {
        p = 2.0 * half * s;
        q = 1.0 - s;
    } else {
        double ratio = brent->fa / brent->fc;
        double r = brent->fb / brent->fc;
        p = s * (2.0 * half * ratio * (ratio - r) - (brent->b - brent->a) * (r - 1.0));
        q = (ratio - 1.0) * (r - 1.0) * (s - 1.0);
    }
    q = p > 0.0 ? -q : q;
    p = fabs(p);
    double before = brent->step_before;
    brent->step_before = brent->step;
    if (2.0 * p < 3.0 * half * q - fabs(smallest * q) && p < fabs(0.5 * before * q)) {
        brent->step = p / q;
    } else {
        brent->step = brent->step_before = half;
    }
}

/* many because a root needs its bracket and its context */
bool numeric_find_root(numeric_function f, const void *context, double low, double high,
                       double tolerance, double *root) {
    assert(f != NULL && root != NULL && low <= high && tolerance >= 0.0);
    struct brent brent = {.a = low, .b = high, .fa = f(low, context), .fb = f(high, context)};
    *root = fabs(brent.fa) < fabs(brent.fb) ? low : high;
    if (brent.fa == 0.0 || brent.fb == 0.0) {
        return true;
    }
    if ((brent.fa > 0.0) == (brent.fb > 0.0)) {
        return false;
    }
    brent.c = brent.b; /* makes the first settling take a as the other side */
    brent.fc = brent.fb;
    for (;;) {
        settle_bracket(&brent);
        double smallest = 2.0 * DBL_EPSILON * fabs(brent.b) + 0.5 * tolerance;
        double half = 0.5 * (brent.c - brent.b);
        if (fabs(half) <= smallest || brent.fb == 0.0) {
            *root = brent.b;
            return true;
        }
        choose_step(&brent, half, smallest);
        brent.a = brent.b;
        brent.fa = brent.fb;
        double least = half > 0.0 ? smallest : -smallest;
        brent.b += fabs(brent.step) > smallest ? brent.step : least;
        brent.fb = f(brent.b, context);
        assert(!isnan(brent.fb));
    }
}

/* ---- rounding ------------------------------------------------------------------------------ */

double numeric_to_figures(double value, int figures) {
    if (!(value > 0.0) || isinf(value)) {
        return value;
    }
    double scale = pow(10.0, figures - 1 - floor(log10(value)));
    return floor(value * scale + 0.5) / scale;
}

int64_t numeric_round_quantum(double value, double quantum) {
    assert(!isnan(value) && quantum > 0.0);
    /* 1e-6 is no exact double but 1e6 is: where the inverse is a whole number, multiply by it */
    double inverse = round(1.0 / quantum);
    double scaled = inverse * quantum == 1.0 ? value * inverse : value / quantum;
    const double limit = 4611686018427387904.0; /* 2^62 */
    if (scaled >= limit) {
        return INT64_C(1) << 62;
    }
    if (scaled <= -limit) {
        return -(INT64_C(1) << 62);
    }
    return (int64_t)round(scaled);
}

int64_t numeric_divide_half_up(int64_t dividend, int64_t divisor) {
    assert(divisor > 0);
    int64_t quotient = dividend / divisor;
    int64_t rest = dividend % divisor;
    if (rest < 0) { /* C cuts towards zero; the floor is wanted */
        rest += divisor;
        quotient--;
    }
    return rest >= divisor - rest ? quotient + 1 : quotient;
}

/* ---- 128 bits by hand ---------------------------------------------------------------------- */

struct wide {
    uint64_t high;
    uint64_t low;
};

static struct wide multiply_wide(uint64_t a, uint64_t b) {
    const uint64_t mask = UINT32_MAX;
    uint64_t low = (a & mask) * (b & mask);
    uint64_t middle_a = (a >> 32) * (b & mask) + (low >> 32); /* cannot overflow */
    uint64_t middle_b = (a & mask) * (b >> 32) + (middle_a & mask);
    return (struct wide){(a >> 32) * (b >> 32) + (middle_a >> 32) + (middle_b >> 32),
                         (middle_b << 32) | (low & mask)};
}

/* Long division bit by bit: a few hundred operations, used once a money line. */
static uint64_t divide_wide(struct wide dividend, uint64_t divisor, uint64_t *rest_out) {
    assert(dividend.high < divisor); /* else the quotient does not fit */
    uint64_t rest = dividend.high;
    uint64_t quotient = 0;
    for (int bit = 63; bit >= 0; bit--) {
        bool carry = (rest >> 63) != 0;
        rest = (rest << 1) | ((dividend.low >> bit) & 1);
        quotient <<= 1;
        if (carry || rest >= divisor) {
            rest -= divisor;
            quotient |= 1;
        }
    }
    *rest_out = rest;
    return quotient;
}

static uint64_t magnitude(int64_t value) {
    return value < 0 ? 0 - (uint64_t)value : (uint64_t)value;
}

int64_t numeric_multiply_divide(int64_t a, int64_t b, int64_t c) {
    assert(c > 0);
    uint64_t divisor = (uint64_t)c;
    uint64_t rest = 0;
    uint64_t quotient = divide_wide(multiply_wide(magnitude(a), magnitude(b)), divisor, &rest);
    if ((a < 0) == (b < 0) || quotient + rest == 0) {
        quotient += rest >= divisor - rest;
        assert(quotient <= INT64_MAX);
        return (int64_t)quotient;
    }
    quotient += rest > divisor - rest; /* below zero a half goes up, towards zero */
    assert(quotient <= INT64_MAX);     /* INT64_MIN itself is given up */
    return -(int64_t)quotient;
}

/* ---- sums ---------------------------------------------------------------------------------- */

void numeric_add(struct numeric_sum *sum, double value) {
    double total = sum->total + value;
    if (fabs(sum->total) >= fabs(value)) {
        sum->lost += (sum->total - total) + value;
    } else {
        sum->lost += (value - total) + sum->total;
    }
    sum->total = total;
}

double numeric_total(const struct numeric_sum *sum) {
    return sum->total + sum->lost;
}

void numeric_sort(double *values, size_t count) {
    size_t gap = 1;
    while (gap < count / 3) {
        gap = 3 * gap + 1;
    }
    for (; gap > 0; gap /= 3) {
        for (size_t i = gap; i < count; i++) {
            double moved = values[i];
            size_t at = i;
            for (; at >= gap && values[at - gap] > moved; at -= gap) {
                values[at] = values[at - gap];
            }
            values[at] = moved;
        }
    }
}
