/* SPDX-License-Identifier: Apache-2.0 */
/* The text of a random house's job and of its price list, as JSON. */
#include "random_house.h"

#include <assert.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

struct writer {
    const struct random_house *house;
    enum random_words words;
    struct random_text *text;
};

__attribute__((format(printf, 2, 3))) static void put(struct writer *writer, const char *format,
                                                      ...) {
    struct random_text *text = writer->text;
    va_list list;
    va_start(list, format);
    int more =
        vsnprintf(text->bytes + text->length, sizeof text->bytes - text->length, format, list);
    va_end(list);
    assert(more >= 0 && (size_t)more < sizeof text->bytes - text->length);
    text->length += (size_t)more;
}

/* ---- lengths -------------------------------------------------------------------------------- */

static void put_metric(struct writer *writer, int64_t tick, bool metres) {
    int64_t tenths = tick / 32;
    assert(tenths * 32 == tick);
    if (metres) {
        put(writer, "%" PRId64 ".%04" PRId64 " m", tenths / 10000, tenths % 10000);
    } else {
        put(writer, "%" PRId64 ".%" PRId64 " mm", tenths / 10, tenths % 10);
    }
}

static void put_feet(struct writer *writer, int64_t tick) {
    int64_t parts = tick / 127;
    assert(parts * 127 == tick);
    put(writer, "%" PRId64 "' %" PRId64 " %" PRId64 "/64\\\"", parts / 768, parts / 64 % 12,
        parts % 64);
}

static void put_bare_length(struct writer *writer, int64_t tick) {
    switch (writer->words) {
    case RANDOM_WORDS_METRIC:
        put_metric(writer, tick, false);
        return;
    case RANDOM_WORDS_METRES:
        put_metric(writer, tick, true);
        return;
    case RANDOM_WORDS_USUAL:
        break;
    }
    if (writer->house->metric) {
        put_metric(writer, tick, false);
    } else {
        put_feet(writer, tick);
    }
}

static void put_length(struct writer *writer, int64_t tick) {
    put(writer, "\"%s", tick < 0 ? "-" : "");
    put_bare_length(writer, tick < 0 ? -tick : tick);
    put(writer, "\"");
}

static void put_length_key(struct writer *writer, const char *key, int64_t tick) {
    put(writer, ", \"%s\": ", key);
    put_length(writer, tick);
}

static void put_section(struct writer *writer, const struct random_section *section) {
    switch (section->wood) {
    case RANDOM_WOOD_UNSAID:
        break;
    case RANDOM_WOOD_FASCIA:
        put(writer, ",\n   \"eave section\": {\"fascia\": {}}");
        break;
    case RANDOM_WOOD_TAILS:
        put(writer, ",\n   \"eave section\": {\"tails\": {\"cut\": \"plumb\"");
        put_length_key(writer, "spacing", section->spacing_tick);
        put_length_key(writer, "first", section->first_tick);
        put(writer, "}}");
        break;
    }
}

/* ---- runs, wings, outlets ------------------------------------------------------------------- */

static void put_end(struct writer *writer, const char *key, enum random_end end, int degrees) {
    static const char *const ENDS[] = {"end cap", "outside corner", "inside corner", "wall"};
    put(writer, ", \"%s\": \"%s", key, ENDS[end]);
    if ((end == RANDOM_OUTSIDE || end == RANDOM_INSIDE) && degrees != 90) {
        put(writer, " %d deg", degrees);
    }
    put(writer, "\"");
}

static void put_run(struct writer *writer, const struct random_run *run) {
    put(writer, "  {\"name\": \"%s\", \"length\": \"", run->name);
    put_bare_length(writer, run->length_tick);
    if (run->doubt_tick > 0) {
        put(writer, " +- ");
        put_bare_length(writer, run->doubt_tick);
    }
    put(writer, "\", \"taped on\": \"%s\"", run->taped_on_wall ? "wall" : "roof edge");
    put_length_key(writer, run->up_the_roof ? "up the roof" : "depth", run->depth_tick);
    put(writer, ", \"pitch\": \"%d/12\"", run->pitch_12);
    put_end(writer, "from", run->from, run->from_deg);
    put_end(writer, "to", run->to, run->to_deg);
    put_length_key(writer, "eave height", run->height_tick);
    put_length_key(writer, "overhang", run->overhang_tick);
    put_section(writer, &run->section);
    put(writer, "}");
}

