// Entries on the weather, the season, the crop, the soil and the prices.

import type { JSX } from "preact";
import { at, type Scenario } from "../model/scenario";
import { allToSystem } from "../model/units";
import * as store from "../model/store";
import { ChoiceEntry, NumberEntry, QuantityEntry, TextEntry } from "./entry";
import { PriceEntry } from "./price";
import { MonthRows, RainRows } from "./rows";
import { Ways, type Way } from "./ways";

const WIND_KEYS = ["still", "steady", "record", "generated"];

const windWay = (label: string, key: string, value: unknown): Way => ({
  label,
  key,
  fresh: { [key]: value } as Scenario,
  drops: WIND_KEYS.filter((other) => other !== key),
});

const WIND_WAYS: Way[] = [
  windWay("None", "still", true),
  windWay("Always the same", "steady", { speed: "7 mph", from: "225 deg", height: "33 ft" }),
  windWay("Drawn hour by hour", "generated", {
    day_mean: "8 mph",
    night_mean: "4.5 mph",
    weibull_shape: 2,
    prevailing_from: "225 deg",
    direction_spread: "45 deg",
    speed_persistence: 0.63,
    direction_persistence: 0.76,
    height: "33 ft",
  }),
];

const RECORD = windWay("Hourly record", "record", { file: "weather.csv", layout: "tmy3" });

export function WindEntries(): JSX.Element {
  return (
    <>
      <Ways path={["wind"]} legend="Wind over the field" ways={[...WIND_WAYS, RECORD]}>
        {(key) => {
          if (key === "steady") {
            return (
              <>
                <QuantityEntry path={["wind", "steady", "speed"]} label="Speed" />
                <QuantityEntry path={["wind", "steady", "from"]} label="Blows from" />
                <QuantityEntry path={["wind", "steady", "height"]} label="Measured at" isOptional />
              </>
            );
          }
          if (key === "generated") return <GeneratedEntries />;
          if (key === "record") {
            return <RecordEntries />;
          }
          return null;
        }}
      </Ways>
      <QuantityEntry path={["air", "temperature"]} label="Air temperature" isOptional />
      <QuantityEntry path={["air", "humidity"]} label="Air humidity" isOptional />
    </>
  );
}

/** A weather file is read by the browser and sent to the program on this machine with each question. */
function RecordEntries(): JSX.Element {
  const path = ["wind", "record"] as const;
  const name = String(at(store.scenario.value, [...path, "file"]) ?? "");
  const isThere = store.files.value[name] !== undefined || store.knownFiles.value.includes(name);
  const take = (file: File | undefined): void => {
    if (!file) return;
    void file.text().then((body) => {
      store.files.value = { ...store.files.value, [file.name]: body };
      store.edit([...path, "file"], file.name);
    });
  };
  return (
    <>
      <div class="entry">
        <label for="weather-file">Weather file</label>
        <input id="weather-file" type="file" aria-describedby="weather-file-help" onChange={(e) => take(e.currentTarget.files?.[0])} />
        <p class="help" id="weather-file-help">
          {isThere ? `${name} is at hand.` : `${name} has to be opened here, also after a reload: the page keeps no files.`}
        </p>
      </div>
      <ChoiceEntry path={[...path, "layout"]} label="Layout of the file" />
      <QuantityEntry path={[...path, "height"]} label="Anemometer above ground" isOptional />
      <QuantityEntry path={[...path, "longest_gap"]} label="Longest gap to bridge" isOptional />
    </>
  );
}

function GeneratedEntries(): JSX.Element {
  const path = ["wind", "generated"] as const;
  return (
    <>
      <QuantityEntry path={[...path, "day_mean"]} label="Mean by day" />
      <QuantityEntry path={[...path, "night_mean"]} label="Mean by night" />
      <QuantityEntry path={[...path, "prevailing_from"]} label="Mostly from" />
      <QuantityEntry path={[...path, "direction_spread"]} label="Spread of direction" isOptional />
      <QuantityEntry path={[...path, "height"]} label="Measured at" isOptional />
      <NumberEntry path={[...path, "weibull_shape"]} label="Weibull shape" isOptional />
      <NumberEntry path={[...path, "speed_persistence"]} label="Persistence of speed" isOptional />
      <NumberEntry path={[...path, "direction_persistence"]} label="Persistence of direction" isOptional />
      <NumberEntry path={["seed"]} label="Seed of the draw" isOptional />
    </>
  );
}

const END_WAYS: Way[] = [
  { label: "A number of passes", key: "passes", fresh: { passes: 12 }, drops: ["until"] },
  { label: "As many as end by a date", key: "until", fresh: { until: "2027-09-30T18:00" }, drops: ["passes"] },
];

export function SeasonEntries(): JSX.Element {
  return (
    <>
      <TextEntry path={["season", "start"]} label="First set starts" type="datetime-local" />
      <Ways path={["season"]} legend="Length of the season" ways={END_WAYS}>
        {(key) =>
          key === "passes" ? (
            <NumberEntry path={["season", "passes"]} label="Passes" />
          ) : (
            <TextEntry path={["season", "until"]} label="Ends by" type="datetime-local" />
          )
        }
      </Ways>
      <QuantityEntry path={["season", "set_time"]} label="Water runs at each stop" />
      <QuantityEntry path={["season", "move_gap"]} label="Time to move between sets" isOptional />
      <NumberEntry path={["season", "sets_a_day"]} label="Sets a day" isOptional />
      <QuantityEntry path={["season", "return_time"]} label="Time to bring it back" isOptional />
      <QuantityEntry path={["season", "idle"]} label="Idle between passes" isOptional />
      <QuantityEntry path={["season", "pass_every"]} label="Or: a pass every" isOptional />
    </>
  );
}

