// Opening what was chosen or dropped: a scenario, the files it names, both together or packed.

import { isDrawing } from "../model/corners";
import { base, meant, read, Unfit, type Opened } from "../model/packed";
import { filesNamed, text, type Json, type Scenario } from "../model/scenario";
import { converted } from "../model/shapefile";
import { keepFiles } from "../model/shelf";
import * as store from "../model/store";
import { boundaryOf } from "./boundary";

/** Puts another scenario in place of the one at hand, with the files that came with it and the farm
 * that it is kept as: none where none is told, so that no farm is overwritten by something else. */
export async function open(scenario: Scenario, words: string, files: Record<string, string> = {}, farm = ""): Promise<void> {
  store.alternative.value = 0;
  store.stop.value = 0;
  store.hour.value = Infinity;
  store.place.value = null;
  isDrawing.value = false;
  if (store.isBefore.value) store.step.value = "answer";
  for (const own of [store.worthOwn, store.searchOwn]) {
    own.shown.value = null;
    own.run.value = "";
    own.partials.value = [];
  }
  await keepFiles(files, () => {
    store.farm.value = farm;
    store.scenario.value = scenario;
  });
  store.say(words);
}

function parsed(body: string): Scenario | null {
  try {
    const value: unknown = JSON.parse(body);
    return value !== null && typeof value === "object" && !Array.isArray(value) ? (value as Scenario) : null;
  } catch {
    return null;
  }
}

/** Whether a JSON value is geometry: a file that a scenario names, not a scenario. */
const isGeometry = (value: Scenario): boolean => /^(Feature|FeatureCollection|GeometryCollection|(Multi)?Polygon)$/.test(text(value.type));

interface Sorted {
  scenarios: [string, Scenario][];
  others: Opened[];
}

function sorted(opened: Opened[]): Sorted {
  const found: Sorted = { scenarios: [], others: [] };
  for (const one of opened) {
    const isJson = /\.json$/i.test(one.name) || /^\s*\{/.test(one.body);
    const value = isJson ? parsed(one.body) : null;
    if (isJson && !value) throw new Unfit(`${one.name} is no scenario file: it is not JSON.`);
    if (value && !isGeometry(value)) found.scenarios.push([one.name, value]);
    else found.others.push(one);
  }
  if (found.scenarios.length > 1) {
    const names = found.scenarios.map(([name]) => base(name)).join(" and ");
    throw new Unfit(`${names} are scenarios both: open one of them, with the files it names.`);
  }
  return found;
}

/** Those of the opened files that a scenario names, by its names, and the rest. */
function forScenario(scenario: Scenario, opened: Opened[]): { files: Record<string, string>; rest: Opened[] } {
  const files: Record<string, string> = {};
  const used = new Set<Opened>();
  for (const name of filesNamed(scenario)) {
    const found = meant(name, opened);
    if (!found) continue;
    files[name] = found.body;
    used.add(found);
  }
  return { files, rest: opened.filter((one) => !used.has(one)) };
}

const listed = (names: string[]): string => names.map(base).join(", ");

/** Opens all of them, or says why not and leaves everything as it was. */
export async function openFiles(chosen: File[]): Promise<void> {
  try {
    const { scenarios, others } = sorted(await converted((await Promise.all(chosen.map(read))).flat()));
    const [scenario] = scenarios;
    if (scenario) await openScenario(scenario, others);
    else await openBeside(others);
  } catch (error) {
    if (!(error instanceof Unfit)) throw error;
    store.say(error.message);
  }
}

async function openScenario([name, scenario]: [string, Scenario], others: Opened[]): Promise<void> {
  const { files, rest } = forScenario(scenario, others);
  const came = Object.keys(files);
  const words = [`Opened ${base(name)}${came.length > 0 ? ` with ${listed(came)}` : ""}.`];
  if (rest.length > 0) words.push(`It names no file ${listed(rest.map((one) => one.name))}.`);
  await open(scenario, words.join(" "), files);
}

/** Files without a scenario are for the one at hand. */
async function openBeside(others: Opened[]): Promise<void> {
  const { files, rest } = forScenario(store.scenario.value, others);
  const words: string[] = [];
  await keepFiles(files);
  if (Object.keys(files).length > 0) words.push(`${listed(Object.keys(files))}: at hand.`);
  for (const one of rest) {
    const name = base(one.name);
    await keepFiles({ [name]: one.body });
    const value = parsed(one.body);
    if (value && isGeometry(value)) {
      store.edit(["field", "boundary"], boundaryOf(name, one.body) as Json);
      words.push(`${name} is now the field’s edge.`);
    } else {
      words.push(`${name} is at hand: take it under Wind and air, under Crop and soil, or as a survey under Field and lateral.`);
    }
  }
  store.say(words.join(" "));
}
