// One entry of the set-up: label, field, unit, what it means, its range, and what is wrong with it. What
// is said of a key comes from its row in the program's table; here only what the page says otherwise.

import type { ComponentChildren, JSX } from "preact";
import { useState } from "preact/hooks";
import { at, pointer, text, type Path } from "../model/scenario";
import { keysAt, rangeIn, rowAt, type Row } from "../model/schema";
import { isUnit, split, toUnit, typed, unitFor, unitsLike } from "../model/units";
import * as store from "../model/store";
import { WhoseTag } from "./whose";
import { idOf, problemsAt, Wrongs } from "./wrongs";

/** What holds where nothing is entered: as the program takes it now, else as the table says it. */
function otherwiseAt(path: Path, row: Row): string {
  const isEmpty = at(store.scenario.value, path) === undefined;
  const here = pointer(path);
  const found = store.check.value?.assumptions.find((a) => a.what === here);
  if (found) return `${isEmpty ? "Starting value" : "Taken as"}: ${found.value} (${found.why}).`;
  return isEmpty && row.isOptional && row.otherwise !== "" ? `If left empty: ${row.otherwise}.` : "";
}

const sentence = (words: string): string => (words && !/[.;:!?]$/.test(words) ? `${words}.` : words);

interface FrameProps extends EntryProps {
  row: Row;
  range: string;
  children: (aria: { id: string; "aria-describedby": string; "aria-invalid": boolean }, row: Row) => ComponentChildren;
}

/** What surrounds every entry. */
function Frame({ path, label, row, range, isOptional, help, isBare, children }: FrameProps): JSX.Element {
  const id = idOf(path);
  const problems = problemsAt(path);
  const parts = [sentence(help ?? row.help), range && `Allowed: ${range}.`, otherwiseAt(path, row)];
  const aria = {
    id,
    "aria-describedby": `${id}-help ${id}-wrong`,
    "aria-invalid": problems.length > 0,
  };
  return (
    <div class={`entry${problems.length > 0 ? " wrong" : ""}${isBare ? " bare" : ""}`}>
      <span class="entry-head">
        <label for={id}>
          {label ?? row.label}
          {(isOptional ?? row.isOptional) && <span class="optional"> (optional)</span>}
        </label>
        {!isBare && <WhoseTag path={path} />}
      </span>
      {children(aria, row)}
      <p class={isBare ? "help unseen" : "help"} id={`${id}-help`}>
        {parts.filter(Boolean).join(" ")}
      </p>
      <Wrongs id={`${id}-wrong`} problems={problems} />
    </div>
  );
}

