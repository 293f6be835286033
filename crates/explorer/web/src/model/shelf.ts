// Files that were opened here (weather, a boundary): kept in this browser under the digest of their
// text, which the address carries, so that a reload or a second tab has them and another scenario's
// file of the same name is another one. Bounded; what was used longest ago goes. A browser that
// keeps nothing is asked for the file again.

import { createStore, delMany, entries, get, set, type UseStore } from "idb-keyval";
import * as store from "./store";

interface Kept {
  body: string;
  used: number;
}

const MOST_CHARACTERS = 40e6;

let opened: UseStore | null = null;

function shelf(): UseStore {
  opened ??= createStore("evenfall files", "files");
  return opened;
}

async function digestOf(body: string): Promise<string> {
  const digest = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(body));
  return [...new Uint8Array(digest).slice(0, 12)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Which of the kept files have to go so that the rest is small enough. */
export function toDrop(kept: [string, Kept][], most = MOST_CHARACTERS): string[] {
  const newest = [...kept].sort((a, b) => b[1].used - a[1].used);
  let sum = 0;
  return newest.filter(([, file]) => (sum += file.body.length) > most).map(([digest]) => digest);
}

/** Puts opened files at the scenario's disposal, by the names it uses, and on the shelf. */
export async function keepFiles(files: Record<string, string>): Promise<void> {
  const named = await Promise.all(
    Object.entries(files).map(async ([name, body]) => [name, await digestOf(body), body] as const),
  );
  const digests = Object.fromEntries(named.map(([name, digest]) => [name, digest]));
  store.files.value = { ...store.files.value, ...files };
  store.shelved.value = { ...store.shelved.value, ...digests };
  try {
    for (const [, digest, body] of named) await set(digest, { body, used: Date.now() } satisfies Kept, shelf());
    await delMany(toDrop(await entries<string, Kept>(shelf())), shelf());
  } catch {
    store.say("This browser keeps no files: after a reload they have to be opened again.");
  }
}

/** Takes the files from the shelf that an address names. */
export async function takeFiles(digests: Record<string, string>): Promise<void> {
  try {
    const found = await Promise.all(
      Object.entries(digests).map(async ([name, digest]) => [name, await get<Kept>(digest, shelf())] as const),
    );
    const there = found.flatMap(([name, kept]) => (kept ? [[name, kept.body] as const] : []));
    store.files.value = Object.fromEntries(there);
    store.shelved.value = Object.fromEntries(there.map(([name]) => [name, digests[name]!]));
  } catch {
    // The page asks for the files that are not at hand.
  }
}
