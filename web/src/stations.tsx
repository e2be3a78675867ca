// SPDX-License-Identifier: Apache-2.0
// Six stations in the order of the work; each has a sign, a word and a colour.
import type { ComponentChildren } from "preact";
import { flow, isMetric, length, mass, money } from "./figures";
import type { Finding, Line, Reach, Result } from "./result";
import type { Solved } from "./solver";
import { AskButton } from "./ask";
import { Stacked } from "./stacked";
import { eaveAt, type Tape } from "./tape";
import { texts } from "./texts";

export type Station = keyof typeof texts.stations;
export type State = keyof typeof texts.states;
export const stationNames = Object.keys(texts.stations) as Station[];

// Which station a finding belongs to, by the words of its code; metal takes what is left.
const OWNERS: [Station, RegExp][] = [
  ["money", /PRICE|TAX|DEPOSIT|CURRENCY/],
  ["water", /GUTTER_TOO_SMALL|OVER_GUTTER|STORM|DRIZZLE|GAP_WANTS|SCUPPER|BOOT|SURVEY|THE_LIP|END_FLUSH|CATCH|VALLEY|SPLASH|DRIP|APRON|FLOW|RAIN|WATER|CAPACIT|OVERFLOW|STRAINER|FALL|DEPTH|OUTLET|DOWNSPOUT|OFFSET|DISCHARGE/],
  ["metal", /BRACKET|JOINT|SHEET|METAL|MITRE|GUTTER|PIECE|EXPANSION|LOAD|SNOW|SCREW/],
  ["house", /GUESS|CURVE|ADJUSTED|CHECK|ROOF|WING|(?<!W)EDGE|PITCH|CLOSE|MEASURE|READING|KEY|TEXT|VALUE|UNIT|CORNER|OUTLINE|EAVE|TAPE/],
];

export function stationOf(finding: Finding): Station {
  if (finding.document === "prices") return "money";
  if (finding.severity === "stop") return "house";
  return OWNERS.find(([, words]) => words.test(finding.code))?.[0] ?? "metal";
}

