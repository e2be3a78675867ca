// SPDX-License-Identifier: Apache-2.0
// At the house with a phone: one question a screen, in walking order, with keys of our own. Kept at every key.
import { useEffect, useRef, useState } from "preact/hooks";
import { setAt } from "./doc";
import type { Draft } from "./draft";
import { type Field, questionsOf } from "./fields";
import type { Finding } from "./result";
import { faultAt, readBack, typeField } from "./sheet";
import { heartNow } from "./solver";
import { Stacked } from "./stacked";
import { texts } from "./texts";

const DIGITS = [["7", "8", "9"], ["4", "5", "6"], ["1", "2", "3"]] as const;

/** Five to a row: digits, the unit keys, the fractions. */
function keysOf(field: Field, metric: boolean): string[] {
  const pitch = field.kind === "pitch";
  const units = pitch ? ["/12", "deg", "%"] : metric ? ["mm", "cm", "m"] : ["'", '"', "."];
  const ends = pitch || metric ? ["⌫", "C", "."] : ["1/2", "1/4", "1/8"];
  const rows = DIGITS.flatMap((digits, row) => [...digits, units[row] ?? "", ends[row] ?? ""]);
  return [...rows, ...(pitch ? ["0", "/"] : metric ? ["0", "-", "guess"] : ["0", "-", "guess", "⌫", "1/16"])];
}

const FRACTIONS = new Set(["1/2", "1/4", "1/8", "1/16"]);
const DOUBLE_MS = 250;

