// SPDX-License-Identifier: Apache-2.0
// The plan drawn and dragged. Every drag has its twin in the sheet below, and every grip its arrow keys; what is
// moved is written into the job at its marks, one step of undo a drag. The figures stand above, not under the finger.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Doc } from "./doc";
import type { Draft } from "./draft";
import type { Drawing } from "./heart";
import { addToList, applyChanges, type Change, type Grip, newWing, type Shape, shapesOfPlan, snap, snapOf, type Spot, takeFromList, writeMetres } from "./plan";
import { heartNow } from "./solver";
import { Stacked } from "./stacked";
import { texts } from "./texts";

const MARGIN = 46;
const NEAR_PX = 7;
const GRIP_PX = 8;
const TOUCH_PX = 22;

interface Fit {
  scale: number;
  put: (spot: Spot) => Spot;
  text: (spots: Spot[]) => string;
}

function fitInto(spots: Spot[], wide: number, high: number): Fit {
  const xs = spots.map(([x]) => x);
  const ys = spots.map(([, y]) => y);
  const [left, right, low, top] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.min((wide - 2 * MARGIN) / Math.max(right - left, 1), (high - 2 * MARGIN) / Math.max(top - low, 1));
  const put = ([x, y]: Spot): Spot => [wide / 2 + (x - (left + right) / 2) * scale, high / 2 - (y - (low + top) / 2) * scale];
  return { scale, put, text: (some) => some.map((spot) => put(spot).map((at) => at.toFixed(1)).join(",")).join(" ") };
}

interface Drag {
  grip: Grip;
  shape: Shape;
  from: Spot;
  doc: Doc;
  fit: Fit;
  others: Spot[];
  moved: boolean;
}

/** Of a corner the two edges that meet there: what a tape would read. */
function edgesAt(shape: Shape | undefined, path: string, metric: boolean): string[] {
  const index = Number(/\/(\d+)$/.exec(path)?.[1]);
  const count = shape?.points.length ?? 0;
  return [index + count - 1, index + 1].map((next, side) => {
    const [x1, y1] = shape?.points[index] ?? [0, 0];
    const [x2, y2] = shape?.points[next % count] ?? [0, 0];
    return texts.changed(texts.edge(side === 0 ? (next % count) + 1 : index + 1), writeMetres(Math.hypot(x2 - x1, y2 - y1), metric));
  });
}

const figuresOf = (changes: Change[], metric: boolean) =>
  changes.map(([path, metres]) => texts.changed(path.includes("/size/") ? texts.pairSize[path.endsWith("0") ? 0 : 1] : texts.pairCorner[path.endsWith("0") ? 0 : 1], writeMetres(metres, metric)));

const INSIDE = new Set(["ridge", "hip", "valley", "break"]);

/** The roof as it was last worked out, behind the plan. */
function Ghost({ drawing, fit }: { drawing: Drawing; fit: Fit }) {
  return (
    <g aria-hidden="true">
      {(drawing.lines ?? []).filter((line) => INSIDE.has(line.kind)).map((line, index) => {
        const [x1 = 0, y1 = 0, , x2 = 0, y2 = 0] = line.points;
        return <polyline key={index} class="ghost" points={fit.text([[x1, y1], [x2, y2]])} />;
      })}
    </g>
  );
}

interface ShapeProps {
  shape: Shape;
  fit: Fit;
  chosen: boolean;
  onDown: (event: PointerEvent, grip: Grip) => void;
  onKey: (event: KeyboardEvent, grip: Grip) => void;
  onChoose: () => void;
}

