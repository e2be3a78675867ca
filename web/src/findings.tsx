// SPDX-License-Identifier: Apache-2.0
// What to look at, worst first, each with its place; the same sentence about many things is said once.
import type { Finding } from "./result";
import { Stacked } from "./stacked";
import { texts } from "./texts";

const ORDER = ["stop", "must", "should", "note", "assumed"];
const SHOWN_OBJECTS = 4;

interface Said {
  finding: Finding;
  objects: string[];
  sentence: string;
}

/** Findings that differ only in what they are about become one. */
export function gather(findings: Finding[]): Said[] {
  const said: Said[] = [];
  for (const finding of findings) {
    const lead = `${finding.object}: `;
    const about = finding.object !== "" && finding.text.startsWith(lead);
    const sentence = about ? finding.text.slice(lead.length) : finding.text;
    const same = about && said.find((one) => one.objects.length > 0 && one.sentence === sentence && one.finding.code === finding.code);
    if (same) same.objects.push(finding.object);
    else said.push({ finding, objects: about ? [finding.object] : [], sentence });
  }
  return said.sort((a, b) => ORDER.indexOf(a.finding.severity) - ORDER.indexOf(b.finding.severity));
}

function sentenceOf({ objects, sentence }: Said): string {
  if (objects.length === 0) return sentence;
  const more = objects.length - SHOWN_OBJECTS;
  const names = objects.slice(0, SHOWN_OBJECTS).join(", ");
  return `${more > 0 ? texts.andMore(names, more) : names}: ${sentence}`;
}

export function Findings({ findings, onGo }: { findings: Finding[]; onGo: (finding: Finding) => void }) {
  return (
    <section class="panel findings" tabIndex={-1} aria-live="polite">
      <h2>{texts.findings}</h2>
      {findings.length === 0 && <p>{texts.noFindings}</p>}
      <ul>
        {gather(findings).map((said) => (
          <li key={`${said.finding.code} ${said.sentence}`} class={`is-${said.finding.severity}`}>
            <span class="badge">
              <span class="sign">{texts.severitySign[said.finding.severity]}</span> {texts.severity[said.finding.severity]}
            </span>
            <div>
              <p>
                <Stacked text={sentenceOf(said)} />
              </p>
              {said.finding.mend !== "" && (
                <p class="mend">
                  <Stacked text={said.finding.mend} />
                </p>
              )}
              {said.finding.line !== undefined && said.finding.document === "job" && (
                <button type="button" class="link" onClick={() => onGo(said.finding)}>
                  {texts.line(said.finding.line, said.finding.column ?? 1)}
                </button>
              )}
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}
