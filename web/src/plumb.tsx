// SPDX-License-Identifier: Apache-2.0
// What the plumb line reads at its place.
import { AskButton } from "./ask";
import { flow, isMetric, length, money } from "./figures";
import type { Reach, Result } from "./result";
import { Stacked } from "./stacked";
import { eaveAt, flowAt, nearestBracket, roofDepthAt, segmentAt, type Tape } from "./tape";
import { texts } from "./texts";

export function shareOf(result: Result, currency: string): ((metres: number) => string) | undefined {
  const eaves = Object.values(result.runs ?? {}).reduce((sum, run) => sum + run.eave_m, 0);
  if (result.money === undefined || eaves <= 0) return undefined;
  const perMetre = result.money.total_minor / eaves;
  return (metres) => money(currency, perMetre * metres, true);
}

/** The gutter cut through at the plumb line, with the water in it. */
function Section({ reach, depth, label }: { reach: Reach; depth: number; label: string }) {
  const rim = Math.max(0.02, (reach.greatest_depth_m ?? 0) + (reach.freeboard_m ?? 0));
  const level = 54 - Math.min(1, depth / rim) * 46;
  const half = Math.sqrt(Math.max(0, 46 * 46 - (level - 8) * (level - 8)));
  return (
    <svg class="section" viewBox="0 0 108 62" role="img" aria-label={label}>
      {depth > 0 && <path class="water" d={`M${54 - half} ${level}A46 46 0 0 0 ${54 + half} ${level}Z`} />}
      <path class="shell" d="M8 8A46 46 0 0 0 100 8" />
      <path class="shell" d="M8 8v-5" />
      <circle class="bead" cx={102} cy={6} r={4} />
    </svg>
  );
}

interface Row {
  name: string;
  figure: string;
  more?: string;
  path?: string;
}

interface PlumbProps {
  tape: Tape;
  result: Result;
  plumb: number;
  currency: string;
  units: string;
  /** of the storm whose water is shown */
  minute?: number;
}

type Here = NonNullable<ReturnType<typeof flowAt>>;

function designRows({ flow: { reach, name }, depth }: Here, units: string): Row[] {
  const words = texts.plumb;
  const path = `reaches/${name}`;
  return [
    { name: words.water, figure: length(units, depth), more: words.deepest(length(units, reach.greatest_depth_m ?? 0)), path: `${path}/greatest_depth_m` },
    { name: words.spare, figure: reach.freeboard_m === undefined ? words.none : length(units, reach.freeboard_m), path: `${path}/freeboard_m` },
    { name: words.toOutlet, figure: flow(units, reach.flow_m3s), more: reach.outlet, path: `${path}/flow_m3s` },
  ];
}

/** In a minute of a storm: what stands here, beside what the design rain brings. */
function stormRows({ flow: { reach, over }, depth }: Here, units: string): Row[] {
  const words = texts.plumb;
  const lip = (reach.greatest_depth_m ?? 0) + (reach.freeboard_m ?? 0);
  return [
    { name: words.water, figure: length(units, depth), more: words.deepestDesign(length(units, reach.greatest_depth_m ?? 0)) },
    { name: words.spareHere, figure: over ? texts.filmGoesOver : length(units, Math.max(0, lip - depth)), more: reach.outlet },
  ];
}

function rowsOf({ tape, result, plumb, currency, units, minute }: PlumbProps): Row[] {
  const eave = eaveAt(tape, plumb);
  if (eave === undefined) return [];
  const at = plumb - eave.x;
  const words = texts.plumb;
  const here = flowAt(tape, plumb);
  const number = nearestBracket(eave, at);
  const bracket = eave.brackets[number];
  const segment = segmentAt(eave, at);
  const joint = eave.segments.slice(1).some((one) => Math.abs(one.from - at) < 0.04);
  const share = shareOf(result, currency);
  const piece = segment === undefined ? words.none : segment.gutter > 0 ? texts.gutter(segment.gutter) : texts.mitreLeg;
  const size = isMetric(units) ? eave.run.size : `${eave.run.size} · ${eave.run.sheet}`;
  const reachRows = here === undefined ? [{ name: words.water, figure: words.none }] : minute === undefined ? designRows(here, units) : stormRows(here, units);
  return [
    { name: words.roof, figure: length(units, roofDepthAt(eave, at)), more: texts.deep, path: `runs/${eave.name}/plan_area_m2` },
    ...reachRows,
    {
      name: words.fall,
      figure: bracket === undefined ? words.none : length(units, bracket.drop),
      ...(bracket === undefined ? {} : { more: words.drop(number + 1, eave.brackets.length), path: `hang/${eave.name}/${number + 1}` }),
    },
    { name: words.metal, figure: size, more: joint ? `${piece}, ${texts.joint}` : piece, path: `runs/${eave.name}/size` },
    {
      name: words.money,
      figure: share?.(eave.run.eave_m) ?? words.none,
      ...(share === undefined ? {} : { more: words.share, path: "money/total_minor" }),
    },
  ];
}

export function PlumbFigures(props: PlumbProps) {
  const { tape, plumb, units } = props;
  const eave = eaveAt(tape, plumb);
  if (eave === undefined) return null;
  const here = flowAt(tape, plumb);
  return (
    <section class="panel figures">
      <p class="where" aria-live="polite">
        <strong>{eave.name}</strong> <Stacked text={length(units, plumb - eave.x)} /> {texts.plumb.at}
        {props.minute !== undefined && `, ${texts.plumb.minute(props.minute)}`}
      </p>
      <div class="reads">
        <dl>
          {rowsOf(props).map((row) => (
            <div key={row.name}>
              <dt>{row.name}</dt>
              <dd>
                <strong>
                  <Stacked text={row.figure} />
                </strong>{" "}
                {row.path !== undefined && <AskButton path={row.path} label={row.name} />}
                {row.more !== undefined && (
                  <span class="small-more">
                    <Stacked text={row.more} />
                  </span>
                )}
              </dd>
            </div>
          ))}
        </dl>
        {here !== undefined && <Section reach={here.flow.reach} depth={here.depth} label={texts.sectionAlt(length(units, here.depth))} />}
      </div>
    </section>
  );
}
