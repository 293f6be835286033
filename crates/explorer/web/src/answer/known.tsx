// How many of the numbers that matter are the user's own, and which are not, each a way to its entry.

import type { JSX } from "preact";
import type { Matter } from "../model/api";
import { at } from "../model/scenario";
import { isStarting, marksOf, pathOf, startingBelow } from "../model/starting";
import * as store from "../model/store";
import { change } from "../questions/state";
import { stepOf } from "../questions/steps";
import { goTo } from "../setup/setup";

/** Whether part of a section was answered, and part of it was not. */
function isPartly({ what }: Matter): boolean {
  const path = pathOf(what);
  if (isStarting(store.scenario.value, path)) return false;
  const value = at(store.scenario.value, path);
  return value !== null && typeof value === "object" && startingBelow(store.scenario.value, path).count > 0;
}

/** Leads to the entry itself. */
function lead({ what }: Matter): void {
  store.step.value = "field";
  goTo(what);
}

export function Known(): JSX.Element | null {
  const check = store.check.value;
  if (!check?.ok || !check.matters?.length) return null;
  const others = check.matters.filter(({ is_known }) => !is_known);
  const isAsked = marksOf(store.scenario.value).length > 0;
  return (
    <div class="known" role="note">
      <p>
        <b>{check.matters_words}</b>
        {others.length > 0 && " Not yet yours:"}
      </p>
      {others.length > 0 && (
        <ul>
          {others.map((one) => {
            const step = isAsked ? stepOf(one.what) : -1;
            return (
              <li key={one.what}>
                <button type="button" class="link" onClick={() => (step >= 0 && isStarting(store.scenario.value, pathOf(one.what)) ? change(step) : lead(one))}>
                  {one.label}
                </button>{" "}
                <span class="known-value">{isPartly(one) ? `${one.value}, partly yours` : one.value || one.whose}</span>
              </li>
            );
          })}
        </ul>
      )}
    </div>
  );
}