/** Names of the FAO-56 tables that the program knows; any other name is a crop of one's own. */
const CROPS = [
  "alfalfa, mean over cuts", "alfalfa, cut by cut", "potato", "sugar beet", "onion, dry", "maize, grain",
  "soybean", "beans, dry", "spring wheat", "winter wheat", "barley", "pasture, rotated",
];

const GROUND: Scenario = {
  crop: { name: "maize, grain", planted: "2027-05-01" },
  soil: { texture: "silt loam", start_depletion: "20 %" },
  climate: { et0: "0.22 in/d" },
  worth: { seasons: 30, prices: {} },
};

const SOIL_WAYS: Way[] = [
  { label: "A texture class", key: "texture", fresh: { texture: "silt loam" }, drops: ["field_capacity", "wilting_point"] },
  { label: "Water contents", key: "field_capacity", fresh: { field_capacity: "29 %", wilting_point: "13 %" }, drops: ["texture"] },
];

export function CropEntries(): JSX.Element {
  const scenario = store.scenario.value;
  const isThere = scenario.crop !== undefined || scenario.soil !== undefined || scenario.climate !== undefined;
  const toggle = (on: boolean): void => {
    const next: Scenario = { ...store.scenario.value };
    for (const key of Object.keys(GROUND)) delete next[key];
    const fresh = allToSystem(GROUND, store.system.value) as Scenario;
    store.scenario.value = on ? { ...next, ...fresh, alternatives: next.alternatives ?? [] } : next;
  };
  const monthly = at(scenario, ["climate", "et0", "monthly"]) !== undefined;
  const changeEt0 = (months: boolean): void => {
    const one = store.system.value === "us" ? "0.22 in/d" : "5.6 mm/d";
    store.edit(["climate", "et0"], months ? { monthly: Array.from({ length: 12 }, () => one) } : one);
  };
  return (
    <>
      <label class="choice">
        <input type="checkbox" checked={isThere} onChange={(e) => toggle(e.currentTarget.checked)} />
        Reckon with crop and soil, so that yield and money can be told
      </label>
      {isThere && (
        <>
          <TextEntry path={["crop", "name"]} label="Crop" list="crops" />
          <datalist id="crops">
            {CROPS.map((crop) => (
              <option key={crop} value={crop} />
            ))}
          </datalist>
          <TextEntry path={["crop", "planted"]} label="Planted" type="date" />
          <Ways path={["soil"]} legend="Soil" ways={SOIL_WAYS}>
            {(key) =>
              key === "texture" ? (
                <ChoiceEntry path={["soil", "texture"]} label="Texture" />
              ) : (
                <>
                  <QuantityEntry path={["soil", "field_capacity"]} label="Field capacity" />
                  <QuantityEntry path={["soil", "wilting_point"]} label="Wilting point" />
                </>
              )
            }
          </Ways>
          <QuantityEntry path={["soil", "start_depletion"]} label="Missing on the first day" isOptional />
          <fieldset class="ways">
            <legend>Reference evapotranspiration</legend>
            <label class="choice">
              <input type="checkbox" checked={monthly} onChange={(e) => changeEt0(e.currentTarget.checked)} />
              Month by month
            </label>
            <div class="entries">
              {monthly ? (
                <MonthRows path={["climate", "et0", "monthly"]} />
              ) : (
                <QuantityEntry path={["climate", "et0"]} label="All season" />
              )}
            </div>
          </fieldset>
          <RainRows path={["climate", "rain"]} />
        </>
      )}
    </>
  );
}

const PRICES: [string, string][] = [
  ["crop", "Price of the crop"],
  ["potential_yield", "Yield without any lack of water"],
  ["water", "Price of water"],
  ["energy", "Price of energy, by water pumped"],
  ["labour", "Price of labour"],
  ["labour_per_move", "Labour for one move"],
  ["joint_each", "One swing joint or hose"],
  ["joint_life", "Its life"],
  ["outlet_each", "One more outlet"],
  ["outlet_life", "Its life in the ground"],
  ["discount_rate", "Discount rate a year"],
];

export function PriceEntries(): JSX.Element {
  return (
    <>
      <p class="help">
        Any one currency. A number marked as a guess is named wherever a result hangs on it; what is
        left empty counts as nothing.
      </p>
      {PRICES.map(([key, label]) => (
        <PriceEntry key={key} path={["worth", "prices", key]} label={label} />
      ))}
      <NumberEntry path={["worth", "seasons"]} label="Seasons to draw" isOptional />
      <QuantityEntry path={["worth", "level"]} label="Level of intervals" isOptional />
      <QuantityEntry path={["worth", "worth_the_name"]} label="Worth the trouble from" isOptional />
    </>
  );
}
