// State kept in the address behind the #, which never leaves the browser: the scenario itself,
// packed, and what is being looked at. A reload, a bookmark or a second tab lose nothing. A check sum
// stands first, so that an address that was cut anywhere, or changed, is known for what it is.

import type { Scenario } from "./scenario";

export interface View {
  step: string;
  alternative: number;
  stop: number;
  hour: number | undefined;
  show: string;
  maps: string;
  place: string;
  worth: string;
  search: string;
  /** The farm that the scenario is kept as, and the digest of what it was kept as last. */
  farm: string;
  base: string;
}

const KEYS: [keyof View, string, "text" | "number"][] = [
  ["step", "at", "text"],
  ["alternative", "alternative", "number"],
  ["stop", "stop", "number"],
  ["hour", "hour", "number"],
  ["show", "show", "text"],
  ["maps", "maps", "text"],
  ["place", "place", "text"],
  ["worth", "worth", "text"],
  ["search", "search", "text"],
  ["farm", "farm", "text"],
  ["base", "base", "text"],
];

async function through(bytes: Uint8Array<ArrayBuffer>, transform: TransformStream): Promise<Uint8Array> {
  const stream = new Blob([bytes]).stream().pipeThrough(transform);
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** A scenario as text fit for an address: JSON, deflated, base64 without padding. */
export async function pack(scenario: Scenario): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify(scenario));
  const small = await through(bytes as Uint8Array<ArrayBuffer>, new CompressionStream("deflate-raw"));
  let binary = "";
  for (const byte of small) binary += String.fromCharCode(byte);
  return btoa(binary).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

/** The scenario of a packed text; null if the text is damaged. */
export async function unpack(packed: string): Promise<Scenario | null> {
  try {
    const binary = atob(packed.replace(/-/g, "+").replace(/_/g, "/"));
    const bytes = Uint8Array.from(binary, (c) => c.charCodeAt(0));
    const plain = await through(bytes, new DecompressionStream("deflate-raw"));
    const value: unknown = JSON.parse(new TextDecoder().decode(plain));
    return value !== null && typeof value === "object" && !Array.isArray(value) ? (value as Scenario) : null;
  } catch {
    return null;
  }
}

const SUM = "sum=";

/** The check sum of what an address says, however its letters are escaped on the way. */
async function sumOf(words: string): Promise<string> {
  const bytes = new TextEncoder().encode(new URLSearchParams(words).toString());
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return [...new Uint8Array(digest).slice(0, 6)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** The same part of an address with its check sum. */
export async function sealed(fragment: string): Promise<string> {
  const words = fragment.replace(/^#/, "");
  return `#${SUM}${await sumOf(words)}&${words}`;
}

/** Whether such a part is all there: its check sum is right, and the scenario in it can be read. One
 * without a check sum was written by hand or before there were any. */
export async function isWhole(fragment: string): Promise<boolean> {
  const words = fragment.replace(/^#/, "");
  const [, sum, rest] = /^sum=([0-9a-f]{12})&(.*)$/s.exec(words) ?? [];
  const isSealed = words !== "" && (words.startsWith(SUM) || SUM.startsWith(words));
  if (isSealed && (sum === undefined || (await sumOf(rest!)) !== sum)) return false;
  const { packed } = read(fragment);
  return packed === "" || (await unpack(packed)) !== null;
}

/** The view as the part of an address behind the #. */
export function write(view: Partial<View>, packed: string, files: Record<string, string> = {}): string {
  const words = new URLSearchParams();
  for (const [key, name] of KEYS) {
    const value = view[key];
    if (value !== undefined && value !== "" && value !== 0) words.set(name, String(value));
  }
  for (const [name, digest] of Object.entries(files)) words.append("file", `${digest} ${name}`);
  if (packed) words.set("scenario", packed);
  return `#${words.toString()}`;
}

/** What such a part says; damaged numbers are left out. */
export function read(fragment: string): { view: Partial<View>; packed: string; files: Record<string, string> } {
  const words = new URLSearchParams(fragment.replace(/^#/, ""));
  const view: Partial<View> = {};
  for (const [key, name, kind] of KEYS) {
    const value = words.get(name);
    if (value === null) continue;
    if (kind === "text") (view[key] as string) = value;
    else if (Number.isFinite(Number(value))) (view[key] as number) = Number(value);
  }
  const files = words.getAll("file").flatMap((told) => {
    const [, digest, name] = /^([0-9a-f]{24}) (.+)$/.exec(told) ?? [];
    return digest && name ? [[name, digest] as const] : [];
  });
  return { view, packed: words.get("scenario") ?? "", files: Object.fromEntries(files) };
}
