// Opening and saving scenarios: the same file the command line reads.

import type { JSX } from "preact";
import { useRef } from "preact/hooks";
import { api } from "../model/api";
import { fileName, pack, written } from "../model/packed";
import { filesNamed, fromNothing, type Scenario } from "../model/scenario";
import { isAtHand } from "../model/shelf";
import { leaveSystem, type System } from "../model/units";
import * as store from "../model/store";
import { open, openFiles } from "./open";

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
  offer(`${fileName(scenario)}.json`, new Blob([written(scenario)], { type: "application/json" }));
  const named = filesNamed(scenario);
  if (named.length === 0) return;
  const them = named.length === 1 ? "it" : "them";
  store.say(`Keep ${named.join(", ")} beside the saved file: the scenario names ${them}. “Save with its files” packs ${them} along.`);
}

/** The scenario and the files that it names, in one. */
export function savePacked(): void {
  const scenario = store.scenario.value;
  offer(`${fileName(scenario)}.zip`, new Blob([pack(scenario, store.files.value)], { type: "application/zip" }));
  const missing = filesNamed(scenario).filter((name) => !isAtHand(name));
  store.say(
    missing.length > 0
      ? `Packed without ${missing.join(", ")}: not at hand here.`
      : "Packed. Unpack it into a folder of its own for the commands; this page opens it as it is.",
  );
}

export function changeUnits(system: System): void {
  if (system === store.system.value) return;
  const turned = leaveSystem(store.scenario.value, system) as Scenario;
  store.scenario.value = { ...turned, units: system };
}

/** A common field, in the units that are shown. */
function startCommon(): void {
  void open(fromNothing(store.system.value), "A common field to start from. Enter your own values, group by group.");
}

export function FileBar(): JSX.Element {
  const input = useRef<HTMLInputElement>(null);
  const demo = (): void => {
    api.demo().then((s) => void open(s, "The demo is open."), () => store.say("The program does not answer."));
  };
  return (
    <div class="filebar">
      <button type="button" onClick={demo}>
        Demo
      </button>
      <button type="button" onClick={startCommon}>
        From nothing
      </button>
      <button type="button" onClick={() => input.current?.click()}>
        Open files
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
      {filesNamed(store.scenario.value).length > 0 && (
        <button type="button" onClick={savePacked}>
          Save with its files
        </button>
      )}
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
