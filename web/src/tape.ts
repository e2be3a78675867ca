// SPDX-License-Identifier: Apache-2.0
// The long tape: the eaves one after another as they were walked. Eaves that meet in a mitre touch;
// between others lies a gap. `x` is metres along the tape, `at` metres from the left end of an eave.
import type { Drawing } from "./heart";
import type { Reach, Result, Run } from "./result";

export interface Bracket {
  at: number;
  drop: number;
}
export interface Segment {
  from: number;
  to: number;
  /** 0 for the leg of a mitre */
  gutter: number;
}
export interface Eave {
  name: string;
  run: Run;
  x: number;
  touchesLast: boolean;
  brackets: Bracket[];
  segments: Segment[];
  outlets: { name: string; at: number; size: string }[];
  highs: number[];
  valleys: number[];
  /** place from the left end and depth of the roof behind, both in metres */
  depths: [number, number][];
}
/** Along the tape: place and depth, one part for each eave it crosses. */
export interface Flow {
  name: string;
  reach: Reach;
  parts: [number, number][][];
  /** it goes over the edge just now */
  over?: boolean;
}
export interface Tape {
  eaves: Eave[];
  flows: Flow[];
  length: number;
}

const GAP_M = 1.6;
const isMitre = (end: string) => end.includes("mitre");

function segmentsOf(result: Result, name: string, run: Run): Segment[] {
  const cuts = Object.values(result.joints?.[name] ?? {}).map((joint) => joint.centre_m);
  const edges = [0, ...cuts, run.length_m];
  let gutter = 0;
  return edges.slice(1).map((to, index) => {
    const leftLeg = index === 0 && isMitre(run.left_end) && cuts.length > 0;
    const rightLeg = index === edges.length - 2 && isMitre(run.right_end) && cuts.length > 0;
    if (!leftLeg && !rightLeg) gutter += 1;
    return { from: edges[index] ?? 0, to, gutter: leftLeg || rightLeg ? 0 : gutter };
  });
}

function bracketsOf(result: Result, name: string): Bracket[] {
  return Object.values(result.hang?.[name] ?? {})
    .filter((entry) => typeof entry === "object")
    .map((entry) => ({ at: entry.x_m, drop: entry.drop_m }));
}

function pairsOf(flat: number[]): [number, number][] {
  const pairs: [number, number][] = [];
  for (let at = 0; at + 1 < flat.length; at += 2) pairs.push([flat[at] ?? 0, flat[at + 1] ?? 0]);
  return pairs;
}

function layEaves(result: Result, drawing: Drawing): { eaves: Eave[]; length: number } {
  const eaves: Eave[] = [];
  let x = 0;
  for (const [name, run] of Object.entries(result.runs ?? {})) {
    const last = eaves.at(-1);
    const touchesLast = last !== undefined && isMitre(last.run.right_end) && isMitre(run.left_end);
    if (last !== undefined && !touchesLast) x += GAP_M;
    const outlets = Object.entries(result.outlets ?? {})
      .filter(([, outlet]) => outlet.run === name)
      .map(([id, outlet]) => ({ name: id, at: outlet.x_m, size: outlet.downspout }));
    eaves.push({
      name,
      run,
      x,
      touchesLast,
      brackets: bracketsOf(result, name),
      segments: segmentsOf(result, name, run),
      outlets,
      highs: Object.values(result.high_points ?? {}).filter((high) => high.run === name).map((high) => high.x_m),
      valleys: Object.values(result.pours ?? {}).filter((pour) => pour.onto === name).map((pour) => pour.x_m),
      depths: pairsOf(drawing.eaves?.[name]?.depths ?? []),
    });
    x += run.length_m;
  }
  return { eaves, length: x };
}

/** Where the top of a reach may be: a high point, or the end of eaves that touch. */
function tops(eaves: Eave[]): number[] {
  return eaves.flatMap((eave) => [
    ...eave.highs.map((at) => eave.x + at),
    ...(isMitre(eave.run.left_end) ? [] : [eave.x]),
    ...(isMitre(eave.run.right_end) ? [] : [eave.x + eave.run.length_m]),
  ]);
}

/** Three depths joined straight, where only the result is at hand. */
function sketchFlows(result: Result, eaves: Eave[]): Flow[] {
  const places = tops(eaves);
  const taken = new Set<string>();
  const flows: Flow[] = [];
  for (const [name, reach] of Object.entries(result.reaches ?? {})) {
    const eave = eaves.find((one) => one.outlets.some((outlet) => outlet.name === reach.outlet));
    const outlet = eave?.outlets.find((one) => one.name === reach.outlet);
    if (eave === undefined || outlet === undefined) continue;
    const outletX = eave.x + outlet.at;
    const sides = [-1, 1].filter((side) => {
      const top = outletX + side * reach.length_m;
      return !taken.has(`${reach.outlet} ${side}`) && places.some((place) => Math.abs(place - top) < 0.005);
    });
    const side = sides[0];
    if (side === undefined) continue; // a ring of mitres: not laid out, so not drawn
    taken.add(`${reach.outlet} ${side}`);
    const highX = outletX + side * reach.length_m;
    const deepest = highX - side * (reach.greatest_depth_at_m ?? reach.length_m);
    flows.push({ name, reach, parts: [[[highX, 0], [deepest, reach.greatest_depth_m ?? 0], [outletX, reach.end_depth_m ?? 0]]] });
  }
  return flows;
}

