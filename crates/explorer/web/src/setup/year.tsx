// Entries on the weather, the season and the prices.

import type { JSX } from "preact";
import { at, daysAfter, text, usualWind, type Scenario } from "../model/scenario";
import { keysAt } from "../model/schema";
import * as store from "../model/store";
import { SeasonFacts } from "./facts";
import { Entries, Entry } from "./entry";
import { FileEntry, guessLayout } from "./named_file";
import { PriceEntry } from "./price";
import { ClosedRows, DaysOffRows, OutletOrderRows } from "./rows";
import { Pumping } from "./pumping";
import { KeyChoice, type KeyOption } from "./key_choice";

const WIND_KEYS = ["still", "steady", "record", "generated"];

const windOption = (label: string, key: string, value: unknown): KeyOption => ({
  label,
  key,
  fresh: { [key]: value } as Scenario,
  drops: WIND_KEYS.filter((other) => other !== key),
});

const WIND_OPTIONS: KeyOption[] = [
  windOption("None", "still", true),
  windOption("Always the same", "steady", { speed: "7 mph", from: "225 deg", height: "33 ft" }),
  windOption("Drawn hour by hour", "generated", usualWind()),
];

const RECORD = windOption("Hourly record", "record", { file: "", layout: "csv" });

export function WindEntries(): JSX.Element {
  return (
    <>
      <KeyChoice path={["wind"]} legend="Wind over the field" options={[...WIND_OPTIONS, RECORD]}>
        {(key) => {
          if (key === "steady") return <Entries path={["wind", "steady"]} />;
          if (key === "generated") {
            return (
              <>
                <Entries path={["wind", "generated"]} />
                <Entry path={["seed"]} />
              </>
            );
          }
          return key === "record" ? <RecordEntries /> : null;
        }}
      </KeyChoice>
      {store.scenario.value.air === undefined && <p class="help">Give both, or neither: then the air is mild, 20 °C (68 °F) at 50 %.</p>}
      <Entry path={["air", "temperature"]} isOptional />
      <Entry path={["air", "humidity"]} isOptional />
    </>
  );
}

export function RecordEntries(): JSX.Element {
  const path = ["wind", "record"] as const;
  const here = (at(store.scenario.value, path) ?? {}) as Scenario;
  return (
    <>
      <FileEntry
        path={path}
        label="Weather file"
        help="Hourly wind, temperature and humidity: a plain table with units in its first line, or the standard TMY3 or EPW layout."
        fresh={(name, body) => ({ ...here, file: name, layout: guessLayout(body) })}
      />
      <Entries path={path} except={["file"]} />
    </>
  );
}

/** Days from the first set to the end of a common season. */
const SEASON_DAYS = 140;

const endOptions = (start: string): KeyOption[] => [
  { label: "A number of passes", key: "passes", fresh: { passes: 12 }, drops: ["until"] },
  { label: "As many as end by a date", key: "until", fresh: { until: `${daysAfter(start, SEASON_DAYS)}T18:00` }, drops: ["passes"] },
];

/** Keys of passes that wait for the soil. */
const BY_THE_SOIL = ["irrigate_at_depletion", "min_pass_interval"];

export function SeasonEntries(): JSX.Element {
  const isCropThere = store.scenario.value.crop !== undefined;
  return (
    <>
      <Entry path={["season", "start"]} />
      <KeyChoice path={["season"]} legend="Length of the season" options={endOptions(text(at(store.scenario.value, ["season", "start"])))}>
        {(key) => <Entry path={["season", key]} />}
      </KeyChoice>
      <Entries path={["season"]} except={["start", "passes", "until", "outlet_order", "closed", "days_off", ...BY_THE_SOIL]} />
      <OutletOrderRows path={["season", "outlet_order"]} />
      <ClosedRows path={["season", "closed"]} />
      <DaysOffRows path={["season", "days_off"]} />
      <SeasonFacts />
      {isCropThere && <Entries path={["season"]} keys={BY_THE_SOIL} />}
    </>
  );
}

export function PriceEntries(): JSX.Element {
  const prices = ["worth", "prices"];
  return (
    <>
      <p class="help">
        Any one currency. A number marked as a placeholder is named wherever a result depends on it;
        what is left empty is asked for where the alternatives differ in it.
      </p>
      {keysAt(store.schema.value, prices).map((key) => (
        <PriceEntry key={key} path={[...prices, key]} />
      ))}
      <Pumping />
      <Entries path={["worth"]} />
    </>
  );
}
