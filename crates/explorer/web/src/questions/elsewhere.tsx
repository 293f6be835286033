// What one may do in place of the questions, and how to come back to them.

import type { JSX } from "preact";
import { useRef } from "preact/hooks";
import { api } from "../model/api";
import * as store from "../model/store";
import { open, openFiles } from "../setup/open";
import { beginAnew, change, isAskable, passed, resume } from "./state";

/** What else one may begin with. */
export function Elsewhere(): JSX.Element {
  const input = useRef<HTMLInputElement>(null);
  const now = store.scenario.value;
  const keep = (): void => {
    if (isAskable(now)) store.leftOff.value = now;
  };
  const demo = (): void => void api.demo().then((s) => {
        keep();
        return open(s, "The demo is open.");
      }, () => store.say("The program does not answer."));
  const left = store.leftOff.value;
  return (
    <div class="elsewhere">
      <span>Or:</span>
      {left && (
        <button type="button" class="link" onClick={() => void open(left, "This is where you left off.")}>
          Go on where you left off
        </button>
      )}
      <button type="button" class="link" onClick={demo}>
        Look at the demo
      </button>
      <button type="button" class="link" onClick={() => input.current?.click()}>
        Open a file
      </button>
      <input
        ref={input}
        class="unseen"
        type="file"
        multiple
        aria-label="Scenario file, and files it names"
        tabIndex={-1}
        onChange={(e) => {
          const chosen = [...(e.currentTarget.files ?? [])];
          if (chosen.length > 0) void openFiles(chosen);
          e.currentTarget.value = "";
        }}
      />
      <button type="button" class="link" onClick={() => (store.step.value = "answer")}>
        See all entries at once
      </button>
      {passed.value.size > 0 && (
        <button type="button" class="link" onClick={startOver}>
          Start over
        </button>
      )}
    </div>
  );
}

/** Asks the questions of the scenario at hand where that can be, else of a field of which nothing is known. */
export function startQuestions(): void {
  const now = store.scenario.value;
  if (isAskable(now)) {
    resume();
    return change(0);
  }
  // What was answered before something else was opened is taken up again.
  const left = store.leftOff.value;
  store.leftOff.value = now;
  if (!left || !isAskable(left)) return startOver();
  void open(left, "Your answers so far.").then(() => {
    resume();
    change(0);
  });
}

function startOver(): void {
  void open(beginAnew(), "Nothing is answered yet.").then(() => change(0));
}
