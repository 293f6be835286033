// What is asked before an address that came from elsewhere takes the place of the work that this browser
// remembers.

import type { JSX } from "preact";
import { at, text, type Scenario } from "../model/scenario";

const called = (scenario: Scenario): string => text(at(scenario, ["title"])).trim() || "a comparison without a name";

interface Asked {
  /** What the address holds. */
  theirs: Scenario;
  /** What this browser had last. */
  mine: Scenario;
  /** The name of the farm that it is kept as; empty for none. */
  farm: string;
  take: () => void;
}

/** One of the two is opened; nothing is changed before that. */
export function AnotherAddress({ theirs, mine, farm, take }: Asked): JSX.Element {
  return (
    <main class="cut another">
      <h1>
        <span class="brand">Evenfall</span> Open what the address holds?
      </h1>
      <p>
        The address holds “{called(theirs)}”. You were working on “{called(mine)}” in this browser
        {farm ? `, last kept as the farm “${farm}”` : ", which is not kept as a farm"}.
      </p>
      <p>Opening the address replaces your last work in this browser.{farm ? " The farm stays as it is kept." : ""}</p>
      <p class="buttons">
        <button type="button" class="main" onClick={() => location.assign("./")}>
          Go on with mine
        </button>
        <button type="button" onClick={take}>
          Open the address
        </button>
      </p>
      <p>To have both, go on with yours, keep it as a farm, and open the address again.</p>
    </main>
  );
}
