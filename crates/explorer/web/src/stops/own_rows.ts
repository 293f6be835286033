// What two alternatives can differ in beside their stops: which keys, what
// all alternatives have in common there, and from what a value of one's own starts.

import { at, cut, put, systemOf, text, type Json, type Path, type Scenario } from "../model/scenario";
import { rowAt, type Node } from "../model/schema";
import { allToSystem, toSystem } from "../model/units";
import { FRESH as PIPE } from "../setup/pipe";
import type { Check } from "../model/api";

export type Kind = "quantity" | "number" | "moment" | "choice" | "wheel" | "jets" | "drag" | "pipe";

export interface OwnRow {
  group: string;
  /** Path within the scenario and within an alternative alike. */
  path: Path;
  kind: Kind;
  /** What holds where neither the alternative nor the scenario says anything. */
  none: string;
  /** From what a value of one's own starts where nothing is in common. */
  start?: Json;
}

const row = (group: string, path: Path, kind: Kind = "quantity", none = "not said", start?: Json): OwnRow => ({
  group,
  path,
  kind,
  none,
  ...(start === undefined ? {} : { start }),
});

const ROWS: OwnRow[] = [
  row("Wheels", ["wheel"], "wheel"),
  row("Wheels", ["wheel", "leveler_range"]),
  row("Wheels", ["wheel", "added_turn"], "choice", "beyond reach", "nearest"),
  row("Wheels", ["wheel", "part_turns"], "choice", "never", "on levelers"),
  row("Wheels", ["wheel", "riser"]),
  row("Outlets", ["outlets", "spacing"]),
  row("Outlets", ["outlets", "reach"]),
  row("Outlets", ["outlets", "first"]),
  row("Outlets", ["outlets", "count"], "number", "as many as fit"),
  row("Pipe", ["lateral", "machine"], "choice"),
  row("Pipe", ["lateral", "sprinklers"], "number"),
  row("Pipe", ["lateral", "sprinkler_spacing"]),
  row("Pipe", ["lateral", "first_sprinkler"], "quantity", "centered"),
  row("Pipe", ["lateral", "lines"], "number", "1", 2),
  row("Pipe", ["lateral", "lines_run"], "choice", "at once", "by turns"),
  row("Pipe", ["lateral", "sides"], "choice", "one side", "both sides"),
  row("Pipe", ["lateral", "mainline_at"], "quantity", "the middle"),
  row("Pipe", ["lateral", "pipe"], "pipe", "not worked out", PIPE),
  row("Sprinkler", ["sprinkler", "jets"], "jets"),
  row("Sprinkler", ["sprinkler", "pressure"]),
  row("Sprinkler", ["sprinkler", "nozzle_height"]),
  row("Sprinkler", ["sprinkler", "trajectory_angle"]),
  row("Sprinkler", ["lateral", "discharge_variation"]),
  row("Sprinkler", ["lateral", "nozzle_wear"]),
  row("Sprinkler", ["lateral", "leaks"]),
  row("Sprinkler", ["sprinkler", "drag"], "drag", "usual values", { k1: 0.3, k2: 0.3, turbulence: 0.05 }),
  row("Clock", ["season", "start"], "moment"),
  row("Clock", ["season", "passes"], "number"),
  row("Clock", ["season", "until"], "moment"),
  row("Clock", ["season", "set_time"]),
  row("Clock", ["season", "move_time"]),
  row("Clock", ["season", "sets_per_day"], "number", "not fixed", 2),
  row("Clock", ["season", "set_order"], "choice", "dry return", "both ways"),
  row("Clock", ["season", "return_time"]),
  row("Clock", ["season", "idle_between_passes"]),
  row("Clock", ["season", "pass_interval"], "quantity", "not fixed"),
  row("Edges", ["edges"], "choice", "every stop shifted", "extra set"),
];

const has = (scenario: Scenario, path: Path): boolean => at(scenario, path) !== undefined;

/** How far a wheel rolls. */
const WHEEL_KEYS = ["size", "travel_per_turn", "outside_diameter", "slip_and_sinkage"];

const wheelOf = (holder: Json | undefined): Scenario =>
  Object.fromEntries(
    WHEEL_KEYS.flatMap((key) => {
      const value = at(holder, [key]);
      return value === undefined ? [] : [[key, value]];
    }),
  );

/** Whether an alternative has a value of its own there. */
export function isOwn(scenario: Scenario, index: number, { path, kind }: OwnRow): boolean {
  const here = ["alternatives", index, ...path];
  return kind === "wheel" ? Object.keys(wheelOf(at(scenario, here))).length > 0 : has(scenario, here);
}

