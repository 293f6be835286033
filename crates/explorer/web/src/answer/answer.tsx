// The answer: in plain words first, then how sure it is, what it hangs on, and files to take away.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { alternatives, at, text } from "../model/scenario";
import { cancel, reckonWorth } from "../model/runs";
import * as store from "../model/store";
import { Exactness } from "../season/freshness";
import { NetBars, Tornado } from "./bars";
import { GROUPS, whenOpen } from "../setup/setup";
import { isStarting } from "../setup/starting";
import { TakeAway } from "./takeaway";
import { Waiting } from "./waiting";

/** Paragraphs that stand open; the rest is for who wants to know more. */
const FIRST = 3;

export function Headline(): JSX.Element | null {
  const shown = store.season.value;
  if (!shown) return null;
  const season = shown.summary;
  const told = season.answer.filter((p) => p !== season.only_water || !store.worth.value);
  return (
    <div class={`headline${store.isCurrent.value ? "" : " stale"}`} data-of="season">
      {season.notices.length > 0 && (
        <div class="problem" role="note">
          {season.notices.map((words) => (
            <p key={words}>{words}</p>
          ))}
        </div>
      )}
      {told.slice(0, FIRST).map((p) => (
        <p key={p}>{p}</p>
      ))}
      <Exactness />
      <details class="more">
        <summary>More on how the water fell, and what one season does not say</summary>
        {[...told.slice(FIRST), ...season.limits].map((p) => (
          <p key={p}>{p}</p>
        ))}
      </details>
    </div>
  );
}

function Reckon(): JSX.Element {
  const busy = store.worthBusy.value;
  const [seasons, setSeasons] = useState("");
  const usual = text(at(store.scenario.value, ["worth", "seasons"]));
  const typed = seasons.trim() === "" ? undefined : Number(seasons);
  const isWrong = typed !== undefined && !(Number.isInteger(typed) && typed >= 2 && typed <= 10_000);
  const has = store.check.value?.has_worth ?? false;
  if (!has) {
    return (
      <p class="needs">
        Whether it pays needs the crop, the soil and the climate: tick “Reckon with crop and soil” under{" "}
        <a href="#crop-group" onClick={openCrop}>Crop and soil</a>, and put in your prices.
      </p>
    );
  }
  return (
    <div class="reckon">
      <label for="seasons">Seasons of weather</label>
      <input
        id="seasons"
        type="text"
        inputMode="numeric"
        value={seasons}
        placeholder={usual}
        aria-describedby="seasons-help"
        aria-invalid={isWrong}
        onInput={(e) => setSeasons(e.currentTarget.value)}
      />
      <button type="button" class="main" disabled={isWrong || !store.check.value?.ok} onClick={() => void reckonWorth(typed)}>
        {busy ? "Reckon anew" : "Reckon what it pays"}
      </button>
      {busy && (
        <button type="button" onClick={() => void cancel(store.worthOwn)}>
          Cancel
        </button>
      )}
      <p id="seasons-help" class={isWrong ? "wrongs" : "help"}>
        {isWrong ? "A whole number from 2 to 10000." : "More seasons make the answer surer and take longer; empty takes the scenario’s number."}
      </p>
    </div>
  );
}

function openCrop(event: Event): void {
  event.preventDefault();
  whenOpen("crop-group", (group) => {
    group.scrollIntoView();
    group.querySelector<HTMLElement>("input")?.focus();
  });
}

const MARKS: Record<string, string> = { pays: "✓", "does not pay": "✕", "inconclusive": "?" };

/** Whether the entries have changed since the reckoning that is shown. */
function isOutdated(): boolean {
  const [shown, digest] = [store.worth.value, store.check.value?.digest];
  return shown !== null && digest !== undefined && shown.digest !== digest;
}

