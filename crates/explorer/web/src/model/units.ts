// Quantities as a scenario writes them: a number and a unit in one string ("60 ft").
// Factors are the exact ones of NIST SP 811. A unit test reads the scenario reader's own table: every
// spelling that it takes is known here, with the same factor.

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
  cSt: both("viscosity", 1),
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
  "lb/ac": us("yield", 0.00045359237 / (AC_M2 / 10000), "kg/ha"),
  "kg/ha": si("yield", 0.001, "lb/ac"),
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
  "per kWh": both("money per energy", 1),
};

/** Other spellings: those that a file may have, and some that people type. */
const SPELT: Record<string, string> = {
  "\u2032": "ft", "\u2033": "in", hrs: "h", mins: "min", GPM: "gpm", PSI: "psi", MPH: "mph",
  "'": "ft", foot: "ft", feet: "ft", '"': "in", inch: "in", inches: "in", yard: "yd", yards: "yd", mile: "mi", miles: "mi",
  meter: "m", meters: "m", metre: "m", metres: "m", "mi/h": "mph", kmh: "km/h", knot: "kn", knots: "kn", kt: "kn", fps: "ft/s",
  "gal/min": "gpm", "l/s": "L/s", "l/min": "L/min", "m^3/h": "m3/h", "m³/h": "m3/h", iph: "in/h", "in/day": "in/d", "mm/day": "mm/d",
  hr: "h", hour: "h", hours: "h", minute: "min", minutes: "min", day: "days", second: "s", seconds: "s", year: "yr", years: "yr",
  "°": "deg", degree: "deg", degrees: "deg", "°F": "F", "°C": "C", percent: "%",
  "mm2/s": "cSt", "mm^2/s": "cSt", "mm²/s": "cSt",
  "tons/ac": "ton/ac", "ton/acre": "ton/ac", "tons/acre": "ton/ac", "cwt/acre": "cwt/ac", "lb/acre": "lb/ac",
  "per acre": "per ac", "/ac": "per ac", "/acre": "per ac", "/ha": "per ha", "/ton": "per ton", "/cwt": "per cwt", "/lb": "per lb",
  "/t": "per t", "/kg": "per kg", "per acre-foot": "per ac-ft", "/ac-ft": "per ac-ft", "per acre-inch": "per ac-in", "/ac-in": "per ac-in",
  "per m^3": "per m3", "per m³": "per m3", "/m3": "per m3", "per hr": "per h", "per hour": "per h", "/h": "per h", "/kWh": "per kWh",
};

/** The unit of that name, however it is spelt. */
const unitOf = (name: string): Unit | undefined => UNITS[SPELT[name] ?? name];

export interface Quantity {
  number: string;
  unit: string;
}

const NUMBER = /^\s*([-+\u2212]?(?:\d+\s+\d+\/\d+|\d+\/\d+|\d*\.?\d+(?:[eE][-+]?\d+)?|\d+\.))\s*(.*)$/;

/** A quantity taken apart; a text without a leading number gives an empty unit. */
export function split(text: string): Quantity {
  const found = NUMBER.exec(text);
  const alone = text.trim();
  if (!found) return unitOf(alone) ? { number: "", unit: alone } : { number: alone, unit: "" };
  return { number: found[1] ?? "", unit: (found[2] ?? "").trim().replace(/\s+/g, " ") };
}

/** Whether a unit of that name is known, however it is spelt. */
export const isUnit = (name: string): boolean => unitOf(name) !== undefined;

/** What was typed into a field for a number: a unit that came along is taken apart from it; commas
 * between thousands and signs of a currency, which a scenario names once, are left out. */
export function typed(text: string): Quantity {
  const plain = text.trim().replace(/^([-+\u2212]?)\s*[$\u20ac\u00a3]\s*/, "$1").replace(/^([-+\u2212]?\d{1,3}(?:,\d{3})+)(?!\d)/, (number) => number.replace(/,/g, ""));
  const { number, unit } = split(plain);
  const known = SPELT[unit] ?? (UNITS[unit] ? unit : "");
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
  const a = unitOf(from);
  const b = unitOf(to);
  if (!a || !b || a.kind !== b.kind) return null;
  return ((value - (a.offset ?? 0)) * a.factor) / b.factor + (b.offset ?? 0);
}

