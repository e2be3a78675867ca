// SPDX-License-Identifier: Apache-2.0
// The tape drawn: lanes under the eaves, and the plumb line that crosses them all.
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { isMetric, length } from "./figures";
import { type Eave, type Flow, ontoEave, stepPlumb, type Tape } from "./tape";
import { texts } from "./texts";

const LANE = { eave: 0, roof: 52, water: 112, fall: 178, metal: 232, hold: 296, money: 344, end: 394 };
const MARGIN = 14;
const LEAST_PX_PER_M = 18;
const PRINT_PX = 600; // a row of the tape on letter or A4 paper

interface Scale {
  px: (x: number) => number;
  perMetre: number;
  units: string;
}

function Ruler({ eave, scale }: { eave: Eave; scale: Scale }) {
  const metric = isMetric(scale.units);
  const unit = metric ? 1 : 0.3048;
  const every = unit * scale.perMetre * 5 > 44 ? 5 : 10;
  const marks = [];
  for (let count = 0; count * unit <= eave.run.length_m; count++) {
    const long = count % every === 0;
    if (!long && unit * scale.perMetre < 5) continue;
    const x = scale.px(eave.x + count * unit);
    marks.push(<path key={count} class="line" d={`M${x} 46v${long ? -10 : -5}`} />);
    const room = (eave.run.length_m - count * unit) * scale.perMetre > 26 || count === 0;
    if (long && room && count > 0)
      marks.push(
        <text key={`t${count}`} class="small middle" x={x} y={34}>
          {metric ? `${count} m` : `${count}'`}
        </text>,
      );
  }
  return <g>{marks}</g>;
}

function wide(eave: Eave, scale: Scale, text: string): boolean {
  return eave.run.length_m * scale.perMetre > text.length * 7.4 + 8;
}

interface LaneProps {
  eave: Eave;
  scale: Scale;
  perMetreMoney?: (m: number) => string;
}

function EaveLanes({ eave, scale }: LaneProps) {
  const left = scale.px(eave.x);
  const right = scale.px(eave.x + eave.run.length_m);
  const at = (metres: number) => scale.px(eave.x + metres);
  const greatest = Math.max(0.001, ...eave.brackets.map((bracket) => bracket.drop));
  const fallY = (drop: number) => LANE.fall + 12 + (drop / Math.max(greatest, 0.05)) * 26;
  return (
    <g>
      <path class="line" d={`M${left} 46H${right}M${left} 32v14M${right} 32v14`} />
      <polygon class="roof" points={roofShape(eave, scale, LANE.roof + 48)} />
      {eave.valleys.map((x) => (
        <path key={x} class="valley" d={`M${at(x) - 7} ${LANE.roof + 6}l7 40l7 -40`}>
          <title>{texts.valley}</title>
        </path>
      ))}
      <path class="rim" d={`M${left} ${LANE.water + 10}H${right}`} />
      <path class="line" d={`M${left} ${LANE.water + 54}H${right}`} />
      {eave.brackets.length > 1 && (
        <polyline class="fall" points={eave.brackets.map((b) => `${at(b.at)},${fallY(b.drop)}`).join(" ")} />
      )}
      {eave.highs.map((x) => (
        <circle key={x} class="high" cx={at(x)} cy={LANE.fall + 12} r={5} />
      ))}
      {eave.segments.map((segment) => (
        <rect
          key={segment.from}
          class={segment.gutter > 0 ? "metal" : "metal leg"}
          x={at(segment.from)}
          y={LANE.metal + 14}
          width={(segment.to - segment.from) * scale.perMetre}
          height={24}
        />
      ))}
      {!eave.run.left_end.includes("mitre") && <path class="cap" d={`M${left} ${LANE.metal + 10}v32`} />}
      {!eave.run.right_end.includes("mitre") && <path class="cap" d={`M${right} ${LANE.metal + 10}v32`} />}
      {eave.outlets.map((outlet) => (
        <g key={outlet.name}>
          <circle class="outlet" cx={at(outlet.at)} cy={LANE.metal + 26} r={7} />
          <path class="arrow" d={`M${at(outlet.at)} ${LANE.metal + 33}v18m-5 -6l5 6l5 -6`} />
        </g>
      ))}
      {eave.brackets.map((bracket) => (
        <path key={bracket.at} class="bracket" d={`M${at(bracket.at)} ${LANE.hold + 8}v14`} />
      ))}
    </g>
  );
}

