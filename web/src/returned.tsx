// SPDX-License-Identifier: Apache-2.0
// Changes that came back from the house: each beside what stands here now, chosen one by one.
import { useRef, useState } from "preact/hooks";
import { type Change, readReturned, type Returned, takeChange } from "./carry";
import { textAt } from "./doc";
import type { Draft } from "./draft";
import { groupsOf } from "./fields";
import { texts } from "./texts";

function nameOf(draft: Draft, path: string): string {
  const group = draft.doc.tree === undefined ? undefined : groupsOf(draft.doc.tree).find((one) => path.startsWith(`${one.path}/`));
  const rest = path.slice(group?.path.length ?? 0).split("/").filter(Boolean).join(", ");
  return group === undefined ? rest : `${group.title}: ${rest}`;
}

export function ReturnPanel({ draft, name }: { draft: Draft; name: string }) {
  const [returned, setReturned] = useState<Returned>();
  const [left, setLeft] = useState<Set<string>>(new Set());
  const [fault, setFault] = useState("");
  const input = useRef<HTMLInputElement>(null);
  const open = async (file: File | undefined) => {
    if (file === undefined) return;
    const read = readReturned(await file.text());
    setFault(read === undefined ? texts.returnNot : read.name === name ? "" : texts.returnOther(read.name));
    setReturned(read);
    setLeft(new Set());
  };
  const take = () => {
    const taken = returned?.changes.filter((change) => !left.has(change.path)) ?? [];
    draft.edit(texts.stepReturned, taken.reduce(takeChange, draft.doc));
    setReturned(undefined);
    if (input.current !== null) input.current.value = "";
  };
  const toggle = (change: Change) => {
    const next = new Set(left);
    if (!next.delete(change.path)) next.add(change.path);
    setLeft(next);
  };
  return (
    <div class="returned">
      <label>
        {texts.returnOpen}{" "}
        <input ref={input} type="file" accept=".json,application/json" onChange={(event) => void open(event.currentTarget.files?.[0])} />
      </label>
      {fault !== "" && <p role="alert">{fault}</p>}
      {returned !== undefined && (
        <>
          <ul>
            {returned.changes.map((change) => {
              const here = textAt(draft.doc.tree, change.path);
              const moved = here !== (change.before ?? "") && here !== change.after;
              return (
                <li key={change.path}>
                  <label>
                    <input type="checkbox" checked={!left.has(change.path)} onChange={() => toggle(change)} /> <strong>{nameOf(draft, change.path)}</strong>{" "}
                    {texts.returnWas(here || texts.notSaid, change.after ?? texts.notSaid)}
                    {moved && <span class="mend"> {texts.returnMoved(change.before ?? texts.notSaid)}</span>}
                  </label>
                </li>
              );
            })}
          </ul>
          <button type="button" onClick={take}>
            {texts.returnTake}
          </button>
        </>
      )}
    </div>
  );
}
