// Pictures of the answer: net return of each alternative with its likely range, and what the answer hangs on.
// Drawn as wide as there is room, so that letters keep their size; where it is narrow, words stand
// above their bar instead of beside it.

import type { JSX, RefObject } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Against, Amount, WorthPartial } from "../model/api";
import { fixed, lineOf } from "../model/show";

/** Round numbers between two ends. */
export function ticks(low: number, high: number): number[] {
  const rough = (high - low) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= rough) ?? power;
  const first = Math.ceil(low / step) * step;
  return Array.from({ length: Math.floor((high - first) / step + 1e-9) + 1 }, (_, i) => first + i * step);
}

const number = (value: Amount): number => value.number ?? 0;

const WIDEST = 640;
const NARROW = 480;
const RIGHT = 24;

/** Where things stand in a picture of this width. */
interface Room {
  width: number;
  /** Where the bars begin. */
  left: number;
  isNarrow: boolean;
}

const roomOf = (width: number): Room =>
  width < NARROW ? { width, left: 14, isNarrow: true } : { width, left: 205, isNarrow: false };

/** The room that a picture has, followed as it changes. */
function useRoom(): [RefObject<HTMLDivElement | null>, Room] {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(WIDEST);
  useLayoutEffect(() => {
    const measure = (): void => setWidth(Math.max(220, Math.min(WIDEST, box.current?.clientWidth ?? WIDEST)));
    measure();
    const watch = new ResizeObserver(measure);
    if (box.current) watch.observe(box.current);
    return () => watch.disconnect();
  }, []);
  return [box, roomOf(width)];
}

function scaleOf(values: number[], room: Room): { at: (v: number) => number; marks: number[]; decimals: number } {
  const low = Math.min(0, ...values);
  const high = Math.max(0, ...values);
  const spare = (high - low || 1) * 0.06;
  const [from, to] = [low - (low < 0 ? spare : 0), high + spare];
  const at = (v: number): number => room.left + ((v - from) / (to - from)) * (room.width - room.left - RIGHT);
  const marks = ticks(from, to);
  const apart = (marks[1] ?? 1) - (marks[0] ?? 0);
  return { at, marks, decimals: apart >= 1 ? 0 : apart >= 0.1 ? 1 : 2 };
}

function Axis({ scale, bottom }: { scale: ReturnType<typeof scaleOf>; bottom: number }): JSX.Element {
  return (
    <g class="axis">
      {scale.marks.map((v) => (
        <g key={v}>
          <line x1={scale.at(v)} x2={scale.at(v)} y1="6" y2={bottom} class={Math.abs(v) < 1e-9 ? "zero" : "rule"} />
          <text x={scale.at(v)} y={bottom + 16} text-anchor="middle">{fixed(v, scale.decimals)}</text>
        </g>
      ))}
    </g>
  );
}

/** A row’s words: beside the bar, or above it. */
function RowWords({ room, top, lines }: { room: Room; top: number; lines: [string, string][] }): JSX.Element {
  const where = room.isNarrow ? { x: 0, "text-anchor": "start" as const } : { x: room.left - 12, "text-anchor": "end" as const };
  return (
    <>
      {lines.map(([kind, words], k) => (
        <text key={kind} {...where} y={top + 15 * k} class={kind}>{words}</text>
      ))}
    </>
  );
}

/** Net return of each alternative against the baseline, with its likely range, as seasons come in. */
export function NetBars({ partial }: { partial: WorthPartial }): JSX.Element | null {
  const [box, room] = useRoom();
  const rows = partial.rivals.flatMap(({ index, name, net }) => (net ? [{ index, name, net }] : []));
  if (rows.length === 0) return null;
  const ends = rows.map(({ net }) => [net.interval.low, net.mean, net.interval.high].map(number));
  const scale = scaleOf(ends.flat(), room);
  const tall = room.isNarrow ? 50 : 40;
  const bottom = rows.length * tall + 10;
  return (
    <figure class="bars">
      <figcaption>
        Net return compared with {partial.baseline}, per {partial.area_word} per year: mean and likely range after {partial.seasons_finished} of{" "}
        {partial.seasons_wanted} seasons
      </figcaption>
      <div ref={box}>
        <svg viewBox={`0 0 ${room.width} ${bottom + 24}`} role="img" aria-label={rows.map((r) => `${r.name}: ${r.net.text}`).join("; ")}>
          <Axis scale={scale} bottom={bottom} />
          {rows.map((row, i) => {
            const y = (room.isNarrow ? 40 : 26) + i * tall;
            const { color, dash } = lineOf(row.index);
            const [a, b, c] = ends[i]!.map((v) => scale.at(v));
            return (
              <g key={row.name}>
                <RowWords room={room} top={room.isNarrow ? y - 18 : y + 5} lines={[["row-name", row.name.slice(0, room.isNarrow ? 30 : 22)]]} />
                <line x1={a} x2={c} y1={y} y2={y} stroke={color} stroke-width="3" stroke-dasharray={dash.join(" ")} />
                {[a, c].map((x, k) => (
                  <line key={k} x1={x} x2={x} y1={y - 7} y2={y + 7} stroke={color} stroke-width="2" />
                ))}
                <circle cx={b} cy={y} r="6" fill={color} />
              </g>
            );
          })}
        </svg>
      </div>
    </figure>
  );
}

/** What the answer hangs on: net return with each input at its low and its high end. */
export function Tornado({ name, against, area }: { name: string; against: Against; area: string }): JSX.Element | null {
  const [box, room] = useRoom();
  // The widest swing stands first.
  const rows = against.net ? against.swings.filter((swing) => swing.matters) : [];
  if (rows.length === 0) return null;
  const ends = rows.map(({ net: [low, , high] }) => [number(low), number(high)] as const);
  const scale = scaleOf(ends.flat(), room);
  const tall = room.isNarrow ? 62 : 38;
  const bottom = rows.length * tall + 8;
  const words = rows.map(({ label, input_texts: price, net }) => `${label} from ${price[0]} to ${price[2]}: net ${net[0].text} to ${net[2].text}`);
  return (
    <figure class="bars">
      <figcaption>
        What the answer on “{name}” hangs on: net return per {area} per year, with one number at a time moved to the ends of its range
      </figcaption>
      <div ref={box}>
        <svg viewBox={`0 0 ${room.width} ${bottom + 24}`} role="img" aria-label={words.join("; ")}>
          <Axis scale={scale} bottom={bottom} />
          {rows.map((row, i) => {
            const top = 22 + i * tall;
            const y = room.isNarrow ? top + 28 : top + 1;
            const [a, b] = [scale.at(ends[i]![0]), scale.at(ends[i]![1])];
            const lines: [string, string][] = [
              ["row-name", `${row.label}${row.is_placeholder ? " *" : ""}`],
              ["row-range", `○ ${row.input_texts[0]} – ● ${row.input_texts[2]}`],
            ];
            return (
              <g key={row.input}>
                <RowWords room={room} top={top} lines={lines} />
                <line x1={a} x2={b} y1={y} y2={y} class="span" />
                <circle cx={a} cy={y} r="5.5" class="end low" />
                <circle cx={b} cy={y} r="5.5" class="end high" />
              </g>
            );
          })}
        </svg>
      </div>
      {rows.filter((r) => r.break_even_text).map((r) => (
        <p class="help" key={r.input}>
          The answer changes at {r.label} {r.break_even_text}.
        </p>
      ))}
      {rows.some((r) => r.is_placeholder) && <p class="help">* a placeholder until you enter your own</p>}
    </figure>
  );
}
