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

/** How many ways the page lets one build beside each other. */
export const MOST_WAYS = 6;
const MOST_NAME = 80;

/** A name that no way has yet, as near to the wanted one as there is room. */
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

/** A common field to begin with: a square of 40 acres, one wheel line, one nozzle, twelve passes. Still
 * air would flatter every way of stopping, so a common wind is drawn. */
export function fromNothing(today = new Date()): Scenario {
  return {
    evenfall: 1,
    title: "My field",
    units: "us",
    seed: 1,
    field: { length_along_pipe: "1320 ft", width_across: "1320 ft", travel_bearing: "0 deg", cell: "2 ft" },
    lateral: { machine: "wheel line", sprinklers: 33, sprinkler_spacing: "40 ft" },
    wheel: { travel_per_turn: "20 ft" },
    outlets: { spacing: "60 ft", reach: "25 ft" },
    sprinkler: {
      pressure: "50 psi",
      trajectory: "25 deg",
      nozzle_height: "4 ft",
      jets: [{ nozzle: "5/32 in", radius: "44 ft" }],
    },
    losses: { fraction: "8 %" },
    air: { temperature: "75 F", humidity: "50 %" },
    season: { start: `${comingYear(today)}-05-10T06:00`, passes: 12, set_time: "11.5 h", move_gap: "0.5 h", sets_a_day: 2 },
    wind: { generated: usualWind() },
    alternatives: [{ name: "Fixed", rotation: ["0 ft"] }],
  };
}
