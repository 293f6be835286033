// The first thing a first visitor sees: ten questions, one at a time or all on one screen, with the
// field beside them as it grows.

import type { JSX } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import { whenChecked } from "../model/follow";
import * as store from "../model/store";
import { Elsewhere } from "./elsewhere";
import * as machine from "./ask_machine";
import * as season from "./ask_season";
import { Growing } from "./growing";
import { changeUnits, finish, goTo, isAll, isOpen, passed, problemsUnder, question, setApart, setSize, showAll } from "./state";
import { ALL_STEPS, STEPS, type Step } from "./steps";
import { answer, PATHS, startOf, write, writeCrop, writePrice, writeSets } from "./write";

const FORMS: Record<string, () => JSX.Element> = {
  size: machine.Size,
  pipe: machine.Pipe,
  machine: machine.Machine,
  spacing: machine.Spacing,
  nozzle: machine.Nozzle,
  crop: season.Crop,
  soil: season.Soil,
  sets: season.Sets,
  wind: season.Wind,
  money: season.Money,
};

/** Leaves a question as nobody has answered it. */
function leaveOpen({ id, paths }: Step): void {
  write(paths.filter((path) => startOf(path) !== undefined).map((path) => [path, startOf(path), true]));
  // What follows from them follows from the starting values again.
  if (id === "size") setSize("area", "");
  if (id === "pipe") setSize("pipe", "");
  if (id === "spacing") setApart("");
  if (id === "nozzle") answer(PATHS.NOZZLE, "");
  if (id === "crop") writeCrop("");
  if (id === "sets") {
    answer(["season", "pass_interval"], "");
    writeSets("");
  }
  if (id === "money") for (const key of ["joint_each", "crop", "water"]) writePrice(key, "");
}

/** US or SI, dollars or euros: asked first, for all questions. */
function Units(): JSX.Element {
  const currency = String((store.scenario.value.worth as { currency?: string } | undefined)?.currency ?? "USD");
  return (
    <div class="ask-units">
      <fieldset class="choices">
        <legend class="unseen">Units</legend>
        {(["us", "si"] as const).map((system) => (
          <label key={system} class="choice">
            <input type="radio" name="ask-units" checked={store.system.value === system} onChange={() => changeUnits(system)} />
            {system === "us" ? "feet, acres" : "meters, hectares"}
          </label>
        ))}
      </fieldset>
      <fieldset class="choices">
        <legend class="unseen">Currency</legend>
        {[["USD", "$"], ["EUR", "€"]].map(([name, sign]) => (
          <label key={name} class="choice">
            <input type="radio" name="ask-currency" checked={currency === name} onChange={() => store.edit(["worth", "currency"], name!)} />
            <span aria-hidden="true">{sign}</span>
            <span class="unseen">{name === "USD" ? "dollars" : "euros"}</span>
          </label>
        ))}
      </fieldset>
    </div>
  );
}

/** Whether something of these questions is wrong as it stands now: then the cursor goes there. */
async function isRefused(steps: Step[]): Promise<boolean> {
  await whenChecked();
  if (!steps.some(({ paths }) => problemsUnder(paths))) return false;
  document.querySelector<HTMLElement>('.question [aria-invalid="true"]')?.focus();
  store.say("This answer needs correcting first.");
  return true;
}

/** Goes on from a question where nothing of it is wrong. */
async function goOn(index: number): Promise<void> {
  // Whoever went elsewhere meanwhile stays there.
  if ((await isRefused([STEPS[index]!])) || question.value !== index) return;
  if (index + 1 < ALL_STEPS) goTo(index + 1);
  else finish();
}

async function endAll(): Promise<void> {
  if (!(await isRefused(STEPS))) finish();
}

