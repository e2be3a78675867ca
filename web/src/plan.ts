// SPDX-License-Identifier: Apache-2.0
// The plan as it is written: wings with their corners and sizes, an outline with its corners. Moving one gives the
// new values of the fields it is made of; the core reads every length.
import { type Doc, setAt, type Tree, textAt, valueAt } from "./doc";
import { length } from "./figures";
import type { Heart } from "./heart";
import { texts } from "./texts";

export type Spot = [number, number];
export type Change = [path: string, metres: number];

/** Something that can be moved: a wing, one of its sides, a corner of an outline. */
export interface Grip {
  id: string;
  label: string;
  /** what a step of undo is called */
  step: string;
  at: Spot;
  move: (by: Spot) => Change[];
}
export interface Shape {
  path: string;
  name: string;
  points: Spot[];
  /** kind of each edge, from the first point to the second on */
  edges: string[];
  figure: string;
  body: Grip | undefined;
  grips: Grip[];
}

const INCH_M = 0.0254;
const LEAST_M = 0.3;
const TICKS_OF_M = 320000;

/** Metres as the core reads them; what is said of its doubt stays out of it. */
export function readMetres(heart: Heart, text: string, metric: boolean): number | undefined {
  const found = /^\s*(-?)\s*(.*?)(?:\s*(?:\+-|±|guess).*)?$/.exec(text);
  if (found === null || found[2] === "") return undefined;
  const reading = heart.length(found[2] ?? "", metric);
  if (reading.fault !== "" || reading.tick === undefined) return undefined;
  return ((found[1] === "-" ? -1 : 1) * reading.tick) / TICKS_OF_M;
}

