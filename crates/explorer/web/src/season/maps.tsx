// The maps: for each alternative the pass under way and all water so far, on one scale each.

import { effect, useComputed } from "@preact/signals";
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { grid } from "../model/grids";
import { depth, depthWord, fixed } from "../model/show";
import * as store from "../model/store";
import { deviation, meanBy, paint, tables, type Scale } from "./color";
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

interface LegendProps {
  scale: Scale;
  unit: string;
  tell: (v: number) => string;
  /** Below and above which there can be nothing. */
  least?: number;
  most?: number;
}

/** A strip of colors with its ends, middle and unit. */
export function Legend({ scale, unit, tell, least = 0, most = Infinity }: LegendProps): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const known = tables.value[scale.table];
  useEffect(() => {
    const ramp = Float32Array.from({ length: 200 }, (_, i) => i / 199);
    if (canvas.current && known) paint(canvas.current, ramp, 200, { low: 0, high: 1, table: scale.table });
  }, [scale.table, known]);
  const stops = [0, 0.25, 0.5, 0.75, 1].map((share) => tell(scale.low + share * (scale.high - scale.low)));
  // Values beyond the ends have the colors of the ends.
  const words = stops.map((told, k) => (k === 0 && scale.low > least ? `\u2264 ${told}` : k === 4 && scale.high < most ? `\u2265 ${told}` : told));
  return (
    <div class="legend">
      <canvas ref={canvas} width="200" height="1" aria-hidden="true" />
      <div class="legend-stops">
        {words.map((told, k) => (
          <span key={k}>{told}</span>
        ))}
      </div>
      <span class="legend-unit">{unit}</span>
    </div>
  );
}

/** Whether the field has an edge within its rectangle. */
export const hasEdge = (): boolean => (store.layout.peek()?.field.boundary.length ?? 0) > 0;

/** Colors for all water so far: those of the whole season, in the share of its passes that have begun,
 * the same for all alternatives. Held still, they would show the first passes without a trace. */
function scaleSoFar(): Scale {
  const summary = store.season.value?.summary;
  const [low, high] = summary?.depth_scale_mm ?? [0, 1];
  const shares = (summary?.alternatives ?? []).map(({ passes }, i) => Math.max(1, (momentNow(i)?.pass ?? 0) + 1) / Math.max(1, passes.length));
  const share = Math.min(1, Math.max(0, ...shares));
  return { low: low * share, high: high * share, table: "depth" };
}

