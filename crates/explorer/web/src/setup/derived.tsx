// What growers know of their fields and the scenario does not hold: acres and the length of the pipe.
// Both follow from entries; typed, they change one of them.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { at, text, type Path } from "../model/scenario";
import { convert, numberOf, short, split, typed } from "../model/units";
import * as store from "../model/store";

interface Props {
  id: string;
  label: string;
  help: string;
  unit: string;
  /** What it is now; not a number where the entries behind it are none. */
  value: number;
  digits: number;
  /** Changes the entry that it changes. */
  set: (value: number) => void;
}

function Derived({ id, label, help, unit, value, digits, set }: Props): JSX.Element {
  // What is being typed stays as typed until the field is left.
  const [draft, setDraft] = useState<string | null>(null);
  const [isWrong, setWrong] = useState(false);
  const type = (text: string): void => {
    setDraft(text);
    const number = numberOf(typed(text).number);
    setWrong(!(number > 0 && Number.isFinite(number)));
    if (number > 0 && Number.isFinite(number)) set(number);
  };
  const leave = (): void => {
    setDraft(null);
    setWrong(false);
  };
  return (
    <div class={`entry${isWrong ? " wrong" : ""}`}>
      <label for={id}>{label}</label>
      <span class="quantity">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          aria-describedby={`${id}-help ${id}-wrong`}
          aria-invalid={isWrong}
          value={draft ?? (Number.isFinite(value) ? short(value, digits) : "")}
          onInput={(e) => type(e.currentTarget.value)}
          onBlur={leave}
        />
        <span class="unit">{unit}</span>
      </span>
      <p class="help" id={`${id}-help`}>
        {help}
      </p>
      <div class="wrongs" id={`${id}-wrong`}>
        {isWrong && <p>Enter a number above 0.</p>}
      </div>
    </div>
  );
}

/** A length of the scenario in meters. */
function meters(path: Path): number {
  const { number, unit } = split(text(at(store.scenario.value, path)));
  return convert(numberOf(number), unit, "m") ?? NaN;
}

const ACROSS = ["field", "width_across"] as const;
const AC_M2 = 4046.8564224;
const HA_M2 = 10_000;
/** Digits of what is written into an entry: far below what can be measured. */
const WRITTEN = 6;

/** The area of the rectangle; typed, it moves the side across the pipe. */
export function AreaEntry(): JSX.Element {
  const isUs = store.system.value === "us";
  const one = isUs ? AC_M2 : HA_M2;
  const along = meters(["field", "length_along_pipe"]);
  const set = (area: number): void => {
    if (!(along > 0)) return;
    const unit = isUs ? "ft" : "m";
    const across = convert((area * one) / along, "m", unit);
    if (across !== null) store.edit(ACROSS, `${short(across, WRITTEN)} ${unit}`);
  };
  return (
    <Derived
      id="derived-area"
      label="Or its area"
      help="Area of the rectangle. Typing it sets the side across the pipe."
      unit={isUs ? "ac" : "ha"}
      value={(along * meters(ACROSS)) / one}
      digits={4}
      set={set}
    />
  );
}

/** The length of the pipe; typed, it changes the number of sprinklers. */
export function PipeLengthEntry(): JSX.Element {
  const unit = store.system.value === "us" ? "ft" : "m";
  const apart = meters(["lateral", "sprinkler_spacing"]);
  const count = Number(at(store.scenario.value, ["lateral", "sprinklers"]));
  const set = (length: number): void => {
    const long = convert(length, unit, "m");
    if (long !== null && apart > 0) store.edit(["lateral", "sprinklers"], Math.max(1, Math.round(long / apart)));
  };
  return (
    <Derived
      id="derived-pipe"
      label="Or the length of the pipe"
      help="Number of sprinklers times their spacing. Typing it sets the number of sprinklers."
      unit={unit}
      value={convert(count * apart, "m", unit) ?? NaN}
      digits={6}
      set={set}
    />
  );
}
