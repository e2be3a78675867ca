// SPDX-License-Identifier: Apache-2.0
// A job as a person wrote it: the text, the tree read from it and where each value stands. A value is changed
// in the text at its mark, so comments and layout stay; tree and marks follow without reading again.
import type { Finding } from "./result";

export type Tree = string | null | Tree[] | { [key: string]: Tree };
export interface Span {
  from: number;
  to: number;
}
export interface Mark extends Span {
  quoted?: boolean;
  key?: Span;
}
export type Marks = Record<string, Mark>;

export interface Doc {
  text: string;
  /** absent: the text cannot be read as it stands */
  tree?: Tree;
  marks: Marks;
  issues: Finding[];
}

export const step = (key: string | number) => `/${String(key).replaceAll("~", "~0").replaceAll("/", "~1")}`;
const stepsOf = (path: string) =>
  path
    .split("/")
    .slice(1)
    .map((part) => part.replaceAll("~1", "/").replaceAll("~0", "~"));

export function valueAt(tree: Tree | undefined, path: string): Tree | undefined {
  let node: Tree | undefined = tree;
  for (const key of stepsOf(path)) {
    if (node === null || typeof node !== "object") return undefined;
    node = Array.isArray(node) ? node[Number(key)] : node[key];
  }
  return node;
}

export function textAt(tree: Tree | undefined, path: string): string {
  const value = valueAt(tree, path);
  return typeof value === "string" ? value : "";
}

/** A copy of the tree with another value at the path; undefined takes the entry out. */
export function withValue(tree: Tree, path: string, value: Tree | undefined): Tree {
  const [first, ...rest] = stepsOf(path);
  if (first === undefined) return value ?? null;
  const below = rest.map(step).join("");
  if (Array.isArray(tree)) {
    const list = [...tree];
    if (rest.length === 0 && value === undefined) list.splice(Number(first), 1);
    else list[Number(first)] = withValue(list[Number(first)] ?? null, below, value);
    return list;
  }
  const map: { [key: string]: Tree } = tree !== null && typeof tree === "object" ? { ...tree } : {};
  if (rest.length === 0 && value === undefined) delete map[first];
  else map[first] = withValue(map[first] ?? {}, below, value);
  return map;
}

const isJson = (doc: Doc) => doc.text.trimStart().startsWith("{");

