// SPDX-License-Identifier: Apache-2.0
// The long tape: the eaves one after another as they were walked. Eaves that meet in a mitre touch;
// between others lies a gap. `x` is metres along the tape, `at` metres from the left end of an eave.
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
}
export interface Flow {
  name: string;
  reach: Reach;
  outletX: number;
  highX: number;
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

function layEaves(result: Result): { eaves: Eave[]; length: number } {
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

function layFlows(result: Result, eaves: Eave[]): Flow[] {
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
    flows.push({ name, reach, outletX, highX: outletX + side * reach.length_m });
  }
  return flows;
}

export function layTape(result: Result): Tape {
  const { eaves, length } = layEaves(result);
  return { eaves, flows: layFlows(result, eaves), length };
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

export function flowAt(tape: Tape, x: number): Flow | undefined {
  return tape.flows.find(
    (flow) => x >= Math.min(flow.outletX, flow.highX) - 0.001 && x <= Math.max(flow.outletX, flow.highX) + 0.001,
  );
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
