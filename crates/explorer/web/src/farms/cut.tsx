// What is shown for an address that was cut short or changed on its way: nothing is opened.

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { listFarms, whenText, type FarmInList } from "../model/farms";
import { lastWorkedOn } from "../model/store";

export const CUT = "This address was cut short or changed on its way, so nothing was opened.";

/** `words` say what is wrong with it, where it is not that it was cut. */
export function CutAddress({ words = "" }: { words?: string }): JSX.Element {
  const [farms, setFarms] = useState<FarmInList[]>([]);
  useEffect(() => void listFarms().then((list) => setFarms(list.farms), () => undefined), []);
  return (
    <main class="cut">
      <h1>
        <span class="brand">Evenfall</span> {words ? "The address leads nowhere" : "Not all of the address is here"}
      </h1>
      <p role="alert">{words || CUT} Nothing that you kept has changed.</p>
      <p hidden={words !== ""}>
        Ask for the whole address again. Mail and message programs often cut long ones: a file goes more safely, by “Save” or
        “For somebody else”.
      </p>
      {farms.length > 0 && (
        <>
          <h2>Your farms</h2>
          <ul class="farm-list">
            {farms.map((farm) => (
              <li key={farm.farm}>
                <a href={`#farm=${encodeURIComponent(farm.farm)}`}>{farm.name}</a>, kept {whenText(farm.kept_ms)}
              </li>
            ))}
          </ul>
        </>
      )}
      <p>
        <a href="./">{lastWorkedOn() ? "Go on with what this browser had last" : "Go on without it"}</a>
      </p>
    </main>
  );
}
