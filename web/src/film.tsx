// SPDX-License-Identifier: Apache-2.0
// The storm of an hour, or of a gauge's record, as a film along the tape: the rain of each minute, the water it brings
// into the gutters as they are laid out, and where it goes over the edge.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Drawing, Film } from "./heart";
import { rainWords } from "./figures";
import type { Result, Storm } from "./result";
import { heartNow, type Solved } from "./solver";
import { layFlows, type Tape } from "./tape";
import { texts } from "./texts";

const FRAME_MS = 150;
const FRAMES_MOST = 180;
const WIDE = 600;
const HIGH = 64;

type FilmReach = NonNullable<Film["reaches"]>[string];

function depthOn(level: number[] | undefined, x: number): number {
  if (level === undefined) return 0;
  for (let at = 2; at + 1 < level.length; at += 2) {
    const [x1 = 0, d1 = 0, x2 = 0, d2 = 0] = level.slice(at - 2, at + 2);
    if (x <= x2) return x2 > x1 ? d1 + ((d2 - d1) * (x - x1)) / (x2 - x1) : d2;
  }
  return level.at(-1) ?? 0;
}

/** Place and depth along a reach in a rain, joined straight between the two rains that were asked next to it. */
export function depthsInRain(reach: FilmReach, rain: number): number[] {
  const count = reach.levels.length;
  if (count === 0) return [];
  const place = Math.min(1, Math.sqrt(Math.max(0, rain) / reach.top_mps)) * count;
  const above = Math.min(count, Math.floor(place) + 1);
  const share = place - (above - 1);
  const upper = reach.levels[above - 1] ?? [];
  const lower = reach.levels[above - 2];
  const depths: number[] = [];
  for (let at = 0; at + 1 < upper.length; at += 2) {
    const [x = 0, deep = 0] = upper.slice(at, at + 2);
    const under = depthOn(lower, x);
    depths.push(x, under + (deep - under) * share);
  }
  return depths;
}

export const goesOver = (reach: FilmReach, rain: number): boolean => reach.limit_mps !== undefined && rain > reach.limit_mps;

/** The rain of a minute as a reach feels it: less than falls where an upper gutter went over. */
export const rainOn = (reach: FilmReach, { film, storm, minute }: Shot): number => reach.brought?.[storm]?.[minute] ?? film.storms?.[storm]?.[minute] ?? 0;

/** The tape as it stands in one minute. */
export function tapeOfShot({ tape, result, drawing, shot }: { tape: Tape; result: Result; drawing: Drawing; shot: Shot }): Tape {
  const { film } = shot;
  const water = Object.fromEntries(
    Object.entries(drawing.water ?? {}).map(([name, one]) => {
      const reach = film.reaches?.[name];
      return [name, { ...one, depths: reach === undefined ? [] : depthsInRain(reach, rainOn(reach, shot)) }];
    }),
  );
  const flows = layFlows(result, { ...drawing, water }, tape.eaves).map((flow) => {
    const reach = film.reaches?.[flow.name];
    return { ...flow, over: reach !== undefined && goesOver(reach, rainOn(reach, shot)) };
  });
  return { ...tape, flows };
}

export interface Shot {
  film: Film;
  storm: number;
  minute: number;
}

const stormWords = (storm: Storm | undefined) =>
  storm?.of === "record" ? texts.filmRecord((storm.began ?? "").slice(0, 10)) : texts.filmTable(storm?.years ?? 0);

/** Rain of each minute as bars; the minute shown stands out. */
function Bars({ rains, minute }: { rains: number[]; minute: number }) {
  const most = Math.max(...rains, 1e-12);
  const wide = WIDE / rains.length;
  const tops = rains.map((rain, index) => `${(index * wide).toFixed(2)},${(HIGH - (rain / most) * HIGH).toFixed(2)} ${((index + 1) * wide).toFixed(2)},${(HIGH - (rain / most) * HIGH).toFixed(2)}`);
  return (
    <svg class="bars" viewBox={`0 0 ${WIDE} ${HIGH}`} preserveAspectRatio="none" aria-hidden="true">
      <polygon class="rain-bar" points={`0,${HIGH} ${tops.join(" ")} ${WIDE},${HIGH}`} />
      <path class="now" d={`M${(minute + 0.5) * wide} 0V${HIGH}`} />
    </svg>
  );
}

