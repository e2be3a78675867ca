// SPDX-License-Identifier: Apache-2.0
// What the plumb line reads at its place.
import { flow, isMetric, length, money } from "./figures";
import type { Result } from "./result";
import { eaveAt, flowAt, nearestBracket, segmentAt, type Tape } from "./tape";
import { texts } from "./texts";

export function shareOf(result: Result, currency: string): ((metres: number) => string) | undefined {
  const bill = result.money;
  const perMetre = bill?.per_metre_minor ?? (bill?.per_foot_minor === undefined ? undefined : bill.per_foot_minor / 0.3048);
  if (perMetre === undefined) return undefined;
  return (metres) => money(currency, perMetre * metres, true);
}

export function PlumbFigures({ tape, result, plumb, currency }: { tape: Tape; result: Result; plumb: number; currency: string }) {
  const eave = eaveAt(tape, plumb);
  if (eave === undefined) return null;
  const { units } = result;
  const at = plumb - eave.x;
  const words = texts.plumb;
  const running = flowAt(tape, plumb);
  const number = nearestBracket(eave, at);
  const bracket = eave.brackets[number];
  const segment = segmentAt(eave, at);
  const joint = eave.segments.slice(1).some((one) => Math.abs(one.from - at) < 0.04);
  const deepest = running?.reach.greatest_depth_m;
  const spare = running?.reach.freeboard_m;
  const share = shareOf(result, currency);
  const piece = segment === undefined ? words.none : segment.gutter > 0 ? texts.gutter(segment.gutter) : texts.mitreLeg;
  const size = isMetric(units) ? eave.run.size : `${eave.run.size} · ${eave.run.sheet}`;
  const rows: [string, string, string][] = [
    [words.roof, `${length(units, eave.run.plan_area_m2 / eave.run.eave_m)} ${texts.deep}`, ""],
    [
      words.water,
      deepest === undefined ? words.none : length(units, deepest),
      spare === undefined ? "" : `${length(units, spare)} ${words.toSpare}`,
    ],
    [words.toOutlet, running?.reach.outlet ?? words.none, running === undefined ? "" : flow(units, running.reach.flow_m3s)],
    [
      words.fall,
      bracket === undefined ? words.none : texts.bracket(number + 1, eave.brackets.length),
      bracket === undefined ? "" : `${length(units, bracket.drop)} ${words.drop}`,
    ],
    [words.metal, joint ? `${piece}, ${texts.joint}` : piece, size],
    [words.money, share?.(eave.run.eave_m) ?? words.none, share === undefined ? "" : words.share],
  ];
  return (
    <div class="figures" aria-live="polite">
      <p class="where">
        <strong>{eave.name}</strong> {length(units, at)} {words.at}
      </p>
      <dl>
        {rows.map(([name, figure, more]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              <strong>{figure}</strong> {more}
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}
