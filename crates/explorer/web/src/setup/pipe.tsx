// Pressure along the lateral: the pipe, what is known of the water, and the ground under it.

import type { JSX } from "preact";
import { at, type Path, type Scenario } from "../model/scenario";
import { allToSystem } from "../model/units";
import * as store from "../model/store";
import { Entries, Entry } from "./entry";
import { HeightRows } from "./rows";
import { KeyChoice, type KeyOption } from "./key_choice";

/** A pipe to start from; its size is to be changed. */
export const FRESH: Scenario = { inside_diameter: "4.9 in", material: "aluminum" };

const inletOption = (label: string, key: string, value: string): KeyOption => ({
  label,
  key,
  fresh: { [key]: value },
  drops: ["pressure", "flow", "mean_sprinkler_pressure"].filter((other) => other !== key),
});

const INLET_OPTIONS: KeyOption[] = [
  inletOption("Pressure at the inlet", "pressure", "60 psi"),
  inletOption("Flow at the inlet", "flow", "165 gpm"),
  inletOption("Mean pressure of the nozzles", "mean_sprinkler_pressure", "50 psi"),
];

export function PipeEntries({ path }: { path: Path }): JSX.Element {
  const isThere = at(store.scenario.value, path) !== undefined;
  const toggle = (on: boolean): void =>
    store.edit(path, on ? (allToSystem(FRESH, store.system.value) as Scenario) : undefined);
  return (
    <details class="more" open={isThere}>
      <summary>Pressure along the pipe</summary>
      <div class="entries">
        <label class="choice">
          <input type="checkbox" checked={isThere} onChange={(e) => toggle(e.currentTarget.checked)} />
          Calculate pressure and discharge along the pipe
        </label>
        {isThere && (
          <>
            <Entries path={path} />
            <HeightRows path={[...path, "heights"]} />
            <KeyChoice path={[...path, "inlet"]} legend="What is known of the water" options={INLET_OPTIONS}>
              {(key) => <Entry path={[...path, "inlet", key]} />}
            </KeyChoice>
          </>
        )}
      </div>
    </details>
  );
}