function Single(): JSX.Element {
  const index = question.value;
  const step = STEPS[index]!;
  const Form = FORMS[step.id]!;
  const heading = useRef<HTMLHeadingElement>(null);
  const before = useRef(index);
  // Before the question is painted: who sees it can answer it.
  useLayoutEffect(() => {
    if (before.current === index) return;
    before.current = index;
    // Whoever types goes on typing; on a touch screen the keyboard would hide the question.
    const first = document.querySelector<HTMLElement>(".question-body input, .question-body select");
    (matchMedia("(pointer: fine)").matches && first ? first : heading.current)?.focus();
  }, [index]);
  const isLast = index === ALL_STEPS - 1;
  return (
    <form
      class="question"
      onSubmit={(e) => {
        e.preventDefault();
        void goOn(index);
      }}
    >
      <p class="question-count">
        Question {index + 1} of {ALL_STEPS}
      </p>
      <h2 ref={heading} tabIndex={-1}>
        {step.title}
      </h2>
      <div class="question-body">
        <Form key={step.id} />
      </div>
      <div class="question-buttons">
        <button type="submit" class="main">
          {isLast ? "Show what it comes to" : "Next"}
        </button>
        <button
          type="button"
          onClick={() => {
            leaveOpen(step);
            if (isLast) finish();
            else goTo(index + 1);
          }}
        >
          Don’t know
        </button>
        {!isLast && passed.value.size === ALL_STEPS && (
          <button type="button" onClick={finish}>
            Show what it comes to
          </button>
        )}
        {index > 0 && (
          <button type="button" class="quiet" onClick={() => goTo(index - 1)}>
            Back
          </button>
        )}
      </div>
      <Trail />
    </form>
  );
}

/** The questions in little: which is at hand, which are answered, which rest on starting values. */
function Trail(): JSX.Element {
  return (
    <ol class="trail" aria-label="The ten questions">
      {STEPS.map((step, i) => {
        const state = i === question.value ? "here" : !isOpen(step.paths) ? "yours" : passed.value.has(i) ? "starting" : "ahead";
        const words = { here: "at hand", yours: "answered", starting: "left at starting values", ahead: "still to come" }[state];
        return (
          <li key={step.id}>
            <button type="button" class={state} aria-current={state === "here" ? "step" : undefined} title={step.title} onClick={() => goTo(i)}>
              <span aria-hidden="true">{state === "starting" ? "?" : i + 1}</span>
              <span class="unseen">
                {step.title} {words}
              </span>
            </button>
          </li>
        );
      })}
    </ol>
  );
}

function AllAtOnce(): JSX.Element {
  return (
    <form
      class="question all"
      onSubmit={(e) => {
        e.preventDefault();
        void endAll();
      }}
    >
      {STEPS.map((step, i) => {
        const Form = FORMS[step.id]!;
        return (
          <section key={step.id} class="question-body" aria-labelledby={`ask-title-${step.id}`}>
            <h2 id={`ask-title-${step.id}`}>
              {i + 1}. {step.title}
            </h2>
            <Form />
          </section>
        );
      })}
      <div class="question-buttons">
        <button type="submit" class="main">
          Show what it comes to
        </button>
        <span class="help">What you leave empty goes on its starting value.</span>
      </div>
    </form>
  );
}

export function Questions(): JSX.Element {
  const all = isAll.value;
  const others = (store.check.value?.problems ?? []).filter((p) => !STEPS.some(({ paths }) => problemsUnder(paths)) && p.pointer !== "");
  return (
    <main class="questions" id="questions">
      <div class="questions-head">
        <p class={`lead${question.value > 0 && !all ? " once" : ""}`}>
          Does alternating your stops pay on your field? Ten questions, then a first answer. What you don’t know stays a starting value, and the answer says so.
        </p>
        <Units />
        <button type="button" class="quiet" aria-pressed={all} onClick={() => showAll(!all)}>
          {all ? "One question at a time" : "All on one screen"}
        </button>
      </div>
      <div class="questions-body">
        {all ? <AllAtOnce /> : <Single />}
        <Growing step={all ? ALL_STEPS : question.value} />
      </div>
      {others.length > 0 && (
        <div class="problem" role="alert">
          {others.map((p) => (
            <p key={p.pointer + p.problem}>
              {p.problem} {p.hint}
            </p>
          ))}
        </div>
      )}
      <Elsewhere />
    </main>
  );
}
