// One outlet seen close: where the lateral can stand, where not, and a lateral that is rolled there
// by hand, with buttons or with the arrow keys.

import type { JSX, TargetedKeyboardEvent, TargetedPointerEvent } from "preact";
import { useRef } from "preact/hooks";
import type { AlternativeLayout, FieldLayout, StopPlace } from "../model/api";
import { fixed, lengthText, shiftText } from "../model/show";
import * as store from "../model/store";

interface Props {
  field: FieldLayout;
  alternative: AlternativeLayout;
  stops: StopPlace[];
  cursor: number;
  onMove: (index: number) => void;
}

export function turnsText(turns: number | null): string {
  if (turns === null) return "";
  const size = Math.abs(turns);
  const words = size === 1 ? "1 turn" : `${fixed(size, size % 1 === 0 ? 0 : 1)} turns`;
  return turns === 0 ? "no turn" : `${words} ${turns > 0 ? "forward" : "back"}`;
}

/** A stop in one line: how it is reached, where it lies, whether it is possible and why. */
export function stopWords(stop: StopPlace): string {
  const turns = turnsText(stop.turns);
  const where = shiftText(stop.across_m, stop.along_m);
  return `${turns ? `${turns}, ` : ""}${where}. ${stop.reachable ? "Yes" : "No"}: ${stop.reason}.`;
}

function nearest(stops: StopPlace[], meters: number): number {
  let best = 0;
  stops.forEach((s, i) => {
    if (Math.abs(s.across_m - meters) < Math.abs((stops[best]?.across_m ?? 0) - meters)) best = i;
  });
  return best;
}

