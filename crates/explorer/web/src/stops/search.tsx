// The program looks for stops: every rotation the wheels and hoses allow, the clearly worse ones
// dropped under the same winds, the rest in order; whichever is liked becomes a way of stopping.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Waiting } from "../answer/waiting";
import { alternatives, at, freeName, MOST_WAYS, text, type Scenario } from "../model/scenario";
import { cancel, seek } from "../model/runs";
import * as store from "../model/store";


const AIMS: [value: string, label: string, needsCrop: boolean][] = [
  ["dulq", "Even water: the driest quarter gets most (DUlq)", false],
  ["whole-dulq", "The same, edges of the field counted in", false],
  ["worst-tenth", "Yield of the field’s worst tenth", true],
  ["net", "What is left of the money", true],
];

function takeOver(candidate: Scenario): void {
  const list = alternatives(store.scenario.value);
  const name = freeName(text(candidate.name), store.names.value);
  store.edit(["alternatives", list.length], { ...candidate, name });
  store.alternative.value = list.length;
  store.stop.value = 0;
  store.say(`${name} is now one of the ways of stopping.`);
}

function Found(): JSX.Element | null {
  const shown = store.searchOwn.shown.value;
  if (!shown) return null;
  const { answer, tried, table, alternatives: candidates, fixed, left, foot } = shown.summary;
  const isFull = alternatives(store.scenario.value).length >= MOST_WAYS;
  return (
    <div class="found" data-run={shown.run}>
      {answer.map((p, i) => (
        <p class={i === 0 ? "lead" : ""} key={p}>{p}</p>
      ))}
      {isFull && <p class="help">There are {MOST_WAYS} ways already, as many as can be compared: remove one to take another over.</p>}
      <div class="table-scroll" tabIndex={0} role="region" aria-label="Rotations in order">
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
                    <button type="button" class="link" disabled={isFull} onClick={() => takeOver(candidates[k]!)}>
                      Take it over<span class="unseen"> {row[0]}</span>
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
        <summary>What was tried, and what not</summary>
        {tried.map((p) => (
          <p key={p}>{p}</p>
        ))}
      </details>
    </div>
  );
}

function Start(): JSX.Element {
  const hasCrop = store.check.value?.has_worth ?? false;
  const [aim, setAim] = useState("dulq");
  const [seasons, setSeasons] = useState("");
  const taken = AIMS.some(([value, , needsCrop]) => value === aim && needsCrop && !hasCrop) ? "dulq" : aim;
  const typed = seasons.trim() === "" ? undefined : Number(seasons);
  const isWrong = typed !== undefined && !(Number.isInteger(typed) && typed >= 2 && typed <= 10_000);
  const busy = store.searchOwn.busy.value;
  const usual = text(at(store.scenario.value, ["search", "seasons"])) || text(at(store.scenario.value, ["worth", "seasons"]));
  return (
    <div class="reckon">
      <label for="seek-aim">Look for</label>
      <select id="seek-aim" value={taken} onChange={(e) => setAim(e.currentTarget.value)}>
        {AIMS.map(([value, label, needsCrop]) => (
          <option key={value} value={value} disabled={needsCrop && !hasCrop}>
            {label}
            {needsCrop && !hasCrop ? " (needs crop and soil)" : ""}
          </option>
        ))}
      </select>
      <label for="seek-seasons">Seasons of weather</label>
      <input
        id="seek-seasons"
        type="text"
        inputMode="numeric"
        value={seasons}
        placeholder={usual || "50"}
        aria-describedby="seek-help"
        aria-invalid={isWrong}
        onInput={(e) => setSeasons(e.currentTarget.value)}
      />
      <button type="button" class="main" disabled={isWrong || !store.check.value?.ok} onClick={() => void seek(taken, typed)}>
        {busy ? "Look anew" : "Look"}
      </button>
      {busy && (
        <button type="button" onClick={() => void cancel(store.searchOwn)}>
          Cancel
        </button>
      )}
      <p id="seek-help" class={isWrong ? "wrongs" : "help"}>
        {isWrong
          ? "A whole number from 2 to 10000."
          : "Tries every rotation of up to three stops that wheels and hoses allow, with other starting hours and at the edges held or with a set more. Even water takes about a minute, yield and money several; fewer seasons are quicker and leave more ties."}
      </p>
    </div>
  );
}

export function Seek(): JSX.Element {
  const { busy, shown, problem } = store.searchOwn;
  const digest = store.check.value?.digest;
  const isOld = shown.value !== null && digest !== undefined && shown.value.digest !== digest;
  const isAtWork = busy.value !== null || shown.value !== null || problem.value !== "";
  return (
    <details class="group seek" open={isAtWork || undefined}>
      <summary>
        <h3>Let the program look for stops</h3>
        <span class="precis">Which rotations are worth considering at all, for this machine on this field.</span>
      </summary>
      <div class="seek-body">
        <Start />
        <Waiting own={store.searchOwn} label="Seasons of candidates" />
        {problem.value && <p class="problem" role="alert">{problem.value}</p>}
        {isOld && <p class="help">Found for the entries as they were when it looked; the ways themselves do not matter to it.</p>}
        <Found />
      </div>
    </details>
  );
}
