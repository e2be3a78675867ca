// SPDX-License-Identifier: Apache-2.0
// The heart as the page loads it: one reader of lengths, figures as the core writes them, reasons for every figure.
import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import { findChanges, takeChange } from "./carry";
import type { Doc, Tree } from "./doc";
import { addStep, type History } from "./draft";
import { length } from "./figures";
import { depthsInRain, goesOver, rainOn } from "./film";
import { gather } from "./findings";
import { type Heart, pathAt, placeJson, startHeart } from "./heart";
import { layTape } from "./tape";
import { texts } from "./texts";
import { pressKey } from "./walk";

const root = join(import.meta.dirname, "../..");
const program = process.env.EAVESMITH ?? join(root, "build/eavesmith");
const module = [process.env.HEART, join(root, "build/page/heart.wasm")].find((path) => path !== undefined && existsSync(path));
const heart: Heart = startHeart(new WebAssembly.Instance(new WebAssembly.Module(readFileSync(module ?? "heart.wasm"))));
const run = (...words: string[]) => execFileSync(program, words, { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 26 });
const solved = (name: string) => heart.solve(run("tree", join(root, "examples", name)), run("tree", join(root, "examples/porch/prices.yaml")), "", "");

test("lengths are read by the core, fractions for themselves", () => {
  const ticks: [string, number][] = [[`13/16"`, 13 * 508], [`1 13/16"`, 29 * 508], [`11/16"`, 11 * 508], [`28' 4 1/2"`, 2767584], ["8.65 m", 2768000]];
  for (const [text, tick] of ticks) expect(heart.length(text, false).tick, text).toBe(tick);
  expect(heart.length("12", false)).toMatchObject({ fault: "bare number", feet: `12' 0"`, inches: `1' 0"` });
  expect(heart.length(`12' 14"`, false).fault).toBe("bad fraction");
});

test("what the core writes it reads back, in both systems", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 60000 }), (sixteenths) => {
      const text = length("ft-in", (sixteenths * 0.0254) / 16);
      expect(heart.length(text, false).tick).toBe(sixteenths * 508);
      expect(heart.length(length("mm", sixteenths / 1000), true).tick).toBe(sixteenths * 320);
    }),
  );
});

test("the page writes a length as the core does", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 60000 }), (sixteenths) => {
      const core = heart.length(`${Math.floor(sixteenths / 16)} ${sixteenths % 16}/16"`.replace(" 0/16", ""), false);
      expect(length("ft-in", (sixteenths * 0.0254) / 16)).toBe(core.ft_in);
    }),
  );
});

test("every figure of the result can be asked why", () => {
  expect(solved("porch/porch.yaml").result?.verdict).toBe("safe");
  for (const path of ["money/total_minor", "runs/porch/size", "reaches/porch.reach.1/greatest_depth_m", "hang/porch/1/drop_m"]) {
    const [why] = heart.why(path);
    expect(why?.path).toBe(path);
    expect(why?.note).not.toBe("");
  }
  expect(heart.why("money/total_minor")[0]?.steps[0]?.formula).toBe("sum of the lines + tax");
  expect(heart.why("nothing/of the kind")).toEqual([]);
  expect(run("why", join(root, "examples/porch/porch.yaml"), "runs/porch/size")).toContain(heart.why("runs/porch/size")[0]?.value ?? "?");
});

test("the tape's water is the physics' own, from the still end to the outlet", () => {
  const { result } = solved("survey/house.yaml");
  if (result === undefined) throw new Error("not solved");
  const tape = layTape(result, heart.drawing());
  expect(tape.flows.length).toBe(Object.keys(result.reaches ?? {}).length);
  for (const flow of tape.flows) {
    const deepest = Math.max(...flow.parts.flat().map(([, depth]) => depth));
    expect(deepest).toBeLessThanOrEqual((flow.reach.greatest_depth_m ?? 0) + 2e-6);
    const along = flow.parts.reduce((sum, part) => sum + Math.abs((part.at(-1)?.[0] ?? 0) - (part[0]?.[0] ?? 0)), 0);
    expect(Math.abs(along - flow.reach.length_m)).toBeLessThan(0.2 * flow.reach.length_m);
    const end = flow.parts.at(-1)?.at(-1)?.[0] ?? 0;
    const eave = tape.eaves.find((one) => one.outlets.some((outlet) => outlet.name === flow.reach.outlet));
    const outlet = eave?.outlets.find((one) => one.name === flow.reach.outlet);
    expect(end).toBeCloseTo((eave?.x ?? 0) + (outlet?.at ?? 0), 4);
  }
});

