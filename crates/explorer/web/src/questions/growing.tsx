// The field beside the questions, drawn as far as it is told, and in words what is told so far.

import type { JSX } from "preact";
import { text } from "../model/scenario";
import { standingOf } from "../model/standing";
import * as store from "../model/store";
import { FieldPicture } from "../picture/field";
import * as precis from "../setup/precis";

/** What the picture has from which question on. */
const PARTS: [from: number, part: string][] = [[1, "pipe"], [2, "machine"], [3, "outlets"]];

const WORDS: [from: number, words: () => string][] = [
  [1, () => precis.field(store.scenario.value)],
  [3, () => precis.wheels(store.scenario.value)],
  [5, () => precis.sprinkler(store.scenario.value)],
  [7, () => precis.crop(store.scenario.value)],
  [8, () => precis.season(store.scenario.value)],
  [9, () => precis.wind(store.scenario.value)],
];

export function Growing({ step }: { step: number }): JSX.Element {
  const field = store.drafted.value?.field;
  const shown = standingOf(0);
  const has = PARTS.filter(([from]) => step >= from).map(([, part]) => `has-${part}`);
  return (
    <aside class={`growing ${has.join(" ")}`} aria-label="Your field so far">
      {field && shown && <FieldPicture field={field} alternative={shown} stop={0} />}
      <ul>
        {WORDS.filter(([from]) => step >= from).map(([from, words]) => (
          <li key={from}>{words()}</li>
        ))}
      </ul>
      <p class="unseen">{text(store.scenario.value.title)}</p>
    </aside>
  );
}
