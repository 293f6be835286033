// How answers to the ten questions become a scenario. What was answered is the grower's own; what
// follows from it, and what was left open, stays a starting value.

import { at, comingYear, cut, put, text, type Json, type Path, type Scenario } from "../model/scenario";
import { afterEdit, confirm, isStarting, markStarting } from "../model/starting";
import * as store from "../model/store";
import { convert, leaveSystem, numberOf, short, split, type System } from "../model/units";
import { beginning, cropOf, daysOf, moneyOf, NEAREST, rotationsFor, windOf } from "./begin";
import { CROPS, throwOf_m, type Climate } from "./tables";

/** A change: where, what, and whether it is nobody's own. */
type Change = [path: Path, value: Json | undefined, isStarting: boolean];

const PIPE = ["lateral", "sprinklers"] as const;
const APART = ["lateral", "sprinkler_spacing"] as const;
const ALONG = ["field", "length_along_pipe"] as const;
const ACROSS = ["field", "width_across"] as const;
const NOZZLE = ["sprinkler", "jets", 0, "nozzle"] as const;
const RADIUS = ["sprinkler", "jets", 0, "radius"] as const;
const PRESSURE = ["sprinkler", "pressure"] as const;
const SET = ["season", "set_time"] as const;
const SETS = ["season", "sets_per_day"] as const;
const MOVE = ["season", "move_time"] as const;
export const PATHS = { PIPE, APART, ALONG, ACROSS, NOZZLE, PRESSURE, SET, SETS };

const AC_M2 = 4046.8564224;
const HA_M2 = 10_000;
const DIGITS = 6;

/** The number of a text in a unit; not a number where it is none of that kind. */
export function inUnit(value: Json | undefined, to: string): number {
  const { number, unit } = split(text(value));
  return convert(numberOf(number), unit || to, to) ?? NaN;
}

const lengthUnit = (): string => (store.system.value === "us" ? "ft" : "m");
const told = (meters: number): string => `${short(convert(meters, "m", lengthUnit()) ?? 0, DIGITS)} ${lengthUnit()}`;

/** Makes changes as one; rotations that nobody has touched follow the machine. */
export function write(changes: Change[]): void {
  let next = store.scenario.value;
  for (const [path, value, isOpen] of changes) {
    if (at(next, path) !== value || isOpen !== isStarting(next, path)) {
      next = afterEdit(next, value === undefined ? cut(next, path) : (put(next, path, value) as Scenario), path);
    }
    // An answer that is the starting value is an answer all the same.
    next = isOpen ? markStarting(next, [path]) : confirm(next, path);
  }
  if (isStarting(next, ["alternatives"])) next = { ...next, alternatives: rotationsFor(next) };
  store.scenario.value = next;
}

/** What a path holds before anybody has answered. */
export const startOf = (path: Path): Json | undefined => at(beginning(store.system.value), path) ?? WHEELS[store.system.value][path.join("/")];

/** A wheel that is told otherwise than by its name, until its number is there: the 7-foot one. */
const WHEELS: Record<System, Record<string, string>> = {
  us: { "wheel/outside_diameter": "76 in", "wheel/travel_per_turn": "20 ft" },
  si: { "wheel/outside_diameter": "1.93 m", "wheel/travel_per_turn": "6 m" },
};

/** An answer to one entry; nothing typed is no answer. */
export function answer(path: Path, value: string): void {
  const isOpen = value === "";
  const first: Change = [path, isOpen ? startOf(path) : value, isOpen];
  write([first, ...followers(path, first)]);
}

/** What follows from an entry, for as long as nobody has entered it himself. */
function followers(path: Path, [, value]: Change): Change[] {
  const now = put(store.scenario.value, path, value) as Scenario;
  const open = (other: Path, made: Json | undefined): Change[] => (isStarting(now, other) ? [[other, made, true]] : []);
  if (path === NOZZLE || path === PRESSURE) {
    const far = throwOf_m(inUnit(at(now, NOZZLE), "mm"), inUnit(at(now, PRESSURE), "kPa"));
    return Number.isFinite(far) ? open(RADIUS, `${(convert(far, "m", lengthUnit()) ?? 0).toFixed(store.system.value === "us" ? 0 : 1)} ${lengthUnit()}`) : [];
  }
  if (path === SET || path === SETS) {
    const spare = 24 / Number(at(now, SETS)) - inUnit(at(now, SET), "h");
    return spare >= 0 ? open(MOVE, `${short(Math.min(0.5, spare), DIGITS)} h`) : [];
  }
  return [];
}

