// Where an alternative stands by the last layout, also while others are added, moved or
// removed and the next layout is still on its way.

import type { AlternativeLayout, SetTime } from "./api";
import { alternatives, type Json } from "./scenario";
import { convert, numberOf, split } from "./units";
import * as store from "./store";

/** The layout of one alternative; null where there is none of it. */
export function standingOf(index: number): AlternativeLayout | null {
  const drafted = store.drafted.value;
  if (!drafted) return null;
  const now = alternatives(store.scenario.value);
  const then = alternatives(drafted.of);
  const known = then.indexOf(now[index]!);
  // An alternative that was edited where it stood is not the object it was.
  const k = known >= 0 ? known : now.length === then.length ? index : -1;
  return drafted.alternatives[k] ?? null;
}

/** The sets of the pass that takes one stop of the rotation; none where the season has no such pass. */
export const setsOf = (layout: AlternativeLayout, stop: number): SetTime[] => layout.passes[stop]?.sets ?? [];

/** How far across the field a shift lies as it is written, m; null where that cannot be told. */
export function acrossOf(shift: Json | undefined, travel_m: number | null): number | null {
  if (shift !== null && typeof shift === "object" && !Array.isArray(shift)) {
    return shift.across === undefined ? 0 : acrossOf(shift.across, travel_m);
  }
  if (typeof shift !== "string") return null;
  const { number, unit } = split(shift);
  const value = numberOf(number);
  if (!Number.isFinite(value)) return null;
  if (unit === "turn" || unit === "turns") return travel_m === null ? null : value * travel_m;
  return convert(value, unit, "m");
}
