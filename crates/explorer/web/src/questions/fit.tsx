// How whole turns of the wheel and the outlets go together, said where either is asked.

import type { JSX } from "preact";
import { at } from "../model/scenario";
import { isStarting } from "../model/starting";
import * as store from "../model/store";

/** What the check says of whole turns that do not end at the outlets. */
const FIT = /\bturns? (a move|more)|whole turns|at part of a turn/;

/** Without the names of the alternatives that it begins with. */
const plain = (warning: string): string => {
  const found = /(?::\s)((?:\d|A|One|The|in pass).*)$/s.exec(warning);
  const words = found?.[1] ?? warning;
  return `${words[0]?.toUpperCase() ?? ""}${words.slice(1)}`.replace(/\.?$/, ".");
};

export function WheelFit(): JSX.Element | null {
  if (at(store.scenario.value, ["lateral", "machine"]) === "hand move") return null;
  if (isStarting(store.scenario.value, ["lateral", "machine"])) return null;
  const check = store.check.value;
  const outlets = String(at(store.scenario.value, ["outlets", "spacing"]) ?? "");
  const isOpen = isStarting(store.scenario.value, ["outlets", "spacing"]);
  const found = check?.ok ? check.warnings.filter((words) => FIT.test(words)).map(plain) : (check?.problems ?? []).filter((p) => p.pointer.startsWith("/wheel") || FIT.test(p.problem)).map((p) => [p.problem, p.hint].filter(Boolean).join(" "));
  const rolls = check?.ok ? store.layout.value?.alternatives[0]?.wheel : undefined;
  if (!check) return null;
  return (
    <div class={`wheel-fit${found.length > 0 ? " misses" : ""}`} role="status">
      <p>
        <b>{found.length > 0 ? `Whole turns do not end at outlets ${outlets} apart.` : `Whole turns end at outlets ${outlets} apart.`}</b>
        {isOpen && " (Their spacing is a starting value; the next question asks for it.)"}
      </p>
      {found.slice(0, 1).map((words) => (
        <p key={words}>{words}</p>
      ))}
      {rolls && found.length === 0 && rolls.length > 0 && <p class="help">{rolls.slice(0, 2).map(({ what, value }) => `${what}: ${value}`).join("; ")}</p>}
    </div>
  );
}
