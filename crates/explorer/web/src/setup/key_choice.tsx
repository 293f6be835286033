// Where the scenario may be written in one of several forms: a choice that swaps the keys.

import type { ComponentChildren, JSX } from "preact";
import { at, pointer, put, type Json, type Path, type Scenario } from "../model/scenario";
import { allToSystem } from "../model/units";
import * as store from "../model/store";
import { idOf, problemsAt, Wrongs } from "./wrongs";

export interface KeyOption {
  label: string;
  /** Key whose presence tells that this option is taken. */
  key: string;
  /** What is put in when it is chosen. */
  fresh: Scenario;
  /** Keys of the other options, taken away. */
  drops: string[];
  /** Those of them that may stand beside this one and have an entry there. */
  beside?: string[];
}

/** What each choice held when it was left, so that trying another loses nothing. */
const left = new Map<string, Scenario>();

interface Props {
  path: Path;
  legend: string;
  options: KeyOption[];
  children: (key: string) => ComponentChildren;
}

export function KeyChoice({ path, legend, options, children }: Props): JSX.Element {
  const here = (at(store.scenario.value, path) ?? {}) as Scenario;
  const taken = options.find((option) => here[option.key] !== undefined);
  const name = `${idOf(path)}-option-${options[0]?.key}`;
  // Of the choice as a whole, and of keys of the other options, which have no entry now.
  const dropped = taken?.drops.filter((key) => !taken.beside?.includes(key));
  const unseen = (dropped ?? options.map((option) => option.key)).map((key) => pointer([...path, key]));
  const own = taken && here[taken.key];
  // An option that is a section has entries for its keys only.
  if (taken && own !== null && (typeof own === "object" || own === true)) unseen.push(pointer([...path, taken.key]));
  const wrongs = problemsAt(path).filter((p) => p.pointer === pointer(path) || unseen.includes(p.pointer));
  const choose = (option: KeyOption): void => {
    if (taken === option) return;
    if (taken) left.set(`${name} ${taken.key}`, here);
    let next: Json = here;
    for (const key of option.drops) next = put(next, [key], undefined);
    const known = left.get(`${name} ${option.key}`);
    const fresh = known ?? (allToSystem(option.fresh, store.system.value) as Scenario);
    // What nobody has entered yet stays a starting value, whatever the choice.
    store.edit(path, { ...(next as Scenario), ...fresh }, known ? [] : Object.keys(option.fresh).map((key) => [...path, key]));
  };
  return (
    <fieldset class="one-of">
      <legend>{legend}</legend>
      <div class="choices">
        {options.map((option) => (
          <label key={option.key} class="choice">
            <input type="radio" name={name} data-sets={pointer([...path, option.key])} checked={taken === option} onChange={() => choose(option)} />
            {option.label}
          </label>
        ))}
      </div>
      <Wrongs problems={wrongs} />
      {taken && <div class="entries">{children(taken.key)}</div>}
    </fieldset>
  );
}
