// SPDX-License-Identifier: Apache-2.0
// A new job: one eave walked with a tape, a house of wings, or a copy of a job there is. What stands in it is to be
// typed over; the rain says so itself.
import { useState } from "preact/hooks";
import { type JobLine, makeJob, readJob, readTree } from "./api";
import { setAt, writeScalar } from "./doc";
import { texts } from "./texts";

export interface Start {
  name: string;
  metric: boolean;
  /** a price list of the folder, when there is one */
  prices: string | undefined;
}

const RUN_FEET = `runs:
  - name: front
    length: 30'
    taped on: roof edge
    depth: 12'
    pitch: 6/12
    from: end cap
    to: end cap
    eave height: 9'
    overhang: 12"
outlets: {at: [front to]}`;
const RUN_METRIC = `runs:
  - name: front
    length: 9.00 m
    taped on: roof edge
    depth: 4.00 m
    pitch: 35 deg
    from: end cap
    to: end cap
    eave height: 2.80 m
    overhang: 300 mm
outlets: {at: [front to]}`;
const WINGS_FEET = `wings:
  - name: house
    corner: [0, 0]
    size: [30', 20']
    eave height: 9'
    pitch: 8/12
    edges: [eave, gable, eave, gable]
    overhang: 12"
outlets: {allowed: [house 1 from, house 1 to, house 3 from, house 3 to]}`;
const WINGS_METRIC = `wings:
  - name: house
    corner: [0, 0]
    size: [9.00 m, 6.00 m]
    eave height: 2.80 m
    pitch: 35 deg
    edges: [eave, gable, eave, gable]
    overhang: 300 mm
outlets: {allowed: [house 1 from, house 1 to, house 3 from, house 3 to]}`;

export function startText(kind: "runs" | "wings", { name, metric, prices }: Start): string {
  const rain = metric ? "120 mm/h" : "6 in/h";
  const house = kind === "runs" ? (metric ? RUN_METRIC : RUN_FEET) : metric ? WINGS_METRIC : WINGS_FEET;
  return [
    "eavesmith: 1",
    `job: ${writeScalar(name, false)}`,
    `units: ${metric ? "mm" : "ft-in"}`,
    "place:",
    `  rain: {intensity: ${rain}, minutes: 5, years: 10}  # ${texts.newRain}`,
    house,
    ...(prices === undefined ? [] : [`prices: ${writeScalar(prices, false)}`]),
    "",
  ].join("\n");
}

/** "Miller's barn, north" -> millers-barn-north.yaml, another number where it is taken. */
export function fileNameOf(name: string, taken: string[]): string {
  const plain = name
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[\u0300-\u036f'’]/g, "")
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "");
  const stem = plain.slice(0, 60) || "job";
  let file = `${stem}.yaml`;
  for (let number = 2; taken.includes(file); number++) file = `${stem}-${number}.yaml`;
  return file;
}

async function copyText(from: string, name: string): Promise<string> {
  const text = (await readJob(from)).text ?? "";
  const read = await readTree(text, "job");
  if (read.tree === undefined) return text;
  return setAt({ text, tree: read.tree, marks: read.marks, issues: [] }, "/job", name).text;
}

interface NewProps {
  jobs: JobLine[];
  beside: string[];
  onMade: (file: string) => void;
}

export function NewJob({ jobs, beside, onMade }: NewProps) {
  const [name, setName] = useState("");
  const [kind, setKind] = useState("runs");
  const [units, setUnits] = useState("ft-in");
  const [fault, setFault] = useState("");
  const isCopy = kind !== "runs" && kind !== "wings";
  const make = async (event: Event) => {
    event.preventDefault();
    const file = fileNameOf(name.trim(), [...jobs.map((job) => job.name), ...beside]);
    const prices = beside.find((one) => /price/i.test(one) && /\.ya?ml$/.test(one));
    try {
      const text = isCopy ? await copyText(kind, name.trim()) : startText(kind, { name: name.trim(), metric: units === "mm", prices });
      await makeJob(file, text);
      onMade(file);
    } catch (error) {
      setFault(error instanceof TypeError ? texts.noAnswer : String(error));
    }
  };
  return (
    <form class="panel new-job" onSubmit={(event) => void make(event)}>
      <h2>{texts.newHead}</h2>
      <div class="fields">
        <div class="field">
          <label for="new-name">{texts.newName}</label>
          <input id="new-name" type="text" autocomplete="off" required value={name} onInput={(event) => setName(event.currentTarget.value)} />
        </div>
        <div class="field">
          <label for="new-kind">{texts.newFrom}</label>
          <select id="new-kind" value={kind} onChange={(event) => setKind(event.currentTarget.value)}>
            <option value="runs">{texts.newRuns}</option>
            <option value="wings">{texts.newWings}</option>
            {jobs.map((job) => (
              <option key={job.name} value={job.name}>
                {texts.newCopy(job.job || job.name)}
              </option>
            ))}
          </select>
        </div>
        {!isCopy && (
          <div class="field">
            <label for="new-units">{texts.newUnits}</label>
            <select id="new-units" value={units} onChange={(event) => setUnits(event.currentTarget.value)}>
              <option value="ft-in">{texts.feet}</option>
              <option value="mm">{texts.millimetres}</option>
            </select>
          </div>
        )}
        <div class="field at-foot">
          <button type="submit" disabled={name.trim() === ""}>
            {texts.newMake}
          </button>
        </div>
      </div>
      {fault !== "" && (
        <p class="fault" role="alert">
          ✕ {fault}
        </p>
      )}
    </form>
  );
}
