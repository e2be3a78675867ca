/* SPDX-License-Identifier: Apache-2.0 */
/*
 * One arc of the smooth case. Along it x = x_low - s (s + 2 bias), s quadratic in the share of the
 * arc, and the root v is a polynomial in that share. The momentum balance
 *
 *     M(v, Q) - M_low = integral of A (S0 - Sf) dx
 *
 * is kept at Lobatto's five points: collocation, of order 8 at the ends; dx is taken exactly and
 * only the push A (S0 - Sf) is read as a polynomial. Newton's way finds the four unknown roots.
 * Then the balance is asked again at nine places with the push through all nine, and what is
 * missing is made good, three times; what the last time still makes good is called the error, or
 * a share of the first if that is more. Source: collocation, SRC-91.
 */
#include "hydraulics/hydraulics_smooth.h"

#include <math.h>

enum {
    LANES = HYDRAULICS_LANES,
    PLACES = HYDRAULICS_ARC_PLACES,
    NODES = LANES + 1,
    POWERS = 4,
    TURNS = 14,
    MENDS = 3
};
static const double ROOT_SHARE = 1e-5;   /* Newton's last step: what is left is its square */
static const double STRIDE_MOST = 0.15;  /* of a root, in one step of Newton's way */
static const double FIRST_LEFT_1 = 0.15; /* of what is made good first: held by a test */
static const double TABLE_1 = 1e-7;      /* what the tables of sections may cost a depth */

/* Lobatto's points on [0, 1], the lower end left out, and halfway between them. */
static const double NODE[LANES] = {0.17267316464601143, 0.5, 0.82732683535398854, 1};
static const double BETWEEN[LANES] = {0.086336582323005714, 0.33633658232300573,
                                      0.66366341767699433, 0.91366341767699433};
/* Integral of share^k times the polynomial through the nodes, from 0 to node 1..4. */
static const double NODE_MOMENT[POWERS][LANES][NODES] = {
    {{0.067728432186156901, 0.11974476934341169, -0.021735721866558113, 0.010635824225415492,
      -0.0037001392424145306},
     {0.040625000000000001, 0.30318418332304276, 0.17777777777777778, -0.030961961100820556,
      0.0093749999999999997},
     {0.053700139242414534, 0.26158639799680672, 0.37729127742211366, 0.15247745287881054,
      -0.017728432186156898},
     {0.050000000000000003, 0.2722222222222222, 0.35555555555555557, 0.2722222222222222,
      0.050000000000000003}},
    {{0.0034013605442176869, 0.01274020033582565, -0.001797566148698558, 0.00086279486128634916,
      -0.00029877869819684353},
     {-0.005208333333333333, 0.064504550182784059, 0.074999999999999997, -0.013462883516117389,
      0.0041666666666666666},
     {0.0034013605442176869, 0.037232443233951744, 0.19771593349563735, 0.11821218061655531,
      -0.01432707164193921},
     {0, 0.04700547259808089, 0.17777777777777778, 0.22521674962414134, 0.050000000000000003}},
    {{0.00026922180846166322, 0.0015717064904673119, -0.00018085825178484381,
      8.5629122403838031e-05, -2.9556889735180334e-05},
     {-0.0026041666666666665, 0.017214593703017665, 0.030555555555555555, -0.0050618159252398889,
      0.0015625000000000001},
     {0.0031321387357560238, -0.00087927991605463174, 0.10721033670983474, 0.090491785573024758,
      -0.011194932906183187},
     {0, 0.0081165837091920004, 0.088888888888888892, 0.18632786073525245, 0.050000000000000003}},
    {{2.6267483874685546e-05, 0.00021010073789606734, -2.0382502226593777e-05,
      9.5524751449070343e-06, -3.2894058604947878e-06},
     {-0.0009765625, 0.0052511442061286941, 0.012673611111111111, -0.0019091303172398056,
      0.00058593749999999998},
     {0.0028891844111690462, -0.0068932583384426075, 0.06130966011803482, 0.068124852290934512,
      -0.0083057484950141407},
     {0, 0.0014015161951804443, 0.044444444444444446, 0.15415403936037511, 0.050000000000000003}}};
/* The polynomial through the nodes halfway between them. */
static const double BETWEEN_VALUE[LANES][NODES] = {
    {0.33850784352481428, 0.78985163489123333, -0.18840186844712381, 0.092029673021753328,
     -0.031987282990677143},
    {-0.12219460101473786, 0.5859375, 0.6696428571428571, -0.1953125, 0.061926743871880713},
    {0.061926743871880713, -0.1953125, 0.6696428571428571, 0.5859375, -0.12219460101473786},
    {-0.031987282990677143, 0.092029673021753328, -0.18840186844712381, 0.78985163489123333,
     0.33850784352481428}};
