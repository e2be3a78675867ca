// SPDX-License-Identifier: Apache-2.0
// Moving a wing or a side changes its own figures and nothing else; lengths read back as they were written.
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Doc, Tree } from "./doc";
import { chooseKept, type Kept } from "./draft";
import { startHeart } from "./heart";
import { stationOf } from "./stations";
import { fileNameOf, startText } from "./new_job";
import { addToList, newWing, readMetres, shapesOfPlan, snap, takeFromList, writeMetres } from "./plan";

const root = join(import.meta.dirname, "../..");
const program = process.env.EAVESMITH ?? join(root, "build/eavesmith");
const module = [process.env.HEART, join(root, "build/page/heart.wasm")].find((path) => path !== undefined && existsSync(path));
const heart = startHeart(new WebAssembly.Instance(new WebAssembly.Module(readFileSync(module ?? "heart.wasm"))));
const FOOT_M = 0.3048;
const feet = (count: number) => count * FOOT_M;

const HOUSE: Tree = {
  wings: [
    { name: "hall", corner: ["0", "0"], size: ["56'", "26'"], edges: ["eave", "gable", "eave", "gable"], pitch: "9/12", overhang: `12"` },
    { name: "porch", corner: ["19'", "-8'"], size: ["18' guess", "8'"], edges: ["eave", "gable", "wall", "gable"] },
    { name: "turned", corner: ["60'", "0"], size: ["10'", "20'"], turn: "90 deg" },
    { name: "turret", centre: ["0", "0"], "regular polygon": { sides: "8", across: "10'" } },
  ],
};
const changesOf = (shape: number, grip: number, by: [number, number]) =>
  Object.fromEntries((shapesOfPlan(heart, HOUSE, false)[shape]?.grips[grip]?.move(by) ?? []).map(([path, metres]) => [path, writeMetres(metres, false)]));

test("what is written is read back the same", () => {
  fc.assert(
    fc.property(fc.integer({ min: -9000, max: 9000 }), (sixteenths) => {
      const metres = (sixteenths * 0.0254) / 16;
      expect(readMetres(heart, writeMetres(metres, false), false)).toBeCloseTo(metres, 9);
      expect(readMetres(heart, writeMetres(sixteenths / 1000, true), true)).toBeCloseTo(sixteenths / 1000, 9);
    }),
  );
  expect([feet(56), feet(-8), 0, 8.6].map((metres) => writeMetres(metres, false)).slice(0, 3)).toEqual(["56'", "-8'", "0"]);
  expect(writeMetres(9.4, true)).toBe("9.40 m");
});

test("turrets are left to the sheet, wings stand where they are said to", () => {
  const shapes = shapesOfPlan(heart, HOUSE, false);
  expect(shapes.map((shape) => shape.name)).toEqual(["hall", "porch", "turned"]);
  expect(shapes[1]?.points[2]?.map((at) => Math.round(at / FOOT_M))).toEqual([37, 0]);
  // a quarter counter-clockwise about its corner: along y, to the left
  expect(shapes[2]?.points[1]?.map((at) => Math.round(at / FOOT_M))).toEqual([60, 10]);
  expect(shapes[2]?.points[2]?.map((at) => Math.round(at / FOOT_M))).toEqual([40, 10]);
});

test("a side moves by itself, the one across stays", () => {
  expect(changesOf(0, 1, [feet(2), feet(9)])).toEqual({ "/wings/0/size/0": "58'" });
  expect(changesOf(0, 0, [feet(9), feet(-1)])).toEqual({ "/wings/0/size/1": "27'", "/wings/0/corner/0": undefined, "/wings/0/corner/1": "-1'" });
  expect(changesOf(2, 3, [0, feet(-1)])).toEqual({ "/wings/2/size/0": "11'", "/wings/2/corner/1": "-1'" });
  expect(changesOf(1, 2, [0, feet(-99)])).toEqual({ "/wings/1/size/1": `11 13/16"` }); // never turned inside out
});

test("a wing moves whole", () => {
  const body = shapesOfPlan(heart, HOUSE, false)[0]?.body;
  expect(body?.move([feet(1), 0])).toEqual([["/wings/0/corner/0", feet(1)]]);
});

test("it moves by whole inches, onto a line of another wing where one is near", () => {
  expect(snap([0.031, -0.02], [[0, 0]], [], { near: 0.1, metric: false })).toEqual([0.0254, -0.0254]);
  expect(snap([1.03, 5], [[0, 0]], [[1.0123, 9]], { near: 0.1, metric: false })[0]).toBe(1.0123);
});

