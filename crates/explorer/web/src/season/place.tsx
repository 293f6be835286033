// One place of the field: how its depth grew pass by pass, and the water in its soil.

import type { JSX } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import { api, type PlaceHistory } from "../model/api";
import { depth, depthText, depthUnit, lengthText } from "../model/show";
import * as store from "../model/store";
import { LineMark } from "../stops/card";
import { Closer } from "./closer";
import { LineChart } from "./lines";

const REST_MS = 120;

/** Whether a place lies on no field as it now is. */
function isBeyond(place: { x: number; y: number }): boolean {
  const field = store.layout.value?.field;
  return field !== undefined && (place.x >= field.along_m || place.y >= field.across_m);
}

/** The history of the place at hand, asked for when the pointer rests. */
function useHistory(): PlaceHistory | null {
  const [history, setHistory] = useState<PlaceHistory | null>(null);
  const place = store.place.value;
  const run = store.season.value?.run;
  useEffect(() => {
    if (!place || !run) return setHistory(null);
    let isCurrent = true;
    const timer = window.setTimeout(() => {
      api.place(run, place.x, place.y).then(
        (h) => isCurrent && setHistory(h),
        () => {
          if (!isCurrent) return;
          setHistory(null);
          if (isBeyond(place)) store.place.value = null;
        },
      );
    }, REST_MS);
    return () => {
      isCurrent = false;
      window.clearTimeout(timer);
    };
  }, [place?.x, place?.y, run]);
  return history;
}

export function Place(): JSX.Element {
  const history = useHistory();
  const place = store.place.value;
  const beyond = history?.beyond ? ", off the field: not in the figures" : "";
  const where = place && `${lengthText(place.x, 0)} along the pipe, ${lengthText(place.y, 0)} across${beyond}`;
  if (!place || !history) {
    return (
      <div class="place-panel empty">
        <h3>One place</h3>
        <p class="help">{where ?? "Point at a map, or focus it and use the arrow keys, to see how the water added up at one place."}</p>
      </div>
    );
  }
  return (
    <div class="place-panel">
      <h3>One place</h3>
      <p role="status">{where}</p>
      <ul class="place-depths">
        {history.alternatives.map((a, i) => (
          <li key={a.name}>
            <LineMark index={i} /> {a.name}: <b>{depthText(a.cumulative_mm[a.cumulative_mm.length - 1] ?? 0)}</b> in all,{" "}
            {depthText(Math.min(...a.pass_mm))} to {depthText(Math.max(...a.pass_mm))} per pass
          </li>
        ))}
      </ul>
      <Closer />
      <DepthHistory history={history} />
      <SoilWater history={history} />
    </div>
  );
}

function DepthHistory({ history }: { history: PlaceHistory }): JSX.Element {
  const count = Math.max(...history.alternatives.map((a) => a.pass_mm.length));
  const x = useMemo(() => Array.from({ length: count }, (_, k) => k + 1), [count]);
  const lines = useMemo(
    () => history.alternatives.map((a, index) => ({ name: a.name, index, values: a.pass_mm.map(depth), hasPoints: count <= 40 })),
    [history],
  );
  return (
    <LineChart
      title="Depth of each pass here"
      words="Depth of each pass at this place; the totals stand in the list above."
      x={x}
      xLabel="pass"
      yLabel={depthUnit()}
      lines={lines}
      height={150}
    />
  );
}

function SoilWater({ history }: { history: PlaceHistory }): JSX.Element | null {
  const days = history.alternatives.find((a) => a.days)?.days;
  const lines = useMemo(
    () => history.alternatives.map((a, index) => ({ name: a.name, index, values: a.depletion_mm?.map(depth) ?? [] })),
    [history],
  );
  const x = useMemo(() => (days ?? []).map((_, k) => k), [days]);
  if (!days || days.length === 0) return null;
  const taw = history.alternatives.find((a) => a.taw_mm)?.taw_mm?.at(-1);
  return (
    <LineChart
      title={`Soil-water depletion${taw ? `, of ${depthText(taw)} available` : ""}`}
      words="Soil-water depletion at this place, day by day."
      x={x}
      xLabel="day"
      yLabel={depthUnit()}
      lines={lines}
      height={150}
      xText={(k) => days[k]?.slice(5) ?? ""}
    />
  );
}
