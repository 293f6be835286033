// Files as they are opened and taken away: texts, alone or several packed in one ZIP.

import { strToU8, unzipSync, zipSync } from "fflate";
import { at, filesNamed, put, text, type Json, type Path, type Scenario } from "./scenario";

/** Most that is taken of one file, bytes: all of a scenario's files go to the program together. */
export const MOST_BYTES = 7.5e6;
/** Most of a page that somebody gave, bytes: its pictures go nowhere. */
const MOST_PAGE = 40e6;
const MOST_PACKED = 40;
/** Where a page that somebody gave holds its scenario. */
const BLOCK = 'id="evenfall-scenario">';

export interface Opened {
  name: string;
  body: string;
  /** What is no text and may still be read: a shapefile. */
  bytes?: Uint8Array;
}

/** Parts of a shapefile that are not needed to know its shape. */
const NOT_NEEDED = /\.(dbf|shx|sbn|sbx|cpg|qix|qpj|shp\.xml)$/i;

/** Why a file was not taken. */
export class Unfit extends Error {}

/** A size as people read it. */
export function sizeText(bytes: number): string {
  return bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

/** The text of a file; every byte counts, so what is no text is refused and a mark at its start kept. */
function textOf(name: string, bytes: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new Unfit(`${name} is not UTF-8 text. Save it again as UTF-8.`);
  }
}

function checkSize(name: string, bytes: number, most = MOST_BYTES): void {
  if (bytes <= most) return;
  throw new Unfit(`${name} has ${sizeText(bytes)}; the page takes at most ${sizeText(most)}. The command line has no such limit.`);
}

/** What lies in a chosen or dropped file: itself, or what is packed in it. */
export async function read(file: File): Promise<Opened[]> {
  const isPage = /\.html?$/i.test(file.name);
  checkSize(file.name, file.size, isPage ? MOST_PAGE : MOST_BYTES);
  const bytes = new Uint8Array(await file.arrayBuffer());
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) return unpack(file.name, bytes);
  return isPage ? carried(file.name, textOf(file.name, bytes)) : part(file.name, bytes);
}

/** The scenario and the files in a page that somebody gave. */
function carried(name: string, page: string): Opened[] {
  const begin = page.indexOf(BLOCK);
  if (begin < 0) throw new Unfit(`${name} is a page without a scenario in it.`);
  const end = page.indexOf("</script>", begin);
  try {
    const held = JSON.parse(page.slice(begin + BLOCK.length, end < 0 ? begin : end)) as { evenfall_file?: number; scenario?: string; files?: Record<string, string> };
    if (held.evenfall_file !== 1) throw new Unfit(`${name} was written by another version of Evenfall. Use the version that it names.`);
    const all = [[`${name.replace(/\.html?$/i, "")}.json`, held.scenario] as const, ...Object.entries(held.files ?? {})];
    return all.map(([part, body]) => {
      if (typeof body !== "string") throw new TypeError();
      checkSize(part, body.length);
      return { name: part, body };
    });
  } catch (error) {
    if (error instanceof Unfit) throw error;
    throw new Unfit(`The scenario in ${name} is damaged or cut off. Ask for the file again.`);
  }
}

/** One file as it is opened; none where it is not needed. A shapefile begins with the number 9994. */
function part(name: string, bytes: Uint8Array): Opened[] {
  const [a, b, c, d] = bytes;
  if (a === 0 && b === 0 && c === 0x27 && d === 0x0a && /\.shp$/i.test(name)) return [{ name, body: "", bytes }];
  return NOT_NEEDED.test(name) ? [] : [{ name, body: textOf(name, bytes) }];
}

function unpack(name: string, bytes: Uint8Array): Opened[] {
  let count = 0;
  try {
    const found = unzipSync(bytes, {
      filter: (one) => {
        if (one.name.endsWith("/") || one.name.startsWith("__MACOSX/") || NOT_NEEDED.test(one.name)) return false;
        checkSize(one.name, one.originalSize);
        if (++count > MOST_PACKED) throw new Unfit(`${name} holds more than ${MOST_PACKED} files.`);
        return true;
      },
    });
    return Object.entries(found).flatMap(([name, body]) => part(name, body));
  } catch (error) {
    if (error instanceof Unfit) throw error;
    throw new Unfit(`${name} cannot be unzipped.`);
  }
}

/** The last part of a name: where a file lies is no business of who opens it. */
export const base = (name: string): string => name.replace(/^.*[\\/]/, "");

/** The opened file that a scenario means by a name: the same, or the same but for where it lies. */
export function meant(name: string, opened: Opened[]): Opened | undefined {
  return opened.find((one) => one.name === name) ?? opened.find((one) => base(one.name) === base(name));
}

/** The same scenario with every file it names beside it, and the names in the pack. */
function beside(scenario: Scenario): { scenario: Scenario; names: Map<string, string> } {
  const names = new Map<string, string>();
  for (const name of filesNamed(scenario)) {
    const taken = [...names.values()];
    let own = base(name) || "file";
    while (taken.includes(own)) own = `other-${own}`;
    names.set(name, own);
  }
  let next: Json = scenario;
  const walk = (value: Json, path: Path): void => {
    if (value === null || typeof value !== "object") return;
    for (const [key, inner] of Object.entries(value)) {
      const here = [...path, Array.isArray(value) ? Number(key) : key];
      if (key === "file" && typeof inner === "string") next = put(next, here, names.get(inner) ?? inner);
      else walk(inner, here);
    }
  };
  walk(scenario, []);
  return { scenario: next as Scenario, names };
}

/** The file of a scenario, as the commands read it. */
export const written = (scenario: Scenario): string => `${JSON.stringify(scenario, null, 2)}\n`;

/** A name for its file, from its title. */
export function fileName(scenario: Scenario): string {
  const plain = text(at(scenario, ["title"])).toLowerCase().replace(/[^a-z0-9]+/g, "-");
  return plain.slice(0, 60).replace(/^-|-$/g, "") || "field";
}

/** A ZIP of a scenario with those of its files that are at hand; without dates, so that the same gives
 * the same bytes. */
export function pack(scenario: Scenario, files: Record<string, string>): Uint8Array<ArrayBuffer> {
  const own = beside(scenario);
  const parts: Record<string, Uint8Array> = { [`${fileName(scenario)}.json`]: strToU8(written(own.scenario)) };
  for (const [name, there] of own.names) if (files[name] !== undefined) parts[there] = strToU8(files[name]);
  return zipSync(parts, { mtime: new Date(1980, 0, 1) }) as Uint8Array<ArrayBuffer>;
}

