// Which groups still hold what "From nothing" put there: common values that nobody has looked at yet.

import { at, fromNothing, text, type Json, type Path, type Scenario } from "../model/scenario";
import { allToSystem } from "../model/units";
import { usualGround } from "./ground";

/** What a group is judged by; dates are left out, for they follow the calendar. */
const JUDGED: Record<string, Path[]> = {
  "field-group": [["field"], ["lateral"]],
  "wheel-group": [["wheel"], ["outlets"]],
  "sprinkler-group": [["sprinkler"], ["losses"]],
  "wind-group": [["wind"], ["air"]],
  "season-group": [["season", "passes"], ["season", "set_time"], ["season", "sets_per_day"], ["season", "pass_interval"], ["season", "until"]],
  "crop-group": [["crop", "name"], ["soil"], ["climate"]],
};

const same = (a: Json | undefined, b: Json | undefined): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Whether a group holds its starting values still, in whatever units. */
export function isStarting(group: string, scenario: Scenario): boolean {
  const paths = JUDGED[group];
  // What says that it is invented need not be told so twice.
  if (!paths || scenario.evenfall === undefined || scenario.invented === true) return false;
  // Without a crop there is nothing of it to look at.
  if (group === "crop-group" && scenario.crop === undefined) return false;
  return (["us", "si"] as const).some((system) => {
    const usual = { ...fromNothing(system), ...usualGround(text(at(scenario, ["season", "start"])), system) };
    const now = allToSystem(scenario, system) as Scenario;
    const there = paths.filter((path) => at(now, path) !== undefined || at(usual, path) !== undefined);
    return there.every((path) => same(at(now, path), at(usual, path)));
  });
}