/** What one alternative can have of its own, as the scenario stands. */
export function rowsFor(scenario: Scenario, index: number): OwnRow[] {
  const machine = at(scenario, ["alternatives", index, "lateral", "machine"]) ?? at(scenario, ["lateral", "machine"]);
  const own = (...path: Path): boolean => has(scenario, ["alternatives", index, ...path]);
  const isLeftOut = ({ path: [section, key] }: OwnRow): boolean => {
    if (own(section!, ...(key === undefined ? [] : [key]))) return false;
    if (section === "wheel") return machine === "hand move";
    if (key === "passes" || key === "until") return !has(scenario, ["season", key]);
    // Passes that are called, or that begin at an interval, have no idle time of their own.
    if (key === "idle_between_passes") return has(scenario, ["season", "irrigate_at_depletion"]) || own("season", "pass_interval");
    if (key === "pass_interval") return has(scenario, ["season", "irrigate_at_depletion"]) || own("season", "idle_between_passes");
    return false;
  };
  return ROWS.filter((r) => isOwn(scenario, index, r) || !isLeftOut(r));
}

/** What the program assumes there, without the second unit in brackets. */
function assumedAt(check: Check | null, index: number, path: Path): string {
  const places = [["alternatives", index, ...path], path].map((p) => `/${p.join("/")}`);
  const found = check?.assumptions.find((a) => places.includes(a.what));
  return found ? found.value.replace(/ \(.*\)$/, "") : "";
}

/** The common value in a few words. */
export function commonWords(scenario: Scenario, check: Check | null, index: number, own: OwnRow): string {
  const common = own.path[0] === "edges" ? undefined : at(scenario, own.path);
  if (own.kind === "wheel") {
    const { size, travel_per_turn: travel, outside_diameter: diameter, slip_and_sinkage: lost } = wheelOf(common);
    if (size !== undefined) {
      const rolls = text(travel) || toSystem(assumedAt(check, index, ["wheel", "travel_per_turn"]), systemOf(scenario));
      return `${text(size)}${rolls && `, ${rolls} a turn`}`;
    }
    if (travel !== undefined) return `${text(travel)} a turn`;
    if (diameter !== undefined) return `${text(diameter)} high${lost === undefined ? "" : `, ${text(lost)} lost`}`;
    return own.none;
  }
  if (own.kind === "jets" && Array.isArray(common)) {
    const told = common.map((jet) => (at(jet, ["leg"]) ? "measured leg" : text(at(jet, ["shape"])) || `nozzle ${text(at(jet, ["nozzle"]))}`));
    return told.join(" and ");
  }
  if (own.kind === "drag" && common !== undefined) return `K1 ${text(at(common, ["k1"])) || "usual"}, K2 ${text(at(common, ["k2"])) || "usual"}`;
  if (own.kind === "pipe" && common !== undefined) return `${text(at(common, ["inside_diameter"]))} inside`;
  if (own.kind === "moment") return text(common).replace("T", ", ");
  if (common !== undefined) return text(common);
  return toSystem(assumedAt(check, index, own.path), systemOf(scenario)) || own.none;
}

/** From what a value of one's own starts: what holds now, else an example. */
export function startOf(scenario: Scenario, check: Check | null, schema: Node | null, index: number, own: OwnRow): Json {
  const common = at(scenario, own.path);
  const system = systemOf(scenario);
  if (own.kind === "wheel") {
    const wheel = wheelOf(common);
    return Object.keys(wheel).length > 0 ? wheel : { size: "7-foot" };
  }
  if (common !== undefined && own.path[0] !== "edges") return common;
  const assumed = assumedAt(check, index, own.path);
  if (own.kind === "number") return Number.isInteger(Number(assumed || NaN)) ? Number(assumed) : (own.start ?? 1);
  if (own.kind === "quantity" && /^-?[\d.]+ /.test(assumed)) return toSystem(assumed, system);
  return (allToSystem(own.start, system) as Json | undefined) ?? toSystem(rowAt(schema, own.path).example, system);
}

/** The scenario with a value of an alternative's own there; undefined gives it the common one again. */
export function withOwn(scenario: Scenario, index: number, own: OwnRow, value: Json | undefined): Scenario {
  const here = ["alternatives", index, ...own.path];
  if (own.kind !== "wheel") return value === undefined ? cut(scenario, here) : (put(scenario, here, value) as Scenario);
  const bare = WHEEL_KEYS.reduce((left, key) => cut(left, [...here, key]), scenario);
  if (value === undefined) return bare;
  return put(bare, here, { ...((at(bare, here) ?? {}) as Scenario), ...(value as Scenario) }) as Scenario;
}
