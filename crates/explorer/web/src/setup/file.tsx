// Opening and saving scenarios: the same file the command line reads.

import type { JSX } from "preact";
import { useRef } from "preact/hooks";
import { api } from "../model/api";
import { filesNamed, fromNothing, text, type Scenario } from "../model/scenario";
import { allToSystem, type System } from "../model/units";
import { keepFiles } from "../model/shelf";
import * as store from "../model/store";

const MOST_BYTES = 2e6;

/** Puts another scenario in place of the one at hand. */
export function open(scenario: Scenario, words: string): void {
  store.alternative.value = 0;
  store.stop.value = 0;
  store.hour.value = Infinity;
  store.place.value = null;
  for (const own of [store.worthOwn, store.searchOwn]) {
    own.shown.value = null;
    own.run.value = "";
    own.partials.value = [];
  }
  store.scenario.value = scenario;
  store.say(words);
}

/** Whether a JSON value is geometry: a file that a scenario names, not a scenario. */
const isGeometry = (value: Scenario): boolean => /^(Feature|FeatureCollection|GeometryCollection|(Multi)?Polygon)$/.test(text(value.type));

/** Opens what was chosen or dropped: a scenario, the files it names, or both together. */
export async function openFiles(chosen: File[]): Promise<void> {
  const beside: Record<string, string> = {};
  let scenario: [string, Scenario] | null = null;
  for (const file of chosen) {
    if (file.size > MOST_BYTES) return store.say(`${file.name} is larger than any scenario or record.`);
    const body = await file.text();
    const isJson = /\.json$/i.test(file.name) || body.trimStart().startsWith("{");
    const value = isJson ? parsed(body) : null;
    if (value && !isGeometry(value)) scenario = [file.name, value];
    else if (isJson && !value) return store.say(`${file.name} is no scenario file: it is not JSON.`);
    else beside[file.name] = body;
  }
  const named = filesNamed(scenario?.[1] ?? store.scenario.value);
  const wanted = Object.entries(beside).filter(([name]) => named.includes(name));
  // First the files, so that the scenario is complete when it is checked.
  if (wanted.length > 0) await keepFiles(Object.fromEntries(wanted));
  if (scenario) open(scenario[1], `Opened ${scenario[0]}.`);
  const strangers = Object.keys(beside).filter((name) => !named.includes(name));
  if (strangers.length === 0) return;
  store.say(`The scenario names no file ${strangers.join(", ")}. A weather file is opened under Wind and air, a boundary under Field and lateral.`);
}

function parsed(body: string): Scenario | null {
  try {
    const value: unknown = JSON.parse(body);
    return value !== null && typeof value === "object" && !Array.isArray(value) ? (value as Scenario) : null;
  } catch {
    return null;
  }
}

/** Offers a file of the browser's downloads. */
export function offer(name: string, body: Blob): void {
  const address = URL.createObjectURL(body);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}

export function saveScenario(): void {
  const scenario = store.scenario.value;
  const name = text(scenario.title).toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "field";
  const body = `${JSON.stringify(scenario, null, 2)}\n`;
  offer(`${name.slice(0, 60)}.json`, new Blob([body], { type: "application/json" }));
  const named = filesNamed(scenario);
  if (named.length > 0) store.say(`Keep ${named.join(", ")} beside the saved file: the scenario names ${named.length === 1 ? "it" : "them"}.`);
}

export function changeUnits(system: System): void {
  const turned = allToSystem(store.scenario.value, system) as Scenario;
  store.scenario.value = { ...turned, units: system };
}

/** Files that the scenario names and that are not at hand. */
export function FilesWanted(): JSX.Element | null {
  const isKnown = (name: string): boolean =>
    store.files.value[name] !== undefined || store.knownFiles.value.includes(name);
  const wanted = filesNamed(store.scenario.value).filter((name) => !isKnown(name));
  if (wanted.length === 0) return null;
  const take = (name: string, file: File | undefined): void => {
    if (file) void file.text().then((body) => keepFiles({ [name]: body }));
  };
  return (
    <div class="problems">
      <h3>Files the scenario names</h3>
      {wanted.map((name, i) => (
        <p key={name}>
          <label for={`wanted-${i}`}>Open {name}</label>{" "}
          <input id={`wanted-${i}`} type="file" onChange={(e) => take(name, e.currentTarget.files?.[0])} />
        </p>
      ))}
    </div>
  );
}

export function FileBar(): JSX.Element {
  const input = useRef<HTMLInputElement>(null);
  const demo = (): void => {
    api.demo().then((s) => open(s, "The demo is laid out."), () => store.say("The program does not answer."));
  };
  return (
    <div class="filebar">
      <button type="button" onClick={demo}>
        Demo
      </button>
      <button type="button" onClick={() => open(fromNothing(), "A plain field to start from.")}>
        From nothing
      </button>
      <button type="button" onClick={() => input.current?.click()}>
        Open a file
      </button>
      <input
        ref={input}
        id="scenario-file"
        class="unseen"
        type="file"
        multiple
        aria-label="Scenario file, and files it names"
        tabIndex={-1}
        onChange={(e) => {
          const chosen = [...(e.currentTarget.files ?? [])];
          if (chosen.length > 0) void openFiles(chosen);
          e.currentTarget.value = "";
        }}
      />
      <button type="button" onClick={saveScenario}>
        Save
      </button>
      <fieldset class="units">
        <legend class="unseen">Units</legend>
        {(["us", "si"] as const).map((system) => (
          <label key={system} class="choice">
            <input
              type="radio"
              name="units"
              checked={store.system.value === system}
              onChange={() => changeUnits(system)}
            />
            {system === "us" ? "US units" : "SI units"}
          </label>
        ))}
      </fieldset>
    </div>
  );
}
