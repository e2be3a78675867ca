// SPDX-License-Identifier: Apache-2.0
// The house key: plan or view, faces hatched the way their water runs, the eave on the tape marked. Kinds of
// edges are told by their lines and a word, never by colour alone.
import { useState } from "preact/hooks";
import type { Drawing } from "./heart";
import { eaveAt, type Tape } from "./tape";
import { texts } from "./texts";

const WIDE = 400;
const HIGH = 270;
const MARGIN = 34;

export type Look = "plan" | "view";
type Point = [number, number];

/** Seen from above, or from a corner, turned by quarters; y grows downwards. */
function project(look: Look, quarter: number): (x: number, y: number, z: number) => Point {
  if (look === "plan") return (x, y) => [x, -y];
  const turn = (Math.PI / 2) * quarter + Math.PI / 6;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return (x, y, z) => [x * c - y * s, -(x * s + y * c) * 0.5 - z * 0.86];
}

function pointsOf(flat: number[], see: (x: number, y: number, z: number) => Point): Point[] {
  const points: Point[] = [];
  for (let at = 0; at + 2 < flat.length; at += 3) points.push(see(flat[at] ?? 0, flat[at + 1] ?? 0, flat[at + 2] ?? 0));
  return points;
}

interface Shape {
  kind: "face" | "wall";
  points: Point[];
  near: number;
  hatch: number;
}

const WALLS = new Set(["eave", "bare eave", "gable", "wall"]);

function shapesOf(drawing: Drawing, look: Look, quarter: number): Shape[] {
  const see = project(look, quarter);
  const depth = (flat: number[]) => {
    const ground = pointsOf(flat, (x, y) => project("view", quarter)(x, y, 0));
    return ground.reduce((sum, [, y]) => sum + y, 0) / Math.max(1, ground.length);
  };
  const faces = (drawing.faces ?? []).map((face): Shape => {
    const [fromX, fromY] = see(0, 0, 0);
    const [toX, toY] = see(face.down_x, face.down_y, -(face.down_x ** 2 + face.down_y ** 2));
    const angle = Math.round((Math.atan2(toY - fromY, toX - fromX) * 180) / Math.PI);
    return { kind: "face", points: pointsOf(face.points, see), near: depth(face.points), hatch: (angle + 360) % 180 };
  });
  if (look === "plan") return faces;
  const walls = (drawing.lines ?? [])
    .filter((line) => WALLS.has(line.kind))
    .map((line): Shape => {
      const [x1 = 0, y1 = 0, z1 = 0, x2 = 0, y2 = 0, z2 = 0] = line.points;
      return { kind: "wall", points: [see(x1, y1, z1), see(x2, y2, z2), see(x2, y2, 0), see(x1, y1, 0)], near: depth(line.points) - 0.01, hatch: 0 };
    });
  return [...walls, ...faces].sort((a, b) => a.near - b.near);
}

interface Fit {
  put: (point: Point) => Point;
  text: (points: Point[]) => string;
}

