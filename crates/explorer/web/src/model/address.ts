// State kept in the address behind the #, which never leaves the browser: the scenario itself,
// packed, and what is being looked at. A reload, a bookmark or a second tab lose nothing.

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
