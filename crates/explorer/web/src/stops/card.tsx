// One alternative: its name, its rotation in order, and what it needs.

import type { JSX } from "preact";
import { alternatives, at, type Json, type Scenario } from "../model/scenario";
import { lengthText, lineOf, shiftText } from "../model/show";
import * as store from "../model/store";
import { problemsAt, TextEntry } from "../setup/entry";
import { Sketch } from "../picture/sketch";
import { Differs } from "./differs";

const MOST_STOPS = 26;

function choose(alternative: number, stop: number): void {
  store.alternative.value = alternative;
  store.stop.value = stop;
}

const asText = (shift: Json): string => {
  if (shift !== null && typeof shift === "object" && !Array.isArray(shift)) {
    return [shift.across, shift.along].filter(Boolean).join(" / ");
  }
  return String(shift);
};

/** A shift as whole turns of a wheel, where it is that. */
export function inTurns(across_m: number | undefined, travel_m: number | null): string | null {
  if (across_m === undefined || !travel_m) return null;
  const turns = Math.round(across_m / travel_m);
  if (turns === 0 || Math.abs(across_m - turns * travel_m) > 1e-3 * travel_m) return null;
  return `${turns} ${Math.abs(turns) === 1 ? "turn" : "turns"}`;
}

/** A short line as drawn in the charts, so that colour alone tells nothing. */
export function LineMark({ index }: { index: number }): JSX.Element {
  const { colour, dash } = lineOf(index);
  return (
    <svg class="line-mark" width="34" height="10" aria-hidden="true">
      <line x1="1" x2="33" y1="5" y2="5" stroke={colour} stroke-width="3" stroke-dasharray={dash.join(" ")} />
    </svg>
  );
}

