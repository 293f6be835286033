// One alternative: its name, its rotation in order, and what it needs.

import type { JSX } from "preact";
import { alternatives, at, type Json, type Scenario } from "../model/scenario";
import { nodeAt } from "../model/schema";
import { lengthText, lineOf, shiftText } from "../model/show";
import * as store from "../model/store";
import { ChoiceEntry, NumberEntry, problemsAt, QuantityEntry, TextEntry } from "../setup/entry";

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
      <details class="more">
        <summary>What else differs</summary>
        <Differs index={index} />
      </details>
      <div class="buttons end">
        <button type="button" class="quiet" disabled={count >= 6} onClick={copy}>
          Copy<span class="unseen"> {name}</span>
        </button>
        <button type="button" class="quiet" disabled={count < 2} onClick={drop}>
          Remove<span class="unseen"> {name}</span>
        </button>
      </div>
    </section>
  );
}

function Differs({ index }: { index: number }): JSX.Element {
  const here = ["alternatives", index] as const;
  const isWheeled = at(store.scenario.value, ["lateral", "machine"]) !== "hand move";
  const knows = (...path: (string | number)[]): boolean =>
    store.schema.value !== null && nodeAt(store.schema.value, [...here, ...path]) !== null;
  return (
    <div class="entries">
      {isWheeled && <QuantityEntry path={[...here, "wheel", "travel_per_turn"]} label="Own wheels: travel a turn" isOptional />}
      <QuantityEntry path={[...here, "outlets", "reach"]} label="Own reach" isOptional />
      {knows("edges") && nodeAt(store.schema.value!, [...here, "edges"])?.enum && (
        <ChoiceEntry path={[...here, "edges"]} label="At the edges" isOptional none="not said: it shifts with the rest" />
      )}
      {store.scenario.value.worth !== undefined && (
        <>
          <NumberEntry path={[...here, "outfit", "joints"]} label="Joints to buy" isOptional />
          <NumberEntry path={[...here, "outfit", "outlets"]} label="Outlets to add" isOptional />
          <NumberEntry path={[...here, "outfit", "extra_sets_per_pass"]} label="Extra sets a pass" isOptional />
          <QuantityEntry path={[...here, "outfit", "extra_labour_per_move"]} label="Extra labour a move" isOptional />
        </>
      )}
    </div>
  );
}
