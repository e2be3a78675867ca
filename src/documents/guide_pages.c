/* SPDX-License-Identifier: Apache-2.0 */
/* The pages of the measuring guide: what is measured at each kind of eave, in the order of the job
 * file. */
#include "documents/guide_inside.h"

#define PAGE_ROWS(rows) (rows), sizeof(rows) / sizeof(rows)[0]

/* Under and over the wood: the same on every eave. */
#define SOFFIT_ROW                                                                                 \
    {                                                                                              \
        "E", "Soffit: level, from the wall to the face of the wood", "soffit", {                   \
            NULL                                                                                   \
        }                                                                                          \
    }
#define COVER_ROWS                                                                                 \
    {"", "Roof cover: slate, shingle, tile, metal", "roof cover: kind", {NULL}},                   \
        {"F", "Cover past the face of the wood, level", "roof cover: overhang", {NULL}}, {         \
        "G", "Plumb leg of the drip metal, if there is any", "drip metal: leg", {                  \
            NULL                                                                                   \
        }                                                                                          \
    }

static const struct guide_row TAILS[] = {
    {"", "Which eaves are like this, by their names on the walk", "name", {NULL}},
    {"A", "Tail to tail, centre to centre, where they are even", "tails: spacing", {NULL}},
    {"B", "Left end of the roof edge to the first tail's centre", "tails: first", {NULL}},
    {"",
     "Uneven tails: the centre of each, all from the left end of the roof edge",
     "tails: positions",
     {NULL}},
    {"C", "Width of a tail", "tails: width", {NULL}},
    {"D", "Depth of a tail, square to its slope", "tails: depth", {NULL}},
    {"",
     "How the ends are cut: upright, at right angles to the slope, or shaped",
     "tails: cut",
     {"plumb", "square", "shaped", NULL}},
    {"",
     "Square-cut: what shall keep the brackets upright",
     "tails: mend",
     {"wedge", "bracket", NULL}},
    {"", "Kind of wood, and is it sound? Push a screwdriver in.", "tails: wood", {NULL}},
    SOFFIT_ROW,
    COVER_ROWS};

static const struct guide_row FASCIA[] = {
    {"", "Which eaves are like this, by their names on the walk", "name", {NULL}},
    {"A", "Depth of the board, plumb", "fascia: depth", {NULL}},
    {"B", "Its thickness", "fascia: thickness", {NULL}},
    {"", "Kind of wood, and is it sound? Push a screwdriver in.", "fascia: wood", {NULL}},
    SOFFIT_ROW,
    COVER_ROWS};

static const struct guide_row CROWN[] = {
    {"", "Which eaves are like this, by their names on the walk", "name", {NULL}},
    {"A",
     "How far the moulding's top stands out from the board",
     "crown moulding: projection",
     {NULL}},
    {"B", "Its height, plumb", "crown moulding: height", {NULL}},
    {"", "Kind of wood; is there blocking behind it?", "crown moulding: wood", {NULL}},
    SOFFIT_ROW,
    COVER_ROWS};

static const struct guide_row PORCH[] = {
    {"", "Which eaves are like this, by their names on the walk", "name", {NULL}},
    {"A", "Roof edge to the house wall, level", "depth", {NULL}},
    {"", "or the same along the slope, if that is easier", "up the roof", {NULL}},
    {"B", "Pitch: rise in 12 level, or by an angle finder", "pitch", {NULL}},
    {"", "Left end of the eave", "from", {"end cap", "wall", "outside corner", NULL}},
    {"", "Right end of the eave", "to", {"end cap", "wall", "outside corner", NULL}},
    {"C", "Ground to roof edge", "eave height", {NULL}},
    {"D", "Overhang: posts or wall to the roof edge, level", "overhang", {NULL}},
    {"", "Open porch: only posts behind the eave", "wall", {"none", NULL}}};

static const struct guide_row BAY[] = {
    {"", "A name for it", "name", {NULL}},
    {"",
     "Sides of the whole figure: an eight-sided bay shows three or four",
     "half polygon: sides",
     {"6", "8", "10", "12", NULL}},
    {"A", "Flat to flat along the wall, on the roof edge", "half polygon: across", {NULL}},
    {"B", "or one side along the roof edge; tape each side once", "half polygon: face", {NULL}},
    {"C", "Wall to the front of the roof edge, level", "half polygon: stands out", {NULL}},
    {"D", "Left end of the wall's eave to the bay's middle", "against", {NULL}},
    {"", "Ground to roof edge", "eave height", {NULL}},
    {"", "Pitch: rise in 12 level", "pitch", {NULL}},
    {"",
     "Turret: flat to flat, and its middle from a corner of the house",
     "regular polygon: across, centre",
     {NULL}}};

