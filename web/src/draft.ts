// SPDX-License-Identifier: Apache-2.0
// The job being edited: every change a named step, kept in this browser as well, saved by itself, never over
// somebody else's change.
import { useEffect, useRef, useState } from "preact/hooks";
import type { Conflict, Store } from "./api";
import type { Doc } from "./doc";
import { readDoc } from "./solver";
import { texts } from "./texts";

export type SaveState = "saved" | "saving" | "notSaved";

export interface Step {
  /** what was changed: "length of front"; empty for the job as opened */
  name: string;
  doc: Doc;
}
export interface History {
  steps: Step[];
  at: number;
}
export interface Kept extends History {
  revision: string;
  saved: string;
  /** when it was kept, in milliseconds */
  when: number;
}

const PAUSE_MS = 700;
const READ_MS = 150;
const KEPT_STEPS = 40;

/** Each tab keeps its own: two tabs on one job never write over what the other has not saved yet. */
const TAB = "eavesmith/tab";
function tabName(): string {
  try {
    const name = sessionStorage.getItem(TAB) ?? Math.random().toString(36).slice(2);
    sessionStorage.setItem(TAB, name);
    return name;
  } catch {
    return "one"; // a file opened from disk may have no storage of a tab
  }
}
const keptBy = (name: string) => `eavesmith/job/${name}/by/`;
const keptName = (name: string) => keptBy(name) + tabName();

export function addStep(history: History, step: Step): History {
  const steps = [...history.steps.slice(0, history.at + 1), step].slice(-KEPT_STEPS);
  return { steps, at: steps.length - 1 };
}

function keep(name: string, kept: Omit<Kept, "when">): void {
  try {
    localStorage.setItem(keptName(name), JSON.stringify({ ...kept, when: Date.now() }));
  } catch {
    localStorage.removeItem(keptName(name)); // too large for this browser: the page itself still has it
  }
}

function readKept(key: string): Kept | undefined {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "null") as Kept | null;
    return kept?.steps[kept.at] === undefined ? undefined : kept;
  } catch {
    return undefined;
  }
}

const isUnsaved = (kept: Kept) => kept.steps[kept.at]?.doc.text !== kept.saved;

/** Of what tabs kept: this tab's own, else what another has not saved, else the newest. */
export function chooseKept(own: Kept | undefined, others: Kept[]): Kept | undefined {
  return own ?? [...others].sort((a, b) => Number(isUnsaved(b)) - Number(isUnsaved(a)) || b.when - a.when)[0];
}

/** What other tabs kept and is saved is let go, for room. */
function findKept(name: string): Kept | undefined {
  const own = readKept(keptName(name));
  if (own !== undefined) return own;
  try {
    const keys = Object.keys(localStorage).filter((key) => key.startsWith(keptBy(name)));
    const others = keys.map(readKept).filter((kept) => kept !== undefined);
    for (const key of keys) {
      const kept = readKept(key);
      if (kept === undefined || !isUnsaved(kept)) localStorage.removeItem(key);
    }
    return chooseKept(undefined, others);
  } catch {
    return undefined;
  }
}

export interface Draft {
  doc: Doc;
  state: SaveState;
  conflict: Conflict | undefined;
  /** names of the steps that undo and redo would take */
  undoes: string | undefined;
  redoes: string | undefined;
  /** together: one step with the last one, however long ago (a drag that goes on) */
  edit: (name: string, doc: Doc, together?: boolean) => void;
  type: (text: string) => void;
  undo: () => void;
  redo: () => void;
  keepMine: () => void;
  takeDisk: () => void;
}

interface Start {
  history: History;
  revision: string;
  saved: string;
  conflict?: Conflict;
}

/** What was kept here goes on, when the disk still holds what it was made from. */
function begin(name: string, revision: string, first: Doc): Start {
  const fresh: Start = { history: { steps: [{ name: "", doc: first }], at: 0 }, revision, saved: first.text };
  const kept = findKept(name);
  if (kept === undefined) return fresh;
  const text = kept.steps[kept.at]?.doc.text;
  const history = { steps: kept.steps, at: kept.at };
  if (kept.revision === revision || text === first.text) return { history, revision, saved: first.text };
  if (text === kept.saved) return fresh; // nothing of ours is missing on the disk
  return { history, revision: kept.revision, saved: kept.saved, conflict: { disk: { revision, text: first.text } } };
}

