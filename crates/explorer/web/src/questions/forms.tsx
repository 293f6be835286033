// What each of the ten questions asks, in one or two entries.

import type { JSX } from "preact";
import { at, text, type Path } from "../model/scenario";
import { nodeAt } from "../model/schema";
import { isStarting } from "../model/starting";
import * as store from "../model/store";
import { convert, unitsLike } from "../model/units";
import { TextEntry } from "../setup/entry";
import { NameQuestion } from "../setup/machine";
import { problemsAt } from "../setup/wrongs";
import { RecordEntries } from "../setup/year";
import { WheelFit } from "./fit";
import { ChoiceAnswer, NumberAnswer } from "./inputs";
import { isByArea, setApart, setSize, sizes, tellBy } from "./state";
import { CLIMATES, CROPS, PICKS, SOILS } from "./tables";
import * as writing from "./write";

const { PATHS, answer } = writing;
const isUs = (): boolean => store.system.value === "us";
const lengthUnit = (): string => (isUs() ? "ft" : "m");
const lengths = (): string[] => unitsLike(lengthUnit(), store.system.value).filter((one) => ["ft", "in", "m", "yd"].includes(one));
const picks = (key: string): string[] => PICKS[store.system.value][key] ?? [];

/** What was answered at a path; empty while its starting value holds. */
const answered = (path: Path): string => (isStarting(store.scenario.value, path) ? "" : text(at(store.scenario.value, path)));
const held = (path: Path): string => text(at(store.scenario.value, path));

interface AtProps {
  path: Path;
  label: string;
  unit: string;
  units?: string[];
  picks?: string[];
  help?: string;
}

/** A number that the scenario holds as it is typed. */
function At({ path, ...rest }: AtProps): JSX.Element {
  return <NumberAnswer id={`ask-${path.join("-")}`} value={answered(path)} start={held(path)} problems={problemsAt(path)} set={(value) => answer(path, value)} {...rest} />;
}

export function Size(): JSX.Element {
  const byArea = isByArea.value;
  const area = isUs() ? "ac" : "ha";
  return (
    <>
      <fieldset class="choices">
        <legend class="unseen">How to tell it</legend>
        <label class="choice">
          <input type="radio" name="size-by" checked={byArea} onChange={() => tellBy(true)} />
          {isUs() ? "By acres" : "By hectares"}
        </label>
        <label class="choice">
          <input type="radio" name="size-by" checked={!byArea} onChange={() => tellBy(false)} />
          By its two sides
        </label>
      </fieldset>
      {byArea ? (
        <NumberAnswer id="ask-area" label="Area under this line" value={sizes.value.area} start={isUs() ? "40 ac" : "16 ha"} unit={area} picks={picks("area")} problems={problemsAt(PATHS.ACROSS)} set={(value) => setSize("area", value)} help="Odd-shaped? Take the rectangle that the line crosses. You can trace the edge later." />
      ) : (
        <>
          <At path={PATHS.ALONG} label="Along the pipe" unit={lengthUnit()} units={lengths()} />
          <At path={PATHS.ACROSS} label="Across, the way the line travels" unit={lengthUnit()} units={lengths()} />
        </>
      )}
    </>
  );
}

export function Pipe(): JSX.Element {
  const count = held(PATHS.PIPE);
  return (
    <NumberAnswer id="ask-pipe" label="Length of the pipe" value={sizes.value.pipe} start={isUs() ? "1320 ft, a quarter mile" : "400 m"} unit={lengthUnit()} units={lengths()} picks={picks("pipe")} problems={problemsAt(PATHS.PIPE)} set={(value) => setSize("pipe", value)} help={`That is ${count} sprinklers, ${held(PATHS.APART)} apart.`} />
  );
}

const WHEELS = [
  { value: "5-foot", us: "rolls 15 ft a turn", si: "rolls 4.57 m a turn" },
  { value: "7-foot", us: "rolls 20 ft a turn", si: "rolls 6.10 m a turn" },
  { value: "9-foot", us: "rolls 30 ft a turn", si: "rolls 9.14 m a turn" },
];