const TEXT = `eavesmith: 1
wings:
  - name: hall   # the old part
    corner: [0, 0]
    size: [56', 26']
  - {name: ell, corner: [0, 26'], size: [10', 10']}  # later
prices: prices.yaml
`;
const span = (text: string) => ({ from: TEXT.indexOf(text), to: TEXT.indexOf(text) + text.length });
const doc: Doc = {
  text: TEXT,
  tree: { eavesmith: "1", wings: [{ name: "hall", corner: ["0", "0"], size: ["56'", "26'"] }, { name: "ell", corner: ["0", "26'"], size: ["10'", "10'"] }], prices: "prices.yaml" },
  marks: {
    "/wings": { from: TEXT.indexOf("name: hall"), to: TEXT.indexOf("}") + 1 },
    "/wings/0": { from: TEXT.indexOf("name: hall"), to: TEXT.indexOf("26']") + 4 },
    "/wings/1": span("{name: ell, corner: [0, 26'], size: [10', 10']}"),
  },
  issues: [],
};

test("a wing is added below the last, as that is roofed, and taken away with its lines", () => {
  const written = newWing(heart, doc.tree ?? {}, false);
  expect(written).toBe("{name: wing 3, corner: [56', 0], size: [12', 10'], edges: [eave, gable, eave, wall]}");
  const more = addToList(doc, "/wings", written).text;
  expect(more.replace(`\n  - ${written}`, "")).toBe(TEXT);
  expect(takeFromList(doc, "/wings", 1).text).toBe(TEXT.split("\n").filter((line) => !line.includes("ell")).join("\n"));
  expect(takeFromList(doc, "/wings", 0).text).toBe(TEXT.split("\n").filter((_, at) => at < 2 || at > 4).join("\n"));
});

test("a new job's file is named after it, never like one that is there", () => {
  expect(fileNameOf("Miller's barn, north", [])).toBe("millers-barn-north.yaml");
  expect(fileNameOf("Küche", ["kuche.yaml"])).toBe("kuche-2.yaml");
  expect(fileNameOf("???", [])).toBe("job.yaml");
});

test("every start can be worked out, and nothing is not safe about it", () => {
  const folder = mkdtempSync(join(tmpdir(), "eavesmith-new-"));
  for (const kind of ["runs", "wings"] as const)
    for (const metric of [false, true]) {
      const file = join(folder, "new.yaml");
      writeFileSync(file, startText(kind, { name: "Smith: the barn #2", metric, prices: undefined }));
      const result = JSON.parse(execFileSync(program, ["solve", file, "--json"], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }));
      expect([result.job, result.verdict, result.units]).toEqual(["Smith: the barn #2", "safe", metric ? "mm" : "ft-in"]);
    }
  rmSync(folder, { recursive: true });
});

test("a finding stands at the station that can mend it", () => {
  const at = (code: string) => stationOf({ code, severity: "must", document: "job", object: "", text: "", mend: "" });
  const codes = { GUTTER_TOO_SMALL: "water", BOOT_TOO_SMALL: "water", STORM_LANDS_FAR: "water", OUTLET_HAS_NO_WALL: "water", SCREWS_PULL_OUT: "metal", BRACKET_TIPS: "metal", ASSUMED_WEDGE: "metal", MEASUREMENT_SUSPECT: "house", LENGTH_IS_A_GUESS: "house", ROOF_PIT: "house", PRICE_MISSING: "money" };
  for (const [code, station] of Object.entries(codes)) expect(at(code), code).toBe(station);
});

test("of what tabs kept: this tab's own, else what is not saved, else the newest", () => {
  const kept = (text: string, saved: string, when: number): Kept => ({ steps: [{ name: "", doc: { text, marks: {}, issues: [] } }], at: 0, revision: "r", saved, when });
  const [own, unsaved, newest, older] = [kept("o", "o", 1), kept("u", "s", 2), kept("n", "n", 9), kept("a", "a", 3)];
  expect(chooseKept(own, [unsaved, newest])).toBe(own);
  expect(chooseKept(undefined, [older, newest, unsaved])).toBe(unsaved);
  expect(chooseKept(undefined, [older, newest])).toBe(newest);
  expect(chooseKept(undefined, [])).toBeUndefined();
});