/** What a key makes of the text so far. A fraction key adds to the fraction that stands there: 1/4 and 1/8 is 3/8. */
export function pressKey(text: string, key: string): string {
  if (key === "⌫") return text.replace(/(guess|deg|mm|cm| \d+\/\d+"?|.)\s*$/s, "").trimEnd();
  if (key === "C") return "";
  if (key === "guess") return text.endsWith("guess") ? text : `${text.trimEnd()} guess`.trim();
  if (["mm", "m", "cm", "deg"].includes(key)) return `${text.trimEnd()} ${key}`.trim();
  if (key === "'") return `${text.trimEnd()}' `;
  if (FRACTIONS.has(key)) return addFraction(text, key);
  if (/\d/.test(key) && text.endsWith("'")) return `${text} ${key}`;
  return text + key;
}

function addFraction(text: string, key: string): string {
  const bare = text.replace(/"\s*$/, "").trimEnd();
  const found = /(?:^|\s)(\d+)\/(\d+)$/.exec(bare);
  const bottom = Number(key.slice(2));
  if (found === null) return `${bare}${bare === "" || bare.endsWith(" ") ? "" : " "}${key}"`.replace(/^ /, "");
  const [top, under] = [Number(found[1]), Number(found[2])];
  const common = Math.max(under, bottom);
  let sum = (top * common) / under + common / bottom;
  let least = common;
  if (sum >= common) return text; // an inch and more: a slip
  while (sum % 2 === 0) {
    sum /= 2;
    least /= 2;
  }
  return `${bare.slice(0, bare.length - `${found[1]}/${found[2]}`.length)}${sum}/${least}"`;
}

function difference(field: Field, metric: boolean): string {
  const heart = heartNow();
  if (heart === null || field.again === undefined || field.again.value === "") return "";
  const [one, two] = [heart.length(field.value, metric), heart.length(field.again.value, metric)];
  if (one.tick === undefined || two.tick === undefined) return "";
  const apart = Math.abs(one.tick - two.tick);
  if (apart === 0) return texts.sameAgain;
  return metric ? texts.apart(`${(apart / 320).toFixed(0)} mm`) : texts.apart(`${Math.round(apart / 508)}/16"`);
}

interface WalkProps {
  draft: Draft;
  findings: Finding[];
  metric: boolean;
  home: string;
}

export function Walk({ draft, findings, metric, home }: WalkProps) {
  const [at, setAtPlace] = useState(0);
  const [second, setSecond] = useState(false);
  const [doubled, setDoubled] = useState(false);
  const pressed = useRef({ key: "", when: 0 });
  const head = useRef<HTMLHeadingElement>(null);
  const tree = draft.doc.tree;
  const typed = useRef<(event: KeyboardEvent) => boolean>(() => false);
  useEffect(() => head.current?.focus(), [at]);
  useEffect(() => {
    const key = (event: KeyboardEvent) => {
      if (!event.ctrlKey && !event.altKey && !event.metaKey && document.querySelector("dialog[open]") === null && typed.current(event)) event.preventDefault();
    };
    addEventListener("keydown", key);
    return () => removeEventListener("keydown", key);
  }, []);
  if (tree === undefined) return <p class="panel">{texts.noSheet}</p>;
  const all = questionsOf(tree);
  const question = all[Math.min(at, all.length - 1)];
  if (question === undefined) return <p class="panel">{texts.noQuestions}</p>;
  const { field, group } = question;
  const isSecond = second && field.again !== undefined;
  const path = isSecond ? (field.again?.path ?? field.path) : field.path;
  const value = isSecond ? (field.again?.value ?? "") : field.value;
  const put = (text: string) => draft.edit(field.name, typeField(draft.doc, path, text));
  const press = (key: string) => {
    const now = Date.now();
    setDoubled(pressed.current.key === key && now - pressed.current.when < DOUBLE_MS && /\d/.test(key));
    pressed.current = { key, when: now };
    put(pressKey(value, key));
  };
  const go = (by: number) => {
    setSecond(false);
    setDoubled(false);
    setAtPlace(Math.min(Math.max(at + by, 0), all.length - 1));
  };
  const again = () => {
    if (field.again === undefined) draft.edit(texts.stepAgain(group.title), setAt(draft.doc, field.path, [field.value, field.value]));
    setSecond(!isSecond);
  };
  typed.current = (event) => {
    if (event.key === "Enter" && !(event.target instanceof HTMLButtonElement || event.target instanceof HTMLAnchorElement)) go(event.shiftKey ? -1 : 1);
    else if (field.words !== undefined) return false;
    else if (event.key === "Backspace") press("⌫");
    else if (/^[0-9'"/.-]$/.test(event.key)) put(pressKey(value, event.key));
    else if (event.key === " " && event.target === head.current) put(`${value} `);
    else return false;
    return true;
  };
  const fault = faultAt(findings, path);
  const apart = difference(field, metric);
  const last = lastLike(all.slice(0, at), field);
  return (
    <section class="walk" aria-label={texts.walk}>
      <div class="row">
        <a class="all" href={home}>
          {texts.walkLeave}
        </a>
        <span class="grow" />
        <span class="quiet">{texts.question(at + 1, all.length)}</span>
      </div>
      {at === 0 && <p class="caution">{texts.caution}</p>}
      <h2 tabIndex={-1} ref={head}>
        {group.title}
        <span class="asks">{isSecond ? texts.againOf(field.label) : field.label}</span>
      </h2>
      <output class="answer">{value === "" ? <span class="quiet">{texts.notSaid}</span> : <Stacked text={value} />}</output>
      <p class="more" role="status">
        {fault !== undefined ? (
          <span class="walk-fault">
            ✕ {fault.text}
            <span class="mend">
              <Stacked text={fault.mend} />
            </span>
          </span>
        ) : doubled ? texts.doubled : apart !== "" ? apart : readBack(heartNow(), { ...field, value }, metric)}
      </p>
      {field.words !== undefined ? (
        <div class="choices">
          {field.words.map((word) => (
            <button type="button" key={word} aria-pressed={word === value} onClick={() => put(word)}>
              {word}
            </button>
          ))}
        </div>
      ) : (
        <div class="keys">
          {keysOf(field, metric).map((key) => (
            <button type="button" key={key} onClick={() => press(key)}>
              <span class="hidden">{texts.keyNames[key] ?? key}</span>
              <span aria-hidden="true">{FRACTIONS.has(key) ? <Stacked text={`${key}"`} /> : key}</span>
            </button>
          ))}
        </div>
      )}
      <div class="steps">
        {field.kind === "length" && field.label === "length" && (
          <button type="button" aria-pressed={isSecond} onClick={again}>
            {isSecond ? texts.firstReading : texts.again}
          </button>
        )}
        {last !== undefined && last !== value && (
          <button type="button" onClick={() => put(last)}>
            {texts.sameAs} <Stacked text={last} />
          </button>
        )}
        <button type="button" disabled={draft.undoes === undefined} onClick={draft.undo}>
          {texts.undo}
        </button>
      </div>
      <div class="steps">
        <button type="button" disabled={at === 0} onClick={() => go(-1)}>
          {texts.back}
        </button>
        <button type="button" class="press" disabled={at === all.length - 1} onClick={() => go(1)}>
          {texts.next}
        </button>
      </div>
    </section>
  );
}

function lastLike(before: { field: Field }[], field: Field): string | undefined {
  const same = before.filter((one) => one.field.label === field.label && one.field.value !== "");
  return same.at(-1)?.field.value;
}
