// Rotations as lists of shifts: how they go into a season, how they are made longer, and how a shift
// that is out of reach is corrected.

import type { AlternativeLayout, StopPlace } from "./api";
import type { Json } from "./scenario";
import { length, lengthUnit } from "./show";
import { acrossOf } from "./standing";
import { short } from "./units";

export const MOST_STOPS = 26;

const many = (n: number, what: string, plural: string): string => `${n} ${n === 1 ? what : plural}`;

/** How often a season goes through a cycle. */
export function cycleWords(stops: number, passes: number): string {
  if (stops < 2 || passes === 0) return "";
  const whole = Math.floor(passes / stops);
  const left = passes - whole * stops;
  if (whole === 0) return `The season ends before the cycle of ${stops} is complete: ${many(passes, "pass", "passes")}.`;
  const times = whole === 1 ? "once" : `${whole} times`;
  const rest = left > 0 ? `, and ${many(left, "stop", "stops")} more` : "";
  return `${many(passes, "pass", "passes")}: ${times} through the cycle of ${stops}${rest}.`;
}

/** The same cycle begun at another of its stops. */
export const begunAt = <T>(rotation: T[], stop: number): T[] => [...rotation.slice(stop), ...rotation.slice(0, stop)];

/** A stop as the scenario writes a shift: in turns where wheels set it, else as a length. */
export function written(stop: StopPlace): Json {
  const told = (meters: number): string => `${short(length(meters), 9)} ${lengthUnit()}`;
  if (Math.abs(stop.along_m) > 1e-9) return { across: told(stop.across_m), along: told(stop.along_m) };
  if (stop.turns !== null && stop.turns !== 0 && stop.turns % 1 === 0) {
    return `${stop.turns} ${Math.abs(stop.turns) === 1 ? "turn" : "turns"}`;
  }
  return told(stop.across_m);
}

/** A shift as whole turns of a wheel, where it is that. */
export function inTurns(across_m: number | undefined, travel_m: number | null): string | null {
  if (across_m === undefined || !travel_m) return null;
  const turns = Math.round(across_m / travel_m);
  if (turns === 0 || Math.abs(across_m - turns * travel_m) > 1e-3 * travel_m) return null;
  return `${turns} ${Math.abs(turns) === 1 ? "turn" : "turns"}`;
}

/** The possible stop nearest to a shift as it is written; undefined where there is none. */
export function nearestStop(shift: Json, layout: AlternativeLayout): StopPlace | undefined {
  const wanted = acrossOf(shift, layout.travel_per_turn_m);
  if (wanted === null) return undefined;
  const off = (stop: StopPlace): number => Math.abs(stop.across_m - wanted);
  const possible = layout.stops.filter((stop) => stop.reachable);
  return possible.reduce<StopPlace | undefined>((best, stop) => (best && off(best) <= off(stop) ? best : stop), undefined);
}
