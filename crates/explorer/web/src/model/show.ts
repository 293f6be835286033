// How numbers are told on the page. Figures that the command prints come from the server as text;
// only what the page measures itself (places, legends, shifts) is worded here.

import * as store from "./store";

const MINUS = "\u2212";

export const signed = (text: string): string => text.replace("-", MINUS);

/** A number with so many decimals and a true minus. */
export const fixed = (value: number, decimals: number): string => signed(value.toFixed(decimals));

export const lengthUnit = (): string => (store.system.value === "us" ? "ft" : "m");
/** The unit of depth spelled out where it stands before other words. */
export const depthWord = (): string => (store.system.value === "us" ? "inches" : "mm");
export const depthUnit = (): string => (store.system.value === "us" ? "in" : "mm");

/** Meters in the units at hand. */
export const length = (meters: number): number => (store.system.value === "us" ? meters / 0.3048 : meters);

/** Millimeters of water in the units at hand. */
export const depth = (mm: number): number => (store.system.value === "us" ? mm / 25.4 : mm);

export function lengthText(meters: number, decimals = 1): string {
  const value = Number(length(meters).toFixed(decimals));
  return `${signed(String(value))} ${lengthUnit()}`;
}

export function depthText(mm: number): string {
  return `${fixed(depth(mm), store.system.value === "us" ? 2 : 1)} ${depthUnit()}`;
}

export function speedText(metersPerSecond: number): string {
  const isUs = store.system.value === "us";
  return isUs ? `${(metersPerSecond / 0.44704).toFixed(0)} mph` : `${metersPerSecond.toFixed(1)} m/s`;
}

const POINTS = "N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW".split(" ");

/** A compass bearing as one of sixteen points. */
export const compass = (deg: number): string => POINTS[Math.round((((deg % 360) + 360) % 360) / 22.5) % 16] ?? "N";

/** How far a stop lies from its outlet, in words. */
export function shiftText(across: number, along = 0): string {
  const side = across > 0 ? "beyond the outlet" : "short of the outlet";
  const parts: string[] = [];
  if (Math.abs(across) > 1e-6) parts.push(`${lengthText(Math.abs(across), 2)} ${side}`);
  if (Math.abs(along) > 1e-6) parts.push(`${lengthText(along, 2)} along the pipe`);
  return parts.join(", ") || "at the outlet";
}

const DAY_MS = 86_400_000;
const MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");

/** The date and clock time of an hour counted from hour 0, at which the field's clock shows `zero`; a
 * change of clocks within the season is left out. */
export function clock(zero: string, hour: number): { day: string; time: string } {
  const first = Date.parse(`${zero.slice(0, "YYYY-MM-DDTHH:MM".length)}Z`);
  const moment = new Date(first + Math.round(hour * 60) * 60_000);
  if (Number.isNaN(moment.getTime())) return { day: `day ${Math.floor(hour / 24) + 1}`, time: "" };
  const two = (n: number): string => String(n).padStart(2, "0");
  const day = `${moment.getUTCDate()} ${MONTHS[moment.getUTCMonth()]} ${moment.getUTCFullYear()}`;
  return { day, time: `${two(moment.getUTCHours())}:${two(moment.getUTCMinutes())}` };
}

export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS);

/** Color, dash and mark of the alternatives' lines: the report's own, safe for color blindness. */
export const LINES: { color: string; dash: number[] }[] = [
  { color: "#000000", dash: [] },
  { color: "#b84f00", dash: [9, 4] },
  { color: "#0072b2", dash: [2, 3] },
  { color: "#00724f", dash: [12, 3, 2, 3] },
  { color: "#a0457e", dash: [4, 4] },
  { color: "#6e6e6e", dash: [16, 4] },
];

export const lineOf = (index: number): { color: string; dash: number[] } => LINES[index % LINES.length]!;

/** A note for whoever reads the page: without keys of the file and without commands. */
export const withoutKeys = (note: string): string =>
  note
    .replace(/\s*\(`[^)]*\)/g, "")
    .replace(/[^.]*`evenfall[^.]*\.?/g, "")
    .trim();