export function CloseUp({ field, alternative, stops, cursor, onMove }: Props): JSX.Element {
  const svg = useRef<SVGSVGElement>(null);
  const outlets = alternative.outlets_y_m;
  const middle = Math.floor(outlets.length / 2);
  const spacing = (outlets[1] ?? 18) - (outlets[0] ?? 0) || field.across_m;
  const apart = (alternative.sprinklers_x_m[1] ?? 12) - (alternative.sprinklers_x_m[0] ?? 0) || spacing;
  const farthest = Math.max(spacing, ...stops.map((s) => Math.abs(s.across_m)));
  const half = farthest * 1.15;
  const width = half * 2.1;
  const u = half / 50;
  const now = stops[cursor] ?? stops[0];
  const at = now?.across_m ?? 0;
  const first = apart / 2 + (now?.along_m ?? 0);

  // Stops that lie close together are not all labeled.
  const closest = Math.min(spacing, ...stops.slice(1).map((s, i) => s.across_m - stops[i]!.across_m).filter((d) => d > 1e-6));
  const every = Math.ceil((4.4 * u) / closest);
  const zero = Math.max(0, stops.findIndex((s) => Math.abs(s.across_m) < 1e-6));

  const metersAt = (event: PointerEvent): number => {
    const box = svg.current?.getBoundingClientRect();
    return box ? half - ((event.clientY - box.top) / box.height) * 2 * half : 0;
  };
  const drag = (event: TargetedPointerEvent<SVGSVGElement>): void => {
    if (event.type === "pointerdown") {
      if (event.button !== 0) return;
      event.currentTarget.setPointerCapture(event.pointerId);
      store.isDragging.value = true;
    }
    if (!store.isDragging.value) return;
    event.preventDefault();
    const to = nearest(stops, metersAt(event));
    if (to !== cursor) onMove(to);
  };
  const drop = (): void => {
    store.isDragging.value = false;
  };
  const key = (event: TargetedKeyboardEvent<SVGGElement>): void => {
    const steps: Record<string, number> = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1 };
    const to = event.key === "Home" ? 0 : event.key === "End" ? stops.length - 1 : cursor + (steps[event.key] ?? NaN);
    if (Number.isNaN(to)) return;
    event.preventDefault();
    onMove(Math.min(stops.length - 1, Math.max(0, to)));
  };
  const wheels = Array.from({ length: 4 }, (_, i) => first + apart * (i + 0.5)).filter((x) => x < width * 0.9 - 27 * u);

  return (
    <svg
      ref={svg}
      class="closeup"
      viewBox={`${-0.1 * width} ${-half} ${width} ${2 * half}`}
      onPointerDown={drag}
      onPointerMove={drag}
      onPointerUp={drop}
      onPointerCancel={drop}
    >
      <g aria-hidden="true">
        <rect x={-0.1 * width} y={-half} width={width} height={2 * half} class="ground" />
        <rect x={0} y={-alternative.reach_m} width={width * 0.9} height={2 * alternative.reach_m} class="reach" />
        <text x={4 * u} y={alternative.reach_m + 4.6 * u} text-anchor="start" font-size={4 * u} class="note">
          reach {lengthText(alternative.reach_m)}
        </text>
        <line x1={0} x2={0} y1={-half} y2={half} class="mainline" stroke-width={1.6 * u} />
        {[-1, 0, 1].map((k) => (
          <g key={k}>
            <rect x={-2.4 * u} y={-k * spacing - 2 * u} width={4.8 * u} height={4 * u} class="outlet" />
            {outlets[middle + k] !== undefined && (
              <text x={-3.6 * u} y={-k * spacing + 1.4 * u} text-anchor="end" font-size={4 * u} class="note">
                {middle + k + 1}
              </text>
            )}
          </g>
        ))}
        {stops.map((s, i) => (
          <g key={i} class={s.reachable ? "place yes" : "place no"}>
            <line x1={6 * u} x2={width * 0.9 - 22 * u} y1={-s.across_m} y2={-s.across_m} stroke-width={0.3 * u} stroke-dasharray={s.reachable ? undefined : `${1.2 * u} ${1.6 * u}`} />
            {s.reachable ? (
              <circle cx={width * 0.9 - 20 * u} cy={-s.across_m} r={1.5 * u} />
            ) : (
              <path d={`M${width * 0.9 - 21.4 * u} ${-s.across_m - 1.4 * u}l${2.8 * u} ${2.8 * u}m0 ${-2.8 * u}l${-2.8 * u} ${2.8 * u}`} stroke-width={0.6 * u} />
            )}
            {(i - zero) % every === 0 && (
              <text x={width * 0.9 - 2 * u} y={-s.across_m + 1.3 * u} text-anchor="end" font-size={3.8 * u}>
                {lengthText(s.across_m)}
              </text>
            )}
          </g>
        ))}
        <path d={`M0 0Q${first * 0.3} ${-at * 0.9} ${first} ${-at}`} class={now?.reachable ? "hose" : "hose short"} stroke-width={1.1 * u} />
      </g>
      <g
        role="slider"
        tabindex={0}
        aria-label="Where the lateral stands"
        aria-orientation="vertical"
        aria-valuemin={0}
        aria-valuemax={stops.length - 1}
        aria-valuenow={cursor}
        aria-valuetext={now ? stopWords(now) : ""}
        class={`lateral-grip${now?.reachable ? "" : " impossible"}`}
        onKeyDown={key}
      >
        <rect x={first - 2 * u} y={-at - 5 * u} width={width * 0.9 - first - 24 * u} height={10 * u} rx={2 * u} class="grip" />
        <line x1={first} x2={width * 0.9 - 26 * u} y1={-at} y2={-at} class="lateral" stroke-width={1.8 * u} />
        {alternative.travel_per_turn_m !== null && wheels.map((x) => (
          <rect key={x} x={x - 0.8 * u} y={-at - 4 * u} width={1.6 * u} height={8 * u} rx={0.8 * u} class="wheel" />
        ))}
        {[0, 1, 2, 3, 4].map((k) => first + apart * k).filter((x) => x < width * 0.9 - 26 * u).map((x) => (
          <circle key={x} cx={x} cy={-at} r={1.7 * u} class="sprinkler" stroke-width={0.6 * u} />
        ))}
      </g>
    </svg>
  );
}
