// The maps: for each alternative the pass under way and all water so far, on one scale each.

import { effect } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { grid } from "../model/grids";
import { depth, depthWord, fixed } from "../model/show";
import * as store from "../model/store";
import { deviation, meanWithin, paint, tables, type Scale } from "./colour";
import { MapFrame } from "./frame";
import { Stage } from "./stage";
import { hourNow, momentNow, momentOf } from "./timeline";

export const SHOWS: { key: string; label: string; needsWorth: boolean }[] = [
  { key: "depth", label: "Depth", needsWorth: false },
  { key: "deviation", label: "Deviation", needsWorth: false },
  { key: "yield", label: "Yield", needsWorth: true },
  { key: "percolation", label: "Percolation", needsWorth: true },
];

export const DEVIATION: Scale = { low: -0.5, high: 0.5, table: "deviation" };

/** A strip of colours with its ends, middle and unit. */
export function Legend({ scale, unit, tell }: { scale: Scale; unit: string; tell: (v: number) => string }): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const known = tables.value[scale.table];
  useEffect(() => {
    const ramp = Float32Array.from({ length: 200 }, (_, i) => i / 199);
    if (canvas.current && known) paint(canvas.current, ramp, 200, { low: 0, high: 1, table: scale.table });
  }, [scale.table, known]);
  const stops = [0, 0.25, 0.5, 0.75, 1].map((share) => scale.low + share * (scale.high - scale.low));
  return (
    <div class="legend">
      <canvas ref={canvas} width="200" height="1" aria-hidden="true" />
      <div class="legend-stops">
        {stops.map((value) => (
          <span key={value}>{tell(value)}</span>
        ))}
      </div>
      <span class="legend-unit">{unit}</span>
    </div>
  );
}

/** Cells between the edge and the interior: one outlet spacing. */
function marginOf(index: number, cell: number): number {
  const outlets = store.layout.value?.alternatives[index]?.outlets_y_m ?? [];
  const spacing = (outlets[1] ?? 0) - (outlets[0] ?? 0);
  return spacing > 0 ? Math.round(spacing / cell) : 0;
}

/** Depth or deviation of one alternative, followed through time. */
function WaterMaps({ index }: { index: number }): JSX.Element {
  const shown = store.season.value!;
  const { columns, rows, cell_m: cell } = shown.summary.grid;
  const soFar = useRef<HTMLCanvasElement>(null);
  const alone = useRef<HTMLCanvasElement>(null);
  const which = store.maps.value;
  useEffect(() => {
    let frame = 0;
    const draw = (): void => {
      frame = 0;
      const alternative = shown.summary.alternatives[index];
      if (!alternative) return;
      const moment = momentOf(alternative, store.layout.peek()?.alternatives[index], hourNow());
      const depths = stage.depths(moment);
      if (!depths) return;
      const isDeviation = store.show.peek() === "deviation";
      const margin = marginOf(index, cell);
      // After a whole pass the engine's own mean is known; while one is laid down that of the shown cells.
      const told = moment.isOver ? alternative.passes[moment.pass] : undefined;
      const put = (canvas: HTMLCanvasElement | null, values: Float32Array, ends: [number, number], mean?: number | null): void => {
        if (!canvas) return;
        const scale: Scale = isDeviation ? DEVIATION : { low: ends[0], high: ends[1], table: "depth" };
        const painted = isDeviation ? deviation(values, mean ?? meanWithin(values, columns, margin)) : values;
        paint(canvas, painted, columns, scale);
        canvas.dataset.run = shown.run;
      };
      put(soFar.current, depths.soFar, shown.summary.depth_scale_mm, told?.cumulative_mean_mm);
      put(alone.current, depths.alone, shown.summary.pass_scale_mm, told?.mean_mm);
    };
    const stage = new Stage(shown.run, index, columns, rows, () => {
      if (frame === 0) frame = requestAnimationFrame(draw);
    });
    const stop = effect(() => {
      void [store.show.value, tables.value, store.layout.value];
      const moment = momentNow(index);
      // A newer season brings stages of its own.
      if (!moment || store.season.value?.run !== shown.run) return;
      stage.want(moment);
      if (frame === 0) frame = requestAnimationFrame(draw);
    });
    return () => {
      stop();
      cancelAnimationFrame(frame);
    };
  }, [shown.run, index, columns, rows, which]);
  return (
    <>
      {which !== "pass" && <MapFrame index={index} kind="So far" canvas={soFar} columns={columns} rows={rows} />}
      {which !== "so far" && <MapFrame index={index} kind="This pass" canvas={alone} columns={columns} rows={rows} />}
    </>
  );
}

/** Yield or percolation, a mean over the seasons that were reckoned. */
function WorthMap({ index, what, scale }: { index: number; what: string; scale: Scale }): JSX.Element {
  const run = store.worth.value!.run;
  const canvas = useRef<HTMLCanvasElement>(null);
  const [size, setSize] = useState({ columns: 1, rows: 1 });
  const known = tables.value.depth;
  useEffect(() => {
    grid(run, index, what, 0).then(
      ({ columns, values }) => {
        setSize({ columns, rows: Math.round(values.length / columns) });
        if (!canvas.current) return;
        paint(canvas.current, values, columns, scale);
        canvas.current.dataset.run = run;
      },
      () => store.say("That map is no longer at hand; reckon anew."),
    );
  }, [run, index, what, scale.low, scale.high, known]);
  return <MapFrame index={index} kind="Mean of the seasons" canvas={canvas} {...size} />;
}

function worthScale(what: string): Scale {
  const summary = store.worth.value?.summary;
  const ends = what === "yield" ? summary?.yield_scale : summary?.percolation_scale_mm;
  const [low, high] = ends ?? [0, 1];
  return { low, high: high > low ? high : low + 1e-6, table: "depth" };
}

export function Maps(): JSX.Element | null {
  const shown = store.season.value;
  const show = store.show.value;
  const isWorth = show === "yield" || show === "percolation";
  if (!shown) return null;
  if (isWorth && !store.worth.value) {
    return <p class="needs">Yield and percolation come with the answer below: reckon it first.</p>;
  }
  const { depth_scale_mm: whole, pass_scale_mm: pass } = shown.summary;
  const percent = (v: number): string => `${fixed(v * 100, 0)}`;
  const water = (v: number): string => fixed(depth(v), store.system.value === "us" ? (depth(v) < 10 ? 2 : 1) : 0);
  return (
    <>
      <div class="maps" data-count={shown.summary.alternatives.length}>
        {shown.summary.alternatives.map((alternative, i) => (
          <div class="map-column" key={alternative.name}>
            {isWorth ? <WorthMap index={i} what={show} scale={worthScale(show)} /> : <WaterMaps index={i} />}
          </div>
        ))}
      </div>
      <div class="legends">
        {show === "deviation" && <Legend scale={DEVIATION} unit="% from the mean of the interior" tell={percent} />}
        {show === "depth" && store.maps.value !== "pass" && (
          <Legend scale={{ low: whole[0], high: whole[1], table: "depth" }} unit={`${depthWord()} so far`} tell={water} />
        )}
        {show === "depth" && store.maps.value !== "so far" && (
          <Legend scale={{ low: pass[0], high: pass[1], table: "depth" }} unit={`${depthWord()} in this pass`} tell={water} />
        )}
        {isWorth && (
          <Legend
            scale={worthScale(show)}
            unit={show === "yield" ? "% of the full yield" : `${depthWord()} lost below the roots`}
            tell={show === "yield" ? percent : water}
          />
        )}
      </div>
    </>
  );
}
