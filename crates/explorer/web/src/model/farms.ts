// Farms that the program keeps in a folder of the user's: what this page knows of them, and what it asks
// for. A farm is overwritten only if it is still what this page last saw of it.

import { batch, computed, signal } from "@preact/signals";
import type * as document from "./api_document";
import { Gone, json, post, Refused, ask } from "./api";
import { filesNamed, type Scenario } from "./scenario";
import { digestOf } from "./shelf";
import * as store from "./store";

export type FarmList = document.FarmsView;
export type FarmInList = document.FarmView;
export type FarmKept = document.FarmKeptView;
export type FarmVersion = document.FarmVersionView;
export type FarmOpened = Omit<document.FarmOpenedView, "scenario"> & { scenario: Scenario };

/** What is known of a farm: what it is called, and what was kept when this page last saw it. */
interface Known {
  name: string;
  kept_ms: number | null | undefined;
  /** Not known where the farm was changed elsewhere since. */
  state: { scenario: string; digests: Record<string, string> } | null;
}

const known = signal<Record<string, Known>>({});
export const isKeeping = signal(false);

/** The farm at hand; null for none. */
export const current = computed(() => known.value[store.farm.value] ?? null);

/** Whether everything at hand is kept in the farm. */
export const isKept = computed(() => {
  const kept = current.value?.state;
  if (!kept || JSON.stringify(store.scenario.value) !== kept.scenario) return false;
  const named = filesNamed(store.scenario.value);
  return named.every((name) => (store.shelved.value[name] ?? "") === (kept.digests[name] ?? ""));
});

const at = (farm: string, ...more: string[]): string => ["api/farms", farm, ...more].map((part, i) => (i === 0 ? part : encodeURIComponent(part))).join("/");

export const listFarms = (): Promise<FarmList> => json("api/farms");
export const readFarm = (farm: string): Promise<FarmOpened> => json(at(farm));
export const readVersions = (farm: string): Promise<FarmVersion[]> => json(at(farm, "versions"));
export const copyFarm = (farm: string, name: string): Promise<FarmKept> => json(at(farm, "copy"), post({ name }));
export const takeBack = (farm: string): Promise<FarmInList> => json(at(farm, "back"), post({}));
export const goBack = (farm: string, version: string): Promise<FarmOpened> => json(at(farm, "versions", version), post({}));

export async function putAway(farm: string): Promise<void> {
  await ask(at(farm, "away"), post({}));
  if (store.farm.value === farm) store.farm.value = "";
}

export async function renameFarm(farm: string, name: string): Promise<void> {
  const kept = await json<FarmKept>(at(farm, "name"), post({ name }));
  const before = known.value[farm];
  if (before) known.value = { ...known.value, [farm]: { ...before, name: kept.name } };
}

/** Notes what is kept, as the program tells it. */
function note(kept: FarmKept, state: Known["state"]): void {
  batch(() => {
    known.value = { ...known.value, [kept.farm]: { name: kept.name, kept_ms: kept.kept_ms, state } };
    store.bases.value = { ...store.bases.value, [kept.farm]: kept.digest };
  });
}

async function stateOf(opened: FarmOpened): Promise<Known["state"]> {
  const digests = await Promise.all(Object.entries(opened.files).map(async ([name, body]) => [name, await digestOf(body)] as const));
  return { scenario: JSON.stringify(opened.scenario), digests: Object.fromEntries(digests) };
}

/** Notes a farm that is about to be opened. */
export async function noteOpened(opened: FarmOpened): Promise<void> {
  note(opened.kept, await stateOf(opened));
}

/** What became of a keep. */
export type Outcome = { kind: "kept"; kept: FarmKept } | { kind: "elsewhere" | "refused"; words: string };

export const wordsOf = (error: unknown): string =>
  error instanceof Gone ? "The program does not answer. Nothing was kept." : error instanceof Error ? error.message : String(error);

/** Keeps what is at hand: in its farm, or as a new one where a name is given. */
export async function keep(name?: string): Promise<Outcome> {
  const about = store.asked();
  const state = { scenario: JSON.stringify(about.scenario), digests: store.digestsNamed() };
  const farm = name === undefined ? store.farm.value : "";
  isKeeping.value = true;
  try {
    const wish = { ...about, name: name ?? "", ...(farm === "" ? {} : { farm, based_on: store.bases.value[farm] ?? null }) };
    const kept = await json<FarmKept>("api/farms", post(wish));
    batch(() => {
      note(kept, state);
      if (farm === "") store.farm.value = kept.farm;
    });
    return { kind: "kept", kept };
  } catch (error) {
    return { kind: error instanceof Refused && error.status === 409 ? "elsewhere" : "refused", words: wordsOf(error) };
  } finally {
    isKeeping.value = false;
  }
}

/** Finds out about the farm that an address or the start says the scenario is: what is kept of it now,
 * and whether that is still what the scenario was made from. */
export async function recognize(farm: string, base: string): Promise<void> {
  try {
    const opened = await readFarm(farm);
    const isSame = base === "" || base === opened.kept.digest;
    const { name } = opened.kept;
    note({ ...opened.kept, digest: isSame ? opened.kept.digest : base }, isSame ? await stateOf(opened) : null);
    store.farm.value = farm;
    if (!isSame) store.say(`“${name}” was changed elsewhere since. What you see here is yours; keeping it will ask first.`);
  } catch (error) {
    if (error instanceof Gone) return;
    store.farm.value = "";
    store.say("What this was kept as, a farm or a file, is not at hand for the program as it was started now. Keep it as a farm.");
  }
}

/** The farm that was kept last; null where none is. */
export async function latest(): Promise<FarmOpened | null> {
  try {
    const [first] = (await listFarms()).farms;
    return first ? await readFarm(first.farm) : null;
  } catch {
    return null;
  }
}

/** When something was kept, as people say it: a time today, else a day too. */
export function whenText(ms: number | null | undefined, hasSeconds = false, now = new Date()): string {
  if (ms === null || ms === undefined) return "at a time that is not known";
  const then = new Date(ms);
  const time = then.toLocaleTimeString(undefined, { hour: "2-digit", minute: "2-digit", ...(hasSeconds ? { second: "2-digit" } : {}) });
  if (then.toDateString() === now.toDateString()) return time;
  const isThisYear = then.getFullYear() === now.getFullYear();
  return `${then.toLocaleDateString(undefined, { day: "numeric", month: "short", ...(isThisYear ? {} : { year: "numeric" }) })}, ${time}`;
}
