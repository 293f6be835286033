// Quantities as people write them, brought to the form that the rest of the page reads: a plain number,
// then the unit. The scenario's reader takes the same forms by itself.

import { nameOf } from "./unit_table";

/** Fractions that are one sign. */
const FRACTIONS: Record<string, string> = { "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3", "\u2044": "/" };

/** Signs of currencies, with how many of them are one of it. */
const SIGNS = /(?:US\$|USD|EUR|GBP|[$€£¥])/;
const BEFORE = new RegExp(`^([-+\u2212]?)\\s*${SIGNS.source}\\s*(?=[\\d.])`);
const BEHIND = new RegExp(`^([-+\u2212]?[\\d.,]+(?:\\s*\\d*/\\d+)?)\\s*${SIGNS.source}\\s*`);

/** Two units of one quantity, the larger first, and how many of the smaller make one of it. */
const PAIRS: Record<string, [string, number]> = { ft: ["in", 12], h: ["min", 60] };
const TWO = /^([-+\u2212]?)(\d+)\s*([^\d.\s-]+)(?:-|\s*)((?:\d+\s+)?\d+\/\d+|\d*\.?\d+)\s*([^\d\s]+)$/;

/** A comma before exactly three digits marks thousands, unless the number begins with 0. */
const THOUSANDS = /^([-+\u2212]?)([1-9]\d{0,2}(?:,\d{3})+)(?![\d,])/;
const DECIMAL = /^([-+\u2212]?\d+),(\d+)(?![\d,.])/;

function size(number: string): number {
  const mixed = /^(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(number);
  return mixed ? Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]) : Number(number);
}

/** `4' 8"` as inches; what is not of two units stays. */
function one(text: string): string {
  const found = TWO.exec(text);
  if (!found) return text;
  const [, sign = "", first, larger = "", second = "", smaller = ""] = found;
  const pair = PAIRS[nameOf(larger)];
  const rest = size(second);
  if (!pair || nameOf(smaller) !== pair[0] || !(rest < pair[1])) return text;
  return `${sign}${Number((Number(first) * pair[1] + rest).toPrecision(12))} ${pair[0]}`;
}

/** Cents as what they are of the currency. */
function cents(text: string): string {
  const found = /^([-+\u2212]?[\d.,]+)\s*¢\s*(.*)$/.exec(text) ?? /^([-+\u2212]?)¢\s*([\d.,]+)(.*)$/.exec(text);
  if (!found) return text;
  const [number, rest] = found.length === 4 ? [`${found[1]}${found[2]}`, found[3]] : [found[1] ?? "", found[2]];
  const value = Number(commas(number).replace("\u2212", "-"));
  return Number.isFinite(value) ? `${Number((value / 100).toPrecision(12))} ${(rest ?? "").trim()}` : text;
}

const commas = (text: string): string =>
  text
    .replace(THOUSANDS, (_, sign: string, number: string) => sign + number.replace(/,/g, ""))
    .replace(DECIMAL, "$1.$2");

/** A quantity as it was written, with a plain number and one unit; what is not understood stays. */
export function written(text: string): string {
  const spelt = text.trim().replace(/[½¼¾⅛⅜⅝⅞⅓⅔\u2044]/g, (sign) => (sign === "\u2044" ? "/" : ` ${FRACTIONS[sign]}`)).trim();
  const joined = spelt.replace(/^([-+\u2212]?\d+)-(\d+\/\d+)/, "$1 $2");
  const counted = joined.includes("¢") ? cents(joined) : joined.replace(BEFORE, "$1");
  const unsigned = counted === joined ? joined.replace(BEHIND, "$1 ") : counted;
  return one(commas(unsigned));
}

/** The points of the compass, clockwise from north. */
const POINTS = "N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW".split(" ");
const LETTERS: Record<string, string> = { north: "n", east: "e", south: "s", west: "w" };

/** The direction that a point of the compass names, degrees clockwise from north; null if it is none. */
export function pointOf(text: string): number | null {
  const joined = text.trim().toLowerCase().replace(/[-\s]/g, "");
  const letters = joined.replace(/north|east|south|west/g, (word) => LETTERS[word] ?? word);
  const at = POINTS.indexOf(letters.toUpperCase());
  return at < 0 ? null : (at * 360) / POINTS.length;
}