export interface EntryProps {
  path: Path;
  /** In place of what the key's row says. */
  label?: string;
  help?: string;
  isOptional?: boolean;
  isBare?: boolean;
  /** Units of another kind in which it may be entered as well. */
  moreUnits?: string[];
  /** Whether a choice tells what each of its words means. */
  tells?: boolean;
  /** What a choice that is left open is called. */
  none?: string;
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
  const { path, moreUnits = [] } = props;
  const row = rowAt(store.schema.value, path);
  const isOptional = props.isOptional ?? row.isOptional;
  const system = store.system.value;
  const usual = unitFor(split(row.example).unit, system);
  const value = text(at(store.scenario.value, path));
  const [draft, setDraft] = useState({ number: "", unit: "" });
  const [isTyped, setTyped] = useState(false);
  const isBearing = row.range?.lowUnit === "deg" && row.range.low === 0 && row.range.high === 360;
  const compose = (q: { number: string; unit: string }): string => {
    const { number, unit } = typed(q.number, isBearing);
    return number === "" && isOptional ? "" : `${number} ${unit || q.unit}`;
  };
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
    const { number, unit } = typed(live.number, isBearing);
    if (unit || number !== live.number.trim()) change({ number, unit: unit || live.unit });
  };
  const alike = unitsLike(live.unit, system);
  // A value of several kinds, such as money or a share, may be entered in a unit of each.
  const others = row.ranges.slice(1).map((range) => range.highUnit);
  const first = alike.includes(live.unit) ? [] : [live.unit];
  const units = [...new Set([...first, ...alike, ...(alike.includes(usual) ? [] : [usual]), ...others, ...moreUnits])];
  return (
    <Frame {...props} row={row} range={rangeIn(row, live.unit)}>
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
              aria-label={`unit of ${props.label ?? row.label}`}
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
  const { path } = props;
  const row = rowAt(store.schema.value, path);
  const isOptional = props.isOptional ?? row.isOptional;
  const value = text(at(store.scenario.value, path));
  const change = (typed: string): void => {
    if (typed.trim() === "" && isOptional) return store.edit(path, undefined);
    const number = Number(typed);
    // What is no number is kept as it was typed, so that the check can say so.
    store.edit(path, typed.trim() !== "" && Number.isFinite(number) && !/\.$|\.0*$/.test(typed) ? number : typed);
  };
  return (
    <Frame {...props} row={row} range={rangeIn(row, "")}>
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
export function TickEntry({ path, label, help, isBare }: EntryProps): JSX.Element {
  const row = rowAt(store.schema.value, path);
  const id = idOf(path);
  const problems = problemsAt(path);
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
        {label ?? row.label}
      </label>
      <p class={isBare ? "help unseen" : "help"} id={`${id}-help`}>
        {sentence(help ?? row.help)}
      </p>
      <Wrongs id={`${id}-wrong`} problems={problems} />
    </div>
  );
}

/** Words, a date, or a date with a clock time. */
export function TextEntry(props: EntryProps & { list?: string }): JSX.Element {
  const { path, list } = props;
  const row = rowAt(store.schema.value, path);
  const isOptional = props.isOptional ?? row.isOptional;
  const type = row.kind === "date" ? "date" : row.kind === "moment" ? "datetime-local" : "text";
  const value = text(at(store.scenario.value, path));
  const change = (typed: string): void =>
    store.edit(path, typed === "" && isOptional ? undefined : typed);
  return (
    <Frame {...props} row={row} range="">
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
export function ChoiceEntry(props: EntryProps): JSX.Element {
  const { path } = props;
  const row = rowAt(store.schema.value, path);
  const none = props.none ?? (row.isOptional ? row.otherwise.replace(/ \(.*\)$/, "") : undefined);
  const value = text(at(store.scenario.value, path));
  return (
    <Frame {...props} row={row} range="">
      {(aria) => (
        <select
          {...aria}
          value={value}
          onChange={(e) => store.edit(path, e.currentTarget.value || undefined)}
        >
          {(none !== undefined || !row.choices.includes(value)) && <option value="">{none ?? "choose"}</option>}
          {row.choices.map((choice, i) => (
            <option key={choice} value={choice}>
              {props.tells && row.meanings[i] ? `${choice}: ${row.meanings[i]}` : choice}
            </option>
          ))}
        </select>
      )}
    </Frame>
  );
}

/** The entry of a key, of the kind that its row says. */
export function Entry(props: EntryProps): JSX.Element | null {
  switch (rowAt(store.schema.value, props.path).kind) {
    case "quantity":
      return <QuantityEntry {...props} />;
    case "number":
      return <NumberEntry {...props} />;
    case "choice":
      return <ChoiceEntry {...props} />;
    case "tick":
      return <TickEntry {...props} />;
    case "section":
      return null;
    default:
      return <TextEntry {...props} />;
  }
}

interface EntriesProps {
  /** The section. */
  path: Path;
  /** Its keys, where not all of them. */
  keys?: string[];
  /** Keys that have a place of their own. */
  except?: string[];
}

/** Entries for keys of a section, as its table has them: a new key of the table stands here by itself. */
export function Entries({ path, keys, except = [] }: EntriesProps): JSX.Element {
  const all = keys ?? keysAt(store.schema.value, path).filter((key) => !except.includes(key));
  return (
    <>
      {all.map((key) => (
        <Entry key={key} path={[...path, key]} />
      ))}
    </>
  );
}
