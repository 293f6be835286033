// What one alternative has of its own beside its stops, each with the common value it can go back to;
// and what it shares with the others, each with a click that makes it its own.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { at } from "../model/scenario";
import { rowAt } from "../model/schema";
import * as store from "../model/store";
import { ChoiceEntry, NumberEntry, QuantityEntry, TextEntry } from "../setup/entry";
import { idOf, problemsAt } from "../setup/wrongs";
import { Jets, WheelChoice } from "../setup/machine";
import { PipeEntries } from "../setup/pipe";
import { commonWords, isOwn, rowsFor, startOf, withOwn, type OwnRow } from "./own_rows";

/** What its key is called in the program's table. */
const labelOf = (own: OwnRow): string => rowAt(store.schema.value, ["alternatives", 0, ...own.path]).label;

const lowered = (label: string): string => label.charAt(0).toLowerCase() + label.slice(1);

/** Puts the cursor into the first field at a path, ready to be typed over. */
export function focusOn(path: readonly (string | number)[]): void {
  setTimeout(() => {
    const start = idOf(path);
    const field = document.getElementById(start) ?? document.querySelector<HTMLElement>(`[id^="${start}-"]:is(input, select)`);
    field?.focus();
    if (field instanceof HTMLInputElement && field.type === "text") field.select();
  }, 0);
}

const EDGES =
  "What shifted passes do at the field’s edges. shift: every stop shifted; hold: first and last stop held at their outlets; " +
  "extra set: one extra set on the opened side.";

function Editor({ index, own }: { index: number; own: OwnRow }): JSX.Element {
  const path = ["alternatives", index, ...own.path];
  const entry = { path, label: `Own ${lowered(labelOf(own))}` };
  switch (own.kind) {
    case "wheel": {
      const wheel = at(store.scenario.value, path);
      const isWhole = ["size", "travel_per_turn", "outside_diameter"].some((key) => at(wheel, [key]) !== undefined);
      // A file may give an alternative the common wheel and another slip.
      return isWhole ? <WheelChoice path={path} /> : <QuantityEntry path={[...path, "slip_and_sinkage"]} label="Own wheel slip and sinkage" />;
    }
    case "jets":
      return <Jets base={path.slice(0, -1)} />;
    case "pipe":
      return <PipeEntries path={path} />;
    case "drag":
      return (
        <>
          <ChoiceEntry path={[...path, "form"]} label="Own form of the drag" isOptional />
          <NumberEntry path={[...path, "k1"]} label="Own K1" isOptional />
          <NumberEntry path={[...path, "k2"]} label="Own K2" isOptional />
          <NumberEntry path={[...path, "turbulence"]} label="Own turbulence" isOptional />
          <QuantityEntry path={[...path, "jet_length"]} label="Own jet length" isOptional />
        </>
      );
    case "number":
      return <NumberEntry {...entry} />;
    case "choice":
      return <ChoiceEntry {...entry} {...(own.path[0] === "edges" ? { help: EDGES } : {})} />;
    case "moment":
      return <TextEntry {...entry} />;
    default:
      return <QuantityEntry {...entry} />;
  }
}

/** What is its own. */
export function Own({ index }: { index: number }): JSX.Element | null {
  const scenario = store.scenario.value;
  const owned = rowsFor(scenario, index).filter((own) => isOwn(scenario, index, own));
  if (owned.length === 0) return null;
  const back = (own: OwnRow, common: string): void => {
    store.scenario.value = withOwn(scenario, index, own, undefined);
    store.say(`${labelOf(own)}: ${common} again, as in common.`);
    document.getElementById(`shared-${index}`)?.focus();
  };
  return (
    <fieldset class="own">
      <legend>Its own inputs</legend>
      {owned.map((own) => {
        const common = commonWords(scenario, store.check.value, index, own);
        return (
          <div class="own-entry" key={own.path.join("/") + own.kind}>
            <Editor index={index} own={own} />
            <button type="button" class="link" onClick={() => back(own, common)}>
              <span class="unseen">{labelOf(own)}: </span>back to common: {common}
            </button>
          </div>
        );
      })}
    </fieldset>
  );
}

/** What it shares with the others. */
export function Shared({ index }: { index: number }): JSX.Element {
  const [isOpen, setOpen] = useState(false);
  return (
    <details class="more" open={isOpen} onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary id={`shared-${index}`}>Other inputs</summary>
      {isOpen && <SharedRows index={index} />}
    </details>
  );
}

function SharedRows({ index }: { index: number }): JSX.Element {
  const scenario = store.scenario.value;
  const shared = rowsFor(scenario, index).filter((own) => !isOwn(scenario, index, own));
  const groups = [...new Set(shared.map((own) => own.group))];
  const take = (own: OwnRow): void => {
    const start = startOf(scenario, store.check.value, store.schema.value, index, own);
    store.scenario.value = withOwn(scenario, index, own, start);
    focusOn(["alternatives", index, ...own.path]);
  };
  return (
    <>
      {groups.map((group) => (
        <div key={group} class="shared">
          <p id={`shared-${index}-${group}`}>{group}</p>
          <ul aria-labelledby={`shared-${index}-${group}`}>
            {shared.filter((own) => own.group === group).map((own) => (
              <li key={own.path.join("/")}>
                <span>
                  {labelOf(own)}: <b>{commonWords(scenario, store.check.value, index, own)}</b>
                </span>
                <button type="button" class="small" onClick={() => take(own)}>
                  Change<span class="unseen"> {lowered(labelOf(own))}</span>
                </button>
              </li>
            ))}
          </ul>
        </div>
      ))}
    </>
  );
}

/** What is wrong with an alternative and stands at none of its entries. */
export function Strays({ index }: { index: number }): JSX.Element | null {
  const here = ["alternatives", index];
  const scenario = store.scenario.value;
  const rows = rowsFor(scenario, index).filter((own) => isOwn(scenario, index, own));
  const shown = [["name"], ["rotation"], ["equipment"], ...rows.map((own) => own.path)].map((path) => `/${[...here, ...path].join("/")}`);
  // Where several entries stand for one key, none of them tells what is wrong with it as a whole.
  const whole = rows.filter(({ kind }) => ["wheel", "jets", "drag", "pipe"].includes(kind)).map((own) => `/${[...here, ...own.path].join("/")}`);
  const isShown = (at: string): boolean => shown.some((start) => (at === start && !whole.includes(at)) || at.startsWith(`${start}/`));
  const strays = problemsAt(here).filter((p) => !isShown(p.pointer));
  if (strays.length === 0 || at(scenario, here) === undefined) return null;
  return (
    <>
      {strays.map((p) => (
        <p class="wrongs" key={p.pointer + p.problem}>
          {[p.problem, p.allowed, p.hint].filter(Boolean).join("; ")}
        </p>
      ))}
    </>
  );
}
