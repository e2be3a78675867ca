// SPDX-License-Identifier: Apache-2.0
// From the texts to an answer: places from the server's reader, the work by the heart in the page.
import { type Mark, readTree, solveThere, type TreeAnswer } from "./api";
import { type Answer, type Heart, type HeartFinding, loadHeart, pathAt, placeJson } from "./heart";
import type { Finding, Result } from "./result";

export interface Solved {
  result?: Result;
  findings: Finding[];
  byHeart: boolean;
}

let heart: Promise<Heart | null> | undefined;

function theHeart(): Promise<Heart | null> {
  heart ??= loadHeart("/heart.wasm").catch(() => null);
  return heart;
}

function place(finding: HeartFinding, placed: ReturnType<typeof placeJson>, marks: Record<string, Mark>): Finding {
  if (finding.document !== "job" || finding.from_byte === undefined) return finding;
  let path = pathAt(placed, finding.from_byte);
  while (path !== "" && marks[path] === undefined) path = path.slice(0, path.lastIndexOf("/"));
  const mark = marks[path];
  return mark === undefined ? finding : { ...finding, ...mark };
}

// A price list is read once, as long as its text stays the same.
let readPrices: { text: string; answer: TreeAnswer } | undefined;

async function pricesTree(text: string): Promise<TreeAnswer> {
  if (readPrices?.text !== text) readPrices = { text, answer: await readTree(text, "prices") };
  return readPrices.answer;
}

export async function solve(job: string, prices?: string, rain?: string, gauge?: string): Promise<Solved> {
  const here = await theHeart();
  const read = await readTree(job, "job");
  if (read.tree === undefined) return { findings: read.issues, byHeart: here !== null };
  if (here !== null) {
    const list = prices === undefined ? undefined : await pricesTree(prices);
    if (list !== undefined && list.tree === undefined) return { findings: list.issues, byHeart: true };
    const placed = placeJson(read.tree);
    const priceJson = list?.tree === undefined ? "" : placeJson(list.tree).json;
    const answer: Answer = here.solve(placed.json, priceJson, rain ?? "", gauge ?? "");
    const findings = answer.findings.map((finding) => place(finding, placed, read.marks));
    return { ...answer, findings, byHeart: true };
  }
  const there = await solveThere({
    job,
    ...(prices === undefined ? {} : { prices }),
    ...(rain === undefined ? {} : { rain }),
    ...(gauge === undefined ? {} : { gauge }),
  });
  if (!there.good) return { findings: there.body.issues ?? [], byHeart: false };
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
  return { result, findings, byHeart: false };
}
