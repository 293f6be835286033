// Entries for files that a scenario names: read by the browser, sent to the program on this machine
// with each question, kept on this browser's shelf.

import type { JSX } from "preact";
import { base, read, sizeText, Unfit } from "../model/packed";
import { at, text, type Json, type Path } from "../model/scenario";
import { converted } from "../model/shapefile";
import { isAtHand, isKeeping, keepFiles } from "../model/shelf";
import * as store from "../model/store";
import { idOf, problemsAt, Wrongs } from "./wrongs";

/** Takes a chosen file, or the parts of a shapefile, under the name that a scenario uses for it; its own where none is given. */
export async function openAs(name: string | null, chosen: File[]): Promise<[string, string] | null> {
  const [file] = chosen;
  if (!file) return null;
  try {
    const found = await converted((await Promise.all(chosen.map(read))).flat());
    const [first] = found;
    if (!first || found.length > 1) throw new Unfit(`${file.name} holds several files: open it with “Open files” above.`);
    const taken = name ?? base(first.name);
    await keepFiles({ [taken]: first.body });
    return [taken, first.body];
  } catch (error) {
    if (!(error instanceof Unfit)) throw error;
    store.say(error.message);
    return null;
  }
}

interface Props {
  /** The section that holds the key `file`. */
  path: Path;
  label: string;
  help: string;
  /** What it means that no file is named. */
  none?: string;
  /** Whether it may come in several parts, as a shapefile does. */
  hasParts?: boolean;
  /** The section to write when a file is taken; without it only its name is. */
  fresh?: (name: string, body: string) => Json;
}

/** Where a named file stands. */
function standing(name: string, none: string): string {
  if (name === "") return none;
  const body = store.files.value[name];
  if (body === undefined) return `${name} is not at hand: open it here.`;
  const size = sizeText(body.length);
  return isKeeping.value
    ? `${name} (${size}) is at hand, and kept in this browser.`
    : `${name} (${size}) is at hand, but this browser keeps no files: open it again after a reload.`;
}

/** A file to open, or one of those at hand to take. */
export function FileEntry({ path, label, help, none = "No file yet.", hasParts = false, fresh }: Props): JSX.Element {
  const id = idOf([...path, "file"]);
  const name = text(at(store.scenario.value, [...path, "file"]));
  const problems = problemsAt([...path, "file"]);
  const others = Object.keys(store.files.value).filter((other) => other !== name);
  const write = (taken: string, body: string): void => {
    if (fresh) store.edit(path, fresh(taken, body));
    else store.edit([...path, "file"], taken);
  };
  const take = async (chosen: File[]): Promise<void> => {
    const taken = await openAs(null, chosen);
    if (taken) write(...taken);
  };
  return (
    <div class={`entry${problems.length > 0 ? " wrong" : ""}`}>
      <label for={id}>{label}</label>
      <span class="filepick">
        <input
          id={id}
          class="file-input"
          type="file"
          multiple={hasParts}
          aria-describedby={`${id}-standing ${id}-help ${id}-wrong`}
          aria-invalid={problems.length > 0}
          onChange={(e) => {
            void take([...(e.currentTarget.files ?? [])]);
            e.currentTarget.value = "";
          }}
        />
        <label for={id} class="as-button">
          {name === "" ? "Open a file" : "Open another file"}
        </label>
        <span id={`${id}-standing`} class={`standing${name !== "" && !isAtHand(name) ? " missing" : ""}`}>{standing(name, none)}</span>
        {others.map((other) => (
          <button type="button" key={other} onClick={() => write(other, store.files.value[other]!)}>
            Take {other}
          </button>
        ))}
      </span>
      <p class="help" id={`${id}-help`}>
        {help}
      </p>
      <Wrongs id={`${id}-wrong`} problems={problems} />
    </div>
  );
}

/** How a weather file is laid out: TMY3 begins with its station's number and names dates by month,
 * EPW with the word LOCATION. */
export function guessLayout(body: string): "csv" | "tmy3" | "epw" {
  if (/^LOCATION,/i.test(body)) return "epw";
  return /^\d{6},[^\n]*\n\s*"?Date \(MM\/DD\/YYYY\)/.test(body) ? "tmy3" : "csv";
}
