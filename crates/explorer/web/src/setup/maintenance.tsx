// Entries on the machine beyond its wheels: for the move sheet and the maintenance list.

import type { JSX } from "preact";
import { at } from "../model/scenario";
import * as store from "../model/store";
import { ChoiceEntry, QuantityEntry } from "./entry";
import { problemsOf, problemsOfRows, Wrongs } from "./wrongs";

const MOVES = ["maintenance", "timed_moves"] as const;
const OIL = ["maintenance", "oil"] as const;

function TimedMoves(): JSX.Element {
  const list = at(store.scenario.value, MOVES);
  const count = Array.isArray(list) ? list.length : 0;
  const fresh = (): { temperature: string; time: string } =>
    store.system.value === "us" ? { temperature: count ? "40 F" : "75 F", time: "30 min" } : { temperature: count ? "5 C" : "24 C", time: "30 min" };
  // Without any move the list is left out.
  const remove = (i: number): void => store.edit(count === 1 ? MOVES : [...MOVES, i], undefined);
  return (
    <fieldset class="rows">
      <legend>Moves that were timed</legend>
      <p class="help">Two or more at different temperatures tell from which cold on a move takes longer than the gap between sets.</p>
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

export function MaintenanceEntries(): JSX.Element {
  const hasOil = at(store.scenario.value, OIL) !== undefined;
  return (
    <>
      <p class="help">For the move sheet: crop under the pipe, and slow moves in the cold. Nothing here changes the water.</p>
      <QuantityEntry path={["maintenance", "pipe_diameter"]} label="Outside diameter of the pipe" isOptional />
      <QuantityEntry path={["maintenance", "axle_height"]} label="Axle above the ground" isOptional />
      <QuantityEntry path={["maintenance", "crop_height"]} label="Greatest height of the crop" isOptional />
      <label class="choice">
        <input
          type="checkbox"
          checked={hasOil}
          onChange={(e) => store.edit(OIL, e.currentTarget.checked ? { grade: "ISO VG 46" } : undefined)}
        />
        It has a hydraulic drive
      </label>
      <Wrongs problems={problemsOf(OIL)} />
      {hasOil && (
        <>
          <ChoiceEntry path={[...OIL, "grade"]} label="Oil" />
          <QuantityEntry path={[...OIL, "viscosity_at_40_c"]} label="Viscosity at 40 °C" isOptional />
          <QuantityEntry path={[...OIL, "viscosity_at_100_c"]} label="Viscosity at 100 °C" isOptional />
        </>
      )}
      {(hasOil || at(store.scenario.value, MOVES) !== undefined) && <TimedMoves />}
    </>
  );
}
