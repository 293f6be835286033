// What starts a long run: how many seasons of weather it takes, its button, and one to cancel it.

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { cancel } from "../model/runs";
import * as store from "../model/store";

interface Props {
  id: string;
  own: store.LongRun<any>;
  /** Seasons that are taken where none are typed. */
  usual: string;
  /** Words of the button, and those while a run is under way. */
  words: { start: string; again: string };
  help: string;
  onStart: (seasons: number | undefined) => void;
}

const [LEAST, MOST] = [2, 10_000];

export function Starter({ id, own, usual, words, help, onStart }: Props): JSX.Element {
  const [seasons, setSeasons] = useState("");
  const typed = seasons.trim() === "" ? undefined : Number(seasons);
  const isWrong = typed !== undefined && !(Number.isInteger(typed) && typed >= LEAST && typed <= MOST);
  const isBusy = own.busy.value !== null;
  return (
    <>
      <label for={id}>Seasons of weather</label>
      <input
        id={id}
        type="text"
        inputMode="numeric"
        value={seasons}
        placeholder={usual}
        aria-describedby={`${id}-help`}
        aria-invalid={isWrong}
        onInput={(e) => setSeasons(e.currentTarget.value)}
      />
      <button type="button" class="main" disabled={isWrong || !store.check.value?.ok} onClick={() => onStart(typed)}>
        {isBusy ? words.again : words.start}
      </button>
      {isBusy && (
        <button type="button" onClick={() => void cancel(own)}>
          Cancel
        </button>
      )}
      <p id={`${id}-help`} class={isWrong ? "wrongs" : "help"}>
        {isWrong ? `Enter a whole number from ${LEAST} to ${MOST}.` : help}
      </p>
    </>
  );
}
