// The answer first: verdict, what it comes to, the next step; then how much of it is the user's own,
// yardsticks, what it hangs on, and files to take away. What explains it is one click away.

import type { JSX } from "preact";
import { at, text } from "../model/scenario";
import { withoutKeys } from "../model/show";
import { runWorth } from "../model/runs";
import * as store from "../model/store";
import { Exactness } from "../season/freshness";
import { whenOpen } from "../setup/setup";
import { Averages } from "./averages";
import { NetBars, Tornado } from "./bars";
import { Known } from "./known";
import { isOutdated, Outdated } from "./outdated";
import { PlanCheck } from "./plan";
import { Stage } from "./stage";
import { Starter } from "./starter";
import { TakeAway } from "./takeaway";
import { rivalsOf, Verdicts } from "./verdicts";
import { Waiting } from "./waiting";
import { Yardsticks } from "./yardsticks";

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

/** What the setup warns of, said again where it is easily forgotten. */
function Notes(): JSX.Element | null {
  const warnings = store.check.value?.ok ? store.check.value.warnings : [];
  if (warnings.length === 0) return null;
  return (
    <details class="more notes">
      <summary>Before you act on it: {warnings.length === 1 ? "one note" : `${warnings.length} notes`}</summary>
      <ul>
        {warnings.map((words) => (
          <li key={words}>{withoutKeys(words)}</li>
        ))}
      </ul>
    </details>
  );
}

/** The verdict and all that stands below it. */
function Found(): JSX.Element | null {
  const shown = store.worth.value;
  // While other entries are run, the answer to earlier ones would only mislead.
  if (!shown || (store.worthBusy.value && isOutdated())) return null;
  const { table, worth } = shown.summary;
  const rivals = rivalsOf(worth);
  const [best] = rivals;
  const isOld = isOutdated();
  const partials = store.worthPartials.value;
  const latest = partials[partials.length - 1];
  return (
    <div class={isOld ? "worth stale" : "worth"} data-run={shown.run} data-seasons={worth.seasons_finished} data-coarser={shown.coarser}>
      <Stage shown={shown} />
      <Verdicts worth={worth} isOld={isOld} />
      {!isOld && <Known />}
      {!isOld && <Notes />}
      {best && <Yardsticks worth={worth} best={best} />}
      <details class="more">
        <summary>How it comes about, how sure it is, and what it leaves out</summary>
        {[...worth.answer, ...worth.limits].map((p) => (
          <p class="worth-words" key={p}>{p}</p>
        ))}
      </details>
      {latest && <NetBars partial={latest} />}
      {best && <Tornado name={best.name} against={best.against} area={worth.area_word} />}
      {rivals.length > 1 && (
        <details class="more">
          <summary>What the answer on the other alternatives hangs on</summary>
          <div class="tornados">
            {rivals.slice(1).map(({ name, against }) => (
              <Tornado key={name} name={name} against={against} area={worth.area_word} />
            ))}
          </div>
        </details>
      )}
      <Averages table={table} />
    </div>
  );
}

export function Answer(): JSX.Element {
  const partials = store.worthPartials.value;
  const latest = partials[partials.length - 1];
  const isThere = store.worth.value !== null;
  return (
    <div class="answer">
      <Outdated />
      {store.worthProblem.value && <p class="problem" role="alert">{store.worthProblem.value}</p>}
      {!isThere && <Headline />}
      <Found />
      <Ask />
      <Waiting own={store.worthOwn} label="Seasons run" />
      {!isThere && latest && <NetBars partial={latest} />}
      <PlanCheck />
      {isThere && <Headline />}
      <TakeAway />
    </div>
  );
}