/** How deep the roof behind it is, in words; to the inch or the centimetre. */
function roofWords(eave: Eave, units: string): string {
  const even = eave.run.plan_area_m2 / eave.run.eave_m;
  const deep = Math.max(even, ...eave.depths.map(([, depth]) => depth));
  const coarse = isMetric(units) ? 0.01 : 0.0254;
  const shown = length(units, Math.round(deep / coarse) * coarse);
  return deep - even > coarse ? texts.upTo(shown) : `${shown} ${texts.deep}`;
}

/** What stands in the lanes in words, over the plumb line: a figure is never struck through by it. */
function EaveWords({ eave, scale, perMetreMoney }: LaneProps) {
  const left = scale.px(eave.x);
  const right = scale.px(eave.x + eave.run.length_m);
  const at = (metres: number) => scale.px(eave.x + metres);
  const deepText = roofWords(eave, scale.units);
  const title = `${eave.name}, ${length(scale.units, eave.run.eave_m)}`;
  const moneyText = perMetreMoney?.(eave.run.eave_m) ?? "";
  const held = texts.brackets(eave.brackets.length);
  return (
    <g class="words">
      <text class="strong" x={left} y={18}>
        {wide(eave, scale, title) ? title : wide(eave, scale, eave.name) ? eave.name : ""}
        <title>{title}</title>
      </text>
      <Ruler eave={eave} scale={scale} />
      {wide(eave, scale, deepText) && (
        <g>
          <rect class="plate" x={(left + right) / 2 - deepText.length * 3.9} y={LANE.roof + 20} width={deepText.length * 7.8} height={18} />
          <text class="middle" x={(left + right) / 2} y={LANE.roof + 34}>
            {deepText}
          </text>
        </g>
      )}
      {eave.highs.map((x) => (
        <text key={x} class="small middle" x={at(x)} y={LANE.fall + 4}>
          {texts.high}
        </text>
      ))}
      {eave.segments
        .filter((segment) => segment.gutter > 0 && (segment.to - segment.from) * scale.perMetre > 16)
        .filter((segment) => eave.outlets.every((one) => Math.abs(one.at - (segment.from + segment.to) / 2) * scale.perMetre > 13))
        .map((segment) => (
          <text key={segment.from} class="small middle on-metal" x={at((segment.from + segment.to) / 2)} y={LANE.metal + 31}>
            {segment.gutter}
          </text>
        ))}
      {eave.outlets.map((outlet) => {
        const rightHalf = outlet.at > eave.run.length_m / 2;
        return (
          <text key={outlet.name} class={`small ${rightHalf ? "end" : ""}`} x={at(outlet.at) + (rightHalf ? -8 : 8)} y={LANE.metal + 53}>
            {outlet.size}
          </text>
        );
      })}
      {wide(eave, scale, held) && (
        <text class="small" x={left} y={LANE.hold + 38}>
          {held}
        </text>
      )}
      <text class="small" x={left} y={LANE.money + 22}>
        {wide(eave, scale, moneyText) ? moneyText : ""}
      </text>
    </g>
  );
}

