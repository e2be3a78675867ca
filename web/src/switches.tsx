// SPDX-License-Identifier: Apache-2.0
// How things are shown: day, dark shop or sun; feet or metres. What was typed is never rewritten.
import { useEffect, useState } from "preact/hooks";
import { texts } from "./texts";

function remembered(): string {
  try {
    const kept = localStorage.getItem("eavesmith/display");
    if (kept !== null) return kept;
  } catch {
    // a file opened from disk may have no storage
  }
  return matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "day";
}

/** At the start, for rooms without the switch: the walk, the bench. */
export function showRemembered(): void {
  document.documentElement.dataset.display = remembered();
}

export function useDisplay(): [string, (display: string) => void] {
  const [display, setDisplay] = useState(remembered);
  useEffect(() => {
    document.documentElement.dataset.display = display;
  }, [display]);
  return [
    display,
    (next) => {
      setDisplay(next);
      try {
        localStorage.setItem("eavesmith/display", next);
      } catch {
        // shown now, not remembered
      }
    },
  ];
}

export function DisplaySwitch() {
  const [display, setDisplay] = useDisplay();
  return (
    <label class="display">
      <span class="quiet">{texts.display}</span>{" "}
      <select value={display} onChange={(event) => setDisplay(event.currentTarget.value)}>
        {Object.entries(texts.displays).map(([value, name]) => (
          <option key={value} value={value}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}

export function UnitsSwitch({ units, onUnits }: { units: string; onUnits: (units: string) => void }) {
  return (
    <label class="display">
      <span class="quiet">{texts.unitsShown}</span>{" "}
      <select value={units} onChange={(event) => onUnits(event.currentTarget.value)}>
        <option value="ft-in">{texts.feet}</option>
        <option value="mm">{texts.millimetres}</option>
      </select>
    </label>
  );
}
