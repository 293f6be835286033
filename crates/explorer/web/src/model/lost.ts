// The server may be stopped and started again. The page says so, keeps everything that was entered,
// asks once a second, and goes on by itself.

import { api } from "./api";
import * as store from "./store";

let onReturn: () => void = () => undefined;
let timer = 0;

/** Tells what to do when the server is back. */
export function whenBack(action: () => void): void {
  onReturn = action;
}

async function ask(): Promise<void> {
  try {
    await api.health();
  } catch {
    timer = window.setTimeout(() => void ask(), 1000);
    return;
  }
  timer = 0;
  store.isServerGone.value = false;
  store.say("The program answers again.");
  onReturn();
}

/** Called by whoever got no answer. */
export function resetSoon(): void {
  store.isServerGone.value = true;
  if (timer === 0) timer = window.setTimeout(() => void ask(), 1000);
}
