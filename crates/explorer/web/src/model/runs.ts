// Runs on the server: starting, following and dropping them. One season and one run of many
// seasons at a time; a newer one replaces an older one of its kind.

import type { Signal } from "@preact/signals";
import { api, Gone, Refused, type RunWish, type SeasonSummary, type SearchPartial, type Steps, type WorthPartial } from "./api";
import { dropGrids } from "./grids";
import { askWhetherThere, resetSoon } from "./lost";
import * as store from "./store";

interface Follower {
  progress?: (p: Steps) => void;
  partial?: (p: WorthPartial | SearchPartial) => void;
}

/** Why a run ended without a result. */
export class Ended extends Error {}

/** Waits for a run's end, telling how it comes on. */
function follow(run: string, follower: Follower): Promise<void> {
  return new Promise((resolve, reject) => {
    const events = api.events(run);
    const end = (finish: () => void): void => {
      events.close();
      finish();
    };
    const data = <T>(event: Event): T => JSON.parse((event as MessageEvent<string>).data || "{}") as T;
    events.addEventListener("progress", (e) => follower.progress?.(data<Steps>(e)));
    events.addEventListener("partial", (e) => follower.partial?.(data<WorthPartial | SearchPartial>(e)));
    events.addEventListener("done", () => end(resolve));
    events.addEventListener("canceled", () => end(() => reject(new Ended("canceled"))));
    events.addEventListener("failed", (e) => {
      const said = data<{ problem?: string }>(e).problem ?? "The run failed.";
      end(() => reject(new Refused(500, said)));
    });
    events.onerror = () => end(() => reject(new Gone("no answer")));
  });
}

const PATIENCE_MS = 3000;

/** Says so where a run has not begun after a while, because others use the machine. */
function tellWaiting(busy: Signal<store.Busy | null>, run: string): void {
  window.setTimeout(() => {
    const isIdle = (): boolean => busy.value?.run === run && busy.value.total === 0;
    if (!isIdle()) return;
    api.run<unknown>(run).then(
      ({ state }) => {
        if (state === "waiting" && isIdle()) busy.value = { run, done: 0, total: 0, what: "waiting" };
      },
      () => undefined,
    );
  }, PATIENCE_MS);
}

let latest = 0;
/** The season under way; the one that is shown stays at the server until a newer one is here. */
let seasonRun = "";
/** Questions about the old season that are still on their way may be answered for so long. */
const GRACE_MS = 600;

function dropSoon(run: string): void {
  window.setTimeout(() => void api.forget(run).catch(() => undefined), GRACE_MS);
}

/** How a drawing ended: drawn, overtaken by a newer one, refused for lack of room, or failed. */
export type Drawing = "drawn" | "overtaken" | "no room" | "failed";

/** Draws the season of the scenario on cells `coarser` times as wide; overtaken ones fall away. */
export async function drawSeason(coarser: number): Promise<Drawing> {
  const mine = ++latest;
  const stale = (): boolean => mine !== latest;
  try {
    const wish = { ...store.asked(), kind: "season" as const, coarser };
    const { run } = await api.begin(seasonRun ? { ...wish, replaces: seasonRun } : wish);
    if (stale()) {
      void api.forget(run).catch(() => undefined);
      return "overtaken";
    }
    seasonRun = run;
    const since = performance.now();
    const tell = (p: Steps): void => {
      if (!stale()) store.seasonBusy.value = { run, ...p, since };
    };
    tell({ done: 0, total: 0, what: "" });
    tellWaiting(store.seasonBusy, run);
    await follow(run, { progress: tell });
    // One that was replaced at its very end is gone.
    if (stale()) return "overtaken";
    const state = await api.run<SeasonSummary>(run);
    if (stale() || !state.summary) return "overtaken";
    dropGrids();
    const before = store.season.value?.run;
    if (before) dropSoon(before);
    seasonRun = "";
    store.season.value = { run, coarser: state.coarser, note: state.note, digest: state.digest, summary: state.summary };
    store.seasonProblem.value = "";
    return "drawn";
  } catch (error) {
    if (stale()) return "overtaken";
    if (error instanceof Ended) {
      askWhetherThere();
      return "overtaken";
    }
    tellProblem(error, store.seasonProblem);
    return error instanceof Refused && error.status === 429 ? "no room" : "failed";
  } finally {
    if (!stale()) store.seasonBusy.value = null;
  }
}

/** The server was started anew: what it held is gone. */
export function forgetRuns(): void {
  seasonRun = "";
  latest += 1;
  store.seasonBusy.value = null;
}