/** Area and length of pipe as they were typed, which the scenario holds as sides and sprinklers. */
export interface Sizes {
  area: string;
  pipe: string;
}

/** The sides and the sprinklers that follow from sizes; open ones are starting values. */
export function writeSizes({ area, pipe }: Sizes, isByArea: boolean, apart = text(at(store.scenario.value, APART)), isApartOpen = isStarting(store.scenario.value, APART)): void {
  const start = beginning(store.system.value);
  const startPipe_m = inUnit(at(start, ALONG), "m");
  const pipe_m = pipe === "" ? startPipe_m : inUnit(pipe, "m");
  const apart_m = inUnit(apart, "m");
  const changes: Change[] = [[APART, apart, isApartOpen]];
  // No more sprinklers than the pipe has room for; a foot is not missed on a quarter mile.
  if (pipe_m > 0 && apart_m > 0) changes.push([PIPE, Math.max(1, Math.floor(pipe_m / apart_m + 0.05)), pipe === ""]);
  if (isByArea && pipe_m > 0) {
    const { number, unit } = split(area);
    const area_m2 = area === "" ? startPipe_m * inUnit(at(start, ACROSS), "m") : numberOf(number) * (unit === "ha" ? HA_M2 : AC_M2);
    changes.push([ALONG, told(pipe_m), pipe === ""]);
    if (area_m2 > 0) changes.push([ACROSS, told(area_m2 / pipe_m), area === ""]);
  }
  write(changes);
}

/** The sizes that a scenario's own sides and sprinklers stand for. */
export function sizesOf(scenario: Scenario): Sizes {
  const isUs = store.system.value === "us";
  const along = inUnit(at(scenario, ALONG), "m");
  const area = (along * inUnit(at(scenario, ACROSS), "m")) / (isUs ? AC_M2 : HA_M2);
  const pipe = Number(at(scenario, PIPE)) * inUnit(at(scenario, APART), lengthUnit());
  return {
    area: isStarting(scenario, ACROSS) ? "" : `${short(area, 4)} ${isUs ? "ac" : "ha"}`,
    pipe: isStarting(scenario, PIPE) ? "" : `${short(pipe, DIGITS)} ${lengthUnit()}`,
  };
}

/** How the lateral is moved: by the trade's name of its wheels, another wheel, or by hand. */
export function writeMachine(choice: string): void {
  const isHand = choice === "hand";
  const keys: Record<string, string> = { diameter: "outside_diameter", turn: "travel_per_turn" };
  const key = keys[choice];
  const lost: Scenario = choice === "diameter" ? { slip_and_sinkage: "2 %" } : {};
  const own: Scenario | undefined = isHand ? undefined : key ? { [key]: startOf(["wheel", key])!, ...lost } : { size: choice };
  const isNumberOpen = key !== undefined;
  write([
    [["lateral", "machine"], isHand ? "hand move" : "wheel line", false],
    [["wheel"], own && { ...own, ...NEAREST }, isNumberOpen],
    ...(own ? [[["wheel", "added_turn"], NEAREST.added_turn, true] satisfies Change] : []),
  ]);
}

/** What was chosen of these; empty while nobody has. */
export function machineOf(scenario: Scenario): string {
  if (isStarting(scenario, ["lateral", "machine"])) return "";
  if (at(scenario, ["lateral", "machine"]) === "hand move") return "hand";
  const wheel = (scenario.wheel ?? {}) as Scenario;
  return wheel.travel_per_turn !== undefined ? "turn" : wheel.outside_diameter !== undefined ? "diameter" : text(wheel.size);
}

