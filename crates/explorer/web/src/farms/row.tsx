// One farm of the list, with what can be done to it, and its versions.

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { copyFarm, putAway, readVersions, renameFarm, whenText, wordsOf, type FarmInList, type FarmVersion } from "../model/farms";
import * as store from "../model/store";
import { NameForm } from "./name_form";
import { openFarm, openVersion } from "./opening";

/** Opens something, asking first where changes are not kept; `what` says what. */
export type Begin = (what: string, go: () => Promise<void>) => void;

export type Act = (work: () => Promise<unknown>, isLast?: boolean) => Promise<void>;

interface Props {
  farm: FarmInList;
  isThisFile: boolean;
  begin: Begin;
  act: Act;
}

type Below = "" | "versions" | "rename" | "copy";

export function FarmRow({ farm, isThisFile, begin, act }: Props): JSX.Element {
  const [below, setBelow] = useState<Below>("");
  const turn = (to: Below) => (): void => setBelow(below === to ? "" : to);
  const of = <span class="unseen"> {farm.name}</span>;
  const isHere = store.farm.value === farm.farm;
  return (
    <li aria-current={isHere ? "true" : undefined}>
      <span>
        <b>{farm.name}</b>
        {isThisFile ? ", the file that the program was started with" : farm.kept_ms ? `, kept ${whenText(farm.kept_ms)}` : ", put there by hand"}
        {isHere && " (at hand)"}
      </span>
      <span class="buttons">
        <button type="button" onClick={() => begin(farm.name, () => openFarm(farm.farm))}>
          Open{of}
        </button>
        <button type="button" aria-expanded={below === "versions"} onClick={turn("versions")}>
          Versions{of}
        </button>
        <button type="button" aria-expanded={below === "copy"} onClick={turn("copy")}>
          Copy{of}
        </button>
        {!isThisFile && (
          <>
            <button type="button" aria-expanded={below === "rename"} onClick={turn("rename")}>
              Rename{of}
            </button>
            <button type="button" onClick={() => void act(() => putAway(farm.farm))}>
              Put away{of}
            </button>
          </>
        )}
      </span>
      {below === "copy" && (
        <NameForm label="Name of the copy" value={`${farm.name} (copy)`} button="Copy" isFirst onName={(name) => act(() => copyFarm(farm.farm, name)).then(() => setBelow(""))} />
      )}
      {below === "rename" && (
        <NameForm label="New name" value={farm.name} button="Rename" isFirst onName={(name) => act(() => renameFarm(farm.farm, name)).then(() => setBelow(""))} />
      )}
      {below === "versions" && <Versions farm={farm} begin={begin} />}
    </li>
  );
}

function Versions({ farm, begin }: { farm: FarmInList; begin: Begin }): JSX.Element {
  const [all, setAll] = useState<FarmVersion[] | null>(null);
  const [problem, setProblem] = useState("");
  useEffect(() => void readVersions(farm.farm).then(setAll, (error: unknown) => setProblem(wordsOf(error))), []);
  if (problem) return <p class="problem">{problem}</p>;
  if (!all) return <p>Looking …</p>;
  if (all.length === 0) return <p>No version yet: the first is written when it is kept.</p>;
  return (
    <div class="versions">
      <ul>
        {all.map(({ version, kept_ms, is_present }) => (
          <li key={version}>
            {whenText(kept_ms, true)}
            {is_present ? (
              ": what it holds now"
            ) : (
              <button type="button" onClick={() => begin(`the version of ${whenText(kept_ms, true)}`, () => openVersion(farm.farm, version, kept_ms))}>
                Go back to this<span class="unseen"> of {whenText(kept_ms, true)}</span>
              </button>
            )}
          </li>
        ))}
      </ul>
      <p class="help">Going back keeps what is there now as a version too. The latest twenty stay, and one a day before.</p>
    </div>
  );
}