/* Integral from 0 to each place of the polynomial through all nine. */
static const double FINE_INTEGRAL[PLACES - 1][PLACES] = {
    {0.028166129431924012, 0.084921947440748421, -0.037622100736262182, 0.019075353662539204,
     -0.013907251691510109, 0.0090917046572337075, -0.0063520695783556898, 0.0036151245624364238,
     -0.00065225542574807473},
    {0.026460823108434652, 0.12464372146507889, 0.016437817445955957, 0.0097664261461976147,
     -0.0080465088791384972, 0.005492229518208774, -0.003923064527061159, 0.0022502576644403151,
     -0.000408537296105121},
    {0.02914720711012388, 0.10348179488835488, 0.11292994132582733, 0.11394103884805552,
     -0.03630922934390058, 0.020328614001868136, -0.013236310347375798, 0.0073565571873349112,
     -0.0013030313472825706},
    {0.027817877497792534, 0.11197683973605763, 0.094535939605755764, 0.20474993385007181,
     0.062341920580380447, -0.00037389878324815574, -0.0024264476240841064, 0.0017327271215118447,
     -0.00035489198423777838},
    {0.028766016860837323, 0.10635300967023456, 0.10534580232904746, 0.18404742106495553,
     0.16099307050466147, 0.090434996218768146, -0.020820449344155671, 0.010227771969214591,
     -0.0016842215965691266},
    {0.027871522809659877, 0.11145930919312916, 0.096032556508732825, 0.1988838055486149,
     0.13273035003989939, 0.19460960892062606, 0.075671674535715702, -0.010934154607509426,
     0.0010021624051201013},
    {0.02811524093930283, 0.11009444229513304, 0.098461561560027347, 0.19528433040958995,
     0.138591092852271, 0.18530068140428446, 0.12973159271793386, 0.028787619416821043,
     -0.00070314391836925666},
    {0.027462985513554753, 0.11370956685756947, 0.092109491981671662, 0.20437603506682367,
     0.12468384116076089, 0.20437603506682367, 0.092109491981671662, 0.11370956685756947,
     0.027462985513554753}};

static inline double greater(double a, double b) {
    return a > b ? a : b;
}

/* ---- the balance -------------------------------------------------------------------------------
 */

/* Momentum, and what drives it along, at four roots; how both change with the root; and how fast
 * the first of these changes itself: v M'' / (2 M'), nearly. */
struct balance {
    double momentum_m3[LANES];
    double push_m2[LANES];
    double momentum_rise[LANES];
    double ease[LANES]; /* 1 / that */
    double push_rise[LANES];
    double bend_m2[LANES];
    double depth_rise_m[LANES];
};

static void find_balance(const struct hydraulics_walk *walk, const double root_1[LANES],
                         const double flow_m3s[LANES], struct balance *balance) {
    struct hydraulics_cuts cuts;
    hydraulics_find_cuts(walk->reach, walk->scale, root_1, &cuts);
    double n2 = walk->reach->manning_1 * walk->reach->manning_1;
    double slope_1 = walk->reach->slope_1;
    for (int i = 0; i < LANES; i++) {
        double flow2 = flow_m3s[i] * flow_m3s[i];
        double kinetic_m3 = flow2 / HYDRAULICS_GRAVITY_MPS2 * cuts.thinness[i];
        double froude2 = kinetic_m3 * cuts.thinness[i] * cuts.thinness[i] * cuts.width_m[i];
        double drag_m2 = n2 * flow2 * cuts.drag[i];
        double grow = 6 / root_1[i]; /* d ln(depth) / dv */
        double depth_rise_m = cuts.depth_m[i] * grow;
        balance->depth_rise_m[i] = depth_rise_m;
        balance->momentum_m3[i] = kinetic_m3 + cuts.moment_m3[i];
        balance->momentum_rise[i] = cuts.area_m2[i] * (1 - froude2) * depth_rise_m;
        balance->ease[i] = 1 / balance->momentum_rise[i];
        balance->push_m2[i] = cuts.area_m2[i] * slope_1 - drag_m2;
        balance->push_rise[i] =
            cuts.width_m[i] * slope_1 * depth_rise_m - drag_m2 * cuts.drag_rise_1[i] * grow;
        /* d2M/dy2 = T (1 + 2 Fr^2) less a term of T', left out */
        balance->bend_m2[i] = 3 * cuts.depth_m[i] * cuts.width_m[i] * (1 + 1.7 * froude2);
    }
}

