// SPDX-License-Identifier: Apache-2.0
// Runs the heart's wasm32 module in Node on every job under a folder and compares the bytes with what
// the native program prints. Prints TAP.
//   node wasm/node_compare.mjs HEART.wasm build/eavesmith examples
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";

const [modulePath, program, folder] = process.argv.slice(2);
if (!folder) {
  console.error("usage: node node_compare.mjs HEART.wasm PROGRAM FOLDER");
  process.exit(2);
}

let points = 0;
let failures = 0;

function point(good, name, notes = "") {
  points += 1;
  for (const line of good || !notes ? [] : String(notes).trimEnd().split("\n")) {
    console.log(`# ${line}`);
  }
  if (!good) failures += 1;
  console.log(`${good ? "ok" : "not ok"} ${points} - ${name}`);
}

// What the program prints, as bytes. Exit 1 ("not safe as drawn") is an answer too.
function native(...words) {
  try {
    return execFileSync(program, words, { maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] });
  } catch (error) {
    if (error.status === 1 && error.stdout) return error.stdout;
    throw new Error(`${words.join(" ")}: exit ${error.status}\n${error.stderr ?? error}`);
  }
}

// ---- the module ---------------------------------------------------------------------------------

const compiled = new WebAssembly.Module(fs.readFileSync(modulePath));
const EMPTY = new Uint8Array(0);

function newHeart() {
  const { exports } = new WebAssembly.Instance(compiled, {});
  exports._initialize();
  return exports;
}

// A text into the module's memory. The memory may move when it grows: look it up each time.
function give(heart, bytes) {
  const at = heart.heart_buffer(bytes.length);
  if (at === 0 && bytes.length > 0) throw new Error("no memory");
  new Uint8Array(heart.memory.buffer).set(bytes, at);
  return at;
}

function solve(heart, job, prices = EMPTY, rain = EMPTY, gauge = EMPTY) {
  const places = [job, prices, rain, gauge].flatMap((bytes) => [give(heart, bytes), bytes.length]);
  const answer = heart.heart_solve(...places) >>> 0;
  const [at, length, status] = new Uint32Array(heart.memory.buffer.slice(answer, answer + 12));
  return { bytes: Buffer.from(heart.memory.buffer.slice(at, at + length)), status };
}

// ---- the jobs -----------------------------------------------------------------------------------

function jobsUnder(place) {
  return fs
    .readdirSync(place, { withFileTypes: true })
    .flatMap((entry) => {
      const name = path.join(place, entry.name);
      if (entry.isDirectory()) return jobsUnder(name);
      if (!/\.(yaml|yml|json)$/.test(entry.name)) return [];
      return isJob(fs.readFileSync(name, "utf8")) ? [name] : [];
    })
    .sort();
}

// A price list says no `job:`.
function isJob(text) {
  return /^\s*"?eavesmith"?\s*:/m.test(text) && /^\s*"?job"?\s*:/m.test(text);
}

function inputsOf(jobFile) {
  const job = native("tree", jobFile);
  const said = JSON.parse(job);
  const beside = (name) => path.join(path.dirname(jobFile), name);
  const rainFile = said.place?.rain?.file;
  const record = said.place?.rain?.record;
  return {
    job,
    prices: said.prices ? native("tree", beside(said.prices)) : EMPTY,
    rain: rainFile ? fs.readFileSync(beside(rainFile)) : EMPTY,
    gauge: record ? fs.readFileSync(beside(record)) : EMPTY,
  };
}

function firstDifference(a, b) {
  const [left, right] = [a.toString().split("\n"), b.toString().split("\n")];
  const at = left.findIndex((line, index) => line !== right[index]);
  if (at < 0) return `native ends at line ${left.length}, wasm goes on`;
  return `line ${at + 1}\nnative: ${left[at]}\nwasm:   ${right[at] ?? "(ended)"}`;
}

function compare(jobFile) {
  try {
    const { job, prices, rain, gauge } = inputsOf(jobFile);
    const wanted = native("solve", jobFile, "--json");
    const heart = newHeart();
    const once = solve(heart, job, prices, rain, gauge);
    const again = solve(heart, job, prices, rain, gauge);
    point(wanted.length > 0 && wanted.equals(once.bytes), `${jobFile}: native bytes (${wanted.length})`,
      `status ${once.status}; ${firstDifference(wanted, once.bytes)}`);
    point(once.bytes.equals(again.bytes), `${jobFile}: the same bytes once more`);
  } catch (error) {
    point(false, `${jobFile}: compared`, error);
  }
}

function refusesBrokenText() {
  const heart = newHeart();
  try {
    const answer = solve(heart, Buffer.from('{"eavesmith": 1, "runs": [}'), EMPTY, EMPTY);
    point(answer.status !== 0, "broken JSON is refused", `status ${answer.status}`);
  } catch (error) {
    point(false, "broken JSON is refused", error);
  }
}

const imports = WebAssembly.Module.imports(compiled).map((one) => `${one.module}.${one.name}`);
point(imports.length === 0, "the module imports nothing", imports.join(" "));
refusesBrokenText();
const jobs = jobsUnder(folder);
point(jobs.length > 0, "there are jobs to compare");
jobs.forEach(compare);
console.log(`1..${points}`);
console.log(`# say: ${jobs.length} jobs, module ${fs.statSync(modulePath).size} bytes`);
process.exit(failures > 0 ? 1 : 0);
