// SPDX-License-Identifier: Apache-2.0
// The folder's jobs, and one of them opened. The address says which: #house/porch.yaml.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { type JobFile, type JobLine, listJobs, paper, readJob } from "./api";
import { type Draft, Editor, useDraft } from "./editor";
import { money } from "./figures";
import { PlumbFigures, shareOf } from "./plumb";
import type { Finding, Result } from "./result";
import { type Solved, solve } from "./solver";
import { perLength, type Station, StationBar, StationBody, stationNames } from "./stations";
import { layTape, ontoEave } from "./tape";
import { TapeView } from "./tape_view";
import { texts } from "./texts";

const EMPTY: Solved = { findings: [], byHeart: true };
const SOLVE_PAUSE_MS = 150;
const CHANGE_SHOWN_MS = 5000;

function useStation(): [Station, string] {
  const read = (): [Station, string] => {
    const [station = "", name = ""] = location.hash.slice(1).split("/");
    const known = stationNames.find((one) => one === station);
    return [known ?? "house", decodeURIComponent(name)];
  };
  const [place, setPlace] = useState(read);
  useEffect(() => {
    const look = () => setPlace((old) => (read()[1] === "" ? [read()[0], old[1]] : read()));
    addEventListener("hashchange", look);
    return () => removeEventListener("hashchange", look);
  }, []);
  return place;
}

