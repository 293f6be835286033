// Entries on the weather, the season and the prices.

import type { JSX } from "preact";
import { at, type Scenario } from "../model/scenario";
import * as store from "../model/store";
import { ChoiceEntry, NumberEntry, QuantityEntry, TextEntry } from "./entry";
import { FileEntry } from "./named_file";
import { PriceEntry } from "./price";
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

function RecordEntries(): JSX.Element {
  const path = ["wind", "record"] as const;
  return (
    <>
      <FileEntry path={path} label="Weather file" help="Hours of wind, temperature and humidity, as a plain table or in the standard layout." />
      <ChoiceEntry path={[...path, "layout"]} label="Layout of the file" />
      <QuantityEntry path={[...path, "height"]} label="Anemometer above ground" isOptional />
      <QuantityEntry path={[...path, "longest_gap"]} label="Longest gap to bridge" isOptional />
      <label class="choice">
        <input
          type="checkbox"
          checked={at(store.scenario.value, [...path, "typical_year"]) === true}
          onChange={(e) => store.edit([...path, "typical_year"], e.currentTarget.checked || undefined)}
        />
        It stands for any year, whatever its dates
      </label>
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
  const isCropThere = store.scenario.value.crop !== undefined;
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
      {isCropThere && (
        <>
          <QuantityEntry path={["season", "called_at"]} label="Or: wait until the soil has used" isOptional />
          <QuantityEntry path={["season", "called_every"]} label="But not sooner than" isOptional />
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
      <TextEntry path={["worth", "currency"]} label="Name of the currency" isOptional />
      <NumberEntry path={["worth", "seasons"]} label="Seasons to draw" isOptional />
      <QuantityEntry path={["worth", "precision"]} label="Or as many as make the net return sure to" isOptional moreUnits={["%"]} />
      <NumberEntry path={["worth", "most_seasons"]} label="But not more than" isOptional />
      <QuantityEntry path={["worth", "level"]} label="Level of intervals" isOptional />
      <QuantityEntry path={["worth", "worth_the_name"]} label="Worth the trouble from" isOptional />
    </>
  );
}
