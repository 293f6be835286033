// What the last five questions ask: crop, soil, sets, wind, money.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { at, text } from "../model/scenario";
import { nodeAt } from "../model/schema";
import { isStarting } from "../model/starting";
import * as store from "../model/store";
import { convert } from "../model/units";
import { problemsAt, Wrongs } from "../setup/wrongs";
import { RecordEntries } from "../setup/year";
import { answered, At, held, isUs, picks } from "./at";
import { ChoiceAnswer, NumberAnswer } from "./inputs";
import { CLIMATES, CROPS, SOILS } from "./tables";
import * as writing from "./write";

const { PATHS, answer } = writing;

export function Crop(): JSX.Element {
  const path = ["crop", "name"] as const;
  const name = answered(path);
  const [isOther, setOther] = useState(false);
  const isOwn = isOther || (name !== "" && !CROPS.some((one) => one.name === name));
  const all = (store.schema.value && nodeAt(store.schema.value, path)?.examples?.map(text)) || [];
  const choose = (value: string): void => {
    setOther(value === "own");
    writing.writeCrop(value === "own" ? "" : value);
  };
  return (
    <>
      <div class="answer-entry">
        <label for="ask-crop">Crop</label>
        <select id="ask-crop" value={isOwn ? "own" : name} aria-describedby="ask-crop-start" onChange={(e) => choose(e.currentTarget.value)}>
          <option value="">Choose</option>
          {CROPS.map((one) => (
            <option key={one.name} value={one.name}>
              {one.label}
            </option>
          ))}
          <option value="own">Another crop</option>
        </select>
        <p class="start-note" id="ask-crop-start">
          {name === "" && (
            <>
              <span class="whose starting">starting value</span> alfalfa, until you choose
            </>
          )}
        </p>
      </div>
      {isOwn && (
        <div class="answer-entry">
          <label for="ask-crop-name">Its name</label>
          <input
            id="ask-crop-name"
            type="text"
            list="ask-crops"
            value={name}
            aria-describedby="ask-crop-wrong"
            onInput={(e) => writing.writeCrop(e.currentTarget.value)}
          />
          <Wrongs id="ask-crop-wrong" problems={problemsAt(path)} />
          <datalist id="ask-crops">
            {all.map((one) => (
              <option key={one} value={one} />
            ))}
          </datalist>
        </div>
      )}
      <p class="help">
        Water from {dayText(held(["season", "start"]))} to {dayText(held(["season", "until"]))}: starting values, under “Season” later.
      </p>
    </>
  );
}

const MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
const dayText = (moment: string): string => {
  const [, month, day] = /^\d{4}-(\d\d)-(\d\d)/.exec(moment) ?? [];
  return month && day ? `${MONTHS[Number(month) - 1]} ${Number(day)}` : "–";
};

export function Soil(): JSX.Element {
  const options = SOILS.map(([value, words]) => ({ value, label: value[0]!.toUpperCase() + value.slice(1), words }));
  return (
    <ChoiceAnswer
      name="soil"
      legend="Soil"
      options={options}
      value={answered(["soil", "texture"])}
      start="silt loam"
      set={(value) => answer(["soil", "texture"], value)}
    />
  );
}

export function Sets(): JSX.Element {
  const sets = answered(PATHS.SETS);
  return (
    <>
      <At path={PATHS.SET} label="Hours a set" unit="h" picks={picks("set_time")} />
      <div class="answer-entry">
        <label for="ask-sets">Sets a day</label>
        <select id="ask-sets" value={sets} aria-describedby="ask-sets-start" onChange={(e) => writing.writeSets(e.currentTarget.value)}>
          <option value="">Choose</option>
          {[1, 2, 3, 4].map((n) => (
            <option key={n} value={String(n)}>
              {n === 1 ? "1, one move a day" : `${n}, ${n} moves a day`}
            </option>
          ))}
        </select>
        <p class="start-note" id="ask-sets-start">
          {sets === "" && (
            <>
              <span class="whose starting">starting value</span> {held(PATHS.SETS)} a day, until you choose
            </>
          )}
        </p>
      </div>
      <At
        path={["season", "pass_interval"]}
        label="Days until the line is back (optional)"
        unit="days"
        help="Left empty, it starts over as soon as it is through."
      />
    </>
  );
}

const speed = (m_s: number): string => (isUs() ? `${(convert(m_s, "m/s", "mph") ?? 0).toFixed(0)} mph` : `${m_s} m/s`);

export function Wind(): JSX.Element {
  const chosen = writing.climateOf(store.scenario.value, CLIMATES);
  const options = [
    ...CLIMATES.map((one) => ({ value: one.key, label: `${one.label}: ${speed(one.day_m_s)} by day, ${speed(one.night_m_s)} by night`, words: one.words })),
    { value: "record", label: "I have a record", words: "a file of hourly wind" },
  ];
  const set = (value: string): void => {
    const climate = CLIMATES.find((one) => one.key === value);
    if (climate) writing.writeClimate(climate);
    else store.edit(["wind"], { record: { file: "", layout: "csv" } });
  };
  return (
    <ChoiceAnswer name="wind" legend="Wind" options={options} value={chosen} start={`breezy, ${speed(3.5)} by day and ${speed(2)} by night`} set={set}>
      {chosen === "record" ? (
        <RecordEntries />
      ) : (
        <p class="help">The speeds are our judgment for these words, means over the season at {isUs() ? "33 ft" : "10 m"}. A record of your own is better.</p>
      )}
    </ChoiceAnswer>
  );
}

/** A price as it was typed; empty while it is nobody's. */
const priced = (key: string): string => {
  const path = ["worth", "prices", key];
  const value = at(store.scenario.value, path);
  return isStarting(store.scenario.value, path) || value === undefined ? "" : text(typeof value === "object" ? at(value, ["value"]) : value);
};

const cropUnits = (): string[] => (isUs() ? ["per ton", "per cwt", "per bu", "per lb"] : ["per t", "per kg"]);

function Price({ of, label, units, help }: { of: string; label: string; units: string[]; help?: string }): JSX.Element {
  const path = ["worth", "prices", of];
  const start = text(at(store.scenario.value, [...path, "value"]));
  return (
    <NumberAnswer
      id={`ask-price-${of}`}
      label={label}
      value={priced(of)}
      start={start && `about ${start}`}
      unit={units[0]!}
      units={units.slice(1)}
      problems={problemsAt(path)}
      set={(value) => writing.writePrice(of, value)}
      {...(help ? { help } : {})}
    />
  );
}

export function Money(): JSX.Element {
  const row = CROPS.find((one) => one.name === held(["crop", "name"]));
  const usual = row?.price[store.system.value].unit;
  const units = [...new Set([...(usual ? [usual] : []), ...cropUnits()])];
  return (
    <>
      <Price of="joint_each" label="One more swing joint or hose" units={["each"]} help="What connects the pipe to an outlet; not a length of pipe." />
      <Price of="crop" label="The crop sells for" units={units} />
      <Price of="water" label="Water, if you pay for it (optional)" units={isUs() ? ["per ac-ft"] : ["per m3"]} help="It counts where one plan puts on less water than another." />
    </>
  );
}
