// The server may be stopped and started again. The page says so, keeps everything that was entered,
// asks once a second, and goes on by itself.

import { api, Gone, Stranger } from "./api";
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
  } catch (error) {
    store.isStranger.value = error instanceof Stranger;
    timer = window.setTimeout(() => void ask(), 1000);
    return;
  }
  timer = 0;
  store.isServerGone.value = false;
  store.say("The program is back.");
  onReturn();
}

/** A program that is stopped cancels its runs first: after one that nobody canceled, ask whether it
 * is still there. */
export function askWhetherThere(): void {
  for (const wait_ms of [300, 1500, 4000]) {
    window.setTimeout(() => {
      api.health().catch((error: unknown) => {
        if (error instanceof Gone) resetSoon();
      });
    }, wait_ms);
  }
}

/** Called by whoever got no answer. */
export function resetSoon(): void {
  store.isServerGone.value = true;
  if (timer === 0) timer = window.setTimeout(() => void ask(), 1000);
}
