// The scenario: the JSON object of the scenario file, changed only through copies.

export type Json = string | number | boolean | null | Json[] | { [key: string]: Json };
export type Scenario = { [key: string]: Json };
export type Path = readonly (string | number)[];

/** The value at a path, or undefined. */
export function at(root: Json | undefined, path: Path): Json | undefined {
  let value: Json | undefined = root;
  for (const key of path) {
    if (value === null || typeof value !== "object") return undefined;
    value = Array.isArray(value) ? value[Number(key)] : value[key];
  }
  return value;
}

/** A copy with the value at a path set; undefined removes it. Missing parents are made. */
export function put(root: Json | undefined, path: Path, value: Json | undefined): Json {
  const [key, ...rest] = path;
  if (key === undefined) return value ?? null;
  if (Array.isArray(root) || (root === undefined && typeof key === "number")) {
    const list = Array.isArray(root) ? [...root] : [];
    if (rest.length === 0 && value === undefined) list.splice(Number(key), 1);
    else list[Number(key)] = put(list[Number(key)], rest, value);
    return list;
  }
  const object = root !== null && typeof root === "object" ? { ...(root as Scenario) } : {};
  if (rest.length === 0 && value === undefined) delete object[key];
  else object[key] = put(object[key], rest, value);
  return object;
}

/** A scenario without the value at a path. What then holds nothing any more is left out as well: an
 * empty section is no section. */
export function cut(scenario: Scenario, path: Path): Scenario {
  let next = put(scenario, path, undefined) as Scenario;
  for (let up = path.slice(0, -1); up.length > 0; up = up.slice(0, -1)) {
    const parent = at(next, up);
    const isEmpty = parent !== null && typeof parent === "object" && !Array.isArray(parent) && Object.keys(parent).length === 0;
    if (!isEmpty) break;
    next = put(next, up, undefined) as Scenario;
  }
  return next;
}

/** A path as a JSON pointer (RFC 6901). */
export function pointer(path: Path): string {
  return path.map((key) => `/${String(key).replace(/~/g, "~0").replace(/\//g, "~1")}`).join("");
}

export const text = (value: Json | undefined): string =>
  value === undefined || value === null ? "" : String(value);

/** What is compared, in order. */
export function alternatives(scenario: Scenario): Scenario[] {
  const list = scenario.alternatives;
  return Array.isArray(list) ? (list as Scenario[]) : [];
}

/** How many alternatives the page lets one compare. */
export const MOST_ALTERNATIVES = 6;
const MOST_NAME = 80;

/** A name that no alternative has yet, as near to the wanted one as there is room. */
export function freeName(wanted: string, taken: string[]): string {
  const known = new Set(taken.map((name) => name.toLowerCase()));
  const short = wanted.slice(0, MOST_NAME - 4);
  for (let n = 2, name = short; ; n++) {
    if (!known.has(name.toLowerCase())) return name;
    name = `${short} ${n}`;
  }
}

/** Names of all files that a scenario names: weather, climate, boundary. */
export function filesNamed(value: Json | undefined, key = ""): string[] {
  if (typeof value === "string") return key === "file" ? [value] : [];
  if (value === null || typeof value !== "object") return [];
  const found = Object.entries(value).flatMap(([k, v]) => filesNamed(v, k));
  return [...new Set(found)];
}

export const systemOf = (scenario: Scenario): "us" | "si" => (scenario.units === "si" ? "si" : "us");

const two = (n: number): string => String(n).padStart(2, "0");

/** The year whose summer lies ahead. */
export const comingYear = (today: Date): number => today.getFullYear() + (today.getMonth() >= 8 ? 1 : 0);

/** A day so many days after the day that a text begins with; the same text if it begins with none. */
export function daysAfter(start: string, days: number): string {
  const day = Date.parse(`${start.slice(0, 10)}T00:00:00Z`);
  if (Number.isNaN(day)) return start;
  const then = new Date(day + days * 86_400_000);
  return `${then.getUTCFullYear()}-${two(then.getUTCMonth() + 1)}-${two(then.getUTCDate())}`;
}

/** A wind to begin with: light by night, fresh by day, from one side mostly. */
export const usualWind = (): Scenario => ({
  day_mean: "8 mph",
  night_mean: "4.5 mph",
  weibull_shape: 2,
  prevailing_from: "225 deg",
  direction_spread: "45 deg",
  speed_persistence: 0.63,
  direction_persistence: 0.76,
  height: "33 ft",
});

/** Sizes of a common field and line, as one would give them in either system. */
const COMMON = {
  us: {
    side: "1320 ft", cell: "2 ft", sprinklers_apart: "40 ft", wheel: { size: "7-foot" }, outlets_apart: "60 ft", reach: "25 ft",
    pressure: "50 psi", height: "4 ft", nozzle: "5/32 in", radius: "44 ft", temperature: "75 F",
  },
  si: {
    side: "400 m", cell: "0.5 m", sprinklers_apart: "12 m", wheel: { travel_per_turn: "6 m" }, outlets_apart: "18 m", reach: "7.5 m",
    pressure: "350 kPa", height: "1.2 m", nozzle: "4 mm", radius: "13.5 m", temperature: "24 C",
  },
};

/** A common wind in either system: light by night, fresh by day, from one side mostly. */
const windIn = (system: "us" | "si"): Scenario =>
  system === "us" ? usualWind() : { ...usualWind(), day_mean: "3.6 m/s", night_mean: "2 m/s", height: "10 m" };

/** A common field to begin with: a square of some 40 acres, one wheel line, one nozzle, twelve passes.
 * Still air would flatter every alternative, so a common wind is drawn. */
export function fromNothing(system: "us" | "si" = "us", today = new Date()): Scenario {
  const of = COMMON[system];
  const common: Scenario = {
    evenfall: 1,
    title: "My field",
    units: system,
    seed: 1,
    field: { length_along_pipe: of.side, width_across: of.side, travel_bearing: "0 deg", cell: of.cell },
    lateral: { machine: "wheel line", sprinklers: 33, sprinkler_spacing: of.sprinklers_apart },
    wheel: { ...of.wheel },
    outlets: { spacing: of.outlets_apart, reach: of.reach },
    sprinkler: {
      pressure: of.pressure,
      trajectory_angle: "25 deg",
      nozzle_height: of.height,
      jets: [{ nozzle: of.nozzle, radius: of.radius }],
    },
    losses: { fraction: "8 %" },
    air: { temperature: of.temperature, humidity: "50 %" },
    season: { start: `${comingYear(today)}-05-10T06:00`, passes: 12, set_time: "11.5 h", move_time: "0.5 h", sets_per_day: 2 },
    wind: { generated: windIn(system) },
  };
  // Nobody has looked at these yet.
  const starting = Object.keys(common).filter((key) => common[key] !== null && typeof common[key] === "object");
  return {
    ...common,
    alternatives: [{ name: "Fixed", rotation: [system === "us" ? "0 ft" : "0 m"] }],
    starting_values: starting.map((key) => pointer([key])),
  };
}