/** What counts as extra for a way: an answer on money hangs on it. */
function Extra({ name }: { name: string }): JSX.Element | null {
  const way = alternatives(store.scenario.value).find((a) => text(a.name) === name);
  if (!way) return null;
  const equipment = (way.equipment ?? {}) as Record<string, unknown>;
  const told = (key: string, none: string, words: (n: string) => string): string => {
    const value = String(equipment[key] ?? "0");
    return Number.parseFloat(value) > 0 ? words(value) : none;
  };
  const parts = [
    told("joints", "no joint or hose to buy", (n) => `${n} joints or hoses`),
    told("outlets", "no outlet", (n) => `${n} outlets`),
    told("extra_labor_per_move", "no extra time for a move", (n) => `${n} more a move`),
    told("extra_sets_per_pass", "no extra set but those its schedule holds", (n) => `${n} extra sets a pass`),
  ];
  return <p class="help">Counted as extra for it: {parts.join(", ")}. Wrong? It stands on the way’s card under “To buy and to pay”.</p>;
}

/** Groups of entries that hold what "From nothing" put there. */
function unseenGroups(): string[] {
  const untouched = GROUPS.filter(({ id }) => isStarting(id, store.scenario.value)).map(({ title }) => title);
  return untouched.length === 0 ? [] : [`Nobody has put in his own yet under ${untouched.join("; ")}: the answer rests on starting values there.`];
}

/** What the set-up warns of, said again where it is easily forgotten. */
function Heed(): JSX.Element | null {
  const warnings = store.check.value?.ok ? [...unseenGroups(), ...store.check.value.warnings] : [];
  if (warnings.length === 0) return null;
  return (
    <div class="mind" role="note">
      <h3>To be told with it</h3>
      <ul>
        {warnings.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </div>
  );
}

function Verdicts(): JSX.Element | null {
  const shown = store.worth.value;
  // While other entries are reckoned, the answer to earlier ones would only mislead.
  if (!shown || (store.worthBusy.value && isOutdated())) return null;
  const { summary } = shown;
  const isTold = (paragraph: string): boolean => summary.verdicts.some((v) => v.words.includes(paragraph));
  const isOld = isOutdated();
  return (
    <div class={isOld ? "worth stale" : "worth"} data-run={shown.run}>
      {!isOld && <Heed />}
      <ul class="verdicts">
        {summary.verdicts.map((v) => (
          <li key={v.name} data-verdict={v.verdict}>
            <span class="verdict-mark" aria-hidden="true">{MARKS[v.verdict] ?? "·"}</span>
            <div>
              <b>
                {v.name}: {v.verdict}
              </b>
              <p>{v.words}</p>
              {!isOld && <Extra name={v.name} />}
            </div>
          </li>
        ))}
      </ul>
      {summary.answer.filter((p) => !isTold(p)).map((p) => (
        <p class="worth-words" key={p}>{p}</p>
      ))}
      <details class="more">
        <summary>What this answer leaves out</summary>
        {summary.limits.map((p) => (
          <p class="worth-words" key={p}>{p}</p>
        ))}
      </details>
      <div class="table-scroll" tabIndex={0} role="region" aria-label="Means of all seasons">
        <table class="worth-table">
          <thead>
            <tr>
              {summary.table.head.map((h, i) => (
                <th scope="col" key={i}>{h || "Way"}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {summary.table.rows.map((row) => (
              <tr key={row[0]}>
                {row.map((cell, i) => (i === 0 ? <th scope="row" key={i}>{cell}</th> : <td key={i}>{cell}</td>))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div class="tornados">
        {summary.sensitivity.map((item) => (
          <Tornado key={item.name} item={item} area={summary.area_word} />
        ))}
      </div>
    </div>
  );
}

export function Answer(): JSX.Element {
  const partials = store.worthPartials.value;
  const latest = partials[partials.length - 1];
  return (
    <div class="answer">
      <Headline />
      <Reckon />
      <Waiting own={store.worthOwn} label="Seasons reckoned" />
      {store.worthProblem.value && <p class="problem" role="alert">{store.worthProblem.value}</p>}
      {isOutdated() && !store.worthBusy.value && <p class="problem">The entries have changed since this was reckoned; reckon anew for an answer that fits them.</p>}
      {latest && <NetBars partial={latest} />}
      <Verdicts />
      <TakeAway />
    </div>
  );
}