/** A crop, with the days and the money that go with it where nobody has entered them. */
export function writeCrop(name: string): void {
  const found = CROPS.find((one) => one.name === name);
  const system = store.system.value;
  const now = store.scenario.value;
  const isOpen = name === "";
  const row = isOpen ? CROPS[0]! : found;
  const open = (path: Path, value: Json | undefined): Change[] => (at(now, path) === undefined || isStarting(now, path) ? [[path, value, value !== undefined]] : []);
  const changes: Change[] = [[["crop", "name"], isOpen ? row!.name : name, isOpen]];
  const year = Number(text(at(now, ["season", "start"])).slice(0, 4)) || comingYear(new Date());
  const days = row && daysOf(row, year);
  if (row && days) {
    changes.push(...open(["crop", "planted"], days.planted), ...open(["crop", "stages"], cropOf(row, year).stages));
    changes.push(...open(["season", "start"], days.start), ...open(["season", "until"], days.until));
  }
  // Of a crop that has no row, money is asked for by name and never counted as nothing.
  const money = row ? moneyOf(row, system) : { crop: undefined, potential_yield: undefined };
  changes.push(...open(["worth", "prices", "crop"], money.crop), ...open(["worth", "prices", "potential_yield"], money.potential_yield));
  write(changes);
}

export function writeClimate(climate: Climate): void {
  const made = windOf(climate, store.system.value);
  const generated = ["wind", "generated"] as const;
  // The means stand beside the word that was chosen; of the rest nothing was said.
  const common: Change[] = Object.entries(made.generated as Scenario).map(([key, value]) => [[...generated, key], value, !key.endsWith("_mean")]);
  write([[["wind"], made, true], ...common]);
}

/** Which of the climates the scenario has; none while nobody has chosen. */
export const climateOf = (scenario: Scenario, climates: Climate[]): string => {
  if (at(scenario, ["wind", "record"]) !== undefined) return "record";
  const day = at(scenario, ["wind", "generated", "day_mean"]);
  if (isStarting(scenario, ["wind", "generated", "day_mean"])) return "";
  const found = climates.find((one) => (["us", "si"] as const).some((system) => at(windOf(one, system), ["generated", "day_mean"]) === day || close(day, one.day_m_s)));
  return found?.key ?? "";
};

const close = (value: Json | undefined, m_s: number): boolean => Math.abs(inUnit(value, "m/s") - m_s) < 0.05;

/** A price as it was typed; nothing typed leaves the placeholder. */
export function writePrice(key: string, value: string): void {
  const path = ["worth", "prices", key];
  if (value !== "") return write([[path, value, false]]);
  const row = CROPS.find((one) => one.name === at(store.scenario.value, ["crop", "name"]));
  write([[path, key === "crop" ? row && moneyOf(row, store.system.value).crop : startOf(path), true]]);
}

/** The units of the questions: starting values come in round numbers of the other system, answers keep
 * their amount and come back with the digits that were typed. */
export function changeUnits(system: System): void {
  if (system === store.system.value) return;
  const before = store.scenario.value;
  const turned = { ...(leaveSystem(before, system) as Scenario), units: system };
  const round = beginning(system);
  store.scenario.value = rounded(turned, round, []) as Scenario;
  const row = CROPS.find((one) => one.name === at(before, ["crop", "name"]));
  const money = row && moneyOf(row, system);
  const prices: Change[] = (["crop", "potential_yield"] as const).flatMap((key): Change[] => {
    const path = ["worth", "prices", key];
    return isStarting(before, path) ? [[path, money?.[key], money !== undefined]] : [];
  });
  write([...prices, ...followers(NOZZLE, [NOZZLE, at(store.scenario.value, NOZZLE), false])]);
}

/** Those values of a scenario that are nobody's, as another has them, where both are told alike. */
function rounded(value: Json, round: Json | undefined, path: Path): Json {
  if (value !== null && typeof value === "object" && !Array.isArray(value)) {
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, rounded(inner, at(round, [key]), [...path, key])]));
  }
  const isAlike = round !== undefined && typeof round === typeof value && path[0] !== "crop" && path[0] !== "alternatives" && path[0] !== "season";
  return isAlike && isStarting(store.scenario.value, path) ? round : value;
}

/** How many sets a day; none chosen leaves the starting value. */
export const writeSets = (chosen: string): void => {
  const value = chosen === "" ? startOf(SETS) : Number(chosen);
  const first: Change = [SETS, value, chosen === ""];
  write([first, ...followers(SETS, first)]);
};
