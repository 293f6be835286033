// Entries on the weather, the season and the prices.

import type { JSX } from "preact";
import { at, daysAfter, text, usualWind, type Scenario } from "../model/scenario";
import * as store from "../model/store";
import { SeasonFacts } from "./facts";
import { ChoiceEntry, NumberEntry, QuantityEntry, TextEntry, TickEntry } from "./entry";
import { FileEntry, guessLayout } from "./named_file";
import { PriceEntry } from "./price";
import { Pumping } from "./pumping";
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
  windWay("Drawn hour by hour", "generated", usualWind()),
];

const RECORD = windWay("Hourly record", "record", { file: "", layout: "csv" });

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
  const here = (at(store.scenario.value, path) ?? {}) as Scenario;
  return (
    <>
      <FileEntry
        path={path}
        label="Weather file"
        help="Hours of wind, temperature and humidity: a plain table with units in its head, or the standard TMY3 layout."
        fresh={(name, body) => ({ ...here, file: name, layout: guessLayout(body) })}
      />
      <ChoiceEntry path={[...path, "layout"]} label="Layout of the file" />
      <QuantityEntry path={[...path, "height"]} label="Anemometer above ground" isOptional />
      <QuantityEntry path={[...path, "longest_gap"]} label="Longest gap to bridge" isOptional />
      <TickEntry path={[...path, "typical_year"]} label="It stands for any year" />
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

/** Days from the first set to the end of a common season. */
const SEASON_DAYS = 140;

const endWays = (start: string): Way[] => [
  { label: "A number of passes", key: "passes", fresh: { passes: 12 }, drops: ["until"] },
  { label: "As many as end by a date", key: "until", fresh: { until: `${daysAfter(start, SEASON_DAYS)}T18:00` }, drops: ["passes"] },
];

export function SeasonEntries(): JSX.Element {
  const isCropThere = store.scenario.value.crop !== undefined;
  return (
    <>
      <TextEntry path={["season", "start"]} label="First set starts" type="datetime-local" help="Day and clock time, without summer time." />
      <Ways path={["season"]} legend="Length of the season" ways={endWays(text(at(store.scenario.value, ["season", "start"])))}>
        {(key) =>
          key === "passes" ? (
            <NumberEntry path={["season", "passes"]} label="Passes" />
          ) : (
            <TextEntry path={["season", "until"]} label="Ends by" type="datetime-local" help="As many whole passes run as end by then." />
          )
        }
      </Ways>
      <QuantityEntry path={["season", "set_time"]} label="Water runs at each stop" />
      <QuantityEntry path={["season", "move_time"]} label="Time to move between sets" isOptional />
      <NumberEntry path={["season", "sets_per_day"]} label="Sets a day" isOptional />
      <QuantityEntry path={["season", "return_time"]} label="Time to bring it back" isOptional />
      <QuantityEntry path={["season", "idle_between_passes"]} label="Idle between passes" isOptional />
      <QuantityEntry path={["season", "pass_interval"]} label="Or: a pass every" isOptional help="From the start of one pass to the start of the next, as 7 days for once a week; takes the place of the idle time." />
      <SeasonFacts />
      {isCropThere && (
        <>
          <QuantityEntry path={["season", "irrigate_at_depletion"]} label="Or: wait until the soil has used" isOptional />
          <QuantityEntry path={["season", "min_pass_interval"]} label="But not sooner than" isOptional />
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
  ["labor", "Price of labor"],
  ["labor_per_move", "Labor for one move"],
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
      <Pumping path={["worth", "prices", "energy"]} />
      <TextEntry path={["worth", "currency"]} label="Name of the currency" isOptional />
      <NumberEntry path={["worth", "seasons"]} label="Seasons to draw" isOptional />
      <QuantityEntry path={["worth", "target_precision"]} label="Or as many as make the net return sure to" isOptional moreUnits={["%"]} />
      <NumberEntry path={["worth", "max_seasons"]} label="But not more than" isOptional />
      <QuantityEntry path={["worth", "confidence_level"]} label="Level of intervals" isOptional />
      <QuantityEntry path={["worth", "worthwhile_gain"]} label="Worth the trouble from" isOptional />
    </>
  );
}
