// Lists that are typed row by row.

import type { JSX } from "preact";
import { at, daysAfter, pointer, put, text, type Json, type Path } from "../model/scenario";
import * as store from "../model/store";
import { ChoiceEntry, Entries, NumberEntry, QuantityEntry, TextEntry } from "./entry";
import { problemsOf, problemsOfRows, Wrongs } from "./wrongs";

const lengthOf = (path: Path): number => {
  const list = at(store.scenario.value, path);
  return Array.isArray(list) ? list.length : 0;
};

const lastOf = (path: Path): Json | undefined => {
  const list = at(store.scenario.value, path);
  return Array.isArray(list) ? list[list.length - 1] : undefined;
};

/** Distances and rates of a measured leg: two lists of one length. */
export function LegRows({ path }: { path: Path }): JSX.Element {
  const columns: [string, string][] = [
    ["distance", "distance"],
    ["rate", "rate"],
  ];
  const count = Math.max(...columns.map(([key]) => lengthOf([...path, key])));
  const add = (): void => {
    let leg = at(store.scenario.value, path) as Json;
    for (const [key] of columns) leg = put(leg, [key, count], lastOf([...path, key]) ?? "");
    store.edit(path, leg);
  };
  const remove = (index: number): void => {
    let leg = at(store.scenario.value, path) as Json;
    for (const [key] of columns) leg = put(leg, [key, index], undefined);
    store.edit(path, leg);
  };
  return (
    <div class="rows leg">
      <p class="help">
        Catch cans in a line from one sprinkler in still air: distance from the sprinkler, rising,
        and the rate caught there.
      </p>
      {Array.from({ length: count }, (_, i) => (
        <div class="row" key={i}>
          {columns.map(([key, label]) => (
            <QuantityEntry key={key} path={[...path, key, i]} label={`${label} ${i + 1}`} isBare />
          ))}
          <button type="button" class="small" aria-label={`Remove row ${i + 1}`} onClick={() => remove(i)}>
            ×
          </button>
        </div>
      ))}
      <Wrongs problems={columns.flatMap(([key]) => problemsOf([...path, key]))} />
      <button type="button" onClick={add}>
        Add a row
      </button>
    </div>
  );
}

/** Heights of the ground along the pipe. */
export function HeightRows({ path }: { path: Path }): JSX.Element {
  const count = lengthOf(path);
  const isUs = store.system.value === "us";
  const add = (): void => {
    const last = lastOf(path) as { place?: string } | undefined;
    const place = last?.place ?? (isUs ? "0 ft" : "0 m");
    store.edit([...path, count], { place, height: isUs ? "0 ft" : "0 m" });
  };
  const remove = (i: number): void => store.edit(count === 1 ? path : [...path, i], undefined);
  return (
    <fieldset class="rows">
      <legend>Heights of the ground along the pipe</legend>
      <p class="help">Instead of an even slope: distances from the field’s edge, and the height of the ground there.</p>
      {Array.from({ length: count }, (_, i) => (
        <div class="row" key={i}>
          <QuantityEntry path={[...path, i, "place"]} label={`Place ${i + 1}`} isBare />
          <QuantityEntry path={[...path, i, "height"]} label={`Height ${i + 1}`} isBare />
          <button type="button" class="small" aria-label={`Remove height ${i + 1}`} onClick={() => remove(i)}>
            ×
          </button>
        </div>
      ))}
      <Wrongs problems={problemsOfRows(path)} />
      <button type="button" onClick={add}>
        Add a height
      </button>
    </fieldset>
  );
}

/** Sprinklers that deliver otherwise than the rest. */
/** Times without water: cuttings, spraying, canal turns, frost nights. */
export function ClosedRows({ path }: { path: Path }): JSX.Element {
  const count = lengthOf(path);
  const add = (): void => {
    const last = lastOf(path) as { from?: string } | undefined;
    const date = last?.from ? daysAfter(last.from.slice(0, 10), 30) : firstRain();
    store.edit([...path, count], { reason: "cutting", from: `${date}T06:00`, lasts: "8 days" });
  };
  const remove = (i: number): void => store.edit(count === 1 ? path : [...path, i], undefined);
  return (
    <fieldset class="rows" id={`rows${pointer(path)}`}>
      <legend>Times without water</legend>
      <p class="help">Cuttings, spraying, canal turns, frost nights. Sets wait until they are over and keep their order.</p>
      {Array.from({ length: count }, (_, i) => (
        <fieldset class="rows" key={i}>
          <legend>Time {i + 1}</legend>
          <Entries path={[...path, i]} />
          <button type="button" class="small" onClick={() => remove(i)}>
            Remove time {i + 1}
          </button>
        </fieldset>
      ))}
      <Wrongs problems={problemsOfRows(path)} />
      <button type="button" onClick={add}>
        Add a time without water
      </button>
    </fieldset>
  );
}