/** A page that is left draws anew when it comes back; its season would only keep others waiting. */
export function leaveSeason(): void {
  for (const run of [seasonRun, store.season.value?.run]) if (run) api.leave(run);
  forgetRuns();
}

/** Starts a long run in place of the one before it, and follows it; a first answer ends in silence. */
async function begin<S>(own: store.LongRun<S>, asked: Partial<RunWish> & { kind: RunWish["kind"] }, isFirst = false): Promise<void> {
  const before = own.busy.value?.run ?? own.shown.value?.run;
  own.problem.value = "";
  own.partials.value = [];
  own.soFar.value = "";
  own.isFirst.value = isFirst;
  try {
    const wish: RunWish = { ...store.asked(), coarser: 1, ...asked };
    const { run } = await api.begin(before ? { ...wish, replaces: before } : wish);
    own.run.value = run;
    await followLong(own, run);
  } catch (error) {
    tellProblem(error, own.problem);
  }
}

/** Follows a long run to its end; also one that was under way before a reload. */
async function followLong<S>(own: store.LongRun<S>, run: string): Promise<void> {
  const stale = (): boolean => own.run.value !== run;
  own.busy.value = { run, done: 0, total: 0, what: "" };
  tellWaiting(own.busy, run);
  try {
    await follow(run, {
      progress: (p) => {
        if (!stale()) own.busy.value = { run, ...p, since: own.busy.value?.since ?? performance.now() };
      },
      partial: (p) => {
        if (stale()) return;
        if ("words" in p) own.soFar.value = p.words;
        else own.partials.value = [...own.partials.value, p];
      },
    });
    const state = await api.run<S>(run);
    if (stale()) return;
    if (state.summary) own.shown.value = { run, coarser: state.coarser, note: state.note, digest: state.digest, summary: state.summary };
    if (!own.isFirst.value) store.say(`${own.name} is finished.`);
  } catch (error) {
    if (stale()) return;
    if (error instanceof Ended) {
      store.say(`${own.name} was canceled. What was finished stays.`);
      askWhetherThere();
    } else tellProblem(error, own.problem);
  } finally {
    if (!stale()) own.busy.value = null;
  }
}

/** Takes up the long run named in the address, if the server still has it. */
export async function takeUp<S>(own: store.LongRun<S>, run: string): Promise<void> {
  own.run.value = run;
  try {
    const state = await api.run<S>(run);
    // What came in before is told again by its events, also of a run that is done.
    if (["waiting", "running", "done"].includes(state.state)) await followLong(own, run);
  } catch (error) {
    if (error instanceof Gone) resetSoon();
    own.run.value = "";
  }
}

export async function cancel<S>(own: store.LongRun<S>): Promise<void> {
  const run = own.busy.value?.run;
  if (run) await api.forget(run).catch(() => undefined);
}

/** Runs many seasons to say what the alternatives are worth, in place of a run under way. */
export const runWorth = (seasons: number | undefined): Promise<void> =>
  begin(store.worthOwn, { kind: "worth", ...(seasons ? { seasons } : {}) });

/** What a first answer takes: enough to say which way it goes, within seconds. */
export const FIRST = { seasons: 6, coarser: 4 };

/** A first answer from a few seasons on coarse cells, then the one from all seasons on the scenario's own
 * cells in its place, unless the entries have changed meanwhile. */
export async function runFirstAnswer(): Promise<void> {
  const asked = store.scenario.value;
  store.worth.value = null;
  await begin(store.worthOwn, { kind: "worth", ...FIRST }, true);
  const isDone = store.worth.value !== null && store.worthProblem.value === "";
  if (isDone && store.scenario.value === asked) await runWorth(undefined);
}

/** Searches for rotations worth considering, in place of a search under way. */
export const searchRotations = (aim: NonNullable<RunWish["aim"]>, seasons: number | undefined, wheelSizes: boolean): Promise<void> =>
  begin(store.searchOwn, { kind: "search", aim, ...(seasons ? { seasons } : {}), ...(wheelSizes ? { wheel_sizes: true } : {}) });

function tellProblem(error: unknown, where: { value: string }): void {
  if (error instanceof Gone) {
    where.value = "The program stopped before this was finished.";
    resetSoon();
  } else if (error instanceof Refused && error.problems.length > 0) {
    where.value = "The entries above need correcting first.";
  } else {
    where.value = error instanceof Error ? error.message : String(error);
  }
}
