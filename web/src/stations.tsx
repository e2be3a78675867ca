// SPDX-License-Identifier: Apache-2.0
// Six stations in the order of the work; each has a sign, a word and a colour.
import type { ComponentChildren } from "preact";
import { flow, isMetric, length, mass, money } from "./figures";
import type { Finding, Result } from "./result";
import type { Solved } from "./solver";
import { eaveAt, type Tape } from "./tape";
import { texts } from "./texts";

export type Station = keyof typeof texts.stations;
export type State = keyof typeof texts.states;
export const stationNames = Object.keys(texts.stations) as Station[];

// Which station a finding belongs to, by the words of its code; metal takes what is left.
const OWNERS: [Station, RegExp][] = [
  ["money", /PRICE|TAX|DEPOSIT|CURRENCY/],
  ["water", /FLOW|RAIN|WATER|CAPACIT|OVERFLOW|STRAINER|FALL|DEPTH|OUTLET|DOWNSPOUT|OFFSET|DISCHARGE/],
  ["metal", /BRACKET|JOINT|SHEET|METAL|MITRE|GUTTER|PIECE|EXPANSION|LOAD|SNOW|SCREW/],
  ["house", /ROOF|WING|EDGE|PITCH|CLOSE|MEASURE|READING|KEY|TEXT|VALUE|UNIT|CORNER|OUTLINE|EAVE|TAPE/],
];

export function stationOf(finding: Finding): Station {
  if (finding.document === "prices") return "money";
  if (finding.severity === "stop") return "house";
  return OWNERS.find(([, words]) => words.test(finding.code))?.[0] ?? "metal";
}

export function stateOf(station: Station, solved: Solved): State {
  if (station === "crate") return "none";
  const mine = solved.findings.filter((finding) => stationOf(finding) === station);
  if (mine.some((finding) => finding.severity === "stop")) return "stopped";
  if (solved.result === undefined && station !== "house") return "stopped";
  if (mine.some((finding) => finding.severity === "must")) return "bad";
  if (station === "site" && solved.result?.verdict !== "safe") return "bad";
  if (station === "money" && solved.result?.money === undefined) return "price";
  return mine.some((finding) => finding.severity === "should") ? "doubt" : "fine";
}

interface BarProps {
  name: string;
  solved: Solved;
  now: Station;
  price: string;
  change: string;
}

export function StationBar({ name, solved, now, price, change }: BarProps) {
  return (
    <nav class="stations" aria-label={texts.stationNav}>
      {stationNames.map((station) => {
        const state = stateOf(station, solved);
        return (
          <a key={station} href={`#${station}/${encodeURIComponent(name)}`} class={`is-${state}`} aria-current={station === now ? "page" : undefined}>
            <span class="name">{texts.stations[station]}</span>
            {station === "money" && price !== "" && (
              <span class="price">
                {price} {change !== "" && <span class="change">{change}</span>}
              </span>
            )}
            <span class="state">
              <span class="sign">{texts.signs[state]}</span> {texts.states[state]}
            </span>
          </a>
        );
      })}
    </nav>
  );
}

function Table({ heads, rows, foot }: { heads: string[]; rows: string[][]; foot?: string[][] }) {
  const cells = (row: string[], Cell: "td" | "th") =>
    row.map((cell, column) => (
      <Cell key={column} class={column > 0 ? "figure" : ""}>
        {cell}
      </Cell>
    ));
  return (
    <div class="scroll" tabIndex={0} role="group">
      <table>
        <thead>
          <tr>{cells(heads, "th")}</tr>
        </thead>
        <tbody>
          {rows.map((row, index) => (
            <tr key={index}>{cells(row, "td")}</tr>
          ))}
        </tbody>
        {foot !== undefined && (
          <tfoot>
            {foot.map((row, index) => (
              <tr key={index}>{cells(row, "td")}</tr>
            ))}
          </tfoot>
        )}
      </table>
    </div>
  );
}

function Water({ result }: { result: Result }) {
  const words = texts.waterTable;
  const u = result.units;
  const rows = Object.values(result.reaches ?? {}).map((reach) => [
    reach.outlet,
    flow(u, reach.flow_m3s),
    reach.handbook === undefined ? texts.plumb.none : flow(u, reach.handbook.capacity_m3s),
    reach.greatest_depth_m === undefined ? texts.plumb.none : length(u, reach.greatest_depth_m),
    reach.freeboard_m === undefined ? texts.plumb.none : length(u, reach.freeboard_m),
  ]);
  return <Table heads={[words.outlet, words.flow, words.carries, words.deepest, words.spare]} rows={rows} />;
}

function Metal({ result }: { result: Result }) {
  const words = texts.metalTable;
  const rows = Object.entries(result.pieces ?? {}).map(([id, piece]) => [
    [id, piece.hand === undefined ? "" : `(${piece.hand})`].join(" ").trim(),
    `${piece.count}`,
    [piece.size ?? "", piece.length_m === undefined ? "" : length(result.units, piece.length_m)].filter(Boolean).join(", "),
    piece.mass_kg === undefined ? "" : mass(result.units, piece.mass_kg),
  ]);
  return <Table heads={[words.piece, words.count, words.size, words.mass]} rows={rows} />;
}

function Money({ result, currency }: { result: Result; currency: string }) {
  const bill = result.money;
  if (bill === undefined) return <p>{texts.states.price}</p>;
  const words = texts.moneyTable;
  const rows = Object.entries(bill.lines).map(([name, line]) => [
    name,
    `${line.count}`,
    money(currency, line.unit_minor),
    money(currency, line.amount_minor),
  ]);
  const foot = [
    [texts.sum, "", "", money(currency, bill.sum_minor)],
    [texts.tax, "", "", money(currency, bill.tax_minor)],
    [texts.total, "", "", money(currency, bill.total_minor)],
    [texts.deposit, "", "", money(currency, bill.deposit_minor)],
  ];
  return <Table heads={[words.line, words.count, words.each, words.amount]} rows={rows} foot={foot} />;
}

function Site({ result, tape, plumb }: { result: Result; tape: Tape; plumb: number }) {
  const eave = eaveAt(tape, plumb);
  if (eave === undefined) return null;
  const words = texts.holdTable;
  const rows = eave.brackets.map((bracket, index) => [
    `${index + 1}`,
    length(result.units, bracket.at),
    length(result.units, bracket.drop),
  ]);
  return (
    <>
      <h3>{eave.name}</h3>
      <Table heads={[words.bracket, words.from, words.drop]} rows={rows} />
    </>
  );
}

interface BodyProps {
  station: Station;
  result: Result | undefined;
  tape: Tape;
  plumb: number;
  currency: string;
  house: ComponentChildren;
}

export function StationBody({ station, result, tape, plumb, currency, house }: BodyProps) {
  if (station === "house") return <>{house}</>;
  if (station === "crate") return <p class="panel">{texts.crate}</p>;
  if (result === undefined) return <p class="panel">{texts.noAnswerYet}</p>;
  return (
    <section class="panel">
      <h2>{texts.stations[station]}</h2>
      {station === "water" && <Water result={result} />}
      {station === "metal" && <Metal result={result} />}
      {station === "money" && <Money result={result} currency={currency} />}
      {station === "site" && <Site result={result} tape={tape} plumb={plumb} />}
    </section>
  );
}

export function perLength(result: Result, currency: string): string {
  const bill = result.money;
  const minor = bill?.per_foot_minor ?? bill?.per_metre_minor;
  return minor === undefined ? "" : texts.perFoot(money(currency, minor), isMetric(result.units));
}
