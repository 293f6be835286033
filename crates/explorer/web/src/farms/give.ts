// A file for somebody else: one page with the report, the scenario and its files.

import { ask, post } from "../model/api";
import { wordsOf } from "../model/farms";
import { fileName } from "../model/packed";
import * as store from "../model/store";

/** The run whose report goes along: of just this scenario, on its own cells. */
function runOf(): string | undefined {
  const digest = store.check.value?.digest;
  const { worth, season } = { worth: store.worth.value, season: store.season.value };
  if (!digest) return undefined;
  if (worth?.digest === digest && worth.coarser === 1) return worth.run;
  return season?.digest === digest && season.coarser === 1 ? season.run : undefined;
}

/** Makes it and hands it to `offer`. */
export async function give(offer: (name: string, body: Blob) => void): Promise<void> {
  const run = runOf();
  const about = store.asked();
  try {
    const answer = await ask("api/given", post({ ...about, ...(run ? { run } : {}) }));
    offer(`${fileName(about.scenario)}.html`, await answer.blob());
    store.say(
      run
        ? "One page with the report, the scenario and its files. It opens in any browser; “Open files” here opens it again."
        : "One page with the scenario and its files, without results: none are calculated for it at this moment.",
    );
  } catch (error) {
    store.say(wordsOf(error).replace(" Nothing was kept.", ""));
  }
}