static void put_pair(struct writer *writer, const char *key, int64_t one_tick, int64_t two_tick) {
    put(writer, ", \"%s\": [", key);
    put_length(writer, one_tick);
    put(writer, ", ");
    put_length(writer, two_tick);
    put(writer, "]");
}

static void put_wing(struct writer *writer, const struct random_wing *wing) {
    static const char *const EDGES[] = {"eave", "gable", "wall"};
    bool own_pitches = false;
    put(writer, "  {\"name\": \"%s\"", wing->name);
    put_pair(writer, "corner", wing->x_tick, wing->y_tick);
    put_pair(writer, "size", wing->width_tick, wing->depth_tick);
    if (wing->turn_deg != 0.0) {
        put(writer, ", \"turn\": \"%.14f deg\"", wing->turn_deg);
    }
    put_length_key(writer, "eave height", wing->height_tick);
    put(writer, ", \"pitch\": \"%d/12\", \"edges\": [", wing->pitch_12);
    for (int i = 0; i < 4; i++) {
        put(writer, "%s\"%s\"", i == 0 ? "" : ", ", EDGES[wing->edges[i]]);
        own_pitches = own_pitches || wing->edge_pitch_12[i] > 0;
    }
    put(writer, "]");
    for (int i = 0; i < 4 && own_pitches; i++) {
        int pitch_12 = wing->edge_pitch_12[i] > 0 ? wing->edge_pitch_12[i] : wing->pitch_12;
        put(writer, "%s\"%d/12\"%s", i == 0 ? ", \"pitches\": [" : ", ", pitch_12,
            i == 3 ? "]" : "");
    }
    if (wing->overhang_tick > 0) {
        put_length_key(writer, "overhang", wing->overhang_tick);
    }
    put_section(writer, &wing->section);
    put(writer, "}");
}

static void put_place(struct writer *writer, const struct random_place *place) {
    const struct random_house *house = writer->house;
    if (place->edge > 0) {
        put(writer, "\"%s %d ", house->wings[place->owner].name, place->edge);
    } else {
        put(writer, "\"%s ", house->runs[place->owner].name);
    }
    switch (place->at) {
    case RANDOM_FROM:
        put(writer, "from\"");
        break;
    case RANDOM_TO:
        put(writer, "to\"");
        break;
    case RANDOM_DISTANCE:
        put(writer, "at ");
        put_bare_length(writer, place->distance_tick);
        put(writer, "\"");
        break;
    }
}

static void put_outlets(struct writer *writer) {
    const struct random_house *house = writer->house;
    put(writer, ",\n \"outlets\": {\"discharge\": \"%s\"", house->discharge);
    if (house->pipe_size != NULL) {
        put(writer, ", \"downspout\": \"%s\"", house->pipe_size);
    }
    for (int i = 0; i < house->place_count; i++) {
        const char *key = house->outlets == RANDOM_OUTLETS_AT ? "at" : "allowed";
        if (i == 0) {
            put(writer, ",\n  \"%s\": [", key);
        }
        put(writer, "%s", i == 0 ? "" : ", ");
        put_place(writer, &house->places[i]);
    }
    put(writer, "%s}", house->place_count > 0 ? "]" : "");
}

/* ---- the whole ------------------------------------------------------------------------------ */

/* The same rain to the last figure: 1 in = 25.4 mm. */
static void put_rain(struct writer *writer) {
    int tenths = writer->house->rain_tenths;
    if (writer->house->metric) {
        put(writer, "%d mm/h", tenths);
    } else if (writer->words == RANDOM_WORDS_USUAL) {
        put(writer, "%d.%d in/h", tenths / 10, tenths % 10);
    } else {
        put(writer, "%d.%02d mm/h", tenths * 254 / 100, tenths * 254 % 100);
    }
}

