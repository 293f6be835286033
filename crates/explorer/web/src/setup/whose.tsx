// Whose a value is, told beside its entry and its group: the user's, a starting value, or from a test.

import type { JSX } from "preact";
import { at, pointer, type Path, type Scenario } from "../model/scenario";
import { sectionsOf } from "../model/schema";
import { confirm, isStarting, startingBelow, type Whose } from "../model/starting";
import * as store from "../model/store";

/** What catch tests and a survey of the line have measured, by the section that holds it. */
const TESTED: [section: string, ...below: string[]][] = [["calibration", "/sprinkler/drag"], ["survey", "/lateral/survey"]];

function isTested(scenario: Scenario, here: string): boolean {
  const told = store.check.value?.matters?.find(({ what }) => what === here);
  if (told) return told.whose === "from a test";
  return TESTED.some(([section, ...below]) => {
    const there = section === "survey" ? at(scenario, ["lateral", "survey"]) : scenario[section];
    return there !== undefined && below.some((one) => here === one || here.startsWith(`${one}/`));
  });
}

/** Whose the value at a path is; null where there is none, or all of it is invented. */
export function whoseAt(path: Path): Whose | null {
  const scenario = store.scenario.value;
  if (scenario.invented === true) return null;
  const here = pointer(path);
  if (isTested(scenario, here)) return "from a test";
  if (at(scenario, path) === undefined) {
    const isAssumed = store.check.value?.assumptions.some(({ what }) => what === here) ?? false;
    return isAssumed ? "starting value" : null;
  }
  if (isStarting(scenario, path)) return "starting value";
  const isPlaceholder = at(scenario, [...path, "placeholder"]) === true;
  return isPlaceholder ? "starting value" : "yours";
}

const CLASSES: Record<Whose, string> = { yours: "yours", "starting value": "starting", "from a test": "test" };

/** The mark beside an entry; a starting value can be taken as one's own there. */
export function WhoseTag({ path }: { path: Path }): JSX.Element | null {
  const whose = whoseAt(path);
  if (whose === null || path[path.length - 1] === "title" || path[path.length - 1] === "question") return null;
  const isMarked = whose === "starting value" && isStarting(store.scenario.value, path) && at(store.scenario.value, path) !== undefined;
  return (
    <span class="whose-mark">
      <span class={`whose ${CLASSES[whose]}`}>{whose}</span>
      {isMarked && (
        <button type="button" class="link small" title="The value is right for my field" onClick={() => (store.scenario.value = confirm(store.scenario.value, path))}>
          It’s mine<span class="unseen"> ({String(path[path.length - 1]).replace(/_/g, " ")})</span>
        </button>
      )}
    </span>
  );
}

/** Whether the sections of a group hold starting values: all of theirs, some, or none. */
export function startingIn(group: string): "all" | "some" | "none" {
  const scenario = store.scenario.value;
  if (scenario.invented === true) return "none";
  const sections = sectionsOf(store.schema.value, group).filter((key) => scenario[key] !== null && typeof scenario[key] === "object");
  const found = sections.map((key) => startingBelow(scenario, [key]));
  if (found.length > 0 && found.every(({ isWhole }) => isWhole)) return "all";
  return found.some(({ isWhole, count }) => isWhole || count > 0) ? "some" : "none";
}
