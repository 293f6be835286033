// One entry of the set-up: label, field, unit, what it means, its range, and what is wrong with it.

import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { at, pointer, text, type Path } from "../model/scenario";
import { rangeIn, tell, type Told } from "../model/schema";
import { isUnit, split, toUnit, typed, unitFor, unitsLike } from "../model/units";
import * as store from "../model/store";
import { idOf, problemsAt, Wrongs } from "./wrongs";

const assumedAt = (path: Path): string => {
  const found = store.check.value?.assumptions.find((a) => a.what === pointer(path));
  if (!found) return "";
  const isLeftOut = at(store.scenario.value, path) === undefined;
  return `${isLeftOut ? "Assumed" : "Taken as"}: ${found.value} (${found.why}).`;
};

interface FrameProps {
  path: Path;
  label: string;
  told: Told;
  range: string;
  isOptional: boolean;
  help?: string;
  isBare?: boolean;
  children: (aria: { id: string; "aria-describedby": string; "aria-invalid": boolean }) => ComponentChildren;
}

/** What surrounds every entry. */
export function Frame(props: FrameProps): JSX.Element {
  const { path, label, told, range, isOptional, help, isBare, children } = props;
  const id = idOf(path);
  const problems = problemsAt(path);
  const words = help ?? told.words;
  const parts = [words && /[.;:!?]$/.test(words) ? words : words && `${words}.`, range && `Allowed: ${range}.`, assumedAt(path)];
  const aria = {
    id,
    "aria-describedby": `${id}-help ${id}-wrong`,
    "aria-invalid": problems.length > 0,
  };
  return (
    <div class={`entry${problems.length > 0 ? " wrong" : ""}${isBare ? " bare" : ""}`}>
      <label for={id}>
        {label}
        {isOptional && <span class="optional"> (optional)</span>}
      </label>
      {children(aria)}
      <p class={isBare ? "help unseen" : "help"} id={`${id}-help`}>
        {parts.filter(Boolean).join(" ")}
      </p>
      <Wrongs id={`${id}-wrong`} problems={problems} />
    </div>
  );
}

export interface EntryProps {
  path: Path;
  label: string;
  isOptional?: boolean;
  isBare?: boolean;
  help?: string;
  /** Units of another kind in which it may be told as well. */
  moreUnits?: string[];
}

/** A quantity taken apart where its unit is one there is; else the whole text for the box, so that
 * it can be mended there. */
function known(value: string, usual: string): { number: string; unit: string } {
  const parts = split(value);
  if (parts.unit === "" || parts.unit === usual || isUnit(parts.unit)) return parts;
  const rest = value.endsWith(` ${usual}`) ? value.slice(0, -usual.length - 1) : value;
  return { number: rest, unit: usual };
}

/** A number with its unit. */
export function QuantityEntry(props: EntryProps): JSX.Element {
  const { path, label, isOptional = false, isBare, help, moreUnits = [] } = props;
  const told = tell(store.schema.value, path);
  const system = store.system.value;
  const usual = unitFor(split(told.example).unit, system);
  const value = text(at(store.scenario.value, path));
  const [draft, setDraft] = useState({ number: "", unit: "" });
  const [isTyped, setTyped] = useState(false);
  const compose = (q: { number: string; unit: string }): string =>
    q.number.trim() === "" && isOptional ? "" : `${q.number.trim()} ${q.unit}`;
  const parsed = known(value, usual);
  // What was typed stays as typed for as long as it is what the scenario holds.
  const live = draft.unit && compose(draft) === value ? draft : { ...parsed, unit: parsed.unit || usual };
  const change = (next: { number: string; unit: string }): void => {
    setDraft(next);
    const composed = compose(next);
    store.edit(path, composed === "" ? undefined : composed);
  };
  /** What was just typed keeps its digits: whoever types 9 and then picks "per cwt" means 9. What
   * stood there before is turned, so that it stays the same amount. */
  const changeUnit = (unit: string): void => {
    const before = compose(live);
    const told = isTyped ? before : toUnit(before, unit);
    // What cannot be converted (another kind, no number yet) keeps its number too.
    change(told === before ? { number: live.number, unit } : split(told));
  };
  /** A unit typed along with the number is taken, once the field is left. */
  const settle = (): void => {
    const { number, unit } = typed(live.number);
    if (unit || number !== live.number.trim()) change({ number, unit: unit || live.unit });
  };
  const alike = unitsLike(live.unit, system);
  const units = [...new Set([...(alike.includes(live.unit) ? [] : [live.unit]), ...alike, ...moreUnits])];
  return (
    <Frame {...{ path, label, told, isOptional, help, isBare }} range={rangeIn(told, live.unit)}>
      {(aria) => (
        <span class="quantity">
          <input
            {...aria}
            type="text"
            inputMode="decimal"
            autoComplete="off"
            value={live.number}
            onInput={(e) => {
              setTyped(true);
              change({ number: e.currentTarget.value, unit: live.unit });
            }}
            onBlur={settle}
          />
          {units.length > 1 ? (
            <select
              aria-label={`unit of ${label}`}
              value={live.unit}
              onChange={(e) => changeUnit(e.currentTarget.value)}
            >
              {units.map((unit) => (
                <option key={unit} value={unit}>
                  {unit}
                </option>
              ))}
            </select>
          ) : (
            <span class="unit">{live.unit}</span>
          )}
        </span>
      )}
    </Frame>
  );
}

