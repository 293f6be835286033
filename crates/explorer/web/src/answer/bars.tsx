// Pictures of the answer: what each way brings in with its uncertainty, and what the answer hangs on.

import type { JSX } from "preact";
import type { Sensitivity, WorthPartial } from "../model/api";
import { fixed, lineOf } from "../model/show";

/** Round numbers between two ends. */
export function ticks(low: number, high: number): number[] {
  const rough = (high - low) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= rough) ?? power;
  const first = Math.ceil(low / step) * step;
  return Array.from({ length: Math.floor((high - first) / step + 1e-9) + 1 }, (_, i) => first + i * step);
}

const WIDTH = 640;
const LEFT = 205;
const RIGHT = 24;

function scaleOf(values: number[]): { at: (v: number) => number; marks: number[]; decimals: number } {
  const low = Math.min(0, ...values);
  const high = Math.max(0, ...values);
  const room = (high - low || 1) * 0.06;
  const [from, to] = [low - (low < 0 ? room : 0), high + room];
  const at = (v: number): number => LEFT + ((v - from) / (to - from)) * (WIDTH - LEFT - RIGHT);
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

/** Net return of each way against the first, with its interval, as seasons come in. */
export function NetBars({ partial }: { partial: WorthPartial }): JSX.Element | null {
  const rows = partial.alternatives.filter((a) => a.net_per_area);
  if (rows.length === 0) return null;
  const values = rows.flatMap((a) => [a.net_per_area!.low, a.net_per_area!.high]);
  const scale = scaleOf(values);
  const bottom = rows.length * 40 + 10;
  return (
    <figure class="bars">
      <figcaption>
        Net return against {partial.reference}, per {partial.area_word} and year: mean and interval from {partial.seasons} of{" "}
        {partial.wanted} seasons
      </figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${bottom + 24}`} role="img" aria-label={rows.map((r) => `${r.name}: ${r.net_text}`).join("; ")}>
        <Axis scale={scale} bottom={bottom} />
        {rows.map((row, i) => {
          const y = 26 + i * 40;
          const { mean, low, high } = row.net_per_area!;
          const { colour, dash } = lineOf(row.alternative);
          const [a, b, c] = [low, mean, high].map((v) => scale.at(v));
          return (
            <g key={row.name}>
              <text x={LEFT - 12} y={y + 5} text-anchor="end" class="row-name">{row.name.slice(0, 22)}</text>
              <line x1={a} x2={c} y1={y} y2={y} stroke={colour} stroke-width="3" stroke-dasharray={dash.join(" ")} />
              {[a, c].map((x, k) => (
                <line key={k} x1={x} x2={x} y1={y - 7} y2={y + 7} stroke={colour} stroke-width="2" />
              ))}
              <circle cx={b} cy={y} r="6" fill={colour} />
            </g>
          );
        })}
      </svg>
    </figure>
  );
}

/** What the answer hangs on: net return with each input at its low and its high end. */
export function Tornado({ item, area }: { item: Sensitivity; area: string }): JSX.Element | null {
  const rows = [...item.inputs].sort(
    (a, b) => Math.abs(b.net_high - b.net_low) - Math.abs(a.net_high - a.net_low),
  );
  if (rows.length === 0) return null;
  const scale = scaleOf(rows.flatMap((r) => [r.net_low, r.net_high]));
  const bottom = rows.length * 38 + 8;
  const words = rows.map((r) => `${r.input} from ${r.low_text} to ${r.high_text}: net ${r.net_low_text} to ${r.net_high_text}`);
  return (
    <figure class="bars">
      <figcaption>
        What “{item.name}” hangs on: net return per {area} and year, with one number at a time at the ends of its range
      </figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${bottom + 24}`} role="img" aria-label={words.join("; ")}>
        <Axis scale={scale} bottom={bottom} />
        {rows.map((row, i) => {
          const y = 12 + i * 38;
          const [a, b] = [scale.at(row.net_low), scale.at(row.net_high)];
          return (
            <g key={row.input}>
              <text x={LEFT - 12} y={y + 10} text-anchor="end" class="row-name">{row.input}{row.is_placeholder ? " *" : ""}</text>
              <text x={LEFT - 12} y={y + 25} text-anchor="end" class="row-range">
                ○ {row.low_text} – ● {row.high_text}
              </text>
              <line x1={a} x2={b} y1={y + 11} y2={y + 11} class="span" />
              <circle cx={a} cy={y + 11} r="5.5" class="end low" />
              <circle cx={b} cy={y + 11} r="5.5" class="end high" />
            </g>
          );
        })}
      </svg>
      {rows.filter((r) => r.turns_at_text).map((r) => (
        <p class="help" key={r.input}>
          The answer turns at {r.input} {r.turns_at_text}.
        </p>
      ))}
      {rows.some((r) => r.is_placeholder) && <p class="help">* a guess that nobody stands for</p>}
    </figure>
  );
}
