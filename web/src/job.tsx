// SPDX-License-Identifier: Apache-2.0
// One job opened: its stations, the tape, what to look at, and the ways to work on it.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { type JobFile, paper, type Store } from "./api";
import { type Asked, AskContext, AskPanel } from "./ask";
import { Bench } from "./bench";
import { type Carried, download, findChanges, makeCarried } from "./carry";
import { type Doc, textAt, valueAt } from "./doc";
import { DrawPlan } from "./draw";
import { type Draft, useDraft } from "./draft";
import { ConflictPanel, Editor, type Place } from "./editor";
import { isMetric, money } from "./figures";
import { questionsOf } from "./fields";
import { FilmPanel, type Shot, tapeOfShot } from "./film";
import { Findings } from "./findings";
import { HouseKey } from "./key";
import { KeysButton } from "./keys";
import { PlumbFigures, shareOf } from "./plumb";
import { RainSlider, rainTree } from "./rain";
import type { Finding, Result } from "./result";
import { ReturnPanel } from "./returned";
import { Sheet } from "./sheet";
import { EMPTY, heartNow, type Solved, solve } from "./solver";
import { perLength, type Station, StationBar, StationBody } from "./stations";
import { DisplaySwitch, UnitsSwitch } from "./switches";
import { layTape, ontoEave } from "./tape";
import { TapeView } from "./tape_view";
import { texts } from "./texts";
import { Walk } from "./walk";

const CHANGE_SHOWN_MS = 5000;

export type Room = Station | "walk" | "bench";

interface Answered {
  solved: Solved;
  last: Solved | undefined;
  fault: string;
  busy: boolean;
}

/** The newest job is worked out; an older answer that comes late is dropped. */
function useSolved(store: Store, file: JobFile, doc: Doc, rain: string | undefined): Answered {
  const [answer, setAnswer] = useState<Answered>({ solved: EMPTY, last: undefined, fault: "", busy: true });
  const turn = useRef(0);
  useEffect(() => {
    const mine = ++turn.current;
    const tree = rainTree(doc, rain);
    if (tree === undefined) {
      if (doc.issues.length > 0)
        setAnswer((old) => ({ ...old, solved: { ...EMPTY, findings: doc.issues }, busy: false }));
      return;
    }
    solve(store, { doc, tree, prices: file.prices?.text, rain: file.rain?.text, gauge: file.gauge?.text }).then(
      (solved) => {
        if (mine !== turn.current) return;
        setAnswer((old) => ({ solved, last: solved.result === undefined ? old.last : solved, fault: "", busy: false }));
      },
      (error: unknown) => {
        if (mine !== turn.current) return;
        const fault = error instanceof TypeError ? texts.noAnswer : String(error);
        setAnswer((old) => ({ ...old, fault, busy: false }));
      },
    );
  }, [doc, rain]);
  return answer;
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

function useUndoKeys(draft: Draft): void {
  const newest = useRef(draft);
  newest.current = draft;
  useEffect(() => {
    const key = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const letter = event.key.toLowerCase();
      if (letter === "z" && !event.shiftKey) newest.current.undo();
      else if ((letter === "z" && event.shiftKey) || letter === "y") newest.current.redo();
      else return;
      event.preventDefault();
    };
    addEventListener("keydown", key);
    return () => removeEventListener("keydown", key);
  }, []);
}

function Papers({ name, hasPlan, result }: { name: string; hasPlan: boolean; result: Result | undefined }) {
  const links: [string, string][] = [
    ...(result?.verdict === "safe" ? [["packet.pdf", texts.packet] satisfies [string, string]] : []),
    ...(result === undefined ? [] : [["pieces.csv", texts.pieces] satisfies [string, string]]),
    ...(hasPlan ? [["plan.svg", texts.plan] satisfies [string, string]] : []),
    ["measurements.pdf", texts.measurements],
    ["guide.pdf", texts.guide],
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
      {result === undefined && <p>{texts.papersNot}</p>}
      {result !== undefined && result.verdict !== "safe" && <p>✕ {texts.packetNot}</p>}
      <p class="quiet">{texts.papersSaved}</p>
    </section>
  );
}

interface CarryProps {
  store: Store;
  file: JobFile;
  draft: Draft;
  currency: string;
  carried: Carried | undefined;
}

