// Units by their names, with every spelling that a scenario may use and some that people type.
// Factors are the exact ones of NIST SP 811. A unit test reads the scenario reader's own table: every
// spelling that it takes is known here, with the same factor.

export type System = "us" | "si";

export interface Unit {
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

export const UNITS: Record<string, Unit> = {
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
  // What a bushel weighs depends on the crop: only the scenario's reader turns it into anything else.
  "per bu": both("money per bushel", 1),
  "bu/ac": both("bushels per area", 1),
  "per h": both("money per time", 1),
  "per kWh": both("money per energy", 1),
};

/** Other spellings: those that a file may have, and some that people type. */
const SPELT: Record<string, string> = {
  "\u2032": "ft", "\u2019": "ft", "\u2033": "in", "\u201d": "in", "''": "in", hrs: "h", mins: "min", GPM: "gpm", PSI: "psi", MPH: "mph",
  "'": "ft", foot: "ft", feet: "ft", '"': "in", inch: "in", inches: "in", yard: "yd", yards: "yd", mile: "mi", miles: "mi",
  meter: "m", meters: "m", metre: "m", metres: "m", "mi/h": "mph", kmh: "km/h", knot: "kn", knots: "kn", kt: "kn", fps: "ft/s",
  "gal/min": "gpm", "l/s": "L/s", "l/min": "L/min", "m^3/h": "m3/h", "m³/h": "m3/h", iph: "in/h", "in/day": "in/d", "mm/day": "mm/d",
  hr: "h", hour: "h", hours: "h", minute: "min", minutes: "min", day: "days", second: "s", seconds: "s", year: "yr", years: "yr",
  "°": "deg", degree: "deg", degrees: "deg", "°F": "F", "°C": "C", percent: "%",
  "mm2/s": "cSt", "mm^2/s": "cSt", "mm²/s": "cSt",
  "tons/ac": "ton/ac", "ton/acre": "ton/ac", "tons/acre": "ton/ac", "cwt/acre": "cwt/ac", "lb/acre": "lb/ac",
  "per acre": "per ac", "/ac": "per ac", "/acre": "per ac", "/ha": "per ha", "/ton": "per ton", "/cwt": "per cwt", "/lb": "per lb",
  "/t": "per t", "/kg": "per kg", "per acre-foot": "per ac-ft", "/ac-ft": "per ac-ft", "per acre-inch": "per ac-in", "/ac-in": "per ac-in",
  "/bu": "per bu", "per bushel": "per bu", "/bushel": "per bu", "bu/acre": "bu/ac", "bushels/ac": "bu/ac", "bushels/acre": "bu/ac",
  "per m^3": "per m3", "per m³": "per m3", "/m3": "per m3", "per hr": "per h", "per hour": "per h", "/h": "per h", "/kWh": "per kWh",
};

/** The usual name of a unit, however it is spelt; "a ton" and "/ ton" are "per ton". Empty if there is none. */
export function nameOf(name: string): string {
  const spelt = (one: string): string => SPELT[one] ?? (UNITS[one] ? one : "");
  const ofOne = /^(?:an? |\/ ?)(.+)$/.exec(name)?.[1];
  return spelt(name) || (ofOne ? spelt(`per ${ofOne}`) : "");
}

/** The unit of that name. */
export const unitOf = (name: string): Unit | undefined => UNITS[nameOf(name)];
