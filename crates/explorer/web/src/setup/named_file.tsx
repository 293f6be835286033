// Entries for files that a scenario names: read by the browser, sent to the program on this machine
// with each question, kept on this browser's shelf.

import type { JSX } from "preact";
import { base, read, sizeText, Unfit } from "../model/packed";
import { at, text, type Json, type Path } from "../model/scenario";
import { isAtHand, isKeeping, keepFiles } from "../model/shelf";
import * as store from "../model/store";
import { Entry } from "./entry";
import { idOf, problemsAt, problemsOf, Wrongs } from "./wrongs";

/** Takes a chosen file under the name that a scenario uses for it; its own where none is given. */
export async function openAs(name: string | null, file: File | undefined): Promise<[string, string] | null> {
  if (!file) return null;
  try {
    const found = await read(file);
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
export function FileEntry({ path, label, help, none = "No file yet.", fresh }: Props): JSX.Element {
  const id = idOf([...path, "file"]);
  const name = text(at(store.scenario.value, [...path, "file"]));
  const problems = problemsAt([...path, "file"]);
  const others = Object.keys(store.files.value).filter((other) => other !== name);
  const write = (taken: string, body: string): void => {
    if (fresh) store.edit(path, fresh(taken, body));
    else store.edit([...path, "file"], taken);
  };
  const take = async (file: File | undefined): Promise<void> => {
    const taken = await openAs(null, file);
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
          aria-describedby={`${id}-standing ${id}-help ${id}-wrong`}
          aria-invalid={problems.length > 0}
          onChange={(e) => {
            void take(e.currentTarget.files?.[0]);
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

/** What the numbers of a boundary probably are: the standard's degrees, unless they are too large. */
export function guessCoordinates(body: string, system: "us" | "si"): "lon/lat" | "ft" | "m" {
  const pairs = [...body.matchAll(/\[\s*(-?[\d.eE+-]+)\s*,\s*(-?[\d.eE+-]+)/g)];
  const isDegrees = pairs.every(([, x, y]) => Math.abs(Number(x)) <= 180 && Math.abs(Number(y)) <= 90);
  return pairs.length > 0 && isDegrees ? "lon/lat" : system === "us" ? "ft" : "m";
}

/** The section for a boundary that was opened. */
export const boundaryOf = (name: string, body: string): Json => ({ file: name, coordinates: guessCoordinates(body, store.system.value) });

/** The edge of a field that is not the whole rectangle. */
export function BoundaryEntries(): JSX.Element {
  const path = ["field", "boundary"] as const;
  const isThere = at(store.scenario.value, path) !== undefined;
  return (
    <>
      <FileEntry
        path={path}
        label="Boundary, if the field is not a rectangle"
        help="A GeoJSON polygon, holes allowed. Uniformity then counts inside it only; water beyond it is off the field."
        fresh={boundaryOf}
      />
      {isThere && (
        <>
          <Entry path={[...path, "coordinates"]} />
          <Wrongs problems={problemsOf(path)} />
          <button type="button" onClick={() => store.edit(path, undefined)}>
            Use the whole rectangle
          </button>
        </>
      )}
    </>
  );
}
