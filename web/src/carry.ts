// SPDX-License-Identifier: Apache-2.0
// The job to carry: one HTML file with page, heart and job inside, for a phone without the shop's network. Its
// changes come back as a file and are compared before anything is taken.
import type { Conflict, JobFile, Store, TreeAnswer } from "./api";
import { type Doc, removeAt, setAt, step, type Tree, valueAt } from "./doc";
import { texts } from "./texts";

export interface Carried {
  file: JobFile;
  /** trees and marks: a carried page cannot read YAML by itself, only change it at its marks */
  doc: Doc;
  prices?: TreeAnswer;
  currency: string;
  made: string;
}

const PLACE = "carried-job";

export function findCarried(): Carried | undefined {
  const text = document.getElementById(PLACE)?.textContent;
  return text ? (JSON.parse(text) as Carried) : undefined;
}

export const carriedHeart = (): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(atob(document.getElementById("carried-heart")?.textContent ?? ""), (letter) => letter.charCodeAt(0));

/** Nothing leaves the phone: a change is kept in it, and "saved" is what the file brought back holds. */
export function carriedStore(carried: Carried): Store {
  return {
    carried: true,
    read: async (text, document): Promise<TreeAnswer> => {
      if (document === "prices" && carried.prices !== undefined) return carried.prices;
      if (text === carried.doc.text && carried.doc.tree !== undefined)
        return { tree: carried.doc.tree, marks: carried.doc.marks, issues: [] };
      throw new Error(texts.carriedNoRead);
    },
    save: (): Promise<{ revision: string } | Conflict> => Promise.reject(new Error(texts.carriedKept)),
  };
}

async function base64(bytes: ArrayBuffer): Promise<string> {
  let text = "";
  const view = new Uint8Array(bytes);
  for (let at = 0; at < view.length; at += 8192) text += String.fromCharCode(...view.subarray(at, at + 8192));
  return btoa(text);
}

const inScript = (text: string) => text.replaceAll("</", "<\\/").replaceAll("<!--", "<\\!--");
const inJson = (text: string) => text.replaceAll("<", "\\u003c");

export async function makeCarried(carried: Carried): Promise<string> {
  const [code, style, heart] = await Promise.all([
    fetch("/page.js").then((answer) => answer.text()),
    fetch("/index.css").then((answer) => answer.text()),
    fetch("/heart.wasm").then((answer) => answer.arrayBuffer()),
  ]);
  const title = carried.file.name.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
  return [
    `<!doctype html><html lang="en" data-display="day"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">`,
    `<title>${title}</title><style>${style}</style></head><body><div id="page"></div>`,
    `<script type="application/json" id="${PLACE}">${inJson(JSON.stringify(carried))}</script>`,
    `<script type="text/plain" id="carried-heart">${await base64(heart)}</script>`,
    `<script type="module">${inScript(code)}</script></body></html>`,
  ].join("\n");
}

/** Hands a text over as a file. */
export function download(name: string, type: string, text: string): void {
  const link = document.createElement("a");
  const address = URL.createObjectURL(new Blob([text], { type }));
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}

/** One value that was changed at the house; absent: it was not there, or was taken out. */
export interface Change {
  path: string;
  before?: string;
  after?: string;
}
/** What a carried page hands back. */
export interface Returned {
  eavesmith_carried: 1;
  name: string;
  revision: string;
  changes: Change[];
}

export function readReturned(text: string): Returned | undefined {
  try {
    const returned = JSON.parse(text) as Partial<Returned>;
    return returned.eavesmith_carried === 1 && Array.isArray(returned.changes) ? (returned as Returned) : undefined;
  } catch {
    return undefined;
  }
}

function leavesOf(tree: Tree, path = "", leaves = new Map<string, string>()): Map<string, string> {
  if (tree !== null && typeof tree === "object")
    for (const [key, item] of Object.entries(tree)) leavesOf(item as Tree, path + step(key), leaves);
  else leaves.set(path, tree ?? "");
  return leaves;
}

/** Value by value: a reading that became a list shows as its readings. */
export function findChanges(before: Tree, after: Tree): Change[] {
  const [old, now] = [leavesOf(before), leavesOf(after)];
  const changes: Change[] = [];
  for (const [path, value] of now) {
    if (old.get(path) === value) continue;
    const first = old.get(path);
    changes.push({ path, after: value, ...(first === undefined ? {} : { before: first }) });
  }
  for (const [path, value] of old) {
    const became = [...now.keys()].some((one) => one.startsWith(`${path}/`));
    if (!now.has(path) && !became) changes.push({ path, before: value });
  }
  return changes;
}

/** Takes one change into the shop's job, at its mark. */
export function takeChange(doc: Doc, change: Change): Doc {
  if (change.after === undefined) return removeAt(doc, change.path);
  const item = /^(.*)\/(\d+)$/.exec(change.path);
  if (doc.marks[change.path] === undefined && item !== null) {
    const list = valueAt(doc.tree, item[1] ?? "");
    const items: Tree[] = Array.isArray(list) ? [...list] : typeof list === "string" ? [list] : [];
    items[Number(item[2])] = change.after;
    return setAt(doc, item[1] ?? "", Array.from(items, (one) => one ?? ""));
  }
  return setAt(doc, change.path, change.after);
}