export function Card({ index, count }: { index: number; count: number }): JSX.Element {
  const scenario = store.scenario.value;
  const here = ["alternatives", index] as const;
  const alternative = alternatives(scenario)[index] as Scenario;
  const rotation = Array.isArray(alternative.rotation) ? alternative.rotation : [];
  const laidOut = store.layout.value?.alternatives[index];
  const isChosen = store.alternative.value === index;
  const chosen = isChosen ? Math.min(store.stop.value, rotation.length - 1) : -1;
  const name = String(alternative.name ?? "");

  const setRotation = (next: Json[], stop: number, words: string): void => {
    store.edit([...here, "rotation"], next);
    choose(index, stop);
    store.say(words);
  };
  const add = (): void => {
    const at = isChosen ? chosen + 1 : rotation.length;
    const next = [...rotation.slice(0, at), rotation[Math.max(0, at - 1)] ?? "0 ft", ...rotation.slice(at)];
    setRotation(next, at, `Stop ${at + 1} added to ${name}; now roll the lateral to its place.`);
  };
  const remove = (): void =>
    setRotation(rotation.filter((_, k) => k !== chosen), Math.max(0, chosen - 1), `Stop ${chosen + 1} removed.`);
  const shove = (by: number): void => {
    const next = [...rotation];
    const [moved] = next.splice(chosen, 1);
    next.splice(chosen + by, 0, moved ?? "0 ft");
    setRotation(next, chosen + by, `Now stop ${chosen + by + 1}.`);
  };
  const copy = (): void => {
    const list = alternatives(scenario);
    const twin = { ...alternative, name: `${name} (copy)`.slice(0, 80) };
    store.edit(["alternatives"], [...list.slice(0, index + 1), twin, ...list.slice(index + 1)]);
    choose(index + 1, 0);
    store.say(`${name} copied.`);
  };
  /** The same stops on another wheel: shifts in whole turns stay turns, whatever the wheel. */
  const onOtherWheel = (): void => {
    const list = alternatives(scenario);
    const travel = laidOut?.travel_per_turn_m ?? null;
    const turned = rotation.map((shift, k) => inTurns(laidOut?.rotation[k]?.across_m, travel) ?? shift);
    const own = at(scenario, ["wheel", "travel_per_turn"]) ?? (store.system.value === "us" ? "20 ft" : "6 m");
    const wheel = { travel_per_turn: own, ...((alternative.wheel ?? {}) as Scenario) };
    const twin = { ...alternative, name: `${name}, other wheel`.slice(0, 80), rotation: turned, wheel };
    store.edit(["alternatives"], [...list.slice(0, index + 1), twin, ...list.slice(index + 1)]);
    choose(index + 1, 0);
    store.say(`${name} copied: give its wheel under “What else differs”.`);
  };
  const toFront = (): void => {
    const list = alternatives(scenario);
    store.edit(["alternatives"], [alternative, ...list.filter((_, k) => k !== index)]);
    choose(0, 0);
    store.say(`The other ways are now compared against ${name}.`);
  };
  const drop = (): void => {
    store.edit(here, undefined);
    choose(Math.max(0, index - 1), 0);
    store.say(`${name} removed.`);
  };
  const shiftOf = (k: number): string => {
    const r = laidOut?.rotation[k];
    const fits = r && laidOut.rotation.length === rotation.length;
    return fits ? (r.along_m ? shiftText(r.across_m, r.along_m) : lengthText(r.across_m)) : asText(rotation[k] ?? "");
  };
  const letterOf = (k: number): string => laidOut?.rotation[k]?.letter ?? String(k + 1);

  return (
    <section class={`card${isChosen ? " chosen" : ""}`} aria-label={name || `Way ${index + 1}`}>
      <div class="card-head">
        <LineMark index={index} />
        {index === 0 && <span class="tag">compared against</span>}
      </div>
      <TextEntry path={[...here, "name"]} label="Name" isBare />
      {laidOut && <Sketch alternative={laidOut} />}
      <p class="rotation-label" id={`rotation-${index}`}>
        Stops, pass by pass, then from the start again
      </p>
      <ol class="rotation" aria-labelledby={`rotation-${index}`}>
        {rotation.map((_, k) => (
          <li key={k}>
            <button
              type="button"
              class={`chip${problemsAt([...here, "rotation", k]).length > 0 ? " wrong" : ""}`}
              id={`chip-alternatives-${index}-rotation-${k}`}
              aria-pressed={chosen === k}
              onClick={() => choose(index, k)}
            >
              <span class="letter">{letterOf(k)}</span> {shiftOf(k)}
            </button>
          </li>
        ))}
      </ol>
      {problemsAt([...here, "rotation"]).map((p) => (
        <p class="wrongs" key={p.pointer + p.problem}>
          {[p.problem, p.allowed, p.hint].filter(Boolean).join("; ")}
        </p>
      ))}
      <div class="buttons">
        <button type="button" disabled={rotation.length >= MOST_STOPS} onClick={add}>
          Add a stop
        </button>
        {isChosen && (
          <>
            <button type="button" disabled={rotation.length < 2} onClick={remove}>
              Remove stop
            </button>
            <button type="button" aria-label="Take this stop earlier" disabled={chosen < 1} onClick={() => shove(-1)}>
              ←
            </button>
            <button type="button" aria-label="Take this stop later" disabled={chosen >= rotation.length - 1} onClick={() => shove(1)}>
              →
            </button>
          </>
        )}
      </div>
      <Differs index={index} />
      <div class="buttons end">
        <button type="button" class="quiet" disabled={count >= 6} onClick={copy}>
          Copy<span class="unseen"> {name}</span>
        </button>
        {laidOut?.travel_per_turn_m != null && (
          <button type="button" class="quiet" disabled={count >= 6} onClick={onOtherWheel}>
            Copy on another wheel<span class="unseen"> {name}</span>
          </button>
        )}
        {index > 0 && (
          <button type="button" class="quiet" onClick={toFront}>
            Compare against this<span class="unseen"> {name}</span>
          </button>
        )}
        <button type="button" class="quiet" disabled={count < 2} onClick={drop}>
          Remove<span class="unseen"> {name}</span>
        </button>
      </div>
    </section>
  );
}
