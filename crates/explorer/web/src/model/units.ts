// Quantities as a scenario writes them: a number and a unit in one string ("60 ft").
// Factors are the exact ones of NIST SP 811 and agree with the scenario reader; a unit test of the
// page runs them against the program itself.

export type System = "us" | "si";

interface Unit {
  kind: string;
  /** Size of one unit in the kind's base. */
  factor: number;
  /** Value at the base's zero, for temperatures. */
  offset?: number;
  /** The unit of the other system that a grower there would use. */
  twin?: string;
  system?: System;
}

const FT = 0.3048;
const AC_M2 = 4046.8564224;
const TON_T = 0.90718474;
const GAL_M3 = 0.003785411784;

const us = (kind: string, factor: number, twin: string): Unit => ({ kind, factor, twin, system: "us" });
const si = (kind: string, factor: number, twin: string): Unit => ({ kind, factor, twin, system: "si" });
const both = (kind: string, factor: number): Unit => ({ kind, factor });

const UNITS: Record<string, Unit> = {
  ft: us("length", FT, "m"),
  in: us("length", 0.0254, "mm"),
  yd: us("length", 3 * FT, "m"),
  mi: us("length", 5280 * FT, "km"),
  m: si("length", 1, "ft"),
  cm: si("length", 0.01, "in"),
  mm: si("length", 0.001, "in"),
  km: si("length", 1000, "mi"),
  mph: us("speed", 0.44704, "m/s"),
  "m/s": si("speed", 1, "mph"),
  "km/h": si("speed", 1 / 3.6, "mph"),
  "ft/s": us("speed", FT, "m/s"),
  kn: both("speed", 1852 / 3600),
  psi: us("pressure", 4.4482216152605 / 0.64516, "kPa"),
  kPa: si("pressure", 1, "psi"),
  bar: si("pressure", 100, "psi"),
  "ft of water": us("pressure", 9.80665 * FT, "m of water"),
  "m of water": si("pressure", 9.80665, "ft of water"),
  gpm: us("discharge", (1000 * GAL_M3) / 60, "L/s"),
  "L/s": si("discharge", 1, "gpm"),
  "L/min": si("discharge", 1 / 60, "gpm"),
  "m3/h": si("discharge", 1 / 3.6, "gpm"),
  "in/h": us("rate", 25.4, "mm/h"),
  "mm/h": si("rate", 1, "in/h"),
  "in/d": us("rate", 25.4 / 24, "mm/d"),
  "mm/d": si("rate", 1 / 24, "in/d"),
  h: both("time", 1),
  min: both("time", 1 / 60),
  d: both("time", 24),
  days: both("time", 24),
  s: both("time", 1 / 3600),
  yr: both("time", 8766),
  deg: both("angle", 1),
  F: { kind: "temperature", factor: 1 / 1.8, offset: 32, twin: "C", system: "us" },
  C: { kind: "temperature", factor: 1, offset: 0, twin: "F", system: "si" },
  "%": both("fraction", 0.01),
  turn: both("turns", 1),
  turns: both("turns", 1),
  "ton/ac": us("yield", TON_T / (AC_M2 / 10000), "t/ha"),
  "cwt/ac": us("yield", 0.045359237 / (AC_M2 / 10000), "t/ha"),
  "t/ha": si("yield", 1, "ton/ac"),
  "kg/ha": si("yield", 0.001, "ton/ac"),
  each: both("piece", 1),
  "per ac": us("money per area", 10000 / AC_M2, "per ha"),
  "per ha": si("money per area", 1, "per ac"),
  "per ton": us("money per weight", 1 / TON_T, "per t"),
  "per lb": us("money per weight", 1 / 0.00045359237, "per kg"),
  "per cwt": us("money per weight", 1 / 0.045359237, "per t"),
  "per t": si("money per weight", 1, "per ton"),
  "per kg": si("money per weight", 1000, "per lb"),
  "per ac-ft": us("money per volume", 1 / (AC_M2 * FT), "per m3"),
  "per ac-in": us("money per volume", 12 / (AC_M2 * FT), "per m3"),
  "per 1000 gal": us("money per volume", 1 / (1000 * GAL_M3), "per m3"),
  "per m3": si("money per volume", 1, "per ac-ft"),
  "per h": both("money per time", 1),
};

export interface Quantity {
  number: string;
  unit: string;
}

const NUMBER = /^\s*([-+\u2212]?(?:\d+\s+\d+\/\d+|\d+\/\d+|\d*\.?\d+(?:[eE][-+]?\d+)?|\d+\.))\s*(.*)$/;

