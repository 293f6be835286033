// On which cells what is shown was computed, and what is under way: in the bar, and beside figures
// that would else look final.

import type { JSX } from "preact";
import { lengthText } from "../model/show";
import { timeLeft } from "../answer/waiting";
import * as store from "../model/store";

/** What the maps were computed on, and what is under way. */
export function Freshness(): JSX.Element {
  const busy = store.seasonBusy.value;
  const shown = store.season.value;
  const problem = store.seasonProblem.value;
  const left = busy ? timeLeft(busy) : "";
  const how = busy && busy.total > 0 ? ` (${Math.floor((100 * busy.done) / busy.total)} %${left && `, ${left}`})` : "";
  let words = "";
  if (problem) words = `${problem} ${shown ? "The maps show the last season drawn." : ""}`;
  else if (shown && shown.coarser > 1) words = `${shown.note.replace(/\.$/, "")}; the finer map follows.`;
  else if (shown && !busy) words = shown.note || "Drawn on the scenario's own cells.";
  else if (busy?.what === "waiting") words = "Waiting for other runs to finish.";
  else if (shown) words = `Drawn; newer figures are on the way${how}.`;
  else words = `The first season is being drawn${how}.`;
  return (
    <p class={`freshness${problem ? " problem" : ""}`} data-coarser={shown?.coarser ?? 0} data-busy={busy !== null} data-run={shown?.run ?? ""}>
      {words}
    </p>
  );
}

/** Whether figures are those of the scenario's own cells, to stand right beside them. */
export function Exactness(): JSX.Element | null {
  const shown = store.season.value;
  if (!shown) return null;
  const { coarser, summary } = shown;
  const cell = lengthText(summary.grid.own_cell_m, 2);
  return (
    <p class={`exactness${coarser > 1 ? " preview" : ""}`}>
      {coarser > 1 ? `Preview on cells of ${cell}: figures can be off by a few points until the scenario’s own cells follow.` : `On the scenario’s own cells of ${cell}.`}
    </p>
  );
}
