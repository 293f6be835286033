// The scenario that the ten questions start from: a common field, with crop, soil, prices and
// rotations to compare, every value of it marked as a starting value.

import { comingYear, fromNothing, pointer, text, at, type Json, type Scenario } from "../model/scenario";
import { convert, numberOf, short, split, type System } from "../model/units";
import { CLIMATES, CROPS, ET0, OTHER_PRICES, type Climate, type CropRow, type Spread } from "./tables";

/** Sections of which the questions write every value. */
const SECTIONS = ["field", "lateral", "wheel", "outlets", "sprinkler", "losses", "air", "season", "wind", "crop", "soil", "climate", "worth", "alternatives"];

/** Stops of a rotation that a person would come up with: halves and thirds of the outlet spacing. */
const ROTATIONS = [
  { name: "Two stops", parts: [0, 1 / 2] },
  { name: "Three stops", parts: [0, 1 / 3, -1 / 3] },
];

/** A turn more has to bring the line nearer by this share of a turn, for it wants a longer hose. Judgment. */
const FEWER = 0.1;

/** A placeholder until the user enters his own, with its range. */
export const placeholder = ([value, low, high]: Spread, unit: string): Scenario => ({
  value: `${value} ${unit}`,
  low: `${low} ${unit}`,
  high: `${high} ${unit}`,
  placeholder: true,
});

const two = (n: number): string => String(Number(n.toPrecision(2)));

/** A climate as the scenario's generator is told it, in the units of the system. */
export function windOf({ day_m_s, night_m_s }: Climate, system: System): Scenario {
  const speed = (m_s: number): string => (system === "us" ? `${two(convert(m_s, "m/s", "mph") ?? 0)} mph` : `${m_s} m/s`);
  const common = at(fromNothing(system), ["wind", "generated"]) as Scenario;
  return { generated: { ...common, day_mean: speed(day_m_s), night_mean: speed(night_m_s) } };
}

/** What goes with a crop beside its name: days of planting, of the first set and of the last water. */
export function daysOf(row: CropRow, year: number): { planted: string; start: string; until: string } {
  return { planted: `${year - (row.yearsBefore ?? 0)}-${row.planted}`, start: `${year}-${row.first}T06:00`, until: `${year}-${row.last}T18:00` };
}

/** The crop's own section: its name, its day, and its stages where the table's would end long before or after the water. */
export function cropOf(row: CropRow, year: number): Scenario {
  const [initial, development, mid, late] = row.stages ?? [];
  const days = (n: number | undefined): string => `${n} days`;
  const own: Scenario = row.stages ? { stages: { initial: days(initial), development: days(development), mid: days(mid), late: days(late) } } : {};
  return { name: row.name, planted: daysOf(row, year).planted, ...own };
}

export const moneyOf = (row: CropRow, system: System): { crop: Scenario; potential_yield: Scenario } => ({
  crop: placeholder(row.price[system].spread, row.price[system].unit),
  potential_yield: placeholder(row.yield[system], system === "us" ? "ton/ac" : "t/ha"),
});

function meters(value: Json | undefined): number {
  const { number, unit } = split(text(value));
  return convert(numberOf(number), unit, "m") ?? NaN;
}

/** Trade sizes roll so far, m; common practice, no source (the program's own table). */
const ROLLS_M: Record<string, number> = { "5-foot": 4.572, "7-foot": 6.096, "9-foot": 9.144 };

/** How far the wheels of a scenario roll in a turn, m; not a number for pipe that is carried. */
export function turnOf(scenario: Scenario): number {
  if (at(scenario, ["lateral", "machine"]) === "hand move") return NaN;
  const wheel = (scenario.wheel ?? {}) as Scenario;
  if (wheel.travel_per_turn !== undefined) return meters(wheel.travel_per_turn);
  if (wheel.size !== undefined) return ROLLS_M[text(wheel.size)] ?? NaN;
  const lost = numberOf(split(text(wheel.slip_and_sinkage ?? "2 %")).number) / 100;
  return Math.PI * meters(wheel.outside_diameter) * (1 - lost);
}

/** Where whole turns do not end at the outlets, the line is rolled to the place nearest to each; a starting value. */
export const NEAREST: Scenario = { added_turn: "nearest" };

/** How far from its stop a line may stand that is rolled as near as whole turns come, m. */
function missed_m(spacing: number, turn: number): number {
  const turns = spacing / turn;
  return Number.isFinite(turns) && Math.abs(turns - Math.round(turns)) > 0.005 ? turn / 2 : 0;
}

/** The rotations to compare: the fixed pattern, and stops nearest to halves and thirds of the outlet spacing,
 * in whole turns where there are wheels (fewer where that is nearly as near). Where the hose does not reach so far, a longer one is bought. */
export function rotationsFor(scenario: Scenario): Scenario[] {
  const system: System = scenario.units === "si" ? "si" : "us";
  const unit = system === "us" ? "ft" : "m";
  const spacing = meters(at(scenario, ["outlets", "spacing"]));
  const reach = meters(at(scenario, ["outlets", "reach"]));
  const turn = turnOf(scenario);
  const told = (m: number): string => `${short(convert(m, "m", unit) ?? 0, 4)} ${unit}`;
  const fixed: Scenario = { name: "Fixed", rotation: [told(0)] };
  if (!(spacing > 0)) return [fixed];
  const found: Scenario[] = [fixed];
  for (const { name, parts } of ROTATIONS) {
    const turns = parts.map((part) => Math.sign(part) * Math.max(part === 0 ? 0 : 1, Math.round((Math.abs(part) * spacing) / turn - FEWER)));
    const rotation = Number.isFinite(turn) ? turns.map((n) => (n === 0 ? told(0) : `${n} ${Math.abs(n) === 1 ? "turn" : "turns"}`)) : parts.map((part) => told(part * spacing));
    const farthest = Math.max(...(Number.isFinite(turn) ? turns.map((n) => Math.abs(n) * turn) : parts.map((part) => Math.abs(part) * spacing)));
    const needed = farthest + missed_m(spacing, turn);
    // Some slack, as nobody parks to the inch.
    const longer: Scenario = needed > reach ? { outlets: { reach: `${Math.ceil((convert(Math.max(needed, farthest * 1.15), "m", unit) ?? 0))} ${unit}` } } : {};
    found.push({ name, rotation, ...longer, equipment: { joints: 2, outlets: 0, extra_sets_per_pass: 0, extra_labor_per_move: "1 min" } });
  }
  return found;
}

/** The scenario before the first answer. */
export function beginning(system: System, today = new Date()): Scenario {
  const year = comingYear(today);
  const crop = CROPS[0]!;
  const days = daysOf(crop, year);
  const base = fromNothing(system, today);
  const { passes: _passes, ...season } = base.season as Scenario;
  const others = OTHER_PRICES.map(([key, unit, spread]) => [key, placeholder(spread[system], unit[system])] as const);
  const scenario: Scenario = {
    ...base,
    wheel: { ...(base.wheel as Scenario), ...NEAREST },
    season: { ...season, start: days.start, until: days.until },
    wind: windOf(CLIMATES[1]!, system),
    crop: cropOf(crop, year),
    soil: { texture: "silt loam", start_depletion: "20 %" },
    climate: { et0: { monthly: ET0[system] } },
    worth: { seasons: 30, currency: "USD", prices: { ...moneyOf(crop, system), ...Object.fromEntries(others) } },
  };
  const whole: Scenario = { ...scenario, alternatives: rotationsFor(scenario) };
  return { ...whole, starting_values: SECTIONS.filter((key) => whole[key] !== undefined).map((key) => pointer([key])) };
}