/** Depth or deviation of one alternative, followed through time. */
function WaterMaps({ index }: { index: number }): JSX.Element {
  const shown = store.season.value!;
  const { columns, rows } = shown.summary.grid;
  const soFar = useRef<HTMLCanvasElement>(null);
  const alone = useRef<HTMLCanvasElement>(null);
  const which = store.maps.value;
  useEffect(() => {
    let frame = 0;
    // Which cells count for the mean that deviations are told from; fetched when they are shown.
    let interior: Float32Array | null = null;
    let isAsked = false;
    const askInterior = (): void => {
      if (isAsked) return;
      isAsked = true;
      grid(shown.run, 0, "interior", 0).then(
        ({ values }) => {
          interior = values;
          if (frame === 0) frame = requestAnimationFrame(draw);
        },
        () => undefined,
      );
    };
    const draw = (): void => {
      frame = 0;
      const { alternatives, pass_scale_mm: pass_mm } = shown.summary;
      const alternative = alternatives[index];
      if (!alternative) return;
      const moment = momentOf(alternative, store.layout.peek()?.alternatives[index], hourNow());
      const depths = stage.depths(moment);
      if (!depths) return;
      const isDeviation = store.show.peek() === "deviation";
      if (isDeviation && !interior) return askInterior();
      // After a whole pass the engine's own mean is known; while one is laid down that of the shown cells.
      const told = moment.isOver ? alternative.passes[moment.pass] : undefined;
      const put = (canvas: HTMLCanvasElement | null, values: Float32Array, ofDepth: Scale, mean?: number | null): void => {
        if (!canvas) return;
        const scale = isDeviation ? DEVIATION : ofDepth;
        const painted = isDeviation && interior ? deviation(values, mean ?? meanBy(values, interior)) : values;
        paint(canvas, painted, columns, scale);
        canvas.dataset.run = shown.run;
      };
      put(soFar.current, depths.soFar, scaleSoFar(), told?.cumulative_mean_mm);
      put(alone.current, depths.alone, { low: pass_mm[0], high: pass_mm[1], table: "depth" }, told?.mean_mm);
    };
    const stage = new Stage(shown.run, index, columns, rows, hasEdge, () => {
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

/** Yield or percolation, a mean over the seasons that were run. */
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
      () => store.say("That map is gone. Run it again."),
    );
  }, [run, index, what, scale.low, scale.high, known]);
  const name = store.worth.value!.summary.worth.alternatives[index]?.name ?? "";
  return <MapFrame index={index} name={name} kind="Average of the seasons" canvas={canvas} {...size} />;
}

function worthScale(what: string): Scale {
  const summary = store.worth.value?.summary;
  const ends = what === "yield" ? summary?.yield_scale : summary?.percolation_scale_mm;
  const [low, high] = ends ?? [0, 1];
  return { low, high: high > low ? high : low + 1e-6, table: "depth" };
}

export function Maps(): JSX.Element | null {
  // As a text, so that the legend is drawn anew only where it changes.
  const ends = useComputed(() => JSON.stringify(scaleSoFar())).value;
  const shown = store.season.value;
  const show = store.show.value;
  const isWorth = show === "yield" || show === "percolation";
  if (!shown) return null;
  if (isWorth && !store.worth.value) {
    return <p class="needs">Yield and percolation come with the answer below. Calculate it first.</p>;
  }
  const found = isWorth ? store.worth.value!.summary.worth : shown.summary;
  const names = found.alternatives.map((a) => a.name);
  const isOld = isWorth && store.worth.value!.digest !== store.check.value?.digest;
  const soFar = JSON.parse(ends) as Scale;
  const { depth_scale_mm: whole, pass_scale_mm: pass } = shown.summary;
  const percent = (v: number): string => `${fixed(v * 100, 0)}`;
  const water = (v: number): string => fixed(depth(v), store.system.value === "us" ? (depth(v) < 10 ? 2 : 1) : 0);
  return (
    <>
      {isOld && <p class="problem">These maps are from before your last change. Run it again below.</p>}
      <div class="maps" data-count={names.length}>
        {names.map((name, i) => (
          <div class="map-column" key={name}>
            {isWorth ? <WorthMap index={i} what={show} scale={worthScale(show)} /> : <WaterMaps index={i} />}
          </div>
        ))}
      </div>
      <div class="legends">
        {hasEdge() && (
          <span class="legend-beyond">
            <span class="swatch beyond-edge" aria-hidden="true" /> off the field: not in the figures
          </span>
        )}
        {show === "deviation" && <Legend scale={DEVIATION} unit="% from the mean of the interior" tell={percent} least={-1} />}
        {show === "depth" && store.maps.value !== "pass" && (
          <Legend
            scale={soFar}
            unit={`${depthWord()} so far${soFar.high < whole[1] ? "; the color scale grows with every pass" : ""}`}
            tell={water}
          />
        )}
        {show === "depth" && store.maps.value !== "so far" && (
          <Legend scale={{ low: pass[0], high: pass[1], table: "depth" }} unit={`${depthWord()} in this pass`} tell={water} />
        )}
        {isWorth && (
          <Legend
            scale={worthScale(show)}
            {...(show === "yield" ? { most: 1 } : {})}
            unit={show === "yield" ? "% of the full yield" : `${depthWord()} lost below the root zone`}
            tell={show === "yield" ? percent : water}
          />
        )}
      </div>
    </>
  );
}
