// The corners of a field that is no rectangle, as the scenario has them and as they are drawn.

import { signal } from "@preact/signals";
import { isSound, type Corner } from "./ring";
import { at, text, type Json, type Scenario } from "./scenario";
import * as store from "./store";
import { convert, numberOf, short, split } from "./units";

/** Whether the corners are being drawn over the picture of the field. */
export const isDrawing = signal(false);

/** Whether they are there to be moved: a boundary from a file is not. */
export const areShown = (): boolean => isDrawing.value && at(store.scenario.value, ["field", "boundary", "file"]) === undefined;

export const CORNERS = ["field", "boundary", "corners"] as const;

/** Steps on which drawn corners stand, m: a foot, or half a meter. */
export const stepM = (): number => (store.system.value === "us" ? 0.3048 : 0.5);

const metersOf = (value: Json | undefined): number => {
  const { number, unit } = split(text(value));
  return convert(numberOf(number), unit, "m") ?? NaN;
};

/** The corners that the scenario names, m; null where it names none, or some that are no lengths. */
export function cornersOf(scenario: Scenario): Corner[] | null {
  const given = at(scenario, CORNERS);
  if (!Array.isArray(given)) return null;
  const found = given.map((corner): Corner => [metersOf(at(corner, [0])), metersOf(at(corner, [1]))]);
  return found.every((corner) => corner.every(Number.isFinite)) ? found : null;
}

/** A length as the scenario writes it: to a hundredth of a foot, or a millimeter or so. */
export function written(meters: number): string {
  const unit = store.system.value === "us" ? "ft" : "m";
  const value = convert(meters, "m", unit) ?? meters;
  return `${short(Number(value.toFixed(unit === "ft" ? 2 : 3)))} ${unit}`;
}

/** A ring as the scenario writes it. */
export const asWritten = (ring: readonly Corner[]): Json => ring.map(([x, y]) => [written(x), written(y)]);

/** Makes a ring the field's boundary, if it goes once round; whether it does. */
export function take(ring: readonly Corner[]): boolean {
  if (!isSound(ring)) return false;
  const before = cornersOf(store.scenario.value);
  const moved = before?.length === ring.length ? ring.flatMap((corner, i) => (written(corner[0]) === written(before[i]![0]) && written(corner[1]) === written(before[i]![1]) ? [] : [i])) : [];
  const [only] = moved;
  if (before && moved.length === 0 && before.length === ring.length) return true;
  // One length alone is changed where one alone is: so steps that follow each other are one for undo.
  if (moved.length === 1 && only !== undefined) {
    const axes = [0, 1].filter((axis) => written(ring[only]![axis]!) !== written(before![only]![axis]!));
    if (axes.length === 1) store.edit([...CORNERS, only, axes[0]!], written(ring[only]![axes[0]!]!));
    else store.edit([...CORNERS, only], [written(ring[only]![0]), written(ring[only]![1])]);
    return true;
  }
  store.edit(["field", "boundary"], { corners: asWritten(ring) });
  return true;
}

const AC_M2 = 4046.8564224;

/** An area in the units at hand and in the other. */
export function areaText(m2: number): string {
  const acres = `${(m2 / AC_M2).toFixed(2)} ac`;
  const hectares = `${(m2 / 10_000).toFixed(2)} ha`;
  return store.system.value === "us" ? `${acres} (${hectares})` : `${hectares} (${acres})`;
}
