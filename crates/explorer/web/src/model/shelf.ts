// Files that were opened here (weather, a boundary): kept in this browser under the digest of their
// text, which the address carries, so that a reload or a second tab has them and another scenario's
// file of the same name is another one. Bounded; what was used longest ago goes. A browser that
// keeps nothing says so beside the file and is asked for it again.

import { batch, signal } from "@preact/signals";
import { clear, createStore, delMany, entries, get, set, type UseStore } from "idb-keyval";
import * as store from "./store";

interface Kept {
  name: string;
  body: string;
  /** When it was opened or taken last, ms. */
  used: number;
}

/** What is told of a kept file. */
export interface OnShelf {
  digest: string;
  name: string;
  characters: number;
  used: number;
}

const MOST_CHARACTERS = 40e6;
/** Times within an hour are one: a reload need not write a whole file anew. */
const TIMES_MS = 3_600_000;

/** Whether this browser keeps files at all; told once the first was put away. */
export const isKeeping = signal(true);

let opened: UseStore | null = null;

function shelf(): UseStore {
  opened ??= createStore("evenfall files", "files");
  return opened;
}

/** The address under which a text is kept. */
export async function digestOf(body: string): Promise<string> {
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(body));
  return [...new Uint8Array(digest).slice(0, 12)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Which of the kept files have to go so that the rest is small enough. */
export function toDrop(kept: [string, Pick<Kept, "body" | "used">][], most = MOST_CHARACTERS): string[] {
  const newest = [...kept].sort((a, b) => b[1].used - a[1].used);
  let sum = 0;
  return newest.filter(([, file]) => (sum += file.body.length) > most).map(([digest]) => digest);
}

async function put(digest: string, kept: Kept): Promise<void> {
  await set(digest, kept, shelf());
  await delMany(toDrop(await entries<string, Kept>(shelf())), shelf());
}

/** Whether a file that a scenario names is here. */
export const isAtHand = (name: string): boolean => store.files.value[name] !== undefined;

/** Puts opened files at the scenario's disposal, by the names it uses, and on the shelf. With
 * `another` they are those of another scenario, which that puts in place: of the files that were at
 * hand none stays, for the other may give their names to other files. */
export async function keepFiles(files: Record<string, string>, another?: () => void): Promise<void> {
  const named = await Promise.all(
    Object.entries(files).map(async ([name, body]) => [name, await digestOf(body), body] as const),
  );
  const digests = Object.fromEntries(named.map(([name, digest]) => [name, digest]));
  // At once, so that nothing is checked without its files.
  batch(() => {
    store.files.value = another ? files : { ...store.files.value, ...files };
    store.shelved.value = another ? digests : { ...store.shelved.value, ...digests };
    another?.();
  });
  try {
    for (const [name, digest, body] of named) await put(digest, { name, body, used: Date.now() });
    if (named.length > 0) isKeeping.value = true;
  } catch {
    isKeeping.value = false;
    store.say("This browser keeps no files. After a reload, open them again.");
  }
}

/** Takes files from the shelf by their digests, in place of all that were at hand. */
export async function takeFiles(digests: Record<string, string>): Promise<void> {
  const found = await Promise.all(Object.entries(digests).map(async ([name, digest]) => [name, await taken(digest)] as const));
  const there = found.flatMap(([name, body]) => (body === undefined ? [] : [[name, body] as const]));
  store.files.value = Object.fromEntries(there);
  store.shelved.value = Object.fromEntries(there.map(([name]) => [name, digests[name]!]));
}

/** One kept text; it is then the one used last. */
async function taken(digest: string): Promise<string | undefined> {
  try {
    const kept = await get<Kept>(digest, shelf());
    if (kept && Date.now() - kept.used > TIMES_MS) await set(digest, { ...kept, used: Date.now() }, shelf());
    return kept?.body;
  } catch {
    isKeeping.value = false;
    return undefined;
  }
}

/** Puts a kept file at the scenario's disposal under a name that it uses. */
export async function takeOne(name: string, digest: string): Promise<void> {
  const body = await taken(digest);
  if (body !== undefined) await keepFiles({ [name]: body });
}

/** Everything on the shelf, the latest first. */
export async function onShelf(): Promise<OnShelf[]> {
  try {
    const all = await entries<string, Kept>(shelf());
    const told = all.map(([digest, { name = "", body, used }]) => ({ digest, name, characters: body.length, used }));
    return told.sort((a, b) => b.used - a.used);
  } catch {
    return [];
  }
}

/** Empties the shelf; what is at hand stays at hand until the page is left. */
export async function clearShelf(): Promise<void> {
  await clear(shelf()).catch(() => undefined);
}