/** The water's own depths; the lane's height is the rim. */
function Water({ flow, scale }: { flow: Flow; scale: Scale }) {
  const base = LANE.water + 54;
  const { reach } = flow;
  const rim = Math.max(0.05, (reach.greatest_depth_m ?? 0) + (reach.freeboard_m ?? 0));
  const y = (depth: number) => base - Math.min(1, depth / rim) * 44;
  return (
    <g>
      {flow.parts.map((part, index) => {
        const points = part.map(([x, depth]) => `${scale.px(x).toFixed(1)},${y(depth).toFixed(1)}`);
        const first = part[0]?.[0] ?? 0;
        const last = part.at(-1)?.[0] ?? 0;
        const rimPath = `M${scale.px(first)} ${LANE.water + 10}H${scale.px(last)}`;
        return (
          <g key={index}>
            <polygon class="water" points={`${scale.px(first)},${base} ${points.join(" ")} ${scale.px(last)},${base}`} />
            {flow.over && <path class="over-rim" d={rimPath} />}
            {flow.over && Math.abs(scale.px(last) - scale.px(first)) > 46 && (
              <text class="small middle over-word" x={(scale.px(first) + scale.px(last)) / 2} y={LANE.water + 32}>
                ✕ {texts.filmGoesOver}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

/** The roof behind the eave as deep as it is at each place. */
function roofShape(eave: Eave, scale: Scale, base: number): string {
  const left = scale.px(eave.x);
  const right = scale.px(eave.x + eave.run.length_m);
  const high = (depth: number) => Math.min(42, 4 + depth * 5.5);
  const knots: [number, number][] =
    eave.depths.length > 1 ? eave.depths : [[0, eave.run.plan_area_m2 / eave.run.eave_m], [eave.run.length_m, eave.run.plan_area_m2 / eave.run.eave_m]];
  const inside = (x: number) => Math.min(Math.max(x, left), right);
  const points = knots.map(([x, depth]) => `${inside(scale.px(eave.x + x))},${base - high(depth)}`);
  return `${left},${base} ${points.join(" ")} ${right},${base}`;
}

type LaneNames = [keyof typeof texts.lanes, string][];

const Lanes = ({ names }: { names: LaneNames }) => (
  <svg class="lanes" width={64} height={LANE.end} aria-hidden="true">
    {names.map(([lane, name]) => (
      <text key={lane} class="strong" x={2} y={LANE[lane] + (lane === "eave" ? 18 : 30)}>
        {name}
      </text>
    ))}
  </svg>
);

interface TapeProps {
  tape: Tape;
  units: string;
  plumb: number;
  onPlumb: (x: number) => void;
  share?: (metres: number) => string;
}

export function TapeView({ tape, units, plumb, onPlumb, share }: TapeProps) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(900);
  useLayoutEffect(() => {
    const look = () => setWidth(box.current?.clientWidth ?? 900);
    look();
    const watcher = new ResizeObserver(look);
    if (box.current !== null) watcher.observe(box.current);
    return () => watcher.disconnect();
  }, []);
  const perMetre = Math.max(LEAST_PX_PER_M, (width - 2 * MARGIN) / Math.max(tape.length, 0.1));
  const whole = Math.max(width, tape.length * perMetre + 2 * MARGIN);
  const scale: Scale = { px: (x) => MARGIN + x * perMetre, perMetre, units };
  const at = scale.px(plumb);

  useEffect(() => {
    const view = box.current;
    if (view === null) return;
    if (at < view.scrollLeft + 30 || at > view.scrollLeft + view.clientWidth - 30)
      view.scrollLeft = at - view.clientWidth / 2;
  }, [at]);

  const point = (event: PointerEvent) => {
    const target = event.currentTarget as Element;
    const place = (event.clientX - target.getBoundingClientRect().left - MARGIN) / perMetre;
    onPlumb(ontoEave(tape, place));
  };
  const key = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const next = stepPlumb(tape, plumb, { key: event.key, shift: event.shiftKey }, isMetric(units));
    if (next === undefined) return;
    event.preventDefault();
    onPlumb(next);
  };
  const rows = Array.from({ length: Math.ceil((whole - 2 * MARGIN) / PRINT_PX) }, (_, row) => row * PRINT_PX);
  const names = Object.entries(texts.lanes) as LaneNames;
  return (
    <>
      <div class="tape tape-now">
        <Lanes names={names} />
        <div class="roll" ref={box}>
          <svg
            width={whole}
            height={LANE.end}
            role="slider"
            tabindex={0}
            aria-label={texts.tape}
            aria-describedby="tape-help"
            aria-valuemin={0}
            aria-valuemax={Math.round(tape.length * 1000)}
            aria-valuenow={Math.round(plumb * 1000)}
            aria-valuetext={length(units, plumb)}
            onKeyDown={key}
            onPointerDown={point}
            onPointerMove={(event) => {
              if (event.buttons > 0 && event.pointerType === "mouse") point(event); // a finger scrolls
            }}
          >
            <defs>
              <pattern id="roof-hatch" width="6" height="6" patternUnits="userSpaceOnUse">
                <path class="hatch" d="M3 0v6" />
              </pattern>
            </defs>
            <g id="tape-drawing" class="tape">
              {tape.flows.map((flow) => (
                <Water key={flow.name} flow={flow} scale={scale} />
              ))}
              {tape.eaves.map((eave) => (
                <EaveLanes key={eave.name} eave={eave} scale={scale} />
              ))}
              <g class="plumb">
                <path d={`M${at} 20V${LANE.end - 12}`} />
                <path class="bob" d={`M${at} ${LANE.end}l-6 -12h12z`} />
              </g>
              {tape.eaves.map((eave) => (
                <EaveWords key={eave.name} eave={eave} scale={scale} {...(share ? { perMetreMoney: share } : {})} />
              ))}
            </g>
          </svg>
        </div>
      </div>
      <div class="print-rows" aria-hidden="true">
        {rows.map((from) => (
          <div class="tape" key={from}>
            <Lanes names={names} />
            <svg width={PRINT_PX} height={LANE.end} viewBox={`${MARGIN + from - 4} 0 ${PRINT_PX} ${LANE.end}`}>
              <use href="#tape-drawing" />
            </svg>
          </div>
        ))}
      </div>
    </>
  );
}
