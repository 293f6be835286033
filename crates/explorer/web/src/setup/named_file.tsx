// Entries for files that a scenario names: read by the browser, sent to the program on this machine
// with each question, kept on this browser's shelf.

import type { JSX } from "preact";
import { at, text, type Json, type Path } from "../model/scenario";
import { keepFiles } from "../model/shelf";
import * as store from "../model/store";
import { ChoiceEntry, idOf, problemsAt } from "./entry";

interface Props {
  /** The section that holds the key `file`. */
  path: Path;
  label: string;
  help: string;
  /** The section to write when a file is taken; without it only its name is. */
  fresh?: (name: string, body: string) => Json;
}

/** A file to open. */
export function FileEntry({ path, label, help, fresh }: Props): JSX.Element {
  const id = `${idOf(path)}-file`;
  const name = text(at(store.scenario.value, [...path, "file"]));
  const isThere = store.files.value[name] !== undefined || store.knownFiles.value.includes(name);
  const problems = problemsAt([...path, "file"]);
  const take = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    const body = await file.text();
    await keepFiles({ [file.name]: body });
    if (fresh) store.edit(path, fresh(file.name, body));
    else store.edit([...path, "file"], file.name);
  };
  return (
    <div class={`entry${problems.length > 0 ? " wrong" : ""}`}>
      <label for={id}>{label}</label>
      <input
        id={id}
        type="file"
        aria-describedby={`${id}-help ${id}-wrong`}
        onChange={(e) => {
          void take(e.currentTarget.files?.[0]);
          e.currentTarget.value = "";
        }}
      />
      <p class="help" id={`${id}-help`}>
        {name !== "" && (isThere ? `${name} is at hand. ` : `${name} is not at hand: open it here. `)}
        {help}
      </p>
      <div id={`${id}-wrong`} class="wrongs">
        {problems.map((p) => (
          <p key={p.problem}>{[p.problem, p.allowed, p.hint].filter(Boolean).join("; ")}</p>
        ))}
      </div>
    </div>
  );
}

/** What the numbers of a boundary probably are: the standard's degrees, unless they are too large. */
export function guessCoordinates(body: string, system: "us" | "si"): "lon/lat" | "ft" | "m" {
  const pairs = [...body.matchAll(/\[\s*(-?[\d.eE+-]+)\s*,\s*(-?[\d.eE+-]+)/g)];
  const isDegrees = pairs.every(([, x, y]) => Math.abs(Number(x)) <= 180 && Math.abs(Number(y)) <= 90);
  return pairs.length > 0 && isDegrees ? "lon/lat" : system === "us" ? "ft" : "m";
}

/** The edge of a field that is not the whole rectangle. */
export function BoundaryEntries(): JSX.Element {
  const path = ["field", "boundary"] as const;
  const isThere = at(store.scenario.value, path) !== undefined;
  return (
    <>
      <FileEntry
        path={path}
        label="The field’s edge, where it is no rectangle"
        help="A polygon as GeoJSON, holes allowed; figures are then taken inside it, and water beyond it is off the field."
        fresh={(name, body) => ({ file: name, coordinates: guessCoordinates(body, store.system.value) })}
      />
      {isThere && (
        <>
          <ChoiceEntry path={[...path, "coordinates"]} label="Its numbers are" />
          <button type="button" onClick={() => store.edit(path, undefined)}>
            Take the whole rectangle again
          </button>
        </>
      )}
    </>
  );
}
