// SPDX-License-Identifier: Apache-2.0
// The measure sheet: every value of the job typed, its fault under it, what the core read beside it.
import { useEffect, useId, useState } from "preact/hooks";
import { type Doc, removeAt, setAt } from "./doc";
import type { Draft } from "./draft";
import { type Field, type Group, groupsOf } from "./fields";
import type { Heart } from "./heart";
import type { Finding } from "./result";
import { heartNow } from "./solver";
import { Stacked } from "./stacked";
import { texts } from "./texts";

/** The doc with a field as typed: an emptied field that was optional leaves the text. */
export function typeField(doc: Doc, path: string, value: string): Doc {
  if (value.trim() !== "") return setAt(doc, path, value.trim());
  return doc.marks[path]?.key === undefined ? setAt(doc, path, "") : removeAt(doc, path);
}

export function faultAt(findings: Finding[], path: string): Finding | undefined {
  const bad = findings.filter((finding) => finding.severity === "stop" && finding.document === "job");
  return bad.find((finding) => finding.path === path);
}

/** What the core reads: the other unit when it is fine, both readings when the unit is missing. */
export function readBack(heart: Heart | null, field: Field, metric: boolean): string {
  if (heart === null || field.kind !== "length" || field.value === "") return "";
  const plain = field.value.replace(/\s*(\+-|±|guess).*$/, "");
  const reading = heart.length(plain, metric);
  if (reading.fault === "bare number" && reading.feet !== undefined)
    return texts.bothReadings(reading.feet, reading.inches ?? "");
  if (reading.fault !== "" || reading.tick === undefined) return "";
  const other = metric ? reading.ft_in : reading.mm;
  if (other === undefined || other.endsWith("mm") === metric) return "";
  const millimetres = Number.parseFloat(other);
  return metric || Number.isInteger(millimetres) ? `= ${other}` : texts.about(`${Math.round(millimetres)} mm`);
}

interface FieldProps {
  field: Field;
  draft: Draft;
  findings: Finding[];
  metric: boolean;
}

function FieldRow({ field, draft, findings, metric }: FieldProps) {
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const value = typed ?? field.value;
  useEffect(() => setTyped(undefined), [draft.doc]);
  const put = (path: string, text: string) => {
    setTyped(text);
    draft.edit(field.name, typeField(draft.doc, path, text));
  };
  const fault = faultAt(findings, field.path) ?? (field.again === undefined ? undefined : faultAt(findings, field.again.path));
  const read = readBack(heartNow(), { ...field, value }, metric);
  const known = field.words !== undefined && (value === "" || field.words.includes(value));
  const described = `${id}-more`;
  return (
    <div class={`field ${fault === undefined ? "" : "has-fault"}`}>
      <label for={id}>{field.label}</label>
      <div class="inputs">
        {known ? (
          <select id={id} value={value} aria-describedby={described} onChange={(event) => put(field.path, event.currentTarget.value)}>
            {value === "" && <option value="">{texts.notSaid}</option>}
            {field.words?.map((word) => (
              <option key={word} value={word}>
                {word}
              </option>
            ))}
          </select>
        ) : (
          <input
            id={id}
            type="text"
            autocomplete="off"
            spellcheck={false}
            value={value}
            placeholder={field.given ? "" : texts.notSaid}
            aria-invalid={fault !== undefined}
            aria-describedby={described}
            onInput={(event) => put(field.path, event.currentTarget.value)}
          />
        )}
        {field.again !== undefined && (
          <input
            type="text"
            autocomplete="off"
            spellcheck={false}
            aria-label={texts.againOf(field.label)}
            value={field.again.value}
            onInput={(event) => put(field.again?.path ?? "", event.currentTarget.value)}
          />
        )}
      </div>
      <div class="more" id={described} aria-live="polite">
        {fault === undefined ? (
          <Stacked text={read} />
        ) : (
          <>
            <span class="sign">✕</span> {fault.text} <span class="mend">{fault.mend}</span>
          </>
        )}
      </div>
    </div>
  );
}

function GroupRows({ group, ...rest }: { group: Group } & Omit<FieldProps, "field">) {
  return (
    <fieldset data-path={group.path}>
      <legend>{group.title}</legend>
      <div class="fields">
        {group.fields.map((field) => (
          <FieldRow key={field.path} field={field} {...rest} />
        ))}
      </div>
    </fieldset>
  );
}

export function Sheet({ draft, findings, metric }: Omit<FieldProps, "field">) {
  const [tree, setTree] = useState(draft.doc.tree);
  useEffect(() => {
    if (draft.doc.tree !== undefined) setTree(draft.doc.tree);
  }, [draft.doc]);
  const shown = draft.doc.tree ?? tree;
  if (shown === undefined) return <p class="panel">{texts.noSheet}</p>;
  const isOrder = shown !== null && typeof shown === "object" && "pieces" in shown;
  return (
    <section class="panel sheet">
      <h2>{isOrder ? texts.sheetOrder : texts.sheet}</h2>
      <p class="quiet">{isOrder ? texts.orderHelp : texts.sheetHelp}</p>
      {groupsOf(shown).map((group) => (
        <GroupRows key={group.path} group={group} draft={draft} findings={findings} metric={metric} />
      ))}
    </section>
  );
}