/** Out of the shop: the one file. Back: its changes. */
function Carry({ store, file, draft, currency, carried }: CarryProps) {
  const [said, setSaid] = useState("");
  const stem = file.name.replace(/\.[^.]*$/, "");
  const takeOut = async () => {
    try {
      const prices = file.prices?.text === undefined ? {} : { prices: await store.read(file.prices.text, "prices") };
      const page = await makeCarried({ file: { ...file, text: draft.doc.text }, doc: draft.doc, ...prices, currency, made: new Date().toISOString() });
      download(`${stem}-carried.html`, "text/html", page);
      setSaid(texts.carryMade);
    } catch (error) {
      setSaid(String(error));
    }
  };
  const handBack = () => {
    const changes = findChanges(carried?.doc.tree ?? null, draft.doc.tree ?? null);
    const back = { eavesmith_carried: 1, name: file.name, revision: file.revision, changes };
    download(`${stem}-changes.json`, "application/json", JSON.stringify(back, null, 2));
    setSaid(texts.carryChanges(changes.length));
  };
  return (
    <section class="panel carry">
      <h2>{carried === undefined ? texts.carryHead : texts.carriedHead}</h2>
      <p>{carried === undefined ? texts.carryHelp : texts.carriedHelp}</p>
      <div class="row">
        {carried === undefined ? (
          <button type="button" disabled={draft.doc.tree === undefined} onClick={() => void takeOut()}>
            {texts.carryMake}
          </button>
        ) : (
          <button type="button" onClick={handBack}>
            {texts.carryBack}
          </button>
        )}
        {carried === undefined && <ReturnPanel draft={draft} name={file.name} />}
      </div>
      <p role="status">{said}</p>
    </section>
  );
}

function SavedSign({ draft, carried }: { draft: Draft; carried: boolean }) {
  const word = carried ? texts.keptCarried : texts[draft.state];
  return (
    <span class={`saving is-${carried ? "saved" : draft.state}`} role="status">
      <span class="sign">{draft.state === "notSaved" && !carried ? "!" : "✓"}</span> {word}
    </span>
  );
}

function UndoButtons({ draft }: { draft: Draft }) {
  return (
    <>
      <button type="button" disabled={draft.undoes === undefined} onClick={draft.undo}>
        {texts.undo}
        {draft.undoes !== undefined && <span class="named">: {draft.undoes}</span>}
      </button>
      <button type="button" disabled={draft.redoes === undefined} onClick={draft.redo}>
        {texts.redo}
        {draft.redoes !== undefined && <span class="named">: {draft.redoes}</span>}
      </button>
    </>
  );
}

export interface JobProps {
  store: Store;
  file: JobFile;
  first: Doc;
  currency: string;
  room: Room;
  carried: Carried | undefined;
}