/* ---- places ------------------------------------------------------------------------------------
 */

double hydraulics_arc_x(const struct hydraulics_arc *arc, double share_1) {
    double s = arc->run[0] + share_1 * (arc->run[1] + share_1 * arc->run[2]);
    double x_m = arc->segment->to_m - s * (s + 2 * arc->bias);
    return greater(x_m, arc->segment->from_m);
}

static void find_flows(const struct hydraulics_arc *arc, const double share_1[LANES],
                       double flow_m3s[LANES]) {
    for (int i = 0; i < LANES; i++) {
        flow_m3s[i] = hydraulics_segment_flow(arc->segment, hydraulics_arc_x(arc, share_1[i]));
    }
}

/* dx per share of the arc, as a cubic. */
static void find_stretch(const struct hydraulics_arc *arc, double stretch_m[POWERS]) {
    double low = arc->run[0] + arc->bias;
    stretch_m[0] = -2 * low * arc->run[1];
    stretch_m[1] = -2 * (arc->run[1] * arc->run[1] + 2 * low * arc->run[2]);
    stretch_m[2] = -6 * arc->run[1] * arc->run[2];
    stretch_m[3] = -4 * arc->run[2] * arc->run[2];
}

/* M at node i + 1 less M at the lower end = sum of weight[i][j] push at node j. */
struct weights {
    double weight[LANES][NODES];
};

static void find_weights(const double stretch_m[POWERS], struct weights *weights) {
    for (int i = 0; i < LANES; i++) {
        for (int j = 0; j < NODES; j++) {
            weights->weight[i][j] =
                stretch_m[0] * NODE_MOMENT[0][i][j] + stretch_m[1] * NODE_MOMENT[1][i][j] +
                (stretch_m[2] * NODE_MOMENT[2][i][j] + stretch_m[3] * NODE_MOMENT[3][i][j]);
        }
    }
}

/* ---- the roots ---------------------------------------------------------------------------------
 */

/* Four equations by halves: the upper two unknowns are eliminated as one. */
static void solve_rows(double rows[LANES][LANES + 1], double answer[LANES]) {
    const double *a = rows[0];
    const double *b = rows[1];
    double upper = 1 / (a[0] * b[1] - a[1] * b[0]);
    /* of the upper rows: x0 = c0 - p0 x2 - q0 x3, x1 likewise */
    double p0 = (a[2] * b[1] - a[1] * b[2]) * upper;
    double p1 = (a[0] * b[2] - a[2] * b[0]) * upper;
    double q0 = (a[3] * b[1] - a[1] * b[3]) * upper;
    double q1 = (a[0] * b[3] - a[3] * b[0]) * upper;
    double c0 = (a[4] * b[1] - a[1] * b[4]) * upper;
    double c1 = (a[0] * b[4] - a[4] * b[0]) * upper;
    double lower[2][3];
    for (int i = 0; i < 2; i++) {
        const double *row = rows[2 + i];
        lower[i][0] = row[2] - row[0] * p0 - row[1] * p1;
        lower[i][1] = row[3] - row[0] * q0 - row[1] * q1;
        lower[i][2] = row[4] - row[0] * c0 - row[1] * c1;
    }
    double rest = 1 / (lower[0][0] * lower[1][1] - lower[0][1] * lower[1][0]);
    answer[2] = (lower[0][2] * lower[1][1] - lower[0][1] * lower[1][2]) * rest;
    answer[3] = (lower[0][0] * lower[1][2] - lower[0][2] * lower[1][0]) * rest;
    answer[0] = c0 - p0 * answer[2] - q0 * answer[3];
    answer[1] = c1 - p1 * answer[2] - q1 * answer[3];
}

/*
 * A stride of Newton's way with its second term (Chebyshev's), held within bounds: M bends hard
 * just above critical depth. share_1 is the plain stride as a share of the root.
 */
static double bend_stride(double share_1, double rise_1) {
    double bent = 1 - share_1 * (2.5 + rise_1);
    bent = bent < 0.6 ? 0.6 : bent > 1.4 ? 1.4 : bent;
    double stride = share_1 * bent;
    return stride > STRIDE_MOST ? STRIDE_MOST : stride < -STRIDE_MOST ? -STRIDE_MOST : stride;
}

