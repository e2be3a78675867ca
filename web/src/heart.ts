// SPDX-License-Identifier: Apache-2.0
// The core in the page: four texts in, the result and its findings out (wasm/heart.c).
import type { Tree } from "./doc";
import type { Finding, Result } from "./result";

interface Exports {
  memory: WebAssembly.Memory;
  _initialize(): void;
  heart_buffer(bytes: number): number;
  heart_solve(...places: number[]): number;
  heart_more(bytes: number): number;
  heart_why(path: number, bytes: number): number;
  heart_length(text: number, bytes: number, metric: number): number;
  heart_drawing(): number;
  heart_film(): number;
}
export interface HeartFinding extends Finding {
  from_byte?: number;
}
export interface Answer {
  result?: Result;
  findings: HeartFinding[];
}
/** One number of the result, with what it is and how it was found. */
export interface Why {
  path: string;
  value: string;
  note: string;
  steps: { formula: string; source: string; rule?: string; inputs: { name: string; value: string }[] }[];
}
export interface Reading {
  fault: string;
  at: number;
  tick?: number;
  ft_in?: string;
  mm?: string;
  feet?: string;
  inches?: string;
}
export interface Drawing {
  /** points: x, y, z one after the other, in metres; down: which way its water runs */
  faces?: { down_x: number; down_y: number; points: number[] }[];
  lines?: { kind: string; points: number[] }[];
  eaves?: Record<string, { of: "run" | "wing" | "outline"; index: number; points: number[]; depths: number[] }>;
  /** depths: place from the still end, depth, one after the other */
  water?: Record<string, { first_run: string; still: number; outlet: number; towards: "left" | "right"; depths: number[] }>;
  starts?: Record<string, { line: number; length: number; start: number }>;
}
/** brought: for each storm and minute the rain that would bring it what came, where gutters empty into gutters.
 * Storms minute by minute, and the water along each reach in rising rains: level n of LEVELS is top x (n / LEVELS)^2. */
export interface Film {
  storms?: number[][];
  /** limit: the rain it just runs with; absent: any. levels: place from the still end, depth, one after the other */
  reaches?: Record<string, { limit_mps?: number; top_mps: number; levels: number[][]; brought?: number[][] }>;
}
export interface Heart {
  solve(job: string, prices: string, rain: string, gauge: string): Answer;
  /** The last answer's drawing, and the reasons of a path of its result. */
  drawing(): Drawing;
  why(path: string): Why[];
  film(): Film;
  length(text: string, metric: boolean): Reading;
}

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export async function loadHeart(module: Promise<WebAssembly.WebAssemblyInstantiatedSource>): Promise<Heart> {
  const { instance } = await module;
  return startHeart(instance);
}

export function startHeart(instance: WebAssembly.Instance): Heart {
  const heart = instance.exports as unknown as Exports;
  heart._initialize();

  // The memory may move when it grows: looked up anew each time.
  const put = (text: string, take: (bytes: number) => number): [number, number] => {
    const bytes = encoder.encode(text);
    const at = take(bytes.length);
    if (at === 0) throw new Error("no memory");
    new Uint8Array(heart.memory.buffer).set(bytes, at);
    return [at, bytes.length];
  };
  const give = (text: string) => put(text, heart.heart_buffer);
  const more = (text: string) => put(text, heart.heart_more);
  const read = (at: number, bytes: number) => decoder.decode(new Uint8Array(heart.memory.buffer, at, bytes));
  const told = (answer: number) => {
    const [at = 0, bytes = 0, status = 3] = new Uint32Array(heart.memory.buffer, answer >>> 0, 3);
    if (status === 3) throw new Error("no memory");
    return JSON.parse(read(at, bytes)) as unknown;
  };

  return {
    solve(job, prices, rain, gauge) {
      const places = [job, prices, rain, gauge].flatMap(give);
      const answer = heart.heart_solve(...places) >>> 0;
      const [at = 0, bytes = 0, status = 3, said = 0, saidBytes = 0] = new Uint32Array(heart.memory.buffer, answer, 5);
      if (status === 3) throw new Error("no memory");
      return {
        findings: JSON.parse(read(said, saidBytes)) as HeartFinding[],
        ...(status < 2 ? { result: JSON.parse(read(at, bytes)) as Result } : {}),
      };
    },
    drawing: () => told(heart.heart_drawing()) as Drawing,
    film: () => told(heart.heart_film()) as Film,
    why: (path) => told(heart.heart_why(...more(path))) as Why[],
    length: (text, metric) => told(heart.heart_length(...more(text), metric ? 1 : 0)) as Reading,
  };
}

export interface PlacedJson {
  json: string;
  /** [byte at which a value begins, its JSON Pointer], in rising order */
  places: [number, string][];
}

/** The tree as JSON for the heart, and where each value stands in it: so a finding finds its line. */
export function placeJson(tree: Tree): PlacedJson {
  const parts: string[] = [];
  const places: [number, string][] = [];
  let bytes = 0;
  const add = (text: string) => {
    parts.push(text);
    bytes += encoder.encode(text).length;
  };
  const write = (node: Tree, path: string) => {
    places.push([bytes, path]);
    if (Array.isArray(node)) {
      add("[");
      node.forEach((item, index) => {
        if (index > 0) add(",");
        write(item, `${path}/${index}`);
      });
      add("]");
    } else if (node !== null && typeof node === "object") {
      add("{");
      Object.entries(node).forEach(([key, item], index) => {
        const step = `${path}/${key.replaceAll("~", "~0").replaceAll("/", "~1")}`;
        if (index > 0) add(",");
        places.push([bytes, step]);
        add(`${JSON.stringify(key)}:`);
        write(item, step);
      });
      add("}");
    } else {
      add(JSON.stringify(node));
    }
  };
  write(tree, "");
  return { json: parts.join(""), places };
}

export function pathAt(placed: PlacedJson, byte: number): string {
  let path = "";
  for (const [from, name] of placed.places) {
    if (from > byte) break;
    path = name;
  }
  return path;
}
