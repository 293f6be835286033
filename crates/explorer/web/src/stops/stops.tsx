// Building rotations: one card for each alternative, and one close-up for the stop at hand.

import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { AlternativeLayout, FieldLayout, StopPlace } from "../model/api";
import { CloseUp, stopWords } from "../picture/closeup";
import { written } from "../model/cycle";
import { alternatives, at, MOST_ALTERNATIVES } from "../model/scenario";
import { lengthUnit, shiftText } from "../model/show";
import { acrossOf, standingOf } from "../model/standing";
import * as store from "../model/store";
import { QuantityEntry } from "../setup/entry";
import { Card } from "./card";
import { Search } from "./search";

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

interface Taken {
  across_m: number;
  along_m: number;
}

function matching(stops: StopPlace[], taken: Taken | undefined): number {
  if (!taken) return Math.max(0, stops.findIndex((s) => Math.abs(s.across_m) < 1e-6));
  const distance = (s: StopPlace): number =>
    Math.abs(s.across_m - taken.across_m) + Math.abs(s.along_m - taken.along_m);
  return stops.reduce((best, s, i) => (distance(s) < distance(stops[best]!) ? i : best), 0);
}

/** Where a stop is, or where it was asked to be if it cannot be there. */
function takenAt(layout: AlternativeLayout, index: number, stop: number): Taken | undefined {
  const shift = at(store.scenario.value, ["alternatives", index, "rotation", stop]);
  const across_m = acrossOf(shift, layout.travel_per_turn_m);
  return layout.rotation[stop] ?? (across_m === null ? undefined : { across_m, along_m: 0 });
}

/** The close-up with its buttons and words. */
function Roller({ layout, field }: { layout: AlternativeLayout; field: FieldLayout }): JSX.Element {
  const index = store.alternative.value;
  // What is carried by hand keeps its shift along the pipe while it is moved across.
  const along = layout.travel_per_turn_m === null ? (layout.rotation[store.stop.value]?.along_m ?? 0) : 0;
  const stops = [...layout.stops].sort((a, b) => a.across_m - b.across_m).map((s) => ({ ...s, along_m: along }));
  const taken = takenAt(layout, index, store.stop.value);
  const [cursor, setCursor] = useState(() => matching(stops, taken));
  // Where the page itself has just put the stop, or null before it is moved. The layout that comes
  // back from an own move, late, must not pull the lateral back from where it has gone since.
  const own = useRef<number | null>(null);
  useEffect(() => {
    own.current = null;
    setCursor(matching(stops, taken));
  }, [index, store.stop.value, stops.length]);
  useEffect(() => {
    if (!taken || (own.current !== null && Math.abs(taken.across_m - own.current) < 1e-6)) return;
    setCursor(matching(stops, taken));
  }, [taken?.across_m, taken?.along_m]);
  const move = (to: number): void => {
    const next = stops[to];
    if (!next) return;
    setCursor(to);
    own.current ??= taken?.across_m ?? 0;
    if (!next.reachable) return;
    own.current = next.across_m;
    store.edit(["alternatives", index, "rotation", store.stop.value], written(next));
  };
  const now = stops[cursor];
  const letter = LETTERS[store.stop.value] ?? "?";
  const isTaken = now !== undefined && taken !== undefined && Math.abs(now.across_m - taken.across_m) < 1e-6;
  // Typed, it can be none of the places that the lateral is moved by.
  const isOdd = taken !== undefined && now !== undefined && !isTaken && own.current === null && layout.rotation[store.stop.value] === undefined;
  return (
    <div class="roller">
      <CloseUp field={field} alternative={layout} stops={stops} cursor={cursor} onMove={move} />
      <div class="roller-words">
        <p class="roller-title">
          Stop <b>{store.stop.value + 1}</b> of {layout.name}
        </p>
        <div class="buttons">
          <button type="button" disabled={cursor === 0} onClick={() => move(cursor - 1)}>
            ↓ Back
          </button>
          <button type="button" disabled={cursor >= stops.length - 1} onClick={() => move(cursor + 1)}>
            ↑ Forward
          </button>
        </div>
        <p class={now?.reachable && !isOdd ? "stop-says yes" : "stop-says no"} role="status">
          {isOdd ? `${shiftText(taken.across_m, taken.along_m)}. Not one of the stops here, so it is left out until you correct it. Nearest: ${stopWords(now)}` : now ? stopWords(now) : "No stop is chosen."}
          {!isOdd && now && !now.reachable && !isTaken && taken && ` Stop ${letter} stays ${shiftText(taken.across_m, taken.along_m)}.`}
        </p>
        <TypedShift index={index} stop={store.stop.value} isHandMoved={layout.travel_per_turn_m === null} />
        <p class="help">Drag the lateral, or focus it and use the arrow keys. A stop that {layout.travel_per_turn_m === null ? "its hose allows" : "its wheels and hose allow"} is set at once.</p>
      </div>
    </div>
  );
}

/** The shift typed as a number, for places between those offered; a hand-moved line also along the pipe. */
function TypedShift({ index, stop, isHandMoved }: { index: number; stop: number; isHandMoved: boolean }): JSX.Element | null {
  const path = ["alternatives", index, "rotation", stop] as const;
  const shift = at(store.scenario.value, path);
  if (shift === undefined) return null;
  if (shift !== null && typeof shift === "object") {
    return (
      <div class="row">
        <QuantityEntry path={[...path, "across"]} label="Shift across" isOptional isBare />
        <QuantityEntry path={[...path, "along"]} label="Shift along the pipe" isOptional isBare />
      </div>
    );
  }
  const both = (): void => store.edit(path, { across: shift, along: `0 ${lengthUnit()}` });
  return (
    <div class="row">
      <QuantityEntry path={path} label="Or type the shift" isBare moreUnits={isHandMoved ? [] : ["turns", lengthUnit()]} />
      {isHandMoved && (
        <button type="button" onClick={both}>
          Shift along the pipe too
        </button>
      )}
    </div>
  );
}

export function Stops(): JSX.Element {
  const list = alternatives(store.scenario.value);
  const layout = standingOf(store.alternative.value);
  const field = store.drafted.value?.field;
  const add = (): void => {
    const names = new Set(list.map((a) => a.name));
    let n = list.length + 1;
    while (names.has(`Alternative ${n}`)) n += 1;
    const zero = store.system.value === "us" ? "0 ft" : "0 m";
    store.edit(["alternatives", list.length], { name: `Alternative ${n}`, rotation: [zero] });
    store.alternative.value = list.length;
    store.stop.value = 0;
    store.say(`Alternative ${n} added.`);
  };
  return (
    <>
      <div class="stops">
        <div class="cards">
          {list.map((_, i) => (
            <Card key={i} index={i} count={list.length} />
          ))}
          {list.length < MOST_ALTERNATIVES && (
            <button type="button" class="add-card" onClick={add}>
              Add an alternative
            </button>
          )}
        </div>
        {layout && field && at(store.scenario.value, ["alternatives", store.alternative.value]) !== undefined && (
          <Roller layout={layout} field={field} />
        )}
      </div>
      <Search />
    </>
  );
}