export function useDraft(store: Store, name: string, firstRevision: string, first: Doc): Draft {
  const start = useRef<Start | undefined>(undefined);
  start.current ??= begin(name, firstRevision, first);
  const [history, setHistory] = useState(start.current.history);
  const [state, setState] = useState<SaveState>("saved");
  const [conflict, setConflict] = useState<Conflict | undefined>(start.current.conflict);
  const revision = useRef(start.current.revision);
  const onDisk = useRef(start.current.saved);
  const busy = useRef(false);
  const typedAt = useRef(0);
  const newest = useRef(history);
  const doc = (history.steps[history.at] as Step).doc;
  const text = doc.text;

  const show = (next: History) => {
    newest.current = next;
    keep(name, { ...next, revision: revision.current, saved: onDisk.current });
    setHistory(next);
  };
  const newestText = () => newest.current.steps[newest.current.at]?.doc.text ?? "";

  const save = async () => {
    if (busy.current || newestText() === onDisk.current) return;
    busy.current = true;
    const sent = newestText();
    setState("saving");
    try {
      const answer = await store.save(name, revision.current, sent);
      if ("revision" in answer) {
        revision.current = answer.revision;
        onDisk.current = sent;
        keep(name, { ...newest.current, revision: answer.revision, saved: sent });
        setState(newestText() === sent ? "saved" : "notSaved");
      } else {
        setConflict(answer);
        setState("notSaved");
      }
    } catch {
      setState("notSaved");
    }
    busy.current = false;
  };

  useEffect(() => {
    if (conflict !== undefined) {
      setState("notSaved");
      return undefined;
    }
    if (text === onDisk.current && !busy.current) {
      setState("saved");
      return undefined;
    }
    setState("notSaved");
    const timer = setInterval(() => void save(), PAUSE_MS); // and again, should the server be away
    return () => clearInterval(timer);
  }, [text, conflict]);

  // Typed text has no tree yet: it is read after a short pause.
  useEffect(() => {
    if (doc.tree !== undefined || doc.issues.length > 0) return undefined;
    const timer = setTimeout(async () => {
      const read = await readDoc(store, text).catch(() => undefined);
      if (read === undefined) return;
      const now = newest.current;
      const steps = now.steps.map((step) => (step.doc.text === text ? { ...step, doc: read } : step));
      show({ ...now, steps });
    }, READ_MS);
    return () => clearTimeout(timer);
  }, [doc]);

  useEffect(() => {
    const warn = (event: BeforeUnloadEvent) => {
      if (newestText() !== onDisk.current && readKept(keptName(name)) === undefined) event.preventDefault();
    };
    addEventListener("beforeunload", warn);
    return () => removeEventListener("beforeunload", warn);
  }, []);

  const edit = (stepName: string, next: Doc, goesOn?: boolean) => {
    if (next.text === newestText()) return;
    const now = newest.current;
    const together = (goesOn ?? Date.now() - typedAt.current < PAUSE_MS) && now.steps[now.at]?.name === stepName && now.at > 0;
    typedAt.current = Date.now();
    const step = { name: stepName, doc: next };
    show(together ? { steps: [...now.steps.slice(0, now.at), step], at: now.at } : addStep(now, step));
  };
  const go = (by: number) => {
    const now = newest.current;
    if (now.steps[now.at + by] === undefined) return;
    typedAt.current = 0;
    show({ ...now, at: now.at + by });
  };
  return {
    doc,
    state,
    conflict,
    undoes: history.at > 0 ? history.steps[history.at]?.name : undefined,
    redoes: history.steps[history.at + 1]?.name,
    edit,
    type: (typed) => edit(texts.stepText, { text: typed, marks: {}, issues: [] }),
    undo: () => go(-1),
    redo: () => go(1),
    keepMine: () => {
      if (conflict?.disk !== undefined) revision.current = conflict.disk.revision;
      onDisk.current = conflict?.disk?.text ?? "";
      setConflict(undefined);
    },
    takeDisk: () => {
      if (conflict?.disk === undefined) return;
      revision.current = conflict.disk.revision;
      onDisk.current = conflict.disk.text;
      edit(texts.stepDisk, { text: conflict.disk.text, marks: {}, issues: [] });
      setConflict(undefined);
    },
  };
}
