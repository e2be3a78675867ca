/* SPDX-License-Identifier: Apache-2.0 */
/* What the smooth case hands out: its stations, and the deepest place by the arcs themselves. */
#include "hydraulics/hydraulics_smooth.h"

#include <math.h>

enum { PLACES = HYDRAULICS_ARC_PLACES, HALVES = PLACES - 1, EACH = PLACES + HALVES };

/* Halfway between the nine places, and the polynomial through the nine there. */
static const double HALF[HALVES] = {0.043168291161502857, 0.12950487348450856, 0.25450487348450856,
                                    0.41816829116150284,  0.58183170883849711, 0.74549512651549144,
                                    0.87049512651549144,  0.95683170883849711};
static const double HALF_VALUE[HALVES][PLACES] = {
    {0.24126444382657128, 1.217289691238912, -0.64271745360219634, 0.3221623392725641,
     -0.23354807030798785, 0.1522135766182717, -0.10614568078289843, 0.060366008055258324,
     -0.010884854318494805},
    {-0.02888945377377309, 0.43728160320568576, 0.69264166256120263, -0.16403703397561883,
     0.10344685384080453, -0.063516834877679645, 0.042847830240146427, -0.02407255485074225,
     0.0042979276299744589},
    {0.025316354414370405, -0.19330975934373776, 0.62925065348996434, 0.71401812327051628,
     -0.26886157530573318, 0.14280362465410326, -0.08989295049856634, 0.049318289476931475,
     -0.0086427601578485044},
    {-0.012560306364079845, 0.079860875781378751, -0.17098439706328733, 0.58205402388962135,
     0.65751256169466377, -0.19401800796320712, 0.1025906382379724, -0.053482606511661306,
     0.0090272182985993623},
    {0.0090272182985993623, -0.053482606511661306, 0.1025906382379724, -0.19401800796320712,
     0.65751256169466377, 0.58205402388962135, -0.17098439706328733, 0.079860875781378751,
     -0.012560306364079845},
    {-0.0086427601578485044, 0.049318289476931475, -0.08989295049856634, 0.14280362465410326,
     -0.26886157530573318, 0.71401812327051628, 0.62925065348996434, -0.19330975934373776,
     0.025316354414370405},
    {0.0042979276299744589, -0.02407255485074225, 0.042847830240146427, -0.063516834877679645,
     0.10344685384080453, -0.16403703397561883, 0.69264166256120263, 0.43728160320568576,
     -0.02888945377377309},
    {-0.010884854318494805, 0.060366008055258324, -0.10614568078289843, 0.1522135766182717,
     -0.23354807030798785, 0.3221623392725641, -0.64271745360219634, 1.217289691238912,
     0.24126444382657128}};

static double find_share(int k) {
    return k % 2 == 0 ? HYDRAULICS_ARC_SHARES[k / 2] : HALF[k / 2];
}

/* The root at the k-th of the places and halves. */
static double find_root(const struct hydraulics_arc *arc, int k) {
    if (k % 2 == 0) {
        return arc->root_1[k / 2];
    }
    double sum = 0;
    for (int i = 0; i < PLACES; i++) {
        sum += HALF_VALUE[k / 2][i] * arc->root_1[i];
    }
    return sum;
}

/* Lagrange's form through all nine: 1 / product of the differences of one place from the others. */
static const double SHARPNESS[PLACES] = {
    795.10587108178822,  -4011.6735187350496, 6354.3771228866244,
    -7210.3865171575389, 8145.1540838483552,  -7210.386517157538,
    6354.3771228866226,  -4011.6735187350478, 795.10587108178845};

static double read_arc(const struct hydraulics_arc *arc, double share_1) {
    double sum = 0;
    for (int i = 0; i < PLACES; i++) {
        double product = arc->root_1[i] * SHARPNESS[i];
        for (int k = 0; k < PLACES; k++) {
            product *= k == i ? 1 : share_1 - HYDRAULICS_ARC_SHARES[k];
        }
        sum += product;
    }
    return sum;
}

/* ---- the deepest place ------------------------------------------------------------------------
 */

static void meet(struct hydraulics_smooth *smooth, double x_m, double depth_m) {
    if (depth_m > smooth->greatest_depth_m) {
        smooth->greatest_depth_m = depth_m;
        smooth->greatest_x_m = x_m;
    }
}

/* The vertex of the parabola through a place and its neighbours on the arc. */
static double find_vertex(const struct hydraulics_arc *arc, int k) {
    double a = find_share(k - 1);
    double b = find_share(k);
    double c = find_share(k + 1);
    double rise = (find_root(arc, k) - find_root(arc, k - 1)) / (b - a);
    double fall = (find_root(arc, k + 1) - find_root(arc, k)) / (c - b);
    double bend = (fall - rise) / (c - a);
    if (!(bend < 0)) {
        return b;
    }
    double share_1 = (a + b) / 2 - rise / (2 * bend);
    return share_1 < a ? a : share_1 > c ? c : share_1;
}

static void meet_vertex(struct hydraulics_smooth *smooth, const struct hydraulics_arc *arc, int k) {
    double share_1 = find_vertex(arc, k);
    meet(smooth, hydraulics_arc_x(arc, share_1),
         hydraulics_root_depth(&smooth->scale, read_arc(arc, share_1)));
}

