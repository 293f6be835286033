// What happens when the scenario changes: it is checked, laid out, drawn at once on coarse cells
// and, when it has stayed as it is for a moment, on its own cells. As the page opens there is no change
// that another might follow, and nothing to wait for.

import { effect } from "@preact/signals";
import { api, Gone, lost, type Layout } from "./api";
import { resetSoon } from "./lost";
import { drawSeason } from "./runs";
import { standingOf } from "./standing";
import * as store from "./store";

const COARSE = 4;
const PAUSE_MS = 450;
const WAIT_MS = 3000;

let asking: AbortController | null = null;
let checking: Promise<void> = Promise.resolve();
let refineTimer = 0;
let drawing = false;
let again = false;

async function checkAndLayOut(): Promise<void> {
  asking?.abort();
  const mine = new AbortController();
  asking = mine;
  const now = store.asked();
  try {
    const asked = [api.check(now, mine.signal), api.layout(now, mine.signal)] as const;
    const [check, layout] = await Promise.all(asked);
    if (mine.signal.aborted) return;
    store.check.value = check;
    const { ok, field, alternatives } = layout;
    // What does not hold stays in the picture as it was.
    const kept = alternatives.map((layout, k) => layout ?? standingOf(k));
    if (field) store.drafted.value = { of: now.scenario, field, alternatives: kept };
    if (ok) store.layout.value = layout as Layout;
  } catch (error) {
    if (error instanceof Gone) resetSoon();
  }
}

/** Waits until what was entered last is checked, so that an answer is judged as it stands. */
export async function whenChecked(): Promise<void> {
  let awaited: Promise<void>;
  do {
    awaited = checking;
    await awaited;
  } while (awaited !== checking);
}

/** Draws coarsely, one at a time: while one is under way the newest change waits for it. A number
 * typed by halves into a question is not drawn: the picture stays as it was until it is whole. */
async function drawCoarsely(): Promise<void> {
  if (drawing) {
    again = true;
    return;
  }
  drawing = true;
  const isFirst = store.season.peek() === null;
  do {
    again = false;
    if (store.isBefore.value) {
      await whenChecked();
      if (!store.check.value?.ok) continue;
    }
    await drawSeason(COARSE);
  } while (again);
  drawing = false;
  if (isFirst) await whenChecked();
  refineSoon(isFirst ? 0 : PAUSE_MS);
}

/** Where other pages keep the program busy, it is asked again after a while. */
async function drawFinely(): Promise<void> {
  if ((await drawSeason(1)) === "no room") refineTimer = window.setTimeout(() => void drawFinely(), WAIT_MS);
}

function refineSoon(pause_ms = PAUSE_MS): void {
  window.clearTimeout(refineTimer);
  refineTimer = window.setTimeout(() => {
    // A first answer that somebody waits for goes before finer maps.
    if (store.isBefore.value) return;
    const isAwaited = store.worthOwn.isFirst.value && store.worthBusy.value !== null;
    if (store.isDragging.value || drawing || isAwaited) return refineSoon();
    if (store.check.value?.ok) void drawFinely();
  }, pause_ms);
}

/** Does all of it anew, for a server that was started again. */
export function redo(): void {
  window.clearTimeout(refineTimer);
  checking = checkAndLayOut();
  void checking.then(drawCoarsely);
}

/** The season that is shown was dropped for those of other tabs: it is drawn anew, once. */
function drawAnew(run: string): void {
  if (run !== store.season.value?.run || store.seasonBusy.value || drawing) return;
  void drawCoarsely();
}

export function followScenario(): void {
  lost.run = drawAnew;
  effect(() => {
    void [store.scenario.value, store.files.value];
    window.clearTimeout(refineTimer);
    checking = checkAndLayOut();
    void drawCoarsely();
  });
  // While questions are asked, coarse cells tell enough; what is drawn finely waits for the page.
  effect(() => {
    if (!store.isBefore.value && store.season.peek()?.coarser !== 1) refineSoon();
  });
}
