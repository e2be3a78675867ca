// SPDX-License-Identifier: Apache-2.0
// The job's text as written, and what to do when it was changed by somebody else meanwhile.
import { useEffect, useRef } from "preact/hooks";
import type { Draft } from "./draft";
import { texts } from "./texts";

export interface Place {
  from: number;
  to: number;
  count: number;
}

export function ConflictPanel({ draft }: { draft: Draft }) {
  const disk = draft.conflict?.disk;
  return (
    <section class="panel conflict" role="alert">
      <h2>{texts.conflictHead}</h2>
      <div class="both">
        <div>
          <h3>{texts.conflictMine}</h3>
          <pre tabIndex={0}>{draft.doc.text}</pre>
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

export function Editor({ draft, place }: { draft: Draft; place: Place | undefined }) {
  const area = useRef<HTMLTextAreaElement>(null);
  useEffect(() => {
    const field = area.current;
    if (place === undefined || field === null) return;
    field.focus();
    field.setSelectionRange(place.from, place.to);
    const line = draft.doc.text.slice(0, place.from).split("\n").length;
    field.scrollTop = Math.max(0, line - 5) * parseFloat(getComputedStyle(field).lineHeight);
  }, [place]);
  return (
    <section class="panel written">
      <h2>
        <label for="job-text">{texts.jobText}</label>
      </h2>
      <textarea
        id="job-text"
        ref={area}
        spellcheck={false}
        autocomplete="off"
        wrap="off"
        rows={24}
        value={draft.doc.text}
        onInput={(event) => draft.type(event.currentTarget.value)}
      />
    </section>
  );
}
