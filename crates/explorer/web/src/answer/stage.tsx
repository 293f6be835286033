// From how many seasons and which cells the answer on the page comes, and whether a better one is on its way.

import type { JSX } from "preact";
import type { WorthSummary } from "../model/api";
import { cancel } from "../model/runs";
import * as store from "../model/store";
import { timeLeft } from "./waiting";

export function Stage({ shown }: { shown: store.Shown<WorthSummary> }): JSX.Element {
  const { seasons_finished: seasons } = shown.summary.worth;
  const busy = store.worthBusy.value;
  const isFirst = shown.coarser > 1;
  const left = busy ? timeLeft(busy) : "";
  const how = busy && busy.total > 0 ? `${busy.done} of ${busy.total} seasons` : "starting";
  const refining = busy && isFirst ? ` Refining on the scenario’s own cells: ${how}${left && `, ${left}`}.` : "";
  const from = `${isFirst ? "First answer, from" : "From"} ${seasons} seasons of weather${isFirst ? " on coarse cells: it can still change" : ""}.`;
  return (
    <p class={`stage${isFirst ? " first" : ""}`}>
      {from}
      {refining}{" "}
      {busy && isFirst && (
        <button type="button" class="link small" onClick={() => void cancel(store.worthOwn)}>
          Stop refining
        </button>
      )}
      {isFirst && !busy && " Run again for the full number of seasons on the scenario’s own cells."}
    </p>
  );
}