export function stateOf(station: Station, solved: Solved): State {
  if (station === "crate") return "none";
  if ((station === "water" || station === "site") && solved.result?.water_checked === "no") return "unasked";
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

/** A figure of a table; with a path it can be asked why. */
interface Cell {
  text: string;
  path?: string;
}
const cellOf = (cell: string | Cell): Cell => (typeof cell === "string" ? { text: cell } : cell);

function Table({ title, heads, rows, foot }: { title: string; heads: string[]; rows: (string | Cell)[][]; foot?: (string | Cell)[][] }) {
  const cells = (row: (string | Cell)[]) =>
    row.map(cellOf).map((cell, column) => (
      <td key={column} role="cell" class={`${column > 0 ? "figure" : ""} ${cell.text === "" ? "blank" : ""}`} data-head={heads[column] ?? ""}>
        <Stacked text={cell.text} />
        {cell.path !== undefined && cell.text !== "" && <AskButton path={cell.path} label={`${cellOf(row[0] ?? "").text}, ${heads[column] ?? ""}`} />}
      </td>
    ));
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={title}>
      <table role="table">
        <thead role="rowgroup">
          <tr role="row">
            {heads.map((head, column) => (
              <th key={column} scope="col" role="columnheader" class={column > 0 ? "figure" : ""}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody role="rowgroup">
          {rows.map((row, index) => (
            <tr key={index} role="row">
              {cells(row)}
            </tr>
          ))}
        </tbody>
        {foot !== undefined && (
          <tfoot role="rowgroup">
            {foot.map((row, index) => (
              <tr key={index} role="row">
                {cells(row)}
              </tr>
            ))}
          </tfoot>
        )}
      </table>
    </div>
  );
}

const oftenWords = (reach: Reach) => {
  const often = reach.often?.["as-built"];
  if (often?.years === undefined) return texts.plumb.none;
  return texts.years(often.years, often.table ?? "");
};

function Water({ result, units: u }: { result: Result; units: string }) {
  const words = texts.waterTable;
  if (result.reaches === undefined) return <p>{texts.noWater}</p>;
  const asked = Object.values(result.reaches).some((reach) => reach.often?.["as-built"]?.years !== undefined);
  const rows = Object.entries(result.reaches).map(([name, reach]) => {
    const path = `reaches/${name}`;
    return [
      texts.reachOf(reach.outlet, name.slice(name.lastIndexOf(".") + 1)),
      { text: flow(u, reach.flow_m3s), path: `${path}/flow_m3s` },
      { text: reach.handbook === undefined ? texts.plumb.none : flow(u, reach.handbook.capacity_m3s), path: `${path}/handbook` },
      { text: reach.greatest_depth_m === undefined ? texts.plumb.none : length(u, reach.greatest_depth_m), path: `${path}/greatest_depth_m` },
      { text: reach.freeboard_m === undefined ? texts.plumb.none : length(u, reach.freeboard_m), path: `${path}/freeboard_m` },
      ...(asked ? [{ text: oftenWords(reach), path: `${path}/often` }] : []),
    ];
  });
  const heads = [words.outlet, words.flow, words.carries, words.deepest, words.spare, ...(asked ? [words.over] : [])];
  return (
    <>
      {!asked && <p class="quiet">{texts.noOften}</p>}
      <Table title={texts.stations.water} heads={heads} rows={rows} />
    </>
  );
}

function Metal({ result, units }: { result: Result; units: string }) {
  const words = texts.metalTable;
  const rows = Object.entries(result.pieces ?? {}).map(([id, piece]) => [
    [id, piece.hand === undefined ? "" : `(${piece.hand})`].join(" ").trim(),
    `${piece.count}`,
    piece.size ?? "",
    { text: piece.length_m === undefined ? "" : length(units, piece.length_m), path: `pieces/${id}/length_m` },
    { text: piece.mass_kg === undefined ? "" : mass(units, piece.mass_kg), path: `pieces/${id}/mass_kg` },
  ]);
  return <Table title={texts.stations.metal} heads={[words.piece, words.count, words.size, words.length, words.mass]} rows={rows} />;
}

/** So much at so much: in the unit the price is for. */
function quantity(line: Line): string {
  if (line.length_m !== undefined) return line.per === "m" ? `${line.length_m.toFixed(2)} m` : length("ft-in", line.length_m);
  if (line.mass_kg !== undefined) return mass(line.per === "kg" ? "mm" : "ft-in", line.mass_kg);
  return `${line.count}`;
}

function Money({ result, currency }: { result: Result; currency: string }) {
  const bill = result.money;
  if (bill === undefined) return <p>{texts.noPrice}</p>;
  const words = texts.moneyTable;
  const rows = Object.entries(bill.lines).map(([name, line]) => [
    name,
    { text: quantity(line), ...(line.per === undefined ? {} : { path: `money/lines/${name}/${line.length_m === undefined ? "mass_kg" : "length_m"}` }) },
    line.per === undefined ? money(currency, line.unit_minor) : texts.per(money(currency, line.unit_minor), line.per),
    { text: money(currency, line.amount_minor), path: `money/lines/${name}/amount_minor` },
  ]);
  const foot = [
    [texts.sum, "", "", { text: money(currency, bill.sum_minor), path: "money/sum_minor" }],
    ...(bill.tax_minor > 0 ? [[texts.tax, "", "", { text: money(currency, bill.tax_minor), path: "money/tax_minor" }]] : []),
    [texts.total, "", "", { text: money(currency, bill.total_minor), path: "money/total_minor" }],
    [texts.deposit, "", "", { text: money(currency, bill.deposit_minor), path: "money/deposit_minor" }],
  ];
  return <Table title={texts.stations.money} heads={[words.line, words.count, words.each, words.amount]} rows={rows} foot={foot} />;
}

function Site({ result, tape, plumb, units }: { result: Result; tape: Tape; plumb: number; units: string }) {
  const eave = eaveAt(tape, plumb);
  if (eave === undefined || result.runs === undefined) return <p>{texts.noSite}</p>;
  const words = texts.holdTable;
  const rows = eave.brackets.map((bracket, index) => [
    `${index + 1}`,
    { text: length(units, bracket.at), path: `hang/${eave.name}/${index + 1}/x_m` },
    { text: length(units, bracket.drop), path: `hang/${eave.name}/${index + 1}/drop_m` },
  ]);
  return (
    <>
      <p class="caution">{texts.siteCaution}</p>
      <h3>{texts.dropsOf(eave.name)}</h3>
      <Table title={texts.dropsOf(eave.name)} heads={[words.bracket, words.from, words.drop]} rows={rows} />
    </>
  );
}

interface BodyProps {
  station: Station;
  result: Result | undefined;
  tape: Tape;
  plumb: number;
  currency: string;
  units: string;
  house: ComponentChildren;
  water: ComponentChildren;
  metal: ComponentChildren;
}

export function StationBody({ station, result, tape, plumb, currency, units, house, water, metal }: BodyProps) {
  if (station === "house") return <>{house}</>;
  if (station === "crate") return <p class="panel">{texts.crate}</p>;
  if (result === undefined) return null; // said above, once for every station
  const body = (
    <section class="panel">
      <h2>{texts.stations[station]}</h2>
      {station === "metal" && metal}
      {station === "water" && <Water result={result} units={units} />}
      {station === "metal" && <Metal result={result} units={units} />}
      {station === "money" && <Money result={result} currency={currency} />}
      {station === "site" && <Site result={result} tape={tape} plumb={plumb} units={units} />}
    </section>
  );
  return station === "water" ? (
    <>
      {water}
      {body}
    </>
  ) : (
    body
  );
}

export function perLength(result: Result, currency: string): string {
  const bill = result.money;
  const minor = bill?.per_foot_minor; // a metric job's is by the metre
  return minor === undefined ? "" : texts.perFoot(money(currency, minor), isMetric(result.units));
}