/** The physics' own depths, carried from the gutter line to the tape. */
export function layFlows(result: Result, drawing: Drawing, eaves: Eave[]): Flow[] {
  const starts = drawing.starts ?? {};
  const flows: Flow[] = [];
  for (const [name, reach] of Object.entries(result.reaches ?? {})) {
    const water = drawing.water?.[name];
    const line = water === undefined ? undefined : starts[water.first_run];
    if (water === undefined || line === undefined) continue;
    const own = eaves.filter((eave) => starts[eave.name]?.line === line.line);
    const side = water.towards === "right" ? 1 : -1;
    const parts: [number, number][][] = [];
    let last: Eave | undefined;
    for (const [along, depth] of pairsOf(water.depths)) {
      const on = (((water.still + side * along) % line.length) + line.length) % line.length;
      const eave = own.find((one) => {
        const start = starts[one.name]?.start ?? 0;
        return on >= start - 1e-6 && on <= start + one.run.length_m + 1e-6;
      });
      if (eave === undefined) continue;
      if (eave !== last) parts.push([]);
      last = eave;
      parts.at(-1)?.push([eave.x + on - (starts[eave.name]?.start ?? 0), depth]);
    }
    flows.push({ name, reach, parts });
  }
  return flows;
}

export function layTape(result: Result, drawing: Drawing): Tape {
  const { eaves, length } = layEaves(result, drawing);
  const flows = drawing.water === undefined ? sketchFlows(result, eaves) : layFlows(result, drawing, eaves);
  return { eaves, flows, length };
}

export function eaveAt(tape: Tape, x: number): Eave | undefined {
  let nearest: Eave | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const eave of tape.eaves) {
    const away = Math.max(eave.x - x, x - eave.x - eave.run.length_m, 0);
    if (away < least) {
      least = away;
      nearest = eave;
    }
  }
  return nearest;
}

/** The plumb line never hangs between two eaves. */
export function ontoEave(tape: Tape, x: number): number {
  const eave = eaveAt(tape, x);
  return eave === undefined ? 0 : Math.min(Math.max(x, eave.x), eave.x + eave.run.length_m);
}

/** The reach at a place of the tape, and how deep its water stands there. */
export function flowAt(tape: Tape, x: number): { flow: Flow; depth: number } | undefined {
  let nearest: { flow: Flow; depth: number; away: number } | undefined;
  for (const flow of tape.flows) {
    for (const part of flow.parts) {
      for (let index = 1; index < part.length; index++) {
        const [x1, d1] = part[index - 1] as [number, number];
        const [x2, d2] = part[index] as [number, number];
        const away = Math.max(Math.min(x1, x2) - x, x - Math.max(x1, x2), 0);
        if (away > 0.05 || (nearest !== undefined && nearest.away <= away)) continue;
        const share = x1 === x2 ? 1 : Math.min(1, Math.max(0, (x - x1) / (x2 - x1)));
        nearest = { flow, depth: d1 + (d2 - d1) * share, away };
      }
    }
  }
  return nearest;
}

/** Depth of the roof behind at a place of the eave. */
export function roofDepthAt(eave: Eave, at: number): number {
  for (let index = 1; index < eave.depths.length; index++) {
    const [x1, d1] = eave.depths[index - 1] as [number, number];
    const [x2, d2] = eave.depths[index] as [number, number];
    if (at >= x1 && at <= x2 && x2 > x1) return d1 + ((d2 - d1) * (at - x1)) / (x2 - x1);
  }
  return eave.depths.length > 0 ? (eave.depths.at(at < 0.1 ? 0 : -1)?.[1] ?? 0) : eave.run.plan_area_m2 / eave.run.eave_m;
}

export function nearestBracket(eave: Eave, at: number): number {
  let nearest = -1;
  eave.brackets.forEach((bracket, index) => {
    const best = eave.brackets[nearest];
    if (best === undefined || Math.abs(bracket.at - at) < Math.abs(best.at - at)) nearest = index;
  });
  return nearest;
}

export function segmentAt(eave: Eave, at: number): Segment | undefined {
  return eave.segments.find((segment) => at >= segment.from && at <= segment.to);
}

export interface Step {
  key: string;
  shift: boolean;
}

/** Where a key takes the plumb line; undefined when the key is not the tape's. */
export function stepPlumb(tape: Tape, x: number, step: Step, metric: boolean): number | undefined {
  const eave = eaveAt(tape, x);
  if (eave === undefined) return undefined;
  const index = tape.eaves.indexOf(eave);
  const side = step.key === "ArrowRight" ? 1 : step.key === "ArrowLeft" ? -1 : 0;
  if (side !== 0) {
    if (step.shift) return ontoEave(tape, x + side * (metric ? 0.01 : 0.0254));
    const all = tape.eaves.flatMap((one) => one.brackets.map((bracket) => one.x + bracket.at));
    const beyond = all.filter((place) => side * (place - x) > 0.0005).sort((a, b) => side * (a - b));
    return beyond[0] ?? x;
  }
  if (step.key === "Home") return eave.x;
  if (step.key === "End") return eave.x + eave.run.length_m;
  if (step.key === "n" || step.key === "N") return tape.eaves[index + 1]?.x ?? x;
  if (step.key === "p" || step.key === "P") return tape.eaves[index - 1]?.x ?? x;
  return undefined;
}
