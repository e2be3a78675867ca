// SPDX-License-Identifier: Apache-2.0
// Keys that hold everywhere, and the list of all keys. With Alt, so that typing is never caught; `?` alone asks for
// the list where nothing is being typed.
import { useEffect, useRef } from "preact/hooks";
import { stationNames } from "./stations";
import { texts } from "./texts";

const ASKED = "eavesmith-keys";

const isTyping = (event: KeyboardEvent) => {
  const on = event.target as HTMLElement | null;
  return on !== null && (on.matches?.("input:not([type=checkbox]):not([type=range]), textarea, select") ?? false);
};

/** The part of the page an Alt key leads to, or where the address shall lead. */
export function placeOfKey(code: string, name: string): { hash?: string; part?: string } | undefined {
  const digit = /^Digit(\d)$/.exec(code)?.[1];
  if (digit === undefined) return undefined;
  const number = Number(digit);
  const station = stationNames[number - 1];
  if (station !== undefined) return { hash: `#${station}/${name}` };
  if (number === 7) return { hash: `#walk/${name}` };
  if (number === 8) return { hash: `#bench/${name}` };
  return { part: number === 9 ? ".findings" : ".roll svg" };
}

function follow(event: KeyboardEvent): boolean {
  const name = location.hash.split("/")[1] ?? "";
  const place = placeOfKey(event.code, name);
  if (place === undefined || name === "") return false;
  if (place.hash !== undefined) location.hash = place.hash;
  const part = place.part === undefined ? null : document.querySelector<HTMLElement>(place.part);
  part?.focus();
  part?.scrollIntoView({ block: "nearest" });
  return true;
}

export function KeysButton() {
  return (
    <button type="button" class="keys-button" aria-label={texts.keysHead} onClick={() => dispatchEvent(new Event(ASKED))}>
      <span aria-hidden="true">⌨ ?</span>
    </button>
  );
}

export function Keys() {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const ask = () => {
      if (dialog.current?.open === false) dialog.current.showModal();
    };
    const key = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey) return;
      const asks = (event.altKey && event.code === "Slash") || (event.key === "?" && !event.altKey && !isTyping(event));
      if (asks) ask();
      else if (!event.altKey || event.shiftKey || !follow(event)) return;
      event.preventDefault();
    };
    addEventListener("keydown", key);
    addEventListener(ASKED, ask);
    return () => {
      removeEventListener("keydown", key);
      removeEventListener(ASKED, ask);
    };
  }, []);
  return (
    <dialog ref={dialog} class="keys-list" aria-labelledby="keys-head">
      <div class="row">
        <h2 id="keys-head">{texts.keysHead}</h2>
        <span class="grow" />
        <button type="button" onClick={() => dialog.current?.close()}>
          {texts.close}
        </button>
      </div>
      {texts.keyGroups.map(([head, lines]) => (
        <section key={head}>
          <h3>{head}</h3>
          <dl>
            {lines.map(([keys, what]) => (
              <div key={keys}>
                <dt>
                  <kbd>{keys}</kbd>
                </dt>
                <dd>{what}</dd>
              </div>
            ))}
          </dl>
        </section>
      ))}
    </dialog>
  );
}
