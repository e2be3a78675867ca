// SPDX-License-Identifier: Apache-2.0
// A job worked out: by the heart in this page, or, where it cannot be loaded, by the server.
import { type Store, solveThere, type TreeAnswer } from "./api";
import { type Doc, lineOf, type Tree } from "./doc";
import { type Drawing, type Heart, type HeartFinding, loadHeart, pathAt, placeJson } from "./heart";
import type { Finding, Result } from "./result";

export interface Solved {
  result?: Result;
  findings: Finding[];
  drawing: Drawing;
  byHeart: boolean;
}

export const EMPTY: Solved = { findings: [], drawing: {}, byHeart: true };

let waiting: Promise<Heart | null> | undefined;
let heart: Heart | null = null;

/** The heart, once it was loaded. */
export const heartNow = () => heart;

export function startHeartFrom(bytes?: Uint8Array<ArrayBuffer>): Promise<Heart | null> {
  waiting ??= loadHeart(
    bytes === undefined ? WebAssembly.instantiateStreaming(fetch("/heart.wasm"), {}) : WebAssembly.instantiate(bytes, {}),
  )
    .then((loaded) => {
      heart = loaded;
      return loaded;
    })
    .catch(() => null);
  return waiting;
}

function place(finding: HeartFinding, placed: ReturnType<typeof placeJson>, doc: Doc): Finding {
  if (finding.document !== "job" || finding.from_byte === undefined) return finding;
  const exact = pathAt(placed, finding.from_byte);
  let path = exact;
  while (path !== "" && doc.marks[path] === undefined) path = path.slice(0, path.lastIndexOf("/"));
  const mark = doc.marks[path];
  return mark === undefined ? finding : { ...finding, path: exact, from: mark.from, to: mark.to, ...lineOf(doc.text, mark.from) };
}

/** Findings of a text that cannot be read carry their place already. */
export async function readDoc(store: Store, text: string): Promise<Doc> {
  const read = await store.read(text, "job");
  return { text, marks: read.marks, issues: read.issues, ...(read.tree === undefined ? {} : { tree: read.tree }) };
}

// A price list is read once, as long as its text stays the same.
let readPrices: { text: string; answer: TreeAnswer } | undefined;

async function pricesTree(store: Store, text: string): Promise<TreeAnswer> {
  if (readPrices?.text !== text) readPrices = { text, answer: await store.read(text, "prices") };
  return readPrices.answer;
}

/** `tree` may differ from the job's own: what if it rained harder. */
export interface Question {
  doc: Doc;
  tree: Tree;
  prices: string | undefined;
  rain: string | undefined;
  gauge: string | undefined;
}

export async function solve(store: Store, { doc, tree, prices, rain, gauge }: Question): Promise<Solved> {
  const here = await startHeartFrom();
  if (here === null) return solveByServer({ job: JSON.stringify(tree), prices, rain, gauge });
  const list = prices === undefined ? undefined : await pricesTree(store, prices);
  if (list !== undefined && list.tree === undefined) return { findings: list.issues, drawing: {}, byHeart: true };
  const placed = placeJson(tree);
  const priceJson = list?.tree === undefined ? "" : placeJson(list.tree).json;
  const answer = here.solve(placed.json, priceJson, rain ?? "", gauge ?? "");
  const findings = answer.findings.map((finding) => place(finding, placed, doc));
  return { ...answer, findings, drawing: here.drawing(), byHeart: true };
}

async function solveByServer(body: { job: string } & Record<"prices" | "rain" | "gauge", string | undefined>): Promise<Solved> {
  const there = await solveThere({
    job: body.job,
    ...(body.prices === undefined ? {} : { prices: body.prices }),
    ...(body.rain === undefined ? {} : { rain: body.rain }),
    ...(body.gauge === undefined ? {} : { gauge: body.gauge }),
  });
  if (!there.good) return { findings: there.body.issues ?? [], drawing: {}, byHeart: false };
  const result = there.body as Result & { findings?: Record<string, Partial<Finding>> };
  const findings = Object.values(result.findings ?? {}).map((finding) => ({
    code: "",
    severity: "note" as const,
    document: "job",
    object: "",
    mend: "",
    ...finding,
    text: `${finding.object ? `${finding.object}: ` : ""}${(finding.code ?? "").toLowerCase().replaceAll("_", " ")}`,
  }));
  return { result, findings, drawing: {}, byHeart: false };
}
