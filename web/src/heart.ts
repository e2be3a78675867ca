// SPDX-License-Identifier: Apache-2.0
// The core in the page: four texts in, the result and its findings out (wasm/heart.c).
import type { Tree } from "./api";
import type { Finding, Result } from "./result";

interface Exports {
  memory: WebAssembly.Memory;
  _initialize(): void;
  heart_buffer(bytes: number): number;
  heart_solve(...places: number[]): number;
}
export interface HeartFinding extends Finding {
  from_byte?: number;
}
export interface Answer {
  result?: Result;
  findings: HeartFinding[];
}
export interface Heart {
  solve(job: string, prices: string, rain: string, gauge: string): Answer;
}

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export async function loadHeart(address: string): Promise<Heart> {
  const { instance } = await WebAssembly.instantiateStreaming(fetch(address), {});
  const heart = instance.exports as unknown as Exports;
  heart._initialize();

  // The memory may move when it grows: looked up anew each time.
  const give = (text: string) => {
    const bytes = encoder.encode(text);
    const at = heart.heart_buffer(bytes.length);
    if (at === 0) throw new Error("no memory");
    new Uint8Array(heart.memory.buffer).set(bytes, at);
    return [at, bytes.length];
  };
  const read = (at: number, bytes: number) => decoder.decode(new Uint8Array(heart.memory.buffer, at, bytes));

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