/** Units of the same kind, those of the wanted system first. */
export function unitsLike(unit: string, system: System): string[] {
  const kind = unitOf(unit)?.kind;
  if (!kind) return [];
  const alike = Object.entries(UNITS).filter(([name, u]) => u.kind === kind && name !== "turn");
  const rank = (u: Unit): number => (u.system === undefined || u.system === system ? 0 : 1);
  return alike.sort((a, b) => rank(a[1]) - rank(b[1])).map(([name]) => name);
}

/** The unit a grower of that system would use in place of this one. */
export function unitFor(unit: string, system: System): string {
  const found = unitOf(unit);
  if (!found?.system || found.system === system || !found.twin) return unit;
  return found.twin;
}

/** What converted texts were before, by unit and text, the oldest first: going back gives "5/32 in" and
 * not "0.15625 in". Kept in this browser, so that a reload in between loses nothing. */
const before = new Map<string, string>();
const MOST_BEFORE = 2000;
let onChange: () => void = () => undefined;

/** Takes up what was known, and tells whoever keeps it of every change. */
export function rememberUnits(known: [string, string][], changed: () => void): void {
  for (const [key, text] of known) before.set(key, text);
  onChange = changed;
}

export const unitsBefore = (): [string, string][] => [...before];

function note(key: string, text: string): void {
  before.delete(key);
  before.set(key, text);
  for (const oldest of before.keys()) {
    if (before.size <= MOST_BEFORE) break;
    before.delete(oldest);
  }
  onChange();
}

/** `text` in `to`, remembering under `there` and `back` what it was. */
function turned(text: string, to: string, there: string, back: string): string {
  const { number, unit } = split(text);
  if (to === unit) return text;
  const known = before.get(`${there} \u2190 ${text}`);
  if (known !== undefined) return known;
  const value = convert(numberOf(number), unit, to);
  if (value === null || !Number.isFinite(value)) return text;
  const told = `${short(value)} ${to}`;
  note(`${back} \u2190 ${told}`, text);
  return told;
}

/** A quantity told in another unit; a text that is no quantity, or of another kind, stays as it is. */
export function toUnit(text: string, to: string): string {
  const { unit } = split(text);
  return turned(text, to, to, SPELT[unit] ?? unit);
}

/** A quantity told in the other system's units. */
export function toSystem(text: string, system: System): string {
  const { unit } = split(text);
  return turned(text, unitFor(unit, system), system, system === "us" ? "si" : "us");
}

/** Keys whose text is words, not a quantity. */
const WORDS = new Set(["title", "question", "name", "file", "start", "until", "planted", "date", "currency"]);

type Tell = (text: string, place: string) => string;

function allBy(tell: Tell, value: unknown, key: string, place: string): unknown {
  if (typeof value === "string") return WORDS.has(key) ? value : tell(value, place);
  if (Array.isArray(value)) return value.map((item, i) => allBy(tell, item, key, `${place}/${i}`));
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, allBy(tell, v, k, `${place}/${k}`)] as const));
}

/** A whole scenario with every quantity in the wanted system; nothing else changes. */
export const allToSystem = (value: unknown, system: System): unknown => allBy((text) => toSystem(text, system), value, "", "");

/** The same for a scenario that leaves the other system: also what stood in the wanted one already is
 * remembered, place by place, so that the way back leaves it as it was. */
export function leaveSystem(scenario: unknown, system: System): unknown {
  const other = system === "us" ? "si" : "us";
  const tell: Tell = (text, place) => {
    const known = before.get(`${system} ${place} \u2190 ${text}`);
    if (known !== undefined) return known;
    const told = toSystem(text, system);
    if (told === text && unitFor(split(text).unit, other) !== split(text).unit) note(`${other} ${place} \u2190 ${text}`, text);
    return told;
  };
  return allBy(tell, scenario, "", "");
}
