// SPDX-License-Identifier: Apache-2.0
// At the bench: one piece at a time, in figures to be read from two metres. Space is done, as is a foot switch.
import { useEffect, useState } from "preact/hooks";
import { length } from "./figures";
import type { Piece, Result } from "./result";
import { Stacked } from "./stacked";
import { texts } from "./texts";

const doneName = (name: string) => `eavesmith/bench/${name}`;

function useDone(name: string): [Set<string>, (done: Set<string>) => void] {
  const [done, setDone] = useState(() => {
    try {
      return new Set<string>(JSON.parse(localStorage.getItem(doneName(name)) ?? "[]") as string[]);
    } catch {
      return new Set<string>();
    }
  });
  return [
    done,
    (next) => {
      setDone(next);
      localStorage.setItem(doneName(name), JSON.stringify([...next]));
    },
  ];
}

/** The piece as it lies on the bench, bead towards you; which end is which is drawn, not only lettered. */
function Picture({ piece }: { piece: Piece }) {
  const isLong = ["gutter", "downspout"].some((word) => piece.kind.includes(word));
  const left = piece.hand?.includes("left");
  if (!isLong && !piece.kind.includes("cap")) return null;
  if (piece.kind.includes("cap"))
    return (
      <svg class="picture" viewBox="0 0 220 130" role="img" aria-label={texts.capAlt(piece.hand ?? "")}>
        <path class="copper" d="M40 20A70 70 0 0 0 180 20Z" />
        <circle class="copper" cx={left ? 190 : 30} cy={18} r={9} />
        <text class="middle" x={110} y={122}>{texts.beadSide}</text>
      </svg>
    );
  return (
    <svg class="picture" viewBox="0 0 420 130" role="img" aria-label={texts.pieceAlt}>
      <path class="copper" d="M20 40H400V84H20Z" />
      <path class="bead" d="M20 88H400" />
      <path class="line" d="M20 20H400M20 12v16M400 12v16" />
      <text x={20} y={122}>{texts.leftEnd}</text>
      <text class="end" x={400} y={122}>{texts.rightEnd}</text>
      <text class="middle" x={210} y={122}>{texts.beadToYou}</text>
    </svg>
  );
}

export function Bench({ name, result, units, home }: { name: string; result: Result; units: string; home: string }) {
  const pieces = Object.entries(result.pieces ?? {});
  const [done, setDone] = useDone(name);
  const [at, setAt] = useState(() => Math.max(0, pieces.findIndex(([id]) => !done.has(id))));
  const entry = pieces[Math.min(at, pieces.length - 1)];
  const finish = () => {
    if (entry === undefined) return;
    setDone(new Set([...done, entry[0]]));
    setAt(Math.min(at + 1, pieces.length - 1));
  };
  const reopen = () => {
    if (entry === undefined) return;
    setDone(new Set([...done].filter((id) => id !== entry[0])));
  };
  useEffect(() => {
    const key = (event: KeyboardEvent) => {
      if (event.target instanceof HTMLAnchorElement || event.ctrlKey || event.altKey || document.querySelector("dialog[open]") !== null) return;
      if (event.key === " ") finish();
      else if (event.key === "ArrowRight") setAt(Math.min(at + 1, pieces.length - 1));
      else if (event.key === "ArrowLeft") setAt(Math.max(at - 1, 0));
      else return;
      event.preventDefault();
    };
    addEventListener("keydown", key);
    return () => removeEventListener("keydown", key);
  });
  if (entry === undefined) return <p class="panel">{texts.noPieces}</p>;
  const [id, piece] = entry;
  const isDone = done.has(id);
  const count = pieces.filter(([one]) => done.has(one)).length;
  return (
    <section class="bench" aria-label={texts.bench}>
      <div class="row">
        <a class="all" href={home}>
          {texts.benchLeave}
        </a>
        <span class="grow" />
        <span>{texts.progress(count, pieces.length)}</span>
      </div>
      <progress max={pieces.length} value={count} aria-label={texts.progress(count, pieces.length)} />
      <h2 aria-live="polite">
        {piece.kind} {piece.hand ?? ""}
        <span class="asks">{id}</span>
      </h2>
      <Picture piece={piece} />
      <dl>
        {piece.length_m !== undefined && (
          <div>
            <dt>{texts.cut}</dt>
            <dd>
              <Stacked text={length(units, piece.length_m)} />
            </dd>
          </div>
        )}
        <div>
          <dt>{texts.metalTable.count}</dt>
          <dd>{piece.count}</dd>
        </div>
        {piece.size !== undefined && piece.size !== "" && (
          <div>
            <dt>{texts.metalTable.size}</dt>
            <dd>{piece.size}</dd>
          </div>
        )}
        {piece.left_long_m !== undefined && (
          <div>
            <dt>{texts.leftLong}</dt>
            <dd>
              <Stacked text={length(units, piece.left_long_m)} />
            </dd>
          </div>
        )}
      </dl>
      <div class="steps">
        <button type="button" disabled={at === 0} onClick={() => setAt(at - 1)}>
          {texts.previous}
        </button>
        <button type="button" class="press" onClick={finish}>
          {isDone ? texts.doneAlready : texts.done}
        </button>
        <button type="button" disabled={!isDone} onClick={reopen}>
          {texts.spoiled}
        </button>
      </div>
    </section>
  );
}
