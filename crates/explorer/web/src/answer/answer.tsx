// The answer: in plain words first, then how sure it is, what it hangs on, and files to take away.

import type { JSX } from "preact";
import { alternatives, at, text } from "../model/scenario";
import { runWorth } from "../model/runs";
import * as store from "../model/store";
import { Exactness } from "../season/freshness";
import { NetBars, Tornado } from "./bars";
import { GROUPS, whenOpen } from "../setup/setup";
import { isEquipmentOpen, purchaseWords } from "../stops/equipment";
import { isStarting } from "../setup/starting";
import { PlanCheck } from "./plan";
import { Starter } from "./starter";
import { TakeAway } from "./takeaway";
import { Waiting } from "./waiting";

/** Paragraphs that stand open; the rest is for who wants to know more. */
const FIRST = 3;

export function Headline(): JSX.Element | null {
  const shown = store.season.value;
  if (!shown) return null;
  const season = shown.summary;
  const paragraphs = season.answer.filter((p) => p !== season.only_water || !store.worth.value);
  return (
    <div class={`headline${store.isCurrent.value ? "" : " stale"}`} data-of="season">
      {season.notices.length > 0 && (
        <div class="problem" role="note">
          {season.notices.map((words) => (
            <p key={words}>{words}</p>
          ))}
        </div>
      )}
      {paragraphs.slice(0, FIRST).map((p) => (
        <p key={p}>{p}</p>
      ))}
      <Exactness />
      <details class="more">
        <summary>How the water fell, and what one season cannot show</summary>
        {[...paragraphs.slice(FIRST), ...season.limits].map((p) => (
          <p key={p}>{p}</p>
        ))}
      </details>
    </div>
  );
}

function Ask(): JSX.Element {
  if (!store.check.value?.has_worth) {
    return (
      <p class="needs">
        To find out whether it pays, the program needs your crop, soil and climate. Tick “Calculate yield and money too” under{" "}
        <a href="#crop-group" onClick={openCrop}>Crop and soil</a>, then enter your prices.
      </p>
    );
  }
  return (
    <div class="ask">
      <Starter
        id="seasons"
        own={store.worthOwn}
        usual={text(at(store.scenario.value, ["worth", "seasons"]))}
        words={{ start: "Calculate whether it pays", again: "Run again" }}
        help="More seasons narrow the likely range and take longer. Leave it empty for the scenario’s own number."
        onStart={(seasons) => void runWorth(seasons)}
      />
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

const MARKS = { pays: "✓", does_not_pay: "✕", inconclusive: "?" } as const;

/** Whether the entries have changed since the run that is shown. */
function isOutdated(): boolean {
  const [shown, digest] = [store.worth.value, store.check.value?.digest];
  return shown !== null && digest !== undefined && shown.digest !== digest;
}

/** What counts as extra for an alternative: an answer on money hangs on it. */
function Extra({ name }: { name: string }): JSX.Element | null {
  const index = alternatives(store.scenario.value).findIndex((a) => text(a.name) === name);
  const found = alternatives(store.scenario.value)[index];
  // What is not said is asked for beside the verdict.
  if (!found || isEquipmentOpen(index)) return null;
  const equipment = (found.equipment ?? {}) as Record<string, unknown>;
  const count = (key: string, none: string, words: (n: string) => string): string => {
    const value = String(equipment[key] ?? "0");
    return Number.parseFloat(value) > 0 ? words(value) : none;
  };
  const parts = [
    count("joints", "no joints or hoses to buy", (n) => `${n} joints or hoses`),
    count("outlets", "no outlets", (n) => `${n} outlets`),
    ...purchaseWords(equipment),
    count("extra_labor_per_move", "no extra labor per move", (n) => `${n} extra per move`),
    count("extra_sets_per_pass", "no extra sets beyond its schedule", (n) => `${n} extra sets per pass`),
  ];
  return <p class="help">Extra cost counted: {parts.join(", ")}. Not right? Change it on the alternative’s card under “Equipment and labor”.</p>;
}

/** Groups of entries that hold what "From nothing" put there. */
function unseenGroups(): string[] {
  const untouched = GROUPS.filter(({ id }) => isStarting(id, store.scenario.value)).map(({ title }) => title);
  return untouched.length === 0 ? [] : [`You have not entered your own values under ${untouched.join("; ")}. The answer rests on starting values there.`];
}

/** What the setup warns of, said again where it is easily forgotten. */
function Notes(): JSX.Element | null {
  const warnings = store.check.value?.ok ? [...unseenGroups(), ...store.check.value.warnings] : [];
  if (warnings.length === 0) return null;
  return (
    <div class="notes" role="note">
      <h3>Before you act on it</h3>
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
  // While other entries are run, the answer to earlier ones would only mislead.
  if (!shown || (store.worthBusy.value && isOutdated())) return null;
  const { table, worth } = shown.summary;
  const rivals = worth.ranking.flatMap(({ alternative: name, index }) => {
    const against = worth.alternatives[index]?.against_baseline;
    return against ? [{ name, against, words: [against.verdict.sentence, ...(against.verdict.plan ? [against.verdict.plan] : []), ...against.verdict.settling].join(" ") }] : [];
  });
  const isInVerdict = (paragraph: string): boolean => rivals.some(({ words }) => words.includes(paragraph));
  const isOld = isOutdated();
  return (
    <div class={isOld ? "worth stale" : "worth"} data-run={shown.run}>
      {!isOld && <Notes />}
      <ul class="verdicts">
        {rivals.map(({ name, against: { verdict }, words }) => (
          <li key={name} data-verdict={verdict.answer}>
            <span class="verdict-mark" aria-hidden="true">{MARKS[verdict.answer]}</span>
            <div>
              <b>
                {name}: {verdict.answer.replaceAll("_", " ")}
              </b>
              <p>{words}</p>
              {!isOld && <Extra name={name} />}
            </div>
          </li>
        ))}
      </ul>
      {worth.answer.filter((p) => !isInVerdict(p)).map((p) => (
        <p class="worth-words" key={p}>{p}</p>
      ))}
      <details class="more">
        <summary>What this answer leaves out</summary>
        {worth.limits.map((p) => (
          <p class="worth-words" key={p}>{p}</p>
        ))}
      </details>
      <div class="table-scroll" tabIndex={0} role="region" aria-label="Averages over all seasons">
        <table class="worth-table">
          <thead>
            <tr>
              {table.head.map((h, i) => (
                <th scope="col" key={i}>{h || "Alternative"}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map((row) => (
              <tr key={row[0]}>
                {row.map((cell, i) => (i === 0 ? <th scope="row" key={i}>{cell}</th> : <td key={i}>{cell}</td>))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div class="tornados">
        {rivals.map(({ name, against }) => (
          <Tornado key={name} name={name} against={against} area={worth.area_word} />
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
      <PlanCheck />
      <Headline />
      <Ask />
      <Waiting own={store.worthOwn} label="Seasons run" />
      {store.worthProblem.value && <p class="problem" role="alert">{store.worthProblem.value}</p>}
      {isOutdated() && !store.worthBusy.value && <p class="problem">Your entries have changed since this was calculated. Run it again.</p>}
      {latest && <NetBars partial={latest} />}
      <Verdicts />
      <TakeAway />
    </div>
  );
}
