// A map's frame: its name, the lateral where it stands, and the place that is asked about.

import { useSignal, useSignalEffect } from "@preact/signals";
import type { JSX, RefObject, TargetedKeyboardEvent, TargetedPointerEvent } from "preact";
import type { SetTime } from "../model/api";
import * as store from "../model/store";
import { ringsPath } from "../picture/field";
import { endsOf } from "../picture/pipes";
import { momentNow } from "./timeline";

interface Props {
  index: number;
  /** Whose map it is, where it is not an alternative of the season that is shown. */
  name?: string;
  kind: string;
  canvas: RefObject<HTMLCanvasElement | null>;
  columns: number;
  rows: number;
}

/** Steps of the arrow keys, meters; with the shift key finer. */
const STEP_M = 6;
const FINE_M = 0.6;

function clampToField(x: number, y: number): { x: number; y: number } {
  const field = store.layout.value?.field;
  const within = (v: number, most: number): number => Math.min(most - 1e-3, Math.max(1e-3, v));
  return { x: within(x, field?.along_m ?? 1), y: within(y, field?.across_m ?? 1) };
}

function Lateral({ index }: { index: number }): JSX.Element | null {
  const y = useSignal<number | null>(null);
  const along = useSignal(0);
  const side = useSignal<SetTime["side"]>("right");
  useSignalEffect(() => {
    const moment = momentNow(index);
    const set = moment && !moment.isOver ? store.layout.value?.alternatives[index]?.passes[moment.pass]?.sets[moment.finished] : undefined;
    y.value = set && moment!.share > 0 ? set.y_m : null;
    side.value = set?.side ?? "right";
    along.value = store.layout.value?.alternatives[index]?.passes[moment?.pass ?? 0]?.along_m ?? 0;
  });
  const layout = store.layout.value;
  if (y.value === null || !layout) return null;
  const alternative = layout.alternatives[index];
  const at = layout.field.across_m - y.value;
  const [x1, x2] = alternative ? endsOf(alternative, side.value, along.value) : [0, 0];
  const line = { x1, x2, y1: at, y2: at };
  return (
    <g>
      <line {...line} class="halo" />
      <line {...line} class="lateral" />
    </g>
  );
}

export function MapFrame({ index, name: given, kind, canvas, columns, rows }: Props): JSX.Element {
  const name = given ?? store.season.value?.summary.alternatives[index]?.name ?? "";
  const field = store.layout.value?.field;
  const width = field?.along_m ?? 1;
  const height = field?.across_m ?? 1;
  const place = store.place.value;
  const pick = (event: TargetedPointerEvent<HTMLDivElement>): void => {
    const box = event.currentTarget.getBoundingClientRect();
    const x = ((event.clientX - box.left) / box.width) * width;
    const y = (1 - (event.clientY - box.top) / box.height) * height;
    store.place.value = clampToField(x, y);
  };
  const key = (event: TargetedKeyboardEvent<HTMLDivElement>): void => {
    const step = event.shiftKey ? FINE_M : STEP_M;
    const moves: Record<string, [number, number]> = {
      ArrowUp: [0, step],
      ArrowDown: [0, -step],
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
    };
    const move = moves[event.key];
    if (event.key === "Escape") store.place.value = null;
    if (!move) return;
    event.preventDefault();
    const from = place ?? { x: width / 2, y: height / 2 };
    store.place.value = clampToField(from.x + move[0], from.y + move[1]);
  };
  const mark = Math.max(width, height) / 40;
  const ratio = columns > 1 && rows > 1 ? columns / rows : width / height;
  return (
    <figure class="map">
      <figcaption>
        <b>{name}</b> <span>{kind}</span>
      </figcaption>
      <div
        class={`map-ground${field && field.boundary.length > 0 ? " beyond-edge" : ""}`}
        role="application"
        aria-roledescription="map"
        aria-label={`${name}, ${kind.toLowerCase()}. Use the arrow keys to pick a place; hold Shift for finer steps.`}
        tabIndex={0}
        style={{ aspectRatio: String(ratio) }}
        onPointerMove={(e) => {
          if (e.pointerType === "mouse") pick(e);
        }}
        onPointerDown={pick}
        onKeyDown={key}
      >
        <canvas ref={canvas} />
        <svg viewBox={`0 0 ${width} ${height}`} preserveAspectRatio="none" aria-hidden="true">
          {field && field.boundary.length > 0 && (
            <>
              <path d={ringsPath(field)} class="halo" fill="none" />
              <path d={ringsPath(field)} class="edge" fill="none" />
            </>
          )}
          {given === undefined && <Lateral index={index} />}
          {place && (
            <g class="mark">
              {["halo", "cross"].map((look) => (
                <path
                  key={look}
                  class={look}
                  d={`M${place.x - mark} ${height - place.y}h${2 * mark}M${place.x} ${height - place.y - mark}v${2 * mark}`}
                />
              ))}
            </g>
          )}
        </svg>
      </div>
    </figure>
  );
}
