// The page's files import each other in one direction only: there is no circle of files.

import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, normalize } from "node:path";
import { describe, expect, it } from "vitest";

const SRC = new URL("../../src/", import.meta.url).pathname;

/** All sources below the page's folder, by their path within it. */
function sources(): string[] {
  return readdirSync(SRC, { recursive: true, encoding: "utf8" }).filter((file) => /\.tsx?$/.test(file));
}

/** The files that a text imports, types included, by their path within the page's folder. */
function imported(text: string, file: string, known: Set<string>): string[] {
  const named = [...text.matchAll(/(?:\bfrom|\bimport)\s*\(?\s*"(\.[^"]+)"/g)].map((found) => normalize(join(dirname(file), found[1]!)));
  return named.flatMap((path) => [`${path}.ts`, `${path}.tsx`, `${path}.d.ts`, path].find((name) => known.has(name)) ?? []);
}

/** The first circle found, as a chain of names that ends where it begins; empty where there is none. */
function circle(edges: Map<string, string[]>): string[] {
  const done = new Set<string>();
  const walk = (file: string, above: string[]): string[] => {
    if (above.includes(file)) return [...above.slice(above.indexOf(file)), file];
    if (done.has(file)) return [];
    for (const next of edges.get(file) ?? []) {
      const found = walk(next, [...above, file]);
      if (found.length > 0) return found;
    }
    done.add(file);
    return [];
  };
  for (const file of edges.keys()) {
    const found = walk(file, []);
    if (found.length > 0) return found;
  }
  return [];
}

describe("imports", () => {
  it("closed: a circle is found, a straight line is none", () => {
    expect(circle(new Map([["a", ["b"]], ["b", ["c"]], ["c", []]]))).toEqual([]);
    expect(circle(new Map([["a", ["b"]], ["b", ["c"]], ["c", ["b"]]]))).toEqual(["b", "c", "b"]);
  });

  it("no file of the page imports, through others, itself", () => {
    const files = sources();
    const known = new Set(files);
    const edges = new Map(files.map((file) => [file, imported(readFileSync(join(SRC, file), "utf8"), file, known)]));
    expect(files.length).toBeGreaterThan(50);
    expect([...edges.values()].flat().length).toBeGreaterThan(200);
    expect(circle(edges)).toEqual([]);
  });
});
