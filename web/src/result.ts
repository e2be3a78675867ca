// SPDX-License-Identifier: Apache-2.0
// The part of result.json the page shows (`eavesmith fields` says all of it).

export type Named<T> = Record<string, T>;

export interface Run {
  eave_m: number;
  length_m: number;
  plan_area_m2: number;
  size: string;
  sheet: string;
  left_end: string;
  right_end: string;
}
export interface Reach {
  length_m: number;
  outlet: string;
  flow_m3s: number;
  end_depth_m?: number;
  greatest_depth_m?: number;
  greatest_depth_at_m?: number;
  freeboard_m?: number;
  handbook?: { capacity_m3s: number };
  often?: { "as-built"?: { years?: number; table?: string } };
}
export interface Outlet {
  run: string;
  x_m: number;
  downspout: string;
}
export interface Piece {
  kind: string;
  hand?: string;
  size?: string;
  count: number;
  length_m?: number;
  mass_kg?: number;
  left_long_m?: number;
}
export interface Line {
  count: number;
  /** what the price is for, where it is not for a piece, and how much of it there is */
  per?: "ft" | "m" | "lb" | "kg";
  length_m?: number;
  mass_kg?: number;
  unit_minor: number;
  amount_minor: number;
}
export interface Money {
  lines: Named<Line>;
  sum_minor: number;
  tax_minor: number;
  total_minor: number;
  deposit_minor: number;
  per_foot_minor?: number;
}
export interface Storm {
  of: "table" | "record";
  years?: number;
  began?: string;
}
export type Hang = Record<string, number | { x_m: number; drop_m: number }>;

export interface Result {
  job: string;
  units: string;
  verdict: string;
  water_checked?: string;
  rain?: { intensity_mps: number };
  runs?: Named<Run>;
  pours?: Named<{ onto: string; x_m: number }>;
  high_points?: Named<{ run: string; x_m: number }>;
  reaches?: Named<Reach>;
  outlets?: Named<Outlet>;
  storms?: Named<Storm>;
  hang?: Named<Hang>;
  joints?: Named<Named<{ centre_m: number }>>;
  pieces?: Named<Piece>;
  mass_kg?: number;
  money?: Money;
}

export type Severity = "stop" | "must" | "should" | "note" | "assumed";
export interface Finding {
  code: string;
  severity: Severity;
  document: string;
  object: string;
  text: string;
  mend: string;
  line?: number;
  column?: number;
  from?: number;
  to?: number;
  /** JSON Pointer of the value it is about, where the heart told it */
  path?: string;
}