test("a finding's byte leads to its value", () => {
  const tree: Tree = { job: "é", runs: [{ name: "a", "length/of": "12" }] };
  const placed = placeJson(tree);
  const at = new TextEncoder().encode(placed.json.slice(0, placed.json.indexOf('"12"'))).length;
  expect(pathAt(placed, at)).toBe("/runs/0/length~1of");
});

test("every step keeps its text, the first and the last too", () => {
  fc.assert(
    fc.property(fc.array(fc.string(), { minLength: 1, maxLength: 30 }), (texts) => {
      const doc = (text: string): Doc => ({ text, marks: {}, issues: [] });
      let history: History = { steps: [{ name: "", doc: doc("first") }], at: 0 };
      for (const text of texts) history = addStep(history, { name: "typing", doc: doc(text) });
      const last = history.steps[history.at]?.doc.text;
      expect(history.steps[0]?.doc.text).toBe("first");
      expect(last).toBe(texts.at(-1));
      expect(history.steps.slice(1).map((step) => step.doc.text)).toEqual(texts);
    }),
  );
});

test("keys make what a tape is read as", () => {
  const typed = (keys: string[]) => keys.reduce(pressKey, "");
  expect(typed(["4", "4", "'", "6", "1/2"])).toBe(`44' 6 1/2"`);
  expect(typed(["4", "4", "'", "6", "1/4", "1/8"])).toBe(`44' 6 3/8"`);
  expect(typed(["1/2", "1/4", "1/8", "1/16"])).toBe(`15/16"`);
  expect(typed(["9", "/12"])).toBe("9/12");
  expect(typed(["8", ".", "6", "5", "m"])).toBe("8.65 m");
  expect(typed(["4", "4", "'", "⌫", "5"])).toBe("445");
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 99 }), fc.integer({ min: 0, max: 11 }), fc.subarray(["1/2", "1/4", "1/8", "1/16"]), (feet, inches, fractions) => {
      const text = typed([...`${feet}`.split(""), "'", ...`${inches}`.split(""), ...(fractions.length > 0 ? fractions : ['"'])]);
      expect(heart.length(text, false).fault, text).toBe("");
    }),
  );
});

test("changes from the house are values, and are taken one by one", () => {
  const before: Tree = { runs: [{ length: "1'", pitch: "4/12", overhang: "12\"" }] };
  const after: Tree = { runs: [{ length: ["1'", "2'"], pitch: "6/12" }] };
  const changes = findChanges(before, after);
  expect(changes.map((change) => change.path).sort()).toEqual(["/runs/0/length/0", "/runs/0/length/1", "/runs/0/overhang", "/runs/0/pitch"]);
  const text = "runs: [{pitch: 4/12}]";
  const doc: Doc = { text, tree: { runs: [{ pitch: "4/12" }] }, marks: { "": { from: 0, to: 21 }, "/runs": { from: 6, to: 21 }, "/runs/0": { from: 7, to: 20 }, "/runs/0/pitch": { from: 15, to: 19, key: { from: 8, to: 13 } } }, issues: [] };
  expect(takeChange(doc, { path: "/runs/0/pitch", before: "4/12", after: "6/12" }).text).toBe("runs: [{pitch: 6/12}]");
});

test("the same sentence about many things is said once", () => {
  const finding = (object: string) => ({ code: "A", severity: "should" as const, document: "job", object, text: `${object}: is short`, mend: "" });
  const said = gather([finding("a"), finding("b"), { ...finding("c"), code: "B" }]);
  expect(said.map((one) => one.objects)).toEqual([["a", "b"], ["c"]]);
});

