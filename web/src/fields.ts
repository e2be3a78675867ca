// SPDX-License-Identifier: Apache-2.0
// What can be asked about a job, in the order it is walked: each field is one value of the job's tree.
import { step, type Tree, valueAt } from "./doc";
import { texts } from "./texts";

export type FieldKind = "length" | "pitch" | "words" | "text";
export interface Field {
  path: string;
  label: string;
  /** what the undo step is called: "length of front" */
  name: string;
  kind: FieldKind;
  words?: readonly string[];
  value: string;
  /** a second reading that stands beside the first */
  again?: { path: string; value: string };
  given: boolean;
}
export interface Group {
  title: string;
  path: string;
  fields: Field[];
}

const LENGTHS = new Set([
  "length", "depth", "up the roof", "eave height", "overhang", "size", "corner", "corners", "centre", "across", "face",
  "stands out", "spacing", "first", "width", "thickness", "soffit", "leg", "projection", "height", "ground", "holes",
]);
const ENDS = ["end cap", "outside corner", "inside corner", "wall"];
const LINES = ["roof edge", "wall", "wood face"];
const EDGES = ["eave", "gable", "wall"];
const BASES = ["handbook", "us code", "en"];

const RUN_KEYS = ["length", "taped on", "depth", "pitch", "from", "to", "eave height", "overhang"];
const WING_KEYS = ["size", "corner", "eave height", "pitch", "overhang", "edges"];
const OUTLINE_KEYS = ["eave height", "pitch", "overhang", "corners"];
const GUTTER_KEYS = ["size", "sheet", "fall"];

const isMap = (node: Tree | undefined): node is { [key: string]: Tree } =>
  node !== null && typeof node === "object" && !Array.isArray(node);

function wordsOf(key: string): readonly string[] | undefined {
  if (key === "from" || key === "to") return ENDS;
  if (key === "taped on") return LINES;
  if (key === "edges") return EDGES;
  if (key === "basis") return BASES;
  return undefined;
}

function kindOf(key: string): FieldKind {
  if (wordsOf(key) !== undefined) return "words";
  if (LENGTHS.has(key)) return "length";
  return key === "pitch" || key === "pitches" ? "pitch" : "text";
}

interface Maker {
  tree: Tree;
  of: string;
  fields: Field[];
}

function addField(maker: Maker, path: string, key: string, label: string): void {
  const value = valueAt(maker.tree, path);
  const words = wordsOf(key);
  maker.fields.push({
    path,
    label,
    name: texts.stepOf(label, maker.of),
    kind: key === "size" && /^\/(pieces|gutter)/.test(path) ? "text" : kindOf(key),
    value: typeof value === "string" ? value : "",
    given: value !== undefined,
    ...(words === undefined ? {} : { words }),
  });
}

const PAIRS: Record<string, [string, string]> = {
  size: texts.pairSize,
  corner: texts.pairCorner,
  centre: texts.pairCorner,
};

/** Every single value below a key, each with its own label. */
function addBelow(maker: Maker, path: string, key: string, label: string): void {
  const node = valueAt(maker.tree, path);
  if (key === "length" && Array.isArray(node)) {
    addField(maker, `${path}/0`, key, label);
    const field = maker.fields.at(-1);
    const second = node[1];
    if (field !== undefined) field.again = { path: `${path}/1`, value: typeof second === "string" ? second : "" };
    return;
  }
  if (Array.isArray(node)) {
    node.forEach((item, index) => {
      const pair = PAIRS[key]?.[index];
      const inner = pair ?? (Array.isArray(item) ? texts.corner(index + 1) : key === "edges" ? texts.edge(index + 1) : `${label} ${index + 1}`);
      if (Array.isArray(item))
        item.forEach((_, side) => {
          addBelow(maker, `${path}/${index}/${side}`, key, `${inner}, ${texts.axes[side] ?? ""}`);
        });
      else addBelow(maker, `${path}/${index}`, key, inner);
    });
    return;
  }
  if (isMap(node)) {
    for (const inner of Object.keys(node)) addBelow(maker, path + step(inner), inner, `${label}, ${inner}`);
    return;
  }
  addField(maker, path, key, label);
}

