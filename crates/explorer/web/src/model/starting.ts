// Whose a value is. A scenario lists by pointer (RFC 6901) which of its written values are starting
// values that nobody has confirmed; a pointer to a section marks everything below it.

import { at, pointer, type Json, type Path, type Scenario } from "./scenario";

export type Whose = "yours" | "starting value" | "from a test";

/** The pointers of values that nobody has confirmed. */
export function marksOf(scenario: Scenario): string[] {
  const list = scenario.starting_values;
  return Array.isArray(list) ? list.filter((one): one is string => typeof one === "string") : [];
}

/** A pointer taken apart. */
export const pathOf = (where: string): string[] =>
  where.split("/").slice(1).map((key) => key.replace(/~1/g, "/").replace(/~0/g, "~"));

const isBelow = (where: string, above: string): boolean => where.startsWith(`${above}/`);

/** Whether the value at a path is a starting value, by itself or with all of its section. */
export function isStarting(scenario: Scenario, path: Path): boolean {
  const here = pointer(path);
  return marksOf(scenario).some((mark) => mark === here || isBelow(here, mark));
}

/** How many marks stand at a path or below it, and whether its whole is marked. */
export function startingBelow(scenario: Scenario, path: Path): { isWhole: boolean; count: number } {
  const here = pointer(path);
  return { isWhole: isStarting(scenario, path), count: marksOf(scenario).filter((mark) => isBelow(mark, here)).length };
}

const same = (a: Json | undefined, b: Json | undefined): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);

/** A mark without what is confirmed below it: its other parts, each by itself. */
function without(mark: string, here: string, scenario: Scenario): string[] {
  if (mark === here) return [];
  if (!isBelow(here, mark)) return [mark];
  const value = at(scenario, pathOf(mark));
  if (value === null || typeof value !== "object") return [];
  return Object.keys(value).flatMap((key) => without(mark + pointer([key]), here, scenario));
}

const withMarks = (scenario: Scenario, marks: string[]): Scenario => {
  const { starting_values: _before, ...rest } = scenario;
  return marks.length > 0 ? { ...rest, starting_values: marks } : rest;
};

/** The marks after an edit at a path: what was edited is somebody's, what is gone has no mark; what
 * stayed as it was below the path stays marked. */
export function afterEdit(before: Scenario, after: Scenario, path: Path): Scenario {
  const here = pointer(path);
  const marks = marksOf(before);
  if (marks.length === 0 || path[0] === "starting_values") return after;
  const kept = marks.flatMap((mark) => {
    if (!isBelow(mark, here)) return without(mark, here, before);
    const place = pathOf(mark);
    return same(at(before, place), at(after, place)) ? [mark] : [];
  });
  // What a whole section's mark covered and the edit left alone is still nobody's.
  const covered = isStarting(before, path) ? unchanged(at(before, path), at(after, path), here) : [];
  const there = [...new Set([...kept, ...covered])].filter((mark) => at(after, pathOf(mark)) !== undefined);
  return withMarks(after, there);
}

/** Pointers to the parts of a section that an edit of it left as they were. */
function unchanged(before: Json | undefined, after: Json | undefined, here: string): string[] {
  if (before === null || after === null || typeof before !== "object" || typeof after !== "object") return [];
  if (Array.isArray(before) !== Array.isArray(after)) return [];
  return Object.keys(before).flatMap((key) => {
    const [was, is] = [at(before, [key]), at(after, [key])];
    return same(was, is) ? [here + pointer([key])] : unchanged(was, is, here + pointer([key]));
  });
}

/** The scenario with the values at these paths marked as nobody's; those that are not there are left out. */
export function markStarting(scenario: Scenario, paths: Path[]): Scenario {
  const added = paths.filter((path) => at(scenario, path) !== undefined && !isStarting(scenario, path)).map(pointer);
  const kept = marksOf(scenario).filter((mark) => !added.some((one) => isBelow(mark, one)));
  return added.length > 0 ? withMarks(scenario, [...kept, ...added]) : scenario;
}

/** The scenario with the value at a path taken as somebody's own. */
export const confirm = (scenario: Scenario, path: Path): Scenario =>
  withMarks(scenario, marksOf(scenario).filter((mark) => !isBelow(mark, pointer(path))).flatMap((mark) => without(mark, pointer(path), scenario)));

/** The scenario without marks of what it does not hold. */
export const pruned = (scenario: Scenario): Scenario => {
  const marks = marksOf(scenario);
  const there = marks.filter((mark) => at(scenario, pathOf(mark)) !== undefined);
  return there.length === marks.length ? scenario : withMarks(scenario, there);
};