function DisplaySwitch() {
  const [display, setDisplay] = useState(localStorage.getItem("display") ?? "day");
  useEffect(() => {
    document.documentElement.dataset.display = display;
    localStorage.setItem("display", display);
  }, [display]);
  return (
    <label class="display">
      {texts.display}{" "}
      <select value={display} onChange={(event) => setDisplay(event.currentTarget.value)}>
        {Object.entries(texts.displays).map(([value, name]) => (
          <option key={value} value={value}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}

/** The newest text is worked out; an older answer that comes late is dropped. */
function useSolved(file: JobFile, text: string): { solved: Solved; last: Result | undefined; fault: string; busy: boolean } {
  const [solved, setSolved] = useState<Solved>(EMPTY);
  const [last, setLast] = useState<Result>();
  const [fault, setFault] = useState("");
  const [busy, setBusy] = useState(true);
  const turn = useRef(0);
  useEffect(() => {
    const mine = ++turn.current;
    setBusy(true);
    const timer = setTimeout(async () => {
      try {
        const answer = await solve(text, file.prices?.text, file.rain?.text, file.gauge?.text);
        if (mine !== turn.current) return;
        setSolved(answer);
        if (answer.result !== undefined) setLast(answer.result);
        setFault("");
      } catch (error) {
        if (mine === turn.current) setFault(error instanceof TypeError ? texts.noAnswer : String(error));
      }
      if (mine === turn.current) setBusy(false);
    }, mine === 1 ? 0 : SOLVE_PAUSE_MS);
    return () => clearTimeout(timer);
  }, [text]);
  return { solved, last, fault, busy };
}

/** "+$39" for some seconds after an edit. */
function useChange(total: number | undefined, currency: string): string {
  const before = useRef<number | undefined>(undefined);
  const [change, setChange] = useState("");
  useEffect(() => {
    if (total === undefined) return undefined;
    const difference = total - (before.current ?? total);
    before.current = total;
    if (difference === 0) return undefined;
    setChange(`(${difference > 0 ? "+" : "−"}${money(currency, Math.abs(difference))})`);
    const timer = setTimeout(() => setChange(""), CHANGE_SHOWN_MS);
    return () => clearTimeout(timer);
  }, [total]);
  return change;
}

function Findings({ findings, onGo }: { findings: Finding[]; onGo: (finding: Finding) => void }) {
  const order = ["stop", "must", "should", "note", "assumed"];
  const sorted = [...findings].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity));
  return (
    <section class="panel findings" aria-live="polite">
      <h2>{texts.findings}</h2>
      {sorted.length === 0 && <p>{texts.noFindings}</p>}
      <ul>
        {sorted.map((finding, index) => (
          <li key={index} class={`is-${finding.severity}`}>
            <span class="badge">
              <span class="sign">{texts.severitySign[finding.severity]}</span> {texts.severity[finding.severity]}
            </span>
            <div>
              <p>{finding.text}</p>
              {finding.mend !== "" && <p class="mend">{finding.mend}</p>}
              {finding.line !== undefined && finding.document === "job" && (
                <button type="button" class="link" onClick={() => onGo(finding)}>
                  {texts.line(finding.line, finding.column ?? 1)}
                </button>
              )}
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}

function HouseKey({ name, draft }: { name: string; draft: Draft }) {
  const [missing, setMissing] = useState(false);
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    if (draft.state === "saved") {
      setTurn((last) => last + 1);
      setMissing(false);
    }
  }, [draft.state]);
  return (
    <section class="panel key">
      <h2>{texts.houseKey}</h2>
      {missing ? (
        <p>{texts.noPlan}</p>
      ) : (
        <img src={`${paper(name, "plan.svg")}?turn=${turn}`} alt={texts.houseKeyAlt} onError={() => setMissing(true)} />
      )}
    </section>
  );
}

function Papers({ name }: { name: string }) {
  const links: [string, string][] = [
    ["packet.pdf", texts.packet],
    ["pieces.csv", texts.pieces],
    ["plan.svg", texts.plan],
    ["measurements.pdf", texts.measurements],
  ];
  return (
    <section class="panel papers">
      <h2>{texts.papers}</h2>
      <ul>
        {links.map(([file, title]) => (
          <li key={file}>
            <a href={paper(name, file)} target="_blank" rel="noreferrer">
              {title}
            </a>
          </li>
        ))}
      </ul>
      <p class="quiet">{texts.papersSaved}</p>
    </section>
  );
}

function Job({ file, currency, station }: { file: JobFile; currency: string; station: Station }) {
  const draft = useDraft(file.name, file.revision, file.text ?? "");
  const { solved, last, fault, busy } = useSolved(file, draft.text);
  const [wanted, setPlumb] = useState(1);
  const [place, setPlace] = useState<{ from: number; to: number; count: number }>();
  const tape = useMemo(() => (last === undefined ? undefined : layTape(last)), [last]);
  const plumb = tape === undefined ? 0 : ontoEave(tape, wanted);
  const total = solved.result?.money?.total_minor;
  const change = useChange(total, currency);
  const go = (finding: Finding) => {
    location.hash = `#house/${encodeURIComponent(file.name)}`;
    setPlace((old) => ({ from: finding.from ?? 0, to: finding.to ?? 0, count: (old?.count ?? 0) + 1 }));
  };
  const share = last === undefined ? undefined : shareOf(last, currency);
  const showsTape = tape !== undefined && tape.eaves.length > 0;
  return (
    <>
      <header class="head">
        <a class="all" href="#jobs">
          {texts.allJobs}
        </a>
        <h1>{last?.job ?? file.name}</h1>
        <span class={`saving is-${draft.state}`} role="status">
          {texts[draft.state]}
        </span>
        <span class="grow" />
        <span class="quiet">{last !== undefined ? perLength(last, currency) : ""}</span>
        <DisplaySwitch />
      </header>
      <StationBar name={file.name} solved={solved} now={station} price={total === undefined ? "" : money(currency, total)} change={change} />
      <main>
        {fault !== "" && <p class="panel fault">{fault}</p>}
        {last === undefined && fault === "" && <p class="panel">{busy ? texts.working : texts.noAnswerYet}</p>}
        {last !== undefined && !busy && solved.result === undefined && <p class="panel fault">{texts.stale}</p>}
        {showsTape && last !== undefined && (
          <section class="panel">
            <h2>{texts.tape}</h2>
            <PlumbFigures tape={tape} result={last} plumb={plumb} currency={currency} />
            <TapeView tape={tape} units={last.units} plumb={plumb} onPlumb={setPlumb} {...(share ? { share } : {})} />
            <p id="tape-help" class="quiet">
              {texts.tapeHelp}
            </p>
          </section>
        )}
        <div class="two">
          <div>
            <StationBody
              station={station}
              result={last}
              tape={tape ?? { eaves: [], flows: [], length: 0 }}
              plumb={plumb}
              currency={currency}
              house={<Editor draft={draft} place={place} />}
            />
          </div>
          <div>
            {station === "house" && <HouseKey name={file.name} draft={draft} />}
            <Findings findings={solved.findings} onGo={go} />
            <Papers name={file.name} />
          </div>
        </div>
        <p class="quiet foot">{solved.byHeart ? texts.byHeart : texts.byServer}</p>
      </main>
    </>
  );
}

function JobList({ folder, jobs }: { folder: string; jobs: JobLine[] }) {
  return (
    <>
      <header class="head">
        <h1>{texts.jobs}</h1>
        <span class="quiet">{texts.folder(folder)}</span>
        <span class="grow" />
        <DisplaySwitch />
      </header>
      <main>
        {jobs.length === 0 && <p class="panel">{texts.noJobs}</p>}
        <ul class="jobs">
          {jobs.map((job) => (
            <li key={job.name}>
              <a href={`#house/${encodeURIComponent(job.name)}`} class="panel">
                <strong>{job.job || job.name}</strong>
                <span class="quiet">{[job.name, job.customer].filter(Boolean).join(" · ")}</span>
                <span class="grow" />
                <span>{job.state}</span>
                {job.total_minor !== undefined && <strong>{money(job.currency ?? "", job.total_minor)}</strong>}
              </a>
            </li>
          ))}
        </ul>
      </main>
    </>
  );
}

export function App() {
  const [station, name] = useStation();
  const [list, setList] = useState<{ folder: string; jobs: JobLine[] }>();
  const [file, setFile] = useState<JobFile>();
  const [fault, setFault] = useState("");
  const showsList = location.hash === "" || location.hash === "#jobs";
  useEffect(() => {
    listJobs().then(setList, () => setFault(texts.noAnswer));
  }, [showsList]);
  const open = showsList ? "" : name;
  useEffect(() => {
    if (open === "") return;
    setFile(undefined);
    readJob(open).then(setFile, (error) => setFault(String(error)));
  }, [open]);
  if (fault !== "") return <p class="panel fault">{fault}</p>;
  if (open === "") return list === undefined ? <p class="panel">{texts.loading}</p> : <JobList {...list} />;
  if (file === undefined || list === undefined) return <p class="panel">{texts.loading}</p>;
  const currency = list.jobs.find((job) => job.name === file.name)?.currency ?? "USD";
  return <Job key={file.name} file={file} currency={currency} station={station} />;
}