test("a line of the bill is so much at so much", () => {
  const { result } = solved("porch/porch.yaml");
  const lines = Object.values(result?.money?.lines ?? {});
  const by = (unit: string) => lines.filter((line) => line.per === unit);
  expect(by("ft").length).toBeGreaterThan(0);
  for (const line of by("ft")) expect(Math.abs(((line.length_m ?? 0) / 0.3048) * line.unit_minor - line.amount_minor)).toBeLessThan(0.51);
  for (const line of lines.filter((one) => one.per === undefined)) expect(line.count * line.unit_minor).toBe(line.amount_minor);
});

test("a year is said as a year, one bracket as one", () => {
  expect(texts.years(1.02, "within")).toBe("once a year");
  expect(texts.years(2.04, "within")).toBe("once in 2 years");
  expect(texts.brackets(1)).toBe("1 bracket");
});

test("the film's water is the design's own in the design rain, and stands at the lip in the rain it just runs with", () => {
  const beside = (name: string) => join(root, "examples/demo", name);
  const { result } = heart.solve(run("tree", beside("house.yaml")), run("tree", beside("prices.yaml")), readFileSync(beside("rain-saltmarrow.csv"), "utf8"), "");
  const film = heart.film();
  expect(film.storms?.map((rains) => rains.length)).toEqual([60, 60]);
  const rain = result?.rain?.intensity_mps ?? 0;
  let over = 0;
  for (const [name, reach] of Object.entries(film.reaches ?? {})) {
    const own = result?.reaches?.[name];
    const deepest = (mps: number) => Math.max(...depthsInRain(reach, mps).filter((_, at) => at % 2 === 1));
    expect(Math.abs(deepest(rain) - (own?.greatest_depth_m ?? 0)), name).toBeLessThan(0.002); // joined straight between two rains
    expect(deepest(rain / 3)).toBeLessThan(deepest(rain));
    const full = (own?.greatest_depth_m ?? 0) + (own?.freeboard_m ?? 0);
    if (reach.limit_mps === reach.top_mps) expect(deepest(reach.top_mps), name).toBeCloseTo(full, 3);
    over += film.storms?.[1]?.filter((mps) => goesOver(reach, mps)).length ?? 0;
    expect(film.storms?.[0]?.some((mps) => goesOver(reach, mps)), name).toBe(false);
  }
  expect(over).toBe(5); // minutes that result.json counts for ell.4.reach.2 in the storm of 100 years
});

test("the film goes over in as many minutes as the result counts, also below a gutter that spills", () => {
  const rain = readFileSync(join(root, "examples/demo/rain-saltmarrow.csv"), "utf8");
  const house = JSON.parse(run("tree", join(root, "examples/demo/house.yaml"))) as { [key: string]: Tree };
  const fed = {
    ...house,
    gutter: { size: "5 in" },
    outlets: { at: ["hall 3 from", "hall 3 to", "ell 2 to", "ell 4 from", { at: "hall 1 to", onto: "porch 1 at 9'" }, "porch 1 to"] },
  };
  const { result } = heart.solve(JSON.stringify(fed), run("tree", join(root, "examples/demo/prices.yaml")), rain, "");
  const film = heart.film();
  const storms = Object.values(result?.storms ?? {});
  expect(storms.length).toBe(2);
  let counted = 0;
  for (const [name, reach] of Object.entries(film.reaches ?? {})) {
    expect(reach.brought?.length).toBe(2);
    storms.forEach((storm, at) => {
      const minutes = (film.storms?.[at] ?? []).filter((_, minute) => goesOver(reach, rainOn(reach, { film, storm: at, minute }))).length;
      const said = (storm as unknown as Record<string, { over_minutes?: number }>)[name]?.over_minutes ?? 0;
      expect(minutes, `${name}, storm ${at}`).toBe(said);
      counted += said;
    });
  }
  expect(counted).toBeGreaterThan(0);
});
