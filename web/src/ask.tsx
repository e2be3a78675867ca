// SPDX-License-Identifier: Apache-2.0
// Why a number is what it is, in the core's own words. Any figure may carry a small `?`.
import { createContext } from "preact";
import { useContext, useEffect, useRef } from "preact/hooks";
import type { Why } from "./heart";
import { Stacked } from "./stacked";
import { texts } from "./texts";

export interface Asked {
  path: string;
  label: string;
}
export const AskContext = createContext<((asked: Asked) => void) | undefined>(undefined);

export function AskButton({ path, label }: Asked) {
  const ask = useContext(AskContext);
  if (ask === undefined) return null;
  return (
    <button type="button" class="ask" aria-label={texts.whyOf(label)} onClick={() => ask({ path, label })}>
      ?
    </button>
  );
}

const MOST = 12;
const lastOf = (path: string) => path.slice(path.lastIndexOf("/") + 1);

function Leaf({ why, single }: { why: Why; single: boolean }) {
  return (
    <li>
      <p>
        {!single && <span class="quiet">{lastOf(why.path)} </span>}
        <strong>
          <Stacked text={why.value} />
        </strong>
      </p>
      <p>{why.note}</p>
      {why.steps.map((step, index) => (
        <div key={index} class="reason">
          <p class="formula">{step.formula}</p>
          <dl>
            {step.inputs.map((input) => (
              <div key={input.name}>
                <dt>{input.name}</dt>
                <dd>
                  <Stacked text={input.value} />
                </dd>
              </div>
            ))}
          </dl>
          {step.rule !== undefined && (
            <p>
              {texts.decided} {step.rule}
            </p>
          )}
          <p class="quiet">{texts.sourceOf(step.source)}</p>
        </div>
      ))}
    </li>
  );
}

export function AskPanel({ asked, answers, onClose }: { asked: Asked; answers: Why[]; onClose: () => void }) {
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    box.current?.focus();
    box.current?.scrollIntoView({ block: "nearest" });
  }, [asked]);
  return (
    <section
      class="panel asked"
      ref={box}
      tabIndex={-1}
      aria-label={texts.whyOf(asked.label)}
      onKeyDown={(event) => {
        if (event.key === "Escape") onClose();
      }}
    >
      <div class="row">
        <h2>{texts.whyOf(asked.label)}</h2>
        <span class="grow" />
        <button type="button" onClick={onClose}>
          {texts.close}
        </button>
      </div>
      {answers.length === 0 && <p>{texts.noWhy}</p>}
      <ul>
        {answers.slice(0, MOST).map((why) => (
          <Leaf key={why.path} why={why} single={answers.length === 1} />
        ))}
      </ul>
      {answers.length > MOST && <p class="quiet">{texts.moreLeaves(answers.length - MOST)}</p>}
    </section>
  );
}