const HIDDEN = new Set(["name"]);

function groupOf(tree: Tree, path: string, title: string, keys: readonly string[]): Group {
  const maker: Maker = { tree, of: title, fields: [] };
  const node = valueAt(tree, path);
  const there = isMap(node) ? Object.keys(node) : [];
  const isPolygon = there.some((key) => key.endsWith("polygon"));
  const asked = isPolygon ? keys.filter((key) => !["size", "corner", "edges"].includes(key)) : keys;
  const order = [...asked, ...there.filter((key) => !asked.includes(key))];
  for (const key of order) {
    const missing = !there.includes(key);
    if (HIDDEN.has(key) || (missing && key === "depth" && there.includes("up the roof"))) continue;
    if (missing && !path.startsWith("/gutter") && (key === "edges" || key === "size" || key === "corner" || key === "corners")) continue;
    addBelow(maker, path + step(key), key, key);
  }
  return { title, path, fields: maker.fields };
}

function rainGroup(tree: Tree): Group {
  const maker: Maker = { tree, of: texts.groups.place, fields: [] };
  const file = valueAt(tree, "/place/rain/file");
  for (const key of file === undefined ? ["intensity", "minutes", "years"] : ["file", "minutes", "years"])
    addField(maker, `/place/rain/${key}`, key, key === "intensity" ? texts.rainLabel : key);
  const rain = valueAt(tree, "/place/rain");
  const said = isMap(rain) ? Object.keys(rain) : [];
  for (const key of said.filter((one) => !["file", "intensity", "minutes", "years"].includes(one))) addBelow(maker, `/place/rain${step(key)}`, key, key);
  for (const key of ["lowest", "highest", "ground snow"]) addField(maker, `/place/${key}`, key, key);
  return { title: texts.groups.place, path: "/place", fields: maker.fields };
}

const nameAt = (tree: Tree, path: string, other: string) => {
  const name = valueAt(tree, `${path}/name`);
  return typeof name === "string" ? name : other;
};

/** The whole sheet: eaves or wings as written, then place, gutter and the rest of the house. */
export function groupsOf(tree: Tree): Group[] {
  const groups: Group[] = [];
  const list = (key: string, keys: readonly string[]) => {
    const items = valueAt(tree, `/${key}`);
    if (Array.isArray(items))
      items.forEach((_, index) => {
        const path = `/${key}/${index}`;
        groups.push(groupOf(tree, path, nameAt(tree, path, `${texts.groups[key as "runs"]} ${index + 1}`), keys));
      });
  };
  list("runs", RUN_KEYS);
  list("wings", WING_KEYS);
  if (isMap(valueAt(tree, "/outline"))) groups.push(groupOf(tree, "/outline", nameAt(tree, "/outline", texts.groups.outline), OUTLINE_KEYS));
  list("pieces", []);
  if (groups.length === 0 || valueAt(tree, "/pieces") === undefined) {
    groups.push(rainGroup(tree));
    groups.push(groupOf(tree, "/gutter", texts.groups.gutter, GUTTER_KEYS));
    groups.push(groupOf(tree, "/water", texts.groups.water, ["basis"]));
  }
  if (isMap(valueAt(tree, "/eave section"))) groups.push(groupOf(tree, "/eave section", texts.groups.section, []));
  return groups;
}

/** The walk round the house: only what is measured there, one question after the other. */
export function questionsOf(tree: Tree): { group: Group; field: Field }[] {
  return groupsOf(tree)
    .filter((group) => /^\/(runs|wings|outline)/.test(group.path))
    .flatMap((group) => group.fields.map((field) => ({ group, field })));
}
