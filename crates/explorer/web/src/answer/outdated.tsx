// Says that an answer is to earlier entries, with the button that brings the newer one: beside the answer,
// and beside the field where corners are drawn.

import type { JSX } from "preact";
import { runWorth } from "../model/runs";
import * as store from "../model/store";

/** Whether the entries have changed since the run that is shown. */
export function isOutdated(): boolean {
  const [shown, digest] = [store.worth.value, store.check.value?.digest];
  return shown !== null && digest !== undefined && shown.digest !== digest;
}

export function Outdated(): JSX.Element | null {
  if (!isOutdated() || store.worthBusy.value) return null;
  return (
    <p class="problem outdated">
      Your entries have changed since this was calculated.{" "}
      <button type="button" disabled={!store.check.value?.ok} onClick={() => void runWorth(undefined)}>
        Calculate again
      </button>
    </p>
  );
}
