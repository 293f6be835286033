// How whole turns of the wheel and the outlets go together, said where either is asked.

import type { JSX } from "preact";
import { at } from "../model/scenario";
import { withoutKeys } from "../model/show";
import { isStarting } from "../model/starting";
import * as store from "../model/store";

/** What the check says of whole turns that do not end at the outlets. */
const FIT = /\bturns? (a move|more)|whole turns|at part of a turn/;

/** The words of a warning without the names of the alternatives that it begins with and without keys of the
 * file: what is so, and what can be done. */
function parted(warning: string): [string, string[]] {
  const found = /:\s((?:The|A|One|\d)\b.*)$/s.exec(warning);
  const plain = withoutKeys(found?.[1] ?? warning).replace(/\.?$/, ".");
  const [first = "", ...rest] = plain.split(/(?<=\.)\s+(?=[A-Z])/);
  return [first, rest];
}

/** Whether the wheels' whole turns end at the outlets, and if not, how far they miss and the ways out. */
export function WheelFit(): JSX.Element | null {
  if (at(store.scenario.value, ["lateral", "machine"]) === "hand move") return null;
  if (isStarting(store.scenario.value, ["lateral", "machine"])) return null;
  const check = store.check.value;
  if (!check) return null;
  const outlets = String(at(store.scenario.value, ["outlets", "spacing"]) ?? "");
  const isOpen = isStarting(store.scenario.value, ["outlets", "spacing"]);
  const wrong = check.problems.filter((p) => p.pointer.startsWith("/wheel") || FIT.test(p.problem)).map((p) => [p.problem, p.hint].filter(Boolean).join(" "));
  const [told] = check.ok ? check.warnings.filter((words) => FIT.test(words)) : wrong;
  if (!check.ok && !told) return null;
  const [first, rest] = told ? parted(told) : ["", []];
  return (
    <div class={`wheel-fit${told ? " misses" : ""}`} role="status">
      <p>
        <b>{told ? `Whole turns do not end at outlets ${outlets} apart.` : `Whole turns end at outlets ${outlets} apart.`}</b>
        {isOpen && " Their spacing is a starting value; the next question asks for it."}
      </p>
      {first && <p>{first}</p>}
      {rest.length > 0 && (
        <details class="more">
          <summary>How it is simulated, and ways out</summary>
          {rest.map((words) => (
            <p key={words}>{words}</p>
          ))}
        </details>
      )}
    </div>
  );
}
