// The stops of one alternative in their order, and what can be done to them.

import type { JSX } from "preact";
import { begunAt, cycleWords, MOST_STOPS, nearestStop, written } from "../model/cycle";
import { alternatives, type Json } from "../model/scenario";
import { lengthText, shiftText } from "../model/show";
import { standingOf } from "../model/standing";
import * as store from "../model/store";
import { problemsAt } from "../setup/wrongs";

/** Chooses one stop of one alternative. */
export function choose(alternative: number, stop: number): void {
  store.alternative.value = alternative;
  store.stop.value = stop;
}

const asText = (shift: Json): string => {
  if (shift !== null && typeof shift === "object" && !Array.isArray(shift)) {
    return [shift.across, shift.along].filter(Boolean).join(" / ");
  }
  return String(shift);
};

export function rotationOf(index: number): Json[] {
  const rotation = alternatives(store.scenario.value)[index]?.rotation;
  return Array.isArray(rotation) ? rotation : [];
}

function Chips({ index, chosen }: { index: number; chosen: number }): JSX.Element {
  const rotation = rotationOf(index);
  const laidOut = standingOf(index)?.rotation ?? [];
  const fits = laidOut.length === rotation.length;
  const shiftOf = (k: number): string => {
    const r = fits ? laidOut[k] : undefined;
    if (!r) return asText(rotation[k] ?? "");
    return r.along_m ? shiftText(r.across_m, r.along_m) : lengthText(r.across_m);
  };
  return (
    <ol class="rotation" aria-labelledby={`rotation-${index}`}>
      {rotation.map((_, k) => {
        const isWrong = problemsAt(["alternatives", index, "rotation", k]).length > 0;
        return (
          <li key={k}>
            <button
              type="button"
              class={`chip${isWrong ? " wrong" : ""}`}
              id={`chip-alternatives-${index}-rotation-${k}`}
              aria-pressed={chosen === k}
              aria-describedby={isWrong ? `rotation-wrong-${index}` : undefined}
              onClick={() => choose(index, k)}
            >
              <span class="letter">{(fits && laidOut[k]?.letter) || k + 1}</span> {shiftOf(k)}
            </button>
          </li>
        );
      })}
    </ol>
  );
}

/** What is wrong with the stops, with the nearest ones that are possible. */
function Wrongs({ index }: { index: number }): JSX.Element | null {
  const here = ["alternatives", index, "rotation"];
  const problems = problemsAt(here);
  if (problems.length === 0) return null;
  const layout = standingOf(index);
  const rotation = rotationOf(index);
  const corrected = rotation.map((shift, k) => {
    const isWrong = problemsAt([...here, k]).length > 0;
    const stop = isWrong && layout ? nearestStop(shift, layout) : undefined;
    return stop ? written(stop) : shift;
  });
  const isCorrectable = corrected.some((shift, k) => shift !== rotation[k]);
  const correct = (): void => {
    store.edit(here, corrected);
    store.say("Moved to the nearest stops that wheels and hose allow.");
  };
  return (
    <div id={`rotation-wrong-${index}`} class="wrongs">
      {problems.map((p) => (
        <p key={p.pointer + p.problem}>{[p.problem, p.allowed && `possible: ${p.allowed}`, p.hint].filter(Boolean).join("; ")}</p>
      ))}
      {isCorrectable && (
        <button type="button" onClick={correct}>
          Use the nearest possible stop
        </button>
      )}
    </div>
  );
}

export function RotationEditor({ index, name }: { index: number; name: string }): JSX.Element {
  const rotation = rotationOf(index);
  const isChosen = store.alternative.value === index;
  const chosen = isChosen ? Math.min(store.stop.value, rotation.length - 1) : -1;
  const set = (next: Json[], stop: number, words: string): void => {
    store.edit(["alternatives", index, "rotation"], next);
    choose(index, stop);
    store.say(words);
  };
  const add = (): void => {
    const at = isChosen ? chosen + 1 : rotation.length;
    const next = [...rotation.slice(0, at), rotation[Math.max(0, at - 1)] ?? "0 ft", ...rotation.slice(at)];
    set(next, at, `Stop ${at + 1} added to ${name}; now move the lateral there.`);
  };
  const remove = (): void =>
    set(rotation.filter((_, k) => k !== chosen), Math.max(0, chosen - 1), `Stop ${chosen + 1} removed.`);
  const shove = (by: number): void => {
    const next = [...rotation];
    const [moved] = next.splice(chosen, 1);
    next.splice(chosen + by, 0, moved ?? "0 ft");
    set(next, chosen + by, `Now stop ${chosen + by + 1}.`);
  };
  const twice = (): void =>
    set([...rotation, ...rotation], rotation.length, `The cycle of ${name} now has ${2 * rotation.length} stops. Change the second half.`);
  const begin = (): void => set(begunAt(rotation, chosen), 0, `${name} now starts with this stop.`);
  return (
    <>
      <p class="rotation-label" id={`rotation-${index}`}>
        Stops, pass by pass, then over again
      </p>
      <Chips index={index} chosen={chosen} />
      <Wrongs index={index} />
      <p class="help">{cycleWords(rotation.length, standingOf(index)?.passes.length ?? 0)}</p>
      <div class="buttons">
        <button type="button" disabled={rotation.length >= MOST_STOPS} onClick={add}>
          Add a stop
        </button>
        {isChosen && (
          <>
            <button type="button" disabled={rotation.length < 2} onClick={remove}>
              Remove stop
            </button>
            <button type="button" aria-label="Move this stop earlier" disabled={chosen < 1} onClick={() => shove(-1)}>
              ←
            </button>
            <button type="button" aria-label="Move this stop later" disabled={chosen >= rotation.length - 1} onClick={() => shove(1)}>
              →
            </button>
            {rotation.length > 1 && (
              <>
                <button type="button" disabled={chosen < 1} onClick={begin}>
                  Start with this stop
                </button>
                <button type="button" disabled={2 * rotation.length > MOST_STOPS} onClick={twice}>
                  Repeat the cycle
                </button>
              </>
            )}
          </>
        )}
      </div>
    </>
  );
}
