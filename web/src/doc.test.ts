// SPDX-License-Identifier: Apache-2.0
// A change at a mark gives the text that, read again by the program itself, is the tree and the marks kept here.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, expect, test } from "vitest";
import { type Doc, type Marks, removeAt, setAt, type Tree, valueAt, writeScalar } from "./doc";

const program = process.env.EAVESMITH ?? join(import.meta.dirname, "../../build/eavesmith");
const folder = mkdtempSync(join(tmpdir(), "eavesmith-doc-"));
afterAll(() => rmSync(folder, { recursive: true }));

function readBack(text: string): Tree {
  const file = join(folder, "job.yaml");
  writeFileSync(file, text);
  return JSON.parse(execFileSync(program, ["tree", file], { encoding: "utf8" })) as Tree;
}

/** Marks of scalars by looking for them: enough for texts whose scalars are all different. */
function docOf(text: string): Doc {
  const tree = readBack(text);
  const marks: Marks = {};
  const look = (node: Tree, path: string): { from: number; to: number } => {
    if (node === null || typeof node === "string") {
      const from = text.indexOf(node ?? "null");
      marks[path] = { from, to: from + (node ?? "null").length };
      return marks[path];
    }
    const inner = Object.entries(node).map(([key, item]) => {
      const span = look(item, `${path}/${key}`);
      if (Array.isArray(node)) return span;
      const at = text.lastIndexOf(`${key}:`, span.from);
      marks[`${path}/${key}`] = { ...span, key: { from: at, to: at + key.length } };
      return { from: at, to: span.to };
    });
    let from = Math.min(...inner.map((span) => span.from));
    let to = Math.max(...inner.map((span) => span.to));
    if ("[{".includes(text[from - 1] ?? " ")) {
      from -= 1;
      to += 1;
    }
    marks[path] = { ...(marks[path] ?? {}), from, to };
    return { from, to };
  };
  look(tree, "");
  return { text, tree, marks, issues: [] };
}

const BLOCK = `eavesmith: 1 # the layout
job: Porch
place: {rain: {intensity: 6.6 in/h, minutes: 5}}
runs:
  - name: front      # taped twice
    length: 28' 4 1/2"
    pitch: 9/12
  - {name: back, depth: 9' 2"}
prices: prices.yaml
`;

function holds(doc: Doc): void {
  expect(readBack(doc.text)).toEqual(doc.tree);
  for (const [path, mark] of Object.entries(doc.marks)) {
    const value = valueAt(doc.tree, path);
    const written = doc.text.slice(mark.from, mark.to);
    if (typeof value === "string") expect(mark.quoted ? JSON.parse(written) : written, path).toBe(value);
    if (mark.key !== undefined) expect(doc.text.slice(mark.key.from, mark.key.to)).toBe(path.slice(path.lastIndexOf("/") + 1));
  }
}

test("a value is changed at its mark and the comment stays", () => {
  const doc = setAt(docOf(BLOCK), "/runs/0/name", "south");
  expect(doc.text).toContain("- name: south      # taped twice");
  holds(doc);
});

test("a second reading makes a list of the first", () => {
  const doc = setAt(docOf(BLOCK), "/runs/0/length", [`28' 4 1/2"`, `28' 4 5/8"`]);
  expect(doc.text).toContain(`length: [28' 4 1/2", 28' 4 5/8"]`);
  holds(doc);
  holds(setAt(doc, "/runs/0/length/1", `28' 4 3/4"`));
});

test("a new key stands in its own line, or in the same braces", () => {
  const block = setAt(docOf(BLOCK), "/runs/0/overhang", `12"`);
  expect(block.text).toContain(`pitch: 9/12\n    overhang: 12"\n`);
  holds(block);
  const flow = setAt(docOf(BLOCK), "/runs/1/overhang", `12"`);
  expect(flow.text).toContain(`depth: 9' 2", overhang: 12"}`);
  holds(flow);
});

test("a new key in a new map", () => {
  const doc = setAt(docOf(BLOCK), "/gutter/size", "6 in");
  expect(doc.text.endsWith("prices: prices.yaml\ngutter: {size: 6 in}\n")).toBe(true);
  holds(doc);
  holds(setAt(doc, "/gutter/sheet", "20 oz"));
});

test("a key is taken out with its line, or with its comma", () => {
  const block = removeAt(docOf(BLOCK), "/runs/0/pitch");
  expect(block.text).not.toContain("9/12");
  holds(block);
  const flow = removeAt(docOf(BLOCK), "/runs/1/depth");
  expect(flow.text).toContain("- {name: back}");
  holds(flow);
});

test("what a person types is read back as typed", () => {
  for (const text of ["", " ", "- 3", "a: b", "a #b", "null", "~", `12"`, `'12`, "x, y", "[", "ja\tb", "9/12", "guess", "é½", "a:"]) {
    holds(setAt(docOf(BLOCK), "/job", text));
    holds(setAt(docOf(BLOCK), "/runs/1/name", text));
  }
});

test("any text, in many changes one after the other", () => {
  const typed = fc.string({ unit: fc.constantFrom(..."abc 0123456789'\"/-:,#[]{}&*!|>%@`~\\é½".split("")), maxLength: 12 });
  const paths = ["/job", "/runs/0/length", "/runs/0/overhang", "/runs/1/name", "/runs/1/overhang", "/place/rain/intensity", "/gutter/size"];
  const edit = fc.tuple(fc.constantFrom(...paths), typed);
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
      holds(edits.reduce((doc, [path, text]) => setAt(doc, path, text), docOf(BLOCK)));
    }),
    { numRuns: 60 },
  );
});

test("only what must be is quoted", () => {
  expect(writeScalar(`28' 4 1/2"`, false)).toBe(`28' 4 1/2"`);
  expect(writeScalar(`28' 4 1/2"`, true)).toBe(`"28' 4 1/2\\""`);
});

test("examples stay as they are when a value is set to itself", () => {
  const text = readFileSync(join(import.meta.dirname, "../../examples/porch/porch.yaml"), "utf8");
  const doc = docOf(text);
  expect(setAt(doc, "/job", valueAt(doc.tree, "/job") ?? "").text).toBe(text);
});