function fitInto(points: Point[]): Fit {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [low, high, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.min((WIDE - 2 * MARGIN) / Math.max(high - low, 0.1), (HIGH - 2 * MARGIN) / Math.max(bottom - top, 0.1));
  const put = ([x, y]: Point): Point => [
    WIDE / 2 + (x - (low + high) / 2) * scale,
    HIGH / 2 + (y - (top + bottom) / 2) * scale,
  ];
  const text = (some: Point[]) => some.map((point) => put(point).map((at) => at.toFixed(1)).join(",")).join(" ");
  return { put, text };
}

const classOf = (kind: string) => `edge-${kind.replace(" ", "-")}`;

interface KeyProps {
  drawing: Drawing;
  tape: Tape;
  plumb: number;
  onPlumb: (x: number) => void;
  onDraw?: () => void;
}

function Eaves({ drawing, tape, plumb, onPlumb, fit, see }: KeyProps & { fit: Fit; see: ReturnType<typeof project> }) {
  const now = eaveAt(tape, plumb);
  const ends = Object.entries(drawing.eaves ?? {}).map(([name, eave]) => ({
    name,
    ends: pointsOf(eave.points, see).flatMap((point) => fit.put(point)),
    is: now?.name === name,
  }));
  return (
    <>
      {Object.entries(drawing.eaves ?? {}).map(([name, eave]) => {
        const on = tape.eaves.find((one) => one.name === name);
        const [from, to] = pointsOf(eave.points, see) as [Point, Point];
        const [x1, y1] = fit.put(from);
        const [x2, y2] = fit.put(to);
        const is = on !== undefined && on === now;
        return (
          <g key={name} class={is ? "eave-now" : "eave-key"} onClick={() => on && onPlumb(on.x + 0.001)}>
            <path class="touch" d={`M${x1} ${y1}L${x2} ${y2}`} />
            <path class="eave-line" d={`M${x1} ${y1}L${x2} ${y2}`} />
            {on?.outlets.map((outlet) => {
              const share = outlet.at / Math.max(0.01, on.run.length_m);
              return <circle key={outlet.name} class="outlet" cx={x1 + (x2 - x1) * share} cy={y1 + (y2 - y1) * share} r={5} />;
            })}
            {is && <Bob x={x1 + ((x2 - x1) * (plumb - on.x)) / Math.max(0.01, on.run.length_m)} y={y1 + ((y2 - y1) * (plumb - on.x)) / Math.max(0.01, on.run.length_m)} />}
          </g>
        );
      })}
      {placeNames(ends).map((name) => (
        <text key={name.text} class={`small ${name.anchor}`} x={name.x} y={name.y}>
          {name.text}
        </text>
      ))}
    </>
  );
}

const Bob = ({ x, y }: { x: number; y: number }) => <path class="bob" d={`M${x} ${y}l-6 -13h12z`} />;

interface Name {
  text: string;
  x: number;
  y: number;
  anchor: string;
}

/** Names stand beside their eaves, away from the house (which is on the left hand of the walk); one that would cover
 * another is left out, never that of the eave on the tape. */
function placeNames(ends: { name: string; ends: number[]; is: boolean }[]): Name[] {
  const taken: [number, number, number, number][] = [];
  const names: Name[] = [];
  for (const { name, ends: at, is } of [...ends].sort((a, b) => Number(b.is) - Number(a.is))) {
    const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = at;
    const long = Math.max(1, Math.hypot(x2 - x1, y2 - y1));
    const [ox, oy] = [(-(y2 - y1) / long) * 13, ((x2 - x1) / long) * 13];
    const anchor = ox > 6 ? "" : ox < -6 ? "end" : "middle";
    const x = Math.min(Math.max((x1 + x2) / 2 + ox, 4), WIDE - 4);
    const y = (y1 + y2) / 2 + oy + 4;
    const wide = name.length * 7;
    const left = anchor === "" ? x : anchor === "end" ? x - wide : x - wide / 2;
    const free = taken.every(([l, t, r, b]) => left > r || left + wide < l || y - 12 > b || y + 2 < t);
    if (!free && !is) continue;
    taken.push([left, y - 12, left + wide, y + 2]);
    names.push({ text: name, x, y, anchor: `${anchor} ${is ? "strong" : ""}` });
  }
  return names;
}

export function HouseKey(props: KeyProps) {
  const { drawing } = props;
  const [look, setLook] = useState<Look>("plan");
  const [quarter, setQuarter] = useState(0);
  const hasFaces = (drawing.faces?.length ?? 0) > 0;
  const see = project(look, quarter);
  const shapes = shapesOf(drawing, look, quarter);
  const lines = (drawing.lines ?? []).map((line) => ({ kind: line.kind, points: pointsOf(line.points, see) }));
  const eaves = Object.values(drawing.eaves ?? {}).flatMap((eave) => pointsOf(eave.points, see));
  const all = [...shapes.flatMap((shape) => shape.points), ...lines.flatMap((line) => line.points), ...eaves];
  if (all.length === 0) return <section class="panel key"><h2>{texts.houseKey}</h2><p>{texts.noPlan}</p></section>;
  const fit = fitInto(all);
  const hatches = [...new Set(shapes.filter((shape) => shape.kind === "face").map((shape) => shape.hatch))];
  return (
    <section class="panel key">
      <div class="row">
        <h2>{texts.houseKey}</h2>
        <span class="grow" />
        {props.onDraw !== undefined && (
          <button type="button" onClick={props.onDraw}>
            {texts.drawOpen}
          </button>
        )}
        {hasFaces && (
          <button type="button" aria-pressed={look === "view"} onClick={() => setLook(look === "plan" ? "view" : "plan")}>
            {look === "plan" ? texts.lookView : texts.lookPlan}
          </button>
        )}
        {hasFaces && look === "view" && (
          <button type="button" onClick={() => setQuarter((quarter + 1) % 4)}>
            {texts.lookTurn}
          </button>
        )}
      </div>
      <svg viewBox={`0 0 ${WIDE} ${HIGH}`} role="img" aria-label={look === "plan" ? texts.planAlt : texts.viewAlt}>
        <defs>
          {hatches.map((angle) => (
            <pattern key={angle} id={`fall-${angle}`} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform={`rotate(${angle})`}>
              <path class="hatch" d="M0 3.5h7" />
            </pattern>
          ))}
        </defs>
        {shapes.map((shape, index) => (
          <g key={index}>
            <polygon class={shape.kind} points={fit.text(shape.points)} />
            {shape.kind === "face" && <polygon points={fit.text(shape.points)} style={{ fill: `url(#fall-${shape.hatch})` }} />}
          </g>
        ))}
        {lines
          .filter((line) => look === "plan" || line.kind === "ridge")
          .map((line, index) => <polyline key={index} class={look === "plan" ? classOf(line.kind) : ""} points={fit.text(line.points)} />)}
        {look === "plan" && <Eaves {...props} fit={fit} see={see} />}
      </svg>
      <p class="quiet">{!hasFaces ? texts.keyRuns : look === "plan" ? texts.keyHelp : texts.viewHelp}</p>
    </section>
  );
}
