// Playing the season: play, pause, scrub; a clock and the wind of the hour.

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Compass } from "../picture/field";
import { clock, compass, speedText } from "../model/show";
import * as store from "../model/store";
import { hourNow, momentNow, neighborPass, span } from "./timeline";

/** Hours of the season that pass in a second. */
const PACES = [
  { label: "a set in two seconds", hours: 6 },
  { label: "a day a second", hours: 24 },
  { label: "a week a second", hours: 168 },
];

const startOf = (): string =>
  store.season.value?.summary.start ??
  `${String((store.scenario.value.season as { start?: string } | undefined)?.start ?? "").slice(0, "YYYY-MM-DD".length)}T00:00`;

const wantsStill = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;

/** Moves the hour on while playing. Who wants little motion is shown the end of each pass. */
function usePlaying(pace: number): void {
  const isPlaying = store.isPlaying.value;
  useEffect(() => {
    if (!isPlaying) return;
    const end = (): number => span(store.season.value!.summary)[1];
    const arrive = (hour: number): void => {
      store.hour.value = hour;
      if (hour >= end()) store.isPlaying.value = false;
    };
    if (wantsStill()) {
      const timer = window.setInterval(() => arrive(Math.min(end(), neighborPass(1))), 1200);
      return () => window.clearInterval(timer);
    }
    let frame = 0;
    let last = performance.now();
    const go = (now: number): void => {
      if (!store.season.value) return;
      const seconds = Math.min(0.25, (now - last) / 1000);
      last = now;
      arrive(Math.min(end(), hourNow() + seconds * pace));
      frame = requestAnimationFrame(go);
    };
    frame = requestAnimationFrame(go);
    return () => cancelAnimationFrame(frame);
  }, [isPlaying, pace]);
}

function Wind(): JSX.Element {
  const shown = store.season.value;
  const hour = Math.floor(hourNow() + 1e-9);
  const wind = shown?.summary.wind.find((w) => w.hour_h === hour);
  const bearing = store.layout.value?.field.travel_bearing_deg ?? 0;
  const turn = wind ? wind.from_deg + 180 - bearing : 0;
  const length = wind ? Math.min(1, 0.25 + wind.speed_m_s / 8) : 0;
  return (
    <div class="wind">
      <svg viewBox="-20 -20 40 40" width="56" height="56" aria-hidden="true">
        <circle r="18.5" class="compass-ring" />
        {wind && wind.speed_m_s > 0.05 && (
          <g transform={`rotate(${turn}) scale(${length})`}>
            <path d="M0-16L7-5H2V16H-2V-5H-7Z" class="wind-arrow" />
          </g>
        )}
      </svg>
      <span>
        {wind ? (
          <>
            <b>{speedText(wind.speed_m_s)}</b> from {compass(wind.from_deg)}
          </>
        ) : (
          "no water"
        )}
      </span>
    </div>
  );
}

function Skip({ by }: { by: 1 | -1 }): JSX.Element {
  return (
    <svg width="18" height="16" viewBox="-9 -8 18 16" aria-hidden="true">
      <path d="M-7-6L3 0L-7 6ZM5-6H7V6H5Z" fill="currentColor" transform={`scale(${by} 1)`} />
    </svg>
  );
}

function Clock(): JSX.Element {
  const { day, time } = clock(startOf(), hourNow());
  return (
    <p class="clock">
      <b>{time}</b> <span>{day}</span>
    </p>
  );
}

export function momentWords(index: number): string {
  const summary = store.season.value?.summary;
  const moment = momentNow(index);
  const passes = summary?.alternatives[index]?.passes;
  if (!moment || !passes) return "";
  if (moment.pass < 0) return "before the first water";
  const letter = passes[moment.pass]?.letter ?? "";
  const sets = store.layout.value?.alternatives[index]?.passes[moment.pass]?.sets.length ?? 0;
  const where = `pass ${moment.pass + 1} of ${passes.length}, stop ${letter}`;
  return moment.isOver ? `${where}, finished` : `${where}, set ${Math.min(sets, moment.finished + 1)} of ${sets}`;
}

function Scrub(): JSX.Element {
  const [from, to] = span(store.season.value!.summary);
  const now = hourNow();
  const { day, time } = clock(startOf(), now);
  return (
    <input
      type="range"
      class="scrub"
      min={from}
      max={to}
      step={1}
      value={now}
      aria-label="Time in the season"
      aria-valuetext={`${day}, ${time}, ${momentWords(0)}`}
      onInput={(e) => {
        store.isPlaying.value = false;
        const wanted = Number(e.currentTarget.value);
        store.hour.value = wanted >= to - 0.5 ? Infinity : wanted;
      }}
    />
  );
}

export function Player(): JSX.Element | null {
  const [pace, setPace] = useState(1);
  usePlaying(PACES[pace]!.hours);
  if (!store.season.value) return null;
  const toggle = (): void => {
    const [from, to] = span(store.season.value!.summary);
    if (!store.isPlaying.value && hourNow() >= to) store.hour.value = from;
    store.isPlaying.value = !store.isPlaying.value;
  };
  const jump = (by: 1 | -1): void => {
    store.isPlaying.value = false;
    store.hour.value = neighborPass(by);
  };
  return (
    <div class="player">
      <div class="buttons">
        <button type="button" aria-label="Previous pass" onClick={() => jump(-1)}>
          <Skip by={-1} />
        </button>
        <button type="button" class="play" onClick={toggle}>
          {store.isPlaying.value ? "Pause" : "Play"}
        </button>
        <button type="button" aria-label="Next pass" onClick={() => jump(1)}>
          <Skip by={1} />
        </button>
      </div>
      <Scrub />
      <label class="pace">
        Pace
        <select value={pace} onChange={(e) => setPace(Number(e.currentTarget.value))}>
          {PACES.map((p, i) => (
            <option key={p.hours} value={i}>
              {p.label}
            </option>
          ))}
        </select>
      </label>
      <Clock />
      <Wind />
      <div class="north">
        <Compass up={store.layout.value?.field.travel_bearing_deg ?? 0} size={44} />
      </div>
    </div>
  );
}
