// What happens when the scenario changes: it is checked, laid out, drawn at once on coarse cells
// and, when it has stayed as it is for a moment, on its own cells. The moment begins with the change, so
// that what the coarse cells take is not waited for twice. As the page opens there is no change that
// another might follow, and nothing to wait for.

import { effect } from "@preact/signals";
import { api, Gone, lost, type Layout } from "./api";
import { resetSoon } from "./lost";
import { drawSeason } from "./runs";
import { standingOf } from "./standing";
import * as store from "./store";

const COARSE = 4;
/** In which most who type have struck their next key. */
const PAUSE_MS = 300;
const WAIT_MS = 3000;

let asking: AbortController | null = null;
let checking: Promise<void> = Promise.resolve();
let refineTimer = 0;
/** When the scenario changed last, ms of the page's own clock; as it opens none has. */
let changed = -PAUSE_MS;
let drawing = false;
let again = false;

/** Checks what was entered and lays it out; the document says whether that is behind. */
async function checkAndLayOut(): Promise<void> {
  const { dataset } = document.documentElement;
  dataset.check = "behind";
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
  } finally {
    if (asking === mine) dataset.check = "made";
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
  do {
    again = false;
    if (store.isBefore.value) {
      await whenChecked();
      if (!store.check.value?.ok) continue;
    }
    await drawSeason(COARSE);
  } while (again);
  drawing = false;
  await whenChecked();
  refineSoon();
}

/** Where other pages keep the program busy, it is asked again after a while. */
async function drawFinely(): Promise<void> {
  if ((await drawSeason(1)) === "no room") refineTimer = window.setTimeout(() => void drawFinely(), WAIT_MS);
}

/** What finer cells wait for: a first answer that somebody waits for goes before them, and while questions
 * are asked or a stop is dragged coarse cells tell enough. */
const isHeld = (): boolean =>
  store.isBefore.value || store.isDragging.value || (store.worthOwn.isFirst.value && store.worthBusy.value !== null);

function refineSoon(): void {
  window.clearTimeout(refineTimer);
  refineTimer = window.setTimeout(() => {
    // What is drawn coarsely comes back here at its end, and what holds it as it lets go.
    if (!drawing && !isHeld() && store.check.value?.ok) void drawFinely();
  }, changed + PAUSE_MS - performance.now());
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
    if (store.season.peek() !== null) changed = performance.now();
    window.clearTimeout(refineTimer);
    checking = checkAndLayOut();
    void drawCoarsely();
  });
  effect(() => {
    if (!isHeld() && store.season.peek()?.coarser !== 1) refineSoon();
  });
}
