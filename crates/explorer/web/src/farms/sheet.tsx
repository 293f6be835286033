// All farms: open, keep as, copy, rename, put away and back, versions to go back to. Also what is asked
// when a farm has no name yet, or was changed elsewhere.

import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { current, isKept, keep, listFarms, takeBack, whenText, wordsOf, type FarmList } from "../model/farms";
import { text } from "../model/scenario";
import * as store from "../model/store";
import { asked, type Asked } from "./bar";
import { NameForm } from "./name_form";
import { openFarm } from "./opening";
import { FarmRow, type Act, type Begin } from "./row";

export function FarmSheet(): JSX.Element | null {
  return asked.value === null ? null : <Sheet about={asked.value} />;
}

/** A window over the page; the browser keeps the cursor in it and closes it with Escape. */
function Sheet({ about }: { about: Asked }): JSX.Element {
  const sheet = useRef<HTMLDialogElement>(null);
  const [problem, setProblem] = useState(about.what === "problem" ? about.words : "");
  const [list, setList] = useState<FarmList | null>(null);
  const look = (): void => void listFarms().then(setList, (error: unknown) => setProblem(wordsOf(error)));
  useEffect(() => {
    sheet.current?.showModal();
    look();
  }, []);
  const close = (): void => sheet.current?.close();
  /** Does something, then shows what is there now; a refusal is told here. */
  const act: Act = async (work, isLast = false) => {
    setProblem("");
    try {
      await work();
      if (isLast) return close();
      look();
      // What was pressed may be gone.
      if (document.activeElement === document.body) sheet.current?.focus();
    } catch (error) {
      setProblem(wordsOf(error));
    }
  };
  return (
    <dialog ref={sheet} class="farms" tabIndex={-1} aria-labelledby="farms-title" onClose={() => (asked.value = null)}>
      <div class="farms-head">
        <h2 id="farms-title">Farms</h2>
        <button type="button" onClick={close}>
          Close
        </button>
      </div>
      <div role="alert">{problem && <p class="problem">{problem}</p>}</div>
      {about.what === "elsewhere" && <Elsewhere words={about.words} act={act} />}
      <KeepAs isAsked={about.what === "name"} act={act} />
      {list && <Lists list={list} act={act} />}
    </dialog>
  );
}

/** Throws what a keep was refused with, for whoever tells it. */
async function keepAs(name: string): Promise<void> {
  const outcome = await keep(name);
  if (outcome.kind !== "kept") throw new Error(outcome.words);
  store.say(`“${outcome.kept.name}” is kept.`);
}

function Elsewhere({ words, act }: { words: string; act: Act }): JSX.Element {
  const farm = store.farm.value;
  const name = current.value?.name ?? "";
  return (
    <section class="problems" aria-label="Changed elsewhere">
      <p>{words}</p>
      <NameForm label="Keep mine as a copy called" value={`${name} (copy)`} button="Keep the copy" onName={(given) => act(() => keepAs(given), true)} />
      <p class="buttons">
        <button type="button" onClick={() => void act(() => openFarm(farm), true)}>
          Open what was kept instead
        </button>
      </p>
      <p class="help">“Undo” brings yours back for as long as this page is open.</p>
    </section>
  );
}

function KeepAs({ isAsked, act }: { isAsked: boolean; act: Act }): JSX.Element {
  const farm = current.value;
  return (
    <section aria-label="At hand">
      {farm ? (
        <p>
          At hand: <b>{farm.name}</b>, {isKept.value ? `kept ${whenText(farm.kept_ms)}` : "with changes that are not kept yet"}.
        </p>
      ) : (
        <p>What is at hand is not kept as a farm yet: only this browser remembers it, at this address.</p>
      )}
      <NameForm
        label={farm ? "Keep it as another farm, called" : "Keep it as a farm, called"}
        value={farm ? "" : text(store.scenario.value.title)}
        button={farm ? "Keep as" : "Keep"}
        isFirst={isAsked}
        onName={(given) => act(() => keepAs(given), true)}
      />
    </section>
  );
}

function Lists({ list, act }: { list: FarmList; act: Act }): JSX.Element {
  const [wanted, setWanted] = useState<Wanted | null>(null);
  const begin: Begin = (what, go) => {
    if (current.value && !isKept.value) setWanted({ what, go });
    else void act(go, true);
  };
  const rows = list.this_file ? [list.this_file, ...list.farms] : list.farms;
  return (
    <>
      {wanted && <Unkept wanted={wanted} act={act} onLeave={() => setWanted(null)} />}
      <section aria-labelledby="farms-kept">
        <h3 id="farms-kept">Kept in your folder</h3>
        {rows.length === 0 && <p>No farm is kept yet.</p>}
        <ul class="farm-list">
          {rows.map((farm) => (
            <FarmRow key={farm.farm} farm={farm} isThisFile={farm === list.this_file} begin={begin} act={act} />
          ))}
        </ul>
        {list.more > 0 && <p>{list.more} more are in the folder.</p>}
        <p class="help">
          Each farm is a folder with a plain scenario and its files in <code>{list.folder}</code>. They stay there whatever
          becomes of this browser or of the program’s version.
        </p>
      </section>
      {list.put_away.length > 0 && (
        <details class="more">
          <summary>Put away ({list.put_away.length})</summary>
          <ul class="farm-list">
            {list.put_away.map((farm) => (
              <li key={farm.farm}>
                <span>
                  <b>{farm.name}</b>, kept {whenText(farm.kept_ms)}
                </span>{" "}
                <button type="button" onClick={() => void act(() => takeBack(farm.farm))}>
                  Take back<span class="unseen"> {farm.name}</span>
                </button>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

interface Wanted {
  what: string;
  go: () => Promise<void>;
}

/** Something is to be opened while changes are not kept. */
function Unkept({ wanted, act, onLeave }: { wanted: Wanted; act: Act; onLeave: () => void }): JSX.Element {
  const name = current.value?.name ?? "";
  const first = useRef<HTMLButtonElement>(null);
  useEffect(() => first.current?.focus(), [wanted]);
  const both = async (): Promise<void> => {
    const outcome = await keep();
    if (outcome.kind === "elsewhere") asked.value = { what: "elsewhere", words: outcome.words };
    if (outcome.kind !== "kept") throw new Error(`${outcome.words} Nothing was opened.`);
    await wanted.go();
  };
  return (
    <section class="problems" role="group" aria-label="Changes not kept yet">
      <p>
        Changes to “{name}” are not kept yet.
      </p>
      <p class="buttons">
        <button ref={first} type="button" class="main" onClick={() => void act(both, true)}>
          Keep them, then open {wanted.what}
        </button>
        <button type="button" onClick={() => void act(wanted.go, true)}>
          Open {wanted.what} without keeping them
        </button>
        <button type="button" onClick={onLeave}>
          Stay here
        </button>
      </p>
    </section>
  );
}
