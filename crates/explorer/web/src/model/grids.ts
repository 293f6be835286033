// Fields of numbers from the server, kept while they are of use. Bounded: the oldest go first.

import { api, type Wire } from "./api";

const MOST_BYTES = 64e6;

export interface SetDepth {
  firstRow: number;
  rows: number;
  depth: Float32Array;
}

interface Kept {
  bytes: number;
  value: Promise<Field | SetDepth[]>;
}

/** A field of numbers; row 0 lies at the edge where the lateral starts. */
export interface Field {
  columns: number;
  values: Float32Array;
}

const kept = new Map<string, Kept>();

/** Forgets all, for a new run. */
export function dropGrids(): void {
  kept.clear();
}

function remember<T extends Field | SetDepth[]>(key: string, load: () => Promise<Wire>, make: (w: Wire) => T): Promise<T> {
  const known = kept.get(key);
  if (known) {
    kept.delete(key);
    kept.set(key, known);
    return known.value as Promise<T>;
  }
  const entry: Kept = { bytes: 0, value: Promise.resolve([]) };
  const value = load().then((wire) => {
    entry.bytes = wire.buffer.byteLength;
    prune();
    return make(wire);
  });
  value.catch(() => kept.delete(key));
  entry.value = value;
  kept.set(key, entry);
  return value;
}

function prune(): void {
  let bytes = 0;
  for (const entry of kept.values()) bytes += entry.bytes;
  for (const [key, entry] of kept) {
    if (bytes <= MOST_BYTES) return;
    bytes -= entry.bytes;
    kept.delete(key);
  }
}

/** One field. */
export function grid(run: string, alternative: number, what: string, pass: number): Promise<Field> {
  const key = `${run} ${alternative} ${what} ${pass}`;
  return remember(key, () => api.grid(run, alternative, what, pass), (w) => ({ columns: w.columns, values: new Float32Array(w.buffer) }));
}

/** The sets of a pass, in order, each on the rows it wets. */
export function sets(run: string, alternative: number, pass: number): Promise<SetDepth[]> {
  const key = `${run} ${alternative} sets ${pass}`;
  return remember(key, () => api.sets(run, alternative, pass), (w) => parseSets(w.buffer, w.columns));
}

/** Takes the server's stream apart: first row, rows, then the depths, set after set. */
export function parseSets(buffer: ArrayBuffer, columns: number): SetDepth[] {
  const heads = new DataView(buffer);
  const found: SetDepth[] = [];
  for (let at = 0; at + 8 <= buffer.byteLength; ) {
    const firstRow = heads.getInt32(at, true);
    const rows = heads.getInt32(at + 4, true);
    const cells = rows * columns;
    found.push({ firstRow, rows, depth: new Float32Array(buffer, at + 8, cells) });
    at += 8 + 4 * cells;
  }
  return found;
}
