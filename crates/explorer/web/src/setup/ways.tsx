// Where the scenario may be written in one of several ways: a choice that swaps the keys.

import type { ComponentChildren, JSX } from "preact";
import { at, pointer, put, type Json, type Path, type Scenario } from "../model/scenario";
import { allToSystem } from "../model/units";
import * as store from "../model/store";
import { idOf, problemsAt, Wrongs } from "./wrongs";

export interface Way {
  label: string;
  /** Key whose presence tells that this way is taken. */
  key: string;
  /** What is put in when it is chosen. */
  fresh: Scenario;
  /** Keys of the other ways, taken away. */
  drops: string[];
}

/** What each choice held when it was left, so that trying another loses nothing. */
const left = new Map<string, Scenario>();

interface Props {
  path: Path;
  legend: string;
  ways: Way[];
  children: (key: string) => ComponentChildren;
}

export function Ways({ path, legend, ways, children }: Props): JSX.Element {
  const here = (at(store.scenario.value, path) ?? {}) as Scenario;
  const taken = ways.find((way) => here[way.key] !== undefined);
  const name = `${idOf(path)}-way-${ways[0]?.key}`;
  // Of the choice as a whole, and of keys of the other ways, which have no entry now.
  const unseen = (taken?.drops ?? ways.map((way) => way.key)).map((key) => pointer([...path, key]));
  const own = taken && here[taken.key];
  // A way that is a section has entries for its keys only.
  if (taken && own !== null && (typeof own === "object" || own === true)) unseen.push(pointer([...path, taken.key]));
  const wrongs = problemsAt(path).filter((p) => p.pointer === pointer(path) || unseen.includes(p.pointer));
  const choose = (way: Way): void => {
    if (taken === way) return;
    if (taken) left.set(`${name} ${taken.key}`, here);
    let next: Json = here;
    for (const key of way.drops) next = put(next, [key], undefined);
    const known = left.get(`${name} ${way.key}`);
    const fresh = known ?? (allToSystem(way.fresh, store.system.value) as Scenario);
    store.edit(path, { ...(next as Scenario), ...fresh });
  };
  return (
    <fieldset class="ways">
      <legend>{legend}</legend>
      <div class="choices">
        {ways.map((way) => (
          <label key={way.key} class="choice">
            <input type="radio" name={name} data-sets={pointer([...path, way.key])} checked={taken === way} onChange={() => choose(way)} />
            {way.label}
          </label>
        ))}
      </div>
      <Wrongs problems={wrongs} />
      {taken && <div class="entries">{children(taken.key)}</div>}
    </fieldset>
  );
}
