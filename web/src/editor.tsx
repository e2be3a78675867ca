// SPDX-License-Identifier: Apache-2.0
// The job's text: whole snapshots for undo, saved by itself, never over somebody else's change.
import { useEffect, useRef, useState } from "preact/hooks";
import { type Conflict, saveJob } from "./api";
import { texts } from "./texts";

export type SaveState = "saved" | "saving" | "notSaved";

export interface Draft {
  text: string;
  state: SaveState;
  conflict: Conflict | undefined;
  canUndo: boolean;
  canRedo: boolean;
  type: (text: string) => void;
  undo: () => void;
  redo: () => void;
  keepMine: () => void;
  takeDisk: () => void;
}

const PAUSE_MS = 700;

interface History {
  past: string[];
  future: string[];
  at: number;
}

export function useDraft(name: string, firstRevision: string, firstText: string): Draft {
  const [text, setText] = useState(firstText);
  const [state, setState] = useState<SaveState>("saved");
  const [conflict, setConflict] = useState<Conflict>();
  const history = useRef<History>({ past: [], future: [], at: 0 });
  const revision = useRef(firstRevision);
  const onDisk = useRef(firstText);
  const newest = useRef(text);
  const busy = useRef(false);
  newest.current = text;

  const save = async () => {
    if (busy.current || newest.current === onDisk.current) return;
    busy.current = true;
    const sent = newest.current;
    setState("saving");
    try {
      const answer = await saveJob(name, revision.current, sent);
      if ("revision" in answer) {
        revision.current = answer.revision;
        onDisk.current = sent;
        setState(newest.current === sent ? "saved" : "notSaved");
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
    if (conflict !== undefined) return undefined;
    if (text === onDisk.current && !busy.current) {
      setState("saved");
      return undefined;
    }
    setState("notSaved");
    const timer = setInterval(() => void save(), PAUSE_MS); // and again, should the server be away
    return () => clearInterval(timer);
  }, [text, conflict]);

  useEffect(() => {
    const warn = (event: BeforeUnloadEvent) => {
      if (newest.current !== onDisk.current) event.preventDefault();
    };
    addEventListener("beforeunload", warn);
    return () => removeEventListener("beforeunload", warn);
  }, []);

  const change = (next: string) => {
    const steps = history.current;
    const together = Date.now() - steps.at < PAUSE_MS && steps.past.length > 0;
    if (!together) steps.past.push(newest.current);
    steps.at = Date.now();
    steps.future = [];
    setText(next);
  };
  const go = (from: "past" | "future", to: "past" | "future") => {
    const steps = history.current;
    const next = steps[from].pop();
    if (next === undefined) return;
    steps[to].push(newest.current);
    steps.at = 0;
    setText(next);
  };
  return {
    text,
    state,
    conflict,
    canUndo: history.current.past.length > 0,
    canRedo: history.current.future.length > 0,
    type: change,
    undo: () => go("past", "future"),
    redo: () => go("future", "past"),
    keepMine: () => {
      if (conflict?.disk !== undefined) revision.current = conflict.disk.revision;
      onDisk.current = conflict?.disk?.text ?? "";
      setConflict(undefined);
    },
    takeDisk: () => {
      if (conflict?.disk === undefined) return;
      revision.current = conflict.disk.revision;
      onDisk.current = conflict.disk.text;
      change(conflict.disk.text);
      setConflict(undefined);
    },
  };
}

function ConflictPanel({ draft }: { draft: Draft }) {
  const disk = draft.conflict?.disk;
  return (
    <section class="panel conflict" role="alert">
      <h2>{texts.conflictHead}</h2>
      <div class="both">
        <div>
          <h3>{texts.conflictMine}</h3>
          <pre tabIndex={0}>{draft.text}</pre>
          {disk !== undefined && (
            <button type="button" onClick={draft.keepMine}>
              {texts.keepMine}
            </button>
          )}
        </div>
        <div>
          <h3>{texts.conflictDisk}</h3>
          <pre tabIndex={0}>{disk?.text ?? texts.gone}</pre>
          {disk !== undefined && (
            <button type="button" onClick={draft.takeDisk}>
              {texts.takeDisk}
            </button>
          )}
        </div>
      </div>
    </section>
  );
}

export function Editor({ draft, place }: { draft: Draft; place: { from: number; to: number; count: number } | undefined }) {
  const area = useRef<HTMLTextAreaElement>(null);
  useEffect(() => {
    const field = area.current;
    if (place === undefined || field === null) return;
    field.focus();
    field.setSelectionRange(place.from, place.to);
    const line = draft.text.slice(0, place.from).split("\n").length;
    field.scrollTop = Math.max(0, line - 5) * parseFloat(getComputedStyle(field).lineHeight);
  }, [place]);
  const key = (event: KeyboardEvent) => {
    if (!(event.ctrlKey || event.metaKey)) return;
    const letter = event.key.toLowerCase();
    if (letter === "z" && !event.shiftKey) draft.undo();
    else if ((letter === "z" && event.shiftKey) || letter === "y") draft.redo();
    else return;
    event.preventDefault();
  };
  if (draft.conflict !== undefined) return <ConflictPanel draft={draft} />;
  return (
    <section class="panel">
      <div class="row">
        <h2>
          <label for="job-text">{texts.jobText}</label>
        </h2>
        <span class="grow" />
        <button type="button" disabled={!draft.canUndo} onClick={draft.undo}>
          {texts.undo}
        </button>
        <button type="button" disabled={!draft.canRedo} onClick={draft.redo}>
          {texts.redo}
        </button>
      </div>
      <textarea
        id="job-text"
        ref={area}
        spellcheck={false}
        autocomplete="off"
        wrap="off"
        rows={24}
        value={draft.text}
        onInput={(event) => draft.type(event.currentTarget.value)}
        onKeyDown={key}
      />
    </section>
  );
}
