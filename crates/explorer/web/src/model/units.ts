// Quantities as a scenario writes them: a number and a unit in one string ("60 ft").

import { UNITS, nameOf, unitOf, type System, type Unit } from "./unit_table";
import { pointOf, written } from "./written";

export type { System } from "./unit_table";

export interface Quantity {
  number: string;
  unit: string;
}

const NUMBER = /^\s*([-+\u2212]?(?:\d+\s+\d+\/\d+|\d+\/\d+|\d*\.?\d+(?:[eE][-+]?\d+)?|\d+\.))\s*(.*)$/;

/** A quantity taken apart; a text without a leading number gives an empty unit. */
export function split(text: string): Quantity {
  const found = NUMBER.exec(written(text));
  const alone = text.trim();
  if (!found) return unitOf(alone) ? { number: "", unit: alone } : { number: alone, unit: "" };
  return { number: found[1] ?? "", unit: (found[2] ?? "").trim().replace(/\s+/g, " ") };
}

/** Whether a unit of that name is known, however it is spelt. */
export const isUnit = (name: string): boolean => unitOf(name) !== undefined;

/** What was typed into a field for a number: a unit that came along is taken apart from it; commas
 * between thousands and signs of a currency, which a scenario names once, are left out. A bearing may
 * be a point of the compass. */
export function typed(text: string, isBearing = false): Quantity {
  const point = isBearing ? pointOf(text) : null;
  if (point !== null) return { number: String(point), unit: "deg" };
  const plain = written(text);
  const { number, unit } = split(plain);
  const known = nameOf(unit);
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
  return turned(text, to, to, nameOf(unit) || unit);
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
