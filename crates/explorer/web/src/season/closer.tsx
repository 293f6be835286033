// A closer look at one place: the water of the whole season on the engine's own cells, every
// alternative beside the others, in the colors of the maps.

import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { api, type CloserLook } from "../model/api";
import { lengthText } from "../model/show";
import * as store from "../model/store";
import { deviation, paint, tables, type Scale } from "./color";
import { DEVIATION, hasEdge } from "./maps";

const REST_MS = 150;
/** Side of the square in outlet spacings: a place with its neighbors. */
const SPACINGS = 3;
const USUAL_SPACING_M = 18;

function spanHere(): number {
  const outlets = store.layout.value?.alternatives.map((a) => a.outlets_y_m) ?? [];
  const spacings = outlets.map((y) => (y[1] ?? NaN) - (y[0] ?? NaN)).filter((m) => m > 0);
  return SPACINGS * (spacings.length > 0 ? Math.max(...spacings) : USUAL_SPACING_M);
}

function useLook(): CloserLook | null {
  const [look, setLook] = useState<{ run: string; found: CloserLook } | null>(null);
  const place = store.place.value;
  const run = store.season.value?.run;
  const span = spanHere();
  useEffect(() => {
    if (!place || !run) return setLook(null);
    let isCurrent = true;
    const timer = window.setTimeout(() => {
      api.closer(run, place.x, place.y, span).then(
        (found) => isCurrent && setLook({ run, found }),
        () => isCurrent && setLook(null),
      );
    }, REST_MS);
    return () => {
      isCurrent = false;
      window.clearTimeout(timer);
    };
  }, [place?.x, place?.y, run, span]);
  // A look at another season is none.
  return look && look.run === run ? look.found : null;
}

function Piece({ look, index, name }: { look: CloserLook; index: number; name: string }): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const isDeviation = store.show.value === "deviation";
  const season = store.season.value!.summary;
  const passes = season.alternatives[index]?.passes ?? [];
  const mean = passes[passes.length - 1]?.cumulative_mean_mm ?? null;
  const [low, high] = season.depth_scale_mm;
  const known = tables.value;
  useEffect(() => {
    const depths = Float32Array.from(look.depths_mm[index] ?? [], (depth) => depth ?? NaN);
    const scale: Scale = isDeviation ? DEVIATION : { low, high, table: "depth" };
    if (canvas.current) paint(canvas.current, isDeviation && mean ? deviation(depths, mean) : depths, look.columns, scale);
  }, [look, index, isDeviation, mean, low, high, known]);
  return (
    <figure class="piece">
      <figcaption>{name}</figcaption>
      <canvas ref={canvas} class={hasEdge() ? "beyond-edge" : undefined} role="img" aria-label={`The ground around the place under ${name}`} style={{ aspectRatio: String(look.columns / look.rows) }} />
    </figure>
  );
}

export function Closer(): JSX.Element | null {
  const look = useLook();
  if (!look || !store.season.value) return null;
  const [wide, high] = [look.columns * look.cell_m, look.rows * look.cell_m];
  return (
    <div class="closer">
      <h4>
        Close-up: {lengthText(wide, 0)} by {lengthText(high, 0)}, the whole season’s water
      </h4>
      <div class="pieces">
        {store.season.value.summary.alternatives.slice(0, look.depths_mm.length).map(({ name }, i) => (
          <Piece key={name} look={look} index={i} name={name} />
        ))}
      </div>
    </div>
  );
}
