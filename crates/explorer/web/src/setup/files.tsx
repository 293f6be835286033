// Files that the scenario names: those that are missing, those that are at hand, what is kept.

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { filesNamed } from "../model/scenario";
import { base, sizeText } from "../model/packed";
import { clearShelf, isAtHand, onShelf, takeOne, type OnShelf } from "../model/shelf";
import * as store from "../model/store";
import { openAs } from "./named_file";

function useShelf(): [OnShelf[], () => void] {
  const [kept, setKept] = useState<OnShelf[]>([]);
  const look = (): void => void onShelf().then(setKept);
  useEffect(look, [store.shelved.value]);
  return [kept, look];
}

const dayOf = (ms: number): string => new Date(ms).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });

/** Files that the scenario names and that are not at hand. */
export function FilesWanted(): JSX.Element | null {
  const [kept] = useShelf();
  const wanted = filesNamed(store.scenario.value).filter((name) => name !== "" && !isAtHand(name));
  if (wanted.length === 0) return null;
  return (
    <div class="problems">
      <h3>Files the scenario uses</h3>
      {wanted.map((name, i) => (
        <div key={name} class="wanted">
          <p>
            <label for={`wanted-${i}`}>Open {name}</label>{" "}
            <input id={`wanted-${i}`} type="file" multiple onChange={(e) => void openAs(name, [...(e.currentTarget.files ?? [])])} />
          </p>
          {kept.filter((one) => base(one.name) === base(name)).map((one) => (
            <p key={one.digest}>
              <button type="button" onClick={() => void takeOne(name, one.digest)}>
                Use the one from {dayOf(one.used)}, {sizeText(one.characters)}
              </button>{" "}
              that this browser keeps under this name
            </p>
          ))}
        </div>
      ))}
    </div>
  );
}

/** What lies in this browser, and how to be rid of it. */
export function FilesKept(): JSX.Element | null {
  const [kept, look] = useShelf();
  if (kept.length === 0) return null;
  const forget = (): void =>
    void clearShelf().then(() => {
      look();
      store.say("Forgotten. Files already open stay open until you leave this page.");
    });
  const all = kept.reduce((sum, one) => sum + one.characters, 0);
  return (
    <details class="group assumed">
      <summary>
        <h3>Files kept in this browser</h3>
        <span class="precis">
          {kept.length === 1 ? "One file" : `${kept.length} files`}, {sizeText(all)}; when there are too many, the oldest are dropped.
        </span>
      </summary>
      <ul>
        {kept.map((one) => (
          <li key={one.digest}>
            {one.name || "a file"}, {sizeText(one.characters)}, used {dayOf(one.used)}
          </li>
        ))}
      </ul>
      <p class="buttons">
        <button type="button" onClick={forget}>
          Forget them all
        </button>
      </p>
    </details>
  );
}
