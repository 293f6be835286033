// One alternative: its name, its picture, its rotation, what else is its own, and its place
// among the others.

import type { JSX } from "preact";
import { inTurns } from "../model/cycle";
import { alternatives, at, freeName, MOST_ALTERNATIVES, type Json, type Scenario } from "../model/scenario";
import { length, lineOf } from "../model/show";
import { standingOf } from "../model/standing";
import { short } from "../model/units";
import * as store from "../model/store";
import { endOf, Sketch } from "../picture/sketch";
import { TextEntry } from "../setup/entry";
import { Equipment } from "./equipment";
import { focusOn, Own, Shared, Strays } from "./own";
import { choose, RotationEditor, rotationOf } from "./rotation";

/** A short line as drawn in the charts, so that color alone tells nothing. */
export function LineMark({ index }: { index: number }): JSX.Element {
  const { color, dash } = lineOf(index);
  return (
    <svg class="line-mark" width="34" height="10" aria-hidden="true">
      <line x1="1" x2="33" y1="5" y2="5" stroke={color} stroke-width="3" stroke-dasharray={dash.join(" ")} />
    </svg>
  );
}

/** The alternatives with one of them at another place. */
function placed(from: number, to: number): Scenario[] {
  const list = [...alternatives(store.scenario.value)];
  const [moved] = list.splice(from, 1);
  if (moved) list.splice(to, 0, moved);
  return list;
}

function move(from: number, to: number, name: string): void {
  const stop = store.alternative.value === from ? store.stop.value : 0;
  store.edit(["alternatives"], placed(from, to));
  choose(to, stop);
  store.say(to === 0 ? `${name} is now the baseline; the others are compared with it.` : `${name} is now number ${to + 1}.`);
}

/** A copy beside an alternative, with another name and what else is changed. */
function copy(index: number, words: string, change: Scenario): void {
  const list = alternatives(store.scenario.value);
  const original = list[index] ?? {};
  const name = freeName(`${String(original.name ?? "")}${words}`, store.names.value);
  store.edit(["alternatives"], [...list.slice(0, index + 1), { ...original, ...change, name }, ...list.slice(index + 1)]);
  choose(index + 1, 0);
  store.say(`${name} added.`);
}

/** A wheel that rolls as far as this one, to be changed: by its name where it has one, else by its
 * diameter. */
export function sameWheel(wheel: Json | undefined, travel_m: number): Scenario {
  const [size, measured] = [at(wheel, ["size"]), at(wheel, ["travel_per_turn"])];
  if (size !== undefined) return { size, ...(measured === undefined ? {} : { travel_per_turn: measured }) };
  const diameter = at(wheel, ["outside_diameter"]);
  const lost = at(wheel, ["slip_and_sinkage"]);
  if (diameter !== undefined) return { outside_diameter: diameter, ...(lost === undefined ? {} : { slip_and_sinkage: lost }) };
  const across_m = travel_m / Math.PI;
  return { outside_diameter: store.system.value === "us" ? `${short(across_m / 0.0254, 4)} in` : `${short(across_m, 4)} m` };
}

/** The same stops on another wheel: shifts in whole turns stay turns, whatever the wheel. */
function onOtherWheel(index: number, travel_m: number): void {
  const laidOut = standingOf(index)?.rotation ?? [];
  const rotation = rotationOf(index).map((shift, k) => inTurns(laidOut[k]?.across_m, travel_m) ?? shift);
  const scenario = store.scenario.value;
  const own = at(scenario, ["alternatives", index, "wheel"]);
  const rolls = ["size", "travel_per_turn", "outside_diameter"].some((key) => at(own, [key]) !== undefined);
  const levelers = at(own, ["leveler_range"]);
  const wheel = sameWheel(rolls ? own : at(scenario, ["wheel"]), travel_m);
  copy(index, ", other wheel", { rotation, wheel: { ...wheel, ...(levelers === undefined ? {} : { leveler_range: levelers }) } });
  focusOn(["alternatives", index + 1, "wheel", wheel.size === undefined ? "outside_diameter" : "size"]);
}

/** How a wheel rolls from outlet to outlet, in the command's own figures. */
function Rolls({ index }: { index: number }): JSX.Element | null {
  const layout = standingOf(index);
  if (!layout || layout.travel_per_turn_m === null) return null;
  const travel = `${short(Number(length(layout.travel_per_turn_m).toFixed(2)))} ${store.system.value === "us" ? "ft" : "m"}`;
  return (
    <details class="more">
      <summary>Rolls {travel} per turn</summary>
      <dl class="facts">
        {layout.wheel.map(({ what, value }) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}

function Picture({ index }: { index: number }): JSX.Element | null {
  const drafted = store.drafted.value;
  const layout = standingOf(index);
  if (!drafted || !layout) return null;
  const chosen = store.alternative.value === index ? (layout.rotation[store.stop.value]?.letter ?? "") : "";
  const hasExtra = layout.passes.some((pass) => pass.sets.some((set) => set.role === "extra"));
  return (
    <figure>
      <Sketch layout={layout} field={drafted.field} end_m={endOf(drafted.alternatives, drafted.field)} chosen={chosen} />
      {hasExtra && <figcaption class="help">+ an extra set at the edge that the shift opens</figcaption>}
    </figure>
  );
}

export function Card({ index, count }: { index: number; count: number }): JSX.Element {
  const here = ["alternatives", index] as const;
  const name = String(at(store.scenario.value, [...here, "name"]) ?? "");
  const travel = standingOf(index)?.travel_per_turn_m ?? null;
  const isFull = count >= MOST_ALTERNATIVES;
  const unseen = <span class="unseen"> {name}</span>;
  const drop = (): void => {
    store.edit(here, undefined);
    choose(Math.max(0, index - 1), 0);
    store.say(`${name} removed. Undo brings it back.`);
  };
  return (
    <section class={`card${store.alternative.value === index ? " chosen" : ""}`} aria-label={name || `Alternative ${index + 1}`}>
      <div class="card-head">
        <LineMark index={index} />
        {index === 0 && <span class="tag">baseline</span>}
        <span class="card-moves">
          <button type="button" class="small" aria-label={`Move ${name} to the left`} disabled={index === 0} onClick={() => move(index, index - 1, name)}>
            ◂
          </button>
          <button type="button" class="small" aria-label={`Move ${name} to the right`} disabled={index >= count - 1} onClick={() => move(index, index + 1, name)}>
            ▸
          </button>
        </span>
      </div>
      <TextEntry path={[...here, "name"]} label="Name" isBare />
      <Picture index={index} />
      <RotationEditor index={index} name={name} />
      <Own index={index} />
      <Strays index={index} />
      <Rolls index={index} />
      <Equipment index={index} />
      <Shared index={index} />
      <div class="buttons end">
        <button type="button" class="quiet" disabled={isFull} onClick={() => copy(index, " (copy)", {})}>
          Copy{unseen}
        </button>
        {travel !== null && (
          <button type="button" class="quiet" disabled={isFull} onClick={() => onOtherWheel(index, travel)}>
            Same stops on another wheel{unseen}
          </button>
        )}
        {index > 0 && (
          <button type="button" class="quiet" onClick={() => move(index, 0, name)}>
            Make it the baseline{unseen}
          </button>
        )}
        <button type="button" class="quiet" disabled={count < 2} onClick={drop}>
          Remove{unseen}
        </button>
      </div>
    </section>
  );
}
