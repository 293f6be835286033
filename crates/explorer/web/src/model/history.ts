// Undo and redo of every change of the scenario, whatever made it. Changes that follow each other
// closely (typing, dragging) are one step.

import { effect, signal } from "@preact/signals";
import type { Scenario } from "./scenario";
import * as store from "./store";

const MOST_STEPS = 100;
const ONE_STEP_MS = 800;

const past: Scenario[] = [];
const future: Scenario[] = [];
export const canUndo = signal(false);
export const canRedo = signal(false);

let known: Scenario = {};
let changedAt = 0;
let isOwn = false;

function tell(): void {
  canUndo.value = past.length > 0;
  canRedo.value = future.length > 0;
}

function noteChange(now: Scenario): void {
  if (now === known) return;
  if (!isOwn) {
    if (Date.now() - changedAt > ONE_STEP_MS) past.push(known);
    if (past.length > MOST_STEPS) past.shift();
    future.length = 0;
    changedAt = Date.now();
  }
  known = now;
  tell();
}

/** Keeps what was, from the scenario as it stands now. */
export function followHistory(): void {
  known = store.scenario.peek();
  effect(() => noteChange(store.scenario.value));
}

function step(from: Scenario[], to: Scenario[], words: string): void {
  const next = from.pop();
  if (next === undefined) return;
  to.push(known);
  changedAt = 0;
  isOwn = true;
  store.scenario.value = next;
  isOwn = false;
  tell();
  store.say(words);
}

export const undo = (): void => step(past, future, "Undone.");
export const redo = (): void => step(future, past, "Done again.");

/** The usual keys; where text is typed they are the browser's own. */
export function undoByKeys(event: KeyboardEvent): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const target = event.target instanceof HTMLElement ? event.target : null;
  if (target?.closest("textarea, input:not([type=radio]):not([type=checkbox]):not([type=range])")) return;
  const way = key === "y" || (key === "z" && event.shiftKey) ? redo : key === "z" ? undo : null;
  if (!way) return;
  event.preventDefault();
  way();
}
