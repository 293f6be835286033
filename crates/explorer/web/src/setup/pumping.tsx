// Energy from lift, pressure and the price of a kilowatt-hour, in place of a price by water pumped. The
// program works out what a cubic meter takes, for each alternative by its own pressure.

import type { JSX } from "preact";
import { at, pointer } from "../model/scenario";
import * as store from "../model/store";
import { Entries } from "./entry";
import { PriceEntry } from "./price";

const PATH = ["worth", "pumping"];

/** What the program found that a cubic meter takes. */
function found(): string {
  const told = store.check.value?.assumptions.find((one) => one.what === pointer(PATH));
  return told ? `It takes ${told.value}: ${told.why}.` : "";
}

export function Pumping(): JSX.Element {
  const isThere = at(store.scenario.value, PATH) !== undefined;
  return (
    <details class="more" open={isThere || undefined}>
      <summary>Energy from lift, pressure and the price of a kilowatt-hour</summary>
      <div class="entries">
        <p class="help">In place of the price of energy by water pumped: leave that empty. {found()}</p>
        <Entries path={PATH} except={["energy_price"]} />
        <PriceEntry path={[...PATH, "energy_price"]} />
        {isThere && (
          <button type="button" class="quiet" onClick={() => store.edit(PATH, undefined)}>
            Price energy by water pumped instead
          </button>
        )}
      </div>
    </details>
  );
}
