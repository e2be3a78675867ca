/* SPDX-License-Identifier: Apache-2.0 */
/* The storms as strips: rain over time, and from which rain on a gutter goes over. */
#include <math.h>

#include "documents/packet_inside.h"

enum { BARS_MOST = 120, TICKS = 6 };

static const double PLOT_MM = 18.0;  /* height of the hardest rain */
static const double STRIP_MM = 31.0; /* with title and times */
static const double SMALL_MM = 3.0;

/* Where a strip stands, and how much rain its full height is. */
struct strip {
    double left_mm, width_mm, foot_mm;
    double most_mps;
};

static double height_of(const struct strip *strip, double rain_mps) {
    return fmin(PLOT_MM * rain_mps / strip->most_mps, PLOT_MM);
}

/* The reach that goes over in the least rain, as built; INFINITY where none does. */
static double find_limit(const struct layout *layout, size_t *reach) {
    double least_mps = (double)INFINITY;
    for (size_t i = 0; i < layout->reach_count; i++) {
        const double limit_mps = layout->reaches[i].often.troubles[LAYOUT_AS_BUILT].rain_mps;
        if (limit_mps < least_mps) {
            least_mps = limit_mps;
            *reach = i;
        }
    }
    return least_mps;
}

static void add_bar(struct documents_sheet *sheet, struct draw_box bar, enum draw_ink ink) {
    if (bar.bottom_mm - bar.top_mm > 0.01) {
        draw_add_box(sheet->document, sheet->page, bar,
                     (struct draw_look){.filled = true, .fill = ink});
    }
}

/* Each bar is the hardest minute of its stretch; neighbours alike are drawn as one. */
static void draw_bars(struct documents_sheet *sheet, const struct strip *strip,
                      const struct storm *storm, double limit_mps) {
    const size_t minutes = (storm->minute_count + BARS_MOST - 1) / BARS_MOST;
    const double minute_mm = strip->width_mm / (double)storm->minute_count;
    size_t from = 0;
    while (from < storm->minute_count) {
        double rain_m = 0.0;
        size_t to = from;
        for (bool goes_on = true; goes_on && to < storm->minute_count;) {
            double hardest_m = 0.0;
            size_t end = to + minutes < storm->minute_count ? to + minutes : storm->minute_count;
            for (size_t i = to; i < end; i++) {
                hardest_m = fmax(hardest_m, storm->minutes_m[i]);
            }
            goes_on = to == from || fabs(hardest_m - rain_m) <= 1e-9 * rain_m;
            rain_m = to == from ? hardest_m : rain_m;
            to = goes_on ? end : to;
        }
        const double rain_mps = rain_m / RAIN_STORM_STEP_S;
        struct draw_box bar = {strip->left_mm + minute_mm * (double)from,
                               strip->foot_mm - height_of(strip, rain_mps),
                               strip->left_mm + minute_mm * (double)to, strip->foot_mm};
        add_bar(sheet, bar, DRAW_WATER);
        bar.bottom_mm = strip->foot_mm - height_of(strip, limit_mps);
        add_bar(sheet, bar, DRAW_COPPER);
        from = to;
    }
}

/* The shortest round step that leaves at most TICKS of them, in seconds. */
static double find_tick(double duration_s) {
    static const double STEPS_S[] = {60,   120,  300,   600,   900,   1800,
                                     3600, 7200, 10800, 21600, 43200, 86400};
    size_t i = 0;
    while (i + 1 < sizeof STEPS_S / sizeof STEPS_S[0] && duration_s > TICKS * STEPS_S[i]) {
        i++;
    }
    return STEPS_S[i];
}

static void draw_tick(struct documents_sheet *sheet, const struct strip *strip, double share_1,
                      struct base_text time) {
    const double x_mm = strip->left_mm + strip->width_mm * share_1;
    draw_add_line(sheet->document, sheet->page, (struct draw_point){x_mm, strip->foot_mm},
                  (struct draw_point){x_mm, strip->foot_mm + 1.0}, 0.25, DRAW_SOLID, DRAW_BLACK);
    draw_add_text(sheet->document, sheet->page, (struct draw_point){x_mm, strip->foot_mm + 4.2},
                  time, SMALL_MM, DRAW_REGULAR,
                  share_1 <= 0.0   ? DRAW_START
                  : share_1 > 0.97 ? DRAW_END
                                   : DRAW_MIDDLE,
                  DRAW_BLACK);
}

