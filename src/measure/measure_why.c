/* SPDX-License-Identifier: Apache-2.0 */
/* Why each number of the adjustment is what it is. */
#include "measure/measure_inside.h"

static const char *ending_of(const struct measure_item *item) {
    return item->said.unit == BASE_UNIT_TICK ? "_m" : "_rad";
}

static enum base_unit unit_of(const struct measure_item *item) {
    return item->said.unit == BASE_UNIT_TICK ? BASE_UNIT_M : BASE_UNIT_RAD;
}

/* "adjusted_m", "adjusted_rad". */
static void open_leaf(struct base_trace *trace, const struct measure_item *item, const char *word) {
    struct base_text parts[] = {base_text_of(word), base_text_of(ending_of(item))};
    base_trace_leaf(trace, base_join(trace->arena, 2, parts).bytes);
}

static void number(struct base_trace *trace, const char *name, enum base_unit unit, double value) {
    base_trace_input(trace, name, base_value_number(unit, value));
}

static void explain_size(struct base_trace *trace, const struct measure *measure,
                         const struct measure_item *item) {
    enum base_unit unit = unit_of(item);
    open_leaf(trace, item, "adjusted");
    base_trace_formula(trace, "least squares over all measurements: said + residual", "SRC-70");
    number(trace, "said", unit, item->said_si);
    open_leaf(trace, item, "residual");
    base_trace_formula(trace, "adjusted - said, where the sum of (residual / sigma)^2 is least",
                       "SRC-70");
    number(trace, "sigma", unit, item->sigma);
    base_trace_rule(trace, item->sigma_assumed ? "no doubt was said: the usual one (SRC-71)"
                                               : "the doubt that was said is two sigma");
    open_leaf(trace, item, "within");
    base_trace_formula(trace, "1.96 sigma sqrt(1 - redundancy), times s0 where s0 is over 1",
                       "SRC-70");
    number(trace, "sigma", unit, item->sigma);
    number(trace, "redundancy", BASE_UNIT_RATIO, item->redundancy);
    if (item->detectable > 0.0) {
        open_leaf(trace, item, "detectable");
        base_trace_formula(trace, "(critical + 0.842) sigma / sqrt(redundancy)", "SRC-70");
        number(trace, "critical", BASE_UNIT_RATIO, measure->critical_1);
        number(trace, "sigma", unit, item->sigma);
        number(trace, "redundancy", BASE_UNIT_RATIO, item->redundancy);
    }
}

static void explain_item(struct base_trace *trace, const struct measure *measure,
                         const struct measure_item *item) {
    struct base_text parts[] = {base_text_of("measurements/"), item->name};
    base_trace_scope(trace, base_join(trace->arena, 2, parts));
    if (item->kind != MEASURE_PITCH) {
        explain_size(trace, measure, item);
    }
    base_trace_leaf(trace, "redundancy_1");
    base_trace_formula(trace, "1 - a' (A' P A)^-1 a p: its own share in its residual", "SRC-70");
    base_trace_leaf(trace, "w_1");
    base_trace_formula(trace, "residual / (sigma sqrt(redundancy))", "SRC-70");
    number(trace, "critical", BASE_UNIT_RATIO, measure->critical_1);
}

void measure_explain(struct base_trace *trace, const struct measure *measure) {
    if (trace == NULL || measure->redundancy == 0) {
        return;
    }
    base_trace_scope(trace, base_text_of("closing"));
    base_trace_leaf(trace, "redundancy");
    base_trace_formula(trace, "measurements less the sizes they fix (rank)", "SRC-70");
    base_trace_input(trace, "measurements", base_value_count((int64_t)measure->item_count));
    base_trace_leaf(trace, "chi_1");
    base_trace_formula(trace, "sum of (residual / sigma)^2", "SRC-70");
    number(trace, "exceeded once in 100", BASE_UNIT_RATIO, measure->chi_limit);
    if (measure->is_ring) {
        base_trace_leaf(trace, "misclosure_m");
        base_trace_formula(trace, "the walk by what was said, its end from its start",
                           "plane geometry");
        base_trace_leaf(trace, "expected_m");
        base_trace_formula(trace, "root of the sum of sigma^2 and (corner's sigma x reach)^2",
                           "SRC-71");
    }
    for (size_t i = 0; i < measure->item_count; i++) {
        explain_item(trace, measure, &measure->items[i]);
    }
}
