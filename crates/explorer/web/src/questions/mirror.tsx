// Before the verdict: what the entries come to, so that whoever knows the field can say whether that is
// it. A verdict on a field that is not like this would mean nothing.

import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Waiting } from "../answer/waiting";
import { fixed } from "../model/show";
import { FIRST, runFirstAnswer } from "../model/runs";
import * as store from "../model/store";
import { Elsewhere } from "./elsewhere";
import { change } from "./state";
import { STEPS, stepOf } from "./steps";

/** Which question a fault of the plan leads to. */
const LEADS: Record<string, string> = {
  set_depth: "sets",
  set_against_use: "sets",
  interval: "sets",
  capacity: "sets",
  application_rate: "nozzle",
  outlet_spacing: "spacing",
  sprinkler_spacing: "spacing",
  pressure: "nozzle",
  season_start: "crop",
  season_end: "crop",
};

function Sentence(): JSX.Element | null {
  const worth = store.worth.value?.summary.worth;
  const base = worth?.alternatives[0];
  if (!worth || !base) return null;
  const isUs = store.system.value === "us";
  const share = worth.plan?.reached.number ?? base.yield_share.mean.number ?? 0;
  const mean = base.yield_text?.split(" ")[0];
  const below = base.percolation.mean.number ?? 0;
  return (
    <p class="mirror-words">
      On these entries you make{" "}
      {mean ? (
        <>
          about <b>{fixed(Number(mean), 1)}{"\u00a0"}{isUs ? "ton/ac" : "t/ha"}</b>, {fixed(share, 0)} % of what the crop yields with no lack of water;
        </>
      ) : (
        <>
          <b>{fixed(share, 0)} %</b> of what the crop yields with no lack of water;
        </>
      )}{" "}
      you lose <b>{fixed(below, isUs ? 1 : 0)}{"\u00a0"}{isUs ? "in" : "mm"}</b> of water a season below the root zone; and over the season the driest quarter of the field gets{" "}
      <b>{fixed(base.du_lq.mean.number ?? 0, 0)}{"\u00a0"}%</b> of the average.
    </p>
  );
}

/** The plan's first fault, and what to change about it. */
function Reason(): JSX.Element | null {
  const plan = store.season.value?.summary.plan;
  const fault = plan?.alternatives[0]?.rows.find(({ status }) => status === "fault");
  if (!plan) return null;
  if (!fault) return <p class="help">The plan check finds no fault. If this is not like your field, look at crop, soil and hours a set first.</p>;
  // Where water is short day and night, no other hours help.
  const lead = fault.key === "capacity" && /day and night/.test(fault.change) ? "nozzle" : LEADS[fault.key];
  const step = STEPS.findIndex(({ id }) => id === lead);
  return (
    <div class="mirror-reason">
      <h3>The likely reason, if that looks wrong</h3>
      <p>{fault.sentence}</p>
      {fault.change && <p>{fault.change}</p>}
      {step >= 0 && (
        <button type="button" class="link" onClick={() => change(step)}>
          Look at question {step + 1}: {STEPS[step]!.title}
        </button>
      )}
    </div>
  );
}

function Problems(): JSX.Element | null {
  const problems = store.check.value?.problems ?? [];
  if (problems.length === 0) return null;
  return (
    <div class="problems" role="alert">
      <h3>{problems.length === 1 ? "One answer needs correcting" : `${problems.length} answers need correcting`}</h3>
      <ul>
        {problems.map((p) => {
          const step = stepOf(p.pointer);
          return (
            <li key={p.pointer + p.problem}>
              {[p.problem, p.hint].filter(Boolean).join(". ")}{" "}
              {step >= 0 && (
                <button type="button" class="link" onClick={() => change(step)}>
                  Question {step + 1}
                </button>
              )}
            </li>
          );
        })}
      </ul>
    </div>
  );
}

export function Mirror(): JSX.Element {
  const shown = store.worth.value;
  const isThere = shown !== null;
  const problem = store.worthProblem.value;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    heading.current?.focus({ preventScroll: true });
    // After a reload whose run is gone, it is run again.
    const timer = window.setTimeout(() => {
      const isIdle = store.worth.value === null && store.worthBusy.value === null && !store.worthOwn.isFirst.value;
      if (isIdle && store.worthProblem.value === "") void runFirstAnswer();
    }, 1500);
    return () => window.clearTimeout(timer);
  }, []);
  return (
    <main class="mirror" id="mirror" data-seasons={shown?.summary.worth.seasons_finished} data-coarser={shown?.coarser}>
      <h2 ref={heading} tabIndex={-1}>Is this your field?</h2>
      <Problems />
      {!isThere && problem && (
        <p class="problem" role="alert">
          {problem}{" "}
          <button type="button" onClick={() => void runFirstAnswer()}>
            Run again
          </button>
        </p>
      )}
      {!isThere && !problem && store.check.value?.ok !== false && (
        <p class="help">Running {FIRST.seasons} seasons of weather over your field on coarse cells: a few seconds.</p>
      )}
      {!isThere && <Waiting own={store.worthOwn} label="First answer: seasons run" />}
      <div aria-live="polite">
        <Sentence />
      </div>
      {isThere && (
        <>
          <p class="mirror-ask">
            <b>Like your field?</b>
          </p>
          <div class="question-buttons">
            <button
              type="button"
              class="main"
              onClick={() => {
                store.step.value = "answer";
                requestAnimationFrame(() => document.getElementById("answer-title")?.focus());
              }}
            >
              Yes, show the answer
            </button>
            <button type="button" onClick={() => change(0)}>
              No, let me change my answers
            </button>
          </div>
          <Reason />
        </>
      )}
      <Elsewhere />
    </main>
  );
}