void random_house_write(const struct random_house *house, enum random_words words,
                        struct random_text *text) {
    struct writer writer = {house, words, text};
    text->length = 0;
    put(&writer, "{\"eavesmith\": 1, \"job\": \"random house %" PRIu64 "\", \"units\": \"%s\",\n",
        house->seed, house->metric ? "mm" : "ft-in");
    put(&writer, " \"place\": {\"rain\": {\"intensity\": \"");
    put_rain(&writer);
    put(&writer, "\", \"minutes\": 5, \"years\": 10}");
    put(&writer, "%s},\n", house->has_snow ? ", \"ground snow\": \"20 psf\"" : "");
    put(&writer, " \"water\": {\"basis\": \"%s\"},\n", house->basis);
    if (house->gutter_size != NULL) {
        put(&writer, " \"gutter\": {\"size\": \"%s\"},\n", house->gutter_size);
    }
    put(&writer, " \"%s\": [\n", house->wing_count > 0 ? "wings" : "runs");
    for (int i = 0; i < house->wing_count; i++) {
        put(&writer, "%s", i == 0 ? "" : ",\n");
        put_wing(&writer, &house->wings[i]);
    }
    for (int i = 0; i < house->run_count; i++) {
        put(&writer, "%s", i == 0 ? "" : ",\n");
        put_run(&writer, &house->runs[i]);
    }
    put(&writer, "]");
    put_outlets(&writer);
    put(&writer, "}\n");
}

static int64_t amount_of(uint64_t *state, int64_t about_minor) { /* 80 to 120 in 100 */
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return about_minor * (int64_t)(80 + (*state >> 33) % 41) / 100;
}

static void put_price(struct writer *writer, uint64_t *state, const char *key, int64_t about) {
    int64_t minor = amount_of(state, about);
    put(writer, ",\n  %s: \"%" PRId64 ".%02" PRId64, key, minor / 100, minor % 100);
}

static void put_sized(struct writer *writer, uint64_t *state, const char *size, int64_t scale,
                      bool gutter) {
    static const char *const OF_GUTTER[] = {"gutter", "end cap", "mitre", "bracket", NULL};
    static const int64_t GUTTER_MINOR[] = {400, 300, 1500, 330};
    static const char *const OF_PIPE[] = {"downspout", "outlet", "strainer", "elbow",
                                          "shoe",      "strap",  NULL};
    static const int64_t PIPE_MINOR[] = {480, 870, 320, 800, 800, 290};
    const char *const *names = gutter ? OF_GUTTER : OF_PIPE;
    for (int i = 0; names[i] != NULL; i++) {
        char key[40];
        snprintf(key, sizeof key, "\"%s %s\"", names[i], size);
        put_price(writer, state, key, scale * (gutter ? GUTTER_MINOR[i] : PIPE_MINOR[i]));
        put(writer, "%s\"", i > 0 ? "" : strstr(size, " in") == NULL ? " per m" : " per ft");
    }
}

void random_house_write_prices(uint64_t seed, struct random_text *text) {
    static const char *const GUTTERS[] = {"4 in", "5 in", "6 in", "7 in", "8 in",
                                          "250",  "280",  "333",  "400",  "500"};
    static const char *const PIPES[] = {"3 in",  "4 in",   "5 in",   "6 in",
                                        "80 mm", "100 mm", "120 mm", "150 mm"};
    static const char *const SMALL[] = {"\"face screw\"", "\"lag\"", "\"strap screw\"",
                                        "\"rivet\""};
    static const int64_t SMALL_MINOR[] = {35, 85, 40, 12};
    struct writer writer = {NULL, RANDOM_WORDS_USUAL, text};
    uint64_t state = seed;
    text->length = 0;
    put(&writer, "{\"eavesmith prices\": 1, \"currency\": \"%s\", \"deposit\": \"%d %%\"",
        seed % 3 == 0 ? "EUR" : "USD", (int)(seed % 5) * 10);
    if (seed % 2 == 0) {
        put(&writer, ", \"tax\": \"%d.%d %%\"", (int)(seed % 19), (int)(seed % 4) * 25);
    }
    put(&writer, ",\n \"prices\": {\"flux\": \"4.50\"");
    for (int i = 0; i < 10; i++) {
        put_sized(&writer, &state, GUTTERS[i], i % 5 + 4, true);
    }
    for (int i = 0; i < 8; i++) {
        put_sized(&writer, &state, PIPES[i], i % 4 + 3, false);
    }
    for (int i = 0; i < 4; i++) {
        put_price(&writer, &state, SMALL[i], SMALL_MINOR[i]);
        put(&writer, "\"");
    }
    put_price(&writer, &state, "\"solder\"", 2100);
    put(&writer, " per lb\"}}\n");
}
