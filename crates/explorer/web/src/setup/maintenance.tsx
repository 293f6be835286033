// Entries on the machine beyond its wheels: for the move sheet and the maintenance list.

import type { JSX } from "preact";
import { at } from "../model/scenario";
import * as store from "../model/store";
import { Entries, QuantityEntry } from "./entry";
import { idOf, problemsOf, problemsOfRows, Wrongs } from "./wrongs";

const MOVES = ["maintenance", "timed_moves"] as const;
const OIL = ["maintenance", "oil"];
const CONTACT = ["sheet", "contact"] as const;

function TimedMoves(): JSX.Element {
  const list = at(store.scenario.value, MOVES);
  const count = Array.isArray(list) ? list.length : 0;
  const fresh = (): { temperature: string; time: string } =>
    store.system.value === "us" ? { temperature: count ? "40 F" : "75 F", time: "30 min" } : { temperature: count ? "5 C" : "24 C", time: "30 min" };
  // Without any move the list is left out.
  const remove = (i: number): void => store.edit(count === 1 ? MOVES : [...MOVES, i], undefined);
  return (
    <fieldset class="rows">
      <legend>Timed moves</legend>
      <p class="help">Time two or more moves at different temperatures: the sheet then says below which temperature a move takes longer than the move time.</p>
      {Array.from({ length: count }, (_, i) => (
        <div class="row" key={i}>
          <QuantityEntry path={[...MOVES, i, "temperature"]} label={`Air ${i + 1}`} isBare />
          <QuantityEntry path={[...MOVES, i, "time"]} label={`Time ${i + 1}`} isBare />
          <button type="button" class="small" aria-label={`Remove move ${i + 1}`} onClick={() => remove(i)}>
            ×
          </button>
        </div>
      ))}
      <Wrongs problems={problemsOfRows(MOVES)} />
      <button type="button" onClick={() => store.edit([...MOVES, count], fresh())}>
        Add a move
      </button>
    </fieldset>
  );
}

/** Whom to call: a line each, all in one field. */
function Contacts(): JSX.Element {
  const list = at(store.scenario.value, CONTACT);
  const lines = Array.isArray(list) ? list.map(String) : [];
  const id = idOf([...CONTACT, 0]);
  const take = (typed: string): void => {
    const given = typed.split("\n").map((line) => line.trim()).filter(Boolean);
    store.edit(CONTACT, given.length ? given : undefined);
  };
  return (
    <fieldset class="rows">
      <legend>Whom to call</legend>
      <textarea id={id} rows={3} aria-label="Whom to call, a line each" aria-describedby={`${id}-help`} value={lines.join("\n")} onChange={(e) => take(e.currentTarget.value)} />
      <p class="help" id={`${id}-help`}>
        A line each, on every page of the move sheet. Left empty, the sheet has room to write it by hand.
      </p>
      <Wrongs problems={problemsOfRows(CONTACT)} />
    </fieldset>
  );
}

export function MaintenanceEntries(): JSX.Element {
  const hasOil = at(store.scenario.value, OIL) !== undefined;
  return (
    <>
      <p class="help">For the move sheet: crop under the pipe, and slow moves in the cold. Nothing here changes the water.</p>
      <Entries path={["maintenance"]} />
      <label class="choice">
        <input
          type="checkbox"
          checked={hasOil}
          onChange={(e) => store.edit(OIL, e.currentTarget.checked ? { grade: "ISO VG 46" } : undefined)}
        />
        It has a hydraulic drive
      </label>
      <Wrongs problems={problemsOf(OIL)} />
      {hasOil && <Entries path={OIL} />}
      {(hasOil || at(store.scenario.value, MOVES) !== undefined) && <TimedMoves />}
      <Entries path={["sheet"]} except={["contact"]} />
      <Contacts />
    </>
  );
}
