// One entry of the set-up: label, field, unit, what it means, its range, and what is wrong with it.

import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { at, pointer, text, type Path } from "../model/scenario";
import { rangeIn, tell, type Told } from "../model/schema";
import { convert, numberOf, short, split, typed, unitFor, unitsLike } from "../model/units";
import * as store from "../model/store";
import type { Problem } from "../model/api";

/** What is wrong at a path or below it. */
export function problemsAt(path: Path): Problem[] {
  const here = pointer(path);
  const all = store.check.value?.problems ?? [];
  return all.filter((p) => p.pointer === here || p.pointer.startsWith(`${here}/`));
}

/** An id that a link in the list of problems can lead to. */
export const idOf = (path: Path): string => `entry${pointer(path).replace(/\//g, "-")}`;

const assumedAt = (path: Path): string => {
  const found = store.check.value?.assumptions.find((a) => a.what === pointer(path));
  return found ? `Assumed: ${found.value} (${found.why}).` : "";
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
  const isLeftOut = at(store.scenario.value, path) === undefined;
  const words = help ?? told.words;
  const parts = [words && /[.;:!?]$/.test(words) ? words : words && `${words}.`, range && `Allowed: ${range}.`, isLeftOut && assumedAt(path)];
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
      <div id={`${id}-wrong`} class="wrongs">
        {problems.map((p) => (
          <p key={p.problem}>
            {[p.problem, p.allowed, p.hint].filter(Boolean).join("; ")}
          </p>
        ))}
      </div>
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

/** A number with its unit. */
export function QuantityEntry(props: EntryProps): JSX.Element {
  const { path, label, isOptional = false, isBare, help, moreUnits = [] } = props;
  const told = tell(store.schema.value, path);
  const system = store.system.value;
  const usual = unitFor(split(told.example).unit, system);
  const value = text(at(store.scenario.value, path));
  const [draft, setDraft] = useState({ number: "", unit: "" });
  const compose = (q: { number: string; unit: string }): string =>
    q.number.trim() === "" && isOptional ? "" : `${q.number.trim()} ${q.unit}`;
  const parsed = split(value);
  // What was typed stays as typed for as long as it is what the scenario holds.
  const live = draft.unit && compose(draft) === value ? draft : { ...parsed, unit: parsed.unit || usual };
  const change = (next: { number: string; unit: string }): void => {
    setDraft(next);
    const composed = compose(next);
    store.edit(path, composed === "" ? undefined : composed);
  };
  const changeUnit = (unit: string): void => {
    const turned = convert(numberOf(live.number), live.unit, unit);
    const number = turned !== null && Number.isFinite(turned) ? short(turned) : live.number;
    change({ number, unit });
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
            onInput={(e) => change({ number: e.currentTarget.value, unit: live.unit })}
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
