// Starts the page: what the address or this browser remembers, else the demo.

import { render } from "preact";
import { App } from "./app";
import { read, unpack } from "./model/address";
import { api, Gone, type Start } from "./model/api";
import { followScenario, redo } from "./model/follow";
import { followHistory, undoByKeys } from "./model/history";
import { resetSoon, whenBack } from "./model/lost";
import { read as readFile } from "./model/packed";
import { forgetRuns, leaveSeason, takeUp } from "./model/runs";
import type { Scenario } from "./model/scenario";
import type { Node } from "./model/schema";
import { digestOf, keepFiles, takeFiles } from "./model/shelf";
import * as store from "./model/store";
import { beginAnew, isUnfinished, resume } from "./questions/state";
import { loadTables } from "./season/color";
import "./style/base.css";
import "./style/setup.css";
import "./style/parts.css";
import "./style/season.css";
import "./style/questions.css";
import "./style/answer.css";
import "./style/print.css";

/** The files that came with the program's start, as far as they are text; `wanted` has the digests of
 * those that are meant, where an address tells them. */
async function takeGiven(given: Start, wanted?: Record<string, string>): Promise<void> {
  const missing = wanted ? given.files.filter((name) => wanted[name] && store.files.value[name] === undefined) : given.files;
  const found = missing.map(async (name) => {
    const [one] = await readFile(new File([await api.startFile(name)], name));
    const isMeant = one && (!wanted || (await digestOf(one.body)) === wanted[name]);
    return isMeant ? [[name, one.body] as const] : [];
  });
  const told = await Promise.allSettled(found);
  await keepFiles(Object.fromEntries(told.flatMap((one) => (one.status === "fulfilled" ? one.value : []))));
}

async function firstScenario(packed: string, files: Record<string, string>): Promise<Scenario> {
  const given = await api.start();
  store.cautions.value = given.cautions;
  if (packed) {
    const unpacked = await unpack(packed);
    if (unpacked) {
      await takeFiles(files);
      await takeGiven(given, files);
      return unpacked;
    }
    store.say("The link is damaged; its scenario cannot be read.");
  }
  if (given.from_command_line && given.scenario) {
    await takeGiven(given);
    return given.scenario;
  }
  const last = packed ? null : store.lastWorkedOn();
  if (last) {
    await takeFiles(store.lastFiles());
    if (location.hash.length <= 1 && isUnfinished(last)) {
      store.step.value = "questions";
      return last;
    }
    store.say("This is where you left off. “Demo” and “From nothing” start over.");
    return last;
  }
  // An address that names a part of the page leads there; without one, a first visitor is asked.
  if (location.hash.length > 1) return given.scenario ?? api.demo();
  store.step.value = "questions";
  return beginAnew("us");
}

function takeView(view: ReturnType<typeof read>["view"]): void {
  if (view.step) store.step.value = view.step;
  if (view.alternative) store.alternative.value = view.alternative;
  if (view.stop) store.stop.value = view.stop;
  if (view.hour !== undefined) store.hour.value = view.hour;
  if (view.show) store.show.value = view.show;
  if (view.maps) store.maps.value = view.maps;
  const [x, y] = (view.place ?? "").split(",").map(Number);
  if (view.place && Number.isFinite(x) && Number.isFinite(y)) store.place.value = { x: x!, y: y! };
}

async function loadFixed(): Promise<void> {
  const [schema] = await Promise.all([api.schema(), loadTables()]);
  store.schema.value = schema as Node;
}

const LONG: store.LongRun<any>[] = [store.worthOwn, store.searchOwn];

async function start(): Promise<void> {
  const { view, packed, files } = read(location.hash);
  takeView(view);
  store.keepUnits();
  // Asked for at once, so that colors and explanations are there when the first answers come.
  const fixed = loadFixed();
  fixed.catch((error) => {
    if (error instanceof Gone) resetSoon();
  });
  try {
    store.scenario.value = await firstScenario(packed, files);
  } catch (error) {
    if (error instanceof Gone) resetSoon();
    whenBack(() => location.reload());
    render(<App />, document.getElementById("page")!);
    return;
  }
  whenBack(() => {
    forgetRuns();
    if (!store.schema.value) void loadFixed();
    redo();
    for (const own of LONG) if (own.run.value) void takeUp(own, own.run.value);
  });
  if (store.isBefore.value) resume();
  followHistory();
  followScenario();
  store.keepAddress();
  addEventListener("keydown", undoByKeys);
  render(<App />, document.getElementById("page")!);
  if (view.worth) void takeUp(store.worthOwn, view.worth);
  if (view.search) void takeUp(store.searchOwn, view.search);
}

addEventListener("pagehide", leaveSeason);
addEventListener("pageshow", (event) => {
  if (event.persisted) redo();
});

// An address pasted over the old one brings another scenario.
addEventListener("hashchange", () => location.reload());

void start();
