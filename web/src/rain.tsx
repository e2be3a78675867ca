// SPDX-License-Identifier: Apache-2.0
// What if it rained harder? The slider asks the heart with another rain; the job stays as it is until told so.
import { type Doc, setAt, textAt, type Tree, valueAt, withValue } from "./doc";
import type { Draft } from "./draft";
import { isMetric } from "./figures";
import type { Result } from "./result";
import { texts } from "./texts";

const MPS_OF_INCH_H = 0.0254 / 3600;
const MPS_OF_MM_H = 0.001 / 3600;

export function rainTree(doc: Doc, rain: string | undefined): Tree | undefined {
  if (doc.tree === undefined || rain === undefined) return doc.tree;
  const minutes = textAt(doc.tree, "/place/rain/minutes");
  const years = textAt(doc.tree, "/place/rain/years");
  return withValue(doc.tree, "/place/rain", { intensity: rain, minutes, years });
}

interface RainProps {
  draft: Draft;
  result: Result;
  units: string;
  rain: string | undefined;
  onRain: (rain: string | undefined) => void;
}

export function RainSlider({ draft, result, units, rain, onRain }: RainProps) {
  const metric = isMetric(units);
  const unit = metric ? MPS_OF_MM_H : MPS_OF_INCH_H;
  const now = (result.rain?.intensity_mps ?? 0) / unit;
  const written = (value: number) => `${metric ? Math.round(value) : value.toFixed(1)} ${metric ? "mm/h" : "in/h"}`;
  const fromFile = valueAt(draft.doc.tree, "/place/rain/file") !== undefined;
  const top = metric ? 400 : 16;
  if (result.rain === undefined) return null;
  return (
    <section class="panel rain">
      <h2>
        <label for="rain-slider">{texts.rainAsk}</label>
      </h2>
      <div class="row">
        <input
          id="rain-slider"
          type="range"
          min={metric ? 20 : 1}
          max={top}
          step={metric ? 5 : 0.1}
          value={Math.min(now, top)}
          aria-valuetext={written(now)}
          onInput={(event) => onRain(written(Number(event.currentTarget.value)))}
        />
        <strong class="rain-now">{written(now)}</strong>
      </div>
      {rain === undefined ? (
        <p class="quiet">{texts.rainHelp}</p>
      ) : (
        <div class="row">
          <p>{texts.rainWhatIf(rain)}</p>
          <span class="grow" />
          <button type="button" onClick={() => onRain(undefined)}>
            {texts.rainBack}
          </button>
          {!fromFile && (
            <button
              type="button"
              onClick={() => {
                draft.edit(texts.stepRain, setAt(draft.doc, "/place/rain/intensity", rain));
                onRain(undefined);
              }}
            >
              {texts.rainKeep}
            </button>
          )}
        </div>
      )}
    </section>
  );
}
