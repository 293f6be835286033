// The rotation search: every rotation the wheels and hoses allow, the clearly worse ones dropped
// under the same winds, the rest in order; any of them can be added as an alternative.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { RunWish } from "../model/api";
import { Starter } from "../answer/starter";
import { Waiting } from "../answer/waiting";
import { alternatives, at, freeName, MOST_ALTERNATIVES, text, type Scenario } from "../model/scenario";
import { searchRotations } from "../model/runs";
import { rowAt } from "../model/schema";
import * as store from "../model/store";

type Aim = NonNullable<RunWish["aim"]>;

const AIMS: [value: Aim, label: string, needsCrop: boolean][] = [
  ["dulq", "Most uniform water (DUlq, interior of the field)", false],
  ["whole-dulq", "Most uniform water, edges of the field included", false],
  ["worst-tenth", "Best yield on the worst tenth of the field", true],
  ["net", "Highest net return", true],
];

function add(candidate: Scenario): void {
  const list = alternatives(store.scenario.value);
  const name = freeName(text(candidate.name), store.names.value);
  store.edit(["alternatives", list.length], { ...candidate, name });
  store.alternative.value = list.length;
  store.stop.value = 0;
  store.say(`${name} added to the alternatives.`);
}

function Found(): JSX.Element | null {
  const shown = store.searchOwn.shown.value;
  if (!shown) return null;
  const { answer, tried, table, wheels, alternatives: candidates, fixed, left, foot } = shown.summary;
  const isFull = alternatives(store.scenario.value).length >= MOST_ALTERNATIVES;
  return (
    <div class="found" data-run={shown.run}>
      {answer.map((p, i) => (
        <p class={i === 0 ? "lead" : ""} key={p}>{p}</p>
      ))}
      {wheels && (
        <div class="table-scroll" tabIndex={0} role="region" aria-label="Wheels and outlet spacings, each with its best rotation">
          <table class="worth-table">
            <thead>
              <tr>
                {wheels.head.map((h, i) => (
                  <th scope="col" key={i}>{h || "Wheel"}</th>
                ))}
              </tr>
            </thead>
            <tbody>
              {wheels.rows.map((row, k) => (
                <tr key={k}>
                  <th scope="row">{row[0]}</th>
                  {row.slice(1).map((cell, i) => (
                    <td key={i}>{cell}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {isFull && <p class="help">You already have {MOST_ALTERNATIVES} alternatives, as many as can be compared. Remove one to add another.</p>}
      <div class="table-scroll" tabIndex={0} role="region" aria-label="Rotations, best first">
        <table class="worth-table">
          <thead>
            <tr>
              {table.head.map((h, i) => (
                <th scope="col" key={i}>{h || "Stops, pass by pass"}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map((row, k) => (
              <tr key={k}>
                <th scope="row">
                  {row[0]}
                  {k !== fixed && (
                    <button type="button" class="link" disabled={isFull} onClick={() => add(candidates[k]!)}>
                      Add it<span class="unseen"> {row[0]}</span>
                    </button>
                  )}
                </th>
                {row.slice(1).map((cell, i) => (
                  <td key={i}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="help">
        {left > 0 && `${left} more were tried. `}
        {foot}
      </p>
      <details class="more">
        <summary>What was tried and what was not</summary>
        {tried.map((p) => (
          <p key={p}>{p}</p>
        ))}
      </details>
    </div>
  );
}

function Start(): JSX.Element {
  const hasCrop = store.check.value?.has_worth ?? false;
  const [aim, setAim] = useState<Aim>("dulq");
  const taken = AIMS.some(([value, , needsCrop]) => value === aim && needsCrop && !hasCrop) ? "dulq" : aim;
  const [wheelSizes, setWheelSizes] = useState(false);
  const isRolled = at(store.scenario.value, ["lateral", "machine"]) !== "hand move";
  const { choices } = rowAt(store.schema.value, ["wheel", "size"]);
  const usual = text(at(store.scenario.value, ["search", "seasons"])) || text(at(store.scenario.value, ["worth", "seasons"]));
  return (
    <div class="ask">
      <label for="search-aim">Search for</label>
      <select id="search-aim" value={taken} onChange={(e) => setAim(e.currentTarget.value as Aim)}>
        {AIMS.map(([value, label, needsCrop]) => (
          <option key={value} value={value} disabled={needsCrop && !hasCrop}>
            {label}
            {needsCrop && !hasCrop ? " (needs crop and soil)" : ""}
          </option>
        ))}
      </select>
      {isRolled && (
        <label class="choice">
          <input type="checkbox" checked={wheelSizes} onChange={(e) => setWheelSizes(e.currentTarget.checked)} />
          Compare the trade’s wheels on this field: {choices.join(", ")}
        </label>
      )}
      <Starter
        id="search-seasons"
        own={store.searchOwn}
        usual={usual || "50"}
        words={{ start: "Search", again: "Search again" }}
        help="Tries every rotation of up to three stops that wheels and hoses allow, with other starting hours, and with edge sets held or an extra set added. Uniformity takes about a minute; yield and money take several. Fewer seasons run faster and leave more ties."
        onStart={(seasons) => void searchRotations(taken, seasons, isRolled && wheelSizes)}
      />
    </div>
  );
}

export function Search(): JSX.Element {
  const { busy, shown, problem, soFar } = store.searchOwn;
  const digest = store.check.value?.digest;
  const isOld = shown.value !== null && digest !== undefined && shown.value.digest !== digest;
  const isAtWork = busy.value !== null || shown.value !== null || problem.value !== "";
  return (
    <details class="group search" open={isAtWork || undefined}>
      <summary>
        <h3>Rotation search</h3>
        <span class="precis">Find the rotations worth considering for this machine on this field.</span>
      </summary>
      <div class="search-body">
        <Start />
        <Waiting own={store.searchOwn} label="Candidate seasons" />
        {busy.value && soFar.value && <p class="help so-far" role="status">{soFar.value}</p>}
        {problem.value && <p class="problem" role="alert">{problem.value}</p>}
        {isOld && <p class="help">Your entries have changed since this search ran. (The alternatives themselves do not affect it.)</p>}
        <Found />
      </div>
    </details>
  );
}
