// What follows from the entries of a group, in the words of who runs the line: what one turn gives, how
// often a place gets water, how much of it in a week.

import type { JSX } from "preact";
import type { AlternativeLayout } from "../model/api";
import { clock, depthText, fixed, lengthText } from "../model/show";
import * as store from "../model/store";

/** The baseline's layout, where the entries hold. */
function sound(): AlternativeLayout | undefined {
  return store.check.value?.ok ? store.layout.value?.alternatives[0] : undefined;
}

export function WheelFacts(): JSX.Element | null {
  const layout = sound();
  if (!layout) return null;
  const count = layout.outlets_y_m.length;
  const words = [`${count} ${count === 1 ? "outlet" : "outlets"} on this field.`];
  if (layout.travel_per_turn_m !== null) {
    const stops = layout.stops.filter((stop) => stop.reachable).map((stop) => lengthText(stop.across_m));
    words.unshift(`One turn rolls it ${lengthText(layout.travel_per_turn_m, 2)}.`);
    words.push(`At each, wheels and hose reach ${stops.join(", ")}.`);
  }
  return <p class="facts">{words.join(" ")}</p>;
}

const HOURS_A_DAY = 24;

/** Days as people count them: "11 days", "5.5 days". */
export function daysText(hours: number): string {
  const days = hours / HOURS_A_DAY;
  const told = fixed(days, Math.abs(days - Math.round(days)) < 0.05 ? 0 : 1);
  return `${told} ${told === "1" ? "day" : "days"}`;
}

export function SeasonFacts(): JSX.Element | null {
  const layout = sound();
  const [first, second] = layout?.passes ?? [];
  const last = layout?.passes[layout.passes.length - 1];
  if (!first || !last || first.sets.length === 0) return null;
  const [from, to] = [first.sets[0]!, first.sets[first.sets.length - 1]!];
  const ends = clock(last.sets[last.sets.length - 1]!.end, 0);
  const sets = first.sets.length;
  const words = [`A pass is ${sets} ${sets === 1 ? "set" : "sets"} and takes ${daysText(to.end_h - from.start_h)}.`];
  const mean = store.isCurrent.value ? store.season.value?.summary.alternatives[0]?.passes[0]?.mean_mm : null;
  if (second?.sets[0]) {
    const every = second.sets[0].start_h - from.start_h;
    const aWeek = mean ? `: ${depthText(mean)} on the ground each time, ${depthText((mean * 7 * HOURS_A_DAY) / every)} a week` : "";
    words.push(`Every place gets water every ${daysText(every)}${aWeek}.`);
  } else if (mean) {
    words.push(`It puts ${depthText(mean)} on the ground.`);
  }
  words.push(`The last set ends on ${ends.day}.`);
  return <p class="facts">{words.join(" ")}</p>;
}
