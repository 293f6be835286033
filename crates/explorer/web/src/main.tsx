// Starts the page: what the address or this browser remembers, else the demo.

import { render } from "preact";
import { App } from "./app";
import { isWhole, read, unpack } from "./model/address";
import { AnotherAddress } from "./farms/another";
import { CUT, CutAddress } from "./farms/cut";
import { api, Gone, Refused, type Start } from "./model/api";
import { latest, noteOpened, readFarm, recognize, whenText, type FarmOpened } from "./model/farms";
import { followScenario, redo } from "./model/follow";
import { followHistory, undoByKeys } from "./model/history";
import { resetSoon, whenBack } from "./model/lost";
import { read as readFile } from "./model/packed";
import { converted } from "./model/shapefile";
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
import "./style/farms.css";
import "./style/questions.css";
import "./style/answer.css";
import "./style/print.css";

/** The files that came with the program's start, as far as they are text; `wanted` has the digests of
 * those that are meant, where an address tells them. */
async function takeGiven(given: Start, wanted?: Record<string, string>): Promise<void> {
  const isPrj = (name: string): boolean => /\.prj$/i.test(name);
  const missing = wanted ? given.files.filter((name) => isPrj(name) || (wanted[name] && store.files.value[name] === undefined)) : given.files;
  const read = missing.map(async (name) => [name, await readFile(new File([await api.startFile(name)], name))] as const);
  const opened = (await Promise.allSettled(read)).flatMap((one) => (one.status === "fulfilled" ? [one.value] : []));
  const beside = opened.flatMap(([, parts]) => parts.filter((part) => isPrj(part.name)));
  const found = opened.map(async ([name, parts]) => {
    // What tells a shapefile's coordinates stands beside it.
    const [one] = await converted([...parts, ...beside], name);
    const isMeant = one && (!wanted || (await digestOf(one.body)) === wanted[name]);
    return isMeant ? [[name, one.body] as const] : [];
  });
  const told = await Promise.allSettled(found);
  await keepFiles(Object.fromEntries(told.flatMap((one) => (one.status === "fulfilled" ? one.value : []))));
}

/** A farm as it is kept now, with its files. */
async function takeFarm(opened: FarmOpened): Promise<Scenario> {
  await noteOpened(opened);
  await keepFiles(opened.files);
  store.farm.value = opened.kept.farm;
  store.say(`This is “${opened.kept.name}”, kept ${whenText(opened.kept.kept_ms)}.`);
  return opened.scenario;
}

/** Comes to its end when the scenario of an address may take the place of what this browser had last. */
async function askedFirst(theirs: Scenario, files: Record<string, string>, given: Start): Promise<void> {
  const untouched = given.from_command_line && given.scenario ? given.scenario : await api.demo();
  const mine = store.workBefore(location.hash, theirs, files, untouched);
  if (!mine) return;
  const { farm } = store.lastFarm();
  const kept = farm ? await readFarm(farm).catch(() => null) : null;
  const page = document.getElementById("page")!;
  await new Promise<void>((take) => render(<AnotherAddress theirs={theirs} mine={mine} farm={kept?.kept.name ?? ""} take={take} />, page));
  render(null, page);
}

async function firstScenario(packed: string, files: Record<string, string>, { farm = "", base = "" }): Promise<Scenario> {
  const given = await api.start();
  store.cautions.value = given.cautions;
  if (packed) {
    const unpacked = await unpack(packed);
    if (unpacked) {
      await askedFirst(unpacked, files, given);
      await takeFiles(files);
      await takeGiven(given, files);
      if (farm) await recognize(farm, base);
      return unpacked;
    }
  }
  if (farm) return takeFarm(await readFarm(farm));
  if (given.from_command_line && given.scenario) {
    await takeGiven(given);
    if (given.farm) await recognize(given.farm, "");
    return given.scenario;
  }
  const last = store.lastWorkedOn();
  if (last) {
    await takeFiles(store.lastFiles());
    const mark = store.lastFarm();
    if (mark.farm) await recognize(mark.farm, mark.base);
    if (location.hash.length <= 1 && isUnfinished(last)) {
      store.step.value = "questions";
      return last;
    }
    store.say("This is where you left off, as this browser remembers it. “Demo” and “From nothing” start over.");
    return last;
  }
  const kept = await latest();
  if (kept) return takeFarm(kept);
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
  if (!(await isWhole(location.hash))) {
    render(<CutAddress />, document.getElementById("page")!);
    return;
  }
  const { view, packed, files } = read(location.hash);
  takeView(view);
  store.keepUnits();
  // Asked for at once, so that colors and explanations are there when the first answers come.
  const fixed = loadFixed();
  fixed.catch((error) => {
    if (error instanceof Gone) resetSoon();
  });
  try {
    store.scenario.value = await firstScenario(packed, files, view);
  } catch (error) {
    if (error instanceof Refused) return render(<CutAddress words={error.message} />, document.getElementById("page")!);
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

/** An address pasted over the old one brings another scenario; one that was cut leaves all as it is. */
async function takeAddress(): Promise<void> {
  if (store.scenario.value.evenfall === undefined || (await isWhole(location.hash))) return location.reload();
  store.restoreAddress();
  store.say(`${CUT} What was here stays.`);
}

addEventListener("hashchange", () => void takeAddress());

void start();