/** As one would write it: 56', 28' 4 1/2", 9.40 m. */
export function writeMetres(metres: number, metric: boolean): string {
  if (Math.abs(metres) < 0.0005) return "0";
  if (!metric) return length("ft-in", metres).replace(/' 0"$/, "'");
  const whole = Math.round(metres * 1000);
  return whole % 10 === 0 ? `${(whole / 1000).toFixed(2)} m` : `${whole} mm`;
}

export const snapOf = (metric: boolean) => (metric ? 0.01 : INCH_M);

interface Reader {
  heart: Heart;
  tree: Tree;
  metric: boolean;
}

function pairAt({ heart, tree, metric }: Reader, path: string): Spot | undefined {
  const x = readMetres(heart, textAt(tree, `${path}/0`), metric);
  const y = readMetres(heart, textAt(tree, `${path}/1`), metric);
  return x === undefined || y === undefined ? undefined : [x, y];
}

function turnAt(tree: Tree, path: string): number | undefined {
  const text = textAt(tree, `${path}/turn`);
  if (text === "") return 0;
  const degrees = /^(-?\d+(?:\.\d+)?) ?deg$/.exec(text)?.[1];
  return degrees === undefined ? undefined : (Number(degrees) * Math.PI) / 180;
}

const mid = (a: Spot, b: Spot): Spot => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

/** South, east, north, west; the side across stays where it is. */
function sideGrips(wing: { path: string; name: string; corner: Spot; size: Spot; turn: number; points: Spot[] }): Grip[] {
  const { path, name, corner, size, turn, points } = wing;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [0, 1, 2, 3].map((side): Grip => {
    const along: Spot = side % 2 === 0 ? [-s, c] : [c, s];
    const which = side % 2 === 0 ? 1 : 0;
    const outwards = side === 1 || side === 2 ? 1 : -1;
    return {
      id: `${path}/side/${side}`,
      label: texts.sideOf(texts.sides[side] ?? "", name),
      step: texts.stepOf(which === 0 ? texts.pairSize[0] : texts.pairSize[1], name),
      at: mid(points[side] as Spot, points[(side + 1) % 4] as Spot),
      move: (by) => {
        const wanted = (by[0] * along[0] + by[1] * along[1]) * outwards;
        const grown = Math.max(wanted, LEAST_M - size[which]);
        const changes: Change[] = [[`${path}/size/${which}`, size[which] + grown]];
        if (outwards < 0)
          along.forEach((share, axis) => {
            if (Math.abs(share) > 1e-9) changes.push([`${path}/corner/${axis}`, (corner[axis] ?? 0) - share * grown]);
          });
        return changes;
      },
    };
  });
}

function wingAt(reader: Reader, index: number): Shape | undefined {
  const path = `/wings/${index}`;
  const corner = pairAt(reader, `${path}/corner`);
  const size = pairAt(reader, `${path}/size`);
  const turn = turnAt(reader.tree, path);
  if (corner === undefined || size === undefined || turn === undefined) return undefined;
  const name = textAt(reader.tree, `${path}/name`) || `${texts.groups.wings} ${index + 1}`;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const points = ([[0, 0], [size[0], 0], size, [0, size[1]]] as Spot[]).map(([u, v]): Spot => [corner[0] + u * c - v * s, corner[1] + u * s + v * c]);
  const said = valueAt(reader.tree, `${path}/edges`);
  const edges = Array.isArray(said) ? said.map(String) : [];
  return {
    path,
    name,
    points,
    edges: [0, 1, 2, 3].map((at) => edges[at] ?? "eave"),
    figure: `${writeMetres(size[0], reader.metric)} × ${writeMetres(size[1], reader.metric)}`,
    body: {
      id: path,
      label: name,
      step: texts.stepOf(texts.place, name),
      at: mid(points[0] as Spot, points[2] as Spot),
      move: (by) => by.map((metres, axis): Change => [`${path}/corner/${axis}`, (corner[axis] ?? 0) + metres]).filter((_, axis) => by[axis] !== 0),
    },
    grips: sideGrips({ path, name, corner, size, turn, points }),
  };
}

function ringAt(reader: Reader, ring: { path: string; name: string; edges: string[] }): Shape | undefined {
  const list = valueAt(reader.tree, ring.path);
  if (!Array.isArray(list) || list.length < 3) return undefined;
  const points = list.map((_, index) => pairAt(reader, `${ring.path}/${index}`));
  if (points.some((point) => point === undefined)) return undefined;
  const grips = (points as Spot[]).map((at, index): Grip => ({
    id: `${ring.path}/${index}`,
    label: `${texts.corner(index + 1)}, ${ring.name}`,
    step: texts.stepOf(texts.corner(index + 1), ring.name),
    at,
    move: (by) => by.map((metres, axis): Change => [`${ring.path}/${index}/${axis}`, (at[axis] ?? 0) + metres]).filter((_, axis) => by[axis] !== 0),
  }));
  return { path: ring.path, name: ring.name, points: points as Spot[], edges: ring.edges, figure: "", body: undefined, grips };
}

function outlineOf(reader: Reader): Shape[] {
  const name = textAt(reader.tree, "/outline/name") || texts.groups.outline;
  const said = valueAt(reader.tree, "/outline/edges");
  const kinds = said !== null && typeof said === "object" && !Array.isArray(said) ? said : {};
  const count = valueAt(reader.tree, "/outline/corners");
  const edges = Array.isArray(count) ? count.map((_, at) => (typeof kinds[`${at + 1}`] === "string" ? String(kinds[`${at + 1}`]) : "eave")) : [];
  const holes = valueAt(reader.tree, "/outline/holes");
  const rings = [
    { path: "/outline/corners", name, edges },
    ...(Array.isArray(holes) ? holes.map((_, at) => ({ path: `/outline/holes/${at}`, name: texts.courtOf(at + 1), edges: [] as string[] })) : []),
  ];
  return rings.map((ring) => ringAt(reader, ring)).filter((shape) => shape !== undefined);
}

/** What of the plan can be drawn; turrets and bays are changed in the sheet. */
export function shapesOfPlan(heart: Heart, tree: Tree | undefined, metric: boolean): Shape[] {
  if (tree === undefined) return [];
  const reader = { heart, tree, metric };
  const wings = valueAt(tree, "/wings");
  const found = Array.isArray(wings) ? wings.map((_, index) => wingAt(reader, index)).filter((shape) => shape !== undefined) : [];
  return [...found, ...outlineOf(reader)];
}

/** By whole inches or centimetres; onto a line of another shape where one is near. */
export function snap(by: Spot, at: Spot[], lines: Spot[], { near, metric }: { near: number; metric: boolean }): Spot {
  const unit = snapOf(metric);
  return by.map((wanted, axis) => {
    let best = Math.round(wanted / unit) * unit;
    let least = near;
    for (const own of at)
      for (const other of lines) {
        const delta = (other[axis] ?? 0) - (own[axis] ?? 0);
        if (Math.abs(delta - wanted) < least) {
          least = Math.abs(delta - wanted);
          best = delta;
        }
      }
    return best;
  }) as Spot;
}

export function applyChanges(doc: Doc, changes: Change[], metric: boolean): Doc {
  return changes.reduce((next, [path, metres]) => {
    const doubt = /\s*(\+-|±|guess).*$/.exec(textAt(doc.tree, path))?.[0] ?? "";
    return setAt(next, path, `${writeMetres(metres, metric)}${doubt}`);
  }, doc);
}

const columnOf = (text: string, at: number) => at - (text.lastIndexOf("\n", at - 1) + 1);

/** A new last entry of a list; the text is to be read anew. */
export function addToList(doc: Doc, list: string, written: string): Doc {
  const count = valueAt(doc.tree, list);
  const last = Array.isArray(count) ? doc.marks[`${list}/${count.length - 1}`] : undefined;
  const first = doc.marks[`${list}/0`];
  if (last === undefined || first === undefined) return doc;
  const isFlow = doc.text[doc.marks[list]?.from ?? 0] === "[";
  const dash = doc.text.lastIndexOf("-", first.from);
  const end = doc.text.indexOf("\n", last.to);
  const at = isFlow ? last.to : end < 0 ? doc.text.length : end;
  const put = isFlow ? `, ${written}` : `\n${" ".repeat(columnOf(doc.text, dash))}- ${written}`;
  return { text: doc.text.slice(0, at) + put + doc.text.slice(at), marks: {}, issues: [] };
}

/** A list's entry taken out, its lines with it; the text is to be read anew. */
export function takeFromList(doc: Doc, list: string, index: number): Doc {
  const mark = doc.marks[`${list}/${index}`];
  if (mark === undefined) return doc;
  const isFlow = doc.text[doc.marks[list]?.from ?? 0] === "[";
  const next = doc.marks[`${list}/${index + 1}`];
  const before = doc.marks[`${list}/${index - 1}`];
  let { from, to } = mark;
  if (isFlow) {
    if (next !== undefined) to = next.from;
    else if (before !== undefined) from = before.to;
  } else {
    from = doc.text.lastIndexOf("\n", doc.text.lastIndexOf("-", mark.from)) + 1;
    const end = doc.text.indexOf("\n", mark.to);
    to = end < 0 ? doc.text.length : end + 1;
  }
  return { text: doc.text.slice(0, from) + doc.text.slice(to), marks: {}, issues: [] };
}

/** A wing beside the others, roofed like the last of them. */
export function newWing(heart: Heart, tree: Tree, metric: boolean): string {
  const wings = valueAt(tree, "/wings");
  const all = Array.isArray(wings) ? wings : [];
  const like = `/wings/${all.length - 1}`;
  const points = shapesOfPlan(heart, tree, metric).flatMap((shape) => shape.points);
  const right = Math.max(0, ...points.map(([x]) => x));
  const low = Math.min(...points.map(([, y]) => y), Number.POSITIVE_INFINITY);
  const names = new Set(all.map((_, index) => textAt(tree, `/wings/${index}/name`)));
  let number = all.length + 1;
  while (names.has(`${texts.groups.wings} ${number}`)) number += 1;
  const size: Spot = metric ? [4, 3] : [12 * 12 * INCH_M, 10 * 12 * INCH_M];
  const pair = (spot: Spot) => `[${spot.map((metres) => writeMetres(metres, metric)).join(", ")}]`;
  const copied = ["eave height", "pitch", "overhang"].filter((key) => textAt(tree, `${like}/${key}`) !== "").map((key) => `${key}: ${textAt(tree, `${like}/${key}`)}`);
  return `{${[`name: ${texts.groups.wings} ${number}`, `corner: ${pair([right, Number.isFinite(low) ? low : 0])}`, `size: ${pair(size)}`, ...copied, "edges: [eave, gable, eave, wall]"].join(", ")}}`;
}