export function Job({ store, file, first, currency, room, carried }: JobProps) {
  const draft = useDraft(store, file.name, file.revision, first);
  const [rain, setRain] = useState<string>();
  const { solved, last, fault, busy } = useSolved(store, file, draft.doc, rain);
  const [wanted, setPlumb] = useState(1);
  const [place, setPlace] = useState<Place>();
  const [asked, setAsked] = useState<Asked>();
  const [draws, setDraws] = useState(false);
  const [shot, setShot] = useState<Shot>();
  const [ownUnits, setOwnUnits] = useState<string>();
  useUndoKeys(draft);
  const result: Result | undefined = last?.result;
  const tape = useMemo(() => (result === undefined ? undefined : layTape(result, last?.drawing ?? {})), [last]);
  const answers = useMemo(() => (asked === undefined || solved.result === undefined ? [] : (heartNow()?.why(asked.path) ?? [])), [asked, solved]);
  const station: Station = room === "walk" ? "house" : room === "bench" ? "metal" : room;
  const rainNow = station === "water" ? shot?.film.storms?.[shot.storm]?.[shot.minute] : undefined;
  const shownTape = useMemo(
    () => (tape === undefined || result === undefined || shot === undefined || rainNow === undefined ? tape : tapeOfShot({ tape, result, drawing: last?.drawing ?? {}, shot })),
    [tape, shot, rainNow],
  );
  const plumb = tape === undefined ? 0 : ontoEave(tape, wanted);
  const units = ownUnits ?? result?.units ?? "ft-in";
  const typedMetric = isMetric(result?.units ?? "ft-in");
  const total = solved.result?.money?.total_minor;
  const change = useChange(total, currency);
  const home = `#house/${encodeURIComponent(file.name)}`;
  const go = (finding: Finding) => {
    location.hash = home;
    setPlace((old) => ({ from: finding.from ?? 0, to: finding.to ?? 0, count: (old?.count ?? 0) + 1 }));
  };
  const share = result === undefined ? undefined : shareOf(result, currency);
  const showsTape = tape !== undefined && tape.eaves.length > 0 && result !== undefined;
  const canDraw = station === "house" && solved.byHeart && (valueAt(draft.doc.tree, "/wings") !== undefined || valueAt(draft.doc.tree, "/outline") !== undefined || (draws && draft.doc.tree === undefined));
  const drawsNow = draws && canDraw;
  const head = (
    <header class="head">
      {carried === undefined && (
        <a class="all" href="#jobs">
          {texts.allJobs}
        </a>
      )}
      <h1>{result?.job ?? (textAt(draft.doc.tree, "/job") || file.name)}</h1>
      <SavedSign draft={draft} carried={carried !== undefined} />
      <span class="grow" />
      <UndoButtons draft={draft} />
      <UnitsSwitch units={units} onUnits={setOwnUnits} />
      <DisplaySwitch />
      <KeysButton />
    </header>
  );
  const bar = <StationBar name={file.name} solved={solved} now={station} price={total === undefined ? "" : money(currency, total)} change={change} />;
  if (room === "walk") return <main class="narrow"><h1 class="hidden">{file.name}</h1><Walk draft={draft} findings={solved.findings} metric={typedMetric} home={home} /><p class="foot"><SavedSign draft={draft} carried={carried !== undefined} /></p></main>;
  if (room === "bench")
    return (
      <main class="wide">
        <h1 class="hidden">{result?.job ?? file.name}</h1>
        {result === undefined ? <p class="panel">{texts.noAnswerYet}</p> : <Bench name={file.name} result={result} units={units} home={`#metal/${encodeURIComponent(file.name)}`} />}
      </main>
    );
  return (
    <AskContext.Provider value={solved.byHeart ? setAsked : undefined}>
      {head}
      {bar}
      <main>
        {draft.conflict !== undefined && <ConflictPanel draft={draft} />}
        {fault !== "" && <p class="panel fault">{fault}</p>}
        {result === undefined && fault === "" && <p class="panel">{busy ? texts.working : texts.noAnswerYet}</p>}
        {result !== undefined && !busy && solved.result === undefined && <p class="panel fault">{texts.stale}</p>}
        {rain !== undefined && station !== "water" && <p class="panel">{texts.rainWhatIf(rain)}</p>}
        {station === "house" && draft.doc.tree !== undefined && questionsOf(draft.doc.tree).length > 0 && (
          <p class="panel walk-link">
            <a class="all" href={`#walk/${encodeURIComponent(file.name)}`}>
              {texts.walkOpen}
            </a>
          </p>
        )}
        {drawsNow && <DrawPlan draft={draft} drawing={last?.drawing ?? {}} metric={typedMetric} carried={carried !== undefined} onClose={() => setDraws(false)} />}
        {showsTape && (
          <>
            <div class={drawsNow ? "over drawn-over" : "over"}>
              {!drawsNow && <HouseKey drawing={last?.drawing ?? {}} tape={tape} plumb={plumb} onPlumb={setPlumb} {...(canDraw ? { onDraw: () => setDraws(true) } : {})} />}
              {asked !== undefined && heartNow() !== null ? (
                <AskPanel asked={asked} answers={answers} onClose={() => setAsked(undefined)} />
              ) : (
                <PlumbFigures tape={shownTape ?? tape} result={result} plumb={plumb} currency={currency} units={units} {...(shot !== undefined && rainNow !== undefined ? { minute: shot.minute + 1 } : {})} />
              )}
            </div>
            <section class="panel">
              <div class="row">
                <h2>{texts.tape}</h2>
                <span class="grow" />
                <span class="quiet">{perLength(result, currency)}</span>
              </div>
              <TapeView tape={shownTape ?? tape} units={units} plumb={plumb} onPlumb={setPlumb} {...(share ? { share } : {})} />
              <p id="tape-help" class="quiet">
                {texts.tapeHelp}
              </p>
            </section>
          </>
        )}
        {!showsTape && asked !== undefined && <AskPanel asked={asked} answers={answers} onClose={() => setAsked(undefined)} />}
        <div class="two">
          <div>
            <StationBody
              station={station}
              result={result}
              tape={tape ?? { eaves: [], flows: [], length: 0 }}
              plumb={plumb}
              currency={currency}
              units={units}
              water={
                result !== undefined && (
                  <>
                    <FilmPanel solved={solved} units={units} shot={shot} onShot={setShot} />
                    <RainSlider draft={draft} result={result} units={units} rain={rain} onRain={setRain} />
                  </>
                )
              }
              metal={
                <p>
                  <a class="all" href={`#bench/${encodeURIComponent(file.name)}`}>
                    {texts.benchOpen}
                  </a>
                </p>
              }
              house={
                <>
                  <Sheet draft={draft} findings={solved.findings} metric={typedMetric} />
                  {carried === undefined && <Editor draft={draft} place={place} />}
                </>
              }
            />
          </div>
          <div>
            <Findings findings={solved.findings} onGo={go} />
            {carried === undefined && <Papers name={file.name} hasPlan={showsTape && solved.result !== undefined} result={solved.result} />}
            {(station === "house" || station === "site") && solved.byHeart && <Carry store={store} file={file} draft={draft} currency={currency} carried={carried} />}
          </div>
        </div>
        <p class="quiet foot">{solved.byHeart ? texts.byHeart : texts.byServer}</p>
      </main>
    </AskContext.Provider>
  );
}