/* 6 y M'' / (2 M'), M' from dM/dv = M' 6 y / v. */
static inline double find_rise(const struct balance *balance, int i) {
    return balance->bend_m2[i] * balance->depth_rise_m[i] * balance->ease[i];
}

/* One turn: roots better; gives the greatest stride as a share of its root, or infinity. */
static double better_roots(const struct hydraulics_walk *walk, const struct weights *weights,
                           const struct balance *balance, double root_1[LANES]) {
    double rows[LANES][LANES + 1];
    for (int i = 0; i < LANES; i++) {
        const double *weight = weights->weight[i];
        double miss = walk->momentum_m3 + weight[0] * walk->push_m2 - balance->momentum_m3[i];
        for (int j = 0; j < LANES; j++) {
            miss += weight[j + 1] * balance->push_m2[j];
            rows[i][j] = -weight[j + 1] * balance->push_rise[j];
        }
        rows[i][i] += balance->momentum_rise[i];
        rows[i][LANES] = miss;
    }
    double stride[LANES];
    solve_rows(rows, stride);
    double greatest = 0;
    for (int i = 0; i < LANES; i++) {
        double share_1 = stride[i] / root_1[i];
        if (!(fabs(share_1) < 10)) {
            return (double)INFINITY;
        }
        greatest = greater(greatest, fabs(share_1));
        root_1[i] += root_1[i] * bend_stride(share_1, find_rise(balance, i));
    }
    return greatest;
}

/* The balance at the last roots from the one a tiny stride before. */
static void move_balance(struct balance *balance, const double before[LANES],
                         const double after[LANES]) {
    for (int i = 0; i < LANES; i++) {
        double moved = after[i] - before[i];
        double bent = 1 + moved / after[i] * (2.5 + find_rise(balance, i));
        balance->momentum_m3[i] += balance->momentum_rise[i] * moved * bent;
        balance->push_m2[i] += balance->push_rise[i] * moved;
    }
}

static bool find_roots(const struct hydraulics_walk *walk, const struct hydraulics_arc *arc,
                       const double stretch_m[POWERS], double root_1[LANES],
                       struct balance *balance) {
    double flow_m3s[LANES];
    struct weights weights;
    find_flows(arc, NODE, flow_m3s);
    find_weights(stretch_m, &weights);
    for (int turn = 0; turn < TURNS; turn++) {
        double before[LANES] = {root_1[0], root_1[1], root_1[2], root_1[3]};
        find_balance(walk, before, flow_m3s, balance);
        double stride = better_roots(walk, &weights, balance, root_1);
        if (stride <= ROOT_SHARE) {
            move_balance(balance, before, root_1);
            return true;
        }
        if (!(stride < (double)INFINITY)) {
            break;
        }
    }
    return false;
}

/* ---- asked again -------------------------------------------------------------------------------
 */

static void find_between(const double node_1[NODES], double root_1[LANES]) {
    for (int i = 0; i < LANES; i++) {
        double sum = 0;
        for (int j = 0; j < NODES; j++) {
            sum += BETWEEN_VALUE[i][j] * node_1[j];
        }
        root_1[i] = sum;
    }
}

static double find_gain(const double stretch_m[POWERS], double share_1, double push_m2) {
    return push_m2 * (stretch_m[0] +
                      share_1 * (stretch_m[1] + share_1 * (stretch_m[2] + share_1 * stretch_m[3])));
}

/* In threes, so that no sum waits long for another. */
static inline double read_integral(const double weight[PLACES], const double gain_m3[PLACES]) {
    double low = weight[0] * gain_m3[0] + weight[1] * gain_m3[1] + weight[2] * gain_m3[2];
    double middle = weight[3] * gain_m3[3] + weight[4] * gain_m3[4] + weight[5] * gain_m3[5];
    double high = weight[6] * gain_m3[6] + weight[7] * gain_m3[7] + weight[8] * gain_m3[8];
    return low + middle + high;
}

/* What the balance misses. */
struct misses {
    double node_m3[LANES];
    double between_m3[LANES];
};

static void find_misses(const struct hydraulics_walk *walk, const double stretch_m[POWERS],
                        const struct balance *nodes, const struct balance *between,
                        struct misses *misses) {
    double gain_m3[PLACES];
    gain_m3[0] = find_gain(stretch_m, 0, walk->push_m2);
    for (int i = 0; i < LANES; i++) {
        gain_m3[2 * i + 1] = find_gain(stretch_m, BETWEEN[i], between->push_m2[i]);
        gain_m3[2 * i + 2] = find_gain(stretch_m, NODE[i], nodes->push_m2[i]);
    }
    for (size_t i = 0; i < LANES; i++) {
        misses->between_m3[i] = walk->momentum_m3 + read_integral(FINE_INTEGRAL[2 * i], gain_m3) -
                                between->momentum_m3[i];
        misses->node_m3[i] = walk->momentum_m3 + read_integral(FINE_INTEGRAL[2 * i + 1], gain_m3) -
                             nodes->momentum_m3[i];
    }
}

