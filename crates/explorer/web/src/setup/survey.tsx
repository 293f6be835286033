// The sprinklers as they are: a survey read from a table, and nozzles that hold their discharge.

import type { JSX } from "preact";
import { at, type Path, type Scenario } from "../model/scenario";
import { allToSystem } from "../model/units";
import * as store from "../model/store";
import { Entry } from "./entry";
import { FileEntry } from "./named_file";
import { problemsOf, Wrongs } from "./wrongs";

/** What was read along the line. */
export function SurveyEntries({ path }: { path: Path }): JSX.Element {
  const isThere = at(store.scenario.value, path) !== undefined;
  return (
    <details class="more" open={isThere}>
      <summary>Survey of the sprinklers</summary>
      <div class="entries">
        <FileEntry
          path={path}
          label="Survey file"
          help="A CSV table with columns such as sprinkler, pressure_psi, bore_64ths, flow_gpm and note (plugged, leaning). What it says of a sprinkler goes before wear, variation and odd sprinklers."
        />
        {isThere && (
          <>
            <Entry path={[...path, "nominal_bore"]} />
            <Entry path={[...path, "gauge_error"]} />
            <Wrongs problems={problemsOf(path)} />
            <button type="button" onClick={() => store.edit(path, undefined)}>
              Remove the survey
            </button>
          </>
        )}
      </div>
    </details>
  );
}

/** A range of pressure around a common stated one. */
const FRESH: Scenario = { from: "40 psi", to: "80 psi" };

/** Nozzles that hold their discharge. */
export function FlowControlEntries({ path }: { path: Path }): JSX.Element {
  const isThere = at(store.scenario.value, path) !== undefined;
  const toggle = (on: boolean): void =>
    store.edit(path, on ? (allToSystem(FRESH, store.system.value) as Scenario) : undefined);
  return (
    <>
      <label class="choice">
        <input type="checkbox" checked={isThere} onChange={(e) => toggle(e.currentTarget.checked)} />
        Flow-control nozzles
      </label>
      {isThere && (
        <>
          <Entry path={[...path, "from"]} />
          <Entry path={[...path, "to"]} />
          <Wrongs problems={problemsOf(path)} />
        </>
      )}
    </>
  );
}
