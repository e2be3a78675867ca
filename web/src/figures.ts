// SPDX-License-Identifier: Apache-2.0
// Figures for people, from the SI numbers of the result. Nothing is read here: the core reads lengths.

const INCH_M = 0.0254;

export function isMetric(units: string): boolean {
  return units !== "ft-in";
}

function feetAndInches(metres: number): string {
  const sixteenths = Math.round((Math.abs(metres) / INCH_M) * 16);
  const feet = Math.floor(sixteenths / 192);
  const inches = Math.floor((sixteenths % 192) / 16);
  let top = sixteenths % 16;
  let bottom = 16;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const fraction = top > 0 ? `${top}/${bottom}` : "";
  const whole = inches > 0 || fraction === "" || feet > 0 ? `${inches}` : "";
  const inch = `${[whole, fraction].filter((part) => part !== "").join(" ")}"`;
  return `${metres < 0 && sixteenths > 0 ? "-" : ""}${feet > 0 ? `${feet}' ` : ""}${inch}`;
}

export function length(units: string, metres: number): string {
  if (!isMetric(units)) return feetAndInches(metres);
  return `${Math.round(metres * 1000)} mm`;
}

export function flow(units: string, cubic: number): string {
  return isMetric(units) ? `${(cubic * 1000).toFixed(2)} l/s` : `${(cubic * 15850.323).toFixed(1)} gpm`;
}

export function rainWords(units: string, mps: number): string {
  return isMetric(units) ? `${Math.round(mps * 3.6e6)} mm/h` : `${((mps * 3600) / INCH_M).toFixed(1)} in/h`;
}

export function mass(units: string, kilograms: number): string {
  return isMetric(units) ? `${kilograms.toFixed(1)} kg` : `${(kilograms / 0.45359237).toFixed(1)} lb`;
}

export function money(currency: string, minor: number, whole = false): string {
  try {
    const style = new Intl.NumberFormat("en", {
      style: "currency",
      currency,
      ...(whole ? { trailingZeroDisplay: "stripIfInteger" as const } : {}),
    });
    const digits = style.resolvedOptions().maximumFractionDigits ?? 2;
    const amount = minor / 10 ** digits;
    return style.format(whole ? Math.round(amount) : amount);
  } catch {
    return (minor / 100).toFixed(2); // a price list may name no known currency
  }
}