export function Machine(): JSX.Element {
  const chosen = writing.machineOf(store.scenario.value);
  const options = [
    ...WHEELS.map(({ value, us, si }) => ({ value, label: `Wheel line, ${value} wheels`, words: isUs() ? us : si })),
    { value: "diameter", label: "Wheel line, another wheel", words: "you know how tall it is, over the lugs" },
    { value: "turn", label: "Wheel line, roll measured", words: "you measured how far one turn takes it" },
    { value: "hand", label: "Carried by hand", words: "hand-moved pipe" },
  ];
  return (
    <ChoiceAnswer name="machine" legend="How the lateral is moved" options={options} value={chosen} start="a wheel line on 7-foot wheels" set={writing.writeMachine}>
      {chosen === "diameter" && (
        <>
          <At path={["wheel", "outside_diameter"]} label="How tall is the wheel?" unit={isUs() ? "in" : "m"} units={["ft", "in", "m", "cm"]} help="4 ft 8 in may be typed just so." />
          <NameQuestion path={["wheel"]} />
        </>
      )}
      {chosen === "turn" && <At path={["wheel", "travel_per_turn"]} label="How far does one turn take it?" unit={lengthUnit()} units={lengths()} />}
      <WheelFit />
    </ChoiceAnswer>
  );
}

export function Spacing(): JSX.Element {
  const isHand = at(store.scenario.value, ["lateral", "machine"]) === "hand move";
  return (
    <>
      <At path={["outlets", "spacing"]} label={isHand ? "Outlets, or how far you carry it" : "Outlets on the mainline"} unit={lengthUnit()} units={lengths()} picks={picks("outlets")} />
      <NumberAnswer id="ask-sprinklers" label="Sprinklers on the pipe" value={answered(PATHS.APART)} start={held(PATHS.APART)} unit={lengthUnit()} units={lengths()} picks={picks("sprinklers")} problems={problemsAt(PATHS.APART)} set={setApart} />
      <WheelFit />
    </>
  );
}

export function Nozzle(): JSX.Element {
  const units = isUs() ? ["in", "mm"] : ["mm", "in"];
  return (
    <>
      <At path={PATHS.NOZZLE} label="Nozzle" unit={units[0]!} units={units} picks={picks("nozzle")} help="It is stamped on the nozzle." />
      <At path={PATHS.PRESSURE} label="Pressure at the sprinkler" unit={isUs() ? "psi" : "kPa"} units={["psi", "kPa", "bar"]} picks={picks("pressure")} help={`We take it to throw ${held(["sprinkler", "jets", 0, "radius"])}; enter your maker’s figure later under Sprinkler.`} />
    </>
  );
}

export function Crop(): JSX.Element {
  const path = ["crop", "name"] as const;
  const name = answered(path);
  const isOwn = name !== "" && !CROPS.some((one) => one.name === name);
  const all = (store.schema.value && nodeAt(store.schema.value, path)?.examples?.map(text)) || [];
  return (
    <>
      <div class="answer-entry">
        <label for="ask-crop">Crop</label>
        <select id="ask-crop" value={isOwn ? "own" : name} aria-describedby="ask-crop-start" onChange={(e) => writing.writeCrop(e.currentTarget.value === "own" ? "soybean" : e.currentTarget.value)}>
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
        <>
          <TextEntry path={path} list="ask-crops" label="Its name" />
          <datalist id="ask-crops">
            {all.map((one) => (
              <option key={one} value={one} />
            ))}
          </datalist>
        </>
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
  return <ChoiceAnswer name="soil" legend="Soil" options={options} value={answered(["soil", "texture"])} start="silt loam" set={(value) => answer(["soil", "texture"], value)} />;
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
      <At path={["season", "pass_interval"]} label="Days until the line is back (optional)" unit="days" help="Left empty, it starts over as soon as it is through." />
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
  return <NumberAnswer id={`ask-price-${of}`} label={label} value={priced(of)} start={start && `about ${start}`} unit={units[0]!} units={units.slice(1)} problems={problemsAt(path)} set={(value) => writing.writePrice(of, value)} {...(help ? { help } : {})} />;
}

export function Money(): JSX.Element {
  const row = CROPS.find((one) => one.name === held(["crop", "name"]));
  const usual = row?.price[store.system.value].unit;
  const units = [...new Set([...(usual ? [usual] : []), ...cropUnits()])];
  return (
    <>
      <Price of="joint_each" label="One more swing joint or hose" units={["each"]} />
      <Price of="crop" label="The crop sells for" units={units} />
      <Price of="water" label="Water, if you pay for it (optional)" units={isUs() ? ["per ac-ft"] : ["per m3"]} help="Dear water can decide it." />
    </>
  );
}