/** A scalar as YAML (or JSON) writes it; quoted only where it must be. */
export function writeScalar(value: string, json: boolean): string {
  const plain =
    /^(?:-(?=\d)|[^\s\-?:,[\]{}#&*!|>'"%@`])[^,[\]{}\n]*$/.test(value) &&
    !/: |:$| #|\s$/.test(value) &&
    !/^(null|~)$/i.test(value);
  return plain && !json ? value : JSON.stringify(value);
}

export function writeFlow(value: Tree, json: boolean): string {
  if (Array.isArray(value)) return `[${value.map((item) => writeFlow(item, json)).join(", ")}]`;
  if (value !== null && typeof value === "object") {
    const entries = Object.entries(value).map(([key, item]) => `${writeScalar(key, json)}: ${writeFlow(item, json)}`);
    return `{${entries.join(", ")}}`;
  }
  return value === null ? "null" : writeScalar(value, json);
}

/** Marks of a value freshly written in flow style at `from`. */
function markFlow(value: Tree, path: string, from: number, json: boolean, marks: Marks): number {
  const text = writeFlow(value, json);
  const mark: Mark = { from, to: from + text.length };
  if (typeof value === "string" && text.startsWith('"')) mark.quoted = true;
  marks[path] = mark;
  let at = from + 1;
  if (Array.isArray(value)) {
    value.forEach((item, index) => {
      at = markFlow(item, path + step(index), at, json, marks) + 2;
    });
  } else if (value !== null && typeof value === "object") {
    for (const [key, item] of Object.entries(value)) {
      const keyText = writeScalar(key, json);
      const inner = path + step(key);
      const end = markFlow(item, inner, at + keyText.length + 2, json, marks);
      marks[inner] = { ...(marks[inner] as Mark), key: { from: at, to: at + keyText.length } };
      at = end + 2;
    }
  }
  return mark.to;
}

/** Every mark after the bytes [from, to) became `length` long; what holds them grows, what lay in them goes. */
function shift(marks: Marks, gone: Span, length: number): Marks {
  const by = length - (gone.to - gone.from);
  const move = (span: Span): Span | undefined => {
    if (span.from >= gone.to && (gone.to > gone.from || span.from > gone.from || span.to > span.from))
      return { from: span.from + by, to: span.to + by };
    if (span.to <= gone.from) return { from: span.from, to: span.to };
    if (span.from <= gone.from && span.to >= gone.to) return { from: span.from, to: span.to + by };
    return undefined;
  };
  const moved: Marks = {};
  for (const [path, mark] of Object.entries(marks)) {
    const span = move(mark);
    const key = mark.key === undefined ? undefined : move(mark.key);
    if (span === undefined || (mark.key !== undefined && key === undefined)) continue;
    moved[path] = { ...span, ...(mark.quoted ? { quoted: true } : {}), ...(key === undefined ? {} : { key }) };
  }
  return moved;
}

const replaceText = (text: string, gone: Span, put: string) => text.slice(0, gone.from) + put + text.slice(gone.to);

/** Grows the marks of everything that holds the path up to `to`. */
function growParents(marks: Marks, path: string, to: number): void {
  let parent = path;
  while (parent !== "") {
    parent = parent.slice(0, parent.lastIndexOf("/"));
    const mark = marks[parent];
    if (mark !== undefined && mark.to < to) marks[parent] = { ...mark, to };
  }
}

function replaceAt(doc: Doc, path: string, mark: Mark, value: Tree): Doc {
  const json = isJson(doc);
  const written = writeFlow(value, json);
  const isEmpty = mark.from === mark.to;
  const blank = isEmpty && doc.text[mark.from - 1] === ":" ? " " : "";
  const at = mark.from + blank.length;
  const others = Object.fromEntries(
    Object.entries(doc.marks).filter(([name]) => name !== path && !name.startsWith(`${path}/`)),
  );
  const marks = shift(others, mark, blank.length + written.length);
  markFlow(value, path, at, json, marks);
  if (mark.key !== undefined) marks[path] = { ...(marks[path] as Mark), key: mark.key };
  growParents(marks, path, at + written.length);
  return {
    text: replaceText(doc.text, mark, blank + written),
    tree: withValue(doc.tree ?? {}, path, value),
    marks,
    issues: [],
  };
}

function lastChild(doc: Doc, path: string): Mark | undefined {
  let last: Mark | undefined;
  for (const [name, mark] of Object.entries(doc.marks)) {
    if (name.startsWith(`${path}/`) && (last === undefined || mark.to > last.to)) last = mark;
  }
  return last;
}

const columnOf = (text: string, at: number) => at - (text.lastIndexOf("\n", at - 1) + 1);

function lineEnd(text: string, at: number): number {
  const end = text.indexOf("\n", at);
  return end < 0 ? text.length : end;
}

/** The key is new in the map at `parent`, which is there. */
function insertKey(doc: Doc, parent: string, key: string, value: Tree): Doc {
  const map = doc.marks[parent];
  if (map === undefined) return doc;
  const json = isJson(doc);
  const path = parent + step(key);
  const last = lastChild(doc, parent);
  const isFlow = doc.text[map.from] === "{";
  const first = Object.entries(doc.marks).find(
    ([name, mark]) => name.startsWith(`${parent}/`) && !name.slice(parent.length + 1).includes("/") && mark.key !== undefined,
  )?.[1];
  const keyText = writeScalar(key, json);
  let at = last?.to ?? map.from + 1;
  let lead = last === undefined ? "" : ", ";
  if (!isFlow) {
    at = lineEnd(doc.text, at);
    lead = `\n${" ".repeat(columnOf(doc.text, first?.key?.from ?? map.from))}`;
  }
  const put = `${lead}${keyText}: ${writeFlow(value, json)}`;
  const marks = shift(doc.marks, { from: at, to: at }, put.length);
  const keyAt = at + lead.length;
  markFlow(value, path, keyAt + keyText.length + 2, json, marks);
  marks[path] = { ...(marks[path] as Mark), key: { from: keyAt, to: keyAt + keyText.length } };
  growParents(marks, path, at + put.length + (isFlow ? 1 : 0));
  return { text: replaceText(doc.text, { from: at, to: at }, put), tree: withValue(doc.tree ?? {}, path, value), marks, issues: [] };
}

/** Puts a value at a path: replaced at its mark, or its key added to the map above. */
export function setAt(doc: Doc, path: string, value: Tree): Doc {
  if (doc.tree === undefined) return doc;
  const mark = doc.marks[path];
  if (mark !== undefined) return replaceAt(doc, path, mark, value);
  const parent = path.slice(0, path.lastIndexOf("/"));
  const key = stepsOf(path).at(-1) ?? "";
  if (doc.marks[parent] !== undefined) return insertKey(doc, parent, key, value);
  return parent === "" ? doc : setAt(doc, parent, { [key]: value });
}

/** Takes a key of a map out of the text. */
export function removeAt(doc: Doc, path: string): Doc {
  const mark = doc.marks[path];
  const parent = doc.marks[path.slice(0, path.lastIndexOf("/"))];
  if (doc.tree === undefined || mark?.key === undefined || parent === undefined) return doc;
  const { text } = doc;
  let { from } = mark.key;
  let { to } = mark;
  if (text[parent.from] === "{") {
    const behind = /^\s*,\s*/.exec(text.slice(to));
    const before = /,\s*$/.exec(text.slice(0, from));
    if (behind !== null && before === null) to += behind[0].length;
    else if (before !== null) from -= before[0].length;
  } else {
    const start = text.lastIndexOf("\n", from - 1) + 1;
    if (text.slice(start, from).trim() !== "") return doc; // behind the dash of a list: the line stays
    from = start;
    to = Math.min(lineEnd(text, to) + 1, text.length);
  }
  const others = Object.fromEntries(
    Object.entries(doc.marks).filter(([name]) => name !== path && !name.startsWith(`${path}/`)),
  );
  const gone = { from, to };
  return { text: replaceText(text, gone, ""), tree: withValue(doc.tree, path, undefined), marks: shift(others, gone, 0), issues: [] };
}

export function lineOf(text: string, at: number): { line: number; column: number } {
  const before = text.slice(0, at);
  return { line: before.split("\n").length, column: at - before.lastIndexOf("\n") };
}
