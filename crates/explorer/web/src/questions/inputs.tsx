// The entries of the ten questions: a number with values to pick from, and a choice of one of several.

import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import type { Problem } from "../model/api";
import { isUnit, split, typed } from "../model/units";
import { Wrongs } from "../setup/wrongs";

interface NumberProps {
  id: string;
  label: string;
  /** What was answered, with its unit; empty while nothing was. */
  value: string;
  /** What holds while nothing was. */
  start: string;
  unit: string;
  /** Units in which it may be told as well. */
  units?: string[];
  picks?: string[];
  help?: string;
  problems?: Problem[];
  set: (value: string) => void;
}

/** A number: typed, or picked. Left empty, its starting value holds and is told. */
export function NumberAnswer({ id, label, value, start, unit, units = [], picks = [], help, problems = [], set }: NumberProps): JSX.Element {
  const [draft, setDraft] = useState<{ number: string; unit: string; of: string } | null>(null);
  const parts = split(value);
  // What is being typed stays as typed for as long as it is what is held.
  const live = draft && draft.of === value ? draft : { number: parts.number, unit: parts.unit || unit };
  const change = (number: string, inUnit: string): void => {
    const told = typed(number);
    const composed = told.number === "" ? "" : `${told.number} ${told.unit || inUnit}`;
    setDraft({ number, unit: inUnit, of: composed });
    set(composed);
  };
  /** A unit typed along with the number is taken, once the field is left. */
  const settle = (): void => {
    const told = typed(live.number);
    if (told.unit && isUnit(told.unit)) change(told.number, told.unit);
  };
  const shown = [...new Set([live.unit, unit, ...units])].filter(Boolean);
  return (
    <div class={`answer-entry${problems.length > 0 ? " wrong" : ""}`}>
      <label for={id}>{label}</label>
      <span class="quantity">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          aria-describedby={`${id}-start ${id}-help ${id}-wrong`}
          aria-invalid={problems.length > 0}
          value={live.number}
          onInput={(e) => change(e.currentTarget.value, live.unit)}
          onBlur={settle}
        />
        {shown.length > 1 ? (
          <select aria-label={`unit of ${label}`} value={live.unit} onChange={(e) => change(live.number, e.currentTarget.value)}>
            {shown.map((one) => (
              <option key={one} value={one}>
                {one}
              </option>
            ))}
          </select>
        ) : (
          <span class="unit">{unit}</span>
        )}
      </span>
      {picks.length > 0 && (
        <span class="picks" role="group" aria-label={`Common values: ${label.toLowerCase()}`}>
          {picks.map((pick) => (
            <button key={pick} type="button" class="pick" aria-pressed={value === `${pick} ${unit}`} onClick={() => change(pick, unit)}>
              {pick}
              <span class="unseen"> {unit}</span>
            </button>
          ))}
        </span>
      )}
      <p class="start-note" id={`${id}-start`}>
        {value === "" && start !== "" && (
          <>
            <span class="whose starting">starting value</span> {start}, until you enter yours
          </>
        )}
      </p>
      {help && (
        <p class="help" id={`${id}-help`}>
          {help}
        </p>
      )}
      <Wrongs id={`${id}-wrong`} problems={problems} />
    </div>
  );
}

export interface Option {
  value: string;
  label: string;
  words?: string;
}

interface ChoiceProps {
  name: string;
  legend: string;
  options: Option[];
  /** What was chosen; empty while nothing was. */
  value: string;
  /** The starting value, by its label. */
  start: string;
  set: (value: string) => void;
  children?: ComponentChildren;
}

/** One of several, none of them chosen at first. */
export function ChoiceAnswer({ name, legend, options, value, start, set, children }: ChoiceProps): JSX.Element {
  return (
    <fieldset class="answer-choice">
      <legend class="unseen">{legend}</legend>
      {options.map((option) => (
        <label key={option.value} class={`choice option${option.value === value ? " taken" : ""}`}>
          <input type="radio" name={name} value={option.value} checked={option.value === value} onChange={() => set(option.value)} />
          <span>
            <b>{option.label}</b>{" "}
            {option.words && <span class="option-words">{option.words}</span>}
          </span>
        </label>
      ))}
      <p class="start-note">
        {value === "" && start !== "" && (
          <>
            <span class="whose starting">starting value</span> {start}, until you choose
          </>
        )}
      </p>
      {children}
    </fieldset>
  );
}
