// Entries on what the crop loses to the air and gets from the sky, each given in one of several forms.

import type { JSX } from "preact";
import { at, type Json, type Path, type Scenario } from "../model/scenario";
import * as store from "../model/store";
import { Entries, Entry } from "./entry";
import { idOf, problemsAt, Wrongs } from "./wrongs";
import { FileEntry, guessLayout } from "./named_file";
import { firstRain, MonthRows, RainRows } from "./rows";

interface Choice {
  label: string;
  isTaken: (value: Json | undefined) => boolean;
  fresh: () => Json | undefined;
}

const has = (key: string) => (value: Json | undefined): boolean => at(value, [key]) !== undefined;

/** Problems that an entry further down tells. */
const ENTRIES = /\/(monthly|method|radiation|latitude|elevation|file|missing_days|layout|height|longest_gap|typical_year|seasons|block_length|block_window|date|depth)(\/|$)/;

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
    const isFresh = !left.has(key(choice));
    store.edit(path, isFresh ? choice.fresh() : left.get(key(choice)), isFresh ? [path] : []);
  };
  return (
    <fieldset class="one-of">
      <legend>{legend}</legend>
      <div class="choices">
        {choices.map((choice) => (
          <label class="choice" key={choice.label}>
            <input type="radio" name={`${name}-form`} checked={choice.isTaken(value)} onChange={() => choose(choice)} />
            {choice.label}
          </label>
        ))}
      </div>
      <Wrongs problems={wrongs} />
    </fieldset>
  );
}

const usual = (): string => (store.system.value === "us" ? "0.22 in/d" : "5.6 mm/d");

const ET0: Choice[] = [
  { label: "The same all season", isTaken: (v) => typeof v === "string", fresh: usual },
  { label: "Month by month", isTaken: has("monthly"), fresh: () => ({ monthly: Array.from({ length: 12 }, usual) }) },
  { label: "From a record", isTaken: has("record"), fresh: () => ({ record: {} }) },
  { label: "Calculated from the weather", isTaken: has("computed"), fresh: () => ({ computed: {} }) },
];

const RAIN: Choice[] = [
  { label: "None", isTaken: (v) => v === undefined, fresh: () => undefined },
  { label: "Days of rain", isTaken: Array.isArray, fresh: () => [{ date: firstRain(), depth: store.system.value === "us" ? "0.5 in" : "12 mm" }] },
  { label: "From a record", isTaken: has("record"), fresh: () => ({ record: {} }) },
];

/** A record of days: a file of its own, or a column of the wind's record. */
function Days({ path }: { path: Path }): JSX.Element {
  const isOwn = at(store.scenario.value, [...path, "file"]) !== undefined;
  return (
    <>
      <FileEntry path={path} label="File of days" help="A plain table of days with a column of dates." none="None: the wind record’s own column is used." />
      {isOwn && (
        <button type="button" onClick={() => store.edit([...path, "file"], undefined)}>
          Use the wind’s record
        </button>
      )}
      <Entry path={[...path, "missing_days"]} />
    </>
  );
}

function Computed({ path }: { path: Path }): JSX.Element {
  const weather = [...path, "weather"];
  const here = (at(store.scenario.value, weather) ?? {}) as Scenario;
  const isThere = Object.keys(here).length > 0;
  return (
    <>
      <Entries path={path} />
      <FileEntry
        path={weather}
        label="Record of another station"
        help="Hourly temperature, with humidity, wind and sun if it has them."
        none="None: the wind’s record is used."
        fresh={(name, body) => ({ ...here, file: name, layout: guessLayout(body) })}
      />
      {isThere && (
        <>
          <Entries path={weather} except={["file"]} />
          <button type="button" onClick={() => store.edit(weather, undefined)}>
            Use the wind’s record
          </button>
        </>
      )}
    </>
  );
}

export function ClimateEntries(): JSX.Element {
  const climate = (at(store.scenario.value, ["climate"]) ?? {}) as Scenario;
  const et0 = ["climate", "et0"] as const;
  const isDrawn = has("generated")(store.scenario.value.wind);
  return (
    <>
      <Forms path={et0} legend="Reference evapotranspiration" choices={ET0} />
      {typeof climate.et0 === "string" && <Entry path={et0} label="All season" />}
      {has("monthly")(climate.et0) && <MonthRows path={[...et0, "monthly"]} />}
      {has("record")(climate.et0) && <Days path={[...et0, "record"]} />}
      {has("computed")(climate.et0) && <Computed path={[...et0, "computed"]} />}
      {isDrawn && (typeof climate.et0 === "string" || has("monthly")(climate.et0)) && <Entry path={["climate", "et0_day_spread"]} isOptional />}
      <Forms path={["climate", "rain"]} legend="Rain" choices={RAIN} />
      {Array.isArray(climate.rain) && <RainRows path={["climate", "rain"]} />}
      {has("record")(climate.rain) && <Days path={["climate", "rain", "record"]} />}
    </>
  );
}
