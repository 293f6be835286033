// What is wrong, and where on the page it is told: beside the entry, the row or the section that the
// program names.

import type { JSX } from "preact";
import type { Problem } from "../model/api";
import { pointer, type Path } from "../model/scenario";
import * as store from "../model/store";

/** What is wrong at a path or below it. */
export function problemsAt(path: Path): Problem[] {
  const here = pointer(path);
  const all = store.check.value?.problems ?? [];
  return all.filter((p) => p.pointer === here || p.pointer.startsWith(`${here}/`));
}

/** What is wrong with a section as a whole, not with one of its entries. */
export function problemsOf(path: Path): Problem[] {
  const here = pointer(path);
  return problemsAt(path).filter((p) => p.pointer === here);
}

/** What is wrong with a list as a whole or with one of its rows, not with an entry of a row. */
export const problemsOfRows = (path: Path): Problem[] =>
  problemsAt(path).filter((p) => /^(\/\d+)?$/.test(p.pointer.slice(pointer(path).length)));

/** An id that a link in the list of problems can lead to. */
export const idOf = (path: Path): string => `entry${pointer(path).replace(/\//g, "-")}`;

/** What is wrong and what is expected. */
export function sentence({ problem, allowed }: Problem): string {
  const said = problem.charAt(0).toUpperCase() + problem.slice(1);
  return `${said}.${allowed ? ` Expected ${allowed}.` : ""}`;
}

/** What is wrong, in sentences. */
export function Wrongs({ id, problems }: { id?: string; problems: Problem[] }): JSX.Element {
  return (
    <div id={id} class="wrongs">
      {problems.map((p) => (
        <p key={p.pointer + p.problem}>{[sentence(p), p.hint].filter(Boolean).join(" ")}</p>
      ))}
    </div>
  );
}
