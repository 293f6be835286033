// What can be taken away: the report, figures, the scenario, and the irrigator's sheet of each alternative.

import type { JSX } from "preact";
import { fileName } from "../model/packed";
import * as store from "../model/store";
import { saveScenario } from "../setup/file";
import { Sheets } from "./sheets";

/** The run whose scenario stands on the page, on its own cells: the run of many seasons if there is one. */
function currentRun(): string | undefined {
  const digest = store.check.value?.digest;
  const fits = [store.worth.value, store.season.value].find((s) => s && s.digest === digest && s.coarser === 1);
  return fits?.run;
}

export function TakeAway(): JSX.Element {
  const run = currentRun();
  const name = fileName(store.scenario.value);
  return (
    <div class="downloads">
      <h3 id="take-away" tabIndex={-1}>Take it with you</h3>
      {run ? (
        <ul>
          {store.worth.value?.run === run && (
            <>
              <li><a href={`api/runs/${run}/grower.html`} download={`${name}-grower.html`}>One page for the grower</a></li>
              <li><a href={`api/runs/${run}/client.html`} download={`${name}-client.html`}>Two pages for the client and the cost-share office</a></li>
            </>
          )}
          <li><a href={`api/runs/${run}/report.html`} download={`${name}-report.html`}>The full report</a></li>
          <li><a href={`api/runs/${run}/figures.zip`} download={`${name}-report.zip`}>Report, figures and tables (ZIP)</a></li>
          <li><button type="button" class="link" onClick={saveScenario}>The scenario</button></li>
        </ul>
      ) : (
        <p class="help">Report and figures are ready once the season is drawn on its own cells.</p>
      )}
      <Sheets run={run} />
    </div>
  );
}
