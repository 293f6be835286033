// Where somebody is in the ten questions, and what of his answers the scenario holds in another form.

import { signal } from "@preact/signals";
import { ALL_STEPS } from "./steps";
import { at, pointer, type Path, type Scenario } from "../model/scenario";
import { runFirstAnswer } from "../model/runs";
import { isStarting, marksOf } from "../model/starting";
import * as store from "../model/store";
import { numberOf, short, split, toSystem, type System } from "../model/units";
import { beginning } from "./begin";
import * as writing from "./write";

/** The question at hand, from 0. */
export const question = signal(0);
/** Whether all stand on one screen. */
export const isAll = signal(false);
/** Whether the field's size is told by its area, or by its sides. */
export const isByArea = signal(true);
export const sizes = signal<writing.Sizes>({ area: "", pipe: "" });
/** Questions that were left, answered or not. */
export const passed = signal<ReadonlySet<number>>(new Set());

const KEPT = "evenfall questions";

/** Keeps in this browser where somebody was. */
function keep(): void {
  try {
    localStorage.setItem(KEPT, JSON.stringify({ question: question.value, isAll: isAll.value, isByArea: isByArea.value, passed: [...passed.value] }));
  } catch {
    // Then a reload begins with the first question, answers and all.
  }
}

/** Takes up the questions on the scenario at hand, where they were left. */
export function resume(): void {
  sizes.value = writing.sizesOf(store.scenario.value);
  try {
    const known = JSON.parse(localStorage.getItem(KEPT) ?? "{}") as { question?: number; isAll?: boolean; isByArea?: boolean; passed?: number[] };
    question.value = Math.min(ALL_STEPS - 1, Math.max(0, Number(known.question ?? 0) || 0));
    isAll.value = known.isAll === true;
    isByArea.value = known.isByArea !== false;
    passed.value = new Set(known.passed ?? []);
  } catch {
    question.value = 0;
  }
}

/** The questions from the first on, on a field of which nothing is known. */
export function beginAnew(system: System = store.system.value): Scenario {
  question.value = 0;
  passed.value = new Set();
  isByArea.value = true;
  sizes.value = { area: "", pipe: "" };
  keep();
  return beginning(system);
}

const ASKED_FOR: Path[] = [["sprinkler", "jets", 0, "nozzle"], ["crop", "name"], ["soil", "texture"], ["worth", "prices"], ["season", "sets_per_day"]];

/** Whether a scenario is one that the questions can be asked of. */
export const isAskable = (scenario: Scenario): boolean => scenario.invented !== true && ASKED_FOR.every((path) => at(scenario, path) !== undefined);

/** Whether somebody left in the midst of the questions on this scenario. */
export function isUnfinished(scenario: Scenario): boolean {
  try {
    const known = JSON.parse(localStorage.getItem(KEPT) ?? "null") as { passed?: number[] } | null;
    return known !== null && (known.passed?.length ?? 0) < ALL_STEPS && isAskable(scenario) && marksOf(scenario).length > 0;
  } catch {
    return false;
  }
}

/** Goes to a question; the one that is left counts as passed. */
export function goTo(index: number): void {
  passed.value = new Set([...passed.value, question.value]);
  question.value = Math.min(ALL_STEPS - 1, Math.max(0, index));
  keep();
}

export function showAll(on: boolean): void {
  isAll.value = on;
  keep();
}

export function tellBy(area: boolean): void {
  isByArea.value = area;
  if (area) {
    sizes.value = writing.sizesOf(store.scenario.value);
    writing.writeSizes(sizes.value, true);
  }
  keep();
}

export function setSize(key: keyof writing.Sizes, typed: string): void {
  sizes.value = { ...sizes.value, [key]: typed };
  writing.writeSizes(sizes.value, isByArea.value);
}

export function setApart(typed: string): void {
  const start = String(writing.startOf(writing.PATHS.APART));
  writing.writeSizes(sizes.value, isByArea.value, typed === "" ? start : typed, typed === "");
}

const HA_AC = 10_000 / 4046.8564224;
/** Areas as they were typed, by what they were turned into. */
const typedAs = new Map<string, string>();

function areaIn(typed: string, system: System): string {
  if (typed === "") return "";
  const known = typedAs.get(typed);
  if (known?.endsWith(system === "us" ? " ac" : " ha")) return known;
  const { number, unit } = split(typed);
  const to = system === "us" ? "ac" : "ha";
  if (unit === to) return typed;
  const turned = `${short(numberOf(number) * (to === "ac" ? HA_AC : 1 / HA_AC), 6)} ${to}`;
  typedAs.set(turned, typed);
  return turned;
}

/** Other units: what was typed keeps its amount and finds its digits again. */
export function changeUnits(system: System): void {
  if (system === store.system.value) return;
  const { area, pipe } = sizes.value;
  writing.changeUnits(system);
  sizes.value = { area: areaIn(area, system), pipe: pipe === "" ? "" : toSystem(pipe, system) };
  writing.writeSizes(sizes.value, isByArea.value);
}

/** Shows what the entries come to, before the answer: first from a few seasons, then from all. */
export function finish(): void {
  passed.value = new Set(Array.from({ length: ALL_STEPS }, (_, i) => i));
  keep();
  store.step.value = "mirror";
  store.alternative.value = 0;
  store.stop.value = 0;
  void runFirstAnswer();
  scrollTo({ top: 0 });
}

/** Back to the questions, at one of them. */
export function change(index: number): void {
  question.value = index;
  keep();
  store.step.value = "questions";
  scrollTo({ top: 0 });
}

/** Whether nobody has answered anything at these paths. */
export const isOpen = (paths: Path[]): boolean => paths.every((path) => isStarting(store.scenario.value, path));

/** Whether something of the scenario's problems lies at these paths. */
export const problemsUnder = (paths: Path[]): boolean =>
  (store.check.value?.problems ?? []).some((p) => paths.some((path) => p.pointer === pointer(path) || p.pointer.startsWith(`${pointer(path)}/`)));