static const struct guide_row CURVE[] = {
    {"", "Which eaves are like this, by their names on the walk", "name", {NULL}},
    {"A", "Along the curve, end to end", "length", {NULL}},
    {"B", "Chord: straight from end to end", "curve: chord", {NULL}},
    {"C", "Rise at the middle of the chord, square to it", "curve: rise", {NULL}},
    {"D, E", "Rise at both quarters of the chord: left, right", "curve: quarter rises", {NULL}},
    {"",
     "or a paper template, marked left and right, comes along",
     "curve: template",
     {"paper", NULL}}};

static const struct guide_row WALL[] = {
    {"", "Which place: eave, and from, to or the distance", "at", {NULL}},
    {"A", "Roof edge down to the ground there", "ground", {NULL}},
    {"B", "Wall to the face of the wood, level, there", "soffit", {NULL}},
    {"C, D",
     "Each belt course: height of its top, how far it stands out",
     "belts: height, projection",
     {NULL}},
    {"E, F",
     "Water table: height of its top, how far it stands out",
     "water table: height, projection",
     {NULL}},
    {"", "What the wall is made of", "wall", {"clapboard", "brick", "stucco", "stone", NULL}},
    {"",
     "What the water goes to",
     "foot",
     {"splash block", "shoe", "boot", "drain", "barrel", NULL}},
    {"G", "A boot: its inside diameter", "foot: inside", {NULL}},
    {"", "What is below or near", "near", {"door", "walk", "steps", "drive", "window", "porch"}}};

static const struct guide_row FOUND[] = {
    {"", "Which eave", "at", {NULL}},
    {"",
     "Its shape; trace the end full size on the back of this page",
     "profile",
     {"half-round", "ogee", "box", NULL}},
    {"A", "Width across the top, inside (metric: the girth)", "size", {NULL}},
    {"B", "Bead, its diameter", "bead", {NULL}},
    {"", "Metal, and its weight or thickness if you can tell", "metal, weight", {NULL}},
    {"", "What holds it: bracket, strap over the roof, spike", "hanger kind", {NULL}},
    {"C", "Hanger to hanger", "hanger spacing", {NULL}},
    {"", "How lengths are joined: soldered lap, slip joint", "joint kind", {NULL}},
    {"D", "Downspout, across", "pipe size", {NULL}},
    {"E, F", "Gutter's rim below one level line: left end, right end", "levels", {NULL}},
    {"", "Photos: number them, and write their numbers here", "photos", {NULL}}};

const struct guide_page guide_pages[GUIDE_PAGES] = {
    {"Eave with plain rafter tails",
     "For an eave without a board in front: the tails show, and brackets go on the tails alone. "
     "Measure every tail where they are not evenly spaced.",
     PAGE_ROWS(TAILS), guide_draw_tails, 74.0},
    {"Eave with a fascia",
     "For an eave with a board across the tails' ends. Tap along it: what sounds dull may be "
     "rotten behind the paint.",
     PAGE_ROWS(FASCIA), guide_draw_fascia, 76.0},
    {"Eave with a crown moulding",
     "For a boxed cornice with a moulding under the roof edge. A moulding alone holds no bracket: "
     "say what is behind it, if you can see it anywhere.",
     PAGE_ROWS(CROWN), guide_draw_crown, 76.0},
    {"Porch roof against a wall",
     "For a roof that leans on the house wall. Its eave also gets the page of its wood: tails, "
     "fascia or crown.",
     PAGE_ROWS(PORCH), guide_draw_porch, 76.0},
    {"Bay or turret",
     "For an eave of many short sides at equal angles, seen here from above. Where sides or angles "
     "differ, tape each side and each corner, and sketch it.",
     PAGE_ROWS(BAY), guide_draw_bay, 76.0},
    {"Curved eave",
     "For a bow front or a round porch, seen from above. A gutter is never rolled from a radius "
     "alone. The chord is a tight string; divide it in four.",
     PAGE_ROWS(CURVE), guide_draw_curve, 76.0},
    {"Way down for a downspout",
     "One page for each place where a downspout stands or may stand. Heights are from the ground "
     "there. Where this page is left empty, the offset is cut on site.",
     PAGE_ROWS(WALL), guide_draw_wall, 94.0},
    {"The gutter as found",
     "For old gutter that is matched or replaced. One page an eave. Take a photo of each end, each "
     "corner, one bracket and one joint.",
     PAGE_ROWS(FOUND), guide_draw_found, 66.0}};