/** Days of the week on which nobody is there. */
export function DaysOffRows({ path }: { path: Path }): JSX.Element {
  const count = lengthOf(path);
  const remove = (i: number): void => store.edit(count === 1 ? path : [...path, i], undefined);
  return (
    <fieldset class="rows">
      <legend>Days off</legend>
      {Array.from({ length: count }, (_, i) => (
        <div class="row" key={i}>
          <ChoiceEntry path={[...path, i]} label={`Day off ${i + 1}`} help="Nobody starts a set on this day of the week." />
          <button type="button" class="small" aria-label={`Remove day off ${i + 1}`} onClick={() => remove(i)}>
            ×
          </button>
        </div>
      ))}
      <Wrongs problems={problemsOf(path)} />
      <button type="button" onClick={() => store.edit([...path, count], "Sunday")}>
        Add a day off
      </button>
    </fieldset>
  );
}

/** The outlets in the order in which every pass waters them, where no rule gives it. */
export function OutletOrderRows({ path }: { path: Path }): JSX.Element {
  const count = lengthOf(path);
  const add = (): void => {
    store.edit([...path.slice(0, -1), "set_order"], undefined);
    store.edit([...path, count], count + 1);
  };
  const remove = (i: number): void => store.edit(count === 1 ? path : [...path, i], undefined);
  return (
    <fieldset class="rows">
      <legend>Outlets in an order of your own</legend>
      <p class="help">By number, each once, 1 being the first outlet. Takes the place of the order of sets above.</p>
      {Array.from({ length: count }, (_, i) => (
        <div class="row" key={i}>
          <NumberEntry path={[...path, i]} label={`Set ${i + 1}: outlet`} isBare />
          <button type="button" class="small" aria-label={`Remove set ${i + 1}`} onClick={() => remove(i)}>
            ×
          </button>
        </div>
      ))}
      <Wrongs problems={problemsOf(path)} />
      <button type="button" onClick={add}>
        Add an outlet
      </button>
    </fieldset>
  );
}

export function OddSprinklerRows({ path }: { path: Path }): JSX.Element {
  const count = lengthOf(path);
  const add = (): void => {
    const last = lastOf(path) as { number?: number } | undefined;
    store.edit([...path, count], { number: (last?.number ?? 0) + 1, discharge: "0 %" });
  };
  const remove = (i: number): void => store.edit(count === 1 ? path : [...path, i], undefined);
  return (
    <fieldset class="rows">
      <legend>Plugged sprinklers, or ones with another nozzle</legend>
      <p class="help">Number along the pipe, 1 being the first sprinkler, and what it delivers as a share of the stated discharge: 0 % is plugged.</p>
      {Array.from({ length: count }, (_, i) => (
        <div class="row" key={i}>
          <NumberEntry path={[...path, i, "number"]} label={`Number ${i + 1}`} isBare />
          <QuantityEntry path={[...path, i, "discharge"]} label={`Share ${i + 1}`} isBare />
          <button type="button" class="small" aria-label={`Remove sprinkler ${i + 1}`} onClick={() => remove(i)}>
            ×
          </button>
        </div>
      ))}
      <Wrongs problems={problemsOfRows(path)} />
      <button type="button" onClick={add}>
        Add a sprinkler
      </button>
    </fieldset>
  );
}

/** A day some two weeks into the season. */
export const firstRain = (): string => daysAfter(text(at(store.scenario.value, ["season", "start"])), 14);

/** Days with rain. */
export function RainRows({ path }: { path: Path }): JSX.Element {
  const count = lengthOf(path);
  const depth = store.system.value === "us" ? "0.5 in" : "12 mm";
  const add = (): void => {
    const last = lastOf(path) as { date?: string } | undefined;
    const date = last?.date ? daysAfter(last.date, 7) : firstRain();
    store.edit([...path, count], { date, depth });
  };
  // No days at all is told by leaving the list out.
  const remove = (i: number): void => store.edit(count === 1 ? path : [...path, i], undefined);
  return (
    <fieldset class="rows" id={`rows${pointer(path)}`}>
      <legend>Days with rain</legend>
      {Array.from({ length: count }, (_, i) => (
        <div class="row" key={i}>
          <TextEntry path={[...path, i, "date"]} label={`Day ${i + 1}`} isBare />
          <QuantityEntry path={[...path, i, "depth"]} label={`Depth ${i + 1}`} isBare />
          <button
            type="button"
            class="small"
            aria-label={`Remove day ${i + 1}`}
            onClick={() => remove(i)}
          >
            ×
          </button>
        </div>
      ))}
      <button type="button" onClick={add}>
        Add a day
      </button>
    </fieldset>
  );
}

const MONTHS = "January February March April May June July August September October November December";

/** Twelve months. */
export function MonthRows({ path }: { path: Path }): JSX.Element {
  return (
    <div class="months">
      {MONTHS.split(" ").map((month, i) => (
        <QuantityEntry key={month} path={[...path, i]} label={month} isBare />
      ))}
      <Wrongs problems={problemsOf(path)} />
    </div>
  );
}
