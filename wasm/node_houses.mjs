// SPDX-License-Identifier: Apache-2.0
// Solves many jobs with the heart's wasm32 module in Node, for tools/compare_builds.py.
//   node wasm/node_houses.mjs HEART.wasm < JOBS > RESULTS
// JOBS   "house SEED BYTES BYTES\n", the job and the price list as JSON, and so on
// RESULTS "result SEED STATUS BYTES\n", result.json (nothing when it was stopped), and so on
import fs from "node:fs";

const [modulePath] = process.argv.slice(2);
if (!modulePath) {
  console.error("usage: node node_houses.mjs HEART.wasm < JOBS > RESULTS");
  process.exit(2);
}
const compiled = new WebAssembly.Module(fs.readFileSync(modulePath));

function newHeart() {
  const { exports } = new WebAssembly.Instance(compiled, {});
  exports._initialize();
  return exports;
}

let heart = newHeart();

// The memory may move when it grows: look it up each time.
function give(bytes) {
  const at = heart.heart_buffer(bytes.length);
  if (at === 0 && bytes.length > 0) throw new Error("no memory");
  new Uint8Array(heart.memory.buffer).set(bytes, at);
  return at;
}

// A trap (a failed assert) gives status 4 and a new heart for the next house.
function solve(texts) {
  try {
    const places = texts.flatMap((bytes) => [give(bytes), bytes.length]);
    const answer = heart.heart_solve(...places) >>> 0;
    const [at, length, status] = new Uint32Array(heart.memory.buffer.slice(answer, answer + 12));
    return { status, bytes: Buffer.from(heart.memory.buffer.slice(at, at + length)) };
  } catch (error) {
    if (!(error instanceof WebAssembly.RuntimeError)) throw error;
    heart = newHeart();
    return { status: 4, bytes: Buffer.alloc(0) };
  }
}

const input = fs.readFileSync(0);
let at = 0;
while (at < input.length) {
  const end = input.indexOf(10, at);
  const [, seed, jobBytes, priceBytes] = input.toString("latin1", at, end).split(" ");
  const jobAt = end + 1;
  const priceAt = jobAt + Number(jobBytes);
  at = priceAt + Number(priceBytes);
  const job = input.subarray(jobAt, priceAt);
  const { status, bytes } = solve([job, input.subarray(priceAt, at), new Uint8Array(0)]);
  const shown = status <= 1 ? bytes : Buffer.alloc(0); // what stops a job is told in other words
  fs.writeSync(1, `result ${seed} ${status} ${shown.length}\n`);
  for (let sent = 0; sent < shown.length; ) sent += fs.writeSync(1, shown, sent);
}
