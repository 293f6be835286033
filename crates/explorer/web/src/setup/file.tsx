// Opening and saving scenarios: the same file the command line reads. What is kept by the program is in
// the folder farms.

import type { JSX } from "preact";
import { useRef, useState } from "preact/hooks";
import { api } from "../model/api";
import { fileName, pack, written } from "../model/packed";
import { filesNamed, fromNothing, type Scenario } from "../model/scenario";
import { isAtHand } from "../model/shelf";
import { leaveSystem, type System } from "../model/units";
import * as store from "../model/store";
import { FarmBar } from "../farms/bar";
import { give } from "../farms/give";
import { FarmSheet } from "../farms/sheet";
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

/** One file with everything needed: the scenario, or a pack of it and the files that it names. */
export function saveScenario(): void {
  const scenario = store.scenario.value;
  const named = filesNamed(scenario);
  if (named.length === 0) {
    offer(`${fileName(scenario)}.json`, new Blob([written(scenario)], { type: "application/json" }));
    return;
  }
  offer(`${fileName(scenario)}.zip`, new Blob([pack(scenario, store.files.value)], { type: "application/zip" }));
  const missing = named.filter((name) => !isAtHand(name));
  store.say(
    missing.length > 0
      ? `Saved without ${missing.join(", ")}: not at hand here.`
      : "Saved with its files, packed in one. Unpack it into a folder of its own for the commands; this page opens it as it is.",
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
  // On a phone what is seldom needed would push the answer off the screen.
  const [isOpen, setOpen] = useState(false);
  const demo = (): void => {
    api.demo().then((s) => void open(s, "The demo is open."), () => store.say("The program does not answer."));
  };
  return (
    <div class="filebar">
      <FarmBar />
      <FarmSheet />
      <button type="button" class="file-toggle" aria-expanded={isOpen} aria-controls="file-more" onClick={() => setOpen(!isOpen)}>
        Files and units
      </button>
      <div id="file-more" class={isOpen ? "file-more open" : "file-more"}>
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
          aria-label="Scenario file and files it names, or a page that somebody gave you"
          tabIndex={-1}
          onChange={(e) => {
            const chosen = [...(e.currentTarget.files ?? [])];
            if (chosen.length > 0) void openFiles(chosen);
            e.currentTarget.value = "";
          }}
        />
        <button type="button" title="A file for your downloads, with the files that the scenario names" onClick={saveScenario}>
          Save
        </button>
        <button type="button" title="One file to read without Evenfall: report, scenario and files" onClick={() => void give(offer)}>
          For somebody else
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
    </div>
  );
}