/** A bare number, whole or not. */
export function NumberEntry(props: EntryProps): JSX.Element {
  const { path, label, isOptional = false, isBare, help } = props;
  const told = tell(store.schema.value, path);
  const value = text(at(store.scenario.value, path));
  const change = (typed: string): void => {
    if (typed.trim() === "" && isOptional) return store.edit(path, undefined);
    const number = Number(typed);
    // What is no number is kept as it was typed, so that the check can say so.
    store.edit(path, typed.trim() !== "" && Number.isFinite(number) && !/\.$|\.0*$/.test(typed) ? number : typed);
  };
  return (
    <Frame {...{ path, label, told, isOptional, help, isBare }} range={rangeIn(told, "")}>
      {(aria) => (
        <input
          {...aria}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={value}
          onInput={(e) => change(e.currentTarget.value)}
        />
      )}
    </Frame>
  );
}

/** Something that is so or is not; left out where it is not. */
export function TickEntry({ path, label, help, isBare }: { path: Path; label: string; help?: string; isBare?: boolean }): JSX.Element {
  const told = tell(store.schema.value, path);
  const id = idOf(path);
  const problems = problemsAt(path);
  const words = help ?? told.words;
  return (
    <div class={`tick${problems.length > 0 ? " wrong" : ""}`}>
      <label class="choice">
        <input
          id={id}
          type="checkbox"
          aria-describedby={`${id}-help ${id}-wrong`}
          checked={at(store.scenario.value, path) === true}
          onChange={(e) => store.edit(path, e.currentTarget.checked || undefined)}
        />
        {label}
      </label>
      <p class={isBare ? "help unseen" : "help"} id={`${id}-help`}>
        {words && !/[.;:!?]$/.test(words) ? `${words}.` : words}
      </p>
      <Wrongs id={`${id}-wrong`} problems={problems} />
    </div>
  );
}

/** Words, a date, or a date with a clock time. */
export function TextEntry(props: EntryProps & { type?: "text" | "date" | "datetime-local"; list?: string }): JSX.Element {
  const { path, label, isOptional = false, isBare, help, type = "text", list } = props;
  const told = tell(store.schema.value, path);
  const value = text(at(store.scenario.value, path));
  const change = (typed: string): void =>
    store.edit(path, typed === "" && isOptional ? undefined : typed);
  return (
    <Frame {...{ path, label, told, isOptional, help, isBare }} range="">
      {(aria) => (
        <input
          {...aria}
          type={type}
          list={list}
          value={value}
          onInput={(e) => change(e.currentTarget.value)}
        />
      )}
    </Frame>
  );
}

/** One of the schema's choices. */
export function ChoiceEntry(props: EntryProps & { none?: string }): JSX.Element {
  const { path, label, isOptional = false, isBare, help, none } = props;
  const told = tell(store.schema.value, path);
  const value = text(at(store.scenario.value, path));
  return (
    <Frame {...{ path, label, told, isOptional, help, isBare }} range="">
      {(aria) => (
        <select
          {...aria}
          value={value}
          onChange={(e) => store.edit(path, e.currentTarget.value || undefined)}
        >
          {(none !== undefined || !told.choices.includes(value)) && <option value="">{none ?? "choose"}</option>}
          {told.choices.map((choice) => (
            <option key={choice} value={choice}>
              {choice}
            </option>
          ))}
        </select>
      )}
    </Frame>
  );
}
