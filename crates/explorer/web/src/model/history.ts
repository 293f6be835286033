// Undo and redo of every change of the scenario, whatever made it. Changes of the same value that
// follow each other closely (typing, dragging) are one step. With each step goes what was looked at.

import { batch, effect, signal } from "@preact/signals";
import { alternatives, at, text, type Json, type Path, type Scenario } from "./scenario";
import * as store from "./store";

const MOST_STEPS = 100;
const ONE_STEP_MS = 800;

interface Step {
  scenario: Scenario;
  alternative: number;
  stop: number;
  /** The farm that it was kept as. */
  farm: string;
  /** What the change was about, in words. */
  what: string;
}

const past: Step[] = [];
const future: Step[] = [];
/** What the next step back or on would be about; null where there is none. */
export const undoable = signal<string | null>(null);
export const redoable = signal<string | null>(null);

let known: Scenario = {};
let knownFarm = "";
let changedAt = 0;
let changedWhere = "";
let isOwn = false;

const isHolder = (value: Json | undefined): value is Scenario | Json[] => value !== null && typeof value === "object";

/** The place within which all differences lie. */
export function whereChanged(before: Json | undefined, after: Json | undefined): Path {
  if (!isHolder(before) || !isHolder(after) || Array.isArray(before) !== Array.isArray(after)) return [];
  // Where a list has grown or shrunk, it is the list that changed.
  if (Array.isArray(before) && before.length !== (after as Json[]).length) return [];
  const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  const changed = keys.filter((key) => at(before, [key]) !== at(after, [key]));
  const [only] = changed;
  if (changed.length !== 1 || only === undefined) return [];
  const key = Array.isArray(before) ? Number(only) : only;
  return [key, ...whereChanged(at(before, [key]), at(after, [key]))];
}

/** That place as a person would name it. */
export function placeWords(path: Path, before: Scenario, after: Scenario): string {
  const [first, index, ...rest] = path;
  if (first === undefined) return before.title === after.title ? "several entries" : "the scenario";
  const plain = (keys: Path): string =>
    keys.map((key) => (typeof key === "number" ? String(key + 1) : key.replace(/_/g, " "))).join(" ");
  if (first !== "alternatives") return plain(path);
  const lists = [alternatives(before), alternatives(after)];
  if (typeof index === "number") {
    const name = text(lists[1]![index]?.name) || `alternative ${index + 1}`;
    return rest.length > 0 ? `${name}: ${plain(rest)}` : name;
  }
  const [longer, shorter] = lists[0]!.length > lists[1]!.length ? lists : [lists[1]!, lists[0]!];
  const lone = longer!.find((one) => !shorter!.includes(one));
  return longer!.length === shorter!.length ? "order of the alternatives" : text(lone?.name) || "the alternatives";
}

function tell(): void {
  undoable.value = past.length > 0 ? past[past.length - 1]!.what : null;
  redoable.value = future.length > 0 ? future[future.length - 1]!.what : null;
}

const stepTo = (scenario: Scenario, what: string): Step => ({
  scenario,
  farm: knownFarm,
  what,
  alternative: store.alternative.peek(),
  stop: store.stop.peek(),
});

function noteChange(now: Scenario): void {
  if (now === known) return;
  if (!isOwn) {
    const path = whereChanged(known, now);
    const where = path.join("/");
    // What is put in, taken out or moved is a step by itself, however quickly it follows.
    const isTyped = !isHolder(at(now, path)) && path.length > 0;
    // So is what follows a keep under another name, or another farm.
    const isSameFarm = past.length > 0 && past[past.length - 1]!.farm === knownFarm && store.farm.peek() === knownFarm;
    const goesOn = isTyped && isSameFarm && where === changedWhere && Date.now() - changedAt <= ONE_STEP_MS;
    if (!goesOn) past.push(stepTo(known, placeWords(path, known, now)));
    if (past.length > MOST_STEPS) past.shift();
    future.length = 0;
    [changedAt, changedWhere] = [Date.now(), where];
  }
  known = now;
  knownFarm = store.farm.peek();
  tell();
}

/** Keeps what was, from the scenario as it stands now. */
export function followHistory(): void {
  known = store.scenario.peek();
  // What is kept under another name is the same scenario.
  effect(() => {
    const farm = store.farm.value;
    if (store.scenario.peek() === known) knownFarm = farm;
  });
  effect(() => noteChange(store.scenario.value));
}

function step(from: Step[], to: Step[], words: string): void {
  const next = from.pop();
  if (next === undefined) return;
  to.push(stepTo(known, next.what));
  changedAt = 0;
  isOwn = true;
  batch(() => {
    store.farm.value = next.farm;
    store.scenario.value = next.scenario;
  });
  isOwn = false;
  store.alternative.value = next.alternative;
  store.stop.value = next.stop;
  tell();
  store.say(`${words}: ${next.what}.`);
}

export const undo = (): void => step(past, future, "Undone");
export const redo = (): void => step(future, past, "Redone");

/** The usual keys; where text is typed they are the browser's own. */
export function undoByKeys(event: KeyboardEvent): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const target = event.target instanceof HTMLElement ? event.target : null;
  if (target?.closest("textarea, input:not([type=radio]):not([type=checkbox]):not([type=range])")) return;
  const act = key === "y" || (key === "z" && event.shiftKey) ? redo : key === "z" ? undo : null;
  if (!act) return;
  event.preventDefault();
  act();
}