function ShapeView({ shape, fit, chosen, onDown, onKey, onChoose }: ShapeProps) {
  const { body } = shape;
  const points = shape.points.map(fit.put);
  const [x, y] = points.reduce(([a, b], [c, d]): Spot => [a + c / points.length, b + d / points.length], [0, 0] as Spot);
  const wide = Math.max(...points.map(([at]) => at)) - Math.min(...points.map(([at]) => at));
  const high = Math.max(...points.map(([, at]) => at)) - Math.min(...points.map(([, at]) => at));
  const fits = (text: string, lines: number) => body !== undefined && wide > text.length * 7.6 + 24 && high > lines * 20 + 30;
  return (
    <g class={chosen ? "shape chosen" : "shape"}>
      <polygon
        class={shape.path.includes("/holes/") ? "floor hole" : "floor"}
        points={fit.text(shape.points)}
        {...(body === undefined
          ? {}
          : {
              role: "button",
              tabindex: 0,
              "aria-label": texts.gripAlt(`${body.label}, ${shape.figure}`),
              onPointerDown: (event: PointerEvent) => onDown(event, body),
              onKeyDown: (event: KeyboardEvent) => onKey(event, body),
              onFocus: onChoose,
            })}
      />
      {points.map(([px, py], index) => {
        const [qx, qy] = points[(index + 1) % points.length] as Spot;
        return <path key={index} class={`wall-line is-${shape.edges[index] ?? "eave"}`} d={`M${px} ${py}L${qx} ${qy}`} />;
      })}
      {fits(shape.name, 1) && (
        <text class="strong middle" x={x} y={fits(shape.figure, 2) ? y - 4 : y + 5}>
          {shape.name}
        </text>
      )}
      {fits(shape.figure, 2) && (
        <text class="middle" x={x} y={y + 15}>
          {shape.figure}
        </text>
      )}
      {(chosen || body === undefined) &&
        shape.grips.map((grip) => {
          const [gx, gy] = fit.put(grip.at);
          return (
            <g
              key={grip.id}
              class="grip"
              role="button"
              tabindex={0}
              aria-label={texts.gripAlt(grip.label)}
              onPointerDown={(event: PointerEvent) => onDown(event, grip)}
              onKeyDown={(event: KeyboardEvent) => onKey(event, grip)}
            >
              <circle class="touch" cx={gx} cy={gy} r={TOUCH_PX} />
              <rect class="knob" x={gx - GRIP_PX} y={gy - GRIP_PX} width={2 * GRIP_PX} height={2 * GRIP_PX} />
            </g>
          );
        })}
    </g>
  );
}

const ARROWS: Record<string, Spot> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

interface DrawProps {
  draft: Draft;
  drawing: Drawing;
  metric: boolean;
  carried: boolean;
  onClose: () => void;
}

