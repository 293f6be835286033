// Entries on what the crop loses to the air and gets from the sky, each told in one of several ways.

import type { JSX } from "preact";
import { at, type Json, type Path, type Scenario } from "../model/scenario";
import * as store from "../model/store";
import { ChoiceEntry, idOf, problemsAt, QuantityEntry } from "./entry";
import { FileEntry } from "./named_file";
import { MonthRows, RainRows } from "./rows";

interface Choice {
  label: string;
  isTaken: (value: Json | undefined) => boolean;
  fresh: () => Json | undefined;
}

const has = (key: string) => (value: Json | undefined): boolean => at(value, [key]) !== undefined;

/** Problems that an entry further down tells. */
const ENTRIES = /\/(monthly|method|radiation|latitude|elevation|file|missing_days|layout|height|longest_gap|date|depth)(\/|$)/;

/** What each choice held when it was left, so that trying another loses nothing. */
const left = new Map<string, Json | undefined>();

/** A choice between forms of one value, where its whole form changes. */
function Forms({ path, legend, choices }: { path: Path; legend: string; choices: Choice[] }): JSX.Element {
  const value = at(store.scenario.value, path);
  const name = idOf(path);
  const key = (choice: Choice): string => `${name} ${choice.label}`;
  // What is wrong with the whole of it; with a part of it, that part's entry tells.
  const wrongs = typeof value === "string" ? [] : problemsAt(path).filter((p) => !ENTRIES.test(p.pointer));
  const choose = (choice: Choice): void => {
    const taken = choices.find((one) => one.isTaken(value));
    if (taken) left.set(key(taken), value);
    store.edit(path, left.has(key(choice)) ? left.get(key(choice)) : choice.fresh());
  };
  return (
    <fieldset class="ways">
      <legend>{legend}</legend>
      <div class="choices">
        {choices.map((choice) => (
          <label class="choice" key={choice.label}>
            <input type="radio" name={`${name}-form`} checked={choice.isTaken(value)} onChange={() => choose(choice)} />
            {choice.label}
          </label>
        ))}
      </div>
      <div class="wrongs">
        {wrongs.map((p) => (
          <p key={p.problem}>{[p.problem, p.allowed, p.hint].filter(Boolean).join("; ")}</p>
        ))}
      </div>
    </fieldset>
  );
}

const usual = (): string => (store.system.value === "us" ? "0.22 in/d" : "5.6 mm/d");

const ET0: Choice[] = [
  { label: "The same all season", isTaken: (v) => typeof v === "string", fresh: usual },
  { label: "Month by month", isTaken: has("monthly"), fresh: () => ({ monthly: Array.from({ length: 12 }, usual) }) },
  { label: "As a record gives it", isTaken: has("record"), fresh: () => ({ record: {} }) },
  { label: "Worked out from the weather", isTaken: has("computed"), fresh: () => ({ computed: {} }) },
];

const RAIN: Choice[] = [
  { label: "None", isTaken: (v) => v === undefined, fresh: () => undefined },
  { label: "Days of rain", isTaken: Array.isArray, fresh: () => [{ date: "2027-06-01", depth: store.system.value === "us" ? "0.5 in" : "12 mm" }] },
  { label: "As a record gives it", isTaken: has("record"), fresh: () => ({ record: {} }) },
];

/** A record of days: a file of its own, or a column of the wind's record. */
function Days({ path }: { path: Path }): JSX.Element {
  const isOwn = at(store.scenario.value, [...path, "file"]) !== undefined;
  return (
    <>
      <FileEntry path={path} label="File of days" help="A plain table of days; without a file the column of the wind’s own record counts." />
      {isOwn && (
        <button type="button" onClick={() => store.edit([...path, "file"], undefined)}>
          Take the wind’s record
        </button>
      )}
      <ChoiceEntry path={[...path, "missing_days"]} label="Days of which it says nothing" isOptional none="are refused" />
    </>
  );
}

function Computed({ path }: { path: Path }): JSX.Element {
  const weather = [...path, "weather"];
  const isOwn = at(store.scenario.value, weather) !== undefined;
  return (
    <>
      <ChoiceEntry path={[...path, "method"]} label="Method" isOptional none="by what the record has" />
      <ChoiceEntry path={[...path, "radiation"]} label="Radiation from" isOptional none="by what the record has" />
      <QuantityEntry path={[...path, "latitude"]} label="Latitude of the station" isOptional />
      <QuantityEntry path={[...path, "elevation"]} label="Height of the station" isOptional />
      <FileEntry
        path={weather}
        label="Record of another station"
        help="Without it the wind’s own record is used."
        fresh={(name) => ({ file: name, layout: "csv" })}
      />
      {isOwn && (
        <>
          <ChoiceEntry path={[...weather, "layout"]} label="Its layout" />
          <QuantityEntry path={[...weather, "height"]} label="Its anemometer above ground" isOptional />
          <QuantityEntry path={[...weather, "longest_gap"]} label="Its longest gap to bridge" isOptional />
          <button type="button" onClick={() => store.edit(weather, undefined)}>
            Take the wind’s record
          </button>
        </>
      )}
    </>
  );
}

export function ClimateEntries(): JSX.Element {
  const climate = (at(store.scenario.value, ["climate"]) ?? {}) as Scenario;
  const et0 = ["climate", "et0"] as const;
  return (
    <>
      <Forms path={et0} legend="Reference evapotranspiration" choices={ET0} />
      {typeof climate.et0 === "string" && <QuantityEntry path={et0} label="All season" />}
      {has("monthly")(climate.et0) && <MonthRows path={[...et0, "monthly"]} />}
      {has("record")(climate.et0) && <Days path={[...et0, "record"]} />}
      {has("computed")(climate.et0) && <Computed path={[...et0, "computed"]} />}
      <Forms path={["climate", "rain"]} legend="Rain" choices={RAIN} />
      {Array.isArray(climate.rain) && <RainRows path={["climate", "rain"]} />}
      {has("record")(climate.rain) && <Days path={["climate", "rain", "record"]} />}
    </>
  );
}