static void draw_times(struct documents_sheet *sheet, const struct strip *strip,
                       double duration_s) {
    const double tick_s = find_tick(duration_s);
    const bool hours = tick_s >= 3600.0;
    const int last = (int)(duration_s / tick_s + 1e-9);
    draw_add_line(sheet->document, sheet->page, (struct draw_point){strip->left_mm, strip->foot_mm},
                  (struct draw_point){strip->left_mm + strip->width_mm, strip->foot_mm}, 0.25,
                  DRAW_SOLID, DRAW_BLACK);
    for (int i = 0; i <= last; i++) {
        struct base_text time =
            units_write_decimal(sheet->arena, tick_s * i / (hours ? 3600.0 : 60.0), 0);
        draw_tick(sheet, strip, tick_s * i / duration_s,
                  i == last ? documents_join(sheet, "", time, hours ? " h" : " min") : time);
    }
}

static void draw_limit(struct documents_sheet *sheet, const struct strip *strip, double limit_mps) {
    const double y_mm = strip->foot_mm - height_of(strip, limit_mps);
    draw_add_line(sheet->document, sheet->page, (struct draw_point){strip->left_mm, y_mm},
                  (struct draw_point){strip->left_mm + strip->width_mm, y_mm}, 0.25, DRAW_DASHED,
                  DRAW_BLACK);
}

/* One scale for all, so that storms can be compared. */
static double find_most(const struct solution *all, double limit_mps) {
    double most_mps = isinf(limit_mps) ? 0.0 : 1.1 * limit_mps;
    for (size_t i = 0; i < all->storm_count; i++) {
        most_mps = fmax(most_mps, all->storms[i].hardest_mps);
    }
    return most_mps;
}

static void draw_strip(struct documents_sheet *sheet, const struct storm *storm, double limit_mps) {
    const struct strip strip = {DOCUMENTS_MARGIN_MM, documents_width(sheet),
                                sheet->y_mm + 4.5 + PLOT_MM, find_most(sheet->solution, limit_mps)};
    draw_add_text(sheet->document, sheet->page,
                  (struct draw_point){strip.left_mm, sheet->y_mm + 2.0},
                  documents_storm_name(sheet, storm), SMALL_MM, DRAW_BOLD, DRAW_START, DRAW_BLACK);
    draw_bars(sheet, &strip, storm, limit_mps);
    if (!isinf(limit_mps)) {
        draw_limit(sheet, &strip, limit_mps);
    }
    draw_times(sheet, &strip, storm->duration_s);
    sheet->y_mm += STRIP_MM;
}

static void say_strips(struct documents_sheet *sheet, double limit_mps, size_t reach) {
    const struct solution *all = sheet->solution;
    struct base_builder text = {.arena = sheet->arena};
    if (isinf(limit_mps)) {
        return;
    }
    base_add_string(&text, "Rain minute by minute; above the dashed line, ");
    base_add_text(&text, units_write_rain(sheet->arena, all->shop.style, limit_mps));
    base_add_string(&text, ", the first gutter goes over: ");
    base_add_text(&text, all->layout.reaches[reach].name);
    base_add_string(&text, ".");
    documents_paragraph(sheet, base_built(&text), DRAW_REGULAR);
}

void documents_draw_strips(struct documents_sheet *sheet) {
    const struct solution *all = sheet->solution;
    size_t reach = 0;
    const double limit_mps = find_limit(&all->layout, &reach);
    if (sheet->y_mm + STRIP_MM + 12.0 > documents_bottom(sheet)) {
        documents_new_page(sheet, sheet->title.bytes);
    }
    say_strips(sheet, limit_mps, reach);
    for (size_t i = 0; i < all->storm_count && sheet->page != NULL; i++) {
        if (sheet->y_mm + STRIP_MM > documents_bottom(sheet)) {
            documents_new_page(sheet, sheet->title.bytes);
        }
        draw_strip(sheet, &all->storms[i], limit_mps);
    }
    sheet->y_mm += 3.0;
}