/* What of the balance is left over each stretch between neighbours, per metre. */
static double find_residual(const struct hydraulics_arc *arc, const struct misses *misses) {
    double worst_m2 = 0;
    double last_miss_m3 = 0;
    double last_x_m = hydraulics_arc_x(arc, 0);
    for (int p = 0; p + 1 < PLACES; p++) {
        double x_m = hydraulics_arc_x(arc, HYDRAULICS_ARC_SHARES[p + 1]);
        double miss_m3 = (p % 2 == 0 ? misses->between_m3 : misses->node_m3)[p / 2];
        double moved_m3 = fabs(miss_m3 - last_miss_m3);
        if (moved_m3 > worst_m2 * (last_x_m - x_m)) {
            worst_m2 = moved_m3 / (last_x_m - x_m);
        }
        last_miss_m3 = miss_m3;
        last_x_m = x_m;
    }
    return worst_m2;
}

/* Made good at four places; gives the greatest stride as a share of its root. */
static double mend(struct balance *balance, const double miss_m3[LANES], double root_1[LANES]) {
    double worst_1 = 0;
    for (int i = 0; i < LANES; i++) {
        double stride = miss_m3[i] * balance->ease[i];
        worst_1 = greater(worst_1, fabs(stride) / root_1[i]);
        root_1[i] += stride;
        balance->momentum_m3[i] += miss_m3[i];
        balance->push_m2[i] += balance->push_rise[i] * stride;
    }
    return worst_1;
}

static bool is_tranquil(const struct balance *balance) {
    return balance->momentum_rise[0] > 0 && balance->momentum_rise[1] > 0 &&
           balance->momentum_rise[2] > 0 && balance->momentum_rise[3] > 0;
}

/* In turn: between, node, between, node. */
static void keep_roots(const double node_1[NODES], const double between_1[LANES],
                       struct hydraulics_arc *arc) {
    for (int i = 0; i < LANES; i++) {
        arc->root_1[2 * i + 1] = between_1[i];
        arc->root_1[2 * i + 2] = node_1[i + 1];
    }
}

bool hydraulics_solve_arc(struct hydraulics_walk *walk, struct hydraulics_arc *arc,
                          struct hydraulics_end *end) {
    double stretch_m[POWERS];
    double node_1[NODES] = {walk->root_1, arc->root_1[2], arc->root_1[4], arc->root_1[6],
                            arc->root_1[8]};
    double between_1[LANES];
    double flow_m3s[LANES];
    struct misses misses;
    struct balance nodes;
    struct balance between;
    find_stretch(arc, stretch_m);
    if (!find_roots(walk, arc, stretch_m, node_1 + 1, &nodes)) {
        return false;
    }
    find_between(node_1, between_1);
    find_flows(arc, BETWEEN, flow_m3s);
    find_balance(walk, between_1, flow_m3s, &between);
    if (!is_tranquil(&nodes) || !is_tranquil(&between)) {
        return false;
    }
    double first_1 = 0;
    double last_1 = 0;
    for (int i = 0; i < MENDS; i++) {
        find_misses(walk, stretch_m, &nodes, &between, &misses);
        last_1 = greater(mend(&between, misses.between_m3, between_1),
                         mend(&nodes, misses.node_m3, node_1 + 1));
        first_1 = i == 0 ? last_1 : first_1;
    }
    double worst_1 = greater(last_1, first_1 * FIRST_LEFT_1);
    arc->root_1[0] = walk->root_1;
    keep_roots(node_1, between_1, arc);
    end->residual_m2 = find_residual(arc, &misses);
    end->error_1 = 6 * worst_1 + TABLE_1;
    end->momentum_m3 = nodes.momentum_m3[LANES - 1];
    end->push_m2 = nodes.push_m2[LANES - 1];
    end->greatest_m3 = greater(greater(nodes.momentum_m3[0], nodes.momentum_m3[1]),
                               greater(nodes.momentum_m3[2], nodes.momentum_m3[3]));
    return worst_1 < (double)INFINITY;
}