/* A place, and the top of the arc about it unless that lies beyond a neighbouring place. */
static void meet_place(struct hydraulics_smooth *smooth, const struct hydraulics_arc *arc, int at) {
    const double *root_1 = arc->root_1;
    bool is_first = at == 0;
    bool is_last = at + 1 == PLACES;
    meet(smooth, hydraulics_arc_x(arc, HYDRAULICS_ARC_SHARES[at]),
         hydraulics_root_depth(&smooth->scale, root_1[at]));
    if ((is_first || root_1[at] >= root_1[at - 1]) && (is_last || root_1[at] >= root_1[at + 1])) {
        meet_vertex(smooth, arc, is_first ? 1 : is_last ? EACH - 2 : 2 * at);
    }
}

/* With fall the water may have two crests nearly as high as each other, and the higher place may
 * lie on the lower one: every place near the highest is looked at. */
void hydraulics_find_deepest(struct hydraulics_smooth *smooth) {
    static const double NEAR_1 = 1e-3; /* of a root: 0.6 % of a depth */
    double highest_1 = 0;
    for (size_t i = 0; i < smooth->count; i++) {
        for (int k = 0; k < PLACES; k++) {
            highest_1 = fmax(highest_1, smooth->arcs[i].root_1[k]);
        }
    }
    smooth->greatest_depth_m = 0;
    meet(smooth, 0, smooth->still_depth_m);
    meet(smooth, smooth->arcs[0].segment->to_m, smooth->end_depth_m);
    for (size_t i = 0; i < smooth->count; i++) {
        for (int k = 0; k < PLACES; k++) {
            if (smooth->arcs[i].root_1[k] >= highest_1 * (1 - NEAR_1)) {
                meet_place(smooth, &smooth->arcs[i], k);
            }
        }
    }
}

/* ---- stations ---------------------------------------------------------------------------------
 */

static void add_station(struct hydraulics_profile *profile, double x_m, double depth_m,
                        double flow_m3s) {
    profile->stations[profile->station_count++] =
        (struct hydraulics_station){x_m, fmin(depth_m, profile->greatest_depth_m), flow_m3s};
}

static void add_place(const struct hydraulics_smooth *smooth, const struct hydraulics_arc *arc,
                      int k, struct hydraulics_profile *profile) {
    double x_m = hydraulics_arc_x(arc, find_share(k));
    add_station(profile, x_m, hydraulics_root_depth(&smooth->scale, find_root(arc, k)),
                hydraulics_segment_flow(arc->segment, x_m));
}

/* From its upper end down. */
static void add_arc(const struct hydraulics_smooth *smooth, const struct hydraulics_arc *arc,
                    bool shows_upper, struct hydraulics_profile *profile) {
    const struct hydraulics_segment *segment = arc->segment;
    if (shows_upper) {
        add_station(profile, segment->from_m,
                    hydraulics_root_depth(&smooth->scale, arc->root_1[PLACES - 1]),
                    segment->flow_m3s);
    }
    for (int k = EACH - 2; k >= 0; k--) {
        add_place(smooth, arc, k, profile);
    }
}

static void add_stations(const struct hydraulics_smooth *smooth,
                         struct hydraulics_profile *profile) {
    const struct hydraulics_segment *first = smooth->arcs[smooth->count - 1].segment;
    if (first->arriving_m3s < first->flow_m3s) {
        add_station(profile, first->from_m, smooth->still_depth_m, first->arriving_m3s);
    }
    for (size_t i = smooth->count; i-- > 0;) {
        const struct hydraulics_arc *arc = &smooth->arcs[i];
        bool begins = i + 1 == smooth->count || arc[1].segment != arc->segment;
        bool shows = i + 1 == smooth->count ||
                     arc->segment->arriving_m3s < arc->segment->flow_m3s ||
                     arc->segment->entry_loss_1 > 0;
        add_arc(smooth, arc, begins && shows, profile);
    }
}

bool hydraulics_write_smooth(struct base_arena *arena, const struct hydraulics_channel *channel,
                             const struct hydraulics_smooth *smooth,
                             struct hydraulics_profile *profile) {
    bool is_drowned = channel->outlet_head_m > smooth->critical_m;
    *profile = (struct hydraulics_profile){
        .control = is_drowned ? HYDRAULICS_CONTROL_DROWNED : HYDRAULICS_CONTROL_OUTLET,
        .control_x_m = channel->length_m,
        .still_depth_m = smooth->still_depth_m,
        .end_depth_m = smooth->end_depth_m,
        .greatest_depth_m = smooth->greatest_depth_m,
        .greatest_x_m = smooth->greatest_x_m,
        .residual_1 = smooth->residual_m2 * channel->length_m / smooth->greatest_m3,
        .error_1 = smooth->error_1};
    profile->stations = base_take(arena, smooth->count * EACH + 2, sizeof *profile->stations);
    if (profile->stations == NULL) {
        return false;
    }
    add_stations(smooth, profile);
    const struct hydraulics_station *last = &profile->stations[profile->station_count - 1];
    if (last->flow_m3s < smooth->end_flow_m3s) {
        add_station(profile, channel->length_m, smooth->end_depth_m, smooth->end_flow_m3s);
    }
    return true;
}

double hydraulics_profile_volume(const struct section_gutter *section,
                                 const struct hydraulics_profile *profile) {
    const double full_m = section_full_depth(section);
    double volume_m3 = 0;
    double before_m2 = 0;
    for (size_t i = 0; i < profile->station_count; i++) {
        const double depth_m = fmin(fmax(profile->stations[i].depth_m, 0), full_m);
        const double area_m2 = section_find_wet(section, depth_m).area_m2;
        if (i > 0) {
            volume_m3 += (profile->stations[i].x_m - profile->stations[i - 1].x_m) *
                         (area_m2 + before_m2) / 2;
        }
        before_m2 = area_m2;
    }
    return volume_m3;
}