/** A quantity taken apart; a text without a leading number gives an empty unit. */
export function split(text: string): Quantity {
  const found = NUMBER.exec(text);
  const alone = text.trim();
  if (!found) return alone in UNITS ? { number: "", unit: alone } : { number: alone, unit: "" };
  return { number: found[1] ?? "", unit: (found[2] ?? "").trim().replace(/\s+/g, " ") };
}

/** Units as people write them out. */
const SPELT: Record<string, string> = {
  "'": "ft", "\u2032": "ft", foot: "ft", feet: "ft", '"': "in", "\u2033": "in", inch: "in", inches: "in",
  yard: "yd", yards: "yd", mile: "mi", miles: "mi", meter: "m", metre: "m", meters: "m", metres: "m",
  hour: "h", hours: "h", hr: "h", hrs: "h", minute: "min", minutes: "min", mins: "min", day: "days",
  degree: "deg", degrees: "deg", "\u00b0": "deg", "\u00b0F": "F", "\u00b0C": "C", percent: "%", GPM: "gpm", PSI: "psi", MPH: "mph",
};

/** What was typed into a field for a number: a unit that came along is taken apart from it, and
 * commas between thousands are left out. */
export function typed(text: string): Quantity {
  const plain = text.trim().replace(/^([-+\u2212]?\d{1,3}(?:,\d{3})+)(?!\d)/, (number) => number.replace(/,/g, ""));
  const { number, unit } = split(plain);
  const known = SPELT[unit] ?? (unit in UNITS ? unit : "");
  return known ? { number, unit: known } : { number: plain, unit: "" };
}

/** The number that a text like "7.5", "5/32" or "1 1/2" stands for. */
export function numberOf(text: string): number {
  const plain = text.trim().replace("\u2212", "-");
  const mixed = /^([-+]?)(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(plain);
  if (!mixed) return plain === "" ? NaN : Number(plain);
  const [, sign, whole, above, below] = mixed;
  const size = Number(whole ?? 0) + Number(above) / Number(below);
  return sign === "-" ? -size : size;
}

/** A number as short as twelve digits allow, so that there and back gives the same text. */
export function short(value: number, digits = 12): string {
  return String(Number(value.toPrecision(digits)));
}

/** A value in one unit, told in another of the same kind; null if they are not of one kind. */
export function convert(value: number, from: string, to: string): number | null {
  const a = UNITS[from];
  const b = UNITS[to];
  if (!a || !b || a.kind !== b.kind) return null;
  return ((value - (a.offset ?? 0)) * a.factor) / b.factor + (b.offset ?? 0);
}

/** Units of the same kind, those of the wanted system first. */
export function unitsLike(unit: string, system: System): string[] {
  const kind = UNITS[unit]?.kind;
  if (!kind) return [];
  const alike = Object.entries(UNITS).filter(([name, u]) => u.kind === kind && name !== "turn");
  const rank = (u: Unit): number => (u.system === undefined || u.system === system ? 0 : 1);
  return alike.sort((a, b) => rank(a[1]) - rank(b[1])).map(([name]) => name);
}

/** The unit a grower of that system would use in place of this one. */
export function unitFor(unit: string, system: System): string {
  const found = UNITS[unit];
  if (!found?.system || found.system === system || !found.twin) return unit;
  return found.twin;
}

/** What a converted text was before, so that going back gives "5/32 in" and not "0.15625 in". */
const before = new Map<string, string>();

/** A quantity told in the other system's units; a text that is no quantity stays as it is. */
export function toSystem(text: string, system: System): string {
  const { number, unit } = split(text);
  const to = unitFor(unit, system);
  if (to === unit) return text;
  const known = before.get(`${system} ${text}`);
  if (known !== undefined) return known;
  const value = convert(numberOf(number), unit, to);
  if (value === null || !Number.isFinite(value)) return text;
  const told = `${short(value)} ${to}`;
  before.set(`${system === "us" ? "si" : "us"} ${told}`, text);
  return told;
}

/** Keys whose text is words, not a quantity. */
const WORDS = new Set(["title", "question", "name", "file", "start", "until", "planted", "date"]);

/** A whole scenario with every quantity in the wanted system; nothing else changes. */
export function allToSystem(value: unknown, system: System, key = ""): unknown {
  if (typeof value === "string") return WORDS.has(key) ? value : toSystem(value, system);
  if (Array.isArray(value)) return value.map((item) => allToSystem(item, system, key));
  if (value === null || typeof value !== "object") return value;
  const entries = Object.entries(value).map(([k, v]) => [k, allToSystem(v, system, k)] as const);
  return Object.fromEntries(entries);
}