interface FilmProps {
  solved: Solved;
  units: string;
  shot: Shot | undefined;
  onShot: (shot: Shot | undefined) => void;
}

export function FilmPanel({ solved, units, shot, onShot }: FilmProps) {
  const [plays, setPlays] = useState(false);
  const newest = useRef(shot);
  newest.current = shot;
  const storms = useMemo(() => Object.values(solved.result?.storms ?? {}), [solved]);
  useEffect(() => {
    // another answer: the film goes on in it, at the same minute
    if (newest.current === undefined) return;
    const film = heartNow()?.film() ?? {};
    const rains = film.storms?.[newest.current.storm];
    onShot(rains === undefined ? undefined : { ...newest.current, film, minute: Math.min(newest.current.minute, rains.length - 1) });
  }, [solved]);
  const rains = shot?.film.storms?.[shot.storm] ?? [];
  useEffect(() => {
    if (!plays || rains.length === 0) return undefined;
    const step = Math.max(1, Math.ceil(rains.length / FRAMES_MOST));
    const timer = setInterval(() => {
      const now = newest.current;
      if (now === undefined) return;
      if (now.minute + 1 >= rains.length) setPlays(false);
      else onShot({ ...now, minute: Math.min(now.minute + step, rains.length - 1) });
    }, FRAME_MS);
    return () => clearInterval(timer);
  }, [plays, shot?.storm]);
  if (!solved.byHeart || storms.length === 0) return null;
  const open = (storm: number) => {
    const film = heartNow()?.film() ?? {};
    const all = film.storms?.[storm];
    if (all === undefined) return;
    setPlays(false);
    onShot({ film, storm, minute: all.indexOf(Math.max(...all)) });
  };
  if (shot === undefined)
    return (
      <section class="panel film">
        <h2>{texts.filmHead}</h2>
        <p class="quiet">{texts.filmHelp}</p>
        <div class="row">
          {storms.map((storm, index) => (
            <button type="button" key={index} onClick={() => open(index)}>
              {stormWords(storm)}
            </button>
          ))}
        </div>
      </section>
    );
  const rain = rains[shot.minute] ?? 0;
  const over = Object.entries(shot.film.reaches ?? {}).filter(([, reach]) => goesOver(reach, rainOn(reach, shot))).map(([name]) => name);
  const said = texts.filmMinute(shot.minute + 1, rains.length, rainWords(units, rain));
  return (
    <section class="panel film">
      <div class="row">
        <h2>
          <label for="film-minute">{stormWords(storms[shot.storm])}</label>
        </h2>
        <span class="grow" />
        <button type="button" aria-pressed={plays} onClick={() => {
          if (!plays && shot.minute + 1 >= rains.length) onShot({ ...shot, minute: 0 });
          setPlays(!plays);
        }}>
          {plays ? texts.filmStop : texts.filmPlay}
        </button>
        <button type="button" onClick={() => {
          setPlays(false);
          onShot(undefined);
        }}>
          {texts.close}
        </button>
      </div>
      <Bars rains={rains} minute={shot.minute} />
      <input
        id="film-minute"
        type="range"
        min={0}
        max={rains.length - 1}
        step={1}
        value={shot.minute}
        aria-valuetext={said}
        onInput={(event) => onShot({ ...shot, minute: Number(event.currentTarget.value) })}
      />
      <p>
        <strong>{said}</strong>
      </p>
      <p class={over.length > 0 ? "film-over" : "quiet"} role="status">
        {over.length > 0 ? `✕ ${texts.filmOver(over.join(", "))}` : `✓ ${texts.filmHolds}`}
      </p>
    </section>
  );
}