export function DrawPlan({ draft, drawing, metric, carried, onClose }: DrawProps) {
  const box = useRef<HTMLDivElement>(null);
  const [wide, setWide] = useState(800);
  const [chosen, setChosen] = useState("");
  const [said, setSaid] = useState<string[]>([]);
  const drag = useRef<Drag | undefined>(undefined);
  const [tree, setTree] = useState(draft.doc.tree);
  const heart = heartNow();
  useEffect(() => {
    if (draft.doc.tree !== undefined) setTree(draft.doc.tree);
  }, [draft.doc]);
  useLayoutEffect(() => {
    const look = () => setWide(Math.max(280, box.current?.clientWidth ?? 800));
    look();
    const watcher = new ResizeObserver(look);
    if (box.current !== null) watcher.observe(box.current);
    return () => watcher.disconnect();
  }, []);
  if (heart === null) return null;
  const shapes = shapesOfPlan(heart, draft.doc.tree ?? tree, metric);
  const high = Math.min(480, Math.max(300, wide * 0.62));
  const spots = shapes.flatMap((shape) => shape.points);
  const fit = drag.current?.fit ?? fitInto(spots.length > 0 ? spots : [[0, 0]], wide, high);
  const now = shapes.find((shape) => shape.path === chosen) ?? shapes[0];
  const wing = now !== undefined && now.path.startsWith("/wings/") ? now : undefined;

  const spotOf = (event: PointerEvent): Spot => [event.clientX / fit.scale, -event.clientY / fit.scale];
  const put = (base: Doc, grip: Grip, changes: Change[], together: boolean) => {
    const next = applyChanges(base, changes, metric);
    const ring = /^(.*\/(?:corners|holes\/\d+))\/\d+$/.exec(grip.id)?.[1];
    const after = ring === undefined ? undefined : shapesOfPlan(heart, next.tree, metric).find((one) => one.path === ring);
    setSaid(after === undefined ? figuresOf(changes, metric) : edgesAt(after, grip.id, metric));
    draft.edit(grip.step, next, together);
    return next.text !== base.text;
  };
  const down = (event: PointerEvent, grip: Grip) => {
    const shape = shapes.find((one) => one.body?.id === grip.id || one.grips.some((own) => own.id === grip.id));
    if (shape === undefined || draft.doc.tree === undefined || event.button !== 0) return;
    setChosen(shape.path);
    const others = shapes.filter((one) => one !== shape).flatMap((one) => one.points);
    drag.current = { grip, shape, from: spotOf(event), doc: draft.doc, fit, others, moved: false };
    try {
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
    } catch {
      // a made-up pointer cannot be held
    }
  };
  const move = (event: PointerEvent) => {
    const held = drag.current;
    if (held === undefined) return;
    const [x, y] = spotOf(event);
    const at = held.grip === held.shape.body ? held.shape.points : [held.grip.at];
    const by = snap([x - held.from[0], y - held.from[1]], at, held.others, { near: NEAR_PX / held.fit.scale, metric });
    const changes = held.grip.move(by);
    if (changes.length === 0 && !held.moved) return;
    held.moved = put(held.doc, held.grip, changes, held.moved) || held.moved;
  };
  const drop = () => {
    drag.current = undefined;
    setSaid([]);
  };
  const key = (event: KeyboardEvent, grip: Grip) => {
    const arrow = ARROWS[event.key];
    if (event.key === "Escape" && drag.current !== undefined) {
      if (drag.current.moved) draft.undo();
      drop();
    } else if (event.key === "Enter") document.querySelector<HTMLElement>(`[data-path="${now?.path.replace(/\/(corners|holes\/\d+)$/, "")}"] input`)?.focus();
    else if (arrow !== undefined && !event.ctrlKey && !event.altKey && draft.doc.tree !== undefined) {
      const far = snapOf(metric) * (event.shiftKey ? (metric ? 10 : 12) : 1);
      put(draft.doc, grip, grip.move([arrow[0] * far, arrow[1] * far]), false);
    } else return;
    event.preventDefault();
  };
  const escape = (event: KeyboardEvent) => {
    const held = drag.current;
    if (event.key === "Escape" && held !== undefined) key(event, held.grip);
  };
  return (
    <section class="panel draw" onKeyDown={escape}>
      <div class="row">
        <h2>{texts.drawHead}</h2>
        <span class="grow" />
        {!carried && shapes.some((shape) => shape.path.startsWith("/wings/")) && (
          <button type="button" disabled={draft.doc.tree === undefined} onClick={() => draft.edit(texts.drawAdd, addToList(draft.doc, "/wings", newWing(heart, draft.doc.tree ?? {}, metric)))}>
            {texts.drawAdd}
          </button>
        )}
        {!carried && wing !== undefined && shapes.length > 1 && (
          <button type="button" disabled={draft.doc.tree === undefined} onClick={() => draft.edit(texts.drawTake(wing.name), takeFromList(draft.doc, "/wings", Number(wing.path.split("/")[2])))}>
            {texts.drawTake(wing.name)}
          </button>
        )}
        <button type="button" onClick={onClose}>
          {texts.drawDone}
        </button>
      </div>
      <output class="drawn" aria-live="polite">
        {said.length === 0 ? <span class="quiet">{now === undefined ? "" : `${now.name} ${now.figure}`}</span> : said.map((line) => <span key={line}><Stacked text={line} /></span>)}
      </output>
      <div ref={box}>
        <svg width={wide} height={high} role="group" aria-label={texts.drawAlt} onPointerMove={move} onPointerUp={drop} onPointerCancel={drop}>
          <Ghost drawing={drawing} fit={fit} />
          {[...shapes].sort((a, b) => Number(a === now && a.body !== undefined) - Number(b === now && b.body !== undefined)).map((shape) => (
            <ShapeView key={shape.path} shape={shape} fit={fit} chosen={shape === now} onDown={down} onKey={key} onChoose={() => setChosen(shape.path)} />
          ))}
          <text class="strong end" x={wide - 8} y={22}>
            {texts.drawNorth}
          </text>
        </svg>
      </div>
      <p class="quiet">{texts.drawHelp}</p>
    </section>
  );
}
