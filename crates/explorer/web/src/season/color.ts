// From numbers to colors, by the same tables as the report's maps.

import { signal } from "@preact/signals";
import { api } from "../model/api";

export interface Scale {
  low: number;
  high: number;
  table: "depth" | "deviation";
}

const BLANK = 255;
const STEPS = 254;

/** 256 colors as packed pixels; the last is for cells without a value: none, so that what lies under
 * the map is seen there and no gray is taken for a depth. */
export const tables = signal<Record<string, Uint32Array>>({});

function packed(triples: unknown): Uint32Array {
  const flat = (triples as number[][]).flat();
  const pixels = new Uint32Array(256);
  for (let i = 0; i < 256; i++) {
    const [r = 0, g = 0, b = 0] = flat.slice(3 * i, 3 * i + 3);
    pixels[i] = (255 << 24) | (b << 16) | (g << 8) | r;
  }
  pixels[BLANK] = 0;
  return pixels;
}

export async function loadTables(): Promise<void> {
  const names = ["depth", "deviation"];
  const loaded = await Promise.all(names.map((name) => api.palette(name)));
  tables.value = Object.fromEntries(names.map((name, i) => [name, packed(loaded[i])]));
}

/** The pixels of each canvas, kept so that playing makes no garbage. */
const images = new WeakMap<HTMLCanvasElement, ImageData>();

/** Paints a field; the picture's upper side is where y is largest. */
export function paint(canvas: HTMLCanvasElement, values: Float32Array, columns: number, scale: Scale): void {
  const table = tables.value[scale.table];
  const context = canvas.getContext("2d");
  if (!table || !context || columns === 0 || values.length < columns) return;
  const rows = Math.floor(values.length / columns);
  let image = images.get(canvas);
  if (!image || image.width !== columns || image.height !== rows) {
    canvas.width = columns;
    canvas.height = rows;
    image = context.createImageData(columns, rows);
    images.set(canvas, image);
  }
  const pixels = new Uint32Array(image.data.buffer);
  const times = STEPS / (scale.high - scale.low);
  for (let row = 0; row < rows; row++) {
    const to = (rows - 1 - row) * columns;
    const from = row * columns;
    for (let column = 0; column < columns; column++) {
      const value = values[from + column]!;
      const step = (value - scale.low) * times + 0.5;
      const index = value !== value ? BLANK : step < 0 ? 0 : step > STEPS ? STEPS : step | 0;
      pixels[to + column] = table[index]!;
    }
  }
  context.putImageData(image, 0, 0);
}

/** Share by which each cell differs from the mean of the cells that count. */
export function deviation(values: Float32Array, mean: number): Float32Array {
  const out = new Float32Array(values.length);
  for (let i = 0; i < values.length; i++) out[i] = mean > 0 ? values[i]! / mean - 1 : NaN;
  return out;
}

/** Mean of a field, its cells weighted; those of no weight need no value. */
export function meanBy(values: Float32Array, weights: Float32Array): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const weight = weights[i] ?? 0;
    if (weight === 0) continue;
    sum += weight * values[i]!;
    count += weight;
  }
  return count > 0 ? sum / count : NaN;
}
